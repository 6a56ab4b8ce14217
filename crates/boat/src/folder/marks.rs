//! marks.csv: the marks the builder has pinned.

use super::Pin;
use super::columns::{Column, List, ListError, ListProblem};
use crate::offsets::{StationAt, Table};
use crate::spec::Spec;

const COLUMNS: [Column; 4] = [
    Column { name: "land", required: true, length: false },
    Column { name: "station", required: true, length: false },
    Column { name: "girth", required: true, length: true },
    Column { name: "notes", required: false, length: false },
];

/// Most strakes a boat may have.
pub const MOST_STRAKES: u32 = 40;
/// Longest girth of a mould, mm.
const MOST_GIRTH: f64 = 10_000.0;
/// A mark of land 0 may be this far off the rabbet, mm: the rounding of a tape.
const ON_RABBET: f64 = 1.0;

/// Reads the pins.
pub fn read(text: &str, spec: &Spec, table: &Table) -> Result<Vec<Pin>, ListError> {
    let list = List::read("marks.csv", &COLUMNS, text)?;
    let most = spec.planking.strakes.unwrap_or(MOST_STRAKES);
    let mut stations = vec![spec.fore.word(false).to_owned()];
    stations.extend(table.stations.iter().filter(|s| matches!(s.at, StationAt::Square(_))).map(|s| s.name.clone()));
    stations.push(spec.aft.word(true).to_owned());

    let mut pins: Vec<Pin> = Vec::new();
    for record in &list.lines {
        let found = list.text(record, "land")?.to_owned();
        let land: u32 = match found.parse() {
            Ok(land) if land <= most => land,
            Ok(_) => {
                let range = format!("0 (the rabbet) to {most}");
                return Err(list.trouble(record, "land", ListProblem::Range { found, range }));
            }
            Err(_) => return Err(list.trouble(record, "land", ListProblem::Count { found })),
        };
        let typed = list.text(record, "station")?;
        let Some(station) = stations.iter().find(|s| s.to_lowercase() == typed.to_lowercase()) else {
            let problem = ListProblem::UnknownStation { found: typed.to_owned(), known: stations.join(", ") };
            return Err(list.trouble(record, "station", problem));
        };
        let girth = list.length(record, "girth", spec.lengths, [0.0, MOST_GIRTH])?;
        if land == 0 && girth > ON_RABBET {
            let problem = ListProblem::NotOnRabbet { found: spec.lengths.said(girth) };
            return Err(list.trouble(record, "girth", problem));
        }
        for other in pins.iter().filter(|p| p.station == *station) {
            if other.land == land {
                let what = format!("land {land} at station {station}");
                return Err(list.trouble(record, "land", ListProblem::Twice { what, first: other.line }));
            }
            if (other.land < land) != (other.girth < girth) {
                let (low, high) = if other.land < land { (other.land, land) } else { (land, other.land) };
                let (low_at, high_at) = if other.land < land { (other.girth, girth) } else { (girth, other.girth) };
                let problem = ListProblem::NotAbove {
                    land: high,
                    found: spec.lengths.said(high_at),
                    below: low,
                    below_at: spec.lengths.said(low_at),
                    below_line: other.line,
                };
                return Err(list.trouble(record, "girth", problem));
            }
        }
        pins.push(Pin { land, station: station.clone(), girth, line: record.line });
    }
    Ok(pins)
}
