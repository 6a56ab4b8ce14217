//! Boats from elsewhere: a repair from readings, a hull taken off, tables and drawings read in.

use crate::{ends, err, names, out, strakewise};
use std::fs;
use std::path::Path;
use std::process::Command;

#[test]
fn a_repair_is_a_card_and_a_pattern_that_other_readers_open() {
    let folder = tempfile::tempdir().unwrap();
    let made = strakewise(&["repair"], folder.path());
    ends(&made, 0, &["no folder given: this is the example, a length of Sandgrouse's fifth plank"]);
    assert!(out(&made).starts_with("new plank: least board ") && out(&made).contains("rivets in its lands"));
    assert_eq!(names(folder.path()), ["sandgrouse-plank-pattern.pdf", "sandgrouse-plank.pdf"]);
    for file in names(folder.path()) {
        let checked = Command::new("qpdf").args(["--check", &file]).current_dir(folder.path()).output();
        let checked = checked.expect("qpdf is needed for this test");
        assert!(checked.status.success(), "{file}: {}", String::from_utf8_lossy(&checked.stdout));
    }
    let rolled = strakewise(&["repair", "--roll", "24 in", "-o", "card.pdf"], folder.path());
    ends(&rolled, 0, &[]);
    assert!(out(&rolled).ends_with("card.pdf\ncard-pattern.pdf\n"), "{}", out(&rolled));
    ends(&strakewise(&["repair", "--roll", "24 furlongs"], folder.path()), 2, &["--roll: ", "furlongs"]);
    let before = names(folder.path());
    ends(&strakewise(&["repair", "-o", "-"], folder.path()), 2, &["give a file after -o"]);
    assert_eq!(names(folder.path()), before);
    ends(
        &strakewise(&["repair", "-o", "no/such/card.pdf"], folder.path()),
        3,
        &["no/such/card.pdf", "make it first"],
    );
}

/// The example's folder, with `from` in `file` replaced by `to`.
fn repair(file: &str, from: &str, to: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats/sandgrouse-repair");
    fs::create_dir(folder.path().join("mine")).unwrap();
    for name in names(&example) {
        let text = fs::read_to_string(example.join(&name)).unwrap();
        assert!(name != file || text.contains(from), "{file} has no {from:?}");
        let text = if name == file { text.replacen(from, to, 1) } else { text };
        fs::write(folder.path().join("mine").join(name), text).unwrap();
    }
    folder
}

#[test]
fn a_repair_that_cannot_be_says_where_and_writes_nothing() {
    for (file, from, to, said) in [
        (
            "repair.toml",
            "thickness = 9",
            "thickness = 90",
            "mine: repair.toml, line 16, planking.thickness: “90” is out of range",
        ),
        ("readings.csv", "a,1249", "a,wide", "mine: readings.csv, line 4, “along”: "),
        ("readings.csv", "b,1500", "b,1200", "mine: readings.csv, line 5, place b, along: "),
    ] {
        let folder = repair(file, from, to);
        ends(&strakewise(&["repair", "mine"], folder.path()), 2, &[said]);
        assert_eq!(names(folder.path()), ["mine"]);
    }
    let slipped = repair("readings.csv", "d,2000,-161,818,-126,746", "d,2000,-161,818,-126,771");
    let made = strakewise(&["repair", "mine"], slipped.path());
    ends(&made, 0, &["readings.csv, line 7, place d, edge_below_in: 771 mm was read", "measure it again"]);
    let folder = repair("repair.toml", "Sandgrouse", "Sandgrouse");
    fs::remove_file(folder.path().join("mine/readings.csv")).unwrap();
    ends(&strakewise(&["repair", "mine"], folder.path()), 2, &["readings.csv", "no such file", "docs/repair.md"]);
    ends(&strakewise(&["repair", "nowhere"], folder.path()), 2, &["nowhere", "no such folder", "docs/repair.md"]);
}

/// Points of a hull of round sections, 4 m long with a stem and a raked transom, in taken.csv's words. Measured as on a smooth hull.
fn taken() -> String {
    let mut text = String::from("station,at,mark,out,up\n");
    for (at, up) in [(-290, 590), (-270, 450), (-220, 300), (-150, 180), (-90, 130)] {
        text += &format!("stem,{at},{at},16,{up}\n");
    }
    let mut section = |name: &str, at: &dyn Fn(f64) -> f64, half: f64, low: f64, high: f64| {
        for i in 0..=10 {
            let turn = f64::from(i) / 10.0 * std::f64::consts::FRAC_PI_2;
            let mark = match i {
                0 => "rabbet".to_owned(),
                10 => "sheer".to_owned(),
                i => i.to_string(),
            };
            let up = low + (high - low) * (1.0 - turn.cos());
            text += &format!("{name},{:.0},{mark},{:.0},{up:.0}\n", at(up), 16.0 + (half - 16.0) * turn.sin());
        }
    };
    for s in 0..6 {
        let x = 600.0 * f64::from(s);
        let share = (x + 300.0) / 3900.0;
        let half = 640.0 * (std::f64::consts::PI * share.powf(0.8)).sin().max(0.2);
        section(&(s + 1).to_string(), &|_| x, half, 110.0, 560.0 - 380.0 * share * (1.0 - share));
    }
    section("transom", &|up| 3300.0 + 0.2 * up, 330.0, 130.0, 520.0);
    text
}

