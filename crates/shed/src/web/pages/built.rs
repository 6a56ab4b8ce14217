//! Planned against built: what was read on each side, what comes of it, and the planks to come as she stands now.

use super::patterns::{drawn, file};
use super::sheets::of_strake;
use crate::record::done_so_far;
use crate::said::signed;
use crate::web::entries::trouble;
use crate::web::frame::{refusal, worked};
use crate::web::stands::{OfSide, Stands, stands};
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::hung::{BuiltMark, Judged, Side, Standing};
use boat::jobs::jobs;
use boat::paper::book::{self, Built};
use boat::paper::patterns::{Pattern, write_tiles};
use boat::paper::{PaperSize, write_svg};
use boat::units::Notation;
use maud::{Markup, html};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/built", get(built))
        .route("/built/record.pdf", get(record))
        .route("/built/{side}/{strake}", get(strake))
        .route("/built/{side}/{strake}/plank.pdf", get(plank))
        .route("/built/{side}/sheets/{page}", get(sheet))
}

/// She as she stands, or the answer for where she cannot be seen.
async fn standing(shed: &Shared) -> Result<Arc<Stands>, Response> {
    let shed = Arc::clone(shed);
    match worked(move || Ok(stands(&shed))).await {
        Ok(Ok(Some(stands))) => Ok(stands),
        Ok(Ok(None)) => Err((StatusCode::NOT_FOUND, "there is no plan of her yet").into_response()),
        Ok(Err(why)) => Err(trouble(&why)),
        Err(why) => Err(refusal(&why)),
    }
}

fn side_of(word: &str) -> Option<usize> {
    Side::BOTH.iter().position(|s| s.word() == word)
}

async fn built(State(shed): State<Shared>) -> Response {
    let view = shed.desk.view();
    let body = match standing(&shed).await {
        Ok(stands) => html! {
            p.lead data-record=(stands.seq) {
                "What the tape read at the boat, against the marks. The strakes to come are lined again on what hangs, with as little \
                 change as may be; their cards and patterns are for the boat that stands there."
            }
            p { a.button href="/built/record.pdf" { "The record of the build, PDF" } }
            @for (side, of) in Side::BOTH.iter().zip(&stands.sides) { (one_side(*side, of)) }
            (apart(&stands))
        },
        Err(_) if view.plan.is_none() => html! { p.quiet { "There is no plan of her yet." } },
        Err(answer) => return answer,
    };
    frame::page(&shed, &view, "/built", "Planned against built", &["record.js"], &body).into_response()
}

fn one_side(side: Side, of: &OfSide) -> Markup {
    let lengths = of.plan.spec.lengths;
    let strakes = of.plan.strakes.len();
    html! {
        section aria-label=(side.word()) {
            h2 { (if side == Side::Port { "Port" } else { "Starboard" }) }
            @if let Some(why) = &of.trouble { div.trouble role="alert" { (why) } }
            @if let Some(standing) = &of.standing {
                p { "Strake " (standing.hung) " of " (strakes) " hangs. " (standing.forecast.said(&of.plan, lengths, 0.0)) }
                @if !standing.again.is_empty() {
                    h3 { "To be read again" }
                    ul { @for doubt in &standing.again { li { (doubt.said(lengths)) } } }
                }
                (table(side, of, standing, lengths))
                (reasons(of, standing, lengths))
                (to_come(side, of, standing, lengths))
            } @else if of.trouble.is_none() {
                p.quiet { "Nothing has been read on this side: she is as planned." }
            }
        }
    }
}

