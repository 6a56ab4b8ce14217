//! Stem, sternpost and keel: the three lines of their rabbets, and the angles to cut them to.

use super::length::degrees;
use super::look;
use super::page::{Book, Frame, Page};
use super::strake::section_name;
use super::tables;
use super::view::{View, customary, range, scale_words};
use crate::backbone::{PostShape, RabbetAt};
use crate::drawing::table::{Group, Table};
use crate::drawing::{Anchor, Dash, Face, Stroke, Weight};
use crate::geom::Point;
use crate::lines::SectionAt;

/// A page to each post and one for the keel, and more where their tables go on.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let mut pages: Vec<Page<'a>> = book.plan.backbone.posts.iter().flat_map(|p| post(book, p)).collect();
    pages.extend(keel(book));
    pages
}

fn post<'a>(book: &Book<'a>, post: &PostShape) -> Vec<Page<'a>> {
    let title = if post.end == "stem" { "Rabbet of the stem" } else { "Rabbet of the sternpost" };
    let mut page = book.page_to_scale(title, &book.plan.spec.name);
    let whole = page.frame;
    let split = whole.left + 0.68 * whole.width();
    let frame = Frame { right: split, ..whole };
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::NOTE, &post_words(book, post));
    let mut table = post_table(book, post);
    tables::fit(page.t, &mut table, frame.width());
    let room = frame.bottom - top - table.head_height(page.t, frame.width()) - 2.0;
    let rows = table.rows.len().max(1) as f64;
    tables::grow(page.t, &mut table, frame.width(), (room / rows).clamp(5.6, 8.0));
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), frame.bottom - top, 0);
    profile(&mut page, book, Frame { left: split + 6.0, ..whole }, post);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, || book.page(title, &book.plan.spec.name)));
    pages
}

fn post_words(book: &Book<'_>, post: &PostShape) -> String {
    format!(
        "For wood of {} half siding. The rabbet line is where the plank's outer corner comes out of the wood, the inner \
         rabbet the bottom of the groove, the bearding line where the plank's inner face leaves the wood. Heights are above \
         base, places {}. The plank's face stands off the wood's side by the angle, square to the rabbet; the groove's \
         bottom is square to the plank. Where it is deeper than \
         the plank is thick, dress the wood's corner down to the plank. The wood may be wider than at the inner rabbet, \
         whose half siding the table of marks gives.",
        book.len.fine_unit(post.half_siding),
        along_words(book, post)
    )
}

/// Where each land meets the three lines of the rabbet, and how the strake from there up stands in it.
fn post_table(book: &Book<'_>, post: &PostShape) -> Table {
    let mut columns = vec![tables::names("at land", 1.2)];
    for _ in 0..3 {
        columns.push(tables::longs(book.len, "height", 1.0));
        columns.push(tables::longs(book.len, "along", 1.0));
    }
    columns.push(tables::names("strake", 0.9));
    columns.push(tables::counts("angle", 1.0));
    columns.push(tables::numbers(book.len, "depth", 1.0));
    let mut table = tables::table(columns, 6.0);
    table.look.pad = 1.7;
    let group = |from, head: &str| Group { from, to: from + 1, head: head.to_owned() };
    table.groups = vec![
        group(1, "rabbet line"),
        group(3, "inner rabbet"),
        group(5, "bearding line"),
        Group { from: 7, to: 9, head: "from here up".to_owned() },
    ];
    let last = post.lands.len().saturating_sub(1);
    for (k, at) in post.lands.iter().enumerate() {
        let name = match k {
            0 => "rabbet".to_owned(),
            k if k == last => "sheer".to_owned(),
            k => k.to_string(),
        };
        let mut cells = vec![name];
        for p in [at.outer, Some(at.inner), at.bearding] {
            cells.extend(
                p.map_or([String::new(), String::new()], |p| [book.len.long(p.z), book.len.long(along(post, &p))]),
            );
        }
        match post.strakes.get(k) {
            Some(s) => cells.extend([
                (k + 1).to_string(),
                degrees(s.angle),
                s.depth().map_or_else(String::new, |d| book.len.fine(d)),
            ]),
            None => cells.extend([String::new(), String::new(), String::new()]),
        }
        table.rows.push(tables::row(cells));
    }
    table
}

