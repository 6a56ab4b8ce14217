//! The program as a builder runs it: what comes out where, and with which code it ends.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should stop; clippy.toml sees only #[test] functions"
)]

use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn strakewise(arguments: &[&str], folder: &Path) -> Output {
    command(arguments, folder).output().unwrap()
}

fn command(arguments: &[&str], folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_strakewise"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null());
    command
}

fn with_input(arguments: &[&str], input: &[u8]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let mut command = command(arguments, folder.path());
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // The program may have refused its arguments and gone before it reads.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// Asserts the code and that standard error says all of `said`.
fn ends(output: &Output, code: i32, said: &[&str]) {
    let err = err(output);
    assert_eq!(output.status.code(), Some(code), "{err}");
    for part in said {
        assert!(err.contains(part), "{err:?} does not say {part:?}");
    }
    assert!(!err.contains("panicked"), "{err}");
}

/// A new boat in a folder of its own, with `from` in `file` replaced by `to`.
fn boat(like: &str, file: &str, from: &str, to: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    ends(&strakewise(&["new", "boat", "--like", like], folder.path()), 0, &[]);
    let path = folder.path().join("boat").join(file);
    let text = fs::read_to_string(&path).unwrap();
    assert!(text.contains(from), "{file} has no {from:?}");
    fs::write(&path, text.replacen(from, to, 1)).unwrap();
    folder
}

#[test]
fn a_new_boat_can_be_checked_planned_and_printed() {
    for like in ["dinghy", "double-ender"] {
        let folder = tempfile::tempdir().unwrap();
        let made = strakewise(&["new", "boats/mine", "--like", like], folder.path());
        ends(&made, 0, &["strakewise check boats/mine"]);
        let mut files = vec!["boats/mine/boat.toml", "boats/mine/offsets.csv"];
        files.extend(
            (like == "dinghy").then_some(["boats/mine/boards.csv", "boats/mine/nails.csv"]).into_iter().flatten(),
        );
        files.push("boats/mine/rates.toml");
        assert_eq!(out(&made).lines().collect::<Vec<_>>(), files);

        let check = strakewise(&["check", "boats/mine"], folder.path());
        ends(&check, 0, &[]);
        assert!(out(&check).contains("No entry stands out."), "{}", out(&check));
        assert!(out(&check).lines().any(|l| l.starts_with("half-breadth sheer") && l.contains('0')));

        let plan = strakewise(&["plan", "boats/mine/boat.toml"], folder.path());
        ends(&plan, 0, &[]);
        assert!(out(&plan).contains("rivets a side"), "{}", out(&plan));

        let book = strakewise(&["book", "boats/mine", "--paper", "letter"], folder.path());
        ends(&book, 0, &[]);
        let file = folder.path().join(out(&book).trim());
        assert!(fs::read(&file).unwrap().starts_with(b"%PDF-"));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "the folder of boats and the book, nothing else");
    }
}

#[test]
fn without_a_boat_there_is_an_example_and_it_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let check = strakewise(&["check"], folder.path());
    ends(&check, 0, &["example Corncrake"]);
    assert!(out(&check).starts_with("Corncrake: "));
    let plan = strakewise(&["plan", "--example", "double-ender"], folder.path());
    ends(&plan, 0, &["example Sandgrouse"]);
    assert!(out(&plan).starts_with("Sandgrouse, "));
}

#[test]
fn json_stands_alone_on_standard_output() {
    let folder = tempfile::tempdir().unwrap();
    let plan = strakewise(&["plan", "--json"], folder.path());
    ends(&plan, 0, &["example Corncrake"]);
    let value: serde_json::Value = serde_json::from_slice(&plan.stdout).unwrap();
    assert_eq!(value["name"], "Corncrake");
    assert_eq!(value["schema"], 1);
    assert!(value["strakes"].as_array().unwrap().len() >= 3);
}

