//! What things inside her lie against.
//!
//! Timbers touch the upper inner edges of the strakes ([`crate::timbers`]), and a thing laid along the inside of the planking
//! touches the same edges: so the land lines are the outer face of the timbers. Their inner faces lie their moulding further
//! in, square to the fair surface through the lands: a steamed timber twists with the planking. [`Surface`] is that, at any
//! depth; [`Planking`] is the planks' own faces, with a step at every land.
//!
//! A section of a surface by the plane at x is the fair curve through where its lines cross the plane; the way that they run is
//! carried along it from line to line, and the normal is square to both.

use crate::geom::fair::{FairCurve, FairError, chord_knots};
use crate::geom::{Point, Vector, unit_or};
use crate::lining::LandCurve;
use crate::planks::{Ruling, Strake};

/// A place on a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct On {
    /// mm.
    pub at: Point,
    /// Unit, outboard.
    pub normal: Vector,
}

/// A fair surface within the lands.
#[derive(Debug, Clone)]
pub struct Surface {
    lines: Vec<Line>,
    past: [f64; 2],
}

#[derive(Debug, Clone)]
struct Line {
    curve: FairCurve<3>,
    /// Parameters and places along the boat of points close together, from forward.
    known: Vec<[f64; 2]>,
}

/// Points of a line from one section to the next.
const PIECES: usize = 3;

/// How far faces are carried on past a transom, mm: it rakes, and what ends on it at the sheer lies abaft the planks' lower ends.
pub const PAST_TRANSOM: f64 = 400.0;

/// Points of the lands in columns, each with the outward normal of the fair surface through them.
#[derive(Debug, Clone)]
pub struct Lofted {
    /// Land by land, from forward.
    rows: Vec<Vec<On>>,
}

impl Lofted {
    /// Through `lands`.
    ///
    /// # Errors
    /// Where no curve passes through a column of points.
    pub fn through(lands: &[LandCurve]) -> Result<Self, FairError> {
        let steps: Vec<Vec<f64>> = lands.iter().map(|land| land.parameters(PIECES)).collect();
        let columns = steps.iter().map(Vec::len).min().unwrap_or(0);
        let mut rows: Vec<Vec<On>> = vec![Vec::with_capacity(columns); lands.len()];
        for c in 0..columns {
            let points: Vec<[f64; 3]> = lands.iter().zip(&steps).map(|(l, s)| l.curve.at(s[c])).collect();
            let column = FairCurve::by_chords(&points)?;
            for (k, (land, s)) in lands.iter().zip(&steps).enumerate() {
                let up = Vector::from(column.d1(column.knots()[k]));
                let aft = Vector::from(land.curve.d1(s[c]));
                rows[k].push(On { at: points[k].into(), normal: unit_or(up.cross(&aft), Vector::y()) });
            }
        }
        Ok(Lofted { rows })
    }

    /// The surface `inboard` of it, mm square to it, carried on by `past` its fore and after end, mm.
    ///
    /// # Errors
    /// Where no line passes through its points.
    pub fn within(&self, inboard: f64, past: [f64; 2]) -> Result<Surface, FairError> {
        let line = |row: &Vec<On>| -> Result<Line, FairError> {
            let points: Vec<[f64; 3]> = row.iter().map(|on| (on.at - on.normal * inboard).into()).collect();
            let curve = FairCurve::by_chords(&points)?;
            let knots = curve.knots().to_vec();
            Ok(Line::of(curve, &knots))
        };
        Ok(Surface { lines: self.rows.iter().map(line).collect::<Result<_, _>>()?, past })
    }
}

impl Surface {
    /// The section by the plane at `x`; `None` where fewer than three lines cross it.
    #[must_use]
    pub fn section(&self, x: f64) -> Option<Slice> {
        let crossed: Vec<(Point, Vector)> = self.lines.iter().filter_map(|l| l.crossing(x, self.past)).collect();
        if crossed.len() < 3 {
            return None;
        }
        let yz: Vec<[f64; 2]> = crossed.iter().map(|(p, _)| [p.y, p.z]).collect();
        let along = |(p, aft): &(Point, Vector)| [p.y, p.z, aft.y / aft.x, aft.z / aft.x];
        let points: Vec<[f64; 4]> = crossed.iter().map(along).collect();
        Some(Slice { x, curve: FairCurve::through(&chord_knots(&yz), &points).ok()? })
    }
}

impl Line {
    fn of(curve: FairCurve<3>, steps: &[f64]) -> Self {
        let known = steps.iter().map(|&t| [t, curve.at(t)[0]]).collect();
        Line { curve, known }
    }

