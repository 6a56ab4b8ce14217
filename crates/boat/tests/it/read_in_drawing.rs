//! Body plans and outlines from drawings, against closed forms.

use crate::plans::texts;
use crate::readers::{scratch, script};
use boat::folder::{BoatTexts, read as read_folder};
use boat::offsets::{Expected, RowKind, StationAt, Table, read_table};
use boat::read_in::{Bare, DrawingAsked, Make, Post, TableIn, boards, rabbet, sections};
use boat::units::INCH;
use std::fmt::Write as _;

fn asked() -> DrawingAsked {
    DrawingAsked { bare: None, scale: 1.0, zero: None, spacing: None, at: Vec::new() }
}

fn radius(s: usize) -> f64 {
    let s = s as f64;
    400.0 + 60.0 * s - 10.0 * s * s
}

fn read(found: &TableIn) -> Table {
    let expected = Expected {
        lengths: found.lengths,
        spacing: None,
        diagonals: &[],
        transom: found.transom,
        bow_transom: found.bow_transom,
    };
    read_table(&found.table, &expected).unwrap().0
}

/// How many entries, and how far the worst is off the circle y² + (700 − z)² = R², mm. A waterline's entry at a height, a buttock's at
/// a half-breadth, rabbet and sheer at the ends of the arc.
fn off_circles(table: &Table) -> (usize, f64) {
    let (mut count, mut most) = (0, 0.0_f64);
    for (s, station) in table.stations.iter().enumerate() {
        let StationAt::Square(x) = station.at else { panic!("{station:?}") };
        assert!((x - 500.0 * s as f64).abs() < 0.9, "{x}");
        let r = radius(s);
        let (low, high) = ((20.0 / r).asin(), 80.0_f64.to_radians());
        for row in &table.rows {
            let Some(cell) = &row.cells[s] else { continue };
            let truth = match row.kind {
                RowKind::HeightSheer => 700.0 - r * high.cos(),
                RowKind::HeightRabbet => 700.0 - r * low.cos(),
                RowKind::HalfBreadthSheer => r * high.sin(),
                RowKind::HalfBreadthRabbet => 20.0,
                RowKind::HeightButtock(y) => 700.0 - (r * r - y * y).sqrt(),
                RowKind::HalfBreadthWaterline(z) => (r * r - (700.0 - z).powi(2)).sqrt(),
                RowKind::Diagonal(_) => unreachable!("there is none"),
            };
            count += 1;
            most = most.max((cell.mm - truth).abs());
        }
    }
    (count, most)
}

/// ARC, two ARCs to be joined and named by a text, LWPOLYLINE and POLYLINE with bulges, ELLIPSE, rational SPLINE, as ezdxf writes
/// them.
#[test]
fn a_body_plan_written_by_ezdxf_comes_back() {
    for (version, insunits, unit, scale) in
        [("R2010", "4", 1.0, 1.0), ("R2000", "5", 10.0, 5.0), ("R12", "1", INCH, 8.0), ("R2018", "0", 1000.0, 1.0)]
    {
        let path = scratch(&format!("body-plan-{version}")).with_extension("dxf");
        let numbers = [unit.to_string(), scale.to_string()];
        let arguments = [path.to_str().unwrap(), version, insunits, &numbers[0], &numbers[1]];
        script("body_plan.py", "ezdxf, by ./check", &arguments);
        let text = std::fs::read_to_string(&path).unwrap();
        let _ = std::fs::remove_file(&path);
        // R12 has no unit that programs agree on, and 0 says none.
        let bare = match version {
            "R12" => Some(Bare::Inches),
            "R2018" => Some(Bare::M),
            _ => None,
        };
        let at = vec![("1".to_owned(), 500.0)];
        let found = sections(&text, Make::Dxf, "plan.dxf", &DrawingAsked { bare, scale, at, ..asked() })
            .unwrap_or_else(|e| panic!("{version}: {e}"));
        let table = read(&found);
        let (count, most) = off_circles(&table);
        println!("{version}: {count} entries, {most:.3} mm");
        // The table is rounded to 1 mm or 1/16 in.
        let rounding = 0.5 * found.lengths.unit_of_table();
        assert!(count > 70 && most < rounding + 0.05, "{version}: {count} {most}\n{}", found.table);
        assert!(found.look_at.is_empty(), "{:?}", found.look_at);
        if version == "R2018" {
            let why = sections(&text, Make::Dxf, "plan.dxf", &asked()).unwrap_err().to_string();
            assert!(why.contains("does not say its unit (it has no $INSUNITS)"), "{why}");
        }
        if version == "R2010" {
            let bare = Some(Bare::Inches);
            let why =
                sections(&text, Make::Dxf, "plan.dxf", &DrawingAsked { bare, ..asked() }).unwrap_err().to_string();
            assert!(why.contains("one unit is 1.0000 mm (mm), the command line in"), "{why}");
        }
    }
}

