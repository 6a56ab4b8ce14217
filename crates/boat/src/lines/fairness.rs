//! Fairness that can be seen: how each line of the table bends, where it turns back, and how far its entries were moved.
//!
//! A line is drawn as the fair curve (`geom::fair`, knots at the chords) through its points in the plane of its view, to
//! the face that the plan was drawn to. Its curvature is κ = (u'v″ − v'u″)/(u'² + v'²)^(3/2), + where it turns to the left of
//! one who walks aft, or up a section.
//!
//! An *inflection* is counted where κ goes from beyond its noise on one side to beyond it on the other, so that a straight
//! stretch between two bends counts once and a tremble of the rounding not at all. Entries that are only rounded have
//! errors of the table's unit over √12; carried through the curve these give κ a spread of σ √Σ bᵢ″², bᵢ being the curve
//! through 1 at point i and 0 at the others. The noise is [`SPREADS`] such spreads, and no less than [`SHARE`] of the
//! line's own greatest κ.
//!
//! Which way errors fall: a true hollow too shallow for its rounded offsets to show is not counted. Near its ends a fair
//! curve keeps the bend that its last three or four points give it, so the outermost half span says least.

use super::fairing::rounding;
use super::line::{LinePoint, line};
use super::profile::Ends;
use super::sections::{chain, merged, up_slope};
use super::{FairCell, FairRow};
use crate::geom::fair::{FairCurve, chord_knots};
use crate::offsets::{RowKind, StationAt, Table};
use crate::spec::Spec;
use crate::units::Notation;

/// How many spreads of rounding κ must pass to count.
pub const SPREADS: f64 = 3.0;
/// The share of a line's greatest κ that it must pass too.
pub const SHARE: f64 = 0.02;
/// Teeth of a comb between two points of the line.
const TEETH: usize = 16;
/// A place nearer to a station than this share of the way to the next is at it.
const AT: f64 = 0.1;

/// A view of the lines plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// Heights over x: sheer, rabbet, buttocks.
    Profile,
    /// Half-breadths over x: sheer, rabbet, waterlines.
    HalfBreadth,
    /// Distances along a diagonal over x.
    Diagonals,
    /// The sections; all entries.
    Body,
}

impl View {
    /// All, in the order of a plan.
    pub const ALL: [View; 4] = [View::Profile, View::HalfBreadth, View::Diagonals, View::Body];

    /// Its name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            View::Profile => "profile",
            View::HalfBreadth => "half-breadth",
            View::Diagonals => "diagonals",
            View::Body => "body",
        }
    }

    /// The view that a row's line is drawn in.
    #[must_use]
    pub fn of(kind: &RowKind) -> Self {
        match kind {
            RowKind::HeightSheer | RowKind::HeightRabbet | RowKind::HeightButtock(_) => View::Profile,
            RowKind::HalfBreadthSheer | RowKind::HalfBreadthRabbet | RowKind::HalfBreadthWaterline(_) => {
                View::HalfBreadth
            }
            RowKind::Diagonal(_) => View::Diagonals,
        }
    }
}

/// Where on a line something is.
#[derive(Debug, Clone, PartialEq)]
pub enum Place {
    /// At a station, or where the line ends on stem or sternpost.
    At(String),
    /// Between two of them.
    Between(String, String),
    /// On a section: height above base, mm.
    Height(f64),
}

impl Place {
    /// In words: `at 3`, `between 3 and 4`, `at 1-3-4 high`.
    #[must_use]
    pub fn words(&self, lengths: Notation) -> String {
        match self {
            Place::At(name) => format!("at {name}"),
            Place::Between(from, to) => format!("between {from} and {to}"),
            Place::Height(z) => format!("at {} high", lengths.long(*z)),
        }
    }

