//! Exact decimals: money in hundredths, quantities to so many places.
//!
//! A price typed as 7.20 is 720 hundredths and never a binary fraction. A sum is a quantity as it is printed times a rate as it is
//! printed, rounded to the nearest hundredth, halves away from nought: whoever does it again on paper gets the same.

use std::fmt;

/// A sum of money, in hundredths of the currency.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(pub i64);

/// A number with so many places after its point: `units` / 10^`places`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Decimal {
    /// In units of the last place.
    pub units: i64,
    /// Places after the point, at most 9.
    pub places: u32,
}

/// Why a text is no decimal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecimalError {
    /// Not digits with at most one point between.
    Form,
    /// More places than may be.
    Places,
    /// Too many digits.
    Large,
}

impl Decimal {
    /// A whole number.
    #[must_use]
    pub const fn whole(units: i64) -> Self {
        Decimal { units, places: 0 }
    }

    /// Reads `12`, `12.5`, `+12` or `-12.50`, with at most `places` after the point and `_` between digits as TOML allows.
    ///
    /// # Errors
    /// Anything else: exponents, more places, more than 15 digits.
    pub fn parse(text: &str, places: u32) -> Result<Self, DecimalError> {
        let plain = text.replace('_', "");
        let (minus, digits) = match (plain.strip_prefix('-'), plain.strip_prefix('+')) {
            (Some(rest), _) => (true, rest),
            (None, plus) => (false, plus.unwrap_or(&plain)),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let good = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || !good(whole) || !good(part) || (digits.contains('.') && part.is_empty()) {
            return Err(DecimalError::Form);
        }
        let part = part.trim_end_matches('0');
        if part.len() > places as usize {
            return Err(DecimalError::Places);
        }
        let all = format!("{whole}{part:0<width$}", width = places as usize);
        let units: i64 = all.parse().map_err(|_| DecimalError::Large)?;
        if units > 999_999_999_999_999 {
            return Err(DecimalError::Large);
        }
        Ok(Decimal { units: if minus { -units } else { units }, places })
    }

    /// The nearest to `value`, which is finite and no larger than 10^15 units; anything else is cut to that.
    #[must_use]
    pub fn nearest(value: f64, places: u32) -> Self {
        let units = value * 10_f64.powi(places as i32);
        Decimal { units: units.round().clamp(-1e15, 1e15) as i64, places }
    }

    /// The same number without places that are noughts at its end.
    #[must_use]
    pub fn short(mut self) -> Self {
        while self.places > 0 && self.units % 10 == 0 {
            self = Decimal { units: self.units / 10, places: self.places - 1 };
        }
        self
    }

    /// As a binary fraction.
    #[must_use]
    pub fn value(self) -> f64 {
        self.units as f64 / 10_f64.powi(self.places as i32)
    }

    /// `count` times this, divided by `by`, to `places`; rounded to the nearest, halves away from nought.
    #[must_use]
    pub fn times(self, count: usize, by: u32, places: u32) -> Self {
        let units = i128::from(self.units) * count as i128 * 10_i128.pow(places);
        let by = i128::from(by.max(1)) * 10_i128.pow(self.places);
        Decimal { units: narrow(half_up(units, by)), places }
    }
}

impl Money {
    /// `quantity` at `rate` each; rounded to the nearest hundredth, halves away from nought.
    #[must_use]
    pub fn of(quantity: Decimal, rate: Money) -> Money {
        let units = i128::from(quantity.units) * i128::from(rate.0);
        Money(narrow(half_up(units, 10_i128.pow(quantity.places))))
    }

