//! marks.csv: the marks the builder has pinned.

use super::Pin;
use super::columns::{Column, List, ListError, ListProblem};
use crate::offsets::{StationAt, Table};
use crate::spec::Spec;
use crate::units::Notation;

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
        let pin = Pin { land, station: station.clone(), girth, line: record.line };
        for other in pins.iter().filter(|p| p.station == pin.station) {
            if other.land == land {
                let what = format!("land {land} at station {station}");
                return Err(list.trouble(record, "land", ListProblem::Twice { what, first: other.line }));
            }
            rises(&pin, other, spec.lengths).map_err(|problem| list.trouble(record, "girth", problem))?;
        }
        pins.push(pin);
    }
    Ok(pins)
}

/// Of two marks on one mould that of the higher land stands higher; `pin` is the one at hand, and `other` stands on a line before.
fn rises(pin: &Pin, other: &Pin, lengths: Notation) -> Result<(), ListProblem> {
    let (low, high) = if other.land < pin.land { (other, pin) } else { (pin, other) };
    if high.girth > low.girth {
        return Ok(());
    }
    let said = |mark: &Pin| {
        let girth = lengths.said(mark.girth);
        if mark.line == pin.line { girth } else { format!("{girth} (line {})", mark.line) }
    };
    Err(ListProblem::NotAbove { land: high.land, found: said(high), below: low.land, below_at: said(low) })
}
