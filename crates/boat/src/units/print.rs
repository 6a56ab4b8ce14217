//! Printing lengths.

use super::{FOOT, INCH, Notation, POUND};
use std::cmp::Ordering;

/// A length in inches as a fraction in lowest terms: `-3 7/8` is negative, 3, 7, 8. A whole number has 0 over 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fraction {
    /// Below zero; never set where the rest is zero.
    pub negative: bool,
    /// Whole inches.
    pub whole: u64,
    /// Less than `denominator`.
    pub numerator: u32,
    /// A power of two.
    pub denominator: u32,
}

impl Fraction {
    /// `mm` in inches to the nearest `1 / per_inch` (a power of two; anything else is taken as the next above), half
    /// away from zero. `None` where `mm` is not finite or has no business being a length.
    #[must_use]
    pub fn of_inches(mm: f64, per_inch: u32) -> Option<Self> {
        let per_inch = per_inch.clamp(1, 1 << 20).next_power_of_two();
        let (negative, parts) = rounded(mm / INCH * f64::from(per_inch))?;
        let (whole, rest) = (parts / u64::from(per_inch), parts % u64::from(per_inch));
        let (mut numerator, mut denominator) = (u32::try_from(rest).ok()?, per_inch);
        while denominator > 1 && numerator.is_multiple_of(2) {
            numerator /= 2;
            denominator /= 2;
        }
        Some(Fraction { negative, whole, numerator, denominator })
    }
}

impl std::fmt::Display for Fraction {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.negative { "-" } else { "" };
        match (self.whole, self.numerator) {
            (whole, 0) => write!(f, "{sign}{whole}"),
            (0, n) => write!(f, "{sign}{n}/{}", self.denominator),
            (whole, n) => write!(f, "{sign}{whole} {n}/{}", self.denominator),
        }
    }
}

/// A length as plans print it: feet, inches, eighths and perhaps half an eighth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EighthsParts {
    /// Below zero; never set where the rest is zero.
    pub negative: bool,
    /// Feet.
    pub feet: u64,
    /// 0 to 11.
    pub inches: u64,
    /// 0 to 7.
    pub eighths: u64,
    /// Half an eighth more.
    pub half: bool,
}

impl EighthsParts {
    /// `mm` to the nearest sixteenth of an inch, half away from zero. `None` where `mm` is not finite or has no
    /// business being a length.
    #[must_use]
    pub fn of(mm: f64) -> Option<Self> {
        let (negative, n) = rounded(mm / INCH * 16.0)?;
        Some(EighthsParts { negative, feet: n / 192, inches: n % 192 / 16, eighths: n % 16 / 2, half: n % 2 == 1 })
    }
}

impl std::fmt::Display for EighthsParts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.negative { "-" } else { "" };
        let half = if self.half { "+" } else { "" };
        write!(f, "{sign}{}-{}-{}{half}", self.feet, self.inches, self.eighths)
    }
}

/// A length so little short of a foot is a foot that was reckoned, mm.
const HAIR: f64 = 0.01;
/// What is printed for a length that is not a finite number.
const NO_LENGTH: &str = "?";

impl Notation {
    /// A height or half-breadth, as it stands in a table of offsets: `394`, `1-3-4+` or `15 1/2`; to 1 mm or 1/16 in.
    ///
    /// ```
    /// use boat::units::Notation;
    /// assert_eq!(Notation::FeetInchesEighths.long(395.2875), "1-3-4+");
    /// assert_eq!(Notation::Inches.long(395.2875), "15 9/16");
    /// assert_eq!(Notation::Mm.long(395.2875), "395");
    /// ```
    #[must_use]
    pub fn long(self, mm: f64) -> String {
        match self {
            Notation::FeetInchesEighths => EighthsParts::of(mm).map_or_else(no_length, |p| p.to_string()),
            Notation::Mm | Notation::Inches => self.short(mm),
        }
    }

    /// What [`Notation::long`] rounds to, mm: 1 mm or 1/16 in.
    #[must_use]
    pub fn unit_of_table(self) -> f64 {
        if self == Notation::Mm { 1.0 } else { INCH / 16.0 }
    }

    /// The size of a board to be had for one of `mm`, mm: up to the next that [`Notation::short`] and [`Notation::long`] print.
    ///
    /// ```
    /// use boat::units::Notation;
    /// assert_eq!(Notation::Mm.short(Notation::Mm.to_have(102.3)), "103");
    /// assert_eq!(Notation::Inches.short(Notation::Inches.to_have(102.3)), "4 1/16");
    /// assert_eq!(Notation::Inches.short(Notation::Inches.to_have(101.6)), "4");
    /// ```
    #[must_use]
    pub fn to_have(self, mm: f64) -> f64 {
        let unit = self.unit_of_table();
        ((mm - HAIR) / unit).ceil() * unit
    }

    /// A width, girth or thickness: `394`, or in both inch notations `15 1/2`; to 1 mm or 1/16 in.
    #[must_use]
    pub fn short(self, mm: f64) -> String {
        match self.fraction(mm) {
            Some(fraction) => fraction.to_string(),
            None if self == Notation::Mm => decimal(mm, 1.0, 0),
            None => no_length(),
        }
    }

