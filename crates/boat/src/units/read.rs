//! Reading lengths as people write them.

use super::{LONGEST, Notation, inches as mm_of_inches};
use crate::words::quoted;

/// How a length was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A number alone: `394`.
    Bare,
    /// Millimetres, centimetres or metres: `394 mm`.
    Metric,
    /// Feet-inches-eighths: `1-3-4+`.
    Plan,
    /// Inches: `3 7/8`, `12.5 in`.
    Inches,
    /// Feet, or feet and inches: `1' 3 1/2"`, `1.25 ft`.
    Feet,
}

/// A length and how it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// mm; finite, at most [`LONGEST`] either way, never −0.
    pub mm: f64,
    /// How it was written.
    pub form: Form,
}

/// Why a text is no length. Every message gives the text and says what to write.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LengthError {
    /// Nothing there.
    #[error("a length is missing; write for example 394 mm, 3 7/8 in or 1-3-4")]
    Empty,
    /// Not a length in any notation.
    #[error("{} is not a length; write for example 394 mm, 3 7/8 in, 1' 3 1/2\" or 1-3-4+", quoted(text))]
    NotUnderstood {
        /// As typed.
        text: String,
    },
    /// A number alone where feet-inches-eighths are declared.
    #[error(
        "{} could be inches or feet: write {number} in, {number} ft or {number} mm, or feet-inches-eighths such as 1-3-4",
        quoted(text)
    )]
    InchesOrFeet {
        /// As typed.
        text: String,
        /// The number without its sign.
        number: String,
    },
    /// A number alone where no notation is declared.
    #[error("{} has no unit: write for example {number} mm or {number} in", quoted(text))]
    NoUnit {
        /// As typed.
        text: String,
        /// The number without its sign.
        number: String,
    },
    /// A comma in the number.
    #[error("{} has a comma: write a decimal point, and no mark between thousands", quoted(text))]
    Comma {
        /// As typed.
        text: String,
    },
    /// Fields of four digits, or a month: a spreadsheet took feet-inches-eighths for a date.
    #[error(
        "{} looks like a date: a spreadsheet has changed it; format its cells as text, then type the length again",
        quoted(text)
    )]
    Date {
        /// As typed.
        text: String,
    },
    /// Twelve inches or more in the inches field.
    #[error("{} has {inches} inches; 0 to 11 can stand there: carry twelve inches to the feet", quoted(text))]
    Inches {
        /// As typed.
        text: String,
        /// What stands in the field.
        inches: String,
    },
    /// Eight eighths or more.
    #[error(
        "{} has {eighths} eighths; 0 to 7 can stand there, and a + after them for half an eighth more",
        quoted(text)
    )]
    Eighths {
        /// As typed.
        text: String,
        /// What stands in the field.
        eighths: String,
    },
    /// A denominator no rule is divided by.
    #[error("{} has the denominator {denominator}; use 2, 4, 8, 16, 32 or 64, or a decimal fraction", quoted(text))]
    Denominator {
        /// As typed.
        text: String,
        /// What stands there.
        denominator: String,
    },
    /// A fraction of one or more.
    #[error(
        "{} has the fraction {numerator}/{denominator}, which is not less than 1: carry it to the whole",
        quoted(text)
    )]
    Numerator {
        /// As typed.
        text: String,
        /// What stands above.
        numerator: String,
        /// What stands below.
        denominator: String,
    },
    /// A common fraction of a metric unit.
    #[error("{} is a common fraction of a metric unit: write a decimal, such as 9.5 mm", quoted(text))]
    MetricFraction {
        /// As typed.
        text: String,
    },
    /// Longer than any boat.
    #[error("{} is longer than {} m, the limit for any length: check the digits and the unit", quoted(text), LONGEST / 1000.0)]
    TooLong {
        /// As typed.
        text: String,
    },
}

