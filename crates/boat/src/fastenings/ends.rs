//! Fastenings at hood ends and transom.

use super::EndFastening;
use crate::planks::Strake;
use crate::spec::{EndSpec, Spec};

/// Spaces between the fastenings of a plank at a transom, so three or four of them. Common practice, no source.
const AT_TRANSOM: (f64, f64) = (2.0, 3.0);
/// The same at a hood end, which may be narrow.
const AT_POST: (f64, f64) = (1.0, 3.0);

/// The first fastening of each plank is in the middle of its lower land (the garboard's: half a land up from the
/// rabbet) and the last in the middle of the land on its upper edge, where it is the next plank's first one too (the
/// sheer strake's: half a land below the sheer). Evenly between them, as many as the width asks for and no more.
#[must_use]
pub fn ends(strakes: &[Strake], spec: &Spec) -> Vec<EndFastening> {
    let mut ends = Vec::new();
    for strake in strakes {
        let (Some(fore), Some(aft)) = (strake.at.first(), strake.at.last()) else { continue };
        for (end, spec_end, at) in [(spec.fore.word(false), &spec.fore, fore), (spec.aft.word(true), &spec.aft, aft)]
        {
            let (least, most) = if matches!(spec_end, EndSpec::Transom(_)) { AT_TRANSOM } else { AT_POST };
            // Up the end itself, which at a hood is longer than the width square to the land.
            let r = &strake.rulings[at.ruling];
            let room = ((r.upper - r.lower).norm() - spec.planking.lap).max(0.0);
            let spaces = (room / spec.fastenings.end_spacing).ceil().clamp(least, most);
            ends.push(EndFastening {
                strake: strake.strake,
                end,
                fastenings: spaces as u32 + 1,
                spacing: room / spaces,
            });
        }
    }
    ends
}
