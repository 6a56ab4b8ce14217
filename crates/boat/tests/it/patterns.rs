//! Full-size patterns on their sheets, before they are written: what is on them, and that no words touch.

use std::collections::BTreeSet;

use boat::drawing::place::Bounds;
use boat::drawing::typeface::{CAP_HEIGHT, DESCENT, Type};
use boat::drawing::words::{self, LEAST_SIZE, Style};
use boat::drawing::{Anchor, Colour, Face, Item, Outline, Sheet, Spot, Text};
use boat::lines::SectionAt;
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperSize, roll, tile};
use boat::plan::Plan;
use boat::spec::EndSpec;

use crate::measure::{apart, off_run, off_segment};
use crate::paper::boats;

/// Most that a length read back may be out, mm.
pub const WITHIN: f64 = 0.1;
/// Points to the mm.
pub const POINTS: f64 = 72.0 / 25.4;
pub const PAPERS: [(PaperSize, [f64; 2]); 5] = [
    (PaperSize::A4, [210.0, 297.0]),
    (PaperSize::A3, [297.0, 420.0]),
    (PaperSize::A2, [420.0, 594.0]),
    (PaperSize::Letter, [215.9, 279.4]),
    (PaperSize::Tabloid, [279.4, 431.8]),
];

pub fn all(plan: &Plan) -> Vec<Pattern> {
    patterns::patterns(&face(), plan, &Kind::ALL)
}

pub fn face() -> Type {
    Type::embedded().expect("embedded type")
}

/// The pattern of that name.
pub fn named(plan: &Plan, name: &str) -> Pattern {
    all(plan).into_iter().find(|p| p.name == name).unwrap_or_else(|| panic!("no pattern {name}"))
}

/// Distance of a point from the nearest of some runs.
pub fn off(p: Spot, runs: &[Vec<Spot>]) -> f64 {
    runs.iter().map(|run| off_run(p, run)).fold(f64::MAX, f64::min)
}

/// The shapes of a layer as closed or open runs; a closed one ends where it began.
pub fn runs_on(sheet: &Sheet, layer: &str) -> Vec<Vec<Spot>> {
    let items = sheet.layers.iter().filter(|l| l.name == layer).flat_map(|l| &l.items);
    items
        .filter_map(|item| match item {
            Item::Shape(shape) => match &shape.outline {
                Outline::Line(points) => Some(points.clone()),
                Outline::Polygon(points) => Some(points.iter().chain(points.first()).copied().collect()),
                Outline::Circle { .. } => None,
            },
            Item::Text(_) => None,
        })
        .collect()
}

pub fn words_on(sheet: &Sheet, layer: &str) -> Vec<String> {
    let items = sheet.layers.iter().filter(|l| l.name == layer).flat_map(|l| &l.items);
    items.filter_map(|i| if let Item::Text(t) = i { Some(t.string()) } else { None }).collect()
}

#[test]
fn every_part_has_its_pattern_and_every_pattern_its_file() {
    for plan in boats() {
        let found = all(plan);
        let count = |kind: Kind| found.iter().filter(|p| p.kind == kind).count();
        let posts = plan.sections.iter().filter(|s| s.at == SectionAt::Post).count();
        assert_eq!(count(Kind::Mould), plan.moulds.len());
        let parts: usize = plan.made.iter().map(|m| m.parts.len()).filter(|parts| *parts > 1).sum();
        assert_eq!(count(Kind::Plank), plan.flats.len() + parts);
        assert_eq!(count(Kind::Tape), plan.strakes.len() - 1);
        assert_eq!(count(Kind::Interior), plan.interior.thwarts.len() + plan.interior.knees.len());
        assert_eq!(count(Kind::Keel), 1);
        assert_eq!((count(Kind::Stem), count(Kind::Transom)), (posts, 2 - posts));
        let names: BTreeSet<&str> = found.iter().map(|p| p.file_name.as_str()).collect();
        assert_eq!(names.len(), found.len());
        for mould in &plan.moulds {
            assert!(found.iter().any(|p| p.name == format!("Mould {}", mould.name)));
        }
        let only = patterns::patterns(&face(), plan, &[Kind::Stem]);
        assert!(only.len() == posts && only.iter().all(|p| p.kind == Kind::Stem));
    }
}

