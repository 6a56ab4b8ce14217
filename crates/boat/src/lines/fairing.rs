//! Moving the entries of the table, all views at once.
//!
//! Unknown is the change δ of every entry. Its lines over x are smooth in the fourth derivative, its sections over their
//! chords in the third (`geom::roughness`), each by its own measure, and the entries have errors; how smooth (lines at each
//! place along the boat) and how large is learnt from the table itself, and the likeliest change taken (`energy`), held
//! within the tolerance of its kind of row square to the skin: an entry whose line crosses the skin at a flat angle may move
//! further.
//!
//! In a section only what moves a point square to the skin counts: sliding along it changes nothing. Points of a section
//! that lie as good as on one another are taken together. Entries that are doubtful (`misprints`) have neither spread nor
//! limit and go where the rest want them. Chords and normals are measured again from the fair points and the whole
//! solved again.
//!
//! What it gains on known hulls: docs/fairing.md. Which way errors fall: what bends between two stations is not seen, and
//! a true hard bend is eased, by no more than the tolerance.

use super::across::section;
use super::energy::{Group, Term, Tie, Trust};
use super::joint;
pub use super::least::Problem;
use super::line::line;
use super::misprints::{self, Doubt};
use super::profile::Ends;
use super::{FairCell, FairRow, LinesError};
use crate::geom::roughness;
use crate::offsets::{RowKind, StationAt, Table, Values};
use crate::spec::Spec;
use crate::units::{Notation, slips};
use nalgebra::{DMatrix, DVector};

/// Order of the derivative that lines are smooth in, and sections.
const LINES: usize = 4;
const SECTIONS: usize = 3;
/// Weight that holds an entry standing on a post to the post, 1/mm².
const TIE: f64 = 10.0;
/// Rounds of measuring chords and normals and solving.
const ROUNDS: usize = 2;
/// In each, no entry's change moves further than this when another round of learning follows, mm: enough to measure by,
/// and a thousandth of an inch.
const STILL: [f64; ROUNDS] = [0.1, 0.025];

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
    let given = table.values();
    let mut values = given.clone();
    let mut doubts = Vec::new();
    if table.rows.iter().any(|row| within(spec, &row.kind) > 0.0) {
        let view = View { table, spec, ends };
        if weigh && spec.lines.fair_within > 0.0 {
            doubts = misprints::doubtful(&view, stations, &given)?;
        }
        let mut there = moved(&view, stations, &given, &doubts, None)?;
        // Lines trusted place by place may have an entry that the weighing would not.
        let far = joint::FAR * spec.lines.fair_within;
        let mut right = doubts
            .iter_mut()
            .filter(|d| d.sure && d.exchanged_with.is_none())
            .filter(|d| there.freed.iter().any(|f| f.at == d.at && (f.off < far || f.z < joint::SURE)))
            .peekable();
        if right.peek().is_some() {
            right.for_each(|d| d.sure = false);
            there = moved(&view, stations, &given, &doubts, Some(there.trust))?;
        }
        values = there.values;
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

/// The quadratic that the last round makes least, all entries held: what is left when curves and trust are measured, for
/// whoever would solve it in another way. Its unknowns are the entries, row by row.
///
/// # Errors
/// As [`fair`], and ends that cannot be drawn.
pub fn problem(table: &Table, spec: &Spec) -> Result<Problem, LinesError> {
    let ends = Ends::new(spec)?;
    let stations = ends.sections_between(table)?;
    Ok(moved(&View { table, spec, ends: &ends }, &stations, &table.values(), &[], None)?.problem)
}

/// The entries where the likeliest change puts them.
struct Moved {
    values: Values,
    /// What that made least.
    problem: Problem,
    /// Those that had neither spread nor limit.
    freed: Vec<Freed>,
    trust: Trust,
}

/// An entry that went where the rest want it.
struct Freed {
    at: (usize, usize),
    /// How far off it stood, mm, and in normal spreads.
    off: f64,
    z: f64,
}

/// What the table is seen through.
pub(super) struct View<'a> {
    pub table: &'a Table,
    pub spec: &'a Spec,
    pub ends: &'a Ends,
}

