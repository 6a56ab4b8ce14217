//! The record: what was measured and done at the boat, kept so that nothing is lost.
//!
//! Entries are added and never changed or erased: a correction is an entry of its own. One thread (`keeper`) writes them, many
//! at a time, and an entry is acknowledged only when the commit that holds it is on the disk. The file (`hold`) is made when it
//! is first needed, beside the boat's other files; an example's record is in memory. Whoever only reads needs no lock.

mod csv;
mod entry;
mod hold;
mod keeper;
mod readings;
mod state;
mod work;
mod worked;

pub use csv::{csv, said};
pub use entry::{Entry, Kind, Refusal};
pub use hold::read;
pub use keeper::Record;
pub use readings::{counting, readings};
pub use state::{State, states};
pub use worked::done_so_far;

use serde::Serialize;
use std::path::PathBuf;
use std::sync::Arc;

/// The file in the boat's folder.
pub const FILE: &str = "record.sqlite";

/// Locked by the program that writes the record; its address stands in it.
const LOCK: &str = "record.lock";

/// What entries made on this machine say as their device.
pub const THIS_MACHINE: &str = "this machine";

/// An entry as it is kept.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Stored {
    /// Its place in the record: orders the entries, whatever clocks say.
    pub seq: i64,
    /// As it was sent.
    #[serde(flatten)]
    pub entry: Entry,
    /// Who sent it.
    pub device: String,
    /// When it was stored, by this machine's clock, ms since 1970.
    pub stored: i64,
}

/// A phone that was let in once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phone {
    /// Its number.
    pub number: i64,
    /// What it is called, and its entries with it.
    pub name: String,
    /// SHA-256 of its token.
    pub token_sha256: [u8; 32],
    /// When it was paired, ms since 1970.
    pub paired: i64,
    /// When it was shut out, if it was.
    pub shut_out: Option<i64>,
}

/// All that the record holds.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Kept {
    /// In the order in which they were stored.
    pub entries: Vec<Arc<Stored>>,
    /// All phones, those shut out too.
    pub phones: Vec<Phone>,
    /// Made with the record: tells it from those of other boats.
    pub identity: String,
    /// The port that phones were let in at last.
    pub port: Option<u16>,
}

/// What became of entries that were sent.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Answer {
    /// Names of those stored now.
    pub stored: Vec<String>,
    /// Names of those that were there already.
    pub known: Vec<String>,
    /// Those that are not taken.
    pub refused: Vec<Refusal>,
}

/// Why the record cannot be written or read. Nothing that was acknowledged is lost by any of these.
#[derive(Debug, Clone, thiserror::Error)]
pub enum RecordError {
    /// Another server has her.
    #[error("{}: she is open for writing at {at}: go on there, or end that program first", path.display())]
    Elsewhere {
        /// The record.
        path: PathBuf,
        /// The other's address.
        at: String,
    },
    /// It is no sound database.
    #[error(
        "{}: the record is damaged ({why}). It is left as it is and nothing is written to it. End the program, move record.sqlite \
         and, where they are, record.sqlite-wal and record.sqlite-shm together to a safe place, and put your last copy there; \
         without one a new record is begun. docs/record.md says how to get out what can still be read",
        path.display()
    )]
    Damaged {
        /// The record.
        path: PathBuf,
        /// What SQLite says.
        why: String,
    },
    /// It is a sound file of another sort.
    #[error("{}: {why}; it is left as it is: move it elsewhere, or use the program that made it", path.display())]
    Strange {
        /// The record.
        path: PathBuf,
        /// What it is.
        why: String,
    },
    /// The disk is full.
    #[error(
        "{}: the disk is full: nothing was stored, and what was stored before is safe. Make room and send it again; phones keep \
         what they have until then",
        path.display()
    )]
    Full {
        /// The record.
        path: PathBuf,
    },
    /// Somebody took the file away, or the log beside it.
    #[error(
        "{}: the record was moved or replaced while it was open: nothing was stored. Put it back and send it again, or end the \
         program and start it anew",
        path.display()
    )]
    Gone {
        /// The record.
        path: PathBuf,
    },
    /// Another program is in the middle of writing to it.
    #[error("{}: another program is writing to the record: close it there, and send it again", path.display())]
    Busy {
        /// The record.
        path: PathBuf,
    },
    /// It cannot be written.
    #[error(
        "{}: cannot be written: {why}; nothing was stored. See that the folder is one you may write to, on a disk of this machine; \
         phones keep what they have until then",
        path.display()
    )]
    Write {
        /// The record.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
    /// It cannot be read.
    #[error("{}: cannot be read: {why}", path.display())]
    Read {
        /// The record.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
    /// The program is ending.
    #[error("the program is ending: nothing was stored; start it again and send it once more")]
    Ending,
}

/// Now, ms since 1970, by this machine's clock; 0 where that stands before 1970.
pub fn now_ms() -> i64 {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    since.map_or(0, |s| i64::try_from(s.as_millis()).unwrap_or(i64::MAX))
}

/// Bytes that nobody can guess, as letters 0 to 9 and a to f, two a byte.
pub fn random_letters<const N: usize>() -> Result<String, getrandom::Error> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes)?;
    Ok(letters(&bytes))
}

/// Bytes as letters 0 to 9 and a to f, two a byte.
pub fn letters(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}
