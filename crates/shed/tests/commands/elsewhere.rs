//! Files as other systems write them, folders as people name them, and what is installed beside the program.

use crate::strakewise;
use std::fs;
use std::path::Path;
use std::process::Command;

/// What is printed; the command must end well, or with 1 where there are things to look at.
fn printed(arguments: &[&str], folder: &Path) -> Vec<u8> {
    let output = strakewise(arguments, folder);
    let code = output.status.code();
    let may_look = arguments[0] == "check" && code == Some(1);
    assert!(code == Some(0) || may_look, "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

/// Every file of `from` into `to`, with a byte order mark and CR LF as Windows' own editor writes them.
fn as_windows_has_it(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let text = fs::read_to_string(entry.path()).unwrap();
        assert!(!text.contains('\r'));
        fs::write(to.join(entry.file_name()), format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
    }
}

const HERE: &str = "Böte für Jörn & Åsa, no. 1";
const FOLDERS: [&str; 2] = ["plain", "Skøyte «Måke» 小船"];

/// Both folders, the second's files with CR LF; `more` goes into both first.
fn twice(example: &str, more: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path().join(HERE);
    let plain = here.join(FOLDERS[0]);
    fs::create_dir_all(&plain).unwrap();
    let boats = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats").join(example);
    for entry in fs::read_dir(boats).unwrap() {
        let entry = entry.unwrap();
        fs::copy(entry.path(), plain.join(entry.file_name())).unwrap();
    }
    for (name, text) in more {
        fs::write(plain.join(name), text).unwrap();
    }
    as_windows_has_it(&plain, &here.join(FOLDERS[1]));
    folder
}

/// boat.toml, offsets.csv, marks.csv, boards.csv, nails.csv and rates.toml.
#[test]
fn a_boat_from_windows_in_a_folder_with_spaces_and_strange_letters_is_the_same_boat() {
    let pinned = [("marks.csv", "# pinned\nland,station,girth_mm\n4,3,320\n")];
    for (example, more) in [("corncrake", &[][..]), ("sandgrouse", &pinned[..]), ("lapwing", &[][..])] {
        let folder = twice(example, more);
        let here = folder.path().join(HERE);
        for command in
            [&["plan", "--json"][..], &["check"], &["offsets"], &["quote"], &["book", "-o", "-"], &["plan"]]
        {
            let [plain, windows] = FOLDERS.map(|boat| printed(&[command, &[boat]].concat(), &here));
            assert!(!plain.is_empty() && plain == windows, "{example}: {command:?}");
        }
        let [plain, windows] = FOLDERS.map(|boat| {
            let to = format!("Risse von {boat}/für den Stoß");
            printed(&["pictures", boat, "-o", &to], &here);
            let mut files: Vec<_> = fs::read_dir(here.join(to)).unwrap().map(|e| e.unwrap().path()).collect();
            files.sort();
            files.iter().map(|f| (f.file_name().unwrap().to_owned(), fs::read(f).unwrap())).collect::<Vec<_>>()
        });
        assert!(plain.len() >= 4 && plain == windows, "{example}: pictures");
    }
}

#[test]
fn marks_that_are_refused_are_named_by_their_line_whatever_ends_it() {
    let folder = twice("sandgrouse", &[("marks.csv", "land,station,girth_mm\n4,3,320\n4,99,520\n")]);
    for boat in FOLDERS {
        let output = strakewise(&["plan", boat], &folder.path().join(HERE));
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("marks.csv, line 3") && said.contains(boat), "{said}");
    }
}

/// repair.toml, readings.csv and holes.csv.
#[test]
fn a_repair_from_windows_is_the_same_plank() {
    let folder = twice("sandgrouse-repair", &[]);
    let here = folder.path().join(HERE);
    let [plain, windows] = FOLDERS.map(|boat| {
        let card = format!("{boat} – Planke.pdf");
        printed(&["repair", boat, "-o", &card], &here);
        fs::read(here.join(card)).unwrap()
    });
    assert!(plain.starts_with(b"%PDF") && plain == windows);
}

/// Somebody else's drawing and table; points of a hull have the same lines.
#[test]
fn others_files_are_read_in_whatever_ends_their_lines() {
    let folder = tempfile::tempdir().unwrap();
    let here = folder.path();
    let stem = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200mm\" height=\"100mm\"\n viewBox=\"0 0 200 100\">\n\
        <line id=\"base-line\" x1=\"0\" y1=\"90\" x2=\"200\" y2=\"90\"/>\n<line id=\"first-station\" x1=\"60\" y1=\"0\" x2=\"60\" y2=\"90\"/>\n\
        <path id=\"stem\"\n d=\"M30 30\nQ31 70 54 78\"/>\n</svg>\n";
    let dxf = "0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nbase line\n10\n0\n20\n0\n11\n200\n21\n0\n0\nLINE\n8\nfirst station\n10\n60\n20\n0\n11\n60\n21\n90\n\
        0\nPOLYLINE\n8\nstem\n66\n1\n70\n0\n0\nVERTEX\n8\nstem\n10\n30\n20\n60\n0\nVERTEX\n8\nstem\n10\n36\n20\n35\n0\nVERTEX\n8\nstem\n10\n54\n20\n12\n0\nSEQEND\n0\nENDSEC\n0\nEOF\n";
    for (name, text, more) in [("Vorsteven är.svg", stem, &[][..]), ("Vorsteven är.dxf", dxf, &["--lengths", "mm"])]
    {
        let [plain, windows] = ["\n", "\r\n"].map(|end| {
            fs::write(here.join(name), text.replace('\n', end)).unwrap();
            printed(&[&["read-in", name, "--as", "stem", "--scale", "10"], more].concat(), here)
        });
        assert!(!plain.is_empty() && plain == windows, "{name}: {}", String::from_utf8_lossy(&plain));
    }
}

#[test]
fn the_version_names_the_commit_where_it_is_known() {
    let said = String::from_utf8(printed(&["--version"], Path::new("."))).unwrap();
    let rest = said.trim_end().strip_prefix(concat!("strakewise ", env!("CARGO_PKG_VERSION"))).unwrap();
    let git = |arguments: &[&str]| {
        let said = Command::new("git").args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).output();
        said.ok().filter(|s| s.status.success()).map(|s| String::from_utf8(s.stdout).unwrap().trim().to_owned())
    };
    let known = std::env::var_os("STRAKEWISE_COMMIT").is_none()
        && git(&["ls-files", "--error-unmatch", "build.rs"]).is_some();
    match git(&["rev-parse", "HEAD"]).filter(|_| known) {
        Some(head) => assert_eq!(rest, format!(" ({})", &head[..12])),
        None => assert!(rest.is_empty() || rest.starts_with(" ("), "{said}"),
    }
}

