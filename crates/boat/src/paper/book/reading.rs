//! How to read the book: its words, its numbers, and what it does not know.

use super::look;
use super::page::{Book, Page};
use crate::drawing::Face;
use crate::spec::DrawnTo;
use crate::units::Notation;

const WORDS: [(&str, &str); 13] = [
    ("Rabbet", "the groove in keel, stem and sternpost that takes the garboard's edge and the plank ends."),
    ("Hood end", "the end of a plank where it enters the stem or sternpost rabbet."),
    ("Strake", "one run of planking a side, counted from the keel: 1 is the garboard."),
    ("Land", "the overlap of two strakes. Land 3 is on the upper edge of strake 3."),
    ("Land line", "the line of a strake's upper inner edge on the moulds. 0 is the rabbet; the last is the sheer."),
    ("Mark", "where a land line crosses a mould, the stem or the transom."),
    ("Bevel", "the angle planed on a land so that the next strake beds flat."),
    ("Gain", "the rebate near the ends in which a land runs out flush."),
    ("Batten line", "the straight line on the board that a plank's offsets are measured from."),
    (
        "Left long",
        "wood past a plank's finished end or above the sheer, drawn broken; cut it when the plank is fitted.",
    ),
    ("Tape", "a width on the tape is taken across the plank, square to the land, the land included."),
    ("Edge-set", "bending a plank on the flat to get it to its marks. Wanted: none."),
    ("Rove", "the dished copper washer that a nail is headed over to make a rivet."),
];

/// One page.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.page("How to read this book", &plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));

    let mut y = page.head([left.left, left.top], "Words");
    for (word, meaning) in WORDS.into_iter().filter(|w| !plan.spec.glued() || w.0 != "Rove") {
        let indent = 27.0;
        page.words([left.left, y + 2.66], crate::drawing::Anchor::Left, look::BODY.face(Face::Semibold), word);
        y = page.paragraph([left.left + indent, y], left.width() - indent, look::BODY.size(4.2), meaning) + 0.9;
    }

    let (numbers, place) = (numbers(book), place(book));
    let sections = [("Numbers", numbers.as_str()), ("Where things are", &place), ("What it has not done", LIMITS)];
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    vec![page]
}

fn numbers(book: &Book<'_>) -> String {
    let notation = match book.len.0 {
        Notation::Mm => "All lengths are millimetres, small depths to a tenth.",
        Notation::Inches => {
            "All lengths are inches, to the nearest sixteenth; small depths to a thirty-second, and corrections of the lines \
             finer still."
        }
        Notation::FeetInchesEighths => {
            "Long lengths are feet-inches-eighths: 1-3-4 is 1 ft 3 in and 4 eighths, and + is half an eighth more. \
             Widths and thicknesses are inches, to the nearest sixteenth; small depths to a thirty-second, and corrections of the \
             lines finer still."
        }
    };
    format!(
        "{notation} Bevels are degrees, and beside them the depth to plane off over the width of the land. A bevel \
         is + when the next strake turns inboard and the upper outer edge of this strake is planed. Where it is \u{2212} \
         the side is hollow: this strake is left square, and the lower inner edge of the next one is bevelled instead."
    )
}

fn place(book: &Book<'_>) -> String {
    let face = match book.plan.spec.lines.drawn_to {
        DrawnTo::Inside => {
            "The table of offsets gives the inside of the planking, and so does every mark in this book."
        }
        DrawnTo::Outside => {
            "The table of offsets gives the outside of the planking; the thickness has been taken off it square to the \
             skin, so that every mark in this book is on the inside."
        }
    };
    let way = match book.plan.side {
        None => "for the port side. Turn it over for starboard: the two are a pair.".to_owned(),
        Some(side) => format!(
            "as it is for port; turned over it is starboard\u{2019}s. The strakes here are for {side} alone, as she stands: the other \
             side has its own."
        ),
    };
    format!(
        "Distances along the boat are aft of the first station, heights above the base line, half-breadths out from \
         the centreline. {face} A flat plank is drawn as it lies on the bench with its outer face up, bow to the left, \
         {way}"
    )
}

const LIMITS: &str = "A plank is laid flat as a surface half its thickness out that bends and hardly stretches; wood \
    that springs, and boards with stress in them, are not foreseen. Outlines and offsets are finished sizes; what is left \
    long for fitting is drawn broken, as much as boat.toml says. Which plank comes out of which board stands here only where it was asked for (strakewise book --boards). How \
    strong she is this book does not say; how many people she may carry is reckoned on a page of its own, and decided elsewhere.";
