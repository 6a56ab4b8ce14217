//! What the rows of a table are called.
//!
//! Plans differ: `Height of deck`, `hb wl 6`, `HALF-BREADTH SHEER`. A name is read word by word, spaces, `_` and `-`
//! alike between words; what is left after the last word is a level in any length notation or a diagonal's name.

use super::RowKind;
use crate::spec::Diagonal;
use crate::units::{LengthError, Notation, read_length};

/// What a row is, as its name says.
#[derive(Debug, Clone, PartialEq)]
pub enum RowName {
    /// Positions of the stations.
    At,
    /// Offsets.
    Offsets(RowKind),
}

/// Why a name is no row's.
#[derive(Debug, Clone, PartialEq)]
pub enum NameError {
    /// No such row.
    Unknown,
    /// A buttock or waterline without its level, or with one that is no length.
    Level(LengthError),
    /// A diagonal that boat.toml does not have.
    NoDiagonal(String),
}

/// The names as documented, to suggest from.
pub const NAMES: [&str; 8] = [
    "at",
    "height sheer",
    "height rabbet",
    "height buttock LEVEL",
    "half-breadth sheer",
    "half-breadth rabbet",
    "half-breadth waterline LEVEL",
    "diagonal NAME",
];

/// No row's name is longer.
const MOST_BYTES: usize = 100;

const HEIGHT: [&str; 4] = ["height", "heights", "ht", "h"];
const HALF_BREADTH: [&str; 4] = ["half breadth", "half breadths", "halfbreadth", "hb"];
const OF: [&str; 3] = ["of", "at", "to"];
const SHEER: [&str; 2] = ["sheer", "deck"];
const RABBET: [&str; 1] = ["rabbet"];
const BUTTOCK: [&str; 3] = ["buttock", "butt", "bk"];
/// After `height` only: alone, `b` may well be a station.
const B: [&str; 1] = ["b"];
const WATERLINE: [&str; 4] = ["waterline", "water line", "level line", "wl"];
const DIAGONAL: [&str; 3] = ["diagonal", "diag", "d"];

/// Reads the name of a row; a bare number for a level is in `lengths`.
pub fn row_name(typed: &str, lengths: Notation, diagonals: &[Diagonal]) -> Result<RowName, NameError> {
    if typed.len() > MOST_BYTES {
        return Err(NameError::Unknown);
    }
    let name = plain(typed);
    let name = name.as_str();
    if name == "at" {
        return Ok(RowName::At);
    }
    if let Some(rest) = after(name, &DIAGONAL).filter(|rest| !rest.is_empty()) {
        return match diagonals.iter().position(|d| plain(&d.name) == rest) {
            Some(index) => Ok(RowName::Offsets(RowKind::Diagonal(index))),
            // `d` alone before something is too thin a hint unless the diagonal is there.
            None if name.starts_with("d ") || name.starts_with("d-") => Err(NameError::Unknown),
            None => Err(NameError::NoDiagonal(as_typed(typed, rest))),
        };
    }
    let (height, half_breadth) = (after(name, &HEIGHT), after(name, &HALF_BREADTH));
    let rest = height.or(half_breadth).unwrap_or(name);
    let rest = after(rest, &OF).unwrap_or(rest);
    let is = |words: &[&str]| after(rest, words) == Some("");
    let kind = if height.is_some() && is(&SHEER) {
        RowKind::HeightSheer
    } else if height.is_some() && is(&RABBET) {
        RowKind::HeightRabbet
    } else if half_breadth.is_some() && is(&SHEER) {
        RowKind::HalfBreadthSheer
    } else if half_breadth.is_some() && is(&RABBET) {
        RowKind::HalfBreadthRabbet
    } else if let Some(level) =
        after(rest, &BUTTOCK).filter(|_| half_breadth.is_none()).or(height.and_then(|_| after(rest, &B)))
    {
        RowKind::HeightButtock(level_mm(level, lengths)?)
    } else if let Some(level) = after(rest, &WATERLINE).filter(|_| height.is_none()) {
        RowKind::HalfBreadthWaterline(level_mm(level, lengths)?)
    } else {
        return Err(NameError::Unknown);
    };
    Ok(RowName::Offsets(kind))
}

