//! A closed face of triangles, and what of it lies under water.
//!
//! What the water sees is cut at the water plane, triangle by triangle, and summed by the divergence theorem: a volume is the
//! flux of `(0, 0, Z)` through the face that holds it, Z the height over the water. On the plane itself Z is nought, so nothing
//! need be done there; a waterplane's area and moments are what the wetted face shows to it. All of it is polynomial, so there is
//! no error but rounding: a box, a wedge, a tube of flat faces come out as they are by formula.

use super::attitude::Attitude;
use super::patch::{Lies, Patch, Whole, patches};
use crate::geom::{Point, Vector};
use std::collections::BTreeMap;
use std::ops::Add;
use std::sync::OnceLock;

/// A closed face, in the boat's frame, mm.
#[derive(Debug, Clone, Default)]
pub struct Solid {
    points: Vec<Point>,
    faces: Vec<[u32; 3]>,
    /// The last so many faces are no wood: a deck that is not there, which the water does not wet.
    open: usize,
    /// The faces in patches, once they have been asked for.
    patches: OnceLock<Vec<Patch>>,
}

impl PartialEq for Solid {
    fn eq(&self, other: &Solid) -> bool {
        (&self.points, &self.faces, self.open) == (&other.points, &other.faces, other.open)
    }
}

/// What lies under water: lengths mm, in the frame of the water (`Attitude`), from the boat's origin along and across, from
/// the water up.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Under {
    /// Volume, mm³.
    pub volume: f64,
    /// Moments of the volume, along, across and up, mm⁴.
    pub moment: Vector,
    /// Area of the waterplane, mm².
    pub area: f64,
    /// Its moments along and across, mm³.
    pub first: [f64; 2],
    /// Its second moments about the origin: along squared, along by across, across squared, mm⁴.
    pub second: [f64; 3],
    /// Wetted face, mm².
    pub wetted: f64,
}

impl Solid {
    /// Of triangles, each seen from outside with its corners against the clock. The last `open` of them stand for no wood.
    #[must_use]
    pub fn of(triangles: &[[Point; 3]], open: usize) -> Solid {
        let mut solid = Solid { open, ..Solid::default() };
        let mut known = BTreeMap::new();
        for t in triangles {
            solid.faces.push(t.map(|p| {
                // A nought is a nought, whatever its sign.
                let key = [p.x, p.y, p.z].map(|v| (v + 0.0).to_bits());
                *known.entry(key).or_insert_with(|| {
                    solid.points.push(p);
                    solid.points.len() as u32 - 1
                })
            }));
        }
        solid
    }

    /// With everything of `other`.
    pub fn add(&mut self, other: &Solid) {
        let first = self.points.len() as u32;
        self.points.extend(&other.points);
        let theirs = |faces: &[[u32; 3]]| -> Vec<[u32; 3]> { faces.iter().map(|f| f.map(|i| i + first)).collect() };
        let (wood, open) = other.faces.split_at(other.wood());
        // The faces that stand for no wood stay last.
        let end = self.wood();
        self.faces.splice(end..end, theirs(wood));
        self.faces.extend(theirs(open));
        self.open += other.open;
        self.patches = OnceLock::new();
    }

    /// How many of the faces, the first ones, stand for wood.
    fn wood(&self) -> usize {
        self.faces.len().saturating_sub(self.open)
    }

