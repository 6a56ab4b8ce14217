//! Shapes and boards as heights over cells of their length: what is quick to reckon with.
//!
//! Over every cell a shape reaches from its lowest to its highest point, and a board from the highest point of its lower edge to
//! the lowest of its upper one. So what lies clear here lies clear; what lies clear and is hollow across the grain, or fits
//! by less than a cell, may be missed.

use crate::body::{Body, Spot};
use crate::floor::{Floor, Spoilt};
use jagua_rs::geometry::geo_traits::TransformableFrom;
use jagua_rs::geometry::primitives::{Point, SPolygon};

/// A shape turned in one way.
#[derive(Debug, Clone)]
pub struct Pose {
    pub over: bool,
    pub turn: f32,
    /// Its left end from its middle; it begins at the first cell's edge.
    left: f32,
    /// From end to end.
    pub reach: f32,
    /// Lowest and highest over each cell.
    pub low: Vec<f32>,
    pub high: Vec<f32>,
    /// Highest of its lower edge and lowest of its upper one over each cell.
    inner: Vec<[f32; 2]>,
}

/// A board.
#[derive(Debug, Clone)]
pub struct Shelf {
    from: f32,
    pub length: f32,
    pub cell: f32,
    /// Widest over its length, and area, with the half saw cut beyond its edge.
    pub widest: f32,
    pub area: f32,
    pub floor: Vec<f32>,
    pub roof: Vec<f32>,
    spoilt: Vec<Spoilt>,
}

/// Stretches of a shape in which no blemish may lie, and how much wider than itself it is: what `Shelf::rise` must know.
#[derive(Debug, Clone)]
pub struct Soundness {
    pub sound: Vec<[f32; 2]>,
    pub wider: f32,
}

/// What lies clear keeps so much from what is under it, mm: single precision.
const SLACK: f32 = 0.05;

/// Outer and inner heights over the cells from `from` on: `[lowest, highest]`, `[highest of the lower edge, lowest of the upper]`.
fn heights(points: &[Point], from: f32, cell: f32, cells: usize) -> Vec<[[f32; 2]; 2]> {
    let mut out = vec![[[f32::MAX, f32::MIN], [f32::MIN, f32::MAX]]; cells];
    let edges = || points.iter().zip(points.iter().cycle().skip(1));
    // An anticlockwise outline runs to the right below and to the left above.
    let anticlockwise = edges().map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum::<f32>() >= 0.0;
    for (a, b) in edges() {
        let lower = (b.0 >= a.0) == anticlockwise;
        let (l, r) = if b.0 >= a.0 { (a, b) } else { (b, a) };
        let first = (((l.0 - from) / cell).floor().max(0.0) as usize).min(cells.saturating_sub(1));
        let last = (((r.0 - from) / cell).floor().max(0.0) as usize).min(cells.saturating_sub(1));
        let steep = (r.0 - l.0).abs() < 1e-6;
        let at = |x: f32| if steep { l.1 } else { l.1 + (r.1 - l.1) * ((x - l.0) / (r.0 - l.0)).clamp(0.0, 1.0) };
        for (k, cell_of) in out.iter_mut().enumerate().take(last + 1).skip(first) {
            let (x, y) = (from + k as f32 * cell, from + (k + 1) as f32 * cell);
            let (p, q) = if steep { (a.1, b.1) } else { (at(x.max(l.0)), at(y.min(r.0))) };
            let (low, high) = (p.min(q), p.max(q));
            let [outer, inner] = cell_of;
            *outer = [outer[0].min(low), outer[1].max(high)];
            if steep {
                continue;
            }
            if lower {
                inner[0] = inner[0].max(high);
            } else {
                inner[1] = inner[1].min(low);
            }
        }
    }
    out
}

impl Pose {
    pub fn of(body: &Body, over: bool, turn: f32, cell: f32) -> Self {
        let spot = Spot { board: 0, over, turn, shift: [0.0; 2] };
        let mut shape: SPolygon = body.polygon.clone();
        shape.transform_from(&body.polygon, &spot.transformation().compose());
        let own = shape.bbox();
        let reach = own.x_max - own.x_min;
        let cells = ((reach / cell).ceil() as usize).max(1);
        let all = heights(shape.vertices(), own.x_min, cell, cells);
        Pose {
            over,
            turn,
            left: own.x_min,
            reach,
            low: all.iter().map(|h| h[0][0]).collect(),
            high: all.iter().map(|h| h[0][1]).collect(),
            inner: all.iter().map(|h| h[1]).collect(),
        }
    }

    /// Where it lies when its left end is at the edge of cell `k` of a board and its middle `y` up.
    pub fn spot(&self, shelf: &Shelf, board: usize, k: usize, y: f32) -> Spot {
        let x = shelf.from + k as f32 * shelf.cell - self.left;
        Spot { board, over: self.over, turn: self.turn, shift: [x, y] }
    }

