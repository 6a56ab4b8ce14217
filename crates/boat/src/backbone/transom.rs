//! A transom's true shape, its seats and the bevel of its edge.
//!
//! Each plank is flat across, so its seat on the transom is straight, from its lower inner corner to its upper one, and
//! the edge there is cut to its inner face. With m the outer face's outward normal and N the plank's, the edge is off
//! square by ε, sin ε = m·N: + where she narrows towards the outer face, so that the inner face is the larger, by
//! thickness × tan ε square to the edge. Where the lands run out flush in a gain the seats meet; where they stand proud
//! the transom is notched by the step between one seat's end and the next one's beginning; or its edge is plain, straight
//! from land to land, and that step is the thick end of a wedge under the plank.
//!
//! The top edge is level at the sheer, or an arc that rises the crown over its corners there.
//!
//! A curved transom is laid flat by unrolling its outer face (`spec::Transom::laid_flat`); the bevel is taken at the
//! middle of each seat.

use crate::geom::{Point, Vector, unit_or};
use crate::lines::Section;
use crate::planks::Strake;
use crate::spec::{Transom, TransomEnds};

/// A transom.
#[derive(Debug, Clone, PartialEq)]
pub struct TransomShape {
    /// `transom` or `bow transom`.
    pub end: &'static str,
    /// Radius of its outer face, mm; `None`: flat.
    pub radius: Option<f64>,
    /// Of its wood, mm.
    pub thickness: f64,
    /// How the planks lie on it.
    pub ends: TransomEnds,
    /// The skin's curve on its outer face, laid flat, from rabbet to sheer: along from the centreline, up from the foot,
    /// mm.
    pub curve: Vec<[f64; 2]>,
    /// One for each strake, garboard first.
    pub seats: Vec<Seat>,
    /// How far its top edge rises on the centreline over its corners at the sheer, mm; `None`: not given.
    pub crown: Option<f64>,
    /// The top edge of its outer face, laid flat, from the corner at the sheer to the centreline: level in the boat, and the
    /// crown's arc over that.
    pub top: Vec<[f64; 2]>,
}

/// Where one plank lies on a transom's edge.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// Strake.
    pub strake: usize,
    /// Its lower end on the outer face, laid flat.
    pub lower: [f64; 2],
    /// Its upper end.
    pub upper: [f64; 2],
    /// Bevel of the edge, radians off square, + where the inner face is the larger.
    pub bevel: f64,
    /// How far the inner face stands out past the outer one, square to the edge, mm.
    pub inner_out: f64,
}

impl TransomShape {
    /// The outer face's outline from the rabbet up. A plank's top edge stands square off its seat's upper end; from there
    /// the next one's seat goes on.
    #[must_use]
    pub fn outline(&self) -> Vec<[f64; 2]> {
        outline(self.ends, self.seats.iter().map(|s| [s.lower, s.upper]))
    }

    /// The inner face's outline, in the same coordinates: each seat moved square to itself by its bevel.
    #[must_use]
    pub fn inner_outline(&self) -> Vec<[f64; 2]> {
        let moved = |s: &Seat| {
            let (u, v) = (s.upper[0] - s.lower[0], s.upper[1] - s.lower[1]);
            let length = u.hypot(v).max(f64::MIN_POSITIVE);
            let out = [s.inner_out * v / length, -s.inner_out * u / length];
            [s.lower, s.upper].map(|p| [p[0] + out[0], p[1] + out[1]])
        };
        outline(self.ends, self.seats.iter().map(moved))
    }

    /// How thick the wedge under strake `k` + 1's lower end is on a plain edge, mm: 0 where it is cut to the seats. It runs
    /// out to nothing at that strake's upper edge.
    #[must_use]
    pub fn wedge(&self, k: usize) -> f64 {
        if self.ends == TransomEnds::Plain { self.notch(k).unwrap_or(0.0).max(0.0) } else { 0.0 }
    }

