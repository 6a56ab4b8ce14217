//! Entries of the table that the builder has settled: `[[entries]]` in boat.toml.
//!
//! A doubtful entry is looked up on the plan. Right after all, it is kept as printed; wrong, another length is taken; and
//! the reason stands beside it, where whoever builds from the folder next can read it. The table stays as printed.

use super::section::{CHECK, Section, Value};
use super::{BoatError, BoatProblem as Problem, range_said};
use crate::offsets::read::{HEIGHTS, WIDEST};
use crate::offsets::{RowKind, Table};
use crate::units::Notation;

/// Letters in a row's or station's name, and in a reason.
const LETTERS: usize = 120;
/// Most entries settled.
const MOST: usize = 200;
/// Says that the entry stands.
const AS_PRINTED: &str = "as printed";

/// One settled entry, not yet looked up in the table.
pub struct Settled {
    line: usize,
    key: String,
    row: String,
    station: String,
    /// mm; `None` for the entry as printed.
    take: Option<f64>,
    reason: String,
}

/// Reads `[[entries]]`.
pub fn read(root: &Section<'_>, lengths: Notation) -> Result<Vec<Settled>, BoatError> {
    let wanted = "[[entries]], each with row, station, take and reason,";
    let Some(value) = root.get("entries") else { return Ok(Vec::new()) };
    let one = |value: Value<'_>| -> Result<Settled, BoatError> {
        let section = value.section(wanted)?;
        section.only(&["row", "station", "take", "reason"])?;
        let take = section.need("take", "take = \"0-4-4\", or \"as printed\"")?;
        Ok(Settled {
            line: value.line,
            key: value.key.clone(),
            row: section.need("row", "row = \"half-breadth sheer\"")?.words(LETTERS)?,
            station: section.need("station", "station = \"3\"")?.words(LETTERS)?,
            take: if take.string() == Some(AS_PRINTED) { None } else { Some(take.length(lengths)?) },
            reason: section.need("reason", "reason = \"read again on the plan\"")?.words(LETTERS)?,
        })
    };
    value.list([1, MOST], wanted)?.into_iter().map(one).collect()
}

/// Settles them in the table. What is taken instead of an entry keeps to what an entry may be, for the stages after rely on
/// it.
pub fn apply(settled: Vec<Settled>, table: &mut Table, lengths: Notation) -> Result<(), BoatError> {
    let mut places: Vec<[usize; 2]> = Vec::with_capacity(settled.len());
    for s in &settled {
        let [r, c] = s.place(table)?;
        if let Some(first) = places.iter().position(|p| *p == [r, c]) {
            return Err(s.trouble("station", Problem::SettledTwice { first: settled[first].line }));
        }
        places.push([r, c]);
        let row = &mut table.rows[r];
        let range = range(&row.kind);
        let Some(cell) = row.cells[c].as_mut() else {
            return Err(s.trouble("station", Problem::NoEntry));
        };
        if let Some(mm) = s.take.filter(|mm| !(range[0]..=range[1]).contains(mm)) {
            let (found, range) = (lengths.said(mm), range_said(lengths, range));
            return Err(s.trouble("take", Problem::Range { found, range, hint: CHECK }));
        }
        cell.mm = s.take.unwrap_or(cell.mm);
        cell.settled = Some(s.reason.clone());
    }
    // When all are settled: sheer and rabbet of one station may both have been wrong.
    for (s, [_, c]) in settled.iter().zip(places) {
        if let [Some(sheer), Some(rabbet)] = sheer_and_rabbet(table, c)
            && sheer <= rabbet
        {
            let [sheer, rabbet] = [sheer, rabbet].map(|mm| lengths.said(mm));
            return Err(s.trouble("take", Problem::SheerUnderRabbet { sheer, rabbet }));
        }
    }
    Ok(())
}

impl Settled {
    fn trouble(&self, part: &str, problem: Problem) -> BoatError {
        BoatError { line: self.line, key: format!("{}.{part}", self.key), problem }
    }

    /// Row and column of the table.
    fn place(&self, table: &Table) -> Result<[usize; 2], BoatError> {
        let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
        let among = |found: &str, known: Vec<&str>| {
            let known = known.iter().map(|k| format!("\"{k}\"")).collect::<Vec<_>>().join(", ");
            Problem::Word { found: found.to_owned(), known: format!("one of {known}") }
        };
        let Some(c) = table.stations.iter().position(|station| same(&station.name, &self.station)) else {
            let known = table.stations.iter().map(|station| station.name.as_str()).collect();
            return Err(self.trouble("station", among(&self.station, known)));
        };
        let Some(r) = table.rows.iter().position(|row| same(&row.name, &self.row)) else {
            let known = table.rows.iter().map(|row| row.name.as_str()).collect();
            return Err(self.trouble("row", among(&self.row, known)));
        };
        Ok([r, c])
    }
}

/// Least and most that an entry may say, mm.
fn range(kind: &RowKind) -> [f64; 2] {
    [kind.least(), if kind.is_height() { HEIGHTS[1] } else { WIDEST }]
}

/// Heights of the sheer and of the rabbet at a station, mm.
fn sheer_and_rabbet(table: &Table, station: usize) -> [Option<f64>; 2] {
    [RowKind::HeightSheer, RowKind::HeightRabbet].map(|kind| {
        let row = table.rows.iter().find(|r| r.kind == kind)?;
        row.cells.get(station)?.as_ref().map(|cell| cell.mm)
    })
}