/// All of a stem mostly stands forward of the first station: then without minus signs.
fn forward(post: &PostShape) -> bool {
    post.end == "stem" && post.rabbet.iter().all(|r| r.inner.x < 0.5)
}

fn along(post: &PostShape, p: &Point) -> f64 {
    if forward(post) { -p.x } else { p.x }
}

fn along_words(book: &Book<'_>, post: &PostShape) -> String {
    let way = if forward(post) { "forward" } else { "aft" };
    format!("along the boat {way} of station {}", book.first_station())
}

fn profile(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, post: &PostShape) {
    let xz = |p: &Point| [p.x, p.z];
    let line = |of: fn(&RabbetAt) -> Option<Point>| -> Vec<[f64; 2]> {
        post.rabbet.iter().filter_map(of).map(|p| xz(&p)).collect()
    };
    let (outer, bearding) = (line(|r| r.outer), line(|r| r.bearding));
    let inner = line(|r| Some(r.inner));
    let all = || [&outer, &inner, &bearding, &post.outer_face, &post.inner_face].into_iter().flatten();
    let (Some((x0, x1)), Some((z0, z1))) = (range(all().map(|p| p[0])), range(all().map(|p| p[1]))) else { return };
    let (wide, tall) = (frame.width() - 16.0, frame.height() - 14.0);
    let scale = customary(((x1 - x0) / wide).max((z1 - z0) / tall), book.len.0);
    let left = frame.left + 8.0 + (wide - (x1 - x0) / scale) / 2.0;
    let view =
        View::new([left - x0 / scale, frame.bottom - 4.0 - (tall - (z1 - z0) / scale) / 2.0 + z0 / scale], scale);
    for face in [&post.outer_face, &post.inner_face] {
        page.line(view.run(face.iter().copied()), Stroke::solid(Weight::Medium, look::INK));
    }
    if let (Some(_), Some(outer), Some(inner)) = (post.head, post.outer_face.last(), post.inner_face.last()) {
        page.line(view.run([*outer, *inner]), Stroke::solid(Weight::Medium, look::INK));
    }
    page.line(view.run(outer.iter().copied()), look::BOLD);
    page.line(view.run(inner.iter().copied()), Stroke::broken(Weight::Thin, look::INK, Dash::Hidden));
    page.line(view.run(bearding.iter().copied()), Stroke::solid(Weight::Thin, look::COPPER));
    for (k, at) in post.lands.iter().enumerate() {
        if let (Some(o), Some(b)) = (at.outer, at.bearding) {
            page.line(view.run([xz(&o), xz(&b)]), look::RULE);
        }
        let outer = xz(&at.outer.unwrap_or(at.inner));
        // Numbers stand off the boat, and clear of the wood's outer face.
        let clear = level(&post.outer_face, outer);
        let [x, y] = view.at(clear.unwrap_or(outer[0]), outer[1]);
        let off = if clear.is_some() { 1.6 } else { 3.0 };
        let off = if post.end == "stem" { -off } else { off };
        let anchor = if post.end == "stem" { Anchor::Right } else { Anchor::Left };
        let before = k.checked_sub(1).and_then(|b| post.lands.get(b));
        let crowded = before.is_some_and(|b| (b.inner - at.inner).norm() / scale < 3.4);
        if !crowded {
            page.line(vec![view.at(outer[0], outer[1]), [x, y]], look::RULE);
            page.words([x + off, y + 1.0], anchor, look::NOTE.face(Face::Semibold), &k.to_string());
        }
    }
    let caption =
        format!("{}: rabbet line bold, inner rabbet broken, bearding line in copper", scale_words(scale, book.len.0));
    page.paragraph([frame.left, frame.top], frame.width(), look::NOTE, &caption);
}

