//! What she weighs, how she floats, how stiff she is.

use super::carry;
use super::length::{degrees, minus};
use super::look;
use super::page::{Book, Frame, Page};
use super::spread::spread;
use super::tables;
use super::view::{View, customary};
use crate::drawing::{Anchor, Dash, Face, Shape, Spot, Stroke, Weight};
use crate::flotation::{Attitude, FRESH, Floating, Flotation, InWater, OVER_THWART, PERSON, SEA};
use crate::geom::Point;
use crate::units::{INCH, POUND};

/// Companies shown: those after them are in `plan --json` alone.
const SHOWN: usize = 4;
/// What one person lifts with others, kg. Common practice, no source.
const EACH: f64 = 20.0;
/// Stations in the table of freeboards.
const STATIONS: usize = 13;
/// What tells their lines apart.
const LETTERS: [&str; SHOWN] = ["a", "b", "c", "d"];

/// None where there is nothing that floats.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let Ok(found) = book.plan.flotation() else { return Vec::new() };
    let shown: Vec<&InWater> = found.companies.iter().take(SHOWN).collect();
    let mut pages = vec![weights(book, &found), floats(book, &found, &shown), stiff(book, &found, &shown)];
    pages.extend(carry::page(book, &found));
    pages
}

/// What follows from the parts that are not weighed; nothing where all are.
pub fn too_light(book: &Book<'_>, so: &str) -> String {
    let left_out = &book.plan.weights.left_out;
    if left_out.is_empty() { String::new() } else { format!("Not weighed: {}. {so} ", left_out.join("; ")) }
}

fn kg(book: &Book<'_>, kg: f64) -> String {
    let places = usize::from(kg < 10.0);
    book.len.bare_mass(kg, places)
}

fn mass_head(book: &Book<'_>) -> &'static str {
    if book.len.inches() { "lb (kg)" } else { "kg" }
}

/// Her parts, and what is aboard.
fn weights<'a>(book: &Book<'a>, found: &Flotation) -> Page<'a> {
    let (plan, w) = (book.plan, &book.plan.weights);
    let mut page = book.page("What she weighs", &plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));
    let columns = || {
        vec![
            tables::text("", 2.8),
            tables::counts(mass_head(book), 1.3),
            tables::longs(book, "its middle aft of the first station", 1.3),
            tables::longs(book, "over base", 1.0),
        ]
    };
    let row = |name: &str, mass: f64, at: &Point| {
        tables::row([name.to_owned(), kg(book, mass), book.len.long(at.x), book.len.long(at.z)])
    };
    let companies = || found.companies.iter().take(SHOWN).map(|c| &c.company).filter(|c| !c.aboard.is_empty());
    // What is always aboard is told once, of the boat light.
    let always = found.companies.first().map_or(0, |c| c.company.aboard.len());
    let filled = |each: bool, height: f64, size: f64| {
        let mut table = tables::table(columns(), height);
        table.columns.iter_mut().for_each(|column| column.style.size = size);
        table.rows.extend(w.parts.iter().map(|p| row(&p.name, p.mass, &p.centre)));
        table.rows.push(row("the boat", w.total, &w.centre));
        for (i, c) in companies().enumerate() {
            let told = if i == 0 { 0 } else { always };
            if each {
                table.rows.extend(c.aboard.iter().skip(told).map(|a| row(&a.name, a.mass, &a.at)));
            }
            table.rows.push(row(&format!("all told, {}", c.name), c.load.mass, &c.load.centre));
        }
        table
    };
    // Smaller where much is aboard, and sums alone where it is more than the page holds.
    let tried = [(true, 6.2, 3.9), (true, 5.2, 3.6), (true, 4.5, 3.4), (false, 5.2, 3.6)];
    let [.., last] = tried;
    let fits = |(each, height, size): &(bool, f64, f64)| {
        filled(*each, *height, *size).height(page.t, left.width()) <= left.height()
    };
    let (each, height, size) = tried.into_iter().find(fits).unwrap_or(last);
    let table = filled(each, height, size);
    table.draw(page.t, &mut page.sheet, [left.left, left.top], left.width(), left.height(), 0);

    let missing = if w.left_out.is_empty() {
        "Glue, bedding, fittings, rudder, and whatever boat.toml gives no size: weigh it and put it in as a load."
            .to_owned()
    } else {
        format!(
            "Not weighed: {}. Give their sizes, or weigh them and put them in as loads. Nor are glue, bedding, fittings and rudder.",
            w.left_out.join("; ")
        )
    };
    let moist = format!(
        "Woods weigh what boat.toml or the Wood Handbook says of them dry, at 12 percent moisture. Afloat, at {} percent, her \
         planks take up about {} of water: put that in as a load if she lies afloat all summer.",
        plan.spec.moisture.afloat,
        book.len.0.mass(w.taken_up, 0)
    );
    let mut sections = vec![("What is not in it", missing.as_str())];
    if w.taken_up > 0.0 {
        sections.push(("Wet and dry", moist.as_str()));
    }
    let assumed = format!(
        "boat.toml names no company, so one person of {} and two are reckoned on the thwarts nearest her middle, their \
         middles {} over the seat. That is our assumption and nobody\u{2019}s weight: put your own people and gear in as \
         [[loads]], each with its mass, place and height, and with whom it is aboard (when).",
        book.len.0.mass(PERSON, 0),
        book.len.short_unit(OVER_THWART)
    );
    if found.companies.iter().any(|c| c.company.assumed) {
        sections.push(("Who is aboard", assumed.as_str()));
    }
    let hands = (w.total / EACH).ceil();
    let lift = format!(
        "Lifting or turning her, at {} a hand (common practice, no source) this much wants {hands:.0} people, and more where they cannot \
         stand close: say who gives the word, tie what is loose in her, and let nobody go beneath.",
        book.len.0.mass(EACH, 0)
    );
    sections.push(("Lifting and turning her", lift.as_str()));
    sections.push((
        "How true it is",
        "A board of yours may be a tenth heavier or lighter than the mean of its kind. Bevels, rabbets and notches are not taken off, \
         so parts come out a little heavy; glue, bedding and fittings are not in it. When she is built, weigh her: two scales \
         under her ends give weight and centre at once.",
    ));
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    page
}

