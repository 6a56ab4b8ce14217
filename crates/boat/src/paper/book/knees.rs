//! Breasthooks and knees, two to a page.

use super::length::{UNSEEN, capital, degrees};
use super::look;
use super::page::{Book, Frame, Page};
use super::view::{View, customary, range, scale_words};
use crate::drawing::{Anchor, Dash, Face, Shape, Stroke, Weight};
use crate::interior::{Arm, FaceOf, Knee, KneeKind};
use crate::spec::Against;

/// As many pages as they need.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let of = |two: &[Knee]| {
        let mut page = book.page_to_scale("Breasthooks and knees", &book.plan.spec.name);
        let frame = page.frame;
        for (i, knee) in two.iter().enumerate() {
            one(&mut page, book, frame.column(i, 2, 8.0), knee);
        }
        page
    };
    book.plan.interior.knees.chunks(2).map(of).collect()
}

fn one(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, k: &Knee) {
    let top = page.head([frame.left, frame.top], &k.name);
    let text = words(book, k);
    let style = look::BODY.size(3.6);
    let height = page.paragraph_height(frame.width(), style, &text);
    let at = frame.bottom - height;
    page.paragraph([frame.left, at], frame.width(), style, &text);
    drawing(page, book, Frame { top: top + 1.0, bottom: at - 3.0, ..frame }, k);
}

fn words(book: &Book<'_>, k: &Knee) -> String {
    let len = book.len;
    let against = match k.against {
        Against::Planking => "the planking",
        Against::Timbers => "the timbers",
        Against::Inwale => "the inwale",
    };
    let count = if k.pieces == 1 { "One" } else { "A pair" };
    let place = match k.kind {
        KneeKind::Breasthook { .. } => {
            let sheer = match k.under_sheer {
                over if over > HAIR => {
                    format!("; between them the sheer stands up to {} over it", len.fine_unit(over))
                }
                over if over < -HAIR => {
                    format!("; between them it stands up to {} over the sheer: dress it down", len.fine_unit(-over))
                }
                _ => String::new(),
            };
            format!(
                "It lies against {against}, its nose {} wide, its plane through its nose and its arms' ends at the \
                 sheer{sheer}.",
                len.fine_unit(k.nose)
            )
        }
        KneeKind::Quarter { .. } => format!("Its side arm lies against {against}; its plane runs along the sheer."),
        KneeKind::Thwart { .. } => {
            format!("It stands plumb and square on the thwart, its side arm against {against}.")
        }
    };
    let arms = match k.kind {
        KneeKind::Breasthook { .. } => arm(book, &k.arms[0], "Both arms"),
        _ => format!("{} {}", arm(book, &k.arms[0], "Side arm"), arm(book, &k.arms[1], other(k))),
    };
    format!(
        "{count} of {}, {} thick, out of {} by {}. The faces meet at {}. {place} {arms} Ends {} wide, throat {}. Let the grain run \
         along both arms: grown, or laminated.",
        k.wood.name,
        len.0.said_fine(k.thickness),
        len.short_unit(k.board[0]),
        len.short_unit(k.board[1]),
        degrees(k.angle),
        len.0.said_fine(k.tip),
        len.short_unit(k.throat),
    )
}

fn other(k: &Knee) -> &'static str {
    match k.arms[1].on {
        FaceOf::Side => "Side arm",
        FaceOf::Transom => "Transom arm",
        FaceOf::Thwart => "Thwart arm",
    }
}

fn arm(book: &Book<'_>, a: &Arm, name: &str) -> String {
    let [corner, tip] = a.bevels.map(degrees);
    let square = a.bevels.iter().all(|b| b.abs() < 1e-3);
    let bevel =
        if square { "square".to_owned() } else { format!("off square {corner} at the corner and {tip} at the end") };
    let round =
        if a.round < UNSEEN { String::new() } else { format!(", {} off straight", book.len.fine_unit(a.round)) };
    format!("{name} {}, {bevel}{round}.", book.len.short_unit(a.length))
}

