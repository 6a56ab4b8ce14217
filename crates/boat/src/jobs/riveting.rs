//! Fastenings of one strake bay by bay, and those that wait for a mould.

use super::{Job, Number, Step, Task};
use crate::fastenings::{self, Rivet};
use crate::plan::Plan;
use crate::planks::Strake;

/// The fastenings of `strake` to what lies below it: its ends, and bay by bay between the sections the rivets of its land or, for
/// the garboard, what goes into the keel. None where she is glued.
pub fn rivet(plan: &Plan, strake: &Strake) -> Option<Job> {
    if plan.spec.glued() {
        return None;
    }
    let k = strake.strake;
    let mut steps = ends(plan, k, 0);
    // The row runs along the land below, or along the garboard's lower edge.
    let on = plan.strakes.get(k.saturating_sub(2))?;
    for (from, to) in on.at.iter().zip(on.at.iter().skip(1)) {
        let x = |ruling: usize, land: bool| on.rulings.get(ruling).map(|r| if land { r.along } else { r.lower.x });
        let (Some(a), Some(b)) = (x(from.ruling, k > 1), x(to.ruling, k > 1)) else { continue };
        let in_bay = |at: f64| a <= at && at < b;
        let (now, later) = if k == 1 {
            (plan.keel_fastenings.iter().filter(|f| in_bay(f.at.x)).count(), 0)
        } else {
            let bay: Vec<&Rivet> = plan.rivets.iter().filter(|r| r.land + 1 == k && in_bay(r.along)).collect();
            let later = bay.iter().filter(|r| r.blocked_by.is_some()).count();
            (bay.len() - later, later)
        };
        let (Some(fore), Some(aft)) = (plan.sections.get(from.section), plan.sections.get(to.section)) else {
            continue;
        };
        if now + later == 0 {
            continue;
        }
        let mut also = Vec::new();
        if later > 0 {
            also.push(("wait for a mould".to_owned(), Number::Count(later)));
        }
        let what =
            if k == 1 { format!("{} into the keel", plan.spec.fastenings.keel.word()) } else { "rivets".to_owned() };
        steps.push(Step {
            place: format!("{} to {}", fore.place(), aft.place()),
            section: fore.name.clone(),
            strake: k,
            number: Number::Count(now),
            from: what,
            also,
            mark: None,
        });
    }
    steps.extend(ends(plan, k, 1));
    let how = if k == 1 {
        "Bed the garboard, fasten the ends, then along the keel from the middle both ways."
    } else {
        "Drill half way between square to the one plank and square to the other; head out, rove in, nip, clench. Ears and eyes covered."
    };
    Some(Job { task: Task::Rivet, of: k, title: format!("Fasten strake {k}"), how: how.to_owned(), steps })
}

/// The fastenings of strake `k` at the fore end (0) or the after end (1).
fn ends(plan: &Plan, k: usize, which: usize) -> Vec<Step> {
    let section = if which == 0 { plan.sections.first() } else { plan.sections.last() };
    let Some(section) = section else { return Vec::new() };
    let here = plan.ends.iter().filter(|e| e.strake == k && e.end == section.name);
    here.map(|e| Step {
        place: section.place(),
        section: section.name.clone(),
        strake: k,
        number: Number::Count(e.own().len()),
        from: format!("{} at the {}, apart", e.fixing.word(), e.end),
        also: vec![("from one to the next".to_owned(), Number::Width(e.spacing))],
        mark: None,
    })
    .collect()
}

/// For each mould that is in the way of any, the rivets that wait for it, land by land.
pub fn waiting(plan: &Plan) -> Vec<Job> {
    let of_mould = |w: fastenings::Waiting| {
        let mould = plan.moulds.get(w.mould)?;
        let steps = w.lands.iter().map(|(land, numbers)| Step {
            place: format!("mould {}", mould.name),
            section: mould.name.clone(),
            strake: land + 1,
            number: Number::Count(numbers.len()),
            from: format!("rivets through the land of strakes {land} and {}", land + 1),
            also: Vec::new(),
            mark: None,
        });
        Some(Job {
            task: Task::Waiting,
            of: w.mould + 1,
            title: format!("Where mould {} stood", mould.name),
            how: "When the mould is out: the rivets it was in the way of. Ears and eyes covered.".to_owned(),
            steps: steps.collect(),
        })
    };
    fastenings::waiting(&plan.rivets).into_iter().filter_map(of_mould).collect()
}
