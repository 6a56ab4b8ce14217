//! `strakewise check`.

use super::{Faired, faired, say};
use crate::arguments::{self, Check};
use crate::said::{count, signed};
use crate::trouble::Trouble;
use crate::{files, output};
use boat::findings::Finding;
use boat::lines::fairness::{Fairness, View};
use boat::lines::{FairRow, Lines};
use boat::offsets::{Cell, Expected, StationAt, Table, TableError, TableProblem, read_table};
use boat::spec::{EndSpec, Spec};
use boat::units::Notation;
use std::path::Path;
use std::process::ExitCode;

/// Stations side by side on the screen.
const ABREAST: usize = 12;

/// Reads, fairs and shows.
pub fn run(check: &Check) -> Result<ExitCode, Trouble> {
    if check.which.boat.as_deref() == Some(Path::new("-")) {
        return table_alone(check);
    }
    if check.lengths.is_some() || check.spacing.is_some() {
        let why =
            "--lengths and --spacing go with a table on standard input (check -); a boat's are in her boat.toml";
        return Err(Trouble::Usage(why.to_owned()));
    }
    let Faired { input, lines, .. } = faired(&check.which)?;
    let (text, clean) = report(&input.spec, &input.table, &lines, &input.findings);
    output::result(text.as_bytes())?;
    Ok(if clean { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// The report, and whether there is nothing to look at.
fn report(spec: &Spec, table: &Table, lines: &Lines, findings: &[Finding]) -> (String, bool) {
    let lengths = spec.lengths;
    let by = spec.lines.fair_within_by.given().into_iter();
    let by =
        by.map(|(key, mm)| format!(", {} within {}", key.replace('_', "-"), lengths.said(mm))).collect::<String>();
    let mut text = format!(
        "{}: {} in {} at {}; faired within {}{by}.\n\n",
        spec.name,
        count(entries(table), "entry", "entries"),
        count(table.rows.len(), "row", "rows"),
        count(table.stations.len(), "station", "stations"),
        lengths.said(spec.lines.fair_within),
    );
    text.push_str(&format!("Corrections, fair less given, {}; ! marks a doubtful entry:\n\n", unit(lengths)));
    text.push_str(&corrections(table, &lines.fair, lengths));
    text.push_str(&fairness(&lines.fairness, lengths));

    let doubtful = doubtful(table, &lines.fair, lengths);
    text.push('\n');
    if !lines.weighed {
        text.push_str("The entries were not weighed one by one: see below.\n");
    } else if doubtful.is_empty() {
        text.push_str("No entry stands out. Slips of less than about 1/2 in (12 mm) may hide, and larger ones in the last entries of a line.\n");
    } else {
        text.push_str("Doubtful entries; look at the plan again:\n");
        doubtful.iter().for_each(|line| text.push_str(line));
        text.push_str("Settle each in boat.toml, as docs/boat-folder.md says: [[entries]] with row, station, take and reason.\n");
    }
    text.push_str(&unweighed(spec, table));
    let settled = table.settled(lengths);
    if !settled.is_empty() {
        text.push_str("\nSettled in boat.toml:\n");
        settled.iter().for_each(|line| text.push_str(&format!("{line}\n")));
    }
    let others: Vec<&Finding> = findings.iter().chain(&lines.findings).collect();
    if !others.is_empty() {
        text.push_str("\nTo look at:\n");
        others.iter().for_each(|f| text.push_str(&say::finding(f, lengths)));
    }
    // An entry to look at first is no fault of a table: some entry is always the oddest.
    let first = lines.fair.iter().flat_map(|row| &row.cells).flatten().filter(|f| f.look_first).count();
    (text, doubtful.is_empty() && others.len() == first)
}

/// The largest correction in each view, and the inflections of all lines.
fn fairness(fairness: &Fairness, lengths: Notation) -> String {
    let largest = fairness.moved.iter().filter(|(view, _)| *view != View::Body).filter_map(|(view, moved)| {
        let most = moved.largest.as_ref()?;
        let (row, station) = (&most.row, &most.station);
        Some(format!("{} {} ({row}, station {station})", view.word(), signed(lengths, most.change)))
    });
    let largest: Vec<String> = largest.collect();
    let mut text = String::new();
    if !largest.is_empty() {
        text.push_str(&format!("\nLargest corrections, {}: {}.\n", unit(lengths), largest.join("; ")));
    }
    let [before, after] = fairness.inflections();
    text.push_str(&format!("Inflections in all lines and sections: {before} before fairing, {after} after"));
    let lines = fairness.combs.iter().filter(|c| !c.after.is_empty()).map(|c| {
        let places: Vec<String> = c.after.iter().map(|s| s.place.words(lengths)).collect();
        format!("{} {}", c.line, places.join(", "))
    });
    let lines: Vec<String> = lines.collect();
    text.push_str(&if lines.is_empty() { ".\n".to_owned() } else { format!(": {}.\n", lines.join("; ")) });
    text
}

/// What is read from boat.toml and cannot be weighed against the table: read back, to be compared with the plan.
fn unweighed(spec: &Spec, table: &Table) -> String {
    let long = |mm: f64| spec.lengths.long(mm);
    let point = |p: &[f64; 2]| format!("{}, {}", long(p[0]), long(p[1]));
    let end = |end: &EndSpec, aft: bool| match end {
        EndSpec::Post(post) => {
            let (head, foot) = (&post.rabbet[0], &post.rabbet[post.rabbet.len() - 1]);
            format!("{} from {} down to {}", end.word(aft), point(head), point(foot))
        }
        EndSpec::Transom(t) => format!("{} from {} up to {}", end.word(aft), point(&t.foot), point(&t.head)),
    };
    let last = table.stations.iter().rev().find_map(|s| match s.at {
        StationAt::Square(x) => Some(format!("station {} stands {} aft of the first", s.name, long(x))),
        StationAt::Transom | StationAt::BowTransom => None,
    });
    format!(
        "Not weighed, compare them with the plan: {}; {}; {}.\n",
        last.unwrap_or_default(),
        end(&spec.fore, false),
        end(&spec.aft, true)
    )
}

fn unit(lengths: Notation) -> &'static str {
    match lengths {
        Notation::Mm => "mm",
        Notation::Inches | Notation::FeetInchesEighths => "inches",
    }
}

fn entries(table: &Table) -> usize {
    table.rows.iter().flat_map(|r| &r.cells).flatten().count()
}

fn corrections(table: &Table, fair: &[FairRow], lengths: Notation) -> String {
    let mut blocks = Vec::new();
    for first in (0..table.stations.len()).step_by(ABREAST) {
        let abreast = first..(first + ABREAST).min(table.stations.len());
        let mut rows = vec![vec!["station".to_owned()]];
        rows[0].extend(abreast.clone().map(|c| format!("{} ", table.stations[c].name)));
        for (row, fair) in table.rows.iter().zip(fair) {
            let mut line = vec![row.name.clone()];
            line.extend(abreast.clone().map(|c| match fair.cells.get(c) {
                Some(Some(cell)) => {
                    format!("{}{}", signed(lengths, cell.change), if cell.suspect { "!" } else { " " })
                }
                _ => "· ".to_owned(),
            }));
            rows.push(line);
        }
        blocks.push(say::columns(&rows));
    }
    blocks.join("\n")
}

fn doubtful(table: &Table, fair: &[FairRow], lengths: Notation) -> Vec<String> {
    let mut lines = Vec::new();
    for (row, fair) in table.rows.iter().zip(fair) {
        for ((station, cell), fair) in table.stations.iter().zip(&row.cells).zip(&fair.cells) {
            let (Some(Cell { text, line, column, .. }), Some(fair)) = (cell, fair) else { continue };
            if fair.suspect {
                lines.push(format!(
                    "{}, station {} (offsets.csv line {line}, cell {column}): the table says {text}, the fair skin {}{}\n",
                    row.name,
                    station.name,
                    lengths.long(fair.fair),
                    fair.likely()
                ));
            }
        }
    }
    lines
}

/// Trouble with a table without its boat: what boat.toml would say comes from the command line.
fn of_table_alone(error: TableError) -> Trouble {
    let why = match &error.problem {
        TableProblem::NoPositions => {
            "nothing says where the stations stand: give their spacing with --spacing, or a row \"at\" in the table"
                .to_owned()
        }
        TableProblem::PositionsDiffer { at, by_spacing } => {
            format!(
                "the row \"at\" says {at} but --spacing puts the station at {by_spacing}; leave one of the two out"
            )
        }
        _ => return Trouble::Table(error),
    };
    let place = |word: &str, at: Option<String>| at.map_or_else(String::new, |at| format!(", {word} {at}"));
    let (line, cell) = (error.line.map(|n| n.to_string()), error.column.map(|n| n.to_string()));
    let place = [place("line", line), place("cell", cell), place("station", error.station)].concat();
    Trouble::Usage(format!("standard input{place}: {why}"))
}

/// `check -`: a table without its boat.
fn table_alone(check: &Check) -> Result<ExitCode, Trouble> {
    let Some(lengths) = check.lengths else {
        let why =
            "check - needs --lengths mm, in or ft-in-8ths: what a bare number in the table means is never guessed";
        return Err(Trouble::Usage(why.to_owned()));
    };
    let lengths = lengths.notation();
    let spacing =
        check.spacing.as_deref().map(|s| arguments::spacing(s, lengths)).transpose().map_err(Trouble::Usage)?;
    let text = files::read_text(std::io::stdin().lock(), Path::new("standard input"))?;
    let expected = Expected { lengths, spacing, diagonals: &[], transom: true, bow_transom: false };
    let (table, findings) = read_table(&text, &expected).map_err(of_table_alone)?;
    let mut text = format!(
        "The table can be read: {} in {} at {}. It is not faired: that takes the stem and the after end, in boat.toml.\n",
        count(entries(&table), "entry", "entries"),
        count(table.rows.len(), "row", "rows"),
        count(table.stations.len(), "station", "stations"),
    );
    if !findings.is_empty() {
        text.push_str("\nTo look at:\n");
        findings.iter().for_each(|f| text.push_str(&say::finding(f, lengths)));
    }
    output::result(text.as_bytes())?;
    Ok(if findings.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}
