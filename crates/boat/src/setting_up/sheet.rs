//! Heights from the floor or the strongback.

use crate::geom::Point;
use crate::lines::Section;
use crate::spec::{Spec, Stand};
use crate::units::inches;

/// Room left between the boat and the floor where none is asked for: a foot. Common practice, no source.
const ROOM: f64 = 12.0;

/// Where the floor is.
pub struct Floor {
    /// Which way up she stands.
    pub stand: Stand,
    /// mm.
    pub base_above_floor: f64,
}

impl Floor {
    /// Height above the floor of what is `z` above base.
    pub fn of(&self, z: f64) -> f64 {
        match self.stand {
            Stand::Upright => self.base_above_floor + z,
            Stand::UpsideDown => self.base_above_floor - z,
        }
    }
}

/// Between base line and floor where boat.toml does not say: room under the base line, or over the highest sheer.
pub fn base_above_floor(sections: &[Section], spec: &Spec) -> f64 {
    match spec.moulds.stand {
        Stand::Upright => inches(ROOM),
        Stand::UpsideDown => inches(ROOM) + sections.iter().flat_map(|s| &s.points).fold(0.0, |m: f64, p| m.max(p.z)),
    }
}

/// The waterline nearest the middle between the lowest rabbet and the lowest sheer, or that middle.
pub fn middle_level(sections: &[Section], waterlines: &[f64]) -> f64 {
    let lowest = |point: fn(&Section) -> Option<&Point>| {
        sections.iter().filter_map(point).map(|p| p.z).fold(f64::MAX, f64::min)
    };
    let middle = f64::midpoint(lowest(|s| s.points.first()), lowest(|s| s.points.last()));
    let off = |z: &f64| (z - middle).abs();
    waterlines.iter().copied().min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(middle)
}
