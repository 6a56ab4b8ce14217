//! `strakewise files`.

use super::planned;
use super::write::{file_name, is_standard_output, write_folder};
use crate::arguments::Files;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::exchange::{self, Kind};
use boat::paper::PaperError;
use std::process::ExitCode;

/// Plans and writes.
pub fn run(asked: &Files) -> Result<ExitCode, Trouble> {
    if asked.output.as_deref().is_some_and(is_standard_output) {
        return Err(Trouble::Usage("there are several files: give a folder after -o".to_owned()));
    }
    let (boat, files) = {
        let progress = Progress::new();
        let plan = planned(&asked.which, &progress)?;
        progress.stage("writing the files");
        let only: Vec<Kind> = asked.only.iter().map(|kind| kind.kind()).collect();
        let kinds = if only.is_empty() { &Kind::ALL[..] } else { &only };
        let files = exchange::files(&plan, kinds).map_err(PaperError::from)?;
        (plan.spec.name, files)
    };
    let folder = asked.output.clone().unwrap_or_else(|| file_name(&boat, "-files"));
    write_folder("files", &folder, &files)?;
    Ok(ExitCode::SUCCESS)
}
