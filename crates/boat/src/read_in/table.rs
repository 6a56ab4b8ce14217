//! Offsets from a CSV file in the shapes that people keep them in.
//!
//! Stations across or down, one or two cells of names before the entries, headings for whole groups of rows, or one entry to
//! a line with its station, line and kind. What was recognised is told; what was not is named by line and cell. A bare number
//! whose unit nobody said is asked for, and never guessed.

use super::bare::{Bare, length, with_point};
use super::long;
use super::names::{Named, bare_level, group, named, station, units_spoken_of};
use super::problem::{Cells, ReadInError, ReadInProblem as Problem};
use super::sheet::{Cell, Sheet, in_csv};
use super::{Comma, TableIn};
use crate::offsets::{Expected, TableError, TableProblem, read_table};
use crate::units::{Form, Notation, read_length_as};
use crate::words::quoted;

/// What is said beside the file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Asked {
    /// What a bare number means, where the command line says it.
    pub bare: Option<Bare>,
    /// What a comma in a number means, where it could be either.
    pub comma: Option<Comma>,
    /// The spacing of the stations, mm, where the file has no distances.
    pub spacing: Option<f64>,
    /// The stations' distances aft of the first, mm, from forward; instead.
    pub at: Option<Vec<f64>>,
}

/// A file's entries, rows from names, whichever way it ran.
pub struct Shape {
    /// `stations across, rows down` and the like.
    pub said: String,
    /// Names of stations, as typed.
    pub stations: Vec<Cell>,
    /// Names of rows, and an entry for every station.
    pub rows: Vec<(Cell, Vec<Cell>)>,
    /// Titles and headings, which may speak of units.
    pub titles: Vec<String>,
    /// Cells that were passed over: line, cell, what.
    pub left_out: Vec<String>,
}

/// Cells that are no lengths are told so many at once, and stations in an example.
const MOST_TOLD: usize = 12;
/// No more cells are told when so many letters are told of them: what is quoted may be long.
const MOST_LETTERS: usize = 1200;

/// A table of offsets from the CSV file `text`; `source` is what to call it in the table.
///
/// # Errors
/// [`ReadInError`] with the line, the cell, what stands there and what to do.
pub fn table(text: &str, source: &str, asked: &Asked) -> Result<TableIn, ReadInError> {
    let sheet = Sheet::read(text)?;
    let mut shape = match long::shape(&sheet)? {
        Some(shape) => shape,
        None => crossed(&sheet)?,
    };
    let comma = decimal_comma(&shape, asked.comma)?;
    let commas = comma && shape.rows.iter().flat_map(|r| &r.1).any(|c| with_point(&c.text) != c.text);
    for cell in shape.rows.iter_mut().flat_map(|r| &mut r.1) {
        cell.text = if comma { with_point(&cell.text) } else { cell.text.replace(',', "") };
    }
    let (bare, bare_said) = unit(&shape, &sheet, asked.bare)?;
    let mut said = vec![format!(
        "{}; {} between cells{}{}",
        shape.said,
        sheet.between,
        if commas { ", decimal comma" } else { "" },
        if sheet.mark { ", byte order mark" } else { "" }
    )];
    said.push(bare_said);
    let lengths = bare.map_or_else(|| of_forms(&shape), Bare::notation);
    written(&mut shape, bare, comma, lengths, source, asked, said)
}

/// Whether commas in numbers are decimal ones. Three figures after each of them could be thousands.
fn decimal_comma(shape: &Shape, asked: Option<Comma>) -> Result<bool, ReadInError> {
    let cells = || shape.rows.iter().flat_map(|r| &r.1);
    let with = || cells().filter(|c| c.text.contains(',') && with_point(&c.text) != c.text);
    let Some(first) = with().next() else { return Ok(asked != Some(Comma::Thousands)) };
    if let Some(asked) = asked {
        return Ok(asked == Comma::Decimal);
    }
    let thousands = |c: &Cell| {
        let (before, after) = c.text.split_once(',').unwrap_or_default();
        let figures = after.chars().take_while(char::is_ascii_digit).count();
        figures == 3 && !before.trim_start_matches('-').starts_with('0')
    };
    if with().all(thousands) {
        return Err(Problem::Comma { found: first.text.clone() }.at(first.line, format!("cell {}", first.column)));
    }
    Ok(true)
}

fn bare_number(text: &str) -> bool {
    text.parse::<f64>().is_ok_and(|n| n.is_finite() && n != 0.0)
}

