//! Where strips lie.

use super::knee::{Knee, KneeKind};
use super::strip::{Along, End, LiesOn, Meets, Strip, StripKind, StripPlace, measure};
use super::surface::On;
use super::{Faces, InteriorError, InteriorProblem, timber_at, trouble};
use crate::geom::Vector;
use crate::geom::fair::FairCurve;
use crate::lines::SectionAt;
use crate::offsets::StationAt;
use crate::spec::{Against, EndSpec, InwaleSpec, Level, Place, RisingSpec, RubbingSpec, Stick};

/// Points of a strip's line from end to end.
const POINTS: usize = 24;

/// What a strip is, before it is measured.
struct Named<'a> {
    kind: StripKind,
    key: String,
    name: String,
    lies_on: LiesOn,
    stick: &'a Stick,
}

/// A rising: the fair curve through the heights asked for, on the timbers.
pub fn rising(faces: &Faces<'_>, i: usize, spec: &RisingSpec) -> Result<Strip, InteriorError> {
    let key = format!("interior.risings, item {}", i + 1);
    let mut known: Vec<[f64; 2]> = Vec::with_capacity(spec.line.len());
    for (n, (place, level)) in spec.line.iter().enumerate() {
        let key = format!("{key}.line, item {}", n + 1);
        let x = faces.x(&key, place)?;
        if let Some(&[before, _]) = known.last().filter(|before| x < before[0] + 1.0) {
            return Err(trouble(&key, InteriorProblem::Order { x, before }));
        }
        let sheer = faces.sheer_at(&key, "this point", x)?.z;
        let z = match level {
            Level::Height(z) => *z,
            Level::BelowSheer(down) => sheer - down,
        };
        faces.must(&key, "this point", Against::Timbers, x, z)?;
        known.push([x, z]);
    }
    let none = || trouble(&key, InteriorProblem::NoShape);
    let xs: Vec<f64> = known.iter().map(|k| k[0]).collect();
    let zs: Vec<[f64; 1]> = known.iter().map(|k| [k[1]]).collect();
    let curve = FairCurve::through(&xs, &zs).map_err(|_| none())?;
    let (from, to) = (xs[0], xs[xs.len() - 1]);
    let height = |x: f64| {
        if xs.len() == 2 { zs[0][0] + (zs[1][0] - zs[0][0]) * (x - from) / (to - from) } else { curve.at(x)[0] }
    };
    let points = spread(from, to)
        .map(|x| faces.must(&key, "its top", Against::Timbers, x, height(x)))
        .collect::<Result<Vec<_>, _>>()?;
    let name =
        if faces.ask.spec.interior.risings.len() > 1 { format!("Rising {}", i + 1) } else { "Rising".to_owned() };
    let named = Named { kind: StripKind::Rising, name, lies_on: inside(faces), stick: &spec.stick, key };
    strip(faces, named, &points, &height, [End::SQUARE; 2])
}

/// The inwales: at the height of the sheer, on the timbers' heads.
pub fn inwale(faces: &Faces<'_>, knees: &[Knee], spec: &InwaleSpec) -> Result<Strip, InteriorError> {
    let key = "interior.inwale".to_owned();
    let fore = inwale_end(faces, knees, spec.from.as_ref(), false)?;
    let aft = inwale_end(faces, knees, spec.to.as_ref(), true)?;
    let (from, to) = (fore.0, aft.0);
    if to < from + 1.0 {
        return Err(trouble(&key, InteriorProblem::Order { x: to, before: from }));
    }
    let points = spread(from, to)
        .map(|x| {
            let z = faces.sheer_at(&key, "it", x)?.z;
            faces.must(&key, "its top", Against::Timbers, x, z)
        })
        .collect::<Result<Vec<_>, _>>()?;
    let named =
        Named { kind: StripKind::Inwale, name: "Inwale".to_owned(), lies_on: inside(faces), stick: &spec.stick, key };
    let height = |x: f64| faces.sheer.at(x).map_or(f64::NAN, |p| p.z);
    strip(faces, named, &points, &height, [fore.1, aft.1])
}

/// Where an inwale ends, and on what.
fn inwale_end(
    faces: &Faces<'_>,
    knees: &[Knee],
    given: Option<&Place>,
    aft: bool,
) -> Result<(f64, End), InteriorError> {
    let key = if aft { "interior.inwale.to" } else { "interior.inwale.from" };
    if let Some(place) = given {
        let x = faces.x(key, place)?;
        faces.sheer_at(key, "its end", x)?;
        return Ok((x, End::SQUARE));
    }
    let hook = knees.iter().find(|k| k.kind == KneeKind::Breasthook { aft });
    if let Some(x) = hook.filter(|k| k.against != Against::Inwale).map(|k| k.reach) {
        return Ok((x, End { on: Meets::Breasthook, normal: None }));
    }
    let end = if aft { &faces.ask.spec.aft } else { &faces.ask.spec.fore };
    match end {
        EndSpec::Post(_) => {
            let x = faces.nose(key, Against::Timbers, aft)?.at.x;
            Ok((x, End { on: Meets::Post, normal: Some(Vector::y()) }))
        }
        EndSpec::Transom(t) => {
            let corner = faces.corner(key, Against::Timbers, t)?;
            let normal = Vector::from(t.normal(corner.at.y));
            Ok((corner.at.x, End { on: Meets::Transom, normal: Some(normal) }))
        }
    }
}

