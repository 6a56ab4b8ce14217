//! Which shapes go on which board: shapes change boards, and what costs less is kept.
//!
//! Every board's shapes are packed by themselves (`pack`), so a change costs the packing of two boards, which is often known
//! already. A change that costs a little more is gone on from, less and less so, so that the search does not stop where any
//! one change makes it worse.

use crate::body::{Body, Spot};
use crate::pack::{Care, Kind, Packed, Packer};
use crate::profile::Shelf;
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// What all searches know.
pub struct Known<'a> {
    pub bodies: &'a [Body],
    /// The kind of each shape.
    pub kind: Vec<usize>,
    pub kinds: Vec<Kind>,
    pub shelves: Vec<Shelf>,
    pub like: Vec<usize>,
    /// The first board sawn from the same as each.
    pub of: Vec<usize>,
    /// Mean width of each board.
    pub width: Vec<f64>,
    /// The half saw cut by which shapes and boards are wider, mm.
    pub rim: f64,
    /// What it costs that mates are apart, as a share of their area.
    pub mates: f64,
}

/// Shapes shared out among boards.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares {
    /// Board by board, in rising order.
    pub on: Vec<Vec<usize>>,
    /// Those with no board.
    pub out: Vec<usize>,
}

/// A search.
pub struct Sharing<'a> {
    known: &'a Known<'a>,
    packer: Packer<'a>,
    rng: Pcg64Mcg,
    now: Shares,
    cost: f64,
    pub best: Shares,
    pub least: f64,
}

/// Boards with what would lie on them, and what would be out.
type Change = (Vec<(usize, Vec<usize>)>, Vec<usize>);

/// What a shape costs that is on no board, as a multiple of its area: more than any board would.
pub const OUT: f64 = 20.0;
/// How much more than the best a layout may cost that is gone on from, at first, as a share.
const WORSE: f64 = 0.02;
/// Places looked for in a round, about, at most.
const WORK: usize = 60_000;
/// Rounds in which that comes down to nothing, and then begins again.
const CYCLE: usize = 24;

impl<'a> Sharing<'a> {
    pub fn new(known: &'a Known<'a>, care: Care, seed: u64) -> Self {
        let packer = Packer::new(&known.shelves, &known.like, &known.kinds, care);
        let now = Shares { on: vec![Vec::new(); known.shelves.len()], out: (0..known.bodies.len()).collect() };
        let rng = Pcg64Mcg::seed_from_u64(seed);
        let mut search = Sharing { known, packer, rng, cost: 0.0, best: now.clone(), now, least: 0.0 };
        search.fill();
        search.cost = search.cost_of(&search.now.clone());
        (search.best, search.least) = (search.now.clone(), search.cost);
        search
    }

    /// Goes on from another's best.
    pub fn take(&mut self, best: &Shares, least: f64) {
        (self.now, self.cost) = (best.clone(), least);
        (self.best, self.least) = (best.clone(), least);
    }

    /// Longest first, each where the least is cut for it.
    fn fill(&mut self) {
        let mut order = std::mem::take(&mut self.now.out);
        let reach = |i: &usize| self.known.kinds[self.known.kind[*i]].reach;
        order.sort_by(|a, b| reach(b).total_cmp(&reach(a)).then(a.cmp(b)));
        for i in order {
            let mut least: Option<(f64, usize)> = None;
            for b in 0..self.now.on.len() {
                let before = self.cut(b, &self.now.on[b].clone());
                let after = self.cut(b, &with(&self.now.on[b], i));
                let (Some(before), Some(after)) = (before, after) else { continue };
                let mate = |j: &usize| self.mates(i, *j);
                let elsewhere = (0..self.now.on.len())
                    .any(|o| self.known.of[o] != self.known.of[b] && self.now.on[o].iter().any(mate));
                let apart = if elsewhere { 2.0 * self.known.mates * self.known.bodies[i].area } else { 0.0 };
                let more = after - before + apart;
                if least.is_none_or(|(l, _)| more < l - 1e-6) {
                    least = Some((more, b));
                }
            }
            match least {
                Some((_, b)) => self.now.on[b] = with(&self.now.on[b], i),
                None => self.now.out.push(i),
            }
        }
        self.now.out.sort_unstable();
    }

    fn mates(&self, i: usize, j: usize) -> bool {
        let bodies = self.known.bodies;
        i != j && bodies[i].mate.is_some() && bodies[i].mate == bodies[j].mate
    }

    fn kinds_of(&self, shapes: &[usize]) -> Vec<usize> {
        let mut kinds: Vec<usize> = shapes.iter().map(|&i| self.known.kind[i]).collect();
        kinds.sort_unstable();
        kinds
    }

