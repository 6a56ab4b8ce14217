//! Why there is no boat to go on with.

use super::Again;
use crate::plan::PlanError;
use crate::units::Notation;

/// Why readings cannot be worked on.
#[derive(Debug, Clone, PartialEq)]
pub enum HungError {
    /// There is no plan, with the readings or without.
    Plan(Box<PlanError>),
    /// A strake that she has not.
    NoStrake {
        /// The strake.
        strake: usize,
        /// How many she has.
        strakes: usize,
    },
    /// A section that she has not.
    NoSection {
        /// The section.
        section: String,
        /// Those she has.
        known: String,
    },
    /// A value that is no length.
    NoLength {
        /// The reading.
        reading: String,
    },
    /// A reading, taken twice alike, that leaves no room for the planks.
    NoRoom {
        /// It.
        again: Box<Again>,
    },
    /// A strake hangs too near to a mark that the builder pinned.
    Pin {
        /// The reading nearest to it.
        reading: String,
        /// Line of `marks.csv`.
        line: usize,
        /// The pinned land.
        land: usize,
        /// Room between, mm.
        room: f64,
        /// Room needed, mm.
        needed: f64,
    },
    /// A plank cannot be laid on what hangs.
    NoBoat {
        /// The reading nearest to where.
        reading: String,
        /// Why.
        why: Box<PlanError>,
    },
}

impl From<PlanError> for HungError {
    fn from(why: PlanError) -> Self {
        HungError::Plan(Box::new(why))
    }
}

impl HungError {
    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            HungError::Plan(why) => why.said(lengths),
            HungError::NoStrake { strake, strakes } => {
                format!(
                    "a reading of strake {strake}: she has strakes 1 to {strakes}; take it back or name the right one"
                )
            }
            HungError::NoSection { section, known } => {
                format!("a reading at `{section}`: no section of that name; there are: {known}")
            }
            HungError::NoLength { reading } => format!("{reading}: that is no length; take the reading back"),
            HungError::NoRoom { again } => format!(
                "{}; read twice alike it is believed, and then no plank fits there: take it back if it is wrong, or take \
                 the plank off",
                again.said(lengths)
            ),
            HungError::Pin { reading, line, land, room, needed } => {
                let [room, needed] = lengths.said_apart(*room, *needed);
                format!(
                    "{reading}: that leaves {room} to land {land}, which line {line} of marks.csv pins, where {needed} is \
                     needed for the strakes between: free or move that pin"
                )
            }
            HungError::NoBoat { reading, why } => format!(
                "{reading}: on that the rest cannot be planked: {}. Read it again, and take it back if it is wrong",
                why.said(lengths)
            ),
        }
    }
}

impl std::error::Error for HungError {}

impl std::fmt::Display for HungError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}