/// Reads a length in any notation, mm. A number alone is in the notation `bare`; without one it needs a unit.
///
/// Read are, each with a leading minus or without: `1-3-4`, `1-3-4+` and `1-3-4-` (half an eighth more or less), `1-3`
/// (no eighths), `3 7/8`, `7/8`, `3-7/8`, `3 7/8"`, `1' 3 1/2"`, and decimals or fractions with `mm`, `cm`, `m`, `in`,
/// `ft`. Half fractions such as ½ and typographic dashes and quotes are taken for what they show.
///
/// # Errors
/// [`LengthError`]: inches past 11 or eighths past 7 in their fields, denominators other than 2 to 64 by doubling,
/// fractions of 1 or more, commas, lengths past [`LONGEST`], and whatever else is no length.
///
/// ```
/// use boat::units::{Notation, read_length};
/// assert_eq!(read_length("1-3-4+", None), Ok(395.2875));
/// assert_eq!(read_length("3 7/8", Some(Notation::FeetInchesEighths)), Ok(98.425));
/// assert_eq!(read_length("394", Some(Notation::Mm)), Ok(394.0));
/// assert!(read_length("12", Some(Notation::FeetInchesEighths)).is_err()); // inches or feet?
/// ```
pub fn read_length(text: &str, bare: Option<Notation>) -> Result<f64, LengthError> {
    read_length_as(text, bare).map(|r| r.mm)
}

/// As [`read_length`], telling also how the length was written.
///
/// # Errors
/// As [`read_length`].
pub fn read_length_as(text: &str, bare: Option<Notation>) -> Result<Reading, LengthError> {
    let typed = text.trim();
    if typed.is_empty() {
        return Err(LengthError::Empty);
    }
    if typed.len() > MOST_BYTES {
        return Err(LengthError::NotUnderstood { text: typed.to_owned() });
    }
    let plain = plain(typed);
    let (negative, body) = match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.as_str()),
    };
    let tokens = tokens(body).ok_or_else(|| not_understood(typed))?;
    let mut reading = Reader { typed, bare }.read(&tokens)?;
    if reading.mm > LONGEST {
        return Err(LengthError::TooLong { text: typed.to_owned() });
    }
    if negative && reading.mm != 0.0 {
        reading.mm = -reading.mm;
    }
    Ok(reading)
}

/// No length takes more than this to write.
const MOST_BYTES: usize = 60;

fn not_understood(typed: &str) -> LengthError {
    // Why it is not understood, where that can be told. The same for both kinds of dates spreadsheets make.
    let text = typed.to_owned();
    let letters = || typed.split(|c: char| !c.is_ascii_alphabetic()).map(str::to_ascii_lowercase);
    const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    if letters().any(|w| w.len() >= 3 && MONTHS.iter().any(|m| w.starts_with(m)))
        || typed.matches('/').count() == 2 && typed.chars().all(|c| c.is_ascii_digit() || c == '/')
    {
        return LengthError::Date { text };
    }
    let comma_in_digits = typed.contains(',') && typed.contains(|c: char| c.is_ascii_digit());
    if comma_in_digits { LengthError::Comma { text } } else { LengthError::NotUnderstood { text } }
}

