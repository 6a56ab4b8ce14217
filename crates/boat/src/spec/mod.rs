//! What the builder asks for: the contents of `boat.toml` as values.
//!
//! Lengths are mm. Every default is common practice (no source) unless its line says otherwise.

mod backbone;
mod boards;
mod fastenings;
mod interior;
mod lines;
mod loads;
mod moulds;
mod planking;
mod timbers;
mod wood;

use crate::units::Notation;

pub use backbone::{EndSpec, KeelSpec, Post, Transom, crown_radius};
pub use boards::{Glued, SawSpec, ScarfSpec};
pub use fastenings::{FasteningSpec, Fixing, Screw};
pub use interior::{
    Against, BreasthookSpec, Edge, Grown, InteriorSpec, InwaleSpec, KneeAt, KneeSpec, Level, Place, RisingSpec,
    RubbingSpec, Stick, ThwartSpec,
};
pub use lines::{Diagonal, DrawnTo, FairWithinBy, LinesSpec};
pub use loads::LoadSpec;
pub use moulds::{MouldSpec, Stand};
pub use planking::{Allowance, Construction, LiningSpec, PlankingSpec, TransomEnds};
pub use timbers::{Bent, Stop, StopAt, TimberSpec};
pub use wood::{BendSpec, MoistureSpec, Rings, Wood};

/// One boat as asked for: everything but the table of offsets, pinned marks and boards.
#[derive(Debug, Clone, PartialEq)]
pub struct Spec {
    /// Her name.
    pub name: String,
    /// What she is, in a few words; may be empty.
    pub kind: String,
    /// Who drew the lines; may be empty.
    pub drawn_by: String,
    /// Where she is built; may be empty.
    pub built_at: String,
    /// What a bare number means in the folder, and what paper is printed in.
    pub lengths: Notation,
    /// How the lines were drawn and how far they may be moved.
    pub lines: LinesSpec,
    /// The fore end of the planking.
    pub fore: EndSpec,
    /// The after end of the planking.
    pub aft: EndSpec,
    /// Keel and hog.
    pub keel: KeelSpec,
    /// Planks and lands.
    pub planking: PlankingSpec,
    /// How the lands are lined off, and from where they are looked at.
    pub lining: LiningSpec,
    /// Steamed timbers.
    pub timbers: TimberSpec,
    /// Rivets.
    pub fastenings: FasteningSpec,
    /// The moulds she is built on.
    pub moulds: MouldSpec,
    /// What her planks bear when they are bent and twisted.
    pub bending: BendSpec,
    /// Joints of planks longer than the boards.
    pub scarfs: ScarfSpec,
    /// How planks are got out of boards.
    pub sawing: SawSpec,
    /// How wet her planks are, and how they move with that.
    pub moisture: MoistureSpec,
    /// Risings, thwarts, inwales, rubbing strakes, breasthooks and knees.
    pub interior: InteriorSpec,
    /// What is in her besides: gear, people, foam.
    pub loads: Vec<LoadSpec>,
}

impl Spec {
    /// What a plank is cut long by: at its ends, with the overhang of a transom; and above the sheer on the sheer strake.
    #[must_use]
    pub fn allowance(&self, sheer: bool) -> Allowance {
        let p = &self.planking;
        let over = |end: &EndSpec| if matches!(end, EndSpec::Transom(_)) { p.transom_overhang } else { 0.0 };
        Allowance {
            fore: p.left_long[0] + over(&self.fore),
            aft: p.left_long[1] + over(&self.aft),
            upper: if sheer { p.sheer_proud } else { 0.0 },
        }
    }

    /// Where the gains of a land `whole` mm long end: whether it is the after one, and mm along the land from the bow; those
    /// there are.
    #[must_use]
    pub fn gains_on(&self, whole: f64) -> Vec<(bool, f64)> {
        let of = |end: &EndSpec, aft: bool| {
            let gain = self.planking.gain_at(end).filter(|g| *g > 0.0 && *g < whole)?;
            Some((aft, if aft { whole - gain } else { gain }))
        };
        of(&self.fore, false).into_iter().chain(of(&self.aft, true)).collect()
    }

    /// Farthest from one rivet of a land to the next, mm; infinite where no such limit is asked for.
    #[must_use]
    pub fn rivets_apart(&self) -> f64 {
        self.fastenings.apart.map_or(f64::INFINITY, |thicknesses| thicknesses * self.planking.thickness)
    }

    /// Whether her stern is a transom; her bow may be one besides.
    #[must_use]
    pub fn stern_is_transom(&self) -> bool {
        matches!(self.aft, EndSpec::Transom(_))
    }

    /// Whether glue holds the lands.
    #[must_use]
    pub fn glued(&self) -> bool {
        self.planking.construction == Construction::Glued
    }
}
