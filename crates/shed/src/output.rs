//! Standard output and standard error.

use crate::trouble::Trouble;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Writes a result to standard output. A reader that has gone away is no failure (`strakewise check | head`).
pub fn result(bytes: &[u8]) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    out.write_all(bytes).and_then(|()| out.flush()).map_err(|why| match why.kind() {
        ErrorKind::BrokenPipe => Trouble::ReaderGone,
        _ => Trouble::Write { path: PathBuf::from("standard output"), why },
    })
}

/// Writes a remark to standard error. Where even that cannot be written there is nobody left to tell.
pub fn remark(text: &str) {
    let _ = writeln!(io::stderr().lock(), "strakewise: {text}");
}

/// A folder as it is typed at a command line: in quotation marks where it has to be.
pub fn typed(folder: &Path) -> String {
    let text = folder.display().to_string();
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/' | '\\' | ':');
    if text.chars().all(plain) { text } else { format!("\"{text}\"") }
}
