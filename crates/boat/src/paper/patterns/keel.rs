//! The keel: its rabbet in profile, in plan under that, and cut across at each station.
//!
//! How deep the keel is and how it is joined to stem, sternpost and transom is not in the plan; drawn are the rabbets and
//! faces it is joined to.

use super::Boat;
use super::canvas::{BEHIND, CENTRE, CUT, Canvas, LAND, NAME, SMALL, STATION, THING};
use super::mould::level;
use super::stem::INNER;
use crate::backbone::{PostShape, RabbetAt};
use crate::drawing::{Anchor, Sheet, Stroke, Weight};
use crate::geom::fair::chord_knots;
use crate::geom::{Point, monotone};
use crate::lines::{Section, SectionAt};
use crate::paper::book::length::degrees;
use crate::paper::book::look;
use crate::paper::book::view::range;
use crate::spec::{EndSpec, Transom};
use crate::units::inches;

/// Between profile, plan and the row of sections, mm.
const APART: f64 = 46.0;
/// So much of the garboard is drawn in a section, mm.
const PLANK: f64 = 45.0;
/// Between two sections, mm.
const BESIDE: f64 = 26.0;
/// So much of a stem's rabbet or a transom's face is drawn past the keel's end, mm.
const REACH: f64 = 110.0;
/// The level line stands at least so far under the rabbet, mm.
const UNDER: f64 = 10.0;
/// The hog's edges.
const HOG: Stroke = Stroke::solid(Weight::Thin, look::INK);

/// The pattern of the keel, bow to the left; `None` without a garboard.
pub fn sheet(boat: &Boat<'_>) -> Option<Sheet> {
    boat.plan.strakes.first()?;
    let keel = &boat.plan.backbone.keel;
    let points = || keel.iter().flat_map(|r| [Some(r.inner), r.outer, r.bearding]).flatten();
    let (low, high) = range(points().map(|p| p.z))?;
    let (fore, aft) = range(points().map(|p| p.x))?;
    let widest = points().map(|p| p.y).fold(hog(boat).map_or(0.0, |h| h.half), f64::max);
    let base = level_under(boat, low);
    // The centreline of the plan, and the height of the sections' inner corners.
    let plan = base - APART - widest;
    let row = plan - APART - PLANK;
    let mut canvas = Canvas::new(boat);
    let top = high.max(ends(&mut canvas, boat)) + hog(boat).map_or(0.0, |h| h.thick);
    profile(&mut canvas, boat, [fore, aft], base);
    half_breadths(&mut canvas, boat, [fore, aft], plan);
    stations(&mut canvas, boat, [top, plan, row]);
    canvas.words("names", [fore + 20.0, top + 30.0], Anchor::Left, THING, "Keel");
    canvas.words("names", [fore + 70.0, top + 30.0], Anchor::Left, NAME, "profile, seen from port");
    canvas.finish("Keel", &notes(boat))
}

/// The hog on which the garboards lie, mm.
struct Hog {
    half: f64,
    thick: f64,
}

fn hog(boat: &Boat<'_>) -> Option<Hog> {
    let keel = &boat.plan.spec.keel;
    Some(Hog { half: keel.hog_half_breadth?, thick: keel.hog_thickness.unwrap_or(0.0) })
}

/// The height of the next round level under `low`, mm.
fn level_under(boat: &Boat<'_>, low: f64) -> f64 {
    let step = if boat.len.inches() { inches(2.0) } else { 50.0 };
    ((low - UNDER) / step).floor() * step
}

fn profile(canvas: &mut Canvas<'_>, boat: &Boat<'_>, [fore, aft]: [f64; 2], base: f64) {
    let keel = &boat.plan.backbone.keel;
    canvas.line("rabbet line", smooth(keel.iter().filter_map(|r| r.outer).map(|p| [p.x, p.z])), CUT);
    canvas.line("inner rabbet", smooth(keel.iter().map(|r| [r.inner.x, r.inner.z])), INNER);
    canvas.line("bearding line", smooth(keel.iter().filter_map(|r| r.bearding).map(|p| [p.x, p.z])), LAND);
    if let Some(hog) = hog(boat).filter(|h| h.thick > 0.0) {
        canvas.line("hog", smooth(keel.iter().map(|r| [r.inner.x, r.inner.z + hog.thick])), HOG);
    }
    canvas.line("levels", [[fore - 8.0, base], [aft + 8.0, base]], STATION);
    let name = if base.abs() < 1e-9 { "base".to_owned() } else { level(boat, base, base).name };
    canvas.words("levels", [between_stations(boat), base - 5.4], Anchor::Middle, NAME, &name);
}

