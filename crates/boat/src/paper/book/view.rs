//! Scales, and the way from a plane of the boat to the sheet.

use crate::drawing::Spot;
use crate::units::Notation;

/// A plane of the boat laid on the sheet: u to the right, v up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// Where u = 0, v = 0 stands.
    pub origin: Spot,
    /// mm of the boat to the mm of paper along u.
    pub scale: f64,
    /// The same along v; smaller than `scale` where heights are drawn larger.
    pub scale_up: f64,
}

impl View {
    /// A true view.
    pub fn new(origin: Spot, scale: f64) -> Self {
        View { origin, scale, scale_up: scale }
    }

    /// On the sheet.
    pub fn at(&self, u: f64, v: f64) -> Spot {
        [self.origin[0] + u / self.scale, self.origin[1] - v / self.scale_up]
    }

    /// A run of points on the sheet.
    pub fn run(&self, points: impl IntoIterator<Item = [f64; 2]>) -> Vec<Spot> {
        points.into_iter().map(|[u, v]| self.at(u, v)).collect()
    }
}

const METRIC: [f64; 20] =
    [1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 8.0, 10.0, 12.5, 15.0, 17.5, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0];
const FOOT: [f64; 14] = [1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 18.0, 20.0, 24.0, 32.0, 48.0];

/// The largest customary scale that makes a drawing at least `least` times smaller than the boat.
pub fn customary(least: f64, notation: Notation) -> f64 {
    let series: &[f64] = if notation == Notation::Mm { &METRIC } else { &FOOT };
    series.iter().copied().find(|s| *s >= least - 1e-9).unwrap_or_else(|| (least / 10.0).ceil() * 10.0)
}

/// A scale in words.
pub fn scale_words(scale: f64, notation: Notation) -> String {
    let to_the_foot = match scale as u32 {
        4 => "3 in",
        6 => "2 in",
        8 => "1 1/2 in",
        12 => "1 in",
        16 => "3/4 in",
        24 => "1/2 in",
        32 => "3/8 in",
        48 => "1/4 in",
        _ => "",
    };
    match (scale == 1.0, notation, to_the_foot) {
        (true, _, _) => "full size".to_owned(),
        (false, Notation::Mm, _) | (false, _, "") => format!("scale 1 : {scale}"),
        (false, _, words) => format!("scale 1 : {scale} ({words} to the foot)"),
    }
}

/// Least and greatest of some numbers; `None` if there are none, or one is not a number.
pub fn range(numbers: impl IntoIterator<Item = f64>) -> Option<(f64, f64)> {
    let mut found: Option<(f64, f64)> = None;
    for n in numbers {
        if !n.is_finite() {
            return None;
        }
        found = Some(found.map_or((n, n), |(lo, hi)| (lo.min(n), hi.max(n))));
    }
    found
}
