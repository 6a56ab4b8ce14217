//! What is told while planks are being laid out.

use super::pieces::Ready;
use super::{Sawn, cut_up};
use layout::{Layout, rack};

/// How far a laying out has come. Where scarfs are moved to suit the boards there are several, one after the other, and the
/// rounds of each begin anew.
#[derive(Clone, Copy)]
pub struct Progress<'a> {
    /// Rounds done.
    pub round: usize,
    /// The best so far of this laying out.
    pub best: &'a Layout,
    pieces: &'a [Ready],
    leaves: &'a [(usize, [usize; 2])],
}

impl<'a> Progress<'a> {
    pub(super) fn of(
        now: &rack::Progress<'a>,
        pieces: &'a [Ready],
        leaves: &'a [(usize, [usize; 2])],
    ) -> Progress<'a> {
        Progress { round: now.round, best: now.best, pieces, leaves }
    }

    /// The boards that the best so far cuts, in the rack's order.
    #[must_use]
    pub fn boards(&self) -> Vec<Sawn> {
        cut_up(self.pieces, self.leaves, self.best)
    }

    /// Planks and parts, of both sides, that have no room in it.
    #[must_use]
    pub fn without_room(&self) -> usize {
        self.best.places.iter().filter(|place| place.is_none()).count()
    }

    /// Their area, each as long and wide as the board it takes, mm².
    #[must_use]
    pub fn missing(&self) -> f64 {
        let areas = self.pieces.iter().flat_map(|p| [p.takes[0] * p.takes[1]; 2]);
        self.best.places.iter().zip(areas).filter(|(place, _)| place.is_none()).map(|(_, area)| area).sum()
    }
}
