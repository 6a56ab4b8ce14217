//! The lands: the body plan, with marks that can be dragged, and what follows beside it.

use crate::web::{Shared, frame, numbers};
use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use maud::{Markup, html};
use serde_json::{Value, json};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/lands", get(lands))
        .route("/lands.json", get(numbers))
        .route("/lands/proposal.json", get(proposal))
}

async fn numbers(State(shed): State<Shared>) -> Json<Value> {
    let view = shed.desk.view();
    Json(view.plan.as_ref().map_or_else(|| json!(null), |plan| numbers::lands_page(plan, view.revision)))
}

/// The lands as they would lie with no mark pinned.
async fn proposal(State(shed): State<Shared>) -> Json<Value> {
    let found = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        let (mut input, lines) = ((**view.input.as_ref()?).clone(), view.lines.as_ref()?);
        input.pins.clear();
        let found = boat::plan::glimpse(&input, &lines.skin).ok()?;
        Some(numbers::lands(&found.lands, &found.marks, &found.strakes, input.spec.lengths))
    })
    .await;
    Json(found.ok().flatten().unwrap_or(Value::Null))
}

async fn lands(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = html! {
        p.lead {
            "Drag a mark along its mould, or choose it and use the arrow keys; it is pinned where you let it go, and the other "
            "lands follow. A pinned mark is freed with its button, or with Delete."
        }
        div.bench {
            div #body-plan.sheet {}
            section.beside aria-label="Numbers" {
                div.row { button #proposal type="button" aria-pressed="false" { "Compare with the proposal" } span #core.quiet {} }
                div #chosen {}
                div #numbers.scroll tabindex="0" role="region" aria-label="What shows" {}
            }
        }
        div #pins {}
        noscript { p { "This page needs its script to draw." } }
    };
    frame::page(&shed, &view, "/lands", "Lands", &["lands.js"], &body)
}
