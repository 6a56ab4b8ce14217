//! Limits that cannot all be kept: which of them fight, and the nearest settings that work.
//!
//! She is planned all the same, each limit passed by as little as may be; here she is lined off again with one setting
//! changed, as a builder would try it, and what works is named: more or fewer strakes, a limit let out to what it takes, a
//! pin moved. Everything named has been lined off and laid with all limits kept.

use super::lined::{Job, Lined, strakes};
use super::rack::{self, TooWide};
use super::{Plan, boards, pins};
use crate::cores;
use crate::findings::{Finding, Measure, Stage};
use crate::folder::BoatInput;
use crate::lines::Skin;
use crate::lining::Pinned;
use crate::lining::propose::{FEWEST, MOST};
use crate::planks::Strake;
use crate::planks::limits::{self, Breach, Which};
use crate::spec::Spec;
use crate::units::{INCH, Notation};

/// More or fewer strakes that are tried.
const NEAR: u32 = 3;
/// A limit is let out so often before it is given up.
const TRIES: usize = 3;
/// Halvings of the way from what was asked to what works.
const HALVINGS: usize = 3;
/// Most pins that are tried.
const MOST_PINS: usize = 3;

/// A setting that may be changed.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Setting {
    Widest,
    Narrowest,
    Floor,
    Board,
}

const SETTINGS: [Setting; 4] = [Setting::Widest, Setting::Narrowest, Setting::Floor, Setting::Board];

/// What is tried.
#[derive(Clone)]
struct Trial {
    spec: Spec,
    pins: Vec<Pinned>,
    /// The rack's, and one more where a wider one is tried.
    boards: Vec<[f64; 2]>,
    rack: usize,
}

impl Trial {
    fn line(&self, on: &Plan, skin: &Skin) -> Option<Lined> {
        let Trial { spec, pins, boards, .. } = self;
        strakes(&Job { skin, table: &on.table, spec, pins, boards }).ok()
    }

    fn value(&self, setting: Setting) -> f64 {
        match setting {
            Setting::Widest => self.spec.planking.widest,
            Setting::Narrowest => self.spec.lining.narrowest,
            Setting::Floor => self.spec.planking.edge_floor,
            Setting::Board => self.boards.iter().map(|b| b[1]).fold(0.0, f64::max),
        }
    }

    fn set(&mut self, setting: Setting, value: f64) {
        match setting {
            Setting::Widest => self.spec.planking.widest = value,
            Setting::Narrowest => self.spec.lining.narrowest = value,
            Setting::Floor => self.spec.planking.edge_floor = value,
            // As long as the longest.
            Setting::Board => {
                self.boards.truncate(self.rack);
                let long = self.boards.iter().map(|b| b[0]).fold(0.0, f64::max);
                self.boards.push([long, value]);
            }
        }
    }
}

impl Setting {
    /// Limits are let out upward, or downward.
    fn out(self) -> f64 {
        match self {
            Setting::Widest | Setting::Board => 1.0,
            Setting::Narrowest | Setting::Floor => -1.0,
        }
    }

    /// How finely it is given, mm: as finely as it is printed.
    fn step(self, lengths: Notation) -> f64 {
        match (lengths, self) {
            (Notation::Mm, Setting::Floor) => 0.1,
            (Notation::Mm, _) => 1.0,
            (_, Setting::Floor) => INCH / 32.0,
            _ => INCH / 16.0,
        }
    }

    /// The next value on its grid that lets out at least as much.
    fn rounded(self, value: f64, lengths: Notation) -> f64 {
        let (out, step) = (self.out(), self.step(lengths));
        out * ((out * value - limits::HAIR) / step).ceil() * step
    }

    /// What it would have to be for the strakes as they lie.
    fn needed(self, lie: Lie<'_>, trial: &Trial, skin: &Skin) -> f64 {
        let spec = &trial.spec;
        match self {
            Setting::Widest => {
                let n = lie.strakes.len();
                let all = lie.strakes.iter().flat_map(|s| s.at.iter().map(move |a| (s.strake, a)));
                all.map(|(k, a)| a.shows / limits::part(spec, k, n)).fold(0.0, f64::max)
            }
            Setting::Narrowest => {
                let at = lie.strakes.iter().flat_map(|s| &s.at).filter(|a| limits::is_station(skin, a.section));
                at.map(|a| a.shows).fold(f64::INFINITY, f64::min).max(0.0)
            }
            Setting::Floor => lie.strakes.iter().map(|s| least_floor(s, spec)).fold(f64::INFINITY, f64::min),
            Setting::Board => lie.too_wide.iter().map(|w| w.wants).fold(0.0, f64::max),
        }
    }

