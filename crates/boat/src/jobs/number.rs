//! A number as it is shown and said.

use crate::units::{Notation, degrees};

/// A number of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Number {
    /// A width or girth, mm; shown to 1 mm or 1/16 in.
    Width(f64),
    /// A distance on the floor or a height, mm; shown as in a table of offsets.
    Long(f64),
    /// Something small, or what the tape read, mm; shown to 0.1 mm or 1/32 in.
    Small(f64),
    /// Radians; shown in degrees to a tenth.
    Angle(f64),
    /// How many.
    Count(usize),
    /// No number, but which of two: `abaft it`.
    Word(&'static str),
}

impl Number {
    /// As shown, and its unit, which may be empty.
    #[must_use]
    pub fn shown(self, lengths: Notation) -> [String; 2] {
        let unit = |text: String| [text, lengths.unit().to_owned()];
        match self {
            Number::Width(mm) => unit(lengths.short(mm)),
            Number::Long(mm) if lengths == Notation::FeetInchesEighths => [lengths.long(mm), String::new()],
            Number::Long(mm) => unit(lengths.long(mm)),
            Number::Small(mm) => unit(lengths.fine(mm)),
            Number::Angle(angle) => [degrees(angle), "\u{b0}".to_owned()],
            Number::Count(n) => [n.to_string(), String::new()],
            Number::Word(word) => [word.to_owned(), String::new()],
        }
    }

    /// As called across the shed.
    #[must_use]
    pub fn spoken(self, lengths: Notation) -> String {
        match self {
            Number::Width(mm) | Number::Long(mm) => lengths.spoken(mm),
            Number::Small(mm) => lengths.spoken_fine(mm),
            Number::Angle(angle) => format!("{} degrees", degrees(angle).replace('\u{2212}', "minus ")),
            Number::Count(n) => n.to_string(),
            Number::Word(word) => word.to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_shown_and_said() {
        let (mm, plan) = (Notation::Mm, Notation::FeetInchesEighths);
        assert_eq!(Number::Width(98.4).shown(mm), ["98", "mm"]);
        assert_eq!(Number::Width(98.425).shown(plan), ["3 7/8", "in"]);
        assert_eq!(Number::Long(395.2875).shown(plan), ["1-3-4+", ""]);
        assert_eq!(Number::Angle(-0.1).shown(mm), ["\u{2212}5.7", "\u{b0}"]);
        assert_eq!(Number::Angle(-0.1).spoken(mm), "minus 5.7 degrees");
        assert_eq!(Number::Angle(-0.001).shown(mm)[0], "\u{2212}0.1");
        assert_eq!(Number::Angle(-0.0003).shown(mm)[0], "0.0");
        assert_eq!(Number::Small(2.79).shown(plan), ["1/8", "in"]);
        assert_eq!(Number::Small(1.26).spoken(mm), "1.3 millimetres");
        assert_eq!(Number::Small(-0.3).spoken(mm), "minus 0.3 millimetres");
        assert_eq!(Number::Small(2.4).spoken(plan), "3 thirty-seconds of an inch");
        assert_eq!(Number::Count(14).spoken(plan), "14");
    }
}
