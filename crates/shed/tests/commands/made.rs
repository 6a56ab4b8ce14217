//! What is made for the bench and for other programs: patterns, pictures, files, boards laid out, a quote.

use crate::{boat, ends, err, names, out, strakewise};
use std::fs;
use std::process::Command;

#[test]
fn patterns_on_paper_are_one_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    let tiles = strakewise(&["patterns", "--only", "stem", "--paper", "letter"], path);
    ends(&tiles, 0, &[]);
    assert_eq!(out(&tiles), "corncrake-patterns.pdf\n");
    assert!(fs::read(path.join("corncrake-patterns.pdf")).unwrap().starts_with(b"%PDF-"));
    let roll = strakewise(&["patterns", "--as", "roll", "--width", "24 in", "--only", "transom", "-o", "-"], path);
    ends(&roll, 0, &[]);
    assert!(roll.stdout.starts_with(b"%PDF-"));
    assert_eq!(names(path), ["corncrake-patterns.pdf"]);
}

#[test]
fn patterns_for_drawing_programs_are_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    let asked = ["patterns", "--example", "double-ender", "--as", "dxf", "--only", "stem", "--only", "planks"];
    let dxf = strakewise(&asked, path);
    ends(&dxf, 0, &[]);
    let found = names(&path.join("sandgrouse-patterns"));
    // Every plank of hers has two parts.
    assert_eq!(found.len(), 29);
    assert_eq!(
        (found[0].as_str(), found[4].as_str(), found[28].as_str()),
        ("stem.dxf", "strake-01.dxf", "strake-09.dxf")
    );
    let told: Vec<String> = out(&dxf).lines().map(str::to_owned).collect();
    assert!(told.len() == 29 && told.iter().all(|line| path.join(line).is_file()), "{told:?}");
    // Again into the same folder, and as SVG beside them.
    ends(&strakewise(&asked, path), 0, &[]);
    ends(&strakewise(&["patterns", "--as", "svg", "--only", "transom", "-o", "sandgrouse-patterns"], path), 0, &[]);
    assert_eq!(names(&path.join("sandgrouse-patterns")).len(), 30);
}

#[test]
fn patterns_asked_for_wrongly_say_what_to_ask_for() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    fs::write(path.join("taken"), "mine").unwrap();
    let cases: [(&[&str], i32, &str); 9] = [
        (&["--as", "roll", "--paper", "a4"], 2, "--paper is for tiles"),
        (&["--width", "914"], 2, "--width is for a roll"),
        (&["--as", "roll", "--width", "12 mm"], 2, "between 200 and 5000 mm wide"),
        (&["--as", "roll", "--width", "-914"], 2, "between 200 and 5000 mm wide"),
        (&["--as", "roll", "--width", "wide"], 2, "--width: "),
        (&["--as", "svg", "-o", "-"], 2, "give a folder"),
        (&["--as", "svg", "-o", "taken"], 3, "taken: the patterns need a folder"),
        (&["--example", "double-ender", "--only", "transom"], 2, "Sandgrouse has none"),
        (&["--only", "rudder"], 2, "planks"),
    ];
    for (arguments, code, said) in cases {
        let all: Vec<&str> = std::iter::once("patterns").chain(arguments.iter().copied()).collect();
        ends(&strakewise(&all, path), code, &[said]);
    }
    assert_eq!(names(path), ["taken"]);
    assert_eq!(fs::read_to_string(path.join("taken")).unwrap(), "mine");
}

/// A file for each eye, of ink that can be read back; heeled away she shows nothing of her inside.
#[test]
fn pictures_are_a_file_for_each_eye() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    let asked = strakewise(&["pictures", "--example", "pram"], path);
    ends(&asked, 0, &[]);
    let eyes = ["from-off-the-bow", "from-off-the-quarter", "from-the-beam", "heeled-from-the-beam"];
    assert_eq!(names(&path.join("lapwing-pictures")), eyes.map(|eye| format!("{eye}.svg")));
    let lines = |eye: &str| {
        let text = fs::read_to_string(path.join("lapwing-pictures").join(format!("{eye}.svg"))).unwrap();
        assert!(text.contains("Not to scale") && !text.contains("Full size"));
        text.matches("<polyline").count()
    };
    assert!(lines("heeled-from-the-beam") < lines("from-the-beam"));
    ends(&strakewise(&["pictures", "--as", "dxf", "-o", "ink"], path), 0, &[]);
    assert_eq!(names(&path.join("ink")).len(), 4);
    fs::write(path.join("taken"), "mine").unwrap();
    ends(&strakewise(&["pictures", "-o", "taken"], path), 3, &["taken: the pictures need a folder"]);
    ends(&strakewise(&["pictures", "-o", "-"], path), 2, &["give a folder"]);
}

