//! From readings to the plank.

use super::gap::{self, Lie, Sampled};
use super::read::{self, Read, at, index};
use super::{Above, Below, End, Job, LandOf, Mended, Place, RepairError, Spot};
use crate::development;
use crate::fastenings::{self, Rivet};
use crate::findings::{Finding, Measure, Stage};
use crate::geom::fair::FairCurve;
use crate::geom::{Point, Vector, angle_about, unit_or};
use crate::planks::Strake;
use crate::planks::bevels::bevels;
use crate::planks::edge::tangent;
use crate::planks::land::{Gains, face_normal};
use crate::planks::lay::{self, Land, Line, Planes, RULINGS_PER_SPAN};
use crate::planks::limits::HAIR;

/// Makes the plank.
///
/// # Errors
/// [`RepairError`] where the readings cannot be, or no plank goes between them.
pub fn mend(job: &Job) -> Result<Mended, RepairError> {
    read::check(job)?;
    let Read { places: faired, moved, again } = read::fair(job)?;
    let spots = sampled(job, &faired)?;
    let Lie { below, upper, up_above } = gap::lie(job, &spots)?;

    let planes = Ends::new(job, &faired, &spots);
    let upper = Line::through(fair_run(lay::align(&planes, &upper).points));
    let whole = |line: &Line| line.along.last().copied().unwrap_or_default();
    let flush = gap::gains(job, whole(&upper));
    let own = if job.above == Above::Sheer { Gains { fore: None, aft: None, ..flush } } else { flush };
    let mut below = below;
    let mut plank = match &mut below {
        Some(below) => {
            let whole = below.rulings.last().map_or(0.0, |r| r.along);
            let land = Land { lap: job.spec.planking.lap, gains: gap::gains(job, whole) };
            let mut edge = lay::lower_edge(below, &upper, &land, &planes);
            edge.points = fair_run(edge.points);
            lay::hang_from(below, &edge, &upper, &own)
        }
        None => lay::garboard(&spots.edge_below, &upper, &own),
    };
    for (r, up) in plank.rulings.iter_mut().zip(&up_above) {
        r.bevel = Some(angle_about(&r.normal, &face_normal(up, &r.tangent), &r.tangent));
    }
    let named = |j: usize| job.places.get(j).map_or_else(String::new, |p| p.name.clone());
    let count = job.places.len();
    let on_below = below.iter_mut().map(|below| (below, LandOf::Lower));
    for (strake, land) in on_below.chain([(&mut plank, LandOf::Upper)]) {
        strake.at = lay::numbers(strake, count, &named, job.spec.planking.lap)
            .map_err(|why| RepairError::Planks { land, why })?;
    }
    let flat = development::unroll(&plank).map_err(RepairError::Flatten)?;
    let flat = development::marked_out(flat, plank.thickness, &job.spec.bending);
    let rivets =
        [below.as_ref().map_or_else(Vec::new, |b| rivets(job, b, LandOf::Lower)), riveted_above(job, &plank)];
    let bevelled = |s: &Strake| {
        let timbers: Vec<Option<f64>> = job.spec.timbers.at.iter().map(|x| Some(*x)).collect();
        bevels(s, job.spec.planking.lap, &timbers, job.spec.planking.bevel_every)
    };
    let bevels = [below.as_ref().map_or_else(Vec::new, bevelled), bevelled(&plank)];
    let mut findings = thin_edges(job, below.iter().chain(std::iter::once(&plank)));
    findings.extend(heads(job, &rivets));
    findings.extend(hard_bends(job, &flat));
    Ok(Mended { below, plank, flat, bevels, rivets, moved, again, findings })
}

