//! How rough the smoothest curve through given values is: least ∫ (f⁽ᵐ⁾)² over all curves through them.
//!
//! f⁽ᵐ⁾ of that curve is a combination of the B-splines M_i of order m on m + 1 consecutive knots (∫ M_i = 1). With D the
//! m-th divided differences times m! and G_ij = ∫ M_i M_j it is z' D' G⁻¹ D z. `fair` has the curve itself, for m = 3.
//! Source: the Peano kernel of a divided difference is a B-spline [deBoor78 ch. IX]; the rest follows from it.

use super::fair::FairError;
use nalgebra::{Cholesky, DMatrix, SymmetricEigen};

/// The matrix K of z'Kz for values at `knots`, measured in their own mean spacing; zero where there are no more than
/// `order` knots, since a polynomial passes.
///
/// # Errors
/// Knots that do not increase.
pub fn matrix(knots: &[f64], order: usize) -> Result<DMatrix<f64>, FairError> {
    let n = knots.len();
    if n <= order {
        return Ok(DMatrix::zeros(n, n));
    }
    let (d, g) = difference_and_gram(&in_mean_spacing(knots)?, order);
    let cholesky = Cholesky::new(g).ok_or(FairError::Touching { index: 0 })?;
    Ok(d.transpose() * cholesky.solve(&d))
}

/// S of K = S'S, and where along the knots each of its rows looks: S = G^(−½) D with the symmetric root, which spreads a
/// row no further than its neighbours. No rows where there are no more than `order` knots.
///
/// # Errors
/// As [`matrix`].
pub fn half(knots: &[f64], order: usize) -> Result<(DMatrix<f64>, Vec<f64>), FairError> {
    if knots.len() <= order {
        return Ok((DMatrix::zeros(0, knots.len()), Vec::new()));
    }
    let (d, g) = difference_and_gram(&in_mean_spacing(knots)?, order);
    let mut root = SymmetricEigen::new(g);
    if root.eigenvalues.iter().any(|v| *v <= 0.0) {
        return Err(FairError::Touching { index: 0 });
    }
    root.eigenvalues.apply(|v| *v = v.sqrt().recip());
    let places = knots.windows(order + 1).map(|w| w.iter().sum::<f64>() / w.len() as f64).collect();
    Ok((root.recompose() * d, places))
}

fn in_mean_spacing(knots: &[f64]) -> Result<Vec<f64>, FairError> {
    let n = knots.len();
    let mean = (knots[n - 1] - knots[0]) / (n - 1) as f64;
    let k: Vec<f64> = knots.iter().map(|k| k / mean).collect();
    match k.windows(2).position(|w| w[1] - w[0] < 1e-9 || !(w[1] - w[0]).is_finite()) {
        Some(index) => Err(FairError::Touching { index }),
        None => Ok(k),
    }
}

/// D and G for more than `order` knots, which is no more than [`MOST`].
pub(super) fn difference_and_gram(k: &[f64], order: usize) -> (DMatrix<f64>, DMatrix<f64>) {
    let n = k.len();
    let m = n - order;
    let factorial: f64 = (1..=order).map(|i| i as f64).product();
    let mut d = DMatrix::zeros(m, n);
    for i in 0..m {
        for a in 0..=order {
            let product: f64 = (0..=order).filter(|&b| b != a).map(|b| k[i + a] - k[i + b]).product();
            d[(i, i + a)] = factorial / product;
        }
    }
    let mut g = DMatrix::zeros(m, m);
    for s in 0..n - 1 {
        let (mid, half) = (0.5 * (k[s] + k[s + 1]), 0.5 * (k[s + 1] - k[s]));
        for &(x, w) in if order < MOST { &THREE[..] } else { &FOUR[..] } {
            let values = splines(k, order, s, mid + half * x);
            for (i, a) in values.clone() {
                for (j, b) in values.clone() {
                    g[(i, j)] += w * half * a * b;
                }
            }
        }
    }
    (d, g)
}

/// Highest order.
pub(super) const MOST: usize = 4;
/// Three-point Gauss, exact to the fifth degree [A&S64 table 25.4]: enough for products of quadratics.
const THREE: [(f64, f64); 3] =
    [(-0.774_596_669_241_483, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483, 5.0 / 9.0)];

/// Four-point Gauss, exact to the seventh degree [A&S64 table 25.4]: enough for products of cubics.
const FOUR: [(f64, f64); 4] = [
    (-0.861_136_311_594_053, 0.347_854_845_137_454),
    (-0.339_981_043_584_856, 0.652_145_154_862_546),
    (0.339_981_043_584_856, 0.652_145_154_862_546),
    (0.861_136_311_594_053, 0.347_854_845_137_454),
];

