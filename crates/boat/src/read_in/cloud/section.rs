//! Sections drawn through the points about them.

use super::{Dice, Known, P};
use crate::read_in::curve::length;
use crate::taken_off::{On, Part, Point, Section};
use nalgebra::{DMatrix, DVector};

/// Step of the angle about the pole, degrees.
const STEP: f64 = 4.0;
/// Half the window along the boat, as a share of her length, and in angle, degrees.
const ALONG: f64 = 0.015;
const ANGLE: f64 = 6.0;
/// The pole stands over the foot of a section by this share of its depth, and angles are looked at so far up, degrees.
const POLE: f64 = 0.6;
const HIGHEST: f64 = 160.0;
/// Windows are widened so where they hold too few.
const WIDER: [f64; 4] = [1.0, 1.5, 2.2, 3.0];
/// Points that are enough, and the least that a place is drawn from.
const ENOUGH: usize = 60;
const LEAST: usize = 24;
/// Points of a window that are reckoned with.
const MOST: usize = 400;
/// Tries at three points, of which that is begun from which passes nearest to half of all.
const TRIES: usize = 80;
const ROUNDS: usize = 12;
const TUKEY: f64 = 4.685;
/// The skin is spread no more than this about its place, as a share of her length: beyond it is no skin.
const MOST_SPREAD: f64 = 0.006;
/// A hole of this share of the girth is too much for a section.
const MOST_HOLE: f64 = 0.3;
/// Above the sheer there are fewer points than this share of the usual.
const THINS: f64 = 0.3;
/// Strips of the window in which the uppermost points are looked for.
const STRIPS: usize = 9;
/// Places nearer than this are one, mm.
const ONE: f64 = 4.0;
/// Points of a section between rabbet and sheer.
const MOST_SPOTS: usize = 36;

/// A section.
pub struct Found {
    /// From rabbet to sheer: out and up, mm.
    pub spots: Vec<[f64; 2]>,
    /// Each one's step of the angle: the same step at the next station is on one line with it.
    pub steps: Vec<usize>,
    /// Spread of the places themselves, mm.
    pub own: f64,
    pub known: Known,
}

impl Found {
    /// Distances from the first station and heights from base.
    pub fn lower(&mut self, first: f64, low: f64) {
        self.known.at -= first;
        self.spots.iter_mut().for_each(|s| s[1] -= low);
        self.known.holes.iter_mut().flatten().for_each(|z| *z -= low);
    }

    /// As points taken off by hand.
    pub fn section(&self) -> Section {
        let last = self.spots.len() - 1;
        let mark = |i: usize| match i {
            0 => "rabbet".to_owned(),
            i if i == last => "sheer".to_owned(),
            i => format!("{:.0} degrees", STEP * self.steps[i] as f64),
        };
        let one = |(i, place): (usize, &[f64; 2])| Point {
            line: i + 1,
            mark: mark(i),
            on: On::Surface,
            at: self.known.at,
            place: *place,
        };
        let points = self.spots.iter().enumerate().map(one).collect();
        Section { name: self.known.station.clone(), part: Part::Station, points }
    }
}

/// A place of the section: distance from the pole at an angle.
struct Place {
    turn: f64,
    r: f64,
    /// How r changes along the boat, a number.
    slope: f64,
    /// Spread of the points about it, and of itself, mm.
    spread: f64,
    own: f64,
    points: usize,
}

impl Place {
    fn spot(&self, pole: f64) -> [f64; 2] {
        [self.r * self.turn.sin(), pole - self.r * self.turn.cos()]
    }
}

/// A point seen from the pole, folded to one side.
#[derive(Clone, Copy)]
struct Seen {
    x: f64,
    turn: f64,
    r: f64,
}

/// The sections at `at`, and those that could not be drawn.
pub fn sections(points: &[P], ends: [f64; 2], at: &[f64], half_siding: f64) -> (Vec<Found>, Vec<String>) {
    let boat = ends[1] - ends[0];
    let mut along: Vec<&P> = points.iter().collect();
    along.sort_by(|a, b| a.x.total_cmp(&b.x));
    let (mut found, mut left_out) = (Vec::new(), Vec::new());
    for (i, x) in at.iter().enumerate() {
        let half = ALONG * boat * WIDER[WIDER.len() - 1];
        let from = along.partition_point(|p| p.x < x - half);
        let to = along.partition_point(|p| p.x <= x + half).max(from);
        let drawn = pole(&along[from..to]).ok_or_else(|| "no points are about it".to_owned()).and_then(|pole| {
            let seen = |p: &&P| {
                let (y, down) = (p.y.abs(), pole - p.z);
                Seen { x: p.x, turn: y.atan2(down), r: y.hypot(down) }
            };
            let seen: Vec<Seen> = along[from..to].iter().map(seen).collect();
            section(&seen, *x, boat, pole, half_siding)
        });
        match drawn {
            Ok(section) => found.push(section),
            Err(why) => left_out.push(format!("station {} asked for at {x:.0} mm is left out: {why}", i + 1)),
        }
    }
    (found, left_out)
}

