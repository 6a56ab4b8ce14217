//! Scarfs: planks longer than the boards, and the parts they are glued up from.
//!
//! Where no board holds a plank whole it is made in as few parts as the boards allow (`place`), each with its own flat shape on
//! its own least board (`part`): a part of a curved plank is straighter than the whole, so its board is narrower and its grain
//! runs out less.
//!
//! A scarf is `ratio` times the thickness long, measured along the plank's middle line, and is cut square to that line. The
//! forward part's outside laps over: its feather is outside and points aft, so that water runs past it; the after part's
//! feather is inside and points forward. Both sides of the boat have theirs at the same places.
//!
//! Where a scarf stands is a matter of wishes, all of them common practice without a source: none near the scarfs of the two
//! strakes on either side, clear of moulds, not where the plank is bent hard, a timber over its middle. Which gave way is told.

mod check;
mod part;
mod place;

use crate::development::board::Board;
use crate::development::{FlatPlank, FlatStation, LeftLong, RunOut, left_long};
use crate::moulds::Mould;
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;

pub use check::{check, not_there};

/// A strake's plank as it is glued up.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// From the bow; none where it is one piece.
    pub scarfs: Vec<Scarf>,
    /// From the bow; one more than scarfs.
    pub parts: Vec<Part>,
    /// What is left on the whole plank to be cut when it is fitted, in the flat plank's frame.
    pub left: LeftLong,
    /// It is longer or wider than any board, and no place for scarfs was found.
    pub stuck: bool,
}

/// A scarf, on the flat plank.
#[derive(Debug, Clone, PartialEq)]
pub struct Scarf {
    /// From the bow, 1 first.
    pub n: usize,
    /// Its middle on the plank's middle line.
    pub middle: [f64; 2],
    /// mm aft of the first station, in the boat.
    pub x: f64,
    /// The ruling nearest to its middle.
    pub ruling: usize,
    /// Where the after part's inside feather ends.
    pub fore: Cut,
    /// Where the forward part's outside feather ends.
    pub aft: Cut,
    /// The timber over its middle, by its number; `None`: half-way between two, or she has none.
    pub timber: Option<usize>,
    /// Wishes that gave way, the one that weighs most first.
    pub gave_way: Vec<GaveWay>,
}

/// A line square across a flat plank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// On the lower edge.
    pub lower: [f64; 2],
    /// On the upper edge.
    pub upper: [f64; 2],
    /// The same as rulings and shares of the way to the next.
    pub at: [f64; 2],
}

/// A wish that a scarf does not meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GaveWay {
    /// A scarf of that strake is nearer along the boat than it should be, mm.
    Neighbour {
        /// Strake.
        strake: usize,
        /// mm.
        apart: f64,
        /// mm.
        least: f64,
    },
    /// A mould's station line is nearer than it should be, mm.
    Mould {
        /// Index into the plan's sections.
        section: usize,
        /// mm; 0 where the line crosses the scarf.
        clear: f64,
        /// mm.
        least: f64,
    },
    /// It is bent or twisted there harder than half of what goes cold.
    Bend {
        /// Share of what goes cold.
        share: f64,
    },
    /// No timber stands over its middle.
    Timber {
        /// To the nearest, mm along the boat.
        off: f64,
    },
}

/// A part of a plank on its own board: x along the board from the bow, y up from its lower edge, outer face, as the flat plank.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// From the bow, 1 first.
    pub part: usize,
    /// Its least board, and where that lies on the flat plank.
    pub board: Board,
    /// What it is sawn to, along the lower edge, up the after end, back along the upper edge, down the fore end.
    pub outline: Vec<[f64; 2]>,
    /// Lower edge from the bow, with the feathers.
    pub lower: Vec<[f64; 2]>,
    /// Upper edge from the bow, with the feathers.
    pub upper: Vec<[f64; 2]>,
    /// The inside feather at its fore end: where it ends and where the full thickness begins.
    pub fore: Option<[[[f64; 2]; 2]; 2]>,
    /// The outside feather at its after end: where the full thickness ends and where it ends.
    pub aft: Option<[[[f64; 2]; 2]; 2]>,
    /// Height of the batten line over the board's lower edge, mm.
    pub batten: f64,
    /// How far its grain runs out, and there the ruling of the plank.
    pub run_out: RunOut,
    /// Where the sections cross.
    pub stations: Vec<FlatStation>,
    /// What is left on it to be cut when it is fitted.
    pub left: LeftLong,
}

/// How every strake's plank is made from boards of `rack`, `[length, width]` in mm; an empty rack is not known.
#[must_use]
pub fn scarfs(
    flats: &[FlatPlank],
    strakes: &[Strake],
    timbers: &[Timber],
    moulds: &[Mould],
    spec: &Spec,
    rack: &[[f64; 2]],
) -> Vec<Made> {
    let rack = boards(spec, rack);
    let boards: Vec<Vec<[f64; 2]>> = strakes.iter().map(|s| no_longer(&rack, s.strake, spec)).collect();
    let left =
        |(flat, strake): (&FlatPlank, &Strake)| left_long(flat, spec.allowance(strake.strake == strakes.len()));
    let lefts: Vec<LeftLong> = flats.iter().zip(strakes).map(left).collect();
    let sides: Vec<place::Side<'_>> = flats
        .iter()
        .zip(strakes)
        .zip(&lefts)
        .zip(&boards)
        .map(|(((flat, strake), left), boards)| place::Side { flat, strake, timbers, moulds, spec, boards, left })
        .collect();
    let chosen = place::choose(&sides);
    sides.iter().zip(chosen).map(|(side, chosen)| part::made(side, chosen)).collect()
}

/// The boards that parts must come out of; none: any will do.
#[must_use]
pub fn boards(spec: &Spec, rack: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let (longest, widest) =
        (spec.scarfs.longest.unwrap_or(f64::INFINITY), spec.scarfs.widest.unwrap_or(f64::INFINITY));
    if rack.is_empty() {
        return if longest.is_finite() || widest.is_finite() { vec![[longest, widest]] } else { Vec::new() };
    }
    rack.iter().map(|[length, width]| [length.min(longest), width.min(widest)]).collect()
}

/// The boards for one strake, none counted longer than its parts may be; any that is not known is as wide as may be.
fn no_longer(rack: &[[f64; 2]], strake: usize, spec: &Spec) -> Vec<[f64; 2]> {
    let Some((_, longest)) = spec.scarfs.longest_of.iter().find(|(s, _)| *s == strake) else { return rack.to_vec() };
    if rack.is_empty() {
        return vec![[*longest, f64::INFINITY]];
    }
    rack.iter().map(|[length, width]| [length.min(*longest), *width]).collect()
}

/// Sizes nearer than this are the same, mm.
const SAME: f64 = 0.05;

/// Whether some board holds it, with what is left long.
fn fits(left: &LeftLong, boards: &[[f64; 2]]) -> bool {
    let [length, width] = left.board;
    boards.is_empty() || boards.iter().any(|[l, w]| length <= l + SAME && width <= w + SAME)
}
