//! Lists with named columns: marks.csv, boards.csv, nails.csv, a repair's readings.csv and holes.csv, and taken.csv.

use crate::offsets::sheet::{Record, records};
use crate::units::{LengthError, Notation, read_length};
use crate::words::{nearest, quoted};

/// Why a list cannot be read: the place, and the trouble there.
#[derive(Debug, Clone, PartialEq)]
pub struct ListError {
    /// `marks.csv`, `boards.csv`, `nails.csv`, `readings.csv`, `holes.csv` or `taken.csv`.
    pub file: &'static str,
    /// From 1; `None` where the file is empty.
    pub line: Option<usize>,
    /// The column's name; `None` where the whole line is meant.
    pub column: Option<String>,
    /// The trouble.
    pub problem: ListProblem,
}

impl std::error::Error for ListError {}

impl std::fmt::Display for ListError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.file)?;
        if let Some(line) = self.line {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = &self.column {
            write!(f, ", {}", quoted(column))?;
        }
        write!(f, ": {}", self.problem)
    }
}

/// The trouble itself. Lengths are said in the boat's own notation.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ListProblem {
    /// Nothing but comments.
    #[error("the file is empty; its first line must name the columns: {columns}; or take the file away")]
    Empty {
        /// The columns.
        columns: String,
    },
    /// A quoted cell runs over the end of its line.
    #[error("a quotation mark is opened here and not closed on its line; close it or take it out")]
    OpenQuote,
    /// A column that does not exist.
    #[error("there is no such column{}; known: {known}", nearest.as_ref().map_or_else(String::new, |n| format!(" (did you mean {n}?)")))]
    UnknownColumn {
        /// What it was perhaps meant for.
        nearest: Option<String>,
        /// All there are.
        known: String,
    },
    /// Sapwood that leaves nothing of a board.
    #[error("{} of sapwood along each edge leaves too little of the board; {most} is the most", quoted(found))]
    AllSapwood {
        /// As typed.
        found: String,
        /// Most, as lengths are said.
        most: String,
    },
    /// A knot or fault that cannot be.
    #[error(
        "{}: {why}; write each as its distance from the end, its distance from the lower edge, and how far it is across, with \
         commas between, and a semicolon before the next",
        quoted(found)
    )]
    Spoilt {
        /// As typed.
        found: String,
        /// What is wrong.
        why: String,
    },
    /// A column named twice.
    #[error("the column is named twice; take one out")]
    SameColumn,
    /// Neither a board nor a sheet.
    #[error("{} stands here; write board or sheet, or leave it empty for a board", quoted(found))]
    Kind {
        /// As typed.
        found: String,
    },
    /// None of the kinds that nails.csv lists.
    #[error("{} stands here; write nail, rove or screw", quoted(found))]
    Fastening {
        /// As typed.
        found: String,
    },
    /// None of the places on a plank that taken.csv knows.
    #[error("{} stands here; write surface, edge or middle: where on the planks the point was taken", quoted(found))]
    TakenOn {
        /// As typed.
        found: String,
    },
    /// A point without a place.
    #[error(
        "no place is given; fill in out and up, or in and up with the straightedge's half-breadth, or from_inner and from_outer"
    )]
    NoPlace,
    /// Two nails at one place.
    #[error(
        "the inner and the outer nail stand at one place; set them well apart, and correct inner_out to outer_up"
    )]
    OneNail,
    /// Tapes that do not reach one point.
    #[error(
        "{found} from the outer nail does not meet {inner} from the inner one: {range} would; measure both again"
    )]
    TapesApart {
        /// From the outer nail.
        found: String,
        /// From the inner one.
        inner: String,
        /// What it may be.
        range: String,
    },
    /// Tapes that cross too sharply.
    #[error(
        "the two tapes cross at {angle:.0} degrees, and {least:.0} is the least that fixes a point; set a nail elsewhere, or \
         measure this one out and up"
    )]
    SharpTapes {
        /// Degrees.
        angle: f64,
        /// Degrees.
        least: f64,
    },
    /// Tapes that meet where no boat is.
    #[error(
        "the two tapes meet at {place} {name}, out of range: {range} is allowed; are the nails the right way about? The hull lies \
         above the line from the inner to the outer one, or inboard of it"
    )]
    TapesMeet {
        /// Where.
        place: String,
        /// `out` or `up`.
        name: &'static str,
        /// Least and most.
        range: String,
    },
    /// Neither of a plank's two lands.
    #[error(
        "{} stands here; write lower for the land on the plank below, or upper for the one under the plank above",
        quoted(found)
    )]
    Land {
        /// As typed.
        found: String,
    },
    /// A cell that belongs to another kind.
    #[error("{} stands here, which a {kind} does not have; leave the cell empty", quoted(found))]
    Stray {
        /// As typed.
        found: String,
        /// Nail, rove or screw, or another thing.
        kind: &'static str,
    },
    /// No pack.
    #[error(
        "{} is no pack; write how many are in one, such as 250, or what one weighs, such as 1 kg, 500 g, 1 lb or 8 oz; leave it \
         empty where they come by the piece",
        quoted(found)
    )]
    Pack {
        /// As typed.
        found: String,
    },
    /// A pack that holds nothing.
    #[error("a pack of {} would not hold one of them, at {each} each; check its digits and its unit", quoted(found))]
    LightPack {
        /// As typed.
        found: String,
        /// Of one.
        each: String,
    },
    /// Screws by mass.
    #[error("what a screw weighs is not reckoned, for nobody said of what metal it is; write how many are in a pack")]
    ScrewsByMass,
    /// Packs in hand of what is not packed.
    #[error("packs are in hand here, but the column pack does not say how many are in one; fill it in")]
    InHandOfNoPack,
    /// A rove that its nail would fall through.
    #[error("a rove {found} across is no wider than its nail, {side}; check its digits, its unit and its gauge")]
    NarrowRove {
        /// Its diameter.
        found: String,
        /// Of the nail.
        side: String,
    },
    /// Nails, but none of the boat's gauge.
    #[error(
        "no nail of gauge {gauge} is listed, and boat.toml asks for it (fastenings.gauge); there are nails of gauge {known}: list \
         some of {gauge}, or ask for another"
    )]
    NoNails {
        /// Asked for.
        gauge: u32,
        /// Those listed.
        known: String,
    },
    /// A column that must be there.
    #[error("the column is missing; the first line must name {columns}")]
    NoColumn {
        /// The columns.
        columns: String,
    },
    /// A line shorter or longer than the first.
    #[error("the line has {found} cells where the first line has {wanted}; put a comma for each cell left empty")]
    Ragged {
        /// Cells in the line.
        found: usize,
        /// Cells in the first line.
        wanted: usize,
    },
    /// An empty cell that must be filled.
    #[error("the cell is empty; fill it in, or take the line out")]
    EmptyCell,
    /// No length.
    #[error(transparent)]
    Length(LengthError),
    /// No whole number.
    #[error("{} is not a whole number; write one", quoted(found))]
    Count {
        /// As typed.
        found: String,
    },
    /// Too small or too large.
    #[error("{} is out of range: {range} is allowed; check its digits and its unit", quoted(found))]
    Range {
        /// As typed.
        found: String,
        /// Least and most.
        range: String,
    },
    /// Too many lines.
    #[error("the file has {found} lines; {most} is the most that is read: take some out")]
    TooMany {
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// A station that the boat does not have.
    #[error("there is no station {}; there are {known}", quoted(found))]
    UnknownStation {
        /// As typed.
        found: String,
        /// Those there are.
        known: String,
    },
    /// Two marks of a land at a station, two boards of a name, two lines of one nail.
    #[error("{what} already stands on line {first}; keep one of the two")]
    Twice {
        /// What.
        what: String,
        /// Line of the first.
        first: usize,
    },
    /// A mark that is not above the one below.
    #[error(
        "land {land} at {found} from the rabbet is not above land {below} at {below_at} on the same mould; check both"
    )]
    NotAbove {
        /// The land.
        land: u32,
        /// Its girth, with its line where that is another.
        found: String,
        /// The land below.
        below: u32,
        /// Its girth, with its line where that is another.
        below_at: String,
    },
    /// A mark of land 0 that is not on the rabbet.
    #[error("land 0 is the rabbet, so its mark is at 0, not {found}; take the line out")]
    NotOnRabbet {
        /// The girth.
        found: String,
    },
    /// A name that is too long.
    #[error("the text has {found} letters; {most} is the most; shorten it")]
    LongText {
        /// Letters found.
        found: usize,
        /// Most.
        most: usize,
    },
}

