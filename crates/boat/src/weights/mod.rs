//! What the planned parts weigh.
//!
//! Planks are their flat area times their thickness (laps count twice, as wood does), timbers their girth times their
//! section, nails their shanks and roves their rings, thwarts, knees and the like their outlines times their thickness. Screws, keel,
//! stem, transom and paint are not in it: nothing here is the weight of the boat.

use crate::development::FlatPlank;
use crate::fastenings::OrderLine;
use crate::geom::{Point, Vector};
use crate::interior::{Interior, pieces};
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;

/// Weights of the parts planned so far, both sides, kg.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// Planks.
    pub planking: f64,
    /// Nails and roves that she takes.
    pub fastenings: f64,
    /// Timbers.
    pub timbers: f64,
    /// Thwarts, knees and the like; 0 where none are asked for.
    pub interior: f64,
    /// All of these.
    pub total: f64,
    /// Common centre of all but the nails; y is 0.
    pub centre: Point,
}

/// Weighs the planks, timbers, what is inside her, nails and roves of both sides.
#[must_use]
pub fn weigh(
    strakes: &[Strake],
    flats: &[FlatPlank],
    timbers: &[Timber],
    interior: &Interior,
    order: &[OrderLine],
    spec: &Spec,
) -> Weights {
    let mut moment = Vector::zeros();
    let mut planking = 0.0;
    for (strake, flat) in strakes.iter().zip(flats) {
        let mass = 2.0 * flat.area * strake.thickness * 1e-9 * spec.planking.wood.density;
        moment += middle_of(strake) * mass;
        planking += mass;
    }
    let mut timber_mass = 0.0;
    let t = &spec.timbers;
    for timber in timbers {
        let mass = 2.0 * timber.girth * t.sided * t.moulded * 1e-9 * t.wood.density;
        let n = timber.points.len().max(1) as f64;
        moment += timber.points.iter().fold(Vector::zeros(), |s, p| s + p.coords) * (mass / n);
        timber_mass += mass;
    }
    let fastenings: f64 = order.iter().map(OrderLine::mass).sum();
    let mut inside = 0.0;
    for piece in pieces(interior) {
        let mass = f64::from(piece.count) * piece.volume * 1e-9 * piece.wood.density;
        moment += piece.middle.coords * mass;
        inside += mass;
    }
    let wood = planking + timber_mass + inside;
    let mut centre = Point::from(if wood > 0.0 { moment / wood } else { moment });
    centre.y = 0.0;
    Weights { planking, fastenings, timbers: timber_mass, interior: inside, total: wood + fastenings, centre }
}

/// Centre of a strake's inner face: its strips weighted by their area.
fn middle_of(strake: &Strake) -> Vector {
    let (mut sum, mut area) = (Vector::zeros(), 0.0);
    for w in strake.rulings.windows(2) {
        let middle = (w[0].lower.coords + w[0].upper.coords + w[1].lower.coords + w[1].upper.coords) / 4.0;
        let a = 0.5 * ((w[1].upper - w[0].lower).cross(&(w[0].upper - w[1].lower))).norm();
        sum += middle * a;
        area += a;
    }
    if area > 0.0 { sum / area } else { sum }
}
