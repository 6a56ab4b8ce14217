//! What goes into her when she is planked, in the JSON.

use super::{degrees, num, rounded, xy, xyz};
use crate::interior::{
    Arm, EndCut, FaceOf, Knee, KneeKind, LiesOn, Meets, Strip, StripKind, StripPlace, Thwart, pieces,
};
use crate::plan::Plan;
use crate::spec::Against;
use serde_json::{Value, json};

pub fn interior(plan: &Plan) -> Value {
    let i = &plan.interior;
    json!({
        "strips": i.strips.iter().map(|s| strip(plan, s)).collect::<Vec<_>>(),
        "thwarts": i.thwarts.iter().map(|t| thwart(plan, t)).collect::<Vec<_>>(),
        "knees": i.knees.iter().map(knee).collect::<Vec<_>>(),
        "pieces": pieces(i).iter()
            .map(|p| json!({
                "name": p.name, "count": p.count, "length_mm": num(p.size[0]), "width_mm": num(p.size[1]),
                "thickness_mm": num(p.size[2]), "wood": p.wood.name,
                "mass_kg": num(f64::from(p.count) * p.volume * 1e-9 * p.wood.density),
            }))
            .collect::<Vec<_>>(),
    })
}

fn strip(plan: &Plan, s: &Strip) -> Value {
    let at: Vec<Value> =
        s.at.iter()
            .map(|a| {
                let (end, station, timber) = match a.place {
                    StripPlace::Fore => (Some("fore"), None, None),
                    StripPlace::Aft => (Some("aft"), None, None),
                    StripPlace::Section(j) => (None, plan.sections.get(j).map(|s| s.name.clone()), None),
                    StripPlace::Timber(t) => (None, None, Some(t)),
                };
                json!({
                    "end": end, "station": station, "timber": timber, "at_mm": xyz(&a.at), "along_mm": num(a.along),
                    "lean_deg": degrees(a.lean), "turn_deg": degrees(a.turn),
                    "off_top_mm": num(a.off_top(s.stick.thickness)), "flat_mm": xy(&a.flat),
                })
            })
            .collect();
    let kind = match s.kind {
        StripKind::Rising => "rising",
        StripKind::Inwale => "inwale",
        StripKind::RubbingStrake => "rubbing strake",
    };
    let (lies_on, strake) = match s.lies_on {
        LiesOn::Timbers => ("timbers", None),
        LiesOn::Lands => ("lands", None),
        LiesOn::Strake(k) => ("strake", Some(k)),
    };
    json!({
        "kind": kind, "name": s.name, "lies_on": lies_on, "strake": strake,
        "thickness_mm": num(s.stick.thickness), "depth_mm": num(s.stick.depth), "wood": s.stick.wood.name,
        "length_mm": num(s.length), "cut_length_mm": num(s.cut_length), "board_width_mm": num(s.board_width),
        "sny_mm": num(s.sny), "bend_radius_min_mm": radius(s.bend_radius), "edge_radius_min_mm": radius(s.edge_radius),
        "twist_max_deg_per_m": num(s.twist.to_degrees() * 1000.0),
        "fore_end": end(&s.ends[0]), "aft_end": end(&s.ends[1]), "at": at,
        "points_mm": s.points.iter().map(xyz).collect::<Vec<_>>(), "flat_mm": s.flat.iter().map(xy).collect::<Vec<_>>(),
    })
}

/// Radii beyond this are straight, mm.
const STRAIGHT: f64 = 1e6;

fn radius(mm: f64) -> Value {
    if mm < STRAIGHT { num(mm) } else { Value::Null }
}

fn end(e: &EndCut) -> Value {
    let on = match e.on {
        Meets::Nothing => None,
        Meets::Post => Some("post"),
        Meets::Transom => Some("transom"),
        Meets::OuterFace => Some("outer face of the transom"),
        Meets::Breasthook => Some("breasthook"),
    };
    json!({ "on": on, "across_deg": degrees(e.across), "down_deg": degrees(e.down), "between_deg": degrees(e.between) })
}

fn against(a: Against) -> &'static str {
    match a {
        Against::Planking => "planking",
        Against::Timbers => "timbers",
        Against::Inwale => "inwale",
    }
}

fn thwart(plan: &Plan, t: &Thwart) -> Value {
    let end: Vec<Value> = t
        .end
        .iter()
        .map(|e| {
            json!({
                "x_mm": num(e.x), "half_top_mm": num(e.top), "half_under_mm": num(e.under), "bevel_deg": degrees(e.bevel),
                "plan_deg": degrees(e.plan),
            })
        })
        .collect();
    let rests: Vec<Value> = t
        .rests
        .iter()
        .map(|r| {
            let name = plan.interior.strips.get(r.rising).map(|s| s.name.clone());
            json!({ "rising": name, "gaps_mm": r.gaps.iter().map(|g| num(*g)).collect::<Vec<_>>() })
        })
        .collect();
    json!({
        "n": t.n, "name": t.name, "fore_edge_mm": num(t.edges[0]), "aft_edge_mm": num(t.edges[1]), "top_mm": num(t.top),
        "thickness_mm": num(t.thickness), "against": against(t.against), "clear_mm": num(t.clear), "wood": t.wood.name,
        "end": end, "round_mm": num(t.round), "land_steps": t.steps, "rests": rests,
        "notches": t.notches.iter()
            .map(|n| json!({ "timber": n.timber, "sides_mm": xy(&n.sides), "half_top_mm": num(n.to[0]), "half_under_mm": num(n.to[1]) }))
            .collect::<Vec<_>>(),
        "board_mm": xy(&t.board),
    })
}

fn knee(k: &Knee) -> Value {
    let (kind, aft, thwart) = match k.kind {
        KneeKind::Breasthook { aft } => ("breasthook", Some(aft), None),
        KneeKind::Quarter { aft } => ("quarter", Some(aft), None),
        KneeKind::Thwart { n } => ("thwart", None, Some(n)),
    };
    json!({
        "kind": kind, "at_stern": aft, "thwart": thwart, "name": k.name, "pieces": k.pieces, "against": against(k.against),
        "thickness_mm": num(k.thickness), "wood": k.wood.name, "corner_mm": xyz(&k.corner), "pitch_deg": degrees(k.pitch),
        "angle_deg": degrees(k.angle), "arms": k.arms.iter().map(arm).collect::<Vec<_>>(),
        "tip_mm": num(k.tip), "throat_mm": num(k.throat), "nose_mm": num(k.nose), "under_sheer_mm": num(k.under_sheer),
        "outline_mm": k.outline.iter().map(xy).collect::<Vec<_>>(), "board_mm": xy(&k.board),
        "area_m2": rounded(k.area * 1e-6, 1e6),
    })
}

fn arm(a: &Arm) -> Value {
    let on = match a.on {
        FaceOf::Side => "side",
        FaceOf::Transom => "transom",
        FaceOf::Thwart => "thwart",
    };
    json!({
        "on": on, "length_mm": num(a.length), "bevel_corner_deg": degrees(a.bevels[0]), "bevel_tip_deg": degrees(a.bevels[1]),
        "round_mm": num(a.round), "edge_mm": a.edge.iter().map(xy).collect::<Vec<_>>(),
    })
}
