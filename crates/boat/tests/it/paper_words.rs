//! What the pages say, where it hangs on what she is: true of her, and of one side where she is planned for one side alone.

use std::path::Path;

use boat::drawing::Sheet;
use boat::drawing::typeface::Type;
use boat::findings::{Finding, Measure, Stage};
use boat::folder::{self, RepairTexts};
use boat::lines::SectionAt;
use boat::paper::patterns::{Kind, patterns};
use boat::paper::{PaperSize, book};
use boat::repair::mend;
use boat::units::Notation;

use crate::paper::{boats, check_sheet, sheets, words_of};

fn finding(stage: Stage, place: String) -> Finding {
    let [measured, limit] = [Measure::Length(12.0), Measure::Length(10.0)];
    Finding { stage, place, measured, limit, hint: "look at it, and at what lies on either side of it. ".repeat(3) }
}

#[test]
fn one_doubtful_place_is_one() {
    let mut plan = boats()[0].clone();
    plan.findings = vec![finding(Stage::Lines, "station 3".to_owned())];
    let cover = words_of(&sheets(&plan, PaperSize::A4)[..1], "Cover");
    assert!(cover.contains("the lines again in 1 place before"), "{cover}");
    assert!(cover.contains("1 thing in all"), "{cover}");
}

/// Rounded away, a difference has no sign, an end stands in by nothing, and no block is planed to no depth.
#[test]
fn nothing_is_not_given_as_a_measure() {
    for plan in boats().iter().filter(|p| p.spec.lengths == Notation::Mm) {
        for sheet in sheets(plan, PaperSize::A4) {
            let words = words_of(std::slice::from_ref(&sheet), &sheet.title);
            for nothing in
                ["+0.0 ", "takes off, 0.0 mm", "up to 0.0 mm", "this land 0.0 to", "0.0 out ", " and 0.0 mm at"]
            {
                assert!(!words.contains(nothing), "{}, {}: {nothing}: {words}", plan.spec.name, sheet.title);
            }
        }
    }
}

/// The two sides of a boat that hangs may differ: her planks then say for which they are.
#[test]
fn planks_of_one_side_say_so() {
    let t = Type::embedded().expect("embedded type");
    for (side, turned) in [(None, true), (Some("port"), false), (Some("starboard"), true)] {
        let mut plan = boats()[1].clone();
        plan.side = side;
        assert!(plan.made.iter().any(|m| m.parts.len() > 1));
        for pattern in patterns(&t, &plan, &[Kind::Plank]) {
            let words: String = pattern.sheet.texts().map(|text| text.string() + " ").collect();
            let alone = side.map(|side| format!("{side} alone as she stands"));
            assert!(alone.as_ref().is_none_or(|alone| words.contains(alone)), "{}: {words}", pattern.name);
            assert_eq!(words.contains("turn it over"), turned, "{}: {words}", pattern.name);
            assert!(side.is_none() || !words.contains("outer face, port"), "{words}");
        }
        let reading = words_of(&sheets(&plan, PaperSize::A4), "How to read this book");
        assert_eq!(reading.contains("the two are a pair"), side.is_none(), "{reading}");
    }
}

#[test]
fn a_wood_without_a_name_leaves_no_gap() {
    let t = Type::embedded().expect("embedded type");
    let mut plan = boats()[1].clone();
    plan.spec.planking.wood.name.clear();
    for pattern in patterns(&t, &plan, &[Kind::Plank]) {
        let words: String = pattern.sheet.texts().map(|text| text.string() + " ").collect();
        assert!(words.contains("9 mm; least board"), "{}: {words}", pattern.name);
    }
}

/// The example's readings given three times as closely, and more to look at than one page holds.
#[test]
fn the_card_of_a_repair_goes_on_over_the_page() {
    let t = Type::embedded().expect("embedded type");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/sandgrouse-repair");
    let text = |name: &str| std::fs::read_to_string(folder.join(name)).expect(name);
    let texts = RepairTexts { toml: text("repair.toml"), readings: text("readings.csv"), holes: None };
    let job = folder::read_repair(&texts).expect("readings that can be read");
    let mut made = mend(&job).expect("a plank");
    let few = book::repair::sheets(&t, &job, &made, PaperSize::A4);
    let station = made.flat.stations[1].clone();
    let many: Vec<_> = (0..30).map(|_| station.clone()).collect();
    made.flat.stations.extend(many);
    made.findings = (0..20).map(|i| finding(Stage::Planks, format!("place {i}"))).collect();
    let sheets: Vec<Sheet> = book::repair::sheets(&t, &job, &made, PaperSize::A4);
    assert!(sheets.len() > few.len() + 1);
    let along = job.spec.lengths.long(station.upper[0]);
    let rows = words_of(&sheets, "The new plank").matches(&format!(" {along} ")).count();
    assert!(rows >= 31, "{rows} rows");
    let said = words_of(&sheets, "Readings, and before you start");
    assert!((0..20).all(|i| said.contains(&format!("place {i} "))) && said.contains("Old paint may hold lead"));
    for sheet in sheets.iter().filter(|s| s.title != "The new plank") {
        check_sheet("a repair", sheet);
    }
}

/// Stations may have any name.
#[test]
fn a_station_is_called_one_whatever_its_name() {
    let mut plan = boats()[1].clone();
    for section in plan.sections.iter_mut().filter(|s| matches!(s.at, SectionAt::Station(_))) {
        section.name = format!("mid {}", section.name);
    }
    let words: Vec<String> = sheets(&plan, PaperSize::A4).iter().flat_map(Sheet::texts).map(|t| t.string()).collect();
    assert!(words.iter().any(|w| w.starts_with("At station mid")));
    assert!(!words.iter().any(|w| w.starts_with("At the mid")));
}
