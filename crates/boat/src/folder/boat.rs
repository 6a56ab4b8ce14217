//! boat.toml.
//!
//! Every length is a text in any notation, or a number in the declared one. Keys that do not exist are refused, with
//! the nearest that does, so that a slip never turns silently into a default.

use super::crown::{self, Crown};
use super::parts;
use super::planking::planking;
use super::section::{Document, Section, Value};
use super::settled::{self, Settled};
use super::{BoatError, BoatProblem as Problem, fastenings, interior, loads, range_said, timbers, woods};
use crate::offsets::read::{HEIGHTS, LONGEST_BOAT};
use crate::spec::{
    Construction, Diagonal, DrawnTo, EndSpec, FairWithinBy, KeelSpec, LinesSpec, LiningSpec, MouldSpec, Post, Spec,
    Stand, Transom, Wood,
};
use crate::units::{Notation, inches};
use crate::words::nearest;

/// What boat.toml holds.
pub struct Boat {
    pub spec: Spec,
    /// Spacing of the stations, mm; used up in reading the table.
    pub spacing: Option<f64>,
    /// Entries of the table that the builder has settled.
    pub settled: Vec<Settled>,
    /// The transoms' crowns, which go by their breadth in the table.
    pub crowns: Vec<Crown>,
    /// What is said of nails and roves that nails.csv may say too.
    pub stock_keys: Vec<fastenings::StockKey>,
    /// Stations that places inside her are measured from.
    pub stations: Vec<interior::Named>,
}

/// Stems and transoms stand within this of the first station, mm.
pub(super) const ALONG: [f64; 2] = [-5000.0, LONGEST_BOAT + 5000.0];
/// Least height of a transom's head above its foot, mm, and most it leans for its rise.
const LEAST_RISE: f64 = 50.0;
const MOST_RAKE: f64 = 2.0;
/// Highest crown of a transom's top edge, mm; `crown::check` holds it to its breadth too.
const MOST_CROWN: f64 = 500.0;
/// Length of the keel's rabbet, mm.
const RABBET_LENGTH: [f64; 2] = [500.0, LONGEST_BOAT];
/// How far fairing may move an entry, mm.
const FAIR_WITHIN: [f64; 2] = [0.0, 25.4];
/// Diagonals: as many as a table may have rows.
const MOST_DIAGONALS: usize = 40;
/// Letters in the boat's name, and in the other texts of the cover.
const NAME_LETTERS: usize = 40;
const TEXT_LETTERS: usize = 80;

const ROOT: [&str; 24] = [
    "strakewise",
    "name",
    "kind",
    "drawn_by",
    "built_at",
    "lengths",
    "lines",
    "stem",
    "bow_transom",
    "transom",
    "sternpost",
    "keel",
    "planking",
    "lining",
    "timbers",
    "fastenings",
    "moulds",
    "bending",
    "scarfs",
    "sawing",
    "moisture",
    "entries",
    "interior",
    "loads",
];

