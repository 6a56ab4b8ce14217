//! Values in words, for the command line and the screen: counts, corrections, boards and what comes out of them.

use boat::plan::Plan;
use boat::sawing::{Piece, Sawn};
use boat::units::Notation;

/// `1 rivet`, `2 rivets`.
pub fn count(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

/// A correction as the table has lengths, with its sign, which what rounds to nought has not.
pub fn signed(lengths: Notation, mm: f64) -> String {
    let change = lengths.exact(mm);
    let plus = if mm > 0.0 && change.chars().any(|c| ('1'..='9').contains(&c)) { "+" } else { "" };
    format!("{plus}{change}")
}

/// How many boards are cut; the leaves of one stand side by side.
pub fn boards_cut(sawn: &[Sawn]) -> usize {
    sawn.chunk_by(|a, b| a.board == b.board).count()
}

/// `strake 3` or `strakes 3, 5 part 2`.
pub fn strakes(pieces: &[Piece]) -> String {
    let all: Vec<String> = pieces.iter().map(|p| piece(*p)).collect();
    format!("{} {}", if all.len() == 1 { "strake" } else { "strakes" }, all.join(", "))
}

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
