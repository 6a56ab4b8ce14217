//! The boat as she stands: facts from readings, and the rest lined again.

use crate::common::{skin, spec};
use crate::example;
use crate::plans::texts;
use boat::drawing::typeface::Type;
use boat::folder::{BoatInput, BoatTexts, read};
use boat::geom::Point;
use boat::hung::{Doubt, HungError, Judged, Measure, Planned, Reading, Side, Standing, as_she_stands};
use boat::jobs::{Number, Task, ToBe, jobs};
use boat::lines::{self, Lines, SectionAt};
use boat::lining::again::{Change, Kept, again};
use boat::lining::propose::Ask;
use boat::lining::{Limits, Weights};
use boat::paper::PaperSize;
use boat::paper::book::{self, Built};
use boat::plan::{Plan, plan};
use boat::units::{Notation, inches};

#[path = "../../benches/builder/mod.rs"]
mod builder;

const CORNCRAKE: &str = "corncrake";
const LAPWING: &str = "lapwing";

fn boat(name: &str, marks: Option<&str>) -> (BoatInput, Lines) {
    let input = read(&BoatTexts { marks: marks.map(str::to_owned), ..texts(name) }).unwrap();
    let lines = lines::fair(&input.table, &input.spec).unwrap();
    (input, lines)
}

fn reading(strake: usize, section: &str, measure: Measure) -> Reading {
    Reading { side: Side::Port, strake, section: section.to_owned(), measure }
}

/// A reading `off` the planned mark.
fn off(plan: &Plan, strake: usize, section: usize, off: f64) -> Reading {
    let mark = girth(plan, strake, section);
    reading(strake, &plan.sections[section].name, Measure::FromMark { off, mark })
}

fn girth(plan: &Plan, land: usize, section: usize) -> f64 {
    plan.marks.iter().find(|m| (m.land, m.section) == (land, section)).unwrap().girth
}

/// Every section of strakes 1 to `top` read `by` off.
fn all_off(plan: &Plan, top: usize, by: impl Fn(usize, usize) -> f64) -> Vec<Reading> {
    let places = (1..=top).flat_map(|k| (0..plan.sections.len()).map(move |j| (k, j)));
    places.map(|(k, j)| off(plan, k, j, by(k, j))).collect()
}

fn stands(input: &BoatInput, lines: &Lines, readings: &[Reading]) -> Standing {
    as_she_stands(input, lines, readings, Side::Port).unwrap()
}

/// A flat side with `n` equal strakes, of which land `hung.len()` and those below lie `hung` off, from the keel up, and what
/// the others are moved by: land by land, alike at every section.
fn flat_side(n: usize, hung: &[f64], sheer_gives: f64, change: Change) -> Vec<f64> {
    let x: Vec<f64> = (0..8).map(|i| f64::from(i) * 300.0).collect();
    let (skin, _) = skin(&x, |x| (0..=40).map(|i| Point::new(x, 500.0, f64::from(i) * 20.0)).collect());
    let mut spec = spec(9.0, 19.0);
    spec.planking.strakes = Some(n as u32);
    let ask =
        Ask { skin: &skin, planking: &spec.planking, lining: &spec.lining, pins: &[], weights: Weights::default() };
    let planned: Vec<Vec<f64>> = (0..=n).map(|k| vec![800.0 * k as f64 / n as f64; x.len()]).collect();
    let mut built = vec![planned[0].clone()];
    built.extend(hung.iter().enumerate().map(|(i, by)| planned[i + 1].iter().map(|g| g + by).collect::<Vec<f64>>()));
    let limits = Limits::none(&spec.planking, n, x.len());
    let lands = again(&ask, &limits, &Kept { planned: &planned, hung: &built, sheer_gives, change }).unwrap();
    let girths = lands.girths(&skin);
    for (row, then) in girths.iter().zip(&planned) {
        for (a, b) in row.iter().zip(then) {
            assert!((a - b - (row[0] - then[0])).abs() < 1e-6, "uneven along her");
        }
    }
    girths.iter().zip(&planned).map(|(a, b)| a[3] - b[3]).collect()
}

