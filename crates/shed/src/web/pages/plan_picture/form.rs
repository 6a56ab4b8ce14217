//! The page on which places are picked.

use super::Known;
use crate::web::Shared;
use crate::web::desk::View;
use crate::web::store::{FileName, Store};
use boat::units::Notation;
use maud::{Markup, html};

/// Views of a plan: as they are sent, and their names.
const VIEWS: [(&str, &str); 3] =
    [("body-plan", "the body plan"), ("profile", "the profile"), ("half-breadth", "the half-breadth plan")];
/// How lengths are written.
const LENGTHS: [(Notation, &str); 3] = [
    (Notation::Mm, "millimetres: 394"),
    (Notation::Inches, "inches: 15 1/2"),
    (Notation::FeetInchesEighths, "feet-inches-eighths: 1-3-4"),
];

/// The page's body.
pub fn body(shed: &Shared, view: &View, known: Option<&Known>) -> Markup {
    let in_folder = matches!(shed.desk.store, Store::Folder(_));
    let begin = !in_folder || view.texts.get(FileName::Boat).is_none();
    html! {
        p.lead {
            "Scan or photograph her plan, mark what is known in the picture, then pick where lines cross stations. The picture stays in this browser: "
            "only the places you pick go to the program on this machine. For offsets good to 1 mm scan at 300 dots to the inch, or pick each place "
            "five times; mark over the whole sheet. A photograph needs four known points or more: they take out that it was taken aslant."
        }
        div #plan-picture.bench data-from=(shed.from) {
            (sheet())
            div.ask.beside {
                (step_picture())
                (step_boat(known, in_folder))
                (step_marks())
                (step_picks())
                (step_end(known.is_some(), begin))
            }
        }
        noscript { p.trouble { "Picking needs this page's script. A drawing as DXF or SVG, or a table, is read without: " code { "strakewise read-in" } "." } }
    }
}

/// The picture, the glass and what is done with them.
fn sheet() -> Markup {
    html! {
        section.picked aria-label="The picture" {
            div.sheet.plan-sheet {
                canvas #picture tabindex="0" role="img" aria-label="The picture of the plan, with what is marked and picked" aria-describedby="keys" {}
                canvas #glass width="180" height="180" aria-hidden="true" hidden {}
            }
            div.row.above {
                button #nearer type="button" { "Nearer" }
                button #farther type="button" { "Farther" }
                button #whole type="button" { "All of it" }
                button #move type="button" aria-pressed="false" { "Move the picture" }
                button #back type="button" disabled { "Take back" }
            }
            p #awaited role="status" aria-live="polite" {}
            p #keys.quiet {
                "Press, look into the glass, and let go where the lines cross. The arrow keys then move what was picked by half a pixel, with Shift "
                "by ten; Enter lets it go, and picks anew at the cross. Two fingers or the wheel bring you nearer; Ctrl-Z takes back."
            }
        }
    }
}

fn step(id: &str, title: &str, body: &Markup) -> Markup {
    html! { section.step aria-labelledby=(id) { h2 id=(id) { (title) } (body) } }
}

fn text(id: &str, label: &str, means: &str) -> Markup {
    html! {
        div.field {
            label for=(id) { (label) }
            p.means id={ (id) "-means" } { (means) }
            input.short id=(id) type="text" autocomplete="off" spellcheck="false" aria-describedby={ (id) "-means" };
        }
    }
}

fn choice(name: &str, legend: &str, of: &[(&str, &str)]) -> Markup {
    html! {
        fieldset.field {
            legend { (legend) }
            div.row {
                @for (i, (value, words)) in of.iter().enumerate() {
                    span.one {
                        input id={ (name) "-" (value) } type="radio" name=(name) value=(value) checked[i == 0];
                        label for={ (name) "-" (value) } { (words) }
                    }
                }
            }
        }
    }
}

fn step_picture() -> Markup {
    step(
        "step-picture",
        "1. The picture",
        &html! {
            div.field {
                label for="file" { "A picture of the plan" }
                p.means id="file-means" { "PNG or JPEG. It may be turned and a little askew." }
                input #file type="file" accept="image/png,image/jpeg" aria-describedby="file-means";
            }
            div.row { button #quarter type="button" { "Turn it a quarter" } }
            div #picture-said.wrong role="status" {}
            (choice("view", "It shows", &VIEWS))
            div #bow-way hidden { (choice("bow", "Her bow is", &[("left", "to the left"), ("right", "to the right")])) }
        },
    )
}

fn step_boat(known: Option<&Known>, in_folder: bool) -> Markup {
    let lengths = known.map_or(Notation::Mm, |k| k.lengths);
    let of = |f: fn(&Known) -> &str| known.map_or("", f);
    let fixed = known.is_some() && in_folder;
    step(
        "step-stations",
        "2. Stations and levels",
        &html! {
            div.field {
                label for="lengths" { "Lengths" }
                p.means #lengths-means { @if fixed { "As her table has them." } @else { "What a bare number means, and how she will be written." } " Any length may be typed in another notation with its unit beside it." }
                select #lengths disabled[fixed] aria-describedby="lengths-means" {
                    @for (notation, words) in LENGTHS { option value=(notation.word()) selected[notation == lengths] { (words) } }
                }
            }
            div.field {
                label for="stations" { "Stations" }
                p.means #stations-means { "One to a line from forward aft: its name, a comma, how far aft of the first it stands. A transom, last, is called \u{201c}transom\u{201d} and has no distance." }
                textarea #stations rows="6" spellcheck="false" autocomplete="off" aria-describedby="stations-means" { "\n" (of(|k| &k.stations)) }
            }
            div.field {
                label for="waterlines" { "Waterlines" }
                p.means #waterlines-means { "Their heights above base, with a comma or a semicolon between." }
                input #waterlines type="text" autocomplete="off" spellcheck="false" value=(of(|k| &k.waterlines)) aria-describedby="waterlines-means";
            }
            div.field {
                label for="buttocks" { "Buttocks" }
                p.means #buttocks-means { "How far they stand from the centreline; may be empty." }
                input #buttocks type="text" autocomplete="off" spellcheck="false" value=(of(|k| &k.buttocks)) aria-describedby="buttocks-means";
            }
        },
    )
}

