//! What the builder asks for: the contents of `boat.toml` as values.
//!
//! Lengths are mm. Every default is common practice (no source) unless its line says otherwise.

mod fastenings;
mod interior;
mod loads;

pub use interior::{
    Against, BreasthookSpec, Edge, Grown, InteriorSpec, InwaleSpec, KneeAt, KneeSpec, Level, Place, RisingSpec,
    RubbingSpec, Stick, ThwartSpec,
};

pub use loads::LoadSpec;

use crate::units::Notation;

pub use fastenings::{FasteningSpec, Fixing, Screw};

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

/// What a plank's wood bears when it is bent and twisted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendSpec {
    /// Strain of its faces, t κ / 2, to which it is bent cold.
    pub cold_strain: f64,
    /// Shear of its faces, t τ, to which it is twisted cold.
    pub cold_shear: f64,
    /// Strain of its faces to which it is bent when steamed.
    pub steamed_strain: f64,
}

impl BendSpec {
    /// Least radius when bent cold, in thicknesses.
    #[must_use]
    pub fn cold_radius(&self) -> f64 {
        0.5 / self.cold_strain
    }

    /// Least radius when steamed, in thicknesses.
    #[must_use]
    pub fn steamed_radius(&self) -> f64 {
        0.5 / self.steamed_strain
    }
}

impl Default for BendSpec {
    /// A wood of which nothing is known: no better than the stiffest softwoods. Common practice, no source.
    fn default() -> Self {
        BendSpec { cold_strain: 0.5 / 115.0, cold_shear: 0.009, steamed_strain: 0.5 / 30.0 }
    }
}

/// Scarfs. All of it common practice, no source.
#[derive(Debug, Clone, PartialEq)]
pub struct ScarfSpec {
    /// Length over thickness.
    pub ratio: f64,
    /// Longest part, mm; `None`: as long as the rack's longest board, and where there is no rack a plank is one piece.
    pub longest: Option<f64>,
    /// The same for the parts of single strakes, 1 to n, mm.
    pub longest_of: Vec<(usize, f64)>,
    /// Widest board, mm; `None`: the rack's, and without one any.
    pub widest: Option<f64>,
    /// Clear between a scarf and a mould's station line, mm.
    pub clear: f64,
    /// Least between the middles of scarfs in neighbouring strakes, mm along the boat; half of it between strakes two
    /// apart. `None`: three timber spaces.
    pub shift: Option<f64>,
    /// Where they are glued.
    pub glued: Glued,
}

impl Default for ScarfSpec {
    fn default() -> Self {
        ScarfSpec {
            ratio: 8.0,
            longest: None,
            longest_of: Vec::new(),
            widest: None,
            clear: 50.8,
            shift: None,
            glued: Glued::Bench,
        }
    }
}

/// How planks are got out of boards. All of it common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SawSpec {
    /// Width of a saw cut, mm.
    pub cut: f64,
    /// Left outside a plank's line all round, to be planed off, mm.
    pub planing: f64,
    /// Least between a sound knot and a plank's edge, mm.
    pub knot_clear: f64,
    /// Most that a plank's board may lie off a board's grain, radians.
    pub off_grain: f64,
    /// Boards thick enough are sawn through their thickness.
    pub resaw: bool,
    /// Wood lost between two leaves of such a board: the saw cut, and what is planed off either side, mm.
    pub resaw_loss: f64,
}

impl Default for SawSpec {
    fn default() -> Self {
        SawSpec {
            cut: 3.0,
            planing: 3.0,
            knot_clear: 20.0,
            off_grain: 2.0_f64.to_radians(),
            resaw: false,
            resaw_loss: 6.0,
        }
    }
}

/// Where scarfs are glued.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Glued {
    /// On the bench, before the plank is marked out and hung.
    Bench,
    /// In place, as the parts are hung.
    InPlace,
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
            (EndSpec::Transom(_), true) => "transom",
            (EndSpec::Transom(_), false) => "bow transom",
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
    /// Half siding of the wood's flat sides, mm; where not given, the rabbet's on a plan drawn to the outside, and that
    /// and the plank's thickness on one drawn to the inside.
    pub wood_half_siding: Option<f64>,
    /// Wood square off the rabbet to the outer face, mm; `None`: that face is not drawn.
    pub wood_outside: Option<f64>,
    /// Wood square off the rabbet to the inner face, mm; `None`: that face is not drawn.
    pub wood_inside: Option<f64>,
    /// How high its head stands over the sheer, mm, cut level; `None`: its faces end beside the rabbet's head.
    pub head: Option<f64>,
}

