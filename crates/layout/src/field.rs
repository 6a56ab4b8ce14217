//! Shapes on boards, all placed, some of them overlapping; and the search that pushes them apart.

use crate::outline::{fewer, polygon};
use crate::{Board, LayoutError, Place, Shape, Turns};
use jagua_rs::collision_detection::hazards::collector::BasicHazardCollector;
use jagua_rs::collision_detection::hazards::filter::HazardFilter;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard, HazardEntity};
use jagua_rs::collision_detection::{CDEConfig, CDEngine};
use jagua_rs::geometry::DTransformation;
use jagua_rs::geometry::fail_fast::{SPSurrogate, SPSurrogateConfig};
use jagua_rs::geometry::geo_enums::GeoPosition;
use jagua_rs::geometry::geo_traits::{CollidesWith, TransformableFrom};
use jagua_rs::geometry::primitives::{Circle, Point, Rect, SPolygon};
use rand::Rng;
use rand::seq::SliceRandom;
use rand_pcg::Pcg64Mcg;
use std::cell::RefCell;
use std::f32::consts::{PI, TAU};
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
struct Others(u32);

impl HazardFilter<Entity> for Others {
    fn is_irrelevant(&self, _: HazKey, entity: &Entity) -> bool {
        *entity == Entity::Shape(self.0)
    }
}

const CONFIG: CDEConfig = CDEConfig {
    quadtree_depth: 5,
    cd_threshold: 16,
    item_surrogate_config: SPSurrogateConfig { n_pole_limits: POLES, ff_pole_area_ratio: 0.6, n_ff_piers: 0 },
};
/// Circles in a shape: up to 48, fewer where they cover it well enough.
const POLES: [(usize, f32); 3] = [(48, 0.0), (16, 0.7), (8, 0.85)];

/// A shape made ready: its outline about its middle, with the circles in it.
pub struct Body {
    pub polygon: SPolygon,
    circles: Circles,
    surrogate: SPSurrogate,
    /// Of the true outline, not of the widened one.
    pub area: f64,
    middle: [f64; 2],
    /// How much wider the polygon is all round.
    wider: f32,
    /// √area.
    pub size: f32,
    turns: Vec<f32>,
    tilt: f32,
    over: bool,
    /// Stretches, about the middle.
    sound: Vec<[f32; 2]>,
    pub mate: Option<usize>,
}

impl Body {
    /// # Errors
    /// An outline that is none.
    pub fn of(index: usize, shape: &Shape, gap: f64, within: f64) -> Result<Self, LayoutError> {
        let bad = |why: String| LayoutError::Shape { shape: index, why };
        let (low, high) = extent(&shape.outline);
        let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
        let few = fewer(&shape.outline, within);
        let wider = 0.5 * gap + within;
        let polygon = polygon(&few, middle, wider).map_err(bad)?;
        let surrogate =
            SPSurrogate::new(&polygon, CONFIG.item_surrogate_config).map_err(|why| bad(why.to_string()))?;
        let circles = Circles::of(&surrogate);
        let (turns, tilt) = match &shape.turns {
            Turns::These(turns) => (turns.iter().map(|t| *t as f32).collect(), 0.0),
            Turns::Along { within } => (vec![0.0, PI], *within as f32),
        };
        let sound = shape.sound.iter().map(|s| s.map(|x| (x - middle[0]) as f32)).collect();
        let size = polygon.area().sqrt();
        let area = crate::area(&shape.outline);
        Ok(Body {
            polygon,
            circles,
            surrogate,
            area,
            middle,
            wider: wider as f32,
            size,
            turns,
            tilt,
            over: shape.over,
            sound,
            mate: shape.mate,
        })
    }

    pub fn place(&self, spot: &Spot) -> Place {
        let carried = Place { board: spot.board, over: spot.over, turn: f64::from(spot.turn), shift: [0.0; 2] };
        let from = carried.carry(self.middle);
        let shift = [0, 1].map(|axis| f64::from(spot.shift[axis]) - from[axis]);
        Place { shift, ..carried }
    }

    /// Any turn it may take.
    pub fn any_turn(&self, rng: &mut Pcg64Mcg) -> (bool, f32) {
        let turn = self.turns[rng.random_range(0..self.turns.len())] + self.any_tilt(rng);
        (self.over && rng.random::<bool>(), turn)
    }

    fn any_tilt(&self, rng: &mut Pcg64Mcg) -> f32 {
        // Mostly none: shapes lie along the board.
        if self.tilt == 0.0 || rng.random::<f32>() < 0.5 { 0.0 } else { self.tilt * rng.random_range(-1.0..=1.0) }
    }