/// With widths alone in the sum, Σ (Δx)² between x_m = d and x_n = 0 is least where every Δx is −d/(n − m) (their mean is
/// given, so their squares are least where they are equal). Derived here.
#[test]
fn on_a_flat_side_each_of_the_rest_gives_up_an_equal_share() {
    let widths = Change { jump: 0.0, ..Change::ROUGH };
    for (n, m, d) in [(8, 3, 6.0), (10, 9, 6.0), (5, 1, -4.0)] {
        let moved = flat_side(n, &vec![d; m], 0.0, widths);
        for k in m..n {
            let gives = moved[k + 1] - moved[k];
            assert!((gives + d / (n - m) as f64).abs() < 1e-6, "{n} strakes, {m} hung, strake {}: {gives}", k + 1);
        }
    }
}

/// With jumps alone and two strakes left, (x − 2d + c)² + w (−2x + d)² is least where x (1 + 4w) = 2d − c + 2wd, c and d
/// being how far the last two hung lands are off, w what the last jump counts. Derived here.
#[test]
fn on_a_flat_side_the_last_two_share_their_jumps() {
    for (c, d, w) in [(6.0, 6.0, 1.0), (0.0, 6.0, 1.0), (2.0, -3.0, 3.0)] {
        let jumps = Change { share: 1e-9, last: w, ..Change::ROUGH };
        let moved = flat_side(6, &[0.0, 0.0, c, d], 0.0, jumps);
        let x = (2.0 * d - c + 2.0 * w * d) / (1.0 + 4.0 * w);
        assert!((moved[5] - x).abs() < 1e-5, "{} for {x}", moved[5]);
        assert!(moved[6].abs() < 1e-9);
    }
}

/// With one strake left and leave for the sheer, (y − 2d + c)² w + share (y − d)² + sheer y² is least where
/// y (w + share + sheer) = w (2d − c) + share d; past what it may give it is held there. Derived here.
#[test]
fn the_sheer_gives_what_evens_the_last_jump_but_no_more_than_it_may() {
    let change = Change { share: 0.5, jump: 1.0, last: 2.0, sheer: 3.0, limit: 1e7, fair: 0.02, ..Change::ROUGH };
    let y = (2.0 * (2.0 * 1.0 - 0.5) + 0.5 * 1.0) / (2.0 + 0.5 + 3.0);
    let moved = flat_side(4, &[0.0, 0.5, 1.0], 2.0, change);
    assert!((moved[4] - y).abs() < 1e-6, "{} for {y}", moved[4]);
    let held = flat_side(4, &[0.0, 5.0, 10.0], 1.5, change);
    assert!((held[4] - 1.5).abs() < 6e-6, "{}", held[4]);
}

/// With a next strake's jump that may be 1 mm and a great weight on it, the next one goes on with the width of the last to
/// within that: x − 2d + c = ∓1. Derived here.
#[test]
fn on_a_flat_side_close_work_leaves_the_last_width_by_a_millimetre() {
    let close = Change { step: 1e7, ..Change::CLOSE };
    for (c, d) in [(0.0, 3.0), (-1.0, -4.0)] {
        let moved = flat_side(8, &[0.0, 0.0, c, d], 0.0, close);
        let jump = moved[5] - 2.0 * d + c;
        assert!((jump + f64::signum(d)).abs() < 1.1e-6, "{jump}");
        assert!(moved[8].abs() < 1e-9);
    }
    let little = flat_side(8, &[0.0, 0.0, 0.2, 0.4], 0.0, close);
    let free = flat_side(8, &[0.0, 0.0, 0.2, 0.4], 0.0, Change { step: 0.0, ..close });
    assert_eq!(little, free);
}

#[test]
fn without_readings_she_is_as_planned_to_the_last_bit() {
    for name in [CORNCRAKE, LAPWING] {
        let (input, lines) = boat(name, None);
        let other = Reading { side: Side::Starboard, ..reading(1, "2", Measure::Width(80.0)) };
        let standing = stands(&input, &lines, &[other]);
        assert_eq!(standing.hung, 0);
        assert!(standing.plan == plan(&input).unwrap());
    }
}

