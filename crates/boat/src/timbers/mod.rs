//! Steamed timbers.
//!
//! A timber touches the planking along the upper inner edges of the strakes, so its line is the fair curve through them, in a
//! plumb plane: square to the centreline, or canted, its heads forward of its heel (or abaft it). Where both sides rise
//! steeply, and wherever it is canted, no timber bends across the keel: it is cut in two halves, each with its heel on the
//! keel. Timbers are spaced evenly between the ends of the keel rabbet, as near to the spacing asked for as divides the
//! length, or stand where the builder says. One may stop short of the sheer, at a land.
//!
//! Twist is how much the planking turns, round the timber, out of square to the timber's plane. It is taken from the land
//! lines, not the flat faces between them. Cannot do: timbers forward of the keel's rabbet, with their heels on the stem.

mod check;
mod cut;
mod fit;
mod problem;

pub use cut::{CutList, CutOf, cut_list};
pub use fit::{glued_up, goes, layer, layers, least_radius, steaming};
pub use problem::TimberError;

use crate::findings::Finding;
use crate::geom::arc::ArcCurve;
use crate::geom::fair::FairCurve;
use crate::geom::{Point, Vector, unit_or};
use crate::lining::{LandCurve, Lands};
use crate::moulds::Mould;
use crate::spec::{StopAt, TimberSpec};

/// One timber, both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct Timber {
    /// From forward, 1 first.
    pub n: usize,
    /// mm aft of the first station, at its centre, on the centreline.
    pub x: f64,
    /// How far its plane stands off square, radians: + where the heads stand abaft the heel.
    pub cant: f64,
    /// Land at its head: the number of strakes where it runs to the sheer.
    pub head: usize,
    /// It stops short of the sheer.
    pub stopped: bool,
    /// From the rabbet over the upper inner edges of the strakes to its head, one side, mm.
    pub girth: f64,
    /// Pieces to cut: 1 from head to head, 2 halves.
    pub pieces: u32,
    /// To cut, each piece, with the spare at both its ends, mm.
    pub length: f64,
    /// How steeply each side rises off level at the keel, radians.
    pub rise: f64,
    /// Indices of the moulds it stands in, which must be out before the timber goes in.
    pub moulds: Vec<usize>,
    /// Its turn in the order of fitting, from 1: from the middle to the ends, those in moulds after the others.
    pub turn: usize,
    /// Least radius it is bent to, mm.
    pub bend_radius_min: f64,
    /// Where it is bent tighter than it bears and must be thinner; `None`: nowhere.
    pub thin: Option<Thin>,
    /// How much it twists from its heel to its head, between the most and the least, radians.
    pub twist: f64,
    /// Its line from rabbet to head, one side: where it crosses each land.
    pub points: Vec<Point>,
    /// Where its plane crosses the lands over its head; empty where it runs to the sheer.
    pub beyond: Vec<Point>,
}

/// A stretch of a timber, on each side of the boat, that is thinned to go round its bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thin {
    /// Where it begins, up the girth from the rabbet, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// Where it is thinnest, mm.
    pub thinnest: f64,
    /// What is left there, mm. It runs out evenly to the full thickness at both ends, or nearly: as the bend does.
    pub thickness: f64,
}

impl Timber {
    /// How far its plane goes aft for each mm outboard.
    #[must_use]
    pub fn slope(&self) -> f64 {
        self.cant.tan()
    }

    /// Where its plane crosses a land, whether it reaches so high or not, mm aft of the first station.
    #[must_use]
    pub fn x_on(&self, land: usize) -> Option<f64> {
        self.points.iter().chain(&self.beyond).nth(land).map(|p| if self.cant == 0.0 { self.x } else { p.x })
    }

    /// Where it stands behind the middle of a strake; `None` where it stops below the strake's upper edge.
    #[must_use]
    pub fn behind(&self, strake: usize) -> Option<f64> {
        (strake <= self.head).then(|| Some(0.5 * (self.x_on(strake - 1)? + self.x_on(strake)?)))?
    }
}

