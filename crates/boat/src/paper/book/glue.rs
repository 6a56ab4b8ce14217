//! What takes the nails' place in a glued boat.

use super::page::{Book, Frame, Page};
use super::tables;
use crate::drawing::table::Table;
use crate::planks;
use crate::units::INCH;

/// As many pages as its table needs.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.page("Glue", &plan.spec.name);
    let area = |mm2: f64| book.len.area(mm2, 1);
    let rate = plan.spec.planking.glue_rate;
    let takes = rate.map_or_else(
        || "How much glue that takes is not reckoned: give your own rate (planking.glue_rate).".to_owned(),
        |rate| {
            let kg = plan.glue_area * 1e-6 * rate * 1e-3;
            format!("At {rate:.0} g a square metre: {} mixed, without waste.", book.len.0.mass(kg, 2))
        },
    );
    let lands = format!(
        "The lands of both sides are {} in area, each counted once. {takes} Plank ends, scarfs, keel and transom are not in it.",
        area(plan.glue_area)
    );
    let sheets = plan.sheets.map(|s| {
        format!(
            "{} in the rack, {} in all; the planks of both sides are {} laid flat. Waste and scarfs are not reckoned.",
            super::rivets::count(s.count, "sheet"),
            area(s.area),
            area(s.planks)
        )
    });
    let mut sections = vec![
        ("The lands", lands.as_str()),
        (
            "Fit",
            "Glue fills little that is not planed: cut bevels and gains as the cards say, and try each plank dry before \
             anything is mixed. Clamp as the glue's maker says.",
        ),
        (
            "Epoxy on skin, its vapour and its dust",
            "Uncured resin and hardener can bring on an allergy that stays for life, and dust of glue not fully cured does \
             too. Gloves and covered arms, fresh air, a fitting mask when sanding; never wash skin with solvent. The maker's \
             safety sheet and local codes come before this page.",
        ),
    ];
    if let Some(sheets) = &sheets {
        sections.insert(1, ("Sheets", sheets.as_str()));
    }
    let frame = page.frame;
    let words = Frame { right: frame.left + 0.54 * frame.width(), ..frame };
    let size = page.prose_size(words, &sections);
    page.prose(words, size, &sections);

    let beside = Frame { left: words.right + 11.0, ..frame };
    let top = page.head([beside.left, beside.top], "To mix for each land, one side");
    let mut table = each_land(book);
    tables::fit(page.t, &mut table, beside.width());
    let room = beside.bottom - top - table.head_height(page.t, beside.width());
    let row = (room / table.rows.len().max(1) as f64).clamp(6.2, 9.0);
    tables::grow(page.t, &mut table, beside.width(), row);
    let drawn = table.draw(page.t, &mut page.sheet, [beside.left, top], beside.width(), beside.bottom - top, 0);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, || book.page("Glue", &plan.spec.name)));
    pages
}

/// Each land's length, area and glue.
fn each_land(book: &Book<'_>) -> Table {
    let spec = &book.plan.spec.planking;
    let unit = if book.len.inches() { "area, sq in" } else { "area, cm²" };
    let columns = vec![
        tables::names("land", 0.7),
        tables::longs(book.len, "long", 1.0),
        tables::counts(unit, 1.0),
        tables::counts("glue, g", 1.0),
    ];
    let mut table = tables::table(columns, 6.2);
    for strake in book.plan.strakes.iter().filter(|s| s.at.iter().any(|a| a.bevel.is_some())) {
        let mm2 = planks::bevels::land_area(strake, spec.lap);
        let area = if book.len.inches() { mm2 / (INCH * INCH) } else { mm2 * 0.01 };
        let glue = spec.glue_rate.map_or_else(|| "\u{2013}".to_owned(), |rate| format!("{:.0}", mm2 * 1e-6 * rate));
        let long = strake.rulings.last().map_or(0.0, |r| r.along);
        table.rows.push(tables::row([strake.strake.to_string(), book.len.long(long), format!("{area:.0}"), glue]));
    }
    table
}