#[test]
fn a_hull_is_taken_off_into_a_folder_that_can_be_checked() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("points.csv"), taken()).unwrap();
    let asked = ["take-off", "points.csv", "boats/Whimbrel", "--lengths", "mm", "--plank", "8", "--on", "surface"];
    let made = strakewise(&asked, folder.path());
    ends(&made, 0, &["strakewise check boats/Whimbrel"]);
    let said = out(&made);
    assert!(said.contains("from 77 points") && said.contains("transom: its points lie within"), "{said}");
    assert!(said.ends_with("boats/Whimbrel/boat.toml\nboats/Whimbrel/offsets.csv\n"), "{said}");
    assert!(!err(&made).contains("still wanted"), "{}", err(&made));
    let toml = fs::read_to_string(folder.path().join("boats/Whimbrel/boat.toml")).unwrap();
    for part in [
        "name = \"Whimbrel\"",
        "drawn_to = \"outside of plank\"",
        "thickness = 8",
        "[-290, 590],",
        "half_siding = \"16.0 mm\"",
    ] {
        assert!(toml.contains(part), "{toml}");
    }
    let checked = strakewise(&["check", "boats/Whimbrel"], folder.path());
    assert!(matches!(checked.status.code(), Some(0 | 1)), "{}", err(&checked));
    let plan = strakewise(&["plan", "boats/Whimbrel"], folder.path());
    ends(&plan, 0, &[]);
    assert!(out(&plan).starts_with("Whimbrel\n"), "{}", out(&plan));
    ends(&strakewise(&asked, folder.path()), 3, &["boat.toml", "exists already"]);
}

/// A table as a spreadsheet in half of Europe writes it: semicolons, decimal commas, centimetres, a name with letters of its own.
const STRANGE: &str = "\u{feff}Skøyte, spantetabell (cm);;;;\r\nstation;1;2;3;4\r\nat;0;60;120;180\r\nHeights;;;;\r\nSheer;60,5;55;54,5;57\r\n\
    Rabbet;12;12,5;13;16\r\nButtock 20;30;20;19,5;26\r\nHalf-breadths;;;;\r\nSheer;30;52;55;42,5\r\nWL 30;19,5;42;47;33\r\nChine;1;2;3;5\r\n";

#[test]
fn a_strangers_table_is_read_into_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("Skøyte.csv"), STRANGE).unwrap();
    let asked = ["read-in", "Skøyte.csv", "--to", "boats/Måke", "--drawn-to", "outside"];
    let made = strakewise(&asked, folder.path());
    ends(
        &made,
        0,
        &[
            "Skøyte.csv: line 11, row “Chine”: not understood",
            "still wanted: a column `transom`",
            "strakewise check boats/Måke",
        ],
    );
    let said = out(&made);
    for part in [
        "stations across, rows down; semicolons between cells, decimal comma, byte order mark\n",
        "bare numbers are cm, as the file says\n",
        "4 stations, 5 rows, 20 entries\n",
    ] {
        assert!(said.contains(part), "{said}");
    }
    let offsets = fs::read_to_string(folder.path().join("boats/Måke/offsets.csv")).unwrap();
    assert!(
        offsets.contains("height sheer,605,550,545,570\n")
            && offsets.contains("half-breadth waterline 300,195,420,470,330\n"),
        "{offsets}"
    );
    let toml = fs::read_to_string(folder.path().join("boats/Måke/boat.toml")).unwrap();
    assert!(
        toml.contains("name = \"Måke\"")
            && toml.contains("lengths = \"mm\"")
            && toml.contains("drawn_to = \"outside of plank\""),
        "{toml}"
    );
    ends(&strakewise(&asked, folder.path()), 3, &["boat.toml", "exists already"]);
}

