//! The timbers to cut and steam.

use super::length::degrees;
use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::spec::Bent;
use crate::timbers::{CutList, Timber, cut_list, glued_up, layer, least_radius, steaming};
use crate::units::FOOT;

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
        "{} of {wood}, {} sided and {} moulded{}, {}. {} The length to cut leaves {} over at both ends. As they are made they go \
         round {} and no less.{}",
        plan.timbers.len(),
        len.short_unit(spec.sided),
        len.short_unit(spec.moulded),
        layered(book),
        spacing(book),
        halves(book),
        len.short_unit(spec.spare),
        len.short_unit(least_radius(spec)),
        stand_off(book),
    );
    let fitting = format!(
        "Fitting: in the order of turns, from the middle to the ends, keel first, then pressed out and down into the bilge.{} \
         {}{}",
        if plan.timbers.iter().any(|t| !t.moulds.is_empty()) {
            " A timber that stands in a mould goes in when that mould is out, after the others."
        } else {
            ""
        },
        bending(book),
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
            pages.extend(thinned(book));
            return pages;
        }
        page = book.page("Timbers", &plan.spec.name);
    }
}

fn table(book: &Book<'_>) -> crate::drawing::table::Table {
    let mut table = tables::table(
        vec![
            tables::names("timber", 0.8),
            tables::longs(book.len, "aft of first station", 1.2),
            tables::longs(book.len, "girth, one side", 1.2),
            tables::longs(book.len, "cut to", 1.5),
            tables::counts("rise at keel", 0.9),
            tables::longs(book.len, "least radius", 1.1),
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
    let in_moulds = book.plan.timbers.iter().any(|t| !t.moulds.is_empty());
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
            let names: Vec<String> = timber.moulds.iter().map(|&m| short_name(&book.plan.moulds[m].name)).collect();
            cells.push(names.join(", "));
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
    let [is, asked] = [apart, spec.spacing].map(|mm| book.len.fine_unit(mm));
    if is == asked {
        format!("at {is} centres")
    } else {
        format!("at {is} centres, {asked} asked for divided evenly over her")
    }
}

/// Which are in halves and why, and how the others lie.
fn halves(book: &Book<'_>) -> String {
    let timbers = &book.plan.timbers;
    let across = "across the keel in one length and in a fair curve of their own, off its corner.";
    if timbers.iter().all(|t| t.pieces == 1) {
        return format!("They run {across}");
    }
    let over = degrees(book.plan.spec.timbers.halves_over);
    let canted = if timbers.iter().any(|t| t.cant != 0.0) { ", or they are canted" } else { "" };
    let others =
        if timbers.iter().all(|t| t.pieces > 1) { String::new() } else { format!(" The others run {across}") };
    format!(
        "Those marked 2 × are halves, for the sides rise over {over} at the keel{canted}: heel each on the keel.{others}"
    )
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

/// What each is glued up from, where it is.
fn layered(book: &Book<'_>) -> String {
    let spec = &book.plan.spec.timbers;
    if spec.layers == 1 {
        return String::new();
    }
    format!(" in {} layers of {}, glued", spec.layers, book.len.fine_unit(layer(spec)))
}

/// How they are bent, with the cautions that belong to it.
fn bending(book: &Book<'_>) -> String {
    let spec = &book.plan.spec.timbers;
    let glue = if spec.layers > 1 {
        " Glue on skin and its dust do harm: gloves, fresh air, and what its maker's safety sheet says."
    } else {
        ""
    };
    match spec.bent {
        Bent::Cold => format!(
            "They are bent cold, to no less than {:.0} thicknesses{}: clamp from the middle out, and leave them clamped until \
             the glue has its strength. A bent strip springs back hard: stand clear of its ends.{glue}",
            spec.cold_radius,
            if spec.layers > 1 { " of a layer" } else { "" }
        ),
        Bent::Steamed => format!(
            "Steam: {:.0} minutes ({} at an hour for each inch of thickness, common practice; green wood less, dry wood more), \
             and bend within seconds{}. Steam scalds: gloves, sleeves, a vented box, the door opened from the side.{glue}",
            steaming(spec),
            book.len.short_unit(layer(spec).min(spec.sided)),
            if spec.layers > 1 { ", the layers together; glue them when they are dry" } else { "" }
        ),
    }
}

/// What to do where they bend too tight.
fn tight(book: &Book<'_>) -> String {
    let tight: Vec<&Timber> = book.plan.timbers.iter().filter(|t| t.thin.is_some()).collect();
    let Some(worst) = tight.iter().min_by(|a, b| a.bend_radius_min.total_cmp(&b.bend_radius_min)) else {
        return String::new();
    };
    let names = tight.iter().map(|t| t.n.to_string()).collect::<Vec<_>>().join(", ");
    format!(
        " Bent tighter than they bear: {names}. Thin them as the next table says, or have the worst of them, {}, {}.",
        worst.n,
        glued_up(worst.bend_radius_min, &book.plan.spec.timbers),
    )
}

/// Where timbers are thinned; none where they go round as they are.
fn thinned<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let columns = vec![
        tables::names("timber", 0.8),
        tables::longs(book.len, "from", 1.0),
        tables::longs(book.len, "to", 1.0),
        tables::longs(book.len, "thinnest at", 1.0),
        tables::numbers(book.len, "leave there", 1.0),
    ];
    let mut table = tables::table(columns, 6.6);
    for (t, thin) in book.plan.timbers.iter().filter_map(|t| Some((t, t.thin?))) {
        table.rows.push(tables::row([
            t.n.to_string(),
            book.len.long(thin.from),
            book.len.long(thin.to),
            book.len.long(thin.thinnest),
            book.len.fine(thin.thickness),
        ]));
    }
    let blank = || {
        let mut page = book.page("Timbers thinned where they bend", &book.plan.spec.name);
        let frame = page.frame;
        let words = format!(
            "On each side, up the timber from the rabbet. Take it off the inner face, the side away from the planking, and run \
             it out evenly to the full {} at both ends of the stretch: a step there would break it. Nails through a thinned \
             stretch are shorter by what is taken off.",
            book.len.short_unit(book.plan.spec.timbers.moulded)
        );
        page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &words) + 2.0;
        page
    };
    if table.rows.is_empty() {
        return Vec::new();
    }
    tables::in_columns(&mut table, 11.0, 9.0, blank)
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
        if len.inches() { format!("{:.0} ft", list.total / FOOT) } else { format!("{:.1} m", list.total / 1000.0) };
    let layers = match book.plan.spec.timbers.layers {
        1 => String::new(),
        n => format!(", each {n} times over, a strip to a layer"),
    };
    format!("{of}{extra}; {total} in all{layers}")
}

fn cut(book: &Book<'_>, timber: &Timber) -> String {
    let length = book.len.long(timber.length);
    if timber.pieces > 1 { format!("{} × {length}", timber.pieces) } else { length }
}
