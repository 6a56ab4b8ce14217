//! The lines with the lands on them: profile, half-breadth and body plan.

use super::look;
use super::page::{Book, Frame, Page};
use super::spread::spread;
use super::strake::section_name;
use super::view::{View, customary, range, scale_words};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::lines::{Section, SectionAt};
use crate::offsets::RowKind;
use crate::spec::EndSpec;

/// One page.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.page_to_scale("Lines and lands", &plan.spec.name);
    let all = || plan.sections.iter().flat_map(|s| &s.points);
    let (Some(x), Some(y), Some(z)) =
        (range(all().map(|p| p.x)), range(all().map(|p| p.y)), range(all().map(|p| p.z)))
    else {
        return vec![page];
    };
    let extent = Extent { x, y: (0.0, y.1), z: (z.0.min(0.0), z.1) };
    let frame = page.frame;

    // Both long views at one scale, the body plan in what is left under them.
    let long = customary((x.1 - x.0) / (frame.width() - 4.0), book.len.0);
    let indent = (frame.width() - (x.1 - x.0) / long) / 2.0;
    let u0 = frame.left + indent - x.0 / long;
    let profile_base = frame.top + 6.5 + (extent.z.1 - extent.z.0) / long;
    profile(&mut page, book, View::new([u0, profile_base + extent.z.0 / long], long), &extent);
    let half_top = profile_base + 3.5;
    let half_base = half_top + extent.y.1 / long;
    half_breadth(&mut page, book, View::new([u0, half_base], long), &extent);
    let caption = format!("Profile and half-breadth, {}", scale_words(long, book.len.0));
    page.words([frame.left, frame.top + 1.4], Anchor::Left, look::NOTE, &caption);

    let body_frame = Frame { top: half_base + 5.0, ..frame };
    body(&mut page, book, body_frame, &extent);
    vec![page]
}

struct Extent {
    x: (f64, f64),
    y: (f64, f64),
    z: (f64, f64),
}

fn profile(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let plan = book.plan;
    page.line(view.run([[extent.x.0, 0.0], [extent.x.1, 0.0]]), look::GUIDE);
    let mut stations = Vec::new();
    for (i, section) in plan.sections.iter().enumerate() {
        if let (SectionAt::Station(_), Some(sheer)) = (section.at, section.points.last()) {
            page.line(view.run([[sheer.x, 0.0], [sheer.x, sheer.z]]), look::GUIDE);
            stations.push((i, view.at(sheer.x, extent.z.1)));
        }
    }
    names_in_a_row(page, book, &stations, view.at(0.0, extent.z.1)[1] - 1.6, look::NOTE, None);
    for land in &plan.lands {
        let last = land.land == 0 || land.land + 1 == plan.lands.len();
        page.line(view.run(land.points.iter().map(|p| [p.x, p.z])), if last { look::OUTLINE } else { look::THIN });
    }
    for end in [&plan.spec.fore, &plan.spec.aft] {
        match end {
            EndSpec::Post(post) => page.line(view.run(post.rabbet.iter().copied()), look::OUTLINE),
            EndSpec::Transom(_) => {
                let at_aft = std::ptr::eq(end, &raw const plan.spec.aft);
                let section = if at_aft { plan.sections.last() } else { plan.sections.first() };
                if let Some(section) = section {
                    page.line(view.run(section.points.iter().map(|p| [p.x, p.z])), look::OUTLINE);
                }
            }
        }
    }
}

fn half_breadth(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let plan = book.plan;
    let centre = Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre);
    page.line(view.run([[extent.x.0, 0.0], [extent.x.1, 0.0]]), centre);
    for section in plan.sections.iter().filter(|s| matches!(s.at, SectionAt::Station(_))) {
        if let Some((x, y)) = section.points.last().map(|p| (p.x, p.y)) {
            page.line(view.run([[x, 0.0], [x, y]]), look::GUIDE);
        }
    }
    for land in &plan.lands {
        let last = land.land == 0 || land.land + 1 == plan.lands.len();
        page.line(view.run(land.points.iter().map(|p| [p.x, p.y])), if last { look::OUTLINE } else { look::THIN });
    }
    if let Some(section) = plan.sections.last().filter(|s| s.at == SectionAt::Transom) {
        page.line(view.run(section.points.iter().map(|p| [p.x, p.y])), look::OUTLINE);
    }
}

/// Kept for the captions beside the body plan, mm.
const SIDE: f64 = 48.0;

