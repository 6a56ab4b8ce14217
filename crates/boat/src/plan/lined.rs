//! Lining off and laying, by turns, until the builder's limits are kept.

use super::rack::{self, TooWide};
use super::{PlanError, with_pins};
use crate::lines::Skin;
use crate::lining::again::{Kept, again};
use crate::lining::{Lands, Limits, LiningError, Pinned, Weights, propose};
use crate::offsets::Table;
use crate::planks::limits::{self, Breach, Which};
use crate::planks::{self, Strake};
use crate::spec::Spec;

/// Most times that lands are lined again with the limits put right by what the laying showed.
const AGAIN: usize = 4;
/// More strakes than the girth alone asks for that are tried, at most,
const MORE: usize = 12;
/// and numbers in a row that ease nothing before no more are.
const NO_BETTER: usize = 3;

/// What lands are lined off for.
#[derive(Clone, Copy)]
pub(crate) struct Job<'a> {
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
    let least = propose::strakes(job.skin, &job.spec.planking, &job.spec.lining);
    let mut best = lined(job, least);
    if job.spec.planking.strakes.is_some() {
        return best;
    }
    let mut in_vain = 0;
    for n in least + 1..=least + MORE {
        if in_vain == NO_BETTER || best.as_ref().is_ok_and(|b| b.all_past() == 0.0) {
            break;
        }
        in_vain += 1;
        if let Ok(next) = lined(job, n)
            && best.as_ref().map_or(true, |b| next.all_past() < b.all_past())
        {
            best = Ok(next);
            in_vain = 0;
        }
    }
    best
}

/// Lands and strakes, and by how much they pass the limits.
pub(crate) struct Lined {
    pub lands: Lands,
    pub strakes: Vec<Strake>,
    /// Sum of squares, mm².
    past: f64,
    /// Strakes too wide for the boards.
    pub(super) too_wide: Vec<TooWide>,
}

impl Lined {
    /// Sum of squares with what the boards lack, mm².
    pub(super) fn all_past(&self) -> f64 {
        self.past + self.too_wide.iter().map(|w| (w.wants - w.has).powi(2)).sum::<f64>()
    }
}

fn lined(job: &Job<'_>, n: usize) -> Result<Lined, PlanError> {
    let Job { skin, spec, boards, .. } = *job;
    let propose = |limits: &Limits, start| propose::propose(&job.ask(), limits, start);
    let mut best = job.laid(propose(&limits::limits(spec, skin, n, None), None)?, 0)?;
    job.within_limits(&mut best, 0, &|limits, lined| propose(limits, Some(lined.lands.girths(skin))));
    best.too_wide = rack::too_wide(&best.strakes, boards, spec);
    Ok(best)
}

/// The hung lands of `kept` where they lie and the rest of `planned` lined again, within its limits.
pub(super) fn rest(job: &Job<'_>, planned: &Lined, kept: &Kept<'_>) -> Result<Lined, PlanError> {
    let from = kept.hung.len().saturating_sub(1);
    let mut best = job.laid(marks_again(job, planned, kept)?, from)?;
    job.within_limits(&mut best, from, &|limits, _| again(&job.ask(), limits, kept));
    Ok(best)
}

/// [`rest`] without laying the strakes: bevels heed the limits as the plan's strakes lie.
pub(super) fn marks_again(job: &Job<'_>, planned: &Lined, kept: &Kept<'_>) -> Result<Lands, LiningError> {
    let limits = limits::limits(job.spec, job.skin, planned.strakes.len(), Some((&planned.lands, &planned.strakes)));
    again(&job.ask(), &limits, kept)
}

impl<'a> Job<'a> {
    fn ask(&self) -> propose::Ask<'a> {
        let Job { skin, spec, pins, .. } = *self;
        propose::Ask { skin, planking: &spec.planking, lining: &spec.lining, pins, weights: Weights::default() }
    }

    /// The strakes on `lands`; limits passed by the first `hung` strakes are facts and not counted.
    fn laid(&self, lands: Lands, hung: usize) -> Result<Lined, PlanError> {
        let Job { skin, table, spec, pins, .. } = *self;
        let strakes = planks::lay(&lands, skin, table, spec).map_err(|why| with_pins(why, pins, skin))?;
        // The edge of the last hung strake is bevelled for the next one.
        let open = |b: &&Breach| if b.which == Which::Edge { b.strake >= hung } else { b.strake > hung };
        let past = limits::breaches(&strakes, skin, spec).iter().filter(open).map(|b| b.past().powi(2)).sum();
        Ok(Lined { lands, strakes, past, too_wide: Vec::new() })
    }

    /// Lines off `best` again by `line` with the limits put right by what the laying showed, while that helps.
    fn within_limits(
        &self,
        best: &mut Lined,
        hung: usize,
        line: &dyn Fn(&Limits, &Lined) -> Result<Lands, LiningError>,
    ) {
        for _ in 0..AGAIN {
            if best.past == 0.0 {
                break;
            }
            let limits = limits::limits(self.spec, self.skin, best.strakes.len(), Some((&best.lands, &best.strakes)));
            let next = line(&limits, best).map_err(PlanError::from).and_then(|lands| self.laid(lands, hung));
            let Ok(next) = next else { break };
            if next.past >= best.past {
                break;
            }
            *best = next;
        }
    }
}
