//! A new boat: asked for field by field, or begun from an example. Plain forms; what was typed is shown again when something is
//! wrong with it.

mod form;

use crate::examples::Example;
use crate::new_boat::fields::{AFT, FORE, LENGTHS, TABLE, Typed};
use crate::new_boat::written::{self, Wrong};
use crate::web::Shared;
use crate::web::desk::{NewText, Refused, View};
use crate::web::frame::{self, refusal, worked};
use crate::web::store::{FileName, Store, Texts};
use axum::Router;
use axum::extract::{Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use boat::folder::BoatTexts;
use boat::plan;
use clap::ValueEnum;
use maud::Markup;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/new", get(asked).post(made))
        .route("/new/table", post(with_table))
        .route("/new/example", post(example))
}

/// What the form is shown with.
#[derive(Debug, Default)]
struct Shown {
    typed: Typed,
    wrong: Vec<Wrong>,
    /// She can be read, but no plan comes of her; she may be kept all the same.
    no_plan: Option<String>,
}

/// Why no boat may be begun here.
fn in_the_way(shed: &Shared, view: &View) -> Option<String> {
    let in_folder = matches!(shed.desk.store, Store::Folder(_));
    (in_folder && view.texts.get(FileName::Boat).is_some()).then(|| {
        "There is a boat in this folder, and she is not written over. For another one make an empty folder, and open that: \
         strakewise FOLDER."
            .to_owned()
    })
}

/// The page's body, empty but for a table that is there already.
pub fn body(shed: &Shared, view: &View) -> Markup {
    let mut shown = Shown::default();
    let kept = view.texts.get(FileName::Offsets).filter(|_| matches!(shed.desk.store, Store::Folder(_)));
    if let Some(table) = kept {
        shown.typed.0.insert(TABLE.to_owned(), table.to_owned());
    }
    form::body(shed, view, &shown, in_the_way(shed, view).as_deref())
}

async fn asked(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    frame::page(&shed, &view, "/new", "A new boat", &[], &body(&shed, &view))
}

/// What is asked for where a table is there already, made elsewhere on the screen.
async fn with_table(State(shed): State<Shared>, Form(all): Form<BTreeMap<String, String>>) -> Markup {
    let told = [TABLE, LENGTHS, FORE, AFT];
    let typed = Typed(all.into_iter().filter(|(key, _)| told.contains(&key.as_str())).collect());
    let view = shed.desk.view();
    let shown = Shown { typed, ..Shown::default() };
    let body = form::body(&shed, &view, &shown, in_the_way(&shed, &view).as_deref());
    frame::page(&shed, &view, "/new", "A new boat", &[], &body)
}

/// What became of a form.
enum Outcome {
    Made,
    Again(Shown),
    Refused(Typed, Refused),
}

async fn made(State(shed): State<Shared>, Form(all): Form<BTreeMap<String, String>>) -> Response {
    let desk = Arc::clone(&shed);
    let outcome = worked(move || Ok(make(&desk, Typed(all)))).await;
    let (code, shown) = match outcome {
        Ok(Outcome::Made) => return Redirect::to("/").into_response(),
        Ok(Outcome::Again(shown)) => (StatusCode::UNPROCESSABLE_ENTITY, shown),
        Ok(Outcome::Refused(typed, why)) => {
            let wrong = vec![Wrong { key: None, cell: None, why: why.to_string() }];
            (refusal(&why).status(), Shown { typed, wrong, no_plan: None })
        }
        Err(why) => return refusal(&why),
    };
    let view = shed.desk.view();
    let body = form::body(&shed, &view, &shown, in_the_way(&shed, &view).as_deref());
    (code, frame::page(&shed, &view, "/new", "A new boat", &[], &body)).into_response()
}

fn make(shed: &Shared, typed: Typed) -> Outcome {
    let view = shed.desk.view();
    if let Some(why) = in_the_way(shed, &view) {
        return Outcome::Refused(typed, Refused::Wrong(why));
    }
    let written = match written::write(&typed) {
        Ok(written) => written,
        Err(wrong) => return Outcome::Again(Shown { typed, wrong, no_plan: None }),
    };
    let in_folder = matches!(shed.desk.store, Store::Folder(_));
    let text = |file: FileName| view.texts.get(file).filter(|_| in_folder).map(str::to_owned);
    let kept = BoatTexts {
        marks: text(FileName::Marks),
        boards: text(FileName::Boards),
        nails: text(FileName::Nails),
        ..BoatTexts::default()
    };
    let input = match written.read(&kept) {
        Ok(input) => input,
        Err(why) => return Outcome::Again(Shown { typed, wrong: vec![why], no_plan: None }),
    };
    if typed.get("keep").is_empty()
        && let Err(why) = plan::plan(&input)
    {
        let why = why.said(input.spec.lengths);
        return Outcome::Again(Shown { typed, wrong: Vec::new(), no_plan: Some(why) });
    }
    let mut files = vec![(FileName::Boat, Some(written.toml)), (FileName::Offsets, Some(written.offsets))];
    if !in_folder {
        // Marks, boards and prices in memory are the example's.
        let others = [FileName::Marks, FileName::Boards, FileName::Nails, FileName::Rates];
        files.extend(others.map(|f| (f, None)));
    }
    let seen = typed.get("seen").parse().unwrap_or(0);
    match shed.desk.change_all(seen, &format!("the new boat {}", input.spec.name), &files) {
        Ok(_) => Outcome::Made,
        Err(why) => Outcome::Refused(typed, why),
    }
}

/// An example to begin from.
#[derive(Debug, Deserialize)]
struct From {
    seen: u64,
    example: String,
}

async fn example(State(shed): State<Shared>, Form(from): Form<From>) -> Response {
    let desk = Arc::clone(&shed);
    let done = worked(move || {
        let view = desk.desk.view();
        if let Some(why) = in_the_way(&desk, &view) {
            return Err(Refused::Wrong(why));
        }
        let example = <Example as ValueEnum>::from_str(&from.example, false)
            .map_err(|_| Refused::Wrong("there is no such example".to_owned()))?;
        let texts = Texts::of(&example.files());
        let files: Vec<NewText> = FileName::ALL.map(|f| (f, texts.get(f).map(str::to_owned))).into();
        let in_folder = matches!(desk.desk.store, Store::Folder(_));
        if in_folder && let Some(file) = FileName::ALL.into_iter().find(|f| view.texts.get(*f).is_some()) {
            let why = format!("{} is in this folder already, and an example writes over nothing", file.word());
            return Err(Refused::Wrong(why));
        }
        desk.desk.change_all(from.seen, &format!("the example {}", example.name()), &files)
    })
    .await;
    match done {
        Ok(_) => Redirect::to("/").into_response(),
        Err(why) => {
            let view = shed.desk.view();
            let wrong = vec![Wrong { key: None, cell: None, why: why.to_string() }];
            let shown = Shown { wrong, ..Shown::default() };
            let body = form::body(&shed, &view, &shown, in_the_way(&shed, &view).as_deref());
            (refusal(&why).status(), frame::page(&shed, &view, "/new", "A new boat", &[], &body)).into_response()
        }
    }
}
