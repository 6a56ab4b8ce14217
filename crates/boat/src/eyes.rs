//! Where people stand to look at her, and what they see.
//!
//! The picture is what the eye sees on a sheet of glass through the middle of her length, square to the line of sight
//! (perspective), so that a mm there is a mm on the boat. Right-handed: `across` grows to the eye's right, `up` upward.
//! The eyes stand to starboard, the side that is planned; her bow is to their right.

use crate::geom::{Point, Vector, unit_or};
use crate::spec::LiningSpec;

/// One place to look from.
#[derive(Debug, Clone, PartialEq)]
pub struct Eye {
    /// In plain words: "from the beam".
    pub name: &'static str,
    /// Turn of her about her own length, away from the eye, radians.
    heel: f64,
    /// What the eye looks at, mm.
    target: Point,
    /// The eye, mm, in the frame of the boat before she heels.
    at: Point,
    right: Vector,
    up: Vector,
    towards: Vector,
}

/// Seen no nearer than this share of the distance: what stands beside the eye or behind it has no picture.
const NEAREST: f64 = 0.05;

impl Eye {
    /// An eye that looks from `at` at `target`, the boat heeled away from it by `heel` radians.
    #[must_use]
    pub fn new(name: &'static str, at: Point, target: Point, heel: f64) -> Self {
        let towards = unit_or(at - target, Vector::y());
        let right = unit_or(Vector::z().cross(&towards), Vector::x());
        Eye { name, heel, target, at, right, up: towards.cross(&right), towards }
    }

    /// `p` of the boat where it stands when she heels, from the target.
    fn heeled(&self, p: &Vector) -> Vector {
        let (sin, cos) = self.heel.sin_cos();
        Vector::new(p.x, p.y * cos - p.z * sin, p.z * cos + p.y * sin)
    }

    /// How far from the eye along its line of sight, mm; never less than a little.
    #[must_use]
    pub fn depth(&self, p: &Point) -> f64 {
        let distance = (self.at - self.target).norm();
        (distance - self.heeled(&(p - self.target)).dot(&self.towards)).max(NEAREST * distance)
    }

    /// What the eye sees of `p`: across and up, mm at the boat.
    #[must_use]
    pub fn sees(&self, p: &Point) -> [f64; 2] {
        let q = self.heeled(&(p - self.target));
        let scale = (self.at - self.target).norm() / self.depth(p);
        [q.dot(&self.right) * scale, q.dot(&self.up) * scale]
    }

    /// How that changes as `p` moves by `along`, to the first order.
    #[must_use]
    pub fn sees_move(&self, p: &Point, along: &Vector) -> [f64; 2] {
        let (q, d) = (self.heeled(&(p - self.target)), self.heeled(along));
        let depth = self.depth(p);
        let scale = (self.at - self.target).norm() / depth;
        let nearer = d.dot(&self.towards) / depth;
        [self.right, self.up].map(|axis| scale * (d.dot(&axis) + q.dot(&axis) * nearer))
    }

    /// Where the eye is in the boat's own frame, which heels with her, mm.
    #[must_use]
    pub fn place(&self) -> Point {
        self.target + self.turned_back(&(self.at - self.target))
    }

    /// What it looks at, mm.
    #[must_use]
    pub fn target(&self) -> Point {
        self.target
    }

    /// Whether `p` is well before the eye, so that [`sees`](Eye::sees) is its true picture.
    #[must_use]
    pub fn is_before(&self, p: &Point) -> bool {
        self.depth(p) > NEAREST * (self.at - self.target).norm()
    }

    /// A way as it lies in the boat's own frame.
    fn turned_back(&self, way: &Vector) -> Vector {
        let (sin, cos) = self.heel.sin_cos();
        Vector::new(way.x, way.y * cos + way.z * sin, way.z * cos - way.y * sin)
    }

