//! Timbers on a tub, whose girth, bend and twist are known, and in a boat.

use crate::common;
use crate::plans::texts;
use boat::folder::{self, BoatTexts};
use boat::geom::Point;
use boat::lines::Skin;
use boat::lining::Lands;
use boat::moulds::Mould;
use boat::plan;
use boat::spec::{Bent, Stop, StopAt, TimberSpec};
use boat::timbers::{Timber, TimberError, cut_list, goes, layers, least_radius, steaming, timbers};
use std::f64::consts::FRAC_PI_2;

const R: f64 = 400.0;

/// A tub: half a cylinder, lands at even shares of its girth.
fn tub(strakes: usize) -> (Skin, Lands) {
    let section = |x: f64| {
        let at = |a: f64| Point::new(x, R * a.sin(), R - R * a.cos());
        (0..=24).map(|i| at(FRAC_PI_2 * f64::from(i) / 24.0)).collect()
    };
    let (skin, _) = common::skin(&[0.0, 1000.0, 2000.0, 3000.0, 4000.0], section);
    let shares: Vec<f64> = (0..=strakes).map(|k| k as f64 / strakes as f64).collect();
    let lands = common::lands(&skin, &shares);
    (skin, lands)
}

fn spec() -> TimberSpec {
    TimberSpec { spacing: 500.0, ..common::spec(10.0, 20.0).timbers }
}

fn stand(lands: &Lands, moulds: &[Mould], spec: &TimberSpec) -> Result<Vec<Timber>, TimberError> {
    timbers(lands, moulds, spec, 0.0, 4000.0).map(|(t, _)| t)
}

/// A quarter of the circle, bent to its radius, not twisted.
#[test]
fn a_square_timber_on_a_tub_is_its_arc() {
    let all = stand(&tub(12).1, &[], &spec()).unwrap();
    assert_eq!(all.iter().map(|t| t.x).collect::<Vec<_>>(), [500.0, 1000.0, 1500.0, 2000.0, 2500.0, 3000.0, 3500.0]);
    for t in &all {
        assert!((t.girth - R * FRAC_PI_2).abs() < 1.5e-4, "girth {}", t.girth);
        // The fair curve through thirteen marks: 0.2 % off at its ends, on the tight side.
        assert!((t.bend_radius_min - R).abs() < 0.0025 * R, "radius {}", t.bend_radius_min);
        assert!(t.twist < 1e-6 && t.rise.abs() < 3e-4, "twist {}, rise {}", t.twist, t.rise);
        assert_eq!((t.pieces, t.head, t.stopped), (1, 12, false));
        assert!((t.length - 2.0 * t.girth - 150.0).abs() < 1e-9);
    }
}

/// A plane through the axis of a cylinder off square by c cuts it in an ellipse with half-axes R / cos c and R: a quarter of
/// it is R / cos c E(sin² c) [A&S64 table 17.1], its least radius, at the end of the long axis, R cos c. There the
/// cylinder's normal stands c out of the plane, and at the keel in it: it twists by c.
#[test]
fn a_canted_timber_on_a_tub_is_an_ellipse() {
    for (m, e) in [(0.10_f64, 1.530757637), (0.25, 1.467462209)] {
        let c = m.sqrt().asin();
        let spec = TimberSpec { cant_fore: vec![c], cant_aft: vec![c], at: vec![1000.0, 2000.0, 3000.0], ..spec() };
        let all = stand(&tub(24).1, &[], &spec).unwrap();
        for (t, lean) in [(&all[0], -c), (&all[2], c)] {
            assert!((t.cant - lean).abs() < 1e-12);
            assert!((t.girth - R / c.cos() * e).abs() < 1e-5, "m {m}: girth {}", t.girth);
            assert!((t.bend_radius_min / (R * c.cos()) - 1.0).abs() < 0.001, "m {m}: radius {}", t.bend_radius_min);
            assert!((t.twist - c).abs() < 7e-6, "m {m}: twist {} of {c}", t.twist);
            assert_eq!(t.pieces, 2);
            assert!((t.points[24].x - (t.x + R * lean.tan())).abs() < 1e-9);
        }
        assert_eq!(all[1].cant, 0.0);
    }
}

