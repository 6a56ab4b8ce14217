//! The outline of a knee in its own plane.
//!
//! Two outer edges run from the corner along the faces. Each arm is cut square to the straight line from its corner to its end,
//! as wide there as its tip. The inner edge leaves both tips along those lines and is the conic between them that goes through
//! the throat: on straight faces no arm is anywhere thinner than its tip, and it thickens all the way to the throat.

/// Why there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoOutline {
    /// The throat leaves too little wood: the least that does.
    Shallow(f64),
    /// The throat lies past the straight line between the tips: the most that does not.
    Deep(f64),
    /// The edges have no length.
    Nothing,
}

/// Pieces of the inner edge.
const PIECES: usize = 32;
/// On a hollow or stepped face an arm may be thinner than its tip, but not than this share of it.
const LEAST: f64 = 0.5;

/// Outer edges `a` and `b` from the corner outwards, `tip` wide at their ends; the inner edge goes through `throat` from
/// `from` along `way` (unit). The inner edge, from `a`'s tip to `b`'s.
pub fn inner(
    a: &[[f64; 2]],
    b: &[[f64; 2]],
    tip: f64,
    (from, way): ([f64; 2], [f64; 2]),
    throat: f64,
) -> Result<Vec<[f64; 2]>, NoOutline> {
    let [p, c, q] = inner_lines(a, b, tip).ok_or(NoOutline::Nothing)?;
    let most = crossing(from, way, [p, q]).ok_or(NoOutline::Nothing)?;
    let least = [[p, c], [c, q]].into_iter().filter_map(|w| crossing(from, way, w)).fold(0.0, f64::max);
    if least > most {
        return Err(NoOutline::Nothing);
    }
    if throat > most {
        return Err(NoOutline::Deep(most));
    }
    let run = |pull: f64| conic(p, c, q, pull);
    // The conic nears its control point, and the corner, the harder it is pulled to it.
    let through = |throat: f64| {
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..40 {
            let mid = 0.5 * (low + high);
            let met = run(mid).windows(2).filter_map(|w| crossing(from, way, [w[0], w[1]])).fold(f64::MAX, f64::min);
            if met > throat { low = mid } else { high = mid }
        }
        run(0.5 * (low + high))
    };
    let found = through(throat);
    let thinnest = found.iter().map(|p| off(*p, a).min(off(*p, b))).fold(f64::MAX, f64::min);
    if throat < least || thinnest < LEAST * tip {
        return Err(if least > throat { NoOutline::Shallow(least) } else { NoOutline::Nothing });
    }
    Ok(found)
}

/// The whole outline, closed: from `a`'s tip along it to the corner, out along `b`, and back by the inner edge.
pub fn closed(a: &[[f64; 2]], b: &[[f64; 2]], inner: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut points: Vec<[f64; 2]> = a.iter().rev().copied().collect();
    let skip = usize::from(points.last().zip(b.first()).is_some_and(|(p, q)| gap(*p, *q) < super::SAME));
    points.extend(b.iter().skip(skip));
    points.extend(inner.iter().rev());
    points
}

/// The tips' inner corners, and between them where the lines meet on which the inner edge leaves them: beside the straight
/// lines from corner to end.
fn inner_lines(a: &[[f64; 2]], b: &[[f64; 2]], tip: f64) -> Option<[[f64; 2]; 3]> {
    let (end_a, end_b) = (*a.last()?, *b.last()?);
    let line = |edge: &[[f64; 2]], end: [f64; 2], other: [f64; 2]| {
        let corner = *edge.first()?;
        let long = gap(corner, end);
        let way = [(end[0] - corner[0]) / long, (end[1] - corner[1]) / long];
        let side = if (other[0] - end[0]) * -way[1] + (other[1] - end[1]) * way[0] > 0.0 { tip } else { -tip };
        let at = [end[0] - side * way[1], end[1] + side * way[0]];
        (long > super::SAME).then_some((at, way))
    };
    let ((p, u), (q, v)) = (line(a, end_a, end_b)?, line(b, end_b, end_a)?);
    // Back along u from p to the other's line.
    let across = u[0] * v[1] - u[1] * v[0];
    let back = ((p[0] - q[0]) * v[1] - (p[1] - q[1]) * v[0]) / across;
    (back.is_finite() && back > super::SAME).then_some([p, [p[0] - back * u[0], p[1] - back * u[1]], q])
}

/// How far along `way` from `from` the straight line from `p` to `q` is met, between the two.
fn crossing(from: [f64; 2], way: [f64; 2], [p, q]: [[f64; 2]; 2]) -> Option<f64> {
    let (u, v) = (q[0] - p[0], q[1] - p[1]);
    let across = way[0] * v - way[1] * u;
    let along = ((p[0] - from[0]) * v - (p[1] - from[1]) * u) / across;
    let share = ((p[0] - from[0]) * way[1] - (p[1] - from[1]) * way[0]) / across;
    (along > 0.0 && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(along)
}

/// The conic from `p` to `q` that leaves both towards `c`, pulled to it by 0 (straight) to 1 (its two lines).
fn conic(p: [f64; 2], c: [f64; 2], q: [f64; 2], pull: f64) -> Vec<[f64; 2]> {
    (0..=PIECES)
        .map(|i| {
            let t = i as f64 / PIECES as f64;
            let (a, b, d) = ((1.0 - t) * (1.0 - t) * (1.0 - pull), 2.0 * t * (1.0 - t) * pull, t * t * (1.0 - pull));
            let sum = (a + b + d).max(f64::MIN_POSITIVE);
            if i == 0 {
                return p;
            }
            if i == PIECES {
                return q;
            }
            [0, 1].map(|k| (a * p[k] + b * c[k] + d * q[k]) / sum)
        })
        .collect()
}

/// Distance from a run of points joined by straight lines.
fn off(p: [f64; 2], run: &[[f64; 2]]) -> f64 {
    let to_segment = |w: &[[f64; 2]]| {
        let (u, v) = (w[1][0] - w[0][0], w[1][1] - w[0][1]);
        let share = ((p[0] - w[0][0]) * u + (p[1] - w[0][1]) * v) / (u * u + v * v).max(f64::MIN_POSITIVE);
        let share = share.clamp(0.0, 1.0);
        gap(p, [w[0][0] + share * u, w[0][1] + share * v])
    };
    run.windows(2).map(to_segment).fold(f64::MAX, f64::min)
}

pub fn gap(p: [f64; 2], q: [f64; 2]) -> f64 {
    (p[0] - q[0]).hypot(p[1] - q[1])
}

/// Cuts a run of points off at `length` along it; `None` where it is shorter.
pub fn cut_at(run: &[[f64; 2]], length: f64) -> Option<Vec<[f64; 2]>> {
    let mut kept = vec![*run.first()?];
    let mut along = 0.0;
    for w in run.windows(2) {
        let step = gap(w[0], w[1]);
        if along + step >= length - super::SAME {
            let share = ((length - along) / step.max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            kept.push([w[0][0] + share * (w[1][0] - w[0][0]), w[0][1] + share * (w[1][1] - w[0][1])]);
            return Some(kept);
        }
        along += step;
        kept.push(w[1]);
    }
    None
}

/// Length of a run of points.
pub fn long(run: &[[f64; 2]]) -> f64 {
    run.windows(2).map(|w| gap(w[0], w[1])).sum()
}
