//! A sheet to DXF R12 (AC1009), the form that every drawing program and cutter reads.
//!
//! It has no variable for the unit, so the unit is said in words: in a comment at the top and in a text on the sheet.
//! y runs up. Curves are polylines, circles are circles, and each layer keeps its name in capitals. The form knows only
//! ASCII: common signs are written out, other letters as `\U+00E9`, which readers turn back. Words are set to fit the
//! length they were measured at. Lengths are rounded to 0.0001 mm.
//!
//! Cannot do: tints; a shape without a pen is left out.

use std::fmt::Write;

use crate::drawing::typeface::CAP_HEIGHT;
use crate::drawing::{Colour, Dash, Item, Layer, Outline, Scale, Shape, Sheet, Spot, Text};

/// A file being written: pairs of a code and a value.
#[derive(Default)]
pub struct Pairs(String);

impl Pairs {
    /// One pair.
    pub fn put(&mut self, code: u16, value: impl std::fmt::Display) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.0, "{code:>3}\n{value}");
    }

    /// A length to 0.0001 mm.
    pub fn number(&mut self, code: u16, value: f64) {
        let rounded = (value * 10_000.0).round() / 10_000.0;
        self.put(code, format_args!("{:?}", if rounded == 0.0 { 0.0 } else { rounded }));
    }

    /// A place.
    pub fn spot(&mut self, code: u16, [x, y]: Spot) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, 0.0);
    }

    /// Begins a section.
    pub fn section(&mut self, name: &str) {
        self.put(0, "SECTION");
        self.put(2, name);
    }

    /// All of `other` after this.
    pub fn append(&mut self, other: Pairs) {
        self.0.push_str(&other.0);
    }

    /// The text of the file.
    pub fn finish(self) -> String {
        self.0
    }

    fn table(&mut self, name: &str, entries: usize) {
        self.put(0, "TABLE");
        self.put(2, name);
        self.put(70, entries);
    }
}

/// Writes a sheet as the text of a DXF file.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    let mut out = Pairs::default();
    out.put(
        999,
        format_args!(
            "{}: {} in mm (one unit is 1 mm). Written by strakewise.",
            ascii(&sheet.title),
            super::size_in_words(sheet).to_lowercase().replace(';', ",")
        ),
    );
    header(&mut out, sheet);
    let layers: Vec<&Layer> = sheet.layers.iter().filter(|l| !l.items.is_empty()).collect();
    tables(&mut out, &layers);
    out.section("BLOCKS");
    out.put(0, "ENDSEC");
    out.section("ENTITIES");
    let page = Page { height: sheet.height };
    for layer in layers {
        for item in &layer.items {
            match item {
                Item::Shape(shape) => page.shape(&mut out, layer.name, shape),
                Item::Text(text) => page.text(&mut out, layer.name, text),
            }
        }
    }
    page.unit(&mut out, matches!(sheet.scale, Scale::Measured { .. }));
    out.put(0, "ENDSEC");
    out.put(0, "EOF");
    out.finish()
}

fn header(out: &mut Pairs, sheet: &Sheet) {
    out.section("HEADER");
    out.put(9, "$ACADVER");
    out.put(1, "AC1009");
    out.put(9, "$INSBASE");
    out.spot(10, [0.0, 0.0]);
    let corners = [[0.0, 0.0], [sheet.width, sheet.height]];
    for (name, corner) in ["$EXTMIN", "$EXTMAX"].into_iter().zip(corners) {
        out.put(9, name);
        out.spot(10, corner);
    }
    for (name, [x, y]) in ["$LIMMIN", "$LIMMAX"].into_iter().zip(corners) {
        out.put(9, name);
        out.number(10, x);
        out.number(20, y);
    }
    // Decimal lengths, four places; broken lines at their own size.
    for (name, code, value) in [("$LUNITS", 70, "2"), ("$LUPREC", 70, "4"), ("$LTSCALE", 40, "1.0")] {
        out.put(9, name);
        out.put(code, value);
    }
    out.put(0, "ENDSEC");
}

/// The layer of the text that says the unit.
const UNIT: &str = "UNIT";

fn tables(out: &mut Pairs, layers: &[&Layer]) {
    out.section("TABLES");
    let dashes = [Dash::Solid, Dash::Hidden, Dash::Centre];
    out.table("LTYPE", dashes.len());
    for dash in dashes {
        let pattern = dash.pattern();
        out.put(0, "LTYPE");
        out.put(2, line_type(dash));
        out.put(70, 0);
        out.put(3, if pattern.is_empty() { "Solid line" } else { "Broken line" });
        out.put(72, 65);
        out.put(73, pattern.len());
        out.number(40, pattern.iter().sum());
        for (i, length) in pattern.iter().enumerate() {
            out.number(49, if i % 2 == 0 { *length } else { -length });
        }
    }
    out.put(0, "ENDTAB");
    out.table("LAYER", layers.len() + 2);
    let named = layers.iter().map(|l| (layer_name(l.name), colour_of(l)));
    for (name, colour) in [("0".to_owned(), INK), (UNIT.to_owned(), INK)].into_iter().chain(named) {
        out.put(0, "LAYER");
        out.put(2, name);
        out.put(70, 0);
        out.put(62, colour);
        out.put(6, "CONTINUOUS");
    }
    out.put(0, "ENDTAB");
    out.table("STYLE", 1);
    out.put(0, "STYLE");
    out.put(2, "STANDARD");
    out.put(70, 0);
    out.number(40, 0.0);
    out.number(41, 1.0);
    out.number(50, 0.0);
    out.put(71, 0);
    out.number(42, 3.0);
    out.put(3, "txt");
    out.put(4, "");
    out.put(0, "ENDTAB");
    out.put(0, "ENDSEC");
}

