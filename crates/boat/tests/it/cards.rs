//! A strake's card beyond its front: bevels to be worked down along the land, what is left long, transom ends, spiling every
//! so far, and a glued boat's whole book.

use std::collections::BTreeSet;

use boat::development::{LeftLong, left_long};
use boat::drawing::place::Bounds;
use boat::drawing::{Item, Outline, Sheet, Spot};
use boat::folder::{BoatTexts, read};
use boat::lines::SectionAt;
use boat::paper::patterns::Kind;
use boat::paper::{PaperSize, pictures, write_dxf};
use boat::plan::{Plan, json::to_json, plan};
use boat::planks::{BevelAt, BevelPlace, Strake};
use boat::units::INCH;

use crate::measure::apart;
use crate::paper::{PAPERS, boats, check_sheet, sheets, table_rows, words_of};
use crate::patterns::{WITHIN, all, check_words, face, named, off, runs_on, words_on};
use crate::plans::{glued, texts};
use crate::readers::told_of;

/// A boat of the examples with some of its lines exchanged.
fn changed(name: &str, changes: &[(&str, &str)]) -> Plan {
    let mut t: BoatTexts = texts(name);
    for (from, to) in changes {
        assert!(t.toml.contains(from), "{name}: no {from}");
        t.toml = t.toml.replacen(from, to, 1);
    }
    plan(&read(&t).unwrap_or_else(|e| panic!("{e}"))).unwrap_or_else(|e| panic!("{e}"))
}

/// A sheet of a title; there is one at least.
fn sheets_of<'a>(all: &'a [Sheet], title: &str) -> Vec<&'a Sheet> {
    let found: Vec<&Sheet> = all.iter().filter(|s| s.title == title).collect();
    assert!(!found.is_empty(), "no sheet {title}");
    found
}

/// One decimal, without a trailing nought, as the book prints small depths in millimetres; halves go away from nought.
fn tenths(mm: f64) -> String {
    format!("{:.1}", (mm * 10.0).round() / 10.0)
}

/// Every place of the table: along, its name, the bevel, lap × tan β (with a minus in a hollow), the edge that leaves and the
/// gain, from the bow to the stern.
#[test]
fn every_land_has_a_table_of_bevels_to_work_down_along_the_plank() {
    let plan = &boats()[1];
    assert_eq!((plan.spec.planking.lap, plan.spec.planking.bevel_every), (18.0, 150.0));
    let minus = |negative: bool, text: String| if negative { format!("\u{2212}{text}") } else { text };
    for paper in PAPERS {
        let all = sheets(plan, paper);
        for strake in &plan.strakes[..plan.strakes.len() - 1] {
            let k = strake.strake;
            let words = words_of(&all, &format!("Bevels of land {k}"));
            let expected = places(plan, strake);
            assert!(expected.iter().filter(|b| b.place == BevelPlace::Step).count() > 10, "land {k}");
            let mut at = 0;
            for b in &expected {
                let degrees = (b.bevel.to_degrees() * 10.0).round() / 10.0;
                let deep = 18.0 * b.bevel.tan().abs();
                let name = match b.place {
                    BevelPlace::Section(j) => match plan.sections[j].at {
                        SectionAt::Station(_) => format!("station {} ", plan.sections[j].name),
                        _ => format!("{} ", plan.sections[j].name),
                    },
                    BevelPlace::Timber(i) => format!("timber {} ", plan.timbers[i].n),
                    BevelPlace::Step => String::new(),
                };
                let row = format!(
                    "{:.0} {name}{}° {} {} ",
                    b.along.round(),
                    minus(degrees < 0.0, format!("{:.1}", degrees.abs())),
                    minus(b.bevel < 0.0 && tenths(deep) != "0.0", tenths(deep)),
                    tenths(b.edge_left)
                );
                let here = words[at..].find(&row);
                at += here.unwrap_or_else(|| panic!("land {k}: no row {row:?} after {:?}", &words[at..]));
            }
        }
    }
}

