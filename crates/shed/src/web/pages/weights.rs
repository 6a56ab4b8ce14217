//! What the planned parts weigh, and where their centre is.

use super::sheets::figures;
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::State;
use axum::routing::get;
use boat::lines::{Section, SectionAt};
use boat::plan::Plan;
use maud::{Markup, html};

/// Pages of the book about her afloat.
const AFLOAT: [&str; 4] = ["What she weighs", "How she floats", "How stiff she is", "What she may carry"];

pub fn routes() -> Router<Shared> {
    Router::new().route("/weights", get(weights))
}

async fn weights(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = match &view.plan {
        None => html! { p { "There is no plan to weigh yet." } },
        Some(plan) => html! {
            (weighed(plan))
            h2 { "Afloat" }
            p.row { a.button href="/weights/aboard" { "What is aboard" } span { "People, gear and foam, and with whom each is aboard; [[loads]] in boat.toml." } }
            (figures(&shed, &view, |title| AFLOAT.contains(&title)).await)
        },
    };
    frame::page(&shed, &view, "/weights", "Weights", &[], &body)
}

fn weighed(plan: &Plan) -> Markup {
    let (len, w) = (plan.spec.lengths, &plan.weights);
    let parts = [
        ("Planks", w.planking, "their flat area times their thickness, so laps count twice, as the wood does"),
        ("Timbers", w.timbers, "their length round the hull times their section"),
        (
            "Thwarts, knees and the like",
            w.interior,
            "their outlines times their thickness; those that boat.toml asks for",
        ),
        ("Keel, stem, sternpost, transoms", w.backbone, "by the sizes that boat.toml gives them"),
        ("Paint or varnish", w.paint, "so much on every face of the planks"),
        (
            "Nails, roves and screws",
            w.fastenings,
            "as she takes them, not as they are packed; screws as if they were bronze",
        ),
    ];
    html! {
        p.lead { "Both sides, as planned, at the density that boat.toml gives each wood." }
        div.scroll tabindex="0" role="region" aria-label="Weights" {
            table.words {
                thead { tr { th scope="col" { "part" } th scope="col" { "weighs" } th scope="col" { "share" } } }
                tbody {
                    @for (name, kg, _) in parts.iter().filter(|p| p.1 > 0.0) {
                        tr { th scope="row" { (name) } td { (len.mass(*kg, 1)) } td { (format!("{:.0} %", 100.0 * kg / w.total)) } }
                    }
                    tr { th scope="row" { "All of these" } td { strong { (len.mass(w.total, 1)) } } td { "100 %" } }
                }
            }
        }
        h2 { "Where their centre is" }
        (profile(plan))
        dl.figures {
            div { dt { "Aft of the first station" } dd { (len.said(w.centre.x)) } }
            div { dt { "Above the base line" } dd { (len.said(w.centre.z)) } }
            div { dt { "Off her middle" } dd { "none: both sides are alike" } }
        }
        p { "Nails and paint are spread all over her and are put at the middle of the planks." }
        h2 { "How they are reckoned" }
        ul { @for (name, _, how) in parts.iter().filter(|p| p.1 > 0.0) { li { (name) ": " (how) "." } } }
        h2 { "What this is not" }
        p {
            "This is not all of the weight of the boat: glue, bedding, fittings, oars, rig and people are not in it"
            @for what in &w.left_out { ", nor " (what) }
            ". How deep she floats, how stiff she is and what a rule would have her carry stand below and in the book."
        }
    }
}

/// From the beam, bow at the left: her planking, the stations, and the centre.
fn profile(plan: &Plan) -> Markup {
    let (Some(rabbet), Some(sheer)) = (plan.lands.first(), plan.lands.last()) else { return html! {} };
    // Along the rabbet, up the after end, along the sheer, down the fore end.
    let end = |section: Option<&Section>| section.map_or_else(Vec::new, |s| s.points.clone());
    let (fore, aft) = (end(plan.sections.first()), end(plan.sections.last()));
    let round = rabbet.points.iter().chain(&aft).chain(sheer.points.iter().rev()).chain(fore.iter().rev());
    let outline: Vec<[f64; 2]> = round.map(|p| [p.x, -p.z]).collect();
    let range = |axis: usize| {
        let all = outline.iter().map(|p| p[axis]);
        all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
    };
    let ([left, right], [top, bottom]) = (range(0), range(1));
    let edge = 0.02 * (right - left);
    let view = [left - edge, top - edge, right - left + 2.0 * edge, bottom - top + 2.0 * edge];
    let view: Vec<String> = view.iter().map(|v| format!("{v:.0}")).collect();
    let points: Vec<String> = outline.iter().map(|[x, y]| format!("{x:.0},{y:.0}")).collect();
    let (c, arm) = (plan.weights.centre, 1.5 * edge);
    html! {
        svg.profile viewBox=(view.join(" ")) role="img" aria-label="Her planking from the beam, bow at the left, with the centre marked" {
            polygon.hull points=(points.join(" ")) {}
            @for section in plan.sections.iter().filter(|s| matches!(s.at, SectionAt::Station(_))) {
                @let run: Vec<String> = section.points.iter().map(|p| format!("{:.0},{:.0}", p.x, -p.z)).collect();
                polyline.station points=(run.join(" ")) {}
            }
            circle.centre cx=(format!("{:.0}", c.x)) cy=(format!("{:.0}", -c.z)) r=(format!("{:.0}", 0.6 * arm)) {}
            path.centre d=(format!("M{:.0} {:.0}h{:.0}M{:.0} {:.0}v{:.0}", c.x - arm, -c.z, 2.0 * arm, c.x, -c.z - arm, 2.0 * arm)) {}
        }
    }
}