    /// So much in the hundred of it; rounded to the nearest hundredth, halves away from nought.
    #[must_use]
    pub fn percent(self, percent: Decimal) -> Money {
        let units = i128::from(self.0) * i128::from(percent.units);
        Money(narrow(half_up(units, 100 * 10_i128.pow(percent.places))))
    }
}

/// `units / by`, to the nearest whole number, halves away from nought.
fn half_up(units: i128, by: i128) -> i128 {
    let half = by / 2;
    if units < 0 { -((-units + half) / by) } else { (units + half) / by }
}

fn narrow(units: i128) -> i64 {
    i64::try_from(units).unwrap_or(if units < 0 { i64::MIN } else { i64::MAX })
}

impl std::iter::Sum for Money {
    fn sum<I: Iterator<Item = Money>>(all: I) -> Money {
        all.fold(Money(0), |a, b| Money(a.0.saturating_add(b.0)))
    }
}

/// Digits in threes, with so many places.
fn print(f: &mut fmt::Formatter<'_>, units: i64, places: u32) -> fmt::Result {
    let one = 10_u64.pow(places);
    let whole = (units.unsigned_abs() / one).to_string();
    let mut text = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    if places > 0 {
        text.push_str(&format!(".{:0width$}", units.unsigned_abs() % one, width = places as usize));
    }
    f.pad(&if units < 0 { format!("-{text}") } else { text })
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        print(f, self.0, 2)
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        print(f, self.units, self.places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noughts_at_the_end_are_left_out() {
        for (text, short) in [("7.00", "7"), ("7.20", "7.2"), ("0.05", "0.05"), ("100", "100"), ("0.00", "0")] {
            assert_eq!(Decimal::parse(text, 2).unwrap().short().to_string(), short);
        }
    }

    #[test]
    fn a_price_is_read_as_it_is_typed() {
        let read = |text: &str| Decimal::parse(text, 2).map(|d| d.units);
        for (text, units) in [
            ("7.20", 720),
            ("7.2", 720),
            ("7", 700),
            ("0.01", 1),
            ("1_200.50", 120_050),
            ("7.200", 720),
            ("-1", -100),
        ] {
            assert_eq!(read(text), Ok(units), "{text}");
        }
        for text in ["", ".", "7.", ".5", "1e3", "seven", "1,5", "0x10", "inf", "--1", "-+1", "+-1"] {
            assert_eq!(read(text), Err(DecimalError::Form), "{text}");
        }
        assert_eq!(read("7.205"), Err(DecimalError::Places));
        assert_eq!(read("99999999999999999999"), Err(DecimalError::Large));
        assert_eq!(read("9999999999999999"), Err(DecimalError::Large));
    }

    /// By hand: 1.005 × 1.00 is 1.005, a half that goes up; in binary fractions 1.005 × 100 is 100.49999999999999.
    #[test]
    fn sums_are_to_the_nearest_hundredth_and_halves_go_up() {
        for (units, places, rate, sum) in [
            (1005, 3, 100, 101),
            (1004, 3, 100, 100),
            (333, 2, 333, 1109), // 3.33 × 3.33 = 11.0889
            (5, 1, 1, 1),        // 0.5 × 0.01 = 0.005
            (4, 1, 1, 0),
            (2, 0, 4999, 9998),
        ] {
            assert_eq!(Money::of(Decimal { units, places }, Money(rate)), Money(sum), "{units} e-{places} at {rate}");
        }
        // 17.5 in the hundred of 0.20 is 0.035, up to 0.04.
        assert_eq!(Money(20).percent(Decimal { units: 1750, places: 2 }), Money(4));
        // Three hundred rivets at 2.25 hours a hundred: 6.75; 301 of them 6.7725.
        let rate = Decimal { units: 225, places: 2 };
        assert_eq!(rate.times(300, 100, 2), Decimal { units: 675, places: 2 });
        assert_eq!(rate.times(301, 100, 2), Decimal { units: 677, places: 2 });
    }

    #[test]
    fn sums_are_printed_to_the_hundredth_in_threes() {
        for (units, text) in [
            (0, "0.00"),
            (5, "0.05"),
            (123_456, "1,234.56"),
            (100_000_000, "1,000,000.00"),
            (-105, "-1.05"),
            (99_999, "999.99"),
        ] {
            assert_eq!(Money(units).to_string(), text);
        }
        assert_eq!(Decimal { units: 12_345, places: 4 }.to_string(), "1.2345");
        assert_eq!(Decimal::whole(12_345).to_string(), "12,345");
    }
}
