//! The bench book, measured as sheets before they are written; `paper_read` has its bytes.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

use boat::drawing::typeface::{CAP_HEIGHT, DESCENT, Type};
use boat::drawing::words::LEAST_SIZE;
use boat::drawing::{Outline, Scale, Shape, Sheet, Text};
use boat::folder::BoatTexts;
use boat::lands::lands;
use boat::lines::SectionAt;
use boat::offsets::RowKind;
use boat::paper::pictures::pictures;
use boat::paper::{PaperSize, book};
use boat::plan::Plan;
use boat::spec::EndSpec;

pub const PAPERS: [PaperSize; 2] = [PaperSize::A4, PaperSize::Letter];

/// The three example boats with what lies in their folders, and a canoe with fifteen stations, planned once.
pub fn boats() -> &'static [Plan] {
    static BOATS: OnceLock<Vec<Plan>> = OnceLock::new();
    BOATS.get_or_init(|| {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let folders =
            ["../../boats/corncrake", "../../boats/sandgrouse", "../../boats/lapwing", "tests/it/data/canoe"];
        folders.iter().map(|folder| planned(&root.join(folder))).collect()
    })
}

fn planned(folder: &Path) -> Plan {
    let text = |name: &str| std::fs::read_to_string(folder.join(name));
    let texts = BoatTexts {
        toml: text("boat.toml").expect("boat.toml"),
        offsets: text("offsets.csv").expect("offsets.csv"),
        marks: text("marks.csv").ok(),
        boards: text("boards.csv").ok(),
        nails: text("nails.csv").ok(),
    };
    let input = boat::folder::read(&texts).expect("a folder that can be read");
    boat::plan::plan(&input).expect("a boat that can be planned")
}

pub fn sheets(plan: &Plan, paper: PaperSize) -> Vec<Sheet> {
    book::sheets(&Type::embedded().expect("embedded type"), plan, paper)
}

/// Left, top, right and bottom of a line of text; no page of the book turns one.
fn text_box(text: &Text) -> [f64; 4] {
    assert_eq!(text.rotation, 0.0, "turned text needs a better box: {}", text.string());
    let size = text.runs.iter().map(|r| r.size).fold(0.0, f64::max);
    [text.at[0], text.at[1] - CAP_HEIGHT * size, text.at[0] + text.width, text.at[1] + DESCENT * size]
}

#[test]
fn no_words_touch_and_nothing_leaves_the_page() {
    for plan in boats() {
        for paper in PAPERS {
            for sheet in sheets(plan, paper) {
                check_sheet(&plan.spec.name, &sheet);
            }
        }
    }
}

#[test]
fn long_names_stay_on_the_page() {
    let long = "Wrackgrassbankensis of the Upper Saltings ".repeat(6);
    for mut plan in boats().iter().cloned() {
        let spec = &mut plan.spec;
        let woods = [&mut spec.planking.wood.name, &mut spec.timbers.wood.name];
        for words in [&mut spec.name, &mut spec.kind, &mut spec.drawn_by, &mut spec.built_at].into_iter().chain(woods)
        {
            words.clone_from(&long);
        }
        plan.sections.iter_mut().for_each(|s| s.name.push_str(&long));
        plan.moulds.iter_mut().for_each(|m| m.name.push_str(&long));
        plan.table.stations.iter_mut().for_each(|s| s.name.push_str(&long));
        plan.table.rows.iter_mut().for_each(|r| r.name.push_str(&long));
        for comb in &mut plan.fairness.combs {
            comb.line.push_str(&long);
            if let Some(largest) = &mut comb.moved.largest {
                largest.row.push_str(&long);
                largest.station.push_str(&long);
            }
        }
        for sheet in sheets(&plan, PaperSize::Letter) {
            check_sheet("long names", &sheet);
        }
    }
}

/// Whether some line of words on the sheet is that, whole.
pub fn says(sheet: &Sheet, words: &str) -> bool {
    sheet.texts().any(|t| t.string() == words)
}

#[test]
fn the_cover_carries_the_whole_name() {
    let mut plan = boats()[0].clone();
    for name in ["Wilhelmina of Sandwicke", "Wilhelmina of the Upper Saltings", "Corncrake"] {
        plan.spec.name = name.to_owned();
        for paper in PAPERS {
            assert!(says(&sheets(&plan, paper)[0], name), "{name} is cut");
        }
    }
}

