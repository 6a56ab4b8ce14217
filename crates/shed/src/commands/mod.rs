//! The commands, one to a file.

mod book;
mod check;
mod new;
mod patterns;
mod plan;
mod say;

use crate::arguments::{Arguments, Command, Which};
use crate::files;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::plan::Plan;
use std::process::ExitCode;

/// Runs the command; the code to end with.
pub fn run(arguments: Arguments) -> Result<ExitCode, Trouble> {
    match arguments.command {
        Command::New(new) => new::run(&new),
        Command::Check(check) => check::run(&check),
        Command::Plan(plan) => plan::run(&plan),
        Command::Book(book) => book::run(&book),
        Command::Patterns(patterns) => patterns::run(&patterns),
    }
}

/// Plans the boat asked for.
fn planned(which: &Which, progress: &Progress) -> Result<Plan, Trouble> {
    let (texts, folder) = files::boat(which)?;
    let input = boat::folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
    boat::plan::plan_telling(&input, &mut |stage| progress.stage(stage)).map_err(|problem| Trouble::Plan {
        folder,
        problem,
        lengths: input.spec.lengths,
    })
}
