//! What the fair lines show that the builder should look at.

use super::profile::{self, Ends};
use super::{FairRow, Section, Skin, crossing, entries, line, values};
use crate::findings::{Finding, Measure, Stage};
use crate::geom::fair::FairCurve;
use crate::offsets::{Row, StationAt, Table};
use crate::spec::{EndSpec, Spec};

/// What is found besides the [`doubts`]; `exchanged` is the pair of stations or rows that look exchanged, with which the skin is not
/// looked at.
pub(super) fn findings(
    table: &Table,
    spec: &Spec,
    ends: &Ends,
    faired: &[FairRow],
    skin: &Skin,
    exchanged: Option<Finding>,
) -> Vec<Finding> {
    let weighed = exchanged.is_none();
    let mut findings = dents(spec);
    findings.extend(look_first(table, spec, faired));
    findings.extend(missing(table, spec, ends, faired));
    findings.extend(exchanged);
    findings.extend(table.rows.iter().zip(faired).filter_map(|(row, fair)| wrong_row(row, fair)));
    if weighed {
        findings.extend(below_rabbet(&skin.sections, spec));
        findings.extend(crossing::crossing(skin, spec));
    }
    findings
}

/// What shapes are held to, mm: the tolerance of fairing, but no less than what tables are rounded to. A table that may not be
/// moved at all is rounded all the same.
pub(super) fn tolerance(spec: &Spec) -> f64 {
    const ROUNDED: f64 = 1.0;
    spec.lines.fair_within.max(ROUNDED)
}

/// The doubtful entries, one by one.
pub(super) fn doubts(table: &Table, spec: &Spec, fair: &[FairRow]) -> Vec<Finding> {
    let doubted = entries(table, fair).filter(|e| e.fair.suspect);
    let finding = |e: super::Entry<'_>| Finding {
        stage: Stage::Lines,
        place: e.place(),
        measured: Measure::Length(e.fair.change.abs()),
        limit: Measure::Length(spec.lines.fair_within),
        hint: format!(
            "offsets.csv line {}, cell {} says {} but the fair skin passes at {}{}. Check the plan",
            e.cell.line,
            e.cell.column,
            e.cell.text,
            spec.lengths.long(e.fair.fair),
            e.fair.likely()
        ),
    };
    doubted.map(finding).collect()
}

/// Entries not doubtful enough to be set aside.
fn look_first(table: &Table, spec: &Spec, fair: &[FairRow]) -> Vec<Finding> {
    let finding = |e: super::Entry<'_>| {
        let expected = e.fair.expected.filter(|_| e.fair.look_first)?;
        Some(Finding {
            stage: Stage::Lines,
            place: e.place(),
            measured: Measure::Length((expected - e.cell.mm).abs()),
            limit: Measure::Length(spec.lines.fair_within),
            hint: format!(
                "look at this entry first, if anything is wrong: offsets.csv line {}, cell {} says {} and the rest of \
                 the table would have {}{}. It was kept as it is",
                e.cell.line,
                e.cell.column,
                e.cell.text,
                spec.lengths.long(expected),
                e.fair.likely()
            ),
        })
    };
    entries(table, fair).filter_map(finding).collect()
}

/// Gaps in a row with an entry on either side.
fn missing(table: &Table, spec: &Spec, ends: &Ends, fair: &[FairRow]) -> Vec<Finding> {
    let values = values(fair);
    let mut findings = Vec::new();
    for (r, row) in table.rows.iter().enumerate() {
        let (knots, heights): (Vec<f64>, Vec<[f64; 1]>) =
            line::line(table, spec, ends, r, &values).points.iter().map(|p| (p.x, [p.value])).unzip();
        let Ok(curve) = FairCurve::through(&knots, &heights) else { continue };
        for (c, cells) in row.cells.windows(3).enumerate() {
            let station = &table.stations[c + 1];
            let ([Some(before), None, Some(_)], StationAt::Square(x)) = (cells, station.at) else { continue };
            findings.push(Finding {
                stage: Stage::Lines,
                place: format!("{}, station {}", row.name, station.name),
                measured: Measure::Count(1.0),
                limit: Measure::Count(0.0),
                hint: format!(
                    "offsets.csv has no entry there, though there is one on either side (the one before it in line {}); \
                     the fair line passes at {}. Look for it on the plan",
                    before.line,
                    spec.lengths.long(curve.at(x)[0])
                ),
            });
        }
    }
    findings
}

/// Dents in the typed rabbets of stem and sternpost.
fn dents(spec: &Spec) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (end, aft) in [(&spec.fore, false), (&spec.aft, true)] {
        let EndSpec::Post(post) = end else { continue };
        let Some(i) = profile::dent(&post.rabbet, DENT * tolerance(spec)) else { continue };
        let [x, z] = post.rabbet[i];
        findings.push(Finding {
            stage: Stage::Lines,
            place: format!("{}.rabbet, point {}", end.word(aft), i + 1),
            measured: Measure::Count(1.0),
            limit: Measure::Count(0.0),
            hint: format!(
                "boat.toml has {}, {} there: it makes a dent in a curve that turns one way without it. Check the plan",
                spec.lengths.long(x),
                spec.lengths.long(z)
            ),
        });
    }
    findings
}

/// A dent in a rabbet is worth a word if it is deeper than so many tolerances.
const DENT: f64 = 2.0;

/// Sections that fall below their own rabbet, where a garboard would hang under the keel.
fn below_rabbet(sections: &[Section], spec: &Spec) -> Option<Finding> {
    let limit = tolerance(spec);
    let depth = |s: &Section| s.points[0].z - s.points.iter().map(|p| p.z).fold(f64::MAX, f64::min);
    let deep: Vec<&Section> = sections.iter().filter(|s| depth(s) > limit).collect();
    let deepest = deep.iter().copied().max_by(|a, b| depth(a).total_cmp(&depth(b)))?;
    let names: Vec<String> = deep.iter().map(|s| s.name.clone()).collect();
    Some(Finding {
        stage: Stage::Lines,
        place: if names.len() > 1 {
            format!("{} (in all: {})", deepest.place(), names.join(", "))
        } else {
            deepest.place()
        },
        measured: Measure::Length(depth(deepest)),
        limit: Measure::Length(limit),
        hint: "the section runs below its rabbet: with few entries near the keel it is drawn too low. Add a buttock or a \
               low waterline, or shape the garboard there to a batten"
            .to_owned(),
    })
}

/// A row of which this share is doubtful is more likely another row than so many slips,
const WRONG_ROW: f64 = 0.4;

/// and so many at least: of a short row two slips are a large share.
const WRONG_ENTRIES: usize = 3;

fn wrong_row(row: &Row, faired: &FairRow) -> Option<Finding> {
    let entries = faired.cells.iter().flatten();
    let (all, odd) = (entries.clone().count(), entries.filter(|f| f.suspect).count());
    (odd >= WRONG_ENTRIES && odd as f64 >= WRONG_ROW * all as f64).then(|| Finding {
        stage: Stage::Lines,
        place: row.name.clone(),
        measured: Measure::Count(odd as f64),
        limit: Measure::Count(0.0),
        hint: format!(
            "{odd} of the {all} entries do not fit the others: is the row's name right, its level, its notation, or are \
             its entries those of another row?"
        ),
    })
}
