//! The bevels of one land, to be worked down along the plank: at every station and timber, and every so far between.

use super::length::{UNSEEN, degrees, is_nought};
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::short_name;
use super::tables;
use crate::drawing::table::{Row, Table};
use crate::drawing::{Anchor, Face, Shape, Stroke, Weight};
use crate::planks::{BevelAt, BevelPlace, Strake};

/// Free between two columns of the sheet, mm.
const GAP: f64 = 6.0;
/// Rows are at least and at most so high, mm.
const ROW: (f64, f64) = (6.2, 8.6);
/// Kept free under the table for the gauge block, mm.
const FOOT: f64 = 33.0;
/// A place between stations and timbers that is nearer to one of them than this is left out, mm.
const NEAR: f64 = 25.4;

/// The sheets of the land on a strake's upper edge; none on the sheer strake.
pub fn pages<'a>(book: &Book<'a>, strake: &Strake) -> Vec<Page<'a>> {
    let bevels = of_land(book, strake.strake);
    let mut table = empty(book);
    table.rows = bevels.iter().map(|b| row(book, strake, b)).collect();
    if !gained(&bevels) {
        table.columns.truncate(GAIN);
        table.rows.iter_mut().for_each(|row| row.cells.truncate(GAIN));
    }
    tables::in_columns(&mut table, GAP, ROW.1, || blank(book, strake, &bevels))
}

/// The column of the gains' depths, the last.
const GAIN: usize = 5;

/// Whether any of them stands in a gain.
fn gained(bevels: &[&BevelAt]) -> bool {
    bevels.iter().any(|b| b.gain > UNSEEN)
}

/// The bevels of a land from the bow, but for those that stand hard by a station or a timber.
fn of_land<'a>(book: &Book<'a>, land: usize) -> Vec<&'a BevelAt> {
    let all: Vec<&BevelAt> = book.plan.bevels.iter().filter(|b| b.land == land).collect();
    let near = NEAR.min(0.25 * book.plan.spec.planking.bevel_every);
    let named = |b: &BevelAt| b.place != BevelPlace::Step;
    let hard_by = |b: &BevelAt| all.iter().any(|other| named(other) && (other.along - b.along).abs() < near);
    all.iter().copied().filter(|b| named(b) || !hard_by(b)).collect()
}

fn empty(book: &Book<'_>) -> Table {
    let columns = vec![
        tables::longs(book.len, "from bow", 1.0),
        tables::names("at", 1.0),
        tables::counts("bevel", 1.0),
        tables::numbers(book.len, "block deep", 1.0),
        tables::numbers(book.len, "edge left", 1.0),
        tables::numbers(book.len, "gain deep", 1.0),
    ];
    tables::table(columns, ROW.0)
}

fn row(book: &Book<'_>, strake: &Strake, bevel: &BevelAt) -> Row {
    let place = match bevel.place {
        BevelPlace::Section(j) => book.plan.sections.get(j).map_or_else(String::new, |s| short_name(&s.place())),
        BevelPlace::Timber(i) => book.plan.timbers.get(i).map_or_else(String::new, |t| format!("timber {}", t.n)),
        BevelPlace::Step => String::new(),
    };
    let gain = book.len.fine(bevel.gain);
    let mut row = tables::row([
        book.len.long(bevel.along),
        place,
        degrees(bevel.bevel),
        depth(book, bevel),
        book.len.fine(bevel.edge_left),
        if is_nought(&gain) || bevel.gain < UNSEEN { String::new() } else { gain },
    ]);
    if !matches!(bevel.place, BevelPlace::Section(_)) {
        for (cell, column) in row.cells.iter_mut().zip(&empty(book).columns) {
            cell.style = Some(column.style.face(Face::Regular));
        }
    }
    if thin(book, strake, bevel) {
        row.cells[4].ground = Some(look::COPPER_TINT);
    }
    row
}

/// Depth of the gauge block; in a hollow with a minus.
fn depth(book: &Book<'_>, bevel: &BevelAt) -> String {
    let depth = book.len.fine(bevel.off);
    if bevel.bevel < 0.0 && !is_nought(&depth) { format!("\u{2212}{depth}") } else { depth }
}

/// Whether less is left at the edge than was asked for.
fn thin(book: &Book<'_>, strake: &Strake, bevel: &BevelAt) -> bool {
    let share = 1.0 - bevel.gain / strake.thickness;
    bevel.edge_left < book.plan.spec.planking.edge_floor * share - UNSEEN
}

fn blank<'a>(book: &Book<'a>, strake: &Strake, bevels: &[&BevelAt]) -> Page<'a> {
    let k = strake.strake;
    let mut page = book.page(&format!("Bevels of land {k}"), &format!("strake {} on strake {k}", k + 1));
    let frame = page.frame;
    let legend = legend(book, k, gained(bevels));
    page.frame.top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, &legend) - 1.2;
    page.frame.bottom -= FOOT;
    let foot = Frame { top: page.frame.bottom + 4.0, ..frame };
    gauge(&mut page, book, strake, bevels, foot);
    page
}

