//! How she floats, between what she weighs and how stiff she is.

use super::length::degrees;
use super::look;
use super::page::{Book, Page};
use super::spread::spread;
use super::tables;
use super::view::{View, customary};
use super::weighs::{kg, mass_head, too_light};
use super::{carry, stiff, weighs};
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::flotation::{FRESH, Floating, Flotation, InWater, SEA};
use crate::units::{FOOT, INCH, POUND};

/// Companies shown: those after them are in `plan --json` alone.
pub const SHOWN: usize = 4;
/// What tells their lines apart.
pub const LETTERS: [&str; SHOWN] = ["a", "b", "c", "d"];

/// None where there is nothing that floats.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let Ok(found) = book.plan.flotation() else { return Vec::new() };
    let shown: Vec<&InWater> = found.companies.iter().take(SHOWN).collect();
    let mut pages = vec![weighs::page(book, &found), floats(book, &found, &shown), stiff::page(book, &found, &shown)];
    pages.extend(carry::page(book, &found));
    pages
}

/// Profile, midship and the table.
fn floats<'a>(book: &Book<'a>, found: &Flotation, shown: &[&InWater]) -> Page<'a> {
    let mut page = book.page("How she floats", &book.plan.spec.name);
    let frame = page.frame;
    let bottom = drawing(&mut page, book, found, shown);
    let mut columns = vec![tables::text("in fresh water, unless it says sea", 2.6)];
    columns.extend(shown.iter().zip(LETTERS).map(|(c, letter)| {
        let assumed = if c.company.assumed { ", assumed" } else { "" };
        tables::counts(&format!("{letter}: {}{assumed}", c.company.name), 1.3)
    }));
    let mut table = tables::table(columns, 4.9);
    let len = book.len;
    type Cell<'c> = Box<dyn Fn(&Floating) -> String + 'c>;
    let area = len.area_unit();
    let (step, step_said) = if len.inches() { (INCH, "an inch") } else { (10.0, "a centimetre") };
    let moment =
        |kg_m: f64| if len.inches() { format!("{:.0}", kg_m / POUND / (FOOT * 1e-3)) } else { format!("{kg_m:.1}") };
    let moment_unit = if len.inches() { "lb ft" } else { "kg m" };
    let rows: Vec<(String, Cell<'_>)> = vec![
        (format!("weighs, {}", mass_head(book)), Box::new(|f| kg(book, f.load.mass))),
        ("draught, keel and all".to_owned(), Box::new(|f| len.long(f.draught))),
        ("by the stern (\u{2212} by the bow)".to_owned(), Box::new(|f| degrees(f.at.trim))),
        ("heeled to starboard".to_owned(), Box::new(|f| degrees(f.at.heel))),
        ("lowest freeboard".to_owned(), Box::new(|f| len.long(f.lowest))),
        ("waterline, length".to_owned(), Box::new(|f| len.long(f.length))),
        ("waterline, breadth".to_owned(), Box::new(|f| len.long(f.breadth))),
        (format!("waterplane, {area}"), Box::new(|f| len.bare_area(f.waterplane, 1))),
        (format!("wetted, {area}"), Box::new(|f| len.bare_area(f.wetted, 1))),
        ("water\u{2019}s centre, aft of the first station".to_owned(), Box::new(|f| len.long(f.buoyancy.x))),
        ("its height over base".to_owned(), Box::new(|f| len.long(f.buoyancy.z))),
        (
            "block, prismatic, waterplane".to_owned(),
            Box::new(|f| format!("{:.2}, {:.2}, {:.2}", f.block(), f.prismatic(), f.waterplane_share())),
        ),
        ("metacentre over her weight".to_owned(), Box::new(|f| len.long(f.metacentres[0]))),
        ("the same for trim".to_owned(), Box::new(|f| len.long(f.metacentres[1]))),
        (format!("sinks her {step_said}, {}", mass_head(book)), Box::new(move |f| kg(book, f.to_sink(step)))),
        (format!("trims her {step_said}, {moment_unit}"), Box::new(move |f| moment(f.to_trim(step)))),
    ];
    let cells = |said: &dyn Fn(&InWater) -> String| shown.iter().map(|c| said(c)).collect::<Vec<_>>();
    for (what, cell) in &rows {
        // Nobody heels her: the row says nothing.
        let heel = what.starts_with("heeled");
        if heel && shown.iter().all(|c| c.fresh.as_ref().is_ok_and(|f| f.at.heel.abs() < 1e-4)) {
            continue;
        }
        let said = cells(&|c| c.fresh.as_ref().map_or_else(|_| "\u{2013}".to_owned(), cell));
        table.rows.push(tables::row(std::iter::once(what.clone()).chain(said)));
    }
    let sea = cells(&|c| c.sea.as_ref().map_or_else(|_| "\u{2013}".to_owned(), |f| len.long(f.draught)));
    table.rows.push(tables::row(std::iter::once("draught in the sea".to_owned()).chain(sea)));
    let measure = frame.width();
    let note = format!(
        "{}{}The letters stand at each water; her bow is to the left. Fresh water is taken at {FRESH:.0} and the sea at {SEA:.0} kg/m³. \
         Block, prismatic and waterplane are coefficients: displacement over length, breadth and draught; over length and the \
         largest section; waterplane over length and breadth. At the launching keep electric tools and their leads away from the \
         water: battery tools, or a breaker that trips when current goes astray.",
        troubles(shown),
        too_light(book, "So she lies deeper than is shown here.")
    );
    let tall = page.paragraph_height(measure, look::NOTE, &note);
    let row = (frame.bottom - tall - bottom - 11.0) / table.rows.len().max(1) as f64;
    table.look.row = row.clamp(4.6, 6.4);
    for column in table.columns.iter_mut().skip(1) {
        column.style.size = 3.6;
    }
    table.columns[0].style.size = 3.4;
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, bottom], measure, frame.bottom - tall - bottom, 0);
    page.paragraph([frame.left, drawn.bottom + 2.0], measure, look::NOTE, &note);
    page
}

