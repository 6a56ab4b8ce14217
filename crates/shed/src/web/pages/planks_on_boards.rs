//! Boards with their planks, drawn small: each as long as it is beside the others, heights larger than lengths.
//!
//! A board's picture is stretched to the page, whatever its width; numbers on it are not, so that they can be read on a phone.

use crate::said::{leaf_name, piece, size};
use boat::sawing::{Laid, Sawn};
use boat::stock::Board;
use boat::units::Notation;
use maud::{Markup, html};
use std::fmt::Write;

/// Height of the widest board, px.
const TALLEST: f64 = 84.0;
/// From a number's middle to its foot, px.
const FOOT: f64 = 5.0;

/// The boards that are cut.
pub fn drawn(sawn: &[Sawn], boards: &[Board], lengths: Notation) -> Markup {
    let sawn: Vec<(&Sawn, &Board)> = sawn.iter().filter_map(|s| Some((s, boards.get(s.board)?))).collect();
    let longest = sawn.iter().map(|(_, b)| b.length).fold(1.0, f64::max);
    let most = sawn.iter().map(|(_, b)| widest(b)).fold(1.0, f64::max);
    html! {
        @if !sawn.is_empty() {
            p.quiet { "Heights are drawn larger than lengths. Arrows point to the bow; what is dashed lies inner face up, \u{2018}over\u{2019}." }
        }
        div.rack {
            @for (s, b) in &sawn {
                section.sawn aria-label={ "Board " (leaf_name(&b.name, s.leaf)) } {
                    p { strong { (leaf_name(&b.name, s.leaf)) } " " (size(lengths, [b.length, widest(b)])) ": cut to " (lengths.said(s.used)) }
                    (board(s, b, longest, TALLEST / most))
                    p.quiet { (s.laid.iter().map(|l| said(l, lengths)).collect::<Vec<_>>().join("; ")) }
                }
            }
        }
    }
}

fn widest(board: &Board) -> f64 {
    board.widths.into_iter().fold(0.0, f64::max)
}

/// `strake 3, over: 0-1-2 to 12-4-1`.
fn said(laid: &Laid, lengths: Notation) -> String {
    let [from, to] = span(laid, 0);
    let over = if laid.over { ", over" } else { "" };
    format!("strake {}{over}: {} to {}", piece(laid.piece), lengths.said(from), lengths.said(to))
}

fn span(laid: &Laid, axis: usize) -> [f64; 2] {
    let all = laid.outline.iter().map(|p| p[axis]);
    all.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)])
}

fn board(sawn: &Sawn, board: &Board, longest: f64, px: f64) -> Markup {
    let (long, wide) = (board.length, widest(board));
    let tall = (wide * px).max(20.0);
    let names: Vec<String> = sawn.laid.iter().map(|l| piece(l.piece)).collect();
    let edge = |x: f64, up: f64, off: f64| [x, 0.5 * wide + up * (0.5 * board.width_at(x) - off)];
    let side = |up: f64, off: f64| [0.0, 0.5 * long, long].map(|x| edge(x, up, off));
    let mut outline = side(-1.0, 0.0).to_vec();
    outline.extend(side(1.0, 0.0).into_iter().rev());
    let y = |up: f64| wide - up;
    html! {
        svg.plank width={ (format!("{:.2}", 100.0 * long / longest)) "%" } height=(format!("{tall:.0}")) role="img"
            aria-label={ "Out of it: strake " (names.join(", strake ")) } {
            svg width="100%" height="100%" viewBox={ "0 0 " (format!("{long:.1}")) " " (format!("{wide:.1}")) } preserveAspectRatio="none" {
                path.wood d=(path(&outline, wide, true)) {}
                @if board.sapwood > 0.0 {
                    @for up in [-1.0, 1.0] { path.sapwood d=(path(&side(up, board.sapwood), wide, false)) {} }
                }
                @for laid in &sawn.laid { path.piece.over[laid.over] d=(path(&laid.outline, wide, true)) {} }
                @for s in &board.spoilt {
                    @let at = edge(s.from_end, -1.0, 0.0)[1] + s.up;
                    circle.fault[!s.sound].knot[s.sound] cx=(format!("{:.1}", s.from_end)) cy=(format!("{:.1}", y(at))) r=(format!("{:.1}", 0.5 * s.across)) {}
                }
                path.cut d=(path(&[edge(sawn.used, -1.0, 0.0), edge(sawn.used, 1.0, 0.0)], wide, false)) {}
            }
            @for laid in &sawn.laid {
                @let [x, up] = middle(laid);
                text x={ (format!("{:.2}", 100.0 * x / long)) "%" } y=(format!("{:.1}", y(up) / wide * tall + FOOT)) {
                    @if laid.fore_end_far { (piece(laid.piece)) "\u{2192}" } @else { "\u{2190}" (piece(laid.piece)) }
                }
            }
        }
    }
}

/// The middle of a piece, where its number stands.
fn middle(laid: &Laid) -> [f64; 2] {
    let [from, to] = span(laid, 0);
    let x = 0.5 * (from + to);
    let next = laid.outline.iter().cycle().skip(1);
    let crossings = laid.outline.iter().zip(next).filter(|(a, b)| (a[0] <= x) != (b[0] <= x));
    let ups = crossings.map(|(a, b)| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]));
    let [low, high] = ups.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| [low.min(v), high.max(v)]);
    [x, if low <= high { 0.5 * (low + high) } else { 0.0 }]
}

/// A run of points as a path; y goes down in it, and up on the board.
fn path(points: &[[f64; 2]], wide: f64, closed: bool) -> String {
    let mut d = String::new();
    for (i, [x, y]) in points.iter().enumerate() {
        let _ = write!(d, "{}{x:.1} {:.1}", if i == 0 { "M" } else { "L" }, wide - y);
    }
    if closed {
        d.push('Z');
    }
    d
}
