//! The parts of a scarfed plank, each on its own board, and their scarfs on the plank.

use super::Boat;
use super::canvas::{BEHIND, CENTRE, CUT, Canvas, LAND, NAME, SMALL, STATION, place_name};
use super::plank::{TIMBER, board, left_long, timber_lines};
use crate::development::FlatPlank;
use crate::drawing::{Anchor, Face, Sheet};
use crate::paper::left;
use crate::scarfs::{Made, Part};

/// The parts' patterns; none where the plank is one piece.
pub fn sheets(boat: &Boat<'_>, flat: &FlatPlank) -> Vec<Sheet> {
    let Some(made) = boat.plan.made.iter().find(|m| m.strake == flat.strake && m.parts.len() > 1) else {
        return Vec::new();
    };
    made.parts.iter().filter_map(|part| sheet(boat, flat, made, part)).collect()
}

/// The scarfs' lines on the whole plank: the outside feather, and broken the inside one.
pub fn on_the_plank(canvas: &mut Canvas<'_>, boat: &Boat<'_>, flat: &FlatPlank) {
    for scarf in boat.plan.made.iter().filter(|m| m.strake == flat.strake).flat_map(|m| &m.scarfs) {
        canvas.line("scarfs", [scarf.aft.lower, scarf.aft.upper], LAND);
        canvas.line("scarfs", [scarf.fore.lower, scarf.fore.upper], BEHIND);
    }
}

fn sheet(boat: &Boat<'_>, flat: &FlatPlank, made: &Made, part: &Part) -> Option<Sheet> {
    let mut canvas = Canvas::new(boat);
    canvas.closed("outline", part.outline.iter().copied(), CUT);
    let ([x, _], [length, _]) = (part.left.corner, part.left.board);
    canvas.line("batten line", [[x - 8.0, part.batten], [x + length + 8.0, part.batten]], CENTRE);
    left_long(&mut canvas, boat, &part.left, part.batten, [part.fore.is_none(), part.aft.is_none()]);
    timbers(&mut canvas, boat, flat, made, part);
    for (feather, outside) in [(&part.fore, false), (&part.aft, true)] {
        let Some([begin, end]) = feather else { continue };
        let ([lower, upper], text) = if outside {
            (*begin, "taper the inner face from here to nothing aft")
        } else {
            (*end, "taper the outer face from here to nothing forward")
        };
        canvas.line("scarfs", [lower, upper], if outside { BEHIND } else { LAND });
        let middle = [0.5 * (lower[0] + upper[0]), 0.5 * (lower[1] + upper[1])];
        let (anchor, step) = if outside { (Anchor::Right, -4.0) } else { (Anchor::Left, 4.0) };
        canvas.words("scarfs", [middle[0] + step, middle[1] + 5.0], anchor, SMALL, text);
    }
    let mut free = f64::MIN;
    let proud = boat.plan.spec.allowance(made.strake == boat.plan.strakes.len()).upper;
    for station in &part.stations {
        let Some(section) = boat.plan.sections.get(station.section) else { continue };
        let (lower, upper) = (station.lower, station.upper);
        canvas.line("stations", [lower, upper], STATION);
        let name = place_name(section);
        let half = 0.5 * canvas.width(NAME, &name);
        let u = upper[0].max(free + half);
        canvas.words("stations", [u, upper[1] + 5.0 + proud], Anchor::Middle, NAME, &name);
        free = u + half + 3.0;
    }
    let title = format!("Strake {} part {} of {}", made.strake, part.part, made.parts.len());
    let (len, spec) = (boat.len, &boat.plan.spec);
    let mut notes = vec![
        board(boat, part.left.board),
        format!(
            "The outline is as long as the feathers. Scarf {} long, {} to 1; outside, the forward part laps over the after one.",
            len.short_unit(spec.scarfs.ratio * spec.planking.thickness),
            spec.scarfs.ratio
        ),
    ];
    let own = [part.fore.is_none(), part.aft.is_none()];
    let words = left::words(len, spec, own, made.strake == boat.plan.strakes.len());
    if !words.is_empty() {
        notes.push(format!("Broken round it: left long and cut when it is fitted, {words}."));
    }
    canvas.finish(&title, &notes)
}

/// The timbers' centres as far as they cross this part, feathers and all, numbered under its lower edge.
fn timbers(canvas: &mut Canvas<'_>, boat: &Boat<'_>, flat: &FlatPlank, made: &Made, part: &Part) {
    let [fore, aft] = [part.part.checked_sub(2), part.part.checked_sub(1)].map(|i| made.scarfs.get(i?));
    let mut free = f64::MIN;
    for (n, lower, upper) in timber_lines(boat, flat) {
        let middle = 0.5 * (lower[0] + upper[0]);
        let before = fore.is_some_and(|s| middle < 0.5 * (s.fore.lower[0] + s.fore.upper[0]));
        let past = aft.is_some_and(|s| middle > 0.5 * (s.aft.lower[0] + s.aft.upper[0]));
        if before || past {
            continue;
        }
        let [a, b] = [lower, upper].map(|p| part.board.place(&p));
        canvas.line("timbers", [a, b], TIMBER);
        let name = format!("timber {n}");
        let style = SMALL.face(Face::Italic);
        let half = 0.5 * canvas.width(style, &name);
        let u = a[0].max(free + half);
        canvas.words("timbers", [u, a[1] - 3.6], Anchor::Middle, style, &name);
        free = u + half + 2.0;
    }
}