/// Over the centreline, some way up from the foot to the highest of what stands well out.
fn pole(slab: &[&P]) -> Option<f64> {
    let at = |mut all: Vec<f64>, share: f64| {
        all.sort_by(f64::total_cmp);
        all.get((all.len() as f64 * share) as usize).copied()
    };
    let wide = at(slab.iter().map(|p| p.y.abs()).collect(), 0.9)?;
    // One in fifty may be no skin.
    let top = at(slab.iter().filter(|p| p.y.abs() > 0.6 * wide).map(|p| p.z).collect(), 0.98)?;
    let foot = at(slab.iter().map(|p| p.z).collect(), 0.02)?;
    Some(foot + POLE * (top - foot))
}

fn slab(seen: &[Seen], x: f64, half: f64) -> &[Seen] {
    let from = seen.partition_point(|s| s.x < x - half);
    let to = seen.partition_point(|s| s.x <= x + half);
    &seen[from..to.max(from)]
}

fn section(seen: &[Seen], x: f64, boat: f64, pole: f64, half_siding: f64) -> Result<Found, String> {
    let mut places: Vec<Place> = Vec::new();
    let mut empty: Vec<f64> = Vec::new();
    let steps = (HIGHEST / STEP) as usize;
    for k in 0..=steps {
        let turn = (STEP * k as f64).to_radians();
        match place(seen, x, turn, boat) {
            Some(place) => places.push(place),
            None => empty.push(turn),
        }
    }
    let spread = {
        let mut all: Vec<f64> = places.iter().map(|p| p.spread).collect();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied().unwrap_or(0.0)
    };
    if places.len() < 6 {
        return Err(format!("only {} places of it have points enough", places.len()));
    }
    let (sheer, gap) = sheer(seen, x, boat, &places).ok_or("its upper edge does not show")?;
    places.retain(|p| p.turn < sheer - 0.25 * STEP.to_radians());
    empty.retain(|t| *t < sheer);
    let Some(last) = places.last() else { return Err("nothing of it shows".to_owned()) };
    let top = {
        // The skin beside the sheer, run on by its own slope.
        let before = places.len().checked_sub(2).and_then(|i| places.get(i)).unwrap_or(last);
        let slope = if last.turn > before.turn { (last.r - before.r) / (last.turn - before.turn) } else { 0.0 };
        let fitted = place(seen, x, sheer - 0.5 * STEP.to_radians(), boat)
            .map_or(last.r + slope * (sheer - last.turn), |p| p.r + slope * 0.5 * STEP.to_radians());
        [fitted * sheer.sin(), pole - fitted * sheer.cos()]
    };
    let mut spots: Vec<[f64; 2]> = places.iter().map(|p| p.spot(pole)).collect();
    spots.push(top);
    let girth = length(&spots);
    let mut holes: Vec<[f64; 2]> = Vec::new();
    for w in spots.windows(2).zip(places.windows(2)).filter(|(_, p)| p[1].turn - p[0].turn > 1.5 * STEP.to_radians())
    {
        let long = length(w.0);
        if long > MOST_HOLE * girth {
            return Err(format!("no points between {:.0} and {:.0} mm up to the pole", w.0[0][1], w.0[1][1]));
        }
        holes.push([w.0[0][1], w.0[1][1]]);
    }
    if places[0].turn > 4.0 * STEP.to_radians() {
        return Err(format!("no points within {:.0} degrees of the keel", places[0].turn.to_degrees()));
    }
    if sheer - last.turn > 4.0 * STEP.to_radians() {
        return Err("no points under its sheer".to_owned());
    }
    let step = |p: &Place| (p.turn / STEP.to_radians()).round() as usize;
    let steps: Vec<usize> = places.iter().map(step).chain([steps + 1]).collect();
    let (spots, steps) = from_siding(&spots, &steps, half_siding)
        .ok_or_else(|| format!("it does not come to {half_siding:.0} mm off the centreline"))?;
    let own: f64 = (places.iter().map(|p| p.own * p.own).sum::<f64>() / places.len() as f64).sqrt();
    let points = places.iter().map(|p| p.points).sum::<usize>();
    Ok(Found {
        spots,
        steps,
        own,
        known: Known { station: String::new(), at: x, points, spread, within: 2.0 * spread, sheer: gap, holes },
    })
}

