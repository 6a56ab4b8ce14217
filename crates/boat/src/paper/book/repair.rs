//! The card of a plank made from readings: its shape and offsets, its bevels, its rivets, and what the readings say.

use super::length::{Lengths, UNSEEN, degrees, of_wood};
use super::look;
use super::page::{AFTER, Frame, Page};
use super::strake::{BATTEN, LEFT};
use super::tables;
use super::view::{View, customary, scale_words};
use crate::development::left_long;
use crate::drawing::table::{Column, Group, Row, Table};
use crate::drawing::typeface::Type;
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Face, Shape, Sheet, Stroke, Weight};
use crate::fastenings::Rivet;
use crate::paper::PaperSize;
use crate::planks::{BevelAt, BevelPlace};
use crate::repair::{Job, LandOf, Mended, Spot};

/// What every page needs to know.
struct Card<'a> {
    t: &'a Type,
    paper: PaperSize,
    len: Lengths,
    job: &'a Job,
    made: &'a Mended,
}

/// The card as finished sheets.
#[must_use]
pub fn sheets(t: &Type, job: &Job, made: &Mended, paper: PaperSize) -> Vec<Sheet> {
    let card = Card { t, paper, len: Lengths(job.spec.lengths), job, made };
    let mut pages = card.front();
    pages.extend(card.bevels());
    pages.extend(card.rivets());
    pages.extend(card.readings());
    let of = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        page.foot(&job.spec.name, card.len.legend(), i + 1, of);
    }
    pages.into_iter().map(|page| page.sheet).collect()
}

const CAUTION: &str = "Old paint may hold lead, and old wood, dust and caulking worse: do not sand, burn or scrape it dry until you \
    know; wet it, mask yourself, keep children away, and follow the local rules for testing and waste. Old rivets: cut and punch with \
    the eyes covered; copper splinters fly. Shore the boat before a plank comes out of her. Steam scalds before it is seen. \
    You know your shed; this card does not.";

/// What the pages of its offsets are called.
const PLANK: &str = "The new plank";
/// The same of what is said.
const READINGS: &str = "Readings, and before you start";
/// Rows are as high as these, if the page allows, mm.
const ROWS: (f64, f64) = (6.0, 8.4);
/// Between two tables side by side, mm.
const GAP: f64 = 8.0;
/// Height kept for the drawing, mm.
const DRAWING: f64 = 42.0;