    fn passed(self, breaches: &[Breach], lie: Lie<'_>) -> bool {
        let which = match self {
            Setting::Widest => Which::Widest,
            Setting::Narrowest => Which::Narrowest,
            Setting::Floor => Which::Edge,
            Setting::Board => return !lie.too_wide.is_empty(),
        };
        breaches.iter().any(|b| b.which == which)
    }

    /// As it stands in the folder.
    fn words(self, value: f64, lengths: Notation) -> String {
        let value = lengths.said_fine(value);
        match self {
            Setting::Widest => format!("planking.widest = {value}"),
            Setting::Narrowest => format!("lining.narrowest = {value}"),
            Setting::Floor => format!("planking.edge_floor = {value}"),
            Setting::Board => format!("boards {value} wide"),
        }
    }
}

/// Strakes as they lie, and those too wide for the boards.
#[derive(Clone, Copy)]
struct Lie<'a> {
    strakes: &'a [Strake],
    too_wide: &'a [TooWide],
    /// Sum of squares of what limits are passed by and boards lack, mm².
    past: f64,
}

impl<'a> From<&'a Lined> for Lie<'a> {
    fn from(lined: &'a Lined) -> Self {
        Lie { strakes: &lined.strakes, too_wide: &lined.too_wide, past: lined.all_past() }
    }
}

/// The floor that `strake`'s thinnest edge would keep, mm.
fn least_floor(strake: &Strake, spec: &Spec) -> f64 {
    let floor = spec.planking.edge_floor.max(f64::MIN_POSITIVE);
    let edges = strake.at.iter().filter_map(|a| Some((a.edge_left?, a.edge_floor(strake.thickness, floor))));
    // Share of the floor that is left, where the floor asks for anything.
    edges.filter(|e| e.1 > 0.0).map(|(left, asked)| left / asked * floor).fold(f64::INFINITY, f64::min)
}

/// The limits that fight in `plan`, and the nearest that works; `None` where all are kept.
pub(super) fn fight(input: &BoatInput, skin: &Skin, plan: &Plan) -> Option<Finding> {
    let spec = &input.spec;
    let breaches = limits::breaches(&plan.strakes, skin, spec);
    // Boards fight only where the planks as parted really come out of none.
    let stuck = plan.made.iter().any(|m| m.stuck);
    if breaches.is_empty() && !stuck {
        return None;
    }
    let rack = boards(input);
    // With these boards and this number of strakes she is lined off as she lies in the plan.
    let as_planned = stuck || rack.is_empty() || spec.planking.strakes.is_some();
    let boards = if stuck { rack } else { Vec::new() };
    let asked = Trial { spec: spec.clone(), pins: pins(&input.pins, skin).ok()?, rack: boards.len(), boards };
    let again = if as_planned { None } else { Some(asked.line(plan, skin)?) };
    let too_wide = rack::too_wide(&plan.strakes, &asked.boards, spec);
    let now = again.as_ref().map_or_else(
        || {
            let past: f64 = breaches.iter().map(|b| b.past().powi(2)).sum();
            let lacking: f64 = too_wide.iter().map(|w| (w.wants - w.has).powi(2)).sum();
            Lie { strakes: &plan.strakes, too_wide: &too_wide, past: past + lacking }
        },
        Lie::from,
    );
    if breaches.is_empty() && now.too_wide.is_empty() {
        return None;
    }
    let ground = Ground { plan, skin, asked: &asked, now, breaches: &breaches };
    let Worst { place, measured, limit, what } = ground.worst()?;
    Some(Finding { stage: Stage::Lining, place, measured, limit, hint: format!("{what}: {}", ground.hint()) })
}

struct Ground<'a> {
    plan: &'a Plan,
    skin: &'a Skin,
    asked: &'a Trial,
    now: Lie<'a>,
    breaches: &'a [Breach],
}