/// The bevels that stand in the table: all but steps within an inch of a station or a timber.
fn places<'a>(plan: &'a Plan, strake: &Strake) -> Vec<&'a BevelAt> {
    let of: Vec<&BevelAt> = plan.bevels.iter().filter(|b| b.land == strake.strake).collect();
    let named = |b: &BevelAt| b.place != BevelPlace::Step;
    of.iter()
        .copied()
        .filter(|b| named(b) || of.iter().all(|o| !named(o) || (o.along - b.along).abs() >= 25.4))
        .collect()
}

/// Where the plan puts them: a timber's on the land at the timber's x, a station's at the station's ruling, every 150 mm.
#[test]
fn bevels_stand_where_stations_timbers_and_steps_are() {
    for plan in boats() {
        let every = plan.spec.planking.bevel_every;
        for strake in &plan.strakes[..plan.strakes.len() - 1] {
            let of: Vec<&BevelAt> = plan.bevels.iter().filter(|b| b.land == strake.strake).collect();
            let at = |along: f64| {
                let w = strake.rulings.windows(2).find(|w| along <= w[1].along + 1e-9).unwrap();
                w[0].upper + (w[1].upper - w[0].upper) * ((along - w[0].along) / (w[1].along - w[0].along))
            };
            let steps = of.iter().filter(|b| b.place == BevelPlace::Step).count();
            let whole = strake.rulings.last().unwrap().along;
            assert_eq!(steps, (whole / every).floor() as usize);
            assert_eq!(of.iter().filter(|b| matches!(b.place, BevelPlace::Section(_))).count(), plan.sections.len());
            for b in &of {
                match b.place {
                    // A canted one crosses the land where its curve does, which its chords do not reach by a hair.
                    BevelPlace::Timber(i) => {
                        let (t, p) = (&plan.timbers[i], at(b.along));
                        let near = if t.cant == 0.0 { 1e-6 } else { 0.02 };
                        assert!((p.x - p.y * t.cant.tan() - t.x).abs() < near, "timber {}", t.n);
                    }
                    BevelPlace::Section(j) => {
                        let at = strake.at.iter().find(|a| a.section == j).unwrap();
                        assert!(
                            (b.bevel - at.bevel.unwrap()).abs() < 1e-9
                                && (b.edge_left - at.edge_left.unwrap()).abs() < 1e-9
                        );
                    }
                    BevelPlace::Step => {
                        assert!((b.along / every).fract().min(1.0 - (b.along / every).fract()) < 1e-9)
                    }
                }
            }
        }
    }
}

/// Where a bevel leaves less than was asked for, the sheet tints it and says so, and a finding names it: between stations too.
#[test]
fn thin_edges_are_tinted_and_told() {
    let tinted = |plan: &Plan, k: usize| {
        let all = sheets(plan, PaperSize::A4);
        let words = words_of(&all, &format!("Bevels of land {k}"));
        words.contains("Tinted: less is left than was asked for")
    };
    let plan = &boats()[1];
    let least = |plan: &Plan, k: usize| {
        let t = plan.spec.planking.thickness;
        let of = plan.bevels.iter().filter(|b| b.land == k);
        of.map(|b| b.edge_left / (1.0 - b.gain / t)).fold(f64::INFINITY, f64::min)
    };
    for k in 1..plan.strakes.len() {
        let mut asked = plan.clone();
        asked.spec.planking.edge_floor = least(plan, k) - 0.2;
        assert!(!tinted(&asked, k), "land {k}");
        asked.spec.planking.edge_floor = least(plan, k) + 0.2;
        assert!(tinted(&asked, k), "land {k}");
    }
}

