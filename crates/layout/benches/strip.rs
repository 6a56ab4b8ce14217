//! Strips of the literature.
use layout::{Shape, Turns, strip};
use std::time::{Duration, Instant};

fn main() {
    let seconds: f64 = std::env::var("LAYOUT_SECONDS").ok().and_then(|s| s.parse().ok()).unwrap_or(60.0);
    let folder = std::env::var("LAYOUT_STRIPS").expect("LAYOUT_STRIPS: a folder of instances");
    let best = [("albano", 89.64), ("dagli", 89.5), ("marques", 92.015), ("shirts", 90.920), ("trousers", 92.615)];
    for (name, record) in best {
        if let Ok(only) = std::env::var("ONLY") { if only != name { continue; } }
        let text = std::fs::read_to_string(format!("{folder}/{name}.json")).expect("reads");
        let json: serde_json::Value = serde_json::from_str(&text).expect("is JSON");
        let mut shapes = Vec::new();
        for item in json["items"].as_array().expect("items") {
            let outline: Vec<[f64; 2]> = item["shape"]["data"].as_array().expect("points").iter().map(|p| [p[0].as_f64().unwrap(), p[1].as_f64().unwrap()]).collect();
            let turns = item["allowed_orientations"].as_array().map_or(vec![0.0], |a| a.iter().map(|d| d.as_f64().unwrap().to_radians()).collect());
            let mut outline = outline; if outline[0] == outline[outline.len()-1] { outline.pop(); }
            for _ in 0..item["demand"].as_u64().unwrap() {
                shapes.push(Shape { outline: outline.clone(), turns: Turns::These(turns.clone()), over: false, sound: vec![], mate: None });
            }
        }
        let width = json["strip_height"].as_f64().unwrap();
        let start = Instant::now();
        let end = start + Duration::from_secs_f64(seconds);
        let found = strip::lay_out(&shapes, width, 1, &mut |s| eprintln!("{:6.1} s {:.3}", start.elapsed().as_secs_f64(), 100.0 * s.density), &mut || Instant::now() < end).expect("lays out");
        println!("{name}: {:.2} % in {:.1} s, {:.1} % of {record}", 100.0 * found.density, start.elapsed().as_secs_f64(), 10000.0 * found.density / record);
    }
}
