//! The planking geometry against closed forms.
//!
//! Each follows from the definitions of land, lap and bevel and is derived beside its test; where no source stands,
//! the derivation is the source.

use crate::common::{lands, skin, spec};
use crate::measure::apart;
use boat::development::{flatten::flatten, unroll};
use boat::fastenings::{self, rivet};
use boat::geom::Point;
use boat::planks::{Strake, land, lay};
use std::f64::consts::{FRAC_PI_2, PI};

const T: f64 = 9.0;
const W: f64 = 19.0;

/// A trough of circular section, radius `r`, centre at height `r`, its lands `d` radians apart from the bottom up.
/// The section is given at fine steps, so that the spline through it is a circle to about 1e-9 mm.
fn circular(r: f64, d: f64, strakes: usize, hollow: bool) -> Vec<Strake> {
    let x: Vec<f64> = (0..8).map(|i| f64::from(i) * 300.0).collect();
    let whole = d * strakes as f64;
    let (skin, table) = skin(&x, |x| {
        (0..=240)
            .map(|i| {
                let a = whole * f64::from(i) / 240.0;
                // Round: up and outboard from the bottom of the circle, turning inboard. Hollow: the same seen from
                // the other side, turning outboard.
                if hollow {
                    Point::new(x, 10.0 + r - r * a.cos(), r * a.sin())
                } else {
                    Point::new(x, r * a.sin(), r - r * a.cos())
                }
            })
            .collect()
    });
    let shares: Vec<f64> = (0..=strakes).map(|k| k as f64 / strakes as f64).collect();
    lay(&lands(&skin, &shares), &skin, &table, &spec(T, W)).unwrap()
}

/// Circle. In the frame of strake k+1 (ruling r', normal N') the last one's are turned back by D:
/// r = cos D r' + sin D N' and N = cos D N' − sin D r'. From U_k to L is t N − w r, so square to r' it is
/// t cos D − w sin D = −a and along it −t sin D − w cos D. The chord U_k U_{k+1} is c and has the same part −a along N'
/// …and √(c² − a²) along r', so B = √(c² − a²) + t sin D + w cos D.
#[test]
fn circular_section_has_the_bevel_and_width_of_the_circle() {
    for (r, d) in [(700.0, 8.0_f64), (700.0, 6.0), (450.0, 11.0)] {
        let d = d.to_radians();
        let n = (PI / d).floor() as usize;
        let strakes = circular(r, d, n, false);
        let c = 2.0 * r * (d / 2.0).sin();
        let a = W * d.sin() - T * d.cos();
        let along = T * d.sin() + W * d.cos();
        let b = (c * c - a * a).sqrt() + along;
        // The garboard starts without a lap; what it has wrong dies by `along / B` a strake.
        let s = &strakes[n - 1];
        let below = &strakes[n - 2];
        for at in &s.at {
            assert!((at.width - b).abs() < 1e-6, "width {} against {b}", at.width);
        }
        for at in &below.at {
            assert!((at.bevel.unwrap() - d).abs() < 1e-6, "bevel {} against {d}", at.bevel.unwrap());
            assert!((at.shows - (b - W)).abs() < 1e-6);
            assert!((at.edge_left.unwrap() - (T - W * d.tan())).abs() < 1e-6);
        }
    }
}

#[test]
fn garboards_start_dies_at_the_stated_rate() {
    let (r, d) = (700.0, 9.0_f64.to_radians());
    let strakes = circular(r, d, 10, false);
    let c = 2.0 * r * (d / 2.0).sin();
    let a = W * d.sin() - T * d.cos();
    let along = T * d.sin() + W * d.cos();
    let b = (c * c - a * a).sqrt() + along;
    // Directions of the rulings against the steady one, by the bevels: the sum of (bevel − D) over the lands above.
    let bevel: Vec<f64> = strakes[..9].iter().map(|s| s.at[3].bevel.unwrap() - d).collect();
    for k in 3..6 {
        let ratio = bevel[k + 1] / bevel[k];
        assert!((ratio.abs() - along / b).abs() < 0.02 * (along / b), "strake {k}: {ratio} against {}", along / b);
    }
}

