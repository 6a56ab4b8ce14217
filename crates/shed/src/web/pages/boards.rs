//! The rack, and which plank comes out of which board: begun, looked on at and stopped here.

use super::planks_on_boards::drawn;
use crate::said::{boards_cut, count, leaf_name, longest_of, places, size, strakes};
use crate::web::desk::View;
use crate::web::laying::{Done, Going, Laying, Look};
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use boat::paper::{PaperSize, book};
use boat::plan::Plan;
use boat::sawing::{self, RESAW};
use boat::stock::Board;
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/boards", get(boards))
        .route("/boards/now", get(now))
        .route("/boards/start", post(start))
        .route("/boards/stop", post(stop))
        .route("/boards.pdf", get(pdf))
}

async fn boards(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let rack = view.input.as_ref().map(|input| &input.boards[..]).unwrap_or_default();
    let body = html! {
        @if rack.is_empty() {
            p.lead {
                "There is no rack yet. List your boards in " a href="/files/boards.csv" { "boards.csv" } ", one to a line: name, length, "
                "width and thickness, and if you like wood, sapwood, knots and faults. Then her planks can be laid out on them here."
            }
            p { "It begins like this:" }
            pre { "board,length,width,thickness\nA1,4200 mm,220 mm,12 mm" }
        } @else {
            p.lead {
                "Her planks, port and starboard, are laid out on your boards so that little is cut: with room for the saw and the plane, "
                "clear of faults, knots only where they do no harm."
            }
            div #layout { (laid_out(&shed.laying.look(&view), &view)) }
            h2 { "The rack" }
            p { (count(rack.len(), "board", "boards")) ", to be changed in " a href="/files/boards.csv" { "boards.csv" } "." }
            @if let Some(plan) = &view.plan { (list(plan, rack)) }
        }
    };
    frame::page(&shed, &view, "/boards", "Boards", &["boards.js"], &body)
}

/// What changes while a search goes on, to be put in place of what was there.
async fn now(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    laid_out(&shed.laying.look(&view), &view)
}

async fn start(State(shed): State<Shared>) -> Response {
    match Laying::start(&shed) {
        Ok(()) => Redirect::to("/boards").into_response(),
        Err(why) => (StatusCode::CONFLICT, why).into_response(),
    }
}

async fn stop(State(shed): State<Shared>) -> Redirect {
    shed.laying.stop();
    Redirect::to("/boards")
}

async fn pdf(State(shed): State<Shared>) -> Response {
    let written = tokio::task::spawn_blocking(move || {
        let done = shed.laying.look(&shed.desk.view()).done?;
        let plan = &done.suited.plan;
        let sheets = book::sawing_sheets(&shed.desk.t, plan, &done.boards, &done.suited, PaperSize::A4);
        let title = format!("{}: boards", plan.spec.name);
        book::write_titled(&shed.desk.t, &title, "Which plank comes out of which board", &sheets).ok()
    })
    .await;
    match written {
        Ok(Some(bytes)) => {
            let name = "inline; filename=\"boards.pdf\"";
            ([(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, name)], bytes).into_response()
        }
        _ => (StatusCode::NOT_FOUND, "she has not been laid out on these boards").into_response(),
    }
}

/// The two parts that the script puts in place: what can be asked for, and what is there.
fn laid_out(look: &Look, view: &View) -> Markup {
    let can = view.trouble.is_none() && view.plan.is_some();
    html! {
        div #asking data-tick=(look.tick) {
            @if look.going.is_some() {
                form.row method="post" action="/boards/stop" { button type="submit" { "Good enough, stop" } }
                noscript { p { "Load this page again to see how far it has come." } }
            } @else if can {
                form.row method="post" action="/boards/start" {
                    button type="submit" { @if look.done.is_some() { "Look for a better layout" } @else { "Lay her out" } }
                    @if look.done.is_some() { a.button href="/boards.pdf" { "The boards as drawn, PDF" } }
                }
                @if let Some(why) = &look.why { p role="status" { (why) } }
            } @else {
                p { "No plan comes of her files as they are, so there is nothing to lay out." }
            }
        }
        div #seen {
            @match (&look.going, &look.done) {
                (Some(going), _) => (seen(going, view)),
                (None, Some(done)) => (answer(done)),
                (None, None) => {}
            }
        }
    }
}

/// The best so far.
fn seen(going: &Going, view: &View) -> Markup {
    let boards = view.input.as_ref().map(|input| &input.boards[..]).unwrap_or_default();
    html! {
        p.quiet { "Looking for " (going.began.elapsed().as_secs()) " s, " (count(going.rounds, "round", "rounds")) "." }
        @if let (Some(seen), Some(plan)) = (&going.seen, &view.plan) {
            (figures(seen.share, boards_cut(&seen.boards), seen.without, seen.apart))
            (drawn(&seen.boards, boards, plan.spec.lengths))
        }
    }
}

