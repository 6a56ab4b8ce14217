//! Each strake in space: edges, faces, lands, bevels, gains.
//!
//! A strake's inner face is ruled: straight lines join its lower inner edge to its upper inner edge, which is the
//! land line. The garboard's lower edge is the rabbet. Every other strake lies on the one below (`land`), so the
//! strakes are laid keel to sheer, each from the last (`lay`). Rulings at the sections lie in the section planes.
//!
//! Source: derived here from the definitions of land, lap, bevel and gain; the closed forms that follow from them
//! are in `docs/closed-forms.md`. Cannot do: planks hollowed across their width.

pub mod bevels;
mod check;
pub(crate) mod edge;
pub mod land;
pub mod lay;
pub mod limits;
pub(crate) mod problem;

use crate::geom::{Point, Vector};

pub use bevels::{BevelAt, BevelPlace};
pub use check::{check, too_wide};
pub use lay::lay;
pub use problem::PlanksError;

/// One strake on one side.
#[derive(Debug, Clone, PartialEq)]
pub struct Strake {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// mm.
    pub thickness: f64,
    /// Rulings from the bow to the stern, dense.
    pub rulings: Vec<Ruling>,
    /// Numbers at each section.
    pub at: Vec<StrakeAt>,
}

/// A straight line across the strake's inner face, with the land on its upper end.
#[derive(Debug, Clone, PartialEq)]
pub struct Ruling {
    /// On the lower inner edge.
    pub lower: Point,
    /// On the upper inner edge (the land line).
    pub upper: Point,
    /// Outward unit normal of the strake at the upper edge.
    pub normal: Vector,
    /// Unit tangent of the land line, aft.
    pub tangent: Vector,
    /// Outward unit normal of the strake at the lower edge.
    pub lower_normal: Vector,
    /// Distance along the land line from its fore end, mm.
    pub along: f64,
    /// Step between the inner faces of this strake and the next at the land: the thickness, less inside gains, mm.
    pub step: f64,
    /// Bevel of the land on this strake's upper edge, radians, + when the next strake turns inboard; `None` on the
    /// sheer strake.
    pub bevel: Option<f64>,
}

impl Ruling {
    /// Unit vector up the ruling.
    #[must_use]
    pub fn up(&self) -> Vector {
        crate::geom::unit_or(self.upper - self.lower, Vector::z())
    }

    /// Sine between the ruling and the land: what turns lengths along the ruling into lengths square to the land.
    #[must_use]
    pub fn squareness(&self) -> f64 {
        self.up().dot(&self.tangent.cross(&self.normal))
    }

    /// Width of the strake square to the land, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        (self.upper - self.lower).norm() * self.squareness()
    }
}

impl Strake {
    /// Distance along the upper edge, mm, where it crosses the plumb plane that goes through `x` on the centreline and `slope`
    /// aft for each mm outboard; `None` where it does not.
    #[must_use]
    pub fn along_in_plane(&self, x: f64, slope: f64) -> Option<f64> {
        let off = |r: &Ruling| r.upper.x - slope * r.upper.y;
        let w = self.rulings.windows(2).find(|w| off(&w[0]) <= x && x < off(&w[1]))?;
        let part = (x - off(&w[0])) / (off(&w[1]) - off(&w[0]));
        Some(w[0].along + part * (w[1].along - w[0].along))
    }
}

/// Numbers of a strake at one section.
#[derive(Debug, Clone, PartialEq)]
pub struct StrakeAt {
    /// Index into the plan's sections.
    pub section: usize,
    /// Index into `Strake::rulings`.
    pub ruling: usize,
    /// On the tape, square to the land, lap included, mm.
    pub width: f64,
    /// What shows outside, mm.
    pub shows: f64,
    /// Land on the upper edge, mm; `None` on the sheer strake.
    pub lap: Option<f64>,
    /// Radians; `None` on the sheer strake.
    pub bevel: Option<f64>,
    /// Wood left at the bevelled top outer edge, mm; `None` on the sheer strake.
    pub edge_left: Option<f64>,
    /// Depth of the rebate cut in this strake's upper edge for the gain, mm; `None` on the sheer strake.
    pub gain: Option<f64>,
}

impl StrakeAt {
    /// How far the next strake's inner face stands outboard of this one's upper inner edge, mm: the step, less what the
    /// bevel takes off; negative, inboard, at the end of a gain. `None` on the sheer strake.
    #[must_use]
    pub fn step_inside(&self, thickness: f64) -> Option<f64> {
        let step = thickness - 2.0 * self.gain?;
        Some(step - self.lap? * self.bevel?.tan().max(0.0))
    }

    /// Least wood that should be left at the edge here, mm, where the plank is `thickness` thick and `floor` is the least
    /// outside the gains: inside one, the same share of what the rebate leaves.
    #[must_use]
    pub fn edge_floor(&self, thickness: f64, floor: f64) -> f64 {
        land::edge_floor(thickness, self.gain.unwrap_or(0.0), floor)
    }
}
