//! `strakewise` alone, or with a boat's folder: the screen.

use crate::arguments::Screen;
use crate::examples::Example;
use crate::files;
use crate::trouble::Trouble;
use crate::web;
use std::process::ExitCode;

/// Serves until it is interrupted.
pub fn run(asked: &Screen) -> Result<ExitCode, Trouble> {
    let folder = asked.which.boat.as_deref().map(files::folder_of);
    if let Some(folder) = folder.filter(|f| !f.is_dir()) {
        let hint =
            "give a boat's folder, make one with: strakewise new FOLDER, or see strakewise --help for the commands";
        return Err(Trouble::Missing { path: folder.to_owned(), what: "folder", hint });
    }
    web::run(web::Asked {
        folder: folder.map(ToOwned::to_owned),
        example: asked.which.example.unwrap_or(Example::Dinghy),
        port: asked.port,
        browse: !asked.no_browser,
        phones: asked.phones,
    })
}
