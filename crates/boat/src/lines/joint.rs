//! Each entry weighed against all the rest of the table at once.
//!
//! The model is the one that fairs (`energy`): sizes of lines and sections and the spread of the entries, learnt. With H
//! its precision, Σ = H⁻¹ and δ the likeliest change, the entry left out lies δᵢ/(1 − Σᵢᵢ/σ²) off what all the others say,
//! neighbours corrected by their own sections; spread σ/√(1 − Σᵢᵢ/σ²). A wrong entry makes its own line and section seem
//! rough, and so excuses itself. So the entries furthest off are freed of their own spread, one at a time, the sizes
//! learnt again without it, and it is weighed against what the rest then say.
//!
//! Sizes learnt from ν points are themselves unsure: t has Student's distribution, and is put on the normal scale by
//! z = (8ν+1)/(8ν+3)·√(ν ln(1 + t²/ν)). (Source: \[Wallace59\]; 0.03 short at ν = 3 and 1 %.)
//!
//! The entry with the greatest z is doubtful; freed, it is put where the rest have it, and the table weighed again. The
//! others that would explain nearly as much are named with it. Of those only worth a look one is named at a time.
//!
//! Two neighbouring figures exchanged are one mistake: where one of the oddest entries and its neighbour are both freed and
//! each is put where the other's figure stands, as near as it can be told, both are named.
//!
//! Which way errors fall: at an end of a line that no section holds the spread is wide, and a slip passes.

use super::LinesError;
use super::across::section;
use super::energy::{Known, Term, Tie, Trust};
use super::exchanged::alike;
use super::fairing::{Unknowns, View, first_spread, lines, rounding, transom_columns};
use super::misprints::Doubt;
use crate::offsets::Values;

/// Sections are smooth in this derivative here; on our boats it tells an entry better than the third does.
const SECTIONS: usize = 4;
/// z over which an entry is doubtful,
pub(super) const SURE: f64 = 3.5;
/// and over which it is worth a look.
const WEAK: f64 = 2.3;
/// How many times the tolerance an entry must lie off.
pub(super) const FAR: f64 = 2.0;
/// So many are freed and weighed again, those furthest off at first, if they are so far off.
const TRIED: usize = 8;
const LEAST_ODD: f64 = 1.0;
/// Learning ends when no change moves by more, mm.
const STILL: f64 = 0.05;
/// Where the spread learnt is so many times that with which the sections were drawn, they are drawn again.
const COARSER: f64 = 1.2;
/// Sizes rest on so many points at least: with fewer nothing would ever be odd.
const FEWEST_BEHIND: f64 = 2.0;
/// Rounds of learning again.
const AGAIN: usize = 6;
/// Others are named with it whose odds against it are over one in ten: z² less by under 2 ln 10.
const AS_LIKELY: f64 = 4.605;
/// At most so many.
const MOST_OTHERS: usize = 2;
/// Two figures are exchanged if the rest would have each so near the other's, in its spread, or as a share of what lies
/// between them: two that both come so near by chance are one case in a hundred.
const EXCHANGED: f64 = 3.0;
const NEAR: f64 = 0.1;

/// An entry as the rest would have it.
#[derive(Debug, Clone)]
struct Weighed {
    unknown: usize,
    /// Where the rest would have it, less where it stands, mm.
    change: f64,
    /// Spread of that, mm, its own rounding with it.
    spread: f64,
    z: f64,
}

/// The table as the weighing sees it.
struct Scale<'a> {
    view: &'a View<'a>,
    columns: Vec<usize>,
    unknowns: Unknowns,
    base: Values,
    free: Vec<bool>,
    least: f64,
}

