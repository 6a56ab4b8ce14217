//! Bevels along a land, square to it: at every station, at every timber, and every so far between.
//!
//! A bevel of β takes lap × tan β off the edge over the whole land: what a gauge block is cut to. Between two rulings,
//! some 25 mm apart, bevel and step are taken straight.

use super::{Ruling, Strake, land};

/// Why a bevel is given at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BevelPlace {
    /// Index into the plan's sections.
    Section(usize),
    /// Index into the plan's timbers.
    Timber(usize),
    /// So many steps from the fore end.
    Step,
}

/// The bevel of a land at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct BevelAt {
    /// Land, 1 to n − 1.
    pub land: usize,
    /// Along the land from its fore end, mm.
    pub along: f64,
    /// What stands there.
    pub place: BevelPlace,
    /// Radians, + when the next strake turns inboard.
    pub bevel: f64,
    /// Wood planed off over the whole land, lap × tan |β|, mm: off this strake's upper outer edge; in a hollow (bevel
    /// negative) off the next strake's lower inner edge.
    pub off: f64,
    /// Wood left at this strake's upper outer edge, mm.
    pub edge_left: f64,
    /// Depth of the rebate in this strake, mm.
    pub gain: f64,
}

/// Bevels of the land on `strake`'s upper edge from the bow, `lap` wide; none on a sheer strake. `timbers` cross it
/// at these x or do not reach it, and besides there is one `every` so far along it; mm.
#[must_use]
pub fn bevels(strake: &Strake, lap: f64, timbers: &[Option<f64>], every: f64) -> Vec<BevelAt> {
    let r = &strake.rulings;
    let Some(whole) = r.last().filter(|r| r.bevel.is_some()).map(|r| r.along) else { return Vec::new() };
    let mut places: Vec<(f64, BevelPlace)> =
        strake.at.iter().map(|a| (r[a.ruling].along, BevelPlace::Section(a.section))).collect();
    let crossing = |x: &Option<f64>| strake.along_in_plane((*x)?, 0.0);
    places.extend(timbers.iter().enumerate().filter_map(|(i, x)| Some((crossing(x)?, BevelPlace::Timber(i)))));
    let every = every.max(LEAST_STEP);
    let steps = (whole / every).floor() as usize;
    places.extend((1..=steps).map(|i| (every * i as f64, BevelPlace::Step)).filter(|p| p.0 < whole));
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.into_iter().filter_map(|(along, place)| at(strake, lap, along, place)).collect()
}

/// Bevels stand no nearer along the land than this, mm, whatever is asked: they are not read finer.
const LEAST_STEP: f64 = 1.0;

fn at(strake: &Strake, lap: f64, along: f64, place: BevelPlace) -> Option<BevelAt> {
    let r = &strake.rulings;
    let i = r.partition_point(|r| r.along <= along).clamp(1, r.len() - 1);
    let (a, b) = (&r[i - 1], &r[i]);
    let share = (along - a.along) / (b.along - a.along).max(f64::MIN_POSITIVE);
    let (p, q) = a.bevel.zip(b.bevel)?;
    let bevel = p + (q - p) * share;
    let step = a.step + (b.step - a.step) * share;
    Some(BevelAt {
        land: strake.strake,
        along,
        place,
        bevel,
        off: lap * bevel.tan().abs(),
        edge_left: land::edge_left(strake.thickness, step, lap, bevel),
        gain: 0.5 * (strake.thickness - step),
    })
}

/// Area of one face of the land on `strake`'s upper edge, mm²: lap / cos β where the bevel is planed, the lap in gains
/// and hollows alike measured so along the faces that meet.
#[must_use]
pub fn land_area(strake: &Strake, lap: f64) -> f64 {
    let wide = |r: &Ruling| r.bevel.map_or(0.0, |b| lap / b.cos());
    strake.rulings.windows(2).map(|w| 0.5 * (wide(&w[0]) + wide(&w[1])) * (w[1].along - w[0].along)).sum()
}
