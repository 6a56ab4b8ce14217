//! Steamed timbers as they are asked for.

use super::Wood;

/// Steamed timbers.
#[derive(Debug, Clone, PartialEq)]
pub struct TimberSpec {
    /// Whether she has any: a glued boat may do without.
    pub fitted: bool,
    /// Centre to centre, mm along the centreline.
    pub spacing: f64,
    /// Fore-and-aft size, mm.
    pub sided: f64,
    /// In-and-out size, mm.
    pub moulded: f64,
    /// Left over at each end of a timber for handling while it is bent, mm.
    pub spare: f64,
    /// Rise of each side off level at the keel, radians, above which a timber is cut in two halves.
    pub halves_over: f64,
    /// Where they stand, mm aft of the first station, ascending; empty: by `spacing`.
    pub at: Vec<f64>,
    /// How far the first ones stand off square, heads forward, radians, from forward.
    pub cant_fore: Vec<f64>,
    /// How far the last ones stand off square, heads aft, radians, from aft.
    pub cant_aft: Vec<f64>,
    /// Those that stop short of the sheer.
    pub stopped: Vec<Stop>,
    /// Least radius to bend one to, steamed, in thicknesses.
    pub steamed_radius: f64,
    /// The same cold.
    pub cold_radius: f64,
    /// Layers each is glued up from, equally thick; 1: one piece.
    pub layers: u32,
    /// How it, or each of its layers, is bent.
    pub bent: Bent,
    /// Pieces to cut over, for those that break, as a share.
    pub extra: f64,
    /// The wood.
    pub wood: Wood,
}

/// How wood is bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bent {
    /// Hot out of the steam.
    Steamed,
    /// Cold.
    Cold,
}

/// A timber that stops short of the sheer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Its number from forward, 1 first.
    pub timber: usize,
    /// Where.
    pub at: StopAt,
}

/// Where a timber stops.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StopAt {
    /// At the upper edge of this strake.
    Strake(usize),
    /// At the first land at or over this height, mm above base.
    Height(f64),
}
