//! What of the record counts, and the tape's readings in it.

use super::{Entry, Kind, State, Stored, states};
use boat::hung::{Measure, Reading, Side};
use std::sync::Arc;

/// The entries that count, in the order of the record: those that were not corrected or taken back.
pub fn counting(entries: &[Arc<Stored>]) -> Vec<Arc<Stored>> {
    let counts =
        |(stored, state): &(&Arc<Stored>, State)| *state == State::Stands && stored.entry.kind != Kind::Withdrawn;
    entries.iter().zip(states(entries)).filter(counts).map(|(stored, _)| Arc::clone(stored)).collect()
}

/// The readings among entries that count, in their order.
pub fn readings(counts: &[Arc<Stored>]) -> Vec<Reading> {
    counts.iter().filter_map(|stored| reading(&stored.entry)).collect()
}

/// An entry as a reading of the tape, if it is one.
fn reading(entry: &Entry) -> Option<Reading> {
    let value = entry.value.filter(|_| entry.kind == Kind::Reading)?;
    let measure = match entry.what.as_str() {
        "from the mark" => Measure::FromMark { off: value, mark: entry.against? },
        "width" => Measure::Width(value),
        "height" => Measure::Height(value),
        _ => return None,
    };
    let side = Side::BOTH.into_iter().find(|s| Some(s.word()) == entry.side.as_deref())?;
    let strake = usize::try_from(entry.strake?).ok()?;
    Some(Reading { side, strake, section: entry.section.clone()?, measure })
}