/// Words that touch, run off the sheet or are too small to read.
pub fn check_words(place: &str, sheet: &Sheet) {
    let texts: Vec<(&Text, Bounds)> = sheet.texts().map(|t| (t, t.bounds())).collect();
    let whole = Bounds { left: 4.0, top: 4.0, right: sheet.width - 4.0, bottom: sheet.height - 4.0 };
    for (text, bounds) in &texts {
        assert!(whole.holds(bounds), "{place}, {}: `{}` runs off the sheet", sheet.title, text.string());
        assert!(text.runs.iter().all(|r| r.size >= LEAST_SIZE - 1e-9), "{place}: `{}` is too small", text.string());
    }
    for shape in sheet.shapes() {
        let bounds = Item::Shape(shape.clone()).bounds().expect("a shape with points");
        assert!(whole.holds(&bounds), "{place}, {}: a line runs off the sheet: {bounds:?}", sheet.title);
    }
    for (i, (a, box_a)) in texts.iter().enumerate() {
        for (b, box_b) in &texts[..i] {
            assert!(
                !box_a.meets(box_b) || !touch(a, b),
                "{place}, {}: `{}` and `{}` overlap",
                sheet.title,
                a.string(),
                b.string()
            );
        }
    }
}

/// Whether two lines of words overlap, however they are turned: they do not if some side of either has all of the other
/// beyond it. What hangs below a base line may reach into the air above the next line's small letters.
fn touch(a: &Text, b: &Text) -> bool {
    let corners = |text: &Text| -> [Spot; 4] {
        let size = text.runs.iter().map(|r| r.size).fold(0.0, f64::max);
        let (sin, cos) = text.rotation.sin_cos();
        let corner = |x: f64, up: f64| [text.at[0] + x * cos - up * sin, text.at[1] - x * sin - up * cos];
        let (low, high) = (0.45 - DESCENT * size, CAP_HEIGHT * size);
        [corner(0.0, low), corner(text.width, low), corner(text.width, high), corner(0.0, high)]
    };
    let (a, b) = (corners(a), corners(b));
    let parted = |from: &[Spot; 4], other: &[Spot; 4]| {
        (0..4).any(|i| {
            let (p, q, inside) = (from[i], from[(i + 1) % 4], from[(i + 2) % 4]);
            let side = |r: Spot| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
            other.iter().all(|r| side(*r) * side(inside).signum() <= 1e-9)
        })
    };
    !parted(&a, &b) && !parted(&b, &a)
}

#[test]
fn the_overlap_finder_sees_turned_words() {
    let t = face();
    let style = Style { size: 5.0, face: Face::Bold, colour: Colour(0, 0, 0) };
    let at =
        |x: f64, y: f64, turn: f64| match words::turned(&t, style, [x, y], Anchor::Left, turn, "gain begins here") {
            Item::Text(text) => text,
            Item::Shape(_) => panic!("text"),
        };
    let slope = 0.3;
    assert!(!touch(&at(0.0, 0.0, slope), &at(0.0, 5.0, slope)), "lines one under another, both turned");
    assert!(touch(&at(0.0, 0.0, slope), &at(0.0, 3.0, slope)));
    assert!(touch(&at(0.0, 0.0, slope), &at(10.0, 0.0, -slope)));
}

#[test]
fn no_words_touch_on_patterns_rolls_and_tiles() {
    let t = face();
    for plan in boats() {
        let found = all(plan);
        let sheets: Vec<&Sheet> = found.iter().map(|p| &p.sheet).collect();
        for sheet in &sheets {
            check_words(&plan.spec.name, sheet);
        }
        for width in [roll::NARROWEST, 610.0, roll::USUAL] {
            for page in roll::pages(&t, &sheets, width) {
                assert!(page.width <= roll::LONGEST + 1e-6 && page.height <= width + 1e-6);
                check_words(&format!("{} on a roll {width}", plan.spec.name), &page);
            }
        }
        for (paper, size) in PAPERS {
            for page in sheets.iter().flat_map(|sheet| tile::pages(&t, sheet, paper)) {
                let mut sides = [page.width, page.height];
                sides.sort_by(f64::total_cmp);
                assert_eq!(sides, size);
                check_words(&format!("{} on {paper:?}", plan.spec.name), &page);
            }
        }
    }
}