#[test]
fn a_card_says_how_the_planks_lie_on_a_transom() {
    for (ends, words) in [
        ("flush", "At the transom flush: the lands run out in their gains"),
        ("notched", "At the transom notched: no gain."),
        ("plain", "At the transom plain: no gain and no notches."),
    ] {
        let plan = changed("corncrake", &[("transom_gain = \"9 in\"", &format!("transom_ends = \"{ends}\""))]);
        let all = sheets(&plan, PaperSize::A4);
        for k in 1..plan.strakes.len() {
            let said = words_of(&all, &format!("Strake {k} of {}", plan.strakes.len()));
            assert!(said.contains(words), "{ends}: {said}");
            assert_eq!(
                said.contains("12 in from the hood end and 12 in from the transom"),
                ends == "flush",
                "{said}"
            );
        }
        for sheet in &all {
            check_sheet(ends, sheet);
        }
    }
    // A pram has two, and her gains are named by their own ends.
    let all = sheets(&boats()[2], PaperSize::A4);
    let said = words_of(&all, &format!("Strake 3 of {}", boats()[2].strakes.len()));
    assert!(said.contains("At the bow transom and the transom notched: no gain."), "{said}");
    let flush = changed("lapwing", &[("transom_gain = \"notched\"", "transom_gain = 200")]);
    let all = sheets(&flush, PaperSize::A4);
    let said = words_of(&all, &format!("Strake 3 of {}", flush.strakes.len()));
    assert!(said.contains("200 mm from the bow transom and 200 mm from the transom"), "{said}");
    let none = words_of(&sheets(&boats()[1], PaperSize::A4), "Strake 3 of 9");
    assert!(!none.contains("At the transom"));
}

const LONG: [(&str, &str); 1] = [(
    "wood = \"larch, western\"",
    "wood = \"larch, western\"\nleft_long_fore = \"3/4 in\"\nleft_long_aft = \"1 in\"\ntransom_overhang = \"1/4 in\"\nsheer_proud = \"3/8 in\"",
)];

/// A net end carried on straight at both of its corners.
fn carried_on(end: &[Spot]) -> Vec<Spot> {
    let on = |a: Spot, b: Spot| [0, 1].map(|i| b[i] + (b[i] - a[i]) / apart(a, b).max(1e-9) * 400.0);
    let n = end.len();
    let mut run = vec![on(end[1], end[0])];
    run.extend(end);
    run.push(on(end[n - 2], end[n - 1]));
    run
}

