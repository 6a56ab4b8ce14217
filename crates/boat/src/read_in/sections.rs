//! A table of offsets from a body plan: the sections as curves, half of each or whole.

use super::curve::{Curve, Label, Spot, apart, even, joined, length, off};
use super::placed::{DrawingAsked, Make, Placed, placed, plain};
use super::problem::{ReadInError, ReadInProblem as Problem};
use super::{TableIn, checked};
use crate::taken_off::{On, Part, Point, Section, Settings, take_off_under};
use crate::units::{Notation, read_length};
use std::collections::BTreeMap;

/// Points of a section that the fair curve goes through.
const POINTS: usize = 33;
/// Ends nearer than this are joined, mm at full size.
const GAP: f64 = 1.0;
/// A half may pass over the centreline by this, mm at full size, before it is a whole section.
const OVER: f64 = 2.0;
/// A text names the curve whose end is nearest, within this share of the drawing's size.
const NEAR: f64 = 0.1;
/// The transom stands so far aft of the last station for as long as nobody has said where, mm; nothing is reckoned from it.
const TRANSOM: f64 = 1000.0;

/// A station's name as a drawing gives it, and its distance where that stands beside it.
#[derive(Debug, Clone, PartialEq)]
struct Named {
    name: String,
    at: Option<f64>,
}

/// `station 3`, `Sta. 3 at 1200 mm`, `transom`; a text may be the name alone.
fn named(text: &str, alone: bool, lengths: Notation) -> Option<Named> {
    let name = plain(text);
    if name == "transom" || name == "bow transom" {
        return Some(Named { name, at: None });
    }
    let words = ["station ", "section ", "sta. ", "sta ", "st. ", "mould "];
    let after = words.iter().find_map(|w| Some((name.strip_prefix(w)?, w.len() - 1)));
    let (rest, from) = match after {
        Some(after) => after,
        None if alone && (1..=4).contains(&name.chars().count()) => (name.as_str(), 0),
        None => return None,
    };
    let (name, at) = match rest.split_once(" at ").or_else(|| rest.split_once(" x=")) {
        Some((name, at)) => (name, read_length(at, Some(lengths)).ok()),
        None => (rest, None),
    };
    // As it was typed after that word, where small letters did not change its length.
    let low = text.to_lowercase();
    let begins = low.get(from..).and_then(|after| after.find(name)).map(|i| from + i);
    let typed = begins.and_then(|i| text.get(i..i + name.len())).unwrap_or(name);
    Some(Named { name: typed.trim().to_owned(), at })
}

/// A table of offsets from the drawing `text`; `source` is what to call it.
///
/// # Errors
/// [`ReadInError`] with the line, the station and what to do.
pub fn sections(text: &str, make: Make, source: &str, asked: &DrawingAsked) -> Result<TableIn, ReadInError> {
    let Placed { curves, labels, lengths, mut said, mut look_at } = placed(text, make, asked)?;
    if curves.is_empty() {
        return Err(Problem::NoCurves("it has no curves that are read".to_owned()).nowhere());
    }
    let (stations, passed_over) = by_station(curves, &labels, lengths)?;
    look_at.extend(passed_over);
    let mut halves: Vec<(Named, Vec<Spot>, usize)> = Vec::new();
    let mut unlike: Option<(f64, String)> = None;
    for (named, curves) in stations {
        let line = curves.first().map_or(1, |c| c.line);
        let at = |e: ReadInError| ReadInError { line: Some(line), at: Some(format!("station {}", named.name)), ..e };
        let (half, differ) = half(curves).map_err(at)?;
        if let Some(d) = differ.filter(|d| unlike.as_ref().is_none_or(|u| u.0 < *d)) {
            unlike = Some((d, named.name.clone()));
        }
        halves.push((named, half, line));
    }
    if let Some((mm, name)) = unlike {
        said.push(format!(
            "both sides are drawn: the right-hand one is taken; the other is off it by {mm:.1} mm at most, station {name}"
        ));
    }
    let sections = at_distances(halves, asked, &mut said)?;
    let settings = Settings { lengths, thickness: 1.0, lap: 1.0, gains: [0.0; 2], tape: 0.0 };
    let heading =
        format!("Read in from {} by strakewise read-in, off its sections.", source.replace(['\n', '\r'], " "));
    let taken = take_off_under(&heading, &sections, &settings).map_err(|why| Problem::TakeOff(why).nowhere())?;
    for again in &taken.again {
        look_at.push(format!(
            "line {}, station {}: the curve passes {}, the others of its line {}: look whether it is fair there",
            again.line,
            again.station,
            out_and_up(again.taken, lengths),
            out_and_up(again.others, lengths)
        ));
    }
    checked(taken.table, lengths, said, look_at)
}

