//! A strake's card, front: the plank laid flat, and the offsets that mark it out on a board.
//!
//! A plank four metres long and a hand wide is a thread at any scale that fits a page. So it is drawn twice: once true,
//! to show what the board must hold, and once with heights several times larger than lengths, to carry the numbers.

use super::cautions::dust;
use super::length::of_wood;
use super::look;
use super::page::{Book, Frame, Page, box_size};
use super::spread::spread;
use super::tables;
use super::view::{View, customary, scale_words};
use crate::development::{FlatPlank, FlatStation, HoodEnd, LeftLong};
use crate::drawing::table::{Cell, Group, Row, Table};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::paper::left;
use crate::planks::lay::RULINGS_PER_SPAN;

/// Front of a strake's card, and more pages where it has too many stations for one.
pub fn front<'a>(book: &Book<'a>, flat: &FlatPlank) -> Vec<Page<'a>> {
    let title = title(book, flat.strake);
    let mut page = book.blank(&title);
    head(&mut page, book, flat);
    let frame = page.frame;
    let long = left::of(book.plan, flat);
    let scale = customary(long.board[0] / (frame.width() - 2.0), book.len.0);
    let left = frame.left + (frame.width() - long.board[0] / scale) / 2.0 - long.corner[0] / scale;

    let rows = rows(book, flat);
    let halves = if rows.len() > TALL { 2 } else { 1 };
    let wide = frame.column(0, halves, GAP).width();
    let mut table = Table { rows, ..empty_table(book) };
    tables::fit(page.t, &mut table, wide);
    let top = true_shape(&mut page, book, flat, &long, left, scale);
    // The drawing first: it should be tall enough to read. Rows of the table grow into what is left.
    let heads = table.head_height(page.t, wide);
    let most = ((frame.bottom - top - heads - LEAST_DRAWING) / ROWS.0).max(1.0) as usize;
    let deep = table.rows.len().div_ceil(halves).clamp(1, most);
    let least = ((frame.bottom - top - heads - DRAWING) / deep as f64).clamp(ROWS.0, ROWS.1);
    let room = Frame { top, bottom: frame.bottom - heads - deep as f64 * least - 1.0, ..frame };
    let below = enlarged(&mut page, book, flat, &long, room, left, scale);
    let row = ((frame.bottom - below - heads) / deep as f64).clamp(ROWS.0, ROWS.1);
    tables::grow(page.t, &mut table, wide, row);
    let rows = std::mem::take(&mut table.rows);
    for (i, part) in rows.chunks(deep).take(halves).enumerate() {
        table.rows = part.to_vec();
        let at = [frame.column(i, halves, GAP).left, below];
        table.draw(page.t, &mut page.sheet, at, wide, frame.bottom - below + 1.0, 0);
    }
    table.rows = rows;
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, halves * deep, || book.page(&title, "its offsets, continued")));
    pages
}

/// What the sheets of a strake's card are called.
pub fn title(book: &Book<'_>, strake: usize) -> String {
    format!("Strake {strake} of {}", book.plan.strakes.len())
}

/// Between the table's two columns, mm.
const GAP: f64 = 7.0;

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
    let [long, wide] = left::of(book.plan, flat).board;
    let [to_long, to_wide] = [long, wide].map(|mm| book.len.0.to_have(mm));
    let board = format!("{} × {}", book.len.long_unit(to_long), book.len.short_unit(to_wide));
    let what = least(book);
    let over = if long > flat.length { ", with what is left long" } else { "" };
    let side = book.plan.side;
    let count = side.map_or_else(|| "two of them".to_owned(), |side| format!("for {side} alone"));
    let over = format!("{what}, {count}{over}");
    let parts = book.plan.made.iter().find(|m| m.strake == flat.strake).map_or(1, |m| m.parts.len());
    let over = if parts > 1 { format!("made in {parts} parts, of two; whole its {what} would be") } else { over };
    page.words([x, top + 5.0], Anchor::Left, look::NOTE, &over);
    page.words([x, top + 11.4], Anchor::Left, Style { size: 6.2, ..look::NUMBER }, &board);
    let planking = &book.plan.spec.planking;
    let of = of_wood(&book.len.short_unit(planking.thickness), &planking.wood.name);
    let other = side.map_or_else(
        || "turn one over for the other side".to_owned(),
        |side| format!("for {side} as she stands: the other side has its own"),
    );
    let thickness = format!("{of}; {other}");
    page.words_within([x, top + 17.0], Anchor::Left, look::BODY, right - width - 4.0 - x, &thickness);
    page.frame.top = top + height + 4.0;
}

