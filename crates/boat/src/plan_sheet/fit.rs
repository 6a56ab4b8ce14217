//! The map from picture to plan that meets all marks best.
//!
//! With q = (p − p₀)/s a place of the picture brought to about 1, the map is
//!
//! ```text
//! along = (a q_x + b q_y + c) / w,   up = (d q_x + e q_y + f) / w,   w = 1 + g q_x + h q_y
//! ```
//!
//! with g = h = 0 where no perspective is taken out. It begins from the two lines: up is a scale times the distance from
//! the level line, along one times the distance from the plumb line, and the squares of both scales come from the known distances by
//! a linear system. With four known points it begins from the linear system of these.

use super::{Distance, Known, Laid, Left, Mark, Marks, PICKED, Pixel, PlanSheetError as Error};
use nalgebra::{DMatrix, DVector};

/// Marks of one kind.
const MOST: usize = 40;
/// Lengths on the plan, mm.
pub const LENGTHS: [f64; 2] = [1.0, 40_000.0];
/// Pixels.
pub const PIXELS: f64 = 1e6;
/// A line or a distance spans so many pixels at least: half a pixel is then a part in 200.
const LEAST_SPAN: f64 = 100.0;
/// The two lines cross at this, degrees, at least.
const LEAST_CROSSING: f64 = 45.0;
/// Of three known points one stands so many pixels off the line of the other two, at least.
const OFF_LINE: f64 = 50.0;
/// A mark contradicts the others where it is off by more than so many pixels, and by more than so many mm.
const MOST_OFF: [f64; 2] = [5.0, 3.0];
/// Known points from which on perspective is taken out.
const PERSPECTIVE: usize = 4;
const ROUNDS: usize = 60;

/// Numbers of the map and how places of the picture are brought to about 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Map {
    numbers: Vec<f64>,
    centre: Pixel,
    size: f64,
}

impl Map {
    pub fn count(&self) -> usize {
        self.numbers.len()
    }

    fn small(&self, p: Pixel) -> [f64; 2] {
        [0, 1].map(|d| (p[d] - self.centre[d]) / self.size)
    }

    fn weight(&self, q: [f64; 2]) -> f64 {
        match self.numbers[..] {
            [.., g, h] if self.numbers.len() == 8 => 1.0 + g * q[0] + h * q[1],
            _ => 1.0,
        }
    }

    pub fn at(&self, p: Pixel) -> [f64; 2] {
        let (q, n) = (self.small(p), &self.numbers);
        let w = self.weight(q);
        [(n[0] * q[0] + n[1] * q[1] + n[2]) / w, (n[3] * q[0] + n[4] * q[1] + n[5]) / w]
    }

    /// How along and up change with each number.
    pub fn by_numbers(&self, p: Pixel) -> [[f64; 8]; 2] {
        let (q, [u, v]) = (self.small(p), self.at(p));
        let w = self.weight(q);
        let [x, y] = q.map(|q| q / w);
        [[x, y, 1.0 / w, 0.0, 0.0, 0.0, -u * x, -u * y], [0.0, 0.0, 0.0, x, y, 1.0 / w, -v * x, -v * y]]
    }

    /// How along and up change with a pixel to the right and down.
    pub fn by_pixel(&self, p: Pixel) -> [[f64; 2]; 2] {
        let (q, [u, v], n) = (self.small(p), self.at(p), &self.numbers);
        let w = self.weight(q) * self.size;
        let [g, h] = if n.len() == 8 { [n[6], n[7]] } else { [0.0; 2] };
        [[(n[0] - u * g) / w, (n[1] - u * h) / w], [(n[3] - v * g) / w, (n[4] - v * h) / w]]
    }
}

