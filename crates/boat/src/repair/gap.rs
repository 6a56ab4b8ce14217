//! How the new plank lies between its neighbours.
//!
//! In the plane square to a land, of the plank below as it stands, C is the upper outer corner (half the gain's depth inboard
//! of it inside a gain, where the new plank is rebated too), F a spot on its face; of the plank above, A is the lower inner
//! corner, its face runs up from there. The new plank's inner face goes through C. Where the plank above turns inboard on it, A
//! lies on its outer face, a step q outboard of the inner one:
//!
//! ```text
//! the face runs from C at asin(q / |A − C|) inboard of the line from C to A
//! T = A + lap r,    U = T − q n                 top of its outer face, and its land line
//! ```
//!
//! and where the plank above turns outboard (a hollow), that lies on T instead, lap / cos β up its own inner face from A.
//! The bevel of the lower land is the angle β from the plank below to the new one at which the bevelled corner lies as far
//! inside the face through F as such a bevel takes off: (F − C)·N = (t − q)/2 + lap tan β, the last 0 in a hollow.

use super::{Above, Below, Job, RepairError, problem};
use crate::geom::{self, Point, Vector, angle_about, unit_or};
use crate::planks::edge::{foot, tangent};
use crate::planks::land::{Gains, face_normal};
use crate::planks::lay::RULINGS_PER_SPAN;
use crate::planks::{Ruling, Strake};

/// The spots of the neighbours, sampled along the gap as rulings are.
pub struct Sampled {
    pub face_below: Vec<Point>,
    pub edge_below: Vec<Point>,
    pub edge_above: Vec<Point>,
    pub face_above: Vec<Point>,
}

/// The new plank's neighbours and its land line.
pub struct Lie {
    /// The plank below with its rulings but no bevels; `None` in a rabbet.
    pub below: Option<Strake>,
    /// The new plank's upper inner edge.
    pub upper: Vec<Point>,
    /// Up the face of the plank above, at each of them; empty at the sheer.
    pub up_above: Vec<Vector>,
}

/// Rounds of finding the steps of the gains by where the lands turn out to be; the second changes hundredths of a mm.
const ROUNDS: usize = 3;
/// Rounds of turning on the corner in a hollow.
const TURNS: usize = 12;
/// The step must be less than this share of the distance between the edges.
const MOST_STEP: f64 = 0.9;

/// The plank above: its face and its lower inner corner.
struct Over {
    corner: Vec<Point>,
    up: Vec<Vector>,
}

/// Finds it.
pub fn lie(job: &Job, spots: &Sampled) -> Result<Lie, RepairError> {
    let over = (job.above == Above::Plank).then(|| over(job, spots));
    let n = spots.edge_below.len();
    let t = job.spec.planking.thickness;
    let mut on_below: Vec<Hung> = Vec::new();
    let mut inner = spots.edge_below.clone();
    let mut upper = over.as_ref().map_or_else(|| spots.edge_above.clone(), |o| o.corner.clone());
    for _ in 0..ROUNDS {
        let line: Vec<Point> = on_below.iter().map(|h| h.upper).collect();
        let lower_steps = steps(job, if line.is_empty() { &spots.edge_below } else { &line });
        let upper_steps = steps(job, &upper);
        if job.below == Below::Plank {
            on_below = (0..n)
                .map(|i| {
                    let own = [lower_steps[i], upper_steps[i]];
                    hung(job, spots, over.as_ref(), &upper, &inner[i], i, own)
                })
                .collect::<Result<_, _>>()?;
            inner = on_below.iter().map(|h| h.inner).collect();
        }
        if let Some(over) = &over {
            let one = |i: usize| {
                let corner = over.corner[i];
                let along = tangent(&over.corner, i as f64);
                let from = foot(&corner, &along, &inner, i);
                let lean = across(job, &from, &corner, Some(&over.up[i]), &along, upper_steps[i])
                    .ok_or_else(|| no_room(job, i, (corner - from).norm()))?;
                Ok(lean.top - lean.normal * upper_steps[i])
            };
            upper = (0..n).map(one).collect::<Result<_, _>>()?;
        }
    }
    let below = (job.below == Below::Plank).then(|| Strake {
        strake: 1,
        thickness: t,
        rulings: rulings(job, &on_below, &upper),
        at: Vec::new(),
    });
    Ok(Lie { below, upper, up_above: over.map_or_else(Vec::new, |o| o.up) })
}

