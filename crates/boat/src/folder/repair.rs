//! The folder of a repair: repair.toml, readings.csv and perhaps holes.csv.

use super::boat::{length_or, lengths, word};
use super::columns::{Column, List, ListError, ListProblem};
use super::planking::planking;
use super::section::Document;
use super::{BoatError, BoatProblem as Problem, fastenings, parts, timbers};
use crate::offsets::sheet::Record;
use crate::repair::{Above, Below, End, Hole, Job, LandOf, Place, Spot};
use crate::spec::{
    EndSpec, FairWithinBy, InteriorSpec, KeelSpec, LinesSpec, LiningSpec, MouldSpec, Post, Spec, Stand, Transom,
};
use crate::units::{Notation, inches};

/// The texts of a repair's folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct RepairTexts {
    /// `repair.toml`.
    pub toml: String,
    /// `readings.csv`.
    pub readings: String,
    /// `holes.csv`, if there is one.
    pub holes: Option<String>,
}

/// Why a repair's folder cannot be read. Each names its file, the place in it, the value, the limit and what to do.
#[derive(Debug, Clone, PartialEq)]
pub enum RepairFolderError {
    /// `repair.toml`.
    Toml(BoatError),
    /// `readings.csv` or `holes.csv`.
    List(ListError),
}

impl std::error::Error for RepairFolderError {}

impl std::fmt::Display for RepairFolderError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            RepairFolderError::Toml(why) => why.said_of("repair.toml", f),
            RepairFolderError::List(why) => write!(f, "{why}"),
        }
    }
}

impl From<BoatError> for RepairFolderError {
    fn from(why: BoatError) -> Self {
        RepairFolderError::Toml(why)
    }
}

impl From<ListError> for RepairFolderError {
    fn from(why: ListError) -> Self {
        RepairFolderError::List(why)
    }
}

const ROOT: [&str; 9] =
    ["strakewise", "name", "plank", "lengths", "gap", "planking", "timbers", "fastenings", "bending"];
const GAP: [&str; 6] = ["below", "above", "fore", "aft", "thickness_above", "tape"];
/// What of `[planking]` and `[timbers]` is asked of one plank.
const PLANKING: [&str; 13] = [
    "thickness",
    "lap",
    "edge_floor",
    "gain",
    "transom_ends",
    "transom_gain",
    "left_long_fore",
    "left_long_aft",
    "bevel_every",
    "construction",
    "wood",
    "density",
    "spile_every",
];
const TIMBERS: [&str; 4] = ["spacing", "at", "sided", "moulded"];
/// How far a reading may be off, mm.
const TAPE: [f64; 2] = [0.0, 5.0];
/// Along the line, and from it, mm.
const ALONG: [f64; 2] = [-1000.0, 15_000.0];
const OFF: [f64; 2] = [-5000.0, 5000.0];
/// Places measured, at most.
const MOST_PLACES: usize = 60;

/// Reads a repair's folder.
///
/// # Errors
/// [`RepairFolderError`] with the first trouble found, `repair.toml` first.
pub fn read_repair(texts: &RepairTexts) -> Result<Job, RepairFolderError> {
    let mut job = settings(&texts.toml)?;
    job.places = places(&texts.readings, &job)?;
    job.holes = texts.holes.as_deref().map_or(Ok(Vec::new()), |text| holes(text, job.spec.lengths))?;
    Ok(job)
}

