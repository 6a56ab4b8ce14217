//! Laying the strakes, keel to sheer.

use super::edge::{along_polyline, foot, nearest, tangent};
use super::land::{self, Gains};
use super::problem::MOST_BEVEL;
use super::{PlanksError, Ruling, Strake, StrakeAt};
use crate::geom::{self, Point, Vector, monotone, unit_or};
use crate::lines::{SectionAt, Skin, aft_of_plane};
use crate::lining::{LandCurve, Lands};
use crate::offsets::Table;
use crate::spec::Spec;

/// Rulings between two sections. A plank 4 m long gets one every 25 mm or so.
pub const RULINGS_PER_SPAN: usize = 16;

/// Sine between a ruling and the lower edge below which the two say nothing of the face.
const LEAST_CROSSING: f64 = 0.5;

/// Lays every strake from its lands.
///
/// # Errors
/// [`PlanksError`] names the strake and the section where it cannot be hung.
pub fn lay(lands: &Lands, skin: &Skin, table: &Table, spec: &Spec) -> Result<Vec<Strake>, PlanksError> {
    let lines: Vec<Line> = lands.curves.iter().map(Line::along).collect();
    let planes = Sections { skin, table, spec };
    let n = lands.strakes();
    let mut strakes: Vec<Strake> = Vec::with_capacity(n);
    for k in 1..=n {
        let own =
            if k == n { Gains { fore: None, aft: None, ..gains(&lines[k], spec) } } else { gains(&lines[k], spec) };
        let hung = match strakes.last_mut() {
            None => garboard(&lines[0].points, &lines[1], &own),
            Some(below) => {
                let land = Land { lap: spec.planking.lap, gains: gains(&lines[k - 1], spec) };
                hang(below, &lines[k], &land, &own, &planes)
            }
        };
        strakes.push(hung);
    }
    let named = |section: usize| skin.place(section);
    for strake in &mut strakes {
        strake.at = numbers(strake, planes.count(), &named, spec.planking.lap)?;
    }
    Ok(strakes)
}

/// The land that a strake is hung on.
pub(crate) struct Land {
    /// Its width, mm.
    pub lap: f64,
    /// Where its step runs out.
    pub gains: Gains,
}

/// The garboard from the `rabbet` up to its land line; it has no bevels yet.
pub(crate) fn garboard(rabbet: &[Point], upper: &Line, own: &Gains) -> Strake {
    let (rulings, _) = rulings(rabbet, upper, own, true);
    Strake { strake: 1, thickness: own.thickness, rulings, at: Vec::new() }
}

/// The strake from its `land` on the one `below` up to its own land line, whose gains are `own`. The one below gets its bevels,
/// the new one has none yet.
pub(crate) fn hang(below: &mut Strake, upper: &Line, land: &Land, own: &Gains, planes: &dyn Planes) -> Strake {
    let edge = lower_edge(below, upper, land, planes);
    hang_from(below, &edge, upper, own)
}

/// The lower inner edge of a strake on the one `below`, up to its own land line.
pub(crate) fn lower_edge(below: &Strake, upper: &Line, land: &Land, planes: &dyn Planes) -> Edge {
    let raw: Vec<Point> = below
        .rulings
        .iter()
        .zip(&upper.points)
        .map(|(on, upper)| land::next_lower(on, upper, land.lap, &land.gains))
        .collect();
    align(planes, &raw)
}

/// As [`hang`], from an edge that is known.
pub(crate) fn hang_from(below: &mut Strake, edge: &Edge, upper: &Line, own: &Gains) -> Strake {
    let (rulings, ups) = rulings(&edge.points, upper, own, false);
    for (i, on) in below.rulings.iter_mut().enumerate() {
        on.bevel = Some(land::bevel(on, &edge.up_at(&ups, i as f64)));
    }
    Strake { strake: below.strake + 1, thickness: own.thickness, rulings, at: Vec::new() }
}

/// A land line sampled for rulings.
pub(crate) struct Line {
    pub points: Vec<Point>,
    pub tangents: Vec<Vector>,
    /// From its fore end, mm.
    pub along: Vec<f64>,
}

impl Line {
    fn along(land: &LandCurve) -> Self {
        let (curve, t) = (&land.curve, land.parameters(RULINGS_PER_SPAN));
        let points: Vec<Point> = t.iter().map(|&t| Point::from(curve.at(t))).collect();
        let tangents = t.iter().map(|&t| unit_or(Vector::from(curve.d1(t)), Vector::x())).collect();
        let along = geom::along(&points);
        Line { points, tangents, along }
    }

