//! What a phone may ask for, and nothing else: whoever is not paired sees the page that pairs, and what that looks like.

use super::pairing;
use crate::web::caller::Caller;
use crate::web::guard::{Guard, TOO_MANY, guard};
use crate::web::{Shared, boat_live, boatside, entries, frame};
use axum::Router;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::Arc;

/// No request of a phone is larger, bytes: five hundred entries with long texts are half of it.
const LARGEST: usize = 1 << 20;

/// What those see that are not paired, beside the page that pairs.
const FOR_ALL: [&str; 2] = ["/assets/style.css", "/assets/mark.svg"];

/// Everything there is for phones that are let in at an address.
pub fn router(shed: &Shared, at: SocketAddr) -> Router {
    Router::new()
        .merge(pairing::routes())
        .merge(boatside::routes())
        .merge(entries::routes())
        .merge(boat_live::routes())
        .merge(frame::assets(&frame::PHONE_ASSETS))
        .layer(DefaultBodyLimit::max(LARGEST))
        .layer(from_fn_with_state((Arc::clone(shed), at), only_paired))
        .layer(from_fn_with_state(Arc::new(Guard::at(at, LARGEST)), guard))
        .with_state(Arc::clone(shed))
}

/// Lets paired phones through, and others to the page that pairs.
async fn only_paired(State((shed, at)): State<(Shared, SocketAddr)>, mut request: Request, next: Next) -> Response {
    if shed.phones.open_at() != Some(at) {
        return (StatusCode::SERVICE_UNAVAILABLE, "phones are not let in any more").into_response();
    }
    let path = request.uri().path();
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
    if FOR_ALL.contains(&path) || path.starts_with(pairing::PATH) {
        return next.run(request).await;
    }
    let caller = match caller(&shed, request.headers()) {
        Ok(Some(caller)) => caller,
        Ok(None) => return pairing::not_paired(request.headers()),
        Err(response) => return response,
    };
    if let Caller::Phone { number, .. } = &caller
        && !shed.phones.saw(*number, changes)
    {
        return (StatusCode::TOO_MANY_REQUESTS, TOO_MANY).into_response();
    }
    request.extensions_mut().insert(caller);
    next.run(request).await
}

/// Whose cookie it is.
fn caller(shed: &Shared, headers: &HeaderMap) -> Result<Option<Caller>, Response> {
    // What exactly is wrong with the record is for those who are paired.
    let trouble =
        |_| (StatusCode::SERVICE_UNAVAILABLE, "her record cannot be read: look at the laptop").into_response();
    let kept = shed.record.kept().map_err(trouble)?;
    let name = pairing::cookie_name(&kept.identity);
    let all = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
    let mut pairs = all.flat_map(|v| v.split(';')).filter_map(|pair| pair.trim().split_once('='));
    let phone = pairs.find_map(|(of, token)| if of == name { shed.phones.who(&kept.phones, token) } else { None });
    Ok(phone.map(|p| Caller::Phone { number: p.number, name: p.name.clone() }))
}

#[cfg(test)]
mod tests;
