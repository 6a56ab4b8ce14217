//! What should be looked at.

use super::{Interior, Strip, Thwart};
use crate::findings::{Finding, Measure, Stage};
use crate::units::Notation;

/// A thwart that stands no further off its rising is packed or planed to it, mm. Common practice, no source.
pub const GAP: f64 = 3.0;

/// Strips bent too hard, and thwarts that do not rest on their risings.
pub fn check(interior: &Interior, lengths: Notation) -> Vec<Finding> {
    let mut findings: Vec<Finding> = interior.strips.iter().filter_map(|s| bend(s, lengths)).collect();
    findings.extend(interior.strips.iter().filter_map(twist));
    let risings = interior.strips.iter().any(|s| s.kind == super::StripKind::Rising);
    findings.extend(interior.thwarts.iter().filter(|_| risings).filter_map(|t| rest(t, lengths)));
    findings.extend(in_one_place(&interior.thwarts));
    findings
}

/// Thwarts that would stand in one place.
fn in_one_place(thwarts: &[Thwart]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (i, a) in thwarts.iter().enumerate() {
        for b in &thwarts[i + 1..] {
            let over = a.edges[1].min(b.edges[1]) - a.edges[0].max(b.edges[0]);
            let level = (a.top - b.top).abs() < a.thickness.max(b.thickness);
            if over > 0.0 && level {
                findings.push(Finding {
                    stage: Stage::Interior,
                    place: format!("{} and {}", a.name, b.name),
                    measured: Measure::Length(over),
                    limit: Measure::Length(0.0),
                    hint: format!("they stand in one another by so much: move one ({}, {})", a.key, b.key),
                });
            }
        }
    }
    findings
}

/// Bent tighter than its wood takes cold.
fn bend(s: &Strip, lengths: Notation) -> Option<Finding> {
    let [cold, steamed] =
        [s.stick.bends.cold_radius(), s.stick.bends.steamed_radius()].map(|r| r * s.stick.thickness);
    if s.bend_radius >= cold {
        return None;
    }
    let goes = lengths.said_fine(s.bend_radius / s.stick.bends.cold_radius());
    let (limit, what) = if s.bend_radius < steamed {
        (steamed, "bends tighter than its wood takes even steamed: laminate it of layers no thicker than")
    } else {
        (cold, "bends tighter than its wood takes cold: steam it, or laminate it of layers no thicker than")
    };
    Some(Finding {
        stage: Stage::Interior,
        place: s.name.to_lowercase(),
        measured: Measure::Length(s.bend_radius),
        limit: Measure::Length(limit),
        hint: format!("{what} {goes} ({}.thickness)", s.key),
    })
}

/// Twisted harder than its wood takes cold: as shear of its faces, thickness times twist.
fn twist(s: &Strip) -> Option<Finding> {
    let shear = s.stick.thickness * s.twist;
    (shear > s.stick.bends.cold_shear).then(|| Finding {
        stage: Stage::Interior,
        place: s.name.to_lowercase(),
        measured: Measure::Ratio(shear),
        limit: Measure::Ratio(s.stick.bends.cold_shear),
        hint: format!("twists harder than its wood takes cold (thickness times twist): steam it, or make it thinner ({}.thickness)", s.key),
    })
}

/// Off its rising: of several, the one that it lies nearest to.
fn rest(t: &Thwart, lengths: Notation) -> Option<Finding> {
    let finding = |gap: f64, hint: String| Finding {
        stage: Stage::Interior,
        place: t.name.clone(),
        measured: Measure::Length(gap.abs()),
        limit: Measure::Length(GAP),
        hint,
    };
    let worst = |r: &super::Rest| r.gaps.iter().copied().max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
    let Some(rest) = t.rests.iter().min_by(|a, b| worst(a).abs().total_cmp(&worst(b).abs())) else {
        return Some(Finding {
            stage: Stage::Interior,
            place: t.name.clone(),
            measured: Measure::Count(0.0),
            limit: Measure::Count(1.0),
            hint: format!(
                "no rising runs under the whole of its width: carry one past it (interior.risings), or fit a cleat ({})",
                t.key
            ),
        });
    };
    let gap = worst(rest);
    if gap.abs() <= GAP {
        return None;
    }
    let way = if gap > 0.0 {
        "stands over its rising there: pack it up, lower it, or raise the rising"
    } else {
        "lies lower than its rising there: let it in, raise it, or lower the rising"
    };
    let edge = if rest.gaps[0].abs() >= rest.gaps[2].abs() { "fore" } else { "after" };
    Some(finding(
        gap,
        format!(
            "{way} (its {edge} edge is the worst; {}.height, interior.risings; within {} counts as resting)",
            t.key,
            lengths.said_fine(GAP)
        ),
    ))
}

#[cfg(test)]
mod tests {
    use super::super::Rest;
    use super::*;
    use crate::spec::{Against, Wood};

    /// Over two risings it is judged by the one that it lies nearest to, and so is the edge that is told.
    #[test]
    fn the_worst_edge_is_told_of_the_rising_that_a_thwart_rests_on() {
        let on = |rising, gaps| Rest { rising, gaps };
        let thwart = Thwart {
            n: 1,
            key: "interior.thwarts, item 1".to_owned(),
            name: "Thwart 1".to_owned(),
            edges: [1000.0, 1200.0],
            top: 400.0,
            thickness: 20.0,
            against: Against::Planking,
            clear: 0.0,
            wood: Wood { name: "larch".to_owned(), density: 600.0 },
            end: Vec::new(),
            round: 0.0,
            notches: Vec::new(),
            steps: Vec::new(),
            rests: vec![on(0, [20.0, 12.0, 5.0]), on(1, [4.0, 5.0, 6.0])],
            board: [0.0; 2],
        };
        let found = rest(&thwart, Notation::Mm).unwrap();
        assert_eq!(found.measured, Measure::Length(6.0));
        assert!(found.hint.contains("its after edge"), "{}", found.hint);
    }
}
