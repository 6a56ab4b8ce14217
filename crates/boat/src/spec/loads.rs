//! What is in her besides her own parts.

use super::Place;

/// A thing or a person aboard, or a piece of foam fixed in her.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadSpec {
    /// As the builder calls it.
    pub name: String,
    /// kg.
    pub mass: f64,
    /// Where its middle stands along her.
    pub place: Place,
    /// Its middle over base, mm.
    pub height: f64,
    /// Its middle off the centreline, + to starboard, mm.
    pub out: f64,
    /// With which company it is aboard, by name; none: always, as a part of the boat.
    pub when: Vec<String>,
    /// Water that it keeps out when she is swamped, litres: foam, a sealed tank.
    pub litres: f64,
}
