//! Lining the rest again, with the least change from the plan.
//!
//! The lands up to `hung` lie where they lie. With x the way a mark moves from where it was planned, up the mould, the
//! others move so that
//!
//! ```text
//! fair Σ X'KX  +  share Σ (Δx)²  +  jump Σ (Δ²x)²  +  sheer Σ xₙ²  +  limit Σ max(0, past its limit)²
//!     +  step Σ max(0, |Δ²x| of the next strake past what it may be)²
//! ```
//!
//! is least: X the moves in space, Δx what a strake gains in width, Δ²x how much more it gains than the strake below it,
//! each as it shows square to the lands. The strakes below that are hung count with what they really gained, so the first
//! new strake goes half way with its neighbour and does not make up for it at once. The last strake's jump weighs `last`
//! times, for nothing after it can make it good. Where the plan is kept the sum is nought, so nothing moves without cause.
//!
//! Marks that the builder pinned stay. The sheer stays on its line unless it is given leave (`sheer_gives`): within that it
//! may move where it saves a jump.
//!
//! Each weight was chosen by a simulated builder, see `docs/at-the-boat.md`: the marks of a boat whose hung strakes are off
//! at random by this are, strake after strake, those of the least sum to be expected (a linear system with a quadratic cost:
//! what cannot be foreseen does not change the best answer, only its cost). For one who works so closely that no jump need be
//! seen ([`Change::CLOSE`]) that is not enough: there each of the rest takes a like share, and the next strake no more than
//! leaves room for its own error.

use super::descent::{Until, descend, furthest, moved};
use super::loss::{self, Held, Marks, Row, System, quadratic, square, turns};
use super::propose::Ask;
use super::wishes::{self, Limits};
use super::{Lands, LiningError};
use crate::geom::Vector;
use nalgebra::DMatrix;

/// How much each part of the sum weighs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// Bending of the moves in space.
    pub fair: f64,
    /// Widths that change.
    pub share: f64,
    /// Neighbours whose widths change unlike.
    pub jump: f64,
    /// How many times the jump at the sheer strake counts.
    pub last: f64,
    /// The sheer off its line, within what it may give.
    pub sheer: f64,
    /// Limits passed.
    pub limit: f64,
    /// The next strake's jump past what it may be.
    pub step: f64,
    /// What the next strake's jump may be, mm.
    pub next_jump: f64,
}

impl Change {
    /// For one whose own errors may be seen as jumps, whatever is done. Chosen by the study in `docs/at-the-boat.md`.
    pub const ROUGH: Change = Change {
        fair: 0.002,
        share: 0.3,
        jump: 1.0,
        last: 3.0,
        sheer: 1.0,
        limit: 1000.0,
        step: 0.0,
        next_jump: f64::INFINITY,
    };

    /// For one who hangs planks within 1 mm of their marks, so that 1 mm of the 2 that are seen is left to line with.
    /// Chosen by the study in `docs/at-the-boat.md`.
    pub const CLOSE: Change = Change { share: 1.0, jump: 0.3, step: 100.0, next_jump: 1.0, ..Change::ROUGH };
}

/// What was planned and what hangs.
#[derive(Debug, Clone, Copy)]
pub struct Kept<'a> {
    /// The planned marks along the moulds from the rabbet, mm: `[land][section]`.
    pub planned: &'a [Vec<f64>],
    /// Those of the hung lands as they lie, lands 0 to the last one hung.
    pub hung: &'a [Vec<f64>],
    /// How far the sheer may be let off its line, mm.
    pub sheer_gives: f64,
    /// How the parts are weighed.
    pub change: Change,
}

/// How long one search goes on.
const UNTIL: Until = Until { rounds: 40, still: 1e-6 };
/// Most times that turns are measured.
const MEASURED: usize = 4;

/// The lands with the hung ones where they lie and the rest lined again within `limits`.
///
/// # Errors
/// [`LiningError`] where no line passes through the marks of a land, or the sum has no least.
pub fn again(ask: &Ask<'_>, limits: &Limits, kept: &Kept<'_>) -> Result<Lands, LiningError> {
    let (skin, n, sections) = (ask.skin, limits.width.len(), ask.skin.curves.len());
    let mut pinned = vec![vec![false; sections]; n + 1];
    for p in ask.pins {
        pinned[p.land][p.section] = true;
    }
    let mut girths = kept.planned.to_vec();
    girths[..kept.hung.len()].clone_from_slice(kept.hung);
    let sheer_moves = kept.sheer_gives > 0.0;
    let mut index = vec![vec![None; sections]; n + 1];
    let mut count = 0;
    for k in kept.hung.len()..=n {
        for j in 0..sections {
            if !pinned[k][j] && (k < n || sheer_moves) {
                index[k][j] = Some(count);
                count += 1;
            }
        }
    }
    let lines = loss::roughness(skin, kept.planned).map_err(|(land, why)| LiningError::Line { land, why })?;
    let ways = Marks::on(skin, kept.planned.to_vec()).along;
    let square = wishes::wishes(skin, ask.planking, ask.lining, n).square;
    let limits = &eased(limits, &Marks::on(skin, kept.planned.to_vec()));
    let sum = Sum { kept, limits, lines, ways, square, index, count };
    let girths = sum.least(girths, |girths| Marks::on(skin, girths.to_vec()))?;
    Lands::lined(skin, &Marks::on(skin, girths), pinned, limits)
}