/// The timbers, and what to look at: the tightest of those bent tighter than their wood takes.
///
/// `fore` and `aft` are the ends of the keel rabbet, mm aft of the first station.
///
/// # Errors
/// [`TimberError`]: places off the keel, and timbers canted or stopped that are not there or cannot be.
pub fn timbers(
    lands: &Lands,
    moulds: &[Mould],
    spec: &TimberSpec,
    fore: f64,
    aft: f64,
) -> Result<(Vec<Timber>, Vec<Finding>), TimberError> {
    let places = places(lands, spec, fore, aft)?;
    let count = places.len();
    for (which, cants) in [("cant_fore", &spec.cant_fore), ("cant_aft", &spec.cant_aft)] {
        if cants.len() > count {
            return Err(TimberError::TooManyCanted { which, found: cants.len(), timbers: count });
        }
    }
    let both = spec.cant_fore.len() + spec.cant_aft.len();
    if both > count {
        return Err(TimberError::CantedTwice { found: both, timbers: count });
    }
    if let Some((item, stop)) = spec.stopped.iter().enumerate().find(|(_, s)| s.timber > count) {
        return Err(TimberError::StopNowhere { item: item + 1, timber: stop.timber, timbers: count });
    }
    let mut timbers: Vec<Timber> = Vec::new();
    for (i, &x) in places.iter().enumerate() {
        let from_aft = count - 1 - i;
        let cant = spec.cant_fore.get(i).map(|c| -c).or(spec.cant_aft.get(from_aft).copied()).unwrap_or(0.0);
        timbers.push(at(lands, moulds, spec, x, cant, i + 1)?);
    }
    // Nearer than they are thick anywhere, and two want one place.
    for w in timbers.windows(2) {
        for (land, (a, b)) in w[0].points.iter().zip(&w[1].points).enumerate() {
            let (apart, least) = (b.x - a.x, 0.5 * spec.sided * (1.0 / w[0].cant.cos() + 1.0 / w[1].cant.cos()));
            if apart < least {
                return Err(TimberError::OnePlace { a: w[0].n, b: w[1].n, land, apart, least });
            }
        }
    }
    fit::order(&mut timbers, 0.5 * (fore + aft));
    let findings = check::check(&timbers, spec);
    Ok((timbers, findings))
}

/// Where the timbers stand on the centreline, from forward.
fn places(lands: &Lands, spec: &TimberSpec, fore: f64, aft: f64) -> Result<Vec<f64>, TimberError> {
    if !spec.at.is_empty() {
        if let Some((i, &x)) = spec.at.iter().enumerate().find(|(_, x)| !(fore..=aft).contains(*x)) {
            return Err(TimberError::OffTheKeel { item: i + 1, x, fore, aft });
        }
        return Ok(spec.at.clone());
    }
    let spaces = ((aft - fore) / spec.spacing).round().max(2.0);
    let spacing = (aft - fore) / spaces;
    let all = (1..spaces as usize).map(|i| fore + spacing * i as f64);
    Ok(all.filter(|&x| lands.curves.iter().all(|c| crossing(c, x, 0.0).is_some())).collect())
}

/// The timber at `x`.
fn at(
    lands: &Lands,
    moulds: &[Mould],
    spec: &TimberSpec,
    x: f64,
    cant: f64,
    n: usize,
) -> Result<Timber, TimberError> {
    let slope = cant.tan();
    let mut points: Vec<Point> = Vec::with_capacity(lands.curves.len());
    let mut along: Vec<Vector> = Vec::with_capacity(lands.curves.len());
    for (land, curve) in lands.curves.iter().enumerate() {
        let (point, tangent) = crossing(curve, x, slope).ok_or(TimberError::RunsOut { timber: n, x, cant, land })?;
        points.push(point);
        along.push(tangent);
    }
    let strakes = lands.curves.len() - 1;
    let head = head(&points, spec, n, strakes)?;
    let beyond = points.split_off(head + 1);
    let yz: Vec<[f64; 2]> = points.iter().map(|p| [p.y / cant.cos(), p.z]).collect();
    let curve = ArcCurve::through(&yz).map_err(|_| TimberError::NoLine { timber: n, x })?;
    let girth = curve.length();
    let foot = curve.tangent(0.0);
    let rise = foot[1].atan2(foot[0]);
    let pieces = if rise > spec.halves_over || cant != 0.0 { 2 } else { 1 };
    let whole = if pieces == 2 { girth } else { 2.0 * (girth + points[0].y) };
    let half = 0.5 * spec.sided / cant.cos();
    let low = points.iter().fold(x, |m, p| m.min(p.x)) - half;
    let high = points.iter().fold(x, |m, p| m.max(p.x)) + half;
    let bend = |i: u32| curve.bend(girth * f64::from(i) / f64::from(BENDS));
    let bends: Vec<f64> = (0..=BENDS).map(bend).map(|[y, z]| y.hypot(z)).collect();
    let tightest = bends.iter().copied().fold(0.0, f64::max);
    Ok(Timber {
        n,
        x,
        cant,
        head,
        stopped: head < strakes,
        girth,
        pieces,
        length: whole + 2.0 * spec.spare,
        rise,
        moulds: (0..moulds.len()).filter(|&i| moulds[i].fore < high && moulds[i].aft > low).collect(),
        turn: 0,
        bend_radius_min: 1.0 / tightest,
        thin: thin(&bends, girth, spec),
        twist: twist(curve.curve(), &along[..=head], cant),
        points,
        beyond,
    })
}

