//! Lengths read and printed.

use boat::units::{INCH, LengthError, Notation, read_length, slips};
use proptest::prelude::*;

const NOTATIONS: [Notation; 3] = [Notation::Mm, Notation::Inches, Notation::FeetInchesEighths];

/// Values worked out by hand from 1 in = 25.4 mm. They mean the same whatever a bare number means.
#[test]
fn lengths_as_people_write_them() {
    let written = [
        ("1-3-4", 393.7),
        ("1-3-4+", 395.2875),
        ("1-3-4-", 392.1125),
        ("1-3-7+", 404.8125),
        ("1 - 3 - 4", 393.7),
        ("1-3", 381.0),
        ("-0-1-2", -31.75),
        ("\u{2212}0-1-2", -31.75),
        ("12-0-0", 3657.6),
        ("0-0-0+", 1.5875),
        ("3 7/8", 98.425),
        ("3 7/8\"", 98.425),
        ("3-7/8", 98.425),
        ("3⅞", 98.425),
        ("7/8", 22.225),
        ("-7/8 in", -22.225),
        ("63/64", 25.003125),
        ("0/8", 0.0),
        ("1' 3 1/2\"", 393.7),
        ("1'-3 1/2\"", 393.7),
        ("1’ 3½”", 393.7),
        ("1'", 304.8),
        ("1' 0\"", 304.8),
        ("1ft 3in", 381.0),
        ("1 ft. 3 in.", 381.0),
        ("1.25 ft", 381.0),
        ("1 1/4 ft", 381.0),
        ("12.5in", 317.5),
        ("12.5\"", 317.5),
        ("394 mm", 394.0),
        ("39.4cm", 394.0),
        ("0.394 m", 394.0),
        (".5 in", 12.7),
        ("5. mm", 5.0),
        ("  394 MM  ", 394.0),
        ("0", 0.0),
        ("-0", 0.0),
        ("100 m", 100_000.0),
    ];
    for (text, mm) in written {
        for bare in NOTATIONS.map(Some) {
            let read = read_length(text, bare).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((read - mm).abs() < 1e-9, "{text} with {bare:?}: {read}, not {mm}");
            assert!(read != 0.0 || read.is_sign_positive(), "{text}: minus zero");
        }
    }
    assert_eq!(read_length("394", Some(Notation::Mm)), Ok(394.0));
    assert_eq!(read_length("-39.5", Some(Notation::Mm)), Ok(-39.5));
    assert_eq!(read_length("1.5", Some(Notation::Inches)), Ok(38.1));
}

/// What is refused, and what its message must say.
#[test]
fn what_is_no_length_is_refused_with_advice() {
    let refused: [(&str, &[&str]); 41] = [
        ("", &["missing"]),
        ("   ", &["missing"]),
        ("1-12-0", &["“1-12-0”", "12 inches", "0 to 11"]),
        ("1-3-8", &["“1-3-8”", "8 eighths", "0 to 7"]),
        ("1-3-45", &["45 eighths", "0 to 7"]),
        ("1' 12\"", &["12 inches", "0 to 11"]),
        ("3 7/0", &["denominator 0", "2, 4, 8, 16, 32 or 64"]),
        ("3 7/10", &["denominator 10"]),
        ("1/128", &["denominator 128"]),
        ("1/1", &["denominator 1"]),
        ("3 8/8", &["8/8", "less than 1"]),
        ("9/8", &["9/8", "less than 1"]),
        ("12,5", &["“12,5”", "comma", "decimal point"]),
        ("1,250 mm", &["comma"]),
        ("101 m", &["“101 m”", "100 m"]),
        ("99999999999999999999999999-0-0", &["100 m"]),
        ("-400-0-0", &["100 m"]),
        ("7/8 mm", &["metric", "decimal"]),
        ("1 1/2 cm", &["metric"]),
        ("2004-03-01", &["date", "as text"]),
        ("1/3/2004", &["date"]),
        ("3-Mar-04", &["date"]),
        ("01 March", &["date"]),
        ("NaN", &["not a length"]),
        ("inf", &["not a length"]),
        ("-inf", &["not a length"]),
        ("1e3", &["not a length"]),
        ("1.2.3", &["not a length"]),
        (".", &["not a length"]),
        ("--3", &["not a length"]),
        ("1--3", &["not a length"]),
        ("1-3+", &["not a length"]),
        ("1-3-4++", &["not a length"]),
        ("-0-0-0-", &["not a length"]),
        ("12 5 mm", &["not a length"]),
        ("1-3-4.5", &["not a length"]),
        ("3' 4'", &["not a length"]),
        ("12 ells", &["not a length", "for example"]),
        ("twelve", &["not a length"]),
        ("١٢", &["not a length"]),
        ("☃", &["not a length"]),
    ];
    for (text, wanted) in refused {
        for bare in [None, Some(Notation::Mm), Some(Notation::FeetInchesEighths)] {
            let message = read_length(text, bare).expect_err(text).to_string();
            for part in wanted {
                assert!(message.contains(part), "{text:?}: {message:?} does not say {part:?}");
            }
        }
    }
}