/// What `offsets` prints stands in place of the boat's own table, which it never writes over.
#[test]
fn a_corrected_table_stands_in_place_of_the_given_one() {
    let folder = boat("dinghy", "offsets.csv", "1-4-7", "1-7-4");
    let given = fs::read_to_string(folder.path().join("boat/offsets.csv")).unwrap();
    let printed = strakewise(&["offsets", "boat"], folder.path());
    ends(&printed, 0, &[]);
    let text = out(&printed);
    assert!(text.contains("# Doubted: half-breadth waterline 12 in, station 3, printed 1-7-4.\n"), "{text}");
    // Her own table says 1-4-7, the formula 1-4-7 1/3: where the neighbours alone would have it is a sixteenth more.
    assert!(text.contains("1-4-7+,1-9-5+") && !text.contains("1-7-4,"), "{text}");
    assert_eq!(out(&strakewise(&["offsets", "boat", "-o", "-"], folder.path())), text);
    ends(&strakewise(&["offsets", "boat", "-o", "boat/offsets.csv"], folder.path()), 3, &["boat/offsets.csv"]);
    assert_eq!(fs::read_to_string(folder.path().join("boat/offsets.csv")).unwrap(), given);
    let written = strakewise(&["offsets", "boat", "-o", "fair.csv"], folder.path());
    assert_eq!(out(&written), "fair.csv\n");
    assert_eq!(fs::read_to_string(folder.path().join("fair.csv")).unwrap(), text);

    ends(&strakewise(&["check", "boat"], folder.path()), 1, &[]);
    fs::rename(folder.path().join("fair.csv"), folder.path().join("boat/offsets.csv")).unwrap();
    let checked = strakewise(&["check", "boat"], folder.path());
    ends(&checked, 0, &[]);
    let said = out(&checked);
    assert!(
        said.contains("Largest corrections, inches: profile ") && said.contains("Inflections in all lines"),
        "{said}"
    );
}

#[test]
fn a_misprint_ends_check_with_1_and_is_named() {
    // Half-breadth at the sheer, station 4: 2-2-4+ on the plan.
    let folder = boat("dinghy", "offsets.csv", "2-2-4+", "2-4-4+");
    let check = strakewise(&["check", "boat"], folder.path());
    ends(&check, 1, &[]);
    let told = out(&check);
    let line = told.lines().find(|l| l.contains("station 4") && l.contains("half-breadth sheer")).unwrap();
    assert!(
        line.contains("line 8, cell 5") && line.contains("2-4-4+") && line.contains("probably say 2-2-4"),
        "{line}"
    );
    assert!(told.lines().any(|l| l.starts_with("half-breadth sheer") && l.contains('!')), "{told}");
    // The other commands go on with it.
    ends(&strakewise(&["plan", "boat"], folder.path()), 0, &[]);
}

#[test]
fn what_is_only_odd_ends_check_with_1_too() {
    let folder = boat("double-ender", "offsets.csv", ",622,", ",24 1/2 in,");
    let check = strakewise(&["check", "boat"], folder.path());
    ends(&check, 1, &[]);
    assert!(out(&check).contains("another notation"), "{}", out(&check));
}

#[test]
fn bad_boats_end_with_2() {
    let misspelt = boat("dinghy", "boat.toml", "thickness =", "thicknes =");
    let bad_cell = boat("dinghy", "offsets.csv", "2-1-7+", "2-1-9");
    let no_plan = boat("double-ender", "boat.toml", "strakes = 9", "strakes = 40");
    for command in ["plan", "book"] {
        ends(
            &strakewise(&[command, "boat"], misspelt.path()),
            2,
            &["boat: boat.toml, line", "thicknes", "did you mean thickness"],
        );
        ends(
            &strakewise(&[command, "boat"], bad_cell.path()),
            2,
            &["offsets.csv, line 4, cell 2", "height sheer", "9 eighths"],
        );
        ends(&strakewise(&[command, "boat"], no_plan.path()), 2, &["planking.strakes = 40", "or fewer"]);
    }
    ends(&strakewise(&["check", "boat"], misspelt.path()), 2, &["thicknes"]);
    let left: Vec<_> = fs::read_dir(misspelt.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(left, ["boat"], "no book, and no part of one");
}

#[test]
fn missing_and_unreadable_files_end_with_2() {
    let folder = boat("dinghy", "boat.toml", "Corncrake", "Corncrake");
    ends(&strakewise(&["plan", "nowhere"], folder.path()), 2, &["nowhere", "no such folder", "strakewise new"]);
    let offsets = folder.path().join("boat/offsets.csv");
    fs::write(&offsets, b"row,1,2\nheight sheer \xbd,1,2\n").unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["offsets.csv, line 2", "byte 22", "UTF-8"]);
    fs::write(&offsets, vec![b'#'; 5 << 20]).unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["offsets.csv", "larger than 4194304 bytes"]);
    fs::remove_file(&offsets).unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["offsets.csv", "no such file"]);
}

