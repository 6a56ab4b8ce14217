//! Places picked along stations and lines, as a table of offsets.

use super::fit::{LENGTHS, PIXELS};
use super::{Laid, Pixel, PlanSheetError as Error};
use crate::offsets::RowKind;
use crate::read_in::in_csv;
use crate::units::Notation;
use crate::words::shown;
use std::fmt::Write as _;

/// A view of the lines plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// Sections: along is out from the centreline, to either side, up is above base.
    BodyPlan,
    /// From the side: along is aft of the first station, up is above base.
    Profile,
    /// From above: along is aft of the first station, up is out from the centreline, to either side.
    HalfBreadth,
}

/// A place picked.
#[derive(Debug, Clone, PartialEq)]
pub struct Pick {
    /// The station's name.
    pub station: String,
    /// What it is.
    pub row: RowKind,
    /// Where in the picture.
    pub pixel: Pixel,
}

/// An entry that was read off.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The station's name.
    pub station: String,
    /// What it is.
    pub row: RowKind,
    /// Its value, mm.
    pub mm: f64,
    /// How far it may be off, mm: one in twenty further.
    pub within: f64,
    /// How far it was picked off the line that it lies on, mm.
    pub off_line: f64,
    /// How often it was picked; the mean is taken.
    pub times: usize,
}

/// offsets.csv and how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct OfPlan {
    /// offsets.csv.
    pub table: String,
    /// A table of the same rows and stations: how far each entry may be off, mm.
    pub accuracy: String,
}

/// So many letters of a station's name, and of the names of all, are given.
const MOST_NAME: usize = 40;
const MOST_KNOWN: usize = 300;
/// A pick may lie off the line it belongs to by so many times what it may be off, or so many mm.
const OFF_LINE: [f64; 2] = [3.0, 3.0];
/// And so may two picks of one entry.
const UNLIKE: [f64; 2] = [2.0, 4.0];

impl View {
    fn name(self) -> &'static str {
        match self {
            View::BodyPlan => "body plan",
            View::Profile => "profile",
            View::HalfBreadth => "half-breadth plan",
        }
    }

    /// Which of along and up is the entry, and where the other must be; `None` where the view does not show it.
    fn shows(self, row: &RowKind, at: f64) -> Option<(usize, Option<f64>)> {
        use RowKind::{
            Diagonal, HalfBreadthRabbet, HalfBreadthSheer, HalfBreadthWaterline, HeightButtock, HeightRabbet,
            HeightSheer,
        };
        match (self, row) {
            (_, Diagonal(_)) => None,
            (View::BodyPlan, HeightSheer | HeightRabbet) => Some((1, None)),
            (View::BodyPlan, HalfBreadthSheer | HalfBreadthRabbet) => Some((0, None)),
            (View::BodyPlan, HeightButtock(y)) => Some((1, Some(*y))),
            (View::BodyPlan, HalfBreadthWaterline(z)) => Some((0, Some(*z))),
            (View::Profile, HeightSheer | HeightRabbet | HeightButtock(_)) => Some((1, Some(at))),
            (View::HalfBreadth, HalfBreadthSheer | HalfBreadthRabbet | HalfBreadthWaterline(_)) => {
                Some((1, Some(at)))
            }
            _ => None,
        }
    }
}

/// A row's name in a table.
#[must_use]
pub fn name(row: &RowKind, lengths: Notation) -> String {
    let level = |mm: f64| match lengths {
        Notation::Mm => tenth(mm),
        _ => format!("{} in", Notation::Inches.long(mm)),
    };
    match row {
        RowKind::HeightSheer => "height sheer".to_owned(),
        RowKind::HeightRabbet => "height rabbet".to_owned(),
        RowKind::HeightButtock(y) => format!("height buttock {}", level(*y)),
        RowKind::HalfBreadthSheer => "half-breadth sheer".to_owned(),
        RowKind::HalfBreadthRabbet => "half-breadth rabbet".to_owned(),
        RowKind::HalfBreadthWaterline(z) => format!("half-breadth waterline {}", level(*z)),
        RowKind::Diagonal(i) => format!("diagonal {}", i + 1),
    }
}

