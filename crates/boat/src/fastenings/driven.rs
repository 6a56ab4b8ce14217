//! What is driven into the wood behind the planks, where no rove can be put on: along the keel here, at plank ends in `ends`.
//!
//! A nail goes through the planks and so many thicknesses on ([`FasteningSpec::hold`]), up to the next length in stock. A screw
//! is the builder's own.

use super::along::parts_within;
use super::place::along_lower;
use crate::geom::Point;
use crate::planks::Strake;
use crate::spec::{FasteningSpec, Fixing, Spec};

/// One fastening through the garboard into the keel, one side.
#[derive(Debug, Clone, PartialEq)]
pub struct KeelFastening {
    /// From the bow, 1 first.
    pub n: usize,
    /// On the rabbet line's inner side, the garboard's lower inner edge, below where it is driven, mm.
    pub at: Point,
    /// Distance along that edge from its fore end, mm.
    pub along: f64,
    /// Stock length of the nail, or the screw's, mm; `None` where the longest nail in stock is too short.
    pub length: Option<f64>,
}

/// Length of what is driven through `wood` mm of planks, mm; `None` where no nail in stock is long enough.
#[must_use]
pub fn length(fixing: Fixing, wood: f64, thickness: f64, spec: &FasteningSpec) -> Option<f64> {
    match fixing {
        Fixing::Screws => spec.screw.map(|s| s.length),
        Fixing::Nails => super::rivet::nail(wood, spec.hold * thickness, 0.0, &spec.nail_lengths),
    }
}

/// Along the keel's rabbet, half a land up from it, spaced as the rivets of a land are. Those of the plank's ends stand in the
/// same row and are its first and its last, so they are not among these.
#[must_use]
pub fn along_keel(strakes: &[Strake], spec: &Spec) -> Vec<KeelFastening> {
    let Some(garboard) = strakes.first() else { return Vec::new() };
    let lower = along_lower(garboard);
    let whole = lower.last().copied().unwrap_or(0.0);
    let row = spec.fastenings.end_row.min(0.25 * whole);
    let run = whole - 2.0 * row;
    let spacing = spec.timbers.spacing / f64::from(spec.fastenings.between + 1);
    let parts = (run / spacing).round().max(parts_within(run, spec.rivets_apart()));
    let length = length(spec.fastenings.keel, garboard.thickness, garboard.thickness, &spec.fastenings);
    (1..parts as usize)
        .map(|n| {
            let along = row + run * n as f64 / parts;
            KeelFastening { n, at: at(garboard, &lower, along), along, length }
        })
        .collect()
}

/// The point of the lower edge at a distance along it.
fn at(strake: &Strake, lower: &[f64], along: f64) -> Point {
    let r = &strake.rulings;
    let i = lower.partition_point(|l| *l <= along).clamp(1, r.len() - 1);
    let part = (along - lower[i - 1]) / (lower[i] - lower[i - 1]).max(f64::MIN_POSITIVE);
    r[i - 1].lower + (r[i].lower - r[i - 1].lower) * part
}
