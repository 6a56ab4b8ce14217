//! The planked boat as a scene: outer and inner faces with their laps, planks' ends, stem, keel and transoms.
//!
//! Outside, strake k shows from its lower outer edge up to where strake k + 1 lies on it, and there steps out by the step
//! of the land to that strake's lower outer edge. Inside it shows from where the land below ends up to its own upper edge,
//! and there steps out to the next one's face, which the bevel brings nearer. So faces share their corners and nothing
//! runs into anything.

use super::{Kind, Line, Scene, Strip};
use crate::geom::{Point, Vector, along, unit_or};
use crate::lines::Section;
use crate::planks::Strake;
use crate::spec::{EndSpec, Spec, Transom};

/// Keel and stem outside the rabbet where boat.toml does not give them: sketched so deep, in thicknesses of the planking.
const SKETCHED: f64 = 4.5;
/// From the post's depth to the keel's over this length along the rabbet, mm.
const EASED: f64 = 300.0;
/// The rabbet's direction is taken over this length to either side, mm.
const REACH: f64 = 40.0;
/// Pieces of a transom across half of her, where it is curved or must be closed.
pub(super) const ACROSS: usize = 12;

/// The scene of the boat planked with `strakes`, both sides; empty where there are none. `sections` are the skin's.
#[must_use]
pub fn scene(strakes: &[Strake], sections: &[Section], spec: &Spec) -> Scene {
    let mut scene = Scene::default();
    let Some(shows) = shown(strakes, spec) else { return scene };
    let ends = [(&spec.fore, false), (&spec.aft, true)];
    for k in 0..shows.len() {
        planks(&mut scene, &strakes[k], &shows[k], shows.get(k + 1));
    }
    let mut hoods = [Vec::new(), Vec::new()];
    for (hood, (end, aft)) in hoods.iter_mut().zip(ends) {
        match end {
            EndSpec::Transom(t) => transom(&mut scene, &shows, t, aft),
            EndSpec::Post(_) => {
                let rabbet = if aft { sections.last() } else { sections.first() };
                *hood = hood_ends(&mut scene, strakes, &shows, rabbet.map_or(&[], |s| &s.points), aft);
            }
        }
    }
    backbone(&mut scene, &shows, &hoods, spec);
    scene.and_mirrored()
}

/// What shows of every strake, trimmed to the transoms; `None` where there are no strakes.
pub(super) fn shown(strakes: &[Strake], spec: &Spec) -> Option<Vec<Shows>> {
    let rulings = strakes.iter().map(|s| s.rulings.len()).min()?;
    if rulings < 2 || strakes.iter().any(|s| s.rulings.len() != rulings) {
        return None;
    }
    let mut shows: Vec<Shows> = (0..strakes.len()).map(|k| Shows::of(strakes, k, spec)).collect();
    for (end, aft) in [(&spec.fore, false), (&spec.aft, true)] {
        if let EndSpec::Transom(t) = end {
            shows.iter_mut().for_each(|s| s.trim(t, aft));
        }
    }
    Some(shows)
}

/// What shows of one strake, ruling by ruling.
pub(super) struct Shows {
    /// Its lower outer edge.
    pub(super) low: Vec<Point>,
    /// Where that lies on the strake below.
    foot: Vec<Point>,
    /// The upper end of what shows outside: where the next strake lies on it, or the sheer's outer edge.
    pub(super) high: Vec<Point>,
    /// The lower end of what shows inside.
    inner_low: Vec<Point>,
    /// Its upper inner edge.
    inner_high: Vec<Point>,
    /// Outward at the lower and at the upper edge.
    normals: [Vec<Vector>; 2],
    /// Up its rulings.
    up: Vec<Vector>,
}

