//! The commands, one to a file.

mod boards;
mod book;
mod check;
mod new;
mod offsets;
mod patterns;
mod pictures;
mod plan;
mod quote;
mod say;
mod screen;

use crate::arguments::{Arguments, Command, Which};
use crate::files;
use crate::output;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::folder::{BoatInput, BoatTexts};
use boat::lines::Lines;
use boat::plan::Plan;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Runs the command; the code to end with.
pub fn run(arguments: Arguments) -> Result<ExitCode, Trouble> {
    let Some(command) = arguments.command else { return screen::run(&arguments.screen) };
    match command {
        Command::New(new) => new::run(&new),
        Command::Check(check) => check::run(&check),
        Command::Offsets(offsets) => offsets::run(&offsets),
        Command::Plan(plan) => plan::run(&plan),
        Command::Book(book) => book::run(&book),
        Command::Patterns(patterns) => patterns::run(&patterns),
        Command::Pictures(pictures) => pictures::run(&pictures),
        Command::Boards(boards) => boards::run(&boards),
        Command::Quote(quote) => quote::run(&quote),
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

/// A boat as read, her lines faired.
struct Faired {
    texts: BoatTexts,
    input: BoatInput,
    lines: Lines,
}

/// Reads and fairs the boat asked for.
fn faired(which: &Which) -> Result<Faired, Trouble> {
    let (texts, folder) = files::boat(which)?;
    let input = boat::folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
    let progress = Progress::new();
    progress.stage("fairing the lines");
    let lines = boat::lines::fair(&input.table, &input.spec).map_err(|problem| Trouble::Plan {
        folder,
        problem: problem.into(),
        lengths: input.spec.lengths,
    })?;
    Ok(Faired { texts, input, lines })
}

/// Writes a drawing aside from what is told, where one was asked for, and then tells.
fn tell(text: &str, drawn: Option<(PathBuf, Vec<u8>)>) -> Result<ExitCode, Trouble> {
    if let Some((path, bytes)) = &drawn {
        files::write_whole(path, bytes, true)?;
    }
    output::result(text.as_bytes())?;
    if let Some((path, _)) = drawn {
        output::result(format!("\n{}\n", path.display()).as_bytes())?;
    }
    Ok(ExitCode::SUCCESS)
}

/// Whether the output asked for is standard output, by whichever name: as a file it could not be replaced.
fn is_standard_output(path: &Path) -> bool {
    ["-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"].iter().any(|name| path == Path::new(name))
}