fn settings(text: &str) -> Result<Job, BoatError> {
    let document = Document::of(text)?;
    let root = document.root_of_form()?;
    root.only(&ROOT)?;
    let name = root.need("name", "name = \"Corncrake\"")?.words(40)?;
    let lengths = lengths(&root)?;
    let missing = |key: &str, example| root.trouble(key, Problem::Missing { example });
    let gap =
        root.section("gap")?.ok_or_else(|| missing("gap", "[gap] with fore = \"joint\" and aft = \"joint\""))?;
    gap.only(&GAP)?;
    let below = gap
        .get("below")
        .map_or(Ok(Below::Plank), |v| word(&v, &[("plank", Below::Plank), ("rabbet", Below::Rabbet)]))?;
    let above = gap
        .get("above")
        .map_or(Ok(Above::Plank), |v| word(&v, &[("plank", Above::Plank), ("sheer", Above::Sheer)]))?;
    let fore: End = word(&gap.need("fore", "fore = \"joint\"")?, &End::WORDS)?;
    let aft: End = word(&gap.need("aft", "aft = \"joint\"")?, &End::WORDS)?;
    let wood =
        root.section("planking")?.ok_or_else(|| missing("planking", "[planking] with thickness = \"3/8 in\""))?;
    wood.only(&PLANKING)?;
    let planking = planking(&wood, lengths, [fore, aft].contains(&End::Transom))?;
    let gain = |end: End| match end {
        End::Hood => planking.gain,
        End::Transom => planking.transom_gain.unwrap_or(0.0),
        End::Joint => 0.0,
    };
    if let Some(section) = root.section("timbers")? {
        section.only(&TIMBERS)?;
    }
    let glued = planking.construction == crate::spec::Construction::Glued;
    if let Some(value) = root.get("fastenings").filter(|_| glued) {
        return Err(value.trouble(Problem::GluedFastenings));
    }
    let timbers = timbers::timbers(root.section("timbers")?, lengths, glued)?;
    let ends = [end_spec(fore, false), end_spec(aft, true)];
    let (fastened, _) = fastenings::fastenings(&root, lengths, &planking, &timbers, [&ends[0], &ends[1]])?;
    let bending = parts::bending(root.section("bending")?, &planking.wood)?;
    let tape = if lengths == Notation::Mm { 1.0 } else { inches(1.0 / 16.0) };
    let [fore_spec, aft_spec] = ends;
    Ok(Job {
        plank: root.words("plank", 80)?,
        below,
        above,
        ends: [fore, aft],
        gains: [gain(fore), gain(aft)],
        thickness_above: length_or(Some(&gap), "thickness_above", lengths, [3.0, 50.0], planking.thickness)?,
        tape: length_or(Some(&gap), "tape", lengths, TAPE, tape)?,
        places: Vec::new(),
        holes: Vec::new(),
        spec: Spec {
            name,
            kind: String::new(),
            drawn_by: String::new(),
            built_at: String::new(),
            lengths,
            lines: LinesSpec {
                drawn_to: crate::spec::DrawnTo::Outside,
                fair_within: 0.0,
                fair_within_by: FairWithinBy::default(),
                keel_half_siding: 0.0,
                diagonals: Vec::new(),
            },
            fore: fore_spec,
            aft: aft_spec,
            keel: KeelSpec {
                hog_half_breadth: None,
                hog_thickness: None,
                wood_outside: None,
                half_siding: None,
                wood: planking.wood.clone(),
            },
            planking,
            lining: LiningSpec::default(),
            timbers,
            fastenings: fastened,
            moulds: MouldSpec {
                thickness: 0.0,
                clearance: 0.0,
                stand: Stand::Upright,
                base_above_floor: None,
                leg: 0.0,
                level: None,
            },
            bending,
            scarfs: crate::spec::ScarfSpec::default(),
            sawing: crate::spec::SawSpec::default(),
            moisture: crate::spec::MoistureSpec::default(),
            interior: InteriorSpec::default(),
            loads: Vec::new(),
        },
    })
}

/// An end of which only the kind is known, and the kind alone is asked for.
fn end_spec(end: End, aft: bool) -> EndSpec {
    let x = if aft { ALONG[1] } else { ALONG[0] };
    match end {
        End::Transom => EndSpec::Transom(Transom {
            foot: [x, 0.0],
            head: [x, 1000.0],
            radius: None,
            bow: !aft,
            thickness: inches(0.75),
            crown: None,
        }),
        End::Hood | End::Joint => EndSpec::Post(Post::new(0.0, vec![[x, 1000.0], [x, 0.0]])),
    }
}

