//! What to look at in the strakes.

use super::{Strake, StrakeAt};
use crate::findings::{Finding, Measure, Stage};
use crate::lines::Skin;
use crate::lining::{Pinned, pinned_near};
use crate::spec::{Construction, PlankingSpec};

/// The place where `strake` shows widest, if that is wider than the widest plank asked for: its section, what shows and
/// the limit, mm.
#[must_use]
pub fn too_wide(strake: &Strake, spec: &PlankingSpec) -> Option<(usize, f64, f64)> {
    let limit = spec.widest * if strake.strake == 1 { spec.garboard } else { 1.0 };
    let widest = strake.at.iter().max_by(|a, b| a.shows.total_cmp(&b.shows))?;
    (widest.shows > limit + 1e-9).then_some((widest.section, widest.shows, limit))
}

/// Planks wider than the widest that may show, and edges left too thin, the worst place of each strake.
#[must_use]
pub fn check(strakes: &[Strake], skin: &Skin, spec: &PlankingSpec, pins: &[Pinned]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for s in strakes {
        let pinned = |section: usize| pinned_near(pins, skin, s.strake, section);
        let place = |section: usize| format!("strake {}, {}", s.strake, skin.place(section));
        if let Some((section, shows, limit)) = too_wide(s, spec) {
            findings.push(Finding {
                stage: Stage::Planks,
                place: place(section),
                measured: Measure::Length(shows),
                limit: Measure::Length(limit),
                hint: format!(
                    "shows wider than the widest plank asked for: more strakes (planking.strakes), or allow it \
                     (planking.widest){}",
                    pinned(section)
                ),
            });
        }
        let floor = |a: &StrakeAt| a.edge_floor(s.thickness, spec.edge_floor);
        let edges = s.at.iter().filter_map(|a| Some((a.section, a.edge_left?, floor(a))));
        let thinnest = edges.min_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)));
        if let Some((section, left, floor)) = thinnest.filter(|t| t.1 < t.2) {
            findings.push(Finding {
                stage: Stage::Planks,
                place: place(section),
                measured: Measure::Length(left),
                limit: Measure::Length(floor),
                hint: format!(
                    "{} left at the edge after bevel and gain{}: {}narrower strakes there (planking.strakes), a thicker plank (planking.thickness), or a narrower lap (planking.lap){}",
                    if left < NOTHING * s.thickness { knife_edge(spec) } else { "little wood is" },
                    also(s, skin, spec, section),
                    turn(s, section, floor),
                    pinned(section)
                ),
            });
        }
    }
    findings
}

/// How far the next strake turns there, and how far it may for the floor to be left.
fn turn(s: &Strake, section: usize, floor: f64) -> String {
    let Some(at) = s.at.iter().find(|a| a.section == section) else { return String::new() };
    let Some((bevel, lap)) = at.bevel.zip(at.lap).filter(|(bevel, _)| *bevel > 0.0) else { return String::new() };
    let may = ((s.thickness - at.gain.unwrap_or(0.0) - floor).max(0.0) / lap).atan();
    format!(
        "the next strake turns {:.1}° on it, and {:.1}° would leave enough: ",
        bevel.to_degrees(),
        may.to_degrees()
    )
}

fn knife_edge(spec: &PlankingSpec) -> &'static str {
    match spec.construction {
        Construction::Riveted => "a knife edge that holds no nail is",
        Construction::Glued => "a knife edge is",
    }
}

/// Less wood than this share of the thickness is none.
const NOTHING: f64 = 0.1;

/// The other sections where too little is left, in words.
fn also(s: &Strake, skin: &Skin, spec: &PlankingSpec, worst: usize) -> String {
    let thin = |a: &&StrakeAt| a.edge_left.is_some_and(|left| left < a.edge_floor(s.thickness, spec.edge_floor));
    let names: Vec<&str> =
        s.at.iter()
            .filter(thin)
            .filter(|a| a.section != worst)
            .map(|a| skin.sections[a.section].name.as_str())
            .collect();
    if names.is_empty() { String::new() } else { format!(", and less than asked for at {}", names.join(", ")) }
}
