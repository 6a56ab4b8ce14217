//! Offsets taken off a standing hull.
//!
//! At each station the builder measures some points on the outside of the planking, each out from the centreline and up from
//! the base line, or by two tapes from two nails ([`by_two_tapes`]). A clinker hull is no smooth surface: what is smooth is the
//! surface a plank's thickness outside that on which the upper inner edges of all planks lie, and that is what a plan drawn to
//! the outside of the planking gives. Points taken in the same place on every plank ([`On`]) are brought to it (`surface`),
//! faired within what the tape may be off, and read off at waterlines and buttocks (`read_off`). A point that plainly does not
//! fit those beside it, along the girth or along the boat, is left out and named (`judge`).
//!
//! Source: derived here from the definitions of land, lap and gain in `planks`. Errors fall either way, by the tape and what is
//! left of rounding; [`TakenOff::moved`] says how much. Cannot do: planks hollowed across, and two sides of unlike shape.

mod ends;
mod judge;
mod order;
mod problem;
mod read_off;
mod surface;
mod two_tapes;

use crate::geom::fair::FairCurve;
use crate::repair::fair::Row;
use crate::units::Notation;

pub use problem::TakeOffError;
pub use two_tapes::{LEAST_ANGLE, TapesError, by_two_tapes};

/// Where on the planks a point was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum On {
    /// On the smooth surface itself: a hull without lands, and always the rabbet and the sheer.
    Surface,
    /// The lower outer edge of a plank that lies over the one below.
    Edge,
    /// The middle of what shows of a plank.
    Middle,
}

impl On {
    /// In the column `on`.
    pub const WORDS: [(&'static str, On); 3] = [("surface", On::Surface), ("edge", On::Edge), ("middle", On::Middle)];
}

/// What a section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The stem's rabbet.
    Stem,
    /// A pram's bow transom.
    BowTransom,
    /// A station square to the centreline.
    Station,
    /// The transom.
    Transom,
    /// The sternpost's rabbet.
    Sternpost,
}

impl Part {
    /// The ends, as the column `station` calls them.
    pub const WORDS: [(&'static str, Part); 4] = [
        ("stem", Part::Stem),
        ("bow transom", Part::BowTransom),
        ("transom", Part::Transom),
        ("sternpost", Part::Sternpost),
    ];

    /// A post's points are its rabbet's, and nothing else is measured there.
    fn is_post(self) -> bool {
        matches!(self, Part::Stem | Part::Sternpost)
    }
}

/// One point as taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Line of taken.csv, from 1.
    pub line: usize,
    /// `rabbet`, `sheer`, or what the builder calls it: one name for one line along the boat.
    pub mark: String,
    /// Where on the planks.
    pub on: On,
    /// Aft of the first station, mm.
    pub at: f64,
    /// Out from the centreline and up from the base line, mm.
    pub place: [f64; 2],
}

/// The points of a station or an end.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// As typed.
    pub name: String,
    /// What it is.
    pub part: Part,
    /// In the order of the file.
    pub points: Vec<Point>,
}

/// What is said beside the points. Lengths are mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// The builder's notation.
    pub lengths: Notation,
    /// Of the planks.
    pub thickness: f64,
    /// How far one plank lies over the next.
    pub lap: f64,
    /// Length over which the lands run out flush forward and aft; 0 where they do not.
    pub gains: [f64; 2],
    /// How far a reading may be off.
    pub tape: f64,
}

/// A point to take again.
#[derive(Debug, Clone, PartialEq)]
pub struct Again {
    /// Line of taken.csv, from 1.
    pub line: usize,
    /// The station.
    pub station: String,
    /// The mark.
    pub mark: String,
    /// As taken: out and up, mm.
    pub taken: [f64; 2],
    /// About where the others have it, mm.
    pub others: [f64; 2],
}

/// How well the points of one section agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Agreement {
    /// The station.
    pub station: String,
    /// Points that were used.
    pub points: usize,
    /// The farthest a point was moved by fairing, mm.
    pub most: f64,
    /// Root mean square of all, mm.
    pub mean: f64,
}

