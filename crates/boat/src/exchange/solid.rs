//! A piece of wood as a closed face of triangles.
//!
//! Corners lie on a grid so fine that no rule sees it and so coarse that the 32 bits of an STL file hold it exactly: corners
//! that are one stay one in every file, and triangles that have shrunk to a line are left out. Every edge then belongs to two
//! triangles that run along it in opposite ways, which is what a closed solid is.
//!
//! A polygon is cut into triangles ear by ear (common practice, no source). Which way errors fall: none, but for the grid; a
//! curved face falls inside its curve by the sagitta of the plan's own steps.

use crate::geom::{Point, Vector, unit_or};
use std::collections::BTreeMap;

/// Between two neighbours of the grid, mm: a power of two, so that 32 bits hold it exactly up to 16 m.
const GRID: f64 = 1.0 / 1024.0;

/// Cosine of 10°: faces that meet at less are one smooth face.
const SMOOTH: f64 = 0.984_807_753;

/// What a part is made of, for its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stuff {
    /// Planks.
    Plank,
    /// Keel, stem, sternpost, transoms.
    Backbone,
    /// Timbers.
    Timber,
    /// Moulds, which do not stay in her.
    Mould,
}

impl Stuff {
    /// All of them, in the order of the files.
    pub const ALL: [Stuff; 4] = [Stuff::Plank, Stuff::Backbone, Stuff::Timber, Stuff::Mould];

    /// What they are called together.
    #[must_use]
    pub fn group(self) -> &'static str {
        match self {
            Stuff::Plank => "planks",
            Stuff::Backbone => "backbone",
            Stuff::Timber => "timbers",
            Stuff::Mould => "moulds",
        }
    }
}

/// A part of her: closed, its corners in mm in the frame of the plan, y to starboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// `strake 3 port`.
    pub name: String,
    /// What it is.
    pub stuff: Stuff,
    /// Its corners, no two alike.
    pub corners: Vec<Point>,
    /// Triangles against the clock as seen from outside.
    pub faces: Vec<[usize; 3]>,
}

/// How the ends of a swept body are closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// They are flat, of any outline.
    Flat,
    /// Each ring is two edges beside one another, there and back: between them stand rungs.
    Rungs,
}

/// Triangles with a normal at each corner.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lit {
    /// A corner and the normal there; a corner on a sharp edge stands here once for each of its faces.
    pub corners: Vec<(Point, Vector)>,
    /// Into `corners`.
    pub faces: Vec<[u32; 3]>,
}

impl Solid {
    /// The body between rings of as many points each, its first and last ring its ends.
    #[must_use]
    pub fn swept(name: String, stuff: Stuff, rings: &[Vec<Point>], ends: Ends) -> Solid {
        let mut build = Build::default();
        for pair in rings.windows(2) {
            let (near, far) = (&pair[0], &pair[1]);
            let around = near.len().min(far.len());
            for j in 0..around {
                let next = (j + 1) % around;
                build.triangle([&near[j], &far[j], &far[next]]);
                build.triangle([&near[j], &far[next], &near[next]]);
            }
        }
        if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
            let back: Vec<Point> = last.iter().rev().copied().collect();
            for ring in [first, &back] {
                match ends {
                    Ends::Flat => build.flat(ring),
                    Ends::Rungs => build.rungs(ring),
                }
            }
        }
        let mut solid = Solid { name, stuff, corners: build.corners, faces: build.faces };
        if solid.volume() < 0.0 {
            solid.faces.iter_mut().for_each(|f| f.swap(1, 2));
        }
        solid
    }

    /// mm³, by the divergence theorem.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let from = self.corners.first().copied().unwrap_or_else(Point::origin);
        let six = |f: &[usize; 3]| {
            let [a, b, c] = f.map(|i| self.corners[i] - from);
            a.dot(&b.cross(&c))
        };
        self.faces.iter().map(six).sum::<f64>() / 6.0
    }

    /// The same on the other side of her.
    #[must_use]
    pub fn mirrored(&self, name: String) -> Solid {
        Solid {
            name,
            stuff: self.stuff,
            corners: self.corners.iter().map(|p| Point::new(p.x, -p.y, p.z)).collect(),
            faces: self.faces.iter().map(|[a, b, c]| [*a, *c, *b]).collect(),
        }
    }

    /// With normals: smooth over faces that nearly lie in one plane, sharp over edges.
    #[must_use]
    pub fn lit(&self) -> Lit {
        let area: Vec<Vector> = self.faces.iter().map(|f| self.area(f)).collect();
        let flat: Vec<Vector> = area.iter().map(|a| unit_or(*a, Vector::z())).collect();
        let mut about: Vec<Vec<usize>> = vec![Vec::new(); self.corners.len()];
        for (i, face) in self.faces.iter().enumerate() {
            face.iter().for_each(|&c| about[c].push(i));
        }
        let mut lit = Lit::default();
        let mut known: BTreeMap<(usize, [i64; 3]), u32> = BTreeMap::new();
        for (i, face) in self.faces.iter().enumerate() {
            let corners = face.map(|c| {
                let near = about[c].iter().filter(|&&j| flat[i].dot(&flat[j]) > SMOOTH);
                let normal = unit_or(near.map(|&j| area[j]).sum(), flat[i]);
                let key = [normal.x, normal.y, normal.z].map(|v| (v * 1e4).round() as i64);
                *known.entry((c, key)).or_insert_with(|| {
                    lit.corners.push((self.corners[c], normal));
                    lit.corners.len() as u32 - 1
                })
            });
            lit.faces.push(corners);
        }
        lit
    }

    /// Outward, as long as twice the triangle's area.
    pub(super) fn area(&self, face: &[usize; 3]) -> Vector {
        let [a, b, c] = face.map(|i| self.corners[i]);
        (b - a).cross(&(c - a))
    }
}