impl Shows {
    fn of(strakes: &[Strake], k: usize, spec: &Spec) -> Self {
        let s = &strakes[k];
        let t = s.thickness;
        let below = k.checked_sub(1).map(|b| &strakes[b]);
        let step_below = |i: usize| below.and_then(|b| b.rulings.get(i)).map_or(0.0, |r| r.step);
        let low: Vec<Point> = s.rulings.iter().map(|r| r.lower + r.lower_normal * t).collect();
        let foot = s.rulings.iter().enumerate().map(|(i, r)| low[i] - r.lower_normal * step_below(i)).collect();
        let high = match strakes.get(k + 1) {
            Some(next) => {
                next.rulings.iter().zip(&s.rulings).map(|(r, on)| r.lower + r.lower_normal * (t - on.step)).collect()
            }
            None => s.rulings.iter().map(|r| r.upper + r.normal * t).collect(),
        };
        // Where the next strake's face passes the upper edge, which its bevel brings nearer.
        let past = |r: &crate::planks::Ruling| {
            let taken = spec.planking.lap * r.bevel.unwrap_or(0.0).tan().max(0.0);
            r.upper + r.normal * (r.step - taken).max(0.0)
        };
        Shows {
            low,
            foot,
            high,
            inner_low: below.map_or_else(
                || s.rulings.iter().map(|r| r.lower).collect(),
                |b| b.rulings.iter().map(past).collect(),
            ),
            inner_high: s.rulings.iter().map(|r| r.upper).collect(),
            normals: [
                s.rulings.iter().map(|r| r.lower_normal).collect(),
                s.rulings.iter().map(|r| r.normal).collect(),
            ],
            up: s.rulings.iter().map(crate::planks::Ruling::up).collect(),
        }
    }

    /// Cuts its end off flush with a transom's outer face.
    fn trim(&mut self, t: &Transom, aft: bool) {
        for edge in [&mut self.low, &mut self.foot, &mut self.high, &mut self.inner_low, &mut self.inner_high] {
            flush(edge, t, aft);
        }
    }

    /// Its corners at the bow or the stern: inner low and high, outer high and low.
    fn end(&self, aft: bool) -> [Point; 4] {
        [&self.inner_low, &self.inner_high, &self.high, &self.low].map(|edge| edge[end_of(edge, aft)])
    }
}

/// Cuts an edge that ends about a transom's outer face off flush with it, or runs it straight on to there. `aft`: the edge's
/// after end.
pub fn flush(edge: &mut [Point], t: &Transom, aft: bool) {
    if edge.len() < 2 {
        return;
    }
    let end = end_of(edge, aft);
    let at = behind(edge, t, aft, 0.0);
    let past: Vec<usize> = (0..edge.len()).filter(|&i| depth(&edge[i], t) < 0.0).collect();
    for i in past.into_iter().chain([end]) {
        edge[i] = at;
    }
}

fn end_of<T>(all: &[T], aft: bool) -> usize {
    if aft { all.len() - 1 } else { 0 }
}

/// A strake's faces and lines; `next` lies on it.
fn planks(scene: &mut Scene, strake: &Strake, s: &Shows, next: Option<&Shows>) {
    let [lower, upper] = &s.normals;
    scene.face(&s.low, &s.high);
    scene.face(&s.inner_low, &s.inner_high);
    scene.strips.push(Strip {
        lower: s.low.clone(),
        upper: s.high.clone(),
        lower_normals: lower.clone(),
        upper_normals: upper.clone(),
    });
    scene.face(&s.foot, &s.low);
    if strake.strake > 1 {
        let free: Vec<Vector> = lower.iter().zip(&s.up).map(|(n, up)| n - up).collect();
        scene.lines.push(Line { kind: Kind::Land, points: s.low.clone(), free: free.clone() });
        scene.lines.push(Line { kind: Kind::Step, points: s.foot.clone(), free });
    } else {
        let free = lower.iter().zip(&s.up).map(|(n, up)| up - n).collect();
        scene.lines.push(Line { kind: Kind::Inside, points: s.inner_low.clone(), free });
    }
    let inward: Vec<Vector> = upper.iter().zip(&s.up).map(|(n, up)| up - n).collect();
    match next {
        Some(next) => {
            scene.face(&s.inner_high, &next.inner_low);
            scene.lines.push(Line { kind: Kind::Inside, points: s.inner_high.clone(), free: inward });
        }
        None => {
            scene.face(&s.inner_high, &s.high);
            let outward = upper.iter().zip(&s.up).map(|(n, up)| n + up).collect();
            scene.lines.push(Line { kind: Kind::Sheer, points: s.high.clone(), free: outward });
            scene.lines.push(Line { kind: Kind::Sheer, points: s.inner_high.clone(), free: inward });
        }
    }
}

