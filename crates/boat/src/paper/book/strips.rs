//! A strip bent along her side: its flat shape, and how it lies at every station and timber.

use super::length::degrees;
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::{section_name, short_name};
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::drawing::table::Group;
use crate::drawing::{Anchor, Dash, Face, Stroke, Weight};
use crate::interior::{EndCut, LiesOn, Meets, Strip, StripAt, StripKind, StripPlace};
use crate::units::FOOT;

/// A page, or as many as its table needs.
pub fn pages<'a>(book: &Book<'a>, s: &Strip) -> Vec<Page<'a>> {
    let plural = match s.kind {
        StripKind::Rising => "Risings",
        StripKind::Inwale => "Inwales",
        StripKind::RubbingStrake => "Rubbing strakes",
    };
    let title = match (s.kind, s.lies_on) {
        (StripKind::Rising, _) if s.name != "Rising" => s.name.clone(),
        (StripKind::RubbingStrake, _) if s.name != "Rubbing strake" => s.name.clone(),
        _ => plural.to_owned(),
    };
    let mut page = book.page_to_scale(&title, &book.plan.spec.name);
    let frame = page.frame;
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::NOTE.size(3.5), &words(book, s));
    page.frame.top = flat(&mut page, book, Frame { top: top + 1.0, ..frame }, s) + 2.0;
    let mut table = table(book, s);
    tables::fit(page.t, &mut table, frame.width());
    let room = page.frame.height() - table.head_height(page.t, frame.width());
    let row = (room / table.rows.len().max(1) as f64).clamp(5.0, 7.0);
    tables::grow(page.t, &mut table, frame.width(), row);
    let rest = || book.page(&title, &book.plan.spec.name);
    tables::over_pages(page, &table, rest)
}

fn words(book: &Book<'_>, s: &Strip) -> String {
    let len = book.len;
    let on = match s.lies_on {
        LiesOn::Timbers => {
            "on the timbers' inner faces, which lie their moulding within the upper inner edges of the strakes"
                .to_owned()
        }
        LiesOn::Lands => "on the upper inner edges of the strakes, for she has no timbers".to_owned(),
        LiesOn::Strake(k) => format!("on the outer face of strake {k}"),
    };
    let line = match s.kind {
        StripKind::Rising | StripKind::Inwale => "Its line is the upper edge of its outer face",
        StripKind::RubbingStrake => "Its line is the upper edge of its inner face",
    };
    let where_to = match (s.kind, s.lies_on) {
        (StripKind::Inwale, _) => {
            " Its line is at the height of the sheer; its top is planed level with that, off its inner corner."
        }
        (StripKind::RubbingStrake, LiesOn::Strake(k)) if k == book.plan.strakes.len() => {
            " Its top is flush with the outer edge of the sheer strake."
        }
        (StripKind::RubbingStrake, _) => " Its lower edge lies along the lower edge of that strake.",
        (StripKind::Rising, _) => " Its top is planed level with that, off its inner corner.",
    };
    let bends = &s.stick.bends;
    let most = [bends.cold_radius(), bends.steamed_radius()].map(|r| r * s.stick.thickness);
    let goes = match s.bend_radius {
        r if r >= most[0] => "it goes on cold",
        r if r >= most[1] => "steam it, or laminate it",
        _ => "laminate it: no steam bends it so far",
    };
    let bent = if s.bend_radius < 1e6 {
        let (way, named) = if len.inches() { (FOOT, "foot") } else { (1000.0, "metre") };
        format!(
            "Bent to {} at the tightest, {goes}; twisted by at most {:.0}° a {named}.",
            len.long_unit(s.bend_radius),
            s.twist.to_degrees() * way
        )
    } else {
        "It is not bent.".to_owned()
    };
    // Edges stretch and shrink by half the depth over the radius.
    let strain = 0.5 * s.stick.depth / s.edge_radius;
    let sprung = if strain <= bends.cold_strain {
        "saw it to that shape, or spring it on from a straight piece, which its wood bears; as sawn"
    } else {
        "saw it to that shape, for sprung on from a straight piece it would be edge-set harder than its wood bears;"
    };
    format!(
        "Two of {}, {} thick and {} deep, a pair, lying {on}. {line}.{where_to} Net length along it {}; cut {}, {} over at both \
         ends. Laid flat it stands off a straight batten between its ends by {} at most: {sprung} out of a board {} \
         wide. {bent} Ends: forward {}; aft {}.",
        s.stick.wood.name,
        len.0.said_fine(s.stick.thickness),
        len.short_unit(s.stick.depth),
        len.long_unit(s.length),
        len.long_unit(s.cut_length),
        len.short_unit(s.stick.spare),
        len.fine_unit(s.sny),
        len.short_unit(len.0.to_have(s.board_width)),
        end(&s.ends[0]),
        end(&s.ends[1]),
    )
}

