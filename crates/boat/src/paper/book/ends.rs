//! A strake's card: its ends, drawn large, with the true hood ends and how they are fastened.

use super::length::is_nought;
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::{LEFT, Ordinate, at_stations, edges, head, numbered, quarters, section_name, title};
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::development::{self, FlatPlank, HoodEnd};
use crate::drawing::table::{Group, Row, Table};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Stroke, Weight};
use crate::paper::left;
use crate::planks::Strake;
use crate::planks::lay::RULINGS_PER_SPAN;
use crate::units::FOOT;

/// Words on this sheet, a little less than running text: the drawings should be large.
const WORDS: Style = Style { size: 3.7, ..look::BODY };

/// The sheet of a strake's ends.
pub fn page<'a>(book: &Book<'a>, flat: &FlatPlank) -> Page<'a> {
    let mut page = book.blank(&format!("{}, its ends", title(book, flat.strake)));
    head(&mut page, book, flat);
    let posts: Vec<bool> = [(false, &flat.fore_hood), (true, &flat.aft_hood)]
        .into_iter()
        .filter_map(|(aft, hood)| hood.is_some().then_some(aft))
        .collect();
    let frame = page.frame;
    let texts = [(at_the_ends(book), fastenings(book, flat.strake)), ("To bend and hang", bending(book, flat))];
    let mut size = WORDS.size;
    // One end to a half; where only one has a hood the words stand beside it, else under both.
    let (halves, words): (Vec<Frame>, Vec<Frame>) = if posts.len() == 2 {
        let column = |i: usize| frame.column(i, 2, 11.0);
        // Little room is left under two ends: the words there are made small enough for it.
        let room = |i: usize| Frame { top: frame.bottom - UNDER, ..column(i) };
        size = (0..2).map(|i| page.prose_size(room(i), &[(texts[i].0, texts[i].1.as_str())])).fold(size, f64::min);
        let tall = |i: usize| words_height(&page, column(i), size, &texts[i].1);
        let bottom = frame.bottom - tall(0).max(tall(1));
        let above = |i: usize| Frame { bottom, ..column(i) };
        let under = |i: usize| Frame { top: bottom + 1.0, ..column(i) };
        ((0..2).map(above).collect(), (0..2).map(under).collect())
    } else {
        let split = frame.left + frame.width() * 0.62;
        let beside = Frame { left: split + 8.0, ..frame };
        let both: Vec<(&str, &str)> = texts.iter().map(|(head, text)| (*head, text.as_str())).collect();
        size = size.min(page.prose_size(Frame { bottom: beside.bottom - 4.0, ..beside }, &both));
        let lower = Frame { top: frame.top + words_height(&page, beside, size, &texts[0].1) + 2.0, ..beside };
        (vec![Frame { right: split, ..frame }], vec![beside, lower])
    };
    for (half, aft) in halves.into_iter().zip(posts) {
        end(&mut page, book, flat, half, aft);
    }
    for (place, (title, text)) in words.into_iter().zip(&texts) {
        page.prose(place, size, &[(title, text.as_str())]);
    }
    page
}

/// Room for the words under two ends, mm.
const UNDER: f64 = 31.0;

fn words_height(page: &Page<'_>, frame: Frame, size: f64, text: &str) -> f64 {
    7.4 + page.paragraph_height(frame.width(), look::BODY.size(size), text)
}

/// One end: drawing, the hood end's offsets, and the edges at the quarters of the way to the next station.
fn end(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank, frame: Frame, aft: bool) {
    let Some(hood) = (if aft { &flat.aft_hood } else { &flat.fore_hood }) else { return };
    let title = if aft { "After end, in the sternpost" } else { "Fore end, in the stem" };
    let top = page.head([frame.left, frame.top], title);
    let words = hood_words(book, hood, aft);
    let tables = [offsets(page, book, hood, frame.width()), quarters_table(page, book, flat, aft, frame.width())];
    let under: f64 = tables.iter().map(|t| t.height(page.t, frame.width()) + BETWEEN).sum();
    let under = under + page.paragraph_height(frame.width(), WORDS, &words);
    let mut y = drawing(page, book, flat, Frame { top, bottom: frame.bottom - under, ..frame }, aft);
    y = page.paragraph([frame.left, y], frame.width(), WORDS, &words);
    for table in tables {
        let drawn = table.draw(page.t, &mut page.sheet, [frame.left, y], frame.width(), f64::INFINITY, 0);
        y = drawn.bottom + BETWEEN;
    }
}