/// How far each hung strake lies off where it was to be.
fn table(side: Side, of: &OfSide, standing: &Standing, lengths: Notation) -> Markup {
    let at = |strake: usize, section: usize| {
        standing.marks.iter().find(|m| m.strake == strake && m.section == section && m.read)
    };
    html! {
        h3 { "Off the mark, " (lengths.unit()) }
        div.scroll tabindex="0" role="region" aria-label={ "Off the mark, " (side.word()) } {
            table {
                thead { tr { th scope="col" { "strake" } @for s in &of.plan.sections { th scope="col" { (s.name) } } } }
                tbody {
                    @for strake in (1..=standing.hung).rev() {
                        tr {
                            th scope="row" { (strake) }
                            @for section in 0..of.plan.sections.len() {
                                @match at(strake, section) { Some(mark) => (cell(mark, lengths)), None => td.num { "\u{2013}" } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn cell(mark: &BuiltMark, lengths: Notation) -> Markup {
    let sees = match mark.judged {
        Judged::Fine => "",
        Judged::Watch => " ?",
        Judged::Matters => " !",
    };
    html! { td.num data-judged=(mark.judged.word()) { (signed(lengths, mark.built - mark.mark)) (sees) } }
}

/// Why places are not fine, each reason once with its places, those that matter first.
fn reasons(of: &OfSide, standing: &Standing, lengths: Notation) -> Markup {
    let mut reasons: BTreeMap<(Reverse<Judged>, String), Vec<String>> = BTreeMap::new();
    for mark in standing.marks.iter().filter(|m| m.read) {
        let Some(why) = mark.why else { continue };
        let place = of.plan.sections.get(mark.section).map_or_else(String::new, |s| s.place());
        let places = reasons.entry((Reverse(mark.judged), why.said(lengths))).or_default();
        if !places.contains(&place) {
            places.push(place);
        }
    }
    html! {
        @if !reasons.is_empty() {
            ul.reasons {
                @for ((Reverse(judged), why), places) in &reasons {
                    li data-judged=(judged.word()) { (if *judged == Judged::Matters { "! " } else { "? " }) (why) ", at " (places.join(", ")) }
                }
            }
        }
    }
}

/// What each strake to come gives up or gains.
fn to_come(side: Side, of: &OfSide, standing: &Standing, lengths: Notation) -> Markup {
    if standing.forecast.strakes.is_empty() {
        return html! {};
    }
    html! {
        h3 { "The strakes to come" }
        div.scroll tabindex="0" role="region" aria-label={ "The strakes to come, " (side.word()) } {
            table {
                thead { tr { th scope="col" { "strake" } th scope="col" { "changes most" } th scope="col" { "at" } th scope="col" { "her card and pattern" } } }
                tbody {
                    @for gives in &standing.forecast.strakes {
                        @let (section, by) = gives.most().unwrap_or_default();
                        tr {
                            th scope="row" { (gives.strake) }
                            td.num {
                                @if lengths.fine(by.abs()) == lengths.fine(0.0) { "as planned" }
                                @else if by < 0.0 { "shows " (lengths.said_fine(-by)) " less" }
                                @else { "shows " (lengths.said_fine(by)) " more" }
                            }
                            td { (of.plan.sections.get(section).map_or_else(String::new, |s| s.place())) }
                            td {
                                a.button href={ "/built/" (side.word()) "/" (gives.strake) } { "Strake " (gives.strake) ", " (side.word()) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// How the two sides differ, where both were read.
fn apart(stands: &Stands) -> Markup {
    let [Some(port), Some(starboard)] = [0, 1].map(|i| stands.sides[i].standing.as_ref()) else { return html! {} };
    let plan = &stands.sides[0].plan;
    let lengths = plan.spec.lengths;
    let pairs: Vec<(&BuiltMark, f64)> = port
        .marks
        .iter()
        .filter(|m| m.read)
        .filter_map(|m| {
            let other = starboard.marks.iter().find(|o| o.read && (o.strake, o.section) == (m.strake, m.section))?;
            Some((m, m.built - other.built))
        })
        .collect();
    let worst = pairs.iter().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let Some((mark, by)) = worst else { return html! {} };
    html! {
        h2 { "Port against starboard" }
        p {
            (pairs.len()) " places were read on both sides. They differ most on strake " (mark.strake) " at "
            (plan.sections.get(mark.section).map_or_else(String::new, |s| s.place())) ": port stands " (lengths.said_fine(by.abs()))
            @if *by < 0.0 { " lower." } @else { " higher." }
        }
    }
}

async fn strake(State(shed): State<Shared>, Path((word, strake)): Path<(String, usize)>) -> Response {
    let stands = match standing(&shed).await {
        Ok(stands) => stands,
        Err(answer) => return answer,
    };
    let Some(side) = side_of(&word).filter(|&i| (1..=stands.sides[i].plan.strakes.len()).contains(&strake)) else {
        return (StatusCode::NOT_FOUND, "she has no such strake").into_response();
    };
    let (drawn, of) = (Arc::clone(&shed), Arc::clone(&stands));
    let titles: Vec<String> = tokio::task::spawn_blocking(move || {
        of.sides[side].book(&drawn.desk.t).iter().map(|s| s.title.clone()).collect()
    })
    .await
    .unwrap_or_default();
    let view = shed.desk.view();
    let body = html! {
        p data-record=(stands.seq) { "As she stands with strake " (stands.sides[side].hung()) " hung." }
        nav.leaf aria-label="This plank" {
            a.button href="/built" { "Planned against built" }
            a.button href={ "/built/" (word) "/" (strake) "/plank.pdf" } { "Full size, PDF" }
        }
        @for (i, title) in titles.iter().enumerate().filter(|(_, t)| of_strake(t, strake)) {
            figure.leaf {
                img src={ "/built/" (word) "/sheets/" (i + 1) "?" (stands.revision) "." (stands.seq) } alt=(title) loading="lazy";
            }
        }
    };
    let title = format!("Strake {strake}, {word}, as she stands");
    frame::page(&shed, &view, "/built", &title, &["record.js"], &body).into_response()
}

/// The pages of the book that say what has been built.
async fn record(State(shed): State<Shared>) -> Response {
    let stands = match standing(&shed).await {
        Ok(stands) => stands,
        Err(answer) => return answer,
    };
    let pdf = drawn(move || {
        let (t, plan) = (&shed.desk.t, shed.desk.view().plan.clone()?);
        let built = Built {
            sides: stands.sides.each_ref().map(|s| s.standing.as_ref()),
            worked: done_so_far(&stands.counts, &jobs(&plan, &[])),
        };
        let sheets = book::built_sheets(t, &plan, &built, PaperSize::A4);
        let title = format!("{}: record of the build", plan.spec.name);
        book::write_titled(t, &title, "Planned against built, and what was done", &sheets).ok()
    })
    .await;
    pdf.map_or_else(
        || (StatusCode::NOT_FOUND, "there is no record to print").into_response(),
        |pdf| file("record-of-the-build.pdf", "application/pdf", pdf),
    )
}

async fn sheet(State(shed): State<Shared>, Path((word, page)): Path<(String, usize)>) -> Response {
    let stands = match standing(&shed).await {
        Ok(stands) => stands,
        Err(answer) => return answer,
    };
    let drawn = tokio::task::spawn_blocking(move || {
        let sheet = stands.sides[side_of(&word)?].book(&shed.desk.t).get(page.checked_sub(1)?)?;
        Some(write_svg(&shed.desk.t, sheet))
    })
    .await;
    match drawn {
        Ok(Some(svg)) => ([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        _ => (StatusCode::NOT_FOUND, "there is no such sheet").into_response(),
    }
}

async fn plank(State(shed): State<Shared>, Path((word, strake)): Path<(String, usize)>) -> Response {
    let stands = match standing(&shed).await {
        Ok(stands) => stands,
        Err(answer) => return answer,
    };
    let name = format!("strake-{strake}-{word}.pdf");
    let pdf = drawn(move || {
        let of = &stands.sides[side_of(&word)?];
        let own = |p: &&Pattern| of_strake(&p.name, strake);
        let planks: Vec<Pattern> = of.planks(&shed.desk.t).iter().filter(own).cloned().collect();
        if planks.is_empty() { None } else { write_tiles(&shed.desk.t, &of.plan, &planks, PaperSize::A4).ok() }
    })
    .await;
    pdf.map_or_else(
        || (StatusCode::NOT_FOUND, "there is no such plank").into_response(),
        |pdf| file(&name, "application/pdf", pdf),
    )
}
