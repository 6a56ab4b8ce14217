//! The least of a quadratic whose unknowns may each go only so far either way.
//!
//! The matrix is positive definite, so there is one. [`Problem::least`] guesses which unknowns stand at a limit and mends the guess;
//! where that goes round in circles it walks down instead, which ends. Source: \[Judice\].
//! Which way errors fall: none; the answer is exact but for rounding, and passes no limit by more than a hair.

use nalgebra::{Cholesky, DMatrix, DVector};

/// ½δ'hδ + g'δ, to be least where |δᵢ| ≤ `limit[i]`, if that is given.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Symmetric and positive definite, 1/mm².
    pub h: DMatrix<f64>,
    /// 1/mm.
    pub g: DVector<f64>,
    /// mm, not negative.
    pub limit: Vec<Option<f64>>,
}

/// So many times running all that are wrong change places without their number falling; then the rest is walked.
const TRIES: usize = 6;
/// Most steps of the walk, which ends by itself: an end to it, should rounding send it in circles.
const MOST_STEPS: usize = 10_000;
/// Why there is none.
pub(super) const NO_LEAST: &str = "the equations have no answer";

impl Problem {
    /// The value at `change`.
    #[must_use]
    pub fn value(&self, change: &DVector<f64>) -> f64 {
        0.5 * change.dot(&(&self.h * change)) + self.g.dot(change)
    }

    /// Where it is least.
    ///
    /// Entries are taken to stand at a limit or not; the others follow. Those that then pass their limit, and those that
    /// would rather come off it, change places, all at once while their number falls \[Judice\]. Should it fall no more, the
    /// rest is walked: towards the least with those at their limits held, as far as the next limit, and there one more is
    /// held; and where none is in the way, the one that pulls most is let go. That leads down at every step, so it ends.
    /// Everything comes from one inverse.
    ///
    /// # Errors
    /// h is not positive definite, or limits are not numbers.
    pub fn least(&self) -> Result<DVector<f64>, String> {
        let n = self.g.len();
        let inverse = inverse(self.h.clone()).ok_or(NO_LEAST)?;
        let loose = -(&inverse * &self.g);
        let mut side = vec![0_i8; n];
        let (mut fewest, mut tries) = (usize::MAX, TRIES);
        while tries > 0 {
            let (change, push) = self.held(&inverse, &loose, &side)?;
            let wrong: Vec<usize> = (0..n)
                .filter(
                    |&u| if side[u] == 0 { self.beyond(u, change[u]) } else { push[u] * f64::from(side[u]) < 0.0 },
                )
                .collect();
            if wrong.is_empty() {
                return Ok(change);
            }
            if wrong.len() < fewest {
                (fewest, tries) = (wrong.len(), TRIES);
            } else {
                tries -= 1;
            }
            for u in wrong {
                side[u] = if side[u] == 0 { change[u].signum() as i8 } else { 0 };
            }
        }
        self.walk(&inverse, &loose, side)
    }

    fn bound(&self, u: usize, side: i8) -> f64 {
        f64::from(side) * self.limit[u].unwrap_or(0.0)
    }

    fn beyond(&self, u: usize, change: f64) -> bool {
        self.limit[u].is_some_and(|l| change.abs() > l + 1e-12 * (1.0 + l))
    }

    /// The least with entries held at their upper limit where `side` is 1 and the lower where it is −1, whatever the other
    /// limits, and how hard each held one pushes upward.
    fn held(
        &self,
        inverse: &DMatrix<f64>,
        loose: &DVector<f64>,
        side: &[i8],
    ) -> Result<(DVector<f64>, DVector<f64>), String> {
        let at: Vec<usize> = (0..side.len()).filter(|&u| side[u] != 0).collect();
        let (mut change, mut push) = (loose.clone(), DVector::zeros(side.len()));
        if at.is_empty() {
            return Ok((change, push));
        }
        let among = DMatrix::from_fn(at.len(), at.len(), |i, j| inverse[(at[i], at[j])]);
        let over = DVector::from_iterator(at.len(), at.iter().map(|&u| loose[u] - self.bound(u, side[u])));
        let force = Cholesky::new(among).ok_or(NO_LEAST)?.solve(&over);
        for (&u, f) in at.iter().zip(&force) {
            change.axpy(-f, &inverse.column(u), 1.0);
            push[u] = *f;
        }
        for &u in &at {
            change[u] = self.bound(u, side[u]);
        }
        Ok((change, push))
    }

    fn walk(&self, inverse: &DMatrix<f64>, loose: &DVector<f64>, mut side: Vec<i8>) -> Result<DVector<f64>, String> {
        let n = side.len();
        let start = self.held(inverse, loose, &side)?.0;
        let mut change = DVector::from_fn(n, |u, _| self.limit[u].map_or(start[u], |l| start[u].clamp(-l, l)));
        for u in 0..n {
            if self.beyond(u, start[u]) {
                side[u] = start[u].signum() as i8;
            }
        }
        for _ in 0..MOST_STEPS {
            let (target, push) = self.held(inverse, loose, &side)?;
            let mut next = (1.0, None);
            for u in (0..n).filter(|&u| side[u] == 0 && self.beyond(u, target[u])) {
                let way = target[u].signum() as i8;
                let share = ((self.bound(u, way) - change[u]) / (target[u] - change[u])).max(0.0);
                if share < next.0 {
                    next = (share, Some((u, way)));
                }
            }
            change += (&target - &change) * next.0;
            if let Some((u, way)) = next.1 {
                (side[u], change[u]) = (way, self.bound(u, way));
                continue;
            }
            let pulls = |u: usize| -push[u] * f64::from(side[u]);
            let most = (0..n).max_by(|&a, &b| pulls(a).total_cmp(&pulls(b)));
            match most {
                Some(u) if pulls(u) > 1e-12 * push.amax() => side[u] = 0,
                _ => return Ok(target),
            }
        }
        Err("the limits were not settled".to_owned())
    }
}

