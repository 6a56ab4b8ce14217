//! Marks and picks worked out: what is left of every mark, how good an entry comes, the entries, and the table of them.

use super::asked::{Asked, Station, ViewTyped, is_transom};
use crate::said::count;
use boat::plan_sheet::{self, Entry, Laid, Mark, Marks, Pick, Pixel, View};
use boat::units::Notation;
use serde_json::{Value, json};

/// One place is picked so often at most.
const MOST_TIMES: usize = 40;
/// No entry is larger, mm.
const FARTHEST: f64 = 40_000.0;
/// Picks stand so far outside of the marks before it is told, in parts of what the marks span.
const OUTSIDE: f64 = 0.1;
/// Ends of two known distances that are nearer than this are one place marked twice, pixels: hands aim to a pixel or two.
const SAME_PLACE: f64 = 10.0;
/// What is aimed at, mm, and how many picks of each place give it in the study.
const AIM: f64 = 1.0;
const TIMES: usize = 5;

/// What is read off all views.
#[derive(Debug, Default)]
pub struct Read {
    pub views: Vec<Value>,
    pub entries: Vec<Entry>,
    pub stations: Vec<Station>,
    /// Why nothing can be made of it.
    pub trouble: Option<String>,
}

/// Reads all views.
pub fn read(asked: &Asked) -> Read {
    let known = asked.lengths().and_then(|lengths| Ok((lengths, asked.stations(lengths)?)));
    let (lengths, stations, trouble) = match known {
        Ok((lengths, stations)) => (lengths, stations, None),
        Err(why) => (asked.lengths().unwrap_or(Notation::Mm), Vec::new(), Some(why)),
    };
    let mut all = Read { trouble, stations, ..Read::default() };
    for typed in &asked.views {
        let (said, entries) = one_view(typed, lengths, &all.stations);
        all.views.push(said);
        all.entries.extend(entries);
    }
    all
}

/// Everything for the page.
pub fn answer(read: &Read, lengths: Notation) -> Value {
    let (mut file, mut trouble) = (None, read.trouble.clone());
    if !read.entries.is_empty() {
        match plan_sheet::table(&read.entries, &read.stations, lengths) {
            Ok(made) => file = Some(made.table + &as_comments(&made.accuracy)),
            Err(why) => trouble = trouble.or(Some(why.to_string())),
        }
    }
    let entry = |e: &Entry| {
        json!({ "station": e.station, "row": plan_sheet::name(&e.row, lengths), "value": said(lengths, e.mm),
            "within": lengths.said_fine(e.within), "times": e.times })
    };
    let good = plan_sheet::good_to(&read.entries).map(|[usual, worst]| {
        format!(
            "Entries are good to {} as a rule and {} at worst: one in twenty is further off.",
            lengths.said_fine(usual),
            lengths.said_fine(worst)
        )
    });
    json!({ "views": read.views, "entries": read.entries.iter().map(entry).collect::<Vec<_>>(), "trouble": trouble, "file": file, "good": good })
}

/// A value as it would stand in the table; millimetres to a tenth.
fn said(lengths: Notation, mm: f64) -> String {
    if lengths == Notation::Mm { format!("{:.1}", (mm * 10.0).round() / 10.0 + 0.0) } else { lengths.long(mm) }
}

fn as_comments(text: &str) -> String {
    text.lines().map(|l| if l.starts_with('#') { format!("{l}\n") } else { format!("# {l}\n") }).collect()
}