/// Stopped at strake 6 of 12 it is half the arc; at a height, at the first land there or over it.
#[test]
fn a_stopped_timber_ends_at_its_land() {
    // Land 4 of 12 stands at 30°: R (1 - cos 30°) = 53.59 high; land 5 at 37.5°, 82.66.
    let stopped = vec![
        Stop { timber: 2, at: StopAt::Strake(6) },
        Stop { timber: 4, at: StopAt::Height(53.0) },
        Stop { timber: 6, at: StopAt::Height(54.0) },
    ];
    let all = stand(&tub(12).1, &[], &TimberSpec { stopped, ..spec() }).unwrap();
    for (i, head) in [(1, 6), (3, 4), (5, 5), (0, 12)] {
        let t = &all[i];
        assert_eq!((t.head, t.stopped, t.points.len()), (head, head < 12, head + 1));
        let arc = R * FRAC_PI_2 * head as f64 / 12.0;
        assert!((t.girth - arc).abs() < 5e-4, "timber {}: {} of {arc}", t.n, t.girth);
    }
}

/// By hand: 120 / 12 is 10; in two layers of 6 the inner one bends to 120 − 6 = 114, over 72; half an inch steams half an hour.
#[test]
fn too_tight_a_bend_is_thinned_or_layered() {
    let spec = TimberSpec { moulded: 12.0, steamed_radius: 12.0, ..spec() };
    assert!((goes(120.0, &spec) - 10.0).abs() < 1e-12);
    let steamed = |r| layers(r, &spec, Bent::Steamed);
    assert_eq!([144.0, 143.9, 120.0, 60.0].map(steamed), [Some(1), Some(2), Some(2), Some(3)]);
    assert_eq!(steamed(11.0), None);
    assert!((steaming(&TimberSpec { moulded: 12.7, sided: 19.0, ..spec }) - 30.0).abs() < 1e-9);
    // The tub bends to 400: 40 thick asks for 480.
    let (_, findings) =
        timbers(&tub(12).1, &[], &TimberSpec { moulded: 40.0, ..spec_of(40.0) }, 0.0, 4000.0).unwrap();
    assert_eq!(findings.len(), 1);
    assert!(
        findings[0].hint.contains("83 in the hundred") && findings[0].hint.contains("2 steamed layers"),
        "{findings:?}"
    );
    let (_, findings) = timbers(&tub(12).1, &[], &spec_of(33.0), 0.0, 4000.0).unwrap();
    assert_eq!(findings, []);
}

/// By hand: five layers of 2.4, cold to 60 thicknesses, bend the innermost to 144 and the outer face to 144 + 9.6; steamed to 12
/// thicknesses, to 28.8 + 9.6. What goes round 100 in as many layers is 12 · 100 / 153.6 = 7.8125.
#[test]
fn a_laminated_timber_bends_as_its_innermost_layer() {
    let cold = TimberSpec { moulded: 12.0, layers: 5, bent: Bent::Cold, ..spec() };
    assert!((least_radius(&cold) - 153.6).abs() < 1e-12 && (goes(100.0, &cold) - 7.8125).abs() < 1e-12);
    let steamed = TimberSpec { bent: Bent::Steamed, ..cold.clone() };
    assert!((least_radius(&steamed) - 38.4).abs() < 1e-12);
    // Of n layers the innermost asks for 60 · 12 / n + 12 (n − 1) / n ≤ 153.6, so n ≥ 708 / 141.6 = 5.
    assert_eq!([153.6, 153.5].map(|r| layers(r, &cold, Bent::Cold)), [Some(5), Some(6)]);
    assert_eq!(steaming(&cold), 0.0);
    assert!((steaming(&steamed) - 60.0 * 2.4 / 25.4).abs() < 1e-9);
    // The tub's radius is 400: 40 thick in one piece, cold, asks for 2400; in 20 layers, 120 + 38.
    let bent = |layers| TimberSpec { moulded: 40.0, layers, bent: Bent::Cold, ..spec() };
    let findings = |layers| timbers(&tub(12).1, &[], &bent(layers), 0.0, 4000.0).unwrap().1;
    assert_eq!(findings(20), []);
    let one = findings(1);
    assert!(one.len() == 1 && one[0].hint.contains("cold") && one[0].hint.contains("2 steamed layers"), "{one:?}");
    // It is the cold radius that its wood is judged by, and to be said of it.
    assert!(one[0].hint.contains("(timbers.cold_radius)") && !one[0].hint.contains("steamed_radius"), "{one:?}");
}

