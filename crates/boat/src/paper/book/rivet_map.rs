//! The rivets of one land as a drawing: the land laid straight in a few rows, with what stands by each rivet.
//!
//! To scale along the land only: across, the land is drawn as wide as its marks need.

use super::length::degrees;
use super::look;
use super::page::{Book, Frame, Page};
use super::rivets::{count, of_land};
use super::strake::section_name;
use super::view::{customary, scale_words};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::fastenings::Rivet;
use crate::lines::SectionAt;
use crate::planks::Strake;
use crate::scarfs::Scarf;

/// A row should be no more than so many times smaller than the land, so that the rivets' numbers have room.
const SMALLEST: f64 = 6.0;
/// Most rows on a page.
const ROWS: usize = 3;
/// Each row begins and ends with so much of the next, mm of paper.
const SHARED: f64 = 6.0;
/// Heights of a row's parts, mm of paper: names over it, strake k+1, the land, strake k.
const OVER: f64 = 10.0;
const UPPER: f64 = 8.0;
const LAND: f64 = 8.0;
const LOWER: f64 = 9.0;
/// Foot of the rivets' numbers under the land, mm of paper.
const NUMBERS: f64 = 5.6;
/// Radius of a rivet's dot, and of the ring round one that waits, mm of paper.
const DOT: f64 = 0.8;
const RING: f64 = 1.7;
/// Half the side of the square round a rivet in a gain, mm of paper.
const SQUARE: f64 = 2.3;

const NUMBER: Style = look::NOTE.face(Face::Bold).colour(look::COPPER);
const TIMBER: Stroke = Stroke::broken(Weight::Fine, look::PENCIL, Dash::Hidden);
const GAIN: Stroke = Stroke::solid(Weight::Thin, look::COPPER);

/// The map of the land on a strake's upper edge; none where it has no rivets.
pub fn page<'a>(book: &Book<'a>, strake: &Strake) -> Option<Page<'a>> {
    let rivets = of_land(book, strake.strake);
    let whole = strake.rulings.last()?.along;
    if rivets.is_empty() || whole.is_nan() || whole <= 0.0 {
        return None;
    }
    let k = strake.strake;
    let beside = format!("strake {} on strake {k}, {} a side", k + 1, count(rivets.len(), "rivet"));
    let mut page = book.page_to_scale(&format!("Rivet map of land {k}"), &beside);
    let frame = page.frame;
    let paper = frame.width() - 2.0 * SHARED;
    let rows = (1..ROWS).find(|n| whole / *n as f64 / paper <= SMALLEST).unwrap_or(ROWS);
    let scale = customary(whole / rows as f64 / paper, book.len.0);
    let legend = legend(book, k, &scale_words(scale, book.len.0));
    let top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, &legend) + 1.0;
    let each = (frame.bottom - top) / rows as f64;
    for row in 0..rows {
        let along = whole / rows as f64;
        let from = if row == 0 { 0.0 } else { row as f64 * along - SHARED * scale };
        let to = if row + 1 == rows { whole } else { (row + 1) as f64 * along + SHARED * scale };
        let left = frame.left + if row == 0 { SHARED } else { 0.0 };
        let base = top + row as f64 * each + (each - OVER - UPPER - LAND - LOWER - 11.0).max(0.0) / 2.0;
        Row { book, strake, rivets: &rivets, scale, from, to, left, top: base }.draw(&mut page, frame);
    }
    Some(page)
}

fn legend(book: &Book<'_>, k: usize, scale: &str) -> String {
    let plan = book.plan;
    let mut words = format!(
        "The land laid straight, port side seen from outside, bow to the left; along it {scale}, across at no scale. Broken: the \
         land line, strake {k}'s upper edge behind strake {}. Dots are rivets. Under each timber its number, as t 3, and how far the \
         drill leans there off square to strake {k}: its head end up, or with \u{2212} down.",
        k + 1
    );
    let scarfed = |s: usize| plan.made.iter().any(|m| m.strake == s && !m.scarfs.is_empty());
    if scarfed(k) || scarfed(k + 1) {
        words.push_str(" Slanting: a scarf of the strake it crosses.");
    }
    let waits = plan.rivets.iter().any(|r| r.land == k && r.blocked_by.is_some());
    if waits {
        words.push_str(" A ring waits until the mould over it is out.");
    }
    if !plan.spec.gains_on(f64::INFINITY).is_empty() {
        words.push_str(" A square is inside a gain, which ends at the copper line.");
    }
    words.push_str(
        " Copper driven on a dolly is loud and snipped ends fly: ears and eyes covered, on both sides of the plank.",
    );
    words
}

