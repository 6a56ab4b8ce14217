//! Why there are no timbers.

use crate::units::Notation;

/// Timbers that cannot stand as boat.toml has them. `Display` gives lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum TimberError {
    /// A place of the list before or behind the keel's rabbet.
    OffTheKeel {
        /// In the list, from 1.
        item: usize,
        /// Its place, mm.
        x: f64,
        /// Fore end of the rabbet, mm.
        fore: f64,
        /// After end, mm.
        aft: f64,
    },
    /// Two stand nearer than they are sided.
    OnePlace {
        /// The forward one.
        a: usize,
        /// The next.
        b: usize,
        /// Where, 0 at the rabbet.
        land: usize,
        /// Between their centres, mm.
        apart: f64,
        /// What is needed, mm.
        least: f64,
    },
    /// More are canted from one end than there are.
    TooManyCanted {
        /// The key.
        which: &'static str,
        /// How many.
        found: usize,
        /// How many there are.
        timbers: usize,
    },
    /// Some are canted from both ends.
    CantedTwice {
        /// How many.
        found: usize,
        /// How many there are.
        timbers: usize,
    },
    /// The plane of a timber misses a land.
    RunsOut {
        /// Its number.
        timber: usize,
        /// Its place, mm.
        x: f64,
        /// Radians.
        cant: f64,
        /// Where, 0 at the rabbet.
        land: usize,
    },
    /// Its marks lie on one another.
    NoLine {
        /// Its number.
        timber: usize,
        /// Its place, mm.
        x: f64,
    },
    /// No timber of that number to stop.
    StopNowhere {
        /// In the list, from 1.
        item: usize,
        /// Its number.
        timber: usize,
        /// How many there are.
        timbers: usize,
    },
    /// A strake that none can stop at.
    StopStrake {
        /// In the list, from 1.
        item: usize,
        /// The strake.
        strake: usize,
        /// The most allowed.
        most: usize,
    },
    /// A height that none can stop at.
    StopHeight {
        /// In the list, from 1.
        item: usize,
        /// Height, mm.
        z: f64,
        /// What is needed, mm.
        least: f64,
        /// The most allowed.
        most: f64,
    },
}

impl std::error::Error for TimberError {}

impl std::fmt::Display for TimberError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.said(Notation::Mm))
    }
}

impl TimberError {
    /// The message with its lengths in `lengths`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        let l = |mm: f64| lengths.said_fine(mm);
        match *self {
            TimberError::OffTheKeel { item, x, fore, aft } => format!(
                "boat.toml: timbers.at, item {item}: {} aft of the first station is off the keel, whose rabbet runs from {} to \
                 {}: check its digits and its sign, or take it out",
                l(x),
                l(fore),
                l(aft)
            ),
            TimberError::OnePlace { a, b, land, apart, least } => format!(
                "boat.toml: timbers {a} and {b} want one place: at {} their centres stand {} apart, and what they are sided \
                 takes {}: move one (timbers.at, timbers.spacing), cant them less (timbers.cant_fore, timbers.cant_aft), or \
                 make them thinner (timbers.sided)",
                if land == 0 { "the rabbet".to_owned() } else { format!("land {land}") },
                l(apart),
                l(least)
            ),
            TimberError::TooManyCanted { which, found, timbers } => {
                format!("boat.toml: timbers.{which} cants {found} timbers and there are {timbers}: shorten the list")
            }
            TimberError::CantedTwice { found, timbers } => format!(
                "boat.toml: timbers.cant_fore and timbers.cant_aft cant {found} timbers together and there are {timbers}: shorten \
                 one of the lists"
            ),
            TimberError::RunsOut { timber, x, cant, land } => format!(
                "boat.toml: timber {timber}, at {} and canted {:.1}°, does not meet {} inside the boat: cant it less \
                 (timbers.cant_fore, timbers.cant_aft), or stand it nearer the middle (timbers.at)",
                l(x),
                cant.abs().to_degrees(),
                if land == 0 { "the rabbet".to_owned() } else { format!("land {land}") }
            ),
            TimberError::NoLine { timber, x } => format!(
                "boat.toml: timber {timber}, at {}, has no line: two lands meet there; stand it nearer the middle \
                 (timbers.at, timbers.spacing)",
                l(x)
            ),
            TimberError::StopNowhere { item, timber, timbers } => format!(
                "boat.toml: timbers.stopped, item {item}: there is no timber {timber}, only 1 to {timbers} from forward: write \
                 one of those"
            ),
            TimberError::StopStrake { item, strake, most } => format!(
                "boat.toml: timbers.stopped, item {item}: strake {strake} is out of range: 2 to {most} is allowed; one that \
                 runs to the sheer needs no line here"
            ),
            TimberError::StopHeight { item, z, least, most } => format!(
                "boat.toml: timbers.stopped, item {item}: height {} is out of range: there the lands it may stop at lie above {} \
                 and up to {}; one that runs to the sheer needs no line here",
                l(z),
                l(least),
                l(most)
            ),
        }
    }
}
