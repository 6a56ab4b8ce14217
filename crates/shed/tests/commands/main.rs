//! The program as a builder runs it: what comes out where, and with which code it ends.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on should stop; clippy.toml sees only #[test] functions"
)]

mod elsewhere;
mod made;
mod measured;

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

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
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
        assert!(out(&check).contains("No entry stands out"), "{}", out(&check));
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

#[test]
fn a_word_that_is_no_command_is_named_with_the_nearest_one() {
    let folder = tempfile::tempdir().unwrap();
    for line in [&["chek", "mine"][..], &["chek"], &["chek", "--json"]] {
        ends(
            &strakewise(line, folder.path()),
            2,
            &["there is no command \u{201c}chek\u{201d}", "did you mean check?"],
        );
    }
    ends(
        &strakewise(&["zzz", "mine"], folder.path()),
        2,
        &["no command \u{201c}zzz\u{201d}", "the commands are", "offsets"],
    );
    // A folder that is there may stand first, and its own trouble is told.
    fs::create_dir(folder.path().join("chek")).unwrap();
    ends(&strakewise(&["chek", "mine"], folder.path()), 2, &["mine"]);
    ends(&strakewise(&["check", "--no-such"], folder.path()), 2, &["--no-such"]);
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
    let over = strakewise(&["offsets", "boat", "-o", "boat/offsets.csv"], folder.path());
    ends(&over, 3, &["boat/offsets.csv", "choose another file"]);
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