/// One row of the map.
struct Row<'a, 'b> {
    book: &'b Book<'a>,
    strake: &'b Strake,
    rivets: &'b [&'b Rivet],
    /// mm of the boat to the mm of paper, along.
    scale: f64,
    /// The part of the land it shows, mm from the bow.
    from: f64,
    to: f64,
    /// On paper, mm.
    left: f64,
    top: f64,
}

impl Row<'_, '_> {
    fn u(&self, along: f64) -> f64 {
        self.left + (along - self.from) / self.scale
    }

    fn shows(&self, along: f64) -> bool {
        (self.from..=self.to).contains(&along)
    }

    /// The row's heights on paper: top of strake k+1, top and foot of the land, foot of strake k.
    fn heights(&self) -> [f64; 4] {
        let upper = self.top + OVER;
        [upper, upper + UPPER, upper + UPPER + LAND, upper + UPPER + LAND + LOWER]
    }

    fn draw(&self, page: &mut Page<'_>, frame: Frame) {
        let [upper, land, under, lower] = self.heights();
        let (left, right) = (self.u(self.from), self.u(self.to));
        let band = |top: f64, foot: f64| vec![[left, top], [right, top], [right, foot], [left, foot]];
        page.put("ground", Shape::area(band(under, lower), look::WOOD, None));
        page.put("ground", Shape::area(band(upper, under), look::PAPER, None));
        self.moulds(page, [upper, lower]);
        let run = |v: f64| vec![[left, v], [right, v]];
        page.line(run(land), Stroke::broken(Weight::Medium, look::INK, Dash::Hidden));
        page.line(run(under), look::BOLD);
        for (end, u) in [(0.0, left), (self.strake.rulings.last().map_or(0.0, |r| r.along), right)] {
            if self.shows(end) {
                page.line(vec![[u, upper], [u, lower]], look::BOLD);
            }
        }
        self.stations(page, [upper, lower]);
        self.gains(page, [upper, lower]);
        self.scarfs(page);
        self.timbers(page, [upper, lower]);
        self.dots(page, frame);
    }

    /// Bands where moulds stand, with their names over them.
    fn moulds(&self, page: &mut Page<'_>, [upper, lower]: [f64; 2]) {
        for mould in &self.book.plan.moulds {
            let ends = [mould.fore, mould.aft].map(|x| self.strake.along_in_plane(x, 0.0));
            let [Some(fore), Some(aft)] = ends else { continue };
            if !self.shows(fore) || !self.shows(aft) {
                continue;
            }
            let (a, b) = (self.u(fore), self.u(aft));
            let band = vec![[a, upper], [b, upper], [b, lower], [a, lower]];
            page.put("ground", Shape::area(band, look::COPPER_TINT, None));
        }
    }

    /// A line across the row that leaves out the rivets' numbers.
    fn upright(&self, page: &mut Page<'_>, u: f64, [top, foot]: [f64; 2], stroke: Stroke) {
        let [_, _, under, _] = self.heights();
        page.line(vec![[u, top], [u, under]], stroke);
        page.line(vec![[u, under + NUMBERS], [u, foot]], stroke);
    }

    /// Stations across the row, named over it.
    fn stations(&self, page: &mut Page<'_>, [upper, lower]: [f64; 2]) {
        let mut taken = f64::MIN;
        for at in &self.strake.at {
            let Some(along) = self.strake.rulings.get(at.ruling).map(|r| r.along).filter(|a| self.shows(*a)) else {
                continue;
            };
            let u = self.u(along);
            let station =
                self.book.plan.sections.get(at.section).is_some_and(|s| matches!(s.at, SectionAt::Station(_)));
            if station {
                self.upright(page, u, [upper - 2.0, lower], look::GUIDE);
            }
            let name = section_name(self.book, at.section);
            let wide = page.width(look::NOTE, &name);
            let left = (u - 0.5 * wide).clamp(self.u(self.from), self.u(self.to) - wide);
            if left > taken {
                page.words([left, upper - 3.4], Anchor::Left, look::NOTE, &name);
                taken = left + wide + 1.5;
            }
        }
    }

    /// A line where a gain ends.
    fn gains(&self, page: &mut Page<'_>, [upper, lower]: [f64; 2]) {
        let whole = self.strake.rulings.last().map_or(0.0, |r| r.along);
        for (_, along) in self.book.plan.spec.gains_on(whole) {
            if self.shows(along) {
                self.upright(page, self.u(along), [upper, lower], GAIN);
            }
        }
    }

