//! The boat as she stands: the strakes that hang where the tape found them, and the rest lined again on them.
//!
//! Every plank sits on the one below, so what one is off the next inherits. A strake is *hung* when there is a reading of
//! it, or of one above it. From its readings comes where its upper inner edge lies on each mould (`facts`); where none was
//! taken, what the readings beside it say of a line as stiff as a plank (`stiff`); of a strake without any, that it lies on
//! its marks as they were lined when it was its turn. On what hangs the rest is lined with least change
//! ([`crate::lining::again`]) and the whole plan made: the next plank's shape is for the boat that stands there.
//!
//! A reading that cannot be right is not used but asked for again; read twice alike it is believed. What each strake's lie
//! costs is judged by limits that a builder can see ([`judge`]); what is to come is said while much can still be done
//! about it ([`forecast`]).
//!
//! Frame: girths are mm along the mould from the rabbet, as marks are; + is up. Cannot do: tell a mould that moved from a
//! plank that did.

mod doubt;
mod facts;
pub mod forecast;
pub mod judge;
mod problem;
mod said;
mod stiff;

use crate::folder::BoatInput;
use crate::lines::Lines;
use crate::lining::again::{Change, Kept};
use crate::plan::lined::Lined;
use crate::plan::rest::Rest;
use crate::plan::{Plan, plan_faired};
use crate::planks::Strake;
use crate::units::Notation;

pub use doubt::{Again, Doubt};
use facts::{CLOSE, Own};
pub use forecast::{Forecast, GivesUp};
pub use judge::{Judged, Why};
pub use problem::HungError;

/// Which side of her.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Left, looking forward.
    Port,
    /// Right, looking forward.
    Starboard,
}

impl Side {
    /// Both, port first.
    pub const BOTH: [Side; 2] = [Side::Port, Side::Starboard];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Side::Port => "port",
            Side::Starboard => "starboard",
        }
    }
}

/// What the tape was held to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// From the mark to the upper inner edge, mm, + above; `mark` is the girth of the mark as it was shown.
    FromMark {
        /// Off the mark.
        off: f64,
        /// The mark, along the mould from the rabbet.
        mark: f64,
    },
    /// The strake's full width on the outside, square to the land, mm.
    Width(f64),
    /// Height of the upper inner edge above the base line, mm.
    Height(f64),
}

/// One reading of the tape.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The side it was taken on.
    pub side: Side,
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// The section's name, as marks are named: `stem`, `3`, `transom`.
    pub section: String,
    /// What was read.
    pub measure: Measure,
}

impl Reading {
    /// It in words: `port, strake 4 at station 5: 6 mm above its mark`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        let end = !self.section.starts_with(|c: char| c.is_ascii_digit());
        let at = if end { self.section.clone() } else { format!("station {}", self.section) };
        let what = match self.measure {
            Measure::FromMark { off, .. } if off < 0.0 => format!("{} below its mark", lengths.said_fine(-off)),
            Measure::FromMark { off, .. } => format!("{} above its mark", lengths.said_fine(off)),
            Measure::Width(wide) => format!("{} wide", lengths.said_fine(wide)),
            Measure::Height(height) => format!("{} above the base line", lengths.said_fine(height)),
        };
        format!("{}, strake {} at {at}: {what}", self.side.word(), self.strake)
    }
}

/// Where a hung strake's upper inner edge lies at a section.
#[derive(Debug, Clone, PartialEq)]
pub struct BuiltMark {
    /// 1 to `hung`.
    pub strake: usize,
    /// Index into the plan's sections.
    pub section: usize,
    /// Where it was planned before anything hung, mm.
    pub planned: f64,
    /// Where it was lined when it was its turn, mm.
    pub mark: f64,
    /// How high that is above the base line, mm.
    pub height: f64,
    /// How wide the strake was to be there, mm.
    pub width: f64,
    /// Where it lies, mm.
    pub built: f64,
    /// Read there, not taken from what was read beside it.
    pub read: bool,
    /// What comes of it.
    pub judged: Judged,
    /// Why it is not fine.
    pub why: Option<Why>,
}

/// One side of the boat as she stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Which side.
    pub side: Side,
    /// Her plan, with hung strakes where they lie and the rest lined again. Its sheer may give a little (`forecast`).
    pub plan: Plan,
    /// How many strakes hang.
    pub hung: usize,
    /// Where the hung ones lie: strake by strake, from the bow.
    pub marks: Vec<BuiltMark>,
    /// Readings that cannot be right, to be taken again.
    pub again: Vec<Again>,
    /// What comes of it.
    pub forecast: Forecast,
}

/// The sheer should lie within this of its design line, mm: by eye a line smoothly so far off is the same line. Common
/// practice, no source.
pub const SHEER: f64 = 3.0;
/// What the sheer gives one who works closely, to even a jump, mm: what [`SHEER`] leaves when the last plank and the tape have
/// had theirs.
const CLOSE_GIVES: f64 = SHEER - CLOSE;
/// What a tape read to a millimetre may be off, mm.
const TAPE: f64 = 0.5;
/// The sheer gives no more than this to any other, mm.
const MOST_GIVEN: f64 = 1.5;

