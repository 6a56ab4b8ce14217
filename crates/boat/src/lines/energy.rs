//! The quadratic that fairing makes least (`least`): how far each line and section may be trusted to be smooth.
//!
//! Unknown is the change δ of every entry. Line or section k has roughness Eₖ(δ) = δ'Pₖδ + 2bₖ'δ + cₖ; if curves are as
//! likely as they are smooth, its mean over what it can say (its rank) is the square of a size sₖ of its own, and the
//! entries' errors have a spread σ of theirs. Both are learnt from the table (`learn`): given sizes and spread, the
//! likeliest change is where Σ mₖEₖ/sₖ² + δ'δ/σ² is least, and how far it may still be off, its covariance Σ, is known too.
//! What of a roughness was pressed down to fit its size says nothing of it; what is left says as much as rank − m tr(ΣPₖ)/sₖ²
//! points, and Eₖ over these is the new size; so with the errors, over n − tr(Σ)/σ². And so on until they stand. A size is
//! drawn towards its group's, as if that were a point more: a short line says little of its own. Source: [MacKay].
//!
//! Lines turn where the boat turns, most of them at the same place. So `Trust::by_place` learns too how rough lines of a
//! family are at each place along the boat, as a share of their sizes.

use super::least::{NO_LEAST, Problem, inverse};
use nalgebra::{DMatrix, DVector};
use std::borrow::Cow;

/// What a line or section is, and is likened to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// Waterlines and the sheer's half-breadths, and diagonals.
    Breadths,
    /// Heights of sheer and rabbet.
    Edges,
    /// Buttocks.
    Buttocks,
    /// Sections.
    Sections,
}

/// A line's roughness place by place: |fixed + moves·δ|², a row for each place.
#[derive(Clone)]
struct Rows {
    /// Along the boat, mm.
    places: Vec<f64>,
    fixed: DVector<f64>,
    moves: DMatrix<f64>,
}

/// One line's or section's roughness.
#[derive(Clone)]
pub struct Term {
    group: Group,
    /// Indices of its unknowns.
    unknowns: Vec<usize>,
    /// P and b on those unknowns, and c.
    p: DMatrix<f64>,
    b: DVector<f64>,
    c: f64,
    rank: f64,
    rows: Option<Rows>,
}

impl Term {
    /// z'Kz over all axes, with z = `fixed` + `moves`·δ on `unknowns`: one column of `fixed` and one matrix of `moves`
    /// for each axis.
    pub fn new(
        group: Group,
        unknowns: Vec<usize>,
        k: &DMatrix<f64>,
        axes: &[(DVector<f64>, DMatrix<f64>)],
        rank: usize,
    ) -> Self {
        let n = unknowns.len();
        let (mut p, mut b, mut c) = (DMatrix::zeros(n, n), DVector::zeros(n), 0.0);
        for (fixed, moves) in axes {
            let (k_fixed, k_moves) = (k * fixed, k * moves);
            p += moves.transpose() * k_moves;
            b += moves.transpose() * &k_fixed;
            c += fixed.dot(&k_fixed);
        }
        Term { group, unknowns, p, b, c, rank: rank as f64, rows: None }
    }

    /// The same for one axis, where K = half'half with a row of `half` for each of `places`.
    pub fn by_places(
        group: Group,
        unknowns: Vec<usize>,
        (half, places): (&DMatrix<f64>, Vec<f64>),
        (fixed, moves): (&DVector<f64>, &DMatrix<f64>),
    ) -> Self {
        let rows = Rows { places, fixed: half * fixed, moves: half * moves };
        let rank = half.nrows() as f64;
        let bare = Term { group, unknowns, p: DMatrix::zeros(0, 0), b: DVector::zeros(0), c: 0.0, rank, rows: None };
        let shares = vec![1.0; rows.places.len()];
        Term { rows: Some(rows.clone()), ..bare.weighed(&rows, &shares) }
    }

    /// With the roughness of each row over its share.
    fn weighed(&self, rows: &Rows, shares: &[f64]) -> Term {
        let (mut moves, mut fixed) = (rows.moves.clone(), rows.fixed.clone());
        for (i, share) in shares.iter().enumerate() {
            moves.row_mut(i).unscale_mut(*share);
            fixed[i] /= share;
        }
        Term {
            group: self.group,
            unknowns: self.unknowns.clone(),
            p: rows.moves.transpose() * &moves,
            b: rows.moves.transpose() * &fixed,
            c: rows.fixed.dot(&fixed),
            rank: self.rank,
            rows: None,
        }
    }

