//! Arcs for a router: a run of points as few arcs of circles and straight lines that stay within a length of it.
//!
//! From each point the longest arc is taken that ends on a point of the run and keeps within the length of all of the run
//! between, its straight steps too; of all arcs through its two ends the one whose greatest distance is least. Corners are kept:
//! no arc goes round one. Arcs meet where they end, nearly smoothly, at points of the run.
//!
//! Source: derived here. With the chord from a to b along u, L long, an arc of bulge β = tan(θ/4), + anticlockwise, is on the
//! circle whose centre stands L (1 − β²)/(4β) to the left of the chord's middle; the one through (u, v) has
//! β = m/(2 + √(4 + m²)), m = 2vL/(u² + v² − uL). Arcs over one chord do not cross, so the distance of each point from them has one
//! valley, and so has the greatest distance.

use crate::drawing::Spot;

/// Most that an arc may stand off the run, mm.
pub const WITHIN: f64 = 0.05;

/// Kept back of that for the rounding of the file, mm.
const KEPT: f64 = 0.002;

/// A turn of more than this at a point is a corner: cosine of 6°.
const CORNER: f64 = 0.994_521_895;

/// Most bulge: arcs turn by no more than a right angle.
const BULGE: f64 = 0.414_213_562;

/// A run that keeps so near to a chord is straight, mm.
const STRAIGHT: f64 = 0.002;

/// A point, and how the way to the next bulges: 0 is straight, else the tangent of a quarter of the arc's angle, +
/// anticlockwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Where.
    pub at: Spot,
    /// The way on.
    pub bulge: f64,
}

/// A run of points as arcs; a closed one goes on from its last point to its first.
#[must_use]
pub fn fitted(points: &[Spot], closed: bool) -> Vec<Vertex> {
    let mut run: Vec<Spot> = points.to_vec();
    run.dedup_by(|a, b| apart(*a, *b) < SAME);
    if closed {
        while run.len() > 1 && apart(run[0], run[run.len() - 1]) < SAME {
            run.pop();
        }
        // Begin at its sharpest corner, and come back there.
        let n = run.len();
        let sharpness = |i: &usize| straightness(run[(i + n - 1) % n], run[*i], run[(i + 1) % n]);
        let first = (0..n).min_by(|i, j| sharpness(i).total_cmp(&sharpness(j))).unwrap_or(0);
        run.rotate_left(first);
        run.extend(run.first().copied());
    }
    let mut found = Vec::new();
    let mut from = 0;
    while from + 1 < run.len() {
        let (to, bulge) = longest(&run, from);
        found.push(Vertex { at: run[from], bulge });
        from = to;
    }
    if !closed {
        found.extend(run.last().map(|at| Vertex { at: *at, bulge: 0.0 }));
    }
    found
}

/// Points nearer than this are one, mm.
const SAME: f64 = 1e-4;

/// Where the longest way on from a point ends, and its bulge.
fn longest(run: &[Spot], from: usize) -> (usize, f64) {
    let corner = |i: &usize| straightness(run[i - 1], run[*i], run[i + 1]) < CORNER;
    let end = (from + 1..run.len() - 1).find(corner).unwrap_or(run.len() - 1);
    let (mut good, mut bulge, mut step) = (from + 1, 0.0, 1);
    // Longer by twice as much each time, and then by half as much.
    while good < end && step > 0 {
        let to = (good + step).min(end);
        match arc(&run[from..=to]) {
            Some(found) => {
                (good, bulge) = (to, found);
                step *= 2;
            }
            None => {
                step = if step > 1 { step / 2 } else { 0 };
                // From here on it only gets shorter.
                while step > 0 {
                    let to = (good + step).min(end);
                    if let Some(found) = arc(&run[from..=to]) {
                        (good, bulge) = (to, found);
                    }
                    step /= 2;
                }
            }
        }
    }
    (good, bulge)
}

