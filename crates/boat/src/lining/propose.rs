//! Proposing the lands: marks for which the sum of `loss` is least.
//!
//! Each round takes the marks along the tangents of their sections (Gauss-Newton), measures the chords again, and goes
//! as far along the step as makes the sum less. Limits that cannot all be kept are passed as little as may be, in the
//! sense of least squares; where, the strakes as laid say (`planks::limits::breaches`).

use super::descent::{Until, descend, furthest, moved};
use super::looks;
use super::loss::{self, Held, Loss, Marks, Weights};
use super::wishes::{self, Limits};
use super::{Lands, LiningError, Pinned};
use crate::eyes;
use crate::lines::Skin;
use crate::spec::{LiningSpec, PlankingSpec};

/// How long one search goes on.
const UNTIL: Until = Until { rounds: 60, still: 1e-4 };
/// A search that moved no mark by more than this since turns were measured is the last, mm.
const STEADY: f64 = 1e-3;
/// Most times that turns are measured.
const MEASURED: usize = 12;

/// What is to be lined off.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The skin.
    pub skin: &'a Skin,
    /// Planks and lands.
    pub planking: &'a PlankingSpec,
    /// What is wanted of the lands.
    pub lining: &'a LiningSpec,
    /// Marks that stay.
    pub pins: &'a [Pinned],
    /// How the wishes are weighed.
    pub weights: Weights,
}

/// Fewest and most strakes a side, as boat.toml may ask for them.
pub(crate) const FEWEST: usize = 3;
pub(crate) const MOST: usize = 40;

/// How many strakes a side: as asked, or the fewest whose greatest width that shows stays within the widest.
#[must_use]
pub fn strakes(skin: &Skin, planking: &PlankingSpec, lining: &LiningSpec) -> usize {
    planking.strakes.map_or_else(
        || {
            let girth = (0..skin.curves.len()).map(|j| skin.girth(j)).fold(0.0, f64::max);
            // n strakes share the girth as (garboard + n − 2 + sheer strake) parts; those two may be that much wider.
            let parts = girth / planking.widest;
            ((parts - planking.garboard + (2.0 - lining.sheer_strake)).ceil() as usize).clamp(FEWEST, MOST)
        },
        |n| n as usize,
    )
}

/// The lands: pinned marks where they are pinned, the others where the sum is least, within `limits`. `start` is where the
/// search begins, as girths on each mould, mm, `[land][section]`; without it, where the widths are as wanted.
///
/// # Errors
/// [`LiningError`]; see there.
pub fn propose(ask: &Ask<'_>, limits: &Limits, start: Option<Vec<Vec<f64>>>) -> Result<Lands, LiningError> {
    let Ask { skin, planking, lining, pins, weights } = *ask;
    let n = limits.width.len();
    too_many(skin, planking, n)?;
    let wishes = wishes::wishes(skin, planking, lining, n);
    let sections = skin.curves.len();
    let mut wanted = vec![vec![0.0; sections]; n + 1];
    for (k, widths) in wishes.widths.iter().enumerate() {
        for (j, width) in widths.iter().enumerate() {
            wanted[k + 1][j] = wanted[k][j] + width;
        }
    }
    let lines = loss::roughness(skin, &wanted).map_err(|(land, why)| LiningError::Line { land, why })?;
    let (fore, aft) = (skin.at(0, 1.0), skin.at(sections - 1, 1.0));
    let middle = sections / 2;
    let level = 0.5 * (skin.at(middle, 0.0).z + skin.at(middle, 1.0).z);
    let eyes = eyes::eyes(lining, fore.x, aft.x, level);
    let hands = looks::hands(skin, &eyes, &wanted);
    let pinned = pin(skin, planking, pins, &mut wanted, &wishes.widths)?;
    let start = start.unwrap_or(wanted);

    let mut index = vec![vec![None; sections]; n + 1];
    let mut count = 0;
    for k in 1..n {
        for j in 0..sections {
            if !pinned[k][j] {
                index[k][j] = Some(count);
                count += 1;
            }
        }
    }
    let loss = Loss { skin, eyes: &eyes, wishes: &wishes, limits, weights, lines, hands, index, count };
    let (marks, rounds) = least(&loss, start)?;
    Ok(Lands { rounds, ..Lands::lined(skin, &marks, pinned, limits)? })
}

