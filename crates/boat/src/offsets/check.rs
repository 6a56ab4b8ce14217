//! What a table must have at every station, and what looks odd in it.

use super::problem::TableProblem as Problem;
use super::{RowKind, StationAt, Table};
use crate::findings::{Finding, Measure, Stage};
use crate::units::Notation;

/// Points a section is drawn through, counting rabbet and sheer.
const LEAST_POINTS: usize = 3;

/// A station that no section can be drawn at.
pub struct Unfit {
    /// Index into `Table::stations`.
    pub station: usize,
    /// Index into `Table::rows`, where one entry is to blame.
    pub row: Option<usize>,
    /// Why.
    pub problem: Problem,
}

/// The first station that no section can be drawn at.
pub fn stations(table: &Table, lengths: Notation) -> Result<(), Unfit> {
    for station in 0..table.stations.len() {
        let entry = |kind: &RowKind| entry(table, kind, station);
        let between = table.rows.iter().filter(|r| is_between(&r.kind) && r.cells[station].is_some()).count();
        let (height, half_breadth) = (entry(&RowKind::HeightSheer), entry(&RowKind::HalfBreadthSheer));
        let rabbet = entry(&RowKind::HeightRabbet);
        let (problem, to_blame) = if table.rows.iter().all(|r| r.cells[station].is_none()) {
            (Problem::NoEntries, None)
        } else if height.is_none() {
            (Problem::NoSheer { missing: "height sheer" }, Some(RowKind::HeightSheer))
        } else if half_breadth.is_none() {
            (Problem::NoSheer { missing: "half-breadth sheer" }, Some(RowKind::HalfBreadthSheer))
        } else if between + 2 < LEAST_POINTS {
            (Problem::TooFewPoints { found: between + 2, needed: LEAST_POINTS }, None)
        } else if let (Some(sheer), Some(rabbet)) = (height, rabbet)
            && sheer <= rabbet
        {
            let (sheer, rabbet) = (lengths.said(sheer), lengths.said(rabbet));
            (Problem::SheerBelowRabbet { sheer, rabbet }, Some(RowKind::HeightSheer))
        } else {
            continue;
        };
        let row = to_blame.and_then(|kind| table.rows.iter().position(|r| r.kind == kind));
        return Err(Unfit { station, row, problem });
    }
    Ok(())
}

/// Whether a row gives points between rabbet and sheer.
fn is_between(kind: &RowKind) -> bool {
    matches!(kind, RowKind::HeightButtock(_) | RowKind::HalfBreadthWaterline(_) | RowKind::Diagonal(_))
}

fn entry(table: &Table, kind: &RowKind, station: usize) -> Option<f64> {
    let row = table.rows.iter().find(|r| r.kind == *kind)?;
    row.cells.get(station)?.as_ref().map(|cell| cell.mm)
}

/// What can be read but should be looked at. `other_forms` are the places of entries in another notation than the
/// table's own.
pub fn findings(table: &Table, lengths: Notation, other_forms: &[String]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = other_notation(lengths, other_forms).into_iter().collect();
    findings.extend(names_in_order(table));
    findings.extend(no_rabbet(table));
    findings.extend(off_planking(table));
    findings
}

/// Entries in another notation than the table's own.
fn other_notation(lengths: Notation, places: &[String]) -> Option<Finding> {
    let first = places.first()?;
    let others = places.len() - 1;
    Some(Finding {
        stage: Stage::Offsets,
        place: if others == 0 { first.clone() } else { format!("{first}, and {others} more") },
        measured: Measure::Count(places.len() as f64),
        limit: Measure::Count(0.0),
        hint: format!(
            "written in another notation than the rest of the table ({}): read as written, but check it is meant",
            lengths.word()
        ),
    })
}

/// Stations without the rabbet's height, between those that have it.
fn no_rabbet(table: &Table) -> Option<Finding> {
    let given = |c: usize| entry(table, &RowKind::HeightRabbet, c).is_some();
    // Before the first entry and after the last, a plumb stem or post may leave no keel rabbet to measure.
    let all: Vec<usize> = (0..table.stations.len()).filter(|&c| given(c)).collect();
    let asked = match all[..] {
        [first, .., last] => first..last,
        _ => 0..table.stations.len(),
    };
    let square = |c: &usize| matches!(table.stations[*c].at, StationAt::Square(_));
    let without: Vec<&str> =
        asked.filter(|&c| !given(c)).filter(square).map(|c| table.stations[c].name.as_str()).collect();
    (!without.is_empty()).then(|| Finding {
        stage: Stage::Offsets,
        place: format!("height rabbet, station {}", without.join(", ")),
        measured: Measure::Count(without.len() as f64),
        limit: Measure::Count(0.0),
        hint: "no entry, so the rabbet there is drawn fair through its neighbours; fill it in if the plan has it"
            .to_owned(),
    })
}

/// Entries of waterlines above the sheer or below the rabbet.
fn off_planking(table: &Table) -> Vec<Finding> {
    let mut findings = Vec::new();
    for row in &table.rows {
        let RowKind::HalfBreadthWaterline(level) = row.kind else { continue };
        for (c, station) in table.stations.iter().enumerate().filter(|(c, _)| row.cells[*c].is_some()) {
            let [sheer, rabbet] = [RowKind::HeightSheer, RowKind::HeightRabbet].map(|kind| entry(table, &kind, c));
            let above = sheer.filter(|sheer| level > *sheer).map(|z| (z, "above", "sheer"));
            let below = rabbet.filter(|rabbet| level < *rabbet).map(|z| (z, "below", "rabbet"));
            findings.extend(above.into_iter().chain(below).map(|(end, side, edge)| Finding {
                stage: Stage::Offsets,
                place: format!("{}, station {}", row.name, station.name),
                measured: Measure::Length(level),
                limit: Measure::Length(end),
                hint: format!(
                    "an entry {side} the {edge}, where there is no planking: the {edge}'s height or this entry is wrong, \
                     or leave the cell empty"
                ),
            }));
        }
    }
    findings
}

/// Stations named with numbers that neither rise nor fall all along: columns may have been typed in the wrong order. Names
/// that are no numbers are passed over.
fn names_in_order(table: &Table) -> Option<Finding> {
    let number = |name: &str| name.parse().ok().filter(|n: &f64| n.is_finite());
    let numbers: Vec<(&str, f64)> =
        table.stations.iter().filter_map(|s| Some((s.name.as_str(), number(&s.name)?))).collect();
    // Plans number from either end: the first two say which way.
    let rising = numbers.first()?.1 < numbers.get(1)?.1;
    let turns: Vec<&[(&str, f64)]> =
        numbers.windows(2).filter(|w| if rising { w[1].1 <= w[0].1 } else { w[1].1 >= w[0].1 }).collect();
    let first = turns.first()?;
    Some(Finding {
        stage: Stage::Offsets,
        place: format!("station {} after {}", first[1].0, first[0].0),
        measured: Measure::Count(turns.len() as f64),
        limit: Measure::Count(0.0),
        hint: "the names of the stations do not run in order; do they stand in the table as on the plan, from forward aft?"
            .to_owned(),
    })
}
