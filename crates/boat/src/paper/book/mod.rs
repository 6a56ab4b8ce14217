//! The bench book: what a builder pins above the bench, on sheets that any printer takes.
//!
//! One file to each kind of page. A page is a `page::Page`: a sheet with a frame, whose words are measured before they
//! are set, so that nothing runs off it; `tests/it/paper.rs` looks for words that touch. Everything comes from the plan;
//! the book works nothing out but widths, sums and scales.

mod backbone;
mod bevels;
mod carry;
mod cautions;
mod comb;
mod cover;
mod ends;
mod fairness;
mod findings;
mod flotation;
mod gains;
mod glue;
mod interior;
mod keel_row;
mod knees;
mod land;
mod land_section;
pub(super) mod length;
mod lines;
pub(crate) mod look;
pub(super) mod marks;
mod nails;
mod offsets;
mod page;
mod parts;
mod picture;
mod quote;
mod reading;
pub mod repair;
mod rivet_map;
mod rivets;
mod sawing;
mod seen;
mod setting_up;
mod spiling;
mod spread;
mod standing;
mod stiff;
mod strake;
mod strakes;
mod strips;
mod swelling;
mod tables;
mod thwarts;
mod timbers;
pub(super) mod view;
mod waiting;
mod weighs;
mod worked;

use crate::drawing::Sheet;
use crate::drawing::typeface::Type;
use crate::hung::{Side, Standing};
use crate::plan::Plan;
use crate::quote::Quote;
use crate::rates::Rates;
use crate::sawing::Suited;
use crate::stock::Board;
use crate::worked::Worked;

use super::{About, PaperError, PaperSize};
use page::{Book, Page};

/// Makes the pages of one kind.
type Pages = for<'a> fn(&Book<'a>) -> Vec<Page<'a>>;

/// What stands before the findings.
const FRONT: [Pages; 3] = [cover::pages, reading::pages, cautions::pages];
/// The findings and what stands after them, as far as the strakes.
const MIDDLE: [Pages; 8] = [
    findings::pages,
    lines::pages,
    fairness::pages,
    seen::pages,
    backbone::pages,
    setting_up::pages,
    marks::pages,
    strakes::pages,
];
/// What stands after the strakes, and the boards they come out of.
const BACK: [Pages; 6] =
    [timbers::pages, interior::pages, nails::pages, swelling::pages, flotation::pages, offsets::pages];

/// The book as bytes of a PDF.
///
/// # Errors
/// If the type is missing or the PDF writer refuses; neither depends on the boat.
pub fn write(plan: &Plan, paper: PaperSize) -> Result<Vec<u8>, PaperError> {
    let t = Type::embedded()?;
    write_sheets(&t, plan, &sheets(&t, plan, paper))
}

/// The book as bytes of a PDF, from its finished sheets.
///
/// # Errors
/// As [`write()`].
pub fn write_sheets(t: &Type, plan: &Plan, sheets: &[Sheet]) -> Result<Vec<u8>, PaperError> {
    let title = format!("{}: bench book", plan.spec.name);
    write_titled(t, &title, "Planking of a clinker boat, to be printed at 100 %", sheets)
}

/// Sheets as bytes of a PDF of that title and subject.
///
/// # Errors
/// As [`write()`].
pub fn write_titled(t: &Type, title: &str, subject: &str, sheets: &[Sheet]) -> Result<Vec<u8>, PaperError> {
    let about = About { title: title.to_owned(), subject: subject.to_owned(), language: "en-GB".to_owned() };
    super::write_pdf(t, sheets, &about)
}

/// The page on which the findings begin, from 1; `None` where there is nothing to look at.
#[must_use]
pub fn findings_page(sheets: &[Sheet]) -> Option<usize> {
    sheets.iter().position(|sheet| sheet.title == findings::TITLE).map(|i| i + 1)
}

/// What comes out of which board, as finished sheets of their own.
#[must_use]
pub fn sawing_sheets(t: &Type, plan: &Plan, boards: &[Board], found: &Suited, paper: PaperSize) -> Vec<Sheet> {
    let book = Book::new(t, plan, paper);
    footed(&book, sawing::pages(&book, boards, found))
}

/// Planned against built, port, then starboard, and what has been done on her, as finished sheets of their own. A side of
/// which nothing is known is said to be so.
#[must_use]
pub fn built_sheets(t: &Type, plan: &Plan, built: &Built<'_>, paper: PaperSize) -> Vec<Sheet> {
    let book = Book::new(t, plan, paper);
    footed(&book, built_pages(&book, built))
}

fn built_pages<'a>(book: &Book<'a>, built: &Built<'_>) -> Vec<Page<'a>> {
    let sides = Side::BOTH.into_iter().zip(built.sides);
    let mut pages: Vec<Page<'a>> = sides.flat_map(|(side, stands)| standing::pages(book, side, stands)).collect();
    pages.extend(worked::pages(book, &built.worked));
    pages
}

/// What she costs, as finished sheets of their own: the builder's, and the customer's page last.
#[must_use]
pub fn quote_sheets(t: &Type, plan: &Plan, rates: &Rates, found: &Quote, paper: PaperSize) -> Vec<Sheet> {
    let book = Book::new(t, plan, paper);
    let mut pages = quote::reckoning(&book, found);
    let of = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        page.foot(&plan.spec.name, &format!("sums in {}", found.currency), i + 1, of);
    }
    pages.push(quote::customer(&book, rates, found));
    pages.into_iter().map(|page| page.sheet).collect()
}

/// The book as finished sheets.
#[must_use]
pub fn sheets(t: &Type, plan: &Plan, paper: PaperSize) -> Vec<Sheet> {
    sheets_with(t, plan, With::default(), paper)
}

/// What is known beside the plan.
#[derive(Debug, Clone, Copy, Default)]
pub struct With<'a> {
    /// The boards that the planks come out of: behind the strakes.
    pub boards: Option<(&'a [Board], &'a Suited)>,
    /// What has been done on her: at the end.
    pub built: Option<&'a Built<'a>>,
}

/// The boat as she is built so far.
#[derive(Debug, Clone, Default)]
pub struct Built<'a> {
    /// Port and starboard as they stand, where anything was read there.
    pub sides: [Option<&'a Standing>; 2],
    /// What was done.
    pub worked: Worked,
}

/// The same, with what else is known.
#[must_use]
pub fn sheets_with(t: &Type, plan: &Plan, with: With<'_>, paper: PaperSize) -> Vec<Sheet> {
    let book = Book::new(t, plan, paper);
    let mut pages: Vec<Page<'_>> = FRONT.iter().flat_map(|kind| kind(&book)).collect();
    let next = pages.len() + 1;
    if let Some(cover) = pages.first_mut() {
        cover::findings(cover, &plan.findings, next);
    }
    pages.extend(MIDDLE.iter().flat_map(|kind| kind(&book)));
    if let Some((boards, found)) = with.boards {
        pages.extend(sawing::pages(&book, boards, found));
    }
    pages.extend(BACK.iter().flat_map(|kind| kind(&book)));
    if let Some(built) = with.built {
        pages.extend(built_pages(&book, built));
    }
    footed(&book, pages)
}

fn footed(book: &Book<'_>, mut pages: Vec<Page<'_>>) -> Vec<Sheet> {
    let of = pages.len();
    for (i, page) in pages.iter_mut().enumerate() {
        page.foot(&book.plan.spec.name, book.len.legend(), i + 1, of);
    }
    pages.into_iter().map(|page| page.sheet).collect()
}