fn step_marks() -> Markup {
    step(
        "step-marks",
        "3. What is known in the picture",
        &html! {
            p.means {
                "Two places or more on each of the two lines, as far apart as the drawing allows; two known distances that run across each other; then a third, "
                "which shows whether all is well. Mark each again a few times: the mean is better than one."
            }
            fieldset.field {
                legend { "Mark" }
                div.row {
                    @for (value, words) in [("level", "base line"), ("plumb", "centreline"), ("distance", "a known distance"), ("point", "a known point")] {
                        span.one {
                            input id={ "tool-" (value) } type="radio" name="tool" value=(value) checked[value == "level"];
                            label for={ "tool-" (value) } { (words) }
                        }
                    }
                }
            }
            div #distance-fields hidden { (text("long", "It is so long", "At full size, not on paper. Mark its two ends one after the other.")) }
            div #point-fields hidden {
                (text("along", "It stands along", "At full size: to the right of the centreline, less than 0 to the left; in the other views aft of the first station."))
                (text("up", "It stands up", "At full size: above base, or in the half-breadth plan up from the centreline."))
            }
            div #marks-trouble.wrong role="status" {}
            ul #marks-said.plain {}
            div.scroll tabindex="0" role="region" aria-label="What is marked" { table #marks hidden { caption { "What is marked" } thead { tr { th scope="col" { "mark" } th scope="col" { "known" } th scope="col" { "off by" } th scope="col" { "take out" } } } tbody {} } }
        },
    )
}

fn step_picks() -> Markup {
    step(
        "step-picks",
        "4. Pick along stations and lines",
        &html! {
            fieldset.field {
                legend { "Pick" }
                div.row { span.one { input #tool-offset type="radio" name="tool" value="offset"; label for="tool-offset" { "where a line crosses a station" } } }
            }
            div.row.choices {
                span { label for="station" { "Station" } select #station {} }
                span { label for="line" { "Line" } select #line {} }
                span { label for="times" { "Each place" } select #times {
                    @for n in [1, 3, 5] { option value=(n) selected[n == 5] { (if n == 1 { "once".to_owned() } else { format!("{n} times") }) } }
                } }
                span { label for="order" { "Then the next" } select #order { option value="line" { "line of the station" } option value="station" { "station on the line" } } }
                button #pass type="button" { "Pass over" }
            }
            div #picks-trouble.wrong role="status" {}
            div.scroll tabindex="0" role="region" aria-label="What is read off" { table #picks hidden { caption { "What is read off" } thead { tr { th scope="col" { "no." } th scope="col" { "station" } th scope="col" { "line" } th scope="col" { "reads" } th scope="col" { "good to" } th scope="col" { "picked" } th scope="col" { "take out" } } } tbody {} } }
        },
    )
}

fn step_end(add: bool, begin: bool) -> Markup {
    step(
        "step-end",
        "5. Her table",
        &html! {
            p #good.means { "Nothing is read off yet." }
            div #end-said.wrong role="status" {}
            @if add {
                (choice("standing", "Numbers that stand in her table already", &[("stay", "stay"), ("give-way", "give way to these")]))
                div.row { button #add.main type="button" disabled { "Add to her table" } }
            }
            @if begin {
                form #begin method="post" action="/new/table" {
                    button #make.main type="submit" disabled { "Make a new boat of it" }
                }
                p.means { "Her stem, stern and planking are asked for next, field by field." }
            }
            h2 { "To go on another day" }
            p.means {
                "Marks and picks are kept in this browser while the program runs, also when this page is closed: only the picture has to be chosen again. Before the "
                "program ends keep them as a file."
            }
            div.row {
                button #save type="button" { "Keep the picks as a file" }
                button #forget type="button" { "Take all out" }
            }
            div.field {
                label for="load" { "Take up a file of picks" }
                input #load type="file" accept=".json,application/json";
            }
            div #kept-said.wrong role="status" {}
        },
    )
}
