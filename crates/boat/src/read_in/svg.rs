//! Curves from an SVG file.
//!
//! Paths with all their commands, lines, polylines, polygons, rectangles, circles, ellipses and texts, through every transform;
//! y turned up. One unit of the drawing in mm is told by a width in mm, cm, in, pt or pc over the viewBox. XML and the words of
//! paths and transforms are read by crates that are kept for it; curves are cut into pieces here, for a kept crate takes arcs to
//! a tenth of a unit only, which at 1:10 in cm is 10 mm of boat.
//!
//! Source: [SVG2] chapters 8 (coordinates), 9 (paths, with B.2.4 for arcs), 10 (shapes). Left out and named: `use`, images, an `svg`
//! within another that has a frame of its own. Left out: transforms and styles that stand in sheets.

use super::curve::{Curve, Drawing, Label, MOST_POINTS, Spot, apart, ellipse, length, within};
use super::problem::{ReadInError, ReadInProblem as Problem};
use roxmltree::{Document, Node, ParsingOptions};
use std::f64::consts::TAU;
use std::str::FromStr;
use svgtypes::{LengthUnit, PathParser, PathSegment, PointsParser, Transform, ViewBox};

/// Elements and texts that are read.
const MOST_NODES: u32 = 200_000;

/// Reads an SVG file.
///
/// # Errors
/// The first line that cannot be read, what stands there and what to do.
pub fn drawing(text: &str) -> Result<Drawing, ReadInError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let not_so = |found: String, remedy| Problem::NotSo { wanted: "an SVG file", found, remedy };
    // Entities could be made to grow without end, and no drawing program needs them.
    if let Some(at) = text.find("<!ENTITY") {
        let line = 1 + text.get(..at).map_or(0, |t| t.matches('\n').count());
        return Err(not_so("it defines entities".to_owned(), "save it as plain SVG").on(line));
    }
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|why| {
        let line = usize::try_from(why.pos().row).unwrap_or(1);
        not_so(why.to_string(), "save it again as SVG").on(line)
    })?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        let found = format!("its first element is {}", root.tag_name().name());
        return Err(not_so(found, "save it again as SVG").nowhere());
    }
    let lines = text.match_indices('\n').map(|(at, _)| at).collect();
    let mut reader = Reader { lines, drawing: Drawing::default() };
    reader.drawing.unit = reader.unit(root)?.map(|mm| (mm, "its width and viewBox"));
    reader.walk(root)?;
    let mut drawing = reader.drawing;
    let spots =
        drawing.curves.iter_mut().flat_map(|c| &mut c.points).chain(drawing.labels.iter_mut().map(|l| &mut l.at));
    spots.for_each(|p| p[1] = -p[1]);
    Ok(drawing)
}

struct Reader {
    /// Where its lines end.
    lines: Vec<usize>,
    drawing: Drawing,
}

/// What holds no drawing of its own, or one that is not shown.
const HIDDEN: [&str; 9] = ["defs", "symbol", "clipPath", "mask", "pattern", "marker", "metadata", "style", "script"];

impl Reader {
    fn line(&self, node: Node<'_, '_>) -> usize {
        1 + self.lines.partition_point(|end| *end < node.range().start)
    }

    fn wrong(&self, node: Node<'_, '_>, found: &str, wanted: &'static str) -> ReadInError {
        let problem = Problem::NoNumber { found: found.to_owned(), wanted };
        problem.at(self.line(node), node.tag_name().name().to_owned())
    }

