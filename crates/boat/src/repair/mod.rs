//! One plank from readings alone: a strake, or a length of one, taken out of a standing boat of which there is no table.
//!
//! The builder stretches a line fore and aft outside the gap and measures in from it and up from it, at a handful of places,
//! to four spots that a rule reaches from outside ([`Spot`]):
//!
//! ```text
//!            │ ╱ face above      on the outside of the plank above
//!   line ────┤╱  edge above      its lower outer corner
//!            │
//!            │   (the gap)
//!            │
//!            │╲  edge below      the upper outer corner of the plank below, as it stands with its bevel
//!            │ ╲ face below      on its outside, clear below the land
//! ```
//!
//! Fair lines are laid through the readings within what a tape can be off, and a reading that will not have it is named
//! (`read`, `fair`). Each neighbour's face and the two edges then fix how the new plank lies between them (`gap`), and the strakes'
//! own laws do the rest: it is hung, laid flat, bevelled and riveted as a planned one is (`mend`).
//!
//! Frame: x along the line aft, y outboard (the line is at 0 and the boat at less), z up from the line; mm. Nothing depends
//! on how the line lies in the boat, so it need not be parallel to her centreline.
//!
//! Source: derived here from the definitions of land, lap, bevel and gain in `planks`. Cannot do: planks hollowed across
//! their width, and a hood end that is far from straight between its two corners.

pub(crate) mod fair;
mod gap;
mod mend;
mod problem;
mod read;

use crate::development::FlatPlank;
use crate::fastenings::Rivet;
use crate::findings::Finding;
use crate::planks::{BevelAt, Strake};
use crate::spec::Spec;

pub use mend::mend;
pub use problem::RepairError;

/// A spot measured at each place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// On the outside of the plank below, clear below its land.
    FaceBelow,
    /// The upper outer corner of the plank below; in the keel's rabbet, where the plank's lower inner edge goes.
    EdgeBelow,
    /// The lower outer corner of the plank above; at the sheer, where the plank's upper inner edge goes.
    EdgeAbove,
    /// On the outside of the plank above.
    FaceAbove,
}

impl Spot {
    /// All of them, from below.
    pub const ALL: [Spot; 4] = [Spot::FaceBelow, Spot::EdgeBelow, Spot::EdgeAbove, Spot::FaceAbove];

    /// As the columns of readings.csv and messages call it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Spot::FaceBelow => "face_below",
            Spot::EdgeBelow => "edge_below",
            Spot::EdgeAbove => "edge_above",
            Spot::FaceAbove => "face_above",
        }
    }
}

/// One place along the line.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// What the builder calls it.
    pub name: String,
    /// Its line of readings.csv, from 1.
    pub line: usize,
    /// Aft along the stretched line of the spots below the gap, mm.
    pub along: f64,
    /// The same of those above it, mm: another number only at an end that rakes.
    pub along_above: f64,
    /// Up from the line and in from it, mm, of each of [`Spot::ALL`]; `None` where a spot is not wanted.
    pub spots: [Option<[f64; 2]>; 4],
}

/// What the new plank lies on along its lower edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Below {
    /// On the plank below.
    Plank,
    /// In the keel's rabbet: it is a garboard.
    Rabbet,
}

/// What lies on its upper edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Above {
    /// The plank above.
    Plank,
    /// Nothing: it is a sheer strake.
    Sheer,
}

/// What an end of the new plank meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The stem's or sternpost's rabbet.
    Hood,
    /// A transom.
    Transom,
    /// The old plank, cut off.
    Joint,
}

impl End {
    /// In repair.toml.
    pub const WORDS: [(&'static str, End); 3] =
        [("rabbet", End::Hood), ("transom", End::Transom), ("joint", End::Joint)];
}

/// Which of the new plank's two lands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LandOf {
    /// On the plank below.
    Lower,
    /// Under the plank above.
    Upper,
}

/// An old hole that is used again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// In which land.
    pub land: LandOf,
    /// Aft along the stretched line, mm.
    pub along: f64,
}

/// Everything a repair starts from.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Planking, timbers and fastenings, by the words of boat.toml; its ends are not used.
    pub spec: Spec,
    /// Which plank it is, in the builder's words; may be empty.
    pub plank: String,
    /// Along the lower edge.
    pub below: Below,
    /// Along the upper edge.
    pub above: Above,
    /// At the fore end and the after end.
    pub ends: [End; 2],
    /// Length over which the lands run out flush at each end, mm; 0 where they do not.
    pub gains: [f64; 2],
    /// Thickness of the plank above, mm.
    pub thickness_above: f64,
    /// How far a reading may be off, mm.
    pub tape: f64,
    /// From forward.
    pub places: Vec<Place>,
    /// Old holes that are used again, in no order.
    pub holes: Vec<Hole>,
}

/// A reading that does not fit the others of its line.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// Index of the place.
    pub place: usize,
    /// The spot.
    pub spot: Spot,
    /// `true`: up from the line; `false`: in from it.
    pub up: bool,
    /// As read, mm.
    pub read: f64,
    /// What the others say, mm: this was taken instead.
    pub others: f64,
}

/// The new plank.
#[derive(Debug, Clone, PartialEq)]
pub struct Mended {
    /// The plank below as far as it matters: the new plank's land on it with its bevels; `None` in a rabbet.
    pub below: Option<Strake>,
    /// The new plank in space, numbered 2 where there is a plank below.
    pub plank: Strake,
    /// The same laid flat.
    pub flat: FlatPlank,
    /// Bevels of the lower land (on the plank below) and of the upper one (on the new plank).
    pub bevels: [Vec<BevelAt>; 2],
    /// Rivets of the lower land and of the upper one, from forward.
    pub rivets: [Vec<Rivet>; 2],
    /// How far the fair lines pass each place's spots: up, and in, mm; in the order of [`Spot::ALL`]. Of a face: nought, and
    /// how far it was turned as it is felt where it was measured.
    pub moved: Vec<[Option<[f64; 2]>; 4]>,
    /// Readings to take again.
    pub again: Vec<Again>,
    /// What to look at.
    pub findings: Vec<Finding>,
}
