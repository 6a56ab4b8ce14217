//! What the rest of the table says an entry should be.
//!
//! Two witnesses, each without the entry itself: the fair curve through the rest of its line, and the fair curve
//! through the rest of its section, where it crosses the entry's measuring line. How far to trust each is learnt from
//! the table: left out, the points of a line would lie off by tᵢ/√Kᵢᵢ (K the line's energy), where the tᵢ are numbers
//! of one size; that size, the median of the rest, tells how far this entry may lie off. So a hard bilge is trusted
//! less than a straight run, and the end of a line less than its middle.
//!
//! Which way errors fall: a true shape bent hard at just one place is distrusted, and two wrong entries side by side
//! speak for one another.

use super::LinesError;
use super::line::{Line, line};
use super::profile::Ends;
use super::sections::{chain, merged};
use crate::geom::fair::{FairCurve, FairError, chord_knots, scaled_energy_matrix};
use crate::offsets::Table;
use crate::spec::Spec;
use nalgebra::DMatrix;

/// Where a witness would have an entry, and the spread of that, mm in the entry's own measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Witness {
    /// The entry as the witness has it.
    pub expected: f64,
    /// Its standard deviation.
    pub spread: f64,
}

/// Least points of a line or section, without the entry, that say anything of it.
const FEWEST: usize = 5;
/// The median of |t| is this share of the spread, for normal errors along one axis,
const MEDIAN: f64 = 0.6745;
/// and this where the root mean square of two axes is taken.
const MEDIAN_OF_TWO: f64 = 0.8326;
/// Sine between the section and the measuring line below which the section says nothing.
const FLATTEST: f64 = 0.2;

/// Shorter gaps than this share of the mean one say nothing of a section's bend.
const TOUCHING: f64 = 0.02;
/// How far a section is run on past its ends, as a share of its length, to meet a measuring line.
const BEYOND: f64 = 0.25;

/// The table without the entries that are left out.
pub struct Evidence<'a> {
    /// The table as printed.
    pub table: &'a Table,
    spec: &'a Spec,
    ends: &'a Ends,
    /// By row and column; `None` where there is no entry or it is left out, mm.
    pub values: Vec<Vec<Option<f64>>>,
    /// The size of bend of the usual line and of the usual section.
    usual: [f64; 2],
}

impl<'a> Evidence<'a> {
    /// Evidence from `values`, by row and column.
    ///
    /// # Errors
    /// A line or section whose points stand at one place.
    pub fn new(
        table: &'a Table,
        spec: &'a Spec,
        ends: &'a Ends,
        values: Vec<Vec<Option<f64>>>,
    ) -> Result<Self, LinesError> {
        let mut evidence = Evidence { table, spec, ends, values, usual: [0.0, 0.0] };
        let (mut lines, mut sections) = (Vec::new(), Vec::new());
        for r in 0..table.rows.len() {
            let bends = line_bends(&evidence.line(r, &evidence.values)).map_err(|why| evidence.of_row(r, why))?;
            lines.extend(bends.map(|b| median(b) / MEDIAN));
        }
        for c in 0..table.stations.len() {
            let points = merged(chain(table, spec, ends, c, &evidence.values), super::sections::near(spec));
            let bends = section_bends(&points).map_err(|why| evidence.of_station(c, why))?;
            sections.extend(bends.map(|b| median(b) / MEDIAN_OF_TWO));
        }
        evidence.usual = [median(lines), median(sections)];
        Ok(evidence)
    }

    /// The same with this entry left out too.
    #[must_use]
    pub fn without(&self, (r, c): (usize, usize)) -> Self {
        let mut values = self.values.clone();
        values[r][c] = None;
        Evidence { values, ..*self }
    }

    fn with(&self, (r, c): (usize, usize), given: f64) -> Vec<Vec<Option<f64>>> {
        let mut values = self.values.clone();
        values[r][c] = Some(given);
        values
    }

    fn line(&self, r: usize, values: &[Vec<Option<f64>>]) -> Line {
        line(self.table, self.spec, self.ends, r, values)
    }

    fn of_row(&self, r: usize, why: FairError) -> LinesError {
        LinesError::Line { row: self.table.rows[r].name.clone(), why }
    }

