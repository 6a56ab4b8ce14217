//! What the planks end on and lie against: stem and sternpost with their rabbets, the keel's rabbet, transoms.
//!
//! A rabbet is three lines. The *inner rabbet* is where the plank's inner corner goes, at the bottom of the groove: the
//! skin's own end. The *rabbet line* is where the plank's outer corner comes out of the wood, square off the plank from
//! the inner rabbet. The *bearding line* is where the plank's inner face leaves the wood. All three are taken in the plane
//! square to the rabbet, where the wood's side is a line at its half siding:
//!
//! ```text
//! R = I + (H − y)/N·ŷ N        B = I + (H − y)/D·ŷ D
//! ```
//!
//! with I the inner rabbet, y its half-breadth, H the wood's half siding, N the plank's outward normal and D the way aft
//! (at a sternpost forward, at the keel outboard) in its inner face. The groove's bottom is square: it takes a plank with
//! a square end. (Derived here from those definitions; a flat wall gives the wedge's closed form, in the tests.)
//!
//! A transom's edge is cut to each plank's inner face (`transom`).

mod keel;
mod post;
mod transom;

use crate::geom::{Point, Vector, unit_or};
use crate::lines::Section;
use crate::lining::Mark;
use crate::planks::Strake;
use crate::spec::{DrawnTo, EndSpec, Post, Spec};

pub use keel::rabbet_at as keel_rabbet_at;
pub use transom::{Seat, TransomShape, edge_bevel};

/// Keel, posts and transoms.
#[derive(Debug, Clone, PartialEq)]
pub struct Backbone {
    /// Stem and sternpost, those she has.
    pub posts: Vec<PostShape>,
    /// The keel's rabbet, from forward, a place for every ruling of the garboard.
    pub keel: Vec<RabbetAt>,
    /// Indices into `keel` of the sections, from bow to stern.
    pub keel_at: Vec<usize>,
    /// The transoms she has, fore one first.
    pub transoms: Vec<TransomShape>,
}

/// A stem or sternpost.
#[derive(Debug, Clone, PartialEq)]
pub struct PostShape {
    /// `stem` or `sternpost`.
    pub end: &'static str,
    /// Half siding of its wood, mm.
    pub half_siding: f64,
    /// Its rabbet from the foot up, dense.
    pub rabbet: Vec<RabbetAt>,
    /// The same at the middle of each strake's hood end, garboard first.
    pub strakes: Vec<RabbetAt>,
    /// The same where each land meets it, from land 0.
    pub lands: Vec<RabbetAt>,
    /// Outer face in profile `[x, z]`, from the foot up; empty where boat.toml does not give it. Beside the rabbet it stands
    /// square off it; where a head is given it runs straight on to its height, or is cut off there.
    pub outer_face: Vec<[f64; 2]>,
    /// Inner face in the same way.
    pub inner_face: Vec<[f64; 2]>,
    /// Height of its head above base, mm; `None`: not given.
    pub head: Option<f64>,
}

impl PostShape {
    /// Its wood in profile, closed: up the outer face, across the head, down the inner face `[x, z]`; `None` where boat.toml does
    /// not give both.
    #[must_use]
    pub fn outline(&self) -> Option<Vec<[f64; 2]>> {
        let both = self.outer_face.len() > 1 && self.inner_face.len() > 1;
        both.then(|| self.outer_face.iter().chain(self.inner_face.iter().rev()).copied().collect())
    }
}

/// A rabbet at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RabbetAt {
    /// The inner rabbet.
    pub inner: Point,
    /// The rabbet line; `None` where the plank lies too flat to the wood's side.
    pub outer: Option<Point>,
    /// The bearding line; `None` where the plank does not leave the wood.
    pub bearding: Option<Point>,
    /// From the wood's plumb side (a post's) or from level (the keel's) to the plank's inner face, in the plane square to
    /// the rabbet, radians.
    pub angle: f64,
}

impl RabbetAt {
    /// Depth of the groove square to the plank, mm.
    #[must_use]
    pub fn depth(&self) -> Option<f64> {
        self.outer.map(|o| (o - self.inner).norm())
    }