    /// In few words, for a table: `at 3`, `3 to 4`, `1-3-4 high`.
    #[must_use]
    pub fn brief(&self, lengths: Notation) -> String {
        match self {
            Place::At(name) => format!("at {name}"),
            Place::Between(from, to) => format!("{from} to {to}"),
            Place::Height(z) => format!("{} high", lengths.long(*z)),
        }
    }
}

/// One tooth of a curvature comb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tooth {
    /// Where it stands, in its view: x and z, x and y, x and the distance along the diagonal, or y and z; mm.
    pub at: [f64; 2],
    /// κ, 1/mm.
    pub curvature: f64,
}

/// A place of a line with what it has there.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// In its view, mm.
    pub at: [f64; 2],
    /// In words.
    pub place: Place,
}

/// The hardest bend of a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardest {
    /// Where.
    pub spot: Spot,
    /// Radius, mm.
    pub radius: f64,
}

/// A line of the table, seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Comb {
    /// The row's name, `station 3` or `transom`.
    pub line: String,
    /// The view it is drawn in.
    pub view: View,
    /// After fairing, from the bow or from the rabbet up.
    pub teeth: Vec<Tooth>,
    /// Inflections before fairing.
    pub before: Vec<Spot>,
    /// Inflections after fairing.
    pub after: Vec<Spot>,
    /// The hardest bend after fairing; `None` for a line that is straight as far as its rounding tells.
    pub hardest: Option<Hardest>,
    /// How far its entries were moved.
    pub moved: Moved,
}

/// How far some entries were moved; doubtful ones are counted and left out of the rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// Entries that were not doubtful.
    pub entries: usize,
    /// Doubtful ones.
    pub doubtful: usize,
    /// Root mean square of the corrections, mm.
    pub rms: f64,
    /// The largest correction.
    pub largest: Option<Correction>,
}

/// One entry's correction.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// Its row.
    pub row: String,
    /// Its station.
    pub station: String,
    /// Fair less given, mm, in the row's own measure.
    pub change: f64,
}

/// The whole table, seen.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fairness {
    /// Rows in the order of the table, then sections from the bow. A line through fewer than three points has none.
    pub combs: Vec<Comb>,
    /// Corrections view by view; views that have no entries are left out.
    pub moved: Vec<(View, Moved)>,
}

impl Fairness {
    /// Inflections of all lines, before and after fairing.
    #[must_use]
    pub fn inflections(&self) -> [usize; 2] {
        let count = |of: fn(&Comb) -> usize| self.combs.iter().map(of).sum();
        [count(|c| c.before.len()), count(|c| c.after.len())]
    }
}

/// How every line of `table` runs, as given and through the `fair` entries. `stations` have sections.
#[must_use]
pub fn fairness(table: &Table, spec: &Spec, ends: &Ends, stations: &[usize], fair: &[FairRow]) -> Fairness {
    let given = table.values();
    let values = super::values(fair);
    let rounded = rounding(spec.lengths);
    let mut combs = Vec::new();
    for (r, row) in table.rows.iter().enumerate() {
        let [before, after] = [&given, &values].map(|v| line(table, spec, ends, r, v).points);
        let names: Vec<String> = after.iter().enumerate().map(|(i, p)| name(table, spec, i, p)).collect();
        let drawn = [before, after].map(|p| p.iter().map(|p| [p.x, p.value]).collect::<Vec<_>>());
        let moved = moved(table, fair, |at, _| at == r);
        combs.extend(comb(row.name.clone(), View::of(&row.kind), &drawn, rounded, &|at| between(&names, at), moved));
    }
    let is_transom = |c: usize| !matches!(table.stations[c].at, StationAt::Square(_));
    // From the bow, as the table has them.
    for station in (0..table.stations.len()).filter(|c| stations.contains(c) || is_transom(*c)) {
        let slope = up_slope(table, ends, station);
        let drawn =
            [&given, &values].map(|v| merged(chain(table, spec, ends, station, v), super::sections::near(spec)));
        let station_name = &table.stations[station].name;
        let title = if is_transom(station) { station_name.clone() } else { format!("station {station_name}") };
        let height = |at: At| Place::Height(at.point[1] / slope);
        let of_section = moved(table, fair, |_, at| at == station);
        if let Some(mut comb) = comb(title, View::Body, &drawn, rounded, &height, of_section) {
            // A raked transom bends in its own face and is drawn where it is seen from astern.
            let spots =
                comb.before.iter_mut().chain(&mut comb.after).chain(comb.hardest.iter_mut().map(|h| &mut h.spot));
            spots.map(|s| &mut s.at).chain(comb.teeth.iter_mut().map(|t| &mut t.at)).for_each(|at| at[1] /= slope);
            combs.push(comb);
        }
    }
    let views = View::ALL
        .into_iter()
        .map(|view| (view, moved(table, fair, |r, _| view == View::Body || View::of(&table.rows[r].kind) == view)));
    Fairness { combs, moved: views.filter(|(_, m)| m.entries + m.doubtful > 0).collect() }
}

