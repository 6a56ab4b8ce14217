//! What to look at in the flat planks.

use super::FlatPlank;
use crate::findings::{Finding, Measure, Stage};
use crate::lines::{Section, SectionAt, Skin};
use crate::planks::{Strake, StrakeAt};
use crate::spec::BendSpec;

/// Wood bears some stretch when it is forced cold, a few parts in a thousand. Common practice, no source.
const STRAIN: f64 = 0.003;
/// Stretches nearer to one another than so many rulings are steamed as one.
const GAP: usize = 16;

/// Stretches of rulings where the plank is bent or twisted harder than it goes on cold, from curvature and twist at each.
pub(super) fn steam(at: &[[f64; 2]], thickness: f64, wood: &BendSpec) -> Vec<[usize; 2]> {
    let mut stretches: Vec<[usize; 2]> = Vec::new();
    for (i, [bend, twist]) in at.iter().enumerate() {
        if 0.5 * bend * thickness <= wood.cold_strain && twist * thickness <= wood.cold_shear {
            continue;
        }
        match stretches.last_mut() {
            Some(last) if i - last[1] <= GAP => last[1] = i,
            _ => stretches.push([i, i]),
        }
    }
    stretches
}

/// A section in words that go after `at` or `from`: `station 3`, `the stem`.
#[must_use]
pub fn section_said(section: &Section) -> String {
    match section.at {
        SectionAt::Station(_) => section.place(),
        _ => format!("the {}", section.name),
    }
}

/// A stretch in the builder's words, by the sections it lies between: `from the stem to station 2`.
#[must_use]
pub fn stretch(rulings: [usize; 2], strake: &Strake, sections: &[Section]) -> String {
    let before = strake.at.iter().rev().find(|a| a.ruling <= rulings[0]);
    let after = strake.at.iter().find(|a| a.ruling >= rulings[1]);
    let place = |at: Option<&StrakeAt>| {
        at.and_then(|a| sections.get(a.section)).map_or_else(|| "the end".to_owned(), section_said)
    };
    format!("from {} to {}", place(before), place(after))
}

/// Where a ruling stands in the builder's words: `near station 3`.
#[must_use]
pub fn near(ruling: usize, strake: &Strake, sections: &[Section]) -> String {
    let nearest = strake.at.iter().min_by_key(|a| a.ruling.abs_diff(ruling));
    let section = nearest.and_then(|a| sections.get(a.section));
    section.map_or_else(String::new, |s| format!("near {}", section_said(s)))
}

/// Planks that must stretch more than wood bears cold, those to steam, and those that do not go even so.
#[must_use]
pub fn check(flats: &[FlatPlank], strakes: &[Strake], skin: &Skin, wood: &BendSpec, sheets: bool) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (f, strake) in flats.iter().zip(strakes) {
        let mut found = |measured, limit, hint: String| {
            findings.push(Finding {
                stage: Stage::Development,
                place: format!("strake {}", f.strake),
                measured,
                limit,
                hint,
            });
        };
        if f.strain_most > STRAIN {
            let hint =
                "no flat shape fits this strake without stretching it: steam it, or make it narrower where it twists";
            found(Measure::Ratio(f.strain_most), Measure::Ratio(STRAIN), hint.to_owned());
        }
        let stretches: Vec<String> = f.steam.iter().map(|&s| stretch(s, strake, &skin.sections)).collect();
        if stretches.is_empty() {
            continue;
        }
        let cold = wood.cold_radius() * strake.thickness;
        let twist = f.twist_max * strake.thickness;
        let (bent, twisted) = (f.bend_radius_min < cold, twist > wood.cold_shear);
        let (measured, limit, what) = if bent {
            let what = format!(
                "bent to a radius under {:.0} thicknesses, which its wood does not bear cold",
                wood.cold_radius()
            );
            (Measure::Length(f.bend_radius_min), Measure::Length(cold), what)
        } else {
            let what = "twisted so that its faces shear more than its wood bears cold".to_owned();
            (Measure::Ratio(twist), Measure::Ratio(wood.cold_shear), what)
        };
        let too = if bent && twisted {
            let [twist, most] = [twist, wood.cold_shear].map(|s| 100.0 * s);
            format!(", and twisted so that its faces shear {twist:.1} in the hundred, of {most:.1} that go cold")
        } else {
            String::new()
        };
        let at = stretches.join(" and ");
        let hint = if sheets {
            format!(
                "{what}{too}: out of sheets, make it of two thinner ones glued one over the other {at}, or take a thinner \
                 sheet (planking.thickness); bend a piece of scrap to it first"
            )
        } else {
            format!("{what}{too}: steam it {at} and hang it hot; bend a piece of scrap to it first")
        };
        found(measured, limit, hint);
        let steamed = wood.steamed_radius() * strake.thickness;
        if f.bend_radius_min < steamed && !sheets {
            let hint = format!(
                "bent to a radius under {:.0} thicknesses, which its wood hardly bears even steamed: thinner planks \
                 (planking.thickness), another wood, or two layers glued over each other there",
                wood.steamed_radius()
            );
            found(Measure::Length(f.bend_radius_min), Measure::Length(steamed), hint);
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    const WOOD: BendSpec = BendSpec { cold_strain: 0.005, cold_shear: 0.015, steamed_strain: 0.02 };

    #[test]
    fn hard_places_near_one_another_are_one_stretch() {
        let mut at = vec![[0.0, 0.0]; 100];
        for i in [3, 5, 15, 60] {
            at[i] = [1.0 / 900.0, 0.0];
        }
        at[70][1] = 0.002;
        assert_eq!(steam(&at, 8.9, &WOOD), [[70, 70]]);
        assert_eq!(steam(&at, 10.0, &WOOD), [[3, 15], [60, 70]]);
        assert!(steam(&at, 5.0, &WOOD).is_empty());
        // A wood that bends further goes on cold.
        assert_eq!(steam(&at, 10.0, &BendSpec { cold_strain: 0.006, ..WOOD }), [[70, 70]]);
    }
}