    /// Whether a blemish with `y` for the shape's middle lies far enough inside, where the shape begins at `x`.
    fn holds(&self, blemish: &Spoilt, sound: &Soundness, x: f32, y: f32, cell: f32) -> bool {
        let Some(inside) = blemish.inside else { return false };
        let off = blemish.radius + inside + sound.wider + SLACK;
        let (from, to) = (blemish.middle.0 - off - x, blemish.middle.0 + off - x);
        if from < 0.0 || to > self.reach {
            return false;
        }
        let last = ((to / cell) as usize).min(self.inner.len() - 1);
        let span = &self.inner[(from / cell) as usize..=last];
        let clear = span.iter().all(|[l, h]| l + y <= blemish.middle.1 - off && h + y >= blemish.middle.1 + off);
        let along = (blemish.middle.0 - (x - self.left)) * self.turn.cos() + (blemish.middle.1 - y) * self.turn.sin();
        clear
            && !sound
                .sound
                .iter()
                .any(|[a, b]| along + blemish.radius >= *a - 0.1 && along - blemish.radius <= *b + 0.1)
    }
}

impl Shelf {
    pub fn of(floor: &Floor, cell: f32) -> Self {
        let own = floor.bbox();
        let from = own.x_min + SLACK;
        let length = own.x_max - SLACK - from;
        let cells = (length / cell).ceil() as usize;
        let all = heights(floor.polygon.vertices(), from, cell, cells);
        let widest = all.iter().map(|h| h[0][1] - h[0][0]).fold(0.0, f32::max);
        Shelf {
            from,
            length,
            cell,
            widest,
            area: floor.polygon.area(),
            floor: all.iter().map(|h| h[1][0] + SLACK).collect(),
            roof: all.iter().map(|h| h[1][1] - SLACK).collect(),
            spoilt: floor.blemishes.clone(),
        }
    }

    /// The first cell from the left, and how high, where `pose` lies on `sky` under the roof and clear of what is spoilt.
    pub fn leftmost(&self, sky: &[f32], pose: &Pose, sound: &Soundness) -> Option<(usize, f32)> {
        let m = pose.low.len();
        let few: Vec<usize> = (0..8).map(|s| s * (m - 1) / 7).collect();
        for k in 0..(sky.len() + 1).saturating_sub(m) {
            if k as f32 * self.cell + pose.reach > self.length {
                break;
            }
            let (sky, roof) = (&sky[k..k + m], &self.roof[k..k + m]);
            let (mut up, mut over) = (f32::MIN, f32::MIN);
            for &j in &few {
                up = up.max(sky[j] - pose.low[j]);
                over = over.max(pose.high[j] - roof[j]);
            }
            if up + over > 0.0 {
                continue;
            }
            let up = most(sky, &pose.low);
            let over = most(&pose.high, roof);
            if up + over > 0.0 {
                continue;
            }
            if let Some(y) = self.rise(pose, sound, k, up + SLACK, -over) {
                return Some((k, y));
            }
        }
        None
    }

    /// The lowest height from `y` to `top` at which the pose is clear of what is spoilt.
    fn rise(&self, pose: &Pose, sound: &Soundness, k: usize, mut y: f32, top: f32) -> Option<f32> {
        let x = self.from + k as f32 * self.cell;
        'higher: while y <= top {
            for blemish in &self.spoilt {
                let wide = 1.06 * (1.04 * blemish.radius + blemish.inside.unwrap_or(0.0)) + SLACK;
                let (from, to) = (blemish.middle.0 - wide - x, blemish.middle.0 + wide - x);
                if to < 0.0 || from > pose.reach {
                    continue;
                }
                let last = ((to / self.cell) as usize).min(pose.low.len() - 1);
                let span = (from.max(0.0) / self.cell) as usize..=last;
                let low = pose.low[span.clone()].iter().copied().fold(f32::MAX, f32::min);
                let high = pose.high[span].iter().copied().fold(f32::MIN, f32::max);
                if y + high <= blemish.middle.1 - wide || y + low >= blemish.middle.1 + wide {
                    continue;
                }
                if !pose.holds(blemish, sound, x, y, self.cell) {
                    // A knot may come to lie inside a little higher up; a fault only below.
                    y += if blemish.inside.is_some() { 4.0 } else { blemish.middle.1 + wide - (y + low) + SLACK };
                    continue 'higher;
                }
            }
            return Some(y);
        }
        None
    }
}

/// The most that one exceeds the other.
fn most(a: &[f32], b: &[f32]) -> f32 {
    const LANES: usize = 8;
    let mut lanes = [f32::MIN; LANES];
    let (wide, rest) = (a.chunks_exact(LANES).zip(b.chunks_exact(LANES)), a.len() - a.len() % LANES);
    for (a, b) in wide {
        for k in 0..LANES {
            let d = a[k] - b[k];
            lanes[k] = if d > lanes[k] { d } else { lanes[k] };
        }
    }
    let tail = a[rest..].iter().zip(&b[rest..]).map(|(a, b)| a - b).fold(f32::MIN, f32::max);
    lanes.into_iter().fold(tail, f32::max)
}
