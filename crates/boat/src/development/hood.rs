//! The true end of a plank in a stem's or sternpost's rabbet.
//!
//! A flat plank ends at its first and last rulings, which are straight; the rabbet between the two lands is not. Its
//! points are dropped square on the plank's own plane at that ruling and laid off in the flat from the straight line.
//! Cannot do: the plank is flat across, so the rabbet stands a little off its face too; how far is told.

use super::{FlatPlank, HoodEnd};
use crate::geom::{Point, unit_or};
use crate::lines::{Section, SectionAt};
use crate::planks::{Ruling, Strake};

/// `flat` with its hood ends at those of its ends that are posts, on a board that holds them too. `sections` are the
/// skin's, from bow to stern.
#[must_use]
pub fn hood_ends(mut flat: FlatPlank, strake: &Strake, sections: &[Section]) -> FlatPlank {
    let (Some(fore), Some(aft)) = (strake.rulings.first(), strake.rulings.last()) else { return flat };
    let last = flat.lower.len() - 1;
    flat.fore_hood = post(sections.first())
        .map(|rabbet| laid_off(&dropped(fore, rabbet, false), flat.lower[0], flat.upper[0], false));
    flat.aft_hood = post(sections.last())
        .map(|rabbet| laid_off(&dropped(aft, rabbet, true), flat.lower[last], flat.upper[last], true));
    on_its_board(&mut flat);
    flat
}

fn post(section: Option<&Section>) -> Option<&[Point]> {
    section.filter(|s| s.at == SectionAt::Post).map(|s| s.points.as_slice())
}

/// Share of a hood end within which its corner stands for the rabbet: a corner may lie half a mm off it.
const CORNER: f64 = 0.04;

/// A point of the rabbet: up the ruling as a share of it, beyond it in the plank's plane, and off that plane outboard.
struct Dropped {
    share: f64,
    beyond: f64,
    off_face: f64,
}

/// Points of the rabbet between the ruling's ends, and those ends.
fn dropped(ruling: &Ruling, rabbet: &[Point], aft: bool) -> Vec<Dropped> {
    let (up, length) = (ruling.up(), (ruling.upper - ruling.lower).norm());
    let corner = |share| Dropped { share, beyond: 0.0, off_face: 0.0 };
    let mut points = vec![corner(0.0)];
    for p in rabbet {
        let from_lower = p - ruling.lower;
        let share = from_lower.dot(&up) / length;
        if share <= points[points.len() - 1].share.max(CORNER) || share >= 1.0 - CORNER {
            continue;
        }
        let normal = unit_or(ruling.lower_normal * (1.0 - share) + ruling.normal * share, ruling.normal);
        let out = unit_or(normal.cross(&up), ruling.tangent) * if aft { 1.0 } else { -1.0 };
        points.push(Dropped { share, beyond: from_lower.dot(&out), off_face: from_lower.dot(&normal) });
    }
    points.push(corner(1.0));
    points
}

/// Lays the points off from the straight line between two corners of the flat plank.
fn laid_off(points: &[Dropped], lower: [f64; 2], upper: [f64; 2], aft: bool) -> HoodEnd {
    let (dx, dy) = (upper[0] - lower[0], upper[1] - lower[1]);
    let length = dx.hypot(dy);
    let sign = if aft { 1.0 } else { -1.0 };
    let out = [sign * dy / length, -sign * dx / length];
    let place =
        |p: &Dropped| [lower[0] + p.share * dx + p.beyond * out[0], lower[1] + p.share * dy + p.beyond * out[1]];
    HoodEnd {
        curve: points.iter().map(place).collect(),
        offsets: points.iter().map(|p| [p.share * length, p.beyond]).collect(),
        off_face: points.iter().map(|p| p.off_face).max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or_default(),
    }
}

