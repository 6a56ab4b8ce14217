//! The timber in the rack.
//!
//! So far: whether boards are thick enough, and whether each part of each plank comes out of some board. Laying them out on
//! boards is not done yet.

use crate::findings::{Finding, Measure, Stage};
use crate::scarfs::{Made, Part};

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

/// Boards named in one finding.
const MOST_NAMED: usize = 5;

/// Length and width of the boards that are thick enough for the planking, mm.
#[must_use]
pub fn sizes(boards: &[Board], thickness: f64) -> Vec<[f64; 2]> {
    boards.iter().filter(|b| b.thickness >= thickness - SAME).map(|b| [b.length, b.width]).collect()
}

/// Boards thinner than the planking, and parts of planks that no board holds. Nothing is found wrong where the rack
/// is empty: then it is not known.
#[must_use]
pub fn check(planks: &[Made], thickness: f64, boards: &[Board]) -> Vec<Finding> {
    let (thick, thin): (Vec<&Board>, Vec<&Board>) = boards.iter().partition(|b| b.thickness >= thickness - SAME);
    let mut findings: Vec<Finding> = too_thin(&thin, thickness, thick.is_empty()).into_iter().collect();
    if !thick.is_empty() {
        let parts = planks.iter().flat_map(|plank| plank.parts.iter().map(move |part| (plank, part)));
        findings.extend(parts.filter_map(|(plank, part)| too_small(plank, part, &thick)));
    }
    findings
}

/// Sizes nearer than this are the same, mm: 3/8 in written as 9.5 mm is as thick as 3/8 in.
const SAME: f64 = 0.05;

fn too_thin(thin: &[&Board], thickness: f64, all: bool) -> Option<Finding> {
    let thickest = thin.iter().map(|b| b.thickness).max_by(f64::total_cmp)?;
    let hint = if all {
        "no board of boards.csv is as thick as the planking, so no strake comes out of any: find thicker ones, or check \
         the column thickness"
    } else {
        "thinner than the planking, so no strake comes out of it: left out of what follows; check the column thickness \
         in boards.csv"
    };
    Some(Finding {
        stage: Stage::Stock,
        place: named(thin),
        measured: Measure::Length(thickest),
        limit: Measure::Length(thickness),
        hint: hint.to_owned(),
    })
}

/// `board A1`, or `boards A1, A2 and 3 more`.
fn named(boards: &[&Board]) -> String {
    let names: Vec<&str> = boards.iter().take(MOST_NAMED).map(|b| b.name.as_str()).collect();
    let more = boards.len() - names.len();
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("board{} {}{more}", if boards.len() == 1 { "" } else { "s" }, names.join(", "))
}

/// Why a part of `plank` comes out of none of the boards, all thick enough: the board that comes nearest is named.
fn too_small(plank: &Made, part: &Part, thick: &[&Board]) -> Option<Finding> {
    let wide: Vec<&&Board> = thick.iter().filter(|b| b.width >= part.board.width - SAME).collect();
    let (measured, limit, hint) = match wide.iter().max_by(|a, b| a.length.total_cmp(&b.length)) {
        Some(longest) if longest.length >= part.board.length - SAME => return None,
        Some(longest) => {
            let hint = format!(
                "is longer than board {}, the longest that is wide enough: scarf it, or find a longer board",
                longest.name
            );
            (part.board.length, longest.length, hint)
        }
        None => {
            let widest = thick.iter().max_by(|a, b| a.width.total_cmp(&b.width))?;
            let hint = format!(
                "is wider laid flat than board {}, the widest that is thick enough: scarf it, or find a wider board",
                widest.name
            );
            (part.board.width, widest.width, hint)
        }
    };
    Some(Finding {
        stage: Stage::Stock,
        place: match plank.parts.len() {
            1 => format!("strake {}", plank.strake),
            _ => format!("strake {}, part {}", plank.strake, part.part),
        },
        measured: Measure::Length(measured),
        limit: Measure::Length(limit),
        hint,
    })
}
