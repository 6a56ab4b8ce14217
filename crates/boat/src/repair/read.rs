//! Readings judged and faired: the two edges by how far up and in they stand, the neighbours' faces by their slope.

use super::fair::{Out, Row};
use super::{Above, Again, Below, Job, Place, RepairError, Spot, gap};
use crate::geom::fair::chord_knots;
use crate::geom::{Point, Vector};

/// Fewest places through which an edge is laid.
pub const LEAST_PLACES: usize = 4;
/// The edge above stands beyond the edge below by this at least, in laps.
const LEAST_GAP: f64 = 0.5;
/// A face is measured so many laps from its edge at least.
const LEAST_FACE: f64 = 1.4;
/// Readings of a line taken out at most.
const MOST_OUT: usize = 3;

/// The readings as they are used.
pub struct Read {
    /// Every spot that is wanted, on fair lines.
    pub places: Vec<Place>,
    /// As in [`super::Mended`].
    pub moved: Vec<[Option<[f64; 2]>; 4]>,
    pub again: Vec<Again>,
}

/// What can be said of the readings before anything is laid through them.
pub fn check(job: &Job) -> Result<(), RepairError> {
    let found = job.places.len();
    if found < LEAST_PLACES {
        return Err(RepairError::TooFew { found, least: LEAST_PLACES });
    }
    for pair in job.places.windows(2) {
        for (column, of) in
            [("along", (|p| p.along) as fn(&Place) -> f64), ("along_above", |p: &Place| p.along_above)]
        {
            let (before, along) = (of(&pair[0]), of(&pair[1]));
            if along < before + APART {
                let (line, place) = RepairError::at(&pair[1]);
                return Err(RepairError::OutOfOrder { line, place, column, along, before });
            }
        }
    }
    let lap = job.spec.planking.lap;
    for p in &job.places {
        let (line, place) = RepairError::at(p);
        let gap = beyond(p, Spot::EdgeBelow, Spot::EdgeAbove);
        let least = LEAST_GAP * lap;
        if gap < least {
            return Err(RepairError::Crossing { line, place, gap, least });
        }
        for (spot, edge) in [(Spot::FaceBelow, Spot::EdgeBelow), (Spot::FaceAbove, Spot::EdgeAbove)] {
            if p.spots[index(spot)].is_none() {
                continue;
            }
            let below = spot == Spot::FaceBelow;
            let apart = if below { beyond(p, spot, edge) } else { beyond(p, edge, spot) };
            let least = LEAST_FACE * lap;
            if apart < least {
                return Err(RepairError::FaceTooNear { line, place, spot, apart, least });
            }
        }
    }
    Ok(())
}

/// How far one spot of a place stands from another below it, mm; negative where it is plainly not beyond it, up her side or out.
fn beyond(place: &Place, from: Spot, to: Spot) -> f64 {
    let (from, to) = (at(place, from), at(place, to));
    let (out, up) = (to.y - from.y, to.z - from.z);
    out.hypot(up).copysign(out + up)
}

/// Two places stand so far apart at least, mm.
const APART: f64 = 20.0;

pub fn index(spot: Spot) -> usize {
    Spot::ALL.iter().position(|s| *s == spot).unwrap_or_default()
}

/// A spot in space; the origin where it was not wanted.
pub fn at(place: &Place, spot: Spot) -> Point {
    let [up, inboard] = place.spots[index(spot)].unwrap_or_default();
    Point::new(along(place, spot), -inboard, up)
}

fn along(place: &Place, spot: Spot) -> f64 {
    match spot {
        Spot::FaceBelow | Spot::EdgeBelow => place.along,
        Spot::EdgeAbove | Spot::FaceAbove => place.along_above,
    }
}

/// Fair lines through the readings.
pub fn fair(job: &Job) -> Result<Read, RepairError> {
    let mut read = Read { places: job.places.clone(), moved: vec![[None; 4]; job.places.len()], again: Vec::new() };
    for spot in [Spot::EdgeBelow, Spot::EdgeAbove] {
        edge(job, &mut read, spot);
    }
    if job.above == Above::Plank {
        face_above(job, &mut read)?;
    }
    if job.below == Below::Plank {
        face_below(job, &mut read)?;
    }
    Ok(read)
}

