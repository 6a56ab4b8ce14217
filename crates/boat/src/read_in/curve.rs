//! Curves of a drawing as chains of points, and how they are joined, cut and walked.

use super::problem::{ReadInError, ReadInProblem as Problem};

/// A point of a drawing, x to the right and y up.
pub type Spot = [f64; 2];

/// A curve as drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// What it is called: its layer, or its id and the groups it stands in, innermost first.
    pub names: Vec<String>,
    /// Line of the file on which it begins, from 1.
    pub line: usize,
    /// Its points, near enough to be the curve.
    pub points: Vec<Spot>,
    /// Whether the last joins the first.
    pub closed: bool,
}

/// A text of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// What it says.
    pub text: String,
    /// Where.
    pub at: Spot,
}

/// A drawing as read: lengths in its own unit until [`Drawing::scaled`].
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// Its curves, in the order of the file.
    pub curves: Vec<Curve>,
    /// Its texts.
    pub labels: Vec<Label>,
    /// One unit of it in mm on the drawing, if the file says so, and the unit's name.
    pub unit: Option<(f64, &'static str)>,
    /// What was passed over, with its line.
    pub left_out: Vec<String>,
    /// Points of all its curves.
    points: usize,
}

/// Curves, points of all of them, and texts that are read: each curve's ends are held to all the others and to all texts.
const MOST_CURVES: usize = 5000;
pub const MOST_POINTS: usize = 400_000;
const MOST_LABELS: usize = 20_000;
/// What is passed over is told so many times.
pub const MOST_TOLD: usize = 12;
/// A bend of this, radians, is followed by one straight piece at most: an arc of 1 m radius is then met within 0.05 mm.
pub const LEAST_TURN: f64 = 0.02;