/// What a plank comes out of.
pub fn least(book: &Book<'_>) -> &'static str {
    if book.plan.sheets.is_some() { "least piece of sheet" } else { "least board" }
}

/// What is left to be cut when the plank is fitted.
pub const LEFT: Stroke = Stroke::broken(Weight::Thin, look::INK, Dash::Hidden);

/// The batten line.
pub const BATTEN: Stroke = Stroke::broken(Weight::Thin, look::COPPER, Dash::Centre);

/// The plank to scale on its least board; returns the top of what follows.
fn true_shape(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank, long: &LeftLong, left: f64, scale: f64) -> f64 {
    let frame = page.frame;
    let mut caption =
        format!("The plank on its {}, {}. Outer face, bow to the left.", least(book), scale_words(scale, book.len.0));
    let sheer = flat.strake == book.plan.strakes.len();
    let words = left::words(book.len, &book.plan.spec, [true, true], sheer);
    if !words.is_empty() {
        caption.push_str(&format!(" Broken: left long and cut when it is fitted, {words}."));
    }
    let before = book.len.short_unit(-long.corner[0]);
    if long.corner[0] < -0.5 {
        caption
            .push_str(&format!(" Lengths along begin {before} from the board's end, where the finished plank does."));
    }
    if flat.fore_hood.is_some() || flat.aft_hood.is_some() {
        caption.push_str(" Its hood ends are the rabbet's curve; the sheet of its ends shows them larger.");
    }
    caption.push_str(&format!(" {}", dust(&book.plan.spec.planking.wood.name)));
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::NOTE, &caption) - 0.6;
    let ([x, y], [wide, tall]) = (long.corner, long.board);
    let view = View::new([left, top + (y + tall) / scale], scale);
    let board = [[x, y], [x + wide, y], [x + wide, y + tall], [x, y + tall]];
    page.put("boat", Shape::polygon(view.run(board), look::GUIDE));
    page.put("boat", Shape::area(outline(flat, view), look::WOOD, Some(look::OUTLINE)));
    for run in long.runs() {
        page.line(view.run(run.iter().copied()), LEFT);
    }
    page.line(view.run([[0.0, flat.batten], [flat.length, flat.batten]]), BATTEN);
    for scarf in book.plan.made.iter().filter(|m| m.strake == flat.strake).flat_map(|m| &m.scarfs) {
        page.line(
            view.run([scarf.fore.lower, scarf.fore.upper]),
            Stroke::broken(Weight::Fine, look::INK, Dash::Hidden),
        );
        page.line(view.run([scarf.aft.lower, scarf.aft.upper]), Stroke::solid(Weight::Thin, look::INK));
    }
    view.origin[1] - y / scale + 3.6
}

/// Along the lower edge, up the after end, back along the upper edge and down the fore end.
fn outline(flat: &FlatPlank, view: View) -> Vec<Spot> {
    let end = |hood: &Option<HoodEnd>| hood.as_ref().map_or_else(Vec::new, |h| h.curve.clone());
    let (fore, aft) = (end(&flat.fore_hood), end(&flat.aft_hood));
    let edges = flat.lower.iter().chain(&aft).chain(flat.upper.iter().rev());
    view.run(edges.chain(fore.iter().rev()).copied())
}

