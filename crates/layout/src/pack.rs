//! A few shapes on one board, so that it is cut as short as may be.
//!
//! One after the other is laid as far left as it goes on top of those before it, in several orders and every way it may be
//! turned; of the beginnings the best few are gone on with. Quick, and the same for the same shapes, so that what was found
//! for some shapes on a board is remembered.

use crate::body::{Body, Spot};
use crate::profile::{Pose, Shelf, Soundness};
use rand::SeedableRng;
use rand::seq::SliceRandom;
use rand_pcg::Pcg64Mcg;
use std::collections::HashMap;

/// Shapes of one outline that may be turned alike.
pub struct Kind {
    poses: Vec<Pose>,
    sound: Soundness,
    /// Least room it takes along a board.
    pub reach: f32,
    /// Area with its half saw cut, mm².
    area: f32,
}

impl Kind {
    /// With so many tilts either way.
    pub fn of(body: &Body, tilts: usize, cell: f32) -> Self {
        let tilts: Vec<f32> = if body.tilt == 0.0 || tilts == 0 {
            vec![0.0]
        } else {
            let n = tilts as i32;
            (-n..=n).map(|k| body.tilt * k as f32 / n as f32).collect()
        };
        let ways = body.turns().flat_map(|(over, turn)| tilts.iter().map(move |t| (over, turn + t)));
        let poses: Vec<Pose> = ways.map(|(over, turn)| Pose::of(body, over, turn, cell)).collect();
        Kind {
            reach: poses.iter().map(|p| p.reach).fold(f32::MAX, f32::min),
            poses,
            sound: Soundness { sound: body.sound.clone(), wider: body.wider },
            area: body.polygon.area(),
        }
    }
}

/// Shapes on a board.
#[derive(Debug, Clone)]
pub struct Packed {
    /// How far from its left end they reach, mm, with the half saw cut.
    pub end: f32,
    /// Where each lies: a kind, and its place.
    pub at: Vec<(usize, Spot)>,
}

/// How thoroughly a board is packed.
#[derive(Debug, Clone, Copy)]
pub struct Care {
    /// Orders tried.
    pub orders: usize,
    /// Beginnings gone on with.
    pub kept: usize,
}

/// Shapes on a board up to which it is packed with all care.
const FEW: usize = 4;

impl Care {
    /// Less where there are many shapes, so that a packing does not take much longer.
    fn among(self, shapes: usize) -> Care {
        let less = |n: usize| (n * FEW / shapes.max(FEW)).max(2).min(n);
        Care { orders: less(self.orders), kept: less(self.kept) }
    }
}

/// Boards, kinds of shapes, and what was found for them.
pub struct Packer<'a> {
    pub shelves: &'a [Shelf],
    /// The first board like each.
    pub like: &'a [usize],
    pub kinds: &'a [Kind],
    pub care: Care,
    /// Places looked for so far: a measure of time that is the same on every machine.
    pub work: usize,
    known: HashMap<(usize, Vec<usize>), Option<Packed>>,
}

/// A beginning.
#[derive(Clone)]
struct Begun {
    sky: Vec<f32>,
    end: f32,
    /// The room under the sky.
    under: f32,
    at: Vec<(usize, Spot)>,
}

impl<'a> Packer<'a> {
    pub fn new(shelves: &'a [Shelf], like: &'a [usize], kinds: &'a [Kind], care: Care) -> Self {
        Packer { shelves, like, kinds, care, work: 0, known: HashMap::new() }
    }

    /// Less than `board` is cut for these kinds, sorted, cannot be; infinite where they cannot all lie on it.
    pub fn least(&self, board: usize, kinds: &[usize]) -> f32 {
        let shelf = &self.shelves[board];
        let reach = kinds.iter().map(|&k| self.kinds[k].reach).fold(0.0, f32::max);
        let area: f32 = kinds.iter().map(|&k| self.kinds[k].area).sum();
        let end = reach.max(area / shelf.widest);
        if end > shelf.length || area > shelf.area { f32::INFINITY } else { end }
    }

    /// These kinds, sorted, on a board.
    pub fn pack(&mut self, board: usize, kinds: &[usize]) -> Option<&Packed> {
        let key = (self.like[board], kinds.to_vec());
        if !self.known.contains_key(&key) {
            let found = if self.least(board, kinds).is_finite() { self.search(board, kinds) } else { None };
            self.known.insert(key.clone(), found);
        }
        self.known.get(&key).and_then(Option::as_ref)
    }

    fn search(&mut self, board: usize, kinds: &[usize]) -> Option<Packed> {
        let mut best: Option<Packed> = None;
        let care = self.care.among(kinds.len());
        for order in self.orders(kinds, care.orders) {
            let bound = best.as_ref().map_or(f32::INFINITY, |b| b.end);
            if let Some(found) = self.in_order(board, &order, care.kept, bound) {
                best = Some(found);
            }
        }
        best
    }

    /// Longest first, shortest first, and others, none twice.
    fn orders(&self, kinds: &[usize], most: usize) -> Vec<Vec<usize>> {
        let mut longest = kinds.to_vec();
        longest.sort_by(|a, b| self.kinds[*b].reach.total_cmp(&self.kinds[*a].reach).then(a.cmp(b)));
        let mut orders = vec![longest.clone(), longest.iter().rev().copied().collect()];
        let seed = kinds.iter().fold(7_u64, |s, &k| s.wrapping_mul(31).wrapping_add(k as u64));
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        for _ in 0..2 * most {
            let mut order = longest.clone();
            order.shuffle(&mut rng);
            orders.push(order);
        }
        let mut seen: Vec<Vec<usize>> = Vec::new();
        for order in orders {
            if seen.len() < most && !seen.contains(&order) {
                seen.push(order);
            }
        }
        seen
    }

    /// The shapes one by one in this order; shorter than `bound`.
    fn in_order(&mut self, board: usize, order: &[usize], kept: usize, bound: f32) -> Option<Packed> {
        let shelf = &self.shelves[board];
        let mut begun = vec![Begun { sky: shelf.floor.clone(), end: 0.0, under: 0.0, at: Vec::new() }];
        for &kind in order {
            let mut next: Vec<(f32, f32, usize, usize, usize, f32)> = Vec::new();
            for (b, begin) in begun.iter().enumerate() {
                self.work += self.kinds[kind].poses.len();
                for (p, pose) in self.kinds[kind].poses.iter().enumerate() {
                    let Some((k, y)) = shelf.leftmost(&begin.sky, pose, &self.kinds[kind].sound) else { continue };
                    let end = begin.end.max(k as f32 * shelf.cell + pose.reach);
                    if end >= bound {
                        continue;
                    }
                    let sky = &begin.sky[k..k + pose.high.len()];
                    let more: f32 = sky.iter().zip(&pose.high).map(|(s, h)| (y + h - s).max(0.0)).sum();
                    next.push((end, begin.under + more, b, p, k, y));
                }
            }
            next.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then((a.2, a.3).cmp(&(b.2, b.3))));
            next.truncate(kept);
            let grown = next.into_iter().map(|(end, under, b, p, k, y)| {
                let (mut grown, pose) = (begun[b].clone(), &self.kinds[kind].poses[p]);
                grown.sky[k..k + pose.high.len()].iter_mut().zip(&pose.high).for_each(|(s, h)| *s = s.max(y + h));
                grown.at.push((kind, pose.spot(shelf, board, k, y)));
                Begun { end, under, ..grown }
            });
            begun = grown.collect();
        }
        begun.into_iter().next().map(|b| Packed { end: b.end, at: b.at })
    }
}
