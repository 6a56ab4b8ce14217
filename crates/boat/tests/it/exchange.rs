//! Files for other people's programs, read by other people's programs: solids by trimesh, DXF by ezdxf, tables by Python's csv.

use crate::measure::{area, off_segment};
use crate::paper::boats;
use crate::plans::texts;
use crate::readers::told_of_all;
use boat::development::FlatPlank;
use boat::drawing::Spot;
use boat::exchange::{File, Kind, Solid, Stuff, WITHIN, files, solids};
use boat::folder::read;
use boat::plan::{Plan, plan};
use boat::units::Notation;
use serde_json::{Value, json};

/// What a script of ours has somebody else's reader say of files.
fn read_by(script: &str, what: &str, files: &[File]) -> Value {
    told_of_all(script, "trimesh, ezdxf, by ./check", &format!("exchange-{what}"), files)
}

fn number(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("{v} is no number"))
}

/// Sandgrouse with a hog as well; Lapwing, whose after transom is bent, with a crown on it.
fn with_more_wood() -> [Plan; 2] {
    let mut stem = texts("sandgrouse");
    let keel = "half_siding = 25\n";
    assert_eq!(stem.toml.matches(keel).count(), 1);
    stem.toml = stem.toml.replace(keel, &format!("{keel}hog_half_breadth = 45\nhog_thickness = 18\n"));
    let mut bent = texts("lapwing");
    let radius = "radius = 1100";
    assert!(bent.toml.contains(radius));
    bent.toml = bent.toml.replace(radius, "radius = 1100\ncrown = 40");
    [stem, bent].map(|t| plan(&read(&t).unwrap_or_else(|e| panic!("{e}"))).unwrap_or_else(|e| panic!("{e}")))
}

#[test]
fn the_same_boat_gives_the_same_files() {
    for plan in boats() {
        let once = files(plan, &Kind::ALL).unwrap();
        assert!(once == files(plan, &Kind::ALL).unwrap(), "{}", plan.spec.name);
        let mut names: Vec<&str> = once.iter().map(|f| f.name.as_str()).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count);
        // Written into the boat's own folder they take nothing's place.
        let own = ["boat.toml", "offsets.csv", "marks.csv", "boards.csv", "nails.csv", "rates.toml", "record"];
        assert!(own.iter().all(|name| !names.contains(name)));
        for kind in Kind::ALL {
            let only = files(plan, &[kind]).unwrap();
            assert!(!only.is_empty() && only.iter().all(|f| once.contains(f)));
        }
    }
}

/// Every solid is closed, runs round one way, and holds what we say it holds.
#[test]
fn solids_read_by_trimesh_are_closed_and_hold_what_we_say() {
    for (i, plan) in boats().iter().chain(&with_more_wood()).enumerate() {
        let written = files(plan, &[Kind::Stl, Kind::Glb]).unwrap();
        let found = read_by("solids.py", &format!("solids-{i}"), &written);
        let all = solids(plan);
        let stl: Vec<&File> = written.iter().filter(|f| f.name.ends_with(".stl")).collect();
        assert_eq!(stl.len(), all.len() + 1);
        for (solid, file) in all.iter().zip(&stl) {
            let place = format!("{}, {}", plan.spec.name, solid.name);
            assert!(!file.bytes.starts_with(b"solid"));
            same_body(&place, solid, &found[&file.name], 1.0);
        }
        let outside = &found["outside.stl"];
        assert!(outside["watertight"] == true && outside["winding"] == true, "{}: {outside}", plan.spec.name);
        let hull = boat::flotation::Hull::of(&plan.strakes, &plan.sections, &plan.table, &plan.spec);
        let [low, high] = hull.solid.heights(&boat::flotation::Attitude::default());
        let high_up = boat::flotation::Attitude { water: high + 1.0, trim: 0.0, heel: 0.0 };
        assert!(low < high);
        let holds = hull.solid.under(&high_up).volume;
        assert!((number(&outside["volume"]) / holds - 1.0).abs() < 1e-4, "{}: {holds}", plan.spec.name);

        let glb = &found["boat.glb"];
        let parts = glb["parts"].as_object().unwrap();
        assert_eq!(parts.len(), all.len());
        for solid in &all {
            same_body(&format!("{}, glTF {}", plan.spec.name, solid.name), solid, &parts[&solid.name], 1000.0);
        }
        let nodes: Vec<&str> = glb["nodes"].as_array().unwrap().iter().map(|n| n.as_str().unwrap()).collect();
        assert!(nodes.contains(&plan.spec.name.as_str()) && nodes.contains(&"planks"), "{nodes:?}");
        // Planks go from +x, to port, to −x; up is y; the bow looks along z.
        let port = &parts["strake 3 port"];
        assert!(number(&port["low"][0]) > 0.0 && number(&parts["strake 3 starboard"]["high"][0]) < 0.0);
        let sheer = &parts[&format!("strake {} port", plan.strakes.len())];
        assert!(number(&sheer["high"][1]) > number(&port["high"][1]));
        let bow = plan.strakes[2].rulings[0].upper.x;
        assert!((number(&port["high"][2]) * 1000.0 + bow).abs() < 3.1, "{port} {bow}");
    }
}

