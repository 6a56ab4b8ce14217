//! A mould: both halves about the centreline, with the lands, the sheer and the levels to set it up by.

use super::Boat;
use super::canvas::{BEHIND, CENTRE, CUT, Canvas, LAND, NAME, NUMBER, STATION, THING};
use crate::drawing::{Anchor, Face, Sheet, Stroke};
use crate::lines::Section;
use crate::moulds::Mould;
use crate::paper::book::marks::square_to;
use crate::paper::book::view::range;
use crate::paper::first_station;
use crate::setting_up::{Legs, MouldShape};
use crate::spec::Stand;

/// The pattern of a mould; `None` where it has no section.
pub fn sheet(boat: &Boat<'_>, mould: &Mould) -> Option<Sheet> {
    let section = boat.plan.sections.get(mould.section)?;
    let half: Vec<[f64; 2]> = section.points.iter().map(|p| [p.y, p.z]).collect();
    let mut canvas = Canvas::new(boat);
    let set_up_by = boat.plan.setting_up.level;
    let mut levels = levels(boat, &half);
    levels.retain(|l| !l.set_up);
    let shape = boat.plan.setting_up.moulds.iter().find(|m| m.section == mould.section)?;
    both(&mut canvas, "fair section", std::slice::from_ref(&half), BEHIND);
    canvas.closed("outline", shape.outline(), CUT);
    let mut to_end = half.clone();
    if let Some(l) = &shape.legs {
        legs(&mut canvas, boat, l);
        to_end.push([0.0, l.heights[1]]);
    }
    if let (Some(half), at) = (shape.level, boat.plan.setting_up.level) {
        canvas.line("level line", [[-half - 15.0, at], [half + 15.0, at]], LAND);
        canvas.words("level line", [-10.0, at + 3.6], Anchor::Right, NAME, "level line");
    }
    let heights: Vec<f64> = levels.iter().map(|l| l.at).chain(shape.level.map(|_| set_up_by)).collect();
    lands(&mut canvas, boat, mould.section, &half, &heights, |p| [p.y, p.z]);
    centreline(&mut canvas, &to_end);
    for level in &levels {
        level_line(&mut canvas, &half, &half, level);
    }
    let title = format!("Mould {}", mould.name);
    let face = mould.station_face();
    name(&mut canvas, &half, &heights, &title, &format!("{face} face, port and starboard alike"));
    canvas.finish(&title, &notes(boat, mould, section, face, shape))
}

/// Its legs past the sheer and the cross-spall between them.
fn legs(canvas: &mut Canvas<'_>, boat: &Boat<'_>, legs: &Legs) {
    let ([inner, outer], [from, to], [low, high]) = (legs.half_breadths, legs.heights, legs.spall);
    for side in [1.0, -1.0] {
        for half in [inner, outer].into_iter().filter(|half| *half > 0.0) {
            canvas.line("legs", [[side * half, from], [side * half, to]], CUT);
        }
    }
    for z in [low, high].into_iter().filter(|z| *z > from) {
        canvas.line("legs", [[-outer, z], [outer, z]], CUT);
    }
    let keel_up = boat.plan.setting_up.stand == Stand::UpsideDown;
    if keel_up {
        // The strongback's face, a little past the feet.
        canvas.line("legs", [[-outer - 15.0, to], [outer + 15.0, to]], STATION);
    }
    let room = 2.0 * outer - 16.0;
    let name = if keel_up { "cross-spall: this edge on the strongback" } else { "cross-spall" };
    if high - low > 14.0 {
        canvas.words_within("legs", [8.0, 0.5 * (low + high)], Anchor::Left, NAME, 0.5 * room, name);
    }
    if inner > 0.0 && low - from > 40.0 {
        canvas.words_within(
            "legs",
            [0.5 * (inner + outer), 0.5 * (from + low)],
            Anchor::Middle,
            NAME,
            outer - inner - 8.0,
            "leg",
        );
    }
}

/// A level line: where it stands on the drawing, and its name.
pub struct Level {
    /// Above base, mm.
    pub z: f64,
    pub at: f64,
    pub name: String,
    /// It is the level line, which she is set up by.
    pub set_up: bool,
}

impl Level {
    pub fn layer(&self) -> &'static str {
        if self.set_up { "level line" } else { "levels" }
    }

    pub fn stroke(&self) -> Stroke {
        if self.set_up { LAND } else { STATION }
    }
}

/// The heights of the table's waterlines and of the level line between `low` and `high`, mm, from the lowest.
pub fn heights(boat: &Boat<'_>, low: f64, high: f64) -> Vec<f64> {
    let mut heights = boat.plan.table.waterlines();
    let set_up = boat.plan.setting_up.level;
    heights.retain(|z| (z - set_up).abs() > SAME);
    heights.push(set_up);
    heights.retain(|z| *z > low && *z < high);
    heights.sort_by(f64::total_cmp);
    heights
}

