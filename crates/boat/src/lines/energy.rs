//! The quadratic that fairing makes least, and making it least.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SolverStatus};
use nalgebra::{DMatrix, DVector};

/// ½ δ'Hδ + g'δ.
pub struct Energy {
    h: DMatrix<f64>,
    g: DVector<f64>,
}

/// A value of a line or section: fixed, plus a multiple of some unknown.
pub struct Term {
    /// Where all unknowns are 0.
    pub value: f64,
    /// Index of the unknown and the multiple.
    pub unknown: Option<(usize, f64)>,
}

/// The size of bend that a line has anyway, mm: root mean square of (Kz)ᵢ/√Kᵢᵢ, which is what each point would have
/// to be off, in its own measure of stiffness, if the line without it were perfectly fair. Never below 0.05 mm: no
/// table is better than that.
#[must_use]
pub fn size(k: &DMatrix<f64>, values: &[&[f64]]) -> f64 {
    let (mut sum, mut count) = (0.0, 0);
    for v in values {
        let kz = k * DVector::from_column_slice(v);
        for i in 0..v.len() {
            if k[(i, i)] > 0.0 {
                sum += kz[i] * kz[i] / k[(i, i)];
                count += 1;
            }
        }
    }
    (sum / f64::from(count.max(1))).sqrt().max(0.05)
}

impl Energy {
    /// Of `n` unknowns.
    #[must_use]
    pub fn zeros(n: usize) -> Self {
        Energy { h: DMatrix::zeros(n, n), g: DVector::zeros(n) }
    }

    /// Adds weight · z'Kz of the terms.
    pub fn add(&mut self, weight: f64, k: &DMatrix<f64>, terms: &[Term]) {
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
    pub fn tie(&mut self, unknown: usize, weight: f64, target: f64) {
        self.h[(unknown, unknown)] += 2.0 * weight;
        self.g[unknown] -= 2.0 * weight * target;
    }

    /// The unknowns of least energy with |δᵢ| ≤ `limit[i]` where there is a limit; else what the solver said.
    ///
    /// # Errors
    /// The solver's status.
    pub fn least(&self, limit: &[Option<f64>]) -> Result<Vec<f64>, String> {
        let n = limit.len();
        let (mut pi, mut pj, mut pv) = (Vec::new(), Vec::new(), Vec::new());
        for j in 0..n {
            for i in 0..=j {
                if self.h[(i, j)] != 0.0 {
                    pi.push(i);
                    pj.push(j);
                    pv.push(self.h[(i, j)]);
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
        let mut solver = DefaultSolver::new(&p, self.g.as_slice(), &a, &b, &[NonnegativeConeT(rows)], settings)
            .map_err(|e| e.to_string())?;
        solver.solve();
        match solver.solution.status {
            SolverStatus::Solved | SolverStatus::AlmostSolved => Ok(solver.solution.x),
            other => Err(format!("{other:?}")),
        }
    }
}
