//! Where she floats, tried on shapes whose answers are known, on published examples, and on our own boats by another road.
//!
//! Box, wedge, cylinder and the righting arm of a wall-sided body are closed forms, derived here; the parabolic hull's are in
//! `WigleyForm` in SOURCES.md.

use boat::flotation::{
    Attitude, FRESH, FlotationError, Hull, Load, SEA, Solid, afloat, floating, righting, righting_arm,
};
use boat::geom::Point;
use boat::load::{Known, Measures, Moved, allowed, horsepower, measures, motor, persons};
use boat::paper::book;
use std::fmt::Write as _;
use std::path::Path;

/// Relative, on every closed form.
const CLOSE: f64 = 1e-6;

fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() <= CLOSE * wanted.abs().max(1e-9), "{what}: {found}, not {wanted}");
}

/// The closed face over a grid of points of the starboard side, row by row from the bow, from the keel up: its mirror, a deck over
/// the top, and its ends shut.
fn hull(grid: &[Vec<Point>]) -> Hull {
    let mut all: Vec<[Point; 3]> = Vec::new();
    let mut quad = |a: Point, b: Point, c: Point, d: Point| {
        let over = |p: Point| Point::new(p.x, -p.y, p.z);
        for t in [[a, b, c], [a, c, d]] {
            if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
                all.extend([t, [over(t[0]), over(t[2]), over(t[1])]]);
            }
        }
    };
    let middle = |p: &Point| Point::new(p.x, 0.0, p.z);
    let rounded = |row: &[Point]| -> Vec<Point> {
        let ends = [row.first(), row.last()].map(|p| middle(p.unwrap()));
        [ends[0]].into_iter().chain(row.iter().copied()).chain([ends[1]]).collect()
    };
    let rows: Vec<Vec<Point>> = grid.iter().map(|r| rounded(r)).collect();
    for w in rows.windows(2) {
        for k in 1..w[0].len() {
            quad(w[0][k - 1], w[0][k], w[1][k], w[1][k - 1]);
        }
    }
    for (row, aft) in [(&rows[0], false), (rows.last().unwrap(), true)] {
        for w in row.windows(2) {
            let [p, q] = [middle(&w[0]), middle(&w[1])];
            if aft { quad(p, w[0], w[1], q) } else { quad(w[0], p, q, w[1]) }
        }
    }
    let sheer: Vec<Point> = grid.iter().map(|r| *r.last().unwrap()).collect();
    let stations = vec![("middle".to_owned(), 0.5 * (sheer[0].x + sheer.last().unwrap().x))];
    let hull = Hull { solid: Solid::of(&all, 0), sheer, stations };
    assert_eq!(hull.solid.gaps(), 0, "the test's own body is closed");
    hull
}

/// A body of one section all along, `section` from the keel up, `length` long from x = 0.
fn prism(section: &[[f64; 2]], length: f64) -> Hull {
    let row = |x: f64| section.iter().map(|[y, z]| Point::new(x, *y, *z)).collect();
    hull(&[row(0.0), row(length)])
}

fn load(mass: f64, x: f64, y: f64, z: f64) -> Load {
    Load { mass, centre: Point::new(x, y, z) }
}

/// 4 m by 1.5 m by 1 m, 1500 kg in fresh water: by hand she draws 250 mm; BM = B²/12T, and so on.
#[test]
fn a_box_floats_as_by_formula() {
    let (l, b, t, g) = (4000.0, 1500.0, 250.0, 400.0);
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], l);
    let f = floating(&body, &load(1500.0, 2000.0, 0.0, g), FRESH).unwrap();
    near(f.draught, t, "draught");
    near(f.at.water, t, "water");
    near(f.volume, l * b * t, "volume");
    near(f.buoyancy.z, t / 2.0, "centre of buoyancy");
    near(f.buoyancy.x, l / 2.0, "its place");
    near(f.waterplane, l * b, "waterplane");
    near(f.flotation.x, l / 2.0, "its middle");
    near(f.inertia[0], l * b.powi(3) / 12.0, "inertia across");
    near(f.inertia[1], b * l.powi(3) / 12.0, "inertia along");
    near(f.wetted, l * b + 2.0 * (l + b) * t, "wetted");
    near(f.block(), 1.0, "block");
    near(f.prismatic(), 1.0, "prismatic");
    near(f.waterplane_share(), 1.0, "waterplane's share");
    near(f.metacentres[0], t / 2.0 + b * b / (12.0 * t) - g, "metacentre across");
    near(f.metacentres[1], t / 2.0 + l * l / (12.0 * t) - g, "metacentre along");
    near(f.to_sink(10.0), 60.0, "to sink a centimetre: 6 m² of 1000 kg/m³");
    near(f.to_trim(10.0), 1500.0 * f.metacentres[1] * 1e-3 * 0.01 / 4.0, "to trim a centimetre");
    near(f.lowest, 750.0, "freeboard");
    near(f.freeboards[0].sides[1], 750.0, "at the station");
    assert!(f.stiff && f.at.trim.abs() < 1e-9 && f.at.heel == 0.0);
}