/// What bare numbers are, and how that was known.
fn unit(shape: &Shape, sheet: &Sheet, asked: Option<Bare>) -> Result<(Option<Bare>, String), ReadInError> {
    let mut spoken: Vec<Bare> = Vec::new();
    let names = shape.rows.iter().map(|r| r.0.text.as_str());
    for text in sheet.comments.iter().chain(&shape.titles).map(String::as_str).chain(names) {
        spoken.extend(units_spoken_of(text));
    }
    spoken.sort_by_key(|u| u.word());
    spoken.dedup();
    if let Some(asked) = asked {
        if let [one] = spoken[..]
            && one != asked
        {
            let (file, asked) = (one.word().to_owned(), asked.word().to_owned());
            return Err(Problem::UnitsDiffer { file, asked }.nowhere());
        }
        return Ok((Some(asked), format!("bare numbers are {}, as the command line says", asked.word())));
    }
    if let [one] = spoken[..] {
        return Ok((Some(one), format!("bare numbers are {}, as the file says", one.word())));
    }
    let entries = shape.rows.iter().flat_map(|r| &r.1).filter(|c| bare_number(&c.text));
    let levels = shape.rows.iter().map(|r| &r.0).filter(|n| bare_level(&n.text));
    let bare: Vec<&Cell> = entries.chain(levels).collect();
    let Some(first) = bare.first() else {
        return Ok((None, "every number has its unit".to_owned()));
    };
    if spoken.len() > 1 {
        let found = spoken.iter().map(|u| u.word()).collect::<Vec<_>>().join(" and ");
        return Err(Problem::Units { found }.nowhere());
    }
    let greatest = bare.iter().filter_map(|c| c.text.parse::<f64>().ok()).fold(0.0, f64::max);
    let come_to = |u: Bare| u.mm().map(|mm| format!("{:.2} m in {}", greatest * mm / 1000.0, u.word()));
    let all: Vec<String> = Bare::WORDS.iter().filter_map(|w| come_to(w.1)).collect();
    let hint = if greatest > 0.0 {
        format!(" (the greatest, {greatest}, would be {})", all.join(", "))
    } else {
        String::new()
    };
    let problem = Problem::NoUnit { count: bare.len(), first: first.text.clone(), hint };
    Err(problem.at(first.line, format!("cell {}", first.column)))
}

/// The notation of a file whose numbers all have their units.
fn of_forms(shape: &Shape) -> Notation {
    let cells = shape.rows.iter().flat_map(|r| &r.1);
    let forms: Vec<Form> = cells.filter_map(|c| read_length_as(&c.text, None).ok()).map(|r| r.form).collect();
    let count = |of: &[Form]| forms.iter().filter(|f| of.contains(f)).count();
    let (plan, inches, metric) = (count(&[Form::Plan]), count(&[Form::Inches, Form::Feet]), count(&[Form::Metric]));
    if plan > 0 && plan >= inches.max(metric) {
        Notation::FeetInchesEighths
    } else if inches > metric {
        Notation::Inches
    } else {
        Notation::Mm
    }
}

/// Stations across and rows down, or the other way.
fn crossed(sheet: &Sheet) -> Result<Shape, ReadInError> {
    let is_row = |c: &Cell| group(&c.text).is_some() || named(&c.text, Some(Bare::Mm), true) != Named::Unknown;
    let filled = |l: &[Cell]| l.iter().filter(|c| !c.text.is_empty()).count();
    let mut titles = Vec::new();
    let mut lines = sheet.lines.clone();
    // Titles over the table: one cell, and none that names a group.
    while let Some(first) = lines.first().filter(|l| filled(l) == 1 && !l.iter().any(|c| group(&c.text).is_some())) {
        titles.extend(first.iter().map(|c| c.text.clone()).filter(|t| !t.is_empty()));
        lines.remove(0);
    }
    let width = lines.first().map_or(0, Vec::len);
    if width < 2 || lines.len() < 2 {
        return Err(Problem::Shape { why: "fewer than two lines or two cells in a line".to_owned() }.nowhere());
    }
    let down = lines.iter().map(|l| l.iter().take(2).any(is_row)).filter(|r| *r).count();
    let across = (0..width).filter(|i| lines.iter().take(2).any(|l| is_row(&l[*i]))).count();
    if down == across {
        let why = format!(
            "rows such as height sheer or WL 300 are named {down} times down the first cells of the lines and {across} times along the \
             first lines"
        );
        return Err(Problem::Shape { why }.nowhere());
    }
    let (said, grid) = if down > across {
        ("stations across, rows down", lines)
    } else {
        let turned = (0..width).map(|i| lines.iter().map(|l| l[i].clone()).collect()).collect();
        ("stations down, rows across", turned)
    };
    named_grid(said, &grid, titles)
}

