//! Entries of the table that the builder has settled: `[[entries]]` in boat.toml.
//!
//! A doubtful entry is looked up on the plan. Right after all, it is kept as printed; wrong, another length is taken; and
//! the reason stands beside it, where whoever builds from the folder next can read it. The table stays as printed.

use super::section::{Section, Value};
use super::{BoatError, BoatProblem as Problem};
use crate::offsets::Table;
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

/// Settles them in the table.
pub fn apply(settled: Vec<Settled>, table: &mut Table) -> Result<(), BoatError> {
    for s in settled {
        let trouble = |part: &str, problem| BoatError { line: s.line, key: format!("{}.{part}", s.key), problem };
        let among = |found: &str, known: Vec<&str>| {
            let known = known.iter().map(|k| format!("\"{k}\"")).collect::<Vec<_>>().join(", ");
            Problem::Word { found: found.to_owned(), known: format!("one of {known}") }
        };
        let same = |a: &str, b: &str| a.trim().eq_ignore_ascii_case(b.trim());
        let Some(c) = table.stations.iter().position(|station| same(&station.name, &s.station)) else {
            let known = table.stations.iter().map(|station| station.name.as_str()).collect();
            return Err(trouble("station", among(&s.station, known)));
        };
        let Some(r) = table.rows.iter().position(|row| same(&row.name, &s.row)) else {
            let known = table.rows.iter().map(|row| row.name.as_str()).collect();
            return Err(trouble("row", among(&s.row, known)));
        };
        let Some(cell) = table.rows[r].cells[c].as_mut() else {
            return Err(trouble("station", Problem::NoEntry));
        };
        cell.mm = s.take.unwrap_or(cell.mm);
        cell.settled = Some(s.reason);
    }
    Ok(())
}
