//! `[timbers]` of boat.toml.

use super::boat::{ALONG, length_or, wood, word};
use super::section::{Section, Value};
use super::{BoatError, BoatProblem as Problem, woods};
use crate::offsets::read::HEIGHTS;
use crate::spec::{BendSpec, Bent, Stop, StopAt, TimberSpec};
use crate::units::{Notation, inches};

/// Least radius to thickness for steamed timbers bent without a strap: broadleaves, and conifers. Common practice, no source.
const STEAMED: [f64; 2] = [12.0, 30.0];
/// Layers a timber is glued up from.
const MOST_LAYERS: u32 = 20;
/// Timbers in a list.
const MOST: usize = 200;

/// What timbers she has.
pub fn timbers(section: Option<Section<'_>>, lengths: Notation, glued: bool) -> Result<TimberSpec, BoatError> {
    if let Some(section) = &section {
        section.only(&[
            "spacing",
            "at",
            "cant_fore",
            "cant_aft",
            "stopped",
            "sided",
            "moulded",
            "spare",
            "extra",
            "halves_over",
            "steamed_radius",
            "cold_radius",
            "layers",
            "bent",
            "wood",
            "density",
        ])?;
    }
    let s = section.as_ref();
    let length = |key, range, otherwise| length_or(s, key, lengths, range, otherwise);
    let number = |key, range| s.map_or(Ok(None), |s| s.number(key, range));
    let sided = length("sided", [3.0, 150.0], inches(0.75))?;
    let wood = wood(s, "oak, white")?;
    let known = woods::find(&wood.name);
    let hardwood = known.is_none_or(|w| w.hardwood);
    let cold = known.map_or_else(BendSpec::default, woods::KnownWood::bends).cold_radius();
    let bent = match s.and_then(|s| s.get("bent")) {
        Some(value) => word(&value, &[("steamed", Bent::Steamed), ("cold", Bent::Cold)])?,
        None => Bent::Steamed,
    };
    let steamed_radius = number("steamed_radius", [5.0, 200.0])?.unwrap_or(STEAMED[usize::from(!hardwood)]);
    let cold_radius = number("cold_radius", [20.0, 1000.0])?.unwrap_or(cold.max(steamed_radius));
    if let Some(s) = s.filter(|_| steamed_radius > cold_radius) {
        return Err(s.trouble("cold_radius", Problem::Steamed { steamed: steamed_radius, cold: cold_radius }));
    }
    let at = s.and_then(|s| s.get("at")).map_or(Ok(Vec::new()), |list| places(&list, lengths, sided))?;
    if let Some(value) = s.and_then(|s| s.get("spacing")).filter(|_| !at.is_empty()) {
        return Err(value.trouble(Problem::PlacedTwice));
    }
    let spacing = match &at[..] {
        [first, .., last] => (last - first) / (at.len() - 1) as f64,
        _ => length("spacing", [50.0, 1000.0], inches(6.0))?,
    };
    if spacing <= sided {
        let problem = Problem::NoWood { spacing: lengths.said_fine(spacing), sided: lengths.said_fine(sided) };
        let key = if s.is_some_and(|s| s.get("spacing").is_some()) { "spacing" } else { "sided" };
        return Err(s.map_or_else(
            || BoatError { line: 1, key: String::new(), problem: problem.clone() },
            |s| s.trouble(key, problem.clone()),
        ));
    }
    let degrees = |key| -> Result<Vec<f64>, BoatError> {
        let Some(list) = s.and_then(|s| s.get(key)) else { return Ok(Vec::new()) };
        let all = list.list([1, MOST], "a list of degrees from the end, [15, 10, 5],")?;
        all.iter().map(|v| Ok(v.number([0.0, 45.0])?.to_radians())).collect()
    };
    Ok(TimberSpec {
        fitted: section.is_some() || !glued,
        spacing,
        sided,
        moulded: length("moulded", [3.0, 150.0], inches(0.5))?,
        spare: length("spare", [0.0, 500.0], inches(3.0))?,
        halves_over: number("halves_over", [0.0, 90.0])?.unwrap_or(30.0).to_radians(),
        cant_fore: degrees("cant_fore")?,
        cant_aft: degrees("cant_aft")?,
        stopped: s.and_then(|s| s.get("stopped")).map_or(Ok(Vec::new()), |list| stopped(&list, lengths))?,
        steamed_radius,
        cold_radius,
        layers: s.map_or(Ok(None), |s| s.count("layers", [1, MOST_LAYERS]))?.unwrap_or(1),
        bent,
        extra: number("extra", [0.0, 1.0])?.unwrap_or(0.1),
        at,
        wood,
    })
}

/// Places, ascending, no two nearer than they are sided.
fn places(list: &Value<'_>, lengths: Notation, sided: f64) -> Result<Vec<f64>, BoatError> {
    let mut places: Vec<f64> = Vec::new();
    for value in list.list([1, MOST], "a list of places aft of the first station, [300, 450, 600],")? {
        let mm = value.length_in(lengths, ALONG)?;
        if let Some(&before) = places.last().filter(|before| mm - **before < sided) {
            let [value_said, before, sided] = [mm, before, sided].map(|mm| lengths.said_fine(mm));
            return Err(value.trouble(Problem::OnePlace { value: value_said, before, sided }));
        }
        places.push(mm);
    }
    Ok(places)
}

/// Timbers that stop short of the sheer.
fn stopped(list: &Value<'_>, lengths: Notation) -> Result<Vec<Stop>, BoatError> {
    const WANTED: &str = "a list such as [{ timber = 3, strake = 5 }, { timber = 5, height = 400 }],";
    let mut all: Vec<Stop> = Vec::new();
    for value in list.list([1, MOST], WANTED)? {
        let one = value.section("{ timber = 3, strake = 5 }, or a height instead of the strake,")?;
        one.only(&["timber", "strake", "height"])?;
        let timber = one.need("timber", "timber = 3")?.count([1, 999])? as usize;
        let at = match (one.count("strake", [1, 99])?, one.length("height", lengths, HEIGHTS)?) {
            (Some(strake), None) => StopAt::Strake(strake as usize),
            (None, Some(z)) => StopAt::Height(z),
            _ => return Err(value.trouble(Problem::StopOnce)),
        };
        if all.iter().any(|s| s.timber == timber) {
            return Err(value.trouble(Problem::StoppedTwice { timber }));
        }
        all.push(Stop { timber, at });
    }
    Ok(all)
}
