//! What the planned parts weigh.

use crate::geom::Point;

/// Weights of the parts planned so far, both sides, kg.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// Planks.
    pub planking: f64,
    /// Nails and roves.
    pub fastenings: f64,
    /// Timbers.
    pub timbers: f64,
    /// All of these.
    pub total: f64,
    /// Their common centre; y is 0.
    pub centre: Point,
}
