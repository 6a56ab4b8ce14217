//! Longest first, each as far left as it goes: where the search begins, and what it is measured against.

use crate::body::Spot;
use crate::field::Field;

/// How finely places are tried: steps along the board, mm, and how many across it.
#[derive(Debug, Clone, Copy)]
pub struct Steps {
    pub along: f32,
    pub across: usize,
}

/// The place furthest left on `board` where shape `i` lies clear, if there is one, of those tried.
pub fn leftmost(field: &mut Field<'_>, i: usize, board: usize, steps: Steps) -> Option<Spot> {
    let ways: Vec<(bool, f32)> = field.bodies[i].turns().collect();
    let floor = field.floors[board].bbox();
    let mut best: Option<(f32, Spot)> = None;
    for (over, turn) in ways {
        let at = Spot { board, over, turn, shift: [0.0; 2] };
        let [first, last] = [0.0, 1.0].map(|s| field.within(i, at, [s, 0.0]));
        let [low, high] = [0.0, 1.0].map(|s| field.within(i, at, [0.0, s]).shift[1]);
        let room = last.shift[0] - first.shift[0];
        // Where the shape is longer than the board both are its middle, and it is clear nowhere.
        let count = (room.max(0.0) / steps.along) as usize;
        for k in 0..=count {
            let x = first.shift[0] + k as f32 * steps.along;
            if best.as_ref().is_some_and(|b| x - first.shift[0] + floor.x_min >= b.0) {
                break;
            }
            let ys = (0..=steps.across).map(|s| low + (high - low) * s as f32 / steps.across as f32);
            let clear = ys.map(|y| Spot { shift: [x, y], ..at }).find(|spot| field.clear_at(i, spot));
            if let Some(spot) = clear {
                best = Some((x - first.shift[0] + floor.x_min, spot));
                break;
            }
        }
    }
    best.map(|b| b.1)
}

/// Indices, longest first.
pub fn longest_first(field: &Field<'_>) -> Vec<usize> {
    let long = |i: &usize| field.bodies[*i].polygon.diameter();
    let mut order: Vec<usize> = (0..field.bodies.len()).collect();
    order.sort_by(|a, b| long(b).total_cmp(&long(a)).then(a.cmp(b)));
    order
}