#[test]
fn marks_and_boards_are_read_where_they_are() {
    let folder = boat("double-ender", "boat.toml", "Sandgrouse", "Sandgrouse");
    let marks = folder.path().join("boat/marks.csv");
    fs::write(&marks, "land,station,girth_mm\n1,99,100\n").unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["marks.csv, line 2", "“99”"]);
    fs::write(&marks, "land,station,girth_mm\n1,5,97.5\n").unwrap();
    let plan = strakewise(&["plan", "boat", "--json"], folder.path());
    ends(&plan, 0, &[]);
    let value: serde_json::Value = serde_json::from_slice(&plan.stdout).unwrap();
    let pinned: Vec<_> = value["marks"].as_array().unwrap().iter().filter(|m| m["pinned"] == true).collect();
    assert_eq!(pinned.len(), 1);
    assert_eq!(
        (&pinned[0]["land"], &pinned[0]["station"], &pinned[0]["girth_mm"]),
        (&1.into(), &"5".into(), &97.5.into())
    );
    fs::write(folder.path().join("boat/boards.csv"), "board,length,width,thickness\nA,1,2,3\n").unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["boards.csv, line 2", "“length”", "200 mm"]);
}

#[test]
fn nothing_is_overwritten_by_new() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("boat")).unwrap();
    fs::write(folder.path().join("boat/offsets.csv"), "mine").unwrap();
    ends(&strakewise(&["new", "boat"], folder.path()), 3, &["offsets.csv", "exists already"]);
    assert_eq!(fs::read_to_string(folder.path().join("boat/offsets.csv")).unwrap(), "mine");
    assert!(!folder.path().join("boat/boat.toml").exists(), "half an example was left");
}

#[test]
fn what_cannot_be_written_ends_with_3() {
    let folder = tempfile::tempdir().unwrap();
    ends(
        &strakewise(&["book", "-o", "no/such/folder/b.pdf"], folder.path()),
        3,
        &["no/such/folder/b.pdf", "cannot be written", "there is no folder no/such/folder; make it first"],
    );
    fs::create_dir(folder.path().join("b.pdf")).unwrap();
    ends(&strakewise(&["book", "-o", "b.pdf"], folder.path()), 3, &["b.pdf", "cannot be written"]);
    fs::write(folder.path().join("file"), "").unwrap();
    ends(&strakewise(&["new", "file/boat"], folder.path()), 3, &["cannot be written"]);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "nothing was left aside");
}

#[test]
fn a_book_takes_the_place_of_an_older_one_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("b.pdf");
    fs::write(&path, "old").unwrap();
    let book = strakewise(&["book", "-o", "b.pdf"], folder.path());
    ends(&book, 0, &[]);
    assert_eq!(out(&book), "b.pdf\n");
    let to_output = strakewise(&["book", "-o", "-"], folder.path());
    ends(&to_output, 0, &[]);
    assert_eq!(fs::read(&path).unwrap(), to_output.stdout, "the same boat gives the same bytes");
}

#[test]
fn a_book_says_how_much_there_is_to_look_at_and_where() {
    let folder = tempfile::tempdir().unwrap();
    let book = strakewise(&["book", "-o", "b.pdf"], folder.path());
    let plan = out(&strakewise(&["plan"], folder.path()));
    let count = plan.lines().find_map(|l| l.strip_suffix(" things to look at:")).unwrap();
    ends(&book, 0, &[&format!("{count} things to look at: page 4 of the book")]);
    // Planked thin enough to go on cold, and content with any edge at all, only her grain is left to look at.
    let content = boat(
        "dinghy",
        "boat.toml",
        "thickness = \"3/8 in\"\nlap = \"3/4 in\"",
        "thickness = \"1/8 in\"\nedge_floor = 0\nlap = \"3/8 in\"",
    );
    let nails = content.path().join("boat/nails.csv");
    let small = fs::read_to_string(&nails).unwrap().replace("rove,14,,3/8 in", "rove,14,,1/4 in");
    fs::write(&nails, small).unwrap();
    let book = strakewise(&["book", "boat"], content.path());
    ends(&book, 0, &[]);
    assert_eq!(err(&book), "strakewise: 1 thing to look at: page 4 of the book\n");
    let plan = strakewise(&["plan", "boat"], content.path());
    assert!(out(&plan).contains("grain runs out"), "{}", out(&plan));
}