/// A whole body plan in SVG: arcs, nested groups, transforms of every kind, cubic and quadratic curves, relative commands.
fn svg(width: &str) -> String {
    let mut text = format!(
        "<?xml version=\"1.0\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:inkscape=\"http://www.inkscape.org/namespaces/inkscape\" {width} \
         viewBox=\"0 0 2000 1500\">\n<g transform=\"translate(900,1200)\">\n<path id=\"centreline\" d=\"M0 0V-900\"/>\n<line \
         id=\"base-line\" x1=\"-700\" y1=\"0\" x2=\"700\" y2=\"0\"/>\n"
    );
    for s in 0..6 {
        let r = radius(s);
        let point = |angle: f64, side: f64| [side * r * angle.sin(), -(700.0 - r * angle.cos())];
        let (low, high) = ((20.0 / r).asin(), 80.0_f64.to_radians());
        let ([ax, ay], [bx, by]) = (point(low, 1.0), point(high, 1.0));
        let (cx, cy) = (-bx, by);
        let label = format!("inkscape:label=\"Station {s}\"");
        // y runs down: from the keel up to the right is against the clock as seen.
        let _ = match s {
            // Both sides, the flat of the keel between left open.
            0 => writeln!(
                text,
                "<path {label} d=\"M{bx} {by}A{r} {r} 0 0 1 {ax} {ay}M{} {ay}A{r},{r} 0 0 1 {cx},{cy}\"/>",
                -ax
            ),
            1 => writeln!(
                text,
                "<g {label}><path transform=\"scale(2)\" d=\"m{} {}a{},{} 0 0 0 {},{}\"/></g>",
                ax / 2.0,
                ay / 2.0,
                r / 2.0,
                r / 2.0,
                (bx - ax) / 2.0,
                (by - ay) / 2.0
            ),
            // To the left, as after sections are drawn.
            2 => writeln!(
                text,
                "<g id=\"station_2\" transform=\"scale(-1 1)\"><path d=\"M{ax} {ay}A{r} {r} 0 0 0 {bx} {by}\"/></g>"
            ),
            // An ellipse's arc made round again.
            3 => writeln!(
                text,
                "<path {label} transform=\"matrix(1 0 0 .5 0 0)\" d=\"M{ax} {}A{r} {} 0 0 0 {bx} {}\"/>",
                2.0 * ay,
                2.0 * r,
                2.0 * by
            ),
            // Cubic curves, by the well-known rule for arcs, in eight pieces: off a circle by less than 1e-6 of it.
            4 => {
                let n = 8;
                let step = (high - low) / f64::from(n);
                let k = 4.0 / 3.0 * (step / 4.0).tan() * r;
                let mut d = format!("M{ax} {ay}");
                for i in 0..n {
                    let (a, b) = (low + step * f64::from(i), low + step * f64::from(i + 1));
                    let ([px, py], [qx, qy]) = (point(a, 1.0), point(b, 1.0));
                    let _ = write!(
                        d,
                        "C{} {} {} {} {qx} {qy}",
                        px + k * a.cos(),
                        py - k * a.sin(),
                        qx - k * b.cos(),
                        qy + k * b.sin()
                    );
                }
                writeln!(text, "<path {label} d=\"{d}\"/>")
            }
            // Turned by 30 degrees and back, as a polyline of small steps.
            _ => {
                let points: String = (0..=200)
                    .map(|i| {
                        let [x, y] = point(low + (high - low) * f64::from(i) / 200.0, 1.0);
                        format!("{x},{y} ")
                    })
                    .collect();
                writeln!(
                    text,
                    "<g {label} transform=\"rotate(30)\"><polyline transform=\"rotate(-30)\" points=\"{points}\"/></g>"
                )
            }
        };
    }
    text + "</g>\n<g style=\"display:none\"><path d=\"M0 0L1 1\"/></g></svg>\n"
}

#[test]
fn a_body_plan_in_svg_comes_back() {
    // 2000 units on 400 mm of paper: 1:5.
    let text = svg("width=\"400mm\" height=\"300mm\"");
    let asked = DrawingAsked { scale: 5.0, spacing: Some(500.0), ..asked() };
    let found = sections(&text, Make::Svg, "plan.svg", &asked).unwrap_or_else(|e| panic!("{e}"));
    let (count, most) = off_circles(&read(&found));
    println!("{count} entries, {most:.3} mm");
    assert!(count > 70 && most < 0.55, "{count} {most}\n{}", found.table);
    assert!(
        found.said.iter().any(|s| s.contains("both sides are drawn") && s.contains("station 0")),
        "{:?}",
        found.said
    );
    assert!(found.look_at.is_empty(), "{:?}", found.look_at);
    let why = sections(&svg("width=\"400\""), Make::Svg, "plan.svg", &asked).unwrap_err().to_string();
    assert!(why.contains("does not say its unit"), "{why}");
}

