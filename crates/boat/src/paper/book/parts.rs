//! A scarfed strake's card: each part on its own board.

use super::look;
use super::page::{Book, Frame, Page};
use super::strake::{BATTEN, LEFT, Ordinate, edges, head, least, numbered, section_name, title};
use super::tables;
use super::view::{View, customary, scale_words};
use crate::development::FlatPlank;
use crate::drawing::table::{Group, Row, Table};
use crate::drawing::{Anchor, Dash, Shape, Stroke, Weight};
use crate::paper::left;
use crate::scarfs::{Made, Part, Scarf};
use crate::spec::Glued;

/// Parts on one sheet, and where their tables are too long for that.
const ON_A_SHEET: [usize; 2] = [2, 1];

/// A sheet for every two parts, or one for each where they have many stations; none where the plank is one piece.
pub fn pages<'a>(book: &Book<'a>, flat: &FlatPlank) -> Vec<Page<'a>> {
    let Some(made) = book.plan.made.iter().find(|m| m.strake == flat.strake && m.parts.len() > 1) else {
        return Vec::new();
    };
    let longest = made.parts.iter().map(|p| ordinates(book, p).len()).max().unwrap_or(0);
    let on_a_sheet = ON_A_SHEET[usize::from(longest > TALL)];
    made.parts.chunks(on_a_sheet).flat_map(|parts| sheet(book, flat, made, parts, on_a_sheet)).collect()
}

/// Most rows in a table with another part's under it.
const TALL: usize = 12;

fn sheet<'a>(book: &Book<'a>, flat: &FlatPlank, made: &Made, parts: &[Part], on_a_sheet: usize) -> Vec<Page<'a>> {
    let of = made.parts.len();
    let title = format!("{}, its parts", title(book, flat.strake));
    let mut page = book.blank(&title);
    head(&mut page, book, flat);
    let frame = page.frame;
    let numbers: Vec<usize> = parts.iter().map(|p| p.part).collect();
    let scarfs: Vec<&Scarf> =
        made.scarfs.iter().filter(|s| numbers.contains(&s.n) || numbers.contains(&(s.n + 1))).collect();
    let words = words(book, &scarfs, flat.strake == book.plan.strakes.len());
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY.size(3.7), &words) + 1.0;
    let each = (frame.bottom - top) / on_a_sheet as f64;
    let mut rest = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        let top = top + i as f64 * each;
        let (mut table, drawn) = draw(&mut page, book, part, of, Frame { top, bottom: top + each - 2.0, ..frame });
        let beside = format!("part {} of {of}, continued", part.part);
        rest.extend(tables::rest(&mut table, drawn, || book.page(&title, &beside)));
    }
    let mut pages = vec![page];
    pages.extend(rest);
    pages
}

/// How the scarfs are made and where they are, in words.
fn words(book: &Book<'_>, scarfs: &[&Scarf], sheer: bool) -> String {
    let (len, spec) = (book.len, &book.plan.spec);
    let long = len.short_unit(spec.scarfs.ratio * spec.planking.thickness);
    let glued = match spec.scarfs.glued {
        Glued::Bench => {
            "Glue the parts on the bench, feather to feather, then lay the whole plank's pattern on them and mark it out"
        }
        Glued::InPlace => "Fit and glue them in place as the parts are hung, the after part first",
    };
    let place = |s: &&Scarf| {
        let at = match s.timber {
            Some(n) => format!("at timber {n}, "),
            None if book.plan.timbers.is_empty() => String::new(),
            None => "half-way between two timbers, ".to_owned(),
        };
        format!("Scarf {}: its middle {at}{} along the plank.", s.n, len.long(s.middle[0]))
    };
    let places: Vec<String> = scarfs.iter().map(place).collect();
    let left = left::words(len, spec, [true, true], sheer);
    let left = if left.is_empty() { left } else { format!(" Left long and cut when it is fitted: {left}.") };
    format!(
        "Scarfs are {long} long, {} to 1. The forward part's feather is outside and points aft; the after part's is inside. \
         {glued}. {}{left}",
        spec.scarfs.ratio,
        places.join(" ")
    )
}

