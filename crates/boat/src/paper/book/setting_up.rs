//! How the moulds are set up: where each stands, how high, and the diagonals that prove it square.

use super::length::capital;
use super::look;
use super::marks::fore_and_aft;
use super::page::{Book, Frame, Page};
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::drawing::words::Style;
use crate::drawing::{Anchor, Dash, Face, Stroke, Weight};
use crate::geom::Point;
use crate::spec::{EndSpec, Stand};

/// What the pages are called.
const TITLE: &str = "Setting up the moulds";
/// The words over and under the table.
const WORDS: Style = look::NOTE.size(3.5);

/// One page, and more where there are too many moulds for one.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let name = &book.plan.spec.name;
    let mut page = book.page_to_scale(TITLE, name);
    let set = &book.plan.setting_up;
    let frame = page.frame;
    let floor = match set.stand {
        Stand::Upright => "floor",
        Stand::UpsideDown => "strongback",
    };
    let top = page.paragraph([frame.left, frame.top], frame.width(), WORDS, &words(book, floor));
    let mut table = table(book, floor);
    tables::fit(page.t, &mut table, frame.width());
    let head = table.head_height(page.t, frame.width());
    let row = ((frame.bottom - top - head) * 0.62 / set.moulds.len().max(1) as f64).clamp(5.0, 7.4);
    tables::grow(page.t, &mut table, frame.width(), row);
    let ends = ends(book, floor);
    let room = frame.bottom - top - 2.0 - page.paragraph_height(frame.width(), WORDS, &ends);
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), room, 0);
    let bottom = page.paragraph([frame.left, drawn.bottom + 2.0], frame.width(), WORDS, &ends);
    side_view(&mut page, book, Frame { top: bottom + 2.0, ..frame }, floor);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, || book.page(TITLE, name)));
    pages
}

/// How she is set up, in words.
fn words(book: &Book<'_>, floor: &str) -> String {
    let set = &book.plan.setting_up;
    let upright = set.stand == Stand::Upright;
    let leg = book.len.short_unit(book.plan.spec.moulds.leg);
    let legs = match (upright, set.moulds.iter().any(|m| m.legs.is_some())) {
        (true, true) => format!(
            "The keel lies on stocks at these heights, the moulds stand on it, braced from above by a cross-spall {leg} wide over \
             their legs, {} over the sheer.",
            book.len.short_unit(book.plan.spec.moulds.clearance)
        ),
        (true, false) => {
            "The keel lies on stocks at these heights, the moulds stand on it, braced from above.".to_owned()
        }
        (false, true) => format!(
            "Legs {leg} wide run plumb from the sheer to the strongback, as long as the sheer is over it, and a cross-spall across \
             their feet stands on it."
        ),
        (false, false) => "Leave legs on the moulds to reach the strongback, past the sheer.".to_owned(),
    };
    let dust = "Sawing moulds out of board or sheet makes fine dust: a mask on, and drawn off where it is made.";
    format!(
        "She is set up {}, her base line {} above the {floor} (boat.toml: moulds.base_above_floor, moulds.stand). Heights \
         are above the {floor}. Stretch the centreline first and keep it up. Each mould stands on its station line with its body to the side named, plumb, its centreline on \
         the boat's and its level line, {} above base, level. It is square across when both its sheer marks are as far \
         from the pin at the bow, and the diagonals to the next mould's sheer, port to starboard and \
         starboard to port, come out alike and as given. {legs} Brace it, then measure all of them once more. She is turned by as many \
         hands as her weight wants, on the page \u{201c}What she weighs\u{201d}; wedge and tie every mould before hammering. {dust}",
        if upright { "upright" } else { "upside down, keel up" },
        book.len.long_unit(set.base_above_floor),
        book.len.long_unit(set.level),
    )
}

/// Where stem, sternpost and transoms stand, and the pin that the moulds are measured from.
fn ends(book: &Book<'_>, floor: &str) -> String {
    let (plan, set) = (book.plan, &book.plan.setting_up);
    let over = |z: f64| book.len.long(set.over_floor(z));
    let mut text = String::new();
    for (j, section) in [(0, plan.sections.first()), (plan.sections.len().saturating_sub(1), plan.sections.last())] {
        let Some(section) = section else { continue };
        let (Some(foot), Some(head)) = (section.points.first(), section.points.last()) else { continue };
        let end = if j == 0 { &plan.spec.fore } else { &plan.spec.aft };
        let name = capital(&section.name);
        match end {
            EndSpec::Post(_) => text.push_str(&format!(
                "{name}, inner rabbet: foot {}, {} over the {floor}; at the sheer {}, {} over it. ",
                fore_and_aft(book, foot.x),
                over(foot.z),
                fore_and_aft(book, head.x),
                over(head.z)
            )),
            EndSpec::Transom(t) => {
                let lean = t.up()[0].atan2(t.up()[1]).to_degrees();
                let way = if lean < 0.0 { "forward" } else { "aft" };
                let near = if j == 0 { set.moulds.first() } else { set.moulds.last() };
                let sheer = near.and_then(|m| plan.sections.get(m.section)).and_then(|s| s.points.last());
                let cross = sheer.map_or(0.0, |s| (Point::new(head.x, -head.y, head.z) - s).norm());
                text.push_str(&format!(
                    "{name}, outer face: leans {:.1}\u{b0} {way}; on the centreline {} at the rabbet, {} over the {floor}; its corners \
                     at the sheer {}, {} over it and {} apart, {} from the next mould's sheer on the other side. ",
                    lean.abs(),
                    fore_and_aft(book, t.foot[0]),
                    over(t.foot[1]),
                    fore_and_aft(book, head.x),
                    over(head.z),
                    book.len.long(2.0 * head.y),
                    book.len.long(cross)
                ));
            }
        }
    }
    if let Some(bow) = plan.sections.first().and_then(|s| s.points.last()) {
        text.push_str(&format!(
            "\u{201c}Pin to sheer\u{201d} is measured from a pin on the centreline {}, {} over the {floor}.",
            fore_and_aft(book, bow.x),
            over(bow.z)
        ));
    }
    text
}

