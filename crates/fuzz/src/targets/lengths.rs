//! Lengths as they are typed, and as they are said.

use super::told;
use crate::{Spoilt, Target};
use boat::units::{INCH, LONGEST, Notation, read_length, slips};

pub const LENGTHS: Target =
    Target { name: "lengths", spoilt: Spoilt::Anything, seeds: lengths, run: read_back, short: 4000 };

fn lengths() -> Vec<Vec<u8>> {
    let all = [
        "1-3-4+",
        "0-11-7-",
        "1' 3 1/2\"",
        "3 7/8",
        "7/8\"",
        "3-7/8",
        "394",
        "39.4 cm",
        "0.394 m",
        "-2 1/2 in",
        "1.25 ft",
        "12½",
        "−0-3-4",
        "99999 mm",
        "1-3",
    ];
    all.map(|text| text.as_bytes().to_vec()).to_vec()
}

fn read_back(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    for bare in [None, Some(Notation::Mm), Some(Notation::Inches), Some(Notation::FeetInchesEighths)] {
        match read_length(&text, bare) {
            Ok(mm) => {
                assert!(mm.is_finite() && mm.abs() <= LONGEST, "{mm}");
                Notation::WORDS.iter().for_each(|(_, notation)| printed(*notation, mm));
            }
            Err(why) => told(&why, input),
        }
        if let Some(notation) = bare {
            for slip in slips(&text, notation) {
                assert_eq!(read_length(&slip.text, bare), Ok(slip.mm), "{}", slip.text);
            }
        }
    }
}

/// What is printed reads back as what it was, to what it is rounded to.
fn printed(notation: Notation, mm: f64) {
    let (step, fine, bare) = match notation {
        Notation::Mm => (1.0, 0.1, Notation::Mm),
        _ => (INCH / 16.0, INCH / 64.0, Notation::Inches),
    };
    let texts = [
        (notation.long(mm), step),
        (notation.short(mm), step),
        (notation.exact(mm), fine),
        (notation.said(mm), step),
    ];
    for (text, step) in texts {
        match read_length(&text, Some(bare)) {
            Ok(back) => assert!((back - mm).abs() <= 0.5 * step + 1e-6, "{text} for {mm}"),
            // Printed from what is at the very end of what is read, it may be rounded past it.
            Err(why) => assert!(mm.abs() + step > LONGEST, "{text} for {mm}: {why}"),
        }
    }
    assert!(!notation.spoken(mm).is_empty());
}
