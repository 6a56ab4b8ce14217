//! What holds of every boat there is a plan of, whatever her numbers.
//!
//! The examples with their numbers moved: entries of the table by a millimetre or so, planking, lands and gains by much. The bounds are
//! those of the docs and of the definitions (docs/closed-forms.md), and what is held to them is measured anew from points.

use crate::measure::off_line;
use crate::paper::boats;
use crate::plans::{EXAMPLES, flats_keep_their_edges, input};
use boat::fastenings::stock::{Item, Kind, Pack};
use boat::flotation::{Hull, Load, afloat};
use boat::folder::BoatInput;
use boat::geom::Point;
use boat::hung::{Measure, Reading, Side, as_she_stands};
use boat::lines;
use boat::plan::{Plan, plan};
use boat::planks::{Ruling, Strake};
use boat::spec::FasteningSpec;
use proptest::prelude::*;
use proptest::sample::Index;

/// Least share of a change that counts square to the skin (`lines/across.rs`, docs/fairing.md): where the skin lies aslant to what is
/// measured, an entry moves at most four times the tolerance.
const ASLANT: f64 = 4.0;
/// What the outer face of a twisted plank leaves of its thickness and lap, mm (as in plans.rs).
const TWISTED: f64 = 0.15;

/// How a boat is moved.
#[derive(Debug, Clone)]
struct Moved {
    boat: usize,
    entries: Vec<f64>,
    thickness: f64,
    lap: f64,
    strakes: u32,
    gain: f64,
    within: f64,
}

fn moved() -> impl Strategy<Value = Moved> {
    let entries = prop::collection::vec(-1.5_f64..1.5, 40);
    (0..EXAMPLES.len(), entries, 5.0_f64..12.0, 12.0_f64..26.0, 6_u32..14, 0.0_f64..350.0, 0.0_f64..3.0).prop_map(
        |(boat, entries, thickness, lap, strakes, gain, within)| Moved {
            boat,
            entries,
            thickness,
            lap,
            strakes,
            gain,
            within,
        },
    )
}

/// A list of every nail asked for and its rove: some by mass, some by number, a pack of each in hand.
fn packs(f: &FasteningSpec) -> Vec<Item> {
    let item = |kind, size, pack| Item {
        kind,
        gauge: f.gauge,
        size,
        height: None,
        thickness: None,
        pack: Some(pack),
        in_hand: 1,
    };
    let packs = [Pack::Mass(0.25), Pack::Count(100)].into_iter().cycle();
    let mut all: Vec<Item> =
        f.nail_lengths.iter().zip(packs).map(|(length, pack)| item(Kind::Nail, *length, pack)).collect();
    all.push(item(Kind::Rove, f.rove_diameter, Pack::Count(100)));
    all
}

impl Moved {
    fn input(&self) -> BoatInput {
        let mut input = input(EXAMPLES[self.boat]);
        let cells = input.table.rows.iter_mut().flat_map(|r| r.cells.iter_mut().flatten());
        for (cell, by) in cells.zip(self.entries.iter().cycle()) {
            cell.mm += by;
        }
        let p = &mut input.spec.planking;
        (p.thickness, p.lap, p.strakes, p.gain) = (self.thickness, self.lap, Some(self.strakes), self.gain);
        input.spec.lines.fair_within = self.within;
        input.nails = packs(&input.spec.fastenings);
        input
    }
}

/// Every entry that is not doubted is left within its tolerance.
fn entries_keep_to_their_tolerance(plan: &Plan, within: f64) {
    for cell in plan.fair.iter().flat_map(|r| r.cells.iter().flatten()).filter(|c| !c.suspect) {
        assert!(cell.change.abs() <= ASLANT * within + 1e-6, "{} where {within} is allowed", cell.change);
    }
}

