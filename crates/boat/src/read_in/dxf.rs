//! Curves from a DXF file (text form).
//!
//! LINE, LWPOLYLINE and POLYLINE with bulges, ARC, CIRCLE, ELLIPSE, SPLINE, TEXT and MTEXT of the section ENTITIES, seen from above,
//! by layers; the unit from $INSUNITS. A small reader of our own: the pairs of a code and a value are all there is to the
//! form, and the kept crate brings dates, pictures and random numbers with it.
//!
//! Source: [DXF] the published reference of group codes. Left out and named: blocks and what is inserted of them, hatches,
//! solids, dimensions.

use super::curve::{Curve, Drawing, LEAST_TURN, Label, MOST_POINTS, Spot, bulge, ellipse, within};
use super::problem::{ReadInError, ReadInProblem as Problem};

/// A code, its value and the value's line.
#[derive(Clone, Copy)]
struct Pair<'a> {
    code: i32,
    value: &'a str,
    line: usize,
}

/// $INSUNITS: mm of each, and its name.
const UNITS: [(i32, f64, &str); 5] =
    [(1, 25.4, "in"), (2, 304.8, "ft"), (4, 1.0, "mm"), (5, 10.0, "cm"), (6, 1000.0, "m")];

/// Most control points and knots of a spline.
const MOST_CONTROLS: usize = 2000;

/// Reads a DXF file.
///
/// # Errors
/// The first line that cannot be read, what stands there and what to do.
pub fn drawing(text: &str) -> Result<Drawing, ReadInError> {
    if text.starts_with("AutoCAD Binary DXF") {
        return Err(not_so("a binary DXF file", "save it as DXF in text form"));
    }
    let pairs = pairs(text)?;
    let mut drawing = Drawing::of_unit(unit(&pairs)?);
    let is = |p: &Pair<'_>, value: &str| p.code == 0 && p.value == value;
    let begin = pairs.windows(2).position(|w| is(&w[0], "SECTION") && w[1].code == 2 && w[1].value == "ENTITIES");
    let Some(begin) = begin else {
        return Err(not_so("no section ENTITIES is in it", "save the drawing as DXF again"));
    };
    let body = &pairs[begin + 2..];
    let end = body.iter().position(|p| is(p, "ENDSEC"));
    let Some(end) = end else {
        let line = pairs.last().map_or(1, |p| p.line);
        let found = "the section ENTITIES does not end".to_owned();
        let problem =
            Problem::NotSo { wanted: "a whole DXF file", found, remedy: "the file is cut short: save it again" };
        return Err(problem.on(line));
    };
    let mut rest = &body[..end];
    while let Some((first, after)) = rest.split_first() {
        let length = after.iter().position(|p| p.code == 0).unwrap_or(after.len());
        let (own, next) = after.split_at(length);
        rest = next;
        let entity = Entity { kind: first.value, line: first.line, pairs: own };
        if entity.kind == "POLYLINE" {
            // Its vertices follow as entities of their own; what comes after them is none of it, though its end be lost.
            let length = rest.iter().position(|p| p.code == 0 && p.value != "VERTEX").unwrap_or(rest.len());
            let (vertices, next) = rest.split_at(length);
            rest = next;
            entity.old_polyline(vertices, &mut drawing)?;
        } else {
            entity.read(&mut drawing)?;
        }
    }
    Ok(drawing)
}

fn not_so(found: &str, remedy: &'static str) -> ReadInError {
    Problem::NotSo { wanted: "a DXF file in text form", found: found.to_owned(), remedy }.nowhere()
}

fn pairs(text: &str) -> Result<Vec<Pair<'_>>, ReadInError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = text.lines().enumerate();
    let mut pairs = Vec::new();
    while let Some((i, code)) = lines.next() {
        let code = code.trim();
        if code.is_empty() && pairs.is_empty() {
            continue;
        }
        let Ok(number) = code.parse::<i32>() else {
            // Past the end some programs leave an empty line.
            if code.is_empty() && lines.clone().all(|(_, l)| l.trim().is_empty()) {
                break;
            }
            return Err(Problem::NoNumber {
                found: code.to_owned(),
                wanted: "the code of a DXF pair, a whole number,",
            }
            .on(i + 1));
        };
        let Some((j, value)) = lines.next() else {
            return Err(Problem::NoNumber { found: String::new(), wanted: "the value of the last code" }.on(i + 1));
        };
        pairs.push(Pair { code: number, value: value.trim(), line: j + 1 });
    }
    if pairs.is_empty() {
        return Err(Problem::Empty.nowhere());
    }
    Ok(pairs)
}

