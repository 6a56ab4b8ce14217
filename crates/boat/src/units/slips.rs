//! What an entry might have been meant to say: all single slips of the pen.
//!
//! A misprint is most often one digit or one field wrong. Where the fair skin says an entry is off, the nearest of its
//! slips is the likeliest truth. The lines stage picks it; here they are only listed.

use super::{Form, Notation, read_length_as};
use std::fmt;

/// More digits than this and the entry is not worth guessing at.
const MOST_DIGITS: usize = 12;

/// What kind of slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// 1-4-0 written 0-1-4, or 4 in written 4 ft: the figures stand in the wrong fields.
    FieldsMoved,
    /// Two fields exchanged.
    FieldsExchanged,
    /// A field left out, or 0.
    FieldLost,
    /// Another number of eighths.
    Eighths,
    /// Another number of inches.
    Inches,
    /// One digit is another.
    Digit,
    /// Two digits exchanged.
    DigitsExchanged,
    /// A digit of the truth is not there.
    DigitLost,
    /// A digit is there that should not be: 10 for 1.
    DigitAdded,
    /// The half eighth is not there.
    HalfDropped,
    /// A half eighth is there that should not be.
    HalfAdded,
    /// Another fraction.
    Fraction,
    /// The decimal point.
    Point,
    /// The sign.
    Sign,
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Kind::FieldsMoved => "the figures in the wrong fields, as eighths for inches",
            Kind::FieldsExchanged => "two fields exchanged",
            Kind::FieldLost => "a field lost or added",
            Kind::Eighths => "the eighths misread",
            Kind::Inches => "the inches misread",
            Kind::Digit => "a digit misread",
            Kind::DigitsExchanged => "two digits exchanged",
            Kind::DigitLost => "a digit lost",
            Kind::DigitAdded => "a digit too many, as 10 for 1",
            Kind::HalfDropped => "half an eighth dropped",
            Kind::HalfAdded => "half an eighth added",
            Kind::Fraction => "the fraction misread",
            Kind::Point => "the decimal point moved or lost",
            Kind::Sign => "the sign",
        })
    }
}

/// What an entry might have been meant to say.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// In the entry's own notation.
    pub text: String,
    /// mm.
    pub mm: f64,
    /// The slip that makes it what it says.
    pub kind: Kind,
}

/// Every length, mm, that the entry `text` could be by one slip, each value once, with how it would be written in the
/// same notation. In this order:
/// fields moved along (eighths written for inches and the like), dropped or changed whole; a digit changed, swapped
/// with another, dropped or added (so 10 for 1); half an eighth dropped or added; the decimal point moved; the sign.
///
/// Empty where `text` is no length in that notation. Slips that make no length (13 inches) are left out.
///
/// ```
/// use boat::units::{Notation, slips};
/// let slips = slips("0-1-4", Notation::FeetInchesEighths);
/// assert!(slips.iter().any(|s| s.text == "1-4-0" && s.mm == 406.4)); // eighths for inches
/// ```
#[must_use]
pub fn slips(text: &str, notation: Notation) -> Vec<Slip> {
    let text = text.trim();
    let Ok(typed) = read_length_as(text, Some(notation)) else { return Vec::new() };
    if text.chars().filter(char::is_ascii_digit).count() > MOST_DIGITS || !text.is_ascii() {
        return Vec::new();
    }
    let plan = typed.form == Form::Plan;
    let start = if plan { notation_of_plans(typed.mm) } else { text.to_owned() };
    let candidates = if plan { plan_slips(&start) } else { number_slips(&start) };

    let mut slips: Vec<Slip> = Vec::new();
    for (candidate, kind) in candidates {
        let Ok(read) = read_length_as(&candidate, Some(notation)) else { continue };
        let seen = |mm: f64| (mm - read.mm).abs() < 1e-6;
        if read.form != typed.form || seen(typed.mm) {
            continue;
        }
        if let Some(same) = slips.iter_mut().find(|s| seen(s.mm)) {
            // 10 for 1 says more than "the inches misread".
            let vague = |kind| matches!(kind, Kind::Eighths | Kind::Inches | Kind::Digit | Kind::Fraction);
            if vague(same.kind) && !vague(kind) {
                same.kind = kind;
            }
            continue;
        }
        let text = if plan { notation_of_plans(read.mm) } else { candidate };
        slips.push(Slip { text, mm: read.mm, kind });
    }
    slips
}

/// Plan notation holds every sixteenth of an inch exactly, so this only takes off leading zeros and the like.
fn notation_of_plans(mm: f64) -> String {
    Notation::FeetInchesEighths.long(mm)
}

