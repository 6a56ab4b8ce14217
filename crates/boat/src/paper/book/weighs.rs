//! What she weighs: her parts, what is aboard with each company, and what is in none of it.

use super::page::{Book, Page};
use super::tables;
use crate::flotation::{Flotation, OVER_THWART, PERSON};
use crate::geom::Point;

/// What one person lifts with others, kg. Common practice, no source.
const EACH: f64 = 20.0;

/// What follows from the parts that are not weighed; nothing where all are.
pub fn too_light(book: &Book<'_>, so: &str) -> String {
    let left_out = &book.plan.weights.left_out;
    if left_out.is_empty() { String::new() } else { format!("Not weighed: {}. {so} ", left_out.join("; ")) }
}

/// A mass for a column headed by [`mass_head`]; under 10 kg to a tenth.
pub fn kg(book: &Book<'_>, kg: f64) -> String {
    let places = usize::from(kg < 10.0);
    book.len.bare_mass(kg, places)
}

/// Her parts are told to a tenth up to so much, kg.
const TENTHS_TO: f64 = 100.0;

/// The unit that heads a column of masses.
pub fn mass_head(book: &Book<'_>) -> &'static str {
    if book.len.inches() { "lb (kg)" } else { "kg" }
}

/// Her parts, and what is aboard.
pub fn page<'a>(book: &Book<'a>, found: &Flotation) -> Page<'a> {
    let (plan, w) = (book.plan, &book.plan.weights);
    let mut page = book.page("What she weighs", &plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));
    let columns = || {
        vec![
            tables::text("", 2.8),
            tables::counts(mass_head(book), 1.3),
            tables::longs(book.len, "its middle aft of the first station", 1.3),
            tables::longs(book.len, "over base", 1.0),
        ]
    };
    // To a tenth, so that they add up.
    let row = |name: &str, mass: f64, at: &Point| {
        let said = book.len.bare_mass(mass, usize::from(mass < TENTHS_TO));
        tables::row([name.to_owned(), said, book.len.long(at.x), book.len.long(at.z)])
    };
    let companies =
        || found.companies.iter().take(super::flotation::SHOWN).map(|c| &c.company).filter(|c| !c.aboard.is_empty());
    // What is always aboard is told once, of the boat light.
    let always = found.companies.first().map_or(0, |c| c.company.aboard.len());
    let filled = |each: bool, height: f64, size: f64| {
        let mut table = tables::table(columns(), height);
        table.columns.iter_mut().for_each(|column| column.style.size = size);
        table.rows.extend(w.parts.iter().map(|p| row(&p.name, p.mass, &p.centre)));
        table.rows.push(row("the boat", w.total, &w.centre));
        for (i, c) in companies().enumerate() {
            let told = if i == 0 { 0 } else { always };
            if each {
                table.rows.extend(c.aboard.iter().skip(told).map(|a| row(&a.name, a.mass, &a.at)));
            }
            table.rows.push(row(&format!("all told, {}", c.name), c.load.mass, &c.load.centre));
        }
        table
    };
    // Smaller where much is aboard, and sums alone where it is more than the page holds.
    let tried = [(true, 6.2, 3.9), (true, 5.2, 3.6), (true, 4.5, 3.4), (false, 5.2, 3.6)];
    let [.., last] = tried;
    let fits = |(each, height, size): &(bool, f64, f64)| {
        filled(*each, *height, *size).height(page.t, left.width()) <= left.height()
    };
    let (each, height, size) = tried.into_iter().find(fits).unwrap_or(last);
    let table = filled(each, height, size);
    table.draw(page.t, &mut page.sheet, [left.left, left.top], left.width(), left.height(), 0);

    let missing = if w.left_out.is_empty() {
        "Glue, bedding, fittings, rudder, and whatever boat.toml gives no size: weigh it and put it in as a load."
            .to_owned()
    } else {
        format!(
            "Not weighed: {}. Give their sizes, or weigh them and put them in as loads. Nor are glue, bedding, fittings and rudder.",
            w.left_out.join("; ")
        )
    };
    let moist = format!(
        "Woods weigh what boat.toml or the Wood Handbook says of them dry, at 12 percent moisture. Afloat, at {} percent, her \
         planks take up about {} of water: put that in as a load if she lies afloat all summer.",
        plan.spec.moisture.afloat,
        book.len.0.mass(w.taken_up, 0)
    );
    let mut sections = vec![("What is not in it", missing.as_str())];
    if w.taken_up > 0.0 {
        sections.push(("Wet and dry", moist.as_str()));
    }
    let assumed = format!(
        "boat.toml names no company, so one person of {} and two are reckoned on the thwarts nearest her middle, their \
         middles {} over the seat. That is our assumption and nobody\u{2019}s weight: put your own people and gear in as \
         [[loads]], each with its mass, place and height, and with whom it is aboard (when).",
        book.len.0.mass(PERSON, 0),
        book.len.short_unit(OVER_THWART)
    );
    if found.companies.iter().any(|c| c.company.assumed) {
        sections.push(("Who is aboard", assumed.as_str()));
    }
    let hands = (w.total / EACH).ceil();
    let lift = format!(
        "Lifting or turning her, at {} a hand (common practice, no source) this much wants {}, and more where they cannot \
         stand close: say who gives the word, tie what is loose in her, and let nobody go beneath.",
        book.len.0.mass(EACH, 0),
        if hands > 1.0 { format!("{hands:.0} people") } else { "one".to_owned() }
    );
    sections.push(("Lifting and turning her", lift.as_str()));
    sections.push((
        "How true it is",
        "A board of yours may be a tenth heavier or lighter than the mean of its kind. Bevels, rabbets and notches are not taken off, \
         so parts come out a little heavy; glue, bedding and fittings are not in it. When she is built, weigh her: two scales \
         under her ends give weight and centre at once.",
    ));
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    page
}