/// The ends of the planks, from inner to outer face.
fn end_faces(scene: &mut Scene, shows: &[Shows], aft: bool) {
    for (k, s) in shows.iter().enumerate() {
        let [a, b, c, d] = s.end(aft);
        scene.faces.extend([[a, b, c], [a, c, d]]);
        if let Some(next) = shows.get(k + 1) {
            // The lap.
            let [past, _, _, low] = next.end(aft);
            scene.faces.extend([[b, past, low], [b, low, c]]);
        }
    }
}

/// The line of the inner corners at an end, from the rabbet up; and that of the outer ones.
pub(super) fn corners(shows: &[Shows], aft: bool) -> [Vec<Point>; 2] {
    let ends = || shows.iter().map(|s| s.end(aft));
    [ends().flat_map(|[a, b, _, _]| [a, b]).collect(), ends().flat_map(|[_, _, c, d]| [d, c]).collect()]
}

/// Planks' ends in a post's rabbet, and the wood between the two sides. Returns the line of the outer corners, from the
/// rabbet's foot up, with the planks' normals; between a plank's corners it follows the rabbet.
fn hood_ends(
    scene: &mut Scene,
    strakes: &[Strake],
    shows: &[Shows],
    rabbet: &[Point],
    aft: bool,
) -> Vec<(Point, Vector)> {
    end_faces(scene, shows, aft);
    let [inner, _] = corners(shows, aft);
    let over: Vec<Point> = inner.iter().map(|p| Point::new(p.x, 0.0, p.z)).collect();
    scene.face(&inner, &over);
    let into = if aft { -Vector::x() } else { Vector::x() };
    let free = vec![into - Vector::y(); inner.len()];
    scene.lines.push(Line { kind: Kind::Inside, points: inner, free });

    let mut line = Vec::new();
    for (strake, s) in strakes.iter().zip(shows) {
        let hood = hood_line(strake, s, rabbet, aft);
        // From the straight end of the ruled face out to it.
        let curve: Vec<Point> = hood.iter().map(|h| h.0).collect();
        let [_, _, high, low] = s.end(aft);
        let chord: Vec<Point> = curve.iter().map(|p| low + (high - low) * share(&low, &high, p)).collect();
        scene.face(&chord, &curve);
        line.extend(hood);
    }
    line
}

/// The outer line of one strake's hood end, which follows the rabbet from its lower to its upper corner, with the plank's
/// normals.
pub(super) fn hood_line(strake: &Strake, s: &Shows, rabbet: &[Point], aft: bool) -> Vec<(Point, Vector)> {
    let [_, _, high, low] = s.end(aft);
    let [from, to] = [0, 1].map(|i| s.normals[i][end_of(&s.normals[i], aft)]);
    let r = &strake.rulings[end_of(&strake.rulings, aft)];
    let bottom = r.lower.z;
    let top = r.upper.z - (r.upper + r.normal * strake.thickness - high).z;
    let between = rabbet.iter().filter(|p| p.z > bottom && p.z < top).map(|p| {
        let normal = unit_or(from + (to - from) * ((p.z - bottom) / (top - bottom)), from);
        (p + normal * strake.thickness, normal)
    });
    [(low, from)].into_iter().chain(between).chain([(high, to)]).collect()
}

