//! Lines and cells of a file that a spreadsheet may have written.
//!
//! Commas, semicolons or tabs between cells, whichever the first line has most of. A quotation mark that begins a cell holds it
//! together as far as the next (two stand for one); any other is a letter like the rest, mostly the mark of inches: `3 7/8"`.
//! Lines whose first cell begins with `#`, and lines with nothing in them, are left out, but every line keeps the number it
//! has in the file.

/// A line with something in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Line in the file, from 1; of its first line where a quoted cell runs on.
    pub line: usize,
    /// Trimmed texts; at least one.
    pub cells: Vec<String>,
}

impl Record {
    /// Whether all cells from `column` (from 0) on are empty.
    pub fn empty_from(&self, column: usize) -> bool {
        self.cells.iter().skip(column).all(String::is_empty)
    }
}

/// A cell with a line break in it: a quotation mark was opened and not closed.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenQuote {
    /// Line where it begins.
    pub line: usize,
    /// Cell, from 1.
    pub column: usize,
}

/// The lines of `text` with something in them, cells parted by what the first has most of.
pub fn records(text: &str) -> Result<Vec<Record>, OpenQuote> {
    let text = &plain_ends(text);
    records_by(text, delimiter_of(text))
}

/// What stands between cells in `text`, whose lines end by a line feed alone: what its first line that is no comment has most of.
pub fn delimiter_of(text: &str) -> u8 {
    let first = text.lines().find(|line| !is_comment(line) && !line.trim().is_empty());
    delimiter(first.unwrap_or_default())
}

/// `text` without a byte order mark, every line ended by a line feed alone.
pub fn plain_ends(text: &str) -> String {
    text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n")
}

/// The same, `delimiter` between cells.
pub fn records_by(text: &str, delimiter: u8) -> Result<Vec<Record>, OpenQuote> {
    let text = plain_ends(text);
    let mut numbers = Vec::new();
    let mut kept = String::with_capacity(text.len());
    for (i, line) in text.lines().enumerate() {
        if !is_comment(line) && !line.trim().is_empty() {
            numbers.push(i + 1);
            kept.push_str(line);
            kept.push('\n');
        }
    }
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(delimiter).from_reader(kept.as_bytes());
    let mut records = Vec::new();
    let mut record = csv::StringRecord::new();
    // The text is UTF-8, ragged lines are allowed and reading from memory cannot fail, so an error ends it.
    while matches!(reader.read_record(&mut record), Ok(true)) {
        let place = record.position().and_then(|p| usize::try_from(p.line()).ok()).unwrap_or(1);
        let line = numbers.get(place.saturating_sub(1)).copied().unwrap_or(place);
        if let Some(column) = record.iter().position(|cell| cell.contains('\n')) {
            return Err(OpenQuote { line, column: column + 1 });
        }
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            records.push(Record { line, cells });
        }
    }
    Ok(records)
}

/// A comment, as typed or with the quotation mark that a spreadsheet puts round it.
pub fn is_comment(line: &str) -> bool {
    let line = line.trim_start();
    line.strip_prefix('"').unwrap_or(line).trim_start().starts_with('#')
}

/// Whichever of the three the line has most of outside quotation marks; a comma where it has none.
pub fn delimiter(line: &str) -> u8 {
    let between = between_cells(line, |c| matches!(c, ',' | ';' | '\t'));
    let [comma, semicolon, tab] = [',', ';', '\t'].map(|d| between.iter().filter(|(_, c)| *c == d).count());
    if semicolon > comma && semicolon >= tab {
        b';'
    } else if tab > comma {
        b'\t'
    } else {
        b','
    }
}

/// The cells of one line as they are typed, quotation marks and spaces with them; at least one.
pub fn as_typed(line: &str, delimiter: u8) -> Vec<&str> {
    let mut from = 0;
    let mut cells = Vec::new();
    for (at, _) in between_cells(line, |c| c == char::from(delimiter)) {
        cells.push(&line[from..at]);
        from = at + 1;
    }
    cells.push(&line[from..]);
    cells
}

/// The marks between cells and where each stands, those within quotation marks left out.
fn between_cells(line: &str, parts: impl Fn(char) -> bool) -> Vec<(usize, char)> {
    let mut found = Vec::new();
    let (mut begins, mut within) = (true, false);
    let mut letters = line.char_indices().peekable();
    while let Some((at, c)) = letters.next() {
        let opens = begins && c == '"';
        begins = false;
        if opens {
            within = true;
        } else if within {
            // Two marks are one of the cell's.
            within = c != '"' || letters.next_if(|(_, next)| *next == '"').is_some();
        } else if parts(c) {
            found.push((at, c));
            begins = true;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_their_numbers_whatever_wrote_them() {
        let plain = "# a, comment\nrow,1,2\n\nsheer,\"4,5\", 6 \n,,\n  # more\nlast,7,8";
        let expected = [(2, vec!["row", "1", "2"]), (4, vec!["sheer", "4,5", "6"]), (7, vec!["last", "7", "8"])];
        let expected: Vec<Record> =
            expected.map(|(line, c)| Record { line, cells: c.into_iter().map(str::to_owned).collect() }).into();
        assert_eq!(records(plain).unwrap(), expected);
        let windows = format!("\u{feff}{}", plain.replace('\n', "\r\n"));
        assert_eq!(records(&windows).unwrap(), expected);
        assert_eq!(records(&plain.replace('\n', "\r")).unwrap(), expected);
        let semicolons = "\"# a, comment\";;\nrow;1;2\n\nsheer;4,5;6\n;;\n\nlast;7;8";
        assert_eq!(records(semicolons).unwrap(), expected);
    }

    #[test]
    fn an_open_quotation_mark_is_found_where_it_stands() {
        assert_eq!(records("a,b\n# c\nd,\"e\nf,g\n"), Err(OpenQuote { line: 3, column: 2 }));
    }

    #[test]
    fn the_mark_of_inches_holds_no_cells_together() {
        let text = "plan of 3/8\" plank;wl 6\";wl 12\"\n1;3 7/8\";\"4, \"\"5\"\n";
        let read = records(text).unwrap();
        assert_eq!(read[0].cells, ["plan of 3/8\" plank", "wl 6\"", "wl 12\""]);
        assert_eq!(read[1].cells, ["1", "3 7/8\"", "4, \"5"]);
        for (line, record) in text.lines().zip(&read) {
            assert_eq!(as_typed(line, b';').len(), record.cells.len(), "{line}");
        }
        assert_eq!(as_typed("a,\"b,\"\"c\", \"d,e", b','), ["a", "\"b,\"\"c\"", " \"d", "e"]);
        assert_eq!(as_typed("", b','), [""]);
        assert_eq!(delimiter("a;\"1,2,3\""), b';');
    }
}
