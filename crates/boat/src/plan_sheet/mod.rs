//! Offsets off a picture of a plan: scanned, or photographed aslant.
//!
//! Places picked in the picture whose places on the plan are known give the map from the one to the other ([`laid`]): two lines at
//! right angles (base line and centreline, or first station), known distances, known points. Rotation, skew and two scales are taken out by an
//! affine map; with four known points and more, perspective too. All marks are met as well as they can be at once, by least
//! squares, and what is left of each is told ([`Laid::left`]). Places picked along stations then become entries of a table
//! ([`read_off`], [`table`], or [`added`] to one that is there), each with how far it may be off.
//!
//! Source: derived here from the definition of the projective map; least squares by Gauss and Newton, the spread of what comes of
//! them by the rule for the propagation of errors (from memory). How far an entry may be off is twice its spread, so that one in
//! twenty is further. Cannot do: a sheet that does not lie flat, or a lens that bends straight lines; then what is left grows, and
//! is told.

mod added;
mod fit;
mod problem;
mod table;

pub use added::{Added, added};
pub use fit::laid;
pub use problem::PlanSheetError;
pub use table::{Entry, OfPlan, Pick, View, good_to, name, read_off, table};

/// A place in the picture: pixels to the right and down.
pub type Pixel = [f64; 2];

/// A distance that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distance {
    /// From here...
    pub from: Pixel,
    /// ...to here...
    pub to: Pixel,
    /// ...it is so far at full size, mm.
    pub mm: f64,
}

/// A place that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// In the picture.
    pub pixel: Pixel,
    /// On the plan at full size, mm: along the level line from the plumb one, to the right; and up from the level line.
    pub place: [f64; 2],
}

/// What was marked in the picture.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Marks {
    /// Two places or more on the line that is level on the plan: base line, or in the half-breadth plan the centreline.
    pub level: Vec<Pixel>,
    /// Two or more on the line square to it from which is measured along: centreline of the body plan, or first station.
    pub plumb: Vec<Pixel>,
    /// Distances.
    pub distances: Vec<Distance>,
    /// Points.
    pub points: Vec<Known>,
}

/// One of the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// A place of the level line, from 0.
    Level(usize),
    /// Of the plumb line.
    Plumb(usize),
    /// A distance.
    Distance(usize),
    /// A point.
    Point(usize),
}

impl std::fmt::Display for Mark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Mark::Level(i) => write!(f, "place {} of the level line", i + 1),
            Mark::Plumb(i) => write!(f, "place {} of the line square to it", i + 1),
            Mark::Distance(i) => write!(f, "known distance {}", i + 1),
            Mark::Point(i) => write!(f, "known point {}", i + 1),
        }
    }
}

/// What is left of a mark when the map is laid, mm at full size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// Which.
    pub mark: Mark,
    /// How far it is off.
    pub mm: f64,
}

/// The picture laid on the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// Whether perspective was taken out.
    pub perspective: bool,
    /// What is left of each mark.
    pub left: Vec<Left>,
    /// How far marks are off as a rule (root mean square over what is left free), mm; `None` where there are no more marks than
    /// it takes, so that nothing checks them.
    pub spread: Option<f64>,
    /// How many more numbers the marks give than the map needs.
    pub to_spare: usize,
    map: fit::Map,
    /// Of the map's numbers, for marks picked with a spread of 1 mm.
    covariance: nalgebra::DMatrix<f64>,
    /// Spread of a mark that is reckoned with, mm.
    mark: f64,
}

/// How far a place is picked off as a rule, pixels, where nothing better is known.
pub const PICKED: f64 = 0.5;

impl Laid {
    /// Where a place of the picture lies on the plan, mm.
    #[must_use]
    pub fn place(&self, p: Pixel) -> [f64; 2] {
        self.map.at(p)
    }

    /// The size of a pixel there, mm at full size; the greater of its two sides.
    #[must_use]
    pub fn pixel(&self, p: Pixel) -> f64 {
        let [along, up] = self.map.by_pixel(p);
        along[0].hypot(up[0]).max(along[1].hypot(up[1]))
    }

    /// How far a place picked `times` times and meant is off along and up, mm: one in twenty further.
    #[must_use]
    pub fn within(&self, p: Pixel, times: usize) -> [f64; 2] {
        let by_numbers = self.map.by_numbers(p);
        let by_pixel = self.map.by_pixel(p);
        [0, 1].map(|d| {
            let row = nalgebra::DVector::from_column_slice(&by_numbers[d][..self.map.count()]);
            let of_map = (row.transpose() * &self.covariance * &row)[(0, 0)] * self.mark * self.mark;
            let of_pick = (PICKED * by_pixel[d][0].hypot(by_pixel[d][1])).powi(2) / times.max(1) as f64;
            2.0 * (of_map.max(0.0) + of_pick).sqrt()
        })
    }
}