/// Hollow circle: the next strake pivots on T = U_k + t N. From T its ruling runs to U_{k+1}; T lies t cos D off the
/// chord's start square to r', so the part of c along r' is √(c² − t² cos² D), less t sin D, plus w / cos D below T.
#[test]
fn hollow_circle_turns_the_other_way() {
    for (r, d) in [(700.0, 6.0_f64), (500.0, 9.0)] {
        let d = d.to_radians();
        let n = (FRAC_PI_2 / d).floor() as usize;
        let strakes = circular(r, d, n, true);
        let c = 2.0 * r * (d / 2.0).sin();
        let b = (c * c - (T * d.cos()).powi(2)).sqrt() - T * d.sin() + W / d.cos();
        let (s, below) = (&strakes[n - 1], &strakes[n - 2]);
        for i in 0..s.at.len() {
            assert!((below.at[i].bevel.unwrap() + d).abs() < 1e-6, "bevel {}", below.at[i].bevel.unwrap());
            assert!((s.at[i].width - b).abs() < 1e-6, "width {} against {b}", s.at[i].width);
            assert!((below.at[i].edge_left.unwrap() - T).abs() < 1e-9);
        }
    }
}

/// Flat side: each strake stands on the face of the last, t further out at its lower edge, so over a chord c it has
/// √(c² − t²) + w, no bevel, and a rivet holds both thicknesses.
#[test]
fn flat_side_has_no_bevel() {
    let x: Vec<f64> = (0..8).map(|i| f64::from(i) * 300.0).collect();
    let n = 12;
    let (skin, table) =
        skin(&x, |x| (0..=10).map(|i| Point::new(x, 100.0 + f64::from(i) * 36.0, f64::from(i) * 108.0)).collect());
    let shares: Vec<f64> = (0..=n).map(|k| k as f64 / n as f64).collect();
    let strakes = lay(&lands(&skin, &shares), &skin, &table, &spec(T, W)).unwrap();
    let c = skin.girth(0) / n as f64;
    let b = (c * c - T * T).sqrt() + W;
    for at in &strakes[n - 1].at {
        assert!((at.width - b).abs() < 1e-6, "width {} against {b}", at.width);
    }
    for at in &strakes[n - 2].at {
        assert!(at.bevel.unwrap().abs() < 1e-6);
    }
    assert!((rivet::grip(T, T, W, 0.0) - 2.0 * T).abs() < 1e-12);
    assert!((rivet::head_edge(T, W, 0.0) - W / 2.0).abs() < 1e-12);
}

/// Grip and edge distances measured on the two planks drawn in the plane, not by the formulas.
#[test]
fn rivet_numbers_are_those_of_the_planks_drawn() {
    for degrees in [2.0_f64, 7.0, 15.0, 25.0] {
        let b = degrees.to_radians();
        // Inner plank: inner face on the line z = 0 … outward is +z, up the plank is +y, top outer edge at (0, T).
        // Outer plank's inner face goes through L = (−W, T) turned by the bevel: direction (cos b, −sin b).
        let middle_y = -W / 2.0;
        let faying_z = T - (W / 2.0) * b.tan();
        let axis = [(b / 2.0).sin(), (b / 2.0).cos()];
        // Back along the axis to the inner face, z = 0.
        let inside = faying_z / axis[1];
        // On along it to the outer face: the outer plank's inner face moved out by T along its normal (sin b, cos b).
        let normal = [b.sin(), b.cos()];
        let outside = T / (axis[0] * normal[0] + axis[1] * normal[1]);
        assert!((rivet::grip(T, T, W, b) - (inside + outside)).abs() < 1e-9);
        // Head's centre on the outer face, and that face's lower edge, L moved out by T.
        let on_face = |direction: [f64; 2]| {
            let reach = T / (direction[0] * normal[0] + direction[1] * normal[1]);
            let head = [middle_y + reach * direction[0], faying_z + reach * direction[1]];
            let edge = [-W + T * normal[0], T + T * normal[1]];
            (head[0] - edge[0]).hypot(head[1] - edge[1])
        };
        assert!((rivet::head_edge(T, W, b) - on_face(axis)).abs() < 1e-9, "{degrees}");
        assert!((rivet::head_edge_square(T, W, b) - on_face([0.0, 1.0])).abs() < 1e-9);
        // Rove's centre on the inner face, and that plank's top edge at the origin.
        let inside = middle_y - faying_z * axis[0] / axis[1];
        assert!((rivet::rove_edge(T, T, W, b) - inside.abs()).abs() < 1e-9);
        assert!((land::edge_left(T, T, W, b) - (T - W * b.tan())).abs() < 1e-12);
        // Flush at the end of a gain: each plank has given up half its thickness, and the bevel comes off the rest.
        assert!((land::edge_left(T, 0.0, W, b) - (T / 2.0 - W * b.tan()).max(0.0)).abs() < 1e-12);
    }
}

