//! Who and what is aboard: the boat light, and with each company.

use super::{Ask, FlotationError, Load};
use crate::geom::{Point, Vector};

/// A person where boat.toml names no loads, kg. Common practice, no source, as the places are.
pub const PERSON: f64 = 75.0;
/// A person's middle over the thwart, mm.
pub const OVER_THWART: f64 = 250.0;
/// The same over the keel's rabbet where she has no thwart, mm.
const OVER_BOTTOM: f64 = 350.0;
/// Two on one thwart sit so far off the centreline, mm.
const ASIDE: f64 = 220.0;

/// Something aboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Aboard {
    /// As it is called.
    pub name: String,
    /// kg.
    pub mass: f64,
    /// Its middle, y to starboard.
    pub at: Point,
}

/// The boat with everything that is aboard together.
#[derive(Debug, Clone, PartialEq)]
pub struct Company {
    /// `light`, or as boat.toml names it.
    pub name: String,
    /// It is our assumption, not boat.toml's.
    pub assumed: bool,
    /// What is aboard besides her own parts.
    pub aboard: Vec<Aboard>,
    /// All of it, with her.
    pub load: Load,
}

/// Light first, then by name in the order of boat.toml; where it names none, one person and two.
///
/// # Errors
/// [`FlotationError::NoStation`].
pub fn companies(ask: &Ask<'_>) -> Result<Vec<Company>, FlotationError> {
    let mut always = Vec::new();
    let mut named: Vec<(String, Vec<Aboard>)> = Vec::new();
    for load in &ask.spec.loads {
        let x = load.place.x(ask.table.square_stations()).ok_or_else(|| FlotationError::NoStation {
            load: load.name.clone(),
            station: load.place.station.clone().unwrap_or_default(),
        })?;
        let one = Aboard { name: load.name.clone(), mass: load.mass, at: Point::new(x, load.out, load.height) };
        if load.when.is_empty() {
            always.push(one.clone());
        }
        for when in &load.when {
            match named.iter_mut().find(|(name, _)| name == when) {
                Some((_, aboard)) => aboard.push(one.clone()),
                None => named.push((when.clone(), vec![one.clone()])),
            }
        }
    }
    let assumed = named.is_empty();
    if assumed {
        named = people(ask);
    }
    let company = |name: String, assumed: bool, mut others: Vec<Aboard>| {
        let mut aboard = always.clone();
        aboard.append(&mut others);
        let load = together(ask, &aboard);
        Company { name, assumed, aboard, load }
    };
    let light = company("light".to_owned(), false, Vec::new());
    Ok(std::iter::once(light).chain(named.into_iter().map(|(name, others)| company(name, assumed, others))).collect())
}

/// Her own parts and what is aboard.
fn together(ask: &Ask<'_>, aboard: &[Aboard]) -> Load {
    let own = ask.weights;
    let mass = own.total + aboard.iter().map(|a| a.mass).sum::<f64>();
    let moment = aboard.iter().fold(own.centre.coords * own.total, |sum: Vector, a| sum + a.at.coords * a.mass);
    Load { mass, centre: if mass > 0.0 { Point::from(moment / mass) } else { own.centre } }
}

/// One person on the thwart nearest her middle; two on the two nearest, or side by side on the only one. Without a thwart they
/// sit amidships on the bottom.
fn people(ask: &Ask<'_>) -> Vec<(String, Vec<Aboard>)> {
    let Some(garboard) = ask.strakes.first() else { return Vec::new() };
    let [fore, aft] = [garboard.rulings.first(), garboard.rulings.last()].map(|r| r.map_or(0.0, |r| r.lower.x));
    let middle = 0.5 * (fore + aft);
    let mut seats: Vec<(String, Point)> = ask
        .interior
        .thwarts
        .iter()
        .map(|t| {
            let x = 0.5 * (t.edges[0] + t.edges[1]);
            (t.name.clone(), Point::new(x, 0.0, t.top + OVER_THWART))
        })
        .collect();
    seats.sort_by(|a, b| (a.1.x - middle).abs().total_cmp(&(b.1.x - middle).abs()));
    if seats.is_empty() {
        let near = |r: &&crate::planks::Ruling| (r.lower.x - middle).abs();
        let bottom = garboard.rulings.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map_or(0.0, |r| r.lower.z);
        seats.push(("bottom amidships".to_owned(), Point::new(middle, 0.0, bottom + OVER_BOTTOM)));
    }
    let person = |(seat, at): &(String, Point), aside: f64| Aboard {
        name: format!("a person, {seat}"),
        mass: PERSON,
        at: Point::new(at.x, at.y + aside, at.z),
    };
    let one = seats.first().map(|s| vec![person(s, 0.0)]).unwrap_or_default();
    let two = match &seats[..] {
        [a, b, ..] => vec![person(a, 0.0), person(b, 0.0)],
        [only] => vec![person(only, ASIDE), person(only, -ASIDE)],
        [] => Vec::new(),
    };
    vec![("one person".to_owned(), one), ("two people".to_owned(), two)]
}
