//! What to look at in the scarfs and in the grain.

use super::{GaveWay, Made, Part, SAME, Scarf, boards, no_longer};
use crate::development::{near, section_said};
use crate::findings::{Finding, Measure, Stage};
use crate::lines::Section;
use crate::planks::Strake;
use crate::spec::Spec;

/// Rise of a plank on its board at which its grain runs out too fast, as a share of the length: 1 in 12. Common practice, no
/// source.
const RUN_OUT: f64 = 1.0 / 12.0;
/// Strakes named in one finding.
const MOST_NAMED: usize = 8;

/// Planks that could not be parted to come out of `rack`, as [`super::scarfs`] had it, wishes that gave way, and planks whose
/// grain runs out: not those out of sheets, in which it runs both ways.
#[must_use]
pub fn check(
    made: &[Made],
    strakes: &[Strake],
    sections: &[Section],
    spec: &Spec,
    rack: &[[f64; 2]],
    sheets: bool,
) -> Vec<Finding> {
    let rack = boards(spec, rack);
    let stuck = |m: &Made| stuck(m, &no_longer(&rack, m.strake, spec));
    let mut findings: Vec<Finding> = made.iter().filter(|m| m.stuck).map(stuck).collect();
    for plank in made {
        findings.extend(plank.scarfs.iter().filter_map(|scarf| gave_way(plank, scarf, sections)));
    }
    findings.extend(grain(made, strakes, sections).filter(|_| !sheets));
    findings
}

/// Strakes whose longest part is said and that she does not have.
#[must_use]
pub fn not_there(spec: &Spec, strakes: usize) -> Vec<Finding> {
    let beyond = spec.scarfs.longest_of.iter().filter(|(strake, _)| *strake > strakes);
    let finding = |(strake, _): &(usize, f64)| Finding {
        stage: Stage::Scarfs,
        place: format!("strake {strake}"),
        measured: Measure::Count(*strake as f64),
        limit: Measure::Count(strakes as f64),
        hint: "stands in scarfs.longest_of, but she has fewer strakes: take it out, or mend its number".to_owned(),
    };
    beyond.map(finding).collect()
}

/// What it takes with what is left long against the longest of its `boards`, or where it is no longer, against the widest of those
/// that are as long.
fn stuck(plank: &Made, boards: &[[f64; 2]]) -> Finding {
    let [length, width] = plank.left.board;
    let longest = boards.iter().map(|b| b[0]).fold(0.0, f64::max);
    let (measured, limit) = if length > longest + SAME {
        (length, longest)
    } else {
        let as_long = boards.iter().filter(|b| length <= b[0] + SAME);
        (width, as_long.map(|b| b[1]).fold(0.0, f64::max))
    };
    Finding {
        stage: Stage::Scarfs,
        place: format!("strake {}", plank.strake),
        measured: Measure::Length(measured),
        limit: Measure::Length(limit),
        hint: "no board holds it whole, and it cannot be parted into six or fewer that boards hold, with scarfs at timbers or \
               half-way between, a scarf clear of its ends: longer or wider boards (boards.csv, or scarfs.longest and scarfs.widest), or a shorter \
               scarf (scarfs.ratio)"
            .to_owned(),
    }
}

/// The wish that weighs most of those a scarf does not meet, with the others in words.
fn gave_way(plank: &Made, scarf: &Scarf, sections: &[Section]) -> Option<Finding> {
    let section = |i: usize| sections.get(i).map_or_else(String::new, section_said);
    let (measured, limit) = match scarf.gave_way.first()? {
        GaveWay::Neighbour { apart, least, .. } => (Measure::Length(*apart), Measure::Length(*least)),
        GaveWay::Mould { clear, least, .. } => (Measure::Length(*clear), Measure::Length(*least)),
        GaveWay::Bend { share } => (Measure::Ratio(*share), Measure::Ratio(super::place::BENT)),
        GaveWay::Timber { off } => (Measure::Length(*off), Measure::Length(0.0)),
    };
    let said = |g: &GaveWay| match g {
        GaveWay::Neighbour { strake, .. } => format!("it stands near the scarf of strake {strake}"),
        GaveWay::Mould { section: s, .. } => format!("it stands near the mould at {}", section(*s)),
        GaveWay::Bend { .. } => "the plank is bent or twisted there over half of what goes cold".to_owned(),
        GaveWay::Timber { .. } => "no timber stands over its middle".to_owned(),
    };
    let what: Vec<String> = scarf.gave_way.iter().map(said).collect();
    Some(Finding {
        stage: Stage::Scarfs,
        place: format!("strake {}, scarf {}", plank.strake, scarf.n),
        measured,
        limit,
        hint: format!(
            "{}; no place meets every wish: longer boards leave more places, or ask for less (scarfs.shift, scarfs.clear)",
            what.join(", and ")
        ),
    })
}

/// One finding for all planks whose grain runs out, at the worst.
fn grain(made: &[Made], strakes: &[Strake], sections: &[Section]) -> Option<Finding> {
    let over: Vec<(&Made, &Part)> = made
        .iter()
        .filter_map(|m| {
            let worst = m.parts.iter().max_by(|a, b| a.run_out.slope.total_cmp(&b.run_out.slope))?;
            (worst.run_out.slope > RUN_OUT).then_some((m, worst))
        })
        .collect();
    let (worst, part) = over.iter().max_by(|a, b| a.1.run_out.slope.total_cmp(&b.1.run_out.slope))?;
    let at = strakes.iter().find(|s| s.strake == worst.strake).map(|s| near(part.run_out.ruling, s, sections));
    let others: Vec<String> =
        over.iter().filter(|o| o.0.strake != worst.strake).take(MOST_NAMED).map(|o| o.0.strake.to_string()).collect();
    let too = match others.len() {
        0 => String::new(),
        1 => format!("; strake {} too", others[0]),
        _ => format!("; strakes {} too", others.join(", ")),
    };
    Some(Finding {
        stage: Stage::Scarfs,
        place: format!("strake {} {}", worst.strake, at.unwrap_or_default()),
        measured: Measure::Angle(part.run_out.slope.atan()),
        limit: Measure::Angle(RUN_OUT.atan()),
        hint: format!(
            "on a board of straight grain the grain runs out there 1 in {:.0}, and 1 in 12 is as much as a plank should \
             have{too}: choose boards whose grain sweeps with the plank, or make it in more parts (scarfs.longest)",
            1.0 / part.run_out.slope
        ),
    })
}
