//! What to get out for it all.

use super::{Interior, KneeKind, Strip, StripKind, Thwart};
use crate::geom::{Point, Vector};
use crate::spec::Wood;

/// Pieces alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece<'a> {
    /// As it is said.
    pub name: &'a str,
    /// How many.
    pub count: u32,
    /// Least board of each, with what is left at its ends: length, width and thickness, mm.
    pub size: [f64; 3],
    /// Wood in each as it is in her, mm³.
    pub volume: f64,
    /// The middle of it, in the boat; y is 0: the pair's.
    pub middle: Point,
    /// The wood.
    pub wood: &'a Wood,
    /// What of a boat's parts it is.
    pub part: Part,
}

/// Parts as a price is made up of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// Thwarts, and the risings they rest on.
    Thwarts,
    /// Inwales and rubbing strakes.
    Gunwales,
    /// Breasthooks.
    Breasthook,
    /// Knees.
    Knees,
}

impl Part {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Part::Thwarts => "thwarts",
            Part::Gunwales => "gunwales",
            Part::Breasthook => "breasthook",
            Part::Knees => "knees",
        }
    }
}

/// All of it, as it goes in: strips, thwarts, breasthooks and knees.
#[must_use]
pub fn pieces(interior: &Interior) -> Vec<Piece<'_>> {
    let strips = interior.strips.iter().map(strip);
    let thwarts = interior.thwarts.iter().map(thwart);
    let knees = interior.knees.iter().map(|k| Piece {
        name: &k.name,
        count: k.pieces,
        size: [k.board[0], k.board[1], k.thickness],
        volume: k.area * k.thickness,
        middle: Point::new(k.middle().x, 0.0, k.middle().z),
        wood: &k.wood,
        part: if matches!(k.kind, KneeKind::Breasthook { .. }) { Part::Breasthook } else { Part::Knees },
    });
    strips.chain(thwarts).chain(knees).collect()
}

fn strip(s: &Strip) -> Piece<'_> {
    let sum = s.points.iter().fold(Vector::zeros(), |sum, p| sum + p.coords);
    let mut middle = Point::from(sum / s.points.len().max(1) as f64);
    middle.y = 0.0;
    Piece {
        name: &s.name,
        count: 2,
        size: [s.cut_length, s.board_width, s.stick.thickness],
        volume: s.length * s.stick.depth * s.stick.thickness,
        middle,
        wood: &s.stick.wood,
        part: if s.kind == StripKind::Rising { Part::Thwarts } else { Part::Gunwales },
    }
}

fn thwart(t: &Thwart) -> Piece<'_> {
    let area: f64 = t
        .end
        .windows(2)
        .map(|w| 0.5 * (w[1].x - w[0].x) * [w[0], w[1]].map(|e| e.top + e.under).iter().sum::<f64>())
        .sum();
    Piece {
        name: &t.name,
        count: 1,
        size: [t.board[0], t.board[1], t.thickness],
        volume: area * t.thickness,
        middle: Point::new(0.5 * (t.edges[0] + t.edges[1]), 0.0, t.top - 0.5 * t.thickness),
        wood: &t.wood,
        part: Part::Thwarts,
    }
}
