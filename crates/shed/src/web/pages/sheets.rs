//! Pages made of sheets of the book, as they are drawn for paper: each strake's card, rivets and timbers.

use super::leaf;
use crate::web::desk::View;
use crate::web::{Shared, frame, sheets_of};
use axum::Router;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::plan::Plan;
use maud::{Markup, html};
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/strakes", get(strakes))
        .route("/strakes/{strake}", get(strake))
        .route("/rivets", get(rivets))
}

/// The sheets of the book whose titles are wanted, as large as the page.
pub async fn figures(shed: &Shared, view: &Arc<View>, wanted: impl Fn(&str) -> bool) -> Markup {
    let titles = sheets_of(shed, view).await;
    html! {
        @for (i, title) in titles.iter().enumerate().filter(|(_, t)| wanted(t)) {
            div.leaf {
                (leaf(view, i + 1, title))
                p.quiet { a href={ "/book/" (i + 1) } { "Page " (i + 1) " of the book" } ": " (title) }
            }
        }
    }
}

async fn rivets(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = figures(&shed, &view, |t| {
        ["Rivet", "Timbers", "Nails", "Glue", "How her planks move"].iter().any(|w| t.starts_with(w))
    })
    .await;
    frame::page(&shed, &view, "/rivets", "Rivets and timbers", &[], &body)
}

async fn strakes(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = view.plan.as_ref().map_or_else(|| html! {}, |plan| table(plan));
    frame::page(&shed, &view, "/strakes", "Strakes", &[], &body)
}

fn table(plan: &Plan) -> Markup {
    let len = plan.spec.lengths;
    let most = |it: &mut dyn Iterator<Item = f64>| it.fold(f64::NEG_INFINITY, f64::max);
    html! {
        div.scroll tabindex="0" role="region" aria-label="Strakes" {
            table {
                thead { tr {
                    th scope="col" { "strake" } th scope="col" { "shows at most" } th scope="col" { "greatest bevel" }
                    th scope="col" { "board, long" } th scope="col" { "board, wide" } th scope="col" { "parts" }
                } }
                tbody {
                    @for (s, f) in plan.strakes.iter().zip(&plan.flats).rev() {
                        @let bevel = most(&mut plan.bevels.iter().filter(|b| b.land == s.strake).map(|b| b.bevel));
                        @let parts = plan.made.iter().find(|m| m.strake == s.strake).map_or(1, |m| m.parts.len());
                        tr {
                            th scope="row" { a.button href={ "/strakes/" (s.strake) } { "Strake " (s.strake) } }
                            td { (len.said(most(&mut s.at.iter().map(|a| a.shows)))) }
                            td { @if bevel.is_finite() { (format!("{:.1}°", bevel.to_degrees())) } @else { "\u{2013}" } }
                            td { (len.said(len.to_have(f.length))) } td { (len.said(len.to_have(f.board_width))) } td { (parts) }
                        }
                    }
                }
            }
        }
    }
}

/// Whether a sheet is about a strake, a part of it, or the land on its upper edge.
pub(super) fn of_strake(title: &str, strake: usize) -> bool {
    let begins = [format!("Strake {strake} of"), format!("Strake {strake},")];
    begins.iter().any(|b| title.starts_with(b)) || title.ends_with(&format!("land {strake}"))
}

async fn strake(State(shed): State<Shared>, Path(strake): Path<usize>) -> Response {
    let view = shed.desk.view();
    let count = view.plan.as_ref().map_or(0, |p| p.strakes.len());
    if !(1..=count).contains(&strake) {
        return (StatusCode::NOT_FOUND, "she has no such strake").into_response();
    }
    let sheets = figures(&shed, &view, |title| of_strake(title, strake)).await;
    let body = html! {
        nav.leaf aria-label="Strakes" {
            @if strake > 1 { a.button rel="prev" href={ "/strakes/" (strake - 1) } { "Strake below" } }
            a.button href="/strakes" { "All strakes" }
            @if strake < count { a.button rel="next" href={ "/strakes/" (strake + 1) } { "Strake above" } }
        }
        (sheets)
    };
    frame::page(&shed, &view, "/strakes", &format!("Strake {strake} of {count}"), &[], &body).into_response()
}
