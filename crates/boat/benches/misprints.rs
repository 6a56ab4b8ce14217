//! How many planted misprints are found: `cargo bench -p boat --bench misprints`; `-- quick` for the
//! smallest slip alone.
//!
//! Each entry of a table by turns is made wrong by so much, up and down, and the table faired. What the finder says is
//! one of: `named`, the wrong entry is doubted and no other; `among`, it is one of two or more that are doubted, or named
//! as what may be wrong instead; `look`, it is only among those to look at first, at most three for each doubt; `silent`;
//! `unjust`, other entries alone are doubted, and `astray`, only others are to be looked at. `bound` is the share that
//! would be found if only the entries' own spread against all the rest hid them. The canoe's own doubtful entries are
//! first set right as the finder has them. Then two neighbouring figures of a row exchanged, two and three entries at once,
//! how many entries are doubted in tables that have only a little more of the rounding they have anyway, and how long a
//! table takes. Last the slips over the cells of all three boats.

mod example;

use boat::folder::BoatInput;
use boat::lines;
use boat::offsets::Table;
use example::{LARGER, input};
use std::time::Instant;

const SLIPS: [(&str, f64); 4] = [("1/4 in", 6.35), ("1/2 in", 12.7), ("1 in", 25.4), ("2 in", 50.8)];
/// Spreads off at which the finder speaks of an entry.
const SPEAKS: f64 = 2.8;

fn main() {
    let words = ["named", "among", "look", "silent", "unjust", "astray", "found", "bound"];
    print!("{:12} {:>7}", "boat", "slip");
    println!("{}", words.map(|w| format!(" {w:>6}")).concat());
    // Of all boats, by slip: the tally, and the sum over their cells of the share that could be found.
    let mut over_all = [([0; 6], 0.0); SLIPS.len()];
    for name in LARGER {
        let mut input = input(name);
        let began = Instant::now();
        let doubts = doubts(&input.table, &input);
        let took = began.elapsed().as_secs_f64() * 1000.0;
        println!("{name:12} as printed: {} doubted, {} to look at; {took:.0} ms", doubts.0.len(), doubts.1);
        for (r, c, fair) in doubts.0 {
            if let Some(cell) = input.table.rows[r].cells[c].as_mut() {
                cell.mm = fair;
            }
        }
        let clean = self::doubts(&input.table, &input);
        println!("{name:12} clean: {} doubted, {} to look at", clean.0.len(), clean.1);
        let spreads: Vec<f64> =
            lines::spreads(&input.table, &input.spec).expect("fairs").into_iter().flatten().flatten().collect();
        let quick = std::env::args().any(|a| a == "quick");
        for ((said, slip), sum) in SLIPS.into_iter().zip(&mut over_all).take(if quick { 1 } else { SLIPS.len() }) {
            let tally = planted(&input, slip);
            let could = 2.0 * spreads.iter().map(|s| normal(slip / s - SPEAKS)).sum::<f64>();
            print(name, said, tally, could);
            *sum = (std::array::from_fn(|i| sum.0[i] + tally[i]), sum.1 + could);
        }
        let [pairs, named, found] = exchanges(&input);
        println!("{name:12} figures exchanged: {pairs} pairs, {named} named as that, {found} found");
        for (said, slip) in &SLIPS[1..3] {
            for count in [2, 3] {
                let found = several(&input, *slip, count);
                println!(
                    "{name:12} {said:>7} {count} at once, {TRIALS} tables: {} of {} found",
                    found,
                    TRIALS * count
                );
            }
        }
        let (tables, entries, look) = noisy(&input);
        println!("{name:12}   noise {entries} doubted in {tables} of {NOISY} tables, {look} to look at");
        let slowest = slowest(&input);
        println!("{name:12}    time {slowest:.0} ms at most to scan and fair, three entries an inch wrong");
    }
    for ((said, _), (tally, could)) in SLIPS.into_iter().zip(over_all).filter(|(_, sum)| sum.1 > 0.0) {
        print("all three", said, tally, could);
    }
    let pooled = over_all
        .iter()
        .fold(([0; 6], 0.0), |a: ([usize; 6], f64), sum| (std::array::from_fn(|i| a.0[i] + sum.0[i]), a.1 + sum.1));
    print("all three", "all", pooled.0, pooled.1);
}

/// A line of what was said of planted slips, of which so many could be found.
fn print(name: &str, said: &str, tally: [usize; 6], could: f64) {
    let all: usize = tally.iter().sum();
    let found = 100.0 * (tally[0] + tally[1] + tally[2]) as f64 / all as f64;
    let tally = tally.map(|n| format!(" {n:6}")).concat();
    println!("{name:12} {said:>7}{tally} {found:5.1}% {:5.1}%", 100.0 * could / all as f64);
}

