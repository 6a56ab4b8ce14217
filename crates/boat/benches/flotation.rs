//! How long it takes to find where she floats, and her righting arm.
//!
//! `cargo bench -p boat --bench flotation`; `docs/flotation.md` keeps the figures. Each case checks its answer: what she displaces
//! weighs what she does.

use boat::flotation::{FRESH, Hull, Load, afloat, righting};
use boat::folder::{BoatTexts, read};
use boat::plan::{self, Plan};
use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

const BOATS: [&str; 3] = ["corncrake", "sandgrouse", "lapwing"];

fn planned(name: &str) -> Plan {
    let (toml, offsets) = match name {
        "corncrake" => {
            (include_str!("../../../boats/corncrake/boat.toml"), include_str!("../../../boats/corncrake/offsets.csv"))
        }
        "sandgrouse" => (
            include_str!("../../../boats/sandgrouse/boat.toml"),
            include_str!("../../../boats/sandgrouse/offsets.csv"),
        ),
        _ => (include_str!("../../../boats/lapwing/boat.toml"), include_str!("../../../boats/lapwing/offsets.csv")),
    };
    let texts = BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), ..BoatTexts::default() };
    plan::plan(&read(&texts).expect("the example is read")).expect("the example is planned")
}

fn with_two(name: &str) -> (Hull, Load) {
    let plan = planned(name);
    let found = plan.flotation().expect("she floats");
    let load = found.companies.last().expect("a company").company.load;
    (found.hull, load)
}

#[divan::bench(args = BOATS)]
fn equilibrium(bencher: Bencher<'_, '_>, name: &str) {
    let (hull, load) = with_two(name);
    bencher.bench_local(|| {
        let found = afloat(&hull.solid, black_box(&load), FRESH).expect("she floats");
        assert!((found.under.volume * 1e-6 - load.mass).abs() < 1e-6 * load.mass);
    });
}

#[divan::bench(args = BOATS)]
fn righting_arm(bencher: Bencher<'_, '_>, name: &str) {
    let (hull, load) = with_two(name);
    bencher.bench_local(|| {
        let curve = righting(&hull, black_box(&load), FRESH).expect("she floats");
        assert_eq!(curve.arms.len(), 46);
    });
}

/// All of it: every company in two waters, the curves, swamped.
#[divan::bench(args = BOATS)]
fn all_of_it(bencher: Bencher<'_, '_>, name: &str) {
    let plan = planned(name);
    bencher.bench_local(|| assert_eq!(black_box(&plan).flotation().expect("she floats").companies.len(), 3));
}
