//! Steamed timbers.

use crate::geom::Point;

/// One timber, from sheer to sheer across the keel.
#[derive(Debug, Clone, PartialEq)]
pub struct Timber {
    /// From forward, 1 first.
    pub n: usize,
    /// mm aft of the first station, at its centre.
    pub x: f64,
    /// From the rabbet over the upper inner edges of the strakes to the sheer, one side, mm.
    pub girth: f64,
    /// To cut: both sides, across the keel, with the spare, mm.
    pub length: f64,
    /// Least radius it is bent to, mm.
    pub bend_radius_min: f64,
    /// Its line from rabbet to sheer, one side.
    pub points: Vec<Point>,
}