/// The lines of a pattern's DXF read back by ezdxf: the broken line stands the allowance off the net end and off the net
/// sheer, all along, to the thousandth that docs/patterns.md tells.
#[test]
fn what_is_left_long_is_read_back_the_allowance_off_the_net_end() {
    let plan = changed("corncrake", &LONG);
    let (fore, aft, up) = (19.05, 25.4 + 6.35, 9.525);
    let mut most = 0.0_f64;
    for k in [1, 2, 6, 10] {
        let name = format!("Strake {k} of 10");
        let pattern = named(&plan, &name);
        let found = told_of("dxf.py", "ezdxf, by ./check", &format!("left-{k}"), "dxf", write_dxf(&pattern.sheet));
        let spot = |v: &serde_json::Value| [v[0].as_f64().unwrap(), v[1].as_f64().unwrap()];
        let runs = |layer: &str| -> Vec<Vec<Spot>> {
            let all = found["polylines"].as_array().unwrap();
            let of = all.iter().filter(|p| p["layer"] == layer);
            of.map(|p| p["points"].as_array().unwrap().iter().map(spot).collect()).collect()
        };
        let flat = &plan.flats[k - 1];
        let bounds = Bounds::of(runs("OUTLINE").concat()).unwrap();
        let net = |p: &Spot| [bounds.left + p[0], bounds.top + p[1]];
        let last = flat.lower.len() - 1;
        let hood: Vec<Spot> = flat.fore_hood.as_ref().unwrap().curve.iter().map(net).collect();
        let cut = [net(&flat.lower[last]), net(&flat.upper[last])];
        let sheer: Vec<Spot> = flat.upper.iter().map(net).collect();
        let lines = runs("LEFT_LONG");
        assert_eq!(lines.len(), if k == 10 { 3 } else { 2 }, "{name}");
        let mut measure = |run: &[Spot], edge: &[Spot], allowance: f64| {
            assert!(run.len() >= 4);
            for p in &run[1..run.len() - 1] {
                let gap = off(*p, &[carried_on(edge)]);
                most = most.max((gap - allowance).abs());
                assert!((gap - allowance).abs() < 0.001, "{name}: {gap} for {allowance}");
            }
        };
        measure(&lines[0], &hood, fore);
        measure(&lines[lines.len() - 1], &cut, aft);
        if k == 10 {
            measure(&lines[1], &sheer, up);
        }
        // Each begins at the plank's lower corner, and all of it lies on the board that is asked for.
        assert!(apart(lines[0][0], net(&flat.lower[0])) < WITHIN);
        let made = &plan.made[k - 1].left;
        let board = Bounds::of(runs("OUTLINE").concat().into_iter().chain(lines.concat())).unwrap();
        assert!((board.width() - made.board[0]).abs() < 1e-4 && (board.height() - made.board[1]).abs() < 1e-4);
        let words: Vec<&str> =
            found["texts"].as_array().unwrap().iter().map(|t| t["words"].as_str().unwrap()).collect();
        assert!(words.contains(&"left long 3/4 in"), "{words:?}");
        assert!(words.contains(&"left long 1 1/4 in"), "{words:?}");
        assert_eq!(words.iter().any(|w| w.contains("left proud 3/8 in")), k == 10);
        check_words("left long", &pattern.sheet);
    }
    println!("broken lines at most {most:.4} mm off");
}

/// The same on every plank and part of every boat and however much is left, on the sheets themselves.
#[test]
fn every_plank_and_part_has_what_is_left_long() {
    for plan in boats() {
        for (flat, made) in plan.flats.iter().zip(&plan.made) {
            for mm in [3.0, 12.7, 60.0] {
                let left = left_long(flat, boat::spec::Allowance { fore: mm, aft: mm, upper: 0.0 });
                let n = flat.lower.len() - 1;
                let end = |hood: &Option<boat::development::HoodEnd>, i: usize| {
                    hood.as_ref().map_or_else(|| vec![flat.lower[i], flat.upper[i]], |h| h.curve.clone())
                };
                for (run, net) in [(&left.fore, end(&flat.fore_hood, 0)), (&left.aft, end(&flat.aft_hood, n))] {
                    assert!(run.len() >= 4, "{} strake {}", plan.spec.name, flat.strake);
                    for p in &run[1..run.len() - 1] {
                        let gap = off(*p, &[carried_on(&net)]);
                        assert!((gap - mm).abs() < 0.05, "{} strake {}: {gap}", plan.spec.name, flat.strake);
                    }
                }
            }
            // The parts' own ends have the whole plank's lines, and their scarfs none.
            let Some(last) = made.parts.last().filter(|_| made.parts.len() > 1) else { continue };
            assert!(made.parts[0].left.aft.is_empty() && last.left.fore.is_empty());
            let back = |board: &boat::development::board::Board, p: &Spot| {
                let ([u, v], [x, y]) = (board.along, board.corner);
                [(p[0] + x) * u - (p[1] + y) * v, (p[0] + x) * v + (p[1] + y) * u]
            };
            for (part, run, whole) in
                [(&made.parts[0], &made.parts[0].left.fore, &made.left.fore), (last, &last.left.aft, &made.left.aft)]
            {
                assert_eq!(run.len(), whole.len());
                assert!(run.iter().zip(whole).all(|(p, w)| apart(back(&part.board, p), *w) < 1e-6));
            }
        }
    }
    // Nothing is drawn where nothing is left.
    let none = changed(
        "corncrake",
        &[("wood = \"larch, western\"", "wood = \"larch, western\"\nleft_long_fore = 0\nleft_long_aft = 0")],
    );
    assert!(none.made.iter().all(|m| m.left.runs().count() == 0
        && m.left.board == [none.flats[m.strake - 1].length, none.flats[m.strake - 1].board_width]));
    let sheet = named(&none, "Strake 4 of 10").sheet;
    assert!(runs_on(&sheet, "left long").is_empty());
    assert!(!words_of(&sheets(&none, PaperSize::A4), "Strake 4 of 10").contains("left long"));
}

