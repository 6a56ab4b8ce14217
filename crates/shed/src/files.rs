//! Files: boat folders in, whole files out.

use crate::arguments::Which;
use crate::examples::Example;
use crate::output::remark;
use crate::trouble::Trouble;
use boat::folder::{BoatTexts, RepairTexts};
use std::fs::{self, File};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// No boat's file is larger than this, bytes.
pub const LARGEST: u64 = 4 << 20;

/// The texts of the boat asked for, and what to call it in messages.
pub fn boat(which: &Which) -> Result<(BoatTexts, PathBuf), Trouble> {
    match &which.boat {
        Some(path) => Ok((folder(path)?, path.clone())),
        None => {
            let example = which.example.unwrap_or(Example::Dinghy);
            remark(&format!("no boat given: this is the example {}", example.name()));
            Ok((example.texts(), PathBuf::from(format!("example {}", example.name()))))
        }
    }
}

/// The texts of the repair asked for, and what to call it in messages.
pub fn repair(folder: Option<&Path>) -> Result<(RepairTexts, PathBuf), Trouble> {
    let Some(folder) = folder else {
        remark("no folder given: this is the example, a length of Sandgrouse's fifth plank");
        return Ok((crate::examples::repair(), PathBuf::from("example of a repair")));
    };
    if !folder.is_dir() {
        let hint = "name the folder that holds repair.toml and readings.csv; docs/repair.md says what stands in them";
        return Err(Trouble::Missing { path: folder.to_owned(), what: "folder", hint });
    }
    let needed = |name: &str| {
        let path = folder.join(name);
        let hint =
            "the folder of a repair holds repair.toml and readings.csv; docs/repair.md says what stands in them";
        text(&path)?.ok_or(Trouble::Missing { path, what: "file", hint })
    };
    let texts = RepairTexts {
        toml: needed("repair.toml")?,
        readings: needed("readings.csv")?,
        holes: text(&folder.join("holes.csv"))?,
    };
    Ok((texts, folder.to_owned()))
}

/// The boat's rates.toml; `None` where her folder has none.
pub fn rates(which: &Which) -> Result<Option<String>, Trouble> {
    match &which.boat {
        Some(path) => text(&folder_of(path).join("rates.toml")),
        None => Ok(Some(which.example.unwrap_or(Example::Dinghy).rates().to_owned())),
    }
}

/// The folder that is meant where its boat.toml may be named instead.
pub fn folder_of(path: &Path) -> &Path {
    match path.file_name() {
        Some(name) if name == "boat.toml" && path.is_file() => path.parent().unwrap_or(Path::new("")),
        _ => path,
    }
}

/// The texts of a folder; its boat.toml may be named instead.
fn folder(path: &Path) -> Result<BoatTexts, Trouble> {
    let folder = folder_of(path);
    if path == folder && !folder.is_dir() {
        let hint = "give a boat's folder, or make one with: strakewise new FOLDER";
        return Err(Trouble::Missing { path: path.to_owned(), what: "folder", hint });
    }
    let needed = |name: &str| {
        let path = folder.join(name);
        text(&path)?.ok_or(Trouble::Missing {
            path,
            what: "file",
            hint: "a boat's folder holds boat.toml and offsets.csv; strakewise new FOLDER makes both",
        })
    };
    Ok(BoatTexts {
        toml: needed("boat.toml")?,
        offsets: needed("offsets.csv")?,
        marks: text(&folder.join("marks.csv"))?,
        boards: text(&folder.join("boards.csv"))?,
        nails: text(&folder.join("nails.csv"))?,
    })
}

/// The text of a file; `None` where there is none.
///
/// # Errors
/// What cannot be read, is larger than [`LARGEST`], or is no UTF-8.
pub fn text(path: &Path) -> Result<Option<String>, Trouble> {
    opened(path)?.map(|file| read_text(file, path)).transpose()
}

/// All bytes of a file of at most `limit`; `None` where there is none.
///
/// # Errors
/// What cannot be read, or is larger.
pub fn bytes(path: &Path, limit: u64) -> Result<Option<Vec<u8>>, Trouble> {
    opened(path)?.map(|file| read_bytes(file, path, limit)).transpose()
}

