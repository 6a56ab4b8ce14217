//! The book of a boat with more strakes, stations or readings than a page has room for: nothing is left out, and nothing stands
//! on something else.

use std::path::Path;
use std::sync::OnceLock;

use boat::drawing::Sheet;
use boat::folder::BoatTexts;
use boat::geom::monotone;
use boat::paper::PaperSize;
use boat::plan::Plan;

use crate::paper::{PAPERS, check_sheet, sheets, words_of};

/// Sandgrouse with two stations more between each two of hers, and with many narrow strakes.
fn large() -> &'static [Plan; 2] {
    static LARGE: OnceLock<[Plan; 2]> = OnceLock::new();
    LARGE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/sandgrouse");
        let text = |name: &str| std::fs::read_to_string(folder.join(name)).expect(name);
        let (toml, offsets) = (text("boat.toml"), text("offsets.csv"));
        // What is fitted inside her goes by the names of her stations.
        let toml = toml.split("[interior]").next().expect("boat.toml").to_owned();
        let narrow = toml.replace("strakes = 9", "strakes = 26").replace("lap = 18", "lap = 10");
        assert!(narrow.contains("strakes = 26") && narrow.contains("lap = 10"));
        [(toml, between(&offsets)), (narrow, offsets)].map(|(toml, offsets)| {
            let texts = BoatTexts { toml, offsets, marks: None, boards: None, nails: None };
            let input = boat::folder::read(&texts).expect("a folder that can be read");
            boat::plan::plan(&input).expect("a boat that can be planned")
        })
    })
}

/// The same table with two stations more between each two.
fn between(offsets: &str) -> String {
    let lines: Vec<Vec<&str>> =
        offsets.lines().filter(|l| !l.starts_with('#')).map(|l| l.split(',').collect()).collect();
    let (head, rows) = lines.split_first().expect("a head");
    let number = |row: &[&str], column: usize| row[column].parse::<f64>().ok();
    let at: Vec<f64> = rows.iter().map(|row| number(row, 1).expect("a place")).collect();
    let places: Vec<f64> = at
        .iter()
        .map(|x| [*x])
        .collect::<Vec<_>>()
        .windows(2)
        .flat_map(|w| [0.0, 1.0, 2.0].map(|third| w[0][0] + (w[1][0] - w[0][0]) * third / 3.0))
        .chain(at.last().copied())
        .collect();
    let columns: Vec<Vec<[f64; 2]>> = (2..head.len())
        .map(|column| {
            let known: Vec<[f64; 2]> =
                rows.iter().zip(&at).filter_map(|(row, x)| Some([*x, number(row, column)?])).collect();
            let knots: Vec<f64> = known.iter().map(|p| p[0]).collect();
            monotone::dense(&knots, &known, 3)
        })
        .collect();
    let mut out = head.join(",");
    for (i, x) in places.iter().enumerate() {
        out.push_str(&format!("\n{},{x:.3}", i + 1));
        for column in &columns {
            let there = column.iter().find(|p| (p[0] - x).abs() < 1e-6);
            out.push_str(&there.map_or(",".to_owned(), |p| format!(",{:.1}", p[1])));
        }
    }
    out
}

#[test]
fn no_words_touch_and_nothing_leaves_the_page_however_large_she_is() {
    let mut troubles = Vec::new();
    for plan in large() {
        for paper in PAPERS {
            for sheet in sheets(plan, paper) {
                let name = format!("{} strakes, {} sections", plan.strakes.len(), plan.sections.len());
                let checked = std::panic::catch_unwind(|| check_sheet(&name, &sheet));
                if let Err(why) = checked {
                    troubles.push(why.downcast_ref::<String>().cloned().unwrap_or_default());
                }
            }
        }
    }
    assert!(troubles.is_empty(), "{} sheets:\n{}", troubles.len(), troubles.join("\n"));
}

/// Every number that a table on the sheets of that title must have is there at least as often as the plan has it.
fn has_all(sheets: &[Sheet], titled: impl Fn(&str) -> bool, expected: Vec<String>) -> Vec<String> {
    let mut said: Vec<String> =
        sheets.iter().filter(|s| titled(&s.title)).flat_map(Sheet::texts).map(|t| t.string()).collect();
    expected
        .into_iter()
        .filter(|text| match said.iter().position(|s| s == text) {
            Some(at) => {
                said.swap_remove(at);
                false
            }
            None => true,
        })
        .collect()
}

#[test]
fn no_row_of_a_table_is_left_out_however_large_she_is() {
    for plan in large() {
        let (sheets, len) = (sheets(plan, PaperSize::Letter), plan.spec.lengths);
        let mut missing = Vec::new();
        let mut look = |titled: &dyn Fn(&str) -> bool, expected: Vec<String>| {
            missing.extend(has_all(&sheets, titled, expected));
        };
        look(&|t| t == "Table of marks", plan.marks.iter().map(|m| len.long(m.girth)).collect());
        let set = &plan.setting_up.moulds;
        look(&|t| t == "Setting up the moulds", set.iter().map(|m| len.long(m.from_bow)).collect());
        for post in &plan.backbone.posts {
            let title = format!("Rabbet of the {}", post.end);
            look(&|t| t == title, post.lands.iter().map(|r| len.long(r.inner.z)).collect());
        }
        let keel = plan.backbone.keel_at.iter().skip(1).take(plan.sections.len() - 2);
        let angle = |i: &usize| format!("{:.1}°", plan.backbone.keel[*i].angle.to_degrees());
        look(&|t| t == "Rabbet of the keel", keel.map(angle).collect());
        look(&|t| t == "How her planks move", plan.swelling.iter().map(|s| len.short(s.width)).collect());
        let given = plan.table.rows.iter().flat_map(|r| r.cells.iter().flatten()).map(|c| c.text.clone());
        look(&|t| t == "Table of offsets", given.collect());
        for flat in &plan.flats {
            let title = format!("Strake {} of {}", flat.strake, plan.strakes.len());
            let along = flat.stations.iter().flat_map(|s| [s.lower[0], s.upper[0]]);
            look(&|t| t == title, along.map(|x| len.long(x)).collect());
            let parts = format!("{title}, its parts");
            let made = plan.made.iter().filter(|m| m.strake == flat.strake && m.parts.len() > 1);
            let along = made.flat_map(|m| &m.parts).flat_map(|p| &p.stations).map(|s| len.long(s.lower[0]));
            look(&|t| t == parts, along.collect());
        }
        for strake in &plan.strakes {
            let title = format!("Strake {} of {}", strake.strake, plan.strakes.len());
            let left = strake.at.iter().filter_map(|a| a.edge_left).map(|mm| len.exact(mm));
            look(&|t| t == title, left.collect());
            let words = words_of(&sheets, &title);
            assert!(strake.strake == plan.strakes.len() || words.contains("Try them together"), "{title}");
        }
        assert!(missing.is_empty(), "{} strakes: {missing:?}", plan.strakes.len());
    }
}
