//! The lines with the lands on them: profile, half-breadth and body plan.

use super::look;
use super::marks::square_to;
use super::page::{Book, Page};
use super::spread::spread;
use super::strake::{section_name, short_name};
use super::view::{View, customary, range, scale_words};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::lines::{Section, SectionAt};
use crate::offsets::RowKind;

/// The long views on one page, the body plan on another.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let mut long = book.page_to_scale("Lines and lands", &book.plan.spec.name);
    let all = || book.plan.sections.iter().flat_map(|s| &s.points);
    let (Some(x), Some(y), Some(z)) =
        (range(all().map(|p| p.x)), range(all().map(|p| p.y)), range(all().map(|p| p.z)))
    else {
        return vec![long];
    };
    let extent = Extent { x, y: (0.0, y.1), z: (z.0.min(0.0), z.1) };
    long_views(&mut long, book, &extent);
    let mut across = book.page_to_scale("Body plan", &book.plan.spec.name);
    body(&mut across, book, &extent);
    vec![long, across]
}

struct Extent {
    x: (f64, f64),
    y: (f64, f64),
    z: (f64, f64),
}

/// Kept at the left of a drawing for the heights and half-breadths of its grid, mm.
const SIDE: f64 = 15.0;

/// Profile and half-breadth at one scale, as far apart as the page allows.
fn long_views(page: &mut Page<'_>, book: &Book<'_>, extent: &Extent) {
    let frame = page.frame;
    let (x, depth, breadth) = (extent.x, extent.z.1 - extent.z.0, extent.y.1);
    let scale = customary((x.1 - x.0) / (frame.width() - SIDE - 2.0), book.len.0);
    let left = frame.left + SIDE + (frame.width() - SIDE - (x.1 - x.0) / scale) / 2.0;
    let u0 = left - x.0 / scale;
    let caption = format!(
        "Profile and half-breadth, {}, to the inside of the planking. Lands are numbered; at the left, heights above base \
         and half-breadths.",
        scale_words(scale, book.len.0)
    );
    page.words([frame.left, frame.top + 1.4], Anchor::Left, look::NOTE, &caption);
    let spare = (frame.height() - 10.0 - (depth + breadth) / scale).max(0.0) / 3.0;
    let profile_base = frame.top + 10.0 + spare.min(14.0) + depth / scale;
    profile(page, book, View::new([u0, profile_base + extent.z.0 / scale], scale), extent);
    let half_base = profile_base + 3.5 + spare.min(30.0) + breadth / scale;
    half_breadth(page, book, View::new([u0, half_base], scale), extent);
}

/// A line of the grid across a long view, with its measure at the left.
fn level(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent, v: f64) {
    let run = view.run([[extent.x.0, v], [extent.x.1, v]]);
    let at = [run[0][0] - 1.2, run[0][1] + 1.0];
    page.line(run, look::RULE);
    page.words(at, Anchor::Right, look::NOTE, &book.len.long(v));
}

fn profile(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let plan = book.plan;
    page.line(view.run([[extent.x.0, 0.0], [extent.x.1, 0.0]]), look::GUIDE);
    for z in waterlines(book, extent.z.1) {
        level(page, book, view, extent, z);
    }
    let mut stations = Vec::new();
    for (i, section) in plan.sections.iter().enumerate() {
        if let (SectionAt::Station(_), Some(sheer)) = (section.at, section.points.last()) {
            page.line(view.run([[sheer.x, 0.0], [sheer.x, sheer.z]]), look::GUIDE);
            stations.push((i, view.at(sheer.x, extent.z.1)));
        }
    }
    names_in_a_row(page, book, &stations, view.at(0.0, extent.z.1)[1] - 1.6, look::NOTE, None);
    let lands: Vec<Vec<[f64; 2]>> =
        plan.lands.iter().map(|l| l.points.iter().map(|p| [p.x, p.z]).collect()).collect();
    draw_lands(page, view, &lands);
    for section in plan.sections.iter().filter(|s| !matches!(s.at, SectionAt::Station(_))) {
        page.line(view.run(section.points.iter().map(|p| [p.x, p.z])), look::OUTLINE);
    }
    number_lands(page, view, &lands);
}

