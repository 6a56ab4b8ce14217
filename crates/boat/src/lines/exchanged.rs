//! Two columns or two rows of the table exchanged.
//!
//! With the figures of two stations exchanged every line bends hard there, so no line is witness against any one entry;
//! but put back, all of them bend less at once. So each pair is tried: the mean change of ln(energy) over the lines that
//! pass there. Rows of one kind are tried the same way on the sections.
//!
//! Which way errors fall: a pair is named only if the energies fall to a third or less on the whole, which exchanging
//! right ones did in none of the tables we have; two stations nearly alike, amidships, may be exchanged and pass.

use super::LinesError;
use super::line::line;
use super::profile::Ends;
use super::sections::chain;
use crate::findings::{Finding, Measure, Stage};
use crate::geom::fair::{FairError, chord_knots, scaled_energy_matrix};
use crate::offsets::{RowKind, Table, Values};
use crate::spec::Spec;
use std::mem::discriminant;

/// The mean change of ln(energy) by which a pair is taken to be exchanged.
const FALL: f64 = -1.1;
/// Fewer lines or sections say nothing.
const FEWEST: usize = 3;
/// Energies below this, mm², are rounding.
const LEAST: f64 = 1e-3;

/// The pair of stations, or of rows, that the table makes most sense with when put back; `None` where it makes most as
/// it is.
///
/// # Errors
/// A line or section whose points stand at one place.
pub fn exchanged(table: &Table, spec: &Spec, ends: &Ends) -> Result<Option<Finding>, LinesError> {
    let values = table.values();
    let lines = |values: &Values| -> Vec<Result<Option<f64>, LinesError>> {
        (0..table.rows.len()).map(|r| line_energy(table, spec, ends, r, values)).collect()
    };
    let sections = |values: &Values| -> Result<Vec<Option<f64>>, LinesError> {
        (0..table.stations.len()).map(|c| section_energy(table, spec, ends, c, values)).collect()
    };
    let mut best: Option<(f64, String)> = None;
    let mut tried = |fall: Option<f64>, words: String| {
        if let Some(fall) = fall.filter(|f| *f < FALL)
            && best.as_ref().is_none_or(|b| fall < b.0)
        {
            best = Some((fall, words));
        }
    };
    let now = lines(&values).into_iter().collect::<Result<Vec<_>, _>>()?;
    // Points that a wrong pair alone brings out of their order, as a raked transom's may come, say that it is wrong.
    let lines_with =
        |values: &Values| lines(values).into_iter().map(|e| e.unwrap_or(Some(f64::MAX))).collect::<Vec<_>>();
    for b in 1..table.stations.len() {
        for a in 0..b {
            let mut put_back = values.clone();
            for row in &mut put_back {
                row.swap(a, b);
            }
            let (a, b) = (&table.stations[a].name, &table.stations[b].name);
            tried(fall(&now, &lines_with(&put_back)), format!("stations {a} and {b}"));
        }
    }
    let now = sections(&values)?;
    for b in 1..table.rows.len() {
        for a in 0..b {
            if !alike(&table.rows[a].kind, &table.rows[b].kind) {
                continue;
            }
            let mut put_back = values.clone();
            put_back.swap(a, b);
            let (a, b) = (&table.rows[a].name, &table.rows[b].name);
            tried(fall(&now, &sections(&put_back)?), format!("rows {a} and {b}"));
        }
    }
    Ok(best.map(|(_, place)| Finding {
        stage: Stage::Lines,
        place,
        measured: Measure::Count(1.0),
        limit: Measure::Count(0.0),
        hint: "look exchanged: put back, the lines run far fairer. Mend offsets.csv first; its entries were not weighed \
               one by one"
            .to_owned(),
    }))
}

/// Rows whose entries could be mistaken for one another's.
pub(super) fn alike(a: &RowKind, b: &RowKind) -> bool {
    let half_breadth = |k: &RowKind| matches!(k, RowKind::HalfBreadthSheer | RowKind::HalfBreadthWaterline(_));
    discriminant(a) == discriminant(b) || (half_breadth(a) && half_breadth(b))
}

/// Mean change of ln(energy), over those that change.
fn fall(now: &[Option<f64>], then: &[Option<f64>]) -> Option<f64> {
    let changes: Vec<f64> = now
        .iter()
        .zip(then)
        .filter_map(|(a, b)| Some((*a)?.max(LEAST).ln() - (*b)?.max(LEAST).ln()))
        .filter(|change| *change != 0.0)
        .collect();
    (changes.len() >= FEWEST).then(|| -changes.iter().sum::<f64>() / changes.len() as f64)
}

fn line_energy(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    r: usize,
    values: &Values,
) -> Result<Option<f64>, LinesError> {
    let points = line(table, spec, ends, r, values).points;
    let knots: Vec<f64> = points.iter().map(|p| p.x).collect();
    let heights: Vec<f64> = points.iter().map(|p| p.value).collect();
    energy(&knots, &[&heights]).map_err(|why| LinesError::Line { row: table.rows[r].name.clone(), why })
}

fn section_energy(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    c: usize,
    values: &Values,
) -> Result<Option<f64>, LinesError> {
    let yz: Vec<[f64; 2]> = chain(table, spec, ends, c, values).iter().map(|p| p.yz).collect();
    let (y, z): (Vec<f64>, Vec<f64>) = yz.iter().map(|p| (p[0], p[1])).unzip();
    let knots = chord_knots(&yz);
    // Points put on top of one another by a wrong pair only say that it is wrong.
    Ok(match energy(&knots, &[&y, &z]) {
        Err(FairError::Touching { .. }) => Some(f64::MAX),
        Err(why) => return Err(LinesError::Section { station: table.stations[c].name.clone(), why }),
        Ok(energy) => energy,
    })
}

/// z'Kz of all axes, mm²; `None` for a line too short to have any.
fn energy(knots: &[f64], axes: &[&[f64]]) -> Result<Option<f64>, FairError> {
    if knots.len() < 5 {
        return Ok(None);
    }
    let k = scaled_energy_matrix(knots)?;
    let of = |z: &[f64]| -> f64 {
        (0..z.len()).flat_map(|i| (0..z.len()).map(move |j| (i, j))).map(|(i, j)| z[i] * k[(i, j)] * z[j]).sum()
    };
    Ok(Some(axes.iter().map(|z| of(z)).sum()))
}
