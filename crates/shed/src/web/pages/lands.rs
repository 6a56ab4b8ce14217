//! The lands: the body plan, with marks that can be dragged, and what follows beside it.

use crate::web::frame::{self, answer, worked};
use crate::web::store::FileName;
use crate::web::{Shared, numbers};
use axum::extract::State;
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Json, Router};
use maud::{Markup, html};
use serde::Deserialize;
use serde_json::{Value, json};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/lands", get(lands))
        .route("/lands.json", get(numbers))
        .route("/lands/proposal.json", get(proposal))
        .route("/lands/free", post(free))
}

async fn numbers(State(shed): State<Shared>) -> Json<Value> {
    let view = shed.desk.view();
    Json(view.plan.as_ref().map_or_else(
        || json!(null),
        |plan| numbers::lands_page(plan, view.revision, view.texts.get(FileName::Marks).is_some()),
    ))
}

/// Which revision it was asked from.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Seen {
    seen: u64,
}

/// Frees every mark.
async fn free(State(shed): State<Shared>, Json(asked): Json<Seen>) -> Response {
    answer(worked(move || shed.desk.change(asked.seen, "all marks freed", FileName::Marks, None)).await)
}

/// The lands as they would lie with no mark pinned.
async fn proposal(State(shed): State<Shared>) -> Json<Value> {
    let found = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        let (mut input, lines) = ((**view.input.as_ref()?).clone(), view.lines.as_ref()?);
        input.pins.clear();
        let found = boat::plan::glimpse(&input, &lines.skin).ok()?;
        Some(numbers::land_lines(&found.lands, &found.marks, &found.strakes, input.spec.lengths))
    })
    .await;
    Json(found.ok().flatten().unwrap_or(Value::Null))
}

async fn lands(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = html! {
        p.lead {
            "Drag a mark along its mould, or choose it and use the arrow keys (with Shift in tens); it is pinned where you let it go, and the other "
            "lands follow. Tab goes from mark to mark up a mould, Page Up and Page Down too. A pinned mark is freed with its button, or with Delete."
        }
        div.bench {
            div {
                div #halves.row.above role="group" aria-label="What is shown" {
                    button type="button" data-half="both" aria-pressed="true" { "Both halves" }
                    button type="button" data-half="fore" aria-pressed="false" { "Fore half" }
                    button type="button" data-half="after" aria-pressed="false" { "After half" }
                }
                div #body-plan.sheet {}
                h2 { "As the lands are seen" }
                div #stands.row.above role="group" aria-label="Where you stand" {
                    button type="button" data-turn="0" { "On the beam" }
                    button type="button" data-turn="bow" { "Off the bow" }
                    button type="button" data-turn="quarter" { "Off the quarter" }
                    button type="button" data-turn="0" data-heel="20" { "Heeled" }
                }
                div #seen.sheet {}
                label for="turn" { "Walk round her: " output #turn-said {} }
                input #turn type="range" min="-180" max="180" step="1" value="0";
                div #pins {}
            }
            section.beside aria-label="Numbers" {
                div.row { button #proposal type="button" aria-pressed="false" { "Compare with the proposal" } span #core.quiet {} }
                div #chosen {}
                div #found {}
                div #numbers.scroll tabindex="0" role="region" aria-label="What shows" {}
            }
        }
        noscript { p { "This page needs its script to draw." } }
    };
    frame::page(&shed, &view, "/lands", "Lands", &["lands.js"], &body)
}
