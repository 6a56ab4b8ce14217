//! Backbone and setting up as JSON.

use super::{degrees, maybe, num, xy, xyz};
use crate::backbone::RabbetAt;
use crate::geom::Point;
use crate::plan::Plan;
use crate::spec::{Stand, TransomEnds};
use serde_json::{Value, json};

/// `backbone`.
pub fn backbone(plan: &Plan) -> Value {
    let b = &plan.backbone;
    let posts: Vec<Value> = b
        .posts
        .iter()
        .map(|p| {
            json!({
                "end": p.end,
                "half_siding_mm": num(p.half_siding),
                "rabbet": p.rabbet.iter().map(rabbet_at).collect::<Vec<_>>(),
                "strakes": p.strakes.iter().map(rabbet_at).collect::<Vec<_>>(),
                "outer_face_mm": p.outer_face.iter().map(xy).collect::<Vec<_>>(),
                "inner_face_mm": p.inner_face.iter().map(xy).collect::<Vec<_>>(),
                "head_mm": maybe(p.head),
            })
        })
        .collect();
    let transoms: Vec<Value> = b
        .transoms
        .iter()
        .map(|t| {
            let seats: Vec<Value> = t
                .seats
                .iter()
                .map(|s| {
                    json!({
                        "strake": s.strake, "lower_mm": xy(&s.lower), "upper_mm": xy(&s.upper),
                        "bevel_deg": degrees(s.bevel), "inner_out_mm": num(s.inner_out),
                        "wedge_mm": num(t.wedge(s.strake.saturating_sub(1))),
                    })
                })
                .collect();
            let ends = match t.ends {
                TransomEnds::Flush => "flush",
                TransomEnds::Notched => "notched",
                TransomEnds::Plain => "plain",
            };
            json!({
                "end": t.end, "planks": ends, "outline_mm": t.outline().iter().map(xy).collect::<Vec<_>>(),
                "radius_mm": maybe(t.radius), "thickness_mm": num(t.thickness),
                "curve_mm": t.curve.iter().map(xy).collect::<Vec<_>>(), "seats": seats,
                "crown_mm": maybe(t.crown), "top_mm": t.top.iter().map(xy).collect::<Vec<_>>(),
            })
        })
        .collect();
    let keel: Vec<Value> = b
        .keel_at
        .iter()
        .zip(&plan.sections)
        .filter_map(|(i, s)| {
            let mut at = rabbet_at(b.keel.get(*i)?);
            at["station"] = json!(s.name);
            Some(at)
        })
        .collect();
    json!({ "posts": posts, "keel": keel, "transoms": transoms })
}

fn rabbet_at(r: &RabbetAt) -> Value {
    let point = |p: Option<Point>| p.as_ref().map_or(Value::Null, xyz);
    json!({
        "inner_mm": xyz(&r.inner), "rabbet_mm": point(r.outer), "bearding_mm": point(r.bearding),
        "angle_deg": degrees(r.angle), "depth_mm": maybe(r.depth()),
    })
}

/// `setting_up`.
pub fn setting_up(plan: &Plan) -> Value {
    let s = &plan.setting_up;
    let moulds: Vec<Value> = s
        .moulds
        .iter()
        .map(|m| {
            json!({
                "station": m.name, "x_mm": num(m.x), "from_before_mm": maybe(m.from_before),
                "edge_mm": m.edge.iter().map(xy).collect::<Vec<_>>(),
                "relief_mm": m.relief.iter().map(|r| num(*r)).collect::<Vec<_>>(),
                "notch_half_breadth_mm": num(m.notch.half_breadth), "notch_top_mm": num(m.notch.top),
                "level_half_breadth_mm": maybe(m.level),
                "rabbet_height_mm": num(m.heights.rabbet), "level_height_mm": num(m.heights.level),
                "sheer_height_mm": num(m.heights.sheer),
                "across_sheer_mm": num(m.across_sheer), "from_bow_mm": num(m.from_bow),
                "diagonal_mm": maybe(m.diagonal),
                "legs": m.legs.map(|l| json!({
                    "half_breadths_mm": xy(&l.half_breadths), "heights_mm": xy(&l.heights), "cross_spall_mm": xy(&l.spall),
                })),
            })
        })
        .collect();
    json!({
        "stand": match s.stand { Stand::Upright => "upright", Stand::UpsideDown => "upside down" },
        "base_above_floor_mm": num(s.base_above_floor), "level_mm": num(s.level), "moulds": moulds,
    })
}
