//! How much nearer the truth fairing brings a table: `cargo bench -p boat --bench fairing`.
//!
//! Our two boats' offsets as their formulas give them (`tests/it/data/exact`), with normal errors of so many mm, rounded as
//! the boat's table is, twelve times; faired within 1/16 in, or 1/8 in where there are errors. Printed: the root mean
//! square distance from the truth before, the mean and the worst ratio of it after, how many of the twelve are nearer, and
//! how many entries were doubted.

use boat::folder::{BoatInput, BoatTexts, read};
use boat::lines;
use std::path::Path;

const TABLES: usize = 12;

fn main() {
    println!(
        "{:12} {:>6} {:>7} {:>6} {:>6} {:>7} {:>7}",
        "boat", "errors", "before", "mean", "worst", "nearer", "doubted"
    );
    for (name, unit) in [("corncrake", 1.5875), ("sandgrouse", 1.0)] {
        let truth = input(name);
        for errors in [0.0, 0.8, 1.5] {
            let mut seed = 7_u64;
            let (mut before, mut ratios, mut doubted) = (0.0, Vec::new(), 0);
            for _ in 0..TABLES {
                let mut noisy = truth.clone();
                noisy.spec.lines.fair_within = if errors > 0.0 { 3.175 } else { 1.5875 };
                for cell in noisy.table.rows.iter_mut().flat_map(|r| &mut r.cells).flatten() {
                    // A rounding of its own in each table, so that twelve say more than one.
                    let shift = unit * (uniform(&mut seed) - 0.5);
                    cell.mm = ((cell.mm + errors * normal(&mut seed) + shift) / unit).round() * unit - shift;
                }
                let fair = lines::fair(&noisy.table, &noisy.spec).expect("fairs").fair;
                let (mut given_off, mut fair_off, mut count) = (0.0, 0.0, 0);
                for (r, row) in truth.table.rows.iter().enumerate() {
                    for (c, cell) in row.cells.iter().enumerate() {
                        let (Some(t), Some(g), Some(f)) = (cell, &noisy.table.rows[r].cells[c], &fair[r].cells[c])
                        else {
                            continue;
                        };
                        given_off += (g.mm - t.mm).powi(2);
                        fair_off += (f.fair - t.mm).powi(2);
                        count += 1;
                        doubted += usize::from(f.suspect);
                    }
                }
                before += (given_off / f64::from(count)).sqrt() / TABLES as f64;
                ratios.push((fair_off / given_off).sqrt());
            }
            let mean = ratios.iter().sum::<f64>() / TABLES as f64;
            let worst = ratios.iter().fold(0.0_f64, |m, r| m.max(*r));
            let nearer = ratios.iter().filter(|r| **r < 1.0).count();
            println!("{name:12} {errors:6.1} {before:7.3} {mean:6.3} {worst:6.3} {nearer:7} {doubted:7}");
        }
    }
}

/// The next number of a linear congruence, in 0 to 1.
fn uniform(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 33) as f64 / (1_u64 << 31) as f64
}

/// A normal number: twelve uniform ones, less six.
fn normal(seed: &mut u64) -> f64 {
    (0..12).map(|_| uniform(seed)).sum::<f64>() - 6.0
}

/// The boat with her true offsets.
fn input(name: &str) -> BoatInput {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = |path: std::path::PathBuf| std::fs::read_to_string(path).expect("reads");
    let toml = text(root.join("../../boats").join(name).join("boat.toml"));
    let offsets = text(root.join(format!("tests/it/data/exact/{name}.csv")));
    let millimetres = |cell: &str| cell.trim().parse::<f64>().map_or(cell.to_owned(), |v| format!("{v} mm"));
    // The first line and the first cell of each are names.
    let line = |(i, line): (usize, &str)| -> String {
        let cells = line.split(',').enumerate();
        let typed = |(c, cell): (usize, &str)| if i == 0 || c == 0 { cell.to_owned() } else { millimetres(cell) };
        cells.map(typed).collect::<Vec<_>>().join(",")
    };
    let offsets: Vec<String> = offsets.lines().filter(|l| !l.starts_with('#')).enumerate().map(line).collect();
    read(&BoatTexts { toml, offsets: offsets.join("\n"), marks: None, boards: None }).expect("reads")
}
