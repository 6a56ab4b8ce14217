//! Other people's programs: what is written is read back by them, and told as text or JSON.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use boat::exchange::File;
use serde_json::Value;

/// A file of this run's own in the scratch folder.
pub fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    folder.join(format!("{}-{}.pdf", name.to_lowercase(), std::process::id()))
}

pub fn run(program: &str, package: &str, arguments: &[&str]) -> String {
    String::from_utf8_lossy(&run_bytes(program, package, arguments)).into_owned()
}

/// Runs someone else's program; it must be there and be content.
pub fn run_bytes(program: &str, package: &str, arguments: &[&str]) -> Vec<u8> {
    let out = Command::new(program)
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .unwrap_or_else(|e| panic!("cannot run `{program}`: {e}. Install the Debian package `{package}`."));
    let trouble = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "`{program}` found fault ({}): {trouble}", out.status);
    assert!(trouble.trim().is_empty(), "`{program}` grumbled: {trouble}");
    out.stdout
}

/// The interpreter, with other people's readers in it, that ./check sets up beside the scratch folder.
fn python() -> String {
    let python = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../readers/bin/python");
    assert!(python.exists(), "no readers at {}: run ./check once, which sets them up", python.display());
    python.to_str().expect("a plain path").to_owned()
}

/// What a script of `tests/readers` writes, run with these arguments; `package` is what it reads with.
pub fn script(name: &str, package: &str, arguments: &[&str]) -> String {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/readers").join(name);
    let all: Vec<&str> = [script.to_str().expect("a plain path")].iter().chain(arguments).copied().collect();
    run(&python(), package, &all)
}

/// What it tells, as JSON.
pub fn told(name: &str, package: &str, arguments: &[&str]) -> Value {
    serde_json::from_str(&script(name, package, arguments)).expect("JSON")
}

/// What a script tells of a file's bytes, which stand in the scratch folder as long as that takes.
pub fn told_of(name: &str, package: &str, what: &str, ending: &str, bytes: impl AsRef<[u8]>) -> Value {
    let path = scratch(what).with_extension(ending);
    std::fs::write(&path, bytes).expect("a scratch file");
    let found = told(name, package, &[path.to_str().expect("a plain path")]);
    let _ = std::fs::remove_file(&path);
    found
}

/// What a script tells of files by their own names, in a folder of theirs.
pub fn told_of_all(name: &str, package: &str, what: &str, files: &[File]) -> Value {
    let folder = scratch(what).with_extension("files");
    std::fs::create_dir_all(&folder).expect("a scratch folder");
    let mut arguments = Vec::new();
    for file in files {
        let path = folder.join(&file.name);
        std::fs::write(&path, &file.bytes).expect("a scratch file");
        arguments.push(path.to_str().expect("a plain path").to_owned());
    }
    let found = told(name, package, &arguments.iter().map(String::as_str).collect::<Vec<_>>());
    std::fs::remove_dir_all(&folder).expect("a scratch folder");
    found
}
