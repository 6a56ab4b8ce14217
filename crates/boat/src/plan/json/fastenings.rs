//! Rivets, fastenings at ends and keel, and the order, as JSON.

use super::{degrees, maybe, num, rounded};
use crate::fastenings::place::{along_lower, from_station, from_station_below};
use crate::fastenings::stock::{COMPUTED, Kind, Pack};
use crate::fastenings::{self, EndFastening};
use crate::plan::Plan;
use serde_json::{Value, json};

pub fn rivets(plan: &Plan) -> Vec<Value> {
    plan.rivets
        .iter()
        .map(|r| {
            let strake = plan.strakes.iter().find(|s| s.strake == r.land);
            let from = strake.and_then(|s| from_station(s, &plan.sections, r.along));
            json!({
                "land": r.land,
                "n": r.n,
                "x_mm": num(r.at.x),
                "y_mm": num(r.at.y),
                "z_mm": num(r.at.z),
                "axis": [rounded(r.axis.x, 1e6), rounded(r.axis.y, 1e6), rounded(r.axis.z, 1e6)],
                "lean_deg": degrees(r.lean),
                "grip_mm": num(r.grip),
                "nail_mm": maybe(r.nail),
                "gauge": plan.spec.fastenings.gauge,
                "head_edge_mm": num(r.head_edge),
                "head_edge_square_mm": num(r.head_edge_square),
                "timber": r.timber,
                "blocked_by": r.blocked_by.map(|i| plan.moulds[i].name.clone()),
                "along_mm": num(r.along),
                "station": from.map(|f| plan.sections[f.0].name.clone()),
                "from_station_mm": maybe(from.map(|f| f.1)),
                "rove_mm": num(plan.spec.fastenings.rove_diameter),
                "rove_edge_mm": num(r.rove_edge),
                "in_gain": r.in_gain,
                "head_leans": r.head_leans(),
            })
        })
        .collect()
}

pub fn ends(plan: &Plan) -> Vec<Value> {
    let one = |e: &EndFastening| {
        let places: Vec<Value> = e
            .places
            .iter()
            .map(|p| {
                json!({
                    "up_mm": num(p.up), "wood_mm": num(p.wood), "length_mm": maybe(p.length),
                    "from_middle_mm": maybe(p.from_middle),
                })
            })
            .collect();
        json!({
            "strake": e.strake, "end": e.end, "fastenings": e.fastenings, "spacing_mm": num(e.spacing),
            "with": e.fixing.word(), "from_end_mm": num(plan.spec.fastenings.end_row), "places": places,
        })
    };
    plan.ends.iter().map(one).collect()
}

pub fn keel(plan: &Plan) -> Vec<Value> {
    let Some(garboard) = plan.strakes.first() else { return Vec::new() };
    let lower = along_lower(garboard);
    plan.keel_fastenings
        .iter()
        .map(|k| {
            let from = from_station_below(garboard, &plan.sections, &lower, k.along);
            json!({
                "n": k.n, "x_mm": num(k.at.x), "y_mm": num(k.at.y), "z_mm": num(k.at.z), "along_mm": num(k.along),
                "station": from.map(|f| plan.sections[f.0].name.clone()),
                "from_station_mm": maybe(from.map(|f| f.1)),
                "with": plan.spec.fastenings.keel.word(), "length_mm": maybe(k.length),
            })
        })
        .collect()
}

/// Rivets that wait for a mould, mould by mould.
pub fn waiting(plan: &Plan) -> Vec<Value> {
    fastenings::waiting(&plan.rivets)
        .iter()
        .map(|w| {
            let lands: Vec<Value> =
                w.lands.iter().map(|(land, rivets)| json!({ "land": land, "rivets": rivets })).collect();
            json!({ "mould": plan.moulds[w.mould].name, "count": w.count(), "lands": lands })
        })
        .collect()
}

/// The copper nails that she takes.
pub fn nails(plan: &Plan) -> Vec<Value> {
    plan.order
        .iter()
        .filter(|l| l.kind == Kind::Nail)
        .map(|l| json!({ "gauge": l.gauge, "length_mm": num(l.size), "count": l.count(), "mass_kg": num(l.mass()) }))
        .collect()
}

/// What to buy; null where she is glued.
pub fn order(plan: &Plan) -> Value {
    if plan.spec.glued() {
        return Value::Null;
    }
    let lines: Vec<Value> = plan
        .order
        .iter()
        .map(|l| {
            let [rivets, ends, keel] = l.takes;
            let (pieces, mass) = match l.pack {
                Some(Pack::Count(n)) => (json!(n), Value::Null),
                Some(Pack::Mass(kg)) => {
                    (l.each.map_or(Value::Null, |each| json!(Pack::Mass(kg).pieces(each))), num(kg))
                }
                None => (Value::Null, Value::Null),
            };
            let length = (l.kind != Kind::Rove).then_some(l.size);
            let diameter = (l.kind == Kind::Rove).then_some(l.size);
            json!({
                "kind": l.kind.word(), "gauge": l.gauge, "length_mm": maybe(length), "diameter_mm": maybe(diameter),
                "takes": l.count(), "rivets": rivets, "ends": ends, "keel": keel, "with_spare": l.wanted,
                "each_g": l.each.map_or(Value::Null, |kg| rounded(kg * 1000.0, 1e6)),
                "per_kg": l.each.map_or(Value::Null, |kg| num(1.0 / kg)),
                "pack_pieces": pieces, "pack_kg": mass, "packs_in_hand": l.in_hand, "packs": l.packs,
                "bought": l.bought, "bought_kg": maybe(l.bought_mass),
            })
        })
        .collect();
    json!({ "spare": rounded(plan.spec.fastenings.spare, 1e6), "computed": COMPUTED, "lines": lines })
}