/// In sea water she draws less by the densities' ratio.
#[test]
fn sea_water_carries_more() {
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], 4000.0);
    let at = |density| floating(&body, &load(1500.0, 2000.0, 0.0, 300.0), density).unwrap().draught;
    near(at(SEA), at(FRESH) * 1000.0 / 1025.0, "draught at sea");
}

/// A weight 20 mm aft of the middle trims a box: along her, tan θ (GM + ½ BM tan² θ) is the shift as long as the bottom stays under
/// and the deck dry (the wall-sided formula, exact for a box).
#[test]
fn a_box_trims_and_heels_as_by_the_wall_sided_formula() {
    let (l, b, t, g) = (4000.0, 1500.0, 250.0, 400.0);
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], l);
    let out = 20.0;
    for (x, y, breadth) in [(l / 2.0 + out, 0.0, l), (l / 2.0, out, b)] {
        let f = floating(&body, &load(1500.0, x, y, g), FRESH).unwrap();
        let lean = if y == 0.0 { f.at.trim } else { f.at.heel };
        let bm = breadth * breadth / (12.0 * t);
        let gm = t / 2.0 + bm - g;
        near(lean.tan() * (gm + 0.5 * bm * lean.tan().powi(2)), out, "shift");
        assert!(lean > 0.0 && f.stiff);
    }
    let port = floating(&body, &load(1500.0, l / 2.0, -out, g), FRESH).unwrap();
    assert!(port.at.heel < 0.0);
    assert!(port.freeboards[0].sides[0] > port.freeboards[0].sides[1], "the port side is down");
}

/// GZ = sin φ (GM + ½ BM tan² φ) until an edge goes under or comes out: the wall-sided formula, exact for a box.
#[test]
fn a_box_rights_herself_as_by_the_wall_sided_formula() {
    let (b, t, g) = (1500.0, 250.0, 400.0);
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], 4000.0);
    let curve = righting(&body, &load(1500.0, 2000.0, 0.0, g), FRESH).unwrap();
    assert_eq!(curve.arms.len(), 46);
    let bm = b * b / (12.0 * t);
    let gm = t / 2.0 + bm - g;
    // Her bottom comes out at tan φ = 2T/B.
    let comes_out = (2.0 * t / b).atan();
    let held: Vec<_> = curve.arms.iter().filter(|a| a.heel > 0.0 && a.heel < comes_out).collect();
    assert!(held.len() > 8);
    for a in held {
        near(a.arm, a.heel.sin() * (gm + 0.5 * bm * a.heel.tan().powi(2)), "arm");
        near(a.freeboard, 750.0 * a.heel.cos() - 750.0 * a.heel.sin(), "freeboard");
    }
    // Past that a triangle of water b' wide and b' tan φ deep is left: ½ b'² tan φ = B T. Its corner goes under when the side
    // she has is as long as it is deep: b' tan φ = D.
    let d: f64 = 1000.0;
    let under = (d * d / (2.0 * b * t)).atan();
    near(curve.under.unwrap().0, under, "the sheer under");
    // On her side she is a box D broad: the water's centre stands at half of that over the bottom.
    let side = curve.arms.last().unwrap();
    near(side.arm, d / 2.0 - g, "arm at 90 degrees");
}

/// A wedge, 90 degrees at the keel: T² = mass / (ρ L), centre ⅔ T up, breadth 2 T.
#[test]
fn a_wedge_floats_as_by_formula() {
    let body = prism(&[[0.0, 0.0], [800.0, 800.0]], 3000.0);
    let t: f64 = 500.0;
    let f = floating(&body, &load(t * t * 3000.0 * 1e-6, 1500.0, 0.0, 300.0), FRESH).unwrap();
    near(f.draught, t, "draught");
    near(f.buoyancy.z, 2.0 * t / 3.0, "centre of buoyancy");
    near(f.breadth, 2.0 * t, "breadth");
    near(f.block(), 0.5, "block");
    near(f.inertia[0], 3000.0 * (2.0 * t).powi(3) / 12.0, "inertia");
    near(f.wetted, 2.0 * t * 2f64.sqrt() * 3000.0 + 2.0 * t * t, "wetted");
    near(f.metacentres[0], 2.0 * t / 3.0 + 2.0 * t / 3.0 - 300.0, "metacentre");
}

