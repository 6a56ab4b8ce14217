//! Why a picture cannot be laid on the plan.

use super::Mark;

/// Why a picture cannot be laid on the plan, or nothing can be read off it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanSheetError {
    /// A line with one place or none.
    #[error("{found} places are marked on the {line}; mark two, as far apart as the drawing allows")]
    FewOnLine {
        /// `level line` or `line square to it`.
        line: &'static str,
        /// How many.
        found: usize,
    },
    /// More than is reckoned with.
    #[error("{found} {what} are marked; {most} is the most that is reckoned with: take some out")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// No number, or one of no use.
    #[error(
        "{mark}: {found} is no place or length to reckon with; {least} mm to {most} mm is allowed, and pixels up to 1000000: mark it again"
    )]
    Number {
        /// Which.
        mark: Mark,
        /// What stands there.
        found: f64,
        /// Least, mm.
        least: f64,
        /// Most, mm.
        most: f64,
    },
    /// Places too near one another.
    #[error(
        "{mark} spans {found:.0} pixels, {least:.0} is the least: half a pixel there would be more than a part in {part}; mark places farther apart"
    )]
    TooNear {
        /// Which.
        mark: Mark,
        /// Pixels.
        found: f64,
        /// Pixels.
        least: f64,
        /// That half a pixel would be of it.
        part: u32,
    },
    /// Lines that are not square to each other.
    #[error(
        "the two lines cross at {found:.0} degrees in the picture, {least} is the least: is one of them the wrong line? else photograph the plan more squarely"
    )]
    NotSquare {
        /// Degrees.
        found: f64,
        /// Degrees.
        least: f64,
    },
    /// Distances that all run one way.
    #[error("the known distances and points give the scale {given} only: mark a distance that runs {wanted} too")]
    OneWay {
        /// `along the level line`.
        given: &'static str,
        /// `square to it`.
        wanted: &'static str,
    },
    /// Too little.
    #[error(
        "{found} numbers are known from the marks and the map needs {needed}: mark another known distance or point"
    )]
    TooFew {
        /// Numbers.
        found: usize,
        /// Needed.
        needed: usize,
    },
    /// Points on one line.
    #[error(
        "known points {}, {} and {} lie on one line (within {within:.1} pixels, {least:.0} is the least), and perspective needs four of which \
         no three do: mark one well off that line, or take points out until fewer than four are left, for a scan without perspective",
        points[0] + 1, points[1] + 1, points[2] + 1
    )]
    OneLine {
        /// Which, from 0.
        points: [usize; 3],
        /// How near to a line, pixels.
        within: f64,
        /// Least, pixels.
        least: f64,
    },
    /// Marks that contradict one another.
    #[error(
        "{mark} contradicts the others: it is off by {mm:.1} mm at full size, {limit:.1} mm is allowed; look at where it was marked and at what was typed for it{also}"
    )]
    Contradicts {
        /// The one without which the others agree best.
        mark: Mark,
        /// How far off the others have it.
        mm: f64,
        /// Most.
        limit: f64,
        /// What else may be.
        also: String,
    },
    /// Squares of scales that are less than nought.
    #[error(
        "the known distances contradict one another: no scale fits both; look at where they were marked and at what was typed for them"
    )]
    NoScale,
    /// The map does not settle.
    #[error("no map fits the marks: look at what was typed for them, and mark another known point")]
    NoMap,
    /// A pick at a station that is none.
    #[error("a place was picked for station {found}, and there is no such station; the stations are {known}")]
    NoStation {
        /// As picked.
        found: String,
        /// Those there are.
        known: String,
    },
    /// A pick of something that the view does not show.
    #[error("{row} at station {station} cannot be read off the {view}: pick it in {other}")]
    NotShown {
        /// The row.
        row: String,
        /// The station.
        station: String,
        /// The view.
        view: &'static str,
        /// Where it is shown.
        other: &'static str,
    },
    /// A pick that is nowhere on the plan.
    #[error(
        "{row} at station {station} was picked at {} by {} pixels, which lies nowhere on the plan: pixels up to {pixels:.0} are allowed, \
         and places up to {most:.0} mm from where its lines cross; pick it again",
        at[0], at[1]
    )]
    OffPlan {
        /// The row.
        row: String,
        /// The station.
        station: String,
        /// Where in the picture.
        at: [f64; 2],
        /// Most of these.
        pixels: f64,
        /// Farthest, mm.
        most: f64,
    },
    /// A pick far from its line.
    #[error(
        "{row} at station {station} was picked {mm:.1} mm off its line, {limit:.1} mm is allowed: was it picked at another station or line?"
    )]
    OffLine {
        /// The row.
        row: String,
        /// The station.
        station: String,
        /// How far, mm.
        mm: f64,
        /// Most, mm.
        limit: f64,
    },
    /// An entry picked in two places.
    #[error(
        "{row} at station {station} was picked at {a:.1} mm and at {b:.1} mm, {limit:.1} mm apart is allowed: take the wrong one out"
    )]
    Unlike {
        /// The row.
        row: String,
        /// The station.
        station: String,
        /// mm.
        a: f64,
        /// mm.
        b: f64,
        /// mm.
        limit: f64,
    },
    /// Nothing was picked.
    #[error("nothing was picked; pick the crossings of stations and lines")]
    Nothing,
}
