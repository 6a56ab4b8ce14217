//! Planks cut from their flat shape and bent back land on their marks.
//!
//! The flat plank is taken as it is cut: its two edges, and between them a grid laid off straight from edge to edge. It is a
//! sheet that resists stretch as wood does (∫|E|² of St. Venant and Kirchhoff, as in flattening, but now of the map from the
//! flat into space) and, by its thickness, bending across its grain (the garboard, whose rulings fan out: along them); along its
//! length it bends freely, as hands and clamps bend it. Only what a plank is hung by is held: its lower edge lies on the lower
//! edge that the strake has in space, and there it lies flat on the land below (for the garboard: in the rabbet), so its face
//! starts square to that normal; and its ends lie on their posts or transoms. The upper edge is free. Where least strain puts it
//! must be where the marks are, to 0.3 mm; between them the land line may run 0.6 mm off: near an end the plank lies straight
//! along its transom or post, which runs askew to the grain, and cannot be straight across the grain as well.
//!
//! Near a garboard's hood its lower edge and its hood end are one curve, rulings fan out along it and the land's normal says
//! nothing; there only the edge is held.
//!
//! Nothing of the strake's upper edge goes in but its ends: the search starts with every line of the sheet laid off
//! in the plane of the land, as far along and up from the lower edge as in the flat.

use crate::measure::off_line;
use crate::plans::{BOATS, planned};
use boat::geom::banded::Banded;
use boat::geom::{Point, Vector};
use boat::planks::Strake;
use nalgebra::{SMatrix, SVector};

const ACROSS: usize = 4;
const COLUMNS: usize = ACROSS + 1;
const ROUNDS: usize = 60;

/// A cell's point of integration: weight and gradients of its corners' shares.
struct Gauss {
    corners: [usize; 4],
    weight: f64,
    gradient: [[f64; 2]; 4],
}

fn gauss(flat: &[[f64; 2]]) -> Vec<Gauss> {
    let at = 0.5 / 3.0_f64.sqrt();
    let mut all = Vec::new();
    for row in 0..flat.len() / COLUMNS - 1 {
        for column in 0..ACROSS {
            let base = row * COLUMNS + column;
            let corners = [base, base + COLUMNS, base + COLUMNS + 1, base + 1];
            for (u, v) in [(0.5 - at, 0.5 - at), (0.5 + at, 0.5 - at), (0.5 + at, 0.5 + at), (0.5 - at, 0.5 + at)] {
                let du = [-(1.0 - v), 1.0 - v, v, -v];
                let dv = [-(1.0 - u), -u, u, 1.0 - u];
                let sum = |w: &[f64; 4], axis: usize| (0..4).map(|c| w[c] * flat[corners[c]][axis]).sum::<f64>();
                let (a, b) = ([sum(&du, 0), sum(&du, 1)], [sum(&dv, 0), sum(&dv, 1)]);
                let det = a[0] * b[1] - a[1] * b[0];
                let gradient = std::array::from_fn(|c| {
                    [(b[1] * du[c] - a[1] * dv[c]) / det, (a[0] * dv[c] - b[0] * du[c]) / det]
                });
                all.push(Gauss { corners, weight: 0.25 * det.abs(), gradient });
            }
        }
    }
    all
}

/// What takes a residual, with its unknowns and derivatives.
type Take<'a> = dyn FnMut(f64, &[(usize, f64)]) + 'a;

/// Sum of squares of the sheet's troubles, and the step that lessens it most.
struct Sheet<'a> {
    gauss: &'a [Gauss],
    held: &'a [Vector],
    normals: &'a [Option<Vector>],
    ends: &'a [(usize, Vector)],
    across: &'a [Vec<(usize, f64)>],
    thickness: f64,
    rows: usize,
}