#[test]
fn long_names_stay_on_the_sheet() {
    let long = "Wrackgrassbankensis of the Upper Saltings ".repeat(4);
    for mut plan in boats().iter().cloned() {
        plan.spec.name.push_str(&long);
        plan.spec.kind.push_str(&long);
        plan.spec.planking.wood.name.push_str(&long);
        plan.moulds.iter_mut().for_each(|m| m.name.push_str(&long));
        plan.sections.iter_mut().for_each(|s| s.name.push_str(&long));
        plan.table.stations.iter_mut().for_each(|s| s.name.push_str(&long));
        let found = all(&plan);
        let names: BTreeSet<&str> = found.iter().map(|p| p.file_name.as_str()).collect();
        assert!(names.len() == found.len() && names.iter().all(|n| n.len() < 80));
        for pattern in &found {
            check_words("long names", &pattern.sheet);
            tile::pages(&face(), &pattern.sheet, PaperSize::A4).iter().for_each(|p| check_words("long names", p));
        }
    }
}

#[test]
fn a_plan_with_nothing_in_it_has_no_patterns() {
    let mut plan = boats()[0].clone();
    plan.sections.clear();
    assert!(patterns::patterns(&face(), &plan, &[Kind::Mould, Kind::Stem, Kind::Transom]).is_empty());
    plan.strakes.clear();
    plan.interior = Default::default();
    assert!(all(&plan).is_empty());
    assert!(roll::pages(&face(), &[], 914.0).is_empty());
    assert!(tile::pages(&face(), &Sheet::new(100.0, 100.0, "nothing"), PaperSize::A4).is_empty());
}

#[test]
fn a_plank_carries_what_is_transferred_to_it() {
    for plan in boats() {
        for flat in &plan.flats {
            let sheet = named(plan, &format!("Strake {} of {}", flat.strake, plan.strakes.len())).sheet;
            let outline = &runs_on(&sheet, "outline")[0];
            let batten = &runs_on(&sheet, "batten line")[0];
            let bounds = Bounds::of(outline.iter().copied()).expect("an outline");
            // The least board, with the batten line parallel to its lower edge.
            assert!((bounds.width() - flat.length).abs() < 1e-6 && (bounds.height() - flat.board_width).abs() < 1e-6);
            assert!((bounds.bottom - flat.batten - batten[0][1]).abs() < 1e-6 && batten[0][1] == batten[1][1]);
            let on_sheet = |p: [f64; 2]| [bounds.left + p[0], bounds.bottom - p[1]];
            // Stations cross from edge to edge where the plan has them; hood ends are the outline's own.
            let stations = runs_on(&sheet, "stations");
            let hoods = usize::from(flat.fore_hood.is_some()) + usize::from(flat.aft_hood.is_some());
            assert_eq!(stations.len() + hoods, flat.stations.len());
            for run in &stations {
                let own = |s: &&boat::development::FlatStation| apart(run[0], on_sheet(s.lower)) < 1e-6;
                let station = flat.stations.iter().find(own).expect("a station of the plan");
                assert!(off_segment(on_sheet(station.upper), run[0], run[1]) < 1e-6);
            }
            let names = words_on(&sheet, "stations");
            assert_eq!(names.len(), stations.len());
            let timbers = words_on(&sheet, "timbers");
            assert!(timbers.len() + 6 > plan.timbers.len(), "strake {}: {timbers:?}", flat.strake);
            // Rivets: each of the land below, its head so far from the lower edge as the plan says.
            let circles: Vec<Spot> = sheet
                .layers
                .iter()
                .filter(|l| l.name == "rivets")
                .flat_map(|l| &l.items)
                .filter_map(|i| match i {
                    Item::Shape(s) => match s.outline {
                        Outline::Circle { at, .. } => Some(at),
                        _ => None,
                    },
                    Item::Text(_) => None,
                })
                .collect();
            let rivets: Vec<_> = plan.rivets.iter().filter(|r| r.land + 1 == flat.strake).collect();
            assert_eq!(circles.len(), rivets.len());
            let mut lower = vec![flat.lower.iter().map(|p| on_sheet(*p)).collect::<Vec<Spot>>()];
            let (first, last) = (lower[0][..2].to_vec(), lower[0][lower[0].len() - 2..].to_vec());
            let on = |from: Spot, to: Spot| [0, 1].map(|a| to[a] + (to[a] - from[a]) * 60.0 / apart(from, to));
            lower[0].insert(0, on(first[1], first[0]));
            lower[0].push(on(last[0], last[1]));
            for (at, rivet) in circles.iter().zip(&rivets) {
                // At a raking hood end the first may stand beyond the edge's end: off its straight continuation.
                let edge = off(*at, &lower);
                assert!((edge - rivet.head_edge).abs() < WITHIN, "rivet {}: {edge} {}", rivet.n, rivet.head_edge);
            }
            // As far apart on the plank as along the land, but for its edge's own bend: a hundredth.
            for (c, r) in circles.windows(2).zip(rivets.windows(2)) {
                let (drawn, planned) = (apart(c[0], c[1]), r[1].along - r[0].along);
                assert!(
                    (drawn / planned - 1.0).abs() < 0.02,
                    "{} strake {} rivet {} {c:?}: {drawn} {planned}",
                    plan.spec.name,
                    flat.strake,
                    r[0].n
                );
            }
            // The land line stands the lap inside the upper edge.
            if flat.strake < plan.strakes.len() {
                let land = runs_on(&sheet, "lands");
                let upper = vec![flat.upper.iter().map(|p| on_sheet(*p)).collect::<Vec<Spot>>()];
                let lap = plan.spec.planking.lap;
                let points = &land[0];
                for p in &points[4..points.len() - 4] {
                    assert!((off(*p, &upper) - lap).abs() < WITHIN, "strake {}: {}", flat.strake, off(*p, &upper));
                }
            }
        }
    }
}