/// Moves the plank so that its hood ends too lie on the board, and makes the board as large as that needs.
fn on_its_board(flat: &mut FlatPlank) {
    let hoods = flat.fore_hood.iter().chain(&flat.aft_hood).flat_map(|h| &h.curve);
    let (mut low, mut high) = ([0.0, 0.0], [flat.length, flat.board_width]);
    for p in hoods {
        for axis in 0..2 {
            low[axis] = f64::min(low[axis], p[axis]);
            high[axis] = f64::max(high[axis], p[axis]);
        }
    }
    let shift = |p: &mut [f64; 2]| *p = [p[0] - low[0], p[1] - low[1]];
    flat.lower.iter_mut().chain(&mut flat.upper).for_each(shift);
    flat.stations.iter_mut().for_each(|s| {
        shift(&mut s.lower);
        shift(&mut s.upper);
    });
    flat.fore_hood.iter_mut().chain(&mut flat.aft_hood).flat_map(|h| &mut h.curve).for_each(shift);
    (flat.length, flat.board_width) = (high[0] - low[0], high[1] - low[1]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Vector;

    const WIDE: f64 = 120.0;
    const LONG: f64 = 1000.0;
    const RADIUS: f64 = 400.0;

    /// A flat upright plank, 120 × 1000, leaving the stem at `angle` to the centreline.
    fn plank(angle: f64) -> Strake {
        let (aft, normal) = (Vector::new(angle.cos(), angle.sin(), 0.0), Vector::new(-angle.sin(), angle.cos(), 0.0));
        let rulings = (0..=20)
            .map(|i| {
                let along = LONG * f64::from(i) / 20.0;
                let lower = Point::new(0.0, 10.0, 50.0) + aft * along;
                let upper = lower + Vector::z() * WIDE;
                let step = 9.0;
                Ruling { lower, upper, normal, tangent: aft, lower_normal: normal, along, step, bevel: None }
            })
            .collect();
        Strake { strake: 3, thickness: 0.0, rulings, at: Vec::new() }
    }

    /// A stem's rabbet: an arc that bulges forward, through both corners of the plank and on past them.
    fn stem() -> Section {
        let half = 0.5 * WIDE / RADIUS;
        let centre_x = RADIUS * half.asin().cos();
        let points = (-60..=60)
            .map(|i| {
                let a = half.asin() * f64::from(i) / 40.0;
                Point::new(centre_x - RADIUS * a.cos(), 10.0, 50.0 + 0.5 * WIDE + RADIUS * a.sin())
            })
            .collect();
        Section { name: "stem".to_owned(), at: SectionAt::Post, points, girth: 0.0 }
    }

    /// The sagitta of the arc, R − √(R² − (w/2)²), foreshortened by the cosine of the plank's angle to the centreline.
    #[test]
    fn an_arc_stands_its_sagitta_beyond_the_straight_line() {
        let sagitta = RADIUS - (RADIUS * RADIUS - 0.25 * WIDE * WIDE).sqrt();
        assert!(sagitta > 4.0);
        for degrees in [0.0, 30.0, 55.0_f64] {
            let strake = plank(degrees.to_radians());
            let transom = Section { at: SectionAt::Transom, ..stem() };
            let straight = super::super::unroll(&strake).unwrap();
            let flat = hood_ends(straight.clone(), &strake, &[stem(), transom]);
            let hood = flat.fore_hood.as_ref().unwrap();
            let expected = sagitta * degrees.to_radians().cos();
            assert!((hood.most()[1] - expected).abs() < 1e-9, "{degrees}: {:?}", hood.most());
            assert!((hood.off_face.abs() - sagitta * degrees.to_radians().sin()).abs() < 1e-9);
            assert!((hood.most()[0] - 0.5 * WIDE).abs() < 1e-9);
            assert!(flat.aft_hood.is_none());
            // The board has grown by it, and the curve touches its end.
            assert!((flat.length - straight.length - expected).abs() < 1e-9);
            assert!((flat.board_width - straight.board_width).abs() < 1e-9);
            assert!(hood.curve.iter().map(|p| p[0]).fold(f64::MAX, f64::min).abs() < 1e-9);
            let ends = (hood.curve[0], hood.curve[hood.curve.len() - 1]);
            assert_eq!(ends, (flat.lower[0], flat.upper[0]));
        }
    }

    /// The same arc as a sternpost, turned end for end, lengthens the plank aft.
    #[test]
    fn a_sternpost_lengthens_the_after_end() {
        let strake = plank(0.0);
        let mut post = stem();
        post.points.iter_mut().for_each(|p| p.x = LONG - p.x);
        let transom = Section { at: SectionAt::Transom, ..stem() };
        let flat = hood_ends(super::super::unroll(&strake).unwrap(), &strake, &[transom, post]);
        let hood = flat.aft_hood.as_ref().unwrap();
        let most = hood.curve.iter().map(|p| p[0]).fold(0.0, f64::max);
        assert!((most - flat.length).abs() < 1e-9 && flat.length > LONG + 4.0);
        assert_eq!(hood.curve[0], flat.lower[20]);
    }
}
