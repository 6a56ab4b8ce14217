//! Inputs that were found to end otherwise than they should, kept: `found/<target>/<what was wrong>`.

use crate::Target;
use std::path::{Path, PathBuf};

/// Where those of `target` stand.
#[must_use]
pub fn folder(target: &Target) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("found").join(target.name)
}

/// All of `target`, by the order of their names.
///
/// # Errors
/// A file that cannot be read.
pub fn found(target: &Target) -> std::io::Result<Vec<Vec<u8>>> {
    let folder = folder(target);
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let mut paths = std::fs::read_dir(folder)?.map(|e| e.map(|e| e.path())).collect::<Result<Vec<_>, _>>()?;
    paths.sort();
    paths.iter().map(std::fs::read).collect()
}