    /// Area cut of a board for these shapes, mm²; `None` where they have no room.
    fn cut(&mut self, board: usize, shapes: &[usize]) -> Option<f64> {
        if shapes.is_empty() {
            return Some(0.0);
        }
        let kinds = self.kinds_of(shapes);
        let end = self.packer.pack(board, &kinds)?.end;
        Some(self.area(board, end))
    }

    /// Less than that cannot be cut.
    fn least_cut(&self, board: usize, shapes: &[usize]) -> f64 {
        if shapes.is_empty() {
            return 0.0;
        }
        self.area(board, self.packer.least(board, &self.kinds_of(shapes)))
    }

    fn area(&self, board: usize, end: f32) -> f64 {
        (f64::from(end) - 2.0 * self.known.rim).max(0.0) * self.known.width[board]
    }

    fn apart(&self, on: &[Vec<usize>]) -> f64 {
        let bodies = self.known.bodies;
        let mut board = vec![usize::MAX; bodies.len()];
        for (b, shapes) in on.iter().enumerate() {
            shapes.iter().for_each(|&i| board[i] = self.known.of[b]);
        }
        let mut area = 0.0;
        for i in 0..bodies.len() {
            for j in i + 1..bodies.len() {
                let both = board[i] != usize::MAX && board[j] != usize::MAX;
                if both && board[i] != board[j] && self.mates(i, j) {
                    area += bodies[i].area + bodies[j].area;
                }
            }
        }
        self.known.mates * area
    }

    fn cost_of(&mut self, shares: &Shares) -> f64 {
        let cut: f64 = shares.on.iter().enumerate().map(|(b, s)| self.cut(b, s).unwrap_or(f64::INFINITY)).sum();
        cut + self.apart(&shares.on) + shares.out.iter().map(|&i| OUT * self.known.bodies[i].area).sum::<f64>()
    }

    /// Tries so many changes, fewer where packing boards takes long.
    pub fn round(&mut self, round: usize, changes: usize) {
        let along = (round % CYCLE) as f64 / CYCLE as f64;
        if round.is_multiple_of(CYCLE) {
            (self.now, self.cost) = (self.best.clone(), self.least);
        }
        let most = self.least * (1.0 + WORSE * (1.0 - along));
        let until = self.packer.work + WORK;
        for _ in 0..changes {
            if self.packer.work > until {
                break;
            }
            let Some((changed, out)) = self.change() else { continue };
            let most = most.max(self.cost);
            let Some(cost) = self.cost_with(&changed, &out, most) else { continue };
            if cost <= most {
                changed.into_iter().for_each(|(board, shapes)| self.now.on[board] = shapes);
                (self.now.out, self.cost) = (out, cost);
                if cost < self.least - 1e-6 {
                    (self.best, self.least) = (self.now.clone(), cost);
                }
            }
        }
    }

    /// What it costs with other shapes on some boards; `None` where there is no room, or it is soon seen to be more than `most`.
    fn cost_with(&mut self, changed: &[(usize, Vec<usize>)], out: &[usize], most: f64) -> Option<f64> {
        let mut on = self.now.on.clone();
        let mut before = self.apart(&self.now.on);
        for (board, shapes) in changed {
            before += self.cut(*board, &self.now.on[*board].clone())?;
            on[*board].clone_from(shapes);
        }
        let outside = |out: &[usize]| out.iter().map(|&i| OUT * self.known.bodies[i].area).sum::<f64>();
        let rest = self.cost - before - outside(&self.now.out) + outside(out) + self.apart(&on);
        let mut least: Vec<f64> = changed.iter().map(|(board, shapes)| self.least_cut(*board, shapes)).collect();
        for (k, (board, shapes)) in changed.iter().enumerate() {
            if rest + least.iter().sum::<f64>() > most {
                return None;
            }
            least[k] = self.cut(*board, shapes)?;
        }
        let cost = rest + least.iter().sum::<f64>();
        (cost <= most).then_some(cost)
    }

