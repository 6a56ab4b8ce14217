//! How the lands look: her picture from each eye, the places to look at first, every land in figures, and what shows of
//! each strake.

use super::length::{minus, signed};
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::{section_name, short_name};
use super::tables;
use crate::drawing::place::Bounds;
use crate::drawing::table::{Cell, Group, Row, Table};
use crate::drawing::{Anchor, Face};
use crate::eyes::Eye;
use crate::ink;
use crate::lands::{self, DEPTH, Land, Lands, View};
use crate::lines::Section;
use crate::lining::sweet::SEEN;

/// What the pages are called.
pub const TITLE: &str = "How the lands look";
/// What the page of widths is called.
pub const WIDTHS: &str = "What shows of each strake";

/// Two pictures to a page, the figures, and the widths.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let found = lands::lands(&plan.strakes, &plan.spec.lining);
    if found.lands.is_empty() {
        return Vec::new();
    }
    let mut pages = pictures(book);
    pages.extend(figures(book, &found));
    pages.extend(widths(book));
    pages
}

/// Kept under a picture for its name, mm.
const NAME: f64 = 9.0;
/// Pictures on a page.
const ABOVE: usize = 2;

/// From each eye, all at one scale.
fn pictures<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let Some(eyes) = lands::eyes(&plan.strakes, &plan.spec.lining) else { return Vec::new() };
    let scene = ink::scene(&plan.strakes, &plan.sections, &plan.spec);
    let pens = ink::pens(look::INK);
    // None from an eye that stands among her planks.
    let eyes: Vec<&Eye> = eyes.iter().filter(|e| ink::least_scale(&scene, e, 1.0, 1.0).is_some()).collect();
    let mut pages: Vec<Page<'a>> = Vec::new();
    let mut scale = 0.0_f64;
    for (i, pair) in eyes.chunks(ABOVE).enumerate() {
        let mut page = book.page(TITLE, &plan.spec.name);
        let frame = page.frame;
        if i == 0 {
            page.frame.top =
                page.paragraph([frame.left, frame.top - 2.0], frame.width(), look::NOTE, &words(book, eyes.len()));
        }
        let tall = frame.bottom - page.frame.top;
        let boxes = (0..pair.len()).map(|k| {
            let top = page.frame.top + tall * k as f64 / ABOVE as f64;
            Frame { top, bottom: top + tall / ABOVE as f64 - NAME, ..frame }
        });
        let boxes: Vec<Frame> = boxes.collect();
        if i == 0 {
            // The first page has the least room.
            let least = eyes.iter().filter_map(|e| ink::least_scale(&scene, e, boxes[0].width(), boxes[0].height()));
            scale = least.fold(0.0, f64::max);
        }
        for (eye, at) in pair.iter().zip(&boxes) {
            let bounds = Bounds { left: at.left, top: at.top, right: at.right, bottom: at.bottom };
            for item in ink::draw(&scene, eye, &bounds, scale, &pens) {
                page.put("boat", item);
            }
            let middle = f64::midpoint(at.left, at.right);
            page.words([middle, at.bottom + 5.0], Anchor::Middle, look::BODY.face(Face::Italic), eye.name);
        }
        page.frame.top = frame.bottom;
        pages.push(page);
    }
    pages
}

/// From where `eyes` eyes look at her, and what not to take from it.
fn words(book: &Book<'_>, eyes: usize) -> String {
    let lining = &book.plan.spec.lining;
    let off =
        lining.eye_distance.map_or_else(|| "one and a half of her lengths".to_owned(), |d| book.len.long_unit(d));
    format!(
        "The eye stands {off} from her middle, {} above the base line; off the bow and the quarter {:.0}° from the beam; \
         heeled, she leans {:.0}° away from it ([lining] in boat.toml). What is hidden is left out. {} are equally \
         large at her middle; what is nearer looks larger, so nothing is to be measured here. Keel and stem outside the rabbet are sketched.",
        book.len.long_unit(lining.eye_height),
        lining.eye_quarter.to_degrees(),
        lining.eye_heel.to_degrees(),
        // An eye that stands among her planks has no picture.
        if eyes == 4 { "All four" } else { "All" },
    )
}

