//! Boats of which no plan comes: the message is in the boat's own notation and names what to change.

use boat::findings::{Finding, Stage};
use boat::folder::{self, BoatTexts};
use boat::geom::Point;
use boat::geom::arc::ArcCurve;
use boat::lines::crossing::crossing;
use boat::lines::{LinesError, Section, SectionAt, Skin};
use boat::lining::LiningError;
use boat::plan::{PlanError, plan};
use boat::planks::PlanksError;
use boat::units::Notation;

fn texts() -> BoatTexts {
    crate::plans::texts("corncrake")
}

/// What is found in her, or why there is no plan. A whole plan is too long for a message of a test.
fn planned(texts: &BoatTexts) -> Result<Vec<Finding>, PlanError> {
    plan(&folder::read(texts).unwrap()).map(|plan| plan.findings)
}

/// The message of a boat in feet, inches and eighths: it holds no millimetres.
fn said(error: &PlanError) -> String {
    let said = error.said(Notation::FeetInchesEighths);
    assert!(!said.contains(" mm"), "{said}");
    said
}

fn says_all(said: &str, parts: &[&str]) {
    for part in parts {
        assert!(said.contains(part), "{said:?} does not say {part:?}");
    }
}

#[test]
fn strakes_that_do_not_fit() {
    let mut boat = texts();
    boat.toml = boat.toml.replace("strakes = 10", "strakes = 40");
    let error = planned(&boat).unwrap_err();
    assert!(matches!(error, PlanError::Lining(LiningError::TooMany { .. })));
    says_all(&said(&error), &["planking.strakes = 40", "station 1", "15/16 in", "or fewer", "planking.lap"]);
    says_all(&error.to_string(), &[" mm"]);
}

#[test]
fn pins_are_told_in_the_boats_notation() {
    let with = |marks: &str| {
        let marks = Some(format!("land,station,girth_mm\n{marks}\n"));
        said(&planned(&BoatTexts { marks, ..texts() }).unwrap_err())
    };
    says_all(&with("3,4,2000"), &["marks.csv line 2", "land 3 at station 4", "6-6-6", "2-9-1"]);
    says_all(
        &with("3,4,20"),
        &["marks.csv line 2", "25/32 in from land 0", "2 13/16 in", "planking.lap", "pin it at 2 27/32 in or more"],
    );
}

#[test]
fn a_wild_pin_is_named_with_the_strake_that_it_spoils() {
    for (marks, at) in [("8,4,250", "station 4"), ("1,4,500", "station 4"), ("8,5,230", "station 5")] {
        let texts = BoatTexts { marks: Some(format!("# by hand\nland,station,girth_mm\n{marks}\n")), ..texts() };
        let error = planned(&texts).unwrap_err();
        assert!(matches!(error, PlanError::Planks { .. }), "{error}");
        let land = marks.split(',').next().unwrap();
        let pin = format!("look at marks.csv first: line 3 pins land {land} at {at}");
        says_all(&said(&error), &[&format!("at {at}"), "planking.strakes", &pin]);
    }
    // Where she can be planked all the same, what is found says so too.
    let marks = Some("land,station,girth_mm\n5,transom,200\n".to_owned());
    let found = planned(&BoatTexts { marks, ..texts() }).unwrap();
    let thin = |found: &[Finding], strake: &str| {
        found.iter().find(|f| f.place.starts_with(strake) && f.hint.contains("left at the edge")).unwrap().clone()
    };
    let near = thin(&found, "strake 8, ");
    assert!(near.place.ends_with("transom"), "{}", near.place);
    says_all(&near.hint, &["planking.lap", "marks.csv", "line 2 pins land 5 at transom"]);
    // Far up the same mould nothing is blamed on the pin.
    let marks = Some("land,station,girth_mm\n2,transom,110\n".to_owned());
    let found = planned(&BoatTexts { marks, ..texts() }).unwrap();
    let far = thin(&found, "strake 9, ");
    assert!(far.place.ends_with("transom"), "{}", far.place);
    assert!(!far.hint.contains("marks.csv"), "{}", far.hint);
}

#[test]
fn a_strake_that_cannot_be_hung_says_by_how_much() {
    let section = || "station 3".to_owned();
    let narrow = PlanksError::TooNarrow { strake: 4, section: section(), width: 19.0, lap: 19.05, least: 19.05 };
    says_all(
        &narrow.said(Notation::Inches),
        &["strake 4 at station 3", "just under 3/4 in", "a land of 3/4 in", "planking.strakes", "planking.lap"],
    );
    says_all(&narrow.to_string(), &["would be 19.0 mm", "19.1 mm is the least"]);
    let edge = |degrees, off| {
        PlanksError::NoEdge { strake: 4, section: section(), degrees, lap: 19.05, off, thickness: 9.525 }
            .said(Notation::FeetInchesEighths)
    };
    says_all(&edge(30.0, 11.0), &["turns 30°", "7/16 in", "3/8 in thick", "planking.strakes", "planking.lap"]);
    let back = edge(-78.0, 0.0);
    says_all(&back, &["turns -78°", "69°"]);
    assert!(!back.contains("off an edge"), "{back}");
}

