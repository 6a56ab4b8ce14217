//! Points, vectors, curves. Knows nothing of boats.

/// A point in space, mm.
pub type Point = nalgebra::Point3<f64>;
/// A displacement in space, mm, or a direction.
pub type Vector = nalgebra::Vector3<f64>;