/// The file aside is the program's own affair.
#[cfg(unix)]
#[test]
fn a_folder_that_takes_no_files_is_named_and_the_file_aside_is_not() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let shut = folder.path().join("shut");
    fs::create_dir(&shut).unwrap();
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).unwrap();
    // Nothing is shut to the superuser, but no folder takes a name of 300 letters.
    let long = format!("{}.pdf", "b".repeat(300));
    for target in ["shut/b.pdf", "/proc/b.pdf", &long] {
        let book = strakewise(&["book", "-o", target], folder.path());
        if target.starts_with("shut") && book.status.success() {
            continue;
        }
        ends(&book, 3, &[target, "cannot be written"]);
        assert!(!err(&book).contains(".strakewise-") && !err(&book).contains("aside"), "{}", err(&book));
    }
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_plan_says_what_the_nail_order_leaves_out() {
    let short = boat("dinghy", "boat.toml", "gauge = 14", "gauge = 14\nnail_lengths = [\"5/8 in\", \"1 in\"]");
    // Said in boat.toml and in nails.csv.
    let twice = strakewise(&["plan", "boat"], short.path());
    ends(&twice, 2, &["boat.toml, line", "fastenings.nail_lengths", "nails.csv says nails too"]);
    fs::remove_file(short.path().join("boat/nails.csv")).unwrap();
    let plan = out(&strakewise(&["plan", "boat"], short.path()));
    assert!(plan.contains("378 more rivets and ") && plan.contains("take a longer nail than any in stock"), "{plan}");
}

#[test]
fn a_plan_and_a_quote_order_whole_packs() {
    let folder = boat("dinghy", "nails.csv", "7/8 in,,,,1 lb,1", "7/8 in,,,,100,2");
    let plan = out(&strakewise(&["plan", "boat"], folder.path()));
    let line = plan.lines().find(|l| l.contains("nail of gauge 14, 7/8 in")).unwrap();
    let wanted: usize = line.split_whitespace().nth(6).unwrap().parse().unwrap();
    let packs = wanted.div_ceil(100) - 2;
    assert!(line.ends_with(&format!("{packs} packs of 100 besides 2 in hand")), "{line}");
    assert!(plan.contains("computed, not weighed") && plan.contains("without head and point"), "{plan}");
    let quote = out(&strakewise(&["quote", "boat"], folder.path()));
    assert!(quote.contains("and whole packs in it"), "{quote}");
    fs::write(folder.path().join("boat/nails.csv"), "kind,gauge,length,pack\nnail,14,1 in,0\n").unwrap();
    ends(&strakewise(&["plan", "boat"], folder.path()), 2, &["nails.csv, line 2", "“pack”", "1 to 100000"]);
}

/// Of a shell's own file for its output nothing is left if another takes its place.
#[cfg(unix)]
#[test]
fn standard_output_may_be_named_as_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let book = strakewise(&["book", "-o", "/dev/stdout"], folder.path());
    ends(&book, 0, &[]);
    assert!(book.stdout.starts_with(b"%PDF-"));
    let file = fs::File::create(folder.path().join("b.pdf")).unwrap();
    let status = command(&["book", "-o", "/dev/stdout"], folder.path()).stdout(file).status().unwrap();
    assert!(status.success());
    assert_eq!(fs::read(folder.path().join("b.pdf")).unwrap(), book.stdout);
}

#[test]
fn a_table_alone_is_read_from_standard_input() {
    let table = b"row,1,2,3,4\nheight sheer,600,590,580,590\nhb sheer,300,400,400,300\nwl 300,200,300,300,200\n";
    let arguments = ["check", "-", "--lengths", "mm", "--spacing", "500"];
    let check = with_input(&arguments, table);
    // No rabbet heights: something to look at.
    ends(&check, 1, &[]);
    let told = out(&check);
    assert!(told.contains("12 entries in 3 rows at 4 stations") && told.contains("not faired"), "{told}");
    assert!(told.contains("height rabbet, station 1, 2, 3, 4"), "{told}");

    let whole = [&table[..], b"height rabbet,80,80,80,80\n"].concat();
    ends(&with_input(&arguments, &whole), 0, &[]);
    let bad = String::from_utf8_lossy(table).replace("590,580", "590,58O");
    ends(&with_input(&arguments, bad.as_bytes()), 2, &["standard input", "line 2, cell 4", "“58O”"]);
    ends(&with_input(&arguments, b"\xff"), 2, &["standard input, line 1", "UTF-8"]);
    let without = ["check", "-", "--lengths", "mm"];
    let message = with_input(&without, table);
    ends(&message, 2, &["standard input", "--spacing", "row \"at\""]);
    assert!(!err(&message).contains("boat.toml"), "{}", err(&message));
    let at = [&table[..], b"at,0,400,800,1200\n"].concat();
    ends(&with_input(&without, &at), 1, &[]);
    ends(&with_input(&arguments, &at), 2, &["line 5, cell 3, station 2", "400 mm", "--spacing", "500 mm"]);
    ends(&with_input(&["check", "-"], table), 2, &["--lengths", "never guessed"]);
    ends(&with_input(&["check", "-", "--lengths", "mm", "--spacing", "wide"], table), 2, &["--spacing", "“wide”"]);
}

