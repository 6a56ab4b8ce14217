//! Points that do not fit the others, set aside and named.
//!
//! A point is judged twice: against the fair curve through the others of its station, square to it, and against the fair line
//! through the points of its mark at the other stations.

use super::order::{LEAST_POINTS, Ordered};
use super::{Again, Part, Settings};
use crate::geom::fair::FairCurve;
use crate::repair::fair::Row;
use std::collections::BTreeMap;

/// Along the girth a point is named where it lies off by so many times the tape...
const FAR: f64 = 8.0;
/// ...and so many times further than any other is when it is left out.
const CLEAR: f64 = 3.0;
/// A tape is never better than this, mm, when a point is judged.
const BEST_TAPE: f64 = 1.0;
/// The first and last so many of a station are not judged along the girth.
const FROM_END: usize = 2;
/// Fewer points than this do not show which is wrong.
const LEAST_TO_JUDGE: usize = 7;
/// No more than so many are set aside: beyond that the points are in disorder.
const MOST_AGAIN: usize = 12;

/// A point that stands out.
struct Out {
    section: usize,
    point: usize,
    others: [f64; 2],
    /// How many times the tape it is off.
    off: f64,
}

/// Takes the points out of `sections` that do not fit, the worst first.
pub fn set_aside(sections: &mut [Ordered], settings: &Settings) -> Vec<Again> {
    let tape = settings.tape.max(BEST_TAPE);
    let mut again = Vec::new();
    while again.len() < MOST_AGAIN {
        let along = sections.iter().enumerate().filter_map(|(s, o)| along_girth(s, o, tape));
        let mut all: Vec<Out> = along.chain(along_boat(sections, tape)).collect();
        all.sort_by(|a, b| b.off.total_cmp(&a.off));
        // Rabbet and sheer are named and kept, for without them there is no section.
        let Some(out) = all.into_iter().find(|o| {
            let p = &sections[o.section].points[o.point];
            !again.iter().any(|a: &Again| a.line == p.line)
        }) else {
            break;
        };
        let section = &mut sections[out.section];
        let p = section.points[out.point].clone();
        let inner = out.point > 0 && out.point + 1 < section.points.len();
        if inner && section.points.len() > LEAST_POINTS {
            section.points.remove(out.point);
        }
        again.push(Again {
            line: p.line,
            station: section.name.clone(),
            mark: p.mark,
            taken: p.place,
            others: out.others,
        });
    }
    again.sort_by_key(|a| a.line);
    again
}

/// How far each point lies off the curve through the others, and where that passes nearest.
fn off(places: &[[f64; 2]]) -> Vec<Option<(f64, [f64; 2])>> {
    let one = |i: usize| {
        let rest: Vec<[f64; 2]> = places.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, p)| *p).collect();
        let curve = FairCurve::by_chords(&rest).ok()?;
        let (low, high) = (curve.knots().get(i.checked_sub(1)?)?, curve.knots().get(i)?);
        let near = (0..=STEPS).map(|s| curve.at(low + (high - low) * s as f64 / STEPS as f64));
        let apart = |p: [f64; 2]| (p[0] - places[i][0]).hypot(p[1] - places[i][1]);
        near.map(|p| (apart(p), p)).min_by(|a, b| a.0.total_cmp(&b.0))
    };
    (0..places.len()).map(one).collect()
}

/// Places looked at between two neighbours.
const STEPS: usize = 40;

fn along_girth(section: usize, ordered: &Ordered, tape: f64) -> Option<Out> {
    let places: Vec<[f64; 2]> = ordered.points.iter().map(|p| p.place).collect();
    let n = places.len();
    if n < LEAST_TO_JUDGE {
        return None;
    }
    let all = off(&places);
    let without = |i: usize| -> f64 {
        let rest: Vec<[f64; 2]> = places.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, p)| *p).collect();
        let left = off(&rest);
        let judged = left.get(FROM_END..left.len() - FROM_END).unwrap_or_default();
        judged.iter().flatten().map(|o| o.0).fold(0.0, f64::max)
    };
    let candidates = (FROM_END..n - FROM_END).filter_map(|i| all[i].filter(|o| o.0 > FAR * tape).map(|o| (i, o)));
    let (point, (far, others), left) =
        candidates.map(|(i, o)| (i, o, without(i))).min_by(|a, b| a.2.total_cmp(&b.2))?;
    (far > CLEAR * left).then_some(Out { section, point, others, off: far / tape })
}

fn along_boat(sections: &[Ordered], tape: f64) -> Vec<Out> {
    let mut lines: BTreeMap<&str, Vec<(usize, usize)>> = BTreeMap::new();
    for (s, section) in sections.iter().enumerate().filter(|(_, s)| s.part == Part::Station) {
        for (p, point) in section.points.iter().enumerate() {
            lines.entry(&point.mark).or_default().push((s, p));
        }
    }
    let one = |line: &Vec<(usize, usize)>| {
        let knots: Vec<f64> = line.iter().map(|(s, _)| sections[*s].at).collect();
        let row = Row::new(&knots).ok()?;
        let found = [0, 1].map(|d| {
            let values: Vec<f64> = line.iter().map(|(s, p)| sections[*s].points[*p].place[d]).collect();
            row.out(&values, tape).map(|o| (o, d, (values[o.index] - o.others).abs()))
        });
        let (out, d, far) = found.into_iter().flatten().max_by(|a, b| a.2.total_cmp(&b.2))?;
        let (section, point) = line[out.index];
        let mut others = sections[section].points[point].place;
        others[d] = out.others;
        Some(Out { section, point, others, off: far / tape })
    };
    lines.values().filter_map(one).collect()
}
