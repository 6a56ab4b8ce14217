//! What the lands should be like, as a sum of squares, and its Gauss-Newton step.
//!
//! ```text
//! fair Σ P'KP  +  seen Σ S'KS  +  back Σ max(0, turned back)²  +  taper Σ max(0, widened)²
//!   +  share Σ (W − W*)²  +  step Σ (Δ²(W − W*))²  +  parallel Σ (Wₙ − mean)²  +  limit Σ max(0, past its limit)²
//! ```
//!
//! P land lines in space, S as each eye sees them, W widths on the moulds, W* those wanted, all in mm; K the roughness of
//! the third derivative through the marks, on the chords of lands of the widths wanted. At the ends of the boat widths
//! weigh `ends` of what they do elsewhere. What is turned back and widened, `looks` says.

use super::wishes::{Limits, Wishes};
use crate::eyes::Eye;
use crate::geom::banded::Banded;
use crate::geom::fair::{FairError, chord_knots, scaled_energy_matrix};
use crate::geom::{Point, Vector, angle_about, unit_or};
use crate::lines::Skin;
use nalgebra::DMatrix;

/// How much each part of the sum weighs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    /// Bending of the lands in space.
    pub fair: f64,
    /// The same as each eye sees them.
    pub seen: f64,
    /// Stretches of a land that turn back as an eye sees them, in profile or in half-breadth.
    pub back: f64,
    /// Strakes that widen towards an end of the boat, more than is wanted.
    pub taper: f64,
    /// Widths that differ from those wanted.
    pub share: f64,
    /// Uneven steps of width from strake to strake.
    pub step: f64,
    /// How much less both count at the ends of the boat.
    pub ends: f64,
    /// A sheer strake that should be parallel and is not.
    pub parallel: f64,
    /// Limits passed. They give way only to each other and to pinned marks.
    pub limit: f64,
}

impl Default for Weights {
    /// Chosen by the study in `docs/lining.md`.
    fn default() -> Self {
        Weights {
            fair: 0.02,
            seen: 0.02,
            back: 10.0,
            taper: 2.0,
            share: 0.3,
            step: 0.8,
            ends: 1.0,
            parallel: 1.0,
            limit: 100.0,
        }
    }
}

/// The sum, for marks that may move and marks that may not.
pub struct Loss<'a> {
    pub skin: &'a Skin,
    pub eyes: &'a [Eye],
    pub wishes: &'a Wishes,
    pub limits: &'a Limits,
    pub weights: Weights,
    /// Roughness matrix of each land.
    pub lines: Vec<DMatrix<f64>>,
    /// To which hand each land bends in each view, 1/mm: `[land][view]`.
    pub hands: Vec<Vec<f64>>,
    /// Which unknown each mark is: `[land][section]`; `None` where it may not move.
    pub index: Vec<Vec<Option<usize>>>,
    pub count: usize,
}

/// The marks at some girths, with what the sum needs of them.
pub struct Marks {
    /// Along the mould from the rabbet, mm: `[land][section]`.
    pub girths: Vec<Vec<f64>>,
    at: Vec<Vec<Point>>,
    /// Unit, up the mould.
    pub(super) along: Vec<Vec<Vector>>,
    /// How that turns, 1/mm.
    bend: Vec<Vec<Vector>>,
}

impl Marks {
    /// The marks at `girths` of the sections of `skin`.
    pub fn on(skin: &Skin, girths: Vec<Vec<f64>>) -> Self {
        let (mut at, mut along, mut bend) = (Vec::new(), Vec::new(), Vec::new());
        for row in &girths {
            let found: Vec<[[f64; 3]; 3]> = row.iter().enumerate().map(|(j, &s)| skin.curves[j].all_at(s)).collect();
            at.push(found.iter().map(|f| Point::from(f[0])).collect());
            along.push(found.iter().map(|f| Vector::from(f[1])).collect());
            bend.push(found.iter().map(|f| Vector::from(f[2])).collect());
        }
        Marks { at, along, bend, girths }
    }
}

/// How the turns at the lands move with the marks, near where they were measured.
pub struct Held {
    /// By section.
    pub(super) turns: Vec<Vec<TurnAt>>,
    /// The marks then, mm: `[land][section]`.
    pub(super) girths: Vec<Vec<f64>>,
}

impl Held {
    /// The turns, measured at `marks`.
    pub(super) fn at(marks: &Marks, limits: &Limits) -> Self {
        let turns = (0..marks.girths[0].len()).map(|j| turns(marks, j, limits)).collect();
        Held { turns, girths: marks.girths.clone() }
    }