impl Drawing {
    /// One with nothing in it yet, whose unit the file tells or not.
    pub fn of_unit(unit: Option<(f64, &'static str)>) -> Drawing {
        Drawing { unit, ..Drawing::default() }
    }

    /// Everything times `by`.
    pub fn scaled(mut self, by: f64) -> Drawing {
        let spots =
            self.curves.iter_mut().flat_map(|c| &mut c.points).chain(self.labels.iter_mut().map(|l| &mut l.at));
        spots.for_each(|p| *p = [p[0] * by, p[1] * by]);
        self
    }

    /// Adds a curve; one without length is passed over.
    ///
    /// # Errors
    /// More curves or points than are read.
    pub fn put(&mut self, curve: Curve) -> Result<(), ReadInError> {
        if curve.points.iter().all(|p| *p == curve.points[0]) {
            self.leave_out(curve.line, "a curve without length is passed over");
            return Ok(());
        }
        let line = curve.line;
        self.points += curve.points.len();
        self.curves.push(curve);
        within("curves", self.curves.len(), MOST_CURVES, line)?;
        within("points of curves", self.points, MOST_POINTS, line)
    }

    /// Adds a text that stands on `line` of the file.
    ///
    /// # Errors
    /// More texts than are read.
    pub fn put_label(&mut self, label: Label, line: usize) -> Result<(), ReadInError> {
        self.labels.push(label);
        within("texts", self.labels.len(), MOST_LABELS, line)
    }

    /// Says that something was passed over.
    pub fn leave_out(&mut self, line: usize, what: &str) {
        if self.left_out.len() < MOST_TOLD {
            self.left_out.push(format!("line {line}: {what}"));
        }
    }
}

/// No more than `most` of something were found, where the file has come to `line`.
///
/// # Errors
/// There are more.
pub fn within(what: &'static str, found: usize, most: usize, line: usize) -> Result<(), ReadInError> {
    let remedy = "take out what is no section or outline";
    if found > most { Err(Problem::TooMany { what, found, most, remedy }.on(line)) } else { Ok(()) }
}

/// How far apart.
pub fn apart(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Length along a chain.
pub fn length(points: &[Spot]) -> f64 {
    points.windows(2).map(|w| apart(w[0], w[1])).sum()
}

/// `count` points at even distances along a chain, its ends among them; `count` is 2 or more. Of a chain of one point or none
/// there are no more.
pub fn even(points: &[Spot], count: usize) -> Vec<Spot> {
    let whole = length(points);
    let ([first, _, ..], Some(last)) = (points, points.last()) else { return points.to_vec() };
    let mut out = vec![*first];
    let (mut gone, mut i) = (0.0, 0);
    for k in 1..count.saturating_sub(1) {
        let want = whole * k as f64 / (count - 1) as f64;
        while i + 2 < points.len() && gone + apart(points[i], points[i + 1]) < want {
            gone += apart(points[i], points[i + 1]);
            i += 1;
        }
        let (a, b) = (points[i], points[i + 1]);
        let share = ((want - gone) / apart(a, b).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        out.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
    }
    out.push(*last);
    out
}

/// How far a point is from a chain.
pub fn off(points: &[Spot], p: Spot) -> f64 {
    let from = |w: &[Spot]| {
        let (a, b) = (w[0], w[1]);
        let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
        let t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy).max(f64::MIN_POSITIVE);
        let t = t.clamp(0.0, 1.0);
        apart(p, [a[0] + t * dx, a[1] + t * dy])
    };
    points.windows(2).map(from).fold(f64::MAX, f64::min)
}

/// Joins chains end to end where their ends are within `gap`, whichever way they run; what does not join stays apart. A chain may
/// come out turned round.
pub fn joined(mut chains: Vec<Vec<Spot>>, gap: f64) -> Vec<Vec<Spot>> {
    let mut out: Vec<Vec<Spot>> = Vec::new();
    chains.retain(|c| !c.is_empty());
    while let Some(mut chain) = chains.pop() {
        // Of all ends that are near enough the nearest is taken, so that what passes close by is left alone.
        while let (Some(&head), Some(&tail)) = (chain.first(), chain.last()) {
            let ends = |c: &Vec<Spot>| [c[0], c[c.len() - 1]];
            let near = |(i, c): (usize, &Vec<Spot>)| {
                let [a, b] = ends(c);
                [(apart(tail, a), 0), (apart(tail, b), 1), (apart(head, b), 2), (apart(head, a), 3)]
                    .into_iter()
                    .map(|(d, way)| (d, i, way))
                    .min_by(|x, y| x.0.total_cmp(&y.0))
            };
            let best = chains.iter().enumerate().filter_map(near).min_by(|x, y| x.0.total_cmp(&y.0));
            let Some((_, i, way)) = best.filter(|b| b.0 <= gap) else { break };
            let mut other = chains.swap_remove(i);
            if matches!(way, 1 | 3) {
                other.reverse();
            }
            if way < 2 {
                chain.extend(other);
            } else {
                other.extend(chain);
                chain = other;
            }
        }
        chain.dedup_by(|a, b| apart(*a, *b) < 1e-9);
        out.push(chain);
    }
    out.reverse();
    out
}

/// Points of an ellipse's arc from one parameter to another, both ends included: centre, half axes as vectors.
pub fn ellipse(centre: Spot, major: Spot, minor: Spot, from: f64, to: f64) -> Vec<Spot> {
    let pieces = (((to - from).abs() / LEAST_TURN).ceil() as usize).clamp(2, 700);
    let at = |i: usize| {
        let (sin, cos) = (from + (to - from) * i as f64 / pieces as f64).sin_cos();
        [0, 1].map(|d| centre[d] + cos * major[d] + sin * minor[d])
    };
    (0..=pieces).map(at).collect()
}

/// Points of an arc after `a` and up to `b`; its bulge is the tangent of a quarter of the angle it turns, to the left where more than 0.
pub fn bulge(a: Spot, b: Spot, bulge: f64) -> Vec<Spot> {
    let chord = apart(a, b);
    if bulge == 0.0 || chord == 0.0 {
        return vec![b];
    }
    let turn = 4.0 * bulge.atan();
    // The centre stands off the middle of the chord by the cotangent of half the turn.
    let off = 0.5 * (1.0 - bulge * bulge) / (2.0 * bulge);
    let centre = [0.5 * (a[0] + b[0]) - off * (b[1] - a[1]), 0.5 * (a[1] + b[1]) + off * (b[0] - a[0])];
    let from = [a[0] - centre[0], a[1] - centre[1]];
    let mut points = ellipse(centre, from, [-from[1], from[0]], 0.0, turn);
    points.remove(0);
    if let Some(last) = points.last_mut() {
        *last = b;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bulge_of_one_is_half_a_circle() {
        let points = bulge([0.0, 0.0], [2.0, 0.0], 1.0);
        assert!(points.iter().all(|p| (apart(*p, [1.0, 0.0]) - 1.0).abs() < 1e-12));
        assert!(points.iter().all(|p| p[1] <= 1e-12), "to the left of the way from a to b is below: {points:?}");
        let quarter = bulge([1.0, 0.0], [0.0, 1.0], (std::f64::consts::PI / 8.0).tan());
        assert!(quarter.iter().all(|p| (p[0].hypot(p[1]) - 1.0).abs() < 1e-12), "{quarter:?}");
    }

    #[test]
    fn pieces_are_joined_whichever_way_they_run() {
        let pieces = vec![
            vec![[2.0, 0.0], [1.0, 0.0]],
            vec![[0.0, 0.0], [1.0, 0.0]],
            vec![[9.0, 0.0], [8.0, 0.0]],
            vec![[2.0, 0.0], [3.0, 0.0]],
        ];
        let joined = joined(pieces, 0.1);
        assert_eq!(joined.len(), 2);
        assert!(joined.iter().any(|c| (length(c) - 3.0).abs() < 1e-12), "{joined:?}");
        let along = even(&[[0.0, 0.0], [3.0, 0.0], [3.0, 1.0]], 5);
        assert_eq!(along, [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.0], [3.0, 1.0]]);
        assert!((off(&along, [1.5, -0.5]) - 0.5).abs() < 1e-12);
        assert_eq!(even(&[[1.0, 2.0]], 5), [[1.0, 2.0]]);
    }
}
