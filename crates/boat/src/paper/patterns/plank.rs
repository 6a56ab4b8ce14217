//! A plank laid flat: what it is cut to, and every line that is carried over from the boat.
//!
//! The outline is that of the neutral surface, half-way through the thickness, with the rabbet's own curve at a hood end.
//! Lines across it join the points of the two edges where the plan has them; rivets and gains stand square to their edge.

use super::Boat;
use super::canvas::{BEHIND, CENTRE, CUT, Canvas, LAND, LEFT, NAME, SMALL, STATION, THING, place_name};
use crate::development::{FlatPlank, HoodEnd, LeftLong};
use crate::drawing::{Anchor, Dash, Face, Sheet, Stroke, Weight};
use crate::geom::Point;
use crate::paper::book::length::of_wood;
use crate::paper::book::look;
use crate::paper::left;
use crate::planks::Strake;

/// The pattern of a plank; `None` where its strake is not there.
pub fn sheet(boat: &Boat<'_>, flat: &FlatPlank) -> Option<Sheet> {
    let strake = boat.plan.strakes.iter().find(|s| s.strake == flat.strake)?;
    if flat.lower.len() < 2 || flat.lower.len() != flat.upper.len() || flat.lower.len() != strake.rulings.len() {
        return None;
    }
    let edges = Edges { flat, strake };
    let below = boat.plan.strakes.iter().find(|s| s.strake + 1 == flat.strake);
    let mut canvas = Canvas::new(boat);
    canvas.closed("outline", outline(flat), CUT);
    let long = left::of(boat.plan, flat);
    let ends = [long.corner[0] - 8.0, long.corner[0] + long.board[0] + 8.0];
    canvas.line("batten line", ends.map(|x| [x, flat.batten]), CENTRE);
    left_long(&mut canvas, boat, &long, flat.batten, [true, true]);
    super::part::on_the_plank(&mut canvas, boat, flat);
    let mut lines = stations(&mut canvas, boat, &edges);
    lines.extend(timbers(&mut canvas, boat, &edges));
    lines.sort_by(|a, b| a[0].total_cmp(&b[0]));
    if strake.rulings.iter().any(|r| r.bevel.is_some()) {
        upper_land(&mut canvas, boat, &edges, &lines);
    }
    if below.is_some() {
        lower_land(&mut canvas, boat, &edges);
    }
    let mut uprights: Vec<[[f64; 2]; 2]> = flat.stations.iter().map(|s| [s.lower, s.upper]).collect();
    uprights.extend(gains(&mut canvas, boat, &edges, below.is_some()));
    if let Some(below) = below {
        rivets(&mut canvas, boat, &edges, below, &uprights);
    }
    names(&mut canvas, boat, &edges, &lines);
    if flat.strake == boat.plan.strakes.len() {
        proud(&mut canvas, boat, &edges, &lines);
    }
    let title = format!("Strake {} of {}", flat.strake, boat.plan.strakes.len());
    canvas.finish(&title, &notes(boat, flat, &long, below))
}

/// What is left long, with how much beside each end that is the plank's own, clear of the batten line.
pub fn left_long(canvas: &mut Canvas<'_>, boat: &Boat<'_>, long: &LeftLong, batten: f64, own: [bool; 2]) {
    for run in long.runs() {
        canvas.line("left long", run.iter().copied(), LEFT);
    }
    for (run, aft) in [(&long.fore, false), (&long.aft, true)] {
        let (Some(from), Some(to)) = (run.get(1), run.get(run.len().saturating_sub(2))) else { continue };
        if !own[usize::from(aft)] {
            continue;
        }
        // Beside the chord, clear of where the line bulges past it, and never upside down.
        let chord = [to[0] - from[0], to[1] - from[1]];
        let length = apart(*from, *to).max(1e-9);
        let out = if aft { [chord[1] / length, -chord[0] / length] } else { [-chord[1] / length, chord[0] / length] };
        let bulge = |p: &[f64; 2]| (p[0] - from[0]) * out[0] + (p[1] - from[1]) * out[1];
        let clear = run.iter().map(bulge).fold(0.0, f64::max) + 4.0;
        let at = |share: f64| [0, 1].map(|a| from[a] + share * chord[a] + clear * out[a]);
        let off = |share: &f64| (at(*share)[1] - batten).abs();
        let middle = at([0.5, 0.3, 0.7].into_iter().max_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(0.5));
        let turn = chord[1].atan2(chord[0]);
        let turn = if turn.cos() < -1e-9 { turn - std::f64::consts::PI * turn.signum() } else { turn };
        canvas.turned(
            "left long",
            middle,
            Anchor::Middle,
            SMALL,
            turn,
            &left::at_end(boat.len, &boat.plan.spec, aft),
        );
    }
}