/// Profile, midship and the table.
fn floats<'a>(book: &Book<'a>, found: &Flotation, shown: &[&InWater]) -> Page<'a> {
    let mut page = book.page("How she floats", &book.plan.spec.name);
    let frame = page.frame;
    let bottom = drawing(&mut page, book, found, shown);
    let mut columns = vec![tables::text("in fresh water, unless it says sea", 2.6)];
    columns.extend(shown.iter().zip(LETTERS).map(|(c, letter)| {
        let assumed = if c.company.assumed { ", assumed" } else { "" };
        tables::counts(&format!("{letter}: {}{assumed}", c.company.name), 1.3)
    }));
    let mut table = tables::table(columns, 4.9);
    let len = book.len;
    type Cell<'c> = Box<dyn Fn(&Floating) -> String + 'c>;
    let square =
        |mm2: f64| if len.inches() { format!("{:.1}", mm2 / 92_903.04) } else { format!("{:.2}", mm2 * 1e-6) };
    let area = if len.inches() { "sq ft" } else { "m²" };
    let (step, step_said) = if len.inches() { (INCH, "an inch") } else { (10.0, "a centimetre") };
    let moment =
        |kg_m: f64| if len.inches() { format!("{:.0}", kg_m / POUND / 0.3048) } else { format!("{kg_m:.1}") };
    let moment_unit = if len.inches() { "lb ft" } else { "kg m" };
    let rows: Vec<(String, Cell<'_>)> = vec![
        (format!("weighs, {}", mass_head(book)), Box::new(|f| kg(book, f.load.mass))),
        ("draught, keel and all".to_owned(), Box::new(|f| len.long(f.draught))),
        ("by the stern (\u{2212} by the bow)".to_owned(), Box::new(|f| degrees(f.at.trim))),
        ("heeled to starboard".to_owned(), Box::new(|f| degrees(f.at.heel))),
        ("lowest freeboard".to_owned(), Box::new(|f| len.long(f.lowest))),
        ("waterline, length".to_owned(), Box::new(|f| len.long(f.length))),
        ("waterline, breadth".to_owned(), Box::new(|f| len.long(f.breadth))),
        (format!("waterplane, {area}"), Box::new(move |f| square(f.waterplane))),
        (format!("wetted, {area}"), Box::new(move |f| square(f.wetted))),
        ("water\u{2019}s centre, aft of the first station".to_owned(), Box::new(|f| len.long(f.buoyancy.x))),
        ("its height over base".to_owned(), Box::new(|f| len.long(f.buoyancy.z))),
        (
            "block, prismatic, waterplane".to_owned(),
            Box::new(|f| format!("{:.2}, {:.2}, {:.2}", f.block(), f.prismatic(), f.waterplane_share())),
        ),
        ("metacentre over her weight".to_owned(), Box::new(|f| len.long(f.metacentres[0]))),
        ("the same for trim".to_owned(), Box::new(|f| len.long(f.metacentres[1]))),
        (format!("sinks her {step_said}, {}", mass_head(book)), Box::new(move |f| kg(book, f.to_sink(step)))),
        (format!("trims her {step_said}, {moment_unit}"), Box::new(move |f| moment(f.to_trim(step)))),
    ];
    let cells = |said: &dyn Fn(&InWater) -> String| shown.iter().map(|c| said(c)).collect::<Vec<_>>();
    for (what, cell) in &rows {
        // Nobody heels her: the row says nothing.
        let heel = what.starts_with("heeled");
        if heel && shown.iter().all(|c| c.fresh.as_ref().is_ok_and(|f| f.at.heel.abs() < 1e-4)) {
            continue;
        }
        let said = cells(&|c| c.fresh.as_ref().map_or_else(|_| "\u{2013}".to_owned(), cell));
        table.rows.push(tables::row(std::iter::once(what.clone()).chain(said)));
    }
    let sea = cells(&|c| c.sea.as_ref().map_or_else(|_| "\u{2013}".to_owned(), |f| len.long(f.draught)));
    table.rows.push(tables::row(std::iter::once("draught in the sea".to_owned()).chain(sea)));
    let measure = frame.width();
    let note = format!(
        "{}{}The letters stand at each water; her bow is to the left. Fresh water is taken at {FRESH:.0} and the sea at {SEA:.0} kg/m³. \
         Block, prismatic and waterplane are coefficients: displacement over length, breadth and draught; over length and the \
         largest section; waterplane over length and breadth. At the launching keep electric tools and their leads away from the \
         water: battery tools, or a breaker that trips when current goes astray.",
        troubles(shown),
        too_light(book, "So she lies deeper than is shown here.")
    );
    let tall = page.paragraph_height(measure, look::NOTE, &note);
    let row = (frame.bottom - tall - bottom - 11.0) / table.rows.len().max(1) as f64;
    table.look.row = row.clamp(4.6, 6.4);
    for column in table.columns.iter_mut().skip(1) {
        column.style.size = 3.6;
    }
    table.columns[0].style.size = 3.4;
    let drawn = table.draw(page.t, &mut page.sheet, [frame.left, bottom], measure, frame.bottom - tall - bottom, 0);
    page.paragraph([frame.left, drawn.bottom + 2.0], measure, look::NOTE, &note);
    page
}

