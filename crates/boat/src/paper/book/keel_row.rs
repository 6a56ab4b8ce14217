//! The fastenings of the garboard along the keel: where each goes and what it is.

use super::look;
use super::page::{Book, Page};
use super::rivets::{count, off_station};
use super::tables;
use crate::fastenings::place::{along_lower, from_station_below};
use crate::spec::Fixing;

/// Free between two columns of the sheet, mm.
const GAP: f64 = 7.0;
/// Rows grow to this where there is room, mm.
const ROW: f64 = 7.6;

/// The sheet; none where there are none.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let Some(garboard) = plan.strakes.first() else { return Vec::new() };
    let lower = along_lower(garboard);
    let with = plan.spec.fastenings.keel;
    let what = if with == Fixing::Nails { "nail" } else { "screw" };
    let columns = vec![
        tables::counts("number", 1.0),
        tables::longs(book.len, "along the rabbet", 1.0),
        tables::numbers(book.len, "from a station", 1.0),
        tables::numbers(book.len, what, 1.0),
    ];
    let mut table = tables::table(columns, 1.0);
    for k in &plan.keel_fastenings {
        table.rows.push(tables::row([
            k.n.to_string(),
            book.len.long(k.along),
            off_station(book, from_station_below(garboard, &plan.sections, &lower, k.along)),
            k.length.map_or_else(|| "\u{2013}".to_owned(), |mm| book.len.short(mm)),
        ]));
    }
    let legend = legend(book);
    tables::in_columns(&mut table, GAP, ROW, || {
        let beside = format!("{} a side", count(plan.keel_fastenings.len(), what));
        let mut page = book.page("Garboard to keel", &beside);
        let frame = page.frame;
        page.frame.top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, &legend) - 1.2;
        page
    })
}

fn legend(book: &Book<'_>) -> String {
    let spec = &book.plan.spec;
    let up = book.len.short_unit(0.5 * spec.planking.lap);
    let gauge = spec.fastenings.gauge;
    let what = match (spec.fastenings.keel, spec.fastenings.screw) {
        (Fixing::Screws, Some(screw)) => format!("Screws number {}", screw.gauge),
        _ => format!("Copper nails of gauge {gauge}, driven into the wood behind and not roved"),
    };
    format!(
        "{what}, {up} up from the garboard's lower edge, spaced as the rivets of a land are. Along the rabbet: the garboard's \
         lower inner edge, from its fore end, and from the nearest station's mark. The first and the last of the row are \
         those of the plank's ends."
    )
}
