//! Stem, keel, transoms and moulds against cases derived by hand. Sources: derived here from the definitions in
//! `boat::backbone` (flat wall, wedge, cone, cylinder), and Pythagoras.

use crate::patterns::{named, runs_on};
use crate::plans::{BOATS, EXAMPLES, input, planned};
use boat::backbone::{edge_bevel, keel_rabbet_at, rabbet_at};
use boat::drawing::place::Bounds;
use boat::findings::Stage;
use boat::geom::{Point, Vector, unit_or};
use boat::plan::plan;
use boat::planks::land::face_normal;
use boat::setting_up::eased;
use boat::spec::{EndSpec, Stand, Transom};

/// A wedge: flat walls that open by `a` on plan and flare by `b`. The rabbet is where a wall meets the plane y = h; the
/// bearding line where it meets y = H; the rabbet line where the wall moved out by the plank's thickness does. The angle
/// between wall and stem's side is that between their normals.
#[test]
fn a_wedge_has_the_rabbet_of_two_planes() {
    for (a, b) in [(20.0_f64, 0.0_f64), (25.0, 15.0), (35.0, -10.0)] {
        let (a, b) = (a.to_radians(), b.to_radians());
        let n = Vector::new(-a.sin() * b.cos(), a.cos() * b.cos(), -b.sin());
        let along = unit_or(n.cross(&Vector::y()), Vector::z());
        let along = if along.z < 0.0 { -along } else { along };
        let (h, side) = (12.0, 20.0);
        let inner = Point::new(3.0, h, 70.0);
        let at = rabbet_at(&inner, &n, &along, &Vector::x(), side);
        let (outer, bearding) = (at.outer.unwrap(), at.bearding.unwrap());
        assert!((at.angle - n.y.acos()).abs() < 1e-12);
        // Both stand on the wood's side; the bearding line in the wall, the rabbet line square off it.
        assert!((outer.y - side).abs() < 1e-9 && (bearding.y - side).abs() < 1e-9);
        assert!((bearding - inner).dot(&n).abs() < 1e-9);
        assert!((outer - inner).cross(&n).norm() < 1e-9);
        // In the plane square to the rabbet: a right triangle over the wood's side, its height H − h.
        let rise = side - h;
        let width = rise * (at.angle.tan() + at.angle.tan().recip());
        assert!((at.width().unwrap() - width).abs() < 1e-9, "{} against {width}", at.width().unwrap());
        assert!((at.depth().unwrap() - rise / at.angle.cos()).abs() < 1e-9);
    }
}

/// A plank as flat as the wood's side has no bearding line, and one that lies level no rabbet line.
#[test]
fn a_plank_that_does_not_cross_the_side_has_no_line_there() {
    let inner = Point::new(0.0, 10.0, 0.0);
    let flat = rabbet_at(&inner, &Vector::y(), &Vector::z(), &Vector::x(), 20.0);
    assert_eq!((flat.bearding, flat.outer.map(|p| p.y)), (None, Some(20.0)));
    let level = rabbet_at(&inner, &-Vector::x(), &Vector::z(), &Vector::y(), 20.0);
    assert_eq!((level.outer, level.bearding.map(|p| p.y)), (None, Some(20.0)));
}

/// A plank flat between two generators of a cone of half-angle g, 2f apart about its axis, on a transom square to the
/// axis: off square by atan(tan g cos f), since the chord's middle stands at r cos f.
#[test]
fn a_cone_has_the_edge_bevel_of_its_chord() {
    for (g, f) in [(5.0_f64, 4.0_f64), (12.0, 10.0), (25.0, 20.0)] {
        let (g, f) = (g.to_radians(), f.to_radians());
        let on = |turn: f64| Vector::new(-1000.0, 1000.0 * g.tan() * turn.cos(), 1000.0 * g.tan() * turn.sin());
        let (lower, upper) = (on(0.4 - f), on(0.4 + f));
        // She narrows aft to the apex at the origin: a generator's way aft is towards it.
        let normal = face_normal(&(upper - lower).normalize(), &(-upper).normalize());
        let bevel = edge_bevel(&Vector::x(), &normal);
        assert!((bevel - (g.tan() * f.cos()).atan()).abs() < 1e-12, "{}", bevel.to_degrees());
    }
}

