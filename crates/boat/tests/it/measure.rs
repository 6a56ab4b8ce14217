//! Measuring points, runs of points and outlines, by plain sums that the library has no part in.

use boat::drawing::Spot;
use boat::geom::Point;

/// From one point to another.
pub fn apart(a: Spot, b: Spot) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Length of a run of points in a plane.
pub fn length(run: &[Spot]) -> f64 {
    run.windows(2).map(|w| apart(w[0], w[1])).sum()
}

/// Area of a closed outline, by its corners; the last is joined to the first.
pub fn area(outline: &[Spot]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    0.5 * outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
}

/// Distance of a point from a straight line between two others.
pub fn off_segment(p: Spot, a: Spot, b: Spot) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let t = (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    apart(p, [a[0] + t * dx, a[1] + t * dy])
}

/// Distance of a point from a run of points in a plane.
pub fn off_run(p: Spot, run: &[Spot]) -> f64 {
    run.windows(2).map(|w| off_segment(p, w[0], w[1])).fold(f64::MAX, f64::min)
}

/// Distance of a point from a line of points in space.
pub fn off_line(p: &Point, line: &[Point]) -> f64 {
    let one = |w: &[Point]| {
        let way = w[1] - w[0];
        let share = ((p - w[0]).dot(&way) / way.norm_squared().max(1e-12)).clamp(0.0, 1.0);
        (p - (w[0] + way * share)).norm()
    };
    line.windows(2).map(one).fold(f64::MAX, f64::min)
}

/// By hand: a square of 2, a run of 3 and 4, a corner at (3, 4) off a line that ends at the origin.
#[test]
fn lengths_areas_and_distances_are_those_known_by_hand() {
    assert_eq!(area(&[[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]), 4.0);
    assert_eq!(length(&[[0.0, 0.0], [3.0, 0.0], [3.0, 4.0]]), 7.0);
    assert_eq!(off_run([3.0, 4.0], &[[-9.0, 0.0], [0.0, 0.0]]), 5.0);
    assert_eq!(off_run([-3.0, 4.0], &[[-9.0, 0.0], [0.0, 0.0]]), 4.0);
    assert_eq!(off_line(&Point::new(1.0, 2.0, 3.0), &[Point::new(0.0, 2.0, 0.0), Point::new(5.0, 2.0, 0.0)]), 3.0);
}
