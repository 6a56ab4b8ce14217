//! Strips of the literature: how dense a layout the search finds in so many seconds.
//!
//!     LAYOUT_STRIPS=folder [LAYOUT_PYTHON=python] [LAYOUT_SECONDS=60] [LAYOUT_ONLY=dagli] cargo bench -p layout --bench strip
//!
//! The folder holds the instances as JSON (`items[]` with `demand`, `allowed_orientations` in degrees and `shape.data`, and
//! `strip_height`), which SOURCES.md says where to find: none is kept here. Best published densities: SOURCES.md. With a Python
//! that has spyrrow (PyPI) that runs on the same strip for the same seconds after ours (`beside.py`). Both use one core; processor
//! seconds are printed beside those of the clock, for on a busy machine they are fewer.

use layout::{Shape, Turns, strip};
use std::process::Command;
use std::time::{Duration, Instant};

/// Best published density, per cent.
const BEST: [(&str, f64); 5] =
    [("albano", 89.821), ("dagli", 90.172), ("marques", 92.015), ("shirts", 90.920), ("trousers", 92.615)];

fn main() {
    let seconds: f64 = std::env::var("LAYOUT_SECONDS").ok().and_then(|s| s.parse().ok()).unwrap_or(60.0);
    let Ok(folder) = std::env::var("LAYOUT_STRIPS") else {
        println!("LAYOUT_STRIPS names no folder of instances: nothing measured");
        return;
    };
    let (python, only) = (std::env::var("LAYOUT_PYTHON").ok(), std::env::var("LAYOUT_ONLY").ok());
    println!(
        "{:>10} {:>8} {:>8} {:>9} {:>8} {:>8} {:>8}",
        "strip", "by", "seconds", "processor", "density", "best", "share"
    );
    for (name, best) in BEST.into_iter().filter(|b| only.as_ref().is_none_or(|o| o == b.0)) {
        let path = format!("{folder}/{name}.json");
        let text = std::fs::read_to_string(&path).expect("the instance is there");
        let (shapes, width) = read(&serde_json::from_str(&text).expect("is JSON"));
        let start = Instant::now();
        let (end, before) = (start + Duration::from_secs_f64(seconds), processor_seconds());
        let found = strip::lay_out(&shapes, width, 1, &mut |_| {}, &mut || Instant::now() < end).expect("lays out");
        assert_eq!(found.places.len(), shapes.len());
        let line = |by: &str, took: f64, processor: f64, density: f64| {
            let share = 100.0 * density / best;
            println!("{name:>10} {by:>8} {took:8.1} {processor:9.1} {density:8.2} {best:8.2} {share:7.1} %");
        };
        let processor = processor_seconds() - before;
        line("ours", start.elapsed().as_secs_f64(), processor, 100.0 * found.density);
        if let Some(python) = &python {
            let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/beside.py");
            let out = Command::new(python).args([script, &seconds.to_string(), &path]).output().expect("python runs");
            assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
            let json: serde_json::Value = serde_json::from_slice(&out.stdout).expect("is JSON");
            let number = |key: &str| json[key].as_f64().expect("a number");
            line("spyrrow", number("seconds"), number("processor"), number("density"));
        }
    }
}

/// Processor time of this program so far, where the system tells; its ticks are hundredths of a second.
fn processor_seconds() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = stat.rsplit(')').next().unwrap_or_default();
    let ticks = after.split_whitespace().skip(11).take(2).filter_map(|t| t.parse::<f64>().ok());
    ticks.sum::<f64>() / 100.0
}

fn read(json: &serde_json::Value) -> (Vec<Shape>, f64) {
    let number = |v: &serde_json::Value| v.as_f64().expect("a number");
    let mut shapes = Vec::new();
    for item in json["items"].as_array().expect("items") {
        let points = item["shape"]["data"].as_array().expect("points");
        let mut outline: Vec<[f64; 2]> = points.iter().map(|p| [number(&p[0]), number(&p[1])]).collect();
        if outline.first() == outline.last() {
            outline.pop();
        }
        let turns = item["allowed_orientations"].as_array();
        let turns = turns.map_or_else(|| vec![0.0], |t| t.iter().map(|d| number(d).to_radians()).collect());
        let shape = Shape { outline, turns: Turns::These(turns), over: false, sound: Vec::new(), mate: None };
        shapes.extend(std::iter::repeat_n(shape, item["demand"].as_u64().expect("a count") as usize));
    }
    (shapes, number(&json["strip_height"]))
}