/// A round body floats half under with a weight of half her volume; her metacentre is her axis, so the arm is its height over
/// the centre of her weight times sin φ at every heel. Her section has 4000 sides, for 1e-6.
#[test]
fn a_cylinder_floats_as_by_formula() {
    let (r, n): (f64, i32) = (500.0, 2000);
    let section: Vec<[f64; 2]> = (0..=n)
        .map(|i| std::f64::consts::PI * f64::from(i) / f64::from(n))
        .map(|a| [r * a.sin(), r - r * a.cos()])
        .collect();
    let body = prism(&section, 2000.0);
    let half = std::f64::consts::PI * r * r * 2000.0 / 2.0 * 1e-6;
    let f = floating(&body, &load(half, 1000.0, 0.0, 300.0), FRESH).unwrap();
    assert!((f.draught - r).abs() < 1e-3, "{}", f.draught);
    near(f.breadth, 2.0 * r, "breadth");
    near(f.buoyancy.z, r - 4.0 * r / (3.0 * std::f64::consts::PI), "centre of buoyancy");
    near(f.metacentres[0], r - 300.0, "metacentre");
    near(f.prismatic(), 1.0, "prismatic");
    let curve = righting(&body, &load(half, 1000.0, 0.0, 300.0), FRESH).unwrap();
    for a in &curve.arms[1..] {
        near(a.arm, 200.0 * a.heel.sin(), "arm");
    }
}

/// y = (B/2)(1 − (2x/L)²)(1 − (z/T)²) under water, wall-sided over it, in `n` by `n` faces; z up from the keel.
fn wigley(l: f64, b: f64, t: f64, n: i32) -> Hull {
    let grid = (0..=n).map(|i| {
        let x = l * (f64::from(i) / f64::from(n) - 0.5);
        let half = 0.5 * b * (1.0 - (2.0 * x / l).powi(2));
        let under = (0..=n).map(|k| {
            let z = t * f64::from(k) / f64::from(n);
            Point::new(x, half * (1.0 - (1.0 - z / t).powi(2)), z)
        });
        under.chain([Point::new(x, half, 1.4 * t)]).collect::<Vec<_>>()
    });
    hull(&grid.collect::<Vec<_>>())
}

/// Flat faces inside a round hull are short of it by a share that falls with their size squared; from two sizes the limit is
/// found. L = 10 m, B = 1 m, T = 0.625 m: the numbers of `WigleyForm`.
#[test]
fn the_parabolic_hull_comes_out_as_by_formula() {
    let (l, b, t) = (10_000.0, 1000.0, 625.0);
    let at = Attitude { water: t, ..Attitude::default() };
    let measured = |n| {
        let body = wigley(l, b, t, n);
        let u = body.solid.under(&at);
        [u.volume, u.area, u.moment.z / u.volume + t, u.second[2], u.second[0]]
    };
    let (coarse, fine) = (measured(60), measured(120));
    let wanted =
        [4.0 / 9.0 * l * b * t, 2.0 / 3.0 * l * b, 5.0 / 8.0 * t, 4.0 / 105.0 * l * b.powi(3), l.powi(3) * b / 30.0];
    for (i, wanted) in wanted.into_iter().enumerate() {
        near((4.0 * fine[i] - coarse[i]) / 3.0, wanted, ["volume", "waterplane", "KB", "IT", "IL"][i]);
        let [far, nearer] = [coarse[i], fine[i]].map(|found| (found / wanted - 1.0).abs());
        assert!(far < 1e-3 && nearer < 0.3 * far, "{i}: {far} {nearer}");
    }
}

/// The same hull put afloat under her displacement: she lies at her waterline, and her metacentres are the formula's.
#[test]
fn the_parabolic_hull_finds_her_waterline() {
    let (l, b, t) = (10_000.0, 1000.0, 625.0);
    let measured = |n| {
        let body = wigley(l, b, t, n);
        let f = floating(&body, &load(4.0 / 9.0 * l * b * t * 1e-9 * SEA, 0.0, 0.0, 500.0), SEA).unwrap();
        [
            f.at.water,
            f.metacentres[0] + 500.0 - f.buoyancy.z,
            f.metacentres[1] + 500.0 - f.buoyancy.z,
            f.block(),
            f.prismatic(),
        ]
    };
    let (coarse, fine) = (measured(60), measured(120));
    let wanted = [t, 3.0 / 35.0 * b * b / t, 3.0 / 40.0 * l * l / t, 4.0 / 9.0, 2.0 / 3.0];
    for (i, wanted) in wanted.into_iter().enumerate() {
        let found = (4.0 * fine[i] - coarse[i]) / 3.0;
        // The faces over the water are wall-sided and those under it not: where they meet the fall with size squared is not clean.
        assert!((found / wanted - 1.0).abs() < 2e-5, "{i}: {found} {wanted}");
    }
}

