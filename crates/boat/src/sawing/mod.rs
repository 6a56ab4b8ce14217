//! Getting the planks out of the boards: which part of which plank comes out of which board, and where it lies on it.
//!
//! Both sides' parts are laid out, port and starboard of one outline as mates that should share a board: they can be sawn as a
//! pair and come from like wood. A part may be turned end for end and over, and lies on the board's grain but for the few
//! degrees that are allowed. No fault may lie in a part, no knot where it is steamed or scarfed or within a stretch of its edge.
//! Round every part stays wood to plane off, and a saw cut to the next.
//!
//! The search is the crate `layout`'s. What it takes to be used of a board reaches from its end to the last part on it, so that
//! what is over stays in one length.

use crate::development::FlatPlank;
use crate::plan::Plan;
use crate::scarfs::{Made, Part};
use crate::spec::Spec;
use crate::stock::Board;
use layout::rack;
pub use layout::rack::Progress;
use std::ops::ControlFlow;

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
    /// Boards too thin for the planking, by index.
    pub thin: Vec<usize>,
    /// What found no room.
    pub short: Vec<Short>,
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
    let thick = |i: &usize| boards[*i].thickness >= spec.planking.thickness - SAME;
    let (fit, thin): (Vec<usize>, Vec<usize>) = (0..boards.len()).partition(thick);
    let bodies: Vec<layout::Board> = fit.iter().map(|&i| body(&boards[i], spec)).collect();
    let pieces = pieces(plan);
    let shapes: Vec<layout::Shape> = pieces.iter().flat_map(|p| [p.shape.clone(), p.shape.clone()]).collect();
    let rules = rack::Rack {
        gap: spec.sawing.cut + 2.0 * spec.sawing.planing,
        seed: effort.seed,
        rounds: effort.rounds,
        good_enough: effort.good_enough,
        ..rack::Rack::default()
    };
    let found = layout::lay_out(&shapes, &bodies, &rules, tell)?;
    let mut sawn = Vec::new();
    for (b, &board) in fit.iter().enumerate() {
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
            sawn.push(Sawn { board, laid, used: found.used[b] });
        }
    }
    let room = spec.sawing.cut + 2.0 * spec.sawing.planing;
    let short = pieces.iter().enumerate().filter_map(|(i, p)| {
        let count = found.places[2 * i..2 * i + 2].iter().filter(|p| p.is_none()).count();
        (count > 0).then(|| Short { piece: p.piece, count, takes: p.takes.map(|mm| mm + room) })
    });
    Ok(Sawing {
        whole: fit.iter().copied().filter(|i| !sawn.iter().any(|s: &Sawn| s.board == *i)).collect(),
        thin,
        short: short.collect(),
        boards: sawn,
        laid_area: found.laid,
        cut_area: found.cut,
        apart: found.apart,
    })
}

fn from_end(laid: &Laid) -> f64 {
    laid.outline.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min)
}

/// Thicknesses nearer than this are the same, mm.
const SAME: f64 = 0.05;

/// A piece and its shape.
struct Ready {
    piece: Piece,
    shape: layout::Shape,
    /// Length and width with what is left long, mm.
    takes: [f64; 2],
}

fn pieces(plan: &Plan) -> Vec<Ready> {
    let mut all = Vec::new();
    for (made, flat) in plan.made.iter().zip(&plan.flats) {
        for part in &made.parts {
            let piece = Piece { strake: made.strake, part: part.part, of: made.parts.len() };
            let outline = sawn_outline(part);
            let [long, wide] = [0, 1].map(|axis| {
                let along = outline.iter().map(|p| p[axis]);
                along.clone().fold(f64::MIN, f64::max) - along.fold(f64::MAX, f64::min)
            });
            let shape = layout::Shape {
                outline,
                turns: layout::Turns::Along { within: plan.spec.sawing.off_grain },
                over: true,
                sound: sound(part, flat, made),
                mate: Some(all.len()),
            };
            all.push(Ready { piece, shape, takes: [long, wide] });
        }
    }
    all
}

/// A part's outline as it is sawn, with what is left long on it.
fn sawn_outline(part: &Part) -> Vec<[f64; 2]> {
    let net = &part.outline;
    // Along the lower edge, up the after end, back along the upper edge, down the fore end.
    let (lower, upper) = (part.lower.len(), part.upper.len());
    let head =
        part.upper.last().and_then(|u| net.iter().skip(lower).position(|p| p == u)).map_or(lower, |i| lower + i);
    let instead = |left: &[[f64; 2]], net: &[[f64; 2]]| if left.len() > 1 { left.to_vec() } else { net.to_vec() };
    let back = |run: &[[f64; 2]]| run.iter().rev().copied().collect::<Vec<_>>();
    let mut out = part.lower.clone();
    out.extend(instead(&part.left.aft, &net[lower..head]));
    out.extend(instead(&back(&part.left.upper), &back(&part.upper)));
    out.extend(instead(&back(&part.left.fore), net.get(head + upper..).unwrap_or_default()));
    let near = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-3;
    out.dedup_by(|a, b| near(a, b));
    while out.len() > 3 && near(&out[0], &out[out.len() - 1]) {
        out.pop();
    }
    out
}

/// The stretches of a part, along its board, in which no knot may lie: where it is steamed, and its scarfs.
fn sound(part: &Part, flat: &FlatPlank, made: &Made) -> Vec<[f64; 2]> {
    let range = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        points.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| [low.min(p[0]), high.max(p[0])])
    };
    let mut all: Vec<[f64; 2]> = Vec::new();
    for [from, to] in &flat.steam {
        let edges = flat.lower[*from..=*to].iter().chain(&flat.upper[*from..=*to]);
        all.push(range(&mut edges.map(|p| part.board.place(p))));
    }
    for scarf in &made.scarfs {
        let ends = [scarf.fore.lower, scarf.fore.upper, scarf.aft.lower, scarf.aft.upper];
        all.push(range(&mut ends.iter().map(|p| part.board.place(p))));
    }
    all
}

/// A board's outline without its sapwood, and what is spoilt in it.
fn body(board: &Board, spec: &Spec) -> layout::Board {
    let widest = board.widths.into_iter().fold(0.0, f64::max);
    let half = |w: f64| 0.5 * w - board.sapwood;
    let [a, m, b] = board.widths.map(half);
    let (middle, long) = (0.5 * widest, board.length);
    let mut outline = vec![[0.0, middle - a]];
    if (m - 0.5 * (a + b)).abs() > 1e-9 {
        outline.extend([[0.5 * long, middle - m], [long, middle - b], [long, middle + b], [0.5 * long, middle + m]]);
    } else {
        outline.extend([[long, middle - b], [long, middle + b]]);
    }
    outline.push([0.0, middle + a]);
    let blemishes = board.spoilt.iter().map(|s| layout::Blemish {
        centre: [s.from_end, middle - 0.5 * board.width_at(s.from_end) + s.up],
        radius: 0.5 * s.across,
        inside: s.sound.then_some(spec.sawing.knot_clear),
    });
    layout::Board { outline, blemishes: blemishes.collect() }
}
