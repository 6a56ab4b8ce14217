//! The moulds she is built on, and which way up.

/// The moulds.
#[derive(Debug, Clone, PartialEq)]
pub struct MouldSpec {
    /// Thickness of a mould, mm. Its square edge needs no bevel when it stands on the side of the station towards
    /// the middle of the boat.
    pub thickness: f64,
    /// Room a rivet needs beside a mould, mm: for the hollow punch on the rove and for the hammer.
    pub clearance: f64,
    /// How she stands on them.
    pub stand: Stand,
    /// Between the base line and the floor or strongback, mm: under the base line upright, over it upside down. Where not
    /// given, 12 in, and upside down the highest sheer and 12 in.
    pub base_above_floor: Option<f64>,
    /// Level line drawn on every mould to set it up by, mm above base; where not given, the table's waterline nearest
    /// the middle of her depth, or the middle.
    pub level: Option<f64>,
    /// Width of a mould's legs and of its cross-spall, mm; 0: none are drawn.
    pub leg: f64,
}

/// Which way up she is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// Keel down.
    Upright,
    /// Keel up.
    UpsideDown,
}