#[test]
fn what_cannot_be_read_in_is_named_and_makes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("t.csv", &STRANGE.replace("42,5", "4x").replace(" (cm)", ""));
    write("d.dxf", "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nstation 1\n10\nfar\n");
    write("p.ply", "ply\nformat ascii 1.0\n");
    write("n.bin", "x");
    let tried = |more: &[&str]| strakewise(&[&["read-in"], more, &["--drawn-to", "inside"]].concat(), folder.path());
    ends(
        &tried(&["t.csv", "--to", "new"]),
        2,
        &["t.csv: line ", "no unit", "--lengths mm, cm, m, in, ft or ft-in-8ths"],
    );
    let bad = tried(&["t.csv", "--to", "new", "--lengths", "cm"]);
    ends(&bad, 2, &["t.csv: line 9, cell 5, row “half-breadth Sheer”, station “4”: “4x” is not a length"]);
    ends(&tried(&["t.csv"]), 2, &["say after --to which folder"]);
    ends(&tried(&["n.bin", "--to", "new"]), 2, &["say --as table, sections, points"]);
    ends(&tried(&["none.csv", "--to", "new"]), 2, &["none.csv", "no such file", "docs/read-in.md"]);
    ends(&tried(&["d.dxf", "--to", "new"]), 2, &["d.dxf: line 10: this is not a whole DXF file"]);
    ends(&tried(&["d.dxf", "--to", "new", "--scale", "0"]), 2, &["--scale: 0 is out of range"]);
    ends(&tried(&["d.dxf", "--to", "new", "--zero", "5"]), 2, &["--zero: 5 is not two numbers"]);
    ends(&tried(&["d.dxf", "--as", "boards"]), 2, &["say after --thickness"]);
    ends(&tried(&["p.ply", "--to", "new"]), 2, &["p.ply: ", "--lengths mm, cm, m, in or ft"]);
    ends(
        &tried(&["p.ply", "--to", "new", "--lengths", "m"]),
        2,
        &["p.ply: line 1: this is not a PLY file: its header does not end"],
    );
    ends(&tried(&["p.ply", "--to", "new", "--lengths", "m", "--trim", "90"]), 2, &["--trim: 90 is out of range"]);
    ends(&strakewise(&["read-in", "t.csv", "--to", "new"], folder.path()), 2, &["say after --drawn-to"]);
    assert_eq!(names(folder.path()), ["d.dxf", "n.bin", "p.ply", "t.csv"]);
}

#[test]
fn a_drawn_stem_is_printed_as_lines_for_boat_toml() {
    let folder = tempfile::tempdir().unwrap();
    let drawn = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\">\
        <line id=\"base-line\" x1=\"0\" y1=\"90\" x2=\"200\" y2=\"90\"/><line id=\"first-station\" x1=\"60\" y1=\"0\" x2=\"60\" y2=\"90\"/>\
        <path id=\"stem\" d=\"M30 30 Q31 110 54 78\"/></svg>";
    fs::write(folder.path().join("stem.svg"), drawn).unwrap();
    let made = strakewise(&["read-in", "stem.svg", "--as", "stem", "--scale", "10"], folder.path());
    ends(&made, 2, &["stem.svg: line 1: the stem's rabbet turns back or runs level"]);
    fs::write(folder.path().join("stem.svg"), drawn.replace("Q31 110 54 78", "Q31 70 54 78")).unwrap();
    let made = strakewise(&["read-in", "stem.svg", "--as", "stem", "--scale", "10"], folder.path());
    ends(&made, 0, &["one unit of the drawing is 1.000000 mm"]);
    let said = out(&made);
    assert!(said.contains("rabbet = [\n    [-300, 600],\n") && said.trim_end().ends_with("[-60, 120],\n]"), "{said}");
}

#[test]
fn a_hull_taken_off_badly_says_where_and_what_is_still_wanted() {
    let folder = tempfile::tempdir().unwrap();
    let tried = |points: String, more: &[&str]| {
        fs::write(folder.path().join("points.csv"), points).unwrap();
        let asked = ["take-off", "points.csv", "new", "--lengths", "mm", "--on", "surface"];
        strakewise(&[&asked[..], more].concat(), folder.path())
    };
    let plank = ["--plank", "8"];
    ends(
        &tried(taken().replace("stem,-290,", "stem,far,"), &plank),
        2,
        &["points.csv: read as taken.csv, line 2, “at”: ", "far"],
    );
    ends(&tried(taken().replace("3,1200,sheer", "3,1200,11"), &plank), 2, &["station 3: 0 points are marked sheer"]);
    ends(&tried(taken(), &["--plank", "80"]), 2, &["--plank: 80 is out of range: 3 mm to 50 mm is allowed"]);
    ends(&tried(taken(), &["--plank", "8", "--tape", "fine"]), 2, &["--tape: ", "fine"]);
    assert_eq!(names(folder.path()), ["points.csv"], "nothing is made of what cannot be read");
    ends(
        &strakewise(&["take-off", "none.csv", "new", "--lengths", "mm", "--plank", "8"], folder.path()),
        2,
        &["none.csv", "no such file", "docs/repair.md"],
    );
    let no_stem: String = taken().lines().filter(|l| !l.starts_with("stem")).map(|l| format!("{l}\n")).collect();
    let slip = no_stem.lines().find(|l| l.starts_with("3,1200,5,")).unwrap().to_owned();
    let cells: Vec<&str> = slip.split(',').collect();
    let slipped = format!("3,1200,5,{},{}", cells[3].parse::<f64>().unwrap() + 25.0, cells[4]);
    let made = tried(no_stem.replace(&slip, &slipped), &plank);
    ends(
        &made,
        0,
        &[
            "station 3, mark 5",
            "does not fit the others",
            "measure it again",
            "still wanted: Stem, points of its rabbet",
        ],
    );
    ends(&strakewise(&["check", "new"], folder.path()), 2, &["boat.toml", "stem.half_siding: is missing"]);
}