/// Below this size a matrix is inverted as it is.
const SMALL: usize = 12;

/// The inverse of a symmetric positive definite matrix, `None` of another: by halves, so that nearly all of the work is
/// products of matrices. With S = D − BA⁻¹B' it is, of [A B'; B D], [A⁻¹ + W'S⁻¹W, −W'S⁻¹; −S⁻¹W, S⁻¹], W = BA⁻¹.
pub(super) fn inverse(h: DMatrix<f64>) -> Option<DMatrix<f64>> {
    let n = h.nrows();
    if n <= SMALL {
        return Some(Cholesky::new(h)?.inverse());
    }
    let m = n / 2;
    let a = inverse(h.view((0, 0), (m, m)).into_owned())?;
    let b = h.view((m, 0), (n - m, m));
    let w = b * &a;
    let s = inverse(h.view((m, m), (n - m, n - m)) - &w * b.transpose())?;
    let corner = &s * &w;
    let mut whole = h;
    whole.view_mut((0, 0), (m, m)).copy_from(&(a + w.transpose() * &corner));
    whole.view_mut((m, 0), (n - m, m)).copy_from(&-&corner);
    whole.view_mut((0, m), (m, n - m)).copy_from(&-corner.transpose());
    whole.view_mut((m, m), (n - m, n - m)).copy_from(&s);
    Some(whole)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
mod tests {
    use super::*;

    /// M'M and a little on the diagonal, from numbers without order.
    fn random(n: usize, seed: &mut u64) -> DMatrix<f64> {
        let m = DMatrix::from_fn(n, n, |_, _| number(seed));
        m.transpose() * &m + DMatrix::identity(n, n) * 0.01
    }

    fn number(seed: &mut u64) -> f64 {
        *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (*seed >> 33) as f64 / (1_u64 << 30) as f64 - 1.0
    }

    #[test]
    fn an_inverse_by_halves_is_the_inverse() {
        let mut seed = 3;
        for n in [1, 2, 31, 33, 80, 151] {
            let h = random(n, &mut seed);
            let one = &h * inverse(h.clone()).unwrap();
            assert!((one - DMatrix::identity(n, n)).amax() < 1e-7, "{n}");
        }
        let mut bent = random(70, &mut seed);
        bent[(50, 50)] = -1.0;
        assert!(inverse(bent).is_none());
    }

    /// A change is the least in its limits if, and only if, the slope h δ + g is 0 where it is between them, and pushes
    /// outward where it stands at one.
    #[test]
    fn the_least_in_limits_has_no_way_down() {
        let mut seed = 5;
        let mut at_limit = 0;
        for (n, stiff) in [(1, 0.0), (3, 0.0), (10, 0.0), (40, 0.0), (90, 0.0), (60, 1e3), (120, 1e5)] {
            for tight in [0.0, 0.02, 0.3, 4.0] {
                let limit = |seed: &mut u64| (number(seed) > -0.8).then(|| tight * (1.0 + number(seed)));
                // A batten: neighbours bend one another, and a block of them changes sides at a time.
                let bends = DMatrix::from_fn(n.max(3) - 2, n, |i, j| match j.wrapping_sub(i) {
                    0 | 2 => 1.0,
                    1 => -2.0,
                    _ => 0.0,
                });
                let h = bends.transpose() * bends * stiff;
                let problem = Problem {
                    h: if stiff > 0.0 { h + DMatrix::identity(n, n) } else { random(n, &mut seed) },
                    g: DVector::from_fn(n, |_, _| (3.0 + stiff) * number(&mut seed)),
                    limit: (0..n).map(|_| limit(&mut seed)).collect(),
                };
                let change = problem.least().unwrap();
                let slope = &problem.h * &change + &problem.g;
                for u in 0..n {
                    let limit = problem.limit[u].unwrap_or(f64::MAX);
                    assert!(change[u].abs() <= limit + 1e-9, "{n} {tight}: {u} is at {} of {limit}", change[u]);
                    if change[u].abs() < limit - 1e-9 {
                        assert!(slope[u].abs() < 1e-6 * (1.0 + stiff), "{n} {tight}: {u} would go on, {}", slope[u]);
                    } else {
                        at_limit += 1;
                        assert!(
                            limit < 1e-9 || slope[u] * change[u].signum() < 1e-6,
                            "{n} {tight}: {u}, {}",
                            slope[u]
                        );
                    }
                }
            }
        }
        assert!(at_limit > 100, "{at_limit}");
    }
}