    /// One user unit in mm, from width, height and viewBox; `None` where they do not tell it.
    fn unit(&self, root: Node<'_, '_>) -> Result<Option<f64>, ReadInError> {
        let length_of = |name| match root.attribute(name) {
            Some(text) => {
                svgtypes::Length::from_str(text).map(Some).map_err(|_| self.wrong(root, text, "a width or height"))
            }
            None => Ok(None),
        };
        let view = match root.attribute("viewBox") {
            Some(text) => {
                Some(ViewBox::from_str(text).map_err(|_| self.wrong(root, text, "a viewBox of four numbers"))?)
            }
            None => None,
        };
        let mm = |l: svgtypes::Length| match l.unit {
            LengthUnit::Mm => Some(l.number),
            LengthUnit::Cm => Some(10.0 * l.number),
            LengthUnit::In => Some(25.4 * l.number),
            LengthUnit::Pt => Some(25.4 / 72.0 * l.number),
            LengthUnit::Pc => Some(25.4 / 6.0 * l.number),
            _ => None,
        };
        let [width, height] = [length_of("width")?, length_of("height")?].map(|l| l.and_then(mm));
        let Some(v) = view else { return Ok(None) };
        let [across, up] = [(width, v.w), (height, v.h)].map(|(mm, units)| mm.map(|mm| mm / units));
        let ratio = root.attribute("preserveAspectRatio").unwrap_or_default();
        let unit = match (across, up) {
            (Some(a), Some(b)) if ratio.trim_start().starts_with("none") && (a - b).abs() > 1e-4 * a => {
                return Err(self.wrong(root, "preserveAspectRatio none", "one scale across and up"));
            }
            // The viewBox fills the page, and is cut off; else the whole of it is shown.
            (Some(a), Some(b)) if ratio.contains("slice") => Some(a.max(b)),
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        match unit {
            Some(mm) if !(mm.is_finite() && mm > 0.0) => {
                let found = ["width", "height"].map(|name| root.attribute(name).unwrap_or_default()).join(" and ");
                Err(self.wrong(root, &found, "a width and height of more than 0"))
            }
            unit => Ok(unit),
        }
    }

    /// All elements within `root`, by hand and not by calls, so that nothing is nested too deep.
    fn walk(&mut self, root: Node<'_, '_>) -> Result<(), ReadInError> {
        let mut open = vec![(root, Transform::default())];
        while let Some((node, over)) = open.pop() {
            let own = self.placed(node, over)?;
            let name = node.tag_name().name();
            if HIDDEN.contains(&name) || hidden(node) {
                continue;
            }
            match name {
                "svg" if node != root && ["x", "y", "viewBox"].iter().any(|a| node.attribute(*a).is_some()) => {
                    let line = self.line(node);
                    self.drawing.leave_out(line, "svg within svg is passed over: it has a frame of its own");
                }
                "svg" | "g" | "a" | "switch" => {
                    let children: Vec<Node<'_, '_>> = node.children().filter(Node::is_element).collect();
                    open.extend(children.into_iter().rev().map(|c| (c, own)));
                }
                "use" | "image" | "foreignObject" => {
                    let line = self.line(node);
                    self.drawing.leave_out(line, &format!("{name} is passed over: it is no curve that is read"));
                }
                "text" => self.text(node, own)?,
                _ => {
                    for (points, closed) in self.shape(node, name)? {
                        self.put(node, own, points, closed)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn placed(&self, node: Node<'_, '_>, over: Transform) -> Result<Transform, ReadInError> {
        let Some(text) = node.attribute("transform") else { return Ok(over) };
        let own = Transform::from_str(text).map_err(|_| self.wrong(node, text, "a transform"))?;
        let (a, b) = (over, own);
        let whole = Transform::new(
            a.a * b.a + a.c * b.b,
            a.b * b.a + a.d * b.b,
            a.a * b.c + a.c * b.d,
            a.b * b.c + a.d * b.d,
            a.a * b.e + a.c * b.f + a.e,
            a.b * b.e + a.d * b.f + a.f,
        );
        let all = [whole.a, whole.b, whole.c, whole.d, whole.e, whole.f];
        if all.iter().all(|n| n.is_finite() && n.abs() < 1e9) {
            Ok(whole)
        } else {
            Err(self.wrong(node, text, "a transform"))
        }
    }

    fn number(&self, node: Node<'_, '_>, name: &str) -> Result<f64, ReadInError> {
        let Some(text) = node.attribute(name) else { return Ok(0.0) };
        let found = text.trim().trim_end_matches("px").parse::<f64>().ok().filter(|n| n.is_finite());
        found.ok_or_else(|| self.wrong(node, text, "a number"))
    }

    fn text(&mut self, node: Node<'_, '_>, own: Transform) -> Result<(), ReadInError> {
        let text: String = node.descendants().filter(Node::is_text).filter_map(|n| n.text()).collect();
        let inner = node.descendants().find(|n| n.is_element() && n.attribute("x").is_some()).unwrap_or(node);
        let at = apply(own, [self.number(inner, "x")?, self.number(inner, "y")?]);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        self.drawing.put_label(Label { text, at }, self.line(node))
    }

    fn shape(&self, node: Node<'_, '_>, name: &str) -> Result<Vec<(Vec<Spot>, bool)>, ReadInError> {
        let n = |name| self.number(node, name);
        let one = |points, closed| Ok(vec![(points, closed)]);
        match name {
            "path" => self.path(node),
            "line" => one(vec![[n("x1")?, n("y1")?], [n("x2")?, n("y2")?]], false),
            "polyline" | "polygon" => {
                let text = node.attribute("points").unwrap_or_default();
                let mut points: Vec<Spot> = PointsParser::from(text).map(|(x, y)| [x, y]).collect();
                let closed = name == "polygon";
                points.extend(points.first().copied().filter(|_| closed));
                one(points, closed)
            }
            "rect" => {
                let (x, y, w, h) = (n("x")?, n("y")?, n("width")?, n("height")?);
                one(vec![[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]], true)
            }
            "circle" => one(ellipse([n("cx")?, n("cy")?], [n("r")?, 0.0], [0.0, n("r")?], 0.0, TAU), true),
            "ellipse" => one(ellipse([n("cx")?, n("cy")?], [n("rx")?, 0.0], [0.0, n("ry")?], 0.0, TAU), true),
            _ => Ok(Vec::new()),
        }
    }

    fn path(&self, node: Node<'_, '_>) -> Result<Vec<(Vec<Spot>, bool)>, ReadInError> {
        let text = node.attribute("d").unwrap_or_default();
        let mut pen = Pen::default();
        for segment in PathParser::from(text) {
            let segment = segment.map_err(|why| self.wrong(node, &format!("{why}"), "a path"))?;
            pen.draw(&segment);
            within("points of curves", pen.count, MOST_POINTS, self.line(node))?;
        }
        pen.lift(false);
        Ok(pen.done)
    }

    fn put(
        &mut self,
        node: Node<'_, '_>,
        own: Transform,
        points: Vec<Spot>,
        closed: bool,
    ) -> Result<(), ReadInError> {
        let points: Vec<Spot> = points.into_iter().map(|p| apply(own, p)).collect();
        if points.len() < 2 {
            return Ok(());
        }
        if points.iter().flatten().any(|n| !n.is_finite() || n.abs() > 1e9) {
            return Err(self.wrong(node, "", "numbers of less than a thousand million"));
        }
        let line = self.line(node);
        let groups = node.ancestors().filter(Node::is_element).take(MOST_GROUPS);
        let names = groups.flat_map(names).take(MOST_NAMES).collect();
        self.drawing.put(Curve { names, line, points, closed })
    }
}

/// Names of a curve, and groups in one another that are asked for one: more say nothing.
const MOST_NAMES: usize = 12;
const MOST_GROUPS: usize = 100;

/// What an element is called: the label that a drawing program shows, and its id.
fn names<'a>(node: Node<'a, '_>) -> impl Iterator<Item = String> + use<'a> {
    let label = node.attributes().find(|a| a.name() == "label").map(|a| a.value().to_owned());
    let id = node.attribute("id").map(str::to_owned);
    label.into_iter().chain(id)
}

fn hidden(node: Node<'_, '_>) -> bool {
    let style = node.attribute("style").unwrap_or_default().replace(' ', "");
    let off =
        |name: &str, value: &str| node.attribute(name) == Some(value) || style.contains(&format!("{name}:{value}"));
    off("display", "none") || off("visibility", "hidden")
}

fn apply(t: Transform, p: Spot) -> Spot {
    [t.a * p[0] + t.c * p[1] + t.e, t.b * p[0] + t.d * p[1] + t.f]
}

/// A path being drawn.
#[derive(Default)]
struct Pen {
    points: Vec<Spot>,
    done: Vec<(Vec<Spot>, bool)>,
    /// Points of all.
    count: usize,
    /// Where the piece began.
    start: Spot,
    now: Spot,
    /// The last control point of a cubic and of a quadratic curve, if one was drawn last.
    cubic: Option<Spot>,
    quadratic: Option<Spot>,
}

impl Pen {
    fn lift(&mut self, closed: bool) {
        if self.points.len() > 1 {
            self.done.push((std::mem::take(&mut self.points), closed));
        }
        self.points.clear();
    }

    fn to(&mut self, p: Spot) {
        if self.points.is_empty() {
            self.points.push(self.now);
        }
        self.points.push(p);
        self.now = p;
        self.count += 1;
    }

    fn draw(&mut self, segment: &PathSegment) {
        let now = self.now;
        let at = |abs: bool, x: f64, y: f64| if abs { [x, y] } else { [now[0] + x, now[1] + y] };
        let mirrored = |c: Option<Spot>| c.map_or(now, |c| [2.0 * now[0] - c[0], 2.0 * now[1] - c[1]]);
        let (cubic, quadratic) = (self.cubic.take(), self.quadratic.take());
        match *segment {
            PathSegment::MoveTo { abs, x, y } => {
                self.lift(false);
                self.now = at(abs, x, y);
                self.start = self.now;
            }
            PathSegment::LineTo { abs, x, y } => self.to(at(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => self.to([if abs { x } else { now[0] + x }, now[1]]),
            PathSegment::VerticalLineTo { abs, y } => self.to([now[0], if abs { y } else { now[1] + y }]),
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                self.curve(at(abs, x1, y1), at(abs, x2, y2), at(abs, x, y));
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                self.curve(mirrored(cubic), at(abs, x2, y2), at(abs, x, y));
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => self.quadratic(at(abs, x1, y1), at(abs, x, y)),
            PathSegment::SmoothQuadratic { abs, x, y } => self.quadratic(mirrored(quadratic), at(abs, x, y)),
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                self.arc([rx, ry], x_axis_rotation.to_radians(), large_arc, sweep, at(abs, x, y));
            }
            PathSegment::ClosePath { .. } => {
                if apart(now, self.start) > 0.0 {
                    self.to(self.start);
                }
                self.now = self.start;
                self.lift(true);
            }
        }
    }

    fn curve(&mut self, b: Spot, c: Spot, d: Spot) {
        let a = self.now;
        let pieces = pieces(&[a, b, c, d]);
        for i in 1..=pieces {
            let t = i as f64 / pieces as f64;
            let u = 1.0 - t;
            let by = [u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t];
            self.to([0, 1].map(|k| by[0] * a[k] + by[1] * b[k] + by[2] * c[k] + by[3] * d[k]));
        }
        self.cubic = Some(c);
    }

    /// The same as a cubic curve whose middle points stand two thirds of the way to `b`.
    fn quadratic(&mut self, b: Spot, c: Spot) {
        let a = self.now;
        let toward = |p: Spot| [0, 1].map(|k| p[k] + 2.0 / 3.0 * (b[k] - p[k]));
        self.curve(toward(a), toward(c), c);
        self.cubic = None;
        self.quadratic = Some(b);
    }

    /// [SVG2] B.2.4: from the ends to the centre.
    fn arc(&mut self, radii: Spot, turned: f64, large: bool, sweep: bool, to: Spot) {
        let from = self.now;
        let [mut rx, mut ry] = radii.map(f64::abs);
        if rx < 1e-12 || ry < 1e-12 || apart(from, to) < 1e-12 {
            return self.to(to);
        }
        let (sin, cos) = turned.sin_cos();
        let [hx, hy] = [0.5 * (from[0] - to[0]), 0.5 * (from[1] - to[1])];
        let (x, y) = (cos * hx + sin * hy, cos * hy - sin * hx);
        // Radii too small to reach are made larger.
        let reach = (x / rx).powi(2) + (y / ry).powi(2);
        if reach > 1.0 {
            rx *= reach.sqrt();
            ry *= reach.sqrt();
        }
        let below = (rx * y).powi(2) + (ry * x).powi(2);
        let side = if large == sweep { -1.0 } else { 1.0 };
        let share = side * (((rx * ry).powi(2) - below).max(0.0) / below).sqrt();
        let (cx, cy) = (share * rx * y / ry, -share * ry * x / rx);
        let centre = [cos * cx - sin * cy + 0.5 * (from[0] + to[0]), sin * cx + cos * cy + 0.5 * (from[1] + to[1])];
        let begin = ((y - cy) / ry).atan2((x - cx) / rx);
        let end = ((-y - cy) / ry).atan2((-x - cx) / rx);
        let turn = (end - begin).rem_euclid(TAU) - if sweep { 0.0 } else { TAU };
        let points = ellipse(centre, [rx * cos, rx * sin], [-ry * sin, ry * cos], begin, begin + turn);
        points.into_iter().skip(1).for_each(|p| self.to(p));
        if let Some(last) = self.points.last_mut() {
            *last = to;
        }
        self.now = to;
    }
}

/// Pieces of a cubic curve, so that none leaves it by more than 1/50000 of its length: a chord leaves a curve by an eighth of
/// its second derivative, which is six times the second differences of its points at most.
fn pieces(points: &[Spot; 4]) -> usize {
    let second = |i: usize| [0, 1].map(|k: usize| points[i][k] - 2.0 * points[i + 1][k] + points[i + 2][k]);
    let most = [second(0), second(1)].map(|[x, y]| x.hypot(y)).into_iter().fold(0.0, f64::max);
    let long = length(points).max(f64::MIN_POSITIVE);
    ((0.75 * most / (2e-5 * long)).sqrt().ceil() as usize).clamp(1, 300)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn svg(head: &str, inside: &str) -> Result<Drawing, String> {
        let text = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" {head}>\n{inside}</svg>");
        drawing(&text).map_err(|why| why.to_string())
    }

    #[test]
    fn the_unit_is_that_of_what_is_shown() {
        let unit = |head: &str| svg(head, "").map(|d| d.unit.map(|u| u.0));
        // The page is 200 by 100 mm, the viewBox 100 by 100 units: shown whole, a unit is 1 mm; cut off to fill the page, 2.
        let page = "width=\"200mm\" height=\"100mm\" viewBox=\"0 0 100 100\"";
        assert_eq!(unit(page), Ok(Some(1.0)));
        assert_eq!(unit(&format!("{page} preserveAspectRatio=\"xMidYMid slice\"")), Ok(Some(2.0)));
        assert!(unit(&format!("{page} preserveAspectRatio=\"none\"")).is_err());
        for width in ["0mm", "-200mm"] {
            let why = unit(&page.replace("200mm", width)).unwrap_err();
            assert!(why.contains("a width and height of more than 0"), "{why}");
        }
    }

    /// A frame within the drawing would move and scale what is in it; it is not read, and that is told.
    #[test]
    fn a_frame_within_is_passed_over_and_told() {
        let inner = |head: &str| format!("<svg {head}><path d=\"M0 0L9 9\"/></svg><path d=\"M1 1L2 2M3 3L3 3\"/>");
        let framed = svg("", &inner("x=\"5\" viewBox=\"0 0 2 2\"")).unwrap();
        assert_eq!(framed.curves.len(), 1);
        assert_eq!(
            framed.left_out,
            [
                "line 2: svg within svg is passed over: it has a frame of its own",
                "line 2: a curve without length is passed over"
            ]
        );
        assert_eq!(svg("", &inner("")).unwrap().curves.len(), 2);
    }
}
