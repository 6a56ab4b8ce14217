//! The timber in the rack.
//!
//! So far: whether each plank comes out of some board in one piece. Laying planks out on boards and scarfing short
//! ones is not done yet.

use crate::development::FlatPlank;
use crate::findings::{Finding, Measure, Stage};

/// A board in the rack.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Its name or number.
    pub name: String,
    /// mm.
    pub length: f64,
    /// Least width over its length, mm.
    pub width: f64,
    /// mm.
    pub thickness: f64,
    /// As the builder calls it; may be empty.
    pub wood: String,
}

/// Planks that no board holds in one piece. Nothing is found wrong where the rack is empty: then it is not known.
#[must_use]
pub fn check(flats: &[FlatPlank], thickness: f64, boards: &[Board]) -> Vec<Finding> {
    if boards.is_empty() {
        return Vec::new();
    }
    let thick: Vec<&Board> = boards.iter().filter(|b| b.thickness >= thickness).collect();
    let mut findings = Vec::new();
    for f in flats {
        if thick.iter().any(|b| b.length >= f.length && b.width >= f.board_width) {
            continue;
        }
        let wide = thick.iter().filter(|b| b.width >= f.board_width);
        let longest = wide.map(|b| b.length).fold(0.0, f64::max);
        let (measured, limit, hint) = if longest > 0.0 {
            (f.length, longest, "is longer than any board wide enough for it: scarf it, or find a longer board")
        } else {
            let widest = thick.iter().map(|b| b.width).fold(0.0, f64::max);
            (f.board_width, widest, "is wider laid flat than any board thick enough: scarf it, or find a wider board")
        };
        findings.push(Finding {
            stage: Stage::Stock,
            place: format!("strake {}", f.strake),
            measured: Measure::Length(measured),
            limit: Measure::Length(limit),
            hint: hint.to_string(),
        });
    }
    findings
}