/// Bends of a timber are taken at so many even steps along its girth.
const BENDS: u32 = 100;

/// The stretch from the first bend that is too tight to the last, to the nearest step.
fn thin(bends: &[f64], girth: f64, spec: &TimberSpec) -> Option<Thin> {
    let most = 1.0 / fit::least_radius(spec);
    let tight = |c: &f64| *c > most * (1.0 + 1e-12);
    let (first, last) = (bends.iter().position(tight)?, bends.iter().rposition(tight)?);
    let along = |i: usize| girth * i as f64 / f64::from(BENDS);
    let thinnest = (first..=last).max_by(|&a, &b| bends[a].total_cmp(&bends[b]))?;
    Some(Thin {
        from: along(first.saturating_sub(1)),
        to: along((last + 1).min(bends.len() - 1)),
        thinnest: along(thinnest),
        thickness: fit::goes(1.0 / bends[thinnest], spec),
    })
}

/// The land at a timber's head.
fn head(points: &[Point], spec: &TimberSpec, n: usize, strakes: usize) -> Result<usize, TimberError> {
    let Some((item, stop)) = spec.stopped.iter().enumerate().find(|(_, s)| s.timber == n) else { return Ok(strakes) };
    let item = item + 1;
    match stop.at {
        // Two lands and the rabbet at the least, for a curve needs three points.
        StopAt::Strake(strake) if (2..strakes).contains(&strake) => Ok(strake),
        StopAt::Strake(strake) => Err(TimberError::StopStrake { item, strake, most: strakes.saturating_sub(1) }),
        StopAt::Height(z) => {
            let [least, most] = [1, strakes - 1].map(|k| points[k].z);
            let land = points.iter().position(|p| p.z >= z).filter(|k| (2..strakes).contains(k));
            land.ok_or(TimberError::StopHeight { item, z, least, most })
        }
    }
}

/// How much the planking turns out of square to the timber's plane, from the most to the least: at the lands, which are the
/// curve's knots and run `along`.
fn twist(curve: &FairCurve<2>, along: &[Vector], cant: f64) -> f64 {
    let (sin, cos) = cant.sin_cos();
    let plane = Vector::new(cos, -sin, 0.0);
    let (mut least, mut most) = (f64::MAX, f64::MIN);
    for (land, &knot) in along.iter().zip(curve.knots()) {
        let [u, z] = curve.d1(knot);
        let timber = Vector::new(u * sin, u * cos, z);
        let normal = unit_or(timber.cross(land), plane.cross(&timber));
        let lean = normal.dot(&plane).clamp(-1.0, 1.0).asin();
        (least, most) = (least.min(lean), most.max(lean));
    }
    most - least
}

/// Where a land line crosses the plumb plane that goes through `x` on the centreline and `slope` aft for each mm outboard, and
/// which way it runs there.
fn crossing(land: &LandCurve, x: f64, slope: f64) -> Option<(Point, Vector)> {
    let curve = &land.curve;
    let off = |t: f64| {
        let p = curve.at(t);
        p[0] - slope * p[1]
    };
    let span = land.at_section.windows(2).find(|w| off(w[0]) <= x && x <= off(w[1]))?;
    let (mut low, mut high) = (span[0], span[1]);
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if off(mid) < x { low = mid } else { high = mid }
    }
    let t = 0.5 * (low + high);
    Some((Point::from(curve.at(t)), Vector::from(curve.d1(t))))
}