#[test]
fn the_cover_says_where_the_findings_are_and_there_is_no_empty_page_of_them() {
    let mut plan = boats()[0].clone();
    let n = plan.findings.len();
    assert!(n > 1, "the example has something to look at");
    let with = sheets(&plan, PaperSize::A4);
    let page = book::findings_page(&with).expect("a page of findings");
    assert!(with[page - 1].texts().any(|t| t.string() == plan.findings[0].place));
    let words = format!("{n} things to look at before you cut wood: page {page}.");
    assert!(says(&with[0], &words), "the cover does not say {words:?}");

    plan.findings.truncate(1);
    assert!(says(&sheets(&plan, PaperSize::A4)[0], &format!("1 thing to look at before you cut wood: page {page}.")));

    plan.findings.clear();
    let without = sheets(&plan, PaperSize::A4);
    assert_eq!(book::findings_page(&without), None);
    assert_eq!(without.len(), with.len() - 1);
    assert!(says(&without[0], "Nothing was found that passes a limit of boat.toml or of common practice."));
}

#[test]
fn masses_and_small_lengths_are_in_the_boats_own_units() {
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        // A rule that counts in pounds is worked through in pounds.
        let ours = sheets.iter().filter(|s| s.title != "What she may carry");
        let words: Vec<String> = ours.flat_map(Sheet::texts).map(Text::string).collect();
        let inches = plan.spec.lengths != boat::units::Notation::Mm;
        let pounds = words.iter().filter(|w| w.contains(" lb")).count();
        assert_eq!(pounds > 0, inches, "{}", plan.spec.name);
        let mm = words.iter().find(|w| w.split(' ').any(|w| w.trim_end_matches('.') == "mm"));
        assert_eq!(mm.is_some(), !inches, "{}: {mm:?}", plan.spec.name);
        let used = plan.weights.fastenings;
        assert!(says(&sheets[0], &plan.spec.lengths.mass(used, 1)), "{}: the cover's nails", plan.spec.name);
        let nails = sheets.iter().find(|s| s.title == "Nails and roves").expect("a page of nails");
        for line in &plan.order {
            let order = line.wanted;
            assert!(says(nails, &order.to_string()), "{}: no order of {order}", plan.spec.name);
        }
    }
}

#[test]
fn figures_of_findings_stay_in_their_columns() {
    use boat::findings::{Finding, Measure, Stage};
    let measures = [
        [Measure::Length(1013.9), Measure::Length(1014.0)],
        [Measure::Length(131.7625), Measure::Length(131.7624)],
        [Measure::Length(-131.7), Measure::Length(131.7)],
        [Measure::Angle(1.234_567), Measure::Angle(1.234_566)],
        [Measure::Ratio(0.123_456_7), Measure::Ratio(0.123_456_8)],
        [Measure::Count(7.0), Measure::Count(0.0)],
        [Measure::Count(700.0), Measure::Count(12.0)],
    ];
    for mut plan in boats().iter().cloned() {
        let findings = measures.iter().map(|[measured, limit]| Finding {
            stage: Stage::Stock,
            place: "half-breadth waterline 300, station 3".to_owned(),
            measured: *measured,
            limit: *limit,
            hint: "look at it".to_owned(),
        });
        plan.findings = findings.collect();
        for paper in PAPERS {
            let sheets = sheets(&plan, paper);
            let page = book::findings_page(&sheets).expect("a page of findings");
            check_sheet("findings", &sheets[page - 1]);
            assert!(sheets[page - 1].texts().any(|t| t.string().starts_with("just ")), "{}", plan.spec.name);
        }
    }
}

#[test]
fn a_plan_with_nothing_in_it_still_makes_a_book() {
    for mut plan in boats().iter().cloned() {
        plan.sections.clear();
        plan.moulds.clear();
        plan.lands.clear();
        plan.marks.clear();
        plan.strakes.clear();
        plan.flats.clear();
        plan.timbers.clear();
        plan.rivets.clear();
        plan.ends.clear();
        plan.keel_fastenings.clear();
        plan.order.clear();
        plan.table.stations.clear();
        plan.table.rows.clear();
        plan.fair.clear();
        for sheet in sheets(&plan, PaperSize::A4) {
            check_sheet("empty", &sheet);
        }
        assert!(book::write(&plan, PaperSize::A4).is_ok());
    }
}