fn edge(job: &Job, read: &mut Read, spot: Spot) {
    let points: Vec<[f64; 3]> = job.places.iter().map(|p| at(p, spot).into()).collect();
    // Places stand apart, so that no two knots touch.
    let Ok(row) = Row::new(&chord_knots(&points)) else { return };
    for axis in [0, 1] {
        let own = |p: &Place| p.spots[index(spot)].map_or(0.0, |s| s[axis]);
        let mut values: Vec<f64> = job.places.iter().map(own).collect();
        for Out { index: place, others } in outs(&row, &mut values, job.tape) {
            read.again.push(Again { place, spot, up: axis == 0, read: own(&job.places[place]), others });
        }
        for (i, z) in row.faired(&values, job.tape).into_iter().enumerate() {
            if let Some(s) = &mut read.places[i].spots[index(spot)] {
                s[axis] = z;
            }
            let moved = read.moved[i][index(spot)].get_or_insert([0.0; 2]);
            moved[axis] = z - values[i];
        }
    }
}

/// The readings that stand out of a row, which gets what the others say instead.
fn outs(row: &Row, values: &mut [f64], tape: f64) -> Vec<Out> {
    let mut found = Vec::new();
    while let Some(out) = row.out(values, tape).filter(|_| found.len() < MOST_OUT) {
        values[out.index] = out.others;
        found.push(out);
    }
    found
}

/// The slope of a face at each place, radians, where it was measured.
struct Slopes {
    slope: Vec<Option<f64>>,
    /// From the edge, on the whole, mm.
    usual: f64,
}

/// The plank above: its face runs up from its lower outer corner.
fn face_above(job: &Job, read: &mut Read) -> Result<(), RepairError> {
    let one = |(raw, fair): (&Place, &Place)| {
        let way = from_edge(raw, fair, Spot::FaceAbove, Spot::EdgeAbove)?;
        Some(way.z.atan2(way.y))
    };
    let slope: Vec<Option<f64>> = job.places.iter().zip(&read.places).map(one).collect();
    let usual = usual(job, Spot::FaceAbove, Spot::EdgeAbove);
    let slopes = faired(job, read, Spot::FaceAbove, Slopes { slope, usual })?;
    for (p, slope) in read.places.iter_mut().zip(slopes) {
        let edge = p.spots[index(Spot::EdgeAbove)].unwrap_or_default();
        let [up, out] = [slope.sin(), slope.cos()].map(|part| usual * part);
        p.spots[index(Spot::FaceAbove)] = Some([edge[0] + up, edge[1] - out]);
    }
    Ok(())
}

/// The plank below: its corner is bevelled, so that its face does not go through it.
fn face_below(job: &Job, read: &mut Read) -> Result<(), RepairError> {
    let line: Vec<Point> = read.places.iter().map(|p| at(p, Spot::EdgeBelow)).collect();
    let over: Vec<Point> = read.places.iter().map(|p| at(p, Spot::EdgeAbove)).collect();
    let (steps, upper_steps) = (gap::steps(job, &line), gap::steps(job, &over));
    let mut slope = Vec::with_capacity(line.len());
    let mut off = Vec::with_capacity(line.len());
    for (i, (raw, fair)) in job.places.iter().zip(&read.places).enumerate() {
        let mut found = None;
        if let Some(way) = from_edge(raw, fair, Spot::FaceBelow, Spot::EdgeBelow) {
            let up = |p: &Place| at(p, Spot::FaceAbove) - at(p, Spot::EdgeAbove);
            let above = (job.above == Above::Plank).then(|| up(fair).normalize());
            let corner = above.map_or(over[i], |up| over[i] - up.cross(&Vector::x()) * job.thickness_above);
            let corner = Point::new(line[i].x, corner.y, corner.z);
            let spots = [&line[i], &(line[i] + way), &corner];
            found = gap::slope_below(job, spots, above.as_ref(), [steps[i], upper_steps[i]]);
            if found.is_none() {
                let (line, place) = RepairError::at(raw);
                return Err(RepairError::TooSteep { line, place });
            }
        }
        slope.push(found.map(|f| f[0]));
        off.push(found.map(|f| f[1]));
    }
    let off = filled(&off);
    let usual = usual(job, Spot::FaceBelow, Spot::EdgeBelow);
    let slopes = faired(job, read, Spot::FaceBelow, Slopes { slope, usual })?;
    for ((p, slope), off) in read.places.iter_mut().zip(slopes).zip(off) {
        let edge = p.spots[index(Spot::EdgeBelow)].unwrap_or_default();
        let (sin, cos) = slope.sin_cos();
        // Off the corner square to the face, and down it.
        p.spots[index(Spot::FaceBelow)] =
            Some([edge[0] - off * cos - usual * sin, edge[1] - off * sin + usual * cos]);
    }
    Ok(())
}

