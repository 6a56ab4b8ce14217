//! The form of a new boat.

use super::Shown;
use crate::examples::Example;
use crate::new_boat::fields::{self, Field, Kind, STEPS, Step, TABLE, When};
use crate::new_boat::written::Wrong;
use crate::web::Shared;
use crate::web::desk::View;
use crate::web::store::Store;
use boat::offsets;
use clap::ValueEnum;
use maud::{Markup, html};

/// The page of a new boat, or why there can be none here.
pub fn body(shed: &Shared, view: &View, shown: &Shown, in_the_way: Option<&str>) -> Markup {
    if let Some(why) = in_the_way {
        return html! { p.trouble { (why) } p { a href="/" { "To the boat" } } };
    }
    html! {
        p.lead {
            "Fill this in from her plan, and paste her table. Examples are of one small boat, in millimetres. "
            @if matches!(shed.desk.store, Store::Memory) { "Nothing is kept when the program ends: to keep her, make an empty folder and open it with strakewise FOLDER. " }
            "Everything can be changed afterwards, and all of it taken back with Undo."
        }
        (told(shown))
        p { "Or scan her plan, and " a href="/plan-picture" { "read her offsets off the picture" } " first." }
        (examples(view))
        form.ask method="post" action="/new" data-typed[!shown.typed.0.is_empty()] {
            input type="hidden" name="seen" value=(view.revision);
            @for (i, step) in STEPS.iter().enumerate() { (self::step(i + 1, step, shown)) }
            div.row {
                button.main type="submit" { "Make the boat" }
                @if shown.no_plan.is_some() {
                    button type="submit" name="keep" value="yes" { "Keep her all the same, and mend her on her own pages" }
                }
            }
        }
    }
}

/// What is wrong with the whole, and how much at fields.
fn told(shown: &Shown) -> Markup {
    let at_fields = shown.wrong.iter().filter(|w| w.key.is_some()).count();
    html! {
        @if !shown.wrong.is_empty() {
            div.trouble role="alert" {
                @for w in shown.wrong.iter().filter(|w| w.key.is_none()) { p { strong { "She is not made yet. " } (w.why) } }
                @if at_fields > 0 {
                    strong { "She is not made yet: " (if at_fields == 1 { "one thing is wanting.".to_owned() } else { format!("{at_fields} things are wanting.") }) }
                    " What you typed stands below."
                    ul {
                        @for w in &shown.wrong {
                            @if let Some(f) = fields::all().find(|f| Some(f.key) == w.key) { li { a href={ "#" (id(f)) } { (f.label) } } }
                        }
                    }
                }
            }
        }
        @if let Some(why) = &shown.no_plan {
            div.trouble role="alert" { strong { "All of it can be read, but no plan comes of it. " } (why) ". What you typed stands below." }
        }
    }
}

fn examples(view: &View) -> Markup {
    let says = |example: &Example| match example {
        Example::Dinghy => "13 ft dinghy with a transom, in feet, inches and eighths",
        Example::DoubleEnder => "4.7 m pulling boat with a sternpost, in millimetres",
        Example::Pram => "2.6 m pram, in millimetres",
    };
    html! {
        details.examples {
            summary { "Or begin from an example" }
            @for example in Example::value_variants() {
                @if let Some(value) = example.to_possible_value() {
                    form.row method="post" action="/new/example" {
                        input type="hidden" name="seen" value=(view.revision);
                        input type="hidden" name="example" value=(value.get_name());
                        button type="submit" { "Begin from " (example.name()) } span { (says(example)) }
                    }
                }
            }
        }
    }
}

fn step(number: usize, step: &Step, shown: &Shown) -> Markup {
    html! {
        section.step aria-labelledby={ "step-" (number) } {
            h2 id={ "step-" (number) } { (number) ". " (step.title) }
            @for field in step.fields { (self::field(field, shown)) }
        }
    }
}

/// A field's name in the page.
fn id(field: &Field) -> String {
    field.key.replace(['.', '_'], "-")
}

