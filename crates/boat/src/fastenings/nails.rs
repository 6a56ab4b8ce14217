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

/// Mass of a square copper shank, kg; `side` and `length` in mm.
fn nail_mass(side: f64, length: f64) -> f64 {
    side * side * length * 1e-9 * COPPER
}

#[cfg(test)]
mod tests {
    use super::*;

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