/// Every seat's ends stand on the transom's cylinder, which is tested by their distance from its axis; laid flat they
/// stand as far from the centreline as the arc is long.
#[test]
fn a_curved_transom_is_a_cylinder() {
    let plan = planned("lapwing");
    let EndSpec::Transom(t) = &plan.spec.aft else { panic!("no transom") };
    let r = t.radius.unwrap();
    let up = Vector::new(t.head[0] - t.foot[0], 0.0, t.head[1] - t.foot[1]).normalize();
    let out = Vector::new(up.z, 0.0, -up.x);
    let axis = Point::new(t.foot[0], 0.0, t.foot[1]) - r * out;
    let shape = plan.backbone.transoms.iter().find(|s| s.end == "transom").unwrap();
    let (mut seats, mut curve) = (0, 0);
    let check = |p: &Point, flat: [f64; 2]| {
        let from = p - axis;
        let radial = from - up * from.dot(&up);
        assert!((radial.norm() - r).abs() < 1e-8, "{}", radial.norm() - r);
        assert!((flat[0] - r * radial.y.atan2(radial.dot(&out))).abs() < 1e-8);
        assert!((flat[1] - from.dot(&up)).abs() < 1e-8);
    };
    for (strake, seat) in plan.strakes.iter().zip(&shape.seats) {
        let last = strake.rulings.last().unwrap();
        check(&last.lower, seat.lower);
        check(&last.upper, seat.upper);
        seats += 1;
    }
    // The fair curve between its points stays on it as nearly.
    for (p, flat) in plan.sections.last().unwrap().points.iter().zip(&shape.curve) {
        let from = p - axis;
        let off = (from - up * from.dot(&up)).norm() - r;
        assert!(off.abs() < 1e-4, "{off}");
        curve += usize::from(flat[0] > 0.0);
    }
    assert_eq!((seats, curve), (8, 97));
}

/// A plumb transom of radius 1000 mm at half-breadth 500: falls back 1000 − 1000 cos 30°, an arc of a sixth of π long.
/// One that leans 30° in profile, flat: 100 mm up is 100/cos 30° along it.
#[test]
fn transoms_by_hand() {
    let plumb = Transom {
        foot: [3000.0, 100.0],
        head: [3000.0, 500.0],
        radius: Some(1000.0),
        bow: false,
        thickness: 20.0,
        crown: None,
    };
    assert!((plumb.fall(500.0) - 133.974_596_215_561).abs() < 1e-9);
    assert!((plumb.x_at(500.0, 300.0) - (3000.0 - 133.974_596_215_561)).abs() < 1e-9);
    let [u, v] = plumb.laid_flat(500.0, 300.0);
    assert!((u - 523.598_775_598_299).abs() < 1e-9 && (v - 200.0).abs() < 1e-9);
    let lean = 30_f64.to_radians();
    let head = [3000.0 + 400.0 * lean.tan(), 500.0];
    let raked = Transom { foot: [3000.0, 100.0], head, radius: None, bow: false, thickness: 20.0, crown: None };
    assert!((raked.laid_flat(250.0, 200.0)[1] - 100.0 / lean.cos()).abs() < 1e-9);
    assert!((raked.x_at(250.0, 200.0) - (3000.0 + 100.0 * lean.tan())).abs() < 1e-9);
    let [x, y, z] = raked.normal(250.0);
    assert!((x - lean.cos()).abs() < 1e-12 && y == 0.0 && (z + lean.sin()).abs() < 1e-12);
    // At the bow the outer face looks forward.
    let bow = Transom {
        foot: [0.0, 100.0],
        head: [0.0, 500.0],
        radius: Some(1000.0),
        bow: true,
        thickness: 20.0,
        crown: None,
    };
    assert!((bow.x_at(500.0, 300.0) - 133.974_596_215_561).abs() < 1e-9);
    assert!((bow.normal(500.0)[0] + lean.cos()).abs() < 1e-12 && (bow.normal(500.0)[1] - 0.5).abs() < 1e-12);
}

