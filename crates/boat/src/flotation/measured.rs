//! What is measured of her where she floats.

use super::slices::slices;
use super::{Attitude, FlotationError, Hull, Load, afloat};
use crate::geom::{Point, Vector};

/// The freeboard at a station.
#[derive(Debug, Clone, PartialEq)]
pub struct Freeboard {
    /// The station.
    pub station: String,
    /// From the water up to the sheer's outer edge, to starboard and to port, mm; below 0 it is under.
    pub sides: [f64; 2],
}

/// She floats so. Lengths mm, areas mm², masses kg; "along" is along the water, "over the water" square to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Floating {
    /// What she weighs, and where its centre stands.
    pub load: Load,
    /// kg/m³.
    pub density: f64,
    /// How she lies.
    pub at: Attitude,
    /// She stays upright: she comes back from a little heel.
    pub stiff: bool,
    /// Volume of the water that she displaces, mm³.
    pub volume: f64,
    /// Its middle, in the boat's frame.
    pub buoyancy: Point,
    /// Her wetted outside.
    pub wetted: f64,
    /// Length of the waterplane along the water.
    pub length: f64,
    /// Its breadth.
    pub breadth: f64,
    /// From the water down to the deepest of her, keel and all.
    pub draught: f64,
    /// Area of the waterplane.
    pub waterplane: f64,
    /// Its middle, in the boat's frame.
    pub flotation: Point,
    /// Its second moments about its middle, across (for heel) and along (for trim), mm⁴.
    pub inertia: [f64; 2],
    /// Area under water of the largest section.
    pub largest_section: f64,
    /// How high the metacentres stand over the centre of her weight, for heel and for trim; below 0 she does not stay.
    pub metacentres: [f64; 2],
    /// From the water to the sheer at each station.
    pub freeboards: Vec<Freeboard>,
    /// The lowest freeboard, and where.
    pub lowest: f64,
    /// Where that is.
    pub lowest_at: Point,
}

impl Floating {
    /// Displacement over length, breadth and draught.
    #[must_use]
    pub fn block(&self) -> f64 {
        self.volume / (self.length * self.breadth * self.draught)
    }

    /// Displacement over the largest section and length.
    #[must_use]
    pub fn prismatic(&self) -> f64 {
        self.volume / (self.largest_section * self.length)
    }

    /// Waterplane over length and breadth.
    #[must_use]
    pub fn waterplane_share(&self) -> f64 {
        self.waterplane / (self.length * self.breadth)
    }

    /// What sinks her by `depth` mm, kg.
    #[must_use]
    pub fn to_sink(&self, depth: f64) -> f64 {
        self.waterplane * depth * 1e-9 * self.density
    }

    /// What moment along her trims her by `change` mm from end to end of her waterline, kg m.
    #[must_use]
    pub fn to_trim(&self, change: f64) -> f64 {
        self.load.mass * self.metacentres[1] * 1e-3 * change / self.length
    }
}

/// Where `hull` floats under `load` in water of `density`, kg/m³, and what is measured there.
///
/// # Errors
/// As [`afloat`].
pub fn floating(hull: &Hull, load: &Load, density: f64) -> Result<Floating, FlotationError> {
    let found = afloat(&hull.solid, load, density)?;
    let (at, under) = (found.at, found.under);
    let slices = slices(&hull.solid, &at).ok_or(FlotationError::NoBoat)?;
    let middle = under.first.map(|m| m / under.area);
    let [along, _, across] = under.second;
    let inertia = [across - under.area * middle[1] * middle[1], along - under.area * middle[0] * middle[0]];
    let up = at.axes()[2];
    let buoyancy = under.centre(&at);
    let over_weight = (buoyancy - load.centre).dot(&up);
    let freeboards = hull.stations.iter().filter_map(|(station, x)| {
        let sheer = hull.sheer_at(*x)?;
        let sides = [sheer.y, -sheer.y].map(|y| at.over_water(&Point::new(sheer.x, y, sheer.z)));
        Some(Freeboard { station: station.clone(), sides })
    });
    let (lowest, lowest_at) = hull.lowest(&at).ok_or(FlotationError::NoBoat)?;
    Ok(Floating {
        load: *load,
        density,
        at,
        stiff: found.stays_upright(),
        volume: under.volume,
        buoyancy,
        wetted: under.wetted,
        length: slices.along[1] - slices.along[0],
        breadth: slices.breadth,
        draught: slices.draught,
        waterplane: under.area,
        flotation: at.to_boat(&Vector::new(middle[0], middle[1], 0.0)),
        inertia,
        largest_section: slices.largest,
        metacentres: inertia.map(|i| i / under.volume + over_weight),
        freeboards: freeboards.collect(),
        lowest,
        lowest_at,
    })
}