fn out_and_up(p: Spot, lengths: Notation) -> String {
    format!("{} out, {} up", lengths.said(p[0]), lengths.said(p[1]))
}

type ByStation = Vec<(Named, Vec<Curve>)>;

/// The curves of each station, from their own names or from texts at their ends.
fn by_station(
    curves: Vec<Curve>,
    labels: &[Label],
    lengths: Notation,
) -> Result<(ByStation, Vec<String>), ReadInError> {
    let mut found: ByStation = Vec::new();
    let mut put = |named: Named, curve: Curve| match found.iter_mut().find(|f| f.0.name == named.name) {
        Some((first, all)) => {
            first.at = first.at.or(named.at);
            all.push(curve);
        }
        None => found.push((named, vec![curve])),
    };
    let mut unnamed: BTreeMap<String, Vec<Curve>> = BTreeMap::new();
    for curve in curves {
        match curve.names.iter().find_map(|n| named(n, false, lengths)) {
            Some(named) => put(named, curve),
            None => unnamed.entry(curve.names.first().cloned().unwrap_or_default()).or_default().push(curve),
        }
    }
    let texts: Vec<(Named, Spot)> =
        labels.iter().filter_map(|l| Some((named(&l.text, true, lengths)?, l.at))).collect();
    let mut passed_over = Vec::new();
    let mut nameless = None;
    for (layer, curves) in unnamed {
        let lines: Vec<(usize, Spot)> = curves.iter().map(|c| (c.line, c.points[0])).collect();
        let size = curves.iter().flat_map(|c| &c.points).fold(0.0_f64, |m, p| m.max(p[0].abs()).max(p[1].abs()));
        let chains = joined(curves.into_iter().map(|c| c.points).collect(), GAP);
        let mut left = 0;
        for chain in chains {
            let ends = [chain[0], chain[chain.len() - 1]];
            let on = |p: &Spot| ends.iter().any(|e| apart(*e, *p) < 1e-6) || off(&chain, *p) < 1e-6;
            let line = lines.iter().find(|l| on(&l.1)).map_or(1, |l| l.0);
            let near = |p: Spot| ends.iter().map(|e| apart(*e, p)).fold(f64::MAX, f64::min);
            let text = texts.iter().min_by(|a, b| near(a.1).total_cmp(&near(b.1)));
            match text.filter(|t| near(t.1) < NEAR * size) {
                Some((named, _)) => {
                    put(named.clone(), Curve { names: vec![layer.clone()], line, points: chain, closed: false });
                }
                None => {
                    left += 1;
                    nameless = nameless.or(Some((line, layer.clone())));
                }
            }
        }
        if left > 0 {
            passed_over.push(format!(
                "{left} curves of {} have no station and are passed over",
                crate::words::quoted(&layer)
            ));
        }
    }
    if found.is_empty() {
        let (line, layer) = nameless.unwrap_or_default();
        return Err(Problem::NoStation.at(line.max(1), format!("layer or id {}", crate::words::quoted(&layer))));
    }
    Ok((found, passed_over))
}

