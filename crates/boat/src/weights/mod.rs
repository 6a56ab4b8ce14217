//! What the planned parts weigh, and where.
//!
//! Planks are their flat area times their thickness (laps count twice, as wood does), timbers their girth times their section,
//! nails and screws their shanks and roves their rings, thwarts, knees and the like their outlines times their thickness; keel, stem,
//! sternpost and transoms by the sizes that boat.toml gives. What has no size there is left out, and named. Paint is so much on
//! every face of the planks.
//!
//! Wood weighs what boat.toml or the Wood Handbook says of it at 12 % moisture; what planks take up afloat is told beside it.
//! Which way errors fall: bevels, gains, notches and rabbets that are cut away are not taken off, so parts are a little heavy;
//! what is left out, glue and bedding among it, makes the whole too light.

mod bits;

use crate::backbone::Backbone;
use crate::development::FlatPlank;
use crate::fastenings::OrderLine;
use crate::fastenings::stock::Kind;
use crate::geom::{Point, Vector};
use crate::interior::Interior;
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;

/// Moisture at which the woods' densities stand, percent. Source: `WoodHandbook` table 5-3a.
pub const DRY: f64 = 12.0;

/// What it is reckoned from.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// The strakes.
    pub strakes: &'a [Strake],
    /// The same laid flat.
    pub flats: &'a [FlatPlank],
    /// The timbers.
    pub timbers: &'a [Timber],
    /// What goes inside her.
    pub interior: &'a Interior,
    /// Keel, posts and transoms.
    pub backbone: &'a Backbone,
    /// Nails and the like.
    pub order: &'a [OrderLine],
    /// What was asked for.
    pub spec: &'a Spec,
}

/// Weights of the parts planned, both sides, kg.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// Planks.
    pub planking: f64,
    /// Nails, roves and screws that she takes.
    pub fastenings: f64,
    /// Timbers.
    pub timbers: f64,
    /// Thwarts, knees and the like; 0 where none are asked for.
    pub interior: f64,
    /// Keel, hog, stem, sternpost and transoms, as far as their sizes are given.
    pub backbone: f64,
    /// Paint or varnish.
    pub paint: f64,
    /// All of these.
    pub total: f64,
    /// Common centre; y is 0.
    pub centre: Point,
    /// Each part by itself.
    pub parts: Vec<Weighed>,
    /// The wood of her in pieces, where it stands: what bears her when she is swamped. The planks are not among it.
    pub pieces: Vec<Bit>,
    /// What is not in it, and why.
    pub left_out: Vec<String>,
    /// What the planks take up from [`DRY`], at which their density stands, to their moisture afloat, kg; 0 where she is glued.
    pub taken_up: f64,
}

/// A part: both sides of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// As it is said.
    pub name: String,
    /// kg.
    pub mass: f64,
    /// Its middle; y is 0.
    pub centre: Point,
}

/// A piece of wood as a box, its edges along her, across and up.
#[derive(Debug, Clone, PartialEq)]
pub struct Bit {
    /// The part it is of.
    pub part: String,
    /// mm³.
    pub volume: f64,
    /// kg/m³.
    pub density: f64,
    /// Its middle.
    pub centre: Point,
    /// How long, broad and high it is, about: the box of that shape which holds its volume stands for it. mm.
    pub size: [f64; 3],
}

impl Bit {
    /// kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.volume * 1e-9 * self.density
    }
}

/// Weighs all of it.
#[must_use]
pub fn weigh(ask: &Ask<'_>) -> Weights {
    let (spec, wood) = (ask.spec, &ask.spec.planking.wood);
    let mut parts = Parts::default();
    let mut painted = 0.0;
    let mut planked = Vector::zeros();
    for (strake, flat) in ask.strakes.iter().zip(ask.flats) {
        let middle = middle_of(strake);
        parts.add("planks", 2.0 * flat.area * strake.thickness * 1e-9 * wood.density, middle);
        painted += 4.0 * flat.area;
        planked += middle * flat.area;
    }
    let planking = parts.total();
    let (timbers, inside) = (bits::timbers(ask.timbers, spec), bits::inside(ask.interior));
    let (backbone, left_out) = bits::backbone(ask.backbone, spec);
    for bit in timbers.iter().chain(&inside).chain(&backbone) {
        parts.add(&bit.part, bit.mass(), bit.centre.coords);
    }
    // Nails stand in the lands all over her, paint on every plank: about the planks' own middle.
    let about = if painted > 0.0 { planked / (0.25 * painted) } else { planked };
    let of_kind = |screws: bool| -> f64 {
        ask.order.iter().filter(|l| (l.kind == Kind::Screw) == screws).map(OrderLine::mass).sum()
    };
    let (nails, screws) = (of_kind(false), of_kind(true));
    let paint = painted * 1e-6 * spec.planking.paint * 1e-3;
    parts.add("nails and roves", nails, about);
    parts.add("screws, as bronze", screws, about);
    parts.add("paint or varnish", paint, about);
    let of = |bits: &[Bit]| bits.iter().map(Bit::mass).sum::<f64>();
    let [timber_mass, interior, backbone_mass] = [&timbers, &inside, &backbone].map(|b| of(b));
    let soaked = (1.0 + spec.moisture.afloat / 100.0) / (1.0 + DRY / 100.0) - 1.0;
    let mut pieces = timbers;
    pieces.extend(inside);
    pieces.extend(backbone);
    Weights {
        planking,
        fastenings: nails + screws,
        timbers: timber_mass,
        interior,
        backbone: backbone_mass,
        paint,
        total: parts.total(),
        centre: parts.centre(),
        parts: parts.0.into_iter().filter(|p| p.mass > 0.0).collect(),
        pieces,
        left_out,
        taken_up: if spec.glued() { 0.0 } else { planking * soaked.max(0.0) },
    }
}

/// Parts by name, in the order in which they first come.
#[derive(Default)]
struct Parts(Vec<Weighed>);

impl Parts {
    fn add(&mut self, name: &str, mass: f64, centre: Vector) {
        let at = self.0.iter().position(|p| p.name == name).unwrap_or_else(|| {
            self.0.push(Weighed { name: name.to_owned(), mass: 0.0, centre: Point::origin() });
            self.0.len() - 1
        });
        let part = &mut self.0[at];
        let whole = part.mass + mass;
        if whole > 0.0 {
            part.centre = Point::from((part.centre.coords * part.mass + centre * mass) / whole);
            part.centre.y = 0.0;
        }
        part.mass = whole;
    }

    fn total(&self) -> f64 {
        self.0.iter().map(|p| p.mass).sum()
    }

    fn centre(&self) -> Point {
        let moment = self.0.iter().fold(Vector::zeros(), |sum, p| sum + p.centre.coords * p.mass);
        Point::from(if self.total() > 0.0 { moment / self.total() } else { moment })
    }
}

/// Centre of a strake's plank: of its strips' inner faces, weighted by their area, and half its thickness out.
fn middle_of(strake: &Strake) -> Vector {
    let (mut sum, mut area) = (Vector::zeros(), 0.0);
    for w in strake.rulings.windows(2) {
        let middle = (w[0].lower.coords + w[0].upper.coords + w[1].lower.coords + w[1].upper.coords) / 4.0;
        let out = (w[0].normal + w[0].lower_normal) * (0.25 * strake.thickness);
        let a = 0.5 * ((w[1].upper - w[0].lower).cross(&(w[0].upper - w[1].lower))).norm();
        sum += (middle + out) * a;
        area += a;
    }
    if area > 0.0 { sum / area } else { sum }
}
