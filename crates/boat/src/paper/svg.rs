//! A sheet to SVG 1.1.
//!
//! One unit of the drawing is 1 mm: width and height are given in mm and the view box in the same numbers, so that a
//! program which keeps units keeps the size. Each layer is a group with its name as id and title. A line of words is
//! stretched to the length it was measured at, so that words keep clear of each other in whatever face is at hand.
//! Lengths are rounded to 0.001 mm.

use std::fmt::Write;

use crate::drawing::{Colour, Face, Item, Layer, Outline, Shape, Sheet, Text};

/// Writes a sheet as the text of an SVG file.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    let (w, h) = (mm(sheet.width), mm(sheet.height));
    let title = escaped(&sheet.title);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\">\n\
         <title>{title}</title>\n\
         <desc>Full size; lengths in mm: one unit of this drawing is 1 mm. Written by strakewise.</desc>\n\
         <rect width=\"{w}\" height=\"{h}\" fill=\"#ffffff\"/>\n"
    );
    sheet.layers.iter().filter(|l| !l.items.is_empty()).for_each(|l| layer(&mut out, l));
    out.push_str("</svg>\n");
    out
}

/// Writing to a string cannot fail, so what `write!` returns says nothing.
macro_rules! put {
    ($out:expr, $($what:tt)*) => { let _ = write!($out, $($what)*); };
}

fn layer(out: &mut String, layer: &Layer) {
    put!(out, "<g id=\"{}\" fill=\"none\" stroke-linejoin=\"round\">\n", layer.name.replace(' ', "-"));
    put!(out, "<title>{}</title>\n", escaped(layer.name));
    for item in &layer.items {
        match item {
            Item::Shape(s) => shape(out, s),
            Item::Text(t) => text(out, t),
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

fn text(out: &mut String, text: &Text) {
    let [x, y] = text.at;
    put!(out, "<g fill=\"{}\" font-family=\"Libertinus Serif, Georgia, serif\"", hex(text.colour));
    // SVG turns clockwise.
    let turn = -text.rotation.to_degrees();
    if turn == 0.0 {
        put!(out, " transform=\"translate({} {})\">", mm(x), mm(y));
    } else {
        put!(out, " transform=\"translate({} {}) rotate({})\">", mm(x), mm(y), mm(turn));
    }
    for (i, run) in text.runs.iter().enumerate() {
        let end = text.runs.get(i + 1).map_or(text.width, |next| next.dx);
        let style = match run.face {
            Face::Regular => "",
            Face::Semibold => " font-weight=\"600\"",
            Face::Bold => " font-weight=\"700\"",
            Face::Italic => " font-style=\"italic\"",
        };
        put!(
            out,
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{style} textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" \
             xml:space=\"preserve\">{}</text>",
            mm(run.dx),
            mm(-run.rise),
            mm(run.size),
            mm(end - run.dx),
            escaped(&run.text)
        );
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