/// Why some of them do not float, in sentences.
fn troubles(shown: &[&InWater]) -> String {
    let said: Vec<String> = shown
        .iter()
        .filter_map(|c| match &c.fresh {
            Err(why) => Some(format!("{}: {why}. ", c.company.name)),
            Ok(f) if !f.stiff => Some(format!("{}: she does not stay upright. ", c.company.name)),
            Ok(_) => None,
        })
        .collect();
    said.concat()
}

/// Profile and midship with the waterlines; returns the top of what follows.
fn drawing(page: &mut Page<'_>, book: &Book<'_>, found: &Flotation, shown: &[&InWater]) -> f64 {
    let frame = page.frame;
    let [[fore, aft], [_, side], [low, high]] = found.hull.solid.bounds();
    let (room, tall) = (frame.width() - 34.0, 52.0);
    let scale = customary(((aft - fore + 2.0 * side) / room).max((high - low) / tall), book.len.0);
    let base = frame.top + 4.0 + high / scale;
    let profile = View::new([frame.left + 8.0 - fore / scale, base], scale);
    let plan = book.plan;
    for strake in &plan.strakes {
        let land: Vec<[f64; 2]> = strake.rulings.iter().map(|r| [r.lower.x, r.lower.z]).collect();
        page.line(profile.run(land), look::THIN);
    }
    let sheer = found.hull.sheer.iter().map(|p| [p.x, p.z]);
    page.line(profile.run(sheer), look::OUTLINE);
    for end in [true, false] {
        let edge = plan.strakes.iter().filter_map(|s| if end { s.rulings.last() } else { s.rulings.first() });
        let points = edge.flat_map(|r| [[r.lower.x, r.lower.z], [r.upper.x, r.upper.z]]);
        page.line(profile.run(points), look::OUTLINE);
    }
    let middle = View::new([frame.right - 4.0 - side / scale, base], scale);
    midship(page, book, middle, 0.5 * (fore + aft));
    waterlines(page, shown, profile, middle, [fore, aft], side, 0.5 * (fore + aft));
    frame.top + 4.0 + (high - low.min(0.0)) / scale + 5.0
}

/// The planks cut across where she is half as long.
fn midship(page: &mut Page<'_>, book: &Book<'_>, view: View, x: f64) {
    for strake in &book.plan.strakes {
        let near = |r: &&crate::planks::Ruling| (r.lower.x - x).abs();
        let Some(r) = strake.rulings.iter().min_by(|a, b| near(a).total_cmp(&near(b))) else { continue };
        let t = strake.thickness;
        let corners = [r.lower, r.upper, r.upper + r.normal * t, r.lower + r.lower_normal * t];
        for hand in [1.0, -1.0] {
            let outline = view.run(corners.iter().map(|p| [hand * p.y, p.z]));
            page.put("boat", Shape::area(outline, look::WOOD, Some(look::THIN)));
        }
    }
}

/// Each company's waterline on both, with its letter at the profile's ends.
fn waterlines(
    page: &mut Page<'_>,
    shown: &[&InWater],
    profile: View,
    middle: View,
    [fore, aft]: [f64; 2],
    side: f64,
    x: f64,
) {
    let over = 5.0 * profile.scale;
    let mut labels: Vec<(Spot, &str)> = Vec::new();
    for (c, letter) in shown.iter().zip(LETTERS) {
        let Ok(f) = &c.fresh else { continue };
        let pen = water_pen(letter);
        let at = |x: f64| profile.at(x, f.at.waterline(x, 0.0));
        page.line(vec![at(fore - over), at(aft + over)], pen);
        labels.push((at(aft + over), letter));
        let across = |y: f64| middle.at(y, f.at.waterline(x, y));
        page.line(vec![across(-side - 2.0 * middle.scale), across(side + 2.0 * middle.scale)], pen);
    }
    labels.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    let places: Vec<f64> = labels.iter().map(|l| l.0[1]).collect();
    let apart = spread(&places, &vec![2.2; places.len()], page.frame.top, page.frame.bottom);
    for ((at, letter), y) in labels.iter().zip(apart) {
        page.line(vec![*at, [at[0] + 3.0, y]], look::GUIDE);
        page.words([at[0] + 4.0, y + 1.2], Anchor::Left, look::NOTE.face(Face::Bold), letter);
    }
}

/// The pen of a company's lines.
pub fn water_pen(letter: &str) -> Stroke {
    match letter {
        "a" => Stroke::solid(Weight::Thin, look::COPPER),
        "b" => Stroke::broken(Weight::Thin, look::COPPER, Dash::Hidden),
        "c" => Stroke::broken(Weight::Medium, look::COPPER, Dash::Centre),
        _ => Stroke::solid(Weight::Medium, look::SHADE),
    }
}
