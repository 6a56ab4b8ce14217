//! How a section bends as the entries of its station move.
//!
//! Only what moves a point square to the skin counts: sliding along it changes nothing. Points that lie as good as on one another
//! are taken together as one, and tied to one another by a weight that grows as they near.

use super::LinesError;
use super::energy::{Group, Term, Tie};
use super::fairing::{Unknowns, View};
use super::sections::{Move, SectionPoint, chain};
use crate::geom::fair::{FairCurve, FairError, chord_knots};
use crate::geom::roughness;
use crate::offsets::Values;
use nalgebra::{DMatrix, DVector};

/// Least share of a change that counts square to the skin: an entry may move at most four times the tolerance.
const FLATTEST: f64 = 0.25;
/// Points of a section nearer than this share of its length are taken together, and those nearer than so many spreads of the
/// entries: what lies between two such says nothing of the way that the skin has there.
const ONE_PLACE: f64 = 0.004;
const NEAR: f64 = 6.0;
/// How far apart two such may stand square to the skin, mm, and besides as a share of the way between them.
const SAME: f64 = 0.1;
const TURN: f64 = 0.05;

/// The section at `station`, drawn through `values`, smooth in the derivative of `order`, points that entries of such a `spread` do
/// not tell apart as one, and what holds such points to one another; how square each of its entries' moves is to the skin goes
/// into `square`. `None` where it has too few points to bend.
pub(super) fn section(
    (order, spread): (usize, f64),
    view: &View<'_>,
    unknowns: &Unknowns,
    station: usize,
    base: &Values,
    values: &Values,
    square: &mut [f64],
) -> Result<(Option<Term>, Vec<Tie>), LinesError> {
    let why = |why: FairError| LinesError::Section { station: view.table.stations[station].name.clone(), why };
    let whole = chain(view.table, view.spec, view.ends, station, values);
    squareness(&whole, unknowns, station, square);
    let groups = together(whole, NEAR * spread);
    if groups.len() <= order {
        return Ok((None, Vec::new()));
    }
    let last = groups.len() - 1;
    let points: Vec<SectionPoint> = groups
        .iter()
        .enumerate()
        .map(|(i, group)| match i {
            0 => group[0].clone(),
            _ if i == last => group[group.len() - 1].clone(),
            _ => one(group),
        })
        .collect();
    let yz: Vec<[f64; 2]> = points.iter().map(|p| p.yz).collect();
    let curve = FairCurve::by_chords(&yz).map_err(why)?;
    let knots = chord_knots(&yz);
    let normals: Vec<[f64; 2]> = knots
        .iter()
        .map(|t| {
            let d = curve.d1(*t);
            let length = d[0].hypot(d[1]).max(f64::MIN_POSITIVE);
            [d[1] / length, -d[0] / length]
        })
        .collect();
    let column = Column { unknowns, station, base, values };
    let ties = groups.iter().zip(&normals).flat_map(|(group, n)| column.ties(group, n)).collect();
    let k = roughness::matrix(&knots, order).map_err(why)?;
    let own = column.own(&points);
    let axes = column.axes(&points, &normals, &own);
    let rank = 2 * (yz.len() - order);
    Ok((Some(Term::new(Group::Sections, own, &k, &axes, rank)), ties))
}

/// One station's entries as they stand, and as they stood before anything was moved.
struct Column<'a> {
    unknowns: &'a Unknowns,
    station: usize,
    base: &'a Values,
    values: &'a Values,
}

