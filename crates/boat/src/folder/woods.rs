//! Woods: how heavy they are and what they bear when they are bent and twisted.
//!
//! Every number is that of dry wood (12 % moisture). Density is specific gravity (oven-dry mass on the volume at 12 %)
//! times 1000 (1 + 12/100) kg/m³, the convention of the Wood Handbook. A boat's wood differs by a tenth either way; the
//! builder's own figures go in boat.toml.
//!
//! Source: `WoodHandbook` table 5-3a in SOURCES.md. All rows were read in a stored transcription of that table, and those that
//! a second one has agree, but for white ash's strength in bending (103 and 106 MPa: the smaller is taken).
//!
//! Shrinkage is that of its table 4-3, percent from green to ovendry: read in a stored transcription, but for western larch and
//! Sitka spruce, which are from memory.
//!
//! What a plank bears is reckoned from these means in `docs/planks.md`. The handbook's samples are small, clear and straight
//! in the grain: a board with knots or short grain bears less.

use crate::spec::BendSpec;

/// A wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownWood {
    /// As the handbook lists it.
    pub name: &'static str,
    /// At 12 % moisture.
    pub specific_gravity: f64,
    /// Modulus of rupture in bending, MPa.
    pub rupture: f64,
    /// Modulus of elasticity in bending, MPa.
    pub stiffness: f64,
    /// Shear strength along the grain, MPa.
    pub shear: f64,
    /// A broadleaf's, which takes the hardest bends when steamed.
    pub hardwood: bool,
    /// Lost from green to ovendry, percent, across the rings (radial) and along them (tangential); `None`: not known here.
    pub shrinkage: Option<[f64; 2]>,
}

/// Share of the strain at which a beam would break, were it straight-line to the end, that a plank is bent to cold.
/// Common practice, no source: with larch it gives the hundred thicknesses that builders speak of.
const COLD_SHARE: f64 = 0.7;
/// Stiffness in bending over stiffness in shear along the grain. From memory of the handbook's table 5-1, whose woods lie
/// between 9 and 22.
const STIFF_TO_SHEAR: f64 = 16.0;
/// Least radius to which a steamed plank is bent, in thicknesses: a broadleaf's wood and a conifer's. Common practice, no
/// source.
const STEAMED: [f64; 2] = [15.0, 30.0];

impl KnownWood {
    /// kg/m³ at 12 % moisture.
    #[must_use]
    pub fn density(&self) -> f64 {
        self.specific_gravity * 1120.0
    }

    const fn shrinks(self, radial: f64, tangential: f64) -> KnownWood {
        KnownWood { shrinkage: Some([radial, tangential]), ..self }
    }

    /// What a plank of it bears.
    #[must_use]
    pub fn bends(&self) -> BendSpec {
        let [hard, soft] = STEAMED;
        BendSpec {
            cold_strain: COLD_SHARE * self.rupture / self.stiffness,
            cold_shear: self.shear * STIFF_TO_SHEAR / self.stiffness,
            steamed_strain: 0.5 / if self.hardwood { hard } else { soft },
        }
    }
}

const fn hard(name: &'static str, specific_gravity: f64, rupture: f64, stiffness: f64, shear: f64) -> KnownWood {
    KnownWood { name, specific_gravity, rupture, stiffness, shear, hardwood: true, shrinkage: None }
}

const fn soft(name: &'static str, specific_gravity: f64, rupture: f64, stiffness: f64, shear: f64) -> KnownWood {
    KnownWood { name, specific_gravity, rupture, stiffness, shear, hardwood: false, shrinkage: None }
}

