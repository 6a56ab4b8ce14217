//! Outlines made ready for the search: fewer points, and wider by half a saw cut.

use jagua_rs::geometry::primitives::{Point, SPolygon};
use jagua_rs::geometry::shape_modification::{ShapeModifyMode, offset_shape};

/// An outline with as few points as keep within `within` of it (Douglas and Peucker's rule).
pub fn fewer(outline: &[[f64; 2]], within: f64) -> Vec<[f64; 2]> {
    let n = outline.len();
    if n < 4 || within <= 0.0 {
        return outline.to_vec();
    }
    let far =
        (0..n).max_by(|&a, &b| off(outline[0], outline[a]).total_cmp(&off(outline[0], outline[b]))).unwrap_or(0);
    let mut keep = vec![false; n];
    (keep[0], keep[far]) = (true, true);
    let mut spans = vec![(0, far), (far, n)];
    while let Some((a, b)) = spans.pop() {
        let (p, q) = (outline[a], outline[b % n]);
        let worst = (a + 1..b).map(|i| (i, from_line(outline[i], p, q))).max_by(|x, y| x.1.total_cmp(&y.1));
        if let Some((i, _)) = worst.filter(|w| w.1 > within) {
            keep[i] = true;
            spans.extend([(a, i), (i, b)]);
        }
    }
    outline.iter().zip(keep).filter(|(_, k)| *k).map(|(p, _)| *p).collect()
}

fn off(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Distance of `p` from the line from `a` to `b`.
pub fn from_line(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let whole = along[0] * along[0] + along[1] * along[1];
    let t = ((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / whole.max(f64::MIN_POSITIVE);
    let t = t.clamp(0.0, 1.0);
    off(p, [a[0] + along[0] * t, a[1] + along[1] * t])
}

/// A polygon about `middle`, in single precision, `wider` all round, mm.
///
/// # Errors
/// Why it is none, in words.
pub fn polygon(outline: &[[f64; 2]], middle: [f64; 2], wider: f64) -> Result<SPolygon, String> {
    if let Some(p) = outline.iter().find(|p| !p.iter().all(|v| v.is_finite())) {
        return Err(format!("a corner at {} by {} is nowhere", p[0], p[1]));
    }
    let mut points: Vec<Point> =
        outline.iter().map(|p| Point((p[0] - middle[0]) as f32, (p[1] - middle[1]) as f32)).collect();
    points.dedup();
    if points.len() > 1 && points[0] == points[points.len() - 1] {
        points.pop();
    }
    let polygon = SPolygon::new(points).map_err(|why| why.to_string())?;
    if wider == 0.0 {
        return Ok(polygon);
    }
    // Corner by corner where that makes an outline; it has as few points as it had. Else rounded.
    if let Ok(mitred) = SPolygon::new(mitred(polygon.vertices(), wider as f32)) {
        let grown = mitred.area() - polygon.area();
        if (grown > 0.0) == (wider > 0.0) {
            return Ok(mitred);
        }
    }
    let mode = if wider > 0.0 { ShapeModifyMode::Inflate } else { ShapeModifyMode::Deflate };
    offset_shape(&polygon, mode, wider.abs() as f32).map_err(|why| why.to_string())
}

/// Every edge of an anticlockwise outline moved out by `by`; where the corner would stand out by more than twice that, it is
/// cut off at twice that.
fn mitred(points: &[Point], by: f32) -> Vec<Point> {
    let n = points.len();
    let normal = |a: Point, b: Point| {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let length = dx.hypot(dy);
        [dy / length, -dx / length]
    };
    let mut out = Vec::with_capacity(n + 4);
    for i in 0..n {
        let (before, here, after) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        let (p, q) = (normal(before, here), normal(here, after));
        let cos = p[0] * q[0] + p[1] * q[1];
        // The corner stands by · √(2 / (1 + cos)) out.
        if cos > -0.5 || by < 0.0 {
            let share = by / (1.0 + cos).max(0.1);
            out.push(Point(here.0 + share * (p[0] + q[0]), here.1 + share * (p[1] + q[1])));
        } else {
            // Cut off square to the bisector, at twice `by`: along each edge so far beyond the corner.
            let half = (0.5 * (1.0 - cos)).max(0.0).sqrt();
            let beyond = by * (2.0 - (0.5 * (1.0 + cos)).max(0.0).sqrt()) / half;
            out.push(Point(here.0 + by * p[0] - beyond * p[1], here.1 + by * p[1] + beyond * p[0]));
            out.push(Point(here.0 + by * q[0] + beyond * q[1], here.1 + by * q[1] - beyond * q[0]));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of side 10 widened by 1 is one of 12; a right triangle's sharp corner is cut off at 2, where it is 2.2 wide,
    /// so that no point is nearer than 1 or further than 2.3. Closed form.
    #[test]
    fn edges_move_out_square() {
        let square = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];
        let wide = polygon(&square, [5.0, 5.0], 1.0).unwrap();
        assert_eq!(wide.n_vertices(), 4);
        assert!((wide.area() - 144.0).abs() < 1e-3);
        let sharp = [[0.0, 0.0], [100.0, 0.0], [0.0, 10.0]];
        let wide = polygon(&sharp, [0.0, 0.0], 1.0).unwrap();
        assert_eq!(wide.n_vertices(), 4);
        for e in wide.edge_iter() {
            for k in 0..=20 {
                let t = f64::from(k) / 20.0;
                let p = [e.start.0, e.start.1].map(f64::from);
                let q = [e.end.0, e.end.1].map(f64::from);
                let at = [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
                let near = (0..3).map(|i| from_line(at, sharp[i], sharp[(i + 1) % 3])).fold(f64::MAX, f64::min);
                assert!(near > 1.0 - 1e-4 && near < 2.3, "{near}");
            }
        }
    }

    /// A circle of 100 with 720 points, within 0.5: chords of sagitta 0.5 or less, so at least 2π/(2 acos(1 − s/r)) = 32
    /// points, and none further off. Closed form.
    #[test]
    fn a_circle_keeps_its_sagitta() {
        let circle: Vec<[f64; 2]> =
            (0..720).map(|i| f64::from(i).to_radians() * 0.5).map(|a| [100.0 * a.cos(), 100.0 * a.sin()]).collect();
        let few = fewer(&circle, 0.5);
        assert!((32..90).contains(&few.len()), "{}", few.len());
        for p in &circle {
            let near =
                (0..few.len()).map(|i| from_line(*p, few[i], few[(i + 1) % few.len()])).fold(f64::MAX, f64::min);
            assert!(near <= 0.5 + 1e-9);
        }
    }
}
