//! The boat as she stands: the plan and what the record says of it, worked out once for each state of both.

use super::Shed;
use super::desk::View;
use crate::record::{RecordError, Stored, counting, readings};
use crate::standing;
use boat::drawing::Sheet;
use boat::drawing::typeface::Type;
use boat::hung::{BuiltMark, Reading, Side, Standing};
use boat::paper::patterns::{self, Pattern};
use boat::paper::{PaperSize, book};
use boat::plan::Plan;
use boat::units::Notation;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// She as she stands.
pub struct Stands {
    /// The revision of her files.
    pub revision: u64,
    /// The last entry of the record that it comes from.
    pub seq: i64,
    /// The record's own name; empty where there is none yet.
    pub record: String,
    /// Entries that count, in the order of the record.
    pub counts: Vec<Arc<Stored>>,
    /// Port, starboard.
    pub sides: [OfSide; 2],
}

/// One side.
pub struct OfSide {
    /// As she stands; where nothing was read on this side, as she is planned.
    pub plan: Arc<Plan>,
    /// What the readings say; `None` without any.
    pub standing: Option<Standing>,
    /// Why they say nothing.
    pub trouble: Option<String>,
    book: OnceLock<Vec<Sheet>>,
    patterns: OnceLock<Vec<Pattern>>,
}

impl OfSide {
    fn new(plan: Arc<Plan>, standing: Option<Standing>, trouble: Option<String>) -> OfSide {
        OfSide { plan, standing, trouble, book: OnceLock::new(), patterns: OnceLock::new() }
    }

    /// How many strakes hang.
    pub fn hung(&self) -> usize {
        self.standing.as_ref().map_or(0, |s| s.hung)
    }

    /// The bench book's sheets for this side.
    pub fn book(&self, t: &Type) -> &[Sheet] {
        self.book.get_or_init(|| book::sheets(t, &self.plan, PaperSize::A4))
    }

    /// This side's planks at full size.
    pub fn planks(&self, t: &Type) -> &[Pattern] {
        self.patterns.get_or_init(|| patterns::patterns(t, &self.plan, &[patterns::Kind::Plank]))
    }
}

/// The last that was worked out.
#[derive(Default)]
pub struct Last(Mutex<Option<Arc<Stands>>>);

/// She as she stands now; `None` where there is no plan. It takes a while: not for those who may not wait.
///
/// # Errors
/// A record that cannot be read.
pub fn stands(shed: &Shed) -> Result<Option<Arc<Stands>>, RecordError> {
    let kept = shed.record.kept()?;
    let view = shed.desk.view();
    let seq = kept.entries.last().map_or(0, |s| s.seq);
    // Held while it is worked out, so that many who ask at once wait for one answer.
    let mut last = shed.stands.0.lock().unwrap_or_else(PoisonError::into_inner);
    let same = |l: &&Arc<Stands>| (l.revision, l.seq, &l.record) == (view.revision, seq, &kept.identity);
    if let Some(there) = last.as_ref().filter(same) {
        return Ok(Some(Arc::clone(there)));
    }
    let Some(plan) = &view.plan else { return Ok(None) };
    let counts = counting(&kept.entries);
    let readings = readings(&counts);
    let sides = sides(&view, plan, &readings);
    let now = Arc::new(Stands { revision: view.revision, seq, record: kept.identity.clone(), counts, sides });
    *last = Some(Arc::clone(&now));
    Ok(Some(now))
}

fn sides(view: &View, plan: &Arc<Plan>, readings: &[Reading]) -> [OfSide; 2] {
    let as_planned = |trouble| OfSide::new(Arc::clone(plan), None, trouble);
    let (Some(input), Some(lines)) = (&view.input, &view.lines) else { return Side::BOTH.map(|_| as_planned(None)) };
    standing::sides(input, lines, readings).map(|found| match found {
        Ok(None) => as_planned(None),
        Ok(Some(standing)) => OfSide::new(Arc::new(standing.plan.clone()), Some(standing), None),
        Err(why) => as_planned(Some(why.said(plan.spec.lengths))),
    })
}

/// How far a strake's edge lies off where it was to be: `2 mm above its mark`.
pub fn off(mark: &BuiltMark, lengths: Notation) -> String {
    let off = mark.built - mark.mark;
    let said = lengths.said_fine(off.abs());
    if said.starts_with("0 ") || said.starts_with("0.0 ") {
        return "on its mark".to_owned();
    }
    format!("{said} {} its mark", if off < 0.0 { "below" } else { "above" })
}
