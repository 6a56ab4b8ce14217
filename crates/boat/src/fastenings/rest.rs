//! Fastenings that the boat takes besides the rivets through her lands.
//!
//! How many there are follows from the plan; what they are, nails, screws or bolts, is the builder's, so they are
//! counted but not ordered.

use super::EndFastening;
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;

/// One sort of them, both sides.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rest {
    /// What is fastened to what: `garboard to keel`.
    pub what: String,
    /// How many.
    pub count: u32,
}

/// Garboard to keel, hood ends and transom, timbers to keel, timber heads; those there are any of.
#[must_use]
pub fn rest(strakes: &[Strake], timbers: &[Timber], ends: &[EndFastening], spec: &Spec) -> Vec<Rest> {
    let mut rest = vec![("garboard to keel".to_owned(), 2 * along_keel(strakes, spec))];
    for end in ["stem", "bow transom", "sternpost", "transom"] {
        // The last of each strake is the next one's first, so every strake but the garboard brings one fewer.
        let at_end = ends.iter().filter(|e| e.end == end);
        let n: u32 = at_end.map(|e| e.fastenings.saturating_sub(u32::from(e.strake > 1))).sum();
        rest.push((format!("plank ends to the {end}"), 2 * n));
    }
    rest.push(("timbers to the keel".to_owned(), timbers.iter().map(|t| t.pieces).sum()));
    rest.push((
        "timber heads to the sheer strake".to_owned(),
        2 * timbers.iter().filter(|t| !t.stopped).count() as u32,
    ));
    rest.into_iter().filter(|r| r.1 > 0).map(|(what, count)| Rest { what, count }).collect()
}

/// Along the rabbet of the keel, one side, spaced as the rivets of a land are.
fn along_keel(strakes: &[Strake], spec: &Spec) -> u32 {
    let Some(garboard) = strakes.first() else { return 0 };
    let length: f64 = garboard.rulings.windows(2).map(|w| (w[1].lower - w[0].lower).norm()).sum();
    let spacing = (spec.timbers.spacing / f64::from(spec.fastenings.between + 1)).min(spec.rivets_apart());
    (length / spacing).round() as u32 + 1
}
