//! The fair curve through given points: the natural quintic spline.
//!
//! Of all curves through the points at the given knots it has the least ∫ f'''² dt, which is what a batten sprung
//! fair looks like with its changes of curvature spread out. Its third derivative is a combination of the quadratic
//! B-splines M_i on four consecutive knots (∫ M_i = 1). With D the third divided differences times 3! and
//! G_ij = ∫ M_i M_j,
//!
//! ```text
//! G c = D z,    f''' = Σ c_i M_i,    ∫ f'''² = z' K z,    K = D' G⁻¹ D.
//! ```
//!
//! Source: the Peano kernel of a divided difference is a B-spline [deBoor78 ch. IX]; the rest follows from it.
//! Beyond the ends f''' = 0: the curve runs on as a parabola. Cannot do: knots that touch.

use super::roughness::{self, difference_and_gram, splines};
use nalgebra::{Cholesky, DMatrix, DVector};

/// Of the derivative whose square is least.
const ORDER: usize = 3;

/// Why no fair curve passes.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FairError {
    /// Fewer than two points.
    #[error("a fair curve needs two points or more")]
    TooFew,
    /// Knots do not increase.
    #[error("points {index} and {} of a curve stand at the same place", index + 1)]
    Touching {
        /// Index of the first of the two.
        index: usize,
    },
    /// A number is not finite.
    #[error("point {index} of a curve is not a number")]
    NotFinite {
        /// Its index.
        index: usize,
    },
}

/// A fair curve in `N` dimensions over a parameter.
#[derive(Debug, Clone, PartialEq)]
pub struct FairCurve<const N: usize> {
    knots: Vec<f64>,
    /// For each span and dimension: value, first and second derivative at its start, then f''' = p0 + p1 τ + p2 τ².
    spans: Vec<[[f64; 6]; N]>,
}

/// Knots at the distances along the polyline through `points`.
#[must_use]
pub fn chord_knots<const N: usize>(points: &[[f64; N]]) -> Vec<f64> {
    let mut at = 0.0;
    let mut knots = Vec::with_capacity(points.len());
    for (i, p) in points.iter().enumerate() {
        if i > 0 {
            at += (0..N).map(|d| (p[d] - points[i - 1][d]).powi(2)).sum::<f64>().sqrt();
        }
        knots.push(at);
    }
    knots
}

fn check(knots: &[f64]) -> Result<(), FairError> {
    if knots.len() < 2 {
        return Err(FairError::TooFew);
    }
    if let Some(index) = knots.iter().position(|k| !k.is_finite()) {
        return Err(FairError::NotFinite { index });
    }
    let least = 1e-9 * (knots[knots.len() - 1] - knots[0]).abs();
    match knots.windows(2).position(|w| w[1] - w[0] <= least) {
        Some(index) => Err(FairError::Touching { index }),
        None => Ok(()),
    }
}

/// K of the module's opening, the knots measured in their own mean spacing: z' K z is ∫ f'''² of the fair curve through values z at
/// `knots`, and for values in mm it is in mm² whatever the length of the line. Zero for three knots or fewer, since a parabola
/// passes.
///
/// # Errors
/// Knots that do not increase, or fewer than two.
pub fn scaled_energy_matrix(knots: &[f64]) -> Result<DMatrix<f64>, FairError> {
    check(knots)?;
    roughness::matrix(knots, ORDER)
}

impl<const N: usize> FairCurve<N> {
    /// The fair curve that has `points[i]` at `knots[i]`.
    ///
    /// # Errors
    /// Knots that do not increase, fewer than two points or not one for each knot, or a number that is not finite.
    pub fn through(knots: &[f64], points: &[[f64; N]]) -> Result<Self, FairError> {
        check(knots)?;
        if points.len() != knots.len() {
            return Err(FairError::TooFew);
        }
        if let Some(index) = points.iter().position(|p| p.iter().any(|v| !v.is_finite())) {
            return Err(FairError::NotFinite { index });
        }
        let n = knots.len();
        let mut spans = vec![[[0.0; 6]; N]; n - 1];
        let kernels = if n < 4 {
            None
        } else {
            let (d, g) = difference_and_gram(knots, ORDER);
            Some((d, Cholesky::new(g).ok_or(FairError::Touching { index: 0 })?))
        };
        for dim in 0..N {
            let z: Vec<f64> = points.iter().map(|p| p[dim]).collect();
            let c = kernels.as_ref().map(|(d, g)| g.solve(&(d * DVector::from_column_slice(&z))));
            let column = spans_of(knots, &z, c.as_ref());
            for (span, values) in spans.iter_mut().zip(column) {
                span[dim] = values;
            }
        }
        Ok(FairCurve { knots: knots.to_vec(), spans })
    }

