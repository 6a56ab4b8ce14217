//! Pinned marks, where something has gone wrong near them.

use super::Pinned;
use crate::lines::Skin;

/// No more marks than these are named at once.
const MOST_NAMED: usize = 3;
/// How many lands off a pin still pulls at a strake: on the same mould, and on the moulds next to it.
const REACH: [usize; 2] = [3, 2];

/// The pins that may be to blame for trouble with `strake` at section `at`, in words that follow the trouble's: those
/// near it on the same mould, the nearest first, or else on the moulds next to it. Empty where there are none.
#[must_use]
pub fn pinned_near(pins: &[Pinned], skin: &Skin, strake: usize, at: usize) -> String {
    // Lands strake − 1 and strake are the strake's own edges.
    let off = |p: &Pinned| p.land.abs_diff(strake).min(p.land.abs_diff(strake - 1));
    let on_mould = |p: &&Pinned| p.section == at && off(p) <= REACH[0];
    let beside = |p: &&Pinned| p.section.abs_diff(at) == 1 && off(p) <= REACH[1];
    let mut near: Vec<&Pinned> = pins.iter().filter(on_mould).collect();
    if near.is_empty() {
        near = pins.iter().filter(beside).collect();
    }
    if near.is_empty() {
        return String::new();
    }
    near.sort_by_key(|p| off(p));
    let named = near.iter().take(MOST_NAMED);
    let named: Vec<String> =
        named.map(|p| format!("line {} pins land {} at {}", p.line, p.land, skin.place(p.section))).collect();
    format!("; look at marks.csv first: {}", named.join(", "))
}
