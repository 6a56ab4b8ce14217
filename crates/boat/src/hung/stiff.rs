//! How far off its marks a plank lies where nobody looked: wood is stiff, so what it is off changes slowly along it.
//!
//! How far a strake is off at the places ξ (0 bow, 1 stern) is taken for an even error, one that grows from end to end, and
//! a slow wave, none of them known beforehand:
//!
//! ```text
//! cov(ξ, ξ') = EVEN² + SLOPE² (2ξ−1)(2ξ'−1) + WAVE² exp(−(ξ−ξ')²/2 REACH²)
//! ```
//!
//! The likeliest line given the readings, each as fine as a tape, says what lies between and beyond them; leaving one
//! reading out, what the others say of it. (Best linear prediction: any book on regression with correlated errors; derived
//! here.) The figures are those of planks hung some 3 mm off by hand: common practice, no source.

use nalgebra::{DMatrix, DVector};

const EVEN: f64 = 3.0;
const SLOPE: f64 = 2.0;
const WAVE: f64 = 2.0;
const REACH: f64 = 0.25;
/// A reading's own error, one standard deviation, mm: a tape read to a millimetre.
const READ: f64 = 0.3;

fn together(a: f64, b: f64) -> f64 {
    let (slope, apart) = ((2.0 * a - 1.0) * (2.0 * b - 1.0), (a - b) / REACH);
    EVEN * EVEN + SLOPE * SLOPE * slope + WAVE * WAVE * (-0.5 * apart * apart).exp()
}

/// A reading: where along the strake, and how far off its mark, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Off {
    pub at: f64,
    pub off: f64,
}

/// Inverse of the readings' covariance, and it times what they read.
fn weighed(read: &[Off]) -> Option<(DMatrix<f64>, DVector<f64>)> {
    let all = DMatrix::from_fn(read.len(), read.len(), |i, j| {
        together(read[i].at, read[j].at) + if i == j { READ * READ } else { 0.0 }
    });
    let inverse = all.cholesky()?.inverse();
    let pull = &inverse * DVector::from_iterator(read.len(), read.iter().map(|r| r.off));
    Some((inverse, pull))
}

/// How far off the strake is at each of `places`, by `read`; nowhere off without readings.
pub(super) fn between(read: &[Off], places: &[f64]) -> Vec<f64> {
    let Some((_, pull)) = weighed(read) else { return vec![0.0; places.len()] };
    let at = |place: &f64| read.iter().zip(pull.iter()).map(|(r, p)| p * together(*place, r.at)).sum();
    places.iter().map(at).collect()
}

/// How each reading differs from what the others say there, and how sure they are of it (one standard deviation), mm.
pub(super) fn against_others(read: &[Off]) -> Vec<[f64; 2]> {
    let Some((inverse, pull)) = weighed(read) else { return Vec::new() };
    (0..read.len()).map(|i| [pull[i] / inverse[(i, i)], inverse[(i, i)].recip().sqrt()]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn off(all: &[(f64, f64)]) -> Vec<Off> {
        all.iter().map(|&(at, off)| Off { at, off }).collect()
    }

    /// Leaving one out and asking for it, the slow way.
    #[test]
    fn what_the_others_say_is_what_they_say_without_it() {
        let read = off(&[(0.1, 1.0), (0.3, 2.0), (0.5, -1.0), (0.9, 0.5)]);
        for (i, [differs, _]) in against_others(&read).into_iter().enumerate() {
            let mut others = read.clone();
            let one = others.remove(i);
            assert!((one.off - between(&others, &[one.at])[0] - differs).abs() < 1e-9);
        }
    }

    #[test]
    fn it_passes_through_readings_and_between_them_smoothly() {
        let wave = |at: f64| 2.0 + (2.0 * at - 1.0) + (5.0 * at).sin();
        let read: Vec<Off> = (1..9).map(|i| f64::from(i) / 9.0).map(|at| Off { at, off: wave(at) }).collect();
        let at = [1.0 / 9.0, 0.5, 0.61];
        for (found, at) in between(&read, &at).into_iter().zip(at) {
            assert!((found - wave(at)).abs() < 0.1, "{at}: {found} for {}", wave(at));
        }
        // The ends are one mould's room off.
        for (found, at) in between(&read, &[0.0, 1.0]).into_iter().zip([0.0, 1.0]) {
            assert!((found - wave(at)).abs() < 0.5, "{at}: {found} for {}", wave(at));
        }
    }
}
