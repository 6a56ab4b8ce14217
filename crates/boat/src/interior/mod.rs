//! What goes into her when she is planked: risings, thwarts, inwales, rubbing strakes, breasthooks and knees.
//!
//! The builder says where each stands and how large it is; here is its true shape, cut to the faces it lies against
//! ([`surface`]): the planks' own, the timbers' inner faces, or the inwale's. Long thin pieces are [`Strip`]s, bent along a
//! face; a [`Thwart`] is level, its ends cut to her sides at its top and at its underside; a [`Knee`] is flat and lies between
//! two faces, a breasthook between her two sides. Every pair is one shape, turned over for the other side.
//!
//! Source: derived here from those definitions; closed forms in `tests/it/interior.rs`. Cannot do: thwarts with camber or a
//! taper, knees with cheeks, side benches, floorboards.

mod check;
mod cut;
mod edges;
mod knee;
mod lay;
mod outline;
mod problem;
mod strip;
pub mod surface;
mod thwart;

pub use cut::{Part, Piece, pieces};
pub use knee::{Arm, FaceOf, Knee, KneeKind};
pub use problem::{InteriorError, InteriorProblem};
pub use strip::{EndCut, LiesOn, Meets, Strip, StripAt, StripKind, StripPlace};
pub use thwart::{Notch, Rest, Thwart, ThwartEnd};

use crate::backbone::Backbone;
use crate::findings::Finding;
use crate::geom::Point;
use crate::lines::Section;
use crate::lining::Lands;
use crate::offsets::Table;
use crate::planks::Strake;
use crate::spec::{Against, EndSpec, Place, Spec};
use crate::timbers::Timber;
use surface::{Lofted, On, PAST_TRANSOM, Planking, Sheer, Surface};

/// All of it; empty where nothing is asked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Interior {
    /// Risings, inwales, rubbing strakes: pairs.
    pub strips: Vec<Strip>,
    /// Thwarts, as they stand in boat.toml.
    pub thwarts: Vec<Thwart>,
    /// Breasthooks, then pairs of knees.
    pub knees: Vec<Knee>,
}

impl Interior {
    /// There is none of it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.strips.is_empty() && self.thwarts.is_empty() && self.knees.is_empty()
    }
}

/// What it is worked out from.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// What was asked for.
    pub spec: &'a Spec,
    /// The table, whose stations places are measured from.
    pub table: &'a Table,
    /// The skin's sections.
    pub sections: &'a [Section],
    /// The lands.
    pub lands: &'a Lands,
    /// The strakes.
    pub strakes: &'a [Strake],
    /// The timbers.
    pub timbers: &'a [Timber],
    /// Posts and transoms.
    pub backbone: &'a Backbone,
}

/// What comes of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fitted {
    /// What can stand as boat.toml has it.
    pub interior: Interior,
    /// What cannot and is left out, each with its key, the value, the limit and what to do: she is planked without it.
    pub refused: Vec<InteriorError>,
    /// What to look at in the rest.
    pub findings: Vec<Finding>,
}

/// Works it out.
#[must_use]
pub fn interior(ask: &Ask<'_>) -> Fitted {
    let spec = &ask.spec.interior;
    if spec.is_empty() {
        return Fitted::default();
    }
    let faces = match Faces::new(ask) {
        Ok(faces) => faces,
        Err(why) => return Fitted { refused: vec![why], ..Fitted::default() },
    };
    let mut refused = Vec::new();
    let mut strips: Vec<Strip> =
        kept(spec.risings.iter().enumerate().map(|(i, r)| lay::rising(&faces, i, r)), &mut refused);
    let thwarts: Vec<Thwart> =
        kept(spec.thwarts.iter().enumerate().map(|(i, t)| thwart::thwart(&faces, &strips, i, t)), &mut refused);
    let mut knees: Vec<Knee> =
        kept(spec.breasthooks.iter().enumerate().map(|(i, b)| knee::breasthook(&faces, i, b)), &mut refused);
    strips.extend(kept(spec.inwale.iter().map(|w| lay::inwale(&faces, &knees, w)), &mut refused));
    let rubbing = spec.rubbing_strakes.iter().enumerate().map(|(i, r)| lay::rubbing_strake(&faces, i, r));
    strips.extend(kept(rubbing, &mut refused));
    knees.extend(kept(spec.knees.iter().enumerate().map(|(i, k)| knee::knee(&faces, &thwarts, i, k)), &mut refused));
    let interior = Interior { strips, thwarts, knees };
    let findings = check::check(&interior, ask.spec.lengths);
    Fitted { interior, refused, findings }
}

/// Those that can stand; the others go to `refused`.
fn kept<T>(all: impl Iterator<Item = Result<T, InteriorError>>, refused: &mut Vec<InteriorError>) -> Vec<T> {
    all.filter_map(|one| one.map_err(|why| refused.push(why)).ok()).collect()
}

/// What things lie against, and how far it goes.
struct Faces<'a> {
    ask: Ask<'a>,
    planking: Planking<'a>,
    timbers: Surface,
    inwale: Option<Surface>,
    sheer: Sheer,
}

