//! The transom in its own plane: the seats of the planks, the curve they were taken from, lands and levels.

use super::Boat;
use super::canvas::{BEHIND, CUT, Canvas, NAME, OTHER, SMALL};
use super::mould::{
    CLEAR, Level, both, centreline, heights, lands, level, level_line, mirrored, name, off_levels, set_up_by,
};
use crate::backbone::TransomShape;
use crate::drawing::{Anchor, Sheet};
use crate::geom::Point;
use crate::lines::SectionAt;
use crate::spec::{EndSpec, Transom, crown_radius};

/// The pattern of the transom at a section.
pub fn sheet(boat: &Boat<'_>, index: usize) -> Option<Sheet> {
    let section = boat.plan.sections.get(index)?;
    let shape = boat.plan.backbone.transoms.iter().find(|t| t.end == section.name)?;
    let bow = section.at == SectionAt::BowTransom;
    let end = if bow { &boat.plan.spec.fore } else { &boat.plan.spec.aft };
    let EndSpec::Transom(transom) = end else { return None };
    // Its true shape: the outer face laid flat, up from the height of its foot.
    let flat = |p: &Point| {
        let [across, up] = transom.laid_flat(p.y, p.z);
        [across, transom.foot[1] + up]
    };
    let raised =
        |run: Vec<[f64; 2]>| -> Vec<[f64; 2]> { run.iter().map(|p| [p[0], p[1] + transom.foot[1]]).collect() };
    let half: Vec<[f64; 2]> = section.points.iter().map(flat).collect();
    let mut canvas = Canvas::new(boat);
    both(&mut canvas, "fair curve", std::slice::from_ref(&half), BEHIND);
    let mut cut = raised(shape.outline());
    // The last seat ends at the corner that the top begins with.
    cut.extend(raised(shape.top.clone()).into_iter().skip(1));
    canvas.closed("outline", mirrored(&cut), CUT);
    let other = raised(shape.inner_outline());
    both(&mut canvas, "other face", std::slice::from_ref(&other), OTHER);
    let to_top: Vec<[f64; 2]> = half.iter().copied().chain(raised(shape.top.clone())).collect();
    centreline(&mut canvas, &to_top);
    let levels = levels(boat, &section.points, &half);
    for level in &levels {
        match transom.radius {
            None => level_line(&mut canvas, &half, &other, level),
            Some(_) => bent_level(&mut canvas, &section.points, level, &flat),
        }
    }
    let heights: Vec<f64> = levels.iter().map(|l| l.at).collect();
    lands(&mut canvas, boat, index, &half, &heights, flat);
    bevels(&mut canvas, shape, transom.foot[1], &heights);
    let (title, face) = if bow { ("Bow transom", "fore") } else { ("Transom", "after") };
    name(&mut canvas, &half, &heights, title, &format!("{face} face, both halves alike"));
    canvas.finish(title, &notes(boat, transom, shape, face, &set_up_by(boat, &levels)))
}

/// Beside each seat what its edge is off square.
fn bevels(canvas: &mut Canvas<'_>, shape: &TransomShape, foot: f64, levels: &[f64]) {
    for seat in &shape.seats {
        let (u, v) = (seat.upper[0] - seat.lower[0], seat.upper[1] - seat.lower[1]);
        let length = u.hypot(v).max(f64::MIN_POSITIVE);
        let [x, z] = [0, 1].map(|i| 0.5 * (seat.lower[i] + seat.upper[i]));
        let at = [x - INSIDE * v / length, off_levels(foot + z + INSIDE * u / length, levels)];
        let off = seat.bevel.to_degrees().round();
        let words = format!("{}{:.0}°", if off < 0.0 { "\u{2212}" } else { "" }, off.abs());
        for side in [1.0, -1.0] {
            canvas.words("bevels", [side * at[0], at[1]], Anchor::Middle, SMALL, &words);
        }
    }
}

/// A bevel stands so far inside its seat, mm.
const INSIDE: f64 = 13.0;

