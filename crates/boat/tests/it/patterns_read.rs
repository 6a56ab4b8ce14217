//! Full-size patterns read back by other people's programs and measured.
//!
//! PDFs are opened with qpdf and poppler, SVG with an XML reader, DXF with ezdxf. Lengths are held to 0.1 mm, what a sharp
//! pencil can follow.

use std::collections::{BTreeMap, BTreeSet};

use boat::drawing::place::Bounds;
use boat::drawing::{Item, Outline, Scale, Sheet, Spot};
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperSize, roll, write_dxf, write_svg};
use boat::plan::Plan;
use boat::spec::EndSpec;

use crate::measure::{apart, off_segment};
use crate::paper::boats;
use crate::patterns::{PAPERS, WITHIN, all, face, named};
use crate::pdf_read::{Ink, ReadPage, boxes, read};
use crate::readers::told_of;
use crate::tapes_read::land_of;

fn box_of(sheet: &Sheet) -> [f64; 2] {
    let Scale::Measured { size, .. } = sheet.scale else { panic!("{}: no box", sheet.title) };
    size
}

#[test]
fn every_page_carries_a_box_that_measures_right_in_the_bytes() {
    let t = face();
    for plan in boats() {
        let found = all(plan);
        let size = box_of(&found[0].sheet);
        let inches = plan.spec.lengths != boat::units::Notation::Mm;
        assert_eq!(size, if inches { [50.8, 19.05] } else { [50.0, 20.0] });
        let few: Vec<Pattern> = found.iter().step_by(5).cloned().collect();
        for (paper, _) in PAPERS {
            let bytes = patterns::write_tiles(&t, plan, &few, paper).expect("tiles");
            let pages = read(&format!("tiles-{}-{paper:?}", plan.spec.name), &bytes);
            assert!(pages.len() > few.len());
            for (i, page) in pages.iter().enumerate() {
                assert_eq!(boxes(page, size, WITHIN), 1, "{}, {paper:?}, page {}", plan.spec.name, i + 1);
            }
        }
        for width in [roll::USUAL, 420.0] {
            let bytes = patterns::write_roll(&t, plan, &found, width).expect("a roll");
            let pages = read(&format!("roll-{}-{width}", plan.spec.name), &bytes);
            for page in &pages {
                assert!((page.size[1] - width).abs() < WITHIN && page.size[0] < 5080.0, "{:?}", page.size);
                assert!(boxes(page, size, WITHIN) >= 1, "{}: a page of the roll has no box", plan.spec.name);
            }
            let all: usize = pages.iter().map(|page| boxes(page, size, WITHIN)).sum();
            assert!(all >= found.len(), "{}: {all} boxes", plan.spec.name);
        }
    }
}

/// A diamond on a page: a closed path of four equal slanting sides. Its middle.
fn diamonds(page: &ReadPage) -> Vec<Spot> {
    let is_diamond = |p: &[Spot]| {
        let [a, b, c, d] = [p[0], p[1], p[2], p[3]];
        let upright = (a[0] - c[0]).abs() < 0.02 && (b[1] - d[1]).abs() < 0.02;
        upright && (apart(a, c) - 6.0).abs() < WITHIN && (apart(b, d) - 6.0).abs() < WITHIN
    };
    let closed = page.paths.iter().filter(|p| p.points.len() == 5 && is_diamond(&p.points));
    closed.map(|p| [0.5 * (p.points[0][0] + p.points[2][0]), 0.5 * (p.points[1][1] + p.points[3][1])]).collect()
}

/// The letters of each diamond of a page, as they stand nearest to it, and its middle.
fn marks(page: &ReadPage) -> BTreeMap<String, Spot> {
    let letters = |w: &str| w.len() <= 2 && w.chars().all(|c| c.is_ascii_uppercase());
    let mut found = BTreeMap::new();
    for at in diamonds(page) {
        let near = page.words.iter().filter(|(w, p)| letters(w) && apart(*p, at) < 9.0);
        let (word, _) = near.min_by(|a, b| apart(a.1, at).total_cmp(&apart(b.1, at))).expect("letters at a diamond");
        assert!(found.insert(word.clone(), at).is_none(), "{word} stands on one sheet twice");
    }
    found
}