#[test]
fn the_lines_too_speak_the_boats_notation() {
    let few = PlanError::Lines(LinesError::TooFewStations { found: 2, fore_mm: -79.4, aft_mm: 914.4 });
    says_all(
        &said(&few),
        &["2 stations", "-3 1/8 in aft of the first station", "3-0-0", "3 or more", "lines.spacing"],
    );
    let mut wide = texts();
    wide.toml = wide.toml.replace("spacing = \"1-6-0\"", "spacing = \"1-9-0\"");
    let beyond = planned(&wide).unwrap_err();
    says_all(&said(&beyond), &["station 8 stands 12-3-0", "beyond the transom", "11-9-4", "lines.spacing"]);
    let not = PlanError::Lines(LinesError::NotFaired { within_mm: 1.5875, status: "stuck".to_owned() });
    says_all(&said(&not), &["within 1/16 in", "stuck", "lines.fair_within"]);
}

/// What is found wrong with the rack: place, measured and limit in inches, hint.
fn rack(boards: &str) -> Vec<(String, String, String)> {
    let boards = Some(format!("board,length,width,thickness\n{boards}"));
    let found = planned(&BoatTexts { boards, ..texts() }).unwrap();
    let stock = found.iter().filter(|f| f.stage == Stage::Stock);
    stock.map(|f| (f.place.clone(), f.figures(Notation::Inches).unwrap().join(" / "), f.hint.clone())).collect()
}

#[test]
fn a_rack_that_holds_every_plank_is_passed_over() {
    assert_eq!(rack("A1,14-0-0,9 in,3/8 in\n"), []);
    // 3/8 in is 9.525 mm; a merchant's 9.5 mm is as thick.
    assert_eq!(rack("A1,14-0-0,9 in,9.5 mm\n"), []);
}

#[test]
fn boards_thinner_than_the_planking_are_named() {
    let found = rack("A1,14-0-0,9 in,3/8 in\nA2,14-0-0,9 in,1/4 in\nA3,14-0-0,9 in,5/16 in\n");
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].0.as_str(), found[0].1.as_str()), ("boards A2, A3", "5/16 in / 3/8 in"));
    says_all(&found[0].2, &["thinner than the planking", "boards.csv"]);

    let found = rack("A2,14-0-0,9 in,1/4 in\n");
    assert_eq!(found.len(), 1, "one finding and not one for each strake: {found:?}");
    assert_eq!((found[0].0.as_str(), found[0].1.as_str()), ("board A2", "1/4 in / 3/8 in"));
    says_all(&found[0].2, &["no board of boards.csv is as thick"]);

    let many: String = (1..=9).map(|i| format!("B{i},14-0-0,9 in,1/4 in\n")).collect();
    assert_eq!(rack(&many)[0].0, "boards B1, B2, B3, B4, B5 and 4 more");
}

#[test]
fn strakes_that_come_out_of_no_board_say_which_comes_nearest() {
    // Long enough for parts.
    let found = rack("short,10-0-0,12 in,1/2 in\nnarrow,16-0-0,2 in,1/2 in\nthin,16-0-0,12 in,1/4 in\n");
    assert_eq!((found.len(), found[0].0.as_str()), (1, "board thin"), "{found:?}");
    // Wide but too short for any part, long but narrow, and one that is both but thin.
    let found = rack("short,1-4-0,12 in,1/2 in\nnarrow,16-0-0,2 in,1/2 in\nthin,16-0-0,12 in,1/4 in\n");
    assert_eq!(found[0].0, "board thin");
    assert_eq!(found.len(), 1 + 10, "{found:?}");
    for (place, figures, hint) in &found[1..] {
        assert!(place.starts_with("strake ") && figures.ends_with("/ 16 in"), "{place}: {figures}");
        says_all(hint, &["longer than board short, the longest that is wide enough"]);
    }
    let found = rack("narrow,16-0-0,2 in,1/2 in\n");
    assert_eq!(found.len(), 10);
    says_all(&found[0].2, &["wider laid flat than board narrow"]);
    assert!(found[0].1.ends_with("/ 2 in"), "{}", found[0].1);
}