    /// How far a turn at section `j` passes its limit with the marks at `girths`, as the wood that it takes off the edge, mm;
    /// below 0 where it keeps it.
    pub(super) fn past(&self, turn: &TurnAt, j: usize, girths: &[Vec<f64>], limits: &Limits) -> f64 {
        let gone = |(land, by): (usize, f64)| by * (girths[land][j] - self.girths[land][j]);
        limits.lap * (turn.angle + turn.moves.map(gone).iter().sum::<f64>() - limits.turn[turn.land][j])
    }
}

/// No strake is less than this share of its wanted width.
pub(super) const LEAST_SHARE: f64 = 0.25;

/// How one residual moves with the unknowns.
pub(super) type Row = [(Option<usize>, f64); 2];

/// Which second derivatives of the residuals are heeded.
#[derive(Clone, Copy, PartialEq)]
enum Bending {
    /// All.
    Whole,
    /// Those that make the sum hollow upward.
    Hollow,
}

/// ½ δ'Hδ + g'δ, half the change of the sum.
pub(super) struct System {
    h: Banded,
    g: Vec<f64>,
    bending: Bending,
}

impl System {
    /// Of so many unknowns, none joined with one more than `band` further on.
    pub(super) fn new(count: usize, band: usize) -> Self {
        System { h: Banded::zeros(count, band), g: vec![0.0; count], bending: Bending::Whole }
    }

    /// The δ of the least; `None` where there is none.
    pub(super) fn step(self) -> Option<Vec<f64>> {
        let mut step: Vec<f64> = self.g.iter().map(|g| -g).collect();
        self.h.solve(&mut step)?;
        Some(step)
    }

    fn add(&mut self, i: usize, j: usize, v: f64) {
        if i >= j {
            self.h.add(i, j, v);
        }
    }
}

/// The roughness matrix of each land through marks at `girths`, on their chords; the error with the land whose marks touch.
pub fn roughness(skin: &Skin, girths: &[Vec<f64>]) -> Result<Vec<DMatrix<f64>>, (usize, FairError)> {
    let of = |(k, row): (usize, &Vec<f64>)| {
        let marks: Vec<[f64; 3]> = row.iter().enumerate().map(|(j, &s)| skin.curves[j].at(s)).collect();
        scaled_energy_matrix(&chord_knots(&marks)).map_err(|why| (k, why))
    };
    girths.iter().enumerate().map(of).collect()
}

impl Loss<'_> {
    fn strakes(&self) -> usize {
        self.wishes.widths.len()
    }

    /// The marks at `girths`.
    pub fn marks(&self, girths: Vec<Vec<f64>>) -> Marks {
        Marks::on(self.skin, girths)
    }

    /// The sum at `marks`.
    pub fn value(&self, marks: &Marks, held: &Held) -> f64 {
        self.assemble(marks, held, None)
    }

    /// Newton's step of the unknowns, mm: with the bend of the moulds wholly where the sum is hollow upward so, else as far
    /// as it makes it so. `None` where there is none.
    pub fn step(&self, marks: &Marks, held: &Held) -> Option<Vec<f64>> {
        // Steps from strake to strake join a land with the third one up, and a fair land its first mark with its last.
        let band = (3 * marks.girths[0].len()).min(self.count - 1);
        [Bending::Whole, Bending::Hollow].into_iter().find_map(|bending| {
            let mut system = System { bending, ..System::new(self.count, band) };
            self.assemble(marks, held, Some(&mut system));
            system.step()
        })
    }

    fn assemble(&self, marks: &Marks, held: &Held, mut system: Option<&mut System>) -> f64 {
        let (n, sections, w) = (self.strakes(), marks.girths[0].len(), &self.weights);
        let mut sum = 0.0;
        for k in 1..n {
            sum += self.land(k, marks, system.as_deref_mut());
        }
        let width = |k: usize, j: usize| marks.girths[k + 1][j] - marks.girths[k][j];
        let moves = |k: usize, j: usize| [(self.index[k + 1][j], 1.0), (self.index[k][j], -1.0)];
        for k in 0..n {
            let widths: Vec<f64> = (0..sections).map(|j| width(k, j)).collect();
            if let Some(flip) = self.wishes.parallel.as_ref().filter(|_| k + 1 == n) {
                let mean =
                    DMatrix::from_fn(sections, sections, |a, b| f64::from(u8::from(a == b)) - 1.0 / sections as f64);
                let values: Vec<f64> = widths.iter().zip(flip).map(|(w, f)| w - f).collect();
                sum += quadratic(w.parallel, &mean, &values, |j| moves(k, j), system.as_deref_mut());
            }
        }
        for k in 0..n {
            sum += self.taper(k, marks, system.as_deref_mut());
        }
        for j in 0..sections {
            let ends = if j == 0 || j + 1 == sections { w.ends } else { 1.0 };
            let off = |k: usize| width(k, j) - self.wishes.widths[k][j];
            for k in 0..n {
                sum += square(ends * w.share, off(k), &moves(k, j), system.as_deref_mut());
            }
            // The garboard may differ from its neighbour: steps are evened from the second strake on.
            for k in 2..n.saturating_sub(1) {
                let parts =
                    [(k + 2, 1.0), (k + 1, -3.0), (k, 3.0), (k - 1, -1.0)].map(|(l, v)| (self.index[l][j], v));
                sum += square(ends * w.step, off(k + 1) - 2.0 * off(k) + off(k - 1), &parts, system.as_deref_mut());
            }
            for k in 0..n {
                let ([least, most], wide) = (self.limits.width[k][j], width(k, j));
                // Lands do not cross, whatever is asked.
                let least = least.max(LEAST_SHARE * self.wishes.widths[k][j]);
                let past = (wide - most).max(0.0) - (least - wide).max(0.0);
                if past != 0.0 {
                    sum += square(w.limit, past, &moves(k, j), system.as_deref_mut());
                }
            }
            for turn in &held.turns[j] {
                let past = held.past(turn, j, &marks.girths, self.limits);
                if past > 0.0 {
                    sum += square(w.limit, past, &turn.parts(j, &self.index, self.limits), system.as_deref_mut());
                }
            }
        }
        sum
    }
}

