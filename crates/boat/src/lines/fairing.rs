//! Moving the entries of the table, all views at once.
//!
//! Unknown is the change δ of every entry. Wanted is the least of
//!
//! ```text
//! Σ_lines z'Kz  +  SECTIONS Σ_sections (y'Ky + z'Kz)  +  PULL Σ (δ/tol)²  +  SLACK Σ e,    |δ| ≤ tol + e,  e ≥ 0
//! ```
//!
//! where K is the energy of the fair curve through a line (over x) or a section (over its chords), each measured in
//! its own mean spacing, so that every term is in mm². `tol` is the tolerance square to the skin, so an entry whose
//! line crosses the skin at a flat angle may move further. The price of slack grows with its size only in the first
//! power, so few entries use it, and those are the suspects. The chords are measured again from the fair points and
//! the whole solved again, since a misprint spoils them the first time.
//!
//! Errors fall short of the true shape where the table is coarse: what bends between two stations is not seen.
//! Lines alone, or sections alone, make bevels worse, not better: both are needed.

use super::profile::{Ends, LineEnd};
use super::sections::{chain, SectionPoint};
use super::{FairCell, FairRow, LinesError};
use crate::geom::fair::{chord_knots, scaled_energy_matrix};
use crate::offsets::{Row, RowKind, StationAt, Table};
use crate::spec::{Diagonal, Spec};
use crate::units::slips;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus};
use nalgebra::{DMatrix, DVector};

/// Weight of a section's energy against a line's.
const SECTIONS: f64 = 0.5;
/// Weight of staying at the table, against the energies, mm².
const PULL: f64 = 0.5;
/// Price of a millimetre past the tolerance, mm.
const SLACK: f64 = 40.0;
/// An end nearer to a station than this share of the spacing is the same place.
const SAME_PLACE: f64 = 0.06;
/// Rounds of measuring chords and solving.
const ROUNDS: usize = 3;
/// Least share of a change that counts square to the skin: an entry may move at most four times the tolerance.
const FLATTEST: f64 = 0.25;

/// Fairs the table; a tolerance of zero leaves it as it is.
///
/// # Errors
/// [`LinesError::Line`], [`LinesError::Section`] where entries coincide, [`LinesError::NotFaired`].
pub fn fair(table: &Table, spec: &Spec, ends: &Ends, stations: &[usize]) -> Result<Vec<FairRow>, LinesError> {
    let given: Vec<Vec<Option<f64>>> =
        table.rows.iter().map(|r| r.cells.iter().map(|c| c.as_ref().map(|c| c.mm)).collect()).collect();
    let within = spec.lines.fair_within;
    let mut values = given.clone();
    let mut square = vec![vec![1.0; table.stations.len()]; table.rows.len()];
    if within > 0.0 {
        let unknowns = Unknowns::of(&given);
        for _ in 0..ROUNDS {
            let mut energy = Energy::zeros(unknowns.count);
            for r in 0..table.rows.len() {
                line_energy(&mut energy, &unknowns, table, spec, ends, r, &given)?;
            }
            let all: Vec<usize> = stations.iter().copied().chain(transom_column(table)).collect();
            for station in all {
                section_energy(&mut energy, &unknowns, table, spec, ends, station, &given, &values, &mut square)?;
            }
            let tol: Vec<f64> = unknowns.places.iter().map(|&(r, c)| within / square[r][c]).collect();
            let change = solve(energy, &tol).map_err(|status| LinesError::NotFaired { within_mm: within, status })?;
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
            cells: (0..row.cells.len()).map(|c| fair_cell(row, r, c, &values, &square, spec)).collect(),
        })
        .collect())
}