    /// Depth of the notch between strake `k`'s seat and the next one's, mm: 0 where the lands are flush.
    #[must_use]
    pub fn notch(&self, k: usize) -> Option<f64> {
        let below = self.seats.iter().find(|s| s.strake == k)?;
        let above = self.seats.iter().find(|s| s.strake == k + 1)?;
        // The next seat's lower end lies a land down; its line is met square from the mark.
        let (u, v) = (above.upper[0] - above.lower[0], above.upper[1] - above.lower[1]);
        let [du, dv] = [below.upper[0] - above.lower[0], below.upper[1] - above.lower[1]];
        Some((u * dv - v * du) / u.hypot(v).max(f64::MIN_POSITIVE))
    }
}

/// Seats from their lower to their upper ends, each from where it is met square from the end of the one below.
/// A plain edge runs straight from upper end to upper end, inside every seat.
fn outline(ends: TransomEnds, seats: impl Iterator<Item = [[f64; 2]; 2]>) -> Vec<[f64; 2]> {
    let mut points: Vec<[f64; 2]> = Vec::new();
    for [lower, upper] in seats {
        if ends == TransomEnds::Plain && !points.is_empty() {
            points.push(upper);
            continue;
        }
        let (u, v) = (upper[0] - lower[0], upper[1] - lower[1]);
        let from = points.last().map_or(lower, |below| {
            let share =
                ((below[0] - lower[0]) * u + (below[1] - lower[1]) * v) / (u * u + v * v).max(f64::MIN_POSITIVE);
            [lower[0] + share * u, lower[1] + share * v]
        });
        points.extend([from, upper]);
    }
    points
}

/// Off square, radians: the edge of a board with outward face normal `face`, cut to a plank with outward normal `plank`;
/// both unit. + where the board's other face is the larger.
///
/// ```
/// use boat::backbone::edge_bevel;
/// use boat::geom::Vector;
/// // A wall that draws in by 1 in 10 towards a square transom: atan 0.1.
/// let wall = Vector::new(0.1, 1.0, 0.0).normalize();
/// assert!((edge_bevel(&Vector::x(), &wall) - 0.1_f64.atan()).abs() < 1e-12);
/// ```
#[must_use]
pub fn edge_bevel(face: &Vector, plank: &Vector) -> f64 {
    face.dot(plank).clamp(-1.0, 1.0).asin()
}

/// The transom whose curve is `section`, the skin's number `j`.
pub fn shape(
    strakes: &[Strake],
    section: &Section,
    j: usize,
    t: &Transom,
    end: &'static str,
    ends: TransomEnds,
) -> TransomShape {
    let flat = |p: &Point| t.laid_flat(p.y, p.z);
    let seats = strakes
        .iter()
        .filter_map(|s| {
            let r = &s.rulings[s.at.iter().find(|a| a.section == j)?.ruling];
            let normal = unit_or(r.normal + r.lower_normal, r.normal);
            let bevel = edge_bevel(&Vector::from(t.normal(0.5 * (r.lower.y + r.upper.y))), &normal);
            Some(Seat {
                strake: s.strake,
                lower: flat(&r.lower),
                upper: flat(&r.upper),
                bevel,
                inner_out: t.thickness * bevel.tan(),
            })
        })
        .collect();
    TransomShape {
        end,
        radius: t.radius,
        thickness: t.thickness,
        ends,
        curve: section.points.iter().map(flat).collect(),
        seats,
        crown: t.crown,
        top: section.points.last().map_or_else(Vec::new, |sheer| top(t, sheer)),
    }
}

/// The top edge from the corner `sheer` to the centreline.
fn top(t: &Transom, sheer: &Point) -> Vec<[f64; 2]> {
    let [half, _] = t.laid_flat(sheer.y, sheer.z);
    let straight = t.radius.is_none() && t.crown.is_none_or(|c| c <= 0.0);
    let pieces = if straight { 1 } else { TOP };
    (0..=pieces)
        .map(|i| {
            let [along, up] = t.laid_flat(sheer.y * (1.0 - i as f64 / pieces as f64), sheer.z);
            [along, up + t.rise(along, half)]
        })
        .collect()
}

/// Pieces of half a curved top edge: over a yard's half-breadth and a crown as high as may be, 0.04 mm from the arc.
const TOP: usize = 64;
