//! The timbers to cut and steam.

use super::length::degrees;
use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::timbers::{CutList, Timber, cut_list, goes, layers, steaming};

/// As many pages as the list needs.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    if plan.timbers.is_empty() {
        return Vec::new();
    }
    let spec = &plan.spec.timbers;
    let len = book.len;
    let mut page = book.page("Timbers", &plan.spec.name);
    let wood = if spec.wood.name.is_empty() { "wood" } else { spec.wood.name.as_str() };
    let list = cut_list(&plan.timbers, spec, plan.timber_step());
    let words = format!(
        "{} of {wood}, {} sided and {} moulded, {}. Those marked 2 × are halves{}: heel each on the keel. The others run across \
         the keel in one length and in a fair curve of their own, off its corner. The length to cut leaves {} over at both \
         ends.{}",
        plan.timbers.len(),
        len.short_unit(spec.sided),
        len.short_unit(spec.moulded),
        spacing(book),
        halves(book),
        len.short_unit(spec.spare),
        stand_off(book),
    );
    let fitting = format!(
        "Fitting: in the order of turns, from the middle to the ends, keel first, then pressed out and down into the bilge.{} \
         Steam: {:.0} minutes ({} at an hour for each inch of thickness, common practice; green wood less, dry wood more), \
         and bend within seconds. Steam scalds: gloves, sleeves, a vented box, the door opened from the side.{}",
        if plan.timbers.iter().any(|t| t.mould.is_some()) {
            " A timber that stands in a mould goes in when that mould is out, after the others."
        } else {
            ""
        },
        steaming(spec),
        len.short_unit(spec.moulded.min(spec.sided)),
        tight(book),
    );
    let cut = format!("To cut, sided and moulded as above: {}.", cutting(book, &list));
    let frame = page.frame;
    let mut top = frame.top;
    for words in [words, cut, fitting] {
        top = page.paragraph([frame.left, top], frame.width(), look::BODY, &words) + 2.0;
    }
    page.frame.top = top;

    let mut from = 0;
    let mut pages = Vec::new();
    let mut table = table(book);
    loop {
        let frame = page.frame;
        let width = frame.width();
        let room = frame.height() - table.head_height(page.t, width);
        let left = (plan.timbers.len() - from).max(1);
        tables::grow(page.t, &mut table, width, (room / left as f64).clamp(6.6, 9.0));
        let deep = left.min((room / table.look.row) as usize);
        let height = table.head_height(page.t, width) + deep as f64 * table.look.row;
        from = table.draw(page.t, &mut page.sheet, [frame.left, frame.top], width, height, from).next;
        pages.push(page);
        if from >= plan.timbers.len() {
            return pages;
        }
        page = book.page("Timbers", &plan.spec.name);
    }
}

fn table(book: &Book<'_>) -> crate::drawing::table::Table {
    let mut table = tables::table(
        vec![
            tables::names("timber", 0.8),
            tables::longs(book, "aft of first station", 1.2),
            tables::longs(book, "girth, one side", 1.2),
            tables::longs(book, "cut to", 1.5),
            tables::counts("rise at keel", 0.9),
            tables::longs(book, "least radius", 1.1),
            tables::counts("twist", 0.7),
            tables::counts("turn", 0.6),
        ],
        6.6,
    );
    let canted = book.plan.timbers.iter().any(|t| t.cant != 0.0);
    if canted {
        table.columns.push(tables::text("heads", 0.9));
    }
    let stopped = book.plan.timbers.iter().any(|t| t.stopped);
    if stopped {
        table.columns.push(tables::text("stops at", 0.9));
    }
    let in_moulds = book.plan.timbers.iter().any(|t| t.mould.is_some());
    if in_moulds {
        table.columns.push(tables::text("in mould", 0.8));
    }
    for timber in &book.plan.timbers {
        let mut cells = vec![
            timber.n.to_string(),
            book.len.long(timber.x),
            book.len.long(timber.girth),
            cut(book, timber),
            degrees(timber.rise),
            book.len.long(timber.bend_radius_min),
            degrees(timber.twist),
            timber.turn.to_string(),
        ];
        if canted {
            cells.push(match timber.cant {
                0.0 => String::new(),
                c if c < 0.0 => format!("{} fwd", degrees(-c)),
                c => format!("{} aft", degrees(c)),
            });
        }
        if stopped {
            cells.push(if timber.stopped { format!("land {}", timber.head) } else { String::new() });
        }
        if in_moulds {
            cells.push(timber.mould.map_or_else(String::new, |m| short_name(&book.plan.moulds[m].name)));
        }
        table.rows.push(tables::row(cells));
    }
    table
}