    /// Where it crosses the plane at `x`, and which way it runs there; straight on past its ends, no further than `past`.
    fn crossing(&self, x: f64, past: [f64; 2]) -> Option<(Point, Vector)> {
        let (first, last) = (self.known.first()?, self.known.last()?);
        let beyond = [first[1] - x, x - last[1]];
        for (end, t) in [first[0], last[0]].into_iter().enumerate() {
            if beyond[end] > 0.0 && beyond[end] <= past[end] {
                let (at, way) = (Point::from(self.curve.at(t)), Vector::from(self.curve.d1(t)));
                return (way.x > 0.0).then(|| (at + way * ((x - at.x) / way.x), way));
            }
        }
        let w = self.known.windows(2).find(|w| w[0][1] <= x && x <= w[1][1])?;
        let t = root(w[0][0], w[1][0], |t| self.curve.at(t)[0] - x, |t| self.curve.d1(t)[0]);
        let aft = Vector::from(self.curve.d1(t));
        (aft.x > 0.0).then(|| (Point::from(self.curve.at(t)), aft))
    }
}

/// Where `f`, which rises from `low` to `high`, is 0: Newton's steps, kept between the two.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64, slope: impl Fn(f64) -> f64) -> f64 {
    let near = 1e-12 * (high - low).abs();
    let mut t = 0.5 * (low + high);
    for _ in 0..60 {
        let off = f(t);
        if off > 0.0 {
            high = t
        } else {
            low = t
        }
        let newton = t - off / slope(t);
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - t).abs() <= near {
            return next;
        }
        t = next;
    }
    t
}

/// A section of a surface.
#[derive(Debug, Clone)]
pub struct Slice {
    x: f64,
    /// y and z, and how much a line of the surface goes outboard and up for each mm aft.
    curve: FairCurve<4>,
}

/// How far past its ends a section is carried on, mm: a timber's head that leans in stands below the sheer.
const PAST: f64 = 60.0;

impl Slice {
    /// Lowest and highest height, mm.
    #[must_use]
    pub fn heights(&self) -> [f64; 2] {
        let knots = self.curve.knots();
        [self.curve.at(knots[0])[1], self.curve.at(knots[knots.len() - 1])[1]]
    }

    /// At the height `z`; up to a little above its top, none below its foot.
    #[must_use]
    pub fn at(&self, z: f64) -> Option<On> {
        let knots = self.curve.knots();
        let [low, high] = self.heights();
        if !(low..=high + PAST).contains(&z) {
            return None;
        }
        let last = knots[knots.len() - 1];
        let t = if z > high {
            let [_, rise, ..] = self.curve.d1(last);
            (rise > 0.1).then(|| last + (z - high) / rise)?
        } else {
            let w = knots.windows(2).find(|w| self.curve.at(w[0])[1] <= z && z <= self.curve.at(w[1])[1])?;
            root(w[0], w[1], |t| self.curve.at(t)[1] - z, |t| self.curve.d1(t)[1])
        };
        // Past its top it runs straight on.
        let edge = t.min(last);
        let ([y, _, out, up], [slope, rise, ..]) = (self.curve.at(edge), self.curve.d1(edge));
        let normal = unit_or(Vector::new(0.0, slope, rise).cross(&Vector::new(1.0, out, up)), Vector::y());
        Some(On { at: Point::new(self.x, y + (t - edge) * slope, z), normal })
    }
}

/// The planks' inner faces.
#[derive(Debug, Clone, Copy)]
pub struct Planking<'a> {
    strakes: &'a [Strake],
    past: [f64; 2],
}

/// A straight piece of a section: the inner face of a strake, or the step at a land under it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// `[y, z]` of its lower end.
    pub lower: [f64; 2],
    /// Of its upper end.
    pub upper: [f64; 2],
    /// Strake; the one above, of a step.
    pub strake: usize,
    /// A plank's face and not a step.
    pub face: bool,
    /// The plank's, unit, outboard.
    pub normal: Vector,
}

impl<'a> Planking<'a> {
    /// Those of `strakes`, carried on by `past` their fore and after ends, mm.
    #[must_use]
    pub fn new(strakes: &'a [Strake], past: [f64; 2]) -> Self {
        Planking { strakes, past }
    }