/// One coordinate of a land, in space or as an eye sees it.
pub(super) struct Coordinate {
    weight: f64,
    /// By section: where it is, how it moves with the mark along the mould, and how that move changes.
    pub(super) values: Vec<f64>,
    pub(super) moves: Vec<f64>,
    bends: Vec<f64>,
}

impl Loss<'_> {
    /// How fair land `k` is in space and to the eyes: weight · v'Kv of each of its coordinates v.
    fn land(&self, k: usize, marks: &Marks, mut system: Option<&mut System>) -> f64 {
        let (form, index, sections) = (&self.lines[k], &self.index[k], marks.girths[k].len());
        let coordinates = self.coordinates(marks, k);
        let mut sum = self.back(k, &coordinates, system.as_deref_mut());
        let mut pulls = Vec::with_capacity(coordinates.len());
        for c in &coordinates {
            let pull: Vec<f64> = (0..sections).map(|i| dot(column(form, i), &c.values)).collect();
            sum += c.weight * dot(&pull, &c.values);
            pulls.push(pull);
        }
        let Some(system) = system else { return sum };
        for i in 0..sections {
            let Some(u) = index[i] else { continue };
            for (c, pull) in coordinates.iter().zip(&pulls) {
                system.g[u] += c.weight * c.moves[i] * pull[i];
                let bent = c.weight * pull[i] * c.bends[i];
                system.add(u, u, if system.bending == Bending::Whole { bent } else { bent.max(0.0) });
            }
            for j in 0..=i {
                if let Some(v) = index[j] {
                    let both: f64 = coordinates.iter().map(|c| c.weight * c.moves[i] * c.moves[j]).sum();
                    system.add(u, v, both * form[(i, j)]);
                }
            }
        }
        sum
    }

    /// x, y, z, then across and up of each eye.
    fn coordinates(&self, marks: &Marks, k: usize) -> Vec<Coordinate> {
        let (at, along, bend) = (&marks.at[k], &marks.along[k], &marks.bend[k]);
        let mut all: Vec<Coordinate> = (0..3)
            .map(|c| Coordinate {
                weight: self.weights.fair,
                values: at.iter().map(|p| p[c]).collect(),
                moves: along.iter().map(|d| d[c]).collect(),
                bends: bend.iter().map(|d| d[c]).collect(),
            })
            .collect();
        for eye in self.eyes {
            let seen: Vec<[f64; 2]> = at.iter().map(|p| eye.sees(p)).collect();
            let moves: Vec<[f64; 2]> = at.iter().zip(along).map(|(p, d)| eye.sees_move(p, d)).collect();
            // What the glass itself adds to the bend is little: the eye stands far off.
            let bends: Vec<[f64; 2]> = at.iter().zip(bend).map(|(p, d)| eye.sees_move(p, d)).collect();
            let of = |all: &[[f64; 2]], c: usize| all.iter().map(|v| v[c]).collect();
            all.extend((0..2).map(|c| Coordinate {
                weight: self.weights.seen,
                values: of(&seen, c),
                moves: of(&moves, c),
                bends: of(&bends, c),
            }));
        }
        all
    }
}