/// `unit`: how many mm the reader's unit is.
fn same_body(place: &str, solid: &Solid, found: &Value, unit: f64) {
    assert!(found["watertight"] == true && found["winding"] == true, "{place}: {found}");
    let volume = number(&found["volume"]) * unit.powi(3);
    assert!((volume / solid.volume() - 1.0).abs() < 2.5e-5, "{place}: {volume} for {}", solid.volume());
    assert_eq!(found["faces"].as_u64().unwrap() as usize, solid.faces.len(), "{place}");
}

/// What a plank holds, reckoned another way: the area of its middle surface laid flat times its thickness, less half of what the
/// bevel takes over each land and the rebates of the gains.
#[test]
fn planks_hold_their_flat_area_times_their_thickness_less_bevels_and_gains() {
    for plan in boats() {
        let all = solids(plan);
        for (strake, flat) in plan.strakes.iter().zip(&plan.flats) {
            let found = all.iter().find(|s| s.name == format!("strake {} port", strake.strake)).unwrap().volume();
            let lap = plan.spec.planking.lap;
            let along = |land: usize, hollow: bool| {
                let Some(s) = plan.strakes.iter().find(|s| s.strake == land) else { return 0.0 };
                let cut = |r: &boat::planks::Ruling| {
                    let bevel = r.bevel.map_or(0.0, |b| if hollow { -b } else { b }.tan().max(0.0));
                    let rebate = r.bevel.map_or(0.0, |_| 0.5 * (s.thickness - r.step));
                    0.5 * lap * lap * bevel + lap * rebate
                };
                s.rulings.windows(2).map(|w| 0.5 * (cut(&w[0]) + cut(&w[1])) * (w[1].along - w[0].along)).sum::<f64>()
            };
            let expected =
                flat.area * strake.thickness - along(strake.strake, false) - along(strake.strake - 1, true);
            let share = found / expected - 1.0;
            assert!(share.abs() < 0.01, "{} strake {}: {found} for {expected}", plan.spec.name, strake.strake);
        }
    }
}

