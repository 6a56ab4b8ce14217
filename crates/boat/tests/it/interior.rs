//! Thwarts, risings, inwales, rubbing strakes, breasthooks and knees in hulls whose every shape is known.

use crate::common;
use boat::backbone::{Backbone, PostShape};
use boat::geom::Point;
use boat::interior::{Ask, Fitted, Interior, InteriorError, KneeKind, Meets, StripPlace, interior};
use boat::lining::Lands;
use boat::offsets::{StationAt, Table};
use boat::planks::{Strake, lay};
use boat::spec::{
    Against, BendSpec, BreasthookSpec, Edge, EndSpec, Grown, InteriorSpec, InwaleSpec, KneeAt, KneeSpec, Level,
    Place, RisingSpec, RubbingSpec, Spec, Stick, ThwartSpec, TimberSpec, Transom, Wood,
};
use boat::timbers::{Timber, timbers};
use proptest::prelude::*;
use std::f64::consts::FRAC_PI_2;

/// A hull ready to be fitted out.
struct Hull {
    spec: Spec,
    table: Table,
    skin: boat::lines::Skin,
    lands: Lands,
    strakes: Vec<Strake>,
    timbers: Vec<Timber>,
    backbone: Backbone,
}

const MOULDED: f64 = 12.0;

impl Hull {
    /// Sections at the stations `x`, lands at even shares of their girth; timbers where asked.
    fn new(x: &[f64], strakes: usize, timbered: bool, section: impl Fn(f64) -> Vec<Point>) -> Hull {
        let (skin, table) = common::skin(x, section);
        let shares: Vec<f64> = (0..=strakes).map(|k| k as f64 / strakes as f64).collect();
        let lands = common::lands(&skin, &shares);
        let mut spec = common::spec(9.0, 19.0);
        spec.timbers = TimberSpec { moulded: MOULDED, spacing: 500.0, ..spec.timbers };
        let strakes = lay(&lands, &skin, &table, &spec).unwrap();
        let (fore, aft) = (x[0], x[x.len() - 1]);
        let timbers = if timbered { timbers(&lands, &[], &spec.timbers, fore, aft).unwrap().0 } else { Vec::new() };
        let backbone = Backbone { posts: Vec::new(), keel: Vec::new(), keel_at: Vec::new(), transoms: Vec::new() };
        Hull { spec, table, skin, lands, strakes, timbers, backbone }
    }

    fn fitted(&self, asked: InteriorSpec) -> Result<Interior, InteriorError> {
        let all = self.all(asked);
        all.refused.into_iter().next().map_or(Ok(all.interior), Err)
    }

    /// With what is refused and found.
    fn all(&self, asked: InteriorSpec) -> Fitted {
        let spec = Spec { interior: asked, ..self.spec.clone() };
        interior(&Ask {
            spec: &spec,
            table: &self.table,
            sections: &self.skin.sections,
            lands: &self.lands,
            strakes: &self.strakes,
            timbers: &self.timbers,
            backbone: &self.backbone,
        })
    }

    fn refused(&self, asked: InteriorSpec) -> String {
        self.fitted(asked).unwrap_err().to_string()
    }
}

fn at(x: f64) -> Place {
    Place { station: None, aft: x }
}

fn stick() -> Stick {
    Stick { thickness: 15.0, depth: 40.0, spare: 50.0, wood: wood(), bends: BendSpec::default() }
}

fn wood() -> Wood {
    Wood { name: "ash, white".to_owned(), density: 672.0 }
}

fn thwart(x: f64, z: f64, against: Against) -> ThwartSpec {
    ThwartSpec {
        name: String::new(),
        place: at(x),
        edge: Edge::Middle,
        level: Some(Level::Height(z)),
        width: 200.0,
        thickness: 20.0,
        against,
        clear: 0.0,
        wood: wood(),
    }
}

fn thwarts(of: Vec<ThwartSpec>) -> InteriorSpec {
    InteriorSpec { thwarts: of, ..InteriorSpec::default() }
}

fn grown(arms: [f64; 2], against: Against) -> Grown {
    Grown { arms, tip: 25.0, throat: 80.0, thickness: 22.0, against, wood: wood() }
}

fn rising(line: &[[f64; 2]]) -> RisingSpec {
    RisingSpec { stick: stick(), line: line.iter().map(|p| (at(p[0]), Level::Height(p[1]))).collect() }
}

const R: f64 = 700.0;

