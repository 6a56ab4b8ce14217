//! What became of each entry: it stands, was corrected, or was taken back.

use super::{Kind, Stored};
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// What became of an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It counts.
    Stands,
    /// An entry that was not taken back says something else.
    Corrected,
    /// It was taken back.
    TakenBack,
}

impl State {
    /// In words; nothing where it stands.
    pub fn word(self) -> &'static str {
        match self {
            State::Stands => "",
            State::Corrected => "corrected",
            State::TakenBack => "taken back",
        }
    }
}

/// The state of each of `entries`, which are in the order of the record.
///
/// Entries speak of earlier ones only, so whether one counts is known before what it speaks of is come to. What was taken back
/// takes nothing back and corrects nothing.
pub fn states(entries: &[Arc<Stored>]) -> Vec<State> {
    let place: HashMap<&str, usize> = entries.iter().enumerate().map(|(i, s)| (s.entry.id.as_str(), i)).collect();
    let (mut taken_back, mut corrected) = (HashSet::new(), HashSet::new());
    for (i, stored) in entries.iter().enumerate().rev() {
        let target = stored.entry.corrects.as_deref().and_then(|id| place.get(id));
        if let Some(&target) = target.filter(|_| !taken_back.contains(&i)) {
            if stored.entry.kind == Kind::Withdrawn {
                taken_back.insert(target)
            } else {
                corrected.insert(target)
            };
        }
    }
    let state = |i| match (taken_back.contains(&i), corrected.contains(&i)) {
        (true, _) => State::TakenBack,
        (false, true) => State::Corrected,
        (false, false) => State::Stands,
    };
    (0..entries.len()).map(state).collect()
}

#[cfg(test)]
mod tests {
    use super::State::{Corrected, Stands, TakenBack};
    use super::*;
    use crate::record::Entry;

    fn entry(seq: i64, kind: Kind, corrects: Option<i64>) -> Arc<Stored> {
        let id = |n: i64| format!("{n:032x}");
        let entry = Entry {
            id: id(seq),
            at: 0,
            kind,
            side: None,
            strake: None,
            section: None,
            what: "other".to_owned(),
            value: Some(1.0),
            against: None,
            typed: "1".to_owned(),
            corrects: corrects.map(id),
        };
        Arc::new(Stored { seq, entry, device: "a phone".to_owned(), stored: 0 })
    }

    #[test]
    fn what_is_corrected_or_taken_back_can_stand_again() {
        let (hours, back) = (Kind::Hours, Kind::Withdrawn);
        let mut all = vec![entry(1, hours, None), entry(2, hours, None)];
        let step = |all: &mut Vec<Arc<Stored>>, kind, corrects, after: &[State]| {
            all.push(entry(all.len() as i64 + 1, kind, Some(corrects)));
            assert_eq!(states(all), after);
        };
        step(&mut all, hours, 1, &[Corrected, Stands, Stands]);
        step(&mut all, hours, 3, &[Corrected, Stands, Corrected, Stands]);
        step(&mut all, back, 4, &[Corrected, Stands, Stands, TakenBack, Stands]);
        step(&mut all, back, 3, &[Stands, Stands, TakenBack, TakenBack, Stands, Stands]);
        // The taking back is taken back, and so on.
        step(&mut all, back, 6, &[Corrected, Stands, Stands, TakenBack, Stands, TakenBack, Stands]);
        step(&mut all, back, 7, &[Stands, Stands, TakenBack, TakenBack, Stands, Stands, TakenBack, Stands]);
    }

    /// Phones send when they come near: whatever is kept in whichever order, so long as what is spoken of was kept before, each
    /// entry counts or does not count alike.
    #[test]
    fn the_order_in_which_entries_are_kept_does_not_matter() {
        const COUNT: usize = 24;
        for case in 0..200_usize {
            // Spread numbers, the same every time.
            let spread = |i: usize, below: usize| (case * 7919 + i * 104_729 + i * i * 31) % below.max(1);
            let all: Vec<Arc<Stored>> = (0..COUNT)
                .map(|i| {
                    let target = (i > 0 && spread(i, 3) > 0).then(|| spread(i + 50, i) as i64 + 1);
                    let kind = if target.is_some() && spread(i + 9, 2) == 0 { Kind::Withdrawn } else { Kind::Hours };
                    entry(i as i64 + 1, kind, target)
                })
                .collect();
            let told = |kept: &[Arc<Stored>]| {
                let mut told: Vec<(String, State)> =
                    kept.iter().map(|s| s.entry.id.clone()).zip(states(kept)).collect();
                told.sort_by(|a, b| a.0.cmp(&b.0));
                told
            };
            // Another order: of those whose turn it may be, some other one comes next.
            let (mut kept, mut left) = (Vec::new(), all.clone());
            while !left.is_empty() {
                let there = |s: &Arc<Stored>| match &s.entry.corrects {
                    Some(id) => kept.iter().any(|k: &Arc<Stored>| k.entry.id == *id),
                    None => true,
                };
                let may: Vec<usize> = (0..left.len()).filter(|&i| there(&left[i])).collect();
                kept.push(left.remove(may[spread(kept.len() + 70, may.len())]));
            }
            assert_eq!(told(&kept), told(&all), "case {case}");
        }
    }
}
