//! From a plan and rates to a quote.

use super::wood::{self, area_said, length_said};
use super::{Group, Line, Quote, QuoteError, Rate};
use crate::fastenings::stock::{Kind, Pack};
use crate::fastenings::{OrderLine, left_out};
use crate::interior::pieces;
use crate::plan::Plan;
use crate::rates::{Decimal, Money, OUTSIDE, Rates};
use crate::spec::{Bent, EndSpec};
use crate::stock::Board;

/// Grams to which copper and glue are bought.
const KG_PLACES: u32 = 3;
/// Hundredths of an hour.
const HOUR_PLACES: u32 = 2;

/// Reckons the quote. `boards` is the rack, for how thick the planking is bought; it may be empty.
///
/// # Errors
/// [`QuoteError`] where a wood of the plan or the copper of her nails has no price: without those there is no sum worth having.
/// What else has no rate is left out and named.
pub fn reckon(plan: &Plan, boards: &[Board], rates: &Rates) -> Result<Quote, QuoteError> {
    let mut left = Vec::new();
    let mut lines = wood::lines(plan, boards, rates)?;
    if plan.spec.glued() {
        lines.extend(glue(plan, rates, &mut left));
    } else {
        lines.extend(copper(plan, rates)?);
        lines.extend(screws(plan, rates, &mut left));
        let more = left_out(&plan.rivets, &plan.ends, &plan.keel_fastenings);
        if !more.is_empty() {
            left.push(more);
        }
    }
    lines.extend(others(plan, rates, &mut left));
    lines.extend(rates.sundries.iter().map(|s| {
        each(Group::Sundries, &s.what, s.quantity.short(), &s.unit, s.each, "as rates.toml lists it".to_owned())
    }));
    lines.extend(work(plan, rates, &mut left));
    let base: Money = lines.iter().map(|l| l.sum).sum();
    lines.extend(
        rates.overhead.iter().map(|s| on_top(Group::Overhead, s, base, "of all lines above it but overhead")),
    );
    let base: Money = lines.iter().map(|l| l.sum).sum();
    lines.extend(rates.tax.iter().map(|s| on_top(Group::Tax, s, base, "of all lines above it but tax")));
    Ok(Quote {
        currency: rates.currency.clone(),
        lines,
        left_out: left,
        included: included(plan, rates),
        not_included: not_included(plan, rates),
    })
}

fn each(group: Group, what: &str, quantity: Decimal, unit: &str, rate: Money, how: String) -> Line {
    let rate = Rate::Each { quantity, rate };
    Line { group, what: what.to_owned(), rate, unit: unit.to_owned(), sum: rate.sum(), how }
}

fn on_top(group: Group, share: &crate::rates::Share, of: Money, how: &str) -> Line {
    let rate = Rate::Percent { of, percent: share.percent };
    let what = format!("{}, {} %", share.what, share.percent.short());
    Line { group, what, rate, unit: String::new(), sum: rate.sum(), how: how.to_owned() }
}

/// Nails and roves of the order, spares and all, in whole packs where they come so. Those in hand have been paid for too.
fn copper(plan: &Plan, rates: &Rates) -> Result<Vec<Line>, QuoteError> {
    let of = |kind| plan.order.iter().filter(move |l| l.kind == kind);
    let whole = |l: &OrderLine| l.pieces_mass(l.packs_wanted).unwrap_or(0.0);
    let pieces = |kind| -> u64 { of(kind).map(|l| u64::from(l.pieces(l.packs_wanted))).sum() };
    let mass: f64 = of(Kind::Nail).map(whole).sum();
    if pieces(Kind::Nail) == 0 {
        return Ok(Vec::new());
    }
    let grams = (mass * 1000.0).round() as i64;
    let price = rates.copper_kg.ok_or(QuoteError::NoCopper { grams })?;
    let over = format!("{:.0} % spare", plan.spec.fastenings.spare * 100.0);
    let packed = |kind| if of(kind).any(|l| l.pack.is_some()) { " and whole packs" } else { "" };
    let how = format!(
        "{} nails of the order and in hand, {over}{} in it, as square shanks of the gauge without heads",
        pieces(Kind::Nail),
        packed(Kind::Nail)
    );
    let nails = each(Group::Fastenings, "Copper nails", Decimal::nearest(mass, KG_PLACES), "kg", price, how);
    // A pack by mass weighs what it says, whatever one rove does.
    let rove = |l: &OrderLine| match (l.pack, rates.rove_milligrams) {
        (Some(Pack::Mass(_)), _) | (_, None) => whole(l),
        (_, Some(mg)) => mg as f64 * 1e-6 * f64::from(l.pieces(l.packs_wanted)),
    };
    let kg: f64 = of(Kind::Rove).map(rove).sum();
    let by_mass = of(Kind::Rove).all(|l| matches!(l.pack, Some(Pack::Mass(_))));
    let weighs = match rates.rove_milligrams {
        _ if by_mass => "packs as heavy as they say".to_owned(),
        Some(mg) => format!("{} g each", Decimal { units: mg, places: 3 }.short()),
        None => format!(
            "{:.2} g each as flat rings: weigh a hundred (fastenings.rove_grams)",
            of(Kind::Rove).filter_map(|l| l.each).fold(0.0, f64::max) * 1000.0
        ),
    };
    let how = format!(
        "{} roves of the order and in hand, {over}{} in it, {weighs}",
        pieces(Kind::Rove),
        packed(Kind::Rove)
    );
    let roves = each(Group::Fastenings, "Copper roves", Decimal::nearest(kg, KG_PLACES), "kg", price, how);
    Ok(if kg > 0.0 { vec![nails, roves] } else { vec![nails] })
}

