//! Shapes on the boards of a rack, so that the least of them is cut.
//!
//! What a layout costs is the board from its left end to the end of the last shape on it, so that what is over stays in one
//! length; and a little for shapes that should share a board and do not. First shapes are shared out among boards, each board
//! packed by itself (`share`, `pack`): two searches from two seeds, that with the least cost handed to both from time to time.
//! Then the boards are packed again with more care, and length is taken from one board, given to another, and the shapes pushed
//! apart within what is left. What costs less is kept.

use crate::body::{Body, Spot};
use crate::fill;
use crate::pack::{Care, Packer};
use crate::search::Search;
use crate::share::Sharing;
use crate::{Board, LayoutError, Place, Shape};
use std::ops::ControlFlow;

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
    /// Most rounds: of sharing out, and then of pushing apart.
    pub rounds: usize,
    /// So many rounds of sharing out that find nothing better are enough; a third of them where shapes are pushed apart.
    pub good_enough: usize,
}

impl Default for Rack {
    fn default() -> Self {
        Rack { gap: 3.0, within: 0.5, mates: 0.03, seed: 1, rounds: 300, good_enough: 60 }
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
    tell: &mut dyn FnMut(&Progress<'_>) -> ControlFlow<()>,
) -> Result<Layout, LayoutError> {
    let bodies = bodies(shapes, rack)?;
    let mut search = Search::new(&bodies, boards, rack)?;
    if bodies.is_empty() || boards.is_empty() {
        return Ok(search.layout());
    }
    let mut going = Going { tell, round: 0, idle: 0, rack, stopped: false };
    let mut best = share_out(&mut search, shapes, &mut going);
    find_room(&mut search, &mut best, &mut going);
    going.idle = 0;
    while going.goes_on(&best.layout, rack.good_enough / PUSHES) {
        let used = search.used();
        let done = if going.round % 3 == 2 { search.unite() || search.change(&used) } else { search.change(&used) };
        if done {
            search.pull_left();
        }
        if !(done && best.improved(&search, &mut going)) {
            search.back(&best.at, &best.here);
        }
    }
    Ok(best.layout)
}

/// Rounds and what they are told.
struct Going<'a> {
    tell: &'a mut dyn FnMut(&Progress<'_>) -> ControlFlow<()>,
    round: usize,
    idle: usize,
    rack: &'a Rack,
    stopped: bool,
}

impl Going<'_> {
    /// Whether there is to be another round; none after so many that found nothing better.
    fn goes_on(&mut self, best: &Layout, most: usize) -> bool {
        if self.stopped || self.round >= self.rack.rounds || self.idle >= most || !self.still(best) {
            return false;
        }
        self.round += 1;
        self.idle += 1;
        true
    }

    /// Whether whoever listens wants it to go on.
    fn still(&mut self, best: &Layout) -> bool {
        self.stopped |= (self.tell)(&Progress { round: self.round, best }).is_break();
        !self.stopped
    }
}

/// The best layout so far.
struct Best {
    layout: Layout,
    cost: f64,
    at: Vec<Spot>,
    here: Vec<bool>,
}

impl Best {
    fn of(search: &Search<'_>) -> Self {
        let (at, here) = (search.field.at.clone(), search.field.here.clone());
        Best { layout: search.layout(), cost: search.cost(), at, here }
    }

    /// Takes the layout that is there now if it costs less.
    fn improved(&mut self, search: &Search<'_>, going: &mut Going<'_>) -> bool {
        let now = search.cost();
        if now >= self.cost {
            return false;
        }
        if now < self.cost * (1.0 - 1e-4) {
            going.idle = 0;
        }
        *self = Best::of(search);
        true
    }
}

/// Searches side by side. The layout comes of their number, so it is not the machine's.
const LANES: usize = 2;
/// Changes tried in a round of each.
const CHANGES: usize = 400;
/// Rounds after which the better search is gone on with in both.
const MEET: usize = 12;
/// A round of pushing shapes apart takes as long as so many of sharing out.
const PUSHES: usize = 3;
const CARE: Care = Care { orders: 6, kept: 6 };
const MORE_CARE: Care = Care { orders: 24, kept: 16 };

/// Shares the shapes out among the boards, for as long as that finds anything better.
fn share_out(search: &mut Search<'_>, shapes: &[Shape], going: &mut Going<'_>) -> Best {
    let known = search.known(shapes, 0);
    let mut lanes: Vec<Sharing<'_>> =
        (0..LANES).map(|lane| Sharing::new(&known, CARE, going.rack.seed.wrapping_add(lane as u64 * 7919))).collect();
    search.settle(lanes[0].spots_of_best());
    let mut best = Best::of(search);
    let mut least = lanes[0].least;
    while going.goes_on(&best.layout, going.rack.good_enough) {
        let round = going.round - 1;
        std::thread::scope(|scope| {
            for lane in &mut lanes {
                scope.spawn(move || lane.round(round, CHANGES));
            }
        });
        // The first of those that cost the same.
        let first = (0..LANES).min_by(|a, b| lanes[*a].least.total_cmp(&lanes[*b].least)).unwrap_or(0);
        if lanes[first].least < least {
            least = lanes[first].least;
            search.settle(lanes[first].spots_of_best());
            best.improved(search, going);
        }
        if round % MEET == MEET - 1 {
            let (shares, least) = (lanes[first].best.clone(), lanes[first].least);
            lanes.iter_mut().for_each(|lane| lane.take(&shares, least));
        }
    }
    // Each board once more, with its shapes tilted too.
    let first = lanes.iter_mut().min_by(|a, b| a.least.total_cmp(&b.least));
    if let (Some(lane), false) = (first, going.stopped) {
        let tilted = search.known(shapes, 2);
        let mut packer = Packer::new(&tilted.shelves, &tilted.like, &tilted.kinds, MORE_CARE);
        let spots = lane.spots_with(&mut packer);
        search.settle(spots);
        best.improved(search, going);
    }
    search.back(&best.at, &best.here);
    best
}

/// Puts each shape that found no room on a board all the same and pushes the others aside; those for which that fails stay
/// out.
fn find_room(search: &mut Search<'_>, best: &mut Best, going: &mut Going<'_>) {
    let bodies = search.field.bodies;
    let mut failed: Vec<usize> = Vec::new();
    for i in fill::longest_first(&search.field) {
        // Where its like found no room, there is none for it.
        let like = |j: &usize| bodies[*j].polygon.vertices() == bodies[i].polygon.vertices();
        if search.field.here[i] || going.stopped || failed.iter().any(like) {
            continue;
        }
        if search.squeezed_in(i, &mut || going.still(&best.layout)) {
            search.pull_left();
            best.improved(search, going);
        } else {
            failed.push(i);
        }
        search.back(&best.at, &best.here);
    }
}

fn bodies(shapes: &[Shape], rack: &Rack) -> Result<Vec<Body>, LayoutError> {
    shapes.iter().enumerate().map(|(i, s)| Body::of(i, s, rack.gap, rack.within)).collect()
}
