//! Shapes on the boards of a rack as they lie now, what that costs, and the ways of changing it.

use crate::body::{Body, Spot};
use crate::field::Field;
use crate::fill::{self, Steps};
use crate::floor::Floor;
use crate::pack::Kind;
use crate::profile::Shelf;
use crate::rack::{Layout, Rack};
use crate::separate::Effort;
use crate::share::{self, Known};
use crate::{Board, LayoutError, Shape};
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Cells to the longest board.
const CELLS: f32 = 512.0;

pub struct Search<'a> {
    pub field: Field<'a>,
    boards: &'a [Board],
    rack: &'a Rack,
    /// Length and mean width of each board, and where it begins.
    length: Vec<f64>,
    width: Vec<f64>,
    from: Vec<f64>,
    /// The first board sawn from the same as each.
    of: Vec<usize>,
    /// Every board whole, and whether it is cut off now.
    whole: Vec<Floor>,
    cut_off: Vec<bool>,
    rng: Pcg64Mcg,
}

const STEPS: Steps = Steps { along: 15.0, across: 24 };

impl<'a> Search<'a> {
    pub fn new(bodies: &'a [Body], boards: &'a [Board], rack: &'a Rack) -> Result<Self, LayoutError> {
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
        let (whole, cut_off) = (floors.clone(), vec![false; floors.len()]);
        let field = Field::new(bodies, floors);
        let first = |b: usize| boards.iter().position(|o| o.of.is_some() && o.of == boards[b].of).unwrap_or(b);
        let of = (0..boards.len()).map(first).collect();
        Ok(Search {
            of,
            field,
            boards,
            rack,
            length,
            width,
            from,
            whole,
            cut_off,
            rng: Pcg64Mcg::seed_from_u64(rack.seed),
        })
    }

    /// Longest first, each as far left on the first board that has room.
    pub fn fill(&mut self) {
        for i in fill::longest_first(&self.field) {
            let spot = (0..self.boards.len()).find_map(|b| fill::leftmost(&mut self.field, i, b, STEPS));
            if let Some(spot) = spot {
                self.field.put(i, spot);
            }
        }
    }

