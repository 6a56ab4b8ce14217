//! A board made ready for the search: what can be in a shape's way on it.

use crate::Board;
use crate::body::{Body, Spot};
use crate::outline::polygon;
use jagua_rs::collision_detection::hazards::filter::HazardFilter;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard, HazardEntity};
use jagua_rs::collision_detection::{CDEConfig, CDEngine};
use jagua_rs::geometry::fail_fast::SPSurrogateConfig;
use jagua_rs::geometry::geo_enums::GeoPosition;
use jagua_rs::geometry::geo_traits::CollidesWith;
use jagua_rs::geometry::primitives::{Point, Rect, SPolygon};
use std::sync::Arc;

/// What can be in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Entity {
    Outside,
    Blemish(u32),
    Shape(u32),
}

impl HazardEntity for Entity {
    fn scope(&self) -> GeoPosition {
        if *self == Entity::Outside { GeoPosition::Exterior } else { GeoPosition::Interior }
    }

    fn is_dynamic(&self) -> bool {
        matches!(self, Entity::Shape(_))
    }
}

/// All but the shape itself.
pub struct Others(pub u32);

impl HazardFilter<Entity> for Others {
    fn is_irrelevant(&self, _: HazKey, entity: &Entity) -> bool {
        *entity == Entity::Shape(self.0)
    }
}

pub const CONFIG: CDEConfig = CDEConfig {
    quadtree_depth: 5,
    cd_threshold: 16,
    item_surrogate_config: SPSurrogateConfig { n_pole_limits: POLES, ff_pole_area_ratio: 0.6, n_ff_piers: 0 },
};
/// Circles in a shape: up to 48, fewer where they cover it well enough.
const POLES: [(usize, f32); 3] = [(48, 0.0), (16, 0.7), (8, 0.85)];

/// A board made ready, cut off square at some length.
#[derive(Clone)]
pub struct Floor {
    pub engine: CDEngine<Entity>,
    pub polygon: SPolygon,
    pub blemishes: Vec<Spoilt>,
}

/// A blemish in single precision: middle, radius, least distance from an edge.
#[derive(Debug, Clone, Copy)]
pub struct Spoilt {
    pub middle: Point,
    pub radius: f32,
    pub inside: Option<f32>,
}

impl Floor {
    /// The board as far as `length` along x; `gap` is the saw cut, half of which may lie beyond its edge.
    ///
    /// # Errors
    /// In words, where nothing is left of it.
    pub fn new(board: &Board, length: f64, gap: f64) -> Result<Self, String> {
        let cut = cut_off(&board.outline, length);
        let polygon = polygon(&cut, [0.0, 0.0], 0.5 * gap)?;
        let mut hazards = vec![Hazard::new(Entity::Outside, Arc::new(polygon.clone()))];
        let mut blemishes = Vec::new();
        for (i, b) in board.blemishes.iter().enumerate() {
            let ring: Vec<[f64; 2]> = (0..12)
                .map(|k| f64::from(k) * std::f64::consts::TAU / 12.0)
                .map(|a| [b.centre[0] + b.radius * 1.04 * a.cos(), b.centre[1] + b.radius * 1.04 * a.sin()])
                .collect();
            // A place that may lie inside a shape keeps its distance from the shape's edge all round.
            let round = self::polygon(&ring, [0.0, 0.0], b.inside.unwrap_or(0.0))?;
            hazards.push(Hazard::new(Entity::Blemish(i as u32), Arc::new(round)));
            blemishes.push(Spoilt {
                middle: Point(b.centre[0] as f32, b.centre[1] as f32),
                radius: b.radius as f32,
                inside: b.inside.map(|d| d as f32),
            });
        }
        let own = polygon.bbox();
        let rim = 0.01 * (own.x_max - own.x_min).max(own.y_max - own.y_min);
        let bbox = Rect::try_new(own.x_min - rim, own.y_min - rim, own.x_max + rim, own.y_max + rim)
            .map_err(|why| why.to_string())?;
        Ok(Floor { engine: CDEngine::new(bbox, hazards, CONFIG), polygon, blemishes })
    }

    pub fn bbox(&self) -> Rect {
        self.polygon.bbox()
    }

    /// How far the corners of `shape` stand out of the board, as though it were convex; at most.
    pub fn outside(&self, shape: &SPolygon) -> f32 {
        let edges = self.polygon.edge_iter();
        edges
            .map(|e| {
                let (dx, dy) = (e.end.0 - e.start.0, e.end.1 - e.start.1);
                let length = dx.hypot(dy);
                let out = |p: &Point| ((p.0 - e.start.0) * dy - (p.1 - e.start.1) * dx) / length;
                shape.vertices().iter().map(out).fold(0.0, f32::max)
            })
            .fold(0.0, f32::max)
    }
}

/// A convex cut: what of an outline lies before `length`.
fn cut_off(outline: &[[f64; 2]], length: f64) -> Vec<[f64; 2]> {
    if length.is_infinite() {
        return outline.to_vec();
    }
    let mut kept = Vec::with_capacity(outline.len() + 2);
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        if a[0] <= length {
            kept.push(*a);
        }
        if (a[0] <= length) != (b[0] <= length) {
            let t = (length - a[0]) / (b[0] - a[0]);
            kept.push([length, a[1] + t * (b[1] - a[1])]);
        }
    }
    kept
}

/// Distance of a point from an edge.
pub fn from_edge(p: &Point, a: &Point, b: &Point) -> f32 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let t = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(f32::MIN_POSITIVE);
    let t = t.clamp(0.0, 1.0);
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// Whether a blemish lies far enough inside, away from the stretches that must be sound.
pub fn tolerated(blemish: &Spoilt, body: &Body, shape: &SPolygon, spot: &Spot) -> bool {
    let Some(inside) = blemish.inside else { return false };
    let near = shape.edge_iter().map(|e| from_edge(&blemish.middle, &e.start, &e.end)).fold(f32::MAX, f32::min);
    if !shape.collides_with(&blemish.middle) || near < blemish.radius + inside + body.wider {
        return false;
    }
    let along =
        (blemish.middle.0 - spot.shift[0]) * spot.turn.cos() + (blemish.middle.1 - spot.shift[1]) * spot.turn.sin();
    !body.sound.iter().any(|[from, to]| along + blemish.radius > *from && along - blemish.radius < *to)
}
