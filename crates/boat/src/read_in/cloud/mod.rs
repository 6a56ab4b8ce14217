//! A table of offsets from a cloud of points of a hull, measured or scanned.
//!
//! The points are read (`points`), those far from all others and a floor under her are set aside (`clean`), the centreline plane is the one
//! in which the cloud is its own mirror image (`mirror`), the bow is the narrower end. Both sides are then laid on one another, and at
//! each station the section is drawn through what lies about it (`section`): at every four degrees about a pole over the centreline
//! the distance of the skin is the value of the quadratic surface, in distance along and angle, that fits most of the points near there,
//! by least squares in which what lies off counts for nothing. The sections are faired and read off as points taken off a hull by hand are
//! ([`crate::taken_off`]).
//!
//! Source: derived here; the weights of the least squares [Tukey] from memory. How far a section may be off is twice the spread of
//! the points about it: in the middle of a smooth skin it is better, for many points bear on a place, and where she turns hard it is not.
//! Cannot do: how she is trimmed (a mirror image does not tell it: `trim`), two sides of
//! unlike shape (the mean is taken), planks (a clinker hull's lands show as residuals; take her off by hand, or scan her mould).

mod clean;
mod mirror;
mod points;
mod section;

use super::bare::Bare;
use super::problem::{ReadInError, ReadInProblem as Problem};
use super::{TableIn, checked};
use crate::taken_off::{Section, Settings, take_off_under};
use nalgebra::{Matrix3, Vector3};

pub use points::{CloudForm, MOST_POINTS};

/// A point, mm.
type P = Vector3<f64>;

/// An axis of the file, either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// x, or against it.
    X(bool),
    /// y.
    Y(bool),
    /// z.
    Z(bool),
}

impl Axis {
    /// All of them, with their words.
    pub const WORDS: [(&'static str, Axis); 6] = [
        ("x", Axis::X(true)),
        ("-x", Axis::X(false)),
        ("y", Axis::Y(true)),
        ("-y", Axis::Y(false)),
        ("z", Axis::Z(true)),
        ("-z", Axis::Z(false)),
    ];

    fn vector(self) -> P {
        let (v, with) = match self {
            Axis::X(with) => (P::x(), with),
            Axis::Y(with) => (P::y(), with),
            Axis::Z(with) => (P::z(), with),
        };
        if with { v } else { -v }
    }
}

/// Which end along the boat is the bow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bow {
    /// That with the least of the file's longest axis.
    Least,
    /// That with the most.
    Most,
}

/// What is said beside the points.
#[derive(Debug, Clone, PartialEq)]
pub struct CloudAsked {
    /// What one of the file's numbers is.
    pub bare: Option<Bare>,
    /// The file's axis that points up, within 20 degrees or so.
    pub up: Axis,
    /// Which end is the bow, where it is not to be told by its breadth.
    pub bow: Option<Bow>,
    /// The points stand in the boat's frame already: the longest axis along, the centreline plane at 0. One side is enough then.
    pub placed: bool,
    /// How far she lies down by the bow in the cloud, radians; it is taken out.
    pub trim: f64,
    /// How many stations, where `at` does not say where they stand.
    pub stations: usize,
    /// Stations aft of the fore end of the points, mm.
    pub at: Option<Vec<f64>>,
    /// Half-breadth at which the planking meets the keel, mm.
    pub half_siding: f64,
}

impl Default for CloudAsked {
    fn default() -> CloudAsked {
        CloudAsked {
            bare: None,
            up: Axis::Z(true),
            bow: None,
            placed: false,
            trim: 0.0,
            stations: 9,
            at: None,
            half_siding: 15.0,
        }
    }
}

/// From the file to the boat: `axes * (p - origin)` is aft of the first station, out, and up from base, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Its rows are aft, out and up.
    pub axes: Matrix3<f64>,
    /// Of the file, mm.
    pub origin: Vector3<f64>,
}

impl Frame {
    /// A place of the file in the boat, mm.
    #[must_use]
    pub fn place(&self, p: &Vector3<f64>) -> Vector3<f64> {
        self.axes * (p - self.origin)
    }
}

