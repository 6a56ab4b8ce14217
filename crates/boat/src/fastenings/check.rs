//! What to look at in the fastenings.

use super::stock::screw_shank;
use super::{ENDS, EndFastening, KeelFastening, Rivet};
use crate::findings::{Finding, Measure, Stage};
use crate::spec::{Fixing, Spec};
use crate::units::swg_diameter;

/// Heads and roves that come within their own radius of an edge, holes that must lean for it, rivets too near to one another, and
/// nails longer than any in stock: the worst of each land, and of the ends and the keel.
#[must_use]
pub fn check(rivets: &[Rivet], ends: &[EndFastening], keel: &[KeelFastening], spec: &Spec) -> Vec<Finding> {
    let mut findings = Vec::new();
    let lands = rivets.iter().map(|r| r.land).max().unwrap_or(0);
    for land in 1..=lands {
        let on_land: Vec<&Rivet> = rivets.iter().filter(|r| r.land == land).collect();
        findings.extend(at_the_edge(&on_land, spec));
        findings.extend(too_near(&on_land, spec.fastenings.nearest()));
        findings.extend(too_long(&on_land, spec));
    }
    findings.extend(at_the_ends(ends, spec));
    findings.extend(meet_in_the_post(ends, spec));
    findings.extend(driven_too_short(ends, keel, spec));
    findings
}

/// `1 rivet of this land stands`, `3 rivets of this land stand`.
fn of_land(n: usize, one: &str, many: &str) -> String {
    match n {
        1 => format!("1 rivet of this land {one}"),
        n => format!("{n} rivets of this land {many}"),
    }
}

fn finding(place: String, measured: f64, limit: f64, hint: String) -> Finding {
    let [measured, limit] = [measured, limit].map(Measure::Length);
    Finding { stage: Stage::Fastenings, place, measured, limit, hint }
}

fn place(rivet: &Rivet) -> String {
    format!("land {}, rivet {}", rivet.land, rivet.n)
}

/// Within its own radius of an edge.
fn at_the_edge(on_land: &[&Rivet], spec: &Spec) -> Vec<Finding> {
    let f = &spec.fastenings;
    let [head, rove] = [f.head_diameter, f.rove_diameter].map(|across| 0.5 * across);
    let mut findings = Vec::new();
    // The one nearest of those that come too near, and how many those are.
    let worst = |edge: &dyn Fn(&Rivet) -> f64, within: &dyn Fn(&Rivet) -> bool| {
        let these = || on_land.iter().filter(|r| within(r));
        these().min_by(|a, b| edge(a).total_cmp(&edge(b))).map(|r| (place(r), edge(r), these().count()))
    };
    let wider = "a wider lap (planking.lap), or narrower strakes (planking.strakes)";
    if let Some((place, edge, n)) = worst(&|r| r.head_edge, &|r| r.head_edge < head) {
        let which = of_land(n, "has its head", "have their heads");
        let hint =
            format!("{which} too near the outer plank's edge: smaller heads (fastenings.head_diameter), {wider}");
        findings.push(finding(place, edge, head, hint));
    }
    if let Some((place, edge, n)) =
        worst(&|r| r.head_edge_square, &|r| r.head_edge_square < head && r.head_edge >= head)
    {
        let which = of_land(n, "would have its head", "would have their heads");
        let hint =
            format!("{which} too near the outer plank's edge if drilled square to the inner one: lean the drill");
        findings.push(finding(place, edge, head, hint));
    }
    if let Some((place, edge, n)) = worst(&|r| r.rove_edge, &|r| r.timber.is_none() && r.rove_edge < rove) {
        let which = of_land(n, "has its rove", "have their roves");
        let hint = format!("{which} over the inner plank's edge: smaller roves (nails.csv), or {wider}");
        findings.push(finding(place, edge, rove, hint));
    }
    findings
}

/// So near to the next that the wood between them splits.
fn too_near(on_land: &[&Rivet], nearest: f64) -> Option<Finding> {
    let gaps = || on_land.windows(2).map(|w| (w[1], w[1].along - w[0].along)).filter(|g| g.1 < nearest);
    let (rivet, gap) = gaps().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let which = of_land(gaps().count(), "stands", "stand");
    let hint =
        format!("{which} so near to the one before that the wood between them splits: move timbers (timbers.at)");
    Some(finding(place(rivet), gap, nearest, hint))
}

