//! What to look at in the strakes.

use super::Strake;
use crate::findings::{Finding, Measure, Stage};
use crate::lines::Skin;
use crate::lining::{Pinned, pinned_near};
use crate::spec::PlankingSpec;

/// Planks wider than the widest that may show, and edges left too thin, the worst place of each strake.
#[must_use]
pub fn check(strakes: &[Strake], skin: &Skin, spec: &PlankingSpec, pins: &[Pinned]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for s in strakes {
        let pinned = |section: usize| pinned_near(pins, skin, s.strake, section);
        let place = |section: usize| format!("strake {}, {}", s.strake, skin.place(section));
        let limit = spec.widest * if s.strake == 1 { spec.garboard } else { 1.0 };
        let widest = s.at.iter().max_by(|a, b| a.shows.total_cmp(&b.shows));
        if let Some(widest) = widest.filter(|a| a.shows > limit) {
            findings.push(Finding {
                stage: Stage::Planks,
                place: place(widest.section),
                measured: Measure::Length(widest.shows),
                limit: Measure::Length(limit),
                hint: format!(
                    "shows wider than the widest plank asked for: more strakes (planking.strakes), or allow it \
                     (planking.widest){}",
                    pinned(widest.section)
                ),
            });
        }
        let thinnest = s.at.iter().filter_map(|a| Some((a.section, a.edge_left?))).min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((section, left)) = thinnest.filter(|t| t.1 < spec.edge_floor) {
            findings.push(Finding {
                stage: Stage::Planks,
                place: place(section),
                measured: Measure::Length(left),
                limit: Measure::Length(spec.edge_floor),
                hint: format!(
                    "little wood is left at the edge after bevel and gain: narrower strakes there, or a narrower lap \
                     (planking.lap){}",
                    pinned(section)
                ),
            });
        }
    }
    findings
}