fn half_breadth(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let plan = book.plan;
    let centre = Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre);
    page.line(view.run([[extent.x.0, 0.0], [extent.x.1, 0.0]]), centre);
    for y in buttocks(book, extent.y.1) {
        level(page, book, view, extent, y);
    }
    for section in plan.sections.iter().filter(|s| matches!(s.at, SectionAt::Station(_))) {
        if let Some((x, y)) = section.points.last().map(|p| (p.x, p.y)) {
            page.line(view.run([[x, 0.0], [x, y]]), look::GUIDE);
        }
    }
    let lands: Vec<Vec<[f64; 2]>> =
        plan.lands.iter().map(|l| l.points.iter().map(|p| [p.x, p.y]).collect()).collect();
    draw_lands(page, view, &lands);
    if let Some(section) = plan.sections.last().filter(|s| s.at == SectionAt::Transom) {
        page.line(view.run(section.points.iter().map(|p| [p.x, p.y])), look::OUTLINE);
    }
    number_lands(page, view, &lands);
}

/// The land lines; rabbet and sheer stronger.
fn draw_lands(page: &mut Page<'_>, view: View, lands: &[Vec<[f64; 2]>]) {
    for (i, land) in lands.iter().enumerate() {
        let pen = if i == 0 || i + 1 == lands.len() { look::OUTLINE } else { look::THIN };
        page.line(view.run(land.iter().copied()), pen);
    }
}

/// Least distance between two lands' numbers, mm.
const APART: f64 = 2.9;

/// Numbers on the land lines where these lie furthest apart; one that would touch the number before it is left out.
fn number_lands(page: &mut Page<'_>, view: View, lands: &[Vec<[f64; 2]>]) {
    let Some((from, to)) = range(lands.iter().flat_map(|l| l.first().into_iter().chain(l.last())).map(|p| p[0]))
    else {
        return;
    };
    let at = |u: f64| -> Vec<f64> { lands.iter().filter_map(|l| height_at(l, u)).collect() };
    let least_gap = |v: &[f64]| v.windows(2).map(|w| (w[1] - w[0]).abs()).fold(f64::INFINITY, f64::min);
    let places = (1..60).map(|i| from + (to - from) * f64::from(i) / 60.0).map(|u| (u, at(u)));
    let best =
        places.filter(|(_, v)| v.len() == lands.len()).max_by(|a, b| least_gap(&a.1).total_cmp(&least_gap(&b.1)));
    let Some((u, heights)) = best else { return };
    let style = look::NOTE.face(Face::Semibold).colour(look::COPPER);
    let mut last = f64::INFINITY;
    for (land, v) in heights.iter().enumerate().take(heights.len().saturating_sub(1)).skip(1) {
        let [x, y] = view.at(u, *v);
        if (last - y).abs() < APART {
            continue;
        }
        last = y;
        let number = land.to_string();
        let half = page.width(style, &number) / 2.0 + 0.5;
        let patch = vec![[x - half, y - 1.3], [x + half, y - 1.3], [x + half, y + 1.3], [x - half, y + 1.3]];
        page.put("ink", Shape::area(patch, look::BLANK, None));
        page.words([x, y + 1.0], Anchor::Middle, style, &number);
    }
}

/// Where a line that runs along the boat stands at `u`.
fn height_at(line: &[[f64; 2]], u: f64) -> Option<f64> {
    let w = line.windows(2).find(|w| w[0][0] <= u && u <= w[1][0])?;
    Some(w[0][1] + (w[1][1] - w[0][1]) * (u - w[0][0]) / (w[1][0] - w[0][0]).max(1e-9))
}

/// Heights of the table's waterlines below `top`.
fn waterlines(book: &Book<'_>, top: f64) -> Vec<f64> {
    book.plan.table.waterlines().into_iter().filter(|z| *z > 0.0 && *z < top).collect()
}

/// Half-breadths of the table's buttocks within `out`.
fn buttocks(book: &Book<'_>, out: f64) -> Vec<f64> {
    let kinds = book.plan.table.rows.iter().map(|r| &r.kind);
    kinds
        .filter_map(|k| if let RowKind::HeightButtock(y) = k { Some(*y) } else { None })
        .filter(|y| *y > 0.0 && *y < out)
        .collect()
}