fn field(field: &Field, shown: &Shown) -> Markup {
    let id = id(field);
    let wrong: Vec<&Wrong> = shown.wrong.iter().filter(|w| w.key == Some(field.key)).collect();
    let invalid = (!wrong.is_empty()).then_some("true");
    let described = format!("{id}-means{}", if wrong.is_empty() { String::new() } else { format!(" {id}-wrong") });
    let typed = shown.typed.0.get(field.key).map_or("", String::as_str);
    let when = match field.when {
        When::Always => "field".to_owned(),
        When::Chosen(key, chosen) => format!("field when-{}-{chosen}", key.replace('.', "-")),
    };
    let input = match field.kind {
        Kind::Choice(of) => return choice(field, of, shown, &when),
        Kind::Words | Kind::Length | Kind::Point => html! {
            input id=(id) name=(field.key) type="text" value=(typed) autocomplete="off" spellcheck="false" aria-describedby=(described) aria-invalid=[invalid]
                class=(if field.kind == Kind::Words { "long" } else { "short" });
        },
        Kind::Points | Kind::Table => html! {
            textarea id=(id) name=(field.key) rows=(if field.kind == Kind::Table { 14 } else { 8 }) spellcheck="false" autocomplete="off"
                aria-describedby=(described) aria-invalid=[invalid] { "\n" (typed) }
        },
    };
    html! {
        div class=(when) {
            label for=(id) { (field.label) @if field.may_be_empty { span.quiet { " (may be empty)" } } }
            p.means id={ (id) "-means" } { (field.means) @if matches!(field.kind, Kind::Words | Kind::Length | Kind::Point) { " For example " code { (field.example) } "." } }
            @if matches!(field.kind, Kind::Points | Kind::Table) {
                div.pair {
                    (input)
                    div { p.means { "For example" } pre tabindex="0" role="region" aria-label={ "Example: " (field.label) } { (field.example) } }
                }
            } @else { (input) }
            @if !wrong.is_empty() {
                div.wrong id={ (id) "-wrong" } { @for w in &wrong { p { (place(w)) (w.why) } } }
                @for w in &wrong { @if let (TABLE, Some(cell)) = (field.key, w.cell) { (seen(typed, cell, &w.why)) } }
            }
        }
    }
}

/// Where in the table.
fn place(wrong: &Wrong) -> String {
    match wrong.cell {
        Some((line, Some(cell))) => format!("Line {line}, cell {cell}: "),
        Some((line, None)) => format!("Line {line}: "),
        None => String::new(),
    }
}

fn choice(field: &Field, of: &[(&str, &str)], shown: &Shown, when: &str) -> Markup {
    let chosen = shown.typed.get(field.key);
    html! {
        fieldset class=(when) {
            legend { (field.label) }
            p.means { (field.means) }
            div.row {
                @for (value, words) in of {
                    @let id = format!("{}-{}", id(field), value.replace([' ', '_'], "-"));
                    span.one {
                        input id=(id) type="radio" name=(field.key) value=(value) checked[*value == chosen];
                        label for=(id) { (words) }
                    }
                }
            }
            @for w in shown.wrong.iter().filter(|w| w.key == Some(field.key)) { div.wrong { p { (w.why) } } }
        }
    }
}

/// Most lines of a table that are shown again.
const MOST: usize = 80;

/// The table as it was read, the cell that is wrong marked.
fn seen(text: &str, (line, cell): (usize, Option<usize>), why: &str) -> Markup {
    let lines = offsets::cells(text);
    html! {
        div.scroll tabindex="0" role="region" aria-label="The table as it was read" {
            table.read {
                caption { "The table as it was read" }
                @for (number, cells) in lines.iter().take(MOST) {
                    tr {
                        th scope="row" { (number) }
                        @for (i, text) in cells.iter().enumerate() {
                            @let here = *number == line && cell.is_none_or(|c| c == i + 1);
                            td class=[here.then_some("wrong")] { (text) @if here && cell.is_some() { span.remark { (why) } } }
                        }
                    }
                }
            }
        }
    }
}