/// Half a cylinder of radius R lying along her, its axis at the sheer.
fn trough(timbered: bool) -> Hull {
    Hull::new(&[0.0, 1000.0, 2000.0, 3000.0, 4000.0], 24, timbered, |x| {
        let on = |a: f64| Point::new(x, R * a.sin(), R - R * a.cos());
        (0..=240).map(|i| on(FRAC_PI_2 * f64::from(i) / 240.0)).collect()
    })
}

/// Half-breadth of a circle of radius `r` about the trough's axis, at a height.
fn half(r: f64, z: f64) -> f64 {
    (r * r - (R - z) * (R - z)).sqrt()
}

/// The timbers' inner faces lie on the circle of R less their moulding. The fair curve through 25 marks of a quarter circle is
/// within 0.001 mm of it, but for its two end spans, whose ends have no bend of their own.
#[test]
fn a_thwart_in_a_trough_is_as_long_as_the_chord() {
    for (timbered, r) in [(true, R - MOULDED), (false, R)] {
        let fitted = trough(timbered).fitted(thwarts(vec![thwart(1500.0, 400.0, Against::Timbers)])).unwrap();
        let t = &fitted.thwarts[0];
        assert_eq!(t.edges, [1400.0, 1600.0]);
        let (top, under) = (half(r, 400.0), half(r, 380.0));
        for e in &t.end {
            assert!((e.top - top).abs() < 2e-5, "top {} of {top}", e.top);
            assert!((e.under - under).abs() < 2e-5, "underside {} of {under}", e.under);
            assert!((e.bevel - ((top - under) / 20.0).atan()).abs() < 1e-6);
            assert!(e.plan.abs() < 1e-6);
        }
        // The chord of the face between the two is the circle's tangent half-way: (R - 390) over the half-breadth there, but
        // for a third of (20 / 2)² over the square of the half-breadth.
        let tangent = ((R - 390.0) / half(r, 390.0)).atan();
        assert!((t.end[0].bevel - tangent).abs() < 1.4e-4, "{} of {tangent}", t.end[0].bevel);
        assert!((t.board[0] - 2.0 * top).abs() < 3e-5 && t.board[1] == 200.0);
        assert!(t.notches.is_empty() && t.steps.is_empty() && t.rests.is_empty());
    }
}

/// Against the planking it is cut to the planks themselves: as long as they are apart at its top and at its underside, a land's
/// step between them named; and notched round the timber that stands at 1500, down to its inner face.
#[test]
fn a_thwart_against_the_planking_is_notched_round_timbers() {
    let hull = trough(true);
    let mut spec = thwart(1500.0, 400.0, Against::Planking);
    spec.clear = 2.0;
    let fitted = hull.fitted(thwarts(vec![spec])).unwrap();
    let t = &fitted.thwarts[0];
    let on_a_plank = |z: f64| {
        // Its plank's upper edge is the first land over it; the face is the chord down from there.
        let (_, at) = (hull.strakes.iter().map(|s| (s, &s.rulings[40]))).find(|(_, r)| r.upper.z >= z).unwrap();
        let share = (z - at.lower.z) / (at.upper.z - at.lower.z);
        at.lower.y + share * (at.upper.y - at.lower.y)
    };
    for e in &t.end {
        assert!((e.top + 2.0 - on_a_plank(400.0)).abs() < 1e-6, "{} of {}", e.top + 2.0, on_a_plank(400.0));
        assert!((e.under + 2.0 - on_a_plank(380.0)).abs() < 1e-6);
    }
    // Outside the timbers' inner faces, by their moulding and as much of a plank's step.
    assert!(t.end[0].top > half(R - MOULDED, 400.0));
    let timber = hull.timbers.iter().position(|t| t.x == 1500.0).unwrap();
    assert_eq!(t.notches.len(), 1);
    assert_eq!((t.notches[0].timber, t.notches[0].sides), (timber, [1490.0, 1510.0]));
    for (found, z) in t.notches[0].to.iter().zip([400.0, 380.0]) {
        assert!((found + 2.0 - half(R - MOULDED, z)).abs() < 2e-5);
    }
}

