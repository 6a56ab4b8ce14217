//! How she lies in the water.

use crate::geom::{Point, Vector};

/// How she lies.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Attitude {
    /// Height of the water over the boat's origin, square to the water, mm.
    pub water: f64,
    /// How far her base line is down by the stern, radians.
    pub trim: f64,
    /// How far she is heeled to starboard, where y is above 0, radians.
    pub heel: f64,
}

impl Attitude {
    /// Neither her keel nor an end of hers is up.
    #[must_use]
    pub fn upright(&self) -> bool {
        self.heel.cos() > 0.0 && self.trim.cos() > 0.0
    }

    /// The water's axes in the boat's frame: aft and to starboard, both level, and up.
    #[must_use]
    pub fn axes(&self) -> [Vector; 3] {
        let (st, ct) = self.trim.sin_cos();
        let (sh, ch) = self.heel.sin_cos();
        [Vector::new(ct, -st * sh, st * ch), Vector::new(0.0, ch, sh), Vector::new(-st, -ct * sh, ct * ch)]
    }

    /// How far a point of hers stands over the water, mm.
    #[must_use]
    pub fn over_water(&self, p: &Point) -> f64 {
        p.coords.dot(&self.axes()[2]) - self.water
    }

    /// A point of the water's frame, in the boat's.
    #[must_use]
    pub fn to_boat(&self, p: &Vector) -> Point {
        let [aft, across, up] = self.axes();
        Point::from(aft * p.x + across * p.y + up * (p.z + self.water))
    }

    /// Height over base at which the water's plane meets her, `x` aft of the first station and `y` to starboard, mm. She must
    /// not lie on her side.
    #[must_use]
    pub fn waterline(&self, x: f64, y: f64) -> f64 {
        let up = self.axes()[2];
        (self.water - up.x * x - up.y * y) / up.z
    }
}
