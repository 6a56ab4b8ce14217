//! Laying the strakes, keel to sheer.

use super::land::{self, Gains};
use super::{Ruling, Strake, StrakeAt};
use crate::geom::{Point, Vector, monotone, unit_or};
use crate::lines::{SectionAt, Skin, aft_of_plane};
use crate::lining::{LandCurve, Lands};
use crate::offsets::Table;
use crate::spec::Spec;
use crate::units::Notation;

/// Rulings between two sections. A plank 4 m long gets one every 25 mm or so.
pub const RULINGS_PER_SPAN: usize = 16;

/// Sine between a ruling and the lower edge below which the two say nothing of the face.
const LEAST_CROSSING: f64 = 0.5;

/// Why a strake cannot be laid.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanksError {
    /// A strake has no width left beside its lap.
    TooNarrow {
        /// Strake.
        strake: usize,
        /// Section.
        section: String,
        /// Width square to the land, mm.
        width: f64,
        /// Lap, mm.
        lap: f64,
        /// Least, mm.
        least: f64,
    },
    /// The next strake would turn so far that nothing is left of the edge to bevel.
    NoEdge {
        /// Strake.
        strake: usize,
        /// Section.
        section: String,
        /// Turn, degrees.
        degrees: f64,
        /// Lap, mm.
        lap: f64,
        /// Wood the bevel takes, mm.
        off: f64,
        /// Thickness, mm.
        thickness: f64,
    },
}

impl PlanksError {
    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            PlanksError::TooNarrow { strake, section, width, lap, least } => {
                let [width, least] = lengths.said_apart(*width, *least);
                let lap = lengths.said_fine(*lap);
                format!(
                    "strake {strake} at {section}: its width on the tape would be {width}, with a land of {lap} on it; \
                     {least} is the least that can be hung: fewer strakes (planking.strakes), a narrower lap \
                     (planking.lap), or its marks further apart (marks.csv)"
                )
            }
            // No bevel past 1.2 radians is laid.
            PlanksError::NoEdge { strake, section, degrees, off, thickness, .. } if off < thickness => format!(
                "strake {strake} at {section}: the next strake turns {degrees:.0}° on it, and 69° either way is the most \
                 that a land is bevelled: move its marks (marks.csv), or try another number of strakes \
                 (planking.strakes)"
            ),
            PlanksError::NoEdge { strake, section, degrees, lap, off, thickness } => {
                let [off, thickness] = lengths.said_apart(*off, *thickness);
                let lap = lengths.said_fine(*lap);
                format!(
                    "strake {strake} at {section}: the next strake turns {degrees:.0}° on it, and a land {lap} wide would \
                     take {off} off an edge {thickness} thick; more strakes (planking.strakes) or a narrower lap \
                     (planking.lap) turn less"
                )
            }
        }
    }

    /// The strake, and the section in the builder's words.
    #[must_use]
    pub fn place(&self) -> (usize, &str) {
        match self {
            PlanksError::TooNarrow { strake, section, .. } | PlanksError::NoEdge { strake, section, .. } => {
                (*strake, section)
            }
        }
    }
}

impl std::error::Error for PlanksError {}

impl std::fmt::Display for PlanksError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}

/// Lays every strake from its lands.
///
/// # Errors
/// [`PlanksError`] names the strake and the section where it cannot be hung.
pub fn lay(lands: &Lands, skin: &Skin, table: &Table, spec: &Spec) -> Result<Vec<Strake>, PlanksError> {
    let lines: Vec<Line> = lands.curves.iter().map(Line::along).collect();
    let planes = Planes { skin, table, spec };
    let n = lands.strakes();
    let mut strakes: Vec<Strake> = Vec::with_capacity(n);
    for k in 1..=n {
        let edge = match strakes.last() {
            None => {
                Edge { points: lines[0].points.clone(), raw: (0..lines[0].points.len()).map(|i| i as f64).collect() }
            }
            Some(below) => {
                let gains = gains(&lines[k - 1], spec);
                let raw: Vec<Point> = below
                    .rulings
                    .iter()
                    .zip(&lines[k].points)
                    .map(|(on, upper)| land::next_lower(on, upper, spec.planking.lap, &gains))
                    .collect();
                planes.align(&raw)
            }
        };
        let gains =
            if k == n { Gains { fore: None, aft: None, ..gains(&lines[k], spec) } } else { gains(&lines[k], spec) };
        let (rulings, ups) = rulings(&edge.points, &lines[k], &gains, k == 1);
        if let Some(below) = strakes.last_mut() {
            for (i, on) in below.rulings.iter_mut().enumerate() {
                on.bevel = Some(land::bevel(on, &edge.up_at(&ups, i as f64)));
            }
        }
        strakes.push(Strake { strake: k, thickness: spec.planking.thickness, rulings, at: Vec::new() });
    }
    for strake in &mut strakes {
        strake.at = numbers(strake, skin, spec)?;
    }
    Ok(strakes)
}

