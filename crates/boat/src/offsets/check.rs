//! What a table must have at every station, and what looks odd in it.

use super::problem::TableProblem as Problem;
use super::{RowKind, Table};
use crate::findings::{Finding, Measure, Stage};
use crate::units::Notation;

/// Points a section is drawn through, counting rabbet and sheer.
const LEAST_POINTS: usize = 3;

/// The first station, by index, that no section can be drawn at, and why.
pub fn stations(table: &Table, lengths: Notation) -> Result<(), (usize, Problem)> {
    for station in 0..table.stations.len() {
        let entry = |kind: &RowKind| entry(table, kind, station);
        let between = table.rows.iter().filter(|r| is_between(&r.kind) && r.cells[station].is_some()).count();
        let (height, half_breadth) = (entry(&RowKind::HeightSheer), entry(&RowKind::HalfBreadthSheer));
        let rabbet = entry(&RowKind::HeightRabbet);
        let problem = if table.rows.iter().all(|r| r.cells[station].is_none()) {
            Problem::NoEntries
        } else if height.is_none() {
            Problem::NoSheer { missing: "height sheer" }
        } else if half_breadth.is_none() {
            Problem::NoSheer { missing: "half-breadth sheer" }
        } else if between + 2 < LEAST_POINTS {
            Problem::TooFewPoints { found: between + 2, needed: LEAST_POINTS }
        } else if let (Some(sheer), Some(rabbet)) = (height, rabbet)
            && sheer <= rabbet
        {
            Problem::SheerBelowRabbet { sheer: lengths.said(sheer), rabbet: lengths.said(rabbet) }
        } else {
            continue;
        };
        return Err((station, problem));
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
    let mut findings = Vec::new();
    if let Some(first) = other_forms.first() {
        let others = other_forms.len() - 1;
        findings.push(Finding {
            stage: Stage::Offsets,
            place: if others == 0 { first.clone() } else { format!("{first}, and {others} more") },
            measured: Measure::Count(other_forms.len() as f64),
            limit: Measure::Count(0.0),
            hint: format!(
                "written in another notation than the rest of the table ({}): read as written, but check it is meant",
                lengths.word()
            ),
        });
    }
    // Before the first entry and after the last, a plumb stem or post may leave no keel rabbet to measure.
    let given: Vec<usize> =
        (0..table.stations.len()).filter(|&c| entry(table, &RowKind::HeightRabbet, c).is_some()).collect();
    let asked = match given[..] {
        [first, .., last] => first..last,
        _ => 0..table.stations.len(),
    };
    let no_rabbet: Vec<&str> = table
        .stations
        .iter()
        .enumerate()
        .filter(|(c, s)| {
            asked.contains(c)
                && entry(table, &RowKind::HeightRabbet, *c).is_none()
                && matches!(s.at, super::StationAt::Square(_))
        })
        .map(|(_, s)| s.name.as_str())
        .collect();
    if !no_rabbet.is_empty() {
        findings.push(Finding {
            stage: Stage::Offsets,
            place: format!("height rabbet, station {}", no_rabbet.join(", ")),
            measured: Measure::Count(no_rabbet.len() as f64),
            limit: Measure::Count(0.0),
            hint: "no entry, so the rabbet there is drawn fair through its neighbours; fill it in if the plan has it"
                .to_owned(),
        });
    }
    for row in &table.rows {
        let RowKind::HalfBreadthWaterline(level) = row.kind else { continue };
        for (c, station) in table.stations.iter().enumerate() {
            if row.cells[c].is_none() {
                continue;
            }
            let ends = [(RowKind::HeightSheer, true), (RowKind::HeightRabbet, false)];
            for (kind, above) in ends {
                let Some(end) = entry(table, &kind, c) else { continue };
                if if above { level > end } else { level < end } {
                    let (side, edge) = if above { ("above", "sheer") } else { ("below", "rabbet") };
                    findings.push(Finding {
                        stage: Stage::Offsets,
                        place: format!("{}, station {}", row.name, station.name),
                        measured: Measure::Length(level),
                        limit: Measure::Length(end),
                        hint: format!(
                            "an entry {side} the {edge}, where there is no planking: the {edge}'s height or this \
                             entry is wrong, or leave the cell empty"
                        ),
                    });
                }
            }
        }
    }
    findings
}
