//! `[fastenings]` of boat.toml.

use super::boat::word;
use super::section::{Section, Value};
use super::{BoatError, BoatProblem as Problem};
use crate::spec::{EndSpec, FasteningSpec, Fixing, PlankingSpec, Screw, TimberSpec};
use crate::units::{GAUGES, Notation};

const KEYS: [&str; 22] = [
    "gauge",
    "nail_lengths",
    "head_diameter",
    "rove",
    "rove_diameter",
    "clench",
    "between",
    "apart",
    "end_spacing",
    "transom_spacing",
    "hood_fastenings",
    "transom_fastenings",
    "end_row",
    "end_clear",
    "ends",
    "fore_ends",
    "aft_ends",
    "keel",
    "hold",
    "screw_gauge",
    "screw_length",
    "spare",
];

/// A key of which nails.csv may speak too, and the trouble where both do.
pub struct StockKey {
    pub key: &'static str,
    pub trouble: BoatError,
}

/// Length of a nail or a screw, mm.
pub const LENGTHS: [f64; 2] = [5.0, 300.0];
/// Numbers by which screws are sold.
pub const SCREWS: [u32; 2] = [0, 24];
/// Diameter of a rove, its height driven home, and its metal's thickness, mm.
pub const ROVES: [f64; 2] = [2.0, 40.0];
pub const ROVE_HEIGHTS: [f64; 2] = [0.2, 10.0];
pub const ROVE_METAL: [f64; 2] = [0.2, 5.0];

/// Reads them, with what nails.csv may contradict.
pub fn fastenings(
    root: &Section<'_>,
    lengths: Notation,
    planking: &PlankingSpec,
    timbers: &TimberSpec,
    ends: [&EndSpec; 2],
) -> Result<(FasteningSpec, Vec<StockKey>), BoatError> {
    let Some(section) = root.section("fastenings")? else { return Ok((FasteningSpec::default(), Vec::new())) };
    section.only(&KEYS)?;
    let length = |key, range: [f64; 2], otherwise: f64| -> Result<f64, BoatError> {
        Ok(section.length(key, lengths, range)?.unwrap_or(otherwise))
    };
    let gauge = section.count("gauge", [*GAUGES.start(), *GAUGES.end()])?;
    let otherwise = gauge.map_or_else(FasteningSpec::default, FasteningSpec::of_gauge);
    let nail_lengths = section.get("nail_lengths").map(|list| nail_lengths(&list, lengths)).transpose()?;
    let rove_diameter = length("rove_diameter", ROVES, otherwise.rove_diameter)?;
    let end_spacing = length("end_spacing", LENGTHS, otherwise.end_spacing)?;
    let fixing = |key, otherwise| section.get(key).map_or(Ok(otherwise), |value| word(&value, &FIXINGS));
    let both = fixing("ends", Fixing::Nails)?;
    let mut spec = FasteningSpec {
        gauge: otherwise.gauge,
        nail_lengths: nail_lengths.unwrap_or(otherwise.nail_lengths),
        head_diameter: length("head_diameter", [1.0, 30.0], otherwise.head_diameter)?,
        rove: length("rove", ROVE_HEIGHTS, otherwise.rove)?,
        rove_diameter,
        rove_thickness: FasteningSpec::metal_of(rove_diameter),
        clench: length("clench", [0.0, 10.0], otherwise.clench)?,
        between: section.count("between", [0, 20])?.unwrap_or(otherwise.between),
        apart: section.number("apart", [2.0, 60.0])?,
        end_spacing,
        transom_spacing: length("transom_spacing", LENGTHS, end_spacing)?,
        hood_fastenings: least_and_most(&section, "hood_fastenings", otherwise.hood_fastenings)?,
        transom_fastenings: least_and_most(&section, "transom_fastenings", otherwise.transom_fastenings)?,
        end_row: length("end_row", [3.0, 100.0], otherwise.end_row)?,
        end_clear: length("end_clear", [5.0, 300.0], otherwise.end_clear)?,
        fore_ends: fixing("fore_ends", both)?,
        aft_ends: fixing("aft_ends", both)?,
        keel: fixing("keel", otherwise.keel)?,
        hold: section.number("hold", [0.5, 6.0])?.unwrap_or(otherwise.hold),
        screw: None,
        spare: section.number("spare", [0.0, 1.0])?.unwrap_or(otherwise.spare),
    };
    spec.screw = screw(&section, lengths, &spec, planking.thickness)?;
    for key in ["transom_spacing", "transom_fastenings"] {
        if let Some(value) = section.get(key).filter(|_| !ends.iter().any(|e| matches!(e, EndSpec::Transom(_)))) {
            return Err(value.trouble(Problem::NoTransom));
        }
    }
    wider_than_the_nail(&section, lengths, &spec)?;
    wood_between(&section, lengths, &spec, planking, timbers)?;
    Ok((spec, stock_keys(&section)))
}