/// Reads boat.toml.
pub fn read(text: &str) -> Result<Boat, BoatError> {
    let document = Document::of(text)?;
    let root = document.root_of_form()?;
    root.only(&ROOT)?;
    let name = root.need("name", "name = \"Corncrake\"")?.words(NAME_LETTERS)?;
    let lengths = lengths(&root)?;
    let need = |key: &str, example| root.section(key)?.ok_or_else(|| root.trouble(key, Problem::Missing { example }));

    let (fore, aft) = (fore_end(&root, lengths)?, after_end(&root, lengths)?);
    ends_apart(&root, &fore, &aft, lengths)?;

    let half_siding = if let EndSpec::Post(stem) = &fore { Some(stem.half_siding) } else { None };
    let (lines, spacing) =
        lines(&need("lines", "[lines] with drawn_to = \"inside of plank\"")?, lengths, half_siding)?;
    let planking = planking(
        &need("planking", "[planking] with thickness = \"3/8 in\"")?,
        lengths,
        [&fore, &aft].into_iter().any(|end| matches!(end, EndSpec::Transom(_))),
    )?;
    let keel = keel(root.section("keel")?, lengths)?;
    let bending = parts::bending(root.section("bending")?, &planking.wood)?;
    let scarfs = parts::scarfs(root.section("scarfs")?, lengths, planking.thickness)?;
    let glued = planking.construction == Construction::Glued;
    let moisture = parts::moisture(root.section("moisture")?, &planking.wood, glued)?;
    if glued && let Some(value) = root.get("fastenings") {
        return Err(value.trouble(Problem::GluedFastenings));
    }
    let timbers = timbers::timbers(root.section("timbers")?, lengths, glued)?;
    let (fastened, stock_keys) = fastenings::fastenings(&root, lengths, &planking, &timbers, [&fore, &aft])?;
    let (interior, mut stations) = interior::read(root.section("interior")?, lengths, timbered(&root, glued))?;
    let (loads, others) = loads::read(&root, lengths)?;
    stations.extend(others);
    let spec = Spec {
        name,
        kind: root.words("kind", TEXT_LETTERS)?,
        drawn_by: root.words("drawn_by", TEXT_LETTERS)?,
        built_at: root.words("built_at", TEXT_LETTERS)?,
        lengths,
        lines,
        fore,
        aft,
        keel,
        planking,
        lining: lining(root.section("lining")?, lengths)?,
        timbers,
        fastenings: fastened,
        moulds: moulds(root.section("moulds")?, lengths)?,
        bending,
        scarfs,
        sawing: parts::sawing(root.section("sawing")?, lengths)?,
        moisture,
        interior,
        loads,
    };
    let (settled, crowns) = (settled::read(&root, lengths)?, crown::read(&root, lengths)?);
    Ok(Boat { spec, spacing, settled, crowns, stock_keys, stations })
}

/// The stem or the bow transom: she has one of them.
fn fore_end(root: &Section<'_>, lengths: Notation) -> Result<EndSpec, BoatError> {
    match (root.section("stem")?, root.section("bow_transom")?) {
        (Some(section), None) => Ok(EndSpec::Post(post(&section, lengths, false)?)),
        (None, Some(section)) => Ok(EndSpec::Transom(transom(&section, lengths, true)?)),
        (Some(_), Some(_)) => {
            Err(root.trouble("bow_transom", Problem::OneForeEnd { found: "both a stem and a bow transom" }))
        }
        (None, None) => Err(root.trouble("stem", Problem::OneForeEnd { found: "neither a stem nor a bow transom" })),
    }
}

/// The transom or the sternpost: she has one of them.
fn after_end(root: &Section<'_>, lengths: Notation) -> Result<EndSpec, BoatError> {
    match (root.section("transom")?, root.section("sternpost")?) {
        (Some(section), None) => Ok(EndSpec::Transom(transom(&section, lengths, false)?)),
        (None, Some(section)) => Ok(EndSpec::Post(post(&section, lengths, true)?)),
        (Some(_), Some(_)) => {
            Err(root.trouble("sternpost", Problem::OneAfterEnd { found: "both a transom and a sternpost" }))
        }
        (None, None) => {
            Err(root.trouble("transom", Problem::OneAfterEnd { found: "neither a transom nor a sternpost" }))
        }
    }
}

/// Whether she has timbers.
fn timbered(root: &Section<'_>, glued: bool) -> bool {
    !glued || root.get("timbers").is_some()
}

/// The value is one of these words.
pub fn word<T: Copy>(value: &Value<'_>, known: &[(&str, T)]) -> Result<T, BoatError> {
    let typed = value.string().unwrap_or(value.raw);
    known.iter().find(|(w, _)| *w == typed).map(|(_, t)| *t).ok_or_else(|| {
        let known = known.iter().map(|(w, _)| format!("\"{w}\"")).collect::<Vec<_>>().join(" or ");
        value.trouble(Problem::Word { found: typed.to_owned(), known })
    })
}

pub(super) fn lengths(root: &Section<'_>) -> Result<Notation, BoatError> {
    word(&root.need("lengths", "lengths = \"mm\", or \"ft-in-8ths\", or \"in\"")?, &Notation::WORDS)
}

