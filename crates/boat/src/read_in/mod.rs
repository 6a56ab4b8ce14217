//! Boats from other people's files: tables, drawings, clouds of points.
//!
//! Whatever the file, what comes of it is a table of offsets as a boat's folder keeps it, and what was understood, said in
//! words ([`TableIn::said`]), so that the builder can see that it was understood rightly. Nothing is guessed silently: a unit
//! that the file does not tell is asked for.
//!
//! - [`table`]: offsets from CSV, in several shapes;

mod bare;
mod long;
mod names;
mod problem;
mod sheet;
mod table;

use crate::units::Notation;

pub use bare::Bare;
pub use problem::{Cells, ReadInError, ReadInProblem};
pub use table::{Asked, table};

/// What a comma in a number means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Comma {
    /// A decimal point.
    Decimal,
    /// Nothing: it parts thousands.
    Thousands,
}

/// A table of offsets and what is to be told of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TableIn {
    /// offsets.csv.
    pub table: String,
    /// What a bare number in it means.
    pub lengths: Notation,
    /// Whether it has a transom's column.
    pub transom: bool,
    /// Whether it has a bow transom's.
    pub bow_transom: bool,
    /// What was recognised.
    pub said: Vec<String>,
    /// What was left out or should be looked at, by line and cell.
    pub look_at: Vec<String>,
}