    fn of_station(&self, c: usize, why: FairError) -> LinesError {
        LinesError::Section { station: self.table.stations[c].name.clone(), why }
    }

    /// What both witnesses say together of the entry that reads `given`; `noise` is the spread that the table's own
    /// rounding gives any entry, mm.
    ///
    /// # Errors
    /// As [`Evidence::new`].
    pub fn of(&self, at: (usize, usize), given: f64, noise: f64) -> Result<Option<Witness>, LinesError> {
        let heard = [self.by_line(at, given)?, self.by_section(at, given, noise)?];
        let heard: Vec<Witness> =
            heard.into_iter().flatten().map(|w| Witness { spread: w.spread.hypot(noise), ..w }).collect();
        Ok(match heard[..] {
            [a, b] => {
                let (wa, wb) = (a.spread.powi(-2), b.spread.powi(-2));
                // Two that disagree are trusted less by as much.
                let apart = (a.expected - b.expected).abs() / a.spread.hypot(b.spread);
                let expected = (wa * a.expected + wb * b.expected) / (wa + wb);
                Some(Witness { expected, spread: (wa + wb).sqrt().recip() * apart.max(1.0) })
            }
            [one] => Some(one),
            _ => None,
        })
    }

    /// What the rest of its line says.
    fn by_line(&self, (r, c): (usize, usize), given: f64) -> Result<Option<Witness>, LinesError> {
        let of_row = |why| self.of_row(r, why);
        let whole = self.line(r, &self.with((r, c), given));
        if let Some(&(_, end)) = whole.tied.iter().find(|t| t.0 == c) {
            return Ok(Some(Witness { expected: end, spread: 0.0 }));
        }
        let rest = self.line(r, &self.without((r, c)).values);
        let Some(at) = whole.points.iter().position(|p| p.column == Some(c)) else { return Ok(None) };
        let Some(bends) = line_bends(&rest).map_err(of_row)? else { return Ok(None) };
        let (knots, heights): (Vec<f64>, Vec<[f64; 1]>) = rest.points.iter().map(|p| (p.x, [p.value])).unzip();
        let curve = FairCurve::through(&knots, &heights).map_err(of_row)?;
        let all: Vec<f64> = whole.points.iter().map(|p| p.x).collect();
        let k = scaled_energy_matrix(&all).map_err(of_row)?;
        let size = size(bends, MEDIAN, self.usual[0]) * rescaled(&knots, &all);
        Ok(Some(Witness { expected: curve.at(all[at])[0], spread: size / k[(at, at)].sqrt() }))
    }

    /// What the rest of its section says, where it crosses the entry's measuring line: the flatter, the less surely.
    fn by_section(&self, (r, c): (usize, usize), given: f64, noise: f64) -> Result<Option<Witness>, LinesError> {
        let of_station = |why| self.of_station(c, why);
        let mut rest = chain(self.table, self.spec, self.ends, c, &self.with((r, c), given));
        let found = rest.iter().enumerate().find_map(|(i, p)| Some((i, p.moves.iter().find(|m| m.row == r)?.toward)));
        let Some((at, toward)) = found else { return Ok(None) };
        let origin = rest.remove(at).yz;
        let yz = merged(rest, super::sections::near(self.spec));
        let Some(bends) = section_bends(&yz).map_err(of_station)? else { return Ok(None) };
        let curve = FairCurve::by_chords(&yz).map_err(of_station)?;
        let Some((t, off)) = crossing(&curve, origin, toward) else { return Ok(None) };
        let d = curve.d1(t);
        let reach = toward[0].hypot(toward[1]);
        let across = (d[0] * toward[1] - d[1] * toward[0]).abs() / (d[0].hypot(d[1]) * reach);
        if across < FLATTEST {
            return Ok(None);
        }
        let mut knots = curve.knots().to_vec();
        let place = knots.partition_point(|&k| k < t);
        knots.insert(place, t);
        let mean = (knots[knots.len() - 1] - knots[0]) / (knots.len() - 1) as f64;
        let square = if knots.windows(2).any(|w| w[1] - w[0] < TOUCHING * mean) {
            // On a neighbour's place: as sure as that one is.
            0.0
        } else {
            let k = scaled_energy_matrix(&knots).map_err(of_station)?;
            size(bends, MEDIAN_OF_TWO, self.usual[1]) * rescaled(curve.knots(), &knots) / k[(place, place)].sqrt()
        };
        Ok(Some(Witness { expected: given + off, spread: square.hypot(noise) / (across * reach) }))
    }
}

