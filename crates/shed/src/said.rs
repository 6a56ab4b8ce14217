//! Boards and what comes out of them in words, for the command line and the screen.

use boat::plan::Plan;
use boat::sawing::Piece;
use boat::units::Notation;

/// `12-4-1 × 9 in`.
pub fn size(lengths: Notation, [long, wide]: [f64; 2]) -> String {
    format!("{} × {}", lengths.said(long), lengths.said(wide))
}

/// `L1`, or `L1 leaf 2 of 3`.
pub fn leaf_name(board: &str, [leaf, of]: [usize; 2]) -> String {
    if of == 1 { board.to_owned() } else { format!("{board} leaf {leaf} of {of}") }
}

/// `3`, or `3 part 2`: which strake, and which part of it.
pub fn piece(piece: Piece) -> String {
    if piece.of == 1 { piece.strake.to_string() } else { format!("{} part {}", piece.strake, piece.part) }
}

/// Where scarfs stand, or `none`.
pub fn places(lengths: Notation, all: &[f64]) -> String {
    match all.len() {
        0 => "none".to_owned(),
        _ => all.iter().map(|x| lengths.said(*x)).collect::<Vec<_>>().join(", "),
    }
}

/// The line of boat.toml, under `[scarfs]`, that keeps the plan's scarfs where they are.
pub fn longest_of(plan: &Plan) -> String {
    let all = plan.spec.scarfs.longest_of.iter();
    let all: Vec<String> = all
        .map(|(strake, mm)| format!("{{ strake = {strake}, longest = \"{}\" }}", plan.spec.lengths.said(*mm)))
        .collect();
    format!("longest_of = [{}]", all.join(", "))
}