/// Free under a table, mm.
const BETWEEN: f64 = 2.4;

/// A rabbet so far off a plank's flat face is worth a word, mm: a plank springs to less.
const OFF_FACE: f64 = 1.0;

fn hood_words(book: &Book<'_>, hood: &HoodEnd, aft: bool) -> String {
    let [up, beyond] = hood.most();
    let left = book.plan.spec.allowance(false);
    let left = if aft { left.aft } else { left.fore };
    let mut text = if is_nought(&book.len.fine(beyond)) {
        "The hood end is as good as straight from corner to corner.".to_owned()
    } else {
        let side = if beyond > 0.0 { "beyond" } else { "inside" };
        format!(
            "Hood end: the rabbet stands up to {} {side} the straight line from corner to corner (broken), {} up it.",
            book.len.fine_unit(beyond.abs()),
            book.len.short_unit(up)
        )
    };
    if left > 0.0 {
        text.push_str(&format!(" {} more is left long: fit it.", book.len.short_unit(left)));
    }
    if hood.off_face.abs() > OFF_FACE {
        let side = if hood.off_face > 0.0 { "outside" } else { "inside" };
        text.push_str(&format!(
            " It lies up to {} {side} the plank's inner face, which is flat across.",
            book.len.fine_unit(hood.off_face.abs())
        ));
    }
    text
}

/// The hood end's offsets at the quarters of its straight line.
fn offsets(page: &Page<'_>, book: &Book<'_>, hood: &HoodEnd, width: f64) -> Table {
    let whole = hood.offsets.last().map_or(0.0, |o| o[0]);
    let places: Vec<f64> = (0..=4).map(|i| whole * f64::from(i) / 4.0).collect();
    let mut columns = vec![tables::names(&format!("{} up the straight line", book.len.0.unit()), 1.0)];
    columns.extend(places.iter().map(|up| tables::numbers(book.len, &book.len.short(*up), 1.0)));
    let mut table = tables::table(columns, 5.6);
    table.look.head = look::NUMBER.face(Face::Semibold);
    let mut cells = vec!["beyond it (\u{2212} inside)".to_owned()];
    cells.extend(places.iter().map(|up| book.len.fine(hood.beyond(*up))));
    table.rows.push(tables::row(cells));
    tables::fit(page.t, &mut table, width);
    table
}

/// The edges at the quarters of the way to the next station.
fn quarters_table(page: &Page<'_>, book: &Book<'_>, flat: &FlatPlank, aft: bool, width: f64) -> Table {
    let columns = vec![
        tables::names("to the station", 1.0),
        tables::longs(book.len, "along", 1.0),
        tables::numbers(book.len, "off", 1.0),
        tables::longs(book.len, "along", 1.0),
        tables::numbers(book.len, "off", 1.0),
    ];
    let mut table = tables::table(columns, 5.6);
    table.look.pad = 1.9;
    let group = |from, head: &str| Group { from, to: from + 1, head: head.to_owned() };
    table.groups = vec![group(1, "lower edge"), group(3, "upper edge")];
    table.rows = quarters(flat, aft).iter().map(|o| Row { cells: edges(book, flat.batten, o) }).collect();
    tables::fit(page.t, &mut table, width);
    table
}