fn figures(share: f64, cut: usize, without: usize, apart: usize) -> Markup {
    html! {
        dl.figures {
            div { dt { "Of what is cut becomes plank" } dd #share { (format!("{:.1} %", 100.0 * share)) } }
            div { dt { "Boards cut" } dd #cut { (cut) } }
            div { dt { "Planks and parts without room" } dd #without { (without) } }
            div { dt { "Pairs out of two boards" } dd #apart { (apart) } }
        }
    }
}

/// The answer, and what to do with it.
fn answer(done: &Done) -> Markup {
    let (plan, found) = (&done.suited.plan, &done.suited.sawing);
    let lengths = plan.spec.lengths;
    let share = if found.cut_area > 0.0 { found.laid_area / found.cut_area } else { 0.0 };
    let without: usize = found.short.iter().map(|s| s.count).sum();
    let resawn = found.boards.iter().any(|s| s.leaf[1] > 1);
    html! {
        p.quiet {
            @if done.stopped { "Stopped after " } @else { "Good enough after " } (format!("{:.0}", done.took.as_secs_f64().max(1.0))) " s"
            @if done.stopped { ": this is the best so far." }
            @else { "; the same as " code { "strakewise boards" @if done.seed > 1 { " --seed " (done.seed) } } "." }
        }
        (figures(share, boards_cut(&found.boards), without, found.apart))
        @if without > 0 { (to_buy(done)) }
        (drawn(&found.boards, &done.boards, lengths))
        @if resawn {
            p { "Boards in leaves are sawn through their thickness first. " (RESAW) }
            @if !found.spare.is_empty() {
                p { "Whole leaves over: " (found.spare.iter().map(|(i, leaf)| leaf_name(&done.boards[*i].name, *leaf)).collect::<Vec<_>>().join(", ")) "." }
            }
        }
        @if found.apart > 0 { p { "Where port and starboard come out of two boards, look for wood alike." } }
        @if !found.whole.is_empty() { p { "Stay whole: " (names(&found.whole, &done.boards)) "." } }
        @if !found.thin.is_empty() { p { "Thinner than the planking, left out: " (names(&found.thin, &done.boards)) "." } }
        @if !done.suited.parted.is_empty() {
            h2 { "Scarfs that suit these boards better" }
            ul {
                @for p in &done.suited.parted {
                    li {
                        "Strake " (p.strake) ": " (places(lengths, &p.scarfs[1])) " aft of the first station (planned: "
                        (places(lengths, &p.scarfs[0])) ")"
                    }
                }
            }
            p { "To have them everywhere, write into " a href="/files/boat.toml" { "boat.toml" } " under [scarfs]:" }
            pre { (longest_of(plan)) }
        }
    }
}

fn names(which: &[usize], boards: &[Board]) -> String {
    which.iter().map(|i| boards[*i].name.as_str()).collect::<Vec<_>>().join(", ")
}

/// What found no room, and what to buy for it.
fn to_buy(done: &Done) -> Markup {
    let (found, lengths) = (&done.suited.sawing, done.suited.plan.spec.lengths);
    html! {
        h2 { "To buy" }
        p { "For what found no room, a board each, planed and at least:" }
        ul #buy {
            @for b in &found.buy {
                li {
                    (b.count) " of " (size(lengths, b.size)) ", " (lengths.said_fine(b.thickness)) " thick, for " (strakes(&b.pieces))
                }
            }
        }
        @if let Some(more) = found.more { p { "Or " (more.count) " more like " (done.boards[more.like].name) "." } }
    }
}

/// The boards as they stand in the list.
fn list(plan: &Plan, rack: &[Board]) -> Markup {
    let len = plan.spec.lengths;
    html! {
        div.scroll tabindex="0" role="region" aria-label="The rack" {
            table {
                thead { tr {
                    th scope="col" { "board" } th scope="col" { "long" } th scope="col" { "wide, least" } th scope="col" { "thick" }
                    th scope="col" { "leaves" } th scope="col" { "knots" } th scope="col" { "faults" } th scope="col" { "wood" }
                } }
                tbody {
                    @for b in rack {
                        @let sound = b.spoilt.iter().filter(|s| s.sound).count();
                        @let leaves = sawing::leaves(b, &plan.spec);
                        tr {
                            th scope="row" { (b.name) }
                            td { (len.said(b.length)) } td { (len.said(b.width)) } td { (len.said_fine(b.thickness)) }
                            td { @if leaves == 0 { "too thin" } @else { (leaves) } }
                            td { (sound) } td { (b.spoilt.len() - sound) } td { (b.wood) }
                        }
                    }
                }
            }
        }
    }
}