/// Screws at the ends and the keel, where the builder takes them.
fn screws(plan: &Plan, rates: &Rates, left: &mut Vec<String>) -> Option<Line> {
    let of = || plan.order.iter().filter(|l| l.kind == Kind::Screw);
    let count: i64 = of().map(|l| i64::from(l.pieces(l.packs_wanted))).sum();
    if count == 0 {
        return None;
    }
    let Some(price) = rates.screw_each else {
        left.push(format!("Screws, {count}: no price (fastenings.screw_each)."));
        return None;
    };
    let packs = if of().any(|l| l.pack.is_some()) { " and whole packs" } else { "" };
    let how = format!("of the order, {:.0} % spare{packs} in it", plan.spec.fastenings.spare * 100.0);
    Some(each(Group::Fastenings, "Screws", Decimal::whole(count), "", price, how))
}

/// Glue of the lands.
fn glue(plan: &Plan, rates: &Rates, left: &mut Vec<String>) -> Option<Line> {
    let area = area_said(plan.glue_area, plan.spec.lengths);
    let Some(rate) = plan.spec.planking.glue_rate else {
        left.push(format!("Glue of the lands, {area}: say how much you spread (planking.glue_rate in boat.toml)."));
        return None;
    };
    let kg = plan.glue_area * 1e-6 * rate * 1e-3;
    let Some(price) = rates.glue_kg else {
        left.push(format!("Glue of the lands, {kg:.2} kg: no price (fastenings.glue_per_kg)."));
        return None;
    };
    let how = format!("lands of both sides {area} at {rate:.0} g a square metre, without waste");
    Some(each(Group::Fastenings, "Glue, mixed", Decimal::nearest(kg, KG_PLACES), "kg", price, how))
}

/// What is fastened with what is not in the order.
fn others(plan: &Plan, rates: &Rates, left: &mut Vec<String>) -> Option<Line> {
    let these = || plan.rest.iter().filter(|r| r.with.is_none());
    let count: usize = these().map(|r| r.count as usize).sum();
    if count == 0 {
        return None;
    }
    let said: Vec<String> = these().map(|r| format!("{} {}", r.count, r.what)).collect();
    match rates.other_each {
        Some(price) => {
            let quantity = Decimal::whole(count as i64);
            Some(each(Group::Fastenings, "Other fastenings", quantity, "", price, said.join(", ")))
        }
        None => {
            left.push(format!("Other fastenings, {count} ({}): no price (fastenings.other_each).", said.join(", ")));
            None
        }
    }
}

/// All that are not rivets, ordered or not: each takes its time.
fn others_count(plan: &Plan) -> usize {
    plan.rest.iter().map(|r| r.count as usize).sum()
}

/// For what hours are given.
#[derive(Clone, Copy)]
enum Per {
    /// One.
    Each,
    /// A hundred.
    Hundred,
    /// A metre of what is counted in tenths of it.
    MetreOfDecimetres,
}

impl Per {
    /// So many counts take the hours once.
    fn counts(self) -> u32 {
        match self {
            Per::Each => 1,
            Per::Hundred => 100,
            Per::MetreOfDecimetres => 10,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Per::Each => "each",
            Per::Hundred => "a hundred",
            Per::MetreOfDecimetres => "a metre",
        }
    }

    /// A count as it is printed.
    fn number(self, count: usize) -> String {
        match self {
            Per::Each | Per::Hundred => count.to_string(),
            Per::MetreOfDecimetres => Decimal { units: count as i64, places: 1 }.to_string(),
        }
    }
}

