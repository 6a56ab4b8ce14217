//! A land straightened out: a strip to lay along the plank's upper edge, with a tick for every rivet, timber and station.
//!
//! Distances along the strip are distances along the land line, the upper inner edge of the strake below, from its fore
//! end, as the plan has the rivets'. Every tick stands at both long edges in the same place, so that the strip turned end for
//! end serves the other side.

use super::Boat;
use super::canvas::{CUT, Canvas, LAND, NAME, SMALL, STATION, place_name};
use super::plank::TIMBER;
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Face, Sheet, Stroke, Weight};
use crate::paper::book::look;
use crate::planks::Strake;

/// Height of the strip, mm.
const HEIGHT: f64 = 40.0;
/// Ticks of rivets and of timbers at either edge, mm.
const RIVET_TICK: f64 = 5.0;
const TIMBER_TICK: f64 = 7.0;
/// Above the lower edge, mm: names of stations, numbers of timbers, rivets, moulds, the land's own name.
const STATIONS: f64 = 29.6;
const TIMBERS: f64 = 24.6;
const RIVETS: f64 = 19.0;
const MOULDS: f64 = 13.0;
const LANDS: f64 = 9.0;
/// Radius of a rivet's dot, and of the open circle of one that waits, mm.
const DOT: f64 = 1.2;
const OPEN: f64 = 2.2;
/// Half the side of the square round a rivet inside a gain, mm.
const SQUARE: f64 = 3.0;
/// The land is named so far apart along the strip, mm.
const NAMED_EVERY: f64 = 900.0;

/// Numbers of rivets.
const NUMBER: Style = NAME.face(Face::Bold).colour(look::COPPER);

/// The tape of the land on a strake's upper edge; `None` for the sheer strake, which has none.
pub fn sheet(boat: &Boat<'_>, strake: &Strake) -> Option<Sheet> {
    let whole = strake.rulings.last()?.along;
    if strake.strake >= boat.plan.strakes.len() || whole.is_nan() || whole <= 0.0 {
        return None;
    }
    let tape = Tape { boat, strake, whole };
    let mut canvas = Canvas::new(boat);
    canvas.closed("outline", [[0.0, 0.0], [whole, 0.0], [whole, HEIGHT], [0.0, HEIGHT]], CUT);
    let stations = tape.stations(&mut canvas);
    let gains = tape.gains(&mut canvas, &stations);
    let mut uprights: Vec<f64> = stations.iter().copied().chain(gains.iter().map(|g| g.1)).collect();
    uprights.sort_by(f64::total_cmp);
    tape.timbers(&mut canvas, &uprights);
    tape.rivets(&mut canvas, &uprights);
    let title = format!("Tape of land {}", strake.strake);
    canvas.finish(&title, &tape.notes())
}

struct Tape<'a> {
    boat: &'a Boat<'a>,
    strake: &'a Strake,
    /// Length of the land, mm.
    whole: f64,
}

/// Words beside uprights, one row of them, from the bow.
struct Row<'a> {
    uprights: &'a [f64],
    v: f64,
    whole: f64,
    /// How far the row is taken: half as far again as the words before reach, since a sheet's edge may move them so far.
    taken: f64,
}

impl Row<'_> {
    fn new(uprights: &[f64], v: f64, whole: f64) -> Row<'_> {
        Row { uprights, v, whole, taken: f64::MIN }
    }

    /// Words `off` aft of `u` or, where an upright would strike them, forward of it; left out where there is no room.
    fn beside(&mut self, canvas: &mut Canvas<'_>, layer: &'static str, u: f64, off: f64, style: Style, text: &str) {
        let wide = canvas.width(style, text);
        let clear = |left: &f64| {
            let struck = self.uprights.iter().any(|s| (left - 0.6..left + wide + 0.6).contains(s));
            *left > 1.0 && left - 0.5 * wide > self.taken && left + wide < self.whole - 1.0 && !struck
        };
        if let Some(left) = [u + off, u - off - wide].into_iter().find(clear) {
            canvas.words(layer, [left, self.v], Anchor::Left, style, text);
            self.taken = left + 1.5 * wide + 2.0;
        }
    }
}

