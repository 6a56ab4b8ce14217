//! The keel's rabbet, and the hog's bevel.

use super::{RabbetAt, square_to};
use crate::geom::{Point, Vector, along, unit_or};
use crate::planks::Strake;
use crate::spec::{EndSpec, Spec};

/// The garboard's lower edge along the keel.
pub fn rabbet(strakes: &[Strake], spec: &Spec) -> Vec<RabbetAt> {
    let Some(garboard) = strakes.first() else { return Vec::new() };
    let r = &garboard.rulings;
    let normals = faired(garboard, spec);
    (0..r.len())
        .map(|i| {
            let along = unit_or(r[(i + 1).min(r.len() - 1)].lower - r[i.saturating_sub(1)].lower, Vector::x());
            rabbet_at(&r[i].lower, &normals[i], &along, garboard.thickness, spec.keel.hog_half_breadth)
        })
        .collect()
}

/// The garboard's normals along the keel. Beside a post its rulings fan out and its normal stands still, then turns by some
/// degrees within 20 mm; nobody cuts a rabbet so. There each is the mean over [`FAIRED`] to either side, less again further off.
/// Past the end the normals are thought to turn on as they came, which leaves that at the end, the post's, as it is.
fn faired(garboard: &Strake, spec: &Spec) -> Vec<Vector> {
    let r = &garboard.rulings;
    let s = along(&r.iter().map(|r| r.lower).collect::<Vec<_>>());
    let end = s.last().copied().unwrap_or_default();
    let posts = [&spec.fore, &spec.aft].map(|end| matches!(end, EndSpec::Post(_)));
    let reach = |off: f64| FAIRED.min(0.5 * (3.0 * FAIRED - off)).max(0.0);
    // The normal at a distance along, between two rulings.
    let between = |x: f64| {
        let i = s.partition_point(|&k| k <= x).clamp(1, s.len() - 1);
        let share = ((x - s[i - 1]) / (s[i] - s[i - 1]).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        r[i - 1].lower_normal + (r[i].lower_normal - r[i - 1].lower_normal) * share
    };
    let at = |x: f64| {
        let edge = x.clamp(0.0, end);
        if x == edge { between(x) } else { between(edge) * 2.0 - between(2.0 * edge - x) }
    };
    let mean = |i: usize| {
        let ends = [(s[i], posts[0]), (end - s[i], posts[1])];
        let wide = ends.map(|(off, post)| if post { reach(off) } else { 0.0 }).into_iter().fold(0.0, f64::max);
        if wide <= 0.0 {
            return r[i].lower_normal;
        }
        let steps = -SAMPLES..=SAMPLES;
        let sum: Vector = steps.map(|k| at(s[i] + wide * f64::from(k) / f64::from(SAMPLES))).sum();
        unit_or(sum, r[i].lower_normal)
    };
    (0..r.len()).map(mean).collect()
}

/// mm to either side of a place; three times so far from a post there is no mean.
const FAIRED: f64 = 30.0;
/// So many to either side are taken.
const SAMPLES: i32 = 12;

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