/// Typographic marks as the plain ones they stand for; an added space keeps `3½` from becoming 31/2.
fn plain(typed: &str) -> String {
    let mut plain = String::with_capacity(typed.len() + 8);
    for c in typed.chars() {
        let fraction = match c {
            '½' => "1/2",
            '¼' => "1/4",
            '¾' => "3/4",
            '⅛' => "1/8",
            '⅜' => "3/8",
            '⅝' => "5/8",
            '⅞' => "7/8",
            _ => "",
        };
        match c {
            _ if !fraction.is_empty() => {
                plain.push(' ');
                plain.push_str(fraction);
            }
            '\u{2212}' | '\u{2010}'..='\u{2015}' => plain.push('-'),
            '\u{2032}' | '\u{2018}' | '\u{2019}' => plain.push('\''),
            '\u{2033}' | '\u{201c}' | '\u{201d}' => plain.push('"'),
            '\u{2044}' => plain.push('/'),
            c if c.is_whitespace() => plain.push(' '),
            c => plain.push(c),
        }
    }
    plain.trim().replace("''", "\"")
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Unit {
    Metric(f64),
    Inch,
    Foot,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Token<'a> {
    /// Digits alone.
    Whole(&'a str),
    /// Digits about one point.
    Decimal(&'a str),
    Slash,
    Hyphen,
    Plus,
    Unit(Unit),
}

/// `None` where something is neither number, mark nor unit.
fn tokens(body: &str) -> Option<Vec<Token<'_>>> {
    let mut tokens = Vec::new();
    let mut rest = body;
    while let Some(first) = rest.chars().next() {
        let run = |belongs: fn(char) -> bool| rest.find(|c| !belongs(c)).unwrap_or(rest.len());
        let (token, taken) = match first {
            ' ' => (None, 1),
            '/' => (Some(Token::Slash), 1),
            '-' => (Some(Token::Hyphen), 1),
            '+' => (Some(Token::Plus), 1),
            '\'' => (Some(Token::Unit(Unit::Foot)), 1),
            '"' => (Some(Token::Unit(Unit::Inch)), 1),
            '0'..='9' | '.' => {
                let taken = run(|c| c.is_ascii_digit() || c == '.');
                let digits = rest.get(..taken)?;
                let token = match digits.matches('.').count() {
                    0 => Token::Whole(digits),
                    1 if digits.len() > 1 => Token::Decimal(digits),
                    _ => return None,
                };
                (Some(token), taken)
            }
            c if c.is_ascii_alphabetic() => {
                let taken = run(|c| c.is_ascii_alphabetic());
                (Some(Token::Unit(unit(rest.get(..taken)?)?)), taken)
            }
            _ => return None,
        };
        tokens.extend(token);
        rest = rest.get(taken..)?;
        // The point of an abbreviation: `3 in.`
        if let (Some(Token::Unit(_)), Some(after)) = (token, rest.strip_prefix('.')) {
            rest = after;
        }
    }
    Some(tokens)
}

fn unit(word: &str) -> Option<Unit> {
    match word.to_ascii_lowercase().as_str() {
        "mm" => Some(Unit::Metric(1.0)),
        "cm" => Some(Unit::Metric(10.0)),
        "m" => Some(Unit::Metric(1000.0)),
        "in" | "inch" | "inches" | "ins" => Some(Unit::Inch),
        "ft" | "foot" | "feet" => Some(Unit::Foot),
        _ => None,
    }
}

struct Reader<'a> {
    typed: &'a str,
    bare: Option<Notation>,
}

impl Reader<'_> {
    fn read(&self, tokens: &[Token<'_>]) -> Result<Reading, LengthError> {
        use Token::{Decimal, Hyphen, Plus, Unit as U, Whole};
        let reading = |mm: f64, form: Form| Ok(Reading { mm, form });
        match tokens {
            [number @ (Whole(_) | Decimal(_))] => self.bare_number(*number),
            [Whole(feet), Hyphen, Whole(inches)] => reading(self.plan(feet, inches, "0", 0.0)?, Form::Plan),
            [Whole(feet), Hyphen, Whole(inches), Hyphen, Whole(eighths)] => {
                reading(self.plan(feet, inches, eighths, 0.0)?, Form::Plan)
            }
            [Whole(feet), Hyphen, Whole(inches), Hyphen, Whole(eighths), half @ (Plus | Hyphen)] => {
                let half = if *half == Plus { 0.5 } else { -0.5 };
                reading(self.plan(feet, inches, eighths, half)?, Form::Plan)
            }
            [amount @ .., U(Unit::Metric(mm))] => match self.amount(amount)? {
                (_, true) => Err(LengthError::MetricFraction { text: self.typed.to_owned() }),
                (count, false) => reading(count * mm, Form::Metric),
            },
            [feet @ .., U(Unit::Foot)] => reading(mm_of_inches(12.0 * self.amount(feet)?.0), Form::Feet),
            _ => {
                let foot = tokens.iter().position(|t| *t == U(Unit::Foot));
                let (feet, inches) = match foot.and_then(|at| tokens.split_at_checked(at)) {
                    Some(([Whole(feet)], [_, Hyphen, inches @ ..] | [_, inches @ ..])) => (Some(*feet), inches),
                    Some(_) => return Err(self.not_understood()),
                    None => (None, tokens),
                };
                let amount = inches.strip_suffix(&[U(Unit::Inch)]).unwrap_or(inches);
                let count = self.amount(amount)?.0;
                match feet {
                    None => reading(mm_of_inches(count), Form::Inches),
                    Some(_) if count >= 12.0 => {
                        Err(LengthError::Inches { text: self.typed.to_owned(), inches: format!("{count}") })
                    }
                    Some(feet) => reading(mm_of_inches(12.0 * self.number(feet)? + count), Form::Feet),
                }
            }
        }
    }

    /// A decimal, or a whole and a fraction; `true` with a fraction.
    fn amount(&self, tokens: &[Token<'_>]) -> Result<(f64, bool), LengthError> {
        use Token::{Decimal, Hyphen, Slash, Whole};
        match tokens {
            [Whole(n) | Decimal(n)] => Ok((self.number(n)?, false)),
            [Whole(above), Slash, Whole(below)] => Ok((self.fraction(above, below)?, true)),
            [Whole(n), Whole(above), Slash, Whole(below)] | [Whole(n), Hyphen, Whole(above), Slash, Whole(below)] => {
                Ok((self.number(n)? + self.fraction(above, below)?, true))
            }
            _ => Err(self.not_understood()),
        }
    }

    fn bare_number(&self, token: Token<'_>) -> Result<Reading, LengthError> {
        let (Token::Whole(digits) | Token::Decimal(digits)) = token else { return Err(self.not_understood()) };
        let value = self.number(digits)?;
        let (text, number) = (self.typed.to_owned(), digits.to_owned());
        let mm = match self.bare {
            Some(Notation::Mm) => value,
            Some(Notation::Inches) => mm_of_inches(value),
            Some(Notation::FeetInchesEighths) | None if value == 0.0 => 0.0,
            Some(Notation::FeetInchesEighths) => return Err(LengthError::InchesOrFeet { text, number }),
            None => return Err(LengthError::NoUnit { text, number }),
        };
        Ok(Reading { mm, form: Form::Bare })
    }

    fn plan(&self, feet: &str, inches: &str, eighths: &str, half: f64) -> Result<f64, LengthError> {
        let text = || self.typed.to_owned();
        if feet.len() == 4 && inches.len() == 2 && eighths.len() == 2 {
            return Err(LengthError::Date { text: text() });
        }
        let (whole_feet, whole_inches, whole_eighths) =
            (self.number(feet)?, self.number(inches)?, self.number(eighths)?);
        if whole_inches > 11.0 {
            return Err(LengthError::Inches { text: text(), inches: inches.to_owned() });
        }
        if whole_eighths > 7.0 {
            return Err(LengthError::Eighths { text: text(), eighths: eighths.to_owned() });
        }
        let mm = mm_of_inches(12.0 * whole_feet + whole_inches + (whole_eighths + half) / 8.0);
        // `0-0-0-` would be less than nothing without a minus before it.
        if mm < 0.0 { Err(self.not_understood()) } else { Ok(mm) }
    }

    fn fraction(&self, above: &str, below: &str) -> Result<f64, LengthError> {
        let (n, d) = (self.number(above)?, self.number(below)?);
        let text = || self.typed.to_owned();
        if ![2.0, 4.0, 8.0, 16.0, 32.0, 64.0].contains(&d) {
            return Err(LengthError::Denominator { text: text(), denominator: below.to_owned() });
        }
        if n >= d {
            let (numerator, denominator) = (above.to_owned(), below.to_owned());
            return Err(LengthError::Numerator { text: text(), numerator, denominator });
        }
        Ok(n / d)
    }

    fn number(&self, digits: &str) -> Result<f64, LengthError> {
        digits.parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| self.not_understood())
    }

    fn not_understood(&self) -> LengthError {
        not_understood(self.typed)
    }
}
