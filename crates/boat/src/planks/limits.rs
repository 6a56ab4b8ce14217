//! The builder's limits on the strakes: as lining can heed them, and where the strakes as laid pass them.
//!
//! Lining knows the marks alone; what shows and how far a strake turns on the one below come out of laying. So lands are
//! lined, strakes laid, and the limits on the marks put right by what the laying showed ([`limits`]), until the real ones
//! are kept.

use super::{Strake, StrakeAt, land};
use crate::lines::{SectionAt, Skin};
use crate::lining::{Lands, Limits};
use crate::spec::{EndSpec, Spec};

/// Lining keeps so much inside the limits, as a share of a lap, since it heeds them only nearly.
const INSIDE: f64 = 0.01;
/// Passed by no more than this is kept, mm.
pub const HAIR: f64 = 1e-3;

/// Which limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// A strake shows wider than the widest.
    Widest,
    /// A strake shows narrower than the narrowest.
    Narrowest,
    /// Too little wood is left at a bevelled edge.
    Edge,
}

/// A limit passed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Breach {
    /// Which.
    pub which: Which,
    /// The strake; for an edge the one whose upper edge it is.
    pub strake: usize,
    /// Index into the plan's sections.
    pub section: usize,
    /// What is there, mm.
    pub is: f64,
    /// What it should be at most or at least, mm.
    pub limit: f64,
}

impl Breach {
    /// By how much, mm.
    #[must_use]
    pub fn past(&self) -> f64 {
        (self.is - self.limit).abs()
    }
}

/// Most and least that `strake` of `n` may show at a section, mm. Ends are no stations: planks taper there.
fn shows(spec: &Spec, skin: &Skin, strake: usize, n: usize, section: usize) -> [f64; 2] {
    let narrowest = if is_station(skin, section) { spec.lining.narrowest } else { 0.0 };
    [narrowest, spec.planking.widest * part(spec, strake, n)]
}

/// How many times the widest `strake` of `n` may show.
#[must_use]
pub fn part(spec: &Spec, strake: usize, n: usize) -> f64 {
    match strake {
        1 => spec.planking.garboard,
        s if s == n => spec.lining.sheer_strake.max(1.0),
        _ => 1.0,
    }
}

/// Whether a section is a station, where no strake should show narrower than the narrowest.
#[must_use]
pub fn is_station(skin: &Skin, section: usize) -> bool {
    matches!(skin.sections[section].at, SectionAt::Station(_))
}

/// Most that the next strake may turn on one `thickness` thick with the step `step` between them, radians.
fn turn(spec: &Spec, step: f64) -> f64 {
    let (t, lap) = (spec.planking.thickness, spec.planking.lap);
    let gain = 0.5 * (t - step);
    let floor = land::edge_floor(t, gain, spec.planking.edge_floor);
    ((t - gain - floor).max(0.0) / lap).atan()
}

/// Limits on the marks of `n` strakes. `laid`: the lands lined and strakes laid last, by which they are put right.
#[must_use]
pub fn limits(spec: &Spec, skin: &Skin, n: usize, laid: Option<(&Lands, &[Strake])>) -> Limits {
    let sections = skin.curves.len();
    let inside = INSIDE * spec.planking.lap;
    let mut limits = Limits::none(&spec.planking, n, sections);
    for j in 0..sections {
        for k in 1..=n {
            let [least, most] = shows(spec, skin, k, n, j);
            // On the mould for each mm that shows.
            let on_mould = laid.map_or(1.0, |(lands, strakes)| {
                let wide = (lands.u[k][j] - lands.u[k - 1][j]) * skin.girth(j);
                if strakes[k - 1].at[j].shows > 1.0 { wide / strakes[k - 1].at[j].shows } else { 1.0 }
            });
            // Where little shows of much, at the garboard's hood, nothing can be said by the mould.
            if on_mould < WHOLE {
                // By as much as it was passed the limit is drawn in, for it gives way a little to all else that is wanted.
                let [under, over] = laid.map_or([0.0; 2], |(_, strakes)| {
                    let is = strakes[k - 1].at[j].shows;
                    [(least - is).max(0.0), (is - most).max(0.0)]
                });
                let least = if least > 0.0 { (least + inside + under) * on_mould } else { 0.0 };
                limits.width[k - 1][j] = [least, ((most - inside - over) * on_mould).max(least)];
            }
            if k < n {
                limits.turn[k][j] = match laid {
                    None => turn(spec, step(spec, skin, j)),
                    Some((lands, strakes)) => {
                        let real = strakes[k - 1].rulings[strakes[k - 1].at[j].ruling].step;
                        let bevel = strakes[k - 1].at[j].bevel.unwrap_or(0.0);
                        let over = (bevel - turn(spec, real)).max(0.0);
                        turn(spec, real) - (bevel - lands.turn[k][j]) - over
                    }
                } - INSIDE;
            }
        }
    }
    limits
}

/// More mould than this for a mm that shows says nothing.
const WHOLE: f64 = 1.6;

/// The step between two strakes at section `j`, by its distance from the ends half way up, mm.
fn step(spec: &Spec, skin: &Skin, j: usize) -> f64 {
    let p = &spec.planking;
    let off = |end: usize| (skin.at(j, 0.5) - skin.at(end, 0.5)).norm();
    let at =
        |end: &EndSpec, from: f64| p.gain_at(end).map_or(p.thickness, |gain| land::step(p.thickness, gain, from));
    at(&spec.fore, off(0)).min(at(&spec.aft, off(skin.curves.len() - 1)))
}

/// Every limit that the strakes as laid pass.
#[must_use]
pub fn breaches(strakes: &[Strake], skin: &Skin, spec: &Spec) -> Vec<Breach> {
    let n = strakes.len();
    let mut breaches = Vec::new();
    for s in strakes {
        for at in &s.at {
            let StrakeAt { section, shows: is, .. } = *at;
            let [least, most] = shows(spec, skin, s.strake, n, section);
            let mut push =
                |which, is: f64, limit: f64| breaches.push(Breach { which, strake: s.strake, section, is, limit });
            if is > most + HAIR {
                push(Which::Widest, is, most);
            }
            if is < least - HAIR {
                push(Which::Narrowest, is, least);
            }
            if let Some(left) = at.edge_left {
                let floor = at.edge_floor(s.thickness, spec.planking.edge_floor);
                if left < floor - HAIR {
                    push(Which::Edge, left, floor);
                }
            }
        }
    }
    breaches
}