/// A solid being put together.
#[derive(Default)]
struct Build {
    corners: Vec<Point>,
    faces: Vec<[usize; 3]>,
    known: BTreeMap<[i64; 3], usize>,
}

impl Build {
    /// The corner of the grid nearest to a point.
    fn corner(&mut self, p: &Point) -> usize {
        let key = [p.x, p.y, p.z].map(|v| (v / GRID).round() as i64);
        *self.known.entry(key).or_insert_with(|| {
            let [x, y, z] = key.map(|v| v as f64 * GRID);
            self.corners.push(Point::new(x, y, z));
            self.corners.len() - 1
        })
    }

    fn triangle(&mut self, corners: [&Point; 3]) {
        let [a, b, c] = corners.map(|p| self.corner(p));
        self.face([a, b, c]);
    }

    fn face(&mut self, [a, b, c]: [usize; 3]) {
        if a != b && b != c && c != a {
            self.faces.push([a, b, c]);
        }
    }

    /// A flat end within a ring, which runs against the clock as seen from outside.
    fn flat(&mut self, ring: &[Point]) {
        let mut corners: Vec<usize> = ring.iter().map(|p| self.corner(p)).collect();
        corners.dedup();
        while corners.len() > 1 && corners.first() == corners.last() {
            corners.pop();
        }
        let points: Vec<Point> = corners.iter().map(|&c| self.corners[c]).collect();
        for [a, b, c] in ears(&in_their_plane(&points)) {
            self.face([corners[a], corners[b], corners[c]]);
        }
    }

    /// An end between the first half of a ring and its second half, which runs back beside it.
    fn rungs(&mut self, ring: &[Point]) {
        let last = ring.len().saturating_sub(1);
        for i in 0..(ring.len() / 2).saturating_sub(1) {
            let (near, far) = ([&ring[i], &ring[i + 1]], [&ring[last - i], &ring[last - i - 1]]);
            self.triangle([near[0], near[1], far[1]]);
            self.triangle([near[0], far[1], far[0]]);
        }
    }
}

/// A nearly flat ring in its own plane, against the clock.
fn in_their_plane(ring: &[Point]) -> Vec<[f64; 2]> {
    let Some(from) = ring.first() else { return Vec::new() };
    // Twice the area it encloses, square to its plane.
    let area: Vector = (0..ring.len()).map(|i| (ring[i] - from).cross(&(ring[(i + 1) % ring.len()] - from))).sum();
    let normal = unit_or(area, Vector::x());
    let least = if normal.x.abs() < 0.6 { Vector::x() } else { Vector::z() };
    let u = unit_or(least - normal * normal.dot(&least), Vector::y());
    let v = normal.cross(&u);
    ring.iter().map(|p| [(p - from).dot(&u), (p - from).dot(&v)]).collect()
}

