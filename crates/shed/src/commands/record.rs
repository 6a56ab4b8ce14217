//! `strakewise record`: what was measured and done, as CSV.

use crate::arguments::Record;
use crate::files::folder_of;
use crate::output::result;
use crate::record::{FILE, csv, read};
use crate::trouble::Trouble;
use std::process::ExitCode;

/// Prints the record of a folder.
pub fn run(asked: &Record) -> Result<ExitCode, Trouble> {
    let folder = folder_of(&asked.folder);
    let path = folder.join(FILE);
    if !path.exists() {
        let hint = "it is made when the first entry is stored, or the first phone let in; docs/record.md tells more";
        return Err(Trouble::Missing { path, what: "record", hint });
    }
    result(csv(&read(folder)?.entries).as_bytes())?;
    Ok(ExitCode::SUCCESS)
}