/// A grip longer than any nail.
fn too_long(on_land: &[&Rivet], spec: &Spec) -> Option<Finding> {
    let f = &spec.fastenings;
    let longest = f.nail_lengths.last().copied().unwrap_or(0.0);
    let without = || on_land.iter().filter(|r| r.nail.is_none());
    let r = without().max_by(|a, b| a.grip.total_cmp(&b.grip))?;
    let which = of_land(without().count(), "takes", "take");
    let hint = format!("{which} a longer nail than any in stock: {LONGER}");
    Some(finding(place(r), r.grip + f.rove + f.clench, longest, hint))
}

const LONGER: &str = "add longer ones (nails.csv, or fastenings.nail_lengths)";

/// Fastenings of a plank's end too near to one another: the worst of each end.
fn at_the_ends(ends: &[EndFastening], spec: &Spec) -> Vec<Finding> {
    let nearest = spec.fastenings.nearest();
    let worst = |end: &str| {
        let these = ends.iter().filter(|e| e.end == end && e.spacing < nearest);
        let e = these.min_by(|a, b| a.spacing.total_cmp(&b.spacing))?;
        let key = if end.ends_with("transom") { "transom_fastenings" } else { "hood_fastenings" };
        let hint = format!(
            "the fastenings of this plank's end stand so near to one another that the wood between them splits: fewer \
             (fastenings.{key}), or a wider end (marks.csv)"
        );
        Some(finding(format!("strake {}, {end}", e.strake), e.spacing, nearest, hint))
    };
    ENDS.into_iter().filter_map(worst).collect()
}

/// Points that reach the middle of stem or sternpost, where those of the other side come against them: the worst of each.
fn meet_in_the_post(ends: &[EndFastening], spec: &Spec) -> Vec<Finding> {
    let f = &spec.fastenings;
    let worst = |end: &str| {
        let at = || ends.iter().filter(|e| e.end == end);
        let half = 0.5
            * match (at().next()?.fixing, &f.screw) {
                (Fixing::Screws, Some(screw)) => screw_shank(screw.gauge),
                _ => swg_diameter(f.gauge).unwrap_or(0.0),
            };
        let all = at().flat_map(|e| e.own().iter().filter_map(|p| Some((e.strake, p.from_middle?))));
        let these: Vec<(usize, f64)> = all.filter(|t| t.1 < half).collect();
        let (strake, least) = these.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
        let which = match these.len() {
            1 => "1 fastening a side reaches".to_owned(),
            n => format!("{n} fastenings a side reach"),
        };
        let hint = format!(
            "{which} the middle of the {end}, where those of the other side come against them: shorter ones (fastenings.hold, \
             fastenings.screw_length), or set those of one side between those of the other"
        );
        Some(finding(format!("strake {strake}, {end}"), *least, half, hint))
    };
    ["stem", "sternpost"].into_iter().filter_map(worst).collect()
}

/// Nails at ends and keel that would have to be longer than any in stock.
fn driven_too_short(ends: &[EndFastening], keel: &[KeelFastening], spec: &Spec) -> Option<Finding> {
    let f = &spec.fastenings;
    let t = spec.planking.thickness;
    let at_ends = ends.iter().flat_map(|e| {
        e.own().iter().filter(|p| p.length.is_none()).map(|p| (format!("strake {}, {}", e.strake, e.end), p.wood))
    });
    let at_keel = keel.iter().filter(|k| k.length.is_none()).map(|k| (format!("garboard to keel, {}", k.n), t));
    let all: Vec<(String, f64)> = at_ends.chain(at_keel).collect();
    let (place, wood) = all.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let longest = f.nail_lengths.last().copied().unwrap_or(0.0);
    let hint = format!(
        "{} nails a side at ends and keel should be longer than any in stock: {LONGER}, or let them hold less \
         (fastenings.hold)",
        all.len()
    );
    Some(finding(place.clone(), wood + f.hold * t, longest, hint))
}
