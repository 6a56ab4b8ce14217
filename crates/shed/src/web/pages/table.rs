//! The table of offsets as a grid of its file's cells: typed in any notation, and what the fairing says beside each.

use crate::web::Shared;
use crate::web::desk::{Refused, View, boat_texts};
use crate::web::frame::{self, answer, worked};
use crate::web::store::FileName;
use axum::extract::State;
use axum::routing::{get, post};
use axum::{Json, Router};
use boat::folder::{self, FolderError};
use boat::lines::{self, FairRow};
use boat::offsets::{self, Table};
use boat::spec::Spec;
use maud::{Markup, html};
use serde::Deserialize;
use serde_json::{Value, json};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/table", get(table))
        .route("/table.json", get(remarks))
        .route("/table/try", post(tried))
        .route("/table/cells", post(keep))
}

/// Most cells that are changed at once.
const MOST: usize = 20_000;

/// A cell with a new text.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    /// Line of the file, from 1.
    line: usize,
    /// Cell of the line, from 1.
    cell: usize,
    text: String,
}

/// Cells that are changed together.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Edit {
    seen: u64,
    cells: Vec<Typed>,
}

/// Her table's text with the cells changed.
///
/// # Errors
/// More cells than are changed at once: none of them is.
fn edited(view: &View, edit: &[Typed]) -> Result<String, String> {
    if edit.len() > MOST {
        return Err(format!("{} cells at once, and {MOST} is the most: change them in parts", edit.len()));
    }
    let cells: Vec<(usize, usize, String)> = edit.iter().map(|t| (t.line, t.cell, t.text.clone())).collect();
    Ok(offsets::with_cells(view.texts.get(FileName::Offsets).unwrap_or_default(), &cells))
}

async fn keep(State(shed): State<Shared>, Json(edit): Json<Edit>) -> axum::response::Response {
    let done = worked(move || {
        let view = shed.desk.view();
        let text = edited(&view, &edit.cells).map_err(Refused::Wrong)?;
        let what = match &edit.cells[..] {
            [one] => format!("offsets.csv, line {}, cell {}: {}", one.line, one.cell, short(&one.text)),
            many => format!("{} cells of offsets.csv", many.len()),
        };
        shed.desk.change(edit.seen, &what, FileName::Offsets, Some(text))
    })
    .await;
    answer(done)
}

fn short(text: &str) -> String {
    text.chars().take(24).collect()
}

async fn remarks(State(shed): State<Shared>) -> Json<Value> {
    let said = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        match (&view.input, &view.lines) {
            (Some(input), Some(lines)) => {
                json!({ "revision": view.revision, "cells": of_cells(&input.table, &lines.fair, &input.spec), "trouble": null })
            }
            _ => {
                let mut said = of_text(&view, view.texts.get(FileName::Offsets).unwrap_or_default());
                said["revision"] = json!(view.revision);
                said
            }
        }
    })
    .await;
    Json(said.unwrap_or(Value::Null))
}

/// What the fairing would say to cells that are still being typed; nothing is kept.
async fn tried(State(shed): State<Shared>, Json(edit): Json<Edit>) -> Json<Value> {
    let said = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        edited(&view, &edit.cells).map_or_else(nothing, |text| of_text(&view, &text))
    })
    .await;
    Json(said.unwrap_or(Value::Null))
}

/// No remarks, and why.
fn nothing(why: String) -> Value {
    json!({ "cells": [], "trouble": { "line": null, "cell": null, "text": why } })
}

/// Remarks on a table's text, the other files being as they are.
fn of_text(view: &View, text: &str) -> Value {
    let mut texts = view.texts.clone();
    texts.put(FileName::Offsets, Some(text.to_owned()));
    let read = match boat_texts(&texts) {
        Ok(texts) => folder::read(&texts),
        Err(why) => return nothing(why),
    };
    let input = match read {
        Ok(input) => input,
        Err(FolderError::Table(why)) => {
            let text = why.problem.to_string();
            return json!({ "cells": [], "trouble": { "line": why.line, "cell": why.column, "text": text } });
        }
        Err(why) => return nothing(why.to_string()),
    };
    match lines::fair(&input.table, &input.spec) {
        Ok(found) => json!({ "cells": of_cells(&input.table, &found.fair, &input.spec), "trouble": null }),
        Err(why) => nothing(boat::plan::PlanError::from(why).said(input.spec.lengths)),
    }
}