/// The entries that the rest will not have, no more than `most`, in the order found.
///
/// # Errors
/// A line whose entries stand at one place; a table with no likeliest change.
pub fn doubtful(view: &View<'_>, stations: &[usize], given: &Values, most: usize) -> Result<Vec<Doubt>, LinesError> {
    let mut scale = Scale::new(view, stations, given);
    let far = FAR * view.spec.lines.fair_within;
    let mut found: Vec<Doubt> = Vec::new();
    let mut start: Option<Trust> = None;
    while found.len() < most {
        let learnt = scale.learn(start)?;
        let weighed = scale.weigh(&learnt)?;
        if let Some(pair) = scale.exchanged(&learnt, &weighed, far)? {
            let values = pair.map(|u| scale.value(u));
            for (u, (other, expected)) in pair.into_iter().zip([(pair[1], values[1]), (pair[0], values[0])]) {
                let (at, with) = (scale.unknowns.places[u], scale.unknowns.places[other]);
                let spread = learnt.trust.square_spread().sqrt();
                found.push(Doubt { at, expected, spread, or: Vec::new(), sure: true, exchanged_with: Some(with) });
                scale.set_aside(u, expected);
            }
            start = Some(learnt.trust);
            continue;
        }
        start = Some(learnt.trust);
        let odd = |w: &&Weighed| w.z > WEAK && w.change.abs() > far;
        let Some(worst) = weighed.iter().filter(odd).max_by(|a, b| a.z.total_cmp(&b.z)) else { break };
        let mut others: Vec<&Weighed> = weighed
            .iter()
            .filter(|w| w.unknown != worst.unknown && worst.z * worst.z - w.z * w.z < AS_LIKELY)
            .collect();
        others.sort_by(|a, b| b.z.total_cmp(&a.z));
        others.truncate(MOST_OTHERS);
        let at = scale.unknowns.places[worst.unknown];
        let expected = scale.value(worst.unknown) + worst.change;
        let sure = worst.z > SURE;
        found.push(Doubt {
            at,
            expected,
            spread: worst.spread,
            or: others.iter().map(|w| scale.unknowns.places[w.unknown]).collect(),
            sure,
            exchanged_with: None,
        });
        if !sure {
            break;
        }
        scale.set_aside(worst.unknown, expected);
    }
    scale.pair(&mut found, given, far);
    // One that was doubted itself later is no other.
    let doubted: Vec<(usize, usize)> = found.iter().map(|d| d.at).collect();
    for d in &mut found {
        d.or.retain(|o| !doubted.contains(o));
    }
    Ok(found)
}

/// How far each entry may lie off what the rest say, one standard deviation, mm; what the rest say nothing of is far.
///
/// # Errors
/// As [`doubtful`].
pub fn spreads(view: &View<'_>, stations: &[usize], given: &Values) -> Result<Vec<Vec<Option<f64>>>, LinesError> {
    let scale = Scale::new(view, stations, given);
    let learnt = scale.learn(None)?;
    let square = learnt.trust.square_spread();
    let spread = |u: usize| (square / (1.0 - learnt.known.covariance[(u, u)] / square).max(1e-9)).sqrt();
    Ok(scale.unknowns.index.iter().map(|row| row.iter().map(|u| u.map(spread)).collect()).collect())
}

/// What all the entries say.
struct Learnt {
    terms: Vec<Term>,
    ties: Vec<Tie>,
    trust: Trust,
    known: Known,
}

impl<'a> Scale<'a> {
    fn new(view: &'a View<'a>, stations: &[usize], given: &Values) -> Self {
        let unknowns = Unknowns::of(given);
        Scale {
            view,
            columns: stations.iter().copied().chain(transom_columns(view.table)).collect(),
            free: vec![false; unknowns.places.len()],
            unknowns,
            base: given.clone(),
            least: rounding(view.spec.lengths),
        }
    }

    fn failed(&self, status: String) -> LinesError {
        LinesError::NotFaired { within_mm: self.view.spec.lines.fair_within, status }
    }

    /// Lines and sections, where entries have such a spread, mm.
    fn terms(&self, spread: f64) -> Result<(Vec<Term>, Vec<Tie>), LinesError> {
        let (mut terms, mut ties) = lines(self.view, &self.unknowns, &self.base)?;
        let mut square = vec![1.0; self.unknowns.places.len()];
        for &station in &self.columns {
            // A section that cannot be drawn, for two points at one place, says nothing.
            let drawn =
                section((SECTIONS, spread), self.view, &self.unknowns, station, &self.base, &self.base, &mut square);
            let Ok((term, pairs)) = drawn else { continue };
            terms.extend(term);
            ties.extend(pairs);
        }
        Ok((terms, ties))
    }

