//! Inflections, stretches that turn back, and how much a land's bend changes.

use super::{Back, DEPTH, Seen, Spot, View, sweet};
use crate::geom::{Point, Vector, unit_or};

/// A land in one view; `per` points to a section.
pub(super) fn seen(view: View, points: &[Point], per: f64, sees: &dyn Fn(&Point) -> [f64; 2]) -> Seen {
    let mut all = Seen { view, inflections: Vec::new(), back: Vec::new() };
    count(&mut all, points, 0, per, sees);
    all
}

/// The same with each half, from its end to the widest place, counted for itself.
pub(super) fn in_halves(view: View, points: &[Point], per: f64, sees: &dyn Fn(&Point) -> [f64; 2]) -> Seen {
    let mut all = Seen { view, inflections: Vec::new(), back: Vec::new() };
    let widest = (0..points.len()).max_by(|&a, &b| points[a].y.total_cmp(&points[b].y)).unwrap_or(0);
    count(&mut all, &points[..=widest.min(points.len().saturating_sub(1))], 0, per, sees);
    count(&mut all, &points[widest..], widest, per, sees);
    all
}

/// Adds what `points` show, of which the first is number `from` of the land.
fn count(all: &mut Seen, points: &[Point], from: usize, per: f64, sees: &dyn Fn(&Point) -> [f64; 2]) {
    let seen = sweet::seen(points, sees);
    let bends = sweet::bends_deeper(&seen, DEPTH);
    let at = |i: usize| (from + i) as f64 / per;
    // A stretch's last chord begins the next one: the line turns back at the middle of it.
    let turns = bends.iter().skip(1).map(|b| {
        let (a, b) = (b.from, b.from + 1);
        Spot { at: 0.5 * (at(a) + at(b)), point: nalgebra::center(&points[a], &points[b]) }
    });
    all.inflections.extend(turns);
    let hand: f64 = bends.iter().map(|b| sweet::depth(&seen, b) * b.turn.signum()).sum();
    let back = bends.iter().filter(|b| b.turn * hand < 0.0);
    all.back.extend(back.map(|b| Back { from: at(b.from), to: at(b.to), depth: sweet::depth(&seen, b) }));
}

/// How a line's bend changes along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variation {
    /// L ∫ |dκ/ds| ds, no unit.
    pub all: f64,
    /// The greatest part of it within a twentieth of the length.
    pub most: f64,
    /// Where that is; counted in sections.
    pub at: f64,
}

/// The share of a land's length in which its bend is looked at for where it changes most.
const WINDOW: f64 = 0.05;

/// The variation of a line through `points` with unit `tangents`, `per` points to a section.
///
/// ```
/// use boat::geom::{Point, Vector};
/// use boat::lands::variation;
/// // A quarter of a circle bends evenly.
/// let at = |i: i32| f64::from(i) / 100.0 * std::f64::consts::FRAC_PI_2;
/// let points: Vec<Point> = (0..=100).map(|i| Point::new(at(i).sin(), at(i).cos(), 0.0) * 900.0).collect();
/// let tangents: Vec<Vector> = (0..=100).map(|i| Vector::new(at(i).cos(), -at(i).sin(), 0.0)).collect();
/// assert!(variation(&points, &tangents, 16.0).all < 1e-9);
/// ```
#[must_use]
pub fn variation(points: &[Point], tangents: &[Vector], per: f64) -> Variation {
    let none = Variation { all: 0.0, most: 0.0, at: 0.0 };
    if points.len() < 3 || tangents.len() != points.len() {
        return none;
    }
    let lengths: Vec<f64> = points.windows(2).map(|w| (w[1] - w[0]).norm()).collect();
    let length: f64 = lengths.iter().sum();
    // Curvature between two points, and its change square to the line at the point between two of those.
    let bend = |i: usize| (tangents[i + 1] - tangents[i]) / lengths[i].max(f64::MIN_POSITIVE);
    let change = |i: usize| {
        let (along, by) = (unit_or(tangents[i], Vector::x()), bend(i) - bend(i - 1));
        length * (by - along * by.dot(&along)).norm()
    };
    let changes: Vec<f64> = (1..points.len() - 1).map(change).collect();
    let (mut most, mut at) = (0.0, 0.0);
    for first in 0..changes.len() {
        let (mut part, mut wide, mut last) = (0.0, 0.0, first);
        while last < changes.len() && (wide == 0.0 || wide + lengths[last + 1] <= WINDOW * length) {
            part += changes[last];
            wide += lengths[last + 1];
            last += 1;
        }
        if part > most {
            (most, at) = (part, 0.5 * (first + last + 1) as f64 / per);
        }
    }
    // The outer halves of the first and last space change as what is beside them.
    let ends = 0.5 * (changes[0] + changes[changes.len() - 1]);
    Variation { all: changes.iter().sum::<f64>() + ends, most, at }
}