/// However she lies, what is under water and what is over it make up the whole.
#[test]
fn what_is_under_and_what_is_over_is_all_of_her() {
    let body = wigley(3000.0, 1200.0, 300.0, 12);
    let (volume, middle) = body.solid.whole();
    for i in 0..40 {
        let turn = f64::from(i);
        let at = Attitude { water: 150.0 + 3.0 * turn, trim: 0.3 * turn.sin(), heel: 0.37 * turn };
        let upside = Attitude { water: -at.water, trim: -at.trim, heel: at.heel + std::f64::consts::PI };
        // The same plane from its other side.
        let flip = at.axes()[2] + upside.axes()[2];
        assert!(flip.norm() < 1e-12);
        let (under, over) = (body.solid.under(&at), body.solid.under(&upside));
        near(under.volume + over.volume, volume, "volume");
        let both = (under.centre(&at).coords * under.volume + over.centre(&upside).coords * over.volume) / volume;
        assert!((both - middle.coords).norm() < 1e-6, "{both}");
        assert!((under.area - over.area).abs() < 1e-6, "waterplane: {} {}", under.area, over.area);
    }
}

/// Found by the slow road: the weight is lowered a hair, she is heeled a hair, and the moment measured.
#[test]
fn the_metacentre_is_the_slope_of_the_righting_arm() {
    let body = wigley(3000.0, 1200.0, 300.0, 24);
    let heavy = load(350.0, 0.0, 0.0, 250.0);
    let f = floating(&body, &heavy, FRESH).unwrap();
    let hair = 1e-4;
    let heeled = boat::flotation::held(&body.solid, &heavy, FRESH, Attitude { heel: hair, ..f.at }).unwrap();
    let slope = righting_arm(&heeled, &heavy) / hair;
    assert!((slope - f.metacentres[0]).abs() < 1e-3 * f.metacentres[0], "{slope} {}", f.metacentres[0]);
}

/// A top-heavy box lies upright only on paper, and is said not to stay; her weight a little to one side, she lies over.
#[test]
fn a_top_heavy_box_does_not_stay_upright() {
    let body = prism(&[[300.0, 0.0], [300.0, 1000.0]], 4000.0);
    let f = floating(&body, &load(1200.0, 2000.0, 0.0, 600.0), FRESH).unwrap();
    assert!(!f.stiff && f.metacentres[0] < 0.0);
    let over = afloat(&body.solid, &load(1200.0, 2000.0, 1.0, 600.0), FRESH).unwrap();
    assert!(over.stiff && over.at.heel > 0.3, "{:?}", over.at);
    assert!(righting_arm(&over, &load(1200.0, 2000.0, 1.0, 600.0)).abs() < 1e-5);
}

#[test]
fn what_cannot_float_is_named_with_what_to_do() {
    let body = prism(&[[750.0, 0.0], [750.0, 1000.0]], 4000.0);
    let said = |mass, x, y| floating(&body, &load(mass, x, y, 300.0), FRESH).unwrap_err().to_string();
    let heavy = said(6001.0, 2000.0, 0.0);
    assert!(heavy.contains("6001 kg") && heavy.contains("6000 kg") && heavy.contains("take loads out"), "{heavy}");
    let aft = said(500.0, 4100.0, 0.0);
    assert!(aft.contains("4100 mm aft") && aft.contains("look at station"), "{aft}");
    assert!(said(500.0, 2000.0, 800.0).contains("800 mm to starboard"));
    for mass in [0.0, -3.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            floating(&body, &load(mass, 2000.0, 0.0, 300.0), FRESH),
            Err(FlotationError::NoWeight { .. })
        ));
    }
    let empty = Hull { solid: Solid::default(), sheer: Vec::new(), stations: Vec::new() };
    assert_eq!(floating(&empty, &load(5.0, 0.0, 0.0, 0.0), FRESH), Err(FlotationError::NoBoat));
    // All of it to one side: she goes over, or lies on her side, but nothing breaks.
    let _ = floating(&body, &load(5900.0, 3900.0, 700.0, 5000.0), FRESH);
    let _ = righting(&body, &load(5900.0, 3900.0, 700.0, 5000.0), FRESH);
}

/// Our own boats: closed, floating light where a boat of her size floats, and alike to port and starboard.
#[test]
fn our_own_boats_are_closed_and_float() {
    for name in ["corncrake", "lapwing", "sandgrouse"] {
        let plan = super::plans::planned(name);
        let hull = Hull::of(&plan.strakes, &plan.sections, &plan.table, &plan.spec);
        assert_eq!(hull.solid.gaps(), 0, "{name}");
        let (volume, middle) = hull.solid.whole();
        assert!(volume > 0.0 && middle.y.abs() < 1e-6, "{name}: {volume} {middle}");
        let heavy = Load { mass: 200.0, centre: Point::new(middle.x, 0.0, middle.z) };
        let f = floating(&hull, &heavy, FRESH).unwrap();
        assert!(f.stiff && f.lowest > 100.0 && f.draught > 50.0, "{name}: {f:?}");
        near(f.volume, 200.0 * 1e6, "displacement");
        let curve = righting(&hull, &heavy, FRESH).unwrap();
        assert_eq!(curve.arms.len(), 46, "{name}");
        let (under, at) = curve.under.unwrap();
        assert!((10.0..80.0).contains(&under.to_degrees()) && at.y > 0.0, "{name}: {under} {at}");
        // To port the same.
        for heel in [0.1, 0.4] {
            let arm = |heel| {
                let start = Attitude { heel, ..f.at };
                let found = boat::flotation::held(&hull.solid, &heavy, FRESH, start).unwrap();
                righting_arm(&found, &heavy)
            };
            near(arm(heel), -arm(-heel), "arm to port");
        }
    }
}