/// The marks of the least sum, and how many rounds it took. How the turns move is measured again where each search ends,
/// until the marks stay.
fn least(loss: &Loss<'_>, start: Vec<Vec<f64>>) -> Result<(Marks, usize), LiningError> {
    let mut marks = loss.marks(start);
    if loss.count == 0 {
        return Ok((marks, 0));
    }
    let mut rounds = 0;
    for _ in 0..MEASURED {
        let held = Held::at(&marks, loss.limits);
        rounds += descend(
            &mut marks,
            UNTIL,
            |marks| loss.value(marks, &held),
            |marks| loss.step(marks, &held),
            |marks, step, share| loss.marks(moved(&marks.girths, &loss.index, step, share)),
        )?;
        if furthest(&marks.girths, &held.girths) < STEADY {
            break;
        }
    }
    Ok((marks, rounds))
}

/// A strake stands at least so many laps wide on the mould: one for the next strake's land, and a little.
const LEAST_LAPS: f64 = 1.25;

fn too_many(skin: &Skin, spec: &PlankingSpec, n: usize) -> Result<(), LiningError> {
    // The strip that stands on the mould between two lands must at least take the land of the next plank.
    let least = LEAST_LAPS * spec.lap;
    let tight = (0..skin.curves.len()).min_by(|&a, &b| skin.girth(a).total_cmp(&skin.girth(b)));
    let Some(j) = tight else { return Ok(()) };
    let girth = skin.girth(j);
    if girth / (n as f64) < least {
        return Err(LiningError::TooMany {
            strakes: n,
            section: skin.place(j),
            girth,
            each: girth / n as f64,
            least,
            most: (girth / least).floor() as usize,
        });
    }
    Ok(())
}

/// Puts the pinned marks into `girths`, and the free ones of the same section between them, as the widths wanted share
/// the room.
fn pin(
    skin: &Skin,
    planking: &PlankingSpec,
    pins: &[Pinned],
    girths: &mut [Vec<f64>],
    widths: &[Vec<f64>],
) -> Result<Vec<Vec<bool>>, LiningError> {
    let n = widths.len();
    let mut pinned = vec![vec![false; skin.curves.len()]; n + 1];
    for p in pins {
        let whole = skin.girth(p.section);
        // The ends are no choice: a pin there must say what is so, to a millimetre.
        let off = match p.land {
            0 => p.girth.abs() > 1.0,
            l if l == n => (p.girth - whole).abs() > 1.0,
            _ => p.girth < 0.0 || p.girth > whole,
        };
        if off || p.land > n {
            return Err(LiningError::PinOffMould {
                line: p.line,
                land: p.land,
                section: skin.place(p.section),
                girth: p.girth,
                whole,
            });
        }
        pinned[p.land][p.section] = true;
        if p.land > 0 && p.land < n {
            girths[p.land][p.section] = p.girth;
        }
    }
    for j in 0..skin.curves.len() {
        let mut fixed: Vec<usize> = (1..n).filter(|&k| pinned[k][j]).collect();
        fixed.insert(0, 0);
        fixed.push(n);
        for w in fixed.windows(2) {
            let (a, b) = (w[0], w[1]);
            let room = girths[b][j] - girths[a][j];
            let needed = LEAST_LAPS * planking.lap * (b - a) as f64;
            if room < needed {
                let (land, other) = if b == n { (a, b) } else { (b, a) };
                let line = pins.iter().find(|p| p.land == land && p.section == j).map_or(0, |p| p.line);
                let section = skin.place(j);
                let from = girths[other][j];
                // A millimetre more, for the figure is rounded where it is said.
                let girth = if land > other { from + needed + 1.0 } else { from - needed - 1.0 };
                return Err(LiningError::PinsTooNear { line, land, section, other, room, needed, girth });
            }
            let whole: f64 = (a..b).map(|k| widths[k][j]).sum();
            let mut below = 0.0;
            for k in a + 1..b {
                below += widths[k - 1][j];
                girths[k][j] = girths[a][j] + room * below / whole;
            }
        }
    }
    Ok(pinned)
}
