//! Entries that the rest of their own line will not have.
//!
//! Left out, an entry would lie (Kz)ᵢ/Kᵢᵢ from where it does, K being the energy of the fair curve through its line.
//! If lines are as likely as their energy is small, that distance spreads as 1/√Kᵢᵢ, so tᵢ = (Kz)ᵢ/√Kᵢᵢ are numbers of
//! one size along a line; a misprint stands out. The worst of each line is tried first: it is doubtful if it is both
//! far outside the tolerance and far outside the spread of the others *without it*; then the next worst is tried.
//!
//! Which way errors fall: entries at the very end of a line, and small slips, are not found. The sections are not
//! asked yet.

use super::LinesError;
use super::line::{Line, line};
use super::profile::Ends;
use crate::geom::fair::{FairCurve, scaled_energy_matrix};
use crate::offsets::Table;
use crate::spec::Spec;
use nalgebra::DVector;

/// How many times the tolerance an entry must lie off, to be doubtful.
const FAR: f64 = 4.0;
/// How many times the spread of the others.
const ODD: f64 = 5.0;
/// Shorter lines say nothing about their entries.
const FEWEST: usize = 7;
/// The median of |t| is this share of the spread, for normal errors.
const MEDIAN: f64 = 0.6745;

/// Rows and columns of the doubtful entries, in the order found.
///
/// # Errors
/// A line whose entries stand at one place.
pub fn doubtful(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    values: &[Vec<Option<f64>>],
) -> Result<Vec<(usize, usize)>, LinesError> {
    let far = FAR * spec.lines.fair_within;
    let mut found = Vec::new();
    for r in 0..table.rows.len() {
        let whole = line(table, spec, ends, r, values, &[]);
        for &(c, end) in &whole.tied {
            if values[r][c].is_some_and(|v| (v - end).abs() > far) {
                found.push((r, c));
            }
        }
        // At most a fourth of a line can be wrong before it says nothing.
        for _ in 0..whole.points.len() / 4 {
            let now = line(table, spec, ends, r, values, &found);
            let Some((at, t, off)) = worst(table, r, &now)? else { break };
            let Some(column) = now.points[at].column else { break };
            let mut without = now.clone();
            without.points.remove(at);
            if off < far || t < ODD * spread(table, r, &without)? {
                break;
            }
            found.push((r, column));
        }
    }
    Ok(found)
}

/// Where the rest of its line would have the entry; `None` where the line is too short to say.
///
/// # Errors
/// As [`doubtful`].
pub fn expected(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    (r, c): (usize, usize),
    values: &[Vec<Option<f64>>],
    left_out: &[(usize, usize)],
) -> Result<Option<f64>, LinesError> {
    let whole = line(table, spec, ends, r, values, &[]);
    if let Some(&(_, end)) = whole.tied.iter().find(|t| t.0 == c) {
        return Ok(Some(end));
    }
    let rest = line(table, spec, ends, r, values, left_out);
    let Some(x) = whole.points.iter().find(|p| p.column == Some(c)).map(|p| p.x) else { return Ok(None) };
    if rest.points.len() < 4 {
        return Ok(None);
    }
    let knots: Vec<f64> = rest.points.iter().map(|p| p.x).collect();
    let heights: Vec<[f64; 1]> = rest.points.iter().map(|p| [p.value]).collect();
    let curve = FairCurve::through(&knots, &heights)
        .map_err(|why| LinesError::Line { row: table.rows[r].name.clone(), why })?;
    Ok(Some(curve.at(x)[0]))
}

/// t and the distance off of every point of a line.
fn standing(table: &Table, r: usize, line: &Line) -> Result<Vec<(f64, f64)>, LinesError> {
    let knots: Vec<f64> = line.points.iter().map(|p| p.x).collect();
    if knots.len() < FEWEST {
        return Ok(Vec::new());
    }
    let k = scaled_energy_matrix(&knots).map_err(|why| LinesError::Line { row: table.rows[r].name.clone(), why })?;
    let z = DVector::from_iterator(knots.len(), line.points.iter().map(|p| p.value));
    let kz = &k * z;
    Ok((0..knots.len()).map(|i| (kz[i].abs() / k[(i, i)].sqrt(), kz[i].abs() / k[(i, i)])).collect())
}

/// Index, t and distance off of the worst entry that is not at the very end.
fn worst(table: &Table, r: usize, line: &Line) -> Result<Option<(usize, f64, f64)>, LinesError> {
    let all = standing(table, r, line)?;
    let inner = 1..all.len().saturating_sub(1);
    Ok(inner
        .filter(|&i| line.points[i].column.is_some())
        .map(|i| (i, all[i].0, all[i].1))
        .max_by(|a, b| a.1.total_cmp(&b.1)))
}

/// Spread of t along a line, from its median.
fn spread(table: &Table, r: usize, line: &Line) -> Result<f64, LinesError> {
    let mut t: Vec<f64> = standing(table, r, line)?.into_iter().map(|s| s.0).collect();
    if t.is_empty() {
        return Ok(f64::INFINITY);
    }
    t.sort_by(f64::total_cmp);
    Ok(t[t.len() / 2] / MEDIAN)
}
