//! The bench book: what a builder pins above the bench, on sheets that any printer takes.
//!
//! One file to each kind of page. A page is a `page::Page`: a sheet with a frame, whose words are measured before they
//! are set, so that nothing runs off it; `tests/it/paper.rs` looks for words that touch. Everything comes from the plan;
//! the book works nothing out but widths, sums and scales.

mod cautions;
mod cover;
mod ends;
mod findings;
mod gains;
mod land;
mod land_section;
mod length;
mod lines;
mod look;
mod marks;
mod nails;
mod offsets;
mod page;
mod picture;
mod reading;
mod rivets;
mod spread;
mod strake;
mod strakes;
mod tables;
mod timbers;
mod view;

use crate::drawing::Sheet;
use crate::drawing::typeface::Type;
use crate::plan::Plan;

use super::{About, PaperError, PaperSize};
use length::Lengths;
use page::{Book, Page};

/// The book as bytes of a PDF.
///
/// # Errors
/// If the type is missing or the PDF writer refuses; neither depends on the boat.
pub fn write(plan: &Plan, paper: PaperSize) -> Result<Vec<u8>, PaperError> {
    let t = Type::embedded()?;
    let sheets = sheets(&t, plan, paper);
    let about = About {
        title: format!("{}: bench book", plan.spec.name),
        subject: "Planking of a clinker boat, to be printed at 100 %".to_owned(),
        language: "en-GB".to_owned(),
    };
    super::write_pdf(&t, &sheets, &about)
}

/// The same as finished sheets.
#[must_use]
pub fn sheets(t: &Type, plan: &Plan, paper: PaperSize) -> Vec<Sheet> {
    let book = Book { plan, t, paper, len: Lengths(plan.spec.lengths) };
    let mut pages: Vec<Page<'_>> = Vec::new();
    let kinds = [
        cover::pages,
        reading::pages,
        cautions::pages,
        findings::pages,
        lines::pages,
        marks::pages,
        strakes::pages,
        timbers::pages,
        nails::pages,
        offsets::pages,
    ];
    for kind in kinds {
        pages.extend(kind(&book));
    }
    let of = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        page.foot(&plan.spec.name, book.len.legend(), i + 1, of);
    }
    pages.into_iter().map(|page| page.sheet).collect()
}
