//! How sweet the lands look: their bends as each eye sees them, and the widths along each strake.

use crate::geom::Point;

/// A stretch of a seen line that bends one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Index of the first and last point of the stretch.
    pub from: usize,
    /// As `from`.
    pub to: usize,
    /// How far it turns, radians; + to the left of the way the line runs.
    pub turn: f64,
}

/// The eye takes a stretch that turns by less than this for straight, radians. Common practice, no source.
pub const SEEN: f64 = 0.005;

/// The stretches of a line seen as `seen` that bend one way and then the other; stretches that turn by less than [`SEEN`]
/// go to their neighbours. One stretch: no inflection.
#[must_use]
pub fn bends(seen: &[[f64; 2]]) -> Vec<Bend> {
    let way = |i: usize| (seen[i + 1][1] - seen[i][1]).atan2(seen[i + 1][0] - seen[i][0]);
    let tau = std::f64::consts::TAU;
    let mut all: Vec<Bend> = Vec::new();
    for i in 1..seen.len().saturating_sub(1) {
        let turn = (way(i) - way(i - 1) + 0.5 * tau).rem_euclid(tau) - 0.5 * tau;
        match all.last_mut() {
            Some(last) if last.turn * turn >= 0.0 => {
                last.turn += turn;
                last.to = i + 1;
            }
            _ => all.push(Bend { from: i - 1, to: i + 1, turn }),
        }
    }
    merged(all, SEEN, |bend| bend.turn.abs())
}

/// [`bends`] without the stretches that stand off their own chord by less than `least`, mm as seen, which go to their
/// neighbours too.
#[must_use]
pub fn bends_deeper(seen: &[[f64; 2]], least: f64) -> Vec<Bend> {
    merged(bends(seen), least, |bend| depth(seen, bend))
}

/// How far a stretch stands off the chord between its ends, as seen.
#[must_use]
pub fn depth(seen: &[[f64; 2]], bend: &Bend) -> f64 {
    crate::geom::sagitta(&seen[bend.from..=bend.to])
}

/// The least stretch goes first, to its neighbours, until none is smaller than `least`.
fn merged(mut all: Vec<Bend>, least: f64, size: impl Fn(&Bend) -> f64) -> Vec<Bend> {
    while all.len() > 1 {
        let sizes = all.iter().map(&size).enumerate();
        let Some((i, smallest)) = sizes.min_by(|a, b| a.1.total_cmp(&b.1)) else { break };
        if smallest >= least {
            break;
        }
        let gone = all.remove(i);
        match i {
            0 => {
                all[0].from = gone.from;
                all[0].turn += gone.turn;
            }
            i if i == all.len() => {
                all[i - 1].to = gone.to;
                all[i - 1].turn += gone.turn;
            }
            i => {
                let after = all.remove(i);
                all[i - 1].to = after.to;
                all[i - 1].turn += gone.turn + after.turn;
            }
        }
    }
    all
}

/// Where along a strake it is wider than on both sides by more than `least`, but for the widest place: its humps.
#[must_use]
pub fn humps(widths: &[f64], least: f64) -> Vec<usize> {
    let Some(widest) = (0..widths.len()).max_by(|&a, &b| widths[a].total_cmp(&widths[b])) else { return Vec::new() };
    let mut humps = Vec::new();
    // From the widest place outward: rising again by more than `least` above the lowest so far is a hump.
    let mut walk = |order: &mut dyn Iterator<Item = usize>| {
        let mut low = widths[widest];
        let mut top: Option<usize> = None;
        for i in order {
            match top {
                None if widths[i] < low => low = widths[i],
                None if widths[i] > low + least => top = Some(i),
                Some(t) if widths[i] > widths[t] => top = Some(i),
                Some(t) if widths[i] < widths[t] - least => {
                    humps.push(t);
                    (low, top) = (widths[i], None);
                }
                _ => {}
            }
        }
        humps.extend(top);
    };
    walk(&mut (widest + 1..widths.len()));
    walk(&mut (0..widest).rev());
    humps.sort_unstable();
    humps
}

/// Dense points of a land as `view` sees them.
#[must_use]
pub fn seen(points: &[Point], view: &dyn Fn(&Point) -> [f64; 2]) -> Vec<[f64; 2]> {
    points.iter().map(view).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sine of three half waves bends left, right, left: two inflections. Closed form.
    #[test]
    fn a_sine_bends_as_often_as_it_has_half_waves() {
        let line = |height: f64| -> Vec<[f64; 2]> {
            (0..=300)
                .map(|i| f64::from(i) / 100.0)
                .map(|x| [1000.0 * x, height * (std::f64::consts::PI * x).sin()])
                .collect()
        };
        let found = bends(&line(50.0));
        assert_eq!(found.len(), 3);
        assert!(found[0].turn < 0.0 && found[1].turn > 0.0);
        assert!(found[0].to.abs_diff(100) <= 1 && found[1].to.abs_diff(200) <= 1);
        // 2 atan(πh/1000) of turn in each: too little to be seen.
        assert_eq!(bends(&line(0.5)).len(), 1);
    }

    #[test]
    fn humps_are_told_from_one_taper() {
        assert!(humps(&[], 1.0).is_empty());
        assert!(humps(&[60.0, 80.0, 95.0, 100.0, 90.0, 70.0], 1.0).is_empty());
        assert_eq!(humps(&[64.0, 93.0, 78.0, 84.0, 100.0, 90.0, 70.0], 1.0), [1]);
        assert_eq!(humps(&[64.0, 93.0, 92.5, 93.4, 90.0, 70.0, 71.0, 60.0], 1.0), [] as [usize; 0]);
        assert_eq!(humps(&[64.0, 93.0, 90.0, 70.0, 72.0, 60.0, 65.0], 1.0), [4, 6]);
    }
}