/// Each plank lies on the one below, bevels planed and gains cut: of its corners about the land, half stand on that one's face to a
/// hundredth, and none runs a millimetre into it.
#[test]
fn planks_lie_on_one_another() {
    for (i, (plan, lands)) in boats().iter().zip([[2, 6], [2, 8], [2, 5]]).enumerate() {
        let written = files(plan, &[Kind::Stl]).unwrap();
        let file =
            |n: usize| written.iter().find(|f| f.name == format!("strake-{n:02}-starboard.stl")).unwrap().clone();
        let pairs: Vec<File> = lands.iter().flat_map(|&n| [file(n), file(n + 1)]).collect();
        let found = read_by("contact.py", &format!("contact-{i}"), &pairs);
        for (land, off) in lands.iter().zip(found.as_array().unwrap()) {
            let off: Vec<f64> = off.as_array().unwrap().iter().map(number).collect();
            let share = |s: f64| off[(s * (off.len() - 1) as f64) as usize];
            let place = format!("{}, land {land}", plan.spec.name);
            println!(
                "{place}: {} corners, {:.2} {:.2} {:.2} {:.2}",
                off.len(),
                off[0],
                share(0.05),
                share(0.5),
                share(0.75)
            );
            assert!(off.len() > 150, "{place}: {}", off.len());
            assert!(share(0.5).abs() < 0.01 && share(0.05) > -0.1 && share(0.75) < 0.1, "{place}");
            assert!(off[0] > -0.85, "{place}: {}", off[0]);
        }
    }
}

/// What has a shape of its own is there, by name.
#[test]
fn every_part_that_the_plan_knows_is_a_solid() {
    let [stem, bent] = with_more_wood();
    for (plan, backbone) in [
        (&boats()[0], vec!["keel", "stem", "transom"]),
        (&boats()[1], vec!["keel", "stem", "sternpost"]),
        (&stem, vec!["keel", "hog", "stem", "sternpost"]),
        (&bent, vec!["keel", "hog", "bow transom", "transom"]),
    ] {
        let all = solids(plan);
        let of = |stuff: Stuff| all.iter().filter(move |s| s.stuff == stuff);
        assert_eq!(of(Stuff::Backbone).map(|s| s.name.as_str()).collect::<Vec<_>>(), backbone);
        assert_eq!(of(Stuff::Plank).count(), 2 * plan.strakes.len());
        assert_eq!(of(Stuff::Mould).count(), plan.moulds.len());
        let halves: usize = plan.timbers.iter().map(|t| t.pieces as usize).sum();
        assert_eq!(of(Stuff::Timber).count(), halves);
        assert!(all.iter().all(|s| s.volume() > 0.0));
        // A mould is its outline times its thickness.
        for (mould, shape) in plan.moulds.iter().zip(&plan.setting_up.moulds) {
            let found = of(Stuff::Mould).find(|s| s.name == format!("mould {}", mould.name)).unwrap().volume();
            let expected = area(&shape.outline()) * (mould.aft - mould.fore);
            assert!((found / expected - 1.0).abs() < 1e-4, "{}: {found} for {expected}", mould.name);
        }
        // A timber is about its girth times its section; bending it inward takes a little.
        for timber in &plan.timbers {
            let found: f64 = of(Stuff::Timber)
                .filter(|s| s.name.split(' ').nth(1) == Some(&timber.n.to_string()))
                .map(Solid::volume)
                .sum();
            let spec = &plan.spec.timbers;
            let expected = 2.0 * timber.girth * spec.sided * spec.moulded;
            assert!((found / expected - 1.0).abs() < 0.05, "timber {}: {found} for {expected}", timber.n);
        }
    }
    // One side alone, where she is planned for that.
    let mut half = boats()[2].clone();
    half.side = Some("port");
    let planks: Vec<String> = solids(&half).into_iter().filter(|s| s.stuff == Stuff::Plank).map(|s| s.name).collect();
    assert!(planks.len() == half.strakes.len() && planks.iter().all(|name| name.ends_with("port")));
}

/// The outline as the plan has it: edges and hood ends.
fn outline(flat: &FlatPlank) -> Vec<Spot> {
    let end = |hood: &Option<boat::development::HoodEnd>| hood.as_ref().map_or_else(Vec::new, |h| h.curve.clone());
    let mut run: Vec<Spot> =
        flat.lower.iter().chain(&end(&flat.aft_hood)).chain(flat.upper.iter().rev()).copied().collect();
    run.extend(end(&flat.fore_hood).iter().rev());
    run
}