/// `StabilityMasters`, chapter 10: a ship of 120 m with these half-ordinates from forward has by Simpson's first rule a waterplane
/// of 1207 m² and 12.37 t to the centimetre in the sea. Here they are half-breadths of a wall-sided body whose sides are
/// Simpson's own parabolas, each pair of spaces in 200 faces.
#[test]
fn a_published_waterplane_comes_out() {
    let half = [0.0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1];
    let space = 20_000.0;
    let mut grid = Vec::new();
    for (k, h) in half.windows(3).step_by(2).enumerate() {
        for i in 0..=200 {
            let s = f64::from(i) / 100.0 - 1.0;
            let y = h[1] + 0.5 * s * (h[2] - h[0]) + 0.5 * s * s * (h[2] - 2.0 * h[1] + h[0]);
            if i > 0 || k == 0 {
                let x = space * (2.0 * k as f64 + 1.0 + s);
                grid.push(vec![Point::new(x, 1000.0 * y, 0.0), Point::new(x, 1000.0 * y, 10_000.0)]);
            }
        }
    }
    let body = hull(&grid);
    let at = Attitude { water: 5000.0, ..Attitude::default() };
    let u = body.solid.under(&at);
    let middle = u.centre(&at);
    let f = floating(&body, &load(u.volume * 1e-9 * SEA, middle.x, 0.0, 2000.0), SEA).unwrap();
    let area = f.waterplane * 1e-6;
    assert!((area - 20.0 / 3.0 * 90.5 * 2.0).abs() < 0.05 && (area - 1207.0).abs() < 0.5, "{area}");
    let tonnes = f.to_sink(10.0) * 1e-3;
    assert!((tonnes - 12.37).abs() < 0.005, "{tonnes}");
}

/// `StabilityMasters`, chapter 10: 2705.3 t on a waterplane of 660 m² lie 99.9 mm deeper in fresh water than in the sea, by
/// displacement over four times the tonnes to the centimetre, which is right for sides that are upright there.
#[test]
fn a_published_fresh_water_allowance_comes_out() {
    let body = prism(&[[5000.0, 0.0], [5000.0, 9000.0]], 66_000.0);
    let heavy = load(2_705_300.0, 33_000.0, 0.0, 2000.0);
    let at = |density| floating(&body, &heavy, density).unwrap();
    assert!((at(SEA).to_sink(10.0) * 1e-3 - 6.77).abs() < 0.01);
    let deeper = at(FRESH).draught - at(SEA).draught;
    assert!((deeper - 99.9).abs() < 0.15, "{deeper}");
}

/// Our own boats under three waters each, through trimesh: another program's sums and another rotation.
#[test]
fn our_own_boats_through_trimesh() {
    let python = crate::patterns_read::reader();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/readers/mesh.py");
    for name in ["corncrake", "lapwing", "sandgrouse"] {
        let plan = super::plans::planned(name);
        let hull = Hull::of(&plan.strakes, &plan.sections, &plan.table, &plan.spec);
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("mesh-{name}.off"));
        std::fs::write(&path, off(&hull.solid)).unwrap();
        let [low, high] = hull.solid.heights(&Attitude::default());
        for (deep, trim, heel) in [(0.3, 0.0, 0.0), (0.4, 0.03, 0.2), (0.5, -0.05, 0.9)] {
            let at = Attitude { water: low + deep * (high - low), trim, heel };
            let number = |v: f64| format!("{v:.17}");
            let args = [
                script.to_str().unwrap().to_owned(),
                path.to_str().unwrap().to_owned(),
                number(at.water),
                number(trim),
                number(heel),
            ];
            let args: Vec<&str> = args.iter().map(String::as_str).collect();
            let told = crate::paper_read::run(&python, "trimesh, by ./check", &args);
            let found: serde_json::Value = serde_json::from_str(&told).expect("JSON");
            assert!(found["watertight"] == true && found["winding"] == true, "{name}: {found}");
            let v = |v: &serde_json::Value| v.as_f64().unwrap();
            let (whole, middle) = hull.solid.whole();
            let under = hull.solid.under(&at);
            let centre = under.moment / under.volume;
            let same = |ours: f64, theirs: f64, scale: f64, what: &str| {
                assert!((ours - theirs).abs() <= 1e-7 * scale, "{name} {what}: {ours} {theirs}");
            };
            same(whole, v(&found["whole"]["volume"]), whole, "volume");
            same(under.volume, v(&found["under"]["volume"]), whole, "volume under");
            same(under.area, v(&found["area"]), under.area, "waterplane");
            for i in 0..3 {
                same(middle[i], v(&found["whole"]["centre"][i]), 1000.0, "middle");
                same(centre[i], v(&found["under"]["centre"][i]), 1000.0, "centre of buoyancy");
            }
            for (i, ours) in [under.second[0], under.second[2]].into_iter().enumerate() {
                same(ours, v(&found["second"][i]), ours, "second moment");
                same(under.first[i], v(&found["first"][i]), under.area * 1000.0, "first moment");
            }
        }
        let _ = std::fs::remove_file(&path);
    }
}

