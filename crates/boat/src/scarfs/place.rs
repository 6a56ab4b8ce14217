//! Where scarfs go.
//!
//! A scarf may stand at a timber or half-way between two. For every strake all ways of parting it into as few parts as the
//! boards allow are weighed by themselves; the best of them, no two alike, go into a search over the strakes from the keel up
//! in which each way is also weighed against those of the two strakes below (dynamic programming over pairs of strakes, so the
//! answer is the least sum among the ways kept). Nothing in it is left to chance.

use super::part::{board_of, piece};
use super::{Cut, GaveWay, SAME, Scarf, fits};
use crate::development::{FlatPlank, LeftLong};
use crate::moulds::Mould;
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;
use std::collections::HashMap;

/// One strake and what its scarfs must mind.
pub struct Side<'a> {
    pub flat: &'a FlatPlank,
    pub strake: &'a Strake,
    pub timbers: &'a [Timber],
    pub moulds: &'a [Mould],
    pub spec: &'a Spec,
    pub boards: &'a [[f64; 2]],
    pub left: &'a LeftLong,
}

/// What was found for a strake.
#[derive(Debug, Clone, Default)]
pub struct Chosen {
    pub scarfs: Vec<Scarf>,
    pub stuck: bool,
}

/// What a wish weighs that gives way. Scarfs of neighbouring strakes on one timber weaken her most.
const NEIGHBOUR: f64 = 12.0;
const NEXT_BUT_ONE: f64 = 5.0;
const MOULD: f64 = 8.0;
const BEND: f64 = 6.0;
const TIMBER: f64 = 3.0;
/// Share of what goes cold up to which a scarf may be bent.
pub const BENT: f64 = 0.5;
/// Most parts a plank is made of.
const MOST_PARTS: usize = 6;
/// Ways of parting a strake that go into the search.
const KEPT: usize = 40;
/// Ways that are weighed for one strake.
const MOST_WAYS: usize = 20_000;
/// A part is at least so many scarfs long.
const LEAST_SCARFS: f64 = 6.0;

/// A way of parting a strake.
struct Way {
    scarfs: Vec<Scarf>,
    cost: f64,
}

