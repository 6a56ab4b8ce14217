//! A strake's card, back: the land on its upper edge, its gains, and how it is fastened.

use super::gains;
use super::land_section;
use super::length::{UNSEEN, degrees, is_nought};
use super::look;
use super::page::{AFTER, Book, Frame, Page};
use super::rivets::{count, from_station, of_land, runs};
use super::strake::{head, section_name, short_name, title};
use super::tables;
use super::view::range;
use crate::development::FlatPlank;
use crate::drawing::Face;
use crate::drawing::table::Table;
use crate::drawing::words::LEAST_SIZE;
use crate::fastenings::Rivet;
use crate::planks::{Strake, StrakeAt};

/// Heads and paragraphs.
type Sections<'s> = [(&'s str, &'s str)];

/// Back of a strake's card, and more pages where it has too many stations for one.
pub fn back<'a>(book: &Book<'a>, strake: &Strake, flat: &FlatPlank) -> Vec<Page<'a>> {
    let title = title(book, strake.strake);
    let mut page = book.blank(&title);
    head(&mut page, book, flat);
    let frame = page.frame;
    let middle = frame.left + frame.width() * 0.56;
    let (left, right) = (Frame { right: middle - 6.0, ..frame }, Frame { left: middle + 2.0, ..frame });
    let edge = gains::lower_edge(book, strake);
    if strake.at.iter().all(|a| a.bevel.is_none()) {
        let y = page.headed([left.left, left.top], left.width(), "Its lower edge", &edge);
        page.headed([left.left, y], left.width(), "No land above", SHEER);
        gains::depths(&mut page, book, right);
        return vec![page];
    }
    let order = gains::order(book, strake.strake);
    let order = [("How gain and bevel go together, in this order", order.as_str())];
    let under =
        [LEAST_SIZE, look::BODY.size].map(|size| gains::height(book) + page.prose_height(left.width(), size, &order));
    let mut table = bevel_table(book, strake);
    let (y, drawn) = bevels(&mut page, book, strake, &mut table, left, under);
    let y = gains::depths(&mut page, book, Frame { top: y, ..left });
    let mut rest = fill(&mut page, Frame { top: y, ..left }, &order).to_vec();

    let of_land = of_land(book, strake.strake);
    let rivets_head = format!("{} a side", count(of_land.len(), "rivet"));
    let rivets = format!("{} {}", rivet_words(book, &of_land), nail_words(book, strake, &of_land));
    let waiting = blocked(book, &of_land);
    let texts =
        [("Its lower edge", edge.as_str()), (&rivets_head, &rivets), ("Wait until the mould is out", &waiting)];
    let glued = [
        ("Its lower edge", edge.as_str()),
        (
            "Glued",
            "Nothing but glue holds the land: plane it until block and straight-edge show no light, for glue fills little.",
        ),
    ];
    let texts: &[(&str, &str)] = if book.plan.spec.glued() { &glued } else { &texts };
    let y = land_section::draw(&mut page, book, strake, right);
    rest.extend(fill(&mut page, Frame { top: y, ..right }, texts));

    let mut pages = vec![page];
    let next = || book.page(&title, "its land, continued");
    pages.extend(tables::rest(&mut table, drawn, next));
    if !rest.is_empty() {
        let mut page = next();
        let frame = page.frame;
        let size = page.prose_size(frame, &rest).min(look::BODY.size);
        page.prose(frame, size, &rest);
        pages.push(page);
    }
    pages
}

/// The upper edge of the sheer strake.
const SHEER: &str = "Its upper edge is the sheer. Plane it fair and square to the face.";

/// Heads and paragraphs in the largest type that fits, but no larger than running text; returns those that have no room even in
/// the least.
fn fill<'s, 't>(page: &mut Page<'_>, frame: Frame, sections: &'s Sections<'t>) -> &'s Sections<'t> {
    let fits = |n: &usize| page.prose_height(frame.width(), LEAST_SIZE, &sections[..*n]) <= frame.height() + AFTER;
    let (here, rest) = sections.split_at((1..=sections.len()).rev().find(fits).unwrap_or(0));
    let size = page.prose_size(frame, here).min(look::BODY.size);
    page.prose(frame, size, here);
    rest
}

