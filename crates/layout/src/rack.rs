//! Shapes on the boards of a rack, so that the least of them is cut.
//!
//! What a layout costs is the board from its left end to the end of the last shape on it, so that what is over stays in one
//! length; and a little for shapes that should share a board and do not. It begins with the longest first, each as far left
//! as it goes, and then again and again takes some length from one board, gives some to another, and pushes the shapes apart
//! within what is left. What costs less is kept.

use crate::body::{Body, Spot};
use crate::field::Field;
use crate::fill::{self, Steps};
use crate::floor::Floor;
use crate::separate::Effort;
use crate::{Board, LayoutError, Place, Shape};
use rand::seq::SliceRandom;
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// How shapes are to be laid out on a rack.
#[derive(Debug, Clone, PartialEq)]
pub struct Rack {
    /// From one shape to the next, mm: a saw cut and what is planed off. Half of it may lie beyond a board's edge.
    pub gap: f64,
    /// Outlines are followed within this, from outside, mm.
    pub within: f64,
    /// What it costs that a shape's mate comes out of another board, as a share of their area.
    pub mates: f64,
    /// Everything left to chance comes of this.
    pub seed: u64,
    /// Most times that boards are changed.
    pub rounds: usize,
    /// Ends the search when so many rounds running have found nothing better.
    pub good_enough: usize,
}

impl Default for Rack {
    fn default() -> Self {
        Rack { gap: 3.0, within: 0.5, mates: 0.03, seed: 1, rounds: 200, good_enough: 150 }
    }
}

/// A layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Where each shape lies; `None` where no board had room.
    pub places: Vec<Option<Place>>,
    /// How far along each board shapes lie, mm; 0 where none does.
    pub used: Vec<f64>,
    /// Area of the boards as far as they are used, each at its mean width, mm².
    pub cut: f64,
    /// Area of the shapes that are laid out, mm².
    pub laid: f64,
    /// Shapes whose mate lies on another board, pair by pair.
    pub apart: usize,
}

impl Layout {
    /// Area of the shapes over that of the boards as far as they are used.
    #[must_use]
    pub fn share(&self) -> f64 {
        if self.cut > 0.0 { self.laid / self.cut } else { 0.0 }
    }
}

/// Rounds done, and the best layout so far.
#[derive(Debug, Clone, Copy)]
pub struct Progress<'a> {
    /// Rounds done.
    pub round: usize,
    /// The best so far.
    pub best: &'a Layout,
}

/// Longest first, each as far left on the first board that has room: what a search is measured against.
///
/// # Errors
/// An outline that is none.
pub fn longest_first(shapes: &[Shape], boards: &[Board], rack: &Rack) -> Result<Layout, LayoutError> {
    let bodies = bodies(shapes, rack)?;
    let mut search = Search::new(&bodies, boards, rack)?;
    search.fill();
    Ok(search.layout())
}

/// Lays `shapes` out on `boards`. `tell` hears of each round and says whether to go on.
///
/// # Errors
/// An outline that is none.
pub fn lay_out(
    shapes: &[Shape],
    boards: &[Board],
    rack: &Rack,
    tell: &mut dyn FnMut(&Progress<'_>) -> bool,
) -> Result<Layout, LayoutError> {
    let bodies = bodies(shapes, rack)?;
    let mut search = Search::new(&bodies, boards, rack)?;
    let order = fill::longest_first(&search.field);
    search.fill_best(&order, &(0..boards.len()).collect::<Vec<_>>());
    search.find_room(tell);
    search.pull_left();
    let mut best = search.layout();
    let mut cost = search.cost();
    let mut idle = 0;
    for round in 0..rack.rounds {
        if idle >= rack.good_enough || !tell(&Progress { round, best: &best }) {
            break;
        }
        let before = (search.field.at.clone(), search.used(), search.field.here.clone());
        idle += 1;
        let done = match round % 6 {
            5 => search.again(),
            2 | 4 => search.unite() || search.change(&before.1),
            _ => search.change(&before.1),
        };
        if done {
            search.pull_left();
            let now = search.cost();
            if now < cost {
                if now < cost * (1.0 - 1e-4) {
                    idle = 0;
                }
                cost = now;
                best = search.layout();
                continue;
            }
        }
        search.back(&before.0, &before.2);
    }
    Ok(best)
}

fn bodies(shapes: &[Shape], rack: &Rack) -> Result<Vec<Body>, LayoutError> {
    shapes.iter().enumerate().map(|(i, s)| Body::of(i, s, rack.gap, rack.within)).collect()
}

struct Search<'a> {
    field: Field<'a>,
    boards: &'a [Board],
    rack: &'a Rack,
    /// Length and mean width of each board, and where it begins.
    length: Vec<f64>,
    width: Vec<f64>,
    from: Vec<f64>,
    rng: Pcg64Mcg,
}