/// The card's front has the same broken lines, its board is the one with them, and it says what is left where.
#[test]
fn the_card_draws_and_says_what_is_left_long() {
    let plan = changed("corncrake", &LONG);
    for paper in PAPERS {
        let all = sheets(&plan, paper);
        for made in &plan.made {
            let title = format!("Strake {} of 10", made.strake);
            let front = sheets_of(&all, &title)[0];
            check_sheet("left long", front);
            let broken = |run: &[Spot]| {
                front.shapes().filter(|s| matches!(&s.outline, Outline::Line(p) if p.len() == run.len())).count()
            };
            for run in made.left.runs() {
                assert!(broken(run) >= 2, "{title}: on the true shape and on the enlarged one");
            }
            let ends = sheets_of(&all, &format!("{title}, its ends"))[0];
            let drawn =
                ends.shapes().any(|s| matches!(&s.outline, Outline::Line(p) if p.len() == made.left.fore.len()));
            assert!(drawn, "{title}: its fore end, large");
            check_sheet("left long", ends);
            // A board that holds it: up to the next sixteenth.
            let [long, wide] = made.left.board.map(|mm| (16.0 * mm / INCH - 0.01).ceil() * INCH / 16.0);
            let board = format!("{}×{}in", plan.spec.lengths.long(long), plan.spec.lengths.short(wide));
            let close = |words: &str| -> String {
                words.replace('\u{2044}', "/").chars().filter(|c| !c.is_whitespace()).collect()
            };
            assert!(front.texts().any(|t| close(&t.string()) == close(&board)), "{title}: no {board}");
            let said = words_of(&all, &title);
            assert!(
                said.contains("3/4 in at the stem; 1 1/4 in at the transom, of which 1/4 in stays past its face"),
                "{said}"
            );
            assert_eq!(said.contains("3/8 in above the sheer"), made.strake == 10);
        }
    }
    let json: serde_json::Value = serde_json::from_str(&to_json(&plan)).unwrap();
    let left = &json["strakes"][9]["left_long"];
    assert_eq!((&left["fore_mm"], &left["aft_mm"], &left["upper_mm"]), (&19.05.into(), &31.75.into(), &9.525.into()));
    let lines = |key: &str| left[key].as_array().unwrap().len();
    let made: &LeftLong = &plan.made[9].left;
    assert_eq!(
        (lines("fore_line_mm"), lines("upper_line_mm"), lines("aft_line_mm")),
        (made.fore.len(), made.upper.len(), made.aft.len())
    );
}