    fn learn(&self, start: Option<Trust>) -> Result<Learnt, LinesError> {
        let spread = first_spread(self.view.spec);
        let seen = start.as_ref().map_or(spread, |t| t.square_spread().sqrt());
        let (mut terms, mut ties) = self.terms(seen)?;
        let mut trust = self.learn_of(start, spread, &terms, &ties)?;
        let learnt = trust.square_spread().sqrt();
        if learnt > COARSER * seen {
            (terms, ties) = self.terms(learnt)?;
            trust = self.learn_of(Some(trust), spread, &terms, &ties)?;
        }
        let all: Vec<&Term> = terms.iter().collect();
        let known = trust.known(&all, &ties, &self.free).map_err(|e| self.failed(e))?;
        Ok(Learnt { terms, ties, trust, known })
    }

    /// From `start`, if that is of such terms.
    fn learn_of(&self, start: Option<Trust>, spread: f64, terms: &[Term], ties: &[Tie]) -> Result<Trust, LinesError> {
        let all: Vec<&Term> = terms.iter().collect();
        let mut trust = start.filter(|t| t.is_of(&all)).unwrap_or_else(|| Trust::start(&all, spread));
        trust.learn(&all, ties, &self.free, self.least, STILL).map_err(|e| self.failed(e))?;
        Ok(trust)
    }

    /// Entry `u` as it stands now.
    fn value(&self, u: usize) -> f64 {
        let (r, c) = self.unknowns.places[u];
        self.base[r][c].unwrap_or_default()
    }

    fn set_aside(&mut self, u: usize, expected: f64) {
        let (r, c) = self.unknowns.places[u];
        self.free[u] = true;
        self.base[r][c] = Some(expected);
    }

    /// How far each entry that may be doubted is off all the others, in their spread.
    fn odd(&self, learnt: &Learnt) -> Vec<(usize, f64)> {
        let (known, square) = (&learnt.known, learnt.trust.square_spread());
        (0..self.free.len())
            .filter(|&u| self.may_be_wrong(u))
            .filter_map(|u| {
                let own = 1.0 - known.covariance[(u, u)] / square;
                (own > 1e-9).then(|| (u, known.change[u].abs() / (square * own).sqrt()))
            })
            .collect()
    }

    /// The oddest entry that stands exchanged with its neighbour in the row, or at the station in a row alike.
    fn exchanged(&self, learnt: &Learnt, weighed: &[Weighed], far: f64) -> Result<Option<[usize; 2]>, LinesError> {
        let terms: Vec<&Term> = learnt.terms.iter().collect();
        let mut odd: Vec<&Weighed> = weighed.iter().filter(|w| w.z > WEAK && w.change.abs() > far).collect();
        odd.sort_by(|a, b| b.z.total_cmp(&a.z));
        for w in odd {
            for v in self.neighbours(w.unknown) {
                let apart = self.value(v) - self.value(w.unknown);
                // Both must be far off, and the first already be drawn nearer to the other's figure than to its own.
                if apart.abs() < 2.0 * far || (w.change - apart).abs() > 0.5 * apart.abs() {
                    continue;
                }
                let (mut free, mut trust) = (self.free.clone(), learnt.trust.clone());
                free[w.unknown] = true;
                free[v] = true;
                let known = trust
                    .learn_for(AGAIN, &terms, &learnt.ties, &free, [self.least, STILL])
                    .and_then(|()| trust.known(&terms, &learnt.ties, &free))
                    .map_err(|e| self.failed(e))?;
                let fits = |u: usize, by: f64| {
                    let spread = (known.covariance[(u, u)] + trust.square_spread()).sqrt();
                    (known.change[u] - by).abs()
                        < far.max(EXCHANGED * spread).min(0.25 * apart.abs()).max(NEAR * apart.abs())
                };
                if fits(w.unknown, apart) && fits(v, -apart) {
                    return Ok(Some([w.unknown, v]));
                }
            }
        }
        Ok(None)
    }

