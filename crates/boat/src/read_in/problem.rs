//! Why a file cannot be read in.

use crate::offsets::TableProblem;
use crate::taken_off::TakeOffError;
use crate::units::LengthError;
use crate::words::quoted;

/// Why a file cannot be read in, and where in it.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadInError {
    /// Line of the file, from 1, where there is one to point at; of a binary file the number of the point.
    pub line: Option<usize>,
    /// Cell in the line, from 1.
    pub cell: Option<usize>,
    /// What stands there: a row and a station, a layer, an element.
    pub at: Option<String>,
    /// The trouble.
    pub problem: Box<ReadInProblem>,
}

impl std::error::Error for ReadInError {}

impl std::fmt::Display for ReadInError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let line = self.line.map(|l| format!("line {l}"));
        let cell = self.cell.map(|c| format!("cell {c}"));
        let places: Vec<String> = [line, cell, self.at.clone()].into_iter().flatten().collect();
        if !places.is_empty() {
            write!(f, "{}: ", places.join(", "))?;
        }
        write!(f, "{}", self.problem)
    }
}

impl ReadInProblem {
    /// Of no place in particular.
    pub(super) fn nowhere(self) -> ReadInError {
        ReadInError { line: None, cell: None, at: None, problem: Box::new(self) }
    }

    /// On a line.
    pub(super) fn on(self, line: usize) -> ReadInError {
        ReadInError { line: Some(line), ..self.nowhere() }
    }

    /// At something on a line.
    pub(super) fn at(self, line: usize, what: impl Into<String>) -> ReadInError {
        ReadInError { at: Some(what.into()), ..self.on(line) }
    }
}

