//! Shapes on boards, all placed, some of them overlapping: what is in the way of what, and how far.

use crate::body::{Body, Spot};
use crate::circles::Circles;
use crate::floor::{Entity, Floor, Others, from_edge, tolerated};
use jagua_rs::collision_detection::hazards::Hazard;
use jagua_rs::collision_detection::hazards::collector::BasicHazardCollector;
use jagua_rs::geometry::geo_traits::{CollidesWith, TransformableFrom};
use jagua_rs::geometry::primitives::{Rect, SPolygon};
use std::cell::RefCell;
use std::sync::Arc;

/// Shapes on boards.
pub struct Field<'a> {
    pub bodies: &'a [Body],
    pub floors: Vec<Floor>,
    pub at: Vec<Spot>,
    pub(crate) posed: Vec<SPolygon>,
    circles: Vec<Circles>,
    /// Weight of a shape's overlap with what is not a shape.
    pub(crate) wall: Vec<f32>,
    pub(crate) pair: Vec<f32>,
    /// Shapes that are laid out; the others lie nowhere.
    pub here: Vec<bool>,
    /// Lent out while a loss is reckoned.
    pub(crate) scratch: Vec<Option<SPolygon>>,
    lent: RefCell<Circles>,
    collector: BasicHazardCollector<Entity>,
}

impl<'a> Field<'a> {
    pub fn new(bodies: &'a [Body], floors: Vec<Floor>) -> Self {
        let n = bodies.len();
        let posed: Vec<SPolygon> = bodies.iter().map(|b| b.polygon.clone()).collect();
        Field {
            bodies,
            floors,
            at: vec![Spot { board: 0, over: false, turn: 0.0, shift: [0.0; 2] }; n],
            scratch: posed.iter().cloned().map(Some).collect(),
            lent: RefCell::default(),
            posed,
            circles: bodies.iter().map(|b| b.circles.clone()).collect(),
            wall: vec![1.0; n],
            pair: vec![1.0; n * n],
            here: vec![false; n],
            collector: BasicHazardCollector::new(),
        }
    }

    /// Puts shape `i` down.
    pub fn put(&mut self, i: usize, spot: Spot) {
        if self.here[i] {
            self.floors[self.at[i].board].engine.deregister_hazard_by_entity(Entity::Shape(i as u32));
        }
        self.at[i] = spot;
        self.posed[i].transform_from(&self.bodies[i].polygon, &spot.transformation().compose());
        self.circles[i].carried_from(&self.bodies[i].circles, &spot);
        let shape = Arc::new(self.posed[i].clone());
        self.floors[spot.board].engine.register_hazard(Hazard::new(Entity::Shape(i as u32), shape));
        self.here[i] = true;
    }

    /// Takes shape `i` away.
    pub fn lift(&mut self, i: usize) {
        if self.here[i] {
            self.floors[self.at[i].board].engine.deregister_hazard_by_entity(Entity::Shape(i as u32));
            self.here[i] = false;
        }
    }

    /// Another board in place of board `board`; shapes on it stay where they are.
    pub fn change_floor(&mut self, board: usize, floor: Floor) {
        self.floors[board] = floor;
        for i in 0..self.bodies.len() {
            if self.here[i] && self.at[i].board == board {
                let shape = Arc::new(self.posed[i].clone());
                self.floors[board].engine.register_hazard(Hazard::new(Entity::Shape(i as u32), shape));
            }
        }
    }

    /// Box round a shape as it lies.
    pub fn bbox(&self, i: usize) -> Rect {
        self.posed[i].bbox()
    }

