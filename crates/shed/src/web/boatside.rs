//! At the boat: the page for a phone.

use super::Shared;
use axum::routing::get;
use axum::{Json, Router};
use maud::{DOCTYPE, Markup, html};
use serde_json::{Value, json};

pub fn routes() -> Router<Shared> {
    Router::new().route("/boat", get(boat)).route("/boat/now", get(now))
}

async fn boat() -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "At the boat" }
                link rel="stylesheet" href="/assets/style.css";
            }
            body { main { h1 { "At the boat" } } }
        }
    }
}

async fn now() -> Json<Value> {
    Json(json!({}))
}
