//! The pages, one to a file.

mod aboard;
mod begin;
mod boards;
mod book;
mod built;
mod files;
mod hull;
mod lands;
mod lines;
mod patterns;
mod phones;
mod plan_picture;
mod planks_on_boards;
mod quote;
mod record;
mod sheets;
mod small;
mod start;
mod table;
mod weights;

use super::Shared;
use super::desk::View;
use axum::Router;
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new()
        .merge(start::routes())
        .merge(begin::routes())
        .merge(plan_picture::routes())
        .merge(lands::routes())
        .merge(lines::routes())
        .merge(book::routes())
        .merge(files::routes())
        .merge(table::routes())
        .merge(sheets::routes())
        .merge(hull::routes())
        .merge(boards::routes())
        .merge(patterns::routes())
        .merge(weights::routes())
        .merge(aboard::routes())
        .merge(quote::routes())
        .merge(record::routes())
        .merge(phones::routes())
        .merge(built::routes())
}

/// A sheet of the book as a picture.
fn leaf(view: &View, page: usize, title: &str) -> Markup {
    html! { figure.leaf { img src={ "/book/" (page) "/sheet.svg?" (view.revision) } alt={ "Page " (page) ": " (title) } loading="lazy"; } }
}
