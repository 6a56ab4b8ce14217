//! Entries that the rest of the table will not have.
//!
//! Each entry is weighed against all the rest (`joint`). Where its own line and its own section alone (`witness`) doubt
//! more than twice as many, and in a table too large for the first, they are heard instead: the entry that stands furthest
//! from them, in their own spread, is doubtful if it also stands further off than rounding explains; it is left out, and
//! the rest weighed again. Where another entry, left out instead, would explain as much, both are named and neither is
//! corrected.

use super::fairing::View;
use super::profile::Ends;
use super::witness::Evidence;
use super::{LinesError, joint};
use crate::offsets::{Table, Values};
use crate::spec::Spec;

/// How many times the tolerance an entry must lie off, to be doubtful.
const FAR: f64 = 2.0;
/// How many times the spread of its witnesses.
const ODD: f64 = 4.0;
/// Spread of an entry from rounding and drawing, as a share of the tolerance.
const NOISE: f64 = 0.5;
/// At most this share of a table can be wrong before it says nothing,
const MOST: usize = 6;
/// and no more entries than these are worth naming.
const MOST_NAMED: usize = 24;

/// A doubtful entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// Row and column.
    pub at: (usize, usize),
    /// Where the rest would have it, mm.
    pub expected: f64,
    /// The spread of that, mm.
    pub spread: f64,
    /// Other entries, one of which may be the wrong one instead.
    pub or: Vec<(usize, usize)>,
    /// Sure enough to leave it out; else only worth a look.
    pub sure: bool,
    /// The entry whose figures stand here, and this one's there.
    pub exchanged_with: Option<(usize, usize)>,
}

/// So many that an entry's line and section alone will not have speak for themselves; fewer are worth no more than a look
/// if all the rest at once know nothing of them.
const WHOLE_ROW: usize = 3;
/// Entries of a table that are still weighed all at once: a thousand would take a minute.
const MOST_AT_ONCE: usize = 300;

/// The doubtful entries, in the order found.
///
/// # Errors
/// A line whose entries stand at one place.
pub(super) fn doubtful(view: &View<'_>, stations: &[usize], values: &Values) -> Result<Vec<Doubt>, LinesError> {
    let entries = values.iter().flatten().flatten().count();
    if entries > MOST_AT_ONCE {
        return by_witnesses(view.table, view.spec, view.ends, values);
    }
    let joint = joint::doubtful(view, stations, values, (entries / MOST).min(MOST_NAMED))?;
    let sure = joint.iter().filter(|d| d.sure).count();
    let mut doubts = by_witnesses(view.table, view.spec, view.ends, values)?;
    if doubts.len() <= 2 * sure {
        return Ok(joint);
    }
    // A whole row is wrong, and what is smooth was learnt from it; or all at once none was sure.
    let named = |at: &(usize, usize), by: &[Doubt]| by.iter().any(|d| d.at == *at || d.or.contains(at));
    if doubts.len() < WHOLE_ROW {
        for d in &mut doubts {
            d.sure = named(&d.at, &joint);
        }
    }
    let others: Vec<Doubt> = joint
        .into_iter()
        .filter(|d| !d.sure && !named(&d.at, &doubts) && !d.or.iter().any(|at| named(at, &doubts)))
        .collect();
    doubts.extend(others);
    Ok(doubts)
}

/// The same by an entry's own line and own section alone.
fn by_witnesses(table: &Table, spec: &Spec, ends: &Ends, values: &Values) -> Result<Vec<Doubt>, LinesError> {
    let within = spec.lines.fair_within;
    let mut left: Vec<Vec<Option<f64>>> = values.to_vec();
    let mut found: Vec<Doubt> = Vec::new();
    let entries = values.iter().flatten().flatten().count();
    while found.len() < (entries / MOST).min(MOST_NAMED) {
        let evidence = Evidence::new(table, spec, ends, left.clone())?;
        let weighed = weighed(&evidence, within)?;
        let oddest = weighed.iter().filter(|w| w.is_odd(within)).max_by(|a, b| a.t.total_cmp(&b.t));
        let Some(oddest) = oddest else { break };
        let or = instead(&evidence, &weighed, oddest, within)?;
        left[oddest.at.0][oddest.at.1] = None;
        found.push(Doubt {
            at: oddest.at,
            expected: oddest.expected,
            spread: oddest.off / oddest.t,
            or,
            sure: true,
            exchanged_with: None,
        });
    }
    Ok(found)
}

/// Entries of the same row or station without which the oddest would not be odd.
fn instead(
    evidence: &Evidence<'_>,
    weighed: &[Weighed],
    oddest: &Weighed,
    within: f64,
) -> Result<Vec<(usize, usize)>, LinesError> {
    let (r, c) = oddest.at;
    let mut or = Vec::new();
    for other in weighed.iter().filter(|w| w.at != (r, c) && (w.at.0 == r || w.at.1 == c) && w.t >= ALSO) {
        let again = weigh(&evidence.without(other.at), (r, c), within)?;
        if again.is_some_and(|w| !w.is_odd(within)) {
            or.push(other.at);
        }
    }
    Ok(or)
}

/// How odd another entry must itself be, to be named as well.
const ALSO: f64 = 1.5;

/// An entry weighed against its witnesses.
struct Weighed {
    at: (usize, usize),
    expected: f64,
    off: f64,
    /// How far off it is, in its witnesses' spread.
    t: f64,
}

impl Weighed {
    fn is_odd(&self, within: f64) -> bool {
        self.off > FAR * within && self.t > ODD
    }
}

fn weigh(evidence: &Evidence<'_>, at: (usize, usize), within: f64) -> Result<Option<Weighed>, LinesError> {
    let Some(given) = evidence.values[at.0][at.1] else { return Ok(None) };
    if evidence.table.rows[at.0].cells[at.1].as_ref().is_some_and(|c| c.settled.is_some()) {
        return Ok(None);
    }
    Ok(evidence.of(at, given, NOISE * within)?.map(|w| {
        let off = (w.expected - given).abs();
        Weighed { at, expected: w.expected, off, t: off / w.spread }
    }))
}

/// Every entry that has a witness.
fn weighed(evidence: &Evidence<'_>, within: f64) -> Result<Vec<Weighed>, LinesError> {
    let mut all = Vec::new();
    for r in 0..evidence.values.len() {
        for c in 0..evidence.values[r].len() {
            all.extend(weigh(evidence, (r, c), within)?);
        }
    }
    Ok(all)
}