#[test]
fn readings_on_the_marks_change_nothing() {
    for name in [CORNCRAKE, LAPWING] {
        let (input, lines) = boat(name, None);
        let plan = plan(&input).unwrap();
        let n = plan.strakes.len();
        for top in [1, n / 2, n] {
            let standing = stands(&input, &lines, &all_off(&plan, top, |_, _| 0.0));
            assert_eq!(standing.hung, top);
            for (a, b) in standing.plan.marks.iter().zip(&plan.marks) {
                assert!(
                    (a.girth - b.girth).abs() < 1e-6,
                    "{} hung, land {}: {} for {}",
                    top,
                    a.land,
                    a.girth,
                    b.girth
                );
            }
            for (a, b) in standing.plan.flats.iter().zip(&plan.flats) {
                assert!((a.board_width - b.board_width).abs() < 1e-9);
            }
            assert!(standing.marks.iter().all(|m| m.judged == Judged::Fine && m.read));
            assert!(standing.again.is_empty());
        }
    }
}

#[test]
fn the_order_of_readings_and_the_side_do_not_matter() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let readings = all_off(&plan, 3, |k, j| 1.0 - 0.2 * (k * j % 7) as f64);
    let first = stands(&input, &lines, &readings);
    let mut shuffled = readings.clone();
    shuffled.reverse();
    shuffled.rotate_left(11);
    assert!(stands(&input, &lines, &shuffled) == first);
    let starboard: Vec<Reading> = readings.iter().map(|r| Reading { side: Side::Starboard, ..r.clone() }).collect();
    let other = as_she_stands(&input, &lines, &starboard, Side::Starboard).unwrap();
    assert_eq!([first.plan.side, other.plan.side], [Some("port"), Some("starboard")]);
    assert!(Plan { side: Some("port"), ..other.plan } == first.plan && other.marks == first.marks);
}

/// A strake with its land where it was read has the width, and stands at the height, that those readings would give.
#[test]
fn width_and_height_say_the_same_as_the_mark() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let low = all_off(&plan, 3, |_, j| 2.0 - 0.3 * j as f64);
    let mut readings = low.clone();
    readings.extend((0..plan.sections.len()).map(|j| off(&plan, 4, j, 3.0 - 0.2 * j as f64)));
    let by_mark = stands(&input, &lines, &readings);
    let built = |s: &Standing, j: usize| s.marks.iter().find(|m| (m.strake, m.section) == (4, j)).unwrap().built;
    let widths = by_mark.plan.strakes[3].at.iter().map(|a| (a.section, Measure::Width(a.width)));
    let at = |j: usize| by_mark.plan.marks.iter().find(|m| (m.land, m.section) == (4, j)).unwrap().at.z;
    // Forward the sections stand steep there; the post is left out, on which a height is not along the tape.
    let heights = (3..7).map(|j| (j, Measure::Height(at(j))));
    for (what, measures) in [("width", widths.collect::<Vec<_>>()), ("height", heights.collect())] {
        let mut readings = low.clone();
        readings.extend(measures.iter().map(|(j, m)| reading(4, &plan.sections[*j].name, *m)));
        let found = stands(&input, &lines, &readings);
        for again in &found.again {
            assert!(what == "height" && matches!(again.doubt, Doubt::Flat { .. }), "{}", again.said(Notation::Mm));
        }
        let used: Vec<usize> = found.marks.iter().filter(|m| m.strake == 4 && m.read).map(|m| m.section).collect();
        assert!(used.len() + found.again.len() == measures.len() && (what == "height" || found.again.is_empty()));
        for j in used {
            let (found, true_at) = (built(&found, j), built(&by_mark, j));
            assert!((found - true_at).abs() < 2e-4, "{what} at {j}: {found} for {true_at}");
        }
    }
}