/// Letters in a cell of text.
const MOST_LETTERS: usize = 40;
/// Letters in a cell that may be long.
const MOST_LONG: usize = 2000;
/// Lines in a list.
const MOST_LINES: usize = 5000;

/// A column that a list may have.
pub struct Column {
    pub name: &'static str,
    pub required: bool,
    /// Holds lengths; `NAME_mm` then says that its bare numbers are mm.
    pub length: bool,
}

/// A list whose first line has named its columns.
pub struct List {
    file: &'static str,
    columns: &'static [Column],
    /// For each column, where it stands and whether it is in mm.
    places: Vec<Option<(usize, bool)>>,
    pub lines: Vec<Record>,
}

impl List {
    /// Reads the first line's names and checks that every line has as many cells.
    pub fn read(file: &'static str, columns: &'static [Column], text: &str) -> Result<List, ListError> {
        let trouble = |line: Option<usize>, column: Option<&str>, problem| ListError {
            file,
            line,
            column: column.map(str::to_owned),
            problem,
        };
        let needed = || columns.iter().filter(|c| c.required).map(|c| c.name).collect::<Vec<_>>().join(", ");
        let mut records = records(text).map_err(|open| trouble(Some(open.line), None, ListProblem::OpenQuote))?;
        if records.is_empty() {
            return Err(trouble(None, None, ListProblem::Empty { columns: needed() }));
        }
        let header = records.remove(0);
        let width = 1 + header.cells.iter().rposition(|c| !c.is_empty()).unwrap_or(0);
        let mut places: Vec<Option<(usize, bool)>> = columns.iter().map(|_| None).collect();
        for (at, name) in header.cells.iter().take(width).enumerate() {
            let plain = name.to_lowercase().replace([' ', '-'], "_");
            let found = columns.iter().enumerate().find_map(|(c, column)| match plain.strip_prefix(column.name) {
                Some("") => Some((c, false)),
                Some("_mm") if column.length => Some((c, true)),
                _ => None,
            });
            let Some((c, mm)) = found else {
                let known: Vec<&str> = columns.iter().map(|c| c.name).collect();
                let problem = ListProblem::UnknownColumn {
                    nearest: nearest(&plain, known.iter().copied()).map(str::to_owned),
                    known: known.join(", "),
                };
                return Err(trouble(Some(header.line), Some(name), problem));
            };
            if places[c].replace((at, mm)).is_some() {
                return Err(trouble(Some(header.line), Some(name), ListProblem::SameColumn));
            }
        }
        for (column, place) in columns.iter().zip(&places) {
            if column.required && place.is_none() {
                let problem = ListProblem::NoColumn { columns: needed() };
                return Err(trouble(Some(header.line), Some(column.name), problem));
            }
        }
        if records.len() > MOST_LINES {
            let problem = ListProblem::TooMany { found: records.len(), most: MOST_LINES };
            return Err(trouble(None, None, problem));
        }
        for record in &records {
            if record.cells.len() < width || !record.empty_from(width) {
                let problem = ListProblem::Ragged { found: record.cells.len(), wanted: width };
                return Err(trouble(Some(record.line), None, problem));
            }
        }
        Ok(List { file, columns, places, lines: records })
    }

