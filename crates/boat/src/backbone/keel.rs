//! The keel's rabbet, and the hog's bevel.

use super::{RabbetAt, square_to};
use crate::geom::{Point, Vector, unit_or};
use crate::planks::Strake;
use crate::spec::Spec;

/// The garboard's lower edge along the keel.
pub fn rabbet(strakes: &[Strake], spec: &Spec) -> Vec<RabbetAt> {
    let Some(garboard) = strakes.first() else { return Vec::new() };
    let r = &garboard.rulings;
    (0..r.len())
        .map(|i| {
            let along = unit_or(r[(i + 1).min(r.len() - 1)].lower - r[i.saturating_sub(1)].lower, Vector::x());
            rabbet_at(&r[i].lower, &r[i].lower_normal, &along, garboard.thickness, spec.keel.hog_half_breadth)
        })
        .collect()
}

/// The keel's rabbet where the garboard's outward normal is `normal` and the rabbet runs along `along`. The rabbet line is
/// the plank's outer corner, square off its inner one, and the keel's side stands there; the bearding line is where the
/// plank's inner face leaves the hog's edge, or without a hog the keel's side.
///
/// The angle is off level in the plane square to the rabbet: where the rabbet slopes it is more than the plank's rise
/// over its run.
///
/// ```
/// use boat::backbone::keel_rabbet_at;
/// use boat::geom::{Point, Vector};
/// // A level keel and a plank 10 mm thick that rises at 30°.
/// let n = Vector::new(0.0, 0.5, -(0.75_f64.sqrt()));
/// let at = keel_rabbet_at(&Point::new(0.0, 20.0, 100.0), &n, &Vector::x(), 10.0, None);
/// assert!((at.angle.to_degrees() - 30.0).abs() < 1e-9);
/// assert!((at.outer.unwrap().y - 25.0).abs() < 1e-9);
/// // Where its inner face comes out of the keel's side, 5 mm outboard: 5 tan 30° higher.
/// assert!((at.bearding.unwrap().z - 100.0 - 5.0 / 3_f64.sqrt()).abs() < 1e-9);
/// ```
#[must_use]
pub fn rabbet_at(inner: &Point, normal: &Vector, along: &Vector, thickness: f64, hog: Option<f64>) -> RabbetAt {
    let (n, d) = square_to(normal, along, &Vector::y());
    let outer = inner + n * thickness;
    RabbetAt {
        inner: *inner,
        outer: Some(outer),
        bearding: super::on_side(inner, &d, hog.unwrap_or(outer.y)),
        angle: (d.x.hypot(d.z) * d.z.signum()).atan2(d.y),
    }
}