fn opened(path: &Path) -> Result<Option<File>, Trouble> {
    match File::open(path) {
        Ok(file) => Ok(Some(file)),
        Err(why) if why.kind() == ErrorKind::NotFound => Ok(None),
        Err(why) => Err(Trouble::Read { path: path.to_owned(), why }),
    }
}

fn read_bytes(from: impl Read, path: &Path, limit: u64) -> Result<Vec<u8>, Trouble> {
    let mut bytes = Vec::new();
    from.take(limit + 1).read_to_end(&mut bytes).map_err(|why| Trouble::Read { path: path.to_owned(), why })?;
    if bytes.len() as u64 > limit {
        return Err(Trouble::TooLarge { path: path.to_owned(), limit });
    }
    Ok(bytes)
}

/// All of `from` as text; `path` is what to call it.
///
/// # Errors
/// As of [`text`].
pub fn read_text(from: impl Read, path: &Path) -> Result<String, Trouble> {
    String::from_utf8(read_bytes(from, path, LARGEST)?).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        Trouble::NotText { path: path.to_owned(), line: line_after(&e.as_bytes()[..good]), at: good + 1 }
    })
}

/// The line, from 1, on which what follows `text` begins; lines end with LF, CR LF or CR.
fn line_after(text: &[u8]) -> usize {
    let lone_cr = |i: usize| text[i] == b'\r' && text.get(i + 1) != Some(&b'\n');
    1 + (0..text.len()).filter(|&i| text[i] == b'\n' || lone_cr(i)).count()
}

/// Writes a whole file or none: aside first, in the same folder, then under its name.
pub fn write_whole(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), Trouble> {
    let trouble = |why: std::io::Error| match why.kind() {
        ErrorKind::AlreadyExists => Trouble::Exists { path: path.to_owned(), what: "file" },
        _ => Trouble::Write { path: path.to_owned(), why },
    };
    // What a link points to is written, and the link kept. A device or a pipe must never be replaced by a file.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    if fs::metadata(&target).is_ok_and(|m| !m.is_file()) {
        return Err(Trouble::NotAFile { path: path.to_owned() });
    }
    let folder = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if !folder.is_dir() {
        return Err(Trouble::NoFolder { path: path.to_owned(), folder: folder.to_owned() });
    }
    sweep(folder);
    let aside = write_aside(folder, bytes).map_err(trouble)?;
    let kept = if overwrite { aside.persist(&target) } else { aside.persist_noclobber(&target) };
    kept.map(drop).map_err(|e| trouble(e.error))
}

/// That none of these files is there.
///
/// # Errors
/// The first that is: it is left as it is.
pub fn none_there<'a>(paths: impl IntoIterator<Item = &'a PathBuf>) -> Result<(), Trouble> {
    let there = paths.into_iter().find(|path| path.exists());
    there.map_or(Ok(()), |path| Err(Trouble::Exists { path: path.clone(), what: "folder" }))
}

/// Writes new files, all of them or none, overwriting nothing.
///
/// # Errors
/// What cannot be written; those written before it are taken away again.
pub fn write_new(files: &[(PathBuf, &str)]) -> Result<(), Trouble> {
    none_there(files.iter().map(|(path, _)| path))?;
    for (i, (path, text)) in files.iter().enumerate() {
        if let Err(why) = write_whole(path, text.as_bytes(), false) {
            for (path, _) in &files[..i] {
                // Where even that fails, it is the first trouble that is to be told.
                let _ = fs::remove_file(path);
            }
            return Err(why);
        }
    }
    Ok(())
}

/// Names of files aside: they begin and end so, with something that no other run has taken between.
const ASIDE: [&str; 2] = [".strakewise-", ".aside"];

/// A file beside the target with `bytes` in it, locked as long as it is being written.
fn write_aside(folder: &Path, bytes: &[u8]) -> std::io::Result<tempfile::NamedTempFile> {
    for _ in 0..TRIES {
        let aside = make_aside(folder)?;
        // Where files cannot be locked, nobody can find this one unlocked and sweep it away either.
        let _ = aside.as_file().lock();
        // Another run may have swept it away before it was locked.
        if aside.path().exists() {
            aside.as_file().write_all(bytes)?;
            aside.as_file().sync_all()?;
            return Ok(aside);
        }
    }
    Err(std::io::Error::other("another run of the program is in the way; try again"))
}