/// Beside the line above the sheer, what it is.
fn proud(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>, lines: &[[f64; 2]]) {
    let up = boat.plan.spec.planking.sheer_proud;
    if up <= 0.0 {
        return;
    }
    let text = format!("left proud {}, planed off when she is planked", boat.len.short_unit(up));
    if let Some(place) = gap(edges, lines, AFT, canvas.width(SMALL, &text)) {
        let [tx, ty] = tangent(&edges.flat.upper, place);
        let [u, v] = edges.upper(place);
        let off = up + 3.4;
        canvas.turned("left long", [u - off * ty, v + off * tx], Anchor::Middle, SMALL, ty.atan2(tx), &text);
    }
}

/// Along the lower edge, up the after end, back along the upper edge and down the fore end.
pub(super) fn outline(flat: &FlatPlank) -> Vec<[f64; 2]> {
    let end = |hood: &Option<HoodEnd>| hood.as_ref().map_or_else(Vec::new, |h| h.curve.clone());
    let (fore, aft) = (end(&flat.fore_hood), end(&flat.aft_hood));
    let mut run: Vec<[f64; 2]> = flat.lower.iter().chain(&aft).chain(flat.upper.iter().rev()).copied().collect();
    run.extend(fore.iter().rev());
    run.dedup();
    run
}

/// A flat plank and its strake, whose rulings share their numbers. A place along is a ruling and a share of the way to
/// the next.
pub(super) struct Edges<'a> {
    pub(super) flat: &'a FlatPlank,
    pub(super) strake: &'a Strake,
}

impl Edges<'_> {
    pub(super) fn lower(&self, place: f64) -> [f64; 2] {
        between(&self.flat.lower, place)
    }

    pub(super) fn upper(&self, place: f64) -> [f64; 2] {
        between(&self.flat.upper, place)
    }

    /// The point on the ruling that is `mm` off an edge.
    pub(super) fn inside(&self, upper: bool, place: f64, mm: f64) -> [f64; 2] {
        let edge = if upper { &self.flat.upper } else { &self.flat.lower };
        let (at, other) =
            if upper { (self.upper(place), self.lower(place)) } else { (self.lower(place), self.upper(place)) };
        let [tx, ty] = tangent(edge, place);
        let [dx, dy] = [other[0] - at[0], other[1] - at[1]];
        let square = (dx * ty - dy * tx).abs().max(1e-6);
        let share = (mm / square).min(1.0);
        [at[0] + share * dx, at[1] + share * dy]
    }

    /// `mm` in from an edge, square to it and not along the ruling: what is measured from a foot on the edge.
    pub(super) fn square(&self, upper: bool, place: f64, mm: f64) -> [f64; 2] {
        let edge = if upper { &self.flat.upper } else { &self.flat.lower };
        let [tx, ty] = tangent(edge, place);
        let (at, mm) = if upper { (self.upper(place), -mm) } else { (self.lower(place), mm) };
        [at[0] - ty * mm, at[1] + tx * mm]
    }

    /// All rulings' numbers.
    pub(super) fn places(&self) -> impl Iterator<Item = f64> {
        (0..self.flat.lower.len()).map(|i| i as f64)
    }

    /// Where the distance along the upper edge's land is `along`.
    pub(super) fn along(&self, along: f64) -> Option<f64> {
        place_of(self.strake.rulings.iter().map(|r| r.along), along)
    }

    /// Where the lower edge has gone `mm` from an end of it.
    pub(super) fn short_of(&self, aft: bool, mm: f64) -> Option<f64> {
        let mut gone = 0.0;
        let points = &self.flat.lower;
        let along: Vec<f64> = (0..points.len())
            .map(|i| {
                gone += if i > 0 { apart(points[i], points[i - 1]) } else { 0.0 };
                gone
            })
            .collect();
        place_of(along.iter().copied(), if aft { gone - mm } else { mm })
    }

    /// The place on the lower edge nearest to a point of the boat. At a raking hood end that may lie beyond the edge's
    /// end, on its straight continuation.
    pub(super) fn nearest(&self, point: &Point) -> f64 {
        let rulings = &self.strake.rulings;
        let mut best = (f64::MAX, 0.0);
        for (i, pair) in rulings.windows(2).enumerate() {
            let along = pair[1].lower - pair[0].lower;
            let beyond = BEYOND / along.norm().max(1e-6);
            let least = if i == 0 { -beyond } else { 0.0 };
            let most = if i + 2 == rulings.len() { 1.0 + beyond } else { 1.0 };
            let share = ((point - pair[0].lower).dot(&along) / along.norm_squared().max(1e-12)).clamp(least, most);
            let off = (pair[0].lower + along * share - point).norm_squared();
            if off < best.0 {
                best = (off, i as f64 + share);
            }
        }
        best.1
    }
}