#[test]
fn a_wrong_command_line_ends_with_2() {
    let folder = tempfile::tempdir().unwrap();
    for wrong in [
        &["--port", "harbour"][..],
        &["launch"],
        &["plan", "boat", "--example", "dinghy"],
        &["plan", "--example", "barge"],
        &["book", "--paper", "a3"],
        &["check", "--lengths", "mm"],
        &["new"],
    ] {
        let output = strakewise(wrong, folder.path());
        ends(&output, 2, &[]);
        assert!(!output.stderr.is_empty() && output.stdout.is_empty(), "{wrong:?}");
    }
    let help = strakewise(&["check", "--help"], folder.path());
    ends(&help, 0, &[]);
    assert!(out(&help).contains("Exit codes:") && out(&help).contains("standard input"), "{}", out(&help));
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let folder = tempfile::tempdir().unwrap();
    let mut child =
        command(&["plan", "--json"], folder.path()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // More is written than a pipe holds, so the program is still writing when its reader goes.
    let mut first = [0; 1];
    let mut reader = child.stdout.take().unwrap();
    reader.read_exact(&mut first).unwrap();
    drop(reader);
    let output = child.wait_with_output().unwrap();
    ends(&output, 0, &[]);
    assert!(!err(&output).contains("written"), "{}", err(&output));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_ends_with_3() {
    let folder = tempfile::tempdir().unwrap();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = command(&["plan"], folder.path()).stdout(full).output().unwrap();
    ends(&output, 3, &["standard output", "cannot be written"]);
}

/// Written over, a device or a socket would be gone for everybody; a link is somebody's choice of place.
#[cfg(unix)]
#[test]
fn a_book_replaces_files_only_and_follows_links() {
    use std::os::unix::fs::FileTypeExt;
    let folder = tempfile::tempdir().unwrap();
    let socket = folder.path().join("socket");
    let _kept_open = std::os::unix::net::UnixListener::bind(&socket).unwrap();
    ends(&strakewise(&["book", "-o", "socket"], folder.path()), 3, &["socket", "not an ordinary file"]);
    assert!(fs::metadata(&socket).unwrap().file_type().is_socket());

    fs::write(folder.path().join("old.pdf"), "old").unwrap();
    let link = folder.path().join("link.pdf");
    std::os::unix::fs::symlink("old.pdf", &link).unwrap();
    assert!(strakewise(&["book", "-o", "link.pdf"], folder.path()).status.success());
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read(folder.path().join("old.pdf")).unwrap().starts_with(b"%PDF"));
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

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
    assert_eq!(out(&schema), include_str!("../../../docs/plan.schema.json"));
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

#[test]
fn a_record_that_is_not_there_or_is_no_record_is_told() {
    let folder = tempfile::tempdir().unwrap();
    ends(&strakewise(&["record"], folder.path()), 2, &["record.sqlite: there is no such record", "first entry"]);
    fs::write(folder.path().join("record.sqlite"), "no database".repeat(200)).unwrap();
    ends(&strakewise(&["record", "."], folder.path()), 2, &["record.sqlite: the record is damaged", "left as it is"]);
    let kept = fs::read_to_string(folder.path().join("record.sqlite")).unwrap();
    assert_eq!(kept, "no database".repeat(200));
}

#[test]
fn an_address_for_phones_must_be_one() {
    let folder = tempfile::tempdir().unwrap();
    ends(&strakewise(&["--phones=everywhere"], folder.path()), 2, &["--phones", "everywhere"]);
    // None of this machine's (TEST-NET-3 of RFC 5737, from memory): it ends before anything is served.
    let asked = ["--no-browser", "--phones=203.0.113.7"];
    ends(&strakewise(&asked, folder.path()), 3, &["this machine has no address 203.0.113.7", "127.0.0.1"]);
}

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
        &["Skøyte.csv: line 11, row “Chine”: not understood", "still wanted: ", "strakewise check boats/Måke"],
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
