//! What a stage noticed.
//!
//! A stage that cannot go on returns its error. A stage that can go on, but where the builder should look,
//! pushes a [`Finding`]: the place, the measured value, the limit, and what to do about it.

/// Which stage noticed it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// The table of offsets as read.
    Offsets,
    /// The fair skin.
    Lines,
    /// The land lines.
    Lining,
    /// Strakes, lands, bevels and gains.
    Planks,
    /// The flat planks.
    Development,
    /// The steamed timbers.
    Timbers,
    /// Rivets and nails.
    Fastenings,
    /// The boards in the rack.
    Stock,
}

impl Stage {
    /// The word used on paper and in `plan --json`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Stage::Offsets => "offsets",
            Stage::Lines => "lines",
            Stage::Lining => "lining",
            Stage::Planks => "planks",
            Stage::Development => "development",
            Stage::Timbers => "timbers",
            Stage::Fastenings => "fastenings",
            Stage::Stock => "stock",
        }
    }
}

/// A measured value or a limit, with the unit it is read in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// A length in mm.
    Length(f64),
    /// An angle in radians.
    Angle(f64),
    /// A plain count.
    Count(f64),
    /// A share of one, such as a strain.
    Ratio(f64),
}

/// Something the builder should look at; the plan went on without it being mended.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The stage that noticed it.
    pub stage: Stage,
    /// Where on the boat or in the table, in the builder's words: `strake 3, station 5`.
    pub place: String,
    /// What was measured there.
    pub measured: Measure,
    /// The limit it passed.
    pub limit: Measure,
    /// What it is and what to do.
    pub hint: String,
}