/// A cone along her, radius 500 + x / 10 about an axis at 1000: at the height z an end of a thwart follows y = √(r² − d²), and
/// runs off square by dy/dx = r r'/y.
#[test]
fn a_thwart_in_a_cone_follows_it() {
    let r = |x: f64| 500.0 + 0.1 * x;
    let xs: Vec<f64> = (0..9).map(|i| 500.0 * f64::from(i)).collect();
    let hull = Hull::new(&xs, 24, false, |x| {
        let on = |a: f64| Point::new(x, r(x) * a.sin(), 1000.0 - r(x) * a.cos());
        (0..=240).map(|i| on(FRAC_PI_2 * f64::from(i) / 240.0)).collect()
    });
    let fitted = hull.fitted(thwarts(vec![thwart(2000.0, 800.0, Against::Timbers)])).unwrap();
    for e in &fitted.thwarts[0].end {
        for (found, z) in [(e.top, 800.0), (e.under, 780.0)] {
            let y = (r(e.x).powi(2) - (1000.0_f64 - z).powi(2)).sqrt();
            assert!((found - y).abs() < 1e-4, "at {}: {found} of {y}", e.x);
        }
        let y = (r(e.x).powi(2) - 200.0_f64.powi(2)).sqrt();
        assert!((e.plan.tan() - 0.1 * r(e.x) / y).abs() < 4e-8, "{} of {}", e.plan.tan(), 0.1 * r(e.x) / y);
    }
}

/// A tub about a plumb axis, half-angle g: a rising at a constant height runs round it at the radius r there, is bent the easy
/// way to r / cos g, lies flat at r / sin g, leans by g and turns by its place round the axis.
#[test]
fn a_rising_round_a_cone_lies_flat_at_its_developed_radius() {
    let g = 20.0_f64.to_radians();
    let radius = move |z: f64| 1500.0 + z * g.tan();
    let half = 1000.0;
    let xs: Vec<f64> = (0..=20).map(|i| 100.0 * f64::from(i)).collect();
    let hull = Hull::new(&xs, 12, false, |x| {
        (0..=60)
            .map(|i| {
                let z = 10.0 * f64::from(i);
                Point::new(x, (radius(z).powi(2) - (x - half).powi(2)).sqrt(), z)
            })
            .collect()
    });
    let (z, from, to) = (333.0, 200.0, 1700.0);
    let asked = InteriorSpec { risings: vec![rising(&[[from, z], [to, z]])], ..InteriorSpec::default() };
    let fitted = hull.fitted(asked).unwrap();
    let s = &fitted.strips[0];
    let r = radius(z);
    let turn = |x: f64| ((x - half) / r).asin();
    let arc = r * (turn(to) - turn(from));
    // 24 pieces of an arc of 1 radian: the fair curve is within (1/24)⁶ of it but for its ends.
    assert!((s.length - arc).abs() < 1e-5, "length {} of {arc}", s.length);
    assert!((s.cut_length - s.length - 100.0).abs() < 1e-9);
    let flat = r / g.sin();
    let sny = flat * (1.0 - (0.5 * arc / flat).cos());
    assert!((s.sny - sny).abs() < 0.009, "sny {} of {sny}", s.sny);
    let chord = 2.0 * flat * (0.5 * arc / flat).sin();
    let end = s.flat.last().unwrap();
    assert!((end[0] - chord).abs() < 5e-5 && end[1].abs() < 1e-6, "{end:?} of {chord}");
    // A cone that opens upwards has its apex below: laid flat the line's middle stands over its ends.
    assert!(s.flat[s.flat.len() / 2][1] > 0.0);
    assert!((s.board_width - 40.0 - s.sny).abs() < 1e-9);
    // The least of the radii that a spline through a circle has: half a thousandth off at its ends.
    assert!((s.edge_radius / flat - 1.0).abs() < 0.0012 && (s.bend_radius / (r / g.cos()) - 1.0).abs() < 0.0012);
    assert_eq!(s.at.iter().filter(|a| matches!(a.place, StripPlace::Section(_))).count(), 16);
    for a in &s.at {
        assert!((a.lean - g).abs() < 4e-6, "lean {} of {g}", a.lean);
        // Forward of the middle she widens aft.
        assert!((a.turn + turn(a.at.x)).abs() < 3e-5, "turn {} at {}", a.turn, a.at.x);
        assert!((a.along - r * (turn(a.at.x) - turn(from))).abs() < 6e-5);
    }
    assert!(s.twist * 1000.0 < 0.01, "no twist: {}", s.twist);
    assert!((s.ends[0].across).abs() < 1e-9 && s.ends[0].on == Meets::Nothing);
}