impl Post {
    /// A post of which only the rabbet is known.
    #[must_use]
    pub fn new(half_siding: f64, rabbet: Vec<[f64; 2]>) -> Self {
        Post { half_siding, rabbet, wood_half_siding: None, wood_outside: None, wood_inside: None, head: None }
    }
}

/// The keel's upper part, on which the garboard lies.
#[derive(Debug, Clone, PartialEq)]
pub struct KeelSpec {
    /// Half-breadth of the hog, mm; `None`: there is none, and the keel itself is rabbeted.
    pub hog_half_breadth: Option<f64>,
    /// Its thickness, mm; `None`: not drawn in the moulds' notches.
    pub hog_thickness: Option<f64>,
    /// Keel below the garboard's outer edge, square off the rabbet, mm; `None`: not given, and she floats without it.
    pub wood_outside: Option<f64>,
    /// Half siding of the keel, mm; `None`: not given.
    pub half_siding: Option<f64>,
    /// Its wood, and that of hog, stem, sternpost and transoms.
    pub wood: Wood,
}

/// A transom's outer face: the plane square to the centreline plane through two points of the profile, or a cylinder
/// bent about an axis that leans as those two points do, its hollow side inboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Transom {
    /// `[x, z]` where the face meets the keel rabbet on the centreline, mm.
    pub foot: [f64; 2],
    /// `[x, z]` higher on the centreline, about the sheer, mm.
    pub head: [f64; 2],
    /// Radius of a curved transom's outer face, mm; `None`: flat.
    pub radius: Option<f64>,
    /// At the bow, where the outer face looks forward.
    pub bow: bool,
    /// Of its wood, mm.
    pub thickness: f64,
    /// How far its top edge rises on the centreline over its corners at the sheer, up the face, mm; `None`: it is level
    /// there, and wood is left for the builder to choose.
    pub crown: Option<f64>,
}

impl Transom {
    /// Up the face along the centreline, `[x, z]`, unit.
    #[must_use]
    pub fn up(&self) -> [f64; 2] {
        let (x, z) = (self.head[0] - self.foot[0], self.head[1] - self.foot[1]);
        let length = x.hypot(z);
        [x / length, z / length]
    }

    /// Square to the face on the centreline, away from the boat, `[x, z]`, unit.
    #[must_use]
    pub fn out(&self) -> [f64; 2] {
        let [x, z] = self.up();
        if self.bow { [-z, x] } else { [z, -x] }
    }

    /// How far a curved face has fallen back from its centreline at half-breadth `y`, mm square to it; half-breadths
    /// past the radius count as the radius.
    #[must_use]
    pub fn fall(&self, y: f64) -> f64 {
        self.radius.map_or(0.0, |r| r - (r * r - y * y).max(0.0).sqrt())
    }

    /// Up the centreline from the foot to what stands level with half-breadth `y` and height `z` on the face, mm.
    #[must_use]
    pub fn up_to(&self, y: f64, z: f64) -> f64 {
        (z - self.foot[1] + self.fall(y) * self.out()[1]) / self.up()[1]
    }

    /// Where the face stands at half-breadth `y` and height `z`, mm aft of the first station.
    #[must_use]
    pub fn x_at(&self, y: f64, z: f64) -> f64 {
        self.foot[0] + self.up_to(y, z) * self.up()[0] - self.fall(y) * self.out()[0]
    }

    /// The true shape: a point of the face laid flat, along the face from the centreline and up it from the foot, mm.
    #[must_use]
    pub fn laid_flat(&self, y: f64, z: f64) -> [f64; 2] {
        let across = self.radius.map_or(y, |r| r * (y / r).clamp(-1.0, 1.0).asin());
        [across, self.up_to(y, z)]
    }

    /// How far its top edge rises over the sheer `along` the face laid flat from the centreline, mm up the face; `half` is
    /// the corner there. The arc of a circle through both corners and the crown.
    #[must_use]
    pub fn rise(&self, along: f64, half: f64) -> f64 {
        let Some(crown) = self.crown.filter(|c| *c > 0.0 && half > 0.0) else { return 0.0 };
        let radius = crown_radius(crown, half);
        ((radius * radius - along * along).max(0.0).sqrt() - (radius - crown)).max(0.0)
    }

