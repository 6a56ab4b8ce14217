//! A long line of the table: one row's entries over x, with where it ends on the posts.

use super::profile::{Ends, LineEnd};
use crate::offsets::{RowKind, StationAt, Table};
use crate::spec::Spec;

/// An end nearer to a station than this share of the stations' spacing is the same place.
const SAME_PLACE: f64 = 0.06;

/// A point of a long line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// mm aft of the first station.
    pub x: f64,
    /// In the row's own measure, mm.
    pub value: f64,
    /// Column of the table; `None` for an end on a post, which is given by `boat.toml`.
    pub column: Option<usize>,
}

/// A row over x.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// From the bow.
    pub points: Vec<LinePoint>,
    /// Entries that stand where the line ends on a post, and the value it has there.
    pub tied: Vec<(usize, f64)>,
}

/// The line of row `r` through `values`.
#[must_use]
pub fn line(table: &Table, spec: &Spec, ends: &Ends, r: usize, values: &[Vec<Option<f64>>]) -> Line {
    let kind = &table.rows[r].kind;
    let mut points: Vec<LinePoint> = Vec::new();
    for (c, station) in table.stations.iter().enumerate() {
        let Some(value) = values[r][c] else { continue };
        let x = match (station.at, ends.transom(station.at)) {
            (StationAt::Square(x), _) => x,
            (_, Some(t)) => {
                let beside = |kind: &RowKind| beside(table, kind, c, values);
                let [y, z] = match kind {
                    RowKind::HalfBreadthWaterline(z) => [value, *z],
                    // The sheer meets the face at the transom's corner, which a rake and a curve bring forward.
                    RowKind::HalfBreadthSheer => [value, beside(&RowKind::HeightSheer).unwrap_or(t.head[1])],
                    RowKind::HeightSheer => [beside(&RowKind::HalfBreadthSheer).unwrap_or(0.0), value],
                    RowKind::Diagonal(i) => {
                        let d = &spec.lines.diagonals[*i];
                        [value * d.below_level.cos(), d.height - value * d.below_level.sin()]
                    }
                    RowKind::HalfBreadthRabbet => [value, t.foot[1]],
                    RowKind::HeightButtock(y) => [*y, value],
                    RowKind::HeightRabbet => [0.0, value],
                };
                t.x_at(y, z)
            }
            (_, None) => continue,
        };
        points.push(LinePoint { x, value, column: Some(c) });
    }
    let mut tied = Vec::new();
    if points.len() >= 2 {
        // The table's own: a row with entries at both ends alone must not take a post for a station.
        let square =
            || table.stations.iter().filter_map(|s| if let StationAt::Square(x) = s.at { Some(x) } else { None });
        let (first, last) = square().fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        let spacing = (last - first) / (square().count().max(2) - 1) as f64;
        for ((x, value), aft) in ends_on_posts(kind, spec, ends) {
            let near = if aft { points[points.len() - 1] } else { points[0] };
            let beyond = if aft { x - near.x } else { near.x - x };
            if beyond > SAME_PLACE * spacing {
                points.insert(if aft { points.len() } else { 0 }, LinePoint { x, value, column: None });
            } else if beyond > -SAME_PLACE * spacing {
                tied.extend(near.column.map(|c| (c, value)));
            }
        }
    }
    Line { points, tied }
}

/// What the row of this kind says in column `c`, mm: as printed where it is left out of `values`.
fn beside(table: &Table, kind: &RowKind, c: usize, values: &[Vec<Option<f64>>]) -> Option<f64> {
    let row = table.rows.iter().position(|r| r.kind == *kind)?;
    values[row][c].or_else(|| table.rows[row].cells[c].as_ref().map(|cell| cell.mm))
}

/// Where a row's line ends on the posts, `((x, value), aft)`.
fn ends_on_posts(kind: &RowKind, spec: &Spec, ends: &Ends) -> Vec<((f64, f64), bool)> {
    let both = |e: [Option<LineEnd>; 2], value: &dyn Fn(LineEnd) -> f64| {
        e.into_iter().zip([false, true]).filter_map(|(p, aft)| p.map(|p| ((p[0], value(p)), aft))).collect()
    };
    match kind {
        RowKind::HeightSheer => both(ends.sheer(), &|p| p[2]),
        RowKind::HalfBreadthSheer => both(ends.sheer(), &|p| p[1]),
        RowKind::HalfBreadthWaterline(z) => both(ends.at_height(*z), &|p| p[1]),
        // The keel's rabbet turns into the stem's at the fore-foot, too hard for a fair line through both.
        RowKind::HeightRabbet | RowKind::HalfBreadthRabbet | RowKind::HeightButtock(_) => Vec::new(),
        RowKind::Diagonal(i) => {
            let d = &spec.lines.diagonals[*i];
            both(ends.at_diagonal(d.height, d.below_level), &|p| p[1] / d.below_level.cos())
        }
    }
}