/// Plumb walls, the sheer an arc in profile of radius P: the inwale is as long as the arc of its plane, its sny is that arc's
/// rise, it is not bent the easy way at all; the transom stands plumb and square, so both cuts are the sheer's own slope and 0.
#[test]
fn an_inwale_under_an_arched_sheer() {
    let (p, half, wall) = (6000.0_f64, 2000.0, 600.0);
    let sheer = move |x: f64| 700.0 + p - (p * p - (x - half).powi(2)).sqrt();
    let xs: Vec<f64> = (0..=20).map(|i| 200.0 * f64::from(i)).collect();
    let mut hull =
        Hull::new(&xs, 8, true, |x| (0..=40).map(|i| Point::new(x, wall, sheer(x) * f64::from(i) / 40.0)).collect());
    let t = |x: f64, bow: bool| Transom {
        foot: [x, 0.0],
        head: [x, 700.0],
        radius: None,
        bow,
        thickness: 20.0,
        crown: None,
    };
    hull.spec.fore = EndSpec::Transom(t(0.0, true));
    hull.spec.aft = EndSpec::Transom(t(4000.0, false));
    let asked = InteriorSpec {
        inwale: Some(InwaleSpec { stick: stick(), from: None, to: None }),
        knees: vec![
            KneeSpec { at: KneeAt::Quarter { aft: true }, grown: grown([250.0, 200.0], Against::Timbers) },
            KneeSpec { at: KneeAt::Quarter { aft: false }, grown: grown([250.0, 200.0], Against::Inwale) },
        ],
        ..InteriorSpec::default()
    };
    let fitted = hull.fitted(asked).unwrap();
    let s = &fitted.strips[0];
    let turn = |x: f64| ((x - half) / p).asin();
    let arc = p * (turn(3980.0) - turn(20.0));
    assert!((s.length - arc).abs() < 5e-5, "length {} of {arc}", s.length);
    let rise = p * (1.0 - turn(3980.0).cos());
    assert!((s.sny - rise).abs() < 1e-4, "sny {} of {rise}", s.sny);
    assert!(s.bend_radius > 1e6 && (s.edge_radius / p - 1.0).abs() < 3e-4);
    for (end, x) in s.ends.iter().zip([20.0, 3980.0]) {
        assert_eq!(end.on, Meets::Transom);
        assert!(end.across < 1e-6 && (end.down - turn(x).abs()).abs() < 4e-8, "{end:?}");
        assert!(end.between < 1e-6);
    }
    for a in &s.at {
        assert!(a.lean.abs() < 1e-6 && a.turn.abs() < 1e-6 && (a.at.y - (wall - MOULDED)).abs() < 1e-6);
    }
    // Quarter knees: square, for the walls are parallel and the transoms square. The arms' bevels: against the plumb wall
    // none; against a plumb transom the plane's own pitch.
    for (knee, x, thick) in [(&fitted.knees[0], 3980.0, MOULDED), (&fitted.knees[1], 20.0, MOULDED + 15.0)] {
        assert!((knee.angle - FRAC_PI_2).abs() < 1e-6, "angle {}", knee.angle.to_degrees());
        assert!((knee.corner.y - (wall - thick)).abs() < 1e-6 && (knee.corner.x - x).abs() < 1e-6);
        assert!((knee.pitch.abs() - turn(x).abs()).abs() < 2e-6);
        assert!(knee.arms[0].bevels.iter().all(|b| b.abs() < 1e-6));
        assert!(knee.arms[1].bevels.iter().all(|b| (b.abs() - turn(x).abs()).abs() < 2e-6));
        // The sheer rises towards both ends, so that the other side is the smaller where it meets the transom.
        assert!(knee.arms[1].bevels[0] < 0.0);
        assert!((knee.arms[0].length - 250.0).abs() < 1e-6 && (knee.arms[1].length - 200.0).abs() < 1e-6);
        assert!(knee.arms.iter().all(|a| a.round < 1e-6));
        // Tips square to straight edges: 25 wide; the inner edge goes through the throat, 80 from the corner at 45°.
        let by_hand =
            |p: [f64; 2]| knee.inner.iter().map(|q| (p[0] - q[0]).hypot(p[1] - q[1])).fold(f64::MAX, f64::min);
        let [a, b] = [knee.inner[0], knee.inner[knee.inner.len() - 1]];
        assert!((a[0] - 25.0).abs() < 1e-6 && (a[1] - 250.0).abs() < 1e-6, "{a:?}");
        assert!((b[0] - 200.0).abs() < 1e-6 && (b[1] - 25.0).abs() < 1e-6, "{b:?}");
        let c = 80.0 * 0.5_f64.sqrt();
        // In 32 pieces, the longest where it turns least: its points are within half of one, 25, of any of its places.
        assert!(by_hand([c, c]) < 25.0);
        assert!(knee.inner.iter().all(|p| p[0] > 25.0 - 1e-6 && p[1] > 25.0 - 1e-6), "thinner than its tip");
        assert!(knee.hollow.iter().all(|h| (h - c).abs() < 1e-9) && knee.pieces == 2);
        assert!((knee.board[0] - 250.0).abs() < 1e-6 && (knee.board[1] - 200.0).abs() < 1e-6);
    }
}