    /// The fair curve through `points` with knots at their distances along the polyline.
    ///
    /// # Errors
    /// As [`FairCurve::through`].
    pub fn by_chords(points: &[[f64; N]]) -> Result<Self, FairError> {
        Self::through(&chord_knots(points), points)
    }

    /// The knots.
    #[must_use]
    pub fn knots(&self) -> &[f64] {
        &self.knots
    }

    fn span(&self, t: f64) -> (usize, f64) {
        let n = self.spans.len();
        let i = self.knots.partition_point(|&k| k <= t).saturating_sub(1).min(n - 1);
        (i, t - self.knots[i])
    }

    /// Where the curve is at `t`; beyond the ends it runs on as a parabola.
    #[must_use]
    pub fn at(&self, t: f64) -> [f64; N] {
        self.evaluate(t, 0)
    }

    /// First derivative at `t`.
    #[must_use]
    pub fn d1(&self, t: f64) -> [f64; N] {
        self.evaluate(t, 1)
    }

    /// Second derivative at `t`.
    #[must_use]
    pub fn d2(&self, t: f64) -> [f64; N] {
        self.evaluate(t, 2)
    }

    fn evaluate(&self, t: f64, order: u32) -> [f64; N] {
        let last = self.knots[self.knots.len() - 1];
        if t > last || t < self.knots[0] {
            let end = if t > last { last } else { self.knots[0] };
            let (i, tau) = self.span(end);
            return std::array::from_fn(|d| {
                let c = &self.spans[i][d];
                let (v, a, b) = (poly(c, tau, 0), poly(c, tau, 1), poly(c, tau, 2));
                let s = t - end;
                match order {
                    0 => v + s * (a + 0.5 * s * b),
                    1 => a + s * b,
                    _ => b,
                }
            });
        }
        let (i, tau) = self.span(t);
        std::array::from_fn(|d| poly(&self.spans[i][d], tau, order))
    }
}

/// A span's value or derivative at `tau` past its start.
fn poly(c: &[f64; 6], tau: f64, order: u32) -> f64 {
    match order {
        0 => c[0] + tau * (c[1] + tau * (c[2] / 2.0 + tau * (c[3] / 6.0 + tau * (c[4] / 24.0 + tau * c[5] / 60.0)))),
        1 => c[1] + tau * (c[2] + tau * (c[3] / 2.0 + tau * (c[4] / 6.0 + tau * c[5] / 12.0))),
        _ => c[2] + tau * (c[3] + tau * (c[4] / 2.0 + tau * c[5] / 3.0)),
    }
}

