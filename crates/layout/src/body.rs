//! A shape made ready for the search, and where one lies.

use crate::circles::Circles;
use crate::floor::CONFIG;
use crate::outline::{fewer, polygon};
use crate::{LayoutError, Place, Shape, Turns};
use jagua_rs::geometry::DTransformation;
use jagua_rs::geometry::fail_fast::SPSurrogate;
use jagua_rs::geometry::primitives::SPolygon;
use rand::Rng;
use rand_pcg::Pcg64Mcg;
use std::f32::consts::{PI, TAU};

/// A shape made ready: its outline about its middle, with the circles in it.
pub struct Body {
    pub polygon: SPolygon,
    pub circles: Circles,
    pub surrogate: SPSurrogate,
    /// Of the true outline, not of the widened one.
    pub area: f64,
    middle: [f64; 2],
    /// How much wider the polygon is all round.
    pub wider: f32,
    /// √area.
    pub size: f32,
    turns: Vec<f32>,
    pub tilt: f32,
    over: bool,
    /// Stretches, about the middle.
    pub sound: Vec<[f32; 2]>,
    pub mate: Option<usize>,
}

impl Body {
    /// # Errors
    /// An outline that is none, or no way in which it may be turned.
    pub fn of(index: usize, shape: &Shape, gap: f64, within: f64) -> Result<Self, LayoutError> {
        let bad = |why: String| LayoutError::Shape { shape: index, why };
        if matches!(&shape.turns, Turns::These(turns) if turns.is_empty()) {
            return Err(bad("it may be turned in no way: give one angle at least".to_owned()));
        }
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

    pub fn tilted(&self, turn: f32) -> f32 {
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
    pub fn transformation(&self) -> DTransformation {
        DTransformation::new(self.turn, (self.shift[0], self.shift[1])).with_reflection(self.over)
    }
}
