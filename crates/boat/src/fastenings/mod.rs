//! Rivets along the lands, fastenings at the ends, nails to order.
//!
//! A rivet goes through the middle of the land along the bisector of the two planks' normals (`rivet`). One goes
//! through every timber at every land, and so many between two timbers (`along`). Hood ends and transom have their
//! own rule (`ends`). Both sides together make the order (`nails`).

mod along;
mod check;
mod ends;
mod nails;
mod rest;
pub mod rivet;

use crate::geom::{Point, Vector};

pub use along::rivets;
pub use check::check;
pub use ends::ends;
pub use nails::{COPPER, left_out, nails};
pub use rest::{Rest, rest};

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
    /// Index into the plan's timbers, where it goes through one.
    pub timber: Option<usize>,
    /// Index into the plan's moulds, where one is in the way until it is out.
    pub blocked_by: Option<usize>,
}

/// Fastenings of one strake at one end.
#[derive(Debug, Clone, PartialEq)]
pub struct EndFastening {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// `stem`, `transom` or `sternpost`.
    pub end: &'static str,
    /// How many go through this strake: the first in the middle of its lower land, the last in the middle of its upper
    /// one, which is the next strake's first.
    pub fastenings: u32,
    /// Centre to centre, mm.
    pub spacing: f64,
}

/// One line of the nail order, both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct NailLine {
    /// Imperial standard wire gauge.
    pub gauge: u32,
    /// Stock length, mm.
    pub length: f64,
    /// How many the boat takes.
    pub count: u32,
    /// Mass of those, kg.
    pub mass: f64,
}
