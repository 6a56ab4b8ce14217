//! Lengths as they are said aloud.

use super::{Fraction, INCH, Notation};

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
        if self == Notation::Mm {
            let text = self.short(mm);
            let text = text.strip_prefix('-').map_or_else(|| text.clone(), |rest| format!("minus {rest}"));
            let unit = if text == "1" { "millimetre" } else { "millimetres" };
            return format!("{text} {unit}");
        }
        let sixteenths = (mm.abs() / INCH * 16.0).round();
        let feet = if self == Notation::FeetInchesEighths { (sixteenths / 192.0).floor() } else { 0.0 };
        let Some(rest) = Fraction::of_inches((sixteenths - 192.0 * feet) / 16.0 * INCH, 16) else {
            return self.short(mm);
        };
        let minus = if mm < 0.0 && (feet > 0.0 || rest.whole > 0 || rest.numerator > 0) { "minus " } else { "" };
        let inches = inches(&rest);
        if feet == 0.0 {
            let alone = rest.whole == 0 && rest.numerator > 0;
            let unit = match (rest.whole, rest.numerator) {
                _ if alone => "of an inch",
                (1, 0) => "inch",
                _ => "inches",
            };
            return if alone && rest.denominator == 2 {
                format!("{minus}half an inch")
            } else {
                format!("{minus}{inches} {unit}")
            };
        }
        let foot = if feet == 1.0 { "1 foot".to_owned() } else { format!("{feet} feet") };
        if inches == "0" { format!("{minus}{foot}") } else { format!("{minus}{foot} {inches}") }
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
        (1, _) => "a sixteenth".to_owned(),
        (n, _) => format!("{n} sixteenths"),
    };
    if f.whole == 0 { part } else { format!("{} and {part}", f.whole) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FOOT, inches as mm};

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
        assert_eq!(Notation::Mm.spoken(f64::NAN), "? millimetres");
    }

    #[test]
    fn what_rounds_to_a_foot_is_said_as_one() {
        assert_eq!(Notation::FeetInchesEighths.spoken(FOOT - 0.2), "1 foot");
        assert_eq!(Notation::FeetInchesEighths.spoken(FOOT - 0.7), "1 foot");
    }
}
