//! Clouds of points made by other people's programs, from closed forms and from our own boat, read in again.

use crate::plans::input;
use crate::readers::{scratch, told};
use boat::geom::Point;
use boat::geom::fair::FairCurve;
use boat::offsets::{Expected, RowKind, StationAt, Table, read_table};
use boat::read_in::{Bare, Bow, CloudAsked, CloudForm, OfCloud, cloud};
use nalgebra::{Matrix3, Vector3};
use std::path::Path;

/// How a cloud was made.
struct Made {
    bytes: Vec<u8>,
    turned: Matrix3<f64>,
    shift: Vector3<f64>,
}

struct How<'a> {
    form: &'a str,
    unit: f64,
    turns: [f64; 3],
    noise: f64,
    strays: f64,
    points: usize,
    extras: &'a str,
    mesh: Option<&'a Path>,
}

fn made(how: &How<'_>) -> Made {
    let path = scratch(&format!("cloud-{}-{}", how.form, how.extras.replace(',', "-"))).with_extension("points");
    let text = |v: f64| v.to_string();
    let [yaw, heel, pitch] = how.turns.map(text);
    let mut arguments = vec![
        path.to_str().unwrap().to_owned(),
        how.form.to_owned(),
        text(how.unit),
        yaw,
        heel,
        pitch,
        text(how.noise),
        text(how.strays),
        how.points.to_string(),
        how.extras.to_owned(),
        "11".to_owned(),
    ];
    arguments.extend(how.mesh.map(|m| m.to_str().unwrap().to_owned()));
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let told = told("cloud.py", "trimesh, by ./check", &arguments);
    let bytes = std::fs::read(&path).unwrap();
    let _ = std::fs::remove_file(&path);
    let number = |v: &serde_json::Value| v.as_f64().unwrap();
    let turned = Matrix3::from_fn(|i, j| number(&told["turned"][i][j]));
    let shift = Vector3::from_fn(|i, _| number(&told["shift"][i]));
    Made { bytes, turned, shift }
}

fn read(found: &OfCloud) -> Table {
    let lengths = found.table.lengths;
    let expected = Expected { lengths, spacing: None, diagonals: &[], transom: false, bow_transom: false };
    read_table(&found.table.table, &expected).unwrap().0
}

/// Every entry as a place of the boat: station, what it is, and its place in the model's own frame.
fn places(found: &OfCloud, made: &Made) -> Vec<(usize, RowKind, Vector3<f64>)> {
    let table = read(found);
    let mut all = Vec::new();
    for (s, station) in table.stations.iter().enumerate() {
        let StationAt::Square(x) = station.at else { panic!("{station:?}") };
        let mm = |kind: &RowKind| {
            table.rows.iter().find(|r| r.kind == *kind).and_then(|r| r.cells[s].as_ref()).map(|c| c.mm)
        };
        for row in &table.rows {
            let Some(cell) = &row.cells[s] else { continue };
            let [y, z] = match row.kind {
                RowKind::HeightSheer => [mm(&RowKind::HalfBreadthSheer).unwrap(), cell.mm],
                RowKind::HeightRabbet => [mm(&RowKind::HalfBreadthRabbet).unwrap(), cell.mm],
                RowKind::HeightButtock(y) => [y, cell.mm],
                RowKind::HalfBreadthWaterline(z) => [cell.mm, z],
                _ => continue,
            };
            let file = found.frame.axes.transpose() * Vector3::new(x, y, z) + found.frame.origin;
            all.push((s, row.kind.clone(), made.turned.transpose() * (file - made.shift)));
        }
    }
    all
}

/// How far a place is off Wigley's hull, square to it, mm: f over the length of its gradient.
fn off_wigley(p: &Vector3<f64>) -> f64 {
    let (half, long, deep) = (700.0, 4200.0, 600.0);
    let (along, up) = (1.0 - (2.0 * p.x / long).powi(2), 1.0 - (p.z / deep).powi(2));
    let y_x = -half * up * 8.0 * p.x / long.powi(2);
    let y_z = -half * along * 2.0 * p.z / deep.powi(2);
    (p.y.abs() - half * along * up).abs() / (1.0 + y_x * y_x + y_z * y_z).sqrt()
}

