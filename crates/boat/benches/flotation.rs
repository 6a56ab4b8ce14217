//! How long it takes to find where she floats, and her righting arm.
//!
//! `cargo bench -p boat --bench flotation`; `docs/flotation.md` keeps the figures. Each case checks its answer: what she displaces
//! weighs what she does. Then the same hulls stand beside trimesh and scipy (`reference/floating.py`, with the interpreter that ./check
//! sets up; where there is none only our own times are printed): how far depth and arms are apart, and both times in ms.

mod example;
mod reference;
mod timing;

use boat::flotation::{FRESH, Hull, Load, afloat, righting};
use boat::plan::{self, Plan};
use divan::{Bencher, black_box};
use example::EXAMPLES;
use std::path::Path;
use timing::least;

fn main() {
    divan::main();
    if std::env::args().any(|a| a == "--bench") {
        beside();
    }
}

/// Depth and arms agree to this, mm.
const WITHIN: f64 = 1e-3;
/// Most, ms: where she floats, and her righting arm.
const LIMITS: [f64; 2] = [5.0, 100.0];

/// Each boat by us and by trimesh and scipy, in one run.
fn beside() {
    let python = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../readers/bin/python");
    println!(
        "{:>10} {:>10} {:>10} {:>9} {:>9} {:>9} {:>9}",
        "", "depth, mm", "arms, mm", "floats", "theirs", "curve", "theirs"
    );
    for name in EXAMPLES {
        let (hull, load) = with_two(name);
        let floats = least(20, || afloat(&hull.solid, &load, FRESH));
        let curve = least(20, || righting(&hull, &load, FRESH));
        let at = afloat(&hull.solid, &load, FRESH).expect("she floats").at;
        let arms = righting(&hull, &load, FRESH).expect("she floats").arms;
        let Some(said) = theirs(&python, &hull, &load, &arms.iter().map(|a| a.heel).collect::<Vec<_>>()) else {
            println!(
                "{name:>10} {:>10} {:>10} {floats:9.3} {:>9} {curve:9.2}   ({} is not there)",
                "",
                "",
                "",
                python.display()
            );
            continue;
        };
        let number = |v: &serde_json::Value| v.as_f64().expect("a number");
        // Depths differ as trims do, by the arm of her middle.
        let depth = (at.water - number(&said["water"])).abs() + 2000.0 * (at.trim - number(&said["trim"])).abs();
        let others = said["arms"].as_array().expect("arms").iter().map(number);
        let apart = arms.iter().zip(others).map(|(a, b)| (a.arm - b).abs()).fold(0.0, f64::max);
        let [f, c] = ["floats", "curve"].map(|key| 1000.0 * number(&said[key]));
        println!("{name:>10} {depth:10.6} {apart:10.6} {floats:9.3} {f:9.0} {curve:9.2} {c:9.0}");
        assert!(depth < WITHIN && apart < WITHIN, "{name}: {depth} and {apart} mm apart");
        assert!(floats < LIMITS[0] && curve < LIMITS[1], "{name}: {floats} and {curve} ms");
    }
}

/// What trimesh and scipy say; `None` where they are not there.
fn theirs(python: &Path, hull: &Hull, load: &Load, heels: &[f64]) -> Option<serde_json::Value> {
    let mut points: Vec<[f64; 3]> = Vec::new();
    let mut known = std::collections::BTreeMap::new();
    let mut number = |p: boat::geom::Point| {
        *known.entry([p.x, p.y, p.z].map(|v| (v + 0.0).to_bits())).or_insert_with(|| {
            points.push([p.x, p.y, p.z]);
            points.len() - 1
        })
    };
    let faces: Vec<[usize; 3]> = hull.solid.triangles().map(|t| t.map(&mut number)).collect();
    let given = serde_json::json!({
        "points": points, "faces": faces, "mass": load.mass, "centre": [load.centre.x, load.centre.y, load.centre.z],
        "density": FRESH, "heels": heels,
    });
    reference::said(python, "floating", &given)
}

fn planned(name: &str) -> Plan {
    plan::plan(&example::input(name)).expect("the boat is planned")
}

fn with_two(name: &str) -> (Hull, Load) {
    let plan = planned(name);
    let found = plan.flotation().expect("she floats");
    let load = found.companies.last().expect("a company").company.load;
    (found.hull, load)
}

#[divan::bench(args = EXAMPLES)]
fn equilibrium(bencher: Bencher<'_, '_>, name: &str) {
    let (hull, load) = with_two(name);
    bencher.bench_local(|| {
        let found = afloat(&hull.solid, black_box(&load), FRESH).expect("she floats");
        assert!((found.under.volume * 1e-6 - load.mass).abs() < 1e-6 * load.mass);
    });
}

#[divan::bench(args = EXAMPLES)]
fn righting_arm(bencher: Bencher<'_, '_>, name: &str) {
    let (hull, load) = with_two(name);
    bencher.bench_local(|| {
        let curve = righting(&hull, black_box(&load), FRESH).expect("she floats");
        assert_eq!(curve.arms.len(), 46);
    });
}

/// All of it: every company in two waters, the curves, swamped.
#[divan::bench(args = EXAMPLES)]
fn all_of_it(bencher: Bencher<'_, '_>, name: &str) {
    let plan = planned(name);
    bencher.bench_local(|| assert_eq!(black_box(&plan).flotation().expect("she floats").companies.len(), 3));
}