/// A wedge: plumb straight walls y = 5 + x tan α from a plumb stem of 25 half siding, sheer level. Against its planking the nose
/// is where the walls come to 25, its edges meet at 2α, bevels are 0; against timbers the walls lie 12 further in.
#[test]
fn a_breasthook_between_straight_walls() {
    let a = 20.0_f64.to_radians();
    let xs: Vec<f64> = (0..=10).map(|i| 200.0 * f64::from(i)).collect();
    let mut hull = Hull::new(&xs, 8, true, |x| {
        (0..=40).map(|i| Point::new(x, 5.0 + x * a.tan(), 15.0 * f64::from(i))).collect()
    });
    hull.backbone.posts.push(PostShape {
        end: "stem",
        half_siding: 25.0,
        rabbet: Vec::new(),
        strakes: Vec::new(),
        lands: Vec::new(),
        outer_face: Vec::new(),
        inner_face: Vec::new(),
        head: None,
    });
    for (against, wall) in [(Against::Planking, 5.0), (Against::Timbers, 5.0 - MOULDED / a.cos())] {
        let hook = BreasthookSpec { aft: false, grown: Grown { throat: 120.0, ..grown([300.0; 2], against) } };
        let inwale = InwaleSpec { stick: stick(), from: None, to: Some(at(1500.0)) };
        let asked = InteriorSpec { breasthooks: vec![hook], inwale: Some(inwale), ..InteriorSpec::default() };
        let fitted = hull.fitted(asked).unwrap();
        let k = &fitted.knees[0];
        assert_eq!(k.kind, KneeKind::Breasthook { aft: false });
        let nose = (25.0 - wall) / a.tan();
        assert!((k.corner.x - nose).abs() < 1e-9, "nose {} of {nose}", k.corner.x);
        assert!((k.angle - 2.0 * a).abs() < 1e-6, "angle {}", k.angle.to_degrees());
        assert!((k.nose - 50.0).abs() < 1e-9 && k.pitch.abs() < 1e-9 && k.under_sheer.abs() < 1e-6);
        assert!(k.arms.iter().all(|arm| arm.round < 1e-5));
        // A plank on a flat side leans in by its step over what is left of its width: sin θ = 9 / 75, once the garboard's start has
        // died, to a fifth or less on each of seven.
        let lean = if against == Against::Planking { (9.0_f64 / 75.0).asin() } else { 0.0 };
        assert!(
            k.arms.iter().all(|arm| arm.bevels.iter().all(|b| (b - lean).abs() < 4e-6)),
            "{:?}",
            k.arms[0].bevels
        );
        assert!((k.arms[0].length - 300.0).abs() < 1e-6);
        assert!((k.reach - nose - 300.0 * a.cos()).abs() < 1e-9);
        let tip = k.arms[0].edge.last().unwrap();
        assert!((tip[0] - 300.0 * a.cos()).abs() < 1e-9 && (tip[1] - 25.0 - 300.0 * a.sin()).abs() < 1e-9);
        assert_eq!(k.hollow, [120.0, 0.0]);
        // The inwale butts its arms; on straight walls it is the slant of what is left, 20° off the centreline, 40° between.
        let s = &fitted.strips[0];
        assert_eq!(s.ends[0].on, Meets::Breasthook);
        assert!((s.length - (1500.0 - k.reach) / a.cos()).abs() < 1e-9);
        assert!((s.ends[0].between - 2.0 * a).abs() < 1e-6);
    }
    // Without a breasthook the inwale runs to the stem's side, and is cut 70° off square on its top.
    let inwale = InwaleSpec { stick: stick(), from: None, to: Some(at(1500.0)) };
    let fitted = hull.fitted(InteriorSpec { inwale: Some(inwale), ..InteriorSpec::default() }).unwrap();
    let end = fitted.strips[0].ends[0];
    assert_eq!(end.on, Meets::Post);
    assert!((end.across - (FRAC_PI_2 - a)).abs() < 1e-6 && end.down.abs() < 1e-6, "{end:?}");
    // A rubbing strake at the sheer, nine further out than the land line and as long.
    let rubbing = |land| RubbingSpec { stick: stick(), land };
    let fitted = hull
        .fitted(InteriorSpec { rubbing_strakes: vec![rubbing(None), rubbing(Some(5))], ..InteriorSpec::default() })
        .unwrap();
    let s = &fitted.strips[0];
    assert!((s.length - 2000.0 / a.cos()).abs() < 1e-9, "{}", s.length);
    let normal = hull.strakes[7].rulings[0].normal;
    assert!((s.points[0] - (Point::new(0.0, 5.0, 600.0) + normal * 9.0)).norm() < 1e-6);
    // Over land 5 its top stands its depth up the strake from that one's lower edge.
    let r = &hull.strakes[5].rulings[0];
    assert!((fitted.strips[1].points[0] - (r.lower + r.lower_normal * 9.0 + r.up() * 40.0)).norm() < 1e-6);
}

