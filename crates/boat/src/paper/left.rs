//! What planks are left long by, in words.

use super::book::length::Lengths;
use crate::development::{FlatPlank, LeftLong, left_long};
use crate::plan::Plan;
use crate::spec::{EndSpec, Spec};

/// What is left on a whole flat plank.
pub fn of(plan: &Plan, flat: &FlatPlank) -> LeftLong {
    let made = plan.made.iter().find(|m| m.strake == flat.strake).map(|m| m.left.clone());
    made.unwrap_or_else(|| left_long(flat, plan.spec.allowance(flat.strake == plan.strakes.len())))
}

/// `1/2 in at the stem, 3/4 in at the transom, of which 1/4 in stays past its face`, for the plank's own ends; empty where
/// nothing is left.
pub fn words(len: Lengths, spec: &Spec, [fore, aft]: [bool; 2], sheer: bool) -> String {
    let left = spec.allowance(sheer);
    let mut parts = Vec::new();
    for (own, end, mm, is_aft) in [(fore, &spec.fore, left.fore, false), (aft, &spec.aft, left.aft, true)] {
        if own && mm > 0.0 {
            parts.push(format!("{} at the {}{}", len.short_unit(mm), end.word(is_aft), stays(len, spec, end)));
        }
    }
    if left.upper > 0.0 {
        parts.push(format!("{} above the sheer, planed off when she is planked", len.short_unit(left.upper)));
    }
    parts.join("; ")
}

fn stays(len: Lengths, spec: &Spec, end: &EndSpec) -> String {
    let over = spec.planking.transom_overhang;
    if matches!(end, EndSpec::Transom(_)) && over > 0.0 {
        format!(", of which {} stays past its face", len.short_unit(over))
    } else {
        String::new()
    }
}

/// What is left at one end, in a few words to stand beside the line.
pub fn at_end(len: Lengths, spec: &Spec, aft: bool) -> String {
    let left = spec.allowance(false);
    format!("left long {}", len.short_unit(if aft { left.aft } else { left.fore }))
}
