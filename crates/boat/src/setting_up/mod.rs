//! The moulds as they are cut, and how they are set up.
//!
//! A mould's edge is the fair section to the inside of the planking; a plan drawn to the outside has been brought in along
//! the true normal (`lines::inside`). Planks are flat across, so between two lands the section stands proud of them: the
//! mould is eased to the planks' inner faces there (`mould`). At the keel it is notched for the hog. Heights for setting
//! up are taken from the floor or the strongback, and two moulds are square to one another and to the centreline where
//! the diagonals come out (`sheet`). Legs reach past the sheer to the strongback, or to what braces it (`legs`).

mod legs;
mod mould;
mod sheet;

use crate::findings::Finding;
use crate::geom::Point;
use crate::lines::Section;
use crate::lining::Mark;
use crate::moulds::Mould;
use crate::planks::Strake;
use crate::spec::{Spec, Stand};
use crate::timbers::Timber;
use crate::units::Notation;

pub use legs::Legs;
pub use mould::eased;

/// Every mould, and where each goes.
#[derive(Debug, Clone, PartialEq)]
pub struct SettingUp {
    /// Which way up.
    pub stand: Stand,
    /// Between base line and floor or strongback, mm.
    pub base_above_floor: f64,
    /// The level line on every mould, mm above base.
    pub level: f64,
    /// In the order of the plan's moulds.
    pub moulds: Vec<MouldShape>,
}

impl SettingUp {
    /// What is wrong with how she stands.
    #[must_use]
    pub fn check(&self, lengths: Notation) -> Vec<Finding> {
        legs::check(&self.moulds, &self.floor(), lengths)
    }

    /// Height above floor or strongback of what is `z` above base, mm.
    #[must_use]
    pub fn over_floor(&self, z: f64) -> f64 {
        self.floor().of(z)
    }

    fn floor(&self) -> sheet::Floor {
        sheet::Floor { stand: self.stand, base_above_floor: self.base_above_floor }
    }
}

/// A mould as it is cut, one side.
#[derive(Debug, Clone, PartialEq)]
pub struct MouldShape {
    /// The station's name.
    pub name: String,
    /// Index into the plan's sections.
    pub section: usize,
    /// Its station, mm aft of the first.
    pub x: f64,
    /// From the mould before, mm; `None` for the first.
    pub from_before: Option<f64>,
    /// Its edge `[y, z]` from the rabbet to the sheer, eased to the planks, mm.
    pub edge: Vec<[f64; 2]>,
    /// How far the fair section was eased under each strake, at most, mm, garboard first.
    pub relief: Vec<f64>,
    /// Notch for keel and hog.
    pub notch: Notch,
    /// What it stands on, or is braced by.
    pub legs: Option<Legs>,
    /// Half-breadth at the level line, mm; `None` where the mould does not reach it.
    pub level: Option<f64>,
    /// The timber that stands in it, from 1, which waits until the mould is out.
    pub timber: Option<usize>,
    /// Heights above floor or strongback of rabbet, level line and sheer, mm.
    pub heights: Heights,
    /// Sheer to sheer across the mould, mm.
    pub across_sheer: f64,
    /// From the middle of the bow, at the height of the sheer there, to the sheer on either side, mm.
    pub from_bow: f64,
    /// From the sheer on one side to the sheer of the next mould on the other side, mm; `None` for the last.
    pub diagonal: Option<f64>,
}

impl MouldShape {
    /// Both halves, closed: from the notch up one edge to the sheer, straight across, and down the other `[y, z]`, mm.
    #[must_use]
    pub fn outline(&self) -> Vec<[f64; 2]> {
        let half = mould::notched(&self.edge, self.notch);
        half.iter().copied().chain(half.iter().rev().map(|[y, z]| [-y, *z])).collect()
    }
}

/// What is cut out of a mould at the keel: half as wide as this, up to this height above base, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// Half its width.
    pub half_breadth: f64,
    /// Its top, or where there is no hog the rabbet.
    pub top: f64,
}

/// Heights above floor or strongback, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heights {
    /// Of the rabbet.
    pub rabbet: f64,
    /// Of the level line.
    pub level: f64,
    /// Of the sheer.
    pub sheer: f64,
}

/// The moulds for these strakes.
#[must_use]
pub fn setting_up(
    moulds: &[Mould],
    sections: &[Section],
    strakes: &[Strake],
    marks: &[Mark],
    timbers: &[Timber],
    level: f64,
    spec: &Spec,
) -> SettingUp {
    let base_above_floor = spec.moulds.base_above_floor.unwrap_or_else(|| sheet::base_above_floor(sections, spec));
    let floor = sheet::Floor { stand: spec.moulds.stand, base_above_floor };
    let bow =
        sections.first().and_then(|s| s.points.last()).map_or_else(Point::origin, |p| Point::new(p.x, 0.0, p.z));
    let mut shapes: Vec<MouldShape> = Vec::with_capacity(moulds.len());
    for (i, m) in moulds.iter().enumerate() {
        let Some(section) = sections.get(m.section) else { continue };
        let (Some(foot), Some(sheer)) = (section.points.first(), section.points.last()) else { continue };
        let (edge, relief) = mould::edge(section, m.section, strakes, marks);
        let corner = edge.last().copied().unwrap_or([sheer.y, sheer.z]);
        let next = moulds.get(i + 1).and_then(|n| sections.get(n.section)).and_then(|s| s.points.last());
        shapes.push(MouldShape {
            name: m.name.clone(),
            section: m.section,
            x: foot.x,
            from_before: shapes.last().map(|b| foot.x - b.x),
            level: mould::half_breadth(&edge, level),
            edge,
            relief,
            notch: mould::notch(foot, &spec.keel),
            legs: legs::legs(corner, &spec.moulds, base_above_floor),
            timber: timbers.iter().find(|t| t.moulds.contains(&i)).map(|t| t.n),
            heights: Heights { rabbet: floor.of(foot.z), level: floor.of(level), sheer: floor.of(sheer.z) },
            across_sheer: 2.0 * sheer.y,
            from_bow: (sheer - bow).norm(),
            diagonal: next.map(|n| (Point::new(n.x, -n.y, n.z) - sheer).norm()),
        });
    }
    SettingUp { stand: spec.moulds.stand, base_above_floor, level, moulds: shapes }
}

/// The level line to draw, mm above base: as asked for, else the waterline of the table nearest the middle between the
/// lowest rabbet and the lowest sheer, else that middle.
#[must_use]
pub fn level(sections: &[Section], waterlines: &[f64], spec: &Spec) -> f64 {
    spec.moulds.level.unwrap_or_else(|| sheet::middle_level(sections, waterlines))
}
