//! The parts of a scarfed plank on their own boards.

use super::place::{Chosen, Side};
use super::{Made, Part, Scarf};
use crate::development::board::{Board, least};
use crate::development::{FlatStation, run_out};

/// What a part is cut from: the flat plank from one scarf to the next.
pub struct Piece {
    /// Edges in the flat plank's frame, ends included.
    pub lower: Vec<[f64; 2]>,
    pub upper: Vec<[f64; 2]>,
    /// All round, hood ends too.
    pub outline: Vec<[f64; 2]>,
}

/// The piece between two scarfs, `None` for the plank's own end; it has all of both scarfs.
pub fn piece(side: &Side<'_>, fore: Option<&Scarf>, aft: Option<&Scarf>) -> Piece {
    let flat = side.flat;
    let edge = |points: &[[f64; 2]], upper: bool| {
        let axis = usize::from(upper);
        let own = |cut: &super::Cut| if upper { cut.upper } else { cut.lower };
        let from = fore.map_or(f64::NEG_INFINITY, |s| s.fore.at[axis]);
        let to = aft.map_or(f64::INFINITY, |s| s.aft.at[axis]);
        let mut run: Vec<[f64; 2]> = fore.map(|s| own(&s.fore)).into_iter().collect();
        let first = (from + 1e-9).floor().max(-1.0) as isize + 1;
        let beyond = (to - 1e-9).ceil().min(points.len() as f64) as usize;
        run.extend(points.get(first as usize..beyond).unwrap_or_default());
        run.extend(aft.map(|s| own(&s.aft)));
        run
    };
    let (lower, upper) = (edge(&flat.lower, false), edge(&flat.upper, true));
    let hood = |hood: &Option<crate::development::HoodEnd>, cut: bool| {
        if cut { Vec::new() } else { hood.as_ref().map_or_else(Vec::new, |h| h.curve.clone()) }
    };
    let (fore_hood, aft_hood) = (hood(&flat.fore_hood, fore.is_some()), hood(&flat.aft_hood, aft.is_some()));
    let mut outline: Vec<[f64; 2]> = lower.clone();
    outline.extend(aft_hood);
    outline.extend(upper.iter().rev());
    outline.extend(fore_hood.iter().rev());
    outline.dedup();
    Piece { lower, upper, outline }
}

/// The least board of a piece; of the whole plank, its own.
pub fn board_of(side: &Side<'_>, piece: &Piece, whole: bool) -> Board {
    if whole {
        return Board {
            along: [1.0, 0.0],
            corner: [0.0, 0.0],
            length: side.flat.length,
            width: side.flat.board_width,
        };
    }
    let (first, last) = (piece.lower[0], piece.lower[piece.lower.len() - 1]);
    least(&piece.outline, [last[0] - first[0], last[1] - first[1]])
}

/// The plank with its scarfs and parts.
pub fn made(side: &Side<'_>, chosen: Chosen) -> Made {
    let scarfs = chosen.scarfs;
    let ends: Vec<Option<&Scarf>> = std::iter::once(None).chain(scarfs.iter().map(Some)).chain([None]).collect();
    let parts = ends.windows(2).enumerate().map(|(i, pair)| part(side, i + 1, pair[0], pair[1])).collect();
    Made { strake: side.flat.strake, parts, scarfs, stuck: chosen.stuck }
}

fn part(side: &Side<'_>, n: usize, fore: Option<&Scarf>, aft: Option<&Scarf>) -> Part {
    let piece = piece(side, fore, aft);
    let board = board_of(side, &piece, fore.is_none() && aft.is_none());
    let place = |points: &[[f64; 2]]| -> Vec<[f64; 2]> { points.iter().map(|p| board.place(p)).collect() };
    let (lower, upper) = (place(&piece.lower), place(&piece.upper));
    let feather = |scarf: &Scarf| [scarf.fore, scarf.aft].map(|c| [board.place(&c.lower), board.place(&c.upper)]);
    let within = |s: &&FlatStation| {
        let ruling = side.strake.at.iter().find(|a| a.section == s.section).map_or(0.0, |a| a.ruling as f64);
        fore.is_none_or(|c| ruling > c.fore.at[0].max(c.fore.at[1]))
            && aft.is_none_or(|c| ruling < c.aft.at[0].min(c.aft.at[1]))
    };
    let station = |s: &FlatStation| FlatStation {
        section: s.section,
        lower: board.place(&s.lower),
        upper: board.place(&s.upper),
    };
    // The middle line by whole rulings, so that a place on it has a name.
    let from = fore.map_or(0, |c| c.fore.at[0].max(c.fore.at[1]).ceil() as usize);
    let to = aft.map_or(side.flat.lower.len() - 1, |c| c.aft.at[0].min(c.aft.at[1]).floor() as usize);
    let mut out = run_out(&place(&side.flat.lower[from..=to]), &place(&side.flat.upper[from..=to]));
    out.ruling += from;
    Part {
        part: n,
        outline: place(&piece.outline),
        batten: crate::development::batten(&lower, &upper),
        run_out: out,
        fore: fore.map(feather),
        aft: aft.map(feather),
        stations: side.flat.stations.iter().filter(within).map(station).collect(),
        lower,
        upper,
        board,
    }
}
