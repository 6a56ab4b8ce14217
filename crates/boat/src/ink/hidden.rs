//! What is seen and what is hidden.
//!
//! All triangles are laid on the eye's picture, where the inverse of the depth runs evenly over each; a grid of cells holds
//! the triangles that touch it. A point is hidden if a triangle of its cell covers it with a greater inverse depth.

use super::{Fine, Line, OFF, Run, Scene};
use crate::eyes::Eye;
use crate::geom::{Point, Vector, unit_or};

/// A triangle on the picture.
#[derive(Debug, Clone, Copy)]
struct Shade {
    corners: [[f64; 2]; 3],
    /// One over the depth at each, 1/mm.
    near: [f64; 3],
    /// Twice its area, with its sign.
    area: f64,
}

/// The scene's triangles as one eye sees them.
#[derive(Debug)]
pub struct Hider<'a> {
    eye: &'a Eye,
    shades: Vec<Shade>,
    low: [f64; 2],
    cell: f64,
    across: usize,
    up: usize,
    /// For each cell where its triangles begin in `held`, and at the end where the last one's end.
    starts: Vec<usize>,
    held: Vec<u32>,
}

/// Cells for each triangle.
const CELLS: f64 = 1.0;
/// A triangle reaches this share of its size past its sides, so that nothing is seen between two that share one.
const PAST: f64 = 1e-9;
/// Hidden by less than this share of the depth is seen.
const NEARER: f64 = 1e-9;

impl<'a> Hider<'a> {
    /// `scene` as `eye` sees it; `None` where the eye is among her planks, or there is nothing to see.
    #[must_use]
    pub fn new(scene: &Scene, eye: &'a Eye) -> Option<Self> {
        let corners = || scene.faces.iter().flatten();
        if corners().any(|p| !p.iter().all(|v| v.is_finite()) || !eye.is_before(p)) {
            return None;
        }
        let shades: Vec<Shade> = scene.faces.iter().filter_map(|f| Shade::of(f, eye)).collect();
        let mut low = [f64::MAX; 2];
        let mut high = [f64::MIN; 2];
        for c in shades.iter().flat_map(|s| &s.corners) {
            for i in 0..2 {
                low[i] = low[i].min(c[i]);
                high[i] = high[i].max(c[i]);
            }
        }
        if shades.is_empty() {
            return None;
        }
        let [wide, tall] = [high[0] - low[0], high[1] - low[1]];
        let cell = (wide.max(1.0) * tall.max(1.0) / (CELLS * shades.len() as f64)).sqrt().max(1e-3);
        let (across, up) = ((wide / cell) as usize + 1, (tall / cell) as usize + 1);
        let mut hider = Hider { eye, shades, low, cell, across, up, starts: Vec::new(), held: Vec::new() };
        hider.fill();
        Some(hider)
    }

    /// The box that her picture fills: left, right, low and high, mm as seen.
    #[must_use]
    pub fn extent(&self) -> [f64; 4] {
        let corners = || self.shades.iter().flat_map(|s| &s.corners);
        let least = |i: usize| corners().map(|c| c[i]).fold(f64::MAX, f64::min);
        let most = |i: usize| corners().map(|c| c[i]).fold(f64::MIN, f64::max);
        [least(0), most(0), least(1), most(1)]
    }

    /// Puts each triangle in the cells that its box touches.
    fn fill(&mut self) {
        let mut counts = vec![0_usize; self.across * self.up + 1];
        let boxes: Vec<[usize; 4]> = self.shades.iter().map(|s| self.cells_of(s)).collect();
        for b in &boxes {
            for row in b[2]..=b[3] {
                for column in b[0]..=b[1] {
                    counts[row * self.across + column + 1] += 1;
                }
            }
        }
        for i in 1..counts.len() {
            counts[i] += counts[i - 1];
        }
        let mut next = counts.clone();
        self.held = vec![0; counts[counts.len() - 1]];
        for (i, b) in boxes.iter().enumerate() {
            for row in b[2]..=b[3] {
                for column in b[0]..=b[1] {
                    let cell = row * self.across + column;
                    self.held[next[cell]] = i as u32;
                    next[cell] += 1;
                }
            }
        }
        self.starts = counts;
    }