    /// Unit vector from the boat's `p` to the eye, in the boat's own frame.
    #[must_use]
    pub fn from(&self, p: &Point) -> Vector {
        let seen = (self.at - self.target) - self.heeled(&(p - self.target));
        unit_or(self.turned_back(&seen), self.towards)
    }
}

/// The eyes: on the beam, off the bow, off the quarter, and on the beam of the boat heeled away. `fore`, `aft`: where
/// her sheer begins and ends, mm aft of the first station; `level`: half her depth, mm above base.
#[must_use]
pub fn eyes(spec: &LiningSpec, fore: f64, aft: f64, level: f64) -> [Eye; 4] {
    let length = aft - fore;
    let target = Point::new(0.5 * (fore + aft), 0.0, level);
    let distance = spec.eye_distance.unwrap_or(DISTANCE * length);
    let (sin, cos) = spec.eye_quarter.sin_cos();
    let stand = |across: f64, along: f64| {
        let height = spec.eye_height - level;
        // Off the bow as far from her middle as on the beam.
        let flat = (distance * distance - height * height).max(0.25 * distance * distance).sqrt();
        target + Vector::new(along * flat, across * flat, height)
    };
    [
        Eye::new("from the beam", stand(1.0, 0.0), target, 0.0),
        Eye::new("from off the bow", stand(cos, -sin), target, 0.0),
        Eye::new("from off the quarter", stand(cos, sin), target, 0.0),
        Eye::new("heeled, from the beam", stand(1.0, 0.0), target, spec.eye_heel),
    ]
}

/// How far off people stand, in lengths of the boat, where it is not given: far enough to see all of her. Common
/// practice, no source.
const DISTANCE: f64 = 1.5;

#[cfg(test)]
mod tests {
    use super::*;

    /// On the beam, level with her: the pinhole's closed form, x D / (D − y).
    #[test]
    fn from_the_beam_what_is_nearer_is_larger() {
        let eye = Eye::new("", Point::new(2000.0, 6000.0, 500.0), Point::new(2000.0, 0.0, 500.0), 0.0);
        let [across, up] = eye.sees(&Point::new(2900.0, 600.0, 700.0));
        // The bow is to the right as the eye looks at her starboard side.
        assert!((across + 900.0 * 6000.0 / 5400.0).abs() < 1e-9 && (up - 200.0 * 6000.0 / 5400.0).abs() < 1e-9);
    }

    /// Heeled away by 90° she shows her bottom: what stood above the target lies behind it, what was nearer stands above.
    #[test]
    fn a_heeled_boat_shows_her_bottom() {
        let target = Point::new(0.0, 0.0, 300.0);
        let heel = std::f64::consts::FRAC_PI_2;
        let eye = Eye::new("", Point::new(0.0, 5000.0, 300.0), target, heel);
        assert!((eye.sees(&Point::new(0.0, 400.0, 300.0))[1] - 400.0).abs() < 1e-9);
        assert!((eye.depth(&Point::new(0.0, 0.0, 500.0)) - 5200.0).abs() < 1e-9);
        // Her keel, below the target, has come towards the eye.
        assert!((eye.from(&Point::new(0.0, 0.0, 0.0)) - Vector::new(0.0, 0.0, -1.0)).norm() < 1e-9);
    }

    #[test]
    fn a_move_is_seen_as_the_difference_it_makes() {
        let spec = LiningSpec::default();
        let (p, d) = (Point::new(700.0, 500.0, 200.0), Vector::new(0.3, -0.5, 0.8));
        for eye in eyes(&spec, -300.0, 3600.0, 400.0) {
            let (a, b) = (eye.sees(&(p - 1e-3 * d)), eye.sees(&(p + 1e-3 * d)));
            let said = eye.sees_move(&p, &d);
            for c in 0..2 {
                assert!(((b[c] - a[c]) / 2e-3 - said[c]).abs() < 1e-6, "{}", eye.name);
            }
        }
    }
}
