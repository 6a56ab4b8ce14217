//! A strake's card, front: the plank laid flat, and the offsets that mark it out on a board.
//!
//! A plank four metres long and a hand wide is a thread at any scale that fits a page. So it is drawn twice: once true,
//! to show what the board must hold, and once with heights several times larger than lengths, to carry the numbers.

use super::look;
use super::page::{Book, Frame, Page, box_size};
use super::spread::spread;
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::development::FlatPlank;
use crate::drawing::table::{Group, Row, Table};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};

/// Front of a strake's card, with notes in columns along its foot if it has any.
pub fn front<'a>(book: &Book<'a>, flat: &FlatPlank, notes: &[(&str, String)]) -> Page<'a> {
    let mut page = book.blank(&format!("Strake {} of {}", flat.strake, book.plan.strakes.len()));
    head(&mut page, book, flat);
    foot_notes(&mut page, notes);
    let frame = page.frame;
    let Some((x0, x1)) = range(flat.lower.iter().chain(&flat.upper).map(|p| p[0])) else { return page };
    let scale = customary((x1 - x0) / (frame.width() - 2.0), book.len.0);
    let left = frame.left + (frame.width() - (x1 - x0) / scale) / 2.0 - x0 / scale;

    let rows = rows(book, flat);
    let top = true_shape(&mut page, book, flat, left, scale);
    // The drawing first: it should be tall enough to read. Rows of the table grow into what is left.
    let heads = empty_table(book).head_height(page.t, frame.column(0, halves(&rows), 7.0).width());
    let deep = rows.len().div_ceil(halves(&rows)).max(1) as f64;
    let least = ((frame.bottom - top - heads - DRAWING) / deep).clamp(ROWS.0, ROWS.1);
    let room = Frame { top, bottom: frame.bottom - heads - deep * least - 1.0, ..frame };
    let below = enlarged(&mut page, book, flat, room, left, scale);
    let row = ((frame.bottom - below - heads) / deep).clamp(ROWS.0, ROWS.1);
    draw_table(&mut page, book, &rows, Frame { top: below, ..frame }, row);
    page
}

/// The strake's number, large, with its board beside it and the measured box in the corner.
pub fn head(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank) {
    let Frame { left, right, top, .. } = page.frame;
    let base = top + 14.0;
    let number = flat.strake.to_string();
    page.words([left, base], Anchor::Left, Style { size: 8.4, ..look::TITLE }, "Strake");
    let x = left + page.width(look::TITLE, "Strake") + 3.0;
    page.words([x, base], Anchor::Left, look::HUGE, &number);
    let after = x + page.width(look::HUGE, &number) + 3.0;
    let of = book.plan.strakes.len();
    page.words([after, base], Anchor::Left, look::HEAD.face(Face::Regular), &format!("of {of}"));
    let word = if flat.strake == 1 {
        "garboard"
    } else if flat.strake == of {
        "sheer strake"
    } else {
        ""
    };
    page.words([after, base - 6.4], Anchor::Left, look::HEAD.face(Face::Italic), word);

    let [width, height] = box_size(book.len.inches());
    page.measured_box([right - width, top], book.len.inches());
    let x = left + 82.0;
    let board = format!("{} × {}", book.len.long_unit(flat.length), book.len.short_unit(flat.board_width));
    page.words([x, top + 5.0], Anchor::Left, look::NOTE, "least board, two of them");
    page.words([x, top + 11.4], Anchor::Left, Style { size: 6.2, ..look::NUMBER }, &board);
    let planking = &book.plan.spec.planking;
    let wood = if planking.wood.name.is_empty() { String::new() } else { format!(" {}", planking.wood.name) };
    let thickness = format!("{}{wood}; turn one over for the other side", book.len.short_unit(planking.thickness));
    page.words_within([x, top + 17.0], Anchor::Left, look::BODY, right - width - 4.0 - x, &thickness);
    page.frame.top = top + height + 4.0;
}

fn foot_notes(page: &mut Page<'_>, notes: &[(&str, String)]) {
    let frame = page.frame;
    let columns: Vec<Frame> = (0..notes.len()).map(|i| frame.column(i, notes.len(), 8.0)).collect();
    let head = 6.4;
    let tall =
        |(place, (_, text)): (&Frame, &(&str, String))| head + page.paragraph_height(place.width(), look::BODY, text);
    let height = columns.iter().zip(notes).map(tall).fold(0.0, f64::max);
    for (place, (title, text)) in columns.iter().zip(notes) {
        page.headed([place.left, frame.bottom - height], place.width(), title, text);
    }
    if height > 0.0 {
        page.frame.bottom -= height + 3.0;
    }
}