/// Off the hull (root mean square and worst), off the sheer's height at worst, mm, and how many of a hundred entries lie within what is
/// said of their station and half a millimetre of rounding.
fn measured(
    found: &OfCloud,
    made: &Made,
    off: impl Fn(&Vector3<f64>) -> f64,
    sheer: impl Fn(&Vector3<f64>) -> f64,
) -> [f64; 4] {
    let all = places(found, made);
    let skin: Vec<f64> = all.iter().map(|p| off(&p.2)).collect();
    let rms = (skin.iter().map(|o| o * o).sum::<f64>() / skin.len() as f64).sqrt();
    let within = all.iter().zip(&skin).filter(|(p, o)| **o <= found.known[p.0].within + 0.5).count();
    let tops = all.iter().filter(|p| p.1 == RowKind::HeightSheer).map(|p| sheer(&p.2));
    let share = 100.0 * within as f64 / skin.len() as f64;
    [rms, skin.into_iter().fold(0.0, f64::max), tops.fold(0.0, f64::max), share]
}

/// 40000 points with 1 mm of noise, 2 in 100 strays, turned by 7 degrees about two axes; in every form and unit; with a floor and a mast.
#[test]
fn wigleys_hull_comes_back_from_a_cloud() {
    for (form, unit, bare, extras, turns) in [
        ("ply", 1.0, Bare::Mm, "-", [7.0, 7.0, 0.0]),
        ("ply-text", 1000.0, Bare::M, "-", [-7.0, 3.0, 0.0]),
        ("xyz", 25.4, Bare::Inches, "-", [7.0, 0.0, 4.0]),
        ("csv", 10.0, Bare::Cm, "-", [20.0, -5.0, 0.0]),
        ("ply", 1.0, Bare::Mm, "floor,mast", [7.0, 2.0, 0.0]),
        ("xyz", 1000.0, Bare::M, "half", [0.0, 0.0, 0.0]),
    ] {
        let how = How { form, unit, turns, noise: 1.0, strays: 0.02, points: 40_000, extras, mesh: None };
        let mut made = made(&how);
        let half = extras == "half";
        if half {
            // One side only stands in the boat's frame.
            let text = String::from_utf8(made.bytes).unwrap();
            let shifted = text.lines().filter(|l| !l.starts_with('#')).map(|l| {
                let n: Vec<f64> = l.split(' ').map(|w| w.parse().unwrap()).collect();
                format!("{} {} {}\n", n[0], n[1] - made.shift.y / unit, n[2])
            });
            made.bytes = shifted.collect::<String>().into_bytes();
            made.shift.y = 0.0;
        }
        let asked = CloudAsked {
            bare: Some(bare),
            bow: Some(Bow::Least),
            placed: half,
            trim: turns[2].to_radians(),
            ..CloudAsked::default()
        };
        let form = if form.starts_with("ply") { CloudForm::Ply } else { CloudForm::Text };
        let found = cloud(&made.bytes, form, "hull.ply", &asked).unwrap_or_else(|e| panic!("{extras} {unit}: {e}"));
        let [rms, worst, sheer, share] = measured(&found, &made, off_wigley, |p| p.z.abs());
        let said = found.known.iter().map(|k| k.within).fold(0.0, f64::max);
        println!(
            "{extras} {unit}: rms {rms:.2} mm, worst {worst:.2} mm, sheer {sheer:.1} mm; said {said:.2} mm, {share:.0} % within; {:?}",
            found.table.look_at
        );
        assert_eq!(found.known.len(), 9);
        assert!(
            rms < 0.7 && worst < 3.0 && sheer < 8.0 && share >= 95.0,
            "{rms} {worst} {sheer}\n{}",
            found.table.table
        );
    }
}

