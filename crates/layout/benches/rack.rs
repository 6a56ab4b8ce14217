use layout::{Board, Shape, Turns, rack, Rack};
use std::time::Instant;
fn main() {
    // 24 planks, curved: arcs of circle with tapered width, and 15 boards.
    let mut shapes = Vec::new();
    for k in 0..24usize {
        let pair = k / 2;
        let long = 1500.0 + 170.0 * pair as f64;
        let round = 30.0 + 9.0 * ((pair * 7) % 5) as f64;
        let width = 95.0 + 3.0 * ((pair * 5) % 7) as f64;
        let mut outline = Vec::new();
        for i in 0..=60 { let t = i as f64 / 60.0; outline.push([long * t, round * 4.0 * t * (1.0 - t)]); }
        for i in (0..=60).rev() { let t = i as f64 / 60.0; outline.push([long * t, round * 4.0 * t * (1.0 - t) + width * (0.6 + 0.4 * (4.0 * t * (1.0 - t)))]); }
        shapes.push(Shape { outline, turns: Turns::Along { within: 0.03 }, over: true, sound: vec![], mate: Some(pair) });
    }
    let boards: Vec<Board> = (0..15).map(|b| { let l = 3300.0 + 170.0 * ((b * 4) % 9) as f64; let w = 190.0 + 15.0 * ((b * 3) % 7) as f64; Board { outline: vec![[0.0, 0.0], [l, 0.0], [l, w], [0.0, w]], blemishes: vec![] } }).collect();
    let rules = Rack::default();
    let start = Instant::now();
    let greedy = rack::longest_first(&shapes, &boards, &rules).unwrap();
    println!("greedy {:.4} cut {:.3} m2 placed {} apart {} in {:?}", greedy.share(), greedy.cut/1e6, greedy.places.iter().flatten().count(), greedy.apart, start.elapsed());
    let start = Instant::now();
    let mut last = 0.0;
    let best = rack::lay_out(&shapes, &boards, &rules, &mut |p| { if p.best.share() != last { last = p.best.share(); println!("{:6.2} s round {} {:.4} apart {}", start.elapsed().as_secs_f64(), p.round, last, p.best.apart); } true }).unwrap();
    println!("best {:.4} cut {:.3} placed {} apart {} in {:?}: {:+.1} %", best.share(), best.cut/1e6, best.places.iter().flatten().count(), best.apart, start.elapsed(), 100.0*(best.share()/greedy.share()-1.0));
}
