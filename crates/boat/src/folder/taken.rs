//! taken.csv: points taken off a standing hull.

use super::columns::{Column, List, ListError, ListProblem};
use crate::offsets::sheet::Record;
use crate::taken_off::{LEAST_ANGLE, On, Part, Point, Section, TapesError, by_two_tapes};
use crate::units::Notation;

const fn length(name: &'static str) -> Column {
    Column { name, required: false, length: true }
}

const COLUMNS: [Column; 15] = [
    Column { name: "station", required: true, length: false },
    Column { name: "at", required: true, length: true },
    Column { name: "mark", required: true, length: false },
    Column { name: "on", required: false, length: false },
    length("out"),
    length("in"),
    length("straightedge"),
    length("up"),
    length("from_inner"),
    length("from_outer"),
    length("inner_out"),
    length("inner_up"),
    length("outer_out"),
    length("outer_up"),
    Column { name: "notes", required: false, length: false },
];

/// What is read, mm.
const AT: [f64; 2] = [-5000.0, 35_000.0];
const OUT: [f64; 2] = [0.0, 5000.0];
const UP: [f64; 2] = [-3000.0, 6000.0];
const TAPE: [f64; 2] = [1.0, 10_000.0];
/// Nails may stand beyond the centreline.
const NAIL: [f64; 2] = [-10_000.0, 10_000.0];

/// Set up once at a station and not written again: the half-breadth of the straightedge, and the nails' places.
#[derive(Clone, Default)]
struct SetUp {
    station: String,
    straightedge: Option<f64>,
    nails: [Option<f64>; 4],
}

/// Reads taken.csv: the points of each station and end, in the order of the file. `on` holds where the column does not say;
/// rabbet and sheer are always on the surface.
///
/// # Errors
/// The first cell that cannot be read.
pub fn read_taken(text: &str, lengths: Notation, on: On) -> Result<Vec<Section>, ListError> {
    let list = List::read("taken.csv", &COLUMNS, text)?;
    let mut sections: Vec<Section> = Vec::new();
    let mut set_up = SetUp::default();
    for record in &list.lines {
        let name = list.text(record, "station")?.to_owned();
        if set_up.station != name {
            set_up = SetUp { station: name.clone(), ..SetUp::default() };
        }
        note(&list, record, lengths, &mut set_up)?;
        let mark = list.text(record, "mark")?.to_lowercase();
        let plain = name.to_lowercase().replace(['_', '-'], " ");
        let part = Part::WORDS.iter().find(|w| w.0 == plain).map_or(Part::Station, |w| w.1);
        let point = Point {
            line: record.line,
            on: if ["rabbet", "sheer"].contains(&mark.as_str()) { On::Surface } else { taken_on(&list, record, on)? },
            at: list.length(record, "at", lengths, AT)?,
            place: place(&list, record, lengths, &set_up)?,
            mark,
        };
        // She has one stem, however it is spelt.
        let same = |s: &Section| s.name == name || part != Part::Station && s.part == part;
        let at = sections.iter().position(same).unwrap_or(sections.len());
        if at == sections.len() {
            sections.push(Section { name, part, points: Vec::new() });
        }
        let points = &mut sections[at].points;
        if let Some(first) =
            points.iter().find(|p| p.mark == point.mark && !matches!(part, Part::Stem | Part::Sternpost))
        {
            let problem =
                ListProblem::Twice { what: format!("mark {} of this station", point.mark), first: first.line };
            return Err(list.trouble(record, "mark", problem));
        }
        points.push(point);
    }
    Ok(sections)
}

fn taken_on(list: &List, record: &Record, otherwise: On) -> Result<On, ListError> {
    let found = list.text(record, "on")?;
    if found.is_empty() {
        return Ok(otherwise);
    }
    On::WORDS
        .iter()
        .find(|w| w.0 == found)
        .map(|w| w.1)
        .ok_or_else(|| list.trouble(record, "on", ListProblem::TakenOn { found: found.to_owned() }))
}