/// Hours, of what the plan counts and of what the builder lists.
fn work(plan: &Plan, rates: &Rates, left: &mut Vec<String>) -> Vec<Line> {
    let spec = &plan.spec;
    let planks = 2 * plan.strakes.len();
    let scarfs: usize = plan.made.iter().map(|m| 2 * m.scarfs.len()).sum();
    let rivets = if spec.glued() { 0 } else { 2 * plan.rivets.len() };
    let lands = plan.lands.len().saturating_sub(2);
    let glued = if spec.glued() { glued_length(plan) } else { 0.0 };
    let decimetres = usize::try_from(Decimal::nearest(glued * 1e-3, 1).units).unwrap_or(0);
    let h = &rates.hours;
    let counted = [
        ("Moulds", plan.moulds.len(), Per::Each, h.mould, "hours_per_mould", String::new()),
        ("Planks, both sides", planks, Per::Each, h.plank, "hours_per_plank", String::new()),
        ("Scarfs, both sides", scarfs, Per::Each, h.scarf, "hours_per_scarf", String::new()),
        ("Timbers", plan.timbers.len(), Per::Each, h.timber, "hours_per_timber", String::new()),
        (
            "Rivets of the lands, both sides",
            rivets,
            Per::Hundred,
            h.hundred_rivets,
            "hours_per_hundred_rivets",
            String::new(),
        ),
        (
            "Other fastenings",
            others_count(plan),
            Per::Hundred,
            h.hundred_others,
            "hours_per_hundred_others",
            String::new(),
        ),
        (
            "Lands glued, both sides",
            decimetres,
            Per::MetreOfDecimetres,
            h.glued_metre,
            "hours_per_glued_metre",
            format!("{lands} lands a side, {} in all", length_said(glued, spec.lengths)),
        ),
    ];
    let mut lines = Vec::new();
    for (what, count, per, hours, key, how) in counted.into_iter().filter(|c| c.1 > 0) {
        let number = per.number(count);
        let (Some(hours), Some(rate)) = (hours, rates.hour) else {
            let hour = if rates.hour.is_none() { "labour.per_hour and " } else { "" };
            left.push(format!("Work: {}, {number}: no rate ({hour}labour.{key}).", what.to_lowercase()));
            continue;
        };
        let unit = per.word();
        let quantity = hours.times(count, per.counts(), HOUR_PLACES);
        let more = if how.is_empty() { String::new() } else { format!("; {how}") };
        let how = format!("{number} at {} h {unit}{more}", hours.short());
        lines.push(each(Group::Work, what, quantity, "h", rate, how));
    }
    if let Some(rate) = rates.hour {
        lines.extend(
            rates
                .work
                .iter()
                .map(|w| each(Group::Work, &w.what, w.hours, "h", rate, "as rates.toml lists it".to_owned())),
        );
    }
    lines
}

/// Length of the lands between strakes, both sides, mm: each along the strake's upper edge.
fn glued_length(plan: &Plan) -> f64 {
    let upper = plan.strakes.iter().take(plan.strakes.len().saturating_sub(1));
    let length =
        |s: &crate::planks::Strake| -> f64 { s.rulings.windows(2).map(|w| (w[1].upper - w[0].upper).norm()).sum() };
    2.0 * upper.map(length).sum::<f64>()
}

/// What a customer gets, from the plan and the builder's own lines.
fn included(plan: &Plan, rates: &Rates) -> Vec<String> {
    let spec = &plan.spec;
    let lands = if spec.glued() { "the lands glued" } else { "the lands riveted with copper nails and roves" };
    let mut all = vec![format!(
        "Planking: {} strakes a side of {}, {} thick, {lands}.",
        plan.strakes.len(),
        spec.planking.wood.name,
        spec.lengths.said(spec.planking.thickness)
    )];
    if !plan.timbers.is_empty() {
        let t = &spec.timbers;
        let bent = match (t.bent, t.layers) {
            (Bent::Steamed, _) => "steam-bent",
            (Bent::Cold, 1) => "cold-bent",
            (Bent::Cold, _) => "laminated",
        };
        all.push(format!(
            "{} {bent} timbers of {}, {} by {}.",
            plan.timbers.len(),
            t.wood.name,
            spec.lengths.said(t.sided),
            spec.lengths.said(t.moulded)
        ));
    }
    let bought: Vec<&str> = rates.sundries.iter().map(|s| s.what.as_str()).collect();
    if !bought.is_empty() {
        all.push(format!("Materials and parts: {}.", bought.join("; ")));
    }
    let done: Vec<&str> = rates.work.iter().map(|w| w.what.as_str()).collect();
    if !done.is_empty() {
        all.push(format!("Work besides hanging the planks: {}.", done.join("; ")));
    }
    all
}

/// What she has or may want and no line covers.
fn not_included(plan: &Plan, rates: &Rates) -> Vec<String> {
    let spec = &plan.spec;
    let post = |end: &EndSpec| matches!(end, EndSpec::Post(_));
    let has = |what: &str| match what {
        "stem" => post(&spec.fore),
        "sternpost" => post(&spec.aft),
        "transom" => !post(&spec.fore) || !post(&spec.aft),
        // Those that the plan has are priced as wood.
        _ => !pieces(&plan.interior).iter().any(|p| p.part.word() == what),
    };
    let covered = |what: &str| rates.sundries.iter().any(|s| s.covers.iter().any(|c| c == what));
    let mut all: Vec<String> =
        OUTSIDE.into_iter().filter(|what| has(what) && !covered(what)).map(str::to_owned).collect();
    all.extend(rates.not_included.iter().cloned());
    all
}
