//! Rivets along the lands, fastenings at the ends and along the keel, what to order.
//!
//! A rivet goes through the middle of the land along the bisector of the two planks' normals (`rivet`). One goes
//! through every timber at every land, and so many between two timbers (`along`); those behind a mould wait (`waiting`). Hood
//! ends and transom have their own rule (`ends`), and so has the keel (`driven`). Both sides together make the order (`stock`).

mod along;
mod check;
pub mod driven;
mod ends;
pub mod place;
mod rest;
pub mod rivet;
pub mod stock;
mod waiting;

use crate::geom::{Point, Vector};
use crate::spec::Fixing;

pub use along::{rivets, through, through_old_holes};
pub use check::check;
pub use driven::{KeelFastening, along_keel};
pub use ends::ends;
pub use rest::{Rest, rest};
pub use stock::{OrderLine, left_out, order};
pub use waiting::{Waiting, waiting};

/// One rivet through a land, one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Rivet {
    /// Land, 1 to n−1.
    pub land: usize,
    /// From the bow, 1 first.
    pub n: usize,
    /// Where the axis crosses the faying face of the two planks, mm.
    pub at: Point,
    /// Unit, outward.
    pub axis: Vector,
    /// How far the axis leans off square to the inner plank, radians: half the bevel, of its sign. Where the next
    /// strake turns inboard (+) the head leans up, away from the outer plank's lower edge.
    pub lean: f64,
    /// Distance along the land from the fore end, mm.
    pub along: f64,
    /// Wood held, mm.
    pub grip: f64,
    /// Stock length, mm; `None` where the longest in stock is too short.
    pub nail: Option<f64>,
    /// Centre of the head to the outer plank's edge, drilled on the axis, mm.
    pub head_edge: f64,
    /// The same drilled square to the inner plank, mm.
    pub head_edge_square: f64,
    /// Centre of the rove to the inner plank's upper edge, drilled on the axis, mm.
    pub rove_edge: f64,
    /// Whether it stands inside a gain, where both planks are rebated.
    pub in_gain: bool,
    /// Index into the plan's timbers, where it goes through one.
    pub timber: Option<usize>,
    /// Index into the plan's moulds, where one is in the way until it is out.
    pub blocked_by: Option<usize>,
}

/// Leaning less than this a hole is square, radians: a twentieth of a degree.
const SQUARE: f64 = 0.05 / 180.0 * std::f64::consts::PI;

impl Rivet {
    /// Which way the head leans off square to the inner plank, `up` to the sheer or `down`; `None` where it stands square.
    #[must_use]
    pub fn head_leans(&self) -> Option<&'static str> {
        match self.lean {
            lean if lean > SQUARE => Some("up"),
            lean if lean < -SQUARE => Some("down"),
            _ => None,
        }
    }
}

/// What a plank's end may be fastened to, from forward, as [`EndFastening::end`] says it.
const ENDS: [&str; 4] = ["stem", "bow transom", "sternpost", "transom"];

/// Fastenings of one strake at one end.
#[derive(Debug, Clone, PartialEq)]
pub struct EndFastening {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// `stem`, `bow transom`, `sternpost` or `transom`.
    pub end: &'static str,
    /// How many go through this strake: the first in the middle of its lower land, the last in the middle of its upper
    /// one, which is the next strake's first.
    pub fastenings: u32,
    /// Centre to centre, mm.
    pub spacing: f64,
    /// What they are.
    pub fixing: Fixing,
    /// Each, from the lower one up.
    pub places: Vec<EndPlace>,
}

/// One of them.
#[derive(Debug, Clone, PartialEq)]
pub struct EndPlace {
    /// From the strake's lower edge, up its end, mm.
    pub up: f64,
    /// Planking it goes through, mm.
    pub wood: f64,
    /// Stock length of the nail, or the screw's, mm; `None` where the longest nail in stock is too short.
    pub length: Option<f64>,
    /// How far its point stays from the middle of the stem or sternpost, mm; negative where it goes past. `None` at a transom, or
    /// without a length.
    pub from_middle: Option<f64>,
}

impl EndFastening {
    /// Those that no strake below has counted already: its first is the last of the strake below.
    #[must_use]
    pub fn own(&self) -> &[EndPlace] {
        self.places.get(usize::from(self.strake > 1)..).unwrap_or_default()
    }
}
