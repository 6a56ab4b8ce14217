//! Where a face turns away from the eye.
//!
//! On each cell between two rulings the facing n·(eye − p) is taken at the four corners and runs evenly along the sides;
//! the contour joins the places on the sides where it is nought. Pieces that meet on a side are one line.

use super::{Kind, Line, Strip};
use crate::geom::{Point, Vector};
use std::collections::BTreeMap;

/// A side of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Side {
    /// Ruling i.
    Ruling(usize),
    /// The lower edge from i to i + 1.
    Lower(usize),
    /// The upper edge from i to i + 1.
    Upper(usize),
}

/// A corner: where it is, its normal, and how it faces.
type Corner = (Point, Vector, f64);

/// The contours of a face for an eye at `eye`.
pub(super) fn contours(strip: &Strip, eye: &Point) -> Vec<Line> {
    let corner = |p: &Point, n: &Vector| -> Corner { (*p, *n, n.dot(&(eye - p))) };
    let row = |p: &[Point], n: &[Vector]| -> Vec<Corner> { p.iter().zip(n).map(|(p, n)| corner(p, n)).collect() };
    let (lower, upper) = (row(&strip.lower, &strip.lower_normals), row(&strip.upper, &strip.upper_normals));
    let mut places: BTreeMap<Side, (Point, Vector)> = BTreeMap::new();
    let mut joined: BTreeMap<Side, Vec<Side>> = BTreeMap::new();
    for i in 0..lower.len().min(upper.len()).saturating_sub(1) {
        let sides = [
            (Side::Ruling(i), lower[i], upper[i]),
            (Side::Upper(i), upper[i], upper[i + 1]),
            (Side::Ruling(i + 1), lower[i + 1], upper[i + 1]),
            (Side::Lower(i), lower[i], lower[i + 1]),
        ];
        let crossed: Vec<Side> = sides
            .into_iter()
            .filter_map(|(side, a, b)| {
                places.insert(side, nought(&a, &b)?);
                Some(side)
            })
            .collect();
        // Two or none; on a saddle, four, joined two by two.
        for pair in crossed.chunks_exact(2) {
            joined.entry(pair[0]).or_default().push(pair[1]);
            joined.entry(pair[1]).or_default().push(pair[0]);
        }
    }
    chains(joined)
        .into_iter()
        .map(|chain| {
            let (points, free) = chain.iter().filter_map(|side| places.get(side).copied()).unzip();
            Line { kind: Kind::Contour, points, free }
        })
        .collect()
}

/// Where on a side the facing is nought.
fn nought(a: &Corner, b: &Corner) -> Option<(Point, Vector)> {
    ((a.2 < 0.0) != (b.2 < 0.0)).then(|| {
        let share = a.2 / (a.2 - b.2);
        (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
    })
}

/// The runs of sides, each joined to the next.
fn chains(mut joined: BTreeMap<Side, Vec<Side>>) -> Vec<Vec<Side>> {
    let mut found = Vec::new();
    // Open runs from their ends first; what is left goes round.
    for ends in [true, false] {
        while let Some(start) =
            joined.iter().find(|(_, to)| (to.len() == 1) == ends && !to.is_empty()).map(|(s, _)| *s)
        {
            let mut chain = vec![start];
            let mut at = start;
            while let Some(next) = joined.get_mut(&at).and_then(Vec::pop) {
                if let Some(back) = joined.get_mut(&next)
                    && let Some(i) = back.iter().position(|s| *s == at)
                {
                    back.remove(i);
                }
                chain.push(next);
                at = next;
            }
            found.push(chain);
        }
    }
    found
}
