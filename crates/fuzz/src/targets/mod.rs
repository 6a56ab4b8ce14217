//! What is fed.

mod drawn;
mod entries;
mod folders;
mod hung;
mod lengths;
mod made;
mod picked;
mod points;
mod tables;

use crate::Target;

/// All of them. So many inputs in the short run that each takes a few seconds of it, in the tests' profile.
pub const ALL: &[Target] = &[
    folders::BOAT,
    folders::RATES,
    folders::REPAIR,
    folders::REPAIR_NUMBERS,
    folders::TAKEN,
    tables::TABLE,
    drawn::DXF,
    drawn::SVG,
    points::CLOUD,
    lengths::LENGTHS,
    entries::ENTRY,
    picked::PLAN_SHEET,
    hung::HUNG,
    made::PLAN,
    made::PAPERS,
    made::BOARDS,
];

/// The target of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Target> {
    ALL.iter().find(|t| t.name == name)
}

/// A line that begins a file in an input of several: `=== boat.toml`.
const FILE: &str = "=== ";

/// The files of an input, by name; the later of two. Bytes that are no text are taken as the program takes them.
struct Texts(Vec<(String, String)>);

impl Texts {
    fn of(input: &[u8]) -> Texts {
        let mut files: Vec<(String, String)> = Vec::new();
        for line in String::from_utf8_lossy(input).split_inclusive('\n') {
            match (line.strip_prefix(FILE), files.last_mut()) {
                (Some(name), _) => files.push((name.trim().to_owned(), String::new())),
                (None, Some((_, text))) => text.push_str(line),
                (None, None) => {}
            }
        }
        Texts(files)
    }

    fn get(&self, name: &str) -> Option<String> {
        self.0.iter().rfind(|f| f.0 == name).map(|f| f.1.clone())
    }
}

/// An input of several files.
fn together(files: &[(&str, &str)]) -> Vec<u8> {
    files.iter().map(|(name, text)| format!("{FILE}{name}\n{text}\n")).collect::<String>().into_bytes()
}

/// What was refused is told: in some words, not in pages, and with no number that is none unless it was typed.
fn told(why: &dyn std::fmt::Display, input: &[u8]) {
    const MOST_LETTERS: usize = 2000;
    let said = why.to_string();
    assert!((10..MOST_LETTERS).contains(&said.chars().count()), "{} letters: {said}", said.chars().count());
    let typed = String::from_utf8_lossy(input).to_lowercase();
    // Numbers that are none, as they are printed: what was typed is quoted, and the end of a line in it stands as `\n`.
    let words = said.to_lowercase().replace("\\n", " ");
    for none in ["nan mm", "inf mm", "nan kg", "nan°"] {
        assert!(!words.contains(none) || typed.contains(&none[..3]), "{said}");
    }
}
