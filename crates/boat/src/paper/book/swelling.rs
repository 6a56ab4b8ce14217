//! How the planks widen afloat and narrow ashore.

use super::page::{Book, Page};
use super::tables;
use crate::spec::Rings;
use crate::swelling::at_lands;
use crate::units::INCH;

/// One page, and more where the table goes on; none where nothing is known of the wood.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let Some(shrinkage) = plan.spec.moisture.across().filter(|_| !plan.swelling.is_empty()) else {
        return Vec::new();
    };
    let blank = || book.page("How her planks move", &plan.spec.name);
    let mut page = blank();
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));

    let mut table = tables::table(
        vec![
            tables::counts("strake", 0.7),
            tables::numbers(book.len, "widest", 1.0),
            tables::numbers(book.len, "afloat", 1.0),
            tables::numbers(book.len, "ashore", 1.0),
            tables::numbers(book.len, "afloat, between its lands", 1.2),
        ],
        6.2,
    );
    for s in &plan.swelling {
        table.rows.push(tables::row([
            s.strake.to_string(),
            book.len.short(s.width),
            book.len.fine_signed(s.afloat),
            book.len.fine_signed(s.ashore),
            s.between().map_or_else(|| "\u{2013}".to_owned(), |b| book.len.fine_signed(b[0])),
        ]));
    }
    let row = (left.height() - 12.0) / table.rows.len().max(1) as f64;
    tables::grow(page.t, &mut table, left.width(), row.clamp(6.2, 8.6));
    let drawn = table.draw(page.t, &mut page.sheet, [left.left, left.top], left.width(), left.height(), 0);

    let m = plan.spec.moisture;
    let sawn = if m.rings == Rings::Flat { "Flat-sawn" } else { "Quarter-sawn" };
    let wood = plan.spec.planking.wood.name.as_str();
    let all: f64 = plan.swelling.iter().filter_map(|s| Some(s.between()?[0])).sum();
    let moves = format!(
        "Wood widens across its grain as it takes up water, and hardly at all along it. {sawn} {wood} loses {shrinkage} in the \
         hundred of its width from green to ovendry. Reckoned here: planks fitted at {} percent moisture, afloat at {}, dried out \
         ashore at {} (moisture in boat.toml). Above 30 percent nothing more happens.",
        m.shop, m.afloat, m.ashore
    );
    let lands = format!(
        "The first figures are a plank's whole width, left free. Between the rivets of two lands it is not free: what it would \
         gain there, {} over all strakes of a side, presses on them, and the lands close up and grow tight. Fitted wetter than \
         she will lie, the planks pull on their rivets instead and may split along a row of them; so a plank should not be \
         wetter when it is fitted than it will be in a dry spring ashore.",
        format_args!("{} {}", book.len.fine_signed(all), book.len.0.unit())
    );
    let laps = laps(book);
    let sections = [
        ("What is reckoned", moves.as_str()),
        ("Between the lands", lands.as_str()),
        ("At the lands", laps.as_str()),
        (
            "Ashore",
            "Dried out, lands open and she leaks when she is launched, until they take up. Let her dry slowly: shade, a cover \
             that lets air through, no wind from one side, and wet her inside for some days before she goes in. Do not fill \
             lands that will close by themselves: what is put into them when they are open bursts them when they swell.",
        ),
        (
            "How true it is",
            "The wood\u{2019}s own figure is a mean of clear samples (Wood Handbook, table 4-3); a board of yours may move by \
             a good deal more or less. Paint and oil slow water down, and rings that lie slantwise move by less than flat-sawn ones.",
        ),
    ];
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, blank));
    pages
}

/// What the two planks do at a land: in decimals of an inch too, for it is less than a builder's inch is divided into.
fn laps(book: &Book<'_>) -> String {
    let spec = &book.plan.spec;
    let Some(found) = at_lands(spec) else { return String::new() };
    let small = |mm: f64| {
        if book.len.inches() { format!("{:.3} in", mm / INCH) } else { format!("{mm:.2} mm") }
    };
    let mm = |mm: f64| format!("{}{}", if mm < 0.0 { "\u{2212}" } else { "+" }, small(mm.abs()));
    let [shut, dry] = found.grip;
    let [slack, crushed] = found.slack();
    let closes = if shut > 0.0 { "the land is squeezed shut" } else { "the land does not close by itself" };
    let ashore = if slack > 0.0 { "the land is slack by that, and" } else { "it stays tight, but is slack" };
    format!(
        "A land is {} wide, its rivet in the middle: each plank\u{2019}s edge moves {} off the rivet afloat and {} ashore. Under the \
         rivet the two planks, {} thick, gain {} afloat: {closes}. Ashore they gain {}: {ashore} by up to {} where the \
         wood was crushed under its roves while it was wet.",
        book.len.short_unit(spec.planking.lap),
        mm(found.edge[0]),
        mm(found.edge[1]),
        book.len.short_unit(2.0 * spec.planking.thickness),
        mm(shut),
        mm(dry),
        small(crushed)
    )
}
