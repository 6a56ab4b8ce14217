//! What she may carry by 33 CFR 183, tried by hand, on boxes, and against the rule's published numbers.

use crate::flotation::{hull, near, prism};
use boat::geom::Point;
use boat::load::{Known, Measures, Moved, allowed, horsepower, measures, motor, persons};

/// 33 CFR 183.43 (b): 32 lb added, by 141, a half up. The published numbers of the safe-loading guide (`CFR33-183`): 550, 547 and
/// 546 lb are four persons; by hand 450 lb are three and 555 lb four. The boundaries by hand: n + ½ persons are 141 n + 38.5 lb.
#[test]
fn persons_are_rounded_as_the_rule_says() {
    for (pounds, count) in [(550.0, 4), (547.0, 4), (546.0, 4), (450.0, 3), (555.0, 4), (461.5, 4), (461.49, 3)] {
        assert_eq!(persons(pounds), count, "{pounds}");
    }
    for n in 0..20 {
        let half = 141.0 * f64::from(n) + 38.5;
        assert_eq!(persons(half), n + 1, "{half}");
        assert_eq!(persons(half - 1e-9), n, "just under {half}");
    }
    assert_eq!((persons(0.0), persons(-50.0), persons(f64::NAN)), (0, 0, 0));
}

/// By hand: displacement 2000 lb, boat 300 lb. By oars 3/10 of 1700 is 510, 90 % of that 459, (459 + 32) / 141 = 3.48, three
/// persons; with a small motor 434 lb, 3.30, three; with a larger one a fifth, 340 lb.
#[test]
fn the_rule_is_worked_through_step_by_step() {
    let m = Measures { length: 13.0, displacement: 2000.0, boat: 300.0, transom: None };
    let by_hand = allowed(&m, Moved::ByHand);
    near(by_hand.weight, 510.0, "weight");
    assert_eq!(by_hand.persons.map(|p| p.1), Some(3));
    near(by_hand.persons.unwrap().0, 459.0, "persons");
    let small = allowed(&m, Moved::SmallMotor);
    near(small.persons.unwrap().0, 434.0, "persons");
    let larger = allowed(&m, Moved::Outboard);
    near(larger.weight, 340.0, "weight");
    assert_eq!(larger.persons, None);
    let capacity = by_hand.steps.iter().find(|s| s.section == "183.37 (a)").unwrap();
    assert_eq!((capacity.known, capacity.how.as_str()), (Known::Read, "3/10 × (2000 − 300)"));
    // What was not read says so.
    assert!(larger.steps.iter().any(|s| s.section == "183.35" && s.known == Known::Quoted));
    assert!(by_hand.steps.iter().filter(|s| s.section.starts_with("183.4")).all(|s| s.known == Known::Read));
    // Heavier than what she displaces: nothing, and nobody.
    let sunk = allowed(&Measures { boat: 2500.0, ..m }, Moved::ByHand);
    assert_eq!((sunk.weight, sunk.persons), (0.0, Some((0.0, 0))));
    assert!(!Measures { length: 20.0, ..m }.short_enough());
}

/// Table 183.53 and the formula for other boats without remote steering, read: each boundary of the table to the nearest whole
/// factor; 0.8 × 75 − 25 = 35 stays, 0.8 × 76 − 25 = 35.8 is raised to 40. The weights are column 9 of table 183.75, read, each the
/// sum of its own columns 3, 5, 6 and 8.
#[test]
fn a_motors_power_and_weight_are_as_the_tables_have_them() {
    let table =
        [([0.0, 35.4], 3.0), ([35.5, 39.4], 5.0), ([39.5, 42.4], 7.5), ([42.5, 45.4], 10.0), ([45.5, 52.5], 15.0)];
    for (ends, power) in table {
        assert_eq!(ends.map(horsepower), [power; 2], "{ends:?}");
    }
    for (factor, power) in [(52.6, 20.0), (75.0, 35.0), (76.0, 40.0), (100.0, 55.0)] {
        assert_eq!(horsepower(factor), power, "{factor}");
    }
    let columns = [
        (2.0, [32.0, 0.0, 0.0, 0.0]),
        (3.0, [44.0, 0.0, 0.0, 0.0]),
        (5.0, [69.0, 0.0, 0.0, 25.0]),
        (7.5, [110.0, 5.0, 20.0, 50.0]),
        (10.0, [110.0, 5.0, 20.0, 50.0]),
        (15.0, [133.0, 6.0, 45.0, 50.0]),
        (25.0, [196.0, 9.0, 45.0, 100.0]),
        (40.0, [300.0, 14.0, 45.0, 100.0]),
        (90.0, [461.0, 22.0, 45.0, 100.0]),
        (100.0, [481.0, 23.0, 45.0, 100.0]),
        (120.0, [552.0, 26.0, 45.0, 100.0]),
        (150.0, [589.0, 28.0, 45.0, 100.0]),
        (200.0, [685.0, 33.0, 45.0, 100.0]),
        (300.0, [734.0, 35.0, 45.0, 100.0]),
        (350.0, [928.0, 44.0, 45.0, 100.0]),
    ];
    for (power, columns) in columns {
        assert_eq!(motor(power), columns.iter().sum::<f64>(), "{power}");
    }
}

