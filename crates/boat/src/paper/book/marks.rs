//! The table of marks: each mould, the stem and the transom, with its land lines.

use super::length::{capital, degrees, is_nought};
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::section_name;
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::drawing::table::Table;
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::geom::Point;
use crate::lines::{Section, SectionAt};
use crate::lining::Mark;
use crate::setting_up::MouldShape;
use crate::spec::{EndSpec, Stand, Transom};

/// One section a page: its marks at the left, drawn as large as there is room at the right; and more pages where there are
/// too many marks for one.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    (0..book.plan.sections.len()).zip(&book.plan.sections).flat_map(|(i, section)| sheet(book, i, section)).collect()
}

/// What the pages are called.
const TITLE: &str = "Table of marks";
/// Kept under the table for what the star means, mm.
const FOOT: f64 = 6.0;

/// The table's share of the page's width, and that of a transom's, which has more columns.
const TABLE: f64 = 0.39;
const TRANSOM_TABLE: f64 = 0.58;

/// The transom at which a section is taken.
fn transom_of<'a>(book: &'a Book<'_>, section: &Section) -> Option<&'a Transom> {
    let end = match section.at {
        SectionAt::Transom => &book.plan.spec.aft,
        SectionAt::BowTransom => &book.plan.spec.fore,
        SectionAt::Post | SectionAt::Station(_) => return None,
    };
    if let EndSpec::Transom(t) = end { Some(t) } else { None }
}

/// A section's own plane seen square on, to the right and up: a post from the side, since it lies in the middle of the
/// boat; a transom's outer face laid flat, up from its foot's height.
fn seen(book: &Book<'_>, section: &Section, p: &Point) -> [f64; 2] {
    match (section.at, transom_of(book, section)) {
        (SectionAt::Post, _) => [p.x, p.z],
        (_, Some(t)) => {
            let [across, up] = t.laid_flat(p.y, p.z);
            [across, t.foot[1] + up]
        }
        (_, None) => [p.y, p.z],
    }
}

fn sheet<'a>(book: &Book<'a>, index: usize, section: &Section) -> Vec<Page<'a>> {
    let name = &book.plan.spec.name;
    let mut page = book.page_to_scale(TITLE, name);
    let whole = page.frame;
    let share = if section.at.is_transom() { TRANSOM_TABLE } else { TABLE };
    let split = whole.left + share * whole.width();
    let frame = Frame { right: split, ..whole };
    let marks: Vec<&Mark> = book.plan.marks.iter().filter(|m| m.section == index).collect();
    let title = title(book, index);
    let top = page.head([frame.left, frame.top], &title);
    let words = place(book, section, index, &marks);
    let top = page.paragraph([frame.left, top], frame.width(), look::NOTE, &words);

    let mut table = table(book, index, section, &marks);
    tables::fit(page.t, &mut table, frame.width());
    let room = frame.bottom - top - table.head_height(page.t, frame.width()) - FOOT;
    tables::grow(page.t, &mut table, frame.width(), (room / marks.len().max(1) as f64).clamp(6.0, 9.0));
    let pinned = marks.iter().any(|m| m.pinned);
    let height = frame.bottom - top - if pinned { FOOT } else { 0.0 };
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), height, 0);
    if pinned {
        let note = look::NOTE.face(Face::Italic);
        page.words([frame.left, drawn.bottom + 4.6], Anchor::Left, note, "* pinned in marks.csv");
    }
    draw(&mut page, book, Frame { left: split + 6.0, ..whole }, index, &marks);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, || {
        let mut page = book.page(TITLE, name);
        page.frame.top = page.head([page.frame.left, page.frame.top], &format!("{title}, continued"));
        page
    }));
    pages
}