/// The ellipse of a timber canted by 30°, half-axes a = R / cos 30° and R: at the angle p from the keel its radius is
/// (a² cos² p + R² sin² p)^1.5 / (a R), least, R² / a, at the head. 33 thick it bears 12 · 33 = 396: it is thinned from where the
/// radius is that to its head, where R² / (12 a) = 28.87 goes round.
#[test]
fn a_canted_timber_on_a_tub_is_thinned_where_it_bends() {
    let c = 30.0_f64.to_radians();
    let (a, b) = (R / c.cos(), R);
    let spec = TimberSpec { cant_fore: vec![c], at: vec![1000.0, 2000.0, 3000.0], moulded: 33.0, ..spec() };
    let all = stand(&tub(24).1, &[], &spec).unwrap();
    let speed = |p: f64| (a * p.cos()).hypot(b * p.sin());
    let steps = 20_000;
    let (mut along, mut from) = (0.0, None);
    for i in 0..steps {
        let p = FRAC_PI_2 * (f64::from(i) + 0.5) / f64::from(steps);
        if speed(p).powi(3) / (a * b) < 396.0 && from.is_none() {
            from = Some(along);
        }
        along += speed(p) * FRAC_PI_2 / f64::from(steps);
    }
    let thin = all[0].thin.expect("a stretch too tight");
    // To the nearest step of a hundredth outside it; the fair curve bends 0.5 % harder at its very end.
    let step = along / 100.0;
    let from = from.unwrap();
    assert!((-0.01..step * 2.0).contains(&(from - thin.from)), "from {} of {from}", thin.from);
    assert!((thin.to - along).abs() < 1e-5 && along - thin.thinnest < 3.0 * step);
    assert!((thin.thickness / (b * b / a / 12.0) - 1.0).abs() < 0.001, "{} thick", thin.thickness);
    // Square it bends to 400, and the fair curve 0.2 % harder.
    assert_eq!(all[1].thin, None);
}

fn spec_of(moulded: f64) -> TimberSpec {
    TimberSpec { moulded, ..spec() }
}

/// Middle first, then either side; one in a mould after all the others.
#[test]
fn they_go_in_from_the_middle_and_those_in_moulds_last() {
    let order = |moulds: &[Mould]| {
        let mut all = stand(&tub(12).1, moulds, &spec()).unwrap();
        all.sort_by_key(|t| t.turn);
        all.iter().map(|t| t.n).collect::<Vec<_>>()
    };
    assert_eq!(order(&[]), [4, 3, 5, 2, 6, 1, 7]);
    let mould = Mould { name: "2".into(), section: 2, fore: 2000.0, aft: 2019.0, wood_abaft: true };
    assert_eq!(order(&[mould]), [3, 5, 2, 6, 1, 7, 4]);
}

/// 2 × 628.3 and 150 is 1406.6: 1450 in steps of 50; seven of them, one more for one in ten.
#[test]
fn the_cut_list_by_hand() {
    let spec = spec();
    let list = cut_list(&stand(&tub(12).1, &[], &spec).unwrap(), &spec, 50.0);
    assert_eq!(list.of.iter().map(|l| (l.count, l.length)).collect::<Vec<_>>(), [(7, 1450.0)]);
    assert_eq!((list.extra, list.total), (1, 8.0 * 1450.0));
    // Halves over no rise at all: stopped ones short, two of each.
    let spec = TimberSpec { stopped: vec![Stop { timber: 1, at: StopAt::Strake(6) }], ..spec };
    let list = cut_list(&stand(&tub(12).1, &[], &spec).unwrap(), &spec, 50.0);
    // 628.3 and 150 is 778.3.
    assert_eq!(list.of.iter().map(|l| (l.count, l.length)).collect::<Vec<_>>(), [(6, 1450.0), (1, 800.0)]);
}