/// A mesh as text: its points, each once, and its triangles.
fn off(solid: &Solid) -> String {
    let mut known = std::collections::BTreeMap::new();
    let (mut points, mut faces, mut count) = (String::new(), String::new(), 0);
    for t in solid.triangles() {
        let ids = t.map(|p| {
            *known.entry([p.x, p.y, p.z].map(|v| (v + 0.0).to_bits())).or_insert_with(|| {
                writeln!(points, "{:.17e} {:.17e} {:.17e}", p.x, p.y, p.z).unwrap();
                count += 1;
                count - 1
            })
        });
        writeln!(faces, "3 {} {} {}", ids[0], ids[1], ids[2]).unwrap();
    }
    format!("OFF\n{count} {} 0\n{points}{faces}", solid.triangles().count())
}

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

/// Loads as they are read: a person to port heels her to port; company by company; what is wrong is named with its line.
#[test]
fn loads_are_read_and_put_aboard() {
    let mut t = super::plans::texts("sandgrouse");
    // Her own loads are left out.
    let toml = t.toml.split("\n[[loads]]").next().unwrap().to_owned();
    t.toml = toml.clone()
        + r#"
[[loads]]
name = "oars"
mass = "11 lb"
at = 2000
height = 400

[[loads]]
name = "Ivo"
mass = 80
station = "5"
aft = 100
height = 550
out = 200
side = "port"
when = ["Ivo alone", "both"]

[[loads]]
name = "Edda"
mass = 62.5
at = 3300
height = 550
when = ["both"]

[[loads]]
name = "foam under the thwarts"
mass = 1.5
at = 2150
height = 250
litres = 40
"#;
    let plan = boat::plan::plan(&boat::folder::read(&t).unwrap()).unwrap();
    let found = plan.flotation().unwrap();
    let names: Vec<&str> = found.companies.iter().map(|c| c.company.name.as_str()).collect();
    assert_eq!(names, ["light", "Ivo alone", "both"]);
    let masses: Vec<f64> = found.companies.iter().map(|c| c.company.load.mass - plan.weights.total).collect();
    let own = 11.0 * 0.453_592_37 + 1.5;
    for (found, wanted) in masses.iter().zip([own, own + 80.0, own + 142.5]) {
        near(*found, wanted, "mass aboard");
    }
    let heel = |i: usize| found.companies[i].fresh.as_ref().unwrap().at.heel;
    assert!(heel(0).abs() < 1e-9 && heel(1) < -0.02, "{} {}", heel(0), heel(1));
    near(found.swamped.foam, 40.0, "foam");
    let x = plan.table.stations.iter().find(|s| s.name == "5").unwrap();
    let boat::offsets::StationAt::Square(x) = x.at else { panic!("station 5 stands square") };
    near(found.companies[1].company.aboard.iter().find(|a| a.name == "Ivo").unwrap().at.x, x + 100.0, "Ivo");

    for (load, wanted) in [
        ("name = \"x\"\nmass = -4\nat = 1000\nheight = 300", "mass: “-4” is out of range: 0 to 2000 is allowed"),
        ("name = \"x\"\nmass = \"-4 kg\"\nat = 1000\nheight = 300", "is out of range: 0 kg to 2000 kg"),
        ("name = \"x\"\nmass = \"four\"\nat = 1000\nheight = 300", "a mass, such as 75 (kg)"),
        ("name = \"x\"\nmass = 4\nstation = \"77\"\nheight = 300", "station: "),
        ("name = \"x\"\nmass = 4\nat = 1000\nheight = 300\nout = 50", "side: is missing"),
        ("name = \"x\"\nmass = 4\nat = 1000", "height: is missing"),
        ("name = \"x\"\nmass = 4\nheight = 300", "station: is missing"),
        ("mass = 4\nheight = 300\nat = 1", "name: is missing"),
        ("name = \"x\"\nmass = 4\nheight = 300\nat = 1\nweight = 3", "there is no such key"),
    ] {
        t.toml = format!("{toml}\n[[loads]]\n{load}\n");
        let said = boat::folder::read(&t).unwrap_err().to_string();
        assert!(said.contains("loads") && said.contains(wanted) && said.contains("line"), "{load}: {said}");
    }
    // Far outside her, or too much of it: the company says so itself, and the book goes on.
    t.toml = format!(
        "{toml}\n[[loads]]\nname = \"anvil\"\nmass = 2000\nat = 1500\nheight = 300\nwhen = [\"anvil\"]\n\
         [[loads]]\nname = \"kite\"\nmass = 900\nat = 9000\nheight = 300\nwhen = [\"kite\"]\n"
    );
    let plan = boat::plan::plan(&boat::folder::read(&t).unwrap()).unwrap();
    let found = plan.flotation().unwrap();
    assert!(matches!(found.companies[1].fresh, Err(FlotationError::TooHeavy { .. })));
    assert!(matches!(found.companies[2].fresh, Err(FlotationError::Outside { axis: 0, .. })));
    for paper in [boat::paper::PaperSize::A4, boat::paper::PaperSize::Letter] {
        let sheets = crate::paper::sheets(&plan, paper);
        let page = sheets.iter().find(|s| s.title == "How she floats").unwrap();
        let words: String = page.texts().map(|t| t.string() + " ").collect();
        assert!(words.contains("take loads out"), "{words}");
    }
    assert!(book::write(&plan, boat::paper::PaperSize::A4).is_ok());
}

