//! What can go wrong in the program, and with which code it ends.

use crate::record::RecordError;
use crate::web::NotLetIn;
use boat::folder::{FolderError, ListError, RatesError, RepairFolderError};
use boat::offsets::TableError;
use boat::paper::PaperError;
use boat::plan::PlanError;
use boat::quote::QuoteError;
use boat::read_in::ReadInError;
use boat::repair::RepairError;
use boat::taken_off::TakeOffError;
use boat::units::Notation;
use std::io;
use std::path::PathBuf;
use std::process::ExitCode;

/// Why a command did not finish.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// The boat's folder.
    #[error("{}: {problem}", folder.display())]
    Folder {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// What is wrong in it.
        problem: FolderError,
    },
    /// No plan comes of it.
    #[error("{}: {}", folder.display(), problem.said(*lengths))]
    Plan {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// Why.
        problem: PlanError,
        /// The boat's notation.
        lengths: Notation,
    },
    /// What things cost.
    #[error("{}: {problem}", folder.display())]
    Rates {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// What is wrong in rates.toml.
        problem: RatesError,
    },
    /// No quote comes of it.
    #[error("{}: {problem}", folder.display())]
    Quote {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// Why.
        problem: QuoteError,
    },
    /// The folder of a repair.
    #[error("{}: {problem}", folder.display())]
    Repair {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// What is wrong in it.
        problem: RepairFolderError,
    },
    /// No plank comes of it.
    #[error("{}: {}", folder.display(), problem.said(*lengths))]
    Plank {
        /// The folder, or the example's name.
        folder: PathBuf,
        /// Why.
        problem: RepairError,
        /// The repair's notation.
        lengths: Notation,
    },
    /// A list of points.
    #[error("{}: read as {problem}", path.display())]
    Points {
        /// The file.
        path: PathBuf,
        /// What is wrong in it.
        problem: ListError,
    },
    /// No offsets come of it.
    #[error("{}: read as taken.csv: {problem}", path.display())]
    TakeOff {
        /// The file.
        path: PathBuf,
        /// Why.
        problem: TakeOffError,
    },
    /// Somebody else's file.
    #[error("{}: {problem}", path.display())]
    ReadIn {
        /// The file.
        path: PathBuf,
        /// Why it cannot be read in.
        problem: ReadInError,
    },
    /// The table on standard input.
    #[error("standard input, read as {0}")]
    Table(TableError),
    /// The command line.
    #[error("{0}")]
    Usage(String),
    /// The screen.
    #[error(
        "the screen cannot be opened on port {port}: {why}; give another port after --port, or 0 for any that is free"
    )]
    Serve {
        /// The port.
        port: u16,
        /// Why.
        why: io::Error,
    },
    /// Phones.
    #[error("{0}")]
    Phones(#[from] NotLetIn),
    /// The record.
    #[error("{0}")]
    Record(#[from] RecordError),
    /// A file or folder that is not there.
    #[error("{}: there is no such {what}; {hint}", path.display())]
    Missing {
        /// Where.
        path: PathBuf,
        /// `folder`, `file` or `record`.
        what: &'static str,
        /// What to do.
        hint: &'static str,
    },
    /// A file that cannot be read.
    #[error("{}: cannot be read: {why}", path.display())]
    Read {
        /// Where.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
    /// A file that is far too large.
    #[error("{}: the file is larger than {limit} bytes, the limit; is it the right file?", path.display())]
    TooLarge {
        /// Where.
        path: PathBuf,
        /// The limit.
        limit: u64,
    },
    /// Bytes that are no text.
    #[error("{}, line {line}: byte {at} of the file is not UTF-8 text; save it again as UTF-8 (spreadsheets: CSV UTF-8)", path.display())]
    NotText {
        /// Where.
        path: PathBuf,
        /// The line it stands on, from 1.
        line: usize,
        /// The first byte that is none, from 1.
        at: usize,
    },
    /// A file that must not be overwritten.
    #[error("{}: exists already and is left as it is; choose another {what}", path.display())]
    Exists {
        /// Where.
        path: PathBuf,
        /// What was to be made: `folder` or `file`.
        what: &'static str,
    },
    /// Something that is no ordinary file, where one is to be written.
    #[error("{}: cannot be written: it is not an ordinary file and is left as it is; name a file, or - for standard output", path.display())]
    NotAFile {
        /// Where.
        path: PathBuf,
    },
    /// Something that is no folder, where one is to be written.
    #[error("{}: the {what} need a folder, and this is a file and is left as it is; name another after -o", path.display())]
    NotAFolder {
        /// What were to be written: `patterns`.
        what: &'static str,
        /// Where.
        path: PathBuf,
    },
    /// A folder to write in that is not there.
    #[error("{}: cannot be written: there is no folder {}; make it first", path.display(), folder.display())]
    NoFolder {
        /// What was to be written.
        path: PathBuf,
        /// Where.
        folder: PathBuf,
    },
    /// A file that cannot be written.
    #[error("{}: cannot be written: {why}", path.display())]
    Write {
        /// Where.
        path: PathBuf,
        /// What the system says.
        why: io::Error,
    },
    /// Whoever reads our output has read enough.
    #[error("the reader of the output has gone")]
    ReaderGone,
    /// Paper.
    #[error("it could not be drawn: {0}")]
    Paper(#[from] PaperError),
}

impl Trouble {
    /// Tells it on standard error; the code to end with.
    pub fn end(self) -> ExitCode {
        let code = match &self {
            // Whoever closed the pipe knows it: no message, and no failure.
            Trouble::ReaderGone => return ExitCode::SUCCESS,
            Trouble::Write { .. }
            | Trouble::NoFolder { .. }
            | Trouble::NotAFile { .. }
            | Trouble::NotAFolder { .. }
            | Trouble::Exists { .. }
            | Trouble::Phones(_)
            | Trouble::Paper(_) => 3,
            _ => 2,
        };
        crate::output::remark(&self.to_string());
        ExitCode::from(code)
    }
}
