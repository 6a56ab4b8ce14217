//! Her planked hull to be walked round: planks with their real laps and steps, land lines inked, cut at a station.

use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::geom::Point;
use boat::ink::{self, Kind};
use boat::lines::SectionAt;
use boat::plan::Plan;
use boat::units::Notation;
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new().route("/hull", get(hull)).route("/hull.bin", get(shape))
}

async fn hull(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let stations: Vec<(String, f64)> = view.plan.as_ref().map_or_else(Vec::new, |p| stations(p));
    let lengths = view.plan.as_ref().map_or(Notation::Mm, |p| p.spec.lengths);
    let lining = view.plan.as_ref().map(|p| p.spec.lining.clone()).unwrap_or_default();
    let body = html! {
        p.lead { "Drag to walk round her, or use the arrow keys; two fingers, the wheel or + and \u{2212} bring you nearer." }
        div.bench {
            div.sheet {
                canvas #hull tabindex="0" role="img" aria-label="The planked hull" data-eye=(lining.eye_height) data-lengths=(lengths.word()) {}
                p #no-hull hidden { "This browser draws no hull. Her pictures are on the first page." }
            }
            section.beside aria-label="Where you stand" {
                fieldset {
                    legend { "Stand" }
                    div.row {
                        @for (name, turn) in [("On the beam", 0), ("Off the bow", -45), ("Off the quarter", 45), ("Ahead", -90), ("Astern", 90)] {
                            button type="button" data-turn=(turn) { (name) }
                        }
                    }
                }
                label for="turn" { "Round her " output #turn-said {} }
                input #turn type="range" min="-180" max="180" step="1" value="40";
                label for="eye" { "Eye over the base line " output #eye-said {} }
                input #eye type="range" min="-1000" max="4000" step="20" value="1300";
                label for="off" { "Off her middle " output #off-said {} }
                input #off type="range" min="1" max="4" step="0.05" value="1.6";
                label for="heel" { "Heeled " output #heel-said {} }
                input #heel type="range" min="-40" max="180" step="1" value="0";
                label for="cut" { "Cut at" }
                select #cut {
                    option value="" { "nowhere" }
                    @for (name, x) in &stations { option value=(x) { (name) } }
                }
            }
        }
    };
    frame::page(&shed, &view, "/hull", "Hull", &["hull.js"], &body)
}

fn stations(plan: &Plan) -> Vec<(String, f64)> {
    let square = |s: &&boat::lines::Section| matches!(s.at, SectionAt::Station(_));
    plan.sections.iter().filter(square).filter_map(|s| Some((s.place(), s.points.first()?.x))).collect()
}

/// All her faces and lines, little-endian: how many triangles, three corners each; how many lines, each its kind, how many points,
/// and the points. Lengths are mm as single precision.
async fn shape(State(shed): State<Shared>) -> Response {
    let bytes = tokio::task::spawn_blocking(move || {
        let plan = shed.desk.view().plan.clone()?;
        let scene = ink::scene(&plan.strakes, &plan.sections, &plan.spec);
        let mut out: Vec<u8> = Vec::with_capacity(scene.faces.len() * 36 + 4);
        let count = |out: &mut Vec<u8>, n: usize| out.extend(u32::try_from(n).unwrap_or(0).to_le_bytes());
        let point = |out: &mut Vec<u8>, p: &Point| {
            for v in [p.x, p.y, p.z] {
                out.extend((v as f32).to_le_bytes());
            }
        };
        count(&mut out, scene.faces.len());
        scene.faces.iter().flatten().for_each(|p| point(&mut out, p));
        let lines: Vec<_> = scene.lines.iter().filter(|l| l.points.len() > 1).collect();
        count(&mut out, lines.len());
        for line in lines {
            count(&mut out, usize::from(matches!(line.kind, Kind::Land | Kind::Sheer)));
            count(&mut out, line.points.len());
            line.points.iter().for_each(|p| point(&mut out, p));
        }
        Some(out)
    })
    .await;
    match bytes {
        Ok(Some(bytes)) => ([(header::CONTENT_TYPE, "application/octet-stream")], bytes).into_response(),
        _ => (StatusCode::NOT_FOUND, "there is no hull yet").into_response(),
    }
}
