//! How the lands look, against closed forms.

use std::f64::consts::{FRAC_PI_2, PI};

use boat::geom::{Point, Vector};
use boat::lands::{DEPTH, Lands, Seen, View, lands, place, variation};
use boat::planks::lay::RULINGS_PER_SPAN;
use boat::planks::{Ruling, Strake, StrakeAt};
use boat::spec::LiningSpec;
use proptest::prelude::*;

use crate::paper::boats;

const LENGTH: f64 = 4000.0;
const SPANS: usize = 10;

/// A strake whose upper edge runs along `land`, its parameter from 0 to 1, with its derivative.
fn strake(number: usize, land: impl Fn(f64) -> (Point, Vector)) -> Strake {
    let last = SPANS * RULINGS_PER_SPAN;
    let rulings = (0..=last)
        .map(|i| {
            let (upper, along) = land(i as f64 / last as f64);
            Ruling {
                lower: upper - Vector::new(0.0, 0.0, 80.0),
                upper,
                normal: Vector::y(),
                tangent: along.normalize(),
                lower_normal: Vector::y(),
                along: 0.0,
                step: 8.0,
                bevel: None,
            }
        })
        .collect();
    let at = (0..=SPANS).map(|section| StrakeAt {
        section,
        ruling: section * RULINGS_PER_SPAN,
        width: 80.0,
        shows: 60.0,
        lap: None,
        bevel: None,
        edge_left: None,
        gain: None,
    });
    Strake { strake: number, thickness: 8.0, rulings, at: at.collect() }
}

/// A land that waves up and down by `height`, `waves` half waves of it, on a straight wall.
fn wave(waves: f64, height: f64) -> Strake {
    strake(1, move |s| {
        let turn = waves * PI * s;
        let slope = height * waves * PI * turn.cos();
        (Point::new(LENGTH * s, 500.0, 300.0 + height * turn.sin()), Vector::new(LENGTH, 0.0, slope))
    })
}

fn of(strakes: &[Strake]) -> Lands {
    lands(strakes, &LiningSpec::default())
}

fn seen(found: &Lands, view: View) -> &Seen {
    found.lands[0].seen.iter().find(|s| s.view == view).unwrap()
}

#[test]
fn straight_lands_show_nothing() {
    let slopes = [-0.2, 0.0, 0.05];
    let strakes: Vec<Strake> = slopes
        .iter()
        .zip(1..)
        .map(|(slope, k)| {
            let way = Vector::new(LENGTH, 300.0, slope * LENGTH);
            strake(k, move |s| (Point::new(0.0, 400.0, 100.0 * k as f64) + way * s, way))
        })
        .collect();
    let found = of(&strakes);
    assert_eq!(found.lands.len(), 3);
    for land in &found.lands {
        assert_eq!(land.seen.len(), 7);
        assert!(land.seen.iter().all(|s| s.inflections.is_empty() && s.back.is_empty()), "{land:?}");
        assert!(land.variation.all < 1e-9, "{:?}", land.variation);
    }
}

/// n half waves: n − 1 inflections, where the wave crosses its middle; each half wave that turns back stands off its chord
/// by the wave's height. On a wall nothing of it is seen in half-breadth.
#[test]
fn a_wave_turns_back_where_it_crosses_its_middle() {
    for waves in 1..=6 {
        let found = of(&[wave(f64::from(waves), 20.0)]);
        let profile = seen(&found, View::Profile);
        assert_eq!(profile.inflections.len(), waves as usize - 1, "{waves} half waves");
        for (spot, j) in profile.inflections.iter().zip(1..) {
            let x = LENGTH * f64::from(j) / f64::from(waves);
            let space = LENGTH / (SPANS * RULINGS_PER_SPAN) as f64;
            assert!((spot.point.x - x).abs() <= space, "{waves} half waves: {} and not {x}", spot.point.x);
            assert!((spot.at * LENGTH / SPANS as f64 - spot.point.x).abs() < 1e-6);
        }
        assert_eq!(profile.back.len(), waves as usize / 2);
        // A stretch's ends are told to one ruling, in which the wave rises by so much at most.
        let rise = 20.0 * f64::from(waves) * PI / (SPANS * RULINGS_PER_SPAN) as f64;
        assert!(profile.back.iter().all(|b| (b.depth - 20.0).abs() < rise), "{:?}", profile.back);
        assert!(seen(&found, View::HalfBreadth).inflections.is_empty());
        // The eye on the beam sees it too.
        assert_eq!(found.lands[0].seen[3].inflections.len(), waves as usize - 1);
        assert!(
            found.worst.iter().any(|w| w.words(9, &[], boat::units::Notation::Mm).contains("bends both ways"))
                == (waves > 1)
        );
    }
}

/// Just too shallow to be seen, and just deep enough.
#[test]
fn a_tremble_is_no_wave() {
    let inflections = |height: f64| seen(&of(&[wave(3.0, height)]), View::Profile).inflections.len();
    assert_eq!(inflections(0.9 * DEPTH), 0);
    // Ten half waves of that height turn hard enough to be seen, but stand off too little.
    let ten = wave(10.0, 0.9 * DEPTH);
    let drawn: Vec<[f64; 2]> = ten.rulings.iter().map(|r| [r.upper.x, r.upper.z]).collect();
    assert!(boat::lining::sweet::bends(&drawn).len() > 5);
    assert_eq!(seen(&of(&[ten]), View::Profile).inflections.len(), 0);
    assert_eq!(inflections(4.0 * DEPTH), 2);
}

