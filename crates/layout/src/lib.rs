//! Laying shapes out on boards: which shape comes out of which board, and where.
//!
//! Knows nothing of boats. A shape is a closed outline that may be turned a little off the board's length, end for end, or
//! over; a board is a closed outline with spoilt places. `rack` lays shapes out on several boards so that the least length of
//! board is cut; `strip` lays them out on one strip of given width so that it is short, which is how such searches are
//! compared in the literature. On a rack shapes are shared out among boards (`share`), each packed by itself (`pack`) with
//! heights over cells for outlines (`profile`). Both push shapes apart that overlap (`field`, `separate`): every shape has a
//! place at all times, and the one that overlaps is moved to where it overlaps least, with pairs that go on overlapping
//! weighing ever more.
//!
//! Source of the method: guided local search on overlaps, Egeblad, Nielsen and Odgaard, European Journal of Operational
//! Research 183 (2007) 1249-1266 (remembered); circles inside a shape as a measure of overlap: Gardeyn and others, arXiv
//! 2509.13329 (remembered). Whether two shapes meet is asked of jagua-rs.
//!
//! Everything is drawn from the seed: the same shapes, boards, seed and effort give the same layout.

mod body;
mod circles;
mod field;
mod fill;
mod floor;
mod outline;
mod pack;
mod profile;
pub mod rack;
mod search;
mod separate;
mod share;
pub mod strip;

pub use rack::{Layout, Rack, lay_out};

/// A shape to be laid out, in a frame of its own, x along its grain; mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Closed outline, the last point joined to the first.
    pub outline: Vec<[f64; 2]>,
    /// How it may be turned.
    pub turns: Turns,
    /// It may be turned over.
    pub over: bool,
    /// The stretch along its x in which no blemish may lie however small, if there is one.
    pub sound: Vec<[f64; 2]>,
    /// Shapes with the same number should come out of one board.
    pub mate: Option<usize>,
}

/// How a shape may be turned, radians anticlockwise.
#[derive(Debug, Clone, PartialEq)]
pub enum Turns {
    /// By just these angles, one at least.
    These(Vec<f64>),
    /// As little off the board's length as this either way, and end for end.
    Along {
        /// Radians.
        within: f64,
    },
}

/// A board, x along its grain; mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Closed outline without what is not to be used, such as sapwood.
    pub outline: Vec<[f64; 2]>,
    /// Places that are not sound.
    pub blemishes: Vec<Blemish>,
    /// Boards with the same number were sawn from one: mates on them are not apart.
    pub of: Option<usize>,
}

/// A round place of a board that is not sound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blemish {
    /// mm.
    pub centre: [f64; 2],
    /// mm.
    pub radius: f64,
    /// It may lie inside a shape where it is so far from the shape's edge and outside its `sound` stretches, mm; `None`:
    /// never.
    pub inside: Option<f64>,
}

/// Where a shape lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Index of the board.
    pub board: usize,
    /// Turned over: its y is reversed before it is turned.
    pub over: bool,
    /// Radians anticlockwise.
    pub turn: f64,
    /// Where its origin comes to lie, mm.
    pub shift: [f64; 2],
}

impl Place {
    /// A point of the shape on the board.
    #[must_use]
    pub fn carry(&self, p: [f64; 2]) -> [f64; 2] {
        let y = if self.over { -p[1] } else { p[1] };
        let (sin, cos) = self.turn.sin_cos();
        [p[0] * cos - y * sin + self.shift[0], p[0] * sin + y * cos + self.shift[1]]
    }
}

/// Why nothing can be laid out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LayoutError {
    /// A shape's outline crosses itself, has no area or a corner that is nowhere, or it may be turned in no way.
    #[error("shape {shape}: {why}")]
    Shape {
        /// Its index.
        shape: usize,
        /// Why.
        why: String,
    },
    /// So does a board's.
    #[error("board {board}: {why}")]
    Board {
        /// Its index.
        board: usize,
        /// Why.
        why: String,
    },
}

/// Area of a closed outline.
#[must_use]
pub fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    0.5 * outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
}