    /// Its roughness where the entries change by `change`.
    fn at(&self, change: &DVector<f64>) -> f64 {
        let d = DVector::from_iterator(self.unknowns.len(), self.unknowns.iter().map(|&u| change[u]));
        self.c + 2.0 * self.b.dot(&d) + d.dot(&(&self.p * &d))
    }

    /// What the spread of the changes adds to it: tr(ΣP).
    fn spread(&self, covariance: &DMatrix<f64>) -> f64 {
        let u = &self.unknowns;
        (0..u.len()).map(|i| (0..u.len()).map(|j| self.p[(i, j)] * covariance[(u[i], u[j])]).sum::<f64>()).sum()
    }

    /// Counts for a section half: it and the lines through it say much the same.
    fn weight(&self) -> f64 {
        if self.group == Group::Sections { 0.5 } else { 1.0 }
    }
}

/// A sum of unknowns held near a value whatever the curves say.
#[derive(Debug, Clone)]
pub struct Tie {
    /// Which, and how many times.
    pub of: Vec<(usize, f64)>,
    /// 1/mm².
    pub weight: f64,
    /// mm.
    pub target: f64,
}

/// How far lines, sections and entries are trusted.
#[derive(Debug, Clone, PartialEq)]
pub struct Trust {
    /// Square of each term's size, mm².
    sizes: Vec<f64>,
    /// Square of the entries' spread, mm².
    spread: f64,
    /// Of each term and place, the share of its size; none where sizes are the same all along.
    shares: Option<Vec<Vec<f64>>>,
}

/// Points that a group's size counts for.
const PRIOR: f64 = 1.0;
/// No size is below this, mm.
const LEAST: f64 = 0.02;
/// None begins below this, mm: a line that happens to run smooth is not trusted for that before anything is learnt.
const LEAST_AT_FIRST: f64 = 0.3;
/// Weight that keeps a free entry where it is if no curve holds it, 1/mm²: nothing beside what any curve weighs.
const STAYS: f64 = 1e-9;
/// Most rounds of learning.
const ROUNDS: usize = 20;
/// No term says less than so many points.
const FEWEST: f64 = 0.05;
/// Lines share what they learn of a place within this share of the boat's length (a standard deviation),
const NEAR: f64 = 0.1;
/// where all sizes are alike as if so many points said so.
const ALIKE: f64 = 3.0;
/// No share is below this; and no place of a line says less than so many points.
const LEAST_SHARE: f64 = 1e-3;
const FEWEST_AT_PLACE: f64 = 0.01;

impl Trust {
    /// To begin with: each size as rough as its term is, never under [`LEAST_AT_FIRST`].
    pub fn start(terms: &[&Term], spread: f64) -> Self {
        let sizes = terms.iter().map(|t| (t.c / t.rank).max(LEAST_AT_FIRST * LEAST_AT_FIRST)).collect();
        Trust { sizes, spread: spread * spread, shares: None }
    }

    /// To learn how rough lines are at each place too.
    pub fn by_place(mut self, terms: &[&Term]) -> Self {
        let ones = |t: &&Term| vec![1.0; t.rows.as_ref().map_or(0, |r| r.places.len())];
        self.shares = Some(terms.iter().map(ones).collect());
        self
    }

