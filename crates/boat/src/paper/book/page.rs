//! A page of the book: a sheet with a frame, and the few ways in which words and lines get onto it.

use super::length::Lengths;
use super::look;
use super::tables;
use crate::drawing::typeface::{CAP_HEIGHT, DESCENT, Type};
use crate::drawing::words::{self, Style};
use crate::drawing::{Anchor, Face, Item, Shape, Sheet, Spot, Stroke, Weight};
pub use crate::paper::measured::size as box_size;
use crate::paper::{PaperSize, measured};
use crate::plan::Plan;

/// What every page needs to know.
pub struct Book<'a> {
    /// The boat.
    pub plan: &'a Plan,
    /// The type.
    pub t: &'a Type,
    /// The paper.
    pub paper: PaperSize,
    /// The boat's notation.
    pub len: Lengths,
}

impl<'a> Book<'a> {
    /// Of a boat, on that paper, in her own notation.
    pub fn new(t: &'a Type, plan: &'a Plan, paper: PaperSize) -> Self {
        Book { plan, t, paper, len: Lengths(plan.spec.lengths) }
    }

    /// A page with its head: the title, and to the right of it what it belongs to.
    pub fn page(&self, title: &str, beside: &str) -> Page<'a> {
        let mut page = self.blank(title);
        let base = page.frame.top + look::TITLE.size * CAP_HEIGHT;
        page.words([page.frame.left, base], Anchor::Left, look::TITLE, title);
        let room = page.frame.width() - page.width(look::TITLE, title) - 8.0;
        page.words_within([page.frame.right, base], Anchor::Right, look::BODY.face(Face::Italic), room, beside);
        page.rule(base + 3.4);
        page.frame.top = base + 3.4 + 5.0;
        page
    }

    /// A page with something drawn to scale on it: the measured box stands in its upper right corner.
    pub fn page_to_scale(&self, title: &str, beside: &str) -> Page<'a> {
        Page::to_scale(self.t, self.paper.landscape(), self.len, title, beside)
    }

    /// A page without a head.
    pub fn blank(&self, title: &str) -> Page<'a> {
        self.blank_of(title, self.paper.landscape())
    }

    /// A page without a head, standing on its short side.
    pub fn upright(&self, title: &str) -> Page<'a> {
        self.blank_of(title, self.paper.upright())
    }

    fn blank_of(&self, title: &str, [width, height]: [f64; 2]) -> Page<'a> {
        Page::blank(self.t, [width, height], title)
    }

    /// Name of the station that distances are measured from.
    pub fn first_station(&self) -> String {
        crate::paper::first_station(self.plan)
    }

    /// Numbers in tables: with fractions they must be larger.
    pub fn number(&self) -> Style {
        tables::number(self.len)
    }
}

/// The layers of every page, the undermost first.
const LAYERS: [&str; 4] = ["ground", "boat", "ink", "words"];
/// Free at the edge where a page is punched or clipped, mm.
const MARGIN_BOUND: f64 = 16.0;
/// Free at the other edges, mm.
const MARGIN: f64 = 12.0;
/// Free under the frame, with the foot line in it, mm.
const FOOT: f64 = 17.0;

/// Left free after a paragraph under a head, mm; after the last of them nothing stands.
pub const AFTER: f64 = UNDER + BETWEEN;
/// The part of it that is left after every paragraph, mm.
const UNDER: f64 = 2.6;
/// The part of it that is left before the next head, mm.
const BETWEEN: f64 = 2.4;

/// Where on a page something may stand, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// mm from the left edge of the sheet.
    pub left: f64,
    /// mm from the left edge of the sheet.
    pub right: f64,
    /// mm from the top edge of the sheet.
    pub top: f64,
    /// mm from the top edge of the sheet.
    pub bottom: f64,
}

impl Frame {
    /// mm.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// mm.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Column `i` of `n` equal ones with `gap` mm between.
    pub fn column(&self, i: usize, n: usize, gap: f64) -> Frame {
        let width = (self.width() - gap * (n as f64 - 1.0)) / n as f64;
        let left = self.left + i as f64 * (width + gap);
        Frame { left, right: left + width, ..*self }
    }
}

/// A page being filled.
pub struct Page<'a> {
    /// The type.
    pub t: &'a Type,
    /// The sheet.
    pub sheet: Sheet,
    /// What is still free.
    pub frame: Frame,
}

impl<'a> Page<'a> {
    /// A page `width` by `height` mm without a head.
    pub fn blank(t: &'a Type, [width, height]: [f64; 2], title: &str) -> Self {
        let mut sheet = Sheet::new(width, height, title);
        sheet.layers = LAYERS.iter().map(|name| crate::drawing::Layer { name, items: Vec::new() }).collect();
        let frame = Frame { left: MARGIN_BOUND, right: width - MARGIN, top: MARGIN, bottom: height - FOOT };
        Page { t, sheet, frame }
    }

    /// The same with a title, what stands to the right of it, and the measured box.
    pub fn to_scale(t: &'a Type, size: [f64; 2], len: Lengths, title: &str, beside: &str) -> Self {
        let mut page = Page::blank(t, size, title);
        let Frame { left, right, top, .. } = page.frame;
        let [width, height] = box_size(len.inches());
        page.measured_box([right - width, top], len.inches());
        let base = top + height - 5.4;
        page.words([left, base], Anchor::Left, look::TITLE, title);
        let room = right - left - width - 14.0 - page.width(look::TITLE, title);
        page.words_within([right - width - 6.0, base], Anchor::Right, look::BODY.face(Face::Italic), room, beside);
        page.rule(top + height + 2.0);
        page.frame.top = top + height + 2.0 + 5.0;
        page
    }

