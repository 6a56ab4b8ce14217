//! What to look at in the flat planks.

use super::FlatPlank;
use crate::findings::{Finding, Measure, Stage};

/// Wood bears some stretch when it is forced cold, a few parts in a thousand. Common practice, no source.
const STRAIN: f64 = 0.003;

/// Planks that must stretch more than wood bears cold.
#[must_use]
pub fn check(flats: &[FlatPlank]) -> Vec<Finding> {
    flats
        .iter()
        .filter(|f| f.strain_most > STRAIN)
        .map(|f| Finding {
            stage: Stage::Development,
            place: format!("strake {}", f.strake),
            measured: Measure::Ratio(f.strain_most),
            limit: Measure::Ratio(STRAIN),
            hint: "no flat shape fits this strake without stretching it: steam it, or make it narrower where it \
                   twists"
                .to_string(),
        })
        .collect()
}
