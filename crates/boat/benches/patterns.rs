//! How long all full-size patterns of a boat take, in each form.
//!
//! `cargo bench -p boat --bench patterns`; the figure to keep is a second for any of them.

mod example;

use boat::drawing::typeface::Type;
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperSize, roll, write_dxf, write_svg};
use boat::plan::{self, Plan};
use divan::{Bencher, black_box};
use example::LARGER;

fn main() {
    divan::main();
}

fn planned(name: &str) -> Plan {
    plan::plan(&example::input(name)).expect("the boat is planned")
}

/// Draws all patterns and writes them, as the command does.
fn each(bencher: Bencher, name: &str, write: impl Fn(&Type, &Plan, &[Pattern]) -> usize) {
    let plan = planned(name);
    let t = Type::embedded().expect("embedded faces");
    bencher.bench_local(|| {
        let found = patterns::patterns(&t, black_box(&plan), &Kind::ALL);
        // Moulds, planks and the parts they are made of, a tape for each land; thwarts and knees; keel and both ends.
        let parts: usize = plan.made.iter().map(|m| m.parts.len()).filter(|n| *n > 1).sum();
        let inside = plan.interior.thwarts.len() + plan.interior.knees.len();
        assert_eq!(found.len(), plan.moulds.len() + plan.flats.len() + parts + plan.flats.len() - 1 + inside + 3);
        let bytes = write(&t, &plan, &found);
        assert!(bytes > 100_000);
        bytes
    });
}

#[divan::bench(args = LARGER)]
fn roll_pdf(bencher: Bencher, name: &str) {
    each(bencher, name, |t, plan, found| patterns::write_roll(t, plan, found, roll::USUAL).expect("writes").len());
}

#[divan::bench(args = LARGER)]
fn tiles_a4_pdf(bencher: Bencher, name: &str) {
    each(bencher, name, |t, plan, found| patterns::write_tiles(t, plan, found, PaperSize::A4).expect("writes").len());
}

#[divan::bench(args = LARGER)]
fn svg(bencher: Bencher, name: &str) {
    each(bencher, name, |t, _, found| found.iter().map(|p| write_svg(t, &p.sheet).len()).sum());
}

#[divan::bench(args = LARGER)]
fn dxf(bencher: Bencher, name: &str) {
    each(bencher, name, |_, _, found| found.iter().map(|p| write_dxf(&p.sheet).len()).sum());
}
