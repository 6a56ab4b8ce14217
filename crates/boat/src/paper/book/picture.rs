//! The planked boat in ink and wood, seen from off her quarter and a little above the sheer.
//!
//! No hidden-line search: the faces are painted from far to near. Inside, a strake overlaps the one *above* it, so the
//! inside is painted from the sheer down; outside it overlaps the one below, so the outside goes from the keel up. A
//! face is painted only where it looks towards the eye. What the plan does not know, keel and stem outside the rabbet,
//! is sketched.

use super::look;
use super::page::Frame;
use crate::drawing::{Colour, Item, Outline, Shape, Spot, Stroke, Weight};
use crate::geom::{Point, Vector};
use crate::plan::Plan;
use crate::planks::{Ruling, Strake};
use crate::spec::EndSpec;

/// Strips that a strake is shaded in.
const STRIPS: usize = 24;
/// Sketched depth of keel and stem outside the rabbet, in thicknesses of the planking.
const KEEL: f64 = 4.5;

/// Draws the boat as large as `frame` allows, in its middle. Nothing, if the plan has no strakes.
pub fn boat(plan: &Plan, frame: Frame) -> Vec<Item> {
    let Some(eye) = Eye::for_plan(plan) else { return Vec::new() };
    let mut painter = Painter { eye, items: Vec::new() };
    painter.insides(plan);
    painter.timbers(plan);
    painter.stem_and_keel(plan);
    painter.transom(plan);
    painter.outsides(plan);
    fit(&mut painter.items, frame);
    painter.items
}

/// Where the boat is seen from: a pinhole.
struct Eye {
    at: Point,
    right: Vector,
    up: Vector,
    towards: Vector,
}

impl Eye {
    fn for_plan(plan: &Plan) -> Option<Eye> {
        let edges = plan.strakes.iter().flat_map(|s| &s.rulings).flat_map(|r| [r.lower, r.upper]);
        let mut low = Point::new(f64::MAX, f64::MAX, f64::MAX);
        let mut high = -low;
        for p in edges {
            low = low.inf(&p);
            high = high.sup(&p);
        }
        let length = high.x - low.x;
        if !length.is_finite() || length <= 0.0 {
            return None;
        }
        let middle = Point::new(f64::midpoint(low.x, high.x), 0.0, f64::midpoint(low.z, high.z));
        // 36° abaft the beam on the port side, 13° above; far enough off that she does not look like a fish.
        let (abaft, above) = (36.0_f64.to_radians(), 13.0_f64.to_radians());
        let towards = Vector::new(above.cos() * abaft.sin(), -above.cos() * abaft.cos(), above.sin());
        let right = Vector::new(abaft.cos(), abaft.sin(), 0.0);
        Some(Eye { at: middle + towards * (2.6 * length), right, up: towards.cross(&right), towards })
    }

    /// On a picture plane one unit from the eye; y down.
    fn see(&self, p: Point) -> Spot {
        let d = p - self.at;
        let depth = -d.dot(&self.towards);
        [d.dot(&self.right) / depth, -d.dot(&self.up) / depth]
    }

    fn faces(&self, at: Point, normal: Vector) -> bool {
        (self.at - at).dot(&normal) > 0.0
    }
}

/// Port is the near side.
#[derive(Clone, Copy, PartialEq)]
enum Side {
    Near,
    Far,
}

impl Side {
    fn point(self, p: Point) -> Point {
        if self == Side::Near { Point::new(p.x, -p.y, p.z) } else { p }
    }

    fn vector(self, v: Vector) -> Vector {
        if self == Side::Near { Vector::new(v.x, -v.y, v.z) } else { v }
    }
}

/// One ruling's four corners and its outward normal, on one side.
struct Corners {
    lower_in: Point,
    upper_in: Point,
    lower_out: Point,
    upper_out: Point,
    normal: Vector,
}

impl Corners {
    fn new(r: &Ruling, thickness: f64, side: Side) -> Self {
        Corners {
            lower_in: side.point(r.lower),
            upper_in: side.point(r.upper),
            lower_out: side.point(r.lower + r.lower_normal * thickness),
            upper_out: side.point(r.upper + r.normal * thickness),
            normal: side.vector(r.normal + r.lower_normal).normalize(),
        }
    }
}

fn corners(strake: &Strake, side: Side) -> Vec<Corners> {
    strake.rulings.iter().map(|r| Corners::new(r, strake.thickness, side)).collect()
}

struct Painter {
    eye: Eye,
    items: Vec<Item>,
}

impl Painter {
    fn insides(&mut self, plan: &Plan) {
        for side in [Side::Far, Side::Near] {
            for strake in plan.strakes.iter().rev() {
                let at = corners(strake, side);
                let face = |c: &Corners| [c.lower_in, c.upper_in];
                self.face(&at, face, |c| -c.normal, look::WOOD.towards(look::SHADE, 0.62), 0.5);
                if side == Side::Far {
                    self.top_edge(&at, look::WOOD.towards(look::SHADE, 0.15));
                }
            }
        }
    }

