//! The record: every entry, the newest first, and how one is taken back.

use crate::record::{Entry, Kind, State as Now, Stored, csv, now_ms, random_letters, said, states};
use crate::said::count;
use crate::web::caller::Caller;
use crate::web::{Shared, entries, frame};
use axum::Router;
use axum::extract::{Extension, Form, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::{Markup, html};
use serde::Deserialize;

/// Entries on a page.
const ON_A_PAGE: usize = 100;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/record", get(show))
        .route("/record/record.csv", get(download))
        .route("/record/back", post(take_back))
}

/// Which part of the record.
#[derive(Debug, Deserialize)]
struct Before {
    /// Entries before this one.
    before: Option<i64>,
}

async fn show(State(shed): State<Shared>, Query(asked): Query<Before>) -> Markup {
    page(&shed, asked.before, None)
}

fn page(shed: &Shared, before: Option<i64>, why: Option<&str>) -> Markup {
    let kept = shed.record.kept();
    let body = html! {
        @if let Some(why) = why { p.trouble role="alert" { (why) } }
        @match &kept {
            Err(why) => p.trouble role="alert" { (why) },
            Ok(kept) if kept.entries.is_empty() => p data-record="0" { "Nothing has been measured or done yet." },
            Ok(kept) => (list(&kept.entries, before)),
        }
    };
    frame::page(shed, &shed.desk.view(), "/record", "Record", &["record.js"], &body)
}

fn list(all: &[std::sync::Arc<Stored>], before: Option<i64>) -> Markup {
    let states = states(all);
    let last = all.last().map_or(0, |s| s.seq);
    let end = before.map_or(all.len(), |before| all.partition_point(|s| s.seq < before));
    let begin = end.saturating_sub(ON_A_PAGE);
    let number = |id: &str| all.iter().find(|s| s.entry.id == id).map(|s| s.seq);
    html! {
        p.row data-record=(last) {
            a.button href="/record/record.csv" download="record.csv" { "For a spreadsheet (CSV)" }
            span.quiet { (count(all.len(), "entry", "entries")) ". Nothing is erased: what is taken back stays here." }
        }
        div.scroll tabindex="0" role="group" aria-label="Entries" {
            table.words.record {
                thead {
                    tr { th scope="col" { "No." } th scope="col" { "What" } th scope="col" { "Who, when (UTC)" } th scope="col" { "Now" } }
                }
                tbody {
                    @for i in (begin..end).rev() { (row(&all[i], states[i], all[i].entry.corrects.as_deref().and_then(number))) }
                }
            }
        }
        nav.leaf aria-label="Parts of the record" {
            @if end < all.len() { a.button href="/record" { "The newest" } }
            @if begin > 0 { a.button href={ "/record?before=" (all[begin].seq) } { "Earlier" } }
        }
    }
}

fn row(stored: &Stored, state: Now, of: Option<i64>) -> Markup {
    let e = &stored.entry;
    let what = match (e.kind, of) {
        (Kind::Withdrawn, Some(of)) => format!("takes back {of}"),
        (Kind::Reading | Kind::Done, Some(of)) => format!("{}, corrects {of}", e.what),
        (Kind::Hours, Some(of)) => format!("hours, {}, corrects {of}", e.what),
        (Kind::Hours, None) => format!("hours, {}", e.what),
        _ => e.what.clone(),
    };
    let place =
        [e.side.clone(), e.strake.map(|n| format!("strake {n}")), e.section.as_ref().map(|s| format!("at {s}"))];
    let place = place.into_iter().flatten().collect::<Vec<_>>().join(", ");
    html! {
        tr.gone[state != Now::Stands] {
            th scope="row" { (stored.seq) }
            td { (what) @if !e.typed.is_empty() { ": " strong { (e.typed) } } br; span.quiet { (place) } }
            td { (stored.device) br; span.quiet { (said(e.at)) } }
            td {
                @if state == Now::Stands {
                    form method="post" action="/record/back" {
                        input type="hidden" name="of" value=(e.id);
                        @if let Ok(id) = random_letters::<16>() { input type="hidden" name="id" value=(id); }
                        button type="submit" aria-label={ "Take back " (stored.seq) } { "Take back" }
                    }
                } @else { (state.word()) }
            }
        }
    }
}

/// An entry to be taken back.
#[derive(Debug, Deserialize)]
struct Back {
    /// The entry.
    of: String,
    /// The name of the one that takes it back: made with the page, so that pressing twice is pressing once.
    id: String,
}

async fn take_back(
    State(shed): State<Shared>,
    Extension(caller): Extension<Caller>,
    Form(asked): Form<Back>,
) -> Response {
    let entry = serde_json::json!({ "id": asked.id, "at": now_ms(), "kind": Kind::Withdrawn, "what": "", "corrects": asked.of });
    let refused = |code: StatusCode, why: &str| (code, page(&shed, None, Some(why))).into_response();
    let entry = match Entry::read(&entry.to_string()) {
        Ok(entry) => entry,
        Err(refusal) => return refused(StatusCode::UNPROCESSABLE_ENTITY, &refusal.why),
    };
    // Pressed twice, it was taken back at another time: the first counts.
    let there = |kept: &crate::record::Kept| kept.entries.iter().any(|s| s.entry.id == entry.id);
    if shed.record.kept().is_ok_and(|kept| there(&kept)) {
        return Redirect::to("/record").into_response();
    }
    match shed.record.store(caller.device(), vec![entry]).await {
        Ok(answer) => match answer.refused.first() {
            None => Redirect::to("/record").into_response(),
            Some(refusal) => refused(StatusCode::UNPROCESSABLE_ENTITY, &refusal.why),
        },
        Err(why) => refused(entries::trouble(&why).status(), &why.to_string()),
    }
}

async fn download(State(shed): State<Shared>) -> Response {
    let text = |kept: &crate::record::Kept| csv(&kept.entries);
    match shed.record.kept() {
        Ok(kept) => {
            let head = [
                (header::CONTENT_TYPE, "text/csv; charset=utf-8"),
                (header::CONTENT_DISPOSITION, "attachment; filename=\"record.csv\""),
            ];
            (head, text(&kept)).into_response()
        }
        Err(why) => entries::trouble(&why),
    }
}
