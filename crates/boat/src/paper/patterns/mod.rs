//! Full-size patterns: what is pricked through or glued on, and cut to.
//!
//! Each is one sheet in mm, drawn 1:1, whose layers are named by what they are; the writers (`roll`, `tile`, SVG, DXF)
//! see only that. One file to each kind of thing; everything in it comes from the plan.

mod canvas;
mod interior;
mod keel;
mod mould;
mod part;
mod plank;
pub mod repair;
mod stem;
mod tape;
mod transom;

pub(crate) use canvas::{BOX, TITLE, drawn, is_furniture};

use super::book::length::Lengths;
use super::{About, PaperError, PaperSize, roll, tile, write_pdf};
use crate::drawing::Sheet;
use crate::drawing::typeface::Type;
use crate::lines::SectionAt;
use crate::plan::Plan;

/// What a pattern is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A mould, both halves.
    Mould,
    /// The rabbet of a stem or sternpost in profile.
    Stem,
    /// The keel: its rabbet in profile and plan, and cut across at each station.
    Keel,
    /// The transom, both halves.
    Transom,
    /// A plank laid flat.
    Plank,
    /// A land straightened out, with a tick for every rivet, timber and station.
    Tape,
    /// An end of a thwart, a breasthook, a knee.
    Interior,
}

impl Kind {
    /// All of them, in the order in which they are drawn.
    pub const ALL: [Kind; 7] =
        [Kind::Mould, Kind::Stem, Kind::Keel, Kind::Transom, Kind::Plank, Kind::Tape, Kind::Interior];
}

/// One pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// What it is of.
    pub kind: Kind,
    /// As it stands on it: `Mould 3`, `Strake 1 of 10`.
    pub name: String,
    /// The name of a file of its own, without its ending: small letters, digits and hyphens; no two are the same.
    pub file_name: String,
    /// At full size.
    pub sheet: Sheet,
}

/// What every pattern needs to know.
struct Boat<'a> {
    plan: &'a Plan,
    t: &'a Type,
    len: Lengths,
}

/// All patterns of the kinds asked for: moulds from forward, stem and sternpost, keel, transom, planks and tapes from the keel,
/// thwarts' ends, breasthooks and knees.
#[must_use]
pub fn patterns(t: &Type, plan: &Plan, only: &[Kind]) -> Vec<Pattern> {
    let boat = Boat { plan, t, len: Lengths(plan.spec.lengths) };
    let at = |wanted: SectionAt| (0..plan.sections.len()).filter(move |&i| plan.sections[i].at == wanted);
    let mut found: Vec<(Kind, String, Sheet)> = Vec::new();
    for kind in Kind::ALL.into_iter().filter(|k| only.contains(k)) {
        let sheets: Vec<Sheet> = match kind {
            Kind::Mould => plan.moulds.iter().filter_map(|m| mould::sheet(&boat, m)).collect(),
            Kind::Stem => at(SectionAt::Post).filter_map(|i| stem::sheet(&boat, i)).collect(),
            Kind::Keel => keel::sheet(&boat).into_iter().collect(),
            Kind::Transom => at(SectionAt::BowTransom)
                .chain(at(SectionAt::Transom))
                .filter_map(|i| transom::sheet(&boat, i))
                .collect(),
            Kind::Plank => plan
                .flats
                .iter()
                .flat_map(|flat| plank::sheet(&boat, flat).into_iter().chain(part::sheets(&boat, flat)))
                .collect(),
            Kind::Tape => plan.strakes.iter().filter_map(|s| tape::sheet(&boat, s)).collect(),
            Kind::Interior => interior::sheets(&boat),
        };
        found.extend(sheets.into_iter().map(|sheet| (kind, sheet.title.clone(), sheet)));
    }
    let mut taken: Vec<String> = Vec::new();
    let named = |(kind, name, sheet): (Kind, String, Sheet)| {
        let file_name = file_name(kind, &name, &taken);
        taken.push(file_name.clone());
        Pattern { kind, name, file_name, sheet }
    };
    found.into_iter().map(named).collect()
}

