//! Fastenings that the boat takes besides the rivets through her lands.
//!
//! Those at plank ends and along the keel are in the order. How many timbers take follows from the plan too; what they are is
//! the builder's, so they are counted but not ordered.

use super::{ENDS, EndFastening, KeelFastening};
use crate::spec::{Fixing, Spec};
use crate::timbers::Timber;

/// One sort of them, both sides.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rest {
    /// What is fastened to what: `garboard to keel`.
    pub what: String,
    /// How many.
    pub count: u32,
    /// With what, where they are in the order; `None` where they are not.
    pub with: Option<Fixing>,
}

/// Garboard to keel, hood ends and transom, timbers to keel, timber heads; those there are any of.
#[must_use]
pub fn rest(keel: &[KeelFastening], timbers: &[Timber], ends: &[EndFastening], spec: &Spec) -> Vec<Rest> {
    let mut rest = vec![("garboard to keel".to_owned(), 2 * keel.len(), Some(spec.fastenings.keel))];
    for end in ENDS {
        let at_end = || ends.iter().filter(|e| e.end == end);
        let n: usize = at_end().map(|e| e.own().len()).sum();
        rest.push((format!("plank ends to the {end}"), 2 * n, at_end().map(|e| e.fixing).next()));
    }
    rest.push(("timbers to the keel".to_owned(), timbers.iter().map(|t| t.pieces as usize).sum(), None));
    let heads = timbers.iter().filter(|t| !t.stopped).count();
    rest.push(("timber heads to the sheer strake".to_owned(), 2 * heads, None));
    rest.into_iter()
        .filter(|r| r.1 > 0)
        .map(|(what, count, with)| Rest { what, count: u32::try_from(count).unwrap_or(u32::MAX), with })
        .collect()
}