/// How well a section is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// The station.
    pub station: String,
    /// Aft of the first station, mm.
    pub at: f64,
    /// Points that bear on it.
    pub points: usize,
    /// How far they lie off it as a rule, mm.
    pub spread: f64,
    /// How far it may be off, mm; one place in twenty further.
    pub within: f64,
    /// How far the sheer may be off along the section, mm.
    pub sheer: f64,
    /// Where no points are: from one height to another, mm above base.
    pub holes: Vec<[f64; 2]>,
}

/// What came of a cloud.
#[derive(Debug, Clone, PartialEq)]
pub struct OfCloud {
    /// The table.
    pub table: TableIn,
    /// How the points were placed.
    pub frame: Frame,
    /// Section by section.
    pub known: Vec<Known>,
}

/// Fewer points make no boat.
const LEAST_POINTS: usize = 2000;
/// Points that are reckoned with; more are thinned evenly.
const RECKONED: usize = 240_000;
/// Lengths of boats, m.
const LENGTHS: [f64; 2] = [0.5, 30.0];
/// Stations.
const STATIONS: [usize; 2] = [4, 40];
/// The first and last station stand so far from the ends, as shares of her length.
const FROM_END: f64 = 0.06;
/// An end is narrower than the other, or the bow cannot be told.
const NARROWER: f64 = 0.8;
/// Ends are looked at so far in, as a share of her length.
const LOOKED_AT: f64 = 0.08;

/// A table of offsets from the points in `bytes`; `source` is what to call the file.
///
/// # Errors
/// [`ReadInError`] with the line or the number of the point, and what to do.
pub fn cloud(bytes: &[u8], form: CloudForm, source: &str, asked: &CloudAsked) -> Result<OfCloud, ReadInError> {
    let Some(bare) = asked.bare else {
        let found = "a list of points says nothing of its unit".to_owned();
        return Err(Problem::DrawingUnit { found }.nowhere());
    };
    let Some(mm) = bare.mm() else {
        let found = format!("{} is no unit of points", bare.word());
        return Err(Problem::DrawingUnit { found }.nowhere());
    };
    let stations = asked.at.as_ref().map_or(asked.stations, Vec::len);
    if !(STATIONS[0]..=STATIONS[1]).contains(&stations) {
        let [least, most] = STATIONS;
        let told = format!("{stations} stations are asked for; {least} to {most} are read off");
        return Err(Problem::Outline(told).nowhere());
    }
    let read = points::read(bytes, form)?;
    let mut said = read.said;
    let count = read.points.len();
    if count < LEAST_POINTS {
        return Err(Problem::FewPoints { found: count, least: LEAST_POINTS }.nowhere());
    }
    let every = count.div_ceil(RECKONED);
    let all: Vec<P> = read.points.iter().step_by(every).map(|p| P::from(*p) * mm).collect();
    said.push(format!(
        "{count} points in {}{}",
        bare.word(),
        if every > 1 { format!(", every {every}th is reckoned with") } else { String::new() }
    ));
    // No boat is so small or so large, whichever way she lies.
    let spans = [0, 1, 2].map(|d| {
        let [low, high] = extent(all.iter().map(|p| p[d]).collect());
        high - low
    });
    let size = spans.iter().map(|s| s * s).sum::<f64>().sqrt() / 1000.0;
    if !(LENGTHS[0]..=4.0 * LENGTHS[1]).contains(&size) {
        return Err(Problem::Size { length: size, least: LENGTHS[0], most: LENGTHS[1] }.nowhere());
    }
    let up = asked.up.vector();
    let kept = clean::kept(&all, up);
    said.push(format!("{} points stand alone and {} on a floor: set aside", kept.alone, kept.floor));
    if kept.points.len() < LEAST_POINTS {
        return Err(Problem::FewPoints { found: kept.points.len(), least: LEAST_POINTS }.nowhere());
    }
    let plane = if asked.placed { None } else { Some(mirror::plane(&kept.points, up)?) };
    match &plane {
        None => said.push("the points stand in the boat's frame, as the command line says".to_owned()),
        Some(p) => said.push(format!(
            "centreline plane: {:.0} of 100 points have their mirror image within {:.1} mm; it leans {:.2} degrees off plumb",
            100.0 * p.share,
            p.within,
            p.normal.dot(&up).asin().to_degrees().abs()
        )),
    }
    let (mut frame, ends) = framed(&kept.points, plane.as_ref(), asked, &mut said)?;
    let at = match &asked.at {
        Some(at) => at.clone(),
        None => {
            let n = asked.stations;
            let step = (1.0 - 2.0 * FROM_END) / (n - 1) as f64;
            (0..n).map(|i| (ends[1] - ends[0]) * (FROM_END + step * i as f64)).collect()
        }
    };
    // The first station is 0.
    frame.origin += frame.axes.transpose() * P::new(ends[0] + at[0], 0.0, 0.0);
    let ends = [-at[0], ends[1] - ends[0] - at[0]];
    let at: Vec<f64> = at.iter().map(|x| x - at[0]).collect();
    said.push(format!(
        "the points reach from {:.0} mm forward of the first station to {:.0} mm aft of it",
        -ends[0], ends[1]
    ));
    let placed: Vec<P> = kept.points.iter().map(|p| frame.place(p)).collect();
    let (mut found, left_out) = section::sections(&placed, ends, &at, asked.half_siding);
    if found.len() < STATIONS[0] {
        let why = if left_out.is_empty() { "ask for more".to_owned() } else { left_out.join("; ") };
        return Err(Problem::FewStations { found: found.len(), least: STATIONS[0], why }.nowhere());
    }
    let first = found[0].known.at;
    let low = found.iter().map(|s| s.spots[0][1]).fold(f64::MAX, f64::min);
    frame.origin += frame.axes.transpose() * P::new(first, 0.0, low);
    said.push("heights are above the lowest rabbet of the sections: that is 0".to_owned());
    for (i, s) in found.iter_mut().enumerate() {
        s.lower(first, low);
        s.known.station = (i + 1).to_string();
    }
    finished(found, left_out, frame, bare, source, said)
}

