//! Fair sections through the fair points.

use super::profile::Ends;
use super::{FairRow, LinesError};
use crate::geom::arc::ArcCurve;
use crate::geom::monotone;
use crate::offsets::{RowKind, StationAt, Table};
use crate::spec::{Spec, Transom};

/// Points of a section nearer than this share of its length are made one: with rounded entries, two near points say
/// more about the rounding than about the skin.
const NEAR: f64 = 0.04;

/// A point of a section and the entries that move it.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionPoint {
    /// y, and z measured in the section's own plane, mm.
    pub yz: [f64; 2],
    /// The entries.
    pub moves: Vec<Move>,
}

/// An entry that moves a point.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// Row of the table.
    pub row: usize,
    /// How far `yz` moves for a millimetre more in the entry.
    pub toward: [f64; 2],
}

/// The points of the section at `station` in order from rabbet to sheer, from the `values` of the table.
/// On a raked transom z is measured up the transom.
#[must_use]
pub fn chain(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    station: usize,
    values: &[Vec<Option<f64>>],
) -> Vec<SectionPoint> {
    let slope = up_slope(table, ends, station);
    let value = |kind: &RowKind| {
        let row = table.rows.iter().position(|r| r.kind == *kind)?;
        values[row][station].map(|v| (row, v))
    };
    let point = |y: f64, z: f64, moves: Vec<Move>| SectionPoint { yz: [y, z * slope], moves };
    let across = |row: usize| Move { row, toward: [1.0, 0.0] };
    let upward = |row: usize| Move { row, toward: [0.0, slope] };

    let mut levels = Vec::new();
    let mut between = Vec::new();
    for (row, r) in table.rows.iter().enumerate() {
        let Some(v) = values[row][station] else { continue };
        match r.kind {
            RowKind::HalfBreadthWaterline(z) => levels.push((z, point(v, z, vec![across(row)]))),
            RowKind::HeightButtock(y) => between.push((y, point(y, v, vec![upward(row)]))),
            RowKind::Diagonal(i) => {
                let d = &spec.lines.diagonals[i];
                let (sin, cos) = d.below_level.sin_cos();
                let m = Move { row, toward: [cos, -sin * slope] };
                between.push((f64::MAX, point(v * cos, d.height - v * sin, vec![m])));
            }
            _ => {}
        }
    }
    levels.sort_by(|a, b| a.0.total_cmp(&b.0));
    between.sort_by(|a, b| a.0.total_cmp(&b.0));

    let mut chain = Vec::new();
    let rabbet_y = value(&RowKind::HalfBreadthRabbet);
    let rabbet_z = value(&RowKind::HeightRabbet);
    if let Some(z) = rabbet_z.map(|v| v.1).or_else(|| rabbet_between(table, ends, station, values)) {
        let moves = rabbet_y.map(|v| across(v.0)).into_iter().chain(rabbet_z.map(|v| upward(v.0))).collect();
        chain.push(point(rabbet_y.map_or(spec.lines.keel_half_siding, |v| v.1), z, moves));
    }
    chain.extend(levels.into_iter().map(|l| l.1));
    if let (Some((ry, y)), Some((rz, z))) = (value(&RowKind::HalfBreadthSheer), value(&RowKind::HeightSheer)) {
        chain.push(point(y, z, vec![across(ry), upward(rz)]));
    }
    for (_, p) in between {
        insert(&mut chain, p);
    }
    chain
}

/// How much longer the section's own plane is than its height.
#[must_use]
pub fn up_slope(table: &Table, ends: &Ends, station: usize) -> f64 {
    ends.transom(table.stations[station].at).map_or(1.0, |t| t.up()[1].recip())
}

/// Puts `p` where it lengthens the chain least, between its ends.
fn insert(chain: &mut Vec<SectionPoint>, p: SectionPoint) {
    let gap = |a: &SectionPoint, b: &SectionPoint| (a.yz[0] - b.yz[0]).hypot(a.yz[1] - b.yz[1]);
    let longer = |i: &usize| gap(&chain[i - 1], &p) + gap(&p, &chain[*i]) - gap(&chain[i - 1], &chain[*i]);
    let place = (1..chain.len()).min_by(|a, b| longer(a).total_cmp(&longer(b)));
    chain.insert(place.unwrap_or(chain.len()), p);
}