/// The scarfs of all strakes, keel to sheer.
pub fn choose(sides: &[Side<'_>]) -> Vec<Chosen> {
    let ways: Vec<Option<Vec<Way>>> = sides.iter().map(ways).collect();
    let one = || vec![Way { scarfs: Vec::new(), cost: 0.0 }];
    let stuck: Vec<bool> = ways.iter().map(Option::is_none).collect();
    let ways: Vec<Vec<Way>> = ways.into_iter().map(|w| w.unwrap_or_else(one)).collect();
    let picked = least_sum(sides, &ways);
    let mut chosen: Vec<Chosen> = Vec::new();
    for (k, way) in picked.iter().enumerate() {
        let scarfs = ways[k].get(*way).map(|w| w.scarfs.clone()).unwrap_or_default();
        chosen.push(Chosen { scarfs, stuck: stuck[k] });
    }
    neighbours(sides, &mut chosen);
    chosen
}

/// What ways of two strakes cost together.
fn together(a: &Way, b: &Way, least: f64, weight: f64) -> f64 {
    let mut cost = 0.0;
    for s in &a.scarfs {
        for t in &b.scarfs {
            let apart = (s.x - t.x).abs();
            if apart < least {
                cost += weight * (1.0 + 0.5 * (1.0 - apart / least));
            }
        }
    }
    cost
}

/// Least middle to middle between neighbouring strakes, and between strakes two apart, mm.
pub fn shifts(spec: &Spec) -> [f64; 2] {
    let shift = spec.scarfs.shift.unwrap_or(3.0 * spec.timbers.spacing);
    [shift - HAIR, 0.5 * shift - HAIR].map(|s| s.max(0.0))
}

/// Scarfs that stand just so far apart as asked, but for this, are far enough, mm.
const HAIR: f64 = 1.0;

/// The index of the way of each strake whose sum is least.
fn least_sum(sides: &[Side<'_>], ways: &[Vec<Way>]) -> Vec<usize> {
    let n = ways.len();
    if n == 0 {
        return Vec::new();
    }
    let [near, far] = shifts(sides[0].spec);
    // best[a][b]: least sum up to strake k, where k − 1 takes way a and k way b; the way of k − 2 that gives it.
    let mut best: Vec<Vec<f64>> = vec![ways[0].iter().map(|w| w.cost).collect()];
    let mut back: Vec<Vec<Vec<usize>>> = vec![Vec::new()];
    for k in 1..n {
        let next: Vec<Vec<f64>> =
            ways[k - 1].iter().map(|a| ways[k].iter().map(|b| together(a, b, near, NEIGHBOUR)).collect()).collect();
        let over: Vec<Vec<f64>> = if k < 2 {
            vec![vec![0.0; ways[k].len()]]
        } else {
            ways[k - 2].iter().map(|a| ways[k].iter().map(|b| together(a, b, far, NEXT_BUT_ONE)).collect()).collect()
        };
        let mut sums = vec![vec![f64::INFINITY; ways[k].len()]; ways[k - 1].len()];
        let mut from = vec![vec![0; ways[k].len()]; ways[k - 1].len()];
        for (b, row) in sums.iter_mut().enumerate() {
            for (c, sum) in row.iter_mut().enumerate() {
                for (a, before) in best.iter().enumerate() {
                    let total = before[b] + over[a][c];
                    if total < *sum {
                        *sum = total;
                        from[b][c] = a;
                    }
                }
                *sum += next[b][c] + ways[k][c].cost;
            }
        }
        best = sums;
        back.push(from);
    }
    let (mut b, mut c, mut least) = (0, 0, f64::INFINITY);
    for (i, row) in best.iter().enumerate() {
        for (j, sum) in row.iter().enumerate() {
            if *sum < least {
                (b, c, least) = (i, j, *sum);
            }
        }
    }
    let mut picked = vec![c];
    for k in (1..n).rev() {
        picked.push(b);
        if k >= 2 {
            (b, c) = (back[k][b][c], b);
        }
    }
    picked.reverse();
    picked
}

/// What a wish of a scarf of `strake` weighs that gave way.
fn weight(strake: usize, gave_way: &GaveWay) -> f64 {
    match gave_way {
        GaveWay::Neighbour { strake: other, .. } if other.abs_diff(strake) > 1 => NEXT_BUT_ONE,
        GaveWay::Neighbour { .. } => NEIGHBOUR,
        GaveWay::Mould { .. } => MOULD,
        GaveWay::Bend { share } => bend_weight(*share),
        GaveWay::Timber { .. } => TIMBER,
    }
}

/// What it weighs that a scarf is bent over [`BENT`]: where the plank does not go cold, twice as much.
fn bend_weight(share: f64) -> f64 {
    BEND * if share > 1.0 { 2.0 } else { 1.0 }
}

/// Tells every scarf of those of other strakes that stand too near; the wish that weighs most comes first.
fn neighbours(sides: &[Side<'_>], chosen: &mut [Chosen]) {
    let Some(side) = sides.first() else { return };
    let [near, far] = shifts(side.spec);
    let places: Vec<Vec<f64>> = chosen.iter().map(|c| c.scarfs.iter().map(|s| s.x).collect()).collect();
    for (k, strake) in chosen.iter_mut().enumerate() {
        for scarf in &mut strake.scarfs {
            // Each pair is told once, at the upper strake.
            let too_near = |(below, least): (usize, f64)| {
                let other = k.checked_sub(below)?;
                let apart = places[other].iter().map(|x| (x - scarf.x).abs()).fold(f64::MAX, f64::min);
                let strake = sides[other].flat.strake;
                (apart < least).then_some(GaveWay::Neighbour { strake, apart, least: least + HAIR })
            };
            let told: Vec<GaveWay> = [(1, near), (2, far)].into_iter().filter_map(too_near).collect();
            scarf.gave_way.splice(0..0, told);
            let own = sides[k].flat.strake;
            scarf.gave_way.sort_by(|a, b| weight(own, b).total_cmp(&weight(own, a)));
        }
    }
}

/// The best ways of parting a strake into as few parts as its boards allow; `None` where there is none.
fn ways(side: &Side<'_>) -> Option<Vec<Way>> {
    if fits(side.left, side.boards) {
        return Some(vec![Way { scarfs: Vec::new(), cost: 0.0 }]);
    }
    let places = candidates(side);
    let mut parting = Parting { side, places: &places, boards: HashMap::new(), found: Vec::new() };
    for parts in 2..=MOST_PARTS {
        parting.on(&mut Vec::new(), parts - 1);
        if !parting.found.is_empty() {
            let found = std::mem::take(&mut parting.found);
            return Some(kept(&places, found, side.spec.timbers.spacing));
        }
    }
    None
}

/// The cheapest, no two nearly alike.
fn kept(places: &[(Scarf, f64)], mut found: Vec<(Vec<usize>, f64)>, spacing: f64) -> Vec<Way> {
    found.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    let mut kept: Vec<(Vec<usize>, f64)> = Vec::new();
    for way in found {
        let alike = |other: &(Vec<usize>, f64)| {
            way.0.iter().zip(&other.0).all(|(&a, &b)| (places[a].0.x - places[b].0.x).abs() < 0.75 * spacing)
        };
        if kept.len() < KEPT && !kept.iter().any(alike) {
            kept.push(way);
        }
    }
    let way = |(at, cost): (Vec<usize>, f64)| Way {
        scarfs: at.iter().enumerate().map(|(i, &p)| Scarf { n: i + 1, ..places[p].0.clone() }).collect(),
        cost,
    };
    kept.into_iter().map(way).collect()
}

/// Walks through all ways of parting a strake.
struct Parting<'a> {
    side: &'a Side<'a>,
    places: &'a [(Scarf, f64)],
    /// Length and width of the least board between two places (`usize::MAX`: the plank's end), where a board holds it.
    boards: HashMap<(usize, usize), Option<[f64; 2]>>,
    found: Vec<(Vec<usize>, f64)>,
}

const END: usize = usize::MAX;

impl Parting<'_> {
    fn part(&mut self, from: usize, to: usize) -> Option<[f64; 2]> {
        if let Some(known) = self.boards.get(&(from, to)) {
            return *known;
        }
        let scarf = |i: usize| self.places.get(i).map(|p| &p.0);
        if self.too_long(scarf(from), scarf(to)) {
            self.boards.insert((from, to), None);
            return None;
        }
        let piece = piece(self.side, scarf(from), scarf(to));
        let board = board_of(self.side, &piece, false);
        let least = LEAST_SCARFS * self.side.spec.scarfs.ratio * self.side.strake.thickness;
        let left = self.side.left.on_part(&board, [from == END, to == END]);
        let size = (fits(&left, self.side.boards) && board.length >= least).then_some([board.length, board.width]);
        self.boards.insert((from, to), size);
        size
    }

    /// Whether its lower edge alone is longer, straight from end to end, than any board from corner to corner.
    fn too_long(&self, fore: Option<&Scarf>, aft: Option<&Scarf>) -> bool {
        let edge = &self.side.flat.lower;
        let a = fore.map_or(edge[0], |s| s.fore.lower);
        let b = aft.map_or(edge[edge.len() - 1], |s| s.aft.lower);
        let straight = (b[0] - a[0]).hypot(b[1] - a[1]);
        let boards = self.side.boards;
        !boards.is_empty() && boards.iter().all(|[l, w]| straight > (l + SAME).hypot(w + SAME))
    }

    /// Goes on from the scarfs `taken` with `more` of them.
    fn on(&mut self, taken: &mut Vec<usize>, more: usize) {
        if self.found.len() >= MOST_WAYS {
            return;
        }
        let from = taken.last().copied().unwrap_or(END);
        if more == 0 {
            if self.part(from, END).is_some() {
                let cost = self.cost(taken);
                self.found.push((taken.clone(), cost));
            }
            return;
        }
        let first = taken.last().map_or(0, |i| i + 1);
        for to in first..self.places.len() {
            if self.part(from, to).is_some() {
                taken.push(to);
                self.on(taken, more - 1);
                taken.pop();
            }
        }
    }

    /// What its scarfs cost, and a little for uneven parts and wide boards.
    fn cost(&mut self, taken: &[usize]) -> f64 {
        let ends: Vec<usize> = std::iter::once(END).chain(taken.iter().copied()).chain([END]).collect();
        let sizes: Vec<[f64; 2]> = ends.windows(2).filter_map(|w| self.part(w[0], w[1])).collect();
        let mean = sizes.iter().map(|s| s[0]).sum::<f64>() / sizes.len() as f64;
        let uneven: f64 = sizes.iter().map(|s| (s[0] / mean - 1.0).powi(2)).sum();
        let area: f64 = sizes.iter().map(|s| s[0] * s[1]).sum();
        let whole = self.side.flat.length * self.side.flat.board_width;
        taken.iter().map(|&i| self.places[i].1).sum::<f64>() + uneven + 2.0 * area / whole
    }
}

/// The timbers behind the strake: where, mm aft of the first station, and their numbers.
fn stand(side: &Side<'_>) -> Vec<(f64, usize)> {
    side.timbers.iter().filter_map(|t| Some((t.behind(side.strake.strake)?, t.n))).collect()
}

/// Where a scarf may stand: at every timber and half-way between two, and in a boat without timbers as close together; as far
/// as it fits on the plank, with what its own wishes cost there.
fn candidates(side: &Side<'_>) -> Vec<(Scarf, f64)> {
    let x: Vec<f64> = side.strake.rulings.iter().map(|r| 0.5 * (r.lower.x + r.upper.x)).collect();
    let stand = stand(side);
    let mut places: Vec<(f64, Option<usize>)> = stand.iter().map(|&(x, n)| (x, Some(n))).collect();
    if let (true, Some(first), Some(last)) = (places.is_empty(), x.first(), x.last()) {
        let apart = 0.5 * side.spec.timbers.spacing;
        let steps = ((last - first) / apart).floor().max(0.0) as usize;
        places.extend((1..=steps).map(|i| (first + apart * i as f64, None)));
    }
    places.extend(stand.windows(2).map(|w| (0.5 * (w[0].0 + w[1].0), None)));
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.into_iter().filter_map(|(at, timber)| candidate(side, &x, at, timber)).collect()
}

fn candidate(side: &Side<'_>, x: &[f64], at: f64, timber: Option<usize>) -> Option<(Scarf, f64)> {
    let i = x.windows(2).position(|w| w[0] <= at && at < w[1])?;
    let place = i as f64 + (at - x[i]) / (x[i + 1] - x[i]);
    let flat = side.flat;
    let half = 0.5 * side.spec.scarfs.ratio * side.strake.thickness;
    let middle_at = |p: f64| {
        let (l, u) = (between(&flat.lower, p), between(&flat.upper, p));
        [0.5 * (l[0] + u[0]), 0.5 * (l[1] + u[1])]
    };
    let last = (flat.lower.len() - 1) as f64;
    let middle = middle_at(place);
    let (a, b) = (middle_at((place - 2.0).max(0.0)), middle_at((place + 2.0).min(last)));
    let run = (b[0] - a[0]).hypot(b[1] - a[1]);
    let along = [(b[0] - a[0]) / run, (b[1] - a[1]) / run];
    let cut = |off: f64| {
        let from = [middle[0] + off * along[0], middle[1] + off * along[1]];
        let (lower, l) = crossing(&flat.lower, from, along, place)?;
        let (upper, u) = crossing(&flat.upper, from, along, place)?;
        Some(Cut { lower, upper, at: [l, u] })
    };
    let (fore, aft) = (cut(-half)?, cut(half)?);
    // Clear of the ends by a scarf's length at least: hood ends and transom have their own fastenings.
    let from_end = |p: [f64; 2], end: [f64; 2]| (p[0] - end[0]).abs();
    let clear = [
        from_end(fore.lower, flat.lower[0]),
        from_end(fore.upper, flat.upper[0]),
        from_end(aft.lower, flat.lower[flat.lower.len() - 1]),
        from_end(aft.upper, flat.upper[flat.upper.len() - 1]),
    ];
    if clear.iter().any(|c| *c < 2.0 * half) {
        return None;
    }
    let mut scarf =
        Scarf { n: 1, middle, x: at, ruling: place.round() as usize, fore, aft, timber, gave_way: Vec::new() };
    let cost = own_wishes(side, &mut scarf, half);
    Some((scarf, cost))
}

/// What a scarf's own wishes cost; those that give way are noted in it.
fn own_wishes(side: &Side<'_>, scarf: &mut Scarf, half: f64) -> f64 {
    let (flat, spec) = (side.flat, side.spec);
    let mut cost = 0.0;
    let stations = flat.stations.iter().filter(|s| side.moulds.iter().any(|m| m.section == s.section));
    let gap = |s: &crate::development::FlatStation| {
        let at = 0.5 * (s.lower[0] + s.upper[0]);
        ((at - scarf.middle[0]).abs() - half).max(0.0)
    };
    let nearest = stations.map(|s| (s.section, gap(s))).min_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((section, clear)) = nearest.filter(|n| n.1 < spec.scarfs.clear) {
        scarf.gave_way.push(GaveWay::Mould { section, clear, least: spec.scarfs.clear });
        cost += MOULD;
    }
    let span = scarf.fore.at[0].min(scarf.fore.at[1]) as usize..=scarf.aft.at[0].max(scarf.aft.at[1]).ceil() as usize;
    let share = |[bend, twist]: &[f64; 2]| {
        let t = side.strake.thickness;
        (0.5 * t * bend / spec.bending.cold_strain).max(t * twist / spec.bending.cold_shear)
    };
    let hardest = flat.bent.get(span).unwrap_or_default().iter().map(share).fold(0.0, f64::max);
    cost += hardest;
    if hardest > BENT {
        scarf.gave_way.push(GaveWay::Bend { share: hardest });
        cost += bend_weight(hardest);
    }
    if scarf.timber.is_none() && !side.timbers.is_empty() {
        let off = stand(side).iter().map(|t| (t.0 - scarf.x).abs()).fold(f64::MAX, f64::min);
        scarf.gave_way.push(GaveWay::Timber { off });
        cost += TIMBER;
    }
    cost
}

fn between(points: &[[f64; 2]], place: f64) -> [f64; 2] {
    let i = (place as usize).min(points.len() - 2);
    let share = place - i as f64;
    [0, 1].map(|axis| points[i][axis] + share * (points[i + 1][axis] - points[i][axis]))
}

/// Where the line through `from` square to `along` crosses an edge nearest to the ruling `near`, as a point and a ruling.
fn crossing(edge: &[[f64; 2]], from: [f64; 2], along: [f64; 2], near: f64) -> Option<([f64; 2], f64)> {
    let off = |p: &[f64; 2]| (p[0] - from[0]) * along[0] + (p[1] - from[1]) * along[1];
    edge.windows(2)
        .enumerate()
        .filter_map(|(i, w)| {
            let (a, b) = (off(&w[0]), off(&w[1]));
            (a <= 0.0 && b > 0.0).then(|| i as f64 + a / (a - b))
        })
        .min_by(|a, b| (a - near).abs().total_cmp(&(b - near).abs()))
        .map(|at| (between(edge, at), at))
}
