//! What goes inside her: an end of each thwart, breasthooks and knees.

use super::Boat;
use super::canvas::{BEHIND, CENTRE, CUT, Canvas, NAME, OTHER, SMALL, STATION};
use crate::drawing::{Anchor, Sheet};
use crate::interior::{Knee, KneeKind, Thwart};
use crate::paper::book::length::{capital, degrees};
use crate::units::{Notation, inches};

/// All of them.
pub fn sheets(boat: &Boat<'_>) -> Vec<Sheet> {
    let interior = &boat.plan.interior;
    let thwarts = interior.thwarts.iter().filter_map(|t| thwart(boat, t));
    thwarts.chain(interior.knees.iter().filter_map(|k| knee(boat, k))).collect()
}

/// How far from the centreline a thwart's end is drawn from, mm: a whole number of 50 mm or 2 in, at least [`KEPT`] within its
/// shortest line.
fn from(boat: &Boat<'_>, t: &Thwart) -> f64 {
    let step = if boat.len.0 == Notation::Mm { 50.0 } else { inches(2.0) };
    let shortest = t.outline(false).into_iter().chain(t.outline(true)).map(|p| p[1]).fold(f64::MAX, f64::min);
    (((shortest - KEPT) / step).floor() * step).max(0.0)
}

/// Of a thwart's end, mm.
const KEPT: f64 = 100.0;

/// The starboard end from above, bow up: outboard to the right.
fn thwart(boat: &Boat<'_>, t: &Thwart) -> Option<Sheet> {
    let [fore, aft] = t.edges;
    let start = from(boat, t);
    let place = |p: &[f64; 2]| [p[1] - start, aft - p[0]];
    let (top, under) = (t.outline(false), t.outline(true));
    let mut canvas = Canvas::new(boat);
    let corners = [[0.0, 0.0], [0.0, aft - fore]];
    canvas.closed("outline", corners.into_iter().chain(top.iter().map(place)), CUT);
    canvas.line("other face", under.iter().map(place), OTHER);
    // The bevels, at both corners, clear of both lines.
    let beside = |p: &[f64; 2], q: &[f64; 2]| p[1].max(q[1]) - start + 4.0;
    for (i, (e, v)) in [(t.end.first()?, aft - fore), (t.end.last()?, 0.0)].into_iter().enumerate() {
        let inward = if i == 0 { -4.0 } else { 4.0 };
        let u = beside(&[0.0, e.top], &[0.0, e.under]);
        canvas.words("bevels", [u, v + inward], Anchor::Left, NAME, &degrees(e.bevel));
    }
    for n in &t.notches {
        let number = boat.plan.timbers.get(n.timber).map_or(0, |t| t.n);
        let v = aft - 0.5 * (n.sides[0] + n.sides[1]);
        let u = n.to[0].min(n.to[1]) - start - 3.0;
        canvas.words("names", [u, v], Anchor::Right, SMALL, &format!("timber {number}"));
    }
    let name = if start > 0.0 {
        format!("{} from the centreline", boat.len.long_unit(start))
    } else {
        "centreline".to_owned()
    };
    canvas.line("centreline", [[0.0, -6.0], [0.0, aft - fore + 6.0]], CENTRE);
    canvas.words("names", [0.0, aft - fore + 10.0], Anchor::Left, NAME, &name);
    let title = format!("{}, end", capital(&t.name));
    let notes = [
        format!(
            "Its starboard end from above, the bow up; turn it over for port. {} thick. Full: its top; broken: its underside. \
             Degrees: the bevel of the end, set along its edge, + where the top is the longer.",
            boat.len.fine_unit(t.thickness)
        ),
        format!(
            "From end to end at the top {} along the fore edge and {} along the after one.",
            boat.len.long_unit(2.0 * t.end.first()?.top),
            boat.len.long_unit(2.0 * t.end.last()?.top)
        ),
    ];
    canvas.finish(&title, &notes)
}

/// A breasthook, or one of a pair of knees, in its own plane.
fn knee(boat: &Boat<'_>, k: &Knee) -> Option<Sheet> {
    let seen = |p: &[f64; 2]| k.seen(*p);
    let mut canvas = Canvas::new(boat);
    canvas.closed("outline", k.outline.iter().map(seen), CUT);
    for a in &k.arms {
        let other = a.other_side(k.thickness, k.hollow);
        canvas.line("other face", other.iter().map(seen), OTHER);
    }
    let (corner, hollow) = (k.seen([0.0, 0.0]), k.seen(k.hollow));
    let breasthook = matches!(k.kind, KneeKind::Breasthook { .. });
    let layer = if breasthook { "centreline" } else { "throat" };
    canvas.line(layer, [corner, hollow], if breasthook { CENTRE } else { BEHIND });
    for a in &k.arms {
        // A tick where the arm ends, and its bevels just within the edge.
        if let [.., before, tip] = &a.edge[..] {
            let long = (tip[0] - before[0]).hypot(tip[1] - before[1]).max(f64::MIN_POSITIVE);
            let square = [-(tip[1] - before[1]) / long, (tip[0] - before[0]) / long];
            let ends = [-4.0, 4.0].map(|d| k.seen([tip[0] + d * square[0], tip[1] + d * square[1]]));
            canvas.line("names", ends, STATION);
        }
    }
    let middle = [0.5 * (corner[0] + hollow[0]), 0.5 * (corner[1] + hollow[1])];
    canvas.words("names", [middle[0] + 3.0, middle[1]], Anchor::Left, SMALL, &degrees(k.angle));
    let arms: Vec<String> = k
        .arms
        .iter()
        .take(if breasthook { 1 } else { 2 })
        .map(|a| {
            let on = match a.on {
                crate::interior::FaceOf::Side => "her side",
                crate::interior::FaceOf::Transom => "the transom",
                crate::interior::FaceOf::Thwart => "the thwart",
            };
            let [c, t] = a.bevels.map(degrees);
            format!("along {on} {}: {c} at the corner, {t} at the end", boat.len.short_unit(a.length))
        })
        .collect();
    let from = match k.kind {
        KneeKind::Breasthook { .. } => "From above, the bow up.",
        KneeKind::Quarter { .. } => "The port one from above, the bow up; turn it over for starboard.",
        KneeKind::Thwart { .. } => "The port one, looking forward; turn it over for starboard.",
    };
    let notes = [
        format!(
            "{from} {} thick, {}. The faces meet at {}.",
            boat.len.fine_unit(k.thickness),
            k.wood.name,
            degrees(k.angle)
        ),
        format!(
            "Edges off square, + where the far side is the larger: {}. Broken: the far side's edges. Ticks: where the arms end.",
            arms.join("; ")
        ),
    ];
    canvas.finish(&capital(&k.name), &notes)
}
