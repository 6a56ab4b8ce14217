//! Faces that lie close together, taken together where all of them are under water.
//!
//! What a flat triangle adds is a polynomial in the axes of the water and its height, so what a patch of them adds is known from sums
//! made once in the boat's frame, ∫n dA, ∫x n dA and ∫x x n dA: only the patches that the water cuts are looked at face by face.

use super::solid::Under;
use crate::geom::{Point, Vector};
use nalgebra::Matrix3;
use std::ops::AddAssign;

/// Most faces in a patch: fewer make more patches to look at, more make more faces in those that are cut. Tried.
const MOST: usize = 16;

/// A patch.
#[derive(Debug, Clone)]
pub struct Patch {
    /// Its faces by number.
    pub faces: Vec<u32>,
    /// What they add when all of them are under.
    pub whole: Whole,
    /// The box about them: its middle, and half its size.
    middle: Point,
    half: Vector,
}

/// How a patch lies to the water.
pub enum Lies {
    Under,
    Over,
    Cut,
}

impl Patch {
    /// With the water `water` over the boat's origin, along `up`.
    pub fn lies(&self, up: &Vector, water: f64) -> Lies {
        let height = self.middle.coords.dot(up) - water;
        let reach = self.half.dot(&up.abs());
        if height <= -reach {
            Lies::Under
        } else if height >= reach {
            Lies::Over
        } else {
            Lies::Cut
        }
    }
}

/// All faces in patches: halved by their middles across the longer way, until they are few. The first `wood` of them are wetted.
pub fn patches(triangles: &[[Point; 3]], wood: usize) -> Vec<Patch> {
    let mut all: Vec<u32> = (0..triangles.len() as u32).collect();
    let mut found = Vec::with_capacity(2 * triangles.len() / MOST + 1);
    let middles: Vec<Vector> = triangles.iter().map(|t| t[0].coords + t[1].coords + t[2].coords).collect();
    split(&mut all, &middles, &mut |faces| found.push(patch(faces, triangles, wood)));
    found
}

fn split(faces: &mut [u32], middles: &[Vector], found: &mut dyn FnMut(&[u32])) {
    if faces.len() <= MOST {
        if !faces.is_empty() {
            found(faces);
        }
        return;
    }
    let all = || faces.iter().map(|f| middles[*f as usize]);
    let (low, high) =
        all().fold((Vector::repeat(f64::MAX), Vector::repeat(f64::MIN)), |(l, h), m| (l.inf(&m), h.sup(&m)));
    let axis = (high - low).imax();
    let half = faces.len() / 2;
    faces.select_nth_unstable_by(half, |a, b| {
        middles[*a as usize][axis].total_cmp(&middles[*b as usize][axis]).then(a.cmp(b))
    });
    let (before, after) = faces.split_at_mut(half);
    split(before, middles, found);
    split(after, middles, found);
}

fn patch(faces: &[u32], triangles: &[[Point; 3]], wood: usize) -> Patch {
    let mut whole = Whole::default();
    let (mut low, mut high) = (Vector::repeat(f64::MAX), Vector::repeat(f64::MIN));
    for &f in faces {
        let t = &triangles[f as usize];
        whole.add(t, (f as usize) < wood);
        for p in t {
            (low, high) = (low.inf(&p.coords), high.sup(&p.coords));
        }
    }
    // In order, so that sums do not hang on how they were halved.
    let mut faces = faces.to_vec();
    faces.sort_unstable();
    Patch { faces, whole, middle: Point::from(0.5 * (low + high)), half: 0.5 * (high - low) }
}

/// Sums over whole faces in the boat's frame.
#[derive(Debug, Clone, Copy, Default)]
pub struct Whole {
    /// ∫n dA, mm².
    normal: Vector,
    /// ∫x n dA, row by row of x, mm³.
    first: Matrix3<f64>,
    /// ∫x x n dA for each component of n, mm⁴.
    second: [Matrix3<f64>; 3],
    /// Wetted, mm².
    wetted: f64,
}

impl AddAssign<&Whole> for Whole {
    fn add_assign(&mut self, other: &Whole) {
        self.normal += other.normal;
        self.first += other.first;
        for (mine, theirs) in self.second.iter_mut().zip(&other.second) {
            *mine += theirs;
        }
        self.wetted += other.wetted;
    }
}

impl Whole {
    fn add(&mut self, [a, b, c]: &[Point; 3], wood: bool) {
        let area = 0.5 * (b - a).cross(&(c - a));
        if wood {
            self.wetted += area.norm();
        }
        let sum = a.coords + b.coords + c.coords;
        let own = [a, b, c].iter().fold(Matrix3::zeros(), |m, p| m + p.coords * p.coords.transpose());
        let products = (sum * sum.transpose() + own) / 12.0;
        self.normal += area;
        self.first += (sum / 3.0) * area.transpose();
        for (second, n) in self.second.iter_mut().zip(area.iter()) {
            *second += products * *n;
        }
    }

    /// As it is seen along the water's axes, the water `water` over the boat's origin.
    pub fn seen(&self, axes: &[Vector; 3], water: f64) -> Under {
        let [along, across, up] = axes;
        let flat = self.normal.dot(up);
        let first = self.first * up;
        let second = self.second[0] * up[0] + self.second[1] * up[1] + self.second[2] * up[2];
        let of = |a: &Vector, b: &Vector| a.dot(&(second * b));
        let [x, y, z] = [along, across, up].map(|axis| axis.dot(&first));
        Under {
            volume: z - water * flat,
            moment: Vector::new(
                of(along, up) - water * x,
                of(across, up) - water * y,
                0.5 * (of(up, up) - 2.0 * water * z + water * water * flat),
            ),
            area: -flat,
            first: [-x, -y],
            second: [-of(along, along), -of(along, across), -of(across, across)],
            wetted: self.wetted,
        }
    }
}