/// A transom's top edge with a crown is an arc of a circle: of chord 2c and rise h, radius (c² + h²)/2h, and the segment over
/// the chord is R² asin(c/R) − c(R − h) large. On a curved face laid flat that is what stands over the level line.
#[test]
fn a_crown_is_an_arc_over_the_corners() {
    for (name, h) in [("corncrake", 38.0), ("corncrake", 120.0), ("lapwing", 45.0)] {
        let mut boat = input(name);
        let EndSpec::Transom(t) = &mut boat.spec.aft else { panic!("no transom") };
        t.crown = Some(h);
        top_is_an_arc_over_its_corners(&boat, h);
    }
}

/// The after transom's top, whose crown is `h`, against the same without one.
fn top_is_an_arc_over_its_corners(boat: &boat::folder::BoatInput, h: f64) {
    let with = plan(boat).unwrap();
    let mut level = boat.clone();
    let EndSpec::Transom(t) = &mut level.spec.aft else { panic!("no transom") };
    t.crown = None;
    let level = plan(&level).unwrap();
    let shape = |plan: &boat::plan::Plan| plan.backbone.transoms.iter().find(|s| s.end == "transom").unwrap().clone();
    let (top, flat) = (shape(&with).top, shape(&level).top);
    // The corner is the last seat's end.
    let corner = shape(&with).seats.last().unwrap().upper;
    assert!((top[0][0] - corner[0]).hypot(top[0][1] - corner[1]) < 1e-9, "{:?}, {corner:?}", top[0]);
    let c = top[0][0];
    let radius = (c * c + h * h) / (2.0 * h);
    let last = top.len() - 1;
    assert!(top[last][0].abs() < 1e-9 && last >= 24);
    let (mut area, mut over) = (0.0, Vec::new());
    for p in &top {
        // The level line there, straight or in pieces as fine as these.
        let i = flat.partition_point(|q| q[0] > p[0] + 1e-9).clamp(1, flat.len() - 1);
        let (a, b) = (flat[i - 1], flat[i]);
        let under = a[1] + (b[1] - a[1]) * (p[0] - a[0]) / (b[0] - a[0]);
        over.push([p[0], p[1] - under]);
    }
    for [along, rise] in &over {
        assert!((along.hypot(rise + radius - h) - radius).abs() < 1e-6, "{along}, {rise}");
    }
    assert!((over[last][1] - h).abs() < 1e-9 && over[0][1].abs() < 1e-9);
    for w in over.windows(2) {
        area += (w[0][0] - w[1][0]) * (w[0][1] + w[1][1]);
    }
    let segment = radius * radius * (c / radius).asin() - c * (radius - h);
    assert!((area - segment).abs() < 2e-4 * segment, "{area} against {segment}");
}

/// Where the lands run out flush the seats meet in the marks, within the bevel that lets the next plank in; where the
/// transom is notched they stand apart by the plank's thickness less that.
#[test]
fn seats_are_notched_or_flush_as_asked() {
    let flush = planned("corncrake");
    let notched = planned("lapwing");
    for (plan, proud) in [(&flush, 0.0), (&notched, notched.spec.planking.thickness)] {
        for shape in &plan.backbone.transoms {
            for k in 1..shape.seats.len() {
                let j = if shape.end == "transom" { plan.sections.len() - 1 } else { 0 };
                let at = plan.strakes[k - 1].at.iter().find(|a| a.section == j).unwrap();
                let step = at.step_inside(plan.spec.planking.thickness).unwrap();
                let off = plan.spec.planking.lap * at.bevel.unwrap().tan();
                assert!((step - (proud - off)).abs() < 1e-9);
                // Measured along the oblique face the notch is deeper by 1/cos of the edge's bevel.
                let square = shape.notch(k).unwrap() * shape.seats[k].bevel.cos();
                assert!(
                    (square - step).abs() < 0.085 * plan.spec.planking.thickness,
                    "{} {k}: {square}, {step}",
                    shape.end
                );
            }
        }
    }
}