    fn timbers(&mut self, plan: &Plan) {
        let half = plan.spec.timbers.sided / 2.0;
        for side in [Side::Near, Side::Far] {
            for timber in &plan.timbers {
                let aft = timber.points.iter().rev().map(|p| side.point(*p) + Vector::new(half, 0.0, 0.0));
                let fore = timber.points.iter().map(|p| side.point(*p) - Vector::new(half, 0.0, 0.0));
                let ribbon: Vec<Spot> = fore.chain(aft).map(|p| self.eye.see(p)).collect();
                let pen = Stroke::solid(Weight::Hair, look::INK);
                self.items.push(Shape::area(ribbon, look::WOOD.towards(look::SHADE, 0.35), Some(pen)));
            }
        }
    }

    /// Keel, stem and sternpost outside the rabbet, sketched.
    fn stem_and_keel(&mut self, plan: &Plan) {
        let Some(rabbet) = plan.lands.first() else { return };
        let mut line: Vec<[f64; 2]> = Vec::new();
        if let EndSpec::Post(post) = &plan.spec.fore {
            line.extend(post.rabbet.iter().copied());
        }
        line.extend(rabbet.points.iter().map(|p| [p.x, p.z]));
        if let EndSpec::Post(post) = &plan.spec.aft {
            line.extend(post.rabbet.iter().rev().copied());
        }
        line.dedup_by(|a, b| (a[0] - b[0]).hypot(a[1] - b[1]) < 5.0);
        let depth = KEEL * plan.spec.planking.thickness;
        let outer: Vec<[f64; 2]> =
            outward(&line).map(|([x, z], [nx, nz])| [x + depth * nx, z + depth * nz]).collect();
        let half = rabbet.points.iter().map(|p| p.y).fold(0.0, f64::max).min(depth / 2.0);
        let see = |[x, z]: [f64; 2], y: f64| self.eye.see(Point::new(x, y, z));
        let near = line.iter().map(|p| see(*p, -half)).chain(outer.iter().rev().map(|p| see(*p, -half)));
        let near: Vec<Spot> = near.collect();
        let under = outer.iter().map(|p| see(*p, half)).chain(outer.iter().rev().map(|p| see(*p, -half))).collect();
        let pen = Stroke::solid(Weight::Fine, look::PENCIL);
        let tint = look::WOOD.towards(look::SHADE, 0.45);
        self.items.push(Shape::area(under, tint, Some(pen)));
        self.items.push(Shape::area(near, tint, Some(pen)));
    }

    fn transom(&mut self, plan: &Plan) {
        let (EndSpec::Transom(_), Some(section)) = (&plan.spec.aft, plan.sections.last()) else { return };
        for side in [Side::Far, Side::Near] {
            for strake in &plan.strakes {
                let (Some(last), t) = (strake.rulings.last(), strake.thickness) else { continue };
                let c = Corners::new(last, t, side);
                let end = [c.lower_in, c.upper_in, c.upper_out, c.lower_out].map(|p| self.eye.see(p)).to_vec();
                let pen = Stroke::solid(Weight::Fine, look::INK);
                self.items.push(Shape::area(end, look::WOOD.towards(look::SHADE, 0.2), Some(pen)));
            }
        }
        let near = section.points.iter().map(|p| Side::Near.point(*p));
        let far = section.points.iter().rev().copied();
        let face: Vec<Spot> = near.chain(far).map(|p| self.eye.see(p)).collect();
        self.items.push(Shape::area(face, look::WOOD.towards(look::SHADE, 0.3), Some(look::OUTLINE)));
    }

    fn outsides(&mut self, plan: &Plan) {
        let mut below: Option<&Strake> = None;
        for strake in &plan.strakes {
            let at = corners(strake, Side::Near);
            if below.is_some() {
                self.shadow(&at);
            }
            self.face(&at, |c| [c.lower_out, c.upper_out], |c| c.normal, look::WOOD, 1.0);
            self.ends(&at);
            self.rivets(plan, strake.strake);
            below = Some(strake);
        }
        if let Some(top) = plan.strakes.last() {
            self.top_edge(&corners(top, Side::Near), look::WOOD);
        }
    }

    /// A face of a strake, shaded along its length, with its edges in ink. `darken` is how much the light does.
    fn face(
        &mut self,
        at: &[Corners],
        edges: impl Fn(&Corners) -> [Point; 2],
        normal: impl Fn(&Corners) -> Vector,
        tint: Colour,
        darken: f64,
    ) {
        let light = Vector::new(-0.35, -0.55, 0.76).normalize();
        for run in runs(at, |c| self.eye.faces(edges(c)[0], normal(c)) || self.eye.faces(edges(c)[1], normal(c))) {
            let lower: Vec<Spot> = run.iter().map(|c| self.eye.see(edges(c)[0])).collect();
            let upper: Vec<Spot> = run.iter().map(|c| self.eye.see(edges(c)[1])).collect();
            // Each strip reaches to the far end and is painted over by the next: no seams.
            for strip in 0..STRIPS {
                let from = strip * (run.len() - 1) / STRIPS;
                let Some(middle) = run.get(from + run.len() / (2 * STRIPS)) else { continue };
                let dark = (0.55 - 0.55 * normal(middle).dot(&light)).clamp(0.0, 1.0) * darken;
                let outline: Vec<Spot> = lower[from..].iter().chain(upper[from..].iter().rev()).copied().collect();
                self.items.push(Shape::area(outline, tint.towards(look::SHADE, dark), None));
            }
            self.items.push(Shape::line(upper, Stroke::solid(Weight::Hair, look::INK)));
            self.items.push(Shape::line(lower, Stroke::solid(Weight::Thin, look::INK)));
        }
    }

