//! Timbers in the JSON.

use super::{degrees, num, xyz};
use crate::plan::Plan;
use crate::spec::Bent;
use crate::timbers::{self, layer, layers, steaming};
use serde_json::{Value, json};

pub fn timbers(plan: &Plan) -> Vec<Value> {
    let spec = &plan.spec.timbers;
    plan.timbers
        .iter()
        .map(|t| {
            json!({
                "n": t.n, "x_mm": num(t.x), "length_mm": num(f64::from(t.pieces) * t.length),
                "bend_radius_min_mm": num(t.bend_radius_min), "girth_mm": num(t.girth),
                "pieces": t.pieces, "cant_deg": degrees(t.cant), "head_land": t.head, "stopped": t.stopped,
                "rise_deg": degrees(t.rise), "twist_deg": degrees(t.twist), "turn": t.turn,
                "mould": t.moulds.first().map(|&m| plan.moulds[m].name.clone()),
                "thinned_to_mm": t.thin.map_or(Value::Null, |thin| num(thin.thickness)),
                "layers": if t.thin.is_some() { json!(layers(t.bend_radius_min, spec, Bent::Steamed)) } else { json!(spec.layers) },
                "moulds": t.moulds.iter().map(|&m| plan.moulds[m].name.clone()).collect::<Vec<_>>(),
                "thinned": t.thin.map(|thin| json!({
                    "from_mm": num(thin.from), "to_mm": num(thin.to), "thinnest_mm": num(thin.thinnest),
                    "thickness_mm": num(thin.thickness),
                    "or_steamed_layers": layers(t.bend_radius_min, spec, Bent::Steamed),
                    "or_cold_layers": layers(t.bend_radius_min, spec, Bent::Cold),
                })),
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
        "layers": spec.layers, "layer_mm": num(layer(spec)), "steaming_min": num(steaming(spec)),
        "pieces": list.of.iter()
            .map(|l| json!({ "count": l.count, "length_mm": num(l.length), "timbers": l.timbers }))
            .collect::<Vec<_>>(),
        "extra": list.extra, "total_mm": num(list.total),
    })
}
