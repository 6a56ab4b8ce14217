//! The keel: its rabbet in profile, in plan under that, and cut across at each station.

use super::Boat;
use super::canvas::{CENTRE, CUT, Canvas, LAND, NAME, SMALL, STATION, THING};
use super::stem::INNER;
use crate::backbone::RabbetAt;
use crate::drawing::{Anchor, Sheet, Stroke, Weight};
use crate::geom::Point;
use crate::lines::SectionAt;
use crate::paper::book::length::degrees;
use crate::paper::book::look;
use crate::paper::book::view::range;

/// Between profile, plan and the row of sections, mm.
const APART: f64 = 46.0;
/// So much of the garboard is drawn in a section, mm.
const PLANK: f64 = 45.0;
/// Between two sections, mm.
const BESIDE: f64 = 26.0;
/// The hog's edges.
const HOG: Stroke = Stroke::solid(Weight::Thin, look::INK);

/// The pattern of the keel, bow to the left; `None` without a garboard.
pub fn sheet(boat: &Boat<'_>) -> Option<Sheet> {
    let garboard = boat.plan.strakes.first()?;
    let keel = &boat.plan.backbone.keel;
    let points = || keel.iter().flat_map(|r| [Some(r.inner), r.outer, r.bearding]).flatten();
    let (low, high) = range(points().map(|p| p.z))?;
    let (fore, aft) = range(points().map(|p| p.x))?;
    let widest = range(points().map(|p| p.y))?.1;
    // The centreline of the plan, and the height of the sections' inner corners.
    let plan = low - APART - widest;
    let row = plan - APART - PLANK;
    let mut canvas = Canvas::new(boat);
    lines(&mut canvas, keel, |p| [p.x, p.z]);
    lines(&mut canvas, keel, |p| [p.x, plan + p.y]);
    canvas.line("centreline", [[fore - 8.0, plan], [aft + 8.0, plan]], CENTRE);
    canvas.words(
        "centreline",
        [fore + 20.0, plan - 4.4],
        Anchor::Left,
        NAME,
        "plan: half-breadths from the centreline",
    );
    let spec = &boat.plan.spec.keel;
    if let Some(half) = spec.hog_half_breadth {
        canvas.line("hog", [[fore, plan + half], [aft, plan + half]], HOG);
        if let Some(thick) = spec.hog_thickness {
            canvas.line("hog", keel.iter().map(|r| [r.inner.x, r.inner.z + thick]), HOG);
        }
    }
    canvas.words("names", [fore + 20.0, high + 24.0], Anchor::Left, THING, "Keel");
    canvas.words("names", [fore + 70.0, high + 24.0], Anchor::Left, NAME, "profile, seen from port");
    let mut free = f64::MIN;
    for (j, i) in boat.plan.backbone.keel_at.iter().enumerate() {
        // At a post the post's own pattern counts.
        let (Some(s), Some(at)) = (boat.plan.sections.get(j), keel.get(*i)) else { continue };
        if s.at == SectionAt::Post {
            continue;
        }
        let name: String = s.name.chars().take(10).collect();
        let name = if matches!(s.at, SectionAt::Station(_)) { format!("station {name}") } else { name };
        let x = at.inner.x;
        canvas.line("stations", [[x, plan - 8.0], [x, high + 4.0]], STATION);
        canvas.words("stations", [x, high + 8.0], Anchor::Middle, NAME, &name);
        let left = x.max(free);
        free = section(&mut canvas, boat, at, [left, row], &name) + BESIDE;
    }
    canvas.finish("Keel", &notes(boat))
}

fn lines(canvas: &mut Canvas<'_>, keel: &[RabbetAt], seen: impl Fn(&Point) -> [f64; 2]) {
    canvas.line("rabbet line", keel.iter().filter_map(|r| r.outer).map(|p| seen(&p)), CUT);
    canvas.line("inner rabbet", keel.iter().map(|r| seen(&r.inner)), INNER);
    canvas.line("bearding line", keel.iter().filter_map(|r| r.bearding).map(|p| seen(&p)), LAND);
}

/// One section square to the rabbet, its centreline at `left`, its inner corner at the height `row`; returns its right
/// edge.
fn section(canvas: &mut Canvas<'_>, boat: &Boat<'_>, at: &RabbetAt, [left, row]: [f64; 2], name: &str) -> f64 {
    let thick = boat.plan.spec.planking.thickness;
    let (sin, cos) = at.angle.sin_cos();
    let inner = [left + at.inner.y, row];
    let up = |along: f64, out: f64| [inner[0] + along * cos + out * sin, inner[1] + along * sin - out * cos];
    let outer = up(0.0, thick);
    canvas.line("centreline", [[left, row - 34.0], [left, row + PLANK]], CENTRE);
    // The keel's side comes up to the rabbet line; above the plank the wood goes on to the centreline.
    canvas.line("sections", [[outer[0], row - 28.0], outer, inner], CUT);
    let side = at.bearding.map_or(outer[0], |b| left + b.y);
    let bearding = up((side - inner[0]) / cos.max(0.05), 0.0);
    let top = boat.plan.spec.keel.hog_thickness.filter(|_| boat.plan.spec.keel.hog_half_breadth.is_some());
    let wood = [Some(inner), Some(bearding), top.map(|t| [bearding[0], (row + t).max(bearding[1])])];
    canvas.line("sections", wood.into_iter().flatten(), CUT);
    if let Some(t) = top {
        let t = (row + t).max(bearding[1]);
        canvas.line("sections", [[left, t], [bearding[0], t]], HOG);
    }
    let plank = [inner, up(PLANK, 0.0), up(PLANK, thick), outer];
    canvas.line("garboard", plank, STATION);
    let half = boat.len.short_unit(outer[0] - left);
    canvas.words("sections", [left, row - 40.0], Anchor::Left, NAME, name);
    let angle = format!("{}, half siding {half}", degrees(at.angle));
    canvas.words("sections", [left, row - 46.5], Anchor::Left, SMALL, &angle);
    let words = canvas.width(NAME, name).max(canvas.width(SMALL, &angle));
    range(plank.map(|p| p[0])).map_or(left, |r| r.1).max(bearding[0]).max(left + words)
}

fn notes(boat: &Boat<'_>) -> Vec<String> {
    let bearding = match boat.plan.spec.keel.hog_half_breadth {
        Some(half) => format!("the hog's edge, {} from the centreline", boat.len.short_unit(half)),
        None => "the keel's side".to_owned(),
    };
    vec![
        format!(
            "Above in profile, below that in plan, bow to the left. Full: the rabbet line, where the garboard's outer corner \
             comes out of the keel, which is as wide there; broken: the inner rabbet; copper: the bearding line, where the \
             garboard's inner face leaves {bearding}."
        ),
        "Below: the keel cut square to the rabbet at each station, port half, full size, with the foot of the garboard; the \
         angle is its inner face's off level. Depth of keel, its ends and the joints with stem and sternpost are the builder's \
         to choose."
            .to_owned(),
    ]
}