/// Why some of them do not float, in sentences.
fn troubles(shown: &[&InWater]) -> String {
    let said: Vec<String> = shown
        .iter()
        .filter_map(|c| match &c.fresh {
            Err(why) => Some(format!("{}: {why}. ", c.company.name)),
            Ok(f) if !f.stiff => Some(format!("{}: she does not stay upright. ", c.company.name)),
            Ok(_) => None,
        })
        .collect();
    said.concat()
}

/// Profile and midship with the waterlines; returns the top of what follows.
fn drawing(page: &mut Page<'_>, book: &Book<'_>, found: &Flotation, shown: &[&InWater]) -> f64 {
    let frame = page.frame;
    let [[fore, aft], [_, side], [low, high]] = found.hull.solid.bounds();
    let (room, tall) = (frame.width() - 34.0, 52.0);
    let scale = customary(((aft - fore + 2.0 * side) / room).max((high - low) / tall), book.len.0);
    let base = frame.top + 4.0 + high / scale;
    let profile = View::new([frame.left + 8.0 - fore / scale, base], scale);
    let plan = book.plan;
    for strake in &plan.strakes {
        let land: Vec<[f64; 2]> = strake.rulings.iter().map(|r| [r.lower.x, r.lower.z]).collect();
        page.line(profile.run(land), look::THIN);
    }
    let sheer = found.hull.sheer.iter().map(|p| [p.x, p.z]);
    page.line(profile.run(sheer), look::OUTLINE);
    for end in [true, false] {
        let edge = plan.strakes.iter().filter_map(|s| if end { s.rulings.last() } else { s.rulings.first() });
        let points = edge.flat_map(|r| [[r.lower.x, r.lower.z], [r.upper.x, r.upper.z]]);
        page.line(profile.run(points), look::OUTLINE);
    }
    let middle = View::new([frame.right - 4.0 - side / scale, base], scale);
    midship(page, book, middle, 0.5 * (fore + aft));
    waterlines(page, shown, profile, middle, [fore, aft], side, 0.5 * (fore + aft));
    frame.top + 4.0 + (high - low.min(0.0)) / scale + 5.0
}