/// Sticks pages together as a builder does: diamonds of one letter on each other. Returns how far each page moves, and
/// checks that every mark of both is met.
fn stuck(pages: &[ReadPage]) -> Vec<Spot> {
    let marks: Vec<BTreeMap<String, Spot>> = pages.iter().map(marks).collect();
    let mut moves: Vec<Option<Spot>> = vec![None; pages.len()];
    moves[0] = Some([0.0, 0.0]);
    loop {
        let mut joined = false;
        for (a, b) in (0..pages.len()).flat_map(|a| (0..pages.len()).map(move |b| (a, b))) {
            let Some(by) = moves[a] else { continue };
            for (letter, at) in marks[a].iter().filter_map(|(l, at)| marks[b].get(l).map(|_| (l, at))) {
                let other = marks[b][letter];
                let wanted = [by[0] + at[0] - other[0], by[1] + at[1] - other[1]];
                match moves[b] {
                    None => {
                        moves[b] = Some(wanted);
                        joined = true;
                    }
                    Some(found) => assert!(apart(found, wanted) < WITHIN, "mark {letter} does not meet"),
                }
            }
        }
        if !joined {
            break;
        }
    }
    moves.into_iter().map(|m| m.expect("every sheet hangs together with the others")).collect()
}

/// Pens that only the pattern's own lines are drawn with: its outline, lands, stations and centrelines.
fn is_pattern(path: &&Ink) -> bool {
    path.pen > 0.22
}

fn moved(points: &[Spot], by: Spot) -> Vec<Spot> {
    points.iter().map(|p| [p[0] + by[0], p[1] + by[1]]).collect()
}