/// Lays the picture on the plan.
///
/// # Errors
/// [`PlanSheetError`](super::PlanSheetError) names the mark, what is wrong with it, the limit and what to do.
pub fn laid(marks: &Marks) -> Result<Laid, Error> {
    checked(marks)?;
    let whole = fitted(marks)?;
    let (worst, limit) = whole.worst(marks);
    if worst.mm <= limit {
        return whole.laid(marks);
    }
    // The one without which the others agree best is to blame.
    let without = |mark: Mark| {
        let rest = left_out(marks, mark);
        let fit = checked(&rest).and_then(|()| fitted(&rest)).ok()?;
        let (left, limit) = fit.worst(&rest);
        let own = fit.off(marks, mark);
        Some((left.mm / limit, mark, own, limit))
    };
    let all = whole.left(marks).into_iter().map(|l| l.mark);
    let mut agree: Vec<_> = all.filter_map(without).filter(|b| b.0 <= 1.0).collect();
    agree.sort_by(|a, b| a.0.total_cmp(&b.0));
    let aslant = "; or the picture was taken aslant: mark four known points and more, and perspective is taken out";
    match agree[..] {
        [(_, mark, mm, limit), ref others @ ..] => {
            // Where few marks are to spare, another may be to blame as well.
            let also = others.iter().map(|o| format!("; or else it is {}", o.1)).collect();
            Err(Error::Contradicts { mark, mm, limit, also })
        }
        [] => {
            let also = if whole.map.count() == 6 { aslant.to_owned() } else { String::new() };
            Err(Error::Contradicts { mark: worst.mark, mm: worst.mm, limit, also })
        }
    }
}

fn left_out(marks: &Marks, mark: Mark) -> Marks {
    let mut rest = marks.clone();
    match mark {
        Mark::Level(i) => drop(rest.level.remove(i)),
        Mark::Plumb(i) => drop(rest.plumb.remove(i)),
        Mark::Distance(i) => drop(rest.distances.remove(i)),
        Mark::Point(i) => drop(rest.points.remove(i)),
    }
    rest
}

fn apart(a: Pixel, b: Pixel) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Numbers, spans and angles.
fn checked(marks: &Marks) -> Result<(), Error> {
    for (what, found) in [
        ("places of a line", marks.level.len().max(marks.plumb.len())),
        ("distances", marks.distances.len()),
        ("points", marks.points.len()),
    ] {
        if found > MOST {
            return Err(Error::TooMany { what, found, most: MOST });
        }
    }
    let number = |mark: Mark, all: &[f64], lengths: &[f64]| {
        let bad = all.iter().find(|n| !n.is_finite() || n.abs() > PIXELS);
        let long = lengths.iter().find(|n| !n.is_finite() || n.abs() > LENGTHS[1]);
        match bad.or(long) {
            Some(found) => Err(Error::Number { mark, found: *found, least: LENGTHS[0], most: LENGTHS[1] }),
            None => Ok(()),
        }
    };
    for (i, p) in marks.level.iter().enumerate() {
        number(Mark::Level(i), p, &[])?;
    }
    for (i, p) in marks.plumb.iter().enumerate() {
        number(Mark::Plumb(i), p, &[])?;
    }
    for (i, d) in marks.distances.iter().enumerate() {
        let mark = Mark::Distance(i);
        number(mark, &[d.from, d.to].concat(), &[d.mm])?;
        if d.mm < LENGTHS[0] {
            return Err(Error::Number { mark, found: d.mm, least: LENGTHS[0], most: LENGTHS[1] });
        }
        near(mark, apart(d.from, d.to))?;
    }
    for (i, k) in marks.points.iter().enumerate() {
        number(Mark::Point(i), &k.pixel, &k.place)?;
    }
    for (line, places, mark) in
        [("level line", &marks.level, Mark::Level(0)), ("line square to it", &marks.plumb, Mark::Plumb(0))]
    {
        if places.len() < 2 {
            return Err(Error::FewOnLine { line, found: places.len() });
        }
        let span = places.iter().flat_map(|a| places.iter().map(|b| apart(*a, *b))).fold(0.0, f64::max);
        near(mark, span)?;
    }
    let [level, plumb] = [&marks.level, &marks.plumb].map(|l| line(l));
    let turn = (level.along[0] * plumb.along[1] - level.along[1] * plumb.along[0]).abs().asin().to_degrees();
    if turn < LEAST_CROSSING {
        return Err(Error::NotSquare { found: turn, least: LEAST_CROSSING });
    }
    if marks.points.len() >= PERSPECTIVE { no_three(&marks.points) } else { Ok(()) }
}