const FIXINGS: [(&str, Fixing); 2] = [("nails", Fixing::Nails), ("screws", Fixing::Screws)];

fn nail_lengths(list: &Value<'_>, lengths: Notation) -> Result<Vec<f64>, BoatError> {
    let mut nails: Vec<f64> = Vec::new();
    for value in list.list([1, 60], "a list of lengths, [16, 20, 25],")? {
        let mm = value.length_in(lengths, LENGTHS)?;
        if let Some(&before) = nails.last().filter(|before| mm <= **before + 0.01) {
            let (mm, before) = (lengths.said(mm), lengths.said(before));
            return Err(value.trouble(Problem::NotAscending { value: mm, before }));
        }
        nails.push(mm);
    }
    Ok(nails)
}

/// Two whole numbers, `[3, 4]`: the least and the most fastenings of a plank's end, with the two in its lands.
fn least_and_most(section: &Section<'_>, key: &str, otherwise: [u32; 2]) -> Result<[u32; 2], BoatError> {
    let Some(value) = section.get(key) else { return Ok(otherwise) };
    let list = value.list([2, 2], "the least and the most, such as [3, 4],")?;
    let [least, most] = [list[0].count([2, 12])?, list[1].count([2, 12])?];
    if least > most {
        return Err(value.trouble(Problem::LeastOverMost { least, most }));
    }
    Ok([least, most])
}

/// The screw, where anything is screwed: both its numbers must be given then, and neither otherwise.
fn screw(
    section: &Section<'_>,
    lengths: Notation,
    spec: &FasteningSpec,
    thickness: f64,
) -> Result<Option<Screw>, BoatError> {
    if ![spec.fore_ends, spec.aft_ends, spec.keel].contains(&Fixing::Screws) {
        let stray = ["screw_gauge", "screw_length"].into_iter().find_map(|key| section.get(key));
        return stray.map_or(Ok(None), |value| Err(value.trouble(Problem::NoScrews)));
    }
    let gauge = section.need("screw_gauge", "screw_gauge = 8, the number the screws are sold by")?.count(SCREWS)?;
    let value = section.need("screw_length", "screw_length = \"1 1/4 in\"")?;
    let length = value.length_in(lengths, LENGTHS)?;
    if length <= thickness {
        let [length, thickness] = [length, thickness].map(|mm| lengths.said_fine(mm));
        return Err(value.trouble(Problem::ShortScrew { length, thickness }));
    }
    Ok(Some(Screw { gauge, length }))
}

/// Heads and roves are wider than the nail.
fn wider_than_the_nail(section: &Section<'_>, lengths: Notation, spec: &FasteningSpec) -> Result<(), BoatError> {
    for (key, what, mm) in
        [("head_diameter", "head", spec.head_diameter), ("rove_diameter", "rove", spec.rove_diameter)]
    {
        if mm <= spec.side() {
            let [found, side] = lengths.said_apart(mm, spec.side());
            return Err(section.trouble(key, Problem::NarrowerThanNail { what, found, side, gauge: spec.gauge }));
        }
    }
    Ok(())
}

/// Refuses rivets and end fastenings asked for so near to one another that they leave no wood between them.
fn wood_between(
    section: &Section<'_>,
    lengths: Notation,
    spec: &FasteningSpec,
    planking: &PlankingSpec,
    timbers: &TimberSpec,
) -> Result<(), BoatError> {
    let nearest = spec.nearest();
    let between = timbers.spacing / f64::from(spec.between + 1);
    let apart = spec.apart.map_or(f64::INFINITY, |n| n * planking.thickness);
    let asked = [
        ("between", between),
        ("apart", apart),
        ("end_spacing", spec.end_spacing),
        ("transom_spacing", spec.transom_spacing),
    ];
    for (key, mm) in asked {
        if mm < nearest {
            let [found, least] = lengths.said_apart(mm, nearest);
            return Err(section.trouble(key, Problem::NoWoodBetween { found, least, gauge: spec.gauge }));
        }
    }
    Ok(())
}

/// Those of the keys that are there.
fn stock_keys(section: &Section<'_>) -> Vec<StockKey> {
    let keys =
        [("nail_lengths", "nails"), ("rove_diameter", "a rove of that gauge"), ("rove", "how high that rove is")];
    keys.into_iter()
        .filter_map(|(key, what)| {
            let value = section.get(key)?;
            Some(StockKey { key, trouble: value.trouble(Problem::SaidTwice { what }) })
        })
        .collect()
}
