//! Flat outlines of a drawing: a stem's or sternpost's rabbet in profile for boat.toml, boards for boards.csv.
//!
//! A transom's shape is one of the sections (its curve is called `transom`). Nothing else of a folder holds a shape, so what is
//! neither is refused.
//!
//! A board errs small: its widths are rounded down and lie within its outline at every one of [`PLACES`] places, evenly to both
//! sides of a straight line as boards of the rack do. A notch narrower than from one place to the next may be missed.

use super::curve::{Curve, Spot, even, joined, length, within};
use super::placed::{DrawingAsked, Make, Placed, placed, plain};
use super::problem::{ReadInError, ReadInProblem as Problem};
use super::sheet::in_csv;
use crate::units::Notation;

/// Points of a rabbet that are written.
const POINTS: usize = 13;
/// Each of them stands lower than the one before by this at least, mm, as boat.toml wants.
const LOWER: f64 = 1.0;
/// How far it may turn back before that is no slip of the pen, mm.
const TURNS: f64 = 0.5;
/// Places along a board at which its width is measured.
const PLACES: usize = 200;
/// So much the reckoning itself may take off a length that is whole, mm.
const ROUNDING: f64 = 1e-6;
/// Tries at the slope of a board's middle: each leaves two thirds of what it began with.
const SLOPES: usize = 100;
/// Ends of chains nearer than this are joined, mm.
const GAP: f64 = 1.0;
/// Points of a board's outline: each of its steps is tried as the way along, and held to all of them.
const MOST_OUTLINE: usize = 20_000;
/// Letters of a name that boards.csv reads.
const MOST_NAME: usize = 40;
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
        return Err(Problem::Outline(told).on(line));
    };
    if length(chain) < LOWER {
        let told =
            format!("the {word}'s rabbet is {:.3} mm long at full size: check --lengths and --scale", length(chain));
        return Err(Problem::Outline(told).on(line));
    }
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
    let (mut names, thickness): (Vec<String>, String) = (Vec::new(), in_csv(thickness));
    for curve in curves {
        if !curve.closed {
            look_at.push(format!("line {}: the line is open, and no board", curve.line));
            continue;
        }
        within("points of an outline", curve.points.len(), MOST_OUTLINE, curve.line)?;
        let name = name(&curve, &names);
        let at =
            |told: String| Problem::Outline(told).at(curve.line, format!("board {}", crate::words::quoted(&name)));
        let board = straight(&curve.points)
            .ok_or_else(|| at("it has no width all along: draw a plain outline".to_owned()))?;
        let in_range = |mm: f64, range: [f64; 2]| (range[0]..=range[1]).contains(&mm);
        if !in_range(board.length, LENGTHS) || !board.widths.iter().all(|w| in_range(*w, WIDTHS)) {
            let told = format!(
                "the straight board within it would be {:.0} mm long and {:.0}, {:.0}, {:.0} mm wide, out of range: {} to {} mm long and \
                 {} to {} mm wide is read; check --lengths and --scale",
                board.length,
                board.widths[0],
                board.widths[1],
                board.widths[2],
                LENGTHS[0],
                LENGTHS[1],
                WIDTHS[0],
                WIDTHS[1]
            );
            return Err(at(told));
        }
        let whole = |mm: f64| super::bare::decimal((mm + ROUNDING).floor());
        let ([first, middle, end], length) = (board.widths.map(whole), whole(board.length));
        csv.push_str(&format!("{},{length},{first},{middle},{end},{thickness}\n", in_csv(&name)));
        said.push(format!(
            "{name}: {length} mm long, {first}, {middle}, {end} mm wide; {:.0} % of its outline is kept",
            100.0 * board.kept
        ));
        names.push(name);
    }
    if names.is_empty() {
        return Err(Problem::Outline("no closed outline is in it, and a board is one".to_owned()).nowhere());
    }
    Ok(Lines { text: csv, said, look_at })
}

/// What a board is called: as its curve, where that is a name of its own that boards.csv reads; else by its number.
fn name(curve: &Curve, taken: &[String]) -> String {
    let plain = |n: &String| n.replace(char::is_control, " ").trim().to_owned();
    let own = curve.names.first().map(plain).filter(|n| {
        let known = n.is_empty() || n == "0" || n.starts_with('#') || taken.contains(n);
        !known && n.chars().count() <= MOST_NAME
    });
    let numbered = || (taken.len() + 1..).map(|i| format!("board {i}")).find(|n| !taken.contains(n));
    own.or_else(numbered).unwrap_or_default()
}