const STEPS: Steps = Steps { along: 15.0, across: 24 };
const COARSE: Steps = Steps { along: 40.0, across: 24 };

impl<'a> Search<'a> {
    fn new(bodies: &'a [Body], boards: &'a [Board], rack: &'a Rack) -> Result<Self, LayoutError> {
        let ends =
            |b: &Board| b.outline.iter().fold((f64::MAX, f64::MIN), |(low, high), p| (low.min(p[0]), high.max(p[0])));
        let from: Vec<f64> = boards.iter().map(|b| ends(b).0).collect();
        let length: Vec<f64> = boards.iter().map(|b| ends(b).1 - ends(b).0).collect();
        let width = boards.iter().zip(&length).map(|(b, l)| crate::area(&b.outline) / l).collect();
        let floors = boards
            .iter()
            .enumerate()
            .map(|(i, b)| Floor::new(b, f64::INFINITY, rack.gap).map_err(|why| LayoutError::Board { board: i, why }))
            .collect::<Result<Vec<_>, _>>()?;
        let field = Field::new(bodies, floors);
        Ok(Search { field, boards, rack, length, width, from, rng: Pcg64Mcg::seed_from_u64(rack.seed) })
    }

    /// Longest first, each as far left on the first board that has room.
    fn fill(&mut self) {
        for i in fill::longest_first(&self.field) {
            let spot = (0..self.boards.len()).find_map(|b| fill::leftmost(&mut self.field, i, b, STEPS));
            if let Some(spot) = spot {
                self.field.put(i, spot);
            }
        }
    }

