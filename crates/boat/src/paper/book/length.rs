//! Lengths and angles as this book prints them: in the boat's own notation, with a true minus sign.

use crate::units::{self, FOOT, Notation, POUND};

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
        minus(self.0.fine(mm))
    }

    /// Whether short lengths are inches with fractions.
    pub fn inches(self) -> bool {
        self.0 != Notation::Mm
    }

    /// A width or a thickness with its unit.
    pub fn short_unit(self, mm: f64) -> String {
        format!("{} {}", self.short(mm), self.0.unit())
    }

    /// A small depth with its sign, for a difference: `+0.4`, `−0.4`, and bare where it is printed as nought.
    pub fn fine_signed(self, mm: f64) -> String {
        signed(mm, self.fine(mm))
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

    /// An area for a column headed by [`Lengths::area_unit`]: square feet to so many places, or square metres to one more, which
    /// are ten times as large.
    pub fn bare_area(self, mm2: f64, places: usize) -> String {
        if self.inches() {
            format!("{:.places$}", mm2 / (FOOT * FOOT))
        } else {
            let places = places + 1;
            format!("{:.places$}", mm2 * 1e-6)
        }
    }

    /// The unit of areas.
    pub fn area_unit(self) -> &'static str {
        if self.inches() { "sq ft" } else { "m²" }
    }

    /// An area with its unit.
    pub fn area(self, mm2: f64, places: usize) -> String {
        format!("{} {}", self.bare_area(mm2, places), self.area_unit())
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

/// What was printed of `mm`, with a plus where that is over nought.
pub fn signed(mm: f64, printed: String) -> String {
    if mm > 0.0 && !is_nought(&printed) { format!("+{printed}") } else { printed }
}

/// Less than this is rounded away where a small depth is printed in millimetres, mm.
pub const UNSEEN: f64 = 0.05;

/// Whether a number was rounded to nothing when it was printed: `0`, `0.0`, `0.0 mm`.
pub fn is_nought(printed: &str) -> bool {
    printed.contains('0') && !printed.contains(|c: char| ('1'..='9').contains(&c))
}

/// `6 mm larch`: a thickness and its wood, where that has a name.
pub fn of_wood(thickness: &str, wood: &str) -> String {
    if wood.is_empty() { thickness.to_owned() } else { format!("{thickness} {wood}") }
}

/// A name at the head of a sentence.
pub fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// An angle in degrees, to a tenth.
pub fn degrees(radians: f64) -> String {
    format!("{}°", units::degrees(radians))
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
    fn what_is_printed_as_nought_has_no_sign_in_any_notation() {
        let (mm, inches) = (Lengths(Notation::Mm), Lengths(Notation::Inches));
        for small in [0.0, 0.04, -0.04] {
            assert!(is_nought(&mm.fine(small)) && is_nought(&mm.fine_unit(small)) && is_nought(&inches.fine(small)));
            assert_eq!([mm.fine_signed(small), inches.fine_signed(small)], ["0.0", "0"]);
        }
        assert_eq!([mm.fine_signed(0.06), mm.fine_signed(-0.06)], ["+0.1", "\u{2212}0.1"]);
        assert_eq!(inches.fine_signed(25.4 / 32.0), "+1/32");
        assert!(!is_nought(&mm.fine(10.0)) && !is_nought("?"));
    }

    #[test]
    fn a_wood_without_a_name_leaves_no_gap() {
        assert_eq!([of_wood("9 mm", "larch"), of_wood("9 mm", "")], ["9 mm larch", "9 mm"]);
    }

    #[test]
    fn angles_keep_their_sign_but_nothing_is_minus_nought() {
        assert_eq!(degrees(-0.1), "\u{2212}5.7°");
        assert_eq!(degrees(-0.0003), "0.0°");
    }
}
