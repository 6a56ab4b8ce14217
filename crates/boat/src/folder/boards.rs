//! boards.csv: the timber in the rack.

use super::Board;
use super::columns::{Column, List, ListError, ListProblem};
use crate::units::Notation;

const COLUMNS: [Column; 7] = [
    Column { name: "board", required: true, length: false },
    Column { name: "length", required: true, length: true },
    Column { name: "width", required: true, length: true },
    Column { name: "thickness", required: true, length: true },
    Column { name: "wood", required: false, length: false },
    Column { name: "kind", required: false, length: false },
    Column { name: "notes", required: false, length: false },
];

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
        boards.push(Board {
            name,
            length: list.length(record, "length", lengths, [200.0, 20_000.0])?,
            width: list.length(record, "width", lengths, [20.0, 1500.0])?,
            thickness: list.length(record, "thickness", lengths, [3.0, 150.0])?,
            wood: list.text(record, "wood")?.to_owned(),
            sheet: match list.text(record, "kind")? {
                "" | "board" => false,
                "sheet" => true,
                found => return Err(list.trouble(record, "kind", ListProblem::Kind { found: found.to_owned() })),
            },
        });
    }
    Ok(boards)
}
