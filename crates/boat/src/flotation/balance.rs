//! Where she floats: as deep, trimmed and heeled as her weight and its centre want.
//!
//! Three things are to be nought: displacement less weight, and the moments of both along and across. Newton's method, whose
//! nine derivatives are exact: sinking by dh adds the waterplane, trimming by dθ the wedges ∫X dA and with them ∫X² dA, and it
//! carries both centres round with her. It is held to short steps, and begins level at the depth that carries her.

use super::FlotationError;
use super::attitude::Attitude;
use super::solid::{Solid, Under};
use crate::geom::{Point, Vector};
use nalgebra::{Matrix2, Matrix3, Vector2, Vector3};

/// A weight and where its centre stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// kg.
    pub mass: f64,
    /// In the boat's frame, y to starboard, mm.
    pub centre: Point,
}

/// Rounds of Newton's method.
const ROUNDS: usize = 60;
/// Longest step of an angle, radians.
const TURN: f64 = 0.15;
/// Found to this share of the displacement, and to this length between the centres, mm.
const SAME_SHARE: f64 = 1e-10;
const SAME_LENGTH: f64 = 1e-6;
/// As near as a first depth need be, as a share of the displacement.
const ABOUT: f64 = 1e-3;
/// Heels to begin from, to the side on which her weight lies, where she does not stay upright, radians.
const STARTS: [f64; 4] = [0.0, 0.2, 0.6, 1.1];

/// She lies so, and that lies under water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Afloat {
    /// How she lies.
    pub at: Attitude,
    /// What lies under water.
    pub under: Under,
    /// She comes back when she is heeled a little.
    pub stiff: bool,
}

impl Afloat {
    /// She comes back, and neither keel up nor on end.
    #[must_use]
    pub fn stays_upright(&self) -> bool {
        self.stiff && self.at.upright()
    }
}

/// Where `solid` floats under `load` in water of `density`, kg/m³, trim and heel free.
///
/// # Errors
/// [`FlotationError`]: too heavy, no weight, a centre outside her, or no place where she stays.
pub fn afloat(solid: &Solid, load: &Load, density: f64) -> Result<Afloat, FlotationError> {
    let volume = wanted(solid, load, density)?;
    let side = if load.centre.y < 0.0 { -1.0 } else { 1.0 };
    // On the centreline she lies upright, whether she stays so or not.
    let starts = if load.centre.y == 0.0 { &STARTS[..1] } else { &STARTS[..] };
    let mut last = None;
    for heel in starts {
        let start = level(solid, volume, side * heel);
        let Some(found) = settle(solid, load, volume, start, true) else { continue };
        if found.stiff {
            return Ok(found);
        }
        last = Some(found);
    }
    last.filter(|_| load.centre.y == 0.0).ok_or(FlotationError::NoRest { mass: load.mass, centre: load.centre })
}

/// The same with her heel held, trim free, begun from `start`.
///
/// # Errors
/// As [`afloat`].
pub fn held(solid: &Solid, load: &Load, density: f64, start: Attitude) -> Result<Afloat, FlotationError> {
    let volume = wanted(solid, load, density)?;
    settle(solid, load, volume, start, false)
        .or_else(|| settle(solid, load, volume, level(solid, volume, start.heel), false))
        .ok_or(FlotationError::NoRest { mass: load.mass, centre: load.centre })
}

/// Without trim, at that heel, about as deep as she will lie.
pub(super) fn level(solid: &Solid, volume: f64, heel: f64) -> Attitude {
    sunk(solid, volume, Attitude { heel, ..Attitude::default() })
}

/// The volume that carries the load, mm³.
pub(super) fn wanted(solid: &Solid, load: &Load, density: f64) -> Result<f64, FlotationError> {
    let finite = load.centre.iter().all(|v| v.is_finite());
    if !(load.mass.is_finite() && load.mass > 0.0 && finite) {
        return Err(FlotationError::NoWeight { mass: load.mass });
    }
    if solid.is_empty() {
        return Err(FlotationError::NoBoat);
    }
    let volume = load.mass / density * 1e9;
    let most = solid.whole().0;
    if volume >= most {
        return Err(FlotationError::TooHeavy { mass: load.mass, most: most * 1e-9 * density });
    }
    let bounds = solid.bounds();
    for (axis, [least, most]) in bounds.into_iter().enumerate().take(2) {
        let found = load.centre[axis];
        if found < least || found > most {
            return Err(FlotationError::Outside { axis, found, least, most });
        }
    }
    Ok(volume)
}