/// One part on its board with its numbers, and the table; returns the table and how many of its rows found room.
fn draw(page: &mut Page<'_>, book: &Book<'_>, part: &Part, of: usize, frame: Frame) -> (Table, usize) {
    let len = book.len;
    let board = format!(
        "Part {} of {of}: {} {} \u{d7} {}",
        part.part,
        least(book),
        len.long_unit(part.left.board[0]),
        len.short_unit(part.left.board[1])
    );
    let top = page.head([frame.left, frame.top], &board);
    let ordinates = ordinates(book, part);
    let mut table = tables::table(
        vec![
            tables::names("line", 1.5),
            tables::longs(book.len, "along", 1.3),
            tables::numbers(book.len, "off", 0.9),
            tables::longs(book.len, "along", 1.3),
            tables::numbers(book.len, "off", 0.9),
        ],
        5.4,
    );
    table.look.pad = 1.9;
    let group = |from, head: &str| Group { from, to: from + 1, head: head.to_owned() };
    table.groups = vec![group(1, "lower edge"), group(3, "upper edge")];
    table.rows = ordinates.iter().map(|o| Row { cells: edges(book, part.batten, o) }).collect();
    // The table beside the drawing, which has what is left.
    let wide = 0.42 * frame.width();
    let rows = table.rows.len().max(1) as f64;
    let heads = table.head_height(page.t, wide);
    tables::fit(page.t, &mut table, wide);
    let row = ((frame.bottom - top - heads) / rows).clamp(4.4, 6.4);
    tables::grow(page.t, &mut table, wide, row);
    let at = [frame.right - wide, top];
    let drawn = table.draw(page.t, &mut page.sheet, at, wide, frame.bottom - top + 2.0, 0).next;

    let room = Frame { right: frame.right - wide - 6.0, top, ..frame };
    let number = book.number();
    let line = number.size * 0.65;
    let (above, under, caption) = (2.0 + line + 3.6 + line + 2.2, 2.4 + line + 2.0, 4.0);
    let ([x, y], [long, tall]) = (part.left.corner, part.left.board);
    let scale = customary(long / (room.width() - 4.0), len.0);
    // Under all of it a line says where the batten line is.
    let height = (room.height() - above - under - caption - NOTE).max(8.0);
    let times =
        [6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0].into_iter().find(|m| tall * m / scale <= height).unwrap_or(1.0);
    let left = room.left + 0.5 * (room.width() - long / scale) - x / scale;
    let base = room.top + caption + above + (y + tall) * times / scale;
    let foot = base - y * times / scale;
    let view = View { origin: [left, base], scale, scale_up: scale / times };
    let mut words = format!("{} along; outer face, bow to the left", scale_words(scale, len.0));
    if times > 1.0 {
        words.push_str(&format!(", heights {times} times larger"));
    }
    if part.run_out.slope > 1.0 / 60.0 && book.plan.sheets.is_none() {
        words.push_str(&format!("; grain runs out 1 in {:.0}", 1.0 / part.run_out.slope));
    }
    page.words([room.left, room.top + 2.2], Anchor::Left, look::NOTE, &words);
    let board = [[x, y], [x + long, y], [x + long, y + tall], [x, y + tall]];
    page.put("boat", Shape::polygon(view.run(board), look::GUIDE));
    page.put("boat", Shape::area(view.run(part.outline.iter().copied()), look::WOOD, Some(look::OUTLINE)));
    for run in part.left.runs() {
        page.line(view.run(run.iter().copied()), LEFT);
    }
    for (feather, outside) in [(&part.fore, false), (&part.aft, true)] {
        let Some([begin, end]) = feather else { continue };
        // The taper: on the inner face at the forward part's after end, and the other way round.
        let full = if outside { begin } else { end };
        page.line(view.run(*full), Stroke::broken(Weight::Thin, look::INK, Dash::Hidden));
    }
    page.line(view.run([[x, part.batten], [x + long, part.batten]]), BATTEN);
    let stations: Vec<Ordinate> = ordinates.into_iter().filter(|o| o.section.is_some()).collect();
    numbered(
        page,
        book,
        part.batten,
        &stations,
        view,
        number,
        [base - (y + tall) * times / scale, foot],
        [room.left, room.right],
    );
    let note = format!(
        "Batten line {} over the board's lower edge. Broken: where a taper begins, what is left long.",
        len.short_unit(part.batten - y)
    );
    page.words([room.left, foot + under + 2.0], Anchor::Left, look::NOTE, &note);
    (table, drawn)
}

/// The note under a part's drawing, with clear room below it, mm.
const NOTE: f64 = 4.0;

/// The stations and the lines of the scarfs, from the bow.
fn ordinates(book: &Book<'_>, part: &Part) -> Vec<Ordinate> {
    let mut all: Vec<Ordinate> = part
        .stations
        .iter()
        .map(|s| Ordinate {
            name: section_name(book, s.section),
            section: Some(s.section),
            ruling: 0,
            lower: s.lower,
            upper: s.upper,
        })
        .collect();
    for (feather, names) in [(&part.fore, ["feather", "scarf"]), (&part.aft, ["scarf", "feather"])] {
        for (line, name) in feather.iter().flatten().zip(names) {
            let [lower, upper] = *line;
            all.push(Ordinate { name: name.to_owned(), section: None, ruling: 0, lower, upper });
        }
    }
    all.sort_by(|a, b| (a.lower[0] + a.upper[0]).total_cmp(&(b.lower[0] + b.upper[0])));
    all
}