/// Takes the straightedge's and the nails' places of a line, if it says any.
fn note(list: &List, record: &Record, lengths: Notation, set_up: &mut SetUp) -> Result<(), ListError> {
    if let Some(mm) = list.length_if_there(record, "straightedge", lengths, OUT)? {
        set_up.straightedge = Some(mm);
    }
    for (name, nail) in NAILS.into_iter().zip(&mut set_up.nails) {
        if let Some(mm) = list.length_if_there(record, name, lengths, NAIL)? {
            *nail = Some(mm);
        }
    }
    Ok(())
}

const NAILS: [&str; 4] = ["inner_out", "inner_up", "outer_out", "outer_up"];

/// Out and up of a point, whichever way it was measured.
fn place(list: &List, record: &Record, lengths: Notation, set_up: &SetUp) -> Result<[f64; 2], ListError> {
    let filled = |name: &str| list.text(record, name).map(|t| !t.is_empty());
    let (out, inward, up) = (filled("out")?, filled("in")?, filled("up")?);
    let (from_inner, from_outer) = (filled("from_inner")?, filled("from_outer")?);
    // One way, whole.
    let stray = |name: &str, kind| -> Result<ListError, ListError> {
        let found = list.text(record, name)?.to_owned();
        Ok(list.trouble(record, name, ListProblem::Stray { found, kind }))
    };
    if from_inner || from_outer {
        for (name, there) in [("out", out), ("in", inward), ("up", up)] {
            if there {
                return Err(stray(name, "point taken by two tapes")?);
            }
        }
        return two_tapes(list, record, lengths, set_up);
    }
    if out && inward {
        return Err(stray("in", "point measured out from the centreline")?);
    }
    if !out && !inward {
        return Err(list.trouble(record, "out", ListProblem::NoPlace));
    }
    let z = list.length(record, "up", lengths, UP)?;
    if out {
        return Ok([list.length(record, "out", lengths, OUT)?, z]);
    }
    let mm = list.length(record, "in", lengths, OUT)?;
    let Some(edge) = set_up.straightedge else {
        return Err(list.trouble(record, "straightedge", ListProblem::EmptyCell));
    };
    if mm > edge {
        let found = list.text(record, "in")?.to_owned();
        let range = super::range_said(lengths, [0.0, edge]);
        return Err(list.trouble(record, "in", ListProblem::Range { found, range }));
    }
    Ok([edge - mm, z])
}

fn two_tapes(list: &List, record: &Record, lengths: Notation, set_up: &SetUp) -> Result<[f64; 2], ListError> {
    let inner = list.length(record, "from_inner", lengths, TAPE)?;
    let outer = list.length(record, "from_outer", lengths, TAPE)?;
    let mut nails = [0.0; 4];
    for ((name, nail), known) in NAILS.into_iter().zip(&mut nails).zip(set_up.nails) {
        *nail = known.ok_or_else(|| list.trouble(record, name, ListProblem::EmptyCell))?;
    }
    let [a, b, c, d] = nails;
    let place = by_two_tapes([[a, b], [c, d]], inner, outer).map_err(|why| {
        let problem = match why {
            TapesError::Nails => ListProblem::OneNail,
            TapesError::Apart(range) => ListProblem::TapesApart {
                found: lengths.said(outer),
                inner: lengths.said(inner),
                range: super::range_said(lengths, range),
            },
            TapesError::Sharp(angle) => ListProblem::SharpTapes { angle, least: LEAST_ANGLE },
        };
        list.trouble(record, "from_outer", problem)
    })?;
    for (mm, name, range) in [(place[0], "out", OUT), (place[1], "up", UP)] {
        if !(range[0]..=range[1]).contains(&mm) {
            let problem =
                ListProblem::TapesMeet { place: lengths.said(mm), name, range: super::range_said(lengths, range) };
            return Err(list.trouble(record, "from_inner", problem));
        }
    }
    Ok(place)
}
