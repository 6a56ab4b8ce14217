//! How many planted misprints are found: `cargo bench -p boat --bench misprints`.
//!
//! Each entry of a table by turns is made wrong by so much, up and down, and the table faired. What the finder says is
//! one of: `named`, the wrong entry and no other; `among`, the wrong entry as one of two or more; `silent`; `unjust`,
//! another entry alone. The canoe's own doubtful entries are first set right as the finder has them. Last, how many
//! entries are doubted in tables that have only a little more of the rounding they have anyway.

use boat::folder::{BoatInput, BoatTexts, read};
use boat::lines;
use boat::offsets::Table;
use std::path::Path;

const SLIPS: [(&str, f64); 4] = [("1/4 in", 6.35), ("1/2 in", 12.7), ("1 in", 25.4), ("2 in", 50.8)];

fn main() {
    println!("{:12} {:>7} {:>6} {:>6} {:>6} {:>6}", "boat", "slip", "named", "among", "silent", "unjust");
    for name in ["corncrake", "sandgrouse", "canoe"] {
        let mut input = input(name);
        let doubts = doubts(&input.table, &input);
        for (r, c, fair) in doubts {
            if let Some(cell) = input.table.rows[r].cells[c].as_mut() {
                cell.mm = fair;
            }
        }
        for (said, slip) in SLIPS {
            let tally = planted(&input, slip);
            println!("{name:12} {said:>7} {:6} {:6} {:6} {:6}", tally[0], tally[1], tally[2], tally[3]);
        }
        let (tables, entries) = noisy(&input);
        println!("{name:12} {:>7} {entries} entries doubted in {tables} of {NOISY} tables", "noise");
    }
}

/// Row, column and fair value of the doubtful entries.
fn doubts(table: &Table, input: &BoatInput) -> Vec<(usize, usize, f64)> {
    let fair = lines::fair(table, &input.spec).map(|l| l.fair).unwrap_or_default();
    let mut found = Vec::new();
    for (r, row) in fair.iter().enumerate() {
        for (c, cell) in row.cells.iter().enumerate() {
            found.extend(cell.as_ref().filter(|f| f.suspect).map(|f| (r, c, f.fair)));
        }
    }
    found
}

fn planted(input: &BoatInput, slip: f64) -> [usize; 4] {
    let mut tally = [0; 4];
    for r in 0..input.table.rows.len() {
        for c in 0..input.table.stations.len() {
            for sign in [-1.0, 1.0] {
                let mut table = input.table.clone();
                let Some(cell) = table.rows[r].cells[c].as_mut() else { continue };
                cell.mm += sign * slip;
                let place = format!("{}, station {}", table.rows[r].name, table.stations[c].name);
                let fair = lines::fair(&table, &input.spec).map(|l| l.fair).unwrap_or_default();
                let cells = || fair.iter().flat_map(|row| &row.cells).flatten();
                let own = fair.get(r).and_then(|row| row.cells[c].as_ref()).filter(|f| f.suspect);
                let others = cells().filter(|f| f.suspect).count() - usize::from(own.is_some());
                let among = cells().any(|f| f.or.contains(&place));
                let what = match own {
                    Some(f) if f.or.is_empty() && others == 0 => 0,
                    Some(_) => 1,
                    None if among => 1,
                    None if others == 0 => 2,
                    None => 3,
                };
                tally[what] += 1;
            }
        }
    }
    tally
}

const NOISY: usize = 40;

/// How many tables have doubts, and how many doubts, with up to half a tolerance more of rounding in every entry.
fn noisy(input: &BoatInput) -> (usize, usize) {
    let mut seed = 1_u64;
    let mut share = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as f64 / (1_u64 << 31) as f64 - 0.5
    };
    let mut found = (0, 0);
    for _ in 0..NOISY {
        let mut table = input.table.clone();
        for cell in table.rows.iter_mut().flat_map(|row| &mut row.cells).flatten() {
            cell.mm += share() * input.spec.lines.fair_within;
        }
        let doubts = doubts(&table, input).len();
        found = (found.0 + usize::from(doubts > 0), found.1 + doubts);
    }
    found
}

fn input(name: &str) -> BoatInput {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = match name {
        "canoe" => root.join("tests/it/data/canoe"),
        example => root.join("../../boats").join(example),
    };
    let text = |file: &str| std::fs::read_to_string(folder.join(file)).expect("reads");
    let texts = BoatTexts { toml: text("boat.toml"), offsets: text("offsets.csv"), marks: None, boards: None };
    read(&texts).expect("reads")
}
