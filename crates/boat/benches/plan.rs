//! How long a plan takes: each stage, the whole, and the book.
//!
//! `cargo bench -p boat` prints the table that `docs/speed.md` keeps. Every case checks its answer, so that a fast wrong
//! one does not count.

mod example;

mod again;

use boat::folder::BoatInput;
use boat::lines::profile::Ends;
use boat::{development, fastenings, lines, lining::propose, moulds, paper, plan, planks, timbers};
use divan::{Bencher, black_box};
use example::LARGER;

/// Lands as lining proposes them at first.
fn lined(input: &BoatInput, skin: &lines::Skin) -> boat::lining::Lands {
    let (planking, lining) = (&input.spec.planking, &input.spec.lining);
    let ask = propose::Ask { skin, planking, lining, pins: &[], weights: boat::lining::Weights::default() };
    let limits = planks::limits::limits(&input.spec, skin, propose::strakes(skin, planking, lining), None);
    propose::propose(&ask, &limits, None).expect("lines off")
}

fn main() {
    divan::main();
}

#[divan::bench(args = LARGER)]
fn whole_plan(bencher: Bencher, name: &str) {
    let input = example::input(name);
    bencher.bench_local(|| {
        let plan = plan::plan(black_box(&input)).expect("plans");
        assert!(plan.strakes.len() >= 9 && plan.rivets.len() > 500);
        plan
    });
}

/// Lands as they are now: strakes, bevels, flat planks, timbers and rivets again.
#[divan::bench(args = LARGER)]
fn from_lands(bencher: Bencher, name: &str) {
    let input = example::input(name);
    let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
    let lands = lined(&input, &skin);
    bencher.bench_local(|| {
        let made = again::from_lands(black_box(&lands), &skin, &input);
        assert!(made.flats.len() >= 9 && made.rivets > 500 && made.bevels > 100);
        made
    });
}

/// Marks moved, lines as they were: everything from the lining on.
#[divan::bench(args = LARGER)]
fn from_marks(bencher: Bencher, name: &str) {
    let input = example::input(name);
    let lines = lines::fair(&input.table, &input.spec).expect("fairs");
    bencher.with_inputs(|| lines.clone()).bench_local_values(|lines| {
        let plan = plan::plan_from(black_box(&input), lines).expect("plans");
        assert!(plan.strakes.len() >= 9 && plan.rivets.len() > 500);
        plan
    });
}

#[divan::bench(args = LARGER)]
fn stage_1_fair(bencher: Bencher, name: &str) {
    let input = example::input(name);
    bencher.bench_local(|| {
        let lines = lines::fair(black_box(&input.table), &input.spec).expect("fairs");
        assert!(lines.skin.curves.len() >= 10);
        lines
    });
}

#[divan::bench(args = LARGER)]
fn stage_2_line_off(bencher: Bencher, name: &str) {
    let input = example::input(name);
    let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
    bencher.bench_local(|| {
        let lands = lined(black_box(&input), &skin);
        assert!(lands.strakes() >= 9);
        lands
    });
}

#[divan::bench(args = LARGER)]
fn stage_3_lay_strakes(bencher: Bencher, name: &str) {
    let input = example::input(name);
    let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
    let lands = lined(&input, &skin);
    bencher.bench_local(|| {
        let strakes = planks::lay(black_box(&lands), &skin, &input.table, &input.spec).expect("lays");
        assert_eq!(strakes.len(), lands.strakes());
        strakes
    });
}

#[divan::bench(args = LARGER)]
fn stage_4_lay_flat(bencher: Bencher, name: &str) {
    let plan = plan::plan(&example::input(name)).expect("plans");
    bencher.bench_local(|| {
        let flats: Vec<_> =
            plan.strakes.iter().map(|s| development::unroll(black_box(s)).expect("lies flat")).collect();
        assert!(flats.iter().all(|f| f.length > 3000.0));
        flats
    });
}

#[divan::bench(args = LARGER)]
fn stage_5_timbers_and_rivets(bencher: Bencher, name: &str) {
    let input = example::input(name);
    let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
    let lands = lined(&input, &skin);
    let strakes = planks::lay(&lands, &skin, &input.table, &input.spec).expect("lays");
    let moulds = moulds::moulds(&skin, &input.table, &input.spec.moulds);
    let ends = Ends::new(&input.spec).expect("has ends");
    bencher.bench_local(|| {
        let (timbers, _) = timbers::timbers(
            black_box(&lands),
            &moulds,
            &input.spec.timbers,
            ends.fore_foot()[0],
            ends.aft_foot()[0],
        )
        .expect("timbers stand");
        let rivets = fastenings::rivets(&strakes, &timbers, &moulds, &input.spec);
        assert!(rivets.len() > 500);
        rivets
    });
}

/// The rivets of one side alone, the timbers standing.
#[divan::bench(args = LARGER)]
fn rivets(bencher: Bencher, name: &str) {
    let plan = plan::plan(&example::input(name)).expect("plans");
    bencher.bench_local(|| {
        let rivets = fastenings::rivets(black_box(&plan.strakes), &plan.timbers, &plan.moulds, &plan.spec);
        assert_eq!(rivets.len(), plan.rivets.len());
        rivets
    });
}

#[divan::bench(args = LARGER)]
fn book(bencher: Bencher, name: &str) {
    let plan = plan::plan(&example::input(name)).expect("plans");
    bencher.bench_local(|| {
        let bytes = paper::book::write(black_box(&plan), paper::PaperSize::A4).expect("writes");
        assert!(bytes.starts_with(b"%PDF"));
        bytes
    });
}
