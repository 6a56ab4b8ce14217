//! boat.toml.
//!
//! Every length is a text in any notation, or a number in the declared one. Keys that do not exist are refused, with
//! the nearest that does, so that a slip never turns silently into a default.

use super::crown::{self, Crown};
use super::marks::MOST_STRAKES;
use super::parts;
use super::section::{Section, Value, line_of};
use super::settled::{self, Settled};
use super::{BoatError, BoatProblem as Problem, VERSION, fastenings, interior, loads, range_said, timbers, woods};
use crate::offsets::read::{HEIGHTS, LONGEST_BOAT};
use crate::spec::{
    Construction, Diagonal, DrawnTo, EndSpec, FairWithinBy, KeelSpec, LinesSpec, LiningSpec, MouldSpec, PlankingSpec,
    Post, Spec, Stand, Transom, TransomEnds, Wood,
};
use crate::units::{Notation, inches};
use crate::words::nearest;
use toml::de::DeTable;

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
/// Paint or varnish on a square metre of a plank's face when it is dry, g: four coats. Common practice, no source.
const PAINT: f64 = 250.0;
/// How far fairing may move an entry, mm.
const FAIR_WITHIN: [f64; 2] = [0.0, 25.4];
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

/// The document of a TOML text.
pub fn document(text: &str) -> Result<toml::Spanned<DeTable<'_>>, BoatError> {
    DeTable::parse(text).map_err(|e| BoatError {
        line: line_of(text, e.span().map_or(0, |s| s.start)),
        key: String::new(),
        problem: Problem::Syntax(e.message().replace('\n', ", ")),
    })
}

