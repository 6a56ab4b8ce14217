//! Why no offsets come of the points.

use crate::geom::fair::FairError;

/// Why no offsets come of the points.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TakeOffError {
    /// Too few stations.
    #[error("points were taken at {found} stations; {least} is the least a hull is faired from: take more")]
    Stations {
        /// Stations besides the ends.
        found: usize,
        /// Least.
        least: usize,
    },
    /// More than is reckoned with.
    #[error("line {line}, station {station}: {found} {what}; {most} is the most that is read: take some out")]
    TooMany {
        /// The station.
        station: String,
        /// Line of its first point.
        line: usize,
        /// `points stand there`, or `stations and ends`.
        what: &'static str,
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// Too few points.
    #[error(
        "line {line}, station {station}: {found} points stand there; {least} is the least a section is drawn through, \
         with rabbet and sheer: take more"
    )]
    Points {
        /// The station.
        station: String,
        /// Line of its first point.
        line: usize,
        /// Points.
        found: usize,
        /// Least.
        least: usize,
    },
    /// No rabbet or no sheer, or two.
    #[error(
        "line {line}, station {station}: {found} points are marked {mark}, and each station needs one: mark it so"
    )]
    Mark {
        /// The station.
        station: String,
        /// Line of its first point.
        line: usize,
        /// `rabbet` or `sheer`.
        mark: &'static str,
        /// Found.
        found: usize,
    },
    /// The points of a station are not at one distance.
    #[error(
        "line {line}, station {station}: the point stands {found:.1} mm aft and the station's first {first:.1} mm; a \
         station is square to the centreline, {most} mm is allowed: correct it, or call it by another station"
    )]
    NotSquare {
        /// The station.
        station: String,
        /// Its line.
        line: usize,
        /// Aft, mm.
        found: f64,
        /// Of the first point, mm.
        first: f64,
        /// Most they may differ, mm.
        most: f64,
    },
    /// No curve.
    #[error("station {station}: no section passes through its points: {why}; look at them")]
    Section {
        /// The station.
        station: String,
        /// Why.
        why: FairError,
    },
}
