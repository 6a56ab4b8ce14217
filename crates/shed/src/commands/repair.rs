//! `strakewise repair`.

use super::write::{file_name, is_standard_output};
use crate::arguments::{Repair, roll_width};
use crate::trouble::Trouble;
use crate::{files, output};
use boat::drawing::Sheet;
use boat::drawing::typeface::Type;
use boat::paper::{PaperError, book, patterns, roll, tile};
use boat::repair::{Again, Job, Mended};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Makes the plank, and writes its card and its pattern.
pub fn run(asked: &Repair) -> Result<ExitCode, Trouble> {
    if asked.output.as_deref().is_some_and(is_standard_output) {
        return Err(Trouble::Usage("a card and a pattern are two files: give a file after -o".to_owned()));
    }
    let width = asked.roll.as_deref().map(|text| roll_width("--roll", text)).transpose().map_err(Trouble::Usage)?;
    let (texts, folder) = files::repair(asked.folder.as_deref())?;
    let job =
        boat::folder::read_repair(&texts).map_err(|problem| Trouble::Repair { folder: folder.clone(), problem })?;
    let lengths = job.spec.lengths;
    let made = boat::repair::mend(&job).map_err(|problem| Trouble::Plank { folder, problem, lengths })?;
    let t = Type::embedded().map_err(PaperError::from)?;
    let card = book::repair::sheets(&t, &job, &made, asked.paper.size());
    let pattern = patterns::repair::sheet(&t, &job, &made);
    let pages: Vec<Sheet> = match width {
        Some(width) => roll::pages(&t, &pattern.iter().collect::<Vec<_>>(), width),
        None => pattern.iter().flat_map(|p| tile::pages(&t, p, asked.paper.size())).collect(),
    };
    let path = asked.output.clone().unwrap_or_else(|| file_name(&job.spec.name, "-plank.pdf"));
    let beside = beside(&path);
    let title = format!("{}: a plank from readings", job.spec.name);
    let write = |path: &PathBuf, sheets: &[Sheet]| {
        let bytes = book::write_titled(&t, &title, "One plank of a clinker boat, to be printed at 100 %", sheets)?;
        files::write_whole(path, &bytes, true)
    };
    write(&path, &card)?;
    write(&beside, &pages)?;
    output::result(told(&job, &made, &[path, beside]).as_bytes())?;
    for again in &made.again {
        output::remark(&once_more(&job, again));
    }
    Ok(ExitCode::SUCCESS)
}

/// `X-plank.pdf` has its pattern in `X-plank-pattern.pdf`.
fn beside(path: &Path) -> PathBuf {
    let stem = path.file_stem().map_or_else(|| "plank".to_owned(), |s| s.to_string_lossy().into_owned());
    path.with_file_name(format!("{stem}-pattern.pdf"))
}

/// What came of it, in short.
fn told(job: &Job, made: &Mended, paths: &[PathBuf]) -> String {
    let lengths = job.spec.lengths;
    let said = |mm| lengths.said(lengths.to_have(mm));
    let rivets: usize = made.rivets.iter().map(Vec::len).sum();
    let mut text = format!(
        "new plank: least board {} × {}, {} rivets in its lands, {} places measured\n",
        said(made.flat.length),
        said(made.flat.board_width),
        rivets,
        job.places.len()
    );
    for finding in &made.findings {
        text.push_str(&super::say::finding(finding, job.spec.lengths));
    }
    paths.iter().for_each(|path| text.push_str(&format!("{}\n", path.display())));
    text
}

/// A reading to take again.
fn once_more(job: &Job, again: &Again) -> String {
    let place = job.places.get(again.place);
    format!(
        "readings.csv, line {}, place {}, {}_{}: {} was read, and the others of its line say about {}, which was taken instead: \
         measure it again",
        place.map_or(0, |p| p.line),
        place.map_or("", |p| p.name.as_str()),
        again.spot.word(),
        if again.up { "up" } else { "in" },
        job.spec.lengths.said(again.read),
        job.spec.lengths.said(again.others)
    )
}