/// A bevel between stations is told where it is so much greater than at any, radians: half a degree.
const HARDER: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// The table of bevels and what is to be said of it; returns the top of what follows and how many of its rows found room.
///
/// `under`: so much must be kept free under it, and so much should be, mm.
fn bevels(
    page: &mut Page<'_>,
    book: &Book<'_>,
    strake: &Strake,
    table: &mut Table,
    frame: Frame,
    under: [f64; 2],
) -> (f64, usize) {
    let top = page.head([frame.left, frame.top], &format!("Land {}, on its upper edge", strake.strake));
    let notes = bevel_notes(book, strake);
    let style = look::NOTE.face(Face::Italic);
    let said = page.paragraph_height(frame.width(), style, &notes) + 3.2;
    let (bottom, drawn) = side_by_side(page, table, Frame { top, ..frame }, [under[0] + said, under[1]]);
    (page.paragraph([frame.left, bottom + 2.2], frame.width(), style, &notes) + 1.0, drawn)
}

/// Whether less wood is left at the edge of the land than was asked for.
fn thin(book: &Book<'_>, strake: &Strake, at: &StrakeAt) -> bool {
    let floor = at.edge_floor(strake.thickness, book.plan.spec.planking.edge_floor);
    at.edge_left.is_some_and(|left| left < floor - UNSEEN)
}

/// The bevels of the land on a strake's upper edge, station by station.
fn bevel_table(book: &Book<'_>, strake: &Strake) -> Table {
    let columns = vec![
        tables::names("station", 1.0),
        tables::counts("bevel", 1.0),
        tables::numbers(book.len, "plane off", 1.0),
        tables::numbers(book.len, "edge left", 1.0),
        tables::numbers(book.len, "gain deep", 1.0),
    ];
    let mut table = tables::table(columns, LEAST_ROW);
    for at in strake.at.iter().filter(|a| a.bevel.is_some()) {
        let short = |mm: Option<f64>| mm.map_or_else(String::new, |mm| book.len.fine(mm));
        let planed = at.bevel.zip(at.lap).map(|(bevel, lap)| lap * bevel.tan());
        let gain = at.gain.filter(|g| *g > UNSEEN && !is_nought(&book.len.fine(*g)));
        let mut cells = tables::row([
            section_name(book, at.section),
            at.bevel.map(degrees).unwrap_or_default(),
            short(planed),
            short(at.edge_left),
            short(gain),
        ]);
        if thin(book, strake, at) {
            cells.cells[3].ground = Some(look::COPPER_TINT);
        }
        table.rows.push(cells);
    }
    table
}

/// What is to be said of the bevels.
fn bevel_notes(book: &Book<'_>, strake: &Strake) -> String {
    let mut notes =
        "Plane off: at the upper outer edge, over a whole land. The sheet of bevels has them closer together. "
            .to_owned();
    // Where the land turns hardest between two stations the table alone would lead astray.
    let at_stations = strake.at.iter().filter_map(|a| a.bevel).fold(f64::MIN, f64::max);
    let land = book.plan.bevels.iter().filter(|b| b.land == strake.strake);
    if let Some(most) = land.max_by(|a, b| a.bevel.total_cmp(&b.bevel)).filter(|b| b.bevel > at_stations + HARDER) {
        notes.push_str(&format!(
            "Hardest between stations: {} at {} from the bow along the land. ",
            degrees(most.bevel),
            book.len.long_unit(most.along)
        ));
    }
    if strake.at.iter().any(|a| a.bevel.is_some_and(|b| degrees(b).starts_with('\u{2212}'))) {
        notes.push_str(
            "Where the bevel is \u{2212}, leave this strake square and bevel the lower inner edge of the next one by as much. ",
        );
    }
    if strake.at.iter().any(|at| thin(book, strake, at)) {
        notes.push_str("Tinted: less wood left than the floor set for this boat; see the findings.");
    }
    notes
}

/// Rows of the table of bevels are at least and at most so high, mm.
const LEAST_ROW: f64 = 6.0;
const MOST_ROW: f64 = 7.4;
/// More rows than this must stand in two columns.
const MANY: usize = 12;

/// Draws the table, in two columns if it is long and they have room; returns the bottom of its last row and how many rows found
/// room. So much must be kept free under it, and so much should be, mm.
fn side_by_side(page: &mut Page<'_>, table: &mut Table, frame: Frame, [least, under]: [f64; 2]) -> (f64, usize) {
    let gap = 6.0;
    let pair = |page: &Page<'_>, table: &Table| 2.0 * tables::natural_width(page.t, table) + gap <= frame.width();
    if table.rows.len() > MANY && !pair(page, table) {
        // Long names would leave no room for what is to be said under a tall table.
        table.columns[0].style.size = look::NOTE.size;
    }
    let long = table.rows.len() > 6 && pair(page, table);
    let columns = if long { 2 } else { 1 };
    let wide = frame.column(0, columns, gap).width();
    tables::fit(page.t, table, wide);
    let room = frame.height() - table.head_height(page.t, wide);
    let most = ((room - least) / LEAST_ROW).max(1.0) as usize;
    let deep = table.rows.len().div_ceil(columns).clamp(1, most);
    tables::grow(page.t, table, wide, ((room - under - 10.0) / deep as f64).clamp(LEAST_ROW, MOST_ROW));
    let rows = std::mem::take(&mut table.rows);
    let mut bottom = frame.top;
    for (i, part) in rows.chunks(deep).take(columns).enumerate() {
        table.rows = part.to_vec();
        let left = frame.column(i, columns, gap).left;
        let drawn = table.draw(page.t, &mut page.sheet, [left, frame.top], wide, frame.height(), 0);
        bottom = bottom.max(drawn.bottom);
    }
    table.rows = rows;
    (bottom, deep * columns)
}