/// The sections faired and read off.
fn finished(
    found: Vec<section::Found>,
    left_out: Vec<String>,
    frame: Frame,
    bare: Bare,
    source: &str,
    mut said: Vec<String>,
) -> Result<OfCloud, ReadInError> {
    let own = found.iter().map(|f| f.own).fold(0.0, f64::max);
    let sections: Vec<Section> = found.iter().map(section::Found::section).collect();
    let known: Vec<Known> = found.into_iter().map(|f| f.known).collect();
    let lengths = bare.notation();
    let worst = known.iter().map(|k| k.within).fold(0.0, f64::max);
    let sheer = known.iter().map(|k| k.sheer).fold(0.0, f64::max);
    let settings = Settings {
        lengths,
        thickness: 1.0,
        lap: 1.0,
        gains: [0.0; 2],
        tape: (2.0 * own).clamp(LEAST_TAPE, MOST_TAPE),
    };
    let heading = format!(
        "Read in from {} by strakewise read-in, off a cloud of points: good to {worst:.1} mm, at the sheer to {sheer:.1} mm.",
        source.replace(['\n', '\r'], " ")
    );
    let taken = take_off_under(&heading, &sections, &settings).map_err(|why| Problem::TakeOff(why).nowhere())?;
    let mut look_at = left_out;
    for k in &known {
        said.push(format!(
            "station {} at {:.0} mm: {} points lie within {:.1} mm of it as a rule; good to {:.1} mm, at the sheer to {:.1} mm",
            k.station, k.at, k.points, k.spread, k.within, k.sheer
        ));
        for [a, b] in &k.holes {
            look_at.push(format!(
                "station {}: no points between {a:.0} and {b:.0} mm above base; the section is drawn fair across the hole",
                k.station
            ));
        }
    }
    for a in &taken.again {
        look_at.push(format!(
            "station {}: the section passes {:.0} out, {:.0} up, and those beside it {:.0} out, {:.0} up (mm): look at the points there{}",
            a.station, a.taken[0], a.taken[1], a.others[0], a.others[1],
            if a.mark == "rabbet" || a.mark == "sheer" { "" } else { "; it is left out" }
        ));
    }
    let table = checked(taken.table, lengths, said, look_at)?;
    Ok(OfCloud { table, frame, known })
}

