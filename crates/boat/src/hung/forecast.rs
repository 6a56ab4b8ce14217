//! What comes of it: how the sheer would lie if the rest were cut as planned, and what each plank gives up so that it does
//! not.

use crate::lines::Skin;
use crate::plan::Plan;
use crate::plan::lined::Lined;
use crate::plan::rest::Rest;

/// What is to come.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    /// How far above its design line the sheer would lie if every plank to come were cut as it was planned, mm by section: a
    /// plank of the same width carries on what the one below is off. When all hang, how it lies.
    pub as_planned: Vec<f64>,
    /// The same with the rest lined again, mm by section.
    pub lined_again: Vec<f64>,
    /// What each strake to come gives up.
    pub strakes: Vec<GivesUp>,
}

/// What a strake to come shows against what it was planned to.
#[derive(Debug, Clone, PartialEq)]
pub struct GivesUp {
    /// `hung` + 1 to n.
    pub strake: usize,
    /// What it shows less what it was planned to, mm by section: negative, it gives up; positive, it gains.
    pub by: Vec<f64>,
}

impl GivesUp {
    /// The section where it changes most, and by how much, mm.
    #[must_use]
    pub fn most(&self) -> Option<(usize, f64)> {
        self.by.iter().copied().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }
}

impl Forecast {
    /// Nothing hangs: the plan comes out as it is.
    pub(super) fn of_plan(plan: &Plan) -> Self {
        let none = vec![0.0; plan.sections.len()];
        let strakes = plan.strakes.iter().map(|s| GivesUp { strake: s.strake, by: none.clone() }).collect();
        Forecast { as_planned: none.clone(), lined_again: none, strakes }
    }

    pub(super) fn of(planned: &[Vec<f64>], built: &[Vec<f64>], rest: &Rest<'_>, lined: &Lined) -> Self {
        let (n, hung) = (planned.len() - 1, built.len() - 1);
        let off = |now: &[f64], then: &[f64]| now.iter().zip(then).map(|(a, b)| a - b).collect::<Vec<f64>>();
        let skin: &Skin = &rest.lines.skin;
        let lined_again = off(&lined.lands.girths(skin)[n], &planned[n]);
        let strakes = (hung..n).map(|i| {
            let (now, then) = (&lined.strakes[i].at, &rest.planned.strakes[i].at);
            GivesUp { strake: i + 1, by: now.iter().zip(then).map(|(a, b)| a.shows - b.shows).collect() }
        });
        Forecast { as_planned: off(&built[hung], &planned[hung]), lined_again, strakes: strakes.collect() }
    }

    /// The section where the sheer would be furthest off if the rest were cut as planned, and by how much, mm.
    #[must_use]
    pub fn worst(&self) -> Option<(usize, f64)> {
        self.as_planned.iter().copied().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }
}