/// The grid with the names of its rows joined from one or two cells and from the headings over them.
fn named_grid(said: &str, grid: &[Vec<Cell>], mut titles: Vec<String>) -> Result<Shape, ReadInError> {
    let words =
        |c: &Cell| c.text.chars().any(char::is_alphabetic) && read_length_as(&c.text, Some(Notation::Mm)).is_err();
    let filled = |l: &Vec<Cell>| l.iter().filter(|c| !c.text.is_empty()).count();
    // A heading may stand over the stations: they are the first line that names several.
    let head = grid
        .iter()
        .position(|l| filled(l) > 3)
        .ok_or_else(|| Problem::Shape { why: "no line names four stations or more".to_owned() }.nowhere())?;
    let body = &grid[head + 1..];
    let second = body.iter().filter(|l| l.get(1).is_some_and(words)).count();
    let names = if 2 * second > body.len() { 2 } else { 1 };
    let stations: Vec<Cell> = grid[head].iter().skip(names).cloned().collect();
    let width = 1 + stations.iter().rposition(|c| !c.text.is_empty()).unwrap_or(0);
    let stations: Vec<Cell> = stations.into_iter().take(width).collect();
    titles.extend(grid[..=head].iter().flat_map(|l| l.iter().take(names)).map(|c| c.text.clone()));
    let mut over =
        grid[..=head].iter().flat_map(|l| l.iter().take(names)).rev().find_map(|c| group(&c.text)).unwrap_or("");
    let mut left_out = Vec::new();
    let mut rows = Vec::new();
    for line in body {
        let [first, second] = [0, 1].map(|i| line.get(i).filter(|_| i < names).map_or("", |c| c.text.as_str()));
        let entries: Vec<Cell> = line.iter().skip(names).take(width).cloned().collect();
        // A heading stands alone, or with the stations named again.
        let empty = entries.iter().all(|c| c.text.is_empty());
        let again = entries.iter().zip(&stations).all(|(a, b)| a.text == b.text)
            && (group(first).is_some() || first.is_empty());
        let alone = empty || again;
        if let Some(found) = group(first) {
            over = found;
        }
        if alone {
            titles.push(first.to_owned());
            continue;
        }
        let past = line.iter().skip(names + width).find(|c| !c.text.is_empty());
        left_out.extend(past.map(|c| {
            format!("line {}, cell {}: {} stands beside the last station", c.line, c.column, quoted(&c.text))
        }));
        let whole = [first, second].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join(" ");
        let known = |name: &str| named(name, Some(Bare::Mm), true) != Named::Unknown;
        let grouped = format!("{over} {}", if names == 2 && group(first).is_some() { second } else { &whole });
        let name = if known(&whole) || !known(&grouped) { whole } else { grouped };
        let at = line.first().cloned().unwrap_or_default();
        rows.push((Cell { text: name, ..at }, entries));
    }
    Ok(Shape { said: said.to_owned(), stations, rows, titles, left_out })
}

/// A row that is known.
struct Known {
    name: Cell,
    ours: String,
    entries: Vec<Cell>,
}

/// A cell's place as messages give it.
fn place(cell: &Cell, row: &str, station: &str) -> String {
    format!("line {}, cell {}, row {}, station {}", cell.line, cell.column, quoted(row), quoted(station))
}

fn blank(text: &str) -> bool {
    matches!(text, "" | "-" | "--" | "\u{2013}" | "\u{2014}" | "\u{2212}")
}

/// Takes out the columns of ends that are no stations, and tells of them.
fn take_out_ends(shape: &mut Shape, names: &mut Vec<String>, left_out: &mut Vec<String>) {
    let ends: Vec<usize> =
        (0..names.len()).filter(|&i| ["stem", "sternpost"].contains(&names[i].to_lowercase().as_str())).collect();
    for &i in ends.iter().rev() {
        let (name, cell) = (names.remove(i), shape.stations.remove(i));
        left_out.push(format!(
            "line {}, cell {}: the column {} is an end and no station; its rabbet goes into boat.toml",
            cell.line,
            cell.column,
            quoted(&name)
        ));
        for row in &mut shape.rows {
            if i < row.1.len() {
                row.1.remove(i);
            }
        }
    }
}

/// A file's rows by what they are.
#[derive(Default)]
struct Rows {
    known: Vec<Known>,
    /// The stations' distances.
    at: Option<Vec<Cell>>,
    /// Rows that are not known, as comments of the table.
    notes: Vec<String>,
}

