//! Tapes read back from SVG and DXF: every tick where the plan has it.

use boat::drawing::Spot;
use boat::drawing::place::Bounds;
use boat::paper::patterns::{Kind, Pattern};
use boat::paper::{write_dxf, write_svg};
use boat::plan::Plan;
use boat::spec::EndSpec;

use crate::paper::boats;
use crate::patterns::{WITHIN, all, face, named};
use crate::patterns_read::points;
use crate::readers::told_of;

/// A tape's land and that land's length, mm: the sum of what lies between the points of the strake's upper inner edge.
pub fn land_of(plan: &Plan, tape: &Pattern) -> (usize, f64) {
    let land = tape.name.strip_prefix("Tape of land ").and_then(|n| n.parse().ok()).expect("a tape");
    let strake = plan.strakes.iter().find(|s| s.strake == land).expect("its strake");
    (land, strake.rulings.last().expect("rulings").along)
}

/// Where a tape's ticks stand, read back from a file: mm aft of the strip's fore end.
#[derive(Debug, Default)]
struct Ticks {
    /// Dots, and open circles of rivets that wait.
    rivets: Vec<f64>,
    wait: Vec<f64>,
    in_gains: Vec<f64>,
    timbers: Vec<f64>,
    stations: Vec<f64>,
    gains: Vec<f64>,
    /// The short ticks at both edges.
    short: Vec<f64>,
}

fn check_ticks(plan: &Plan, tape: &Pattern, mut found: Ticks) {
    let (land, whole) = land_of(plan, tape);
    let place = format!("{}, {}", plan.spec.name, tape.name);
    let strake = &plan.strakes[land - 1];
    let gain = |end: &EndSpec| plan.spec.planking.gain_at(end).filter(|g| *g > 0.0);
    let (fore, aft) = (gain(&plan.spec.fore), gain(&plan.spec.aft));
    let rivets: Vec<_> = plan.rivets.iter().filter(|r| r.land == land).collect();
    let along = |pick: &dyn Fn(&boat::fastenings::Rivet) -> bool| -> Vec<f64> {
        rivets.iter().filter(|r| pick(r)).map(|r| r.along).collect()
    };
    let inside =
        |r: &boat::fastenings::Rivet| fore.is_some_and(|g| r.along < g) || aft.is_some_and(|g| r.along > whole - g);
    // Where the land line crosses the timber's plane: linear between two points of it.
    let edge = |t: &boat::timbers::Timber| {
        let off = |p: &boat::geom::Point| p.x - p.y * t.cant.tan() - t.x;
        let w = strake.rulings.windows(2).find(|w| off(&w[0].upper) <= 0.0 && 0.0 <= off(&w[1].upper))?;
        let (a, b) = (off(&w[0].upper), off(&w[1].upper));
        Some(w[0].along + a / (a - b) * (w[1].along - w[0].along))
    };
    let stations: Vec<f64> =
        strake.at.iter().map(|a| strake.rulings[a.ruling].along).filter(|a| *a > 0.5 && *a < whole - 0.5).collect();
    let gains: Vec<f64> = fore.into_iter().chain(aft.map(|g| whole - g)).collect();
    let all = along(&|_| true);
    let ticks: Vec<f64> = all.iter().chain(&all).copied().collect();
    let timbers: Vec<f64> = plan.timbers.iter().filter_map(edge).flat_map(|a| [a, a]).collect();
    for (what, found, wanted) in [
        ("rivets", &mut found.rivets, along(&|r| r.blocked_by.is_none())),
        ("rivets that wait", &mut found.wait, along(&|r| r.blocked_by.is_some())),
        ("rivets in gains", &mut found.in_gains, along(&inside)),
        ("ticks", &mut found.short, ticks),
        ("timbers", &mut found.timbers, timbers),
        ("stations", &mut found.stations, stations),
        ("gains", &mut found.gains, gains),
    ] {
        let mut wanted = wanted;
        wanted.sort_by(f64::total_cmp);
        found.sort_by(f64::total_cmp);
        assert_eq!(found.len(), wanted.len(), "{place}: {what}");
        for (a, b) in found.iter().zip(&wanted) {
            assert!((a - b).abs() < WITHIN, "{place}: {what} at {a} for {b}");
        }
    }
}