/// The half of a section from the rabbet to the sheer, to the right of the centreline, and how far the other half is off it.
fn half(curves: Vec<Curve>) -> Result<(Vec<Spot>, Option<f64>), ReadInError> {
    let closed = curves.iter().any(|c| c.closed);
    let chains = joined(curves.into_iter().map(|c| c.points).collect(), GAP);
    let mut sides: Vec<Vec<Spot>> = Vec::new();
    for chain in &chains {
        let whole = chain.first().zip(chain.last()).is_some_and(|(a, b)| apart(*a, *b) < GAP);
        if closed || whole {
            let told = "its section is a closed line: leave the deck's line and the centreline out, from rabbet to sheer is wanted";
            return Err(Problem::Outline(told.to_owned()).nowhere());
        }
        sides.extend(split(chain));
    }
    let is_left = |side: &Vec<Spot>| side.iter().map(|p| p[0]).sum::<f64>() < 0.0;
    // The right one first, in whatever order they are drawn.
    sides.sort_by_key(is_left);
    for side in &mut sides {
        if is_left(side) {
            side.iter_mut().for_each(|p| p[0] = -p[0]);
        }
        if side[0][1] > side[side.len() - 1][1] {
            side.reverse();
        }
        side.iter_mut().for_each(|p| p[0] = p[0].max(0.0));
    }
    match &sides[..] {
        [one] => Ok((one.clone(), None)),
        [one, other] if chains.len() == 1 || opposite(&chains) => {
            let differ = even(other, POINTS).into_iter().map(|p| off(one, p)).fold(0.0, f64::max);
            Ok((one.clone(), Some(differ)))
        }
        _ => {
            let ends = |c: &Vec<Spot>| [c[0], c[c.len() - 1]];
            let mut gap = f64::MAX;
            for (i, a) in chains.iter().enumerate() {
                for b in &chains[i + 1..] {
                    for p in ends(a) {
                        gap = ends(b).iter().map(|q| apart(p, *q)).fold(gap, f64::min);
                    }
                }
            }
            Err(Problem::NotOne { found: chains.len(), gap, most: GAP }.nowhere())
        }
    }
}

/// Whether two chains lie on two sides.
fn opposite(chains: &[Vec<Spot>]) -> bool {
    let side = |c: &Vec<Spot>| c.iter().map(|p| p[0]).sum::<f64>() > 0.0;
    matches!(chains, [a, b] if side(a) != side(b))
}

/// A chain cut where it goes through the centreline from well out on one side to well out on the other.
fn split(chain: &[Spot]) -> Vec<Vec<Spot>> {
    let least = chain.iter().map(|p| p[0]).fold(f64::MAX, f64::min);
    let most = chain.iter().map(|p| p[0]).fold(f64::MIN, f64::max);
    if least > -OVER || most < OVER {
        return vec![chain.to_vec()];
    }
    // Where it crosses lowest: that is the keel. An end that only touches the centreline is no side of her.
    let far = |part: &[Spot]| part.iter().any(|p| p[0].abs() >= OVER);
    let crossings = (1..chain.len())
        .filter(|&i| (chain[i - 1][0] > 0.0) != (chain[i][0] > 0.0) && far(&chain[..i]) && far(&chain[i..]));
    let Some(i) = crossings.min_by(|&a, &b| chain[a][1].total_cmp(&chain[b][1])) else { return vec![chain.to_vec()] };
    let (a, b) = (chain[i - 1], chain[i]);
    let share = a[0] / (a[0] - b[0]);
    let foot = [0.0, a[1] + share * (b[1] - a[1])];
    let mut first = chain[..i].to_vec();
    first.push(foot);
    let mut second = vec![foot];
    second.extend(&chain[i..]);
    let mut sides = vec![first, second];
    for side in &mut sides {
        side.dedup_by(|a, b| apart(*a, *b) < 1e-9);
    }
    sides
}

