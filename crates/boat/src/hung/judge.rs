//! Whether what a strake is off matters: by what shows, and by the wood that is left.
//!
//! It is judged by the boat as she stands, the rest lined again, against the plan: a limit that the plan passed as far is no
//! fault of the strake.

use crate::plan::rest::Rest;
use crate::planks::Strake;
use crate::planks::limits::{self, Breach, HAIR, Which};

/// What comes of a strake's lie at a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Judged {
    /// Nothing that anybody sees.
    Fine,
    /// Just over a limit, or near to showing: look at it.
    Watch,
    /// A limit is passed.
    Matters,
}

/// Why it is not fine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// Two neighbours show unlike, against what was planned.
    Jump {
        /// The lower of the two.
        strake: usize,
        /// What the upper shows more than the lower, less what was planned of it, mm.
        by: f64,
    },
    /// A builder's limit is passed, or nearly.
    Limit(Breach),
}

/// What two neighbours' visible widths differ from plan by is seen from here on, mm; from [`WATCH`] on it is watched.
/// Common practice, no source.
pub const SEEN: f64 = 2.0;
/// See [`SEEN`].
pub const WATCH: f64 = 1.0;

/// A limit passed by no more than this is watched, mm: the plan goes up to its limits, and no plane is finer. Common practice, no
/// source.
pub const JUST: f64 = 0.3;

/// One side as it stands, beside the plan.
pub(super) struct Side<'a> {
    pub rest: &'a Rest<'a>,
    pub now: &'a [Strake],
    pub hung: usize,
}

impl Side<'_> {
    /// What comes of every hung strake at every section: `[strake − 1][section]`.
    pub(super) fn judged(&self) -> Vec<Vec<(Judged, Option<Why>)>> {
        let (skin, spec) = (&self.rest.lines.skin, &self.rest.input.spec);
        let passed = limits::breaches(self.now, skin, spec);
        let before = limits::breaches(&self.rest.planned.strakes, skin, spec);
        let sections = skin.sections.len();
        let new = |b: &&Breach| {
            let same = before.iter().find(|o| (o.which, o.strake, o.section) == (b.which, b.strake, b.section));
            same.is_none_or(|o| b.past() > o.past() + HAIR)
        };
        let new: Vec<&Breach> = passed.iter().filter(new).collect();
        let at = |k: usize, j: usize| self.one(k, j, &new);
        (1..=self.hung).map(|k| (0..sections).map(|j| at(k, j)).collect()).collect()
    }

    fn one(&self, k: usize, j: usize, passed: &[&Breach]) -> (Judged, Option<Why>) {
        // Land k bounds strakes k and k + 1; how they turn on each other and on strake k − 1 goes with it.
        let mine = |b: &&&Breach| {
            let off = if b.which == Which::Edge { [k.wrapping_sub(1), k] } else { [k, k + 1] };
            b.section == j && off.contains(&b.strake)
        };
        let furthest = passed.iter().filter(mine).max_by(|a, b| a.past().total_cmp(&b.past()));
        if let Some(b) = furthest.filter(|b| b.past() > JUST) {
            return (Judged::Matters, Some(Why::Limit(**b)));
        }
        let worst = self.jump(k.wrapping_sub(1), j).into_iter().chain(self.jump(k, j));
        let worst = worst.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
        match worst.map(|(strake, by)| (by.abs(), Some(Why::Jump { strake, by }))) {
            Some((by, why)) if by > SEEN => (Judged::Matters, why),
            Some((by, why)) if by > WATCH => (Judged::Watch, why),
            _ => furthest.map_or((Judged::Fine, None), |b| (Judged::Watch, Some(Why::Limit(**b)))),
        }
    }

    /// How much more strake `k` + 1 shows than strake `k`, against the plan.
    fn jump(&self, k: usize, j: usize) -> Option<(usize, f64)> {
        let step = |strakes: &[Strake]| {
            let shows = |k: usize| Some(strakes.get(k.checked_sub(1)?)?.at.get(j)?.shows);
            Some(shows(k + 1)? - shows(k)?)
        };
        Some((k, step(self.now)? - step(&self.rest.planned.strakes)?))
    }
}