    fn cells_of(&self, s: &Shade) -> [usize; 4] {
        let index =
            |v: f64, axis: usize, most: usize| (((v - self.low[axis]) / self.cell).max(0.0) as usize).min(most - 1);
        let least = |axis: usize| s.corners.iter().map(|c| c[axis]).fold(f64::MAX, f64::min);
        let most = |axis: usize| s.corners.iter().map(|c| c[axis]).fold(f64::MIN, f64::max);
        [
            index(least(0), 0, self.across),
            index(most(0), 0, self.across),
            index(least(1), 1, self.up),
            index(most(1), 1, self.up),
        ]
    }

    /// The triangles that may cover the place `at`.
    fn at(&self, at: [f64; 2]) -> impl Iterator<Item = &Shade> {
        let [x, y] = [0, 1].map(|i| (at[i] - self.low[i]) / self.cell);
        let inside = x >= 0.0 && y >= 0.0 && (x as usize) < self.across && (y as usize) < self.up;
        let cell = if inside { y as usize * self.across + x as usize } else { 0 };
        let held = if inside { self.starts[cell]..self.starts[cell + 1] } else { 0..0 };
        self.held[held].iter().map(|&i| &self.shades[i as usize])
    }

    /// Whether anything of her is at this place of the picture.
    #[must_use]
    pub fn covers(&self, at: [f64; 2]) -> bool {
        self.at(at).any(|s| s.nearness(at).is_some())
    }

    /// Whether the point is seen that lies [`OFF`] from `p` on the way `free`.
    #[must_use]
    pub fn sees(&self, p: &Point, free: &Vector) -> bool {
        let p = off(p, free);
        let (at, near) = (self.eye.sees(&p), 1.0 / self.eye.depth(&p));
        self.at(at).all(|s| s.nearness(at).is_none_or(|n| n <= near * (1.0 + NEARER)))
    }
}

/// The point that is looked for in place of `p`.
fn off(p: &Point, free: &Vector) -> Point {
    p + unit_or(*free, Vector::zeros()) * OFF
}

impl Shade {
    /// A triangle; `None` for one that is seen edge on and covers nothing.
    fn of(face: &[Point; 3], eye: &Eye) -> Option<Self> {
        let corners = [0, 1, 2].map(|i| eye.sees(&face[i]));
        let near = [0, 1, 2].map(|i| 1.0 / eye.depth(&face[i]));
        let [a, b, c] = corners;
        let area = cross(a, b, c);
        (area.abs() > 1e-9).then_some(Shade { corners, near, area })
    }

    /// One over the depth at the place `at`, if it covers that.
    fn nearness(&self, at: [f64; 2]) -> Option<f64> {
        let [a, b, c] = self.corners;
        let shares = [cross(b, c, at) / self.area, cross(c, a, at) / self.area, cross(a, b, at) / self.area];
        let inside = shares.iter().all(|s| *s >= -PAST);
        inside.then(|| shares.iter().zip(&self.near).map(|(s, n)| s * n).sum())
    }
}

