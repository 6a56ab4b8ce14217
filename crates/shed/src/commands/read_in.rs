//! `strakewise read-in`.

use super::begun::{Begun, Said};
use crate::arguments::{Face, ReadAs, ReadIn};
use crate::new_boat::fields::{AFT, FORE, TABLE, Typed};
use crate::trouble::Trouble;
use crate::{files, output};
use boat::read_in::{
    Asked, Bare, CloudAsked, CloudForm, DrawingAsked, Lines, Make, Post, ReadInError, TableIn, boards, cloud, rabbet,
    sections, table,
};
use std::path::Path;
use std::process::ExitCode;

/// No file of points is larger than this, bytes.
const LARGEST_POINTS: u64 = 128 << 20;
/// And no drawing.
const LARGEST_DRAWING: u64 = 32 << 20;
/// How many times smaller than the boat a drawing may be.
const SCALES: [f64; 2] = [0.001, 1000.0];
/// How far down by the bow points may lie, degrees: beyond that another of their axes points up.
const TRIMS: [f64; 2] = [-45.0, 45.0];
/// Lengths that may be given, mm: stations apart, stations aft of the first, half siding, a board's thickness.
const SPACING: [f64; 2] = [20.0, 10_000.0];
const AT: [f64; 2] = [-30_000.0, 30_000.0];
const SIDING: [f64; 2] = [0.0, 300.0];
const BOARD: [f64; 2] = [3.0, 150.0];
/// Stations in a list.
const MOST_STATIONS: usize = 60;

/// Reads the file in, and makes a folder of it or prints its lines.
pub fn run(asked: &ReadIn) -> Result<ExitCode, Trouble> {
    let ending = asked.file.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    let what = match (asked.what, ending.as_str()) {
        (Some(what), _) => what,
        (None, "csv" | "tsv" | "txt") => ReadAs::Table,
        (None, "dxf" | "svg") => ReadAs::Sections,
        (None, "ply" | "xyz" | "pts" | "asc") => ReadAs::Points,
        (None, _) => {
            let told =
                "its ending does not tell what is in it: say --as table, sections, points, stem, sternpost or boards";
            return Err(Trouble::Usage(format!("{}: {told}", asked.file.display())));
        }
    };
    if matches!(what, ReadAs::Stem | ReadAs::Sternpost | ReadAs::Boards) {
        return lines(asked, what, &ending);
    }
    let Some(folder) = &asked.to else {
        return Err(Trouble::Usage("say after --to which folder to make of it".to_owned()));
    };
    let Some(face) = asked.drawn_to else {
        let told = "say after --drawn-to to which face of the planking the lines are: inside or outside; the plan says so, a hull is measured outside";
        return Err(Trouble::Usage(told.to_owned()));
    };
    let begun = Begun::at(folder)?;
    let source = asked.file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let problem = |problem| Trouble::ReadIn { path: asked.file.clone(), problem };
    let found = match what {
        ReadAs::Points => of_points(asked, &ending, &source)?,
        ReadAs::Table => {
            let own = Asked {
                bare: bare(asked),
                comma: asked.comma.map(|c| c.comma()),
                spacing: spacing(asked)?,
                at: at(asked)?.map(|l| l.into_iter().map(|(_, mm)| mm).collect()),
            };
            table(&text(&asked.file)?, &source, &own).map_err(problem)?
        }
        _ => sections(&drawn(&asked.file)?, make(&ending)?, &source, &drawing(asked)?).map_err(problem)?,
    };
    let text = found.said.iter().map(|s| format!("{s}\n")).collect();
    let said = Said { text, remarks: to_look_at(asked, &found.look_at) };
    begun.write(&typed(asked, begun.name(), face, &found), &format!("read in from {source}"), said)
}

/// What of the file is to be looked at, each with the file's name.
fn to_look_at(asked: &ReadIn, found: &[String]) -> Vec<String> {
    found.iter().map(|l| format!("{}: {l}", asked.file.display())).collect()
}

fn missing(path: &Path) -> Trouble {
    Trouble::Missing { path: path.to_owned(), what: "file", hint: "docs/read-in.md says what can be read in" }
}

fn text(path: &Path) -> Result<String, Trouble> {
    files::text(path)?.ok_or_else(|| missing(path))
}

