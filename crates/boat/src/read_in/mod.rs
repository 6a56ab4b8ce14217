//! Boats from other people's files: tables, drawings, clouds of points.
//!
//! Whatever the file, what comes of it is a table of offsets as a boat's folder keeps it, and what was understood, said in
//! words ([`TableIn::said`]), so that the builder can see that it was understood rightly. Nothing is guessed silently: a unit
//! that the file does not tell is asked for.
//!
//! - [`table`]: offsets from CSV, in several shapes;
//! - [`sections`]: a body plan's curves, DXF or SVG;
//! - [`rabbet`], [`boards`]: flat outlines, for boat.toml and boards.csv;
//! - [`cloud`]: points of a hull, measured or scanned.

mod bare;
mod cloud;
mod curve;
mod dxf;
mod long;
mod names;
mod outlines;
mod placed;
mod problem;
mod sections;
mod sheet;
mod svg;
mod table;

use crate::offsets::{Expected, read_table};
use crate::units::Notation;

pub use bare::Bare;
pub use cloud::{Axis, Bow, CloudAsked, CloudForm, Frame, Known, MOST_POINTS, OfCloud, cloud};
pub use outlines::{Lines, Post, boards, rabbet};
pub use placed::{DrawingAsked, Make};
pub use problem::{Cells, ReadInError, ReadInProblem};
pub use sections::sections;
pub(crate) use sheet::in_csv;
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

/// A table that was read off sections, read back as a boat's folder would.
fn checked(
    table: String,
    lengths: Notation,
    mut said: Vec<String>,
    mut look_at: Vec<String>,
) -> Result<TableIn, ReadInError> {
    let has = |name: &str| crate::offsets::cells(&table).first().is_some_and(|(_, c)| c.iter().any(|c| c == name));
    let (transom, bow_transom) = (has("transom"), has("bow transom"));
    let expected = Expected { lengths, spacing: None, diagonals: &[], transom, bow_transom };
    let (read, findings) =
        read_table(&table, &expected).map_err(|why| ReadInProblem::Table(why.problem).nowhere())?;
    let entries = read.rows.iter().flat_map(|r| &r.cells).flatten().count();
    said.push(format!("read off at {} rows: {entries} entries", read.rows.len()));
    look_at.extend(findings.iter().map(|f| format!("{}: {}", f.place, f.hint)));
    Ok(TableIn { table, lengths, transom, bow_transom, said, look_at })
}
