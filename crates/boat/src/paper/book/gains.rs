//! The gains: where a land runs out flush, how deep the rebates are, and how they go with the bevel.

use super::land_section::station;
use super::length::{degrees, is_nought};
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::section_name;
use super::tables;
use crate::drawing::Face;
use crate::lines::SectionAt;
use crate::planks::{Strake, StrakeAt, land};
use crate::spec::{EndSpec, TransomEnds};
use crate::units::inches;

/// A gain: its end, and its length, mm.
struct Gain {
    end: &'static str,
    aft: bool,
    transom: bool,
    length: f64,
}

/// Those the lands have, fore one first.
fn gains(book: &Book<'_>) -> Vec<Gain> {
    let spec = &book.plan.spec;
    let of = |end: &EndSpec, aft: bool| {
        let length = spec.planking.gain_at(end);
        let transom = matches!(end, EndSpec::Transom(_));
        length.filter(|l| *l > 0.0).map(|length| Gain { end: end.word(aft), aft, transom, length })
    };
    of(&spec.fore, false).into_iter().chain(of(&spec.aft, true)).collect()
}

/// Most depths side by side in the table.
const ACROSS: usize = 9;

/// The depths of the rebates; returns the top of what follows.
pub fn depths(page: &mut Page<'_>, book: &Book<'_>, frame: Frame) -> f64 {
    let gains = gains(book);
    if gains.is_empty() {
        return frame.top;
    }
    let places = places(book, &gains);
    let mut y = page.head([frame.left, frame.top], "Gains: depth of each rebate");
    for part in places.chunks(ACROSS) {
        let mut columns = vec![tables::names(&format!("{} from the end", book.len.0.unit()), 1.0)];
        columns.extend(part.iter().map(|d| tables::numbers(book.len, &book.len.short(*d), 1.0)));
        let mut table = tables::table(columns, 6.4);
        table.look.head = look::NUMBER.face(Face::Semibold);
        for gain in &gains {
            let mut cells = vec![format!("{}, {} long", gain.end, book.len.short(gain.length))];
            cells.extend(part.iter().map(|d| depth(book, gain, *d)));
            table.rows.push(tables::row(cells));
        }
        tables::fit(page.t, &mut table, frame.width());
        y = table.draw(page.t, &mut page.sheet, [frame.left, y], frame.width(), frame.bottom - y, 0).bottom + 1.6;
    }
    y + 1.4
}

/// Height of [`depths`], mm.
pub fn height(book: &Book<'_>) -> f64 {
    let gains = gains(book);
    let tables = places(book, &gains).len().div_ceil(ACROSS) as f64;
    if gains.is_empty() { 0.0 } else { 8.0 + tables * (9.0 + 6.6 * gains.len() as f64) }
}

/// Every 2 in or 50 mm from the end, and where each gain begins.
fn places(book: &Book<'_>, gains: &[Gain]) -> Vec<f64> {
    let apart = if book.len.inches() { inches(2.0) } else { 50.0 };
    let longest = gains.iter().map(|g| g.length).fold(0.0, f64::max);
    let mut places: Vec<f64> = (0..=(longest / apart) as usize).map(|i| i as f64 * apart).collect();
    places.extend(gains.iter().map(|g| g.length));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    places
}

/// Depth of either rebate at a distance from the end, in words; nothing beyond the gain.
fn depth(book: &Book<'_>, gain: &Gain, from_end: f64) -> String {
    let t = book.plan.spec.planking.thickness;
    if from_end > gain.length + 0.5 {
        return String::new();
    }
    book.len.fine(0.5 * (t - land::step(t, gain.length, from_end)))
}

/// How the gains of the land on strake `k`'s upper edge are cut, with its bevel, in order.
pub fn order(book: &Book<'_>, k: usize) -> String {
    let planking = &book.plan.spec.planking;
    let (lap, next) = (book.len.short_unit(planking.lap), k + 1);
    let gains = gains(book);
    let at_transom = at_transom(book);
    if gains.is_empty() {
        return format!(
            "1. Scribe the land on this strake's outer face, {lap} wide.\n2. Plane the bevel across it: nothing off at its \
             lower side, as much as the table says at the upper edge.{at_transom}"
        );
    }
    let begin: Vec<String> = gains
        .iter()
        .map(|g| {
            let end = if g.transom { g.end } else { "hood end" };
            let which = if gains.len() > 1 && g.end == "sternpost" { " aft" } else { "" };
            format!("{} from the {end}{which}", book.len.short_unit(g.length))
        })
        .collect();
    format!(
        "1. Scribe the land on this strake's outer face, {lap} wide.\n2. The gain begins {}, along the land. From there to \
         the end cut the land down, over its whole width and square to the face, to the depths above: half the \
         thickness at the end.\n3. Now plane the bevel over the whole land, in the gain on what the rebate has left: \
         nothing off at its lower side, as much as the table says at the upper edge.\n4. Strake {next} gets the same \
         rebate in its inner face, {lap} wide along its lower edge, as deep at the same places, and no bevel (but see a \
         bevel of \u{2212}).\n5. Try them together: at the end they must lie flush outside. {}{at_transom}",
        begin.join(" and "),
        inside(book, k, &gains)
    )
}

