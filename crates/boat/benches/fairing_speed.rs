//! How long fairing takes and how that grows, side by side with cvxpy: `cargo bench -p boat --bench fairing_speed`.
//!
//! Tables of the dinghy of `hulls` with errors of 1.5 mm, rounded to 1/16 in and faired within that, so that entries stand
//! at their limits. Least of so many runs. Printed for each, in ms: the fairing, without
//! and with the entries weighed one by one for misprints; the last round's quadratic alone, its limits and all; and the same
//! quadratic by cvxpy with Clarabel (`reference/fairing.py`), with cvxpy's own work and without. Both answers must give the
//! same least value to a millionth. Python's packages are installed from
//! PyPI into a folder under the target directory; where that cannot be done, only our own half is printed.

mod hulls;
mod reference;
mod timing;

use boat::lines::fairing::{self, Problem};
use boat::lines::profile::Ends;
use hulls::{HULLS, SIXTEENTH, Size, noisy};
use nalgebra::DVector;
use std::path::Path;
use timing::least;

const SIZES: [Size; 4] = [
    Size { columns: 6, waterlines: 3, buttocks: 1, diagonals: 0 },
    hulls::TWELVE,
    Size { columns: 24, waterlines: 17, buttocks: 5, diagonals: 3 },
    Size { columns: 40, waterlines: 15, buttocks: 4, diagonals: 3 },
];

fn main() {
    let python = reference::python("fairing-venv", "import cvxpy, clarabel", &["cvxpy", "clarabel"]);
    println!(
        "{:>8} {:>7} {:>9} {:>9} {:>9} {:>8} {:>7} {:>8} {:>6} {:>7} {:>6}",
        "table",
        "entries",
        "fairing",
        "misprints",
        "quadratic",
        "at limit",
        "cvxpy",
        "quotient",
        "solver",
        "quotient",
        "apart"
    );
    for size in &SIZES {
        let mut seed = 11;
        let mut boat = noisy(&HULLS[0].input(size), 1.5, SIXTEENTH, &mut seed);
        boat.spec.lines.fair_within = SIXTEENTH;
        let (table, spec) = (&boat.table, &boat.spec);
        let ends = Ends::new(spec).expect("has ends");
        let stations = ends.sections_between(table).expect("has sections");
        let fair = |weigh: bool| fairing::fair(table, spec, &ends, &stations, weigh).expect("fairs");
        let runs = if size.columns > 12 { 5 } else { 25 };
        let faired = least(runs, || fair(false));
        let weighed = least(runs.min(5), || fair(true)) - faired;
        let problem = fairing::problem(table, spec).expect("fairs");
        let ours = problem.least().expect("has a least");
        let solved = least(runs, || problem.least());
        let limits: Vec<f64> = problem.limit.iter().map(|l| l.expect("all are held")).collect();
        let at_limit = ours.iter().zip(&limits).filter(|(d, l)| d.abs() >= **l).count();
        let entries = limits.len();
        let name = format!("{} × {}", size.columns, table.rows.len());
        print!("{name:>8} {entries:7} {faired:9.2} {weighed:9.1} {solved:9.3} {at_limit:8}");
        if let Some(python) = &python {
            let theirs = theirs(python, &problem, &limits, entries);
            let (a, b) = (problem.value(&ours), problem.value(&theirs.change));
            let apart = (&ours - &theirs.change).amax();
            assert!((a - b).abs() <= 1e-6 * b.abs(), "least values {a} and {b}");
            let (whole, alone) = (theirs.whole / solved, theirs.alone / solved);
            print!(" {:7.1} {whole:8.0} {:6.2} {alone:8.1} {apart:6.0e}", theirs.whole, theirs.alone);
        }
        println!();
    }
}

/// What the reference says: the change, and ms with and without cvxpy's own work.
struct Theirs {
    change: DVector<f64>,
    whole: f64,
    alone: f64,
}

fn theirs(python: &Path, problem: &Problem, limits: &[f64], n: usize) -> Theirs {
    let upper: Vec<(usize, usize)> =
        (0..n).flat_map(|j| (0..=j).map(move |i| (i, j))).filter(|&at| problem.h[at] != 0.0).collect();
    let (i, j): (Vec<usize>, Vec<usize>) = upper.iter().copied().unzip();
    let v: Vec<f64> = upper.iter().map(|&at| problem.h[at]).collect();
    let json = serde_json::json!({ "n": n, "i": i, "j": j, "v": v, "q": problem.g.as_slice(), "limit": limits });
    let said = reference::said(python, "fairing", &json).expect("runs");
    let number = |key: &str| said[key].as_f64().expect("a number");
    let change = said["x"].as_array().expect("a list").iter().map(|v| v.as_f64().expect("a number"));
    Theirs {
        change: DVector::from_iterator(n, change),
        whole: 1000.0 * number("whole"),
        alone: 1000.0 * number("alone"),
    }
}
