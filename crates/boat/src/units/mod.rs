//! Millimetres inside; feet, inches and eighths are read and printed here and nowhere else.
//!
//! Plans print lengths as feet-inches-eighths: `1-3-4+` is 1 ft 3 in and 4½ eighths. Builders also write `3 7/8`,
//! `1' 3 1/2"` and millimetres. [`read_length`] takes all of them; only a bare number needs to be told what it is, by
//! the boat's declared [`Notation`]. In feet-inches-eighths a bare `12` could be inches or feet, so it is refused:
//! nothing here guesses.
//!
//! Accuracy: one inch is 25.4 mm exactly, so reading is exact to the last bit or two of an f64. Printing rounds half
//! away from zero, and what is printed reads back as the rounded value.

mod gauge;
mod print;
mod read;
pub mod slips;
mod spoken;

pub use gauge::{GAUGES, swg_diameter};
pub use print::{EighthsParts, Fraction, degrees};
pub use read::{Form, LengthError, Reading, read_length, read_length_as};
pub use slips::{Slip, slips};

/// One inch, mm; exact.
pub const INCH: f64 = 25.4;
/// One foot, mm; exact.
pub const FOOT: f64 = 12.0 * INCH;
/// One pound, kg; exact by the agreement of 1959 on the international pound.
pub const POUND: f64 = 0.453_592_37;

/// So many inches in mm, rounded once: binary fractions of an inch come out as the decimal that one would write.
///
/// ```
/// assert_eq!(boat::units::inches(1.5), 38.1);
/// ```
#[must_use]
pub fn inches(count: f64) -> f64 {
    count * 254.0 / 10.0
}

/// Longest length that is read, mm. No boat built this way comes near it, so it is a slip of the pen.
pub const LONGEST: f64 = 100_000.0;

/// What a bare number means, and how lengths are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Notation {
    /// Millimetres.
    Mm,
    /// Feet-inches-eighths, `1-3-4+`; short lengths print as inches and fractions.
    FeetInchesEighths,
    /// Inches and fractions, `15 9/16`.
    Inches,
}

impl Notation {
    /// All of them, with the word that `boat.toml` and `--lengths` use.
    pub const WORDS: [(&'static str, Notation); 3] =
        [("mm", Notation::Mm), ("in", Notation::Inches), ("ft-in-8ths", Notation::FeetInchesEighths)];

    /// The word that `boat.toml` and `--lengths` use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Notation::Mm => "mm",
            Notation::Inches => "in",
            Notation::FeetInchesEighths => "ft-in-8ths",
        }
    }

    /// The notation of that word.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::WORDS.iter().find(|(w, _)| *w == word).map(|(_, n)| *n)
    }
}