/// A width of 12 mm, for 120, leaves no room for a land, and a mark read half a metre low is off the mould: they alone are asked
/// for again, and the others are used.
#[test]
fn one_width_that_cannot_be_leaves_the_others_as_they_are() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let widths = |k: usize| plan.strakes[k - 1].at.iter().map(move |a| (k, a.section, a.width));
    let mut readings = all_off(&plan, 3, |_, _| 0.0);
    let slipped = plan.sections.len() / 2;
    readings.extend(widths(4).map(|(k, j, wide)| match j {
        j if j == slipped => reading(k, &plan.sections[j].name, Measure::Width(12.0)),
        j if j == slipped + 1 => off(&plan, k, j, -500.0),
        j => reading(k, &plan.sections[j].name, Measure::Width(wide)),
    }));
    let standing = stands(&input, &lines, &readings);
    let again: Vec<usize> = standing.again.iter().map(|a| a.section).collect();
    assert_eq!(again, [slipped, slipped + 1], "{:?}", standing.again);
    assert!(matches!(standing.again[0].doubt, Doubt::NoLap { room, needed } if room < needed));
    assert!(matches!(standing.again[1].doubt, Doubt::OffMould { girth, .. } if girth < 0.0));
    for m in standing.marks.iter().filter(|m| m.strake == 4) {
        assert_eq!(m.read, !again.contains(&m.section));
        assert!((m.built - m.planned).abs() < 0.1, "{}: {} for {}", m.section, m.built, m.planned);
    }
}

/// The middle of the bottom amidships lies near level: 10 mm of height are far more along it.
#[test]
fn a_height_where_the_section_lies_flat_is_asked_for_otherwise() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let middle = plan.sections.len() / 2;
    let name = plan.sections[middle].name.clone();
    let z = plan.marks.iter().find(|m| (m.land, m.section) == (2, middle)).unwrap().at.z;
    let standing = stands(&input, &lines, &[reading(2, &name, Measure::Height(z))]);
    assert!(matches!(standing.again[0].doubt, Doubt::Flat { each } if each > 1.5));
    assert!(standing.again[0].said(Notation::Mm).contains("measure from the mark"));
}

#[test]
fn a_slip_of_the_tape_is_asked_for_again_and_believed_when_it_is_read_twice() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let mut readings = all_off(&plan, 2, |_, j| 0.5 + 0.1 * j as f64);
    let slipped = readings.iter().position(|r| r.strake == 2 && r.section == "4").unwrap();
    let j = plan.sections.iter().position(|s| s.name == "4").unwrap();
    readings[slipped] = off(&plan, 2, j, 12.0);
    let standing = stands(&input, &lines, &readings);
    assert_eq!(standing.again.len(), 1);
    assert_eq!(standing.again[0].reading, readings[slipped]);
    let mark = |s: &Standing| s.marks.iter().find(|m| (m.strake, m.section) == (2, j)).unwrap().clone();
    assert!(!mark(&standing).read && (mark(&standing).built - girth(&plan, 2, j) - 0.9).abs() < 0.015);
    readings.push(readings[slipped].clone());
    let standing = stands(&input, &lines, &readings);
    assert!(standing.again.is_empty() && mark(&standing).read);
    assert!((mark(&standing).built - girth(&plan, 2, j) - 12.0).abs() < 1e-9);
    assert_eq!(mark(&standing).judged, Judged::Matters);
}

/// Off the mark by what the plank is wide: the slip that a keypad invites.
#[test]
fn a_reading_that_is_asked_for_again_moves_no_width_beside_it() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let wide = inches(3.875);
    let slipped = off(&plan, 1, 2, wide);
    let read = [reading(1, "3", Measure::Width(wide)), reading(1, "5", Measure::Width(wide))];
    let clean = stands(&input, &lines, &read);
    for at in 0..=read.len() {
        let mut readings = read.to_vec();
        readings.insert(at, slipped.clone());
        let standing = stands(&input, &lines, &readings);
        assert_eq!(standing.again.iter().map(|a| &a.reading).collect::<Vec<_>>(), [&slipped]);
        assert!(standing.marks == clean.marks && standing.plan == clean.plan);
    }
}