    /// Scarfs of the two strakes, each across its own.
    fn scarfs(&self, page: &mut Page<'_>) {
        let [upper, land, under, lower] = self.heights();
        let k = self.strake.strake;
        for made in &self.book.plan.made {
            let [top, foot] = match made.strake {
                s if s == k => [land, lower],
                s if s == k + 1 => [upper, under],
                _ => continue,
            };
            for scarf in &made.scarfs {
                let Some(middle) = self.strake.along_in_plane(scarf.x, 0.0) else { continue };
                let half = 0.5 * long(scarf);
                if !self.shows(middle - half) || !self.shows(middle + half) {
                    continue;
                }
                let line = vec![[self.u(middle - half), top], [self.u(middle + half), foot]];
                page.line(line, Stroke::solid(Weight::Medium, look::SHADE));
            }
        }
    }

    /// Both sides of each timber, broken; its number and the drill's lean under it.
    fn timbers(&self, page: &mut Page<'_>, [upper, lower]: [f64; 2]) {
        let half = 0.5 * self.book.plan.spec.timbers.sided / self.scale;
        let mut taken = [f64::MIN; 2];
        for (i, timber) in self.book.plan.timbers.iter().enumerate().filter(|(_, t)| self.strake.strake <= t.head) {
            let through = self.rivets.iter().find(|r| r.timber == Some(i));
            let Some(u) = through.map(|r| r.along).filter(|a| self.shows(*a)).map(|a| self.u(a)) else { continue };
            for side in [u - half, u + half] {
                self.upright(page, side, [upper, lower], TIMBER);
            }
            let lean = through.map_or_else(String::new, |r| degrees(r.lean));
            let number = format!("t {}", timber.n);
            for (row, words) in [number.as_str(), lean.as_str()].into_iter().enumerate() {
                let wide = page.width(look::NOTE, words);
                let left = u - 0.5 * wide;
                if left > taken[row] && left > self.u(self.from) && left + wide < self.u(self.to) {
                    page.words([left, lower + 3.6 + 3.8 * row as f64], Anchor::Left, look::NOTE, words);
                    taken[row] = left + wide + 1.5;
                }
            }
        }
    }

    /// The rivets, and under the land as many of their numbers as have room, those at timbers before the others.
    fn dots(&self, page: &mut Page<'_>, frame: Frame) {
        let [_, land, under, _] = self.heights();
        let v = f64::midpoint(land, under);
        let pen = Stroke::solid(Weight::Fine, look::COPPER);
        // What would go over the edge of the row stands on the other row, which shows this stretch too.
        let [fore, aft] = [self.from > 0.0, self.strake.rulings.last().is_some_and(|r| self.to < r.along)];
        let whole = |r: &&&Rivet| {
            let u = self.u(r.along);
            (!fore || u - RING > self.u(self.from)) && (!aft || u + RING < self.u(self.to))
        };
        let shown: Vec<&&Rivet> = self.rivets.iter().filter(|r| self.shows(r.along)).filter(whole).collect();
        for rivet in &shown {
            let at = [self.u(rivet.along), v];
            page.put("ink", Shape::circle(at, DOT, None, Some(look::COPPER)));
            if rivet.blocked_by.is_some() {
                page.put("ink", Shape::circle(at, RING, Some(pen), None));
            }
            if rivet.in_gain {
                let corner = |x: f64, y: f64| [at[0] + x * SQUARE, at[1] + y * SQUARE];
                let square = vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
                page.put("ink", Shape::polygon(square, pen));
            }
        }
        let mut taken: Vec<[f64; 2]> = Vec::new();
        let at_timbers = shown.iter().filter(|r| r.timber.is_some());
        for rivet in at_timbers.chain(shown.iter().filter(|r| r.timber.is_none())) {
            let (u, words) = (self.u(rivet.along), rivet.n.to_string());
            let wide = page.width(NUMBER, &words);
            let span = [u - 0.5 * wide, u + 0.5 * wide];
            let free = taken.iter().all(|t| span[1] + 1.2 < t[0] || t[1] + 1.2 < span[0]);
            if free && span[0] > frame.left && span[1] < frame.right {
                page.words([span[0], under + 4.4], Anchor::Left, NUMBER, &words);
                taken.push(span);
            }
        }
    }
}

/// How long a scarf is, mm.
fn long(scarf: &Scarf) -> f64 {
    let [[a, b], [c, d]]: [Spot; 2] = [scarf.fore.upper, scarf.aft.upper];
    (c - a).hypot(d - b)
}
