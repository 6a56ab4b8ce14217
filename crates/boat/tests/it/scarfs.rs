//! Scarfs: where they stand, what the parts are, and what is said where wishes give way.

use crate::measure::{apart, off_run};
use crate::plans::texts;
use boat::findings::{Finding, Measure, Stage};
use boat::folder::{self, BoatTexts};
use boat::plan::{Plan, plan};
use boat::scarfs::GaveWay;
use boat::units::Notation;

/// Sandgrouse with other scarfs, and whatever stands after them, than her own.
fn sandgrouse(more: &str) -> BoatTexts {
    let texts = texts("sandgrouse");
    let (toml, _) = texts.toml.split_once("[scarfs]").unwrap();
    BoatTexts { toml: format!("{toml}\n{more}\n"), ..texts }
}

fn planned(more: &str) -> Plan {
    plan(&folder::read(&sandgrouse(more)).unwrap()).unwrap()
}

fn refused(more: &str) -> String {
    folder::read(&sandgrouse(more)).unwrap_err().to_string()
}

fn of(plan: &Plan, stage: Stage) -> Vec<&Finding> {
    plan.findings.iter().filter(|f| f.stage == stage).collect()
}

const BOARDS: &str = "[scarfs]\nlongest = 3300\nwidest = 220";

/// Judged from the plan alone: neighbours three timber spaces apart and next but one half of that, a timber over every middle,
/// two inches clear of every mould.
#[test]
fn scarfs_stand_where_a_builder_wants_them() {
    let plan = planned(BOARDS);
    let space = plan.timbers[1].x - plan.timbers[0].x;
    for (k, made) in plan.made.iter().enumerate() {
        let flat = &plan.flats[k];
        assert_eq!((made.scarfs.len(), made.parts.len(), made.stuck), (1, 2, false), "strake {}", made.strake);
        for scarf in &made.scarfs {
            assert!(scarf.gave_way.is_empty());
            for (other, least) in [(k + 1, 3.0), (k + 2, 1.5)] {
                for near in plan.made.get(other).iter().flat_map(|m| &m.scarfs) {
                    // Spaces are as near to those asked for as divides the keel.
                    assert!((near.x - scarf.x).abs() > (least - 0.15) * space, "strakes {} and {}", k + 1, other + 1);
                }
            }
            let timber = plan.timbers.iter().find(|t| Some(t.n) == scarf.timber).unwrap();
            assert!((timber.x - scarf.x).abs() < 1e-9);
            for station in &flat.stations {
                let x = 0.5 * (station.lower[0] + station.upper[0]);
                assert!((x - scarf.middle[0]).abs() > 36.0 + 50.8 - 0.5, "strake {}", k + 1);
            }
        }
        for part in &made.parts {
            assert!(part.board.length <= 3300.0 && part.board.width <= 220.0);
        }
    }
}

/// Laid back on the flat plank a part's edges are the plank's, the two overlap by the scarf's length, and the forward part
/// goes on past the after one's beginning: its feather is outside and aft.
#[test]
fn parts_laid_on_the_plank_are_the_plank() {
    for (ratio, length) in [(8.0, 72.0), (12.0, 108.0)] {
        let plan = planned(&format!("{BOARDS}\nratio = {ratio}"));
        for (made, flat) in plan.made.iter().zip(&plan.flats) {
            let back = |part: &boat::scarfs::Part, p: &[f64; 2]| {
                let ([u, v], [x, y]) = (part.board.along, part.board.corner);
                [(p[0] + x) * u - (p[1] + y) * v, (p[0] + x) * v + (p[1] + y) * u]
            };
            for part in &made.parts {
                for (edge, whole) in [(&part.lower, &flat.lower), (&part.upper, &flat.upper)] {
                    assert!(edge.iter().all(|p| off_run(back(part, p), whole) < 1e-6), "strake {}", made.strake);
                }
                let (low, high) =
                    part.outline.iter().fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p[1]), h.max(p[1])));
                assert!(low.abs() < 1e-6 && (high - part.board.width).abs() < 1e-6);
            }
            let [fore, aft] = &made.parts[..] else { panic!("two parts") };
            assert!(off_run(flat.lower[0], &[back(fore, &fore.lower[0]), back(fore, &fore.lower[1])]) < 1e-6);
            let middle = |l: [[f64; 2]; 2]| [0, 1].map(|a| 0.5 * (l[0][a] + l[1][a]));
            let tip = middle(fore.aft.unwrap()[1].map(|p| back(fore, &p)));
            let begin = middle(aft.fore.unwrap()[0].map(|p| back(aft, &p)));
            assert!(tip[0] > begin[0]);
            let overlap = apart(tip, begin);
            assert!((overlap - length).abs() < 1e-5, "strake {}: {overlap}", made.strake);
        }
    }
}

