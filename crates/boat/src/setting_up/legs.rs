//! What a mould stands on, or is held by.
//!
//! Keel up, two legs run plumb from its corners at the sheer to the strongback, and a cross-spall across their feet stands
//! on it. Keel down it stands on the keel; the legs run up past the sheer strake to a cross-spall, by which it is braced.
//! Their outer sides are plumb over the corners: the planks flare away from them. (Common practice, no source.)

use super::MouldShape;
use super::sheet::Floor;
use crate::findings::{Finding, Measure, Stage};
use crate::spec::{MouldSpec, Stand};
use crate::units::Notation;

/// Legs of a mould, alike on both sides, in its own plane; mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Legs {
    /// Half-breadths of a leg's sides; the inner one 0 where both legs are one.
    pub half_breadths: [f64; 2],
    /// Heights above base from the sheer to a leg's end.
    pub heights: [f64; 2],
    /// Heights above base of the cross-spall's lower and upper edge as she is drawn, keel down.
    pub spall: [f64; 2],
}

/// The legs from the corner `[half-breadth, height]` at the sheer; none where none are asked for, or a strongback leaves
/// no room.
pub fn legs([half, sheer]: [f64; 2], moulds: &MouldSpec, base_above_floor: f64) -> Option<Legs> {
    let wide = moulds.leg;
    let spall = match moulds.stand {
        Stand::Upright => [sheer + moulds.clearance, sheer + moulds.clearance + wide],
        Stand::UpsideDown => [(base_above_floor - wide).max(sheer), base_above_floor],
    };
    (wide > 0.0 && half > 0.0 && spall[1] > sheer).then(|| Legs {
        half_breadths: [(half - wide).max(0.0), half],
        heights: [sheer, spall[1]],
        spall,
    })
}

/// Moulds whose sheer stands lower than the strongback.
pub fn check(moulds: &[MouldShape], floor: &Floor, lengths: Notation) -> Vec<Finding> {
    let least = moulds.iter().map(|m| m.heights.sheer).fold(f64::MAX, f64::min);
    let under = |m: &&MouldShape| matches!(floor.stand, Stand::UpsideDown) && m.heights.sheer < 0.0;
    moulds
        .iter()
        .filter(under)
        .map(|m| Finding {
            stage: Stage::SettingUp,
            place: format!("mould {}", m.name),
            measured: Measure::Length(m.heights.sheer),
            limit: Measure::Length(0.0),
            hint: format!(
                "keel up its sheer would stand under the strongback: raise moulds.base_above_floor in boat.toml, {} now, by \
                 {} or more",
                lengths.said(floor.base_above_floor),
                lengths.said(-least)
            ),
        })
        .collect()
}
