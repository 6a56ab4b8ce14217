//! What is judged and to come, in words.

use super::{Forecast, Judged, Why};
use crate::plan::Plan;
use crate::planks::limits::Which;
use crate::units::Notation;

/// Nearer than this a line is where it should be, mm.
const ON_LINE: f64 = 0.3;

impl Judged {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Judged::Fine => "fine",
            Judged::Watch => "watch",
            Judged::Matters => "matters",
        }
    }
}

impl Why {
    /// It in words: `strake 4 shows 2.4 mm too much beside strake 3`.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            Why::Jump { strake, by } => {
                let (low, high) = (*strake, strake + 1);
                let [more, less] = if *by > 0.0 { [high, low] } else { [low, high] };
                format!("strake {more} shows {} too much beside strake {less}", lengths.said_fine(by.abs()))
            }
            Why::Limit(breach) => {
                let [is, limit] = lengths.said_apart(breach.is, breach.limit);
                let strake = breach.strake;
                match breach.which {
                    Which::Widest => format!("strake {strake} shows {is}, and the widest is {limit}"),
                    Which::Narrowest => format!("strake {strake} shows {is}, and the narrowest is {limit}"),
                    Which::Edge => {
                        format!("{is} of wood is left at the edge of strake {strake}, and the least is {limit}")
                    }
                }
            }
        }
    }
}

impl Forecast {
    /// How the sheer would lie if the rest were cut as planned, and how it lies with the rest lined again; empty where it would
    /// be off by no more than `told` mm. `plan` is the plan it belongs to.
    #[must_use]
    pub fn said(&self, plan: &Plan, lengths: Notation, told: f64) -> String {
        let place = |section: usize| plan.sections.get(section).map_or_else(String::new, |s| s.place());
        let way = |off: f64| if off < 0.0 { "low" } else { "high" };
        let Some((section, off)) = self.worst().filter(|w| w.1.abs() > told) else { return String::new() };
        if self.strakes.is_empty() {
            return format!("Her sheer lies {} {} at {}.", lengths.said_fine(off.abs()), way(off), place(section));
        }
        let most = self.lined_again.iter().fold(0.0, |a: f64, b| a.max(b.abs()));
        let again = if most < ON_LINE {
            "on its line".to_owned()
        } else {
            format!("within {} of its line", lengths.said_fine(most))
        };
        format!(
            "Cut as planned, the rest would bring the sheer {} {} at {}; lined again it lies {again}.",
            lengths.said_fine(off.abs()),
            way(off),
            place(section),
        )
    }
}
