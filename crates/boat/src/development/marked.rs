//! A flat plank marked out on its board: the batten line, its round, its grain, what is to be steamed.
//!
//! The batten line is struck parallel to the board's edge, where a gauge can run it: inside the plank from end to end where
//! there is such a line, as far from both edges as can be; else where the edge it leaves is least far outside. Turned a
//! little it would clear the edges by 2 mm more on most of our planks, and lie in no plank in which a parallel one does not.
//!
//! A board's grain is taken as straight along it. Where a plank runs at a slope to its board its grain runs out at that
//! slope. The slope is that of the middle line over a stretch as long as the plank is wide: what a saw or a split does on
//! less is no matter.

use super::FlatPlank;
use super::check;
use crate::geom::sagitta;
use crate::spec::BendSpec;

/// Where a plank's grain runs out fastest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RunOut {
    /// Rise of the plank's middle line on its board, as a share of the length; positive.
    pub slope: f64,
    /// The ruling in the middle of that stretch.
    pub ruling: usize,
}

/// `flat`, which is `thickness` thick and has its true ends, with its batten line, round and run-out, and the stretches that
/// `wood` does not bear cold.
#[must_use]
pub fn marked_out(mut flat: FlatPlank, thickness: f64, wood: &BendSpec) -> FlatPlank {
    flat.batten = batten(&flat.lower, &flat.upper);
    flat.round = round(&flat.lower, &flat.upper);
    flat.run_out = run_out(&flat.lower, &flat.upper);
    flat.steam = check::steam(&flat.bent, thickness, wood);
    flat
}

/// Height of the line, parallel to the board, that stays furthest inside both edges.
pub(crate) fn batten(lower: &[[f64; 2]], upper: &[[f64; 2]]) -> f64 {
    let highest = lower.iter().map(|p| p[1]).fold(f64::MIN, f64::max);
    let lowest = upper.iter().map(|p| p[1]).fold(f64::MAX, f64::min);
    0.5 * (highest + lowest)
}

fn middle(lower: &[[f64; 2]], upper: &[[f64; 2]]) -> Vec<[f64; 2]> {
    lower.iter().zip(upper).map(|(l, u)| [0.5 * (l[0] + u[0]), 0.5 * (l[1] + u[1])]).collect()
}

fn round(lower: &[[f64; 2]], upper: &[[f64; 2]]) -> f64 {
    let line = middle(lower, upper);
    let ([first, .., last], most) = (&line[..], sagitta(&line)) else { return 0.0 };
    let side = |p: &[f64; 2]| (last[0] - first[0]) * (p[1] - first[1]) - (last[1] - first[1]) * (p[0] - first[0]);
    let furthest = line.iter().map(side).max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
    most.abs().copysign(furthest)
}

/// Where the middle line between two edges rises fastest on the board along x.
#[must_use]
pub fn run_out(lower: &[[f64; 2]], upper: &[[f64; 2]]) -> RunOut {
    let line = middle(lower, upper);
    let mut most = RunOut::default();
    let mut end = 0;
    for begin in 0..line.len() {
        let wide = (upper[begin][0] - lower[begin][0]).hypot(upper[begin][1] - lower[begin][1]);
        while end + 1 < line.len() && line[end][0] - line[begin][0] < wide {
            end += 1;
        }
        let run = line[end][0] - line[begin][0];
        if run < wide {
            break;
        }
        let slope = ((line[end][1] - line[begin][1]) / run).abs();
        if slope > most.slope {
            most = RunOut { slope, ruling: usize::midpoint(begin, end) };
        }
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A strip 60 wide bent to a round of 9000 on a chord of 3000: sagitta 125.880325 (by hand 9000 − √(9000² − 1500²)), and
    /// at its ends the middle line stands at asin(1500/9000) to the chord.
    fn strip() -> [Vec<[f64; 2]>; 2] {
        let edge = |r: f64| -> Vec<[f64; 2]> {
            let half = (1500.0_f64 / 9000.0).asin();
            let foot = (9000.0 - 30.0) * half.cos();
            (0..=400)
                .map(|i| half * (f64::from(i) / 200.0 - 1.0))
                .map(|a| [1500.0 + r * a.sin(), r * a.cos() - foot])
                .collect()
        };
        [edge(8970.0), edge(9030.0)]
    }

    #[test]
    fn a_bent_strip_has_the_round_and_the_run_out_of_its_circle() {
        let [lower, upper] = strip();
        assert!((round(&lower, &upper) - 125.880_325).abs() < 1e-3);
        let down = |e: &[[f64; 2]]| e.iter().map(|p| [p[0], -p[1]]).collect::<Vec<_>>();
        assert!((round(&down(&upper), &down(&lower)) + 125.880_325).abs() < 1e-3);
        let out = run_out(&lower, &upper);
        // Over a stretch as long as the strip is wide, the middle of it is half a width nearer the middle of the strip; it
        // is whole rulings, up to 7.5 mm longer, and 3.75 more of 1500 is 0.0025.
        let expected = ((1500.0 - 30.0) / 9000.0_f64).asin().tan();
        assert!((out.slope / expected - 1.0).abs() < 2.6e-3, "{} against {expected}", out.slope);
        assert!(out.ruling < 10 || out.ruling > 390);
    }

    /// The strip rises 126 and is 60 wide, so no straight line lies in it: the batten line leaves either edge as far.
    #[test]
    fn a_batten_line_lies_inside_where_it_can_and_half_way_where_not() {
        let [lower, upper] = strip();
        let at = batten(&lower, &upper);
        let above = lower.iter().map(|p| p[1] - at).fold(f64::MIN, f64::max);
        let below = upper.iter().map(|p| at - p[1]).fold(f64::MIN, f64::max);
        assert!(above > 0.0 && (above - below).abs() < 1e-9);
        let straight = |y: f64| vec![[0.0, y], [500.0, y + 4.0], [1000.0, y]];
        assert!((batten(&straight(0.0), &straight(80.0)) - 42.0).abs() < 1e-9);
    }
}