/// The trouble itself.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ReadInProblem {
    /// Nothing in it.
    #[error("nothing is in it that could be read; is it the right file?")]
    Empty,
    /// A quoted cell runs over the end of its line.
    #[error("a quotation mark is opened here and not closed on its line; close it or take it out")]
    OpenQuote,
    /// Too much.
    #[error("{found} {what}; {most} is the most that is read: {remedy}")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// Found, or where counting ended.
        found: usize,
        /// Most.
        most: usize,
        /// What to do.
        remedy: &'static str,
    },
    /// Bare numbers and nobody said what they are.
    #[error(
        "{count} numbers have no unit, the first is {}, and nothing in the file says what they are: say it with --lengths \
         mm, cm, m, in, ft or ft-in-8ths{hint}",
        quoted(first)
    )]
    NoUnit {
        /// How many.
        count: usize,
        /// The first.
        first: String,
        /// What it would come to.
        hint: String,
    },
    /// The file names several units, or another than the command line.
    #[error(
        "the file speaks of {found}, so that bare numbers could be either: say which with --lengths, and take the other word out"
    )]
    Units {
        /// Those named.
        found: String,
    },
    /// Commas that could be either.
    #[error(
        "{} could be {} or {}: say --comma decimal or --comma thousands",
        quoted(found), found.replace(',', "."), found.replace(',', "")
    )]
    Comma {
        /// The first of them.
        found: String,
    },
    /// A list of points.
    #[error("this is a list of points taken off a hull, not a table: strakewise take-off reads it (docs/repair.md)")]
    Points,
    /// No shape that is known.
    #[error("no table is recognised in it: {why}; docs/read-in.md shows the shapes that are read")]
    Shape {
        /// What was looked for.
        why: String,
    },
    /// Cells that are no lengths; all that were found.
    #[error("{0}")]
    Cells(Cells),
    /// Two entries for one place.
    #[error("line {first} already gives this entry; keep one of the two")]
    Twice {
        /// Its line.
        first: usize,
    },
    /// No distances of the stations.
    #[error(
        "nothing says where the stations stand: add a row \u{201c}at\u{201d}, or say --spacing, or --at {example}"
    )]
    NoPositions {
        /// With its own stations.
        example: String,
    },
    /// A distance of a station that is not there.
    #[error(
        "--at gives a distance of station {}, and the stations are {known}: give each by its name, as \"1=0,2=500 mm\"",
        quoted(found)
    )]
    NoSuchStation {
        /// As asked.
        found: String,
        /// Those there are.
        known: String,
    },
    /// Distances that fall.
    #[error(
        "the stations must run from forward aft: station {name} stands at {mm:.0} mm, not aft of the one before; put them in that order, with distances measured aft"
    )]
    Order {
        /// The station.
        name: String,
        /// Where, mm.
        mm: f64,
    },
    /// As the table's own reader says.
    #[error("{0}")]
    Table(TableProblem),
    /// A length.
    #[error("{0}")]
    Length(LengthError),
    /// As taking off says.
    #[error("{0}")]
    TakeOff(TakeOffError),
    /// A file of another make.
    #[error("this is not {wanted}: {found}; {remedy}")]
    NotSo {
        /// `a DXF file`.
        wanted: &'static str,
        /// What stands there.
        found: String,
        /// What to do.
        remedy: &'static str,
    },
    /// Something that must be a number.
    #[error("{} stands where {wanted} is wanted", quoted(found))]
    NoNumber {
        /// What stands there.
        found: String,
        /// What is wanted.
        wanted: &'static str,
    },
    /// A drawing's unit is not known.
    #[error("the drawing does not say its unit ({found}): say it with --lengths mm, cm, m, in or ft")]
    DrawingUnit {
        /// What was looked at.
        found: String,
    },
    /// Two units that do not agree.
    #[error("the file says {file}, the command line {asked}: take --lengths out, or correct the file")]
    UnitsDiffer {
        /// The file's.
        file: String,
        /// The command line's.
        asked: String,
    },
    /// Sections that are not named.
    #[error(
        "the curve has no station: draw it on a layer (DXF) or with an id or in a group (SVG) named \u{201c}station 3\u{201d}, or write \
         the station's name as a text at its upper end"
    )]
    NoStation,
    /// Several curves of one station.
    #[error(
        "{found} curves that do not join are named for this station; its section is one curve, or its two halves: the gap is {gap:.1} mm at full size, {most} mm is closed"
    )]
    NotOne {
        /// How many.
        found: usize,
        /// The least gap between two of them, mm.
        gap: f64,
        /// Most that is closed, mm.
        most: f64,
    },
    /// No curve at all.
    #[error("no section is drawn in it: {0}")]
    NoCurves(String),
    /// An outline that is no such thing, and whatever else is told in words of its own.
    #[error("{0}")]
    Outline(String),
    /// Too few points.
    #[error("{found} points; {least} is the least that sections are drawn from: measure more")]
    FewPoints {
        /// Found.
        found: usize,
        /// Least.
        least: usize,
    },
    /// No plane of symmetry.
    #[error(
        "no centreline plane was found: of the points turned over, {share:.0} in 100 fall on the others, {least:.0} is the least; with one \
         side measured only, bring the points into the boat's frame and say --placed"
    )]
    NoMirror {
        /// Percent.
        share: f64,
        /// Percent.
        least: f64,
    },
    /// Which end is the bow?
    #[error(
        "the ends are alike ({narrow:.0} mm and {wide:.0} mm wide near them), so the bow cannot be told: say --bow least or --bow most, the end at the least or at the most along the boat"
    )]
    NoBow {
        /// Width at one, mm.
        narrow: f64,
        /// At the other, mm.
        wide: f64,
    },
    /// A size no boat has.
    #[error("the boat would be {length:.2} m long, out of range: {least} m to {most} m is read; check --lengths")]
    Size {
        /// m.
        length: f64,
        /// m.
        least: f64,
        /// m.
        most: f64,
    },
    /// Fewer stations than a table needs.
    #[error("{found} stations had points enough, {least} is the least: {why}")]
    FewStations {
        /// Found.
        found: usize,
        /// Least.
        least: usize,
        /// Where not.
        why: String,
    },
}

/// Cells that are no lengths.
#[derive(Debug, Clone, PartialEq)]
pub struct Cells {
    /// Each with its place.
    pub first: Vec<String>,
    /// How many more.
    pub more: usize,
}

impl std::fmt::Display for Cells {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.first.join("\n"))?;
        if self.more > 0 { write!(f, "\nand {} more", self.more) } else { Ok(()) }
    }
}
