//! Symmetric positive definite systems with a narrow band.

/// A symmetric banded matrix, lower half stored: row i holds columns i − band ..= i.
#[derive(Debug, Clone)]
pub struct Banded {
    n: usize,
    band: usize,
    rows: Vec<f64>,
}

impl Banded {
    /// An n × n zero matrix with `band` diagonals below the main one.
    #[must_use]
    pub fn zeros(n: usize, band: usize) -> Self {
        Banded { n, band, rows: vec![0.0; n * (band + 1)] }
    }

    /// Adds `v` at (i, j), i ≥ j ≥ i − band.
    pub fn add(&mut self, i: usize, j: usize, v: f64) {
        debug_assert!(j <= i && i - j <= self.band);
        self.rows[i * (self.band + 1) + j + self.band - i] += v;
    }

    /// Solves A x = b in place of `b`, factoring A = L L' in place. `None` when A is not positive definite.
    #[must_use]
    pub fn solve(mut self, b: &mut [f64]) -> Option<()> {
        let (w, n) = (self.band + 1, self.n);
        for i in 0..n {
            let low = i.saturating_sub(self.band);
            for j in low..=i {
                let from = low.max(j.saturating_sub(self.band));
                let (ri, rj) = (i * w + self.band - i, j * w + self.band - j);
                let dot: f64 =
                    self.rows[ri + from..ri + j].iter().zip(&self.rows[rj + from..rj + j]).map(|(a, b)| a * b).sum();
                let v = self.rows[ri + j] - dot;
                if j == i {
                    if v.is_nan() || v <= 0.0 {
                        return None;
                    }
                    self.rows[ri + j] = v.sqrt();
                } else {
                    self.rows[ri + j] = v / self.rows[rj + j];
                }
            }
        }
        for i in 0..n {
            let (low, ri) = (i.saturating_sub(self.band), i * w + self.band - i);
            let dot: f64 = (low..i).map(|j| self.rows[ri + j] * b[j]).sum();
            b[i] = (b[i] - dot) / self.rows[ri + i];
        }
        for i in (0..n).rev() {
            let high = (i + self.band).min(n - 1);
            let dot: f64 = (i + 1..=high).map(|k| self.rows[k * w + self.band - k + i] * b[k]).sum();
            b[i] = (b[i] - dot) / self.rows[i * w + self.band];
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