#[test]
fn what_is_wrong_in_a_drawing_is_named_by_its_line() {
    let good = svg("width=\"400mm\" height=\"300mm\"");
    let asked = DrawingAsked { scale: 5.0, spacing: Some(500.0), ..asked() };
    let fails = |text: &str| sections(text, Make::Svg, "plan.svg", &asked).unwrap_err().to_string();
    for (from, to, said) in [
        ("scale(2)", "scale(two)", "line 8, path: “scale(two)” stands where a transform is wanted"),
        ("id=\"base-line\"", "id=\"x\"", "no line is named base line"),
        ("A", "B", "line 7, path: "),
        ("</svg>", "", "line 1: this is not an SVG file"),
        ("<svg", "<svg2", "this is not an SVG file"),
        ("viewBox=\"0 0 2000 1500\"", "viewBox=\"0 0 0 1500\"", "a viewBox of four numbers"),
        ("<!DOCTYPE svg", "<!DOCTYPE svg [<!ENTITY a \"b\">] >\n<!-- ", "it defines entities"),
        ("y2=\"0\"", "y2=\"40\"", "line 6: base-line is not level in the drawing: it leans by 40.0 mm at full size"),
        ("1 0 0 .5 0 0", "1 0 0 1e300 0 0", "transform"),
        ("Station 4", "Station 3", "line 10, station 3: 2 curves that do not join are named for this station"),
    ] {
        assert!(good.contains(from), "{from}");
        let why = fails(&good.replacen(from, to, 1));
        assert!(why.contains(said), "{why}\nwanted {said}");
    }
    let fails = |text: &str| sections(text, Make::Dxf, "plan.dxf", &asked).unwrap_err().to_string();
    let head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n";
    let line = "0\nLINE\n8\nstation 1\n10\n1\n20\n2\n11\n3\n21\n4\n";
    let end = "0\nENDSEC\n0\nEOF\n";
    for (text, said) in [
        (String::new(), "nothing is in it"),
        ("AutoCAD Binary DXF\r\n".to_owned(), "a binary DXF file; save it as DXF in text form"),
        ("hello\nworld\n".to_owned(), "line 1: “hello” stands where the code of a DXF pair"),
        (format!("{head}{line}"), "cut short"),
        (
            format!("{head}{}{end}", line.replace("\n2\n", "\ntwo\n")),
            "line 22, LINE, code 20: “two” stands where a number",
        ),
        (format!("{head}{}{end}", line.replace("\n2\n", "\n1e99\n")), "less than a thousand million"),
        (
            format!("{head}{}{end}", line.replace("21\n4\n", "")),
            "line 16, LINE: “” stands where a point's y is wanted",
        ),
        (format!("{head}{}{end}", line.replace("\n2\n", "\n9000\n")), "reaches 45 m from its zero"),
        (format!("{head}{end}"), "no curves that are read"),
        (
            format!("{head}{}{end}", line.replace("station 1", "walls")),
            "layer or id “walls”: the curve has no station",
        ),
        (format!("{head}{line}{end}"), "1 station"),
        (
            format!("{head}0\nARC\n8\nstation 1\n10\n0\n20\n0\n40\n-1\n50\n0\n51\n90\n{end}"),
            "a radius of more than 0",
        ),
        (
            format!("{head}0\nSPLINE\n8\nstation 1\n71\n3\n10\n0\n20\n0\n10\n0\n20\n9\n40\n0\n40\n1\n{end}"),
            "2 control points, degree 3, 2 knots",
        ),
        (format!("{head}0\nHATCH\n8\nx\n{end}"), "no curves that are read"),
    ] {
        let why = fails(&text);
        assert!(why.contains(said), "{why}\nwanted {said}");
    }
    // What is cut anywhere is refused or read, and never panics.
    for cut in 0..good.len() {
        if let Some(part) = good.get(..cut) {
            let _ = sections(part, Make::Svg, "plan.svg", &asked);
        }
    }
}