/// To 0.1 mm.
pub(super) fn tenth(mm: f64) -> String {
    let text = format!("{:.1}", (mm * 10.0).round() / 10.0 + 0.0);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Reads picks off one view; `stations` are all there are, with their distances aft of the first, mm.
///
/// # Errors
/// A pick at no station, of nothing that the view shows, or far from its line.
pub fn read_off(laid: &Laid, view: View, stations: &[(String, f64)], picks: &[Pick]) -> Result<Vec<Entry>, Error> {
    let mut all: Vec<Entry> = Vec::new();
    for pick in picks {
        let at = stations.iter().find(|s| s.0 == pick.station).map(|s| s.1).ok_or_else(|| Error::NoStation {
            found: shown(&pick.station, MOST_NAME),
            known: shown(&stations.iter().map(|s| s.0.as_str()).collect::<Vec<_>>().join(", "), MOST_KNOWN),
        })?;
        let row = || name(&pick.row, Notation::Mm);
        let (d, line) = view.shows(&pick.row, at).ok_or_else(|| {
            let other = match pick.row {
                RowKind::Diagonal(_) => "none: measure it on the plan",
                _ if pick.row.is_height() => "the profile or the body plan",
                _ => "the half-breadth plan or the body plan",
            };
            Error::NotShown { row: row(), station: pick.station.clone(), view: view.name(), other }
        })?;
        let mut place = laid.place(pick.pixel);
        // Either side of the centreline may be drawn.
        match view {
            View::BodyPlan => place[0] = place[0].abs(),
            View::HalfBreadth => place[1] = place[1].abs(),
            View::Profile => {}
        }
        let within = laid.within(pick.pixel, 1);
        // Near the horizon of a picture taken aslant, and beyond it, there is no plan.
        let no_pixel = pick.pixel.iter().any(|p| !p.is_finite() || p.abs() > PIXELS);
        if no_pixel || place.iter().chain(&within).any(|mm| !mm.is_finite() || mm.abs() > LENGTHS[1]) {
            let (station, at, pixels, most) = (pick.station.clone(), pick.pixel, PIXELS, LENGTHS[1]);
            return Err(Error::OffPlan { row: row(), station, at, pixels, most });
        }
        let off_line = line.map_or(0.0, |l| (place[1 - d] - l).abs());
        let limit = (OFF_LINE[0] * within[1 - d]).max(OFF_LINE[1]);
        if off_line > limit {
            return Err(Error::OffLine { row: row(), station: pick.station.clone(), mm: off_line, limit });
        }
        let entry = Entry {
            station: pick.station.clone(),
            row: pick.row.clone(),
            mm: place[d],
            within: within[d],
            off_line,
            times: 1,
        };
        match all.iter_mut().find(|e| e.station == entry.station && e.row == entry.row) {
            None => all.push(entry),
            Some(first) => {
                let limit = (UNLIKE[0] * (first.within + entry.within)).max(UNLIKE[1]);
                if (first.mm - entry.mm).abs() > limit {
                    let (a, b) = (first.mm, entry.mm);
                    return Err(Error::Unlike { row: row(), station: pick.station.clone(), a, b, limit });
                }
                first.times += 1;
                first.mm += (entry.mm - first.mm) / first.times as f64;
                first.within = laid.within(pick.pixel, first.times)[d];
                first.off_line = first.off_line.max(off_line);
            }
        }
    }
    if all.is_empty() { Err(Error::Nothing) } else { Ok(all) }
}

/// The best of each entry, where two views give it.
///
/// # Errors
/// Two views that give an entry unlike, or no entries at all.
pub(super) fn best_of(entries: &[Entry]) -> Result<Vec<&Entry>, Error> {
    let mut best: Vec<&Entry> = Vec::new();
    for entry in entries {
        let Some(first) = best.iter_mut().find(|e| e.station == entry.station && e.row == entry.row) else {
            best.push(entry);
            continue;
        };
        let limit = (UNLIKE[0] * (first.within + entry.within)).max(UNLIKE[1]);
        if (first.mm - entry.mm).abs() > limit {
            let (row, station) = (name(&entry.row, Notation::Mm), entry.station.clone());
            return Err(Error::Unlike { row, station, a: first.mm, b: entry.mm, limit });
        }
        if entry.within < first.within {
            *first = entry;
        }
    }
    if best.is_empty() { Err(Error::Nothing) } else { Ok(best) }
}

/// How far entries may be off as a rule and at worst, mm: one in twenty further; `None` where there is no table of them.
#[must_use]
pub fn good_to(entries: &[Entry]) -> Option<[f64; 2]> {
    let best = best_of(entries).ok()?;
    let worst = best.iter().map(|e| e.within).fold(0.0, f64::max);
    let squares: f64 = best.iter().map(|e| e.within * e.within).sum();
    Some([(squares / best.len() as f64).sqrt(), worst])
}

/// Entries of one or of several views as offsets.csv; where two views give one entry, the better is taken.
///
/// # Errors
/// Two views that give an entry unlike, or no entries at all.
pub fn table(entries: &[Entry], stations: &[(String, f64)], lengths: Notation) -> Result<OfPlan, Error> {
    let best = best_of(entries)?;
    let worst = best.iter().max_by(|a, b| a.within.total_cmp(&b.within)).ok_or(Error::Nothing)?;
    let mut rows: Vec<RowKind> = Vec::new();
    for entry in &best {
        if !rows.contains(&entry.row) {
            rows.push(entry.row.clone());
        }
    }
    rows.sort_by(|a, b| rank(a).0.cmp(&rank(b).0).then(rank(b).1.total_cmp(&rank(a).1)));
    let long = |mm: f64| if lengths == Notation::Mm { tenth(mm) } else { lengths.long(mm) };
    let [usual, _] = good_to(entries).unwrap_or_default();
    let mut table = format!(
        "# Read off a picture of the plan. Entries are good to {usual:.1} mm as a rule and {:.1} mm at worst ({}, station {}): one in \
         twenty is further off.\n",
        worst.within,
        name(&worst.row, Notation::Mm),
        worst.station.replace(['\n', '\r'], " ")
    );
    let mut accuracy = "# How far each entry may be off, mm: one in twenty is further.\n".to_owned();
    let names: Vec<String> = stations.iter().map(|s| in_csv(&s.0)).collect();
    for text in [&mut table, &mut accuracy] {
        let _ = writeln!(text, "row,{}", names.join(","));
    }
    let at: Vec<String> = stations.iter().map(|s| if is_transom(&s.0) { String::new() } else { long(s.1) }).collect();
    let _ = writeln!(table, "at,{}", at.join(","));
    for row in &rows {
        let entry = |station: &str| best.iter().find(|e| e.station == station && e.row == *row);
        let cells = |f: &dyn Fn(&Entry) -> String| -> String {
            let cell = |s: &(String, f64)| entry(&s.0).map_or_else(String::new, |e| f(e));
            stations.iter().map(cell).collect::<Vec<_>>().join(",")
        };
        let least = row.least();
        let _ = writeln!(table, "{},{}", name(row, lengths), cells(&|e| long(e.mm.max(least))));
        let _ = writeln!(accuracy, "{},{}", name(row, lengths), cells(&|e| format!("{:.1}", e.within)));
    }
    Ok(OfPlan { table, accuracy })
}

fn is_transom(name: &str) -> bool {
    ["transom", "bow transom"].contains(&name.to_lowercase().as_str())
}

/// The order of rows in a table, and of levels in it from the highest.
fn rank(row: &RowKind) -> (usize, f64) {
    match row {
        RowKind::HeightSheer => (0, 0.0),
        RowKind::HeightButtock(y) => (1, *y),
        RowKind::HeightRabbet => (2, 0.0),
        RowKind::HalfBreadthSheer => (3, 0.0),
        RowKind::HalfBreadthWaterline(z) => (4, *z),
        RowKind::HalfBreadthRabbet => (5, 0.0),
        RowKind::Diagonal(i) => (6, -(*i as f64)),
    }
}
