//! Laying a strake flat.

/// A strake laid flat. x along the plank from the bow, y up towards the sheer, seen from outside on the port side.
/// y = 0 is the batten line: the straight edge of the least board that holds the plank.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatPlank {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// Lower edge from the bow, mm.
    pub lower: Vec<[f64; 2]>,
    /// Upper edge from the bow, mm; as many points as `lower`, joined by rulings.
    pub upper: Vec<[f64; 2]>,
    /// Length of the least board, mm.
    pub length: f64,
    /// Width of the least board, mm.
    pub board_width: f64,
    /// Where the sections cross.
    pub stations: Vec<FlatStation>,
    /// Largest membrane strain left, as a share of one.
    pub strain_max: f64,
    /// How far the plank must be bent on the flat, mm over its length.
    pub edge_set: f64,
    /// Greatest twist, radians per mm.
    pub twist_max: f64,
    /// Least radius the plank is bent to across its face, mm.
    pub bend_radius_min: f64,
}

/// Where a section crosses a flat plank.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatStation {
    /// Index into the plan's sections.
    pub section: usize,
    /// On the lower edge.
    pub lower: [f64; 2],
    /// On the upper edge.
    pub upper: [f64; 2],
}
