//! The record of the build: what hangs, what is fastened, and how long it took.

use super::page::{Book, Page};
use super::tables;
use crate::worked::{OnStrake, Worked};

/// One page, and more where the table goes on.
pub fn pages<'a>(book: &Book<'a>, worked: &Worked) -> Vec<Page<'a>> {
    let blank = || book.page("Record of the build", &book.plan.spec.name);
    let mut page = blank();
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));
    let mut table = tables::table(
        vec![
            tables::counts("strake", 0.8),
            tables::text("hung", 1.3),
            tables::counts("fastened, port", 1.1),
            tables::counts("fastened, starboard", 1.1),
            tables::counts("of, a side", 0.8),
            tables::counts("hours", 0.8),
        ],
        6.2,
    );
    for (i, (on, of)) in worked.strakes.iter().zip(&worked.of).enumerate().rev() {
        let [port, starboard] = on.fastened.map(|n| n.to_string());
        let hours = on.hours.iter().sum::<f64>();
        table.rows.push(tables::row([
            (i + 1).to_string(),
            hung(on).to_owned(),
            port,
            starboard,
            of.to_string(),
            hours_said(hours),
        ]));
    }
    let row = (left.height() - 12.0) / table.rows.len().max(1) as f64;
    tables::grow(page.t, &mut table, left.width(), row.clamp(6.2, 8.6));
    let drawn = table.draw(page.t, &mut page.sheet, [left.left, left.top], left.width(), left.height(), 0);

    let mut hours = tables::table(vec![tables::text("hours on", 2.0), tables::counts("hours", 1.0)], 6.2);
    let strakes: f64 = worked.strakes.iter().flat_map(|s| s.hours).sum();
    for (what, spent) in [
        ("the strakes", strakes),
        ("the timbers", worked.timbers),
        ("the rivets", worked.rivets),
        ("other work", worked.other),
        ("all of it", worked.hours()),
    ] {
        hours.rows.push(tables::row([what.to_owned(), hours_said(spent)]));
    }
    tables::grow(page.t, &mut hours, right.width(), 7.4);
    hours.draw(page.t, &mut page.sheet, [right.left, right.top], right.width(), right.height(), 0);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, blank));
    pages
}

fn hung(on: &OnStrake) -> &'static str {
    match on.hung {
        [true, true] => "both sides",
        [true, false] => "port",
        [false, true] => "starboard",
        [false, false] => "\u{2013}",
    }
}

/// To a hundredth of an hour, without useless noughts.
fn hours_said(hours: f64) -> String {
    if hours == 0.0 {
        "\u{2013}".to_owned()
    } else {
        format!("{hours:.2}").trim_end_matches('0').trim_end_matches('.').to_owned()
    }
}