/// The bulge of an arc over a run's ends that keeps within the length of it; `None` where there is none.
fn arc(run: &[Spot]) -> Option<f64> {
    let (a, b) = (run[0], run[run.len() - 1]);
    let length = apart(a, b);
    if length < SAME {
        return None;
    }
    let along = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    let places: Vec<Spot> = run
        .iter()
        .map(|p| {
            let (x, y) = (p[0] - a[0], p[1] - a[1]);
            [x * along[0] + y * along[1], y * along[0] - x * along[1]]
        })
        .collect();
    // A run that goes back on itself is no arc.
    if places.iter().any(|p| p[0] < -WITHIN || p[0] > length + WITHIN) {
        return None;
    }
    let off = |bulge: f64| furthest(&places, length, bulge);
    if off(0.0) <= STRAIGHT {
        return Some(0.0);
    }
    let through = |p: &Spot| {
        let [u, v] = *p;
        let m = 2.0 * v * length / (u * u + v * v - u * length).min(-f64::MIN_POSITIVE);
        m / (2.0 + (4.0 + m * m).sqrt())
    };
    let near = places[1..places.len() - 1].iter().map(through).filter(|b| b.is_finite());
    let (low, high) = near.fold((0.0, 0.0), |(l, h), b| (f64::min(l, b), f64::max(h, b)));
    let bulge = least(off, low.max(-BULGE), high.min(BULGE))?;
    (off(bulge) <= WITHIN - KEPT).then_some(bulge)
}

/// Where a function with one valley is least between two places.
fn least(of: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> Option<f64> {
    if low > high {
        return None;
    }
    for _ in 0..48 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if of(a) < of(b) { high = b } else { low = a }
    }
    Some(0.5 * (low + high))
}

/// How far a run stands off the arc of that bulge over its ends, its chord along u, at most.
///
/// Along a straight step the distance from the arc's centre is greatest at an end and least at the foot of the perpendicular, so
/// nothing between is missed. What the run's points project to covers all of the arc: no point of it is further off the run.
fn furthest(run: &[Spot], length: f64, bulge: f64) -> f64 {
    if bulge.abs() < 1e-12 {
        return run.iter().map(|p| p[1].abs()).fold(0.0, f64::max);
    }
    let square = bulge * bulge;
    let centre = [0.5 * length, length * (1.0 - square) / (4.0 * bulge)];
    let radius = length * (1.0 + square) / (4.0 * bulge.abs());
    let ends = run.iter().map(|p| (apart(*p, centre) - radius).abs()).fold(0.0, f64::max);
    let foot = |w: &[Spot]| {
        let step = [w[1][0] - w[0][0], w[1][1] - w[0][1]];
        let to = [centre[0] - w[0][0], centre[1] - w[0][1]];
        let square = step[0] * step[0] + step[1] * step[1];
        let share = (step[0] * to[0] + step[1] * to[1]) / square;
        let off = (step[0] * to[1] - step[1] * to[0]).abs() / square.sqrt();
        (0.0..=1.0).contains(&share).then(|| (off - radius).abs())
    };
    run.windows(2).filter_map(foot).fold(ends, f64::max)
}

/// Cosine of the turn at `b` on the way from `a` to `c`.
fn straightness(a: Spot, b: Spot, c: Spot) -> f64 {
    let ways = (apart(a, b) * apart(b, c)).max(f64::MIN_POSITIVE);
    ((b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])) / ways
}

