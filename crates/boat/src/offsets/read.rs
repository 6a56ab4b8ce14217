//! Reading a table.
//!
//! Plans print tables with the stations across or down; both are read, and told apart by where the names of rows
//! stand. Everything that can be checked without fairing is checked here, so that the stages after can rely on it:
//!
//! - 4 or more square stations from forward aft, the first at 0; the transom, if any, last;
//! - at every station a sheer (height above the rabbet, and half-breadth) and 3 or more points in all;
//! - no two rows that measure the same; every number finite and within the limits below.
//!
//! What can be read but looks odd comes back as findings.

use super::check;
use super::names::{NAMES, NameError, RowName, row_name};
use super::problem::{TableError, TableProblem as Problem};
use super::sheet::{Record, records};
use super::{Cell, Row, RowKind, Station, StationAt, Table};
use crate::findings::Finding;
use crate::spec::Diagonal;
use crate::units::{Form, Notation, read_length, read_length_as};
use crate::words::nearest;

/// Longest boat, mm, from the first station to the last.
pub const LONGEST_BOAT: f64 = 30_000.0;
/// Lowest and highest height, mm from the base line.
pub const HEIGHTS: [f64; 2] = [-3000.0, 6000.0];
/// Greatest half-breadth or distance along a diagonal, mm.
pub const WIDEST: f64 = 5000.0;
/// Stations nearer than this are one station, mm.
const LEAST_SPACING: f64 = 20.0;
/// Levels nearer than this are one level, mm.
const SAME_LEVEL: f64 = 0.5;
/// Positions by the row `at` and by the spacing may differ by this, mm: the rounding of a plan.
const SAME_POSITION: f64 = 1.0;
/// The first station may be off nought by this, mm: half a millimetre of a plan's rounding.
const AT_NOUGHT: f64 = 0.5;
/// Least square stations.
const LEAST_STATIONS: usize = 4;
/// Most stations, rows, and entries. Fairing solves for all entries at once, and its time grows as their cube.
const MOST_STATIONS: usize = 60;
const MOST_ROWS: usize = 40;
const MOST_ENTRIES: usize = 1200;
/// Letters in a station's name.
const MOST_LETTERS: usize = 24;

/// What `boat.toml` says that a table is read by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected<'a> {
    /// What a bare number is.
    pub lengths: Notation,
    /// Spacing of the stations, mm, where boat.toml gives it.
    pub spacing: Option<f64>,
    /// The diagonals that rows may refer to.
    pub diagonals: &'a [Diagonal],
    /// Whether the after end is a transom.
    pub transom: bool,
    /// Whether the fore end is one.
    pub bow_transom: bool,
}

/// A name or an entry and where it stands.
#[derive(Debug, Clone)]
struct Typed {
    text: String,
    line: usize,
    column: usize,
}

/// The table turned so that `cells` runs row by row, whichever way it was typed.
struct Grid {
    rows: Vec<Typed>,
    stations: Vec<Typed>,
    cells: Vec<Vec<Typed>>,
}