#[test]
fn the_manual_has_a_page_for_every_command_and_man_can_read_it() {
    let folder = tempfile::tempdir().unwrap();
    let pages = String::from_utf8(printed(&["manual", "man 1"], folder.path())).unwrap();
    let help = String::from_utf8(printed(&["--help"], folder.path())).unwrap();
    let commands = help.split("Commands:").nth(1).unwrap().split("\n\n").next().unwrap();
    let commands: Vec<&str> = commands
        .lines()
        .filter_map(|l| l.strip_prefix("  ").filter(|l| !l.starts_with(' ')))
        .filter_map(|l| l.split_whitespace().next())
        .filter(|name| *name != "help")
        .collect();
    assert!(commands.len() >= 16, "{commands:?}");
    assert_eq!(pages.lines().count(), commands.len() + 1, "{pages}");
    for name in commands.iter().map(|c| format!("strakewise-{c}.1")).chain(["strakewise.1".to_owned()]) {
        let page = fs::read_to_string(folder.path().join("man 1").join(&name)).unwrap();
        assert!(page.contains(".SH NAME") && page.contains(".SH SYNOPSIS"), "{name}");
    }
    let plan = fs::read_to_string(folder.path().join("man 1/strakewise-plan.1")).unwrap();
    assert!(plan.contains("\\-\\-schema") && plan.contains("strakewise "), "{plan}");
}

#[test]
fn shells_are_told_every_command() {
    let folder = tempfile::tempdir().unwrap();
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = String::from_utf8(printed(&["completions", shell], folder.path())).unwrap();
        for word in ["take-off", "read-in", "schema", "strakewise"] {
            assert!(script.contains(word), "{shell}: {word}");
        }
    }
    // Bash itself reads its own, and completes a command from its first letters.
    let script = printed(&["completions", "bash"], folder.path());
    fs::write(folder.path().join("words"), script).unwrap();
    let asked = "source ./words; COMP_WORDS=(strakewise pic); COMP_CWORD=1; _strakewise strakewise pic strakewise; echo \"${COMPREPLY[@]}\"";
    if let Ok(said) = Command::new("bash").args(["-c", asked]).current_dir(folder.path()).output() {
        assert_eq!(
            String::from_utf8(said.stdout).unwrap().trim(),
            "pictures",
            "{}",
            String::from_utf8_lossy(&said.stderr)
        );
    }
}

/// What the gallery says to type works, and the pictures that it shows are there.
#[test]
fn the_gallery_s_commands_and_pictures_are_there() {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs");
    let text = fs::read_to_string(docs.join("gallery.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let mut ran = 0;
    // Without a command the screen would open and wait.
    for line in text.lines().filter_map(|l| l.strip_prefix("    strakewise ")).filter(|l| !l.starts_with("--")) {
        printed(&line.split(' ').collect::<Vec<_>>(), folder.path());
        ran += 1;
    }
    let pictures: Vec<&str> = text.split("](gallery/").skip(1).map(|rest| rest.split(')').next().unwrap()).collect();
    for picture in &pictures {
        let bytes = fs::read(docs.join("gallery").join(picture)).unwrap();
        assert!(bytes.starts_with(b"\x89PNG") && bytes.len() < 100_000, "{picture}: {} bytes", bytes.len());
    }
    let kept = fs::read_dir(docs.join("gallery")).unwrap().count();
    assert!(ran >= 10 && pictures.len() == kept, "{ran} commands, {} pictures shown of {kept}", pictures.len());
}