/// What is left inside where the land on strake `k`'s upper edge has run out flush: the bevel lets the next strake in.
fn inside(book: &Book<'_>, k: usize, gains: &[Gain]) -> String {
    let Some(strake) = book.plan.strakes.iter().find(|s| s.strake == k) else { return String::new() };
    let places: Vec<String> = gains
        .iter()
        .filter_map(|g| {
            let at = if g.aft { strake.at.last() } else { strake.at.first() }?;
            let step = at.step_inside(strake.thickness).filter(|s| *s < 0.0)?;
            let in_by = book.len.fine_unit(-step);
            (!is_nought(&in_by)).then(|| format!("{in_by} at the {}", g.end))
        })
        .collect();
    if places.is_empty() {
        return "Inside they are flush too.".to_owned();
    }
    format!(
        "Inside, strake {} stands in from this one's upper edge by what the bevel takes off, {}: that is right, cut no \
         deeper.",
        k + 1,
        places.join(" and ")
    )
}

/// How the lands meet a transom, as `planking.transom_ends` has it; nothing without one.
fn at_transom(book: &Book<'_>) -> String {
    let spec = &book.plan.spec;
    let names: Vec<&str> = [(&spec.fore, false), (&spec.aft, true)]
        .into_iter()
        .filter(|(end, _)| matches!(end, EndSpec::Transom(_)))
        .map(|(end, aft)| end.word(aft))
        .collect();
    if names.is_empty() {
        return String::new();
    }
    let how = match spec.planking.transom_ends {
        TransomEnds::Flush if spec.planking.transom_gain.is_some_and(|gain| gain > 0.0) => {
            "flush: the lands run out in their gains, so seat meets seat and its edge has no notches"
        }
        TransomEnds::Flush => "no gain: the lands come proud on its edge",
        TransomEnds::Notched => {
            "notched: no gain. The lands stand proud at their full step, and its edge is cut with a notch for each, so that \
             every plank has its own seat"
        }
        TransomEnds::Plain => {
            "plain: no gain and no notches. The lands stand proud at their full step, its edge is straight from land to \
             land, and the wedge left open under each plank is filled; its sheet says how thick"
        }
    };
    format!("\nAt the {} {how}.", names.join(" and the "))
}

/// What is to be done on the lower edge of a strake.
pub fn lower_edge(book: &Book<'_>, strake: &Strake) -> String {
    let k = strake.strake;
    let Some(below) = book.plan.strakes.iter().find(|s| s.strake + 1 == k) else {
        return format!(
            "It lies in the rabbet of the keel, and has no gain. Its face rises off level there by {}: cut the rabbet and \
             plane the edge to that.",
            rises(book, strake)
        );
    };
    let (lap, under) = (book.len.short_unit(book.plan.spec.planking.lap), below.strake);
    let mut text = format!("It laps {lap} on strake {under}. ");
    if gains(book).is_empty() {
        text.push_str("It has no gain. ");
    } else {
        text.push_str(&format!(
            "Cut its own rebate in the inner face, {lap} wide along this edge, where land {under} has its gains: the \
             depths are those of the table of gains, which is the same for every land. "
        ));
    }
    text.push_str(&hollow(book, below));
    text
}

/// How steeply a strake's face rises off level at each mould.
fn rises(book: &Book<'_>, strake: &Strake) -> String {
    let at = |a: &&StrakeAt| matches!(book.plan.sections[a.section].at, SectionAt::Station(_));
    let rise = |a: &StrakeAt| {
        let rise = book.plan.backbone.keel.get(a.ruling).map_or(0.0, |r| r.angle);
        format!("{} at {}", degrees(rise), section_name(book, a.section))
    };
    strake.at.iter().filter(at).map(rise).collect::<Vec<_>>().join(", ")
}

/// Where the land on strake `below` is hollow, and what that takes off the next strake's lower inner edge.
fn hollow(book: &Book<'_>, below: &Strake) -> String {
    let places: Vec<String> = below
        .at
        .iter()
        .filter_map(|a| {
            let (bevel, lap) = a.bevel.zip(a.lap).filter(|(bevel, _)| *bevel < 0.0)?;
            let off = book.len.fine_unit(-lap * bevel.tan());
            (!is_nought(&off)).then(|| format!("{off} at {} ({})", station(book, a), degrees(bevel)))
        })
        .collect();
    if places.is_empty() {
        return "No bevel is planed on it.".to_owned();
    }
    format!(
        "Land {} is hollow in places: there bevel this strake's inner face instead, in a gain on what the rebate has \
         left. Off the corner at its lower edge, running out to nothing across the land: {}.",
        below.strake,
        places.join(", ")
    )
}
