//! Full of water: what her own wood and the builder's foam bear.
//!
//! Each piece of wood displaces its own volume and no more: planks as they are, everything else as boxes of its volume about where
//! it stands; metal displaces little and is not counted, nor do things aboard that say no `litres`. Which way errors fall: dry
//! wood takes up water and bears less from hour to hour.

use super::wood::{boxed, wood};
use super::{Ask, Attitude, FRESH, Hull, Load, afloat};
use crate::geom::Point;

/// Swamped, in fresh water, with what is always aboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Swamped {
    /// What she weighs, kg.
    pub mass: f64,
    /// Water that her wood displaces when all of it is under, kg.
    pub wood: f64,
    /// The same of the builder's foam, kg.
    pub foam: f64,
    /// How she lies; `None` where she sinks or finds no rest.
    pub rest: Option<Rest>,
}

/// How she lies, full of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rest {
    /// How she lies.
    pub at: Attitude,
    /// She stays upright.
    pub stiff: bool,
    /// The lowest place of the sheer over the water, mm; below 0 under it.
    pub lowest: f64,
}

impl Swamped {
    /// What she still bears before all of her is under, kg; below 0 she sinks.
    #[must_use]
    pub fn left(&self) -> f64 {
        self.wood + self.foam - self.mass
    }
}

/// The boat as she is, `light` with what is always aboard.
pub fn swamped(ask: &Ask<'_>, hull: &Hull, light: &Load) -> Swamped {
    let mut body = wood(ask.strakes, &ask.weights.pieces);
    let own = body.whole().0;
    for load in &ask.spec.loads {
        let x = hull.stations.iter().map(|(name, x)| (name.as_str(), *x));
        if let Some(x) = load.place.x(x).filter(|_| load.litres > 0.0 && load.when.is_empty()) {
            body.add(&boxed(load.litres * 1e6, &Point::new(x, load.out, load.height), [1.0; 3]));
        }
    }
    let foam = body.whole().0 - own;
    let mass = light.mass;
    let rest = afloat(&body, light, FRESH).ok().and_then(|found| {
        let (lowest, _) = hull.lowest(&found.at)?;
        Some(Rest { at: found.at, stiff: found.stays_upright(), lowest })
    });
    Swamped { mass, wood: own * 1e-9 * FRESH, foam: foam * 1e-9 * FRESH, rest }
}
