//! Lengths as they are said aloud.

use super::{Fraction, Notation};

impl Notation {
    /// A length as one would call it across the shed: `3 and 7 eighths inches`, `1 foot 3 and 9 sixteenths`, `394 millimetres`;
    /// to 1 mm or 1/16 in, like [`Notation::short`].
    ///
    /// ```
    /// use boat::units::{Notation, inches};
    /// assert_eq!(Notation::Inches.spoken(inches(3.875)), "3 and 7 eighths inches");
    /// assert_eq!(Notation::FeetInchesEighths.spoken(inches(15.5)), "1 foot 3 and a half");
    /// assert_eq!(Notation::Mm.spoken(-2.2), "minus 2 millimetres");
    /// ```
    #[must_use]
    pub fn spoken(self, mm: f64) -> String {
        match Fraction::of_inches(mm, 16) {
            Some(inches) if self != Notation::Mm => in_words(inches, self == Notation::FeetInchesEighths),
            _ => self.plainly(self.short(mm)),
        }
    }

    /// The same of a small length, to 0.1 mm or 1/32 in, like [`Notation::fine`]: `7 thirty-seconds of an inch`.
    ///
    /// ```
    /// use boat::units::{Notation, inches};
    /// assert_eq!(Notation::FeetInchesEighths.spoken_fine(inches(3.0 / 32.0)), "3 thirty-seconds of an inch");
    /// assert_eq!(Notation::Mm.spoken_fine(2.44), "2.4 millimetres");
    /// ```
    #[must_use]
    pub fn spoken_fine(self, mm: f64) -> String {
        match Fraction::of_inches(mm, 32) {
            Some(inches) if self != Notation::Mm => in_words(inches, false),
            _ => self.plainly(self.fine(mm)),
        }
    }

    /// A number as it is printed, and its unit.
    fn plainly(self, number: String) -> String {
        let (minus, number) = match number.strip_prefix('-') {
            Some(rest) => ("minus ", rest),
            None => ("", number.as_str()),
        };
        let unit = match self {
            Notation::Mm if number == "1" => "millimetre",
            Notation::Mm => "millimetres",
            Notation::FeetInchesEighths | Notation::Inches => "inches",
        };
        format!("{minus}{number} {unit}")
    }
}

/// A number of inches, `with_feet` from a foot up in feet and inches.
fn in_words(all: Fraction, with_feet: bool) -> String {
    let minus = if all.negative { "minus " } else { "" };
    let feet = if with_feet { all.whole / 12 } else { 0 };
    let rest = Fraction { whole: all.whole - 12 * feet, ..all };
    let inches = inches(&rest);
    if feet > 0 {
        let foot = if feet == 1 { "1 foot".to_owned() } else { format!("{feet} feet") };
        return if inches == "0" { format!("{minus}{foot}") } else { format!("{minus}{foot} {inches}") };
    }
    match (rest.whole, rest.numerator, rest.denominator) {
        (0, 1, 2) => format!("{minus}half an inch"),
        (0, 1.., _) => format!("{minus}{inches} of an inch"),
        (1, 0, _) => format!("{minus}{inches} inch"),
        _ => format!("{minus}{inches} inches"),
    }
}

/// `3 and 7 eighths`.
fn inches(f: &Fraction) -> String {
    let part = match (f.numerator, f.denominator) {
        (0, _) => return f.whole.to_string(),
        (1, 2) => "a half".to_owned(),
        (1, 4) => "a quarter".to_owned(),
        (n, 4) => format!("{n} quarters"),
        (1, 8) => "an eighth".to_owned(),
        (n, 8) => format!("{n} eighths"),
        (1, 16) => "a sixteenth".to_owned(),
        (n, 16) => format!("{n} sixteenths"),
        (1, _) => "a thirty-second".to_owned(),
        (n, _) => format!("{n} thirty-seconds"),
    };
    if f.whole == 0 { part } else { format!("{} and {part}", f.whole) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FOOT, INCH, inches as mm};

    #[test]
    fn lengths_are_said_as_one_calls_them() {
        let said = |inch: f64| Notation::Inches.spoken(mm(inch));
        assert_eq!(said(0.0), "0 inches");
        assert_eq!(said(1.0), "1 inch");
        assert_eq!(said(0.5), "half an inch");
        assert_eq!(said(0.0625), "a sixteenth of an inch");
        assert_eq!(said(0.75), "3 quarters of an inch");
        assert_eq!(said(2.125), "2 and an eighth inches");
        assert_eq!(said(-3.0625), "minus 3 and a sixteenth inches");
        assert_eq!(said(14.5), "14 and a half inches");
        let plan = |inch: f64| Notation::FeetInchesEighths.spoken(mm(inch));
        assert_eq!(plan(11.9375), "11 and 15 sixteenths inches");
        assert_eq!(plan(12.0), "1 foot");
        assert_eq!(plan(24.25), "2 feet a quarter");
        assert_eq!(plan(-147.375), "minus 12 feet 3 and 3 eighths");
        assert_eq!(Notation::Mm.spoken(1.0), "1 millimetre");
        assert_eq!(Notation::Mm.spoken(-1.2), "minus 1 millimetre");
        assert_eq!(Notation::Mm.spoken(f64::NAN), "? millimetres");
    }

    #[test]
    fn what_rounds_to_a_foot_is_said_as_one() {
        assert_eq!(Notation::FeetInchesEighths.spoken(FOOT - 0.2), "1 foot");
        assert_eq!(Notation::FeetInchesEighths.spoken(FOOT - 0.7), "1 foot");
    }

    #[test]
    fn small_lengths_are_said_as_finely_as_they_are_shown() {
        let said = |inch: f64| Notation::Inches.spoken_fine(mm(inch));
        assert_eq!(said(1.0 / 64.0), "a thirty-second of an inch");
        assert_eq!(said(7.0 / 32.0), "7 thirty-seconds of an inch");
        assert_eq!(said(1.0 / 32.0), "a thirty-second of an inch");
        assert_eq!(said(-5.0 / 32.0), "minus 5 thirty-seconds of an inch");
        assert_eq!(said(0.1875), "3 sixteenths of an inch");
        assert_eq!(said(1.03125), "1 and a thirty-second inches");
        assert_eq!(said(0.001), "0 inches");
        assert_eq!(Notation::Mm.spoken_fine(-0.26), "minus 0.3 millimetres");
        assert_eq!(Notation::Inches.spoken_fine(f64::INFINITY), "? inches");
    }

    /// Half way between two sixteenths both go away from nought, though an f64 may lie a hair under.
    #[test]
    fn what_is_said_is_what_is_printed() {
        for n in (1..2000).step_by(2) {
            let [half, next] = [n, n + 1].map(|n| f64::from(n) * INCH / 32.0);
            for notation in [Notation::Inches, Notation::FeetInchesEighths] {
                assert_eq!(notation.short(half), notation.short(next));
                assert_eq!(notation.spoken(half), notation.spoken(next), "{n}/32 in");
            }
        }
    }
}
