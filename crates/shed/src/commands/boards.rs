//! `strakewise boards`.

use super::{is_standard_output, say, tell};
use crate::arguments::Boards;
use crate::files;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::drawing::typeface::Type;
use boat::paper::{PaperError, book as bench_book};
use boat::plan::Plan;
use boat::sawing::{self, Effort, Piece, Sawing};
use boat::stock::Board;
use boat::units::Notation;
use std::ops::ControlFlow;
use std::process::ExitCode;

/// Plans, lays out, tells and perhaps draws.
pub fn run(asked: &Boards) -> Result<ExitCode, Trouble> {
    if asked.output.as_deref().is_some_and(is_standard_output) {
        return Err(Trouble::Usage(
            "what comes out of which board is told on standard output: give a file after -o".to_owned(),
        ));
    }
    let (text, drawn) = {
        let progress = Progress::new();
        let (texts, folder) = files::boat(&asked.which)?;
        let input =
            boat::folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
        if input.boards.is_empty() {
            return Err(Trouble::Usage(format!(
                "{}: there is no rack to get planks out of: list its boards in boards.csv (docs/boat-folder.md says how)",
                input.spec.name
            )));
        }
        let lengths = input.spec.lengths;
        let plan = boat::plan::plan_telling(&input, &mut |stage| progress.stage(stage))
            .map_err(|problem| Trouble::Plan { folder, problem, lengths })?;
        progress.stage("laying the planks out on the boards");
        let effort = Effort { rounds: asked.rounds(), seed: asked.seed, ..Effort::default() };
        let found = sawing::saw_out(&plan, &input.boards, effort, &mut |now| {
            progress.say(format!(
                "laying the planks out on the boards: round {} of {}, {:.1} % of the wood cut becomes plank",
                now.round,
                asked.rounds(),
                100.0 * now.best.share()
            ));
            ControlFlow::Continue(())
        })
        .map_err(|why| Trouble::Usage(format!("{}: {why}", plan.spec.name)))?;
        let drawn = match &asked.output {
            Some(path) => {
                let t = Type::embedded().map_err(PaperError::from)?;
                let sheets = bench_book::sawing_sheets(&t, &plan, &input.boards, &found, asked.paper.size());
                let title = format!("{}: boards", plan.spec.name);
                let bytes = bench_book::write_titled(&t, &title, "Which plank comes out of which board", &sheets)?;
                Some((path.clone(), bytes))
            }
            None => None,
        };
        (told(&plan, &input.boards, &found), drawn)
    };
    tell(&text, drawn)
}

fn told(plan: &Plan, boards: &[Board], found: &Sawing) -> String {
    let lengths = plan.spec.lengths;
    let pieces: usize = found.boards.iter().map(|b| b.laid.len()).sum();
    let missing: usize = found.short.iter().map(|s| s.count).sum();
    let mut text = format!(
        "{}: {} for both sides from {}; {} uncut.\n",
        plan.spec.name,
        say::count(pieces, "plank or part", "planks and parts"),
        say::count(found.boards.len(), "board", "boards"),
        say::count(found.whole.len(), "board stays", "boards stay"),
    );
    if found.cut_area > 0.0 {
        let share = 100.0 * found.laid_area / found.cut_area;
        text.push_str(&format!("{share:.0} % of the wood that is cut becomes plank.\n"));
    }
    text.push('\n');
    let mut rows = vec![["board", "is", "cut", "over", "out of it"].map(str::to_owned).to_vec()];
    for sawn in &found.boards {
        let board = &boards[sawn.board];
        rows.push(vec![
            board.name.clone(),
            size(lengths, [board.length, board.width]),
            lengths.said(sawn.used),
            lengths.said((board.length - sawn.used).max(0.0)),
            sawn.laid.iter().map(|l| name(l.piece)).collect::<Vec<_>>().join(", "),
        ]);
    }
    text.push_str(&say::columns(&rows));
    if found.apart > 0 {
        let pairs = say::count(found.apart, "pair comes", "pairs come");
        text.push_str(&format!("\n{pairs} out of two boards, port and starboard: look for wood alike.\n"));
    }
    if missing > 0 {
        text.push_str("\nNo room in the rack for these; a board each to buy:\n");
        for s in &found.short {
            let [long, wide] = s.takes;
            text.push_str(&format!("  {} of strake {}: {}\n", s.count, name(s.piece), size(lengths, [long, wide])));
        }
    }
    if !found.thin.is_empty() {
        let names: Vec<&str> = found.thin.iter().map(|i| boards[*i].name.as_str()).collect();
        text.push_str(&format!("\nThinner than the planking, left out: {}.\n", names.join(", ")));
    }
    text
}

fn size(lengths: Notation, [long, wide]: [f64; 2]) -> String {
    format!("{} × {}", lengths.said(long), lengths.said(wide))
}

/// `3`, or `3 part 2`.
fn name(piece: Piece) -> String {
    if piece.of == 1 { piece.strake.to_string() } else { format!("{} part {}", piece.strake, piece.part) }
}
