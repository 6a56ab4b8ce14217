//! Why something cannot go into her as boat.toml has it.

use crate::findings::{Finding, Measure, Stage};
use crate::units::Notation;

/// Where in boat.toml, and what is wrong there. `Display` gives lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct InteriorError {
    /// `interior.thwarts, item 2`.
    pub key: String,
    /// The trouble.
    pub problem: InteriorProblem,
}

/// The trouble. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum InteriorProblem {
    /// No station of that name.
    NoStation {
        /// As typed.
        station: String,
    },
    /// Before or behind her planking.
    OffTheBoat {
        /// `the fore edge`.
        what: &'static str,
        /// Where, aft of the first station.
        x: f64,
        /// What is allowed.
        fore: f64,
        /// What is allowed.
        aft: f64,
    },
    /// Above the sheer or below what it lies against.
    OffTheSide {
        /// `the underside`.
        what: &'static str,
        /// Where, aft of the first station.
        x: f64,
        /// Above base.
        z: f64,
        /// What is allowed.
        low: f64,
        /// What is allowed.
        high: f64,
    },
    /// A thwart without a height, and no rising under it.
    NoRising {
        /// Where, aft of the first station.
        x: f64,
    },
    /// A knee on a thwart that is not there.
    NoThwart {
        /// Its number.
        thwart: usize,
        /// How many there are.
        thwarts: usize,
    },
    /// A knee on a thwart that cannot stand itself.
    ThwartLeftOut {
        /// Its number.
        thwart: usize,
    },
    /// An end that she has not.
    NoEnd {
        /// What is wanted.
        wanted: &'static str,
        /// What she has there.
        has: &'static str,
    },
    /// An inwale to lie against that is not there.
    NoInwale,
    /// An arm longer than what it lies on.
    Arm {
        /// Its key.
        arm: &'static str,
        /// As asked for.
        length: f64,
        /// The longest.
        room: f64,
        /// What ends there.
        of: &'static str,
    },
    /// The hollow cuts the arms through.
    Throat {
        /// As asked for.
        throat: f64,
        /// The least.
        least: f64,
    },
    /// The throat lies past the straight line between the arms' ends.
    ThroatDeep {
        /// As asked for.
        throat: f64,
        /// The most.
        most: f64,
    },
    /// Arms too short for tips as wide.
    NoRoom {
        /// As asked for.
        tip: f64,
    },
    /// No such land.
    Land {
        /// As asked for.
        land: u32,
        /// The last.
        most: usize,
    },
    /// Places that should run aft.
    Order {
        /// The place.
        x: f64,
        /// The one before it.
        before: f64,
    },
    /// No curve passes through its points.
    NoShape,
}

impl std::error::Error for InteriorError {}

impl std::fmt::Display for InteriorError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}

impl InteriorError {
    /// As something to look at: she is planked without it.
    #[must_use]
    pub fn finding(&self, lengths: Notation) -> Finding {
        Finding {
            stage: Stage::Interior,
            place: format!("boat.toml, {}", self.key),
            measured: Measure::Count(1.0),
            limit: Measure::Count(0.0),
            hint: format!("left out: {}", self.why(lengths)),
        }
    }

    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        format!("boat.toml: {}: {}", self.key, self.why(lengths))
    }

    fn why(&self, lengths: Notation) -> String {
        let l = |mm: f64| lengths.said_fine(mm);
        match &self.problem {
            InteriorProblem::NoStation { station } => {
                format!("no station is called “{station}”: write one of the table's, or at, aft of the first")
            }
            InteriorProblem::OffTheBoat { what, x, fore, aft } => format!(
                "{what} stands {} aft of the first station, off her planking, which runs from {} to {} at that height: check \
                 its digits and its sign, or move it",
                l(*x),
                l(*fore),
                l(*aft)
            ),
            InteriorProblem::OffTheSide { what, x, z, low, high } => format!(
                "{what} stands {} above base, {} aft of the first station; {} to {} is allowed there, from what it lies against \
                 to the sheer: check height or below_sheer",
                l(*z),
                l(*x),
                l(*low),
                l(*high)
            ),
            InteriorProblem::NoRising { x } => format!(
                "has no height, and no rising runs under its middle, {} aft of the first station: give height or below_sheer, \
                 or carry a rising past it (interior.risings)",
                l(*x)
            ),
            InteriorProblem::NoThwart { thwart, thwarts } => format!(
                "stands on thwart {thwart}, and there are {thwarts} (interior.thwarts): write the number of one of them"
            ),
            InteriorProblem::ThwartLeftOut { thwart } => {
                format!("stands on thwart {thwart}, which is left out itself: mend that first (interior.thwarts)")
            }
            InteriorProblem::NoEnd { wanted, has } => {
                format!("is for a {wanted}, and she has a {has} there: take it out, or give the other end")
            }
            InteriorProblem::NoInwale => {
                "lies against the inwale, and there is none: give [interior.inwale], or against = \"timbers\""
                    .to_owned()
            }
            InteriorProblem::Arm { arm, length, room, of } => {
                let [length, room] = lengths.said_apart(*length, *room);
                format!("{arm} is {length} long, and {of} leaves room for {room}: make it shorter")
            }
            InteriorProblem::Throat { throat, least } => format!(
                "a throat of {} cuts its arms thinner than their tips: {} is the least: make it deeper (throat), or the tips \
                 narrower (tip)",
                l(*throat),
                l(*least)
            ),
            InteriorProblem::ThroatDeep { throat, most } => format!(
                "a throat of {} lies past the straight line between the ends of its arms, {} from the corner: make it less \
                 (throat), or the arms longer",
                l(*throat),
                l(*most)
            ),
            InteriorProblem::NoRoom { tip } => format!(
                "its arms are too short for ends {} wide: make them narrower (tip), or the arms longer",
                l(*tip)
            ),
            InteriorProblem::Land { land, most } => {
                format!("land {land} is none of hers: write 1 to {most}, or leave it out for the sheer")
            }
            InteriorProblem::Order { x, before } => format!(
                "{} aft of the first station follows {}: write the places from forward, each once",
                l(*x),
                l(*before)
            ),
            InteriorProblem::NoShape => {
                "no fair line passes through its points: are two of them in one place?".to_owned()
            }
        }
    }
}