/// One for each entry of the table.
fn of_cells(table: &Table, fair: &[FairRow], spec: &Spec) -> Vec<Value> {
    let len = spec.lengths;
    let mut all = Vec::new();
    for (row, fair) in table.rows.iter().zip(fair) {
        for (cell, fair) in row.cells.iter().zip(&fair.cells) {
            let (Some(cell), Some(fair)) = (cell, fair) else { continue };
            let moved = len.long(cell.mm) != len.long(fair.fair);
            all.push(json!({
                "line": cell.line, "cell": cell.column,
                "fair": moved.then(|| len.long(fair.fair)),
                "kind": if fair.suspect { "suspect" } else if fair.look_first { "look" } else { "good" },
                "likely": (fair.suspect || fair.look_first).then(|| {
                    let expected = fair.expected.map_or_else(String::new, |mm| format!("the rest of the table would have {}", len.long(mm)));
                    format!("{expected}{}", fair.likely())
                }),
                "settled": cell.settled,
            }));
        }
    }
    all
}

async fn table(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let text = view.texts.get(FileName::Offsets).unwrap_or_default();
    let lines = offsets::cells(text);
    let wide = lines.iter().map(|l| l.1.len()).max().unwrap_or(0);
    let head = lines.first().map(|l| l.1.clone()).unwrap_or_default();
    let body = html! {
        p.lead {
            "Type or paste in any notation: 1-3-4+, 15 1/2 in, 394 mm. Under a number stands where the fair line passes, if that is "
            "elsewhere; in copper, what looks wrong. Enter keeps a number and goes down; a block copied from a spreadsheet goes in "
            "from the cell you paste it into."
        }
        div #remarks role="status" aria-live="polite" {}
        div.scroll tabindex="0" role="region" aria-label="Table of offsets" {
            table #grid.grid {
                @for (i, (line, cells)) in lines.iter().enumerate() {
                    tr {
                        @for column in 0..wide {
                            (cell(i, column, *line, cells, &head, wide))
                        }
                    }
                }
            }
        }
        @if lines.is_empty() { p { "There is no table yet, or a quotation mark in it is not closed: " a href="/files/offsets.csv" { "offsets.csv" } "." } }
        p { a href="/plan-picture" { "Read offsets off a picture of her plan" } ", to begin a table or to fill it up." }
        noscript { p { "Without its script this page only shows the table: change it in " a href="/files/offsets.csv" { "offsets.csv" } "." } }
    };
    frame::page(&shed, &view, "/table", "Table of offsets", &["table.js"], &body)
}

fn cell(i: usize, column: usize, line: usize, cells: &[String], head: &[String], wide: usize) -> Markup {
    let text = cells.get(column).map_or("", String::as_str);
    let name = match (i, column) {
        (0, 0) => "what the rows are".to_owned(),
        (0, _) => format!("station or row {column}"),
        (_, 0) => format!("name of line {line}"),
        _ => format!("{}, {}", cells.first().map_or("", String::as_str), head.get(column).map_or("", String::as_str)),
    };
    let input = html! {
        input type="text" value=(text) data-line=(line) data-cell=(column + 1) aria-label=(name) autocomplete="off" spellcheck="false"
            size=(if column == 0 { 22 } else { (60 / wide.max(1)).clamp(7, 10) });
        span.remark {}
    };
    html! { @if i == 0 || column == 0 { th scope=(if i == 0 { "col" } else { "row" }) { (input) } } @else { td { (input) } } }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::shed_for_tests;

    #[test]
    fn too_many_cells_at_once_are_refused_and_not_left_out() {
        let view = shed_for_tests().desk.view();
        let typed = |count| vec![Typed { line: 2, cell: 2, text: "1-0-0".to_owned() }; count];
        assert!(edited(&view, &typed(MOST)).is_ok());
        let why = edited(&view, &typed(MOST + 1)).unwrap_err();
        assert!(why.starts_with("20001 cells at once, and 20000 is the most"), "{why}");
    }
}
