//! Other people's programs that benches are set beside: a Python that has their packages, and scripts of ours run by it.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A Python in which `imports` runs, its packages installed from PyPI into a folder of that name under the target directory; that of
/// `release/speed` where that runs this; none where PyPI cannot be reached.
#[allow(dead_code, reason = "flotation's is the one that ./check sets up")]
pub fn python(folder: &str, imports: &str, packages: &[&str]) -> Option<PathBuf> {
    if let Some(python) = std::env::var_os("STRAKEWISE_REFERENCES") {
        return Some(PathBuf::from(python));
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(folder);
    let python = folder.join("bin/python");
    let works = |python: &Path| {
        let tried = Command::new(python).args(["-c", imports]).output();
        tried.is_ok_and(|o| o.status.success())
    };
    if !works(&python) {
        println!("Installing {} from PyPI.", packages.join(", "));
        let made = Command::new("python3").args(["-m", "venv"]).arg(&folder).status();
        let installed = made.is_ok_and(|s| s.success())
            && Command::new(&python)
                .args(["-m", "pip", "install", "--quiet"])
                .args(packages)
                .status()
                .is_ok_and(|s| s.success());
        if !installed || !works(&python) {
            println!("They could not be installed: nothing is set side by side.");
            return None;
        }
    }
    Some(python)
}

/// What `benches/reference/<script>.py` says of what it is given, JSON to JSON; `None` where there is no such Python.
pub fn said(python: &Path, script: &str, given: &Value) -> Option<Value> {
    let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(script).with_extension("json");
    std::fs::write(&file, given.to_string()).expect("writes");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("benches/reference").join(script).with_extension("py");
    let output = Command::new(python).arg(script).arg(&file).output().ok()?;
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(serde_json::from_slice(&output.stdout).expect("says JSON"))
}