/// Rulings stand some 20 mm apart where the rabbet turns: between them it is followed without corners.
fn smooth(run: impl Iterator<Item = [f64; 2]>) -> Vec<[f64; 2]> {
    let run: Vec<[f64; 2]> = run.collect();
    let knots = chord_knots(&run);
    if knots.windows(2).any(|w| w[1] <= w[0]) { run } else { monotone::dense(&knots, &run, PIECES) }
}

/// Pieces from one ruling to the next.
const PIECES: usize = 4;

/// In plan: the bearding line is the hog's edge or the rabbet line.
fn half_breadths(canvas: &mut Canvas<'_>, boat: &Boat<'_>, [fore, aft]: [f64; 2], plan: f64) {
    let keel = &boat.plan.backbone.keel;
    canvas.line("rabbet line", keel.iter().filter_map(|r| r.outer).map(|p| [p.x, plan + p.y]), CUT);
    canvas.line("inner rabbet", keel.iter().map(|r| [r.inner.x, plan + r.inner.y]), INNER);
    if let Some(hog) = hog(boat) {
        canvas.line("hog", [[fore, plan + hog.half], [aft, plan + hog.half]], HOG);
    }
    canvas.line("centreline", [[fore - 8.0, plan], [aft + 8.0, plan]], CENTRE);
    let words = "plan: half-breadths from the centreline";
    canvas.words("centreline", [between_stations(boat), plan - 4.4], Anchor::Middle, NAME, words);
}

/// The middle of the widest gap between the lines of the stations.
fn between_stations(boat: &Boat<'_>) -> f64 {
    let xs: Vec<f64> = cuts(boat).map(|(_, at)| at.inner.x).collect();
    let gap = xs.windows(2).max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    gap.map_or_else(|| xs.first().map_or(0.0, |x| x + 60.0), |w| 0.5 * (w[0] + w[1]))
}

/// The sections that cut the keel, and its rabbet there; at a post the post's own pattern counts.
fn cuts<'a>(boat: &'a Boat<'_>) -> impl Iterator<Item = (&'a Section, &'a RabbetAt)> {
    let backbone = &boat.plan.backbone;
    let at = backbone.keel_at.iter().filter_map(|i| backbone.keel.get(*i));
    boat.plan.sections.iter().zip(at).filter(|(s, _)| s.at != SectionAt::Post)
}

/// What the keel is joined to; returns how high it reaches.
fn ends(canvas: &mut Canvas<'_>, boat: &Boat<'_>) -> f64 {
    let posts = boat.plan.backbone.posts.iter().map(|p| (p, if p.end == "stem" { 1.0 } else { -1.0 }));
    let mut top = f64::MIN;
    for (p, inboard) in posts {
        top = top.max(post(canvas, p, inboard));
    }
    for end in [&boat.plan.spec.fore, &boat.plan.spec.aft] {
        if let EndSpec::Transom(t) = end {
            top = top.max(transom(canvas, t));
        }
    }
    top
}

/// The foot of a post: its rabbet and faces.
fn post(canvas: &mut Canvas<'_>, post: &PostShape, inboard: f64) -> f64 {
    let Some(foot) = post.rabbet.first().map(|r| r.inner) else { return f64::MIN };
    let near = post.rabbet.iter().take_while(|r| (r.inner - foot).norm() <= REACH).count();
    let xz = |p: Point| [p.x, p.z];
    let rabbet = &post.rabbet[..near];
    canvas.line("ends", rabbet.iter().filter_map(|r| r.outer).map(xz), BEHIND);
    canvas.line("ends", rabbet.iter().map(|r| xz(r.inner)), BEHIND);
    canvas.line("ends", rabbet.iter().filter_map(|r| r.bearding).map(xz), BEHIND);
    for face in [&post.outer_face, &post.inner_face] {
        canvas.line("ends", face.iter().take(near).copied(), BEHIND);
    }
    let lines = rabbet.iter().flat_map(|r| [Some(r.inner), r.outer, r.bearding]).flatten();
    let top = lines.map(|p| p.z).fold(f64::MIN, f64::max);
    let right = rabbet.last().map_or(foot.x, |r| r.bearding.unwrap_or(r.inner).x);
    let anchor = if inboard > 0.0 { Anchor::Left } else { Anchor::Right };
    let name = format!("{}: its own pattern", post.end);
    canvas.words("ends", [right + inboard * 16.0, top - 4.0], anchor, NAME, &name);
    // Where the keel's rabbet ends and the post's begins.
    canvas.line("ends", [[foot.x, foot.z - 22.0], [foot.x, foot.z + 30.0]], STATION);
    top
}

