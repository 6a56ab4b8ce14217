//! Her picture in ink, from where somebody stands: what is hidden is left out.
//!
//! The boat is a *scene* (`boat`): the faces of all her planks, of stem, keel and transoms as triangles, and the lines that
//! a draughtsman would draw: edges, and for each eye the *contours* where a face turns away from it (`contour`). Each line
//! is followed in small steps, and a point of it is seen if no triangle covers it nearer to the eye (`hidden`); where seen
//! turns to hidden, the place is halved down to [`Fine::edge`]. A point is looked for a hair outside the wood, since it
//! lies on the very edge of its own faces: [`OFF`].
//!
//! What is seen with nothing of her on one side of it is the *outline*, and drawn heaviest (`draw`).
//!
//! Which way errors fall: a gap between two faces would let a hidden line through; there is none, as faces share their
//! corners. What the plan does not know, keel and stem outside the rabbet where boat.toml does not give it, is sketched.
//! Cannot do: an eye among her planks; it has no picture.

mod boat;
mod closed;
mod contour;
mod draw;
mod hidden;

use crate::eyes::Eye;
use crate::geom::{Point, Vector};

pub use boat::{flush, scene};
pub use closed::{Outside, closed};
pub use draw::{Pens, draw, least_scale, pens};
pub use hidden::{Hider, runs};

/// A point is looked for so far outside the wood, mm: little on paper, and more than chords of curved faces are off.
pub const OFF: f64 = 0.3;

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A strake's lower outer edge.
    Land,
    /// Where its lower edge lies on the strake below.
    Step,
    /// An edge inside her.
    Inside,
    /// An edge of the sheer.
    Sheer,
    /// Where planks enter stem, keel and sternpost.
    Rabbet,
    /// Edges of stem, keel and sternpost.
    Backbone,
    /// Edges of a transom, and planks' ends on it.
    Transom,
    /// Where a face turns away.
    Contour,
}

/// A line of the scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is.
    pub kind: Kind,
    /// Its points, mm.
    pub points: Vec<Point>,
    /// At each, the way out of the wood; not of unit length.
    pub free: Vec<Vector>,
}

/// A face between two edges that may turn away from the eye along its length.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// One edge, mm.
    pub lower: Vec<Point>,
    /// The other; point i is joined to point i.
    pub upper: Vec<Point>,
    /// Outward at each point of `lower`.
    pub lower_normals: Vec<Vector>,
    /// Outward at each point of `upper`.
    pub upper_normals: Vec<Vector>,
}

/// Faces and lines.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// Triangles that hide what is behind them.
    pub faces: Vec<[Point; 3]>,
    /// Lines that are always there.
    pub lines: Vec<Line>,
    /// Faces, all among the triangles too, that have contours.
    pub strips: Vec<Strip>,
}

/// A piece of a line that is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// What it is a piece of.
    pub kind: Kind,
    /// Nothing of her is on one side of it.
    pub outline: bool,
    /// In space, mm.
    pub points: Vec<Point>,
    /// At each, the way out of the wood; not of unit length.
    pub free: Vec<Vector>,
    /// As the eye sees them, mm at the boat.
    pub seen: Vec<[f64; 2]>,
}

/// How finely lines are followed, mm as seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fine {
    /// From one look to the next: what is hidden or seen for less may be missed.
    pub step: f64,
    /// How near the place is found where seen turns to hidden.
    pub edge: f64,
    /// A piece shorter than this is left out.
    pub least: f64,
    /// How far beside a line it is looked for her, to tell the outline.
    pub beside: f64,
}

impl Fine {
    /// For a picture on which `scale` mm of the boat are 1 mm: a look at every pen's width, edges found to what no eye sees, and
    /// nothing shorter drawn than a dot.
    #[must_use]
    pub fn at_scale(scale: f64) -> Self {
        Fine { step: 0.4 * scale, edge: 0.02 * scale, least: 0.5 * scale, beside: 0.2 * scale }
    }
}

impl Scene {
    /// Adds the triangles of a face between two edges, point i of one joined to point i of the other.
    fn face(&mut self, a: &[Point], b: &[Point]) {
        for (p, q) in a.windows(2).zip(b.windows(2)) {
            self.faces.push([p[0], p[1], q[1]]);
            self.faces.push([p[0], q[1], q[0]]);
        }
    }

    /// The same for its other side: mirrored in the centreline plane.
    fn and_mirrored(mut self) -> Self {
        let faces = self.faces.iter().map(|f| f.map(|p| over(&p))).collect::<Vec<_>>();
        let lines: Vec<Line> = self.lines.iter().map(Line::mirrored).collect();
        let strips: Vec<Strip> = self.strips.iter().map(Strip::mirrored).collect();
        self.faces.extend(faces);
        self.lines.extend(lines);
        self.strips.extend(strips);
        self
    }

    /// The lines that `eye` may see, contours with them.
    #[must_use]
    pub fn lines_for(&self, eye: &Eye) -> Vec<Line> {
        let contours = self.strips.iter().flat_map(|s| contour::contours(s, &eye.place()));
        self.lines.iter().cloned().chain(contours).collect()
    }
}

/// On the other side of the centreline plane.
fn over(p: &Point) -> Point {
    Point::new(p.x, -p.y, p.z)
}

fn turned(v: &Vector) -> Vector {
    Vector::new(v.x, -v.y, v.z)
}

impl Line {
    fn mirrored(&self) -> Line {
        Line {
            kind: self.kind,
            points: self.points.iter().map(over).collect(),
            free: self.free.iter().map(turned).collect(),
        }
    }
}

impl Strip {
    fn mirrored(&self) -> Strip {
        Strip {
            lower: self.lower.iter().map(over).collect(),
            upper: self.upper.iter().map(over).collect(),
            lower_normals: self.lower_normals.iter().map(turned).collect(),
            upper_normals: self.upper_normals.iter().map(turned).collect(),
        }
    }
}
