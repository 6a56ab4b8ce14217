//! What a bare number of a file means, and how a cell is written so that a table of offsets reads it.

use crate::units::{Form, LengthError, Notation, inches, read_length_as};

/// What a bare number means in a file that is read in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    Inches,
    /// Feet and their decimals.
    Feet,
    /// Feet-inches-eighths: a bare number is none, but `2 3 4` and `2.3.4` are 2-3-4.
    FeetInchesEighths,
}

impl Bare {
    /// All, with the word that the command line uses.
    pub const WORDS: [(&'static str, Bare); 6] = [
        ("mm", Bare::Mm),
        ("cm", Bare::Cm),
        ("m", Bare::M),
        ("in", Bare::Inches),
        ("ft", Bare::Feet),
        ("ft-in-8ths", Bare::FeetInchesEighths),
    ];

    /// The word that the command line uses.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|w| w.1 == self).map_or("mm", |w| w.0)
    }

    /// One of it in mm; `None` for feet-inches-eighths, of which a bare number is none.
    #[must_use]
    pub fn mm(self) -> Option<f64> {
        match self {
            Bare::Mm => Some(1.0),
            Bare::Cm => Some(10.0),
            Bare::M => Some(1000.0),
            Bare::Inches => Some(inches(1.0)),
            Bare::Feet => Some(inches(12.0)),
            Bare::FeetInchesEighths => None,
        }
    }

    /// Reads a length of which a bare number is in it, mm.
    ///
    /// # Errors
    /// As [`crate::units::read_length`].
    pub fn read(self, text: &str) -> Result<f64, LengthError> {
        length(text.trim(), Some(self)).map(|l| l.mm)
    }

    /// The notation in which a boat of such a file is kept.
    #[must_use]
    pub fn notation(self) -> Notation {
        match self {
            Bare::Mm | Bare::Cm | Bare::M => Notation::Mm,
            Bare::Inches | Bare::Feet => Notation::Inches,
            Bare::FeetInchesEighths => Notation::FeetInchesEighths,
        }
    }
}

/// A length of a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    /// As a table of offsets in the file's notation reads it.
    pub text: String,
    /// mm.
    pub mm: f64,
    /// How it was written.
    pub form: Form,
}

/// A number with a decimal comma, `39,4` or `39,4 mm`, with a point; anything else as it is.
pub fn with_point(text: &str) -> String {
    let one = text.matches(',').count() == 1;
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    match text.split_once(',') {
        Some((a, b)) if one && digit(a.chars().next_back()) && digit(b.chars().next()) => format!("{a}.{b}"),
        _ => text.to_owned(),
    }
}

/// `2 3 4`, `2.3.4` and `2:3:4`, with + or - after them or not, as 2-3-4.
fn fields(text: &str) -> Option<String> {
    let (body, half) = match text.char_indices().next_back()? {
        (at, c @ ('+' | '-')) => (text.get(..at)?, Some(c)),
        _ => (text, None),
    };
    let parts: Vec<&str> = body.trim().split([' ', '.', ':']).filter(|p| !p.is_empty()).collect();
    let whole = |p: &&str| p.len() <= 2 && p.bytes().all(|b| b.is_ascii_digit());
    (parts.len() == 3 && parts.iter().all(whole)).then(|| {
        let mut joined = parts.join("-");
        joined.extend(half);
        joined
    })
}

/// Reads a cell; a bare number is in `bare`.
///
/// # Errors
/// As [`crate::units::read_length`].
pub fn length(text: &str, bare: Option<Bare>) -> Result<Length, LengthError> {
    let fie = (bare == Some(Bare::FeetInchesEighths)).then(|| fields(text)).flatten();
    let text = fie.unwrap_or_else(|| text.to_owned());
    let read = read_length_as(&text, bare.map(Bare::notation))?;
    if read.form != Form::Bare {
        return Ok(Length { text, mm: read.mm, form: read.form });
    }
    let unit = |unit: &str| {
        let text = format!("{text} {unit}");
        read_length_as(&text, None).map(|r| Length { text, mm: r.mm, form: r.form })
    };
    match bare {
        Some(Bare::Cm | Bare::M) => {
            let mm = unit(bare.map_or("", Bare::word))?.mm;
            Ok(Length { text: decimal(mm), mm, form: Form::Bare })
        }
        Some(Bare::Feet) if read.mm != 0.0 => unit("ft"),
        _ => Ok(Length { text, mm: read.mm, form: Form::Bare }),
    }
}

/// mm to a thousandth, without zeros at the end.
pub fn decimal(mm: f64) -> String {
    let text = format!("{mm:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_written_as_the_table_reads_them() {
        for (cell, bare, text, mm) in [
            ("39.4", Bare::Cm, "394", 394.0),
            ("0.3945", Bare::M, "394.5", 394.5),
            ("394", Bare::Mm, "394", 394.0),
            ("1.25", Bare::Feet, "1.25 ft", 381.0),
            ("15.5", Bare::Inches, "15.5", 393.7),
            ("1 3 4+", Bare::FeetInchesEighths, "1-3-4+", 395.2875),
            ("1.3.4", Bare::FeetInchesEighths, "1-3-4", 393.7),
            ("1-3-4", Bare::Mm, "1-3-4", 393.7),
            ("0", Bare::FeetInchesEighths, "0", 0.0),
        ] {
            let read = length(cell, Some(bare)).unwrap();
            assert_eq!(read.text, text, "{cell}");
            assert!((read.mm - mm).abs() < 1e-9, "{cell}: {}", read.mm);
        }
        assert!(length("12", Some(Bare::FeetInchesEighths)).is_err());
        assert!(length("1-13-4", Some(Bare::FeetInchesEighths)).is_err());
        assert_eq!(with_point("39,4 mm"), "39.4 mm");
        assert_eq!(with_point("1,394,5"), "1,394,5");
    }
}