/// The runs of a group of an SVG file of ours, its height, y turned up; closed ones end where they began.
fn runs_of_svg(bytes: &[u8], group: &str) -> Vec<Vec<Spot>> {
    let text = std::str::from_utf8(bytes).unwrap();
    let options = roxmltree::ParsingOptions { allow_dtd: false, ..roxmltree::ParsingOptions::default() };
    let document = roxmltree::Document::parse_with_options(text, options).unwrap();
    let root = document.root_element();
    let size = |name: &str| root.attribute(name).unwrap().strip_suffix("mm").unwrap().parse::<f64>().unwrap();
    let view: Vec<f64> = root.attribute("viewBox").unwrap().split(' ').map(|v| v.parse().unwrap()).collect();
    assert_eq!(view, [0.0, 0.0, size("width"), size("height")]);
    let height = size("height");
    let points = |n: roxmltree::Node<'_, '_>| -> Vec<Spot> {
        let pair = |p: &str| p.split_once(',').map(|(x, y)| [x.parse().unwrap(), height - y.parse::<f64>().unwrap()]);
        n.attribute("points").unwrap().split(' ').map(|p| pair(p).unwrap()).collect()
    };
    let group = root.children().find(|n| n.attribute("id") == Some(group)).unwrap();
    group
        .children()
        .filter_map(|n| match n.tag_name().name() {
            "polygon" => {
                let mut run = points(n);
                run.push(run[0]);
                Some(run)
            }
            "polyline" => Some(points(n)),
            _ => None,
        })
        .collect()
}

/// Points along a run, at most `step` apart.
fn dense(run: &[Spot], step: f64) -> Vec<Spot> {
    let on = |w: &[Spot]| {
        let n = ((w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1]) / step).ceil().max(1.0) as usize;
        let (a, b) = (w[0], w[1]);
        (0..n).map(move |i| i as f64 / n as f64).map(move |s| [a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])])
    };
    run.windows(2).flat_map(on).chain(run.last().copied()).collect()
}

/// The greatest distance of points from a run; both run the same way round a part, so that only what is near is looked at.
fn most_off(points: &[Spot], run: &[Spot]) -> f64 {
    let bounds: Vec<[f64; 4]> = run
        .chunks(16)
        .enumerate()
        .map(|(i, _)| {
            let piece = &run[16 * i..(16 * i + 17).min(run.len())];
            let of =
                |axis: usize, pick: fn(f64, f64) -> f64, from: f64| piece.iter().map(|p| p[axis]).fold(from, pick);
            [
                of(0, f64::min, f64::MAX),
                of(0, f64::max, f64::MIN),
                of(1, f64::min, f64::MAX),
                of(1, f64::max, f64::MIN),
            ]
        })
        .collect();
    let one = |p: &Spot| {
        let mut least = f64::MAX;
        for (i, b) in bounds.iter().enumerate() {
            let away = (b[0] - p[0]).max(p[0] - b[1]).max(b[2] - p[1]).max(p[1] - b[3]);
            if away < least {
                let piece = &run[16 * i..(16 * i + 17).min(run.len())];
                least = piece.windows(2).map(|w| off_segment(*p, w[0], w[1])).fold(least, f64::min);
            }
        }
        least
    };
    points.iter().map(one).fold(0.0, f64::max)
}