/// The end of `typed` that reads `rest` in small letters.
fn as_typed(typed: &str, rest: &str) -> String {
    let ends = typed.char_indices().rev().filter_map(|(i, _)| typed.get(i..));
    ends.map(str::trim).find(|end| plain(end) == rest).unwrap_or(rest).to_owned()
}

/// Small letters, one space between words.
fn plain(name: &str) -> String {
    name.to_lowercase().replace('_', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn level_mm(text: &str, lengths: Notation) -> Result<f64, NameError> {
    read_length(text, Some(lengths)).map_err(NameError::Level)
}

/// What follows one of `words` at the start of `name`; the words of a phrase may be joined by `-`. A hyphen that
/// touches the word joins; one after a space is a minus.
fn after<'a>(name: &'a str, words: &[&str]) -> Option<&'a str> {
    words.iter().find_map(|phrase| {
        let mut rest = name;
        for (i, word) in phrase.split(' ').enumerate() {
            if i > 0 {
                rest = rest.strip_prefix([' ', '-'])?;
            }
            rest = rest.strip_prefix(word)?;
        }
        match rest.chars().next() {
            None => Some(rest),
            Some(' ') => Some(rest.trim_start()),
            Some('-') => rest.get(1..),
            // `wl6in`, but not `b` of `base`.
            Some(c) if c.is_ascii_digit() => Some(rest),
            Some(_) => None,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use RowKind::{Diagonal as Diag, HalfBreadthRabbet, HalfBreadthSheer, HalfBreadthWaterline, HeightButtock};
    use RowKind::{HeightRabbet, HeightSheer};

    #[test]
    fn names_as_plans_print_them() {
        let diagonals = [Diagonal { name: "A".to_owned(), height: 500.0, below_level: 0.7 }];
        for (name, kind) in [
            ("height sheer", HeightSheer),
            ("Height of Deck", HeightSheer),
            ("height_deck", HeightSheer),
            ("h-sheer", HeightSheer),
            ("HEIGHT RABBET", HeightRabbet),
            ("half-breadth sheer", HalfBreadthSheer),
            ("half breadth  at deck", HalfBreadthSheer),
            ("hb_deck", HalfBreadthSheer),
            ("hb rabbet", HalfBreadthRabbet),
            ("half-breadth waterline 1-6-0", HalfBreadthWaterline(457.2)),
            ("half-breadth-waterline-450", HalfBreadthWaterline(450.0)),
            ("hb wl -50", HalfBreadthWaterline(-50.0)),
            ("hb_wl6in", HalfBreadthWaterline(152.4)),
            ("WL 12 in", HalfBreadthWaterline(304.8)),
            ("height buttock 200", HeightButtock(200.0)),
            ("h b 8 in", HeightButtock(203.2)),
            ("buttock 0-8-0", HeightButtock(203.2)),
            ("Diagonal a", Diag(0)),
            ("diag-A", Diag(0)),
        ] {
            assert_eq!(row_name(name, Notation::Mm, &diagonals), Ok(RowName::Offsets(kind)), "{name}");
        }
        assert_eq!(row_name("At", Notation::Mm, &[]), Ok(RowName::At));
        assert_eq!(row_name("diagonal B", Notation::Mm, &diagonals), Err(NameError::NoDiagonal("B".to_owned())));
        for level in ["half-breadth waterline", "hb wl six", "height buttock 3/7 in"] {
            assert!(matches!(row_name(level, Notation::Mm, &[]), Err(NameError::Level(_))), "{level}");
        }
        for unknown in [
            "",
            "1",
            "X",
            "transom",
            "sheer",
            "height",
            "height wl 3",
            "half-breadth buttock 3",
            "d 7",
            "b",
            "B2",
            "w1",
            "base",
            "√",
        ] {
            assert_eq!(row_name(unknown, Notation::Mm, &diagonals), Err(NameError::Unknown), "{unknown}");
        }
    }
}