/// A section's marks, a row to each from the rabbet up.
fn table(book: &Book<'_>, index: usize, section: &Section, marks: &[&Mark]) -> Table {
    let transom = section.at.is_transom();
    let shape = book.plan.backbone.transoms.iter().find(|t| t.end == section.name);
    let post = section.at == SectionAt::Post;
    // A stem mostly stands forward of the first station: say so, and leave out the minus signs.
    let forward = post && marks.iter().all(|m| m.at.x < 0.5);
    let sides = match (post, forward) {
        (true, true) => format!("forward of station {}", book.first_station()),
        (true, false) => format!("aft of station {}", book.first_station()),
        (false, _) => "half-breadth".to_owned(),
    };
    let mut columns = vec![
        tables::names("land", 1.3),
        tables::longs(book.len, "along from the rabbet", 1.9),
        tables::longs(book.len, "height above base", 1.9),
        tables::longs(book.len, &sides, 1.9),
    ];
    let bent = transom_of(book, section).filter(|t| t.radius.is_some());
    if bent.is_some() {
        columns.push(tables::longs(book.len, "the same laid flat", 1.9));
    }
    if transom {
        columns.push(tables::longs(book.len, "up its face", 1.9));
        columns.push(tables::numbers(book.len, "next strake in", 1.5));
        columns.push(tables::numbers(book.len, "off the curve", 1.4));
        columns.push(tables::counts("bevel", 1.4));
        columns.push(tables::numbers(book.len, "other face out", 1.4));
    }
    let mut table = tables::table(columns, 6.0);
    table.look.pad = 1.9;
    for mark in marks {
        let side = match (post, forward) {
            (true, true) => -mark.at.x,
            (true, false) => mark.at.x,
            (false, _) => mark.at.y,
        };
        let numbers = [mark.girth, mark.at.z, side].map(|v| book.len.long(v));
        let mut row = tables::row([land_name(book, mark.land)].into_iter().chain(numbers));
        if let Some(t) = bent {
            row.cells.push(book.len.long(t.laid_flat(mark.at.y, mark.at.z)[0]).into());
        }
        if transom {
            let up = transom_of(book, section).map_or(0.0, |t| t.laid_flat(mark.at.y, mark.at.z)[1]);
            row.cells.push(book.len.long(up).into());
            row.cells.push(next_in(book, mark).into());
            let off = if mark.land > 0 { book.len.fine(proud(book, index, mark.land)) } else { String::new() };
            row.cells.push(off.into());
            let seat = shape.and_then(|s| s.seats.iter().find(|s| s.strake == mark.land));
            row.cells.push(seat.map_or_else(String::new, |s| degrees(s.bevel)).into());
            row.cells.push(seat.map_or_else(String::new, |s| book.len.fine(s.inner_out)).into());
        }
        if mark.pinned {
            row.cells[0].text.push_str(" *");
        }
        table.rows.push(row);
    }
    table
}

/// How far the next strake's inner face stands in from a mark on the transom; out, where it is proud.
fn next_in(book: &Book<'_>, mark: &Mark) -> String {
    let strake = book.plan.strakes.iter().find(|s| s.strake == mark.land);
    let step = strake.and_then(|s| s.at.iter().find(|a| a.section == mark.section)?.step_inside(s.thickness));
    match step {
        Some(step) if step > 0.0 && !is_nought(&book.len.fine(step)) => format!("{} out", book.len.fine(step)),
        Some(step) => book.len.fine(step.abs()),
        None => String::new(),
    }
}

/// How far the section's curve stands out past the inner face of strake `k`, at most, between its two marks, mm.
fn proud(book: &Book<'_>, index: usize, k: usize) -> f64 {
    let plan = book.plan;
    let strake = plan.strakes.iter().find(|s| s.strake == k);
    let ruling = strake.and_then(|s| s.at.iter().find(|a| a.section == index).map(|a| &s.rulings[a.ruling]));
    let (Some(r), Some(section)) = (ruling, plan.sections.get(index)) else { return 0.0 };
    let girth = |land: usize| plan.marks.iter().find(|m| m.land == land && m.section == index).map(|m| m.girth);
    let (Some(from), Some(to)) = (girth(k - 1), girth(k)) else { return 0.0 };
    let mut along = 0.0;
    let mut most = 0.0_f64;
    for (i, p) in section.points.iter().enumerate() {
        along += if i > 0 { (p - section.points[i - 1]).norm() } else { 0.0 };
        if along >= from && along <= to {
            most = most.max((p - r.upper).dot(&r.normal));
        }
    }
    most
}

