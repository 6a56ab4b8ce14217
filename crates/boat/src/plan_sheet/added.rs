//! Entries picked off a picture put into a table that is there already.

use super::table::{best_of, good_to, name, tenth};
use super::{Entry, PlanSheetError as Error};
use crate::offsets::{self, Row, RowKind, Table, with_cells};
use crate::units::Notation;

/// Levels nearer to each other than this, mm, are one level.
const SAME_LEVEL: f64 = 0.05;

/// A table with entries added, and what became of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// The whole file.
    pub text: String,
    /// Cells that were empty.
    pub filled: usize,
    /// Cells that had another number and were given the new one.
    pub changed: usize,
    /// Cells that had a number and have it still.
    pub kept: usize,
}

/// Adds entries to `text`, which was read as `table`. What stands there stays, or with `give_way` gives way to what was picked; rows
/// that the table does not have yet come last.
///
/// # Errors
/// A station that the table does not have, two views that give an entry unlike, no entries.
pub fn added(
    text: &str,
    table: &Table,
    entries: &[Entry],
    lengths: Notation,
    give_way: bool,
) -> Result<Added, Error> {
    let best = best_of(entries)?;
    let mut text = offsets::sheet::plain_ends(text);
    if !text.ends_with('\n') {
        text.push('\n');
    }
    let across = table.stations_run_across();
    let mut places = Places::of(&text, table, across);
    let (mut cells, [mut filled, mut changed, mut kept]) = (Vec::new(), [0; 3]);
    for entry in best {
        let station =
            table.stations.iter().position(|s| s.name == entry.station).ok_or_else(|| Error::NoStation {
                found: entry.station.clone(),
                known: table.stations.iter().map(|s| s.name.as_str()).collect::<Vec<_>>().join(", "),
            })?;
        let row = table.rows.iter().position(|r| same(&r.kind, &entry.row));
        let value = if lengths == Notation::Mm {
            tenth(entry.mm.max(entry.row.least()))
        } else {
            lengths.long(entry.mm.max(entry.row.least()))
        };
        let there = row.and_then(|r| table.rows[r].cells[station].as_ref());
        match there {
            Some(_) if !give_way => kept += 1,
            Some(cell) => {
                changed += usize::from(cell.text != value);
                cells.push((cell.line, cell.column, value));
            }
            None => {
                let of_row = match row.and_then(|r| places.rows[r]) {
                    Some(place) => place,
                    None => places.new_row(&entry.row, lengths, &mut cells),
                };
                let Some(of_station) = places.stations[station] else {
                    let known = "those with a number in some row".to_owned();
                    return Err(Error::NoStation { found: entry.station.clone(), known });
                };
                let (line, column) = if across { (of_row, of_station) } else { (of_station, of_row) };
                cells.push((line, column, value));
                filled += 1;
            }
        }
    }
    places.filled_up(&mut cells);
    let lines = text.lines().count();
    let last = cells.iter().map(|c| c.0).max().unwrap_or(0);
    text.push_str(&"\n".repeat(last.saturating_sub(lines)));
    let mut text = with_cells(&text, &cells);
    let (count, [usual, worst]) = (filled + changed, good_to(entries).unwrap_or_default());
    if count > 0 {
        let entries = if count == 1 { "1 entry".to_owned() } else { format!("{count} entries") };
        text.push_str(&format!(
            "# Read off a picture of the plan: {entries}, good to {usual:.1} mm as a rule and {worst:.1} mm at worst; one in twenty is further off.\n"
        ));
    }
    Ok(Added { text, filled, changed, kept })
}

fn same(a: &RowKind, b: &RowKind) -> bool {
    use RowKind::{HalfBreadthWaterline, HeightButtock};
    match (a, b) {
        (HeightButtock(a), HeightButtock(b)) | (HalfBreadthWaterline(a), HalfBreadthWaterline(b)) => {
            (a - b).abs() < SAME_LEVEL
        }
        _ => a == b,
    }
}

/// Where rows and stations stand in the file: lines of the one, columns of the other.
struct Places {
    rows: Vec<Option<usize>>,
    stations: Vec<Option<usize>>,
    /// Rows that were not there, and where they go.
    new: Vec<(RowKind, usize)>,
    next: usize,
    /// Lines of the file that have cells, and how many the longest has.
    lines: Vec<usize>,
    wide: usize,
    /// The line of names where stations run down, the column of names where they run across.
    names: usize,
    across: bool,
}