/// Sections are faired within what they may be off, mm, but for so little and so much.
const LEAST_TAPE: f64 = 0.3;
const MOST_TAPE: f64 = 5.0;

/// The boat's axes, x = 0 anywhere, and where along them her points begin and end.
fn framed(
    points: &[P],
    plane: Option<&mirror::Plane>,
    asked: &CloudAsked,
    said: &mut Vec<String>,
) -> Result<(Frame, [f64; 2]), ReadInError> {
    let up = asked.up.vector();
    let (out, offset) = match plane {
        Some(p) => (p.normal, p.offset),
        None => {
            // The longer of the two level axes is along.
            let level: Vec<P> = [P::x(), P::y(), P::z()].into_iter().filter(|a| a.dot(&up).abs() < 0.5).collect();
            let span = |a: &P| {
                let [low, high] = extent(points.iter().map(|p| p.dot(a)).collect());
                high - low
            };
            let along = level.iter().max_by(|a, b| span(a).total_cmp(&span(b))).copied().unwrap_or_else(P::x);
            (up.cross(&along), 0.0)
        }
    };
    let up = (up - out * up.dot(&out)).normalize();
    let mut along = out.cross(&up);
    let [mut low, mut high] = extent(points.iter().map(|p| p.dot(&along)).collect());
    let length = high - low;
    if !(LENGTHS[0]..=LENGTHS[1]).contains(&(length / 1000.0)) {
        let [least, most] = LENGTHS;
        return Err(Problem::Size { length: length / 1000.0, least, most }.nowhere());
    }
    let breadth = |x: f64| {
        let near = points.iter().filter(|p| (p.dot(&along) - x).abs() < 0.5 * LOOKED_AT * length);
        let mut out: Vec<f64> = near.map(|p| (p.dot(&out) - offset).abs()).collect();
        out.sort_by(f64::total_cmp);
        out.get(out.len() * 9 / 10).copied().unwrap_or(0.0)
    };
    let [fore, aft] = [breadth(low + LOOKED_AT * length), breadth(high - LOOKED_AT * length)];
    // In the file: the end with the least of the axis that is nearest to along.
    let axis = if along.iamax() < 3 { along[along.iamax()] } else { 1.0 };
    let bow_low = match asked.bow {
        Some(Bow::Least) => axis > 0.0,
        Some(Bow::Most) => axis < 0.0,
        None if fore < NARROWER * aft => true,
        None if aft < NARROWER * fore => false,
        None => {
            let (narrow, wide) = (2.0 * fore.min(aft), 2.0 * fore.max(aft));
            return Err(Problem::NoBow { narrow, wide }.nowhere());
        }
    };
    if asked.bow.is_none() {
        said.push(format!(
            "the bow is the narrower end: {:.0} mm wide near it, {:.0} mm near the other",
            2.0 * fore.min(aft),
            2.0 * fore.max(aft)
        ));
    }
    if !bow_low {
        along = -along;
        [low, high] = [-high, -low];
    }
    // Down by the bow: what is aft and level stands above the file's level.
    let (sin, cos) = asked.trim.sin_cos();
    let (along, up) = (along * cos + up * sin, up * cos - along * sin);
    if asked.trim != 0.0 {
        [low, high] = extent(points.iter().map(|p| p.dot(&along)).collect());
    }
    let out = up.cross(&along);
    let offset = plane.map_or(0.0, |p| p.offset * p.normal.dot(&out));
    let axes = Matrix3::from_rows(&[along.transpose(), out.transpose(), up.transpose()]);
    let origin = axes.transpose() * P::new(0.0, offset, 0.0);
    Ok((Frame { axes, origin }, [low, high]))
}

/// Where numbers begin and end, but for one in a thousand at each end, which may be strays.
fn extent(mut all: Vec<f64>) -> [f64; 2] {
    all.sort_by(f64::total_cmp);
    let strays = all.len() / 1000;
    match (all.get(strays), all.get(all.len().saturating_sub(1 + strays))) {
        (Some(a), Some(b)) => [*a, *b],
        _ => [0.0; 2],
    }
}

/// Numbers in some order that is the same every time.
struct Dice(u64);

impl Dice {
    /// From 0 to under `n`.
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n.max(1)
    }
}
