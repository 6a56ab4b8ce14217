//! Fairness to be seen: each view with a curvature comb on every line, and the figures of all lines in a table.
//!
//! A comb's hairs stand square to the line on the outside of its bend, as long as the bend is hard. A fair line's comb
//! swells and sinks evenly; where it passes through the line, the line turns back, and a small ring stands there. Hairs
//! too long for the page are cut, and end in a dot.

use super::comb::{Comb, hairs};
use super::length::{minus, signed};
use super::look;
use super::page::{Book, Frame, Page};
use super::spread::spread;
use super::strake::short_name;
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::drawing::table::Group;
use crate::drawing::{Anchor, Colour, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::lines::fairness::{Comb as Line, Moved, SHARE, View as Seen};
use crate::offsets::StationAt;
use crate::units::{FOOT, INCH};

/// A page for each view that has lines, and the table.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let mut pages = Vec::new();
    for view in Seen::ALL {
        let lines: Vec<&Line> = book.plan.fairness.combs.iter().filter(|c| c.view == view).collect();
        if lines.is_empty() {
            continue;
        }
        let mut page = book.page_to_scale(&format!("Fairness: {}", view.word()), &book.plan.spec.name);
        match view {
            Seen::Body => body(&mut page, book, &lines),
            _ => long(&mut page, book, view, &lines),
        }
        pages.push(page);
    }
    pages.extend(table(book));
    pages
}

/// Left free about a drawing for its hairs, mm.
const ROOM: f64 = 15.0;
/// Lines near one another have combs of different colours.
const COLOURS: [Colour; 3] = [look::COPPER, look::PENCIL, look::SHADE];

/// Heights, half-breadths or diagonals over the length of the boat. Where there is room, what runs up the page is drawn
/// larger than what runs along it, so that the lines stand further apart.
fn long(page: &mut Page<'_>, book: &Book<'_>, seen: Seen, lines: &[&Line]) {
    let teeth = || lines.iter().flat_map(|l| &l.teeth);
    let (Some(x), Some(v)) = (range(teeth().map(|t| t.at[0])), range(teeth().map(|t| t.at[1]))) else { return };
    let v = (v.0.min(0.0), v.1);
    let comb = Comb::of(lines, book.len);
    let top = caption_room(page);
    let frame = Frame { top, ..page.frame };
    let wide = frame.width() - 2.0 * ROOM;
    // Names of stations stand under it.
    let tall = frame.height() - 2.0 * ROOM - 4.0;
    let scale = customary(((x.1 - x.0) / wide).max((v.1 - v.0) / tall), book.len.0);
    let up = [4.0, 3.0, 2.5, 2.0, 1.5].into_iter().find(|k| (v.1 - v.0) * k / scale <= tall).unwrap_or(1.0);
    let left = frame.left + ROOM + (wide - (x.1 - x.0) / scale) / 2.0;
    let low = frame.top + ROOM + tall - (tall - (v.1 - v.0) * up / scale) / 2.0;
    let view = View { scale_up: scale / up, ..View::new([left - x.0 / scale, low + v.0 * up / scale], scale) };

    page.line(view.run([[x.0, 0.0], [x.1, 0.0]]), Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre));
    stations(page, book, view, v, low + ROOM + 3.0);
    for (i, line) in lines.iter().enumerate() {
        draw(page, frame, view, 1.0, &comb, line, COLOURS[i % COLOURS.len()]);
    }
    names(page, view, lines);

    let (across, larger) = match seen {
        Seen::Profile => ("Heights above base", "heights"),
        Seen::HalfBreadth => ("Half-breadths from the centreline", "half-breadths"),
        _ => ("Distances from the centreline along each diagonal", "distances"),
    };
    let scale = if up > 1.0 {
        format!("{} along, {larger} {up} times as large", scale_words(scale, book.len.0))
    } else {
        scale_words(scale, book.len.0)
    };
    caption(page, book, &format!("{across}, {scale}."), &comb);
}

