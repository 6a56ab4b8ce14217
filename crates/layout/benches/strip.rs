//! Strips of the literature: how dense a layout the search finds in so many seconds.
//!
//!     LAYOUT_STRIPS=folder cargo bench -p layout --bench strip
//!
//! The folder holds the instances as JSON (`items[]` with `demand`, `allowed_orientations` in degrees and `shape.data`, and
//! `strip_height`), which SOURCES.md says where to find: none is kept here. `LAYOUT_SECONDS` is 60 where it is not given. Best
//! published densities: SOURCES.md.

use layout::{Shape, Turns, strip};
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
    println!("{:>10} {:>8} {:>8} {:>8} {:>8}", "strip", "seconds", "density", "best", "share");
    for (name, best) in BEST {
        let text = std::fs::read_to_string(format!("{folder}/{name}.json")).expect("the instance is there");
        let (shapes, width) = read(&serde_json::from_str(&text).expect("is JSON"));
        let start = Instant::now();
        let end = start + Duration::from_secs_f64(seconds);
        let found = strip::lay_out(&shapes, width, 1, &mut |_| {}, &mut || Instant::now() < end).expect("lays out");
        let (took, density) = (start.elapsed().as_secs_f64(), 100.0 * found.density);
        assert_eq!(found.places.len(), shapes.len());
        println!("{name:>10} {took:8.1} {density:8.2} {best:8.2} {:7.1} %", 100.0 * density / best);
    }
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
