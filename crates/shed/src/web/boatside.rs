//! At the boat: a page for a phone, one number at a time, and all numbers for it at once, so that it goes on while it is out of
//! reach of the program.

use super::Shared;
use super::entries::trouble;
use super::frame::{head, refusal, worked};
use super::stands::{OfSide, Stands, off, stands};
use axum::Json;
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::hung::{BuiltMark, Side};
use boat::jobs::{Job, Number, Step, Task, ToBe, jobs};
use boat::plan::Plan;
use boat::planks::StrakeAt;
use boat::units::Notation;
use maud::{DOCTYPE, Markup, html};
use serde_json::{Map, Value, json};

pub fn routes() -> Router<Shared> {
    Router::new().route("/boat", get(boat)).route("/boat/now", get(now))
}

/// The sheer has to be further off than this to be told on the way, mm.
const TOLD: f64 = 1.0;

async fn now(State(shed): State<Shared>) -> Response {
    let found = worked(move || Ok(stands(&shed).map(|found| found.map(|now| said(&now)))));
    match found.await {
        Ok(Ok(Some(now))) => Json(now).into_response(),
        Ok(Ok(None)) => (StatusCode::NOT_FOUND, "there is no plan of her yet").into_response(),
        Ok(Err(why)) => trouble(&why),
        Err(why) => refusal(&why),
    }
}

/// All that the page needs.
fn said(now: &Stands) -> Value {
    let [port, starboard] = &now.sides;
    let (name, lengths) = (&port.plan.spec.name, port.plan.spec.lengths);
    // Two sides that are alike are told once.
    let alike = [port, starboard].iter().all(|s| s.standing.is_none() && s.trouble.is_none());
    let entries: Vec<&crate::record::Entry> = now.counts.iter().map(|s| &s.entry).collect();
    json!({
        "boat": name, "record": now.record, "revision": now.revision, "seq": now.seq, "unit": lengths.unit(),
        "sides": { "port": side(port, lengths), "starboard": if alike { Value::Null } else { side(starboard, lengths) } },
        "entries": entries,
    })
}

fn side(of: &OfSide, lengths: Notation) -> Value {
    let (mut marks, mut again) = (Map::new(), Map::new());
    let mut forecast = String::new();
    if let Some(standing) = &of.standing {
        let section = |i: usize| of.plan.sections.get(i).map_or("", |s| s.name.as_str());
        for mark in standing.marks.iter().filter(|m| m.read) {
            let key = format!("{}/{}", mark.strake, section(mark.section));
            let why = mark.why.map_or_else(String::new, |why| why.said(lengths));
            let lies = lies(mark, &of.plan, lengths);
            marks.insert(key, json!({ "lies": lies, "judged": mark.judged.word(), "why": why }));
        }
        for doubt in &standing.again {
            again.insert(format!("{}/{}", doubt.reading.strake, doubt.reading.section), json!(doubt.said(lengths)));
        }
        forecast = standing.forecast.said(&of.plan, lengths, TOLD);
    }
    let marks_hung = of.standing.iter().flat_map(|s| &s.marks);
    let hung: Vec<ToBe> = marks_hung.map(to_be).collect();
    let jobs: Vec<Value> = jobs(&of.plan, &hung).iter().map(|j| job(j, lengths)).collect();
    json!({ "jobs": jobs, "hung": of.hung(), "trouble": of.trouble, "forecast": forecast, "marks": marks, "again": again })
}

fn to_be(mark: &BuiltMark) -> ToBe {
    let BuiltMark { strake, section, mark, height, width, read, .. } = *mark;
    ToBe { strake, section, width, mark, height, read }
}

/// What was planned of a width and what came of it: `Planned 3 11/16 in, hangs at 3 27/32 in, 5/32 in above its mark`.
fn lies(mark: &BuiltMark, plan: &Plan, lengths: Notation) -> String {
    let at = plan.strakes.get(mark.strake - 1).and_then(|s| s.at.iter().find(|a| a.section == mark.section));
    let off = off(mark, lengths);
    let said = |number: Number| number.shown(lengths).join(" ");
    let hangs = |at: &StrakeAt| {
        format!("Planned {}, hangs at {}, {off}", said(Number::Width(mark.width)), said(Number::Small(at.width)))
    };
    at.map_or_else(|| off.clone(), hangs)
}

fn job(job: &Job, lengths: Notation) -> Value {
    let counted = matches!(job.task, Task::Rivet | Task::Waiting);
    json!({
        "key": format!("{}-{}", job.task.word(), job.of), "task": job.task.word(), "of": job.of, "title": job.title, "how": job.how,
        "steps": job.steps.iter().map(|s| step(s, counted, lengths)).collect::<Vec<_>>(),
    })
}

