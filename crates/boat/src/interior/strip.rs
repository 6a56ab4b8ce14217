//! What is bent along her side: risings, inwales, rubbing strakes.
//!
//! A strip lies on a face with its top edge along a line of it. With T the way aft along the line, N the face's outward
//! normal, B = T × N up in the face and κ the line's bend: κ·N is what it is bent the easy way, κ·B what its flat shape must
//! have, for laying a narrow strip flat keeps the bend within the face. The flat line is drawn from that bend:
//! heading φ' = κ·B along the line. Its distance off a straight batten from end to end is its sny. Sprung from a straight
//! piece instead, it is edge-set by as much. (Derived; on a cone of half-angle g a line round it at radius r must lie flat at
//! radius r / sin g, in the tests.)
//!
//! It leans off plumb as the face does, square to the line: that is what its top is planed off square to stand level.

use super::surface::On;
use crate::geom::fair::FairCurve;
use crate::geom::{Point, Vector, sagitta, unit_or};
use crate::spec::Stick;

/// A pair of strips.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// What it is.
    pub kind: StripKind,
    /// `interior.risings, item 1`.
    pub key: String,
    /// As it is said: `Rising`, `Rubbing strake at land 3`.
    pub name: String,
    /// What it lies on.
    pub lies_on: LiesOn,
    /// Its size and wood.
    pub stick: Stick,
    /// Along the line, mm: between its ends as cut.
    pub length: f64,
    /// Of the piece to cut, with its spare at both ends, mm.
    pub cut_length: f64,
    /// Least board that holds its flat shape, mm; `stick.depth` and its sny.
    pub board_width: f64,
    /// The line, dense, from forward.
    pub points: Vec<Point>,
    /// The same laid flat: along the batten from end to end, and off it, + upwards, mm.
    pub flat: Vec<[f64; 2]>,
    /// The line's greatest distance off the batten, mm.
    pub sny: f64,
    /// Numbers at the ends, stations and timbers.
    pub at: Vec<StripAt>,
    /// Least radius it is bent to the easy way, mm.
    pub bend_radius: f64,
    /// Least radius of its flat shape, mm.
    pub edge_radius: f64,
    /// Greatest twist, radians per mm.
    pub twist: f64,
    /// How its ends are cut, fore one first.
    pub ends: [EndCut; 2],
}

/// What a strip is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StripKind {
    /// Thwarts rest on it.
    Rising,
    /// Along the sheer inside.
    Inwale,
    /// Along the planking outside.
    RubbingStrake,
}

/// What a strip lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LiesOn {
    /// The timbers' inner faces.
    Timbers,
    /// The upper inner edges of the strakes: she has no timbers.
    Lands,
    /// A strake's outer face.
    Strake(usize),
}

/// Where a strip's numbers are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StripPlace {
    /// Fore end.
    Fore,
    /// Index into the plan's sections.
    Section(usize),
    /// Index into the plan's timbers.
    Timber(usize),
    /// After end.
    Aft,
}

/// A strip at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct StripAt {
    /// Where.
    pub place: StripPlace,
    /// Its line.
    pub at: Point,
    /// Along the line from its fore end, mm.
    pub along: f64,
    /// The face off plumb, square to the line, radians: + where its top stands outboard of its foot.
    pub lean: f64,
    /// The face off the centreline on plan, radians: + where she widens aft.
    pub turn: f64,
    /// On the batten from its fore end, and the line's distance off it, mm.
    pub flat: [f64; 2],
}

impl StripAt {
    /// What planing its top level takes off one corner, mm: of a strip `thickness` thick.
    #[must_use]
    pub fn off_top(&self, thickness: f64) -> f64 {
        thickness * self.lean.tan().abs()
    }
}

/// How an end is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndCut {
    /// What it meets.
    pub on: Meets,
    /// Off square on its top, radians.
    pub across: f64,
    /// Off square on its side, radians.
    pub down: f64,
    /// Between the two sides' pieces, radians, on the lines' own plane.
    pub between: f64,
}

