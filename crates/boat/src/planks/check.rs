//! What to look at in the strakes.

use super::{Ruling, Strake, StrakeAt, land, limits};
use crate::findings::{Finding, Measure, Stage};
use crate::lines::Skin;
use crate::lining::{Pinned, pinned_near};
use crate::spec::{Construction, PlankingSpec, Spec};

/// The place where `strake` of `n` shows widest, if that is wider than the widest it may show: its section, what shows
/// and the limit, mm.
#[must_use]
pub fn too_wide(strake: &Strake, n: usize, spec: &Spec) -> Option<(usize, f64, f64)> {
    let limit = spec.planking.widest * limits::part(spec, strake.strake, n);
    let widest = strake.at.iter().max_by(|a, b| a.shows.total_cmp(&b.shows))?;
    (widest.shows > limit + limits::HAIR).then_some((widest.section, widest.shows, limit))
}

/// Planks wider than the widest that may show, and edges left too thin, the worst place of each strake.
#[must_use]
pub fn check(strakes: &[Strake], skin: &Skin, spec: &Spec, pins: &[Pinned]) -> Vec<Finding> {
    let mut findings = Vec::new();
    let planking = &spec.planking;
    for s in strakes {
        let pinned = |section: usize| pinned_near(pins, skin, s.strake, section);
        let place = |section: usize| format!("strake {}, {}", s.strake, skin.place(section));
        if let Some((section, shows, limit)) = too_wide(s, strakes.len(), spec) {
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
        if let Some(thin) = thinnest(s, planking).filter(|t| t.left < t.floor - limits::HAIR) {
            findings.push(Finding {
                stage: Stage::Planks,
                place: format!("strake {}, {}", s.strake, thin.place(s, skin)),
                measured: Measure::Length(thin.left),
                limit: Measure::Length(thin.floor),
                hint: format!(
                    "{} left at the edge after bevel and gain{}: {}narrower strakes there (planking.strakes), a thicker plank (planking.thickness), or a narrower lap (planking.lap){}",
                    if thin.left < NOTHING * s.thickness { knife_edge(planking) } else { "little wood is" },
                    also(s, skin, planking, thin.at(s)),
                    turn(s, &thin),
                    pinned(thin.nearest(s))
                ),
            });
        }
    }
    findings
}

/// The place of an edge.
struct Thin {
    ruling: usize,
    bevel: f64,
    lap: f64,
    gain: f64,
    left: f64,
    floor: f64,
}

/// Between sections an edge is named only where it is thinner than at any of them by this, mm: less is not seen.
const THINNER: f64 = 0.1;

/// Where least is left over what should be: at a section, unless it is plainly less between two.
fn thinnest(s: &Strake, spec: &PlankingSpec) -> Option<Thin> {
    let lap = s.at.iter().find_map(|a| a.lap)?;
    let at = |(ruling, r): (usize, &Ruling)| {
        let bevel = r.bevel?;
        let gain = 0.5 * (s.thickness - r.step);
        let left = land::edge_left(s.thickness, r.step, lap, bevel);
        Some(Thin { ruling, bevel, lap, gain, left, floor: land::edge_floor(s.thickness, gain, spec.edge_floor) })
    };
    let worst = |of: &dyn Fn(usize) -> bool| {
        let all = s.rulings.iter().enumerate().filter(|r| of(r.0)).filter_map(at);
        all.min_by(|a, b| (a.left - a.floor).total_cmp(&(b.left - b.floor)))
    };
    let anywhere = worst(&|_| true)?;
    let section = worst(&|ruling| s.at.iter().any(|a| a.ruling == ruling));
    Some(match section {
        Some(section) if section.left - section.floor < anywhere.left - anywhere.floor + THINNER => section,
        _ => anywhere,
    })
}

impl Thin {
    /// The section it stands at, if it does.
    fn at(&self, s: &Strake) -> Option<usize> {
        s.at.iter().find(|a| a.ruling == self.ruling).map(|a| a.section)
    }

    fn nearest(&self, s: &Strake) -> usize {
        s.at.iter().min_by_key(|a| a.ruling.abs_diff(self.ruling)).map_or(0, |a| a.section)
    }

    /// `station 3`, or `between stem and 1`.
    fn place(&self, s: &Strake, skin: &Skin) -> String {
        if let Some(section) = self.at(s) {
            return skin.place(section);
        }
        let before = s.at.iter().rev().find(|a| a.ruling < self.ruling);
        let after = s.at.iter().find(|a| a.ruling > self.ruling);
        match before.zip(after) {
            Some((a, b)) => {
                let name = |a: &StrakeAt| skin.sections[a.section].name.as_str();
                format!("between {} and {}", name(a), name(b))
            }
            None => skin.place(self.nearest(s)),
        }
    }
}

/// How far the next strake turns there, and how far it may for the floor to be left.
fn turn(s: &Strake, thin: &Thin) -> String {
    if thin.bevel <= 0.0 {
        return String::new();
    }
    let may = ((s.thickness - thin.gain - thin.floor).max(0.0) / thin.lap).atan();
    format!(
        "the next strake turns {:.1}° on it, and {:.1}° would leave enough: ",
        thin.bevel.to_degrees(),
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
fn also(s: &Strake, skin: &Skin, spec: &PlankingSpec, worst: Option<usize>) -> String {
    let floor = |a: &StrakeAt| a.edge_floor(s.thickness, spec.edge_floor) - limits::HAIR;
    let thin = |a: &&StrakeAt| a.edge_left.is_some_and(|left| left < floor(a));
    let names: Vec<&str> =
        s.at.iter()
            .filter(thin)
            .filter(|a| Some(a.section) != worst)
            .map(|a| skin.sections[a.section].name.as_str())
            .collect();
    if names.is_empty() { String::new() } else { format!(", and less than asked for at {}", names.join(", ")) }
}