/// Fore half on the right, after half on the left, as is usual.
fn body(page: &mut Page<'_>, book: &Book<'_>, extent: &Extent) {
    let (plan, frame) = (book.plan, page.frame);
    let (beam, depth) = (2.0 * extent.y.1, extent.z.1 - extent.z.0);
    // Names of stations stand above it, measures of the grid at the left and below, numbers of lands outside.
    let (over, under, aside) = (14.0, 5.0, SIDE + 4.0);
    let room = [frame.width() - 2.0 * aside, frame.height() - over - under];
    let scale = customary((beam / room[0]).max(depth / room[1]), book.len.0);
    let middle = f64::midpoint(frame.left, frame.right);
    let low = frame.bottom - under - (room[1] - depth / scale) / 2.0;
    let view = View::new([middle, low + extent.z.0 / scale], scale);
    grid(page, book, view, extent);
    let widest = widest(&plan.sections);
    let beyond = plan.sections.get(widest).and_then(|s| s.points.first()).map_or(0.0, |p| p.x);
    let lands = Stroke::solid(Weight::Hair, look::COPPER);
    for land in &plan.lands {
        for (hand, fore) in [(1.0, true), (-1.0, false)] {
            let half = land.points.iter().filter(|p| (p.x <= beyond + 1e-6) == fore || (p.x - beyond).abs() < 1.0);
            page.line(view.run(half.map(|p| [hand * p.y, p.z])), lands);
        }
    }
    for (i, section) in plan.sections.iter().enumerate() {
        let pen = if section.at == SectionAt::Transom { look::OUTLINE } else { look::THIN };
        for hand in hands(i, widest) {
            page.line(view.run(section.points.iter().map(|p| [hand * p.y, p.z])), pen);
        }
    }
    for mark in &plan.marks {
        for hand in hands(mark.section, widest) {
            let spot = view.at(hand * mark.at.y, mark.at.z);
            page.put("ink", Shape::circle(spot, 0.55, None, Some(look::INK)));
        }
    }
    land_numbers(page, book, view, widest);
    names(page, book, view, widest);
    let caption = format!(
        "{}, to the inside of the planking. Fore half on the right, after half on the left. Each dot is a mark, a land \
         line's place on that section; lands are numbered on the widest one.",
        scale_words(scale, book.len.0)
    );
    page.paragraph([frame.left, frame.top - 1.0], frame.width(), look::NOTE, &caption);
}

/// On which halves of the body plan a section stands: the widest is the end of both.
fn hands(section: usize, widest: usize) -> &'static [f64] {
    match section.cmp(&widest) {
        std::cmp::Ordering::Less => &[1.0],
        std::cmp::Ordering::Equal => &[1.0, -1.0],
        std::cmp::Ordering::Greater => &[-1.0],
    }
}

/// Numbers of the lands outside the widest section, on both halves.
fn land_numbers(page: &mut Page<'_>, book: &Book<'_>, view: View, widest: usize) {
    let last = book.plan.lands.len().saturating_sub(1);
    let Some(section) = book.plan.sections.get(widest) else { return };
    let outline: Vec<[f64; 2]> = section.points.iter().map(|p| [p.y, p.z]).collect();
    let style = look::NOTE.face(Face::Semibold).colour(look::COPPER);
    let mut taken: Vec<Spot> = Vec::new();
    for mark in book.plan.marks.iter().filter(|m| m.section == widest && m.land > 0 && m.land < last) {
        let square = square_to(&outline, [mark.at.y, mark.at.z]);
        for hand in [1.0, -1.0] {
            let spot = view.at(hand * mark.at.y, mark.at.z);
            let at = [spot[0] + hand * square[0] * 3.4, spot[1] - square[1] * 3.4 + 1.0];
            if taken.iter().all(|t| (t[0] - at[0]).hypot(t[1] - at[1]) > APART) {
                page.words(at, Anchor::Middle, style, &mark.land.to_string());
                taken.push(at);
            }
        }
    }
}

