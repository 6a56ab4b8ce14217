//! What commands write: a file or a folder named after the boat.

use crate::trouble::Trouble;
use crate::{files, output};
use boat::exchange::File;
use std::path::{Path, PathBuf};

/// A file named after the boat: small letters and digits of any script, hyphens between words, then `end`.
pub fn file_name(boat: &str, end: &str) -> PathBuf {
    let plain: String =
        boat.chars().flat_map(char::to_lowercase).map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let name = if words.is_empty() { "boat".to_owned() } else { words.join("-") };
    PathBuf::from(format!("{name}{end}"))
}

/// Writes each file whole into the folder, which is made if it is not there; says where each is. `what` they are, in words.
pub fn write_folder(what: &'static str, folder: &Path, files: &[File]) -> Result<(), Trouble> {
    if folder.exists() && !folder.is_dir() {
        return Err(Trouble::NotAFolder { what, path: folder.to_owned() });
    }
    files::make_folder(folder)?;
    let mut written = String::new();
    for file in files {
        let path: PathBuf = folder.join(&file.name);
        files::write_whole(&path, &file.bytes, true)?;
        written.push_str(&format!("{}\n", path.display()));
    }
    output::result(written.as_bytes())
}

/// Whether the output asked for is standard output, by whichever name: as a file it could not be replaced.
pub fn is_standard_output(path: &Path) -> bool {
    ["-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"].iter().any(|name| path == Path::new(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn books_are_named_after_their_boats() {
        assert_eq!(file_name("Corncrake", "-book.pdf"), PathBuf::from("corncrake-book.pdf"));
        assert_eq!(file_name("../Old  Sarah II.", "-book.pdf"), PathBuf::from("old-sarah-ii-book.pdf"));
        assert_eq!(file_name("Æðr", "-book.pdf"), PathBuf::from("æðr-book.pdf"));
        assert_eq!(file_name("!", "-book.pdf"), PathBuf::from("boat-book.pdf"));
    }
}
