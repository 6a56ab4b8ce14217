//! The pages, one to a file.

mod book;
mod files;
mod lands;
mod start;
mod table;

use super::Shared;
use axum::Router;

pub fn routes() -> Router<Shared> {
    Router::new()
        .merge(start::routes())
        .merge(lands::routes())
        .merge(book::routes())
        .merge(files::routes())
        .merge(table::routes())
}
