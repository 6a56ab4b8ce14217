//! The commands, one to a file.

mod begun;
mod boards;
mod book;
mod check;
mod completions;
mod exchange;
mod manual;
mod new;
mod offsets;
mod patterns;
mod pictures;
mod plan;
mod quote;
mod read_in;
mod record;
mod repair;
mod say;
mod screen;
mod take_off;
mod write;

use crate::arguments::{Arguments, Command, Which};
use crate::files;
use crate::interrupt;
use crate::output;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::folder::{BoatInput, BoatTexts};
use boat::lines::Lines;
use boat::plan::Plan;
use boat::sawing::{self, Effort, Suited};
use boat::stock::Board;
use std::ops::ControlFlow;
use std::path::PathBuf;
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
        Command::Files(asked) => exchange::run(&asked),
        Command::Boards(boards) => boards::run(&boards),
        Command::Quote(quote) => quote::run(&quote),
        Command::Record(record) => record::run(&record),
        Command::Repair(repair) => repair::run(&repair),
        Command::TakeOff(asked) => take_off::run(&asked),
        Command::ReadIn(asked) => read_in::run(&asked),
        Command::Manual(asked) => manual::run(&asked),
        Command::Completions(asked) => completions::run(&asked),
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

/// A boat planned, her planks laid out on the boards of her rack, and scarfs where they suit them.
struct OnBoards {
    boards: Vec<Board>,
    suited: Suited,
    /// Somebody had it stopped.
    stopped: bool,
}

/// Plans the boat asked for and lays her planks out on her rack. Ctrl-C takes the best so far.
fn on_boards(which: &Which, effort: Effort, progress: &Progress) -> Result<OnBoards, Trouble> {
    let (texts, folder) = files::boat(which)?;
    let input = boat::folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
    if input.boards.is_empty() {
        return Err(Trouble::Usage(format!(
            "{}: there is no rack to get planks out of: list its boards in boards.csv (docs/boat-folder.md says how)",
            input.spec.name
        )));
    }
    let lengths = input.spec.lengths;
    let plan = boat::plan::plan_telling(&input, &mut |stage| progress.stage(stage))
        .map_err(|problem| Trouble::Plan { folder, problem, lengths })?;
    progress.stage("laying the planks out on the boards");
    interrupt::listen();
    let suited = sawing::suit(&plan, &input.boards, effort, &mut |now| {
        progress.say(format!(
            "laying the planks out on the boards, Ctrl-C takes the best so far: round {} of {} at most, {:.1} % of the wood cut \
             becomes plank",
            now.round,
            effort.rounds,
            100.0 * now.best.share()
        ));
        if interrupt::asked() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    })
    .map_err(|why| Trouble::Usage(format!("{}: {why}", plan.spec.name)))?;
    Ok(OnBoards { boards: input.boards, suited, stopped: interrupt::asked() })
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