/// Corncrake's fair skin, lofted, strewn with points by trimesh: her table comes back.
#[test]
fn our_own_hull_comes_back_from_a_cloud() {
    let input = input("corncrake");
    let skin = boat::lines::fair(&input.table, &input.spec).unwrap().skin;
    // The stations, without the ends: each row of the loft runs at one share of the girth.
    let inner: Vec<usize> = (0..skin.sections.len())
        .filter(|&j| matches!(skin.sections[j].at, boat::lines::SectionAt::Station(_)))
        .collect();
    let (shares, steps) = (80_usize, 120_usize);
    let rows: Vec<FairCurve<3>> = (0..=shares)
        .map(|i| {
            let at = |j: &usize| skin.at(*j, i as f64 / shares as f64);
            let points: Vec<Point> = inner.iter().map(at).collect();
            let knots: Vec<f64> = points.iter().map(|p| p.x).collect();
            let points: Vec<[f64; 3]> = points.iter().map(|p| [p.x, p.y, p.z]).collect();
            FairCurve::through(&knots, &points).unwrap()
        })
        .collect();
    let x_of = |j: usize| skin.at(j, 0.0).x;
    let (from, to) = (x_of(inner[0]), x_of(inner[inner.len() - 1]));
    let section = |x: f64| -> Vec<[f64; 3]> { rows.iter().map(|r| r.at(x)).collect() };
    let mut off = format!("OFF\n{} {} 0\n", (shares + 1) * (steps + 1), 2 * shares * steps);
    for k in 0..=steps {
        for p in section(from + (to - from) * k as f64 / steps as f64) {
            off += &format!("{} {} {}\n", p[0], p[1], p[2]);
        }
    }
    for k in 0..steps {
        for i in 0..shares {
            let a = k * (shares + 1) + i;
            off +=
                &format!("3 {a} {} {}\n3 {} {} {}\n", a + 1, a + shares + 1, a + 1, a + shares + 2, a + shares + 1);
        }
    }
    let mesh = scratch("cloud-corncrake").with_extension("off");
    std::fs::write(&mesh, off).unwrap();
    let how = How {
        form: "ply",
        unit: 1.0,
        turns: [7.0, 7.0, 0.0],
        noise: 1.0,
        strays: 0.02,
        points: 40_000,
        extras: "-",
        mesh: Some(&mesh),
    };
    let made = made(&how);
    let _ = std::fs::remove_file(&mesh);
    let half_siding = 20.0;
    let asked = CloudAsked { bare: Some(Bare::Mm), half_siding, ..CloudAsked::default() };
    let found = cloud(&made.bytes, CloudForm::Ply, "corncrake.ply", &asked).unwrap_or_else(|e| panic!("{e}"));
    assert!(found.table.said.iter().any(|s| s.starts_with("the bow is the narrower end")), "{:?}", found.table.said);
    let distance = |p: &Vector3<f64>| {
        let line: Vec<[f64; 2]> = section(p.x).iter().map(|q| [q[1], q[2]]).collect();
        let from = |w: &[[f64; 2]]| {
            let (a, b) = (w[0], w[1]);
            let [dy, dz] = [b[0] - a[0], b[1] - a[1]];
            let t = (((p.y.abs() - a[0]) * dy + (p.z - a[1]) * dz) / (dy * dy + dz * dz)).clamp(-0.2, 1.2);
            (p.y.abs() - a[0] - t * dy).hypot(p.z - a[1] - t * dz)
        };
        line.windows(2).map(from).fold(f64::MAX, f64::min)
    };
    let top = |p: &Vector3<f64>| (section(p.x)[shares][2] - p.z).abs();
    let [rms, worst, sheer, share] = measured(&found, &made, distance, top);
    let said = found.known.iter().map(|k| k.within).fold(0.0, f64::max);
    println!(
        "corncrake: rms {rms:.2} mm, worst {worst:.2} mm, sheer {sheer:.1} mm; said {said:.2} mm, {share:.0} % within; {:?}",
        found.table.look_at
    );
    assert!(rms < 1.1 && worst < 4.0 && sheer < 8.0 && share >= 92.0, "{rms} {worst} {sheer}\n{}", found.table.table);
}