/// The sections at their distances, as points to be taken off.
fn at_distances(
    mut halves: Vec<(Named, Vec<Spot>, usize)>,
    asked: &DrawingAsked,
    said: &mut Vec<String>,
) -> Result<Vec<Section>, ReadInError> {
    let is_end = |n: &Named| ["transom", "bow transom"].contains(&n.name.as_str());
    let number = |n: &Named| n.name.parse::<f64>().ok().filter(|v| v.is_finite());
    let stations = halves.iter().filter(|h| !is_end(&h.0)).count();
    let numbered = halves.iter().filter(|h| !is_end(&h.0)).all(|h| number(&h.0).is_some());
    if numbered {
        halves.sort_by(|a, b| number(&a.0).unwrap_or(f64::MAX).total_cmp(&number(&b.0).unwrap_or(f64::MAX)));
    }
    let same = |a: &str, b: &str| a.to_lowercase() == b.to_lowercase();
    if let Some((name, _)) = asked.at.iter().find(|a| !halves.iter().any(|h| !is_end(&h.0) && same(&h.0.name, &a.0)))
    {
        let known = halves.iter().filter(|h| !is_end(&h.0)).map(|h| h.0.name.as_str()).collect::<Vec<_>>().join(", ");
        return Err(Problem::NoSuchStation { found: name.clone(), known }.nowhere());
    }
    let by_option = |n: &Named| asked.at.iter().find(|a| same(&a.0, &n.name)).map(|a| a.1);
    let mut nth = 0;
    let mut found: Vec<(Named, Option<f64>, Vec<Spot>, usize)> = Vec::new();
    for (named, half, line) in halves {
        if is_end(&named) {
            found.push((named, None, half, line));
            continue;
        }
        let by_spacing = asked.spacing.map(|s| s * f64::from(nth));
        nth += 1;
        let at = by_option(&named).or(named.at).or(by_spacing);
        if at.is_none() {
            let example = "\"1=0,2=500 mm,3=1000 mm\"".to_owned();
            return Err(Problem::NoPositions { example }.at(line, format!("station {}", named.name)));
        }
        found.push((named, at, half, line));
    }
    found.sort_by(|a, b| a.1.unwrap_or(f64::MAX).total_cmp(&b.1.unwrap_or(f64::MAX)));
    let first = found.iter().find_map(|f| f.1).unwrap_or(0.0);
    let last = found.iter().filter_map(|f| f.1).fold(0.0, f64::max);
    let told: Vec<String> =
        found.iter().filter_map(|f| Some(format!("{} at {:.0} mm", f.0.name, f.1? - first))).collect();
    said.push(format!(
        "{stations} sections{}: {}",
        if numbered { ", numbered from forward" } else { ", from forward as they stand" },
        told.join(", ")
    ));
    let section = |(named, at, half, line): (Named, Option<f64>, Vec<Spot>, usize)| {
        let part = match named.name.as_str() {
            "transom" => Part::Transom,
            "bow transom" => Part::BowTransom,
            _ => Part::Station,
        };
        let at = match part {
            Part::BowTransom => -TRANSOM,
            _ => at.map_or(last - first + TRANSOM, |at| at - first),
        };
        section_of(named.name, part, at, &half, line)
    };
    Ok(found.into_iter().map(section).collect())
}