fn rivet_words(book: &Book<'_>, rivets: &[&Rivet]) -> String {
    let mut text = "Numbered from the bow. ".to_owned();
    let gaps = rivets.windows(2).map(|p| p[1].along - p[0].along);
    if let Some((least, most)) = range(gaps) {
        let (a, b) = (book.len.short(least), book.len.short_unit(most));
        if book.len.short(most) == a {
            text.push_str(&format!("{b} apart. "));
        } else {
            text.push_str(&format!("{a} to {b} apart. "));
        }
    }
    if let Some((least, most)) = range(rivets.iter().map(|r| r.lean)) {
        text.push_str(&format!(
            "The hole leans {} to {} off square to this plank, half the bevel: {}. ",
            degrees(least),
            degrees(most),
            leaning(rivets)
        ));
    }
    if let (Some((least, _)), Some((square, _))) =
        (range(rivets.iter().map(|r| r.head_edge)), range(rivets.iter().map(|r| r.head_edge_square)))
    {
        let (least, square) = (book.len.fine_unit(least), book.len.fine_unit(square));
        text.push_str(&format!("The head then stands {least} or more from the outer plank's edge"));
        let rest =
            if least == square { ".".to_owned() } else { format!("; drilled square it could come to {square}.") };
        text.push_str(&rest);
    }
    text
}

/// Which way the heads lean.
fn leaning(rivets: &[&Rivet]) -> &'static str {
    let some = |way| rivets.iter().any(|r| r.head_leans() == Some(way));
    match (some("up"), some("down")) {
        (true, true) => "the head towards the sheer, and where it is \u{2212} towards the keel",
        (true, false) => "the head towards the sheer",
        (false, true) => "the head towards the keel",
        (false, false) => "as good as square",
    }
}

/// Which rivets take which nail, and where the first and the last stand.
fn nail_words(book: &Book<'_>, strake: &Strake, rivets: &[&Rivet]) -> String {
    let mut text = String::new();
    for (which, timber) in [("Through the timbers", true), ("The others", false)] {
        let these: Vec<&Rivet> = rivets.iter().copied().filter(|r| r.timber.is_some() == timber).collect();
        let numbers: Vec<usize> = these.iter().map(|r| r.n).collect();
        let mut lengths: Vec<Option<f64>> = these.iter().map(|r| r.nail).collect();
        lengths.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        lengths.dedup();
        let mut parts: Vec<String> = Vec::new();
        for length in lengths {
            let take: Vec<usize> = these.iter().filter(|r| r.nail == length).map(|r| r.n).collect();
            let nail = length.map_or_else(|| "none in stock is long enough".to_owned(), |l| book.len.short_unit(l));
            parts.push(format!("{nail} for {}", runs(&take, &numbers)));
        }
        if !parts.is_empty() {
            text.push_str(&format!("{which}: nail {}. ", parts.join("; ")));
        }
    }
    if let (Some(first), Some(last)) = (rivets.first(), rivets.last()) {
        let place = |r: &Rivet| {
            let station = from_station(book, strake, r.along);
            format!("{} is {} along the land from its fore end ({station})", r.n, book.len.long_unit(r.along))
        };
        text.push_str(&format!(
            "Rivet {}, rivet {}. Every one's place stands on the sheet of its rivets.",
            place(first),
            place(last)
        ));
    }
    text
}

/// Which rivets each mould is in the way of.
fn blocked(book: &Book<'_>, rivets: &[&Rivet]) -> String {
    let mut text = String::new();
    for (i, mould) in book.plan.moulds.iter().enumerate() {
        let numbers: Vec<usize> = rivets.iter().filter(|r| r.blocked_by == Some(i)).map(|r| r.n).collect();
        if !numbers.is_empty() {
            let list: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            text.push_str(&format!("Mould {}: {}. ", short_name(&mould.name), list.join(", ")));
        }
    }
    if text.is_empty() { "None: no mould is in the way.".to_owned() } else { text }
}