/// An end as far as the points tell.
#[derive(Debug, Clone, PartialEq)]
pub enum EndFound {
    /// A stem or sternpost: mean half siding if any point gives it, and points from the head down: aft and up, mm.
    Post {
        /// The same.
        half_siding: f64,
        /// The same.
        rabbet: Vec<[f64; 2]>,
    },
    /// A transom: two points of its face in profile, and how far its points lie off that line, mm.
    Transom {
        /// At the rabbet.
        foot: [f64; 2],
        /// At the sheer.
        head: [f64; 2],
        /// The farthest.
        off: f64,
    },
}

/// What comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenOff {
    /// offsets.csv, to the outside of the planking.
    pub table: String,
    /// The fore end, if its points were taken.
    pub fore: Option<EndFound>,
    /// The after end, the same.
    pub aft: Option<EndFound>,
    /// Half-breadth of the rabbet, the mean of all stations, mm.
    pub half_siding: f64,
    /// Station by station.
    pub moved: Vec<Agreement>,
    /// Points to take again.
    pub again: Vec<Again>,
}

/// A section with its fair curve.
#[derive(Debug, Clone)]
struct Faired {
    name: String,
    part: Part,
    /// Aft of the first station, mm; of a transom its mean.
    at: f64,
    /// From rabbet to sheer, as taken.
    taken: Vec<Point>,
    /// The same brought to the smooth surface and faired.
    curve: FairCurve<2>,
    /// How far each was moved by fairing, mm.
    moved: Vec<f64>,
}

impl Faired {
    /// Where the curve is at a share of its girth.
    fn at_share(&self, share: f64) -> [f64; 2] {
        let [low, high] = [self.curve.knots()[0], self.end()];
        self.curve.at(low + share * (high - low))
    }

    fn end(&self) -> f64 {
        let knots = self.curve.knots();
        knots[knots.len() - 1]
    }
}

/// A fair curve through points from rabbet to sheer, none moved by more than `tape` out or up; and how far each was moved.
fn faired(places: &[[f64; 2]], tape: f64) -> Result<(FairCurve<2>, Vec<f64>), crate::geom::fair::FairError> {
    let knots = crate::geom::fair::chord_knots(places);
    let row = Row::new(&knots)?;
    let [out, up] = [0, 1].map(|d| row.faired(&places.iter().map(|p| p[d]).collect::<Vec<_>>(), tape));
    let fair: Vec<[f64; 2]> = out.into_iter().zip(up).map(|(y, z)| [y, z]).collect();
    let moved = fair.iter().zip(places).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).collect();
    Ok((FairCurve::through(&knots, &fair)?, moved))
}

/// Offsets from points.
///
/// # Errors
/// [`TakeOffError`] names the station, what is wanting, and the limit.
pub fn take_off(sections: &[Section], settings: &Settings) -> Result<TakenOff, TakeOffError> {
    let heading = "Taken off the standing boat by strakewise take-off; to the outside of the planking.";
    take_off_under(heading, sections, settings)
}

/// The same, the table beginning with another line of comment.
///
/// # Errors
/// As [`take_off`].
pub fn take_off_under(heading: &str, sections: &[Section], settings: &Settings) -> Result<TakenOff, TakeOffError> {
    let mut ordered = order::ordered(sections)?;
    let again = judge::set_aside(&mut ordered, settings);
    let ends = ends::Ends::of(sections);
    let faired = surface::brought(&ordered, &ends, settings)?;
    let agreement = |f: &Faired| Agreement {
        station: f.name.clone(),
        points: f.taken.len(),
        most: f.moved.iter().copied().fold(0.0, f64::max),
        mean: (f.moved.iter().map(|m| m * m).sum::<f64>() / f.moved.len() as f64).sqrt(),
    };
    let rabbets: Vec<f64> = faired.iter().map(|f| f.at_share(0.0)[0]).collect();
    Ok(TakenOff {
        table: read_off::table(heading, &faired, settings.lengths),
        moved: faired.iter().map(agreement).collect(),
        half_siding: rabbets.iter().sum::<f64>() / rabbets.len() as f64,
        fore: ends.fore,
        aft: ends.aft,
        again,
    })
}
