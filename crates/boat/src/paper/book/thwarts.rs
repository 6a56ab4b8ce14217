//! A thwart: its true outline at the top and at the underside, and the bevels of its ends.

use super::length::{capital, degrees};
use super::look;
use super::marks::fore_and_aft;
use super::page::{Book, Frame, Page};
use super::tables;
use super::view::{View, customary, scale_words};
use crate::drawing::{Anchor, Dash, Face, Shape, Stroke, Weight};
use crate::interior::Thwart;
use crate::spec::Against;

/// One page.
pub fn page<'a>(book: &Book<'a>, t: &Thwart) -> Page<'a> {
    let mut page = book.page_to_scale(&capital(&t.name), &book.plan.spec.name);
    let frame = page.frame;
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY.size(3.8), &words(book, t));
    let mut table = table(book, t);
    tables::fit(page.t, &mut table, frame.width());
    tables::grow(page.t, &mut table, frame.width(), 7.0);
    let height = table.height(page.t, frame.width());
    let at = frame.bottom - height - 1.0;
    drawing(&mut page, book, Frame { top: top + 1.0, bottom: at - 3.0, ..frame }, t);
    table.draw(page.t, &mut page.sheet, [frame.left, at], frame.width(), height + 1.0, 0);
    page
}

fn words(book: &Book<'_>, t: &Thwart) -> String {
    let len = book.len;
    let against = match t.against {
        Against::Planking => "the planks' inner faces",
        Against::Timbers | Against::Inwale if book.plan.timbers.is_empty() => "the upper inner edges of the strakes",
        Against::Timbers | Against::Inwale => "the timbers' inner faces",
    };
    let clear = if t.clear > 0.0 { format!(", {} clear of them", len.fine_unit(t.clear)) } else { String::new() };
    let steps = match &t.steps[..] {
        [] => String::new(),
        steps => {
            let lands = steps.iter().map(usize::to_string).collect::<Vec<_>>().join(" and ");
            format!(
                " Between its top and its underside it passes land {lands}: cut it to both lines and ease it to the step."
            )
        }
    };
    let notches = if t.notches.is_empty() {
        String::new()
    } else {
        let each = t.notches.iter().map(|n| {
            let name = book.plan.timbers.get(n.timber).map_or(0, |t| t.n);
            let [fore, aft] = n.sides.map(|x| len.short(x - t.edges[0]));
            format!(
                "timber {name} from {fore} to {aft} aft of the fore edge, to {} at the top and {} at the underside",
                len.long(n.to[0]),
                len.long(n.to[1])
            )
        });
        format!(" Notched round {} from the centreline.", each.collect::<Vec<_>>().join("; "))
    };
    let rests = t.rests.iter().map(|r| {
        let name = book.plan.interior.strips.get(r.rising).map_or("rising", |s| s.name.as_str()).to_lowercase();
        let gaps = r.gaps.map(|g| len.fine(g)).join(", ");
        format!(" Over the {name}'s top at its fore edge, middle and after edge: {gaps}.")
    });
    format!(
        "{} of {}, {} by {} by {}. It stands level, its top {} above base, its fore edge {} and its after edge {}. Its ends are \
         cut to {against}{clear}. The line of an end at the top stands {} out from straight between its corners; less than 0 \
         is hollow.{steps}{notches}{}",
        "One board",
        t.wood.name,
        len.long_unit(t.board[0]),
        len.short_unit(t.board[1]),
        len.0.said_fine(t.thickness),
        len.long_unit(t.top),
        fore_and_aft(book, t.edges[0]),
        fore_and_aft(book, t.edges[1]),
        len.fine_unit(t.round),
        rests.collect::<String>(),
    )
}

/// From above, the bow up.
fn drawing(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, t: &Thwart) {
    let [fore, aft] = t.edges;
    let (wide, tall) = (frame.width() - 2.0 * SIDE, frame.height() - 22.0);
    if tall < 8.0 {
        return;
    }
    let scale = customary((t.board[0] / wide).max((aft - fore) / tall), book.len.0);
    let middle = [
        0.5 * (frame.left + frame.right),
        frame.top + 11.0 + 0.5 * (tall - (aft - fore) / scale) + (aft - fore) / scale,
    ];
    // Across to the right, forward up from the after edge.
    let view = View::new(middle, scale);
    let place = |p: [f64; 2], side: f64| [side * p[1], aft - p[0]];
    let whole = |under: bool| {
        let end = t.outline(under);
        let port = end.iter().rev().map(|p| place(*p, -1.0));
        view.run(end.iter().map(|p| place(*p, 1.0)).chain(port))
    };
    page.put("boat", Shape::area(whole(false), look::WOOD, Some(look::BOLD)));
    page.put("ink", Shape::polygon(whole(true), Stroke::broken(Weight::Medium, look::INK, Dash::Hidden)));
    page.line(
        view.run([[0.0, -8.0 * scale / 4.0], [0.0, aft - fore + 8.0 * scale / 4.0]]),
        Stroke::broken(Weight::Fine, look::INK, Dash::Centre),
    );
    let style = look::BODY.face(Face::Semibold);
    for (i, (edge, up)) in [("fore edge", true), ("after edge", false)].into_iter().enumerate() {
        let Some(e) = (if i == 0 { t.end.first() } else { t.end.last() }) else { continue };
        let v = if up { aft - fore } else { 0.0 };
        let y = view.at(0.0, v)[1] + if up { -3.4 } else { 6.2 };
        let said = format!(
            "{edge}: top {}, underside {}",
            book.len.long_unit(2.0 * e.top),
            book.len.long_unit(2.0 * e.under)
        );
        page.words([middle[0], y], Anchor::Middle, style, &said);
        let corner = view.at(e.top.max(e.under), v);
        let base = corner[1] + if up { 3.2 } else { 0.0 };
        page.words([corner[0] + 2.5, base], Anchor::Left, look::NUMBER, &degrees(e.bevel));
        let port = view.at(-e.top.max(e.under), v);
        page.words([port[0] - 2.5, base], Anchor::Right, look::NUMBER, &degrees(e.plan));
    }
    let caption = format!(
        "{}; from above, bow up. Full: its top; broken: its underside. At the right the bevel of its ends, + where the top is \
         the longer; at the left how far they are off square on plan, + where it is longer aft",
        capital(&scale_words(scale, book.len.0))
    );
    page.paragraph([frame.left, frame.top], frame.width(), look::NOTE, &caption);
}

/// Room beside a thwart for its angles, mm.
const SIDE: f64 = 20.0;

fn table(book: &Book<'_>, t: &Thwart) -> crate::drawing::table::Table {
    let mut table = tables::table(
        vec![
            tables::names("at", 1.2),
            tables::numbers(book.len, "aft of the fore edge", 1.0),
            tables::longs(book.len, "centreline to end, top", 1.1),
            tables::longs(book.len, "the same, underside", 1.1),
            tables::counts("end's bevel", 0.9),
            tables::counts("off square on plan", 0.9),
        ],
        6.4,
    );
    let names = ["fore edge", "a quarter aft", "middle", "three quarters", "after edge"];
    for (e, name) in t.quarters().zip(names) {
        table.rows.push(tables::row([
            name.to_owned(),
            book.len.short(e.x - t.edges[0]),
            book.len.long(e.top),
            book.len.long(e.under),
            degrees(e.bevel),
            degrees(e.plan),
        ]));
    }
    table
}