    /// The shapes of `order` one by one, each where the least of `boards` is cut for it; whether all found room.
    fn fill_best(&mut self, order: &[usize], boards: &[usize]) -> bool {
        let mut used = self.used();
        let mut all = true;
        for &i in order {
            let mut best: Option<(f64, Spot)> = None;
            for &b in boards {
                // Nothing costs less than nothing.
                if best.is_some_and(|(least, _)| least <= 0.0) {
                    break;
                }
                let Some(spot) = fill::leftmost(&mut self.field, i, b, COARSE) else { continue };
                self.field.put(i, spot);
                let end = f64::from(self.field.bbox(i).x_max) - 0.5 * self.rack.gap - self.from[b];
                let bodies = self.field.bodies;
                let mates = |j: usize| bodies[j].mate.is_some() && bodies[j].mate == bodies[i].mate;
                let apart = (0..bodies.len())
                    .any(|j| j != i && mates(j) && self.field.here[j] && self.field.at[j].board != b);
                let cost = (end - used[b]).max(0.0) * self.width[b]
                    + if apart { 2.0 * self.rack.mates * bodies[i].area } else { 0.0 };
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, spot));
                }
            }
            match best {
                Some((_, spot)) => {
                    self.field.put(i, spot);
                    used = self.used();
                }
                None => {
                    self.field.lift(i);
                    all = false;
                }
            }
        }
        all
    }

    /// Takes all shapes off a few boards and lays them again in another order; whether there was room for all.
    fn again(&mut self) -> bool {
        let n = self.boards.len();
        let used = self.used();
        let mut boards: Vec<usize> = (0..n).filter(|&b| used[b] > 0.0).collect();
        boards.shuffle(&mut self.rng);
        boards.truncate(self.rng.random_range(2..=4));
        let taken = |search: &Self, i: &usize| search.field.here[*i] && boards.contains(&search.field.at[*i].board);
        let mut order: Vec<usize> = fill::longest_first(&self.field).into_iter().filter(|i| taken(self, i)).collect();
        order.iter().for_each(|&i| self.field.lift(i));
        // Longest first, but for a few that change places.
        for _ in 0..self.rng.random_range(0..3) {
            if order.len() > 1 {
                let (a, b) = (self.rng.random_range(0..order.len()), self.rng.random_range(0..order.len()));
                order.swap(a, b);
            }
        }
        let mut onto: Vec<usize> = (0..n).collect();
        onto.shuffle(&mut self.rng);
        self.fill_best(&order, &onto)
    }

    /// Puts each shape that found no room on a board all the same and pushes the others aside; those for which that fails
    /// stay out.
    fn find_room(&mut self, tell: &mut dyn FnMut(&Progress<'_>) -> bool) {
        let all: Vec<usize> = (0..self.boards.len()).collect();
        let effort = Effort { patience: 40, strikes: 2, anywhere: 12 * self.boards.len().min(8), about: 16 };
        for i in fill::longest_first(&self.field) {
            if self.field.here[i] || all.is_empty() {
                continue;
            }
            let at = self.field.at.clone();
            let best = self.layout();
            let board = self.rng.random_range(0..all.len());
            let spot = self.field.anywhere(i, board, &mut self.rng);
            self.field.put(i, spot);
            let mut go_on = || tell(&Progress { round: 0, best: &best });
            if !self.field.separate(&all, &effort, &mut self.rng, &mut go_on) {
                self.field.lift(i);
                self.field.all_at(&at);
            }
        }
    }

    /// How far along each board shapes lie.
    fn used(&self) -> Vec<f64> {
        let mut used = vec![0.0_f64; self.boards.len()];
        for i in (0..self.field.bodies.len()).filter(|&i| self.field.here[i]) {
            let board = self.field.at[i].board;
            // Without the half saw cut that the shape is widened by.
            let end = f64::from(self.field.bbox(i).x_max) - 0.5 * self.rack.gap - self.from[board];
            used[board] = used[board].max(end).min(self.length[board]);
        }
        used
    }

    fn cut(&self) -> f64 {
        self.used().iter().zip(&self.width).map(|(u, w)| u * w).sum()
    }

    /// Pairs of mates on different boards, and the area of both.
    fn apart(&self) -> (usize, f64) {
        let bodies = self.field.bodies;
        let mut found = (0, 0.0);
        for i in 0..bodies.len() {
            for j in i + 1..bodies.len() {
                let mates = bodies[i].mate.is_some() && bodies[i].mate == bodies[j].mate;
                let both = self.field.here[i] && self.field.here[j];
                if mates && both && self.field.at[i].board != self.field.at[j].board {
                    found = (found.0 + 1, found.1 + bodies[i].area + bodies[j].area);
                }
            }
        }
        found
    }

    fn cost(&self) -> f64 {
        self.cut() + self.rack.mates * self.apart().1
    }

    fn layout(&self) -> Layout {
        let here = |i: usize| self.field.here[i];
        let bodies = self.field.bodies;
        Layout {
            places: (0..bodies.len()).map(|i| here(i).then(|| bodies[i].place(&self.field.at[i]))).collect(),
            used: self.used(),
            cut: self.cut(),
            laid: (0..bodies.len()).filter(|&i| here(i)).map(|i| bodies[i].area).sum(),
            apart: self.apart().0,
        }
    }

    /// Takes length from one board, gives some to another, and looks for a layout within; whether there was one.
    fn change(&mut self, used: &[f64]) -> bool {
        let n = used.len();
        let cut: Vec<usize> = (0..n).filter(|&b| used[b] > 0.0).collect();
        if cut.is_empty() {
            return false;
        }
        let from = cut[self.rng.random_range(0..cut.len())];
        let share = [0.01, 0.03, 0.1, 0.3, 1.0][self.rng.random_range(0..5)];
        let less = (share * used[from]).max(2.0).min(used[from]);
        let mut limit = used.to_vec();
        limit[from] = if used[from] - less < 100.0 { 0.0 } else { used[from] - less };
        let gained = (used[from] - limit[from]) * self.width[from];
        // Another board may be cut further as long as less is cut in all.
        let to = self.rng.random_range(0..n);
        if to != from && self.rng.random::<f64>() < 0.8 {
            let more = self.rng.random_range(0.0..0.98) * gained / self.width[to];
            limit[to] = (used[to] + more).min(self.length[to]);
        }
        for (b, board) in self.boards.iter().enumerate() {
            let open = if limit[b] > 0.0 { self.from[b] + limit[b] + 0.01 } else { f64::INFINITY };
            match Floor::new(board, open, self.rack.gap) {
                Ok(floor) => self.field.change_floor(b, floor),
                Err(_) => return false,
            }
        }
        let open: Vec<usize> = (0..n).filter(|&b| limit[b] > 0.0).collect();
        if open.is_empty() {
            return false;
        }
        // What lay beyond goes to any board that is open.
        for i in (0..self.field.bodies.len()).filter(|&i| self.field.here[i]).collect::<Vec<_>>() {
            let spot = self.field.at[i];
            let board = spot.board;
            let end = f64::from(self.field.bbox(i).x_max) - 0.5 * self.rack.gap - self.from[board];
            if limit[board] == 0.0 || end > limit[board] + less {
                let board = open[self.rng.random_range(0..open.len())];
                let spot = self.field.anywhere(i, board, &mut self.rng);
                self.field.put(i, spot);
            } else if end > limit[board] {
                let shift = [spot.shift[0] - (end - limit[board]) as f32, spot.shift[1]];
                self.field.put(i, Spot { shift, ..spot });
            }
        }
        let effort = Effort { patience: 24, strikes: 1, anywhere: 5 * open.len().min(6), about: 10 };
        self.field.separate(&open, &effort, &mut self.rng, &mut || true)
    }

    /// Brings a shape to its mate's board in exchange for another; whether there was one to bring and room for it.
    fn unite(&mut self) -> bool {
        let bodies = self.field.bodies;
        let at = |search: &Self, i: usize| search.field.here[i].then(|| search.field.at[i].board);
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for i in 0..bodies.len() {
            for j in (0..bodies.len()).filter(|&j| j != i) {
                let mates = bodies[i].mate.is_some() && bodies[i].mate == bodies[j].mate;
                if mates && at(self, i).is_some() && at(self, j).is_some() && at(self, i) != at(self, j) {
                    pairs.push((i, j));
                }
            }
        }
        if pairs.is_empty() {
            return false;
        }
        let (stays, comes) = pairs[self.rng.random_range(0..pairs.len())];
        let (to, from) = (self.field.at[stays], self.field.at[comes]);
        let others: Vec<usize> = (0..bodies.len()).filter(|&k| k != stays && at(self, k) == Some(to.board)).collect();
        if others.is_empty() {
            let spot = self.field.anywhere(comes, to.board, &mut self.rng);
            self.field.put(comes, spot);
        } else {
            let goes = others[self.rng.random_range(0..others.len())];
            let there = self.field.at[goes];
            self.field.put(comes, Spot { board: to.board, shift: there.shift, ..from });
            self.field.put(goes, Spot { board: from.board, shift: from.shift, ..there });
        }
        let effort = Effort { patience: 20, strikes: 1, anywhere: 12, about: 12 };
        self.field.separate(&[to.board, from.board], &effort, &mut self.rng, &mut || true)
    }

    /// Everything as it was, on whole boards.
    fn back(&mut self, at: &[Spot], here: &[bool]) {
        self.open();
        for (i, here) in here.iter().enumerate() {
            if *here && !self.field.here[i] {
                self.field.put(i, at[i]);
            }
        }
        self.field.all_at(at);
    }

    fn open(&mut self) {
        for (b, board) in self.boards.iter().enumerate() {
            if let Ok(floor) = Floor::new(board, f64::INFINITY, self.rack.gap) {
                self.field.change_floor(b, floor);
            }
        }
    }

    /// Each shape as far left as it slides, from the left, on whole boards.
    fn pull_left(&mut self) {
        self.open();
        let mut order: Vec<usize> = (0..self.field.bodies.len()).filter(|&i| self.field.here[i]).collect();
        order.sort_by(|a, b| self.field.bbox(*a).x_min.total_cmp(&self.field.bbox(*b).x_min));
        for i in order {
            let mut step = 256.0_f32;
            while step > 0.2 {
                let spot = self.field.at[i];
                let next = [0.0, 0.5, -0.5, 1.0, -1.0].map(|up: f32| {
                    let up = up * step.min(4.0);
                    Spot { shift: [spot.shift[0] - step, spot.shift[1] + up], ..spot }
                });
                match next.into_iter().find(|s| self.field.clear_at(i, s)) {
                    Some(s) => self.field.put(i, s),
                    None => step *= 0.5,
                }
            }
        }
    }
}
