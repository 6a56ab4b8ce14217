//! A drawing brought to full size and to its base line and centreline.

use super::bare::Bare;
use super::curve::{Curve, Drawing, Spot};
use super::problem::{ReadInError, ReadInProblem as Problem};
use super::{dxf, svg};
use crate::units::Notation;

/// Of which make a drawing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Make {
    /// DXF in text form.
    Dxf,
    /// SVG.
    Svg,
}

/// What is said beside a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingAsked {
    /// What one unit of the drawing is, where the command line says it.
    pub bare: Option<Bare>,
    /// How many times smaller than the boat it is drawn: 10 for 1:10.
    pub scale: f64,
    /// Where centreline (or first station) and base line stand, in the drawing's own units, y as in the file.
    pub zero: Option<[f64; 2]>,
    /// The spacing of the stations, mm.
    pub spacing: Option<f64>,
    /// The stations' distances aft of the first, mm, by name.
    pub at: Vec<(String, f64)>,
}

/// A drawing at full size, 0 at its zero, y up.
pub struct Placed {
    pub curves: Vec<Curve>,
    pub labels: Vec<super::curve::Label>,
    pub lengths: Notation,
    pub said: Vec<String>,
    pub look_at: Vec<String>,
}

/// What a reference line is called.
const PLUMB: [&str; 6] = ["centreline", "centerline", "centre line", "center line", "first station", "zero"];
const LEVEL: [&str; 3] = ["base line", "baseline", "base"];
/// How far a reference line may lean over its whole length, and two of one name may stand apart, mm at full size.
const LEANS: f64 = 1.0;
/// No boat is drawn larger, mm.
const LARGEST: f64 = 40_000.0;

/// Small letters, `_` and `-` as spaces.
pub fn plain(name: &str) -> String {
    name.to_lowercase().replace(['_', '-'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Reads a drawing and brings it to full size; the lines it stands by are taken out of its curves.
pub fn placed(text: &str, make: Make, asked: &DrawingAsked) -> Result<Placed, ReadInError> {
    let drawing = match make {
        Make::Dxf => dxf::drawing(text)?,
        Make::Svg => svg::drawing(text)?,
    };
    let (unit, lengths, unit_said) = unit(&drawing, make, asked.bare)?;
    let Drawing { curves, labels, left_out, .. } = drawing.scaled(unit * asked.scale);
    let (mut plumb, mut level) = (None, None);
    let mut kept = Vec::new();
    for curve in curves {
        let is = |words: &[&str]| curve.names.iter().any(|n| words.contains(&plain(n).as_str()));
        let d = if is(&PLUMB) {
            0
        } else if is(&LEVEL) {
            1
        } else {
            kept.push(curve);
            continue;
        };
        let [least, most] = ends(&curve.points, d);
        if most - least > LEANS {
            let what = if d == 0 { "plumb" } else { "level" };
            let told = format!(
                "{} is not {what} in the drawing: it leans by {:.1} mm at full size, {LEANS} mm is allowed; turn the drawing",
                curve.names.first().map_or("the line", String::as_str),
                most - least
            );
            return Err(Problem::Outline(told).on(curve.line));
        }
        let (at, before) = (0.5 * (least + most), if d == 0 { &mut plumb } else { &mut level });
        if let Some(first) = before.filter(|first: &f64| asked.zero.is_none() && (first - at).abs() > LEANS) {
            let name = curve.names.first().map_or("the line", String::as_str);
            let told = format!(
                "{name} is drawn twice, {:.1} mm apart at full size, {LEANS} mm is allowed: leave one, or say --zero X,Y",
                (first - at).abs()
            );
            return Err(Problem::Outline(told).on(curve.line));
        }
        *before = Some(at);
    }
    // y of an SVG file runs down.
    let turned = if make == Make::Svg { -1.0 } else { 1.0 };
    let given = asked.zero.map(|[x, y]| [x * unit * asked.scale, y * turned * unit * asked.scale]);
    let mut said = vec![unit_said];
    let zero = match (given, plumb, level) {
        (Some(zero), _, _) => {
            said.push("centreline (or first station) and base line as the command line says".to_owned());
            zero
        }
        (None, Some(x), Some(y)) => {
            said.push("centreline (or first station) and base line as they are drawn and named".to_owned());
            [x, y]
        }
        (None, None, None) if make == Make::Dxf => {
            said.push(
                "no line is named centreline or base line: x = 0 and y = 0 of the drawing are taken for them"
                    .to_owned(),
            );
            [0.0, 0.0]
        }
        (None, plumb, _) => {
            let missing = if plumb.is_some() { "base line" } else { "centreline (of a profile: first station)" };
            let told = format!(
                "no line is named {missing}: name it so (its layer, id or group), or say --zero X,Y in the drawing's units"
            );
            return Err(Problem::NoCurves(told).nowhere());
        }
    };
    let moved = |p: &mut Spot| *p = [p[0] - zero[0], p[1] - zero[1]];
    let mut labels = labels;
    kept.iter_mut().flat_map(|c| &mut c.points).for_each(moved);
    labels.iter_mut().map(|l| &mut l.at).for_each(moved);
    if let Some(curve) = kept.iter().find(|c| c.points.iter().flatten().any(|n| n.abs() > LARGEST)) {
        let told = format!(
            "the drawing reaches {:.0} m from its zero at full size, {} m is the most: check --lengths, --scale and --zero",
            curve.points.iter().flatten().fold(0.0_f64, |m, n| m.max(n.abs())) / 1000.0,
            LARGEST / 1000.0
        );
        return Err(Problem::Outline(told).on(curve.line));
    }
    Ok(Placed { curves: kept, labels, lengths, said, look_at: left_out })
}

fn ends(points: &[Spot], d: usize) -> [f64; 2] {
    let all = points.iter().map(|p| p[d]);
    [all.clone().fold(f64::MAX, f64::min), all.fold(f64::MIN, f64::max)]
}

/// mm of one unit on paper, the notation of the table, and how it was known.
fn unit(drawing: &Drawing, make: Make, asked: Option<Bare>) -> Result<(f64, Notation, String), ReadInError> {
    let looked = if make == Make::Dxf { "$INSUNITS" } else { "a width in mm, cm or in with a viewBox" };
    let by_asked = match asked {
        Some(bare) => match bare.mm() {
            Some(mm) => Some((mm, bare)),
            None => {
                return Err(
                    Problem::DrawingUnit { found: format!("{} is no unit of a drawing", bare.word()) }.nowhere()
                );
            }
        },
        None => None,
    };
    match (drawing.unit, by_asked) {
        (Some((file, name)), Some((mm, bare))) if (file - mm).abs() > 1e-6 * mm => {
            let file = format!("one unit is {file:.4} mm ({name})");
            Err(Problem::UnitsDiffer { file, asked: bare.word().to_owned() }.nowhere())
        }
        (_, Some((mm, bare))) => Ok((
            mm,
            bare.notation(),
            format!("one unit of the drawing is 1 {}, as the command line says", bare.word()),
        )),
        (Some((mm, name)), None) => {
            let lengths = if ["in", "ft"].contains(&name) { Notation::Inches } else { Notation::Mm };
            Ok((mm, lengths, format!("one unit of the drawing is {mm:.6} mm, as the file says ({name})")))
        }
        (None, None) => Err(Problem::DrawingUnit { found: format!("it has no {looked}") }.nowhere()),
    }
}