    /// There is nothing of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.faces.is_empty()
    }

    /// Its triangles.
    pub fn triangles(&self) -> impl Iterator<Item = [Point; 3]> + '_ {
        self.faces.iter().map(|f| f.map(|i| self.points[i as usize]))
    }

    /// How many edges are not shared by two triangles that run along them both ways; 0 where it is closed.
    #[must_use]
    pub fn gaps(&self) -> usize {
        let mut edges: BTreeMap<[u32; 2], i64> = BTreeMap::new();
        for [a, b, c] in &self.faces {
            for [from, to] in [[a, b], [b, c], [c, a]] {
                let (key, way) = if from < to { ([*from, *to], 1) } else { ([*to, *from], -1) };
                *edges.entry(key).or_default() += way;
            }
        }
        edges.values().filter(|n| **n != 0).count()
    }

    /// Least and greatest x, y and z.
    #[must_use]
    pub fn bounds(&self) -> [[f64; 2]; 3] {
        [0, 1, 2].map(|i| {
            let all = self.points.iter().map(|p| p[i]);
            [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
        })
    }

    /// Lowest and highest in the frame of the water, the water at the boat's origin, mm.
    #[must_use]
    pub fn heights(&self, at: &Attitude) -> [f64; 2] {
        let up = at.axes()[2];
        let all = self.points.iter().map(|p| p.coords.dot(&up));
        [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
    }

    /// The whole of it: volume, mm³, and its middle.
    #[must_use]
    pub fn whole(&self) -> (f64, Point) {
        let [low, high] = self.heights(&Attitude::default());
        let top = Attitude { water: high + (high - low), ..Attitude::default() };
        let under = self.under(&top);
        (under.volume, under.centre(&top))
    }

    /// What of it lies under water when it lies so.
    #[must_use]
    pub fn under(&self, at: &Attitude) -> Under {
        let axes = at.axes();
        let wood = self.wood();
        let patches = self.patches.get_or_init(|| patches(&self.triangles().collect::<Vec<_>>(), wood));
        let (mut whole, mut sum) = (Whole::default(), Under::default());
        let seen = |p: &Point| {
            Vector::new(p.coords.dot(&axes[0]), p.coords.dot(&axes[1]), p.coords.dot(&axes[2]) - at.water)
        };
        for patch in patches {
            match patch.lies(&axes[2], at.water) {
                Lies::Over => {}
                Lies::Under => whole += &patch.whole,
                Lies::Cut => {
                    for &i in &patch.faces {
                        let face = self.faces[i as usize].map(|i| seen(&self.points[i as usize]));
                        sum.add_cut(face, (i as usize) < wood);
                    }
                }
            }
        }
        sum + whole.seen(&axes, at.water)
    }
}

impl Add for Under {
    type Output = Under;

    fn add(self, other: Under) -> Under {
        Under {
            volume: self.volume + other.volume,
            moment: self.moment + other.moment,
            area: self.area + other.area,
            first: [0, 1].map(|i| self.first[i] + other.first[i]),
            second: [0, 1, 2].map(|i| self.second[i] + other.second[i]),
            wetted: self.wetted + other.wetted,
        }
    }
}

impl Under {
    /// The middle of the volume, in the boat's frame; her origin where there is none.
    #[must_use]
    pub fn centre(&self, at: &Attitude) -> Point {
        if self.volume <= 0.0 {
            return Point::origin();
        }
        at.to_boat(&(self.moment / self.volume))
    }

    /// Adds the part of a triangle that lies under the water.
    fn add_cut(&mut self, t: [Vector; 3], wood: bool) {
        let under = t.map(|p| p.z < 0.0);
        match under {
            [true, true, true] => self.add_face(&t, wood),
            [false, false, false] => {}
            _ => {
                // Turned so that the corner that is alone on its side stands first.
                let alone = if under[1] == under[2] {
                    0
                } else if under[0] == under[2] {
                    1
                } else {
                    2
                };
                let [a, b, c] = [t[alone], t[(alone + 1) % 3], t[(alone + 2) % 3]];
                let cut = |to: &Vector| {
                    let mut p = a + (to - a) * (a.z / (a.z - to.z));
                    p.z = 0.0;
                    p
                };
                let (ab, ac) = (cut(&b), cut(&c));
                if under[alone] {
                    self.add_face(&[a, ab, ac], wood);
                } else {
                    self.add_face(&[ab, b, c], wood);
                    self.add_face(&[ab, c, ac], wood);
                }
            }
        }
    }

    /// Adds a triangle that lies under the water.
    fn add_face(&mut self, [a, b, c]: &[Vector; 3], wood: bool) {
        let twice = (b - a).cross(&(c - a));
        if wood {
            self.wetted += 0.5 * twice.norm();
        }
        // Its area as seen from above, + where it faces up.
        let flat = 0.5 * twice.z;
        let sum = a + b + c;
        // ∫pq = area / 12 (Σp Σq + Σpq).
        let product = |i: usize, j: usize| flat / 12.0 * (sum[i] * sum[j] + a[i] * a[j] + b[i] * b[j] + c[i] * c[j]);
        self.volume += flat * sum.z / 3.0;
        self.moment += Vector::new(product(0, 2), product(1, 2), 0.5 * product(2, 2));
        self.area -= flat;
        self.first[0] -= flat * sum.x / 3.0;
        self.first[1] -= flat * sum.y / 3.0;
        for (k, (i, j)) in [(0, 0), (0, 1), (1, 1)].into_iter().enumerate() {
            self.second[k] -= product(i, j);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::wood::boxed;
    use super::*;

    /// A box 3 × 2 × 1 whose top is no wood, and by it a closed cube of 2: wetted, all under, 6 + 2 (3 + 2) and 24.
    #[test]
    fn what_is_no_wood_stays_so_when_more_is_added() {
        let mut triangles: Vec<[Point; 3]> = boxed(6.0, &Point::origin(), [3.0, 2.0, 1.0]).triangles().collect();
        let top = |t: &[Point; 3]| t.iter().all(|p| p.z > 0.0);
        triangles.sort_by_key(top);
        let mut solid = Solid::of(&triangles, triangles.iter().filter(|t| top(t)).count());
        let deep = Attitude { water: 100.0, ..Attitude::default() };
        assert!((solid.under(&deep).wetted - 16.0).abs() < 1e-12);
        solid.add(&boxed(8.0, &Point::new(10.0, 0.0, 0.0), [1.0; 3]));
        let under = solid.under(&deep);
        assert!((under.wetted - 40.0).abs() < 1e-12 && (under.volume - 14.0).abs() < 1e-9, "{under:?}");
        assert_eq!(solid.gaps(), 0);
    }
}
