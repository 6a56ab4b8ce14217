//! Points that are none of the hull: those that stand alone, and a floor under her.

use super::{Dice, P, extent};
use std::collections::HashMap;

/// Points by cubes, to find what is near. Only ever asked for a cube, never gone through, so that its order does not matter.
pub struct Cubes<'a> {
    points: &'a [P],
    side: f64,
    cubes: HashMap<[i64; 3], Vec<usize>>,
}

impl<'a> Cubes<'a> {
    /// Of a cube that holds more than `most`, every second, third or further one is kept, so that a crowd takes no more time.
    pub fn of(points: &'a [P], side: f64, most: usize) -> Cubes<'a> {
        let mut counts: HashMap<[i64; 3], usize> = HashMap::new();
        for p in points {
            *counts.entry(cube(p, side)).or_default() += 1;
        }
        let mut seen: HashMap<[i64; 3], usize> = HashMap::new();
        let mut cubes: HashMap<[i64; 3], Vec<usize>> = HashMap::new();
        for (i, p) in points.iter().enumerate() {
            let own = cube(p, side);
            let every = counts.get(&own).map_or(1, |n| n.div_ceil(most));
            let nth = seen.entry(own).or_default();
            if nth.is_multiple_of(every) {
                cubes.entry(own).or_default().push(i);
            }
            *nth += 1;
        }
        Cubes { points, side, cubes }
    }

    /// All points in the cube of `p` and those about it.
    pub fn near(&self, p: &P) -> impl Iterator<Item = usize> + '_ {
        about(cube(p, self.side)).filter_map(|c| self.cubes.get(&c)).flatten().copied()
    }

    /// The nearest point within one side.
    pub fn nearest(&self, p: &P) -> Option<(usize, f64)> {
        let all = self.near(p).map(|i| (i, (self.points[i] - p).norm()));
        all.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|n| n.1 <= self.side)
    }
}

/// No cube is numbered further.
const FARTHEST: f64 = 1e15;

fn cube(p: &P, side: f64) -> [i64; 3] {
    [0, 1, 2].map(|d| (p[d] / side).floor().clamp(-FARTHEST, FARTHEST) as i64)
}

/// A cube and those about it.
fn about([x, y, z]: [i64; 3]) -> impl Iterator<Item = [i64; 3]> {
    (-1..=1).flat_map(move |i| (-1..=1).flat_map(move |j| (-1..=1).map(move |k| [x + i, y + j, z + k])))
}

/// What is left, and how many were set aside.
pub struct Kept {
    pub points: Vec<P>,
    pub alone: usize,
    pub floor: usize,
}

/// A point with fewer than this share of the usual neighbours stands alone.
const ALONE: f64 = 0.2;
/// The usual number of neighbours that cubes are made for.
const NEIGHBOURS: f64 = 60.0;
/// A floor holds this share of all points at least...
const FLOOR: f64 = 0.03;
/// ...within this of a plane, as a share of her length...
const FLAT: f64 = 0.002;
/// ...reaches further out than all else by this...
const WIDER: f64 = 1.15;
/// ...and no more than this share of the points lies under it.
const UNDER: f64 = 0.02;
/// A floor leans no more than this off level in the file (cosine of 20 degrees).
const LEVEL: f64 = 0.94;
const TRIES: usize = 400;

pub fn kept(all: &[P], up: P) -> Kept {
    let spans = [0, 1, 2].map(|d| {
        let [low, high] = extent(all.iter().map(|p| p[d]).collect());
        high - low
    });
    // As if all lay on the two longest sides' area: the cubes then hold some sixty, more where she is denser.
    let mut sides = spans;
    sides.sort_by(f64::total_cmp);
    let area = (2.0 * sides[2] * sides[1].max(0.02 * sides[2])).max(1.0);
    let side = (area * NEIGHBOURS / all.len() as f64 / 9.0).sqrt().max(1e-3 * sides[2]).max(1e-6);
    let mut in_cube: HashMap<[i64; 3], usize> = HashMap::new();
    for p in all {
        *in_cube.entry(cube(p, side)).or_default() += 1;
    }
    let near = |p: &P| about(cube(p, side)).filter_map(|c| in_cube.get(&c)).sum::<usize>();
    let counts: Vec<usize> = all.iter().map(near).collect();
    let mut sorted = counts.clone();
    sorted.sort_unstable();
    let usual = sorted.get(sorted.len() / 2).copied().unwrap_or(0) as f64;
    let dense: Vec<P> =
        all.iter().zip(&counts).filter(|(_, n)| **n as f64 > ALONE * usual).map(|(p, _)| *p).collect();
    let alone = all.len() - dense.len();
    match floor(&dense, up, sides[2]) {
        None => Kept { points: dense, alone, floor: 0 },
        Some((normal, offset, within)) => {
            let points: Vec<P> = dense.iter().filter(|p| p.dot(&normal) - offset > 2.0 * within).copied().collect();
            Kept { floor: dense.len() - points.len(), points, alone }
        }
    }
}

/// A plane under her that reaches further than she does: its normal, its height along it, and how far points lie off it.
fn floor(points: &[P], up: P, size: f64) -> Option<(P, f64, f64)> {
    if points.len() < 100 {
        return None;
    }
    let within = FLAT * size;
    let some: Vec<P> = points.iter().step_by(points.len().div_ceil(4000)).copied().collect();
    let mut dice = Dice(7);
    let mut best: Option<(usize, P, f64)> = None;
    for _ in 0..TRIES {
        let [a, b, c] = [0; 3].map(|_| some[dice.below(some.len())]);
        let normal = (b - a).cross(&(c - a));
        if normal.norm() < 1e-6 {
            continue;
        }
        let normal = normal.normalize() * if normal.dot(&up) < 0.0 { -1.0 } else { 1.0 };
        if normal.dot(&up) < LEVEL {
            continue;
        }
        let offset = normal.dot(&a);
        let on = some.iter().filter(|p| (p.dot(&normal) - offset).abs() < within).count();
        let under = some.iter().filter(|p| p.dot(&normal) - offset < -within).count();
        let enough = on as f64 > FLOOR * some.len() as f64 && (under as f64) < UNDER * some.len() as f64;
        if enough && best.as_ref().is_none_or(|b| on > b.0) {
            best = Some((on, normal, offset));
        }
    }
    let (_, normal, offset) = best?;
    // A boat's own flat bottom is narrower than she is.
    let across = normal.cross(&P::new(0.3, 0.5, 0.8)).normalize();
    let other = normal.cross(&across);
    let spread = |on: bool| {
        let own = || points.iter().filter(move |p| ((p.dot(&normal) - offset).abs() < within) == on);
        let span = |d: P| {
            let [low, high] = extent(own().map(|p| p.dot(&d)).collect());
            high - low
        };
        span(across) * span(other)
    };
    (spread(true) > WIDER * spread(false)).then_some((normal, offset, within))
}
