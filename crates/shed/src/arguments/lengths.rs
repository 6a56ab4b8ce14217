//! Lengths of the command line.

use boat::paper::roll;
use boat::units::{Notation, read_length};

/// A length of the command line after its `name`, within `range`, mm.
pub fn named_length(name: &str, text: &str, lengths: Notation, range: [f64; 2]) -> Result<f64, String> {
    let mm = read_length(text, Some(lengths)).map_err(|e| format!("{name}: {e}"))?;
    if (range[0]..=range[1]).contains(&mm) {
        return Ok(mm);
    }
    let [least, most] = range.map(|mm| lengths.said_fine(mm));
    Err(format!("{name}: {text} is out of range: {least} to {most} is allowed; check its digits and its unit"))
}

/// The width of a roll after its `name`, mm; a bare number is mm.
pub fn roll_width(name: &str, text: &str) -> Result<f64, String> {
    width_of_roll(text).map_err(|why| format!("{name}: {why}"))
}

/// The same, wherever it is asked for.
pub fn width_of_roll(text: &str) -> Result<f64, String> {
    let mm = read_length(text, Some(Notation::Mm)).map_err(|e| e.to_string())?;
    if (roll::NARROWEST..=roll::WIDEST).contains(&mm) {
        return Ok(mm);
    }
    let (least, most) = (roll::NARROWEST, roll::WIDEST);
    Err(format!("{text} is {mm:.0} mm, and a roll is between {least:.0} and {most:.0} mm wide"))
}

/// The spacing given with `check -`, mm.
pub fn spacing(text: &str, lengths: Notation) -> Result<f64, String> {
    let mm = read_length(text, Some(lengths)).map_err(|e| format!("--spacing: {e}"))?;
    if mm > 0.0 { Ok(mm) } else { Err(format!("--spacing: {text} must be more than 0")) }
}
