//! The moulds: where each stands and how thick it is.
//!
//! A mould's square edge touches the planking along its station line only if its body stands where the boat is
//! fuller: towards the middle. So it stands abaft the station forward, and before it aft, and needs no bevel.

use crate::lines::{self, SectionAt, Skin};
use crate::offsets::{StationAt, Table};
use crate::spec::MouldSpec;

/// A mould: the fair section at a station, of a thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Mould {
    /// The station's name.
    pub name: String,
    /// Index into the plan's sections.
    pub section: usize,
    /// Fore face, mm aft of the first station.
    pub fore: f64,
    /// After face, mm.
    pub aft: f64,
    /// Its wood stands abaft the station, whose line is then on its fore face; else before it.
    pub wood_abaft: bool,
}

impl Mould {
    /// Which face has the station's line on its edge.
    #[must_use]
    pub fn station_face(&self) -> &'static str {
        if self.wood_abaft { "fore" } else { "after" }
    }
}

/// One mould at every station that has a section.
#[must_use]
pub fn moulds(skin: &Skin, table: &Table, spec: &MouldSpec) -> Vec<Mould> {
    let fullest = lines::fullest(&skin.sections);
    let mut moulds = Vec::new();
    for (section, s) in skin.sections.iter().enumerate() {
        let SectionAt::Station(i) = s.at else { continue };
        let StationAt::Square(x) = table.stations[i].at else { continue };
        let wood_abaft = section <= fullest;
        let (fore, aft) = if wood_abaft { (x, x + spec.thickness) } else { (x - spec.thickness, x) };
        moulds.push(Mould { name: s.name.clone(), section, fore, aft, wood_abaft });
    }
    moulds
}