    /// The turns it may take without a tilt.
    pub fn turns(&self) -> impl Iterator<Item = (bool, f32)> + '_ {
        let ways = if self.over { 2 } else { 1 };
        (0..ways).flat_map(|o| self.turns.iter().map(move |t| (o == 1, *t)))
    }

    fn tilted(&self, turn: f32) -> f32 {
        let nearest = self.turns.iter().map(|t| {
            let d = (turn - t).rem_euclid(TAU);
            if d > PI { d - TAU } else { d }
        });
        let off = nearest.min_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
        turn - off + off.clamp(-self.tilt, self.tilt)
    }
}

fn extent(outline: &[[f64; 2]]) -> ([f64; 2], [f64; 2]) {
    outline.iter().fold(([f64::MAX; 2], [f64::MIN; 2]), |(low, high), p| {
        ([low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])])
    })
}

/// Where a shape's middle lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    pub board: usize,
    pub over: bool,
    pub turn: f32,
    pub shift: [f32; 2],
}

impl Spot {
    fn transformation(&self) -> DTransformation {
        DTransformation::new(self.turn, (self.shift[0], self.shift[1])).with_reflection(self.over)
    }
}

/// A board made ready, cut off square at some length.
#[derive(Clone)]
pub struct Floor {
    engine: CDEngine<Entity>,
    polygon: SPolygon,
    blemishes: Vec<Spoilt>,
}

