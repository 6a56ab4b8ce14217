//! `[interior]` of boat.toml.

use super::boat::{ALONG, wood, word};
use super::section::{Section, Value};
use super::{BoatError, BoatProblem as Problem, woods};
use crate::offsets::read::HEIGHTS;
use crate::offsets::{StationAt, Table};
use crate::spec::{
    Against, BendSpec, BreasthookSpec, Edge, Grown, InteriorSpec, InwaleSpec, KneeAt, KneeSpec, Level, Place,
    RisingSpec, RubbingSpec, Stick, ThwartSpec, Wood,
};
use crate::units::{Notation, inches};

/// Of each kind.
const MOST: usize = 20;
/// Letters in a thwart's name.
const LETTERS: usize = 24;
/// In and out, and up and down, of what is bent along her side, mm.
const THICKNESS: [f64; 2] = [3.0, 100.0];
const DEPTH: [f64; 2] = [5.0, 300.0];
/// Fore and aft of a thwart, mm.
const WIDTH: [f64; 2] = [30.0, 1500.0];
/// An arm of a knee, and its breadths, mm.
const ARM: [f64; 2] = [20.0, 2000.0];
const ACROSS: [f64; 2] = [5.0, 500.0];

/// A station by name, and where that stands in the file.
pub struct Named {
    line: usize,
    key: String,
    station: String,
}

/// What reading needs to know.
struct Reader<'a> {
    lengths: Notation,
    /// What things lie against unless they say otherwise.
    against: Against,
    /// Wood of what names none: `interior.wood`.
    wood: Wood,
    spare: f64,
    stations: &'a mut Vec<Named>,
}

/// What is asked for, and the stations it is measured from.
pub fn read(
    section: Option<Section<'_>>,
    lengths: Notation,
    timbered: bool,
) -> Result<(InteriorSpec, Vec<Named>), BoatError> {
    let mut stations = Vec::new();
    let Some(section) = section else { return Ok((InteriorSpec::default(), stations)) };
    section.only(&[
        "wood",
        "density",
        "spare",
        "risings",
        "thwarts",
        "inwale",
        "rubbing_strakes",
        "breasthooks",
        "knees",
    ])?;
    let mut r = Reader {
        lengths,
        against: if timbered { Against::Timbers } else { Against::Planking },
        wood: wood(Some(&section), "oak, white")?,
        spare: section.length("spare", lengths, [0.0, 500.0])?.unwrap_or(inches(2.0)),
        stations: &mut stations,
    };
    let spec = InteriorSpec {
        risings: each(&section, "risings", "[[interior.risings]], each with a line,", |s| r.rising(s))?,
        thwarts: each(&section, "thwarts", "[[interior.thwarts]], each with its place and size,", |s| r.thwart(s))?,
        inwale: section.section("inwale")?.map(|s| r.inwale(&s)).transpose()?,
        rubbing_strakes: each(
            &section,
            "rubbing_strakes",
            "[[interior.rubbing_strakes]], each with its size,",
            |s| r.rubbing(s),
        )?,
        breasthooks: each(&section, "breasthooks", "[[interior.breasthooks]], each with its arms,", |s| {
            r.breasthook(s)
        })?,
        knees: each(&section, "knees", "[[interior.knees]], each with its kind and arms,", |s| r.knee(s))?,
    };
    Ok((spec, stations))
}

/// Every station that is named stands in the table, square to the centreline.
pub fn check(stations: &[Named], table: &Table) -> Result<(), BoatError> {
    let square: Vec<&str> =
        table.stations.iter().filter(|s| matches!(s.at, StationAt::Square(_))).map(|s| s.name.as_str()).collect();
    for named in stations {
        if !square.iter().any(|s| s.trim().eq_ignore_ascii_case(named.station.trim())) {
            let known = square.iter().map(|s| format!("\"{s}\"")).collect::<Vec<_>>().join(", ");
            let problem = Problem::Word { found: named.station.clone(), known: format!("one of {known}") };
            return Err(BoatError { line: named.line, key: named.key.clone(), problem });
        }
    }
    Ok(())
}