#[test]
fn a_mould_is_symmetrical_and_as_wide_as_the_boat() {
    for plan in boats() {
        for mould in &plan.moulds {
            let sheet = named(plan, &format!("Mould {}", mould.name)).sheet;
            let section = &plan.sections[mould.section];
            let outline = &runs_on(&sheet, "outline")[0];
            let centre = runs_on(&sheet, "centreline")[0][0][0];
            // No wider than the fair section, and narrower only by what it is eased to the planks.
            let fair = section.points.iter().map(|p| p.y).fold(0.0, f64::max);
            let shape = plan.setting_up.moulds.iter().find(|m| m.section == mould.section).unwrap();
            let half = shape.edge.iter().map(|p| p[0]).fold(0.0, f64::max);
            let eased = shape.relief.iter().copied().fold(0.0, f64::max);
            assert!(half <= fair + 1e-9 && half >= fair - eased - 1e-9);
            let bounds = Bounds::of(outline.iter().copied()).expect("an outline");
            assert!((bounds.right - centre - half).abs() < 1e-6 && (centre - bounds.left - half).abs() < 1e-6);
            let levels = runs_on(&sheet, "levels");
            assert!(!levels.is_empty(), "mould {}: no level to set it up by", mould.name);
            let marks = plan.marks.iter().filter(|m| m.section == mould.section).count();
            assert_eq!(runs_on(&sheet, "lands").len(), 2 * marks);
            let numbers = words_on(&sheet, "lands");
            for land in 1..plan.strakes.len() {
                assert_eq!(numbers.iter().filter(|n| **n == land.to_string()).count(), 2, "land {land}");
            }
        }
    }
}

/// A line that is cut to or measured from strikes through no words, but those of the lands and centrelines beside it.
#[test]
fn names_of_levels_are_struck_by_no_edge() {
    let edges =
        ["outline", "other face", "fair curve", "fair section", "rabbet line", "inner rabbet", "hog", "garboard"];
    let mut names = 0;
    for pattern in boats().iter().flat_map(all).filter(|p| p.kind != Kind::Plank) {
        for layer in ["levels", "level line", "bevels", "sections", "ends", "stations", "names"] {
            let texts = pattern.sheet.layers.iter().filter(|l| l.name == layer).flat_map(|l| &l.items);
            for text in texts.filter(|i| matches!(i, Item::Text(_))) {
                let around = text.bounds().expect("words");
                for edge in edges {
                    let struck = runs_on(&pattern.sheet, edge).iter().any(|run| strikes(run, &around));
                    assert!(!struck, "{}: words on {layer} struck by {edge}: {text:?}", pattern.name);
                }
                names += 1;
            }
        }
    }
    assert!(names > 200, "{names}");
}

/// Whether a run of straight lines enters a box.
fn strikes(run: &[Spot], around: &Bounds) -> bool {
    let (low, high) = ([around.left, around.top], [around.right, around.bottom]);
    run.windows(2).any(|w| {
        // The part of the line inside each of the box's two strips.
        let part = (0..2).fold([0.0_f64, 1.0_f64], |[from, to], i| {
            let run = w[1][i] - w[0][i];
            let [a, b] = [low[i], high[i]].map(|edge| (edge - w[0][i]) / if run == 0.0 { 1e-12 } else { run });
            [from.max(a.min(b)), to.min(a.max(b))]
        });
        part[0] < part[1]
    })
}

