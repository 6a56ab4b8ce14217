//! A full-size pattern drawn small: its lines without its words, as thick on the page however small it is. It is read as XML, so
//! every element is closed.

use boat::drawing::{Colour, Item, Outline, Shape, Sheet};
use maud::{Markup, html};
use std::fmt::Write;

/// Its picture as an SVG file.
pub fn small(sheet: &Sheet) -> String {
    let shapes = sheet.layers.iter().flat_map(|l| &l.items).filter_map(|item| match item {
        Item::Shape(shape) => Some(shape),
        Item::Text(_) => None,
    });
    let [wide, high] = [sheet.width, sheet.height].map(f64::ceil);
    html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(wide) height=(high) viewBox={ "0 0 " (wide) " " (high) } {
            title { (sheet.title) }
            rect width="100%" height="100%" fill="#ffffff" {}
            g fill="none" stroke-linejoin="round" { @for shape in shapes { (drawn(shape)) } }
        }
    }
    .into_string()
}

fn drawn(shape: &Shape) -> Markup {
    let fill = shape.fill.map_or_else(|| "none".to_owned(), hex);
    let (stroke, weight) =
        shape.stroke.map_or_else(|| ("none".to_owned(), 0.0), |s| (hex(s.colour), px(s.weight.mm())));
    let broken = shape.stroke.is_some_and(|s| !s.dash.pattern().is_empty()).then_some("4 3");
    match &shape.outline {
        Outline::Circle { at: [x, y], radius } => html! {
            circle cx=(mm(*x)) cy=(mm(*y)) r=(mm(*radius)) fill=(fill) stroke=(stroke) stroke-width=(weight) stroke-dasharray=[broken]
                vector-effect="non-scaling-stroke" {}
        },
        Outline::Line(points) | Outline::Polygon(points) => {
            let closed = matches!(shape.outline, Outline::Polygon(_));
            html! {
                path d=(path(points, closed)) fill=(fill) stroke=(stroke) stroke-width=(weight) stroke-dasharray=[broken]
                    vector-effect="non-scaling-stroke" {}
            }
        }
    }
}

/// What a pen's line is as thick as on the page: hardly less than a pixel.
fn px(mm: f64) -> f64 {
    ((0.6 + 1.6 * mm) * 100.0).round() / 100.0
}

fn path(points: &[[f64; 2]], closed: bool) -> String {
    let mut d = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        let _ = write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, mm(*x), mm(*y));
    }
    if closed {
        d.push('Z');
    }
    d
}

/// To half a millimetre: it is drawn small.
fn mm(value: f64) -> f64 {
    (value * 2.0).round() / 2.0
}

fn hex(Colour(r, g, b): Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}
