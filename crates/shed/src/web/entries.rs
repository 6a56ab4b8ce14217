//! Entries of the record over the wire: sent, and asked for.

use super::Shared;
use super::caller::Caller;
use crate::record::{Entry, RecordError, Stored};
use axum::body::Bytes;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Extension, Json, Router};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::sync::Arc;

/// Entries in one request.
const MOST: usize = 500;

pub fn routes() -> Router<Shared> {
    Router::new().route("/boat/entries", get(entries).post(send))
}

/// Whose record entries are for.
#[derive(Debug, Deserialize)]
struct For {
    /// The record's own name, where whoever sends them knows one; empty: none yet.
    #[serde(default)]
    record: String,
}

/// Stores what a device sends: a JSON array of entries. Each is answered for by itself.
async fn send(
    State(shed): State<Shared>,
    Extension(caller): Extension<Caller>,
    Query(of): Query<For>,
    body: Bytes,
) -> Response {
    // A phone that is paired with two boats finds either at the same address, and still has what it put down at the other.
    match shed.record.kept() {
        Ok(kept) if !of.record.is_empty() && of.record != kept.identity => {
            let why = "these were put down at another boat: they are kept until she is open here again";
            return (StatusCode::PRECONDITION_FAILED, why).into_response();
        }
        _ => {}
    }
    let sent: Vec<&RawValue> = match serde_json::from_slice(&body) {
        Ok(sent) => sent,
        Err(why) => {
            return (StatusCode::BAD_REQUEST, format!("this is no JSON array of entries: {why}")).into_response();
        }
    };
    if sent.len() > MOST {
        let why = format!("{} entries at once, and {MOST} is the most: send them in parts", sent.len());
        return (StatusCode::PAYLOAD_TOO_LARGE, why).into_response();
    }
    let (mut good, mut refused) = (Vec::new(), Vec::new());
    for text in sent {
        match Entry::read(text.get()) {
            Ok(entry) => good.push(entry),
            Err(refusal) => refused.push(refusal),
        }
    }
    match shed.record.store(caller.device(), good).await {
        Ok(mut answer) => {
            answer.refused.extend(refused);
            Json(answer).into_response()
        }
        Err(why) => trouble(&why),
    }
}

/// Which entries are asked for.
#[derive(Debug, Deserialize)]
struct After {
    /// Those after this number.
    #[serde(default)]
    after: i64,
}

async fn entries(State(shed): State<Shared>, Query(asked): Query<After>) -> Response {
    match shed.record.kept() {
        Ok(kept) => {
            let from = kept.entries.partition_point(|s| s.seq <= asked.after);
            let some: Vec<&Stored> = kept.entries[from..].iter().map(Arc::as_ref).collect();
            Json(some).into_response()
        }
        Err(why) => trouble(&why),
    }
}

/// What the record cannot do, as an answer.
pub fn trouble(why: &RecordError) -> Response {
    let code = match why {
        RecordError::Full { .. } => StatusCode::INSUFFICIENT_STORAGE,
        RecordError::Elsewhere { .. } | RecordError::Busy { .. } => StatusCode::CONFLICT,
        RecordError::Ending => StatusCode::SERVICE_UNAVAILABLE,
        _ => StatusCode::INTERNAL_SERVER_ERROR,
    };
    (code, why.to_string()).into_response()
}
