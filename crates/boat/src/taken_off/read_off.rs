//! The table read off the sections at waterlines and buttocks.

use super::{Faired, Part};
use crate::units::{Notation, inches};
use std::fmt::Write as _;

/// Waterlines, at most.
const WATERLINES: usize = 8;
/// Buttocks, at most.
const BUTTOCKS: usize = 4;
/// Levels are this far apart, or one of the next, mm and inches.
const MM: [f64; 13] = [10.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 200.0];
const INCHES: [f64; 8] = [0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0];
/// Where a level crosses the section at less than this, degrees, nothing is read off: the tape's error grows by 1/sin.
const LEAST_CROSSING: f64 = 30.0;
/// A row with fewer entries than this is left out.
const LEAST_ENTRIES: usize = 3;
/// Pieces in which a section is followed.
const PIECES: usize = 2000;
/// A level nearer than this to rabbet or sheer is left out there, mm.
const CLEAR: f64 = 8.0;

/// offsets.csv, `heading` its first line.
pub fn table(heading: &str, sections: &[Faired], lengths: Notation) -> String {
    let at = |section: &Faired| match section.part {
        Part::Station => lengths.long(section.at),
        _ => String::new(),
    };
    let name = |section: &Faired| match section.part {
        Part::BowTransom => "bow transom".to_owned(),
        Part::Transom => "transom".to_owned(),
        _ => quoted(&section.name),
    };
    let mut text = format!("# {heading}\n");
    let mut row = |name: &str, cells: Vec<String>| {
        let _ = writeln!(text, "{name},{}", cells.join(","));
    };
    row("row", sections.iter().map(name).collect());
    row("at", sections.iter().map(at).collect());
    let end = |share: f64, d: usize| sections.iter().map(|s| lengths.long(s.at_share(share)[d])).collect();
    row("height sheer", end(1.0, 1));
    row("height rabbet", end(0.0, 1));
    row("half-breadth sheer", end(1.0, 0));
    row("half-breadth rabbet", end(0.0, 0));
    for (up, what, most) in [(false, "height buttock", BUTTOCKS), (true, "half-breadth waterline", WATERLINES)] {
        for level in levels(sections, up, most, lengths) {
            let cells: Vec<Option<f64>> = sections.iter().map(|s| crossing(s, level, up)).collect();
            if cells.iter().flatten().count() >= LEAST_ENTRIES {
                let said = cells.into_iter().map(|c| c.map_or_else(String::new, |mm| lengths.long(mm))).collect();
                row(&format!("{what} {}", level_said(level, lengths)), said);
            }
        }
    }
    text
}

fn quoted(name: &str) -> String {
    if name.contains([',', '"']) { format!("\"{}\"", name.replace('"', "\"\"")) } else { name.to_owned() }
}

fn level_said(mm: f64, lengths: Notation) -> String {
    match lengths {
        Notation::Mm => lengths.short(mm),
        Notation::Inches | Notation::FeetInchesEighths => format!("{} in", Notation::Inches.short(mm)),
    }
}

/// Heights of waterlines (`up`) or distances of buttocks, at even steps, as many as `most` allows.
fn levels(sections: &[Faired], up: bool, most: usize, lengths: Notation) -> Vec<f64> {
    let d = usize::from(up);
    let low = sections.iter().map(|s| s.at_share(0.0)[d]).fold(f64::MAX, f64::min);
    let high = sections.iter().map(|s| s.at_share(1.0)[d]).fold(f64::MIN, f64::max);
    let steps: Vec<f64> = match lengths {
        Notation::Mm => MM.to_vec(),
        Notation::Inches | Notation::FeetInchesEighths => INCHES.iter().map(|i| inches(*i)).collect(),
    };
    let between = |step: f64| -> Vec<f64> {
        let (from, to) = ((low / step).floor() as i64 + 1, (high / step).ceil() as i64);
        (from..to).map(|i| i as f64 * step).collect()
    };
    let fits = steps.iter().map(|s| between(*s)).find(|l| l.len() <= most);
    fits.unwrap_or_else(|| between((high - low) / most as f64))
}

/// Half-breadth at a height, or height at a half-breadth, where the section crosses it once and steeply enough.
fn crossing(section: &Faired, level: f64, up: bool) -> Option<f64> {
    let (d, other) = if up { (1, 0) } else { (0, 1) };
    let [from, to] = [section.at_share(0.0)[d], section.at_share(1.0)[d]];
    if (level - from).abs() < CLEAR || (level - to).abs() < CLEAR {
        return None;
    }
    let at = |i: usize| section.at_share(i as f64 / PIECES as f64);
    let mut found = (0..PIECES).filter(|i| (at(*i)[d] > level) != (at(i + 1)[d] > level));
    let i = found.next().filter(|_| found.next().is_none())?;
    let (a, b) = (at(i), at(i + 1));
    let (across, along) = ((b[d] - a[d]).abs(), (b[other] - a[other]).abs());
    (across.atan2(along).to_degrees() >= LEAST_CROSSING)
        .then(|| a[other] + (b[other] - a[other]) * (level - a[d]) / (b[d] - a[d]))
}