/// The section from where it comes to the half siding, with the steps of its places; every second or third where they are many.
fn from_siding(spots: &[[f64; 2]], steps: &[usize], half_siding: f64) -> Option<(Vec<[f64; 2]>, Vec<usize>)> {
    let i = spots.iter().position(|s| s[0] >= half_siding)?;
    // Between two places, or run on straight from the first two.
    let (a, b) = match i.checked_sub(1) {
        Some(j) => (spots[j], spots[i]),
        None => (spots[0], *spots.get(1)?),
    };
    let slope = (b[1] - a[1]) / (b[0] - a[0]).max(1e-6);
    let mut own = vec![[half_siding, a[1] + slope * (half_siding - a[0])]];
    let mut own_steps = vec![0];
    let last = spots.len() - 1;
    let every = (spots.len() - i).div_ceil(MOST_SPOTS);
    let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    for k in i..=last {
        let before = own[own.len() - 1];
        let clear = apart(before, spots[k]) > ONE && (k == last || apart(spots[k], spots[last]) > ONE);
        if k == last || clear && steps[k].is_multiple_of(every) {
            own.push(spots[k]);
            own_steps.push(steps[k]);
        }
    }
    Some((own, own_steps))
}

/// The skin at a distance along the boat and an angle; `None` where too few points are near.
fn place(seen: &[Seen], x: f64, turn: f64, boat: f64) -> Option<Place> {
    let mut fit = None;
    for wider in WIDER {
        let (half, angle) = (ALONG * boat * wider, ANGLE.to_radians() * wider.min(1.6));
        let near: Vec<&Seen> = slab(seen, x, half).iter().filter(|s| (s.turn - turn).abs() < angle).collect();
        let every = near.len().div_ceil(MOST).max(1);
        let near: Vec<[f64; 3]> =
            near.into_iter().step_by(every).map(|s| [(s.x - x) / half, (s.turn - turn) / angle, s.r]).collect();
        // Points must lie to both sides along the boat, and about the angle itself.
        let about = |d: usize, sign: f64| near.iter().filter(|p| sign * p[d] > 0.0).count() >= LEAST / 4;
        let close = near.iter().filter(|p| p[1].abs() < 0.5).count() >= LEAST / 3;
        let sided = about(0, 1.0) && about(0, -1.0) && close;
        if near.len() >= LEAST && sided {
            let own = surface(&near, MOST_SPREAD * boat);
            fit = own.map(|place| Place { slope: place.slope / half, ..place }).or(fit);
        }
        if near.len() >= ENOUGH && fit.is_some() {
            break;
        }
    }
    fit.map(|place| Place { turn, ..place })
}

/// The middle of the quadratic surface that fits most of `near`, places in windows' halves and r; its slope for half a window.
fn surface(near: &[[f64; 3]], most: f64) -> Option<Place> {
    let mut dice = Dice(near.len() as u64);
    let mut best: Option<(f64, [f64; 3])> = None;
    for _ in 0..TRIES {
        let [a, b, c] = [0; 3].map(|_| near[dice.below(near.len())]);
        let rows = nalgebra::Matrix3::new(1.0, a[0], a[1], 1.0, b[0], b[1], 1.0, c[0], c[1]);
        let Some(inverse) = rows.try_inverse() else { continue };
        let n = inverse * nalgebra::Vector3::new(a[2], b[2], c[2]);
        let mut off: Vec<f64> = near.iter().map(|p| (p[2] - n[0] - n[1] * p[0] - n[2] * p[1]).abs()).collect();
        off.sort_by(f64::total_cmp);
        let middle = off[off.len() / 2];
        if best.as_ref().is_none_or(|b| middle < b.0) {
            best = Some((middle, [n[0], n[1], n[2]]));
        }
    }
    let (middle, flat) = best?;
    let mut numbers = DVector::from_vec(vec![flat[0], flat[1], flat[2], 0.0, 0.0, 0.0]);
    let row = |p: &[f64; 3]| [1.0, p[0], p[1], p[0] * p[0], p[0] * p[1], p[1] * p[1]];
    let value = |n: &DVector<f64>, p: &[f64; 3]| row(p).iter().zip(n.iter()).map(|(a, b)| a * b).sum::<f64>();
    let mut spread = middle / 0.6745;
    let mut own = f64::MAX;
    let mut bear = 0;
    for _ in 0..ROUNDS {
        // Less than a tenth of a millimetre is never the spread: points that lie exactly are all taken.
        let limit = TUKEY * spread.max(0.1);
        let (mut system, mut right) = (DMatrix::<f64>::zeros(6, 6), DVector::<f64>::zeros(6));
        let (mut squares, mut weights) = (0.0, 0.0);
        bear = 0;
        for p in near {
            let off = p[2] - value(&numbers, p);
            let weight = (1.0 - (off / limit).powi(2)).max(0.0).powi(2);
            if weight > 0.0 {
                let r = DVector::from_row_slice(&row(p));
                system += &r * r.transpose() * weight;
                right += &r * (p[2] * weight);
                squares += weight * off * off;
                weights += weight;
                bear += 1;
            }
        }
        if bear < LEAST {
            return None;
        }
        let cholesky = system.cholesky()?;
        numbers = cholesky.solve(&right);
        let inverse = cholesky.inverse();
        let mut off: Vec<f64> =
            near.iter().map(|p| (p[2] - value(&numbers, p)).abs()).filter(|o| *o < limit).collect();
        off.sort_by(f64::total_cmp);
        let now = off.get(off.len() / 2).map_or(spread, |m| m / 0.6745);
        own = (squares / weights.max(1.0)).sqrt() * inverse[(0, 0)].max(0.0).sqrt();
        let settled = (now - spread).abs() < 1e-3 * spread.max(1e-3);
        spread = now;
        if settled {
            break;
        }
    }
    let fits = spread < most && numbers[0].is_finite() && numbers[0] > 0.0;
    fits.then_some(Place { turn: 0.0, r: numbers[0], slope: numbers[1], spread, own, points: bear })
}