/// `start` is feet-inches-eighths as we print it.
fn plan_slips(start: &str) -> Vec<(String, Kind)> {
    let (sign, body) = sign_and_body(start);
    let (fields, half) = match body.strip_suffix('+') {
        Some(fields) => (fields, "+"),
        None => (body, ""),
    };
    let mut slips = Vec::new();
    let parts: Vec<&str> = fields.split('-').collect();
    if let [feet, inches, eighths] = parts[..] {
        slips.push((format!("{sign}{inches}-{eighths}-0"), Kind::FieldsMoved));
        slips.push((format!("{sign}0-{feet}-{inches}"), Kind::FieldsMoved));
        slips.push((format!("{sign}{feet}-0-{inches}"), Kind::FieldsMoved));
        slips.push((format!("{sign}{feet}-{eighths}-{inches}{half}"), Kind::FieldsExchanged));
        slips.push((format!("{sign}{inches}-{feet}-{eighths}{half}"), Kind::FieldsExchanged));
        slips.push((format!("{sign}0-{inches}-{eighths}{half}"), Kind::FieldLost));
        slips.push((format!("{sign}{feet}-0-{eighths}{half}"), Kind::FieldLost));
        slips.push((format!("{sign}{feet}-{inches}-0"), Kind::FieldLost));
        slips.extend((0..8).map(|v| (format!("{sign}{feet}-{inches}-{v}{half}"), Kind::Eighths)));
        slips.extend((0..12).map(|v| (format!("{sign}{feet}-{v}-{eighths}{half}"), Kind::Inches)));
    }
    slips.extend(digit_slips(fields).into_iter().map(|(f, kind)| (format!("{sign}{f}{half}"), kind)));
    let other_half = if half.is_empty() { ("+", Kind::HalfDropped) } else { ("", Kind::HalfAdded) };
    slips.push((format!("{sign}{fields}{}", other_half.0), other_half.1));
    slips.push((format!("{sign}{fields}-"), Kind::HalfAdded));
    slips.push((other_sign(sign, body), Kind::Sign));
    slips
}

/// Any other way of writing; `start` is as typed.
fn number_slips(start: &str) -> Vec<(String, Kind)> {
    let (sign, body) = sign_and_body(start);
    let mut slips = Vec::new();
    if let Some((before, after)) = body.split_once('/') {
        // Another numerator over the same denominator; the whole or the fraction left out.
        let below: String = after.chars().take_while(char::is_ascii_digit).collect();
        let rest = after.get(below.len()..).unwrap_or_default();
        let whole_end = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let (whole, above) = before.split_at_checked(whole_end).unwrap_or(("", before));
        let most = below.parse::<u32>().unwrap_or(0).min(64);
        slips.extend((1..most).step_by(2).map(|n| (format!("{sign}{whole}{n}/{below}{rest}"), Kind::Fraction)));
        slips.extend(
            ["2", "4", "8", "16", "32", "64"].map(|d| (format!("{sign}{whole}{above}/{d}{rest}"), Kind::Fraction)),
        );
        slips.push((format!("{sign}{above}/{below}{rest}"), Kind::DigitAdded));
        let whole = whole.trim_end_matches([' ', '-']);
        if !rest.trim().is_empty() {
            slips.push((format!("{sign}{whole}{rest}"), Kind::Fraction));
        }
    }
    slips.extend(digit_slips(body).into_iter().map(|(b, kind)| (format!("{sign}{b}"), kind)));
    if let Some((whole, rest)) = body.split_once('.') {
        slips.push((format!("{sign}{whole}{rest}"), Kind::Point));
        let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if let (Some(moved), Some(kept), true) = (rest.get(..1), rest.get(1..), digits > 1) {
            slips.push((format!("{sign}{whole}{moved}.{kept}"), Kind::Point));
        }
        if let Some((kept, moved)) = whole.len().checked_sub(1).and_then(|at| whole.split_at_checked(at)) {
            slips.push((format!("{sign}{}.{moved}{rest}", if kept.is_empty() { "0" } else { kept }), Kind::Point));
        }
    }
    slips.push((other_sign(sign, body), Kind::Sign));
    slips
}

fn sign_and_body(text: &str) -> (&'static str, &str) {
    text.strip_prefix('-').map_or(("", text), |rest| ("-", rest.trim_start()))
}

fn other_sign(sign: &str, body: &str) -> String {
    if sign.is_empty() { format!("-{body}") } else { body.to_owned() }
}

/// One digit of `text` (ASCII) changed, swapped with another, dropped or added.
fn digit_slips(text: &str) -> Vec<(String, Kind)> {
    let bytes: Vec<char> = text.chars().collect();
    let at: Vec<usize> = (0..bytes.len()).filter(|&i| bytes[i].is_ascii_digit()).collect();
    let mut slips = Vec::new();
    let mut push = |chars: Vec<char>, kind| slips.push((no_leading_zeros(&chars), kind));
    for &i in &at {
        for digit in '0'..='9' {
            let mut changed = bytes.clone();
            changed[i] = digit;
            push(changed, Kind::Digit);
        }
    }
    for (n, &i) in at.iter().enumerate() {
        for &j in &at[n + 1..] {
            let mut swapped = bytes.clone();
            swapped.swap(i, j);
            // 01 is 1: a 0 too many.
            let whole = no_leading_zeros(&swapped).len() == text.len();
            push(swapped, if whole { Kind::DigitsExchanged } else { Kind::DigitAdded });
        }
    }
    for &i in &at {
        let mut dropped = bytes.clone();
        dropped.remove(i);
        push(dropped, Kind::DigitAdded);
    }
    for &i in &at {
        for place in [i, i + 1] {
            for digit in '0'..='9' {
                let mut added = bytes.clone();
                added.insert(place, digit);
                // Put before a 0 that leads, it takes its place.
                let kind = if no_leading_zeros(&added).len() == text.len() { Kind::Digit } else { Kind::DigitLost };
                push(added, kind);
            }
        }
    }
    slips
}