/// Curvature across the grain at each inner point of the sheet, as nodes and weights, times the root of the point's area:
/// the least weights of the nine nodes about it that are right for every quadratic.
fn across(flat: &[[f64; 2]], grain: bool) -> Vec<Vec<(usize, f64)>> {
    let rows = flat.len() / COLUMNS;
    let mut all = Vec::new();
    for row in 0..rows {
        let middle = row.clamp(1, rows - 2);
        let [before, after] = [middle - 1, middle + 1].map(|r| flat[r * COLUMNS + ACROSS / 2]);
        let d = [after[0] - before[0], after[1] - before[1]];
        let (twice, wide) = (d[0].hypot(d[1]), distance(flat[row * COLUMNS], flat[row * COLUMNS + ACROSS]));
        let scale = wide / ACROSS as f64;
        let area = 0.5 * twice * scale;
        for c in 1..ACROSS {
            let q = flat[row * COLUMNS + c];
            let [low, high] = [0, ACROSS].map(|c| flat[row * COLUMNS + c]);
            let line = if grain { [-d[1], d[0]] } else { [high[0] - low[0], high[1] - low[1]] };
            let long = line[0].hypot(line[1]);
            let nodes: [usize; 9] = std::array::from_fn(|i| (middle - 1 + i / 3) * COLUMNS + c - 1 + i % 3);
            // Along the line and square to it, in column widths.
            let a = SMatrix::<f64, 6, 9>::from_fn(|k, i| {
                let p = flat[nodes[i]];
                let (dx, dy) = ((p[0] - q[0]) / scale, (p[1] - q[1]) / scale);
                let (u, v) = ((dx * line[1] - dy * line[0]) / long, (dx * line[0] + dy * line[1]) / long);
                [1.0, u, v, u * u, u * v, v * v][k]
            });
            let want = SVector::<f64, 6>::from([0.0, 0.0, 0.0, 0.0, 0.0, 2.0]);
            let weights = a.transpose() * (a * a.transpose()).try_inverse().unwrap() * want;
            let root = area.sqrt() / (scale * scale);
            all.push((0..9).map(|i| (nodes[i], root * weights[i])).collect());
        }
    }
    all
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

impl Sheet<'_> {
    /// Every residual with its Jacobian, handed to `take`: residual, and pairs of unknown and derivative.
    fn residuals(&self, x: &[Vector], take: &mut Take<'_>) {
        for (node, place) in self.ends {
            for axis in 0..3 {
                take(HOLD * (x[*node][axis] - place[axis]), &[(3 * node + axis, HOLD)]);
            }
        }
        for g in self.gauss {
            let f: [Vector; 2] =
                [0, 1].map(|d| (0..4).fold(Vector::zeros(), |s, c| s + x[g.corners[c]] * g.gradient[c][d]));
            let w = g.weight.sqrt();
            for (i, j, scale) in [(0, 0, 0.5), (1, 1, 0.5), (0, 1, std::f64::consts::FRAC_1_SQRT_2)] {
                let e = scale * (f[i].dot(&f[j]) - f64::from(u8::from(i == j)));
                let mut row = [(0, 0.0); 12];
                for c in 0..4 {
                    let d = (f[j] * g.gradient[c][i] + f[i] * g.gradient[c][j]) * (scale * w);
                    for axis in 0..3 {
                        row[3 * c + axis] = (3 * g.corners[c] + axis, d[axis]);
                    }
                }
                take(w * e, &row);
            }
        }
        for line in self.across {
            let kappa = line.iter().fold(Vector::zeros(), |s, &(node, w)| s + x[node] * w);
            let weight = self.thickness / 12.0_f64.sqrt();
            for axis in 0..3 {
                let parts: Vec<(usize, f64)> = line.iter().map(|&(n, w)| (3 * n + axis, weight * w)).collect();
                take(weight * kappa[axis], &parts);
            }
        }
        for row in 0..self.rows {
            let at = |c: usize| row * COLUMNS + c;
            // Held: the lower edge where it lies, and the first column in the plane of the land.
            let off = x[at(0)] - self.held[row];
            for (axis, off) in off.iter().enumerate() {
                take(HOLD * off, &[(3 * at(0) + axis, HOLD)]);
            }
            let Some(n) = self.normals[row] else { continue };
            let parts: [(usize, f64); 6] = std::array::from_fn(|i| {
                let (c, sign) = if i < 3 { (1, 1.0) } else { (0, -1.0) };
                (3 * at(c) + i % 3, sign * HOLD * n[i % 3])
            });
            take(HOLD * (x[at(1)] - x[at(0)]).dot(&n), &parts);
        }
    }

    fn energy(&self, x: &[Vector]) -> f64 {
        let mut sum = 0.0;
        self.residuals(x, &mut |r, _| sum += r * r);
        sum
    }

    fn step(&self, x: &[Vector], damping: f64) -> Option<Vec<f64>> {
        let n = 3 * x.len();
        let mut h = Banded::zeros(n, 3 * (2 * COLUMNS + 3));
        let mut b = vec![0.0; n];
        self.residuals(x, &mut |r, row| {
            for &(i, v) in row {
                b[i] -= v * r;
                for &(j, u) in row.iter().filter(|(j, _)| *j <= i) {
                    h.add(i, j, v * u);
                }
            }
        });
        for i in 0..n {
            h.add(i, i, damping);
        }
        h.solve(&mut b)?;
        Some(b)
    }
}

/// Weight of what is held: a thousandth of a mm off costs as much as a strain of a thousandth over 100 mm².
const HOLD: f64 = 10.0;

