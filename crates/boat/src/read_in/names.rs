//! What lines and units are called in files of strangers.

use super::bare::{Bare, length, with_point};
use crate::offsets::RowKind;
use crate::offsets::names::{NameError, RowName, row_name};

/// Words for a whole group of rows, and how a row of it begins.
const GROUPS: [(&str, &str); 8] = [
    ("heights", "height"),
    ("height", "height"),
    ("heights above base", "height"),
    ("heights above base line", "height"),
    ("half breadths", "half-breadth"),
    ("half breadth", "half-breadth"),
    ("half breadths from centreline", "half-breadth"),
    ("half breadths from centerline", "half-breadth"),
];

/// Words that mean one of ours; longer ones first.
const SAME: [(&str, &str); 12] = [
    ("half breadths", "half-breadth"),
    ("half breadth", "half-breadth"),
    ("halfbreadths", "half-breadth"),
    ("½ breadths", "half-breadth"),
    ("½ breadth", "half-breadth"),
    ("waterlines", "waterline"),
    ("buttocks", "buttock"),
    ("w.l.", "waterline"),
    ("hts", "height"),
    ("sheerline", "sheer"),
    ("sheer line", "sheer"),
    ("rabbet line", "rabbet"),
];

/// Rows of the stations' distances.
const AT: [&str; 7] =
    ["at", "position", "distance", "distance aft", "station at", "from station 0", "distance from station 0"];

/// A row's name as read.
#[derive(Debug, Clone, PartialEq)]
pub enum Named {
    /// Where stations stand.
    At,
    /// An ordinary row, and how a table calls it.
    Row(RowKind, String),
    /// A diagonal.
    Diagonal,
    /// None that is known.
    Unknown,
}