#[test]
fn a_bare_number_is_never_guessed_at() {
    for text in ["12", "1.5", "-3"] {
        let error = read_length(text, Some(Notation::FeetInchesEighths)).expect_err(text);
        let message = error.to_string();
        assert!(matches!(error, LengthError::InchesOrFeet { .. }), "{message}");
        assert!(message.contains("inches or feet") && message.contains(text.trim_start_matches('-')), "{message}");
        assert!(matches!(read_length(text, None), Err(LengthError::NoUnit { .. })));
    }
}

/// Every sixteenth of an inch within 40 ft either way, printed and read back.
#[test]
fn every_sixteenth_within_forty_feet_comes_back() {
    for n in -40 * 192..=40 * 192 {
        let mm = f64::from(n) * INCH / 16.0;
        for notation in [Notation::FeetInchesEighths, Notation::Inches] {
            for text in [notation.long(mm), notation.short(mm), notation.exact(mm), notation.said(mm)] {
                // Whole inches print without a fraction, and are bare numbers then; the others say what they are.
                let read =
                    read_length(&text, Some(Notation::Inches)).unwrap_or_else(|e| panic!("{n}/16 as {text}: {e}"));
                assert!((read - mm).abs() < 1e-9, "{n}/16 in as {text} comes back as {read}");
            }
        }
        let plan = Notation::FeetInchesEighths.long(mm);
        let read = read_length(&plan, Some(Notation::FeetInchesEighths));
        assert!((read.unwrap() - mm).abs() < 1e-9, "{plan}");
    }
    for mm in -12_000..=12_000 {
        let mm = f64::from(mm);
        for text in [Notation::Mm.long(mm), Notation::Mm.short(mm), Notation::Mm.exact(mm), Notation::Mm.said(mm)] {
            assert_eq!(read_length(&text, Some(Notation::Mm)), Ok(mm));
        }
    }
}

fn notations() -> impl Strategy<Value = Notation> {
    proptest::sample::select(NOTATIONS.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn no_text_makes_reading_panic(text in any::<String>(), notation in notations()) {
        let _ = (read_length(&text, Some(notation)), read_length(&text, None), slips(&text, notation));
    }

    #[test]
    fn no_text_much_like_a_length_makes_reading_panic(
        text in r#"[-−]?[0-9]{0,3}[-+ ./,'"½m]{0,2}[0-9]{0,3}([-+ ./'"]|in|ft|mm| ){0,2}[0-9]{0,2}[-+"/ ]{0,2}[0-9]{0,2}"#,
        notation in notations(),
    ) {
        if let Ok(mm) = read_length(&text, Some(notation)) {
            prop_assert!(mm.is_finite() && mm.abs() <= 100_000.0);
            for slip in slips(&text, notation) {
                prop_assert_eq!(read_length(&slip.text, Some(notation)), Ok(slip.mm));
            }
        }
    }

    #[test]
    fn printing_takes_any_number(mm in prop::num::f64::ANY, notation in notations()) {
        let texts = [notation.long(mm), notation.short(mm), notation.exact(mm), notation.said(mm)];
        prop_assert!(texts.iter().all(|t| !t.is_empty()));
    }

    /// What is printed lies no further off than half of what it is rounded to.
    #[test]
    fn printing_rounds_to_the_nearest(mm in -12_000.0..12_000.0, notation in notations()) {
        let step = if notation == Notation::Mm { 1.0 } else { INCH / 16.0 };
        let bare = if notation == Notation::Mm { Notation::Mm } else { Notation::Inches };
        for text in [notation.long(mm), notation.short(mm)] {
            prop_assert!((read_length(&text, Some(bare)).unwrap() - mm).abs() <= 0.5 * step + 1e-6, "{}", text);
        }
        let fine = if notation == Notation::Mm { 0.1 } else { INCH / 64.0 };
        let text = notation.exact(mm);
        prop_assert!((read_length(&text, Some(bare)).unwrap() - mm).abs() <= 0.5 * fine + 1e-6, "{}", text);
    }

    /// A length spoilt by one wrong digit is among the slips of what was typed, whichever digit it was.
    #[test]
    fn one_wrong_digit_is_always_found(
        feet in 0..20_u32, inches in 0..12_u32, eighths in 0..8_u32, field in 0..3_usize, wrong in 0..8_u32,
    ) {
        let mut typed = [feet, inches, eighths];
        typed[field] = if field == 0 { feet / 10 * 10 + wrong } else { wrong };
        let meant = format!("{feet}-{inches}-{eighths}");
        let typed = format!("{}-{}-{}", typed[0], typed[1], typed[2]);
        prop_assume!(typed != meant && (inches < 10 || field != 1));
        let found = slips(&typed, Notation::FeetInchesEighths);
        prop_assert!(found.iter().any(|s| s.text == meant), "{} for {}", typed, meant);
    }
}
