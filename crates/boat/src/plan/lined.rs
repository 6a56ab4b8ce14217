//! Lining off and laying, by turns, until the builder's limits are kept.

use super::rack::{self, TooWide};
use super::{PlanError, with_pins};
use crate::lines::Skin;
use crate::lining::{Lands, Limits, Pinned, Weights, propose};
use crate::offsets::Table;
use crate::planks::{self, Strake, limits};
use crate::spec::Spec;

/// Most times that lands are lined again with the limits put right by what the laying showed.
const AGAIN: usize = 4;
/// More strakes than the girth alone asks for that are tried.
const MORE: usize = 4;

/// What lands are lined off for.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub skin: &'a Skin,
    pub table: &'a Table,
    pub spec: &'a Spec,
    pub pins: &'a [Pinned],
    /// Boards that planks must come out of, `[length, width]` in mm; none: any will do.
    pub boards: &'a [[f64; 2]],
}

/// The lands and strakes: as many as asked for; else the fewest with which every limit is kept and each strake comes out of
/// some board, or where there is no such number those with which limits and boards are passed least.
pub(super) fn strakes(job: &Job<'_>) -> Result<Lined, PlanError> {
    let least = propose::strakes(job.skin, &job.spec.planking);
    let mut best = lined(job, least);
    if job.spec.planking.strakes.is_some() {
        return best;
    }
    for n in least + 1..=least + MORE {
        if best.as_ref().is_ok_and(|b| b.all_past() == 0.0) {
            break;
        }
        if let Ok(next) = lined(job, n)
            && best.as_ref().map_or(true, |b| next.all_past() < b.all_past())
        {
            best = Ok(next);
        }
    }
    best
}

/// Lands and strakes, and by how much they pass the limits.
pub(super) struct Lined {
    pub lands: Lands,
    pub strakes: Vec<Strake>,
    /// Sum of squares, mm².
    past: f64,
    /// Strakes too wide for the boards.
    pub too_wide: Vec<TooWide>,
}

impl Lined {
    /// Sum of squares with what the boards lack, mm².
    pub(super) fn all_past(&self) -> f64 {
        self.past + self.too_wide.iter().map(|w| (w.wants - w.has).powi(2)).sum::<f64>()
    }
}

fn lined(job: &Job<'_>, n: usize) -> Result<Lined, PlanError> {
    let Job { skin, table, spec, pins, boards } = *job;
    let ask =
        propose::Ask { skin, planking: &spec.planking, lining: &spec.lining, pins, weights: Weights::default() };
    let line = |limits: &Limits, start| -> Result<Lined, PlanError> {
        let lands = propose::propose(&ask, limits, start)?;
        let strakes = planks::lay(&lands, skin, table, spec).map_err(|why| with_pins(why, pins, skin))?;
        let past = limits::breaches(&strakes, skin, spec).iter().map(|b| b.past().powi(2)).sum();
        Ok(Lined { lands, strakes, past, too_wide: Vec::new() })
    };
    let mut best = line(&limits::limits(spec, skin, n, None), None)?;
    let mut last_limits = limits::limits(spec, skin, n, Some((&best.lands, &best.strakes)));
    for _ in 0..AGAIN {
        if best.past == 0.0 {
            break;
        }
        let girths = best.lands.u.iter().map(|row| row.iter().enumerate().map(|(j, u)| u * skin.girth(j)).collect());
        let Ok(next) = line(&last_limits, Some(girths.collect())) else { break };
        if next.past >= best.past {
            break;
        }
        last_limits = limits::limits(spec, skin, n, Some((&next.lands, &next.strakes)));
        best = next;
    }
    best.too_wide = rack::too_wide(&best.strakes, boards, spec);
    Ok(best)
}