/// From a place's edge as faired to the spot on its face, which moves with it.
fn from_edge(raw: &Place, fair: &Place, face: Spot, edge: Spot) -> Option<Vector> {
    raw.spots[index(face)]?;
    let way = at(raw, face) - at(fair, edge);
    Some(Vector::new(0.0, way.y, way.z))
}

/// How far from its edge a face is measured, on the whole, mm.
fn usual(job: &Job, face: Spot, edge: Spot) -> f64 {
    let far: Vec<f64> =
        job.places.iter().filter(|p| p.spots[index(face)].is_some()).map(|p| beyond(p, face, edge).abs()).collect();
    far.iter().sum::<f64>() / far.len().max(1) as f64
}

/// The slopes at all places, faired where they were measured, and those that stand out left out and told.
fn faired(job: &Job, read: &mut Read, spot: Spot, Slopes { slope, usual }: Slopes) -> Result<Vec<f64>, RepairError> {
    let with: Vec<usize> = (0..slope.len()).filter(|&i| slope[i].is_some()).collect();
    if with.len() < LEAST_PLACES {
        return Err(RepairError::TooFewFaces { spot, found: with.len(), least: LEAST_PLACES });
    }
    let mut values: Vec<f64> = with.iter().filter_map(|&i| slope[i]).map(|s| s * usual).collect();
    let edge = if spot == Spot::FaceBelow { Spot::EdgeBelow } else { Spot::EdgeAbove };
    let points: Vec<[f64; 3]> = with.iter().map(|&i| at(&read.places[i], edge).into()).collect();
    let mut all = slope;
    if let Ok(row) = Row::new(&chord_knots(&points)) {
        // A slope is read off two spots.
        let tape = 2.0 * job.tape;
        for Out { index: n, others } in outs(&row, &mut values, tape) {
            let place = with[n];
            let (from, was) = (all[place].unwrap_or_default(), others / usual);
            if let Some([_, inboard]) = job.places[place].spots[index(spot)] {
                // Turned about the edge by as much as the slope is off; the spot stands below it or above.
                let far = if spot == Spot::FaceBelow { -usual } else { usual };
                let others = inboard - far * (was.cos() - from.cos());
                read.again.push(Again { place, spot, up: false, read: inboard, others });
            }
        }
        for ((&i, z), value) in with.iter().zip(row.faired(&values, tape)).zip(&values) {
            all[i] = Some(z / usual);
            read.moved[i][index(spot)] = Some([0.0, z - value]);
        }
    }
    Ok(filled(&all))
}

/// Gaps filled evenly between their neighbours; before the first and after the last as the nearest.
fn filled(values: &[Option<f64>]) -> Vec<f64> {
    let one = |i: usize| {
        let before = (0..=i).rev().find_map(|j| Some((j, values[j]?)));
        let after = (i..values.len()).find_map(|j| Some((j, values[j]?)));
        match (before, after) {
            (Some((a, p)), Some((b, q))) if b > a => p + (q - p) * (i - a) as f64 / (b - a) as f64,
            (Some((_, p)), _) | (None, Some((_, p))) => p,
            (None, None) => 0.0,
        }
    };
    (0..values.len()).map(one).collect()
}
