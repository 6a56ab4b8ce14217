//! Imperial standard wire gauge, by which square copper nails are sold.
//!
//! Source: Imperial Standard Wire Gauge, Order in Council of 23 August 1883; the inch column as two tables read second
//! hand agree on it (one of them misprints size 28). Sizes above 1 (1/0 to 7/0) are left out: no nail is that thick.

use super::INCH;

/// Gauges that [`swg_diameter`] knows.
pub const GAUGES: std::ops::RangeInclusive<u32> = 1..=30;

/// Diameters of sizes 1 to 30, inches.
const DIAMETER_IN: [f64; 30] = [
    0.300, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.160, 0.144, 0.128, //
    0.116, 0.104, 0.092, 0.080, 0.072, 0.064, 0.056, 0.048, 0.040, 0.036, //
    0.032, 0.028, 0.024, 0.022, 0.020, 0.018, 0.0164, 0.0148, 0.0136, 0.0124,
];

/// Diameter of a wire of this gauge, mm; the side of a square nail of the same gauge. `None` outside [`GAUGES`].
///
/// ```
/// assert!((boat::units::swg_diameter(14).unwrap() - 2.032).abs() < 1e-9);
/// assert_eq!(boat::units::swg_diameter(31), None);
/// ```
#[must_use]
pub fn swg_diameter(gauge: u32) -> Option<f64> {
    let index = usize::try_from(gauge).ok()?.checked_sub(1)?;
    DIAMETER_IN.get(index).map(|inches| inches * INCH)
}
