//! The rivets that wait until a mould is out, mould by mould.

use super::look;
use super::page::{Book, Page};
use super::rivets::count;
use super::strake::short_name;
use super::tables;
use crate::drawing::table::{Cell, Row};
use crate::fastenings;

/// Free between two columns of the sheet, mm.
const GAP: f64 = 7.0;
/// Rows grow to this where there is room, mm.
const ROW: f64 = 7.4;
/// Numbers in a row; more go on in the next.
const IN_A_ROW: usize = 6;

/// As many pages as the list needs; none where no rivet waits.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let columns = vec![
        tables::names("mould", 1.0),
        tables::counts("land", 1.0),
        tables::text("rivets", 2.4),
        tables::counts("port", 0.8),
        tables::counts("starb.", 0.8),
    ];
    let mut table = tables::table(columns, 6.2);
    table.columns[2].style = look::NUMBER;
    for waits in fastenings::waiting(&book.plan.rivets) {
        let mut name = short_name(&book.plan.moulds[waits.mould].name);
        for (land, rivets) in &waits.lands {
            for (i, some) in rivets.chunks(IN_A_ROW).enumerate() {
                let first = !name.is_empty();
                let numbers: Vec<String> = some.iter().map(ToString::to_string).collect();
                let land = if i == 0 { land.to_string() } else { String::new() };
                let cells = [std::mem::take(&mut name), land, numbers.join(", "), String::new(), String::new()];
                let ground = first.then_some(look::COPPER_TINT);
                let cells = cells.into_iter().map(|text| Cell { ground, ..Cell::from(text) }).collect();
                table.rows.push(Row { cells });
            }
        }
    }
    let waiting = count(book.plan.rivets.iter().filter(|r| r.blocked_by.is_some()).count(), "rivet");
    tables::in_columns(&mut table, GAP, ROW, || {
        let mut page = book.page("Rivets that wait", &format!("{waiting} a side"));
        let frame = page.frame;
        page.frame.top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, LEGEND) - 1.2;
        page
    })
}

const LEGEND: &str = "When a mould is out, these go in: it is in their way, with the room that punch and hammer want beside it. Numbered from the bow, as on \
                      the sheet of each land's rivets. Tinted: a mould begins. Tick each land off on both sides when its rivets are in.";
