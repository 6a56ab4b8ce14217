//! Symmetric positive definite systems with a narrow band.

/// A symmetric banded matrix, upper half stored: row i holds columns i ..= i + band, so that each step of the solve runs
/// along rows as they lie.
#[derive(Debug, Clone)]
pub struct Banded {
    n: usize,
    band: usize,
    rows: Vec<f64>,
}

impl Banded {
    /// An n × n zero matrix with `band` diagonals on either side of the main one.
    #[must_use]
    pub fn zeros(n: usize, band: usize) -> Self {
        Banded { n, band, rows: vec![0.0; n * (band + 1)] }
    }

    /// Adds `v` at (i, j) and (j, i), i ≥ j ≥ i − band.
    pub fn add(&mut self, i: usize, j: usize, v: f64) {
        debug_assert!(j <= i && i - j <= self.band);
        self.rows[j * (self.band + 1) + i - j] += v;
    }

    /// Solves A x = b in place of `b`, factoring A = U'U in place. `None` when A is not positive definite.
    #[must_use]
    pub fn solve(mut self, b: &mut [f64]) -> Option<()> {
        let (w, n) = (self.band + 1, self.n);
        for k in 0..n {
            let (above, below) = self.rows.split_at_mut((k + 1) * w);
            let row = &mut above[k * w..];
            if row[0].is_nan() || row[0] <= 0.0 {
                return None;
            }
            let diagonal = row[0].sqrt();
            row[0] = diagonal;
            let share = 1.0 / diagonal;
            row[1..].iter_mut().for_each(|v| *v *= share);
            b[k] *= share;
            for (i, next) in below.chunks_exact_mut(w).take(self.band).enumerate() {
                let of = row[i + 1];
                next.iter_mut().zip(&row[i + 1..]).for_each(|(v, r)| *v -= of * r);
                b[k + 1 + i] -= of * b[k];
            }
        }
        for k in (0..n).rev() {
            let row = &self.rows[k * w..(k + 1) * w];
            let dot: f64 = row[1..].iter().zip(&b[k + 1..]).map(|(a, x)| a * x).sum();
            b[k] = (b[k] - dot) / row[0];
        }
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against nalgebra's dense Cholesky.
    #[test]
    fn agrees_with_a_dense_solve() {
        let (n, band) = (23, 4);
        let mut banded = Banded::zeros(n, band);
        let mut dense = nalgebra::DMatrix::zeros(n, n);
        for i in 0..n {
            for j in i.saturating_sub(band)..=i {
                let v = if i == j { 9.0 + i as f64 } else { 1.0 / (1.0 + (i * 7 + j * 3) as f64).sin() / 10.0 };
                let v = v.clamp(-2.0, 60.0);
                banded.add(i, j, v);
                dense[(i, j)] = v;
                dense[(j, i)] = v;
            }
        }
        let b: Vec<f64> = (0..n).map(|i| (i as f64).cos()).collect();
        let expected = dense.cholesky().unwrap().solve(&nalgebra::DVector::from_column_slice(&b));
        let mut x = b.clone();
        banded.solve(&mut x).unwrap();
        for i in 0..n {
            assert!((x[i] - expected[i]).abs() < 1e-10);
        }
    }

    #[test]
    fn an_indefinite_matrix_is_refused() {
        let mut a = Banded::zeros(2, 1);
        a.add(0, 0, 1.0);
        a.add(1, 0, 2.0);
        a.add(1, 1, 1.0);
        assert!(a.solve(&mut [1.0, 1.0]).is_none());
    }
}
