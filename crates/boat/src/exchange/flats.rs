//! What is cut out of flat boards, on sheets at full size: planks laid flat, their parts, moulds, stem, sternpost and transoms.
//!
//! They are the patterns themselves, one above the other as they come, without the words that stand under each on paper. One
//! measured box stands under them all.

use crate::drawing::place::{Bounds, Move};
use crate::drawing::typeface::Type;
use crate::drawing::{Anchor, Item, Layer, Outline, Shape, Sheet, words};
use crate::paper::book::look;
use crate::paper::measured;
use crate::paper::patterns::{BOX, Kind, Pattern, TITLE, drawn, patterns};
use crate::plan::Plan;
use crate::units::Notation;

/// Between two of them, and round them all, mm.
const APART: f64 = 30.0;

/// A sheet, and the name of its file without the ending.
pub struct Flats {
    /// `planks`, `plank-parts`, `moulds`, `stem-and-transom`.
    pub name: &'static str,
    /// At full size.
    pub sheet: Sheet,
}

/// The sheets that have something on them.
pub fn flats(t: &Type, plan: &Plan) -> Vec<Flats> {
    let found = patterns(t, plan, &[Kind::Plank, Kind::Mould, Kind::Stem, Kind::Transom]);
    let whole = |p: &Pattern| p.kind == Kind::Plank && !p.name.contains(" part ");
    let part = |p: &Pattern| p.kind == Kind::Plank && !whole(p);
    let mould = |p: &Pattern| p.kind == Kind::Mould;
    let end = |p: &Pattern| matches!(p.kind, Kind::Stem | Kind::Transom);
    let of = |name: &'static str, words: &str, wanted: &dyn Fn(&Pattern) -> bool| {
        let kept: Vec<&Pattern> = found.iter().filter(|p| wanted(p)).collect();
        let title = format!("{}: {words}", plan.spec.name);
        (!kept.is_empty()).then(|| Flats { name, sheet: nested(t, &kept, &title, plan.spec.lengths) })
    };
    [
        of("planks", "planks laid flat", &whole),
        of("plank-parts", "parts of planks laid flat", &part),
        of("moulds", "moulds", &mould),
        of("stem-and-transom", "stem, sternpost and transoms", &end),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Patterns one above the other.
fn nested(t: &Type, patterns: &[&Pattern], title: &str, lengths: Notation) -> Sheet {
    let mut all = Sheet::new(0.0, 0.0, title);
    let mut down = APART;
    for pattern in patterns {
        let mut one = Sheet::new(0.0, 0.0, "");
        for (layer, item) in drawn(&pattern.sheet) {
            one.put(layer, item.clone());
        }
        close_faces(&mut one);
        let Some(bounds) = one.bounds(|_| true) else { continue };
        all.lay(&one, Move::by([APART - bounds.left, down - bounds.top]));
        all.width = all.width.max(bounds.width() + 2.0 * APART);
        down += bounds.height() + APART;
    }
    let inches = lengths != Notation::Mm;
    let [wide, tall] = measured::size(inches);
    measured::put(t, &mut all, [BOX, BOX], [APART, down], inches);
    let (style, said) = words::within(t, look::TITLE, (all.width - wide - 3.0 * APART).max(100.0), title);
    let line = words::line(t, style, [APART + wide + 10.0, down + 0.5 * tall], Anchor::Left, &said);
    let right = line.bounds().map_or(0.0, |b: Bounds| b.right);
    all.put(TITLE, line);
    all.width = all.width.max(right + APART);
    all.height = down + tall + APART;
    all
}

/// A stem of which both faces are drawn is closed straight across at its foot and its head.
fn close_faces(sheet: &mut Sheet) {
    let Some(at) = sheet.layers.iter().position(|l| l.name == "faces") else { return };
    let run = |item: &Item| match item {
        Item::Shape(Shape { outline: Outline::Line(points), stroke: Some(pen), .. }) => Some((points.clone(), *pen)),
        _ => None,
    };
    let runs: Vec<_> = sheet.layers[at].items.iter().filter_map(run).collect();
    let [(outer, pen), (inner, _), ..] = &runs[..] else { return };
    let closed = Shape::polygon(outer.iter().chain(inner.iter().rev()).copied().collect(), *pen);
    sheet.layers[at] = Layer { name: "outline", items: vec![closed] };
}
