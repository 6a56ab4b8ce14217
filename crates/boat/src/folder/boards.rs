//! boards.csv: the timber in the rack.

use super::Board;
use super::columns::{Column, List, ListError, ListProblem};
use super::woods::same;
use crate::findings::{Finding, Measure, Stage};
use crate::offsets::sheet::Record;
use crate::stock::Spoilt;
use crate::units::Notation;
use crate::units::read_length;

const COLUMNS: [Column; 12] = [
    Column { name: "board", required: true, length: false },
    Column { name: "length", required: true, length: true },
    Column { name: "width", required: true, length: true },
    Column { name: "thickness", required: true, length: true },
    Column { name: "wood", required: false, length: false },
    Column { name: "middle_width", required: false, length: true },
    Column { name: "end_width", required: false, length: true },
    Column { name: "sapwood", required: false, length: true },
    Column { name: "knots", required: false, length: false },
    Column { name: "faults", required: false, length: false },
    Column { name: "kind", required: false, length: false },
    Column { name: "notes", required: false, length: false },
];

/// Boards that are said to be of another wood than the planking, sheets left alone: plywood is called by its faces.
pub fn other_wood(boards: &[Board], planking: &str) -> Option<Finding> {
    let other: Vec<&Board> =
        boards.iter().filter(|b| !b.sheet && !b.wood.is_empty() && !same(&b.wood, planking)).collect();
    let first = other.first()?;
    let hint = format!(
        "of {}, and the planking is of {planking} (planking.wood): planks are laid out on them all the same; take them out of \
         boards.csv, or call both woods by one name",
        first.wood
    );
    Some(Finding {
        stage: Stage::Stock,
        place: format!(
            "boards.csv, {}",
            if other.len() == 1 {
                format!("board {}", first.name)
            } else {
                format!("board {} and {} more", first.name, other.len() - 1)
            }
        ),
        measured: Measure::Count(other.len() as f64),
        limit: Measure::Count(0.0),
        hint,
    })
}

/// Reads the boards.
pub fn read(text: &str, lengths: Notation) -> Result<Vec<Board>, ListError> {
    let list = List::read("boards.csv", &COLUMNS, text)?;
    let mut boards: Vec<Board> = Vec::new();
    for record in &list.lines {
        let name = list.text(record, "board")?.to_owned();
        if let Some(first) = boards.iter().position(|b| b.name == name) {
            let first = list.lines.get(first).map_or(0, |r| r.line);
            let problem = ListProblem::Twice { what: format!("board {name}"), first };
            return Err(list.trouble(record, "board", problem));
        }
        boards.push(board(&list, record, name, lengths)?);
    }
    Ok(boards)
}

/// Widths of a board, mm.
const WIDTHS: [f64; 2] = [20.0, 1500.0];
/// Knots and faults in one board.
const MOST_SPOILT: usize = 60;

fn board(list: &List, record: &Record, name: String, lengths: Notation) -> Result<Board, ListError> {
    let length = list.length(record, "length", lengths, [200.0, 20_000.0])?;
    let first = list.length(record, "width", lengths, WIDTHS)?;
    let width = |column| Ok(list.length_if_there(record, column, lengths, WIDTHS)?.unwrap_or(first));
    let widths = [first, width("middle_width")?, width("end_width")?];
    let narrowest = widths.into_iter().fold(f64::INFINITY, f64::min);
    let sapwood = list.length_if_there(record, "sapwood", lengths, [0.0, 500.0])?.unwrap_or(0.0);
    if 2.0 * sapwood > narrowest - WIDTHS[0] {
        let most = lengths.said(0.5 * (narrowest - WIDTHS[0]));
        let problem = ListProblem::AllSapwood { found: list.text(record, "sapwood")?.to_owned(), most };
        return Err(list.trouble(record, "sapwood", problem));
    }
    let mut board = Board {
        name,
        length,
        width: narrowest - 2.0 * sapwood,
        widths,
        sapwood,
        thickness: list.length(record, "thickness", lengths, [3.0, 150.0])?,
        wood: list.text(record, "wood")?.to_owned(),
        sheet: match list.text(record, "kind")? {
            "" | "board" => false,
            "sheet" => true,
            found => return Err(list.trouble(record, "kind", ListProblem::Kind { found: found.to_owned() })),
        },
        spoilt: Vec::new(),
    };
    let mut all = Vec::new();
    for (column, sound) in [("knots", true), ("faults", false)] {
        all.extend(spoilt(list, record, column, sound, &board, lengths)?);
    }
    board.spoilt = all;
    Ok(board)
}

/// `1200, 60, 12; 2400, 30, 20`: from the end, from the lower edge, across; one after the other.
fn spoilt(
    list: &List,
    record: &Record,
    column: &'static str,
    sound: bool,
    board: &Board,
    lengths: Notation,
) -> Result<Vec<Spoilt>, ListError> {
    let text = list.long_text(record, column)?;
    let one = |piece: &str| {
        let trouble =
            |why: String| list.trouble(record, column, ListProblem::Spoilt { found: piece.to_owned(), why });
        let numbers = piece
            .split(',')
            .map(|n| read_length(n.trim(), Some(lengths)).map_err(|e| trouble(e.to_string())))
            .collect::<Result<Vec<f64>, _>>()?;
        let [from_end, up, across] = numbers[..] else {
            return Err(trouble(format!("{} lengths stand here, and three are wanted", numbers.len())));
        };
        if !(0.0..=board.length).contains(&from_end) {
            let why = format!(
                "it stands {} from the end of a board {} long",
                lengths.said(from_end),
                lengths.said(board.length)
            );
            return Err(trouble(why));
        }
        let width = board.width_at(from_end);
        if !(0.0..=width).contains(&up) {
            let why = format!("it stands {} up where the board is {} wide", lengths.said(up), lengths.said(width));
            return Err(trouble(why));
        }
        if !(1.0..=board.length).contains(&across) {
            return Err(trouble(format!(
                "it is {} across; 1 mm to the board's length is allowed",
                lengths.said(across)
            )));
        }
        Ok(Spoilt { from_end, up, across, sound })
    };
    let pieces: Vec<&str> = text.split(';').map(str::trim).filter(|p| !p.is_empty()).collect();
    if pieces.len() > MOST_SPOILT {
        let problem = ListProblem::TooMany { found: pieces.len(), most: MOST_SPOILT };
        return Err(list.trouble(record, column, problem));
    }
    pieces.into_iter().map(one).collect()
}