/// About how deep she lies at that trim and heel when `volume` is under water: Newton's steps, by halves where one goes astray.
fn sunk(solid: &Solid, volume: f64, mut at: Attitude) -> Attitude {
    let [mut low, mut high] = solid.heights(&at);
    at.water = if at.water > low && at.water < high { at.water } else { 0.5 * (low + high) };
    for _ in 0..ROUNDS {
        let under = solid.under(&at);
        let over = under.volume - volume;
        if over.abs() <= ABOUT * volume {
            break;
        }
        if over > 0.0 {
            high = at.water
        } else {
            low = at.water
        }
        let next = at.water - over / under.area;
        at.water = if next > low && next < high { next } else { 0.5 * (low + high) };
    }
    at
}

/// Newton's method from `start`; `None` where it does not settle.
pub(super) fn settle(solid: &Solid, load: &Load, volume: f64, start: Attitude, free: bool) -> Option<Afloat> {
    let mut at = start;
    let deep = {
        let [low, high] = solid.heights(&at);
        high - low
    };
    for _ in 0..ROUNDS {
        let under = solid.under(&at);
        if under.area <= 0.0 {
            // High and dry, or sunk.
            at = sunk(solid, volume, at);
            continue;
        }
        let system = System::of(&under, &at, load, volume);
        if system.settled(volume, free) {
            return Some(Afloat { at, under, stiff: system.stiff() });
        }
        let [mut sink, mut trim, mut heel] = system.step(free)?;
        // Too long a step is shortened whole.
        let over = (sink.abs() / (0.25 * deep)).max(trim.abs() / TURN).max(heel.abs() / TURN);
        if over > 1.0 {
            [sink, trim, heel] = [sink / over, trim / over, heel / over];
        }
        at = Attitude { water: at.water + sink, trim: at.trim + trim, heel: at.heel + heel };
    }
    None
}

/// What is to be nought, and how it changes with depth, trim and heel.
struct System {
    off: Vector3<f64>,
    /// Rows: displacement, moment along, moment across; columns: depth, trim, heel.
    rates: Matrix3<f64>,
}

impl System {
    fn of(under: &Under, at: &Attitude, load: &Load, volume: f64) -> System {
        let axes = at.axes();
        let [x, y, z]: [f64; 3] = [0, 1, 2].map(|i| load.centre.coords.dot(&axes[i]));
        let along = under.moment.x - volume * x;
        let across = under.moment.y - volume * y;
        // Both centres over the boat's origin: the water stands `at.water` over it.
        let up = under.moment.z + at.water * under.volume - volume * z;
        let (s, c) = at.trim.sin_cos();
        let [xx, xy, yy] = under.second;
        let rates = Matrix3::new(
            under.area,
            under.first[0],
            c * under.first[1],
            under.first[0],
            xx + up,
            c * xy - s * across,
            under.first[1],
            xy,
            c * (yy + up) + s * along,
        );
        System { off: Vector3::new(under.volume - volume, along, across), rates }
    }

    fn settled(&self, volume: f64, free: bool) -> bool {
        let near = |moment: f64| moment.abs() <= SAME_LENGTH * volume;
        self.off[0].abs() <= SAME_SHARE * volume && near(self.off[1]) && (!free || near(self.off[2]))
    }

    /// A heel, her depth and trim following, brings her back. What a little heel moves: the rest of the heel's rate when depth
    /// and trim have given way (the Schur complement).
    fn stiff(&self) -> bool {
        let r = &self.rates;
        let upright = Matrix2::new(r[(0, 0)], r[(0, 1)], r[(1, 0)], r[(1, 1)]);
        let given = upright.lu().solve(&Vector2::new(r[(0, 2)], r[(1, 2)]));
        given.is_some_and(|g| r[(2, 2)] - r[(2, 0)] * g[0] - r[(2, 1)] * g[1] > 0.0)
    }

    fn step(&self, free: bool) -> Option<[f64; 3]> {
        let step = if free {
            self.rates.lu().solve(&-self.off)?
        } else {
            let r = &self.rates;
            let two = Matrix2::new(r[(0, 0)], r[(0, 1)], r[(1, 0)], r[(1, 1)]);
            let s = two.lu().solve(&Vector2::new(-self.off[0], -self.off[1]))?;
            Vector3::new(s[0], s[1], 0.0)
        };
        step.iter().all(|v| v.is_finite()).then(|| [step[0], step[1], step[2]])
    }
}

/// From the centre of her weight to that of the water she displaces, level across, mm: + rights her when she is heeled to
/// starboard.
#[must_use]
pub fn righting_arm(afloat: &Afloat, load: &Load) -> f64 {
    let across: Vector = afloat.at.axes()[1];
    afloat.under.moment.y / afloat.under.volume - load.centre.coords.dot(&across)
}
