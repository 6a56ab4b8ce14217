//! Cutting what is drawn at the edges of an upright window.
//!
//! Source of the cut of a line: Liang and Barsky 1984 (SOURCES.md). A closed outline that leaves the window comes out as open runs, so
//! that no edge of the window is drawn as if it were an edge of the thing; a tint is cut side by side (Sutherland and
//! Hodgman's way) and drawn without a pen.

use super::place::Bounds;
use super::{Item, Outline, Shape, Spot};

/// Sides of the polygon that stands for a circle cut through: 0.1 % of its radius out at most.
const SIDES: usize = 72;

/// The parts of `shape` inside `window`.
#[must_use]
pub fn clip(shape: &Shape, window: &Bounds) -> Vec<Item> {
    let whole = Item::Shape(shape.clone());
    let Some(bounds) = whole.bounds() else { return Vec::new() };
    if window.holds(&bounds) {
        return vec![whole];
    }
    // A line may lie along the window's edge, and have no width of its own.
    if !window.grown(1e-9).meets(&bounds.grown(1e-9)) {
        return Vec::new();
    }
    let (points, closed) = match &shape.outline {
        Outline::Line(points) => (points.clone(), false),
        Outline::Polygon(points) => (points.clone(), true),
        Outline::Circle { at, radius } => (round(*at, *radius), true),
    };
    let mut parts = Vec::new();
    if let (Some(fill), true) = (shape.fill, closed) {
        let inside = area(&points, window);
        if inside.len() > 2 {
            parts.push(Item::Shape(Shape { outline: Outline::Polygon(inside), stroke: None, fill: Some(fill) }));
        }
    }
    if let Some(stroke) = shape.stroke {
        parts.extend(runs(&points, closed, window).into_iter().map(|run| Shape::line(run, stroke)));
    }
    parts
}

fn round([x, y]: Spot, r: f64) -> Vec<Spot> {
    let spot = |i: usize| {
        let (sin, cos) = (std::f64::consts::TAU * i as f64 / SIDES as f64).sin_cos();
        [x + r * cos, y + r * sin]
    };
    (0..SIDES).map(spot).collect()
}

/// The runs of a line inside the window; `closed` joins the last point to the first.
#[must_use]
pub fn runs(points: &[Spot], closed: bool, window: &Bounds) -> Vec<Vec<Spot>> {
    let mut runs: Vec<Vec<Spot>> = Vec::new();
    let mut now: Vec<Spot> = Vec::new();
    let last = if closed { points.first() } else { None };
    let all: Vec<Spot> = points.iter().chain(last).copied().collect();
    for pair in all.windows(2) {
        let Some([from, to]) = segment(pair[0], pair[1], window) else { continue };
        if now.last() != Some(&from) {
            runs.push(std::mem::replace(&mut now, vec![from]));
        }
        now.push(to);
    }
    runs.push(now);
    runs.retain(|run| run.len() > 1);
    runs
}

/// The part of a straight line inside the window. Liang and Barsky 1984 (SOURCES.md): p and q for each side, entering where p < 0.
fn segment(a: Spot, b: Spot, w: &Bounds) -> Option<[Spot; 2]> {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-dx, a[0] - w.left), (dx, w.right - a[0]), (-dy, a[1] - w.top), (dy, w.bottom - a[1])] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            enter = enter.max(q / p);
        } else {
            leave = leave.min(q / p);
        }
    }
    let at = |t: f64| [a[0] + t * dx, a[1] + t * dy];
    let from = if enter > 0.0 { at(enter) } else { a };
    let to = if leave < 1.0 { at(leave) } else { b };
    (enter < leave).then_some([from, to])
}

/// The part of an area inside the window.
fn area(points: &[Spot], w: &Bounds) -> Vec<Spot> {
    let sides: [(usize, f64, f64); 4] = [(0, w.left, 1.0), (0, w.right, -1.0), (1, w.top, 1.0), (1, w.bottom, -1.0)];
    let mut now = points.to_vec();
    for (axis, edge, sign) in sides {
        let within = |p: &Spot| (p[axis] - edge) * sign >= 0.0;
        let mut next = Vec::new();
        for (i, p) in now.iter().enumerate() {
            let before = now[(i + now.len() - 1) % now.len()];
            if within(p) != within(&before) {
                let t = (edge - before[axis]) / (p[axis] - before[axis]);
                next.push([before[0] + t * (p[0] - before[0]), before[1] + t * (p[1] - before[1])]);
            }
            if within(p) {
                next.push(*p);
            }
        }
        now = next;
    }
    now
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Colour, Stroke, Weight};
    use proptest::prelude::*;

    const WINDOW: Bounds = Bounds { left: 10.0, top: 20.0, right: 110.0, bottom: 80.0 };

    fn length(run: &[Spot]) -> f64 {
        run.windows(2).map(|p| (p[1][0] - p[0][0]).hypot(p[1][1] - p[0][1])).sum()
    }

    #[test]
    fn a_square_round_the_window_leaves_no_line_in_it_and_one_across_leaves_two() {
        let square = |b: Bounds| b.corners().to_vec();
        assert!(runs(&square(WINDOW.grown(5.0)), true, &WINDOW).is_empty());
        let across = Bounds { left: 0.0, top: 30.0, right: 200.0, bottom: 60.0 };
        let found = runs(&square(across), true, &WINDOW);
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|run| (length(run) - 100.0).abs() < 1e-12));
        let tint = area(&square(across), &WINDOW);
        assert_eq!(Bounds::of(tint), Some(Bounds { top: 30.0, bottom: 60.0, ..WINDOW }));
    }

    #[test]
    fn a_circle_cut_in_half_keeps_half_its_girth() {
        let stroke = Stroke::solid(Weight::Thin, Colour(0, 0, 0));
        let circle =
            Shape { outline: Outline::Circle { at: [10.0, 50.0], radius: 12.0 }, stroke: Some(stroke), fill: None };
        let parts = clip(&circle, &WINDOW);
        let all: f64 = parts
            .iter()
            .map(|part| match part {
                Item::Shape(Shape { outline: Outline::Line(run), .. }) => length(run),
                other => panic!("{other:?}"),
            })
            .sum();
        assert!((all - std::f64::consts::PI * 12.0).abs() < 0.03, "{all}");
    }

    proptest! {
        /// Cut at a line through the window's plane, a run's two halves are together as long as the whole.
        #[test]
        fn the_halves_are_as_long_as_the_whole(
            points in prop::collection::vec(prop::array::uniform2(-200.0..300.0_f64), 2..20),
            edge in -100.0..200.0_f64,
        ) {
            let all = Bounds { left: -1000.0, top: -1000.0, right: 1000.0, bottom: 1000.0 };
            let halves = [Bounds { right: edge, ..all }, Bounds { left: edge, ..all }];
            let cut: f64 = halves.iter().flat_map(|w| runs(&points, false, w)).map(|run| length(&run)).sum();
            prop_assert!((cut - length(&points)).abs() < 1e-6);
        }
    }
}