/// A part has the timbers that cross it, where the whole plank has them.
#[test]
fn parts_of_a_plank_have_their_timbers() {
    let plan = &boats()[1];
    for made in plan.made.iter().filter(|m| m.parts.len() > 1) {
        let whole = named(plan, &format!("Strake {} of {}", made.strake, plan.strakes.len())).sheet;
        let (mut drawn, mut across) = (BTreeSet::new(), 0);
        for part in &made.parts {
            let sheet =
                named(plan, &format!("Strake {} part {} of {}", made.strake, part.part, made.parts.len())).sheet;
            let outline = &runs_on(&sheet, "outline")[0];
            let bounds = Bounds::of(outline.iter().copied()).unwrap();
            let runs = runs_on(&sheet, "timbers");
            let names = words_on(&sheet, "timbers");
            assert_eq!(runs.len(), names.len());
            across += runs.len();
            for (run, name) in runs.iter().zip(&names) {
                drawn.insert(name.clone());
                // From edge to edge of the part, and as long as on the whole plank.
                assert!(run.iter().all(|p| off(*p, std::slice::from_ref(outline)) < 1e-6), "{name}");
                let at = words_on(&whole, "timbers").iter().position(|n| n == name).unwrap();
                let there = &runs_on(&whole, "timbers")[at];
                assert!((apart(there[0], there[1]) - apart(run[0], run[1])).abs() < 1e-6);
                assert!(bounds.left - 1e-6 < run[0][0] && run[0][0] < bounds.right + 1e-6);
            }
            check_words("a part", &sheet);
        }
        assert_eq!(drawn, words_on(&whole, "timbers").into_iter().collect(), "strake {}", made.strake);
        // The timber over a scarf's middle stands on both.
        assert!(across > drawn.len());
    }
}

/// Offsets every 100 mm, judged by where a line square to the batten line meets the outline of the full-size pattern.
#[test]
fn a_spiling_table_has_offsets_every_so_far_and_at_stations() {
    let plan =
        changed("sandgrouse", &[("wood = \"larch, western\"", "wood = \"larch, western\"\nspile_every = 100")]);
    for paper in PAPERS {
        let all = sheets(&plan, paper);
        for flat in &plan.flats {
            let title = format!("Spiling of strake {}", flat.strake);
            for sheet in sheets_of(&all, &title) {
                check_sheet("spiling", sheet);
            }
            let words = words_of(&all, &title);
            let pattern = named(&plan, &format!("Strake {} of 9", flat.strake)).sheet;
            let outline = &runs_on(&pattern, "outline")[0];
            let batten = &runs_on(&pattern, "batten line")[0];
            let left = Bounds::of(outline.iter().copied()).unwrap().left;
            let mut seen = 0;
            for i in 3..(flat.length / 100.0) as usize - 3 {
                let x = left + 100.0 * i as f64;
                let mut offs: Vec<f64> = outline
                    .windows(2)
                    .filter(|w| (w[0][0] <= x) != (w[1][0] <= x))
                    .map(|w| w[0][1] + (w[1][1] - w[0][1]) * (x - w[0][0]) / (w[1][0] - w[0][0]))
                    .map(|y| batten[0][1] - y)
                    .collect();
                offs.sort_by(f64::total_cmp);
                assert_eq!(offs.len(), 2);
                let said = |v: f64| plan.spec.lengths.short(v).replace('-', "\u{2212}");
                let row = format!("{} {} {} {} ", 100 * i, said(offs[0]), 100 * i, said(offs[1]));
                assert!(words.contains(&row), "{title}: no {row:?} in {words}");
                seen += 1;
            }
            assert!(seen > 30, "{seen}");
            for s in &flat.stations {
                let name = &plan.sections[s.section].name;
                assert!(words.contains(&format!(" {name} {:.0} ", s.lower[0])), "{title}: {name}");
            }
        }
        // A part made on its own board has its own.
        sheets_of(&all, "Spiling of strake 2, part 1");
    }
    assert!(!sheets(&boats()[1], PaperSize::A4).iter().any(|s| s.title.starts_with("Spiling")));
}

/// An eye that stands among her planks sees nothing: the book goes without pictures and keeps its figures, and no picture is
/// made.
#[test]
fn where_there_is_nothing_to_look_at_there_is_no_picture() {
    let mut plan = boats()[0].clone();
    plan.spec.lining.eye_distance = Some(10.0);
    plan.spec.lining.eye_height = 300.0;
    assert!(pictures::pictures(&face(), &plan).is_empty());
    let all = sheets(&plan, PaperSize::A4);
    let look = sheets_of(&all, "How the lands look");
    let with = sheets(&boats()[0], PaperSize::A4);
    assert_eq!(look.len() + 2, sheets_of(&with, "How the lands look").len());
    assert!(look[0].texts().any(|t| t.string() == "Look here first"));
    look.iter().for_each(|s| check_sheet("no picture", s));
    // Without planks there is nothing to say at all.
    plan.strakes.clear();
    assert!(!sheets(&plan, PaperSize::A4).iter().any(|s| s.title == "How the lands look"));
}

