//! What is sawn out of: boards as outlines, and those thick enough in leaves.
//!
//! A board that holds the planking's thickness more than once, with what the saw and the plane take between, may be sawn
//! through its thickness. The leaves open like a book: their faces mirror each other, so that port and starboard out of two
//! leaves of one board have like grain. Knots and faults are taken to go right through. Sheets are never sawn so.

use crate::spec::Spec;
use crate::stock::Board;

/// Thicknesses nearer than this are the same, mm.
pub const SAME: f64 = 0.05;

/// Leaves of the planking's thickness that come out of a board: 0 where it is thinner.
#[must_use]
pub fn leaves(board: &Board, spec: &Spec) -> usize {
    let (has, wants) = (board.thickness + SAME, spec.planking.thickness);
    if has < wants {
        0
    } else if board.sheet || !spec.sawing.resaw {
        1
    } else {
        ((has + spec.sawing.resaw_loss) / (wants + spec.sawing.resaw_loss)) as usize
    }
}

/// A board's outline without its sapwood, and what is spoilt in it.
pub fn body(board: &Board, index: usize, spec: &Spec) -> layout::Board {
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
    layout::Board { outline, blemishes: blemishes.collect(), of: Some(index) }
}