impl Places {
    fn of(text: &str, table: &Table, across: bool) -> Places {
        let records = offsets::cells(text);
        let place = |of_row: bool, line: usize, column: usize| if of_row == across { line } else { column };
        // A row without any entry is found by its name.
        let named = |name: &str| match across {
            true => records.iter().find(|r| r.1.first().is_some_and(|c| c == name)).map(|r| r.0),
            false => records.first().and_then(|r| r.1.iter().position(|c| c == name)).map(|i| i + 1),
        };
        let entered = |r: &Row| r.cells.iter().flatten().next().map(|c| place(true, c.line, c.column));
        let rows = table.rows.iter().map(|r| entered(r).or_else(|| named(&r.name))).collect();
        let of_station =
            |s: usize| table.rows.iter().find_map(|r| r.cells[s].as_ref()).map(|c| place(false, c.line, c.column));
        let stations = (0..table.stations.len()).map(of_station).collect();
        let wide = records.iter().map(|r| r.1.len()).max().unwrap_or(0);
        let next = if across { text.lines().count() } else { wide } + 1;
        let names = if across { 1 } else { records.first().map_or(1, |r| r.0) };
        let lines = records.iter().map(|r| r.0).collect();
        Places { rows, stations, new: Vec::new(), next, lines, wide, names, across }
    }

    /// Empty cells where rows are new, so that every line has as many as the others.
    fn filled_up(&self, cells: &mut Vec<(usize, usize, String)>) {
        let new = self.new.iter().map(|n| n.1);
        let (short, wide): (Vec<usize>, usize) = match self.across {
            true => (new.collect(), self.wide),
            false if self.new.is_empty() => return,
            false => (self.lines.clone(), self.wide + self.new.len()),
        };
        for line in short {
            if !cells.iter().any(|c| (c.0, c.1) == (line, wide)) {
                cells.push((line, wide, String::new()));
            }
        }
    }

    /// The place of a row that the table has not, its name put there the first time.
    fn new_row(&mut self, row: &RowKind, lengths: Notation, cells: &mut Vec<(usize, usize, String)>) -> usize {
        if let Some((_, place)) = self.new.iter().find(|n| same(&n.0, row)) {
            return *place;
        }
        let place = self.next;
        self.next += 1;
        self.new.push((row.clone(), place));
        let (line, column) = if self.across { (place, self.names) } else { (self.names, place) };
        cells.push((line, column, name(row, lengths)));
        place
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offsets::{Expected, read_table};
    use crate::plan_sheet::table;

    const LENGTHS: Expected<'_> =
        Expected { lengths: Notation::Mm, spacing: None, diagonals: &[], transom: false, bow_transom: false };

    fn entry(station: &str, row: RowKind, mm: f64) -> Entry {
        Entry { station: station.to_owned(), row, mm, within: 0.8, off_line: 0.0, times: 1 }
    }

    /// A row that stands in the table with nothing in it yet is filled, and not written a second time.
    #[test]
    fn a_row_without_entries_is_filled() {
        let across = "row,1,2,3,4\nat,0,600,1200,1800\nheight sheer,552,487,452,443\nhalf-breadth rabbet,,-,,\n\
                      half-breadth sheer,196,430,545,574\nhalf-breadth waterline 260,106,309,441,480\n";
        let down = "station,at,height sheer,half-breadth rabbet,half-breadth sheer,half-breadth waterline 260\n\
                    1,0,552,,196,106\n2,600,487,-,430,309\n3,1200,452,,545,441\n4,1800,443,,574,480\n";
        for text in [across, down] {
            let before = read_table(text, &LENGTHS).unwrap().0;
            let picked = [entry("2", RowKind::HalfBreadthRabbet, 15.0), entry("4", RowKind::HalfBreadthRabbet, 16.0)];
            let new = added(text, &before, &picked, Notation::Mm, false).unwrap();
            let after = read_table(&new.text, &LENGTHS).unwrap_or_else(|why| panic!("{why}\n{}", new.text)).0;
            let row = after.rows.iter().find(|r| r.kind == RowKind::HalfBreadthRabbet).unwrap();
            let found: Vec<Option<f64>> = row.cells.iter().map(|c| c.as_ref().map(|c| c.mm)).collect();
            assert_eq!(found, [None, Some(15.0), None, Some(16.0)]);
            assert_eq!((new.filled, after.rows.len()), (2, before.rows.len()));
        }
    }

    /// Whatever stations are called, the table is read back with as many, each with its name.
    #[test]
    fn names_of_stations_part_no_cells() {
        let names = ["a;b;c;d;e;f", "2, by the thwart", "\"3\"", "#4"];
        let stations: Vec<(String, f64)> =
            names.iter().zip(0..4).map(|(n, i)| ((*n).to_owned(), 500.0 * f64::from(i))).collect();
        let rows = [
            (RowKind::HeightSheer, 500.0),
            (RowKind::HalfBreadthSheer, 400.0),
            (RowKind::HalfBreadthWaterline(300.0), 350.0),
        ];
        let entries: Vec<Entry> =
            rows.iter().flat_map(|(row, mm)| names.iter().map(|n| entry(n, row.clone(), *mm))).collect();
        let made = table(&entries, &stations, Notation::Mm).unwrap();
        let read = read_table(&made.table, &LENGTHS).unwrap_or_else(|why| panic!("{why}\n{}", made.table)).0;
        assert_eq!(read.stations.iter().map(|s| s.name.as_str()).collect::<Vec<_>>(), names);
    }
}