/// The limits, where the plan passes them let out to what it takes: they are passed no further.
fn eased(limits: &Limits, planned: &Marks) -> Limits {
    let mut eased = limits.clone();
    for (k, row) in eased.width.iter_mut().enumerate() {
        for (j, [least, most]) in row.iter_mut().enumerate() {
            let wide = planned.girths[k + 1][j] - planned.girths[k][j];
            (*least, *most) = (least.min(wide), most.max(wide));
        }
    }
    for j in 0..planned.girths[0].len() {
        for turn in turns(planned, j, limits) {
            let limit = &mut eased.turn[turn.land][j];
            *limit = limit.max(turn.angle);
        }
    }
    eased
}

struct Sum<'a> {
    kept: &'a Kept<'a>,
    limits: &'a Limits,
    lines: Vec<DMatrix<f64>>,
    /// Up the mould at each planned mark, unit.
    ways: Vec<Vec<Vector>>,
    /// What shows of each mm on the mould.
    square: Vec<Vec<f64>>,
    index: Vec<Vec<Option<usize>>>,
    count: usize,
}

impl Sum<'_> {
    /// The girths of the least sum, from `girths`; how turns move is measured again until the marks lie still.
    fn least(
        &self,
        mut girths: Vec<Vec<f64>>,
        marks: impl Fn(&[Vec<f64>]) -> Marks,
    ) -> Result<Vec<Vec<f64>>, LiningError> {
        if self.count == 0 {
            return Ok(girths);
        }
        for _ in 0..MEASURED {
            let held = Held::at(&marks(&girths), self.limits);
            // One step where no limit is passed, and a few where some are taken up or let go.
            descend(
                &mut girths,
                UNTIL,
                |girths| self.assemble(girths, &held, None),
                |girths| self.step(girths, &held),
                |girths, step, share| moved(girths, &self.index, step, share),
            )?;
            if furthest(&girths, &held.girths) < UNTIL.still {
                break;
            }
        }
        Ok(girths)
    }

    /// Newton's step of the unknowns, mm; `None` where there is none.
    fn step(&self, girths: &[Vec<f64>], held: &Held) -> Option<Vec<f64>> {
        // Jumps and turns join a land with the second one up, and a fair land its first mark with its last.
        let band = (3 * girths[0].len() - 1).min(self.count - 1);
        let mut system = System::new(self.count, band);
        self.assemble(girths, held, Some(&mut system));
        system.step()
    }

    /// How far mark `j` of land `k` lies from where it was planned.
    fn off(&self, girths: &[Vec<f64>], k: usize, j: usize) -> f64 {
        girths[k][j] - self.kept.planned[k][j]
    }

    fn assemble(&self, girths: &[Vec<f64>], held: &Held, mut system: Option<&mut System>) -> f64 {
        let (n, sections, w) = (self.square.len(), girths[0].len(), &self.kept.change);
        let first = self.kept.hung.len();
        let mut sum = 0.0;
        for k in first..=n {
            for c in 0..3 {
                let moves: Vec<f64> = (0..sections).map(|j| self.off(girths, k, j) * self.ways[k][j][c]).collect();
                let row = |j: usize| -> Row { [(self.index[k][j], self.ways[k][j][c]), (None, 0.0)] };
                sum += quadratic(w.fair, &self.lines[k], &moves, row, system.as_deref_mut());
            }
        }
        for j in 0..sections {
            let gains = |k: usize| self.square[k - 1][j] * (self.off(girths, k, j) - self.off(girths, k - 1, j));
            let parts = |k: usize, by: f64| {
                let by = by * self.square[k - 1][j];
                [(self.index[k][j], by), (self.index[k - 1][j], -by)]
            };
            for k in first..=n {
                sum += square(w.share, gains(k), &parts(k, 1.0), system.as_deref_mut());
                sum += self.past_width(k, j, girths, system.as_deref_mut());
            }
            for k in first.max(2)..=n {
                let weight = if k == n { w.last * w.jump } else { w.jump };
                let [a, b] = parts(k, 1.0);
                let [c, d] = parts(k - 1, -1.0);
                let (jump, marks) = (gains(k) - gains(k - 1), [a, b, c, d]);
                sum += square(weight, jump, &marks, system.as_deref_mut());
                let past = jump - jump.clamp(-w.next_jump, w.next_jump);
                if k == first && past != 0.0 {
                    sum += square(w.step, past, &marks, system.as_deref_mut());
                }
            }
            let (off, sheer) = (self.off(girths, n, j), [(self.index[n][j], 1.0)]);
            if sheer[0].0.is_some() {
                sum += square(w.sheer, off, &sheer, system.as_deref_mut());
                let past = off - off.clamp(-self.kept.sheer_gives, self.kept.sheer_gives);
                if past != 0.0 {
                    sum += square(w.limit, past, &sheer, system.as_deref_mut());
                }
            }
            for turn in held.turns[j].iter().filter(|turn| turn.land + 1 >= first) {
                let past = held.past(turn, j, girths, self.limits);
                if past > 0.0 {
                    sum += square(w.limit, past, &turn.parts(j, &self.index, self.limits), system.as_deref_mut());
                }
            }
        }
        sum
    }

    /// Strake `k` past its least or greatest width at section `j`.
    fn past_width(&self, k: usize, j: usize, girths: &[Vec<f64>], system: Option<&mut System>) -> f64 {
        let ([least, most], wide) = (self.limits.width[k - 1][j], girths[k][j] - girths[k - 1][j]);
        // Lands do not cross, whatever is asked.
        let least = least.max(loss::LEAST_SHARE * (self.kept.planned[k][j] - self.kept.planned[k - 1][j]));
        let past = (wide - most).max(0.0) - (least - wide).max(0.0);
        let parts = [(self.index[k][j], 1.0), (self.index[k - 1][j], -1.0)];
        if past == 0.0 { 0.0 } else { square(self.kept.change.limit, past, &parts, system) }
    }
}
