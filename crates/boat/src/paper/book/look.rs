//! How the book looks: paper, ink and wood.
//!
//! Sizes are mm to the em. Numbers a builder cuts to are bold and stand at 11 points or more; nothing is smaller than
//! 8.5. Tints are light, so that a black-and-white printer loses nothing.

use crate::drawing::words::Style;
use crate::drawing::{Colour, Face, Stroke, Weight};

/// Lines and words.
pub const INK: Colour = Colour(38, 33, 29);
/// What is there to guide the eye.
pub const PENCIL: Colour = Colour(92, 83, 75);
/// Rules between rows.
pub const FAINT: Colour = Colour(196, 187, 174);
/// Bare paper, behind words that stand on a line.
pub const BLANK: Colour = Colour(255, 255, 255);
/// A tint behind every second row and behind notes.
pub const PAPER: Colour = Colour(248, 244, 236);
/// Fresh planed wood.
pub const WOOD: Colour = Colour(240, 221, 186);
/// Wood in the shade.
pub const SHADE: Colour = Colour(176, 139, 94);
/// Copper: rivets, and whatever must not be overlooked.
pub const COPPER: Colour = Colour(168, 84, 40);
/// A tint of it.
pub const COPPER_TINT: Colour = Colour(250, 228, 212);

/// Notes and heads of columns: 8.8 points.
pub const NOTE: Style = Style { size: 3.1, face: Face::Regular, colour: PENCIL };
/// Running text: 11.6 points.
pub const BODY: Style = Style { size: 4.1, face: Face::Regular, colour: INK };
/// Heads within a page: 14 points.
pub const HEAD: Style = Style { size: 5.0, face: Face::Bold, colour: INK };
/// Heads of pages: 24 points.
pub const TITLE: Style = Style { size: 8.4, face: Face::Bold, colour: INK };
/// A strake's number, to be read from across the shed: 57 points.
pub const HUGE: Style = Style { size: 20.0, face: Face::Bold, colour: INK };
/// Numbers in tables: 11.9 points.
pub const NUMBER: Style = Style { size: 4.2, face: Face::Bold, colour: INK };
/// Numbers with fractions: 13.3 points, so that a numerator keeps 8.8.
pub const FRACTIONS: Style = Style { size: 4.7, face: Face::Bold, colour: INK };

/// Line to line of running text, as a share of its size.
pub const LEADING: f64 = 1.32;

/// An outline.
pub const OUTLINE: Stroke = Stroke::solid(Weight::Medium, INK);
/// What the eye should find first.
pub const BOLD: Stroke = Stroke::solid(Weight::Thick, INK);
/// A measure or a lesser edge.
pub const THIN: Stroke = Stroke::solid(Weight::Fine, INK);
/// A guide line.
pub const GUIDE: Stroke = Stroke::solid(Weight::Hair, PENCIL);
/// A rule in a table.
pub const RULE: Stroke = Stroke::solid(Weight::Hair, FAINT);