/// The M_i of `order` that are not zero in span `s`, at `t`: index and value, by the recursion for B-splines.
pub(super) fn splines(k: &[f64], order: usize, s: usize, t: f64) -> impl Iterator<Item = (usize, f64)> + Clone {
    let n = k.len();
    // Place a is M of index s + 1 + a − order. Of order 1: 1/h on its own span.
    let mut values = [0.0; MOST + 1];
    let place = move |i: usize| i + order - 1 - s;
    values[order - 1] = 1.0 / (k[s + 1] - k[s]);
    for p in 2..=order {
        let share = p as f64 / (p - 1) as f64;
        // Each from its own and the next one's, which is not overwritten yet; past the last there is nothing.
        for i in (s + 1).saturating_sub(p)..=s {
            let (old, next) = (values[place(i)], if i < s { values[place(i + 1)] } else { 0.0 });
            values[place(i)] = match k.get(i + p) {
                Some(high) => share * ((t - k[i]) * old + (high - t) * next) / (high - k[i]),
                None => 0.0,
            };
        }
    }
    ((s + 1).saturating_sub(order)..=s).filter(move |i| i + order < n).map(move |i| (i, values[place(i)]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::DVector;

    const KNOTS: [f64; 8] = [0.0, 0.8, 2.0, 2.9, 4.2, 5.0, 6.5, 7.1];

    /// On knots 0, 1, 2, 3 the quadratic B-spline of unit integral is t²/2, (−2t² + 6t − 3)/2 and (3 − t)²/2 [deBoor78 ch. IX].
    #[test]
    fn a_quadratic_b_spline_on_whole_knots() {
        let k = [0.0, 1.0, 2.0, 3.0];
        for t in [0.1, 0.5, 0.9] {
            let exact = [
                t * t / 2.0,
                (-2.0 * (1.0_f64 + t).powi(2) + 6.0 * (1.0 + t) - 3.0) / 2.0,
                (1.0 - t) * (1.0 - t) / 2.0,
            ];
            for (s, exact) in exact.into_iter().enumerate() {
                let found: Vec<(usize, f64)> = splines(&k, 3, s, s as f64 + t).collect();
                assert!(
                    found.len() == 1 && found[0].0 == 0 && (found[0].1 - exact).abs() < 1e-12,
                    "{s} {t}: {found:?}"
                );
            }
        }
    }

    /// Those of one order that meet in a span add up, each times a third (a quarter) of its support, to 1.
    #[test]
    fn splines_of_a_span_share_it() {
        for order in [3, 4] {
            for s in order - 1..KNOTS.len() - order {
                let t = 0.3 * KNOTS[s] + 0.7 * KNOTS[s + 1];
                let sum: f64 =
                    splines(&KNOTS, order, s, t).map(|(i, v)| v * (KNOTS[i + order] - KNOTS[i]) / order as f64).sum();
                assert!((sum - 1.0).abs() < 1e-12, "{order} {s}: {sum}");
            }
        }
    }

    #[test]
    fn a_half_is_half_of_it() {
        let ((s, places), k) = (half(&KNOTS, 4).unwrap(), matrix(&KNOTS, 4).unwrap());
        assert!((s.transpose() * &s - &k).norm() < 1e-9 * k.norm());
        assert!(places.len() == s.nrows() && places.windows(2).all(|w| w[0] < w[1]));
    }

    /// Of the fourth order a cubic has none.
    #[test]
    fn a_cubic_is_smooth() {
        let z = DVector::from_iterator(8, KNOTS.iter().map(|t| 2.0 - t + 0.3 * t * t - 0.05 * t * t * t));
        let k = matrix(&KNOTS, 4).unwrap();
        assert!((z.transpose() * &k * &z)[(0, 0)].abs() < 1e-9 * k.norm());
    }

    /// ∫₀¹ (f⁗)² of f = x⁶(1 − x)⁶, whose ends are flat enough for the smoothest curve through 60 of its points to be
    /// itself; the integral from the polynomial, term by term.
    #[test]
    fn it_is_the_integral_it_says() {
        // f = Σ cₖ xᵏ, k from 6 to 12.
        let binomial = [1.0, -6.0, 15.0, -20.0, 15.0, -6.0, 1.0];
        let fourth: Vec<(f64, f64)> = (6..=12)
            .map(|k| {
                let k = f64::from(k);
                (binomial[k as usize - 6] * k * (k - 1.0) * (k - 2.0) * (k - 3.0), k - 4.0)
            })
            .collect();
        let exact: f64 = fourth.iter().flat_map(|a| fourth.iter().map(move |b| a.0 * b.0 / (a.1 + b.1 + 1.0))).sum();
        let knots: Vec<f64> = (0..60).map(|i| f64::from(i) / 59.0).collect();
        let z = DVector::from_iterator(60, knots.iter().map(|x: &f64| x.powi(6) * (1.0 - x).powi(6)));
        // In the mean spacing: the integral of the eighth power of lengths less one.
        let scaled = exact / 59.0_f64.powi(7);
        let found = (z.transpose() * matrix(&knots, 4).unwrap() * &z)[(0, 0)];
        assert!((found / scaled - 1.0).abs() < 1e-4, "{found} {scaled}");
    }
}
