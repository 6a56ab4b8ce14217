//! The websocket: tells pages of every change, of new entries and phones, and of how a laying out goes on, and answers while a mark is being dragged.
//!
//! Only the latest place of a dragged mark is worked out; those in between that came while the last was worked out are let go.

use super::{Shared, numbers, phones};
use axum::Router;
use axum::extract::State;
use axum::extract::ws::{Message, WebSocket, WebSocketUpgrade};
use axum::response::Response;
use axum::routing::get;
use boat::folder::Pin;
use boat::plan;
use futures_util::{SinkExt, StreamExt};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;
use std::time::{Duration, Instant};
use tokio::sync::{mpsc, watch};

/// No message from a page is longer, bytes.
const LONGEST: usize = 4096;

/// How often it is told anew when phones were seen last.
const SEEN: Duration = Duration::from_secs(20);

/// A mark as it is dragged.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Drag {
    /// Counts the moves, so that the page knows which one an answer belongs to.
    n: u64,
    /// The land.
    land: u32,
    /// Index of the section.
    section: usize,
    /// Along the section from the rabbet, mm.
    girth: f64,
}

pub fn routes() -> Router<Shared> {
    Router::new().route("/live", get(live))
}

async fn live(State(shed): State<Shared>, upgrade: WebSocketUpgrade) -> Response {
    upgrade.max_message_size(LONGEST).on_upgrade(move |socket| talk(shed, socket))
}

async fn talk(shed: Shared, socket: WebSocket) {
    let (mut to, mut from) = socket.split();
    let (answer, mut answers) = mpsc::channel::<String>(4);
    let (drag, drags) = watch::channel::<Option<Drag>>(None);
    let worker = tokio::spawn(follow(Arc::clone(&shed), drags, answer));
    let mut news = shed.desk.news();
    news.mark_changed();
    let mut laying = shed.laying.news();
    laying.mark_changed();
    let mut record = shed.record.news();
    record.mark_changed();
    let (mut paired, mut open) = (shed.record.phones_news(), shed.phones.news());
    let mut seen = tokio::time::interval(SEEN);
    let mut let_in = String::new();
    loop {
        tokio::select! {
            message = from.next() => match message {
                Some(Ok(Message::Text(text))) => match serde_json::from_str::<Drag>(&text) {
                    Ok(moved) => { drag.send_replace(Some(moved)); }
                    Err(_) => break,
                },
                Some(Ok(Message::Ping(_) | Message::Pong(_))) => {}
                _ => break,
            },
            answer = answers.recv() => match answer {
                Some(answer) => if to.send(Message::Text(answer.into())).await.is_err() { break },
                None => break,
            },
            changed = news.changed() => {
                if changed.is_err() { break }
                news.mark_unchanged();
                let view = shed.desk.view();
                let told = json!({ "revision": view.revision, "what": view.what, "trouble": view.trouble }).to_string();
                if to.send(Message::Text(told.into())).await.is_err() { break }
            }
            changed = laying.changed() => {
                if changed.is_err() { break }
                let told = json!({ "tick": *laying.borrow_and_update() }).to_string();
                if to.send(Message::Text(told.into())).await.is_err() { break }
            }
            changed = record.changed() => {
                if changed.is_err() { break }
                let told = json!({ "record": *record.borrow_and_update() }).to_string();
                if to.send(Message::Text(told.into())).await.is_err() { break }
            }
            changed = paired.changed() => {
                if changed.is_err() { break }
                let told = json!({ "phones": *paired.borrow_and_update() }).to_string();
                if to.send(Message::Text(told.into())).await.is_err() { break }
                seen.reset_immediately();
            }
            changed = open.changed() => if changed.is_err() { break } else { seen.reset_immediately() },
            _ = seen.tick() => {
                let now = phones::exposed(&shed).unwrap_or_default();
                if now != let_in {
                    let told = json!({ "let_in": now }).to_string();
                    let_in = now;
                    if to.send(Message::Text(told.into())).await.is_err() { break }
                }
            }
        }
    }
    worker.abort();
}

/// Works out the latest place, again and again.
async fn follow(shed: Shared, mut drags: watch::Receiver<Option<Drag>>, answer: mpsc::Sender<String>) {
    while drags.changed().await.is_ok() {
        let Some(drag) = drags.borrow_and_update().clone() else { continue };
        let shed = Arc::clone(&shed);
        let Ok(found) = tokio::task::spawn_blocking(move || glimpse(&shed, &drag)).await else { continue };
        if answer.send(found).await.is_err() {
            return;
        }
    }
}

/// The lands with that mark where it is dragged to.
fn glimpse(shed: &Shared, drag: &Drag) -> String {
    let began = Instant::now();
    let view = shed.desk.view();
    let (Some(input), Some(lines)) = (&view.input, &view.lines) else {
        return json!({ "n": drag.n, "why": "there are no fair lines to move a mark on" }).to_string();
    };
    let Some(section) = lines.skin.sections.get(drag.section).filter(|_| drag.girth.is_finite()) else {
        return json!({ "n": drag.n, "why": "there is no such section" }).to_string();
    };
    let most = view.plan.as_ref().map_or(0, |p| p.strakes.len());
    if drag.land == 0 || drag.land as usize >= most || !(0.0..=section.girth).contains(&drag.girth) {
        return json!({ "n": drag.n, "why": "a mark can be moved between the rabbet and the sheer" }).to_string();
    }
    let mut moved = (**input).clone();
    moved.pins.retain(|p| p.land != drag.land || p.station != section.name);
    let line = moved.pins.iter().map(|p| p.line).max().unwrap_or(1) + 1;
    moved.pins.push(Pin { land: drag.land, station: section.name.clone(), girth: drag.girth, line });
    match plan::glimpse(&moved, &lines.skin) {
        Ok(found) => {
            let lengths = moved.spec.lengths;
            json!({
                "n": drag.n,
                "now": numbers::land_lines(&found.lands, &found.marks, &found.strakes, lengths),
                "findings": numbers::findings(found.findings.iter(), lengths),
                "core_ms": (began.elapsed().as_secs_f64() * 1e5).round() / 100.0,
            })
            .to_string()
        }
        Err(why) => json!({ "n": drag.n, "why": why.said(moved.spec.lengths) }).to_string(),
    }
}