    /// Outward unit normal of the face at half-breadth `y`, `[x, y, z]`.
    #[must_use]
    pub fn normal(&self, y: f64) -> [f64; 3] {
        let turn = self.radius.map_or(0.0, |r| (y / r).clamp(-1.0, 1.0).asin());
        let [x, z] = self.out();
        [x * turn.cos(), turn.sin(), z * turn.cos()]
    }
}

/// Radius of the arc that rises `crown` over a chord twice `half` long; both above 0.
#[must_use]
pub fn crown_radius(crown: f64, half: f64) -> f64 {
    (half * half + crown * crown) / (2.0 * crown)
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
    /// The same at a transom; `None`: the lands stand proud there.
    pub transom_gain: Option<f64>,
    /// How the planks lie on a transom.
    pub transom_ends: TransomEnds,
    /// Wood left beyond a plank's fore and after end, to be cut when it is fitted, mm.
    pub left_long: [f64; 2],
    /// How far the finished planks stand past a transom's outer face, mm.
    pub transom_overhang: f64,
    /// Wood left above the sheer on the sheer strake, to be planed off when she is planked, mm.
    pub sheer_proud: f64,
    /// Bevels are given at every station, every timber and so far apart along the land, mm.
    pub bevel_every: f64,
    /// Offsets from the batten line are given so far apart along it, besides those at stations, mm; `None`: at stations only.
    pub spile_every: Option<f64>,
    /// What holds one strake to the next.
    pub construction: Construction,
    /// Mixed glue that a square metre of land takes, both faces together, g; `None`: not known.
    pub glue_rate: Option<f64>,
    /// Paint or varnish on a square metre of a plank's face when it is dry, g.
    pub paint: f64,
    /// The wood.
    pub wood: Wood,
}

/// How the lands are lined off, and from where they are looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct LiningSpec {
    /// Narrowest plank that may show at a station, mm; 0: as narrow as may be.
    pub narrowest: f64,
    /// The sheer strake's width as a multiple of the others' (1 = the same).
    pub sheer_strake: f64,
    /// The sheer strake shows as wide at one station as at the next.
    pub sheer_parallel: bool,
    /// How much wider the sheer strake shows at the stern than she would, mm: a little flip aft.
    pub sheer_flip: f64,
    /// How much the planks are narrowed round the turn of the bilge: 0 not at all, 1 about by half where she turns hardest.
    pub bilge: f64,
    /// From her middle to the eye, mm; `None`: one and a half times her length.
    pub eye_distance: Option<f64>,
    /// The eye above the base line, mm.
    pub eye_height: f64,
    /// How far off the beam the eye stands when it looks from off the bow and the quarter, radians.
    pub eye_quarter: f64,
    /// How far she is heeled away from the eye to be seen from below, radians.
    pub eye_heel: f64,
}

impl Default for LiningSpec {
    /// Nothing asked for: a standing man's eye a foot above the floor line of a boat set up upright.
    fn default() -> Self {
        LiningSpec {
            narrowest: 0.0,
            sheer_strake: 1.0,
            sheer_parallel: false,
            sheer_flip: 0.0,
            bilge: 0.0,
            eye_distance: None,
            eye_height: 1300.0,
            eye_quarter: 45.0_f64.to_radians(),
            eye_heel: 20.0_f64.to_radians(),
        }
    }
}

impl PlankingSpec {
    /// Length over which lands run out flush at an end, mm; `None` where they stand proud.
    #[must_use]
    pub fn gain_at(&self, end: &EndSpec) -> Option<f64> {
        match end {
            EndSpec::Post(_) => Some(self.gain),
            EndSpec::Transom(_) => self.transom_gain,
        }
    }
}

/// How the planks lie on a transom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TransomEnds {
    /// The lands run out flush in a gain; seats meet seats.
    Flush,
    /// The lands stand proud, and the edge is notched so that every plank has its seat.
    Notched,
    /// The lands stand proud, the edge is straight from land to land, and the wedge under each plank is filled.
    Plain,
}

/// What holds one strake to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Construction {
    /// Copper nails headed over roves.
    Riveted,
    /// Glue, mostly on plywood.
    Glued,
}

/// Wood beyond a plank's finished outline, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Allowance {
    /// Beyond its fore end.
    pub fore: f64,
    /// Beyond its after end.
    pub aft: f64,
    /// Above its upper edge.
    pub upper: f64,
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

    /// Where the gains of a land `whole` mm long end, mm along it from the bow, and whether it is the after one; those
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

    /// Whether her stern is a transom.
    #[must_use]
    pub fn has_transom(&self) -> bool {
        matches!(self.aft, EndSpec::Transom(_))
    }

    /// Whether glue holds the lands.
    #[must_use]
    pub fn glued(&self) -> bool {
        self.planking.construction == Construction::Glued
    }
}

