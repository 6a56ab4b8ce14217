//! The plane in which a cloud is its own mirror image.
//!
//! Begun from the plumb plane along the longest level way, turned a little to either side, and bettered by Gauss and Newton: points turned over
//! are held against the flat pieces that the cloud has near there, so that points need not have partners.

use super::P;
use super::clean::Cubes;
use crate::read_in::problem::{ReadInError, ReadInProblem as Problem};
use nalgebra::{Matrix3, SymmetricEigen, Vector3};
use std::collections::HashMap;

pub struct Plane {
    pub normal: P,
    /// Along the normal, mm.
    pub offset: f64,
    /// Share of points whose mirror image falls on the cloud.
    pub share: f64,
    /// How far off they then are, mm.
    pub within: f64,
}

/// Points that are turned over.
const SAMPLES: usize = 3000;
/// Starts to either side, degrees.
const TURNS: [f64; 7] = [0.0, -3.0, 3.0, -7.0, 7.0, -12.0, 12.0];
const ROUNDS: usize = 40;
/// Nearness, as a share of her length, in which partners are looked for.
const NEAR: f64 = 0.02;
/// Points of one cube that are looked at.
const CROWD: usize = 120;
/// This share must have a mirror image.
const LEAST_SHARE: f64 = 0.55;
/// Off the flat pieces by less than so many times the usual, a point counts; Tukey's constant for weights.
const TUKEY: f64 = 4.685;
/// And a mirror image falls on the cloud within this share of her length.
const ON: f64 = 0.003;

/// The plane.
pub fn plane(points: &[P], up: P) -> Result<Plane, ReadInError> {
    let some: Vec<P> = points.iter().step_by(points.len().div_ceil(SAMPLES)).copied().collect();
    let middle = Vector3::from_fn(|d, _| {
        let mut all: Vec<f64> = points.iter().map(|p| p[d]).collect();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied().unwrap_or(0.0)
    });
    let level = |p: &P| {
        let q = p - middle;
        q - up * q.dot(&up)
    };
    let spread = points.iter().fold(Matrix3::zeros(), |m, p| m + level(p) * level(p).transpose());
    let eigen = SymmetricEigen::new(spread);
    let long = eigen.eigenvalues.imax();
    let along = eigen.eigenvectors.column(long).into_owned();
    let along = (along - up * along.dot(&up)).normalize();
    let length = 4.0 * (eigen.eigenvalues[long] / points.len() as f64).sqrt();
    let cubes = Cubes::of(points, NEAR * length, CROWD);
    let mut flats = Flats { points, cubes: &cubes, found: HashMap::new() };
    let out = up.cross(&along);
    let tried = TURNS.map(|degrees| {
        let (sin, cos) = f64::to_radians(degrees).sin_cos();
        let normal = (out * cos + along * sin).normalize();
        bettered(&some, &mut flats, normal, normal.dot(&middle), length)
    });
    let best = tried.into_iter().max_by(|a, b| a.share.total_cmp(&b.share));
    match best {
        Some(best) if best.share >= LEAST_SHARE => Ok(best),
        other => {
            let share = 100.0 * other.map_or(0.0, |b| b.share);
            Err(Problem::NoMirror { share, least: 100.0 * LEAST_SHARE }.nowhere())
        }
    }
}

/// The flat piece of the cloud about each point: a point of it and its normal.
struct Flats<'a> {
    points: &'a [P],
    cubes: &'a Cubes<'a>,
    found: HashMap<usize, Option<(P, P)>>,
}

impl Flats<'_> {
    fn at(&mut self, i: usize) -> Option<(P, P)> {
        if let Some(found) = self.found.get(&i) {
            return *found;
        }
        let own = self.points[i];
        let mut near: Vec<(f64, usize)> = self.cubes.near(&own).map(|j| ((self.points[j] - own).norm(), j)).collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        near.truncate(30);
        let flat = (near.len() >= 6).then(|| {
            let mean = near.iter().map(|n| self.points[n.1]).sum::<P>() / near.len() as f64;
            let spread =
                near.iter().map(|n| self.points[n.1] - mean).fold(Matrix3::zeros(), |m, d| m + d * d.transpose());
            let eigen = SymmetricEigen::new(spread);
            (mean, eigen.eigenvectors.column(eigen.eigenvalues.imin()).into_owned())
        });
        self.found.insert(i, flat);
        flat
    }
}

fn turned_over(p: &P, normal: &P, offset: f64) -> P {
    p - normal * (2.0 * (normal.dot(p) - offset))
}

fn bettered(some: &[P], flats: &mut Flats<'_>, mut normal: P, mut offset: f64, length: f64) -> Plane {
    let mut share = 0.0;
    let mut usual = 0.0;
    for _ in 0..ROUNDS {
        // Two directions square to the normal.
        let a = normal.cross(&if normal.x.abs() < 0.8 { P::x() } else { P::y() }).normalize();
        let b = normal.cross(&a);
        let mut rows: Vec<(Vector3<f64>, f64)> = Vec::new();
        let mut looked = 0;
        for p in some {
            looked += 1;
            let over = turned_over(p, &normal, offset);
            let Some((at, flat)) = flats.cubes.nearest(&over).and_then(|n| flats.at(n.0)) else { continue };
            let off = flat.dot(&(over - at));
            let far = normal.dot(p) - offset;
            let by = |t: &P| -2.0 * (t.dot(p) * flat.dot(&normal) + far * flat.dot(t));
            rows.push((Vector3::new(by(&a), by(&b), 2.0 * flat.dot(&normal)), off));
        }
        if rows.len() < 50 {
            return Plane { normal, offset, share: 0.0, within: 0.0 };
        }
        let mut sizes: Vec<f64> = rows.iter().map(|r| r.1.abs()).collect();
        sizes.sort_by(f64::total_cmp);
        // The median of |off| is 0.6745 of the spread where it is evenly strewn about nought.
        usual = sizes[sizes.len() / 2] / 0.6745;
        share = sizes.iter().filter(|s| **s < ON * length).count() as f64 / f64::from(looked.max(1));
        let limit = TUKEY * usual.max(1e-9);
        let (mut system, mut right) = (Matrix3::zeros(), Vector3::zeros());
        for (row, off) in &rows {
            let weight = (1.0 - (off / limit).powi(2)).max(0.0).powi(2);
            system += row * row.transpose() * weight;
            right -= row * (off * weight);
        }
        let Some(step) = system.try_inverse().map(|i| i * right) else { break };
        let before = normal;
        normal = (normal + a * step.x + b * step.y).normalize();
        offset = (offset + step.z) * normal.dot(&before) / normal.dot(&before).abs().max(0.5);
        if step.x.hypot(step.y) * length < 1e-4 && step.z.abs() < 1e-4 {
            break;
        }
    }
    Plane { normal, offset, share, within: 2.0 * usual }
}
