//! Why lands cannot be lined off.

use crate::geom::fair::FairError;
use crate::units::Notation;

/// Why the lands cannot be lined off.
#[derive(Debug, Clone, PartialEq)]
pub enum LiningError {
    /// More strakes than the narrowest section holds.
    TooMany {
        /// Strakes asked for.
        strakes: usize,
        /// Where they fit least.
        section: String,
        /// Girth there, mm.
        girth: f64,
        /// What each would get there, mm.
        each: f64,
        /// Least, mm.
        least: f64,
        /// Most strakes that fit.
        most: usize,
    },
    /// A pinned mark lies off its mould.
    PinOffMould {
        /// Line in the file.
        line: usize,
        /// Land.
        land: usize,
        /// Section.
        section: String,
        /// Girth given, mm.
        girth: f64,
        /// Girth of the section, mm.
        whole: f64,
    },
    /// Pinned marks of two lands cross or leave no room for those between.
    PinsTooNear {
        /// Line in the file.
        line: usize,
        /// Land.
        land: usize,
        /// Section.
        section: String,
        /// The neighbour, pinned or fixed.
        other: usize,
        /// Room between, mm; negative where they cross.
        room: f64,
        /// Room needed, mm.
        needed: f64,
        /// Where the mark would have that room, along the mould from the rabbet, mm.
        girth: f64,
    },
    /// No fair line passes through the marks of a land.
    Line {
        /// Land.
        land: usize,
        /// Why.
        why: FairError,
    },
    /// The least of the energy could not be found.
    NoAnswer,
}

impl LiningError {
    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            LiningError::TooMany { strakes, section, girth, each, least, most } => {
                let ([each, least], girth) = (lengths.said_apart(*each, *least), lengths.said_fine(*girth));
                format!(
                    "boat.toml: planking.strakes = {strakes}: they will not fit: at {section} the girth is {girth}, so a \
                     plank would be {each} on the mould; {least} (one lap and a little) is the least; ask for {most} or \
                     fewer, or for a narrower lap (planking.lap)"
                )
            }
            LiningError::PinOffMould { line, land, section, girth, whole } => {
                let [girth, whole] = lengths.said_apart(*girth, *whole);
                format!(
                    "marks.csv line {line}: land {land} at {section}: {girth} is off the mould, whose girth from the \
                     rabbet to the sheer is {whole}; measure from the rabbet; land 0 is the rabbet, at 0, and the last \
                     land the sheer, at the whole girth: neither can be moved by a pin"
                )
            }
            LiningError::PinsTooNear { line, land, section, other, room, needed, girth } => {
                let [apart, needed] = lengths.said_apart(room.abs(), *needed);
                let from = if *room < 0.0 { "on the wrong side of" } else { "from" };
                format!(
                    "marks.csv line {line}: land {land} at {section} is pinned {apart} {from} land {other}; {needed} is \
                     needed for the strakes between, a lap (planking.lap) and a little each; with land {other} where it \
                     is, pin it at {} or {}, or move the other",
                    lengths.said_fine(*girth),
                    if land > other { "more" } else { "less" }
                )
            }
            LiningError::Line { land, why } => format!("land {land}: no line passes through its marks: {why}"),
            LiningError::NoAnswer => {
                "the lands could not be lined off: the equations have no answer; free some of the pinned marks \
                 (marks.csv)"
                    .to_owned()
            }
        }
    }
}

impl std::error::Error for LiningError {}

impl std::fmt::Display for LiningError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}
