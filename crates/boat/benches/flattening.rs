//! Flat planks beside libigl's, as rigid as possible: `cargo bench -p boat --bench flattening`.
//!
//! Every plank of our boats and of the canoe is laid flat by us and, from the same grid, by libigl (`reference/flattening.py`,
//! installed from PyPI into a folder under the target directory; where that cannot be done only our own times are printed).
//! Printed for each boat: the largest distance between the two shapes, one laid on the other by the best turn and shift; the
//! largest quotient of our strain over theirs, both the root mean square of |E| on the same grid; and ms for all planks of the
//! boat, ours and theirs. Shapes must agree to 0.3 mm, and our strain may not be more.

mod example;
mod reference;
mod timing;

use boat::development::{flatten, neutral_surface};
use boat::plan;

/// Shapes agree to this, mm.
const WITHIN: f64 = 0.3;
/// Our strain over theirs: libigl stops a hair short of its least, and so do we.
const NO_MORE: f64 = 1.000_001;

fn main() {
    let packages = ["libigl==2.6.3", "numpy", "scipy"];
    let python = reference::python("flattening-venv", "import igl, numpy; igl.ARAPData", &packages);
    println!(
        "{:>10} {:>6} {:>10} {:>9} {:>8} {:>9} {:>9}",
        "boat", "planks", "apart, mm", "strain", "ours, ms", "libigl", "quotient"
    );
    for name in example::BOATS {
        let plan = plan::plan(&example::input(name)).expect("plans");
        let surfaces: Vec<_> = plan.strakes.iter().map(neutral_surface).collect();
        let flats: Vec<_> = surfaces.iter().map(|s| flatten::flatten(s).expect("lies flat")).collect();
        let all_flat = || surfaces.iter().map(|s| flatten::flatten(s).expect("lies flat")).collect::<Vec<_>>();
        let ours = timing::least(20, all_flat);
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
        let said = reference::said(python, "flattening", &serde_json::json!({ "planks": planks })).expect("runs");
        let said = said.as_array().expect("planks");
        let (mut apart, mut strain, mut theirs): (f64, f64, f64) = (0.0, 0.0, 0.0);
        for ((surface, flat), said) in surfaces.iter().zip(&flats).zip(said) {
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
