//! A strake's card, back: the land on its upper edge, and how it is fastened.

use super::land_section;
use super::length::degrees;
use super::look;
use super::page::{Book, Frame, Page};
use super::rivets::{count, from_station, of_land, runs};
use super::strake::{head, section_name, short_name};
use super::tables;
use super::view::range;
use crate::development::FlatPlank;
use crate::drawing::Face;
use crate::fastenings::Rivet;
use crate::planks::Strake;

/// Back of a strake's card.
pub fn back<'a>(book: &Book<'a>, strake: &Strake, flat: &FlatPlank) -> Page<'a> {
    let mut page = book.blank(&format!("Strake {} of {}", strake.strake, book.plan.strakes.len()));
    head(&mut page, book, flat);
    let frame = page.frame;
    let middle = frame.left + frame.width() * 0.56;
    let (left, right) = (Frame { right: middle - 6.0, ..frame }, Frame { left: middle + 2.0, ..frame });
    if strake.at.iter().all(|a| a.bevel.is_none()) {
        let mut y = left.top;
        for (title, text) in without_land(book, flat) {
            y = page.headed([left.left, y], left.width(), title, &text);
        }
        return page;
    }
    let mut left_y = bevels(&mut page, book, strake, left) + 1.0;
    let below = land_section::draw(&mut page, book, strake, right);
    let mut right_y = rivets(&mut page, book, strake, Frame { top: below, ..right });
    for (title, text) in [("To bend and hang", bending(book, flat)), ("Ends", ends(book, strake.strake))] {
        // Under the bevels where there is room, else under the rivets.
        let tall = 6.4 + page.paragraph_height(left.width(), look::BODY, &text);
        if left_y + tall <= left.bottom {
            left_y = page.headed([left.left, left_y], left.width(), title, &text);
        } else {
            right_y = page.headed([right.left, right_y], right.width(), title, &text);
        }
    }
    page
}

/// What stands on the card of a strake with no land on its upper edge.
pub fn without_land(book: &Book<'_>, flat: &FlatPlank) -> [(&'static str, String); 3] {
    let sheer = "Its upper edge is the sheer. Plane it fair and square to the face.".to_owned();
    [("No land above", sheer), ("To bend and hang", bending(book, flat)), ("Ends", ends(book, flat.strake))]
}

/// The table of bevels; returns the top of what follows.
fn bevels(page: &mut Page<'_>, book: &Book<'_>, strake: &Strake, frame: Frame) -> f64 {
    let top = page.head([frame.left, frame.top], &format!("Land {}, on its upper edge", strake.strake));
    let columns = vec![
        tables::names("station", 1.5),
        tables::counts("bevel", 1.2),
        tables::numbers(book, "plane off over the land", 1.5),
        tables::numbers(book, "land", 1.0),
        tables::numbers(book, "wood left at edge", 1.3),
        tables::numbers(book, "gain, depth", 1.2),
    ];
    let shown: Vec<_> = strake.at.iter().filter(|a| a.bevel.is_some()).collect();
    let row = ((frame.bottom - top - 72.0) / shown.len().max(1) as f64).clamp(5.4, 8.0);
    let mut table = tables::table(columns, row);
    for at in shown {
        let short = |mm: Option<f64>| mm.map_or_else(String::new, |mm| book.len.fine(mm));
        let planed = at.bevel.zip(at.lap).map(|(bevel, lap)| lap * bevel.tan());
        let gain = at.gain.filter(|g| *g > 0.05 && book.len.fine(*g) != "0");
        let mut cells = tables::row([
            section_name(book, at.section),
            at.bevel.map(degrees).unwrap_or_default(),
            short(planed),
            at.lap.map(|l| book.len.short(l)).unwrap_or_default(),
            short(at.edge_left),
            short(gain),
        ]);
        if at.edge_left.is_some_and(|left| left < book.plan.spec.planking.edge_floor - 0.05) {
            cells.cells[4].ground = Some(look::COPPER_TINT);
        }
        table.rows.push(cells);
    }
    tables::grow(page.t, &mut table, frame.width(), row);
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), frame.bottom - top, 0);
    let mut notes = String::new();
    if strake.at.iter().any(|a| a.bevel.is_some_and(|b| b < 0.0)) {
        notes.push_str(
            "Where the bevel is \u{2212}, leave this strake square and bevel the lower inner edge of the next one by as much. ",
        );
    }
    if strake.at.iter().any(|a| a.edge_left.is_some_and(|e| e < book.plan.spec.planking.edge_floor - 0.05)) {
        notes.push_str("Tinted: less wood left than the floor set for this boat; see the findings.");
    }
    if notes.is_empty() {
        drawn.bottom + 4.0
    } else {
        page.paragraph([frame.left, drawn.bottom + 2.2], frame.width(), look::NOTE.face(Face::Italic), &notes) + 1.0
    }
}

fn bending(book: &Book<'_>, flat: &FlatPlank) -> String {
    let (run, word) = if book.len.inches() { (304.8, "foot") } else { (1000.0, "metre") };
    let twist = (flat.twist_max * run).to_degrees();
    let edge_set = if flat.edge_set.abs() < 0.5 {
        "No edge-set is left in it.".to_owned()
    } else {
        format!("Edge-set left in it: {} over its length.", book.len.fine_unit(flat.edge_set))
    };
    let bend = if flat.bend_radius_min.is_finite() {
        let radius = book.len.long_unit(flat.bend_radius_min);
        format!("Bent across its face to a radius of {radius} at the hardest place.")
    } else {
        "Not bent across its face.".to_owned()
    };
    let stretch = flat.strain_most * 1000.0;
    format!(
        "Twist at most {twist:.0}° in a {word}. {bend} {edge_set} Stretch left in it: {stretch:.2} parts in a thousand."
    )
}

