//! What to order, and how the fastenings go in.

use super::look;
use super::page::{Book, Page};
use super::tables;
use crate::drawing::table::{Group, Table};
use crate::fastenings::stock::{COMPUTED, Kind, Pack};
use crate::fastenings::{self, OrderLine};
use crate::units::POUND;

/// The order, and how rivets are made.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    if book.plan.spec.glued() {
        return super::glue::pages(book);
    }
    let mut pages = order(book);
    pages.push(how(book));
    pages
}

/// Rows of the order are at least so high, mm.
const ROW: f64 = 7.4;

/// The order, as many pages as it needs, with what is said of it after the last row.
fn order<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let blank = || {
        let mut page = book.page("Nails and roves", &plan.spec.name);
        page.frame.top = page.head([page.frame.left, page.frame.top], "To order, for both sides");
        page
    };
    let mut page = blank();
    let frame = page.frame;
    let mut table = order_table(book);
    tables::fit(page.t, &mut table, frame.width());
    tables::grow(page.t, &mut table, frame.width(), ROW);
    let mut pages = Vec::new();
    let mut bottom = frame.top;
    let mut next = 0;
    while next < table.rows.len() {
        if next > 0 {
            pages.push(std::mem::replace(&mut page, blank()));
        }
        let at = [frame.left, frame.top];
        let drawn = table.draw(page.t, &mut page.sheet, at, frame.width(), frame.height(), next);
        (bottom, next) = (drawn.bottom, drawn.next);
    }
    let notes = notes(book);
    let rest = rest(book);
    let (left, right) = (frame.column(0, 2, 11.0), frame.column(1, 2, 11.0));
    let tall = page
        .paragraph_height(left.width(), look::BODY, &notes)
        .max(10.0 + rest.height(page.t, right.width()) + page.paragraph_height(right.width(), look::BODY, YOURS));
    if bottom + 4.0 + tall > frame.bottom {
        pages.push(std::mem::replace(&mut page, blank()));
        bottom = frame.top;
    }
    page.paragraph([left.left, bottom + 4.0], left.width(), look::BODY, &notes);
    if !rest.rows.is_empty() {
        let top = page.head([right.left, bottom + 4.0], "Not in this order, both sides");
        let drawn = rest.draw(page.t, &mut page.sheet, [right.left, top], right.width(), right.bottom - top, 0);
        page.paragraph([right.left, drawn.bottom + 2.5], right.width(), look::BODY, YOURS);
    }
    pages.push(page);
    pages
}

/// Under what is not in the order.
const YOURS: &str =
    "Fasten these with what you trust, and thwarts, knees and gunwales too: what holds them is not counted.";

/// A line for every nail, rove and screw, and their mass under them.
fn order_table(book: &Book<'_>) -> Table {
    let len = book.len;
    let unit = if len.inches() { "lb (kg)" } else { "kg" };
    let columns = vec![
        tables::text("", 1.0),
        tables::counts("gauge", 1.0),
        tables::numbers(book.len, "long, or across", 1.0),
        tables::counts("lands", 1.0),
        tables::counts("plank ends", 1.0),
        tables::counts("keel", 1.0),
        tables::counts("in all", 1.0),
        tables::counts("with spares", 1.0),
        tables::counts("a pack is", 1.0),
        tables::counts("in hand", 1.0),
        tables::counts("buy", 1.0),
        tables::counts(&format!("they weigh, {unit}"), 1.0),
        tables::counts(if len.inches() { "to a lb" } else { "to a kg" }, 1.0),
    ];
    let mut table = tables::table(columns, ROW);
    let group = |from, to, head: &str| Group { from, to, head: head.to_owned() };
    table.groups = vec![group(3, 7, "she takes"), group(8, 11, "packs, and what to buy")];
    let some = |n: u32| if n == 0 { String::new() } else { n.to_string() };
    for line in &book.plan.order {
        let [lands, ends, keel] = line.takes.map(some);
        table.rows.push(tables::row([
            line.kind.word().to_owned(),
            line.gauge.to_string(),
            if line.kind == Kind::Rove { len.fine(line.size) } else { len.short(line.size) },
            lands,
            ends,
            keel,
            line.count().to_string(),
            line.wanted.to_string(),
            line.pack.map_or_else(String::new, |pack| pack_words(book, pack)),
            line.pack.map_or_else(String::new, |_| packs(line.in_hand)),
            if line.pack.is_some() { packs(line.packs) } else { line.bought.to_string() },
            line.bought_mass.map_or_else(String::new, |kg| len.bare_mass(kg, 2)),
            line.each.map_or_else(String::new, |kg| {
                let whole = if len.inches() { POUND } else { 1.0 };
                Pack::Mass(whole).pieces(kg).to_string()
            }),
        ]));
    }
    let mass: f64 = book.plan.order.iter().filter_map(|l| l.bought_mass).sum();
    let mut all = vec![String::new(); 11];
    all[0] = "all".to_owned();
    all.extend([len.bare_mass(mass, 2), String::new()]);
    table.rows.push(tables::row(all));
    table
}

