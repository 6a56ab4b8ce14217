//! The table of offsets written again with other values, laid out as it was.
//!
//! The file itself is gone through cell by cell, so that whatever has no value (comments, names, the row `at`, blanks and
//! dashes, the way it runs and what stands between cells) stays as it is typed.

use super::Table;
use super::sheet::{delimiter, is_comment};
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
    let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n");
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
    let first = text.lines().find(|line| !is_comment(line) && !line.trim().is_empty()).unwrap_or_default();
    let delimiter = delimiter(first);
    let mut out: String = notes.iter().map(|note| format!("# {}\n", note.replace('\n', " "))).collect();
    for (i, line) in text.lines().enumerate() {
        if is_comment(line) || line.trim().is_empty() {
            out.push_str(line);
        } else {
            out.push_str(&rewritten(line, delimiter, |column| change(i + 1, column)));
        }
        out.push('\n');
    }
    out
}

/// `text`, a table as a file, with other texts in some of its cells, given by line and cell, both from 1; the rest stays as it is
/// typed. A line too short gets cells.
#[must_use]
pub fn with_cells(text: &str, cells: &[(usize, usize, String)]) -> String {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n");
    let first = text.lines().find(|line| !is_comment(line) && !line.trim().is_empty()).unwrap_or_default();
    let delimiter = delimiter(first);
    let mut out = String::new();
    for (i, line) in text.lines().enumerate() {
        let here: Vec<&(usize, usize, String)> = cells.iter().filter(|c| c.0 == i + 1).collect();
        if here.is_empty() {
            out.push_str(line);
        } else {
            let written = |typed: &str| {
                let special = |c: char| c == char::from(delimiter) || c == '"';
                let typed = typed.replace(['\n', '\r'], " ");
                if typed.contains(special) { format!("\"{}\"", typed.replace('"', "\"\"")) } else { typed }
            };
            let most = here.iter().map(|c| c.1).max().unwrap_or(0).min(MOST_CELLS);
            let has = rewritten(line, delimiter, |_| Some(String::new())).len() + 1;
            let padded = format!("{line}{}", char::from(delimiter).to_string().repeat(most.saturating_sub(has)));
            let change = |column: usize| here.iter().find(|c| c.1 == column).map(|c| written(&c.2));
            out.push_str(&rewritten(&padded, delimiter, change));
        }
        out.push('\n');
    }
    out
}

/// No line is made longer than so many cells.
const MOST_CELLS: usize = 200;

/// One line with some of its cells changed; the others keep their quotation marks and spaces.
fn rewritten(line: &str, delimiter: u8, change: impl Fn(usize) -> Option<String>) -> String {
    let delimiter = char::from(delimiter);
    let mut cells = vec![String::new()];
    let mut within = false;
    for c in line.chars() {
        within ^= c == '"';
        if c == delimiter && !within {
            cells.push(String::new());
        } else if let Some(cell) = cells.last_mut() {
            cell.push(c);
        }
    }
    let changed = |(i, cell): (usize, String)| change(i + 1).unwrap_or(cell);
    cells.into_iter().enumerate().map(changed).collect::<Vec<_>>().join(&delimiter.to_string())
}

#[cfg(test)]
mod tests {
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

    use super::super::{Expected, read_table};
    use super::*;

    const EXPECTED: Expected<'_> =
        Expected { lengths: Notation::Mm, spacing: Some(500.0), diagonals: &[], transom: false, bow_transom: false };

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
