//! The bench book: its pages as they will be printed, and the whole as a PDF.

use super::leaf;
use crate::web::{Shared, frame, sheets_of};
use axum::Router;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::paper::{book, write_svg};
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/book", get(contents))
        .route("/book.pdf", get(pdf))
        .route("/book/{page}", get(one))
        .route("/book/{page}/sheet.svg", get(sheet))
}

/// Titles of the pages, each kind once, with the number of its first page.
async fn contents(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let titles = sheets_of(&shed, &view).await;
    let body = html! {
        p { a.button href="/book.pdf" { "The whole book, PDF" } " " (titles.len()) " pages, A4, to be printed at 100 %." }
        ol.contents {
            @for (i, title) in titles.iter().enumerate() {
                li value=(i + 1) { a href={ "/book/" (i + 1) } { (title) } }
            }
        }
    };
    frame::page(&shed, &view, "/book", "Bench book", &[], &body)
}

async fn one(State(shed): State<Shared>, Path(page): Path<usize>) -> Response {
    let view = shed.desk.view();
    let titles = sheets_of(&shed, &view).await;
    let of = titles.len();
    let Some(title) = page.checked_sub(1).and_then(|i| titles.get(i)) else {
        return (StatusCode::NOT_FOUND, "the book has no such page").into_response();
    };
    let body = html! {
        nav.leaf aria-label="Pages of the book" {
            @if page > 1 { a.button rel="prev" href={ "/book/" (page - 1) } { "Page before" } }
            a.button href="/book" { "All pages" }
            @if page < of { a.button rel="next" href={ "/book/" (page + 1) } { "Next page" } }
        }
        (leaf(&view, page, title))
    };
    frame::page(&shed, &view, "/book", &format!("{title}, page {page} of {of}"), &[], &body).into_response()
}

async fn sheet(State(shed): State<Shared>, Path(page): Path<usize>) -> Response {
    let drawn = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        let sheet = view.book(&shed.desk.t).get(page.checked_sub(1)?)?;
        Some(write_svg(&shed.desk.t, sheet))
    })
    .await;
    match drawn {
        Ok(Some(svg)) => ([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        _ => (StatusCode::NOT_FOUND, "the book has no such page").into_response(),
    }
}

async fn pdf(State(shed): State<Shared>) -> Response {
    let written = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        let plan = view.plan.clone()?;
        book::write_sheets(&shed.desk.t, &plan, view.book(&shed.desk.t)).ok()
    })
    .await;
    match written {
        Ok(Some(bytes)) => {
            let name = "inline; filename=\"bench-book.pdf\"";
            ([(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, name)], bytes).into_response()
        }
        _ => (StatusCode::NOT_FOUND, "there is no plan to make a book of").into_response(),
    }
}