/// Spans of one dimension from the kernel weights `c`.
fn spans_of(k: &[f64], z: &[f64], c: Option<&DVector<f64>>) -> Vec<[f64; 6]> {
    let n = k.len();
    let third = |s: usize, t: f64| -> f64 {
        c.map_or(0.0, |c| splines(k, ORDER, s, t).fold(0.0, |sum, (i, value)| sum + c[i] * value))
    };
    let mut spans: Vec<[f64; 6]> = (0..n - 1)
        .map(|s| {
            let h = k[s + 1] - k[s];
            let (f0, f1, f2) = (third(s, k[s]), third(s, k[s] + 0.5 * h), third(s, k[s + 1]));
            let p2 = 2.0 * (f0 - 2.0 * f1 + f2) / (h * h);
            [z[s], 0.0, 0.0, f0, (f2 - f0) / h - p2 * h, p2]
        })
        .collect();
    // Slope b0'' at the start from the first two spans, then span by span from the values at both ends.
    let rise = |c: &[f64; 6], h: f64| h * h * h * (c[3] / 6.0 + h * (c[4] / 24.0 + h * c[5] / 60.0));
    let turn = |c: &[f64; 6], h: f64| h * h * (c[3] / 2.0 + h * (c[4] / 6.0 + h * c[5] / 12.0));
    let bend = |c: &[f64; 6], h: f64| h * (c[3] + h * (c[4] / 2.0 + h * c[5] / 3.0));
    let mut second = 0.0;
    if n >= 3 {
        let (h0, h1) = (k[1] - k[0], k[2] - k[1]);
        let (c0, c1) = (spans[0], spans[1]);
        let s0 = (z[1] - z[0] - rise(&c0, h0)) / h0; // first slope, but for − second h0 / 2
        let s1 = (z[2] - z[1] - rise(&c1, h1) - bend(&c0, h0) * h1 * h1 / 2.0) / h1;
        second = (s1 - s0 - turn(&c0, h0)) / (0.5 * (h0 + h1));
    }
    for s in 0..n - 1 {
        let h = k[s + 1] - k[s];
        spans[s][2] = second;
        spans[s][1] = (z[s + 1] - z[s] - rise(&spans[s], h)) / h - 0.5 * second * h;
        second += bend(&spans[s], h);
    }
    spans
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A parabola is its own fair curve: ∫ f'''² = 0, and the fair curve is unique. Closed form.
    #[test]
    fn a_parabola_comes_back_as_itself() {
        let knots = [0.0, 1.0, 2.5, 3.0, 5.0, 9.0];
        let f = |t: f64| 3.0 - 2.0 * t + 0.7 * t * t;
        let points: Vec<[f64; 1]> = knots.iter().map(|&t| [f(t)]).collect();
        let curve = FairCurve::through(&knots, &points).unwrap();
        for i in -10..110 {
            let t = f64::from(i) / 10.0;
            assert!((curve.at(t)[0] - f(t)).abs() < 1e-9, "t = {t}");
            assert!((curve.d1(t)[0] - (-2.0 + 1.4 * t)).abs() < 1e-9);
            assert!((curve.d2(t)[0] - 1.4).abs() < 1e-9);
        }
    }

    /// Continuity up to the fourth derivative is what a quintic spline has; third is checked by differences.
    #[test]
    fn spans_meet_smoothly_and_pass_the_points() {
        let knots = [0.0, 0.8, 2.0, 2.9, 4.2, 5.0, 6.5];
        let points = [[0.0, 1.0], [2.0, 0.5], [1.0, 0.0], [3.0, 2.0], [2.5, 2.2], [4.0, 1.0], [3.0, 0.0]];
        let curve = FairCurve::through(&knots, &points).unwrap();
        for (k, p) in knots.iter().zip(points) {
            let at = curve.at(*k);
            assert!((at[0] - p[0]).abs() < 1e-9 && (at[1] - p[1]).abs() < 1e-9);
        }
        for k in &knots[1..6] {
            let e = 1e-7;
            for d in 0..2 {
                assert!((curve.d1(k - e)[d] - curve.d1(k + e)[d]).abs() < 1e-4);
                assert!((curve.d2(k - e)[d] - curve.d2(k + e)[d]).abs() < 1e-4);
            }
        }
    }

    /// z' K z against ∫ f'''² of the curve itself, by differences of its second derivative.
    #[test]
    fn energy_is_the_integral_it_says() {
        let knots = [0.0, 1.0, 1.7, 3.0, 4.0, 5.5];
        let z = [0.3, -0.2, 0.9, 0.1, 0.4, -0.8];
        let curve = FairCurve::through(&knots, &z.map(|v| [v])).unwrap();
        let steps = 55_000;
        let h = 5.5 / f64::from(steps);
        let integral: f64 = (0..steps)
            .map(|i| {
                let t = f64::from(i) * h;
                ((curve.d2(t + h)[0] - curve.d2(t)[0]) / h).powi(2) * h
            })
            .sum();
        let z = DVector::from_column_slice(&z);
        // The fifth power of lengths, measured in the mean spacing.
        let energy = (z.transpose() * scaled_energy_matrix(&knots).unwrap() * &z)[(0, 0)] / 1.1_f64.powi(5);
        assert!((energy / integral - 1.0).abs() < 1e-6, "{energy} {integral}");
    }

    #[test]
    fn touching_knots_are_refused() {
        assert_eq!(scaled_energy_matrix(&[0.0, 1.0, 1.0, 2.0]).unwrap_err(), FairError::Touching { index: 1 });
        assert_eq!(FairCurve::through(&[0.0], &[[1.0]]).unwrap_err(), FairError::TooFew);
    }
}
