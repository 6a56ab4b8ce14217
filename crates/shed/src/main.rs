//! strakewise: plans the planking of a clinker boat and writes its bench book.
//!
//! The program is thin: it reads texts from a folder, hands them to the library, and prints or writes what comes back.
//! Standard output carries results only; remarks, progress and errors go to standard error.

mod arguments;
mod commands;
mod examples;
mod files;
mod interrupt;
mod new_boat;
mod output;
mod progress;
mod record;
mod said;
mod standing;
mod trouble;
mod web;

use std::process::ExitCode;

fn main() -> ExitCode {
    match arguments::Arguments::read().and_then(commands::run) {
        Ok(code) => code,
        Err(trouble) => trouble.end(),
    }
}
