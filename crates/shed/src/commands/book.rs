//! `strakewise book`.

use super::planned;
use crate::arguments::Book;
use crate::progress::Progress;
use crate::trouble::Trouble;
use crate::{files, output};
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Plans and writes.
pub fn run(asked: &Book) -> Result<ExitCode, Trouble> {
    let to_output = asked.output.as_deref() == Some(Path::new("-"));
    if to_output && std::io::stdout().is_terminal() {
        let why = "a PDF is nothing for a terminal: give a file after -o, or send the output on with > or |";
        return Err(Trouble::Usage(why.to_owned()));
    }
    let (bytes, name) = {
        let progress = Progress::new();
        let plan = planned(&asked.which, &progress)?;
        progress.stage("drawing the book");
        (boat::paper::book::write(&plan, asked.paper.size())?, plan.spec.name)
    };
    if to_output {
        output::result(&bytes)?;
        return Ok(ExitCode::SUCCESS);
    }
    let path = asked.output.clone().unwrap_or_else(|| file_name(&name));
    files::write_whole(&path, &bytes, true)?;
    output::result(format!("{}\n", path.display()).as_bytes())?;
    Ok(ExitCode::SUCCESS)
}

/// A file named after the boat: small letters and digits of any script, hyphens between words.
fn file_name(boat: &str) -> PathBuf {
    let plain: String =
        boat.chars().flat_map(char::to_lowercase).map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let name = if words.is_empty() { "boat".to_owned() } else { words.join("-") };
    PathBuf::from(format!("{name}-book.pdf"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn books_are_named_after_their_boats() {
        assert_eq!(file_name("Corncrake"), PathBuf::from("corncrake-book.pdf"));
        assert_eq!(file_name("../Old  Sarah II."), PathBuf::from("old-sarah-ii-book.pdf"));
        assert_eq!(file_name("Æðr"), PathBuf::from("æðr-book.pdf"));
        assert_eq!(file_name("!"), PathBuf::from("boat-book.pdf"));
    }
}