/// A keel, stem and sternpost whose sizes are given are weighed and displace water; those that are not are named.
#[test]
fn sizes_that_are_given_are_weighed_and_float() {
    let mut input = super::plans::input("sandgrouse");
    input.spec.keel = boat::spec::KeelSpec {
        half_siding: None,
        wood_outside: None,
        hog_half_breadth: None,
        hog_thickness: None,
        ..input.spec.keel
    };
    for end in [&mut input.spec.fore, &mut input.spec.aft] {
        if let boat::spec::EndSpec::Post(post) = end {
            (post.wood_outside, post.wood_inside, post.head) = (None, None, None);
        }
    }
    let bare = boat::plan::plan(&input).unwrap();
    let named = |w: &boat::weights::Weights, what: &str| w.left_out.iter().any(|l| l.contains(what));
    for what in ["the keel", "the stem", "the sternpost"] {
        assert!(named(&bare.weights, what), "{what}: {:?}", bare.weights.left_out);
    }
    input.spec.keel.half_siding = Some(25.0);
    input.spec.keel.wood_outside = Some(40.0);
    let plan = boat::plan::plan(&input).unwrap();
    assert!(!named(&plan.weights, "the keel"));
    // Along the rabbet 50 by 40 mm, and between the garboards 9 mm as broad as the rabbet's bottom, oak of 761.6 kg/m³.
    let keel = plan.weights.parts.iter().find(|p| p.name == "keel").unwrap();
    let piece = |w: &[boat::backbone::RabbetAt]| {
        (w[1].inner - w[0].inner).norm() * (50.0 * 40.0 + (w[0].inner.y + w[1].inner.y) * 9.0)
    };
    let by_hand = plan.backbone.keel.windows(2).map(piece).sum::<f64>() * 1e-9 * 761.6;
    assert!((keel.mass - by_hand).abs() < 0.01 * by_hand, "{} {by_hand}", keel.mass);
    near(plan.weights.total - bare.weights.total, keel.mass, "the rest is as before");
    let hull = |p: &boat::plan::Plan| Hull::of(&p.strakes, &p.sections, &p.table, &p.spec);
    let (with, without) = (hull(&plan), hull(&bare));
    assert_eq!(with.solid.gaps(), 0);
    assert!(with.solid.whole().0 > without.solid.whole().0);
    near(without.solid.bounds()[2][0] - with.solid.bounds()[2][0], 40.0, "deeper by the keel");
}

/// Too light a boat floats too high and may carry too much: the pages say so, and no more when every part has its size.
#[test]
fn what_is_not_weighed_is_told_where_it_flatters_her() {
    let whole = super::plans::planned("corncrake");
    assert_eq!(whole.weights.left_out, Vec::<String>::new(), "our own boat is weighed whole");
    let mut bare = whole.clone();
    bare.weights.left_out.push("the keel (its size is not given)".to_owned());
    let words = |plan: &boat::plan::Plan, title: &str| -> String {
        let sheets = crate::paper::sheets(plan, boat::paper::PaperSize::A4);
        let page = sheets.iter().find(|s| s.title == title).unwrap();
        page.texts().map(|t| t.string() + " ").collect()
    };
    for (title, said) in
        [("How she floats", "lies deeper than is shown"), ("What she may carry", "heavier than that")]
    {
        assert!(words(&bare, title).contains(said), "{title}: {}", words(&bare, title));
        assert!(!words(&whole, title).contains(said), "{title}");
    }
}