/// Names of the sections over their sheer.
fn names(page: &mut Page<'_>, book: &Book<'_>, view: View, widest: usize) {
    let sections = &book.plan.sections;
    let top = sections.iter().flat_map(|s| &s.points).map(|p| view.at(0.0, p.z)[1]).fold(f64::MAX, f64::min) - 3.4;
    let sheer = |hand: f64, i: usize| sections.get(i)?.points.last().map(|p| (i, view.at(hand * p.y, p.z)));
    // From the left: on the after half the widest comes first.
    let fore: Vec<(usize, Spot)> = (0..=widest).filter_map(|i| sheer(1.0, i)).collect();
    let aft: Vec<(usize, Spot)> = (widest + 1..sections.len()).filter_map(|i| sheer(-1.0, i)).collect();
    let (middle, frame) = (view.at(0.0, 0.0)[0], page.frame);
    let style = look::NOTE.face(Face::Italic);
    names_in_a_row(page, book, &fore, top, style, Some((middle + 0.5, frame.right)));
    names_in_a_row(page, book, &aft, top, style, Some((frame.left, middle - 0.5)));
}

/// Sections' names on one base line over their places (which run from the left), pushed apart where they crowd, and of every second
/// section alone, or of every third, where all have no room; with `leads`, joined to their places by fine lines and kept between these two.
fn names_in_a_row(
    page: &mut Page<'_>,
    book: &Book<'_>,
    at: &[(usize, Spot)],
    base: f64,
    style: Style,
    leads: Option<(f64, f64)>,
) {
    let (left, right) = leads.unwrap_or((page.frame.left, page.frame.right));
    let mut names: Vec<String> = at.iter().map(|(i, _)| section_name(book, *i)).collect();
    let mut half: Vec<f64> = names.iter().map(|name| page.width(style, name) / 2.0 + 0.8).collect();
    if half.iter().sum::<f64>() * 2.0 > right - left {
        names = names.iter().map(|name| name.chars().take(2).collect()).collect();
        half = names.iter().map(|name| page.width(style, name) / 2.0 + 0.5).collect();
    }
    let every = (2.0 * half.iter().sum::<f64>() / (right - left)).ceil().max(1.0) as usize;
    let half: Vec<f64> = half.into_iter().step_by(every).collect();
    let spots: Vec<Spot> = at.iter().map(|(_, spot)| *spot).step_by(every).collect();
    let places: Vec<f64> = spots.iter().map(|spot| spot[0]).collect();
    let named = spots.iter().zip(names.iter().step_by(every));
    for (x, (spot, name)) in spread(&places, &half, left, right).into_iter().zip(named) {
        if leads.is_some() {
            page.line(vec![[spot[0], spot[1] - 0.8], [x, base + 1.0]], look::RULE);
        }
        page.words([x, base], Anchor::Middle, style, name);
    }
}

/// Base line, centreline, waterlines and buttocks of the table with their measures, and the diagonals by name.
fn grid(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let (out, top) = (extent.y.1, extent.z.1);
    let note = look::NOTE;
    page.line(view.run([[-out, 0.0], [out, 0.0]]), look::GUIDE);
    let foot = view.at(0.0, extent.z.0)[1] + 3.6;
    for z in waterlines(book, top) {
        page.line(view.run([[-out, z], [out, z]]), look::RULE);
        let [x, y] = view.at(-out, z);
        page.words([x - 4.6, y + 1.0], Anchor::Right, note, &book.len.long(z));
    }
    for y in buttocks(book, out) {
        for hand in [-1.0, 1.0] {
            page.line(view.run([[hand * y, 0.0], [hand * y, top]]), look::RULE);
            page.words([view.at(hand * y, 0.0)[0], foot], Anchor::Middle, note, &book.len.long(y));
        }
    }
    page.line(view.run([[0.0, extent.z.0], [0.0, top]]), Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre));
    for diagonal in &book.plan.spec.lines.diagonals {
        let reach = (diagonal.height / diagonal.below_level.sin()).min(out / diagonal.below_level.cos());
        let end = [reach * diagonal.below_level.cos(), diagonal.height - reach * diagonal.below_level.sin()];
        for hand in [-1.0, 1.0] {
            page.line(view.run([[0.0, diagonal.height], [hand * end[0], end[1]]]), look::RULE);
        }
        let [x, y] = view.at(end[0], end[1]);
        page.words([x + 1.0, y - 0.6], Anchor::Left, note.face(Face::Italic), &short_name(&diagonal.name));
    }
}

/// The section with the greatest half-breadth.
fn widest(sections: &[Section]) -> usize {
    let half = |s: &Section| s.points.iter().map(|p| p.y).fold(0.0, f64::max);
    let most = sections.iter().map(half).fold(0.0, f64::max);
    sections.iter().position(|s| half(s) >= most).unwrap_or(0)
}