fn step(step: &Step, counted: bool, lengths: Notation) -> Value {
    let [shown, unit] = step.number.shown(lengths);
    let also = |(what, number): &(String, Number)| {
        let [shown, unit] = number.shown(lengths);
        json!([what, format!("{shown} {unit}").trim_end().replace(" \u{b0}", "\u{b0}")])
    };
    let count = match step.number {
        Number::Count(n) if counted => Some(n),
        _ => None,
    };
    json!({
        "place": step.place, "section": step.section, "strake": step.strake, "shown": shown, "unit": unit,
        "spoken": step.number.spoken(lengths), "from": step.from, "also": step.also.iter().map(also).collect::<Vec<_>>(),
        "mark": step.mark, "count": count,
    })
}

async fn boat(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let (name, lengths) =
        view.plan.as_ref().map_or(("no boat yet", Notation::Mm), |p| (p.spec.name.as_str(), p.spec.lengths));
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            (head(&format!("At the boat \u{2013} {name}"), &["boat.js"]))
            body.at-boat data-unit=(lengths.unit()) data-feet[lengths == Notation::FeetInchesEighths] {
                header {
                    button #list type="button" { "Jobs" }
                    div role="group" aria-label="Side" {
                        @for side in Side::BOTH {
                            button id=(side.word()) type="button" aria-pressed="false" { (if side == Side::Port { "Port" } else { "Starboard" }) }
                        }
                    }
                    button #settings type="button" aria-label="How it speaks and asks" { "Set" }
                }
                p #state role="status" aria-live="polite" {}
                main #main {
                    h1 { span #title { "At the boat" } small #count {} }
                    p #place {}
                    p #number { span #value { "\u{2013}" } " " span #unit {} }
                    p #from {}
                    div.acts {
                        button #read type="button" hidden { "Put in what the tape reads" }
                        button #back-out type="button" hidden { "Take it back" }
                        button #done type="button" aria-pressed="false" hidden { "Done here" }
                        button #out type="button" aria-pressed="false" hidden { "The mould is out" }
                    }
                    div.acts #rivets role="group" aria-label="How many are done" hidden {
                        span #so-far {}
                        button #one-less type="button" aria-label="One less" { "\u{2212}1" }
                        button #one-more type="button" aria-label="One more" { "+1" }
                        button #ten-more type="button" aria-label="Ten more" { "+10" }
                        button #all-of-them type="button" { "All" }
                    }
                    p #told role="status" aria-live="polite" {}
                    p #other {}
                    div.acts {
                        button #say type="button" hidden { "Say it" }
                        button #read-out type="button" aria-pressed="false" { "Read them out" }
                    }
                    dl #also {}
                    p.quiet #how {}
                }
                nav.turns aria-label="Numbers" {
                    button #back type="button" { "Back" }
                    button #next type="button" { "Next" }
                }
                (reading())
                (dialogs())
            }
        }
    }
}

/// The keypad.
fn reading() -> Markup {
    html! {
        dialog #reading aria-labelledby="reading-of" {
            p #reading-of {}
            div #entry {
                div.acts #kinds role="group" aria-label="What is measured" {
                    @for (what, name) in [("width", "Width"), ("from the mark", "Off the mark"), ("height", "Height")] {
                        button type="button" value=(what) aria-pressed="false" { (name) }
                    }
                }
                div.acts #signs role="group" aria-label="Which way off the mark" {
                    button #above type="button" aria-pressed="true" { "+ above" }
                    button #below type="button" aria-pressed="false" { "\u{2212} below" }
                }
                p #typed-line { span #typed role="status" { "\u{2013}" } " " span #typed-unit {} }
                div #pad {}
                button #feet type="button" aria-label="What is typed are feet" hidden { "ft" }
                button #take type="button" disabled { "Take it" }
            }
            div #right hidden {
                p #right-said role="status" {}
                div.acts { button #yes type="button" { "Yes, take it" } button #no type="button" { "No, again" } }
            }
            button type="button" data-closes { "Close" }
        }
    }
}

fn dialogs() -> Markup {
    html! {
        dialog #jobs aria-label="All jobs" {
            div.acts { button #hours type="button" { "Put down hours" } button type="button" data-closes { "Close" } }
            div #all-jobs {}
        }
        dialog #set aria-label="How it speaks and asks" {
            p { label { input #set-say type="checkbox"; " Say each number as I turn to it" } }
            p { label { input #set-twice type="checkbox"; " Double check: ask back what I put in" } }
            p {
                label for="set-pause" { "Time to walk when numbers are read out " }
                select #set-pause { @for s in [5, 10, 20, 30] { option value=(s) { (s) " seconds" } } }
            }
            button type="button" data-closes { "Close" }
        }
        dialog #worked aria-label="Hours worked" {
            p #hours-of {}
            p {
                label for="hours-what" { "On " }
                select #hours-what {
                    @for (what, name) in [("strake", "this strake"), ("timbers", "timbers"), ("rivets", "rivets"), ("other", "other work")] {
                        option value=(what) { (name) }
                    }
                }
            }
            p { label for="hours-value" { "Hours " } input #hours-value type="number" min="0.25" max="1000" step="0.25" value="1" inputmode="decimal"; }
            div.acts { button #put-hours type="button" { "Put down" } button type="button" data-closes { "Close" } }
        }
    }
}
