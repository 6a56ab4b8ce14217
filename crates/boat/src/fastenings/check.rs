//! What to look at in the rivets.

use super::Rivet;
use crate::findings::{Finding, Measure, Stage};
use crate::spec::FasteningSpec;

/// Heads that come within their own radius of the outer plank's edge, and grips longer than any nail in stock: the
/// worst of each land.
#[must_use]
pub fn check(rivets: &[Rivet], spec: &FasteningSpec) -> Vec<Finding> {
    let mut findings = Vec::new();
    let lands = rivets.iter().map(|r| r.land).max().unwrap_or(0);
    for land in 1..=lands {
        let on_land = || rivets.iter().filter(move |r| r.land == land);
        let limit = 0.5 * spec.rove_diameter;
        let nearest = on_land().min_by(|a, b| a.head_edge.total_cmp(&b.head_edge));
        if let Some(r) = nearest.filter(|r| r.head_edge < limit) {
            findings.push(Finding {
                stage: Stage::Fastenings,
                place: format!("land {land}, rivet {}", r.n),
                measured: Measure::Length(r.head_edge),
                limit: Measure::Length(limit),
                hint:
                    "the head comes too near the outer plank's edge: a wider lap (planking.lap), or narrower strakes \
                       (planking.strakes)"
                        .to_string(),
            });
        }
        let longest = spec.nail_lengths.last().copied().unwrap_or(0.0);
        if let Some(r) = on_land().filter(|r| r.nail.is_none()).max_by(|a, b| a.grip.total_cmp(&b.grip)) {
            findings.push(Finding {
                stage: Stage::Fastenings,
                place: format!("land {land}, rivet {}", r.n),
                measured: Measure::Length(r.grip + spec.rove + spec.clench),
                limit: Measure::Length(longest),
                hint: "the rivet takes a nail of the measured length, rove and clench included, and the longest in stock \
                       is too short: add longer ones to fastenings.nail_lengths"
                    .to_string(),
            });
        }
    }
    findings
}