impl<'a> Card<'a> {
    fn page(&self, title: &str) -> Page<'a> {
        let beside = if self.job.plank.is_empty() { &self.job.spec.name } else { &self.job.plank };
        Page::to_scale(self.t, self.paper.landscape(), self.len, title, beside)
    }

    fn column(&self, head: &str, share: f64) -> Column {
        tables::numbers(self.len, head, share)
    }

    /// The plank on its board, and its offsets from the batten line; more pages where it has too many places for one.
    fn front(&self) -> Vec<Page<'a>> {
        let (flat, len, planking) = (&self.made.flat, self.len, &self.job.spec.planking);
        let mut page = self.page(PLANK);
        let frame = page.frame;
        let board = format!(
            "{}: least board {} × {}{}. Two lands of {}.",
            of_wood(&len.short_unit(planking.thickness), &planking.wood.name),
            len.long_unit(len.0.to_have(flat.length)),
            len.short_unit(len.0.to_have(flat.board_width)),
            if planking.left_long.iter().any(|l| *l > 0.0) { ", and what is left long at its ends" } else { "" },
            len.short_unit(planking.lap)
        );
        let mut top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY.face(Face::Semibold), &board);
        if !self.made.again.is_empty() {
            let warn = format!(
                "Measure {} again before wood is cut: the last sheet says which. What the others say was taken instead.",
                if self.made.again.len() == 1 {
                    "one reading".to_owned()
                } else {
                    format!("{} readings", self.made.again.len())
                }
            );
            let style = Style { colour: look::COPPER, face: Face::Bold, ..look::BODY };
            top = page.paragraph([frame.left, top], frame.width(), style, &warn);
        }
        let bottom = self.drawing(&mut page, Frame { top, bottom: top + DRAWING, ..frame });
        let mut table = self.offsets_table();
        let wide = frame.width();
        let room = frame.bottom - bottom - table.head_height(page.t, wide);
        let row = (room / table.rows.len().max(1) as f64).clamp(ROWS.0, ROWS.1);
        tables::grow(page.t, &mut table, wide, row);
        let height = frame.bottom - bottom + 1.0;
        let drawn = table.draw(page.t, &mut page.sheet, [frame.left, bottom], wide, height, 0);
        let mut pages = vec![page];
        pages.extend(tables::rest(&mut table, drawn.next, || self.page(PLANK)));
        pages
    }

    /// Every place's offsets and widths.
    fn offsets_table(&self) -> Table {
        let mut table = tables::table(
            vec![
                tables::names("place", 1.4),
                self.column("along", 1.3),
                self.column("off", 1.0),
                self.column("along", 1.3),
                self.column("off", 1.0),
                self.column("width on the tape", 1.1),
                self.column("shows", 1.0),
            ],
            ROWS.0,
        );
        table.groups = vec![
            Group { from: 1, to: 2, head: "lower edge".to_owned() },
            Group { from: 3, to: 4, head: "upper edge".to_owned() },
        ];
        let stations = &self.made.flat.stations;
        table.rows = stations.iter().map(|s| self.offsets(s.section, s.lower, s.upper)).collect();
        table
    }

    fn offsets(&self, place: usize, lower: [f64; 2], upper: [f64; 2]) -> Row {
        let (flat, len) = (&self.made.flat, self.len);
        let name = self.job.places.get(place).map_or("", |p| p.name.as_str());
        let at = self.made.plank.at.iter().find(|a| a.section == place);
        let short = |mm: Option<f64>| mm.map_or_else(String::new, |mm| len.short(mm));
        tables::row([
            name.to_owned(),
            len.long(lower[0]),
            len.short(lower[1] - flat.batten),
            len.long(upper[0]),
            len.short(upper[1] - flat.batten),
            short(at.map(|a| a.width)),
            short(at.map(|a| a.shows)),
        ])
    }

    /// The plank to scale; returns the top of what follows.
    fn drawing(&self, page: &mut Page<'a>, room: Frame) -> f64 {
        let flat = &self.made.flat;
        let long = left_long(flat, self.job.spec.allowance(false));
        let least = (long.board[0] / (room.width() - 2.0)).max(long.board[1] / (room.height() - 16.0));
        let scale = customary(least, self.len.0);
        let caption = format!(
            "Outer face, forward to the left, {}. Offsets are measured from the batten line, the chain line, {} over the board's \
             lower edge, and along it from the board's end; \u{2212} is below it.",
            scale_words(scale, self.len.0),
            self.len.short_unit(flat.batten)
        );
        let top = page.paragraph([room.left, room.top], room.width(), look::NOTE, &caption) + 5.0;
        let left = room.left + 0.5 * (room.width() - long.board[0] / scale) - long.corner[0] / scale;
        let view = View::new([left, top + (long.corner[1] + long.board[1]) / scale], scale);
        let outline = flat.lower.iter().chain(flat.upper.iter().rev()).copied();
        page.put("boat", Shape::area(view.run(outline), look::WOOD, Some(look::OUTLINE)));
        for run in long.runs() {
            page.line(view.run(run.iter().copied()), LEFT);
        }
        page.line(view.run([[0.0, flat.batten], [flat.length, flat.batten]]), BATTEN);
        let mut free = f64::MIN;
        for s in &flat.stations {
            page.line(view.run([s.lower, s.upper]), Stroke::solid(Weight::Fine, look::SHADE));
            let name = self.job.places.get(s.section).map_or("", |p| p.name.as_str());
            let [x, y] = view.at(s.upper[0], s.upper[1]);
            let half = 0.5 * page.width(look::NOTE, name);
            if x - half > free {
                page.words([x, y - 1.6], Anchor::Middle, look::NOTE.face(Face::Italic), name);
                free = x + half + 1.5;
            }
        }
        view.origin[1] - long.corner[1] / scale + 4.0
    }

    /// The bevels of both lands.
    fn bevels(&self) -> Vec<Page<'a>> {
        let lands = [
            (LandOf::Lower, "Lower land: the edge of the plank below, as the new plank wants it"),
            (LandOf::Upper, "Upper land: the new plank's own edge, for the plank above to lie on"),
        ];
        let mut pages = Vec::new();
        for (land, says) in lands {
            let bevels = &self.made.bevels[land as usize];
            if bevels.is_empty() {
                continue;
            }
            let mut table = tables::table(
                vec![
                    self.column("from forward", 1.2),
                    tables::names("at", 1.4),
                    tables::counts("bevel", 1.0),
                    self.column("block deep", 1.0),
                    self.column("edge left", 1.0),
                    self.column("gain deep", 1.0),
                ],
                ROWS.0,
            );
            table.rows = bevels.iter().map(|b| self.bevel(b)).collect();
            let note = match land {
                LandOf::Lower => {
                    "Her old land is bevelled already: try the block along it, and plane only where it wants more. Where the bevel \
                     has a minus the new plank's own lower inner edge is bevelled instead."
                }
                LandOf::Upper => {
                    "Plane by the block: as wide as the land, and so deep at its outer edge. Where the bevel has a minus, the plank above \
                     was bevelled, and the new one stays square."
                }
            };
            let blank = || {
                let mut page = self.page("Bevels");
                let frame = page.frame;
                let top = page.head([frame.left, frame.top], says) + 2.0;
                page.frame.top = page.paragraph([frame.left, top], frame.width(), look::NOTE, note) + 1.5;
                page
            };
            pages.extend(tables::in_columns(&mut table, GAP, ROWS.1, blank));
        }
        pages
    }

    fn bevel(&self, b: &BevelAt) -> Row {
        let place = match b.place {
            BevelPlace::Section(j) => self.job.places.get(j).map_or_else(String::new, |p| p.name.clone()),
            BevelPlace::Timber(i) => format!("timber {}", i + 1),
            BevelPlace::Step => String::new(),
        };
        let fine = |mm: f64| self.len.fine(mm);
        let gain = if b.gain < UNSEEN { String::new() } else { fine(b.gain) };
        tables::row([self.len.long(b.along), place, degrees(b.bevel), fine(b.off), fine(b.edge_left), gain])
    }

    /// The rivets of both lands.
    fn rivets(&self) -> Vec<Page<'a>> {
        let mut pages = Vec::new();
        for (land, says) in [(LandOf::Lower, "Lower land"), (LandOf::Upper, "Upper land")] {
            let rivets = &self.made.rivets[land as usize];
            if rivets.is_empty() {
                continue;
            }
            let old = self.job.holes.iter().any(|h| h.land == land);
            let mut table = tables::table(
                vec![
                    tables::names("no.", 0.7),
                    self.column("from forward", 1.2),
                    self.column("along the line", 1.2),
                    tables::counts("lean", 0.9),
                    self.column("grip", 1.0),
                    self.column("nail", 1.0),
                    tables::text("", 0.9),
                ],
                ROWS.0,
            );
            table.rows = rivets.iter().map(|r| self.rivet(r)).collect();
            let note = format!(
                "{} Head in the middle of the land. Lean: how far the drill stands off square to the inner plank, + with the head up. \
                 Nails of gauge {}.",
                if old {
                    "Through the old holes of holes.csv."
                } else {
                    "New holes: set them where the old ones are not."
                },
                self.job.spec.fastenings.gauge
            );
            let blank = || {
                let mut page = self.page("Rivets");
                let frame = page.frame;
                let top = page.head([frame.left, frame.top], &format!("{says}: {} rivets", rivets.len())) + 2.0;
                page.frame.top = page.paragraph([frame.left, top], frame.width(), look::NOTE, &note) + 1.5;
                page
            };
            pages.extend(tables::in_columns(&mut table, GAP, ROWS.1, blank));
        }
        pages
    }

    fn rivet(&self, r: &Rivet) -> Row {
        let len = self.len;
        let nail = r.nail.map_or_else(|| "none so long".to_owned(), |mm| len.short(mm));
        let through = match r.timber {
            Some(i) => format!("timber {}", i + 1),
            None if r.in_gain => "gain".to_owned(),
            None => String::new(),
        };
        tables::row([
            r.n.to_string(),
            len.long(r.along),
            len.long(r.at.x),
            degrees(r.lean),
            len.fine(r.grip),
            nail,
            through,
        ])
    }

    /// What the readings say, what to look at, and the cautions.
    fn readings(&self) -> Vec<Page<'a>> {
        let mut flow = Flow { card: self, pages: vec![self.page(READINGS)] };
        for again in &self.made.again {
            let place = self.job.places.get(again.place).map_or("", |p| p.name.as_str());
            let text = format!(
                "Measure again: place {place}, {}_{}: read {}, and the others say about {}.",
                again.spot.word(),
                if again.up { "up" } else { "in" },
                self.len.short_unit(again.read),
                self.len.short_unit(again.others)
            );
            let style = Style { colour: look::COPPER, face: Face::Bold, ..look::BODY };
            flow.put(style, None, &text);
        }
        let most = |spots: [Spot; 2]| {
            let of = |at: &[Option<[f64; 2]>; 4]| spots.map(|s| at[s as usize].unwrap_or_default());
            self.made.moved.iter().flat_map(of).flatten().fold(0.0_f64, |m, v| m.max(v.abs()))
        };
        let text = format!(
            "Fair lines were laid through {} places. No edge was moved by more than {}, of the {} that a tape may be off; no face was \
             turned by more than {} where it was measured, since it is read off two spots.",
            self.job.places.len(),
            self.len.fine_unit(most([Spot::EdgeBelow, Spot::EdgeAbove])),
            self.len.fine_unit(self.job.tape),
            self.len.fine_unit(most([Spot::FaceBelow, Spot::FaceAbove]))
        );
        flow.put(look::BODY, Some("How far the readings were moved"), &text);
        for f in &self.made.findings {
            let figures = f
                .figures(self.job.spec.lengths)
                .map_or_else(String::new, |[measured, limit]| format!("{measured} (limit {limit}): "));
            flow.put(look::BODY, Some(&f.place), &format!("{figures}{}", f.hint));
        }
        flow.put(look::BODY, Some("Cautions"), CAUTION);
        flow.pages
    }
}

/// Paragraphs one under another, over as many pages as they take.
struct Flow<'a, 'c> {
    card: &'c Card<'a>,
    /// What is free on the last is its frame.
    pages: Vec<Page<'a>>,
}

impl Flow<'_, '_> {
    /// A paragraph, under its head where it has one.
    fn put(&mut self, style: Style, head: Option<&str>, text: &str) {
        let tall = |page: &Page<'_>| match head {
            Some(head) => page.prose_height(page.frame.width(), style.size, &[(head, text)]),
            None => page.paragraph_height(page.frame.width(), style, text),
        };
        if self.pages.last().is_none_or(|page| page.frame.height() + AFTER < tall(page)) {
            self.pages.push(self.card.page(READINGS));
        }
        let Some(page) = self.pages.last_mut() else { return };
        let ([left, top], wide) = ([page.frame.left, page.frame.top], page.frame.width());
        page.frame.top = match head {
            Some(head) => page.headed([left, top], wide, head, text),
            None => page.paragraph([left, top], wide, style, text),
        };
    }
}
