//! The boat: her picture, her figures, and what to look at.

use super::begin;
use crate::web::store::{FileName, Store};
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::paper::{pictures, write_svg};
use boat::plan::Plan;
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new().route("/", get(start)).route("/picture/{name}", get(picture))
}

async fn start(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    if view.texts.no_boat() {
        return frame::page(&shed, &view, "/", "A new boat", &[], &begin::body(&shed, &view));
    }
    let body = match &view.plan {
        Some(plan) => html! {
            (boat(plan, view.revision))
            @if matches!(shed.desk.store, Store::Memory) {
                h2 { "Your own boat" }
                p { "She is an example. " a.button href="/new" { "Begin a boat of your own" } }
            }
        },
        None => {
            html! { p { "Her files are read again as soon as they change. Mend them here: " a href="/files" { "Files" } "." @if view.texts.get(FileName::Boat).is_none() { " Or " a href="/new" { "ask for boat.toml field by field" } "." } } }
        }
    };
    frame::page(&shed, &view, "/", "The boat", &[], &body)
}

fn boat(plan: &Plan, revision: u64) -> Markup {
    let len = plan.spec.lengths;
    let widest = plan.strakes.iter().flat_map(|s| &s.at).map(|a| a.shows).fold(0.0, f64::max);
    html! {
        figure.picture {
            img src={ "/picture/from-off-the-quarter.svg?" (revision) } alt={ (plan.spec.name) " from off the quarter" };
        }
        p { (plan.spec.kind) @if !plan.spec.drawn_by.is_empty() { ", drawn by " (plan.spec.drawn_by) } "." }
        dl.figures {
            (figure("Strakes a side", &plan.strakes.len().to_string()))
            (figure("Plank", &len.said(plan.spec.planking.thickness)))
            (figure("Land", &len.said(plan.spec.planking.lap)))
            (figure("Shows at most", &len.said(widest)))
            (figure("Moulds", &plan.moulds.len().to_string()))
            (figure("Timbers", &plan.timbers.len().to_string()))
            (figure("Rivets, both sides", &(2 * plan.rivets.len()).to_string()))
            (figure("All that the plan weighs", &len.mass(plan.weights.total, 0)))
        }
        h2 { "To look at" }
        @if plan.findings.is_empty() { p { "Nothing." } }
        ol.findings {
            @for f in &plan.findings {
                li {
                    strong { (f.stage.word()) ": " (f.place) }
                    @if let Some([measured, limit]) = f.figures(len) { " " (measured) " (limit " (limit) ")" }
                    ". " (f.hint)
                }
            }
        }
    }
}

fn figure(name: &str, value: &str) -> Markup {
    html! { div { dt { (name) } dd { (value) } } }
}

async fn picture(State(shed): State<Shared>, Path(name): Path<String>) -> Response {
    let drawn = tokio::task::spawn_blocking(move || {
        let plan = shed.desk.view().plan.clone()?;
        let all = pictures::pictures(&shed.desk.t, &plan);
        let wanted = name.strip_suffix(".svg")?;
        all.iter().find(|p| p.file_name == wanted).map(|p| write_svg(&shed.desk.t, &p.sheet))
    })
    .await;
    match drawn {
        Ok(Some(svg)) => ([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        _ => (StatusCode::NOT_FOUND, "there is no such picture").into_response(),
    }
}
