//! A table as CSV that a spreadsheet opens as it is meant.
//!
//! Lines end with CR LF and quotes are doubled (RFC 4180); a mark of byte order at the head tells a spreadsheet that it is UTF-8.
//! Numbers have a decimal point and nothing else: no unit, no thousands. In a boat whose plan is in inches a length has two
//! columns: inches with decimals, to reckon with, and the fraction with its unit, to read (without the unit `3/4` would be
//! taken for a day in March). Text that a spreadsheet would take for a formula or a day has an apostrophe before it.

use crate::units::{INCH, Notation, POUND};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Words, or numbers of things.
    Plain,
    /// mm.
    Length,
    /// Radians; written in degrees.
    Angle,
    /// kg.
    Mass,
}

/// One place of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Nothing: it does not apply.
    Empty,
    /// Words.
    Text(String),
    /// A number of things, or a thing's own number.
    Count(usize),
    /// In the unit of its column.
    Number(f64),
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Cell::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Cell::Text(text)
    }
}

impl From<usize> for Cell {
    fn from(count: usize) -> Self {
        Cell::Count(count)
    }
}

impl From<u32> for Cell {
    fn from(count: u32) -> Self {
        Cell::Count(count as usize)
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Self {
        Cell::Number(number)
    }
}

impl From<bool> for Cell {
    fn from(yes: bool) -> Self {
        Cell::from(if yes { "yes" } else { "" })
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(maybe: Option<T>) -> Self {
        maybe.map_or(Cell::Empty, Into::into)
    }
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What its file is called: `table-rivets`.
    pub name: &'static str,
    /// Heads, without their units.
    pub columns: Vec<(&'static str, Unit)>,
    /// As many cells in each as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

/// The table as the bytes of a CSV file, its lengths in the builder's unit.
#[must_use]
pub fn write(table: &Table, lengths: Notation) -> String {
    let heads = table.columns.iter().flat_map(|(head, unit)| unit.heads(head, lengths));
    let mut text = format!("\u{feff}{}\r\n", line(heads));
    for row in &table.rows {
        let cells = table.columns.iter().zip(row).flat_map(|((_, unit), c)| unit.cells(c, lengths));
        text.push_str(&line(cells));
        text.push_str("\r\n");
    }
    text
}

fn line(cells: impl Iterator<Item = String>) -> String {
    cells.map(|c| cell(&c)).collect::<Vec<_>>().join(",")
}

impl Unit {
    fn heads(self, head: &str, lengths: Notation) -> Vec<String> {
        let units: &[&str] = match (self, lengths) {
            (Unit::Plain, _) => return vec![head.to_owned()],
            (Unit::Length, Notation::Mm) => &["mm"],
            (Unit::Length, _) => &["in", "in fractions"],
            (Unit::Angle, _) => &["degrees"],
            (Unit::Mass, Notation::Mm) => &["kg"],
            (Unit::Mass, _) => &["lb", "kg"],
        };
        units.iter().map(|unit| format!("{head} {unit}")).collect()
    }

    fn cells(self, cell: &Cell, lengths: Notation) -> Vec<String> {
        let number = match cell {
            Cell::Empty => f64::NAN,
            Cell::Text(text) => return self.padded(text.clone(), lengths),
            Cell::Count(n) => return self.padded(n.to_string(), lengths),
            Cell::Number(v) => *v,
        };
        match (self, lengths) {
            (Unit::Plain, _) => vec![decimal(number, 4)],
            (Unit::Length, Notation::Mm) => vec![decimal(number, 2)],
            (Unit::Length, _) => vec![decimal(number / INCH, 4), fraction(number)],
            (Unit::Angle, _) => vec![decimal(number.to_degrees(), 2)],
            (Unit::Mass, Notation::Mm) => vec![decimal(number, 3)],
            (Unit::Mass, _) => vec![decimal(number / POUND, 3), decimal(number, 3)],
        }
    }

    /// Words take the first of a column's places.
    fn padded(self, text: String, lengths: Notation) -> Vec<String> {
        let mut cells = vec![text];
        cells.resize(self.heads("", lengths).len(), String::new());
        cells
    }
}

/// A number to so many places, without a minus before nought; nothing for what is no number.
fn decimal(number: f64, places: usize) -> String {
    if !number.is_finite() {
        return String::new();
    }
    let text = format!("{number:.places$}");
    let nought = text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.');
    if nought { text.trim_start_matches('-').to_owned() } else { text }
}

/// A length as it is read off a rule, with a true minus sign, which is no formula.
fn fraction(mm: f64) -> String {
    if mm.is_finite() { Notation::Inches.said_fine(mm).replace('-', "\u{2212}") } else { String::new() }
}

/// A cell, quoted where it must be; what a spreadsheet would take for a formula or a day has an apostrophe before it, unless it
/// is a plain number.
#[must_use]
pub fn cell(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if (formula || reads_as_a_day(text)) && text.parse::<f64>().is_err() {
        format!("'{text}")
    } else {
        text.to_owned()
    };
    if text.contains(['"', ',', '\n', '\r', ';', '\'']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// `3/4`, `1-3-4`, `12:30`: numbers with marks between.
fn reads_as_a_day(text: &str) -> bool {
    let parts = || text.split(['/', '-', '.', ':']);
    parts().count() > 1 && parts().all(|part| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_a_formula_and_numbers_stay_numbers() {
        for (text, said) in [
            ("-2.5", "-2.5"),
            ("+3", "+3"),
            ("-1-3-4", "\"'-1-3-4\""),
            ("=1+1", "\"'=1+1\""),
            ("@SUM(A1)", "\"'@SUM(A1)\""),
            ("+cmd|' /C calc'!A0", "\"'+cmd|' /C calc'!A0\""),
            ("3 1/2\", tight", "\"3 1/2\"\", tight\""),
            ("Ada's phone", "\"Ada's phone\""),
            ("3/4", "\"'3/4\""),
            ("1-3-4", "\"'1-3-4\""),
            ("1-3-4+", "1-3-4+"),
            ("12.5", "12.5"),
            ("2026-05-04T07:30:00Z", "2026-05-04T07:30:00Z"),
            ("plain", "plain"),
        ] {
            assert_eq!(cell(text), said);
        }
    }

    #[test]
    fn lengths_stand_in_the_boats_own_unit() {
        let table = Table {
            name: "table",
            columns: vec![("at", Unit::Plain), ("girth", Unit::Length), ("bevel", Unit::Angle), ("mass", Unit::Mass)],
            rows: vec![
                vec!["=1".into(), 19.05.into(), (-0.1_f64).into(), 1.0.into()],
                vec![3_usize.into(), (-9.525).into(), Cell::Empty, Cell::Empty],
                vec![true.into(), (-0.001).into(), f64::NAN.into(), "none".into()],
            ],
        };
        assert_eq!(
            write(&table, Notation::Mm),
            "\u{feff}at,girth mm,bevel degrees,mass kg\r\n\"'=1\",19.05,-5.73,1.000\r\n3,-9.53,,\r\nyes,0.00,,none\r\n"
        );
        assert_eq!(
            write(&table, Notation::FeetInchesEighths),
            "\u{feff}at,girth in,girth in fractions,bevel degrees,mass lb,mass kg\r\n\"'=1\",0.7500,3/4 in,-5.73,2.205,1.000\r\n\
             3,-0.3750,\u{2212}3/8 in,,,\r\nyes,0.0000,0 in,,none,\r\n"
        );
    }
}