/// What is told of a view, and its entries.
fn one_view(typed: &ViewTyped, lengths: Notation, stations: &[Station]) -> (Value, Vec<Entry>) {
    let nothing = |why: Option<String>| (json!({ "trouble": why }), Vec::new());
    if typed.is_empty() {
        return nothing(None);
    }
    if let Some(why) = typed.too_many() {
        return nothing(Some(why));
    }
    let [level, plumb] = typed.names();
    let words = |why: String| why.replace("line square to it", plumb).replace("level line", level);
    let found = typed.view().and_then(|view| {
        let marks = typed.marks(lengths)?;
        let laid = plan_sheet::laid(&marks).map_err(|why| words(why.to_string()))?;
        Ok((view, marks, laid))
    });
    let (view, marks, laid) = match found {
        Ok(found) => found,
        Err(why) => return nothing(Some(why)),
    };
    let picked = each(&laid, view, stations, typed.picked(view, lengths));
    let good: Vec<Pick> = picked.iter().flatten().flatten().cloned().collect();
    let entries = if good.is_empty() {
        Vec::new()
    } else {
        plan_sheet::read_off(&laid, view, stations, &good).unwrap_or_default()
    };
    let left = |kind: fn(Mark) -> bool| {
        let of = laid.left.iter().filter(|l| kind(l.mark)).map(|l| lengths.said_fine(l.mm));
        of.collect::<Vec<_>>()
    };
    let value = json!({
        "trouble": null,
        "left": {
            "level": left(|m| matches!(m, Mark::Level(_))),
            "plumb": left(|m| matches!(m, Mark::Plumb(_))),
            "distances": left(|m| matches!(m, Mark::Distance(_))),
            "points": left(|m| matches!(m, Mark::Point(_))),
        },
        "said": how_good(&laid, &marks, lengths),
        "advice": advice(&laid, &marks, &good),
        "picks": picked.iter().map(|p| told(p, &entries, lengths)).collect::<Vec<_>>(),
    });
    (value, entries)
}

/// Each pick as it can be used, or what is wrong with it.
fn each(
    laid: &Laid,
    view: View,
    stations: &[Station],
    picked: Vec<Result<Vec<Pick>, String>>,
) -> Vec<Result<Vec<Pick>, String>> {
    let mut good: Vec<Pick> = Vec::new();
    let mut told = Vec::new();
    for pick in picked {
        let used = pick.and_then(|pick| {
            pick.iter().try_for_each(|one| fits(laid, view, stations, &good, one))?;
            good.extend(pick.iter().cloned());
            Ok(pick)
        });
        told.push(used);
    }
    told
}

/// Whether a pick can be used beside those of its entry that were made before.
fn fits(laid: &Laid, view: View, stations: &[Station], good: &[Pick], one: &Pick) -> Result<(), String> {
    let mut of_entry: Vec<Pick> =
        good.iter().filter(|g| g.station == one.station && g.row == one.row).cloned().collect();
    if of_entry.iter().any(|b| b.pixel == one.pixel) {
        return Err("picked on the very spot of a pick before, which tells nothing: let go, and aim anew".to_owned());
    }
    if of_entry.len() >= MOST_TIMES {
        return Err(format!("picked {} times; {MOST_TIMES} is the most", of_entry.len() + 1));
    }
    of_entry.push(one.clone());
    let read = plan_sheet::read_off(laid, view, stations, &of_entry).map_err(|why| why.to_string())?;
    match read.iter().find(|e| !e.mm.is_finite() || e.mm.abs() > FARTHEST) {
        Some(e) => {
            Err(format!("reads {:.0} mm, which is off the plan; {FARTHEST:.0} mm is the most: pick it again", e.mm))
        }
        None => Ok(()),
    }
}

/// What is told of a pick: what its place reads by all its picks, and how good that is.
fn told(pick: &Result<Vec<Pick>, String>, entries: &[Entry], lengths: Notation) -> Value {
    let pick = match pick {
        Ok(pick) => pick,
        Err(why) => return json!({ "value": null, "within": null, "trouble": why }),
    };
    let of = |p: &Pick| entries.iter().find(|e| e.station == p.station && e.row == p.row);
    let all: Vec<&Entry> = pick.iter().filter_map(of).collect();
    let way = |e: &Entry| match (&all[..], e.row.is_height()) {
        ([_], _) => "",
        (_, true) => " up",
        (_, false) => " out",
    };
    let value: Vec<String> = all.iter().map(|e| format!("{}{}", said(lengths, e.mm), way(e))).collect();
    let mut within: Vec<String> = all.iter().map(|e| lengths.said_fine(e.within)).collect();
    within.dedup();
    json!({ "value": value.join(", "), "within": within.join(", "), "trouble": null })
}

fn middle(pixels: &[Pixel]) -> Pixel {
    let n = pixels.len().max(1) as f64;
    [0, 1].map(|d| pixels.iter().map(|p| p[d]).sum::<f64>() / n)
}

