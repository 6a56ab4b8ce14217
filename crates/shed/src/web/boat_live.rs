//! The websocket of the page at the boat: tells of new entries and of changes to the plan, as long as its phone is let in.

use super::Shared;
use super::caller::Caller;
use axum::extract::State;
use axum::extract::ws::{Message, WebSocket, WebSocketUpgrade};
use axum::response::Response;
use axum::routing::get;
use axum::{Extension, Router};
use futures_util::{SinkExt, StreamExt};
use serde_json::json;

/// Nothing is to be said by the page, bytes.
const LONGEST: usize = 256;

pub fn routes() -> Router<Shared> {
    Router::new().route("/boat/live", get(live))
}

async fn live(
    State(shed): State<Shared>,
    Extension(caller): Extension<Caller>,
    upgrade: WebSocketUpgrade,
) -> Response {
    upgrade.max_message_size(LONGEST).on_upgrade(move |socket| talk(shed, caller, socket))
}

async fn talk(shed: Shared, caller: Caller, socket: WebSocket) {
    let (mut to, mut from) = socket.split();
    let (mut revision, mut record) = (shed.desk.news(), shed.record.news());
    let (mut phones, mut open) = (shed.record.phones_news(), shed.phones.news());
    while still_in(&shed, &caller) {
        let told = json!({ "revision": *revision.borrow_and_update(), "record": *record.borrow_and_update() });
        if to.send(Message::Text(told.to_string().into())).await.is_err() {
            return;
        }
        tokio::select! {
            message = from.next() => match message {
                Some(Ok(Message::Ping(_) | Message::Pong(_))) => {}
                _ => return,
            },
            changed = revision.changed() => if changed.is_err() { return },
            changed = record.changed() => if changed.is_err() { return },
            changed = phones.changed() => if changed.is_err() { return },
            changed = open.changed() => if changed.is_err() { return },
        }
    }
    let _ = to.close().await;
}

/// Whether the page may go on listening.
fn still_in(shed: &Shared, caller: &Caller) -> bool {
    match caller {
        Caller::ThisMachine => true,
        Caller::Phone { number, .. } => {
            let paired =
                |kept: &crate::record::Kept| kept.phones.iter().any(|p| p.number == *number && p.shut_out.is_none());
            shed.phones.open_at().is_some() && shed.record.kept().is_ok_and(|kept| paired(&kept))
        }
    }
}