/// What a strip's end meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meets {
    /// Nothing: cut square.
    Nothing,
    /// A post's plumb side.
    Post,
    /// A transom's inner face.
    Transom,
    /// A transom's outer face.
    OuterFace,
    /// A breasthook's arm.
    Breasthook,
}

/// What an end meets and that plane's normal.
#[derive(Debug, Clone, Copy)]
pub struct End {
    /// What.
    pub on: Meets,
    /// Unit; `None`: square to the line.
    pub normal: Option<Vector>,
}

impl End {
    /// Cut square.
    pub const SQUARE: End = End { on: Meets::Nothing, normal: None };
}

/// What a strip is laid through.
pub struct Along<'a> {
    /// Points of its line on the face, from forward.
    pub points: &'a [On],
    /// Where numbers are wanted, mm aft of the first station, between its ends.
    pub wanted: &'a [(StripPlace, f64)],
    /// Its ends.
    pub ends: [End; 2],
}

/// What is measured of a line.
pub struct Measured {
    pub length: f64,
    pub points: Vec<Point>,
    pub flat: Vec<[f64; 2]>,
    pub sny: f64,
    pub at: Vec<StripAt>,
    pub bend_radius: f64,
    pub edge_radius: f64,
    pub twist: f64,
    pub ends: [EndCut; 2],
}

/// One place while a line is walked.
struct Step {
    t: f64,
    at: Point,
    tangent: Vector,
    normal: Vector,
    /// Bend out of the face and within it, 1/mm.
    bend: [f64; 2],
    twist: f64,
}

/// Steps from one point of a line to the next.
const STEPS: usize = 2;

/// Walks the line; `None` where no curve passes through its points.
pub fn measure(along: &Along<'_>) -> Option<Measured> {
    let line: Vec<[f64; 3]> = along.points.iter().map(|p| p.at.into()).collect();
    let curve = FairCurve::by_chords(&line).ok()?;
    let normals: Vec<[f64; 3]> = along.points.iter().map(|p| p.normal.into()).collect();
    let normals = FairCurve::through(curve.knots(), &normals).ok()?;
    let knots = curve.knots();
    let (first, last) = (knots[0], knots[knots.len() - 1]);
    let mut ts: Vec<f64> = knots
        .windows(2)
        .flat_map(|w| (0..STEPS).map(|i| w[0] + (w[1] - w[0]) * i as f64 / STEPS as f64))
        .chain([last])
        .collect();
    let places: Vec<(StripPlace, f64)> = [(StripPlace::Fore, first)]
        .into_iter()
        .chain(along.wanted.iter().filter_map(|(place, x)| Some((*place, parameter(&curve, *x)?))))
        .chain([(StripPlace::Aft, last)])
        .collect();
    ts.extend(places.iter().map(|p| p.1));
    ts.sort_by(f64::total_cmp);
    ts.dedup_by(|a, b| (*a - *b).abs() < 1e-9 * (last - first));
    let steps: Vec<Step> = ts.iter().map(|&t| step(&curve, &normals, t)).collect();
    let (distances, flat) = laid_flat(&curve, &steps);
    let at = places
        .iter()
        .filter_map(|&(place, t)| {
            let i = steps.iter().position(|s| (s.t - t).abs() <= 1e-9 * (last - first))?;
            let s = &steps[i];
            let up = s.tangent.cross(&s.normal);
            Some(StripAt {
                place,
                at: s.at,
                along: distances[i],
                lean: (-s.normal.z).atan2(up.z),
                turn: (-s.normal.x).atan2(s.normal.y),
                flat: flat[i],
            })
        })
        .collect();
    let most = |of: fn(&Step) -> f64| steps.iter().map(of).fold(f64::MIN_POSITIVE, f64::max);
    let ends = [(steps.first()?, along.ends[0]), (steps.last()?, along.ends[1])].map(|(s, end)| cut(s, end));
    Some(Measured {
        length: *distances.last()?,
        points: steps.iter().map(|s| s.at).collect(),
        sny: sagitta(&flat),
        flat,
        at,
        bend_radius: 1.0 / most(|s| s.bend[0].abs()),
        edge_radius: 1.0 / most(|s| s.bend[1].abs()),
        twist: most(|s| s.twist.abs()),
        ends,
    })
}