/// Fore half on the right, after half on the left, as is usual.
fn body(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, extent: &Extent) {
    let plan = book.plan;
    let (beam, depth) = (2.0 * extent.y.1, extent.z.1 - extent.z.0);
    // Captions stand to the left of it, and names of stations above.
    let over = 6.0;
    let scale = customary((beam / (frame.width() - 2.0 * SIDE)).max(depth / (frame.height() - over)), book.len.0);
    let middle = f64::midpoint(frame.left, frame.right);
    let low = frame.bottom - (frame.height() - over - depth / scale) / 2.0;
    let view = View::new([middle, low + extent.z.0 / scale], scale);
    grid(page, book, view, extent);
    let widest = widest(&plan.sections);
    for (i, section) in plan.sections.iter().enumerate() {
        let hand = if i <= widest { 1.0 } else { -1.0 };
        let pen = if section.at == SectionAt::Transom { look::OUTLINE } else { look::THIN };
        page.line(view.run(section.points.iter().map(|p| [hand * p.y, p.z])), pen);
        // The widest station is the end of both halves.
        if i == widest {
            page.line(view.run(section.points.iter().map(|p| [-p.y, p.z])), look::THIN);
        }
    }
    for mark in &plan.marks {
        let hands: &[f64] = match mark.section.cmp(&widest) {
            std::cmp::Ordering::Less => &[1.0],
            std::cmp::Ordering::Equal => &[1.0, -1.0],
            std::cmp::Ordering::Greater => &[-1.0],
        };
        for hand in hands {
            page.put("ink", Shape::circle(view.at(hand * mark.at.y, mark.at.z), 0.42, None, Some(look::INK)));
        }
    }
    names(page, book, view, widest);
    let caption = format!("Body plan, {}", scale_words(scale, book.len.0));
    let measure = SIDE - 6.0;
    let top = page.paragraph([frame.left, frame.top], measure, look::NOTE, &caption);
    let legend = "Fore half on the right, after half on the left, to the inside of the planking. Each dot is a mark: \
                  a land line's place on that section.";
    page.paragraph([frame.left, top], measure, look::NOTE.face(Face::Italic), legend);
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
    names_in_a_row(page, book, &aft, top, style, Some((frame.left + SIDE, middle - 0.5)));
}

/// Sections' names on one base line over their places (which run from the left), pushed apart where they crowd; with
/// `leads`, joined to their places by fine lines and kept between these two.
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
    let places: Vec<f64> = at.iter().map(|(_, spot)| spot[0]).collect();
    for ((x, (_, spot)), name) in spread(&places, &half, left, right).into_iter().zip(at).zip(&names) {
        if leads.is_some() {
            page.line(vec![[spot[0], spot[1] - 0.8], [x, base + 1.0]], look::RULE);
        }
        page.words([x, base], Anchor::Middle, style, name);
    }
}

/// Base line, centreline, waterlines and buttocks of the table, and the diagonals.
fn grid(page: &mut Page<'_>, book: &Book<'_>, view: View, extent: &Extent) {
    let (out, top) = (extent.y.1, extent.z.1);
    let mut levels = vec![0.0];
    for row in &book.plan.table.rows {
        match row.kind {
            RowKind::HalfBreadthWaterline(z) if z < top => levels.push(z),
            RowKind::HeightButtock(y) if y < out => {
                for hand in [-1.0, 1.0] {
                    page.line(view.run([[hand * y, 0.0], [hand * y, top]]), look::RULE);
                }
            }
            _ => {}
        }
    }
    for z in levels {
        page.line(view.run([[-out, z], [out, z]]), look::RULE);
    }
    page.line(view.run([[0.0, extent.z.0], [0.0, top]]), Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre));
    for diagonal in &book.plan.spec.lines.diagonals {
        let reach = (diagonal.height / diagonal.below_level.sin()).min(out / diagonal.below_level.cos());
        let end = [reach * diagonal.below_level.cos(), diagonal.height - reach * diagonal.below_level.sin()];
        for hand in [-1.0, 1.0] {
            page.line(view.run([[0.0, diagonal.height], [hand * end[0], end[1]]]), look::RULE);
        }
    }
}

/// The section with the greatest half-breadth.
fn widest(sections: &[Section]) -> usize {
    let half = |s: &Section| s.points.iter().map(|p| p.y).fold(0.0, f64::max);
    let most = sections.iter().map(half).fold(0.0, f64::max);
    sections.iter().position(|s| half(s) >= most).unwrap_or(0)
}