    /// A line of words.
    pub fn words(&mut self, at: Spot, anchor: Anchor, style: Style, words: &str) {
        self.sheet.put("words", words::line(self.t, style, at, anchor, words));
    }

    /// A line of somebody's own words, which may be long: set smaller if it must be, and cut short if that will not do.
    pub fn words_within(&mut self, at: Spot, anchor: Anchor, style: Style, measure: f64, words: &str) {
        let (style, cut) = words::within(self.t, style, measure, words);
        self.words(at, anchor, style, &cut);
    }

    /// How long a line of words is, mm.
    pub fn width(&self, style: Style, words: &str) -> f64 {
        words::width(self.t, style, words)
    }

    /// A paragraph whose first line's capitals touch `top`; returns the top of what follows.
    pub fn paragraph(&mut self, at: Spot, measure: f64, style: Style, text: &str) -> f64 {
        let mut base = at[1] + CAP_HEIGHT * style.size;
        for line in words::wrap(self.t, style, measure, text) {
            if !line.is_empty() {
                self.words([at[0], base], Anchor::Left, style, &line);
            }
            base += style.size * look::LEADING;
        }
        base - style.size * (look::LEADING - DESCENT) + UNDER
    }

    /// How tall a paragraph is, mm.
    pub fn paragraph_height(&self, measure: f64, style: Style, text: &str) -> f64 {
        let lines = words::wrap(self.t, style, measure, text).len() as f64;
        CAP_HEIGHT * style.size + (lines - 1.0) * style.size * look::LEADING + DESCENT * style.size + UNDER
    }

    /// A head and a paragraph under it; returns the top of what follows.
    pub fn headed(&mut self, at: Spot, measure: f64, head: &str, text: &str) -> f64 {
        self.headed_in(look::BODY, at, measure, head, text)
    }

    fn headed_in(&mut self, style: Style, at: Spot, measure: f64, head: &str, text: &str) -> f64 {
        let top = self.head(at, head);
        self.paragraph([at[0], top], measure, style, text) + BETWEEN
    }

    /// Heads and paragraphs one under another from the top of `frame`, in type of that size, mm to the em; whether they fit is
    /// [`Page::prose_size`]'s to say.
    pub fn prose(&mut self, frame: Frame, size: f64, sections: &[(&str, &str)]) {
        let mut y = frame.top;
        for (head, text) in sections {
            y = self.headed_in(look::BODY.size(size), [frame.left, y], frame.width(), head, text);
        }
    }

    /// How tall these heads and paragraphs are in type of that size, mm.
    pub fn prose_height(&self, measure: f64, size: f64, sections: &[(&str, &str)]) -> f64 {
        let head = CAP_HEIGHT * look::HEAD.size + 3.0 + BETWEEN;
        sections.iter().map(|(_, text)| head + self.paragraph_height(measure, look::BODY.size(size), text)).sum()
    }

    /// The largest type in which these heads and paragraphs fit into `frame`, mm to the em; the least that can be read where none
    /// does.
    pub fn prose_size(&self, frame: Frame, sections: &[(&str, &str)]) -> f64 {
        let sizes = [4.6, 4.4, 4.2, 4.0, 3.8, 3.6, 3.4, 3.2];
        sizes
            .into_iter()
            .find(|size| self.prose_height(frame.width(), *size, sections) <= frame.height())
            .unwrap_or(words::LEAST_SIZE)
    }

    /// A head; returns the top of what follows.
    pub fn head(&mut self, at: Spot, head: &str) -> f64 {
        let base = at[1] + CAP_HEIGHT * look::HEAD.size;
        self.words([at[0], base], Anchor::Left, look::HEAD, head);
        base + 3.0
    }

    /// A line.
    pub fn line(&mut self, points: Vec<Spot>, stroke: Stroke) {
        self.sheet.put("ink", Shape::line(points, stroke));
    }

    /// Anything else.
    pub fn put(&mut self, layer: &'static str, item: Item) {
        self.sheet.put(layer, item);
    }

    /// The rule under a page's head: a strake's length in wood, carried on fine.
    pub fn rule(&mut self, y: f64) {
        let Frame { left, right, .. } = self.frame;
        self.put("ink", Shape::line(vec![[left, y], [right, y]], look::RULE));
        let short = left + 34.0;
        self.put("ink", Shape::line(vec![[left, y], [short, y]], Stroke::solid(Weight::Heavy, look::SHADE)));
    }

    /// The box that proves the scale; returns its bottom.
    pub fn measured_box(&mut self, at: Spot, inches: bool) -> f64 {
        measured::put(self.t, &mut self.sheet, ["ink", "words"], at, inches);
        at[1] + box_size(inches)[1]
    }

    /// The foot line, once the number of pages is known.
    pub fn foot(&mut self, boat: &str, legend: &str, page: usize, of: usize) {
        let [width, height] = [self.sheet.width, self.sheet.height];
        let base = height - 8.0;
        let style = look::NOTE;
        let (left, right) = (MARGIN_BOUND, width - MARGIN);
        self.put("ink", Shape::line(vec![[left, base - 4.4], [right, base - 4.4]], look::RULE));
        self.words_within([left, base], Anchor::Left, style.face(Face::Italic), (right - left) * 0.26, boat);
        self.words([(left + right) / 2.0, base], Anchor::Middle, style, legend);
        self.words([right, base], Anchor::Right, style, &format!("page {page} of {of}"));
    }
}