    /// The text of a cell; empty where the list has no such column.
    pub fn text<'a>(&self, record: &'a Record, name: &str) -> Result<&'a str, ListError> {
        let Some(c) = self.columns.iter().position(|c| c.name == name) else { return Ok("") };
        let text = self.places[c].and_then(|(at, _)| record.cells.get(at)).map_or("", String::as_str);
        let letters = text.chars().count();
        if text.is_empty() && self.columns[c].required {
            return Err(self.trouble(record, name, ListProblem::EmptyCell));
        }
        // A length that is too long has its own message.
        if letters > MOST_LETTERS && !self.columns[c].length {
            return Err(self.trouble(record, name, ListProblem::LongText { found: letters, most: MOST_LETTERS }));
        }
        Ok(text)
    }

    /// The text of a cell that may be long; empty where the list has no such column.
    pub fn long_text<'a>(&self, record: &'a Record, name: &str) -> Result<&'a str, ListError> {
        let c = self.columns.iter().position(|c| c.name == name);
        let place = c.and_then(|c| self.places[c]);
        let text = place.and_then(|(at, _)| record.cells.get(at)).map_or("", String::as_str);
        let letters = text.chars().count();
        if letters > MOST_LONG {
            return Err(self.trouble(record, name, ListProblem::LongText { found: letters, most: MOST_LONG }));
        }
        Ok(text)
    }

    /// As [`List::length`], of a cell that may be empty or not there.
    pub fn length_if_there(
        &self,
        record: &Record,
        name: &str,
        lengths: Notation,
        range: [f64; 2],
    ) -> Result<Option<f64>, ListError> {
        if self.text(record, name)?.is_empty() {
            Ok(None)
        } else {
            self.length(record, name, lengths, range).map(Some)
        }
    }

    /// The length in a cell that must be filled, within `range`; mm.
    pub fn length(&self, record: &Record, name: &str, lengths: Notation, range: [f64; 2]) -> Result<f64, ListError> {
        let text = self.text(record, name)?;
        let column = self.columns.iter().position(|c| c.name == name);
        let in_mm = column.and_then(|c| self.places[c]).is_some_and(|(_, mm)| mm);
        let bare = if in_mm { Notation::Mm } else { lengths };
        let mm = read_length(text, Some(bare)).map_err(|e| self.trouble(record, name, ListProblem::Length(e)))?;
        if (range[0]..=range[1]).contains(&mm) {
            return Ok(mm);
        }
        let range = super::range_said(bare, range);
        Err(self.trouble(record, name, ListProblem::Range { found: text.to_owned(), range }))
    }

    /// Trouble with a cell.
    pub fn trouble(&self, record: &Record, name: &str, problem: ListProblem) -> ListError {
        ListError { file: self.file, line: Some(record.line), column: Some(name.to_owned()), problem }
    }
}
