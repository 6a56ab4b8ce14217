//! What timbers to cut.

use super::Timber;
use crate::spec::TimberSpec;

/// Pieces of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct CutOf {
    /// How many.
    pub count: u32,
    /// mm.
    pub length: f64,
    /// Numbers of the timbers they are for.
    pub timbers: Vec<usize>,
}

/// What to cut, longest first.
#[derive(Debug, Clone, PartialEq)]
pub struct CutList {
    /// By length.
    pub of: Vec<CutOf>,
    /// More of the longest, for those that break: a longer one makes a shorter.
    pub extra: u32,
    /// Of it all, extra ones too, mm.
    pub total: f64,
}

/// Pieces by length, each length rounded up to a whole number of `step`, mm.
#[must_use]
pub fn cut_list(timbers: &[Timber], spec: &TimberSpec, step: f64) -> CutList {
    // A thousandth of a step over is rounding, not length.
    let steps = |t: &Timber| (t.length / step - 1e-3).ceil().max(1.0) as u32;
    let mut of: Vec<(u32, CutOf)> = Vec::new();
    for timber in timbers {
        let long = steps(timber);
        match of.iter_mut().find(|(l, _)| *l == long) {
            Some((_, line)) => {
                line.count += timber.pieces;
                line.timbers.push(timber.n);
            }
            None => {
                let length = f64::from(long) * step;
                of.push((long, CutOf { count: timber.pieces, length, timbers: vec![timber.n] }));
            }
        }
    }
    of.sort_by_key(|(l, _)| std::cmp::Reverse(*l));
    let of: Vec<CutOf> = of.into_iter().map(|(_, line)| line).collect();
    let pieces: u32 = of.iter().map(|l| l.count).sum();
    // 0.1 of 30 is 3, and not 4.
    let extra = (f64::from(pieces) * spec.extra - 1e-9).ceil().max(0.0) as u32;
    let longest = of.first().map_or(0.0, |l| l.length);
    let total = of.iter().map(|l| f64::from(l.count) * l.length).sum::<f64>() + f64::from(extra) * longest;
    CutList { of, extra, total }
}
