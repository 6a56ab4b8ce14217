//! What the drawings on the pages are made of, as JSON for their scripts.
//!
//! Lengths of the boat are mm to a hundredth; what is read by people is a text in her own notation beside them.

use boat::findings::{Finding, Stage};
use boat::geom::Point;
use boat::lands;
use boat::lines::{self, Section};
use boat::lining::{LandLine, Mark};
use boat::plan::Plan;
use boat::planks::Strake;
use boat::units::{self, Notation};
use serde_json::{Value, json};

/// mm to a hundredth.
pub fn mm(v: f64) -> Value {
    json!((v * 100.0).round() / 100.0)
}

/// A point of the boat.
pub fn xyz(p: &Point) -> Value {
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
pub fn land_lines(lands: &[LandLine], marks: &[Mark], strakes: &[Strake], lengths: Notation) -> Value {
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
                "bevel": a.bevel.map(|b| format!("{}°", units::degrees(b))),
                "left": a.edge_left.map(|e| lengths.said_fine(e)),
            })
        })
        .collect();
    json!({ "strake": strake.strake, "at": at })
}

/// What was found, with its figures in the boat's own notation.
pub fn findings<'a>(found: impl Iterator<Item = &'a Finding>, lengths: Notation) -> Value {
    let one = |f: &Finding| json!({ "place": f.place, "figures": f.figures(lengths), "hint": f.hint });
    Value::Array(found.map(one).collect())
}

/// Where people stand to look at her: the eye on the beam, and how the others differ from it.
fn eye(plan: &Plan) -> Value {
    let lining = &plan.spec.lining;
    let Some([beam, ..]) = lands::eyes(&plan.strakes, lining) else { return Value::Null };
    let (at, target) = (beam.place(), beam.target());
    let along = plan.strakes.last().and_then(|s| Some([s.rulings.first()?.upper.x, s.rulings.last()?.upper.x]));
    json!({
        "height": mm(at.z), "distance": mm((at - target).norm()), "target": [mm(target.x), mm(target.z)],
        "quarter": lining.eye_quarter.to_degrees().round(), "heel": lining.eye_heel.to_degrees().round(),
        "along": along.map(|a| a.map(mm)),
    })
}

/// Everything the page of the lands begins with; `pins`: whether marks are pinned, in place or not.
pub fn lands_page(plan: &Plan, revision: u64, pins: bool) -> Value {
    let spec = &plan.spec;
    let found = plan.findings.iter().filter(|f| matches!(f.stage, Stage::Lining | Stage::Planks));
    json!({
        "revision": revision, "name": spec.name, "lengths": spec.lengths.word(),
        "sections": sections(&plan.sections), "fullest": lines::fullest(&plan.sections),
        "eye": eye(plan), "pins": pins, "findings": findings(found, spec.lengths),
        "now": land_lines(&plan.lands, &plan.marks, &plan.strakes, spec.lengths),
    })
}