/// The planks cut across where she is half as long.
fn midship(page: &mut Page<'_>, book: &Book<'_>, view: View, x: f64) {
    for strake in &book.plan.strakes {
        let near = |r: &&crate::planks::Ruling| (r.lower.x - x).abs();
        let Some(r) = strake.rulings.iter().min_by(|a, b| near(a).total_cmp(&near(b))) else { continue };
        let t = strake.thickness;
        let corners = [r.lower, r.upper, r.upper + r.normal * t, r.lower + r.lower_normal * t];
        for hand in [1.0, -1.0] {
            let outline = view.run(corners.iter().map(|p| [hand * p.y, p.z]));
            page.put("boat", Shape::area(outline, look::WOOD, Some(look::THIN)));
        }
    }
}

/// Each company's waterline on both, with its letter at the profile's ends.
fn waterlines(
    page: &mut Page<'_>,
    shown: &[&InWater],
    profile: View,
    middle: View,
    [fore, aft]: [f64; 2],
    side: f64,
    x: f64,
) {
    let over = 5.0 * profile.scale;
    let mut labels: Vec<(Spot, &str)> = Vec::new();
    for (c, letter) in shown.iter().zip(LETTERS) {
        let Ok(f) = &c.fresh else { continue };
        let pen = water_pen(letter);
        let at = |x: f64| profile.at(x, f.at.waterline(x, 0.0));
        page.line(vec![at(fore - over), at(aft + over)], pen);
        labels.push((at(aft + over), letter));
        let across = |y: f64| middle.at(y, f.at.waterline(x, y));
        page.line(vec![across(-side - 2.0 * middle.scale), across(side + 2.0 * middle.scale)], pen);
    }
    labels.sort_by(|a, b| a.0[1].total_cmp(&b.0[1]));
    let places: Vec<f64> = labels.iter().map(|l| l.0[1]).collect();
    let apart = spread(&places, &vec![2.2; places.len()], page.frame.top, page.frame.bottom);
    for ((at, letter), y) in labels.iter().zip(apart) {
        page.line(vec![*at, [at[0] + 3.0, y]], look::GUIDE);
        page.words([at[0] + 4.0, y + 1.2], Anchor::Left, look::NOTE.face(Face::Bold), letter);
    }
}

/// The pen of a company's lines.
fn water_pen(letter: &str) -> Stroke {
    match letter {
        "a" => Stroke::solid(Weight::Thin, look::COPPER),
        "b" => Stroke::broken(Weight::Thin, look::COPPER, Dash::Hidden),
        "c" => Stroke::broken(Weight::Medium, look::COPPER, Dash::Centre),
        _ => Stroke::solid(Weight::Medium, look::SHADE),
    }
}

