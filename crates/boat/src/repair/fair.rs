//! Fair lines through readings, and readings that cannot be right.
//!
//! Of all lines that pass every reading within what a tape may be off, the fairest of this family is taken: the values z that
//! make |z − y|² + λ z'Kz least, K the energy of the fair curve through them, with λ as large as the tape allows. A reading y_i
//! is judged by the fair curve through all the others, which has z_i = −Σ K_ij y_j / K_ii there. If every other reading were
//! off by all that a tape may be, that would move by Σ |K_ij| / K_ii times as much: the reading is measured in these.

use crate::geom::fair::{FairError, scaled_energy_matrix};
use nalgebra::{DMatrix, DVector};

/// One row of readings: where they stand and what was read, mm.
pub struct Row {
    knots: Vec<f64>,
    energy: DMatrix<f64>,
}

/// A reading that stands out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Out {
    pub index: usize,
    /// What the others say, mm.
    pub others: f64,
}

/// Fewer readings than this do not show which of them is wrong.
const LEAST_TO_JUDGE: usize = 6;
/// A reading is named where it is so many times further off than tapes can make it...
const FAR: f64 = 3.0;
/// ...and so many times further than any other is when it is left out...
const CLEAR: f64 = 3.0;
/// ...and by this at least, mm: less does not spoil a plank.
const LEAST_OUT: f64 = 4.0;
/// The first and the last so many are not judged.
const FROM_END: usize = 2;
/// A tape is never better than this, mm, when a reading is judged.
const BEST_TAPE: f64 = 0.5;
/// Rounds of halving for the stiffness, on a scale of powers of ten.
const HALVINGS: usize = 50;
const STIFFNESS: [f64; 2] = [-9.0, 4.0];

impl Row {
    pub fn new(knots: &[f64]) -> Result<Row, FairError> {
        Ok(Row { knots: knots.to_vec(), energy: scaled_energy_matrix(knots)? })
    }

    /// The values as faired, each moved by `tape` at most.
    pub fn faired(&self, values: &[f64], tape: f64) -> Vec<f64> {
        if tape <= 0.0 || values.len() < 4 {
            return values.to_vec();
        }
        let [mut low, mut high] = STIFFNESS;
        let mut best = values.to_vec();
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            match self.sprung(values, 10.0_f64.powf(middle)) {
                Some(z) if z.iter().zip(values).all(|(z, y)| (z - y).abs() <= tape) => {
                    best = z;
                    low = middle;
                }
                _ => high = middle,
            }
        }
        best
    }

    fn sprung(&self, values: &[f64], stiffness: f64) -> Option<Vec<f64>> {
        let n = values.len();
        let system = DMatrix::identity(n, n) + &self.energy * stiffness;
        Some(system.cholesky()?.solve(&DVector::from_column_slice(values)).as_slice().to_vec())
    }

    /// What the others say at `i`, and by how much it moves for each mm they are off; `None` where they say nothing.
    fn others(&self, values: &[f64], i: usize) -> Option<[f64; 2]> {
        let own = self.energy[(i, i)];
        if own <= 1e-12 {
            return None;
        }
        let rest = (0..values.len()).filter(|&j| j != i);
        let (mut says, mut moves) = (0.0, 1.0);
        for j in rest {
            says -= self.energy[(i, j)] * values[j] / own;
            moves += self.energy[(i, j)].abs() / own;
        }
        Some([says, moves])
    }

    /// How many times further off than tapes can make it each reading is.
    fn off(&self, values: &[f64], tape: f64) -> Vec<f64> {
        let one =
            |i: usize| self.others(values, i).map_or(0.0, |[says, moves]| (values[i] - says).abs() / (moves * tape));
        (0..values.len()).map(one).collect()
    }

    /// The reading that plainly does not fit the others, if there is one.
    pub fn out(&self, values: &[f64], tape: f64) -> Option<Out> {
        let tape = tape.max(BEST_TAPE);
        if values.len() < LEAST_TO_JUDGE {
            return None;
        }
        let off = self.off(values, tape);
        // Of readings that doubt each other, that one without which the rest are fairest.
        let candidates = (0..values.len()).filter(|&i| off[i] > FAR);
        let without = |i: usize| -> Option<(usize, f64)> {
            let keep = |all: &[f64]| -> Vec<f64> {
                all.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, v)| *v).collect()
            };
            let row = Row::new(&keep(&self.knots)).ok()?;
            let off = row.off(&keep(values), tape);
            // Towards the ends it is the boat's own bends that stand out.
            let judged = off.get(FROM_END..off.len() - FROM_END).unwrap_or_default();
            Some((i, judged.iter().copied().fold(0.0, f64::max)))
        };
        let (index, left) = candidates.filter_map(without).min_by(|a, b| a.1.total_cmp(&b.1))?;
        let [others, _] = self.others(values, index)?;
        // Towards the ends, where lines bend as they like, too little stands beyond to tell.
        let end = index < FROM_END || index + FROM_END >= values.len();
        let plain = off[index] > CLEAR * left && (values[index] - others).abs() > LEAST_OUT && !end;
        plain.then_some(Out { index, others })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KNOTS: [f64; 8] = [0.0, 400.0, 800.0, 1250.0, 1700.0, 2100.0, 2600.0, 3000.0];

    /// A parabola has no energy: it is its own fair line whatever the tape, and each point is what the others say. Closed form.
    #[test]
    fn a_parabola_is_left_alone_and_a_slip_in_it_is_told_to_the_millimetre() {
        let row = Row::new(&KNOTS).unwrap();
        let values: Vec<f64> = KNOTS.iter().map(|x| 300.0 - 0.1 * x + 4e-5 * x * x).collect();
        for tape in [0.0, 0.5, 2.0] {
            let faired = row.faired(&values, tape);
            // The stiffest line is solved to this, mm.
            assert!(faired.iter().zip(&values).all(|(a, b)| (a - b).abs() < 1e-4), "{tape}");
            assert_eq!(row.out(&values, tape), None);
        }
        for i in FROM_END..KNOTS.len() - FROM_END {
            for slip in [-40.0, 40.0] {
                let mut wrong = values.clone();
                wrong[i] += slip;
                let out = row.out(&wrong, 1.0).unwrap_or_else(|| panic!("{i} {slip}"));
                assert!(out.index == i && (out.others - values[i]).abs() < 1e-6, "{i} {slip}: {out:?}");
            }
        }
    }

    #[test]
    fn no_reading_is_moved_by_more_than_the_tape_and_the_line_gets_fairer() {
        let row = Row::new(&KNOTS).unwrap();
        let rough = [1.0, -1.0, 0.0, 1.0, -1.0, 1.0, 0.0, -1.0];
        let values: Vec<f64> = KNOTS.iter().zip(rough).map(|(x, r)| 3e-5 * x * x + 0.8 * r).collect();
        let energy = |v: &[f64]| {
            let v = DVector::from_column_slice(v);
            v.dot(&(&row.energy * &v))
        };
        let faired = row.faired(&values, 1.0);
        assert!(faired.iter().zip(&values).all(|(a, b)| (a - b).abs() <= 1.0));
        assert!(energy(&faired) < 0.05 * energy(&values), "{} {}", energy(&faired), energy(&values));
    }
}
