//! Points, vectors, fair curves, arc length, banded systems. Knows nothing of boats.
//!
//! Lengths have whatever unit the caller uses (mm everywhere in this crate); angles are radians.

pub mod arc;
pub mod banded;
pub mod fair;
pub mod monotone;
pub mod roughness;

/// A point in space, mm.
pub type Point = nalgebra::Point3<f64>;
/// A displacement in space, mm, or a direction.
pub type Vector = nalgebra::Vector3<f64>;

/// `v` at unit length, or `fallback` where `v` is too short to have a direction.
#[must_use]
pub fn unit_or(v: Vector, fallback: Vector) -> Vector {
    v.try_normalize(1e-12).unwrap_or(fallback)
}

/// Distances along the polyline `points` from its start; one for each point.
#[must_use]
pub fn along(points: &[Point]) -> Vec<f64> {
    let mut at = 0.0;
    let steps = points.windows(2).map(|w| (w[1] - w[0]).norm());
    std::iter::once(0.0)
        .chain(steps.map(|step| {
            at += step;
            at
        }))
        .take(points.len())
        .collect()
}

/// Angle from `a` to `b` about `axis`, all unit, `a` and `b` square to `axis`; radians in (−π, π],
/// + by the right hand about `axis`.
#[must_use]
pub fn angle_about(a: &Vector, b: &Vector, axis: &Vector) -> f64 {
    a.cross(b).dot(axis).atan2(a.dot(b))
}

/// Largest distance of a point on the polyline `points` from the chord between its ends.
#[must_use]
pub fn sagitta(points: &[[f64; 2]]) -> f64 {
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return 0.0 };
    let (dx, dy) = (last[0] - first[0], last[1] - first[1]);
    let chord = dx.hypot(dy);
    if chord == 0.0 {
        return 0.0;
    }
    points.iter().map(|p| (dx * (p[1] - first[1]) - dy * (p[0] - first[0])).abs() / chord).fold(0.0, f64::max)
}

/// Area within a closed outline, whichever way round, and its middle; the first point where there is no area.
///
/// ```
/// use boat::geom::area_and_middle;
/// // An L of a flat 2 by 1 and a square of 1 upon its left half.
/// let (area, [x, y]) = area_and_middle(&[[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [1.0, 1.0], [1.0, 2.0], [0.0, 2.0]]);
/// assert!((area - 3.0).abs() < 1e-12 && (x - 2.5 / 3.0).abs() < 1e-12 && (y - 2.5 / 3.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn area_and_middle(outline: &[[f64; 2]]) -> (f64, [f64; 2]) {
    let (mut twice, mut x, mut y) = (0.0, 0.0, 0.0);
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let cross = a[0] * b[1] - a[1] * b[0];
        twice += cross;
        x += (a[0] + b[0]) * cross;
        y += (a[1] + b[1]) * cross;
    }
    if twice == 0.0 {
        return (0.0, outline.first().copied().unwrap_or_default());
    }
    (0.5 * twice.abs(), [x / (3.0 * twice), y / (3.0 * twice)])
}
