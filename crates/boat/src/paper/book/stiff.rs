//! How stiff she is: righting arms, freeboards, and what is left when she is swamped.

use super::flotation::{LETTERS, water_pen};
use super::length::{degrees, minus};
use super::look;
use super::page::{Book, Frame, Page};
use super::spread::spread;
use super::tables;
use crate::drawing::{Anchor, Dash, Face, Shape, Stroke, Weight};
use crate::flotation::{Attitude, Floating, Flotation, InWater, Swamped};
use crate::units::INCH;

/// Stations in the table of freeboards.
const STATIONS: usize = 13;

/// Righting arms, freeboards, and what is left when she is swamped.
pub fn page<'a>(book: &Book<'a>, found: &Flotation, shown: &[&InWater]) -> Page<'a> {
    let mut page = book.page("How stiff she is", &book.plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));
    let graph = Frame { bottom: left.top + 0.5 * left.height(), ..left };
    let top = curves(&mut page, book, shown, graph);
    freeboards(&mut page, book, found, shown, Frame { top: top + 4.0, ..left });

    let full = full_of_water(book, &found.swamped);
    let goes = goes_under(book, shown);
    let sections = [
        ("When the sheer goes under", goes.as_str()),
        ("Swamped", full.as_str()),
        (
            "What the curve says",
            "The arm is how far the water\u{2019}s lift stands out from her weight when she is heeled; arm times weight is what \
             rights her. She is let trim as she will. People stay where they sit: one who slides to leeward takes far more from \
             it than any shape gives.",
        ),
        (
            "What is not in it",
            "Waves, wind, way on her, water in her that runs about, and people who stand up. A flat sea and a boat that is \
             built as planned. Keel and stem displace nothing where boat.toml does not give their size.",
        ),
    ];
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    page
}

/// What she bears and how she lies when she is full, in sentences.
fn full_of_water(book: &Book<'_>, swamped: &Swamped) -> String {
    let mass = |kg: f64| book.len.0.mass(kg, 0);
    let (wood, heavy, over) = (mass(swamped.wood), mass(swamped.mass), mass(swamped.left().abs()));
    let foam = if swamped.foam > 0.0 { format!(", your foam {}", mass(swamped.foam)) } else { String::new() };
    let lies = match &swamped.rest {
        None if swamped.left() < 0.0 => {
            "She does not float: fix foam or sealed tanks in her, and say their litres in [[loads]].".to_owned()
        }
        None => "No way was found in which she lies so: she rolls over or stands on end. Fix foam and what is heavy evenly, on \
                 both sides and from end to end."
            .to_owned(),
        Some(rest) => {
            let sheer = if rest.lowest > 0.0 { "over" } else { "under" };
            let level = lies(&rest.at);
            let stays = if rest.stiff {
                "so she stays while nobody moves"
            } else {
                "but she does not stay so: she rolls over. Fix foam high up along her sides"
            };
            format!(
                "She lies {level}, the lowest place of her sheer {} {sheer} the water, {stays}.",
                book.len.short_unit(rest.lowest.abs())
            )
        }
    };
    format!(
        "Full of fresh water her own wood bears {wood}{foam}; she weighs {heavy} with what is always aboard. {} {lies} A man in \
         the water who holds on to her weighs little; one who climbs in weighs himself. Wet wood bears less from day to day.",
        if swamped.left() >= 0.0 {
            format!("That leaves {over} for people and gear.")
        } else {
            format!("That is {over} too little.")
        }
    )
}

/// At what heel the sheer goes under with each company, in sentences.
fn goes_under(book: &Book<'_>, shown: &[&InWater]) -> String {
    let under: Vec<String> = shown
        .iter()
        .zip(LETTERS)
        .filter_map(|(c, letter)| {
            let r = c.righting.as_ref().ok()?;
            let (heel, at) = r.under?;
            let station = book.len.long(at.x);
            Some(format!(
                "{letter}, {}: at {} heel, about {station} aft of the first station",
                c.company.name,
                degrees(heel)
            ))
        })
        .collect();
    if under.is_empty() {
        "At no heel that was reckoned, for none of these.".to_owned()
    } else {
        format!(
            "{}. She is open: past that heel water comes in over the side, and nothing to the right of the dot is to be believed.",
            under.join("; ")
        )
    }
}

/// How she lies, in words.
fn lies(at: &Attitude) -> String {
    let trim = at.trim.to_degrees();
    if trim.abs() < 1.0 {
        return "level".to_owned();
    }
    format!("{} down by the {}", degrees(at.trim.abs()), if trim > 0.0 { "stern" } else { "bow" })
}

