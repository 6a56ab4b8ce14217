//! Lining off: the land lines.

use crate::geom::Point;

/// A land line: the upper inner edge of a strake on the moulds. 0 is the rabbet, n the sheer.
#[derive(Debug, Clone, PartialEq)]
pub struct LandLine {
    /// 0 (rabbet) to n (sheer).
    pub land: usize,
    /// Dense points from the bow, mm.
    pub points: Vec<Point>,
}

/// Where a land line crosses a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// 0 (rabbet) to n (sheer).
    pub land: usize,
    /// Index into the plan's sections.
    pub section: usize,
    /// Along the mould from the rabbet, mm.
    pub girth: f64,
    /// In space, mm.
    pub at: Point,
    /// The builder pinned it in `marks.csv`.
    pub pinned: bool,
}
