//! The strakes' cards, garboard first.

use super::page::{Book, Page};
use super::{ends, land, parts, rivets, strake};

/// Four kinds of sheet each, so that two leaves printed on both sides hold them: the shape and its ends, the land and its
/// rivets. The sheer strake has no rivets of its own, and a scarfed one a sheet or more of parts.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut pages = Vec::new();
    for flat in &plan.flats {
        let Some(in_space) = plan.strakes.iter().find(|s| s.strake == flat.strake) else { continue };
        pages.push(strake::front(book, flat));
        pages.extend(parts::pages(book, flat));
        pages.push(ends::page(book, flat));
        pages.push(land::back(book, in_space, flat));
        pages.extend(rivets::pages(book, in_space));
    }
    pages
}