/// Moves the entries, those doubted for sure without limit. `start`: what was learnt before with other doubts.
fn moved(
    view: &View<'_>,
    stations: &[usize],
    given: &Values,
    doubts: &[Doubt],
    start: Option<Trust>,
) -> Result<Moved, LinesError> {
    let given_within = view.spec.lines.fair_within;
    let not_faired = |status| LinesError::NotFaired { within_mm: given_within, status };
    let mut base = given.clone();
    for d in doubts.iter().filter(|d| d.sure) {
        base[d.at.0][d.at.1] = Some(d.expected);
    }
    let unknowns = Unknowns::of(given);
    let free: Vec<bool> = unknowns.places.iter().map(|at| doubts.iter().any(|d| d.sure && d.at == *at)).collect();
    let (lines, held) = lines(view, &unknowns, &base)?;
    let columns: Vec<usize> = stations.iter().copied().chain(transom_columns(view.table)).collect();
    let (least, first) = (rounding(view.spec.lengths), first_spread(view.spec));
    let mut values = base.clone();
    let mut square = vec![1.0; unknowns.places.len()];
    let mut trust = start;
    let mut round = 1;
    loop {
        let mut terms: Vec<&Term> = lines.iter().collect();
        let spread = trust.as_ref().map_or(first, |t| t.square_spread().sqrt());
        let sections = columns
            .iter()
            .map(|&station| section((SECTIONS, spread), view, &unknowns, station, &base, &values, &mut square))
            .collect::<Result<Vec<_>, _>>()?;
        let (sections, pairs): (Vec<_>, Vec<_>) = sections.into_iter().unzip();
        terms.extend(sections.iter().flatten());
        let ties: Vec<Tie> = held.iter().cloned().chain(pairs.into_iter().flatten()).collect();
        let mut now =
            trust.filter(|t| t.is_of(&terms)).unwrap_or_else(|| Trust::start(&terms, first).by_place(&terms));
        now.learn(&terms, &ties, &free, least, STILL[round - 1]).map_err(not_faired)?;
        let limit = unknowns.places.iter().zip(free.iter().zip(&square));
        let limit = limit
            .map(|(at, (free, square))| (!free).then(|| within(view.spec, &view.table.rows[at.0].kind) / square));
        let limit: Vec<Option<f64>> = limit.collect();
        let problem = now.problem(&terms, &ties, &free, limit);
        let change = problem.least().map_err(not_faired)?;
        for (&(r, c), d) in unknowns.places.iter().zip(&change) {
            values[r][c] = base[r][c].map(|v| v + d);
        }
        if round == ROUNDS {
            let mut freed = Vec::new();
            if free.contains(&true) {
                let known = now.known(&terms, &ties, &free).map_err(not_faired)?;
                for (u, &(r, c)) in unknowns.places.iter().enumerate().filter(|(u, _)| free[*u]) {
                    let stood = given[r][c].unwrap_or_default() - base[r][c].unwrap_or_default();
                    let off = (known.change[u] - stood).abs();
                    let (_, z) = joint::oddness(off, u, &known, &now, &terms);
                    freed.push(Freed { at: (r, c), off, z });
                }
            }
            return Ok(Moved { values, problem, freed, trust: now });
        }
        (trust, round) = (Some(now), round + 1);
    }
}

/// How far the entries of such a row may be moved square to the skin, mm.
fn within(spec: &Spec, kind: &RowKind) -> f64 {
    let by = &spec.lines.fair_within_by;
    let own = match kind {
        RowKind::HeightSheer | RowKind::HeightRabbet => by.heights,
        RowKind::HeightButtock(_) => by.buttocks,
        RowKind::HalfBreadthSheer | RowKind::HalfBreadthRabbet | RowKind::HalfBreadthWaterline(_) => by.half_breadths,
        RowKind::Diagonal(_) => by.diagonals,
    };
    own.unwrap_or(spec.lines.fair_within)
}

/// Spread of an entry that is only rounded, mm: the table's unit over √12.
pub(super) fn rounding(lengths: Notation) -> f64 {
    lengths.unit_of_table() / 12.0_f64.sqrt()
}

