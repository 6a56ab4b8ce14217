//! What the report of her lands says, how long it takes, and how long her pictures take, hidden lines out.
//!
//! `cargo bench -p boat --bench pictures` prints the tables that `docs/pictures.md` keeps. Each case checks its answer: what is drawn, looked for again among all
//! triangles, is seen.

mod example;

use boat::geom::Point;
use boat::ink::{self, Fine, Hider, OFF, Run, Scene};
use boat::plan::{self, Plan};
use boat::{drawing::typeface::Type, eyes::Eye, lands, paper::pictures};
use divan::{Bencher, black_box};
use example::BOATS;

fn main() {
    BOATS.iter().for_each(|name| println!("{}", row(name)));
    divan::main();
}

/// The boat's row in the table of `docs/pictures.md`.
fn row(name: &str) -> String {
    let plan = planned(name);
    let found = lands::lands(&plan.strakes, &plan.spec.lining).lands;
    let count = |view: usize| found.iter().map(|l| l.seen[view].inflections.len()).sum::<usize>().to_string();
    let counts: Vec<String> = (0..found[0].seen.len()).map(count).collect();
    let seen = found.iter().flat_map(|l| l.seen.iter().filter(|s| s.view != lands::View::Body).map(move |s| (l, s)));
    let back =
        seen.filter_map(|(l, s)| Some((s.deepest()?.depth, l.land, s.view))).max_by(|a, b| a.0.total_cmp(&b.0));
    let back = back.map_or("none".to_owned(), |(d, land, view)| format!("{d:.1}, land {land}, {}", view.words()));
    let all = || found.iter().map(|l| l.variation.all);
    let (least, most) = (all().fold(f64::MAX, f64::min), all().fold(0.0, f64::max));
    format!("| {} | {} | {back} | {least:.2} to {most:.2} |", plan.spec.name, counts.join(", "))
}

fn planned(name: &str) -> Plan {
    plan::plan(&example::input(name)).expect("the boat is planned")
}

fn eyes(plan: &Plan) -> [Eye; 4] {
    lands::eyes(&plan.strakes, &plan.spec.lining).expect("is planked")
}

/// Whether a triangle stands between `p` and the eye.
fn covered(scene: &Scene, eye: &Point, p: &Point) -> bool {
    let way = eye - p;
    scene.faces.iter().any(|[a, b, c]| {
        let (u, v) = (b - a, c - a);
        let across = way.cross(&v);
        let det = u.dot(&across);
        let from = p - a;
        let up = from.cross(&u);
        let (s, t, far) = (from.dot(&across) / det, way.dot(&up) / det, v.dot(&up) / det);
        det.abs() > 1e-9 && s >= 0.0 && t >= 0.0 && s + t <= 1.0 && far > 1e-9
    })
}

fn check(scene: &Scene, eye: &Eye, runs: &[Run]) {
    let points: Vec<_> = runs.iter().flat_map(|r| r.points.iter().zip(&r.free)).collect();
    assert!(points.len() > 1000);
    for (p, free) in points.iter().step_by(points.len() / 50) {
        assert!(!covered(scene, &eye.place(), &(*p + free.normalize() * OFF)));
    }
}

#[divan::bench(args = BOATS)]
fn lands_report(bencher: Bencher, name: &str) {
    let plan = planned(name);
    bencher.bench_local(|| {
        let found = lands::lands(black_box(&plan.strakes), &plan.spec.lining);
        assert_eq!(found.lands.len(), plan.strakes.len());
        found
    });
}

#[divan::bench(args = BOATS)]
fn scene(bencher: Bencher, name: &str) {
    let plan = planned(name);
    bencher.bench_local(|| {
        let scene = ink::scene(black_box(&plan.strakes), &plan.sections, &plan.spec);
        assert!(scene.faces.len() > 10_000);
        scene
    });
}

/// One picture, from off the bow, lines followed as on a page of the book.
#[divan::bench(args = BOATS)]
fn hidden_lines(bencher: Bencher, name: &str) {
    let plan = planned(name);
    let scene = ink::scene(&plan.strakes, &plan.sections, &plan.spec);
    let eye = &eyes(&plan)[1];
    let draw = || {
        let hider = Hider::new(black_box(&scene), eye).expect("stands off");
        ink::runs(&hider, &scene.lines_for(eye), &Fine::at_scale(16.0))
    };
    check(&scene, eye, &draw());
    bencher.bench_local(draw);
}

/// All four as sheets.
#[divan::bench(args = BOATS)]
fn four_sheets(bencher: Bencher, name: &str) {
    let plan = planned(name);
    let t = Type::embedded().expect("embedded faces");
    bencher.bench_local(|| {
        let found = pictures::pictures(&t, black_box(&plan));
        assert_eq!(found.len(), 4);
        found
    });
}