/// A board that lies within an outline, evenly to both sides of a straight line: its length, its widths at its ends and half-way,
/// mm, and how much of the outline's area it is.
struct Straight {
    length: f64,
    widths: [f64; 3],
    kept: f64,
}

/// The board of two straight pieces whose widths its outline has everywhere along it; `None` where it is crossed more than
/// twice somewhere.
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
    let narrow = |angle: f64| {
        let (sin, cos) = angle.sin_cos();
        let [low, high] = points
            .iter()
            .map(|p| cos * p[1] - sin * p[0])
            .fold([f64::MAX, f64::MIN], |[low, high], y| [low.min(y), high.max(y)]);
        (high - low, angle)
    };
    let (_, angle) = angles.map(narrow).min_by(|a, b| a.0.total_cmp(&b.0))?;
    let mut all = turned(angle);
    all.extend(all.first().copied());
    let [from, to] = span(&all, 0);
    let length = to - from;
    let edges = |share: f64| -> Option<[f64; 2]> {
        let x = from + share * length;
        let mut crossed: Vec<f64> = all
            .windows(2)
            .filter(|w| (w[0][0] > x) != (w[1][0] > x))
            .map(|w| w[0][1] + (w[1][1] - w[0][1]) * (x - w[0][0]) / (w[1][0] - w[0][0]))
            .collect();
        crossed.sort_by(f64::total_cmp);
        crossed.try_into().ok()
    };
    let places: Vec<f64> = (0..PLACES).map(|i| (i as f64 + 0.5) / PLACES as f64).collect();
    let edges = places.iter().map(|s| edges(*s)).collect::<Option<Vec<[f64; 2]>>>()?;
    // A board of the rack lies evenly to both sides of a straight line: where its outline is bowed, less of it is left.
    let middle = straight_middle(&places, &edges);
    let room = |(s, [low, high]): (&f64, &[f64; 2])| 2.0 * (high - middle(*s)).min(middle(*s) - low);
    let widths: Vec<f64> = places.iter().zip(&edges).map(room).collect();
    // The places stand half a step in from the ends and to both sides of the middle.
    let end = |w: [usize; 2]| 1.5 * widths[w[0]] - 0.5 * widths[w[1]];
    let half_way = 0.5 * (widths[PLACES / 2 - 1] + widths[PLACES / 2]);
    let ends = [end([0, 1]), half_way, end([PLACES - 1, PLACES - 2])];
    let line = |s: f64| {
        if s < 0.5 {
            ends[0] + 2.0 * s * (ends[1] - ends[0])
        } else {
            ends[1] + (2.0 * s - 1.0) * (ends[2] - ends[1])
        }
    };
    let short = places.iter().zip(&widths).map(|(s, w)| line(*s) - w).fold(0.0, f64::max);
    let whole: f64 = edges.iter().map(|[low, high]| high - low).sum();
    let kept = places.iter().map(|s| line(*s) - short).sum::<f64>() / whole;
    Some(Straight { length, widths: ends.map(|w| w - short), kept })
}

