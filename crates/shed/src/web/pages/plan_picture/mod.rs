//! Offsets off a picture of a plan. The picture stays in the browser; marks and picks come here as pixels, and what they tell goes back.
//! What is read off becomes the table of a new boat, or is added to the table of the boat that is open.

mod asked;
mod form;
mod read;

use crate::new_boat::fields::{AFT, FORE};
use crate::said::count;
use crate::web::Shared;
use crate::web::desk::boat_texts;
use crate::web::desk::{Refused, View};
use crate::web::frame::{self, refusal, worked};
use crate::web::store::FileName;
use asked::Asked;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use boat::folder;
use boat::offsets::{RowKind, StationAt, Table};
use boat::plan_sheet;
use boat::units::Notation;
use maud::Markup;
use serde_json::{Value, json};
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/plan-picture", get(page))
        .route("/plan-picture/read", post(worked_out))
        .route("/plan-picture/add", post(add))
}

async fn worked_out(Json(asked): Json<Asked>) -> Response {
    let done = worked(move || {
        let read = read::read(&asked);
        let mut answer = read::answer(&read, asked.lengths().unwrap_or(Notation::Mm));
        let [fore, aft] = read::transoms(&read.stations);
        answer["ends"] = json!({ FORE: if fore { "bow_transom" } else { "stem" }, AFT: if aft { "transom" } else { "sternpost" } });
        Ok(answer)
    })
    .await;
    match done {
        Ok(answer) => Json(answer).into_response(),
        Err(why) => refusal(&why),
    }
}

/// Adds what was read off to her table.
async fn add(State(shed): State<Shared>, Json(asked): Json<Asked>) -> Response {
    let done = worked(move || {
        let view = shed.desk.view();
        let wrong = Refused::Wrong;
        let input = view
            .input
            .as_ref()
            .ok_or_else(|| wrong("her files cannot be read: mend them first, your picks are kept".to_owned()))?;
        let lengths = input.spec.lengths;
        if asked.lengths().map_err(wrong)? != lengths {
            return Err(wrong(
                "her table is in another notation now: load this page again, your picks are kept".to_owned(),
            ));
        }
        let read = read::read(&asked);
        if let Some(why) = read.trouble {
            return Err(wrong(why));
        }
        let text = view.texts.get(FileName::Offsets).unwrap_or_default();
        let added = plan_sheet::added(text, &input.table, &read.entries, lengths, asked.give_way)
            .map_err(|why| wrong(why.to_string()))?;
        let mut texts = view.texts.clone();
        texts.put(FileName::Offsets, Some(added.text.clone()));
        let reads = boat_texts(&texts).and_then(|texts| folder::read(&texts).map_err(|why| why.to_string()));
        reads.map_err(|why| wrong(format!("her table would no longer be one: {why}")))?;
        let put = added.filled + added.changed;
        let what = format!("{} read off a picture of the plan", entries(put));
        let made = shed.desk.change(asked.seen, &what, FileName::Offsets, Some(added.text))?;
        Ok((made, told(added.filled, added.changed, added.kept)))
    })
    .await;
    match done {
        Ok((view, said)) => added_to(&view, &said).into_response(),
        Err(why) => refusal(&why),
    }
}

fn added_to(view: &Arc<View>, said: &str) -> Json<Value> {
    Json(json!({ "revision": view.revision, "said": said, "trouble": view.trouble }))
}

fn entries(n: usize) -> String {
    count(n, "entry", "entries")
}

fn told(filled: usize, changed: usize, kept: usize) -> String {
    let mut said = format!("{} added to her table", entries(filled));
    if changed > 0 {
        said.push_str(&format!(", {changed} that stood there changed"));
    }
    if kept > 0 {
        said.push_str(&format!(", {kept} that stood there left as they were"));
    }
    format!("{said}. Undo takes it back.")
}

/// What the page begins with: her notation, stations and levels as her table has them.
struct Known {
    lengths: Notation,
    stations: String,
    waterlines: String,
    buttocks: String,
}

impl Known {
    fn of(view: &View) -> Option<Known> {
        let input = view.input.as_ref()?;
        let lengths = input.spec.lengths;
        let kind = |f: fn(&RowKind) -> Option<f64>| levels(&input.table, lengths, f);
        Some(Known {
            lengths,
            stations: stations(&input.table, lengths),
            waterlines: kind(|k| if let RowKind::HalfBreadthWaterline(z) = k { Some(*z) } else { None }),
            buttocks: kind(|k| if let RowKind::HeightButtock(y) = k { Some(*y) } else { None }),
        })
    }
}

fn stations(table: &Table, lengths: Notation) -> String {
    let line = |s: &boat::offsets::Station| match s.at {
        StationAt::Square(x) => format!("{}, {}\n", s.name, lengths.long(x)),
        StationAt::Transom | StationAt::BowTransom => format!("{}\n", s.name),
    };
    table.stations.iter().map(line).collect()
}

fn levels(table: &Table, lengths: Notation, of: impl Fn(&RowKind) -> Option<f64>) -> String {
    let said = |mm: f64| match lengths {
        Notation::Mm => lengths.said(mm),
        _ => format!("{} {}", lengths.exact(mm), lengths.unit()),
    };
    let all: Vec<String> = table.rows.iter().filter_map(|r| of(&r.kind)).map(said).collect();
    all.join(", ")
}

async fn page(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = form::body(&shed, &view, Known::of(&view).as_ref());
    frame::page(&shed, &view, "/plan-picture", "Offsets off a picture of her plan", &["plan-picture.js"], &body)
}
