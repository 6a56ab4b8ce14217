//! What to buy where the rack is short.
//!
//! Told in two ways, of which the builder takes one: a board for each plank that found no room, so long and so wide at least; or so
//! many more of a board that is in the rack already, laid out like the rest.

use super::pieces::Ready;
use super::{Effort, Piece, Short, leaves, rules};
use crate::plan::Plan;
use crate::spec::Spec;
use crate::stock::Board;
use crate::units::{Notation, inches};
use std::ops::ControlFlow;

/// Boards of one size to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Buy {
    /// How many.
    pub count: usize,
    /// Length and width, mm, at least, rounded up to sizes that are easily said: 3 in and ½ in, or 50 and 10 mm.
    pub size: [f64; 2],
    /// The planking's, mm, planed.
    pub thickness: f64,
    /// What is to come out of them.
    pub pieces: Vec<Piece>,
}

/// More boards like one that is in the rack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct More {
    /// Its index.
    pub like: usize,
    /// How many more.
    pub count: usize,
}

/// How long is searched for what is short: a few pieces on clean boards all alike.
const SHORT: Effort = Effort { rounds: 12, good_enough: 12, seed: 1 };

/// A board for each plank that is short; those of one size together, largest first.
pub fn buy(short: &[Short], spec: &Spec) -> Vec<Buy> {
    let steps = if spec.lengths == Notation::Mm { [50.0, 10.0] } else { [inches(3.0), inches(0.5)] };
    let mut all: Vec<Buy> = Vec::new();
    for s in short {
        let size = [0, 1].map(|axis| (s.takes[axis] / steps[axis] - 1e-6).ceil() * steps[axis]);
        match all.iter_mut().find(|b| (0..2).all(|axis| (b.size[axis] - size[axis]).abs() < 1e-6)) {
            Some(same) => {
                same.count += s.count;
                same.pieces.push(s.piece);
            }
            None => all.push(Buy { count: s.count, size, thickness: spec.planking.thickness, pieces: vec![s.piece] }),
        }
    }
    all.sort_by(|a, b| b.size[0].total_cmp(&a.size[0]).then(b.size[1].total_cmp(&a.size[1])));
    all
}

/// How many more of some board in the rack what is left would take; `None` where nothing is left or no board holds each of it.
pub fn more(plan: &Plan, boards: &[Board], left: &[(usize, &Ready)]) -> Option<More> {
    if left.is_empty() {
        return None;
    }
    let shapes: Vec<layout::Shape> =
        left.iter().flat_map(|(count, ready)| std::iter::repeat_n(ready.shape.clone(), *count)).collect();
    let room = super::room(plan);
    let holds = |board: &&(usize, &Board)| {
        left.iter().all(|(_, r)| r.takes[0] + room <= board.1.length && r.takes[1] + room <= board.1.width)
    };
    let usable: Vec<(usize, &Board)> = boards.iter().enumerate().filter(|(_, b)| leaves(b, &plan.spec) > 0).collect();
    // The smallest that holds each of them; knots are where they are in that one.
    let (like, board) = usable
        .iter()
        .filter(holds)
        .min_by(|a, b| (a.1.length * a.1.width).total_cmp(&(b.1.length * b.1.width)))
        .copied()?;
    let of = leaves(board, &plan.spec);
    let clean = Board { spoilt: Vec::new(), ..board.clone() };
    let count = shapes.len();
    let bodies: Vec<layout::Board> = (0..count).map(|i| super::leaves::body(&clean, i / of, &plan.spec)).collect();
    let found = layout::lay_out(&shapes, &bodies, &rules(plan, SHORT), &mut |_| ControlFlow::Continue(())).ok()?;
    if found.places.iter().any(Option::is_none) {
        return None;
    }
    let cut = found.used.iter().filter(|u| **u > 0.0).count();
    Some(More { like, count: cut.div_ceil(of) })
}