fn stations(page: &mut Page<'_>, book: &Book<'_>, view: View, v: (f64, f64), base: f64) {
    let at = |s: &crate::offsets::Station| match s.at {
        StationAt::Square(x) => Some((short_name(&s.name), x)),
        StationAt::Transom | StationAt::BowTransom => None,
    };
    let stations: Vec<(String, f64)> = book.plan.table.stations.iter().filter_map(at).collect();
    let style = look::NOTE;
    let half: Vec<f64> = stations.iter().map(|(name, _)| page.width(style, name) / 2.0 + 0.6).collect();
    if half.iter().sum::<f64>() * 2.0 > page.frame.width() {
        return;
    }
    let places: Vec<f64> = stations.iter().map(|(_, x)| view.at(*x, 0.0)[0]).collect();
    let spread = spread(&places, &half, page.frame.left, page.frame.right);
    for ((name, x), place) in stations.iter().zip(spread) {
        page.line(vec![view.at(*x, v.1), [view.at(*x, v.0)[0], base - 3.4]], look::RULE);
        page.words([place, base], Anchor::Middle, style, name);
    }
}

/// One line with its comb; `hand` is −1 where it is drawn mirrored.
fn draw(page: &mut Page<'_>, frame: Frame, view: View, hand: f64, comb: &Comb, line: &Line, colour: Colour) {
    let hairs = hairs(view, &line.teeth, hand, comb.reach, frame);
    page.line(hairs.iter().map(|h| h.tip).collect(), Stroke::solid(Weight::Fine, colour));
    let mut last: Option<Spot> = None;
    for (i, hair) in hairs.iter().enumerate() {
        let far = |from: Spot| (hair.foot[0] - from[0]).hypot(hair.foot[1] - from[1]) >= PITCH;
        if last.is_none_or(far) || i + 1 == hairs.len() {
            page.line(vec![hair.foot, hair.tip], Stroke::solid(Weight::Hair, colour));
            if hair.cut {
                page.put("ink", Shape::circle(hair.tip, 0.4, None, Some(colour)));
            }
            last = Some(hair.foot);
        }
    }
    page.line(view.run(line.teeth.iter().map(|t| [hand * t.at[0], t.at[1]])), look::OUTLINE);
    for spot in &line.after {
        let at = view.at(hand * spot.at[0], spot.at[1]);
        page.put("ink", Shape::circle(at, 0.9, Some(look::THIN), Some(look::BLANK)));
    }
}

/// Letters of a line's name on the drawing.
const LETTERS: usize = 18;
/// Between two hairs, mm.
const PITCH: f64 = 1.3;

/// A line's name without what the page says already.
fn label(line: &Line) -> String {
    let said = ["height", "half-breadth", "waterline", "diagonal", "h", "hb", "wl", "diag"];
    let words: Vec<&str> =
        line.line.split_whitespace().filter(|w| !said.contains(&w.to_lowercase().as_str())).collect();
    if words.is_empty() { line.line.clone() } else { words.join(" ") }
}

/// Names of long lines, each on its own where the others are furthest off.
fn names(page: &mut Page<'_>, view: View, lines: &[&Line]) {
    let style = look::NOTE.face(Face::Semibold);
    let runs: Vec<Vec<Spot>> = lines.iter().map(|l| view.run(l.teeth.iter().map(|t| t.at))).collect();
    let rings: Vec<Spot> = lines.iter().flat_map(|l| &l.after).map(|s| view.at(s.at[0], s.at[1])).collect();
    let mut taken: Vec<[f64; 4]> = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        let name: String = label(line).chars().take(LETTERS).collect();
        let half = page.width(style, &name) / 2.0 + 0.7;
        let patch = |at: &Spot| [at[0] - half, at[1] - 1.8, at[0] + half, at[1] + 1.8];
        let clear = |at: &&Spot| {
            let [left, top, right, bottom] = patch(at);
            let apart = |o: &[f64; 4]| o[0] > right || o[2] < left || o[1] > bottom || o[3] < top;
            let off = |r: &Spot| r[0] < left - 1.0 || r[0] > right + 1.0 || r[1] < top - 1.0 || r[1] > bottom + 1.0;
            left > page.frame.left && right < page.frame.right && taken.iter().all(apart) && rings.iter().all(off)
        };
        // A name is several times as wide as tall, so lines under and over it are nearer than those beside it.
        let far = |at: &Spot| {
            let others = runs.iter().enumerate().filter(|(j, _)| *j != i).flat_map(|(_, run)| run.iter().step_by(4));
            others.map(|o| ((o[0] - at[0]) / 3.0).hypot(o[1] - at[1])).fold(f64::MAX, f64::min)
        };
        // An end is where lines meet and where the eye looks for it: no name there.
        let end = runs[i].len() / 10;
        let inner = runs[i].iter().take(runs[i].len() - end).skip(end);
        let places = inner.step_by(3).filter(clear).map(|at| (far(at), *at));
        let Some((_, at)) = places.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        let [left, top, right, bottom] = patch(&at);
        let corners = vec![[left, top], [right, top], [right, bottom], [left, bottom]];
        page.put("ink", Shape::area(corners, look::BLANK, None));
        page.words([at[0], at[1] + 1.0], Anchor::Middle, style, &name);
        taken.push([left, top, right, bottom]);
    }
}