/// A folder for other programs: whole again the second time, only what is asked for, and never in the place of the boat's own files.
#[test]
fn files_for_other_programs_are_a_folder() {
    let folder = boat("pram", "boat.toml", "Lapwing", "=Æðr \\\"the\\\" 3/4");
    let path = folder.path();
    let own = |name: &str| fs::read(path.join("boat").join(name)).unwrap();
    let before = ["boat.toml", "offsets.csv"].map(own);
    let all = strakewise(&["files", "boat", "-o", "boat"], path);
    ends(&all, 0, &[]);
    assert_eq!(["boat.toml", "offsets.csv"].map(own), before);
    let told: Vec<String> = out(&all).lines().map(str::to_owned).collect();
    assert!(told.len() > 60 && told.iter().all(|line| path.join(line).is_file()), "{told:?}");
    for name in ["boat.glb", "strake-03-port.stl", "planks.dxf", "planks.svg", "table-rivets.csv", "outside.stl"] {
        assert!(told.iter().any(|line| line.ends_with(name)), "{name}");
    }
    assert!(own("boat.glb").starts_with(b"glTF"));
    let glb = own("boat.glb");
    ends(&strakewise(&["files", "boat", "-o", "boat"], path), 0, &[]);
    assert_eq!(own("boat.glb"), glb);
    // Named after the boat, with only what is asked for.
    ends(&strakewise(&["files", "--example", "pram", "--only", "csv", "--only", "glb"], path), 0, &[]);
    let found = names(&path.join("lapwing-files"));
    assert!(found.iter().all(|n| n.ends_with(".csv") || n == "boat.glb") && found.len() > 10, "{found:?}");
    fs::write(path.join("taken"), "mine").unwrap();
    ends(&strakewise(&["files", "-o", "taken"], path), 3, &["taken: the files need a folder"]);
    ends(&strakewise(&["files", "-o", "-"], path), 2, &["give a folder"]);
    ends(&strakewise(&["files", "--only", "obj"], path), 2, &["glb"]);
}

/// The schema is that of docs/, whatever else; it plans nothing and goes with nothing else.
#[test]
fn the_schema_of_the_json_is_printed() {
    let folder = tempfile::tempdir().unwrap();
    let schema = strakewise(&["plan", "--schema"], folder.path());
    ends(&schema, 0, &[]);
    assert_eq!(err(&schema), "");
    assert_eq!(out(&schema), include_str!("../../../../docs/plan.schema.json"));
    ends(&strakewise(&["plan", "--schema", "--json"], folder.path()), 2, &["--json"]);
    ends(&strakewise(&["plan", "--schema", "boat"], folder.path()), 2, &["--schema"]);
}

/// Corncrake's rack holds all twenty planks, told and drawn; a boat without a rack says so.
#[test]
fn planks_come_out_of_boards() {
    let folder = tempfile::tempdir().unwrap();
    let said = strakewise(&["boards", "--rounds", "2", "-o", "boards.pdf"], folder.path());
    ends(&said, 0, &[]);
    let text = out(&said);
    assert!(text.starts_with("Corncrake: 20 planks and parts for both sides from "), "{text}");
    assert!(text.contains("of the wood that is cut becomes plank.") && text.contains("boards.pdf"), "{text}");
    assert!(fs::read(folder.path().join("boards.pdf")).unwrap().starts_with(b"%PDF"));
    let none = strakewise(&["boards", "--example", "pram"], folder.path());
    ends(&none, 2, &["Lapwing", "boards.csv"]);
    ends(&strakewise(&["book", "--boards", "--example", "pram"], folder.path()), 2, &["Lapwing", "boards.csv"]);
    ends(&strakewise(&["boards", "-o", "-"], folder.path()), 2, &["-o"]);
}

#[test]
fn a_rack_too_small_says_what_to_buy_and_the_book_has_the_boards() {
    let folder = boat("dinghy", "boat.toml", "strakes = 10", "strakes = 10");
    let csv = "board,length,width,thickness,wood\nA1,14-6-0,8 in,1 in,larch\nA2,14-6-0,15 in,1/2 in,larch\n";
    fs::write(folder.path().join("boat/boards.csv"), csv).unwrap();
    let toml = folder.path().join("boat/boat.toml");
    let text = fs::read_to_string(&toml).unwrap();
    fs::write(&toml, format!("{text}\n[sawing]\nresaw = true\nresaw_loss = \"1/4 in\"\n")).unwrap();
    let said = strakewise(&["boards", "boat", "--rounds", "3"], folder.path());
    ends(&said, 0, &[]);
    let text = out(&said);
    for words in ["no room in the rack", "to buy", "3/8 in thick", "A1 leaf 1 of 2", "bandsaw", "more like A1"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let pages = |args: &[&str]| {
        ends(&strakewise(args, folder.path()), 0, &[]);
        let file = folder.path().join("b.pdf");
        let text = Command::new("pdftotext").arg(&file).arg("-").output().unwrap();
        let text = String::from_utf8_lossy(&text.stdout).into_owned();
        text.matches("What comes out of which board").count()
    };
    assert_eq!(pages(&["book", "boat", "-o", "b.pdf"]), 0);
    assert!(pages(&["book", "boat", "--boards", "-o", "b.pdf"]) >= 1);
}

#[test]
fn a_quote_is_told_and_written_and_without_rates_says_what_to_do() {
    let folder = boat("pram", "rates.toml", "percent = 19", "percent = 19.5");
    let told = strakewise(&["quote", "boat", "-o", "q.pdf"], folder.path());
    ends(&told, 0, &[]);
    assert!(out(&told).contains("Sales tax, 19.5 %") && out(&told).contains("Total"), "{}", out(&told));
    assert!(fs::read(folder.path().join("q.pdf")).unwrap().starts_with(b"%PDF"));
    fs::remove_file(folder.path().join("boat/rates.toml")).unwrap();
    let none = strakewise(&["quote", "boat"], folder.path());
    ends(&none, 2, &["write rates.toml there", "docs/quote.md"]);
}