/// Righting arms, freeboards, and what is left when she is swamped.
fn stiff<'a>(book: &Book<'a>, found: &Flotation, shown: &[&InWater]) -> Page<'a> {
    let mut page = book.page("How stiff she is", &book.plan.spec.name);
    let (left, right) = (page.frame.column(0, 2, 11.0), page.frame.column(1, 2, 11.0));
    let graph = Frame { bottom: left.top + 0.5 * left.height(), ..left };
    let top = curves(&mut page, book, shown, graph);
    freeboards(&mut page, book, found, shown, Frame { top: top + 4.0, ..left });

    let swamped = &found.swamped;
    let mass = |kg: f64| book.len.0.mass(kg, 0);
    let (wood, heavy, over) = (mass(swamped.wood), mass(swamped.mass), mass(swamped.left().abs()));
    let foam = if swamped.foam > 0.0 { format!(", your foam {}", mass(swamped.foam)) } else { String::new() };
    let lies = match &swamped.rest {
        None => "She does not float: fix foam or sealed tanks in her, and say their litres in [[loads]].".to_owned(),
        Some(rest) => {
            let sheer = if rest.lowest > 0.0 { "over" } else { "under" };
            let level = lies(&rest.at);
            let stays = if rest.stiff {
                "so she stays while nobody moves"
            } else {
                "but she does not stay so: she rolls over. Fix foam high up along her sides"
            };
            format!(
                "She lies {level}, the lowest place of her sheer {} {sheer} the water, {stays}.",
                book.len.short_unit(rest.lowest.abs())
            )
        }
    };
    let full = format!(
        "Full of fresh water her own wood bears {wood}{foam}; she weighs {heavy} with what is always aboard. {} {lies} A man in \
         the water who holds on to her weighs little; one who climbs in weighs himself. Wet wood bears less from day to day.",
        if swamped.left() >= 0.0 {
            format!("That leaves {over} for people and gear.")
        } else {
            format!("That is {over} too little.")
        }
    );
    let under: Vec<String> = shown
        .iter()
        .zip(LETTERS)
        .filter_map(|(c, letter)| {
            let r = c.righting.as_ref().ok()?;
            let (heel, at) = r.under?;
            let station = book.len.long(at.x);
            Some(format!(
                "{letter}, {}: at {} heel, about {station} aft of the first station",
                c.company.name,
                degrees(heel)
            ))
        })
        .collect();
    let goes = format!(
        "{}. She is open: past that heel water comes in over the side, and nothing to the right of the dot is to be believed.",
        under.join("; ")
    );
    let sections = [
        ("When the sheer goes under", goes.as_str()),
        ("Swamped", full.as_str()),
        (
            "What the curve says",
            "The arm is how far the water\u{2019}s lift stands out from her weight when she is heeled; arm times weight is what \
             rights her. She is let trim as she will. People stay where they sit: one who slides to leeward takes far more from \
             it than any shape gives.",
        ),
        (
            "What is not in it",
            "Waves, wind, way on her, water in her that runs about, and people who stand up. A flat sea and a boat that is \
             built as planned. Keel and stem displace nothing where boat.toml does not give their size.",
        ),
    ];
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    page
}

/// How she lies, in words.
fn lies(at: &Attitude) -> String {
    let trim = at.trim.to_degrees();
    if trim.abs() < 1.0 {
        return "level".to_owned();
    }
    format!("{} down by the {}", degrees(at.trim.abs()), if trim > 0.0 { "stern" } else { "bow" })
}