/// Drops zeros that lead a run of digits, but not the last of the run nor those after a point.
fn no_leading_zeros(chars: &[char]) -> String {
    let mut text = String::with_capacity(chars.len());
    for (i, &c) in chars.iter().enumerate() {
        let digit = |at: Option<usize>| at.and_then(|at| chars.get(at)).is_some_and(char::is_ascii_digit);
        let after_point = chars[..i].iter().rev().find(|c| !c.is_ascii_digit()) == Some(&'.');
        let leads = c == '0' && !text.ends_with(|c: char| c.is_ascii_digit()) && digit(Some(i + 1));
        if !leads || after_point {
            text.push(c);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn has(text: &str, notation: Notation, wanted: &str) -> bool {
        slips(text, notation).iter().any(|s| s.text == wanted)
    }

    #[test]
    fn the_common_slips_are_among_them() {
        let plan = Notation::FeetInchesEighths;
        for (typed, meant) in [
            ("1-3-4", "1-4-3"),  // fields swapped
            ("0-1-4", "1-4-0"),  // eighths for inches
            ("1-4", "0-1-4"),    // and the other way
            ("0-10-2", "0-1-2"), // 10 for 1
            ("0-1-2", "0-10-2"), // 1 for 10
            ("1-3-4", "1-3-4+"), // half an eighth dropped
            ("1-3-4+", "1-3-4"), // or added
            ("1-3-4", "1-3-1"),  // 4 for 1
            ("1-3-4", "2-3-4"),  // a foot out
            ("0-5-2", "-0-5-2"), // no sign
            ("1-11-0", "1-1-0"), // a digit doubled
        ] {
            assert!(has(typed, plan, meant), "{typed} meant as {meant}");
        }
        for (typed, meant) in
            [("394", "349"), ("394", "934"), ("94", "394"), ("3940", "394"), ("39.4", "394"), ("394 mm", "349 mm")]
        {
            assert!(has(typed, Notation::Mm, meant), "{typed} meant as {meant}");
        }
        for (typed, meant) in
            [("3 7/8", "3 5/8"), ("3 7/8", "3 7/16"), ("3 1/8", "3 1/4"), ("13 7/8", "3 7/8"), ("3 7/8", "7/8")]
        {
            assert!(has(typed, Notation::Inches, meant), "{typed} meant as {meant}");
        }
    }

    #[test]
    fn each_slip_has_its_kind() {
        let plan = Notation::FeetInchesEighths;
        for (typed, meant, notation, kind) in [
            ("0-1-4", "1-4-0", plan, Kind::FieldsMoved),
            ("1-3-4", "1-4-3", plan, Kind::FieldsExchanged),
            ("0-10-2", "0-1-2", plan, Kind::DigitAdded),
            ("0-1-2", "0-10-2", plan, Kind::DigitLost),
            ("1-3-4", "1-3-4+", plan, Kind::HalfDropped),
            ("1-3-4", "1-3-1", plan, Kind::Eighths),
            ("0-5-2", "-0-5-2", plan, Kind::Sign),
            ("394", "349", Notation::Mm, Kind::DigitsExchanged),
            ("94", "394", Notation::Mm, Kind::DigitLost),
            ("3 7/8", "3 5/8", Notation::Inches, Kind::Fraction),
        ] {
            let found = slips(typed, notation).into_iter().find(|s| s.text == meant);
            assert_eq!(found.map(|s| s.kind), Some(kind), "{typed} meant as {meant}");
        }
    }

    #[test]
    fn each_once_never_itself_and_none_for_nonsense() {
        for (typed, notation) in [
            ("1-3-4+", Notation::FeetInchesEighths),
            ("0", Notation::Mm),
            ("394.5", Notation::Mm),
            ("3 7/8", Notation::Inches),
        ] {
            let own = read_length_as(typed, Some(notation)).unwrap().mm;
            let slips = slips(typed, notation);
            for (i, Slip { text, mm, .. }) in slips.iter().enumerate() {
                assert_eq!(read_length_as(text, Some(notation)).unwrap().mm, *mm, "{text}");
                assert!((mm - own).abs() > 1e-9, "{text} is {typed} itself");
                assert!(slips[..i].iter().all(|s| (s.mm - mm).abs() > 1e-9), "{text} twice");
            }
        }
        assert!(slips("twelve", Notation::Mm).is_empty());
        assert!(slips("12", Notation::FeetInchesEighths).is_empty());
    }
}
