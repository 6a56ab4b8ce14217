//! Weights and flotation in the JSON.

use super::{degrees, maybe, num, xyz};
use crate::flotation::{Company, Floating, FlotationError, InWater, Righting, Swamped};
use crate::load::{self, Moved};
use crate::plan::Plan;
use serde_json::{Value, json};

/// What her parts weigh.
pub fn weights(plan: &Plan) -> Value {
    let w = &plan.weights;
    let parts: Vec<Value> = w
        .parts
        .iter()
        .map(|p| json!({ "name": p.name, "mass_kg": num(p.mass), "centre_mm": xyz(&p.centre) }))
        .collect();
    json!({
        "planking_kg": num(w.planking),
        "fastenings_kg": num(w.fastenings),
        "timbers_kg": num(w.timbers),
        "total_kg": num(w.total),
        "centre_mm": xyz(&w.centre),
        "backbone_kg": num(w.backbone),
        "paint_kg": num(w.paint),
        "parts": parts,
        "left_out": w.left_out,
        "planks_take_up_kg": num(w.taken_up),
    })
}

/// Where she floats; `trouble` alone where she does not.
pub fn flotation(plan: &Plan) -> Value {
    let found = match plan.flotation() {
        Ok(found) => found,
        Err(why) => return json!({ "trouble": why.to_string() }),
    };
    let light = found.companies.first().map_or(0.0, |c| c.company.load.mass);
    let allowed = load::measures(&found.hull, light, plan.spec.stern_is_transom())
        .filter(load::Measures::short_enough)
        .map(|m| {
            [Moved::ByHand, Moved::SmallMotor, Moved::Outboard]
                .map(|moved| allowed(&load::allowed(&m, moved)))
                .to_vec()
        });
    json!({
        "companies": found.companies.iter().map(company).collect::<Vec<_>>(),
        "swamped": swamped(&found.swamped),
        "load_33_cfr_183": allowed,
    })
}

fn company(c: &InWater) -> Value {
    let Company { name, assumed, aboard, load } = &c.company;
    let aboard: Vec<Value> =
        aboard.iter().map(|a| json!({ "name": a.name, "mass_kg": num(a.mass), "at_mm": xyz(&a.at) })).collect();
    json!({
        "name": name, "assumed": assumed, "aboard": aboard,
        "mass_kg": num(load.mass), "centre_mm": xyz(&load.centre),
        "fresh": in_water(&c.fresh), "sea": in_water(&c.sea),
        "righting": match &c.righting {
            Ok(r) => righting(r),
            Err(why) => json!({ "trouble": why.to_string() }),
        },
    })
}

fn in_water(floats: &Result<Floating, FlotationError>) -> Value {
    let f = match floats {
        Ok(f) => f,
        Err(why) => return json!({ "trouble": why.to_string() }),
    };
    let freeboards: Vec<Value> = f
        .freeboards
        .iter()
        .map(|b| json!({ "station": b.station, "starboard_mm": num(b.sides[0]), "port_mm": num(b.sides[1]) }))
        .collect();
    json!({
        "water_kg_m3": num(f.density), "water_over_base_mm": num(f.at.water), "trim_deg": degrees(f.at.trim),
        "heel_deg": degrees(f.at.heel), "stays_upright": f.stiff, "draught_mm": num(f.draught),
        "length_mm": num(f.length), "breadth_mm": num(f.breadth),
        "displaced_m3": super::rounded(f.volume * 1e-9, 1e6), "buoyancy_mm": xyz(&f.buoyancy),
        "wetted_m2": num(f.wetted * 1e-6), "waterplane_m2": num(f.waterplane * 1e-6), "flotation_mm": xyz(&f.flotation),
        "inertia_across_m4": super::rounded(f.inertia[0] * 1e-12, 1e6),
        "inertia_along_m4": super::rounded(f.inertia[1] * 1e-12, 1e6),
        "block": num(f.block()), "prismatic": num(f.prismatic()), "waterplane_coefficient": num(f.waterplane_share()),
        "metacentre_over_weight_mm": num(f.metacentres[0]), "metacentre_for_trim_mm": num(f.metacentres[1]),
        "sinks_a_centimetre_kg": num(f.to_sink(10.0)), "trims_a_centimetre_kg_m": num(f.to_trim(10.0)),
        "freeboards": freeboards, "lowest_freeboard_mm": num(f.lowest), "lowest_at_mm": xyz(&f.lowest_at),
    })
}

fn righting(r: &Righting) -> Value {
    let arms: Vec<Value> = r
        .arms
        .iter()
        .map(|a| {
            json!({
                "heel_deg": degrees(a.heel), "arm_mm": num(a.arm), "trim_deg": degrees(a.trim), "freeboard_mm": num(a.freeboard),
            })
        })
        .collect();
    json!({
        "sheer_under_deg": maybe(r.under.map(|u| u.0.to_degrees())), "sheer_under_at_mm": r.under.map(|u| xyz(&u.1)), "arms": arms,
    })
}

fn swamped(s: &Swamped) -> Value {
    json!({
        "mass_kg": num(s.mass), "wood_bears_kg": num(s.wood), "foam_bears_kg": num(s.foam), "left_kg": num(s.left()),
        "floats": s.rest.map(|r| json!({
            "stays_upright": r.stiff, "trim_deg": degrees(r.at.trim), "heel_deg": degrees(r.at.heel), "lowest_freeboard_mm": num(r.lowest),
        })),
    })
}

fn allowed(a: &load::Allowed) -> Value {
    let steps: Vec<Value> = a
        .steps
        .iter()
        .map(|s| {
            json!({ "what": s.what, "how": s.how, "value": num(s.value), "unit": s.unit, "section": s.section, "known": s.known.word() })
        })
        .collect();
    json!({
        "moved": a.moved.said(), "steps": steps, "weight_lb": num(a.weight), "persons_lb": maybe(a.persons.map(|p| p.0)),
        "persons": a.persons.map(|p| p.1), "horsepower": maybe(a.power),
    })
}
