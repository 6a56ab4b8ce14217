//! `strakewise offsets`.

use super::write::is_standard_output;
use super::{Faired, faired};
use crate::arguments::Offsets;
use crate::trouble::Trouble;
use crate::{files, output};
use std::process::ExitCode;

/// Fairs, and prints or writes the corrected table. A file that is there is kept: it may be the table as printed.
pub fn run(asked: &Offsets) -> Result<ExitCode, Trouble> {
    let Faired { texts, input, lines } = faired(&asked.which)?;
    let text = lines.corrected(&texts.offsets, &input.table, &input.spec);
    match asked.output.as_deref().filter(|path| !is_standard_output(path)) {
        None => output::result(text.as_bytes())?,
        Some(path) => {
            files::write_whole(path, text.as_bytes(), false)?;
            output::result(format!("{}\n", path.display()).as_bytes())?;
        }
    }
    Ok(ExitCode::SUCCESS)
}