    /// The shade that a strake's lower edge throws on the one beneath.
    fn shadow(&mut self, at: &[Corners]) {
        for run in runs(at, |c| self.eye.faces(c.lower_out, c.normal)) {
            let drop = |c: &Corners| {
                let thickness = (c.lower_out - c.lower_in).norm();
                c.lower_in - (c.upper_in - c.lower_in).normalize() * (0.9 * thickness)
            };
            let edge = run.iter().map(|c| self.eye.see(c.lower_out));
            let foot = run.iter().rev().map(|c| self.eye.see(drop(c)));
            let band: Vec<Spot> = edge.chain(foot).collect();
            self.items.push(Shape::area(band, look::SHADE.towards(look::INK, 0.25), None));
        }
    }

    fn top_edge(&mut self, at: &[Corners], tint: Colour) {
        let inner = at.iter().map(|c| self.eye.see(c.upper_in));
        let outer = at.iter().rev().map(|c| self.eye.see(c.upper_out));
        let band: Vec<Spot> = inner.chain(outer).collect();
        self.items.push(Shape::area(band, tint, Some(Stroke::solid(Weight::Hair, look::INK))));
    }

    fn ends(&mut self, at: &[Corners]) {
        for c in [at.first(), at.last()].into_iter().flatten() {
            if self.eye.faces(c.lower_out, c.normal) {
                let end = vec![self.eye.see(c.lower_out), self.eye.see(c.upper_out)];
                self.items.push(Shape::line(end, Stroke::solid(Weight::Fine, look::INK)));
            }
        }
    }

    /// Heads of the rivets through the land on the lower edge of strake `k`.
    fn rivets(&mut self, plan: &Plan, k: usize) {
        for rivet in plan.rivets.iter().filter(|r| r.land + 1 == k) {
            let (at, axis) = (Side::Near.point(rivet.at), Side::Near.vector(rivet.axis));
            if self.eye.faces(at, axis) {
                let head = self.eye.see(at + axis * (rivet.grip / 2.0));
                self.items.push(Shape::circle(head, 0.2, None, Some(look::COPPER)));
            }
        }
    }
}

/// Runs of neighbours that satisfy `keep`, each of two or more.
fn runs(at: &[Corners], keep: impl Fn(&Corners) -> bool) -> Vec<&[Corners]> {
    let mut found = Vec::new();
    let mut start = None;
    for i in 0..=at.len() {
        let kept = at.get(i).is_some_and(&keep);
        match (start, kept) {
            (None, true) => start = Some(i),
            (Some(from), false) => {
                if i - from > 1 {
                    found.push(&at[from..i]);
                }
                start = None;
            }
            _ => {}
        }
    }
    found
}

/// Each point of a profile that runs from the stem head down and aft, with the unit vector square to it and outward.
fn outward(line: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    (0..line.len()).map(|i| {
        let (a, b) = (line[i.saturating_sub(1)], line[(i + 1).min(line.len() - 1)]);
        let (dx, dz) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dz).max(1e-9);
        (line[i], [dz / length, -dx / length])
    })
}

/// Moves and sizes what was painted so that it fills the frame. Heads of rivets keep their size on paper.
fn fit(items: &mut [Item], frame: Frame) {
    let mut low = [f64::MAX; 2];
    let mut high = [f64::MIN; 2];
    for point in items.iter().flat_map(points) {
        for i in 0..2 {
            low[i] = low[i].min(point[i]);
            high[i] = high[i].max(point[i]);
        }
    }
    let scale = (frame.width() / (high[0] - low[0])).min(frame.height() / (high[1] - low[1]));
    let middle = [f64::midpoint(frame.left, frame.right), f64::midpoint(frame.top, frame.bottom)];
    let place = |p: &mut Spot| {
        for i in 0..2 {
            p[i] = middle[i] + (p[i] - f64::midpoint(low[i], high[i])) * scale;
        }
    };
    for item in items {
        let Item::Shape(shape) = item else { continue };
        match &mut shape.outline {
            Outline::Line(points) | Outline::Polygon(points) => points.iter_mut().for_each(place),
            Outline::Circle { at, .. } => place(at),
        }
    }
}

fn points(item: &Item) -> Vec<Spot> {
    match item {
        Item::Shape(Shape { outline: Outline::Line(points) | Outline::Polygon(points), .. }) => points.clone(),
        Item::Shape(Shape { outline: Outline::Circle { at, .. }, .. }) => vec![*at],
        Item::Text(_) => Vec::new(),
    }
}
