//! Flat planks beside libigl's, as rigid as possible: `cargo bench -p boat --bench flattening`.
//!
//! Every plank of our boats and of the canoe is laid flat by us and, from the same grid, by libigl (`reference/flattening.py`,
//! installed from PyPI into a folder under the target directory; where that cannot be done only our own times are printed).
//! Printed for each boat: the largest distance between the two shapes, one laid on the other by the best turn and shift; the
//! largest quotient of our strain over theirs, both the root mean square of |E| on the same grid; and ms for all planks of the
//! boat, ours and theirs. Shapes must agree to 0.3 mm, and our strain may not be more.

use boat::development::{flatten, neutral_surface};
use boat::folder::{BoatInput, BoatTexts, read};
use boat::plan;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

/// Shapes agree to this, mm.
const WITHIN: f64 = 0.3;
/// Our strain over theirs: libigl stops a hair short of its least, and so do we.
const NO_MORE: f64 = 1.000_001;

const BOATS: [(&str, &str); 4] = [
    ("Corncrake", "../../boats/corncrake"),
    ("Sandgrouse", "../../boats/sandgrouse"),
    ("Lapwing", "../../boats/lapwing"),
    ("canoe", "tests/it/data/canoe"),
];

fn main() {
    let python = python();
    println!(
        "{:>10} {:>6} {:>10} {:>9} {:>8} {:>9} {:>9}",
        "boat", "planks", "apart, mm", "strain", "ours, ms", "libigl", "quotient"
    );
    for (name, folder) in BOATS {
        let plan = plan::plan(&input(folder)).expect("plans");
        let surfaces: Vec<_> = plan.strakes.iter().map(neutral_surface).collect();
        let flats: Vec<_> = surfaces.iter().map(|s| flatten::flatten(s).expect("lies flat")).collect();
        let ours = (0..20)
            .map(|_| {
                let begun = Instant::now();
                for surface in &surfaces {
                    std::hint::black_box(flatten::flatten(surface).expect("lies flat"));
                }
                begun.elapsed().as_secs_f64() * 1000.0
            })
            .fold(f64::MAX, f64::min);
        print!("{name:>10} {:6}", surfaces.len());
        let Some(python) = &python else {
            println!(" {:>10} {:>9} {ours:8.2}", "", "");
            continue;
        };
        let planks: Vec<serde_json::Value> = surfaces
            .iter()
            .zip(&flats)
            .map(|(s, f)| {
                let points: Vec<[f64; 3]> = s.iter().flatten().map(|p| [p.x, p.y, p.z]).collect();
                let flat: Vec<&[f64; 2]> = f.points.iter().flatten().collect();
                serde_json::json!({ "rows": s.len(), "columns": s[0].len(), "points": points, "flat": flat })
            })
            .collect();
        let said = run(python, &serde_json::json!({ "planks": planks }));
        let (mut apart, mut strain, mut theirs): (f64, f64, f64) = (0.0, 0.0, 0.0);
        for ((surface, flat), said) in surfaces.iter().zip(&flats).zip(&said) {
            let columns = surface[0].len();
            let points: Vec<[f64; 2]> = said["flat"]
                .as_array()
                .expect("points")
                .iter()
                .map(|p| [0, 1].map(|a| p[a].as_f64().expect("a number")))
                .collect();
            let own: Vec<[f64; 2]> = flat.points.iter().flatten().copied().collect();
            apart = apart.max(furthest(&own, &points));
            let grid: Vec<Vec<[f64; 2]>> = points.chunks(columns).map(<[_]>::to_vec).collect();
            let rms = flatten::strain_rms(surface, &grid).expect("a grid");
            strain = strain.max(flat.strain_rms / rms);
            theirs += 1000.0 * said["seconds"].as_f64().expect("seconds");
        }
        println!(" {apart:10.4} {strain:9.6} {ours:8.2} {theirs:9.0} {:9.0}", theirs / ours);
        assert!(apart <= WITHIN, "{name}: shapes {apart} mm apart");
        assert!(strain <= NO_MORE, "{name}: our strain is {strain} of theirs");
    }
}

/// The largest distance between two sets of points when the second is laid on the first by the best turn and shift.
fn furthest(a: &[[f64; 2]], b: &[[f64; 2]]) -> f64 {
    let mean = |p: &[[f64; 2]]| [0, 1].map(|i| p.iter().map(|p| p[i]).sum::<f64>() / p.len() as f64);
    let (ma, mb) = (mean(a), mean(b));
    let (mut dot, mut cross) = (0.0, 0.0);
    for (p, q) in a.iter().zip(b) {
        let (p, q) = ([p[0] - ma[0], p[1] - ma[1]], [q[0] - mb[0], q[1] - mb[1]]);
        dot += p[0] * q[0] + p[1] * q[1];
        cross += p[1] * q[0] - p[0] * q[1];
    }
    let (sin, cos) = cross.atan2(dot).sin_cos();
    let off = |(p, q): (&[f64; 2], &[f64; 2])| {
        let q = [q[0] - mb[0], q[1] - mb[1]];
        (p[0] - ma[0] - cos * q[0] + sin * q[1]).hypot(p[1] - ma[1] - sin * q[0] - cos * q[1])
    };
    a.iter().zip(b).map(off).fold(0.0, f64::max)
}

fn input(folder: &str) -> BoatInput {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let text = |name: &str| std::fs::read_to_string(folder.join(name)).expect("reads");
    let texts =
        BoatTexts { toml: text("boat.toml"), offsets: text("offsets.csv"), marks: None, ..BoatTexts::default() };
    read(&texts).expect("the example boats read")
}

/// A Python that has libigl; that of `release/speed` where that runs this; none where PyPI cannot be reached.
fn python() -> Option<PathBuf> {
    if let Some(python) = std::env::var_os("STRAKEWISE_REFERENCES") {
        return Some(PathBuf::from(python));
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("flattening-venv");
    let python = folder.join("bin/python");
    let works = |python: &Path| {
        let tried = Command::new(python).args(["-c", "import igl, numpy; igl.ARAPData"]).output();
        tried.is_ok_and(|o| o.status.success())
    };
    if !works(&python) {
        println!("Installing libigl from PyPI.");
        let made = Command::new("python3").args(["-m", "venv"]).arg(&folder).status();
        let installed = made.is_ok_and(|s| s.success())
            && Command::new(&python)
                .args(["-m", "pip", "install", "--quiet", "libigl==2.6.3", "numpy", "scipy"])
                .status()
                .is_ok_and(|s| s.success());
        if !installed || !works(&python) {
            println!("It could not be installed: nothing is set side by side.");
            return None;
        }
    }
    Some(python)
}

fn run(python: &Path, given: &serde_json::Value) -> Vec<serde_json::Value> {
    let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join("flattening.json");
    std::fs::write(&file, given.to_string()).expect("writes");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("benches/reference/flattening.py");
    let said = Command::new(python).arg(script).arg(&file).output().expect("runs");
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    serde_json::from_slice(&said.stdout).expect("says JSON")
}