/// A sine of height a and n half waves has curvature a (nπ/L)² at most, which rises and falls n times: n·2·a (nπ/L)² of
/// changes, for a shallow wave. A helix of curvature κ and torsion τ has changes κ τ everywhere: L² κ τ. A circle none.
#[test]
fn variation_has_its_closed_forms() {
    for waves in 1..=5 {
        let (n, a) = (f64::from(waves), 5.0);
        let expected = LENGTH * 2.0 * n * a * (n * PI / LENGTH).powi(2);
        let found = of(&[wave(n, a)]).lands[0].variation;
        assert!((found.all / expected - 1.0).abs() < 0.0032, "{waves}: {} and not {expected}", found.all);
        assert!(found.most < found.all && found.at >= 0.0 && found.at <= SPANS as f64);
    }
    let (r, pitch, turns) = (700.0, 300.0, 1.5);
    let line = |i: u32| {
        let t = turns * FRAC_PI_2 * f64::from(i) / 200.0;
        let point = Point::new(r * t.sin(), r * t.cos(), pitch * t);
        (point, Vector::new(r * t.cos(), -r * t.sin(), pitch).normalize())
    };
    let (points, tangents): (Vec<Point>, Vec<Vector>) = (0..=200).map(line).unzip();
    let square = r * r + pitch * pitch;
    let length = square.sqrt() * turns * FRAC_PI_2;
    let expected = length * length * (r / square) * (pitch / square);
    let found = variation(&points, &tangents, 16.0).all;
    assert!((found / expected - 1.0).abs() < 3e-5, "{found} and not {expected}");
}

/// A sudden bend is where the bend changes most.
#[test]
fn the_hardest_change_is_found_where_it_is() {
    for at in [0.25, 0.5, 0.7] {
        let knuckle = strake(1, move |s| {
            let over = (s - at).max(0.0);
            (
                Point::new(LENGTH * s, 500.0, 300.0 + LENGTH * over * over),
                Vector::new(LENGTH, 0.0, 2.0 * LENGTH * over),
            )
        });
        let found = of(&[knuckle]).lands[0].variation.at;
        assert!((found - at * SPANS as f64).abs() < 0.6, "{found} and not {}", at * SPANS as f64);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    /// Bow for stern, the land is as fair: as many inflections in profile and half-breadth, and the same variation.
    #[test]
    fn turned_end_for_end_a_land_is_as_fair(waves in 0.5..6.0_f64, height in 1.0..60.0_f64, bulge in 0.0..400.0_f64) {
        let land = move |s: f64| {
            let turn = waves * PI * s;
            let point = Point::new(LENGTH * s, 300.0 + bulge * (PI * s).sin(), 300.0 + height * turn.sin());
            let way = Vector::new(LENGTH, bulge * PI * (PI * s).cos(), height * waves * PI * turn.cos());
            (point, way)
        };
        let turned = move |s: f64| {
            let (p, way) = land(1.0 - s);
            (Point::new(LENGTH - p.x, p.y, p.z), Vector::new(way.x, -way.y, -way.z))
        };
        let [a, b] = [of(&[strake(1, land)]), of(&[strake(1, turned)])];
        for view in [View::Profile, View::HalfBreadth] {
            prop_assert_eq!(seen(&a, view).inflections.len(), seen(&b, view).inflections.len());
        }
        let [a, b] = [a, b].map(|l| l.lands[0].variation.all);
        prop_assert!((a - b).abs() < 1e-6 * (1.0 + a));
    }
}

/// On real boats: stretches lie on the land and are as deep as is seen; every worst place names a place of hers; Lapwing,
/// whose lands run from transom to transom, has not one inflection.
#[test]
fn worst_places_are_on_the_boat() {
    for plan in boats() {
        let found = lands(&plan.strakes, &plan.spec.lining);
        assert_eq!(found.lands.len(), plan.strakes.len());
        let last = (plan.sections.len() - 1) as f64;
        for seen in found.lands.iter().flat_map(|l| &l.seen) {
            for back in &seen.back {
                assert!(
                    back.from < back.to && back.from >= 0.0 && back.to <= last && back.depth >= DEPTH,
                    "{back:?}"
                );
            }
            if seen.view != View::Body {
                assert_eq!(seen.inflections.is_empty(), seen.back.is_empty());
            }
        }
        let inflections: usize = found.lands.iter().flat_map(|l| &l.seen).map(|s| s.inflections.len()).sum();
        assert_eq!(inflections == 0, plan.spec.name == "Lapwing", "{}: {inflections}", plan.spec.name);
        assert!(found.worst.len() >= 2);
        for worst in &found.worst {
            let words = worst.words(plan.strakes.len(), &plan.sections, plan.spec.lengths);
            assert!(plan.sections.iter().any(|s| words.contains(&s.name)), "{words}");
        }
    }
}

#[test]
fn places_are_said_as_a_builder_says_them() {
    let sections = &boats()[0].sections;
    assert_eq!(place(sections, 0.0, 0.05), "at stem");
    assert_eq!(place(sections, 2.95, 3.0), "at station 3");
    assert_eq!(place(sections, 2.3, 2.4), "between stations 2 and 3");
    assert_eq!(place(sections, 0.4, 3.05), "between stem and station 3");
    assert_eq!(place(sections, 7.9, 9.0), "between station 8 and transom");
}