/// Each company's sum is on the page, however much is aboard, and what is always aboard stands there once.
#[test]
fn every_company_is_summed_on_the_page() {
    let sums = |toml: &str| -> String {
        let mut t = super::plans::texts("sandgrouse");
        t.toml += toml;
        let plan = boat::plan::plan(&boat::folder::read(&t).unwrap()).unwrap();
        let sheets = crate::paper::sheets(&plan, boat::paper::PaperSize::A4);
        let page = sheets.iter().find(|s| s.title == "What she weighs").unwrap();
        page.texts().map(|t| t.string() + " ").collect()
    };
    let crates: String = (0..30)
        .map(|i| {
            format!("\n[[loads]]\nname = \"crate {i}\"\nmass = 1\nat = 2000\nheight = 300\nwhen = [\"Ivo alone\"]\n")
        })
        .collect();
    for (toml, oars, crate_7) in [("", 1, 0), (crates.as_str(), 0, 0)] {
        let words = sums(toml);
        for company in ["light", "Ivo alone", "two rowing, one astern"] {
            assert!(words.contains(&format!("all told, {company} ")), "{company}: {words}");
        }
        assert_eq!((words.matches(" oars ").count(), words.matches(" crate 7 ").count()), (oars, crate_7), "{words}");
    }
}

/// Parts make the whole, and the pieces that bear her when she is swamped weigh what the parts do.
#[test]
fn parts_make_the_whole() {
    for name in super::plans::BOATS {
        let plan = super::plans::planned(name);
        let w = &plan.weights;
        near(w.parts.iter().map(|p| p.mass).sum(), w.total, "total");
        let groups = w.planking + w.fastenings + w.timbers + w.interior + w.backbone + w.paint;
        near(groups, w.total, "groups");
        let moment = w.parts.iter().fold(0.0, |sum, p| sum + p.centre.x * p.mass);
        near(moment / w.total, w.centre.x, "centre");
        let pieces: f64 = w.pieces.iter().map(boat::weights::Bit::mass).sum();
        near(pieces, w.timbers + w.interior + w.backbone, "pieces");
        // As solids they hold the same wood.
        let wood = boat::flotation::wood(&[], &w.pieces);
        let volume: f64 = w.pieces.iter().map(|b| b.volume).sum();
        near(wood.whole().0, volume, "volume of the boxes");
        assert_eq!(boat::flotation::wood(&plan.strakes, &[]).gaps(), 0);
    }
}

/// Screws are weighed: number 8 is 0.060 + 0.013 × 8 = 0.164 in thick (from memory), so one of 25 mm holds 340.7 mm³ of bronze, 2.906 g.
#[test]
fn screws_are_weighed() {
    let mut t = super::plans::texts("sandgrouse");
    t.toml =
        t.toml.replace("[fastenings]\n", "[fastenings]\nends = \"screws\"\nscrew_gauge = 8\nscrew_length = 25\n");
    let plan = boat::plan::plan(&boat::folder::read(&t).unwrap()).unwrap();
    let w = &plan.weights;
    let count: u32 =
        plan.order.iter().filter(|l| l.kind == boat::fastenings::stock::Kind::Screw).map(|l| l.count()).sum();
    assert!(count > 50, "{count}");
    let screws = w.parts.iter().find(|p| p.name.starts_with("screws")).unwrap();
    let by_hand = f64::from(count) * 2.906e-3;
    assert!((screws.mass - by_hand).abs() < 1e-3 * by_hand, "{} {by_hand}", screws.mass);
    assert_eq!(w.left_out, Vec::<String>::new());
    near(w.parts.iter().map(|p| p.mass).sum(), w.total, "total");
}

/// Knees stand where they lie: a breasthook's arms end where they were cut, everything is within the boat, and the middle is off the
/// corner towards where the wood is.
#[test]
fn knees_are_weighed_where_their_wood_is() {
    use boat::interior::KneeKind;
    let mut kinds = [false; 3];
    for name in ["corncrake", "sandgrouse"] {
        for knee in super::plans::planned(name).interior.knees {
            let tip = knee.in_boat(*knee.arms[0].edge.last().unwrap());
            let middle = knee.middle();
            let off = middle - knee.corner;
            match knee.kind {
                KneeKind::Breasthook { aft } => {
                    kinds[0] = true;
                    assert!((tip.x - knee.reach).abs() < 1e-6, "{}: {} {}", knee.name, tip.x, knee.reach);
                    assert!(middle.y.abs() < 1e-6 && (off.x < 0.0) == aft, "{}: {middle}", knee.name);
                }
                KneeKind::Quarter { aft } => {
                    kinds[1] = true;
                    assert!(off.y < 0.0 && (off.x < 0.0) == aft, "{}: {middle}", knee.name);
                }
                KneeKind::Thwart { .. } => {
                    kinds[2] = true;
                    assert!(off.x == 0.0 && off.y < 0.0 && off.z > 0.0, "{}: {middle}", knee.name);
                }
            }
            let reach = knee.arms.iter().map(|a| a.length).fold(0.0, f64::max);
            assert!(off.norm() > 0.15 * knee.throat && off.norm() < reach, "{}: {off}", knee.name);
        }
    }
    assert_eq!(kinds, [true; 3]);
}