    /// The section at `x` from the keel up: chords between points of the strakes' edges, in the plane; to a few hundredths
    /// of a mm between two rulings. Each plank is met square from the upper inner edge of the one below.
    #[must_use]
    pub fn section(&self, x: f64) -> Vec<Piece> {
        let mut pieces: Vec<Piece> = Vec::new();
        for s in self.strakes {
            let (Some((lower, a)), Some((upper, b))) = (edge(s, x, false, self.past), edge(s, x, true, self.past))
            else {
                continue;
            };
            let normal = unit_or(a + b, Vector::y());
            let mut from = lower;
            if let Some(below) = pieces.last().map(|p| p.upper) {
                let (u, v) = (upper[0] - lower[0], upper[1] - lower[1]);
                let share =
                    ((below[0] - lower[0]) * u + (below[1] - lower[1]) * v) / (u * u + v * v).max(f64::MIN_POSITIVE);
                from = [lower[0] + share * u, lower[1] + share * v];
                pieces.push(Piece { lower: below, upper: from, strake: s.strake, face: false, normal });
            }
            pieces.push(Piece { lower: from, upper, strake: s.strake, face: true, normal });
        }
        pieces
    }

    /// The innermost place at the height `z`; the sheer strake's face is carried on a little over its top.
    #[must_use]
    pub fn at(&self, x: f64, z: f64) -> Option<On> {
        let pieces = self.section(x);
        let on = |p: &Piece| {
            let rise = p.upper[1] - p.lower[1];
            let share = (z - p.lower[1]) / rise;
            On { at: Point::new(x, p.lower[0] + share * (p.upper[0] - p.lower[0]), z), normal: p.normal }
        };
        let crossing = |p: &&Piece| p.face && p.lower[1] <= z && z <= p.upper[1] && p.upper[1] > p.lower[1];
        let within = pieces.iter().filter(crossing).map(on).min_by(|a, b| a.at.y.total_cmp(&b.at.y));
        let step = || {
            // Where the step falls, no face is at that height.
            let across = |p: &&Piece| !p.face && (p.lower[1] <= z) != (p.upper[1] <= z);
            pieces.iter().find(across).map(on)
        };
        let top =
            || pieces.last().filter(|p| z > p.upper[1] && z < p.upper[1] + PAST && p.upper[1] > p.lower[1]).map(on);
        within.or_else(step).or_else(top)
    }
}

/// Where a strake's edge crosses the plane at `x`, `[y, z]`, and the plank's normal there; straight on past its ends, no further
/// than `past`.
fn edge(s: &Strake, x: f64, upper: bool, past: [f64; 2]) -> Option<([f64; 2], Vector)> {
    let point = |i: usize| {
        let r = &s.rulings[i];
        if upper { (r.upper, r.normal) } else { (r.lower, r.lower_normal) }
    };
    let last = s.rulings.len().checked_sub(1).filter(|last| *last > 0)?;
    let (fore, aft) = (point(0).0.x - x, x - point(last).0.x);
    let i = if fore > 0.0 {
        (fore <= past[0]).then_some(1)?
    } else if aft > 0.0 {
        (aft <= past[1]).then_some(last)?
    } else {
        let to = |r: &Ruling| if upper { r.upper.x } else { r.lower.x };
        s.rulings.partition_point(|r| to(r) < x).clamp(1, last)
    };
    let ((a, n), (b, m)) = (point(i - 1), point(i));
    let run = b.x - a.x;
    if run <= 0.0 {
        return None;
    }
    let share = (x - a.x) / run;
    let at = a + (b - a) * share;
    Some(([at.y, at.z], n + (m - n) * share.clamp(0.0, 1.0)))
}

/// A line of a surface by its place along the boat.
#[derive(Debug, Clone)]
pub struct Sheer(Line);

impl Sheer {
    /// The upper inner edge of the sheer strake.
    #[must_use]
    pub fn of(land: &LandCurve) -> Self {
        Sheer(Line::of(land.curve.clone(), &land.parameters(PIECES)))
    }

    /// Where it stands at `x`; `None` past its ends.
    #[must_use]
    pub fn at(&self, x: f64) -> Option<Point> {
        self.0.crossing(x, [0.0; 2]).map(|(p, _)| p)
    }

    /// How much it rises for each mm aft.
    #[must_use]
    pub fn slope(&self, x: f64) -> Option<f64> {
        self.0.crossing(x, [0.0; 2]).filter(|(_, aft)| aft.x > 0.0).map(|(_, aft)| aft.z / aft.x)
    }

    /// Its ends, mm aft of the first station.
    #[must_use]
    pub fn ends(&self) -> [f64; 2] {
        let ends = [self.0.known.first(), self.0.known.last()];
        ends.map(|k| k.map_or(0.0, |k| k[1]))
    }
}
