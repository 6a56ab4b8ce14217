//! Steamed timbers.
//!
//! A timber stands square to the centreline and touches the planking along the upper inner edges of the strakes, so
//! its line is the fair curve through them. Where both sides rise steeply no timber bends across the keel: it is cut
//! in two halves, each with its heel on the keel. Timbers are spaced evenly between the ends of the keel rabbet, as near
//! to the spacing asked for as divides the length.

use crate::findings::{Finding, Measure, Stage};
use crate::geom::Point;
use crate::geom::arc::ArcCurve;
use crate::lining::{LandCurve, Lands};
use crate::moulds::Mould;
use crate::spec::TimberSpec;

/// One timber, from sheer to sheer across the keel.
#[derive(Debug, Clone, PartialEq)]
pub struct Timber {
    /// From forward, 1 first.
    pub n: usize,
    /// mm aft of the first station, at its centre.
    pub x: f64,
    /// From the rabbet over the upper inner edges of the strakes to the sheer, one side, mm.
    pub girth: f64,
    /// Pieces to cut: 1 from sheer to sheer, 2 halves.
    pub pieces: u32,
    /// To cut, each piece, with the spare at both its ends, mm.
    pub length: f64,
    /// How steeply each side rises off level at the keel, radians.
    pub rise: f64,
    /// Index of the mould it stands in, which must be out before the timber goes in.
    pub mould: Option<usize>,
    /// Least radius it is bent to, mm.
    pub bend_radius_min: f64,
    /// Its line from rabbet to sheer, one side.
    pub points: Vec<Point>,
}

/// The timbers, and those bent tighter than common practice.
///
/// `fore` and `aft` are the ends of the keel rabbet, mm aft of the first station.
#[must_use]
pub fn timbers(
    lands: &Lands,
    moulds: &[Mould],
    spec: &TimberSpec,
    fore: f64,
    aft: f64,
) -> (Vec<Timber>, Vec<Finding>) {
    let spaces = ((aft - fore) / spec.spacing).round().max(2.0);
    let spacing = (aft - fore) / spaces;
    let mut timbers: Vec<Timber> = Vec::new();
    for i in 1..spaces as usize {
        let x = fore + spacing * i as f64;
        if let Some(timber) = at(lands, moulds, spec, x, timbers.len() + 1) {
            timbers.push(timber);
        }
    }
    let findings = check(&timbers, spec);
    (timbers, findings)
}

/// The timber at `x`; `None` where some land does not reach it.
fn at(lands: &Lands, moulds: &[Mould], spec: &TimberSpec, x: f64, n: usize) -> Option<Timber> {
    let points: Vec<Point> = lands.curves.iter().map(|c| crossing(c, x)).collect::<Option<_>>()?;
    let yz: Vec<[f64; 2]> = points.iter().map(|p| [p.y, p.z]).collect();
    let curve = ArcCurve::through(&yz).ok()?;
    let girth = curve.length();
    let foot = curve.tangent(0.0);
    let rise = foot[1].atan2(foot[0]);
    let pieces = if rise > spec.halves_over { 2 } else { 1 };
    let whole = if pieces == 2 { girth } else { 2.0 * (girth + points[0].y) };
    let (low, high) = (x - 0.5 * spec.sided, x + 0.5 * spec.sided);
    let tightest = (0..=100).map(|i| curvature(&curve, girth * f64::from(i) / 100.0)).fold(0.0, f64::max);
    Some(Timber {
        n,
        x,
        girth,
        pieces,
        length: whole + 2.0 * spec.spare,
        rise,
        mould: moulds.iter().position(|m| m.fore < high && m.aft > low),
        bend_radius_min: 1.0 / tightest,
        points,
    })
}

/// Where a land line crosses the plane at `x`.
fn crossing(land: &LandCurve, x: f64) -> Option<Point> {
    let curve = &land.curve;
    let span = land.at_section.windows(2).find(|w| curve.at(w[0])[0] <= x && x <= curve.at(w[1])[0])?;
    let (mut low, mut high) = (span[0], span[1]);
    for _ in 0..60 {
        let mid = 0.5 * (low + high);
        if curve.at(mid)[0] < x { low = mid } else { high = mid }
    }
    Some(Point::from(curve.at(0.5 * (low + high))))
}

/// Curvature at `distance` along a plane curve, 1/mm.
fn curvature(curve: &ArcCurve<2>, distance: f64) -> f64 {
    let t = curve.parameter(distance);
    let ([ay, az], [by, bz]) = (curve.curve().d1(t), curve.curve().d2(t));
    (ay * bz - az * by).abs() / (ay * ay + az * az).powf(1.5).max(f64::MIN_POSITIVE)
}

/// Least radius to thickness for steamed timbers bent without a strap. Common practice, no source.
const TIGHTEST: f64 = 12.0;

fn check(timbers: &[Timber], spec: &TimberSpec) -> Vec<Finding> {
    let limit = TIGHTEST * spec.moulded;
    let tight: Vec<&Timber> = timbers.iter().filter(|t| t.bend_radius_min < limit).collect();
    let Some(tightest) = tight.iter().min_by(|a, b| a.bend_radius_min.total_cmp(&b.bend_radius_min)) else {
        return Vec::new();
    };
    let others = match tight.len() {
        1 => String::new(),
        n => format!(" ({n} timbers are as tight or nearly)"),
    };
    vec![Finding {
        stage: Stage::Timbers,
        place: format!("timber {}", tightest.n),
        measured: Measure::Length(tightest.bend_radius_min),
        limit: Measure::Length(limit),
        hint: format!(
            "bends tighter than 12 times its thickness{others}: thinner (timbers.moulded), or in two layers, or choose \
             the wood for it"
        ),
    }]
}
