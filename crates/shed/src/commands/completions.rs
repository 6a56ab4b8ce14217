//! `strakewise completions`.

use crate::arguments::{Arguments, Completions};
use crate::output::result;
use crate::trouble::Trouble;
use clap::CommandFactory;
use std::process::ExitCode;

/// Prints a shell's script.
pub fn run(asked: &Completions) -> Result<ExitCode, Trouble> {
    let mut bytes = Vec::new();
    clap_complete::generate(asked.shell, &mut Arguments::command(), "strakewise", &mut bytes);
    result(&bytes)?;
    Ok(ExitCode::SUCCESS)
}
