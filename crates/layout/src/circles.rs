//! Circles that lie in a shape: how far two shapes overlap.

use crate::body::Spot;
use jagua_rs::geometry::fail_fast::SPSurrogate;
use jagua_rs::geometry::primitives::Circle;

/// Circles that lie in a shape.
#[derive(Debug, Clone, Default)]
pub struct Circles {
    x: Vec<f32>,
    y: Vec<f32>,
    radius: Vec<f32>,
}

/// So many are reckoned with at once; the last few are filled up with circles of no size far away.
const LANES: usize = 8;
const FAR: f32 = 1e9;

impl Circles {
    pub fn of(surrogate: &SPSurrogate) -> Self {
        let poles = &surrogate.poles;
        let fill = poles.len().next_multiple_of(LANES) - poles.len();
        let all =
            |of: fn(&Circle) -> f32, none: f32| poles.iter().map(of).chain(std::iter::repeat_n(none, fill)).collect();
        Circles { x: all(|c| c.center.0, FAR), y: all(|c| c.center.1, FAR), radius: all(|c| c.radius, 0.0) }
    }

    /// Those of `base` carried to `spot`.
    pub fn carried_from(&mut self, base: &Circles, spot: &Spot) {
        let (sin, cos) = spot.turn.sin_cos();
        let over = if spot.over { -1.0 } else { 1.0 };
        self.x.clear();
        self.y.clear();
        self.radius.clone_from(&base.radius);
        let [dx, dy] = spot.shift;
        self.x.extend(base.x.iter().zip(&base.y).map(|(x, y)| x * cos - over * y * sin + dx));
        self.y.extend(base.x.iter().zip(&base.y).map(|(x, y)| x * sin + over * y * cos + dy));
    }

    /// How far circles of one lie in circles of the other, times the smaller radius. Never quite 0, so that the way out is
    /// felt beyond touching too.
    pub fn meet(&self, other: &Circles, soft: f32) -> f32 {
        let mut sums = [0.0_f32; LANES];
        for ((x, y), radius) in self.x.iter().zip(&self.y).zip(&self.radius) {
            if *radius == 0.0 {
                continue;
            }
            let rows =
                other.x.chunks_exact(LANES).zip(other.y.chunks_exact(LANES)).zip(other.radius.chunks_exact(LANES));
            for ((ox, oy), or) in rows {
                for k in 0..LANES {
                    let (dx, dy) = (x - ox[k], y - oy[k]);
                    let deep = radius + or[k] - (dx * dx + dy * dy).sqrt();
                    let felt = soft * soft / (2.0 * soft - deep.min(soft));
                    sums[k] += deep.max(felt) * radius.min(or[k]);
                }
            }
        }
        sums.iter().sum()
    }
}