/// Column `i` of a matrix.
fn column(form: &DMatrix<f64>, i: usize) -> &[f64] {
    let rows = form.nrows();
    &form.as_slice()[i * rows..(i + 1) * rows]
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// weight · r'Kr; and its derivatives, r moving with the unknowns as `row` says.
pub(super) fn quadratic(
    weight: f64,
    form: &DMatrix<f64>,
    r: &[f64],
    row: impl Fn(usize) -> Row,
    system: Option<&mut System>,
) -> f64 {
    let pull: Vec<f64> = (0..r.len()).map(|i| (0..r.len()).map(|j| form[(i, j)] * r[j]).sum::<f64>()).collect();
    if let Some(system) = system {
        let rows: Vec<Row> = (0..r.len()).map(row).collect();
        for (i, a) in rows.iter().enumerate() {
            for &(u, du) in a {
                let Some(u) = u else { continue };
                system.g[u] += weight * du * pull[i];
                for (j, b) in rows.iter().enumerate() {
                    for &(v, dv) in b {
                        if let Some(v) = v {
                            system.add(u, v, weight * du * form[(i, j)] * dv);
                        }
                    }
                }
            }
        }
    }
    weight * r.iter().zip(&pull).map(|(a, b)| a * b).sum::<f64>()
}

/// weight · r², and its derivatives.
pub(super) fn square(weight: f64, r: f64, parts: &[(Option<usize>, f64)], system: Option<&mut System>) -> f64 {
    if let Some(system) = system {
        for &(u, du) in parts {
            let Some(u) = u else { continue };
            system.g[u] += weight * r * du;
            for &(v, dv) in parts {
                if let Some(v) = v {
                    system.add(u, v, weight * du * dv);
                }
            }
        }
    }
    weight * r * r
}

/// How far the strake above a land turns on the one below, near enough: the real one is laid in `planks`.
pub struct TurnAt {
    pub land: usize,
    /// Radians, + inboard.
    pub angle: f64,
    /// How it moves with the marks of three lands, radians/mm.
    moves: [(usize, f64); 3],
}

impl TurnAt {
    /// How what it takes off the edge moves with the unknowns, `index` telling which each mark is.
    pub(super) fn parts(&self, j: usize, index: &[Vec<Option<usize>>], limits: &Limits) -> [(Option<usize>, f64); 3] {
        self.moves.map(|(land, by)| (index[land][j], limits.lap * by))
    }
}

/// Least sine between a ruling and its land that is believed.
const SQUAREST: f64 = 0.2;

/// The turns at section `j`, lands 1 to n − 1. Each strake is laid on the last as in `planks`, but the rulings and the
/// lands' tangents come from the marks alone, and outside the gains.
pub fn turns(marks: &Marks, j: usize, limits: &Limits) -> Vec<TurnAt> {
    let n = marks.at.len() - 1;
    let mut all = Vec::with_capacity(n);
    let mut ruling = marks.at[1][j] - marks.at[0][j];
    for k in 1..n {
        let (at, tangent) = (marks.at[k][j], tangent(&marks.at[k], j));
        let up = unit_or(ruling, Vector::z());
        let normal = unit_or(up.cross(&tangent), Vector::y());
        let square = up.dot(&tangent.cross(&normal)).max(SQUAREST);
        let lower = at + limits.thickness * normal - limits.lap / square * up;
        let next = marks.at[k + 1][j] - lower;
        let next_normal = unit_or(next.cross(&tangent), Vector::y());
        // A ruling turns about the land by so much for each mm that its upper end goes along the mould.
        let swing = |ruling: &Vector, along: &Vector| {
            let across = ruling - tangent * ruling.dot(&tangent);
            let length = across.norm().max(1.0);
            along.dot(&tangent.cross(&across)) / (length * length)
        };
        all.push(TurnAt {
            land: k,
            angle: angle_about(&normal, &next_normal, &tangent),
            moves: [
                (k + 1, swing(&next, &marks.along[k + 1][j])),
                (k, -swing(&next, &marks.along[k][j]) - swing(&ruling, &marks.along[k][j])),
                (k - 1, swing(&ruling, &marks.along[k - 1][j])),
            ],
        });
        ruling = next;
    }
    all
}

/// Unit tangent at point `j` of a line through `points`: the parabola's through the nearest three.
fn tangent(points: &[Point], j: usize) -> Vector {
    let i = j.clamp(1, points.len() - 2);
    let (before, after) = (points[i] - points[i - 1], points[i + 1] - points[i]);
    let (a, b) = (before.norm(), after.norm());
    let (u, v) = (before / a, after / b);
    let at = match j {
        0 => u + (u - v) * (a / (a + b)),
        j if j == points.len() - 1 => v + (v - u) * (b / (a + b)),
        _ => (u * b + v * a) / (a + b),
    };
    unit_or(at, Vector::x())
}
