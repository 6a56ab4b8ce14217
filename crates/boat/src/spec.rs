//! What the builder asks for: the contents of `boat.toml` as values.
//!
//! Lengths are mm. Every default is common practice (no source) unless its line says otherwise.

use crate::units::Notation;

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
    /// Planks and lands.
    pub planking: PlankingSpec,
    /// Steamed timbers.
    pub timbers: TimberSpec,
    /// Rivets.
    pub fastenings: FasteningSpec,
    /// The moulds she is built on.
    pub moulds: MouldSpec,
}

/// To which face of the planking the plan was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnTo {
    /// Offsets are to the inside of the planking: the shape of the moulds.
    Inside,
    /// Offsets are to the outside; the thickness is taken off along the true normal.
    Outside,
}

/// How the lines were drawn and how far fairing may move an offset.
#[derive(Debug, Clone, PartialEq)]
pub struct LinesSpec {
    /// The face of the planking that the table gives.
    pub drawn_to: DrawnTo,
    /// How far an offset may be moved square to the skin without being called doubtful, mm.
    /// Zero passes exactly through the table.
    pub fair_within: f64,
    /// The same for rows of one kind, where they are to be trusted more or less than the others.
    pub fair_within_by: FairWithinBy,
    /// Half-breadth of the keel at the rabbet, mm, where the table has no `half-breadth rabbet` row.
    pub keel_half_siding: f64,
    /// The diagonals the table refers to.
    pub diagonals: Vec<Diagonal>,
}

/// How far the offsets of one kind of row may be moved, mm; `None`: as far as all others.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FairWithinBy {
    /// Heights of sheer and rabbet.
    pub heights: Option<f64>,
    /// Half-breadths of sheer, rabbet and waterlines.
    pub half_breadths: Option<f64>,
    /// Heights of buttocks.
    pub buttocks: Option<f64>,
    /// Diagonals.
    pub diagonals: Option<f64>,
}

impl FairWithinBy {
    /// The kinds that have their own, by their keys, mm.
    #[must_use]
    pub fn given(&self) -> Vec<(&'static str, f64)> {
        let all = [
            ("heights", self.heights),
            ("half_breadths", self.half_breadths),
            ("buttocks", self.buttocks),
            ("diagonals", self.diagonals),
        ];
        all.into_iter().filter_map(|(key, mm)| Some((key, mm?))).collect()
    }
}

/// A diagonal plane, seen on the body plan as a straight line from the centreline outboard and down.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagonal {
    /// Its name on the plan.
    pub name: String,
    /// Height above base where it leaves the centreline, mm.
    pub height: f64,
    /// Angle below the horizontal, radians, in (0, π/2).
    pub below_level: f64,
}

/// An end of the planking.
#[derive(Debug, Clone, PartialEq)]
pub enum EndSpec {
    /// A stem or sternpost whose rabbet takes the hood ends.
    Post(Post),
    /// A flat transom, plumb or raked.
    Transom(Transom),
}

impl EndSpec {
    /// The trade's word for this end, `aft` telling a stem from a sternpost.
    #[must_use]
    pub fn word(&self, aft: bool) -> &'static str {
        match (self, aft) {
            (EndSpec::Post(_), false) => "stem",
            (EndSpec::Post(_), true) => "sternpost",
            (EndSpec::Transom(_), _) => "transom",
        }
    }
}

/// A stem or sternpost.
#[derive(Debug, Clone, PartialEq)]
pub struct Post {
    /// Half-breadth of the rabbet line, mm.
    pub half_siding: f64,
    /// The rabbet in profile, `[x, z]` in mm, from the head at the sheer down to the fore-foot: the point where
    /// the garboard's hood end begins. Below it the rabbet is the keel's.
    pub rabbet: Vec<[f64; 2]>,
}

/// A flat transom: the plane square to the centreline plane through two points of the profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Transom {
    /// `[x, z]` where the plane meets the keel rabbet, mm.
    pub foot: [f64; 2],
    /// `[x, z]` higher on the plane, about the sheer, mm.
    pub head: [f64; 2],
}

impl Transom {
    /// Where the plane stands at height `z`, mm aft of the first station.
    #[must_use]
    pub fn x_at(&self, z: f64) -> f64 {
        let rake = (self.head[0] - self.foot[0]) / (self.head[1] - self.foot[1]);
        self.foot[0] + rake * (z - self.foot[1])
    }
}

/// Planks and lands.
#[derive(Debug, Clone, PartialEq)]
pub struct PlankingSpec {
    /// Plank thickness, mm.
    pub thickness: f64,
    /// Width of a land, mm; twice the thickness where not given.
    pub lap: f64,
    /// How many strakes a side; found from `widest` where not given.
    pub strakes: Option<u32>,
    /// Widest plank that may show, mm.
    pub widest: f64,
    /// The garboard's greatest width as a multiple of the others' (1 = the same).
    pub garboard: f64,
    /// Least wood left at a bevelled edge, mm; 0.4 of the thickness where not given.
    pub edge_floor: f64,
    /// Length over which the lands run out flush at a stem or sternpost, mm.
    pub gain: f64,
    /// The same at a transom; `None`: the transom is notched and the lands stand proud.
    pub transom_gain: Option<f64>,
    /// The wood.
    pub wood: Wood,
}

/// A wood and how heavy it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// As the builder calls it.
    pub name: String,
    /// kg/m³ as built.
    pub density: f64,
}

/// Steamed timbers.
#[derive(Debug, Clone, PartialEq)]
pub struct TimberSpec {
    /// Centre to centre, mm along the centreline.
    pub spacing: f64,
    /// Fore-and-aft size, mm.
    pub sided: f64,
    /// In-and-out size, mm.
    pub moulded: f64,
    /// Left over at each end of a timber for handling while it is bent, mm.
    pub spare: f64,
    /// Rise of each side off level at the keel, radians, above which a timber is cut in two halves.
    pub halves_over: f64,
    /// The wood.
    pub wood: Wood,
}

/// Copper nails and roves.
#[derive(Debug, Clone, PartialEq)]
pub struct FasteningSpec {
    /// Imperial standard wire gauge of the nails.
    pub gauge: u32,
    /// Stock lengths, mm, ascending.
    pub nail_lengths: Vec<f64>,
    /// Height of a rove when driven home, mm.
    pub rove: f64,
    /// Diameter of a rove, mm.
    pub rove_diameter: f64,
    /// Left above the rove to be headed, mm; about 1.
    pub clench: f64,
    /// Rivets through each land between two timbers.
    pub between: u32,
    /// Widest spacing of fastenings at hood ends and transom, mm.
    pub end_spacing: f64,
    /// How far from a plank's end that row of fastenings stands, mm.
    pub end_row: f64,
    /// No rivet stands nearer to a plank's end, mm: the wood of stem or transom is behind it there.
    pub end_clear: f64,
    /// Extra nails and roves to order, as a share: 0.1 is ten in the hundred.
    pub spare: f64,
}

/// The moulds.
#[derive(Debug, Clone, PartialEq)]
pub struct MouldSpec {
    /// Thickness of a mould, mm. Its square edge needs no bevel when it stands on the side of the station towards
    /// the middle of the boat.
    pub thickness: f64,
    /// Room a rivet needs beside a mould, mm: for the hollow punch on the rove and for the hammer.
    pub clearance: f64,
}