/// Where a line in profile crosses the height of `from`, nearest to it, mm; `None` where it does not.
fn level(line: &[[f64; 2]], from: [f64; 2]) -> Option<f64> {
    let crossing = |w: &[[f64; 2]]| {
        let share = (from[1] - w[0][1]) / (w[1][1] - w[0][1]);
        (0.0..=1.0).contains(&share).then(|| w[0][0] + share * (w[1][0] - w[0][0]))
    };
    let all = line.windows(2).filter_map(crossing);
    all.min_by(|a, b| (a - from[0]).abs().total_cmp(&(b - from[0]).abs()))
}

fn keel<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let blank = || book.page("Rabbet of the keel", &book.plan.spec.name);
    let mut page = blank();
    let frame = page.frame;
    let top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, &keel_words(book)) + 2.0;
    let mut table = keel_table(book);
    let room = frame.bottom - top - table.head_height(page.t, frame.width()) - 2.0;
    let n = table.rows.len().max(1) as f64;
    tables::grow(page.t, &mut table, frame.width(), (room / n).clamp(5.0, 9.0));
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), frame.bottom - top, 0);
    let mut pages = vec![page];
    pages.extend(tables::rest(&mut table, drawn.next, blank));
    pages
}

fn keel_words(book: &Book<'_>) -> String {
    let plan = book.plan;
    let on_hog = match plan.spec.keel.hog_half_breadth {
        Some(w) => format!(
            " The hog is {} half-breadth: its top edge is planed off to the garboard's inner face, which stands above the \
             inner corner there by the last column.",
            book.len.fine_unit(w)
        ),
        None => " Where the garboard lies on a hog, plane the hog to the same angle.".to_owned(),
    };
    let posts = if plan.backbone.posts.is_empty() {
        ""
    } else {
        " At a post the rabbet goes on up it, on a page of its own, which gives the angle off plumb: where they meet, 90° less \
         the one off level."
    };
    format!(
        "The garboard's inner face rises off level by the angle, square to the rabbet: cut the rabbet to it and plane the \
         garboard's edge square. The inner rabbet takes the plank's inner corner, the rabbet line its outer one. Heights \
         are above base.{on_hog}{posts}"
    )
}

/// The angle and the two corners of the garboard's edge at each section but the posts.
fn keel_table(book: &Book<'_>) -> Table {
    let plan = book.plan;
    let hog = plan.spec.keel.hog_half_breadth;
    let mut columns = vec![
        tables::names("at", 1.3),
        tables::counts("angle off level", 1.0),
        tables::longs(book.len, "height", 1.0),
        tables::longs(book.len, "half-breadth", 1.0),
        tables::longs(book.len, "height", 1.0),
        tables::longs(book.len, "half-breadth", 1.0),
    ];
    if hog.is_some() {
        columns.push(tables::numbers(book.len, "hog's edge, over the inner corner", 1.3));
    }
    let mut table = tables::table(columns, 6.4);
    let group = |from, head: &str| Group { from, to: from + 1, head: head.to_owned() };
    table.groups = vec![group(2, "inner rabbet"), group(4, "rabbet line")];
    for (j, i) in plan.backbone.keel_at.iter().enumerate() {
        // At a post the post's own page counts: there the rabbet turns up it.
        let post = plan.sections.get(j).is_some_and(|s| s.at == SectionAt::Post);
        let Some(at) = plan.backbone.keel.get(*i).filter(|_| !post) else { continue };
        let mut cells = vec![section_name(book, j), degrees(at.angle)];
        cells.extend([at.inner.z, at.inner.y].map(|v| book.len.long(v)));
        cells.extend(at.outer.map_or([String::new(), String::new()], |p| [book.len.long(p.z), book.len.long(p.y)]));
        if hog.is_some() {
            cells.push(at.bearding.map_or_else(String::new, |b| book.len.fine(b.z - at.inner.z)));
        }
        table.rows.push(tables::row(cells));
    }
    table
}