fn ends(book: &Book<'_>, strake: usize) -> String {
    let mut text = String::new();
    for end in book.plan.ends.iter().filter(|e| e.strake == strake) {
        let apart =
            if end.fastenings > 1 { format!(", {} apart", book.len.short_unit(end.spacing)) } else { String::new() };
        let at = end.end;
        text.push_str(&format!("At the {at}: {}{apart}. ", count(end.fastenings as usize, "fastening")));
    }
    let lowest =
        if strake == 1 { "half a land up from the rabbet" } else { "in the middle of the land on its lower edge" };
    text.push_str(&format!("The first is {lowest}, the others evenly above it; the last "));
    text.push_str(if strake < book.plan.strakes.len() {
        "is the next strake's first, through the land on this one's upper edge, and waits for it."
    } else {
        "is half a land below the sheer."
    });
    text
}

/// Nails, their places, and those that must wait; returns the top of what follows.
fn rivets(page: &mut Page<'_>, book: &Book<'_>, strake: &Strake, frame: Frame) -> f64 {
    let of_land = of_land(book, strake.strake);
    let top = page.head([frame.left, frame.top], &format!("{} a side", count(of_land.len(), "rivet")));
    let mut y = page.paragraph([frame.left, top], frame.width(), look::BODY, &rivet_words(book, &of_land));

    y = page.paragraph([frame.left, y], frame.width(), look::BODY, &nail_words(book, strake, &of_land)) + 1.0;
    y = page.head([frame.left, y], "Wait until the mould is out");
    let waiting = blocked(book, &of_land);
    let size = page.prose_size(Frame { top: y - 6.0, ..frame }, &[("", &waiting)]).min(look::BODY.size);
    page.paragraph([frame.left, y], frame.width(), look::BODY.size(size), &waiting) + 2.4
}

fn rivet_words(book: &Book<'_>, rivets: &[&Rivet]) -> String {
    let mut text = "Numbered from the bow. ".to_owned();
    let gaps = rivets.windows(2).map(|p| p[1].along - p[0].along);
    if let Some((least, most)) = range(gaps) {
        let (a, b) = (book.len.short(least), book.len.short_unit(most));
        if book.len.short(most) == a {
            text.push_str(&format!("{b} apart. "));
        } else {
            text.push_str(&format!("{a} to {b} apart. "));
        }
    }
    if let Some((least, most)) = range(rivets.iter().map(|r| r.lean)) {
        text.push_str(&format!(
            "The hole leans {} to {} off square to this plank: half the bevel. ",
            degrees(least),
            degrees(most)
        ));
    }
    if let (Some((least, _)), Some((square, _))) =
        (range(rivets.iter().map(|r| r.head_edge)), range(rivets.iter().map(|r| r.head_edge_square)))
    {
        let (least, square) = (book.len.fine_unit(least), book.len.fine_unit(square));
        text.push_str(&format!("The head then stands {least} or more from the outer plank's edge"));
        let rest =
            if least == square { ".".to_owned() } else { format!("; drilled square it could come to {square}.") };
        text.push_str(&rest);
    }
    text
}

/// Which rivets take which nail, and where the first and the last stand.
fn nail_words(book: &Book<'_>, strake: &Strake, rivets: &[&Rivet]) -> String {
    let mut text = String::new();
    for (which, timber) in [("Through the timbers", true), ("The others", false)] {
        let these: Vec<&Rivet> = rivets.iter().copied().filter(|r| r.timber.is_some() == timber).collect();
        let numbers: Vec<usize> = these.iter().map(|r| r.n).collect();
        let mut lengths: Vec<Option<f64>> = these.iter().map(|r| r.nail).collect();
        lengths.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        lengths.dedup();
        let mut parts: Vec<String> = Vec::new();
        for length in lengths {
            let take: Vec<usize> = these.iter().filter(|r| r.nail == length).map(|r| r.n).collect();
            let nail = length.map_or_else(|| "none in stock is long enough".to_owned(), |l| book.len.short_unit(l));
            parts.push(format!("{nail} for {}", runs(&take, &numbers)));
        }
        if !parts.is_empty() {
            text.push_str(&format!("{which}: nail {}. ", parts.join("; ")));
        }
    }
    if let (Some(first), Some(last)) = (rivets.first(), rivets.last()) {
        let place = |r: &Rivet| {
            let station = from_station(book, strake, r.along);
            format!("{} is {} along the land from its fore end ({station})", r.n, book.len.long_unit(r.along))
        };
        text.push_str(&format!(
            "Rivet {}, rivet {}. Every one's place stands on the sheet of its rivets.",
            place(first),
            place(last)
        ));
    }
    text
}

/// Which rivets each mould is in the way of.
fn blocked(book: &Book<'_>, rivets: &[&Rivet]) -> String {
    let mut text = String::new();
    for (i, mould) in book.plan.moulds.iter().enumerate() {
        let numbers: Vec<usize> = rivets.iter().filter(|r| r.blocked_by == Some(i)).map(|r| r.n).collect();
        if !numbers.is_empty() {
            let list: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            text.push_str(&format!("Mould {}: {}. ", short_name(&mould.name), list.join(", ")));
        }
    }
    if text.is_empty() { "None: no mould is in the way.".to_owned() } else { text }
}
