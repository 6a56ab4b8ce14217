//! The cells of a file of numbers, whatever stands between them.

use super::problem::{ReadInError, ReadInProblem as Problem};
use crate::offsets::sheet::{is_comment, plain_ends, records_by};

/// A cell and where it stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cell {
    pub text: String,
    pub line: usize,
    pub column: usize,
}

/// A file's cells, lines filled up to one length.
pub struct Sheet {
    pub lines: Vec<Vec<Cell>>,
    /// `commas`, `semicolons` or `tabs`.
    pub between: &'static str,
    /// Comments, without their mark.
    pub comments: Vec<String>,
    /// It was saved with a byte order mark.
    pub mark: bool,
}

/// Lines and cells that are read.
const MOST_LINES: usize = 5000;
pub const MOST_CELLS: usize = 200;

impl Sheet {
    /// The cells of `text`.
    pub fn read(text: &str) -> Result<Sheet, ReadInError> {
        let mark = text.starts_with('\u{feff}');
        let text = &plain_ends(text);
        let (delimiter, between) = delimiter(text);
        let records = records_by(text, delimiter)
            .map_err(|open| ReadInError { cell: Some(open.column), ..Problem::OpenQuote.on(open.line) })?;
        let (lines, width) = (records.len(), records.iter().map(|r| r.cells.len()).max().unwrap_or(0));
        for (what, found, most) in [("lines", lines, MOST_LINES), ("cells in a line", width, MOST_CELLS)] {
            if found > most {
                let remedy = "take out what is no table of offsets";
                return Err(Problem::TooMany { what, found, most, remedy }.nowhere());
            }
        }
        let filled = |line: usize, mut cells: Vec<String>| {
            cells.resize(width, String::new());
            let cell = |(i, text)| Cell { text, line, column: i + 1 };
            cells.into_iter().enumerate().map(cell).collect::<Vec<_>>()
        };
        let lines: Vec<Vec<Cell>> = records.into_iter().map(|r| filled(r.line, r.cells)).collect();
        if lines.is_empty() {
            return Err(Problem::Empty.nowhere());
        }
        let comment = |l: &str| l.trim_start_matches(['"', ' ', '\t']).trim_start_matches('#').trim().to_owned();
        let comments = text.lines().filter(|l| is_comment(l)).map(comment).collect();
        Ok(Sheet { lines, between, comments, mark })
    }
}

/// A cell of a CSV file that is written: on one line, quoted where it must be.
pub fn in_csv(text: &str) -> String {
    let text = text.replace(['\n', '\r'], " ");
    if text.contains([',', '"', ';', '\t']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Tabs or semicolons where half the lines have any, else commas.
fn delimiter(text: &str) -> (u8, &'static str) {
    let lines = || text.lines().filter(|l| !is_comment(l) && !l.trim().is_empty());
    let half = lines().count().div_ceil(2).max(1);
    let has = |c: char| lines().filter(|l| l.contains(c)).count() >= half;
    if has('\t') {
        (b'\t', "tabs")
    } else if has(';') {
        (b';', "semicolons")
    } else {
        (b',', "commas")
    }
}