/// The fair lines at every ruling.
fn sampled(job: &Job, places: &[Place]) -> Result<Sampled, RepairError> {
    let line = |spot: Spot| -> Result<Vec<Point>, RepairError> {
        if places.iter().any(|p| p.spots[index(spot)].is_none()) {
            return Ok(Vec::new());
        }
        let points: Vec<[f64; 3]> = places.iter().map(|p| at(p, spot).into()).collect();
        // Places stand apart, so that no two knots touch.
        let curve = FairCurve::by_chords(&points)
            .map_err(|_| RepairError::TooFew { found: job.places.len(), least: read::LEAST_PLACES })?;
        let knots = curve.knots();
        let mut line: Vec<Point> = Vec::with_capacity(RULINGS_PER_SPAN * points.len());
        for w in knots.windows(2) {
            let share = |i: usize| i as f64 / RULINGS_PER_SPAN as f64;
            line.extend((0..RULINGS_PER_SPAN).map(|i| Point::from(curve.at(w[0] + share(i) * (w[1] - w[0])))));
        }
        line.extend(knots.last().map(|&k| Point::from(curve.at(k))));
        Ok(line)
    };
    Ok(Sampled {
        face_below: line(Spot::FaceBelow)?,
        edge_below: line(Spot::EdgeBelow)?,
        edge_above: line(Spot::EdgeAbove)?,
        face_above: line(Spot::FaceAbove)?,
    })
}

/// A run of points as fair as its every eighth: each is found by itself, and what they are off by, far less than a tape shows,
/// would grow where the run is carried on past its ends.
fn fair_run(points: Vec<Point>) -> Vec<Point> {
    let part = RULINGS_PER_SPAN / 2;
    let knots: Vec<f64> = (0..points.len()).step_by(part).map(|i| i as f64).collect();
    let through: Vec<[f64; 3]> = points.iter().step_by(part).map(|p| (*p).into()).collect();
    match FairCurve::through(&knots, &through) {
        Ok(curve) => (0..points.len()).map(|i| Point::from(curve.at(i as f64))).collect(),
        Err(_) => points,
    }
}

/// The planes of the places, through both edges and square across her: but at a hood or a joint square to the plank, as it is cut.
struct Ends<'a> {
    places: &'a [Place],
    /// Along the edges at the fore end and the after end, where it is cut so.
    along: [Option<Vector>; 2],
}

impl<'a> Ends<'a> {
    fn new(job: &Job, places: &'a [Place], spots: &Sampled) -> Self {
        let last = spots.edge_below.len().saturating_sub(1) as f64;
        let along = |end: End, at: f64| {
            let along = tangent(&spots.edge_below, at) + tangent(&spots.edge_above, at);
            (end != End::Transom).then_some(along)
        };
        Ends { places, along: [along(job.ends[0], 0.0), along(job.ends[1], last)] }
    }
}

impl Planes for Ends<'_> {
    fn count(&self) -> usize {
        self.places.len()
    }

    fn aft_of(&self, j: usize, p: &Point) -> f64 {
        let (low, high) = (at(&self.places[j], Spot::EdgeBelow), at(&self.places[j], Spot::EdgeAbove));
        let up = unit_or(high - low, Vector::z());
        let along = match j {
            0 => self.along[0],
            _ if j + 1 == self.places.len() => self.along[1],
            _ => None,
        };
        let aft = along.map_or_else(|| cross_plane(&up), |along| along - up * along.dot(&up));
        (p - low).dot(&unit_or(aft, Vector::x()))
    }
}

/// Normal of the plane through `up` that lies level square across her, aft; where both edges stand nearly at one height, of the
/// plane through `up` square out from her there.
fn cross_plane(up: &Vector) -> Vector {
    let level = Vector::new(up.z, 0.0, -up.x);
    let square = Vector::new(0.0, up.z, -up.y).cross(up);
    let normal = if up.z.abs() > LEAST_RISE { level } else { square };
    if normal.x < 0.0 { -normal } else { normal }
}

/// Of a unit up a plank at least so much is height where an end's rake is taken from its two edges.
const LEAST_RISE: f64 = 0.2;

fn riveted_above(job: &Job, plank: &Strake) -> Vec<Rivet> {
    if job.above == Above::Plank { rivets(job, plank, LandOf::Upper) } else { Vec::new() }
}