/// No words touch, run off the sheet or are too small to read, and no line runs off it.
pub fn check_sheet(boat: &str, sheet: &Sheet) {
    let place = format!("{boat}, {}, {} mm wide", sheet.title, sheet.width);
    let edge = 8.0;
    let inside = |x: f64, y: f64| x >= edge && x <= sheet.width - edge && y >= 4.0 && y <= sheet.height - 4.0;
    let texts: Vec<(&Text, [f64; 4])> = sheet.texts().map(|t| (t, text_box(t))).collect();
    for (text, [left, top, right, bottom]) in &texts {
        assert!(inside(*left, *top) && inside(*right, *bottom), "{place}: `{}` runs off the page", text.string());
        for run in &text.runs {
            assert!(run.size >= LEAST_SIZE - 1e-9, "{place}: `{}` is only {} mm", text.string(), run.size);
        }
    }
    for shape in sheet.shapes() {
        let points = match &shape.outline {
            Outline::Line(points) | Outline::Polygon(points) => points.clone(),
            Outline::Circle { at, .. } => vec![*at],
        };
        for [x, y] in points {
            assert!(inside(x, y), "{place}: a line runs off the page at {x:.1}, {y:.1}");
        }
    }
    for (i, (a, box_a)) in texts.iter().enumerate() {
        for (b, box_b) in &texts[..i] {
            let across = box_a[2].min(box_b[2]) - box_a[0].max(box_b[0]);
            let down = box_a[3].min(box_b[3]) - box_a[1].max(box_b[1]);
            // What hangs below a base line may reach into the air above the next line's small letters.
            assert!(
                across <= 0.05 || down <= 0.45,
                "{place}: `{}` and `{}` overlap by {across:.2} × {down:.2} mm",
                a.string(),
                b.string()
            );
        }
    }
}

#[test]
fn every_strake_has_a_card_and_every_land_says_its_bevels() {
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        let n = plan.strakes.len();
        assert!(n >= 4);
        for strake in 1..=n {
            let cards: Vec<&Sheet> = sheets.iter().filter(|s| s.title == format!("Strake {strake} of {n}")).collect();
            assert!(!cards.is_empty(), "strake {strake} has no card");
            let says = |words: &str| cards.iter().any(|c| c.texts().any(|t| t.string() == words));
            assert!(says(&strake.to_string()) && says(&format!("of {n}")), "strake {strake}'s number");
            assert_eq!(says(&format!("Land {strake}, on its upper edge")), strake < n, "strake {strake}'s land");
            let largest =
                cards.iter().flat_map(|c| c.texts()).flat_map(|t| &t.runs).map(|r| r.size).fold(0.0, f64::max);
            assert!(largest * 72.0 / 25.4 >= 40.0, "strake {strake}'s number is to be read across the shed");
            for at in plan.strakes[strake - 1].at.iter().filter_map(|a| a.bevel) {
                let sign = if (at.to_degrees() * 10.0).round() < 0.0 { "\u{2212}" } else { "" };
                let bevel = format!("{sign}{:.1}°", (at.to_degrees().abs() * 10.0).round() / 10.0);
                assert!(says(&bevel), "strake {strake}: no bevel of {bevel}");
            }
        }
    }
}

/// Texts on the base line of the first text `words` of a sheet, from it to the right as far as the table goes.
pub fn right_of(sheet: &Sheet, words: &str) -> Vec<String> {
    let start = sheet.texts().find(|t| t.string() == words).unwrap_or_else(|| panic!("no `{words}`"));
    let mut row: Vec<&Text> =
        sheet.texts().filter(|t| (t.at[1] - start.at[1]).abs() < 0.3 && t.at[0] > start.at[0]).collect();
    row.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
    row.iter().map(|t| t.string()).collect()
}

