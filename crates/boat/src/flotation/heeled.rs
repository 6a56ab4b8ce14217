//! The righting arm: how hard she comes back when she is heeled.

use super::balance::{Afloat, Load, righting_arm, settle, wanted};
use super::{Attitude, FlotationError, Hull};
use crate::geom::Point;

/// The righting arm from upright to this heel, in steps of so much, degrees.
const TO: i32 = 90;
const STEP: i32 = 2;
/// The heel at which the sheer goes under is found this near, radians.
const NEAR: f64 = 1e-6;

/// The arm at one heel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arm {
    /// To starboard, radians.
    pub heel: f64,
    /// + rights her, mm.
    pub arm: f64,
    /// By the stern, radians.
    pub trim: f64,
    /// From the water up to the lowest place of the sheer, mm; below 0 it is under.
    pub freeboard: f64,
}

/// The righting arm from 0 to 90 degrees, her trim free. She is reckoned decked at the sheer: past [`Righting::under`] an open
/// boat fills, and nothing beyond it is to be believed.
#[derive(Debug, Clone, PartialEq)]
pub struct Righting {
    /// By heel; those at which she finds no rest are left out.
    pub arms: Vec<Arm>,
    /// The heel at which the sheer goes under, radians, and where it does; `None`: not by 90 degrees.
    pub under: Option<(f64, Point)>,
}

impl Righting {
    /// The greatest arm before the sheer goes under.
    #[must_use]
    pub fn greatest(&self) -> Option<Arm> {
        let limit = self.under.map_or(f64::INFINITY, |u| u.0);
        self.arms.iter().copied().filter(|a| a.heel <= limit).max_by(|a, b| a.arm.total_cmp(&b.arm))
    }
}

/// The righting arm of `hull` under `load` in water of `density`, kg/m³.
///
/// # Errors
/// As [`super::afloat`].
pub fn righting(hull: &Hull, load: &Load, density: f64) -> Result<Righting, FlotationError> {
    let volume = wanted(&hull.solid, load, density)?;
    // She is looked for where the last two steps point.
    let (mut before, mut last) = (None, Attitude::default());
    let mut arms = Vec::new();
    let mut under = None;
    let settled = |start: Attitude| settle(&hull.solid, load, volume, start, false);
    for degrees in (0..=TO).step_by(STEP as usize) {
        let heel = f64::from(degrees).to_radians();
        let next = before.map_or(last, |b: Attitude| Attitude {
            water: 2.0 * last.water - b.water,
            trim: 2.0 * last.trim - b.trim,
            ..last
        });
        let found = settled(Attitude { heel, ..next }).or_else(|| settled(Attitude { heel, ..Attitude::default() }));
        let Some(found) = found else {
            before = None;
            continue;
        };
        let Some((freeboard, _)) = hull.lowest(&found.at) else { continue };
        if freeboard < 0.0 && under.is_none() {
            under = Some(goes_under(hull, &settled, arms.last().map_or(0.0, |a: &Arm| a.heel), &found));
        }
        arms.push(Arm { heel, arm: righting_arm(&found, load), trim: found.at.trim, freeboard });
        before = (heel > 0.0).then_some(last);
        last = found.at;
    }
    Ok(Righting { arms, under })
}

/// Between the heel `dry` and the one found, at which it is under.
fn goes_under(
    hull: &Hull,
    settled: &dyn Fn(Attitude) -> Option<Afloat>,
    mut dry: f64,
    found: &Afloat,
) -> (f64, Point) {
    let mut wet = found.at;
    while wet.heel - dry > NEAR {
        let heel = 0.5 * (dry + wet.heel);
        let Some(at) = settled(Attitude { heel, ..wet }).map(|a| a.at) else { break };
        if hull.lowest(&at).is_some_and(|l| l.0 < 0.0) { wet = at } else { dry = heel }
    }
    (wet.heel, hull.lowest(&wet).map_or_else(Point::origin, |l| l.1))
}
