//! The fair skin.

use crate::geom::Point;

/// One row of the table after fairing.
#[derive(Debug, Clone, PartialEq)]
pub struct FairRow {
    /// One for each station; `None` where the table had nothing.
    pub cells: Vec<Option<FairCell>>,
}

/// One entry after fairing.
#[derive(Debug, Clone, PartialEq)]
pub struct FairCell {
    /// The fair value in the table's own measure (to the face the plan was drawn to), mm.
    pub fair: f64,
    /// Fair less given, mm.
    pub change: f64,
    /// The fair skin passes further off than the tolerance: look at this entry.
    pub suspect: bool,
    /// What the entry should probably say, in the table's notation.
    pub reads_like: Option<String>,
}

/// Where a section of the skin is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SectionAt {
    /// The rabbet of the stem or sternpost.
    Post,
    /// A station plane; the index is into `Table::stations`.
    Station(usize),
    /// The transom's plane.
    Transom,
}

/// A section of the fair skin, inside of planking, from the rabbet to the sheer.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// `stem`, a station's name, `transom` or `sternpost`.
    pub name: String,
    /// Where it is taken.
    pub at: SectionAt,
    /// Dense points from rabbet to sheer, mm.
    pub points: Vec<Point>,
    /// Length along the section from rabbet to sheer, mm.
    pub girth: f64,
}