/// Where `curve` crosses the line through `origin` along `toward`, nearest to `origin`: its parameter, and how many
/// times `toward` that is from `origin`.
fn crossing(curve: &FairCurve<2>, origin: [f64; 2], toward: [f64; 2]) -> Option<(f64, f64)> {
    let square = toward[0] * toward[0] + toward[1] * toward[1];
    let from = |t: f64| {
        let p = curve.at(t);
        [p[0] - origin[0], p[1] - origin[1]]
    };
    let side = |t: f64| {
        let d = from(t);
        d[0] * toward[1] - d[1] * toward[0] > 0.0
    };
    let end = curve.knots()[curve.knots().len() - 1];
    let samples = 240;
    let at = |i: i32| end * ((1.0 + 2.0 * BEYOND) * f64::from(i) / f64::from(samples) - BEYOND);
    let mut nearest: Option<(f64, f64)> = None;
    for i in 0..samples {
        let (mut a, mut b) = (at(i), at(i + 1));
        let first = side(a);
        if first == side(b) {
            continue;
        }
        for _ in 0..40 {
            let mid = 0.5 * (a + b);
            if side(mid) == first { a = mid } else { b = mid }
        }
        let d = from(a);
        let off = (d[0] * toward[0] + d[1] * toward[1]) / square;
        if nearest.is_none_or(|n| off.abs() < n.1.abs()) {
            nearest = Some((a, off));
        }
    }
    nearest
}

/// The size of bend of a line, pulled towards the usual one as if that were so many points more.
fn size(bends: Vec<f64>, middle: f64, usual: f64) -> f64 {
    let n = bends.len() as f64;
    let own = median(bends) / middle;
    ((n * own.max(LEAST).ln() + PRIOR * usual.max(LEAST).ln()) / (n + PRIOR)).exp()
}

/// How many points the usual line counts for.
const PRIOR: f64 = 3.0;
/// No line bends less than this, mm: no table is better.
const LEAST: f64 = 0.05;

fn line_bends(line: &Line) -> Result<Option<Vec<f64>>, FairError> {
    if line.points.len() < FEWEST {
        return Ok(None);
    }
    let knots: Vec<f64> = line.points.iter().map(|p| p.x).collect();
    let k = scaled_energy_matrix(&knots)?;
    let z: Vec<f64> = line.points.iter().map(|p| p.value).collect();
    Ok(Some(bends(&k, &[&z])))
}

fn section_bends(yz: &[[f64; 2]]) -> Result<Option<Vec<f64>>, FairError> {
    if yz.len() < FEWEST {
        return Ok(None);
    }
    // Two entries that mean one point, as a buttock on a waterline may, make no misprint: the section is not asked.
    let k = match scaled_energy_matrix(&chord_knots(yz)) {
        Err(FairError::Touching { .. }) => return Ok(None),
        k => k?,
    };
    let (y, z): (Vec<f64>, Vec<f64>) = yz.iter().map(|p| (p[0], p[1])).unzip();
    Ok(Some(bends(&k, &[&y, &z])))
}

/// |(Kz)ᵢ|/√Kᵢᵢ, the axes together.
fn bends(k: &DMatrix<f64>, axes: &[&[f64]]) -> Vec<f64> {
    (0..k.nrows())
        .filter(|&i| k[(i, i)] > 0.0)
        .map(|i| {
            let squares = axes.iter().map(|z| (0..z.len()).map(|j| k[(i, j)] * z[j]).sum::<f64>().powi(2));
            (squares.sum::<f64>() / axes.len() as f64 / k[(i, i)]).sqrt()
        })
        .collect()
}

/// What turns a size of bend measured in the mean spacing of one run of knots into that of another.
fn rescaled(from: &[f64], to: &[f64]) -> f64 {
    let mean = |knots: &[f64]| (knots[knots.len() - 1] - knots[0]) / (knots.len() - 1) as f64;
    (mean(to) / mean(from)).powf(2.5)
}

fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    of.get(of.len() / 2).copied().unwrap_or(0.0)
}