/// The righting arms; returns the graph's bottom.
fn curves(page: &mut Page<'_>, book: &Book<'_>, shown: &[&InWater], frame: Frame) -> f64 {
    let top = page.head([frame.left, frame.top], &format!("Righting arm, {}, by heel", book.len.0.unit()));
    let (left, right, bottom) = (frame.left + 14.0, frame.right - 8.0, frame.bottom - 6.0);
    let arms = || shown.iter().filter_map(|c| c.righting.as_ref().ok()).flat_map(|r| &r.arms);
    let step = if book.len.inches() { 2.0 * INCH } else { 50.0 };
    let most = (arms().map(|a| a.arm).fold(step, f64::max) / step).ceil() * step;
    let least = (arms().map(|a| a.arm).fold(0.0, f64::min) / step).floor() * step;
    let x = |heel: f64| left + (right - left) * heel / 90f64.to_radians();
    let y = |arm: f64| bottom - (bottom - top - 3.0) * (arm - least) / (most - least);
    for tens in 0..=9 {
        let at = x((10.0 * f64::from(tens)).to_radians());
        page.line(vec![[at, bottom], [at, top + 3.0]], look::RULE);
        if tens % 3 == 0 {
            page.words([at, bottom + 4.0], Anchor::Middle, look::NOTE, &format!("{}°", 10 * tens));
        }
    }
    let lines = ((most - least) / step).round() as i32;
    let every = (lines / 5).max(1);
    for i in 0..=lines {
        let arm = least + step * f64::from(i);
        let pen = if arm.abs() < 1e-9 { look::THIN } else { look::RULE };
        page.line(vec![[left, y(arm)], [right, y(arm)]], pen);
        if i % every == 0 {
            page.words([left - 1.6, y(arm) + 1.1], Anchor::Right, look::NOTE, &minus(book.len.short(arm)));
        }
    }
    let mut ends: Vec<(f64, &str)> = Vec::new();
    for (c, letter) in shown.iter().zip(LETTERS) {
        let Ok(r) = &c.righting else { continue };
        let limit = r.under.map_or(f64::INFINITY, |u| u.0);
        let run = |past: bool| -> Vec<Spot> {
            r.arms.iter().filter(|a| (a.heel > limit) == past).map(|a| [x(a.heel), y(a.arm)]).collect()
        };
        page.line(run(false), Stroke { dash: Dash::Solid, ..water_pen(letter) });
        page.line(run(true), Stroke::broken(Weight::Hair, look::PENCIL, Dash::Hidden));
        if let Some(last) = r.arms.iter().rfind(|a| a.heel <= limit) {
            page.put("ink", Shape::circle([x(last.heel), y(last.arm)], 0.9, None, Some(look::COPPER)));
        }
        if let Some(last) = r.arms.last() {
            ends.push((y(last.arm), letter));
        }
    }
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    let places: Vec<f64> = ends.iter().map(|e| e.0).collect();
    let apart = spread(&places, &vec![2.0; places.len()], top, bottom);
    for ((_, letter), at) in ends.iter().zip(apart) {
        page.words([right + 2.0, at + 1.1], Anchor::Left, look::NOTE.face(Face::Bold), letter);
    }
    frame.bottom
}

/// Freeboards at the stations.
fn freeboards(page: &mut Page<'_>, book: &Book<'_>, found: &Flotation, shown: &[&InWater], frame: Frame) {
    let top = page.head([frame.left, frame.top], "Freeboard");
    let mut columns = vec![tables::names("station", 1.0)];
    columns.extend(
        shown
            .iter()
            .zip(LETTERS)
            .map(|(c, letter)| tables::longs(book, &format!("{letter}: {}", c.company.name), 1.4)),
    );
    let mut table = tables::table(columns, 4.8);
    let floats = |said: &dyn Fn(&Floating) -> String| -> Vec<String> {
        shown.iter().map(|c| c.fresh.as_ref().map_or_else(|_| "\u{2013}".to_owned(), said)).collect()
    };
    let lowest = floats(&|f| book.len.long(f.lowest));
    table.rows.push(tables::row(std::iter::once("lowest".to_owned()).chain(lowest)));
    // Every second station, or third, where there are many.
    let every = found.hull.stations.len().div_ceil(STATIONS).max(1);
    for (i, (name, _)) in found.hull.stations.iter().enumerate().step_by(every) {
        let cells = floats(&|f| {
            let low = f.freeboards.get(i).map(|b| b.sides[0].min(b.sides[1]));
            low.map_or_else(String::new, |mm| book.len.long(mm))
        });
        table.rows.push(tables::row(std::iter::once(name.chars().take(10).collect()).chain(cells)));
    }
    let room = frame.bottom - top;
    table.look.row = ((room - 9.0) / table.rows.len().max(1) as f64).clamp(4.2, 6.0);
    for column in &mut table.columns {
        column.style.size = 3.5;
    }
    table.draw(page.t, &mut page.sheet, [frame.left, top], frame.width(), room, 0);
}
