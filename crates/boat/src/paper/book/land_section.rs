//! The land cut across, at the station with the greatest bevel: full size where it can be.
//!
//! Drawn in the plane square to the land, with strake k upright: y up the plank from its upper edge, x outboard from
//! its inner face. Strake k+1 leans inboard by the bevel. Away from the gains the step is the whole thickness.

use super::length::{UNSEEN, degrees};
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::section_name;
use super::view::{View, scale_words};
use crate::drawing::{Anchor, Colour, Face, Shape, Stroke, Weight};
use crate::lines::SectionAt;
use crate::planks::{Strake, StrakeAt};
use crate::spec::FasteningSpec;

/// Height of the drawing, in laps.
const TALL: f64 = 2.5;

/// Draws it at the top of `frame`; returns the top of what follows.
pub fn draw(page: &mut Page<'_>, book: &Book<'_>, strake: &Strake, frame: Frame) -> f64 {
    let Some((at, bevel, lap)) = steepest(strake) else { return frame.top };
    let t = strake.thickness;
    let scale = [1.0, 2.0, 4.0].into_iter().find(|s| TALL * lap / s <= 84.0).unwrap_or(8.0);
    let tall = TALL * lap / scale;
    let top = page.head([frame.left, frame.top], &format!("At {}", station(book, at)));
    let view = View::new([frame.left + 14.0, top + 1.2 * lap / scale], scale);
    let shapes = section(t, lap, bevel);
    page.put("boat", Shape::area(view.run(shapes.lower), look::WOOD, Some(look::OUTLINE)));
    page.put("boat", Shape::area(view.run(shapes.upper), look::WOOD.towards(look::SHADE, 0.3), Some(look::OUTLINE)));
    let riveted = !book.plan.spec.glued();
    if riveted {
        rivet(page, view, t, lap, bevel, &book.plan.spec.fastenings);
    }
    let (foot, crown) = (
        view.at(t + 0.1 * lap, -1.15 * lap),
        view.at(t - 1.8 * lap * bevel.tan().max(0.0) - 0.8 * lap * bevel.tan().min(0.0), 0.8 * lap),
    );
    let name = |k: usize| format!("strake {k}");
    page.words([foot[0] + 2.0, foot[1] + 1.0], Anchor::Left, look::NOTE, &name(strake.strake));
    page.words([crown[0] - 2.0, crown[1]], Anchor::Right, look::NOTE, &name(strake.strake + 1));

    let x = frame.left + 38.0 + 2.4 * t / scale;
    let measure = frame.right - x;
    let size = scale_words(scale, book.len.0);
    let mut y = page.paragraph(
        [x, top + 1.0],
        measure,
        look::NOTE,
        &format!("Cut square across the land, {size}; outboard to the right."),
    );
    let lines = if bevel >= 0.0 {
        [
            format!("bevel {}", degrees(bevel)),
            format!("{} off this strake's upper outer edge", book.len.fine_unit(lap * bevel.tan())),
        ]
    } else {
        [
            format!("hollow {}", degrees(bevel)),
            format!("{} off the next strake's lower inner edge", book.len.fine_unit(lap * -bevel.tan())),
        ]
    };
    y = page.paragraph([x, y + 0.6], measure, look::NUMBER, &lines[0]);
    y = page.paragraph([x, y], measure, look::BODY, &lines[1]);
    if !riveted {
        return (top + tall + 3.0).max(y + 1.0);
    }
    let words = "The hole runs through the middle of the land and splits the angle between the two planks evenly.";
    y = page.paragraph([x, y], measure, look::NOTE.face(Face::Italic), words);
    (top + tall + 3.0).max(y + 1.0)
}

/// `station 3`, or `the stem`.
pub fn station(book: &Book<'_>, at: &StrakeAt) -> String {
    let name = section_name(book, at.section);
    match book.plan.sections.get(at.section).map(|s| s.at) {
        Some(SectionAt::Station(_)) | None => format!("station {name}"),
        Some(_) => format!("the {name}"),
    }
}