/// Points along runs, no further apart than a mm.
fn walked(runs: &[Vec<Spot>]) -> Vec<Spot> {
    let step = |w: &[Spot]| {
        let n = apart(w[0], w[1]).ceil().max(1.0) as usize;
        let (a, b) = (w[0], w[1]);
        (0..=n).map(move |i| {
            let t = i as f64 / n as f64;
            [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
        })
    };
    runs.iter().flat_map(|run| run.windows(2).flat_map(step).collect::<Vec<_>>()).collect()
}

/// The tiles of a pattern, stuck together by their marks, are the roll's drawing.
#[test]
fn tiles_stuck_together_are_the_roll() {
    let t = face();
    let cases = [
        (0, "Strake 3 of 10", PaperSize::A4),
        (0, "Mould 4", PaperSize::Letter),
        (0, "Transom", PaperSize::A3),
        (0, "Keel", PaperSize::A3),
        (1, "Stem", PaperSize::A4),
        (1, "Mould 5", PaperSize::Tabloid),
        (3, "Sternpost", PaperSize::A2),
        (3, "Strake 2 of 9", PaperSize::A3),
    ];
    for (boat, name, paper) in cases {
        let plan = &boats()[boat];
        let pattern = [named(plan, name)];
        let place = format!("{name} on {paper:?}");
        let bytes = patterns::write_roll(&t, plan, &pattern, 2000.0).expect("a roll");
        let roll = read(&format!("whole-{boat}-{name}"), &bytes);
        assert_eq!(roll.len(), 1);
        let bytes = patterns::write_tiles(&t, plan, &pattern, paper).expect("tiles");
        let mut tiles = read(&format!("tiled-{boat}-{name}"), &bytes);
        // The map comes first.
        tiles.remove(0);
        check_stuck(&place, &tiles, &roll[0]);
    }
}

/// A plank longer than a page of the roll, and moulds wider than the roll, come in strips that hang together.
#[test]
fn strips_of_a_roll_stuck_together_are_the_whole() {
    let t = face();
    let plan = &boats()[0];
    for name in ["Mould 4", "Strake 5 of 10"] {
        let mut pattern = [named(plan, name)];
        if name.starts_with("Strake") {
            // Half as long again as any page.
            for item in pattern[0].sheet.layers.iter_mut().flat_map(|l| &mut l.items) {
                if let Item::Shape(shape) = item
                    && let Outline::Line(points) | Outline::Polygon(points) = &mut shape.outline
                {
                    points.iter_mut().for_each(|p| p[0] *= 1.9);
                }
            }
            pattern[0].sheet.width *= 1.9;
        }
        let bytes = patterns::write_roll(&t, plan, &pattern, 320.0).expect("a roll");
        let strips = read(&format!("strips-{name}"), &bytes);
        assert!(strips.len() > 1 && strips.iter().all(|s| s.size[0] <= roll::LONGEST + WITHIN));
        let drawn = &pattern[0].sheet;
        let paths = drawn.shapes().filter_map(|s| match &s.outline {
            Outline::Line(points) => Some((points.clone(), s.stroke?.weight.mm())),
            Outline::Polygon(points) => {
                Some((points.iter().chain(points.first()).copied().collect(), s.stroke?.weight.mm()))
            }
            Outline::Circle { .. } => None,
        });
        let whole = ReadPage {
            size: [drawn.width, drawn.height],
            paths: paths.map(|(points, pen)| Ink { pen, points }).collect(),
            words: Vec::new(),
        };
        check_stuck(name, &strips, &whole);
    }
}

fn check_stuck(place: &str, tiles: &[ReadPage], whole: &ReadPage) {
    let moves = stuck(tiles);
    let own = |page: &ReadPage, by: Spot| -> Vec<Vec<Spot>> {
        page.paths.iter().filter(is_pattern).map(|p| moved(&p.points, by)).collect()
    };
    let mut stuck: Vec<Vec<Spot>> = tiles.iter().zip(&moves).flat_map(|(page, by)| own(page, *by)).collect();
    let whole = own(whole, [0.0, 0.0]);
    // Both laid with the corner of what is drawn at the same place.
    let corner = |runs: &[Vec<Spot>]| Bounds::of(runs.iter().flatten().copied()).expect("lines");
    let (a, b) = (corner(&stuck), corner(&whole));
    assert!(
        (a.width() - b.width()).abs() < WITHIN && (a.height() - b.height()).abs() < WITHIN,
        "{place}: {a:?} {b:?}"
    );
    let by = [b.left - a.left, b.top - a.top];
    stuck.iter_mut().for_each(|run| *run = moved(run, by));
    // Every stuck line is one of the whole's, and none of the whole's is missing.
    for (from, to, word) in [(&stuck, &whole, "stuck on"), (&whole, &stuck, "missing")] {
        let near = Near::new(to);
        let worst =
            walked(from).into_iter().map(|p| (near.off(p), p)).max_by(|a, b| a.0.total_cmp(&b.0)).expect("lines");
        assert!(worst.0 < WITHIN, "{place}: {word} at {:?}, {} mm off", worst.1, worst.0);
    }
}

/// Runs sorted into cells 20 mm square, so that the nearest is found without asking all.
struct Near(BTreeMap<[i64; 2], Vec<[Spot; 2]>>);

impl Near {
    const CELL: f64 = 20.0;

    fn new(runs: &[Vec<Spot>]) -> Near {
        let mut cells: BTreeMap<[i64; 2], Vec<[Spot; 2]>> = BTreeMap::new();
        for w in runs.iter().flat_map(|run| run.windows(2)) {
            let b = Bounds::of([w[0], w[1]]).expect("points").grown(1.0);
            let cell = |v: f64| (v / Self::CELL).floor() as i64;
            for x in cell(b.left)..=cell(b.right) {
                for y in cell(b.top)..=cell(b.bottom) {
                    cells.entry([x, y]).or_default().push([w[0], w[1]]);
                }
            }
        }
        Near(cells)
    }

    /// Distance to the nearest run; far where none is near.
    fn off(&self, p: Spot) -> f64 {
        let cell = p.map(|v| (v / Self::CELL).floor() as i64);
        let near = self.0.get(&cell).into_iter().flatten();
        near.map(|[a, b]| off_segment(p, *a, *b)).fold(f64::MAX, f64::min)
    }
}

#[test]
fn the_map_says_which_sheet_lies_where_and_every_sheet_says_it_too() {
    let plan = &boats()[0];
    let pattern = [named(plan, "Mould 4")];
    let bytes = patterns::write_tiles(&face(), plan, &pattern, PaperSize::A4).expect("tiles");
    let pages = read("map", &bytes);
    let n = pages.len() - 1;
    assert!(n > 8);
    // The map's numbers stand as the sheets lie.
    let number = |i: usize| pages[0].words.iter().rfind(|(w, _)| *w == i.to_string()).expect("a sheet on the map").1;
    let moves = stuck(&pages[1..]);
    for i in 2..=n {
        let (map, paper) = (number(i), moves[i - 1]);
        let first = number(1);
        for axis in 0..2 {
            let (on_map, on_paper) = (map[axis] - first[axis], paper[axis]);
            assert!((on_map > 1.0) == (on_paper > 1.0) && (on_map < -1.0) == (on_paper < -1.0), "sheet {i}");
        }
    }
    for (i, page) in pages.iter().enumerate().skip(1) {
        let words: Vec<&str> = page.words.iter().map(|w| w.0.as_str()).collect();
        let says = words.join(" ");
        assert!(
            says.contains(&format!("sheet {i} of {n}")) && says.contains("row ") && says.contains("Mould 4"),
            "{says}"
        );
        // Nothing prints outside the frame but the foot: the frame is the largest upright box.
        let [w, h] = page.size;
        let frame = [w - 16.0, h - 16.0 - 24.0];
        assert_eq!(boxes(page, frame, WITHIN), 1);
        for path in page.paths.iter().filter(is_pattern) {
            let inside = |p: &Spot| p[0] > 7.99 && p[0] < w - 7.99 && p[1] > 7.99 && p[1] < h - 31.99;
            assert!(path.points.iter().all(inside), "sheet {i}: a line leaves the frame");
        }
    }
}

#[test]
fn same_plan_same_bytes() {
    let plan = &boats()[1];
    let t = face();
    let (a, b) = (all(plan), all(&plan.clone()));
    let tiles = |p: &[Pattern]| patterns::write_tiles(&t, plan, p, PaperSize::A3).expect("tiles");
    assert_eq!(tiles(&a[..6]), tiles(&b[..6]));
    for (a, b) in a.iter().zip(&b) {
        assert_eq!(write_svg(&t, &a.sheet), write_svg(&t, &b.sheet));
        assert_eq!(write_dxf(&a.sheet), write_dxf(&b.sheet));
    }
}

/// A list of points as SVG has them.
pub fn points(node: &roxmltree::Node<'_, '_>) -> Vec<Spot> {
    let list = node.attribute("points").unwrap_or_default();
    let number = |v: &str| v.parse::<f64>().expect("a number");
    list.split(' ').filter_map(|p| p.split_once(',')).map(|(x, y)| [number(x), number(y)]).collect()
}

#[test]
fn svg_read_by_an_xml_reader_is_full_size_and_in_layers() {
    for plan in boats() {
        for pattern in all(plan) {
            let text = write_svg(&face(), &pattern.sheet);
            let document = roxmltree::Document::parse(&text).expect("well-formed XML");
            let root = document.root_element();
            // So many mm, and as many units in them.
            let mm = |name: &str| -> f64 {
                root.attribute(name).and_then(|v| v.strip_suffix("mm")).and_then(|v| v.parse().ok()).expect("mm")
            };
            let view: Vec<f64> = root
                .attribute("viewBox")
                .expect("a view box")
                .split(' ')
                .map(|v| v.parse().expect("a number"))
                .collect();
            assert_eq!(view, [0.0, 0.0, mm("width"), mm("height")]);
            assert!((mm("width") - pattern.sheet.width).abs() < 0.001);
            let desc =
                root.children().find(|n| n.has_tag_name("desc")).and_then(|n| n.text()).expect("a description");
            assert!(desc.contains("lengths in mm"), "{desc}");
            let layer = |id: &str| root.children().find(|n| n.attribute("id") == Some(id));
            for l in &pattern.sheet.layers {
                let group = layer(&l.name.replace(' ', "-")).unwrap_or_else(|| panic!("no layer {}", l.name));
                assert_eq!(group.children().find(|n| n.has_tag_name("title")).and_then(|n| n.text()), Some(l.name));
            }
            let shape = |id: &str| -> Vec<Spot> {
                let group = layer(id).unwrap_or_else(|| panic!("no layer {id}"));
                group.descendants().map(|n| points(&n)).find(|p| !p.is_empty()).expect("points")
            };
            let bounds = |id: &str| Bounds::of(shape(id)).expect("points");
            let measured = bounds("measured-box");
            let [w, h] = box_of(&pattern.sheet);
            assert!((measured.width() - w).abs() < WITHIN && (measured.height() - h).abs() < WITHIN);
            let (width, height) = truth(plan, &pattern);
            let drawn = bounds(&outline_layer(pattern.kind).replace(' ', "-"));
            assert!((drawn.width() - width).abs() < WITHIN, "{}: {} for {width}", pattern.name, drawn.width());
            assert!((drawn.height() - height).abs() < WITHIN, "{}: {} for {height}", pattern.name, drawn.height());
            let words: String = root.descendants().filter_map(|n| n.attribute("aria-label")).collect();
            // Every letter is drawn with an outline that is there.
            let ids: BTreeSet<&str> = root.descendants().filter_map(|n| n.attribute("id")).collect();
            let uses: Vec<&str> = root
                .descendants()
                .filter_map(|n| n.attribute(("http://www.w3.org/1999/xlink", "href"))?.strip_prefix('#'))
                .collect();
            assert!(uses.len() > 200 && uses.iter().all(|id| ids.contains(id)));
            assert!(words.contains(&pattern.name) && words.contains("Drawn full size."), "{words}");
        }
    }
}

/// The layer whose first run has the width and height of [`truth`].
fn outline_layer(kind: Kind) -> &'static str {
    match kind {
        Kind::Stem => "inner rabbet",
        Kind::Keel => "rabbet line",
        Kind::Mould | Kind::Transom | Kind::Plank | Kind::Tape | Kind::Interior => "outline",
    }
}