fn near(mark: Mark, found: f64) -> Result<(), Error> {
    let part = (LEAST_SPAN / PICKED) as u32;
    if found < LEAST_SPAN { Err(Error::TooNear { mark, found, least: LEAST_SPAN, part }) } else { Ok(()) }
}

/// Whether some four of the points have no three on a line; else the three that are nearest to one.
fn no_three(points: &[Known]) -> Result<(), Error> {
    let n = points.len();
    let off = |i: usize, j: usize, k: usize| {
        let [a, b, c] = [i, j, k].map(|i| points[i].pixel);
        let long = apart(a, b).max(apart(b, c)).max(apart(a, c)).max(f64::MIN_POSITIVE);
        ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).abs() / long
    };
    let mut best = (f64::MIN, [0, 1, 2]);
    for i in 0..n {
        for j in i + 1..n {
            for k in j + 1..n {
                for l in k + 1..n {
                    let of = [[i, j, k], [i, j, l], [i, k, l], [j, k, l]];
                    let least = of.map(|t| (off(t[0], t[1], t[2]), t));
                    let least = least.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or(best);
                    if least.0 > best.0 {
                        best = least;
                    }
                }
            }
        }
    }
    let (within, points) = best;
    if within < OFF_LINE { Err(Error::OneLine { points, within, least: OFF_LINE }) } else { Ok(()) }
}

/// A straight line of the picture.
struct Line {
    through: Pixel,
    along: [f64; 2],
}

impl Line {
    /// How far a place stands off it, to the left of its way as drawn with y down.
    fn off(&self, p: Pixel) -> f64 {
        (p[0] - self.through[0]) * self.along[1] - (p[1] - self.through[1]) * self.along[0]
    }
}

/// By least squares square to it.
fn line(places: &[Pixel]) -> Line {
    let n = places.len().max(1) as f64;
    let through = [0, 1].map(|d| places.iter().map(|p| p[d]).sum::<f64>() / n);
    let sum = |a: usize, b: usize| places.iter().map(|p| (p[a] - through[a]) * (p[b] - through[b])).sum::<f64>();
    let turn = 0.5 * (2.0 * sum(0, 1)).atan2(sum(0, 0) - sum(1, 1));
    Line { through, along: [turn.cos(), turn.sin()] }
}

/// A map as it fits.
struct Fit {
    map: Map,
    inverse: DMatrix<f64>,
    /// Numbers that the marks give.
    given: usize,
}

impl Fit {
    /// What a mark is off, mm.
    fn off(&self, marks: &Marks, mark: Mark) -> f64 {
        let at = |p: Pixel| self.map.at(p);
        match mark {
            Mark::Level(i) => at(marks.level[i])[1].abs(),
            Mark::Plumb(i) => at(marks.plumb[i])[0].abs(),
            Mark::Distance(i) => {
                let d = &marks.distances[i];
                (apart(at(d.from), at(d.to)) - d.mm).abs()
            }
            Mark::Point(i) => apart(at(marks.points[i].pixel), marks.points[i].place),
        }
    }

    fn left(&self, marks: &Marks) -> Vec<Left> {
        let level = (0..marks.level.len()).map(Mark::Level);
        let plumb = (0..marks.plumb.len()).map(Mark::Plumb);
        let distances = (0..marks.distances.len()).map(Mark::Distance);
        let points = (0..marks.points.len()).map(Mark::Point);
        let all = level.chain(plumb).chain(distances).chain(points);
        all.map(|mark| Left { mark, mm: self.off(marks, mark) }).collect()
    }

    /// The mark that is farthest off, and how far it may be, mm.
    fn worst(&self, marks: &Marks) -> (Left, f64) {
        let left = self.left(marks);
        let limit = (MOST_OFF[0] * self.pixel()).max(MOST_OFF[1]);
        let none = Left { mark: Mark::Level(0), mm: 0.0 };
        (left.into_iter().max_by(|a, b| a.mm.total_cmp(&b.mm)).unwrap_or(none), limit)
    }

