//! Following a plank's edge that is known by points close together on a smooth line: places on it are fractional indices, and a
//! little past its ends it runs on as it came.

use crate::geom::{Point, Vector, unit_or};

/// Point at the fractional index `a` of a smooth polyline, by the cubic through the four nearest points; a little
/// past the ends too.
pub(crate) fn along_polyline(points: &[Point], a: f64) -> Point {
    let n = points.len();
    if n < 4 {
        return points[(a.round().max(0.0) as usize).min(n - 1)];
    }
    let first = (a.floor() as isize - 1).clamp(0, n as isize - 4) as usize;
    let x = a - first as f64;
    let weights = [
        -(x - 1.0) * (x - 2.0) * (x - 3.0) / 6.0,
        x * (x - 2.0) * (x - 3.0) / 2.0,
        -x * (x - 1.0) * (x - 3.0) / 2.0,
        x * (x - 1.0) * (x - 2.0) / 6.0,
    ];
    Point::from(points[first..first + 4].iter().zip(weights).fold(Vector::zeros(), |sum, (p, w)| sum + p.coords * w))
}

/// Unit tangent of a smooth polyline at the fractional index `a`.
pub(crate) fn tangent(points: &[Point], a: f64) -> Vector {
    unit_or(along_polyline(points, a + STEP) - along_polyline(points, a - STEP), Vector::x())
}

/// Half the step over which a tangent is taken, in rulings.
const STEP: f64 = 0.25;

/// Where the `other` edge, near its point number `i`, stands square to `tangent` off `point`.
pub(crate) fn foot(point: &Point, tangent: &Vector, other: &[Point], i: usize) -> Point {
    let last = other.len() - 1;
    let off = |at: f64| (along_polyline(other, at) - point).dot(tangent);
    let mut at = i as f64;
    for _ in 0..SQUARE_ROUNDS {
        let slope = (off(at + 0.5) - off(at - 0.5)).abs().max(1e-6);
        at = (at - off(at) / slope).clamp(-BEYOND, last as f64 + BEYOND);
    }
    along_polyline(other, at)
}

/// Distance from `point` to the curve through `edge`, near its point number `i`, mm.
pub(crate) fn nearest(edge: &[Point], point: &Point, i: usize) -> f64 {
    let last = edge.len() as f64 - 1.0;
    let away = |at: f64| (along_polyline(edge, at) - point).norm();
    let (mut low, mut high) = (i as f64 - 3.0 * BEYOND, i as f64 + 3.0 * BEYOND);
    (low, high) = (low.max(-BEYOND), high.min(last + BEYOND));
    for _ in 0..THIRDINGS {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if away(a) < away(b) { high = b } else { low = a }
    }
    away(0.5 * (low + high))
}

/// Steps to a foot.
const SQUARE_ROUNDS: usize = 5;
/// How far beyond an edge's end a foot or the nearest place is looked for, in rulings; three times so far to either side of
/// where it is thought to be.
const BEYOND: f64 = 8.0;
/// Times that a third of that stretch is left out: 3 parts in 10¹¹ of it remain.
const THIRDINGS: usize = 60;
