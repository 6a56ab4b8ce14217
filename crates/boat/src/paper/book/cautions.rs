//! The usual cautions.

use super::look;
use super::page::{Book, Frame, Page};
use crate::drawing::{Anchor, Face};

const CAUTIONS: [(&str, &str); 9] = [
    (
        STEAM,
        "It scalds, and does so before it is seen. Vent the box so that pressure can never build up, and never seal it. \
         Thick dry gloves and long sleeves; open the door from the side and stand clear. Never let the boiler run dry.",
    ),
    (
        "Wood dust",
        "Wear a mask that fits and is made for fine dust, and draw dust off where it is made. All wood\u{2019}s dust is classed as a \
         cause of cancer of the nose; it can bring on asthma, western redcedar\u{2019}s above others (IARC Monographs, volume 62).",
    ),
    (
        HAMMERED,
        "Cut nail ends fly: cover your eyes and your helper's, and sweep up. A rivet driven against a dolly is loud \
         enough to harm hearing; wear ear defenders on both sides of the plank.",
    ),
    (
        "Edged and turning tools",
        "A sharp tool needs less force. Clamp the work, keep both hands behind the edge, and isolate a machine before \
         reaching into it. Follow its maker's book, guards on.",
    ),
    (
        "Glue, oil, tar and paint",
        "Read the label and the safety sheet. Air the shed, wear gloves. Rags wet with oil that dries can take fire by \
         themselves: spread them flat outdoors or drown them.",
    ),
    (
        "Lifting and turning the hull",
        "Her weight is on the page \u{201c}What she weighs\u{201d}, with what is not in it. Enough hands, one voice, slings that \
         cannot slip, and nobody beneath.",
    ),
    (
        "Moulds and setting-up",
        "Brace the moulds in every direction before a plank is bent to them; a plank that lets go strikes hard.",
    ),
    (
        "Electric tools near water",
        "At a launching, at the steam box and wherever she is wet: battery tools, or leads on a breaker that trips when current goes \
         astray, their joints dry and off the ground.",
    ),
    (
        "How many she may carry",
        "The page on it is arithmetic with one country\u{2019}s rule. How she behaves in a sea, and whether she may be sold or hired, \
         this book does not say; local rules and those who are licensed to judge boats do. Follow them.",
    ),
];

/// Left out where nothing is steamed.
const STEAM: &str = "Steam";
/// Left out where she is glued.
const HAMMERED: &str = "Copper and hammered metal";

/// One page.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let mut page = book.page("Before you start: cautions", &book.plan.spec.name);
    let frame = page.frame;
    let over = Frame { bottom: frame.bottom - 8.0, ..frame };
    let glued = book.plan.spec.glued();
    // Nothing is steamed out of sheets, and timbers are steamed ones.
    let steamed = book.plan.sheets.is_none() || !book.plan.timbers.is_empty();
    let cautions: Vec<(&str, &str)> = CAUTIONS
        .into_iter()
        .filter(|(head, _)| (!glued || *head != HAMMERED) && (steamed || *head != STEAM))
        .collect();
    let halves = cautions.split_at(cautions.len().div_ceil(2));
    let columns = [(over.column(0, 2, 11.0), halves.0), (over.column(1, 2, 11.0), halves.1)];
    let size = columns.iter().map(|(place, half)| page.prose_size(*place, half)).fold(f64::MAX, f64::min);
    for (place, half) in columns {
        page.prose(place, size, half);
    }
    let words =
        "You know your shed and your hands; this page does not. It is a reminder and no substitute for training.";
    page.words([frame.left, frame.bottom - 1.0], Anchor::Left, look::BODY.face(Face::Italic), words);
    vec![page]
}

/// A line for a card on which wood of that name is planed or sawn. Source: `IARC62` in SOURCES.md; of no other wood is anything known
/// here.
pub fn dust(wood: &str) -> &'static str {
    if wood.contains("redcedar, western") {
        "Its dust can bring on asthma and harms the nose: a mask on."
    } else {
        "Its dust harms nose and lungs: a mask on."
    }
}
