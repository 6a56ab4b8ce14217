//! A sheet to SVG 1.1.
//!
//! One unit of the drawing is 1 mm: width and height are given in mm and the view box in the same numbers, so that a
//! program which keeps units keeps the size. Each layer is a group with its name as id and title. Words are drawn with the
//! outlines of their letters, so that they look the same and keep clear of each other whatever faces are at hand; each
//! line says its words in `aria-label`. Lengths are rounded to 0.001 mm.

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::drawing::typeface::Type;
use crate::drawing::{Colour, Face, Item, Layer, Outline, Shape, Sheet, Text};

/// Writing to a string cannot fail, so what `write!` returns says nothing.
macro_rules! put {
    ($out:expr, $($what:tt)*) => { let _ = write!($out, $($what)*); };
}

/// Writes a sheet as the text of an SVG file.
#[must_use]
pub fn write(t: &Type, sheet: &Sheet) -> String {
    let (w, h) = (mm(sheet.width), mm(sheet.height));
    let title = escaped(&sheet.title);
    let size = super::size_in_words(sheet);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\">\n\
         <title>{title}</title>\n\
         <desc>{size} in mm: one unit of this drawing is 1 mm. Written by strakewise.</desc>\n\
         <rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n"
    );
    letters(&mut out, t, sheet);
    sheet.layers.iter().filter(|l| !l.items.is_empty()).for_each(|l| layer(&mut out, t, l));
    out.push_str("</svg>\n");
    out
}

/// The outline of every letter that is used, once.
fn letters(out: &mut String, t: &Type, sheet: &Sheet) {
    let mut used: BTreeSet<(char, u32)> = BTreeSet::new();
    out.push_str("<defs>\n");
    for run in sheet.texts().flat_map(|text| &text.runs) {
        for glyph in t.shape(run.face, &run.text).iter() {
            if used.insert((cut(run.face), glyph.id)) {
                let id = glyph.id;
                put!(out, "<path id=\"{}{id}\" d=\"{}\"/>\n", cut(run.face), t.outline(run.face, id));
            }
        }
    }
    out.push_str("</defs>\n");
}

/// A letter for each cut of the type.
fn cut(face: Face) -> char {
    match face {
        Face::Regular => 'r',
        Face::Semibold => 's',
        Face::Bold => 'b',
        Face::Italic => 'i',
    }
}

fn layer(out: &mut String, t: &Type, layer: &Layer) {
    put!(out, "<g id=\"{}\" fill=\"none\" stroke-linejoin=\"round\">\n", layer.name.replace(' ', "-"));
    put!(out, "<title>{}</title>\n", escaped(layer.name));
    for item in &layer.items {
        match item {
            Item::Shape(s) => shape(out, s),
            Item::Text(words) => text(out, t, words),
        }
    }
    out.push_str("</g>\n");
}

fn shape(out: &mut String, shape: &Shape) {
    match &shape.outline {
        Outline::Line(points) | Outline::Polygon(points) => {
            let closed = matches!(shape.outline, Outline::Polygon(_));
            out.push_str(if closed { "<polygon points=\"" } else { "<polyline points=\"" });
            for (i, [x, y]) in points.iter().enumerate() {
                put!(out, "{}{},{}", if i > 0 { " " } else { "" }, mm(*x), mm(*y));
            }
            out.push('"');
        }
        Outline::Circle { at: [x, y], radius } => {
            put!(out, "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"", mm(*x), mm(*y), mm(*radius));
        }
    }
    if let Some(fill) = shape.fill {
        put!(out, " fill=\"{}\"", hex(fill));
    }
    if let Some(stroke) = shape.stroke {
        put!(out, " stroke=\"{}\" stroke-width=\"{}\"", hex(stroke.colour), stroke.weight.mm());
        let dash: Vec<String> = stroke.dash.pattern().iter().map(ToString::to_string).collect();
        if dash.is_empty() {
            out.push_str(" stroke-linecap=\"round\"");
        } else {
            put!(out, " stroke-dasharray=\"{}\"", dash.join(" "));
        }
    }
    out.push_str("/>\n");
}

fn text(out: &mut String, t: &Type, text: &Text) {
    let [x, y] = text.at;
    put!(out, "<g fill=\"{}\" stroke=\"none\" role=\"img\" aria-label=\"", hex(text.colour));
    put!(out, "{}\" transform=\"translate({} {})", escaped(&super::plain(text)), mm(x), mm(y));
    if text.rotation != 0.0 {
        // SVG turns clockwise.
        put!(out, " rotate({})", mm(-text.rotation.to_degrees()));
    }
    out.push_str("\">");
    for run in &text.runs {
        let mut along = run.dx;
        for glyph in t.shape(run.face, &run.text).iter() {
            let at = [along + glyph.dx * run.size, -run.rise - glyph.dy * run.size];
            // An outline is in thousandths of the em.
            let scale = mm(run.size) / 1000.0;
            put!(out, "<use xlink:href=\"#{}{}\" ", cut(run.face), glyph.id);
            put!(out, "transform=\"translate({} {}) scale({scale:.6})\"/>", mm(at[0]), mm(at[1]));
            along += glyph.advance * run.size;
        }
    }
    out.push_str("</g>\n");
}

/// To a thousandth, without useless noughts.
fn mm(value: f64) -> f64 {
    let rounded = (value * 1000.0).round() / 1000.0;
    // No minus before a nought.
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn hex(Colour(r, g, b): Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Text as XML has it; letters that XML has not are left out.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Anchor, words};
    use crate::paper::book::look;

    /// Set, a fraction stands close up to its whole number: read out without a space it would be 37 eighths.
    #[test]
    fn a_fraction_is_said_as_it_is_typed() {
        let t = Type::embedded().expect("embedded faces");
        let mut sheet = Sheet::new(100.0, 50.0, "test");
        sheet.put("words", words::line(&t, look::FRACTIONS, [10.0, 10.0], Anchor::Left, "3 7/8 by 15/16 in"));
        assert!(write(&t, &sheet).contains("aria-label=\"3 7/8 by 15/16 in\""));
    }
}