/// A land line sampled for rulings.
struct Line {
    points: Vec<Point>,
    tangents: Vec<Vector>,
    along: Vec<f64>,
}

impl Line {
    fn along(land: &LandCurve) -> Self {
        let (curve, t) = (&land.curve, land.parameters(RULINGS_PER_SPAN));
        let points: Vec<Point> = t.iter().map(|&t| Point::from(curve.at(t))).collect();
        let tangents = t.iter().map(|&t| unit_or(Vector::from(curve.d1(t)), Vector::x())).collect();
        let mut along = vec![0.0];
        for w in points.windows(2) {
            along.push(along[along.len() - 1] + (w[1] - w[0]).norm());
        }
        Line { points, tangents, along }
    }
}

/// A lower inner edge of which point i stands where the edge as laid has `raw[i]`.
struct Edge {
    points: Vec<Point>,
    raw: Vec<f64>,
}

impl Edge {
    /// Up the face whose rulings rise from this edge, where the edge as laid has the place `at`.
    fn up_at(&self, ups: &[Vector], at: f64) -> Vector {
        let i = self.raw.partition_point(|&r| r <= at).clamp(1, self.raw.len() - 1);
        let part = (at - self.raw[i - 1]) / (self.raw[i] - self.raw[i - 1]).max(f64::MIN_POSITIVE);
        let (a, b) = (ups[i - 1], ups[i]);
        unit_or(a + (b - a) * part.clamp(0.0, 1.0), a)
    }
}

/// The gains of the land along `line`.
fn gains(line: &Line, spec: &Spec) -> Gains {
    let p = &spec.planking;
    Gains {
        thickness: p.thickness,
        fore: p.gain_at(&spec.fore),
        aft: p.gain_at(&spec.aft),
        whole: line.along[line.along.len() - 1],
    }
}

/// The rulings between two edges, and the way up the face at each one's lower end.
///
/// Normals are those of the face square to the edge: a ruling in a station's plane that crosses a land askew is a chord
/// of the face, not a line in it. On a tub with lands round it, 1.5 m in radius, that made bevels 0.1° wrong. The garboard
/// keeps its rulings: at its hood, hood end and lower edge are one curve.
fn rulings(lower: &[Point], upper: &Line, gains: &Gains, garboard: bool) -> (Vec<Ruling>, Vec<Vector>) {
    let last = lower.len() - 1;
    let mut crossing = Vec::with_capacity(lower.len());
    let mut ups = Vec::with_capacity(lower.len());
    let mut rulings: Vec<Ruling> = (0..lower.len())
        .map(|i| {
            let up = unit_or(upper.points[i] - lower[i], Vector::z());
            let edge = unit_or(lower[(i + 1).min(last)] - lower[i.saturating_sub(1)], upper.tangents[i]);
            crossing.push(up.cross(&edge).norm());
            let (mut at_upper, mut at_lower) = (up, up);
            if !garboard {
                at_upper = -square(&upper.points[i], &upper.tangents[i], lower, i, &-up);
                at_lower = square(&lower[i], &edge, &upper.points, i, &up);
            }
            ups.push(at_lower);
            Ruling {
                lower: lower[i],
                upper: upper.points[i],
                normal: land::face_normal(&at_upper, &upper.tangents[i]),
                tangent: upper.tangents[i],
                lower_normal: land::face_normal(&at_lower, &edge),
                along: upper.along[i],
                step: gains.step(upper.along[i]),
                bevel: None,
            }
        })
        .collect();
    mend_lower_normals(&mut rulings, &crossing);
    (rulings, ups)
}