    /// The terms with each place's roughness over its share.
    fn seen<'t>(&self, terms: &[&'t Term]) -> Vec<Cow<'t, Term>> {
        let shares = |k: usize| self.shares.as_ref().map(|s| &s[k]);
        let seen = |(k, t): (usize, &&'t Term)| match (&t.rows, shares(k)) {
            (Some(rows), Some(shares)) => Cow::Owned(t.weighed(rows, shares)),
            _ => Cow::Borrowed(*t),
        };
        terms.iter().enumerate().map(seen).collect()
    }

    /// Whether it is of so many terms.
    pub fn is_of(&self, terms: &[&Term]) -> bool {
        self.sizes.len() == terms.len()
    }

    /// ½H and ½g of what is to be least; entries in `free` are not held by their own spread.
    fn quadratic(&self, terms: &[Cow<'_, Term>], ties: &[Tie], free: &[bool]) -> (DMatrix<f64>, DVector<f64>) {
        let n = free.len();
        let (mut h, mut g) = (DMatrix::zeros(n, n), DVector::zeros(n));
        for (t, size) in terms.iter().zip(&self.sizes) {
            let w = t.weight() / size;
            for (i, &u) in t.unknowns.iter().enumerate() {
                g[u] += w * t.b[i];
                for (j, &v) in t.unknowns.iter().enumerate() {
                    h[(v, u)] += w * t.p[(j, i)];
                }
            }
        }
        for tie in ties {
            for &(u, a) in &tie.of {
                g[u] -= tie.weight * a * tie.target;
                for &(v, b) in &tie.of {
                    h[(v, u)] += tie.weight * a * b;
                }
            }
        }
        for u in 0..n {
            h[(u, u)] += if free[u] { STAYS } else { 1.0 / self.spread };
        }
        (h, g)
    }

    /// Learns sizes and spread until no entry's change moves by more than `still`, mm; the spread is never under `least`,
    /// which rounding alone gives.
    ///
    /// # Errors
    /// The quadratic has no least.
    pub fn learn(
        &mut self,
        terms: &[&Term],
        ties: &[Tie],
        free: &[bool],
        least: f64,
        still: f64,
    ) -> Result<(), String> {
        self.learn_for(ROUNDS, terms, ties, free, [least, still])
    }

    /// The same for so many rounds at most; `least` and `still` come last.
    ///
    /// # Errors
    /// The quadratic has no least.
    pub fn learn_for(
        &mut self,
        rounds: usize,
        terms: &[&Term],
        ties: &[Tie],
        free: &[bool],
        [least, still]: [f64; 2],
    ) -> Result<(), String> {
        let held: Vec<usize> = (0..free.len()).filter(|&u| !free[u]).collect();
        let mut before: Option<DVector<f64>> = None;
        let (mut paces, mut spread_pace) = (vec![Pace::START; terms.len()], Pace::START);
        let alike: Vec<Family> = if self.shares.is_some() { Family::all(terms) } else { Vec::new() };
        for _ in 0..rounds {
            let seen = self.seen(terms);
            let (h, g) = self.quadratic(&seen, ties, free);
            let covariance = inverse(h).ok_or(NO_LEAST)?;
            let change = -(&covariance * g);
            // How rough each is, and how many points of its own that says: what it was made to say does not count.
            let says: Vec<(f64, f64)> = seen
                .iter()
                .zip(&self.sizes)
                .map(|(t, size)| (t.at(&change), (t.rank - t.weight() * t.spread(&covariance) / size).max(FEWEST)))
                .collect();
            // Before the sizes are: the covariance is what the old ones make it.
            for family in &alike {
                self.learn_places(family, terms, &change, &covariance);
            }
            let sizes = terms.iter().zip(&says);
            let sizes = sizes.map(|(t, (q, of))| (q + PRIOR * of_group(t.group, terms, &says)) / (of + PRIOR));
            for ((size, pace), new) in self.sizes.iter_mut().zip(&mut paces).zip(sizes) {
                *size = pace.on(*size, new.max(LEAST * LEAST)).max(LEAST * LEAST);
            }
            let moved: f64 = held.iter().map(|&u| change[u] * change[u]).sum();
            let unsure: f64 = held.iter().map(|&u| covariance[(u, u)]).sum();
            let spread = (moved / (held.len() as f64 - unsure / self.spread).max(1.0)).max(least * least);
            self.spread = spread_pace.on(self.spread, spread).max(least * least);
            if before.is_some_and(|before| (before - &change).amax() < still) {
                break;
            }
            before = Some(change);
        }
        Ok(())
    }

    /// How rough the lines of a family are at each place, as a share of their sizes.
    fn learn_places(&mut self, family: &Family, terms: &[&Term], change: &DVector<f64>, covariance: &DMatrix<f64>) {
        let Some(shares) = &mut self.shares else { return };
        let mut says = Vec::new();
        for (k, rows) in family.rows(terms) {
            let (t, size) = (terms[k], self.sizes[k]);
            let own = |i: usize| t.unknowns[i];
            let n = t.unknowns.len();
            let here = &rows.fixed + &rows.moves * DVector::from_fn(n, |i, _| change[own(i)]);
            let unsure = &rows.moves * DMatrix::from_fn(n, n, |i, j| covariance[(own(i), own(j))]);
            for (i, share) in shares[k].iter().enumerate() {
                let left = 1.0 - unsure.row(i).dot(&rows.moves.row(i)) / (size * share);
                says.push((here[i] * here[i] / size, left.max(FEWEST_AT_PLACE)));
            }
        }
        let mut place = 0;
        for (k, _) in family.rows(terms) {
            for share in &mut shares[k] {
                let near = family.near.row(place);
                let sum = |of: &dyn Fn(&(f64, f64)) -> f64| {
                    near.iter().zip(&says).map(|(w, said)| w * of(said)).sum::<f64>() + ALIKE
                };
                *share = (sum(&|s| s.0) / sum(&|s| s.1)).max(LEAST_SHARE);
                place += 1;
            }
        }
    }

    /// What is to be least.
    pub fn problem(&self, terms: &[&Term], ties: &[Tie], free: &[bool], limit: Vec<Option<f64>>) -> Problem {
        let (h, g) = self.quadratic(&self.seen(terms), ties, free);
        Problem { h, g, limit }
    }
}

