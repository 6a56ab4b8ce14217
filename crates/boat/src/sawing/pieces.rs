//! What is to be sawn: every part of every plank, as a shape.

use super::Piece;
use crate::development::FlatPlank;
use crate::plan::Plan;
use crate::scarfs::{Made, Part};

/// A piece and its shape.
pub struct Ready {
    pub piece: Piece,
    pub shape: layout::Shape,
    /// Length and width with what is left long, mm.
    pub takes: [f64; 2],
}

/// The pieces of one side.
pub fn pieces(plan: &Plan) -> Vec<Ready> {
    let mut all = Vec::new();
    for (made, flat) in plan.made.iter().zip(&plan.flats) {
        for part in &made.parts {
            let piece = Piece { strake: made.strake, part: part.part, of: made.parts.len() };
            let outline = sawn_outline(part);
            let [long, wide] = [0, 1].map(|axis| {
                let along = outline.iter().map(|p| p[axis]);
                along.clone().fold(f64::MIN, f64::max) - along.fold(f64::MAX, f64::min)
            });
            let shape = layout::Shape {
                outline,
                turns: layout::Turns::Along { within: plan.spec.sawing.off_grain },
                over: true,
                sound: sound(part, flat, made),
                mate: Some(all.len()),
            };
            all.push(Ready { piece, shape, takes: [long, wide] });
        }
    }
    all
}

/// A part's outline as it is sawn, with what is left long on it.
fn sawn_outline(part: &Part) -> Vec<[f64; 2]> {
    let net = &part.outline;
    // Along the lower edge, up the after end, back along the upper edge, down the fore end.
    let (lower, upper) = (part.lower.len(), part.upper.len());
    let head =
        part.upper.last().and_then(|u| net.iter().skip(lower).position(|p| p == u)).map_or(lower, |i| lower + i);
    let instead = |left: &[[f64; 2]], net: &[[f64; 2]]| if left.len() > 1 { left.to_vec() } else { net.to_vec() };
    let back = |run: &[[f64; 2]]| run.iter().rev().copied().collect::<Vec<_>>();
    let mut out = part.lower.clone();
    out.extend(instead(&part.left.aft, &net[lower..head]));
    out.extend(instead(&back(&part.left.upper), &back(&part.upper)));
    out.extend(instead(&back(&part.left.fore), net.get(head + upper..).unwrap_or_default()));
    let near = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-3;
    out.dedup_by(|a, b| near(a, b));
    while out.len() > 3 && near(&out[0], &out[out.len() - 1]) {
        out.pop();
    }
    out
}

/// The stretches of a part, along its board, in which no knot may lie: where it is steamed, and its scarfs.
fn sound(part: &Part, flat: &FlatPlank, made: &Made) -> Vec<[f64; 2]> {
    let range = |points: &mut dyn Iterator<Item = [f64; 2]>| {
        points.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| [low.min(p[0]), high.max(p[0])])
    };
    let mut all: Vec<[f64; 2]> = Vec::new();
    for [from, to] in &flat.steam {
        let edges = flat.lower[*from..=*to].iter().chain(&flat.upper[*from..=*to]);
        all.push(range(&mut edges.map(|p| part.board.place(p))));
    }
    for scarf in &made.scarfs {
        let ends = [scarf.fore.lower, scarf.fore.upper, scarf.aft.lower, scarf.aft.upper];
        all.push(range(&mut ends.iter().map(|p| part.board.place(p))));
    }
    all
}
