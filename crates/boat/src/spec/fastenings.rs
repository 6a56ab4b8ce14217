//! What holds her together, where it is not glue.

use crate::units::{inches, swg_diameter};

/// Copper nails and roves, and what is driven at the ends and along the keel.
#[derive(Debug, Clone, PartialEq)]
pub struct FasteningSpec {
    /// Imperial standard wire gauge of the nails.
    pub gauge: u32,
    /// Stock lengths, mm, ascending.
    pub nail_lengths: Vec<f64>,
    /// A nail's head across, mm; it is what must keep clear of a plank's edge.
    pub head_diameter: f64,
    /// Height of a rove when driven home, mm.
    pub rove: f64,
    /// Diameter of a rove, mm.
    pub rove_diameter: f64,
    /// Thickness of a rove's metal, mm.
    pub rove_thickness: f64,
    /// Left above the rove to be headed, mm; about 1.
    pub clench: f64,
    /// Rivets through each land between two timbers, at least.
    pub between: u32,
    /// Farthest from one rivet to the next, in plank thicknesses; `None` where only `between` is asked for.
    pub apart: Option<f64>,
    /// Widest spacing of fastenings at hood ends, mm.
    pub end_spacing: f64,
    /// The same at a transom, mm.
    pub transom_spacing: f64,
    /// Least and most fastenings of a plank at a hood end.
    pub hood_fastenings: [u32; 2],
    /// The same at a transom.
    pub transom_fastenings: [u32; 2],
    /// How far from a plank's end that row of fastenings stands, mm.
    pub end_row: f64,
    /// No rivet stands nearer to a plank's end, mm: the wood of stem or transom is behind it there.
    pub end_clear: f64,
    /// What is driven at the fore end.
    pub fore_ends: Fixing,
    /// What is driven at the after end.
    pub aft_ends: Fixing,
    /// What is driven through the garboard into the keel.
    pub keel: Fixing,
    /// Least that a nail at the ends or the keel goes into the wood behind the planks, in plank thicknesses.
    pub hold: f64,
    /// The screw, where any of them is one.
    pub screw: Option<Screw>,
    /// Extra nails, roves and screws to order, as a share: 0.1 is ten in the hundred.
    pub spare: f64,
}

/// What is driven where no rove can be put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fixing {
    /// Copper nails of the rivets' gauge.
    Nails,
    /// Screws.
    Screws,
}

impl Fixing {
    /// In boat.toml and `plan --json`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Fixing::Nails => "nails",
            Fixing::Screws => "screws",
        }
    }

    /// So many of them: `1 nail`, `3 screws`.
    #[must_use]
    pub fn count(self, n: usize) -> String {
        let word = self.word();
        format!("{n} {}", if n == 1 { word.trim_end_matches('s') } else { word })
    }
}

/// A wood screw, as the builder buys it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screw {
    /// The number it is sold by; not a wire gauge.
    pub gauge: u32,
    /// From point to the face of the plank, mm.
    pub length: f64,
}

/// Roves by the thickest gauge that they go with: gauge (thicker ones have a lower number), diameter, and height driven home,
/// mm. From memory and common practice, no source: measure your own.
const ROVES: [(u32, f64, f64); 5] =
    [(8, 15.9, 2.5), (11, 12.7, 2.0), (13, 11.1, 1.75), (15, 9.5, 1.5), (u32::MAX, 7.9, 1.25)];
/// Thickness of a rove's metal over its diameter. Common practice, no source.
const ROVE_METAL: f64 = 0.1;
/// A nail's head across over its side. Common practice, no source.
const HEAD: f64 = 2.5;

impl FasteningSpec {
    /// What is taken where nothing is said, for nails of a gauge. Common practice, no source.
    #[must_use]
    pub fn of_gauge(gauge: u32) -> Self {
        let (_, rove_diameter, rove) = ROVES.into_iter().find(|r| gauge <= r.0).unwrap_or(ROVES[ROVES.len() - 1]);
        FasteningSpec {
            gauge,
            nail_lengths: (5..=12)
                .map(|n| f64::from(n) / 8.0)
                .chain((7..=12).map(|n| f64::from(n) / 4.0))
                .map(inches)
                .collect(),
            head_diameter: HEAD * swg_diameter(gauge).unwrap_or(0.0),
            rove,
            rove_diameter,
            rove_thickness: ROVE_METAL * rove_diameter,
            clench: 1.0,
            between: 2,
            apart: None,
            end_spacing: inches(1.25),
            transom_spacing: inches(1.25),
            hood_fastenings: [2, 4],
            transom_fastenings: [3, 4],
            end_row: inches(0.375),
            end_clear: inches(1.5),
            fore_ends: Fixing::Nails,
            aft_ends: Fixing::Nails,
            keel: Fixing::Nails,
            hold: 2.0,
            screw: None,
            spare: 0.1,
        }
    }

    /// Side of a nail's square shank, mm.
    #[must_use]
    pub fn side(&self) -> f64 {
        swg_diameter(self.gauge).unwrap_or(0.0)
    }

    /// Thickness of a rove's metal where only its diameter is known, mm.
    #[must_use]
    pub fn metal_of(rove_diameter: f64) -> f64 {
        ROVE_METAL * rove_diameter
    }

    /// Nearer than this, centre to centre, fastenings split the wood between them, mm.
    #[must_use]
    pub fn nearest(&self) -> f64 {
        LEAST_SIDES * self.side()
    }
}

/// Nail sides from one fastening to the next, at least. Common practice, no source.
const LEAST_SIDES: f64 = 4.0;

impl Default for FasteningSpec {
    fn default() -> Self {
        FasteningSpec::of_gauge(14)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nails_from_five_eighths_to_three_inches() {
        let nails = FasteningSpec::default().nail_lengths;
        assert_eq!((nails.len(), nails[0], nails[7], nails[8]), (14, 15.875, 38.1, 44.45));
        assert_eq!(nails.last(), Some(&76.2));
    }

    #[test]
    fn thinner_nails_have_smaller_roves() {
        let all: Vec<FasteningSpec> = (1..=30).map(FasteningSpec::of_gauge).collect();
        for pair in all.windows(2) {
            assert!(pair[0].rove_diameter >= pair[1].rove_diameter && pair[0].head_diameter > pair[1].head_diameter);
        }
        assert_eq!((all[13].rove_diameter, all[13].rove), (9.5, 1.5));
        // Every rove is wider than its nail.
        assert!(all.iter().all(|f| f.rove_diameter > 2.0 * f.side()));
    }
}
