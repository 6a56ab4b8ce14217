//! The planned lands and strakes, and the rest of them lined again when some hang: what `hung` takes of the plan.

use super::lined::{self, Job, Lined};
use super::{Plan, PlanError, boards, pins};
use crate::folder::BoatInput;
use crate::lines::Lines;
use crate::lining::again::Kept;
use crate::lining::{Lands, LiningError, Pinned};

/// A boat as planned, of which some strakes hang.
pub(crate) struct Rest<'a> {
    pub input: &'a BoatInput,
    pub lines: &'a Lines,
    pub pins: Vec<Pinned>,
    boards: Vec<[f64; 2]>,
    /// With all strakes to be hung.
    pub planned: Lined,
}

impl<'a> Rest<'a> {
    pub(crate) fn of(input: &'a BoatInput, lines: &'a Lines) -> Result<Self, PlanError> {
        let pins = pins(&input.pins, &lines.skin)?;
        let boards = boards(input);
        let job = Job { skin: &lines.skin, table: &input.table, spec: &input.spec, pins: &pins, boards: &boards };
        let planned = lined::strakes(&job)?;
        Ok(Rest { input, lines, pins, boards, planned })
    }

    fn job(&self) -> Job<'_> {
        let Rest { input, lines, pins, boards, .. } = self;
        Job { skin: &lines.skin, table: &input.table, spec: &input.spec, pins, boards }
    }

    /// The marks of the rest, near enough where bevels are at their limits.
    pub(crate) fn marks(&self, kept: &Kept<'_>) -> Result<Lands, LiningError> {
        lined::marks_again(&self.job(), &self.planned, kept)
    }

    /// The lands and strakes with the rest lined again.
    pub(crate) fn lined(&self, kept: &Kept<'_>) -> Result<Lined, PlanError> {
        lined::rest(&self.job(), &self.planned, kept)
    }

    /// The whole plan on `lined`.
    pub(crate) fn plan(&self, lined: Lined) -> Result<Plan, PlanError> {
        super::laid(self.input, self.lines.clone(), lined, &self.pins, &mut |_| {})
    }
}