/// The sections of a list.
fn each<T>(
    section: &Section<'_>,
    key: &str,
    wanted: &'static str,
    mut read: impl FnMut(&Section<'_>) -> Result<T, BoatError>,
) -> Result<Vec<T>, BoatError> {
    let Some(list) = section.get(key) else { return Ok(Vec::new()) };
    list.list([1, MOST], wanted)?.iter().map(|value| read(&value.section(wanted)?)).collect()
}

/// `station` and `aft`, or `at`; the stations that are named go to `stations`.
pub fn place(s: &Section<'_>, lengths: Notation, stations: &mut Vec<Named>) -> Result<Place, BoatError> {
    match (s.get("station"), s.length("at", lengths, ALONG)?, s.get("aft")) {
        (Some(value), None, _) => {
            let station = value.words(LETTERS)?;
            stations.push(Named { line: value.line, key: value.key.clone(), station: station.clone() });
            let aft = s.length("aft", lengths, ALONG)?.unwrap_or(0.0);
            Ok(Place { station: Some(station), aft })
        }
        (None, Some(aft), None) => Ok(Place { station: None, aft }),
        (None, None, _) => Err(s.trouble("station", Problem::Missing { example: PLACE })),
        (Some(_), Some(_), _) | (None, Some(_), Some(_)) => Err(s.trouble("at", Problem::OnePlaceOnly)),
    }
}

impl Reader<'_> {
    fn need(&self, s: &Section<'_>, key: &str, example: &'static str, range: [f64; 2]) -> Result<f64, BoatError> {
        s.need(key, example)?.length_in(self.lengths, range)
    }

    fn wood(&self, s: &Section<'_>) -> Result<Wood, BoatError> {
        let named = ["wood", "density"].iter().any(|key| s.get(key).is_some());
        if named { wood(Some(s), &self.wood.name) } else { Ok(self.wood.clone()) }
    }

    fn stick(&self, s: &Section<'_>) -> Result<Stick, BoatError> {
        let wood = self.wood(s)?;
        Ok(Stick {
            thickness: self.need(s, "thickness", "thickness = \"5/8 in\"", THICKNESS)?,
            depth: self.need(s, "depth", "depth = \"1 1/4 in\"", DEPTH)?,
            spare: self.spare,
            bends: woods::find(&wood.name).map_or_else(BendSpec::default, woods::KnownWood::bends),
            wood,
        })
    }

    fn place(&mut self, s: &Section<'_>) -> Result<Place, BoatError> {
        place(s, self.lengths, self.stations)
    }

    fn level(&self, s: &Section<'_>) -> Result<Option<Level>, BoatError> {
        let below = s.length("below_sheer", self.lengths, [0.0, 3000.0])?;
        match (s.length("height", self.lengths, HEIGHTS)?, below) {
            (Some(z), None) => Ok(Some(Level::Height(z))),
            (None, Some(down)) => Ok(Some(Level::BelowSheer(down))),
            (None, None) => Ok(None),
            (Some(_), Some(_)) => Err(s.trouble("height", Problem::OneLevel)),
        }
    }

    fn against(&self, s: &Section<'_>, known: &[(&str, Against)]) -> Result<Against, BoatError> {
        s.get("against").map_or(Ok(self.against), |value| word(&value, known))
    }

    fn rising(&mut self, s: &Section<'_>) -> Result<RisingSpec, BoatError> {
        s.only(&["thickness", "depth", "line", "wood", "density"])?;
        const EXAMPLE: &str =
            "line = [{ station = \"2\", height = \"1-0-0\" }, { station = \"6\", below_sheer = \"8 in\" }]";
        let list = s.need("line", EXAMPLE)?;
        let points = list.list([2, 40], "a list of places and heights, from forward,")?;
        let mut point = |value: &Value<'_>| -> Result<(Place, Level), BoatError> {
            let one = value.section("{ station = \"2\", height = \"1-0-0\" }")?;
            one.only(&["station", "aft", "at", "height", "below_sheer"])?;
            let place = self.place(&one)?;
            let level = self.level(&one)?;
            Ok((place, level.ok_or_else(|| one.trouble("height", Problem::Missing { example: LEVEL }))?))
        };
        let line = points.iter().map(&mut point).collect::<Result<_, _>>()?;
        Ok(RisingSpec { stick: self.stick(s)?, line })
    }

    fn thwart(&mut self, s: &Section<'_>) -> Result<ThwartSpec, BoatError> {
        s.only(&[
            "name",
            "station",
            "aft",
            "at",
            "measured_to",
            "height",
            "below_sheer",
            "width",
            "thickness",
            "against",
            "clear",
            "wood",
            "density",
        ])?;
        let edges = [("fore edge", Edge::Fore), ("middle", Edge::Middle), ("after edge", Edge::Aft)];
        Ok(ThwartSpec {
            name: s.words("name", LETTERS)?,
            place: self.place(s)?,
            edge: s.get("measured_to").map_or(Ok(Edge::Middle), |value| word(&value, &edges))?,
            level: self.level(s)?,
            width: self.need(s, "width", "width = \"8 in\"", WIDTH)?,
            thickness: self.need(s, "thickness", "thickness = \"3/4 in\"", THICKNESS)?,
            against: self.against(s, &ENDS)?,
            clear: s.length("clear", self.lengths, [0.0, 100.0])?.unwrap_or(0.0),
            wood: self.wood(s)?,
        })
    }

    fn inwale(&mut self, s: &Section<'_>) -> Result<InwaleSpec, BoatError> {
        s.only(&["thickness", "depth", "from", "to", "wood", "density"])?;
        let mut end = |key: &str| -> Result<Option<Place>, BoatError> {
            let Some(one) = s.section(key)? else { return Ok(None) };
            one.only(&["station", "aft", "at"])?;
            self.place(&one).map(Some)
        };
        let (from, to) = (end("from")?, end("to")?);
        Ok(InwaleSpec { stick: self.stick(s)?, from, to })
    }

    fn rubbing(&mut self, s: &Section<'_>) -> Result<RubbingSpec, BoatError> {
        s.only(&["thickness", "depth", "land", "wood", "density"])?;
        Ok(RubbingSpec { stick: self.stick(s)?, land: s.count("land", [1, 99])? })
    }

    fn breasthook(&mut self, s: &Section<'_>) -> Result<BreasthookSpec, BoatError> {
        s.only(&["end", "arm", "tip", "throat", "thickness", "against", "wood", "density"])?;
        let ends = [("stem", false), ("sternpost", true)];
        let aft = s.get("end").map_or(Ok(false), |value| word(&value, &ends))?;
        let arm = self.need(s, "arm", "arm = \"10 in\"", ARM)?;
        Ok(BreasthookSpec { aft, grown: self.grown(s, [arm; 2], &SIDES)? })
    }

    fn knee(&mut self, s: &Section<'_>) -> Result<KneeSpec, BoatError> {
        let kind = s.need("kind", "kind = \"quarter\", or \"thwart\"")?;
        if word(&kind, &[("quarter", false), ("thwart", true)])? {
            s.only(&[
                "kind",
                "thwart",
                "aft",
                "side_arm",
                "thwart_arm",
                "tip",
                "throat",
                "thickness",
                "against",
                "wood",
                "density",
            ])?;
            let thwart = s.need("thwart", "thwart = 1")?.count([1, MOST as u32])? as usize;
            let aft = s.length("aft", self.lengths, [-1000.0, 1000.0])?.unwrap_or(0.0);
            let arms = [
                self.need(s, "side_arm", "side_arm = \"6 in\"", ARM)?,
                self.need(s, "thwart_arm", "thwart_arm = \"7 in\"", ARM)?,
            ];
            return Ok(KneeSpec { at: KneeAt::Thwart { thwart, aft }, grown: self.grown(s, arms, &ENDS)? });
        }
        s.only(&[
            "kind",
            "end",
            "side_arm",
            "transom_arm",
            "tip",
            "throat",
            "thickness",
            "against",
            "wood",
            "density",
        ])?;
        let ends = [("transom", true), ("bow transom", false)];
        let aft = s.get("end").map_or(Ok(true), |value| word(&value, &ends))?;
        let arms = [
            self.need(s, "side_arm", "side_arm = \"8 in\"", ARM)?,
            self.need(s, "transom_arm", "transom_arm = \"7 in\"", ARM)?,
        ];
        Ok(KneeSpec { at: KneeAt::Quarter { aft }, grown: self.grown(s, arms, &SIDES)? })
    }

    fn grown(&self, s: &Section<'_>, arms: [f64; 2], sides: &[(&str, Against)]) -> Result<Grown, BoatError> {
        Ok(Grown {
            arms,
            tip: self.need(s, "tip", "tip = \"1 1/4 in\"", ACROSS)?,
            throat: self.need(s, "throat", "throat = \"3 in\"", ACROSS)?,
            thickness: self.need(s, "thickness", "thickness = \"1 in\"", THICKNESS)?,
            against: self.against(s, sides)?,
            wood: self.wood(s)?,
        })
    }
}

const ENDS: [(&str, Against); 2] = [("planking", Against::Planking), ("timbers", Against::Timbers)];
const SIDES: [(&str, Against); 3] =
    [("planking", Against::Planking), ("timbers", Against::Timbers), ("inwale", Against::Inwale)];
const PLACE: &str = "station = \"3\" and perhaps aft = \"2 in\", or at = \"4-6-0\" aft of the first station";
const LEVEL: &str = "height = \"1-0-0\" above base, or below_sheer = \"8 in\"";
