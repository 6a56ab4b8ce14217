//! `strakewise book`.

use super::write::{file_name, is_standard_output};
use super::{on_boards, planned};
use crate::arguments::{Book, Which};
use crate::progress::Progress;
use crate::record::{counting, done_so_far, read, readings};
use crate::said::count;
use crate::trouble::Trouble;
use crate::{files, output, standing};
use boat::drawing::typeface::Type;
use boat::hung::Standing;
use boat::jobs::jobs;
use boat::paper::book::{Built, With};
use boat::paper::{PaperError, PaperSize, book as bench_book};
use boat::plan::Plan;
use boat::sawing::{Effort, Suited};
use boat::stock::Board;
use boat::worked::Worked;
use boat::{folder, lines};
use std::io::IsTerminal;
use std::process::ExitCode;

/// Plans and writes.
pub fn run(asked: &Book) -> Result<ExitCode, Trouble> {
    let to_output = asked.output.as_deref().is_some_and(is_standard_output);
    if to_output && std::io::stdout().is_terminal() {
        let why = "a PDF is nothing for a terminal: give a file after -o, or send the output on with > or |";
        return Err(Trouble::Usage(why.to_owned()));
    }
    let drawn = {
        let progress = Progress::new();
        if asked.boards {
            let found = on_boards(&asked.which, Effort::default(), &progress)?;
            progress.stage("drawing the book");
            let boards = Some((&*found.boards, &found.suited));
            draw(&asked.which, &found.suited.plan, boards, asked.paper.size())?
        } else {
            let plan = planned(&asked.which, &progress)?;
            progress.stage("drawing the book");
            draw(&asked.which, &plan, None, asked.paper.size())?
        }
    };
    if to_output {
        output::result(&drawn.bytes)?;
    } else {
        let path = asked.output.clone().unwrap_or_else(|| file_name(&drawn.boat, "-book.pdf"));
        files::write_whole(&path, &drawn.bytes, true)?;
        output::result(format!("{}\n", path.display()).as_bytes())?;
    }
    if let Some(page) = drawn.findings_page {
        let things = count(drawn.findings, "thing", "things");
        output::remark(&format!("{things} to look at: page {page} of the book"));
    }
    Ok(ExitCode::SUCCESS)
}

/// A book and what to say of it.
struct Drawn {
    boat: String,
    bytes: Vec<u8>,
    findings: usize,
    findings_page: Option<usize>,
}

fn draw(which: &Which, plan: &Plan, boards: Option<(&[Board], &Suited)>, paper: PaperSize) -> Result<Drawn, Trouble> {
    let t = Type::embedded().map_err(PaperError::from)?;
    let record = Recorded::of(which, plan)?;
    let built = record.as_ref().map(Recorded::built);
    let sheets = bench_book::sheets_with(&t, plan, With { boards, built: built.as_ref() }, paper);
    Ok(Drawn {
        boat: plan.spec.name.clone(),
        bytes: bench_book::write_sheets(&t, plan, &sheets)?,
        findings: plan.findings.len(),
        findings_page: bench_book::findings_page(&sheets),
    })
}

/// What the record of a boat's folder has to say.
struct Recorded {
    sides: [Option<Standing>; 2],
    worked: Worked,
}

impl Recorded {
    /// `None` for an example, and where nothing has been recorded. Readings that leave no boat are told and left out.
    fn of(which: &Which, plan: &Plan) -> Result<Option<Recorded>, Trouble> {
        let Some(path) = &which.boat else { return Ok(None) };
        let counts = counting(&read(files::folder_of(path))?.entries);
        if counts.is_empty() {
            return Ok(None);
        }
        let (texts, folder) = files::boat(which)?;
        let lengths = plan.spec.lengths;
        let input = folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
        let lines = lines::fair(&input.table, &input.spec);
        let lines = lines.map_err(|why| Trouble::Plan { folder, problem: why.into(), lengths })?;
        let sides = standing::sides(&input, &lines, &readings(&counts)).map(|side| {
            side.unwrap_or_else(|why| {
                output::remark(&why.said(lengths));
                None
            })
        });
        Ok(Some(Recorded { sides, worked: done_so_far(&counts, &jobs(plan, &[])) }))
    }

    fn built(&self) -> Built<'_> {
        Built { sides: self.sides.each_ref().map(Option::as_ref), worked: self.worked.clone() }
    }
}