const COLUMNS: [Column; 12] = [
    Column { name: "place", required: true, length: false },
    Column { name: "along", required: true, length: true },
    Column { name: "along_above", required: false, length: true },
    Column { name: "face_below_up", required: false, length: true },
    Column { name: "face_below_in", required: false, length: true },
    Column { name: "edge_below_up", required: true, length: true },
    Column { name: "edge_below_in", required: true, length: true },
    Column { name: "edge_above_up", required: true, length: true },
    Column { name: "edge_above_in", required: true, length: true },
    Column { name: "face_above_up", required: false, length: true },
    Column { name: "face_above_in", required: false, length: true },
    Column { name: "notes", required: false, length: false },
];

fn places(text: &str, job: &Job) -> Result<Vec<Place>, ListError> {
    let list = List::read("readings.csv", &COLUMNS, text)?;
    let lengths = job.spec.lengths;
    if let Some(record) = list.lines.get(MOST_PLACES) {
        let problem = ListProblem::TooMany { found: list.lines.len(), most: MOST_PLACES };
        return Err(list.trouble(record, "place", problem));
    }
    let mut places: Vec<Place> = Vec::new();
    for record in &list.lines {
        let name = list.text(record, "place")?.to_owned();
        if let Some(other) = places.iter().find(|p| p.name == name) {
            let problem = ListProblem::Twice { what: format!("place {name}"), first: other.line };
            return Err(list.trouble(record, "place", problem));
        }
        let along = list.length(record, "along", lengths, ALONG)?;
        let along_above = list.length_if_there(record, "along_above", lengths, ALONG)?.unwrap_or(along);
        let mut spots = [None; 4];
        for (spot, found) in Spot::ALL.into_iter().zip(&mut spots) {
            *found = both(&list, record, spot, lengths)?;
        }
        // What is not wanted is not read as if it were.
        for (spot, wanted, kind) in [
            (Spot::FaceBelow, job.below == Below::Plank, "plank in the keel's rabbet"),
            (Spot::FaceAbove, job.above == Above::Plank, "sheer strake"),
        ] {
            if !wanted && spots.get(spot as usize).copied().flatten().is_some() {
                let column = format!("{}_up", spot.word());
                let found = list.text(record, &column)?.to_owned();
                return Err(list.trouble(record, &column, ListProblem::Stray { found, kind }));
            }
        }
        places.push(Place { name, line: record.line, along, along_above, spots });
    }
    Ok(places)
}

/// Up and in of a spot: both or neither.
fn both(list: &List, record: &Record, spot: Spot, lengths: Notation) -> Result<Option<[f64; 2]>, ListError> {
    let columns = ["up", "in"].map(|axis| format!("{}_{axis}", spot.word()));
    let up = list.length_if_there(record, &columns[0], lengths, OFF)?;
    let inboard = list.length_if_there(record, &columns[1], lengths, OFF)?;
    match (up, inboard) {
        (Some(up), Some(inboard)) => Ok(Some([up, inboard])),
        (None, None) => Ok(None),
        (None, Some(_)) => Err(list.trouble(record, &columns[0], ListProblem::EmptyCell)),
        (Some(_), None) => Err(list.trouble(record, &columns[1], ListProblem::EmptyCell)),
    }
}

const HOLES: [Column; 3] = [
    Column { name: "land", required: true, length: false },
    Column { name: "along", required: true, length: true },
    Column { name: "notes", required: false, length: false },
];

fn holes(text: &str, lengths: Notation) -> Result<Vec<Hole>, ListError> {
    let list = List::read("holes.csv", &HOLES, text)?;
    let one = |record: &Record| {
        let land = match list.text(record, "land")? {
            "lower" => LandOf::Lower,
            "upper" => LandOf::Upper,
            found => {
                let problem = ListProblem::Land { found: found.to_owned() };
                return Err(list.trouble(record, "land", problem));
            }
        };
        Ok(Hole { land, along: list.length(record, "along", lengths, ALONG)? })
    };
    list.lines.iter().map(one).collect()
}
