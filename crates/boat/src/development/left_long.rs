//! What is left on a flat plank to be cut when it is fitted: past its ends, and above the sheer.
//!
//! Each line lies the allowance off the net one, square to it: off the rabbet's curve at a hood end, off the cut at a
//! transom, off the sheer. The plank's edges run straight on to the lines past its ends. Where an end and an edge are nearly
//! one curve, as the garboard's hood and its lower edge, they would meet far off, so the line begins square off the corner.
//!
//! Lines fall inside by the sagitta of the net end's own steps; those are some tenths of a mm long.

use super::board::Board;
use super::{FlatPlank, HoodEnd};
use crate::spec::Allowance;

type Spot = [f64; 2];

/// The lines that a plank is sawn to, on the flat plank or on a part's board, mm. Each runs from a corner of the net outline
/// to another, or to where it meets the next; empty where nothing is left.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeftLong {
    /// Past the fore end, from its lower corner up.
    pub fore: Vec<Spot>,
    /// Above the upper edge, from the bow.
    pub upper: Vec<Spot>,
    /// Past the after end, from its lower corner up.
    pub aft: Vec<Spot>,
    /// The lower left corner of the least board with all that, as the net one's is nought.
    pub corner: Spot,
    /// Length and width of the least board with all that.
    pub board: Spot,
}

impl LeftLong {
    /// The lines that there are.
    pub fn runs(&self) -> impl Iterator<Item = &Vec<Spot>> {
        [&self.fore, &self.upper, &self.aft].into_iter().filter(|run| run.len() > 1)
    }

    /// The same with its board, where the net one is so long and wide.
    fn on_board(mut self, [length, width]: Spot) -> Self {
        let (mut low, mut high) = ([0.0_f64; 2], [length, width]);
        for p in self.fore.iter().chain(&self.upper).chain(&self.aft) {
            for axis in 0..2 {
                low[axis] = low[axis].min(p[axis]);
                high[axis] = high[axis].max(p[axis]);
            }
        }
        self.corner = low;
        self.board = [high[0] - low[0], high[1] - low[1]];
        self
    }

    /// What of it is left on a part of the plank with its own board, which has the plank's own fore or after end or not.
    #[must_use]
    pub fn on_part(&self, board: &Board, own: [bool; 2]) -> Self {
        let place = |run: &Vec<Spot>| -> Vec<Spot> { run.iter().map(|p| board.place(p)).collect() };
        let kept = |own: bool, run: &Vec<Spot>| if own { place(run) } else { Vec::new() };
        let from = if own[0] { f64::NEG_INFINITY } else { 0.0 };
        let upper = between(&place(&self.upper), from, if own[1] { f64::INFINITY } else { board.length });
        LeftLong { fore: kept(own[0], &self.fore), aft: kept(own[1], &self.aft), upper, ..LeftLong::default() }
            .on_board([board.length, board.width])
    }
}

/// What is left on a flat plank with its true ends.
#[must_use]
pub fn left_long(flat: &FlatPlank, left: Allowance) -> LeftLong {
    let size = [flat.length, flat.board_width];
    let n = flat.lower.len();
    if n < 2 || flat.upper.len() != n {
        return LeftLong::default().on_board(size);
    }
    let upper = if left.upper > 0.0 { beside(&flat.upper, -left.upper) } else { flat.upper.clone() };
    let m = upper.len();
    let corners = |i: usize| [flat.lower[i], flat.upper[i]];
    let end =
        |hood: &Option<HoodEnd>, i: usize| hood.as_ref().map_or_else(|| corners(i).to_vec(), |h| h.curve.clone());
    let fore = past(&end(&flat.fore_hood, 0), [flat.lower[0], flat.lower[1]], [upper[0], upper[1]], left.fore, false);
    let aft = past(
        &end(&flat.aft_hood, n - 1),
        [flat.lower[n - 1], flat.lower[n - 2]],
        [upper[m - 1], upper[m - 2]],
        left.aft,
        true,
    );
    let sheer = if left.upper > 0.0 {
        let first = fore.last().copied().unwrap_or(flat.upper[0]);
        let last = aft.last().copied().unwrap_or(flat.upper[n - 1]);
        std::iter::once(first).chain(upper.iter().copied()).chain([last]).collect()
    } else {
        Vec::new()
    };
    let whole = |mut run: Vec<Spot>, i: usize| {
        if !run.is_empty() {
            run.insert(0, flat.lower[i]);
            if left.upper == 0.0 {
                run.push(flat.upper[i]);
            }
        }
        run
    };
    LeftLong { fore: whole(fore, 0), upper: sheer, aft: whole(aft, n - 1), ..LeftLong::default() }.on_board(size)
}