/// Width and height of a pattern's outline from the plan, mm.
fn truth(plan: &Plan, pattern: &Pattern) -> (f64, f64) {
    let range = |values: Vec<f64>| {
        values.iter().copied().fold(f64::MIN, f64::max) - values.iter().copied().fold(f64::MAX, f64::min)
    };
    match pattern.kind {
        Kind::Plank => {
            let flat =
                &plan.flats.iter().find(|f| pattern.name.starts_with(&format!("Strake {} ", f.strake))).unwrap();
            let made = plan.made.iter().find(|m| m.strake == flat.strake).unwrap();
            match made.parts.iter().find(|p| pattern.name.contains(&format!(" part {} of", p.part))) {
                Some(part) => (part.board.length, part.board.width),
                None => (flat.length, flat.board_width),
            }
        }
        Kind::Mould => {
            let mould = plan.moulds.iter().find(|m| pattern.name == format!("Mould {}", m.name)).unwrap();
            let shape = plan.setting_up.moulds.iter().find(|m| m.section == mould.section).unwrap();
            let half = shape.edge.iter().map(|p| p[0]).fold(0.0, f64::max);
            // From where the edge leaves the notch for the hog.
            let w = shape.edge.windows(2).find(|w| w[1][0] >= shape.notch.half_breadth).unwrap();
            let foot = w[0][1]
                + (w[1][1] - w[0][1]) * ((shape.notch.half_breadth - w[0][0]) / (w[1][0] - w[0][0])).clamp(0.0, 1.0);
            // A section may hang below its rabbet.
            let lowest = shape.edge.iter().filter(|p| p[0] >= shape.notch.half_breadth).map(|p| p[1]);
            let foot = lowest.fold(foot, f64::min);
            let top = shape.edge.iter().map(|p| p[1]).fold(f64::MIN, f64::max);
            (2.0 * half, top - foot)
        }
        Kind::Stem => {
            let index = if pattern.name == "Stem" { 0 } else { plan.sections.len() - 1 };
            let points = &plan.sections[index].points;
            (range(points.iter().map(|p| p.x).collect()), range(points.iter().map(|p| p.z).collect()))
        }
        Kind::Tape => (land_of(plan, pattern).1, 40.0),
        Kind::Interior => interior_truth(plan, pattern),
        // The rabbet line in profile.
        Kind::Keel => {
            let line = || plan.backbone.keel.iter().filter_map(|r| r.outer);
            (range(line().map(|p| p.x).collect()), range(line().map(|p| p.z).collect()))
        }
        Kind::Transom => {
            let bow = pattern.name == "Bow transom";
            let j = if bow { 0 } else { plan.sections.len() - 1 };
            let points = &plan.sections[j].points;
            let end = if bow { &plan.spec.fore } else { &plan.spec.aft };
            let EndSpec::Transom(t) = end else { panic!("no transom") };
            let (foot, head) = (points[0], points[points.len() - 1]);
            match t.radius {
                None => (2.0 * head.y, (head.x - foot.x).hypot(head.z - foot.z) + t.crown.unwrap_or(0.0)),
                // Unrolled: the arc, and up the lean from the rabbet to the top's middle, level with the sheer.
                Some(r) => {
                    let fall = |y: f64| r - (r * r - y * y).sqrt();
                    let lean = (t.head[0] - t.foot[0]).atan2(t.head[1] - t.foot[1]);
                    let rise = (head.z - foot.z + fall(foot.y) * lean.sin()) / lean.cos();
                    (2.0 * r * (head.y / r).asin(), rise + t.crown.unwrap_or(0.0))
                }
            }
        }
    }
}