fn places(marks: &Marks) -> Vec<Pixel> {
    let ends = marks.distances.iter().flat_map(|d| [d.from, d.to]);
    let lines = marks.level.iter().chain(&marks.plumb).copied();
    lines.chain(ends).chain(marks.points.iter().map(|k| k.pixel)).collect()
}

/// What comes of the marks, in sentences.
fn how_good(laid: &Laid, marks: &Marks, lengths: Notation) -> Vec<String> {
    let at = middle(&places(marks));
    let within = |times| laid.within(at, times).into_iter().fold(0.0, f64::max);
    let mut said = vec![format!(
        "A pixel is {} of boat. An entry picked once is good to {}, picked {TIMES} times to {}.",
        lengths.said_fine(laid.pixel(at)),
        lengths.said_fine(within(1)),
        lengths.said_fine(within(TIMES)),
    )];
    said.push(match laid.spread {
        Some(spread) => format!(
            "The marks are off by {} as a rule, with {} to spare.",
            lengths.said_fine(spread),
            count(laid.to_spare, "number", "numbers")
        ),
        None => "There are no more marks than it takes: nothing checks them.".to_owned(),
    });
    let taken_out = if laid.perspective {
        "Turning, unlike scales, skew and slant are taken out."
    } else {
        "Turning, unlike scales and skew are taken out; slant is not."
    };
    said.push(taken_out.to_owned());
    said
}

/// What would make it better.
fn advice(laid: &Laid, marks: &Marks, picks: &[Pick]) -> Vec<String> {
    let mut advice = Vec::new();
    if distinct(marks) < 3 {
        advice.push(
            "With two known distances nothing shows whether the picture was taken aslant or a figure was mistyped: mark a third, or a known \
             point."
                .to_owned(),
        );
    }
    if let Some(far) = outside(&places(marks), picks) {
        let which = if far == 1 { "One pick lies".to_owned() } else { format!("{far} picks lie") };
        advice.push(format!(
            "{which} well outside of the marks, where errors grow: mark a known distance or point out there."
        ));
    }
    let good = |times| laid.within(middle(&places(marks)), times).into_iter().fold(0.0, f64::max);
    if good(1) > AIM {
        let enough = if good(TIMES) > AIM {
            format!(
                "Pick each place {TIMES} times, let go and aim anew each time, and the marks, too, or scan the plan finer."
            )
        } else {
            format!("Pick each place {TIMES} times, and let go and aim anew each time.")
        };
        advice.push(enough);
    }
    advice
}

/// Known distances and points that are not the same ones marked again.
fn distinct(marks: &Marks) -> usize {
    let near = |a: Pixel, b: Pixel| (a[0] - b[0]).hypot(a[1] - b[1]) < SAME_PLACE;
    let again = |i: usize| {
        let d = &marks.distances[i];
        marks.distances[..i]
            .iter()
            .any(|e| (near(d.from, e.from) && near(d.to, e.to)) || (near(d.from, e.to) && near(d.to, e.from)))
    };
    (0..marks.distances.len()).filter(|i| !again(*i)).count() + marks.points.len()
}

/// How many picks lie well outside of what the marks span.
fn outside(marks: &[Pixel], picks: &[Pick]) -> Option<usize> {
    let range = |d: usize| marks.iter().fold((f64::MAX, f64::MIN), |(a, b), p| (a.min(p[d]), b.max(p[d])));
    let [x, y] = [range(0), range(1)];
    let span = OUTSIDE * (x.1 - x.0).max(y.1 - y.0);
    let off = |v: f64, (a, b): (f64, f64)| v < a - span || v > b + span;
    let far = picks.iter().filter(|p| off(p.pixel[0], x) || off(p.pixel[1], y)).count();
    (far > 0).then_some(far)
}

/// Which ends of hers are transoms, as the stations say: fore and aft.
pub fn transoms(stations: &[Station]) -> [bool; 2] {
    let there =
        |fore: bool| stations.iter().any(|s| is_transom(&s.0) && s.0.to_lowercase().starts_with("bow") == fore);
    [there(true), there(false)]
}