/// The plank with its heights enlarged, an ordinate at each station and the offsets at their ends; returns the top of
/// what follows.
fn enlarged(
    page: &mut Page<'_>,
    book: &Book<'_>,
    flat: &FlatPlank,
    long: &LeftLong,
    room: Frame,
    left: f64,
    scale: f64,
) -> f64 {
    let number = book.number().size(book.number().size.max(4.7));
    let line = number.size * 0.65;
    // Over it a row of station names and one of numbers, under it a row of numbers.
    let (above, under) = (2.0 + line + 3.6 + line + 2.2, 2.4 + line + 2.0);
    let caption_room = 5.4;
    let height = (room.height() - above - under - caption_room).clamp(14.0, 62.0);
    let times = [12.0, 10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0]
        .into_iter()
        .find(|m| long.board[1] * m / scale <= height)
        .unwrap_or(1.0);
    let drawn = (long.corner[1] + long.board[1]) * times / scale;
    let sunk = -long.corner[1] * times / scale;
    let caption = format!(
        "{}Offsets from the batten line, the chain line, {} over the board's lower edge; \u{2212} is below it.",
        if times > 1.0 {
            format!("Heights {times} times larger than lengths: do not measure. ")
        } else {
            String::new()
        },
        book.len.short_unit(flat.batten - long.corner[1])
    );
    page.words([room.left, room.top + 2.2], Anchor::Left, look::NOTE, &caption);
    let base = room.top + caption_room + above + drawn;
    let view = View { origin: [left, base], scale, scale_up: scale / times };
    page.put("boat", Shape::area(outline(flat, view), look::WOOD, Some(look::OUTLINE)));
    for run in long.runs() {
        page.line(view.run(run.iter().copied()), LEFT);
    }
    let past = 6.0 * scale / 4.0;
    page.line(view.run([[-past, flat.batten], [flat.length + past, flat.batten]]), BATTEN);

    for between in ordinates(book, flat).iter().filter(|o| o.section.is_none()) {
        let ends = [between.lower, between.upper];
        page.line(view.run(ends), Stroke::broken(Weight::Fine, look::SHADE, Dash::Hidden));
    }
    let stations: Vec<Ordinate> = ordinates(book, flat).into_iter().filter(|o| o.section.is_some()).collect();
    let foot = base + sunk;
    numbered(page, book, flat.batten, &stations, view, number, [base - drawn, foot], [room.left, room.right]);
    foot + under + 1.6
}

/// A line across a flat plank at which its edges are measured.
pub struct Ordinate {
    /// As it stands in tables: a section's name, or how far on it is to the next.
    pub name: String,
    /// The section, if it is at one.
    pub section: Option<usize>,
    /// Index into the strake's rulings.
    pub ruling: usize,
    /// On the lower edge.
    pub lower: [f64; 2],
    /// On the upper edge.
    pub upper: [f64; 2],
}

/// Ordinates at the stations and, between a stem or sternpost and the station next to it, half-way; for the garboard,
/// which changes fastest there, at the quarters.
fn ordinates(book: &Book<'_>, flat: &FlatPlank) -> Vec<Ordinate> {
    let parts: &[usize] = if flat.strake == 1 { &[1, 2, 3] } else { &[2] };
    let mut all = at_stations(book, flat);
    let between = [(false, flat.fore_hood.is_some()), (true, flat.aft_hood.is_some())];
    for (aft, _) in between.into_iter().filter(|b| b.1) {
        all.extend(
            quarters(flat, aft).into_iter().enumerate().filter(|(i, _)| parts.contains(&(i + 1))).map(|q| q.1),
        );
    }
    all.sort_by_key(|o| o.ruling);
    all
}

/// Ordinates at the stations.
pub fn at_stations(book: &Book<'_>, flat: &FlatPlank) -> Vec<Ordinate> {
    let one = |s: &FlatStation| Ordinate {
        name: section_name(book, s.section),
        section: Some(s.section),
        ruling: s.section * RULINGS_PER_SPAN,
        lower: s.lower,
        upper: s.upper,
    };
    flat.stations.iter().map(one).collect()
}