/// Rivets placed on planks laid round a circle, whose bevels are all D once the garboard's start has died, and up a flat side,
/// whose bevels are 0: each holds what the closed form says, and its head and rove stand where it says.
#[test]
fn rivets_of_circle_and_flat_side_are_the_closed_forms() {
    let spec = spec(T, W);
    let x: Vec<f64> = (0..8).map(|i| f64::from(i) * 300.0).collect();
    let (flat_skin, table) =
        skin(&x, |x| (0..=10).map(|i| Point::new(x, 100.0 + f64::from(i) * 36.0, f64::from(i) * 108.0)).collect());
    let shares: Vec<f64> = (0..=16).map(|k| f64::from(k) / 16.0).collect();
    let flat = lay(&lands(&flat_skin, &shares), &flat_skin, &table, &spec).unwrap();
    let d = 8.0_f64.to_radians();
    for (strakes, bevel, nail) in [(circular(700.0, d, 22, false), d, 20.0), (flat, 0.0, 25.0)] {
        let last = strakes.len() - 1;
        let rivets = fastenings::rivets(&strakes, &[], &[], &spec);
        let of_land: Vec<_> = rivets.iter().filter(|r| r.land == last).collect();
        assert!(of_land.len() > 10);
        let half = 0.5 * bevel;
        let wanted = [
            (2.0 * T - 0.5 * W * bevel.tan()) / half.cos(),
            W / (2.0 * bevel.cos()) - T * half.tan(),
            W / (2.0 * bevel.cos()) - T * bevel.tan(),
            0.5 * W + (T - 0.5 * W * bevel.tan()) * half.tan(),
            half,
        ];
        let mut off = [0.0_f64; 5];
        for r in of_land {
            // In the gain each plank gives up half of what the step lacks.
            let found = [r.grip, r.head_edge, r.head_edge_square, r.rove_edge, r.lean];
            for i in (0..5).filter(|i| !r.in_gain || [1, 2, 4].contains(i)) {
                off[i] = off[i].max((found[i] - wanted[i]).abs());
            }
            assert_eq!(r.nail, rivet::nail(r.grip, 1.5, 1.0, &spec.fastenings.nail_lengths));
            if !r.in_gain {
                assert_eq!(r.nail, Some(nail));
            }
        }
        println!("grip, head, head square, rove, lean: {off:?} off at most");
        assert!(off.iter().all(|o| *o < 1e-9), "{off:?}");
    }
}

/// In a gain the step is 0 at the end and t where it begins, with no kink at either; common practice, no source.
#[test]
fn gain_runs_out_flush_without_a_kink() {
    assert_eq!(land::step(T, 300.0, 0.0), 0.0);
    assert_eq!(land::step(T, 300.0, 300.0), T);
    assert_eq!(land::step(T, 300.0, 900.0), T);
    assert_eq!(land::step(T, 0.0, 0.0), T);
    let slope = |e: f64| (land::step(T, 300.0, e + 0.01) - land::step(T, 300.0, e)) / 0.01;
    assert!(slope(0.0) < 1e-4 && slope(299.98) < 1e-4);
    assert!((land::step(T, 300.0, 150.0) - T / 2.0).abs() < 1e-12);
}