/// At every section the lands stand one above the other, from the rabbet to the sheer.
fn lands_never_cross(plan: &Plan) {
    let n = plan.strakes.len();
    for (j, section) in plan.sections.iter().enumerate() {
        let mut girths: Vec<(usize, f64)> =
            plan.marks.iter().filter(|m| m.section == j).map(|m| (m.land, m.girth)).collect();
        girths.sort_by_key(|g| g.0);
        assert_eq!((girths.first().map(|g| g.0), girths.last().map(|g| g.0)), (Some(0), Some(n)), "{}", section.name);
        assert!(girths.windows(2).all(|w| w[0].1 < w[1].1), "{}: {girths:?}", section.name);
        assert!(girths.iter().all(|g| g.1 <= section.girth + 1e-6));
    }
}

/// Where neither is in a gain, the sides are round and the ruling is about square to the land (as in plans.rs), the next strake's lower edge is no nearer the land than the lap asked for.
fn laps_are_never_less(plan: &Plan) {
    let (t, lap) = (plan.spec.planking.thickness, plan.spec.planking.lap);
    for pair in plan.strakes.windows(2) {
        let clear = |r: &Ruling| r.step >= t && r.bevel.is_none_or(|b| b >= 0.0) && r.squareness() >= 0.95;
        for (on, next) in pair[0].rulings.iter().zip(&pair[1].rulings) {
            if !clear(on) || !clear(next) {
                continue;
            }
            let apart = off_line(&next.lower, &pair[0].rulings.iter().map(|r| r.upper).collect::<Vec<_>>());
            // It stands the plank's thickness outside, as seen along the land.
            let across = (apart * apart - t * t).max(0.0).sqrt();
            assert!(across >= lap - TWISTED, "strake {}: {across} where {lap} is asked", pair[1].strake);
        }
        for at in pair[0].at.iter().filter_map(|a| a.lap) {
            assert!(at >= lap - 1e-6, "{at}");
        }
    }
}

/// Every rivet goes through both planks: as far from the upper edge of the one as from the lower edge of the other, half a lap.
fn rivets_stay_in_the_lap(plan: &Plan) {
    let lap = plan.spec.planking.lap;
    // Of each strake its lower inner edge, and its upper outer one.
    let edge = |s: &Strake, of: fn(&Ruling, f64) -> Point| s.rulings.iter().map(|r| of(r, s.thickness)).collect();
    let both = |s| [edge(s, |r, _| r.lower), edge(s, |r, thickness| r.upper + r.normal * thickness)];
    let edges: Vec<[Vec<Point>; 2]> = plan.strakes.iter().map(both).collect();
    for rivet in plan.rivets.iter().filter(|r| !r.in_gain) {
        let upper = off_line(&rivet.at, &edges[rivet.land - 1][1]);
        let lower = off_line(&rivet.at, &edges[rivet.land][0]);
        for (edge, off) in [("upper", upper), ("lower", lower)] {
            assert!(
                off > 0.25 * lap && off < 0.75 * lap,
                "land {} rivet {}: {off} from the {edge} edge, lap {lap}",
                rivet.land,
                rivet.n
            );
        }
    }
}