/// Reads a table of offsets.
///
/// # Errors
/// [`TableError`] with the first trouble found, its place, the value, the limit and what to do.
pub fn read_table(text: &str, expected: &Expected<'_>) -> Result<(Table, Vec<Finding>), TableError> {
    let grid = grid(text, expected)?;
    stations_are_named(&grid, expected)?;

    let mut at_row = None;
    let mut kinds: Vec<(usize, RowKind)> = Vec::new();
    for (r, name) in grid.rows.iter().enumerate() {
        let named = row_name(&name.text, expected.lengths, expected.diagonals)
            .map_err(|e| at_row_name(name, name_problem(&name.text, e, expected)))?;
        let twin = match &named {
            RowName::At => at_row.replace(r),
            RowName::Offsets(kind) => {
                level_in_range(kind, expected.lengths).map_err(|p| at_row_name(name, p))?;
                let twin = kinds.iter().find(|(_, other)| same(kind, other)).map(|(r, _)| *r);
                kinds.push((r, kind.clone()));
                twin
            }
        };
        if let Some(twin) = twin {
            let (first, first_line) = (grid.rows[twin].text.clone(), grid.rows[twin].line);
            return Err(at_row_name(name, Problem::SameRow { first, first_line }));
        }
    }

    let stations = positions(&grid, at_row, expected)?;
    let mut other_forms = Vec::new();
    // Where each row stands in the grid: the row `at` is none of the table's.
    let typed_as: Vec<usize> = kinds.iter().map(|(r, _)| *r).collect();
    let mut rows = Vec::with_capacity(kinds.len());
    for (r, kind) in kinds {
        let mut cells = Vec::with_capacity(stations.len());
        for (c, typed) in grid.cells[r].iter().enumerate() {
            let place = |problem| grid.at(r, c, problem);
            cells.push(match is_blank(&typed.text) {
                true => None,
                false => {
                    let (mm, form) = entry(&typed.text, &kind, expected.lengths).map_err(place)?;
                    if !usual(form, expected.lengths) {
                        other_forms.push(format!("{}, station {}", grid.rows[r].text, grid.stations[c].text));
                    }
                    Some(Cell { mm, text: typed.text.clone(), line: typed.line, column: typed.column, settled: None })
                }
            });
        }
        rows.push(Row { name: grid.rows[r].text.clone(), kind, cells });
    }
    let entries = rows.iter().flat_map(|r| &r.cells).flatten().count();
    if entries > MOST_ENTRIES {
        return Err(nowhere(Problem::TooMany { what: "entries", found: entries, most: MOST_ENTRIES }));
    }

    let table = Table { stations, rows };
    check::stations(&table, expected.lengths).map_err(|unfit| match unfit.row.map(|r| typed_as[r]) {
        Some(row) => grid.at(row, unfit.station, unfit.problem),
        None => grid.at_station(unfit.station, unfit.problem),
    })?;
    let findings = check::findings(&table, expected.lengths, &other_forms);
    Ok((table, findings))
}

/// An empty cell, or one with the dash that plans print for nothing.
fn is_blank(text: &str) -> bool {
    matches!(text, "" | "-" | "--" | "\u{2013}" | "\u{2014}" | "\u{2212}")
}

/// Whether `form` is to be expected where `lengths` are declared; anything else is read, and mentioned.
fn usual(form: Form, lengths: Notation) -> bool {
    match lengths {
        Notation::Mm => matches!(form, Form::Bare | Form::Metric),
        Notation::Inches => matches!(form, Form::Bare | Form::Inches | Form::Feet),
        Notation::FeetInchesEighths => matches!(form, Form::Bare | Form::Plan),
    }
}

fn same(a: &RowKind, b: &RowKind) -> bool {
    use RowKind::{HalfBreadthWaterline, HeightButtock};
    match (a, b) {
        (HeightButtock(a), HeightButtock(b)) | (HalfBreadthWaterline(a), HalfBreadthWaterline(b)) => {
            (a - b).abs() < SAME_LEVEL
        }
        (a, b) => a == b,
    }
}

fn level_in_range(kind: &RowKind, lengths: Notation) -> Result<(), Problem> {
    let (level, [least, most]) = match kind {
        RowKind::HeightButtock(y) => (*y, [SAME_LEVEL, WIDEST]),
        RowKind::HalfBreadthWaterline(z) => (*z, HEIGHTS),
        _ => return Ok(()),
    };
    if (least..=most).contains(&level) {
        return Ok(());
    }
    let [value, least, most] = [level, least, most].map(|mm| lengths.said(mm));
    Err(Problem::LevelRange { value, least, most })
}

fn entry(text: &str, kind: &RowKind, lengths: Notation) -> Result<(f64, Form), Problem> {
    let reading = read_length_as(text, Some(lengths)).map_err(Problem::Cell)?;
    if !kind.is_height() && reading.mm < 0.0 {
        return Err(Problem::Negative { value: text.to_owned() });
    }
    let [least, most] = kind.range();
    if (least..=most).contains(&reading.mm) {
        return Ok((reading.mm, reading.form));
    }
    let [least, most] = [least, most].map(|mm| lengths.said(mm));
    Err(Problem::Range { value: text.to_owned(), least, most })
}

