//! Inside her: what to get out, then a page to each strip and thwart, and the knees.

use super::length::capital;
use super::page::{Book, Page};
use super::{knees, look, strips, tables, thwarts};
use crate::interior::pieces;

/// As many pages as there is of it; none where nothing is asked for.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    if book.plan.interior.is_empty() {
        return Vec::new();
    }
    let mut pages = list(book);
    pages.extend(book.plan.interior.strips.iter().flat_map(|s| strips::pages(book, s)));
    pages.extend(book.plan.interior.thwarts.iter().map(|t| thwarts::page(book, t)));
    pages.extend(knees::pages(book));
    pages
}

/// What to get out.
fn list<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    const TITLE: &str = "What goes inside her";
    let mut page = book.page(TITLE, &book.plan.spec.name);
    let frame = page.frame;
    let words = "Least boards, finished: planing, saw cuts and spoilt pieces come on top. Strips are cut to their flat shape, so \
                 that none is bent on the flat, and have wood left at both ends. Both pieces of a pair are the same shape, \
                 turned over. Full-size patterns of thwarts' ends, breasthooks and knees: strakewise patterns, --only interior. \
                 Not here: floorboards, fastenings of these parts, cleats and pads.";
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, words) + 2.0;
    let mut table = tables::table(
        vec![
            tables::text("piece", 2.0),
            tables::counts("how many", 0.7),
            tables::longs(book.len, "length", 1.1),
            tables::numbers(book.len, "width", 1.0),
            tables::numbers(book.len, "thickness", 1.0),
            tables::text("wood", 1.6),
        ],
        7.0,
    );
    for piece in pieces(&book.plan.interior) {
        let [length, width, thickness] = piece.size;
        table.rows.push(tables::row([
            capital(piece.name),
            piece.count.to_string(),
            book.len.long(book.len.0.to_have(length)),
            book.len.short(book.len.0.to_have(width)),
            book.len.fine(thickness),
            piece.wood.name.clone(),
        ]));
    }
    tables::over_pages(page, &table, || book.page(TITLE, &book.plan.spec.name))
}