fn lines(
    section: &Section<'_>,
    lengths: Notation,
    stem_half_siding: Option<f64>,
) -> Result<(LinesSpec, Option<f64>), BoatError> {
    section.only(&["drawn_to", "spacing", "fair_within", "fair_within_by", "keel_half_siding", "diagonals"])?;
    let drawn_to = section.need("drawn_to", "drawn_to = \"inside of plank\", or \"outside of plank\"")?;
    let drawn_to = word(&drawn_to, &[("inside of plank", DrawnTo::Inside), ("outside of plank", DrawnTo::Outside)])?;
    let within = if lengths == Notation::Mm { 1.0 } else { inches(1.0 / 16.0) };
    let mut diagonals: Vec<Diagonal> = Vec::new();
    if let Some(all) = section.section("diagonals")? {
        let names = all.keys();
        if names.len() > MOST_DIAGONALS {
            let problem = Problem::ListLength { found: names.len(), least: 0, most: MOST_DIAGONALS };
            return Err(section.trouble("diagonals", problem));
        }
        for name in names {
            if diagonals.iter().any(|d| d.name.to_lowercase() == name.to_lowercase()) {
                return Err(all.trouble(name, Problem::SameDiagonal));
            }
            let letters = name.chars().count();
            if letters == 0 || letters > 12 {
                return Err(all.trouble(name, Problem::Text { found: letters, most: 12 }));
            }
            let Some(one) = all.section(name)? else { continue };
            one.only(&["height", "below_level"])?;
            diagonals.push(Diagonal {
                name: name.to_owned(),
                height: one.need("height", "height = \"1-8-0\"")?.length_in(lengths, HEIGHTS)?,
                below_level: one.need("below_level", "below_level = 40")?.number([1.0, 89.0])?.to_radians(),
            });
        }
    }
    let keel_half_siding = match (section.length("keel_half_siding", lengths, [1.0, 300.0])?, stem_half_siding) {
        (Some(given), _) | (None, Some(given)) => given,
        (None, None) => section
            .need("keel_half_siding", "keel_half_siding = \"1 in\", since there is no stem to take it from")?
            .length_in(lengths, [1.0, 300.0])?,
    };
    let mut fair_within_by = FairWithinBy::default();
    if let Some(by) = section.section("fair_within_by")? {
        by.only(&["heights", "half_breadths", "buttocks", "diagonals"])?;
        let length = |key| by.length(key, lengths, FAIR_WITHIN);
        fair_within_by = FairWithinBy {
            heights: length("heights")?,
            half_breadths: length("half_breadths")?,
            buttocks: length("buttocks")?,
            diagonals: length("diagonals")?,
        };
    }
    let spec = LinesSpec {
        drawn_to,
        fair_within: section.length("fair_within", lengths, FAIR_WITHIN)?.unwrap_or(within),
        fair_within_by,
        keel_half_siding,
        diagonals,
    };
    Ok((spec, section.length("spacing", lengths, [50.0, 3048.0])?))
}

fn post(section: &Section<'_>, lengths: Notation, aft: bool) -> Result<Post, BoatError> {
    section.only(&["half_siding", "rabbet", "wood_half_siding", "wood_outside", "wood_inside", "head"])?;
    let example = if lengths == Notation::Mm { "half_siding = 16" } else { "half_siding = \"5/8 in\"" };
    let half_siding = section.need("half_siding", example)?.length_in(lengths, [1.0, 300.0])?;
    let example = if lengths == Notation::Mm {
        "rabbet = [[-380, 720], [-80, 110]], from the head down"
    } else {
        "rabbet = [[\"-1-3-0\", \"2-4-3\"], [\"-0-3-1\", \"0-4-4\"]], from the head down"
    };
    let list = section.need("rabbet", example)?;
    let points = list.list([2, 60], "a list of points, [[x, z], [x, z]],")?;
    let mut rabbet: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for (i, value) in points.iter().enumerate() {
        let [x, z] = value.point(lengths, ALONG, HEIGHTS)?;
        if let Some(&[before_x, before_z]) = rabbet.last() {
            let (doubles_back, rule) = if aft {
                (x > before_x, "a sternpost's rabbet runs forward or plumb")
            } else {
                (x < before_x, "a stem's rabbet runs aft or plumb")
            };
            let wrong = |value: f64, before: f64, rule| {
                let (value, before) = (lengths.said(value), lengths.said(before));
                Problem::Rabbet { point: i + 1, value, before, rule }
            };
            if doubles_back {
                return Err(value.trouble(wrong(x, before_x, rule)));
            }
            if z > before_z - 1.0 {
                return Err(value.trouble(wrong(z, before_z, "each point stands 1 mm or more below the one before")));
            }
        }
        rabbet.push([x, z]);
    }
    let wood = |key| section.length(key, lengths, [1.0, 500.0]);
    let head = section.length("head", lengths, [0.0, 1000.0])?;
    let faces = ["wood_outside", "wood_inside"].iter().all(|key| section.get(key).is_some());
    if let Some(value) = section.get("head").filter(|_| !faces) {
        return Err(value.trouble(Problem::HeadOfNoWood));
    }
    Ok(Post {
        half_siding,
        rabbet,
        wood_half_siding: section.length("wood_half_siding", lengths, [half_siding, 300.0])?,
        wood_outside: wood("wood_outside")?,
        wood_inside: wood("wood_inside")?,
        head,
    })
}

