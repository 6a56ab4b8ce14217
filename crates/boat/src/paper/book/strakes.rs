//! The strakes' cards, garboard first.

use super::page::{Book, Page};
use super::{land, rivets, strake};

/// Front and back of each; the sheer strake needs no back unless its front is full.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let mut pages = Vec::new();
    for flat in &plan.flats {
        let Some(in_space) = plan.strakes.iter().find(|s| s.strake == flat.strake) else { continue };
        // The sheer strake has no land above: what is left to say stands on its front.
        let sheer = in_space.at.iter().all(|a| a.bevel.is_none());
        if sheer && flat.stations.len() <= strake::TALL {
            pages.push(strake::front(book, flat, &land::without_land(book, flat)));
        } else {
            pages.push(strake::front(book, flat, &[]));
            pages.push(land::back(book, in_space, flat));
            pages.extend(rivets::pages(book, in_space));
        }
    }
    pages
}
