//! The table of offsets: what was given and how far each entry was moved; and the table corrected, laid out as the plan has
//! it.

use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::drawing::table::{Cell, Column, Row, Table};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Face};
use crate::spec::DrawnTo;
use crate::units::INCH;
use std::ops::Range;

/// As many pages as the table needs.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let beside = &plan.spec.name;
    let mut page = book.page(TITLE, beside);
    let frame = page.frame;
    let unit = if book.len.inches() { "hundredths of an inch" } else { "mm" };
    let words = format!(
        "Each entry as it was given, and under it how far the fair line moved it ({unit}; + is up or out). An entry is \
         tinted where the fair skin passes further off than the {} it was allowed: measure it again on the plan.",
        allowed(book)
    );
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 1.0;
    let mut pages =
        abreast(vec![page], book.plan.table.stations.len(), || book.page(TITLE, beside), |some| given(book, some));
    suspects(book, &mut pages);
    pages.extend(corrected(book));
    pages
}

/// What the pages of the table as given are called.
const TITLE: &str = "Table of offsets";
/// Columns of lengths that stand side by side on a page.
const ABREAST: usize = 15;
/// Free between a table and the one under it with the next columns, mm.
const UNDER: f64 = 5.0;
/// A table begins on a page only where there is so much room, mm.
const LEAST_TABLE: f64 = 40.0;

/// A table of `columns` columns of lengths as tables under one another, each of as many as stand side by side, from what is
/// free on the last of `pages` on.
fn abreast<'a>(
    mut pages: Vec<Page<'a>>,
    columns: usize,
    next: impl Fn() -> Page<'a>,
    table: impl Fn(Range<usize>) -> Table,
) -> Vec<Page<'a>> {
    for first in (0..columns).step_by(ABREAST) {
        let Some(mut page) = pages.pop() else { break };
        if first > 0 {
            page.frame.top += UNDER;
        }
        if page.frame.height() < LEAST_TABLE {
            pages.push(std::mem::replace(&mut page, next()));
        }
        pages.extend(tables::over_pages(page, &table(first..(first + ABREAST).min(columns)), &next));
    }
    pages
}

/// The table as it is faired, to pin up beside the plan.
fn corrected<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    if plan.table.rows.is_empty() {
        return Vec::new();
    }
    let title = "Corrected table of offsets";
    let next = || book.page(title, &plan.spec.name);
    let mut page = next();
    let frame = page.frame;
    let face = match plan.spec.lines.drawn_to {
        DrawnTo::Inside => "inside",
        DrawnTo::Outside => "outside",
    };
    let unit = plan.spec.lengths.unit_of_table();
    let unit = if book.len.inches() { book.len.short_unit(unit) } else { format!("{unit} mm") };
    let mut places =
        plan.table.rows.iter().enumerate().flat_map(|(r, row)| (0..row.cells.len()).map(move |c| (r, c)));
    let key = if places.any(|(r, c)| moved(book, r, c)) {
        "Bold: not as given."
    } else {
        "None is so far from the given one that it would read otherwise."
    };
    let doubtful = plan.fair.iter().flat_map(|r| &r.cells).flatten().any(|f| f.suspect);
    let words = format!(
        "Each entry where the fair line passes, to {unit}, in the plan's own notation and to the {face} of the planking as \
         the plan is. {key} {}The same as a file: strakewise offsets.",
        if doubtful { "With ? on a tint: the given entry is doubtful, see the pages before. " } else { "" },
    );
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 1.0;
    let stations: Vec<String> = plan.table.stations.iter().map(|s| short_name(&s.name)).collect();
    let rows: Vec<String> = plan.table.rows.iter().map(|r| cut(&r.name)).collect();
    // A plan with its stations down the page is followed if its rows find room side by side.
    let down = !plan.table.stations_run_across() && rows.len() <= ABREAST;
    let (heads, sides) = if down { (&rows, &stations) } else { (&stations, &rows) };
    abreast(vec![page], heads.len(), next, |some| {
        let style = figures(book);
        let mut columns = vec![tables::text(if down { "station" } else { "" }, if down { 0.8 } else { 2.2 })];
        columns.extend(some.clone().map(|i| column(heads[i].clone(), style)));
        let mut table = tables::table(columns, 8.0);
        table.look.pad = 0.7;
        for (side, name) in sides.iter().enumerate() {
            let mut cells: Vec<Cell> = vec![name.as_str().into()];
            cells.extend(some.clone().map(|head| {
                let (r, c) = if down { (head, side) } else { (side, head) };
                fair_entry(book, r, c)
            }));
            table.rows.push(Row { cells });
        }
        table
    })
}

/// Whether an entry of the corrected table reads otherwise than it was given.
fn moved(book: &Book<'_>, r: usize, c: usize) -> bool {
    let plan = book.plan;
    let given = plan.table.rows.get(r).and_then(|row| row.cells.get(c)?.as_ref());
    let fair = plan.fair.get(r).and_then(|row| row.cells.get(c)?.as_ref());
    let (Some(given), Some(fair), Some(row)) = (given, fair, plan.table.rows.get(r)) else { return false };
    book.len.long(fair.fair.max(row.kind.least())) != book.len.long(given.mm) || given.settled.is_some()
}

