//! The table of offsets written again with other values, laid out as it was.
//!
//! The file itself is gone through cell by cell, so that whatever has no value (comments, names, the row `at`, blanks and
//! dashes, the way it runs and what stands between cells) stays as it is typed.

use super::Table;
use super::sheet::{as_typed, delimiter_of, is_comment, plain_ends};
use crate::units::Notation;

/// `text`, the file that `table` was read from, with `value` of each row and station in place of its entry, to 1 mm or
/// 1/16 in in the notation of `lengths`; an entry without stays as typed. `notes` stand over it as comments.
#[must_use]
pub fn corrected(
    text: &str,
    table: &Table,
    lengths: Notation,
    notes: &[String],
    value: impl Fn(usize, usize) -> Option<f64>,
) -> String {
    let change = |line: usize, column: usize| -> Option<String> {
        for (r, row) in table.rows.iter().enumerate() {
            for (c, cell) in row.cells.iter().enumerate() {
                if cell.as_ref().is_none_or(|cell| (cell.line, cell.column) != (line, column)) {
                    continue;
                }
                return value(r, c).map(|mm| lengths.long(mm.max(row.kind.least())));
            }
        }
        None
    };
    let notes: String = notes.iter().map(|note| format!("# {}\n", one_line(note))).collect();
    notes
        + &line_by_line(text, |number, line, delimiter| {
            let bare = is_comment(line) || line.trim().is_empty();
            (!bare).then(|| rewritten(line, delimiter, |column| change(number, column)))
        })
}

/// `text`, a table as a file, with other texts in some of its cells, given by line and cell, both from 1; the rest stays as it is
/// typed. A line too short gets cells.
#[must_use]
pub fn with_cells(text: &str, cells: &[(usize, usize, String)]) -> String {
    line_by_line(text, |number, line, delimiter| {
        let here: Vec<&(usize, usize, String)> = cells.iter().filter(|c| c.0 == number).collect();
        let most = here.iter().map(|c| c.1).max()?.min(MOST_CELLS);
        let delimiter_char = char::from(delimiter);
        let written = |typed: &str| {
            let typed = one_line(typed);
            let special = typed.contains([delimiter_char, '"']);
            if special { format!("\"{}\"", typed.replace('"', "\"\"")) } else { typed }
        };
        let missing = most.saturating_sub(as_typed(line, delimiter).len());
        let padded = format!("{line}{}", delimiter_char.to_string().repeat(missing));
        let change = |column: usize| here.iter().find(|c| c.1 == column).map(|c| written(&c.2));
        Some(rewritten(&padded, delimiter, change))
    })
}

/// No line is made longer than so many cells.
const MOST_CELLS: usize = 200;

/// `text` with what `changed` makes of each line, given its number from 1 and what stands between cells; as it is where that is
/// nothing.
fn line_by_line(text: &str, changed: impl Fn(usize, &str, u8) -> Option<String>) -> String {
    let text = plain_ends(text);
    let delimiter = delimiter_of(&text);
    let mut out = String::new();
    for (i, line) in text.lines().enumerate() {
        out.push_str(changed(i + 1, line, delimiter).as_deref().unwrap_or(line));
        out.push('\n');
    }
    out
}

/// One line with some of its cells changed; the others keep their quotation marks and spaces.
fn rewritten(line: &str, delimiter: u8, change: impl Fn(usize) -> Option<String>) -> String {
    let cells = as_typed(line, delimiter).into_iter().enumerate();
    let cells: Vec<String> = cells.map(|(i, cell)| change(i + 1).unwrap_or_else(|| cell.to_owned())).collect();
    cells.join(&char::from(delimiter).to_string())
}

/// Without line breaks, which would begin another line of the file.
fn one_line(words: &str) -> String {
    words.replace(['\n', '\r'], " ")
}

#[cfg(test)]
mod tests {
    use super::super::{Expected, read_table};
    use super::*;

