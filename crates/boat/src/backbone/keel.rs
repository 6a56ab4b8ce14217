//! The keel's rabbet, and the hog's bevel.

use super::{RabbetAt, square_to};
use crate::geom::{Vector, unit_or};
use crate::planks::Strake;
use crate::spec::Spec;

/// The garboard's lower edge along the keel. The rabbet line is the plank's outer corner, square off its inner one; the
/// bearding line is where its inner face leaves the hog's edge, and there is none without a hog.
pub fn rabbet(strakes: &[Strake], spec: &Spec) -> Vec<RabbetAt> {
    let Some(garboard) = strakes.first() else { return Vec::new() };
    let r = &garboard.rulings;
    (0..r.len())
        .map(|i| {
            let along = unit_or(r[(i + 1).min(r.len() - 1)].lower - r[i.saturating_sub(1)].lower, Vector::x());
            let (n, d) = square_to(&r[i].lower_normal, &along, &Vector::y());
            let inner = r[i].lower;
            let hog = spec.keel.hog_half_breadth.and_then(|w| super::on_side(&inner, &d, w));
            RabbetAt {
                inner,
                outer: Some(inner + n * garboard.thickness),
                bearding: hog,
                angle: d.z.atan2(d.x.hypot(d.y)),
            }
        })
        .collect()
}