/// Finds which way the table runs and turns it.
fn grid(text: &str, expected: &Expected<'_>) -> Result<Grid, TableError> {
    let records = records(text).map_err(|open| TableError {
        line: Some(open.line),
        column: Some(open.column),
        ..nowhere(Problem::OpenQuote)
    })?;
    let Some((header, body)) = records.split_first() else { return Err(nowhere(Problem::Empty)) };
    if body.is_empty() {
        return Err(nowhere(Problem::Empty));
    }
    let width = 1 + header.cells.iter().rposition(|c| !c.is_empty()).unwrap_or(0);
    for record in body {
        // Empty cells past the last name are what spreadsheets leave; short lines may have lost a cell anywhere.
        if record.cells.len() < width || !record.empty_from(width) {
            let found = record.cells.len();
            let problem = Problem::Ragged { found, wanted: width };
            return Err(TableError { line: Some(record.line), ..nowhere(problem) });
        }
    }
    let is_row = |text: &&str| {
        !matches!(row_name(text, expected.lengths, expected.diagonals), Err(NameError::Unknown)) && !text.is_empty()
    };
    let along = || header.cells.iter().take(width).skip(1).map(String::as_str);
    let down = || body.iter().filter_map(|r| r.cells.first()).map(String::as_str);
    let typed = |record: &Record, i: usize| Typed {
        text: record.cells.get(i).cloned().unwrap_or_default(),
        line: record.line,
        column: i + 1,
    };
    let names_along: Vec<Typed> = (1..width).map(|i| typed(header, i)).collect();
    let names_down: Vec<Typed> = body.iter().map(|r| typed(r, 0)).collect();
    let by_line: Vec<Vec<Typed>> = body.iter().map(|r| (1..width).map(|i| typed(r, i)).collect()).collect();
    let grid = match (along().find(is_row), down().find(is_row)) {
        (None, Some(_)) => Grid { rows: names_down, stations: names_along, cells: by_line },
        (Some(_), None) => {
            let cells = (0..names_along.len()).map(|i| by_line.iter().map(|l| l[i].clone()).collect()).collect();
            Grid { rows: names_along, stations: names_down, cells }
        }
        (Some(across), Some(down)) => {
            let (across, down) = (across.to_owned(), down.to_owned());
            return Err(TableError { line: Some(header.line), ..nowhere(Problem::BothWays { across, down }) });
        }
        (None, None) => {
            let found = along().chain(down()).max_by_key(|name| name.len()).unwrap_or_default();
            let (found, nearest) = (found.to_owned(), nearest(found, NAMES).map(str::to_owned));
            let problem = Problem::NoWay { found, nearest, known: NAMES.join(", ") };
            return Err(TableError { line: Some(header.line), ..nowhere(problem) });
        }
    };
    for (what, found, most) in
        [("stations", grid.stations.len(), MOST_STATIONS), ("rows", grid.rows.len(), MOST_ROWS)]
    {
        if found > most {
            return Err(nowhere(Problem::TooMany { what, found, most }));
        }
    }
    Ok(grid)
}

impl Grid {
    /// Trouble with an entry.
    fn at(&self, row: usize, station: usize, problem: Problem) -> TableError {
        let cell = &self.cells[row][station];
        TableError {
            line: Some(cell.line),
            column: Some(cell.column),
            row: Some(self.rows[row].text.clone()),
            station: Some(self.stations[station].text.clone()),
            problem,
        }
    }

    /// Trouble with a station.
    fn at_station(&self, station: usize, problem: Problem) -> TableError {
        let name = &self.stations[station];
        let station = Some(name.text.clone()).filter(|t| !t.is_empty());
        TableError { line: Some(name.line), column: Some(name.column), row: None, station, problem }
    }
}

fn nowhere(problem: Problem) -> TableError {
    TableError { line: None, column: None, row: None, station: None, problem }
}

fn at_row_name(name: &Typed, problem: Problem) -> TableError {
    let row = Some(name.text.clone()).filter(|t| !t.is_empty());
    TableError { line: Some(name.line), column: Some(name.column), row, ..nowhere(problem) }
}

fn name_problem(typed: &str, error: NameError, expected: &Expected<'_>) -> Problem {
    match error {
        NameError::Unknown => Problem::UnknownRow {
            found: typed.to_owned(),
            nearest: nearest(typed, NAMES).map(str::to_owned),
            known: NAMES.join(", "),
        },
        NameError::Level(e) => Problem::Level(e),
        NameError::NoDiagonal(found) => {
            let known: Vec<&str> = expected.diagonals.iter().map(|d| d.name.as_str()).collect();
            let known = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
            Problem::NoDiagonal { found, known }
        }
    }
}

fn is_transom(name: &str) -> bool {
    name.eq_ignore_ascii_case("transom")
}