/// A mould of circular section between lands 2f apart: a plank flat from mark to mark takes off r (1 − cos f) in the
/// middle.
#[test]
fn a_round_mould_is_eased_by_its_sagitta() {
    let (r, f) = (600.0, 6_f64.to_radians());
    let on = |turn: f64| Point::new(0.0, r * turn.cos(), r * turn.sin());
    let (lower, upper) = (on(-f), on(f));
    let n = Vector::y();
    let ruling = boat::planks::Ruling {
        lower,
        upper,
        normal: n,
        tangent: Vector::x(),
        lower_normal: n,
        along: 0.0,
        step: 8.0,
        bevel: None,
    };
    let (at, by) = eased(&on(0.0), &ruling);
    assert!((by - r * (1.0 - f.cos())).abs() < 1e-9);
    assert!((at[0] - r * f.cos()).abs() < 1e-9 && at[1].abs() < 1e-9);
}

/// The eased mould stands nowhere proud of a plank, and nowhere inside the fair section but where a plank asks it.
#[test]
fn moulds_are_nowhere_proud() {
    for name in BOATS {
        let plan = planned(name);
        for (shape, mould) in plan.setting_up.moulds.iter().zip(&plan.moulds) {
            let section = &plan.sections[mould.section];
            let mut along = 0.0;
            for (i, (p, e)) in section.points.iter().zip(&shape.edge).enumerate() {
                along += if i > 0 { (p - section.points[i - 1]).norm() } else { 0.0 };
                let land =
                    |k: usize| plan.marks.iter().find(|m| m.land == k && m.section == mould.section).unwrap().girth;
                let k = (1..plan.strakes.len()).find(|&k| along <= land(k)).unwrap_or(plan.strakes.len());
                let at = plan.strakes[k - 1].at.iter().find(|a| a.section == mould.section).unwrap();
                let r = &plan.strakes[k - 1].rulings[at.ruling];
                let (up_y, up_z) = (r.upper.y - r.lower.y, r.upper.z - r.lower.z);
                let proud = ((e[0] - r.upper.y) * up_z - (e[1] - r.upper.z) * up_y) / up_y.hypot(up_z);
                assert!(proud < 1e-9, "{name} {} land {k}: {proud}", shape.name);
                let moved = (e[0] - p.y).hypot(e[1] - p.z);
                assert!(moved <= shape.relief[k - 1] + 1e-9);
                assert!(moved < 1e-9 || proud.abs() < 1e-9, "{name} {}: eased too far", shape.name);
            }
        }
    }
}

/// Diagonals by Pythagoras from the sections' own ends; heights upright and upside down add up to what they should.
#[test]
fn setting_up_adds_up() {
    for name in EXAMPLES {
        let mut given = input(name);
        for stand in [Stand::Upright, Stand::UpsideDown] {
            given.spec.moulds.stand = stand;
            given.spec.moulds.base_above_floor = Some(1000.0);
            let plan = plan(&given).unwrap();
            let sheer: Vec<&Point> =
                plan.moulds.iter().map(|m| plan.sections[m.section].points.last().unwrap()).collect();
            let bow = plan.sections[0].points.last().unwrap();
            for (i, m) in plan.setting_up.moulds.iter().enumerate() {
                let s = sheer[i];
                let expected = if stand == Stand::Upright { 1000.0 + s.z } else { 1000.0 - s.z };
                assert!((m.heights.sheer - expected).abs() < 1e-9);
                assert!((m.across_sheer - 2.0 * s.y).abs() < 1e-9);
                let bow_off = ((s.x - bow.x).powi(2) + s.y.powi(2) + (s.z - bow.z).powi(2)).sqrt();
                assert!((m.from_bow - bow_off).abs() < 1e-9);
                let cross = sheer
                    .get(i + 1)
                    .map(|n| ((n.x - s.x).powi(2) + (n.y + s.y).powi(2) + (n.z - s.z).powi(2)).sqrt());
                assert_eq!(m.diagonal.is_some(), cross.is_some());
                if let (Some(d), Some(c)) = (m.diagonal, cross) {
                    assert!((d - c).abs() < 1e-9);
                }
                // The level line meets the mould's edge where the section's own height is.
                let half = m.level.unwrap();
                let w = m.edge.windows(2).find(|w| w[0][0] <= half && half <= w[1][0]).unwrap();
                let z = w[0][1] + (w[1][1] - w[0][1]) * (half - w[0][0]) / (w[1][0] - w[0][0]);
                assert!((z - plan.setting_up.level).abs() < 1e-6);
            }
        }
    }
}

