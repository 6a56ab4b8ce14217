//! Planks and lands, and how the lands are lined off.

use super::{EndSpec, Wood};

/// Planks and lands.
#[derive(Debug, Clone, PartialEq)]
pub struct PlankingSpec {
    /// Plank thickness, mm.
    pub thickness: f64,
    /// Width of a land, mm; twice the thickness where not given.
    pub lap: f64,
    /// How many strakes a side; found from `widest` where not given.
    pub strakes: Option<u32>,
    /// Widest plank that may show, mm.
    pub widest: f64,
    /// The garboard's greatest width as a multiple of the others' (1 = the same).
    pub garboard: f64,
    /// Least wood left at a bevelled edge, mm; 0.4 of the thickness where not given.
    pub edge_floor: f64,
    /// Length over which the lands run out flush at a stem or sternpost, mm.
    pub gain: f64,
    /// The same at a transom; `None`: the lands stand proud there.
    pub transom_gain: Option<f64>,
    /// How the planks lie on a transom.
    pub transom_ends: TransomEnds,
    /// Wood left beyond a plank's fore and after end, to be cut when it is fitted, mm.
    pub left_long: [f64; 2],
    /// How far the finished planks stand past a transom's outer face, mm.
    pub transom_overhang: f64,
    /// Wood left above the sheer on the sheer strake, to be planed off when she is planked, mm.
    pub sheer_proud: f64,
    /// Bevels are given at every station, every timber and so far apart along the land, mm.
    pub bevel_every: f64,
    /// Offsets from the batten line are given so far apart along it, besides those at stations, mm; `None`: at stations only.
    pub spile_every: Option<f64>,
    /// What holds one strake to the next.
    pub construction: Construction,
    /// Mixed glue that a square metre of land takes, both faces together, g; `None`: not known.
    pub glue_rate: Option<f64>,
    /// Paint or varnish on a square metre of a plank's face when it is dry, g.
    pub paint: f64,
    /// The wood.
    pub wood: Wood,
}

/// How the lands are lined off, and from where they are looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct LiningSpec {
    /// Narrowest plank that may show at a station, mm; 0: as narrow as may be.
    pub narrowest: f64,
    /// The sheer strake's width as a multiple of the others' (1 = the same).
    pub sheer_strake: f64,
    /// The sheer strake shows as wide at one station as at the next.
    pub sheer_parallel: bool,
    /// How much wider the sheer strake shows at the stern than she would, mm: a little flip aft.
    pub sheer_flip: f64,
    /// How much the planks are narrowed round the turn of the bilge: 0 not at all, 1 about by half where she turns hardest.
    pub bilge: f64,
    /// From her middle to the eye, mm; `None`: one and a half times her length.
    pub eye_distance: Option<f64>,
    /// The eye above the base line, mm.
    pub eye_height: f64,
    /// How far off the beam the eye stands when it looks from off the bow and the quarter, radians.
    pub eye_quarter: f64,
    /// How far she is heeled away from the eye to be seen from below, radians.
    pub eye_heel: f64,
}

impl Default for LiningSpec {
    /// Nothing asked for: a standing man's eye a foot above the floor line of a boat set up upright.
    fn default() -> Self {
        LiningSpec {
            narrowest: 0.0,
            sheer_strake: 1.0,
            sheer_parallel: false,
            sheer_flip: 0.0,
            bilge: 0.0,
            eye_distance: None,
            eye_height: 1300.0,
            eye_quarter: 45.0_f64.to_radians(),
            eye_heel: 20.0_f64.to_radians(),
        }
    }
}

impl PlankingSpec {
    /// Length over which lands run out flush at an end, mm; `None` where they stand proud.
    #[must_use]
    pub fn gain_at(&self, end: &EndSpec) -> Option<f64> {
        match end {
            EndSpec::Post(_) => Some(self.gain),
            EndSpec::Transom(_) => self.transom_gain,
        }
    }
}

/// How the planks lie on a transom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TransomEnds {
    /// The lands run out flush in a gain; seats meet seats.
    Flush,
    /// The lands stand proud, and the edge is notched so that every plank has its seat.
    Notched,
    /// The lands stand proud, the edge is straight from land to land, and the wedge under each plank is filled.
    Plain,
}

/// What holds one strake to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Construction {
    /// Copper nails headed over roves.
    Riveted,
    /// Glue, mostly on plywood.
    Glued,
}

/// Wood beyond a plank's finished outline, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Allowance {
    /// Beyond its fore end.
    pub fore: f64,
    /// Beyond its after end.
    pub aft: f64,
    /// Above its upper edge.
    pub upper: f64,
}