/// A place is looked for so far beyond the end of an edge, mm.
const BEYOND: f64 = 60.0;

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

pub(super) fn between(points: &[[f64; 2]], place: f64) -> [f64; 2] {
    // Beyond an end its first or last piece goes straight on.
    let i = (place.max(0.0) as usize).min(points.len() - 2);
    let share = place - i as f64;
    [0, 1].map(|axis| points[i][axis] + share * (points[i + 1][axis] - points[i][axis]))
}

/// Unit vector aft along an edge.
fn tangent(points: &[[f64; 2]], place: f64) -> [f64; 2] {
    let last = points.len() - 1;
    let place = place.clamp(0.0, last as f64);
    let (a, b) = (points[(place - 0.5).max(0.0) as usize], points[((place + 1.5) as usize).min(last)]);
    let length = apart(a, b).max(1e-9);
    [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
}

/// The place at which rising numbers reach `wanted`; `None` where they do not.
pub fn place_of(numbers: impl Iterator<Item = f64>, wanted: f64) -> Option<f64> {
    let mut before: Option<f64> = None;
    for (i, n) in numbers.enumerate() {
        if let Some(b) = before
            && b <= wanted
            && wanted <= n
            && n > b
        {
            return Some(i as f64 - 1.0 + (wanted - b) / (n - b));
        }
        before = Some(n);
    }
    None
}

/// Lines across go on so far past the upper edge, mm.
const PAST: f64 = 7.0;

/// The stations, named over the upper edge; returns where each stands, as a stretch of the plank's length.
fn stations(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>) -> Vec<[f64; 2]> {
    let mut lines = Vec::new();
    let mut free = f64::MIN;
    let over = PAST + boat.plan.spec.allowance(edges.flat.strake == boat.plan.strakes.len()).upper;
    for station in &edges.flat.stations {
        let Some(section) = boat.plan.sections.get(station.section) else { continue };
        // The hood end is the stem's own line.
        let end = station.section == 0 && edges.flat.fore_hood.is_some()
            || station.section + 1 == boat.plan.sections.len() && edges.flat.aft_hood.is_some();
        if end {
            continue;
        }
        let (lower, upper) = (station.lower, station.upper);
        let length = apart(lower, upper).max(1e-9);
        let past = [0, 1].map(|a| upper[a] + (upper[a] - lower[a]) * over / length);
        canvas.line("stations", [lower, past], STATION);
        let name = place_name(section);
        let half = 0.5 * canvas.width(NAME, &name);
        let u = past[0].max(free + half);
        canvas.words("stations", [u, past[1] + 3.6], Anchor::Middle, NAME, &name);
        free = u + half + 3.0;
        lines.push([lower[0].min(upper[0]) - 2.0, lower[0].max(upper[0]) + 2.0]);
    }
    lines
}

/// A timber's centre.
pub const TIMBER: Stroke = Stroke::broken(Weight::Thin, look::SHADE, Dash::Centre);

/// Each timber's number, and where its centre crosses the lower and the upper edge of a flat plank.
pub fn timber_lines(boat: &Boat<'_>, flat: &FlatPlank) -> Vec<(usize, [f64; 2], [f64; 2])> {
    let Some(strake) = boat.plan.strakes.iter().find(|s| s.strake == flat.strake) else { return Vec::new() };
    let rulings = &strake.rulings;
    let one = |timber: &crate::timbers::Timber| {
        if flat.strake > timber.head {
            return None;
        }
        let off = |p: Point| p.x - timber.slope() * p.y;
        let lower = place_of(rulings.iter().map(|r| off(r.lower)), timber.x)?;
        let upper = place_of(rulings.iter().map(|r| off(r.upper)), timber.x)?;
        Some((timber.n, between(&flat.lower, lower), between(&flat.upper, upper)))
    };
    boat.plan.timbers.iter().filter_map(one).collect()
}

/// The timbers' centres, numbered beside them half-way up; returns where each stands with its number.
fn timbers(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>) -> Vec<[f64; 2]> {
    let mut lines = Vec::new();
    for (n, a, b) in timber_lines(boat, edges.flat) {
        canvas.line("timbers", [a, b], TIMBER);
        let name = format!("timber {n}");
        let middle = [0.5 * (a[0] + b[0]) + 2.0, 0.5 * (a[1] + b[1])];
        canvas.words("timbers", middle, Anchor::Left, SMALL.face(Face::Italic), &name);
        let wide = canvas.width(SMALL.face(Face::Italic), &name);
        lines.push([a[0].min(b[0]) - 2.0, (middle[0] + wide).max(a[0]).max(b[0]) + 2.0]);
    }
    lines
}

/// The land on the upper edge: down to here the next strake laps.
fn upper_land(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>, lines: &[[f64; 2]]) {
    let lap = boat.plan.spec.planking.lap;
    let line: Vec<[f64; 2]> = edges.places().map(|p| edges.inside(true, p, lap)).collect();
    let strake = edges.flat.strake;
    let text = format!("land {strake}: strake {} laps to here", strake + 1);
    if let Some(place) = gap(edges, lines, AFT, canvas.width(SMALL, &text)) {
        let [tx, ty] = tangent(&line, place);
        let [u, v] = between(&line, place);
        let at = [u + 3.4 * ty, v - 3.4 * tx];
        canvas.turned("lands", at, Anchor::Middle, SMALL, ty.atan2(tx), &text);
    }
    canvas.line("lands", line, LAND);
}

/// The land of the strake below, on this one's inner face.
fn lower_land(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>) {
    let lap = boat.plan.spec.planking.lap;
    let line: Vec<[f64; 2]> = edges.places().map(|p| edges.inside(false, p, lap)).collect();
    canvas.line("lap", line, BEHIND);
}

/// Radius of the mark of a rivet, mm.
const RIVET: f64 = 1.6;

/// The heads of the rivets through the land below, each numbered where there is room, clear of the lines across.
fn rivets(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>, below: &Strake, uprights: &[[[f64; 2]; 2]]) {
    let mut free = f64::MIN;
    for rivet in boat.plan.rivets.iter().filter(|r| r.land == below.strake) {
        let place = edges.nearest(&rivet.at);
        let at = edges.square(false, place, rivet.head_edge);
        canvas.circle("rivets", at, RIVET, look::COPPER);
        canvas.line(
            "rivets",
            [[at[0] - 0.6, at[1]], [at[0] + 0.6, at[1]]],
            Stroke::solid(Weight::Fine, look::COPPER),
        );
        canvas.line(
            "rivets",
            [[at[0], at[1] - 0.6], [at[0], at[1] + 0.6]],
            Stroke::solid(Weight::Fine, look::COPPER),
        );
        let number = rivet.n.to_string();
        let style = SMALL.size(3.1).colour(look::COPPER);
        let wide = canvas.width(style, &number);
        let clear = |left: &f64| {
            let struck = |[a, b]: &[[f64; 2]; 2]| {
                let u = a[0] + (b[0] - a[0]) * (at[1] + 2.4 - a[1]) / (b[1] - a[1]).abs().max(1e-6);
                u > left - 0.6 && u < left + wide + 0.6
            };
            *left > free && !uprights.iter().any(struck)
        };
        let lefts = [at[0] + RIVET + 1.0, at[0] - RIVET - 1.0 - wide];
        if let Some(left) = lefts.into_iter().find(clear) {
            canvas.words("rivets", [left, at[1] + 2.4], Anchor::Left, style, &number);
            free = left + wide + 1.0;
        }
    }
}

/// Where the gains begin, on either edge: across the land's width, named inside it; returns the lines.
fn gains(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>, lapped: bool) -> Vec<[[f64; 2]; 2]> {
    let mut lines = Vec::new();
    let planking = &boat.plan.spec.planking;
    let whole = edges.strake.rulings.last().map_or(0.0, |r| r.along);
    let upper = edges.strake.rulings.iter().any(|r| r.bevel.is_some());
    for (aft, end) in [(false, &boat.plan.spec.fore), (true, &boat.plan.spec.aft)] {
        let Some(gain) = planking.gain_at(end).filter(|g| *g > 0.0 && *g < whole) else { continue };
        let places = [
            (true, upper.then(|| edges.along(if aft { whole - gain } else { gain })).flatten()),
            (false, lapped.then(|| edges.short_of(aft, gain)).flatten()),
        ];
        for (upper, place) in places {
            let Some(place) = place else { continue };
            let run = [edges.square(upper, place, 0.0), edges.square(upper, place, planking.lap)];
            canvas.line("gains", run, if upper { LAND } else { BEHIND });
            lines.push(run);
            // Inside the gain, and clear of the land's line.
            let deep = edges.square(upper, place, planking.lap + 3.6);
            let (anchor, step) = if aft { (Anchor::Left, 2.0) } else { (Anchor::Right, -2.0) };
            canvas.words("gains", [deep[0] + step, deep[1]], anchor, SMALL, "gain");
        }
    }
    lines
}

/// The plank's name goes in the forward third, its land's in the after one, as shares of its length.
const FORWARD: [f64; 2] = [0.2, 0.5];
const AFT: [f64; 2] = [0.5, 0.8];

/// The middle of the widest space between lines across, within a part of the length, if `needed` mm fit there.
fn gap(edges: &Edges<'_>, lines: &[[f64; 2]], part: [f64; 2], needed: f64) -> Option<f64> {
    let (from, to) = (part[0] * edges.flat.length, part[1] * edges.flat.length);
    let mut start = from;
    let mut best: Option<[f64; 2]> = None;
    for [left, right] in lines.iter().copied().filter(|l| l[1] > from && l[0] < to).chain([[to, to]]) {
        if left - start > best.map_or(needed, |b| b[1] - b[0]) {
            best = Some([start, left]);
        }
        start = start.max(right);
    }
    let middle = best.map(|b| 0.5 * (b[0] + b[1]))?;
    place_of(edges.flat.upper.iter().map(|p| p[0]), middle)
}

/// What it is and which way round, written on it.
fn names(canvas: &mut Canvas<'_>, boat: &Boat<'_>, edges: &Edges<'_>, lines: &[[f64; 2]]) {
    let name = format!("Strake {}", edges.flat.strake);
    let under = match boat.plan.side {
        None => "\u{2190} bow; outer face, port".to_owned(),
        Some(side) => format!("\u{2190} bow; outer face; {side} alone"),
    };
    let Some(place) = gap(edges, lines, FORWARD, canvas.width(NAME, &under)) else { return };
    let (low, high) = (edges.lower(place), edges.upper(place));
    let mut lap = boat.plan.spec.planking.lap + 4.0;
    let width = high[1] - low[1];
    if width < 2.0 * lap + 18.0 {
        lap = 4.0;
    }
    let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
    let size = ((width - 2.0 * lap - 8.0) / 1.2).clamp(NAME.size, THING.size);
    let slope = tangent(&edges.flat.upper, place);
    let turn = slope[1].atan2(slope[0]);
    let over = |mm: f64| [middle[0] - mm * turn.sin(), middle[1] + mm * turn.cos()];
    canvas.turned("names", over(3.4), Anchor::Middle, THING.size(size), turn, &name);
    canvas.turned("names", over(-0.45 * size - 2.6), Anchor::Middle, NAME, turn, &under);
}

/// What a plank or a part of one is made of, out of what board, and which way round it is drawn.
pub(super) fn board(boat: &Boat<'_>, [length, width]: [f64; 2]) -> String {
    let (len, planking) = (boat.len, &boat.plan.spec.planking);
    let way = match boat.plan.side {
        None => "that is port; turn it over for starboard".to_owned(),
        Some("port") => "that is port, and it is for port alone as she stands: starboard has its own".to_owned(),
        Some(side) => format!("turn it over, for it is for {side} alone as she stands: port has its own"),
    };
    format!(
        "{}; least board {} × {}. Outer face up, bow to the left: {way}.",
        of_wood(&len.short_unit(planking.thickness), &planking.wood.name),
        len.long_unit(length),
        len.short_unit(width)
    )
}

fn notes(boat: &Boat<'_>, flat: &FlatPlank, long: &LeftLong, below: Option<&Strake>) -> Vec<String> {
    let len = boat.len;
    let mut notes = vec![board(boat, long.board)];
    let hood = if flat.fore_hood.is_some() || flat.aft_hood.is_some() {
        "A hood end is the rabbet's own curve. "
    } else {
        ""
    };
    let words = left::words(len, &boat.plan.spec, [true, true], flat.strake == boat.plan.strakes.len());
    if !words.is_empty() {
        notes.push(format!("{hood}Broken round it: left long and cut when it is fitted, {words}."));
    } else if !hood.is_empty() {
        notes.push(hood.trim_end().to_owned());
    }
    let land = match below {
        Some(below) if boat.plan.spec.glued() => {
            format!("Broken along the lower edge: how far strake {} reaches up behind it.", below.strake)
        }
        Some(below) => format!(
            "Circles: rivet heads of land {}, to be drilled along their lean once the plank is clamped. Broken along \
             the lower edge: how far strake {} reaches up behind it.",
            below.strake, below.strake
        ),
        None => "The lower edge lies in the rabbet of the keel.".to_owned(),
    };
    let batten = len.short_unit(flat.batten - long.corner[1]);
    notes.push(format!(
        "{land} Long and short: the batten line, from which the book's offsets are measured, {batten} over the board's lower edge."
    ));
    notes
}