/// The angle at which the skin ends above, and how far that may be off along it, mm.
///
/// In strips of the window the uppermost point of the skin stands short of the edge by as much as points stand apart there, on the mean:
/// that is added. A straight line through the strips gives the edge at the station.
fn sheer(seen: &[Seen], x: f64, boat: f64, places: &[Place]) -> Option<(f64, f64)> {
    let half = 1.5 * ALONG * boat;
    let own = slab(seen, x, half);
    // On the skin: by the nearest place, with its slope to the next.
    let step = STEP.to_radians();
    let skin = |s: &Seen| {
        let i = places.partition_point(|p| p.turn < s.turn).clamp(1, places.len() - 1);
        let (a, b) = (&places[i - 1], &places[i]);
        if s.turn > b.turn + 2.0 * step || b.turn - a.turn > 3.0 * step {
            return false;
        }
        let share = (s.turn - a.turn) / (b.turn - a.turn);
        let r = a.r + (b.r - a.r) * share + (a.slope + (b.slope - a.slope) * share) * (s.x - x);
        (s.r - r).abs() < (6.0 * b.spread).max(0.004 * boat)
    };
    let own: Vec<&Seen> = own.iter().filter(|s| skin(s)).collect();
    // Where there are suddenly fewer: the highest two and a half degrees that are not thin.
    let count = |turn: f64| own.iter().filter(|s| s.turn > turn - step && s.turn <= turn).count() as f64;
    let arc = |turn: f64| {
        places.iter().min_by(|a, b| (a.turn - turn).abs().total_cmp(&(b.turn - turn).abs())).map_or(1.0, |p| p.r)
    };
    let turns: Vec<f64> = (1..=(HIGHEST / STEP) as usize).map(|k| k as f64 * step).collect();
    let mut dense: Vec<f64> = turns.iter().map(|t| count(*t) / arc(*t)).filter(|d| *d > 0.0).collect();
    dense.sort_by(f64::total_cmp);
    let usual = *dense.get(dense.len() / 2)?;
    let top = turns.iter().rev().find(|t| count(**t) / arc(**t) > THINS * usual)?;
    let strip = 2.0 * half / STRIPS as f64;
    let mut edge: Vec<[f64; 2]> = Vec::new();
    let mut gaps = 0.0;
    for k in 0..STRIPS {
        let (from, to) = (x - half + strip * k as f64, x - half + strip * (k + 1) as f64);
        let mut high: Vec<f64> =
            own.iter().filter(|s| s.x >= from && s.x < to && s.turn <= top + step).map(|s| s.turn).collect();
        high.sort_by(|a, b| b.total_cmp(a));
        // The mean distance of the uppermost few, one from the next, is that from the uppermost to the edge.
        if let [first, .., last] = high[..high.len().min(8)] {
            let gap = (first - last) / (high.len().min(8) - 1) as f64;
            edge.push([0.5 * (from + to) - x, first + gap]);
            gaps += gap;
        }
    }
    if edge.len() < 3 {
        return None;
    }
    // The middle of the strips' slopes two by two, and of what they then say: one strip in four may be wrong.
    let median = |mut all: Vec<f64>| {
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied()
    };
    let mut slopes = Vec::new();
    for (i, a) in edge.iter().enumerate() {
        slopes.extend(edge[i + 1..].iter().map(|b| (b[1] - a[1]) / (b[0] - a[0])));
    }
    let slope = median(slopes)?;
    let turn = median(edge.iter().map(|e| e[1] - slope * e[0]).collect())?;
    let r = arc(turn);
    let gap = gaps / edge.len() as f64 * r;
    Some((turn, gap))
}