/// Length to leave at a hood end for fitting, mm.
const HOOD_SPARE: f64 = 12.7;

/// The plank to scale on its least board; returns the top of what follows.
fn true_shape(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank, left: f64, scale: f64) -> f64 {
    let frame = page.frame;
    // The rabbet bulges up to 7 mm from the straight hood end on the boats we know; a plank cut to it would be short.
    let caption = format!(
        "The plank on its least board, {}. Outer face, bow to the left. Leave {} beyond each hood end and fit it: the \
         ends are drawn straight, a rabbet is not.",
        scale_words(scale, book.len.0),
        book.len.short_unit(HOOD_SPARE)
    );
    page.words([frame.left, frame.top + 2.2], Anchor::Left, look::NOTE, &caption);
    let view = View::new([left, frame.top + 4.6 + flat.board_width / scale], scale);
    let board = [[0.0, 0.0], [flat.length, 0.0], [flat.length, flat.board_width], [0.0, flat.board_width]];
    page.put("boat", Shape::polygon(view.run(board), look::GUIDE));
    page.put("boat", Shape::area(outline(flat, view), look::WOOD, Some(look::OUTLINE)));
    view.origin[1] + 3.6
}

fn outline(flat: &FlatPlank, view: View) -> Vec<Spot> {
    view.run(flat.lower.iter().chain(flat.upper.iter().rev()).copied())
}

/// The plank with its heights enlarged, an ordinate at each station and the offsets at their ends; returns the top of
/// what follows.
fn enlarged(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank, room: Frame, left: f64, scale: f64) -> f64 {
    let number = book.number().size(book.number().size.max(4.7));
    let line = number.size * 0.65;
    // Over it a row of station names and one of numbers, under it a row of numbers.
    let (above, under) = (2.0 + line + 3.6 + line + 2.2, 2.4 + line + 2.0);
    let caption_room = 5.4;
    let height = (room.height() - above - under - caption_room).clamp(14.0, 62.0);
    let times = [12.0, 10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0]
        .into_iter()
        .find(|m| flat.board_width * m / scale <= height)
        .unwrap_or(1.0);
    let drawn = flat.board_width * times / scale;
    let caption = if times > 1.0 {
        format!(
            "The same with heights drawn {times} times larger than lengths: do not measure it. Offsets from the batten line, the chain line:"
        )
    } else {
        "Offsets from the batten line, the chain line:".to_owned()
    };
    page.words([room.left, room.top + 2.2], Anchor::Left, look::NOTE, &caption);
    let base = room.top + caption_room + above + drawn;
    let view = View { origin: [left, base], scale, scale_up: scale / times };
    page.put("boat", Shape::area(outline(flat, view), look::WOOD, Some(look::OUTLINE)));
    let batten = Stroke::broken(Weight::Thin, look::COPPER, Dash::Centre);
    page.line(view.run([[-6.0 * scale / 4.0, 0.0], [flat.length + 6.0 * scale / 4.0, 0.0]]), batten);

    let top = base - drawn;
    let upper: Vec<Label> = labels(book, flat, |s| s.upper, view, &number, page);
    let lower: Vec<Label> = labels(book, flat, |s| s.lower, view, &number, page);
    let (number_base, name_base) = (top - 2.2, top - 2.2 - line - 2.4);
    for label in &upper {
        page.line(vec![label.edge, [label.edge[0], top - 0.4], [label.x, number_base + 0.9]], look::GUIDE);
        page.words([label.x, number_base], Anchor::Middle, number, &label.number);
        page.words([label.x, name_base], Anchor::Middle, look::NOTE.face(Face::Italic), &label.name);
    }
    for label in &lower {
        page.line(vec![label.edge, [label.edge[0], base + 0.4], [label.x, base + 1.6]], look::GUIDE);
        page.words([label.x, base + 2.4 + line], Anchor::Middle, number, &label.number);
    }
    for (a, b) in upper.iter().zip(&lower) {
        page.line(vec![a.edge, b.edge], Stroke::solid(Weight::Fine, look::SHADE));
    }
    base + under + 1.6
}

struct Label {
    name: String,
    number: String,
    edge: Spot,
    x: f64,
}