/// `strake-03`, `mould-4`: so that a folder lists them in their order. A name taken already gets a number.
fn file_name(kind: Kind, name: &str, taken: &[String]) -> String {
    let name = if kind == Kind::Plank { name.split(" of ").next().unwrap_or(name) } else { name };
    let plain: String =
        name.chars().flat_map(char::to_lowercase).map(|c| if c.is_ascii_alphanumeric() { c } else { ' ' }).collect();
    let words: Vec<String> = plain
        .split_whitespace()
        .map(|w| {
            if matches!(kind, Kind::Plank | Kind::Tape) && w.len() == 1 && w.as_bytes()[0].is_ascii_digit() {
                format!("0{w}")
            } else {
                w.to_owned()
            }
        })
        .collect();
    let name: String = words.join("-").chars().take(LONGEST_NAME).collect();
    let free = |name: &String| !taken.contains(name);
    let numbered = (2..).map(|i| format!("{name}-{i}"));
    std::iter::once(name.clone()).chain(numbered).find(free).unwrap_or_default()
}

/// Most letters of a file's name.
const LONGEST_NAME: usize = 60;

/// The patterns on lengths of a roll of paper `width` mm wide, as many side by side as it takes.
#[must_use]
pub fn on_roll(t: &Type, patterns: &[Pattern], width: f64) -> Vec<Sheet> {
    roll::pages(t, &sheets(patterns), width)
}

/// The patterns on sheets of `paper`, each with a map of its pages before it.
#[must_use]
pub fn on_tiles(t: &Type, patterns: &[Pattern], paper: PaperSize) -> Vec<Sheet> {
    patterns.iter().flat_map(|p| tile::pages(t, &p.sheet, paper)).collect()
}

/// One PDF of pages that [`on_roll`] or [`on_tiles`] gave.
///
/// # Errors
/// If the PDF writer refuses; neither the boat nor a roll between [`roll::NARROWEST`] and [`roll::WIDEST`] gives cause for that.
pub fn write(t: &Type, plan: &Plan, pages: &[Sheet]) -> Result<Vec<u8>, PaperError> {
    write_pdf(t, pages, &about(plan))
}

/// [`on_roll`], written.
///
/// # Errors
/// As [`write()`].
pub fn write_roll(t: &Type, plan: &Plan, patterns: &[Pattern], width: f64) -> Result<Vec<u8>, PaperError> {
    write(t, plan, &on_roll(t, patterns, width))
}

/// [`on_tiles`], written.
///
/// # Errors
/// As [`write()`].
pub fn write_tiles(t: &Type, plan: &Plan, patterns: &[Pattern], paper: PaperSize) -> Result<Vec<u8>, PaperError> {
    write(t, plan, &on_tiles(t, patterns, paper))
}

fn sheets(patterns: &[Pattern]) -> Vec<&Sheet> {
    patterns.iter().map(|p| &p.sheet).collect()
}

fn about(plan: &Plan) -> About {
    About {
        title: format!("{}: patterns", plan.spec.name),
        subject: "Full-size patterns of a clinker boat, to be printed at 100 %".to_owned(),
        language: "en-GB".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_listed_in_their_order_and_no_two_are_one() {
        assert_eq!(file_name(Kind::Plank, "Strake 3 of 12", &[]), "strake-03");
        assert_eq!(file_name(Kind::Plank, "Strake 12 of 12", &[]), "strake-12");
        assert_eq!(file_name(Kind::Plank, "Strake 3 part 1 of 2", &[]), "strake-03-part-01");
        assert_eq!(file_name(Kind::Tape, "Tape of land 3", &[]), "tape-of-land-03");
        assert_eq!(file_name(Kind::Mould, "Mould 4 ½ / A", &[]), "mould-4-a");
        let taken = ["mould-a".to_owned(), "mould-a-2".to_owned()];
        assert_eq!(file_name(Kind::Mould, "Mould A", &taken), "mould-a-3");
    }
}