fn land_name(book: &Book<'_>, land: usize) -> String {
    if land == 0 {
        "rabbet".to_owned()
    } else if land + 1 == book.plan.lands.len() {
        "sheer".to_owned()
    } else {
        land.to_string()
    }
}

fn title(book: &Book<'_>, index: usize) -> String {
    let name = section_name(book, index);
    match book.plan.sections.get(index).map(|s| s.at) {
        Some(SectionAt::Station(_)) => format!("Mould {name}"),
        _ => capital(&name),
    }
}

fn place(book: &Book<'_>, section: &Section, index: usize, marks: &[&Mark]) -> String {
    let proud = (1..=book.plan.strakes.len()).map(|k| proud(book, index, k)).fold(0.0, f64::max);
    let proud = book.len.fine_unit(proud);
    match section.at {
        SectionAt::Station(_) => {
            let x = section.points.first().map_or(0.0, |p| p.x);
            let mould = book.plan.moulds.iter().find(|m| m.section == index);
            let set = book.plan.setting_up.moulds.iter().find(|m| m.section == index);
            let side = mould.map_or(String::new(), |m| {
                let face = if m.wood_abaft { "after" } else { "fore" };
                let mut text = format!(" The mould is on its {face} side and its edge needs no bevel.");
                if let Some(half) = set.and_then(|s| s.level) {
                    let level = book.len.long_unit(book.plan.setting_up.level);
                    text.push_str(&format!(" Level line {level} above base: {} half-breadth.", book.len.long(half)));
                }
                if let Some(n) = set.and_then(|s| s.timber) {
                    text.push_str(&format!(" Timber {n} stands here and waits until the mould is out."));
                }
                if let Some(notch) = set.map(|s| s.notch).filter(|_| book.plan.spec.keel.hog_half_breadth.is_some()) {
                    text.push_str(&format!(
                        " Notch it {} wide up to {} for keel and hog.",
                        book.len.short_unit(2.0 * notch.half_breadth),
                        book.len.long(notch.top)
                    ));
                }
                text
            });
            if x.abs() < 0.5 {
                return format!("Distances along the boat are taken from here.{side} {}", flats(&proud));
            }
            let at = book.len.long_unit(x);
            format!("The station is {at} aft of station {}.{side} {}", book.first_station(), flats(&proud))
        }
        SectionAt::Post => {
            let half = marks.first().map_or(0.0, |m| m.at.y);
            format!("In the rabbet, seen from the side; the rabbet's half siding is {}.", book.len.fine_unit(half))
        }
        SectionAt::Transom | SectionAt::BowTransom => {
            let face = if section.at == SectionAt::BowTransom { "fore" } else { "after" };
            let thick = transom_of(book, section).map_or_else(String::new, |t| book.len.short_unit(t.thickness));
            let round = transom_of(book, section).and_then(|t| t.radius).map_or_else(String::new, |r| {
                format!(" (bent to a radius of {}, drawn here laid flat)", book.len.long_unit(r))
            });
            let crown = transom_of(book, section).and_then(|t| t.crown).filter(|c| *c > 0.0);
            let crown = crown.map_or_else(String::new, |c| {
                format!(" Its top rises {} on the centreline over its corners, up the face.", book.len.short_unit(c))
            });
            let on_centre = |z: f64| transom_of(book, section).map_or(0.0, |t| t.x_at(0.0, z));
            let x = |mark: Option<&&Mark>| mark.map_or_else(String::new, |m| fore_and_aft(book, on_centre(m.at.z)));
            format!(
                "Its {face} face{round}, where the planks end: on the centreline {} at the rabbet, {} level with the sheer. Leave the \
                 planks long and trim them to it. Each plank is flat, so its seat is straight: it begins under the mark \
                 below, set in from it by \u{201c}next strake in\u{201d}, and runs out at the mark above. \
                 \u{201c}Off the curve\u{201d} is the most that takes off under each mark. \u{201c}Bevel\u{201d} is the \
                 edge\u{2019}s, off square, under the mark: over {thick} of wood the other face stands out by the last column.{crown}",
                x(marks.first()),
                x(marks.last())
            )
        }
    }
}

