//! A boat's folder made of what is known of her so far, for `take-off` and `read-in`.

use crate::new_boat::fields::{self, TABLE, Typed};
use crate::new_boat::written::{self, Wrong};
use crate::trouble::Trouble;
use crate::{files, output};
use boat::folder::BoatTexts;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// A folder that is to be made.
pub struct Begun<'a> {
    folder: &'a Path,
    /// Her boat.toml and offsets.csv.
    paths: [PathBuf; 2],
}

/// What is said when she is there: a result, and remarks beside it.
pub struct Said {
    pub text: String,
    pub remarks: Vec<String>,
}

impl<'a> Begun<'a> {
    /// Where she is to be kept.
    ///
    /// # Errors
    /// One of her files is there already: nothing is written over.
    pub fn at(folder: &'a Path) -> Result<Begun<'a>, Trouble> {
        let paths = ["boat.toml", "offsets.csv"].map(|name| folder.join(name));
        files::none_there(&paths)?;
        Ok(Begun { folder, paths })
    }

    /// What she is called where nothing else is said: as her folder.
    pub fn name(&self) -> String {
        self.folder.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
    }

    /// Writes her files, and says what came of it, where they are and what they still want. `how` she was begun stands in her
    /// boat.toml.
    ///
    /// # Errors
    /// What cannot be written; none of her files is left then.
    pub fn write(&self, typed: &Typed, how: &str, said: Said) -> Result<ExitCode, Trouble> {
        let (written, mut wanted) = written::as_far_as_known(typed, how);
        if wanted.is_empty() {
            wanted.extend(written.read(&BoatTexts::default()).err());
        }
        let [toml, offsets] = &self.paths;
        files::make_folder(self.folder)?;
        files::write_new(&[(toml.clone(), &written.toml), (offsets.clone(), &written.offsets)])?;
        let paths: String = self.paths.iter().map(|path| format!("{}\n", path.display())).collect();
        output::result((said.text + &paths).as_bytes())?;
        said.remarks.iter().for_each(|remark| output::remark(remark));
        wanted.iter().for_each(|wrong| output::remark(&still_wanted(wrong)));
        let transom = wanted.iter().any(|w| w.key.is_some_and(|key| key.starts_with("transom.")));
        let mut rows = written.offsets.lines().filter(|line| !line.starts_with('#'));
        if transom && !rows.any(|line| line.to_lowercase().contains("transom")) {
            output::remark(
                "still wanted: a column `transom` in offsets.csv, which nothing was read for; or [sternpost] in place of [transom]",
            );
        }
        output::remark(&format!("look it through; then: strakewise check {}", output::typed(self.folder)));
        Ok(ExitCode::SUCCESS)
    }
}

/// What the new folder wants before it can be planned.
fn still_wanted(wrong: &Wrong) -> String {
    match fields::all().find(|f| Some(f.key) == wrong.key) {
        Some(field) if field.key == TABLE => format!("still wanted: {}: {}", field.label, wrong.why),
        Some(field) => format!("still wanted: {} (boat.toml, {}): {}", field.label, field.key, wrong.why),
        None => format!("still wanted: the new folder: {}", wrong.why),
    }
}
