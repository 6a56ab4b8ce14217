//! The measured box: what proves that paper was printed full size.

use super::book::look;
use crate::drawing::typeface::Type;
use crate::drawing::{Anchor, Scale, Shape, Sheet, Spot, Stroke, Weight, words};

/// Its width and height, mm.
#[must_use]
pub const fn size(inches: bool) -> [f64; 2] {
    if inches { [50.8, 19.05] } else { [50.0, 20.0] }
}

/// Draws it on a sheet with its top left corner at `at`, the line and the words each on a layer of their own.
pub fn put(t: &Type, sheet: &mut Sheet, [line, text]: [&'static str; 2], at: Spot, inches: bool) {
    let [width, height] = size(inches);
    let [x, y] = at;
    let corners = vec![[x, y], [x + width, y], [x + width, y + height], [x, y + height]];
    sheet.put(line, Shape::polygon(corners, Stroke::solid(Weight::Fine, look::INK)));
    let size = if inches { "2 in × 3/4 in" } else { "50 mm × 20 mm" };
    let lines = [format!("This box measures {size}."), "If not, print again at 100 %.".to_owned()];
    for (i, words) in lines.iter().enumerate() {
        let base = y + height / 2.0 - 0.8 + 4.6 * i as f64;
        sheet.put(text, words::line(t, look::NOTE, [x + width / 2.0, base], Anchor::Middle, words));
    }
    sheet.scale = Scale::Measured { at, size: [width, height] };
}
