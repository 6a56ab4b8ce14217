//! Everything that is made of a boat whose numbers were moved.

use super::folders::{boats, texts};
use super::told;
use crate::{Spoilt, Target};
use boat::drawing::typeface::Type;
use boat::exchange;
use boat::folder::{BoatInput, read, read_rates};
use boat::jobs::jobs;
use boat::paper::patterns::{self, patterns};
use boat::paper::pictures::pictures;
use boat::paper::{PaperSize, book};
use boat::plan::json::to_json;
use boat::plan::{Plan, plan};
use boat::quote::reckon;
use boat::sawing::{Effort, suit};
use std::ops::ControlFlow;

pub const PLAN: Target = Target { name: "plan", spoilt: Spoilt::Numbers, seeds: boats, run: planned, short: 60 };
pub const PAPERS: Target = Target { name: "papers", spoilt: Spoilt::Numbers, seeds: boats, run: papers, short: 8 };
pub const BOARDS: Target = Target { name: "boards", spoilt: Spoilt::Numbers, seeds: racked, run: sawn, short: 12 };

const RATES: &str = include_str!("../../../../boats/corncrake/rates.toml");

/// The plan, where there is one; what was refused is told.
fn made(input: &[u8]) -> Option<(BoatInput, Plan)> {
    let boat = read(&texts(input)).map_err(|why| told(&why, input)).ok()?;
    let plan = plan(&boat).map_err(|why| told(&why, input)).ok()?;
    Some((boat, plan))
}

fn planned(input: &[u8]) {
    let Some((boat, plan)) = made(input) else { return };
    let lengths = boat.spec.lengths;
    let json: serde_json::Value = serde_json::from_str(&to_json(&plan)).expect("what is printed is JSON");
    for mark in json["marks"].as_array().expect("marks") {
        assert!(mark["girth_mm"].is_number(), "{mark}");
    }
    for flat in &plan.flats {
        assert!(flat.length.is_finite() && flat.length > 0.0, "{}", flat.length);
        assert!(flat.lower.iter().chain(&flat.upper).flatten().all(|v| v.is_finite()));
    }
    for finding in &plan.findings {
        told(&format!("{}: {}", finding.place, finding.hint), input);
    }
    for step in jobs(&plan, &[]).iter().flat_map(|j| &j.steps) {
        assert!(!step.number.spoken(lengths).contains("NaN"));
    }
}

fn papers(input: &[u8]) {
    let Some((boat, plan)) = made(input) else { return };
    let t = Type::embedded().expect("the program's own type");
    let book = book::write(&plan, PaperSize::A4).expect("a book");
    assert!(book.starts_with(b"%PDF"));
    for pattern in patterns(&t, &plan, &patterns::Kind::ALL) {
        let (wide, tall) = (pattern.sheet.width, pattern.sheet.height);
        assert!(wide.is_finite() && tall.is_finite(), "{wide} {tall}");
    }
    assert!(pictures(&t, &plan).iter().all(|p| p.sheet.height.is_finite()));
    assert!(!exchange::files(&plan, &exchange::Kind::ALL).expect("files").is_empty());
    let rates = read_rates(RATES).expect("the example's rates");
    if let Err(why) = reckon(&plan, &boat.boards, &rates) {
        told(&why, input);
    }
}

/// Those with boards.
fn racked() -> Vec<Vec<u8>> {
    boats().into_iter().take(1).collect()
}

fn sawn(input: &[u8]) {
    let Some((boat, plan)) = made(input) else { return };
    let effort = Effort { rounds: 3, good_enough: 3, seed: 1 };
    match suit(&plan, &boat.boards, effort, &mut |_| ControlFlow::Continue(())) {
        Ok(suited) => assert!(suited.plan.flats.len() == plan.flats.len()),
        Err(why) => told(&why, input),
    }
}
