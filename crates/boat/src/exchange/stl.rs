//! A solid as binary STL, mm: triangles and their normals, nothing else.
//!
//! The form has no unit and no names: the first 80 bytes say both in words. x aft, y to starboard, z up, as the plan.
//! Source: the form as it is commonly read, from memory; trimesh reads it in the tests.

use super::solid::Solid;
use crate::geom::{Point, Vector, unit_or};

/// Length of the words at the head.
const HEAD: usize = 80;

/// Writes a closed solid.
#[must_use]
pub fn write(solid: &Solid) -> Vec<u8> {
    let faces = solid.faces.iter().map(|f| {
        let normal = unit_or(solid.area(f), Vector::z());
        (normal, f.map(|c| solid.corners[c]))
    });
    of(&solid.name, faces)
}

/// Writes triangles that run against the clock as seen from outside.
#[must_use]
pub fn write_faces(name: &str, faces: &[[Point; 3]]) -> Vec<u8> {
    let lit = faces.iter().map(|f| (unit_or((f[1] - f[0]).cross(&(f[2] - f[0])), Vector::z()), *f));
    of(name, lit)
}

fn of(name: &str, faces: impl ExactSizeIterator<Item = (Vector, [Point; 3])>) -> Vec<u8> {
    // A file that began with the word solid would be taken for one of text.
    let mut out = format!("strakewise: {name}; mm; x aft, y to starboard, z up").into_bytes();
    out.resize(HEAD, b' ');
    out.extend((faces.len() as u32).to_le_bytes());
    for (normal, corners) in faces {
        let places = corners.iter().map(|p| p.coords);
        for v in std::iter::once(normal).chain(places) {
            out.extend([v.x, v.y, v.z].into_iter().flat_map(|c| (c as f32 + 0.0).to_le_bytes()));
        }
        out.extend([0, 0]);
    }
    out
}