/// A section's points from the rabbet to the sheer.
pub fn section_of(name: String, part: Part, at: f64, half: &[Spot], line: usize) -> Section {
    let spots = if length(half) > 0.0 { even(half, POINTS) } else { half.to_vec() };
    let last = spots.len().saturating_sub(1);
    let mark = |i: usize| match i {
        0 => "rabbet".to_owned(),
        i if i == last => "sheer".to_owned(),
        i => i.to_string(),
    };
    let points =
        spots.into_iter().enumerate().map(|(i, place)| Point { line, mark: mark(i), on: On::Surface, at, place });
    Section { name, part, points: points.collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(at: &[(&str, f64)]) -> DrawingAsked {
        let at: Vec<(String, f64)> = at.iter().map(|(name, mm)| ((*name).to_owned(), *mm)).collect();
        let spacing = at.is_empty().then_some(500.0);
        DrawingAsked { bare: Some(crate::read_in::Bare::Mm), scale: 1.0, zero: None, spacing, at }
    }

    fn polyline(layer: &str, points: impl IntoIterator<Item = [f64; 2]>) -> String {
        let vertex = |[x, y]: [f64; 2]| format!("0\nVERTEX\n8\n{layer}\n10\n{x}\n20\n{y}\n");
        let points: String = points.into_iter().map(vertex).collect();
        format!("0\nPOLYLINE\n8\n{layer}\n66\n1\n70\n0\n{points}0\nSEQEND\n")
    }

    /// A section of a closed form, 415 out and 500 up at its sheer, on one side and so much wider.
    fn half(layer: &str, side: f64, wider: f64) -> String {
        let at = |i: u32| f64::from(i) / 16.0;
        polyline(
            layer,
            (0..=16).map(|i| [side * (15.0 + (400.0 + wider) * at(i).sqrt()), 100.0 + 400.0 * at(i).powi(2)]),
        )
    }

    fn dxf(entities: &str) -> String {
        format!("0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")
    }

    fn found(entities: &str, at: &[(&str, f64)]) -> Result<TableIn, String> {
        sections(&dxf(entities), Make::Dxf, "plan.dxf", &asked(at)).map_err(|why| why.to_string())
    }

    /// Both sides drawn, the left one 6 mm wider: the right one is taken, in whatever order they stand in the file.
    #[test]
    fn the_right_hand_half_is_taken_whichever_is_drawn_first() {
        let both = |i: u32| [half(&format!("station {i}"), 1.0, 0.0), half(&format!("station {i}"), -1.0, 6.0)];
        let right_first: String = (0..4).flat_map(both).collect();
        let left_first: String = (0..4).map(both).flat_map(|[right, left]| [left, right]).collect();
        let [a, b] = [right_first, left_first].map(|drawn| found(&drawn, &[]).unwrap());
        assert_eq!(a.table, b.table);
        assert!(a.table.contains("\nhalf-breadth sheer,415,415,415,415\n"), "{}", a.table);
        assert!(b.said.iter().any(|s| s.contains("the right-hand one is taken; the other is off it by 6.0 mm")));
    }

    /// A polyline whose end is lost ends where another entity begins, and swallows none of it.
    #[test]
    fn a_polyline_without_its_end_swallows_nothing() {
        let whole: String = (0..4).map(|i| half(&format!("station {i}"), 1.0, 0.0)).collect();
        let lost = whole.replace("0\nSEQEND\n", "");
        assert_eq!(found(&whole, &[]).unwrap(), {
            let mut lost = found(&lost, &[]).unwrap();
            lost.look_at.clear();
            lost
        });
    }

    #[test]
    fn distances_go_by_the_stations_names_and_no_name_is_passed_over() {
        let drawn: String =
            ["A", "T", "x", "3b"].iter().map(|name| half(&format!("Station_{name}"), 1.0, 0.0)).collect();
        let at = [("a", 0.0), ("t", 400.0), ("X", 900.0), ("3B", 1500.0)];
        let table = found(&drawn, &at).unwrap().table;
        assert!(table.contains("\nrow,A,T,x,3b\n"), "{table}");
        let why = found(&drawn, &[&at[..], &[("4", 2000.0)]].concat()).unwrap_err();
        assert!(why.contains("--at gives a distance of station “4”, and the stations are A, T, x, 3b"), "{why}");
    }

    /// Found by hand: a section that begins on the centreline and comes back over it was cut off to its first point, and the
    /// program panicked.
    #[test]
    fn a_section_that_comes_back_over_the_centreline_is_read_or_refused() {
        for start in [-1e-10, 0.0, 1e-10] {
            let odd = polyline("station 0", [[start, 0.0], [500.0, 500.0], [-500.0, 500.0], [-5.0, 20.0]]);
            let rest: String = (1..4).map(|i| half(&format!("station {i}"), 1.0, 0.0)).collect();
            if let Err(why) = found(&(odd + &rest), &[]) {
                assert!(why.len() < 1000, "{why}");
            }
        }
    }

    #[test]
    fn two_base_lines_are_told_apart() {
        let line = |y: f64| format!("0\nLINE\n8\nbase line\n10\n-900\n20\n{y}\n11\n900\n21\n{y}\n");
        let plumb = "0\nLINE\n8\ncentreline\n10\n0\n20\n0\n11\n0\n21\n900\n";
        let drawn: String = (0..4).map(|i| half(&format!("station {i}"), 1.0, 0.0)).collect();
        assert!(found(&[&line(0.0), &line(0.4), plumb, &drawn].concat(), &[]).is_ok());
        let why = found(&[&line(0.0), &line(-1200.0), plumb, &drawn].concat(), &[]).unwrap_err();
        assert!(why.contains("base line is drawn twice, 1200.0 mm apart at full size"), "{why}");
    }
}