/// The righting arms; returns the graph's bottom.
fn curves(page: &mut Page<'_>, book: &Book<'_>, shown: &[&InWater], frame: Frame) -> f64 {
    let top = page.head([frame.left, frame.top], &format!("Righting arm, {}, by heel", book.len.0.unit()));
    let (left, right, bottom) = (frame.left + 14.0, frame.right - 8.0, frame.bottom - 6.0);
    let arms = || shown.iter().filter_map(|c| c.righting.as_ref().ok()).flat_map(|r| &r.arms);
    let step = if book.len.inches() { 2.0 * INCH } else { 50.0 };
    let most = (arms().map(|a| a.arm).fold(step, f64::max) / step).ceil() * step;
    let least = (arms().map(|a| a.arm).fold(0.0, f64::min) / step).floor() * step;
    let x = |heel: f64| left + (right - left) * heel / 90f64.to_radians();
    let y = |arm: f64| bottom - (bottom - top - 3.0) * (arm - least) / (most - least);
    for tens in 0..=9 {
        let at = x((10.0 * f64::from(tens)).to_radians());
        page.line(vec![[at, bottom], [at, top + 3.0]], look::RULE);
        if tens % 3 == 0 {
            page.words([at, bottom + 4.0], Anchor::Middle, look::NOTE, &format!("{}°", 10 * tens));
        }
    }
    let lines = ((most - least) / step).round() as i32;
    let every = (lines / 5).max(1);
    for i in 0..=lines {
        let arm = least + step * f64::from(i);
        let pen = if arm.abs() < 1e-9 { look::THIN } else { look::RULE };
        page.line(vec![[left, y(arm)], [right, y(arm)]], pen);
        if i % every == 0 {
            page.words([left - 1.6, y(arm) + 1.1], Anchor::Right, look::NOTE, &minus(book.len.short(arm)));
        }
    }
    let mut ends: Vec<(f64, &str)> = Vec::new();
    for (c, letter) in shown.iter().zip(LETTERS) {
        let Ok(r) = &c.righting else { continue };
        let limit = r.under.map_or(f64::INFINITY, |u| u.0);
        let at_sheer = r.arm_at_sheer().map(|arm| [x(limit), y(arm)]);
        let run = |past: bool| r.arms.iter().filter(move |a| (a.heel > limit) == past).map(|a| [x(a.heel), y(a.arm)]);
        page.line(run(false).chain(at_sheer).collect(), Stroke { dash: Dash::Solid, ..water_pen(letter) });
        page.line(
            at_sheer.into_iter().chain(run(true)).collect(),
            Stroke::broken(Weight::Hair, look::PENCIL, Dash::Hidden),
        );
        if let Some(at) = at_sheer {
            page.put("ink", Shape::circle(at, 0.9, None, Some(look::COPPER)));
        }
        if let Some(last) = r.arms.last() {
            ends.push((y(last.arm), letter));
        }
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let places: Vec<f64> = ends.iter().map(|e| e.0).collect();
    let apart = spread(&places, &vec![2.0; places.len()], top, bottom);
    for ((_, letter), at) in ends.iter().zip(apart) {
        page.words([right + 2.0, at + 1.1], Anchor::Left, look::NOTE.face(Face::Bold), letter);
    }
    frame.bottom
}

/// Freeboards at the stations.
fn freeboards(page: &mut Page<'_>, book: &Book<'_>, found: &Flotation, shown: &[&InWater], frame: Frame) {
    let top = page.head([frame.left, frame.top], "Freeboard");
    let mut columns = vec![tables::names("station", 1.0)];
    columns.extend(
        shown
            .iter()
            .zip(LETTERS)
            .map(|(c, letter)| tables::longs(book.len, &format!("{letter}: {}", c.company.name), 1.4)),
    );
    let mut table = tables::table(columns, 4.8);
    let floats = |said: &dyn Fn(&Floating) -> String| -> Vec<String> {
        shown.iter().map(|c| c.fresh.as_ref().map_or_else(|_| "\u{2013}".to_owned(), said)).collect()
    };
    let lowest = floats(&|f| book.len.long(f.lowest));
    table.rows.push(tables::row(std::iter::once("lowest".to_owned()).chain(lowest)));
    // Every second station, or third, where there are many.
    let every = found.hull.stations.len().div_ceil(STATIONS).max(1);
    for (i, (name, _)) in found.hull.stations.iter().enumerate().step_by(every) {
        let cells = floats(&|f| {
            let low = f.freeboards.get(i).map(|b| b.sides[0].min(b.sides[1]));
            low.map_or_else(String::new, |mm| book.len.long(mm))
        });
        table.rows.push(tables::row(std::iter::once(name.chars().take(10).collect()).chain(cells)));
    }
    let room = frame.bottom - top;
    table.look.row = ((room - 9.0) / table.rows.len().max(1) as f64).clamp(4.2, 6.0);
    for column in &mut table.columns {
        column.style.size = 3.5;
    }
    table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), room, 0);
}