/// The middles, from the strip's fore end, of runs of points.
fn middles(runs: &[Vec<Spot>], left: f64) -> Vec<f64> {
    runs.iter().map(|run| run.iter().map(|p| p[0]).sum::<f64>() / run.len() as f64 - left).collect()
}

#[test]
fn ticks_of_tapes_read_from_svg_stand_where_the_plan_has_them() {
    let (mut wait, mut in_gains, mut lands) = (0, 0, 0);
    for plan in boats() {
        for tape in all(plan).iter().filter(|p| p.kind == Kind::Tape) {
            let text = write_svg(&face(), &tape.sheet);
            let document = roxmltree::Document::parse(&text).expect("well-formed XML");
            let nodes = |id: &str| {
                let group = document.root_element().children().find(|n| n.attribute("id") == Some(id));
                group.map_or_else(Vec::new, |g| g.descendants().collect())
            };
            let runs =
                |id: &str| -> Vec<Vec<Spot>> { nodes(id).iter().map(points).filter(|p| !p.is_empty()).collect() };
            let left = Bounds::of(runs("outline").concat()).expect("an outline").left;
            let circles = |id: &str| -> Vec<f64> {
                let at = |n: &roxmltree::Node<'_, '_>| n.attribute("cx").map(|v| v.parse::<f64>().unwrap() - left);
                nodes(id).iter().filter_map(at).collect()
            };
            let found = Ticks {
                rivets: circles("rivets"),
                wait: circles("rivets-that-wait"),
                in_gains: middles(&runs("rivets-in-gains"), left),
                timbers: middles(&runs("timbers"), left),
                stations: middles(&runs("stations"), left),
                gains: middles(&runs("gains"), left),
                short: middles(&runs("rivets"), left),
            };
            (wait, in_gains, lands) = (wait + found.wait.len(), in_gains + found.in_gains.len(), lands + 1);
            check_ticks(plan, tape, found);
        }
    }
    assert!(wait > 50 && in_gains > 50 && lands > 20, "{wait} wait, {in_gains} in gains, {lands} lands");
}

#[test]
fn ticks_of_tapes_read_from_dxf_stand_where_the_plan_has_them() {
    for (plan, land) in [(&boats()[0], 1), (&boats()[0], 6), (&boats()[1], 4)] {
        let tape = named(plan, &format!("Tape of land {land}"));
        let scratch = format!("dxf-tape-{}-{land}", plan.spec.name);
        let told = told_of("dxf.py", "ezdxf, by ./check", &scratch, "dxf", write_dxf(&tape.sheet));
        assert_eq!(told["errors"], serde_json::json!([]));
        let x = |v: &serde_json::Value| v[0].as_f64().expect("a number");
        let runs = |layer: &str| -> Vec<Vec<Spot>> {
            let of = told["polylines"].as_array().unwrap().iter().filter(|p| p["layer"] == layer);
            of.map(|p| p["points"].as_array().unwrap().iter().map(|v| [x(v), v[1].as_f64().unwrap()]).collect())
                .collect()
        };
        let left = Bounds::of(runs("OUTLINE").concat()).expect("an outline").left;
        let circles = |layer: &str| -> Vec<f64> {
            told["circles"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|c| c["layer"] == layer)
                .map(|c| x(&c["at"]) - left)
                .collect()
        };
        let found = Ticks {
            rivets: circles("RIVETS"),
            wait: circles("RIVETS_THAT_WAIT"),
            in_gains: middles(&runs("RIVETS_IN_GAINS"), left),
            timbers: middles(&runs("TIMBERS"), left),
            stations: middles(&runs("STATIONS"), left),
            gains: middles(&runs("GAINS"), left),
            short: middles(&runs("RIVETS"), left),
        };
        check_ticks(plan, &tape, found);
    }
}