fn keel(section: Option<Section<'_>>, lengths: Notation) -> Result<KeelSpec, BoatError> {
    if let Some(section) = &section {
        section.only(&["hog_half_breadth", "hog_thickness", "wood_outside", "half_siding", "wood", "density"])?;
    }
    let section = section.as_ref();
    let length = |key, range| section.map_or(Ok(None), |s| s.length(key, lengths, range));
    Ok(KeelSpec {
        hog_half_breadth: length("hog_half_breadth", [1.0, 500.0])?,
        hog_thickness: length("hog_thickness", [1.0, 300.0])?,
        wood_outside: length("wood_outside", [1.0, 500.0])?,
        half_siding: length("half_siding", [1.0, 300.0])?,
        wood: wood(section, "oak, white")?,
    })
}

fn transom(section: &Section<'_>, lengths: Notation, bow: bool) -> Result<Transom, BoatError> {
    section.only(&["foot", "head", "radius", "thickness", "crown"])?;
    let foot = section.need("foot", "foot = [\"10-10-5\", \"0-6-3\"]")?.point(lengths, ALONG, HEIGHTS)?;
    let head = section.need("head", "head = [\"11-9-4\", \"1-11-5\"]")?.point(lengths, ALONG, HEIGHTS)?;
    let (rake, rise) = (head[0] - foot[0], head[1] - foot[1]);
    if rise < LEAST_RISE || rake.abs() > MOST_RAKE * rise {
        let problem = Problem::TransomPlane {
            rise: lengths.said(rise),
            rake: lengths.said(rake),
            least_rise: lengths.said(LEAST_RISE),
            most_rake: MOST_RAKE,
        };
        return Err(section.trouble("head", problem));
    }
    let radius = section.length("radius", lengths, [100.0, 100_000.0])?;
    if let Some(radius) = radius.filter(|r| *r < rake.hypot(rise)) {
        let [radius, rise] = [radius, rake.hypot(rise)].map(|mm| lengths.said(mm));
        return Err(section.trouble("radius", Problem::TransomRadius { radius, rise }));
    }
    let thickness = section.length("thickness", lengths, [3.0, 150.0])?.unwrap_or(inches(0.75));
    let crown = section.length("crown", lengths, [0.0, MOST_CROWN])?;
    Ok(Transom { foot, head, radius, bow, thickness, crown })
}

fn ends_apart(root: &Section<'_>, fore: &EndSpec, aft: &EndSpec, lengths: Notation) -> Result<(), BoatError> {
    let foot = |end: &EndSpec| match end {
        EndSpec::Transom(t) => t.foot[0],
        EndSpec::Post(p) => p.rabbet.last().map_or(0.0, |p| p[0]),
    };
    let (aft_x, key) = (foot(aft), aft.word(true));
    let value = aft_x - foot(fore);
    if (RABBET_LENGTH[0]..=RABBET_LENGTH[1]).contains(&value) {
        return Ok(());
    }
    let (value, range) = (lengths.said(value), range_said(lengths, RABBET_LENGTH));
    Err(root.trouble(key, Problem::Ends { value, range }))
}

/// The one wood of a family that the name alone says, as larch.
fn kind_of(name: &str) -> Option<&'static str> {
    let family = format!("{},", name.to_lowercase());
    let mut of = woods::WOODS.iter().map(|w| w.name).filter(|w| w.to_lowercase().starts_with(&family));
    let one = of.next()?;
    of.next().is_none().then_some(one)
}