/// A knee is as large as its least board, a thwart's end as wide as the thwart, and as long as its longest top line from a whole
/// number of 50 mm or 2 in off the centreline, 100 mm or more within its shortest line.
fn interior_truth(plan: &Plan, pattern: &Pattern) -> (f64, f64) {
    if let Some(k) = plan.interior.knees.iter().find(|k| k.name.to_lowercase() == pattern.name.to_lowercase()) {
        let range = |i: usize| {
            let of = k.outline.iter().map(|p| k.seen(*p)[i]);
            of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
        };
        let found = [range(0), range(1)];
        assert_eq!([found[0].max(found[1]), found[0].min(found[1])], k.board);
        return (found[0], found[1]);
    }
    let name = pattern.name.to_lowercase();
    let t =
        plan.interior.thwarts.iter().find(|t| name == format!("{}, end", t.name.to_lowercase())).expect("a thwart");
    let step = if plan.spec.lengths == boat::units::Notation::Mm { 50.0 } else { 50.8 };
    let halves = || t.end.iter().flat_map(|e| [e.top, e.under]).chain(t.notches.iter().flat_map(|n| n.to));
    let from = ((halves().fold(f64::MAX, f64::min) - 100.0) / step).floor() * step;
    // A notch at an edge takes the corner with it.
    let at_edge = |side: f64| t.notches.iter().any(|n| n.sides.contains(&side));
    let longest = t.outline(false).iter().map(|p| p[1]).fold(0.0, f64::max);
    if !t.edges.iter().any(|edge| at_edge(*edge)) {
        assert_eq!(longest, t.end.iter().map(|e| e.top).fold(0.0, f64::max));
    }
    (longest - from, t.edges[1] - t.edges[0])
}