/// Small letters, one space between words, what stands in brackets left out.
fn plain(text: &str) -> String {
    let mut depth = 0_usize;
    let mut kept = String::new();
    for c in text.chars() {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ if depth == 0 => kept.push(c),
            _ => {}
        }
    }
    kept.to_lowercase().replace(['_', ':', '|'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The group that a text names, as a row of it begins.
pub fn group(text: &str) -> Option<&'static str> {
    let text = plain(text).replace('-', " ");
    GROUPS.iter().find(|g| g.0 == text).map(|g| g.1)
}

/// What a row is called; a bare level is in `bare`, with a decimal comma where `comma`.
pub fn named(text: &str, bare: Option<Bare>, comma: bool) -> Named {
    let mut name = plain(text);
    if AT.contains(&name.as_str()) {
        return Named::At;
    }
    // Whole words only.
    name = format!(" {} ", name.replace("w.l.", " w.l. "));
    for (found, ours) in SAME {
        name = name.replace(&format!(" {found} "), &format!(" {ours} "));
    }
    name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    // Two words for what it measures, as a group and a full name give: one is enough.
    for word in ["height", "half-breadth"] {
        name = name.replace(&format!("{word} {word}"), word);
    }
    // `sheer height` as `height sheer`.
    for word in ["height", "half-breadth"] {
        if let Some(first) = name.strip_suffix(&format!(" {word}")) {
            name = format!("{word} {first}");
        }
    }
    let (head, level) = name.split_at(name.find(|c: char| c.is_ascii_digit() || c == '½').unwrap_or(name.len()));
    let (head, minus) = head.strip_suffix(" -").map_or((head, ""), |h| (h, "-"));
    let level = if comma { with_point(level) } else { level.to_owned() };
    let said = length(&format!("{minus}{level}"), bare).ok();
    let whole = match &said {
        Some(l) => format!("{} {}", head.trim_end_matches(['-', ' ']), l.text),
        None => name.clone(),
    };
    let lengths = bare.map_or(crate::units::Notation::Mm, Bare::notation);
    match row_name(&whole, lengths, &[]) {
        Ok(RowName::At) => Named::At,
        Ok(RowName::Offsets(kind)) => {
            let level = || said.as_ref().map_or("", |l| l.text.as_str());
            let ours = match kind {
                RowKind::HeightSheer => "height sheer".to_owned(),
                RowKind::HeightRabbet => "height rabbet".to_owned(),
                RowKind::HalfBreadthSheer => "half-breadth sheer".to_owned(),
                RowKind::HalfBreadthRabbet => "half-breadth rabbet".to_owned(),
                RowKind::HeightButtock(_) => format!("height buttock {}", level()),
                RowKind::HalfBreadthWaterline(_) => format!("half-breadth waterline {}", level()),
                RowKind::Diagonal(_) => return Named::Diagonal,
            };
            Named::Row(kind, ours)
        }
        Err(NameError::NoDiagonal(_)) => Named::Diagonal,
        Err(NameError::Level(_) | NameError::Unknown) => Named::Unknown,
    }
}

/// Whether a level stands in a row's name as a bare number.
pub fn bare_level(text: &str) -> bool {
    match named(text, Some(Bare::Mm), true) {
        Named::Row(RowKind::HeightButtock(_) | RowKind::HalfBreadthWaterline(_), ours) => {
            let level = ours.rsplit(' ').next().unwrap_or_default();
            level.parse::<f64>().is_ok_and(|l| l != 0.0)
        }
        _ => false,
    }
}

/// A station's name without the word station before it.
pub fn station(text: &str) -> String {
    let text = text.trim();
    let low = text.to_lowercase();
    for word in ["stations ", "station ", "sta. ", "sta ", "stn ", "st. "] {
        // Small letters may be longer than the capitals they stand for; then the name is left as it is.
        if let (true, Some(rest)) = (low.starts_with(word), text.get(word.len()..)) {
            return rest.trim().to_owned();
        }
    }
    text.to_owned()
}

/// The units that a title, a comment or a heading speaks of; a unit after a number is a length and says nothing.
pub fn units_spoken_of(text: &str) -> Vec<Bare> {
    let mut rest = text.to_lowercase().replace(['-', '_'], " ");
    let mut found = Vec::new();
    for phrase in ["feet inches eighths", "ft in 8ths", "feet, inches and eighths"] {
        // Its words are none of the units that they are by themselves.
        if rest.contains(phrase) && !found.contains(&Bare::FeetInchesEighths) {
            found.push(Bare::FeetInchesEighths);
        }
        rest = rest.replace(phrase, ";");
    }
    let marks = |c: char| !(c.is_alphanumeric() || matches!(c, '(' | '['));
    let words: Vec<&str> = rest.split(marks).filter(|w| !w.is_empty()).collect();
    for (i, word) in words.iter().enumerate() {
        let before = i.checked_sub(1).and_then(|i| words.get(i)).copied().unwrap_or_default();
        let numbered = before.ends_with(|c: char| c.is_ascii_digit());
        let (bracketed, word) = match word.strip_prefix(['(', '[']) {
            Some(word) => (true, word),
            None => (false, *word),
        };
        let unit = match word {
            "mm" | "millimetres" | "millimeters" | "millimetre" | "millimeter" => Bare::Mm,
            "cm" | "centimetres" | "centimeters" | "centimetre" | "centimeter" => Bare::Cm,
            "metres" | "meters" => Bare::M,
            "inches" => Bare::Inches,
            "feet" => Bare::Feet,
            // Words of other meanings, too.
            "m" if bracketed || before == "in" => Bare::M,
            "in" if bracketed => Bare::Inches,
            "ft" if bracketed || before == "in" => Bare::Feet,
            _ => continue,
        };
        if !numbered && !found.contains(&unit) {
            found.push(unit);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_units_as_strangers_write_them() {
        let ours = |text: &str, bare| match named(text, Some(bare), true) {
            Named::Row(_, ours) => ours,
            other => format!("{other:?}"),
        };
        for (text, name) in [
            ("Sheer height (mm)", "height sheer"),
            ("Height of Deck", "height sheer"),
            ("Half-Breadths Sheer", "half-breadth sheer"),
            ("½ breadth W.L. 30", "half-breadth waterline 300"),
            ("half-breadth WL 30,5", "half-breadth waterline 305"),
            ("WL -5", "half-breadth waterline -50"),
            ("Buttock 8 in", "height buttock 8 in"),
            ("position", "At"),
            ("Diagonal A", "Diagonal"),
            ("chine", "Unknown"),
            ("", "Unknown"),
        ] {
            assert_eq!(ours(text, Bare::Cm), name, "{text}");
        }
        assert_eq!(ours("WL 1 3 4", Bare::FeetInchesEighths), "half-breadth waterline 1-3-4");
        assert!(bare_level("WL 300") && !bare_level("WL 300 mm") && !bare_level("sheer height"));
        assert_eq!((station("Station 3"), station("Sta. X"), station("Åse")), ("3".into(), "X".into(), "Åse".into()));
        assert_eq!(units_spoken_of("All dimensions in millimetres"), [Bare::Mm]);
        assert_eq!(units_spoken_of("offsets (cm), faired to 1 mm"), [Bare::Cm]);
        assert_eq!(units_spoken_of("Feet-Inches-Eighths; + is half an eighth more"), [Bare::FeetInchesEighths]);
        assert_eq!(units_spoken_of("Offsets (ft-in-8ths)"), [Bare::FeetInchesEighths]);
        assert_eq!(
            units_spoken_of("in mm (feet, inches and eighths on the plan)"),
            [Bare::FeetInchesEighths, Bare::Mm]
        );
        assert!(units_spoken_of("drawn in the winter").is_empty());
    }
}