fn lining(section: Option<Section<'_>>, lengths: Notation) -> Result<LiningSpec, BoatError> {
    let Some(section) = section else { return Ok(LiningSpec::default()) };
    section.only(&[
        "narrowest",
        "sheer_strake",
        "sheer_flip",
        "bilge",
        "eye_distance",
        "eye_height",
        "eye_quarter",
        "eye_heel",
    ])?;
    let otherwise = LiningSpec::default();
    let length = |key, range, otherwise| length_or(Some(&section), key, lengths, range, otherwise);
    let degrees = |key, range, otherwise: f64| -> Result<f64, BoatError> {
        Ok(section.number(key, range)?.map_or(otherwise, f64::to_radians))
    };
    let sheer_strake = section.get("sheer_strake");
    let parallel = match sheer_strake.as_ref().filter(|v| v.string().is_some()) {
        Some(value) => word(value, &[("parallel", true)])?,
        None => false,
    };
    Ok(LiningSpec {
        narrowest: length("narrowest", [0.0, 300.0], otherwise.narrowest)?,
        sheer_strake: match &sheer_strake {
            Some(value) if !parallel => value.number([0.5, 2.0])?,
            _ => otherwise.sheer_strake,
        },
        sheer_parallel: parallel,
        sheer_flip: length("sheer_flip", [-100.0, 100.0], otherwise.sheer_flip)?,
        bilge: section.number("bilge", [0.0, 2.0])?.unwrap_or(otherwise.bilge),
        eye_distance: section.length("eye_distance", lengths, [2000.0, 100_000.0])?,
        eye_height: length("eye_height", [-2000.0, 10_000.0], otherwise.eye_height)?,
        eye_quarter: degrees("eye_quarter", [10.0, 80.0], otherwise.eye_quarter)?,
        eye_heel: degrees("eye_heel", [0.0, 60.0], otherwise.eye_heel)?,
    })
}

/// The wood of a part: known by name, or given with its density.
pub(super) fn wood(section: Option<&Section<'_>>, otherwise: &str) -> Result<Wood, BoatError> {
    let named = section.and_then(|s| s.get("wood"));
    let name = named.as_ref().map_or(Ok(otherwise.to_owned()), |v| v.words(TEXT_LETTERS))?;
    let given = section.map_or(Ok(None), |s| s.number("density", [50.0, 1500.0]))?;
    let known = woods::find(&name).map(woods::KnownWood::density);
    match (given.or(known), named) {
        (Some(density), _) => Ok(Wood { name, density }),
        (None, Some(value)) => {
            let names = || woods::WOODS.iter().map(|w| w.name);
            Err(value.trouble(Problem::Wood {
                nearest: kind_of(&name).or_else(|| nearest(&name, names())).map(str::to_owned),
                found: name,
                known: names().collect::<Vec<_>>().join("; "),
            }))
        }
        // The defaults are known woods; a test holds them to it.
        (None, None) => Ok(Wood { name, density: 0.0 }),
    }
}

pub(super) fn length_or(
    section: Option<&Section<'_>>,
    key: &str,
    lengths: Notation,
    range: [f64; 2],
    otherwise: f64,
) -> Result<f64, BoatError> {
    Ok(section.map_or(Ok(None), |s| s.length(key, lengths, range))?.unwrap_or(otherwise))
}

fn moulds(section: Option<Section<'_>>, lengths: Notation) -> Result<MouldSpec, BoatError> {
    if let Some(section) = &section {
        section.only(&["thickness", "clearance", "stand", "base_above_floor", "level", "leg"])?;
    }
    let section = section.as_ref();
    let length = |key, range| length_or(section, key, lengths, range, inches(0.75));
    let stand = match section.and_then(|s| s.get("stand")) {
        Some(value) => word(&value, &[("upright", Stand::Upright), ("upside down", Stand::UpsideDown)])?,
        None => Stand::Upright,
    };
    let given = |key, range| section.map_or(Ok(None), |s| s.length(key, lengths, range));
    Ok(MouldSpec {
        thickness: length("thickness", [3.0, 150.0])?,
        clearance: length("clearance", [0.0, 100.0])?,
        stand,
        base_above_floor: given("base_above_floor", [0.0, 5000.0])?,
        level: given("level", HEIGHTS)?,
        leg: given("leg", [0.0, 300.0])?.unwrap_or(inches(3.0)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_woods_taken_where_none_is_named_are_known() {
        for name in ["larch, western", "oak, white"] {
            assert!(wood(None, name).unwrap().density > 300.0, "{name}");
        }
    }
}
