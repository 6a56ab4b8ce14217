//! What the drawings on the pages are made of, as JSON for their scripts.
//!
//! Lengths of the boat are mm to a hundredth; what is read by people is a text in her own notation beside them.

use boat::geom::Point;
use boat::lines::Section;
use boat::lining::{LandLine, Mark};
use boat::plan::Plan;
use boat::planks::Strake;
use boat::units::Notation;
use serde_json::{Value, json};

fn mm(v: f64) -> Value {
    json!((v * 100.0).round() / 100.0)
}

fn xyz(p: &Point) -> Value {
    json!([mm(p.x), mm(p.y), mm(p.z)])
}

/// What stays while marks move: the sections, with distances along them.
pub fn sections(sections: &[Section]) -> Value {
    let one = |s: &Section| {
        let mut girth = 0.0;
        let mut before: Option<Point> = None;
        let along: Vec<Value> = s
            .points
            .iter()
            .map(|p| {
                girth += before.map_or(0.0, |b| (p - b).norm());
                before = Some(*p);
                mm(girth)
            })
            .collect();
        json!({
            "name": s.name, "place": s.place(), "girth": mm(s.girth), "along": along,
            "points": s.points.iter().map(xyz).collect::<Vec<_>>(),
        })
    };
    Value::Array(sections.iter().map(one).collect())
}

/// Lands, marks and what stands beside them.
pub fn lands(lands: &[LandLine], marks: &[Mark], strakes: &[Strake], lengths: Notation) -> Value {
    json!({
        "lands": lands.iter()
            .map(|l| json!({ "land": l.land, "points": l.points.iter().map(xyz).collect::<Vec<_>>() }))
            .collect::<Vec<_>>(),
        "marks": marks.iter()
            .map(|m| json!({
                "land": m.land, "section": m.section, "girth": mm(m.girth), "at": xyz(&m.at), "pinned": m.pinned,
                "said": lengths.said(m.girth),
            }))
            .collect::<Vec<_>>(),
        "strakes": strakes.iter().map(|s| strake(s, lengths)).collect::<Vec<_>>(),
    })
}

fn strake(strake: &Strake, lengths: Notation) -> Value {
    let at: Vec<Value> = strake
        .at
        .iter()
        .map(|a| {
            json!({
                "section": a.section, "shows": mm(a.shows), "shows_said": lengths.short(a.shows),
                "bevel": a.bevel.map(|b| format!("{:.1}°", b.to_degrees()).replace('-', "\u{2212}")),
                "left": a.edge_left.map(|e| lengths.said_fine(e)),
                "thin": a.edge_left.is_some_and(|e| e < 0.0),
            })
        })
        .collect();
    json!({ "strake": strake.strake, "at": at })
}

/// Everything the page of the lands begins with.
pub fn lands_page(plan: &Plan, revision: u64) -> Value {
    let spec = &plan.spec;
    json!({
        "revision": revision, "name": spec.name, "lengths": spec.lengths.word(),
        "sections": sections(&plan.sections),
        "eye": { "height": mm(spec.lining.eye_height), "distance": spec.lining.eye_distance.map(mm) },
        "now": lands(&plan.lands, &plan.marks, &plan.strakes, spec.lengths),
    })
}
