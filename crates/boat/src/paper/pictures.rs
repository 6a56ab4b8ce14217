//! Her picture from each eye as a sheet of its own, for SVG and DXF.

use super::book::look;
use crate::drawing::place::Bounds;
use crate::drawing::typeface::Type;
use crate::drawing::{Anchor, Face, Sheet, words};
use crate::ink;
use crate::lands;
use crate::plan::Plan;

/// One picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// The name of a file of its own, without its ending: small letters and hyphens.
    pub file_name: String,
    /// Her, and under her the name of the boat and of the eye.
    pub sheet: Sheet,
}

/// A sheet's width, mm.
const WIDTH: f64 = 420.0;
/// Free about her, mm.
const MARGIN: f64 = 15.0;
/// For the words under her, mm.
const WORDS: f64 = 14.0;

/// What each eye sees, all as wide as the sheet.
#[must_use]
pub fn pictures(t: &Type, plan: &Plan) -> Vec<Picture> {
    let Some(eyes) = lands::eyes(&plan.strakes, &plan.spec.lining) else { return Vec::new() };
    let scene = ink::scene(&plan.strakes, &plan.sections, &plan.spec);
    let draw = |eye: &crate::eyes::Eye| {
        let wide = WIDTH - 2.0 * MARGIN;
        let scale = ink::least_scale(&scene, eye, wide, f64::INFINITY)?;
        // As tall as she is at that scale.
        let tall = ink::least_scale(&scene, eye, f64::INFINITY, 1.0)? / scale;
        let title = format!("{}, {}", plan.spec.name, eye.name);
        let mut sheet = Sheet::new(WIDTH, tall + 2.0 * MARGIN + WORDS, title.clone());
        let bounds = Bounds { left: MARGIN, top: MARGIN, right: WIDTH - MARGIN, bottom: MARGIN + tall };
        for item in ink::draw(&scene, eye, &bounds, scale, &ink::pens(look::INK)) {
            sheet.put("boat", item);
        }
        let (style, title) = words::within(t, look::BODY.size(6.0).face(Face::Italic), wide, &title);
        let at = [WIDTH / 2.0, sheet.height - MARGIN];
        sheet.put("words", words::line(t, style, at, Anchor::Middle, &title));
        Some(Picture { file_name: file_name(eye.name), sheet })
    };
    eyes.iter().filter_map(draw).collect()
}

/// Words as a file is called.
fn file_name(words: &str) -> String {
    let letters = words.to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), " ");
    letters.split_whitespace().collect::<Vec<_>>().join("-")
}
