//! Sections that cross.
//!
//! From the stem to the widest section each is wider than the one before it at every height, and from there each narrower.
//! Two neighbours of which one is clearly the wider at one height and clearly the narrower at another cross on the body
//! plan. About the middle of a boat that may be meant, and is no matter of a slip; further from it, it is mostly two
//! columns' entries mixed up, or a row that stands under a wrong level.

use super::{Section, SectionAt, Skin, check};
use crate::findings::{Finding, Measure, Stage};
use crate::spec::Spec;

/// How many tolerances wider, and narrower elsewhere, a section must be.
const CLEARLY: f64 = 6.0;
/// Heights looked at.
const HEIGHTS: usize = 60;

/// The neighbours that cross furthest, if any do.
#[must_use]
pub fn crossing(skin: &Skin, spec: &Spec) -> Option<Finding> {
    let least = CLEARLY * check::tolerance(spec);
    let widest = |s: &Section| s.points.iter().map(|p| p.y).fold(0.0, f64::max);
    let middle = (0..skin.sections.len())
        .max_by(|a, b| widest(&skin.sections[*a]).total_cmp(&widest(&skin.sections[*b])))
        .unwrap_or_default();
    let pairs = (1..skin.sections.len()).filter(|&j| j < middle || j > middle + 1);
    let crossed = pairs.filter_map(|j| {
        let (a, b) = (&skin.sections[j - 1], &skin.sections[j]);
        let square = |s: &Section| matches!(s.at, SectionAt::Station(_));
        if !square(a) || !square(b) {
            return None;
        }
        let [wider, narrower] = apart(a, b)?;
        (wider.0 > least && narrower.0 > least).then_some((a, b, wider, narrower))
    });
    let depth = |w: (f64, f64), n: (f64, f64)| w.0.min(n.0);
    let (a, b, wider, narrower) = crossed.max_by(|x, y| depth(x.2, x.3).total_cmp(&depth(y.2, y.3)))?;
    let long = |mm: f64| spec.lengths.long(mm);
    Some(Finding {
        stage: Stage::Lines,
        place: format!("stations {} and {}", a.name, b.name),
        measured: Measure::Length(depth(wider, narrower)),
        limit: Measure::Length(least),
        hint: format!(
            "the sections cross: {} is the wider at {} above base and the narrower at {}. Away from the widest section that \
             is seldom meant: compare both columns with the plan, and the levels of the rows",
            a.name,
            long(wider.1),
            long(narrower.1)
        ),
    })
}

/// The most by which `a` is wider than `b`, and narrower, each with its height.
fn apart(a: &Section, b: &Section) -> Option<[(f64, f64); 2]> {
    let ends = |s: &Section| Some((s.points.first()?.z, s.points.last()?.z));
    let ((a0, a1), (b0, b1)) = (ends(a)?, ends(b)?);
    let (low, high) = (a0.max(b0), a1.min(b1));
    let mut found = [(0.0, low), (0.0, low)];
    for i in 1..HEIGHTS {
        let z = low + (high - low) * i as f64 / HEIGHTS as f64;
        let (Some(y), Some(w)) = (half_breadth(a, z), half_breadth(b, z)) else { continue };
        for (most, off) in found.iter_mut().zip([y - w, w - y]) {
            if off > most.0 {
                *most = (off, z);
            }
        }
    }
    Some(found)
}

/// Half-breadth at height `z`, the widest where it is crossed more than once.
fn half_breadth(s: &Section, z: f64) -> Option<f64> {
    let crosses = s.points.windows(2).filter(|w| (w[0].z <= z) != (w[1].z <= z));
    crosses.map(|w| w[0].y + (w[1].y - w[0].y) * (z - w[0].z) / (w[1].z - w[0].z)).reduce(f64::max)
}