/// How far from `a` to `b` the point `p` stands, as a share.
fn share(a: &Point, b: &Point, p: &Point) -> f64 {
    let way = b - a;
    ((p - a).dot(&way) / way.norm_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
}

/// A transom: its outer face within the planks' inner corners, their ends, its top and its inner face.
fn transom(scene: &mut Scene, shows: &[Shows], t: &Transom, aft: bool) {
    end_faces(scene, shows, aft);
    let [inner, outer] = corners(shows, aft);
    let out = |p: &Point| Vector::from(t.normal(p.y));
    let back: Vec<Point> =
        shows.iter().flat_map(|s| [&s.inner_low, &s.inner_high]).map(|e| behind(e, t, aft, t.thickness)).collect();
    let across = |chain: &[Point], share: f64| -> Vec<Point> {
        let head = chain.len() - 1;
        let mut points: Vec<Point> = chain.iter().map(|p| on_transom(t, p, share)).collect();
        // The crown, over the head alone.
        let half = t.laid_flat(chain[head].y, 0.0)[0];
        let (rise, [x, z]) = (t.rise(t.laid_flat(chain[head].y * share, 0.0)[0], half), t.up());
        points[head] += Vector::new(x, 0.0, z) * rise;
        points
    };
    let pieces = if t.radius.is_some() || t.crown.is_some_and(|c| c > 0.0) { ACROSS } else { 1 };
    for chain in [&inner, &back] {
        for i in 0..pieces {
            let [from, to] = [i, i + 1].map(|i| across(chain, i as f64 / pieces as f64));
            scene.face(&from, &to);
            if t.radius.is_some() && std::ptr::eq(chain, &inner) {
                // A curved one turns away across itself.
                let [lower_normals, upper_normals] = [&from, &to].map(|edge| edge.iter().map(out).collect());
                scene.strips.push(Strip { lower: from, upper: to, lower_normals, upper_normals });
            }
        }
    }
    let top = |chain: &[Point]| -> Vec<Point> {
        let head = &chain[chain.len() - 1..];
        (0..=pieces).flat_map(|i| across(head, i as f64 / pieces as f64)).collect()
    };
    let [top_out, top_in] = [top(&inner), top(&back)];
    scene.face(&top_out, &top_in);
    let inner_foot = inner[0];
    let line = |kind, points: Vec<Point>, way: f64, up: f64, side: f64| {
        let free = points.iter().map(|p| out(p) * way + Vector::z() * up + Vector::y() * side).collect();
        Line { kind, points, free }
    };
    scene.lines.extend([
        line(Kind::Transom, inner, 1.0, 0.0, 0.0),
        line(Kind::Transom, outer, 1.0, 0.0, 1.0),
        line(Kind::Transom, vec![inner_foot, on_transom(t, &inner_foot, 0.0)], 1.0, 0.0, 0.0),
        line(Kind::Transom, top_out, 1.0, 1.0, 0.0),
        line(Kind::Transom, top_in, -1.0, 1.0, 0.0),
        line(Kind::Inside, back, -1.0, 0.0, -1.0),
    ]);
}

/// The point of a transom's outer face level with `p` on it, at this share of its half-breadth.
pub(super) fn on_transom(t: &Transom, p: &Point, share: f64) -> Point {
    let y = p.y * share;
    Point::new(p.x + (t.x_at(y, p.z) - t.x_at(p.y, p.z)), y, p.z)
}

/// How far a point stands within a transom's outer face, mm.
fn depth(p: &Point, t: &Transom) -> f64 {
    (Point::new(t.x_at(p.y, p.z), p.y, p.z) - p).dot(&Vector::from(t.normal(p.y)))
}

/// Where an edge that ends about a transom's outer face passes `within` it, run straight on where it ends short of that.
fn behind(edge: &[Point], t: &Transom, aft: bool, within: f64) -> Point {
    let order: Vec<&Point> = if aft { edge.iter().rev().collect() } else { edge.iter().collect() };
    for w in order.windows(2) {
        let (a, b) = (depth(w[0], t), depth(w[1], t));
        if b >= within && b > a {
            // Before the first point the share is less than nought.
            return w[0] + (w[1] - w[0]) * ((within - a) / (b - a)).clamp(-LONGER, 1.0);
        }
    }
    edge[end_of(edge, aft)]
}

/// An edge is run on by no more than so many spaces between rulings.
const LONGER: f64 = 2.0;

/// Stem, keel and sternpost outside the planks: from the rabbet out to their faces.
/// `hoods`: the outer corners of the hood ends at stem and sternpost, from the foot up.
fn backbone(scene: &mut Scene, shows: &[Shows], hoods: &[Vec<(Point, Vector)>; 2], spec: &Spec) {
    let sketched = SKETCHED * spec.planking.thickness;
    let depth = |end: &EndSpec| match end {
        EndSpec::Post(post) => Some(post.wood_outside.unwrap_or(sketched)),
        EndSpec::Transom(_) => None,
    };
    let depths = [depth(&spec.fore), depth(&spec.aft)];
    let mut kept: Vec<(Point, Vector, f64)> = Vec::new();
    for at in around(shows, hoods, spec.keel.wood_outside.unwrap_or(sketched), depths) {
        if kept.last().is_none_or(|(q, _, _)| (q - at.0).norm() > 0.05) {
            kept.push(at);
        }
    }
    let garboard = &shows[0];
    let line: Vec<Point> = kept.iter().map(|k| k.0).collect();
    let outward = outward(&line);
    let outer: Vec<Point> = kept.iter().zip(&outward).map(|((p, _, d), out)| p + out * *d).collect();
    let (under, heads): (Vec<Point>, Vec<Point>) =
        (outer.iter().map(middle).collect(), line.iter().map(middle).collect());
    scene.face(&line, &outer);
    scene.face(&outer, &under);
    // Its ends, and its upper side within the rabbet.
    let last = line.len() - 1;
    for i in [0, last] {
        scene.face(&[line[i], heads[i]], &[outer[i], under[i]]);
    }
    let inner: Vec<Point> = garboard.inner_low.iter().map(middle).collect();
    scene.face(&garboard.inner_low, &inner);
    let side = |i: usize| kept[i].1 + Vector::y();
    scene.lines.push(Line { kind: Kind::Rabbet, free: (0..=last).map(side).collect(), points: line.clone() });
    let edge = |i: usize| outward[i] + Vector::y();
    scene.lines.push(Line { kind: Kind::Backbone, free: (0..=last).map(edge).collect(), points: outer.clone() });
    for i in [0, last] {
        let next = if i == 0 { line[1] - line[0] } else { line[last - 1] - line[last] };
        let away = -unit_or(next, Vector::z());
        let cap =
            |points: Vec<Point>, way: Vector| Line { kind: Kind::Backbone, free: vec![way; points.len()], points };
        scene.lines.push(cap(vec![line[i], outer[i]], away + Vector::y()));
        scene.lines.push(cap(vec![outer[i], under[i]], away + outward[i]));
    }
    // The stem's head inside the sheer.
    for (aft, is_post) in [(false, depths[0].is_some()), (true, depths[1].is_some())] {
        let Some(sheer) = shows.last().filter(|_| is_post) else { continue };
        let [_, b, c, _] = sheer.end(aft);
        scene.face(&[b, c], &[middle(&b), middle(&c)]);
        let away = if aft { -Vector::x() } else { Vector::x() };
        let points = vec![c, b, middle(&b)];
        scene.lines.push(Line { kind: Kind::Backbone, free: vec![away + Vector::z(); 3], points });
    }
}

/// The line where stem, keel and sternpost meet the planks outside, from the stem's head down, aft along the keel, and up the
/// sternpost: each point with the plank's normal there and how deep the wood stands outside it, mm: `keel`, and from there to
/// the posts' over a length at either end.
pub(super) fn around(
    shows: &[Shows],
    hoods: &[Vec<(Point, Vector)>; 2],
    keel: f64,
    posts: [Option<f64>; 2],
) -> Vec<(Point, Vector, f64)> {
    let garboard = &shows[0];
    let mut rabbet: Vec<(Point, Vector)> = hoods[0].iter().rev().copied().collect();
    let keel_from = rabbet.len();
    rabbet.extend(garboard.low.iter().copied().zip(garboard.normals[0].iter().copied()));
    let keel_to = rabbet.len() - 1;
    rabbet.extend(&hoods[1]);
    let length = along(&rabbet.iter().map(|r| r.0).collect::<Vec<_>>());
    let ease =
        |post: Option<f64>, from: f64| post.map_or(0.0, |d| (d - keel) * (1.0 - from.max(0.0) / EASED).max(0.0));
    let deep =
        |i: usize| keel + ease(posts[0], length[i] - length[keel_from]) + ease(posts[1], length[keel_to] - length[i]);
    rabbet.iter().enumerate().map(|(i, (p, n))| (*p, *n, deep(i))).collect()
}

/// On the centreline.
pub(super) fn middle(p: &Point) -> Point {
    Point::new(p.x, 0.0, p.z)
}

/// Square to a profile that runs from the stem's head down and aft, out of the boat, in the centreline plane.
pub(super) fn outward(line: &[Point]) -> Vec<Vector> {
    let length = along(line);
    (0..line.len())
        .map(|i| {
            let from = length.partition_point(|&s| s < length[i] - REACH).min(i.saturating_sub(1));
            let to =
                length.partition_point(|&s| s <= length[i] + REACH).saturating_sub(1).max(i + 1).min(line.len() - 1);
            let way = line[to] - line[from];
            unit_or(Vector::new(way.z, 0.0, -way.x), -Vector::z())
        })
        .collect()
}