/// A router's files are sound, say their unit, keep their layers, are closed, and stay within 0.05 mm of the plan's own curves
/// both ways, with far fewer points.
#[test]
fn flats_read_by_ezdxf_are_closed_arcs_within_a_twentieth_of_a_millimetre() {
    let [stem, _] = with_more_wood();
    for (i, plan) in boats().iter().chain([&stem]).enumerate() {
        let written = files(plan, &[Kind::Dxf, Kind::Svg]).unwrap();
        let dxf: Vec<File> = written.iter().filter(|f| f.name.ends_with("dxf")).cloned().collect();
        assert!(dxf.iter().all(|f| f.bytes.is_ascii()));
        let found = read_by("router.py", &format!("flats-{i}"), &dxf);
        for file in &dxf {
            let told = &found[&file.name];
            let place = format!("{}, {}", plan.spec.name, file.name);
            assert_eq!((&told["version"], &told["units"], &told["metric"]), (&json!("AC1015"), &json!(4), &json!(1)));
            assert_eq!((&told["errors"], &told["fixes"]), (&json!([]), &json!([])), "{place}");
            assert_eq!(told["text_layers"], json!(["TEXT"]));
            let runs = |layer: &str| -> Vec<&Value> {
                told["runs"].as_array().unwrap().iter().filter(|r| r["layer"] == layer).collect()
            };
            let svg = &written.iter().find(|f| f.name == file.name.replace("dxf", "svg")).unwrap().bytes;
            let drawn = if told["layers"].as_array().unwrap().contains(&json!("OUTLINE")) {
                runs_of_svg(svg, "outline")
            } else {
                Vec::new()
            };
            let cut = runs("OUTLINE");
            assert_eq!(cut.len(), drawn.len(), "{place}");
            let [mut worst, mut points, mut vertices] = [0.0_f64, 0.0, 0.0];
            for (cut, drawn) in cut.iter().zip(&drawn) {
                assert_eq!(cut["closed"], true, "{place}");
                let spot = |p: &Value| [number(&p[0]), number(&p[1])];
                let arcs: Vec<Spot> = cut["points"].as_array().unwrap().iter().map(spot).collect();
                let off = most_off(&dense(&arcs, 5.0), drawn).max(most_off(&dense(drawn, 5.0), &arcs));
                // With the reader's flattening, the SVG's third place and the DXF's fourth.
                assert!(off <= WITHIN, "{place}: {off}");
                worst = worst.max(off);
                points += drawn.len() as f64;
                vertices += number(&cut["vertices"]);
                let (ours, theirs) = (area(drawn), number(&cut["area"]));
                assert!((theirs / ours - 1.0).abs() < 2e-4, "{place}: {theirs} for {ours}");
            }
            if !drawn.is_empty() {
                println!("{place}: {points} points, {vertices} vertices, {worst:.4} mm");
            }
            let boxes = runs("MEASURED_BOX");
            let whole = if plan.spec.lengths == Notation::Mm { 50.0 * 20.0 } else { 50.8 * 19.05 };
            assert!(boxes.len() == 1 && (number(&boxes[0]["area"]) - whole).abs() < 0.01);
        }
        check_planks(plan, &found["planks.dxf"]);
        // A mould's and a flat transom's area, from the plan.
        let cut = |file: &str| -> Vec<f64> {
            let runs = found[file]["runs"].as_array().unwrap();
            runs.iter().filter(|r| r["layer"] == "OUTLINE").map(|r| number(&r["area"])).collect()
        };
        for (found, shape) in cut("moulds.dxf").iter().zip(&plan.setting_up.moulds) {
            let ours = area(&shape.outline());
            assert!((found / ours - 1.0).abs() < 7e-5, "mould {}: {found} for {ours}", shape.name);
        }
        assert_eq!(cut("moulds.dxf").len(), plan.moulds.len());
        let whole = plan.backbone.posts.iter().filter(|p| p.outline().is_some());
        assert_eq!(cut("stem-and-transom.dxf").len(), plan.backbone.transoms.len() + whole.count());
    }
}

/// As many outlines as planks, each as large as the plan's; a circle for every rivet of the lower land; the layers are there.
fn check_planks(plan: &Plan, told: &Value) {
    let runs = told["runs"].as_array().unwrap();
    let cut: Vec<&Value> = runs.iter().filter(|r| r["layer"] == "OUTLINE").collect();
    assert_eq!(cut.len(), plan.flats.len());
    for (cut, flat) in cut.iter().zip(&plan.flats) {
        let (ours, theirs) = (area(&outline(flat)), number(&cut["area"]));
        assert!((theirs / ours - 1.0).abs() < 2e-4, "strake {}: {theirs} for {ours}", flat.strake);
        assert!(number(&cut["arcs"]) >= 2.0);
    }
    let rivets = told["circles"].as_array().unwrap().iter().filter(|c| c["layer"] == "RIVETS").count();
    assert_eq!(rivets, plan.rivets.len());
    for layer in ["OUTLINE", "LANDS", "STATIONS", "TIMBERS", "BATTEN_LINE", "TEXT", "MEASURED_BOX"] {
        assert!(told["layers"].as_array().unwrap().contains(&json!(layer)), "{layer}");
    }
    assert_eq!(told["kinds"], json!(["CIRCLE", "LWPOLYLINE", "TEXT"]));
}