/// Keel up the legs end on the strongback and the cross-spall with them; keel down the cross-spall clears the sheer strake by
/// the moulds' clearance. They stand plumb over the mould's corners, and where they are wider than half of it they are one.
#[test]
fn legs_reach_past_the_sheer() {
    for name in EXAMPLES {
        let mut given = input(name);
        for (stand, leg) in [(Stand::Upright, 75.0), (Stand::UpsideDown, 75.0), (Stand::UpsideDown, 300.0)] {
            (given.spec.moulds.stand, given.spec.moulds.leg) = (stand, leg);
            given.spec.moulds.base_above_floor = Some(1100.0);
            let plan = plan(&given).unwrap();
            assert!(plan.findings.iter().all(|f| f.stage != Stage::SettingUp));
            for m in &plan.setting_up.moulds {
                let (legs, corner) = (m.legs.unwrap(), m.edge.last().unwrap());
                assert_eq!((legs.half_breadths[1], legs.heights[0]), (corner[0], corner[1]));
                assert_eq!(legs.half_breadths[0], (corner[0] - leg).max(0.0));
                assert!((legs.spall[1] - legs.spall[0] - leg).abs() < 1e-9 && legs.spall[1] == legs.heights[1]);
                if stand == Stand::Upright {
                    assert!((legs.spall[0] - corner[1] - given.spec.moulds.clearance).abs() < 1e-9);
                } else {
                    assert!(plan.setting_up.over_floor(legs.heights[1]).abs() < 1e-9);
                    // As long as the set-up sheet has the sheer over the strongback.
                    assert!((legs.heights[1] - legs.heights[0] - m.heights.sheer).abs() < 1e-9);
                }
                let pattern = named(&plan, &format!("Mould {}", m.name));
                let runs = runs_on(&pattern.sheet, "legs");
                let drawn = Bounds::of(runs.iter().flatten().copied()).unwrap();
                assert!((drawn.height() - (legs.heights[1] - legs.heights[0])).abs() < 1e-9);
                let past = if stand == Stand::Upright { 0.0 } else { 15.0 };
                assert!((drawn.width() - 2.0 * (legs.half_breadths[1] + past)).abs() < 1e-9);
            }
        }
    }
    let mut given = input("corncrake");
    given.spec.moulds.leg = 0.0;
    assert!(plan(&given).unwrap().setting_up.moulds.iter().all(|m| m.legs.is_none()));
}

/// A strongback under which the sheer would stand is told, with how far to raise it.
#[test]
fn a_strongback_too_near_is_told() {
    let mut given = input("corncrake");
    (given.spec.moulds.stand, given.spec.moulds.base_above_floor) = (Stand::UpsideDown, Some(560.0));
    let plan = plan(&given).unwrap();
    let found: Vec<_> = plan.findings.iter().filter(|f| f.stage == Stage::SettingUp).collect();
    let under = plan.setting_up.moulds.iter().filter(|m| m.heights.sheer < 0.0).count();
    assert!(!found.is_empty() && found.len() == under);
    assert!(found[0].place.starts_with("mould ") && found[0].hint.contains("raise moulds.base_above_floor"));
    assert!(found[0].hint.contains("1-10-0"), "{}", found[0].hint);
    // No leg where there is no room for one.
    assert!(plan.setting_up.moulds.iter().all(|m| m.legs.is_none() == (m.heights.sheer <= 0.0)));
}