/// Parts the rows that are known from those that are not, which are told.
fn sorted(
    rows: impl Iterator<Item = (Cell, Vec<Cell>)>,
    bare: Option<Bare>,
    comma: bool,
    left_out: &mut Vec<String>,
) -> Result<Rows, ReadInError> {
    let mut found = Rows::default();
    for (name, entries) in rows {
        match named(&name.text, bare, comma) {
            Named::At if found.at.is_none() => found.at = Some(entries),
            Named::At => {
                let first = found.at.as_ref().and_then(|a| a.first()).map_or(0, |c| c.line);
                return Err(Problem::Twice { first }.at(name.line, "distances"));
            }
            Named::Row(_, ours) => found.known.push(Known { ours, entries, name }),
            other => {
                let why = match other {
                    Named::Diagonal => {
                        "a diagonal: say in boat.toml where it stands, then take the mark before its row away"
                    }
                    _ => "not understood; docs/read-in.md lists the names of rows",
                };
                left_out.push(format!("line {}, row {}: {why}", name.line, quoted(&name.text)));
                // In the table's unit, as it is to be taken up again.
                let typed = |c: &Cell| length(&c.text, bare).map_or_else(|_| c.text.clone(), |l| l.text);
                let typed = entries.iter().map(typed).collect::<Vec<_>>().join(",");
                found.notes.push(format!("# left out: {},{typed}", name.text));
            }
        }
    }
    if found.known.is_empty() {
        return Err(Problem::Shape { why: "none of its rows is known".to_owned() }.nowhere());
    }
    Ok(found)
}

/// The table written as a boat's folder keeps it, and read back.
fn written(
    shape: &mut Shape,
    bare: Option<Bare>,
    comma: bool,
    lengths: Notation,
    source: &str,
    asked: &Asked,
    mut said: Vec<String>,
) -> Result<TableIn, ReadInError> {
    let mut left_out = std::mem::take(&mut shape.left_out);
    let mut names: Vec<String> = shape.stations.iter().map(|c| station(&c.text)).collect();
    take_out_ends(shape, &mut names, &mut left_out);
    let Rows { known, at, notes } = sorted(shape.rows.drain(..), bare, comma, &mut left_out)?;
    let mut bad: Vec<String> = Vec::new();
    let positions = positions(&names, at.as_deref(), asked, bare, &mut said, &mut bad)?;
    let mut lines = vec![("row".to_owned(), names.clone()), ("at".to_owned(), positions)];
    for row in &known {
        let cells = row.entries.iter().zip(&names).map(|(cell, station)| {
            if blank(&cell.text) {
                return String::new();
            }
            length(&cell.text, bare).map_or_else(
                |why| {
                    bad.push(format!("{}: {why}", place(cell, &row.name.text, station)));
                    String::new()
                },
                |l| l.text,
            )
        });
        lines.push((row.ours.clone(), cells.collect()));
    }
    if !bad.is_empty() {
        let mut letters = 0;
        let told = bad.iter().take(MOST_TOLD).take_while(|b| {
            let room = letters < MOST_LETTERS;
            letters += b.chars().count();
            room
        });
        let told = told.count();
        let more = bad.len() - told;
        bad.truncate(told);
        return Err(Problem::Cells(Cells { first: bad, more }).nowhere());
    }
    let mut text = format!("# Read in from {} by strakewise read-in.\n", source.replace(['\n', '\r'], " "));
    notes.iter().for_each(|n| text.push_str(&format!("{}\n", n.replace(['\n', '\r'], " "))));
    let comments = notes.len() + 1;
    for (name, cells) in &lines {
        let cells: Vec<String> = cells.iter().map(|c| in_csv(&no_comment(c))).collect();
        text.push_str(&format!("{},{}\n", in_csv(name), cells.join(",")));
    }
    let [transom, bow_transom] = ["transom", "bow transom"].map(|t| names.iter().any(|n| n.to_lowercase() == t));
    let expected = Expected { lengths, spacing: None, diagonals: &[], transom, bow_transom };
    // Two lines, of names and of distances, stand over the rows.
    let row_on = |line: usize| line.checked_sub(comments + 3).and_then(|i| known.get(i));
    let (table, findings) = read_table(&text, &expected).map_err(|why| in_the_file(why, row_on))?;
    let entries = table.rows.iter().flat_map(|r| &r.cells).flatten().count();
    let square = names.iter().filter(|n| !is_transom(n)).count();
    said.push(format!(
        "{square} stations{}, {} rows, {entries} entries",
        if transom || bow_transom { " and a transom" } else { "" },
        table.rows.len()
    ));
    left_out.extend(findings.iter().map(|f| format!("{}: {}", f.place, f.hint)));
    Ok(TableIn { table: text, lengths, transom, bow_transom, said, look_at: left_out })
}