/// Height of the rabbet at a station where the table has none: on the fair line through its neighbours and the feet.
fn rabbet_between(table: &Table, ends: &Ends, station: usize, values: &[Vec<Option<f64>>]) -> Option<f64> {
    let StationAt::Square(at) = table.stations[station].at else {
        return ends.transom(table.stations[station].at).map(|t| t.foot[1]);
    };
    let mut known: Vec<[f64; 2]> = vec![ends.fore_foot()];
    if let Some(row) = table.rows.iter().position(|r| r.kind == RowKind::HeightRabbet) {
        for (s, v) in table.stations.iter().zip(&values[row]) {
            let StationAt::Square(x) = s.at else { continue };
            known.extend(v.filter(|_| ends.is_between(x)).map(|v| [x, v]));
        }
    }
    known.push(ends.aft_foot());
    // Between the two known neighbours, on the curve that does not overshoot.
    let knots: Vec<f64> = known.iter().map(|p| p[0]).collect();
    let heights: Vec<[f64; 1]> = known.iter().map(|p| [p[1]]).collect();
    let dense = monotone::dense(&knots, &heights, PIECES);
    let i = knots.partition_point(|&x| x <= at).clamp(1, knots.len() - 1) - 1;
    let place = (at - knots[i]) / (knots[i + 1] - knots[i]) * PIECES as f64;
    let p = (place as usize).min(PIECES - 1);
    let (a, b) = (dense[i * PIECES + p][0], dense[i * PIECES + p + 1][0]);
    Some(a + (b - a) * (place - p as f64))
}

/// Pieces in which the rabbet is followed between two known heights.
const PIECES: usize = 64;

/// One curve for each section, from rabbet to sheer: stem or bow transom, `stations`, transom or sternpost.
///
/// # Errors
/// A station through whose points no curve passes.
pub fn curves(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    stations: &[usize],
    fair: &[FairRow],
) -> Result<Vec<ArcCurve<3>>, LinesError> {
    let values = super::values(fair);
    let post = |aft: bool, points: Vec<[f64; 3]>| {
        let end = if aft { spec.aft.word(true) } else { spec.fore.word(false) };
        ArcCurve::through(&points).map_err(|why| LinesError::End { end, why: why.to_string() })
    };
    let at_station = |station: usize| -> Result<ArcCurve<3>, LinesError> {
        let slope = up_slope(table, ends, station);
        let points: Vec<[f64; 3]> = merged(chain(table, spec, ends, station, &values), near(spec))
            .iter()
            .map(|p| {
                let z = p[1] / slope;
                let at = table.stations[station].at;
                let x = match at {
                    StationAt::Square(x) => x,
                    StationAt::Transom | StationAt::BowTransom => ends.transom(at).map_or(0.0, |t| t.x_at(p[0], z)),
                };
                [x, p[0], z]
            })
            .collect();
        let through = |points: &[[f64; 3]]| {
            ArcCurve::through(points)
                .map_err(|why| LinesError::Section { station: table.stations[station].name.clone(), why })
        };
        let curve = through(&points)?;
        match ends.transom(table.stations[station].at).filter(|t| t.radius.is_some()) {
            Some(t) => through(&on_face(&curve, t)),
            None => Ok(curve),
        }
    };
    let end = |aft: bool| match ends.post_points(aft) {
        Some(points) => post(aft, points),
        None => {
            let at = if aft { StationAt::Transom } else { StationAt::BowTransom };
            let name = if aft { spec.aft.word(true) } else { spec.fore.word(false) };
            let column = table
                .stations
                .iter()
                .position(|s| s.at == at)
                .ok_or(LinesError::End { end: name, why: format!("offsets.csv has no column `{name}`; add one") })?;
            at_station(column)
        }
    };
    let mut curves = vec![end(false)?];
    for &station in stations {
        curves.push(at_station(station)?);
    }
    curves.push(end(true)?);
    Ok(curves)
}

/// Points of a curved transom's section, moved along the boat on to its face: between the entries a curve in space leaves
/// it by some hundredths of a mm.
fn on_face(curve: &ArcCurve<3>, transom: &Transom) -> Vec<[f64; 3]> {
    let at = |i: usize| curve.at(curve.length() * i as f64 / ON_FACE as f64);
    (0..=ON_FACE).map(at).map(|[_, y, z]| [transom.x_at(y, z), y, z]).collect()
}

/// Pieces in which that is done.
const ON_FACE: usize = 64;

/// Points nearer than this share of the section's length, or so many mm, are made one: where the table is not faired the
/// curve passes through every entry that is not the same point.
#[must_use]
pub fn near(spec: &Spec) -> [f64; 2] {
    if spec.lines.fair_within > 0.0 { [NEAR, 0.0] } else { [0.0, SAME] }
}

/// Points nearer than this are one, mm.
const SAME: f64 = 0.5;

/// The chain with points that are too near made one; the ends stay.
#[must_use]
pub fn merged(chain: Vec<SectionPoint>, near: [f64; 2]) -> Vec<[f64; 2]> {
    let mut points: Vec<[f64; 2]> = chain.into_iter().map(|p| p.yz).collect();
    let length: f64 = points.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum();
    let mut i = 0;
    while i + 1 < points.len() && points.len() > 2 {
        let (a, b) = (points[i], points[i + 1]);
        if (b[0] - a[0]).hypot(b[1] - a[1]) >= (near[0] * length).max(near[1]) {
            i += 1;
        } else if i + 2 == points.len() {
            points.remove(i);
            i = i.saturating_sub(1);
        } else {
            let keep = if i == 0 { a } else { [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])] };
            points[i] = keep;
            points.remove(i + 1);
        }
    }
    points
}