/// What entries' spread is taken for before anything is learnt, mm: a third of the tolerance, but no less than rounding gives.
pub(super) fn first_spread(spec: &Spec) -> f64 {
    rounding(spec.lengths).max(spec.lines.fair_within / 3.0)
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
    // Where it may as well be another entry that is wrong, none is corrected.
    let (reads_like, why) = match doubt.filter(|d| d.or.is_empty()) {
        Some(Doubt { exchanged_with: Some((row, column)), .. }) => {
            let (name, with) = (&table.rows[*row].name, &table.stations[*column].name);
            let why = if *row == r {
                format!("the figures of stations {} and {with} are exchanged", table.stations[c].name)
            } else {
                format!("its figures are exchanged with those of {name}")
            };
            (table.rows[*row].cells[*column].as_ref().map(|c| c.text.clone()), Some(why))
        }
        Some(d) => {
            let (reads, why) = meant(&cell.text, d, if d.sure { fair } else { d.expected }, spec);
            (Some(reads), why)
        }
        None => (None, None),
    };
    let place = |&(r, c): &(usize, usize)| format!("{}, station {}", table.rows[r].name, table.stations[c].name);
    let or = doubt.map_or_else(Vec::new, |d| d.or.iter().map(place).collect());
    let (suspect, look_first) = (doubt.is_some_and(|d| d.sure), doubt.is_some_and(|d| !d.sure));
    let expected = doubt.map(|d| d.expected);
    Some(FairCell { fair, change, suspect, look_first, expected, reads_like, why, or })
}

/// What the entry that says `text` should probably say, and what slip of the pen that is.
fn meant(text: &str, doubt: &Doubt, fair: f64, spec: &Spec) -> (String, Option<String>) {
    let sure = (SURE[0] * spec.lines.fair_within).max(SURE[1] * doubt.spread);
    let near =
        slips(text, spec.lengths).into_iter().min_by(|a, b| (a.mm - fair).abs().total_cmp(&(b.mm - fair).abs()));
    match near {
        Some(slip) if (slip.mm - fair).abs() <= sure => (slip.text, Some(slip.kind.to_string())),
        _ => (spec.lengths.long(fair), None),
    }
}

/// A slip of the pen explains a doubtful entry if it comes as near to the fair skin as so many tolerances, or so many
/// spreads of what the rest of the table says.
const SURE: [f64; 2] = [2.0, 3.0];

/// The transoms' columns, where the table has any.
pub(super) fn transom_columns(table: &Table) -> impl Iterator<Item = usize> {
    let stations = table.stations.iter().enumerate();
    stations.filter(|(_, s)| matches!(s.at, StationAt::Transom | StationAt::BowTransom)).map(|(c, _)| c)
}

/// Which entry is which unknown.
pub(super) struct Unknowns {
    pub places: Vec<(usize, usize)>,
    pub index: Vec<Vec<Option<usize>>>,
}

impl Unknowns {
    pub fn of(given: &[Vec<Option<f64>>]) -> Self {
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
        Unknowns { places, index }
    }
}

/// The lines, and the entries that stand on a post.
pub(super) fn lines(
    view: &View<'_>,
    unknowns: &Unknowns,
    base: &Values,
) -> Result<(Vec<Term>, Vec<Tie>), LinesError> {
    let (mut terms, mut ties) = (Vec::new(), Vec::new());
    for (r, row) in view.table.rows.iter().enumerate() {
        let line = line(view.table, view.spec, view.ends, r, base);
        for &(c, end) in &line.tied {
            if let (Some(unknown), Some(value)) = (unknowns.index[r][c], base[r][c]) {
                ties.push(Tie { of: vec![(unknown, 1.0)], weight: TIE, target: end - value });
            }
        }
        if line.points.len() <= LINES {
            continue;
        }
        let knots: Vec<f64> = line.points.iter().map(|p| p.x).collect();
        let half = roughness::half(&knots, LINES).map_err(|why| LinesError::Line { row: row.name.clone(), why })?;
        let fixed = DVector::from_iterator(knots.len(), line.points.iter().map(|p| p.value));
        let moving: Vec<(usize, usize)> =
            line.points.iter().enumerate().filter_map(|(i, p)| Some((i, unknowns.index[r][p.column?]?))).collect();
        let mut moves = DMatrix::zeros(knots.len(), moving.len());
        for (column, (point, _)) in moving.iter().enumerate() {
            moves[(*point, column)] = 1.0;
        }
        let own = moving.into_iter().map(|m| m.1).collect();
        terms.push(Term::by_places(group(&row.kind), own, (&half.0, half.1), (&fixed, &moves)));
    }
    Ok((terms, ties))
}

fn group(kind: &RowKind) -> Group {
    match kind {
        RowKind::HeightSheer | RowKind::HeightRabbet => Group::Edges,
        RowKind::HeightButtock(_) => Group::Buttocks,
        RowKind::HalfBreadthSheer
        | RowKind::HalfBreadthRabbet
        | RowKind::HalfBreadthWaterline(_)
        | RowKind::Diagonal(_) => Group::Breadths,
    }
}