/// Those nearest to the quarters of the way between an end and the station next to it.
pub fn quarters(flat: &FlatPlank, aft: bool) -> Vec<Ordinate> {
    let Some(from) = (if aft { flat.lower.len().checked_sub(RULINGS_PER_SPAN + 1) } else { Some(0) }) else {
        return Vec::new();
    };
    let names = ["1/4 way on", "1/2 way on", "3/4 way on"];
    let one = |(i, name): (usize, &str)| {
        let along = |ruling: usize| flat.upper.get(ruling).map(|p| p[0]);
        let (start, end) = (along(from)?, along(from + RULINGS_PER_SPAN)?);
        let wanted = start + (end - start) * (i + 1) as f64 / 4.0;
        let off = |ruling: &usize| along(*ruling).map_or(f64::MAX, |x| (x - wanted).abs());
        let ruling = (from + 1..from + RULINGS_PER_SPAN).min_by(|a, b| off(a).total_cmp(&off(b)))?;
        let (lower, upper) = (*flat.lower.get(ruling)?, *flat.upper.get(ruling)?);
        Some(Ordinate { name: name.to_owned(), section: None, ruling, lower, upper })
    };
    names.into_iter().enumerate().filter_map(one).collect()
}

/// Ordinates drawn across the plank, their names and offsets over it and under it; `rows` are the plank's top and foot
/// on the sheet, and the words keep within `sides`: where they crowd, those of every second ordinate alone stand there, or of
/// every third. The table beside has them all.
#[allow(clippy::too_many_arguments, reason = "a drawing's place and pens")]
pub fn numbered(
    page: &mut Page<'_>,
    book: &Book<'_>,
    batten: f64,
    ordinates: &[Ordinate],
    view: View,
    number: Style,
    rows: [f64; 2],
    sides: [f64; 2],
) {
    let line = number.size * 0.65;
    let [top, foot] = rows;
    let points = |upper: bool, every: usize| -> Vec<(String, [f64; 2])> {
        let point = |o: &Ordinate| (o.name.replace(" way on", ""), if upper { o.upper } else { o.lower });
        ordinates.iter().step_by(every).map(point).collect()
    };
    let set = |upper: bool, every: usize| labels(page, book, batten, &points(upper, every), view, &number, sides);
    let fitting = (1..=ordinates.len()).find_map(|every| set(true, every).zip(set(false, every)));
    let (upper, lower) = fitting.unwrap_or_default();
    let (number_base, name_base) = (top - 2.2, top - 2.2 - line - 2.4);
    for label in &upper {
        page.line(vec![label.edge, [label.edge[0], top - 0.4], [label.x, number_base + 0.9]], look::GUIDE);
        page.words([label.x, number_base], Anchor::Middle, number, &label.number);
        page.words([label.x, name_base], Anchor::Middle, look::NOTE.face(Face::Italic), &label.name);
    }
    for label in &lower {
        page.line(vec![label.edge, [label.edge[0], foot + 0.4], [label.x, foot + 1.6]], look::GUIDE);
        page.words([label.x, foot + 2.4 + line], Anchor::Middle, number, &label.number);
    }
    for o in ordinates {
        page.line(view.run([o.upper, o.lower]), Stroke::solid(Weight::Fine, look::SHADE));
    }
}

struct Label {
    name: String,
    number: String,
    edge: Spot,
    x: f64,
}

/// Free at each side of a number, mm: the first of these with which they all fit.
const AIR: [f64; 3] = [1.8, 1.3, 0.9];

