//! Repair folders that cannot be read: file, line, cell or key, value, limit, and what to do.

use boat::folder::{RepairTexts, read_repair};

fn example() -> RepairTexts {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/sandgrouse-repair");
    let text = |file: &str| std::fs::read_to_string(folder.join(file)).unwrap();
    RepairTexts { toml: text("repair.toml"), readings: text("readings.csv"), holes: None }
}

/// What of `parts` the message does not say.
fn unsaid(texts: &RepairTexts, parts: &[&str]) -> Vec<String> {
    let why = read_repair(texts).map_or_else(|why| why.to_string(), |_| "it can be read".to_owned());
    parts.iter().filter(|part| !why.contains(**part)).map(|part| format!("{why:?} has no {part:?}")).collect()
}

/// Nothing is left unsaid.
fn all_said(wrong: &[String]) {
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_example_can_be_read() {
    let job =
        read_repair(&RepairTexts { holes: Some("land,along\nlower,1500\nupper,1600\n".to_owned()), ..example() });
    assert_eq!(job.unwrap().holes.len(), 2);
}

#[test]
fn settings_that_cannot_be_say_line_key_value_and_limit() {
    let mut wrong = Vec::new();
    for (from, to, parts) in [
        ("strakewise = 1", "strakewise = 2", &["repair.toml, line 2, strakewise: ", "form 2", "form 1"][..]),
        ("strakewise = 1", "", &["repair.toml, line", "strakewise: is missing; write for example strakewise = 1"]),
        ("lengths = \"mm\"", "lengths = \"metres\"", &["repair.toml, line 6, lengths: “metres” stands here; write"]),
        (
            "fore = \"joint\"",
            "fore = \"scarf\"",
            &["gap.fore: “scarf” stands here; write", "rabbet", "transom", "joint"],
        ),
        ("fore = \"joint\"", "foer = \"joint\"", &["gap.foer: there is no such key (did you mean fore?)"]),
        ("[gap]", "[hole]", &["hole: there is no such key", "known here"]),
        ("below = \"plank\"", "below = \"keel\"", &["gap.below: “keel” stands here; write \"plank\" or \"rabbet\""]),
        ("above = \"plank\"", "above = \"deck\"", &["gap.above: “deck” stands here; write \"plank\" or \"sheer\""]),
        ("tape = 1 ", "tape = 9 ", &["repair.toml, line 13, gap.tape: “9” is out of range: 0 mm to 5 mm is allowed"]),
        ("thickness = 9", "thickness = 90", &["planking.thickness: “90” is out of range: 3 mm to 50 mm is allowed"]),
        ("thickness = 9", "thickness = \"thin\"", &["planking.thickness: ", "thin"]),
        ("thickness = 9", "thickness = 9\nstrakes = 8", &["planking.strakes: there is no such key"]),
        ("lap = 18", "lap = 200", &["planking.lap: “200” is out of range", "72 mm"]),
        ("sided = 20", "spacing_of = 20", &["timbers.spacing_of: there is no such key"]),
        ("1120, 1280", "1280, 1120", &["timbers.at", "1120 mm follows 1280 mm: write the places from forward"]),
        ("gauge = 14", "gauge = 90", &["fastenings.gauge: “90” is out of range: 1 to 30 is allowed"]),
        ("lap = 18", "lap = 18\nconstruction = \"glued\"", &["the lands are glued", "take this section out"]),
        ("strakewise = 1", "strakewise = ", &["repair.toml, line 2", "not in the form it should be"]),
    ] {
        let texts = example();
        assert!(texts.toml.contains(from), "{from}");
        wrong.extend(unsaid(&RepairTexts { toml: texts.toml.replacen(from, to, 1), ..texts }, parts));
    }
    all_said(&wrong);
}

#[test]
fn readings_that_cannot_be_read_say_line_cell_value_and_limit() {
    let mut wrong = Vec::new();
    for (from, to, parts) in [
        ("a,1249", "a,wide", &["readings.csv, line 4, “along”: ", "wide"][..]),
        (
            "a,1249",
            "a,20000",
            &["readings.csv, line 4, “along”: “20000” is out of range: -1000 mm to 15000 mm is allowed"],
        ),
        ("a,1249", ",1249", &["readings.csv, line 4, “place”: the cell is empty; fill it in"]),
        (
            "b,1500",
            "a,1500",
            &["readings.csv, line 5, “place”: place a already stands on line 4; keep one of the two"],
        ),
        ("a,1249,-135,", "a,1249,,", &["readings.csv, line 4, “face_below_up”: the cell is empty"]),
        ("a,1249,-135,847", "a,1249,-135,", &["readings.csv, line 4, “face_below_in”: the cell is empty"]),
        (
            "a,1249,-135,847",
            "a,1249,-135,8470",
            &["“face_below_in”: “8470” is out of range: -5000 mm to 5000 mm is allowed"],
        ),
        ("-46,749,8,690", "-46,749,8", &["readings.csv, line 3: the line has 9 cells where the first line has 10"]),
        (
            "place,along",
            "place,alongs",
            &["readings.csv, line 2, “alongs”: there is no such column (did you mean along?)"],
        ),
        (",edge_above_in", "", &["readings.csv, line 2, “edge_above_in”: the column is missing"]),
        ("face_above_up", "edge_above_up", &["readings.csv, line 2, “edge_above_up”: the column is named twice"]),
    ] {
        let texts = example();
        assert!(texts.readings.contains(from), "{from}");
        wrong.extend(unsaid(&RepairTexts { readings: texts.readings.replacen(from, to, 1), ..texts }, parts));
    }
    let empty = RepairTexts { readings: String::new(), ..example() };
    wrong.extend(unsaid(&empty, &["readings.csv: the file is empty; its first line must name the columns"]));
    let rabbet = example();
    let rabbet = RepairTexts { toml: rabbet.toml.replacen("below = \"plank\"", "below = \"rabbet\"", 1), ..rabbet };
    let parts = [
        "readings.csv, line 3, “face_below_up”: “-120” stands here, which a plank in the keel's rabbet does not have",
    ];
    wrong.extend(unsaid(&rabbet, &parts));
    let many: String = (0..61).map(|i| format!("p{i},{},-120,869,-71,806,-46,749,8,690\n", 1000 + i)).collect();
    let texts = example();
    let head = texts.readings.lines().nth(1).unwrap().to_owned();
    let many = RepairTexts { readings: format!("{head}\n{many}"), ..texts };
    wrong.extend(unsaid(
        &many,
        &["readings.csv, line 62, “place”: the file has 61 lines; 60 is the most that is read: take some out"],
    ));
    all_said(&wrong);
}

#[test]
fn holes_that_cannot_be_read_say_line_cell_value_and_limit() {
    let mut wrong = Vec::new();
    for (holes, parts) in [
        (
            "land,along\nmiddle,1500\n",
            &["holes.csv, line 2, “land”: “middle” stands here; write lower for the land on the plank below"][..],
        ),
        ("land,along\n,1500\n", &["holes.csv, line 2, “land”: the cell is empty"]),
        ("land,along\nlower,far\n", &["holes.csv, line 2, “along”: ", "far"]),
        (
            "land,along\nlower,99999\n",
            &["holes.csv, line 2, “along”: “99999” is out of range: -1000 mm to 15000 mm is allowed"],
        ),
        (
            "land\nlower\n",
            &["holes.csv, line 1, “along”: the column is missing; the first line must name land, along"],
        ),
        ("", &["holes.csv: the file is empty", "or take the file away"]),
    ] {
        wrong.extend(unsaid(&RepairTexts { holes: Some(holes.to_owned()), ..example() }, parts));
    }
    all_said(&wrong);
}
