//! Her outside as one closed face, as if she were decked at the sheer: what the water sees.

use super::boat::{ACROSS, Shows, around, corners, hood_line, middle, on_transom, outward, shown};
use super::over;
use crate::geom::{Point, Vector};
use crate::lines::Section;
use crate::planks::Strake;
use crate::spec::{EndSpec, Spec};

/// Her outside, closed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outside {
    /// Triangles of both sides, the corners of each against the clock as seen from outside; every edge is shared by two.
    pub faces: Vec<[Point; 3]>,
    /// The last so many of them are the deck that is not there.
    pub deck: usize,
    /// The outer edge of the sheer on one side, from the bow.
    pub sheer: Vec<Point>,
}

/// Planks with their steps, transoms, and stem, keel and sternpost as far outside the planks as boat.toml gives them: where it
/// does not she is closed straight across at the rabbet. Empty where there are no strakes.
#[must_use]
pub fn closed(strakes: &[Strake], sections: &[Section], spec: &Spec) -> Outside {
    let Some(shows) = shown(strakes, spec) else { return Outside::default() };
    let mut half = Half::default();
    let mut below: Option<&Shows> = None;
    for s in &shows {
        if let Some(below) = below {
            half.face(&below.high, &s.low);
        }
        half.face(&s.low, &s.high);
        below = Some(s);
    }
    let mut deck = Half::default();
    let mut hoods = [Vec::new(), Vec::new()];
    let mut heads = [None, None];
    for (i, (end, aft)) in [(&spec.fore, false), (&spec.aft, true)].into_iter().enumerate() {
        match end {
            EndSpec::Post(_) => {
                let rabbet = if aft { sections.last() } else { sections.first() };
                for (strake, s) in strakes.iter().zip(&shows) {
                    // From the straight end of the plank's face out to the rabbet.
                    let hood = hood_line(strake, s, rabbet.map_or(&[], |r| &r.points), aft);
                    let curve: Vec<Point> = hood.iter().map(|h| h.0).collect();
                    if let Some(low) = curve.first() {
                        half.fan(low, &curve, aft);
                    }
                    hoods[i].extend(hood);
                }
            }
            EndSpec::Transom(t) => {
                let [_, outer] = corners(&shows, aft);
                let rows: Vec<Vec<Point>> = (0..=ACROSS)
                    .map(|k| outer.iter().map(|p| on_transom(t, p, 1.0 - k as f64 / ACROSS as f64)).collect())
                    .collect();
                for w in rows.windows(2) {
                    half.end_face(&w[0], &w[1], aft);
                }
                let row = |at: usize| -> Vec<Point> { rows.iter().filter_map(|r| r.get(at).copied()).collect() };
                heads[i] = Some([row(0), row(outer.len().saturating_sub(1))]);
            }
        }
    }
    backbone(&mut half, &shows, &hoods, &heads, spec);
    lid(&mut deck, &shows, &heads);
    let deck = deck.mirrored();
    let count = deck.len();
    let mut all = half.mirrored();
    all.extend(deck);
    let sheer = shows.last().map_or_else(Vec::new, |s| s.high.clone());
    Outside { faces: all, deck: count, sheer }
}

/// Triangles of the side on which y is above 0.
#[derive(Default)]
struct Half(Vec<[Point; 3]>);

impl Half {
    /// A face between two edges that run aft, `lower` the one nearer the keel's middle going round outside her.
    fn face(&mut self, lower: &[Point], upper: &[Point]) {
        for (p, q) in lower.windows(2).zip(upper.windows(2)) {
            self.0.push([p[0], q[1], p[1]]);
            self.0.push([p[0], q[0], q[1]]);
        }
    }

    /// A face at an end, between two edges that run up, `outer` the one nearer the planks.
    fn end_face(&mut self, outer: &[Point], inner: &[Point], aft: bool) {
        if aft { self.face(inner, outer) } else { self.face(outer, inner) }
    }

    /// A flat face between a curve and its chord, by the chord's end.
    fn fan(&mut self, from: &Point, curve: &[Point], turn: bool) {
        for w in curve.windows(2) {
            self.0.push(if turn { [*from, w[1], w[0]] } else { [*from, w[0], w[1]] });
        }
    }

    /// With the other side, its triangles turned round; those with no area left out.
    fn mirrored(self) -> Vec<[Point; 3]> {
        let all = self.0.into_iter().filter(|[a, b, c]| a != b && b != c && c != a);
        all.flat_map(|t| [t, [over(&t[0]), over(&t[2]), over(&t[1])]]).collect()
    }
}

/// Stem, keel and sternpost outside the planks.
fn backbone(
    half: &mut Half,
    shows: &[Shows],
    hoods: &[Vec<(Point, Vector)>; 2],
    heads: &[Option<[Vec<Point>; 2]>; 2],
    spec: &Spec,
) {
    let given = |end: &EndSpec| match end {
        EndSpec::Post(post) => Some(post.wood_outside.unwrap_or(0.0)),
        EndSpec::Transom(_) => None,
    };
    let depths = [given(&spec.fore), given(&spec.aft)];
    let rabbet = around(shows, hoods, spec.keel.wood_outside.unwrap_or(0.0), depths);
    let line: Vec<Point> = rabbet.iter().map(|r| r.0).collect();
    let outer: Vec<Point> = rabbet.iter().zip(outward(&line)).map(|((p, _, deep), out)| p + out * *deep).collect();
    let under: Vec<Point> = outer.iter().map(middle).collect();
    half.face(&outer, &line);
    half.face(&under, &outer);
    for (head, i) in heads.iter().zip([0, line.len() - 1]) {
        let aft = i > 0;
        let inner = head.as_ref().and_then(|[foot, _]| foot.last()).copied().unwrap_or_else(|| middle(&line[i]));
        // Round the keel's end, from the planks to the middle.
        half.end_face(&[outer[i], line[i]], &[under[i], inner], aft);
        if let Some([foot, _]) = head {
            half.fan(&inner, foot, !aft);
        }
    }
}

/// The deck at the sheer.
fn lid(deck: &mut Half, shows: &[Shows], heads: &[Option<[Vec<Point>; 2]>; 2]) {
    let Some(top) = shows.last() else { return };
    let mut centre: Vec<Point> = top.high.iter().map(middle).collect();
    let last = centre.len() - 1;
    for (head, i) in heads.iter().zip([0, last]) {
        if let Some(row) = head.as_ref().map(|[_, row]| row) {
            centre[i] = row.last().copied().unwrap_or(centre[i]);
            deck.fan(&centre[i], row, i > 0);
        }
    }
    deck.face(&top.high, &centre);
}
