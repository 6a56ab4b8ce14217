//! Drawings on a roll of paper.
//!
//! A page is as tall as the roll is wide, and as long as what lies on it. As many drawings lie side by side across the
//! roll as it takes, in their order; one too wide lies turned if that helps. What is too long for a page (PDF allows no
//! more than 5.08 m) or too wide for the roll comes in strips with match marks, as tiles do.

use super::tile;
use crate::drawing::place::Move;
use crate::drawing::typeface::Type;
use crate::drawing::{Sheet, Spot};

/// No page is longer, mm: a PDF page may be 14 400 points, 5.08 m.
pub const LONGEST: f64 = 5000.0;
/// The narrowest roll, mm: its strips must hold the measured box and their words.
pub const NARROWEST: f64 = 200.0;
/// The widest roll, mm.
pub const WIDEST: f64 = 5000.0;
/// The width that most plotters take, mm: 36 in.
pub const USUAL: f64 = 914.4;

/// The pages of a roll `width` mm wide, held between [`NARROWEST`] and [`WIDEST`].
#[must_use]
pub fn pages(t: &Type, sheets: &[&Sheet], width: f64) -> Vec<Sheet> {
    let width = width.clamp(NARROWEST, WIDEST);
    let mut pages: Vec<Page> = Vec::new();
    for sheet in sheets {
        for piece in pieces(t, sheet, width) {
            match pages.last_mut() {
                Some(page) if page.used + piece.height <= width + 1e-6 => page.add(&piece),
                _ => pages.push(Page::new(&piece, width)),
            }
        }
    }
    pages.into_iter().map(Page::finish).collect()
}

/// A sheet as it lies on the roll: as it is, turned, or in strips.
fn pieces(t: &Type, sheet: &Sheet, width: f64) -> Vec<Sheet> {
    if sheet.width <= LONGEST && sheet.height <= width {
        return vec![sheet.clone()];
    }
    if sheet.height <= LONGEST && sheet.width <= width {
        return vec![turned(sheet)];
    }
    tile::strips(t, sheet, [LONGEST, width])
}

/// The sheet turned a quarter anticlockwise.
fn turned(sheet: &Sheet) -> Sheet {
    let mut turned = Sheet::new(sheet.height, sheet.width, sheet.title.clone());
    turned.lay(sheet, Move { turned: true, by: [0.0, sheet.width] });
    turned
}

/// A page being filled from its top edge.
struct Page {
    sheet: Sheet,
    titles: Vec<String>,
    /// How much of the roll's width is taken, mm.
    used: f64,
}

impl Page {
    fn new(first: &Sheet, width: f64) -> Page {
        let mut page = Page { sheet: Sheet::new(0.0, width, ""), titles: Vec::new(), used: 0.0 };
        page.add(first);
        page
    }

    fn add(&mut self, piece: &Sheet) {
        let at: Spot = [0.0, self.used];
        self.sheet.lay(piece, Move::by(at));
        self.sheet.width = self.sheet.width.max(piece.width);
        self.used += piece.height;
        if self.titles.last() != Some(&piece.title) {
            self.titles.push(piece.title.clone());
        }
    }

    fn finish(mut self) -> Sheet {
        self.sheet.title = self.titles.join("; ");
        self.sheet
    }
}