    const EXPECTED: Expected<'_> =
        Expected { lengths: Notation::Mm, spacing: Some(500.0), diagonals: &[], transom: false, bow_transom: false };

    /// Inches as builders write them, unquoted: each entry is written again in its own cell.
    #[test]
    fn cells_with_the_mark_of_inches_are_cells() {
        let text = "row,1,2,3,4\nheight sheer,23 5/8\",21 1/2\",19 3/4\",18 1/2\"\nhb sheer,1\",2\",3\",4\"\n\
                    hb wl 12\",1\",2\",3\",4\"\nh rabbet,3/8\",3/8\",3/8\",3/8\"\n";
        let expected = Expected { lengths: Notation::Inches, ..EXPECTED };
        let (table, _) = read_table(text, &expected).unwrap();
        let values = table.values();
        let out = corrected(text, &table, Notation::Inches, &[], |r, c| values[r][c]);
        assert_eq!(out, text.replace('"', "").replace("wl 12", "wl 12\""));
        assert_eq!(read_table(&out, &expected).unwrap().0.values(), values);
        assert_eq!(
            super::with_cells(text, &[(3, 3, "5\"".to_owned())]).lines().nth(2),
            Some("hb sheer,1\",\"5\"\"\",3\",4\"")
        );
    }

    #[test]
    fn cells_are_changed_and_the_rest_stays_as_typed() {
        let text = "# note\r\nrow;1; 2 \r\n\r\nsheer;4,5;6\n";
        let cell = |line, column, text: &str| (line, column, text.to_owned());
        assert_eq!(super::with_cells(text, &[cell(4, 2, "7")]), "# note\nrow;1; 2 \n\nsheer;7;6\n");
        assert_eq!(
            super::with_cells(text, &[cell(4, 3, "a;b"), cell(2, 4, "3")]),
            "# note\nrow;1; 2 ;3\n\nsheer;4,5;\"a;b\"\n"
        );
        assert_eq!(super::with_cells(text, &[]), "# note\nrow;1; 2 \n\nsheer;4,5;6\n");
    }

    #[test]
    fn only_the_entries_change() {
        let text = "\u{feff}# a; comment\r\nstation; height sheer ;\"half-breadth sheer\";hb wl 300;height rabbet\r\n\
                    \r\n1;600;190 mm;90;-\r\n2;\"550\";400;300;70\r\n3;500;550;400;70\r\n4;470;350;0;70\r\n";
        let (table, _) = read_table(text, &EXPECTED).unwrap();
        let values = table.values();
        let value = |r: usize, c: usize| values[r][c].map(|v| v - if c == 3 { 0.6 } else { -0.4 });
        let out = corrected(text, &table, Notation::Mm, &["Corrected.".to_owned()], value);
        let expected = "# Corrected.\n# a; comment\nstation; height sheer ;\"half-breadth sheer\";hb wl 300;height rabbet\n\
                        \n1;600;190;90;-\n2;550;400;300;70\n3;500;550;400;70\n4;469;349;0;69\n";
        assert_eq!(out, expected);
        let (again, _) = read_table(&out, &EXPECTED).unwrap();
        assert_eq!(again.stations, table.stations);
    }

    #[test]
    fn what_has_no_value_stays_as_typed() {
        let text = "row,1,2,3,4\nat,0,500,1000,1500\nheight sheer,600,550,500,480\nhb sheer,1,2,3,4\nhb wl 300,1,2,3,4\nh rabbet,9,9,,9\n";
        let expected = Expected { spacing: None, ..EXPECTED };
        let (table, _) = read_table(text, &expected).unwrap();
        assert_eq!(corrected(text, &table, Notation::Mm, &[], |_, _| None), text);
        let out = corrected(text, &table, Notation::Mm, &[], |_, _| Some(1234.0));
        assert!(out.contains("at,0,500,1000,1500\n") && out.contains("h rabbet,1234,1234,,1234\n"), "{out}");
    }
}