/// A place along the boat in words.
pub fn fore_and_aft(book: &Book<'_>, x: f64) -> String {
    let way = if x < 0.0 { "forward" } else { "aft" };
    format!("{} {way} of station {}", book.len.long_unit(x.abs()), book.first_station())
}

fn flats(proud: &str) -> String {
    if is_nought(proud) {
        return "Its curve stands nowhere proud of the planks.".to_owned();
    }
    format!(
        "The fair curve stands up to {proud} proud of the planks' flat faces; the full line and the pattern are eased there."
    )
}

fn draw(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, index: usize, marks: &[&Mark]) {
    let Some(section) = book.plan.sections.get(index) else { return };
    let shape = book.plan.backbone.transoms.iter().find(|t| t.end == section.name);
    let mould = book.plan.setting_up.moulds.iter().find(|m| m.section == index);
    let Some((low_z, mut high_z)) = range(section.points.iter().map(|p| seen(book, section, p)[1])) else { return };
    let foot_z = transom_of(book, section).map_or(0.0, |t| t.foot[1]);
    let top: Vec<[f64; 2]> = shape.map_or_else(Vec::new, |s| s.top.iter().map(|p| [p[0], p[1] + foot_z]).collect());
    high_z = top.iter().fold(high_z, |high, p| high.max(p[1]));
    high_z = mould.and_then(|m| m.legs).map_or(high_z, |l| high_z.max(l.heights[1]));
    let Some((low_u, high_u)) = range(section.points.iter().map(|p| seen(book, section, p)[0])) else { return };
    let post = section.at == SectionAt::Post;
    let u0 = if post { low_u } else { 0.0 };
    // Room for the ticks and numbers all round, and for the caption over it.
    let (across_room, up_room) = (frame.width() - 32.0, frame.height() - 20.0);
    let scale = customary(((high_u - u0) / across_room).max((high_z - low_z) / up_room), book.len.0);
    let left = frame.left + 10.0 + (across_room - (high_u - u0) / scale) / 2.0;
    let foot = frame.bottom - 6.0 - (up_room - (high_z - low_z) / scale) / 2.0;
    let view = View::new([left - u0 / scale, foot + low_z / scale], scale);
    if !post {
        let centre = Stroke::broken(Weight::Hair, look::PENCIL, Dash::Centre);
        page.line(view.run([[0.0, low_z], [0.0, high_z]]), centre);
    }
    let outline: Vec<[f64; 2]> = section.points.iter().map(|p| seen(book, section, p)).collect();
    match (shape, mould, transom_of(book, section)) {
        (Some(shape), _, Some(t)) => {
            // What is cut: the planks' seats; the skin's own curve beside them, and the other face.
            let raised = |p: [f64; 2]| [p[0], p[1] + t.foot[1]];
            page.line(view.run(outline.iter().copied()), look::RULE);
            page.line(view.run(shape.outline().into_iter().map(raised).chain(top.iter().copied())), look::BOLD);
            let other = Stroke::broken(Weight::Thin, look::INK, Dash::Hidden);
            page.line(view.run(shape.inner_outline().into_iter().map(raised)), other);
        }
        (_, Some(mould), _) => {
            page.line(view.run(outline.iter().copied()), look::RULE);
            page.line(view.run(mould.edge.iter().copied()), look::BOLD);
            mould_lines(page, book, view, mould);
        }
        _ => page.line(view.run(outline.iter().copied()), look::BOLD),
    }
    let mut taken: Vec<Spot> = Vec::new();
    for mark in marks {
        let at = seen(book, section, &mark.at);
        let square = square_to(&outline, at);
        let spot = view.at(at[0], at[1]);
        // A transom's other face is drawn outside it, so its numbers stand inside.
        let hand = if shape.is_some() { -1.0 } else { 1.0 };
        let end = |mm: f64| [spot[0] + hand * square[0] * mm, spot[1] - hand * square[1] * mm];
        page.put("ink", Shape::line(vec![end(-2.0), end(2.0)], Stroke::solid(Weight::Medium, look::COPPER)));
        // Where marks crowd, numbers step out until each stands clear of the one before.
        let clear = |p: &Spot| taken.iter().all(|q: &Spot| (p[0] - q[0]).abs() > 5.6 || (p[1] - q[1]).abs() > 4.0);
        let mut label = [5.0, 9.4, 13.8].map(end).into_iter().find(clear).unwrap_or_else(|| end(18.2));
        if !top.is_empty() && marks.last().is_some_and(|last| last.land == mark.land) {
            // Under the top edge, which may come down to the corner.
            label[1] += 3.4;
        }
        if (label[0] - spot[0]).hypot(label[1] - spot[1]) > 6.0 {
            let (dx, dy) = (label[0] - spot[0], label[1] - spot[1]);
            let short = 1.0 - 3.0 / dx.hypot(dy);
            page.line(vec![end(2.0), [spot[0] + dx * short, spot[1] + dy * short]], look::RULE);
        }
        taken.push(label);
        let style = look::NUMBER.face(Face::Semibold);
        page.words([label[0], label[1] + 1.3], Anchor::Middle, style, &mark.land.to_string());
    }
    let caption = format!("{}, to the inside of the planking", scale_words(scale, book.len.0));
    page.words([frame.right, frame.top + 2.2], Anchor::Right, look::NOTE, &caption);
}

