//! Files: boat folders in, whole files out.

use crate::arguments::Which;
use crate::examples::Example;
use crate::output::remark;
use crate::trouble::Trouble;
use boat::folder::BoatTexts;
use std::fs::{self, File};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// No boat's file is larger than this, bytes.
const LARGEST: u64 = 4 << 20;

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

/// The texts of a folder; its boat.toml may be named instead.
fn folder(path: &Path) -> Result<BoatTexts, Trouble> {
    let folder = match path.file_name() {
        Some(name) if name == "boat.toml" && path.is_file() => path.parent().unwrap_or(Path::new("")),
        _ => path,
    };
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
    })
}

/// The text of a file; `None` where there is none.
fn text(path: &Path) -> Result<Option<String>, Trouble> {
    let file = match File::open(path) {
        Ok(file) => file,
        Err(why) if why.kind() == ErrorKind::NotFound => return Ok(None),
        Err(why) => return Err(Trouble::Read { path: path.to_owned(), why }),
    };
    read_text(file, path).map(Some)
}

/// All of `from` as text; `path` is what to call it.
pub fn read_text(from: impl Read, path: &Path) -> Result<String, Trouble> {
    let mut bytes = Vec::new();
    from.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|why| Trouble::Read { path: path.to_owned(), why })?;
    if bytes.len() as u64 > LARGEST {
        return Err(Trouble::TooLarge { path: path.to_owned(), limit: LARGEST });
    }
    String::from_utf8(bytes)
        .map_err(|e| Trouble::NotText { path: path.to_owned(), at: e.utf8_error().valid_up_to() + 1 })
}

/// Writes a whole file or none: aside first, in the same folder, then under its name.
pub fn write_whole(path: &Path, bytes: &[u8], overwrite: bool) -> Result<(), Trouble> {
    let trouble = |why: std::io::Error| match why.kind() {
        ErrorKind::AlreadyExists => Trouble::Exists { path: path.to_owned() },
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
    let mut aside = aside(folder).map_err(trouble)?;
    aside.write_all(bytes).map_err(trouble)?;
    aside.as_file().sync_all().map_err(trouble)?;
    let kept = if overwrite { aside.persist(&target) } else { aside.persist_noclobber(&target) };
    kept.map(drop).map_err(|e| trouble(e.error))
}

fn aside(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".strakewise-");
    // Left alone, a file made aside may be read by its owner only; this one is to be as any other.
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666)).tempfile_in(folder)
    }
    #[cfg(not(unix))]
    builder.tempfile_in(folder)
}

/// Makes a folder and those above it.
pub fn make_folder(path: &Path) -> Result<(), Trouble> {
    fs::create_dir_all(path).map_err(|why| Trouble::Write { path: path.to_owned(), why })
}