/// Depth of a rebate at the share `e` of its gain: half of what the step t e²(3 − 2e) leaves of the thickness t.
#[test]
fn every_card_gives_the_depths_of_its_gains_and_says_how_they_go_with_the_bevel() {
    let plan = &boats()[1];
    let (t, gain) = (plan.spec.planking.thickness, plan.spec.planking.gain);
    assert_eq!((t, gain, plan.spec.planking.lap), (9.0, 300.0, 18.0));
    let sheets = sheets(plan, PaperSize::A4);
    let n = plan.strakes.len();
    for (i, strake) in plan.strakes.iter().enumerate() {
        let title = format!("Strake {} of {n}", strake.strake);
        let back = sheets.iter().rfind(|s| s.title == title).expect("a back");
        for end in ["stem", "sternpost"] {
            let depths = right_of(back, &format!("{end}, 300 long"));
            let expected: Vec<String> = (0..=6)
                .map(|j| f64::from(j) * 50.0 / gain)
                .map(|e| format!("{:.1}", (5.0 * (t - t * e * e * (3.0 - 2.0 * e))).abs().round() / 10.0))
                .collect();
            assert_eq!(depths[..7], expected, "{title}");
        }
        assert_eq!(right_of(back, "mm from the end")[..7], ["0", "50", "100", "150", "200", "250", "300"]);
        let words = words_of(&sheets, &title);
        let next = format!("Strake {} gets the same rebate in its inner face", strake.strake + 1);
        assert_eq!(words.contains(&next), i + 1 < n, "{title}");
        assert_eq!(words.contains("plane the bevel over the whole land, in the gain on what the rebate"), i + 1 < n);
        assert_eq!(words.contains("Cut its own rebate in the inner face, 18 mm wide"), i > 0, "{title}");
        let below = i.checked_sub(1).map(|b| &plan.strakes[b].at);
        let hollow = below.is_some_and(|at| at.iter().any(|a| a.bevel.is_some_and(|b| 18.0 * b.tan() < -0.05)));
        assert_eq!(words.contains("is hollow in places"), hollow, "{title}");
    }
}

/// The sheet of a strake's ends gives the rabbet's greatest distance from the straight line and the edges at the
/// quarters of the way to the next station; the front has the garboard's quarters and the others' halves.
#[test]
fn ends_are_given_as_the_rabbet_has_them() {
    for (plan, paper) in boats().iter().flat_map(|plan| PAPERS.map(|paper| (plan, paper))) {
        let sheets = sheets(plan, paper);
        let (n, len) = (plan.strakes.len(), plan.spec.lengths);
        for flat in &plan.flats {
            let title = format!("Strake {} of {n}", flat.strake);
            let front = sheets.iter().find(|s| s.title == title).expect("a front");
            let ends = sheets.iter().find(|s| s.title == format!("{title}, its ends")).expect("its ends");
            for s in &flat.stations {
                assert!(says(front, &len.long(s.lower[0])) && says(front, &len.long(s.upper[0])), "{}", front.title);
            }
            // One tape, one width: the card's is the table's.
            let plain = |text: &str| text.replace('\u{2044}', "/").replace(|c: char| c.is_whitespace(), "");
            let told: BTreeSet<String> = front.texts().map(|t| plain(&t.string())).collect();
            for at in &plan.strakes[flat.strake - 1].at {
                let width = plain(&len.short(at.width));
                assert!(told.contains(&width), "{}, section {}: no {width}", front.title, at.section);
            }
            let last = flat.lower.len() - 1;
            for (hood, from, title) in [
                (&flat.fore_hood, 0, "Fore end, in the stem"),
                (&flat.aft_hood, last - 16, "After end, in the sternpost"),
            ] {
                assert_eq!(says(ends, title), hood.is_some());
                let Some(hood) = hood else { continue };
                let inside =
                    |p: &[f64; 2]| (0..2).all(|a| p[a] > -1e-9 && p[a] < [flat.length, flat.board_width][a] + 1e-9);
                assert!(hood.curve.iter().all(inside), "{title}: the hood end leaves its board");
                let quarter = |q: f64| {
                    let x = |i: usize| flat.upper[from + i][0];
                    let off = |i: &usize| (x(*i) - x(0) - (x(16) - x(0)) * q).abs();
                    (1..16).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap()
                };
                let all: Vec<usize> = [0.25, 0.5, 0.75].map(quarter).to_vec();
                let quarters = if flat.strake == 1 { all.clone() } else { vec![all[1]] };
                for (sheet, rulings) in [(front, quarters), (ends, all)] {
                    for i in rulings {
                        for p in [flat.lower[from + i], flat.upper[from + i]] {
                            assert!(says(sheet, &len.long(p[0])), "{} {}: {p:?}", plan.spec.name, sheet.title);
                        }
                    }
                }
            }
            let words = words_of(&sheets, &format!("{title}, its ends"));
            for hood in flat.fore_hood.iter().chain(&flat.aft_hood) {
                let most = hood.most()[1].abs();
                let most = match boat::units::Fraction::of_inches(most, 32) {
                    Some(fraction) if len != boat::units::Notation::Mm => format!("{fraction} in"),
                    _ => format!("{} mm", len.exact(most)),
                };
                let straight = most == "0 in" || most == "0.0 mm";
                let said = if straight { "as good as straight".to_owned() } else { format!("stands up to {most}") };
                assert!(words.contains(&said), "{said}: {words}");
            }
        }
    }
}

