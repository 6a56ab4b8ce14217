//! Setting up the moulds.

use super::{Job, Number, Step, Task};
use crate::plan::Plan;
use crate::spec::Stand;

/// Where each mould stands.
pub fn set_up(plan: &Plan) -> Job {
    let up = &plan.setting_up;
    let floor = match up.stand {
        Stand::Upright => "the floor",
        Stand::UpsideDown => "the strongback",
    };
    let first = plan.table.first_square().map_or("", |s| s.name.as_str());
    let steps = up.moulds.iter().enumerate().map(|(i, mould)| {
        let before = i.checked_sub(1).and_then(|b| up.moulds.get(b));
        let (number, from) = match (mould.from_before, before) {
            (Some(apart), Some(before)) => (apart, format!("from mould {} to mould {}", before.name, mould.name)),
            _ => (mould.from_bow, "from the middle of the bow, at the sheer, to the sheer on either side".to_owned()),
        };
        let next = up.moulds.get(i + 1).map(|n| n.name.as_str());
        let abaft = plan.moulds.iter().find(|m| m.section == mould.section).is_some_and(|m| m.wood_abaft);
        let mut also = vec![
            ("its body stands".to_owned(), Number::Word(if abaft { "abaft its line" } else { "before its line" })),
            (format!("aft of station {first}"), Number::Long(mould.x)),
            (format!("sheer over {floor}"), Number::Long(mould.heights.sheer)),
            (format!("rabbet over {floor}"), Number::Long(mould.heights.rabbet)),
            (format!("level line over {floor}"), Number::Long(mould.heights.level)),
            ("sheer to sheer".to_owned(), Number::Long(mould.across_sheer)),
        ];
        if before.is_some() {
            also.push(("bow to sheer, either side".to_owned(), Number::Long(mould.from_bow)));
        }
        if let (Some(diagonal), Some(next)) = (mould.diagonal, next) {
            also.push((format!("across to the sheer of mould {next}, both ways"), Number::Long(diagonal)));
        }
        Step {
            place: format!("mould {}", mould.name),
            section: mould.name.clone(),
            strake: 0,
            number: Number::Long(number),
            from,
            also,
            mark: None,
        }
    });
    Job {
        task: Task::SetUp,
        of: 0,
        title: "Set up the moulds".to_owned(),
        how: "Plumb, square to the centreline, the diagonals alike; then brace them.".to_owned(),
        steps: steps.collect(),
    }
}