    /// In the middle of the marks.
    fn pixel(&self) -> f64 {
        let [along, up] = self.map.by_pixel(self.map.centre);
        along[0].hypot(along[1]).max(up[0].hypot(up[1]))
    }

    fn laid(self, marks: &Marks) -> Result<Laid, Error> {
        let left = self.left(marks);
        let to_spare = self.given.saturating_sub(self.map.count());
        let squares: f64 = left.iter().map(|l| l.mm * l.mm).sum();
        let spread = (to_spare > 0).then(|| (squares / to_spare as f64).sqrt());
        let picked = PICKED * self.pixel();
        Ok(Laid {
            perspective: self.map.count() == 8,
            spread,
            to_spare,
            // A few marks may agree by chance: they are never taken for better than they can be picked.
            mark: spread.map_or(picked, |s| s.max(picked)),
            left,
            map: self.map,
            covariance: self.inverse,
        })
    }
}

fn fitted(marks: &Marks) -> Result<Fit, Error> {
    let perspective = marks.points.len() >= PERSPECTIVE;
    let count = if perspective { 8 } else { 6 };
    let given = marks.level.len() + marks.plumb.len() + marks.distances.len() + 2 * marks.points.len();
    if given < count {
        return Err(Error::TooFew { found: given, needed: count });
    }
    let all: Vec<Pixel> = marks
        .level
        .iter()
        .chain(&marks.plumb)
        .copied()
        .chain(marks.distances.iter().flat_map(|d| [d.from, d.to]))
        .chain(marks.points.iter().map(|k| k.pixel))
        .collect();
    let n = all.len() as f64;
    let centre = [0, 1].map(|d| all.iter().map(|p| p[d]).sum::<f64>() / n);
    let size = all.iter().map(|p| apart(*p, centre)).fold(1.0, f64::max);
    let numbers = match perspective {
        true => from_points(&marks.points, centre, size)?,
        false => from_lines(marks, centre, size)?,
    };
    let mut map = Map { numbers, centre, size };
    let mut damping = 1e-6;
    let (mut rows, mut rest) = system(&map, marks);
    for _ in 0..ROUNDS {
        let normal = rows.transpose() * &rows;
        let mut damped = normal.clone();
        for i in 0..count {
            damped[(i, i)] *= 1.0 + damping;
        }
        let Some(step) = damped.cholesky().map(|c| c.solve(&(rows.transpose() * &rest))) else {
            return Err(Error::NoMap);
        };
        let tried = Map { numbers: map.numbers.iter().zip(step.iter()).map(|(n, s)| n - s).collect(), ..map.clone() };
        let (next, left) = system(&tried, marks);
        let better = left.norm_squared();
        if better.is_finite() && better <= rest.norm_squared() {
            let done = step.norm() < 1e-10 * (1.0 + map.numbers.iter().map(|n| n.abs()).fold(0.0, f64::max));
            (map, rows, rest) = (tried, next, left);
            damping = (damping * 0.1).max(1e-12);
            if done {
                break;
            }
        } else {
            damping *= 10.0;
            if damping > 1e9 {
                break;
            }
        }
    }
    if map.numbers.iter().any(|n| !n.is_finite()) || all.iter().any(|p| map.weight(map.small(*p)) < 0.05) {
        return Err(Error::NoMap);
    }
    let normal = rows.transpose() * &rows;
    let inverse = normal.cholesky().ok_or(Error::NoMap)?.inverse();
    Ok(Fit { map, inverse, given })
}

