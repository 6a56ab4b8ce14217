//! Where the rivets of a land stand.

use super::{Rivet, rivet};
use crate::geom::{Point, Vector, unit_or};
use crate::moulds::Mould;
use crate::planks::{Ruling, Strake};
use crate::spec::Spec;
use crate::timbers::Timber;
use nalgebra::Rotation3;

/// Rivets of every land, one side: through each timber, `between` evenly from timber to timber, more where `apart` asks for
/// it, and at the same spacing on towards the ends, clear of the stem and the transom behind them.
#[must_use]
pub fn rivets(strakes: &[Strake], timbers: &[Timber], moulds: &[Mould], spec: &Spec) -> Vec<Rivet> {
    let mut rivets = Vec::new();
    for strake in &strakes[..strakes.len().saturating_sub(1)] {
        let places = places(strake, &crossings(strake, timbers, spec), spec);
        rivets.extend(numbered(strake, places, moulds, spec));
    }
    rivets
}

/// Rivets of one land in a standing boat, whose timbers stand square at these `timbers`, mm along x: as [`rivets`] sets them.
#[must_use]
pub fn through(strake: &Strake, timbers: &[f64], spec: &Spec) -> Vec<Rivet> {
    let crossing = |(i, x): (usize, &f64)| Some((along_at(strake, *x, 0.0, spec)?, Some(i)));
    let crossings: Vec<_> = timbers.iter().enumerate().filter_map(crossing).collect();
    numbered(strake, places(strake, &crossings, spec), &[], spec)
}

/// Rivets of one land through old holes at these x, mm; `timbers` says which go through one, whose sided size is the spec's.
#[must_use]
pub fn through_old_holes(strake: &Strake, holes: &[f64], timbers: &[f64], spec: &Spec) -> Vec<Rivet> {
    let behind = |x: f64| timbers.iter().position(|t| (t - x).abs() <= 0.5 * spec.timbers.sided);
    let mut places: Vec<_> =
        holes.iter().filter_map(|&x| Some((along_at(strake, x, 0.0, spec)?, behind(x)))).collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    numbered(strake, places, &[], spec)
}

fn numbered(strake: &Strake, places: Vec<(f64, Option<usize>)>, moulds: &[Mould], spec: &Spec) -> Vec<Rivet> {
    let one = |(i, (along, timber))| one(strake, i + 1, along, timber, moulds, spec);
    places.into_iter().enumerate().map(one).collect()
}

/// Where the timbers cross the land, and which go through it.
fn crossings(strake: &Strake, timbers: &[Timber], spec: &Spec) -> Vec<(f64, Option<usize>)> {
    // A timber that stops below has its rivet here all the same, without it.
    timbers
        .iter()
        .enumerate()
        .filter_map(|(i, t)| Some((along_at(strake, t.x, t.slope(), spec)?, (strake.strake <= t.head).then_some(i))))
        .collect()
}

/// Distances along the land and the timber there, from the bow.
fn places(strake: &Strake, crossings: &[(f64, Option<usize>)], spec: &Spec) -> Vec<(f64, Option<usize>)> {
    let r = &strake.rulings;
    let whole = r[r.len() - 1].along;
    let clear = spec.fastenings.end_clear.min(0.25 * whole);
    let (first, last) = (clear, whole - clear);
    let at_timbers: Vec<(f64, Option<usize>)> =
        crossings.iter().copied().filter(|&(along, _)| along > first && along < last).collect();
    let most = spec.rivets_apart();
    let mut places: Vec<(f64, Option<usize>)> = Vec::new();
    for w in at_timbers.windows(2) {
        let parts = f64::from(spec.fastenings.between + 1).max(parts_within(w[1].0 - w[0].0, most));
        let step = (w[1].0 - w[0].0) / parts;
        places.push(w[0]);
        places.extend((1..parts as u32).map(|b| (w[0].0 + step * f64::from(b), None)));
    }
    places.extend(at_timbers.last());
    // Towards the ends: as near to the spacing between timbers as divides the rest.
    let spacing = spec.timbers.spacing / f64::from(spec.fastenings.between + 1);
    let (fore, aft) = (at_timbers.first().map_or(last, |t| t.0), at_timbers.last().map_or(last, |t| t.0));
    let mut before = even(first, fore, spacing, most);
    if places.is_empty() {
        before.push(last);
    }
    before
        .into_iter()
        .map(|along| (along, None))
        .chain(places)
        .chain(even(0.0, last - aft, spacing, most).into_iter().rev().map(|back| (last - back, None)))
        .collect()
}

/// Least whole number of parts of a length of which none is longer than `most`.
pub(super) fn parts_within(length: f64, most: f64) -> f64 {
    (length / most - 1e-9).ceil().max(1.0)
}

