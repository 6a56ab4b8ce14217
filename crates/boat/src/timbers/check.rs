//! Timbers bent too tight.

use super::{Timber, fit};
use crate::findings::{Finding, Measure, Stage};
use crate::spec::TimberSpec;

/// The tightest of those bent tighter than the wood takes steamed.
pub fn check(timbers: &[Timber], spec: &TimberSpec) -> Vec<Finding> {
    let limit = spec.steamed_radius * spec.moulded;
    let tight: Vec<&Timber> = timbers.iter().filter(|t| t.bend_radius_min < limit).collect();
    let Some(tightest) = tight.iter().min_by(|a, b| a.bend_radius_min.total_cmp(&b.bend_radius_min)) else {
        return Vec::new();
    };
    let others = match tight.len() {
        1 => String::new(),
        n => format!(" ({n} timbers pass the limit)"),
    };
    let thin = 100.0 * fit::goes(tightest.bend_radius_min, spec) / spec.moulded;
    let layers = match fit::layers(tightest.bend_radius_min, spec) {
        Some(n) => format!("in {n} layers"),
        None => "sawn or grown, for no layers go round it".to_owned(),
    };
    vec![Finding {
        stage: Stage::Timbers,
        place: format!("timber {}", tightest.n),
        measured: Measure::Length(tightest.bend_radius_min),
        limit: Measure::Length(limit),
        hint: format!(
            "bends tighter than {} times its thickness{others}: thinned there to {:.0} in the hundred of it, or {layers}, or \
             thinner all along (timbers.moulded), or choose the wood for it (timbers.steamed_radius)",
            (spec.steamed_radius * 10.0).round() / 10.0,
            thin.floor(),
        ),
    }]
}
