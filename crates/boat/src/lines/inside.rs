//! From the outside of the planking to the inside: the thickness taken off along the true normal.
//!
//! A deduction in the station plane is too small where the skin turns towards the ends. The point of the inside that
//! lies in a station plane comes from a point of the outside a little further along: for each share s of the girth we
//! look along the fair line through all sections at s for the place whose inward normal ends in the plane. At a post
//! the normal from the rabbet line itself gives the inner rabbet.

use super::{LinesError, SectionAt};
use crate::geom::arc::ArcCurve;
use crate::geom::fair::FairCurve;
use crate::geom::{Point, Vector, unit_or};
use crate::offsets::Table;
use crate::spec::Spec;

/// Shares of the girth looked at.
const SHARES: usize = 40;
/// Step in s for the tangent up the section.
const STEP: f64 = 1e-4;

/// Curves `spec.planking.thickness` inside `curves`.
///
/// # Errors
/// [`LinesError::Inside`] where the inside folds on itself.
pub fn bring_in(
    curves: &[ArcCurve<3>],
    kinds: &[(String, SectionAt)],
    table: &Table,
    spec: &Spec,
) -> Result<Vec<ArcCurve<3>>, LinesError> {
    let long = |s: f64, station: &str| {
        let points: Vec<[f64; 3]> = curves.iter().map(|c| c.at(s * c.length())).collect();
        FairCurve::by_chords(&points).map_err(|why| LinesError::Inside { station: station.to_string(), why })
    };
    let mut grid = Vec::with_capacity(SHARES + 1);
    for i in 0..=SHARES {
        let s = i as f64 / SHARES as f64;
        let (low, high) = ((s - STEP).max(0.0), (s + STEP).min(1.0));
        grid.push([long(s, "stem")?, long(low, "stem")?, long(high, "stem")?]);
    }
    let mut inside = Vec::with_capacity(curves.len());
    for (j, (name, at)) in kinds.iter().enumerate() {
        // At a post's foot the line at s = 0 is the keel's rabbet and runs along the post's own: the two have no normal
        // between them, and the next sound one is taken.
        let sound: Vec<usize> = (0..grid.len()).filter(|&i| crossing(&grid[i], j) >= LEAST_CROSSING).collect();
        let points: Vec<[f64; 3]> = (0..grid.len())
            .map(|i| {
                let from = sound.iter().min_by_key(|s| s.abs_diff(i)).copied().unwrap_or(i);
                inward(&grid[i], &grid[from], j, *at, table, spec)
            })
            .collect();
        let curve = ArcCurve::through(&points).map_err(|why| LinesError::Inside { station: name.clone(), why })?;
        inside.push(curve);
    }
    Ok(inside)
}

/// Sine between section and long line below which they have no sure normal.
const LEAST_CROSSING: f64 = 0.3;

/// Sine between section `j` and the line through it.
fn crossing(lines: &[FairCurve<3>; 3], j: usize) -> f64 {
    let [low, high] = [1, 2].map(|l| Point::from(lines[l].at(lines[l].knots()[j])));
    let aft = Vector::from(lines[0].d1(lines[0].knots()[j]));
    unit_or(high - low, Vector::z()).cross(&unit_or(aft, Vector::x())).norm()
}

/// The inside point of section `j` on the line `lines[0]`; its neighbours below and above give the tangent, or those of
/// `sound` do.
fn inward(
    lines: &[FairCurve<3>; 3],
    sound: &[FairCurve<3>; 3],
    j: usize,
    at: SectionAt,
    table: &Table,
    spec: &Spec,
) -> [f64; 3] {
    let inner = |along: f64| -> (Point, Vector) {
        let p = Point::from(lines[0].at(lines[0].knots()[j] + along));
        let [low, high] = [1, 2].map(|l| Point::from(sound[l].at(sound[l].knots()[j] + along)));
        let aft = Vector::from(sound[0].d1(sound[0].knots()[j] + along));
        let normal = unit_or((high - low).cross(&aft), Vector::y());
        (p - spec.planking.thickness * normal, aft)
    };
    let mut along = 0.0;
    for _ in 0..8 {
        let (p, aft) = inner(along);
        let Some(off) = super::aft_of_plane(at, table, spec, &p) else { break };
        let (ahead, _) = inner(along + 0.5);
        let slope = super::aft_of_plane(at, table, spec, &ahead).map_or(aft.x, |o| (o - off) / 0.5);
        if off.abs() < 1e-9 || slope.abs() < 1e-3 {
            break;
        }
        along -= off / slope;
    }
    let (p, _) = inner(along);
    [p.x, p.y, p.z]
}