impl<'a> Faces<'a> {
    fn new(ask: &Ask<'a>) -> Result<Self, InteriorError> {
        let spec = &ask.spec.interior;
        let none = || InteriorError { key: "interior".to_owned(), problem: InteriorProblem::NoShape };
        let moulded = if ask.timbers.is_empty() { 0.0 } else { ask.spec.timbers.moulded };
        let past = [&ask.spec.fore, &ask.spec.aft].map(|end| match end {
            EndSpec::Transom(_) => PAST_TRANSOM,
            EndSpec::Post(_) => 0.0,
        });
        let lofted = Lofted::through(&ask.lands.curves).map_err(|_| none())?;
        let within = |inboard: f64| lofted.within(inboard, past).map_err(|_| none());
        let wanted = spec.breasthooks.iter().map(|b| &b.grown).chain(spec.knees.iter().map(|k| &k.grown));
        let to_inwale = wanted.into_iter().any(|g| g.against == Against::Inwale);
        let inwale = match &spec.inwale {
            Some(inwale) if to_inwale => Some(within(moulded + inwale.stick.thickness)?),
            _ => None,
        };
        Ok(Faces {
            ask: *ask,
            planking: Planking::new(ask.strakes, past),
            timbers: within(moulded)?,
            inwale,
            sheer: Sheer::of(ask.lands.curves.last().ok_or_else(none)?),
        })
    }

    /// On the face at `x` and the height `z`.
    fn on(&self, against: Against, x: f64, z: f64) -> Option<On> {
        match against {
            Against::Planking => self.planking.at(x, z),
            Against::Timbers => self.timbers.section(x)?.at(z),
            Against::Inwale => self.inwale.as_ref()?.section(x)?.at(z),
        }
    }

    /// The same at several heights.
    fn at_heights<const N: usize>(&self, against: Against, x: f64, z: [f64; N]) -> [Option<On>; N] {
        let surface = match against {
            Against::Planking => return z.map(|z| self.planking.at(x, z)),
            Against::Timbers => Some(&self.timbers),
            Against::Inwale => self.inwale.as_ref(),
        };
        let slice = surface.and_then(|s| s.section(x));
        z.map(|z| slice.as_ref()?.at(z))
    }

    /// Lowest height of the face at `x`, and the sheer.
    fn heights(&self, against: Against, x: f64) -> Option<[f64; 2]> {
        let sheer = self.sheer.at(x)?.z;
        let low = match against {
            Against::Planking => self.planking.section(x).first()?.lower[1],
            Against::Timbers => self.timbers.section(x)?.heights()[0],
            Against::Inwale => self.inwale.as_ref()?.section(x)?.heights()[0],
        };
        Some([low, sheer])
    }

    /// A place of boat.toml, mm aft of the first station.
    fn x(&self, key: &str, place: &Place) -> Result<f64, InteriorError> {
        let station = || place.station.clone().unwrap_or_default();
        place
            .x(self.ask.table.square_stations())
            .ok_or_else(|| trouble(key, InteriorProblem::NoStation { station: station() }))
    }

    /// The sheer at `x`.
    fn sheer_at(&self, key: &str, what: &'static str, x: f64) -> Result<Point, InteriorError> {
        let [fore, aft] = self.sheer.ends();
        self.sheer.at(x).ok_or_else(|| trouble(key, InteriorProblem::OffTheBoat { what, x, fore, aft }))
    }

    /// On the face at `x` and `z`, or what is wrong with that.
    fn must(&self, key: &str, what: &'static str, against: Against, x: f64, z: f64) -> Result<On, InteriorError> {
        let sheer = self.sheer_at(key, what, x)?;
        let found = self.on(against, x, z).filter(|on| z <= sheer.z + SAME && on.at.y > SAME && self.within(on));
        found.ok_or_else(|| self.off(key, what, against, x, z))
    }

    /// Between her transoms' inner faces.
    fn within(&self, on: &On) -> bool {
        let [x, y, z] = on.at.into();
        [(&self.ask.spec.fore, 1.0), (&self.ask.spec.aft, -1.0)].into_iter().all(|(end, way)| match end {
            EndSpec::Transom(t) => (x - edges::inner_face(t, y, z)) * way > -THROUGH,
            EndSpec::Post(_) => true,
        })
    }

    /// Why nothing lies at that place and height.
    fn off(&self, key: &str, what: &'static str, against: Against, x: f64, z: f64) -> InteriorError {
        let [fore, aft] = self.sheer.ends();
        trouble(
            key,
            match self.heights(against, x) {
                // She is too narrow for it there: it stands off her ends at that height.
                Some([low, high]) if (low..=high).contains(&z) => InteriorProblem::OffTheBoat {
                    what,
                    x,
                    fore: self.ends_at(against, z)[0],
                    aft: self.ends_at(against, z)[1],
                },
                Some([low, high]) => InteriorProblem::OffTheSide { what, x, z, low, high },
                None => InteriorProblem::OffTheBoat { what, x, fore, aft },
            },
        )
    }

    /// From where to where the face goes at the height `z`, within a hundredth of her length.
    fn ends_at(&self, against: Against, z: f64) -> [f64; 2] {
        let [fore, aft] = self.sheer.ends();
        let at = |i: i32| fore + (aft - fore) * f64::from(i) / 100.0;
        let there = |i: &i32| self.on(against, at(*i), z).is_some_and(|on| on.at.y > SAME && self.within(&on));
        [(0..=100).find(there), (0..=100).rev().find(there)].map(|i| i.map_or(fore, at))
    }
}

/// Nearer than this is the same place, mm.
const SAME: f64 = 1e-6;
/// What ends on a transom's inner face may stand in it by this, mm: where it does is found in rounds.
const THROUGH: f64 = 0.01;

fn trouble(key: &str, problem: InteriorProblem) -> InteriorError {
    InteriorError { key: key.to_owned(), problem }
}

/// Where a timber stands at the height `z`, mm aft of the first station; `None` where it does not reach it.
fn timber_at(timber: &Timber, z: f64) -> Option<f64> {
    let w = timber.points.windows(2).find(|w| w[0].z <= z && z <= w[1].z)?;
    let share = (z - w[0].z) / (w[1].z - w[0].z).max(f64::MIN_POSITIVE);
    Some(if timber.cant == 0.0 { timber.x } else { w[0].x + share * (w[1].x - w[0].x) })
}
