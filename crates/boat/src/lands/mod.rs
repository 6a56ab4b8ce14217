//! How fair the lands lie: what a builder sees who walks round her, in figures.
//!
//! Each land is taken where it was lined off and laid: along the upper edge of its strake. What shows outside is the next
//! strake's lower edge, a lap further down, which runs along with it but for the gains, where it runs in flush: that bend
//! is wanted and no fault of the lining, so it is not counted.
//!
//! A land is looked at in profile, half-breadth and body, and from each eye. A stretch bends one way; stretches too small
//! to be seen go to their neighbours: those that turn by less than [`sweet::SEEN`] or stand off their own chord by less
//! than [`DEPTH`]. Between two stretches is an *inflection*. A land bends to the hand on which its stretches stand off
//! their chords by more in all; those to the other hand turn *back*, each by as much as it stands off its chord. In the
//! body view the two halves are counted each for itself, from its end to the land's widest place, as they are drawn.
//!
//! *Variation* is the land's length times all the changes of its curvature in space, L ∫ |dκ/ds| ds, κ as a vector and its
//! change square to the land: a straight land and a circle have none; one whose bend swells once to κ and sinks to nought
//! again has 2 L κ; each further swell adds to it.

mod bends;
mod widths;
mod worst;

use crate::eyes::{self, Eye};
use crate::geom::Point;
use crate::lines::Section;
use crate::lining::sweet;
use crate::planks::Strake;
use crate::planks::lay::RULINGS_PER_SPAN;
use crate::spec::LiningSpec;

pub use bends::{Variation, variation};
pub use widths::{Hump, Step};
pub use worst::Worst;

/// A stretch that stands off its chord by less than this is straight to the eye, mm. Common practice, no source.
pub const DEPTH: f64 = 0.5;

/// Where a land or the way past it is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// Heights over x.
    Profile,
    /// Half-breadths over x.
    HalfBreadth,
    /// From ahead or astern.
    Body,
    /// From an eye: its name.
    Eye(&'static str),
}

impl View {
    /// In words: `in profile`, `from off the bow`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            View::Profile => "in profile",
            View::HalfBreadth => "in half-breadth",
            View::Body => "in the body plan",
            View::Eye(name) => name,
        }
    }

    /// The word for a key or the head of a column.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            View::Profile => "profile",
            View::HalfBreadth => "half-breadth",
            View::Body => "body",
            View::Eye(name) => name,
        }
    }
}

/// How the lands lie.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lands {
    /// Lands 1 to n (the sheer).
    pub lands: Vec<Land>,
    /// Where a strake shows wider again nearer to an end: keel to sheer.
    pub humps: Vec<Hump>,
    /// The greatest difference of what two neighbours show, at each section.
    pub steps: Vec<Step>,
    /// The places to look at first.
    pub worst: Vec<Worst>,
}

/// One land.
#[derive(Debug, Clone, PartialEq)]
pub struct Land {
    /// 1 to n.
    pub land: usize,
    /// Profile, half-breadth, body, then each eye.
    pub seen: Vec<Seen>,
    /// Changes of its curvature.
    pub variation: Variation,
}

/// One land in one view.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// Which.
    pub view: View,
    /// From the bow.
    pub inflections: Vec<Spot>,
    /// Stretches that turn back, from the bow.
    pub back: Vec<Back>,
}

impl Seen {
    /// The stretch that turns back furthest.
    #[must_use]
    pub fn deepest(&self) -> Option<&Back> {
        self.back.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))
    }
}

/// A place on a land.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Counted in sections from the bow: 2.5 is half way from the third to the fourth.
    pub at: f64,
    /// In space, mm.
    pub point: Point,
}

/// A stretch that turns back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Back {
    /// Where it begins, counted in sections.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How far it stands off its chord, mm as seen.
    pub depth: f64,
}

/// The eyes that look at these strakes; `None` where there are none.
#[must_use]
pub fn eyes(strakes: &[Strake], lining: &LiningSpec) -> Option<[Eye; 4]> {
    let (garboard, sheer) = (strakes.first()?, strakes.last()?);
    let middle = sheer.at.get(sheer.at.len() / 2)?.ruling;
    let level = 0.5 * (garboard.rulings.get(middle)?.lower.z + sheer.rulings.get(middle)?.upper.z);
    Some(eyes::eyes(lining, sheer.rulings.first()?.upper.x, sheer.rulings.last()?.upper.x, level))
}

/// How the lands of `strakes` lie.
#[must_use]
pub fn lands(strakes: &[Strake], lining: &LiningSpec) -> Lands {
    let Some(eyes) = eyes(strakes, lining) else { return Lands::default() };
    let lands: Vec<Land> = strakes.iter().map(|s| land(s, &eyes)).collect();
    let shows: Vec<Vec<f64>> = strakes.iter().map(|s| s.at.iter().map(|a| a.shows).collect()).collect();
    let (humps, steps) = (widths::humps(&shows), widths::steps(&shows));
    let worst = worst::worst(&lands, &humps, &steps);
    Lands { lands, humps, steps, worst }
}

/// The land on the upper edge of `strake`.
fn land(strake: &Strake, eyes: &[Eye]) -> Land {
    let points: Vec<Point> = strake.rulings.iter().map(|r| r.upper).collect();
    let tangents: Vec<_> = strake.rulings.iter().map(|r| r.tangent).collect();
    let per = RULINGS_PER_SPAN as f64;
    let mut seen = vec![
        bends::seen(View::Profile, &points, per, &|p| [p.x, p.z]),
        bends::seen(View::HalfBreadth, &points, per, &|p| [p.x, p.y]),
        bends::in_halves(View::Body, &points, per, &|p| [p.y, p.z]),
    ];
    seen.extend(eyes.iter().map(|eye| bends::seen(View::Eye(eye.name), &points, per, &|p| eye.sees(p))));
    Land { land: strake.strake, seen, variation: variation(&points, &tangents, per) }
}

/// A place counted in sections, in words: `at station 3`, `between stations 6 and 7`, `between stem and station 1`.
#[must_use]
pub fn place(sections: &[Section], from: f64, to: f64) -> String {
    let last = sections.len().saturating_sub(1) as f64;
    // Within a tenth of a space it is at it.
    let near = |at: f64| ((at - at.round()).abs() <= 0.1).then_some(at.round() as usize);
    if let (Some(a), Some(b)) = (near(from), near(to))
        && a == b
    {
        return sections.get(a).map_or_else(String::new, |s| format!("at {}", s.place()));
    }
    let first = near(from).map_or(from.floor(), |a| a as f64).clamp(0.0, last) as usize;
    let after = near(to).map_or(to.ceil(), |b| b as f64).clamp(0.0, last) as usize;
    let (Some(a), Some(b)) = (sections.get(first), sections.get(after)) else { return String::new() };
    let station = |s: &Section| s.place() != s.name;
    if station(a) && station(b) {
        format!("between stations {} and {}", a.name, b.name)
    } else {
        format!("between {} and {}", a.place(), b.place())
    }
}