/// The end to scale, from the hood end to the station next to it; returns the top of what follows.
fn drawing(page: &mut Page<'_>, book: &Book<'_>, flat: &FlatPlank, room: Frame, aft: bool) -> f64 {
    let last = flat.lower.len().saturating_sub(1);
    let (from, to) =
        if aft { (last.saturating_sub(RULINGS_PER_SPAN), last) } else { (0, RULINGS_PER_SPAN.min(last)) };
    let Some(hood) = (if aft { &flat.aft_hood } else { &flat.fore_hood }) else { return room.top };
    let (Some(lower), Some(upper)) = (flat.lower.get(from..=to), flat.upper.get(from..=to)) else { return room.top };
    let long = left::of(book.plan, flat);
    let past = if aft { &long.aft } else { &long.fore };
    let all = || lower.iter().chain(upper).chain(&hood.curve).chain(past);
    let (Some((x0, x1)), Some((low, y1))) = (range(all().map(|p| p[0])), range(all().map(|p| p[1]))) else {
        return room.top;
    };
    // Where the batten line lies far off the end, the drawing stops short of it.
    let off = (low - flat.batten).max(flat.batten - y1);
    let far = off > 0.25 * (y1 - low);
    let (y0, y1) = if far { (low, y1) } else { (low.min(flat.batten), y1.max(flat.batten)) };
    let number = book.number();
    let line = number.size * 0.65;
    let (above, under, caption) = (2.0 + line + 3.6 + 3.4, 2.4 + line + 1.6, 4.6);
    let (wide, tall) = (room.width() - 8.0, (room.height() - above - under - caption - 2.4).max(5.0));
    let scale = customary(((x1 - x0) / wide).max((y1 - y0) / tall), book.len.0);
    let left = room.left + (room.width() - (x1 - x0) / scale) / 2.0 - x0 / scale;
    let top = room.top + caption + above;
    let view = View::new([left, top + y1 / scale], scale);
    let foot = top + (y1 - y0) / scale;
    let below = match (far, flat.batten < y0) {
        (false, _) => "",
        (true, true) => "; the batten line is further down",
        (true, false) => "; the batten line is further up",
    };
    let outside = if past.is_empty() { "" } else { "; outside, left long" };
    let words = format!("{}; broken: straight corner to corner{outside}{below}", scale_words(scale, book.len.0));
    page.words([room.left, room.top + 2.2], Anchor::Left, look::NOTE, &words);

    // From the hood's upper corner along the upper edge, down the station, back along the lower edge, up the hood.
    let mut around: Vec<[f64; 2]> = hood.curve.clone();
    let (to_station, back): (Vec<_>, Vec<_>) = if aft {
        (upper.iter().rev().copied().collect(), lower.to_vec())
    } else {
        (upper.to_vec(), lower.iter().rev().copied().collect())
    };
    around.extend(to_station.iter().chain(&back));
    page.put("boat", Shape::area(view.run(around), look::WOOD, None));
    for edge in [lower, upper, &hood.curve] {
        page.line(view.run(edge.iter().copied()), look::OUTLINE);
    }
    if !past.is_empty() {
        page.line(view.run(past.iter().copied()), LEFT);
    }
    let corner = if aft { to } else { from };
    let straight = [flat.lower[corner], flat.upper[corner]];
    page.line(view.run(straight), Stroke::broken(Weight::Thin, look::COPPER, Dash::Hidden));
    if !far {
        let batten = Stroke::broken(Weight::Thin, look::COPPER, Dash::Centre);
        let [left, right] = [view.at(x0, flat.batten), view.at(x1, flat.batten)];
        page.line(vec![[left[0] - 3.0, left[1]], [right[0] + 3.0, right[1]]], batten);
    }

    let near = |o: &Ordinate| o.ruling >= from && o.ruling <= to;
    let mut ordinates: Vec<Ordinate> = at_stations(book, flat).into_iter().filter(near).collect();
    ordinates.extend(quarters(flat, aft));
    ordinates.sort_by_key(|o| o.ruling);
    numbered(page, book, flat.batten, &ordinates, view, number, [top, foot], [room.left, room.right]);
    foot + under + 2.4
}

