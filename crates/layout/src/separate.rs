//! The search that pushes overlapping shapes apart.

use crate::body::Spot;
use crate::field::Field;
use crate::floor::Entity;
use jagua_rs::geometry::geo_traits::TransformableFrom;
use rand::Rng;
use rand::seq::SliceRandom;
use rand_pcg::Pcg64Mcg;

/// How long a search goes on.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// Rounds without getting better before the best is taken up again.
    pub patience: usize,
    /// How often that is done.
    pub strikes: usize,
    /// Places tried for a shape: anywhere, and about where it is.
    pub anywhere: usize,
    pub about: usize,
}

impl Field<'_> {
    /// Moves shape `i` to where it overlaps least of the places tried, on one of `boards`.
    fn relocate(&mut self, i: usize, boards: &[usize], effort: &Effort, rng: &mut Pcg64Mcg) {
        const BEST: usize = 3;
        let here = self.at[i];
        let mut best: Vec<(f32, Spot)> = vec![(self.loss(i, &here, f32::INFINITY), here)];
        if best[0].0 == 0.0 {
            return;
        }
        for k in 0..effort.anywhere + effort.about {
            let spot = if k < effort.anywhere {
                let board = boards[rng.random_range(0..boards.len())];
                self.anywhere(i, board, rng)
            } else {
                self.about(i, &here, rng)
            };
            let bound = if best.len() < BEST { f32::INFINITY } else { best[best.len() - 1].0 };
            let loss = self.loss(i, &spot, bound);
            if loss < bound {
                let place = best.partition_point(|b| b.0 <= loss);
                best.insert(place, (loss, spot));
                best.truncate(BEST);
            }
        }
        let mut found = best[0];
        for (loss, spot) in best {
            let settled = self.descend(i, loss, spot, rng);
            if settled.0 < found.0 {
                found = settled;
            }
        }
        if found.1 != here {
            self.put(i, found.1);
        }
    }

    /// Any place on a board where the shape's box lies within the board's.
    pub fn anywhere(&mut self, i: usize, board: usize, rng: &mut Pcg64Mcg) -> Spot {
        let (over, turn) = self.bodies[i].any_turn(rng);
        self.within(i, Spot { board, over, turn, shift: [0.0; 2] }, [rng.random(), rng.random()])
    }

    /// The place of a turned shape's box within the board's box, as shares of the room there is.
    pub fn within(&mut self, i: usize, spot: Spot, share: [f32; 2]) -> Spot {
        let floor = self.floors[spot.board].bbox();
        let unmoved = Spot { shift: [0.0; 2], ..spot };
        let mut shape = self.scratch[i].take().unwrap_or_else(|| self.bodies[i].polygon.clone());
        shape.transform_from(&self.bodies[i].polygon, &unmoved.transformation().compose());
        let own = shape.bbox();
        self.scratch[i] = Some(shape);
        let along = |low: f32, high: f32, a: f32, b: f32, s: f32| {
            let (from, to) = (low - a, high - b);
            if to > from { from + (to - from) * s } else { 0.5 * (from + to) }
        };
        let shift = [
            along(floor.x_min, floor.x_max, own.x_min, own.x_max, share[0]),
            along(floor.y_min, floor.y_max, own.y_min, own.y_max, share[1]),
        ];
        Spot { shift, ..spot }
    }

    /// A place near `spot`.
    fn about(&self, i: usize, spot: &Spot, rng: &mut Pcg64Mcg) -> Spot {
        let body = &self.bodies[i];
        let own = self.posed[i].bbox();
        let reach = [own.x_max - own.x_min, own.y_max - own.y_min];
        let mut near = *spot;
        for (shift, reach) in near.shift.iter_mut().zip(reach) {
            *shift += 0.3 * reach * (rng.random::<f32>() + rng.random::<f32>() - 1.0);
        }
        if rng.random::<f32>() < 0.3 {
            (near.over, near.turn) = body.any_turn(rng);
        }
        near
    }

    /// Down from `spot` by steps along an axis, or a tilt, that shrink where none helps.
    fn descend(&mut self, i: usize, mut loss: f32, mut spot: Spot, rng: &mut Pcg64Mcg) -> (f32, Spot) {
        let own = self.posed[i].bbox();
        let least = (own.x_max - own.x_min).min(own.y_max - own.y_min);
        let long = (own.x_max - own.x_min).max(own.y_max - own.y_min);
        let mut step = 0.2 * least;
        let tilt = self.bodies[i].tilt;
        while step > 0.002 * least && loss > 0.0 {
            let mut better = false;
            let way = rng.random_range(0..if tilt > 0.0 { 3 } else { 2 });
            for sign in [1.0, -1.0] {
                let mut next = spot;
                if way < 2 {
                    // Along the board there is more room than across.
                    let stretch = if way == 0 && long > 4.0 * least { 4.0 } else { 1.0 };
                    next.shift[way] += sign * step * stretch;
                } else {
                    next.turn = self.bodies[i].tilted(spot.turn + sign * step / long);
                }
                let there = self.loss(i, &next, loss);
                if there < loss {
                    (loss, spot, better) = (there, next, true);
                    break;
                }
            }
            step *= if better { 1.2 } else { 0.7 };
        }
        (loss, spot)
    }

    /// Pushes shapes apart until none overlaps, or the effort is spent. `boards` are those that shapes may go to.
    pub fn separate(
        &mut self,
        boards: &[usize],
        effort: &Effort,
        rng: &mut Pcg64Mcg,
        go_on: &mut dyn FnMut() -> bool,
    ) -> bool {
        let n = self.bodies.len();
        self.wall.fill(1.0);
        self.pair.fill(1.0);
        let mut best = (f32::INFINITY, self.at.clone());
        for _ in 0..effort.strikes {
            let mut idle = 0;
            while idle < effort.patience {
                if !go_on() {
                    return false;
                }
                let found: Vec<Vec<(Entity, f32)>> =
                    (0..n).map(|i| if self.here[i] { self.overlaps(i) } else { Vec::new() }).collect();
                let total: f32 = found.iter().flatten().map(|f| f.1).sum();
                if total == 0.0 {
                    return true;
                }
                if total < best.0 {
                    if total < 0.98 * best.0 {
                        idle = 0;
                    }
                    best = (total, self.at.clone());
                }
                idle += 1;
                self.weigh(&found);
                let mut troubled: Vec<usize> = (0..n).filter(|&i| !found[i].is_empty()).collect();
                troubled.shuffle(rng);
                for i in troubled {
                    self.relocate(i, boards, effort, rng);
                }
            }
            self.all_at(&best.1);
        }
        false
    }

    /// Everything back to where it was.
    pub fn all_at(&mut self, at: &[Spot]) {
        for (i, spot) in at.iter().enumerate() {
            if self.here[i] && self.at[i] != *spot {
                self.put(i, *spot);
            }
        }
    }

    /// Overlaps that are there weigh more, the greatest most; the others a little less again.
    fn weigh(&mut self, found: &[Vec<(Entity, f32)>]) {
        let n = self.bodies.len();
        let most = found.iter().flatten().map(|f| f.1).fold(0.0, f32::max);
        self.pair.iter_mut().chain(&mut self.wall).for_each(|w| *w = (*w * 0.95).max(1.0));
        for (i, of) in found.iter().enumerate() {
            for (entity, overlap) in of {
                let grow = (1.2 + 0.8 * overlap / most) / 0.95;
                match entity {
                    Entity::Shape(j) => {
                        let j = *j as usize;
                        // Each pair is found from both sides.
                        if i < j {
                            self.pair[i * n + j] *= grow;
                            self.pair[j * n + i] = self.pair[i * n + j];
                        }
                    }
                    _ => self.wall[i] *= grow,
                }
            }
        }
    }
}
