//! The righting arm: how hard she comes back when she is heeled.

use super::balance::{Afloat, Load, level, righting_arm, settle, wanted};
use super::{Attitude, FlotationError, Hull};
use crate::geom::Point;

/// The righting arm from upright to this heel, in steps of so much, degrees.
const TO: i32 = 90;
const STEP: i32 = 2;
/// The heel at which the sheer goes under is found this near, radians, or the sheer there this near under the water, mm.
const NEAR: f64 = 1e-6;
/// Rounds in which that is looked for.
const ROUNDS: usize = 40;

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

    /// The arm when the sheer goes under, mm, straight between those reckoned beside that heel.
    #[must_use]
    pub fn arm_at_sheer(&self) -> Option<f64> {
        let (heel, _) = self.under?;
        let after = self.arms.iter().position(|a| a.heel >= heel)?;
        let [a, b] = [self.arms.get(after.checked_sub(1)?)?, &self.arms[after]];
        Some(a.arm + (b.arm - a.arm) * (heel - a.heel) / (b.heel - a.heel))
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
        let warm = if heel > 0.0 { settled(Attitude { heel, ..next }) } else { None };
        let found = warm.or_else(|| settled(level(&hull.solid, volume, heel)));
        let Some(found) = found else {
            before = None;
            continue;
        };
        let Some((freeboard, _)) = hull.lowest(&found.at) else { continue };
        if freeboard < 0.0 && under.is_none() {
            let dry = arms.last().map_or((0.0, 0.0), |a: &Arm| (a.heel, a.freeboard));
            under = Some(goes_under(hull, &settled, dry, (found.at, freeboard)));
        }
        arms.push(Arm { heel, arm: righting_arm(&found, load), trim: found.at.trim, freeboard });
        before = (heel > 0.0).then_some(last);
        last = found.at;
    }
    Ok(Righting { arms, under })
}

/// Between the heel `dry`, with the freeboard there, and the place where it is under: by the secant (Illinois).
fn goes_under(
    hull: &Hull,
    settled: &dyn Fn(Attitude) -> Option<Afloat>,
    mut dry: (f64, f64),
    mut wet: (Attitude, f64),
) -> (f64, Point) {
    let mut last = None;
    for _ in 0..ROUNDS {
        if wet.0.heel - dry.0 <= NEAR {
            break;
        }
        let share = if dry.1 > wet.1 { dry.1 / (dry.1 - wet.1) } else { 0.5 };
        let heel = dry.0 + share.clamp(0.01, 0.99) * (wet.0.heel - dry.0);
        let Some(at) = settled(Attitude { heel, ..wet.0 }).map(|a| a.at) else { break };
        let Some((over, _)) = hull.lowest(&at) else { break };
        // An end that stays twice running counts for half.
        if over < 0.0 {
            if last == Some(true) {
                dry.1 *= 0.5;
            }
            (wet, last) = ((at, over), Some(true));
            if over > -NEAR {
                break;
            }
        } else {
            if last == Some(false) {
                wet.1 *= 0.5;
            }
            (dry, last) = ((heel, over), Some(false));
        }
    }
    (wet.0.heel, hull.lowest(&wet.0).map_or_else(Point::origin, |l| l.1))
}
