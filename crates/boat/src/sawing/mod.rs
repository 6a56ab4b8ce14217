//! Getting the planks out of the boards: which part of which plank comes out of which board, and where it lies on it.
//!
//! Both sides' parts are laid out, port and starboard of one outline as mates that should share a board: they can be sawn as a
//! pair and come from like wood. A part may be turned end for end and over, and lies on the board's grain but for the few
//! degrees that are allowed. No fault may lie in a part, no knot where it is steamed or scarfed or within a stretch of its edge.
//! Round every part stays wood to plane off, and a saw cut to the next.
//!
//! The search is the crate `layout`'s. What it takes to be used of a board reaches from its end to the last part on it, so that
//! what is over stays in one length.

mod buy;
mod leaves;
mod pieces;
mod progress;
mod suit;

use crate::plan::Plan;
use crate::stock::Board;
use layout::rack;
use std::ops::ControlFlow;

pub use buy::{Buy, More};
pub use leaves::leaves;
use pieces::{Ready, pieces};
pub use progress::Progress;
pub use suit::{Parted, Suited, suit};

/// A part of a plank, to be cut twice: for port and for starboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// From the bow, 1 first.
    pub part: usize,
    /// Parts that the plank has.
    pub of: usize,
}

/// A piece on a board.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Which.
    pub piece: Piece,
    /// Its line, with what is left long and without what is left to plane off, on the board: x from the end that the board's
    /// lengths are measured from, y up from the lowest point of its lower edge, mm.
    pub outline: Vec<[f64; 2]>,
    /// Its inner face is up: it is turned over.
    pub over: bool,
    /// Its fore end points to the board's far end.
    pub fore_end_far: bool,
}

/// A board and what comes out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sawn {
    /// Index into the boards.
    pub board: usize,
    /// Which leaf of how many, from the marked face, where it is sawn through its thickness; 1 of 1 where it is not.
    pub leaf: [usize; 2],
    /// From the end, as they come.
    pub laid: Vec<Laid>,
    /// How far along it they reach, mm.
    pub used: f64,
}

/// A piece that found no room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Short {
    /// Which.
    pub piece: Piece,
    /// How many of the two.
    pub count: usize,
    /// Length and width of the board it takes, mm, sawn and planed.
    pub takes: [f64; 2],
}

/// What comes out of which board.
#[derive(Debug, Clone, PartialEq)]
pub struct Sawing {
    /// The boards that are cut, in the rack's order.
    pub boards: Vec<Sawn>,
    /// Boards that are thick enough and are not cut, by index.
    pub whole: Vec<usize>,
    /// Leaves that nothing comes out of, of boards that are sawn through: index, which, of how many.
    pub spare: Vec<(usize, [usize; 2])>,
    /// Boards too thin for the planking, by index.
    pub thin: Vec<usize>,
    /// What found no room.
    pub short: Vec<Short>,
    /// What to buy for that: boards of their own.
    pub buy: Vec<Buy>,
    /// Or so many more of a board that is in the rack.
    pub more: Option<More>,
    /// Area of the pieces laid out, mm².
    pub laid_area: f64,
    /// Area of the boards cut, as far as they are used, each at its mean width, mm².
    pub cut_area: f64,
    /// Pieces whose mate comes out of another board, pair by pair.
    pub apart: usize,
}

/// How long to search.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// Most rounds.
    pub rounds: usize,
    /// Rounds running that find nothing better, after which it is good enough.
    pub good_enough: usize,
    /// What is left to chance comes of this.
    pub seed: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Effort { rounds: 300, good_enough: 60, seed: 1 }
    }
}