fn is_bow_transom(name: &str) -> bool {
    name.eq_ignore_ascii_case("bow transom")
}

fn stations_are_named(grid: &Grid, expected: &Expected<'_>) -> Result<(), TableError> {
    let mut seen: Vec<String> = Vec::new();
    for (c, station) in grid.stations.iter().enumerate() {
        let name = station.text.to_lowercase();
        let letters = name.chars().count();
        let problem = if name.is_empty() {
            Problem::NoStationName
        } else if letters > MOST_LETTERS {
            Problem::LongName { found: letters, most: MOST_LETTERS }
        } else if seen.contains(&name) {
            Problem::SameStation { name: station.text.clone() }
        } else if matches!(name.as_str(), "stem" | "sternpost") {
            Problem::EndAsStation { name: station.text.clone() }
        } else if is_transom(&name) && !expected.transom {
            Problem::NoTransom
        } else if is_transom(&name) && c + 1 != grid.stations.len() {
            Problem::TransomNotLast
        } else if is_bow_transom(&name) && !expected.bow_transom {
            Problem::NoBowTransom
        } else if is_bow_transom(&name) && c > 0 {
            Problem::BowTransomNotFirst
        } else {
            seen.push(name);
            continue;
        };
        return Err(grid.at_station(c, problem));
    }
    let square = grid.stations.iter().filter(|s| !is_transom(&s.text) && !is_bow_transom(&s.text)).count();
    if square < LEAST_STATIONS {
        return Err(nowhere(Problem::TooFewStations { found: square, least: LEAST_STATIONS }));
    }
    Ok(())
}

/// Where the stations stand: by the row `at`, by the spacing, or by both where they agree.
fn positions(grid: &Grid, at_row: Option<usize>, expected: &Expected<'_>) -> Result<Vec<Station>, TableError> {
    let said = |mm: f64| expected.lengths.said(mm);
    let mut stations: Vec<Station> = Vec::with_capacity(grid.stations.len());
    let mut before: Option<(&str, f64)> = None;
    for (c, station) in grid.stations.iter().enumerate() {
        let given = at_row.map(|r| (r, grid.cells[r][c].text.as_str())).filter(|(_, text)| !is_blank(text));
        let (aft, bow) = (is_transom(&station.text), is_bow_transom(&station.text));
        if aft || bow {
            if let Some((r, value)) = given {
                return Err(grid.at(r, c, Problem::TransomPosition { value: value.to_owned() }));
            }
            let at = if aft { StationAt::Transom } else { StationAt::BowTransom };
            stations.push(Station { name: station.text.to_lowercase(), at });
            continue;
        }
        let here = |problem| match at_row {
            Some(r) => grid.at(r, c, problem),
            None => grid.at_station(c, problem),
        };
        // The column of a bow transom, before them all, is no step of the spacing.
        let nth = stations.iter().filter(|s| matches!(s.at, StationAt::Square(_))).count();
        let by_spacing = expected.spacing.map(|s| s * nth as f64);
        let x = match (given, by_spacing) {
            (Some((_, text)), by_spacing) => {
                let x = read_length(text, Some(expected.lengths)).map_err(|e| here(Problem::Cell(e)))?;
                if let Some(by_spacing) = by_spacing.filter(|s| (s - x).abs() > SAME_POSITION) {
                    let (at, by_spacing) = (said(x), said(by_spacing));
                    return Err(here(Problem::PositionsDiffer { at, by_spacing }));
                }
                x
            }
            (None, _) if at_row.is_some() => return Err(here(Problem::NoPosition)),
            (None, Some(x)) => x,
            (None, None) => return Err(nowhere(Problem::NoPositions)),
        };
        match before {
            None if x.abs() > AT_NOUGHT => return Err(here(Problem::FirstNotZero { value: said(x) })),
            Some((name, last)) if x < last + LEAST_SPACING => {
                return Err(here(Problem::StationsOrder {
                    value: said(x),
                    before: name.to_owned(),
                    before_at: said(last),
                    least: said(LEAST_SPACING),
                }));
            }
            _ => {}
        }
        if x > LONGEST_BOAT {
            let [value, least, most] = [x, 0.0, LONGEST_BOAT].map(said);
            return Err(here(Problem::Range { value, least, most }));
        }
        before = Some((&station.text, x));
        stations.push(Station { name: station.text.clone(), at: StationAt::Square(x) });
    }
    Ok(stations)
}