    /// Through points that stand close on a smooth line.
    pub fn through(points: Vec<Point>) -> Self {
        let tangents = (0..points.len()).map(|i| tangent(&points, i as f64)).collect();
        let along = geom::along(&points);
        Line { points, tangents, along }
    }
}

/// An inner edge of which point i stands where the edge as laid has `raw[i]`.
pub(crate) struct Edge {
    pub points: Vec<Point>,
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
    let foot = unit_or(foot(point, tangent, other, i) - point, *along);
    unit_or(along + (foot - along) * followed, *along)
}

impl Strake {
    /// What the tape reads across the strake at ruling `i`, square to the land, mm: where its edges run together, to the nearest place of
    /// the lower one.
    #[must_use]
    pub fn width_at(&self, i: usize) -> f64 {
        let r = &self.rulings[i];
        let followed = if self.strake == 1 { 0.0 } else { land::followed(r.squareness()) };
        let lower: Vec<Point> = self.rulings.iter().map(|r| r.lower).collect();
        r.width() + (nearest(&lower, &r.upper, i) - r.width()) * followed
    }
}

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
pub(crate) trait Planes {
    /// How many there are.
    fn count(&self) -> usize;
    /// Distance of a point aft of number `j`, along x, mm.
    fn aft_of(&self, j: usize, p: &Point) -> f64;
}

/// Those of the skin's sections.
struct Sections<'a> {
    skin: &'a Skin,
    table: &'a Table,
    spec: &'a Spec,
}

impl Planes for Sections<'_> {
    fn count(&self) -> usize {
        self.skin.sections.len()
    }

    fn aft_of(&self, j: usize, p: &Point) -> f64 {
        let section = &self.skin.sections[j];
        match section.at {
            SectionAt::Post => p.x - x_at_height(&section.points, p.z),
            at => aft_of_plane(at, self.table, self.spec, p).unwrap_or(0.0),
        }
    }
}

/// The edge through `raw` with its points slid along it so that those at the sections lie in the sections' planes, or on
/// the rabbet of a post; those between slide in proportion.
pub(crate) fn align(planes: &dyn Planes, raw: &[Point]) -> Edge {
    let slides: Vec<f64> = (0..planes.count()).map(|j| slide(planes, raw, j)).collect();
    let slides = monotone::steady(&slides, RULINGS_PER_SPAN);
    let places: Vec<f64> = slides.iter().enumerate().map(|(i, slide)| i as f64 + slide).collect();
    Edge { points: places.iter().map(|&at| along_polyline(raw, at)).collect(), raw: places }
}

/// How many rulings to slide at section `j`.
fn slide(planes: &dyn Planes, raw: &[Point], j: usize) -> f64 {
    let at = (j * RULINGS_PER_SPAN) as f64;
    let off = |a: f64| planes.aft_of(j, &along_polyline(raw, a));
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

/// x of the post's rabbet at height `z`, run straight on past its ends.
fn x_at_height(points: &[Point], z: f64) -> f64 {
    let i = points[1..points.len() - 1].partition_point(|p| p.z <= z);
    let (a, b) = (points[i], points[i + 1]);
    if (b.z - a.z).abs() < 1e-9 { a.x } else { a.x + (b.x - a.x) * (z - a.z) / (b.z - a.z) }
}

/// The numbers at each of `count` sections with their names, refused where the strake cannot be hung.
pub(crate) fn numbers(
    strake: &Strake,
    count: usize,
    named: &dyn Fn(usize) -> String,
    lap: f64,
) -> Result<Vec<StrakeAt>, PlanksError> {
    let t = strake.thickness;
    let mut at = Vec::with_capacity(count);
    for section in 0..count {
        let ruling = section * RULINGS_PER_SPAN;
        let r = &strake.rulings[ruling];
        let width = strake.width_at(ruling);
        let (name, has_land) = (named(section), r.bevel.is_some());
        // Its own lower land and the one on its upper edge may meet at an end, but not cross; the garboard has no
        // lower land, and its hood runs out to nothing along the rabbet.
        let least = if strake.strake == 1 { 0.0 } else { lap };
        if width.is_nan() || width <= least {
            return Err(PlanksError::TooNarrow { strake: strake.strake, section: name, width, lap, least });
        }
        if let Some(bevel) = r.bevel {
            let off = lap * bevel.tan().max(0.0);
            if bevel.is_nan() || bevel.abs() > MOST_BEVEL || off >= t {
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