/// The gain of scarfing a curved plank: narrower boards and straighter grain. One of larch 289 mm wide becomes two of 179 and
/// 107.
#[test]
fn parts_want_narrower_boards_and_straighter_grain() {
    let (parted, whole) = (planned(BOARDS), planned(""));
    assert!(whole.made.iter().all(|m| m.parts.len() == 1 && m.scarfs.is_empty()));
    assert!((whole.made[5].parts[0].board.width - whole.flats[5].board_width).abs() < 1e-9);
    assert!(whole.flats[5].board_width > 285.0 && parted.made[5].parts.iter().all(|p| p.board.width < 180.0));
    let worst = |plan: &Plan, k: usize| plan.made[k].parts.iter().map(|p| p.run_out.slope).fold(0.0, f64::max);
    // All but the garboard, which is nearly straight: whole its grain runs out 1 in 25, in parts 1 in 23.
    assert!((1..9).all(|k| worst(&parted, k) < worst(&whole, k)));
    assert!(worst(&parted, 0) < 0.045 && worst(&whole, 0) < 0.045);
    assert!((1..9).filter(|&k| worst(&parted, k) < 0.85 * worst(&whole, k)).count() >= 6);
    let grain = of(&whole, Stage::Scarfs);
    assert_eq!(grain.len(), 1);
    assert!(grain[0].hint.contains("1 in 12 is as much") && grain[0].hint.contains("too:"), "{}", grain[0].hint);
}

#[test]
fn wishes_that_give_way_are_told_with_what_was_measured() {
    let plan = planned(&format!("{BOARDS}\nshift = 3000"));
    let found = of(&plan, Stage::Scarfs);
    let near = found.iter().find(|f| f.hint.contains("near the scarf of strake 1")).unwrap();
    assert_eq!(near.place, "strake 2, scarf 1");
    let figures = near.figures(Notation::Mm).unwrap();
    assert_eq!(figures[1], "3000 mm");
    let told = plan.made[1].scarfs[0].gave_way.iter().any(|g| matches!(g, GaveWay::Neighbour { strake: 1, .. }));
    assert!(told && near.hint.contains("scarfs.shift"));

    // Of both strakes below, the next one is said first: there the two weaken her most.
    let both = plan
        .made
        .iter()
        .flat_map(|m| m.scarfs.iter().map(move |s| (m.strake, s)))
        .filter(|(_, s)| s.gave_way.iter().filter(|g| matches!(g, GaveWay::Neighbour { .. })).count() == 2);
    let first: Vec<bool> =
        both.map(|(k, s)| matches!(s.gave_way[0], GaveWay::Neighbour { strake, .. } if strake + 1 == k)).collect();
    assert!(!first.is_empty() && first.iter().all(|f| *f), "{first:?}");

    let plan = planned("[scarfs]\nlongest = 500");
    assert!(plan.made.iter().all(|m| m.stuck && m.parts.len() == 1));
    let found = of(&plan, Stage::Scarfs);
    // What it takes, and the longest that a part may be.
    let takes = Measure::Length(plan.made[0].left.board[0]);
    assert_eq!((found[0].measured, found[0].limit), (takes, Measure::Length(500.0)));
    assert!(
        found[0].hint.contains("cannot be parted") && found[0].hint.contains("scarfs.longest"),
        "{}",
        found[0].hint
    );
}

#[test]
fn the_rack_says_how_long_parts_may_be() {
    let mut boat = sandgrouse("");
    boat.boards =
        Some("board,length_mm,width_mm,thickness_mm\nA1,3000,200,10\nA2,3000,200,10\nthin,6000,400,6\n".to_owned());
    let plan = plan(&folder::read(&boat).unwrap()).unwrap();
    for part in plan.made.iter().flat_map(|m| &m.parts) {
        assert!(part.board.length <= 3000.05 && part.board.width <= 200.05);
    }
    assert!(of(&plan, Stage::Stock).iter().all(|f| f.place == "board thin"));
}

#[test]
fn slips_in_scarfs_and_bending_are_named_with_their_limits() {
    let says = |more: &str, parts: &[&str]| {
        let said = refused(more);
        for part in ["boat.toml, line "].iter().chain(parts) {
            assert!(said.contains(part), "{more}: {said}");
        }
    };
    says("[scarfs]\nratio = 5", &["scarfs.ratio", "is out of range", "6 to 12"]);
    says("[scarfs]\nlongest = 400", &["scarfs.longest", "432 mm to 20000 mm", "six scarfs long"]);
    says("[scarfs]\nratio = 12\nlongest = 600", &["scarfs.longest", "648 mm"]);
    says("[scarfs]\nglued = \"later\"", &["scarfs.glued", "\"on the bench\" or \"in place\""]);
    says("[scarfs]\nlongst = 3000", &["scarfs.longst", "did you mean longest?"]);
    says("[scarfs]\nshift = -5", &["scarfs.shift", "out of range"]);
    says("[bending]\ncold_radius = 20", &["bending.cold_radius", "40 to 400"]);
    says("[bending]\ncold_radius = 50\nsteamed_radius = 60", &["bending.steamed_radius", "60 thicknesses", "50"]);
}

/// The same plank goes on cold in a wood that bears it: strake 1 turns in 51 thicknesses, which only the builder's own word
/// lets pass.
#[test]
fn steaming_is_decided_by_the_wood() {
    let steamed = |more: &str| planned(more).flats.iter().filter(|f| !f.steam.is_empty()).count();
    assert_eq!(steamed(""), 1);
    assert_eq!(steamed("[bending]\ncold_radius = 45\ncold_shear = 0.035"), 0);
    assert!(steamed("[bending]\ncold_radius = 300") > 3);
    let plan = planned("[bending]\nsteamed_radius = 80");
    let found = of(&plan, Stage::Development);
    assert!(found.iter().any(|f| f.place == "strake 1" && f.hint.contains("hardly bears even steamed")));
}