/// A rubbing strake on the outer face of a strake: under its upper edge at the sheer, or over its lower edge.
pub fn rubbing_strake(faces: &Faces<'_>, i: usize, spec: &RubbingSpec) -> Result<Strip, InteriorError> {
    let key = format!("interior.rubbing_strakes, item {}", i + 1);
    let n = faces.ask.strakes.len();
    let land = spec.land.map_or(n, |k| k as usize);
    if !(1..=n).contains(&land) {
        return Err(trouble(&key, InteriorProblem::Land { land: land as u32, most: n }));
    }
    let at_sheer = land == n;
    let on = if at_sheer { n } else { land + 1 };
    let Some(s) = faces.ask.strakes.get(on - 1) else { return Err(trouble(&key, InteriorProblem::NoShape)) };
    let last = s.rulings.len().saturating_sub(1);
    let points: Vec<On> = (0..=last)
        .filter(|i| i % EVERY == 0 || *i == last)
        .map(|i| {
            let r = &s.rulings[i];
            if at_sheer {
                return On { at: r.upper + r.normal * s.thickness, normal: r.normal };
            }
            // Its line is its top, its depth up the face.
            On { at: r.lower + r.lower_normal * s.thickness + r.up() * spec.stick.depth, normal: r.lower_normal }
        })
        .collect();
    let end = |end: &EndSpec, at: &On| match end {
        EndSpec::Post(_) => End { on: Meets::Post, normal: Some(Vector::y()) },
        EndSpec::Transom(t) => End { on: Meets::OuterFace, normal: Some(Vector::from(t.normal(at.at.y))) },
    };
    let (Some(first), Some(past)) = (points.first(), points.last()) else {
        return Err(trouble(&key, InteriorProblem::NoShape));
    };
    let ends = [end(&faces.ask.spec.fore, first), end(&faces.ask.spec.aft, past)];
    let name = if at_sheer { "Rubbing strake".to_owned() } else { format!("Rubbing strake at land {land}") };
    let named = Named { kind: StripKind::RubbingStrake, key, name, lies_on: LiesOn::Strake(on), stick: &spec.stick };
    let height = |x: f64| {
        let i = points.partition_point(|p| p.at.x < x).clamp(1, points.len() - 1);
        let (a, b) = (points[i - 1].at, points[i].at);
        a.z + (b.z - a.z) * ((x - a.x) / (b.x - a.x).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
    };
    strip(faces, named, &points, &height, ends)
}

/// Every so many rulings a point.
const EVERY: usize = 4;

/// What is inside her to lie on.
fn inside(faces: &Faces<'_>) -> LiesOn {
    if faces.ask.timbers.is_empty() { LiesOn::Lands } else { LiesOn::Timbers }
}

fn spread(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..=POINTS).map(move |i| from + (to - from) * i as f64 / POINTS as f64)
}

/// Measures it. `height` is its line's, for the timbers that cross it.
fn strip(
    faces: &Faces<'_>,
    named: Named<'_>,
    points: &[On],
    height: &dyn Fn(f64) -> f64,
    ends: [End; 2],
) -> Result<Strip, InteriorError> {
    let ask = &faces.ask;
    let stations = ask.sections.iter().enumerate().filter_map(|(i, s)| {
        let SectionAt::Station(station) = s.at else { return None };
        match ask.table.stations.get(station)?.at {
            StationAt::Square(x) => Some((StripPlace::Section(i), x)),
            StationAt::Transom | StationAt::BowTransom => None,
        }
    });
    let timbers = ask.timbers.iter().enumerate().filter_map(|(i, t)| {
        // A timber's head reaches the sheer but for rounding.
        let z = height(t.x).min(t.points.last()?.z);
        Some((StripPlace::Timber(i), timber_at(t, z)?))
    });
    let wanted: Vec<(StripPlace, f64)> = stations.chain(timbers).collect();
    let none = || trouble(&named.key, InteriorProblem::NoShape);
    let mut m = measure(&Along { points, wanted: &wanted, ends }).ok_or_else(none)?;
    m.at.sort_by(|a, b| a.along.total_cmp(&b.along));
    let up = m.flat.iter().map(|p| p[1]);
    let room = up.clone().fold(f64::MIN, f64::max) - up.fold(f64::MAX, f64::min);
    Ok(Strip {
        kind: named.kind,
        name: named.name,
        key: named.key,
        lies_on: named.lies_on,
        stick: named.stick.clone(),
        cut_length: m.length + 2.0 * named.stick.spare,
        board_width: named.stick.depth + room,
        length: m.length,
        points: m.points,
        flat: m.flat,
        sny: m.sny,
        at: m.at,
        bend_radius: m.bend_radius,
        edge_radius: m.edge_radius,
        twist: m.twist,
        ends: m.ends,
    })
}
