//! Nails to order.

use super::{NailLine, Rivet};
use crate::units::swg_diameter;

/// Copper, kg/m³. From memory (standard handbooks give 8.96 g/cm³ at 20 °C).
pub const COPPER: f64 = 8960.0;

/// Nails of both sides by length. A nail is reckoned as a square shank as wide as its gauge's wire; head and point
/// are left out, and so are the roves.
#[must_use]
pub fn nails(rivets: &[Rivet], gauge: u32) -> Vec<NailLine> {
    let side = swg_diameter(gauge).unwrap_or(0.0);
    let mut lengths: Vec<f64> = rivets.iter().filter_map(|r| r.nail).collect();
    lengths.sort_by(f64::total_cmp);
    let mut lines: Vec<NailLine> = Vec::new();
    for length in lengths {
        let mass = nail_mass(side, length);
        match lines.last_mut() {
            Some(line) if line.length == length => {
                line.count += 2;
                line.mass += 2.0 * mass;
            }
            _ => lines.push(NailLine { gauge, length, count: 2, mass: 2.0 * mass }),
        }
    }
    lines
}

/// What the order leaves out, in words: the rivets of both sides that take a longer nail than any in stock. Empty where
/// there are none.
#[must_use]
pub fn left_out(rivets: &[Rivet]) -> String {
    match 2 * rivets.iter().filter(|r| r.nail.is_none()).count() {
        0 => String::new(),
        n => format!(
            "{n} more rivets take a longer nail than any in stock and are not in this order: add longer ones \
             (fastenings.nail_lengths)."
        ),
    }
}

/// How many to order where `count` go into her and `spare` is the share over, rounded up. The share is taken to the
/// millionth, so that a tenth over 100 is 110: in floating point it is a hair more.
fn with_spare(count: u32, spare: f64) -> u32 {
    let millionths = (spare.max(0.0) * 1e6).round() as u64;
    let over = (u64::from(count) * millionths).div_ceil(1_000_000);
    u32::try_from(u64::from(count) + over).unwrap_or(u32::MAX)
}

impl NailLine {
    /// How many to order with `spare` as the share over, and their mass, kg.
    #[must_use]
    pub fn order(&self, spare: f64) -> (u32, f64) {
        let ordered = with_spare(self.count, spare);
        let each = if self.count > 0 { self.mass / f64::from(self.count) } else { 0.0 };
        (ordered, each * f64::from(ordered))
    }
}

/// Mass of a square copper shank, kg; `side` and `length` in mm.
fn nail_mass(side: f64, length: f64) -> f64 {
    side * side * length * 1e-9 * COPPER
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spare_nails_are_rounded_up_and_no_further() {
        for (count, spare, order) in [
            (100, 0.1, 110),
            (770, 0.1, 847),
            (771, 0.1, 849),
            (1, 0.1, 2),
            (0, 0.1, 0),
            (100, 0.0, 100),
            (100, 1.0, 200),
            (10, 0.07, 11),
            (100, 0.07, 107),
            (300, 0.29, 387),
            (3, 1.0 / 3.0, 4),
            (u32::MAX, 1.0, u32::MAX),
        ] {
            assert_eq!(with_spare(count, spare), order, "{count} and {spare} over");
        }
        // Every count with every spare of whole hundredths, against whole numbers alone.
        for count in 0..2000_u32 {
            for hundredths in 0..=100_u32 {
                let order = count + (count * hundredths).div_ceil(100);
                assert_eq!(with_spare(count, f64::from(hundredths) / 100.0), order, "{count}, {hundredths} %");
            }
        }
        let line = NailLine { gauge: 14, length: 25.4, count: 770, mass: 0.7238 };
        let (order, mass) = line.order(0.1);
        assert!(order == 847 && (mass - 0.79618).abs() < 1e-9, "{order}, {mass} kg");
    }

    /// One inch of square shank: side × side × 25.4 mm × 8.96 g/cm³, computed by hand from the wire gauge table
    /// [SWG] to the digits given.
    #[test]
    fn an_inch_of_nail_weighs_what_it_should() {
        for (gauge, grams) in [(14, 0.940), (12, 1.588), (10, 2.406)] {
            let side = swg_diameter(gauge).unwrap();
            assert!((nail_mass(side, 25.4) * 1000.0 - grams).abs() < 5e-4, "gauge {gauge}");
        }
    }
}
