//! The cover: the boat, her name and her main figures.

use super::look;
use super::page::{Book, Frame, Page};
use super::picture;
use super::rivets::count;
use super::view::range;
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Face, Shape, Stroke, Weight};
use crate::fastenings::stock::Kind;
use crate::findings::{Finding, Stage};

/// The cover.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.blank("Cover");
    let Frame { left, right, top, bottom } = page.frame;
    let name = Style { size: 19.0, ..look::HUGE };
    let (wide, beside) = ((right - left) * 0.7, (right - left) * 0.26);
    page.words_within([left, top + 14.0], Anchor::Left, name, wide, &plan.spec.name);
    page.words_within([left, top + 23.0], Anchor::Left, look::HEAD.face(Face::Italic), wide, &plan.spec.kind);
    page.words([right, top + 14.0], Anchor::Right, look::HEAD.face(Face::Regular), "Bench book");
    let mut base = top + 20.5;
    for (before, who) in [("lines by", &plan.spec.drawn_by), ("built at", &plan.spec.built_at)] {
        if !who.is_empty() {
            let words = format!("{before} {who}");
            page.words_within([right, base], Anchor::Right, look::BODY.face(Face::Italic), beside, &words);
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
    let planned = if plan.timbers.is_empty() { "Planking" } else { "Planking and timbers" };
    let note = format!("{planned} as planned; keel and stem outside the rabbet are sketched.");
    page.words([right, ground - 5.0], Anchor::Right, look::NOTE.face(Face::Italic), &note);
    draw_figures(&mut page, &figures, ground);
    page.frame.bottom = ground;
    vec![page]
}

/// How much there is to look at and where, on the cover, once the pages are counted.
pub fn findings(page: &mut Page<'_>, found: &[Finding], at: usize) {
    let table = found.iter().filter(|f| f.stage == Stage::Lines).count();
    let found = found.len();
    let words = match found {
        n if table > 0 => {
            format!(
                "The lines are in doubt in {}: mend them before you build. {} in all: page {at}.",
                count(table, "place"),
                count(n, "thing")
            )
        }
        0 => "Nothing was found that passes a limit of boat.toml or of common practice.".to_owned(),
        n => format!("{} to look at before you cut wood: page {at}.", count(n, "thing")),
    };
    let style =
        if found == 0 { look::NOTE } else { Style { colour: look::COPPER, ..look::NOTE.face(Face::Semibold) } };
    let measure = page.frame.width() * 0.45;
    page.words_within([page.frame.left, page.frame.bottom - 5.0], Anchor::Left, style, measure, &words);
}

const COLUMNS: usize = 4;
const ROW: f64 = 14.5;

fn figures_height(figures: &[(String, String)]) -> f64 {
    figures.len().div_ceil(COLUMNS) as f64 * ROW
}

fn draw_figures(page: &mut Page<'_>, figures: &[(String, String)], top: f64) {
    let frame = page.frame;
    page.line(vec![[frame.left, top], [frame.right, top]], Stroke::solid(Weight::Thin, look::SHADE));
    for (i, (value, what)) in figures.iter().enumerate() {
        let cell = frame.column(i % COLUMNS, COLUMNS, 4.0);
        let y = top + (i / COLUMNS) as f64 * ROW;
        page.words([cell.left, y + 7.6], Anchor::Left, look::NUMBER.size(5.6), value);
        page.words_within([cell.left, y + 12.0], Anchor::Left, look::NOTE, cell.width(), what);
        if i % COLUMNS == 0 && i > 0 {
            page.put("ink", Shape::line(vec![[frame.left, y], [frame.right, y]], look::RULE));
        }
    }
}

/// Her main figures, each with what it is.
fn figures(book: &Book<'_>) -> Vec<(String, String)> {
    let (plan, len) = (book.plan, book.len);
    let planking = &plan.spec.planking;
    let mut found = Vec::new();
    let outside = || {
        plan.strakes.iter().flat_map(|s| {
            s.rulings.iter().flat_map(|r| [r.lower + r.lower_normal * s.thickness, r.upper + r.normal * s.thickness])
        })
    };
    if let Some((fore, aft)) = range(outside().map(|p| p.x)) {
        found.push((len.long_unit(aft - fore), "length over the planking".to_owned()));
    }
    if let Some((_, half)) = range(outside().map(|p| p.y)) {
        found.push((len.long_unit(2.0 * half), "beam over the planking".to_owned()));
    }
    if let Some(depth) = depth_amidships(book) {
        found.push((len.long_unit(depth), "depth amidships, rabbet to sheer".to_owned()));
    }
    found.push((format!("{} a side", plan.strakes.len()), "strakes".to_owned()));
    let wood = &planking.wood.name;
    let planks = if wood.is_empty() { "planking".to_owned() } else { format!("planking of {wood}") };
    found.push((len.short_unit(planking.thickness), planks));
    found.push((len.short_unit(planking.lap), "land".to_owned()));
    if !plan.timbers.is_empty() {
        found.push((format!("{}", plan.timbers.len()), "timbers".to_owned()));
    }
    if !plan.spec.glued() {
        found.push((format!("{}", 2 * plan.rivets.len()), "rivets, both sides".to_owned()));
        let metal = len.0.mass(plan.weights.fastenings, 1);
        let screwed = plan.order.iter().any(|l| l.kind == Kind::Screw);
        let what = if screwed { "nails, roves and screws" } else { "nails and roves" };
        found.push((metal, format!("{what} she takes, without spares")));
    }
    found.push((len.0.mass(plan.weights.planking, 0), "planking".to_owned()));
    found.push((len.0.mass(plan.weights.total, 0), "all that this plan weighs".to_owned()));
    let boards = plan.made.iter().flat_map(|m| &m.parts).map(|p| 2.0 * p.left.board[0] * p.left.board[1]);
    let boards = len.area(boards.sum(), 0);
    let least = if plan.sheets.is_some() { "least pieces of sheet" } else { "least boards" };
    found.push((boards, format!("{least}, both sides, without waste")));
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