/// An entry of the corrected table: bold where it is not as given.
fn fair_entry(book: &Book<'_>, r: usize, c: usize) -> Cell {
    let plan = book.plan;
    let given = plan.table.rows.get(r).and_then(|row| row.cells.get(c)?.as_ref());
    let fair = plan.fair.get(r).and_then(|row| row.cells.get(c)?.as_ref());
    let (Some(_), Some(fair), Some(row)) = (given, fair, plan.table.rows.get(r)) else {
        return Cell { text: "\u{2013}".to_owned(), style: Some(look::NOTE), ..Cell::default() };
    };
    let text = book.len.long(fair.fair.max(row.kind.least()));
    let plain = figures(book);
    let style = if moved(book, r, c) { plain.face(Face::Bold) } else { plain.face(Face::Regular) };
    if fair.suspect {
        let style = style.colour(look::COPPER);
        return Cell {
            text: format!("{text} ?"),
            style: Some(style),
            ground: Some(look::COPPER_TINT),
            ..Cell::default()
        };
    }
    Cell { text, style: Some(style), ..Cell::default() }
}

/// Entries of a table: as large as fifteen columns of inches and sixteenths allow, with the fractions composed.
fn figures(book: &Book<'_>) -> Style {
    look::BODY.face(Face::Semibold).size(if book.len.inches() { 4.55 } else { look::BODY.size })
}

fn column(head: String, style: Style) -> Column {
    Column { head, share: 1.0, align: Anchor::Right, style }
}

fn cut(name: &str) -> String {
    name.chars().take(60).collect()
}

fn allowed(book: &Book<'_>) -> String {
    let mm = book.plan.spec.lines.fair_within;
    if book.len.inches() { book.len.short_unit(mm) } else { format!("{mm} mm") }
}

/// The entries of some stations as they were given, and how far the fair line moved each.
fn given(book: &Book<'_>, some: Range<usize>) -> Table {
    let plan = book.plan;
    let style = figures(book);
    let mut columns = vec![tables::text("", 2.2)];
    let stations = plan.table.stations.iter().take(some.end).skip(some.start);
    columns.extend(stations.map(|s| column(short_name(&s.name), style)));
    let mut table = tables::table(columns, 9.4);
    table.look.pad = 0.7;
    for (row, fair) in plan.table.rows.iter().zip(&plan.fair) {
        let mut cells: Vec<Cell> = vec![cut(&row.name).into()];
        for (given, fair) in row.cells.iter().zip(&fair.cells).take(some.end).skip(some.start) {
            let mut cell = Cell {
                text: given.as_ref().map_or_else(|| "\u{2013}".to_owned(), |c| c.text.clone()),
                ..Cell::default()
            };
            if given.is_none() {
                cell.style = Some(look::NOTE);
            }
            if let Some(fair) = fair {
                cell.under = change(book, fair.change);
                if fair.suspect {
                    cell.ground = Some(look::COPPER_TINT);
                    cell.style = Some(style.colour(look::COPPER));
                }
            }
            cells.push(cell);
        }
        table.rows.push(Row { cells });
    }
    table
}

/// A change with its sign; a dot for none.
fn change(book: &Book<'_>, mm: f64) -> String {
    let (shown, text) = if book.len.inches() {
        let hundredths = (100.0 * mm / INCH).round();
        (hundredths, format!("{:.0}", hundredths.abs()))
    } else {
        let tenths = (mm * 10.0).round() / 10.0;
        (tenths, format!("{:.1}", tenths.abs()))
    };
    match shown {
        s if s > 0.0 => format!("+{text}"),
        s if s < 0.0 => format!("\u{2212}{text}"),
        _ => "\u{b7}".to_owned(),
    }
}

/// What the doubtful entries should probably say, under the table.
fn suspects<'a>(book: &Book<'a>, pages: &mut Vec<Page<'a>>) {
    let plan = book.plan;
    let mut lines = Vec::new();
    for (row, fair) in plan.table.rows.iter().zip(&plan.fair) {
        for ((given, fair), station) in row.cells.iter().zip(&fair.cells).zip(&plan.table.stations) {
            let (Some(given), Some(fair)) = (given, fair) else { continue };
            if !fair.suspect {
                continue;
            }
            lines.push(format!(
                "Line {} of the table, {}, station {}: says {}, the fair line passes at {}{}.",
                given.line,
                cut(&row.name),
                short_name(&station.name),
                given.text,
                book.len.long(fair.fair),
                fair.likely()
            ));
        }
    }
    let settled = plan.table.settled(plan.spec.lengths);
    for (head, lines) in [("Look at these", lines), ("Settled by the builder, in boat.toml", settled)] {
        list(book, pages, head, &lines);
    }
}

/// Lines under a head, after the table.
fn list<'a>(book: &Book<'a>, pages: &mut Vec<Page<'a>>, head: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    let name = &book.plan.spec.name;
    let Some(mut page) = pages.pop() else { return };
    page.frame.top += 5.0;
    if page.frame.height() < 16.0 {
        pages.push(page);
        page = book.page(TITLE, name);
    }
    page.frame.top = page.head([page.frame.left, page.frame.top], head);
    for line in lines {
        let height = page.paragraph_height(page.frame.width(), look::BODY, line);
        if height > page.frame.height() {
            pages.push(page);
            page = book.page(TITLE, name);
        }
        page.frame.top = page.paragraph([page.frame.left, page.frame.top], page.frame.width(), look::BODY, line);
    }
    pages.push(page);
}
