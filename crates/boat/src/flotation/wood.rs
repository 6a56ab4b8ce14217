//! Her own wood as closed bodies: what bears her when she is full of water.

use super::solid::Solid;
use crate::geom::Point;
use crate::planks::Strake;
use crate::weights::Bit;

/// Planks, and `bits` as boxes.
#[must_use]
pub fn wood(strakes: &[Strake], bits: &[Bit]) -> Solid {
    let mut all = Solid::default();
    for strake in strakes {
        let t = strake.thickness;
        for side in [1.0, -1.0] {
            let rows: Vec<[Point; 4]> = strake
                .rulings
                .iter()
                .map(|r| {
                    [r.lower, r.upper, r.upper + r.normal * t, r.lower + r.lower_normal * t]
                        .map(|p| Point::new(p.x, side * p.y, p.z))
                })
                .collect();
            all.add(&tube(&rows));
        }
    }
    for bit in bits {
        all.add(&boxed(bit.volume, &bit.centre, bit.size));
    }
    all
}

/// A box of that shape which holds `volume`, about `centre`.
#[must_use]
pub fn boxed(volume: f64, centre: &Point, size: [f64; 3]) -> Solid {
    let whole: f64 = size.iter().product();
    if !(whole > 0.0 && volume > 0.0) {
        return Solid::default();
    }
    let [l, b, h] = size.map(|s| 0.5 * s * (volume / whole).cbrt());
    let row = |x: f64| {
        [[b, -h], [b, h], [-b, h], [-b, -h]].map(|[y, z]| Point::new(centre.x + x, centre.y + y, centre.z + z))
    };
    tube(&[row(-l), row(l)])
}

/// What stands between rows of four corners, its ends shut.
fn tube(rows: &[[Point; 4]]) -> Solid {
    let mut triangles = Vec::new();
    let mut quad = |a: Point, b: Point, c: Point, d: Point| triangles.extend([[a, b, c], [a, c, d]]);
    for w in rows.windows(2) {
        for i in 0..4 {
            let j = (i + 1) % 4;
            quad(w[0][i], w[1][i], w[1][j], w[0][j]);
        }
    }
    if let (Some(first), Some(last)) = (rows.first(), rows.last()) {
        quad(first[0], first[1], first[2], first[3]);
        quad(last[3], last[2], last[1], last[0]);
    }
    triangles.retain(|[a, b, c]| a != b && b != c && c != a);
    let solid = Solid::of(&triangles, 0);
    // On the other side of her the corners run the other way.
    if solid.whole().0 >= 0.0 {
        return solid;
    }
    triangles.iter_mut().for_each(|t| t.swap(1, 2));
    Solid::of(&triangles, 0)
}