/// What is known of the entries, given the trust.
pub struct Known {
    /// The likeliest change of each, mm.
    pub change: DVector<f64>,
    /// Its covariance, mm².
    pub covariance: DMatrix<f64>,
}

impl Trust {
    /// The likeliest change without limits, and how far it may be off.
    ///
    /// # Errors
    /// The quadratic has no least.
    pub fn known(&self, terms: &[&Term], ties: &[Tie], free: &[bool]) -> Result<Known, String> {
        let (h, g) = self.quadratic(&self.seen(terms), ties, free);
        let covariance = inverse(h).ok_or(NO_LEAST)?;
        Ok(Known { change: -(&covariance * g), covariance })
    }

    /// Square of the entries' spread, mm².
    pub fn square_spread(&self) -> f64 {
        self.spread
    }

    /// How many points the sizes rest on that hold `unknown`, the mean by how hard each holds it; one is `unknown` itself.
    pub fn points_behind(&self, terms: &[&Term], unknown: usize) -> f64 {
        let (mut sum, mut all) = (0.0, 0.0);
        for (t, size) in terms.iter().zip(&self.sizes) {
            let Some(i) = t.unknowns.iter().position(|&u| u == unknown) else { continue };
            let hold = t.weight() * t.p[(i, i)] / size;
            sum += hold * (t.rank + PRIOR - 1.0);
            all += hold;
        }
        if all > 0.0 { sum / all } else { 0.0 }
    }
}

/// Lines that are rough at the same places: all but heights of sheer and rabbet, and these.
struct Family {
    lines: Vec<usize>,
    /// How much each place of its lines has to do with each other.
    near: DMatrix<f64>,
}

impl Family {
    fn all(terms: &[&Term]) -> Vec<Family> {
        let of = |edges: bool| {
            let lines = (0..terms.len()).filter(|&k| (terms[k].group == Group::Edges) == edges);
            let mut family =
                Family { lines: lines.filter(|&k| terms[k].rows.is_some()).collect(), near: DMatrix::zeros(0, 0) };
            let places: Vec<f64> = family.rows(terms).flat_map(|(_, rows)| &rows.places).copied().collect();
            let [low, high] = [f64::min, f64::max].map(|f| places.iter().copied().reduce(f).unwrap_or_default());
            let over = NEAR * (high - low).max(f64::MIN_POSITIVE.sqrt());
            family.near = DMatrix::from_fn(places.len(), places.len(), |i, j| {
                (-0.5 * ((places[i] - places[j]) / over).powi(2)).exp()
            });
            family
        };
        vec![of(true), of(false)]
    }

    fn rows<'t>(&self, terms: &[&'t Term]) -> impl Iterator<Item = (usize, &'t Rows)> {
        self.lines.iter().filter_map(|&k| Some((k, terms[k].rows.as_ref()?)))
    }
}

/// How far past the value found a size goes on: as far as its last two steps say that it has to go in the end. Source:
/// \[Aitken26\].
#[derive(Clone, Copy)]
struct Pace {
    /// Last step found, in the logarithm, and how many times it was gone.
    step: f64,
    times: f64,
}

impl Pace {
    const START: Pace = Pace { step: 0.0, times: 1.0 };
    /// Most times a step.
    const MOST: f64 = 1.6;

    /// From `old` past `new`; both above 0.
    fn on(&mut self, old: f64, new: f64) -> f64 {
        let step = (new / old).ln();
        let left = 1.0 - step / self.step;
        let times = match left {
            _ if self.step == 0.0 || !left.is_finite() => 1.0,
            left if left * Self::MOST > self.times => (self.times / left).max(1.0),
            _ => Self::MOST,
        };
        *self = Pace { step, times };
        old * (times * step).exp()
    }
}

/// Mean square size of a group, in the logarithm: one wild line does not speak for it.
fn of_group(group: Group, terms: &[&Term], says: &[(f64, f64)]) -> f64 {
    let (mut sum, mut points) = (0.0, 0.0);
    for (_, (q, of)) in terms.iter().zip(says).filter(|(t, _)| t.group == group) {
        sum += of * (q / of).max(LEAST * LEAST).ln();
        points += of;
    }
    if points > 0.0 { (sum / points).exp() } else { 0.0 }
}