/// What each mark is off, and how that changes with the map's numbers.
fn system(map: &Map, marks: &Marks) -> (DMatrix<f64>, DVector<f64>) {
    let n = map.count();
    let mut rows: Vec<f64> = Vec::new();
    let mut off: Vec<f64> = Vec::new();
    let mut put = |row: &[f64], mm: f64| {
        rows.extend(&row[..n]);
        off.push(mm);
    };
    for p in &marks.level {
        put(&map.by_numbers(*p)[1], map.at(*p)[1]);
    }
    for p in &marks.plumb {
        put(&map.by_numbers(*p)[0], map.at(*p)[0]);
    }
    for Distance { from, to, mm } in &marks.distances {
        let ([u, v], [s, t]) = (map.at(*from), map.at(*to));
        let long = (u - s).hypot(v - t).max(f64::MIN_POSITIVE);
        let (a, b) = (map.by_numbers(*from), map.by_numbers(*to));
        let row: Vec<f64> =
            (0..8).map(|i| ((u - s) * (a[0][i] - b[0][i]) + (v - t) * (a[1][i] - b[1][i])) / long).collect();
        put(&row, long - mm);
    }
    for Known { pixel, place } in &marks.points {
        let (at, by) = (map.at(*pixel), map.by_numbers(*pixel));
        put(&by[0], at[0] - place[0]);
        put(&by[1], at[1] - place[1]);
    }
    (DMatrix::from_row_slice(off.len(), n, &rows), DVector::from_vec(off))
}

/// From the two lines and the squares of the two scales.
fn from_lines(marks: &Marks, centre: Pixel, size: f64) -> Result<Vec<f64>, Error> {
    let (level, plumb) = (line(&marks.level), line(&marks.plumb));
    // Each row: what the squares of the scale up and of the scale along are multiplied by, and what must come of it.
    let mut rows: Vec<[f64; 3]> = Vec::new();
    for d in &marks.distances {
        let up = level.off(d.from) - level.off(d.to);
        let along = plumb.off(d.from) - plumb.off(d.to);
        rows.push([up * up, along * along, d.mm * d.mm]);
    }
    for k in &marks.points {
        rows.push([level.off(k.pixel).powi(2), 0.0, k.place[1].powi(2)]);
        rows.push([0.0, plumb.off(k.pixel).powi(2), k.place[0].powi(2)]);
    }
    let sum = |f: &dyn Fn(&[f64; 3]) -> f64| rows.iter().map(f).sum::<f64>();
    let (a, b, c) = (sum(&|r| r[0] * r[0]), sum(&|r| r[0] * r[1]), sum(&|r| r[1] * r[1]));
    let (p, q) = (sum(&|r| r[0] * r[2]), sum(&|r| r[1] * r[2]));
    let determinant = a * c - b * b;
    if determinant <= 1e-4 * a.max(c).powi(2) {
        let up = a > c;
        let ways = ["square to the level line", "along the level line"];
        let [given, wanted] = if up { ways } else { [ways[1], ways[0]] };
        return Err(Error::OneWay { given, wanted });
    }
    let (up, along) = ((p * c - q * b) / determinant, (q * a - p * b) / determinant);
    if up <= 0.0 || along <= 0.0 {
        return Err(Error::NoScale);
    }
    // Up on the plan is up in the picture, along is to the right.
    let up = up.sqrt() * if level.along[0] > 0.0 { 1.0 } else { -1.0 };
    let along = along.sqrt() * if plumb.along[1] > 0.0 { 1.0 } else { -1.0 };
    let numbers = |line: &Line, scale: f64| {
        [scale * line.along[1] * size, -scale * line.along[0] * size, scale * line.off(centre)]
    };
    Ok([numbers(&plumb, along), numbers(&level, up)].concat())
}

/// From four known points or more, by the linear system of the map times its weight.
fn from_points(points: &[Known], centre: Pixel, size: f64) -> Result<Vec<f64>, Error> {
    let mut rows: Vec<f64> = Vec::new();
    let mut right: Vec<f64> = Vec::new();
    for k in points {
        let [x, y] = [0, 1].map(|d| (k.pixel[d] - centre[d]) / size);
        let [u, v] = k.place;
        rows.extend([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y]);
        rows.extend([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y]);
        right.extend([u, v]);
    }
    let rows = DMatrix::from_row_slice(right.len(), 8, &rows);
    let solved = rows.svd(true, true).solve(&DVector::from_vec(right), 1e-12).map_err(|_| Error::NoMap)?;
    Ok(solved.iter().copied().collect())
}