impl Column<'_> {
    /// What moves a point: the unknown, how far `yz` goes for a millimetre of it, and how far it has been moved, mm.
    fn moves(&self, p: &SectionPoint) -> impl Iterator<Item = (usize, [f64; 2], f64)> {
        p.moves.iter().filter_map(|m| {
            let of = |all: &Values| all[m.row][self.station];
            Some((self.unknowns.index[m.row][self.station]?, m.toward, of(self.values)? - of(self.base)?))
        })
    }

    /// What holds the points of one group to one another, along the normal `n`.
    fn ties(&self, group: &[SectionPoint], n: &[f64; 2]) -> Vec<Tie> {
        // How far out a point stands where nothing has changed, and what moves it.
        let out = |p: &SectionPoint| {
            let (mut fixed, mut of) = (n[0] * p.yz[0] + n[1] * p.yz[1], Vec::new());
            for (u, toward, moved) in self.moves(p) {
                let along = n[0] * toward[0] + n[1] * toward[1];
                fixed -= along * moved;
                of.push((u, along));
            }
            (fixed, of)
        };
        let tie = |w: &[SectionPoint]| {
            let ((a, of_a), (b, of_b)) = (out(&w[0]), out(&w[1]));
            let apart = (w[1].yz[0] - w[0].yz[0]).hypot(w[1].yz[1] - w[0].yz[1]);
            let of = of_a.into_iter().chain(of_b.into_iter().map(|(u, along)| (u, -along))).collect();
            Tie { of, weight: (SAME + TURN * apart).powi(-2), target: b - a }
        };
        group.windows(2).map(tie).collect()
    }

    /// The unknowns that move any of the points, each once.
    fn own(&self, points: &[SectionPoint]) -> Vec<usize> {
        let mut own: Vec<usize> = Vec::new();
        for m in points.iter().flat_map(|p| &p.moves) {
            own.extend(self.unknowns.index[m.row][self.station].filter(|u| !own.contains(u)));
        }
        own
    }

    /// For y and z: where the points stand where nothing has changed, and how the `own` unknowns move them square to the skin.
    fn axes(
        &self,
        points: &[SectionPoint],
        normals: &[[f64; 2]],
        own: &[usize],
    ) -> [(DVector<f64>, DMatrix<f64>); 2] {
        let mut axes = [0, 1].map(|axis: usize| {
            (
                DVector::from_iterator(points.len(), points.iter().map(|p| p.yz[axis])),
                DMatrix::zeros(points.len(), own.len()),
            )
        });
        for (i, (p, normal)) in points.iter().zip(normals).enumerate() {
            for (u, toward, moved) in self.moves(p) {
                let Some(column) = own.iter().position(|o| *o == u) else { continue };
                let along = normal[0] * toward[0] + normal[1] * toward[1];
                for (axis, normal) in axes.iter_mut().zip(normal) {
                    let toward = normal * along;
                    axis.0[i] -= toward * moved;
                    axis.1[(i, column)] += toward;
                }
            }
        }
        axes
    }
}

/// How much of each entry's move is square to the skin.
fn squareness(points: &[SectionPoint], unknowns: &Unknowns, station: usize, square: &mut [f64]) {
    let last = points.len().saturating_sub(1);
    for (i, p) in points.iter().enumerate() {
        let (before, after) = (points[i.saturating_sub(1)].yz, points[(i + 1).min(last)].yz);
        let (dy, dz) = (after[0] - before[0], after[1] - before[1]);
        let length = dy.hypot(dz).max(f64::MIN_POSITIVE);
        for m in &p.moves {
            // The sheer and the rabbet are edges: both their entries are held to the tolerance itself.
            let is_edge = i == 0 || i == last;
            let across = ((dz * m.toward[0] - dy * m.toward[1]) / length).abs();
            if let Some(u) = unknowns.index[m.row][station] {
                square[u] = if is_edge { 1.0 } else { across.max(FLATTEST) };
            }
        }
    }
}

/// The points of a section, those that lie as good as on one another, or nearer than `near`, in one group.
fn together(points: Vec<SectionPoint>, near: f64) -> Vec<Vec<SectionPoint>> {
    let yz: Vec<[f64; 2]> = points.iter().map(|p| p.yz).collect();
    let least =
        near.max(ONE_PLACE * yz.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum::<f64>());
    let touch = |a: &SectionPoint, b: &SectionPoint| (b.yz[0] - a.yz[0]).hypot(b.yz[1] - a.yz[1]) < least;
    let mut groups: Vec<Vec<SectionPoint>> = Vec::new();
    for p in points {
        match groups.last_mut() {
            Some(group) if group.last().is_some_and(|q| touch(q, &p)) => group.push(p),
            _ => groups.push(vec![p]),
        }
    }
    groups
}

/// One point in the middle of several, moved by each one's entries in its share.
fn one(points: &[SectionPoint]) -> SectionPoint {
    let share = 1.0 / points.len() as f64;
    let mut all = SectionPoint { yz: [0.0, 0.0], moves: Vec::new() };
    for p in points {
        all.yz = [all.yz[0] + share * p.yz[0], all.yz[1] + share * p.yz[1]];
        let less = |m: &Move| Move { row: m.row, toward: [share * m.toward[0], share * m.toward[1]] };
        all.moves.extend(p.moves.iter().map(less));
    }
    all
}
