//! Timbers in the JSON.

use super::Plan;
use super::json::{degrees, num, xyz};
use crate::timbers::{self, goes, layers, steaming};
use serde_json::{Value, json};

pub fn timbers(plan: &Plan) -> Vec<Value> {
    let spec = &plan.spec.timbers;
    plan.timbers
        .iter()
        .map(|t| {
            let tight = t.bend_radius_min < spec.steamed_radius * spec.moulded;
            json!({
                "n": t.n, "x_mm": num(t.x), "length_mm": num(f64::from(t.pieces) * t.length),
                "bend_radius_min_mm": num(t.bend_radius_min), "girth_mm": num(t.girth),
                "pieces": t.pieces, "cant_deg": degrees(t.cant), "head_land": t.head, "stopped": t.stopped,
                "rise_deg": degrees(t.rise), "twist_deg": degrees(t.twist), "turn": t.turn,
                "mould": t.mould.map(|m| plan.moulds[m].name.clone()),
                "thinned_to_mm": if tight { num(goes(t.bend_radius_min, spec)) } else { Value::Null },
                "layers": if tight { json!(layers(t.bend_radius_min, spec)) } else { json!(1) },
                "points_mm": t.points.iter().map(xyz).collect::<Vec<_>>(),
            })
        })
        .collect()
}

/// Null where she has no timbers.
pub fn cut_list(plan: &Plan) -> Value {
    if plan.timbers.is_empty() {
        return Value::Null;
    }
    let spec = &plan.spec.timbers;
    let list = timbers::cut_list(&plan.timbers, spec, plan.timber_step());
    json!({
        "sided_mm": num(spec.sided), "moulded_mm": num(spec.moulded), "wood": spec.wood.name,
        "steaming_min": num(steaming(spec)),
        "pieces": list.of.iter()
            .map(|l| json!({ "count": l.count, "length_mm": num(l.length), "timbers": l.timbers }))
            .collect::<Vec<_>>(),
        "extra": list.extra, "total_mm": num(list.total),
    })
}
