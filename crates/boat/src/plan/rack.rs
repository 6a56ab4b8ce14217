//! The boards in the rack as a limit while the number of strakes is chosen.
//!
//! What board a plank wants is known when it has been laid flat and parted, which takes longer than all of the lining. So here
//! it is reckoned: the middle line of the strake's neutral surface rolled out by how it turns in the strake's face, with the
//! strake's own width across it, parted evenly. On whole planks that comes within 0.2 mm of the flat shape of least
//! strain (the test below); it is kept on the safe side by [`UNSURE`]. What the rack really holds is said after the planks are laid flat, by `stock::check`.

use crate::development::board;
use crate::geom::{Point, Vector, angle_about, unit_or};
use crate::planks::Strake;
use crate::spec::Spec;
use crate::stock::SAME;

/// So much wider than reckoned a plank may come out, mm: scarfs go to timbers, so that its parts are not quite even.
const UNSURE: f64 = 3.0;
/// Most parts that a plank is made of, as in `scarfs`.
const MOST_PARTS: usize = 6;

/// A strake that comes out of none of the boards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TooWide {
    /// 1 to n.
    pub strake: usize,
    /// Width that its parts want, mm.
    pub wants: f64,
    /// Width of the board that comes nearest, mm.
    pub has: f64,
}

/// The strakes that are too wide for all `boards`, `[length, width]` in mm; none where no board is known.
pub(super) fn too_wide(strakes: &[Strake], boards: &[[f64; 2]], spec: &Spec) -> Vec<TooWide> {
    if boards.is_empty() {
        return Vec::new();
    }
    strakes.iter().filter_map(|s| one(s, boards, spec, s.strake == strakes.len())).collect()
}

fn one(strake: &Strake, boards: &[[f64; 2]], spec: &Spec, sheer: bool) -> Option<TooWide> {
    let flat = Flat::of(strake);
    let upper = spec.allowance(sheer).upper + UNSURE;
    let scarf = spec.scarfs.ratio * strake.thickness;
    let mut nearest: Option<TooWide> = None;
    for parts in 1..=MOST_PARTS {
        let sizes: Vec<[f64; 2]> = (0..parts).map(|part| flat.part(part, parts, scarf)).collect();
        let [long, wants] = [0, 1].map(|i| sizes.iter().map(|s| s[i]).fold(0.0, f64::max));
        let wants = wants + upper;
        let long_enough = boards.iter().filter(|b| b[0] + SAME >= long);
        let Some(has) = long_enough.map(|b| b[1]).max_by(f64::total_cmp) else { continue };
        if wants <= has + SAME {
            return None;
        }
        if nearest.is_none_or(|n| wants - has < n.wants - n.has) {
            nearest = Some(TooWide { strake: strake.strake, wants, has });
        }
    }
    nearest
}

/// A strake rolled out, near enough.
struct Flat {
    /// Ends of the rulings: lower and upper.
    rulings: Vec<[[f64; 2]; 2]>,
    /// How far along the middle line each is, mm.
    along: Vec<f64>,
}

impl Flat {
    fn of(strake: &Strake) -> Self {
        let half = 0.5 * strake.thickness;
        let edges: Vec<[Point; 2]> =
            strake.rulings.iter().map(|r| [r.lower + r.lower_normal * half, r.upper + r.normal * half]).collect();
        let normals: Vec<Vector> =
            strake.rulings.iter().map(|r| unit_or(r.lower_normal + r.normal, r.normal)).collect();
        let middles: Vec<Point> = edges.iter().map(|[a, b]| nalgebra::center(a, b)).collect();
        let last = middles.len() - 1;
        let chord = |i: usize| middles[i + 1] - middles[i];
        let in_face = |v: &Vector, i: usize| unit_or(v - normals[i] * v.dot(&normals[i]), Vector::x());
        let (mut way, mut at) = (0.0_f64, [0.0, 0.0]);
        let (mut rulings, mut along) = (Vec::with_capacity(last + 1), vec![0.0]);
        for i in 0..=last {
            let after = in_face(&chord(i.min(last - 1)), i);
            if i > 0 && i < last {
                way += angle_about(&in_face(&chord(i - 1), i), &after, &normals[i]);
            }
            let across = edges[i][1] - edges[i][0];
            let turned = way + angle_about(&after, &in_face(&across, i), &normals[i]);
            let reach = [turned.cos(), turned.sin()].map(|c| 0.5 * across.norm() * c);
            rulings.push([[at[0] - reach[0], at[1] - reach[1]], [at[0] + reach[0], at[1] + reach[1]]]);
            if i < last {
                let length = chord(i).norm();
                at = [at[0] + length * way.cos(), at[1] + length * way.sin()];
                along.push(along[i] + length);
            }
        }
        Flat { rulings, along }
    }

    /// Length and width of the least board of one of so many even parts, whose ends lap by `scarf`; to whole rulings outward.
    fn part(&self, part: usize, parts: usize, scarf: f64) -> [f64; 2] {
        let last = self.along.len() - 1;
        let each = self.along[last] / parts as f64;
        let (from, to) = (each * part as f64 - 0.5 * scarf, each * (part + 1) as f64 + 0.5 * scarf);
        let first = self.along.partition_point(|&a| a <= from).saturating_sub(1);
        let after = self.along.partition_point(|&a| a < to).min(last);
        let outline: Vec<[f64; 2]> = self.rulings[first..=after].iter().flatten().copied().collect();
        let board = board::least(&outline, [1.0, 0.0]);
        [board.length, board.width]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::folder::{BoatTexts, read};
    use crate::plan::plan;

    /// Against the flat shapes of least strain, each with its true ends, of every strake of our three boats.
    #[test]
    fn boards_are_reckoned_as_wide_as_they_come_out() {
        let boats = [
            (
                include_str!("../../../../boats/corncrake/boat.toml"),
                include_str!("../../../../boats/corncrake/offsets.csv"),
            ),
            (
                include_str!("../../../../boats/sandgrouse/boat.toml"),
                include_str!("../../../../boats/sandgrouse/offsets.csv"),
            ),
            (
                include_str!("../../../../boats/lapwing/boat.toml"),
                include_str!("../../../../boats/lapwing/offsets.csv"),
            ),
        ];
        for (toml, offsets) in boats {
            let texts =
                BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), marks: None, ..BoatTexts::default() };
            let plan = plan(&read(&texts).unwrap()).unwrap();
            for (strake, flat) in plan.strakes.iter().zip(&plan.flats) {
                let [long, wide] = Flat::of(strake).part(0, 1, 0.0);
                let name = format!("{}, strake {}", plan.spec.name, strake.strake);
                assert!((wide - flat.board_width).abs() < 0.2, "{name}: {wide} for {}", flat.board_width);
                assert!((long - flat.length).abs() < 0.6, "{name}: {long} for {}", flat.length);
            }
        }
    }
}
