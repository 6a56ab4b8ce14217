//! Flat outlines of a drawing: a stem's or sternpost's rabbet in profile for boat.toml, boards for boards.csv.
//!
//! A transom's shape is one of the sections (its curve is called `transom`). Nothing else of a folder holds a shape, so what is
//! neither is refused.

use super::curve::{Curve, Spot, even, joined};
use super::placed::{DrawingAsked, Make, Placed, placed, plain};
use super::problem::{ReadInError, ReadInProblem as Problem};
use crate::units::Notation;

/// Points of a rabbet that are written.
const POINTS: usize = 13;
/// Each of them stands lower than the one before by this at least, mm, as boat.toml wants.
const LOWER: f64 = 1.0;
/// How far it may turn back before that is no slip of the pen, mm.
const TURNS: f64 = 0.5;
/// Places along a board at which its width is measured.
const PLACES: usize = 200;
/// Ends of chains nearer than this are joined, mm.
const GAP: f64 = 1.0;
/// Sizes that boards.csv reads, mm.
const LENGTHS: [f64; 2] = [200.0, 20_000.0];
const WIDTHS: [f64; 2] = [20.0, 1500.0];

/// Lines for one of the folder's files, and what is to be told of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Lines {
    /// To be put into the file.
    pub text: String,
    /// What was recognised.
    pub said: Vec<String>,
    /// What was left out.
    pub look_at: Vec<String>,
}

/// Which end a rabbet is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Post {
    /// The stem.
    Stem,
    /// The sternpost.
    Sternpost,
}

/// `rabbet = [...]` of boat.toml from a profile: the one curve that is called `stem` or `sternpost`, or the only one there is.
///
/// # Errors
/// [`ReadInError`] with the line and what to do.
pub fn rabbet(text: &str, make: Make, post: Post, asked: &DrawingAsked) -> Result<Lines, ReadInError> {
    let Placed { curves, lengths, said, look_at, .. } = placed(text, make, asked)?;
    let word = if post == Post::Stem { "stem" } else { "sternpost" };
    let called = |c: &Curve| c.names.iter().any(|n| plain(n) == word);
    let any = curves.iter().any(called);
    let mine: Vec<Curve> = curves.into_iter().filter(|c| !any || called(c)).collect();
    let line = mine.first().map_or(1, |c| c.line);
    let chains = joined(mine.into_iter().map(|c| c.points).collect(), GAP);
    let [chain] = &chains[..] else {
        let told = format!(
            "{} curves could be the {word}'s rabbet: name the one {word} (its layer or id), in one piece",
            chains.len()
        );
        return Err(Problem::NoCurves(told).on(line));
    };
    let mut points = even(chain, POINTS);
    if points[0][1] < points[points.len() - 1][1] {
        points.reverse();
    }
    // From the head down a stem never comes further forward, and a sternpost never further aft.
    let way = if post == Post::Stem { 1.0 } else { -1.0 };
    for i in 1..points.len() {
        let (before, now) = (points[i - 1], points[i]);
        if before[1] - now[1] < LOWER || way * (now[0] - before[0]) < -TURNS {
            let told = format!(
                "the {word}'s rabbet turns back or runs level between {} and {}: each point must stand {LOWER} mm lower than the one \
                 above it and no further {}; draw it from the head down to where the keel begins",
                spot(before, lengths),
                spot(now, lengths),
                if post == Post::Stem { "forward" } else { "aft" }
            );
            return Err(Problem::Outline(told).on(line));
        }
        points[i][0] = if post == Post::Stem { now[0].max(before[0]) } else { now[0].min(before[0]) };
    }
    let rows: String =
        points.iter().map(|p| format!("    [{}, {}],\n", cell(p[0], lengths), cell(p[1], lengths))).collect();
    let text = format!(
        "# in boat.toml, under [{word}]; from the head down, aft of the first station and above base\nrabbet = [\n{rows}]\n"
    );
    Ok(Lines { text, said, look_at })
}

fn spot(p: Spot, lengths: Notation) -> String {
    format!("{} aft, {} up", lengths.said(p[0]), lengths.said(p[1]))
}

/// A length as boat.toml reads it in any notation.
fn cell(mm: f64, lengths: Notation) -> String {
    match lengths {
        Notation::Mm => super::bare::decimal((mm * 10.0).round() / 10.0),
        _ => format!("\"{} in\"", Notation::Inches.long(mm)),
    }
}

