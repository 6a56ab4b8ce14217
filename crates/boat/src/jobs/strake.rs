//! Marks, bevels, widths and readings of one strake.

use super::{Job, Number, Step, Task, ToBe};
use crate::lines::SectionAt;
use crate::lining::Mark;
use crate::plan::Plan;
use crate::planks::{Strake, StrakeAt};

/// The mark of a land on a section.
fn mark(plan: &Plan, land: usize, section: usize) -> Option<&Mark> {
    plan.marks.iter().find(|m| m.land == land && m.section == section)
}

fn step(plan: &Plan, k: usize, section: usize, number: Number, from: String) -> Option<Step> {
    let s = plan.sections.get(section)?;
    Some(Step { place: s.place(), section: s.name.clone(), strake: k, number, from, also: Vec::new(), mark: None })
}

/// What marks are measured along at a section: a stem and a transom have no mould.
fn along(plan: &Plan, section: usize) -> &'static str {
    match plan.sections.get(section).map(|s| s.at) {
        Some(SectionAt::Post) if section == 0 => "along the stem",
        Some(SectionAt::Post) => "along the sternpost",
        Some(SectionAt::Transom | SectionAt::BowTransom) => "along the transom",
        Some(SectionAt::Station(_)) | None => "along the mould",
    }
}

/// Where the upper edge of strake `k` goes on each section, from the edge below as it stands.
pub fn marks(plan: &Plan, k: usize) -> Job {
    let below = if k == 1 { "the rabbet".to_owned() } else { format!("the upper edge of strake {}", k - 1) };
    let steps = (0..plan.sections.len()).filter_map(|j| {
        let [low, high] = [mark(plan, k - 1, j)?, mark(plan, k, j)?];
        let mut step =
            step(plan, k, j, Number::Width(high.girth - low.girth), format!("up from {below}, {}", along(plan, j)))?;
        if k > 1 {
            step.also.push((format!("from the rabbet, {}", along(plan, j)), Number::Long(high.girth)));
        }
        step.also.push(("above the base line".to_owned(), Number::Long(high.at.z)));
        step.also.push(("out from the centreline".to_owned(), Number::Long(high.at.y)));
        Some(step)
    });
    Job {
        task: Task::Marks,
        of: k,
        title: format!("Mark strake {k}"),
        how: "Strike each mark on the mould's edge, then look along them with a batten.".to_owned(),
        steps: steps.collect(),
    }
}

/// The bevel of the land that strake `k` will lie on; none for the garboard.
pub fn bevel(plan: &Plan, k: usize) -> Option<Job> {
    let on = plan.strakes.get(k.checked_sub(2)?)?;
    let steps = on.at.iter().filter_map(|at| {
        let bevel = at.bevel?;
        let which = if bevel < 0.0 {
            format!("off the lower inner edge of strake {k}")
        } else {
            format!("off the upper outer edge of strake {}", k - 1)
        };
        let mut step = step(plan, k, at.section, Number::Angle(bevel.abs()), which)?;
        let lap = at.lap.unwrap_or(plan.spec.planking.lap);
        step.also
            .push(("wood off at the edge, over the whole land".to_owned(), Number::Small(lap * bevel.tan().abs())));
        if let Some(left) = at.edge_left {
            step.also.push(("wood left at the edge".to_owned(), Number::Small(left)));
        }
        if let Some(gain) = at.gain.filter(|g| *g > 0.05) {
            step.also.push(("rebate of the gain, in each plank".to_owned(), Number::Small(gain)));
        }
        Some(step)
    });
    Some(Job {
        task: Task::Bevel,
        of: k,
        title: format!("Bevel the land under strake {k}"),
        how: format!(
            "Plane to the gauge at each place, fair between them; the land is {} wide. A mask on where it is sanded.",
            wide(plan)
        ),
        steps: steps.collect(),
    })
}

fn wide(plan: &Plan) -> String {
    plan.spec.lengths.said(plan.spec.planking.lap)
}

/// Widths of the plank before it is hung.
pub fn fit(plan: &Plan, strake: &Strake) -> Job {
    let k = strake.strake;
    let steps = strake.at.iter().filter_map(|at| {
        let from = "on the tape, square to the plank".to_owned();
        let mut step = step(plan, k, at.section, Number::Width(at.width), from)?;
        if k > 1 {
            step.also.push(("lap line up from the lower edge".to_owned(), Number::Width(plan.spec.planking.lap)));
        }
        step.also.push(("shows when the next is on".to_owned(), Number::Width(at.shows)));
        step.also.extend(off_batten(plan, k, at));
        Some(step)
    });
    Job {
        task: Task::Fit,
        of: k,
        title: format!("Fit strake {k}"),
        how: "Check the plank against its widths before it is hung.".to_owned(),
        steps: steps.collect(),
    }
}

/// Spiling offsets of a plank at one section: lower and upper edge from the batten line.
fn off_batten(plan: &Plan, k: usize, at: &StrakeAt) -> Vec<(String, Number)> {
    let Some(flat) = plan.flats.get(k - 1) else { return Vec::new() };
    let Some(station) = flat.stations.iter().find(|s| s.section == at.section) else { return Vec::new() };
    vec![
        ("upper edge off the batten line".to_owned(), Number::Width(station.upper[1] - flat.batten)),
        ("lower edge off the batten line".to_owned(), Number::Width(station.lower[1] - flat.batten)),
    ]
}

/// What the tape should read on the hung strake, where a reading is taken. It stays what it was to be when a reading is in.
pub fn measure(plan: &Plan, strake: &Strake, hung: &[ToBe]) -> Job {
    let k = strake.strake;
    let steps = strake.at.iter().filter_map(|at| {
        let from = "from its lower to its upper edge, square to the plank".to_owned();
        let to_be = hung.iter().find(|h| (h.strake, h.section) == (k, at.section));
        let [width, mark, height] = match to_be {
            Some(h) => [h.width, h.mark, h.height],
            None => mark(plan, k, at.section).map(|m| [at.width, m.girth, m.at.z])?,
        };
        let mut step = step(plan, k, at.section, Number::Width(width), from)?;
        step.mark = Some(mark);
        if to_be.is_some_and(|h| h.read) {
            step.also.push(("hangs at".to_owned(), Number::Small(at.width)));
        }
        step.also.push(("upper inner edge above the base line".to_owned(), Number::Long(height)));
        step.also.push((format!("the mark, from the rabbet {}", along(plan, at.section)), Number::Long(mark)));
        Some(step)
    });
    Job {
        task: Task::Measure,
        of: k,
        title: format!("Measure strake {k} as it hangs"),
        how: "At each mould: how far its upper edge is off the mark, or its width, or its height.".to_owned(),
        steps: steps.collect(),
    }
}
