//! Shapes on one strip of given width, so that it is short.

use crate::body::{Body, Spot};
use crate::field::Field;
use crate::fill::{self, Steps};
use crate::floor::Floor;
use crate::separate::Effort;
use crate::{Board, LayoutError, Place, Shape};
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A strip and what lies on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Length used.
    pub length: f64,
    /// Area of the shapes over that of the strip.
    pub density: f64,
    /// Where each shape lies.
    pub places: Vec<Place>,
}

/// Times that shapes change places on a strip too short for them before a longer one is tried.
const TRIES: usize = 3;

fn rectangle(length: f64, width: f64) -> Board {
    Board { outline: vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]], blemishes: Vec::new(), of: None }
}

/// Lays all `shapes` on a strip `width` wide. Each shorter strip is told to `better`; the search ends when `go_on` says no.
///
/// # Errors
/// An outline that is none, or a strip too narrow for a shape.
pub fn lay_out(
    shapes: &[Shape],
    width: f64,
    seed: u64,
    better: &mut dyn FnMut(&Strip),
    go_on: &mut dyn FnMut() -> bool,
) -> Result<Strip, LayoutError> {
    let bodies = shapes.iter().enumerate().map(|(i, s)| Body::of(i, s, 0.0, 0.0)).collect::<Result<Vec<_>, _>>()?;
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let area: f64 = bodies.iter().map(|b| b.area).sum();
    let longest = bodies.iter().map(|b| f64::from(b.polygon.diameter())).fold(0.0, f64::max);
    let mut length = 2.5 * area / width + 2.0 * longest;
    let floor = |length: f64| {
        Floor::new(&rectangle(length, width), length, 0.0).map_err(|why| LayoutError::Board { board: 0, why })
    };
    let mut field = Field::new(&bodies, vec![floor(length)?]);
    let steps = Steps { along: (longest / 40.0) as f32, across: 60 };
    for i in fill::longest_first(&field) {
        let spot = fill::leftmost(&mut field, i, 0, steps);
        let spot = spot.ok_or_else(|| LayoutError::Board { board: 0, why: format!("no room for shape {i}") })?;
        field.put(i, spot);
    }
    let strip = |field: &Field<'_>, length: f64| Strip {
        length,
        density: area / (length * width),
        places: bodies.iter().zip(&field.at).map(|(b, s)| b.place(s)).collect(),
    };
    length = reach(&field);
    let mut best = strip(&field, length);
    let mut at = field.at.clone();
    better(&best);
    let effort = Effort { patience: 150, strikes: 2, anywhere: 30, about: 20 };
    let (mut shrink, mut tries) = (0.01, 0);
    while go_on() {
        let shorter = length * (1.0 - shrink);
        if tries == 0 {
            field.all_at(&at);
            squeeze(&mut field, length - shorter, &mut rng);
            field.change_floor(0, floor(shorter)?);
        } else {
            // On from where they overlapped least, but for two that change places.
            swap(&mut field, &mut rng);
        }
        if field.separate(&[0], &effort, &mut rng, go_on) {
            length = reach(&field).min(shorter);
            at = field.at.clone();
            best = strip(&field, length);
            better(&best);
            tries = 0;
        } else if tries < TRIES {
            tries += 1;
        } else {
            tries = 0;
            shrink = (shrink * 0.5_f64).max(0.0008);
        }
    }
    Ok(best)
}

/// How far along the strip shapes lie.
fn reach(field: &Field<'_>) -> f64 {
    (0..field.bodies.len()).map(|i| f64::from(field.bbox(i).x_max)).fold(0.0, f64::max)
}

/// Shapes beyond some place of the strip move back by `by`.
fn squeeze(field: &mut Field<'_>, by: f64, rng: &mut Pcg64Mcg) {
    let cut = rng.random::<f32>() * reach(field) as f32;
    for i in 0..field.bodies.len() {
        let mut spot = field.at[i];
        if spot.shift[0] > cut {
            spot.shift[0] -= by as f32;
            field.put(i, spot);
        }
    }
}

/// Two of the larger shapes change places.
fn swap(field: &mut Field<'_>, rng: &mut Pcg64Mcg) {
    let mut order: Vec<usize> = (0..field.bodies.len()).collect();
    order.sort_by(|a, b| field.bodies[*b].size.total_cmp(&field.bodies[*a].size));
    let many = (order.len() / 2).max(2).min(order.len());
    let (a, b) = (order[rng.random_range(0..many)], order[rng.random_range(0..many)]);
    let (one, other) = (field.at[a], field.at[b]);
    field.put(a, Spot { shift: other.shift, ..one });
    field.put(b, Spot { shift: one.shift, ..other });
}
