//! Going down a sum to its least: Newton's steps, each gone as far as makes the sum less.

use super::LiningError;

/// When to stop.
#[derive(Debug, Clone, Copy)]
pub struct Until {
    /// Most steps.
    pub rounds: usize,
    /// A step that moves no mark by more than this is the last, mm.
    pub still: f64,
}

/// Goes down from the place `at`; how many steps it took. `sum` is what should be least, `step` how Newton would move each
/// unknown, `gone` a place with the unknowns gone some share of a step.
///
/// # Errors
/// [`LiningError::NoAnswer`] where there is no step.
pub fn descend<P>(
    at: &mut P,
    until: Until,
    sum: impl Fn(&P) -> f64,
    step: impl Fn(&P) -> Option<Vec<f64>>,
    gone: impl Fn(&P, &[f64], f64) -> P,
) -> Result<usize, LiningError> {
    let mut now = sum(at);
    for round in 1..=until.rounds {
        let step = step(at).ok_or(LiningError::NoAnswer)?;
        let far = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let mut share = 1.0;
        loop {
            if share * far < until.still {
                return Ok(round);
            }
            let next = gone(at, &step, share);
            let value = sum(&next);
            if value < now {
                (*at, now) = (next, value);
                break;
            }
            share *= 0.5;
        }
    }
    Ok(until.rounds)
}

/// Girths with the unknowns gone `share` of `step`, `index` telling which unknown each mark is.
pub fn moved(girths: &[Vec<f64>], index: &[Vec<Option<usize>>], step: &[f64], share: f64) -> Vec<Vec<f64>> {
    let by = |i: &Option<usize>| i.map_or(0.0, |i| share * step[i]);
    girths.iter().zip(index).map(|(row, index)| row.iter().zip(index).map(|(s, i)| s + by(i)).collect()).collect()
}

/// The furthest that a mark lies from where it lay, mm.
pub fn furthest(now: &[Vec<f64>], then: &[Vec<f64>]) -> f64 {
    now.iter().flatten().zip(then.iter().flatten()).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}