#[test]
fn the_finder_of_struck_words_sees_a_line_across() {
    let around = Bounds { left: 10.0, top: 10.0, right: 30.0, bottom: 14.0 };
    assert!(strikes(&[[0.0, 12.0], [40.0, 12.0]], &around) && strikes(&[[20.0, 0.0], [21.0, 40.0]], &around));
    assert!(!strikes(&[[0.0, 9.0], [40.0, 9.0]], &around) && !strikes(&[[0.0, 0.0], [8.0, 40.0]], &around));
    assert!(!strikes(&[[0.0, 12.0], [9.0, 12.0]], &around));
}

/// On a bent transom laid flat a level is a curve: on the centreline two levels stand as far apart up the lean as their
/// heights do, over the cosine of the lean; at the edge they meet the outline's own face.
#[test]
fn levels_on_a_bent_transom_are_level_in_the_boat() {
    let plan = boats().iter().find(|p| p.spec.name == "Lapwing").unwrap();
    let EndSpec::Transom(t) = &plan.spec.aft else { panic!("no transom") };
    let lean = (t.head[0] - t.foot[0]).atan2(t.head[1] - t.foot[1]);
    let sheet = named(plan, "Transom").sheet;
    let mut levels = [runs_on(&sheet, "levels"), runs_on(&sheet, "level line")].concat();
    levels.sort_by(|a, b| b[0][1].total_cmp(&a[0][1]));
    assert!(levels.len() >= 4);
    let middle = |run: &[Spot]| run[run.len() / 2];
    for pair in levels.windows(2) {
        let up = (middle(&pair[1])[1] - middle(&pair[0])[1]).abs();
        assert!((up * lean.cos() - 50.0).abs() < 1e-6, "{up}");
        // Out at the edge the face has fallen back, so the level stands higher up the sheet than on the centreline: y is
        // down here.
        let bow = middle(&pair[1])[1] - pair[1][0][1];
        let y = t.radius.unwrap() * ((pair[1][0][0] - middle(&pair[1])[0]).abs() / t.radius.unwrap()).sin();
        let fall = t.radius.unwrap() - (t.radius.unwrap().powi(2) - y * y).sqrt();
        assert!((bow.abs() - fall * lean.tan().abs()).abs() < 1e-6, "{bow} {fall}");
    }
}

/// The keel in profile and plan is the plan's rabbet point by point at full size, the profile with three more between two; the plan stands square under the
/// profile, and each section's groove is as deep as the plank is thick.
#[test]
fn the_keel_is_its_rabbet_in_profile_plan_and_sections() {
    for plan in boats() {
        let sheet = named(plan, "Keel").sheet;
        let keel = &plan.backbone.keel;
        let runs = runs_on(&sheet, "rabbet line");
        assert_eq!(runs.len(), 2);
        let outer: Vec<_> = keel.iter().map(|r| r.outer.unwrap()).collect();
        assert_eq!((runs[0].len(), runs[1].len()), (4 * outer.len() - 3, outer.len()));
        let profile: Vec<_> = runs[0].iter().step_by(4).copied().collect();
        for (i, p) in outer.iter().enumerate() {
            for (run, up) in [(&profile, p.z - outer[0].z), (&runs[1], p.y - outer[0].y)] {
                assert!((run[i][0] - run[0][0] - (p.x - outer[0].x)).abs() < 1e-6);
                assert!((run[0][1] - run[i][1] - up).abs() < 1e-6);
            }
            assert!((profile[i][0] - runs[1][i][0]).abs() < 1e-6);
        }
        // Between two rulings the profile keeps to the box that they span.
        for (i, w) in profile.windows(2).enumerate() {
            let around = Bounds::of(w.iter().copied()).expect("two points").grown(1e-9);
            let between = Bounds::of(runs[0][4 * i..4 * i + 4].iter().copied()).expect("four points");
            assert!(around.holds(&between), "{i}");
        }
        let posts = plan.sections.iter().filter(|s| s.at == SectionAt::Post).count();
        let planks = runs_on(&sheet, "garboard");
        assert_eq!(planks.len(), plan.sections.len() - posts);
        for plank in &planks {
            assert!((apart(plank[0], plank[3]) - plan.spec.planking.thickness).abs() < 1e-6);
        }
    }
}