/// A view as the head of a narrow column.
fn head(view: View) -> &'static str {
    let View::Eye(name) = view else { return view.word() };
    let place = name.split(',').next().unwrap_or(name);
    place.rsplit(' ').next().unwrap_or(place)
}

/// The worst places, and the lands in figures.
fn figures<'a>(book: &Book<'a>, found: &Lands) -> Vec<Page<'a>> {
    let plan = book.plan;
    let next = || book.page(TITLE, &plan.spec.name);
    let mut page = next();
    let frame = page.frame;
    let style = look::BODY.size(3.9);
    let sections = &named_short(&plan.sections);
    let top = page.head([frame.left, frame.top - 1.0], "Look here first");
    let worst: Vec<String> =
        found.worst.iter().map(|w| minus(w.words(plan.strakes.len(), sections, plan.spec.lengths))).collect();
    let mut bottom = top;
    for (i, words) in worst.chunks(worst.len().div_ceil(2).max(1)).enumerate() {
        let column = frame.column(i, 2, 8.0);
        let mut y = top;
        for words in words {
            y = page.paragraph([column.left, y], column.width(), style, words) - 0.8;
        }
        bottom = bottom.max(y);
    }
    page.frame.top = bottom + 1.0;
    let note = format!(
        "Inflections are counted along the upper edge of each strake: one stands between two stretches that bend to either \
         hand, each by more than {SEEN} radians and {} off its chord. In the body plan each half is counted for itself. \
         A land turns back by as much as a stretch that bends against the rest of it stands off its chord. Change of bend: \
         length times all the changes of its curvature; 0 for a straight line or a circle, and the less the sweeter.",
        book.len.0.said_fine(DEPTH)
    );
    page.frame.top = page.paragraph([frame.left, page.frame.top], frame.width(), look::NOTE, &note) + 1.0;
    let table = land_table(book, &found.lands, sections);
    // Heads with a single row under them are no use.
    let mut pages = Vec::new();
    if page.frame.height() < table.height(page.t, frame.width()).min(LEAST_TABLE) {
        pages.push(std::mem::replace(&mut page, next()));
    }
    pages.extend(tables::over_pages(page, &table, next));
    pages
}

/// A table begins on a page only where there is so much room, mm, or room for all of it.
const LEAST_TABLE: f64 = 50.0;

/// The sections with names that fit anywhere.
fn named_short(sections: &[Section]) -> Vec<Section> {
    sections.iter().map(|s| Section { name: short_name(&s.name), ..s.clone() }).collect()
}

fn land_table(book: &Book<'_>, lands: &[Land], sections: &[Section]) -> Table {
    let views: Vec<View> = lands.first().map_or_else(Vec::new, |l| l.seen.iter().map(|s| s.view).collect());
    let mut columns = vec![tables::names("land", 0.8)];
    columns.extend(views.iter().map(|v| tables::counts(head(*v), if *v == View::HalfBreadth { 1.25 } else { 0.9 })));
    columns.extend([
        tables::numbers(book.len, "by", 0.9),
        tables::text("where", 2.6),
        tables::counts("in all", 0.8),
        tables::text("most", 1.9),
    ]);
    let mut table = tables::table(columns, 6.0);
    let last = views.len();
    let group = |from, to, head: &str| Group { from, to, head: head.to_owned() };
    table.groups = vec![
        group(1, last, "inflections"),
        group(last + 1, last + 2, "turns back most"),
        group(last + 3, last + 4, "change of bend"),
    ];
    for column in &mut table.columns {
        column.style.size = column.style.size.min(if column.align == Anchor::Left { 3.4 } else { 4.6 });
    }
    for land in lands {
        let name = if land.land == lands.len() { "sheer".to_owned() } else { land.land.to_string() };
        let mut row = tables::row([name].into_iter().chain(land.seen.iter().map(|s| match s.inflections.len() {
            0 => "\u{2013}".to_owned(),
            n => n.to_string(),
        })));
        let seen = land.seen.iter().filter(|s| s.view != View::Body);
        let deepest = seen.filter_map(|s| Some((s.view, s.deepest()?)));
        let [by, at] = match deepest.max_by(|a, b| a.1.depth.total_cmp(&b.1.depth)) {
            Some((view, back)) => [
                book.len.fine(back.depth),
                format!("{}, {}", short(&lands::place(sections, back.from, back.to)), head(view)),
            ],
            None => [String::new(), String::new()],
        };
        let v = land.variation;
        let most = short(&lands::place(sections, v.at, v.at));
        row.cells.extend([by, at, format!("{:.2}", v.all), most].map(Cell::from));
        table.rows.push(row);
    }
    table
}