/// Words of rivets, whole ones: a groove is no rove.
fn of_rivets(words: &str) -> Option<String> {
    let all = words.split(|c: char| !c.is_ascii_alphabetic()).map(str::to_lowercase);
    let known = ["rivet", "rivets", "riveted", "nail", "nails", "rove", "roves", "dolly", "clench"];
    all.into_iter().find(|w| known.contains(&w.as_str()))
}

/// A whole boat in glued plywood: laps as asked for, planks parted to come out of her sheets, and not a word of rivets.
#[test]
fn a_glued_boat_has_no_rivets_anywhere() {
    let plan = glued();
    assert!(plan.rivets.is_empty() && plan.order.is_empty() && plan.ends.is_empty() && plan.rest.is_empty());
    assert!(plan.keel_fastenings.is_empty());
    assert!(plan.timbers.is_empty());
    let lap = 22.225;
    let mut area = 0.0;
    for strake in &plan.strakes[..plan.strakes.len() - 1] {
        assert!(strake.at.iter().all(|a| (a.lap.unwrap() - lap).abs() < 1e-9));
        let wide = |i: usize| lap / strake.rulings[i].bevel.unwrap().cos();
        area += (1..strake.rulings.len())
            .map(|i| f64::midpoint(wide(i - 1), wide(i)) * (strake.rulings[i].along - strake.rulings[i - 1].along))
            .sum::<f64>();
    }
    assert!((plan.glue_area / (2.0 * area) - 1.0).abs() < 1e-9);

    // Planks of 12 ft out of sheets of 8: two parts each, with what is left long, a scarf of ten thicknesses.
    for made in &plan.made {
        assert!(!made.stuck && made.parts.len() == 2, "strake {}", made.strake);
        assert!(made.parts.iter().all(|p| p.left.board[0] <= 2438.4 + 0.05 && p.left.board[1] <= 1219.2));
        assert!(made.scarfs[0].timber.is_none());
    }
    // Nothing in plywood is steamed or runs out in its grain.
    let hints: String = plan.findings.iter().map(|f| f.hint.clone()).collect();
    assert!(
        !hints.contains("steam") && !hints.contains("grain") && hints.contains("two thinner ones glued"),
        "{hints}"
    );
    let sheets_in_rack = plan.sheets.unwrap();
    assert_eq!(sheets_in_rack.count, 3);
    let flat: f64 = plan.flats.iter().map(|f| 2.0 * f.area).sum();
    assert!((sheets_in_rack.planks - flat).abs() < 1e-6 && flat < sheets_in_rack.area);

    let json: serde_json::Value = serde_json::from_str(&to_json(&plan)).unwrap();
    for key in ["rivets", "nails", "ends", "timbers"] {
        assert_eq!(json[key].as_array().unwrap().len(), 0, "{key}");
    }
    let m2 = plan.glue_area * 1e-6;
    let close = |key: &str, wanted: f64| (json["glue"][key].as_f64().unwrap() - wanted).abs() < 1e-3;
    assert!(close("land_area_m2", m2) && close("mass_kg", 0.45 * m2) && close("rate_g_per_m2", 450.0));

    for paper in PAPERS {
        let all = sheets(&plan, paper);
        for sheet in &all {
            check_sheet("glued", sheet);
            let words: String = sheet.texts().map(|t| t.string() + " ").collect();
            assert_eq!(of_rivets(&words), None, "{}: {words}", sheet.title);
            assert!(
                !words.contains("It scalds") && !words.contains("Steam it") && !words.contains("grain runs out"),
                "{}: {words}",
                sheet.title
            );
        }
        let glue = words_of(&all, "Glue");
        let sq_ft = format!("{:.1} sq ft", m2 * 10.7639);
        assert!(glue.contains(&sq_ft) && glue.contains("3 sheets in the rack"), "{glue}");
        // What is to be mixed for the lands of one side is half of all, but for rounding to whole grams.
        let page = sheets_of(&all, "Glue")[0];
        let rows = table_rows(page, "land", "glue, g");
        assert_eq!(rows.len(), plan.strakes.len() - 1);
        let grams: f64 = rows.iter().map(|r| r.last().unwrap().parse::<f64>().unwrap()).sum();
        assert!((grams - 0.5 * 450.0 * m2).abs() < 0.5 * rows.len() as f64, "{grams}");
        let back = words_of(&all, &format!("Strake 3 of {}", plan.strakes.len()));
        assert!(back.contains("At the transom plain: no gain and no notches."), "{back}");
        sheets_of(&all, "Bevels of land 3");
        assert!(
            !all.iter()
                .any(|s| s.title == "Timbers" || s.title.starts_with("Rivets") || s.title.starts_with("Nails"))
        );
    }
    for pattern in all(&plan) {
        check_words("glued", &pattern.sheet);
        assert!(!pattern.sheet.layers.iter().any(|l| l.name == "rivets" && !l.items.is_empty()), "{}", pattern.name);
        let words: String = pattern.sheet.texts().map(|t| t.string() + " ").collect();
        assert_eq!(of_rivets(&words), None, "{}: {words}", pattern.name);
        let circles = pattern.sheet.layers.iter().flat_map(|l| &l.items);
        let circles = circles.filter(|i| matches!(i, Item::Shape(s) if matches!(s.outline, Outline::Circle { .. })));
        assert!(pattern.kind != Kind::Plank || circles.count() == 0);
    }
}

