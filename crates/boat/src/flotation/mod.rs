//! Where she floats, how stiff she is, and what is left when she is swamped.
//!
//! What the water sees is her planked outside with its laps, transoms, and keel and stem as far as boat.toml gives them
//! ([`crate::ink::closed`]), as a closed face cut at the water ([`Solid`]). For a weight and its centre she is put where
//! both balance ([`afloat`]); everything else is measured there ([`Floating`]).
//!
//! Source: the definitions of displacement, metacentre and the rest are every ship-stability handbook's (`StabilityMasters` in
//! SOURCES.md); the sums are derived here; closed forms in `tests/it/flotation.rs`. Which way errors fall: keel and stem outside
//! the planks that boat.toml does not give displace nothing, so she is shown a little deeper than she lies. Cannot do: waves,
//! way through the water, water that runs about in her, wood that takes up water.

mod attitude;
mod balance;
mod company;
mod heeled;
mod measured;
mod patch;
mod slices;
mod solid;
mod swamped;
mod wood;

pub use attitude::Attitude;
pub use balance::{Afloat, Load, afloat, held, righting_arm};
pub use company::{Aboard, Company, OVER_THWART, PERSON, companies};
pub use heeled::{Arm, Righting, righting};
pub use measured::{Floating, Freeboard, floating};
pub use solid::{Solid, Under};
pub use swamped::{Rest, Swamped};
pub use wood::wood;

use crate::findings::{Finding, Measure, Stage};
use crate::geom::Point;
use crate::ink;
use crate::interior::Interior;
use crate::lines::Section;
use crate::offsets::{StationAt, Table};
use crate::planks::Strake;
use crate::spec::Spec;
use crate::weights::Weights;

/// Fresh water, kg/m³.
pub const FRESH: f64 = 1000.0;
/// Sea water, kg/m³. Source: `StabilityMasters`, which reckons with 1.025 t/m³ throughout.
pub const SEA: f64 = 1025.0;

/// Why there is no place for her in the water. Lengths mm, masses kg.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FlotationError {
    /// No weight, or a negative one.
    #[error("she weighs {mass} kg with what is aboard; it must be more than nought: look at the masses in [[loads]]")]
    NoWeight {
        /// As reckoned.
        mass: f64,
    },
    /// No strakes.
    #[error("there are no strakes, so there is nothing that floats")]
    NoBoat,
    /// More than she displaces to the sheer.
    #[error(
        "she weighs {mass:.0} kg with what is aboard, and to the sheer she displaces no more than {most:.0} kg: take loads out of \
         [[loads]], or give her more freeboard"
    )]
    TooHeavy {
        /// As reckoned.
        mass: f64,
        /// What she displaces to the sheer.
        most: f64,
    },
    /// A centre that is not in the boat.
    #[error(
        "the centre of all that is aboard stands {found:.0} mm {}, and she goes from {least:.0} to {most:.0} mm: look at station, at \
         and out in [[loads]]", if *.axis == 0 { "aft of the first station" } else { "to starboard" }
    )]
    Outside {
        /// 0 along her, 1 across.
        axis: usize,
        /// Where it stands.
        found: f64,
        /// Where she begins.
        least: f64,
        /// Where she ends.
        most: f64,
    },
    /// A load that stands nowhere.
    #[error("[[loads]], {load}: no station is called {station}; give the station as offsets.csv does, or `at`")]
    NoStation {
        /// The load.
        load: String,
        /// As typed.
        station: String,
    },
    /// She rolls over or stands on end.
    #[error(
        "with {mass:.0} kg, its centre {:.0} mm aft of the first station, {:.0} mm to starboard and {:.0} mm above base, she finds no \
         rest in the water: set the loads in [[loads]] lower or nearer the middle of her",
        .centre.x, .centre.y, .centre.z
    )]
    NoRest {
        /// Of everything.
        mass: f64,
        /// Of everything.
        centre: Point,
    },
}

/// What floats.
#[derive(Debug, Clone, PartialEq)]
pub struct Hull {
    /// Her outside, closed at the sheer.
    pub solid: Solid,
    /// The outer edge of the sheer to starboard, from the bow.
    pub sheer: Vec<Point>,
    /// Her stations: their names, and where they stand, mm aft of the first.
    pub stations: Vec<(String, f64)>,
}

impl Hull {
    /// The planked boat.
    #[must_use]
    pub fn of(strakes: &[Strake], sections: &[Section], table: &Table, spec: &Spec) -> Hull {
        let outside = ink::closed(strakes, sections, spec);
        let square = |at: &StationAt| if let StationAt::Square(x) = at { Some(*x) } else { None };
        Hull {
            solid: Solid::of(&outside.faces, outside.deck),
            sheer: outside.sheer,
            stations: table.stations.iter().filter_map(|s| Some((s.name.clone(), square(&s.at)?))).collect(),
        }
    }

