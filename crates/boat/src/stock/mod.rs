//! The timber in the rack.
//!
//! Whether boards are thick enough, and whether each part of each plank comes out of some board. Laying them all out is the
//! module `sawing`'s.

use crate::development::FlatPlank;
use crate::findings::{Finding, Measure, Stage};
use crate::scarfs::{Made, Part};
use crate::spec::Spec;

/// A board in the rack.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// Its name or number.
    pub name: String,
    /// mm.
    pub length: f64,
    /// Least width over its length, without sapwood, mm.
    pub width: f64,
    /// Width at the end that lengths are measured from, half-way and at the other end, sapwood and all, mm. Its middle line is
    /// straight.
    pub widths: [f64; 3],
    /// Sapwood along each edge, which no plank is cut from, mm.
    pub sapwood: f64,
    /// Knots and faults.
    pub spoilt: Vec<Spoilt>,
    /// mm.
    pub thickness: f64,
    /// As the builder calls it; may be empty.
    pub wood: String,
    /// A sheet of plywood, its outer grain along its length.
    pub sheet: bool,
}

/// A knot or a fault in a board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spoilt {
    /// From the end, mm.
    pub from_end: f64,
    /// From the lower edge there, mm.
    pub up: f64,
    /// Across it, mm.
    pub across: f64,
    /// A sound, tight knot, which a plank may have away from its edges and where it is not bent hard. Anything else it may not
    /// have.
    pub sound: bool,
}

impl Board {
    /// Width at `x` from the end, sapwood and all, mm.
    #[must_use]
    pub fn width_at(&self, x: f64) -> f64 {
        let [start, middle, end] = self.widths;
        let half = 0.5 * self.length;
        if x <= half { start + (middle - start) * x / half } else { middle + (end - middle) * (x - half) / half }
    }

    /// Whether planks so thick come out of it, mm.
    #[must_use]
    pub fn is_as_thick_as(&self, planks: f64) -> bool {
        self.thickness >= planks - SAME
    }

    fn word(&self) -> &'static str {
        if self.sheet { "sheet" } else { "board" }
    }
}

/// The sheets in the rack, and what is to come out of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheets {
    /// How many.
    pub count: usize,
    /// Area of all of them, mm².
    pub area: f64,
    /// Flat area of the planks of both sides, mm²: waste and scarfs are not in it.
    pub planks: f64,
}

/// The areas of the sheets and of the planks; `None` without sheets.
#[must_use]
pub fn sheets(flats: &[FlatPlank], boards: &[Board]) -> Option<Sheets> {
    let sheets: Vec<&Board> = boards.iter().filter(|b| b.sheet).collect();
    let area = sheets.iter().map(|b| b.length * b.width).sum();
    let planks = flats.iter().map(|f| 2.0 * f.area).sum();
    (!sheets.is_empty()).then_some(Sheets { count: sheets.len(), area, planks })
}

/// Sizes nearer than this are the same, mm: 3/8 in written as 9.5 mm is as thick as 3/8 in.
pub(crate) const SAME: f64 = 0.05;

/// Boards named in one finding.
const MOST_NAMED: usize = 5;

/// Length and width, mm, of the boards that are thick enough for the planking.
#[must_use]
pub fn sizes(boards: &[Board], spec: &Spec) -> Vec<[f64; 2]> {
    let thick = boards.iter().filter(|b| b.is_as_thick_as(spec.planking.thickness));
    thick.map(|b| [b.length, b.width]).collect()
}

/// Boards thinner than the planking, and parts of planks that no board holds. Nothing is found wrong where the rack
/// is empty: then it is not known.
#[must_use]
pub fn check(planks: &[Made], spec: &Spec, boards: &[Board]) -> Vec<Finding> {
    let thickness = spec.planking.thickness;
    let (thick, thin): (Vec<&Board>, Vec<&Board>) = boards.iter().partition(|b| b.is_as_thick_as(thickness));
    let mut findings: Vec<Finding> = too_thin(&thin, thickness, thick.is_empty()).into_iter().collect();
    if !thick.is_empty() {
        for plank in planks {
            findings.extend(plank.parts.iter().filter_map(|part| too_small(plank, part, &thick)));
        }
    }
    findings
}

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

/// Why a part of `plank` with what is left on it comes out of none of the boards, all thick enough: the board that comes
/// nearest is named.
fn too_small(plank: &Made, part: &Part, thick: &[&Board]) -> Option<Finding> {
    let [long, across] = part.left.board;
    let wide: Vec<&&Board> = thick.iter().filter(|b| b.width >= across - SAME).collect();
    let (measured, limit, hint) = match wide.iter().max_by(|a, b| a.length.total_cmp(&b.length)) {
        Some(longest) if longest.length >= long - SAME => return None,
        Some(longest) => {
            let hint = format!(
                "is longer than {} {}, the longest that is wide enough: scarf it, or find a longer one",
                longest.word(),
                longest.name
            );
            (long, longest.length, hint)
        }
        None => {
            let widest = thick.iter().max_by(|a, b| a.width.total_cmp(&b.width))?;
            let hint = format!(
                "is wider laid flat than {} {}, the widest that is thick enough: scarf it, or find a wider one",
                widest.word(),
                widest.name
            );
            (across, widest.width, hint)
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