/// Twice the area of a triangle, + anticlockwise.
fn cross(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// A place on a line.
#[derive(Debug, Clone, Copy)]
struct On {
    point: Point,
    free: Vector,
    seen: bool,
}

/// The pieces of `lines` that are seen, in the order of the lines.
#[must_use]
pub fn runs(hider: &Hider<'_>, lines: &[Line], fine: &Fine) -> Vec<Run> {
    lines.iter().flat_map(|line| pieces(hider, line, fine)).collect()
}

fn pieces(hider: &Hider<'_>, line: &Line, fine: &Fine) -> Vec<Run> {
    let mut found: Vec<Vec<On>> = Vec::new();
    let mut run: Vec<On> = Vec::new();
    let mut last: Option<On> = None;
    for on in steps(hider, line, fine.step) {
        match last {
            Some(before) if before.seen != on.seen => {
                let edge = edge(hider, before, on, fine.edge);
                if on.seen {
                    run = vec![edge, on];
                } else {
                    run.push(edge);
                    found.push(std::mem::take(&mut run));
                }
            }
            _ if on.seen => run.push(on),
            _ => {}
        }
        last = Some(on);
    }
    found.push(run);
    found
        .into_iter()
        .filter_map(|on| piece(hider, line, &on, fine))
        .flat_map(|run| by_outline(hider, run, fine))
        .collect()
}

/// A piece, if it is long enough.
fn piece(hider: &Hider<'_>, line: &Line, on: &[On], fine: &Fine) -> Option<Run> {
    let seen: Vec<[f64; 2]> = on.iter().map(|on| hider.eye.sees(&on.point)).collect();
    let length: f64 = seen.windows(2).map(|w| apart(w[0], w[1])).sum();
    let (points, free) = on.iter().map(|on| (on.point, on.free)).unzip();
    (length >= fine.least).then_some(Run { kind: line.kind, outline: false, points, free, seen })
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (b[0] - a[0]).hypot(b[1] - a[1])
}

/// Looks along the line, no further apart than `step` as seen.
fn steps(hider: &Hider<'_>, line: &Line, step: f64) -> Vec<On> {
    let look = |point: Point, free: Vector| On { seen: hider.sees(&point, &free), point, free };
    let mut found = Vec::new();
    for i in 0..line.points.len() {
        if i > 0 {
            let (a, b) = (line.points[i - 1], line.points[i]);
            let (f, g) = (line.free[i - 1], line.free[i]);
            let pieces = (apart(hider.eye.sees(&a), hider.eye.sees(&b)) / step).ceil().max(1.0);
            for k in 1..pieces as usize {
                let share = k as f64 / pieces;
                found.push(look(a + (b - a) * share, f + (g - f) * share));
            }
        }
        found.push(look(line.points[i], line.free[i]));
    }
    found
}

/// Where between two places seen turns to hidden: the last place found seen.
fn edge(hider: &Hider<'_>, a: On, b: On, edge: f64) -> On {
    let (mut seen, mut hidden) = if a.seen { (a, b) } else { (b, a) };
    while apart(hider.eye.sees(&seen.point), hider.eye.sees(&hidden.point)) > edge {
        let (point, free) = (nalgebra::center(&seen.point, &hidden.point), 0.5 * (seen.free + hidden.free));
        let middle = On { point, free, seen: hider.sees(&point, &free) };
        if middle.seen { seen = middle } else { hidden = middle }
    }
    seen
}

/// A piece parted where the outline begins and ends; stretches too short to be told go with what is before them.
fn by_outline(hider: &Hider<'_>, run: Run, fine: &Fine) -> Vec<Run> {
    let alone = |a: [f64; 2], b: [f64; 2]| {
        let long = apart(a, b).max(f64::MIN_POSITIVE);
        let [dx, dy] = [(b[0] - a[0]) / long * fine.beside, (b[1] - a[1]) / long * fine.beside];
        let middle = [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])];
        !hider.covers([middle[0] - dy, middle[1] + dx]) || !hider.covers([middle[0] + dy, middle[1] - dx])
    };
    // Each chord of the run, and the stretches of chords of one kind.
    let mut stretches: Vec<(bool, usize, usize, f64)> = Vec::new();
    for (i, w) in run.seen.windows(2).enumerate() {
        let (outline, long) = (alone(w[0], w[1]), apart(w[0], w[1]));
        match stretches.last_mut() {
            Some(s) if s.0 == outline => (s.2, s.3) = (i + 1, s.3 + long),
            _ => stretches.push((outline, i, i + 1, long)),
        }
    }
    let told = OUTLINE_TOLD * fine.step;
    while stretches.len() > 1 {
        let Some(least) = (0..stretches.len()).min_by(|&a, &b| stretches[a].3.total_cmp(&stretches[b].3)) else {
            break;
        };
        if stretches[least].3 >= told {
            break;
        }
        stretches[least].0 = !stretches[least].0;
        let mut merged: Vec<(bool, usize, usize, f64)> = Vec::new();
        for s in stretches {
            match merged.last_mut() {
                Some(m) if m.0 == s.0 => (m.2, m.3) = (s.2, m.3 + s.3),
                _ => merged.push(s),
            }
        }
        stretches = merged;
    }
    let part = |(outline, from, to, _): (bool, usize, usize, f64)| Run {
        kind: run.kind,
        outline,
        points: run.points[from..=to].to_vec(),
        free: run.free[from..=to].to_vec(),
        seen: run.seen[from..=to].to_vec(),
    };
    stretches.into_iter().map(part).collect()
}

/// A stretch of outline shorter than so many steps is not told from the rest.
const OUTLINE_TOLD: f64 = 4.0;