/// The woods known, by name.
pub const WOODS: [KnownWood; 29] = [
    hard("ash, black", 0.49, 87.0, 11000.0, 10.8).shrinks(5.0, 7.8),
    hard("ash, green", 0.56, 97.0, 11400.0, 13.2).shrinks(4.6, 7.1),
    hard("ash, white", 0.60, 103.0, 12000.0, 13.2).shrinks(4.9, 7.8),
    soft("baldcypress", 0.46, 73.0, 9900.0, 6.9),
    hard("beech, American", 0.64, 103.0, 11900.0, 13.9).shrinks(5.5, 11.9),
    soft("cedar, Alaska", 0.44, 77.0, 9800.0, 7.8).shrinks(2.8, 6.0),
    soft("cedar, Atlantic white", 0.32, 47.0, 6400.0, 5.5).shrinks(2.9, 5.4),
    soft("cedar, northern white", 0.31, 45.0, 5500.0, 5.9).shrinks(2.2, 4.9),
    soft("cedar, Port-Orford", 0.43, 88.0, 11700.0, 9.4).shrinks(4.6, 6.9),
    soft("Douglas-fir, coast", 0.48, 85.0, 13400.0, 7.8).shrinks(4.8, 7.6),
    hard("elm, American", 0.50, 81.0, 9200.0, 10.4).shrinks(4.2, 9.5),
    hard("elm, rock", 0.63, 102.0, 10600.0, 13.2).shrinks(4.8, 8.1),
    hard("elm, slippery", 0.53, 90.0, 10300.0, 11.2).shrinks(4.9, 8.9),
    soft("hemlock, western", 0.45, 78.0, 11300.0, 8.6),
    soft("larch, western", 0.52, 90.0, 12900.0, 9.4).shrinks(4.5, 9.1),
    hard("maple, black", 0.57, 92.0, 11200.0, 12.5),
    hard("oak, northern red", 0.63, 99.0, 12500.0, 12.3),
    hard("oak, white", 0.68, 105.0, 12300.0, 13.8).shrinks(5.6, 10.5),
    soft("pine, eastern white", 0.35, 59.0, 8500.0, 6.2),
    soft("pine, longleaf", 0.59, 100.0, 13700.0, 10.4),
    soft("pine, red", 0.46, 76.0, 11200.0, 8.4),
    soft("pine, slash", 0.59, 112.0, 13700.0, 11.6),
    soft("pine, sugar", 0.36, 57.0, 8200.0, 7.8),
    soft("redcedar, western", 0.32, 51.7, 7700.0, 6.8).shrinks(2.4, 5.0),
    soft("redwood, old-growth", 0.40, 69.0, 9200.0, 6.5),
    soft("spruce, red", 0.40, 74.0, 11400.0, 8.9),
    soft("spruce, Sitka", 0.40, 70.0, 10800.0, 7.9).shrinks(4.3, 7.5),
    soft("tamarack", 0.53, 80.0, 11300.0, 8.8),
    hard("yellow-poplar", 0.42, 70.0, 10900.0, 8.2).shrinks(4.6, 8.2),
];

/// The wood of that name, its words in any order, capitals or not: `larch, western` or `Western larch`. A part of a
/// name finds nothing: `larch` could be another larch.
#[must_use]
pub fn find(name: &str) -> Option<&'static KnownWood> {
    let wanted = sorted_words(name);
    WOODS.iter().find(|wood| sorted_words(wood.name) == wanted)
}

/// Whether two names are of one wood: the same words in any order, capitals or not.
#[must_use]
pub fn same(a: &str, b: &str) -> bool {
    sorted_words(a) == sorted_words(b)
}

fn sorted_words(name: &str) -> Vec<String> {
    let mut words: Vec<String> =
        name.split([',', ' ', '\t']).filter(|w| !w.is_empty()).map(str::to_lowercase).collect();
    words.sort();
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_in_any_order_and_never_guessed() {
        assert_eq!(find("Western Larch").map(|w| w.name), Some("larch, western"));
        assert_eq!(find("ash,white").map(|w| w.name), Some("ash, white"));
        assert_eq!(find("larch"), None);
        assert_eq!(find(""), None);
    }

    /// White ash at 12 %: 0.60 × 1120 = 672 kg/m³, by hand.
    #[test]
    fn density_is_by_the_handbooks_convention() {
        assert!((find("ash, white").unwrap().density() - 672.0).abs() < 1e-9);
    }

    /// Western larch by hand: 90 / 12 900 is 0.006977, seven tenths of it 0.004884, and half of its inverse 102 thicknesses;
    /// 9.4 · 16 / 12 900 is 0.01166.
    #[test]
    fn larch_bends_cold_to_a_hundred_thicknesses() {
        let bends = find("larch, western").unwrap().bends();
        assert!((bends.cold_strain - 0.004_884).abs() < 1e-6 && (bends.cold_radius() - 102.4).abs() < 0.1);
        assert!((bends.cold_shear - 0.011_66).abs() < 1e-5);
        assert!((bends.steamed_radius() - 30.0).abs() < 1e-9);
    }

    /// No wood in the list is far from the others: a slip in a figure would show.
    #[test]
    fn woods_are_alike_within_reason() {
        for wood in &WOODS {
            let ratio = wood.rupture / wood.stiffness;
            assert!((0.006..0.010).contains(&ratio), "{}: {ratio}", wood.name);
            // Dense wood is stiff and strong in step.
            let strong = wood.rupture / wood.specific_gravity;
            assert!((135.0..210.0).contains(&strong), "{}: {strong}", wood.name);
            assert!((0.08..0.16).contains(&(wood.shear / wood.rupture)), "{}", wood.name);
        }
    }
}
