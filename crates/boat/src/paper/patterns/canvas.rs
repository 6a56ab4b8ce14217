//! A pattern being drawn: a plane of the boat at full size, and the strip of words under it.

use super::Boat;
use crate::drawing::place::{Bounds, Move};
use crate::drawing::typeface::Type;
use crate::drawing::words::{self, Style};
use crate::drawing::{Anchor, Colour, Dash, Face, Item, Shape, Sheet, Spot, Stroke, Weight};
use crate::lines::Section;
use crate::paper::book::length::Lengths;
use crate::paper::book::look;
use crate::paper::measured;

/// The words under a drawing; a tile has its own.
pub const TITLE: &str = "title";
/// The measured box; a tile has its own.
pub const BOX: &str = "measured box";

/// What is cut to.
pub const CUT: Stroke = Stroke::solid(Weight::Thick, look::INK);
/// Where a land ends, or a mark across an edge.
pub const LAND: Stroke = Stroke::solid(Weight::Medium, look::COPPER);
/// Stations and levels.
pub const STATION: Stroke = Stroke::solid(Weight::Thin, look::INK);
/// Centrelines and batten lines.
pub const CENTRE: Stroke = Stroke::broken(Weight::Thin, look::INK, Dash::Centre);
/// What lies behind, or is there for comparison.
pub const BEHIND: Stroke = Stroke::broken(Weight::Thin, look::PENCIL, Dash::Hidden);
/// The edge of the wood's other face.
pub const OTHER: Stroke = Stroke::broken(Weight::Medium, look::INK, Dash::Hidden);
/// What is left to be cut when a plank is fitted.
pub const LEFT: Stroke = Stroke::broken(Weight::Medium, look::INK, Dash::Hidden);

/// Names of marks and lines.
pub const NAME: Style = Style { size: 4.2, face: Face::Regular, colour: look::INK };
/// Numbers of lands.
pub const NUMBER: Style = Style { size: 5.0, face: Face::Bold, colour: look::COPPER };
/// Numbers of rivets and timbers.
pub const SMALL: Style = Style { size: 3.4, face: Face::Regular, colour: look::INK };
/// The name of the thing, on the thing.
pub const THING: Style = Style { size: 12.0, face: Face::Bold, colour: look::INK };

/// Free round everything, mm.
const MARGIN: f64 = 12.0;
/// Between the drawing and the words under it, mm.
const BETWEEN: f64 = 9.0;
/// The words under a drawing are at least and at most so wide with the box beside them, mm.
const STRIP: (f64, f64) = (235.0, 420.0);

/// A plane of the boat at full size: u to the right, v up, mm.
pub struct Canvas<'a> {
    t: &'a Type,
    len: Lengths,
    /// The boat's name and kind.
    whose: String,
    sheet: Sheet,
}

impl<'a> Canvas<'a> {
    pub fn new(boat: &'a Boat<'a>) -> Self {
        let spec = &boat.plan.spec;
        let whose = if spec.kind.is_empty() { spec.name.clone() } else { format!("{}, {}", spec.name, spec.kind) };
        Canvas::of(boat.t, boat.len, whose)
    }

    /// Of a boat of which there is no plan.
    pub fn of(t: &'a Type, len: Lengths, whose: String) -> Self {
        Canvas { t, len, whose, sheet: Sheet::new(0.0, 0.0, "") }
    }

    /// An open run of points.
    pub fn line(&mut self, layer: &'static str, run: impl IntoIterator<Item = [f64; 2]>, stroke: Stroke) {
        let points: Vec<Spot> = run.into_iter().map(down).collect();
        if points.len() > 1 {
            self.sheet.put(layer, Shape::line(points, stroke));
        }
    }

    /// A closed run of points.
    pub fn closed(&mut self, layer: &'static str, run: impl IntoIterator<Item = [f64; 2]>, stroke: Stroke) {
        self.sheet.put(layer, Shape::polygon(run.into_iter().map(down).collect(), stroke));
    }

    /// A circle.
    pub fn circle(&mut self, layer: &'static str, at: [f64; 2], radius: f64, colour: Colour) {
        self.sheet.put(layer, Shape::circle(down(at), radius, Some(Stroke::solid(Weight::Fine, colour)), None));
    }

    /// A filled circle.
    pub fn dot(&mut self, layer: &'static str, at: [f64; 2], radius: f64, colour: Colour) {
        let pen = Stroke::solid(Weight::Fine, colour);
        self.sheet.put(layer, Shape::circle(down(at), radius, Some(pen), Some(colour)));
    }