/// Share of the normal distribution below `z` [A&S64 26.2.17].
fn normal(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let series = [0.319_381_530, -0.356_563_782, 1.781_477_937, -1.821_255_978, 1.330_274_429];
    let sum = series.iter().rev().fold(0.0, |sum, c| (sum + c) * t);
    let tail = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() * sum;
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// Row, column and fair value of the doubtful entries, and how many are to be looked at first.
fn doubts(table: &Table, input: &BoatInput) -> (Vec<(usize, usize, f64)>, usize) {
    let fair = lines::fair(table, &input.spec).map(|l| l.fair).unwrap_or_default();
    let (mut found, mut look) = (Vec::new(), 0);
    for (r, row) in fair.iter().enumerate() {
        for (c, cell) in row.cells.iter().enumerate() {
            found.extend(cell.as_ref().filter(|f| f.suspect).map(|f| (r, c, f.fair)));
            look += usize::from(cell.as_ref().is_some_and(|f| f.look_first));
        }
    }
    (found, look)
}

fn planted(input: &BoatInput, slip: f64) -> [usize; 6] {
    let mut tally = [0; 6];
    for r in 0..input.table.rows.len() {
        for c in 0..input.table.stations.len() {
            for sign in [-1.0, 1.0] {
                let mut table = input.table.clone();
                let Some(cell) = table.rows[r].cells[c].as_mut() else { continue };
                cell.mm += sign * slip;
                tally[said(&table, input, (r, c))] += 1;
            }
        }
    }
    tally
}

/// What is said of the wrong entry at `at`: index into the tally.
fn said(table: &Table, input: &BoatInput, (r, c): (usize, usize)) -> usize {
    let place = format!("{}, station {}", table.rows[r].name, table.stations[c].name);
    let fair = lines::fair(table, &input.spec).map(|l| l.fair).unwrap_or_default();
    let cells = || fair.iter().flat_map(|row| &row.cells).flatten();
    let own = fair.get(r).and_then(|row| row.cells[c].as_ref());
    let doubted = cells().filter(|f| f.suspect).count();
    let among = |sure: bool| cells().any(|f| (if sure { f.suspect } else { f.look_first }) && f.or.contains(&place));
    match own {
        Some(f) if f.suspect && f.or.is_empty() && doubted == 1 => 0,
        Some(f) if f.suspect => 1,
        _ if among(true) => 1,
        Some(f) if f.look_first => 2,
        _ if among(false) => 2,
        _ if doubted > 0 => 4,
        _ if cells().any(|f| f.look_first) => 5,
        _ => 3,
    }
}

/// Two neighbouring figures of a row exchanged that are over a quarter of an inch apart: how many such pairs, how many are
/// named as exchanged, and of how many both figures are found.
fn exchanges(input: &BoatInput) -> [usize; 3] {
    let mut tally = [0; 3];
    for r in 0..input.table.rows.len() {
        for c in 1..input.table.stations.len() {
            let pair = [c - 1, c];
            let [Some(a), Some(b)] = pair.map(|c| input.table.rows[r].cells[c].as_ref()) else { continue };
            if (a.mm - b.mm).abs() <= SLIPS[0].1 {
                continue;
            }
            let mut table = input.table.clone();
            table.rows[r].cells.swap(c - 1, c);
            let fair = lines::fair(&table, &input.spec).map(|l| l.fair).unwrap_or_default();
            let named = |c: usize| {
                let cell = fair.get(r).and_then(|row| row.cells[c].as_ref()).filter(|f| f.suspect);
                cell.and_then(|f| f.why.as_ref()).is_some_and(|why| why.contains("exchanged"))
            };
            tally[0] += 1;
            tally[1] += usize::from(pair.into_iter().all(named));
            tally[2] += usize::from(pair.into_iter().all(|c| said(&table, input, (r, c)) < 3));
        }
    }
    tally
}

/// How many random tables have several wrong entries.
const TRIALS: usize = 60;

fn several(input: &BoatInput, slip: f64, count: usize) -> usize {
    let mut random = Random(7);
    let mut found = 0;
    for _ in 0..TRIALS {
        let (table, wrong) = spoilt(input, slip, count, &mut random);
        found += wrong.into_iter().filter(|at| said(&table, input, *at) < 3).count();
    }
    found
}

/// The table with `count` entries wrong, and which.
fn spoilt(input: &BoatInput, slip: f64, count: usize, random: &mut Random) -> (Table, Vec<(usize, usize)>) {
    let mut table = input.table.clone();
    let mut wrong: Vec<(usize, usize)> = Vec::new();
    while wrong.len() < count {
        let (r, c) = (random.below(table.rows.len()), random.below(table.stations.len()));
        let sign = if random.share() < 0.0 { -1.0 } else { 1.0 };
        if let Some(cell) = table.rows[r].cells[c].as_mut().filter(|_| !wrong.contains(&(r, c))) {
            cell.mm += sign * slip;
            wrong.push((r, c));
        }
    }
    (table, wrong)
}

/// ms for the slowest of ten tables with three wrong entries.
fn slowest(input: &BoatInput) -> f64 {
    let mut random = Random(3);
    let mut most: f64 = 0.0;
    for _ in 0..10 {
        let (table, _) = spoilt(input, 25.4, 3, &mut random);
        let began = Instant::now();
        let fair = lines::fair(&table, &input.spec);
        most = most.max(began.elapsed().as_secs_f64() * 1000.0);
        assert!(fair.is_ok(), "fairs");
    }
    most
}

struct Random(u64);

impl Random {
    /// From -1/2 to 1/2.
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / (1_u64 << 31) as f64 - 0.5
    }

    fn below(&mut self, n: usize) -> usize {
        (((self.share() + 0.5) * n as f64) as usize).min(n - 1)
    }
}

const NOISY: usize = 40;

/// How many tables have doubts, how many doubts, and how many entries to look at, with up to half a tolerance more of
/// rounding in every entry.
fn noisy(input: &BoatInput) -> (usize, usize, usize) {
    let mut random = Random(1);
    let mut found = (0, 0, 0);
    for _ in 0..NOISY {
        let mut table = input.table.clone();
        for cell in table.rows.iter_mut().flat_map(|row| &mut row.cells).flatten() {
            cell.mm += random.share() * input.spec.lines.fair_within;
        }
        let (doubts, look) = doubts(&table, input);
        found = (found.0 + usize::from(!doubts.is_empty()), found.1 + doubts.len(), found.2 + look);
    }
    found
}
