//! The cover: the boat, her name and her main figures.

use super::look;
use super::page::{Book, Frame, Page};
use super::picture;
use super::view::range;
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Face, Shape, Stroke, Weight};

/// The cover.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.blank("Cover");
    let Frame { left, right, top, bottom } = page.frame;
    let name = Style { size: 19.0, ..look::HUGE };
    let size = (name.size * (right - left) * 0.72 / page.width(name, &plan.spec.name).max(1.0)).min(name.size);
    page.words([left, top + 14.0], Anchor::Left, name.size(size), &plan.spec.name);
    page.words([left, top + 23.0], Anchor::Left, look::HEAD.face(Face::Italic), &plan.spec.kind);
    page.words([right, top + 14.0], Anchor::Right, look::HEAD.face(Face::Regular), "Bench book");
    let mut base = top + 20.5;
    for (before, who) in [("lines by", &plan.spec.drawn_by), ("built at", &plan.spec.built_at)] {
        if !who.is_empty() {
            page.words([right, base], Anchor::Right, look::BODY.face(Face::Italic), &format!("{before} {who}"));
            base += 5.2;
        }
    }

    let figures = figures(book);
    let strip = figures_height(&figures);
    let ground = bottom - strip;
    for item in
        picture::boat(plan, Frame { left: left + 2.0, right: right - 2.0, top: top + 31.0, bottom: ground - 13.0 })
    {
        page.put("boat", item);
    }
    let note = "Planking and timbers as planned; keel and stem outside the rabbet are sketched.";
    page.words([right, ground - 5.0], Anchor::Right, look::NOTE.face(Face::Italic), note);
    draw_figures(&mut page, &figures, ground);
    vec![page]
}

const COLUMNS: usize = 4;
const ROW: f64 = 14.5;

fn figures_height(figures: &[(String, &'static str)]) -> f64 {
    figures.len().div_ceil(COLUMNS) as f64 * ROW
}

fn draw_figures(page: &mut Page<'_>, figures: &[(String, &'static str)], top: f64) {
    let frame = page.frame;
    page.line(vec![[frame.left, top], [frame.right, top]], Stroke::solid(Weight::Thin, look::SHADE));
    for (i, (value, what)) in figures.iter().enumerate() {
        let cell = frame.column(i % COLUMNS, COLUMNS, 4.0);
        let y = top + (i / COLUMNS) as f64 * ROW;
        page.words([cell.left, y + 7.6], Anchor::Left, Style { size: 5.6, ..look::NUMBER }, value);
        page.words([cell.left, y + 12.0], Anchor::Left, look::NOTE, what);
        if i % COLUMNS == 0 && i > 0 {
            page.put("ink", Shape::line(vec![[frame.left, y], [frame.right, y]], look::RULE));
        }
    }
}

/// Her main figures, each with what it is.
fn figures(book: &Book<'_>) -> Vec<(String, &'static str)> {
    let (plan, len) = (book.plan, book.len);
    let planking = &plan.spec.planking;
    let mut found = Vec::new();
    let outside = || {
        plan.strakes.iter().flat_map(|s| {
            s.rulings.iter().flat_map(|r| [r.lower + r.lower_normal * s.thickness, r.upper + r.normal * s.thickness])
        })
    };
    if let Some((fore, aft)) = range(outside().map(|p| p.x)) {
        found.push((len.long_unit(aft - fore), "length over the planking"));
    }
    if let Some((_, half)) = range(outside().map(|p| p.y)) {
        found.push((len.long_unit(2.0 * half), "beam over the planking"));
    }
    if let Some(depth) = depth_amidships(book) {
        found.push((len.long_unit(depth), "depth amidships, rabbet to sheer"));
    }
    found.push((format!("{} a side", plan.strakes.len()), "strakes"));
    let wood = if planking.wood.name.is_empty() { "planking" } else { planking.wood.name.as_str() };
    found.push((format!("{} {wood}", len.short_unit(planking.thickness)), "planking"));
    found.push((len.short_unit(planking.lap), "land"));
    found.push((format!("{}", plan.timbers.len()), "timbers"));
    found.push((format!("{}", 2 * plan.rivets.len()), "rivets, both sides"));
    let nails: f64 = plan.nails.iter().map(|n| n.mass).sum();
    found.push((format!("{nails:.1} kg"), "nails"));
    found.push((format!("{:.0} kg", plan.weights.planking), "planking"));
    found.push((format!("{:.0} kg", plan.weights.total), "planking, timbers and fastenings"));
    let boards: f64 = plan.flats.iter().map(|f| 2.0 * f.length * f.board_width / 1e6).sum();
    let boards = if len.inches() { format!("{:.0} sq ft", boards * 10.7639) } else { format!("{boards:.1} m²") };
    found.push((boards, "least boards, both sides, without waste"));
    found
}

/// Height of the sheer over the rabbet at the station nearest the middle of the boat, mm.
fn depth_amidships(book: &Book<'_>) -> Option<f64> {
    let sections = &book.plan.sections;
    let (fore, aft) = range(sections.iter().flat_map(|s| &s.points).map(|p| p.x))?;
    let middle = f64::midpoint(fore, aft);
    let off = |s: &crate::lines::Section| s.points.first().map_or(f64::MAX, |p| (p.x - middle).abs());
    let section = sections.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some(section.points.last()?.z - section.points.first()?.z)
}