/// Waterlines, buttocks and lands are named, and a stem is drawn once: the skin's own curve and not the straight facets
/// of what was typed.
#[test]
fn the_lines_name_what_they_draw() {
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        let sheet = |title: &str| sheets.iter().find(|s| s.title == title).expect("a sheet");
        let (long, body) = (sheet("Lines and lands"), sheet("Body plan"));
        let mut measures = 0;
        for row in &plan.table.rows {
            let (RowKind::HalfBreadthWaterline(v) | RowKind::HeightButtock(v)) = row.kind else { continue };
            let words = plan.spec.lengths.long(v);
            assert!(says(long, &words) && says(body, &words), "{}: {words}", row.name);
            measures += 1;
        }
        assert!(measures > 0);
        for land in 1..plan.strakes.len() {
            assert!(says(body, &land.to_string()), "land {land}");
        }
        let EndSpec::Post(post) = &plan.spec.fore else { continue };
        let runs = |points: usize| {
            long.shapes().filter(|s| matches!(&s.outline, Outline::Line(run) if run.len() == points)).count()
        };
        assert_eq!(runs(post.rabbet.len()), 0);
        let ends = plan.sections.iter().filter(|s| s.at == SectionAt::Post).count();
        assert!(runs(plan.sections[0].points.len()) >= ends);
    }
}

/// Each view has its page with as many rings as there are inflections, every line is in the table, and the corrected table
/// reads as the fair entries do, doubtful ones marked.
#[test]
fn fairness_can_be_seen_in_the_book() {
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        let name = &plan.spec.name;
        for (view, _) in &plan.fairness.moved {
            let title = format!("Fairness: {}", view.word());
            let page = sheets.iter().find(|s| s.title == title).unwrap_or_else(|| panic!("{name}: no {title}"));
            let rings =
                page.shapes().filter(|s| matches!(s.outline, Outline::Circle { radius, .. } if radius == 0.9));
            let lines = || plan.fairness.combs.iter().filter(|c| c.view == *view);
            assert_eq!(rings.count(), lines().map(|c| c.after.len()).sum::<usize>(), "{name}, {title}");
            // As many lines as there are combs, each with all its points.
            for comb in lines() {
                let whole = |s: &&Shape| matches!(&s.outline, Outline::Line(run) if run.len() == comb.teeth.len());
                assert!(page.shapes().filter(whole).count() >= 2, "{name}: {}", comb.line);
            }
            assert!(words_of(&sheets, &title).contains("A hair "), "{name}, {title}");
        }
        let table: Vec<&Sheet> = sheets.iter().filter(|s| s.title == "Fairness").collect();
        for comb in &plan.fairness.combs {
            assert!(table.iter().any(|s| says(s, &comb.line)), "{name}: {}", comb.line);
        }

        let title = "Corrected table of offsets";
        let mut said: Vec<String> =
            sheets.iter().filter(|s| s.title == title).flat_map(Sheet::texts).map(Text::string).collect();
        for row in &plan.fair {
            for fair in row.cells.iter().flatten() {
                let text = plan.spec.lengths.long(fair.fair) + if fair.suspect { " ?" } else { "" };
                let at = said.iter().position(|s| *s == text);
                said.swap_remove(at.unwrap_or_else(|| panic!("{name}: no {text} in the corrected table")));
            }
        }
    }
}

