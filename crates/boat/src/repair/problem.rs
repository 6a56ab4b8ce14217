//! Why no plank comes of the readings.

use super::{LandOf, Place, Spot};
use crate::development::FlattenError;
use crate::planks::PlanksError;
use crate::planks::problem::MOST_BEVEL as MOST_LAID;
use crate::units::Notation;

/// Why no plank comes of the readings. Each names the file, the line, the value, the limit and what to do.
#[derive(Debug, Clone, PartialEq)]
pub enum RepairError {
    /// Too few places.
    TooFew {
        /// Places found.
        found: usize,
        /// Least.
        least: usize,
    },
    /// A place that is not abaft the one before.
    OutOfOrder {
        /// Its line.
        line: usize,
        /// Its name.
        place: String,
        /// The column.
        column: &'static str,
        /// Where it stands, mm.
        along: f64,
        /// Where the one before stands, mm.
        before: f64,
    },
    /// The edge above is not beyond the edge below.
    Crossing {
        /// Its line.
        line: usize,
        /// The place.
        place: String,
        /// From edge to edge, up her side, mm.
        gap: f64,
        /// Least, mm.
        least: f64,
    },
    /// The two edges stand so that no plank so thick goes between them.
    NoRoom {
        /// Its line.
        line: usize,
        /// The place.
        place: String,
        /// From edge to edge, mm.
        apart: f64,
        /// The plank's thickness, mm.
        thickness: f64,
    },
    /// A spot on a neighbour's face that lies too near its edge, or on the wrong side of it.
    FaceTooNear {
        /// Its line.
        line: usize,
        /// The place.
        place: String,
        /// The spot.
        spot: Spot,
        /// From the edge, mm.
        apart: f64,
        /// Least, mm.
        least: f64,
    },
    /// Too few places at which a neighbour's face was measured.
    TooFewFaces {
        /// The spot.
        spot: Spot,
        /// Places found.
        found: usize,
        /// Least.
        least: usize,
    },
    /// A neighbour's face that leans too far.
    TooSteep {
        /// Its line.
        line: usize,
        /// The place.
        place: String,
    },
    /// A plank cannot be hung.
    Planks {
        /// The land on that plank's upper edge.
        land: LandOf,
        /// Why.
        why: PlanksError,
    },
    /// The plank has no flat shape.
    Flatten(FlattenError),
}

impl RepairError {
    /// A place's trouble.
    pub(super) fn at(place: &Place) -> (usize, String) {
        (place.line, place.name.clone())
    }

    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        let at = |line: &usize, place: &String| format!("readings.csv, line {line}, place {place}");
        match self {
            RepairError::TooFew { found, least } => format!(
                "readings.csv: {found} places are measured, and {least} is the least through which a plank's edge can be laid \
                 fair: measure more between them"
            ),
            RepairError::OutOfOrder { line, place, column, along, before } => {
                let [along, before] = lengths.said_apart(*along, *before);
                format!(
                    "{}, {column}: {along} is not abaft the place on the line before, at {before}: list the places from \
                     forward, and check the figure",
                    at(line, place)
                )
            }
            RepairError::Crossing { line, place, gap, least } => {
                let [gap, least] = lengths.said_apart(*gap, *least);
                format!(
                    "{}, edge_above_up: the edge above stands {gap} from the edge below, up her side or out, and {least} is the \
                     least: were the two exchanged, or a minus sign left out?",
                    at(line, place)
                )
            }
            RepairError::NoRoom { line, place, apart, thickness } => {
                let [apart, thickness] = lengths.said_apart(*apart, *thickness);
                format!(
                    "{}, edge_above_in: the two edges are {apart} apart, and a plank {thickness} thick does not go between them: \
                     check both edges' readings, and planking.thickness in repair.toml",
                    at(line, place)
                )
            }
            RepairError::FaceTooNear { line, place, spot, apart, least } => {
                let [apart, least] = lengths.said_apart(*apart, *least);
                format!(
                    "{}, {}_up: it is {apart} past its plank's edge, away from the gap, and {least} is the least: measure further \
                     from the edge, clear of the land",
                    at(line, place),
                    spot.word()
                )
            }
            RepairError::TooFewFaces { spot, found, least } => format!(
                "readings.csv, {}_in: only {found} places have it, and {least} is the least through which the slope of that face \
                 can be laid fair: leave it empty only where the plank is too narrow to measure",
                spot.word()
            ),
            RepairError::TooSteep { line, place } => format!(
                "{}, face_below_in: the land would have to be bevelled by more than {MOST_BEVEL:.0}° one way or the other: check \
                 the spots on the plank below and the edge above",
                at(line, place)
            ),
            RepairError::Planks { why: PlanksError::TooNarrow { section, width, least, .. }, .. } => {
                let [width, least] = lengths.said_apart(*width, *least);
                format!(
                    "readings.csv, place {section}: the new plank would be {width} wide, which is no more than its land of {least}: \
                     check the edges there, and planking.lap in repair.toml"
                )
            }
            RepairError::Planks { land, why: PlanksError::NoEdge { section, degrees, lap, off, thickness, .. } } => {
                let (turning, on, spot) = match land {
                    LandOf::Lower => ("the new plank", "the plank below", Spot::FaceBelow.word()),
                    LandOf::Upper => ("the plank above", "the new one", Spot::FaceAbove.word()),
                };
                let turns = format!("{turning} turns {degrees:.0}° on {on}");
                if off < thickness {
                    return format!(
                        "readings.csv, place {section}: {turns}, and {:.0}° either way is the most that a land is bevelled: check \
                         {spot} there",
                        MOST_LAID.to_degrees()
                    );
                }
                let [off, thickness] = lengths.said_apart(*off, *thickness);
                let lap = lengths.said_fine(*lap);
                format!(
                    "readings.csv, place {section}: {turns}, and a land {lap} wide would take {off} off an edge {thickness} thick: \
                     check {spot} there, and planking.lap in repair.toml"
                )
            }
            RepairError::Flatten(why) => format!(
                "the plank cannot be laid flat ({why}): look for a reading that is far off, or for two places nearly at one spot"
            ),
        }
    }
}

/// Most that a land is bevelled either way, degrees.
pub(super) const MOST_BEVEL: f64 = 40.0;

impl std::error::Error for RepairError {}

impl std::fmt::Display for RepairError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}
