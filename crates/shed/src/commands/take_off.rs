//! `strakewise take-off`.

use super::begun::{Begun, Said};
use super::say;
use crate::arguments::{TakeOff, named_length};
use crate::files;
use crate::new_boat::fields::{AFT, FORE, TABLE, Typed};
use crate::trouble::Trouble;
use boat::taken_off::{Again, EndFound, Part, Section, Settings, TakenOff, take_off};
use boat::units::{Notation, inches};
use std::process::ExitCode;

/// Lengths that may be given, mm: as in boat.toml.
const PLANK: [f64; 2] = [3.0, 50.0];
const LAP: [f64; 2] = [3.0, 100.0];
const GAIN: [f64; 2] = [0.0, 2000.0];
const TAPE: [f64; 2] = [0.5, 5.0];

/// Makes a boat folder of the points, overwriting nothing.
pub fn run(asked: &TakeOff) -> Result<ExitCode, Trouble> {
    let begun = Begun::at(&asked.folder)?;
    let hint = "name the list of points; docs/repair.md says what stands in it";
    let missing = || Trouble::Missing { path: asked.points.clone(), what: "file", hint };
    let text = files::text(&asked.points)?.ok_or_else(missing)?;
    let sections = boat::folder::read_taken(&text, asked.lengths.notation(), asked.on.on())
        .map_err(|problem| Trouble::Points { path: asked.points.clone(), problem })?;
    let settings = settings(asked, &sections)?;
    let taken =
        take_off(&sections, &settings).map_err(|problem| Trouble::TakeOff { path: asked.points.clone(), problem })?;
    let list = asked.points.file_name().unwrap_or_default().to_string_lossy();
    let remarks = taken.again.iter().map(|again| once_more(again, &list, settings.lengths)).collect();
    let said = Said { text: told(&taken, &settings), remarks };
    begun.write(&typed(asked, begun.name(), &taken, settings.lengths), "taken off the standing boat", said)
}

fn settings(asked: &TakeOff, sections: &[Section]) -> Result<Settings, Trouble> {
    let lengths = asked.lengths.notation();
    let given = |name: &str, text: &Option<String>, range, otherwise: f64| {
        let read = |text: &String| named_length(name, text, lengths, range).map_err(Trouble::Usage);
        text.as_ref().map_or(Ok(otherwise), read)
    };
    let thickness = named_length("--plank", &asked.plank, lengths, PLANK).map_err(Trouble::Usage)?;
    let gain = given("--gain", &asked.gain, GAIN, inches(12.0))?;
    let transom_gain = given("--transom-gain", &asked.transom_gain, GAIN, gain)?;
    let there = |end: Part| sections.iter().any(|s| s.part == end);
    let tape = if lengths == Notation::Mm { 1.0 } else { inches(1.0 / 16.0) };
    Ok(Settings {
        lengths,
        thickness,
        lap: given("--lap", &asked.lap, LAP, 2.0 * thickness)?,
        gains: [Part::BowTransom, Part::Transom].map(|end| if there(end) { transom_gain } else { gain }),
        tape: given("--tape", &asked.tape, TAPE, tape)?,
    })
}

/// What the points tell, as it would be typed for a new boat.
fn typed(asked: &TakeOff, usual_name: String, taken: &TakenOff, lengths: Notation) -> Typed {
    let mut typed = Typed::default();
    let mut put = |key: &str, text: String| {
        typed.0.insert(key.to_owned(), text);
    };
    put("name", asked.name.clone().unwrap_or(usual_name));
    put("lengths", lengths.word().to_owned());
    put("lines.drawn_to", "outside of plank".to_owned());
    let fine = |mm: f64| format!("{} {}", lengths.exact(mm), lengths.unit());
    let point = |p: &[f64; 2]| format!("{}, {}", lengths.long(p[0]), lengths.long(p[1]));
    put("lines.keel_half_siding", fine(taken.half_siding));
    for (choice, post, transom, end) in
        [(FORE, "stem", "bow_transom", &taken.fore), (AFT, "sternpost", "transom", &taken.aft)]
    {
        match end {
            Some(EndFound::Post { half_siding, rabbet }) => {
                put(choice, post.to_owned());
                put(&format!("{post}.half_siding"), fine(*half_siding));
                put(&format!("{post}.rabbet"), rabbet.iter().map(point).collect::<Vec<_>>().join("\n"));
            }
            Some(EndFound::Transom { foot, head, .. }) => {
                put(choice, transom.to_owned());
                put(&format!("{transom}.foot"), point(foot));
                put(&format!("{transom}.head"), point(head));
            }
            None => {}
        }
    }
    put("planking.thickness", asked.plank.clone());
    put("planking.lap", asked.lap.clone().unwrap_or_default());
    put("planking.gain", asked.gain.clone().unwrap_or_default());
    put("planking.transom_gain", asked.transom_gain.clone().unwrap_or_default());
    put(TABLE, taken.table.clone());
    typed
}

/// What came of it, station by station.
fn told(taken: &TakenOff, settings: &Settings) -> String {
    let (lengths, unit) = (settings.lengths, settings.lengths.unit());
    let mut rows = vec![["station", "points", "moved in all, at most", "on the mean"].map(str::to_owned).to_vec()];
    for m in &taken.moved {
        let exact = |mm| format!("{} {unit}", lengths.exact(mm));
        rows.push(vec![m.station.clone(), m.points.to_string(), exact(m.most), exact(m.mean)]);
    }
    let points: usize = taken.moved.iter().map(|m| m.points).sum();
    let mut text = format!(
        "offsets to the outside of the planking, from {points} points; faired along each station, no point moved by more than \
         {} out or up\n",
        lengths.said_fine(settings.tape)
    );
    text.push_str(&say::columns(&rows));
    for (end, name) in [(&taken.fore, "bow transom"), (&taken.aft, "transom")] {
        if let Some(EndFound::Transom { off, .. }) = end {
            text.push_str(&format!("{name}: its points lie within {} of a flat face\n", lengths.said_fine(*off)));
        }
    }
    text.push_str(&format!(
        "no offset is better than the tape and its rounding in the table: {}\n",
        lengths.said_fine(settings.tape + 0.5 * lengths.unit_of_table())
    ));
    text
}

/// A point to take again.
fn once_more(again: &Again, list: &str, lengths: Notation) -> String {
    let said = |p: [f64; 2]| format!("{} out, {} up", lengths.said(p[0]), lengths.said(p[1]));
    format!(
        "{list}, line {}, station {}, mark {}: {} does not fit the others, which pass about {}: measure it again",
        again.line,
        again.station,
        again.mark,
        said(again.taken),
        said(again.others)
    )
}
