//! Tells the program which commit it is built from, for `--version`.
//!
//! `STRAKEWISE_COMMIT` in the environment is taken as it is; else git is asked, where these files are a repository's own; else
//! nothing is said. Nothing else goes in, so that the same commit gives the same bytes wherever it is built.

use std::path::Path;
use std::process::Command;

/// As many digits of the commit as tell it apart.
const DIGITS: usize = 12;

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    println!("cargo::rerun-if-env-changed=STRAKEWISE_COMMIT");
    let commit = std::env::var("STRAKEWISE_COMMIT").ok().or_else(of_repository);
    let commit: String =
        commit.unwrap_or_default().chars().filter(char::is_ascii_alphanumeric).take(DIGITS).collect();
    let said = if commit.is_empty() { String::new() } else { format!(" ({commit})") };
    println!("cargo::rustc-env=STRAKEWISE_COMMIT={said}");
}

fn of_repository() -> Option<String> {
    // Unpacked inside another repository, these files are not of that one's commit.
    git(&["ls-files", "--error-unmatch", "build.rs"])?;
    // What is written whenever another commit is made or gone to. A path that is not there would have the build run every time.
    for path in ["logs/HEAD", "HEAD"].iter().filter_map(|name| git(&["rev-parse", "--git-path", name])) {
        if Path::new(&path).exists() {
            println!("cargo::rerun-if-changed={path}");
        }
    }
    git(&["rev-parse", "HEAD"])
}

/// What git says; `None` where there is no git, or it refuses.
fn git(arguments: &[&str]) -> Option<String> {
    let said = Command::new("git").args(arguments).output().ok().filter(|said| said.status.success())?;
    Some(String::from_utf8(said.stdout).ok()?.trim().to_owned())
}