/// A place for a narrow column: names of stations need not be called so again.
fn short(place: &str) -> String {
    let words = place.replace("between stations ", "").replace("between ", "").replace("station ", "");
    words.chars().take(40).collect::<String>().replace(" and ", " to ")
}

/// Strake by station, the sheer strake at the top as she stands.
fn widths<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let next = || book.page(WIDTHS, &plan.spec.name);
    let mut page = next();
    let frame = page.frame;
    let words = format!(
        "Width that shows outside, square to the land; under it how much more or less than the strake beneath shows there{}. \
         > is a strake's widest place and < its narrowest.",
        if book.len.inches() { "" } else { ", mm" }
    );
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 1.0;
    let mut pages = vec![page];
    let sections = plan.sections.len();
    let mut first = 0;
    while first < sections {
        // As many abreast as find room.
        let mut last = sections;
        let mut table = width_table(book, first, last);
        while last > first + 1 && tables::natural_width(book.t, &table) > frame.width() {
            last -= 1;
            table = width_table(book, first, last);
        }
        tables::fit(book.t, &mut table, frame.width());
        if last - first == sections {
            let room =
                pages.last().map_or(0.0, |p| p.frame.height()) - table.head_height(book.t, frame.width()) - 1.0;
            table.look.row = (room / table.rows.len().max(1) as f64).clamp(8.4, 13.0);
        }
        if let Some(mut page) = pages.pop() {
            if first > 0 {
                page.frame.top += 5.0;
            }
            if page.frame.height() < table.height(book.t, frame.width()).min(LEAST_TABLE) {
                pages.push(std::mem::replace(&mut page, next()));
            }
            page.frame = Frame { bottom: frame.bottom, ..page.frame };
            pages.extend(tables::over_pages(page, &table, next));
        }
        first = last;
    }
    pages
}

fn width_table(book: &Book<'_>, first: usize, last: usize) -> Table {
    let plan = book.plan;
    let mut columns = vec![tables::names("strake", 0.8)];
    columns.extend((first..last).map(|j| tables::numbers(book.len, &section_name(book, j), 1.0)));
    let mut table = tables::table(columns, 8.4);
    table.look.pad = 1.1;
    for (k, strake) in plan.strakes.iter().enumerate().rev() {
        let shows = |j: usize| strake.at.get(j).map(|a| a.shows);
        let all: Vec<f64> = strake.at.iter().map(|a| a.shows).collect();
        let (least, most) =
            (all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(f64::MIN, f64::max));
        let below = |j: usize| Some(plan.strakes.get(k.checked_sub(1)?)?.at.get(j)?.shows);
        let mut cells: Vec<Cell> = vec![strake.strake.to_string().into()];
        cells.extend((first..last).map(|j| {
            let Some(width) = shows(j) else { return Cell::default() };
            let (mark, ground) = match width {
                w if w >= most => (">\u{2009}", Some(look::WOOD)),
                w if w <= least => ("<\u{2009}", Some(look::COPPER_TINT)),
                _ => ("", None),
            };
            let under = below(j).map_or_else(String::new, |b| signed(width - b, book.len.short(width - b)));
            Cell { text: format!("{mark}{}", book.len.short(width)), under, ground, ..Cell::default() }
        }));
        table.rows.push(Row { cells });
    }
    table
}
