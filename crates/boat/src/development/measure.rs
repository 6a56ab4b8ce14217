//! What a plank must be forced to do: bend, twist, edge-set.

use crate::geom::{Point, Vector, angle_about, sagitta, unit_or};

/// What the plank's middle line does.
#[derive(Debug, Clone, PartialEq)]
pub struct Bent {
    /// Greatest curvature across the face, 1/mm.
    pub bend_max: f64,
    /// Greatest twist, radians per mm.
    pub twist_max: f64,
    /// How far the plank must be bent on the flat, mm: the sagitta of a line that has, all along, the edgewise
    /// curvature which the surface has and the flat shape has not.
    pub edge_set: f64,
    /// Curvature across the face and twist at each ruling, 1/mm and radians per mm, both positive; 0 at the ends.
    pub at: Vec<[f64; 2]>,
}

/// Measures the middle line of `surface` against `flat`, the same grid laid flat.
#[must_use]
pub fn measure(surface: &[Vec<Point>], flat: &[Vec<[f64; 2]>]) -> Bent {
    let rows = surface.len();
    let (low, high) = (0, surface[0].len() - 1);
    let mid = high / 2;
    let mut bent = Bent { bend_max: 0.0, twist_max: 0.0, edge_set: 0.0, at: vec![[0.0; 2]; rows] };
    let (mut heading, mut at) = (0.0, [0.0, 0.0]);
    let mut line = vec![at];
    for i in 1..rows.saturating_sub(1) {
        let (before, after) = (surface[i][mid] - surface[i - 1][mid], surface[i + 1][mid] - surface[i][mid]);
        let length = 0.5 * (before.norm() + after.norm());
        let tangent = unit_or(before + after, Vector::x());
        let up = surface[i][high] - surface[i][low];
        let normal = unit_or(up.cross(&tangent), Vector::y());
        let turn = unit_or(after, tangent) - unit_or(before, tangent);
        let bend = (turn.dot(&normal) / length).abs();
        bent.bend_max = bent.bend_max.max(bend);

        let normal_at = |row: usize| {
            let up = surface[row][high] - surface[row][low];
            unit_or(up.cross(&tangent), normal)
        };
        let twist = angle_about(&normal_at(i - 1), &normal_at(i + 1), &tangent) / (2.0 * length);
        bent.twist_max = bent.twist_max.max(twist.abs());
        bent.at[i] = [bend, twist.abs()];

        let edgewise = turn.dot(&normal.cross(&tangent)) / length;
        let [a, b, c] = [flat[i - 1][mid], flat[i][mid], flat[i + 1][mid]];
        let (ux, uy, vx, vy) = (b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]);
        let flat_edgewise = (ux * vy - uy * vx).atan2(ux * vx + uy * vy) / length;
        // Edgewise bend is + downwards (normal × tangent points down), the flat shape's + upwards, bow to the left.
        heading += (-edgewise - flat_edgewise) * length;
        at = [at[0] + length * heading.cos(), at[1] + length * heading.sin()];
        line.push(at);
    }
    bent.edge_set = sagitta(&line);
    bent
}