#[test]
fn dxf_read_by_ezdxf_is_full_size_and_in_layers() {
    for (plan, names) in [
        (&boats()[0], vec!["Strake 3 of 10", "Mould 4", "Transom", "Stem", "Tape of land 3"]),
        (&boats()[1], vec!["Strake 9 of 9", "Sternpost"]),
    ] {
        for name in names {
            let mut plan = plan.clone();
            plan.spec.name = "Æðr ^ 100%%d \\".to_owned();
            let pattern = named(&plan, name);
            let text = write_dxf(&pattern.sheet);
            assert!(text.is_ascii() && text.lines().nth(1).is_some_and(|l| l.contains("lengths in mm")));
            let scratch = format!("dxf-{}-{name}", plan.spec.planking.thickness);
            let found = told_of("dxf.py", "ezdxf, by ./check", &scratch, "dxf", text);
            check_dxf(&plan, &pattern, &found);
        }
    }
}

fn check_dxf(plan: &Plan, pattern: &Pattern, found: &serde_json::Value) {
    let name = &pattern.name;
    assert_eq!(found["version"], "AC1009");
    assert_eq!(found["errors"], serde_json::json!([]), "{name}: the audit found fault");
    assert_eq!(found["fixes"], serde_json::json!([]), "{name}: the audit had to mend");
    assert_eq!(found["extent"][0], serde_json::json!([0.0, 0.0]));
    let list = |key: &str| found[key].as_array().expect("a list").clone();
    let layers: Vec<String> = list("layers").iter().map(|l| l.as_str().unwrap().to_owned()).collect();
    for layer in &pattern.sheet.layers {
        let wanted = layer.name.to_uppercase().replace(' ', "_");
        assert!(layers.contains(&wanted), "{name}: no layer {wanted} among {layers:?}");
    }
    let spot = |v: &serde_json::Value| [v[0].as_f64().unwrap(), v[1].as_f64().unwrap()];
    let runs = |layer: &str| -> Vec<Vec<Spot>> {
        let of = |p: &&serde_json::Value| p["layer"] == layer;
        let points = |p: &serde_json::Value| p["points"].as_array().unwrap().iter().map(spot).collect();
        list("polylines").iter().filter(of).map(points).collect()
    };
    let mut drawn = runs(&outline_layer(pattern.kind).to_uppercase().replace(' ', "_"));
    if pattern.kind == Kind::Keel {
        // In profile; the other is in plan.
        drawn.truncate(1);
    }
    let bounds = Bounds::of(drawn.concat()).expect("points");
    let (width, height) = truth(plan, pattern);
    assert!(
        (bounds.width() - width).abs() < WITHIN && (bounds.height() - height).abs() < WITHIN,
        "{name}: {bounds:?}"
    );
    let measured = Bounds::of(runs("MEASURED_BOX").concat()).expect("a box");
    let [w, h] = box_of(&pattern.sheet);
    assert!((measured.width() - w).abs() < WITHIN && (measured.height() - h).abs() < WITHIN);
    if pattern.kind == Kind::Plank {
        // y runs up: every corner of the plank's edges, from the batten line.
        let flat = plan.flats.iter().find(|f| name.starts_with(&format!("Strake {} ", f.strake))).unwrap();
        let corner = |p: &[f64; 2]| [bounds.left + p[0], bounds.top + p[1]];
        for p in flat.lower.iter().chain(&flat.upper) {
            let near = drawn[0].iter().map(|q| apart(*q, corner(p))).fold(f64::MAX, f64::min);
            assert!(near < WITHIN, "{name}: no corner at {p:?}");
        }
        let rivets = plan.rivets.iter().filter(|r| r.land + 1 == flat.strake).count();
        assert_eq!(list("circles").iter().filter(|c| c["layer"] == "RIVETS").count(), rivets);
    }
    let words: Vec<String> = list("texts").iter().map(|t| t["words"].as_str().unwrap().to_owned()).collect();
    assert!(words.iter().any(|w| w.contains("lengths in mm")), "{words:?}");
    assert!(words.iter().any(|w| w == name), "{words:?}");
    let whose: Vec<&String> = words.iter().filter(|w| w.contains('^')).collect();
    assert!(words.iter().any(|w| w.starts_with("Æðr ^ 100% %d \\")), "{name}: {whose:?}");
}
