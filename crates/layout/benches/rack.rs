//! Twenty-four planks on fifteen boards, against the longest first, each as far left on the first board with room:
//! `cargo bench -p layout --bench rack`. Planks and boards are invented.

use layout::{Board, Rack, Shape, Turns, rack};
use std::ops::ControlFlow;
use std::time::Instant;

fn main() {
    let (shapes, boards) = (planks(), boards());
    let rules = Rack { rounds: 2000, good_enough: 2000, ..Rack::default() };
    let start = Instant::now();
    let first = rack::longest_first(&shapes, &boards, &rules).expect("lays out");
    let took = start.elapsed().as_secs_f64();
    println!("longest first: {:.1} % in {took:.1} s, {} pairs apart", 100.0 * first.share(), first.apart);
    let start = Instant::now();
    let mut marks = [0.5, 1.0, 2.0, 5.0, 10.0].into_iter().peekable();
    let mut after_5 = 0.0;
    let best = rack::lay_out(&shapes, &boards, &rules, &mut |now| {
        let seconds = start.elapsed().as_secs_f64();
        while let Some(mark) = marks.next_if(|m| *m <= seconds) {
            let better = now.best.share() / first.share() - 1.0;
            after_5 = if mark == 5.0 { better } else { after_5 };
            println!(
                "{seconds:5.1} s, round {:4}: {:.1} %, {:+.1} %, {} pairs apart",
                now.round,
                100.0 * now.best.share(),
                100.0 * better,
                now.best.apart
            );
        }
        if marks.peek().is_some() { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    })
    .expect("lays out");
    assert_eq!(best.places.iter().flatten().count(), shapes.len());
    assert!(after_5 >= 0.1, "after 5 s {:.1} % better than the longest first; 10 is the target", 100.0 * after_5);
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

/// Arcs 1.5 to 3.4 m long, 95 to 113 mm wide in the middle.
fn planks() -> Vec<Shape> {
    let plank = |k: usize| {
        let pair = k / 2;
        let long = 1500.0 + 170.0 * pair as f64;
        let round = 30.0 + 9.0 * ((pair * 7) % 5) as f64;
        let wide = 95.0 + 3.0 * ((pair * 5) % 7) as f64;
        let bow = |t: f64| 4.0 * t * (1.0 - t);
        let t = |i: usize| i as f64 / 60.0;
        let mut outline: Vec<[f64; 2]> = (0..=60).map(t).map(|t| [long * t, round * bow(t)]).collect();
        outline.extend((0..=60).rev().map(t).map(|t| [long * t, round * bow(t) + wide * (0.6 + 0.4 * bow(t))]));
        Shape { outline, turns: Turns::Along { within: 0.03 }, over: true, sound: Vec::new(), mate: Some(pair) }
    };
    (0..24).map(plank).collect()
}

/// 3.3 to 4.7 m long, 190 to 280 mm wide.
fn boards() -> Vec<Board> {
    let board = |b: usize| {
        let (long, wide) = (3300.0 + 170.0 * ((b * 4) % 9) as f64, 190.0 + 15.0 * ((b * 3) % 7) as f64);
        Board { outline: vec![[0.0, 0.0], [long, 0.0], [long, wide], [0.0, wide]], blemishes: Vec::new(), of: None }
    };
    (0..15).map(board).collect()
}
