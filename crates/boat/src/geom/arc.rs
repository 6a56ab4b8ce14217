//! A fair curve measured along itself.

use super::fair::{FairCurve, FairError};

/// A fair curve by the distance along it, the unit of the points.
///
/// Length is exact to about 1e-9 of the whole for curves with a few knots: each span is measured by Gauss's rule in
/// eight pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcCurve<const N: usize> {
    curve: FairCurve<N>,
    /// Parameter and distance at the ends of the pieces.
    table: Vec<(f64, f64)>,
}

const PIECES: usize = 8;

impl<const N: usize> ArcCurve<N> {
    /// The fair curve through `points`, knots at their chords.
    ///
    /// # Errors
    /// As [`FairCurve::through`].
    pub fn through(points: &[[f64; N]]) -> Result<Self, FairError> {
        Ok(Self::of(FairCurve::by_chords(points)?))
    }

    /// Measures `curve`.
    #[must_use]
    pub fn of(curve: FairCurve<N>) -> Self {
        let knots = curve.knots().to_vec();
        let mut table = vec![(knots[0], 0.0)];
        let mut at = 0.0;
        for w in knots.windows(2) {
            for p in 0..PIECES {
                let a = w[0] + (w[1] - w[0]) * p as f64 / PIECES as f64;
                let b = w[0] + (w[1] - w[0]) * (p + 1) as f64 / PIECES as f64;
                at += piece(&curve, a, b);
                table.push((b, at));
            }
        }
        ArcCurve { curve, table }
    }

    /// Whole length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.table[self.table.len() - 1].1
    }

    /// The curve itself.
    #[must_use]
    pub fn curve(&self) -> &FairCurve<N> {
        &self.curve
    }

    /// Parameter at `distance` from the start; beyond the ends it runs straight on in the parameter.
    #[must_use]
    pub fn parameter(&self, distance: f64) -> f64 {
        let last = self.table.len() - 2;
        let i = self.table.partition_point(|&(_, s)| s <= distance).saturating_sub(1).min(last);
        let ((t0, s0), (t1, s1)) = (self.table[i], self.table[i + 1]);
        let mut t = t0 + (t1 - t0) * (distance - s0) / (s1 - s0).max(f64::MIN_POSITIVE);
        for _ in 0..3 {
            let speed = norm(&self.curve.d1(t));
            if speed <= f64::MIN_POSITIVE {
                break;
            }
            t -= (s0 + piece(&self.curve, t0, t) - distance) / speed;
        }
        t
    }

    /// Point, unit tangent and bend at `distance` from the start, as [`at`](Self::at), [`tangent`](Self::tangent) and
    /// [`bend`](Self::bend) have them.
    #[must_use]
    pub fn all_at(&self, distance: f64) -> [[f64; N]; 3] {
        let t = self.parameter(distance);
        [self.curve.at(t), self.tangent_of(t), self.bend_of(t)]
    }

    /// Point at `distance` from the start.
    #[must_use]
    pub fn at(&self, distance: f64) -> [f64; N] {
        self.curve.at(self.parameter(distance))
    }

    /// Unit tangent at `distance` from the start.
    #[must_use]
    pub fn tangent(&self, distance: f64) -> [f64; N] {
        self.tangent_of(self.parameter(distance))
    }

    fn tangent_of(&self, t: f64) -> [f64; N] {
        let d = self.curve.d1(t);
        let n = norm(&d).max(f64::MIN_POSITIVE);
        d.map(|v| v / n)
    }

    /// How the unit tangent turns at `distance` from the start, for each unit of it: the curvature, towards the hollow side.
    #[must_use]
    pub fn bend(&self, distance: f64) -> [f64; N] {
        self.bend_of(self.parameter(distance))
    }

    fn bend_of(&self, t: f64) -> [f64; N] {
        let (d1, d2) = (self.curve.d1(t), self.curve.d2(t));
        let speed = norm(&d1).max(f64::MIN_POSITIVE);
        let along: f64 = d1.iter().zip(&d2).map(|(a, b)| a * b).sum::<f64>() / (speed * speed);
        std::array::from_fn(|i| (d2[i] - along * d1[i]) / (speed * speed))
    }

    /// Distance from the start to parameter `t`.
    #[must_use]
    pub fn distance(&self, t: f64) -> f64 {
        let last = self.table.len() - 2;
        let i = self.table.partition_point(|&(p, _)| p <= t).saturating_sub(1).min(last);
        self.table[i].1 + piece(&self.curve, self.table[i].0, t)
    }
}

fn norm<const N: usize>(v: &[f64; N]) -> f64 {
    v.iter().map(|x| x * x).sum::<f64>().sqrt()
}

/// Length between two parameters, five-point Gauss [A&S64 table 25.4].
fn piece<const N: usize>(curve: &FairCurve<N>, a: f64, b: f64) -> f64 {
    const X: [f64; 3] = [0.0, 0.538_469_310_105_683, 0.906_179_845_938_664];
    const W: [f64; 3] = [0.568_888_888_888_889, 0.478_628_670_499_366, 0.236_926_885_056_189];
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    let speed = |x: f64| norm(&curve.d1(mid + half * x));
    half * (W[0] * speed(0.0) + (1..3).map(|i| W[i] * (speed(X[i]) + speed(-X[i]))).sum::<f64>())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Complete elliptic integral E(m): the quarter of an ellipse of half-axis 1 is E(m) long. Source: [A&S64 table 17.1].
    const E: [(f64, f64); 4] =
        [(0.10, 1.530_757_637), (0.25, 1.467_462_209), (0.50, 1.350_643_881), (0.90, 1.104_774_733)];

    #[test]
    fn quarter_ellipse_has_the_tabled_length() {
        for (m, e) in E {
            let b = f64::sqrt(1.0 - m);
            let points: Vec<[f64; 2]> = (0..=48)
                .map(|i| {
                    let t = std::f64::consts::FRAC_PI_2 * f64::from(i) / 48.0;
                    [900.0 * t.sin(), 900.0 * b * t.cos()]
                })
                .collect();
            let length = ArcCurve::through(&points).unwrap().length();
            assert!((length - 900.0 * e).abs() < 1e-3, "m = {m}: {length} against {}", 900.0 * e);
        }
    }

    #[test]
    fn distance_and_parameter_undo_each_other() {
        let curve = ArcCurve::through(&[[0.0, 0.0], [10.0, 4.0], [18.0, 15.0], [20.0, 33.0]]).unwrap();
        for i in 0..=40 {
            let s = curve.length() * f64::from(i) / 40.0;
            assert!((curve.distance(curve.parameter(s)) - s).abs() < 1e-9);
        }
    }
}
