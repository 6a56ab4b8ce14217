//! The places to look at first, in words.

use super::{Hump, Land, Step, View, place};
use crate::lines::Section;
use crate::units::Notation;

/// A place to look at.
#[derive(Debug, Clone, PartialEq)]
pub enum Worst {
    /// A land bends both ways.
    TurnsBack {
        /// 1 to n.
        land: usize,
        /// Where the stretch that turns back begins, counted in sections.
        from: f64,
        /// Where it ends.
        to: f64,
        /// By how much, in the view that shows most of it, mm.
        depth: f64,
        /// That view, then the others that show it.
        views: Vec<View>,
    },
    /// A strake widens towards an end.
    Widens(Hump),
    /// Neighbours differ most here.
    Differ(Step),
    /// A land's bend changes most within a short way.
    Changes {
        /// 1 to n.
        land: usize,
        /// Counted in sections.
        at: f64,
        /// Of its variation.
        most: f64,
    },
}

/// Most places of one kind that are named.
const FEW: usize = 6;

/// The places to look at first: where lands turn back, deepest first; where strakes widen to an end, most first; where
/// neighbours differ most; where a land's bend changes most.
pub(super) fn worst(lands: &[Land], humps: &[Hump], steps: &[Step]) -> Vec<Worst> {
    let mut backs: Vec<Worst> = lands.iter().flat_map(turns_back).collect();
    backs.sort_by(|a, b| depth(b).total_cmp(&depth(a)));
    backs.truncate(FEW);
    let mut humps = humps.to_vec();
    humps.sort_by(|a, b| b.by.total_cmp(&a.by));
    let step = steps.iter().max_by(|a, b| a.by.abs().total_cmp(&b.by.abs())).copied();
    let changes = lands.iter().max_by(|a, b| a.variation.most.total_cmp(&b.variation.most)).map(|l| Worst::Changes {
        land: l.land,
        at: l.variation.at,
        most: l.variation.most,
    });
    let humps = humps.into_iter().take(FEW).map(Worst::Widens);
    backs.into_iter().chain(humps).chain(step.map(Worst::Differ)).chain(changes).collect()
}

fn depth(worst: &Worst) -> f64 {
    if let Worst::TurnsBack { depth, .. } = worst { *depth } else { 0.0 }
}

/// Where a land turns back as somebody sees it, the deepest first; what several views show at one place is one. The body
/// view is a drawing that nobody stands at.
fn turns_back(land: &Land) -> Vec<Worst> {
    let mut all: Vec<(View, super::Back)> =
        land.seen.iter().filter(|s| s.view != View::Body).flat_map(|s| s.back.iter().map(|b| (s.view, *b))).collect();
    all.sort_by(|a, b| b.1.depth.total_cmp(&a.1.depth));
    let mut found: Vec<Worst> = Vec::new();
    for (view, back) in all {
        let same = found.iter_mut().find_map(|w| match w {
            Worst::TurnsBack { from, to, views, .. } if back.from < *to && back.to > *from => Some(views),
            _ => None,
        });
        match same {
            Some(views) if views.contains(&view) => {}
            Some(views) => views.push(view),
            None => found.push(Worst::TurnsBack {
                land: land.land,
                from: back.from,
                to: back.to,
                depth: back.depth,
                views: vec![view],
            }),
        }
    }
    found
}

impl Worst {
    /// In words, its lengths in `lengths`; `strakes`: how many she has.
    #[must_use]
    pub fn words(&self, strakes: usize, sections: &[Section], lengths: Notation) -> String {
        let named = |land: usize| if land == strakes { "The sheer".to_owned() } else { format!("Land {land}") };
        let at = |section: usize| place(sections, section as f64, section as f64);
        match self {
            Worst::TurnsBack { land, from, to, depth, views } => {
                let (first, others) = (views.first().map_or("", |v| v.words()), views.len().saturating_sub(1));
                let more = match others {
                    0 => String::new(),
                    1 => format!(", and {}", views[1].words()),
                    n => format!(", and in {n} other views"),
                };
                let place = place(sections, *from, *to);
                format!(
                    "{} {place}, seen {first}: bends both ways, {}{more}",
                    named(*land),
                    lengths.said_fine(*depth)
                )
            }
            Worst::Widens(h) => {
                format!(
                    "Strake {} {} shows {} wider than {}",
                    h.strake,
                    at(h.section),
                    lengths.said_fine(h.by),
                    at(h.narrowest)
                )
            }
            Worst::Differ(s) => {
                let (wider, narrower) = if s.by > 0.0 { (s.strake + 1, s.strake) } else { (s.strake, s.strake + 1) };
                let by = lengths.said_fine(s.by.abs());
                let bare = if wider == strakes {
                    "; nothing laps it, so it shows whole until it has a rubbing strake"
                } else {
                    ""
                };
                format!(
                    "Strake {wider} {} shows {by} wider than strake {narrower}: no neighbours differ more{bare}",
                    at(s.section)
                )
            }
            Worst::Changes { land, at, .. } => {
                format!("{} {}: its bend changes most within a short way", named(*land), place(sections, *at, *at))
            }
        }
    }
}
