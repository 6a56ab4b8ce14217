//! Woods and how heavy they are.
//!
//! Densities are for 12 % moisture: specific gravity at 12 % (oven-dry mass on the volume at 12 %) times
//! 1000 (1 + 12/100) kg/m³, the convention of the Wood Handbook. A boat's wood differs by a tenth either way; the
//! builder's own figure goes in boat.toml as `density`.
//!
//! Source: WoodHandbook in SOURCES.md. Each row says whether its number was read, and where, or is from memory.

/// Where a specific gravity comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Read in a stored copy of the handbook's table 5-3.
    Handbook,
    /// Read in a second-hand table of the handbook's numbers.
    SecondHand,
    /// Read as a weight in lb/ft³ in a manual on timber structures and converted.
    Manual,
    /// Not read: from memory of the handbook's table 5-3. To be checked before anything rests on it.
    Memory,
}

/// A wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownWood {
    /// As the handbook lists it.
    pub name: &'static str,
    /// At 12 % moisture.
    pub specific_gravity: f64,
    /// Where that comes from.
    pub source: Source,
}

impl KnownWood {
    /// kg/m³ at 12 % moisture.
    #[must_use]
    pub fn density(&self) -> f64 {
        self.specific_gravity * 1120.0
    }
}

const fn row(name: &'static str, specific_gravity: f64, source: Source) -> KnownWood {
    KnownWood { name, specific_gravity, source }
}

/// The woods known, by name.
pub const WOODS: [KnownWood; 21] = [
    row("ash, black", 0.49, Source::SecondHand),
    row("ash, green", 0.56, Source::SecondHand),
    row("ash, white", 0.60, Source::SecondHand),
    row("beech, American", 0.64, Source::SecondHand),
    row("cedar, Alaska", 0.44, Source::Memory),
    row("cedar, Atlantic white", 0.32, Source::Memory),
    row("cedar, northern white", 0.31, Source::Memory),
    row("Douglas-fir, coast", 0.48, Source::Memory),
    row("elm, American", 0.50, Source::SecondHand),
    row("elm, rock", 0.63, Source::SecondHand),
    row("elm, slippery", 0.53, Source::SecondHand),
    row("hemlock, western", 0.45, Source::Manual),
    row("larch, western", 0.52, Source::Memory),
    row("maple, black", 0.57, Source::SecondHand),
    row("oak, white", 0.68, Source::Memory),
    row("pine, red", 0.46, Source::Handbook),
    row("pine, slash", 0.59, Source::Handbook),
    row("pine, sugar", 0.36, Source::Handbook),
    row("redcedar, western", 0.32, Source::Memory),
    row("redwood, old-growth", 0.40, Source::Handbook),
    row("spruce, Sitka", 0.40, Source::Memory),
];

/// The wood of that name, its words in any order, capitals or not: `larch, western` or `Western larch`. A part of a
/// name finds nothing: `larch` could be another larch.
#[must_use]
pub fn find(name: &str) -> Option<&'static KnownWood> {
    let wanted = sorted_words(name);
    WOODS.iter().find(|wood| sorted_words(wood.name) == wanted)
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
}