/// By hand: 13 ft by 3.6 ft is 46.8, 47 to the nearest: 15 hp, whose gear weighs 234 lb; of 500 lb that leaves 266, (266 + 32) / 141 =
/// 2.11, two persons.
#[test]
fn a_motor_comes_off_what_she_may_carry() {
    let m = Measures { length: 13.0, displacement: 2800.0, boat: 300.0, transom: Some(3.6) };
    let a = allowed(&m, Moved::Outboard);
    assert_eq!((a.power, a.persons), (Some(15.0), Some((266.0, 2))));
    let sections: Vec<&str> = a.steps.iter().map(|s| s.section).collect();
    assert_eq!(sections[3..], ["183.35", "183.53 (a)", "183.75", "183.41 (a)", "183.41 (b)"]);
    assert!(a.steps[4..].iter().all(|s| s.known == Known::Read));
    // Too small for it: nobody, and not less than nobody.
    let small = allowed(&Measures { displacement: 1000.0, ..m }, Moved::Outboard);
    assert_eq!(small.persons, Some((0.0, 0)));
    // The others have no more power than they say.
    assert_eq!(allowed(&m, Moved::SmallMotor).power, None);
}

/// The width that power goes by: her transom's, or, where that is not over half her beam, the greatest of the aftermost quarter.
#[test]
fn a_narrow_transom_is_measured_forward_of_it() {
    let body = |stern: f64| {
        let row = |x: f64, half: f64| vec![Point::new(x, half, 0.0), Point::new(x, half, 1000.0)];
        hull(&[row(0.0, 750.0), row(3000.0, 750.0), row(4000.0, stern)])
    };
    let width = |stern: f64| measures(&body(stern), 100.0, true).unwrap().transom.unwrap();
    near(width(400.0), 0.8 / 0.3048, "a full transom");
    near(width(300.0), 1.5 / 0.3048, "a narrow one");
    assert_eq!(measures(&body(400.0), 100.0, false).unwrap().transom, None);
}

/// A box 4 m by 1.5 m by 1 m displaces 6 m³ to its edge: 211.888 ft³ of 62.4 lb.
#[test]
fn a_box_is_measured_for_the_rule() {
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], 4000.0);
    let m = measures(&body, 100.0, false).unwrap();
    near(m.displacement, 6.0 / 0.3048_f64.powi(3) * 62.4, "displacement");
    near(m.length, 4.0 / 0.3048, "length");
    near(m.boat, 100.0 / 0.453_592_37, "boat");
}

/// Level is with the ends of the sheer equally high, 183.37 (b) (1) (i): a box whose straight sheer rises 200 mm to the stern is
/// trimmed by that over her length, and lies under water to the sheer all along.
#[test]
fn level_is_by_the_ends_of_the_sheer() {
    let row = |x: f64, top: f64| vec![Point::new(x, 750.0, 0.0), Point::new(x, 750.0, top)];
    let m = measures(&hull(&[row(0.0, 1000.0), row(4000.0, 1200.0)]), 0.0, true).unwrap();
    // 4 m by 1.5 m, 1.1 m deep in the mean.
    near(m.displacement, 6.6 / 0.3048_f64.powi(3) * 62.4, "displacement");
}