/// Lays the plan's parts out on `boards`. `tell` hears of each round and says whether to go on.
///
/// # Errors
/// In words, where a board has no outline; the reader of boards.csv lets none through.
pub fn saw_out(
    plan: &Plan,
    boards: &[Board],
    effort: Effort,
    tell: &mut dyn FnMut(&Progress<'_>) -> ControlFlow<()>,
) -> Result<Sawing, layout::LayoutError> {
    let spec = &plan.spec;
    let mut sawn: Vec<(usize, [usize; 2])> = Vec::new();
    for (i, board) in boards.iter().enumerate() {
        let of = leaves(board, spec);
        sawn.extend((1..=of).map(|leaf| (i, [leaf, of])));
    }
    let bodies: Vec<layout::Board> = sawn.iter().map(|(i, _)| leaves::body(&boards[*i], *i, spec)).collect();
    let pieces = pieces(plan);
    let shapes: Vec<layout::Shape> = pieces.iter().flat_map(|p| [p.shape.clone(), p.shape.clone()]).collect();
    let rules = rules(plan, effort);
    let found = layout::lay_out(&shapes, &bodies, &rules, &mut |now| tell(&Progress::of(now, &pieces, &sawn)))?;
    Ok(told(plan, boards, &pieces, &sawn, &found))
}

/// The longest first, each as far left on the first board with room: what the search is measured against.
///
/// # Errors
/// As [`saw_out`].
pub fn longest_first(plan: &Plan, boards: &[Board]) -> Result<Sawing, layout::LayoutError> {
    let sawn: Vec<(usize, [usize; 2])> =
        (0..boards.len()).filter(|&i| leaves(&boards[i], &plan.spec) > 0).map(|i| (i, [1, 1])).collect();
    let bodies: Vec<layout::Board> = sawn.iter().map(|(i, _)| leaves::body(&boards[*i], *i, &plan.spec)).collect();
    let pieces = pieces(plan);
    let shapes: Vec<layout::Shape> = pieces.iter().flat_map(|p| [p.shape.clone(), p.shape.clone()]).collect();
    let found = rack::longest_first(&shapes, &bodies, &rules(plan, Effort::default()))?;
    Ok(told(plan, boards, &pieces, &sawn, &found))
}

fn rules(plan: &Plan, effort: Effort) -> rack::Rack {
    rack::Rack {
        gap: room(plan),
        seed: effort.seed,
        rounds: effort.rounds,
        good_enough: effort.good_enough,
        ..rack::Rack::default()
    }
}

/// From one plank's line to the next, mm: a saw cut, and what is planed off on either side.
fn room(plan: &Plan) -> f64 {
    plan.spec.sawing.cut + 2.0 * plan.spec.sawing.planing
}

/// The boards that a layout cuts, in the rack's order.
fn cut_up(pieces: &[Ready], leaves: &[(usize, [usize; 2])], found: &layout::Layout) -> Vec<Sawn> {
    let mut sawn: Vec<Sawn> = Vec::new();
    for (b, &(board, leaf)) in leaves.iter().enumerate() {
        let mut laid: Vec<Laid> = Vec::new();
        for (i, place) in found.places.iter().enumerate() {
            let Some(place) = place.filter(|p| p.board == b) else { continue };
            let piece = &pieces[i / 2];
            laid.push(Laid {
                piece: piece.piece,
                outline: piece.shape.outline.iter().map(|p| place.carry(*p)).collect(),
                over: place.over,
                fore_end_far: place.turn.cos() < 0.0,
            });
        }
        laid.sort_by(|a, b| from_end(a).total_cmp(&from_end(b)));
        if !laid.is_empty() {
            sawn.push(Sawn { board, leaf, laid, used: found.used[b] });
        }
    }
    sawn
}

/// A layout in the words of boards and planks.
fn told(
    plan: &Plan,
    boards: &[Board],
    pieces: &[Ready],
    leaves: &[(usize, [usize; 2])],
    found: &layout::Layout,
) -> Sawing {
    let sawn = cut_up(pieces, leaves, found);
    let missing = |i: usize| found.places[2 * i..2 * i + 2].iter().filter(|p| p.is_none()).count();
    let left: Vec<(usize, &Ready)> =
        pieces.iter().enumerate().map(|(i, p)| (missing(i), p)).filter(|(count, _)| *count > 0).collect();
    let short: Vec<Short> = left
        .iter()
        .map(|&(count, p)| Short { piece: p.piece, count, takes: p.takes.map(|mm| mm + room(plan)) })
        .collect();
    let cut = |i: usize| sawn.iter().any(|s| s.board == i);
    let none = |&(i, leaf): &(usize, [usize; 2])| !sawn.iter().any(|s| s.board == i && s.leaf == leaf);
    Sawing {
        whole: (0..boards.len()).filter(|&i| leaves.iter().any(|l| l.0 == i) && !cut(i)).collect(),
        spare: leaves.iter().copied().filter(|l| cut(l.0) && none(l)).collect(),
        thin: (0..boards.len()).filter(|&i| !leaves.iter().any(|l| l.0 == i)).collect(),
        buy: buy::buy(&short, &plan.spec),
        more: buy::more(plan, boards, &left),
        short,
        laid_area: found.laid,
        cut_area: found.cut,
        apart: found.apart,
        boards: sawn,
    }
}

/// What is said wherever a board is to be sawn through its thickness.
pub const RESAW: &str = "That is work for a bandsaw with a fence and a wide blade, or for a sawmill: leave it to somebody who has \
                         one and knows it. Leaves lie as on the board, seen from its marked face.";

fn from_end(laid: &Laid) -> f64 {
    laid.outline.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min)
}
