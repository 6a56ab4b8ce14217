//! Her lines plan: profile over half-breadth, body plan beside them, and combs that show how each line bends.

use super::sheets::figures;
use crate::web::numbers::{mm, xyz};
use crate::web::{Shared, frame, sheets_of};
use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use boat::lines::fairness::{Comb, Spot, View};
use boat::lines::{Section, SectionAt};
use boat::offsets::{RowKind, StationAt};
use boat::plan::Plan;
use boat::spec::EndSpec;
use maud::{Markup, html};
use serde_json::{Value, json};

pub fn routes() -> Router<Shared> {
    Router::new().route("/lines", get(page)).route("/lines.json", get(numbers))
}

/// Pages of the book that show the same on paper.
fn on_paper(title: &str) -> bool {
    title == "Lines and lands"
        || title == "Body plan"
        || title.starts_with("Fairness")
        || title.starts_with("How the lands look")
}

async fn page(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let diagonals = view.plan.as_ref().is_some_and(|p| p.fairness.combs.iter().any(|c| c.view == View::Diagonals));
    let lines: Vec<&str> = view.plan.iter().flat_map(|p| &p.fairness.combs).map(|c| c.line.as_str()).collect();
    let titles = sheets_of(&shed, &view).await;
    let paper = figures(&shed, &view, |t| t == "Lines and lands" || t == "Body plan").await;
    let body = html! {
        p.lead {
            "As faired, to the face of the planking that her plan was drawn to. A comb's teeth stand square on a line, on its outer side, and are the longer "
            "the harder it bends: where they swell and shrink evenly, the line is fair."
        }
        div.row.above role="group" aria-label="What is drawn" {
            (switch("comb-profile", "Combs on the profile"))
            (switch("comb-half-breadth", "Combs on the half-breadth plan"))
            @if diagonals { (switch("comb-diagonals", "Combs on the diagonals")) }
            (switch("comb-body", "Combs on the body plan"))
            (switch("show-lands", "Lands"))
        }
        div #lines.sheet {}
        div.row.choices {
            div {
                label for="line" { "Look at one line" }
                select #line { option value="" { "none" } @for (i, line) in lines.iter().enumerate() { option value=(i) { (line) } } }
            }
            div.grow { label for="teeth" { "Length of the teeth" } input #teeth type="range" min="0.25" max="3" step="0.05" value="1"; }
        }
        p #line-said role="status" {}
        noscript { (paper) }
        h2 { "On paper" }
        ul.contents {
            @for (i, title) in titles.iter().enumerate().filter(|(_, t)| on_paper(t)) {
                li { a href={ "/book/" (i + 1) } { (title) ", page " (i + 1) } }
            }
        }
    };
    frame::page(&shed, &view, "/lines", "Lines", &["lines.js"], &body)
}

fn switch(id: &str, words: &str) -> Markup {
    html! { span.one { input id=(id) type="checkbox"; label for=(id) { (words) } } }
}

async fn numbers(State(shed): State<Shared>) -> Json<Value> {
    let view = shed.desk.view();
    Json(view.plan.as_ref().map_or(Value::Null, |plan| of(plan, view.revision)))
}

/// The lines plan: points in their own view, mm; curvatures in 1/m.
fn of(plan: &Plan, revision: u64) -> Value {
    let len = plan.spec.lengths;
    let stations: Vec<Value> = plan
        .table
        .stations
        .iter()
        .filter_map(|s| match s.at {
            StationAt::Square(x) => Some(json!({ "name": s.name, "x": mm(x) })),
            StationAt::Transom | StationAt::BowTransom => None,
        })
        .collect();
    let level = |v: f64| json!({ "at": mm(v), "said": len.short(v) });
    let rows = || plan.table.rows.iter().map(|r| &r.kind);
    let waterlines: Vec<Value> = rows()
        .filter_map(|k| if let RowKind::HalfBreadthWaterline(z) = k { Some(level(*z)) } else { None })
        .collect();
    let buttocks: Vec<Value> =
        rows().filter_map(|k| if let RowKind::HeightButtock(y) = k { Some(level(*y)) } else { None }).collect();
    let diagonals: Vec<Value> = plan
        .spec
        .lines
        .diagonals
        .iter()
        .map(|d| json!({ "name": d.name, "height": mm(d.height), "slope": d.below_level.tan() }))
        .collect();
    let fullest = boat::lines::fullest(&plan.sections);
    let lines: Vec<Value> = plan.fairness.combs.iter().map(|c| line(c, plan, fullest)).collect();
    json!({
        "revision": revision, "stations": stations, "waterlines": waterlines, "buttocks": buttocks, "diagonals": diagonals,
        "lines": lines, "ends": [end(&plan.spec.fore, plan.sections.first()), end(&plan.spec.aft, plan.sections.last())],
        "lands": plan.lands.iter().map(|l| l.points.iter().map(xyz).collect::<Vec<_>>()).collect::<Vec<_>>(),
        "fullest": plan.sections.get(fullest).and_then(|s| s.points.first()).map(|p| mm(p.x)),
    })
}

/// Rabbet or transom in profile.
fn end(spec: &EndSpec, section: Option<&Section>) -> Vec<Value> {
    match (spec, section) {
        (EndSpec::Transom(t), _) => vec![json!(t.foot.map(mm)), json!(t.head.map(mm))],
        (EndSpec::Post(_), Some(section)) => section.points.iter().map(|p| json!([mm(p.x), mm(p.z)])).collect(),
        (EndSpec::Post(p), None) => p.rabbet.iter().map(|p| json!(p.map(mm))).collect(),
    }
}

fn line(comb: &Comb, plan: &Plan, fullest: usize) -> Value {
    let len = plan.spec.lengths;
    let of = plan.sections.iter().position(|s| s.place() == comb.line);
    let fore = of.is_some_and(|j| j <= fullest && plan.sections[j].at != SectionAt::Transom);
    let spot = |s: &Spot| json!({ "at": s.at.map(mm), "place": s.place.words(len) });
    let row = plan.table.rows.iter().find(|r| r.name == comb.line).map(|r| &r.kind);
    let edge = matches!(
        row,
        Some(RowKind::HeightSheer | RowKind::HeightRabbet | RowKind::HalfBreadthSheer | RowKind::HalfBreadthRabbet)
    );
    json!({
        "name": comb.line, "view": comb.view.word(), "fore": fore, "edge": edge,
        "teeth": comb.teeth.iter().map(|t| json!([mm(t.at[0]), mm(t.at[1]), (t.curvature * 1e7).round() / 1e4])).collect::<Vec<_>>(),
        "turns": comb.after.iter().map(spot).collect::<Vec<_>>(),
        "hardest": comb.hardest.as_ref().map(|h| json!({ "radius": len.said(h.radius.round()), "spot": spot(&h.spot) })),
    })
}