#[test]
fn a_hole_is_named_and_what_makes_no_boat_is_refused() {
    let how = |extras| How {
        form: "xyz",
        unit: 1.0,
        turns: [7.0, 0.0, 0.0],
        noise: 1.0,
        strays: 0.0,
        points: 30_000,
        extras,
        mesh: None,
    };
    let asked = CloudAsked { bare: Some(Bare::Mm), bow: Some(Bow::Most), ..CloudAsked::default() };
    let made_hole = made(&how("hole"));
    let found = cloud(&made_hole.bytes, CloudForm::Text, "hull.xyz", &asked).unwrap_or_else(|e| panic!("{e}"));
    assert!(
        found.table.look_at.iter().any(|l| l.starts_with("station 5") && l.contains("no points between")),
        "{:?}",
        found.table.look_at
    );
    let [rms, worst, _, _] = measured(&found, &made_hole, off_wigley, |p| p.z.abs());
    println!("with a hole: rms {rms:.2} mm, worst {worst:.2} mm");
    assert!(rms < 1.3 && worst < 5.9 && found.table.look_at.len() == 1, "{rms} {worst} {:?}", found.table.look_at);

    let fails =
        |bytes: &[u8], form, asked: &CloudAsked| cloud(bytes, form, "x", asked).map(|_| ()).unwrap_err().to_string();
    let why = fails(&made_hole.bytes, CloudForm::Text, &CloudAsked { bare: None, ..asked.clone() });
    assert!(why.contains("say it with --lengths"), "{why}");
    let why = fails(&made_hole.bytes, CloudForm::Text, &CloudAsked { bow: None, ..asked.clone() });
    assert!(why.contains("so the bow cannot be told: say --bow least or --bow most"), "{why}");
    let why = fails(&made_hole.bytes, CloudForm::Text, &CloudAsked { bare: Some(Bare::M), ..asked.clone() });
    assert!(why.contains("m long, out of range: 0.5 m to 30 m is read"), "{why}");
    let why = fails(&made_hole.bytes, CloudForm::Text, &CloudAsked { stations: 3, ..asked.clone() });
    assert!(why.contains("3 stations are asked for"), "{why}");
    let why = fails(&made(&how("half")).bytes, CloudForm::Text, &asked);
    assert!(why.contains("no centreline plane was found") && why.contains("--placed"), "{why}");
    for (text, form, said) in [
        ("1 2 3\n4 five 6\n", CloudForm::Text, "line 2, cell 2: “five” stands where a coordinate is wanted"),
        ("1 2 3\n4 5\n", CloudForm::Text, "line 2, cell 3: “” stands where a coordinate is wanted"),
        ("1 2 inf\n", CloudForm::Text, "line 1: “inf” stands where a number of less than ten million"),
        ("1 2 3\n", CloudForm::Text, "1 points; 2000 is the least"),
        ("", CloudForm::Text, "0 points; 2000 is the least"),
        ("", CloudForm::Ply, "nothing is in it"),
        ("solid\n", CloudForm::Ply, "line 1: this is not a PLY file: it begins with “solid”"),
        ("ply\nformat ascii 1.0\n", CloudForm::Ply, "its header does not end"),
        (
            "ply\nformat utf8 1.0\nend_header\n",
            CloudForm::Ply,
            "line 2: this is not a PLY file: its format is “utf8”",
        ),
        (
            "ply\nformat ascii 1.0\nelement vertex many\nend_header\n",
            CloudForm::Ply,
            "line 3: “many” stands where how many elements",
        ),
        (
            "ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nend_header\n1 2\n",
            CloudForm::Ply,
            "its element vertex has no x, y and z",
        ),
        (
            "ply\nformat ascii 1.0\nelement vertex 9\nproperty float x\nproperty float y\nproperty float z\nend_header\n1 2 3\n",
            CloudForm::Ply,
            "it is cut short: 1 of 9 points are in it",
        ),
        (
            "ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n1 2 e\n",
            CloudForm::Ply,
            "line 8, cell 3: “e” stands where a coordinate is wanted",
        ),
        (
            "ply\nformat ascii 1.0\nelement vertex 99999999999\nproperty float x\nproperty float y\nproperty float z\nend_header\n1 2 3\n",
            CloudForm::Ply,
            "3000000 is the most that is read",
        ),
        (
            "ply\nformat binary_little_endian 1.0\nelement face 99999999999\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nend_header\n123",
            CloudForm::Ply,
            "it is cut short: 0 of 3 points",
        ),
        (
            "ply\nformat binary_big_endian 1.0\nelement face 2\nproperty list uint int a\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\nend_header\n\u{7f}\u{7f}\u{7f}\u{7f}1234",
            CloudForm::Ply,
            "it is cut short",
        ),
        (
            "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int a\nend_header\n",
            CloudForm::Ply,
            "it has no element vertex",
        ),
        ("ply\nformat ascii 1.0\nproperty float x\nend_header\n", CloudForm::Ply, "line 3: this is not a PLY file"),
    ] {
        let why = fails(text.as_bytes(), form, &asked);
        assert!(why.contains(said), "{text}\n{why}\nwanted {said}");
    }
    // A crowd in one place takes no time and makes no boat.
    let crowd = "1 2 3\n".repeat(50_000);
    assert!(fails(crowd.as_bytes(), CloudForm::Text, &asked).contains("would be 0.00 m long"));
    let crowd = (0..50_000).map(|i| if i % 50 == 0 { format!("{} 0 0\n", i / 12) } else { "1 2 3\n".to_owned() });
    fails(crowd.collect::<String>().as_bytes(), CloudForm::Text, &asked);
    let why = fails(b"1 2 3\n\xff\xfe 2 3\n", CloudForm::Text, &asked);
    assert!(why.starts_with("line 2: this is not a list of points"), "{why}");
}
