//! Sections of what lies under water, and the outline of the waterplane.

use super::{Attitude, Solid};
use crate::geom::Vector;

/// What is under water as it is seen in slices square to the water's way aft.
#[derive(Debug, Clone, PartialEq)]
pub struct Slices {
    /// The waterplane's ends along the water, from the boat's origin, mm.
    pub along: [f64; 2],
    /// Its breadth, mm.
    pub breadth: f64,
    /// Deepest place under the water, mm.
    pub draught: f64,
    /// Area under water of the largest slice, mm².
    pub largest: f64,
    /// Where that stands along the water, mm.
    pub largest_at: f64,
}

/// Slices of the waterplane's length; the largest is looked for among them.
const SLICES: usize = 100;

/// `None` where nothing of her meets the water.
pub fn slices(solid: &Solid, at: &Attitude) -> Option<Slices> {
    let axes = at.axes();
    let seen = |p: &crate::geom::Point| -> Vector {
        Vector::new(p.coords.dot(&axes[0]), p.coords.dot(&axes[1]), p.coords.dot(&axes[2]) - at.water)
    };
    let triangles: Vec<[Vector; 3]> = solid.triangles().map(|t| t.map(|p| seen(&p))).collect();
    let mut along = [f64::INFINITY, f64::NEG_INFINITY];
    let mut across = along;
    let mut draught: f64 = 0.0;
    for t in &triangles {
        draught = t.iter().fold(draught, |d, p| d.max(-p.z));
        for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
            if (a.z < 0.0) != (b.z < 0.0) {
                let p = a + (b - a) * (a.z / (a.z - b.z));
                along = [along[0].min(p.x), along[1].max(p.x)];
                across = [across[0].min(p.y), across[1].max(p.y)];
            }
        }
    }
    if along[0] > along[1] {
        return None;
    }
    let (mut largest, mut largest_at) = (0.0, along[0]);
    for i in 1..SLICES {
        let x = along[0] + (along[1] - along[0]) * i as f64 / SLICES as f64;
        let area = area(&triangles, x);
        if area > largest {
            (largest, largest_at) = (area, x);
        }
    }
    Some(Slices { along, breadth: across[1] - across[0], draught, largest, largest_at })
}

/// Area under water of the slice at `x`: the sum of ∫ Z dY round it.
fn area(triangles: &[[Vector; 3]], x: f64) -> f64 {
    let mut sum = 0.0;
    for t in triangles {
        // From where its edges enter the slice's far side to where they leave it.
        let ends = |far: bool| {
            (0..3).find_map(|i| {
                let (a, b) = (t[i], t[(i + 1) % 3]);
                let goes = if far { a.x < x && b.x >= x } else { a.x >= x && b.x < x };
                goes.then(|| a + (b - a) * ((x - a.x) / (b.x - a.x)))
            })
        };
        if let (Some(p), Some(q)) = (ends(true), ends(false)) {
            sum += flux(p.yz().into(), q.yz().into());
        }
    }
    sum.abs()
}

/// ∫ Z dY from `p` to `q`, as far as that runs under the water.
fn flux([py, pz]: [f64; 2], [qy, qz]: [f64; 2]) -> f64 {
    let (p_under, q_under) = (pz < 0.0, qz < 0.0);
    match (p_under, q_under) {
        (true, true) => 0.5 * (pz + qz) * (qy - py),
        (false, false) => 0.0,
        _ => {
            let y = py + (qy - py) * pz / (pz - qz);
            if p_under { 0.5 * pz * (y - py) } else { 0.5 * qz * (qy - y) }
        }
    }
}