impl Ground<'_> {
    fn lengths(&self) -> Notation {
        self.asked.spec.lengths
    }

    /// Where a limit is passed most.
    fn worst(&self) -> Option<Worst> {
        let most = self.breaches.iter().max_by(|a, b| (a.past() / a.limit).total_cmp(&(b.past() / b.limit)));
        if let Some(b) = most {
            let what = match b.which {
                Which::Widest => "it shows wider than it may",
                Which::Narrowest => "it shows narrower than it may",
                Which::Edge if b.limit < self.asked.spec.planking.edge_floor - limits::HAIR => {
                    "too little wood is left at its edge (in a gain the limit is as much less as the rebate takes)"
                }
                Which::Edge => "too little wood is left at its edge",
            };
            let place = format!("strake {}, {}", b.strake, self.skin.place(b.section));
            return Some(Worst { place, measured: Measure::Length(b.is), limit: Measure::Length(b.limit), what });
        }
        let w = self.now.too_wide.iter().max_by(|a, b| (a.wants - a.has).total_cmp(&(b.wants - b.has)))?;
        Some(Worst {
            place: format!("strake {}", w.strake),
            measured: Measure::Length(w.wants),
            limit: Measure::Length(w.has),
            what: "it wants a wider board than there is",
        })
    }

    /// Lines off what is tried: lands and strakes, and whether all is kept.
    fn tried(&self, trial: &Trial) -> Option<(Lined, bool)> {
        let lined = trial.line(self.plan, self.skin)?;
        let kept = lined.all_past() == 0.0;
        Some((lined, kept))
    }

    fn kept(&self, trial: &Trial) -> bool {
        self.tried(trial).is_some_and(|t| t.1)
    }

    fn hint(&self) -> String {
        let passed: Vec<Setting> = SETTINGS.into_iter().filter(|s| s.passed(self.breaches, self.now)).collect();
        let mut fighting: Vec<String> = vec![self.strakes_said()];
        let (mut works, mut eases): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
        // Each is tried by itself: the cores share them.
        let mut ways = vec![Way::Strakes];
        ways.extend(SETTINGS.into_iter().filter(|&s| passed.contains(&s) || self.may_cure(s, &passed)).map(Way::Out));
        let found = cores::each(&ways, |way| match way {
            Way::Strakes => self.other_number(&passed),
            Way::Out(setting) => self.let_out(&[*setting]),
        });
        let mut alone = false;
        for (way, found) in ways.into_iter().zip(found) {
            let Way::Out(setting) = way else {
                let n = found.and_then(|trial| trial.spec.planking.strakes);
                works.extend(n.map(|n| format!("planking.strakes = {n}")));
                continue;
            };
            if passed.contains(&setting) || found.is_some() {
                fighting.push(setting.words(self.asked.value(setting), self.lengths()));
            }
            alone |= found.is_some();
            works.extend(found.map(|trial| setting.words(trial.value(setting), self.lengths())));
        }
        if !alone
            && passed.len() > 1
            && let Some(trial) = self.let_out(&passed)
        {
            let each = passed.iter().map(|s| s.words(trial.value(*s), self.lengths()));
            works.push(each.collect::<Vec<_>>().join(" with "));
        }
        for (pin, found) in self.pins() {
            let at = |girth: f64| self.lengths().said_fine(girth);
            let place = self.skin.place(pin.section);
            fighting.push(format!("marks.csv line {}, land {} at {place} = {}", pin.line, pin.land, at(pin.girth)));
            match found {
                Freed::Works(girth) => works.push(format!("marks.csv line {} = {}", pin.line, at(girth))),
                Freed::LeftOut => works.push(format!("marks.csv line {} left out", pin.line)),
                Freed::Eases => eases.push(format!("line {}", pin.line)),
            }
        }
        let nearest = match (works.is_empty(), eases.is_empty()) {
            (false, _) => format!("the nearest that keeps them at every mark: {}", works.join(", or ")),
            (true, false) => {
                format!(
                    "nothing near keeps them all; they are passed least with marks.csv {} left out",
                    eases.join(" or ")
                )
            }
            (true, true) => format!(
                "nothing near works: neither {NEAR} strakes more or fewer nor any of these let out; ask for less"
            ),
        };
        format!(
            "these cannot all be kept: {}; the lands pass them by as little as may be; {nearest}",
            fighting.join(", ")
        )
    }

    fn strakes_said(&self) -> String {
        let n = self.plan.strakes.len();
        match self.asked.spec.planking.strakes {
            Some(_) => format!("planking.strakes = {n}"),
            None => format!("{n} strakes, the best number"),
        }
    }

    /// The nearest number of strakes that keeps all: more of them where strakes are too wide or turn too far, fewer where they
    /// are too narrow.
    fn other_number(&self, passed: &[Setting]) -> Option<Trial> {
        let n = self.asked.spec.planking.strakes?;
        let more = passed.iter().any(|s| *s != Setting::Narrowest);
        let fewer = passed.contains(&Setting::Narrowest);
        let numbers =
            (1..=NEAR).flat_map(|by| [more.then_some(n + by), fewer.then(|| n.saturating_sub(by))]).flatten();
        let mut trials = numbers.filter(|&n| (FEWEST..=MOST).contains(&(n as usize))).map(|n| {
            let mut trial = self.asked.clone();
            trial.spec.planking.strakes = Some(n);
            trial
        });
        trials.find(|trial| self.kept(trial))
    }

    /// Whether a limit that is kept may stand in the way of those that are passed.
    fn may_cure(&self, setting: Setting, passed: &[Setting]) -> bool {
        let any = |of: &[Setting]| of.iter().any(|s| passed.contains(s));
        match setting {
            Setting::Widest => any(&[Setting::Narrowest]),
            Setting::Narrowest => {
                self.asked.spec.lining.narrowest > 0.0 && any(&[Setting::Widest, Setting::Floor, Setting::Board])
            }
            Setting::Floor => any(&[Setting::Widest, Setting::Narrowest]),
            Setting::Board => false,
        }
    }

    /// All of `settings` let out until everything is kept, as little as does it.
    fn let_out(&self, settings: &[Setting]) -> Option<Trial> {
        let mut trial = self.asked.clone();
        let mut lined: Option<Lined> = None;
        for _ in 0..TRIES {
            for &setting in settings {
                let needed = setting.needed(lined.as_ref().map_or(self.now, Lie::from), &trial, self.skin);
                let (out, step) = (setting.out(), setting.step(self.lengths()));
                let next = setting.rounded(trial.value(setting) + out * step, self.lengths());
                let needed = setting.rounded(needed, self.lengths());
                let value = if out * needed > out * next { needed } else { next };
                if !value.is_finite() || value < 0.0 {
                    return None;
                }
                trial.set(setting, value);
            }
            match self.tried(&trial) {
                Some((_, true)) => return Some(self.nearer(settings, trial)),
                Some((next, false)) => lined = Some(next),
                None => return None,
            }
        }
        None
    }

    /// Each of `settings` half-way back to what was asked, as long as that works.
    fn nearer(&self, settings: &[Setting], mut works: Trial) -> Trial {
        for &setting in settings {
            let (lengths, mut fails) = (self.lengths(), self.asked.value(setting));
            for _ in 0..HALVINGS {
                let half = setting.rounded(0.5 * (fails + works.value(setting)), lengths);
                if (half - works.value(setting)).abs() < 0.5 * setting.step(lengths) {
                    break;
                }
                let mut trial = works.clone();
                trial.set(setting, half);
                if self.kept(&trial) {
                    works = trial;
                } else {
                    fails = half;
                }
            }
        }
        works
    }

    /// Pins that keep the others from being kept.
    fn pins(&self) -> Vec<(Pinned, Freed)> {
        let off = |p: &Pinned| {
            let near = self.breaches.iter().map(|b| {
                2 * p.section.abs_diff(b.section) + p.land.abs_diff(b.strake).min(p.land.abs_diff(b.strake - 1))
            });
            near.min().unwrap_or(usize::MAX)
        };
        let mut near: Vec<(usize, &Pinned)> = self.asked.pins.iter().enumerate().collect();
        near.retain(|(_, p)| p.land > 0 && p.land < self.plan.strakes.len() && off(p) <= REACH);
        near.sort_by_key(|(_, p)| off(p));
        near.truncate(MOST_PINS);
        let freed = cores::each(&near, |(i, pin)| self.pin(*i, pin));
        near.into_iter().zip(freed).filter_map(|((_, pin), freed)| Some((pin.clone(), freed?))).collect()
    }

    /// `None` where the pin is not to blame.
    fn pin(&self, i: usize, pin: &Pinned) -> Option<Freed> {
        let mut without = self.asked.clone();
        without.pins.remove(i);
        let (lined, kept) = self.tried(&without)?;
        if !kept {
            return (lined.all_past() < EASED * self.now.past).then_some(Freed::Eases);
        }
        let free = lined.lands.u[pin.land][pin.section] * self.skin.girth(pin.section);
        let step = Setting::Widest.step(self.lengths());
        let kept = |girth: f64| {
            let mut trial = self.asked.clone();
            trial.pins[i].girth = girth;
            self.kept(&trial)
        };
        let mut works = (free / step).round() * step;
        if !kept(works) {
            return Some(Freed::LeftOut);
        }
        let mut fails = pin.girth;
        for _ in 0..HALVINGS + 1 {
            let half = (0.5 * (fails + works) / step).round() * step;
            if (half - works).abs() < 0.5 * step || (half - fails).abs() < 0.5 * step {
                break;
            }
            if kept(half) {
                works = half;
            } else {
                fails = half;
            }
        }
        Some(Freed::Works(works))
    }
}

/// The limit that is passed most.
struct Worst {
    place: String,
    measured: Measure,
    limit: Measure,
    /// What it is that is measured.
    what: &'static str,
}

/// A way to have all limits kept.
enum Way {
    /// Another number of strakes.
    Strakes,
    /// A limit let out.
    Out(Setting),
}

/// What comes of a pin that is left out.
enum Freed {
    /// All is kept, and with it there too, mm.
    Works(f64),
    /// All is kept.
    LeftOut,
    /// Limits are passed by far less.
    Eases,
}

/// Far less, as a share of the sum of squares.
const EASED: f64 = 0.25;

/// How far from a passed limit a pin may be to blame: sections count twice.
const REACH: usize = 4;