    /// The sheer of both sides.
    fn sheers(&self) -> impl Iterator<Item = Point> + '_ {
        self.sheer.iter().flat_map(|p| [*p, Point::new(p.x, -p.y, p.z)])
    }

    /// Where the sheer stands at `x`, to starboard.
    #[must_use]
    pub fn sheer_at(&self, x: f64) -> Option<Point> {
        let w = self.sheer.windows(2).find(|w| w[0].x <= x && x <= w[1].x)?;
        let share = if w[1].x > w[0].x { (x - w[0].x) / (w[1].x - w[0].x) } else { 0.0 };
        Some(w[0] + (w[1] - w[0]) * share)
    }

    /// How far the lowest place of the sheer stands over the water, mm, and where.
    #[must_use]
    pub fn lowest(&self, at: &Attitude) -> Option<(f64, Point)> {
        self.sheers().map(|p| (at.over_water(&p), p)).min_by(|a, b| a.0.total_cmp(&b.0))
    }
}

/// What it is reckoned from.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// The strakes.
    pub strakes: &'a [Strake],
    /// The skin's sections.
    pub sections: &'a [Section],
    /// The table, whose stations places are measured from.
    pub table: &'a Table,
    /// What was asked for.
    pub spec: &'a Spec,
    /// What her parts weigh.
    pub weights: &'a Weights,
    /// What goes inside her, thwarts to sit on among it.
    pub interior: &'a Interior,
}

/// Everything there is to say of her in the water.
#[derive(Debug, Clone, PartialEq)]
pub struct Flotation {
    /// What floats.
    pub hull: Hull,
    /// With each company, light first.
    pub companies: Vec<InWater>,
    /// Full of water.
    pub swamped: Swamped,
}

/// The boat with one company in the water.
#[derive(Debug, Clone, PartialEq)]
pub struct InWater {
    /// Who and what is aboard.
    pub company: Company,
    /// Where she floats in fresh water.
    pub fresh: Result<Floating, FlotationError>,
    /// The same in sea water.
    pub sea: Result<Floating, FlotationError>,
    /// Her righting arm in fresh water.
    pub righting: Result<Righting, FlotationError>,
}

/// How far off her a load may stand without a question, mm: a motor on her transom, an anchor over her bow. Common practice, no source.
const OFF: f64 = 500.0;

/// Loads that stand further off her than any would, by where her sheer strake runs.
#[must_use]
pub fn astray(strakes: &[Strake], table: &Table, spec: &Spec) -> Vec<Finding> {
    let range = |axis: usize| {
        let all = strakes.last().into_iter().flat_map(|s| &s.rulings).map(|r| r.upper[axis]);
        all.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], v| [least.min(v), most.max(v)])
    };
    let (along, [_, half]) = (range(0), range(1));
    let mut findings = Vec::new();
    for load in &spec.loads {
        let Some(x) = load.place.x(table.square_stations()) else { continue };
        let (least, most) = (along[0] - OFF, along[1] + OFF);
        let words = [
            (x, least, x < least, "that is forward of her"),
            (x, most, x > most, "that is abaft her"),
            (
                load.out.abs(),
                half + OFF,
                load.out.abs() > half + OFF,
                "out from the centreline, that is off her side",
            ),
        ];
        for (at, limit, _, way) in words.into_iter().filter(|w| w.2) {
            findings.push(Finding {
                stage: Stage::Loads,
                place: load.name.clone(),
                measured: Measure::Length(at),
                limit: Measure::Length(limit),
                hint: format!("{way}: look at its station, at, aft and out in [[loads]]"),
            });
        }
    }
    findings
}

/// The companies with which she does not float, by name, and why. Without the righting arms it takes a few milliseconds.
#[must_use]
pub fn troubles(ask: &Ask<'_>) -> Vec<(String, FlotationError)> {
    let hull = Hull::of(ask.strakes, ask.sections, ask.table, ask.spec);
    match companies(ask) {
        Ok(companies) => {
            companies.into_iter().filter_map(|c| Some((c.name, afloat(&hull.solid, &c.load, FRESH).err()?))).collect()
        }
        Err(why) => vec![(String::new(), why)],
    }
}

/// Works it out.
///
/// # Errors
/// [`FlotationError::NoBoat`], [`FlotationError::NoStation`]; a company with which she does not float says so itself.
pub fn flotation(ask: &Ask<'_>) -> Result<Flotation, FlotationError> {
    let hull = Hull::of(ask.strakes, ask.sections, ask.table, ask.spec);
    if hull.solid.is_empty() {
        return Err(FlotationError::NoBoat);
    }
    let companies = companies(ask)?;
    let light = companies.first().map(|c| c.load).ok_or(FlotationError::NoBoat)?;
    let in_water = |company: Company| InWater {
        fresh: floating(&hull, &company.load, FRESH),
        sea: floating(&hull, &company.load, SEA),
        righting: righting(&hull, &company.load, FRESH),
        company,
    };
    let swamped = swamped::swamped(ask, &hull, &light);
    let companies = companies.into_iter().map(in_water).collect();
    Ok(Flotation { companies, swamped, hull })
}
