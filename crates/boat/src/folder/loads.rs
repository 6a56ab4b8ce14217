//! `[[loads]]` of boat.toml.

use super::boat::word;
use super::interior::{Named, place};
use super::section::{CHECK, Document, Section, Value};
use super::{BoatError, BoatProblem as Problem};
use crate::offsets::read::HEIGHTS;
use crate::spec::LoadSpec;
use crate::units::{Notation, POUND};
use std::collections::BTreeMap;

/// How many there may be, and names of company.
const MOST: usize = 40;
/// Letters in a name.
const LETTERS: usize = 32;
/// Of one, kg.
const MASSES: [f64; 2] = [0.0, 2000.0];
/// Off the centreline, mm.
const OUT: [f64; 2] = [0.0, 3000.0];
/// What foam keeps out, litres.
const LITRES: [f64; 2] = [0.0, 2000.0];

/// What is typed in each of `[[loads]]`, by key: texts without their quotes, lists with a semicolon between. `None` where boat.toml
/// cannot be read so far.
#[must_use]
pub fn loads_as_typed(toml: &str) -> Option<Vec<BTreeMap<String, String>>> {
    let document = Document::of(toml).ok()?;
    let root = document.root();
    let Some(list) = root.get("loads") else { return Some(Vec::new()) };
    let said = |v: &Value<'_>| v.string().map_or_else(|| v.raw.to_owned(), str::to_owned);
    let one = |load: &Value<'_>| {
        let section = load.section("").ok()?;
        let typed = section.keys().into_iter().filter_map(|key| {
            let value = section.get(key)?;
            let text = match value.list([0, usize::MAX], "") {
                Ok(items) => items.iter().map(said).collect::<Vec<_>>().join("; "),
                Err(_) => said(&value),
            };
            Some((key.to_owned(), text))
        });
        Some(typed.collect())
    };
    list.list([0, usize::MAX], "").ok()?.iter().map(one).collect()
}

/// The loads, and the stations they are measured from.
pub fn read(root: &Section<'_>, lengths: Notation) -> Result<(Vec<LoadSpec>, Vec<Named>), BoatError> {
    let mut stations = Vec::new();
    let Some(list) = root.get("loads") else { return Ok((Vec::new(), stations)) };
    const WANTED: &str = "[[loads]], each with its name, mass, place and height,";
    let mut loads: Vec<LoadSpec> = Vec::new();
    for value in list.list([1, MOST], WANTED)? {
        let one = value.section(WANTED)?;
        let load = load(&one, lengths, &mut stations)?;
        if loads.iter().any(|l| l.name == load.name && together(l, &load)) {
            return Err(one.trouble("name", Problem::SameLoad { name: load.name }));
        }
        loads.push(load);
    }
    Ok((loads, stations))
}

/// Whether two loads are ever aboard at once: one that names no company always is.
fn together(a: &LoadSpec, b: &LoadSpec) -> bool {
    a.when.is_empty() || b.when.is_empty() || a.when.iter().any(|name| b.when.contains(name))
}

fn load(s: &Section<'_>, lengths: Notation, stations: &mut Vec<Named>) -> Result<LoadSpec, BoatError> {
    s.only(&["name", "mass", "station", "aft", "at", "height", "out", "side", "when", "litres"])?;
    let name = s.need("name", "name = \"oars\"")?.words(LETTERS)?;
    let mass = mass(&s.need("mass", "mass = \"75 kg\", or mass = \"165 lb\"")?, lengths)?;
    let out = s.length("out", lengths, OUT)?.unwrap_or(0.0);
    let side = match s.get("side") {
        Some(value) => Some(word(&value, &[("starboard", 1.0), ("port", -1.0)])?),
        None => None,
    };
    let side = match side {
        Some(side) => side,
        None if out == 0.0 => 0.0,
        None => return Err(s.trouble("side", Problem::Missing { example: "side = \"port\", or \"starboard\"" })),
    };
    let when = match s.get("when") {
        Some(value) => value
            .list([1, MOST], "a list of names, [\"one aboard\", \"two aboard\"],")?
            .iter()
            .map(|v| v.words(LETTERS))
            .collect::<Result<_, _>>()?,
        None => Vec::new(),
    };
    Ok(LoadSpec {
        name,
        mass,
        place: place(s, lengths, stations)?,
        height: s.need("height", "height = \"1-2-0\", over base,")?.length_in(lengths, HEIGHTS)?,
        // On the centreline it is on no side: nought has no minus.
        out: out * side + 0.0,
        when,
        litres: s.number("litres", LITRES)?.unwrap_or(0.0),
    })
}

/// A text that says the unit, `75 kg` or `165 lb`; in a boat of millimetres also a bare number, which is kg.
fn mass(value: &Value<'_>, lengths: Notation) -> Result<f64, BoatError> {
    let Some(text) = value.string() else {
        let number = value.number(MASSES)?;
        return match lengths {
            Notation::Mm => Ok(number),
            _ => Err(value.trouble(Problem::BareMass { number: value.raw.to_owned() })),
        };
    };
    let wrong = || {
        let comma = "a mass with a point in it and no comma, such as \"12.5 kg\",";
        let other = "a mass, such as 75 (kg), \"75 kg\" or \"165 lb\",";
        value.kind(if text.contains(',') { comma } else { other })
    };
    let (number, unit) = [("kg", 1.0), ("lb", POUND)]
        .into_iter()
        .find_map(|(word, kg)| Some((text.trim().strip_suffix(word)?.trim_end(), kg)))
        .ok_or_else(wrong)?;
    let kg = number.parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(wrong)? * unit;
    let range = || format!("{} kg to {} kg", MASSES[0], MASSES[1]);
    if (MASSES[0]..=MASSES[1]).contains(&kg) { Ok(kg) } else { Err(value.out_of(range(), CHECK)) }
}