fn is_transom(name: &str) -> bool {
    ["transom", "bow transom"].contains(&name.to_lowercase().as_str())
}

/// Trouble with the table that was written, told by where it stands in the file that was read; `row_on` gives the row that was
/// written on a line.
fn in_the_file<'a>(why: TableError, row_on: impl Fn(usize) -> Option<&'a Known>) -> ReadInError {
    let row = why.line.and_then(&row_on);
    let cell = row.and_then(|r| why.column.and_then(|c| c.checked_sub(2)).and_then(|c| r.entries.get(c)));
    let named = row.map(|r| format!("row {}", quoted(&r.name.text)));
    let station = why.station.as_ref().map(|s| format!("station {}", quoted(s)));
    ReadInError {
        line: cell.map(|c| c.line).or(row.map(|r| r.name.line)),
        cell: cell.map(|c| c.column),
        at: Some([named, station].into_iter().flatten().collect::<Vec<_>>().join(", ")).filter(|t| !t.is_empty()),
        problem: Box::new(match why.problem {
            TableProblem::SameRow { first_line, .. } => {
                Problem::Twice { first: row_on(first_line).map_or(first_line, |r| r.name.line) }
            }
            other => Problem::Table(other),
        }),
    }
}

/// A name that would be taken for a comment, as `#3` where stations stand one under another, with a word for that sign.
fn no_comment(text: &str) -> String {
    text.strip_prefix('#').map_or_else(|| text.to_owned(), |rest| format!("no. {rest}"))
}

/// Cells of the row `at`: from the file, from the command line, or from the spacing; the first is 0.
fn positions(
    names: &[String],
    at: Option<&[Cell]>,
    asked: &Asked,
    bare: Option<Bare>,
    said: &mut Vec<String>,
    bad: &mut Vec<String>,
) -> Result<Vec<String>, ReadInError> {
    let square: Vec<bool> = names.iter().map(|n| !is_transom(n)).collect();
    let count = square.iter().filter(|s| **s).count();
    let mut found: Vec<Option<(f64, String)>> = Vec::with_capacity(names.len());
    let given = asked.at.clone().or_else(|| asked.spacing.map(|s| (0..count).map(|i| s * i as f64).collect()));
    if let Some(given) = given.filter(|_| at.is_none()) {
        if given.len() != count {
            let why =
                format!("--at gives {} distances and the file has {count} stations; give one for each", given.len());
            return Err(Problem::Shape { why }.nowhere());
        }
        let mut each = given.into_iter();
        found.extend(square.iter().map(|s| {
            s.then(|| each.next().unwrap_or(0.0)).map(|mm| (mm, format!("{} mm", super::bare::decimal(mm))))
        }));
    } else if let Some(cells) = at {
        for ((cell, name), square) in cells.iter().zip(names).zip(&square) {
            if !square || blank(&cell.text) {
                found.push(None);
                continue;
            }
            match length(&cell.text, bare) {
                Ok(l) => found.push(Some((l.mm, l.text))),
                Err(why) => {
                    bad.push(format!("{}: {why}", place(cell, "at", name)));
                    found.push(None);
                }
            }
        }
    } else {
        let shown = count.min(MOST_TOLD);
        let example = (0..shown).map(|i| (500 * i).to_string()).collect::<Vec<_>>().join(",");
        let more = if shown < count { format!(" and so on, {count} in all") } else { String::new() };
        return Err(Problem::NoPositions { example: format!("\"{example}\"{more}") }.nowhere());
    }
    let first = found.iter().flatten().next().map_or(0.0, |f| f.0);
    let mut before = f64::MIN;
    for (f, name) in found.iter().zip(names) {
        let Some((mm, _)) = f else { continue };
        if *mm <= before {
            return Err(Problem::Order { name: name.clone(), mm: *mm }.nowhere());
        }
        before = *mm;
    }
    if first.abs() > 0.5 {
        said.push(format!(
            "the first station stood at {} mm: distances are taken from it instead",
            super::bare::decimal(first)
        ));
        for f in found.iter_mut().flatten() {
            f.1 = format!("{} mm", super::bare::decimal(f.0 - first));
        }
    }
    Ok(found.into_iter().map(|f| f.map_or_else(String::new, |f| f.1)).collect())
}