/// A polygon that runs against the clock, cut into triangles that do; where it crosses itself they still make up its area,
/// though some lie over others.
fn ears(polygon: &[[f64; 2]]) -> Vec<[usize; 3]> {
    let mut left: Vec<usize> = (0..polygon.len()).collect();
    let mut found = Vec::new();
    while left.len() > 3 {
        let n = left.len();
        let corner = |i: usize| [left[(i + n - 1) % n], left[i], left[(i + 1) % n]];
        let is_ear = |i: &usize| {
            let ear = corner(*i);
            let [a, b, c] = ear.map(|k| polygon[k]);
            let inside = |p: &[f64; 2]| cross(a, b, *p) >= 0.0 && cross(b, c, *p) >= 0.0 && cross(c, a, *p) >= 0.0;
            cross(a, b, c) > 0.0 && !left.iter().any(|k| !ear.contains(k) && inside(&polygon[*k]))
        };
        // The roundest of them: slivers are bad to light.
        let round = |i: &usize| roundness(corner(*i).map(|k| polygon[k]));
        let ears = (0..n).filter(is_ear);
        let at = ears.max_by(|i, j| round(i).total_cmp(&round(j))).unwrap_or(0);
        found.push(corner(at));
        left.remove(at);
    }
    if let [a, b, c] = left[..] {
        found.push([a, b, c]);
    }
    found
}

/// Twice the area of a triangle, + against the clock.
fn cross(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// A triangle's area over the square of its longest side.
fn roundness([a, b, c]: [[f64; 2]; 3]) -> f64 {
    let square = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2);
    cross(a, b, c) / square(a, b).max(square(b, c)).max(square(c, a)).max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[[f64; 2]], x: f64) -> Vec<Point> {
        points.iter().map(|[y, z]| Point::new(x, *y, *z)).collect()
    }

    /// Every edge is run along once each way.
    fn closed(solid: &Solid) -> bool {
        let mut ways: BTreeMap<(usize, usize), i32> = BTreeMap::new();
        for f in &solid.faces {
            for (a, b) in [(f[0], f[1]), (f[1], f[2]), (f[2], f[0])] {
                *ways.entry((a, b)).or_default() += 1;
            }
        }
        ways.iter().all(|(&(a, b), n)| *n == 1 && ways.get(&(b, a)) == Some(&1))
    }

    /// Prisms: base times height, whichever way their rings run; the base of the second is an L of 100 × 100 less 60 × 60.
    #[test]
    fn prisms_have_the_volume_of_their_base_times_their_height() {
        let square = [[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]];
        let ell = [[0.0, 0.0], [100.0, 0.0], [100.0, 40.0], [40.0, 40.0], [40.0, 100.0], [0.0, 100.0]];
        for (base, area) in [(&square[..], 10_000.0), (&ell[..], 6_400.0)] {
            let back: Vec<[f64; 2]> = base.iter().rev().copied().collect();
            for base in [base, &back[..]] {
                let solid =
                    Solid::swept("prism".to_owned(), Stuff::Mould, &[ring(base, 0.0), ring(base, 30.0)], Ends::Flat);
                assert!((solid.volume() - area * 30.0).abs() < 1e-6, "{}", solid.volume());
                assert!(closed(&solid));
                let other = solid.mirrored("other".to_owned());
                assert!((other.volume() - solid.volume()).abs() < 1e-6 && closed(&other));
                // Six or eight flat faces, each corner once for each of its three.
                assert_eq!(solid.lit().corners.len(), 3 * solid.corners.len());
            }
        }
    }

    /// A wedge whose ring shrinks to a line at one end: half of the prism, and still closed.
    #[test]
    fn a_wedge_that_runs_out_is_closed() {
        let square = [[0.0, 0.0], [100.0, 0.0], [100.0, 50.0], [0.0, 50.0]];
        let line = [[0.0, 0.0], [100.0, 0.0], [100.0, 0.0], [0.0, 0.0]];
        let solid =
            Solid::swept("wedge".to_owned(), Stuff::Plank, &[ring(&square, 0.0), ring(&line, 30.0)], Ends::Rungs);
        assert!(closed(&solid));
        assert!((solid.volume() - 75_000.0).abs() < 1e-6);
    }

    /// Round a cylinder of 64 sides the normals of its side are smooth and those of its ends are not.
    #[test]
    fn a_round_side_is_smooth_and_its_edge_sharp() {
        let turn = |i: u32| std::f64::consts::TAU * f64::from(i) / 64.0;
        let circle: Vec<[f64; 2]> = (0..64).map(|i| [100.0 * turn(i).cos(), 100.0 * turn(i).sin()]).collect();
        let solid =
            Solid::swept("pin".to_owned(), Stuff::Timber, &[ring(&circle, 0.0), ring(&circle, 50.0)], Ends::Flat);
        let lit = solid.lit();
        assert_eq!(lit.corners.len(), 4 * 64);
        for (p, n) in &lit.corners {
            let radial = Vector::new(0.0, p.y, p.z) / 100.0;
            assert!(n.x.abs() > 0.999 || n.dot(&radial) > 0.999, "{p} {n}");
        }
    }
}
