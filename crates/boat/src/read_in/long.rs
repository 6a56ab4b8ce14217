//! One entry to a line: its station, its line, what it measures, and the value.
//!
//! A row has a cell for every station, so no more stations are taken than a line of a table has cells: else a list of
//! stations and rows that are each named once would grow with its square.

use super::problem::{ReadInError, ReadInProblem as Problem};
use super::sheet::{Cell, MOST_CELLS, Sheet};
use super::table::Shape;

const STATION: [&str; 4] = ["station", "sta", "stn", "section"];
const LINE: [&str; 4] = ["line", "row", "name", "curve"];
const KIND: [&str; 5] = ["kind", "what", "type", "measures", "dimension"];
const LEVEL: [&str; 2] = ["level", "at level"];
const VALUE: [&str; 5] = ["value", "offset", "length", "reading", "measure"];
const UNIT: [&str; 2] = ["unit", "units"];
const AT: [&str; 3] = ["at", "position", "x"];

/// The entries as stations and rows; `None` where the first line does not name such columns.
pub fn shape(sheet: &Sheet) -> Result<Option<Shape>, ReadInError> {
    let Some(head) = sheet.lines.iter().position(|l| l.iter().filter(|c| !c.text.is_empty()).count() > 2) else {
        return Ok(None);
    };
    let names: Vec<String> = sheet.lines[head].iter().map(|c| bare_name(&c.text)).collect();
    let column = |of: &[&str]| names.iter().position(|n| of.contains(&n.as_str()));
    let has = |name: &str| names.iter().any(|n| n == name);
    if has("mark") && (has("out") || has("in") || has("from_inner")) {
        return Err(Problem::Points.nowhere());
    }
    let (Some(station), Some(line), Some(value)) = (column(&STATION), column(&LINE), column(&VALUE)) else {
        return Ok(None);
    };
    let (kind, level, unit, at) = (column(&KIND), column(&LEVEL), column(&UNIT), column(&AT));
    let mut shape = Shape {
        said: "one entry to a line".to_owned(),
        stations: Vec::new(),
        rows: Vec::new(),
        titles: sheet.lines[..=head].iter().flatten().map(|c| c.text.clone()).collect(),
        left_out: Vec::new(),
    };
    for cells in &sheet.lines[head + 1..] {
        let text = |i: Option<usize>| i.and_then(|i| cells.get(i)).map_or("", |c| c.text.as_str());
        let (name, there) = (text(Some(station)), &cells[value]);
        if name.is_empty() || there.text.is_empty() {
            let what = if name.is_empty() { "the station" } else { "the value" };
            shape.left_out.push(format!("line {}: {what} is empty", there.line));
            continue;
        }
        let column = station_of(&mut shape, &cells[station]);
        if shape.stations.len() > MOST_CELLS {
            let remedy = "take out what is no table of offsets";
            let problem =
                Problem::TooMany { what: "stations", found: shape.stations.len(), most: MOST_CELLS, remedy };
            return Err(problem.on(there.line));
        }
        let row = [text(kind), text(Some(line)), text(level)].into_iter().filter(|t| !t.is_empty());
        let row = row.collect::<Vec<_>>().join(" ");
        let unit = text(unit);
        let entry = if unit.is_empty() { there.text.clone() } else { format!("{} {unit}", there.text) };
        put(&mut shape, &Cell { text: row, ..cells[line].clone() }, column, Cell { text: entry, ..there.clone() })?;
        if let Some(at) = at.map(|i| &cells[i]).filter(|c| !c.text.is_empty()) {
            position(&mut shape, column, at);
        }
    }
    let width = shape.stations.len();
    for row in &mut shape.rows {
        row.1.resize(width, Cell::default());
    }
    Ok(Some(shape))
}

/// A column's name, without a unit in brackets.
fn bare_name(text: &str) -> String {
    text.split(['(', '[']).next().unwrap_or_default().trim().to_lowercase()
}

fn station_of(shape: &mut Shape, cell: &Cell) -> usize {
    shape.stations.iter().position(|s| s.text == cell.text).unwrap_or_else(|| {
        shape.stations.push(cell.clone());
        shape.stations.len() - 1
    })
}

fn row_of<'a>(shape: &'a mut Shape, name: &Cell, column: usize) -> &'a mut Vec<Cell> {
    let low = name.text.to_lowercase();
    let at = shape.rows.iter().position(|r| r.0.text.to_lowercase() == low).unwrap_or(shape.rows.len());
    if at == shape.rows.len() {
        shape.rows.push((name.clone(), Vec::new()));
    }
    let row = &mut shape.rows[at].1;
    if row.len() <= column {
        row.resize(column + 1, Cell::default());
    }
    row
}

fn put(shape: &mut Shape, name: &Cell, column: usize, entry: Cell) -> Result<(), ReadInError> {
    let row = row_of(shape, name, column);
    if !row[column].text.is_empty() {
        let first = row[column].line;
        return Err(Problem::Twice { first }.at(entry.line, format!("cell {}", entry.column)));
    }
    row[column] = entry;
    Ok(())
}

/// Where a station stands; the first line that says it counts, and another is passed over and told.
fn position(shape: &mut Shape, column: usize, at: &Cell) {
    let name = Cell { text: "at".to_owned(), ..at.clone() };
    let row = row_of(shape, &name, column);
    if row[column].text.is_empty() {
        row[column] = at.clone();
    } else if row[column].text != at.text {
        let told = format!("line {}, cell {}: the station stood at {} before", at.line, at.column, row[column].text);
        shape.left_out.push(told);
    }
}
