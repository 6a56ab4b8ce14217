//! Her files as plain texts, each to be changed and kept.

use crate::web::frame::{self, FileForm, refusal, worked};
use crate::web::store::FileName;
use crate::web::{Shared, desk::View};
use axum::Router;
use axum::extract::{Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use maud::{Markup, html};
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new().route("/files", get(files)).route("/files/{name}", get(one).post(keep))
}

fn holds(file: FileName) -> &'static str {
    match file {
        FileName::Boat => "what is wanted: ends, planking, lands, timbers, fastenings",
        FileName::Offsets => "the table of offsets, as her plan prints it",
        FileName::Marks => "marks you have pinned",
        FileName::Boards => "the boards in the rack",
        FileName::Nails => "nails and roves in stock",
        FileName::Rates => "what wood, fastenings and hours cost",
    }
}

async fn files(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = html! {
        ul.contents {
            @for file in FileName::ALL {
                li {
                    a href={ "/files/" (file.word()) } { (file.word()) } " " (holds(file))
                    @if view.texts.get(file).is_none() { " (none yet)" }
                }
            }
        }
    };
    frame::page(&shed, &view, "/files", "Files", &[], &body)
}

async fn one(State(shed): State<Shared>, Path(name): Path<String>) -> Response {
    let view = shed.desk.view();
    let Some(file) = FileName::find(&name) else { return unknown() };
    form(&shed, &view, file, view.texts.get(file).unwrap_or_default(), None).into_response()
}

fn form(shed: &Shared, view: &View, file: FileName, text: &str, why: Option<&str>) -> Markup {
    let lines = text.lines().count().clamp(8, 40);
    let body = html! {
        @if let Some(why) = why { p.trouble role="alert" { "Not kept: " (why) ". What you typed stands below." } }
        form method="post" action={ "/files/" (file.word()) } data-typed[why.is_some()] {
            input type="hidden" name="seen" value=(view.revision);
            label for="text" { (file.word()) ": " (holds(file)) }
            textarea #text name="text" rows=(lines) spellcheck="false" autocomplete="off" { "\n" (text) }
            p { button type="submit" { "Keep" } " " a href="/files" { "Leave it as it was" } }
        }
    };
    frame::page(shed, view, "/files", file.word(), &[], &body)
}

async fn keep(State(shed): State<Shared>, Path(name): Path<String>, Form(form): FileForm) -> Response {
    let Some(file) = FileName::find(&name) else { return unknown() };
    let text = form.text.replace("\r\n", "\n");
    let (desk, kept) = (Arc::clone(&shed), Some(text.clone()).filter(|t| !t.trim().is_empty()));
    let what = format!("{} changed", file.word());
    match worked(move || desk.desk.change(form.seen, &what, file, kept)).await {
        Ok(_) => Redirect::to(&format!("/files/{}", file.word())).into_response(),
        // What was typed is shown again, so that it is not lost.
        Err(why) => {
            let page = self::form(&shed, &shed.desk.view(), file, &text, Some(&why.to_string()));
            (refusal(&why).status(), page).into_response()
        }
    }
}

fn unknown() -> Response {
    (StatusCode::NOT_FOUND, "a boat's folder has no such file").into_response()
}