/// Name of point `i` of a long line: its station, or the post that it ends on.
fn name(table: &Table, spec: &Spec, i: usize, point: &LinePoint) -> String {
    match point.column {
        Some(c) => table.stations[c].name.clone(),
        None if i == 0 => spec.fore.word(false).to_owned(),
        None => spec.aft.word(true).to_owned(),
    }
}

/// The corrections of the entries in the rows and stations that `of` picks.
fn moved(table: &Table, fair: &[FairRow], of: impl Fn(usize, usize) -> bool) -> Moved {
    let all =
        fair.iter().enumerate().flat_map(|(r, row)| row.cells.iter().enumerate().map(move |(c, f)| ((r, c), f)));
    let picked: Vec<((usize, usize), &FairCell)> =
        all.filter(|((r, c), _)| of(*r, *c)).filter_map(|(at, f)| Some((at, f.as_ref()?))).collect();
    let sure: Vec<_> = picked.iter().filter(|(_, f)| !f.suspect).collect();
    let squares: f64 = sure.iter().map(|(_, f)| f.change * f.change).sum();
    let largest = sure.iter().max_by(|a, b| a.1.change.abs().total_cmp(&b.1.change.abs()));
    Moved {
        entries: sure.len(),
        doubtful: picked.len() - sure.len(),
        rms: (squares / sure.len().max(1) as f64).sqrt(),
        largest: largest.map(|((r, c), f)| Correction {
            row: table.rows[*r].name.clone(),
            station: table.stations[*c].name.clone(),
            change: f.change,
        }),
    }
}

/// A place on a curve through points.
struct At {
    /// The point before it.
    span: usize,
    /// Share of the way to the next.
    share: f64,
    point: [f64; 2],
}

fn between(names: &[String], at: At) -> Place {
    let name = |i: usize| names.get(i).cloned().unwrap_or_default();
    if at.share < AT {
        Place::At(name(at.span))
    } else if at.share > 1.0 - AT {
        Place::At(name(at.span + 1))
    } else {
        Place::Between(name(at.span), name(at.span + 1))
    }
}

fn comb(
    line: String,
    view: View,
    [before, after]: &[Vec<[f64; 2]>; 2],
    rounded: f64,
    place: &dyn Fn(At) -> Place,
    moved: Moved,
) -> Option<Comb> {
    let (before, after) = (Bends::of(before, rounded)?, Bends::of(after, rounded)?);
    let spots =
        |bends: &Bends| -> Vec<Spot> { bends.inflections().into_iter().map(|i| bends.spot(i, place)).collect() };
    let hardest = after
        .hardest()
        .map(|i| Hardest { spot: after.spot(i as f64, place), radius: 1.0 / after.teeth[i].curvature.abs() });
    Some(Comb { line, view, before: spots(&before), after: spots(&after), hardest, teeth: after.teeth, moved })
}