fn over(job: &Job, spots: &Sampled) -> Over {
    let one = |i: usize| {
        let corner = spots.edge_above[i];
        let along = tangent(&spots.edge_above, i as f64);
        let up = unit_or(foot(&corner, &along, &spots.face_above, i) - corner, Vector::z());
        (corner - face_normal(&up, &along) * job.thickness_above, up)
    };
    let (corner, up) = (0..spots.edge_above.len()).map(one).unzip();
    Over { corner, up }
}

/// Steps between the inner faces along a land line.
pub fn steps(job: &Job, line: &[Point]) -> Vec<f64> {
    let along = geom::along(line);
    let gains = gains(job, along.last().copied().unwrap_or_default());
    along.iter().map(|&a| gains.step(a)).collect()
}

/// The gains of a land `whole` long.
pub fn gains(job: &Job, whole: f64) -> Gains {
    let [fore, aft] = job.gains.map(|gain| (gain > 0.0).then_some(gain));
    Gains { thickness: job.spec.planking.thickness, fore, aft, whole }
}

/// Of the land on the plank below, at one ruling.
struct Hung {
    /// Where the new plank's inner face crosses the bevelled corner.
    inner: Point,
    /// The upper inner edge of the plank below.
    upper: Point,
    normal: Vector,
    tangent: Vector,
    /// How far down the face was measured.
    down: f64,
}

fn hung(
    job: &Job,
    spots: &Sampled,
    over: Option<&Over>,
    upper: &[Point],
    inner: &Point,
    i: usize,
    [step, upper_step]: [f64; 2],
) -> Result<Hung, RepairError> {
    let corner = spots.edge_below[i];
    let along = tangent(&spots.edge_below, i as f64);
    let lean = match over {
        Some(over) => {
            let to = foot(inner, &along, &over.corner, i);
            across(job, inner, &to, Some(&over.up[i]), &along, upper_step)
                .ok_or_else(|| no_room(job, i, (to - inner).norm()))?
        }
        None => across(job, inner, &foot(inner, &along, upper, i), None, &along, 0.0)
            .ok_or_else(|| no_room(job, i, 0.0))?,
    };
    let face = foot(&corner, &along, &spots.face_below, i) - corner;
    let t = job.spec.planking.thickness;
    let Some((bevel, normal)) = bevelled(job, &lean, &face, step) else {
        let (line, place) = RepairError::at(&job.places[nearest_place(job, i)]);
        return Err(RepairError::TooSteep { line, place });
    };
    let inner = corner - normal * (0.5 * (t - step));
    let upper = inner - normal * (step - job.spec.planking.lap * bevel.tan().max(0.0));
    Ok(Hung { inner, upper, normal, tangent: along, down: face.norm() })
}

/// The bevel of the lower land, radians, and the normal of the plank below, on whose face a spot stands off its bevelled corner
/// by `face`; `None` where none within reach does it.
fn bevelled(job: &Job, lean: &Lean, face: &Vector, step: f64) -> Option<(f64, Vector)> {
    let (t, lap) = (job.spec.planking.thickness, job.spec.planking.lap);
    let normal = |bevel: f64| lean.normal * bevel.cos() - lean.up * bevel.sin();
    let off = |bevel: f64| face.dot(&normal(bevel)) - 0.5 * (t - step) - lap * bevel.tan().max(0.0);
    let most = problem::MOST_BEVEL.to_radians();
    let (mut low, mut high) = (-most, most);
    if off(low) > 0.0 || off(high) < 0.0 {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if off(middle) < 0.0 { low = middle } else { high = middle }
    }
    let bevel = 0.5 * (low + high);
    Some((bevel, normal(bevel)))
}