#[test]
fn rivets_without_a_nail_are_counted_and_named() {
    let mut boat = texts();
    boat.toml = boat.toml.replace("gauge = 14", "gauge = 14\nnail_lengths = [\"5/8 in\", \"1 in\"]");
    let found = planned(&boat).unwrap();
    let nails = found.iter().find(|f| f.place.starts_with("land 1, rivet")).unwrap();
    says_all(&nails.hint, &["21 rivets of this land take a longer nail", "fastenings.nail_lengths"]);
    assert_eq!(nails.figures(Notation::Inches).unwrap(), ["1 5/16 in", "1 in"]);
}

/// What spoils a table as a whole, each named with its place and what to do.
#[test]
fn tables_that_make_no_boat_are_named() {
    let offsets = texts().offsets;
    let refused = |offsets: String| folder::read(&BoatTexts { offsets, ..texts() }).unwrap_err().to_string();
    // Half-breadths that jump: a foot more in one entry.
    let row = offsets.lines().find(|l| l.starts_with("half-breadth waterline 12 in")).unwrap();
    let cells: Vec<&str> = row.split(',').collect();
    let mut jumped: Vec<String> = cells.iter().map(|c| (*c).to_owned()).collect();
    let (feet, rest) = jumped[5].split_once('-').unwrap();
    jumped[5] = format!("{}-{rest}", feet.parse::<u32>().unwrap() + 1);
    let boat = BoatTexts { offsets: offsets.replace(row, &jumped.join(",")), ..texts() };
    let lines = boat::lines::fair(&folder::read(&boat).unwrap().table, &folder::read(&boat).unwrap().spec).unwrap();
    assert_eq!(lines.doubts.len(), 1);
    says_all(&lines.doubts[0].place, &["half-breadth waterline 12 in, station 5"]);
    says_all(&lines.doubts[0].hint, &["cell 6", jumped[5].as_str(), cells[5], "Check the plan"]);
    // A sheer under the rabbet.
    let sheer = offsets.lines().find(|l| l.starts_with("height sheer")).unwrap();
    let mut low: Vec<&str> = sheer.split(',').collect();
    low[3] = "0-1-0";
    says_all(
        &refused(offsets.replace(sheer, &low.join(","))),
        &["height sheer", "cell 4", "1 in", "not above the rabbet"],
    );
    // Too sparse: rows enough for no section.
    let sparse = |l: &&str| !l.starts_with("half-breadth waterline") && !l.starts_with("height buttock");
    let thin: Vec<&str> = offsets.lines().filter(sparse).collect();
    says_all(&refused(thin.join("\n")), &["station", "points", "3"]);
    // A station beyond the transom.
    let mut boat = texts();
    boat.toml = boat.toml.replace("spacing = \"1-6-0\"", "spacing = \"2-6-0\"");
    says_all(&said(&planned(&boat).unwrap_err()), &["beyond the transom", "lines.spacing"]);
}

/// Straight-sided sections every 500 mm and 400 mm high: half-breadths at the foot and at the head.
fn straight_sided(sides: &[[f64; 2]]) -> Skin {
    let points = |i: usize| -> Vec<Point> {
        let [low, high] = sides[i];
        let at = |k: i32| f64::from(k) / 20.0;
        (0..=20).map(at).map(|s| Point::new(500.0 * i as f64, low + (high - low) * s, 400.0 * s)).collect()
    };
    let section =
        |i: usize| Section { name: i.to_string(), at: SectionAt::Station(i), points: points(i), girth: 400.0 };
    let curve = |i: usize| {
        let run: Vec<[f64; 3]> = points(i).iter().map(|p| [p.x, p.y, p.z]).collect();
        ArcCurve::through(&run).unwrap()
    };
    Skin { curves: (0..sides.len()).map(curve).collect(), sections: (0..sides.len()).map(section).collect() }
}

#[test]
fn sections_that_cross_are_named_with_the_heights() {
    let mut spec = folder::read(&texts()).unwrap().spec;
    spec.lengths = Notation::Mm;
    let nested = [[20.0, 100.0], [60.0, 300.0], [100.0, 400.0], [110.0, 420.0], [80.0, 300.0], [40.0, 200.0]];
    assert_eq!(crossing(&straight_sided(&nested), &spec), None);
    let mut crossed = nested;
    crossed[1] = [130.0, 300.0];
    let found = crossing(&straight_sided(&crossed), &spec).unwrap();
    assert_eq!(found.place, "stations 1 and 2");
    says_all(&found.hint, &["1 is the wider at 7 above base", "the narrower at 393", "compare both columns"]);
    // About the middle it may be meant.
    let mut middle = nested;
    middle[2] = [140.0, 400.0];
    assert_eq!(crossing(&straight_sided(&middle), &spec), None);
}