fn fair_cell(
    row: &Row,
    r: usize,
    c: usize,
    values: &[Vec<Option<f64>>],
    square: &[Vec<f64>],
    spec: &Spec,
) -> Option<FairCell> {
    let (cell, fair) = (row.cells[c].as_ref()?, values[r][c]?);
    let change = fair - cell.mm;
    let off = change.abs() * square[r][c];
    // A quarter more than the tolerance, so that an entry on the line is not called doubtful.
    let suspect = spec.lines.fair_within > 0.0 && off > 1.25 * spec.lines.fair_within;
    let reads_like = suspect.then(|| {
        let near = slips(&cell.text, spec.lengths)
            .into_iter()
            .map(|(text, mm)| ((mm - fair).abs(), text))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match near {
            Some((off, text)) if off < 0.35 * change.abs() => text,
            _ => spec.lengths.long(fair),
        }
    });
    Some(FairCell { fair, change, suspect, reads_like })
}

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

/// ½ δ'Hδ + g'δ.
struct Energy {
    h: DMatrix<f64>,
    g: DVector<f64>,
}

/// A value of a line or section: fixed, plus a multiple of some unknown.
struct Term {
    value: f64,
    unknown: Option<(usize, f64)>,
}

impl Energy {
    fn zeros(n: usize) -> Self {
        Energy { h: DMatrix::zeros(n, n), g: DVector::zeros(n) }
    }

    /// Adds weight · z'Kz of the terms.
    fn add(&mut self, weight: f64, k: &DMatrix<f64>, terms: &[Term]) {
        for (i, a) in terms.iter().enumerate() {
            let Some((ua, ca)) = a.unknown else { continue };
            for (j, b) in terms.iter().enumerate() {
                self.g[ua] += 2.0 * weight * ca * k[(i, j)] * b.value;
                if let Some((ub, cb)) = b.unknown {
                    self.h[(ua, ub)] += 2.0 * weight * ca * cb * k[(i, j)];
                }
            }
        }
    }

    /// Adds weight · (δ − target)².
    fn tie(&mut self, unknown: usize, weight: f64, target: f64) {
        self.h[(unknown, unknown)] += 2.0 * weight;
        self.g[unknown] -= 2.0 * weight * target;
    }
}

/// Where a row's line ends on the posts, and how its value reads there.
fn line_ends(row: &Row, ends: &Ends, diagonals: &[Diagonal]) -> [Option<(f64, f64)>; 2] {
    let place = |e: Option<LineEnd>, value: &dyn Fn(LineEnd) -> f64| e.map(|p| (p[0], value(p)));
    let both = |e: [Option<LineEnd>; 2], value: &dyn Fn(LineEnd) -> f64| e.map(|p| place(p, value));
    match &row.kind {
        RowKind::HeightSheer => both(ends.sheer(), &|p| p[2]),
        RowKind::HalfBreadthSheer => both(ends.sheer(), &|p| p[1]),
        RowKind::HalfBreadthWaterline(z) => both(ends.at_height(*z), &|p| p[1]),
        RowKind::HeightRabbet => [ends.fore_foot(), ends.aft_foot()].map(|p| Some((p[0], p[1]))),
        RowKind::HeightButtock(_) | RowKind::HalfBreadthRabbet => [None, None],
        RowKind::Diagonal(i) => {
            let d = &diagonals[*i];
            both(ends.at_diagonal(d.height, d.below_level), &|p| p[1] / d.below_level.cos())
        }
    }
}

