//! The table of offsets as read.
//!
//! A cell keeps its text and its place in the file beside its value, so that every later stage can say "this cell".

mod check;
mod corrected;
pub(crate) mod names;
mod problem;
pub mod read;
pub(crate) mod sheet;

use crate::units::Notation;

pub use corrected::{corrected, with_cells};
pub use problem::{TableError, TableProblem};
pub use read::{Expected, read_table};

/// A table of offsets, checked for shape but not yet faired.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Stations from forward aft; `cells` of every row run the same way.
    pub stations: Vec<Station>,
    /// The rows, in the order of the file.
    pub rows: Vec<Row>,
}

/// The lines of a table's file that have something in them: number from 1, and the texts of their cells; empty where a quotation
/// mark is opened and not closed.
#[must_use]
pub fn cells(text: &str) -> Vec<(usize, Vec<String>)> {
    sheet::records(text).map_or_else(|_| Vec::new(), |all| all.into_iter().map(|r| (r.line, r.cells)).collect())
}

/// Values by row and column, mm; `None` where the table has nothing.
pub type Values = Vec<Vec<Option<f64>>>;

impl Table {
    /// The entries as they stand, what is settled taken.
    #[must_use]
    pub fn values(&self) -> Values {
        self.rows.iter().map(|r| r.cells.iter().map(|c| c.as_ref().map(|c| c.mm)).collect()).collect()
    }

    /// The foremost of the stations that stand square to her length: what is measured aft is measured from it.
    #[must_use]
    pub fn first_square(&self) -> Option<&Station> {
        self.stations.iter().find(|s| matches!(s.at, StationAt::Square(_)))
    }

    /// Whether the stations stand side by side in the file, as most plans print them, and not one under another.
    #[must_use]
    pub fn stations_run_across(&self) -> bool {
        let row = |r: &Row| {
            let mut lines = r.cells.iter().flatten().map(|c| c.line);
            Some(lines.next()? == lines.next()?)
        };
        self.rows.iter().find_map(row).unwrap_or(true)
    }

    /// Names of the stations that stand square to the centreline, and how far aft of the first they stand, mm.
    pub fn square_stations(&self) -> impl Iterator<Item = (&str, f64)> {
        self.stations.iter().filter_map(|s| match s.at {
            StationAt::Square(x) => Some((s.name.as_str(), x)),
            StationAt::Transom | StationAt::BowTransom => None,
        })
    }

    /// Heights of its waterlines, from the lowest, mm.
    #[must_use]
    pub fn waterlines(&self) -> Vec<f64> {
        let level = |row: &Row| if let RowKind::HalfBreadthWaterline(z) = row.kind { Some(z) } else { None };
        let mut heights: Vec<f64> = self.rows.iter().filter_map(level).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup();
        heights
    }

    /// What the builder has settled, entry by entry, in words.
    #[must_use]
    pub fn settled(&self, lengths: Notation) -> Vec<String> {
        let mut words = Vec::new();
        for row in &self.rows {
            for (station, cell) in self.stations.iter().zip(&row.cells) {
                let Some(cell) = cell else { continue };
                let Some(reason) = &cell.settled else { continue };
                let (row, station, text) = (&row.name, &station.name, &cell.text);
                words.push(format!(
                    "{row}, station {station}: printed {text}, taken as {}: {reason}",
                    lengths.long(cell.mm)
                ));
            }
        }
        words
    }
}

/// A station of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// As on the plan: `0`, `1`, `X`, `transom`.
    pub name: String,
    /// Where it stands.
    pub at: StationAt,
}

/// Where a station stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StationAt {
    /// Square to the centreline, mm aft of the first station.
    Square(f64),
    /// On the transom's outer face, which may rake and may be curved.
    Transom,
    /// On a bow transom's.
    BowTransom,
}

/// One row (or column) of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// As typed.
    pub name: String,
    /// What it measures.
    pub kind: RowKind,
    /// One for each station; `None` where the table has nothing.
    pub cells: Vec<Option<Cell>>,
}

/// What a row measures. Levels are mm.
#[derive(Debug, Clone, PartialEq)]
pub enum RowKind {
    /// Height of the sheer above base.
    HeightSheer,
    /// Height of the rabbet above base.
    HeightRabbet,
    /// Height of the skin above base at this distance from the centreline.
    HeightButtock(f64),
    /// Half-breadth at the sheer.
    HalfBreadthSheer,
    /// Half-breadth at the rabbet.
    HalfBreadthRabbet,
    /// Half-breadth at this height above base.
    HalfBreadthWaterline(f64),
    /// Distance from the centreline along `LinesSpec::diagonals[.0]`.
    Diagonal(usize),
}

impl RowKind {
    /// Whether it measures up, and not out.
    #[must_use]
    pub fn is_height(&self) -> bool {
        matches!(self, RowKind::HeightSheer | RowKind::HeightRabbet | RowKind::HeightButtock(_))
    }

    /// The least and the most that an entry may say, mm: half-breadths and distances along a diagonal are never less than nought.
    #[must_use]
    pub fn range(&self) -> [f64; 2] {
        if self.is_height() { read::HEIGHTS } else { [0.0, read::WIDEST] }
    }

    /// The least that an entry may say, mm.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.range()[0]
    }
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// The value, mm.
    pub mm: f64,
    /// As typed.
    pub text: String,
    /// Line in the file, from 1.
    pub line: usize,
    /// Field in the line, from 1.
    pub column: usize,
    /// Why the builder has settled it, against all doubts; `mm` is then what was settled on.
    pub settled: Option<String>,
}