    /// Words whose capitals are centred in height on `at`.
    pub fn words(&mut self, layer: &'static str, at: [f64; 2], anchor: Anchor, style: Style, text: &str) {
        self.turned(layer, at, anchor, style, 0.0, text);
    }

    /// The same turned by `rotation`, radians, + anticlockwise.
    pub fn turned(
        &mut self,
        layer: &'static str,
        at: [f64; 2],
        anchor: Anchor,
        style: Style,
        rotation: f64,
        text: &str,
    ) {
        let sink = 0.5 * crate::drawing::typeface::CAP_HEIGHT * style.size;
        let (sin, cos) = rotation.sin_cos();
        let at = down([at[0] + sink * sin, at[1] - sink * cos]);
        self.sheet.put(layer, words::turned(self.t, style, at, anchor, rotation, text));
    }

    /// Somebody's own words, which may be long: made to fit in `measure` mm.
    pub fn words_within(
        &mut self,
        layer: &'static str,
        at: [f64; 2],
        anchor: Anchor,
        style: Style,
        measure: f64,
        text: &str,
    ) {
        let (style, text) = words::within(self.t, style, measure, text);
        self.words(layer, at, anchor, style, &text);
    }

    /// How long a line of words is, mm.
    pub fn width(&self, style: Style, text: &str) -> f64 {
        words::width(self.t, style, text)
    }

    /// The finished sheet: the drawing, and under it the box, the title and what there is to know. `None` if nothing
    /// was drawn.
    pub fn finish(self, title: &str, notes: &[String]) -> Option<Sheet> {
        let drawn = self.sheet.bounds(|_| true)?;
        if ![drawn.left, drawn.top, drawn.right, drawn.bottom].iter().all(|v| v.is_finite()) {
            return None;
        }
        let strip = drawn.width().clamp(STRIP.0, STRIP.1);
        let mut sheet = Sheet::new(drawn.width().max(strip) + 2.0 * MARGIN, 0.0, title);
        sheet.lay(&self.sheet, Move::by([MARGIN - drawn.left, MARGIN - drawn.top]));
        let top = MARGIN + drawn.height() + BETWEEN;
        let [wide, tall] = measured::size(self.len.inches());
        measured::put(self.t, &mut sheet, [BOX, BOX], [MARGIN, top], self.len.inches());
        let bottom = self.strip(&mut sheet, [MARGIN + wide + 7.0, top], strip - wide - 7.0, title, notes);
        sheet.height = bottom.max(top + tall) + MARGIN;
        Some(sheet)
    }

    /// Title and notes; returns their bottom.
    fn strip(&self, sheet: &mut Sheet, [x, top]: Spot, measure: f64, title: &str, notes: &[String]) -> f64 {
        let t = self.t;
        let mut put = |style: Style, x: f64, base: f64, text: &str| -> Bounds {
            let line = words::line(t, style, [x, base], Anchor::Left, text);
            let bounds = line.bounds().unwrap_or(Bounds { left: x, top: base, right: x, bottom: base });
            sheet.put(TITLE, line);
            bounds
        };
        let (style, text) = words::within(t, look::TITLE, 0.55 * measure, title);
        let titled = put(style, x, top + 6.0, &text);
        let room = x + measure - titled.right - 6.0;
        let (style, text) = words::within(t, look::BODY.face(Face::Italic), room, &self.whose);
        put(style, titled.right + 6.0, top + 6.0, &text);
        let unit = format!("Drawn full size. {}", self.len.how_to_read());
        let style = look::NOTE.size(3.5);
        let mut base = top + 13.4;
        for note in std::iter::once(&unit).chain(notes) {
            for line in words::wrap(t, style, measure, note).iter().filter(|l| !l.is_empty()) {
                put(style, x, base, line);
                base += style.size * look::LEADING;
            }
        }
        base
    }
}

/// What a section is called beside its line; a long name is cut short.
pub fn place_name(section: &Section) -> String {
    section.place().chars().take(24).collect()
}

fn down([u, v]: [f64; 2]) -> Spot {
    [u, -v]
}

/// Whether a layer is the words and the box under a drawing, of which a tile has its own.
pub fn is_furniture(layer: &str) -> bool {
    layer == TITLE || layer == BOX
}

/// What stands on a sheet besides its furniture.
pub fn drawn(sheet: &Sheet) -> impl Iterator<Item = (&'static str, &Item)> {
    sheet.layers.iter().filter(|l| !is_furniture(l.name)).flat_map(|l| l.items.iter().map(|item| (l.name, item)))
}