/// What the timbers really stand apart: the keel divided evenly, or as the builder says.
fn spacing(book: &Book<'_>) -> String {
    let spec = &book.plan.spec.timbers;
    if !spec.at.is_empty() {
        return "where boat.toml puts them".to_owned();
    }
    let apart = match &book.plan.timbers[..] {
        [a, b, ..] => b.x - a.x,
        _ => spec.spacing,
    };
    format!("at {} centres", book.len.fine_unit(apart))
}

/// Why some are in halves.
fn halves(book: &Book<'_>) -> String {
    let over = degrees(book.plan.spec.timbers.halves_over);
    let canted = if book.plan.timbers.iter().any(|t| t.cant != 0.0) { ", or they are canted" } else { "" };
    format!(", for the sides rise over {over} at the keel{canted}")
}

/// Those canted and stopped.
fn stand_off(book: &Book<'_>) -> String {
    let timbers = &book.plan.timbers;
    let mut words = String::new();
    if timbers.iter().any(|t| t.cant != 0.0) {
        words += " Canted ones stand off square by the angle given, their heads forward of their heels or aft of them; places \
                  are their heels' on the centreline.";
    }
    if timbers.iter().any(|t| t.stopped) {
        words += " A timber that stops at a land ends on that strake's upper edge and is riveted there.";
    }
    words
}

/// What to do where they bend too tight.
fn tight(book: &Book<'_>) -> String {
    let spec = &book.plan.spec.timbers;
    let tight: Vec<&Timber> =
        book.plan.timbers.iter().filter(|t| t.bend_radius_min < spec.steamed_radius * spec.moulded).collect();
    let Some(worst) = tight.iter().min_by(|a, b| a.bend_radius_min.total_cmp(&b.bend_radius_min)) else {
        return String::new();
    };
    let names = tight.iter().map(|t| t.n.to_string()).collect::<Vec<_>>().join(", ");
    let made = match layers(worst.bend_radius_min, spec) {
        Some(n) => format!("make it in {n} layers, each steamed, glued when dry"),
        None => "saw it or find it grown".to_owned(),
    };
    format!(
        " Tighter than {:.0} thicknesses: {names}. The worst is {}: thin it to {} where it bends, or {made}.",
        spec.steamed_radius,
        worst.n,
        book.len.fine_unit(goes(worst.bend_radius_min, spec)),
    )
}

/// The pieces, in words.
fn cutting(book: &Book<'_>, list: &CutList) -> String {
    let len = book.len;
    let of =
        list.of.iter().map(|l| format!("{} of {}", l.count, len.long_unit(l.length))).collect::<Vec<_>>().join("; ");
    let extra = match (list.extra, list.of.first()) {
        (0, _) | (_, None) => String::new(),
        (n, Some(l)) => format!("; and {n} over of {}, for those that break", len.long_unit(l.length)),
    };
    let total =
        if len.inches() { format!("{:.0} ft", list.total / 304.8) } else { format!("{:.1} m", list.total / 1000.0) };
    format!("{of}{extra}; {total} in all")
}

fn cut(book: &Book<'_>, timber: &Timber) -> String {
    let length = book.len.long(timber.length);
    if timber.pieces > 1 { format!("{} × {length}", timber.pieces) } else { length }
}
