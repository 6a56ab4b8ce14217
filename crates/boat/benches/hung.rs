//! A simulated builder: boats hung strake by strake with errors, without lining again and with it.
//!
//! `cargo bench -p boat --bench hung` prints the tables that `docs/at-the-boat.md` keeps; `-- --tune` tries weights on other
//! seeds.

#[path = "builder/mod.rs"]
mod builder;

use builder::{Boat, Errors, Measured, Method, Outcome, boats, build};
use std::time::Instant;

/// Seeds of each boat; three boats.
const SEEDS: u64 = 70;

fn main() {
    let boats = boats();
    let tune = std::env::args().any(|a| a == "--tune");
    let first = if tune { 1000 } else { 1 };
    let start = Instant::now();
    if std::env::args().any(|a| a == "--short") {
        return table("within 2 mm, few", &boats, 1, Errors { level: 2.0, normal: false }, 4);
    }
    for normal in [false, true] {
        for level in [1.0, 2.0, 3.0] {
            let errors = Errors { level, normal };
            let name = if normal { format!("normal, sd {} mm", level / 2.0) } else { format!("within {level} mm") };
            table(&name, &boats, first, errors, SEEDS);
        }
    }
    println!("{:.0} s", start.elapsed().as_secs_f64());
}

fn table(name: &str, boats: &[Boat], first: u64, errors: Errors, seeds: u64) {
    let inch = 25.4 / 16.0;
    let methods = [
        ("as planned", Method::AsPlanned),
        ("moulds, 1 mm", Method::Again(Measured { round: 1.0, ends: false })),
        ("and ends, 1 mm", Method::Again(Measured { round: 1.0, ends: true })),
        ("moulds, 1/16 in", Method::Again(Measured { round: inch, ends: false })),
    ];
    println!("{name}");
    println!(
        "  how               boats | sheer off: 95 %, most, over 3 mm | jump: median, 95 %, most, over 2 mm: boats, places | fits: share, worst"
    );
    for (how, method) in methods {
        let outcomes: Vec<Outcome> = boats
            .iter()
            .flat_map(|boat| (first..first + seeds).map(move |seed| build(boat, seed, errors, method)))
            .collect();
        line(how, &outcomes);
    }
}

fn line(how: &str, all: &[Outcome]) {
    let sorted = |of: &dyn Fn(&Outcome) -> f64| {
        let mut values: Vec<f64> = all.iter().map(of).collect();
        values.sort_by(f64::total_cmp);
        values
    };
    let at = |values: &[f64], share: f64| values[((values.len() as f64 * share) as usize).min(values.len() - 1)];
    let over =
        |values: &[f64], limit: f64| 100.0 * values.iter().filter(|v| **v > limit).count() as f64 / all.len() as f64;
    let sheer = sorted(&|o| o.sheer);
    let jump = sorted(&|o| o.jumps.iter().fold(0.0, |m: f64, j| m.max(j.abs())));
    let own = sorted(&|o| o.own);
    let places: Vec<f64> = all.iter().flat_map(|o| o.jumps.iter().copied()).collect();
    let far = 100.0 * places.iter().filter(|j| j.abs() > 2.0).count() as f64 / places.len() as f64;
    let fits: Vec<f64> = all.iter().flat_map(|o| o.fits.iter().copied()).collect();
    let good = 100.0 * fits.iter().filter(|f| **f <= 1.0).count() as f64 / fits.len().max(1) as f64;
    println!(
        "  {how:16} {:4} | {:4.2} {:4.2} {:4.1} % | {:4.2} {:4.2} {:4.2} {:5.1} % {:6.2} % | {good:6.2} % {:4.2} | own {:.2} {:4.1} % over 2",
        all.len(),
        at(&sheer, 0.95),
        at(&sheer, 1.0),
        over(&sheer, 3.0),
        at(&jump, 0.5),
        at(&jump, 0.95),
        at(&jump, 1.0),
        over(&jump, 2.0),
        far,
        fits.iter().fold(0.0, |m: f64, f| m.max(*f)),
        at(&own, 1.0),
        over(&own, 2.0),
    );
}
