//! Where faces end, and edges along them in a plane: what breasthooks, knees and inwales are cut to.

use super::outline::gap;
use super::surface::On;
use super::{Faces, InteriorError, InteriorProblem, trouble};
use crate::geom::{Point, Vector, unit_or};
use crate::spec::{Against, Transom};

/// Steps along an arm.
pub const STEPS: usize = 12;
/// Rounds in which a plane and what lies on it are found together.
pub const ROUNDS: usize = 4;

impl Faces<'_> {
    /// Where a face at the sheer comes to the side of a post's wood, or to its inner face where that stands further in.
    pub(super) fn nose(&self, key: &str, against: Against, aft: bool) -> Result<On, InteriorError> {
        let post = (self.ask.backbone.posts.iter()).find(|p| (p.end == "sternpost") == aft);
        let end = if aft { &self.ask.spec.aft } else { &self.ask.spec.fore };
        let Some(post) = post else {
            let wanted = if aft { "sternpost" } else { "stem" };
            return Err(trouble(key, InteriorProblem::NoEnd { wanted, has: end.word(aft) }));
        };
        let [fore, after] = self.sheer.ends();
        let (from, way) = if aft { (after, -1.0) } else { (fore, 1.0) };
        let long = 0.5 * (after - fore);
        let on = |d: f64| {
            let x = from + way * d;
            self.on(against, x, self.sheer.at(x)?.z)
        };
        let past = |d: f64| on(d).is_some_and(|on| on.at.y >= post.half_siding);
        let none = || trouble(key, InteriorProblem::NoShape);
        let beyond = (1..=40).map(|i| long * f64::from(i * i) / 1600.0).find(|d| past(*d)).ok_or_else(none)?;
        let (mut low, mut high) = (0.0, beyond);
        for _ in 0..40 {
            let mid = 0.5 * (low + high);
            if past(mid) { high = mid } else { low = mid }
        }
        let mut found = on(high).ok_or_else(none)?;
        let inner = post.inner_face.windows(2).find(|w| (w[0][1] <= found.at.z) != (w[1][1] <= found.at.z));
        if let Some(w) = inner {
            let x = w[0][0] + (w[1][0] - w[0][0]) * (found.at.z - w[0][1]) / (w[1][1] - w[0][1]);
            if (x - found.at.x) * way > 0.0 {
                found = on((x - from) * way).ok_or_else(none)?;
            }
        }
        Ok(found)
    }

    /// Where a face at the sheer meets a transom's inner face.
    pub(super) fn corner(&self, key: &str, against: Against, t: &Transom) -> Result<On, InteriorError> {
        let mut x = t.head[0];
        let mut found = None;
        for _ in 0..3 * ROUNDS {
            let [fore, aft] = self.sheer.ends();
            let z = self.sheer_at(key, "its corner", x.clamp(fore, aft))?.z;
            let on = self.on(against, x.clamp(fore, aft), z);
            let on = on.ok_or_else(|| trouble(key, InteriorProblem::NoShape))?;
            let met = inner_face(t, on.at.y, z);
            found = Some(on);
            if (met - x).abs() < 0.1 * super::SAME {
                break;
            }
            x = met;
        }
        found.ok_or_else(|| trouble(key, InteriorProblem::NoShape))
    }
}

/// Where a transom's inner face stands at half-breadth `y` and height `z`, mm aft of the first station.
pub fn inner_face(t: &Transom, y: f64, z: f64) -> f64 {
    t.x_at(y, z) - t.thickness / t.normal(y)[0]
}

/// An edge along a face in a plane that slopes along the boat.
#[derive(Default)]
pub struct Marched {
    /// Along the plane from the start, and outboard of the start.
    pub edge: Vec<[f64; 2]>,
    /// Where it ends, mm aft of the first station.
    pub last_x: f64,
    /// The face there.
    pub normal: Vector,
}

/// Follows a face from `from` in the plane of that slope, `way` aft or forward, until the edge is `length` long.
#[allow(clippy::too_many_arguments, reason = "each is one thing of the march and stands by itself")]
pub fn march(
    faces: &Faces<'_>,
    key: &str,
    against: Against,
    from: &Point,
    slope: f64,
    way: f64,
    length: f64,
    (arm, room): (&'static str, f64),
) -> Result<Marched, InteriorError> {
    let per_x = slope.hypot(1.0);
    let too_long = |room: f64| trouble(key, InteriorProblem::Arm { arm, length, room, of: "her side" });
    if length > room {
        return Err(too_long(room));
    }
    let at = |x: f64| faces.on(against, x, from.z + slope * (x - from.x));
    let mut edge = vec![[0.0, 0.0]];
    let (mut x, mut along) = (from.x, 0.0);
    let step = length / STEPS as f64;
    // As far along the edge as a step: its way there is that of the last one.
    let mut run = step / per_x;
    let mut on;
    loop {
        let next = x + way * run;
        on = at(next).ok_or_else(|| too_long(along))?;
        let p = [(next - from.x).abs() * per_x, on.at.y - from.y];
        let made = gap(p, edge[edge.len() - 1]);
        // A step that came out too long is taken again, shorter; the last one ends at the length.
        let wanted = step.min(length - along);
        if made > wanted * (1.0 + 1e-9) {
            run *= (wanted / made).min(1.0 - 1e-12);
            if run < 1e-9 {
                break;
            }
            continue;
        }
        edge.push(p);
        along += made;
        x = next;
        if length - along <= 1e-9 * length || edge.len() > 40 * STEPS {
            break;
        }
        run *= (step.min(length - along) / made.max(f64::MIN_POSITIVE)).clamp(0.2, 3.0);
    }
    Ok(Marched { edge, last_x: x, normal: on.normal })
}

/// Up out of a plane that rises by `slope` for each mm aft.
pub fn plane(slope: f64) -> Vector {
    unit_or(Vector::new(-slope, 0.0, 1.0), Vector::z())
}

/// A direction in such a plane, along the boat and outboard.
pub fn in_plane(d: &Vector, slope: f64, way: f64) -> [f64; 2] {
    [way * d.dot(&unit_or(Vector::new(1.0, 0.0, slope), Vector::x())), d.y]
}

/// The angle between two traces, each taken the way that it has in common with the direction beside it.
pub fn between(a: &Vector, towards: &Vector, b: &Vector, to: &Vector) -> f64 {
    let [a, b] = [(a, towards), (b, to)].map(|(d, to)| unit_or(if d.dot(to) < 0.0 { -d } else { *d }, *to));
    a.dot(&b).clamp(-1.0, 1.0).acos()
}
