//! What has been done on her so far: strakes hung, fastenings counted off, hours.

use crate::jobs::{Job, Number, Task};

/// What was done on one strake, port and starboard.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OnStrake {
    /// It hangs.
    pub hung: [bool; 2],
    /// Fastenings counted off, those at moulds that are out too.
    pub fastened: [usize; 2],
    /// Hours.
    pub hours: [f64; 2],
}

/// What has been done on her.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Worked {
    /// Strake by strake, garboard first.
    pub strakes: Vec<OnStrake>,
    /// Fastenings of each strake to what lies below it, one side.
    pub of: Vec<usize>,
    /// Hours on the timbers.
    pub timbers: f64,
    /// Hours on rivets.
    pub rivets: f64,
    /// Hours on anything else.
    pub other: f64,
}

impl Worked {
    /// Nothing yet, on a boat with these jobs a side.
    #[must_use]
    pub fn nothing(jobs: &[Job]) -> Self {
        let strakes = jobs.iter().filter(|j| j.task == Task::Marks).map(|j| j.of).max().unwrap_or(0);
        let mut of = vec![0; strakes];
        for step in jobs.iter().filter(|j| matches!(j.task, Task::Rivet | Task::Waiting)).flat_map(|j| &j.steps) {
            let Number::Count(n) = step.number else { continue };
            if let Some(of) = step.strake.checked_sub(1).and_then(|k| of.get_mut(k)) {
                *of += n;
            }
        }
        Worked { strakes: vec![OnStrake::default(); strakes], of, ..Worked::default() }
    }

    /// All hours.
    #[must_use]
    pub fn hours(&self) -> f64 {
        let strakes: f64 = self.strakes.iter().flat_map(|s| s.hours).sum();
        strakes + self.timbers + self.rivets + self.other
    }
}