/// A head over the sheer carries both faces straight on and cuts them level; one of nothing cuts them at the sheer.
#[test]
fn a_stems_head_is_cut_level() {
    let mut given = input("sandgrouse");
    let faces = |given: &boat::folder::BoatInput| {
        let plan = plan(given).unwrap();
        let p = &plan.backbone.posts[0];
        (p.outer_face.clone(), p.inner_face.clone(), plan.sections[0].points.last().unwrap().z, p.head)
    };
    let mut with = |head: Option<f64>| {
        let EndSpec::Post(stem) = &mut given.spec.fore else { panic!("no stem") };
        (stem.wood_outside, stem.wood_inside, stem.head) = (Some(35.0), Some(60.0), head);
        faces(&given)
    };
    let (outer, inner, sheer, _) = with(None);
    for head in [0.0, 2.0, 90.0, 400.0] {
        let (o, i, _, at) = with(Some(head));
        assert_eq!(at, Some(sheer + head));
        for (face, before) in [(&o, &outer), (&i, &inner)] {
            let last = face.len() - 1;
            assert!((face[last][1] - sheer - head).abs() < 1e-9);
            // As it was beside the rabbet, and straight from there on.
            assert_eq!(face[..last], before[..last]);
            let (a, b) = if last < before.len() {
                (before[last - 1], before[last])
            } else {
                (before[last - 2], before[last - 1])
            };
            let (run, rise) = (b[0] - a[0], b[1] - a[1]);
            let off = (face[last][0] - a[0]) * rise - (face[last][1] - a[1]) * run;
            assert!(off.abs() / run.hypot(rise) < 1e-9, "{head}: {off}");
        }
    }
}

/// A bearding line is cut with a chisel along a batten: where the garboard's rulings fan out beside the stem it bends no
/// sharper than over the keel's own turn, a tenth of a radian at a corner; before its normals were faired there, Corncrake's
/// turned by 0.4 at one.
#[test]
fn bearding_lines_have_no_corners_beside_posts() {
    for name in ["corncrake", "sandgrouse"] {
        let plan = planned(name);
        let line: Vec<Point> = plan.backbone.keel.iter().filter_map(|r| r.bearding).collect();
        let ends = [0..14, line.len() - 14..line.len()];
        let posts = plan.backbone.posts.len();
        for run in ends.into_iter().take(posts) {
            let way: Vec<Vector> = line[run].windows(2).map(|w| (w[1] - w[0]).normalize()).collect();
            let most = way.windows(2).map(|w| w[0].cross(&w[1]).norm().asin()).fold(0.0, f64::max);
            assert!(most < 0.12, "{name}: {most}");
        }
        for post in &plan.backbone.posts {
            let line: Vec<Point> = post.rabbet.iter().filter_map(|r| r.bearding).collect();
            let way: Vec<Vector> = line.windows(2).map(|w| (w[1] - w[0]).normalize()).collect();
            let most = way.windows(2).map(|w| w[0].cross(&w[1]).norm().asin()).fold(0.0, f64::max);
            assert!(most < 0.1, "{name} {}: {most}", post.end);
        }
    }
}

/// The half sidings asked for are respected: the rabbet line and bearding line stand on the wood's side, the hog's line at
/// its edge.
#[test]
fn half_sidings_are_respected() {
    let mut given = input("sandgrouse");
    let EndSpec::Post(stem) = &mut given.spec.fore else { panic!("no stem") };
    stem.wood_half_siding = Some(24.0);
    stem.wood_outside = Some(30.0);
    given.spec.keel.hog_half_breadth = Some(45.0);
    let plan = plan(&given).unwrap();
    let post = &plan.backbone.posts[0];
    let lines = post.rabbet.iter().flat_map(|r| [r.outer, r.bearding]).flatten();
    let off = lines.map(|p| (p.y - 24.0).abs()).fold(0.0, f64::max);
    assert!(off < 1e-9, "{off}");
    assert!(post.rabbet.iter().filter(|r| r.width().is_some()).count() > 90);
    assert!(plan.backbone.keel.iter().filter_map(|r| r.bearding).all(|p| (p.y - 45.0).abs() < 1e-9));
    // The outer face stands 30 mm off the rabbet line at every point of it.
    for (face, r) in post.outer_face.iter().zip(&post.rabbet) {
        let line = r.outer.unwrap();
        assert!(((face[0] - line.x).hypot(face[1] - line.z) - 30.0).abs() < 1e-9);
    }
    assert_eq!(plan.backbone.posts[1].half_siding, 17.0);
}