/// From `point` number `i` of one edge across the face to where the `other` edge stands square to its `tangent`. Where the
/// ruling `along` is far from square, as at a hood, the ruling itself.
fn square(point: &Point, tangent: &Vector, other: &[Point], i: usize, along: &Vector) -> Vector {
    let followed = land::followed(along.cross(tangent).norm());
    let last = other.len() - 1;
    let off = |at: f64| (along_polyline(other, at) - point).dot(tangent);
    let mut at = i as f64;
    for _ in 0..SQUARE_ROUNDS {
        let slope = (off(at + 0.5) - off(at - 0.5)).abs().max(1e-6);
        at = (at - off(at) / slope).clamp(-BEYOND, last as f64 + BEYOND);
    }
    let foot = unit_or(along_polyline(other, at) - point, *along);
    unit_or(along + (foot - along) * followed, *along)
}

/// Width of a strake square to the land at one of its rulings, mm.
fn width(strake: &Strake, i: usize) -> f64 {
    let r = &strake.rulings[i];
    let followed = if strake.strake == 1 { 0.0 } else { land::followed(r.squareness()) };
    let lower: Vec<Point> = strake.rulings.iter().map(|r| r.lower).collect();
    r.width() + (nearest(&lower, &r.upper, i) - r.width()) * followed
}

/// Distance from `point` to the curve through `edge`, near its point number `i`, mm.
fn nearest(edge: &[Point], point: &Point, i: usize) -> f64 {
    let last = edge.len() as f64 - 1.0;
    let away = |at: f64| (along_polyline(edge, at) - point).norm();
    let (mut low, mut high) = (i as f64 - 3.0 * BEYOND, i as f64 + 3.0 * BEYOND);
    (low, high) = (low.max(-BEYOND), high.min(last + BEYOND));
    for _ in 0..60 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if away(a) < away(b) { high = b } else { low = a }
    }
    away(0.5 * (low + high))
}

/// Steps to the foot, and how far beyond an edge's end it is looked for, in rulings.
const SQUARE_ROUNDS: usize = 5;
const BEYOND: f64 = 8.0;

/// At the garboard's hood, hood end and lower edge are one curve and have no normal between them: the rulings there
/// take the lower normal of the nearest ruling that crosses its edge well enough.
fn mend_lower_normals(rulings: &mut [Ruling], crossing: &[f64]) {
    let sound: Vec<usize> = (0..rulings.len()).filter(|&i| crossing[i] >= LEAST_CROSSING).collect();
    for i in 0..rulings.len() {
        if crossing[i] >= LEAST_CROSSING {
            continue;
        }
        let normal =
            sound.iter().min_by_key(|s| s.abs_diff(i)).map_or(rulings[i].normal, |&s| rulings[s].lower_normal);
        rulings[i].lower_normal = normal;
    }
}

/// The planes and posts at which rulings must lie.
struct Planes<'a> {
    skin: &'a Skin,
    table: &'a Table,
    spec: &'a Spec,
}

