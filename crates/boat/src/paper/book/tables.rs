//! The one look that every table of the book has.

use super::look;
use super::page::{Book, Page};
use crate::drawing::table::{Column, Look, Row, Table};
use crate::drawing::typeface::Type;
use crate::drawing::words::{self, Style};
use crate::drawing::{Anchor, Face, Stroke, Weight};
use crate::units::Notation;

/// An empty table with this book's pens; rows at least `row` mm high.
pub fn table(columns: Vec<Column>, row: f64) -> Table {
    Table {
        columns,
        groups: Vec::new(),
        rows: Vec::new(),
        look: Look {
            head: look::NOTE.face(Face::Semibold),
            rule: Stroke::solid(Weight::Thin, look::INK),
            hairline: look::RULE,
            zebra: Some(look::PAPER),
            row,
            pad: 1.3,
        },
    }
}

/// A column of numbers, ending on one line.
pub fn numbers(book: &Book<'_>, head: &str, share: f64) -> Column {
    Column { head: head.to_owned(), share, align: Anchor::Right, style: book.number() }
}

/// A column of lengths of the boat. Feet-inches-eighths have no fractions in them, but are long.
pub fn longs(book: &Book<'_>, head: &str, share: f64) -> Column {
    let style = if book.len.0 == Notation::Inches { look::FRACTIONS } else { look::NUMBER };
    Column { head: head.to_owned(), share, align: Anchor::Right, style }
}

/// A column of plain counts, degrees and the like: no fractions, so the lesser size will do.
pub fn counts(head: &str, share: f64) -> Column {
    Column { head: head.to_owned(), share, align: Anchor::Right, style: look::NUMBER }
}

/// A column of words.
pub fn text(head: &str, share: f64) -> Column {
    Column { head: head.to_owned(), share, align: Anchor::Left, style: look::BODY }
}

/// A column of names of stations, strakes and lands.
pub fn names(head: &str, share: f64) -> Column {
    let style = Style { face: Face::Semibold, ..look::NUMBER };
    Column { head: head.to_owned(), share, align: Anchor::Left, style }
}

/// Makes rows as high as `row` mm, and names and numbers as large as that allows, but no larger than fits every column
/// of a table `width` mm wide on one line.
pub fn grow(t: &Type, table: &mut Table, width: f64, row: f64) {
    table.look.row = row;
    let all: f64 = table.columns.iter().map(|c| c.share).sum();
    let mut size = (row * 0.64).min(6.2);
    for (i, column) in table.columns.iter().enumerate().filter(|(_, c)| is_figure(c)) {
        let inner = width * column.share / all - 2.0 * table.look.pad;
        for cell in table.rows.iter().filter_map(|r| r.cells.get(i)) {
            let wide = words::width(t, column.style.size(size), &cell.text);
            if wide > inner {
                size *= inner / wide;
            }
        }
    }
    for column in table.columns.iter_mut().filter(|c| is_figure(c)) {
        column.style.size = column.style.size.max(size);
    }
}

fn is_figure(column: &Column) -> bool {
    column.style.face != Face::Regular
}

/// Draws a table over as many pages as it needs: the first at its frame's top, the others made by `next_page`.
pub fn over_pages<'a>(first: Page<'a>, table: &Table, next_page: impl Fn() -> Page<'a>) -> Vec<Page<'a>> {
    let mut pages = Vec::new();
    let mut page = first;
    let mut from = 0;
    loop {
        let frame = page.frame;
        let at = [frame.left, frame.top];
        let drawn = table.draw(page.t, &mut page.sheet, at, frame.width(), frame.height(), from);
        from = drawn.next;
        page.frame.top = drawn.bottom;
        pages.push(page);
        if from >= table.rows.len() {
            return pages;
        }
        page = next_page();
    }
}

/// A row of plain texts.
pub fn row<S: Into<String>>(texts: impl IntoIterator<Item = S>) -> Row {
    Row { cells: texts.into_iter().map(|text| text.into().into()).collect() }
}
