//! The transom in its own plane: the seats of the planks, the curve they were taken from, lands and levels.

use super::Boat;
use super::canvas::{BEHIND, CUT, Canvas};
use super::mould::{CLEAR, Level, both, centreline, faces, lands, level, level_line, mirrored, name, waterlines};
use crate::drawing::Sheet;
use crate::geom::Point;

/// The pattern of the transom at a section.
pub fn sheet(boat: &Boat<'_>, index: usize) -> Option<Sheet> {
    let section = boat.plan.sections.get(index)?;
    let foot = *section.points.first()?;
    // Its true shape: up the face, not up the boat.
    let flat = |p: &Point| [p.y, foot.z + (p.x - foot.x).hypot(p.z - foot.z) * (p.z - foot.z).signum()];
    let half: Vec<[f64; 2]> = section.points.iter().map(flat).collect();
    let seats = seats(&faces(boat, index, flat));
    let cut = if seats.len() > 1 { &seats } else { &half };
    let mut canvas = Canvas::new(boat);
    both(&mut canvas, "curve", std::slice::from_ref(&half), BEHIND);
    canvas.closed("outline", mirrored(cut), CUT);
    centreline(&mut canvas, &half);
    let levels = levels(boat, &section.points, &half);
    for level in &levels {
        level_line(&mut canvas, &half, level);
    }
    let heights: Vec<f64> = levels.iter().map(|l| l.at).collect();
    lands(&mut canvas, boat, index, &half, &heights, flat);
    name(&mut canvas, &half, &heights, "Transom", "after face, both halves alike");
    canvas.finish("Transom", &notes(boat, &section.points))
}

/// The seats of the planks from the rabbet to the sheer: each straight, up to its own land, from where it passes the edge
/// below. What a plank reaches further down lies on the plank below and not on the transom.
fn seats(faces: &[Vec<[f64; 2]>]) -> Vec<[f64; 2]> {
    let mut run: Vec<[f64; 2]> = Vec::new();
    for face in faces {
        let &[lower, upper] = face.as_slice() else { continue };
        let (du, dv) = (upper[0] - lower[0], upper[1] - lower[1]);
        let begin = run.last().map_or(lower, |edge| {
            let along = (edge[0] - lower[0]) * du + (edge[1] - lower[1]) * dv;
            let share = (along / (du * du + dv * dv).max(1e-9)).clamp(0.0, 1.0);
            [lower[0] + share * du, lower[1] + share * dv]
        });
        run.extend([begin, upper]);
    }
    run
}

/// The table's waterlines as they cross its face.
fn levels(boat: &Boat<'_>, points: &[Point], half: &[[f64; 2]]) -> Vec<Level> {
    let (Some(low), Some(high), Some(top)) = (points.first(), points.last(), half.last()) else { return Vec::new() };
    let up_the_face = (top[1] - low.z) / (high.z - low.z);
    let inside = |z: &f64| *z > low.z + CLEAR && *z < high.z - CLEAR;
    waterlines(boat).into_iter().filter(inside).map(|z| level(boat, z, low.z + (z - low.z) * up_the_face)).collect()
}

fn notes(boat: &Boat<'_>, points: &[Point]) -> Vec<String> {
    let rake = match (points.first(), points.last()) {
        (Some(foot), Some(head)) => (head.x - foot.x).atan2(head.z - foot.z),
        _ => 0.0,
    };
    let lean = if rake.abs() < 0.002 {
        "It stands plumb.".to_owned()
    } else {
        let way = if rake > 0.0 { "aft" } else { "forward" };
        format!(
            "It leans {:.1}° {way} of plumb; heights are those of the levels in the boat.",
            rake.to_degrees().abs()
        )
    };
    vec![
        format!(
            "True shape of the after face, where the planks end. {lean} The full line is the seats of the planks, each \
             straight under its plank; {} wide lands. Broken: the fair curve.",
            boat.len.short_unit(boat.plan.spec.planking.lap)
        ),
        "Numbers are lands. Leave wood on the fore side, or off it, as the bevel of each plank asks.".to_owned(),
    ]
}
