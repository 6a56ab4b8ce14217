//! `strakewise new`.

use crate::arguments::New;
use crate::trouble::Trouble;
use crate::{files, output};
use std::process::ExitCode;

/// Copies the example, overwriting nothing.
pub fn run(new: &New) -> Result<ExitCode, Trouble> {
    let example = new.like.files();
    // Looked for first, so that a folder that is refused is left without half an example.
    if let Some(path) = example.iter().map(|(name, _)| new.folder.join(name)).find(|path| path.exists()) {
        return Err(Trouble::Exists { path, what: "folder" });
    }
    files::make_folder(&new.folder)?;
    let mut made = String::new();
    for (name, text) in example {
        let path = new.folder.join(name);
        files::write_whole(&path, text.as_bytes(), false)?;
        made.push_str(&format!("{}\n", path.display()));
    }
    output::result(made.as_bytes())?;
    output::remark(&format!("change them into your own boat; then: strakewise check {}", new.folder.display()));
    Ok(ExitCode::SUCCESS)
}