/// What it takes to bend, and how a straight strip would do.
fn bending(book: &Book<'_>, flat: &FlatPlank) -> String {
    let plan = book.plan;
    let Some(strake) = plan.strakes.iter().find(|s| s.strake == flat.strake) else { return String::new() };
    let (run, word) = if book.len.inches() { (FOOT, "foot") } else { (1000.0, "metre") };
    let hardest =
        |axis: usize| (0..flat.bent.len()).max_by(|&a, &b| flat.bent[a][axis].total_cmp(&flat.bent[b][axis]));
    let near = |axis: usize| hardest(axis).map_or_else(String::new, |r| near_station(book, strake, r));
    let (t, wood) = (strake.thickness, &plan.spec.bending);
    let of = |share: f64, most: f64| format!("{:.0} % of what goes cold", 100.0 * share / most);
    let twist = format!(
        "Twist at most {:.0}° in a {word} {}, {}.",
        (flat.twist_max * run).to_degrees(),
        near(1),
        of(t * flat.twist_max, wood.cold_shear)
    );
    let bend = if flat.bend_radius_min.is_finite() {
        let share = of(0.5 * t / flat.bend_radius_min, wood.cold_strain);
        format!("Bent to a radius of {} {}, {share}.", book.len.long_unit(flat.bend_radius_min), near(0))
    } else {
        "Not bent across its face.".to_owned()
    };
    let edge_set = if flat.edge_set < 0.5 {
        "No edge-set.".to_owned()
    } else {
        format!("Edge-set {}.", book.len.fine_unit(flat.edge_set))
    };
    let round = if flat.round.abs() < 1.0 {
        String::new()
    } else {
        let way = if flat.round > 0.0 { "up" } else { "down" };
        format!(" Its round is {} {way}.", book.len.short_unit(flat.round.abs()))
    };
    let grain = if flat.run_out.slope > 1.0 / 60.0 && plan.sheets.is_none() {
        let at = near_station(book, strake, flat.run_out.ruling);
        format!(" Whole, its grain runs out 1 in {:.0} {at}.", 1.0 / flat.run_out.slope)
    } else {
        String::new()
    };
    let stretch = flat.strain_most * 1000.0;
    format!("{}{twist} {bend} {edge_set}{round}{grain} Stretch left: {stretch:.2} in a thousand.", steam(book, flat))
}

/// The station nearest to a ruling, by a name that may be cut short.
fn near_station(book: &Book<'_>, strake: &Strake, ruling: usize) -> String {
    let nearest = strake.at.iter().min_by_key(|a| a.ruling.abs_diff(ruling));
    nearest.map_or_else(String::new, |a| format!("near {}", section_name(book, a.section)))
}

/// Where to steam it; empty where it goes on cold.
fn steam(book: &Book<'_>, flat: &FlatPlank) -> String {
    let Some(strake) = book.plan.strakes.iter().find(|s| s.strake == flat.strake) else { return String::new() };
    let stretches: Vec<String> =
        flat.steam.iter().map(|&s| development::stretch(s, strake, &book.plan.sections)).collect();
    if stretches.is_empty() {
        String::new()
    } else {
        let at = stretches.join(" and ");
        match book.plan.sheets {
            None => format!("Steam it {at}, and hang it hot. "),
            Some(_) => format!("Too hard to go on cold {at}: thinner sheets there, glued one over another. "),
        }
    }
}

fn at_the_ends(book: &Book<'_>) -> &'static str {
    if book.plan.spec.glued() { "At the ends" } else { "Fastenings at the ends" }
}

fn fastenings(book: &Book<'_>, strake: usize) -> String {
    if book.plan.spec.glued() {
        return "Glued; what holds it meanwhile is yours to choose.".to_owned();
    }
    let mut text = String::new();
    for end in book.plan.ends.iter().filter(|e| e.strake == strake) {
        let up: Vec<String> = end.places.iter().map(|p| book.len.short(p.up)).collect();
        let lengths: Vec<String> = end
            .places
            .iter()
            .map(|p| p.length.map_or_else(|| "none long enough".to_owned(), |mm| book.len.short(mm)))
            .collect();
        let same = lengths.windows(2).all(|w| w[0] == w[1]);
        let lengths = if same { lengths[..lengths.len().min(1)].join("") } else { lengths.join(", ") };
        text.push_str(&format!(
            "At the {}: {}, {} {} up the end; {lengths} long. ",
            end.end,
            end.fixing.count(end.places.len()),
            up.join(", "),
            book.len.0.unit()
        ));
    }
    let lowest =
        if strake == 1 { "half a land up from the rabbet" } else { "in the middle of the land on its lower edge" };
    let row = book.len.short_unit(book.plan.spec.fastenings.end_row);
    text.push_str(&format!(
        "All {row} from the plank's end, places from its lower edge. The first is {lowest}; the last "
    ));
    text.push_str(if strake < book.plan.strakes.len() {
        "is the next strake's first, through the land on this one's upper edge, and waits for it."
    } else {
        "is half a land below the sheer."
    });
    text
}