/// A blemish in single precision: middle, radius, least distance from an edge.
#[derive(Clone, Copy)]
struct Spoilt {
    middle: Point,
    radius: f32,
    inside: Option<f32>,
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
    fn outside(&self, shape: &SPolygon) -> f32 {
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

/// How long a search goes on.
#[derive(Debug, Clone, Copy)]
pub struct Effort {
    /// Rounds without getting better before the best is taken up again.
    pub patience: usize,
    /// How often that is done.
    pub strikes: usize,
    /// Places tried for a shape: anywhere, and about where it is.
    pub anywhere: usize,
    pub about: usize,
}

/// Shapes on boards.
pub struct Field<'a> {
    pub bodies: &'a [Body],
    pub floors: Vec<Floor>,
    pub at: Vec<Spot>,
    posed: Vec<SPolygon>,
    circles: Vec<Circles>,
    /// Weight of a shape's overlap with what is not a shape.
    wall: Vec<f32>,
    pair: Vec<f32>,
    /// Shapes that are laid out; the others lie nowhere.
    pub here: Vec<bool>,
    /// Lent out while a loss is reckoned.
    scratch: Vec<Option<SPolygon>>,
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
    fn loss(&mut self, i: usize, spot: &Spot, bound: f32) -> f32 {
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
    fn overlaps(&mut self, i: usize) -> Vec<(Entity, f32)> {
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

    /// Moves shape `i` to where it overlaps least of the places tried, on one of `boards`.
    fn relocate(&mut self, i: usize, boards: &[usize], effort: &Effort, rng: &mut Pcg64Mcg) {
        const BEST: usize = 3;
        let here = self.at[i];
        let mut best: Vec<(f32, Spot)> = vec![(self.loss(i, &here, f32::INFINITY), here)];
        if best[0].0 == 0.0 {
            return;
        }
        for k in 0..effort.anywhere + effort.about {
            let spot = if k < effort.anywhere {
                let board = boards[rng.random_range(0..boards.len())];
                self.anywhere(i, board, rng)
            } else {
                self.about(i, &here, rng)
            };
            let bound = if best.len() < BEST { f32::INFINITY } else { best[best.len() - 1].0 };
            let loss = self.loss(i, &spot, bound);
            if loss < bound {
                let place = best.partition_point(|b| b.0 <= loss);
                best.insert(place, (loss, spot));
                best.truncate(BEST);
            }
        }
        let mut found = best[0];
        for (loss, spot) in best {
            let settled = self.descend(i, loss, spot, rng);
            if settled.0 < found.0 {
                found = settled;
            }
        }
        if found.1 != here {
            self.put(i, found.1);
        }
    }

    /// Any place on a board where the shape's box lies within the board's.
    pub fn anywhere(&mut self, i: usize, board: usize, rng: &mut Pcg64Mcg) -> Spot {
        let (over, turn) = self.bodies[i].any_turn(rng);
        self.within(i, Spot { board, over, turn, shift: [0.0; 2] }, [rng.random(), rng.random()])
    }

    /// The place of a turned shape's box within the board's box, as shares of the room there is.
    pub fn within(&mut self, i: usize, spot: Spot, share: [f32; 2]) -> Spot {
        let floor = self.floors[spot.board].bbox();
        let unmoved = Spot { shift: [0.0; 2], ..spot };
        let mut shape = self.scratch[i].take().unwrap_or_else(|| self.bodies[i].polygon.clone());
        shape.transform_from(&self.bodies[i].polygon, &unmoved.transformation().compose());
        let own = shape.bbox();
        self.scratch[i] = Some(shape);
        let along = |low: f32, high: f32, a: f32, b: f32, s: f32| {
            let (from, to) = (low - a, high - b);
            if to > from { from + (to - from) * s } else { 0.5 * (from + to) }
        };
        let shift = [
            along(floor.x_min, floor.x_max, own.x_min, own.x_max, share[0]),
            along(floor.y_min, floor.y_max, own.y_min, own.y_max, share[1]),
        ];
        Spot { shift, ..spot }
    }

    /// A place near `spot`.
    fn about(&self, i: usize, spot: &Spot, rng: &mut Pcg64Mcg) -> Spot {
        let body = &self.bodies[i];
        let own = self.posed[i].bbox();
        let reach = [own.x_max - own.x_min, own.y_max - own.y_min];
        let mut near = *spot;
        for (shift, reach) in near.shift.iter_mut().zip(reach) {
            *shift += 0.3 * reach * (rng.random::<f32>() + rng.random::<f32>() - 1.0);
        }
        if rng.random::<f32>() < 0.3 {
            (near.over, near.turn) = body.any_turn(rng);
        }
        near
    }

    /// Down from `spot` by steps along an axis, or a tilt, that shrink where none helps.
    fn descend(&mut self, i: usize, mut loss: f32, mut spot: Spot, rng: &mut Pcg64Mcg) -> (f32, Spot) {
        let own = self.posed[i].bbox();
        let least = (own.x_max - own.x_min).min(own.y_max - own.y_min);
        let long = (own.x_max - own.x_min).max(own.y_max - own.y_min);
        let mut step = 0.2 * least;
        let tilt = self.bodies[i].tilt;
        while step > 0.002 * least && loss > 0.0 {
            let mut better = false;
            let way = rng.random_range(0..if tilt > 0.0 { 3 } else { 2 });
            for sign in [1.0, -1.0] {
                let mut next = spot;
                if way < 2 {
                    // Along the board there is more room than across.
                    let stretch = if way == 0 && long > 4.0 * least { 4.0 } else { 1.0 };
                    next.shift[way] += sign * step * stretch;
                } else {
                    next.turn = self.bodies[i].tilted(spot.turn + sign * step / long);
                }
                let there = self.loss(i, &next, loss);
                if there < loss {
                    (loss, spot, better) = (there, next, true);
                    break;
                }
            }
            step *= if better { 1.2 } else { 0.7 };
        }
        (loss, spot)
    }

    /// Pushes shapes apart until none overlaps, or the effort is spent. `boards` are those that shapes may go to.
    pub fn separate(
        &mut self,
        boards: &[usize],
        effort: &Effort,
        rng: &mut Pcg64Mcg,
        go_on: &mut dyn FnMut() -> bool,
    ) -> bool {
        let n = self.bodies.len();
        self.wall.fill(1.0);
        self.pair.fill(1.0);
        let mut best = (f32::INFINITY, self.at.clone());
        for _ in 0..effort.strikes {
            let mut idle = 0;
            while idle < effort.patience {
                if !go_on() {
                    return false;
                }
                let found: Vec<Vec<(Entity, f32)>> =
                    (0..n).map(|i| if self.here[i] { self.overlaps(i) } else { Vec::new() }).collect();
                let total: f32 = found.iter().flatten().map(|f| f.1).sum();
                if total == 0.0 {
                    return true;
                }
                if total < best.0 {
                    if total < 0.98 * best.0 {
                        idle = 0;
                    }
                    best = (total, self.at.clone());
                }
                idle += 1;
                self.weigh(&found);
                let mut troubled: Vec<usize> = (0..n).filter(|&i| !found[i].is_empty()).collect();
                troubled.shuffle(rng);
                for i in troubled {
                    self.relocate(i, boards, effort, rng);
                }
            }
            self.all_at(&best.1);
        }
        false
    }

    /// Everything back to where it was.
    pub fn all_at(&mut self, at: &[Spot]) {
        for (i, spot) in at.iter().enumerate() {
            if self.here[i] && self.at[i] != *spot {
                self.put(i, *spot);
            }
        }
    }

    /// Overlaps that are there weigh more, the greatest most; the others a little less again.
    fn weigh(&mut self, found: &[Vec<(Entity, f32)>]) {
        let n = self.bodies.len();
        let most = found.iter().flatten().map(|f| f.1).fold(0.0, f32::max);
        self.pair.iter_mut().chain(&mut self.wall).for_each(|w| *w = (*w * 0.95).max(1.0));
        for (i, of) in found.iter().enumerate() {
            for (entity, overlap) in of {
                let grow = (1.2 + 0.8 * overlap / most) / 0.95;
                match entity {
                    Entity::Shape(j) => {
                        let j = *j as usize;
                        // Each pair is found from both sides.
                        if i < j {
                            self.pair[i * n + j] *= grow;
                            self.pair[j * n + i] = self.pair[i * n + j];
                        }
                    }
                    _ => self.wall[i] *= grow,
                }
            }
        }
    }
}

/// Circles that lie in a shape.
#[derive(Debug, Clone, Default)]
struct Circles {
    x: Vec<f32>,
    y: Vec<f32>,
    radius: Vec<f32>,
}

/// So many are reckoned with at once; the last few are filled up with circles of no size far away.
const LANES: usize = 8;
const FAR: f32 = 1e9;

impl Circles {
    fn of(surrogate: &SPSurrogate) -> Self {
        let poles = &surrogate.poles;
        let fill = poles.len().next_multiple_of(LANES) - poles.len();
        let all =
            |of: fn(&Circle) -> f32, none: f32| poles.iter().map(of).chain(std::iter::repeat_n(none, fill)).collect();
        Circles { x: all(|c| c.center.0, FAR), y: all(|c| c.center.1, FAR), radius: all(|c| c.radius, 0.0) }
    }

    /// Those of `base` carried to `spot`.
    fn carried_from(&mut self, base: &Circles, spot: &Spot) {
        let (sin, cos) = spot.turn.sin_cos();
        let over = if spot.over { -1.0 } else { 1.0 };
        self.x.clear();
        self.y.clear();
        self.radius.clone_from(&base.radius);
        let [dx, dy] = spot.shift;
        self.x.extend(base.x.iter().zip(&base.y).map(|(x, y)| x * cos - over * y * sin + dx));
        self.y.extend(base.x.iter().zip(&base.y).map(|(x, y)| x * sin + over * y * cos + dy));
    }

    /// How far circles of one lie in circles of the other, times the smaller radius. Never quite 0, so that the way out is
    /// felt beyond touching too.
    fn meet(&self, other: &Circles, soft: f32) -> f32 {
        let mut sums = [0.0_f32; LANES];
        for ((x, y), radius) in self.x.iter().zip(&self.y).zip(&self.radius) {
            if *radius == 0.0 {
                continue;
            }
            let rows =
                other.x.chunks_exact(LANES).zip(other.y.chunks_exact(LANES)).zip(other.radius.chunks_exact(LANES));
            for ((ox, oy), or) in rows {
                for k in 0..LANES {
                    let (dx, dy) = (x - ox[k], y - oy[k]);
                    let deep = radius + or[k] - (dx * dx + dy * dy).sqrt();
                    let felt = soft * soft / (2.0 * soft - deep.min(soft));
                    sums[k] += deep.max(felt) * radius.min(or[k]);
                }
            }
        }
        sums.iter().sum()
    }
}

/// Distance of a point from an edge.
fn from_edge(p: &Point, a: &Point, b: &Point) -> f32 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let t = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(f32::MIN_POSITIVE);
    let t = t.clamp(0.0, 1.0);
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// Whether a blemish lies far enough inside, away from the stretches that must be sound.
fn tolerated(blemish: &Spoilt, body: &Body, shape: &SPolygon, spot: &Spot) -> bool {
    let Some(inside) = blemish.inside else { return false };
    let near = shape.edge_iter().map(|e| from_edge(&blemish.middle, &e.start, &e.end)).fold(f32::MAX, f32::min);
    if !shape.collides_with(&blemish.middle) || near < blemish.radius + inside + body.wider {
        return false;
    }
    let along =
        (blemish.middle.0 - spot.shift[0]) * spot.turn.cos() + (blemish.middle.1 - spot.shift[1]) * spot.turn.sin();
    !body.sound.iter().any(|[from, to]| along + blemish.radius > *from && along - blemish.radius < *to)
}
