//! Corncrake's planks on her own rack, against the longest first, each as far left on the first board with room:
//! `cargo bench -p boat --bench boards`.

mod example;

use boat::folder::{BoatTexts, read};
use boat::plan::plan;
use boat::sawing::{self, Effort, Sawing};
use std::ops::ControlFlow;
use std::time::Instant;

fn main() {
    let texts = BoatTexts {
        boards: Some(include_str!("../../../boats/corncrake/boards.csv").to_owned()),
        ..example::texts("corncrake")
    };
    let input = read(&texts).expect("is read");
    let plan = plan(&input).expect("is planned");
    let said = |s: &Sawing| {
        let missing: usize = s.short.iter().map(|s| s.count).sum();
        format!(
            "{:.1} % of the wood cut becomes plank, {} boards cut, {missing} without room, {} pairs apart",
            100.0 * s.laid_area / s.cut_area,
            s.boards.len(),
            s.apart
        )
    };
    let start = Instant::now();
    let first = sawing::longest_first(&plan, &input.boards).expect("lays out");
    println!("longest first: {}, in {:.1} s", said(&first), start.elapsed().as_secs_f64());
    let start = Instant::now();
    let mut marks = [0.5, 1.0, 2.0, 5.0].into_iter().peekable();
    let found = sawing::saw_out(&plan, &input.boards, Effort::default(), &mut |now| {
        let seconds = start.elapsed().as_secs_f64();
        while marks.next_if(|m| *m <= seconds).is_some() {
            println!("{seconds:5.1} s, round {:4}: {:.1} %", now.round, 100.0 * now.best.share());
        }
        ControlFlow::Continue(())
    })
    .expect("lays out");
    println!("good enough after {:.1} s: {}", start.elapsed().as_secs_f64(), said(&found));
    assert!(found.short.len() <= first.short.len());
    let share = |s: &Sawing| s.laid_area / s.cut_area;
    assert!(share(&found) >= 1.1 * share(&first), "ten per cent better is the target");
    if let Some(peak) = peak_mb() {
        println!("peak memory {peak:.0} MB");
        assert!(peak <= 500.0, "500 MB is the target");
    }
}

/// Most memory this program has had, MB, where the system tells.
fn peak_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse::<f64>().ok().map(|kb| kb / 1000.0)
}
