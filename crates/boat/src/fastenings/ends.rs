//! Fastenings at hood ends and transom.

use super::EndFastening;
use crate::planks::Strake;
use crate::spec::Spec;

/// Most at one end of a plank: three or four by its width. Common practice, no source.
const MOST: u32 = 4;

/// The first fastening of each plank is in the middle of its lower land (the garboard's: half a land up from the
/// rabbet), the others evenly spaced up to the middle of the land on its upper edge, where the next plank's first one
/// goes through both; no more than the width asks for.
#[must_use]
pub fn ends(strakes: &[Strake], spec: &Spec) -> Vec<EndFastening> {
    let mut ends = Vec::new();
    for strake in strakes {
        let (Some(fore), Some(aft)) = (strake.at.first(), strake.at.last()) else { continue };
        for (end, at) in [(spec.fore.word(false), fore), (spec.aft.word(true), aft)] {
            // The sheer strake has no land above: its last fastening stays as far below the sheer as its first is
            // above the lower edge.
            let room = at.width - spec.planking.lap;
            let spaces = (room / spec.fastenings.end_spacing).ceil().clamp(1.0, f64::from(MOST));
            let top = u32::from(at.lap.is_none());
            ends.push(EndFastening {
                strake: strake.strake,
                end,
                fastenings: spaces as u32 + top,
                spacing: room.max(0.0) / spaces,
            });
        }
    }
    ends
}
