//! What is aboard, and with whom: `[[loads]]` of boat.toml as a form.

mod loads;

use crate::new_boat::written::{length, quoted};
use crate::web::Shared;
use crate::web::desk::{Refused, View};
use crate::web::frame::{self, refusal, worked};
use crate::web::store::FileName;
use axum::Router;
use axum::extract::{Form, Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use boat::findings::Finding;
use boat::flotation;
use boat::folder::FolderError;
use boat::units::Notation;
use loads::{NotWritten, loads, written};
use maud::{Markup, html};
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new().route("/weights/aboard", get(asked).post(kept)).route("/weights/aboard/out", post(taken_out))
}

/// One field: its key in boat.toml, its label, what it means, examples in millimetres and in feet and inches.
struct Field(&'static str, &'static str, &'static str, [&'static str; 2]);

const FIELDS: [Field; 8] = [
    Field("name", "What or who", "Up to 32 letters.", ["picnic basket"; 2]),
    Field("mass", "Weighs", "With its unit, kg or lb.", ["75 kg", "165 lb"]),
    Field("station", "From station", "As the table of offsets calls it. Empty: from the first.", ["4"; 2]),
    Field(
        "aft",
        "Its middle aft of there",
        "A length; less than 0 is forward. Empty: at that station.",
        ["100 mm", "4 in"],
    ),
    Field(
        "height",
        "Its middle above base",
        "A length; a sitting person\u{2019}s is about 250 mm or 10 in over the seat.",
        ["550 mm", "1-9-0"],
    ),
    Field("out", "Its middle off the centreline", "A length. Empty: on it.", ["200 mm", "8 in"]),
    Field(
        "when",
        "With whom it is aboard",
        "Names that you choose, a semicolon between them: each is one boat to float. Empty: always, as a part of the boat.",
        ["one aboard; two aboard"; 2],
    ),
    Field(
        "litres",
        "Litres of water it keeps out",
        "Of foam or a sealed tank, when she is swamped. Empty: none.",
        ["40"; 2],
    ),
];

const SIDES: [(&str, &str); 2] = [("starboard", "to starboard"), ("port", "to port")];

/// What the form is shown with.
#[derive(Debug, Default)]
struct Shown {
    typed: BTreeMap<String, String>,
    /// At a field, or at none.
    wrong: Vec<(Option<&'static str>, String)>,
    /// It can be read, but she does not float so; it may be kept all the same.
    sinks: Vec<String>,
}

impl Shown {
    fn get(&self, key: &str) -> &str {
        self.typed.get(key).map_or("", |t| t.trim())
    }