#[test]
fn what_cannot_stand_is_refused() {
    let c = 30.0_f64.to_radians();
    let stop = |timber, at| vec![Stop { timber, at }];
    let cases: [(TimberSpec, &[&str]); 9] = [
        (TimberSpec { at: vec![500.0, 4100.0], ..spec() }, &["timbers.at, item 2", "4100 mm", "0 mm to 4000 mm"]),
        (TimberSpec { at: vec![-1.0], ..spec() }, &["timbers.at, item 1", "off the keel"]),
        (TimberSpec { cant_fore: vec![c; 8], ..spec() }, &["timbers.cant_fore", "8 timbers", "there are 7"]),
        (TimberSpec { cant_fore: vec![c; 4], cant_aft: vec![c; 4], ..spec() }, &["8 timbers", "there are 7"]),
        // Heads 400 tan 30° = 231 forward of a heel at 100.
        (TimberSpec { at: vec![100.0], cant_fore: vec![c], ..spec() }, &["timber 1", "30.0°", "cant it less"]),
        // The heads of timber 2 come 231 forward, those of timber 1 stand square.
        (TimberSpec { at: vec![500.0, 700.0], cant_fore: vec![0.0, c], ..spec() }, &["timbers 1 and 2", "one place"]),
        (TimberSpec { stopped: stop(8, StopAt::Strake(4)), ..spec() }, &["timbers.stopped, item 1", "1 to 7"]),
        (TimberSpec { stopped: stop(2, StopAt::Strake(12)), ..spec() }, &["strake 12", "2 to 11"]),
        (TimberSpec { stopped: stop(2, StopAt::Height(399.0)), ..spec() }, &["height", "out of range"]),
    ];
    for (spec, words) in cases {
        let said = stand(&tub(12).1, &[], &spec).unwrap_err().to_string();
        for word in words {
            assert!(said.contains(word), "{word:?} not in: {said}");
        }
    }
}

/// In a boat: rivets through canted timbers stand in their planes, and above a stopped one's head none goes through it while
/// the land has as many rivets as ever.
#[test]
fn rivets_follow_canted_and_stopped_timbers() {
    let planned = |more: &str| {
        let texts = texts("lapwing");
        let toml = texts.toml.replace("[timbers]", &format!("[timbers]\n{more}"));
        plan::plan(&folder::read(&BoatTexts { toml, ..texts }).unwrap()).unwrap()
    };
    let cants = "cant_fore = [12, 6]\ncant_aft = [8]\n";
    let through_all = planned(cants);
    let p = planned(&format!("{cants}stopped = [{{ timber = 5, strake = 4 }}]"));
    assert!(p.timbers[0].cant < 0.0 && p.timbers[p.timbers.len() - 1].cant > 0.0);
    assert_eq!((p.timbers[4].head, p.timbers[4].stopped), (4, true));
    let mut through = 0;
    for r in &p.rivets {
        let Some(i) = r.timber else { continue };
        let t = &p.timbers[i];
        assert!(r.land <= t.head, "land {} over the head of timber {}", r.land, t.n);
        assert!((r.at.x - t.slope() * r.at.y - t.x).abs() < 1e-9, "land {} timber {}", r.land, t.n);
        through += 1;
    }
    let before = through_all.rivets.iter().filter(|r| r.timber.is_some()).count();
    // Lands 5, 6 and 7 of 8 strakes go without timber 5.
    assert_eq!(through, before - 3);
    let on = |p: &plan::Plan, land| p.rivets.iter().filter(|r| r.land == land).count();
    assert_eq!(on(&p, 6), on(&through_all, 6));
    let heads = p.rest.iter().find(|r| r.what == "timber heads to the sheer strake").unwrap();
    assert_eq!(heads.count as usize, 2 * (p.timbers.len() - 1));
}