fn end(e: &EndCut) -> String {
    let cut = |on: &str| {
        format!(
            "to {on}, {} off square on its top and {} on its side, the pair {} apart",
            degrees(e.across),
            degrees(e.down),
            degrees(e.between)
        )
    };
    match e.on {
        Meets::Nothing => "square".to_owned(),
        Meets::Breasthook => format!("square against the breasthook's arm, the pair {} apart", degrees(e.between)),
        Meets::Post => cut("the post's side"),
        Meets::Transom => cut("the transom's inner face"),
        Meets::OuterFace => cut("the transom's outer face"),
    }
}

/// The strip laid flat; returns its bottom.
fn flat(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, s: &Strip) -> f64 {
    let (Some((x0, x1)), Some((v0, v1))) = (range(s.flat.iter().map(|p| p[0])), range(s.flat.iter().map(|p| p[1])))
    else {
        return frame.top;
    };
    let scale = customary((x1 - x0) / (frame.width() - 16.0), book.len.0);
    let (low, high) = (v0.min(0.0) - s.stick.depth, v1.max(0.0));
    // Heights larger, where there is room: a sny is small.
    let times =
        [10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0].into_iter().find(|f| (high - low) * f / scale <= TALL).unwrap_or(1.0);
    let words = match times as u32 {
        1 => format!("Laid flat, {}; bow to the left", scale_words(scale, book.len.0)),
        n => format!("Laid flat, {}, heights {n} times as large; bow to the left", scale_words(scale, book.len.0)),
    };
    page.words([frame.left, frame.top + 3.0], Anchor::Left, look::NOTE, &words);
    let top = frame.top + 9.5;
    let left = frame.left + 0.5 * (frame.width() - (x1 - x0) / scale);
    let view = View { origin: [left - x0 / scale, top + high * times / scale], scale, scale_up: scale / times };
    let lower = s.flat.iter().rev().map(|p| [p[0], p[1] - s.stick.depth]);
    let run = view.run(s.flat.iter().copied().chain(lower));
    page.put("boat", crate::drawing::Shape::area(run, look::WOOD, Some(look::OUTLINE)));
    page.line(view.run([[x0, 0.0], [x1, 0.0]]), Stroke::broken(Weight::Fine, look::INK, Dash::Centre));
    let mut free = f64::MIN;
    for a in &s.at {
        let StripPlace::Section(j) = a.place else { continue };
        let foot = view.at(a.flat[0], a.flat[1] - s.stick.depth);
        page.line(vec![view.at(a.flat[0], a.flat[1]), foot], look::THIN);
        let name = section_name(book, j);
        let half = 0.5 * page.width(look::NOTE, &name);
        let base = top - 1.6;
        if foot[0] - half > free {
            page.line(vec![[foot[0], base + 0.6], view.at(a.flat[0], a.flat[1])], look::GUIDE);
            page.words([foot[0], base], Anchor::Middle, look::NOTE.face(Face::Semibold), &name);
            free = foot[0] + half + 2.0;
        }
    }
    view.at(0.0, low)[1] + 1.5
}

/// Highest drawing of a strip laid flat, mm.
const TALL: f64 = 24.0;

fn table(book: &Book<'_>, s: &Strip) -> crate::drawing::table::Table {
    let columns = vec![
        tables::names("at", 1.2),
        tables::longs(book.len, "along it", 1.0),
        tables::longs(book.len, "half-breadth", 1.0),
        tables::longs(book.len, "height", 1.0),
        tables::longs(book.len, "on the batten", 1.0),
        tables::numbers(book.len, "off it, up", 1.0),
        tables::counts("off plumb", 0.9),
        tables::numbers(book.len, "off its top to be level", 1.0),
        tables::counts("off the centreline", 0.9),
    ];
    let mut table = tables::table(columns, 5.6);
    table.look.pad = 1.5;
    let group = |from, to, head: &str| Group { from, to, head: head.to_owned() };
    table.groups =
        vec![group(2, 3, "its line in the boat"), group(4, 5, "laid flat"), group(6, 8, "the face it lies on")];
    let mut before: Option<&StripAt> = None;
    for a in &s.at {
        // A timber at a station is told once.
        let again = before.is_some_and(|b| a.along - b.along < 0.5);
        before = Some(a);
        if again && matches!(a.place, StripPlace::Section(_) | StripPlace::Timber(_)) {
            continue;
        }
        table.rows.push(tables::row([
            match a.place {
                StripPlace::Fore => "fore end".to_owned(),
                StripPlace::Aft => "after end".to_owned(),
                StripPlace::Section(j) => {
                    book.plan.sections.get(j).map_or_else(String::new, |s| short_name(&s.place()))
                }
                StripPlace::Timber(t) => format!("timber {}", book.plan.timbers.get(t).map_or(0, |t| t.n)),
            },
            book.len.long(a.along),
            book.len.long(a.at.y),
            book.len.long(a.at.z),
            book.len.long(a.flat[0]),
            book.len.fine(a.flat[1]),
            degrees(a.lean),
            book.len.fine(a.off_top(s.stick.thickness)),
            degrees(a.turn),
        ]));
    }
    table
}