    /// What the sharing knows of shapes and boards.
    pub fn known(&self, shapes: &[Shape], tilts: usize) -> Known<'a> {
        let longest = self.field.floors.iter().map(|f| f.bbox().x_max - f.bbox().x_min).fold(0.0, f32::max);
        let cell = longest / CELLS;
        let bodies = self.field.bodies;
        let alike = |a: &Shape, b: &Shape| Shape { mate: None, ..a.clone() } == Shape { mate: None, ..b.clone() };
        let first: Vec<usize> =
            (0..shapes.len()).map(|i| (0..i).find(|&j| alike(&shapes[i], &shapes[j])).unwrap_or(i)).collect();
        let kinds: Vec<usize> = (0..shapes.len()).filter(|&i| first[i] == i).collect();
        let kind = first.iter().map(|f| kinds.iter().position(|k| k == f).unwrap_or(0)).collect();
        let same = |a: &Board, b: &Board| a.outline == b.outline && a.blemishes == b.blemishes;
        let like = |b: usize| (0..b).find(|&o| same(&self.boards[o], &self.boards[b])).unwrap_or(b);
        Known {
            bodies,
            kind,
            kinds: kinds.iter().map(|&i| Kind::of(&bodies[i], tilts, cell)).collect(),
            shelves: self.field.floors.iter().map(|f| Shelf::of(f, cell)).collect(),
            like: (0..self.boards.len()).map(like).collect(),
            of: self.of.clone(),
            width: self.width.clone(),
            rim: 0.5 * self.rack.gap,
            mates: self.rack.mates,
        }
    }

    /// Shapes to where they were reckoned to lie, as far as they lie clear there; and to the left.
    pub fn settle(&mut self, spots: Vec<Option<Spot>>) {
        self.open();
        (0..spots.len()).for_each(|i| self.field.lift(i));
        for (i, spot) in spots.into_iter().enumerate() {
            if let Some(spot) = spot.filter(|s| self.field.clear_at(i, s)) {
                self.field.put(i, spot);
            }
        }
        self.pull_left();
    }

    /// Puts shape `i` on a board and pushes the others aside; whether that could be.
    pub fn squeezed_in(&mut self, i: usize, go_on: &mut dyn FnMut() -> bool) -> bool {
        let reach = |i: usize| self.field.bodies[i].polygon.diameter();
        let long_enough = |b: &usize| self.field.floors[*b].polygon.diameter() >= reach(i);
        let could: Vec<usize> = (0..self.boards.len()).filter(long_enough).collect();
        let bodies = self.field.bodies;
        let laid: f32 = (0..bodies.len()).filter(|&j| self.field.here[j]).map(|j| bodies[j].polygon.area()).sum();
        let has: f32 = self.field.floors.iter().map(|f| f.polygon.area()).sum();
        if could.is_empty() || has - laid < bodies[i].polygon.area() {
            return false;
        }
        let all: Vec<usize> = (0..self.boards.len()).collect();
        let effort = Effort { patience: 40, strikes: 2, anywhere: 12 * all.len().min(8), about: 16 };
        let board = could[self.rng.random_range(0..could.len())];
        let spot = self.field.anywhere(i, board, &mut self.rng);
        self.field.put(i, spot);
        self.field.separate(&all, &effort, &mut self.rng, go_on)
    }

    /// How far along each board shapes lie.
    pub fn used(&self) -> Vec<f64> {
        let mut used = vec![0.0_f64; self.boards.len()];
        for i in (0..self.field.bodies.len()).filter(|&i| self.field.here[i]) {
            let board = self.field.at[i].board;
            // Without the half saw cut that the shape is widened by.
            let end = f64::from(self.field.bbox(i).x_max) - 0.5 * self.rack.gap - self.from[board];
            used[board] = used[board].max(end).min(self.length[board]);
        }
        used
    }

    pub fn cut(&self) -> f64 {
        self.used().iter().zip(&self.width).map(|(u, w)| u * w).sum()
    }

    /// Pairs of mates on different boards, and the area of both.
    pub fn apart(&self) -> (usize, f64) {
        let bodies = self.field.bodies;
        let mut found = (0, 0.0);
        for i in 0..bodies.len() {
            for j in i + 1..bodies.len() {
                let mates = bodies[i].mate.is_some() && bodies[i].mate == bodies[j].mate;
                let both = self.field.here[i] && self.field.here[j];
                if mates && both && self.of[self.field.at[i].board] != self.of[self.field.at[j].board] {
                    found = (found.0 + 1, found.1 + bodies[i].area + bodies[j].area);
                }
            }
        }
        found
    }

    /// What the layout costs, mm²: what is out most of all.
    pub fn cost(&self) -> f64 {
        let out = |i: &usize| !self.field.here[*i];
        let missing: f64 = (0..self.field.bodies.len()).filter(out).map(|i| self.field.bodies[i].area).sum();
        self.cut() + self.rack.mates * self.apart().1 + share::OUT * missing
    }

    pub fn layout(&self) -> Layout {
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
    pub fn change(&mut self, used: &[f64]) -> bool {
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
        for (b, &limit) in limit.iter().enumerate() {
            if limit > 0.0 && !self.shorten(b, limit) {
                return false;
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
    pub fn unite(&mut self) -> bool {
        let bodies = self.field.bodies;
        let at = |search: &Self, i: usize| search.field.here[i].then(|| search.field.at[i].board);
        let of = |search: &Self, i: usize| at(search, i).map(|b| search.of[b]);
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for i in 0..bodies.len() {
            for j in (0..bodies.len()).filter(|&j| j != i) {
                let mates = bodies[i].mate.is_some() && bodies[i].mate == bodies[j].mate;
                if mates && at(self, i).is_some() && at(self, j).is_some() && of(self, i) != of(self, j) {
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
    pub fn back(&mut self, at: &[Spot], here: &[bool]) {
        self.open();
        for (i, here) in here.iter().enumerate() {
            if !here {
                self.field.lift(i);
            } else if !self.field.here[i] {
                self.field.put(i, at[i]);
            }
        }
        self.field.all_at(at);
    }

    /// Cuts a board off beyond `limit` from its end; whether anything is left of it.
    pub fn shorten(&mut self, b: usize, limit: f64) -> bool {
        let Ok(floor) = Floor::new(&self.boards[b], self.from[b] + limit + 0.01, self.rack.gap) else { return false };
        self.field.change_floor(b, floor);
        self.cut_off[b] = true;
        true
    }

    /// Whole boards again.
    pub fn open(&mut self) {
        for b in 0..self.boards.len() {
            if std::mem::take(&mut self.cut_off[b]) {
                self.field.change_floor(b, self.whole[b].clone());
            }
        }
    }

    /// Each shape as far left as it slides, from the left, on whole boards.
    pub fn pull_left(&mut self) {
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
