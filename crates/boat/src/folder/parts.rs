//! `[bending]`, `[scarfs]`, `[sawing]` and `[moisture]` of boat.toml.

use super::section::{Section, Value};
use super::{BoatError, BoatProblem as Problem, range_said, woods};
use crate::spec::{BendSpec, Glued, MoistureSpec, Rings, SawSpec, ScarfSpec, Wood};
use crate::units::Notation;

/// Radii a plank may be bent to, in thicknesses.
const COLD: [f64; 2] = [40.0, 400.0];
const STEAMED: [f64; 2] = [8.0, 200.0];
/// Twist times thickness.
const SHEAR: [f64; 2] = [0.003, 0.05];
/// Length of a scarf over its thickness.
const RATIO: [f64; 2] = [6.0, 12.0];
/// Percent moisture, and percent lost from green to ovendry.
const MOISTURE: [f64; 2] = [0.0, 200.0];
const SHRINKAGE: [f64; 2] = [0.1, 20.0];
/// A part is at least so many scarfs long: shorter ones are all joint.
const LEAST_SCARFS: f64 = 6.0;

/// What planks of `wood` bear, as far as the builder does not say otherwise.
pub fn bending(section: Option<Section<'_>>, wood: &Wood) -> Result<BendSpec, BoatError> {
    let mut bends = woods::find(&wood.name).map_or_else(BendSpec::default, woods::KnownWood::bends);
    let Some(section) = section else { return Ok(bends) };
    section.only(&["cold_radius", "cold_shear", "steamed_radius"])?;
    if let Some(radius) = section.number("cold_radius", COLD)? {
        bends.cold_strain = 0.5 / radius;
    }
    if let Some(shear) = section.number("cold_shear", SHEAR)? {
        bends.cold_shear = shear;
    }
    if let Some(radius) = section.number("steamed_radius", STEAMED)? {
        bends.steamed_strain = 0.5 / radius;
    }
    if bends.steamed_radius() > bends.cold_radius() {
        let problem = Problem::Steamed { steamed: bends.steamed_radius(), cold: bends.cold_radius() };
        return Err(section.trouble("steamed_radius", problem));
    }
    Ok(bends)
}

/// How planks longer than the boards are joined.
pub fn scarfs(section: Option<Section<'_>>, lengths: Notation, thickness: f64) -> Result<ScarfSpec, BoatError> {
    let mut spec = ScarfSpec::default();
    let Some(section) = section else { return Ok(spec) };
    section.only(&["ratio", "longest", "longest_of", "widest", "clear", "shift", "glued"])?;
    spec.ratio = section.number("ratio", RATIO)?.unwrap_or(spec.ratio);
    let least = (LEAST_SCARFS * spec.ratio * thickness).max(300.0);
    spec.longest = section.get("longest").map(|value| longest(&value, lengths, least)).transpose()?;
    if let Some(list) = section.get("longest_of") {
        const WANTED: &str = "a list such as [{ strake = 5, longest = \"9 ft\" }],";
        for value in list.list([1, 40], WANTED)? {
            let one = value.section("{ strake = 5, longest = \"9 ft\" },")?;
            one.only(&["strake", "longest"])?;
            let strake = one.need("strake", "strake = 5")?.count([1, 40])? as usize;
            let mm = longest(&one.need("longest", "longest = \"9 ft\"")?, lengths, least)?;
            if spec.longest_of.iter().any(|(s, _)| *s == strake) {
                return Err(value.trouble(Problem::LongestTwice { strake }));
            }
            spec.longest_of.push((strake, mm));
        }
    }
    spec.widest = section.length("widest", lengths, [20.0, 1500.0])?;
    spec.clear = section.length("clear", lengths, [0.0, 500.0])?.unwrap_or(spec.clear);
    spec.shift = section.length("shift", lengths, [0.0, 3000.0])?;
    if let Some(value) = section.get("glued") {
        spec.glued = super::boat::word(&value, &[("on the bench", Glued::Bench), ("in place", Glued::InPlace)])?;
    }
    Ok(spec)
}

/// How wet planks of `wood` are, and how they move. Glued planks are mostly plywood, which hardly does: nothing is known of them
/// but what the builder says.
pub fn moisture(section: Option<Section<'_>>, wood: &Wood, glued: bool) -> Result<MoistureSpec, BoatError> {
    let known = woods::find(&wood.name).filter(|_| !glued).and_then(|w| w.shrinkage);
    let mut spec = MoistureSpec { shrinkage: known, ..MoistureSpec::default() };
    let Some(section) = section else { return Ok(spec) };
    section.only(&["shop", "afloat", "ashore", "shrinkage", "rings"])?;
    spec.shop = section.number("shop", MOISTURE)?.unwrap_or(spec.shop);
    spec.afloat = section.number("afloat", MOISTURE)?.unwrap_or(spec.afloat);
    spec.ashore = section.number("ashore", MOISTURE)?.unwrap_or(spec.ashore);
    if let Some(value) = section.get("shrinkage") {
        let both = value.list([2, 2], "two numbers, across the rings and along them, [4.5, 9.1],")?;
        spec.shrinkage = Some([both[0].number(SHRINKAGE)?, both[1].number(SHRINKAGE)?]);
    }
    if let Some(value) = section.get("rings") {
        spec.rings = super::boat::word(&value, &[("flat", Rings::Flat), ("quarter", Rings::Quarter)])?;
    }
    Ok(spec)
}

/// Length of the longest part.
fn longest(value: &Value<'_>, lengths: Notation, least: f64) -> Result<f64, BoatError> {
    let mm = value.length(lengths)?;
    if !(least..=20_000.0).contains(&mm) {
        let hint =
            "a part should be six scarfs long or more (planking.thickness times scarfs.ratio is one), and 300 mm";
        return Err(value.out_of(range_said(lengths, [least, 20_000.0]), hint));
    }
    Ok(mm)
}

/// How planks are got out of boards.
pub fn sawing(section: Option<Section<'_>>, lengths: Notation) -> Result<SawSpec, BoatError> {
    let mut spec = SawSpec::default();
    let Some(section) = section else { return Ok(spec) };
    section.only(&["cut", "planing", "knot_clear", "off_grain", "resaw", "resaw_loss"])?;
    spec.cut = section.length("cut", lengths, [0.0, 10.0])?.unwrap_or(spec.cut);
    spec.planing = section.length("planing", lengths, [0.0, 20.0])?.unwrap_or(spec.planing);
    spec.knot_clear = section.length("knot_clear", lengths, [0.0, 100.0])?.unwrap_or(spec.knot_clear);
    spec.resaw = section.get("resaw").map_or(Ok(spec.resaw), |v| v.yes())?;
    spec.resaw_loss = section.length("resaw_loss", lengths, [1.0, 30.0])?.unwrap_or(spec.resaw_loss);
    spec.off_grain = section.number("off_grain", [0.0, 10.0])?.map_or(spec.off_grain, f64::to_radians);
    Ok(spec)
}
