//! What a stage noticed.
//!
//! A stage that cannot go on returns its error. A stage that can go on, but where the builder should look,
//! pushes a [`Finding`]: the place, the measured value, the limit, and what to do about it.

use crate::units::Notation;

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
    /// Scarfs, and the grain of the parts.
    Scarfs,
    /// The boards in the rack.
    Stock,
    /// How the moulds are set up.
    SettingUp,
    /// Risings, thwarts and knees.
    Interior,
    /// What is put aboard.
    Loads,
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
            Stage::Scarfs => "scarfs",
            Stage::Stock => "stock",
            Stage::SettingUp => "setting up",
            Stage::Interior => "interior",
            Stage::Loads => "loads",
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

impl Finding {
    /// Measured and limit as they are printed everywhere, as fine as it takes for them to read differently; `None` where
    /// nothing is measured, only found where there should be none.
    #[must_use]
    pub fn figures(&self, lengths: Notation) -> Option<[String; 2]> {
        match (self.measured, self.limit) {
            (Measure::Count(_), Measure::Count(0.0)) => None,
            (Measure::Length(a), Measure::Length(b)) => Some(lengths.said_apart(a, b)),
            (Measure::Angle(a), Measure::Angle(b)) => Some(decimals([a, b].map(f64::to_degrees), [1, 2, 3], "°")),
            (Measure::Ratio(a), Measure::Ratio(b)) => Some(decimals([a * 100.0, b * 100.0], [2, 3, 4], " %")),
            (a, b) => Some([a, b].map(|m| alone(m, lengths))),
        }
    }
}

/// Both numbers with the first of so many decimals that tells them apart.
fn decimals(numbers: [f64; 2], places: [usize; 3], unit: &str) -> [String; 2] {
    let written = |places: usize| numbers.map(|n| format!("{n:.places$}{unit}"));
    let apart = places.into_iter().map(written).find(|[a, b]| a != b);
    apart.unwrap_or_else(|| written(places[2]))
}

/// A measure that has nothing of its kind beside it.
fn alone(measure: Measure, lengths: Notation) -> String {
    match measure {
        Measure::Length(mm) => lengths.said_fine(mm),
        Measure::Angle(radians) => format!("{:.1}°", radians.to_degrees()),
        Measure::Count(n) => format!("{n:.0}"),
        Measure::Ratio(share) => format!("{:.2} %", share * 100.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_passed_its_limit_never_reads_like_it() {
        let figures = |measured, limit| {
            let finding =
                Finding { stage: Stage::Planks, place: String::new(), measured, limit, hint: String::new() };
            finding.figures(Notation::FeetInchesEighths).map(|[a, b]| format!("{a}, {b}"))
        };
        let length = |a, b| figures(Measure::Length(a), Measure::Length(b));
        assert_eq!(length(2.4, 3.81).as_deref(), Some("3/32 in, 5/32 in"));
        assert_eq!(length(3.6, 3.81).as_deref(), Some("9/64 in, 5/32 in"));
        let ratio = figures(Measure::Ratio(0.003_001), Measure::Ratio(0.003));
        assert_eq!(ratio.as_deref(), Some("0.3001 %, 0.3000 %"));
        let angle = figures(Measure::Angle(0.1), Measure::Angle(0.1002));
        assert_eq!(angle.as_deref(), Some("5.73°, 5.74°"));
        assert_eq!(figures(Measure::Count(3.0), Measure::Count(0.0)), None);
        assert_eq!(figures(Measure::Count(3.0), Measure::Count(2.0)).as_deref(), Some("3, 2"));
    }
}