/// Levels no further apart are one, mm.
const SAME: f64 = 1e-6;

/// The levels that cross the section.
fn levels(boat: &Boat<'_>, half: &[[f64; 2]]) -> Vec<Level> {
    let Some((low, high)) = range(half.iter().map(|p| p[1])) else { return Vec::new() };
    heights(boat, low + CLEAR, high - CLEAR).into_iter().map(|z| level(boat, z, z)).collect()
}

/// A level nearer to a drawing's edge is left out, mm.
pub const CLEAR: f64 = 8.0;

/// A level at height `z`, drawn at `at`.
pub fn level(boat: &Boat<'_>, z: f64, at: f64) -> Level {
    let set_up = (z - boat.plan.setting_up.level).abs() <= SAME;
    let line = if set_up { "level line, " } else { "" };
    Level { z, at, name: format!("{line}{} above base", boat.len.long_unit(z)), set_up }
}

/// What the level line is for, where it is one of these.
pub fn set_up_by(boat: &Boat<'_>, levels: &[Level]) -> String {
    if !levels.iter().any(|l| l.set_up) {
        return String::new();
    }
    format!(
        " The level line, {} above base, is that of the moulds: set it up by it.",
        boat.len.long_unit(boat.plan.setting_up.level)
    )
}

/// Runs on the starboard half, and again on the port one.
pub fn both(canvas: &mut Canvas<'_>, layer: &'static str, runs: &[Vec<[f64; 2]>], stroke: Stroke) {
    for side in [1.0, -1.0] {
        for run in runs {
            canvas.line(layer, run.iter().map(|[u, v]| [side * u, *v]), stroke);
        }
    }
}

/// A half from the rabbet to the sheer, and back down the other side.
pub fn mirrored(half: &[[f64; 2]]) -> Vec<[f64; 2]> {
    half.iter().copied().chain(half.iter().rev().map(|[u, v]| [-u, *v])).collect()
}

/// A mark reaches so far to each side of the edge, mm.
const TICK: f64 = 7.0;
/// A mark's number stands so far inside the edge, mm.
const INSIDE: f64 = 13.0;

/// A number's middle stands so far from a level's line, mm.
const OFF_LEVEL: f64 = 3.6;

/// The height next to `v` that no level strikes.
pub fn off_levels(v: f64, levels: &[f64]) -> f64 {
    let struck = levels.iter().find(|level| (v - *level).abs() < OFF_LEVEL);
    struck.map_or(v, |level| level + if v < *level { -OFF_LEVEL } else { OFF_LEVEL })
}

/// The land marks, on both halves, numbered inside the edge and clear of the levels' lines.
pub fn lands(
    canvas: &mut Canvas<'_>,
    boat: &Boat<'_>,
    section: usize,
    half: &[[f64; 2]],
    levels: &[f64],
    flat: impl Fn(&crate::geom::Point) -> [f64; 2],
) {
    let sheer = boat.plan.lands.len().saturating_sub(1);
    for mark in boat.plan.marks.iter().filter(|m| m.section == section) {
        let at = flat(&mark.at);
        let out = square_to(half, at);
        for side in [1.0, -1.0] {
            let off = |mm: f64| [side * (at[0] + mm * out[0]), at[1] + mm * out[1]];
            canvas.line("lands", [off(-TICK), off(TICK)], LAND);
            let [u, v] = off(-INSIDE);
            let v = off_levels(v, levels);
            let style = NUMBER.face(Face::Regular);
            let inner = if side > 0.0 { Anchor::Right } else { Anchor::Left };
            let outer = if side > 0.0 { Anchor::Left } else { Anchor::Right };
            if mark.land == 0 {
                canvas.words("lands", [side * (at[0] + TICK + 3.0), at[1] - 2.0], outer, style, "rabbet");
            } else if mark.land == sheer {
                canvas.words("lands", [side * (at[0] - TICK - 2.0), at[1] - 6.0], inner, style, "sheer");
            } else {
                canvas.words("lands", [u, v], Anchor::Middle, NUMBER, &mark.land.to_string());
            }
        }
    }
}

/// The centreline, named.
pub fn centreline(canvas: &mut Canvas<'_>, half: &[[f64; 2]]) {
    let Some((low, high)) = range(half.iter().map(|p| p[1])) else { return };
    canvas.line("centreline", [[0.0, low - 12.0], [0.0, high + 12.0]], CENTRE);
    let quarter = std::f64::consts::FRAC_PI_2;
    canvas.turned("centreline", [-4.0, high - 8.0], Anchor::Right, NAME, quarter, "centreline");
}