/// The line `left` past an end that runs up from the lower edge to the upper one, between those edges carried straight on;
/// each edge by its last point and the one before it.
fn past(end: &[Spot], lower: [Spot; 2], upper: [Spot; 2], left: f64, aft: bool) -> Vec<Spot> {
    let (Some(first), Some(last)) = (end.first(), end.last()) else { return Vec::new() };
    if left <= 0.0 || end.len() < 2 {
        return Vec::new();
    }
    let n = end.len();
    let reach = 4.0 * left + 50.0;
    let mut long = vec![on(end[1], *first, reach)];
    long.extend(end);
    long.push(on(end[n - 2], *last, reach));
    let off = if aft { left } else { -left };
    let mut line = beside(&long, off);
    if line.len() < 2 {
        // It bends in on itself more sharply than that: off its chord.
        line = beside(&[on(*last, *first, reach), on(*first, *last, reach)], off);
    }
    let mut ends: [(Spot, f64); 2] = [lower, upper].map(|[corner, before]| {
        let far = on(before, corner, 2.0 * left);
        crossing(&line, corner, far).unwrap_or_else(|| nearest(&line, corner))
    });
    if ends[0].1 > ends[1].1 {
        ends.swap(0, 1);
    }
    let [(from, a), (to, b)] = ends;
    let between = (0..line.len()).filter(|i| (*i as f64) > a && (*i as f64) < b).map(|i| line[i]);
    std::iter::once(from).chain(between).chain([to]).collect()
}

/// The stretch of a run along x from one place to another.
fn between(run: &[Spot], from: f64, to: f64) -> Vec<Spot> {
    let mut kept = Vec::new();
    for (i, p) in run.iter().enumerate() {
        for edge in [from, to] {
            if let Some(before) = i.checked_sub(1).map(|b| run[b])
                && (before[0] < edge) != (p[0] < edge)
            {
                let share = (edge - before[0]) / (p[0] - before[0]);
                kept.push([edge, before[1] + share * (p[1] - before[1])]);
            }
        }
        if (from..=to).contains(&p[0]) {
            kept.push(*p);
        }
    }
    kept
}

/// From `a` through `b`, `mm` beyond it.
fn on(a: Spot, b: Spot, mm: f64) -> Spot {
    let length = apart(a, b).max(1e-9);
    [0, 1].map(|axis| b[axis] + (b[axis] - a[axis]) * mm / length)
}

fn apart(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The line `off` to the right of a run, square to it, negative to the left; without the loops of a bend tighter than that.
fn beside(run: &[Spot], off: f64) -> Vec<Spot> {
    let normal = |a: Spot, b: Spot| {
        let length = apart(a, b).max(1e-9);
        [(b[1] - a[1]) / length, (a[0] - b[0]) / length]
    };
    let run: Vec<Spot> = {
        let mut run = run.to_vec();
        run.dedup_by(|a, b| apart(*a, *b) < 1e-6);
        run
    };
    if run.len() < 2 {
        return run;
    }
    let last = run.len() - 1;
    let points = (0..=last).flat_map(|i| {
        let before = normal(run[i.saturating_sub(1)], run[i.max(1)]);
        let after = normal(run[i.min(last - 1)], run[(i + 1).min(last)]);
        let at = |n: Spot, scale: f64| [0, 1].map(|axis| run[i][axis] + off * scale * n[axis]);
        let middle = [before[0] + after[0], before[1] + after[1]];
        let length = middle[0].hypot(middle[1]).max(1e-9);
        if off * (before[0] * after[1] - before[1] * after[0]) > 0.0 && length < SMOOTH {
            // Round the outside of a corner.
            return vec![at(before, 1.0), at(middle, 1.0 / length), at(after, 1.0)];
        }
        // So far out that it lies `off` from both lines that meet here; past a right angle it is cut short.
        vec![at(middle, 2.0 / (length * length).max(2.0))]
    });
    let clear = |p: &Spot| run.windows(2).all(|w| off_segment(*p, w[0], w[1]) > off.abs() - 1e-6);
    points.filter(clear).collect()
}

/// Twice the cosine of half the turn, one degree, past which a point of a run is a corner.
const SMOOTH: f64 = 1.999_924;

fn off_segment(p: Spot, a: Spot, b: Spot) -> f64 {
    let d = [b[0] - a[0], b[1] - a[1]];
    let t = ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1]) / (d[0] * d[0] + d[1] * d[1]).max(1e-12);
    let t = t.clamp(0.0, 1.0);
    apart(p, [a[0] + t * d[0], a[1] + t * d[1]])
}

