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
        let without = || on_land().filter(|r| r.nail.is_none());
        if let Some(r) = without().max_by(|a, b| a.grip.total_cmp(&b.grip)) {
            let which = match without().count() {
                1 => "1 rivet of this land takes".to_owned(),
                n => format!("{n} rivets of this land take"),
            };
            findings.push(Finding {
                stage: Stage::Fastenings,
                place: format!("land {land}, rivet {}", r.n),
                measured: Measure::Length(r.grip + spec.rove + spec.clench),
                limit: Measure::Length(longest),
                hint: format!("{which} a longer nail than any in stock: add longer ones (fastenings.nail_lengths)"),
            });
        }
    }
    findings
}
