//! `[[loads]]` in the text of boat.toml: found line by line, changed, put in and taken out. The rest of the file stays as it was
//! typed, but for what ends a line; where that cannot be made sure of, nothing is changed.

use crate::web::desk::{View, boat_texts};
use crate::web::store::FileName;
use boat::folder::{self, BoatTexts, FolderError, loads_as_typed};
use std::collections::BTreeMap;
use std::ops::Range;

/// As they stand in boat.toml.
pub fn loads(view: &View) -> Vec<BTreeMap<String, String>> {
    view.texts.get(FileName::Boat).and_then(loads_as_typed).unwrap_or_default()
}

/// Why boat.toml was not changed.
#[derive(Debug, thiserror::Error)]
pub enum NotWritten {
    /// The folder cannot be read, as it was or as it would be.
    #[error(transparent)]
    Unread(#[from] FolderError),
    /// A file is missing.
    #[error("{0}")]
    Missing(String),
    /// They are written in another way than one `[[loads]]` after the other.
    #[error(
        "the loads stand in boat.toml in a form that this page cannot change: change them there, on the page Files"
    )]
    Unknown,
}

/// The texts with that load changed, put in or, without a body, taken out; the folder read again, and which load it is there.
pub fn written(
    view: &View,
    which: Option<usize>,
    body: Option<&[String]>,
) -> Result<(BoatTexts, folder::BoatInput, usize), NotWritten> {
    let mut texts = boat_texts(&view.texts).map_err(NotWritten::Missing)?;
    let before = folder::read(&texts)?;
    let count = before.spec.loads.len();
    let n = which.map_or(count, |n| n.saturating_sub(1));
    texts.toml = changed(&texts.toml, count, n, body).ok_or(NotWritten::Unknown)?;
    let after = folder::read(&texts)?;
    // Nothing else may have changed with it.
    let mut rest = after.spec.clone();
    rest.loads.clone_from(&before.spec.loads);
    if rest != before.spec {
        return Err(NotWritten::Unknown);
    }
    Ok((texts, after, n))
}

/// The text with load `n`, from 0, given that body; `n` past the last puts one in, no body takes it out. `None` where the heads of
/// `count` loads are not found line by line.
fn changed(text: &str, count: usize, n: usize, body: Option<&[String]>) -> Option<String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let blocks = blocks(&lines);
    if blocks.len() != count {
        return None;
    }
    match (blocks.get(n), body) {
        (Some(block), Some(body)) => {
            lines.splice(block.start + 1..block.end, body.iter().cloned());
        }
        (Some(block), None) => {
            // With the empty line over it.
            let from = block.start - usize::from(block.start > 0 && lines[block.start - 1].trim().is_empty());
            lines.drain(from..block.end);
        }
        (None, Some(body)) => {
            let at = blocks.last().map_or(lines.len(), |b| b.end);
            let head = [String::new(), "[[loads]]".to_owned()];
            lines.splice(at..at, head.into_iter().chain(body.iter().cloned()));
        }
        (None, None) => return None,
    }
    Some(lines.join("\n") + "\n")
}

/// The lines of each load, from its head to its last key.
fn blocks(lines: &[String]) -> Vec<Range<usize>> {
    let head = |line: &str| line.trim_start().starts_with('[') && !line.trim_start().starts_with("[\"");
    let is_load = |line: &str| {
        let bare: String =
            line.split('#').next().unwrap_or_default().chars().filter(|c| !c.is_whitespace()).collect();
        bare == "[[loads]]"
    };
    let said = |line: &str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    let starts = lines.iter().enumerate().filter(|(_, l)| is_load(l)).map(|(i, _)| i);
    starts
        .map(|start| {
            let end = (start + 1..lines.len()).find(|i| head(&lines[*i])).unwrap_or(lines.len());
            let last = (start..end).rev().find(|i| said(&lines[*i])).unwrap_or(start);
            start..last + 1
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::changed;

    #[test]
    fn loads_are_found_line_by_line_or_not_touched() {
        let text = "a = 1\n\n[[loads]] # always\nname = \"x\"\nwhen = [\n  \"y\",\n]\n\n# of the next\n[[loads]]\nname = \"z\"\n\n[interior]\n";
        let body = vec!["name = \"new\"".to_owned()];
        let put = changed(text, 2, 2, Some(&body)).unwrap();
        assert!(put.ends_with("name = \"z\"\n\n[[loads]]\nname = \"new\"\n\n[interior]\n"), "{put}");
        let first = changed(text, 2, 0, Some(&body)).unwrap();
        assert!(first.contains("[[loads]] # always\nname = \"new\"\n\n# of the next\n[[loads]]"), "{first}");
        let out = changed(text, 2, 0, None).unwrap();
        assert!(out.starts_with("a = 1\n\n# of the next\n[[loads]]"), "{out}");
        // As one list in brackets they are somebody else's.
        assert_eq!(changed("loads = [{ name = \"x\" }]\n", 1, 1, Some(&body)), None);
    }
}