/// Places from `from` (included) evenly towards `to` (left out), as near to `spacing` as divides the length and no more
/// than `most` apart.
fn even(from: f64, to: f64, spacing: f64, most: f64) -> Vec<f64> {
    let parts = ((to - from) / spacing).round().max(parts_within(to - from, most));
    if to - from < 0.5 * spacing.min(most) {
        return Vec::new();
    }
    (0..parts as usize).map(|i| from + (to - from) * i as f64 / parts).collect()
}

/// Distance along the land of the rivet in the plumb plane at `x` on the centreline, `slope` aft for each mm outboard: half a
/// land below the edge, on a raking plank, is not where the edge itself crosses.
fn along_at(strake: &Strake, x: f64, slope: f64, spec: &Spec) -> Option<f64> {
    let mut along = strake.along_in_plane(x, slope)?;
    for _ in 0..ROUNDS {
        let r = ruling_at(&strake.rulings, along);
        let at = axis_point(strake, &r, spec);
        along += (x - at.x + slope * at.y) / (r.tangent.x - slope * r.tangent.y).max(LEAST_RUN);
    }
    Some(along)
}

/// Rounds of stepping along the land; each leaves a small share of what the edge's turn gives.
const ROUNDS: usize = 6;
/// Least run of a land along x, as a share of its length: steeper, the step would overshoot.
const LEAST_RUN: f64 = 0.2;

/// The ruling at a distance along the land, between the two nearest.
fn ruling_at(rulings: &[Ruling], along: f64) -> Ruling {
    let i = rulings.partition_point(|r| r.along <= along).clamp(1, rulings.len() - 1);
    let (a, b) = (&rulings[i - 1], &rulings[i]);
    let part = (along - a.along) / (b.along - a.along).max(f64::MIN_POSITIVE);
    let point = |p: Point, q: Point| p + (q - p) * part;
    let direction = |u: Vector, v: Vector| unit_or(u + (v - u) * part, u);
    let tangent = direction(a.tangent, b.tangent);
    let normal = direction(a.normal, b.normal);
    Ruling {
        lower: point(a.lower, b.lower),
        upper: point(a.upper, b.upper),
        normal: unit_or(normal - tangent * normal.dot(&tangent), normal),
        tangent,
        lower_normal: direction(a.lower_normal, b.lower_normal),
        along,
        step: a.step + (b.step - a.step) * part,
        bevel: a.bevel.zip(b.bevel).map(|(p, q)| p + (q - p) * part),
    }
}

/// Where the rivet's axis crosses the faying face: half a land square below the edge.
fn axis_point(strake: &Strake, r: &Ruling, spec: &Spec) -> Point {
    let bevel = r.bevel.unwrap_or(0.0);
    // Both planks give up half of what the gain takes, so they meet half-way between the step and the thickness.
    let faying = 0.5 * (strake.thickness + r.step) - 0.5 * spec.planking.lap * bevel.tan().max(0.0);
    r.upper + r.normal.cross(&r.tangent) * (0.5 * spec.planking.lap) + r.normal * faying
}

fn one(strake: &Strake, n: usize, along: f64, timber: Option<usize>, moulds: &[Mould], spec: &Spec) -> Rivet {
    let (t, lap) = (strake.thickness, spec.planking.lap);
    let r = ruling_at(&strake.rulings, along);
    let bevel = r.bevel.unwrap_or(0.0);
    let at = axis_point(strake, &r, spec);
    let axis = Rotation3::from_scaled_axis(r.tangent * (0.5 * bevel)) * r.normal;
    let grip = rivet::grip(t, r.step, lap, bevel) + timber.map_or(0.0, |_| spec.timbers.moulded);
    let f = &spec.fastenings;
    let reach = (0.5 * f.rove_diameter).max(spec.moulds.clearance);
    let whole = strake.rulings[strake.rulings.len() - 1].along;
    let [fore, aft] = [&spec.fore, &spec.aft].map(|end| spec.planking.gain_at(end).unwrap_or(0.0));
    Rivet {
        land: strake.strake,
        n,
        at,
        axis,
        lean: 0.5 * bevel,
        along,
        grip,
        nail: rivet::nail(grip, f.rove, f.clench, &f.nail_lengths),
        head_edge: rivet::head_edge(t, lap, bevel),
        head_edge_square: rivet::head_edge_square(t, lap, bevel),
        rove_edge: rivet::rove_edge(t, r.step, lap, bevel),
        in_gain: along < fore || along > whole - aft,
        timber,
        blocked_by: moulds.iter().position(|m| at.x > m.fore - reach && at.x < m.aft + reach),
    }
}
