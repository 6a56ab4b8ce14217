//! How the work from moved lands grows with the boat: `cargo bench -p boat --bench growth`.
//!
//! A double-ender of closed form, invented for this: parabolas for waterlines and sections, 2.4 m wide, between plumb posts,
//! a station every 450 mm. First 20 strakes on hulls of 10 to 40 ft, then 5 to 20 strakes on the hull of 40 ft. Least of
//! several runs, ms; beside each the time per strake and metre of length, which is level where growth is linear.

mod again;
mod timing;

use boat::folder::{BoatInput, BoatTexts, read};
use boat::lining::{Weights, propose};
use boat::{lines, planks};
use std::fmt::Write as _;
use timing::least;

const SPACING: f64 = 450.0;
const BEAM: f64 = 1200.0;
const FOOT: f64 = 304.8;
const RUNS: usize = 15;

fn main() {
    println!(
        "{:>6} {:>8} {:>8} {:>7} {:>9} {:>9} {:>13}",
        "ft", "strakes", "rulings", "lining", "the rest", "rivets", "ms/strake/m"
    );
    for feet in [10.0, 20.0, 30.0, 40.0] {
        row(feet, 20);
    }
    for strakes in [5, 10, 15] {
        row(40.0, strakes);
    }
}

fn row(feet: f64, strakes: usize) {
    let length = feet * FOOT;
    let input = hull(length, strakes);
    let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
    let ask = propose::Ask {
        skin: &skin,
        planking: &input.spec.planking,
        lining: &input.spec.lining,
        pins: &[],
        weights: Weights::default(),
    };
    let limits = planks::limits::limits(&input.spec, &skin, strakes, None);
    let line = || propose::propose(&ask, &limits, None).expect("lines off");
    let lands = line();
    assert_eq!(lands.strakes(), strakes);
    let lining = least(RUNS, line);
    let mut made = None;
    let rest = least(RUNS, || made = Some(again::from_lands(&lands, &skin, &input)));
    let made = made.expect("made");
    assert_eq!(made.flats.len(), strakes);
    assert!(made.bevels > strakes);
    assert!(made.flats.iter().all(|f| f.length > length), "a plank is longer than the boat");
    let rulings = made.flats[0].lower.len();
    let each = rest / (strakes as f64 * length / 1000.0);
    println!("{feet:6.0} {strakes:8} {rulings:8} {lining:7.1} {rest:9.1} {:9} {each:13.3}", made.rivets);
}

/// Half-breadth at height `z` over the rabbet, a share `along` of the length aft.
fn half_breadth(along: f64, z: f64, depth: f64) -> f64 {
    let t = (z / depth).clamp(0.0, 1.0);
    30.0 + BEAM * 4.0 * along * (1.0 - along) * t * (2.0 - t)
}

fn hull(length: f64, strakes: usize) -> BoatInput {
    let square = (length / SPACING) as usize;
    let first = 0.5 * (length - (square - 1) as f64 * SPACING);
    let stations: Vec<f64> = (0..square).map(|i| (first + i as f64 * SPACING) / length).collect();
    let sheer = |along: f64| 1150.0 + 250.0 * (2.0 * along - 1.0).powi(2);
    let rabbet = 100.0;
    let mut offsets = String::from("row");
    (0..square).for_each(|i| offsets.push_str(&format!(",{}", i + 1)));
    let mut row = |name: &str, of: &dyn Fn(f64) -> f64| {
        let _ = write!(offsets, "\n{name}");
        stations.iter().for_each(|along| offsets.push_str(&format!(",{:.2}", of(*along))));
    };
    row("height sheer", &sheer);
    row("height rabbet", &|_| rabbet);
    row("half-breadth sheer", &|a| half_breadth(a, sheer(a), sheer(a) - rabbet));
    for z in [150.0, 220.0, 320.0, 450.0, 600.0, 800.0, 1000.0] {
        row(&format!("half-breadth waterline {z}"), &|a| half_breadth(a, z - rabbet, sheer(a) - rabbet));
    }
    let post = |x: f64| {
        let points: Vec<String> =
            (0..=4).map(|i| format!("[{x:.1}, {:.1}]", 1400.0 - 325.0 * f64::from(i))).collect();
        format!("half_siding = 30\nrabbet = [{}]", points.join(", "))
    };
    let toml = format!(
        "strakewise = 1\nname = \"Growth\"\nlengths = \"mm\"\n[lines]\ndrawn_to = \"inside of plank\"\n\
         spacing = {SPACING}\nfair_within = 1\n[stem]\n{}\n[sternpost]\n{}\n[planking]\nthickness = 15\nlap = 32\n\
         strakes = {strakes}\n[timbers]\nspacing = 200\nsided = 30\nmoulded = 22\n",
        post(-first),
        post(length - first)
    );
    let texts = BoatTexts { toml, offsets, marks: None, ..BoatTexts::default() };
    read(&texts).unwrap_or_else(|e| panic!("{e}\n{}\n{}", texts.toml, texts.offsets))
}
