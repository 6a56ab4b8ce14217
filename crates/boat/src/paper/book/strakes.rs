//! The strakes' cards, garboard first.

use super::page::{Book, Page};
use super::{bevels, ends, land, parts, rivet_map, rivets, spiling, strake};

/// The shape and its ends are a leaf printed on both sides, the land and its bevels another, its rivets a third. The sheer
/// strake has no land of its own, and a scarfed one a sheet or more of parts.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut pages = Vec::new();
    for flat in &plan.flats {
        let Some(in_space) = plan.strakes.iter().find(|s| s.strake == flat.strake) else { continue };
        pages.push(strake::front(book, flat));
        pages.extend(parts::pages(book, flat));
        pages.extend(spiling::pages(book, flat));
        pages.push(ends::page(book, flat));
        pages.push(land::back(book, in_space, flat));
        pages.extend(bevels::pages(book, in_space));
        pages.extend(rivet_map::page(book, in_space));
        pages.extend(rivets::pages(book, in_space));
    }
    pages
}