/// The level line, the notch at the keel and the sheer's height across a mould.
fn mould_lines(page: &mut Page<'_>, book: &Book<'_>, view: View, mould: &MouldShape) {
    let level = book.plan.setting_up.level;
    if let Some(half) = mould.level {
        page.line(view.run([[0.0, level], [half, level]]), Stroke::broken(Weight::Thin, look::COPPER, Dash::Centre));
        let [x, y] = view.at(half, level);
        page.words([x - 2.0, y - 1.0], Anchor::Right, look::NOTE, "level line");
    }
    if let Some(legs) = mould.legs {
        let ([inner, outer], [from, to], spall) = (legs.half_breadths, legs.heights, legs.spall);
        let pen = Stroke::solid(Weight::Thin, look::INK);
        page.line(view.run([[0.0, from], [outer, from]]), pen);
        for half in [inner, outer].into_iter().filter(|half| *half > 0.0) {
            page.line(view.run([[half, from], [half, to]]), pen);
        }
        for z in spall.into_iter().filter(|z| *z > from) {
            page.line(view.run([[0.0, z], [outer, z]]), pen);
        }
        let upside_down = book.plan.setting_up.stand == Stand::UpsideDown;
        let [x, y] = view.at(outer, spall[1]);
        page.words(
            [x + 2.0, y + 1.0],
            Anchor::Left,
            look::NOTE,
            if upside_down { "strongback" } else { "cross-spall" },
        );
    }
    let (half, top) = (mould.notch.half_breadth, mould.notch.top);
    let foot = mould.edge.first().map_or(top, |p| p[1]);
    let notch = Stroke::solid(Weight::Medium, look::INK);
    page.line(view.run([[0.0, top], [half, top], [half, foot.min(top)]]), notch);
}

/// Unit vector square to an outline at its point nearest `at`, outboard: to the right of one walking up it.
pub fn square_to(outline: &[[f64; 2]], at: [f64; 2]) -> [f64; 2] {
    let off = |p: &[f64; 2]| (p[0] - at[0]).hypot(p[1] - at[1]);
    let nearest = (0..outline.len()).min_by(|a, b| off(&outline[*a]).total_cmp(&off(&outline[*b]))).unwrap_or(0);
    let (Some(a), Some(b)) =
        (outline.get(nearest.saturating_sub(1)), outline.get((nearest + 1).min(outline.len().saturating_sub(1))))
    else {
        return [1.0, 0.0];
    };
    let (du, dv) = (b[0] - a[0], b[1] - a[1]);
    let length = du.hypot(dv).max(1e-9);
    [dv / length, -du / length]
}