/// A level across both halves and a little beyond, named beside the centreline where there is room, else outside `beyond`
/// too.
pub fn level_line(canvas: &mut Canvas<'_>, half: &[[f64; 2]], beyond: &[[f64; 2]], level: &Level) {
    let Some(wide) = half_breadth(half, level.at) else { return };
    let name = canvas.width(NAME, &level.name);
    let inside = wide > name + 40.0;
    let past = half_breadth(beyond, level.at).map_or(wide, |b| wide.max(b));
    let right = if inside { wide + 15.0 } else { past + name + 16.0 };
    canvas.line(level.layer(), [[-wide - 15.0, level.at], [right, level.at]], level.stroke());
    // Outside, the edge rises over the line: there the name stands under it.
    let at = if inside { [10.0, level.at + 3.6] } else { [past + 14.0, level.at - 5.4] };
    canvas.words(level.layer(), at, Anchor::Left, NAME, &level.name);
}

/// Half-breadth of a half outline at `v`, mm; the widest, where it is crossed more than once.
pub fn half_breadth(half: &[[f64; 2]], v: f64) -> Option<f64> {
    let at = |w: &[[f64; 2]]| w[0][0] + (w[1][0] - w[0][0]) * (v - w[0][1]) / (w[1][1] - w[0][1]);
    let crosses = |w: &&[[f64; 2]]| (w[0][1] <= v) != (w[1][1] <= v);
    half.windows(2).filter(crosses).map(at).reduce(f64::max)
}

/// The thing's name, large, and a word under it, to the left of the centreline where no level crosses them.
pub fn name(canvas: &mut Canvas<'_>, half: &[[f64; 2]], levels: &[f64], title: &str, under: &str) {
    let Some((low, high)) = range(half.iter().map(|p| p[1])) else { return };
    let mut steps: Vec<f64> = levels.to_vec();
    steps.extend([low, high - 10.0]);
    steps.sort_by(f64::total_cmp);
    let gaps = steps.windows(2).filter(|w| w[1] - w[0] > 36.0).map(|w| 0.5 * (w[0] + w[1]));
    let wide = |v: f64| half_breadth(half, v).unwrap_or(0.0);
    // Of the gaps wide enough the highest: moulds are widest there.
    let room = canvas.width(NAME, under).max(canvas.width(THING, title)) + 34.0;
    let Some(v) = gaps.filter(|v| wide(*v) > 40.0).max_by(|a, b| wide(*a).min(room).total_cmp(&wide(*b).min(room)))
    else {
        return;
    };
    // No wider than the smallest sheet of paper, so that a tile can hold it.
    let measure = (wide(v) - 36.0).clamp(20.0, 120.0);
    canvas.words_within("names", [-9.0, v + 4.0], Anchor::Right, THING, measure, title);
    if canvas.width(NAME, under) <= measure {
        canvas.words("names", [-9.0, v - 7.0], Anchor::Right, NAME, under);
    }
}

fn notes(boat: &Boat<'_>, mould: &Mould, section: &Section, face: &str, shape: &MouldShape) -> Vec<String> {
    let x = section.points.first().map_or(0.0, |p| p.x);
    let thick = boat.len.short_unit(mould.aft - mould.fore);
    let first = first_station(boat.plan);
    let place = if x.abs() < 0.5 {
        format!("on station {}", section.name.chars().take(10).collect::<String>())
    } else {
        format!("{} aft of station {first}", boat.len.long_unit(x))
    };
    let other = if face == "fore" { "abaft" } else { "before" };
    let upright = boat.plan.setting_up.stand == Stand::Upright;
    let mut notes = vec![
        format!(
            "{thick} thick. Its {face} face stands {place} and touches the planking; the wood is {other} it and the edge \
             is square. The outline is the inside of the planking, eased to the planks' flat faces; broken: the fair section."
        ),
        format!(
            "Numbers are lands: the upper inner edge of that strake. The level line stands {} above base, the sheer {} and \
             the level line {} over the {}.",
            boat.len.long_unit(boat.plan.setting_up.level),
            boat.len.long_unit(shape.heights.sheer),
            boat.len.long_unit(shape.heights.level),
            if upright { "floor" } else { "strongback, keel up" }
        ),
    ];
    if let Some(legs) = shape.legs {
        let long = legs.heights[1] - legs.heights[0];
        notes.push(if upright {
            format!(
                "It stands on the keel. Legs run {} past the sheer to a cross-spall whose lower edge clears the sheer strake by {}: \
                 brace it by that.",
                boat.len.short_unit(long),
                boat.len.short_unit(legs.spall[0] - legs.heights[0])
            )
        } else {
            format!(
                "Legs run plumb {} from the sheer to the strongback; the cross-spall across their feet stands on it.",
                boat.len.long_unit(long)
            )
        });
    }
    notes
}
