//! The timbers to cut and steam.

use super::length::degrees;
use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::timbers::Timber;

/// As many pages as the list needs.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    if plan.timbers.is_empty() {
        return Vec::new();
    }
    let spec = &plan.spec.timbers;
    let len = book.len;
    let mut page = book.page("Timbers", &plan.spec.name);
    let wood = if spec.wood.name.is_empty() { "wood" } else { spec.wood.name.as_str() };
    let total: f64 = plan.timbers.iter().map(|t| f64::from(t.pieces) * t.length).sum();
    let words = format!(
        "{} of {wood}, {} sided and {} moulded, at {} centres. Those marked 2 × are halves, for the sides rise over {} \
         at the keel: heel each on the keel. The others run from sheer to sheer in one length and cross the keel in a fair curve of their own, off its corner. \
         The length to \
         cut leaves {} over at both ends. {} of stock in all, without spares.{}",
        plan.timbers.len(),
        len.short_unit(spec.sided),
        len.short_unit(spec.moulded),
        spacing(book),
        degrees(spec.halves_over),
        len.short_unit(spec.spare),
        if len.inches() { format!("{:.0} ft", total / 304.8) } else { format!("{:.1} m", total / 1000.0) },
        if plan.timbers.iter().any(|t| t.mould.is_some()) {
            " A timber that stands in a mould goes in when that mould is out."
        } else {
            ""
        }
    );
    let frame = page.frame;
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 2.0;

    let mut from = 0;
    let mut pages = Vec::new();
    let mut table = table(book);
    loop {
        let frame = page.frame;
        let width = frame.column(0, 2, 10.0).width();
        let room = frame.height() - table.head_height(page.t, width);
        let left = (plan.timbers.len() - from).div_ceil(2).max(1);
        tables::grow(page.t, &mut table, width, (room / left as f64).clamp(6.6, 9.0));
        // Two even columns, if they fit on this page.
        let deep = left.min((room / table.look.row) as usize);
        for i in 0..2 {
            let place = frame.column(i, 2, 10.0);
            if from < table.rows.len() {
                let height = table.head_height(page.t, width) + deep as f64 * table.look.row;
                from = table.draw(page.t, &mut page.sheet, [place.left, place.top], width, height, from).next;
            }
        }
        pages.push(page);
        if from >= plan.timbers.len() {
            return pages;
        }
        page = book.page("Timbers", &plan.spec.name);
    }
}

fn table(book: &Book<'_>) -> crate::drawing::table::Table {
    let mut table = tables::table(
        vec![
            tables::names("timber", 0.8),
            tables::longs(book, "aft of first station", 1.2),
            tables::longs(book, "girth, one side", 1.2),
            tables::longs(book, "cut to", 1.5),
            tables::counts("rise at keel", 0.9),
            tables::longs(book, "least radius", 1.1),
        ],
        6.6,
    );
    let in_moulds = book.plan.timbers.iter().any(|t| t.mould.is_some());
    if in_moulds {
        table.columns.push(tables::text("in mould", 0.8));
    }
    for timber in &book.plan.timbers {
        let mut cells = vec![
            timber.n.to_string(),
            book.len.long(timber.x),
            book.len.long(timber.girth),
            cut(book, timber),
            degrees(timber.rise),
            book.len.long(timber.bend_radius_min),
        ];
        if in_moulds {
            cells.push(timber.mould.map_or_else(String::new, |m| short_name(&book.plan.moulds[m].name)));
        }
        table.rows.push(tables::row(cells));
    }
    table
}

/// What the timbers really stand apart: the keel divided evenly.
fn spacing(book: &Book<'_>) -> String {
    match &book.plan.timbers[..] {
        [a, b, ..] => book.len.fine_unit(b.x - a.x),
        _ => book.len.fine_unit(book.plan.spec.timbers.spacing),
    }
}

fn cut(book: &Book<'_>, timber: &Timber) -> String {
    let length = book.len.long(timber.length);
    if timber.pieces > 1 { format!("{} × {length}", timber.pieces) } else { length }
}
