//! A curve that does not overshoot: where the fair curve would swing past a hard turn, as a keel's rabbet does into a
//! stem's.
//!
//! Cubic pieces whose slope at a point is that of the parabola through it and its neighbours, but none where the slopes
//! of the two chords differ in sign and never over three times either; so between two points the curve never leaves the
//! box they span. Source: \[monotone\]; the test checks what matters.
//! Cannot do: curvature without jumps, which it has at the points; not for lands.

/// Points on the curve through `points` at `knots`, `pieces` from each point to the next, the last point included.
/// Fewer than three points give straight pieces.
#[must_use]
pub fn dense<const N: usize>(knots: &[f64], points: &[[f64; N]], pieces: usize) -> Vec<[f64; N]> {
    through(knots, points, &slopes(knots, points), pieces)
}

/// `values` at even steps with `pieces` between each two: steps that change without a jump and, at both ends, are those
/// of the first and last piece taken whole. Never past two neighbours.
#[must_use]
pub fn steady(values: &[f64], pieces: usize) -> Vec<f64> {
    let knots: Vec<f64> = (0..values.len()).map(|i| i as f64).collect();
    let points: Vec<[f64; 1]> = values.iter().map(|&v| [v]).collect();
    let mut slopes = slopes(&knots, &points);
    let n = values.len();
    if n > 1 {
        slopes[0] = [values[1] - values[0]];
        slopes[n - 1] = [values[n - 1] - values[n - 2]];
    }
    through(&knots, &points, &slopes, pieces).into_iter().map(|[v]| v).collect()
}

fn through<const N: usize>(knots: &[f64], points: &[[f64; N]], slopes: &[[f64; N]], pieces: usize) -> Vec<[f64; N]> {
    let mut out = Vec::with_capacity(points.len() * pieces);
    for i in 0..points.len().saturating_sub(1) {
        let h = knots[i + 1] - knots[i];
        for p in 0..pieces {
            let s = p as f64 / pieces as f64;
            out.push(std::array::from_fn(|d| {
                let (a, b, ma, mb) = (points[i][d], points[i + 1][d], slopes[i][d] * h, slopes[i + 1][d] * h);
                let (s2, s3) = (s * s, s * s * s);
                a * (2.0 * s3 - 3.0 * s2 + 1.0)
                    + ma * (s3 - 2.0 * s2 + s)
                    + b * (3.0 * s2 - 2.0 * s3)
                    + mb * (s3 - s2)
            }));
        }
    }
    out.extend(points.last());
    out
}

fn slopes<const N: usize>(knots: &[f64], points: &[[f64; N]]) -> Vec<[f64; N]> {
    let n = points.len();
    let h = |i: usize| knots[i + 1] - knots[i];
    let rise = |i: usize, d: usize| (points[i + 1][d] - points[i][d]) / h(i);
    // At an end: the parabola's slope through three points, never against the first piece nor over three times it.
    let end = |first: usize, second: usize, d: usize| {
        let (ha, hb, a, b) = (h(first), h(second), rise(first, d), rise(second, d));
        let slope = ((2.0 * ha + hb) * a - ha * b) / (ha + hb);
        if slope * a <= 0.0 { 0.0 } else { slope.abs().min(3.0 * a.abs()).copysign(a) }
    };
    (0..n)
        .map(|i| {
            std::array::from_fn(|d| match (n, i) {
                (0 | 1, _) => 0.0,
                (2, _) => rise(0, d),
                (_, 0) => end(0, 1, d),
                (_, i) if i == n - 1 => end(n - 2, n - 3, d),
                _ => {
                    let (a, b) = (rise(i - 1, d), rise(i, d));
                    if a * b <= 0.0 {
                        return 0.0;
                    }
                    let slope = (h(i) * a + h(i - 1) * b) / (h(i - 1) + h(i));
                    slope.abs().min(3.0 * a.abs().min(b.abs())).copysign(a)
                }
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Heights of a rabbet that fall hard and then run level: nothing dips below the level part.
    #[test]
    fn a_hard_turn_is_not_overshot() {
        let knots = [0.0, 86.0, 543.0, 1000.0, 1457.0];
        let points = [[116.0], [86.0], [79.0], [79.0], [80.0]];
        let dense = dense(&knots, &points, 16);
        assert_eq!(dense.len(), 65);
        for (i, p) in dense.iter().enumerate() {
            let (a, b) = (points[(i / 16).min(3)][0], points[(i / 16).min(3) + 1][0]);
            assert!(p[0] >= f64::min(a, b) - 1e-9 && p[0] <= f64::max(a, b) + 1e-9, "{i}: {p:?}");
        }
        assert_eq!(dense[32], [79.0]);
    }

    #[test]
    fn a_straight_line_stays_straight() {
        let dense = dense(&[0.0, 1.0, 3.0, 4.0], &[[0.0, 1.0], [2.0, 1.0], [6.0, 1.0], [8.0, 1.0]], 4);
        for (i, p) in dense.iter().enumerate() {
            let t = [0.0, 1.0, 3.0, 4.0];
            let at = if i == 12 { 4.0 } else { t[i / 4] + (t[i / 4 + 1] - t[i / 4]) * (i % 4) as f64 / 4.0 };
            assert!((p[0] - 2.0 * at).abs() < 1e-12 && (p[1] - 1.0).abs() < 1e-12);
        }
    }
}