fn step(curve: &FairCurve<3>, normals: &FairCurve<3>, t: f64) -> Step {
    let (d1, d2) = (Vector::from(curve.d1(t)), Vector::from(curve.d2(t)));
    let speed = d1.norm().max(f64::MIN_POSITIVE);
    let tangent = d1 / speed;
    let rough = Vector::from(normals.at(t));
    let normal = unit_or(rough - tangent * rough.dot(&tangent), Vector::y());
    let up = tangent.cross(&normal);
    let bend = (d2 - tangent * d2.dot(&tangent)) / (speed * speed);
    let turn = Vector::from(normals.d1(t)) / speed;
    Step {
        t,
        at: Point::from(curve.at(t)),
        tangent,
        normal,
        bend: [bend.dot(&normal), bend.dot(&up)],
        twist: turn.dot(&up),
    }
}

/// Distances along the line, and the line laid flat, its ends on the batten.
fn laid_flat(curve: &FairCurve<3>, steps: &[Step]) -> (Vec<f64>, Vec<[f64; 2]>) {
    let (mut distance, mut heading, mut at) = (0.0, 0.0_f64, [0.0, 0.0]);
    let (mut distances, mut flat) = (vec![0.0], vec![at]);
    for w in steps.windows(2) {
        // Simpson's rule.
        let speed = |t: f64| Vector::from(curve.d1(t)).norm();
        let h = w[1].t - w[0].t;
        let long = h / 6.0 * (speed(w[0].t) + 4.0 * speed(w[0].t + 0.5 * h) + speed(w[1].t));
        let turn = 0.5 * (w[0].bend[1] + w[1].bend[1]) * long;
        // The chord of the arc.
        let half = 0.5 * turn;
        let chord = if half.abs() < 1e-6 { long } else { long * half.sin() / half };
        let way = heading + half;
        at = [at[0] + chord * way.cos(), at[1] + chord * way.sin()];
        heading += turn;
        distance += long;
        distances.push(distance);
        flat.push(at);
    }
    let off = at[1].atan2(at[0]);
    let (sin, cos) = off.sin_cos();
    let flat = flat.iter().map(|p| [p[0] * cos + p[1] * sin, p[1] * cos - p[0] * sin]).collect();
    (distances, flat)
}

/// The parameter at which the line stands at `x`; `None` past its ends.
fn parameter(curve: &FairCurve<3>, x: f64) -> Option<f64> {
    let at = |t: f64| curve.at(t)[0];
    let w = curve.knots().windows(2).find(|w| at(w[0]) <= x && x <= at(w[1]))?;
    let (mut low, mut high) = (w[0], w[1]);
    for _ in 0..50 {
        let mid = 0.5 * (low + high);
        if at(mid) < x { low = mid } else { high = mid }
    }
    Some(0.5 * (low + high))
}

fn cut(s: &Step, end: End) -> EndCut {
    let m = end.normal.unwrap_or(s.tangent);
    let m = if m.dot(&s.tangent) < 0.0 { -m } else { m };
    let up = s.tangent.cross(&s.normal);
    let along = m.dot(&s.tangent);
    EndCut {
        on: end.on,
        across: m.dot(&s.normal).abs().atan2(along),
        down: m.dot(&up).abs().atan2(along),
        between: 2.0 * s.tangent.y.abs().min(1.0).asin(),
    }
}