/// How often another run may come between.
const TRIES: usize = 20;

fn make_aside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    // Opened here and not by the builder, so that it may be read by others as any other file, and so that an error does
    // not speak of its name, which says nothing to anybody.
    tempfile::Builder::new()
        .prefix(ASIDE[0])
        .suffix(ASIDE[1])
        .make_in(folder, |path| File::options().write(true).create_new(true).open(path))
}

/// Takes away what runs that were killed have left aside. A lock dies with its process, whatever kills it, so what can be
/// locked belongs to nobody; a run that is still writing holds its own. What cannot be taken away does no harm.
fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    let is_aside = |name: &str| name.starts_with(ASIDE[0]) && name.ends_with(ASIDE[1]);
    for entry in entries.flatten().filter(|e| e.file_name().to_str().is_some_and(is_aside)) {
        // A link or a folder of this name is not ours.
        if entry.file_type().is_ok_and(|t| t.is_file())
            && let Ok(left) = File::options().write(true).open(entry.path())
            && left.try_lock().is_ok()
        {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Makes a folder and those above it.
pub fn make_folder(path: &Path) -> Result<(), Trouble> {
    fs::create_dir_all(path).map_err(|why| Trouble::Write { path: path.to_owned(), why })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn what_killed_runs_left_aside_goes_with_the_next_and_what_is_being_written_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for left in [".strakewise-Ab12cd.aside", ".strakewise-Ef34gh.aside", ".strakewise-notes", "my.aside"] {
            fs::write(path(left), "half").unwrap();
        }
        fs::create_dir(path(".strakewise-folder.aside")).unwrap();
        let busy = path(".strakewise-busy00.aside");
        fs::write(&busy, "being written").unwrap();
        let held = File::options().write(true).open(&busy).unwrap();
        held.lock().unwrap();

        write_whole(&path("b.pdf"), b"whole", true).unwrap();
        let mine = [".strakewise-folder.aside", ".strakewise-notes", "b.pdf", "my.aside"];
        let mut still: Vec<&str> = mine.to_vec();
        still.push(".strakewise-busy00.aside");
        still.sort_unstable();
        assert_eq!(names(folder.path()), still);

        drop(held);
        write_whole(&path("b.pdf"), b"whole", true).unwrap();
        assert_eq!(names(folder.path()), mine);
    }

    #[test]
    fn new_files_are_written_all_or_none_and_over_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let to_nowhere = [(path("boat.toml"), "a"), (path("none/offsets.csv"), "b")];
        assert!(matches!(write_new(&to_nowhere), Err(Trouble::NoFolder { .. })));
        assert!(names(folder.path()).is_empty(), "half of it was left");
        fs::write(path("offsets.csv"), "mine").unwrap();
        let over = [(path("boat.toml"), "a"), (path("offsets.csv"), "b")];
        assert!(matches!(write_new(&over), Err(Trouble::Exists { .. })));
        assert_eq!(names(folder.path()), ["offsets.csv"]);
        assert_eq!(fs::read_to_string(path("offsets.csv")).unwrap(), "mine");
    }

    #[test]
    fn lines_are_counted_whatever_ends_them() {
        for (text, line) in [("", 1), ("a", 1), ("a\n", 2), ("a\r\nb\r\n\r\n", 4), ("a\rb\r", 3), ("a\n\nb", 3)] {
            assert_eq!(line_after(text.as_bytes()), line, "{text:?}");
        }
    }

    #[test]
    fn runs_at_the_same_time_each_write_a_whole_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("b.pdf");
        let books: Vec<Vec<u8>> = (0..8_u8).map(|i| vec![i; 100_000]).collect();
        std::thread::scope(|scope| {
            for book in &books {
                scope.spawn(|| (0..40).for_each(|_| write_whole(&path, book, true).unwrap()));
            }
            for _ in 0..200 {
                if let Ok(found) = fs::read(&path) {
                    assert!(books.contains(&found), "a book in parts, {} bytes", found.len());
                }
            }
        });
        assert_eq!(names(folder.path()), ["b.pdf"]);
    }
}
