//! `strakewise manual`.

use super::write::write_folder;
use crate::arguments::{Arguments, Manual, VERSION};
use crate::trouble::Trouble;
use boat::exchange::File;
use clap::CommandFactory;
use std::io;
use std::process::ExitCode;

/// Writes the pages: `strakewise.1`, and `strakewise-plan.1` and so on.
pub fn run(asked: &Manual) -> Result<ExitCode, Trouble> {
    let pages = pages().map_err(|why| Trouble::Write { path: asked.folder.clone(), why })?;
    write_folder("pages of the manual", &asked.folder, &pages)?;
    Ok(ExitCode::SUCCESS)
}

fn pages() -> io::Result<Vec<File>> {
    let mut whole = Arguments::command().disable_help_subcommand(true);
    // Names each command's page after the program, too.
    whole.build();
    let commands = whole.get_subcommands().cloned();
    std::iter::once(whole.clone()).chain(commands).map(page).collect()
}

fn page(command: clap::Command) -> io::Result<File> {
    let man = clap_mangen::Man::new(command).manual("Strakewise").source(format!("strakewise {VERSION}"));
    let mut bytes = Vec::new();
    man.render(&mut bytes)?;
    Ok(File { name: man.get_filename(), bytes })
}