/// Fore half on the right, after half on the left, as on the body plan.
fn body(page: &mut Page<'_>, book: &Book<'_>, lines: &[&Line]) {
    let teeth = || lines.iter().flat_map(|l| &l.teeth);
    let (Some(y), Some(z)) = (range(teeth().map(|t| t.at[0])), range(teeth().map(|t| t.at[1]))) else { return };
    let comb = Comb::of(lines, book.len);
    let top = caption_room(page);
    let frame = Frame { top, ..page.frame };
    let (over, depth) = (9.0, z.1 - z.0.min(0.0));
    let room = [frame.width() - 2.0 * ROOM, frame.height() - over - 2.0 * ROOM];
    let scale = customary((2.0 * y.1 / room[0]).max(depth / room[1]), book.len.0);
    let low = frame.bottom - ROOM - (room[1] - depth / scale) / 2.0;
    let view = View::new([f64::midpoint(frame.left, frame.right), low + z.0.min(0.0) / scale], scale);
    page.line(view.run([[-y.1, 0.0], [y.1, 0.0]]), look::GUIDE);
    page.line(view.run([[0.0, z.0.min(0.0)], [0.0, z.1]]), Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre));
    let half = |l: &Line| l.teeth.iter().map(|t| t.at[0]).fold(0.0, f64::max);
    let widest = lines.iter().position(|l| half(l) >= y.1).unwrap_or(0);
    let base = view.at(0.0, z.1)[1] - ROOM;
    for (hand, from, to) in [(1.0, 0, widest + 1), (-1.0, widest + 1, lines.len())] {
        let mut ends = Vec::new();
        for (i, line) in lines.iter().enumerate().take(to).skip(from) {
            draw(page, frame, view, hand, &comb, line, COLOURS[i % COLOURS.len()]);
            let name = short_name(line.line.strip_prefix("station ").unwrap_or(&line.line));
            ends.extend(line.teeth.last().map(|t| (view.at(hand * t.at[0], t.at[1]), name)));
        }
        let style = look::NOTE.face(Face::Italic);
        let half: Vec<f64> = ends.iter().map(|(_, name)| page.width(style, name) / 2.0 + 0.8).collect();
        let places: Vec<f64> = ends.iter().map(|(spot, _)| spot[0]).collect();
        let middle = view.origin[0];
        let (left, right) = if hand > 0.0 { (middle + 0.5, frame.right) } else { (frame.left, middle - 0.5) };
        if half.iter().sum::<f64>() * 2.0 > right - left {
            continue;
        }
        for (x, (spot, name)) in spread(&places, &half, left, right).into_iter().zip(&ends) {
            page.line(vec![*spot, [x, base + 1.0]], look::RULE);
            page.words([x, base], Anchor::Middle, style, name);
        }
    }
    let transom = if lines.iter().any(|l| l.line == "transom") {
        " The transom's comb is that of its true shape, in its own face."
    } else {
        ""
    };
    let words =
        format!("Fore half on the right, after half on the left, {}.{transom}", scale_words(scale, book.len.0));
    caption(page, book, &words, &comb);
}

/// The caption is three lines of notes.
fn caption_room(page: &Page<'_>) -> f64 {
    page.frame.top + 3.0 * look::NOTE.size * look::LEADING + 1.0
}

fn caption(page: &mut Page<'_>, book: &Book<'_>, first: &str, comb: &Comb) {
    let words = format!(
        "{first} Each line after fairing, to the face that the table gives. {} Hairs stand on the outside of the bend; a \
         fair line's swell and sink evenly. A ring is an inflection; a comb that changes sides without one does so by no more \
         than rounding may. A hair that ends in a dot is cut short.",
        comb.scale(book.len)
    );
    let frame = page.frame;
    page.paragraph([frame.left, frame.top - 1.4], frame.width(), look::NOTE, &words);
}

