//! Why a strake cannot be laid.

use crate::units::Notation;

/// Most that a land is bevelled either way, radians: further round, so little of the edge faces the next strake that no plane
/// makes it.
pub(crate) const MOST_BEVEL: f64 = 1.2;

/// Why a strake cannot be laid.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanksError {
    /// A strake has no width left beside its lap.
    TooNarrow {
        /// Strake.
        strake: usize,
        /// Section.
        section: String,
        /// Width square to the land, mm.
        width: f64,
        /// Lap, mm.
        lap: f64,
        /// Least, mm.
        least: f64,
    },
    /// The next strake would turn so far that nothing is left of the edge to bevel.
    NoEdge {
        /// Strake.
        strake: usize,
        /// Section.
        section: String,
        /// Turn, degrees.
        degrees: f64,
        /// Lap, mm.
        lap: f64,
        /// Wood the bevel takes, mm.
        off: f64,
        /// Thickness, mm.
        thickness: f64,
    },
}

impl PlanksError {
    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            PlanksError::TooNarrow { strake, section, width, lap, least } => {
                let [width, least] = lengths.said_apart(*width, *least);
                let lap = lengths.said_fine(*lap);
                format!(
                    "strake {strake} at {section}: its width on the tape would be {width}, with a land of {lap} on it; \
                     {least} is the least that can be hung: fewer strakes (planking.strakes), a narrower lap \
                     (planking.lap), or its marks further apart (marks.csv)"
                )
            }
            PlanksError::NoEdge { strake, section, degrees, off, thickness, .. } if off < thickness => format!(
                "strake {strake} at {section}: the next strake turns {degrees:.0}° on it, and {:.0}° either way is the most \
                 that a land is bevelled: move its marks (marks.csv), or try another number of strakes \
                 (planking.strakes)",
                MOST_BEVEL.to_degrees()
            ),
            PlanksError::NoEdge { strake, section, degrees, lap, off, thickness } => {
                let [off, thickness] = lengths.said_apart(*off, *thickness);
                let lap = lengths.said_fine(*lap);
                format!(
                    "strake {strake} at {section}: the next strake turns {degrees:.0}° on it, and a land {lap} wide would \
                     take {off} off an edge {thickness} thick; more strakes (planking.strakes) or a narrower lap \
                     (planking.lap) turn less"
                )
            }
        }
    }

    /// The strake, and the section in the builder's words.
    #[must_use]
    pub fn place(&self) -> (usize, &str) {
        match self {
            PlanksError::TooNarrow { strake, section, .. } | PlanksError::NoEdge { strake, section, .. } => {
                (*strake, section)
            }
        }
    }
}

impl std::error::Error for PlanksError {}

impl std::fmt::Display for PlanksError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}