/// Cylinder about an upright axis: any strip of it is a rectangle, arc length along and height across.
#[test]
fn cylinder_lies_flat_as_a_rectangle() {
    let (r, height, turn) = (600.0, 90.0, 1.5);
    let n = 3000;
    let surface: Vec<Vec<Point>> = (0..=n)
        .map(|i| {
            let a = turn * f64::from(i) / f64::from(n);
            (0..=4).map(|c| Point::new(r * a.sin(), r * a.cos(), height * f64::from(c) / 4.0)).collect()
        })
        .collect();
    let flat = flatten(&surface).unwrap();
    let (first, last) = (&flat.points[0], &flat.points[n as usize]);
    let length = r * turn;
    assert!((apart(first[0], last[0]) / length - 1.0).abs() < 2e-8);
    assert!((apart(first[4], last[4]) / length - 1.0).abs() < 2e-8);
    assert!((apart(first[0], first[4]) - height).abs() < 1e-9);
    assert!((apart(first[0], last[4]) / length.hypot(height) - 1.0).abs() < 2e-8);
    assert!(flat.strain_max < 1e-10, "{}", flat.strain_max);
}

/// Conical tub, lands round the cone at radii r_L < r_U a slant B apart: an annular sector with sin = (r_U − r_L)/B,
/// radii r/sin and angle turn · sin. The general frustum of the reference data: r 300 and 200, h 400, whose sector has
/// radii 1236.931688 and 824.621125 (derived there).
#[test]
fn cone_lies_flat_as_an_annular_sector() {
    let (upper, lower, height, turn) = (300.0_f64, 200.0, 400.0, 1.2 * PI);
    let slant = (upper - lower).hypot(height);
    let sin = (upper - lower) / slant;
    assert!((upper / sin - 1236.931688).abs() < 1e-6 && (lower / sin - 824.621125).abs() < 1e-6);
    let n = 4000;
    let surface: Vec<Vec<Point>> = (0..=n)
        .map(|i| {
            let a = turn * f64::from(i) / f64::from(n);
            (0..=4)
                .map(|c| {
                    let v = f64::from(c) / 4.0;
                    let r = lower + (upper - lower) * v;
                    Point::new(r * a.sin(), r * a.cos(), height * v)
                })
                .collect()
        })
        .collect();
    let flat = flatten(&surface).unwrap();
    // Chord of the sector: 2 R sin(angle / 2).
    let angle = turn * sin;
    for (column, r) in [(0, lower), (4, upper)] {
        let chord = apart(flat.points[0][column], flat.points[n as usize][column]);
        let expected = 2.0 * r / sin * (angle / 2.0).sin();
        assert!((chord / expected - 1.0).abs() < 1e-7, "{chord} against {expected}");
        let half = apart(flat.points[0][column], flat.points[n as usize / 2][column]);
        assert!((half / (2.0 * r / sin * (angle / 4.0).sin()) - 1.0).abs() < 1e-7);
    }
    assert!((flat.area / (0.5 * turn * (upper + lower) * slant) - 1.0).abs() < 1e-7);
    assert!(flat.strain_max < 1e-10, "{}", flat.strain_max);
}

/// Tangents of a helix of radius a that rises b a radian, from the distance 40 to 160 along each. The helix bends 1/R, R = (a² + b²)/a, in
/// the surface and so in the plane too: laid flat it is an arc of the radius R, and a point v along a tangent stands √(R² + v²) from that
/// arc's middle, turned on from the tangent's foot by atan(v/R). Between two tangents the turn is their arc's length over R.
#[test]
fn tangents_of_a_helix_lie_flat_round_the_radius_of_its_bend() {
    let (a, b, turns) = (100.0_f64, 50.0_f64, 2.0);
    let [near, far] = [40.0, 160.0];
    let n = 4000;
    let surface: Vec<Vec<Point>> = (0..=n)
        .map(|i| {
            let t = turns * f64::from(i) / f64::from(n);
            let foot = Point::new(a * t.cos(), a * t.sin(), b * t);
            let way = boat::geom::Vector::new(-a * t.sin(), a * t.cos(), b).normalize();
            (0..=4).map(|c| foot + way * (near + (far - near) * f64::from(c) / 4.0)).collect()
        })
        .collect();
    let flat = flatten(&surface).unwrap();
    let bend = (a * a + b * b) / a;
    // 125 mm: the reference data's case of it.
    assert_eq!(bend, 125.0);
    let turn = turns * a.hypot(b) / bend;
    let on = |v: f64, turned: f64| {
        let (r, at) = (bend.hypot(v), turned + (v / bend).atan());
        [r * at.cos(), r * at.sin()]
    };
    let (first, middle, last) = (&flat.points[0], &flat.points[n as usize / 2], &flat.points[n as usize]);
    let half = 0.5 * turn;
    for (found, wanted) in [
        (apart(first[0], last[0]), apart(on(near, 0.0), on(near, turn))),
        (apart(first[4], last[4]), apart(on(far, 0.0), on(far, turn))),
        (apart(first[0], last[4]), apart(on(near, 0.0), on(far, turn))),
        (apart(first[4], middle[0]), apart(on(far, 0.0), on(near, half))),
        (apart(first[0], first[4]), far - near),
    ] {
        assert!((found / wanted - 1.0).abs() < 4e-9, "{found} against {wanted}");
    }
    assert!(flat.strain_max < 1e-10, "{}", flat.strain_max);
}