/// Slope of the face of the plank below at one place as it would stand without its bevel, from the spots in the plane across the
/// line: radians off level, up her side; and how far that face stands off the bevelled corner, mm. `corner` is the lower inner
/// corner of the plank above with the way `above` up its face, or the sheer without one.
pub fn slope_below(
    job: &Job,
    [edge, face, corner]: [&Point; 3],
    above: Option<&Vector>,
    [step, upper_step]: [f64; 2],
) -> Option<[f64; 2]> {
    let along = Vector::x();
    let upper_step = if above.is_some() { upper_step } else { 0.0 };
    let lean = across(job, edge, corner, above, &along, upper_step)?;
    let (bevel, normal) = bevelled(job, &lean, &(face - edge), step)?;
    let off = 0.5 * (job.spec.planking.thickness - step) + job.spec.planking.lap * bevel.tan().max(0.0);
    let up = along.cross(&normal);
    Some([up.z.atan2(up.y), off])
}

/// Rounds of halving for a bevel.
const HALVINGS: usize = 60;

/// The place nearest to a ruling.
fn nearest_place(job: &Job, ruling: usize) -> usize {
    ((ruling + RULINGS_PER_SPAN / 2) / RULINGS_PER_SPAN).min(job.places.len() - 1)
}

fn no_room(job: &Job, ruling: usize, apart: f64) -> RepairError {
    let (line, place) = RepairError::at(&job.places[nearest_place(job, ruling)]);
    RepairError::NoRoom { line, place, apart, thickness: job.spec.planking.thickness }
}

/// How the new plank leans in the plane square to `along`.
struct Lean {
    up: Vector,
    normal: Vector,
    /// The top of its outer face.
    top: Point,
}

/// The plank whose inner face goes through `inner`, under the lower inner corner `corner` of a plank whose face runs up along
/// `above`; without one, up to `corner` itself. `None` where it does not go between them.
fn across(
    job: &Job,
    inner: &Point,
    corner: &Point,
    above: Option<&Vector>,
    along: &Vector,
    step: f64,
) -> Option<Lean> {
    let lap = job.spec.planking.lap;
    let under = |to: &Point| -> Option<[Vector; 2]> {
        let way = to - inner;
        let way = way - along * way.dot(along);
        let sin = step / way.norm();
        if !(sin.is_finite() && sin < MOST_STEP) {
            return None;
        }
        let cos = (1.0 - sin * sin).sqrt();
        let up = unit_or(way, Vector::z());
        let out = face_normal(&up, along);
        Some([up * cos - out * sin, out * cos + up * sin])
    };
    let [mut up, mut normal] = under(corner)?;
    let Some(above) = above else { return Some(Lean { up, normal, top: *corner }) };
    let above = unit_or(above - along * above.dot(along), *above);
    let over = face_normal(&above, along);
    let mut top = corner + up * lap;
    if angle_about(&normal, &over, along) < 0.0 {
        for _ in 0..TURNS {
            top = corner + above * (lap / angle_about(&normal, &over, along).cos());
            [up, normal] = under(&top)?;
        }
    }
    Some(Lean { up, normal, top })
}

/// The rulings of the plank below, down to where its face was measured; as far askew as the new plank's, so that its land is
/// measured along the same lines on a bevel and in a hollow.
fn rulings(job: &Job, hung: &[Hung], next: &[Point]) -> Vec<Ruling> {
    let line: Vec<Point> = hung.iter().map(|h| h.upper).collect();
    let along = geom::along(&line);
    let gains = gains(job, along.last().copied().unwrap_or_default());
    let one = |((h, along), next): ((&Hung, &f64), &Point)| {
        let (step, square) = (gains.step(*along), h.tangent.cross(&h.normal));
        let way = next - (h.upper + h.normal * step);
        let askew = way.dot(&h.tangent) / way.dot(&square).max(h.down * LEAST_ASKEW);
        Ruling {
            lower: h.upper - (square + h.tangent * askew) * h.down,
            upper: h.upper,
            normal: h.normal,
            tangent: h.tangent,
            lower_normal: h.normal,
            along: *along,
            step,
            bevel: None,
        }
    };
    hung.iter().zip(&along).zip(next).map(one).collect()
}

/// Of the new plank at least so much lies across the land, as a share of how far down the face below was measured.
const LEAST_ASKEW: f64 = 0.1;