    /// What [`Notation::short`] prints, in parts, for whoever stacks its fraction; `None` in millimetres.
    #[must_use]
    pub fn fraction(self, mm: f64) -> Option<Fraction> {
        match self {
            Notation::Mm => None,
            Notation::FeetInchesEighths | Notation::Inches => Fraction::of_inches(mm, 16),
        }
    }

    /// A small length such as a correction: to 0.1 mm, or 1/64 in.
    #[must_use]
    pub fn exact(self, mm: f64) -> String {
        match self {
            Notation::Mm => decimal(mm, 10.0, 1),
            Notation::FeetInchesEighths | Notation::Inches => {
                Fraction::of_inches(mm, 64).map_or_else(no_length, |f| f.to_string())
            }
        }
    }

    /// A small depth, as fine as a plane feels it: to 0.1 mm, or 1/32 in.
    ///
    /// ```
    /// use boat::units::Notation;
    /// assert_eq!(Notation::Inches.fine(2.6), "3/32");
    /// assert_eq!(Notation::Mm.fine(2.64), "2.6");
    /// ```
    #[must_use]
    pub fn fine(self, mm: f64) -> String {
        match self {
            Notation::Mm => self.exact(mm),
            Notation::FeetInchesEighths | Notation::Inches => {
                Fraction::of_inches(mm, 32).map_or_else(no_length, |f| f.to_string())
            }
        }
    }

    /// The unit of [`Notation::short`], [`Notation::exact`] and [`Notation::fine`].
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Notation::Mm => "mm",
            Notation::FeetInchesEighths | Notation::Inches => "in",
        }
    }

    /// A length for a sentence, with its unit: `394 mm`, `3 7/8 in`, or from a foot up `1-3-4+`.
    #[must_use]
    pub fn said(self, mm: f64) -> String {
        match self {
            Notation::FeetInchesEighths if mm.abs() >= FOOT - HAIR => self.long(mm),
            Notation::Mm if mm.fract() != 0.0 => format!("{} mm", self.exact(mm)),
            _ => format!("{} {}", self.short(mm), self.unit()),
        }
    }
}

impl Notation {
    /// Two lengths to be compared, each with its unit. They are as fine as a plane feels, and finer where they would
    /// read alike; those that no rule tells apart are said to be just over or just under.
    ///
    /// ```
    /// use boat::units::Notation;
    /// assert_eq!(Notation::Inches.said_apart(3.7, 3.81), ["9/64 in", "5/32 in"]);
    /// assert_eq!(Notation::Mm.said_apart(3.58, 3.6), ["3.58 mm", "3.60 mm"]);
    /// ```
    #[must_use]
    pub fn said_apart(self, a: f64, b: f64) -> [String; 2] {
        let usual = if self.whole(a) && self.whole(b) { 0 } else { self.usual(a).min(self.usual(b)) };
        let mut said = [a, b].map(|mm| self.said_at(mm, usual));
        for finer in usual..FINENESS {
            said = [a, b].map(|mm| self.said_at(mm, finer));
            if said[0] != said[1] {
                return said;
            }
        }
        match a.partial_cmp(&b) {
            Some(Ordering::Less) => said[0].insert_str(0, "just under "),
            Some(Ordering::Greater) => said[0].insert_str(0, "just over "),
            _ => {}
        }
        said
    }

    /// One length for a sentence as fine as [`Notation::said_apart`] begins.
    #[must_use]
    pub fn said_fine(self, mm: f64) -> String {
        self.said_at(mm, if self.whole(mm) { 0 } else { self.usual(mm) })
    }

    /// Whole millimetres need no decimals.
    fn whole(self, mm: f64) -> bool {
        self == Notation::Mm && mm.fract() == 0.0
    }

    /// How fine a length is usually wanted: widths of planks and boats to 1 mm or 1/16 in, depths to 0.1 mm or 1/32 in.
    fn usual(self, mm: f64) -> usize {
        usize::from(mm.abs() < 4.0 * INCH)
    }

    fn said_at(self, mm: f64, fineness: usize) -> String {
        if self == Notation::Mm {
            return format!("{} mm", decimal(mm, [1.0, 10.0, 100.0][fineness.min(2)], fineness));
        }
        if fineness == 0 {
            return self.said(mm);
        }
        Fraction::of_inches(mm, 16 << fineness).map_or_else(no_length, |f| format!("{f} in"))
    }

    /// A mass: pounds with kilograms in brackets beside inches, kilograms beside millimetres.
    #[must_use]
    pub fn mass(self, kg: f64, places: usize) -> String {
        match self {
            Notation::Mm => format!("{kg:.places$} kg"),
            Notation::FeetInchesEighths | Notation::Inches => {
                format!("{:.places$} lb ({kg:.places$} kg)", kg / POUND)
            }
        }
    }
}

/// An angle in degrees, to a tenth, with a true minus sign and no unit.
#[must_use]
pub fn degrees(radians: f64) -> String {
    let tenths = (radians.to_degrees() * 10.0).round() / 10.0;
    let sign = if tenths < 0.0 { "\u{2212}" } else { "" };
    format!("{sign}{:.1}", tenths.abs())
}