/// Every nail, rove and screw is in the order, with the packs in hand there are as many as are wanted, and one pack fewer would not be.
fn orders_are_enough(plan: &Plan) {
    let ends = plan.ends.iter().flat_map(|e| e.own()).filter(|e| e.length.is_some()).count();
    let keel = plan.keel_fastenings.iter().filter(|k| k.length.is_some()).count();
    let rivets = plan.rivets.iter().filter(|r| r.nail.is_some()).count();
    let ordered =
        |kind: Kind| plan.order.iter().filter(|l| l.kind == kind).map(|l| l.count() as usize).sum::<usize>();
    assert_eq!((ordered(Kind::Nail), ordered(Kind::Rove)), (2 * (rivets + ends + keel), 2 * rivets));
    for line in &plan.order {
        assert!(line.wanted >= line.count(), "{line:?}");
        let pieces = match line.pack {
            None => {
                assert_eq!(line.bought, line.wanted, "{line:?}");
                continue;
            }
            Some(Pack::Count(n)) => n,
            Some(Pack::Mass(kg)) => (kg / line.each.unwrap() + 1e-9) as u32,
        };
        let there = line.bought + line.in_hand * pieces;
        assert!(there >= line.wanted, "{line:?}");
        assert!(line.packs == 0 || there - pieces < line.wanted, "{line:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, max_global_rejects: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn of_every_boat_there_is_a_plan_of(moved in moved()) {
        let Ok(plan) = plan(&moved.input()) else { return Err(TestCaseError::reject("no plan")) };
        entries_keep_to_their_tolerance(&plan, moved.within);
        lands_never_cross(&plan);
        laps_are_never_less(&plan);
        rivets_stay_in_the_lap(&plan);
        flats_keep_their_edges(&plan);
        orders_are_enough(&plan);
    }

    /// Deeper she displaces more; where she comes to rest, what she displaces weighs what she does, and its middle stands plumb under
    /// the middle of her weight: to twice what the search is told to reach.
    #[test]
    fn she_displaces_more_deeper_and_rests_in_balance(
        boat in 0..EXAMPLES.len(), mass in 60.0_f64..450.0, fore in -120.0_f64..120.0, across in -40.0_f64..40.0, low in 0.0_f64..1.0,
    ) {
        let plan = &boats()[boat];
        let hull = Hull::of(&plan.strakes, &plan.sections, &plan.table, &plan.spec);
        let (_, middle) = hull.solid.whole();
        let density = 1000.0;
        let load = Load { mass, centre: Point::new(middle.x + fore, across, middle.z - 150.0 * low) };
        let Ok(found) = afloat(&hull.solid, &load, density) else { return Err(TestCaseError::reject("she does not float")) };
        prop_assert!((found.under.volume * density * 1e-9 - mass).abs() < 2e-10 * mass, "{} kg", found.under.volume * 1e-6);
        let [aft, over, _] = found.at.axes();
        let off = found.under.centre(&found.at) - load.centre;
        prop_assert!(off.dot(&aft).abs() < 2e-6 && off.dot(&over).abs() < 2e-6, "{off}");
        let mut before = 0.0;
        for water in (0..30).map(|i| found.at.water - 150.0 + 10.0 * f64::from(i)) {
            let volume = hull.solid.under(&boat::flotation::Attitude { water, ..found.at }).volume;
            prop_assert!(volume >= before, "{volume} after {before}");
            before = volume;
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whichever marks were read, and found to be where they should, nothing changes.
    #[test]
    fn readings_on_marks_change_nothing(boat in 0..2_usize, top in 1_usize..8, left_out in prop::collection::vec(any::<Index>(), 0..30)) {
        let input = input(EXAMPLES[boat]);
        let lines = lines::fair(&input.table, &input.spec).unwrap();
        let plan = plan(&input).unwrap();
        let mut read: Vec<_> = plan.marks.iter().filter(|m| (1..=top).contains(&m.land)).collect();
        for index in left_out {
            if read.len() > 1 {
                read.remove(index.index(read.len()));
            }
        }
        let readings: Vec<Reading> = read
            .iter()
            .map(|m| Reading {
                side: Side::Port,
                strake: m.land,
                section: plan.sections[m.section].name.clone(),
                measure: Measure::FromMark { off: 0.0, mark: m.girth },
            })
            .collect();
        let standing = as_she_stands(&input, &lines, &readings, Side::Port).unwrap();
        prop_assert!(standing.again.is_empty());
        for (a, b) in standing.plan.marks.iter().zip(&plan.marks) {
            prop_assert!((a.girth - b.girth).abs() < 1e-6, "land {}: {} for {}", a.land, a.girth, b.girth);
        }
    }
}
