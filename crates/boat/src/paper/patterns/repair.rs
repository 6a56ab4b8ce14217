//! The full-size pattern of a plank made from readings.

use super::canvas::{BEHIND, CENTRE, CUT, Canvas, LAND, LEFT, NAME, SMALL, STATION, THING};
use super::plank::{Edges, TIMBER, between, outline, place_of};
use crate::development::left_long;
use crate::drawing::typeface::Type;
use crate::drawing::{Anchor, Face, Sheet};
use crate::paper::book::length::{Lengths, of_wood};
use crate::paper::book::look;
use crate::repair::{Above, Job, Mended};

/// Lines across go on so far past the upper edge, mm.
const PAST: f64 = 7.0;
/// Radius of the mark of a rivet, mm.
const RIVET: f64 = 1.6;

/// The pattern; `None` where there is nothing to draw.
#[must_use]
pub fn sheet(t: &Type, job: &Job, made: &Mended) -> Option<Sheet> {
    let len = Lengths(job.spec.lengths);
    let (flat, lap) = (&made.flat, job.spec.planking.lap);
    let edges = Edges { flat, strake: &made.plank };
    let mut canvas = Canvas::of(t, len, job.spec.name.clone());
    canvas.closed("outline", outline(flat), CUT);
    let long = left_long(flat, job.spec.allowance(false));
    for run in long.runs() {
        canvas.line("left long", run.iter().copied(), LEFT);
    }
    canvas.line(
        "batten line",
        [long.corner[0] - 8.0, long.corner[0] + long.board[0] + 8.0].map(|x| [x, flat.batten]),
        CENTRE,
    );
    places(&mut canvas, job, made);
    for (i, x) in job.spec.timbers.at.iter().enumerate() {
        let at =
            |upper: bool| place_of(made.plank.rulings.iter().map(|r| if upper { r.upper.x } else { r.lower.x }), *x);
        let (Some(low), Some(high)) = (at(false), at(true)) else { continue };
        let ends = [between(&flat.lower, low), between(&flat.upper, high)];
        canvas.line("timbers", ends, TIMBER);
        // Clear of the batten line and of the plank's own name, which stand in the middle.
        let third = [0, 1].map(|a| ends[0][a] + (ends[1][a] - ends[0][a]) / 3.0);
        canvas.words(
            "timbers",
            [third[0] + 2.0, third[1]],
            Anchor::Left,
            SMALL.face(Face::Italic),
            &format!("timber {}", i + 1),
        );
    }
    if job.above == Above::Plank {
        canvas.line("lands", edges.places().map(|p| edges.inside(true, p, lap)).collect::<Vec<_>>(), LAND);
    }
    if made.below.is_some() {
        canvas.line("lap", edges.places().map(|p| edges.inside(false, p, lap)).collect::<Vec<_>>(), BEHIND);
        for rivet in &made.rivets[0] {
            let at = edges.square(false, edges.nearest(&rivet.at), rivet.head_edge);
            canvas.circle("rivets", at, RIVET, look::COPPER);
            canvas.dot("rivets", at, 0.3, look::COPPER);
        }
    }
    let title = "New plank";
    let middle = 0.3 * flat.length;
    if let Some(place) = place_of(flat.upper.iter().map(|p| p[0]), middle) {
        let (low, high) = (edges.lower(place), edges.upper(place));
        let at = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
        canvas.words("names", [at[0], at[1] + 3.4], Anchor::Middle, THING.size(7.0), title);
        canvas.words("names", [at[0], at[1] - 5.6], Anchor::Middle, NAME, "\u{2190} forward; outer face");
    }
    canvas.finish(title, &notes(len, job, made))
}

/// The places measured, each on its line.
fn places(canvas: &mut Canvas<'_>, job: &Job, made: &Mended) {
    let mut free = f64::MIN;
    for station in &made.flat.stations {
        let (lower, upper) = (station.lower, station.upper);
        let length = (upper[0] - lower[0]).hypot(upper[1] - lower[1]).max(1e-9);
        let past = [0, 1].map(|a| upper[a] + (upper[a] - lower[a]) * PAST / length);
        canvas.line("places", [lower, past], STATION);
        let name = job.places.get(station.section).map_or("", |p| p.name.as_str());
        let half = 0.5 * canvas.width(NAME, name);
        let u = past[0].max(free + half);
        canvas.words("places", [u, past[1] + 3.6], Anchor::Middle, NAME, name);
        free = u + half + 3.0;
    }
}

fn notes(len: Lengths, job: &Job, made: &Mended) -> Vec<String> {
    let planking = &job.spec.planking;
    let mut notes = vec![format!(
        "{}; least board {} × {}, without what is left long. Outer face up, forward to the left: as it is for the port side; \
         for the starboard side turn the pattern over.",
        of_wood(&len.short_unit(planking.thickness), &planking.wood.name),
        len.long_unit(len.0.to_have(made.flat.length)),
        len.short_unit(len.0.to_have(made.flat.board_width))
    )];
    if planking.left_long.iter().any(|l| *l > 0.0) {
        notes.push("Broken at the ends: left long, and cut when the plank is fitted.".to_owned());
    }
    if made.below.is_some() {
        notes.push(
            "Broken along the lower edge: how far the plank below reaches up behind it. Circles: rivet heads of the lower land; \
             check them against the old holes before anything is drilled."
                .to_owned(),
        );
    }
    notes.push("Try the pattern in the gap before the wood is cut.".to_owned());
    notes
}
