//! A mould's edge.

use super::Notch;
use crate::geom::{Point, Vector};
use crate::lines::Section;
use crate::lining::Mark;
use crate::planks::{Ruling, Strake};
use crate::spec::KeelSpec;

/// The section moved in to the planks' inner faces where it stands proud of them, and by how much at most under each
/// strake.
pub fn edge(section: &Section, j: usize, strakes: &[Strake], marks: &[Mark]) -> (Vec<[f64; 2]>, Vec<f64>) {
    let girth = |land: usize| marks.iter().find(|m| m.land == land && m.section == j).map(|m| m.girth);
    let mut relief = vec![0.0_f64; strakes.len()];
    let mut along = 0.0;
    let mut edge = Vec::with_capacity(section.points.len());
    let mut strake = 0;
    for (i, p) in section.points.iter().enumerate() {
        along += if i > 0 { (p - section.points[i - 1]).norm() } else { 0.0 };
        while strake + 1 < strakes.len() && girth(strakes[strake].strake).is_some_and(|g| along > g) {
            strake += 1;
        }
        let ruling =
            strakes.get(strake).and_then(|s| s.at.iter().find(|a| a.section == j).map(|a| &s.rulings[a.ruling]));
        let (at, by) = ruling.map_or(([p.y, p.z], 0.0), |r| eased(p, r));
        if let Some(most) = relief.get_mut(strake) {
            *most = most.max(by);
        }
        edge.push(at);
    }
    (edge, relief)
}

/// A point `p` of a station's section moved square to the plank into the plank's inner face, where it stands outboard of
/// it: where it then is, `[y, z]`, and how far it was moved, mm. `ruling` lies in the station's plane.
///
/// ```
/// use boat::geom::{Point, Vector};
/// use boat::planks::Ruling;
/// use boat::setting_up::eased;
/// // A plank straight up at half-breadth 100; the section bulges to 103 there.
/// let (lower, upper) = (Point::new(0.0, 100.0, 0.0), Point::new(0.0, 100.0, 80.0));
/// let (n, t) = (Vector::y(), Vector::x());
/// let wall = Ruling { lower, upper, normal: n, tangent: t, lower_normal: n, along: 0.0, step: 8.0, bevel: None };
/// assert_eq!(eased(&Point::new(0.0, 103.0, 40.0), &wall), ([100.0, 40.0], 3.0));
/// assert_eq!(eased(&Point::new(0.0, 99.0, 40.0), &wall), ([99.0, 40.0], 0.0));
/// ```
#[must_use]
pub fn eased(p: &Point, ruling: &Ruling) -> ([f64; 2], f64) {
    let up = ruling.up();
    let out = Vector::new(0.0, up.z, -up.y);
    let proud = (p - ruling.upper).dot(&out).max(0.0);
    let at = p - out * proud;
    ([at.y, at.z], proud)
}

/// Half-breadth of the edge at height `z`.
pub fn half_breadth(edge: &[[f64; 2]], z: f64) -> Option<f64> {
    let w = edge.windows(2).find(|w| (w[0][1] <= z) != (w[1][1] <= z))?;
    Some(w[0][0] + (w[1][0] - w[0][0]) * (z - w[0][1]) / (w[1][1] - w[0][1]))
}

/// The notch at the keel: as wide as the hog and its thickness above the rabbet; without a hog, the rabbet itself.
pub fn notch(foot: &Point, keel: &KeelSpec) -> Notch {
    Notch {
        half_breadth: keel.hog_half_breadth.unwrap_or(foot.y).max(foot.y),
        top: foot.z + keel.hog_thickness.filter(|_| keel.hog_half_breadth.is_some()).unwrap_or(0.0),
    }
}

/// A mould's edge from the centreline: across the notch, down to the edge, and on up it.
pub fn notched(edge: &[[f64; 2]], notch: Notch) -> Vec<[f64; 2]> {
    let beside = edge.partition_point(|p| p[0] <= notch.half_breadth + 1e-9 && p[1] <= notch.top.max(edge[0][1]));
    let (before, after) = (edge.get(beside.wrapping_sub(1)), edge.get(beside));
    let z = match (before, after) {
        (Some(a), Some(b)) if (b[0] - a[0]).abs() > 1e-9 => {
            a[1] + (b[1] - a[1]) * ((notch.half_breadth - a[0]) / (b[0] - a[0])).clamp(0.0, 1.0)
        }
        (Some(one), _) | (None, Some(one)) => one[1],
        (None, None) => notch.top,
    };
    let mut run = vec![[notch.half_breadth, notch.top.max(z)]];
    if notch.top > z + 1e-9 {
        run.push([notch.half_breadth, z]);
    }
    run.extend(&edge[beside.min(edge.len())..]);
    run
}
