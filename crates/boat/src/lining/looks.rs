//! The parts of the sum that the eye asks for: lands that bend one way, and strakes that taper.
//!
//! Both are one-sided. A land may bend as much as it likes to its own hand, and a strake may taper as fast as it likes:
//! only what turns back or widens again counts. The hand of a land in a view is that to which it turns in all, from end to
//! end, with the widths wanted; so it does not change while the search goes on.

use super::loss::{Coordinate, Loss, Marks, System, square};
use crate::eyes::Eye;
use crate::geom::Point;
use crate::lines::Skin;

/// Coordinates of a land in space that make a view: profile and half-breadth.
const PLANES: [[usize; 2]; 2] = [[0, 2], [0, 1]];

/// To which hand each land through marks at `girths` bends as each eye sees it, in profile and in half-breadth: ± 1 over
/// its mean chord, 1/mm, `[land][view]`.
pub fn hands(skin: &Skin, eyes: &[Eye], girths: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let of = |row: &Vec<f64>| {
        let at: Vec<Point> = row.iter().enumerate().map(|(j, &s)| Point::from(skin.curves[j].at(s))).collect();
        let by_eye = eyes.iter().map(|eye| hand(at.iter().map(|p| eye.sees(p)).collect()));
        let in_plane = PLANES.iter().map(|axes| hand(at.iter().map(|p| axes.map(|c| p[c])).collect()));
        by_eye.chain(in_plane).collect()
    };
    girths.iter().map(of).collect()
}

fn hand(seen: Vec<[f64; 2]>) -> f64 {
    let chords: Vec<[f64; 2]> = seen.windows(2).map(|w| [w[1][0] - w[0][0], w[1][1] - w[0][1]]).collect();
    let mean = chords.iter().map(|c| c[0].hypot(c[1])).sum::<f64>() / chords.len() as f64;
    cross(chords[0], chords[chords.len() - 1]).signum() / mean
}

fn cross(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

impl Loss<'_> {
    /// Where land `k` turns back: at each mark the area between its two chords, over the mean chord, where it lies to the
    /// other hand.
    pub(super) fn back(&self, k: usize, coordinates: &[Coordinate], mut system: Option<&mut System>) -> f64 {
        let index = &self.index[k];
        let views = (0..self.eyes.len()).map(|e| [3 + 2 * e, 4 + 2 * e]).chain(PLANES);
        let mut sum = 0.0;
        for (axes, hand) in views.zip(&self.hands[k]) {
            let [across, up] = axes.map(|c| &coordinates[c]);
            let chord = |j: usize| [across.values[j + 1] - across.values[j], up.values[j + 1] - up.values[j]];
            for j in 1..index.len() - 1 {
                let (a, b) = (chord(j - 1), chord(j));
                let past = -hand * cross(a, b);
                if past > 0.0 {
                    let moves = |j: usize| [across.moves[j], up.moves[j]];
                    let parts = [
                        (index[j - 1], hand * cross(moves(j - 1), b)),
                        (index[j], -hand * cross(moves(j), [a[0] + b[0], a[1] + b[1]])),
                        (index[j + 1], hand * cross(moves(j + 1), a)),
                    ];
                    sum += square(self.weights.back, past, &parts, system.as_deref_mut());
                }
            }
        }
        sum
    }

    /// Where strake `k` (from 0) shows wider at a section than at the next one towards the fullest, by more than is wanted.
    pub(super) fn taper(&self, k: usize, marks: &Marks, mut system: Option<&mut System>) -> f64 {
        let sections = marks.girths[k].len();
        let fullest = (0..sections).max_by(|&a, &b| self.skin.girth(a).total_cmp(&self.skin.girth(b))).unwrap_or(0);
        let mut sum = 0.0;
        for j in (0..sections).filter(|&j| j != fullest) {
            let next = if j < fullest { j + 1 } else { j - 1 };
            let [out, inner] = [j, next].map(|j| self.wishes.square[k][j]);
            let widens = |width: &dyn Fn(usize) -> f64| out * width(j) - inner * width(next);
            let wanted = widens(&|j| self.wishes.widths[k][j]).max(0.0);
            let past = widens(&|j| marks.girths[k + 1][j] - marks.girths[k][j]) - wanted;
            if past > 0.0 {
                let parts = [
                    (self.index[k + 1][j], out),
                    (self.index[k][j], -out),
                    (self.index[k + 1][next], -inner),
                    (self.index[k][next], inner),
                ];
                sum += square(self.weights.taper, past, &parts, system.as_deref_mut());
            }
        }
        sum
    }
}
