//! What to order, and how the fastenings go in.

use super::look;
use super::page::{Book, Frame, Page};
use super::tables;
use crate::drawing::table::Table;
use crate::drawing::{Anchor, Face};
use crate::fastenings;
use crate::planks;

/// One page.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    if plan.spec.glued() {
        return glue(book);
    }
    let spec = &plan.spec.fastenings;
    let mut page = book.page("Nails and roves", &plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));

    let top = page.head([left.left, left.top], "To order, for both sides");
    let unit = if book.len.inches() { "lb (kg)" } else { "kg" };
    let mut table = tables::table(
        vec![
            tables::counts("gauge", 0.8),
            tables::numbers(book, "length", 1.0),
            tables::counts("she takes", 1.0),
            tables::counts("order", 1.0),
            tables::counts(&format!("mass of the order, {unit}"), 1.6),
        ],
        7.4,
    );
    let (mut takes, mut order, mut mass) = (0, 0, 0.0);
    for line in &plan.nails {
        let (ordered, ordered_mass) = line.order(spec.spare);
        (takes, order, mass) = (takes + line.count, order + ordered, mass + ordered_mass);
        table.rows.push(tables::row([
            line.gauge.to_string(),
            book.len.short(line.length),
            line.count.to_string(),
            ordered.to_string(),
            book.len.bare_mass(ordered_mass, 2),
        ]));
    }
    table.rows.push(tables::row([
        String::new(),
        "all".to_owned(),
        takes.to_string(),
        order.to_string(),
        book.len.bare_mass(mass, 2),
    ]));
    tables::grow(page.t, &mut table, left.width(), 8.6);
    let drawn = table.draw(page.t, &mut page.sheet, [left.left, top], left.width(), left.bottom - top, 0);
    let notes = format!(
        "Square copper nails, their gauge the imperial standard wire gauge, and as many roves, {} across. The order has \
         {:.0} in the hundred over for bent ones and losses; the nails she takes weigh {} of it.",
        book.len.fine_unit(spec.rove_diameter),
        spec.spare * 100.0,
        book.len.0.mass(plan.nails.iter().map(|n| n.mass).sum(), 2),
    );
    let left_out = fastenings::left_out(&plan.rivets);
    let notes = if left_out.is_empty() { notes } else { format!("{left_out} {notes}") };
    let y = page.paragraph([left.left, drawn.bottom + 3.5], left.width(), look::BODY, &notes);
    let top = page.head([left.left, y + 2.0], "Not in this order, both sides");
    let rest = rest(book);
    let drawn = rest.draw(page.t, &mut page.sheet, [left.left, top], left.width(), left.bottom - top, 0);
    let note = "Fasten these with what you trust; along the keel they are spaced as the rivets of a land are. Thwarts, knees \
                and gunwales are not planned.";
    page.paragraph([left.left, drawn.bottom + 2.5], left.width(), look::BODY, note);

    let rules = rules(book);
    let rules: Vec<(&str, &str)> = rules.iter().map(|(head, text)| (*head, text.as_str())).collect();
    let over = Frame { bottom: right.bottom - 8.0, ..right };
    let size = page.prose_size(over, &rules);
    page.prose(over, size, &rules);
    let note = "Try each length in scrap of the same thickness before you drill the boat.";
    page.words([right.left, right.bottom - 1.0], Anchor::Left, look::BODY.face(Face::Italic), note);
    vec![page]
}

/// What takes the nails' place in a glued boat.
fn glue<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut page = book.page("Glue", &plan.spec.name);
    let area = |mm2: f64| {
        let m2 = mm2 * 1e-6;
        if book.len.inches() { format!("{:.1} sq ft", m2 * 10.7639) } else { format!("{m2:.2} m²") }
    };
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
    if drawn.next < table.rows.len() {
        table.rows.drain(..drawn.next);
        pages.extend(tables::in_columns(&mut table, 11.0, 9.0, || book.page("Glue", &plan.spec.name)));
    }
    pages
}

/// Each land's length, area and glue.
fn each_land(book: &Book<'_>) -> Table {
    let spec = &book.plan.spec.planking;
    let unit = if book.len.inches() { "area, sq in" } else { "area, cm²" };
    let columns = vec![
        tables::names("land", 0.7),
        tables::longs(book, "long", 1.0),
        tables::counts(unit, 1.0),
        tables::counts("glue, g", 1.0),
    ];
    let mut table = tables::table(columns, 6.2);
    for strake in book.plan.strakes.iter().filter(|s| s.at.iter().any(|a| a.bevel.is_some())) {
        let mm2 = planks::bevels::land_area(strake, spec.lap);
        let area = if book.len.inches() { mm2 / (25.4 * 25.4) } else { mm2 * 0.01 };
        let glue = spec.glue_rate.map_or_else(|| "\u{2013}".to_owned(), |rate| format!("{:.0}", mm2 * 1e-6 * rate));
        let long = strake.rulings.last().map_or(0.0, |r| r.along);
        table.rows.push(tables::row([strake.strake.to_string(), book.len.long(long), format!("{area:.0}"), glue]));
    }
    table
}

/// The fastenings that are counted and not ordered.
fn rest(book: &Book<'_>) -> Table {
    let mut table = tables::table(vec![tables::text("", 3.0), tables::counts("she takes", 1.0)], 6.4);
    for r in &book.plan.rest {
        table.rows.push(tables::row([r.what.clone(), r.count.to_string()]));
    }
    table
}

/// Where the nail is cut: about a millimetre up, or a thirty-second of an inch.
fn cut(book: &Book<'_>) -> String {
    let clench = book.plan.spec.fastenings.clench;
    if clench <= 0.0 {
        return "at the rove".to_owned();
    }
    let up = if book.len.inches() { book.len.fine_unit(clench) } else { book.len.0.said(clench) };
    format!("about {up} above the rove")
}

fn rules(book: &Book<'_>) -> [(&'static str, String); 5] {
    let spec = &book.plan.spec.fastenings;
    [
        (
            "Where",
            format!(
                "Through the middle of the land, at every timber and {} evenly between each two{}. Holes at timbers are \
                 drilled when the timbers are in.",
                spec.between,
                spec.apart.map_or_else(String::new, |n| format!(", more where they would stand over {n} plank thicknesses apart")),
            ),
        ),
        (
            "The hole",
            "It splits the angle between the two planks evenly: lean the drill half the bevel, so that head and rove \
             both bed square enough and the head keeps its distance from the outer plank's edge."
                .to_owned(),
        ),
        (
            "The rivet",
            format!(
                "Drive the nail from outside until its head is just in. Hold the dolly hard against the head. Punch the \
                 rove down to the wood without drawing it in, cut the nail {}, and round it over with many light blows \
                 of a small hammer.",
                cut(book)
            ),
        ),
        (
            "Rivets behind moulds",
            "Each card says which rivets a mould is in the way of. Leave them until that mould is out, and tick them off: \
             they are the ones that get forgotten."
                .to_owned(),
        ),
        (
            "Too long, too short",
            "A nail's length here is the wood it holds, the rove, and what is rounded over, up to the next length in \
             stock. Nails left long by more than the next size down are worth sorting out before they are cut."
                .to_owned(),
        ),
    ]
}
