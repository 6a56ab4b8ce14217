//! `strakewise pictures`.

use super::planned;
use super::write::{file_name, is_standard_output, write_folder};
use crate::arguments::{Lines, Pictures};
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::drawing::typeface::Type;
use boat::exchange::File;
use boat::paper::{PaperError, pictures, write_dxf, write_svg};
use std::process::ExitCode;

/// Plans and writes.
pub fn run(asked: &Pictures) -> Result<ExitCode, Trouble> {
    if asked.output.as_deref().is_some_and(is_standard_output) {
        return Err(Trouble::Usage("there is a file for each picture: give a folder after -o".to_owned()));
    }
    let (boat, files) = {
        let progress = Progress::new();
        let plan = planned(&asked.which, &progress)?;
        progress.stage("drawing the pictures");
        let t = Type::embedded().map_err(PaperError::from)?;
        let file = |picture: &pictures::Picture| match asked.form {
            Lines::Svg => {
                File { name: format!("{}.svg", picture.file_name), bytes: write_svg(&t, &picture.sheet).into_bytes() }
            }
            Lines::Dxf => {
                File { name: format!("{}.dxf", picture.file_name), bytes: write_dxf(&picture.sheet).into_bytes() }
            }
        };
        let files: Vec<File> = pictures::pictures(&t, &plan).iter().map(file).collect();
        (plan.spec.name, files)
    };
    if files.is_empty() {
        let why = format!("{boat}: the eye stands too near to see her; give lining.eye_distance a greater length");
        return Err(Trouble::Usage(why));
    }
    let folder = asked.output.clone().unwrap_or_else(|| file_name(&boat, "-pictures"));
    write_folder("pictures", &folder, &files)?;
    Ok(ExitCode::SUCCESS)
}
