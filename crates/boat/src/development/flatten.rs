//! The flat shape of least strain.
//!
//! The surface is a grid of four-sided cells; each is bilinear between its corners. With F the gradient of the map
//! from the surface to the flat, in a frame of the cell, the strain is E = (F'F − 1)/2 and the flat shape is the one of
//! least ∫ |E|² (Gauss-Newton, Levenberg's damping, a banded solve each time). It starts from the triangles unrolled
//! one after the other, which is already right where the surface is developable.
//!
//! Source: membrane energy of St. Venant and Kirchhoff with Poisson's ratio 0; derived here.
//! Checked: cylinder, cone, and the helicoid's τ²b²/(12√5) in `tests/it/closed_forms.rs`.

use crate::geom::banded::Banded;
use crate::geom::{Point, Vector};

/// Why a surface cannot be laid flat.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FlattenError {
    /// Two of its points coincide.
    #[error(
        "strake {strake}: two of its points coincide near ruling {ruling}, so it has no flat shape; are two lands crossing there?"
    )]
    Folded {
        /// Strake, 1 first.
        strake: usize,
        /// Ruling.
        ruling: usize,
    },
    /// The search did not settle.
    #[error("strake {strake}: no flat shape of least strain was found; are two lands crossing?")]
    NotSettled {
        /// Strake, 1 first.
        strake: usize,
    },
}

impl FlattenError {
    /// The same, of this strake.
    #[must_use]
    pub fn of(self, strake: usize) -> Self {
        match self {
            FlattenError::Folded { ruling, .. } => FlattenError::Folded { strake, ruling },
            FlattenError::NotSettled { .. } => FlattenError::NotSettled { strake },
        }
    }
}

/// A surface laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    /// As the grid that was laid flat, mm.
    pub points: Vec<Vec<[f64; 2]>>,
    /// Largest principal strain, as a share of one.
    pub strain_max: f64,
    /// Principal strain that 99 hundredths of the area stay below: what the plank must bear but for a corner, where
    /// rulings fan out from a point.
    pub strain_most: f64,
    /// Root of the mean square of the strain |E| over the area.
    pub strain_rms: f64,
    /// Area of the surface, mm².
    pub area: f64,
}

/// A strain below which a change no longer matters: 1e-12 of a metre-long plank is far under a hair.
const SETTLED: f64 = 1e-12;
/// The search ends where the next step would move no point further, mm. Each step is some hundred times less than the one
/// before, so the next is foretold from the last two.
const SETTLED_MOVE: f64 = 1e-4;
const ROUNDS: usize = 30;

/// Lays the grid `[row along][column across]` flat; every row has as many columns, two or more of each.
///
/// # Errors
/// [`FlattenError`], with strake 0.
pub fn flatten(surface: &[Vec<Point>]) -> Result<Flat, FlattenError> {
    let columns = surface[0].len();
    let cells = cells_of(surface)?;
    let mut flat = triangles_unrolled(surface)?;
    let mut energy = total(&cells, &flat);
    let area: f64 = cells.iter().flat_map(|c| c.gauss.iter().map(|g| g.weight)).sum();
    let mut damping = 1e-9;
    let mut before = 0.0;
    let mut rounds = 0;
    while energy > SETTLED * SETTLED * area {
        rounds += 1;
        if rounds > ROUNDS {
            return Err(FlattenError::NotSettled { strake: 0 });
        }
        let Some(step) = step(&cells, &flat, columns, damping) else {
            damping *= 100.0;
            continue;
        };
        let moved: Vec<[f64; 2]> =
            flat.iter().enumerate().map(|(i, p)| [p[0] + step[2 * i], p[1] + step[2 * i + 1]]).collect();
        let next = total(&cells, &moved);
        if next.is_nan() || next > energy {
            // Rounding, not the surface, decides now, or the step was too bold.
            if damping > 1.0 || next - energy < 1e-12 * energy {
                break;
            }
            damping *= 100.0;
            continue;
        }
        let longest = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let settled = energy - next < 1e-10 * energy || longest * (longest / before).min(1.0) < SETTLED_MOVE;
        before = longest;
        flat = moved;
        energy = next;
        damping = (damping * 0.1).max(1e-12);
        if settled {
            break;
        }
    }
    if !energy.is_finite() {
        return Err(FlattenError::NotSettled { strake: 0 });
    }
    let mut strains: Vec<(f64, f64)> =
        cells.iter().flat_map(|c| c.gauss.iter().map(|g| (principal(&strain(c, g, &flat)), g.weight))).collect();
    strains.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut passed = 0.0;
    let most = strains.iter().find(|(_, weight)| {
        passed += weight;
        passed > 0.01 * area
    });
    Ok(Flat {
        points: flat.chunks(columns).map(<[[f64; 2]]>::to_vec).collect(),
        strain_max: strains.first().map_or(0.0, |s| s.0),
        strain_most: most.map_or(0.0, |s| s.0),
        strain_rms: (energy / area).sqrt(),
        area,
    })
}

