//! `[planking]` of boat.toml.

use super::boat::{wood, word};
use super::marks::MOST_STRAKES;
use super::section::Section;
use super::{BoatError, BoatProblem as Problem, range_said};
use crate::spec::{Construction, PlankingSpec, TransomEnds};
use crate::units::{Notation, inches};

/// Paint or varnish on a square metre of a plank's face when it is dry, g: four coats. Common practice, no source.
const PAINT: f64 = 250.0;

/// What planks she has, and how they lie on one another and on a transom, where `has_transom`.
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
