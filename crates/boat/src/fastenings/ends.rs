//! Fastenings at hood ends and transom.

use super::{EndFastening, EndPlace, driven, rivet};
use crate::geom::Vector;
use crate::planks::{Ruling, Strake};
use crate::spec::{EndSpec, Spec};

/// An edge that leaves an end more aslant than this is taken to lie so: up the end, half a land would be as wide as the plank.
const LEAST_SQUARENESS: f64 = 0.3;

/// The first fastening of each plank is in the middle of its lower land (the garboard's: half a land up from the
/// rabbet) and the last in the middle of the land on its upper edge, where it is the next plank's first one too (the
/// sheer strake's: half a land below the sheer, square to it). Evenly between them, as many as the width asks for and no
/// more, within the least and the most that the builder sets.
#[must_use]
pub fn ends(strakes: &[Strake], spec: &Spec) -> Vec<EndFastening> {
    let f = &spec.fastenings;
    let mut ends = Vec::new();
    for (k, strake) in strakes.iter().enumerate() {
        let (Some(fore), Some(aft)) = (strake.at.first(), strake.at.last()) else { continue };
        let each = [
            (spec.fore.word(false), &spec.fore, f.fore_ends, fore, f.end_row),
            (spec.aft.word(true), &spec.aft, f.aft_ends, aft, -f.end_row),
        ];
        // The row stands so far aft of the plank's end.
        for (end, spec_end, fixing, at, row) in each {
            let (limits, apart) = match spec_end {
                EndSpec::Transom(_) => (f.transom_fastenings, f.transom_spacing),
                EndSpec::Post(_) => (f.hood_fastenings, f.end_spacing),
            };
            let [least, most] = limits.map(|n| f64::from(n.max(2) - 1));
            // Up the end itself, which at a hood is longer than the width square to the land.
            let r = &strake.rulings[at.ruling];
            let lap = spec.planking.lap;
            // Through the land below, the land above, or the plank alone.
            let neighbour = |k: Option<usize>| k.and_then(|k| strakes.get(k)).and_then(|s| s.rulings.get(at.ruling));
            let (below, next) = (neighbour(k.checked_sub(1)), neighbour(Some(k + 1)));
            let above = next.map(|_| r);
            let from_lower = below.map_or(0.5 * lap, |below| half_land(below, r, &r.up()));
            let from_upper =
                next.map_or(0.5 * lap / r.squareness().max(LEAST_SQUARENESS), |next| half_land(r, next, &r.up()));
            // Where the two lands take all of the end, both stand where they meet.
            let long = (r.upper - r.lower).norm();
            let from_lower = from_lower * (long / (from_lower + from_upper)).min(1.0);
            let room = (long - from_lower - from_upper).max(0.0);
            let spaces = (room / apart).ceil().clamp(least, most);
            let spacing = room / spaces;
            let places = (0..=spaces as u32).map(|i| {
                let land = match i {
                    0 => below,
                    i if f64::from(i) >= spaces => above,
                    _ => None,
                };
                let wood = land
                    .map_or(strake.thickness, |r| rivet::grip(strake.thickness, r.step, lap, r.bevel.unwrap_or(0.0)));
                let length = driven::length(fixing, wood, strake.thickness, f);
                let up = from_lower + spacing * f64::from(i);
                // Square in from this plank's inner face where the row stands; of the lower land the strake below has it.
                let inner = r.lower + r.up() * up + r.tangent * row;
                let past = length.filter(|_| matches!(spec_end, EndSpec::Post(_))).map(|l| l - wood);
                EndPlace { up, wood, length, from_middle: past.map(|past| (inner - r.normal * past).y) }
            });
            ends.push(EndFastening {
                strake: strake.strake,
                end,
                fastenings: spaces as u32 + 1,
                spacing,
                fixing,
                places: places.collect(),
            });
        }
    }
    ends
}

/// Half the land that `next` has on the strake of `on` at an end, mm, along `up`, the end's way up one of the two: longer than
/// half of it square to the edge where the end is raked to the land. What the step carries the strakes apart, outward or along
/// the land, is no part of it.
fn half_land(on: &Ruling, next: &Ruling, up: &Vector) -> f64 {
    let square = on.tangent.cross(&on.normal);
    0.5 * (on.upper - next.lower).dot(&square) / up.dot(&square).max(LEAST_SQUARENESS)
}
