//! Time taken, where a bench prints a table of its own.

use std::hint::black_box;
use std::time::Instant;

/// The least of so many runs, ms: the machine may have other work.
pub fn least<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    let time = |_| {
        let begun = Instant::now();
        black_box(work());
        begun.elapsed().as_secs_f64() * 1000.0
    };
    (0..runs).map(time).fold(f64::MAX, f64::min)
}
