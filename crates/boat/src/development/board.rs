//! The least board that holds a flat plank, and the plank seated in it.

/// A flat plank in board coordinates.
pub struct Seat {
    /// The grid, x along the board from the bow, y up from its lower edge.
    pub points: Vec<Vec<[f64; 2]>>,
    /// Length of the board, mm.
    pub length: f64,
    /// Width of the board, mm.
    pub width: f64,
}

/// The least board of an outline, and how to lay the outline on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Board {
    /// Unit vector along the board, in the outline's frame.
    pub along: [f64; 2],
    /// The board's lower left corner along `along` and square to it, mm.
    pub corner: [f64; 2],
    /// mm.
    pub length: f64,
    /// mm.
    pub width: f64,
}

impl Board {
    /// A point of the outline's frame on the board, x along it, y up from its lower edge.
    #[must_use]
    pub fn place(&self, p: &[f64; 2]) -> [f64; 2] {
        let [u, v] = self.along;
        [p[0] * u + p[1] * v - self.corner[0], p[1] * u - p[0] * v - self.corner[1]]
    }
}

/// The narrowest straight board that holds an outline: one edge of it lies along an edge of the outline's convex hull. Bow to
/// the left: it runs with `forward`.
#[must_use]
pub fn least(outline: &[[f64; 2]], forward: [f64; 2]) -> Board {
    let hull = hull(outline.to_vec());
    let mut best = ([1.0, 0.0], f64::INFINITY);
    for i in 0..hull.len() {
        let (a, b) = (hull[i], hull[(i + 1) % hull.len()]);
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        if length > 1e-9 {
            let u = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
            let (low, high) = extent(&hull, [-u[1], u[0]]);
            if high - low < best.1 {
                best = (u, high - low);
            }
        }
    }
    let mut u = best.0;
    if u[0] * forward[0] + u[1] * forward[1] < 0.0 {
        u = [-u[0], -u[1]];
    }
    let (left, right) = extent(outline, u);
    let (low, high) = extent(outline, [-u[1], u[0]]);
    Board { along: u, corner: [left, low], length: right - left, width: high - low }
}

/// Turns the grid so that the straight board that holds it is narrowest. The plank keeps its bow to the left and its sheer
/// edge up.
#[must_use]
pub fn seat(points: &[Vec<[f64; 2]>]) -> Seat {
    let outline: Vec<[f64; 2]> = points.iter().flat_map(|row| [row[0], row[row.len() - 1]]).collect();
    let (first, last) = (points[0][0], points[points.len() - 1][0]);
    let board = least(&outline, [last[0] - first[0], last[1] - first[1]]);
    Seat {
        points: points.iter().map(|row| row.iter().map(|p| board.place(p)).collect()).collect(),
        length: board.length,
        width: board.width,
    }
}

fn extent(points: &[[f64; 2]], along: [f64; 2]) -> (f64, f64) {
    points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
        let v = p[0] * along[0] + p[1] * along[1];
        (low.min(v), high.max(v))
    })
}

/// Convex hull, counter-clockwise: the chain of points that never turns right, below and then above.
fn hull(mut points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let chain = |points: &mut dyn Iterator<Item = &[f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for &p in points {
            while let [.., a, b] = chain[..] {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut below = chain(&mut points.iter());
    below.extend(chain(&mut points.iter().rev()));
    below
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A strip 1000 × 80 turned by 20°: the least board is the strip itself. Closed form.
    #[test]
    fn a_straight_strip_fills_its_board() {
        let (sin, cos) = 20.0_f64.to_radians().sin_cos();
        let turn = |x: f64, y: f64| [x * cos - y * sin + 3.0, x * sin + y * cos - 8.0];
        let points: Vec<Vec<[f64; 2]>> =
            (0..=10).map(|i| (0..=4).map(|c| turn(f64::from(i) * 100.0, f64::from(c) * 20.0)).collect()).collect();
        let seat = seat(&points);
        assert!((seat.length - 1000.0).abs() < 1e-9 && (seat.width - 80.0).abs() < 1e-9);
        assert!(seat.points[0][0][0].abs() < 1e-9 && seat.points[0][0][1].abs() < 1e-9);
        assert!((seat.points[10][4][0] - 1000.0).abs() < 1e-9 && (seat.points[10][4][1] - 80.0).abs() < 1e-9);
    }
}