fn unit(pairs: &[Pair<'_>]) -> Result<Option<(f64, &'static str)>, ReadInError> {
    let Some(i) = pairs.iter().position(|p| p.code == 9 && p.value == "$INSUNITS") else { return Ok(None) };
    let Some(value) = pairs.get(i + 1) else { return Ok(None) };
    let number = value.value.parse::<i32>().map_err(|_| {
        Problem::NoNumber { found: value.value.to_owned(), wanted: "the unit's number ($INSUNITS)" }.on(value.line)
    })?;
    Ok(UNITS.iter().find(|u| u.0 == number).map(|u| (u.1, u.2)))
}

struct Entity<'a> {
    kind: &'a str,
    line: usize,
    pairs: &'a [Pair<'a>],
}

impl Entity<'_> {
    fn read(&self, drawing: &mut Drawing) -> Result<(), ReadInError> {
        let (points, closed) = match self.kind {
            "LINE" => (vec![self.spot(10)?, self.spot(11)?], false),
            "LWPOLYLINE" => self.polyline()?,
            "ARC" => (self.arc()?, false),
            "CIRCLE" => {
                let (centre, r) = (self.spot(10)?, self.radius()?);
                (ellipse(centre, [r, 0.0], [0.0, r], 0.0, std::f64::consts::TAU), true)
            }
            "ELLIPSE" => self.ellipse()?,
            "SPLINE" => self.spline()?,
            "TEXT" | "MTEXT" => {
                let text = plain_text(self.text(1));
                return drawing.put_label(Label { text, at: self.spot(10)? }, self.line);
            }
            // Nothing that draws.
            "VIEWPORT" | "POINT" | "SEQEND" | "VERTEX" => return Ok(()),
            other => {
                let what = format!("{other} on layer {} is passed over: it is no curve that is read", self.layer());
                drawing.leave_out(self.line, &what);
                return Ok(());
            }
        };
        self.put(points, closed, drawing)
    }

    fn put(&self, mut points: Vec<Spot>, closed: bool, drawing: &mut Drawing) -> Result<(), ReadInError> {
        // Seen from below where the entity's own z points down: x runs the other way. These stand in the drawing's axes.
        let own_axes = !["LINE", "SPLINE", "ELLIPSE"].contains(&self.kind);
        if own_axes && self.number_or(230, 1.0).is_ok_and(|z| z < 0.0) {
            points.iter_mut().for_each(|p| p[0] = -p[0]);
        }
        if points.len() < 2 {
            drawing.leave_out(self.line, &format!("{} has fewer than two points", self.kind));
            return Ok(());
        }
        drawing.put(Curve { names: vec![self.layer().to_owned()], line: self.line, points, closed })
    }

    fn layer(&self) -> &str {
        self.text(8)
    }

    fn text(&self, code: i32) -> &str {
        self.pairs.iter().find(|p| p.code == code).map_or("", |p| p.value)
    }

    fn numbers(&self, code: i32) -> Result<Vec<f64>, ReadInError> {
        self.pairs.iter().filter(|p| p.code == code).map(|p| number(p, self.kind)).collect()
    }

    fn number_or(&self, code: i32, otherwise: f64) -> Result<f64, ReadInError> {
        self.pairs.iter().find(|p| p.code == code).map_or(Ok(otherwise), |p| number(p, self.kind))
    }

    fn number(&self, code: i32, wanted: &'static str) -> Result<f64, ReadInError> {
        match self.pairs.iter().find(|p| p.code == code) {
            Some(pair) => number(pair, self.kind),
            None => Err(Problem::NoNumber { found: String::new(), wanted }.at(self.line, self.kind)),
        }
    }

    fn spot(&self, code: i32) -> Result<Spot, ReadInError> {
        Ok([self.number(code, "a point's x")?, self.number(code + 10, "a point's y")?])
    }

    fn radius(&self) -> Result<f64, ReadInError> {
        let r = self.number(40, "a radius")?;
        if r > 0.0 {
            return Ok(r);
        }
        Err(Problem::NoNumber { found: r.to_string(), wanted: "a radius of more than 0" }.at(self.line, self.kind))
    }

    fn arc(&self) -> Result<Vec<Spot>, ReadInError> {
        let (centre, r) = (self.spot(10)?, self.radius()?);
        let [from, to] = [self.number(50, "an angle")?, self.number(51, "an angle")?].map(f64::to_radians);
        let turn = (to - from).rem_euclid(std::f64::consts::TAU);
        let turn = if turn == 0.0 { std::f64::consts::TAU } else { turn };
        Ok(ellipse(centre, [r, 0.0], [0.0, r], from, from + turn))
    }

    fn ellipse(&self) -> Result<(Vec<Spot>, bool), ReadInError> {
        let (centre, major) = (self.spot(10)?, self.spot(11)?);
        let ratio = self.number(40, "the ratio of the axes")?;
        // The short axis stands to the left of the long one, or to its right where the ellipse's own z points down.
        let left = if self.number_or(230, 1.0)? < 0.0 { -ratio } else { ratio };
        let whole = std::f64::consts::TAU;
        let (from, to) = (self.number_or(41, 0.0)?, self.number_or(42, whole)?);
        let turn = if (to - from - whole).abs() < 1e-9 { whole } else { (to - from).rem_euclid(whole) };
        let points = ellipse(centre, major, [-major[1] * left, major[0] * left], from, from + turn);
        Ok((points, turn == whole))
    }

    fn polyline(&self) -> Result<(Vec<Spot>, bool), ReadInError> {
        let mut vertices: Vec<(Spot, f64)> = Vec::new();
        for pair in self.pairs {
            match (pair.code, vertices.last_mut()) {
                (10, _) => vertices.push(([number(pair, self.kind)?, 0.0], 0.0)),
                (20, Some(last)) => last.0[1] = number(pair, self.kind)?,
                (42, Some(last)) => last.1 = number(pair, self.kind)?,
                _ => {}
            }
        }
        bulged(&vertices, self.number_or(70, 0.0)?, self.line)
    }

    fn old_polyline(&self, vertices: &[Pair<'_>], drawing: &mut Drawing) -> Result<(), ReadInError> {
        let flags = self.number_or(70, 0.0)? as i64;
        if flags & (16 | 64) != 0 {
            drawing.leave_out(self.line, &format!("POLYLINE on layer {} is a mesh and is passed over", self.layer()));
            return Ok(());
        }
        let mut found: Vec<(Spot, f64)> = Vec::new();
        for part in vertices.split(|p| p.code == 0).skip(1) {
            let line = part.first().map_or(self.line, |p| p.line);
            let vertex = Entity { kind: "VERTEX", line, pairs: part };
            // Points that only steer a curve are not on it.
            if vertex.number_or(70, 0.0)? as i64 & 16 == 0 {
                found.push((vertex.spot(10)?, vertex.number_or(42, 0.0)?));
            }
        }
        let (points, closed) = bulged(&found, flags as f64, self.line)?;
        self.put(points, closed, drawing)
    }

    /// By de Boor's rule, with weights where there are any; or through its fit points, where it has no others.
    fn spline(&self) -> Result<(Vec<Spot>, bool), ReadInError> {
        let closed = self.number_or(70, 0.0)? as i64 & 1 == 1;
        let [x, y, knots, mut weights] = [self.numbers(10)?, self.numbers(20)?, self.numbers(40)?, self.numbers(41)?];
        let degree = self.number_or(71, 3.0)?.clamp(0.0, 12.0) as usize;
        let n = x.len();
        if n == 0 {
            let (x, y) = (self.numbers(11)?, self.numbers(21)?);
            return Ok((x.into_iter().zip(y).map(|(x, y)| [x, y]).collect(), closed));
        }
        let wrong = |found: String, wanted| Problem::NoNumber { found, wanted }.at(self.line, "SPLINE");
        if n > MOST_CONTROLS {
            let remedy = "draw it with fewer";
            let problem =
                Problem::TooMany { what: "control points of a spline", found: n, most: MOST_CONTROLS, remedy };
            return Err(problem.on(self.line));
        }
        if y.len() != n || degree == 0 || knots.len() != n + degree + 1 || n <= degree {
            let found = format!("{n} control points, degree {degree}, {} knots", knots.len());
            return Err(wrong(found, "as many knots as control points and degree and one"));
        }
        if knots.windows(2).any(|w| w[1] < w[0]) || knots[n] <= knots[degree] {
            return Err(wrong("knots that fall".to_owned(), "knots that rise"));
        }
        if weights.len() != n {
            weights = vec![1.0; n];
        }
        if weights.iter().any(|w| *w <= 0.0) {
            return Err(wrong("a weight of 0 or less".to_owned(), "a weight of more than 0"));
        }
        let controls: Vec<[f64; 3]> = (0..n).map(|i| [x[i] * weights[i], y[i] * weights[i], weights[i]]).collect();
        let mut points: Vec<Spot> = Vec::new();
        for span in degree..n {
            let (a, b) = (knots[span], knots[span + 1]);
            if b <= a {
                continue;
            }
            // A span of a smooth curve turns no more than this many steps follow.
            let pieces = ((1.0 / LEAST_TURN) as usize * 32 / n.max(8)).clamp(8, 200);
            let from = usize::from(!points.is_empty());
            for i in from..=pieces {
                let t = a + (b - a) * i as f64 / pieces as f64;
                points.push(de_boor(&controls, &knots, degree, span, t));
            }
        }
        Ok((points, closed))
    }
}

