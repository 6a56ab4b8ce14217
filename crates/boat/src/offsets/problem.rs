//! What can be wrong with a table.

use crate::units::LengthError;
use crate::words::quoted;

/// Why a table cannot be read: the place in `offsets.csv`, and the trouble there.
#[derive(Debug, Clone, PartialEq)]
pub struct TableError {
    /// Line of the file, from 1, where there is one to point at.
    pub line: Option<usize>,
    /// Cell in the line, from 1.
    pub column: Option<usize>,
    /// The row's name as typed.
    pub row: Option<String>,
    /// The station's name as typed.
    pub station: Option<String>,
    /// The trouble.
    pub problem: TableProblem,
}

impl std::error::Error for TableError {}

impl std::fmt::Display for TableError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "offsets.csv")?;
        if let Some(line) = self.line {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = self.column {
            write!(f, ", cell {column}")?;
        }
        if let Some(row) = &self.row {
            write!(f, ", row {}", quoted(row))?;
        }
        if let Some(station) = &self.station {
            write!(f, ", station {}", quoted(station))?;
        }
        write!(f, ": {}", self.problem)
    }
}

/// The trouble itself. Lengths are said in the boat's own notation.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TableProblem {
    /// Nothing but comments.
    #[error(
        "the table is empty; the first line names the stations, each line after it is a row (see docs/boat-folder.md)"
    )]
    Empty,
    /// A quoted cell runs over the end of its line.
    #[error("a quotation mark is opened here and not closed on its line; close it or take it out")]
    OpenQuote,
    /// A line shorter or longer than the first.
    #[error("the line has {found} cells where the first line has {wanted}; put a comma for each cell left empty")]
    Ragged {
        /// Cells in the line.
        found: usize,
        /// Cells in the first line.
        wanted: usize,
    },
    /// Row names both across and down.
    #[error(
        "rows are named both along the first line ({}) and down the first column ({}); name stations along one and rows \
         along the other",
        quoted(across),
        quoted(down)
    )]
    BothWays {
        /// A row's name in the first line.
        across: String,
        /// A row's name in the first column.
        down: String,
    },
    /// No row name anywhere.
    #[error(
        "no row is named along the first line or down the first column: {} is none{}; rows are called {known}",
        quoted(found), meant(nearest.as_ref())
    )]
    NoWay {
        /// The first name that might have been one.
        found: String,
        /// What it was perhaps meant for.
        nearest: Option<String>,
        /// The names there are.
        known: String,
    },
    /// A name that is no row's.
    #[error("{} is no row{}; rows are called {known}", quoted(found), meant(nearest.as_ref()))]
    UnknownRow {
        /// As typed.
        found: String,
        /// What it was perhaps meant for.
        nearest: Option<String>,
        /// The names there are.
        known: String,
    },
    /// A row's level is missing or no length.
    #[error("the level in the row's name: {0}")]
    Level(LengthError),
    /// A level where no line can be.
    #[error("the level {value} is out of range: {least} to {most} is read; check its digits and its unit")]
    LevelRange {
        /// The level.
        value: String,
        /// Least.
        least: String,
        /// Most.
        most: String,
    },
    /// A diagonal that boat.toml does not have.
    #[error(
        "boat.toml has no diagonal {}; it has {known}; add [lines.diagonals.{found}] with its height and below_level",
        quoted(found)
    )]
    NoDiagonal {
        /// As typed.
        found: String,
        /// Those there are, or `none`.
        known: String,
    },
    /// Two rows that measure the same.
    #[error("line {first_line} of the file already has {}, which is the same; keep one of the two", quoted(first))]
    SameRow {
        /// The first of the two, as typed.
        first: String,
        /// Where it stands.
        first_line: usize,
    },
    /// A station without a name.
    #[error("the station has no name; name it as on the plan, or take the empty column out")]
    NoStationName,
    /// A name that is too long.
    #[error("the name has {found} letters; {most} is the most; shorten it")]
    LongName {
        /// Letters found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// Two stations of one name.
    #[error("two stations are called {}; rename one", quoted(name))]
    SameStation {
        /// The name.
        name: String,
    },
    /// A station called as an end is.
    #[error(
        "{} is an end of the boat, not a station: its shape is in boat.toml; rename the station or take it out",
        quoted(name)
    )]
    EndAsStation {
        /// The name.
        name: String,
    },
    /// A transom's column in a boat without one.
    #[error("the table has a transom but boat.toml has a sternpost; take one of the two out")]
    NoTransom,
    /// A bow transom's column in a boat without one.
    #[error("the table has a bow transom but boat.toml has a stem; take one of the two out")]
    NoBowTransom,
    /// A bow transom's column that is not the first.
    #[error("the bow transom comes before every station; move its column to the front")]
    BowTransomNotFirst,
    /// A transom's column that is not the last.
    #[error("the transom comes after every station; move its column to the end")]
    TransomNotLast,
    /// More than the program reckons with.
    #[error("the table has {found} {what}; {most} is the most that is read; split or thin it")]
    TooMany {
        /// `stations`, `rows` or `entries`.
        what: &'static str,
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// Fewer stations than make a boat.
    #[error(
        "the table has {found} stations besides the transom; {least} is the least a hull is faired from; add stations"
    )]
    TooFewStations {
        /// Found.
        found: usize,
        /// Least.
        least: usize,
    },
    /// No positions anywhere.
    #[error("nothing says where the stations stand: give spacing in boat.toml under [lines], or a row \"at\" here")]
    NoPositions,
    /// Stations by the spacing whose numbers leave one out.
    #[error(
        "station {next} comes straight after {before}, further than the others are apart: is a column missing? By lines.spacing every \
         station stands one step from the last, so all from {next} on would stand too far forward. Put the column in; or, where \
         there never was one, take spacing out of boat.toml and say in a row \"at\" how far aft each station stands"
    )]
    StationMissing {
        /// The station before.
        before: String,
        /// The one that follows it.
        next: String,
    },
    /// Positions given twice, differently.
    #[error(
        "the row \"at\" says {at} but lines.spacing in boat.toml puts the station at {by_spacing}; take one of the two out"
    )]
    PositionsDiffer {
        /// By the row.
        at: String,
        /// By the spacing.
        by_spacing: String,
    },
    /// A station without a position.
    #[error("the station has no position in the row \"at\"; measure it aft of the first station")]
    NoPosition,
    /// A position for the transom.
    #[error(
        "the transom has a position, {value}; leave it empty: its foot and head in boat.toml say where it stands"
    )]
    TransomPosition {
        /// As typed.
        value: String,
    },
    /// The first station is not where x begins.
    #[error("the first station stands at {value}; it must be 0, since positions are measured aft of it")]
    FirstNotZero {
        /// The position.
        value: String,
    },
    /// Stations out of order or on top of one another.
    #[error(
        "the station stands at {value}, which is not {least} or more aft of {}, at {before_at}; order stations from forward aft",
        quoted(before)
    )]
    StationsOrder {
        /// The position.
        value: String,
        /// The station before.
        before: String,
        /// Its position.
        before_at: String,
        /// Least distance between two.
        least: String,
    },
    /// A cell that is no length.
    #[error(transparent)]
    Cell(LengthError),
    /// An entry where no boat can be.
    #[error("the entry {value} is out of range: {least} to {most} is read; check its digits and its unit")]
    Range {
        /// The entry.
        value: String,
        /// Least.
        least: String,
        /// Most.
        most: String,
    },
    /// A half-breadth below zero.
    #[error("the entry {value} is negative; half-breadths and diagonals are measured outboard, 0 or more")]
    Negative {
        /// The entry.
        value: String,
    },
    /// A station with nothing.
    #[error("the station has no entries; fill its column or take it out")]
    NoEntries,
    /// A station without its sheer.
    #[error("the station has other entries but no \"{missing}\"; every station needs its sheer: fill it in")]
    NoSheer {
        /// `height sheer` or `half-breadth sheer`.
        missing: &'static str,
    },
    /// A section through too few points.
    #[error(
        "the station has {found} points, counting rabbet and sheer; {needed} is the least a section is drawn through: add a waterline, buttock or diagonal there"
    )]
    TooFewPoints {
        /// Found.
        found: usize,
        /// Least.
        needed: usize,
    },
    /// The sheer is not above the rabbet.
    #[error("the sheer at {sheer} is not above the rabbet at {rabbet}; one of the two is wrong: check the plan")]
    SheerBelowRabbet {
        /// Height of the sheer.
        sheer: String,
        /// Height of the rabbet.
        rabbet: String,
    },
}

fn meant(nearest: Option<&String>) -> String {
    nearest.map_or_else(String::new, |name| format!(" (did you mean {}?)", quoted(name)))
}