/// Two pages of pictures with a name under each, the worst places in words, every land's inflections, and every width
/// with its widest and narrowest marked once; each picture is a sheet of its own too, and its SVG can be read.
#[test]
fn the_lands_can_be_seen_in_the_book() {
    let t = Type::embedded().expect("embedded type");
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        let found = lands(&plan.strakes, &plan.spec.lining);
        let look: Vec<&Sheet> = sheets.iter().filter(|s| s.title == "How the lands look").collect();
        // Every land is a line of it at least.
        let inked =
            |sheet: &Sheet| sheet.layers.iter().any(|l| l.name == "boat" && l.items.len() >= plan.strakes.len());
        assert_eq!(look.iter().filter(|s| inked(s)).count(), 2, "{}", plan.spec.name);
        let said = words_of(&sheets, "How the lands look");
        for seen in &found.lands[0].seen[3..] {
            assert!(said.contains(seen.view.word()), "{}: {}", plan.spec.name, seen.view.word());
        }
        for worst in &found.worst {
            let words = worst.words(plan.strakes.len(), &plan.sections, plan.spec.lengths);
            assert!(said.contains(&words), "{}: {words}", plan.spec.name);
        }
        let figures = look.iter().find(|s| says(s, "turns back most")).expect("a table of lands");
        let rows = table_rows(figures, "land", "most");
        for land in &found.lands {
            let name = if land.land == found.lands.len() { "sheer".to_owned() } else { land.land.to_string() };
            let row = rows.iter().find(|r| r[0] == name).unwrap_or_else(|| panic!("{}: {name}", plan.spec.name));
            let counts: Vec<usize> = row[1..8].iter().map(|cell| cell.parse().unwrap_or(0)).collect();
            assert_eq!(counts, land.seen.iter().map(|s| s.inflections.len()).collect::<Vec<_>>(), "{name}");
        }
        let widths = words_of(&sheets, "What shows of each strake");
        assert_eq!(widths.matches(">\u{2009}").count(), plan.strakes.len(), "{}", plan.spec.name);
        // A fraction is set close up to the whole number before it.
        let close = |words: &str| words.replace(' ', "").replace('\u{2044}', "/");
        for at in plan.strakes.iter().flat_map(|s| &s.at) {
            let words = plan.spec.lengths.short(at.shows);
            assert!(close(&widths).contains(&close(&words)), "{}: {words}", plan.spec.name);
        }

        for picture in pictures(&t, plan) {
            assert!(inked(&picture.sheet));
            let svg = boat::paper::write_svg(&t, &picture.sheet);
            let read = roxmltree::Document::parse(&svg).expect("SVG that can be read");
            let lines = read.descendants().filter(|n| n.has_tag_name("polyline")).count();
            assert_eq!(lines, picture.sheet.shapes().count());
            check_sheet(&plan.spec.name, &picture.sheet);
        }
    }
}

#[test]
fn a_plank_that_the_next_one_covers_says_so() {
    let mut canoe = boats()[3].clone();
    // The garboard at station 5 drawn in to a hair more than nothing: narrower than the lap that lies on it.
    let at = canoe.strakes[0].at[5].ruling;
    let ruling = &mut canoe.strakes[0].rulings[at];
    ruling.upper = ruling.lower + 0.1 * (ruling.upper - ruling.lower);
    let covered = |strake: usize| {
        let title = format!("Strake {strake} of {}", canoe.strakes.len());
        sheets(&canoe, PaperSize::A4).iter().any(|s| s.title == title && s.texts().any(|t| t.string() == "covered"))
    };
    assert!(covered(1) && !covered(5));
}

/// Everything a sheet of that title says, line after line.
pub fn words_of(sheets: &[Sheet], title: &str) -> String {
    sheets.iter().filter(|s| s.title == title).flat_map(Sheet::texts).map(|t| t.string() + " ").collect()
}

#[test]
fn every_sheet_drawn_to_scale_carries_the_box() {
    for plan in boats() {
        for sheet in sheets(plan, PaperSize::A4) {
            let to_scale = sheet.texts().any(|t| {
                let words = t.string();
                words.contains("scale 1 :") || words.contains("full size")
            });
            assert!(!to_scale || sheet.scale != Scale::None, "{}: to scale, but no box", sheet.title);
        }
    }
}

/// Rows of the tables on a sheet that begin with a column headed `first` and end with one headed `last`: the texts of
/// each row from the left, table after table.
pub fn table_rows(sheet: &Sheet, first: &str, last: &str) -> Vec<Vec<String>> {
    let heads = |word: &str| -> Vec<&Text> {
        let mut heads: Vec<&Text> = sheet.texts().filter(|t| t.string() == word).collect();
        heads.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
        heads
    };
    let (firsts, lasts) = (heads(first), heads(last));
    assert_eq!(firsts.len(), lasts.len(), "{}", sheet.title);
    let mut rows = Vec::new();
    for (a, b) in firsts.into_iter().zip(lasts) {
        let (left, right) = (a.at[0] - 3.0, b.at[0] + b.width + 1.0);
        let mut inside: Vec<&Text> = sheet
            .texts()
            .filter(|t| t.at[0] >= left && t.at[0] + t.width <= right && t.at[1] > a.at[1] + 1.0)
            .collect();
        inside.sort_by(|a, b| a.at[1].total_cmp(&b.at[1]).then(a.at[0].total_cmp(&b.at[0])));
        for row in inside.chunk_by(|a, b| (a.at[1] - b.at[1]).abs() < 0.3) {
            let mut row = row.to_vec();
            row.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
            rows.push(row.iter().map(|t| t.string()).collect());
        }
    }
    rows
}