/// In the trough: between level and the tangent of the circle the angle at the corner is 90° and the side's lean; the side arm
/// is an arc of the circle.
#[test]
fn a_knee_on_a_thwart_follows_the_side() {
    let hull = trough(true);
    let (z, arm) = (400.0, 200.0);
    let asked = InteriorSpec {
        thwarts: vec![thwart(1700.0, z, Against::Timbers)],
        knees: vec![KneeSpec {
            at: KneeAt::Thwart { thwart: 1, aft: 30.0 },
            grown: grown([arm, 180.0], Against::Timbers),
        }],
        ..InteriorSpec::default()
    };
    let k = &hull.fitted(asked).unwrap().knees[0];
    let r = R - MOULDED;
    let lean = ((R - z) / half(r, z)).atan();
    assert!((k.angle - FRAC_PI_2 - lean).abs() < 1.1e-6, "{} of {}", k.angle, FRAC_PI_2 + lean);
    assert!((k.corner.x - 1730.0).abs() < 1e-9 && (k.corner.y - half(r, z)).abs() < 1e-5);
    // Twenty-four chords of 12.5 mm for the arc: each stands 12.5² / 8r off it, 0.03 mm.
    for p in &k.arms[0].edge {
        let (y, z) = (k.corner.y - p[0], z + p[1]);
        assert!((y.hypot(R - z) - r).abs() < 0.03, "{}", y.hypot(R - z));
    }
    assert!((k.arms[0].length - arm).abs() < 1e-6 && k.arms[1].length == 180.0);
    assert!((k.arms[0].round - r * (1.0 - (0.5 * arm / r).cos())).abs() < 0.03, "{}", k.arms[0].round);
    assert!(k.arms[0].bevels.iter().all(|b| b.abs() < 1e-6), "she does not widen");
    // Nowhere thinner than its tip, and its wood is what lies between edges and arc.
    assert!(k.area > 25.0 * (arm + 180.0 - 25.0) && k.area < arm * 180.0);
}

/// A thwart rests where its rising has it: level with it at its middle, and the gaps at its edges are the rising's own slope.
#[test]
fn a_thwart_without_a_height_rests_on_its_rising() {
    let hull = trough(true);
    let mut spec = thwart(2000.0, 0.0, Against::Timbers);
    spec.level = None;
    let asked = |line: &[[f64; 2]]| InteriorSpec {
        risings: vec![rising(line)],
        thwarts: vec![spec.clone()],
        ..InteriorSpec::default()
    };
    // A straight rise of 1 in 50.
    let fitted = hull.fitted(asked(&[[1000.0, 300.0], [3000.0, 340.0]])).unwrap();
    let t = &fitted.thwarts[0];
    assert!((t.top - 340.0).abs() < 1e-6, "320 at its middle, and 20 thick: {}", t.top);
    for (gap, wanted) in t.rests[0].gaps.iter().zip([2.0, 0.0, -2.0]) {
        assert!((gap - wanted).abs() < 1e-9, "{gap} of {wanted}");
    }
    assert!(hull.refused(asked(&[[2100.0, 300.0], [3000.0, 340.0]])).contains("no rising runs under its middle"));
    // Steeper, or another height, and it is told.
    let told = |thwart: ThwartSpec, line: &[[f64; 2]]| {
        let interior = InteriorSpec { risings: vec![rising(line)], thwarts: vec![thwart], ..InteriorSpec::default() };
        hull.all(interior).findings.into_iter().map(|f| f.hint).collect::<String>()
    };
    let level = [[1000.0, 300.0], [3000.0, 300.0]];
    assert_eq!(told(thwart(2000.0, 322.0, Against::Timbers), &level), "");
    assert!(told(thwart(2000.0, 324.0, Against::Timbers), &level).contains("stands over its rising"));
    assert!(told(thwart(2000.0, 316.0, Against::Timbers), &level).contains("lies lower than its rising"));
    assert!(
        told(thwart(2950.0, 320.0, Against::Timbers), &level).contains("no rising runs under the whole of its width")
    );
}

