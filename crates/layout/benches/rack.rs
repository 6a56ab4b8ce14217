//! Twenty-four planks on fifteen boards, against the longest first, each as far left on the first board with room:
//! `cargo bench -p layout --bench rack`. Planks and boards are invented.

use layout::{Board, Rack, Shape, Turns, rack};
use std::time::Instant;

fn main() {
    let (shapes, boards) = (planks(), boards());
    let rules = Rack { rounds: 1000, ..Rack::default() };
    let start = Instant::now();
    let first = rack::longest_first(&shapes, &boards, &rules).expect("lays out");
    let took = start.elapsed().as_secs_f64();
    println!("longest first: {:.1} % in {took:.1} s, {} pairs apart", 100.0 * first.share(), first.apart);
    let start = Instant::now();
    let mut marks = [1.0, 2.0, 5.0, 10.0, 20.0].into_iter().peekable();
    let best = rack::lay_out(&shapes, &boards, &rules, &mut |now| {
        let seconds = start.elapsed().as_secs_f64();
        while marks.next_if(|m| *m <= seconds).is_some() {
            let better = 100.0 * (now.best.share() / first.share() - 1.0);
            let share = 100.0 * now.best.share();
            println!(
                "{seconds:5.1} s, round {:4}: {share:.1} %, {better:+.1} %, {} pairs apart",
                now.round, now.best.apart
            );
        }
        marks.peek().is_some()
    })
    .expect("lays out");
    assert_eq!(best.places.iter().flatten().count(), shapes.len());
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
        Board { outline: vec![[0.0, 0.0], [long, 0.0], [long, wide], [0.0, wide]], blemishes: Vec::new() }
    };
    (0..15).map(board).collect()
}