/// The sheet bent back: its upper edge in space.
fn bent_back(strake: &Strake, lower: &[[f64; 2]], upper: &[[f64; 2]]) -> Vec<Point> {
    let rows = lower.len();
    let share = |c: usize| c as f64 / ACROSS as f64;
    let flat: Vec<[f64; 2]> = (0..rows)
        .flat_map(|i| (0..COLUMNS).map(move |c| [0, 1].map(|a| lower[i][a] + (upper[i][a] - lower[i][a]) * share(c))))
        .collect();
    let half = 0.5 * strake.thickness;
    let held: Vec<Vector> = strake.rulings.iter().map(|r| r.lower.coords + r.lower_normal * half).collect();
    let normals: Vec<Vector> = strake.rulings.iter().map(|r| r.lower_normal).collect();
    let crosses = |i: usize| {
        let (before, after) = (i.saturating_sub(1), (i + 1).min(rows - 1));
        let along = (strake.rulings[after].lower - strake.rulings[before].lower).normalize();
        strake.rulings[i].up().cross(&along).norm() > 0.6
    };
    let lands: Vec<Option<Vector>> = (0..rows).map(|i| crosses(i).then_some(normals[i])).collect();
    let mut ends: Vec<(usize, Vector)> = Vec::new();
    for row in [0, rows - 1] {
        let r = &strake.rulings[row];
        ends.extend((1..COLUMNS).map(|c| {
            let normal = (r.lower_normal * (1.0 - share(c)) + r.normal * share(c)).normalize();
            (row * COLUMNS + c, (r.lower + (r.upper - r.lower) * share(c)).coords + normal * half)
        }));
    }
    // Square off the lower edge, in the plane of the land; the offset along the edge as in the flat.
    let mut x = Vec::new();
    for i in 0..rows {
        let (before, after) = (i.saturating_sub(1), (i + 1).min(rows - 1));
        let along = (held[after] - held[before]).normalize();
        let up = along.cross(&normals[i]).normalize();
        let (dx, dy) = (lower[after][0] - lower[before][0], lower[after][1] - lower[before][1]);
        let length = dx.hypot(dy);
        let (cx, cy) = (upper[i][0] - lower[i][0], upper[i][1] - lower[i][1]);
        let (a, b) = ((cx * dx + cy * dy) / length, (cy * dx - cx * dy) / length);
        x.extend((0..COLUMNS).map(|c| held[i] + (along * a + up * b) * share(c)));
    }
    let sheet = Sheet {
        across: &across(&flat, strake.strake > 1),
        gauss: &gauss(&flat),
        held: &held,
        normals: &lands,
        ends: &ends,
        thickness: strake.thickness,
        rows,
    };
    let (mut energy, mut damping) = (sheet.energy(&x), 1e-6);
    for _ in 0..ROUNDS {
        let Some(step) = sheet.step(&x, damping) else {
            damping *= 100.0;
            continue;
        };
        let moved: Vec<Vector> = x
            .iter()
            .enumerate()
            .map(|(i, p)| p + Vector::new(step[3 * i], step[3 * i + 1], step[3 * i + 2]))
            .collect();
        let next = sheet.energy(&moved);
        if next > energy {
            damping *= 10.0;
            continue;
        }
        let most = step.iter().fold(0.0, |m: f64, s| m.max(s.abs()));
        (x, energy, damping) = (moved, next, (damping * 0.1).max(1e-9));
        if most < 1e-4 {
            break;
        }
    }
    (0..rows).map(|i| x[i * COLUMNS + ACROSS].into()).collect()
}

#[test]
fn planks_cut_flat_and_bent_back_land_on_their_marks() {
    for name in BOATS {
        let plan = planned(name);
        for (strake, flat) in plan.strakes.iter().zip(&plan.flats) {
            let half = 0.5 * strake.thickness;
            let marks: Vec<Point> = strake.rulings.iter().map(|r| r.upper + r.normal * half).collect();
            let landed = bent_back(strake, &flat.lower, &flat.upper);
            let (first, last) = (strake.at[1].ruling, strake.at[strake.at.len() - 2].ruling);
            for (i, p) in landed.iter().enumerate() {
                let fan = strake.strake == 1
                    && (i < first && flat.fore_hood.is_some() || i > last && flat.aft_hood.is_some());
                // Nothing says there how the face leaves the rabbet: only its marks are judged.
                let off = off_line(p, &marks);
                assert!(fan || off <= 0.6, "{name} strake {}, ruling {i}: {off} off the land line", strake.strake);
            }
            for at in &strake.at {
                let off = (landed[at.ruling] - marks[at.ruling]).norm();
                assert!(off <= 0.3, "{name} strake {}, section {}: {off} off its mark", strake.strake, at.section);
            }
        }
    }
}

/// The check can fail: a plank cut 1 mm too wide, or with a twentieth less round, does not land.
#[test]
fn a_plank_cut_wrong_does_not_land() {
    let plan = planned("corncrake");
    let (strake, flat) = (&plan.strakes[4], &plan.flats[4]);
    let marks: Vec<Point> = strake.rulings.iter().map(|r| r.upper + r.normal * (0.5 * strake.thickness)).collect();
    let miss = |lower: &[[f64; 2]], upper: &[[f64; 2]]| {
        bent_back(strake, lower, upper).iter().map(|p| off_line(p, &marks)).fold(0.0, f64::max)
    };
    let wide: Vec<[f64; 2]> = flat.upper.iter().map(|p| [p[0], p[1] + 1.0]).collect();
    assert!(miss(&flat.lower, &wide) > 0.6);
    let flatter = |edge: &[[f64; 2]]| edge.iter().map(|p| [p[0], 0.95 * p[1]]).collect::<Vec<_>>();
    assert!(miss(&flatter(&flat.lower), &flatter(&flat.upper)) > 0.6);
}