    /// Doubts found one by one that are two figures exchanged.
    fn pair(&self, found: &mut [Doubt], given: &Values, far: f64) {
        let value = |at: (usize, usize)| given[at.0][at.1].unwrap_or_default();
        let rows = &self.view.table.rows;
        for b in 1..found.len() {
            for a in 0..b {
                let ((ra, ca), (rb, cb)) = (found[a].at, found[b].at);
                let beside = (ra == rb && ca.abs_diff(cb) == 1)
                    || (ca == cb && ra.abs_diff(rb) == 1 && alike(&rows[ra].kind, &rows[rb].kind));
                let apart = (value(found[b].at) - value(found[a].at)).abs();
                // The one found later was weighed with the first set aside; the first only while the other was wrong.
                let near = (found[b].expected - value(found[a].at)).abs() < NEAR * apart;
                let way = value(found[b].at) - value(found[a].at);
                let drawn = (found[a].expected - value(found[a].at)) * way > 0.5 * way * way;
                let free = found[a].exchanged_with.is_none() && found[b].exchanged_with.is_none();
                if beside && free && apart > 2.0 * far && near && drawn {
                    for (this, other) in [(a, b), (b, a)] {
                        found[this].exchanged_with = Some(found[other].at);
                        found[this].expected = value(found[other].at);
                        found[this].or.clear();
                        found[this].sure = true;
                    }
                }
            }
        }
    }

    /// The entries beside `u` in its row, and at its station in the rows alike above and below.
    fn neighbours(&self, u: usize) -> Vec<usize> {
        let (r, c) = self.unknowns.places[u];
        let rows = &self.view.table.rows;
        let index = |r: usize, c: usize| self.unknowns.index.get(r)?.get(c).copied().flatten();
        let like = |other: usize| rows.get(other).is_some_and(|o| alike(&rows[r].kind, &o.kind)).then_some(other);
        let beside = [index(r, c + 1), c.checked_sub(1).and_then(|c| index(r, c))];
        let across = [r.checked_sub(1), Some(r + 1)].map(|o| o.and_then(like).and_then(|o| index(o, c)));
        beside.into_iter().chain(across).flatten().filter(|&v| self.may_be_wrong(v)).collect()
    }

    /// The oddest entries, each weighed with the sizes learnt without it.
    fn weigh(&self, learnt: &Learnt) -> Result<Vec<Weighed>, LinesError> {
        let terms: Vec<&Term> = learnt.terms.iter().collect();
        let mut odd = self.odd(learnt);
        odd.retain(|w| w.1 > LEAST_ODD);
        odd.sort_by(|a, b| b.1.total_cmp(&a.1));
        odd.truncate(TRIED);
        odd.into_iter()
            .map(|(u, _)| self.weigh_alone(u, &terms, &learnt.ties, learnt.trust.clone()))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|e| self.failed(e))
    }

    /// Entry `u` against the rest, which learn again without it.
    fn weigh_alone(&self, u: usize, terms: &[&Term], ties: &[Tie], mut trust: Trust) -> Result<Weighed, String> {
        let mut free = self.free.clone();
        free[u] = true;
        trust.learn_for(AGAIN, terms, ties, &free, [self.least, STILL])?;
        let known = trust.known(terms, ties, &free)?;
        let change = known.change[u];
        let (spread, z) = oddness(change.abs(), u, &known, &trust, terms);
        Ok(Weighed { unknown: u, change, spread, z })
    }

    /// Not set aside yet, nor settled by the builder.
    fn may_be_wrong(&self, u: usize) -> bool {
        let (r, c) = self.unknowns.places[u];
        !self.free[u] && self.view.table.rows[r].cells[c].as_ref().is_some_and(|c| c.settled.is_none())
    }
}

/// Of an entry that stands `off` mm from where the rest have it, without its own word: the spread of that, mm, its own rounding
/// with it, and how many normal spreads it is off.
pub(super) fn oddness(off: f64, unknown: usize, known: &Known, trust: &Trust, terms: &[&Term]) -> (f64, f64) {
    let spread = (known.covariance[(unknown, unknown)] + trust.square_spread()).sqrt();
    let points = trust.points_behind(terms, unknown).max(FEWEST_BEHIND);
    (spread, on_normal_scale(off / spread, points))
}

/// As many normal spreads as `t` is of Student's with so many degrees of freedom.
fn on_normal_scale(t: f64, freedom: f64) -> f64 {
    (8.0 * freedom + 1.0) / (8.0 * freedom + 3.0) * (freedom * (t * t / freedom).ln_1p()).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two-sided 1 % points of Student's distribution [A&S64 table 26.10] are 2.576 on the normal scale.
    #[test]
    fn student_points_on_the_normal_scale() {
        for (freedom, t) in [(3.0, 5.841), (5.0, 4.032), (10.0, 3.169), (30.0, 2.750)] {
            let z = on_normal_scale(t, freedom);
            assert!((z - 2.576).abs() < 0.035, "{freedom}: {z}");
        }
    }
}