/// What was planned of a strake is told beside what it came to, whatever was read of it.
#[test]
fn what_a_hung_strake_was_to_be_is_kept() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let standing = stands(&input, &lines, &all_off(&plan, 1, |_, _| 4.0));
    let hung: Vec<ToBe> = standing
        .marks
        .iter()
        .map(|m| ToBe {
            strake: m.strake,
            section: m.section,
            width: m.width,
            mark: m.mark,
            height: m.height,
            read: m.read,
        })
        .collect();
    let measure = |plan: &Plan, hung: &[ToBe]| {
        jobs(plan, hung).into_iter().find(|j| (j.task, j.of) == (Task::Measure, 1)).unwrap().steps
    };
    let (before, now) = (measure(&plan, &[]), measure(&standing.plan, &hung));
    assert_eq!(before.len(), now.len());
    for (before, now) in before.iter().zip(&now) {
        let far = |a: Number, b: Number| match (a, b) {
            (Number::Width(a) | Number::Small(a), Number::Width(b)) | (Number::Long(a), Number::Long(b)) => {
                (a - b).abs()
            }
            _ => panic!("{a:?} and {b:?} are no lengths"),
        };
        assert!(far(before.number, now.number) < 1e-6, "{}: {:?} for {:?}", now.place, now.number, before.number);
        assert!((before.mark.unwrap() - now.mark.unwrap()).abs() < 1e-9);
        let kept = now.also.iter().filter(|a| a.0 != "hangs at");
        for (was, is) in before.also.iter().zip(kept) {
            assert!(was.0 == is.0 && far(was.1, is.1) < 1e-6, "{}: {is:?} for {was:?}", now.place);
        }
        let hangs = now.also.iter().find(|a| a.0 == "hangs at").unwrap().1;
        assert!(far(hangs, now.number) > 1.0, "{}: {hangs:?}", now.place);
    }
}

#[test]
fn a_later_reading_stands_for_an_earlier_one() {
    let (input, lines) = boat(LAPWING, None);
    let plan = plan(&input).unwrap();
    let mut readings = all_off(&plan, 1, |_, _| 1.0);
    readings.extend(all_off(&plan, 1, |_, _| -2.0));
    let standing = stands(&input, &lines, &readings);
    assert!(standing.marks.iter().all(|m| (m.built - m.planned + 2.0).abs() < 1e-9));
}

/// A strake without readings, with one above it read, lies where it was lined; the one above is then what is off.
#[test]
fn strakes_below_without_readings_are_on_their_marks() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let readings: Vec<Reading> = all_off(&plan, 4, |_, _| 2.0).into_iter().filter(|r| r.strake != 3).collect();
    let standing = stands(&input, &lines, &readings);
    assert_eq!(standing.hung, 4);
    let third: Vec<_> = standing.marks.iter().filter(|m| m.strake == 3).collect();
    assert!(third.iter().all(|m| m.built == m.mark && !m.read));
    // Lined again after two strakes 2 mm high: higher than planned itself.
    assert!(third.iter().all(|m| m.built > m.planned + 0.5));
}

#[test]
fn what_leaves_no_boat_is_an_error_that_names_the_reading() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let far = off(&plan, 5, 4, -70.0);
    let name = plan.sections[4].name.clone();
    let once = stands(&input, &lines, std::slice::from_ref(&far));
    assert!(matches!(once.again[0].doubt, Doubt::NoLap { .. }), "{:?}", once.again);
    let twice = as_she_stands(&input, &lines, &[far.clone(), far], Side::Port).unwrap_err();
    assert!(twice.to_string().contains(&format!("port, strake 5 at station {name}")), "{twice}");
    let wrong = [
        (reading(11, "3", Measure::Width(80.0)), "strake 11"),
        (reading(0, "3", Measure::Width(80.0)), "strakes 1 to 10"),
        (reading(2, "77", Measure::Width(80.0)), "`77`"),
        (reading(2, "3", Measure::Width(f64::NAN)), "no length"),
    ];
    for (reading, says) in wrong {
        let why = as_she_stands(&input, &lines, &[reading], Side::Port).unwrap_err();
        assert!(why.to_string().contains(says), "{why}");
    }
}

/// Numbers at which sums go astray, all refused, asked for again, or worked on: none ends the program.
#[test]
fn no_reading_ends_the_program() {
    let (input, lines) = boat(LAPWING, None);
    let planned = Planned::of(&input, &lines).unwrap();
    for value in [0.0, -1.0, 1e-9, 1e6, -1e6, 1e300, f64::INFINITY] {
        for measure in [Measure::Width(value), Measure::Height(value), Measure::FromMark { off: value, mark: 100.0 }]
        {
            for times in [1, 2] {
                let readings = vec![reading(2, "2", measure); times];
                match planned.lie(&readings, Side::Port) {
                    Ok(lie) => assert!(lie.girths.iter().flatten().all(|g| g.is_finite())),
                    Err(why) => assert!(!why.to_string().is_empty()),
                }
            }
        }
    }
}