/// Reads boat.toml.
pub fn read(text: &str) -> Result<Boat, BoatError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let document = document(text)?;
    let root = Section::root(text, document.get_ref());
    let version = root.need("strakewise", "strakewise = 1")?;
    if version.integer() != Some(VERSION) {
        return Err(version.trouble(Problem::Version { found: version.raw.to_owned() }));
    }
    root.only(&ROOT)?;
    let name = root.need("name", "name = \"Corncrake\"")?.words(NAME_LETTERS)?;
    let lengths = lengths(&root)?;
    let need = |key: &str, example| root.section(key)?.ok_or_else(|| root.trouble(key, Problem::Missing { example }));

    let fore = match (root.section("stem")?, root.section("bow_transom")?) {
        (Some(section), None) => EndSpec::Post(post(&section, lengths, false)?),
        (None, Some(section)) => EndSpec::Transom(transom(&section, lengths, true)?),
        (Some(_), Some(_)) => {
            return Err(root.trouble("bow_transom", Problem::OneForeEnd { found: "both a stem and a bow transom" }));
        }
        (None, None) => {
            return Err(root.trouble("stem", Problem::OneForeEnd { found: "neither a stem nor a bow transom" }));
        }
    };
    let aft = match (root.section("transom")?, root.section("sternpost")?) {
        (Some(section), None) => EndSpec::Transom(transom(&section, lengths, false)?),
        (None, Some(section)) => EndSpec::Post(post(&section, lengths, true)?),
        (Some(_), Some(_)) => {
            let found = "both a transom and a sternpost";
            return Err(root.trouble("sternpost", Problem::OneAfterEnd { found }));
        }
        (None, None) => {
            let found = "neither a transom nor a sternpost";
            return Err(root.trouble("transom", Problem::OneAfterEnd { found }));
        }
    };
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
        for name in all.keys() {
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
    let half_siding = section.need("half_siding", "half_siding = \"5/8 in\"")?.length_in(lengths, [1.0, 300.0])?;
    let example = "rabbet = [[\"-1-3-0\", \"2-4-3\"], [\"-0-3-1\", \"0-4-4\"]], from the head down";
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

pub(super) fn planking(
    section: &Section<'_>,
    lengths: Notation,
    has_transom: bool,
) -> Result<PlankingSpec, BoatError> {
    section.only(&[
        "thickness",
        "lap",
        "strakes",
        "widest",
        "garboard",
        "edge_floor",
        "gain",
        "transom_gain",
        "transom_ends",
        "left_long_fore",
        "left_long_aft",
        "transom_overhang",
        "sheer_proud",
        "bevel_every",
        "spile_every",
        "construction",
        "glue_rate",
        "paint",
        "wood",
        "density",
    ])?;
    let thickness = section.need("thickness", "thickness = \"3/8 in\"")?.length_in(lengths, [3.0, 50.0])?;
    let lap = match section.get("lap") {
        Some(lap) => {
            let mm = lap.length(lengths)?;
            let range = [thickness, (8.0 * thickness).min(100.0)];
            if !(range[0]..=range[1]).contains(&mm) {
                let hint = "the limits are one and eight times the plank's thickness, and 100 mm";
                return Err(lap.out_of(range_said(lengths, range), hint));
            }
            mm
        }
        None => 2.0 * thickness,
    };
    let gain = section.length("gain", lengths, [0.0, 2000.0])?.unwrap_or(inches(12.0));
    for key in ["transom_gain", "transom_ends", "transom_overhang"] {
        if let Some(value) = section.get(key).filter(|_| !has_transom) {
            return Err(value.trouble(Problem::NoTransom));
        }
    }
    let (transom_ends, transom_gain) = transom_ends(section, lengths, gain)?;
    let construction = match section.get("construction") {
        Some(value) => word(&value, &[("riveted", Construction::Riveted), ("glued", Construction::Glued)])?,
        None => Construction::Riveted,
    };
    if let Some(value) = section.get("glue_rate").filter(|_| construction == Construction::Riveted) {
        return Err(value.trouble(Problem::GlueInRiveted));
    }
    let allowance = |key, otherwise| Ok(section.length(key, lengths, [0.0, 300.0])?.unwrap_or(otherwise));
    let every = if lengths == Notation::Mm { 150.0 } else { inches(6.0) };
    let edge_floor = section.length("edge_floor", lengths, [0.0, thickness])?;
    Ok(PlankingSpec {
        thickness,
        lap,
        strakes: section.count("strakes", [3, MOST_STRAKES])?,
        widest: section.length("widest", lengths, [20.0, 500.0])?.unwrap_or(inches(5.0)),
        garboard: section.number("garboard", [0.5, 3.0])?.unwrap_or(1.0),
        edge_floor: edge_floor.unwrap_or(0.4 * thickness),
        gain,
        transom_gain: transom_gain.filter(|_| has_transom),
        transom_ends,
        left_long: [allowance("left_long_fore", inches(0.5))?, allowance("left_long_aft", inches(0.5))?],
        transom_overhang: allowance("transom_overhang", 0.0)?,
        sheer_proud: section.length("sheer_proud", lengths, [0.0, 50.0])?.unwrap_or(0.0),
        bevel_every: section.length("bevel_every", lengths, [20.0, 1000.0])?.unwrap_or(every),
        spile_every: section.length("spile_every", lengths, [20.0, 1000.0])?,
        construction,
        glue_rate: section.number("glue_rate", [1.0, 5000.0])?,
        paint: section.number("paint", [0.0, 2000.0])?.unwrap_or(PAINT),
        wood: wood(Some(section), "larch, western")?,
    })
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

/// How the planks lie on a transom, and the gain there; `transom_gain = "notched"` says as much as
/// `transom_ends = "notched"`.
fn transom_ends(
    section: &Section<'_>,
    lengths: Notation,
    gain: f64,
) -> Result<(TransomEnds, Option<f64>), BoatError> {
    let known = [("flush", TransomEnds::Flush), ("notched", TransomEnds::Notched), ("plain", TransomEnds::Plain)];
    let ends = section.get("transom_ends").map(|value| word(&value, &known)).transpose()?;
    let proud = |ends| matches!(ends, Some(TransomEnds::Notched | TransomEnds::Plain));
    match section.get("transom_gain") {
        Some(value) if value.string() == Some("notched") => match ends {
            None | Some(TransomEnds::Notched) => Ok((TransomEnds::Notched, None)),
            Some(_) => Err(value.trouble(Problem::NoGainThere)),
        },
        Some(value) if proud(ends) => Err(value.trouble(Problem::NoGainThere)),
        Some(value) => Ok((TransomEnds::Flush, Some(value.length_in(lengths, [0.0, 2000.0])?))),
        None => Ok((ends.unwrap_or(TransomEnds::Flush), (!proud(ends)).then_some(gain))),
    }
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
                nearest: nearest(&name, names()).map(str::to_owned),
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
