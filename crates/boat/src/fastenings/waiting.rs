//! Rivets that wait until a mould is out.

use super::Rivet;

/// Those that one mould is in the way of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// Index into the plan's moulds.
    pub mould: usize,
    /// Each land with the rivets of it, one side, by their numbers.
    pub lands: Vec<(usize, Vec<usize>)>,
}

impl Waiting {
    /// How many, one side.
    #[must_use]
    pub fn count(&self) -> usize {
        self.lands.iter().map(|l| l.1.len()).sum()
    }
}

/// Mould by mould from forward, those that are in the way of any.
#[must_use]
pub fn waiting(rivets: &[Rivet]) -> Vec<Waiting> {
    let moulds = rivets.iter().filter_map(|r| r.blocked_by).max().map_or(0, |last| last + 1);
    let mut found: Vec<Waiting> = (0..moulds).map(|mould| Waiting { mould, lands: Vec::new() }).collect();
    for rivet in rivets {
        let Some(lands) = rivet.blocked_by.and_then(|i| found.get_mut(i)).map(|w| &mut w.lands) else { continue };
        match lands.last_mut() {
            Some((land, numbers)) if *land == rivet.land => numbers.push(rivet.n),
            _ => lands.push((rivet.land, vec![rivet.n])),
        }
    }
    found.retain(|w| !w.lands.is_empty());
    found
}