/// The levels as they cross its face.
fn levels(boat: &Boat<'_>, points: &[Point], half: &[[f64; 2]]) -> Vec<Level> {
    let (Some(low), Some(high)) = (points.first(), points.last()) else { return Vec::new() };
    // Level in the boat; on a curved face laid flat it is so at the edge, where it is measured.
    let at = |z: f64| {
        let i = points.partition_point(|p| p.z < z).clamp(1, points.len() - 1);
        let part = (z - points[i - 1].z) / (points[i].z - points[i - 1].z).max(f64::MIN_POSITIVE);
        half[i - 1][1] + part * (half[i][1] - half[i - 1][1])
    };
    heights(boat, low.z + CLEAR, high.z - CLEAR).into_iter().map(|z| level(boat, z, at(z))).collect()
}

/// A level across a bent face laid flat, named beside the centreline.
fn bent_level(canvas: &mut Canvas<'_>, points: &[Point], level: &Level, flat: &impl Fn(&Point) -> [f64; 2]) {
    let z = level.z;
    let i = points.partition_point(|p| p.z < z).clamp(1, points.len() - 1);
    let part = (z - points[i - 1].z) / (points[i].z - points[i - 1].z).max(f64::MIN_POSITIVE);
    let wide = points[i - 1].y + part * (points[i].y - points[i - 1].y);
    let at = |k: i32| flat(&Point::new(0.0, wide * f64::from(k.abs()) / f64::from(PIECES), z));
    let side = |k: i32| [at(k)[0] * f64::from(k.signum()), at(k)[1]];
    canvas.line(level.layer(), (-PIECES..=PIECES).map(side), level.stroke());
    canvas.words(level.layer(), [10.0, at(0)[1] + 3.6], Anchor::Left, NAME, &level.name);
}

/// Pieces in which a level is followed from the centreline to the edge.
const PIECES: i32 = 24;

fn notes(boat: &Boat<'_>, transom: &Transom, shape: &TransomShape, face: &str, set_up: &str) -> Vec<String> {
    let [x, z] = transom.up();
    let rake = x.atan2(z);
    let lean = if rake.abs() < 0.002 {
        "It stands plumb.".to_owned()
    } else {
        let way = if rake > 0.0 { "aft" } else { "forward" };
        format!(
            "It leans {:.1}° {way} of plumb; heights are those of the levels in the boat.",
            rake.to_degrees().abs()
        )
    };
    let bent = shape.radius.map_or_else(String::new, |r| {
        format!(
            " It is bent to a radius of {} and drawn laid flat, as the sheet lies on it; levels are curves on it. If it is sawn and \
             then bent, leave wood for the inner face, which is shorter round.",
            boat.len.long_unit(r)
        )
    });
    let top = match shape.crown {
        Some(crown) if crown > 0.0 => {
            let half = shape.top.first().map_or(0.0, |p| p[0]);
            let bent = if shape.radius.is_some() { "over the level between its corners, " } else { "" };
            format!(
                "The top rises {} on the centreline over its corners at the sheer: {bent}an arc of {} radius.",
                boat.len.short_unit(crown),
                boat.len.long_unit(crown_radius(crown, half))
            )
        }
        Some(_) => "The top is level at the sheer.".to_owned(),
        None => "The top is level at the sheer: leave wood above it for the crown.".to_owned(),
    };
    vec![
        format!(
            "True shape of the {face} face, where the planks end. {lean}{bent} The full line is the seats of the planks, \
             each straight under its plank; {} wide lands. Light: the fair curve. {top}",
            boat.len.short_unit(boat.plan.spec.planking.lap)
        ),
        format!(
            "Numbers are lands. Broken: the edge of the other face, {} of wood away. Degrees beside a seat: how far its \
             edge is off square; the other face is the larger, or where there is a minus the smaller.{set_up}",
            boat.len.short_unit(shape.thickness),
        ),
    ]
}