    /// Whether shape `i` would lie clear of everything at `spot`.
    pub fn clear_at(&mut self, i: usize, spot: &Spot) -> bool {
        let floor = &self.floors[spot.board];
        // Circles in the shape are soon asked, but not about what may lie inside it.
        if floor.blemishes.iter().all(|b| b.inside.is_none()) {
            let carried = spot.transformation().compose();
            if floor.engine.detect_surrogate_collision(&self.bodies[i].surrogate, &carried, &Others(i as u32)) {
                return false;
            }
        }
        let mut shape = self.scratch[i].take().unwrap_or_else(|| self.bodies[i].polygon.clone());
        shape.transform_from(&self.bodies[i].polygon, &spot.transformation().compose());
        let floor = &self.floors[spot.board];
        let mut collector = std::mem::take(&mut self.collector);
        collector.clear();
        let met = floor.engine.collect_poly_collisions_until(&shape, &Others(i as u32), &mut collector, |entity| {
            let Entity::Blemish(b) = entity else { return true };
            !tolerated(&floor.blemishes[b as usize], &self.bodies[i], &shape, spot)
        });
        self.collector = collector;
        self.scratch[i] = Some(shape);
        !met
    }

    /// Weighted overlap of shape `i` at `spot`; may stop as soon as it is past `bound`.
    pub(crate) fn loss(&mut self, i: usize, spot: &Spot, bound: f32) -> f32 {
        let mut shape = self.scratch[i].take().unwrap_or_else(|| self.bodies[i].polygon.clone());
        shape.transform_from(&self.bodies[i].polygon, &spot.transformation().compose());
        let mut collector = std::mem::take(&mut self.collector);
        collector.clear();
        let mut sum = 0.0;
        let floor = &self.floors[spot.board];
        let _ = floor.engine.collect_poly_collisions_until(&shape, &Others(i as u32), &mut collector, |entity| {
            sum += self.weight(i, entity) * self.overlap(i, &shape, spot, entity);
            sum > bound
        });
        self.collector = collector;
        self.scratch[i] = Some(shape);
        sum
    }

    fn weight(&self, i: usize, entity: Entity) -> f32 {
        match entity {
            Entity::Shape(j) => self.pair[i * self.bodies.len() + j as usize],
            _ => self.wall[i],
        }
    }

    /// How much shape `i`, lying as `shape` at `spot`, overlaps what it meets: length times length.
    fn overlap(&self, i: usize, shape: &SPolygon, spot: &Spot, entity: Entity) -> f32 {
        let body = &self.bodies[i];
        match entity {
            Entity::Shape(j) => {
                let j = j as usize;
                let soft = 0.01 * body.size.min(self.bodies[j].size);
                let mut own = self.lent.borrow_mut();
                own.carried_from(&body.circles, spot);
                own.meet(&self.circles[j], soft) + soft * soft
            }
            Entity::Outside => {
                let out = self.floors[spot.board].outside(shape);
                body.size * (out + 0.01 * body.size)
            }
            Entity::Blemish(b) => {
                let blemish = self.floors[spot.board].blemishes[b as usize];
                if tolerated(&blemish, body, shape, spot) {
                    return 0.0;
                }
                let near =
                    shape.edge_iter().map(|e| from_edge(&blemish.middle, &e.start, &e.end)).fold(f32::MAX, f32::min);
                let inside = shape.collides_with(&blemish.middle);
                let deep = blemish.radius + blemish.inside.unwrap_or(0.0) + if inside { near } else { -near };
                body.size * (deep.max(0.0) + 0.01 * body.size)
            }
        }
    }

    /// Overlaps of shape `i` as it lies with each thing it meets, not weighted.
    pub(crate) fn overlaps(&mut self, i: usize) -> Vec<(Entity, f32)> {
        let mut collector = std::mem::take(&mut self.collector);
        collector.clear();
        let spot = self.at[i];
        self.floors[spot.board].engine.collect_poly_collisions(&self.posed[i], &Others(i as u32), &mut collector);
        let mut found: Vec<(Entity, f32)> =
            collector.iter().map(|(_, e)| (*e, self.overlap(i, &self.posed[i], &spot, *e))).collect();
        found.retain(|f| f.1 > 0.0);
        found.sort_by_key(|f| match f.0 {
            Entity::Outside => 0,
            Entity::Blemish(b) => 1 + u64::from(b),
            Entity::Shape(j) => 1_000_000 + u64::from(j),
        });
        self.collector = collector;
        found
    }
}