/// A boat as planned, for her two sides to be seen as they stand.
pub struct Planned<'a> {
    rest: Rest<'a>,
    /// Land lines as marks along the moulds from the rabbet, mm: `[land][section]`.
    pub girths: Vec<Vec<f64>>,
}

/// How one side hangs and is lined again: a [`Standing`] without the whole plan, for when there is no time for that.
#[derive(Debug, Clone, PartialEq)]
pub struct Lie {
    /// How many strakes hang.
    pub hung: usize,
    /// Lands 0 (rabbet) to n as marks along the moulds from the rabbet, mm: `[land][section]`.
    pub girths: Vec<Vec<f64>>,
    /// All strakes, on those lands.
    pub strakes: Vec<Strake>,
    /// Where the hung ones lie: strake by strake, from the bow.
    pub marks: Vec<BuiltMark>,
    /// Readings that cannot be right, to be taken again.
    pub again: Vec<Again>,
    /// What comes of it.
    pub forecast: Forecast,
}

/// One side of the boat as `readings` have her, those of the other side left out. `lines` must come of
/// [`crate::lines::fair`] for the same table and `[lines]`. A later reading of the same place stands for the earlier ones.
/// Without readings the plan is [`crate::plan::plan`]'s.
///
/// # Errors
/// [`HungError`]: a reading of a strake or section that she has not, or believed readings that leave no possible boat; it
/// names the reading. Where there is no plan at all, why.
pub fn as_she_stands(
    input: &BoatInput,
    lines: &Lines,
    readings: &[Reading],
    side: Side,
) -> Result<Standing, HungError> {
    if readings.iter().all(|r| r.side != side) {
        let plan = plan_faired(input, lines.clone(), &mut |_| {})?;
        let forecast = Forecast::of_plan(&plan);
        return Ok(Standing { side, plan, hung: 0, marks: Vec::new(), again: Vec::new(), forecast });
    }
    Planned::of(input, lines)?.standing(readings, side)
}

impl<'a> Planned<'a> {
    /// The lands and strakes planned for `input`, `lines` as in [`as_she_stands`].
    ///
    /// # Errors
    /// [`HungError::Plan`] where there is no plan.
    pub fn of(input: &'a BoatInput, lines: &'a Lines) -> Result<Self, HungError> {
        let rest = Rest::of(input, lines)?;
        let girths = rest.planned.lands.girths(&lines.skin);
        Ok(Planned { rest, girths })
    }

    /// The strakes as planned.
    #[must_use]
    pub fn strakes(&self) -> &[Strake] {
        &self.rest.planned.strakes
    }

    /// How one side hangs, and how the rest is lined.
    ///
    /// # Errors
    /// As [`as_she_stands`].
    pub fn lie(&self, readings: &[Reading], side: Side) -> Result<Lie, HungError> {
        let (lined, lie) = self.lined(readings, side)?;
        Ok(Lie { girths: lined.lands.girths(&self.rest.lines.skin), strakes: lined.strakes, ..lie })
    }

    /// One side with the whole plan for it.
    ///
    /// # Errors
    /// As [`as_she_stands`].
    pub fn standing(&self, readings: &[Reading], side: Side) -> Result<Standing, HungError> {
        let (lined, Lie { hung, marks, again, forecast, .. }) = self.lined(readings, side)?;
        let plan = Plan { side: Some(side.word()), ..self.rest.plan(lined)? };
        Ok(Standing { side, plan, hung, marks, again, forecast })
    }

    /// The lands and strakes, and what else there is to say.
    fn lined(&self, readings: &[Reading], side: Side) -> Result<(Lined, Lie), HungError> {
        let Planned { rest, girths: planned } = self;
        let readings: Vec<&Reading> = readings.iter().filter(|r| r.side == side).collect();
        let facts = facts::facts(rest, planned, &readings)?;
        let hung = facts.girths.len() - 1;
        facts.pins_above(rest, &readings)?;
        let kept = kept(planned, &facts.girths, facts.own);
        let lined = rest.lined(&kept).map_err(|why| facts.no_boat(why, rest, &readings))?;
        let forecast = Forecast::of(planned, &facts.girths, rest, &lined);
        let marks = facts.marks(planned, &judge::Side { rest, now: &lined.strakes, hung });
        let (girths, strakes, again) = (Vec::new(), Vec::new(), facts.again);
        Ok((lined, Lie { hung, girths, strakes, marks, again, forecast }))
    }
}

/// The rest to be lined on lands `hung` by one whose planks hang within `own` of their marks. The sheer may be let off its
/// line by what [`SHEER`] leaves when the last plank is as far off as the worst so far, and the tape too.
fn kept<'a>(planned: &'a [Vec<f64>], hung: &'a [Vec<f64>], own: Own) -> Kept<'a> {
    let (change, sheer_gives) = if own.close() {
        (Change::CLOSE, CLOSE_GIVES)
    } else {
        (Change::ROUGH, (SHEER - TAPE - own.furthest).clamp(0.0, MOST_GIVEN))
    };
    Kept { planned, hung, sheer_gives, change }
}
