//! Why no skin passes through a table.

use crate::geom::fair::FairError;
use crate::units::Notation;

/// Why no skin passes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LinesError {
    /// Not enough stations between the ends of the keel rabbet.
    #[error(
        "offsets.csv: {found} stations stand between the fore-foot ({fore_mm:.0} mm) and the after end of the rabbet \
         ({aft_mm:.0} mm); a skin needs 3 or more: check the station spacing and the stem and transom in boat.toml"
    )]
    TooFewStations {
        /// Stations between.
        found: usize,
        /// Fore-foot, mm aft of the first station.
        fore_mm: f64,
        /// After end, mm aft of the first station.
        aft_mm: f64,
    },
    /// A station stands beyond the boat.
    #[error(
        "offsets.csv: station {station} stands {x_mm:.0} mm aft of the first, beyond the {end}, which ends at \
         {end_mm:.0} mm: check the spacing of the stations (lines.spacing, or the row \"at\") and the {end} in boat.toml"
    )]
    Beyond {
        /// The station.
        station: String,
        /// Where it stands, mm aft of the first.
        x_mm: f64,
        /// `stem`, `sternpost` or `transom`.
        end: &'static str,
        /// The end's furthest point, mm aft of the first station.
        end_mm: f64,
    },
    /// An end's rabbet cannot be drawn.
    #[error("boat.toml: {end}: its profile cannot be drawn: {why}")]
    End {
        /// `stem`, `sternpost` or `transom`.
        end: &'static str,
        /// What is wrong and what to do.
        why: String,
    },
    /// A section cannot be drawn.
    #[error("offsets.csv: station {station}: no section passes through its entries: {why}; check the entries there")]
    Section {
        /// The station.
        station: String,
        /// Why.
        why: FairError,
    },
    /// A line cannot be drawn.
    #[error("offsets.csv: row \"{row}\": no line passes through its entries: {why}; check the entries there")]
    Line {
        /// The row.
        row: String,
        /// Why.
        why: FairError,
    },
    /// The rabbet height is missing where it cannot be found from its neighbours.
    #[error("offsets.csv: row \"height rabbet\" has {found} entries; 2 or more are needed to draw the rabbet")]
    NoRabbet {
        /// Entries found.
        found: usize,
    },
    /// The fairing did not come to an end.
    #[error(
        "offsets.csv: the lines could not be faired within {within_mm} mm ({status}); allow more in boat.toml under \
         lines.fair_within, or look for a wrong entry"
    )]
    NotFaired {
        /// The tolerance, mm.
        within_mm: f64,
        /// What the solver said.
        status: String,
    },
    /// The skin folds on itself when brought in by the plank's thickness.
    #[error("station {station}: the inside of the planking cannot be found ({why}); is the plank too thick for her?")]
    Inside {
        /// The station or end.
        station: String,
        /// Why.
        why: FairError,
    },
}

impl LinesError {
    /// The message with its lengths in `lengths`; `Display` gives them in mm.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            LinesError::TooFewStations { found, fore_mm, aft_mm } => {
                let [fore, aft] = [fore_mm, aft_mm].map(|mm| lengths.said(mm.round()));
                format!(
                    "offsets.csv: {found} stations stand between the fore-foot, {fore} aft of the first station, and the \
                     after end of the rabbet, at {aft}; a skin needs 3 or more: check the spacing of the stations \
                     (lines.spacing, or the row \"at\") and the stem and after end in boat.toml"
                )
            }
            LinesError::Beyond { station, x_mm, end, end_mm } => {
                let [x, at] = [x_mm, end_mm].map(|mm| lengths.said(mm.round()));
                format!(
                    "offsets.csv: station {station} stands {x} aft of the first, beyond the {end}, which ends at {at}: check \
                     the spacing of the stations (lines.spacing, or the row \"at\") and the {end} in boat.toml"
                )
            }
            LinesError::NotFaired { within_mm, status } => format!(
                "offsets.csv: the lines could not be faired within {} ({status}); allow more in boat.toml under \
                 lines.fair_within, or look for a wrong entry",
                lengths.said_fine(*within_mm)
            ),
            _ => self.to_string(),
        }
    }
}