fn packs(n: u32) -> String {
    match n {
        0 => "none".to_owned(),
        1 => "1 pack".to_owned(),
        n => format!("{n} packs"),
    }
}

/// What a pack is: `250`, `1 kg`, `0.5 lb`.
fn pack_words(book: &Book<'_>, pack: Pack) -> String {
    let (mass, unit) = match pack {
        Pack::Count(n) => return n.to_string(),
        Pack::Mass(kg) if book.len.inches() => (kg / POUND, "lb"),
        Pack::Mass(kg) => (kg, "kg"),
    };
    let digits = format!("{mass:.2}");
    format!("{} {unit}", digits.trim_end_matches('0').trim_end_matches('.'))
}

/// What is said of the order.
fn notes(book: &Book<'_>) -> String {
    let plan = book.plan;
    let spec = &plan.spec.fastenings;
    let of = |kind: Kind| plan.order.iter().any(move |l: &OrderLine| l.kind == kind);
    let mut text = fastenings::left_out(&plan.rivets, &plan.ends, &plan.keel_fastenings);
    if !text.is_empty() {
        text.push(' ');
    }
    text.push_str(&format!(
        "Square copper nails, their gauge the imperial standard wire gauge, and a rove to each rivet. Spares: {:.0} in the \
         hundred over, for bent ones and losses, each line rounded up. ",
        spec.spare * 100.0
    ));
    if plan.order.iter().any(|l| l.pack.is_some()) {
        text.push_str("Packs are bought whole, less those in hand. ");
    }
    text.push_str(COMPUTED);
    text.push_str(" A real head takes a little more, so a pack sold by mass holds fewer than reckoned.");
    if of(Kind::Screw) {
        text.push_str(" Screws go by the number they are sold by; what they weigh is not reckoned.");
    }
    let mass: f64 = plan.order.iter().filter(|l| l.kind != Kind::Screw).map(OrderLine::mass).sum();
    text.push_str(&format!(" The nails and roves she takes weigh {}, without spares.", book.len.0.mass(mass, 2)));
    text
}

/// How rivets are made, and safely.
fn how<'a>(book: &Book<'a>) -> Page<'a> {
    let mut page = book.page("Riveting", &book.plan.spec.name);
    let rules = rules(book);
    let rules: Vec<(&str, &str)> = rules.iter().map(|(head, text)| (*head, text.as_str())).collect();
    let halves = rules.split_at(rules.len().div_ceil(2));
    let columns = [(page.frame.column(0, 2, 11.0), halves.0), (page.frame.column(1, 2, 11.0), halves.1)];
    let size = columns.iter().map(|(place, half)| page.prose_size(*place, half)).fold(f64::MAX, f64::min);
    for (place, half) in columns {
        page.prose(place, size, half);
    }
    page
}

/// The fastenings that are counted and not ordered.
fn rest(book: &Book<'_>) -> Table {
    let mut table = tables::table(vec![tables::text("", 3.0), tables::counts("she takes", 1.0)], 6.4);
    for r in book.plan.rest.iter().filter(|r| r.with.is_none()) {
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

fn rules(book: &Book<'_>) -> [(&'static str, String); 7] {
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
            "Each card says which rivets a mould is in the way of, and the sheet of those that wait has them mould by mould. \
             Leave them until that mould is out, and tick them off: they are the ones that get forgotten."
                .to_owned(),
        ),
        (
            "Scrap first",
            "Make up a lap of offcuts of the same thickness, bevel and all, and put in a few rivets of each length before the \
             first hole in the boat: try the drill, the rove, and how much to leave. Saw one through and look."
                .to_owned(),
        ),
        (
            "Eyes and ears",
            "Cut nail ends fly: cover your eyes and your helper's, snip towards the floor, and sweep up. A rivet driven \
             against a dolly is loud enough to harm hearing: ear defenders on both sides of the plank."
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