impl Planes<'_> {
    /// The edge through `raw` with its points slid along it so that those at the sections lie in the sections' planes, or on
    /// the rabbet of a post; those between slide in proportion.
    fn align(&self, raw: &[Point]) -> Edge {
        let sections = self.skin.sections.len();
        let slides: Vec<f64> = (0..sections).map(|j| self.slide(raw, j)).collect();
        let slides = monotone::steady(&slides, RULINGS_PER_SPAN);
        let places: Vec<f64> = slides.iter().enumerate().map(|(i, slide)| i as f64 + slide).collect();
        Edge { points: places.iter().map(|&at| along_polyline(raw, at)).collect(), raw: places }
    }

    /// How many rulings to slide at section `j`.
    fn slide(&self, raw: &[Point], j: usize) -> f64 {
        let at = (j * RULINGS_PER_SPAN) as f64;
        let off = |a: f64| self.aft_of(j, &along_polyline(raw, a));
        let mut slide = 0.0;
        for _ in 0..12 {
            let (here, ahead) = (off(at + slide), off(at + slide + 0.05));
            let slope = (ahead - here) / 0.05;
            if here.abs() < 1e-9 || slope.abs() < 1e-6 {
                break;
            }
            // Never past the neighbouring rulings by more than a few: a curve that far off has other troubles.
            slide = (slide - here / slope).clamp(-4.0, 4.0);
        }
        slide
    }

    /// Distance aft of section `j`, along x.
    fn aft_of(&self, j: usize, p: &Point) -> f64 {
        let section = &self.skin.sections[j];
        match section.at {
            SectionAt::Post => p.x - x_at_height(&section.points, p.z),
            at => aft_of_plane(at, self.table, self.spec, p).unwrap_or(0.0),
        }
    }
}

/// x of the post's rabbet at height `z`, run straight on past its ends.
fn x_at_height(points: &[Point], z: f64) -> f64 {
    let i = points[1..points.len() - 1].partition_point(|p| p.z <= z);
    let (a, b) = (points[i], points[i + 1]);
    if (b.z - a.z).abs() < 1e-9 { a.x } else { a.x + (b.x - a.x) * (z - a.z) / (b.z - a.z) }
}

/// Point at the fractional index `a` of a smooth polyline, by the cubic through the four nearest points; a little
/// past the ends too.
fn along_polyline(points: &[Point], a: f64) -> Point {
    let n = points.len();
    if n < 4 {
        return points[(a.round().max(0.0) as usize).min(n - 1)];
    }
    let first = (a.floor() as isize - 1).clamp(0, n as isize - 4) as usize;
    let x = a - first as f64;
    let weights = [
        -(x - 1.0) * (x - 2.0) * (x - 3.0) / 6.0,
        x * (x - 2.0) * (x - 3.0) / 2.0,
        -x * (x - 1.0) * (x - 3.0) / 2.0,
        x * (x - 1.0) * (x - 2.0) / 6.0,
    ];
    Point::from(points[first..first + 4].iter().zip(weights).fold(Vector::zeros(), |sum, (p, w)| sum + p.coords * w))
}

/// The numbers at each section, refused where the strake cannot be hung.
fn numbers(strake: &Strake, skin: &Skin, spec: &Spec) -> Result<Vec<StrakeAt>, PlanksError> {
    let (t, lap) = (strake.thickness, spec.planking.lap);
    let mut at = Vec::with_capacity(skin.sections.len());
    for section in 0..skin.sections.len() {
        let ruling = section * RULINGS_PER_SPAN;
        let r = &strake.rulings[ruling];
        let width = width(strake, ruling);
        let (name, has_land) = (skin.place(section), r.bevel.is_some());
        // Its own lower land and the one on its upper edge may meet at an end, but not cross; the garboard has no
        // lower land, and its hood runs out to nothing along the rabbet.
        let least = if strake.strake == 1 { 0.0 } else { lap };
        if width.is_nan() || width <= least {
            return Err(PlanksError::TooNarrow { strake: strake.strake, section: name, width, lap, least });
        }
        if let Some(bevel) = r.bevel {
            let off = lap * bevel.tan().max(0.0);
            if bevel.is_nan() || bevel.abs() > 1.2 || off >= t {
                return Err(PlanksError::NoEdge {
                    strake: strake.strake,
                    section: name,
                    degrees: bevel.to_degrees(),
                    lap,
                    off,
                    thickness: t,
                });
            }
        }
        at.push(StrakeAt {
            section,
            ruling,
            width,
            // At the garboard's hood the next strake's land may cover it to the rabbet.
            shows: if has_land { (width - lap).max(0.0) } else { width },
            lap: has_land.then_some(lap),
            bevel: r.bevel,
            edge_left: r.bevel.map(|b| land::edge_left(t, r.step, lap, b)),
            gain: has_land.then_some((t - r.step) / 2.0),
        });
    }
    Ok(at)
}
