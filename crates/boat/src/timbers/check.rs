//! Timbers bent too tight.

use super::{Timber, fit};
use crate::findings::{Finding, Measure, Stage};
use crate::spec::{Bent, TimberSpec};

/// The tightest of those bent tighter than the wood takes, steamed or cold as they are made.
pub fn check(timbers: &[Timber], spec: &TimberSpec) -> Vec<Finding> {
    let limit = fit::least_radius(spec);
    let tight: Vec<&Timber> = timbers.iter().filter(|t| t.bend_radius_min < limit).collect();
    let Some(tightest) = tight.iter().min_by(|a, b| a.bend_radius_min.total_cmp(&b.bend_radius_min)) else {
        return Vec::new();
    };
    let others = match tight.len() {
        1 => String::new(),
        n => format!(" ({n} timbers pass the limit)"),
    };
    let thin = 100.0 * fit::goes(tightest.bend_radius_min, spec) / spec.moulded;
    let as_made = match (spec.bent, spec.layers) {
        (Bent::Steamed, 1) => format!("{} times its thickness", said(spec.steamed_radius)),
        (Bent::Cold, 1) => format!("{} times its thickness, cold", said(spec.cold_radius)),
        (Bent::Steamed, n) => format!("{n} layers go, steamed"),
        (Bent::Cold, n) => format!("{n} layers go, cold"),
    };
    let layers = fit::glued_up(tightest.bend_radius_min, spec);
    let radius = match spec.bent {
        Bent::Steamed => "steamed_radius",
        Bent::Cold => "cold_radius",
    };
    vec![Finding {
        stage: Stage::Timbers,
        place: format!("timber {}", tightest.n),
        measured: Measure::Length(tightest.bend_radius_min),
        limit: Measure::Length(limit),
        hint: format!(
            "bends tighter than {as_made}{others}: thinned there to {:.0} in the hundred of it, or {layers}, or \
             thinner all along (timbers.moulded), or choose the wood for it (timbers.{radius})",
            thin.floor(),
        ),
    }]
}

/// A number of thicknesses, to a tenth.
fn said(times: f64) -> String {
    ((times * 10.0).round() / 10.0).to_string()
}