    /// A few boards with what would lie on them, and what would be out.
    fn change(&mut self) -> Option<Change> {
        let n = self.now.on.len();
        let b = self.rng.random_range(0..n);
        if !self.now.out.is_empty() && self.rng.random_range(0..4) == 0 {
            // One that is out comes in, perhaps for another.
            let i = self.now.out[self.rng.random_range(0..self.now.out.len())];
            let mut on = with(&self.now.on[b], i);
            let mut out: Vec<usize> = self.now.out.iter().copied().filter(|o| *o != i).collect();
            if !self.now.on[b].is_empty() && self.rng.random() {
                let goes = self.now.on[b][self.rng.random_range(0..self.now.on[b].len())];
                on.retain(|s| *s != goes);
                out = with(&out, goes);
            }
            return Some((vec![(b, on)], out));
        }
        let used: Vec<usize> = (0..n).filter(|&a| a != b && !self.now.on[a].is_empty()).collect();
        if used.is_empty() {
            return None;
        }
        let a = used[self.rng.random_range(0..used.len())];
        let (mut on_a, mut on_b) = (self.now.on[a].clone(), self.now.on[b].clone());
        let way: usize = self.rng.random_range(0..11);
        if way == 10 {
            return self.ring(a, b);
        }
        if way == 0 {
            // All change boards.
            return Some((vec![(a, on_b), (b, on_a)], self.now.out.clone()));
        }
        // So many from one, so many from the other; a mate goes along where it is there.
        let (from_a, from_b) = [(1, 0), (1, 0), (1, 0), (1, 1), (1, 1), (1, 1), (2, 0), (2, 1), (2, 2)][way - 1];
        let goes = self.some(&on_a, from_a);
        let comes = self.some(&on_b, from_b);
        on_a.retain(|i| !goes.contains(i));
        on_b.retain(|i| !comes.contains(i));
        for i in comes {
            on_a = with(&on_a, i);
        }
        for i in goes {
            on_b = with(&on_b, i);
        }
        Some((vec![(a, on_a), (b, on_b)], self.now.out.clone()))
    }

    /// One shape of each of three boards goes to the next.
    fn ring(&mut self, a: usize, b: usize) -> Option<Change> {
        let c = self.rng.random_range(0..self.now.on.len());
        if c == a || c == b {
            return None;
        }
        let ring = [a, b, c];
        let go = ring.map(|board| self.some(&self.now.on[board].clone(), 1));
        let mut changed = Vec::new();
        for (k, board) in ring.into_iter().enumerate() {
            let mut on: Vec<usize> = self.now.on[board].iter().copied().filter(|i| !go[k].contains(i)).collect();
            for &i in &go[(k + 2) % 3] {
                on = with(&on, i);
            }
            changed.push((board, on));
        }
        Some((changed, self.now.out.clone()))
    }

    /// Some of these shapes; where two are wanted, mates by preference.
    fn some(&mut self, of: &[usize], count: usize) -> Vec<usize> {
        if of.is_empty() || count == 0 {
            return Vec::new();
        }
        let first = of[self.rng.random_range(0..of.len())];
        let mut taken = vec![first];
        if count > 1 {
            let mate = of.iter().copied().find(|&j| self.mates(first, j));
            let other = mate.unwrap_or_else(|| of[self.rng.random_range(0..of.len())]);
            if other != first {
                taken.push(other);
            }
        }
        taken
    }

    /// Where the shapes of the best layout lie; `None`: on no board.
    pub fn spots_of_best(&mut self) -> Vec<Option<Spot>> {
        spots(self.known, &self.best, |board, kinds| self.packer.pack(board, kinds).cloned())
    }

    /// The same, each board packed anew as another packer does it, where that cuts less.
    pub fn spots_with(&mut self, other: &mut Packer<'_>) -> Vec<Option<Spot>> {
        spots(self.known, &self.best, |board, kinds| {
            let both = [self.packer.pack(board, kinds), other.pack(board, kinds)];
            both.into_iter().flatten().min_by(|a, b| a.end.total_cmp(&b.end)).cloned()
        })
    }
}

/// Where shapes lie that are shared out so and packed by `pack`.
fn spots(
    known: &Known<'_>,
    shares: &Shares,
    mut pack: impl FnMut(usize, &[usize]) -> Option<Packed>,
) -> Vec<Option<Spot>> {
    let mut spots = vec![None; known.bodies.len()];
    for (b, shapes) in shares.on.iter().enumerate() {
        let mut kinds: Vec<usize> = shapes.iter().map(|&i| known.kind[i]).collect();
        kinds.sort_unstable();
        let Some(mut packed) = pack(b, &kinds) else { continue };
        for &i in shapes {
            if let Some(p) = packed.at.iter().position(|(kind, _)| *kind == known.kind[i]) {
                spots[i] = Some(Spot { board: b, ..packed.at.swap_remove(p).1 });
            }
        }
    }
    spots
}

fn with(shapes: &[usize], i: usize) -> Vec<usize> {
    let mut more = shapes.to_vec();
    more.insert(more.partition_point(|s| *s < i), i);
    more
}
