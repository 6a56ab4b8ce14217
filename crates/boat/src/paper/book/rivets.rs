//! The rivets of one land: where each goes, its nail, and what it waits for.

use super::length::degrees;
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::{section_name, short_name};
use super::tables;
use crate::drawing::table::{Row, Table};
use crate::drawing::{Anchor, Face};
use crate::fastenings::{Rivet, place};
use crate::planks::Strake;

/// Free between two columns of the sheet, mm.
const GAP: f64 = 5.0;
/// Rows grow to this where there is room, mm.
const ROW: f64 = 7.6;

/// The sheets of the land on a strake's upper edge; none where it has no rivets.
pub fn pages<'a>(book: &Book<'a>, strake: &Strake) -> Vec<Page<'a>> {
    let rivets = of_land(book, strake.strake);
    let mut table = empty(book);
    table.rows = rivets.iter().map(|r| row(book, strake, r)).collect();
    tables::in_columns(&mut table, GAP, ROW, || blank(book, strake, &rivets))
}

/// The rivets of a land, from the bow.
pub fn of_land<'a>(book: &Book<'a>, land: usize) -> Vec<&'a Rivet> {
    book.plan.rivets.iter().filter(|r| r.land == land).collect()
}

fn empty(book: &Book<'_>) -> Table {
    let columns = vec![
        tables::counts("rivet", 1.0),
        tables::longs(book.len, "along from bow", 1.0),
        tables::numbers(book.len, "from a station", 1.0),
        tables::numbers(book.len, "nail", 1.0),
        tables::counts("lean", 1.0),
        tables::numbers(book.len, "grip", 1.0),
        tables::numbers(book.len, "to edge", 1.0),
        tables::numbers(book.len, "if square", 1.0),
        tables::counts("timber", 1.0),
        tables::counts("mould", 1.0),
    ];
    tables::table(columns, 1.0)
}

fn row(book: &Book<'_>, strake: &Strake, rivet: &Rivet) -> Row {
    let mould = rivet.blocked_by.and_then(|i| book.plan.moulds.get(i));
    let mut row = tables::row([
        format!("{}{}", if rivet.in_gain { "g " } else { "" }, rivet.n),
        book.len.long(rivet.along),
        from_station(book, strake, rivet.along),
        rivet.nail.map_or_else(|| "\u{2013}".to_owned(), |nail| book.len.short(nail)),
        degrees(rivet.lean),
        book.len.fine(rivet.grip),
        book.len.fine(rivet.head_edge),
        book.len.fine(rivet.head_edge_square),
        rivet.timber.and_then(|i| book.plan.timbers.get(i)).map_or_else(String::new, |t| t.n.to_string()),
        mould.map_or_else(String::new, |m| short_name(&m.name)),
    ]);
    for (cell, column) in row.cells.iter_mut().zip(&empty(book).columns) {
        if rivet.timber.is_none() {
            cell.style = Some(column.style.face(Face::Regular));
        }
        cell.ground = mould.map(|_| look::COPPER_TINT);
    }
    row
}

/// A place on a strake's upper edge from the nearest station's mark there: `4 + 3 1/8` is so far aft of station 4's.
pub fn from_station(book: &Book<'_>, strake: &Strake, along: f64) -> String {
    off_station(book, place::from_station(strake, &book.plan.sections, along))
}

/// So far off a station, its section and the distance, in words.
pub fn off_station(book: &Book<'_>, nearest: Option<(usize, f64)>) -> String {
    let Some((section, off)) = nearest else { return String::new() };
    let (name, distance) = (section_name(book, section), book.len.short(off.abs()));
    match (distance.as_str(), off < 0.0) {
        ("0", _) => name,
        (_, true) => format!("{name} \u{2212} {distance}"),
        (_, false) => format!("{name} + {distance}"),
    }
}

fn blank<'a>(book: &Book<'a>, strake: &Strake, rivets: &[&Rivet]) -> Page<'a> {
    let k = strake.strake;
    let beside = format!("strake {} on strake {k}, {} a side", k + 1, count(rivets.len(), "rivet"));
    let mut page = book.page(&format!("Rivets of land {k}"), &beside);
    let frame = page.frame;
    let legend = legend(book);
    page.frame.top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, &legend) - 1.2;
    page.frame.bottom -= 3.0;
    if rivets.iter().any(|r| r.blocked_by.is_some()) {
        swatch(&mut page, Frame { top: frame.bottom - 2.2, ..frame });
    }
    page
}

fn legend(book: &Book<'_>) -> String {
    let (off, words) = if book.len.inches() { ("3 1/8", "3 1/8 in") } else { ("80", "80 mm") };
    let longs = if book.len.inches() { "2" } else { "50" };
    format!(
        "Each in the middle of the land. Along the land line, the upper inner edge of the strake below, from its fore \
         end and from the nearest station's mark: 4 + {off} is {words} aft of station 4's, 5 \u{2212} {longs} is {longs} \
         before 5's. Bold: through a timber, once that is in. g: inside a gain. Lean: of the drill off square to the strake \
         below, its outer end up, or with \u{2212} down. Grip: the wood held. To edge: from the head's middle to the outer plank's \
         edge, and if it were drilled square."
    )
}

fn swatch(page: &mut Page<'_>, foot: Frame) {
    let Frame { left, top, .. } = foot;
    let patch = vec![[left, top], [left + 7.0, top], [left + 7.0, top + 3.0], [left, top + 3.0]];
    page.put("ground", crate::drawing::Shape::area(patch, look::COPPER_TINT, None));
    let words = "waits until the mould named is out: tick it off when it is in";
    page.words([left + 9.0, top + 2.5], Anchor::Left, look::NOTE, words);
}

/// `1 rivet`, `68 rivets`.
pub fn count(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// Numbers as runs: `1 to 5, 9`. Two are of one run when no other of `among` stands between them.
pub fn runs(numbers: &[usize], among: &[usize]) -> String {
    let place = |n: usize| among.iter().position(|a| *a == n);
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &n in numbers {
        match runs.last_mut() {
            Some((_, last)) if place(n).zip(place(*last)).is_some_and(|(a, b)| a == b + 1) => *last = n,
            _ => runs.push((n, n)),
        }
    }
    let word = |&(first, last): &(usize, usize)| match place(last).zip(place(first)).map(|(b, a)| b - a) {
        Some(0) | None => first.to_string(),
        Some(1) => format!("{first}, {last}"),
        Some(_) => format!("{first} to {last}"),
    };
    runs.iter().map(word).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::runs;

    #[test]
    fn numbers_run_on_over_those_of_the_other_kind() {
        let timbers = [4, 7, 10, 13, 16];
        assert_eq!(runs(&[4, 7, 10, 16], &timbers), "4 to 10, 16");
        assert_eq!(runs(&[10, 13], &timbers), "10, 13");
        assert_eq!(runs(&[1, 2, 3, 6], &[1, 2, 3, 5, 6]), "1 to 3, 6");
        assert_eq!(runs(&[], &timbers), "");
    }
}
