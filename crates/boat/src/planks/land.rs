//! One land: how the next strake lies on the one below.
//!
//! At a ruling of strake k with upper inner edge U, outward normal N, ruling r (up) and M = N × tangent (in the face,
//! square to the land, downward), the next strake with step q and lap w begins at
//!
//! ```text
//! T = U + q N                        the top edge of the face it lies on
//! L = T − (w / (−r·M)) r             lower inner edge, on strake k's outer face
//! ```
//!
//! and runs up to the next land line. Where that lies outside the outer face carried on, the section is hollow: the
//! next strake pivots on T, its ruling runs along U' − T, and L is w / cos β of it below T. Its lower inner edge is
//! then bevelled instead of strake k's top outer edge. The two agree at β = 0.
//!
//! Inside a gain the step changes along the land, so L keeps the step of its own foot square on the land, not of its
//! ruling's upper end: depths are cut and measured square to the edge.
//!
//! DIFFERS: where the ruling is far from square to the land (the garboard's hood), L is taken nearer to square off T:
//! on a flat face that is the same line, and rulings that fan out there no longer fold it back on itself.

use super::Ruling;
use crate::geom::{Point, Vector, angle_about, unit_or};

/// Unit normal of a face with ruling `up` along a land of unit tangent `tangent`, outward.
#[must_use]
pub fn face_normal(up: &Vector, tangent: &Vector) -> Vector {
    unit_or(up.cross(tangent), Vector::y())
}

/// Lower inner edge of the next strake at ruling `on` of the strake below, for a land of width `lap`; `next_upper` is
/// the next land line at the same place along the boat.
#[must_use]
pub fn next_lower(on: &Ruling, next_upper: &Point, lap: f64, gains: &Gains) -> Point {
    let top = on.upper + on.step * on.normal;
    let beyond = next_upper - top;
    let down = if beyond.dot(&on.normal) <= 0.0 {
        below(&on.up(), &on.tangent, &on.normal) * -lap
    } else {
        let up = unit_or(beyond, on.up());
        let normal = face_normal(&up, &on.tangent);
        let bevel = angle_about(&on.normal, &normal, &on.tangent);
        below(&up, &on.tangent, &normal) * (-lap / bevel.cos())
    };
    let foot = on.along + down.dot(&on.tangent);
    top + down + (gains.step(foot) - on.step) * on.normal
}

/// Where the step of one land runs out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gains {
    /// Plank thickness, mm: the step outside the gains.
    pub thickness: f64,
    /// Length of the gain from the fore end of the land, mm; `None` where the land runs out proud.
    pub fore: Option<f64>,
    /// Length of the gain from the after end, mm; `None` where the land runs out proud.
    pub aft: Option<f64>,
    /// Length of the land, mm.
    pub whole: f64,
}

impl Gains {
    /// The step at the distance `along` the land from its fore end, mm.
    #[must_use]
    pub fn step(&self, along: f64) -> f64 {
        let at = |gain: Option<f64>, from_end: f64| {
            gain.map_or(self.thickness, |gain| step(self.thickness, gain, from_end))
        };
        at(self.fore, along).min(at(self.aft, self.whole - along))
    }
}

/// Squarenesses of a ruling to the land: below the first the ruling is not followed at all, above the second wholly.
const FOLLOWED: (f64, f64) = (0.6, 0.95);

/// The vector in the face that goes up one unit square to the land: along the ruling, or square to the land where the
/// ruling is too oblique.
fn below(up: &Vector, tangent: &Vector, normal: &Vector) -> Vector {
    let square = tangent.cross(normal);
    let squareness = up.dot(&square);
    square + tangent * (followed(squareness) * up.dot(tangent) / squareness.max(0.1))
}

/// How far a ruling of that squareness to the land is followed, 0 to 1.
#[must_use]
pub fn followed(squareness: f64) -> f64 {
    let f = ((squareness - FOLLOWED.0) / (FOLLOWED.1 - FOLLOWED.0)).clamp(0.0, 1.0);
    f * f * (3.0 - 2.0 * f)
}

/// Bevel of the land at `on` when the next strake's ruling there is `next_up`, radians, + turning inboard.
#[must_use]
pub fn bevel(on: &Ruling, next_up: &Vector) -> f64 {
    angle_about(&on.normal, &face_normal(next_up, &on.tangent), &on.tangent)
}

/// Wood left at the top outer edge: a gain takes its rebate of (t − q)/2 and the bevel lap · tan β off that, and
/// nothing where the section is hollow. Zero where they take all of it.
#[must_use]
pub fn edge_left(thickness: f64, step: f64, lap: f64, bevel: f64) -> f64 {
    (0.5 * (thickness + step) - lap * bevel.tan().max(0.0)).max(0.0)
}

/// Least wood that should be left at an edge, mm, where the rebate of a gain is `gain` deep and `floor` is the least outside
/// the gains: the same share of what the rebate leaves.
#[must_use]
pub fn edge_floor(thickness: f64, gain: f64, floor: f64) -> f64 {
    floor * (1.0 - gain / thickness)
}

/// Step between two strakes inside a gain of length `gain`, `from_end` mm from its flush end: a cubic, flat at both
/// ends, since a straight ramp kinks the plank. `thickness` outside it.
#[must_use]
pub fn step(thickness: f64, gain: f64, from_end: f64) -> f64 {
    let e = if gain > 0.0 { (from_end / gain).clamp(0.0, 1.0) } else { 1.0 };
    thickness * e * e * (3.0 - 2.0 * e)
}