/// The straight line that passes nearest to the middles between edges: the farthest of them is as near to it as may be.
fn straight_middle(places: &[f64], edges: &[[f64; 2]]) -> impl Fn(f64) -> f64 + use<> {
    let middles: Vec<[f64; 2]> = places.iter().zip(edges).map(|(s, [low, high])| [*s, 0.5 * (low + high)]).collect();
    let spread = |slope: f64| {
        let over = middles.iter().map(|[s, y]| y - slope * s);
        over.fold([f64::MAX, f64::MIN], |[low, high], y| [low.min(y), high.max(y)])
    };
    // How far the middles spread has one valley over the slope, and no slope worth trying is steeper than from lowest to highest
    // within one step.
    let [low, high] = spread(0.0);
    let steepest = (high - low) * places.len() as f64;
    let (mut from, mut to) = (-steepest, steepest);
    for _ in 0..SLOPES {
        let (a, b) = (from + (to - from) / 3.0, to - (to - from) / 3.0);
        let [wide_a, wide_b] = [a, b].map(spread).map(|[low, high]| high - low);
        if wide_a < wide_b { to = b } else { from = a }
    }
    let slope = 0.5 * (from + to);
    let [low, high] = spread(slope);
    move |s| 0.5 * (low + high) + slope * s
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked() -> DrawingAsked {
        DrawingAsked { bare: None, scale: 1.0, zero: None, spacing: None, at: Vec::new() }
    }

    fn file(entities: &str) -> String {
        format!(
            "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
        )
    }

    fn outline(layer: &str, points: impl IntoIterator<Item = [f64; 2]>) -> String {
        let points: String = points.into_iter().map(|[x, y]| format!("10\n{x}\n20\n{y}\n")).collect();
        format!("0\nLWPOLYLINE\n8\n{layer}\n70\n1\n{points}")
    }

    /// Found by hand: a line without length made the program panic.
    #[test]
    fn a_rabbet_without_length_is_refused() {
        let line = |x: f64| format!("0\nLINE\n8\nstem\n10\n5\n20\n7\n11\n{x}\n21\n7\n");
        for (x, said) in [(5.0, "0 curves could be the stem's rabbet"), (5.1, "the stem's rabbet is 0.100 mm long")] {
            let why = rabbet(&file(&line(x)), Make::Dxf, Post::Stem, &asked()).unwrap_err().to_string();
            assert!(why.contains(said), "{why}");
        }
        // So little that its two points are one at full size.
        let small = DrawingAsked { scale: 1e-9, ..asked() };
        let why = rabbet(&file(&line(5.1)), Make::Dxf, Post::Stem, &small).unwrap_err().to_string();
        assert!(why.contains("0.000 mm long"), "{why}");
    }

    /// A board 200 wide all along, bowed by 60 between its ends in a parabola. A straight one within it is 140 wide where the bow
    /// is, by hand: from the lower edge's 60 in the middle to the upper edge's 200 at the ends.
    #[test]
    fn a_bowed_board_keeps_what_is_straight_in_it() {
        let at = |i: u32| f64::from(i) / 100.0;
        let bow = |t: f64| 60.0 * 4.0 * t * (1.0 - t);
        let lower = (0..=100).map(|i| [4000.0 * at(i), bow(at(i))]);
        let upper = (0..=100).rev().map(|i| [4000.0 * at(i), 200.0 + bow(at(i))]);
        let found = boards(&file(&outline("A1", lower.chain(upper))), Make::Dxf, "22 mm", &asked()).unwrap();
        let cells: Vec<f64> =
            found.text.lines().last().unwrap().split(',').skip(1).take(4).map(|c| c.parse().unwrap()).collect();
        assert!(cells[0] == 4000.0 && cells[1..].iter().all(|w| (138.0..=140.5).contains(w)), "{cells:?}");
        assert!(found.said.iter().any(|s| s.contains("70 % of its outline is kept")), "{:?}", found.said);
        // A plain one is kept whole, to the last millimetre.
        let plain = outline("A1", [[0.0, 0.0], [4000.0, 0.0], [4000.0, 200.0], [0.0, 200.0]]);
        let found = boards(&file(&plain), Make::Dxf, "22 mm", &asked()).unwrap();
        assert!(found.text.ends_with("\nA1,4000,200,200,200,22 mm\n"), "{}", found.text);
    }

    /// Whatever layers are called, every board has a line of its own that the rack reads.
    #[test]
    fn boards_have_names_that_the_rack_reads() {
        let one = |layer: &str| outline(layer, [[0.0, 0.0], [3000.0, 0.0], [3000.0, 200.0], [0.0, 200.0]]);
        let long = "x".repeat(41);
        let all: String =
            ["#1", "oak, wide", "oak, wide", "0", "board 6", "", &long].iter().map(|l| one(l)).collect();
        let found = boards(&file(&all), Make::Dxf, "7/8 in", &asked()).unwrap();
        let names: Vec<&str> = found.text.lines().skip(2).map(|l| l.split(",3000,").next().unwrap()).collect();
        assert_eq!(names, ["board 1", "\"oak, wide\"", "board 3", "board 4", "board 6", "board 7", "board 8"]);
    }
}