/// A rising of 15 mm bent to 600 where larch takes 115 thicknesses, 1725: told, with how thin its layers must be.
#[test]
fn what_is_bent_too_hard_is_told() {
    let g = 10.0_f64.to_radians();
    let xs: Vec<f64> = (0..=20).map(|i| 50.0 * f64::from(i)).collect();
    let hull = Hull::new(&xs, 8, false, |x| {
        (0..=40)
            .map(|i| {
                let z = 10.0 * f64::from(i);
                Point::new(x, ((600.0 + z * g.tan()).powi(2) - (x - 500.0).powi(2)).sqrt(), z)
            })
            .collect()
    });
    let interior_spec =
        InteriorSpec { risings: vec![rising(&[[100.0, 0.0 + 1.0], [900.0, 1.0]])], ..InteriorSpec::default() };
    let found = hull.all(interior_spec).findings;
    assert_eq!(found.len(), 1, "{found:?}");
    // 600 / 115 is 5.2; steamed it takes 30 thicknesses, 450.
    assert!(found[0].hint.contains("steam it") && found[0].hint.contains("5.3 mm"), "{}", found[0].hint);
}

#[test]
fn what_cannot_stand_is_refused() {
    let mut hull = trough(true);
    let none = InteriorSpec::default;
    let of = |t: ThwartSpec| thwarts(vec![t]);
    let hook = |arm: f64, throat: f64| InteriorSpec {
        breasthooks: vec![BreasthookSpec {
            aft: false,
            grown: Grown { throat, ..grown([arm; 2], Against::Planking) },
        }],
        ..InteriorSpec::default()
    };
    let knees = |at: KneeAt, grown: Grown| InteriorSpec {
        thwarts: vec![thwart(2000.0, 400.0, Against::Timbers)],
        knees: vec![KneeSpec { at, grown }],
        ..InteriorSpec::default()
    };
    let on_thwart = KneeAt::Thwart { thwart: 1, aft: 0.0 };
    let named = ThwartSpec {
        place: Place { station: Some("9".to_owned()), aft: 0.0 },
        ..thwart(0.0, 400.0, Against::Timbers)
    };
    let cases: Vec<(InteriorSpec, &[&str])> = vec![
        (of(thwart(4500.0, 400.0, Against::Timbers)), &["interior.thwarts, item 1", "4400 mm", "0 mm to 4000 mm"]),
        (of(thwart(50.0, 400.0, Against::Timbers)), &["its fore edge", "-50"]),
        (of(thwart(2000.0, 710.0, Against::Timbers)), &["its top", "710 mm", "to 700 mm", "below_sheer"]),
        (of(thwart(2000.0, 15.0, Against::Timbers)), &["its underside", "-5", "height"]),
        (of(thwart(2000.0, 15.0, Against::Planking)), &["its underside", "-5", "height"]),
        (of(named), &["“9”", "at, aft of the first"]),
        (
            InteriorSpec { risings: vec![rising(&[[1000.0, 300.0], [900.0, 300.0]])], ..none() },
            &["interior.risings, item 1.line, item 2", "900 mm", "1000 mm", "from forward"],
        ),
        (
            InteriorSpec { risings: vec![rising(&[[1000.0, 300.0], [3000.0, 800.0]])], ..none() },
            &["line, item 2", "800 mm", "700 mm"],
        ),
        (
            InteriorSpec { rubbing_strakes: vec![RubbingSpec { stick: stick(), land: Some(30) }], ..none() },
            &["interior.rubbing_strakes, item 1", "land 30", "1 to 24"],
        ),
        (hook(200.0, 80.0), &["interior.breasthooks, item 1", "for a stem", "bow transom"]),
        (knees(KneeAt::Quarter { aft: true }, grown([200.0; 2], Against::Timbers)), &["transom", "sternpost"]),
        (
            knees(KneeAt::Thwart { thwart: 2, aft: 0.0 }, grown([200.0; 2], Against::Timbers)),
            &["interior.knees, item 1", "thwart 2", "there are 1"],
        ),
        (
            knees(KneeAt::Thwart { thwart: 1, aft: 150.0 }, grown([200.0; 2], Against::Timbers)),
            &["off its thwart", "2150 mm", "1900 mm to 2100 mm"],
        ),
        (
            knees(on_thwart.clone(), grown([900.0, 200.0], Against::Timbers)),
            &["side_arm", "900 mm", "make it shorter"],
        ),
        (
            knees(on_thwart.clone(), grown([200.0, 900.0], Against::Timbers)),
            &["thwart_arm", "900 mm", "the middle of"],
        ),
        (
            knees(on_thwart.clone(), Grown { throat: 10.0, ..grown([200.0; 2], Against::Timbers) }),
            &["a throat of 10 mm", "is the least"],
        ),
        (
            knees(on_thwart.clone(), Grown { throat: 190.0, ..grown([200.0; 2], Against::Timbers) }),
            &["a throat of 190 mm", "past the straight line"],
        ),
        (
            knees(on_thwart.clone(), Grown { tip: 300.0, ..grown([60.0; 2], Against::Timbers) }),
            &["too short", "300 mm", "tip"],
        ),
        (knees(on_thwart, grown([200.0; 2], Against::Inwale)), &["the inwale", "there is none", "[interior.inwale]"]),
    ];
    let (foot, head) = ([0.0, 0.0], [0.0, 700.0]);
    hull.spec.fore = EndSpec::Transom(Transom { foot, head, radius: None, bow: true, thickness: 20.0, crown: None });
    let (mut wrong, all) = (Vec::new(), cases.len());
    for (asked, words) in cases {
        let said = match hull.fitted(asked) {
            Ok(_) => "nothing is wrong".to_owned(),
            Err(why) => why.to_string(),
        };
        if let Some(word) = words.iter().find(|word| !said.contains(**word)) {
            wrong.push(format!("{word:?} not in: {said}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {all}:\n{}", wrong.len(), wrong.join("\n"));
}

/// Stations by name, and offsets from them.
#[test]
fn places_are_measured_from_stations() {
    let hull = trough(true);
    let square = |name: &str| hull.table.stations.iter().find(|s| s.name == name).map(|s| s.at);
    assert_eq!(square("2"), Some(StationAt::Square(2000.0)));
    for (edge, fore) in [(Edge::Fore, 1950.0), (Edge::Middle, 1850.0), (Edge::Aft, 1750.0)] {
        let place = Place { station: Some(" 2".to_owned()), aft: -50.0 };
        let t = ThwartSpec { place, edge, ..thwart(0.0, 400.0, Against::Timbers) };
        assert_eq!(hull.fitted(thwarts(vec![t])).unwrap().thwarts[0].edges, [fore, fore + 200.0]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the numbers, within what the reader lets through: shapes whose numbers are numbers, or an error; never a panic.
    #[test]
    fn any_numbers_give_shapes_or_an_error(
        x in -500.0f64..4500.0,
        z in -100.0f64..900.0,
        width in 30.0f64..1500.0,
        arms in prop::array::uniform2(20.0f64..2000.0),
        tip in 5.0f64..500.0,
        throat in 5.0f64..500.0,
        thickness in 3.0f64..100.0,
        against in 0usize..3,
        aft in -400.0f64..400.0,
        run in 1.0f64..4000.0,
        rise in -300.0f64..300.0,
    ) {
        let hull = trough(true);
        let against = [Against::Planking, Against::Timbers, Against::Inwale][against];
        let grown = Grown { arms, tip, throat, thickness, against, wood: wood() };
        let on_sides = if against == Against::Inwale { Against::Timbers } else { against };
        let mut t = ThwartSpec { width, thickness, ..thwart(x, z, on_sides) };
        let all = [
            InteriorSpec { risings: vec![rising(&[[x, z], [x + run, z + rise]])], ..InteriorSpec::default() },
            thwarts(vec![t.clone()]),
            InteriorSpec {
                inwale: Some(InwaleSpec { stick: stick(), from: Some(at(x)), to: Some(at(x + run)) }),
                ..InteriorSpec::default()
            },
            InteriorSpec {
                thwarts: vec![{ t.level = Some(Level::Height(400.0)); t.place = at(2000.0); t }],
                knees: vec![KneeSpec { at: KneeAt::Thwart { thwart: 1, aft }, grown }],
                ..InteriorSpec::default()
            },
        ];
        for asked in all {
            match hull.fitted(asked) {
                Ok(fitted) => {
                    let mut numbers: Vec<f64> = fitted.strips.iter().flat_map(|s| [s.length, s.sny, s.board_width]).collect();
                    numbers.extend(fitted.thwarts.iter().flat_map(|t| t.end.iter().flat_map(|e| [e.top, e.under, e.bevel])));
                    numbers.extend(fitted.knees.iter().flat_map(|k| [k.area, k.angle, k.board[0], k.board[1]]));
                    prop_assert!(numbers.iter().all(|n| n.is_finite()));
                }
                Err(why) => prop_assert!(why.to_string().contains("interior.")),
            }
        }
    }
}
