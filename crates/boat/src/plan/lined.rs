//! Lining off and laying, by turns, until the builder's limits are kept.

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

/// The lands and strakes: as many as asked for; else the fewest with which every limit is kept, or where there is no such
/// number those with which they are passed least.
pub(super) fn strakes(
    skin: &Skin,
    table: &Table,
    spec: &Spec,
    pins: &[Pinned],
) -> Result<(Lands, Vec<Strake>), PlanError> {
    let least = propose::strakes(skin, &spec.planking);
    let first = lined(skin, table, spec, pins, least);
    if spec.planking.strakes.is_some() {
        return first.map(|f| (f.lands, f.strakes));
    }
    let mut best = first;
    for n in least + 1..=least + MORE {
        if best.as_ref().is_ok_and(|b| b.past == 0.0) {
            break;
        }
        if let Ok(next) = lined(skin, table, spec, pins, n)
            && best.as_ref().map_or(true, |b| next.past < b.past)
        {
            best = Ok(next);
        }
    }
    best.map(|f| (f.lands, f.strakes))
}

/// Lands and strakes, and by how much they pass the limits.
struct Lined {
    lands: Lands,
    strakes: Vec<Strake>,
    /// Sum of squares, mm².
    past: f64,
}

fn lined(skin: &Skin, table: &Table, spec: &Spec, pins: &[Pinned], n: usize) -> Result<Lined, PlanError> {
    let ask =
        propose::Ask { skin, planking: &spec.planking, lining: &spec.lining, pins, weights: Weights::default() };
    let line = |limits: &Limits, start| -> Result<Lined, PlanError> {
        let lands = propose::propose(&ask, limits, start)?;
        let strakes = planks::lay(&lands, skin, table, spec).map_err(|why| with_pins(why, pins, skin))?;
        let past = limits::breaches(&strakes, skin, spec).iter().map(|b| b.past().powi(2)).sum();
        Ok(Lined { lands, strakes, past })
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
    Ok(best)
}