/// Root of the mean square of the strain |E| that a grid has when it is laid on `flat`, another of the same shape.
///
/// # Errors
/// [`FlattenError`], with strake 0.
pub fn strain_rms(surface: &[Vec<Point>], flat: &[Vec<[f64; 2]>]) -> Result<f64, FlattenError> {
    let cells = cells_of(surface)?;
    let area: f64 = cells.iter().flat_map(|c| c.gauss.iter().map(|g| g.weight)).sum();
    let flat: Vec<[f64; 2]> = flat.iter().flatten().copied().collect();
    Ok((total(&cells, &flat) / area).sqrt())
}

/// A four-sided cell with its points of integration.
struct Cell {
    corners: [usize; 4],
    gauss: [Gauss; 4],
}

/// A point of integration: its area and the gradients of the four corners' shares along the cell's two directions.
struct Gauss {
    weight: f64,
    gradient: [[f64; 2]; 4],
}

fn cells_of(surface: &[Vec<Point>]) -> Result<Vec<Cell>, FlattenError> {
    let columns = surface[0].len();
    let at = 0.5 / 3.0_f64.sqrt();
    let mut cells = Vec::with_capacity((surface.len() - 1) * (columns - 1));
    for row in 0..surface.len() - 1 {
        for column in 0..columns - 1 {
            let p = [
                surface[row][column],
                surface[row + 1][column],
                surface[row + 1][column + 1],
                surface[row][column + 1],
            ];
            let base = row * columns + column;
            let corners = [base, base + columns, base + columns + 1, base + 1];
            let [low, high] = [0.5 - at, 0.5 + at];
            let points = [(low, low), (high, low), (high, high), (low, high)].map(|(u, v)| gauss_point(&p, u, v));
            let [Some(a), Some(b), Some(c), Some(d)] = points else {
                return Err(FlattenError::Folded { strake: 0, ruling: row });
            };
            cells.push(Cell { corners, gauss: [a, b, c, d] });
        }
    }
    Ok(cells)
}

fn gauss_point(p: &[Point; 4], u: f64, v: f64) -> Option<Gauss> {
    let du = [-(1.0 - v), 1.0 - v, v, -v];
    let dv = [-(1.0 - u), -u, u, 1.0 - u];
    let sum = |w: &[f64; 4]| p.iter().zip(w).fold(Vector::zeros(), |s, (p, w)| s + p.coords * *w);
    let (a, b) = (sum(&du), sum(&dv));
    let e1 = a.try_normalize(1e-12)?;
    let (b1, e2_long) = (b.dot(&e1), b - e1 * b.dot(&e1));
    let b2 = e2_long.norm();
    let a1 = a.norm();
    let jacobian = a1 * b2;
    if jacobian.is_nan() || jacobian < 1e-12 {
        return None;
    }
    // Rows of the inverse of [[a1, b1], [0, b2]] turn (du, dv) into gradients along e1, e2.
    let gradient = std::array::from_fn(|i| [du[i] / a1, (dv[i] - b1 / a1 * du[i]) / b2]);
    Some(Gauss { weight: 0.25 * jacobian, gradient })
}

/// F at a point of integration: columns along e1, e2.
fn deformation(cell: &Cell, g: &Gauss, flat: &[[f64; 2]]) -> [[f64; 2]; 2] {
    let mut f = [[0.0; 2]; 2];
    for (corner, gradient) in cell.corners.iter().zip(&g.gradient) {
        for axis in 0..2 {
            for direction in 0..2 {
                f[axis][direction] += flat[*corner][axis] * gradient[direction];
            }
        }
    }
    f
}

/// E11, E22, √2 E12.
fn strain(cell: &Cell, g: &Gauss, flat: &[[f64; 2]]) -> [f64; 3] {
    strain_of(&deformation(cell, g, flat))
}

fn strain_of(f: &[[f64; 2]; 2]) -> [f64; 3] {
    let dot = |i: usize, j: usize| f[0][i] * f[0][j] + f[1][i] * f[1][j];
    [0.5 * (dot(0, 0) - 1.0), 0.5 * (dot(1, 1) - 1.0), std::f64::consts::FRAC_1_SQRT_2 * dot(0, 1)]
}

/// Largest principal strain, without its sign.
fn principal(e: &[f64; 3]) -> f64 {
    let shear = e[2] * std::f64::consts::FRAC_1_SQRT_2;
    0.5 * (e[0] + e[1]).abs() + (0.25 * (e[0] - e[1]).powi(2) + shear * shear).sqrt()
}