    /// Which load is changed, from 1; a new one is none.
    fn which(&self) -> Option<usize> {
        self.get("which").parse().ok().filter(|n| *n > 0)
    }
}

async fn asked(State(shed): State<Shared>, Query(query): Query<BTreeMap<String, String>>) -> Markup {
    let view = shed.desk.view();
    let which = query.get("change").and_then(|n| n.parse::<usize>().ok());
    let mut typed = which.and_then(|n| loads(&view).into_iter().nth(n.checked_sub(1)?)).unwrap_or_default();
    if let Some(at) = typed.remove("at") {
        typed.insert("aft".to_owned(), at);
    }
    if let Some(n) = which.filter(|_| !typed.is_empty()) {
        typed.insert("which".to_owned(), n.to_string());
    }
    page(&shed, &view, &Shown { typed, ..Shown::default() })
}

fn page(shed: &Shared, view: &View, shown: &Shown) -> Markup {
    let loads = loads(view);
    let body = html! {
        p { a href="/weights" { "To what she weighs" } }
        @if !loads.is_empty() { (listed(view, &loads)) }
        h2 #form { @match shown.which() { Some(_) => "Change it", None => "Put something aboard" } }
        (told(shown))
        form.ask method="post" action="/weights/aboard" data-typed[!shown.wrong.is_empty() || !shown.sinks.is_empty()] {
            input type="hidden" name="seen" value=(view.revision);
            input type="hidden" name="which" value=(shown.get("which"));
            @for field in &FIELDS {
                (self::field(field, shown, view.plan.as_ref().map_or(Notation::Mm, |p| p.spec.lengths)))
                @if field.0 == "out" { (side(shown)) }
            }
            div.row {
                button.main type="submit" { @match shown.which() { Some(_) => "Keep it so", None => "Put it aboard" } }
                @if !shown.sinks.is_empty() { button type="submit" name="keep" value="yes" { "Keep it all the same" } }
            }
        }
    };
    frame::page(shed, view, "/weights", "What is aboard", &[], &body)
}

fn listed(view: &View, loads: &[BTreeMap<String, String>]) -> Markup {
    let said = |load: &BTreeMap<String, String>, key: &str| load.get(key).cloned().unwrap_or_default();
    let place = |load: &BTreeMap<String, String>| match (load.get("station"), load.get("aft").or(load.get("at"))) {
        (Some(station), Some(aft)) => format!("station {station}, {aft} aft"),
        (Some(station), None) => format!("station {station}"),
        (None, at) => format!("{} aft of the first", at.cloned().unwrap_or_default()),
    };
    html! {
        div.scroll tabindex="0" role="region" aria-label="What is aboard" {
            table.words.stacks {
                thead { tr { @for head in ["what", "weighs", "stands", "above base", "with whom", "to do"] { th scope="col" { (head) } } } }
                tbody {
                    @for (i, load) in loads.iter().enumerate() {
                        @let name = said(load, "name");
                        tr {
                            th scope="row" { (name) }
                            td data-head="weighs" { (said(load, "mass")) }
                            td data-head="stands" { (place(load)) @if let Some(out) = load.get("out") { ", " (out) " to " (said(load, "side")) } }
                            td data-head="above base" { (said(load, "height")) }
                            td data-head="with whom" { @if load.contains_key("when") { (said(load, "when")) } @else { "always" } }
                            td {
                                form.row method="post" action="/weights/aboard/out" {
                                    a.button href={ "/weights/aboard?change=" (i + 1) "#form" } aria-label={ "Change " (name) } { "Change" }
                                    input type="hidden" name="seen" value=(view.revision);
                                    input type="hidden" name="which" value=(i + 1);
                                    button type="submit" aria-label={ "Take " (name) " out" } { "Take out" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What is wrong with the whole.
fn told(shown: &Shown) -> Markup {
    html! {
        @if !shown.wrong.is_empty() {
            div.trouble role="alert" {
                strong { "Nothing is changed yet. " }
                @for (_, why) in shown.wrong.iter().filter(|w| w.0.is_none()) { p { (why) } }
                " What you typed stands below."
            }
        }
        @if !shown.sinks.is_empty() {
            div.trouble role="alert" {
                strong { "Nothing is changed yet: she would not float as she should. " }
                @for why in &shown.sinks { p { (why) } }
            }
        }
    }
}

fn field(Field(key, label, means, [metric, inches]): &Field, shown: &Shown, lengths: Notation) -> Markup {
    let example = if lengths == Notation::Mm { metric } else { inches };
    let wrong: Vec<&String> = shown.wrong.iter().filter(|w| w.0 == Some(*key)).map(|w| &w.1).collect();
    let described = format!("{key}-means{}", if wrong.is_empty() { String::new() } else { format!(" {key}-wrong") });
    html! {
        div.field {
            label for=(key) { (label) }
            p.means id={ (key) "-means" } { (means) " For example " code { (example) } "." }
            input.(if matches!(*key, "name" | "when") { "long" } else { "short" }) id=(key) name=(key) type="text" value=(shown.get(key))
                autocomplete="off" spellcheck="false" aria-describedby=(described) aria-invalid=[(!wrong.is_empty()).then_some("true")];
            @if !wrong.is_empty() { div.wrong id={ (key) "-wrong" } { @for why in wrong { p { (why) } } } }
        }
    }
}

fn side(shown: &Shown) -> Markup {
    let chosen = if shown.get("side") == "port" { "port" } else { "starboard" };
    html! {
        fieldset.field {
            legend { "To which side" }
            div.row {
                @for (value, words) in SIDES {
                    span.one {
                        input id={ "side-" (value) } type="radio" name="side" value=(value) checked[value == chosen];
                        label for={ "side-" (value) } { (words) }
                    }
                }
            }
        }
    }
}

/// What became of a form.
enum Outcome {
    Kept,
    Again(Shown, StatusCode),
}

async fn kept(State(shed): State<Shared>, Form(typed): Form<BTreeMap<String, String>>) -> Response {
    let desk = Arc::clone(&shed);
    match worked(move || Ok(keep(&desk, Shown { typed, ..Shown::default() }))).await {
        Ok(Outcome::Kept) => Redirect::to("/weights").into_response(),
        Ok(Outcome::Again(shown, code)) => (code, page(&shed, &shed.desk.view(), &shown)).into_response(),
        Err(why) => refusal(&why),
    }
}

fn keep(shed: &Shared, mut shown: Shown) -> Outcome {
    let view = shed.desk.view();
    let which = shown.which();
    let changed = written(&view, which, Some(&body(&shown)));
    let (texts, input, n) = match changed {
        Ok(changed) => changed,
        Err(why) => {
            shown.wrong.push(at_field(&why, which.unwrap_or(loads(&view).len() + 1)));
            return Outcome::Again(shown, StatusCode::UNPROCESSABLE_ENTITY);
        }
    };
    if shown.get("keep").is_empty()
        && let (Some(plan), Some(load)) = (&view.plan, input.spec.loads.get(n))
    {
        let mut plan = (**plan).clone();
        plan.spec.loads.clone_from(&input.spec.loads);
        let astray = flotation::astray(&plan.strakes, &plan.table, &plan.spec).into_iter();
        let lengths = plan.spec.lengths;
        let said = |f: Finding| {
            let [measured, limit] = f.figures(lengths).unwrap_or_default();
            format!("{} stands {measured} (limit {limit}): {}", f.place, f.hint)
        };
        shown.sinks = astray.filter(|f| f.place == load.name).map(said).collect();
        let with = |company: &String| load.when.is_empty() || load.when.contains(company);
        let sinks = plan.afloat_troubles().into_iter().filter(|(company, _)| with(company));
        shown.sinks.extend(sinks.map(|(company, why)| format!("{company}: {why}")));
        if !shown.sinks.is_empty() {
            return Outcome::Again(shown, StatusCode::UNPROCESSABLE_ENTITY);
        }
    }
    let what = format!("{} aboard", shown.get("name"));
    let seen = shown.get("seen").parse().unwrap_or(0);
    match shed.desk.change(seen, &what, FileName::Boat, Some(texts.toml)) {
        Ok(_) => Outcome::Kept,
        Err(why) => {
            shown.wrong.push((None, why.to_string()));
            Outcome::Again(shown, refusal(&why).status())
        }
    }
}

async fn taken_out(State(shed): State<Shared>, Form(form): Form<BTreeMap<String, String>>) -> Response {
    let desk = Arc::clone(&shed);
    let done = worked(move || {
        let shown = Shown { typed: form, ..Shown::default() };
        let view = desk.desk.view();
        let name = shown.which().and_then(|n| loads(&view).get(n.checked_sub(1)?)?.get("name").cloned());
        let name = name.ok_or(Refused::Stale)?;
        let (texts, ..) = written(&view, shown.which(), None).map_err(|why| Refused::Wrong(why.to_string()))?;
        let seen = shown.get("seen").parse().unwrap_or(0);
        desk.desk.change(seen, &format!("{name} taken out"), FileName::Boat, Some(texts.toml))
    })
    .await;
    match done {
        Ok(_) => Redirect::to("/weights/aboard").into_response(),
        Err(why) => {
            let shown = Shown { wrong: vec![(None, why.to_string())], ..Shown::default() };
            (refusal(&why).status(), page(&shed, &shed.desk.view(), &shown)).into_response()
        }
    }
}

/// Where a trouble belongs in the form of load `n`, from 1.
fn at_field(why: &NotWritten, n: usize) -> (Option<&'static str>, String) {
    if let NotWritten::Unread(FolderError::Boat(boat)) = why
        && let Some(key) = boat.key.strip_prefix(&format!("loads, item {n}."))
    {
        let bare = key.split(',').next().unwrap_or_default();
        let bare = if bare == "at" { "aft" } else { bare };
        if let Some(field) = FIELDS.iter().find(|f| f.0 == bare) {
            return (Some(field.0), boat.problem.to_string());
        }
    }
    (None, why.to_string())
}

/// The lines under a load's head.
fn body(shown: &Shown) -> Vec<String> {
    let mut lines = vec![format!("name = {}", quoted(shown.get("name")))];
    let mut put = |key: &str, text: &str| {
        if !text.is_empty() {
            lines.push(format!("{key} = {}", length(text)));
        }
    };
    put("mass", shown.get("mass"));
    let station = shown.get("station");
    if station.is_empty() {
        put("at", shown.get("aft"));
    } else {
        put("aft", shown.get("aft"));
    }
    put("height", shown.get("height"));
    put("out", shown.get("out"));
    put("litres", shown.get("litres"));
    if !station.is_empty() {
        lines.push(format!("station = {}", quoted(station)));
    }
    if !shown.get("out").is_empty() {
        lines.push(format!("side = {}", quoted(shown.get("side"))));
    }
    let when: Vec<String> =
        shown.get("when").split(';').map(str::trim).filter(|w| !w.is_empty()).map(quoted).collect();
    if !when.is_empty() {
        lines.push(format!("when = [{}]", when.join(", ")));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::shed_for_tests;

    const BASKET: [(&str, &str); 6] = [
        ("name", "kettle"),
        ("mass", "6 lb"),
        ("station", "4"),
        ("aft", "2 in"),
        ("height", "0-11-0"),
        ("when", "two aboard; picnic"),
    ];

    fn form(shed: &Shared, more: &[(&str, &str)]) -> Shown {
        let mut typed: BTreeMap<String, String> = BASKET.map(|(k, v)| (k.to_owned(), v.to_owned())).into();
        typed.insert("seen".to_owned(), shed.desk.view().revision.to_string());
        typed.extend(more.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())));
        Shown { typed, ..Shown::default() }
    }

    fn toml(shed: &Shared) -> String {
        shed.desk.view().texts.get(FileName::Boat).unwrap().to_owned()
    }

    fn again(shed: &Shared, more: &[(&str, &str)]) -> Shown {
        match keep(shed, form(shed, more)) {
            Outcome::Again(shown, code) => {
                assert_eq!(code, StatusCode::UNPROCESSABLE_ENTITY);
                shown
            }
            Outcome::Kept => panic!("{more:?} was kept"),
        }
    }

    #[test]
    fn something_is_put_aboard_changed_taken_out_and_undone() {
        let shed = shed_for_tests();
        let (before, count) = (toml(&shed), loads(&shed.desk.view()).len());
        assert!(matches!(keep(&shed, form(&shed, &[("out", "3 in"), ("side", "port")])), Outcome::Kept));
        let view = shed.desk.view();
        let load = view.plan.as_ref().unwrap().spec.loads.last().unwrap().clone();
        assert_eq!((load.name.as_str(), load.when.len(), load.out.round()), ("kettle", 2, -76.0));
        assert!((load.mass - 6.0 * 0.453_592_37).abs() < 1e-12);
        assert!(toml(&shed).starts_with(before.trim_end()), "the rest is as it was typed");
        // Changed: what is shown in the form is what was typed.
        let shown = loads(&view)[count].clone();
        assert_eq!((shown["mass"].as_str(), shown["when"].as_str()), ("6 lb", "two aboard; picnic"));
        let heavier = [("which", (count + 1).to_string()), ("mass", "7 kg".to_owned()), ("station", String::new())];
        let heavier: Vec<(&str, &str)> = heavier.iter().map(|(k, v)| (*k, v.as_str())).collect();
        assert!(matches!(keep(&shed, form(&shed, &heavier)), Outcome::Kept));
        let load = shed.desk.view().plan.as_ref().unwrap().spec.loads.last().unwrap().clone();
        assert_eq!((load.mass, load.place.station.clone(), load.when.len()), (7.0, None, 2));
        // Out again, as if it had never been; and each step undone.
        let (texts, ..) = written(&shed.desk.view(), Some(count + 1), None).unwrap();
        assert_eq!(texts.toml, before);
        shed.desk.undo().unwrap();
        shed.desk.undo().unwrap();
        assert_eq!(toml(&shed), before);
    }

    #[test]
    fn what_is_wrong_is_told_at_its_field_and_nothing_is_changed() {
        let shed = shed_for_tests();
        let before = toml(&shed);
        for (key, text, said) in [
            ("mass", "-4", "0 to 2000"),
            ("mass", "four", "a mass, such as"),
            ("mass", "75", "pounds or kilograms"),
            ("mass", "", "is missing"),
            ("name", "", "letters"),
            ("station", "77", "77"),
            ("aft", "5", "5"),
            ("height", "", "is missing"),
            ("out", "40 ft", "out of range"),
            ("litres", "lots", "a number"),
        ] {
            let shown = again(&shed, &[(key, text)]);
            assert!(
                shown.wrong.iter().any(|w| w.0 == Some(key) && w.1.contains(said)),
                "{key} {text}: {:?}",
                shown.wrong
            );
        }
        let heavy = again(&shed, &[("mass", "2000 kg")]);
        assert!(
            heavy.sinks.iter().any(|s| s.starts_with("picnic: ") && s.contains("take loads out")),
            "{:?}",
            heavy.sinks
        );
        let astray = again(&shed, &[("aft", "40 ft")]);
        assert!(
            astray.sinks.iter().any(|s| s.contains("kettle stands") && s.contains("look at its station")),
            "{:?}",
            astray.sinks
        );
        assert_eq!(toml(&shed), before);
        let count = loads(&shed.desk.view()).len();
        assert!(matches!(
            keep(&shed, form(&shed, &[("mass", "2000 kg"), ("keep", "yes"), ("which", "0")])),
            Outcome::Kept
        ));
        assert_eq!(loads(&shed.desk.view()).len(), count + 1, "load 0 is none, and not the first");
        assert!(matches!(
            keep(&shed, form(&shed, &[("seen", "1"), ("name", "pan"), ("when", "alone")])),
            Outcome::Again(_, StatusCode::CONFLICT)
        ));
    }
}