/// A wood and how heavy it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// As the builder calls it.
    pub name: String,
    /// kg/m³ as built.
    pub density: f64,
}

/// How wet planks are, percent of the wood's dry mass, and how they move with that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureSpec {
    /// When they are fitted.
    pub shop: f64,
    /// Afloat.
    pub afloat: f64,
    /// Dried out ashore.
    pub ashore: f64,
    /// What the wood loses from green to ovendry across its rings and along them, percent; `None`: not known.
    pub shrinkage: Option<[f64; 2]>,
    /// How the rings lie in a plank.
    pub rings: Rings,
}

/// How the rings lie in a plank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rings {
    /// Along its width: the log was sawn through and through.
    Flat,
    /// Square to its width.
    Quarter,
}

impl MoistureSpec {
    /// What a plank's width loses from green to ovendry, percent.
    #[must_use]
    pub fn across(&self) -> Option<f64> {
        let [radial, tangential] = self.shrinkage?;
        Some(if self.rings == Rings::Flat { tangential } else { radial })
    }

    /// What its thickness does, percent: the other of the two.
    #[must_use]
    pub fn through(&self) -> Option<f64> {
        let [radial, tangential] = self.shrinkage?;
        Some(if self.rings == Rings::Flat { radial } else { tangential })
    }
}

impl Default for MoistureSpec {
    /// Wood dried in an open shed, a boat that lies afloat, and one laid up under cover. Common practice, no source.
    fn default() -> Self {
        MoistureSpec { shop: 14.0, afloat: 25.0, ashore: 12.0, shrinkage: None, rings: Rings::Flat }
    }
}

/// Steamed timbers.
#[derive(Debug, Clone, PartialEq)]
pub struct TimberSpec {
    /// Whether she has any: a glued boat may do without.
    pub fitted: bool,
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
    /// Where they stand, mm aft of the first station, ascending; empty: by `spacing`.
    pub at: Vec<f64>,
    /// How far the first ones stand off square, heads forward, radians, from forward.
    pub cant_fore: Vec<f64>,
    /// How far the last ones stand off square, heads aft, radians, from aft.
    pub cant_aft: Vec<f64>,
    /// Those that stop short of the sheer.
    pub stopped: Vec<Stop>,
    /// Least radius to bend one to, steamed, in thicknesses.
    pub steamed_radius: f64,
    /// The same cold.
    pub cold_radius: f64,
    /// Layers each is glued up from, equally thick; 1: one piece.
    pub layers: u32,
    /// How it, or each of its layers, is bent.
    pub bent: Bent,
    /// Pieces to cut over, for those that break, as a share.
    pub extra: f64,
    /// The wood.
    pub wood: Wood,
}

/// How wood is bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bent {
    /// Hot out of the steam.
    Steamed,
    /// Cold.
    Cold,
}

/// A timber that stops short of the sheer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Its number from forward, 1 first.
    pub timber: usize,
    /// Where.
    pub at: StopAt,
}

/// Where a timber stops.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StopAt {
    /// At the upper edge of this strake.
    Strake(usize),
    /// At the first land at or over this height, mm above base.
    Height(f64),
}

/// The moulds.
#[derive(Debug, Clone, PartialEq)]
pub struct MouldSpec {
    /// Thickness of a mould, mm. Its square edge needs no bevel when it stands on the side of the station towards
    /// the middle of the boat.
    pub thickness: f64,
    /// Room a rivet needs beside a mould, mm: for the hollow punch on the rove and for the hammer.
    pub clearance: f64,
    /// How she stands on them.
    pub stand: Stand,
    /// Between the base line and the floor or strongback, mm: under the base line upright, over it upside down. Where not
    /// given, 12 in, and upside down the highest sheer and 12 in.
    pub base_above_floor: Option<f64>,
    /// Level line drawn on every mould to set it up by, mm above base; where not given, the table's waterline nearest
    /// the middle of her depth, or the middle.
    pub level: Option<f64>,
    /// Width of a mould's legs and of its cross-spall, mm; 0: none are drawn.
    pub leg: f64,
}

/// Which way up she is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// Keel down.
    Upright,
    /// Keel up.
    UpsideDown,
}
