//! The crown of a transom's top edge, which goes by the transom's breadth in the table.
//!
//! An arc that rises half the half-breadth spans 106°; twice that is half a circle. Transoms are flatter (common practice,
//! no source): a higher one is a slip.

use super::section::Section;
use super::{BoatError, BoatProblem as Problem};
use crate::offsets::{RowKind, StationAt, Table};
use crate::units::Notation;

/// Highest crown as a share of the half-breadth at the sheer.
const MOST: f64 = 0.5;

/// A crown as typed, not yet held to the table.
pub struct Crown {
    line: usize,
    key: String,
    mm: f64,
    at: StationAt,
}

/// The crowns in boat.toml.
pub fn read(root: &Section<'_>, lengths: Notation) -> Result<Vec<Crown>, BoatError> {
    let mut crowns = Vec::new();
    for (name, at) in [("bow_transom", StationAt::BowTransom), ("transom", StationAt::Transom)] {
        let Some(value) = root.section(name)?.and_then(|s| s.get("crown")) else { continue };
        crowns.push(Crown { line: value.line, key: value.key.clone(), mm: value.length(lengths)?, at });
    }
    Ok(crowns)
}

/// None is higher than its transom's breadth allows.
pub fn check(crowns: &[Crown], table: &Table, lengths: Notation) -> Result<(), BoatError> {
    let sheer = table.rows.iter().find(|r| r.kind == RowKind::HalfBreadthSheer);
    for crown in crowns {
        let column = table.stations.iter().position(|s| s.at == crown.at);
        let half = sheer.zip(column).and_then(|(row, c)| Some(row.cells.get(c)?.as_ref()?.mm));
        if let Some(half) = half.filter(|half| crown.mm > MOST * half) {
            let [crown_said, half, most] = [crown.mm, half, MOST * half].map(|mm| lengths.said(mm));
            let problem = Problem::Crown { crown: crown_said, half, most };
            return Err(BoatError { line: crown.line, key: crown.key.clone(), problem });
        }
    }
    Ok(())
}