/// A profile: x aft of the first station, the stem an ellipse's quarter; boards with straight and with bent edges.
#[test]
fn outlines_become_lines_for_the_folder() {
    let at = |i: u32| {
        let turn = std::f64::consts::FRAC_PI_2 * f64::from(i) / 90.0 * 0.9;
        [-300.0 + 250.0 * (1.0 - turn.cos()), 650.0 - 500.0 * turn.sin()]
    };
    let points: String = (0..=90).map(|i| format!("10\n{}\n20\n{}\n", at(i)[0], at(i)[1])).collect();
    let head = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n";
    let text = format!("{head}0\nLWPOLYLINE\n8\nStem\n90\n91\n{points}0\nENDSEC\n0\nEOF\n");
    let lines = rabbet(&text, Make::Dxf, Post::Stem, &asked()).unwrap_or_else(|e| panic!("{e}"));
    let rows = rows_of_rabbet(&lines.text);
    assert_eq!(rows.len(), 13);
    for [x, z] in rows {
        // ((x + 50) / 250)² + ((650 − z) / 500)² = 1.
        let off = ((x + 50.0) / 250.0).hypot((650.0 - z) / 500.0);
        assert!((off - 1.0).abs() < 1e-3, "{x} {z} {off}");
    }
    let why = rabbet(&text, Make::Dxf, Post::Sternpost, &asked()).unwrap_err().to_string();
    assert!(why.contains("the sternpost's rabbet turns back"), "{why}");
    // A board of 4 m by 200 mm, tapering to 160, turned by 20 degrees; and one whose edges are hollow by 10 mm.
    let board = |layer: &str, corners: &[[f64; 2]]| {
        let (sin, cos) = 20.0_f64.to_radians().sin_cos();
        let each = corners.iter().map(|[x, y]| format!("10\n{}\n20\n{}\n", cos * x - sin * y, sin * x + cos * y));
        format!("0\nLWPOLYLINE\n8\n{layer}\n70\n1\n{}", each.collect::<String>())
    };
    let plain = board("A1", &[[0.0, 0.0], [4000.0, 0.0], [4000.0, 160.0], [0.0, 200.0]]);
    let top = (0..=100).map(|i| [4000.0 - 40.0 * f64::from(i), 190.0 + 10.0 * (f64::from(i) / 50.0 - 1.0).powi(2)]);
    let hollow = board("A2", &[vec![[0.0, 0.0], [4000.0, 0.0]], top.collect()].concat());
    let text = format!("{head}{plain}{hollow}0\nLINE\n8\nx\n10\n0\n20\n0\n11\n1\n21\n1\n0\nENDSEC\n0\nEOF\n");
    let lines = boards(&text, Make::Dxf, "22 mm", &asked()).unwrap_or_else(|e| panic!("{e}"));
    let rows: Vec<Vec<&str>> = lines.text.lines().skip(2).map(|l| l.split(',').collect()).collect();
    let mut found: Vec<f64> = rows[0][1..5].iter().map(|c| c.parse().unwrap()).collect();
    found[1..].sort_by(f64::total_cmp);
    for (found, truth) in found.iter().zip([4000.0, 160.0, 180.0, 200.0]) {
        assert!((found - truth).abs() <= 1.5, "{found} {truth}");
    }
    assert_eq!((rows[0][0], rows[0][5]), ("A1", "22 mm"));
    assert_eq!((rows[1][0], rows[1][1], rows[1][5]), ("A2", "4000", "22 mm"));
    // Evenly to both sides of a straight line, half-way between the hollow edge's middle and its ends' middles: 2.5 of each side.
    for (cell, true_width) in rows[1][2..5].iter().zip([195.0, 185.0, 195.0]) {
        // Straight pieces within a parabola lose a quarter of its depth at most.
        let width: f64 = cell.parse().unwrap();
        assert!(width <= true_width && width > true_width - 4.0, "{width} {true_width}");
    }
    assert!(lines.look_at[0].contains("the line is open"), "{:?}", lines.look_at);
    // The rack's own reader takes them.
    let texts = BoatTexts { boards: Some(lines.text.clone()), ..texts("corncrake") };
    assert_eq!(read_folder(&texts).unwrap().boards.len(), 2);
}

/// Rows `[x, z],` of boat.toml.
fn rows_of_rabbet(text: &str) -> Vec<[f64; 2]> {
    let number = |t: &str| t.trim().parse::<f64>().unwrap();
    let row = |l: &str| {
        l.trim().strip_prefix('[')?.strip_suffix("],")?.split_once(',').map(|(x, z)| [number(x), number(z)])
    };
    text.lines().filter_map(row).collect()
}

/// Found by feeding spoilt drawings: the line of each element was counted from the top of the file, so that a large drawing took
/// for ever (90,000 elements: ten thousand million signs).
#[test]
fn a_large_drawing_is_read_in_a_moment() {
    let elements: String = (0..90_000).map(|i| format!("<use x=\"{i}\"\n/>")).collect();
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" viewBox=\"0 0 9 9\">\n{elements}<path d=\"q\"/></svg>"
    );
    let start = std::time::Instant::now();
    let why = sections(&text, Make::Svg, "plan.svg", &asked()).unwrap_err().to_string();
    assert!(why.contains("line 90002"), "{why}");
    assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
}