fn table(book: &Book<'_>, floor: &str) -> crate::drawing::table::Table {
    let columns = vec![
        tables::names("mould", 1.0),
        tables::longs(book.len, &format!("aft of station {}", book.first_station()), 1.2),
        tables::longs(book.len, "from the one before", 1.2),
        tables::text("its body stands", 1.1),
        tables::longs(book.len, &format!("rabbet over {floor}"), 1.2),
        tables::longs(book.len, &format!("level line over {floor}"), 1.2),
        tables::longs(book.len, &format!("sheer over {floor}"), 1.2),
        tables::longs(book.len, "sheer to sheer", 1.2),
        tables::longs(book.len, "pin to sheer", 1.2),
        tables::longs(book.len, "diagonal to the next", 1.2),
    ];
    let mut table = tables::table(columns, 5.6);
    table.look.pad = 1.5;
    for m in &book.plan.setting_up.moulds {
        let mut cells = vec![m.name.clone(), book.len.long(m.x)];
        cells.push(m.from_before.map_or_else(String::new, |d| book.len.long(d)));
        let mould = book.plan.moulds.iter().find(|p| p.section == m.section);
        cells.push(mould.map_or("", |p| if p.wood_abaft { "abaft it" } else { "before it" }).to_owned());
        cells.extend([m.heights.rabbet, m.heights.level, m.heights.sheer].map(|h| book.len.long(h)));
        cells.extend([m.across_sheer, m.from_bow].map(|d| book.len.long(d)));
        cells.push(m.diagonal.map_or_else(String::new, |d| book.len.long(d)));
        table.rows.push(tables::row(cells));
    }
    table
}

/// The moulds from the side, on the floor.
fn side_view(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, floor: &str) {
    let (plan, set) = (book.plan, &book.plan.setting_up);
    let up = |z: f64| set.over_floor(z);
    let all = || plan.sections.iter().flat_map(|s| &s.points);
    let (Some((x0, x1)), Some((h0, h1))) = (range(all().map(|p| p.x)), range(all().map(|p| up(p.z)))) else { return };
    let heads = set.moulds.iter().filter_map(|m| Some(up(m.legs?.heights[1])));
    let top = heads.fold(h1.max(up(set.level)).max(h0), f64::max);
    let (wide, tall) = (frame.width() - 30.0, frame.height() - 10.0);
    if tall < 20.0 {
        return;
    }
    let scale = customary(((x1 - x0) / wide).max(top / tall), book.len.0);
    let left = frame.left + 15.0 + (wide - (x1 - x0) / scale) / 2.0;
    let view = View::new([left - x0 / scale, frame.bottom - 1.0], scale);
    let across = |h: f64| view.run([[x0 - 6.0 * scale, h], [x1 + 6.0 * scale, h]]);
    page.line(across(0.0), look::BOLD);
    page.line(across(up(0.0)), look::GUIDE);
    page.line(across(up(set.level)), Stroke::broken(Weight::Thin, look::COPPER, Dash::Centre));
    let label = |page: &mut Page<'_>, h: f64, words: &str| {
        let [x, y] = view.at(x0, h);
        page.words([x - 7.5, y + 1.0], Anchor::Right, look::NOTE, words);
    };
    label(page, 0.0, floor);
    label(page, up(0.0), "base");
    label(page, up(set.level), "level line");
    for land in [plan.lands.first(), plan.lands.last()].into_iter().flatten() {
        page.line(view.run(land.points.iter().map(|p| [p.x, up(p.z)])), look::THIN);
    }
    for s in plan.sections.first().into_iter().chain(plan.sections.last()) {
        page.line(view.run(s.points.iter().map(|p| [p.x, up(p.z)])), look::THIN);
    }
    for m in &set.moulds {
        let Some(mould) = plan.moulds.iter().find(|p| p.section == m.section) else { continue };
        // Keel down they stand on the keel; keel up on legs from the strongback.
        let ends = match set.stand {
            Stand::Upright => [m.heights.rabbet, m.legs.map_or(m.heights.sheer, |l| up(l.heights[1]))],
            Stand::UpsideDown => [0.0, m.heights.rabbet],
        };
        let at = |x: f64| view.run(ends.map(|h| [x, h]));
        page.line(at(m.x), Stroke::solid(Weight::Medium, look::INK));
        let body = if mould.wood_abaft { mould.aft } else { mould.fore };
        page.line(at(body), Stroke::solid(Weight::Hair, look::INK));
        let [x, y] = view.at(m.x, ends[1]);
        page.words([x, y - 1.4], Anchor::Middle, look::NOTE.face(Face::Semibold), &m.name);
    }
    let caption =
        format!("From the side, {}; the strong line of each mould is its station", scale_words(scale, book.len.0));
    page.words([frame.left, frame.top + 1.0], Anchor::Left, look::NOTE, &caption);
}