fn de_boor(controls: &[[f64; 3]], knots: &[f64], degree: usize, span: usize, t: f64) -> Spot {
    let mut d: Vec<[f64; 3]> = controls[span - degree..=span].to_vec();
    for round in 1..=degree {
        for j in (round..=degree).rev() {
            let i = span - degree + j;
            let (low, high) = (knots[i], knots[i + degree - round + 1]);
            let share = if high > low { (t - low) / (high - low) } else { 0.0 };
            d[j] = [0, 1, 2].map(|k| d[j - 1][k] * (1.0 - share) + d[j][k] * share);
        }
    }
    let [x, y, w] = d[degree];
    [x / w, y / w]
}

/// The points of a polyline whose vertices bulge on to the next, and whether it is closed.
fn bulged(vertices: &[(Spot, f64)], flags: f64, line: usize) -> Result<(Vec<Spot>, bool), ReadInError> {
    let closed = flags as i64 & 1 == 1;
    let mut points: Vec<Spot> = vertices.first().map(|v| v.0).into_iter().collect();
    let pairs = vertices.windows(2).map(|w| (w[0], w[1].0));
    let last = vertices.last().zip(vertices.first()).filter(|_| closed).map(|(l, f)| (*l, f.0));
    for ((a, by), b) in pairs.chain(last) {
        points.extend(bulge(a, b, by));
        // A short file may have very many vertices, and each arc some hundred points.
        within("points of curves", points.len(), MOST_POINTS, line)?;
    }
    Ok((points, closed))
}

fn number(pair: &Pair<'_>, kind: &str) -> Result<f64, ReadInError> {
    let found = pair.value.parse::<f64>().ok().filter(|n| n.is_finite() && n.abs() < 1e9);
    found.ok_or_else(|| {
        let problem =
            Problem::NoNumber { found: pair.value.to_owned(), wanted: "a number of less than a thousand million" };
        problem.at(pair.line, format!("{kind}, code {}", pair.code))
    })
}

/// A text without what only sets its type.
fn plain_text(text: &str) -> String {
    let text = text.rsplit(';').next().unwrap_or(text);
    text.replace("\\P", " ").replace(['{', '}'], "").trim().to_owned()
}