/// How the fair curve through some points bends.
struct Bends {
    /// [`TEETH`] to a span, and one at the end.
    teeth: Vec<Tooth>,
    /// What κ must pass to count, at each, 1/mm.
    noise: Vec<f64>,
}

impl Bends {
    /// Of the curve through `points`, which rounding has given a spread of `rounded` mm; `None` for fewer than three, or where two
    /// touch.
    fn of(points: &[[f64; 2]], rounded: f64) -> Option<Self> {
        if points.len() < 3 {
            return None;
        }
        let knots = chord_knots(points);
        let curve = FairCurve::through(&knots, points).ok()?;
        let one = |i: usize| {
            let values: Vec<[f64; 1]> = (0..points.len()).map(|j| [if i == j { 1.0 } else { 0.0 }]).collect();
            FairCurve::through(&knots, &values).ok()
        };
        let each = (0..points.len()).map(one).collect::<Option<Vec<_>>>()?;
        let last = points.len() - 1;
        let places = (0..=last * TEETH).map(|i| {
            let (span, share) = ((i / TEETH).min(last - 1), i as f64 / TEETH as f64);
            knots[span] + (knots[span + 1] - knots[span]) * (share - span as f64)
        });
        let (mut teeth, mut noise) = (Vec::new(), Vec::new());
        for t in places {
            let (d1, d2) = (curve.d1(t), curve.d2(t));
            let speed = d1[0].hypot(d1[1]).max(f64::MIN_POSITIVE);
            teeth.push(Tooth { at: curve.at(t), curvature: (d1[0] * d2[1] - d1[1] * d2[0]) / speed.powi(3) });
            let spread = rounded * each.iter().map(|b| b.d2(t)[0].powi(2)).sum::<f64>().sqrt();
            noise.push(SPREADS * spread / (speed * speed));
        }
        let greatest = teeth.iter().map(|t| t.curvature.abs()).fold(0.0, f64::max);
        noise.iter_mut().for_each(|n| *n = n.max(SHARE * greatest));
        Some(Bends { teeth, noise })
    }

    /// Where κ passes nought on its way from one side's noise to the other's, counted in teeth.
    fn inflections(&self) -> Vec<f64> {
        let mut found = Vec::new();
        let mut last: Option<usize> = None;
        for (i, (tooth, noise)) in self.teeth.iter().zip(&self.noise).enumerate() {
            if tooth.curvature.abs() <= *noise {
                continue;
            }
            if let Some(from) = last.filter(|&l| self.teeth[l].curvature * tooth.curvature < 0.0) {
                let crossings: Vec<f64> = (from..i).filter_map(|j| self.nought(j)).collect();
                found.extend(crossings.get(crossings.len() / 2));
            }
            last = Some(i);
        }
        found
    }

    /// Where κ is nought between teeth `j` and `j + 1`.
    fn nought(&self, j: usize) -> Option<f64> {
        let (a, b) = (self.teeth[j].curvature, self.teeth[j + 1].curvature);
        ((a < 0.0) != (b < 0.0)).then(|| j as f64 + a / (a - b))
    }

    /// The tooth of the greatest κ, if that passes its noise.
    fn hardest(&self) -> Option<usize> {
        let k = |i: &usize| self.teeth[*i].curvature.abs();
        (0..self.teeth.len()).filter(|i| k(i) > self.noise[*i]).max_by(|a, b| k(a).total_cmp(&k(b)))
    }

