//! Moving the entries of the table, all views at once.
//!
//! Unknown is the change δ of every entry. Wanted is the least of
//!
//! ```text
//! Σ_lines z'Kz/s²  +  SECTIONS Σ_sections (y'Ky + z'Kz)/s²  +  PULL Σ (δ/tol)²,    |δ| ≤ tol
//! ```
//!
//! where K is the energy of the fair curve through a line (over x) or a section (over its chords), each measured in
//! its own mean spacing, and s is the size of bend the line or section has anyway (`energy::size`), so that a hard
//! bilge is not eased as if it were noise. `tol` is the tolerance square to the skin, so an entry whose
//! line crosses the skin at a flat angle may move further. Entries that are doubtful (`misprints`) are left out of the
//! data: they have neither pull nor limit and go where the rest want them. The chords are measured again from the
//! fair points and the whole solved again.
//!
//! The two weights were chosen on our example boats' tables before and after rounding: docs/fairing.md.
//! Which way errors fall: what bends between two stations is not seen, and a true hard bend is eased, by no more than
//! the tolerance.

use super::energy::{Energy, Term, size};
use super::line::{Line, line};
use super::misprints::{self, Doubt};
use super::profile::Ends;
use super::sections::{SectionPoint, chain};
use super::{FairCell, FairRow, LinesError};
use crate::geom::fair::{chord_knots, scaled_energy_matrix};
use crate::offsets::{StationAt, Table};
use crate::spec::Spec;
use crate::units::slips;

/// Weight of a section against a line: a section has few points and much shape.
const SECTIONS: f64 = 0.3;
/// Weight of staying at the table.
const PULL: f64 = 10.0;
/// Weight that holds an entry standing on a post to the post, mm².
const TIE: f64 = 10.0;
/// Rounds of measuring chords and solving.
const ROUNDS: usize = 3;
/// Least share of a change that counts square to the skin: an entry may move at most four times the tolerance.
const FLATTEST: f64 = 0.25;

/// Fairs the table, its entries weighed one by one first if `weigh`; a tolerance of zero leaves it as it is.
///
/// # Errors
/// [`LinesError::Line`], [`LinesError::Section`] where entries coincide, [`LinesError::NotFaired`].
pub fn fair(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    stations: &[usize],
    weigh: bool,
) -> Result<Vec<FairRow>, LinesError> {
    let given: Vec<Vec<Option<f64>>> =
        table.rows.iter().map(|r| r.cells.iter().map(|c| c.as_ref().map(|c| c.mm)).collect()).collect();
    let within = spec.lines.fair_within;
    let mut values = given.clone();
    let mut square = vec![vec![1.0; table.stations.len()]; table.rows.len()];
    let mut doubts = Vec::new();
    if within > 0.0 {
        if weigh {
            doubts = misprints::doubtful(table, spec, ends, &given)?;
        }
        let unknowns = Unknowns::of(&given);
        for d in &doubts {
            values[d.at.0][d.at.1] = Some(d.expected);
        }
        let doubtful: Vec<_> = doubts.iter().map(|d| d.at).collect();
        for _ in 0..ROUNDS {
            let mut energy = Energy::zeros(unknowns.count);
            for r in 0..table.rows.len() {
                line_energy(&mut energy, &unknowns, table, r, &line(table, spec, ends, r, &given))?;
            }
            let all: Vec<usize> = stations.iter().copied().chain(transom_column(table)).collect();
            for station in all {
                section_energy(&mut energy, &unknowns, table, spec, ends, station, &given, &values, &mut square)?;
            }
            let tol: Vec<Option<f64>> = unknowns
                .places
                .iter()
                .map(|&(r, c)| (!doubtful.contains(&(r, c))).then_some(within / square[r][c]))
                .collect();
            for (u, tol) in tol.iter().enumerate() {
                if let Some(tol) = tol {
                    energy.tie(u, PULL / (tol * tol), 0.0);
                }
            }
            let change = energy.least(&tol).map_err(|status| LinesError::NotFaired { within_mm: within, status })?;
            for (&(r, c), d) in unknowns.places.iter().zip(&change) {
                values[r][c] = given[r][c].map(|v| v + d);
            }
        }
    }
    Ok(table
        .rows
        .iter()
        .enumerate()
        .map(|(r, row)| FairRow {
            cells: (0..row.cells.len()).map(|c| fair_cell(table, (r, c), &values, &doubts, spec)).collect(),
        })
        .collect())
}

fn fair_cell(
    table: &Table,
    (r, c): (usize, usize),
    values: &[Vec<Option<f64>>],
    doubts: &[Doubt],
    spec: &Spec,
) -> Option<FairCell> {
    let (cell, fair) = (table.rows[r].cells[c].as_ref()?, values[r][c]?);
    let change = fair - cell.mm;
    let doubt = doubts.iter().find(|d| d.at == (r, c));
    let sure = doubt.map_or(0.0, |d| (SURE[0] * spec.lines.fair_within).max(SURE[1] * d.spread));
    // Where it may as well be another entry that is wrong, none is corrected.
    let reads_like = doubt.filter(|d| d.or.is_empty()).map(|_| {
        let near = slips(&cell.text, spec.lengths)
            .into_iter()
            .map(|(text, mm)| ((mm - fair).abs(), text))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match near {
            Some((off, text)) if off <= sure => text,
            _ => spec.lengths.long(fair),
        }
    });
    let place = |&(r, c): &(usize, usize)| format!("{}, station {}", table.rows[r].name, table.stations[c].name);
    let or = doubt.map_or_else(Vec::new, |d| d.or.iter().map(place).collect());
    Some(FairCell { fair, change, suspect: doubt.is_some(), reads_like, or })
}

