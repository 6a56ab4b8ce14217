//! The strakes' cards, garboard first.

use super::page::{Book, Page};
use super::{bevels, ends, keel_row, land, parts, rivet_map, rivets, spiling, strake, waiting};

/// The shape and its ends are a leaf printed on both sides, the land and its bevels another, its rivets a third. The
/// garboard has a sheet of what holds it to the keel; the sheer strake has no land of its own, and a scarfed one a sheet or more of
/// parts. Last come the rivets that wait for a mould.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut pages = Vec::new();
    for flat in &plan.flats {
        let Some(in_space) = plan.strakes.iter().find(|s| s.strake == flat.strake) else { continue };
        pages.extend(strake::front(book, flat));
        pages.extend(parts::pages(book, flat));
        pages.extend(spiling::pages(book, flat));
        pages.push(ends::page(book, flat));
        pages.extend(land::back(book, in_space, flat));
        pages.extend(bevels::pages(book, in_space));
        if flat.strake == 1 {
            pages.extend(keel_row::pages(book));
        }
        pages.extend(rivet_map::page(book, in_space));
        pages.extend(rivets::pages(book, in_space));
    }
    pages.extend(waiting::pages(book));
    pages
}