/// Where a straight line from `a` to `b` first meets a run: the point, and its place on the run.
fn crossing(run: &[Spot], a: Spot, b: Spot) -> Option<(Spot, f64)> {
    let d = [b[0] - a[0], b[1] - a[1]];
    let mut best: Option<(f64, f64)> = None;
    for (i, w) in run.windows(2).enumerate() {
        let e = [w[1][0] - w[0][0], w[1][1] - w[0][1]];
        let cross = d[0] * e[1] - d[1] * e[0];
        if cross.abs() < 1e-12 {
            continue;
        }
        let to = [w[0][0] - a[0], w[0][1] - a[1]];
        let (s, t) = ((to[0] * e[1] - to[1] * e[0]) / cross, (to[0] * d[1] - to[1] * d[0]) / cross);
        if (0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t) && best.is_none_or(|b| s < b.0) {
            best = Some((s, i as f64 + t));
        }
    }
    best.map(|(s, place)| ([a[0] + s * d[0], a[1] + s * d[1]], place))
}

/// The point of a run nearest to `p`, and its place on the run.
fn nearest(run: &[Spot], p: Spot) -> (Spot, f64) {
    let mut best = (p, 0.0, f64::INFINITY);
    for (i, w) in run.windows(2).enumerate() {
        let d = [w[1][0] - w[0][0], w[1][1] - w[0][1]];
        let t = ((p[0] - w[0][0]) * d[0] + (p[1] - w[0][1]) * d[1]) / (d[0] * d[0] + d[1] * d[1]).max(1e-12);
        let t = t.clamp(0.0, 1.0);
        let foot = [w[0][0] + t * d[0], w[0][1] + t * d[1]];
        if apart(foot, p) < best.2 {
            best = (foot, i as f64 + t, apart(foot, p));
        }
    }
    (best.0, best.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: &[Spot], expected: &[Spot]) {
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for (f, e) in found.iter().zip(expected) {
            assert!(apart(*f, *e) < 1e-9, "{found:?}");
        }
    }

    /// A straight cut that leans by 3 in 4 across level edges: the line lies 12 off it where the edges meet it 15 further on
    /// (12 · 5/4, since the cut's normal leans by 3 in 5).
    #[test]
    fn the_edges_run_on_to_a_line_square_off_a_leaning_cut() {
        let end = [[0.0, 0.0], [-60.0, 80.0]];
        let line = past(&end, [[0.0, 0.0], [10.0, 0.0]], [[-60.0, 80.0], [10.0, 80.0]], 12.0, false);
        let ends = |line: &[Spot]| [line[0], line[line.len() - 1]];
        near(&ends(&line), &[[-15.0, 0.0], [-75.0, 80.0]]);
        assert!(line.iter().all(|p| (0.8 * p[0] + 0.6 * p[1] + 12.0).abs() < 1e-9), "{line:?}");
        let aft = past(&end, [[0.0, 0.0], [-10.0, 0.0]], [[-60.0, 80.0], [-70.0, 80.0]], 12.0, true);
        near(&ends(&aft), &[[15.0, 0.0], [-45.0, 80.0]]);
    }

    /// Beside a round of 300 lies one of 312, or 288 on its hollow side.
    #[test]
    fn a_line_beside_a_round_is_a_round() {
        let round: Vec<Spot> =
            (0..=200).map(|i| f64::from(i) / 200.0 - 0.5).map(|a| [-300.0 * a.cos(), 300.0 * a.sin()]).collect();
        for (off, radius) in [(-12.0, 312.0), (12.0, 288.0)] {
            let line = beside(&round, off);
            assert_eq!(line.len(), round.len());
            assert!(line.iter().all(|p| (p[0].hypot(p[1]) - radius).abs() < 1e-3), "{off}");
        }
        // A bend of 300 has nothing 320 to its hollow side but what lies off its ends.
        assert!(beside(&round, 320.0).len() < 100);
    }

    #[test]
    fn a_part_has_the_stretch_between_its_ends() {
        let run = [[-10.0, 0.0], [10.0, 4.0], [20.0, 4.0], [40.0, 8.0]];
        near(&between(&run, 0.0, 30.0), &[[0.0, 2.0], [10.0, 4.0], [20.0, 4.0], [30.0, 6.0]]);
        near(&between(&run, f64::NEG_INFINITY, 15.0), &[[-10.0, 0.0], [10.0, 4.0], [15.0, 4.0]]);
    }

    /// An end that begins along the lower edge: the edge never meets the line, which begins square off the corner.
    #[test]
    fn a_hood_that_begins_along_the_edge_has_its_line_square_off_the_corner() {
        let end: Vec<Spot> = (0..=100)
            .map(|i| f64::from(i) / 100.0 * std::f64::consts::FRAC_PI_2)
            .map(|a| [-400.0 * a.sin(), 400.0 - 400.0 * a.cos()])
            .collect();
        let line = past(&end, [[0.0, 0.0], [10.0, 0.0]], [[-400.0, 400.0], [-390.0, 420.0]], 10.0, false);
        assert!(apart(line[0], [0.0, -10.0]) < 0.1, "{:?}", line[0]);
        assert!(line.iter().take(90).all(|p| (p[0].hypot(p[1] - 400.0) - 410.0).abs() < 0.02));
    }
}