#[test]
fn pinned_marks_not_yet_hung_stay_and_hung_ones_are_facts() {
    let (input, _) = boat(CORNCRAKE, None);
    let free = plan(&input).unwrap();
    let j = free.sections.iter().position(|s| s.name == "4").unwrap();
    let pins: Vec<String> = [2, 6].iter().map(|&k| format!("{k},4,{:.1} mm", girth(&free, k, j) + 1.0)).collect();
    let (input, lines) = boat(CORNCRAKE, Some(&format!("land,station,girth\n{}\n", pins.join("\n"))));
    let plan = plan(&input).unwrap();
    let standing = stands(&input, &lines, &all_off(&plan, 3, |_, _| 3.0));
    assert!((girth(&standing.plan, 6, j) - girth(&plan, 6, j)).abs() < 1e-9);
    assert!((girth(&standing.plan, 2, j) - girth(&plan, 2, j) - 3.0).abs() < 1e-9);
    assert!((girth(&standing.plan, 6, j + 1) - girth(&plan, 6, j + 1)).abs() > 0.1);
    // A pin that what hangs comes too near to.
    let near = girth(&plan, 6, j) - 15.0 - girth(&plan, 5, j);
    let high = [off(&plan, 5, j, near), off(&plan, 5, j, near)];
    let why = as_she_stands(&input, &lines, &high, Side::Port).unwrap_err();
    assert!(matches!(&why, HungError::Pin { land: 6, .. }), "{why}");
    assert!(why.to_string().contains("strake 5 at station 4") && why.to_string().contains("line 3"), "{why}");
}

/// Forecast against planks of the planned width laid one on the other: the first is first order in what is off.
#[test]
fn the_forecast_is_what_planks_of_the_planned_width_come_to() {
    let (input, lines) = boat(CORNCRAKE, None);
    let planned = Planned::of(&input, &lines).unwrap();
    let plan = plan(&input).unwrap();
    let mut readings = all_off(&plan, 3, |_, j| 4.0 - 0.3 * j as f64);
    let early = planned.lie(&readings, Side::Port).unwrap().forecast;
    for k in 4..=8 {
        let moulds = planned.strakes()[k - 1]
            .at
            .iter()
            .filter(|a| matches!(plan.sections[a.section].at, SectionAt::Station(_)));
        readings.extend(moulds.map(|a| reading(k, &plan.sections[a.section].name, Measure::Width(a.width))));
    }
    let late = planned.lie(&readings, Side::Port).unwrap();
    assert!(late.again.is_empty(), "{:?}", late.again);
    for (j, section) in plan.sections.iter().enumerate().filter(|(_, s)| matches!(s.at, SectionAt::Station(_))) {
        let (said, came) = (early.as_planned[j], late.girths[8][j] - planned.girths[8][j]);
        assert!((said - came).abs() < 0.25 * said.abs().max(1.0), "{}: said {said}, came to {came}", section.name);
    }
    let all = all_off(&plan, 10, |k, _| if k == 10 { -2.5 } else { 0.0 });
    let done = stands(&input, &lines, &all).forecast;
    assert!(done.strakes.is_empty() && done.as_planned.iter().all(|by| (by + 2.5).abs() < 1e-9));
    assert_eq!(done.as_planned, done.lined_again);
}

/// What the strakes to come give up is, on each mould, what the hung ones are too high by, less what the sheer gives.
#[test]
fn what_is_given_up_adds_up() {
    let (input, lines) = boat(LAPWING, None);
    let planned = Planned::of(&input, &lines).unwrap();
    let plan = plan(&input).unwrap();
    let lie = planned.lie(&all_off(&plan, 2, |_, _| 3.0), Side::Port).unwrap();
    for j in 1..plan.sections.len() - 1 {
        let sum: f64 = lie.forecast.strakes.iter().map(|s| s.by[j]).sum();
        assert!((sum + 3.0 - lie.forecast.lined_again[j]).abs() < 0.015, "station {j}: {sum}");
        assert!(lie.forecast.strakes.iter().all(|s| s.by[j] < 0.5 && s.by[j] > -2.0));
    }
}