/// A radius to two figures: nobody springs a batten closer than that.
fn radius(book: &Book<'_>, mm: f64) -> String {
    if !book.len.inches() {
        return match mm / 1000.0 {
            m if m < 1.0 => format!("{m:.2} m"),
            m if m < 10.0 => format!("{m:.1} m"),
            m => format!("{m:.0} m"),
        };
    }
    let (inches, feet) = ((mm / INCH).round(), mm / FOOT);
    match () {
        () if inches < 36.0 => format!("{inches:.0} in"),
        () if feet < 10.0 => format!("{feet:.1} ft"),
        () => format!("{feet:.0} ft"),
    }
}

/// A correction with its sign.
fn change(book: &Book<'_>, mm: f64) -> String {
    signed(mm, minus(book.len.0.exact(mm)))
}

/// Letters of a name.
fn cut(name: &str) -> String {
    name.chars().take(60).collect()
}

/// Every line in figures.
fn table<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let fairness = &book.plan.fairness;
    if fairness.combs.is_empty() {
        return Vec::new();
    }
    let next = || book.page("Fairness", &book.plan.spec.name);
    let mut page = next();
    let frame = page.frame;
    let [before, after] = fairness.inflections();
    let unit = book.len.0.unit();
    let view = |(view, moved): &(Seen, Moved)| -> Option<String> {
        let l = moved.largest.as_ref()?;
        let place = format!("{}, station {}", cut(&l.row), short_name(&l.station));
        let name = if *view == Seen::Body { return None } else { view.word() };
        Some(format!("{name} {} {unit} ({place})", change(book, l.change)))
    };
    let views: Vec<String> = fairness.moved.iter().filter_map(view).collect();
    let doubtful = fairness.moved.iter().find(|(v, _)| *v == Seen::Body).map_or(0, |(_, m)| m.doubtful);
    let left_out = match doubtful {
        0 => String::new(),
        1 => " The one doubtful entry is left out.".to_owned(),
        n => format!(" The {n} doubtful entries are left out."),
    };
    let words = format!(
        "Largest correction by view: {}.{left_out} Inflections in all lines: {before} before fairing, {after} after. One is \
         counted where a line turns from one hand to the other by more than the rounding of its entries makes, and by more \
         than {:.0} in a hundred of its hardest bend. Hollow waterlines have inflections that are drawn so: look for those \
         that the plan does not show.",
        views.join("; "),
        SHARE * 100.0
    );
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY.size(3.7), &words) + 0.6;
    let mut table = tables::table(
        vec![
            tables::text("line", 2.6),
            tables::counts("before", 0.75),
            tables::counts("after", 0.65),
            tables::text("where, after", 2.9),
            tables::counts("radius", 0.8),
            tables::text("where", 1.6),
            tables::numbers(book.len, "largest", 0.85),
            tables::text("at", 2.2),
            tables::numbers(book.len, "r.m.s.", 0.75),
        ],
        6.1,
    );
    let group = |from, to, head: &str| Group { from, to, head: head.to_owned() };
    table.groups =
        vec![group(1, 3, "inflections"), group(4, 5, "hardest bend"), group(6, 8, &format!("corrections, {unit}"))];
    for column in &mut table.columns {
        column.style.size = column.style.size.min(if column.align == Anchor::Left { 3.3 } else { 4.6 });
    }
    for line in &fairness.combs {
        let places: Vec<String> = line.after.iter().map(|s| s.place.brief(book.len.0)).collect();
        let [least, at] = line.hardest.as_ref().map_or(["straight".to_owned(), String::new()], |h| {
            [radius(book, h.radius), h.spot.place.brief(book.len.0)]
        });
        let largest = line.moved.largest.as_ref();
        let of = largest.map_or_else(String::new, |l| match line.view {
            Seen::Body => cut(&l.row),
            _ if l.station == "transom" => l.station.clone(),
            _ => format!("station {}", short_name(&l.station)),
        });
        table.rows.push(tables::row([
            cut(&line.line),
            line.before.len().to_string(),
            line.after.len().to_string(),
            places.join(", "),
            least,
            at,
            largest.map_or_else(String::new, |l| change(book, l.change)),
            of,
            book.len.0.exact(line.moved.rms),
        ]));
    }
    tables::over_pages(page, &table, next)
}
