//! The table of offsets: what was given, what is fair, and how far each entry was moved.

use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::drawing::table::{Cell, Column, Row, Table};
use crate::drawing::{Anchor, Face};

/// As many pages as the table needs.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let beside = &plan.spec.name;
    let mut page = book.page("Table of offsets", beside);
    let frame = page.frame;
    let unit = if book.len.inches() { "hundredths of an inch" } else { "mm" };
    let words = format!(
        "Each entry as it was given, and under it how far the fair line moved it ({unit}; + is up or out). An entry is \
         tinted where the fair skin passes further off than the {} it was allowed: measure it again on the plan.",
        allowed(book)
    );
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 1.0;
    let mut pages = tables::over_pages(page, &table(book), || book.page("Table of offsets", beside));
    suspects(book, &mut pages);
    pages
}

fn allowed(book: &Book<'_>) -> String {
    let mm = book.plan.spec.lines.fair_within;
    if book.len.inches() { book.len.short_unit(mm) } else { format!("{mm} mm") }
}

fn table(book: &Book<'_>) -> Table {
    let plan = book.plan;
    // As large as fifteen columns of inches and sixteenths allow, with the fractions composed.
    let size = if book.len.inches() { 4.55 } else { look::BODY.size };
    let style = look::BODY.face(Face::Semibold).size(size);
    let mut columns = vec![tables::text("", 2.2)];
    columns.extend(plan.table.stations.iter().map(|s| Column {
        head: short_name(&s.name),
        share: 1.0,
        align: Anchor::Right,
        style,
    }));
    let mut table = tables::table(columns, 9.4);
    table.look.pad = 0.7;
    for (row, fair) in plan.table.rows.iter().zip(&plan.fair) {
        let mut cells: Vec<Cell> = vec![row.name.chars().take(60).collect::<String>().into()];
        for (given, fair) in row.cells.iter().zip(&fair.cells) {
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
        let hundredths = (mm / 0.254).round();
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
                row.name.chars().take(60).collect::<String>(),
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
        page = book.page("Table of offsets", name);
    }
    page.frame.top = page.head([page.frame.left, page.frame.top], head);
    for line in lines {
        let height = page.paragraph_height(page.frame.width(), look::BODY, line);
        if height > page.frame.height() {
            pages.push(page);
            page = book.page("Table of offsets", name);
        }
        page.frame.top = page.paragraph([page.frame.left, page.frame.top], page.frame.width(), look::BODY, line);
    }
    pages.push(page);
}