/// Colour number 7: black on paper, white on a dark screen.
pub const INK: u16 = 7;

/// The colour number of a layer's first pen or words: ink, or red for what is not black.
pub fn colour_of(layer: &Layer) -> u16 {
    let colour = layer.items.iter().find_map(|item| match item {
        Item::Shape(shape) => shape.stroke.map(|s| s.colour),
        Item::Text(text) => Some(text.colour),
    });
    match colour {
        Some(Colour(r, g, b)) if r > g.saturating_add(60) && r > b.saturating_add(60) => 1,
        _ => INK,
    }
}

/// The name of a broken or an unbroken line.
pub fn line_type(dash: Dash) -> &'static str {
    match dash {
        Dash::Solid => "CONTINUOUS",
        Dash::Hidden => "HIDDEN",
        Dash::Centre => "CENTER",
    }
}

/// `batten line` is `BATTEN_LINE`: capitals, digits and underscores, as R12 wants them.
pub fn layer_name(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_uppercase() } else { '_' }).take(31).collect()
}

struct Page {
    height: f64,
}

impl Page {
    fn up(&self, [x, y]: Spot) -> Spot {
        [x, self.height - y]
    }

    fn shape(&self, out: &mut Pairs, layer: &str, shape: &Shape) {
        let Some(stroke) = shape.stroke else { return };
        let begin = |out: &mut Pairs, entity: &str| {
            out.put(0, entity);
            out.put(8, layer_name(layer));
            if stroke.dash != Dash::Solid {
                out.put(6, line_type(stroke.dash));
            }
        };
        match &shape.outline {
            Outline::Circle { at, radius } => {
                begin(out, "CIRCLE");
                out.spot(10, self.up(*at));
                out.number(40, *radius);
            }
            Outline::Line(points) | Outline::Polygon(points) => {
                let closed = matches!(shape.outline, Outline::Polygon(_));
                begin(out, "POLYLINE");
                out.put(66, 1);
                out.spot(10, [0.0, 0.0]);
                out.put(70, u8::from(closed));
                for p in points {
                    out.put(0, "VERTEX");
                    out.put(8, layer_name(layer));
                    out.spot(10, self.up(*p));
                }
                out.put(0, "SEQEND");
                out.put(8, layer_name(layer));
            }
        }
    }

    fn text(&self, out: &mut Pairs, layer: &str, text: &Text) {
        let size = text.runs.iter().map(|r| r.size).fold(0.0, f64::max);
        let (sin, cos) = text.rotation.sin_cos();
        let [x, y] = self.up(text.at);
        let words = ascii(&super::plain(text));
        if words.trim().is_empty() || text.width <= 0.0 {
            return;
        }
        out.put(0, "TEXT");
        out.put(8, layer_name(layer));
        out.spot(10, [x, y]);
        out.number(40, CAP_HEIGHT * size);
        out.put(1, words);
        out.number(50, text.rotation.to_degrees());
        out.put(7, "STANDARD");
        // Set to fit between the two points.
        out.put(72, 5);
        out.spot(11, [x + text.width * cos, y + text.width * sin]);
    }

    /// Said on the sheet, under everything else.
    fn unit(&self, out: &mut Pairs, full_size: bool) {
        out.put(0, "TEXT");
        out.put(8, UNIT);
        out.spot(10, [12.0, 3.0]);
        out.number(40, 2.5);
        let size = if full_size { "full size" } else { "not to scale" };
        out.put(1, format_args!("lengths in mm: one unit of this drawing is 1 mm, {size}"));
        out.put(7, "STANDARD");
    }
}

/// Text as R12 has it.
pub fn ascii(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            ' '..='~' if c != '^' && c != '%' && c != '\\' => out.push(c),
            '^' => out.push_str("^ "),
            // Two would begin a sign of their own.
            '%' if out.ends_with('%') => out.push_str(" %"),
            '%' => out.push('%'),
            '\\' => out.push_str("\\U+005C"),
            '\u{2212}' | '\u{2013}' | '\u{2010}' | '\u{2011}' => out.push('-'),
            '\u{2014}' => out.push_str(" - "),
            '\u{2018}' | '\u{2019}' => out.push('\''),
            '\u{201c}' | '\u{201d}' => out.push('"'),
            '\u{2026}' => out.push_str("..."),
            '\u{2044}' => out.push('/'),
            '\u{2190}' => out.push_str("<-"),
            '\u{00a0}' => out.push(' '),
            '×' => out.push('x'),
            '½' => out.push_str(" 1/2"),
            '°' => out.push_str("%%d"),
            c if c.is_control() => {}
            c => {
                let mut units = [0_u16; 2];
                for unit in c.encode_utf16(&mut units) {
                    let _ = write!(out, "\\U+{unit:04X}");
                }
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_ascii_and_lose_nothing() {
        assert_eq!(ascii("Æðr 2 × 3½ in, 12°"), "\\U+00C6\\U+00F0r 2 x 3 1/2 in, 12%%d");
        assert_eq!(ascii("print at 100 %."), "print at 100 %.");
        assert_eq!(ascii("a%%d^b\\c"), "a% %d^ b\\U+005Cc");
        assert!(ascii("\u{1F6F6} canoe\n").is_ascii());
        assert_eq!(layer_name("batten line"), "BATTEN_LINE");
    }
}