/// Lines of boards.csv from closed outlines, each a board of straight pieces that lies within its outline; `thickness` is
/// written as said.
///
/// # Errors
/// [`ReadInError`] with the line and what to do.
pub fn boards(text: &str, make: Make, thickness: &str, asked: &DrawingAsked) -> Result<Lines, ReadInError> {
    let zero = Some(asked.zero.unwrap_or_default());
    let Placed { curves, said, mut look_at, .. } = placed(text, make, &DrawingAsked { zero, ..asked.clone() })?;
    // Where its zero stands means nothing for a board.
    let mut said: Vec<String> = said.into_iter().take(1).collect();
    let mut csv = String::from("# for boards.csv\nboard,length_mm,width_mm,middle_width_mm,end_width_mm,thickness\n");
    let mut count = 0;
    for curve in curves {
        if !curve.closed {
            look_at.push(format!("line {}: the line is open, and no board", curve.line));
            continue;
        }
        count += 1;
        let name = curve.names.first().filter(|n| !n.is_empty() && *n != "0").cloned();
        let name = name.filter(|n| !csv.contains(&format!("\n{n},"))).unwrap_or_else(|| format!("board {count}"));
        let at =
            |told: String| Problem::Outline(told).at(curve.line, format!("board {}", crate::words::quoted(&name)));
        let board = straight(&curve.points)
            .ok_or_else(|| at("it has no width all along: draw a plain outline".to_owned()))?;
        let in_range = |mm: f64, range: [f64; 2]| (range[0]..=range[1]).contains(&mm);
        if !in_range(board.length, LENGTHS) || !board.widths.iter().all(|w| in_range(*w, WIDTHS)) {
            let told = format!(
                "{:.0} mm long and {:.0}, {:.0}, {:.0} mm wide, out of range: {:?} mm long and {:?} mm wide is read; check --lengths and --scale",
                board.length, board.widths[0], board.widths[1], board.widths[2], LENGTHS, WIDTHS
            );
            return Err(at(told));
        }
        let [first, middle, end] = board.widths.map(|w| super::bare::decimal(w.floor()));
        let length = super::bare::decimal(board.length.floor());
        let quoted =
            if name.contains([',', '"']) { format!("\"{}\"", name.replace('"', "\"\"")) } else { name.clone() };
        let thickness = if thickness.contains([',', '"']) {
            format!("\"{}\"", thickness.replace('"', "\"\""))
        } else {
            thickness.to_owned()
        };
        csv.push_str(&format!("{quoted},{length},{first},{middle},{end},{thickness}\n"));
        said.push(format!(
            "{name}: {length} mm long, {first}, {middle}, {end} mm wide; {:.0} % of its outline is kept",
            100.0 * board.kept
        ));
    }
    if count == 0 {
        return Err(Problem::NoCurves("no closed outline is in it".to_owned()).nowhere());
    }
    Ok(Lines { text: csv, said, look_at })
}

struct Straight {
    length: f64,
    widths: [f64; 3],
    kept: f64,
}

/// The board of two straight pieces whose widths its outline has everywhere along it.
fn straight(points: &[Spot]) -> Option<Straight> {
    let turned = |angle: f64| -> Vec<Spot> {
        let (sin, cos) = angle.sin_cos();
        points.iter().map(|p| [cos * p[0] + sin * p[1], cos * p[1] - sin * p[0]]).collect()
    };
    let span = |all: &[Spot], d: usize| {
        let each = || all.iter().map(|p| p[d]);
        [each().fold(f64::MAX, f64::min), each().fold(f64::MIN, f64::max)]
    };
    // Along the straight line of its outline across which it is narrowest.
    let angles = points.windows(2).filter(|w| w[0] != w[1]).map(|w| (w[1][1] - w[0][1]).atan2(w[1][0] - w[0][0]));
    let narrow = |angle: &f64| {
        let [low, high] = span(&turned(*angle), 1);
        high - low
    };
    let angle = angles.min_by(|a, b| narrow(a).total_cmp(&narrow(b)))?;
    let mut all = turned(angle);
    all.extend(all.first().copied());
    let [from, to] = span(&all, 0);
    let length = to - from;
    // Widths at places, the greatest lower edge to the least upper one where it is crossed oftener.
    let width = |share: f64| -> Option<f64> {
        let x = from + share * length;
        let mut crossed: Vec<f64> = all
            .windows(2)
            .filter(|w| (w[0][0] > x) != (w[1][0] > x))
            .map(|w| w[0][1] + (w[1][1] - w[0][1]) * (x - w[0][0]) / (w[1][0] - w[0][0]))
            .collect();
        crossed.sort_by(f64::total_cmp);
        match crossed[..] {
            [low, high] => Some(high - low),
            _ => None,
        }
    };
    let places: Vec<f64> = (0..PLACES).map(|i| (i as f64 + 0.5) / PLACES as f64).collect();
    let widths = places.iter().map(|s| width(*s)).collect::<Option<Vec<f64>>>()?;
    let ends = [widths[0], widths[PLACES / 2], widths[PLACES - 1]];
    let line = |s: f64| {
        if s < 0.5 {
            ends[0] + 2.0 * s * (ends[1] - ends[0])
        } else {
            ends[1] + (2.0 * s - 1.0) * (ends[2] - ends[1])
        }
    };
    let short = places.iter().zip(&widths).map(|(s, w)| line(*s) - w).fold(0.0, f64::max);
    let kept: f64 = places.iter().map(|s| line(*s) - short).sum::<f64>() / widths.iter().sum::<f64>();
    Some(Straight { length, widths: ends.map(|w| w - short), kept })
}