/// Helicoid strip of width b and twist τ. A fibre at v from the middle is longer by τ²v²/2; the best flat strip takes
/// the mean b²/12 of v², leaving τ²/2 (v² − b²/12): root mean square τ²b²/(12√5), at the edges τ²b²/12. A strip 12
/// widths long is judged in its middle third, to 5e-9 where the strain is 3.3e-5.
#[test]
fn helicoid_keeps_the_strain_it_must() {
    let (b, tau) = (100.0, 2.0e-4);
    let (rows, across, length) = (480, 16, 1200.0);
    let surface: Vec<Vec<Point>> = (0..=rows)
        .map(|i| {
            let x = length * f64::from(i) / f64::from(rows);
            (0..=across)
                .map(|c| {
                    let v = b * (f64::from(c) / f64::from(across) - 0.5);
                    Point::new(x, v * (tau * x).sin(), v * (tau * x).cos())
                })
                .collect()
        })
        .collect();
    let flat = flatten(&surface).unwrap();
    let stretch = |column: usize| {
        let (from, to) = (rows as usize / 3, 2 * rows as usize / 3);
        let space: f64 = (from..to).map(|i| (surface[i + 1][column] - surface[i][column]).norm()).sum();
        let plane: f64 = (from..to).map(|i| apart(flat.points[i + 1][column], flat.points[i][column])).sum();
        plane / space - 1.0
    };
    let edge = tau * tau * b * b / 12.0;
    assert!((stretch(0) + edge).abs() < 5e-9, "edge {} against {}", stretch(0), -edge);
    assert!((stretch(across as usize) + edge).abs() < 5e-9);
    assert!((stretch(across as usize / 2) - edge / 2.0).abs() < 5e-9, "middle {}", stretch(across as usize / 2));
    // Simpson's rule: the square is of the fourth degree in v, so that sixteen spaces are right to 2e-4.
    let share = |c: usize| if c == 0 || c == across as usize { 1.0 } else { [2.0, 4.0][c % 2] };
    let squares = (0..=across as usize).map(|c| share(c) * stretch(c).powi(2));
    let mean = squares.sum::<f64>() / (3.0 * f64::from(across));
    assert!((mean.sqrt() - tau * tau * b * b / (12.0 * 5.0_f64.sqrt())).abs() < 6e-9, "{}", mean.sqrt());
    assert!(flat.strain_rms <= tau * tau * b * b / (12.0 * 5.0_f64.sqrt()) * 1.001);
}

/// The whole way from lands to a flat plank on a circular trough: every strake is a flat strip as wide as it is on
/// the tape and as long as the trough.
#[test]
fn strakes_of_a_trough_are_rectangles() {
    let strakes = circular(700.0, 8.0_f64.to_radians(), 9, false);
    for s in &strakes {
        let flat = unroll(s).unwrap();
        assert!((flat.board_width - s.at[3].width).abs() < 1e-6);
        assert!((flat.length - 2100.0).abs() < 1e-6);
        assert!(flat.edge_set < 1e-6 && flat.twist_max < 1e-9 && flat.strain_max < 1e-9);
    }
}
