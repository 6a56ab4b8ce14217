//! Where the open boat's texts are kept: in her folder, or nowhere.
//!
//! Only the files of a boat folder, by their fixed names, are ever read or written: no path comes in from outside.

use crate::files;
use crate::trouble::Trouble;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// A file of a boat's folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FileName {
    /// What is wanted.
    Boat,
    /// The table.
    Offsets,
    /// Pinned marks.
    Marks,
    /// The rack.
    Boards,
    /// Nails and roves in stock.
    Nails,
    /// What things cost.
    Rates,
}

impl FileName {
    /// All of them.
    pub const ALL: [FileName; 6] =
        [FileName::Boat, FileName::Offsets, FileName::Marks, FileName::Boards, FileName::Nails, FileName::Rates];

    /// As it stands in the folder.
    pub fn word(self) -> &'static str {
        match self {
            FileName::Boat => "boat.toml",
            FileName::Offsets => "offsets.csv",
            FileName::Marks => "marks.csv",
            FileName::Boards => "boards.csv",
            FileName::Nails => "nails.csv",
            FileName::Rates => "rates.toml",
        }
    }

    /// The file of that name.
    pub fn find(word: &str) -> Option<FileName> {
        FileName::ALL.into_iter().find(|f| f.word() == word)
    }
}

/// The texts of a boat's files; those that are not there are left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Texts([Option<String>; FileName::ALL.len()]);

impl Texts {
    /// The text of a file.
    pub fn get(&self, file: FileName) -> Option<&str> {
        self.0[file as usize].as_deref()
    }

    /// Puts a text in place of what was there, or takes the file away; returns what was there.
    pub fn put(&mut self, file: FileName, text: Option<String>) -> Option<String> {
        std::mem::replace(&mut self.0[file as usize], text)
    }

    /// Neither what is wanted nor a table: nothing to make a boat of.
    pub fn no_boat(&self) -> bool {
        self.get(FileName::Boat).is_none() && self.get(FileName::Offsets).is_none()
    }

    /// The files whose texts differ.
    pub fn differing(&self, other: &Texts) -> Vec<FileName> {
        FileName::ALL.into_iter().filter(|f| self.get(*f) != other.get(*f)).collect()
    }
}

/// Where a boat is kept.
#[derive(Debug)]
pub enum Store {
    /// In a folder.
    Folder(PathBuf),
    /// In memory only: an example, or a boat begun in its place.
    Memory,
}

/// When a folder's files were last written and how long they are, bytes: differs when somebody else has written one.
pub type Stamp = [Option<(SystemTime, u64)>; FileName::ALL.len()];

impl Store {
    /// The folder's texts.
    ///
    /// # Errors
    /// Files that cannot be read, are too large or no text; one that is not there is none.
    pub fn read(folder: &Path) -> Result<Texts, Trouble> {
        let mut texts = Texts::default();
        for file in FileName::ALL {
            texts.put(file, files::text(&folder.join(file.word()))?);
        }
        Ok(texts)
    }

    /// When its files were last written.
    pub fn stamp(&self) -> Stamp {
        FileName::ALL.map(|f| self.stamp_of(f))
    }

    /// When one of them was; `None` where it is not there.
    pub fn stamp_of(&self, file: FileName) -> Option<(SystemTime, u64)> {
        let Store::Folder(folder) = self else { return None };
        let meta = fs::metadata(folder.join(file.word())).ok()?;
        Some((meta.modified().ok()?, meta.len()))
    }

    /// Writes a file whole, or takes it away.
    ///
    /// # Errors
    /// What cannot be written; the file is then as it was.
    pub fn write(&self, file: FileName, text: Option<&str>) -> Result<(), Trouble> {
        let Store::Folder(folder) = self else { return Ok(()) };
        let path = folder.join(file.word());
        match text {
            Some(text) => files::write_whole(&path, text.as_bytes(), true),
            None => match fs::remove_file(&path) {
                Err(why) if why.kind() != std::io::ErrorKind::NotFound => Err(Trouble::Write { path, why }),
                _ => Ok(()),
            },
        }
    }
}

impl Texts {
    /// Of an example's files by their names; others are left out.
    pub fn of(files: &[(&str, &str)]) -> Texts {
        let mut texts = Texts::default();
        for (name, text) in files {
            if let Some(file) = FileName::find(name) {
                texts.put(file, Some((*text).to_owned()));
            }
        }
        texts
    }
}