/// A flat wall over a keel whose rabbet slopes by s: whatever the slope, the angle off level square to the rabbet is a
/// right one less that between the wall's normal and y, so keel and stem cut of one plank agree where they meet.
#[test]
fn a_sloping_keel_has_the_rabbet_of_two_planes() {
    for (a, s) in [(20.0_f64, 0.0_f64), (35.0, 15.0), (57.0, 30.0)] {
        let (a, s) = (a.to_radians(), s.to_radians());
        // Square to the rabbet (cos s, 0, −sin s), at a off level: up is (sin s, 0, cos s).
        let (along, up) = (Vector::new(s.cos(), 0.0, -s.sin()), Vector::new(s.sin(), 0.0, s.cos()));
        let n = Vector::y() * a.sin() - up * a.cos();
        let inner = Point::new(0.0, 16.0, 100.0);
        let keel = keel_rabbet_at(&inner, &n, &along, 9.0, None);
        let stem = rabbet_at(&inner, &n, &-along, &Vector::x(), 24.0);
        assert!((keel.angle - a).abs() < 1e-12 && (keel.angle + stem.angle - 90_f64.to_radians()).abs() < 1e-12);
        assert!((keel.depth().unwrap() - 9.0).abs() < 1e-12);
        // The groove on the keel's side: a right triangle whose height over that side is t sin a.
        let width = 9.0 * a.sin() * (a.tan() + a.tan().recip());
        assert!((keel.width().unwrap() - width).abs() < 1e-9, "{} {width}", keel.width().unwrap());
    }
}

/// A rabbet that runs on straight from keel to stem, and a garboard at 50° off level at its foot and 40° at the head of its
/// hood: at the foot both say one face's angle, half-way up its hood the post says 45° off level, and above that the same.
#[test]
fn a_post_starts_at_the_angle_the_keel_ends_with() {
    let spec = input("corncrake").spec;
    let (sin, cos) = 25_f64.to_radians().sin_cos();
    let (up_stem, across) = (Vector::new(-cos, 0.0, sin), Vector::new(sin, 0.0, cos));
    let leaning = |a: f64| Vector::y() * a.to_radians().sin() - across * a.to_radians().cos();
    let foot = Point::new(0.0, 16.0, 100.0);
    let ruling = |aft: f64, upper: Point| boat::planks::Ruling {
        lower: foot - up_stem * aft,
        upper,
        normal: leaning(40.0),
        tangent: -up_stem,
        lower_normal: leaning(50.0),
        along: aft,
        step: 9.0,
        bevel: None,
    };
    let head = foot + up_stem * 80.0;
    let rulings = vec![ruling(0.0, head), ruling(100.0, head + Vector::y() * 50.0)];
    let garboard = boat::planks::Strake { strake: 1, thickness: 9.0, rulings, at: Vec::new() };
    let mut stem = planned("corncrake").sections[0].clone();
    stem.points = (0..=10).map(|i| foot + up_stem * (8.0 * f64::from(i))).collect();
    let mark =
        |land, girth| boat::lining::Mark { land, section: 0, girth, at: foot + up_stem * girth, pinned: false };
    let made = boat::backbone::backbone(&[garboard], &[stem], &[mark(0, 0.0), mark(1, 80.0)], &spec);
    let post = &made.posts[0];
    let off = |angle: f64, level: f64| (angle.to_degrees() - level).abs();
    assert!(off(made.keel[0].angle, 50.0) < 1e-9);
    for (at, angle) in
        [(&post.rabbet[0], 40.0), (&post.lands[0], 40.0), (&post.rabbet[5], 45.0), (&post.rabbet[10], 45.0)]
    {
        assert!(off(at.angle, angle) < 1e-9, "{} for {angle}", at.angle.to_degrees());
    }
    assert!(off(post.strakes[0].angle, 45.0) < 1e-9);
}

/// Where keel and post meet, their two pages say one angle, to the tenth of a degree that the rabbet's turn there costs.
#[test]
fn keel_and_posts_agree_where_they_meet() {
    for name in ["corncrake", "sandgrouse"] {
        let plan = planned(name);
        for post in &plan.backbone.posts {
            let keel = if post.end == "stem" { plan.backbone.keel.first() } else { plan.backbone.keel.last() };
            let sum = (keel.unwrap().angle + post.rabbet[0].angle).to_degrees();
            assert!((sum - 90.0).abs() < 0.1, "{name} {}: {sum}", post.end);
        }
    }
}
