//! Lengths and angles as this book prints them: in the boat's own notation, with a true minus sign.

use crate::units::{Fraction, Notation, POUND};

/// Prints lengths in the boat's own notation.
#[derive(Debug, Clone, Copy)]
pub struct Lengths(pub Notation);

impl Lengths {
    /// A length of the boat, as her plan would give it.
    pub fn long(self, mm: f64) -> String {
        minus(self.0.long(mm))
    }

    /// A width or a thickness.
    pub fn short(self, mm: f64) -> String {
        minus(self.0.short(mm))
    }

    /// A small depth: a plane feels a tenth of a mm, or a thirty-second of an inch.
    pub fn fine(self, mm: f64) -> String {
        match (self.0, Fraction::of_inches(mm, 32)) {
            (Notation::FeetInchesEighths | Notation::Inches, Some(fraction)) => minus(fraction.to_string()),
            _ => minus(self.0.exact(mm)),
        }
    }

    /// Whether short lengths are inches with fractions.
    pub fn inches(self) -> bool {
        self.0 != Notation::Mm
    }

    /// A width or a thickness with its unit.
    pub fn short_unit(self, mm: f64) -> String {
        format!("{} {}", self.short(mm), self.0.unit())
    }

    /// A small depth with its unit.
    pub fn fine_unit(self, mm: f64) -> String {
        format!("{} {}", self.fine(mm), self.0.unit())
    }

    /// A length of the boat with its unit; feet-inches-eighths need none.
    pub fn long_unit(self, mm: f64) -> String {
        match self.0 {
            Notation::FeetInchesEighths => self.long(mm),
            Notation::Mm | Notation::Inches => self.short_unit(mm),
        }
    }

    /// A mass for a column whose head says `kg`, or `lb (kg)` beside inches.
    pub fn bare_mass(self, kg: f64, places: usize) -> String {
        if self.inches() { format!("{:.places$} ({kg:.places$})", kg / POUND) } else { format!("{kg:.places$}") }
    }

    /// The unit of the figures and how to read one, in sentences.
    pub fn how_to_read(self) -> &'static str {
        match self.0 {
            Notation::Mm => "All figures are millimetres.",
            Notation::Inches => "All figures are inches.",
            Notation::FeetInchesEighths => {
                "Figures with hyphens are feet, inches and eighths: 1-3-4 is 1 foot, 3 inches and 4 eighths, and a + after \
                 it half an eighth more; all others are inches."
            }
        }
    }

    /// How to read this book's lengths, for the foot of each page.
    pub fn legend(self) -> &'static str {
        match self.0 {
            Notation::Mm => "lengths in mm",
            Notation::Inches => "lengths in inches",
            Notation::FeetInchesEighths => "1-3-4+ is 1 ft 3 in and 4½ eighths; short lengths in inches",
        }
    }
}

/// The typewriter's hyphen before a number is a minus sign.
pub fn minus(number: String) -> String {
    match number.strip_prefix('-') {
        Some(rest) => format!("\u{2212}{rest}"),
        None => number,
    }
}

/// An angle in degrees, to a tenth.
pub fn degrees(radians: f64) -> String {
    let tenths = (radians.to_degrees() * 10.0).round() / 10.0;
    let sign = if tenths < 0.0 { "\u{2212}" } else { "" };
    format!("{sign}{:.1}°", tenths.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_reads_as_its_plan_would_print_it() {
        let eighths = Lengths(Notation::FeetInchesEighths);
        assert_eq!(eighths.long_unit(395.2875), "1-3-4+");
        assert_eq!(eighths.long(-395.2875), "\u{2212}1-3-4+");
        assert_eq!(eighths.short_unit(98.425), "3 7/8 in");
        assert_eq!(eighths.fine(25.4 / 32.0), "1/32");
        assert_eq!(Lengths(Notation::Mm).long_unit(-0.2), "0 mm");
        assert_eq!(Lengths(Notation::Mm).fine(-1.26), "\u{2212}1.3");
    }

    #[test]
    fn angles_keep_their_sign_but_nothing_is_minus_nought() {
        assert_eq!(degrees(-0.1), "\u{2212}5.7°");
        assert_eq!(degrees(-0.0003), "0.0°");
    }
}
