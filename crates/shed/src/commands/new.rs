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
    output::remark(&format!(
        "all of it is the example's, the rack, the rates and the name over them too: type your own over it, or empty a list; then: strakewise check {}",
        output::typed(&new.folder)
    ));
    Ok(ExitCode::SUCCESS)
}