fn apart(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    /// A point of the way on from a vertex, by its own centre and angle: `share` from 0 to 1.
    fn on(from: &Vertex, to: Spot, share: f64) -> Spot {
        let (a, b, beta) = (from.at, to, from.bulge);
        let chord = [b[0] - a[0], b[1] - a[1]];
        if beta == 0.0 {
            return [a[0] + share * chord[0], a[1] + share * chord[1]];
        }
        let left = (1.0 - beta * beta) / (4.0 * beta);
        let centre = [a[0] + 0.5 * chord[0] - left * chord[1], a[1] + 0.5 * chord[1] + left * chord[0]];
        let (sin, cos) = (4.0 * beta.atan() * share).sin_cos();
        let r = [a[0] - centre[0], a[1] - centre[1]];
        [centre[0] + cos * r[0] - sin * r[1], centre[1] + sin * r[0] + cos * r[1]]
    }

    /// How far a point is from a straight step.
    fn off(p: Spot, a: Spot, b: Spot) -> f64 {
        let step = [b[0] - a[0], b[1] - a[1]];
        let square = (step[0] * step[0] + step[1] * step[1]).max(1e-18);
        let share = (((p[0] - a[0]) * step[0] + (p[1] - a[1]) * step[1]) / square).clamp(0.0, 1.0);
        apart(p, [a[0] + share * step[0], a[1] + share * step[1]])
    }

    fn samples(found: &[Vertex], closed: bool) -> Vec<Spot> {
        let ends = if closed { found.len() } else { found.len() - 1 };
        let way = |i: usize| (0..=200).map(move |k| (i, f64::from(k) / 200.0));
        (0..ends).flat_map(way).map(|(i, s)| on(&found[i], found[(i + 1) % found.len()].at, s)).collect()
    }

    /// An ellipse of 900 by 300: the arcs' points stay within 0.05 mm of the true curve (Newton on the closed form), and
    /// every point of the curve within 0.05 mm of the arcs.
    #[test]
    fn arcs_stay_within_the_length_of_an_ellipse_both_ways() {
        let (a, b) = (900.0_f64, 300.0_f64);
        let at = |t: f64| [a * t.cos(), b * t.sin()];
        let points: Vec<Spot> = (0..1600).map(|i| at(TAU * f64::from(i) / 1600.0)).collect();
        let found = fitted(&points, true);
        assert!(found.len() < 60, "{} arcs", found.len());
        let off_ellipse = |p: &Spot| {
            let mut t = (p[1] / b).atan2(p[0] / a);
            for _ in 0..20 {
                let q = at(t);
                let d = [-a * t.sin(), b * t.cos()];
                t -= ((q[0] - p[0]) * d[0] + (q[1] - p[1]) * d[1]) / (d[0] * d[0] + d[1] * d[1]);
            }
            apart(at(t), *p)
        };
        let arcs = samples(&found, true);
        let most = arcs.iter().map(off_ellipse).fold(0.0, f64::max);
        assert!(most <= WITHIN, "{most}");
        assert!(most > 0.01, "arcs that long have some error: {most}");
        for i in 0..500 {
            let p = at(TAU * (f64::from(i) + 0.5) / 500.0);
            let near = arcs.windows(2).map(|w| off(p, w[0], w[1])).fold(f64::MAX, f64::min);
            assert!(near <= WITHIN, "{near}");
        }
    }

    /// A circle's points are its own arcs, a straight line one line, whatever it is sampled at.
    #[test]
    fn circles_and_lines_are_found_again() {
        let turn = |i: u32| TAU * f64::from(i) / 720.0;
        let circle: Vec<Spot> = (0..720).map(|i| [250.0 * turn(i).cos(), 250.0 * turn(i).sin()]).collect();
        let found = fitted(&circle, true);
        assert!((4..=6).contains(&found.len()), "{}", found.len());
        assert!(samples(&found, true).iter().all(|p| (p[0].hypot(p[1]) - 250.0).abs() < 0.005));
        assert!(found.iter().all(|v| v.bulge > 0.0));
        let line: Vec<Spot> = (0..=300).map(|i| [3.0 * f64::from(i), 4.0 * f64::from(i)]).collect();
        assert_eq!(fitted(&line, false).len(), 2);
    }

    /// Corners are points of the outcome, to the last bit.
    #[test]
    fn corners_are_kept() {
        let round = |i: i32| {
            let a = f64::from(i) / 50.0 * 0.5;
            [100.0 + 400.0 * a.sin(), 400.0 - 400.0 * a.cos()]
        };
        let mut points: Vec<Spot> = vec![[0.0, 0.0], [100.0, 0.0]];
        points.extend((1..=50).map(round));
        points.extend([[291.0, 300.0], [0.0, 300.0]]);
        let found = fitted(&points, true);
        for corner in [[0.0, 0.0], round(50), [291.0, 300.0], [0.0, 300.0]] {
            assert!(found.iter().any(|v| v.at == corner), "{corner:?}");
        }
        assert!(found.len() <= 7, "{found:?}");
    }

    #[test]
    fn runs_without_length_give_no_trouble() {
        assert!(fitted(&[], true).is_empty());
        assert_eq!(fitted(&[[1.0, 1.0]], false).len(), 1);
        assert!(fitted(&[[1.0, 1.0]; 5], true).len() <= 1);
        assert_eq!(fitted(&[[0.0, 0.0], [1.0, 0.0], [0.0, 0.0], [1.0, 0.0]], false).len(), 4);
    }
}