/// Tables come back through Python's csv as they are in the plan, in both systems of units.
#[test]
fn tables_read_by_python_are_the_plans() {
    for (i, plan) in boats().iter().enumerate() {
        let mut plan = plan.clone();
        plan.spec.planking.wood.name = "=HYPERLINK(\"a\"); \"larch\", Æ".to_owned();
        let written = files(&plan, &[Kind::Csv]).unwrap();
        let found = read_by("tables.py", &format!("tables-{i}"), &written);
        let table = |name: &str| -> Vec<Vec<String>> {
            serde_json::from_value(found[format!("table-{name}.csv")].clone())
                .unwrap_or_else(|e| panic!("{name}: {e}"))
        };
        for (name, rows) in found.as_object().unwrap() {
            let rows: Vec<Vec<String>> = serde_json::from_value(rows.clone()).unwrap();
            assert!(rows.len() > 1 && rows.iter().all(|r| r.len() == rows[0].len()), "{name}");
            for cell in rows.iter().flatten() {
                let formula = cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err();
                assert!(!formula, "{name}: {cell}");
            }
            check_lengths(name, &plan, &rows);
        }
        let column = |rows: &[Vec<String>], head: &str| -> usize {
            rows[0].iter().position(|h| h.starts_with(head)).unwrap_or_else(|| panic!("no {head} in {:?}", rows[0]))
        };
        let unit = if plan.spec.lengths == Notation::Mm { 1.0 } else { 25.4 };
        let same = |text: &str, mm: f64| (text.parse::<f64>().unwrap() * unit - mm).abs() < 0.006;
        let marks = table("marks");
        assert_eq!(marks.len(), plan.marks.len() + 1);
        let girth = column(&marks, "girth");
        for (row, mark) in marks[1..].iter().zip(&plan.marks) {
            assert!(row[0] == mark.land.to_string() && same(&row[girth], mark.girth), "{row:?}");
        }
        let rivets = table("rivets");
        assert_eq!(rivets.len(), plan.rivets.len() + 1);
        let (grip, lean) = (column(&rivets, "grip"), column(&rivets, "lean degrees"));
        for (row, rivet) in rivets[1..].iter().zip(&plan.rivets) {
            assert!(same(&row[grip], rivet.grip), "{row:?}");
            assert!((row[lean].parse::<f64>().unwrap() - rivet.lean.to_degrees()).abs() < 0.006);
        }
        let planks = table("planks");
        let (length, wood) = (column(&planks, "length"), column(&planks, "wood"));
        for (row, flat) in planks[1..].iter().zip(&plan.flats) {
            assert!(same(&row[length], flat.length));
            assert_eq!(row[wood], format!("'{}", plan.spec.planking.wood.name));
        }
        let weights = table("weights");
        let kg = weights[0].iter().position(|h| h == "weighs kg").unwrap();
        let all = weights.iter().find(|r| r[0] == "all of these").unwrap();
        assert!((all[kg].parse::<f64>().unwrap() - plan.weights.total).abs() < 0.001);
        let given = plan.table.rows.iter().flat_map(|r| &r.cells).filter(|c| c.is_some()).count();
        assert!(table("offsets").len() > given);
        let strakes: usize = plan.strakes.iter().map(|s| s.at.len()).sum();
        assert_eq!(table("widths").len(), strakes + 1);
        assert_eq!(table("bevels").len(), plan.bevels.len() + 1);
        assert_eq!(table("moulds").len(), plan.moulds.len() + 1);
        assert_eq!(table("timbers").len(), plan.timbers.len() + 1);
        assert_eq!(table("order").len(), plan.order.len() + 1);
    }
}

