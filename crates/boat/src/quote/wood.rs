//! Wood by volume, as it is bought.

use super::{Group, Line, QuoteError, Rate};
use crate::folder::woods::same;
use crate::interior::{Piece, pieces};
use crate::plan::Plan;
use crate::rates::{Decimal, Rates, WoodRate};
use crate::stock::{Board, SAME};
use crate::units::{FOOT, Notation};

/// Planks, timbers and what goes inside her.
pub fn lines(plan: &Plan, boards: &[Board], rates: &Rates) -> Result<Vec<Line>, QuoteError> {
    let spec = &plan.spec;
    let mut lines = Vec::new();
    let rate = rate(rates, &spec.planking.wood.name, "planks", "planking.wood")?;
    let area: f64 = plan.flats.iter().map(|f| 2.0 * f.area).sum();
    let (thick, whose) = thickness(plan, boards);
    let how = format!(
        "planks of both sides laid flat {}, {}",
        area_said(area, spec.lengths),
        match whose {
            Whose::Rack => format!("{} thick as the boards in the rack", spec.lengths.said_fine(thick)),
            Whose::Mean =>
                format!("{} thick, the mean of the boards in the rack by area", spec.lengths.said_fine(thick)),
            Whose::Plank =>
                format!("{} thick as the planks, not the boards they are planed from", spec.lengths.said_fine(thick)),
        }
    );
    lines.push(line("Planking", rate, area * thick, &how));
    if !plan.timbers.is_empty() {
        let t = &spec.timbers;
        let rate = self::rate(rates, &t.wood.name, "timbers", "timbers.wood")?;
        let pieces: u32 = plan.timbers.iter().map(|t| t.pieces).sum();
        let length: f64 = plan.timbers.iter().map(|t| f64::from(t.pieces) * t.length).sum();
        let how = format!(
            "{pieces} pieces as cut, {} in all, {} sided, {} moulded{}",
            length_said(length, spec.lengths),
            spec.lengths.said_fine(t.sided),
            spec.lengths.said_fine(t.moulded),
            if t.layers > 1 { format!(" in {} layers, saw cuts left out", t.layers) } else { String::new() }
        );
        lines.push(line("Timbers", rate, length * t.sided * t.moulded, &how));
    }
    lines.extend(inside(plan, rates)?);
    Ok(lines)
}

/// What goes inside her, by wood: least boards. Parts that a line of sundries covers are in that line's price.
fn inside(plan: &Plan, rates: &Rates) -> Result<Vec<Line>, QuoteError> {
    let covered = |p: &Piece<'_>| rates.sundries.iter().any(|s| s.covers.iter().any(|c| c == p.part.word()));
    let all: Vec<Piece<'_>> = pieces(&plan.interior).into_iter().filter(|p| !covered(p)).collect();
    let mut woods: Vec<&str> = Vec::new();
    for piece in &all {
        if !woods.iter().any(|w| same(w, &piece.wood.name)) {
            woods.push(&piece.wood.name);
        }
    }
    let of = |wood: &&str| {
        let rate = rate(rates, wood, "thwarts, knees and the like", "interior.wood")?;
        let own = all.iter().filter(|p| same(&p.wood.name, wood));
        let net = own.clone().map(|p| f64::from(p.count) * p.size.iter().product::<f64>()).sum();
        let how = format!("{} pieces inside her, least boards", own.map(|p| p.count).sum::<u32>());
        Ok(line("Thwarts, knees and the like", rate, net, &how))
    };
    woods.iter().map(of).collect()
}

/// Whose thickness the planking is bought in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// All boards of the rack that are thick enough are as thick.
    Rack,
    /// They differ.
    Mean,
    /// There are none.
    Plank,
}

/// How thick the planking is bought, mm: as the boards of the rack that are thick enough, by area; as the planks where there are
/// none.
pub fn thickness(plan: &Plan, boards: &[Board]) -> (f64, Whose) {
    let planks = plan.spec.planking.thickness;
    let thick: Vec<&Board> = boards.iter().filter(|b| b.is_as_thick_as(planks)).collect();
    let area = |b: &Board| b.length * b.width;
    let all: f64 = thick.iter().map(|b| area(b)).sum();
    if all <= 0.0 {
        return (planks, Whose::Plank);
    }
    let mean = thick.iter().map(|b| area(b) * b.thickness).sum::<f64>() / all;
    let alike = thick.iter().all(|b| (b.thickness - mean).abs() < SAME);
    (mean, if alike { Whose::Rack } else { Whose::Mean })
}

fn rate<'a>(rates: &'a Rates, wood: &str, of: &'static str, key: &'static str) -> Result<&'a WoodRate, QuoteError> {
    rates.wood.iter().find(|r| same(&r.name, wood)).ok_or_else(|| {
        let names: Vec<String> = rates.wood.iter().map(|r| format!("\"{}\"", r.name)).collect();
        let known = if names.is_empty() { String::new() } else { format!(", only for {}", names.join(", ")) };
        QuoteError::NoWood { wood: wood.to_owned(), of, key, known }
    })
}

/// `net` mm³ go into her.
fn line(what: &str, wood: &WoodRate, net: f64, how: &str) -> Line {
    let unit = wood.unit;
    let bought = net / unit.cubic_mm() * (1.0 + wood.waste.value() / 100.0);
    let rate = Rate::Each { quantity: Decimal::nearest(bought, unit.places()), rate: wood.price };
    let net = Decimal::nearest(net / unit.cubic_mm(), unit.places());
    Line {
        group: Group::Wood,
        what: format!("{what}, {}", wood.name),
        rate,
        unit: unit.word().to_owned(),
        sum: rate.sum(),
        how: format!("{how}: {net} {}, and {} % waste", unit.word(), wood.waste.short()),
    }
}

/// An area in the units a boat of that notation is measured in.
pub fn area_said(mm2: f64, lengths: Notation) -> String {
    if lengths == Notation::Mm {
        format!("{:.2} m²", mm2 * 1e-6)
    } else {
        format!("{:.1} sq ft", mm2 / (FOOT * FOOT))
    }
}

/// A length to buy by, in feet or metres.
pub fn length_said(mm: f64, lengths: Notation) -> String {
    if lengths == Notation::Mm { format!("{:.1} m", mm * 1e-3) } else { format!("{:.0} ft", mm / FOOT) }
}
