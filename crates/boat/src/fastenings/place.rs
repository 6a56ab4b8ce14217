//! Where a fastening stands along an edge of a strake, from the nearest station's mark there.

use crate::geom::{self, Point};
use crate::lines::{Section, SectionAt};
use crate::planks::Strake;

/// Distance along a strake's lower inner edge of each of its rulings, from the fore end, mm.
#[must_use]
pub fn along_lower(strake: &Strake) -> Vec<f64> {
    geom::along(&strake.rulings.iter().map(|r| r.lower).collect::<Vec<Point>>())
}

/// The station whose mark on a strake's upper edge is nearest to a place `along` it, as its section, and how far abaft it the
/// place is, mm (negative: before it). `None` where the strake crosses no station.
#[must_use]
pub fn from_station(strake: &Strake, sections: &[Section], along: f64) -> Option<(usize, f64)> {
    nearest(strake, sections, along, |ruling| strake.rulings.get(ruling).map(|r| r.along))
}

/// The same along its lower edge, whose distances `along_lower` gives.
#[must_use]
pub fn from_station_below(strake: &Strake, sections: &[Section], lower: &[f64], along: f64) -> Option<(usize, f64)> {
    nearest(strake, sections, along, |ruling| lower.get(ruling).copied())
}

fn nearest(
    strake: &Strake,
    sections: &[Section],
    along: f64,
    mark: impl Fn(usize) -> Option<f64>,
) -> Option<(usize, f64)> {
    let is_station = |section: usize| sections.get(section).is_some_and(|s| matches!(s.at, SectionAt::Station(_)));
    strake
        .at
        .iter()
        .filter(|a| is_station(a.section))
        .filter_map(|a| Some((a.section, along - mark(a.ruling)?)))
        .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
}
