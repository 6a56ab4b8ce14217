//! Whole boats, from their folders' texts to the plan.

use crate::measure::length;
use boat::folder::{BoatTexts, read};
use boat::geom::angle_about;
use boat::lines::SectionAt;
use boat::plan::{Plan, json::to_json, plan};
use proptest::prelude::*;
use serde_json::Value;

pub use crate::example::{BOATS, EXAMPLES, input, texts};

pub fn planned(name: &str) -> Plan {
    plan(&input(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// Whimbrel's, Corncrake's lines in glued plywood, with a rack of sheets.
pub fn glued_texts() -> BoatTexts {
    BoatTexts {
        toml: include_str!("data/glued/boat.toml").to_owned(),
        boards: Some(include_str!("data/glued/boards.csv").to_owned()),
        ..texts("corncrake")
    }
}

pub fn glued() -> Plan {
    plan(&read(&glued_texts()).unwrap_or_else(|e| panic!("{e}"))).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn the_same_boat_gives_the_same_bytes() {
    for name in BOATS {
        assert_eq!(to_json(&planned(name)), to_json(&planned(name)), "{name}");
    }
}

/// With every mark pinned where it was proposed, lining moves nothing; moving one mark moves that land.
#[test]
fn pinned_marks_stay() {
    for name in BOATS {
        let first = planned(name);
        let mut t = texts(name);
        let mut marks = "land,station,girth_mm\n".to_string();
        for m in &first.marks {
            marks += &format!("{},{},{}\n", m.land, first.sections[m.section].name, m.girth);
        }
        t.marks = Some(marks);
        let again = plan(&read(&t).unwrap_or_else(|e| panic!("{name}: {e}"))).unwrap();
        for (a, b) in first.marks.iter().zip(&again.marks) {
            assert!(b.pinned, "{name}: land {} section {}", b.land, b.section);
            assert!((a.at - b.at).norm() < 1e-6, "{name}: land {} moved", a.land);
        }
        // One pin alone, 4 mm off the proposal: it stays, and its land passes there.
        let m = first.marks.iter().find(|m| m.land == 3 && m.section == 4).unwrap();
        t.marks = Some(format!("land,station,girth_mm\n3,{},{}\n", first.sections[4].name, m.girth + 4.0));
        let moved = plan(&read(&t).unwrap()).unwrap();
        let pin = moved.marks.iter().find(|p| p.land == 3 && p.section == 4).unwrap();
        assert!(pin.pinned && (pin.girth - m.girth - 4.0).abs() < 1e-6);
        assert_eq!(moved.marks.iter().filter(|m| m.pinned).count(), 1);
        // The sheer is where the lines put it: a pin that says otherwise is refused, not forgotten.
        let sheer = first.marks.iter().find(|m| m.land == first.strakes.len() && m.section == 4).unwrap();
        t.marks = Some(format!(
            "land,station,girth_mm\n{},{},{}\n",
            sheer.land,
            first.sections[4].name,
            sheer.girth - 50.0
        ));
        let refused = plan(&read(&t).unwrap()).unwrap_err().to_string();
        assert!(refused.contains("marks.csv line 2") && refused.contains("sheer"), "{refused}");
    }
}

/// Rulings at the sections lie in the sections' planes; marks are the upper ends of those rulings.
#[test]
fn strakes_cross_the_sections_where_they_are_marked() {
    for name in BOATS {
        let p = planned(name);
        for s in &p.strakes {
            for at in &s.at {
                let r = &s.rulings[at.ruling];
                let mark = p.marks.iter().find(|m| m.land == s.strake && m.section == at.section).unwrap();
                assert!((r.upper - mark.at).norm() < 1e-6);
                if let SectionAt::Station(_) = p.sections[at.section].at {
                    let x = mark.at.x;
                    assert!((r.lower.x - x).abs() < 1e-6, "{name} strake {} at {x}: {}", s.strake, r.lower.x);
                }
            }
        }
    }
}

/// Each strake lies on the one below: between the gains its lower inner edge is a lap below the land, on the outer face
/// (the plank's thickness off the inner face, which is twisted, so a few hundredths are left).
#[test]
fn each_strake_lies_on_the_one_below() {
    for name in BOATS {
        let p = planned(name);
        let (t, w) = (p.spec.planking.thickness, p.spec.planking.lap);
        let mut checked = 0;
        for pair in p.strakes.windows(2) {
            for i in 0..pair[0].rulings.len() {
                let next = &pair[1].rulings[i];
                // The ruling of the strake below whose upper end is the lower edge's foot, square to the land.
                let before = |r: &boat::planks::Ruling| (next.lower - r.upper).dot(&r.tangent);
                let Some(w2) = pair[0].rulings.windows(2).find(|w| before(&w[0]) >= 0.0 && before(&w[1]) < 0.0)
                else {
                    continue;
                };
                let part = before(&w2[0]) / (before(&w2[0]) - before(&w2[1]));
                let mut on = w2[0].clone();
                on.upper += (w2[1].upper - w2[0].upper) * part;
                on.normal = (w2[0].normal + (w2[1].normal - w2[0].normal) * part).normalize();
                let hollow = on.bevel.unwrap() < 0.0;
                if on.step < t || w2[1].step < t || hollow || on.squareness() < 0.95 {
                    continue;
                }
                let from = next.lower - on.upper;
                let down = on.normal.cross(&on.tangent);
                assert!((from.dot(&on.normal) - t).abs() < 0.1, "{name} strake {} ruling {i}", pair[1].strake);
                assert!((from.dot(&down) - w).abs() < 0.15, "{name} strake {} ruling {i}", pair[1].strake);
                assert!(angle_about(&on.normal, &next.normal, &on.tangent).abs() < 0.8);
                checked += 1;
            }
        }
        assert!(checked > 400, "{name}: {checked}");
    }
}

/// A flat plank keeps the lengths of its edges to the strain it reports, and lies in its board; the most that an edge is longer or shorter,
/// as a share of it.
pub fn flats_keep_their_edges(plan: &Plan) -> f64 {
    let mut most = 0.0_f64;
    for (strake, flat) in plan.strakes.iter().zip(&plan.flats) {
        let surface = boat::development::neutral_surface(strake);
        let space = |c: usize| surface.windows(2).map(|w| (w[1][c] - w[0][c]).norm()).sum::<f64>();
        for (edge, column) in [(&flat.lower, 0), (&flat.upper, surface[0].len() - 1)] {
            let stretch = (length(edge) / space(column) - 1.0).abs();
            most = most.max(stretch);
            assert!(stretch <= flat.strain_max + 1e-9, "{} strake {}: {stretch}", plan.spec.name, strake.strake);
        }
        for p in flat.lower.iter().chain(&flat.upper) {
            assert!(p[0] > -1e-6 && p[0] < flat.length + 1e-6 && p[1] > -1e-6 && p[1] < flat.board_width + 1e-6);
        }
    }
    most
}

/// Our boats' planks hardly stretch along their edges: by four in ten thousand at most.
#[test]
fn flat_planks_keep_their_edges() {
    for name in BOATS {
        let p = planned(name);
        let most = flats_keep_their_edges(&p);
        assert!(most < 4e-4, "{name}: {most}");
        for f in &p.flats {
            assert!(f.stations[0].upper[0] < f.stations.last().unwrap().upper[0], "bow to the left");
            let mid = &f.stations[f.stations.len() / 2];
            assert!(mid.upper[1] > mid.lower[1], "sheer up");
        }
    }
}

/// A boat half as big again in every number has everything half as big again, and the same angles.
#[test]
fn a_bigger_boat_is_the_same_boat() {
    let small = input("sandgrouse");
    let k = 1.5;
    let mut big = small.clone();
    for row in &mut big.table.rows {
        use boat::offsets::RowKind as K;
        row.kind = match row.kind {
            K::HeightButtock(v) => K::HeightButtock(k * v),
            K::HalfBreadthWaterline(v) => K::HalfBreadthWaterline(k * v),
            ref other => other.clone(),
        };
        for cell in row.cells.iter_mut().flatten() {
            cell.mm *= k;
        }
    }
    for s in &mut big.table.stations {
        if let boat::offsets::StationAt::Square(x) = &mut s.at {
            *x *= k;
        }
    }
    let spec = &mut big.spec;
    for v in [
        &mut spec.lines.fair_within,
        &mut spec.lines.keel_half_siding,
        &mut spec.planking.thickness,
        &mut spec.planking.lap,
        &mut spec.planking.gain,
        &mut spec.planking.widest,
        &mut spec.planking.edge_floor,
        &mut spec.lining.eye_height,
        &mut spec.timbers.spacing,
        &mut spec.timbers.spare,
        &mut spec.timbers.moulded,
        &mut spec.timbers.sided,
        &mut spec.moulds.clearance,
        &mut spec.fastenings.end_row,
        &mut spec.fastenings.end_clear,
    ] {
        *v *= k;
    }
    for d in &mut spec.lines.diagonals {
        d.height *= k;
    }
    for end in [&mut spec.fore, &mut spec.aft] {
        if let boat::spec::EndSpec::Post(p) = end {
            p.half_siding *= k;
            for point in &mut p.rabbet {
                point[0] *= k;
                point[1] *= k;
            }
        }
    }
    let (a, b) = (plan(&small).unwrap(), plan(&big).unwrap());
    for (s, t) in a.strakes.iter().zip(&b.strakes) {
        for (p, q) in s.at.iter().zip(&t.at) {
            assert!((k * p.width - q.width).abs() < 0.02, "strake {}: {} {}", s.strake, p.width, q.width);
            if let (Some(x), Some(y)) = (p.bevel, q.bevel) {
                assert!((x - y).abs() < 1e-3, "strake {}: {x} {y}", s.strake);
            }
        }
    }
    for (f, g) in a.flats.iter().zip(&b.flats) {
        assert!((k * f.length - g.length).abs() < 0.1 && (k * f.board_width - g.board_width).abs() < 0.1);
    }
    assert_eq!(a.rivets.len(), b.rivets.len());
}

/// Facts of the trade, common practice with no source: the first fastening is in the middle of the land, three or four
/// at the transom by the width, what shows is the width less the lap, a blocked rivet is in its mould.
#[test]
fn facts_of_the_trade() {
    for name in BOATS {
        let p = planned(name);
        for s in &p.strakes[..p.strakes.len() - 1] {
            for at in &s.at {
                assert!(((at.width - at.lap.unwrap()).max(0.0) - at.shows).abs() < 1e-9);
            }
        }
        for e in &p.ends {
            assert!((if e.end.ends_with("transom") { 3..=4 } else { 2..=4 }).contains(&e.fastenings));
            assert!(e.places.windows(2).all(|w| (w[1].up - w[0].up - e.spacing).abs() < 1e-9));
            assert!(e.spacing > 5.0, "{name} strake {} {}", e.strake, e.end);
        }
        for r in &p.rivets {
            let land = &p.strakes[r.land - 1].rulings;
            let clear = p.spec.fastenings.end_clear - 1e-6;
            assert!(r.along >= clear && land[land.len() - 1].along - r.along >= clear, "{name} land {}", r.land);
            let room = p.spec.moulds.clearance;
            let near = p.moulds.iter().position(|m| r.at.x > m.fore - room && r.at.x < m.aft + room);
            assert_eq!(r.blocked_by, near);
            if let Some(timber) = r.timber {
                let t = &p.timbers[timber];
                assert!((r.at.x - r.at.y * t.cant.tan() - t.x).abs() < 0.01, "{name} land {} rivet {}", r.land, r.n);
            }
            // Outward; straight down where a bottom is flat, and a little in where it hangs below its rabbet.
            assert!((r.axis.norm() - 1.0).abs() < 1e-9 && (r.axis.y > 0.0 || r.axis.z < -0.99));
            if let Some(nail) = r.nail {
                assert!(nail >= r.grip + p.spec.fastenings.rove + p.spec.fastenings.clench - 1e-9);
            }
        }
        assert!(p.rivets.iter().any(|r| r.blocked_by.is_some()) && p.rivets.iter().any(|r| r.timber.is_some()));
    }
}

/// At the end of a gain two planks are flush outside, by the definition of the gain; so inside, with both of one
/// thickness, the upper one stands in by what the bevel takes off over the land. Here from their faces in space.
#[test]
fn planks_are_flush_outside_where_a_gain_ends() {
    let p = planned("corncrake");
    let t = p.spec.planking.thickness;
    for pair in p.strakes.windows(2) {
        let at = pair[0].at.last().unwrap();
        let (on, next) = (&pair[0].rulings[at.ruling], &pair[1].rulings[at.ruling]);
        // The next strake's inner face, met by this strake's normal at the land's upper edge.
        let normal = next.up().cross(&on.tangent).normalize();
        let normal = if normal.y < 0.0 { -normal } else { normal };
        let inside = (next.lower - on.upper).dot(&normal) / on.normal.dot(&normal);
        let said = at.step_inside(t).unwrap();
        assert!((inside - said).abs() < 0.25, "strake {}: {inside} but {said}", pair[0].strake);
    }
}

/// A timber is in two halves where the sides rise over what was asked at the keel, and one length elsewhere; every
/// timber takes one fastening to the keel for each piece and two at its heads.
#[test]
fn timbers_are_halved_where_the_sides_rise() {
    let p = planned("corncrake");
    for t in &p.timbers {
        assert_eq!(t.pieces == 2, t.rise > 30.0_f64.to_radians(), "timber {}", t.n);
        let whole = if t.pieces == 2 { t.girth } else { 2.0 * (t.girth + t.points[0].y) };
        assert!((t.length - whole - 2.0 * p.spec.timbers.spare).abs() < 1e-9);
    }
    let count = |what: &str| p.rest.iter().find(|r| r.what == what).map_or(0, |r| r.count);
    let halves = p.timbers.iter().filter(|t| t.pieces == 2).count();
    assert!(halves > 0 && halves < p.timbers.len());
    assert_eq!(count("timbers to the keel") as usize, p.timbers.len() + halves);
    assert_eq!(count("timber heads to the sheer strake") as usize, 2 * p.timbers.len());
}

/// Left to itself, the number of strakes keeps every plank within the widest asked for.
#[test]
fn as_many_strakes_as_the_widest_asks_for() {
    for name in ["corncrake", "sandgrouse"] {
        for widest in [95.0, 110.0, 127.0, 150.0] {
            let mut input = input(name);
            input.spec.planking.strakes = None;
            input.spec.planking.widest = widest;
            let p = plan(&input).unwrap();
            for s in &p.strakes {
                assert!(
                    boat::planks::too_wide(s, p.strakes.len(), &input.spec).is_none(),
                    "{name} {widest} strake {}",
                    s.strake
                );
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the numbers, within what the reader lets through: a plan or a clear error, never a panic, and no
    /// number in a plan that is not one.
    #[test]
    fn any_numbers_give_a_plan_or_an_error(
        boat in 0usize..3,
        stretch in prop::collection::vec(0.3f64..3.0, 150),
        share in 0.0f64..1.0,
        thickness in 3.0f64..50.0,
        lap in 3.0f64..100.0,
        strakes in 3u32..40,
        gain in 0.0f64..2000.0,
        within in 0.0f64..50.0,
    ) {
        let mut input = input(BOATS[boat]);
        let mut next = stretch.iter().cycle();
        for cell in input.table.rows.iter_mut().flat_map(|r| r.cells.iter_mut().flatten()) {
            let k = next.next().copied().unwrap_or(1.0);
            // A few entries wild, the others as they were.
            if (k * 97.0).fract() < share * 0.3 {
                cell.mm *= k;
            }
        }
        let p = &mut input.spec.planking;
        (p.thickness, p.lap, p.strakes, p.gain) = (thickness, lap, Some(strakes), gain);
        input.spec.lines.fair_within = within;
        match plan(&input) {
            Ok(plan) => {
                let json = to_json(&plan);
                let value: Value = serde_json::from_str(&json).unwrap();
                prop_assert!(value["marks"].as_array().unwrap().iter().all(|m| m["girth_mm"].is_number()));
                let all = format!("{plan:?}");
                let mut words = all.split(|c: char| !c.is_alphanumeric());
                prop_assert!(words.all(|w| w != "NaN"), "a number in the plan is none");
            }
            Err(error) => prop_assert!(error.to_string().len() > 20),
        }
    }
}