    fn spot(&self, at: f64, place: &dyn Fn(At) -> Place) -> Spot {
        let j = (at as usize).min(self.teeth.len() - 2);
        let (a, b, share) = (self.teeth[j].at, self.teeth[j + 1].at, at - j as f64);
        let point = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
        let span = j / TEETH;
        Spot { at: point, place: place(At { span, share: at / TEETH as f64 - span as f64, point }) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Sines of n half waves: κ has the sign of −sin, so the line turns back n − 1 times, at every L/n. Closed form.
    #[test]
    fn a_line_of_n_half_waves_turns_back_once_less() {
        for n in 1..=6_u32 {
            let length = 4000.0;
            let wave = f64::from(n) * PI / length;
            let points: Vec<[f64; 2]> = (0..=8 * n)
                .map(|i| length * f64::from(i) / f64::from(8 * n))
                .map(|x| [x, 80.0 * (wave * x).sin()])
                .collect();
            let bends = Bends::of(&points, rounding(Notation::Mm)).unwrap();
            let found = bends.inflections();
            assert_eq!(found.len(), n as usize - 1, "{n} half waves: {found:?}");
            for (k, at) in found.into_iter().enumerate() {
                let x = bends.spot(at, &|_| Place::Height(0.0)).at[0];
                let true_x = length * (k + 1) as f64 / f64::from(n);
                assert!((x - true_x).abs() < 2e-3 * length / f64::from(n), "{x} against {true_x}");
            }
            // The crest's radius is 1/(A wave²).
            let least = 1.0 / bends.teeth[bends.hardest().unwrap()].curvature.abs();
            let crest = 1.0 / (80.0 * wave * wave);
            assert!((least / crest - 1.0).abs() < 0.03, "{n} half waves: {least} against {crest}");
        }
    }

    /// A circle's κ is 1/R all along: to 2 in a thousand but for the three outermost spans, to 2 in a hundred in these, with a
    /// point every ten degrees; and it has no inflection, whichever way it turns.
    #[test]
    fn a_circle_bends_alike_everywhere() {
        for hand in [1.0, -1.0] {
            let points: Vec<[f64; 2]> = (0..=12)
                .map(|i| f64::from(i) * PI / 18.0)
                .map(|a| [600.0 * a.cos(), hand * 600.0 * a.sin()])
                .collect();
            let bends = Bends::of(&points, rounding(Notation::Mm)).unwrap();
            assert!(bends.inflections().is_empty());
            let last = bends.teeth.len() - 1;
            for (i, tooth) in bends.teeth.iter().enumerate() {
                let within = if (3 * TEETH..=last - 3 * TEETH).contains(&i) { 0.002 } else { 0.02 };
                assert!(
                    (tooth.curvature * hand * 600.0 - 1.0).abs() < within,
                    "tooth {i}: {}",
                    tooth.curvature * 600.0
                );
            }
        }
    }

    /// Straight lines of many slopes, rounded to the table's unit: none turns back, none has a hardest bend.
    #[test]
    fn a_straight_line_has_none_however_it_is_rounded() {
        for slope in 0..200 {
            let y = |x: f64| 300.0 + x * (f64::from(slope) / 531.0);
            let points: Vec<[f64; 2]> = (0..10).map(|i| f64::from(i) * 457.2).map(|x| [x, y(x).round()]).collect();
            let bends = Bends::of(&points, rounding(Notation::Mm)).unwrap();
            assert_eq!((bends.inflections().len(), bends.hardest()), (0, None), "slope {slope}");
        }
        // But a slip of 3 mm at the fifth shows: the line turns back on both sides of it.
        let slip = |i: usize| [i as f64 * 457.2, if i == 5 { 303.0 } else { 300.0 }];
        let found = Bends::of(&(0..10).map(slip).collect::<Vec<_>>(), rounding(Notation::Mm)).unwrap().inflections();
        for span in [4, 5] {
            assert!(found.iter().any(|at| *at as usize / TEETH == span), "{found:?}");
        }
    }

    #[test]
    fn places_are_named_by_the_stations_about_them() {
        let names = ["stem", "1", "2"].map(str::to_owned);
        let at = |span, share| between(&names, At { span, share, point: [0.0, 0.0] }).words(Notation::Mm);
        assert_eq!([at(0, 0.5), at(0, 0.95), at(1, 0.02)], ["between stem and 1", "at 1", "at 1"]);
        assert_eq!(Place::Height(395.2875).words(Notation::FeetInchesEighths), "at 1-3-4+ high");
    }
}