/// The rivets of a land: through old holes where there are any in it, else as new ones are set.
fn rivets(job: &Job, strake: &Strake, land: LandOf) -> Vec<Rivet> {
    if job.spec.glued() {
        return Vec::new();
    }
    let timbers = &job.spec.timbers.at;
    let holes: Vec<f64> = job.holes.iter().filter(|h| h.land == land).map(|h| h.along).collect();
    let mut rivets = if holes.is_empty() {
        fastenings::through(strake, timbers, &job.spec)
    } else {
        fastenings::through_old_holes(strake, &holes, timbers, &job.spec)
    };
    let whole = strake.rulings.last().map_or(0.0, |r| r.along);
    for r in &mut rivets {
        r.in_gain = r.along < job.gains[0] || r.along > whole - job.gains[1];
    }
    rivets
}

/// Which strake it is, in words.
fn whose(job: &Job, strake: &Strake) -> &'static str {
    if strake.strake == 1 && job.below == Below::Plank { "the plank below" } else { "the new plank" }
}

/// Edges bevelled until too little is left, the worst place of each.
fn thin_edges<'a>(job: &Job, strakes: impl Iterator<Item = &'a Strake>) -> Vec<Finding> {
    let p = &job.spec.planking;
    let worst = |s: &'a Strake| {
        let left =
            |a: &crate::planks::StrakeAt| Some((a.section, a.edge_left?, a.edge_floor(p.thickness, p.edge_floor)));
        let least = s.at.iter().filter_map(left).min_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)))?;
        (least.1 < least.2 - HAIR).then_some((s, least))
    };
    strakes
        .filter_map(worst)
        .map(|(s, (place, left, floor))| Finding {
            stage: Stage::Planks,
            place: format!("{}, place {}", whose(job, s), job.places[place].name),
            measured: Measure::Length(left),
            limit: Measure::Length(floor),
            hint: "so little wood is left at its upper outer edge after bevel and gain: try it against the readings of the faces \
                   there; a narrower lap (planking.lap) takes less off"
                .to_owned(),
        })
        .collect()
}

/// Heads too near the outer plank's edge, the worst of each land.
fn heads(job: &Job, rivets: &[Vec<Rivet>; 2]) -> Vec<Finding> {
    let least = job.spec.fastenings.head_diameter;
    let near = |(land, all): (&str, &Vec<Rivet>)| {
        let count = all.iter().filter(|r| r.head_edge < least).count();
        let worst = all.iter().min_by(|a, b| a.head_edge.total_cmp(&b.head_edge)).filter(|_| count > 0)?;
        Some(Finding {
            stage: Stage::Fastenings,
            place: format!("{land}, rivet {}", worst.n),
            measured: Measure::Length(worst.head_edge),
            limit: Measure::Length(least),
            hint: format!(
                "from the head's middle to the outer plank's edge, and its own radius should be left outside it; so with {count} \
                 of them: set them higher in the land, or take a smaller nail (fastenings.gauge)"
            ),
        })
    };
    ["lower land", "upper land"].into_iter().zip(rivets).filter_map(near).collect()
}

/// A plank that does not go on cold.
fn hard_bends(job: &Job, flat: &development::FlatPlank) -> Vec<Finding> {
    let name = |ruling: usize, up: bool| {
        let j = if up { ruling.div_ceil(RULINGS_PER_SPAN) } else { ruling / RULINGS_PER_SPAN };
        job.places.get(j).or(job.places.last()).map_or_else(String::new, |p| p.name.clone())
    };
    let one = |[from, to]: &[usize; 2]| {
        Finding {
        stage: Stage::Development,
        place: format!("the new plank, from place {} to {}", name(*from, false), name(*to, true)),
        measured: Measure::Count(1.0),
        limit: Measure::Count(0.0),
        hint: "bent or twisted harder there than its wood bears cold: steam it and hang it hot; bend a piece of scrap to it first"
            .to_owned(),
    }
    };
    flat.steam.iter().map(one).collect()
}
