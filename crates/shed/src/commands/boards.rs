//! `strakewise boards`.

use super::write::is_standard_output;
use super::{OnBoards, on_boards, say, tell};
use crate::arguments::Boards;
use crate::progress::Progress;
use crate::said::{boards_cut, count, leaf_name, longest_of, piece, places, size, strakes};
use crate::trouble::Trouble;
use boat::drawing::typeface::Type;
use boat::paper::{PaperError, book as bench_book};
use boat::plan::Plan;
use boat::sawing::{Buy, Effort, Parted, RESAW, Sawing};
use boat::stock::Board;
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
        let effort = Effort { rounds: asked.rounds(), seed: asked.seed, ..Effort::default() };
        let OnBoards { boards, suited, stopped } = on_boards(&asked.which, effort, &progress)?;
        let (plan, found) = (&suited.plan, &suited.sawing);
        let drawn = match &asked.output {
            Some(path) => {
                let t = Type::embedded().map_err(PaperError::from)?;
                let sheets = bench_book::sawing_sheets(&t, plan, &boards, &suited, asked.paper.size());
                let title = format!("{}: boards", plan.spec.name);
                let bytes = bench_book::write_titled(&t, &title, "Which plank comes out of which board", &sheets)?;
                Some((path.clone(), bytes))
            }
            None => None,
        };
        (told(plan, &boards, found, &suited.parted, stopped), drawn)
    };
    tell(&text, drawn)
}

fn told(plan: &Plan, boards: &[Board], found: &Sawing, parted: &[Parted], stopped: bool) -> String {
    let lengths = plan.spec.lengths;
    let pieces: usize = found.boards.iter().map(|b| b.laid.len()).sum();
    let mut text = format!(
        "{}: {} for both sides from {}; {} uncut.\n",
        plan.spec.name,
        count(pieces, "plank or part", "planks and parts"),
        count(boards_cut(&found.boards), "board", "boards"),
        count(found.whole.len(), "board stays", "boards stay"),
    );
    if found.cut_area > 0.0 {
        let share = 100.0 * found.laid_area / found.cut_area;
        text.push_str(&format!("{share:.0} % of the wood that is cut becomes plank.\n"));
    }
    if stopped {
        text.push_str("Stopped before it was good enough: this is the best so far.\n");
    }
    text.push('\n');
    let mut rows = vec![["board", "is", "cut", "over", "out of it"].map(str::to_owned).to_vec()];
    for sawn in &found.boards {
        let board = &boards[sawn.board];
        rows.push(vec![
            leaf_name(&board.name, sawn.leaf),
            size(lengths, [board.length, board.width]),
            lengths.said(sawn.used),
            lengths.said((board.length - sawn.used).max(0.0)),
            sawn.laid.iter().map(|l| piece(l.piece)).collect::<Vec<_>>().join(", "),
        ]);
    }
    text.push_str(&say::columns(&rows));
    if found.apart > 0 {
        let pairs = count(found.apart, "pair comes", "pairs come");
        text.push_str(&format!("\n{pairs} out of two boards, port and starboard: look for wood alike.\n"));
    }
    text.push_str(&resawn(boards, found));
    text.push_str(&scarfs(plan, parted));
    text.push_str(&missing(plan, boards, found));
    if !found.thin.is_empty() {
        let names: Vec<&str> = found.thin.iter().map(|i| boards[*i].name.as_str()).collect();
        text.push_str(&format!("\nThinner than the planking, left out: {}.\n", names.join(", ")));
    }
    text
}

/// Boards that are sawn through their thickness, and leaves that are over.
fn resawn(boards: &[Board], found: &Sawing) -> String {
    let mut sawn: Vec<String> = Vec::new();
    for s in found.boards.iter().filter(|s| s.leaf[1] > 1) {
        let said = format!("{} into {}", boards[s.board].name, s.leaf[1]);
        if !sawn.contains(&said) {
            sawn.push(said);
        }
    }
    if sawn.is_empty() {
        return String::new();
    }
    let mut text = format!("\nSaw through their thickness first: {}. {RESAW}\n", sawn.join(", "));
    if !found.spare.is_empty() {
        let over: Vec<String> = found.spare.iter().map(|(i, leaf)| leaf_name(&boards[*i].name, *leaf)).collect();
        text.push_str(&format!("Whole leaves over: {}.\n", over.join(", ")));
    }
    text
}

/// Scarfs that were moved, and how to keep them.
fn scarfs(plan: &Plan, parted: &[Parted]) -> String {
    if parted.is_empty() {
        return String::new();
    }
    let lengths = plan.spec.lengths;
    let mut text = "\nScarfs that suit the boards better, aft of the first station:\n".to_owned();
    for p in parted {
        let [before, after] = [0, 1].map(|i| places(lengths, &p.scarfs[i]));
        text.push_str(&format!("  strake {}: {after} (planned: {before})\n", p.strake));
    }
    text.push_str("The book has them with --boards. To have them everywhere, write into boat.toml under [scarfs]:\n");
    text.push_str(&format!("  {}\n", longest_of(plan)));
    text
}

/// What has no room, and what to buy for it.
fn missing(plan: &Plan, boards: &[Board], found: &Sawing) -> String {
    let lengths = plan.spec.lengths;
    if found.short.is_empty() {
        return String::new();
    }
    let without: usize = found.short.iter().map(|s| s.count).sum();
    let has = if without == 1 { "has" } else { "have" };
    let pieces = count(without, "plank or part", "planks and parts");
    let mut text = format!("\n{pieces} {has} no room in the rack. A board each, to buy, planed and at least:\n");
    let thick = |b: &Buy| lengths.said_fine(b.thickness);
    let rows: Vec<Vec<String>> = found
        .buy
        .iter()
        .map(|b| {
            vec![format!("  {}", b.count), size(lengths, b.size), format!("{} thick", thick(b)), strakes(&b.pieces)]
        })
        .collect();
    text.push_str(&say::columns(&rows));
    if let Some(more) = found.more {
        text.push_str(&format!("Or {} more like {}.\n", more.count, boards[more.like].name));
    }
    text
}