/// A drawing's text. Older DXF files have letters of other tables in their names, which nothing hangs on.
fn drawn(path: &Path) -> Result<String, Trouble> {
    let bytes = files::bytes(path, LARGEST_DRAWING)?.ok_or_else(|| missing(path))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn bare(asked: &ReadIn) -> Option<Bare> {
    asked.lengths.map(|l| l.bare())
}

fn make(ending: &str) -> Result<Make, Trouble> {
    match ending {
        "dxf" => Ok(Make::Dxf),
        "svg" => Ok(Make::Svg),
        _ => Err(Trouble::Usage(format!("a drawing is read from .dxf and .svg, and not from .{ending}"))),
    }
}

/// A length of the command line; a bare number is in the file's unit.
fn length(name: &str, text: &str, asked: &ReadIn, [least, most]: [f64; 2]) -> Result<f64, Trouble> {
    let wrong = |why: String| Trouble::Usage(format!("{name}: {why}"));
    let mm = match bare(asked) {
        Some(bare) => bare.read(text),
        None => boat::units::read_length(text, None),
    };
    let mm = mm.map_err(|why| wrong(why.to_string()))?;
    if (least..=most).contains(&mm) {
        return Ok(mm);
    }
    Err(wrong(format!("{text} is out of range: {least} mm to {most} mm is allowed; check its digits and its unit")))
}

fn spacing(asked: &ReadIn) -> Result<Option<f64>, Trouble> {
    asked.spacing.as_ref().map(|text| length("--spacing", text, asked, SPACING)).transpose()
}

/// Distances, each with the station's name where it is given.
fn at(asked: &ReadIn) -> Result<Option<Vec<(String, f64)>>, Trouble> {
    let Some(list) = &asked.at else { return Ok(None) };
    let mark = if list.contains(';') { ';' } else { ',' };
    let one = |item: &str| {
        let (name, text) = item.split_once('=').unwrap_or(("", item));
        Ok((name.trim().to_lowercase(), length("--at", text, asked, AT)?))
    };
    let all = list.split(mark).filter(|i| !i.trim().is_empty()).map(one).collect::<Result<Vec<_>, Trouble>>()?;
    if all.len() > MOST_STATIONS {
        return Err(Trouble::Usage(format!("--at: {} distances; {MOST_STATIONS} is the most", all.len())));
    }
    Ok(Some(all))
}

fn drawing(asked: &ReadIn) -> Result<DrawingAsked, Trouble> {
    let scale = asked.scale.unwrap_or(1.0);
    if !(SCALES[0]..=SCALES[1]).contains(&scale) {
        let [least, most] = SCALES;
        return Err(Trouble::Usage(format!(
            "--scale: {scale} is out of range: {least} to {most} is allowed; 10 is 1:10"
        )));
    }
    let zero = asked.zero.as_ref().map(|text| {
        let number = |t: &str| t.trim().parse::<f64>().ok().filter(|n| n.is_finite());
        let both = text.split_once(',').and_then(|(x, y)| Some([number(x)?, number(y)?]));
        both.ok_or_else(|| {
            Trouble::Usage(format!("--zero: {text} is not two numbers with a comma between, such as 120,45.5"))
        })
    });
    Ok(DrawingAsked {
        bare: bare(asked),
        scale,
        zero: zero.transpose()?,
        spacing: spacing(asked)?,
        at: at(asked)?.unwrap_or_default(),
    })
}

fn of_points(asked: &ReadIn, ending: &str, source: &str) -> Result<TableIn, Trouble> {
    if !(TRIMS[0]..=TRIMS[1]).contains(&asked.trim) {
        let [least, most] = TRIMS;
        return Err(Trouble::Usage(format!(
            "--trim: {} is out of range: {least} to {most} degrees is allowed",
            asked.trim
        )));
    }
    let half_siding =
        asked.half_siding.as_ref().map(|text| length("--half-siding", text, asked, SIDING)).transpose()?;
    let usual = CloudAsked::default();
    let own = CloudAsked {
        bare: bare(asked),
        up: asked.up.axis(),
        bow: asked.bow.map(|b| b.bow()),
        placed: asked.placed,
        trim: asked.trim.to_radians(),
        stations: asked.stations,
        at: at(asked)?.map(|l| l.into_iter().map(|(_, mm)| mm).collect()),
        half_siding: half_siding.unwrap_or(usual.half_siding),
    };
    let bytes = files::bytes(&asked.file, LARGEST_POINTS)?.ok_or_else(|| missing(&asked.file))?;
    let form = if ending == "ply" { CloudForm::Ply } else { CloudForm::Text };
    let found = cloud(&bytes, form, source, &own);
    found.map(|f| f.table).map_err(|problem| Trouble::ReadIn { path: asked.file.clone(), problem })
}

/// Outlines printed as lines for the folder's files.
fn lines(asked: &ReadIn, what: ReadAs, ending: &str) -> Result<ExitCode, Trouble> {
    let (text, make, own) = (drawn(&asked.file)?, make(ending)?, drawing(asked)?);
    let problem = |problem: ReadInError| Trouble::ReadIn { path: asked.file.clone(), problem };
    let found: Lines = match (what, &asked.thickness) {
        (ReadAs::Boards, None) => {
            return Err(Trouble::Usage(
                "say after --thickness how thick the boards are, such as \"22 mm\"".to_owned(),
            ));
        }
        (ReadAs::Boards, Some(thickness)) => {
            length("--thickness", thickness, asked, BOARD)?;
            boards(&text, make, thickness, &own).map_err(problem)?
        }
        (ReadAs::Sternpost, _) => rabbet(&text, make, Post::Sternpost, &own).map_err(problem)?,
        _ => rabbet(&text, make, Post::Stem, &own).map_err(problem)?,
    };
    output::result(found.text.as_bytes())?;
    found.said.iter().for_each(|s| output::remark(s));
    to_look_at(asked, &found.look_at).iter().for_each(|l| output::remark(l));
    Ok(ExitCode::SUCCESS)
}

/// What the file tells, as it would be typed for a new boat.
fn typed(asked: &ReadIn, usual_name: String, face: Face, found: &TableIn) -> Typed {
    let mut typed = Typed::default();
    let mut put = |key: &str, text: &str| {
        typed.0.insert(key.to_owned(), text.to_owned());
    };
    put("name", asked.name.as_ref().unwrap_or(&usual_name));
    put("lengths", found.lengths.word());
    put("lines.drawn_to", if face == Face::Inside { "inside of plank" } else { "outside of plank" });
    if found.bow_transom {
        put(FORE, "bow_transom");
    }
    if found.transom {
        put(AFT, "transom");
    }
    put(TABLE, &found.table);
    typed
}
