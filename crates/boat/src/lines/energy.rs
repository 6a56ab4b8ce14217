//! The quadratic that fairing makes least: how far each line and section may be trusted to be smooth, and the box.
//!
//! Unknown is the change δ of every entry. Line or section k has roughness Eₖ(δ) = δ'Pₖδ + 2bₖ'δ + cₖ; if curves are as
//! likely as they are smooth, its mean over what it can say (its rank) is the square of a size sₖ of its own, and the
//! entries' errors have a spread σ of theirs. Both are learnt from the table (`learn`): given sizes and spread, the
//! likeliest change is where Σ mₖEₖ/sₖ² + δ'δ/σ² is least, and how far it may still be off is known too; the expected
//! roughnesses and errors give new sizes and spread, and so on until they stand. A size is drawn towards its group's, as
//! if that were so many points more: a short line says little of its own.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus};
use nalgebra::{Cholesky, DMatrix, DVector};

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

/// One line's or section's roughness.
pub struct Term {
    group: Group,
    /// Indices of its unknowns.
    unknowns: Vec<usize>,
    /// P and b on those unknowns, and c.
    p: DMatrix<f64>,
    b: DVector<f64>,
    c: f64,
    rank: f64,
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
        Term { group, unknowns, p, b, c, rank: rank as f64 }
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

/// An unknown held near a value whatever the curves say.
pub struct Tie {
    /// Which.
    pub unknown: usize,
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
}

/// Points that a group's size counts for.
const PRIOR: f64 = 2.0;
/// No size is below this, mm.
const LEAST: f64 = 0.02;
/// Rounds of learning, and the change of ln(size²) that ends them.
const ROUNDS: usize = 20;
const STILL: f64 = 0.02;

impl Trust {
    /// To begin with: each size as rough as its term is, never under 0.3 mm.
    pub fn start(terms: &[&Term], spread: f64) -> Self {
        Trust { sizes: terms.iter().map(|t| (t.c / t.rank).max(0.09)).collect(), spread: spread * spread }
    }

    /// Whether it is of so many terms.
    pub fn is_of(&self, terms: &[&Term]) -> bool {
        self.sizes.len() == terms.len()
    }

    /// ½H and ½g of what is to be least; entries in `free` are not held by their own spread.
    fn quadratic(&self, n: usize, terms: &[&Term], ties: &[Tie], free: &[bool]) -> (DMatrix<f64>, DVector<f64>) {
        let (mut h, mut g) = (DMatrix::zeros(n, n), DVector::zeros(n));
        for (t, size) in terms.iter().zip(&self.sizes) {
            let w = t.weight() / size;
            for (i, &u) in t.unknowns.iter().enumerate() {
                g[u] += w * t.b[i];
                for (j, &v) in t.unknowns.iter().enumerate() {
                    h[(u, v)] += w * t.p[(i, j)];
                }
            }
        }
        for tie in ties {
            h[(tie.unknown, tie.unknown)] += tie.weight;
            g[tie.unknown] -= tie.weight * tie.target;
        }
        for u in 0..n {
            // A free entry that no curve holds stays where it is.
            h[(u, u)] += if free[u] { 1e-9 } else { 1.0 / self.spread };
        }
        (h, g)
    }

    /// Learns sizes and spread; the spread is never under `least`, which rounding alone gives.
    ///
    /// # Errors
    /// The quadratic has no least.
    pub fn learn(&mut self, terms: &[&Term], ties: &[Tie], free: &[bool], least: f64) -> Result<(), String> {
        self.learn_for(ROUNDS, terms, ties, free, least)
    }

    /// The same for so many rounds at most.
    ///
    /// # Errors
    /// The quadratic has no least.
    pub fn learn_for(
        &mut self,
        rounds: usize,
        terms: &[&Term],
        ties: &[Tie],
        free: &[bool],
        least: f64,
    ) -> Result<(), String> {
        let n = free.len();
        let held = free.iter().filter(|f| !**f).count().max(1) as f64;
        for _ in 0..rounds {
            let (h, g) = self.quadratic(n, terms, ties, free);
            let covariance = Cholesky::new(h).ok_or("the equations have no answer")?.inverse();
            let change = -(&covariance * g);
            let rough: Vec<f64> = terms.iter().map(|t| t.at(&change) + t.spread(&covariance)).collect();
            let sizes: Vec<f64> = terms
                .iter()
                .zip(&rough)
                .map(|(t, q)| ((q + PRIOR * of_group(t.group, terms, &rough)) / (t.rank + PRIOR)).max(LEAST * LEAST))
                .collect();
            let error = |u: usize| change[u] * change[u] + covariance[(u, u)];
            let spread = (0..n).filter(|&u| !free[u]).map(error).sum::<f64>() / held;
            self.spread = spread.max(least * least);
            let moved = sizes.iter().zip(&self.sizes).map(|(a, b)| (a / b).ln().abs()).fold(0.0, f64::max);
            self.sizes = sizes;
            if moved < STILL {
                break;
            }
        }
        Ok(())
    }

    /// The likeliest change of each entry with |δᵢ| ≤ `limit[i]` where there is a limit.
    ///
    /// # Errors
    /// The solver's status.
    pub fn least(
        &self,
        terms: &[&Term],
        ties: &[Tie],
        free: &[bool],
        limit: &[Option<f64>],
    ) -> Result<Vec<f64>, String> {
        let (h, g) = self.quadratic(free.len(), terms, ties, free);
        boxed(&h, &g, limit)
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
        let (h, g) = self.quadratic(free.len(), terms, ties, free);
        let covariance = Cholesky::new(h).ok_or("the equations have no answer")?.inverse();
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

/// Mean square size of a group, in the logarithm: one wild line does not speak for it.
fn of_group(group: Group, terms: &[&Term], rough: &[f64]) -> f64 {
    let (mut sum, mut ranks) = (0.0, 0.0);
    for (t, q) in terms.iter().zip(rough).filter(|(t, _)| t.group == group) {
        sum += t.rank * (q / t.rank).max(LEAST * LEAST).ln();
        ranks += t.rank;
    }
    if ranks > 0.0 { (sum / ranks).exp() } else { 0.0 }
}

/// The least of ½δ'hδ + g'δ in the box.
fn boxed(h: &DMatrix<f64>, g: &DVector<f64>, limit: &[Option<f64>]) -> Result<Vec<f64>, String> {
    let n = limit.len();
    let (mut pi, mut pj, mut pv) = (Vec::new(), Vec::new(), Vec::new());
    for j in 0..n {
        for i in 0..=j {
            if h[(i, j)] != 0.0 {
                pi.push(i);
                pj.push(j);
                pv.push(h[(i, j)]);
            }
        }
    }
    let p = CscMatrix::new_from_triplets(n, n, pi, pj, pv);
    let (mut ai, mut aj, mut av, mut b) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (i, limit) in limit.iter().enumerate() {
        let Some(limit) = limit else { continue };
        for sign in [1.0, -1.0] {
            ai.push(b.len());
            aj.push(i);
            av.push(sign);
            b.push(*limit);
        }
    }
    let rows = b.len();
    let a = CscMatrix::new_from_triplets(rows, n, ai, aj, av);
    let settings = DefaultSettingsBuilder::default().verbose(false).build().map_err(|e| e.to_string())?;
    let mut solver = DefaultSolver::new(&p, g.as_slice(), &a, &b, &[NonnegativeConeT(rows)], settings)
        .map_err(|e| e.to_string())?;
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => Ok(solver.solution.x),
        other => Err(format!("{other:?}")),
    }
}