/// ∫ |E|².
fn total(cells: &[Cell], flat: &[[f64; 2]]) -> f64 {
    cells
        .iter()
        .flat_map(|c| c.gauss.iter().map(|g| g.weight * strain(c, g, flat).iter().map(|e| e * e).sum::<f64>()))
        .sum()
}

/// One damped Gauss-Newton step; `None` where the equations have no answer.
fn step(cells: &[Cell], flat: &[[f64; 2]], columns: usize, damping: f64) -> Option<Vec<f64>> {
    let n = 2 * flat.len();
    let mut h = Banded::zeros(n, 2 * (columns + 2));
    let mut rhs = vec![0.0; n];
    for cell in cells {
        // The cell's own 8 × 8, lower half, and right side; its corners' numbers do not rise in order.
        let mut own = [[0.0; 8]; 8];
        let mut right = [0.0; 8];
        for g in &cell.gauss {
            let f = deformation(cell, g, flat);
            let e = strain_of(&f);
            // ∂E/∂(corner, axis), three strains by eight coordinates.
            let mut j = [[0.0; 8]; 3];
            for c in 0..4 {
                let [g1, g2] = g.gradient[c];
                for axis in 0..2 {
                    j[0][2 * c + axis] = f[axis][0] * g1;
                    j[1][2 * c + axis] = f[axis][1] * g2;
                    j[2][2 * c + axis] = std::f64::consts::FRAC_1_SQRT_2 * (f[axis][0] * g2 + f[axis][1] * g1);
                }
            }
            for a in 0..8 {
                let w = [g.weight * j[0][a], g.weight * j[1][a], g.weight * j[2][a]];
                right[a] -= w[0] * e[0] + w[1] * e[1] + w[2] * e[2];
                for b in 0..=a {
                    own[a][b] += w[0] * j[0][b] + w[1] * j[1][b] + w[2] * j[2][b];
                }
            }
        }
        let place = |local: usize| 2 * cell.corners[local / 2] + local % 2;
        for a in 0..8 {
            rhs[place(a)] += right[a];
            for (b, v) in own[a].iter().enumerate().take(a + 1) {
                let (i, j) = (place(a), place(b));
                h.add(i.max(j), i.min(j), *v);
            }
        }
    }
    for i in 0..n {
        h.add(i, i, damping);
    }
    h.solve(&mut rhs)?;
    Some(rhs)
}

/// The triangles of the grid laid out one after the other from the first row, every column's cell from its lower
/// neighbour.
fn triangles_unrolled(surface: &[Vec<Point>]) -> Result<Vec<[f64; 2]>, FlattenError> {
    let columns = surface[0].len();
    let mut flat: Vec<[f64; 2]> = Vec::with_capacity(surface.len() * columns);
    let mut up = 0.0;
    for c in 0..columns {
        if c > 0 {
            up += (surface[0][c] - surface[0][c - 1]).norm();
        }
        flat.push([0.0, up]);
    }
    for row in 1..surface.len() {
        // The middle column leads, so that neither edge collects the strain.
        let lead = columns / 2;
        let mut placed = vec![[0.0; 2]; columns];
        let before = |c: usize| (surface[row - 1][c], flat[(row - 1) * columns + c]);
        let now = |c: usize| surface[row][c];
        let folded = FlattenError::Folded { strake: 0, ruling: row };
        placed[lead] = {
            let (a, b) = if lead + 1 < columns { (lead, lead + 1) } else { (lead - 1, lead) };
            apex(before(a), before(b), now(lead)).ok_or(folded.clone())?
        };
        for c in lead + 1..columns {
            placed[c] = apex((now(c - 1), placed[c - 1]), before(c), now(c)).ok_or(folded.clone())?;
        }
        for c in (0..lead).rev() {
            placed[c] = apex(before(c), (now(c + 1), placed[c + 1]), now(c)).ok_or(folded.clone())?;
        }
        flat.extend(placed);
    }
    Ok(flat)
}

/// The flat place of `p` to the right of the flat edge a → b (looking from a to b), at its distances from both.
fn apex(a: (Point, [f64; 2]), b: (Point, [f64; 2]), p: Point) -> Option<[f64; 2]> {
    let (ra, rb) = ((p - a.0).norm(), (p - b.0).norm());
    let (dx, dy) = (b.1[0] - a.1[0], b.1[1] - a.1[1]);
    let d = dx.hypot(dy);
    if d < 1e-9 {
        return None;
    }
    let along = (ra * ra - rb * rb + d * d) / (2.0 * d);
    let off = (ra * ra - along * along).max(0.0).sqrt();
    let (ux, uy) = (dx / d, dy / d);
    Some([a.1[0] + along * ux + off * uy, a.1[1] + along * uy - off * ux])
}
