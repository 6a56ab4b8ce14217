//! Where she floats, tried on shapes whose answers are known, on published examples, and on our own boats by another road.
//!
//! Box, wedge, cylinder and the righting arm of a wall-sided body are closed forms, derived here; the parabolic hull's are in
//! `WigleyForm` in SOURCES.md.

use crate::plans::{EXAMPLES, planned, texts};
use crate::readers::{scratch, told};
use boat::findings::Stage;
use boat::flotation::{
    Attitude, FRESH, FlotationError, Hull, Load, SEA, Solid, afloat, floating, righting, righting_arm,
};
use boat::folder::{BoatTexts, read};
use boat::geom::Point;
use boat::plan::plan;
use std::fmt::Write as _;

/// Relative, on every closed form.
const CLOSE: f64 = 1e-6;

pub fn near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() <= CLOSE * wanted.abs().max(1e-9), "{what}: {found}, not {wanted}");
}

/// The closed face over a grid of points of the starboard side, row by row from the bow, from the keel up: its mirror, a deck over
/// the top, and its ends shut.
pub fn hull(grid: &[Vec<Point>]) -> Hull {
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
pub fn prism(section: &[[f64; 2]], length: f64) -> Hull {
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
    // The triangle's middle is a third of its sides from its corner. Between two arms 2 degrees apart the line is straight.
    let wide = d / under.tan();
    let arm = (b / 2.0 - wide / 3.0) * under.cos() + (d / 3.0 - g) * under.sin();
    let drawn = curve.arm_at_sheer().unwrap();
    assert!((drawn - arm).abs() < 0.3, "{drawn} for {arm}");
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
    assert!((f.draught - r).abs() < 4e-4, "{}", f.draught);
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
        near(
            (4.0 * fine[i] - coarse[i]) / 3.0,
            wanted,
            ["waterline", "BM across", "BM along", "block", "prismatic"][i],
        );
    }
}

/// Half a metre off her is a motor or an anchor; a load further off is a slip, told with what she has there.
#[test]
fn loads_that_stand_off_her_are_told() {
    let hints = |place: &str| {
        let load = format!("[[loads]]\nname = \"crate\"\nmass = 30\nheight = 300\n{place}\n");
        let texts = texts("lapwing");
        let input = read(&BoatTexts { toml: texts.toml.clone() + &load, ..texts }).unwrap();
        let found = plan(&input).unwrap().findings;
        found.into_iter().filter(|f| f.stage == Stage::Loads).map(|f| f.hint).collect::<Vec<_>>()
    };
    assert_eq!(hints("at = 1200"), Vec::<String>::new());
    assert_eq!(hints("at = 2600"), Vec::<String>::new());
    assert!(hints("at = 5000")[0].contains("abaft her"));
    assert!(hints("at = -900")[0].contains("forward of her"));
    assert!(hints("at = 1200\nout = 1800\nside = \"port\"")[0].contains("off her side"));
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
    for name in EXAMPLES {
        let plan = planned(name);
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
    for name in EXAMPLES {
        let plan = planned(name);
        let hull = Hull::of(&plan.strakes, &plan.sections, &plan.table, &plan.spec);
        let path = scratch(&format!("mesh-{name}")).with_extension("off");
        std::fs::write(&path, off(&hull.solid)).unwrap();
        let [low, high] = hull.solid.heights(&Attitude::default());
        for (deep, trim, heel) in [(0.3, 0.0, 0.0), (0.4, 0.03, 0.2), (0.5, -0.05, 0.9)] {
            let at = Attitude { water: low + deep * (high - low), trim, heel };
            let number = |v: f64| format!("{v:.17}");
            let args = [path.to_str().unwrap().to_owned(), number(at.water), number(trim), number(heel)];
            let args: Vec<&str> = args.iter().map(String::as_str).collect();
            let found = told("mesh.py", "trimesh, by ./check", &args);
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
