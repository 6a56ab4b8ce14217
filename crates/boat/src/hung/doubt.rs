//! Readings that cannot be right: they are not used but asked for again.

use super::Reading;
use crate::units::Notation;

/// A reading that is not used but asked for again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// The reading.
    pub reading: Reading,
    /// Index into the plan's sections.
    pub section: usize,
    /// What is wrong with it.
    pub doubt: Doubt,
}

/// Why a reading cannot be right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// The other readings along the strake have it elsewhere, and wood is stiff.
    Stiff {
        /// How far it is off the mark, mm, + above.
        off: f64,
        /// How far off the others say, mm.
        others: f64,
    },
    /// It is off the mould.
    OffMould {
        /// Where it would be, mm from the rabbet.
        girth: f64,
        /// The mould's girth, mm.
        whole: f64,
    },
    /// It leaves no room for the land below, or for those above.
    NoLap {
        /// What is left on the mould, mm.
        room: f64,
        /// What is needed, mm.
        needed: f64,
    },
    /// The section lies too flat there for a height to say where: each mm of height is so many along the mould.
    Flat {
        /// mm along the mould for a mm of height.
        each: f64,
    },
    /// No place on the mould has it.
    Nowhere,
}

impl Again {
    /// It in words, and what to do.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        let reading = self.reading.said(lengths);
        let repeat = "read it again; the same again is believed";
        match self.doubt {
            Doubt::Stiff { off, others } => {
                let way = if off < others { "lower" } else { "higher" };
                let by = lengths.said_fine((off - others).abs());
                format!(
                    "{reading}: {by} {way} than the readings beside it have the strake, and wood is stiff: {repeat}"
                )
            }
            Doubt::OffMould { girth, whole } => {
                let [girth, whole] = lengths.said_apart(girth, whole);
                format!("{reading}: that is {girth} from the rabbet, off the mould, whose girth is {whole}: {repeat}")
            }
            Doubt::NoLap { room, needed } => {
                let [room, needed] = lengths.said_apart(room, needed);
                format!("{reading}: that leaves {room} on the mould where the lands need {needed}: {repeat}")
            }
            Doubt::Flat { each } => format!(
                "{reading}: the section lies so flat there that each {} of height is {} along it: measure from the mark, \
                 or the width, in its stead",
                lengths.said_fine(FLAT_UNIT),
                lengths.said_fine(FLAT_UNIT * each)
            ),
            Doubt::Nowhere => {
                format!("{reading}: no place on the mould has it: measure from the mark in its stead")
            }
        }
    }
}

/// Heights are told of in these, mm.
const FLAT_UNIT: f64 = 10.0;