/// The finder of words sees what it should.
#[test]
fn the_finder_of_rivets_knows_a_groove_from_a_rove() {
    assert_eq!(of_rivets("the groove in keel and stem"), None);
    assert_eq!(of_rivets("a nail's length").as_deref(), Some("nail"));
    assert_eq!(of_rivets("Square copper nails").as_deref(), Some("nails"));
}

/// The place with the least left over its floor, ruling by ruling, is the one a finding names, with what is left there: where
/// it is between two stations too.
#[test]
fn the_thinnest_edge_is_named_wherever_it_is() {
    let mut between = 0;
    for plan in boats().iter().chain([&glued()]) {
        let (t, lap, floor) = (plan.spec.planking.thickness, plan.spec.planking.lap, plan.spec.planking.edge_floor);
        for s in &plan.strakes[..plan.strakes.len() - 1] {
            let over = |step: f64, bevel: f64| {
                let left = (0.5 * (t + step) - lap * bevel.tan().max(0.0)).max(0.0);
                left - floor * 0.5 * (1.0 + step / t)
            };
            let least = s.rulings.iter().map(|r| over(r.step, r.bevel.unwrap())).fold(f64::MAX, f64::min);
            let told = plan.findings.iter().find(|f| {
                f.hint.contains("left at the edge") && f.place.starts_with(&format!("strake {}, ", s.strake))
            });
            match told {
                Some(f) => {
                    let figure = |m: boat::findings::Measure| match m {
                        boat::findings::Measure::Length(mm) => mm,
                        other => panic!("{other:?}"),
                    };
                    let told = figure(f.measured) - figure(f.limit);
                    assert!(told < 0.0 && (told - least).abs() <= 0.1, "{}: {told} {least}", f.place);
                    between += usize::from(f.place.contains("between"));
                    assert!(f.hint.contains("planking.lap") && f.hint.contains("planking.strakes"));
                }
                None => assert!(least > -0.1, "{} strake {}: {least}", plan.spec.name, s.strake),
            }
        }
    }
    assert!(between >= 3, "{between}");
}