fn drawing(page: &mut Page<'_>, book: &Book<'_>, frame: Frame, k: &Knee) {
    let seen = |p: &[f64; 2]| k.seen(*p);
    let all: Vec<[f64; 2]> = k.outline.iter().map(seen).collect();
    let (Some((u0, u1)), Some((v0, v1))) = (range(all.iter().map(|p| p[0])), range(all.iter().map(|p| p[1]))) else {
        return;
    };
    let (wide, tall) = (frame.width() - 2.0 * SIDE, frame.height() - 22.0);
    if tall < 10.0 || wide < 10.0 {
        return;
    }
    let scale = customary(((u1 - u0) / wide).max((v1 - v0) / tall), book.len.0);
    let middle = [0.5 * (frame.left + frame.right), frame.top + 11.0 + 0.5 * tall];
    let view = View::new([middle[0] - 0.5 * (u0 + u1) / scale, middle[1] + 0.5 * (v0 + v1) / scale], scale);
    page.put("boat", Shape::area(view.run(all), look::WOOD, Some(look::BOLD)));
    for a in &k.arms {
        let other = a.other_side(k.thickness, k.hollow);
        page.line(view.run(other.iter().map(seen)), Stroke::broken(Weight::Medium, look::INK, Dash::Hidden));
    }
    let (corner, hollow) = (k.seen([0.0, 0.0]), k.seen(k.hollow));
    page.line(view.run([corner, hollow]), Stroke::broken(Weight::Fine, look::COPPER, Dash::Centre));
    let style = look::NOTE.face(Face::Semibold);
    let named = |name: &str, a: &Arm| format!("{name} {}", book.len.short_unit(a.length));
    let half = |a: &Arm| {
        let ends = [a.edge.first(), a.edge.last()].map(|p| p.map_or(corner, |p| k.seen(*p)));
        [0.5 * (ends[0][0] + ends[1][0]), 0.5 * (ends[0][1] + ends[1][1])]
    };
    let at = |p: [f64; 2]| view.at(p[0], p[1]);
    let breasthook = matches!(k.kind, KneeKind::Breasthook { .. });
    if breasthook {
        for a in &k.arms {
            let [x, y] = at(half(a));
            let right = x > middle[0];
            let (off, anchor) = if right { (7.0, Anchor::Left) } else { (-7.0, Anchor::Right) };
            page.words([x + off, y], anchor, style, &book.len.short_unit(a.length));
        }
    } else {
        let [x, y] = at(half(&k.arms[0]));
        page.words([x - 7.0, y], Anchor::Right, style, &book.len.short_unit(k.arms[0].length));
        let [x, y] = at(half(&k.arms[1]));
        let below = matches!(k.kind, KneeKind::Thwart { .. } | KneeKind::Quarter { aft: true });
        page.words([x, y + if below { 7.0 } else { -4.0 }], Anchor::Middle, style, &named(other(k), &k.arms[1]));
    }
    let [x, y] = at(hollow);
    let (off, anchor) = if breasthook { (0.0, Anchor::Middle) } else { (2.0, Anchor::Left) };
    let under = match k.kind {
        KneeKind::Breasthook { aft: false } => 5.0,
        KneeKind::Breasthook { aft: true } => -2.5,
        KneeKind::Quarter { aft: false } => 4.0,
        _ => -1.0,
    };
    page.words([x + off, y + under], anchor, style, &format!("throat {}", book.len.short_unit(k.throat)));
    let from = match k.kind {
        KneeKind::Thwart { .. } => "the port one, looking forward",
        KneeKind::Breasthook { .. } => "from above, bow up",
        KneeKind::Quarter { .. } => "the port one from above, bow up",
    };
    let caption = format!("{}; {from}. Broken: the edges of the far side", capital(&scale_words(scale, book.len.0)));
    page.paragraph([frame.left, frame.top], frame.width(), look::NOTE, &caption);
}

/// Less than this is planed off without a word, mm.
const HAIR: f64 = 0.8;
/// Room beside a drawing for lengths, mm.
const SIDE: f64 = 20.0;
