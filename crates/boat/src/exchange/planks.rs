//! The planks as solids: each strake with its bevels planed, its gains rebated, and its ends flush with a transom.
//!
//! A strake is swept through eight corners at each of its rulings:
//!
//! ```text
//!   D──────E     upper edge: the bevel is off its outer corner, so E stands in
//!   │      F
//!   │      └G    F to G: the rebate of a gain, where there is one
//!   │       │
//!   └C      │    B to C: the rebate of the land below
//!    B      │
//!    A──────H    lower edge: in a hollow the bevel is off its inner corner A
//!  inner  outer
//! ```
//!
//! Left out: the rounding that a plank gets by bending across its face, rivet holes, what is left long, and at a hood end the
//! rabbet's own curve (the plank ends along the straight line between its corners). Scarfs are not parted.

use super::solid::{Ends, Solid, Stuff};
use crate::geom::{Point, unit_or};
use crate::ink;
use crate::plan::Plan;
use crate::planks::{Ruling, Strake};
use crate::spec::EndSpec;

/// A land takes no more of a plank's width than this: where a plank is narrower than its two lands they do not cross.
const WIDEST_LAND: f64 = 0.48;

/// The planks of one side, starboard, from the keel.
#[must_use]
pub fn planks(plan: &Plan) -> Vec<Solid> {
    let below = |s: &Strake| plan.strakes.iter().find(|b| b.strake + 1 == s.strake);
    plan.strakes.iter().map(|s| plank(plan, s, below(s))).collect()
}

fn plank(plan: &Plan, strake: &Strake, below: Option<&Strake>) -> Solid {
    let lap = plan.spec.planking.lap;
    let mut edges: [Vec<Point>; CORNERS] = Default::default();
    for (i, r) in strake.rulings.iter().enumerate() {
        let land = below.and_then(|b| b.rulings.get(i));
        for (edge, corner) in edges.iter_mut().zip(corners(r, land, strake.thickness, lap)) {
            edge.push(corner);
        }
    }
    for (end, aft) in [(&plan.spec.fore, false), (&plan.spec.aft, true)] {
        if let EndSpec::Transom(t) = end {
            edges.iter_mut().for_each(|edge| ink::flush(edge, t, aft));
        }
    }
    let ring = |i: usize| edges.iter().map(|edge| edge[i]).collect();
    let rings: Vec<Vec<Point>> = (0..strake.rulings.len()).map(ring).collect();
    Solid::swept(format!("strake {}", strake.strake), Stuff::Plank, &rings, Ends::Rungs)
}

const CORNERS: usize = 8;

/// The corners A to H at a ruling; `land` is the ruling of the strake below.
fn corners(r: &Ruling, land: Option<&Ruling>, thickness: f64, lap: f64) -> [Point; CORNERS] {
    let length = (r.upper - r.lower).norm().max(f64::MIN_POSITIVE);
    let share = |on: &Ruling| (lap / (length * on.squareness().abs().max(0.1))).min(WIDEST_LAND);
    let at = |v: f64, off: f64| {
        let normal = unit_or(r.lower_normal * (1.0 - v) + r.normal * v, r.normal);
        r.lower + (r.upper - r.lower) * v + normal * off
    };
    // The rebate of a gain, which both planks share, and what the bevel takes off at an edge.
    let rebate = |on: &Ruling| 0.5 * (thickness - on.step).max(0.0);
    let (upper, planed) = match r.bevel {
        Some(bevel) => (rebate(r), lap * bevel.tan().max(0.0)),
        None => (0.0, 0.0),
    };
    let (lower, hollow, foot) = match land {
        Some(on) => (rebate(on), lap * (-on.bevel.unwrap_or(0.0)).tan().max(0.0), share(on)),
        None => (0.0, 0.0, 0.0),
    };
    let top = if r.bevel.is_some() { 1.0 - share(r) } else { 1.0 };
    let within = |off: f64| off.clamp(0.0, thickness);
    [
        at(0.0, within(lower + hollow)),
        at(foot, lower),
        at(foot, 0.0),
        at(1.0, 0.0),
        at(1.0, within(thickness - upper - planed)),
        at(top, thickness - upper),
        at(top, thickness),
        at(0.0, thickness),
    ]
}
