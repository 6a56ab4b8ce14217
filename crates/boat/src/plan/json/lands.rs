//! How the lands look as JSON.

use super::{num, xyz};
use crate::lands::{self, Land, Seen};
use crate::plan::Plan;
use serde_json::{Value, json};

/// Every land in every view, the humps and steps of the widths, and the worst places in words.
pub fn lands(plan: &Plan) -> Value {
    let found = lands::lands(&plan.strakes, &plan.spec.lining);
    let station = |section: usize| plan.sections.get(section).map_or("", |s| s.name.as_str());
    json!({
        "lands": found.lands.iter().map(|l| land(plan, l)).collect::<Vec<_>>(),
        "humps": found.humps.iter()
            .map(|h| json!({
                "strake": h.strake, "station": station(h.section), "wider_than_at": station(h.narrowest),
                "by_mm": num(h.by),
            }))
            .collect::<Vec<_>>(),
        "steps": found.steps.iter()
            .map(|s| json!({ "station": station(s.section), "strake": s.strake, "next_wider_by_mm": num(s.by) }))
            .collect::<Vec<_>>(),
        "worst": found.worst.iter()
            .map(|w| w.words(plan.strakes.len(), &plan.sections, plan.spec.lengths))
            .collect::<Vec<_>>(),
    })
}

fn land(plan: &Plan, land: &Land) -> Value {
    let place = |from, to| lands::place(&plan.sections, from, to);
    let view = |seen: &Seen| {
        json!({
            "view": seen.view.word(),
            "inflections": seen.inflections.iter()
                .map(|s| json!({ "at_mm": xyz(&s.point), "place": place(s.at, s.at) }))
                .collect::<Vec<_>>(),
            "back": seen.back.iter()
                .map(|b| json!({ "place": place(b.from, b.to), "depth_mm": num(b.depth) }))
                .collect::<Vec<_>>(),
        })
    };
    let v = land.variation;
    json!({
        "land": land.land,
        "views": land.seen.iter().map(view).collect::<Vec<_>>(),
        "variation": num(v.all),
        "variation_most": num(v.most),
        "variation_most_place": place(v.at, v.at),
    })
}