fn line_energy(
    energy: &mut Energy,
    unknowns: &Unknowns,
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    r: usize,
    given: &[Vec<Option<f64>>],
) -> Result<(), LinesError> {
    let row = &table.rows[r];
    let mut line: Vec<(f64, Term)> = Vec::new();
    for (c, station) in table.stations.iter().enumerate() {
        let (Some(value), Some(u)) = (given[r][c], unknowns.index[r][c]) else { continue };
        let x = match (station.at, ends.transom()) {
            (StationAt::Square(x), _) => x,
            (StationAt::Transom, Some(t)) => t.x_at(height_of(&row.kind, value)),
            (StationAt::Transom, None) => continue,
        };
        line.push((x, Term { value, unknown: Some((u, 1.0)) }));
    }
    if line.len() < 2 {
        return Ok(());
    }
    let spacing = (line[line.len() - 1].0 - line[0].0) / (line.len() - 1) as f64;
    for (end, aft) in line_ends(row, ends, &spec.lines.diagonals).into_iter().zip([false, true]) {
        let Some((x, value)) = end else { continue };
        let near = if aft { line.len() - 1 } else { 0 };
        let beyond = if aft { x - line[near].0 } else { line[near].0 - x };
        if beyond > SAME_PLACE * spacing {
            let at = if aft { line.len() } else { 0 };
            line.insert(at, (x, Term { value, unknown: None }));
        } else if beyond > -SAME_PLACE * spacing {
            if let Some((u, _)) = line[near].1.unknown {
                energy.tie(u, 10.0, value - line[near].1.value);
            }
        }
    }
    let knots: Vec<f64> = line.iter().map(|l| l.0).collect();
    let k = scaled_energy_matrix(&knots).map_err(|why| LinesError::Line { row: row.name.clone(), why })?;
    let terms: Vec<Term> = line.into_iter().map(|l| l.1).collect();
    energy.add(1.0, &k, &terms);
    Ok(())
}

/// Height at which to ask the transom where it stands for an entry.
fn height_of(kind: &RowKind, value: f64) -> f64 {
    match kind {
        RowKind::HalfBreadthWaterline(z) => *z,
        _ => value,
    }
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
    for axis in 0..2 {
        let terms: Vec<Term> = points.iter().map(|p| term(p, axis, unknowns, station, given, values)).collect();
        energy.add(SECTIONS, &k, &terms);
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
        if let (Some(u), Some(v), Some(g)) = (unknowns.index[m.row][station], values[m.row][station], given[m.row][station])
        {
            value -= m.toward[axis] * (v - g);
            unknown = Some((u, m.toward[axis]));
        }
    }
    Term { value, unknown }
}

/// Least of the energy with the tolerances of the module's opening; the changes, or what the solver said.
fn solve(mut energy: Energy, tol: &[f64]) -> Result<Vec<f64>, String> {
    let n = tol.len();
    for (i, t) in tol.iter().enumerate() {
        energy.tie(i, PULL / (t * t), 0.0);
    }
    // Variables δ then e. Rows: δ − e ≤ tol, −δ − e ≤ tol, −e ≤ 0.
    let (mut pi, mut pj, mut pv) = (Vec::new(), Vec::new(), Vec::new());
    for j in 0..n {
        for i in 0..=j {
            if energy.h[(i, j)] != 0.0 {
                pi.push(i);
                pj.push(j);
                pv.push(energy.h[(i, j)]);
            }
        }
    }
    let p = CscMatrix::new_from_triplets(2 * n, 2 * n, pi, pj, pv);
    let q: Vec<f64> = energy.g.iter().copied().chain((0..n).map(|_| SLACK)).collect();
    let (mut ai, mut aj, mut av) = (Vec::new(), Vec::new(), Vec::new());
    for i in 0..n {
        for (row, column, v) in
            [(i, i, 1.0), (i, n + i, -1.0), (n + i, i, -1.0), (n + i, n + i, -1.0), (2 * n + i, n + i, -1.0)]
        {
            ai.push(row);
            aj.push(column);
            av.push(v);
        }
    }
    let a = CscMatrix::new_from_triplets(3 * n, 2 * n, ai, aj, av);
    let b: Vec<f64> = tol.iter().chain(tol).copied().chain((0..n).map(|_| 0.0)).collect();
    let settings = DefaultSettingsBuilder::default().verbose(false).build().map_err(|e| e.to_string())?;
    let mut solver =
        DefaultSolver::new(&p, &q, &a, &b, &[NonnegativeConeT(3 * n)], settings).map_err(|e| e.to_string())?;
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => Ok(solver.solution.x[..n].to_vec()),
        other => Err(format!("{other:?}")),
    }
}
