//! What is done at the boat, in the order of the work, one number at a time.
//!
//! A job is a run of numbers of one kind: where each mould stands; then for every strake its marks on the moulds, the bevel of the
//! land it will lie on, its widths before it is hung, what the tape reads when it hangs, and its rivets; at last the rivets that
//! waited for a mould. Every number says where it is measured from. Nothing here is new: all of it is the plan's.

mod moulds;
mod number;
mod riveting;
mod strake;

use crate::plan::Plan;

pub use number::Number;

/// What kind of numbers a job has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Task {
    /// Where the moulds stand.
    SetUp,
    /// A strake's upper edge on the moulds.
    Marks,
    /// The land that it will lie on, planed.
    Bevel,
    /// Its widths, before it is hung.
    Fit,
    /// The tape on it, when it hangs.
    Measure,
    /// Its fastenings.
    Rivet,
    /// The rivets that a mould was in the way of.
    Waiting,
}

impl Task {
    /// For addresses and the record.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Task::SetUp => "set-up",
            Task::Marks => "marks",
            Task::Bevel => "bevel",
            Task::Fit => "fit",
            Task::Measure => "measure",
            Task::Rivet => "rivet",
            Task::Waiting => "waiting",
        }
    }
}

/// A run of numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// What kind.
    pub task: Task,
    /// Which strake, from 1, or which mould from 1 for rivets that waited; 0 for the moulds.
    pub of: usize,
    /// What it is, in words.
    pub title: String,
    /// How it is done, in a line.
    pub how: String,
    /// Its numbers, from the bow.
    pub steps: Vec<Step>,
}

/// One number and where it is measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Where on her: `station 4`, `stem`.
    pub place: String,
    /// The section's name as in marks.csv, or of the one where a bay begins.
    pub section: String,
    /// Which strake the step is about, from 1; 0: none.
    pub strake: usize,
    /// What it is.
    pub number: Number,
    /// What it is measured from.
    pub from: String,
    /// Other numbers that help there.
    pub also: Vec<(String, Number)>,
    /// The mark that a reading is taken from, along the mould from the rabbet, mm; `None` where nothing is read.
    pub mark: Option<f64>,
}

/// What a strake that hangs was to be at a section, when it was its turn. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToBe {
    /// From 1.
    pub strake: usize,
    /// Index into the plan's sections.
    pub section: usize,
    /// Its whole width.
    pub width: f64,
    /// Its mark, along the mould from the rabbet.
    pub mark: f64,
    /// That mark above the base line.
    pub height: f64,
    /// Read there, not taken from what was read beside it.
    pub read: bool,
}

/// All jobs of one side. `hung` says what the strakes that hang were to be; `plan` has them as they lie.
#[must_use]
pub fn jobs(plan: &Plan, hung: &[ToBe]) -> Vec<Job> {
    let mut jobs = vec![moulds::set_up(plan)];
    for strake in &plan.strakes {
        let k = strake.strake;
        jobs.push(strake::marks(plan, k));
        jobs.extend(strake::bevel(plan, k));
        jobs.push(strake::fit(plan, strake));
        jobs.push(strake::measure(plan, strake, hung));
        jobs.extend(riveting::rivet(plan, strake));
    }
    jobs.extend(riveting::waiting(plan));
    jobs.retain(|j| !j.steps.is_empty());
    jobs
}
