//! Where rivets stand when the builder asks for so many plank thicknesses from one to the next.

use boat::folder::{self, BoatInput};
use boat::plan::{Plan, plan};

use crate::plans::texts;

/// Lapwing with more in her `[fastenings]`.
fn lapwing(more: &str) -> Result<BoatInput, String> {
    let mut texts = texts("lapwing");
    texts.toml = texts.toml.replace("[fastenings]\n", &format!("[fastenings]\n{more}\n"));
    folder::read(&texts).map_err(|e| e.to_string())
}

fn planned(more: &str) -> Plan {
    plan(&lapwing(more).expect("reads")).expect("a plan")
}

/// Gaps between neighbours of one land.
fn gaps(plan: &Plan) -> Vec<f64> {
    plan.rivets.windows(2).filter(|p| p[0].land == p[1].land).map(|p| p[1].along - p[0].along).collect()
}

#[test]
fn rivets_stand_no_farther_apart_than_so_many_thicknesses() {
    let usual = planned("");
    let widest = gaps(&usual).into_iter().fold(0.0, f64::max);
    let thickness = usual.spec.planking.thickness;
    for thicknesses in [3.0, 4.5, 6.0] {
        let most = thicknesses * thickness;
        let plan = planned(&format!("apart = {thicknesses}"));
        let found = gaps(&plan).into_iter().fold(0.0, f64::max);
        assert!(found <= most + 1e-6, "{thicknesses} thicknesses are {most} mm: {found}");
        // No fewer than were there without it, and between two timbers the fewest that keep the limit: one fewer would not.
        assert!(plan.rivets.len() >= usual.rivets.len());
        let mut spans = 0;
        for land in 1..plan.strakes.len() {
            let on: Vec<_> = plan.rivets.iter().filter(|r| r.land == land).collect();
            let at: Vec<usize> = (0..on.len()).filter(|i| on[*i].timber.is_some()).collect();
            for w in at.windows(2) {
                let (span, parts) = (on[w[1]].along - on[w[0]].along, w[1] - w[0]);
                let fewest = (3..).find(|n| span / f64::from(*n) <= most + 1e-6).expect("some number");
                assert_eq!(parts, usize::try_from(fewest).expect("a small number"), "land {land}: {span}");
                spans += 1;
            }
        }
        assert!(spans > 50, "{spans}");
    }
    // The least of them asks for more rivets than she had, and one wider than she has changes nothing.
    assert!(planned("apart = 3").rivets.len() > usual.rivets.len());
    assert!(60.0 * thickness > widest);
    assert_eq!(planned("apart = 60").rivets, usual.rivets);
}

#[test]
fn so_many_thicknesses_are_refused_where_they_cannot_be() {
    for (more, wanted) in [("apart = 1", "2 to 60"), ("apart = 61", "2 to 60"), ("apart = \"wide\"", "a number")] {
        let said = lapwing(more).expect_err(more);
        assert!(said.contains("fastenings.apart") && said.contains(wanted), "{more}: {said}");
    }
}
