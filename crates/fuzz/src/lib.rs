//! Whatever is read or planned comes to an answer or to an error that says what to do: every reader and the whole planning, fed
//! with spoilt texts and moved numbers.
//!
//! A [`Target`] is a plain function of bytes that starts from texts a builder could have. [`Spoiler`] spoils them, the same way for
//! the same seed; [`guard`] ends the process where one input takes more time or memory than it may, and keeps the input. The short run
//! is a test (`tests/short.rs`), the long one a command (`main.rs`).
//! Every input that was ever found stands in `found/` and is run first. docs/fuzzing.md tells more.

pub mod found;
pub mod guard;
mod spoil;
pub mod targets;

pub use spoil::Spoiler;

/// Something that reads.
pub struct Target {
    /// Its name on the command line and in `found/`.
    pub name: &'static str,
    /// What may be spoilt.
    pub spoilt: Spoilt,
    /// Good inputs to begin with.
    pub seeds: fn() -> Vec<Vec<u8>>,
    /// Reads one input. Panics where the answer is none.
    pub run: fn(&[u8]),
    /// Inputs in the short run.
    pub short: usize,
}

/// What of a good input is spoilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spoilt {
    /// Anything: bytes, words, lines, numbers.
    Anything,
    /// Its numbers alone, most of them a little, so that what comes of it is often still read.
    Numbers,
}