/// Steps of fineness: 1, 0.1 and 0.01 mm; 1/16, 1/32 and 1/64 in.
const FINENESS: usize = 3;

fn no_length() -> String {
    NO_LENGTH.to_owned()
}

/// `v` rounded half away from zero, as a sign and a count; −0 has no sign. A billionth of a part is given to the half,
/// so that a half that an f64 cannot hold exactly still rounds away.
fn rounded(v: f64) -> Option<(bool, u64)> {
    const MOST: f64 = 1e15;
    if !v.is_finite() || v.abs() > MOST {
        return None;
    }
    let count = (v.abs() + 0.5 + 1e-9).floor() as u64;
    Some((v < 0.0 && count > 0, count))
}

/// `mm` to `1 / per_mm`, with that many decimals.
fn decimal(mm: f64, per_mm: f64, places: usize) -> String {
    rounded(mm * per_mm).map_or_else(no_length, |(negative, count)| {
        format!("{}{:.places$}", if negative { "-" } else { "" }, count as f64 / per_mm)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_carries_into_inches_and_feet() {
        let plan = Notation::FeetInchesEighths;
        assert_eq!(plan.long(FOOT - 0.7), "1-0-0");
        assert_eq!(plan.long(FOOT - 0.8), "0-11-7+");
        assert_eq!(plan.long(INCH - 0.1), "0-1-0");
        assert_eq!(Notation::Inches.short(12.0 * INCH - 0.1), "12");
        assert_eq!(Notation::Mm.long(999.5), "1000");
        assert_eq!(Notation::Mm.exact(9.96), "10.0");
    }

    #[test]
    fn halves_go_away_from_zero_and_zero_has_no_sign() {
        for (mm, sixteenths) in [(INCH / 32.0, "1/16"), (-INCH / 32.0, "-1/16"), (-INCH / 33.0, "0")] {
            assert_eq!(Notation::Inches.short(mm), sixteenths);
        }
        assert_eq!(Notation::FeetInchesEighths.long(-0.2), "0-0-0");
        assert_eq!(Notation::Mm.long(-0.4), "0");
        assert_eq!(Notation::Mm.long(-0.5), "-1");
        assert_eq!(Notation::Mm.exact(-0.04), "0.0");
        assert_eq!(Notation::Inches.exact(-0.1), "0");
    }

    #[test]
    fn lengths_to_be_compared_never_read_alike() {
        let (plan, mm) = (Notation::FeetInchesEighths, Notation::Mm);
        // Apart at the usual fineness: no finer than that.
        assert_eq!(plan.said_apart(2.4, 3.81), ["3/32 in", "5/32 in"]);
        assert_eq!(mm.said_apart(2.9, 3.6), ["2.9 mm", "3.6 mm"]);
        assert_eq!(mm.said_apart(131.2, 127.0), ["131 mm", "127 mm"]);
        assert_eq!(mm.said_apart(7.0, 9.0), ["7 mm", "9 mm"]);
        assert_eq!(mm.said_apart(8.8, 9.0), ["8.8 mm", "9.0 mm"]);
        assert_eq!(plan.said_apart(400.0, 500.0), ["1-3-6", "1-7-5+"]);
        // Alike there, so finer.
        assert_eq!(mm.said_apart(127.3, 127.0), ["127.3 mm", "127.0 mm"]);
        assert_eq!(mm.said_apart(127.01, 127.0), ["127.01 mm", "127.00 mm"]);
        assert_eq!(plan.said_apart(127.7, 127.0), ["5 1/32 in", "5 in"]);
        assert_eq!(plan.said_apart(127.3, 127.0), ["5 1/64 in", "5 in"]);
        assert_eq!(plan.said_apart(508.3, 508.0), ["20 1/64 in", "20 in"]);
        // Alike at the finest.
        assert_eq!(plan.said_apart(126.99, 127.0), ["just under 5 in", "5 in"]);
        assert_eq!(mm.said_apart(3.601, 3.6), ["just over 3.60 mm", "3.60 mm"]);
        assert_eq!(mm.said_apart(3.6, 3.6), ["3.60 mm", "3.60 mm"]);
        assert_eq!(plan.said_apart(f64::NAN, 1.0)[0], "? in");
    }

    #[test]
    fn masses_are_pounds_beside_inches() {
        assert_eq!(Notation::Mm.mass(1.24, 1), "1.2 kg");
        assert_eq!(Notation::Inches.mass(POUND, 2), "1.00 lb (0.45 kg)");
        assert_eq!(Notation::FeetInchesEighths.mass(47.1, 0), "104 lb (47 kg)");
    }

    #[test]
    fn what_is_no_length_says_so() {
        for notation in [Notation::Mm, Notation::Inches, Notation::FeetInchesEighths] {
            for mm in [f64::NAN, f64::INFINITY, -1e300] {
                assert_eq!([notation.long(mm), notation.short(mm), notation.exact(mm)], ["?", "?", "?"]);
            }
        }
    }
}
