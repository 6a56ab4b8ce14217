//! `strakewise patterns`.

use super::planned;
use super::write::{file_name, is_standard_output, write_folder};
use crate::arguments::{Form, Patterns, roll_width};
use crate::progress::Progress;
use crate::trouble::Trouble;
use crate::{files, output};
use boat::drawing::typeface::Type;
use boat::exchange::File;
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperError, PaperSize, roll, write_dxf, write_svg};
use std::io::IsTerminal;
use std::process::ExitCode;

/// Plans and writes.
pub fn run(asked: &Patterns) -> Result<ExitCode, Trouble> {
    let width = check(asked)?;
    let to_output = asked.output.as_deref().is_some_and(is_standard_output);
    let drawn = {
        let progress = Progress::new();
        let plan = planned(&asked.which, &progress)?;
        progress.stage("drawing the patterns");
        let t = Type::embedded().map_err(PaperError::from)?;
        let only: Vec<Kind> = asked.only.iter().map(|what| what.kind()).collect();
        let kinds = if only.is_empty() { &Kind::ALL[..] } else { &only };
        let found = patterns::patterns(&t, &plan, kinds);
        if found.is_empty() {
            return Err(Trouble::Usage(format!("{} has none of what --only asks for", plan.spec.name)));
        }
        let paper = asked.paper.map_or(PaperSize::A4, |paper| paper.size());
        let files = match asked.form {
            Form::Roll => vec![whole(patterns::write_roll(&t, &plan, &found, width)?)],
            Form::Tiles => vec![whole(patterns::write_tiles(&t, &plan, &found, paper)?)],
            Form::Svg => found.iter().map(|p| of(p, "svg", write_svg(&t, &p.sheet))).collect(),
            Form::Dxf => found.iter().map(|p| of(p, "dxf", write_dxf(&p.sheet))).collect(),
        };
        Drawn { boat: plan.spec.name.clone(), files }
    };
    match (drawn.files.as_slice(), one_file(asked.form)) {
        ([file], true) if to_output => output::result(&file.bytes)?,
        ([file], true) => {
            let path = asked.output.clone().unwrap_or_else(|| file_name(&drawn.boat, "-patterns.pdf"));
            files::write_whole(&path, &file.bytes, true)?;
            output::result(format!("{}\n", path.display()).as_bytes())?;
        }
        (files, _) => {
            let folder = asked.output.clone().unwrap_or_else(|| file_name(&drawn.boat, "-patterns"));
            write_folder("patterns", &folder, files)?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// The only one.
fn whole(bytes: Vec<u8>) -> File {
    File { name: String::new(), bytes }
}

fn of(pattern: &Pattern, ending: &str, text: String) -> File {
    File { name: format!("{}.{ending}", pattern.file_name), bytes: text.into_bytes() }
}

struct Drawn {
    boat: String,
    files: Vec<File>,
}

fn one_file(form: Form) -> bool {
    matches!(form, Form::Roll | Form::Tiles)
}

/// What of the command line does not go together, before anything is planned; the roll's width, mm.
fn check(asked: &Patterns) -> Result<f64, Trouble> {
    let usage = |why: &str| Err(Trouble::Usage(why.to_owned()));
    if asked.paper.is_some() && asked.form != Form::Tiles {
        return usage("--paper is for tiles (--as tiles): a roll has a --width, and SVG and DXF have no paper");
    }
    if asked.width.is_some() && asked.form != Form::Roll {
        return usage("--width is for a roll (--as roll): tiles have a --paper, and SVG and DXF have no paper");
    }
    let to_output = asked.output.as_deref().is_some_and(is_standard_output);
    if to_output && !one_file(asked.form) {
        return usage("SVG and DXF are a file for each pattern: give a folder after -o");
    }
    if to_output && std::io::stdout().is_terminal() {
        return usage("a PDF is nothing for a terminal: give a file after -o, or send the output on with > or |");
    }
    asked.width.as_deref().map_or(Ok(roll::USUAL), |text| roll_width("--width", text)).map_err(Trouble::Usage)
}
