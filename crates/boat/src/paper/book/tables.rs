//! The one look that every table of the book has.

use super::length::Lengths;
use super::look;
use super::page::Page;
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
        stay: Vec::new(),
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
pub fn numbers(len: Lengths, head: &str, share: f64) -> Column {
    Column { head: head.to_owned(), share, align: Anchor::Right, style: number(len) }
}

/// Numbers that may have fractions: with them they must be larger.
pub fn number(len: Lengths) -> Style {
    if len.inches() { look::FRACTIONS } else { look::NUMBER }
}

/// A column of lengths of the boat. Feet-inches-eighths have no fractions in them, but are long.
pub fn longs(len: Lengths, head: &str, share: f64) -> Column {
    let style = if len.0 == Notation::Inches { look::FRACTIONS } else { look::NUMBER };
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
        let inner = width * column.share / all - 2.0 * table.look.pad - 0.05;
        for cell in table.rows.iter().filter_map(|r| r.cells.get(i)) {
            let wide = words::width(t, column.style.size(size), &cell.text);
            if wide > inner && cell.style.is_none() {
                size *= inner / wide;
            }
        }
    }
    for column in table.columns.iter_mut().filter(|c| is_figure(c)) {
        column.style.size = column.style.size.max(size);
    }
}

/// How wide each column must be for its words to stand on one line, its head wrapped between words, mm.
fn natural(t: &Type, table: &Table) -> Vec<f64> {
    let pad = 2.0 * table.look.pad;
    let head = |head: &str| head.split(' ').map(|word| words::width(t, table.look.head, word)).fold(0.0, f64::max);
    let cell = |i: usize, row: &Row, style: Style| {
        row.cells.get(i).map_or(0.0, |c| words::width(t, c.style.unwrap_or(style), &c.text))
    };
    let column = |(i, c): (usize, &Column)| {
        table.rows.iter().map(|row| cell(i, row, c.style)).fold(head(&c.head), f64::max) + pad + 0.1
    };
    table.columns.iter().enumerate().map(column).collect()
}

/// The least width of a table whose words all stand on one line, mm.
pub fn natural_width(t: &Type, table: &Table) -> f64 {
    natural(t, table).iter().sum()
}

/// Shares `width` out so that every column has the room its words need and as much over as the others.
pub fn fit(t: &Type, table: &mut Table, width: f64) {
    let natural = natural(t, table);
    let over = (width - natural.iter().sum::<f64>()) / natural.len().max(1) as f64;
    for (column, wide) in table.columns.iter_mut().zip(natural) {
        column.share = (wide + over).max(1.0);
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

/// Rows that go on over the page are at least and at most so high, mm.
const REST: (f64, f64) = (5.6, 8.4);
/// Free between two columns of them, mm.
const REST_GAP: f64 = 8.0;

/// The rows from `from` on, which found no room where their table was first drawn, on pages that `blank` makes; none where all
/// found room.
pub fn rest<'a>(table: &mut Table, from: usize, blank: impl FnMut() -> Page<'a>) -> Vec<Page<'a>> {
    table.rows.drain(..from.min(table.rows.len()));
    table.look.row = REST.0;
    in_columns(table, REST_GAP, REST.1, blank)
}

/// A row of plain texts.
pub fn row<S: Into<String>>(texts: impl IntoIterator<Item = S>) -> Row {
    Row { cells: texts.into_iter().map(|text| text.into().into()).collect() }
}

/// Draws a table in as many columns, `gap` mm apart, and over as many pages as it needs, every column as deep as the
/// others and its rows no higher than `most_row` mm; `blank` makes a page.
pub fn in_columns<'a>(
    table: &mut Table,
    gap: f64,
    most_row: f64,
    mut blank: impl FnMut() -> Page<'a>,
) -> Vec<Page<'a>> {
    let least_row = table.look.row;
    let mut pages = Vec::new();
    let mut from = 0;
    while from < table.rows.len() {
        let mut page = blank();
        let frame = page.frame;
        let wide = natural_width(page.t, table);
        let columns = ((frame.width() + gap) / (wide + gap)).floor().max(1.0) as usize;
        let place = |i: usize| frame.column(i, columns, gap);
        fit(page.t, table, place(0).width());
        let tall = (0..table.rows.len()).map(|i| table.row_height(page.t, place(0).width(), i)).fold(1.0, f64::max);
        let room = frame.height() - table.head_height(page.t, place(0).width());
        let most = (room / tall).floor().max(1.0) as usize;
        // As deep on every page, so that the last is not left with a stump.
        let pages_left = (table.rows.len() - from).div_ceil(most * columns);
        let deep = (table.rows.len() - from).div_ceil(pages_left * columns);
        table.look.row = (room / deep as f64).min(most_row);
        let all = std::mem::take(&mut table.rows);
        for (i, part) in all[from..].chunks(deep).take(columns).enumerate() {
            table.rows = part.to_vec();
            let at = [place(i).left, frame.top];
            table.draw(page.t, &mut page.sheet, at, place(i).width(), frame.height() + 1.0, 0);
        }
        from = (from + deep * columns).min(all.len());
        table.rows = all;
        table.look.row = least_row;
        pages.push(page);
    }
    pages
}