/// The numbers at one edge, pushed apart where stations crowd; `None` where they have no room however far they are.
fn labels(
    page: &Page<'_>,
    book: &Book<'_>,
    batten: f64,
    points: &[(String, [f64; 2])],
    view: View,
    number: &Style,
    [left, right]: [f64; 2],
) -> Option<Vec<Label>> {
    let label = |(name, [x, y]): &(String, [f64; 2])| {
        let edge = view.at(*x, *y);
        Label { name: name.clone(), number: book.len.short(*y - batten), edge, x: edge[0] }
    };
    let mut found: Vec<Label> = points.iter().map(label).collect();
    let italic = look::NOTE.face(Face::Italic);
    let halves = |found: &[Label], air: f64| -> Vec<f64> {
        found.iter().map(|l| page.width(*number, &l.number).max(page.width(italic, &l.name)) / 2.0 + air).collect()
    };
    let fits = |half: &[f64]| half.iter().sum::<f64>() * 2.0 <= right - left;
    let mut half = halves(&found, AIR[0]);
    for air in AIR {
        if !fits(&half) {
            half = halves(&found, air);
        }
    }
    if !fits(&half) {
        for label in &mut found {
            label.name = label.name.chars().take(3).collect();
        }
        half = halves(&found, AIR[2]);
        if !fits(&half) {
            return None;
        }
    }
    let places: Vec<f64> = found.iter().map(|l| l.x).collect();
    for (label, x) in found.iter_mut().zip(spread(&places, &half, left, right)) {
        label.x = x;
    }
    Some(found)
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

/// Most letters of a section's name that are shown: `bow transom` has eleven.
const NAME: usize = 11;

/// One row an ordinate: along and up to each edge, width on the tape, and what shows.
fn rows(book: &Book<'_>, flat: &FlatPlank) -> Vec<Row> {
    let strake = book.plan.strakes.iter().find(|s| s.strake == flat.strake);
    let row = |o: Ordinate| {
        let ruling = strake.and_then(|s| Some((s.rulings.get(o.ruling)?, s.width_at(o.ruling))));
        let lap = book.plan.spec.planking.lap;
        let shows = ruling.map(|(r, width)| (width - r.bevel.map_or(0.0, |_| lap)).max(0.0));
        let short = |mm: Option<f64>| mm.map_or_else(String::new, |mm| book.len.short(mm));
        let mut row = Row { cells: edges(book, flat.batten, &o) };
        row.cells.push(short(ruling.map(|r| r.1)).into());
        // The next strake's land may lie on all of it, down to the rabbet.
        let covered =
            Cell { text: "covered".to_owned(), style: Some(look::NOTE.face(Face::Italic)), ..Cell::default() };
        row.cells.push(if short(shows) == "0" { covered } else { short(shows).into() });
        row
    };
    ordinates(book, flat).into_iter().map(row).collect()
}

/// An ordinate's name, and along and off the batten line to each edge.
pub fn edges(book: &Book<'_>, batten: f64, o: &Ordinate) -> Vec<Cell> {
    let len = book.len;
    let off = |p: [f64; 2]| len.short(p[1] - batten);
    let numbers = [len.long(o.lower[0]), off(o.lower), len.long(o.upper[0]), off(o.upper)];
    std::iter::once(o.name.clone()).chain(numbers).map(Cell::from).collect()
}

/// Most rows in one column of the table; more are set in two columns.
const TALL: usize = 9;
/// Height kept for the enlarged drawing with its numbers, if the page allows, mm.
const DRAWING: f64 = 74.0;
/// The same whatever the table wants, mm.
const LEAST_DRAWING: f64 = 43.0;
/// Rows are as high as these, if the page allows.
const ROWS: (f64, f64) = (6.6, 8.6);

fn empty_table(book: &Book<'_>) -> Table {
    let columns = vec![
        tables::names("station", 1.3),
        tables::longs(book.len, "along", 1.4),
        tables::numbers(book.len, "off", 0.9),
        tables::longs(book.len, "along", 1.4),
        tables::numbers(book.len, "off", 0.9),
        tables::numbers(book.len, "on the tape", 0.95),
        tables::numbers(book.len, "shows", 0.9),
    ];
    let mut table = tables::table(columns, ROWS.0);
    table.look.pad = 1.9;
    table.groups = vec![
        Group { from: 1, to: 2, head: "lower edge".to_owned() },
        Group { from: 3, to: 4, head: "upper edge".to_owned() },
        Group { from: 5, to: 6, head: "width".to_owned() },
    ];
    table
}