/// The simulated builder of `benches/hung.rs`, a few boats of it, at ±2 mm a plank and the tape read to 1 mm: the sheer within
/// 3 mm of its line where without lining again it is not, planks that fit within 1 mm, and no more neighbours that show
/// unlike by over 2 mm than without.
#[test]
fn a_simulated_builder_keeps_the_sheer_and_his_planks_fit() {
    let errors = builder::Errors { level: 2.0, normal: false };
    let again = builder::Method::Again(builder::Measured { round: 1.0, ends: true });
    let (mut over, mut worst_without) = ([0, 0], 0.0_f64);
    for boat in builder::boats() {
        for seed in [501, 502] {
            let with = builder::build(&boat, seed, errors, again);
            let without = builder::build(&boat, seed, errors, builder::Method::AsPlanned);
            assert!(with.sheer <= 3.0, "{} {seed}: the sheer is {} off", boat.name, with.sheer);
            assert!(with.own <= 2.0);
            for fit in &with.fits {
                assert!(*fit <= 1.0, "{} {seed}: a plank lies {fit} off its lap line", boat.name);
            }
            worst_without = worst_without.max(without.sheer);
            for (over, outcome) in over.iter_mut().zip([&with, &without]) {
                *over += outcome.jumps.iter().filter(|j| j.abs() > 2.0).count();
            }
        }
    }
    assert!(worst_without > 3.0, "{worst_without}");
    assert!(over[0] as f64 <= 1.3 * over[1] as f64, "{over:?}");
}

/// The same at ±1 mm a plank, the tape read to half a millimetre, on the seeds of the study: of 12 boats two may
/// have a jump over 2 mm (the study has 5 in a hundred), and of all their places one in a hundred (the study: one in a thousand).
#[test]
fn a_simulated_builder_who_works_closely_keeps_both_the_sheer_and_the_widths() {
    let errors = builder::Errors { level: 1.0, normal: false };
    let again = builder::Method::Again(builder::Measured { round: 0.5, ends: true });
    let (mut boats, mut places, mut all) = (0, 0, 0);
    for boat in builder::boats() {
        for seed in 501..505 {
            let with = builder::build(&boat, seed, errors, again);
            assert!(with.sheer <= 3.0, "{} {seed}: the sheer is {} off", boat.name, with.sheer);
            assert!(with.fits.iter().all(|fit| *fit <= 1.0), "{:?}", with.fits);
            let over = with.jumps.iter().filter(|j| j.abs() > 2.0).count();
            (boats, places, all) = (boats + usize::from(over > 0), places + over, all + with.jumps.len());
        }
    }
    assert!(boats <= 2 && 100 * places <= all, "{boats} boats, {places} of {all}");
}

/// Every hung strake, the rest and the sheer stand on the page of their side; a side without readings says so.
#[test]
fn planned_against_built_is_printed_side_by_side() {
    let (input, lines) = boat(CORNCRAKE, None);
    let plan = plan(&input).unwrap();
    let mut readings = all_off(&plan, 4, |k, j| 2.0 - 0.4 * j as f64 + 0.3 * k as f64);
    readings.retain(|r| r.section != "stem");
    readings.push(off(&plan, 4, 5, 26.0));
    let port = stands(&input, &lines, &readings);
    let t = Type::embedded().unwrap();
    let sheets =
        book::built_sheets(&t, &plan, &Built { sides: [Some(&port), None], ..Built::default() }, PaperSize::A4);
    let words = |i: usize| sheets[i].texts().map(|t| t.string()).collect::<Vec<String>>().join(" ");
    let all: String = (0..sheets.len()).map(words).collect();
    for part in [
        "port side",
        "starboard side",
        "Hung: 4 of 10 strakes",
        "sheer, lined again",
        "Nothing read",
        "read it again",
    ] {
        assert!(all.contains(part), "{part}: {all}");
    }
    let bytes = book::write_titled(&t, "Planned against built", "", &sheets).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
}