/// The numbers at one edge, pushed apart where stations crowd.
fn labels(
    book: &Book<'_>,
    flat: &FlatPlank,
    point: impl Fn(&crate::development::FlatStation) -> [f64; 2],
    view: View,
    number: &Style,
    page: &Page<'_>,
) -> Vec<Label> {
    let mut found: Vec<Label> = flat
        .stations
        .iter()
        .map(|s| {
            let [x, y] = point(s);
            let edge = view.at(x, y);
            Label { name: section_name(book, s.section), number: book.len.short(y), edge, x: edge[0] }
        })
        .collect();
    let italic = look::NOTE.face(Face::Italic);
    let (left, right) = (page.frame.left, page.frame.right);
    let halves = |found: &[Label]| -> Vec<f64> {
        found.iter().map(|l| page.width(*number, &l.number).max(page.width(italic, &l.name)) / 2.0 + 0.9).collect()
    };
    let mut half = halves(&found);
    if half.iter().sum::<f64>() * 2.0 > right - left {
        for label in &mut found {
            label.name = label.name.chars().take(3).collect();
        }
        half = halves(&found);
    }
    let places: Vec<f64> = found.iter().map(|l| l.x).collect();
    for (label, x) in found.iter_mut().zip(spread(&places, &half, left, right)) {
        label.x = x;
    }
    found
}

/// A section's name as it stands over a column: a long one is cut short.
pub fn section_name(book: &Book<'_>, section: usize) -> String {
    book.plan.sections.get(section).map_or_else(String::new, |section| short_name(&section.name))
}

/// A name cut short after [`NAME`] letters.
pub fn short_name(name: &str) -> String {
    let mut short: String = name.chars().take(NAME).collect();
    if name.chars().count() > NAME {
        short.pop();
        short.push('…');
    }
    short
}

/// Most letters of a section's name that are shown: `sternpost` has nine.
const NAME: usize = 10;

/// One row a station: along and up to each edge, width on the tape, and what shows.
fn rows(book: &Book<'_>, flat: &FlatPlank) -> Vec<Row> {
    let strake = book.plan.strakes.iter().find(|s| s.strake == flat.strake);
    flat.stations
        .iter()
        .map(|s| {
            let at = strake.and_then(|k| k.at.iter().find(|a| a.section == s.section));
            let len = book.len;
            let short = |mm: Option<f64>| mm.map_or_else(String::new, |mm| len.short(mm));
            tables::row([
                section_name(book, s.section),
                len.long(s.lower[0]),
                len.short(s.lower[1]),
                len.long(s.upper[0]),
                len.short(s.upper[1]),
                short(at.map(|a| a.width)),
                short(at.map(|a| a.shows)),
            ])
        })
        .collect()
}

/// Most rows in one column of the table; more are set in two columns.
pub const TALL: usize = 9;
/// Height kept for the enlarged drawing with its numbers, if the page allows, mm.
const DRAWING: f64 = 74.0;
/// Rows are as high as these, if the page allows.
const ROWS: (f64, f64) = (6.6, 8.6);

fn empty_table(book: &Book<'_>) -> Table {
    let columns = vec![
        tables::names("station", 1.3),
        tables::longs(book, "along", 1.4),
        tables::numbers(book, "up", 0.9),
        tables::longs(book, "along", 1.4),
        tables::numbers(book, "up", 0.9),
        tables::numbers(book, "on the tape", 0.95),
        tables::numbers(book, "shows", 0.9),
    ];
    let mut table = tables::table(columns, ROWS.0);
    table.groups = vec![
        Group { from: 1, to: 2, head: "lower edge".to_owned() },
        Group { from: 3, to: 4, head: "upper edge".to_owned() },
        Group { from: 5, to: 6, head: "width".to_owned() },
    ];
    table
}

/// In how many columns the table is set.
fn halves(rows: &[Row]) -> usize {
    if rows.len() > TALL { 2 } else { 1 }
}

fn draw_table(page: &mut Page<'_>, book: &Book<'_>, rows: &[Row], frame: Frame, row: f64) {
    let halves = halves(rows);
    let deep = rows.len().div_ceil(halves).max(1);
    let mut table = empty_table(book);
    table.rows = rows.to_vec();
    tables::grow(page.t, &mut table, frame.column(0, halves, 7.0).width(), row);
    for (i, part) in rows.chunks(deep).enumerate() {
        let place = frame.column(i, halves, 7.0);
        table.rows = part.to_vec();
        table.draw(page.t, &mut page.sheet, [place.left, frame.top], place.width(), frame.height() + 1.0, 0);
    }
}