    /// From the rabbet line to the bearding line along the wood's side, mm.
    #[must_use]
    pub fn width(&self) -> Option<f64> {
        Some((self.bearding? - self.outer?).norm())
    }
}

/// Sine below which a face has no sure crossing with the wood's side.
const LEAST_CROSSING: f64 = 0.05;

/// The backbone for these strakes; `sections` are the skin's and `marks` those of all lands on them.
#[must_use]
pub fn backbone(strakes: &[Strake], sections: &[Section], marks: &[Mark], spec: &Spec) -> Backbone {
    let mut posts = Vec::new();
    let mut transoms = Vec::new();
    for (end, aft) in [(&spec.fore, false), (&spec.aft, true)] {
        let j = if aft { sections.len().saturating_sub(1) } else { 0 };
        let Some(section) = sections.get(j) else { continue };
        match end {
            EndSpec::Post(p) => posts.push(post::shape(strakes, section, j, marks, (p, aft), spec)),
            EndSpec::Transom(t) => {
                transoms.push(transom::shape(strakes, section, j, t, end.word(aft), spec.planking.transom_ends))
            }
        }
    }
    let keel = keel::rabbet(strakes, spec);
    let keel_at = strakes.first().map_or_else(Vec::new, |g| g.at.iter().map(|a| a.ruling).collect());
    Backbone { posts, keel, keel_at, transoms }
}

/// Half siding of a post's wood, mm.
fn wood_half_siding(post: &Post, spec: &Spec) -> f64 {
    post.wood_half_siding.unwrap_or(match spec.lines.drawn_to {
        DrawnTo::Outside => post.half_siding,
        DrawnTo::Inside => post.half_siding + spec.planking.thickness,
    })
}

/// The frame square to a rabbet that runs along `along`: the plank's outward normal there, and the way in its face off
/// the rabbet, towards `off`.
fn square_to(normal: &Vector, along: &Vector, off: &Vector) -> (Vector, Vector) {
    let n = unit_or(normal - along * normal.dot(along), *normal);
    let d = unit_or(n.cross(along), *off);
    (n, if d.dot(off) < 0.0 { -d } else { d })
}

/// The point on the way `d` from `inner` that stands `half_siding` off the centreline.
fn on_side(inner: &Point, d: &Vector, half_siding: f64) -> Option<Point> {
    let reach = (half_siding - inner.y) / d.y;
    (d.y > LEAST_CROSSING && reach >= 0.0).then(|| inner + d * reach)
}

/// A post's rabbet where the plank's outward normal is `normal` and the rabbet runs up along `along`; `off` points off it
/// into the boat.
///
/// ```
/// use boat::backbone::rabbet_at;
/// use boat::geom::{Point, Vector};
/// // A plumb stem and a wall at 20° to the centreline; inner rabbet 10 mm off the centreline, wood of 22 mm half siding.
/// let a = 20_f64.to_radians();
/// let at = rabbet_at(&Point::new(0.0, 10.0, 50.0), &Vector::new(-a.sin(), a.cos(), 0.0), &Vector::z(), &Vector::x(), 22.0);
/// assert!((at.angle - a).abs() < 1e-12);
/// assert!((at.depth().unwrap() - 12.0 / a.cos()).abs() < 1e-9);
/// // Along the wood's side the groove is as wide as (12 tan a + 12 / tan a).
/// assert!((at.width().unwrap() - 12.0 * (a.tan() + 1.0 / a.tan())).abs() < 1e-9);
/// ```
#[must_use]
pub fn rabbet_at(inner: &Point, normal: &Vector, along: &Vector, off: &Vector, half_siding: f64) -> RabbetAt {
    let (n, d) = square_to(normal, along, off);
    RabbetAt {
        inner: *inner,
        outer: on_side(inner, &n, half_siding),
        bearding: on_side(inner, &d, half_siding),
        angle: d.y.clamp(-1.0, 1.0).asin(),
    }
}