/// A slip of the pen explains a doubtful entry if it comes as near to the fair skin as so many tolerances, or so many
/// spreads of what the rest of the table says.
const SURE: [f64; 2] = [2.0, 3.0];

/// The transom's column, where the table has one.
fn transom_column(table: &Table) -> Option<usize> {
    table.stations.iter().position(|s| s.at == StationAt::Transom)
}

/// Which entry is which unknown.
struct Unknowns {
    places: Vec<(usize, usize)>,
    index: Vec<Vec<Option<usize>>>,
    count: usize,
}

impl Unknowns {
    fn of(given: &[Vec<Option<f64>>]) -> Self {
        let mut places = Vec::new();
        let index = given
            .iter()
            .enumerate()
            .map(|(r, row)| {
                row.iter()
                    .enumerate()
                    .map(|(c, v)| {
                        v.map(|_| {
                            places.push((r, c));
                            places.len() - 1
                        })
                    })
                    .collect()
            })
            .collect();
        Unknowns { count: places.len(), places, index }
    }
}

fn line_energy(
    energy: &mut Energy,
    unknowns: &Unknowns,
    table: &Table,
    r: usize,
    line: &Line,
) -> Result<(), LinesError> {
    for &(c, end) in &line.tied {
        if let (Some(u), Some(p)) = (unknowns.index[r][c], line.points.iter().find(|p| p.column == Some(c))) {
            energy.tie(u, TIE, end - p.value);
        }
    }
    if line.points.len() < 2 {
        return Ok(());
    }
    let knots: Vec<f64> = line.points.iter().map(|p| p.x).collect();
    let k = scaled_energy_matrix(&knots).map_err(|why| LinesError::Line { row: table.rows[r].name.clone(), why })?;
    let unknown = |column: Option<usize>| column.and_then(|c| unknowns.index[r][c]).map(|u| (u, 1.0));
    let terms: Vec<Term> = line.points.iter().map(|p| Term { value: p.value, unknown: unknown(p.column) }).collect();
    let values: Vec<f64> = line.points.iter().map(|p| p.value).collect();
    energy.add(size(&k, &[&values]).powi(-2), &k, &terms);
    Ok(())
}

#[allow(clippy::too_many_arguments, reason = "one call site; a struct would only rename the arguments")]
fn section_energy(
    energy: &mut Energy,
    unknowns: &Unknowns,
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    station: usize,
    given: &[Vec<Option<f64>>],
    values: &[Vec<Option<f64>>],
    square: &mut [Vec<f64>],
) -> Result<(), LinesError> {
    let points = chain(table, spec, ends, station, values);
    if points.len() < 4 {
        return Ok(());
    }
    let yz: Vec<[f64; 2]> = points.iter().map(|p| p.yz).collect();
    let knots = chord_knots(&yz);
    let k = scaled_energy_matrix(&knots)
        .map_err(|why| LinesError::Section { station: table.stations[station].name.clone(), why })?;
    let (y, z): (Vec<f64>, Vec<f64>) = yz.iter().map(|p| (p[0], p[1])).unzip();
    let weight = SECTIONS * size(&k, &[&y, &z]).powi(-2);
    for axis in 0..2 {
        let terms: Vec<Term> = points.iter().map(|p| term(p, axis, unknowns, station, given, values)).collect();
        energy.add(weight, &k, &terms);
    }
    for (i, p) in points.iter().enumerate() {
        let (before, after) = (yz[i.saturating_sub(1)], yz[(i + 1).min(yz.len() - 1)]);
        let (dy, dz) = (after[0] - before[0], after[1] - before[1]);
        let length = dy.hypot(dz).max(f64::MIN_POSITIVE);
        for m in &p.moves {
            // The sheer and the rabbet are edges: both their entries are held to the tolerance itself.
            let is_edge = i == 0 || i == points.len() - 1;
            let across = ((dz * m.toward[0] - dy * m.toward[1]) / length).abs();
            square[m.row][station] = if is_edge { 1.0 } else { across.max(FLATTEST) };
        }
    }
    Ok(())
}

fn term(
    p: &SectionPoint,
    axis: usize,
    unknowns: &Unknowns,
    station: usize,
    given: &[Vec<Option<f64>>],
    values: &[Vec<Option<f64>>],
) -> Term {
    let mut value = p.yz[axis];
    let mut unknown = None;
    for m in &p.moves {
        if m.toward[axis] == 0.0 {
            continue;
        }
        if let (Some(u), Some(v), Some(g)) =
            (unknowns.index[m.row][station], values[m.row][station], given[m.row][station])
        {
            value -= m.toward[axis] * (v - g);
            unknown = Some((u, m.toward[axis]));
        }
    }
    Term { value, unknown }
}
