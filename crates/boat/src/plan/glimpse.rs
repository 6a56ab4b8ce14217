//! Lands and strakes alone, while a mark is being moved.

use super::lined::{self, Job};
use super::{PlanError, boards, pins};
use crate::findings::Finding;
use crate::folder::BoatInput;
use crate::lines::Skin;
use crate::lining::{LandLine, Mark};
use crate::planks::{self, Strake};

/// What of the plan is shown while a mark moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Glimpse {
    /// Land lines 0 (rabbet) to n (sheer).
    pub lands: Vec<LandLine>,
    /// Where they cross the sections.
    pub marks: Vec<Mark>,
    /// The strakes.
    pub strakes: Vec<Strake>,
    /// What to look at in them.
    pub findings: Vec<Finding>,
}

/// As the plan would have them: what comes after the strakes is left out.
///
/// # Errors
/// As [`super::plan`], for pins, lining and strakes.
pub fn glimpse(input: &BoatInput, skin: &Skin) -> Result<Glimpse, PlanError> {
    let spec = &input.spec;
    let pins = pins(&input.pins, skin)?;
    let boards = boards(input);
    let lined = lined::strakes(&Job { skin, table: &input.table, spec, pins: &pins, boards: &boards })?;
    let findings = planks::check(&lined.strakes, skin, spec, &pins);
    Ok(Glimpse { lands: lined.lands.lines(), marks: lined.lands.marks(skin), strakes: lined.strakes, findings })
}
