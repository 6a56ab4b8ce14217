//! A simulated builder: boats hung strake by strake with errors, without lining again and with it.
//!
//! `cargo bench -p boat --bench hung` prints the tables that `docs/at-the-boat.md` keeps; `-- --tune` takes the seeds that
//! the weights were chosen on, `-- --short` a few boats; `-- --floor` what no rule of lining could
//! better.

mod builder;
mod example;
#[path = "builder/floor.rs"]
mod floor;

use builder::{Boat, Errors, Measured, Method, Outcome, boats, build};
use std::time::Instant;

/// Seeds of each boat; three boats.
const SEEDS: u64 = 70;

fn main() {
    let asked = |word: &str| std::env::args().any(|a| a == word);
    let (boats, start) = (boats(), Instant::now());
    let first = if asked("--tune") { 1000 } else { 1 };
    let seeds = if asked("--short") { 4 } else { SEEDS };
    if asked("--floor") {
        return floor();
    }
    println!("how | boats | sheer off, mm: 95 %, most; over 3 | jump, mm: median, 95 %, most; over 2: boats, places");
    println!("    | fits within 1 mm, worst | a plank's own error, most; boats over 2");
    for normal in [false, true] {
        for level in [1.0, 1.5, 2.0, 3.0] {
            let name = if normal { format!("normal, sd {} mm", level / 2.0) } else { format!("within {level} mm") };
            table(&name, &boats, first..first + seeds, Errors { level, normal });
        }
    }
    println!("{:.0} s", start.elapsed().as_secs_f64());
}

/// What no rule could better, at one mould by itself, boats of 6 to 10 strakes as ours.
fn floor() {
    for level in [1.0, 1.5, 2.0, 3.0] {
        let errors = Errors { level, normal: false };
        for strakes in [6, 8, 10] {
            let [least, plain] = [floor::least(errors, strakes), floor::plain(errors, strakes, 100_000)];
            println!(
                "within {level} mm, {strakes:2} strakes: {:6.2} % of moulds spoilt by the best rule, {:6.2} % by the plain one",
                100.0 * least,
                100.0 * plain
            );
        }
    }
}

fn table(name: &str, boats: &[Boat], seeds: std::ops::Range<u64>, errors: Errors) {
    let mut methods = vec![
        ("as planned", Method::AsPlanned),
        ("moulds and ends", Method::Again(Measured { round: 0.5, ends: true })),
    ];
    if !errors.normal {
        for (name, round) in [("1 mm", 1.0), ("1/32 in", 25.4 / 32.0), ("1/16 in", 25.4 / 16.0)] {
            methods.push((name, Method::Again(Measured { round, ends: true })));
        }
        methods.push(("moulds alone", Method::Again(Measured { round: 0.5, ends: false })));
    }
    println!("{name}");
    for (how, method) in methods {
        let all = boats.iter().flat_map(|boat| seeds.clone().map(move |seed| build(boat, seed, errors, method)));
        line(how, &all.collect::<Vec<Outcome>>());
    }
}

fn line(how: &str, all: &[Outcome]) {
    let sorted = |of: &dyn Fn(&Outcome) -> f64| {
        let mut values: Vec<f64> = all.iter().map(of).collect();
        values.sort_by(f64::total_cmp);
        values
    };
    let at = |values: &[f64], share: f64| values[((values.len() as f64 * share) as usize).min(values.len() - 1)];
    let over = |values: &[f64], limit: f64| {
        100.0 * values.iter().filter(|v| **v > limit).count() as f64 / values.len() as f64
    };
    let (sheer, own) = (sorted(&|o| o.sheer), sorted(&|o| o.own));
    let jump = sorted(&|o| o.jumps.iter().fold(0.0, |m: f64, j| m.max(j.abs())));
    let places: Vec<f64> = all.iter().flat_map(|o| o.jumps.iter().map(|j| j.abs())).collect();
    let fits: Vec<f64> = all.iter().flat_map(|o| o.fits.iter().copied()).collect();
    let (good, worst) = (100.0 - over(&fits, 1.0), fits.iter().fold(0.0, |m: f64, f| m.max(*f)));
    println!(
        "  {how:18} {:4} | {:5.2} {:5.2} {:5.1} % | {:5.2} {:5.2} {:5.2} {:5.1} % {:5.2} % | {good:6.2} % {worst:4.2} | {:4.2} {:5.1} %",
        all.len(),
        at(&sheer, 0.95),
        at(&sheer, 1.0),
        over(&sheer, 3.0),
        at(&jump, 0.5),
        at(&jump, 0.95),
        at(&jump, 1.0),
        over(&jump, 2.0),
        over(&places, 2.0),
        at(&own, 1.0),
        over(&own, 2.0),
    );
}
