//! The boat folder's texts, read into values.
//!
//! A boat is a folder a person can read, edit and keep under version control: `boat.toml` says what is wanted,
//! `offsets.csv` holds the table as printed on the plan, and there may be `marks.csv`, the marks the builder has pinned,
//! `boards.csv`, the timber in the rack, and `nails.csv`, the nails and roves to be had. What things cost stands in `rates.toml` and is read by itself
//! ([`read_rates`]): no plan depends on it. `docs/boat-folder.md` is the form of each. No file is opened here: the
//! program hands over the texts.

mod boards;
mod boat;
mod columns;
mod crown;
mod fastenings;
mod interior;
mod loads;
mod marks;
mod nails;
mod parts;
mod problem;
mod rates;
mod repair;
mod section;
mod settled;
mod taken;
mod timbers;
pub mod woods;

pub use columns::{ListError, ListProblem};
pub use loads::loads_as_typed;
pub use problem::{BoatError, BoatProblem};
pub use rates::{RatesError, read_rates};
pub use repair::{RepairFolderError, RepairTexts, read_repair};
pub use taken::read_taken;

use crate::fastenings::stock::Item;
use crate::findings::Finding;
use crate::offsets::{Expected, Table, TableError, read_table};
use crate::spec::{EndSpec, Spec};
pub use crate::stock::Board;
use crate::units::Notation;

/// The form of boat.toml that this program reads: its `strakewise = 1`.
pub const VERSION: i64 = 1;

/// The texts of a boat folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BoatTexts {
    /// `boat.toml`.
    pub toml: String,
    /// `offsets.csv`.
    pub offsets: String,
    /// `marks.csv`, if there is one.
    pub marks: Option<String>,
    /// `boards.csv`, if there is one.
    pub boards: Option<String>,
    /// `nails.csv`, if there is one.
    pub nails: Option<String>,
}

/// Everything the planning starts from.
#[derive(Debug, Clone, PartialEq)]
pub struct BoatInput {
    /// `boat.toml`.
    pub spec: Spec,
    /// `offsets.csv`.
    pub table: Table,
    /// `marks.csv`, in the order of the file.
    pub pins: Vec<Pin>,
    /// `boards.csv`, in the order of the file.
    pub boards: Vec<Board>,
    /// `nails.csv`, in the order of the file.
    pub nails: Vec<Item>,
    /// What can be read but should be looked at.
    pub findings: Vec<Finding>,
}

/// A mark the builder has pinned.
#[derive(Debug, Clone, PartialEq)]
pub struct Pin {
    /// 0 (rabbet) to n (sheer).
    pub land: u32,
    /// A station's name as in the table, or `stem`, `bow transom`, `transom`, `sternpost`.
    pub station: String,
    /// Along the mould from the rabbet, mm.
    pub girth: f64,
    /// Line of `marks.csv`, from 1.
    pub line: usize,
}

/// Why a folder cannot be read. Each names its file, the place in it, the value, the limit and what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FolderError {
    /// `boat.toml`.
    #[error(transparent)]
    Boat(#[from] BoatError),
    /// `offsets.csv`.
    #[error(transparent)]
    Table(#[from] TableError),
    /// `marks.csv`, `boards.csv` or `nails.csv`.
    #[error(transparent)]
    List(#[from] ListError),
}

/// Reads a boat folder.
///
/// # Errors
/// [`FolderError`] with the first trouble found, `boat.toml` first, then `offsets.csv`, `marks.csv`, `boards.csv`, `nails.csv`.
pub fn read(texts: &BoatTexts) -> Result<BoatInput, FolderError> {
    let boat::Boat { mut spec, spacing, settled, crowns, stock_keys, stations } = boat::read(&texts.toml)?;
    let expected = Expected {
        lengths: spec.lengths,
        spacing,
        diagonals: &spec.lines.diagonals,
        transom: matches!(spec.aft, EndSpec::Transom(_)),
        bow_transom: matches!(spec.fore, EndSpec::Transom(_)),
    };
    let (mut table, mut findings) = read_table(&texts.offsets, &expected)?;
    settled::apply(settled, &mut table)?;
    crown::check(&crowns, &table, spec.lengths)?;
    interior::check(&stations, &table)?;
    let pins = texts.marks.as_deref().map_or(Ok(Vec::new()), |text| marks::read(text, &spec, &table))?;
    let boards = texts.boards.as_deref().map_or(Ok(Vec::new()), |text| boards::read(text, spec.lengths))?;
    findings.extend(boards::other_wood(&boards, &spec.planking.wood.name));
    let (lengths, text) = (spec.lengths, texts.nails.as_deref());
    let nails = text.map_or(Ok(Vec::new()), |text| nails::read(text, lengths, &mut spec.fastenings, &stock_keys))?;
    Ok(BoatInput { spec, table, pins, boards, nails, findings })
}

/// A range as a message gives it: `3 mm to 50 mm`.
fn range_said(lengths: Notation, [least, most]: [f64; 2]) -> String {
    format!("{} to {}", lengths.said(least), lengths.said(most))
}
