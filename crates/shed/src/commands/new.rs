//! `strakewise new`.

use crate::arguments::New;
use crate::trouble::Trouble;
use crate::{files, output};
use std::process::ExitCode;

/// Copies the example, overwriting nothing.
pub fn run(new: &New) -> Result<ExitCode, Trouble> {
    let all: Vec<_> = new.like.files().into_iter().map(|(name, text)| (new.folder.join(name), text)).collect();
    files::make_folder(&new.folder)?;
    files::write_new(&all)?;
    let made: String = all.iter().map(|(path, _)| format!("{}\n", path.display())).collect();
    output::result(made.as_bytes())?;
    output::remark(&format!("change them into your own boat; then: strakewise check {}", new.folder.display()));
    Ok(ExitCode::SUCCESS)
}
