//! What to look at in the flat planks.

use super::FlatPlank;
use crate::findings::{Finding, Measure, Stage};
use crate::lines::{Section, SectionAt, Skin};
use crate::planks::{Strake, StrakeAt};

/// Wood bears some stretch when it is forced cold, a few parts in a thousand. Common practice, no source.
const STRAIN: f64 = 0.003;
/// Least radius, in thicknesses, that a plank is bent to cold. Common practice, no source.
const COLD_RADIUS: f64 = 100.0;
/// Most twist a plank takes cold, as the shear at its faces: thickness times twist. For 3/8 in planking that is 27° in a
/// foot. Common practice, no source.
const COLD_TWIST: f64 = 0.015;
/// Stretches nearer to one another than so many rulings are steamed as one.
const GAP: usize = 16;

/// Stretches of rulings where the plank is bent or twisted harder than it goes on cold, from curvature and twist at each.
pub(super) fn steam(at: &[[f64; 2]], thickness: f64) -> Vec<[usize; 2]> {
    let mut stretches: Vec<[usize; 2]> = Vec::new();
    for (i, [bend, twist]) in at.iter().enumerate() {
        if bend * COLD_RADIUS * thickness <= 1.0 && twist * thickness <= COLD_TWIST {
            continue;
        }
        match stretches.last_mut() {
            Some(last) if i - last[1] <= GAP => last[1] = i,
            _ => stretches.push([i, i]),
        }
    }
    stretches
}

/// A stretch in the builder's words, by the sections it lies between: `from the stem to station 2`.
#[must_use]
pub fn stretch(rulings: [usize; 2], strake: &Strake, sections: &[Section]) -> String {
    let before = strake.at.iter().rev().find(|a| a.ruling <= rulings[0]);
    let after = strake.at.iter().find(|a| a.ruling >= rulings[1]);
    let place = |at: Option<&StrakeAt>| match at.and_then(|a| sections.get(a.section)) {
        Some(section) if matches!(section.at, SectionAt::Station(_)) => section.place(),
        Some(section) => format!("the {}", section.name),
        None => "the end".to_owned(),
    };
    format!("from {} to {}", place(before), place(after))
}

/// Planks that must stretch more than wood bears cold, and those to steam.
#[must_use]
pub fn check(flats: &[FlatPlank], strakes: &[Strake], skin: &Skin) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (f, strake) in flats.iter().zip(strakes) {
        if f.strain_most > STRAIN {
            findings.push(Finding {
                stage: Stage::Development,
                place: format!("strake {}", f.strake),
                measured: Measure::Ratio(f.strain_most),
                limit: Measure::Ratio(STRAIN),
                hint: "no flat shape fits this strake without stretching it: steam it, or make it narrower where it \
                       twists"
                    .to_string(),
            });
        }
        let stretches: Vec<String> = f.steam.iter().map(|&s| stretch(s, strake, &skin.sections)).collect();
        if stretches.is_empty() {
            continue;
        }
        let (bend, twist) = (COLD_RADIUS * strake.thickness, f.twist_max * strake.thickness);
        let (measured, limit, what) = if f.bend_radius_min < bend {
            (Measure::Length(f.bend_radius_min), Measure::Length(bend), "bent to a radius under 100 thicknesses")
        } else {
            (
                Measure::Ratio(twist),
                Measure::Ratio(COLD_TWIST),
                "twisted so that its faces shear over 1.5 in the hundred",
            )
        };
        let too = if f.bend_radius_min < bend && twist > COLD_TWIST {
            format!(
                ", and twisted so that its faces shear {:.1} in the hundred, of {:.1} that go cold",
                100.0 * twist,
                100.0 * COLD_TWIST
            )
        } else {
            String::new()
        };
        findings.push(Finding {
            stage: Stage::Development,
            place: format!("strake {}", f.strake),
            measured,
            limit,
            hint: format!(
                "{what}{too}: steam it {} and hang it hot; bend a piece of scrap to it first",
                stretches.join(" and ")
            ),
        });
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hard_places_near_one_another_are_one_stretch() {
        let mut at = vec![[0.0, 0.0]; 100];
        for i in [3, 5, 15, 60] {
            at[i] = [1.0 / 900.0, 0.0];
        }
        at[70][1] = 0.002;
        assert_eq!(steam(&at, 8.9), [[70, 70]]);
        assert_eq!(steam(&at, 10.0), [[3, 15], [60, 70]]);
        assert!(steam(&at, 5.0).is_empty());
    }
}
