//! Finished sheets, and the bytes of the files they are written to.
//!
//! The bench book ([`book`]), the full-size patterns ([`patterns`]) and her pictures ([`pictures`]) are composed as sheets in mm
//! ([`crate::drawing`]) from the plan alone; [`roll`] and [`tile`] bring what is larger than the paper onto pages; one small writer
//! to each form of file (PDF, SVG, DXF) sees nothing but sheets. What a builder may lay a rule on carries the measured box, by which
//! he proves that it was printed full size. Nothing is worked out here but widths, sums and scales, and the same plan gives the same
//! bytes.
//!
//! Cannot do: keep a printer from scaling, or paper from growing in the wet. So the box, and so the words on tapes.

pub mod book;
pub(crate) mod dxf;
mod left;
pub(crate) mod measured;
pub mod patterns;
mod pdf;
pub mod pictures;
pub mod roll;
mod svg;
pub mod tile;

pub use dxf::write as write_dxf;
pub use pdf::{About, write as write_pdf};
pub use svg::write as write_svg;

use crate::drawing::typeface::TypeError;
use crate::drawing::{Scale, Sheet, Text};
use crate::plan::Plan;

/// Why no paper came out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PaperError {
    /// The type is not there.
    #[error(transparent)]
    Type(#[from] TypeError),
    /// A sheet has no size, or one that no paper has.
    #[error("sheet {sheet} is {width} mm by {height} mm, which no page can be")]
    Size {
        /// From 1.
        sheet: usize,
        /// mm.
        width: f64,
        /// mm.
        height: f64,
    },
    /// The PDF writer refused.
    #[error("the PDF could not be written: {0}")]
    Pdf(String),
}

/// What a drawing's lengths are good for, before the unit.
fn size_in_words(sheet: &Sheet) -> &'static str {
    match sheet.scale {
        Scale::Measured { .. } => "Full size; lengths",
        Scale::None => "Not to scale; the sheet's lengths",
    }
}

/// The words of a line, its fractions as they are typed: `3 7/8`.
pub(crate) fn plain(text: &Text) -> String {
    let mut words = String::new();
    for run in &text.runs {
        if run.rise > 0.0 && words.ends_with(|c: char| c.is_ascii_digit()) {
            words.push(' ');
        }
        words.push_str(&run.text.replace('\u{2044}', "/"));
    }
    words
}

/// Name of the station that distances along the boat are measured from; a long one is cut short.
fn first_station(plan: &Plan) -> String {
    plan.table.first_square().map_or_else(String::new, |s| s.name.chars().take(10).collect())
}

/// A sheet of paper the printer holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 mm × 297 mm.
    A4,
    /// 8½ in × 11 in.
    Letter,
    /// 297 mm × 420 mm.
    A3,
    /// 420 mm × 594 mm.
    A2,
    /// 11 in × 17 in.
    Tabloid,
}

impl PaperSize {
    /// Lying on its long side: width and height, mm.
    #[must_use]
    pub const fn landscape(self) -> [f64; 2] {
        match self {
            PaperSize::A4 => [297.0, 210.0],
            PaperSize::Letter => [279.4, 215.9],
            PaperSize::A3 => [420.0, 297.0],
            PaperSize::A2 => [594.0, 420.0],
            PaperSize::Tabloid => [431.8, 279.4],
        }
    }

    /// Standing on its short side: width and height, mm.
    #[must_use]
    pub const fn upright(self) -> [f64; 2] {
        let [width, height] = self.landscape();
        [height, width]
    }
}
