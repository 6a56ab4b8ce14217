//! How the lines were drawn, and how far fairing may move an offset.

/// To which face of the planking the plan was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnTo {
    /// Offsets are to the inside of the planking: the shape of the moulds.
    Inside,
    /// Offsets are to the outside; the thickness is taken off along the true normal.
    Outside,
}

/// How the lines were drawn and how far fairing may move an offset.
#[derive(Debug, Clone, PartialEq)]
pub struct LinesSpec {
    /// The face of the planking that the table gives.
    pub drawn_to: DrawnTo,
    /// How far an offset may be moved square to the skin without being called doubtful, mm.
    /// Zero passes exactly through the table.
    pub fair_within: f64,
    /// The same for rows of one kind, where they are to be trusted more or less than the others.
    pub fair_within_by: FairWithinBy,
    /// Half-breadth of the keel at the rabbet, mm, where the table has no `half-breadth rabbet` row.
    pub keel_half_siding: f64,
    /// The diagonals the table refers to.
    pub diagonals: Vec<Diagonal>,
}

/// How far the offsets of one kind of row may be moved, mm; `None`: as far as all others.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FairWithinBy {
    /// Heights of sheer and rabbet.
    pub heights: Option<f64>,
    /// Half-breadths of sheer, rabbet and waterlines.
    pub half_breadths: Option<f64>,
    /// Heights of buttocks.
    pub buttocks: Option<f64>,
    /// Diagonals.
    pub diagonals: Option<f64>,
}

impl FairWithinBy {
    /// The kinds that have their own, by their keys, mm.
    #[must_use]
    pub fn given(&self) -> Vec<(&'static str, f64)> {
        let all = [
            ("heights", self.heights),
            ("half_breadths", self.half_breadths),
            ("buttocks", self.buttocks),
            ("diagonals", self.diagonals),
        ];
        all.into_iter().filter_map(|(key, mm)| Some((key, mm?))).collect()
    }
}

/// A diagonal plane, seen on the body plan as a straight line from the centreline outboard and down.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagonal {
    /// Its name on the plan.
    pub name: String,
    /// Height above base where it leaves the centreline, mm.
    pub height: f64,
    /// Angle below the horizontal, radians, in (0, π/2).
    pub below_level: f64,
}