fn legend(book: &Book<'_>, k: usize, gained: bool) -> String {
    let every = book.len.short_unit(book.plan.spec.planking.bevel_every);
    let (after, gain) =
        if gained { ("gain and bevel", "; gain: depth of the rebate that is cut first") } else { ("the bevel", "") };
    let timbers = if book.plan.timbers.is_empty() { "at every station" } else { "at every station and timber" };
    format!(
        "Square to the land, {timbers} and every {every}; along the land line, strake {k}'s upper inner edge, from its \
         fore end. A block that deep shows what to plane off strake {k}'s upper outer edge; edge left: thickness left \
         there after {after}{gain}."
    )
}

/// The gauge block in use, how it is made, and what a minus and a tint mean.
fn gauge(page: &mut Page<'_>, book: &Book<'_>, strake: &Strake, bevels: &[&BevelAt], frame: Frame) {
    let right = block(page, frame);
    let (lap, k) = (book.len.short_unit(book.plan.spec.planking.lap), strake.strake);
    let depths: Vec<f64> = bevels.iter().map(|b| b.off).filter(|off| !is_nought(&book.len.fine(*off))).collect();
    let least = depths.iter().copied().fold(f64::INFINITY, f64::min);
    let most = depths.iter().copied().fold(0.0, f64::max);
    let these = match (depths.is_empty(), book.len.fine(least) == book.len.fine(most)) {
        (true, _) => "on this land there is next to nothing to plane".to_owned(),
        (false, true) => format!("on this land all of them {}", book.len.fine_unit(most)),
        (false, false) => format!("on this land {} to {}", book.len.fine(least), book.len.fine_unit(most)),
    };
    let mut words = format!(
        "Plane a strip to a wedge as wide as the land, {lap}, from nothing at one side to the depth at the other ({these}); saw \
         blocks off it and mark them. Laid on the planed land with its thick side at the upper edge, a block fills what \
         was planed off: a straight-edge on the strake's outer face must lie flat on it."
    );
    if gained(bevels) {
        words.push_str(" In a gain its top stays below the face by the gain's depth, alike all across.");
    }
    if bevels.iter().any(|b| degrees(b.bevel).starts_with('\u{2212}')) {
        words.push_str(&format!(
            " Where bevel and depth are \u{2212}, leave strake {k} square there and plane strake {}'s lower inner edge; the \
             block's thick side lies at that edge.",
            k + 1
        ));
    }
    if bevels.iter().any(|b| thin(book, strake, b)) {
        words.push_str(
            " Tinted: less is left than was asked for (planking.edge_floor), and the findings say how much and what to do: look \
             there before you cut.",
        );
    }
    let beside = Frame { left: right + 8.0, ..frame };
    let sections = [("A gauge block", words.as_str())];
    let size = page.prose_size(beside, &sections).min(3.8);
    page.prose(beside, size, &sections);
}

/// A strake's upper edge lying on the bench, its land planed, with a block and a straight-edge on it, at no scale; returns
/// its right side.
fn block(page: &mut Page<'_>, frame: Frame) -> f64 {
    let (long, thick, lap, off) = (52.0, 10.0, 21.0, 4.6);
    let (left, top) = (frame.left, frame.top + 9.0);
    let at = |u: f64, down: f64| [left + u, top + down];
    let wood = vec![at(0.0, 0.0), at(long - lap, 0.0), at(long, off), at(long, thick), at(0.0, thick)];
    page.put("boat", Shape::area(wood, look::WOOD, Some(look::OUTLINE)));
    let wedge = vec![at(long - lap, 0.0), at(long, 0.0), at(long, off)];
    page.put("boat", Shape::area(wedge, look::COPPER_TINT, Some(Stroke::solid(Weight::Thin, look::COPPER))));
    let edge = vec![at(10.0, -3.2), at(long + 6.0, -3.2), at(long + 6.0, 0.0), at(10.0, 0.0)];
    page.put("boat", Shape::polygon(edge, Stroke::solid(Weight::Thin, look::INK)));
    page.words(at(10.0, -4.8), Anchor::Left, look::NOTE, "straight-edge");
    page.words(at(long + 2.0, 0.5 * off + 1.2), Anchor::Left, look::NOTE, "block's depth");
    page.words(at(2.0, 0.5 * thick + 1.1), Anchor::Left, look::NOTE, "outer face up");
    let under = thick + 2.0;
    page.line(vec![at(long - lap, under), at(long, under)], look::GUIDE);
    for u in [long - lap, long] {
        page.line(vec![at(u, under - 1.0), at(u, under + 1.0)], look::GUIDE);
    }
    page.words(at(long - 0.5 * lap, under + 3.6), Anchor::Middle, look::NOTE, "the land");
    left + long + 22.0
}