impl Tape<'_> {
    /// The stations right across, named; the ends are the strip's own. Returns where they stand.
    fn stations(&self, canvas: &mut Canvas<'_>) -> Vec<f64> {
        let at = |section: usize| {
            let at = self.strake.at.iter().find(|a| a.section == section)?;
            Some(self.strake.rulings.get(at.ruling)?.along)
        };
        let inside = |along: &f64| *along > 0.5 && *along < self.whole - 0.5;
        let sections = self.boat.plan.sections.len();
        let places: Vec<(usize, f64)> = (0..sections).filter_map(|s| Some((s, at(s).filter(inside)?))).collect();
        let lines: Vec<f64> = places.iter().map(|p| p.1).collect();
        let mut row = Row::new(&lines, STATIONS, self.whole);
        for &(section, along) in &places {
            canvas.line("stations", [[along, 0.0], [along, HEIGHT]], STATION);
            row.beside(canvas, "stations", along, 2.0, NAME, &self.name(section));
        }
        lines
    }

    /// Where the gains end, right across, and the land's name between; returns whether it is the after one, and where.
    fn gains(&self, canvas: &mut Canvas<'_>, stations: &[f64]) -> Vec<(bool, f64)> {
        let gains = self.boat.plan.spec.gains_on(self.whole);
        let mut uprights = stations.to_vec();
        uprights.extend(gains.iter().map(|g| g.1));
        let mut row = Row::new(&uprights, LANDS, self.whole);
        row.beside(canvas, "names", 0.0, 2.0, NAME, &format!("\u{2190} bow end: {}", self.name(0)));
        let gain = |canvas: &mut Canvas<'_>, row: &mut Row<'_>, aft: bool| {
            if let Some((_, along)) = gains.iter().find(|g| g.0 == aft) {
                canvas.line("gains", [[*along, 0.0], [*along, HEIGHT]], LAND);
                let text = if aft { "gain begins \u{2192}" } else { "\u{2190} gain begins" };
                row.beside(canvas, "gains", *along, 2.0, SMALL, text);
            }
        };
        gain(canvas, &mut row, false);
        let name =
            format!("\u{2190} bow   Land {0}: strake {1} on strake {0}", self.strake.strake, self.strake.strake + 1);
        let wide = canvas.width(NAME, &name);
        let to = gains.iter().find(|g| g.0).map_or(self.whole, |g| g.1) - wide - 30.0;
        let mut u = row.taken.max(0.0) + 0.5 * wide;
        while u + wide < to {
            // Clear of the next upright, or past it.
            let struck = uprights.iter().copied().find(|s| (u - 1.0..u + wide + 1.0).contains(s));
            if let Some(s) = struck {
                u = s + 2.0;
                continue;
            }
            canvas.words("names", [u, LANDS], Anchor::Left, NAME, &name);
            row.taken = u + 1.5 * wide + 2.0;
            u += NAMED_EVERY;
        }
        gain(canvas, &mut row, true);
        let last = self.boat.plan.sections.len().saturating_sub(1);
        row.beside(canvas, "names", self.whole, 2.0, NAME, &format!("{} \u{2192}", self.name(last)));
        gains
    }

    /// What a section is called, if there is one.
    fn name(&self, section: usize) -> String {
        self.boat.plan.sections.get(section).map_or_else(String::new, place_name)
    }

    /// The timbers' centres where they cross the edge.
    fn timbers(&self, canvas: &mut Canvas<'_>, uprights: &[f64]) {
        let mut row = Row::new(uprights, TIMBERS, self.whole);
        for timber in self.boat.plan.timbers.iter().filter(|t| self.strake.strake <= t.head) {
            let Some(along) = self.strake.along_in_plane(timber.x, timber.slope()) else { continue };
            let stroke = Stroke { dash: crate::drawing::Dash::Solid, weight: Weight::Medium, ..TIMBER };
            canvas.line("timbers", [[along, 0.0], [along, TIMBER_TICK]], stroke);
            canvas.line("timbers", [[along, HEIGHT - TIMBER_TICK], [along, HEIGHT]], stroke);
            row.beside(canvas, "timbers", along, 1.2, SMALL.face(Face::Italic), &format!("timber {}", timber.n));
        }
    }

    /// The rivets' ticks, dots and numbers; open circles round those that wait for a mould, squares inside gains.
    fn rivets(&self, canvas: &mut Canvas<'_>, uprights: &[f64]) {
        let mut numbers = Row::new(uprights, RIVETS, self.whole);
        let mut moulds = Row::new(uprights, MOULDS, self.whole);
        let pen = Stroke::solid(Weight::Thin, look::COPPER);
        for rivet in self.boat.plan.rivets.iter().filter(|r| r.land == self.strake.strake) {
            let u = rivet.along;
            canvas.line("rivets", [[u, 0.0], [u, RIVET_TICK]], pen);
            canvas.line("rivets", [[u, HEIGHT - RIVET_TICK], [u, HEIGHT]], pen);
            let mould = rivet.blocked_by.and_then(|i| self.boat.plan.moulds.get(i));
            match mould {
                Some(_) => canvas.circle("rivets that wait", [u, RIVETS], OPEN, look::COPPER),
                None => canvas.dot("rivets", [u, RIVETS], DOT, look::COPPER),
            }
            if rivet.in_gain {
                let corner = |x: f64, y: f64| [u + x * SQUARE, RIVETS + y * SQUARE];
                let square = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
                canvas.closed("rivets in gains", square, pen);
            }
            numbers.beside(canvas, "rivets", u, SQUARE + 1.0, NUMBER, &rivet.n.to_string());
            if let Some(mould) = mould {
                let name: String = mould.name.chars().take(16).collect();
                moulds.beside(canvas, "rivets that wait", u, 1.2, SMALL, &format!("mould {name}"));
            }
        }
    }

    fn notes(&self) -> Vec<String> {
        let (len, k) = (self.boat.len, self.strake.strake);
        let mut notes = vec![format!(
            "The land line, strake {k}'s upper inner edge, straightened: {} from its fore end to its after end. Bow to the \
             left is port seen from outside; turned end for end it is starboard. Either long edge may lie on the plank's \
             edge. Paper grows and shrinks with the weather: check the whole length before you trust a tick.",
            len.long_unit(self.whole)
        )];
        let lines = "Right across: stations, and in copper where the gains end. Longer ticks: timbers' centres.";
        if self.boat.plan.rivets.iter().any(|r| r.land == k) {
            notes.push(format!(
                "Short ticks: rivets, in the middle of the land square below them. An open circle waits until the mould named \
                 is out; one in a square is inside a gain. {lines}"
            ));
        } else {
            notes.push(lines.to_owned());
        }
        notes
    }
}
