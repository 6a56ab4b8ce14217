//! A stem or sternpost in profile: the rabbet, where each land meets it, levels and stations.

use super::Boat;
use super::canvas::{CUT, Canvas, LAND, NAME, NUMBER, STATION, THING};
use super::mould::{Level, heights, level, set_up_by};
use crate::backbone::{PostShape, RabbetAt};
use crate::drawing::{Anchor, Dash, Face, Sheet, Stroke, Weight};
use crate::geom::Point;
use crate::offsets::StationAt;
use crate::paper::book::look;
use crate::paper::book::marks::square_to;
use crate::paper::book::view::range;

/// A land's mark reaches so far to each side of the rabbet, mm.
const TICK: f64 = 7.0;
/// The bottom of the groove.
pub const INNER: Stroke = Stroke::broken(Weight::Medium, look::INK, Dash::Hidden);
/// Lines go so far into the boat, past the rabbet, mm.
const INTO: f64 = 120.0;

/// The pattern of the post at a section; the bow is to the left.
pub fn sheet(boat: &Boat<'_>, index: usize) -> Option<Sheet> {
    let section = boat.plan.sections.get(index)?;
    let rabbet: Vec<[f64; 2]> = section.points.iter().map(|p| [p.x, p.z]).collect();
    let (fore, aft) = range(rabbet.iter().map(|p| p[0]))?;
    let (low, high) = range(rabbet.iter().map(|p| p[1]))?;
    // Inboard is aft of a stem and forward of a sternpost.
    let inboard = if index == 0 { 1.0 } else { -1.0 };
    let mut canvas = Canvas::new(boat);
    let post = boat.plan.backbone.posts.iter().find(|p| p.end == section.name)?;
    let line = |of: fn(&RabbetAt) -> Option<Point>| -> Vec<[f64; 2]> {
        post.rabbet.iter().filter_map(of).map(|p| [p.x, p.z]).collect()
    };
    for face in [&post.outer_face, &post.inner_face] {
        canvas.line("faces", face.iter().copied(), CUT);
    }
    if let (Some(_), Some(outer), Some(inner)) = (post.head, post.outer_face.last(), post.inner_face.last()) {
        canvas.line("faces", [*outer, *inner], CUT);
    }
    canvas.line("rabbet line", line(|r| r.outer), CUT);
    canvas.line("inner rabbet", rabbet.iter().copied(), INNER);
    canvas.line("bearding line", line(|r| r.bearding), LAND);
    lands(&mut canvas, boat, index, &rabbet, inboard);
    // Names of levels stand clear of the wood.
    let outermost = if post.outer_face.is_empty() { line(|r| r.outer) } else { post.outer_face.clone() };
    let levels = levels(boat, low, high);
    for level in &levels {
        level_line(&mut canvas, &outermost, level, inboard);
    }
    let ends = if inboard > 0.0 { [fore, aft + INTO] } else { [fore - INTO, aft] };
    for station in &boat.plan.table.stations {
        let StationAt::Square(x) = station.at else { continue };
        if x > ends[0] && x < ends[1] {
            let name: String = station.name.chars().take(10).collect();
            canvas.line("stations", [[x, low - 14.0], [x, high + 4.0]], STATION);
            canvas.words("stations", [x, high + 8.0], Anchor::Middle, NAME, &format!("station {name}"));
        }
    }
    let title = if index == 0 { "Stem" } else { "Sternpost" };
    let inner = if inboard > 0.0 { aft } else { fore };
    canvas.words("names", [inner + inboard * 14.0, high - 30.0], outwards(-inboard), THING, title);
    canvas.words("names", [inner + inboard * 14.0, high - 42.0], outwards(-inboard), NAME, "seen from port");
    canvas.finish(title, &notes(boat, post, high, &set_up_by(boat, &levels)))
}

/// Words that grow away from the boat, outboard of `inboard`.
fn outwards(inboard: f64) -> Anchor {
    if inboard > 0.0 { Anchor::Right } else { Anchor::Left }
}

fn lands(canvas: &mut Canvas<'_>, boat: &Boat<'_>, index: usize, rabbet: &[[f64; 2]], inboard: f64) {
    let sheer = boat.plan.lands.len().saturating_sub(1);
    for mark in boat.plan.marks.iter().filter(|m| m.section == index) {
        let at = [mark.at.x, mark.at.z];
        let square = square_to(rabbet, at);
        let side = if square[0] * inboard < 0.0 { -1.0 } else { 1.0 };
        let off = |mm: f64| [at[0] + side * mm * square[0], at[1] + side * mm * square[1]];
        canvas.line("lands", [off(-TICK), off(TICK)], LAND);
        let [u, v] = off(TICK + 2.0);
        let (style, name) = match mark.land {
            0 => (NUMBER.face(Face::Regular), "rabbet of keel".to_owned()),
            land if land == sheer => (NUMBER.face(Face::Regular), "sheer".to_owned()),
            land => (NUMBER, land.to_string()),
        };
        canvas.words("lands", [u, v], outwards(-inboard), style, &name);
    }
}

/// The levels that cross it, and the base line where it is near.
fn levels(boat: &Boat<'_>, low: f64, high: f64) -> Vec<Level> {
    let mut levels: Vec<Level> = heights(boat, low, high - 8.0).into_iter().map(|z| level(boat, z, z)).collect();
    if low < NEAR_BASE && low > 10.0 {
        levels.insert(0, Level { z: 0.0, at: 0.0, name: "base".to_owned(), set_up: false });
    }
    levels
}

/// The base line is drawn where the rabbet's foot is no higher above it, mm.
const NEAR_BASE: f64 = 200.0;

/// From outboard of the wood's outermost line into the boat; the name stands outboard.
fn level_line(canvas: &mut Canvas<'_>, outermost: &[[f64; 2]], level: &Level, inboard: f64) {
    let at = crossing(outermost, level.at).unwrap_or_else(|| outermost.first().map_or(0.0, |p| p[0]));
    let name = canvas.width(NAME, &level.name);
    let ends = [[at - inboard * (name + 12.0), level.at], [at + inboard * INTO, level.at]];
    canvas.line(level.layer(), ends, level.stroke());
    canvas.words(level.layer(), [at - inboard * 10.0, level.at + 3.6], outwards(inboard), NAME, &level.name);
}

/// Where a line in profile is at a height.
fn crossing(line: &[[f64; 2]], z: f64) -> Option<f64> {
    let w = line.windows(2).find(|w| (w[0][1] <= z) != (w[1][1] <= z))?;
    Some(w[0][0] + (w[1][0] - w[0][0]) * (z - w[0][1]) / (w[1][1] - w[0][1]))
}

fn notes(boat: &Boat<'_>, post: &PostShape, sheer: f64, set_up: &str) -> Vec<String> {
    let head = post.head.map_or_else(String::new, |z| {
        format!(" Its head is cut level, {} over the sheer.", boat.len.short_unit(z - sheer))
    });
    vec![format!(
        "In profile, bow to the left. Full: the rabbet line, where the planks' outer corners come out of the wood, for wood \
         of {} half siding; broken: the inner rabbet, at the bottom of the groove; copper: the bearding line, where \
         the planks' inner faces leave the wood. Numbers are lands, marked on the inner rabbet. Angles: the book's page \
         on this rabbet.{head}{set_up}",
        boat.len.fine_unit(post.half_siding)
    )]
}