/// LibreOffice Calc takes numbers for numbers and words for words: no day, no formula, nothing else. That it would find them is
/// seen on a table that has them.
#[test]
fn tables_open_right_in_a_spreadsheet() {
    let mut written = Vec::new();
    for (i, plan) in boats().iter().take(2).enumerate() {
        let mut plan = plan.clone();
        // Each would be something else to a spreadsheet.
        plan.moulds[0].name = "3/4".to_owned();
        plan.spec.planking.wood.name = "=1+1".to_owned();
        let files = files(&plan, &[Kind::Csv]).unwrap();
        written.extend(files.into_iter().map(|f| File { name: format!("{i}-{}", f.name), ..f }));
    }
    let control = File { name: "control.csv".to_owned(), bytes: b"a,b,c\r\n3/4,=1+1,3/4 in\r\n".to_vec() };
    let all: Vec<File> = written.iter().cloned().chain([control]).collect();
    let found = told_of_all("sheets.py", "libreoffice-calc", "sheets", &all);
    let kinds = |name: &str, row: usize| -> Vec<String> {
        let cells = found[name][row].as_array().unwrap_or_else(|| panic!("{name} has no row {row}"));
        cells.iter().map(|c| c[0].as_str().unwrap_or("empty").to_owned()).collect()
    };
    assert_eq!(kinds("control.csv", 1), ["date", "formula float", "string"]);
    for file in &written {
        let name = file.name.as_str();
        let text = std::str::from_utf8(&file.bytes).unwrap();
        let lines: Vec<&str> = text.trim_start_matches('\u{feff}').trim_end().split("\r\n").collect();
        assert_eq!(found[name].as_array().unwrap().len(), lines.len(), "{name}");
        assert_eq!(found[name][0][0][1], lines[0].split(',').next().unwrap(), "{name}");
        for row in 0..lines.len() {
            for (cell, kind) in found[name][row].as_array().unwrap().iter().zip(kinds(name, row)) {
                let fits = match kind.as_str() {
                    "float" => lines[row].split(',').any(|c| c.parse() == Ok(number(&cell[1]))),
                    "string" => cell[1].as_str().unwrap().parse::<f64>().is_err(),
                    other => other == "empty",
                };
                assert!(fits, "{name}, row {row}: {kind} {cell}");
            }
        }
    }
}

/// Beside inches stands the fraction of the same length; beside millimetres nothing. No cell would be read as a day.
fn check_lengths(name: &str, plan: &Plan, rows: &[Vec<String>]) {
    let inches = plan.spec.lengths != Notation::Mm;
    for (i, head) in rows[0].iter().enumerate() {
        if !inches {
            assert!(!head.ends_with(" in") && !head.ends_with(" fractions"), "{name}: {head}");
        }
        if !head.ends_with(" in") {
            continue;
        }
        assert_eq!(rows[0][i + 1], format!("{head} fractions"));
        for row in &rows[1..] {
            let (decimal, fraction) = (&row[i], &row[i + 1]);
            assert_eq!(decimal.is_empty(), fraction.is_empty(), "{name}: {row:?}");
            if decimal.is_empty() {
                continue;
            }
            let text = fraction.strip_suffix(" in").unwrap_or_else(|| panic!("{name}: {fraction}"));
            let (sign, text) = text.strip_prefix('\u{2212}').map_or((1.0, text), |rest| (-1.0, rest));
            let part = |p: &str| match p.split_once('/') {
                Some((n, d)) => n.parse::<f64>().unwrap() / d.parse::<f64>().unwrap(),
                None => p.parse::<f64>().unwrap(),
            };
            let read: f64 = sign * text.split(' ').map(part).sum::<f64>();
            let inches: f64 = decimal.parse().unwrap();
            assert!((read - inches).abs() <= 1.0 / 32.0 + 1e-4, "{name}: {decimal} and {fraction}");
        }
    }
}
