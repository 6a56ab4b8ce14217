//! What goes into her when she is planked, as it is asked for. Lengths are mm.

use super::{BendSpec, Wood};

/// `[interior]`; nothing of it where nothing is asked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct InteriorSpec {
    /// Risings, each a pair.
    pub risings: Vec<RisingSpec>,
    /// Thwarts.
    pub thwarts: Vec<ThwartSpec>,
    /// Inwales.
    pub inwale: Option<InwaleSpec>,
    /// Rubbing strakes, each a pair.
    pub rubbing_strakes: Vec<RubbingSpec>,
    /// Breasthooks.
    pub breasthooks: Vec<BreasthookSpec>,
    /// Knees, each a pair.
    pub knees: Vec<KneeSpec>,
}

impl InteriorSpec {
    /// Nothing is asked for.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == InteriorSpec::default()
    }
}

/// A place along the boat.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// From which station it is measured; `None`: from the first.
    pub station: Option<String>,
    /// Aft of it, mm.
    pub aft: f64,
}

impl Place {
    /// mm aft of the first station; `None` where no station has that name. `stations` are their names and places.
    pub fn x<'a>(&self, mut stations: impl Iterator<Item = (&'a str, f64)>) -> Option<f64> {
        match &self.station {
            None => Some(self.aft),
            Some(name) => {
                let same = |n: &str| n.trim().eq_ignore_ascii_case(name.trim());
                stations.find(|(n, _)| same(n)).map(|(_, x)| x + self.aft)
            }
        }
    }
}

/// How high something stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Level {
    /// Above base, mm.
    Height(f64),
    /// Below the sheer at that place, mm.
    BelowSheer(f64),
}

/// What something inside her lies against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// The planks' inner faces, strake by strake.
    Planking,
    /// The inner faces of the timbers; in a boat without, the upper inner edges of the strakes.
    Timbers,
    /// The inner face of the inwale.
    Inwale,
}

/// A long thin piece, bent along her side.
#[derive(Debug, Clone, PartialEq)]
pub struct Stick {
    /// In and out, mm.
    pub thickness: f64,
    /// Up and down, mm.
    pub depth: f64,
    /// Left over at each end, for handling, mm.
    pub spare: f64,
    /// The wood.
    pub wood: Wood,
    /// What it bears.
    pub bends: BendSpec,
}

/// A rising: what the thwarts rest on.
#[derive(Debug, Clone, PartialEq)]
pub struct RisingSpec {
    /// Its size and wood.
    pub stick: Stick,
    /// Points of its top, from forward; it runs from the first to the last.
    pub line: Vec<(Place, Level)>,
}

/// To what of a thwart its place is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// Fore edge.
    Fore,
    /// Half-way between its edges.
    Middle,
    /// After edge.
    Aft,
}

/// A thwart: a level plank across her.
#[derive(Debug, Clone, PartialEq)]
pub struct ThwartSpec {
    /// As the builder calls it; may be empty.
    pub name: String,
    /// Where.
    pub place: Place,
    /// What of it stands there.
    pub edge: Edge,
    /// Its top; `None`: its underside rests on the rising.
    pub level: Option<Level>,
    /// Fore and aft, mm.
    pub width: f64,
    /// mm.
    pub thickness: f64,
    /// What its ends are cut to.
    pub against: Against,
    /// Left free between its ends and that, mm.
    pub clear: f64,
    /// The wood.
    pub wood: Wood,
}

/// Inwales: along the sheer inside the timbers' heads.
#[derive(Debug, Clone, PartialEq)]
pub struct InwaleSpec {
    /// Size and wood.
    pub stick: Stick,
    /// Where they begin; `None`: at the bow, or at a breasthook's arms that lie against the planking or the timbers.
    pub from: Option<Place>,
    /// Where they end; `None`: at the stern, likewise.
    pub to: Option<Place>,
}

/// A rubbing strake: along the planking outside.
#[derive(Debug, Clone, PartialEq)]
pub struct RubbingSpec {
    /// Size and wood.
    pub stick: Stick,
    /// `None`: its top at the sheer. Else its lower edge along the lower edge of the strake above that land.
    pub land: Option<u32>,
}

/// An arm of a knee or breasthook, and how the two are joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Grown {
    /// Length of its arms along the faces they lie against, mm: of a knee the one along her side first.
    pub arms: [f64; 2],
    /// How wide an arm is at its end, mm.
    pub tip: f64,
    /// From the corner to the hollow between the arms, mm.
    pub throat: f64,
    /// mm.
    pub thickness: f64,
    /// What the arms along her sides lie against.
    pub against: Against,
    /// The wood.
    pub wood: Wood,
}

/// A breasthook: the knee between her two sides at a stem or sternpost.
#[derive(Debug, Clone, PartialEq)]
pub struct BreasthookSpec {
    /// At the stern.
    pub aft: bool,
    /// Both arms are alike.
    pub grown: Grown,
}

/// A pair of knees.
#[derive(Debug, Clone, PartialEq)]
pub struct KneeSpec {
    /// Where.
    pub at: KneeAt,
    /// Sizes.
    pub grown: Grown,
}

/// What a knee joins.
#[derive(Debug, Clone, PartialEq)]
pub enum KneeAt {
    /// Her side to a transom, at the sheer.
    Quarter {
        /// At the after one; else at the bow's.
        aft: bool,
    },
    /// A thwart's top to her side, plumb.
    Thwart {
        /// Its number, from 1.
        thwart: usize,
        /// Aft of the thwart's middle, mm.
        aft: f64,
    },
}