/// The station with the greatest bevel, its bevel and its land; away from the gains if there is one such.
fn steepest(strake: &Strake) -> Option<(&StrakeAt, f64, f64)> {
    let with = |plain: bool| {
        strake
            .at
            .iter()
            .filter(|a| !plain || a.gain.unwrap_or(0.0) < UNSEEN)
            .filter_map(|a| a.bevel.zip(a.lap).map(|(bevel, lap)| (a, bevel, lap)))
            .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    };
    with(true).or_else(|| with(false))
}

struct Section {
    lower: Vec<[f64; 2]>,
    upper: Vec<[f64; 2]>,
}

/// The two planks in the cut.
fn section(t: f64, lap: f64, bevel: f64) -> Section {
    let (sin, cos) = bevel.sin_cos();
    let (up, out) = ([-sin, cos], [cos, sin]);
    let step = |p: [f64; 2], along: f64, off: f64| {
        [p[0] + up[0] * along + out[0] * off, p[1] + up[1] * along + out[1] * off]
    };
    let foot = -1.2 * lap;
    if bevel >= 0.0 {
        let heel = [t, -lap];
        let planed = [t - lap * bevel.tan(), 0.0];
        let lower = vec![[0.0, foot], [t, foot], heel, planed, [0.0, 0.0]];
        let long = lap / cos + 1.1 * lap;
        Section { lower, upper: vec![heel, step(heel, long, 0.0), step(heel, long, t), step(heel, 0.0, t)] }
    } else {
        let lower = vec![[0.0, foot], [t, foot], [t, 0.0], [0.0, 0.0]];
        let pivot = [t, 0.0];
        let heel = [t, -lap];
        let outer_heel = step(pivot, -lap / cos, t);
        let upper = vec![pivot, step(pivot, 1.1 * lap, 0.0), step(pivot, 1.1 * lap, t), outer_heel, heel];
        Section { lower, upper }
    }
}

/// The rivet on the bisector, through the middle of the land: head outside, rove inside.
fn rivet(page: &mut Page<'_>, view: View, t: f64, lap: f64, bevel: f64, spec: &FasteningSpec) {
    let rove = spec.rove_diameter;
    let lean = bevel / 2.0;
    let (axis, across) = ([lean.cos(), lean.sin()], [-lean.sin(), lean.cos()]);
    let middle = [t - lap / 2.0 * bevel.tan().max(0.0), -lap / 2.0];
    let at =
        |out: f64, up: f64| [middle[0] + axis[0] * out + across[0] * up, middle[1] + axis[1] * out + across[1] * up];
    // To the inner face and to the outer one, along the axis.
    let inner = -middle[0] / axis[0];
    let outer = t / lean.cos();
    let head = 0.5 * spec.head_diameter;
    let pen = |weight, colour: Colour| Stroke::solid(weight, colour);
    page.line(view.run([at(inner - 0.2 * rove, 0.0), at(outer, 0.0)]), pen(Weight::Heavy, look::COPPER));
    page.line(view.run([at(outer, -head), at(outer, head)]), pen(Weight::Heavy, look::COPPER));
    let cone = [
        at(inner, -rove / 2.0),
        at(inner - 0.22 * rove, -0.12 * rove),
        at(inner - 0.22 * rove, 0.12 * rove),
        at(inner, rove / 2.0),
    ];
    page.put(
        "boat",
        Shape::area(view.run(cone), look::COPPER.towards(look::WOOD, 0.4), Some(pen(Weight::Thin, look::COPPER))),
    );
    let label = view.at(at(inner - 0.35 * rove, 0.0)[0], at(inner - 0.35 * rove, 0.0)[1]);
    page.words([label[0], label[1] + 1.0], Anchor::Right, look::NOTE, "rove");
}
