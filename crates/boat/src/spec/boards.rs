//! How planks are got out of boards: scarfs and saw cuts. All defaults are common practice, no source.

/// Scarfs. All of it common practice, no source.
#[derive(Debug, Clone, PartialEq)]
pub struct ScarfSpec {
    /// Length over thickness.
    pub ratio: f64,
    /// Longest part, mm; `None`: as long as the rack's longest board, and where there is no rack a plank is one piece.
    pub longest: Option<f64>,
    /// The same for the parts of single strakes, 1 to n, mm.
    pub longest_of: Vec<(usize, f64)>,
    /// Widest board, mm; `None`: the rack's, and without one any.
    pub widest: Option<f64>,
    /// Clear between a scarf and a mould's station line, mm.
    pub clear: f64,
    /// Least between the middles of scarfs in neighbouring strakes, mm along the boat; half of it between strakes two
    /// apart. `None`: three timber spaces.
    pub shift: Option<f64>,
    /// Where they are glued.
    pub glued: Glued,
}

impl Default for ScarfSpec {
    fn default() -> Self {
        ScarfSpec {
            ratio: 8.0,
            longest: None,
            longest_of: Vec::new(),
            widest: None,
            clear: 50.8,
            shift: None,
            glued: Glued::Bench,
        }
    }
}

/// How planks are got out of boards. All of it common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SawSpec {
    /// Width of a saw cut, mm.
    pub cut: f64,
    /// Left outside a plank's line all round, to be planed off, mm.
    pub planing: f64,
    /// Least between a sound knot and a plank's edge, mm.
    pub knot_clear: f64,
    /// Most that a plank's board may lie off a board's grain, radians.
    pub off_grain: f64,
    /// Boards thick enough are sawn through their thickness.
    pub resaw: bool,
    /// Wood lost between two leaves of such a board: the saw cut, and what is planed off either side, mm.
    pub resaw_loss: f64,
}

impl Default for SawSpec {
    fn default() -> Self {
        SawSpec {
            cut: 3.0,
            planing: 3.0,
            knot_clear: 20.0,
            off_grain: 2.0_f64.to_radians(),
            resaw: false,
            resaw_loss: 6.0,
        }
    }
}

/// Where scarfs are glued.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Glued {
    /// On the bench, before the plank is marked out and hung.
    Bench,
    /// In place, as the parts are hung.
    InPlace,
}