/// A transom's faces, on the centreline.
fn transom(canvas: &mut Canvas<'_>, t: &Transom) -> f64 {
    let ([x, z], [out, rise]) = (t.up(), t.out());
    let at = |up: f64, inside: f64| [t.foot[0] + up * x - inside * out, t.foot[1] + up * z - inside * rise];
    for inside in [0.0, t.thickness] {
        canvas.line("ends", [at(0.0, inside), at(REACH, inside)], BEHIND);
    }
    at(REACH, 0.0)[1].max(at(REACH, t.thickness)[1])
}

/// Each station's line through profile and plan, and the section there.
fn stations(canvas: &mut Canvas<'_>, boat: &Boat<'_>, [top, plan, row]: [f64; 3]) {
    let mut free = f64::MIN;
    for (s, at) in cuts(boat) {
        let name: String = s.name.chars().take(11).collect();
        let name = if matches!(s.at, SectionAt::Station(_)) { format!("station {name}") } else { name };
        let x = at.inner.x;
        canvas.line("stations", [[x, plan - 8.0], [x, top + 4.0]], STATION);
        canvas.words("stations", [x, top + 8.0], Anchor::Middle, NAME, &name);
        free = section(canvas, boat, at, [x.max(free), row], &name) + BESIDE;
    }
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
    canvas.line("levels", [inner, [inner[0] + PLANK, row]], BEHIND);
    let plank = [inner, up(PLANK, 0.0), up(PLANK, thick), outer];
    canvas.line("garboard", plank, STATION);
    // The keel's side, the groove, and the wood's side above it.
    let side = at.bearding.map_or(outer[0], |b| left + b.y);
    let bearding = up((side - inner[0]) / cos.max(0.05), 0.0);
    let hog = hog(boat).map(|h| [side, (row + h.thick).max(bearding[1])]);
    let over = hog.unwrap_or([side, bearding[1] + 10.0]);
    canvas.line("sections", [[outer[0], row - 28.0], outer, inner, bearding, over], CUT);
    if let Some([_, top]) = hog {
        canvas.line("sections", [[left, top], over], HOG);
    }
    let words = captions(boat, at);
    canvas.words("sections", [left, row - 40.0], Anchor::Left, NAME, name);
    for (line, text) in (0..).zip(&words) {
        canvas.words("sections", [left, row - 46.5 - 5.2 * f64::from(line)], Anchor::Left, SMALL, text);
    }
    let wide = words.iter().map(|w| canvas.width(SMALL, w)).fold(canvas.width(NAME, name), f64::max);
    range(plank.map(|p| p[0])).map_or(left, |r| r.1).max(side).max(left + wide)
}

/// The angle, and where both corners of the garboard's edge go.
fn captions(boat: &Boat<'_>, at: &RabbetAt) -> Vec<String> {
    let corner =
        |name: &str, p: &Point| format!("{name}: {} up, {} out", boat.len.long_unit(p.z), boat.len.short_unit(p.y));
    let mut words = vec![format!("{} off level", degrees(at.angle))];
    words.extend(at.outer.map(|p| corner("rabbet line", &p)));
    words.push(corner("inner rabbet", &at.inner));
    words
}

fn notes(boat: &Boat<'_>) -> Vec<String> {
    let bearding = match hog(boat) {
        Some(hog) => format!("the hog's edge, {} from the centreline", boat.len.short_unit(hog.half)),
        None => "the keel's side".to_owned(),
    };
    vec![
        format!(
            "Above in profile, below that in plan, bow to the left. Full: the rabbet line, where the garboard's outer corner \
             comes out of the keel, which is as wide there; broken: the inner rabbet, at the bottom of the groove; copper: the \
             bearding line, where the garboard's inner face leaves {bearding}."
        ),
        "Below: the keel cut square to the rabbet at each station, port half, with the foot of the garboard; the angle is its \
         inner face's off level. Up is above base, out from the centreline. Depth of keel, its ends and the joints are the \
         builder's to choose; light: what they are joined to."
            .to_owned(),
    ]
}
