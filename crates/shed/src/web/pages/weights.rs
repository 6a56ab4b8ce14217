//! What the planned parts weigh, and where their centre is.

use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::State;
use axum::routing::get;
use boat::plan::Plan;
use maud::{Markup, html};

pub fn routes() -> Router<Shared> {
    Router::new().route("/weights", get(weights))
}

async fn weights(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    let body = view.plan.as_ref().map_or_else(|| html! { p { "There is no plan to weigh yet." } }, |plan| weighed(plan));
    frame::page(&shed, &view, "/weights", "Weights", &[], &body)
}

fn weighed(plan: &Plan) -> Markup {
    let (len, w) = (plan.spec.lengths, &plan.weights);
    let parts = [
        ("Planks", w.planking, "their flat area times their thickness, so laps count twice, as the wood does"),
        ("Timbers", w.timbers, "their length round the hull times their section"),
        ("Thwarts, knees and the like", w.interior, "their outlines times their thickness; those that boat.toml asks for"),
        ("Nails and roves", w.fastenings, "as she takes them, not as they are packed"),
    ];
    html! {
        p.lead { "Both sides, as planned, at the density that boat.toml gives each wood." }
        div.scroll tabindex="0" role="region" aria-label="Weights" {
            table {
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
        dl.figures {
            div { dt { "Aft of the first station" } dd { (len.said(w.centre.x)) } }
            div { dt { "Above the base line" } dd { (len.said(w.centre.z)) } }
            div { dt { "Off her middle" } dd { "none: both sides are alike" } }
        }
        p { "The centre is that of the wood; nails are spread all over her and are not in it." }
        h2 { "How they are reckoned" }
        ul { @for (name, _, how) in parts.iter().filter(|p| p.1 > 0.0) { li { (name) ": " (how) "." } } }
        h2 { "What this is not" }
        p {
            "This is not the weight of the boat: keel, stem, sternpost or transom, screws, paint, oars, rig and people are not in it. "
            "How deep she floats, how much she carries and how stiff she is are not computed yet, so nothing here says whether she is "
            "safe afloat."
        }
    }
}
