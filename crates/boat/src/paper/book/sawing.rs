//! What comes out of which board: every board that is cut, with the planks on it.

use super::look;
use super::page::{Book, Frame, Page};
use super::view::{View, customary, scale_words};
use crate::drawing::words::{LEAST_SIZE, Style};
use crate::drawing::{Anchor, Dash, Face, Shape, Stroke, Weight};
use crate::sawing::{Buy, Laid, Piece, RESAW, Sawn, Suited};
use crate::stock::Board;

/// Heights are drawn so many times larger than lengths, where there is room.
const TIMES: [f64; 5] = [4.0, 3.0, 2.5, 2.0, 1.5];
/// For the words over a board, mm.
const WORDS: f64 = 8.6;
/// The figures under it.
const SPANS: Style = look::NOTE.size(3.3);
const BETWEEN: f64 = 4.0;

/// The sheets; none where nothing is cut.
pub fn pages<'a>(book: &Book<'a>, boards: &[Board], found: &Suited) -> Vec<Page<'a>> {
    let sawing = &found.sawing;
    let longest = sawing.boards.iter().map(|s| boards[s.board].length).fold(0.0, f64::max);
    let mut pages = Vec::new();
    let mut rest = &sawing.boards[..];
    while !rest.is_empty() {
        let title = if pages.is_empty() {
            "What comes out of which board"
        } else {
            "What comes out of which board, continued"
        };
        let mut page = book.page(title, &book.plan.spec.name);
        let frame = page.frame;
        let scale = customary(longest / frame.width(), book.len.0);
        let widest = rest.iter().map(|s| widest(&boards[s.board])).fold(0.0, f64::max);
        let times = TIMES.into_iter().find(|t| t * widest / scale <= 38.0).unwrap_or(1.0);
        let mut top = frame.top;
        if pages.is_empty() {
            top = page.paragraph([frame.left, top], frame.width(), look::BODY.size(3.7), &words(book, boards, found))
                + 1.0;
        }
        let larger = if times > 1.0 { format!(" along, heights {times} times larger") } else { String::new() };
        let said = format!("{}{larger}; lengths from the end at the left", scale_words(scale, book.len.0));
        page.words([frame.left, top + 2.2], Anchor::Left, look::NOTE, &said);
        top += 6.0;
        let mut drawn = 0;
        for sawn in rest {
            let under = page.paragraph_height(frame.width(), SPANS, &spans(book, sawn));
            let height = WORDS + widest_of(sawn, boards) * times / scale + under;
            if drawn > 0 && top + height > frame.bottom {
                break;
            }
            draw(&mut page, book, &boards[sawn.board], sawn, Frame { top, ..frame }, [scale, times]);
            top += height + BETWEEN;
            drawn += 1;
        }
        rest = &rest[drawn..];
        pages.push(page);
    }
    pages
}

fn widest(board: &Board) -> f64 {
    board.widths.into_iter().fold(0.0, f64::max)
}

fn widest_of(sawn: &Sawn, boards: &[Board]) -> f64 {
    widest(&boards[sawn.board])
}

fn words(book: &Book<'_>, boards: &[Board], found: &Suited) -> String {
    let sawing = &found.sawing;
    let saw = &book.plan.spec.sawing;
    let len = book.len;
    let mut text = format!(
        "Lay each pattern on its board as it is drawn, its outline {} from the next at least: a saw cut, and {} to plane off on \
         either side. A pattern lies as it is marked; \"over\": turned over. Each is cut twice, one for port and one for \
         starboard: mark each as you cut it. Arrowheads: bow ends; broken: sapwood; black: faults; brown: sound knots; chain line: \
         where the board is cut off. Check every board for checks, shakes and knots before you cut: only those in the list were minded. {:.0} % \
         of the wood cut becomes plank.",
        len.fine_unit(saw.cut + 2.0 * saw.planing),
        len.fine_unit(saw.planing),
        100.0 * sawing.laid_area / sawing.cut_area.max(f64::MIN_POSITIVE),
    );
    if sawing.boards.iter().any(|s| s.leaf[1] > 1) {
        text.push_str(&format!(" Leaves of a board are sawn through its thickness first. {RESAW}"));
    }
    if !found.parted.is_empty() {
        let strakes: Vec<String> = found.parted.iter().map(|p| p.strake.to_string()).collect();
        let what = if strakes.len() == 1 { "strake" } else { "strakes" };
        text.push_str(&format!(" Scarfs of {what} {} stand where they suit these boards.", strakes.join(", ")));
    }
    if let n @ 1.. = sawing.short.iter().map(|s| s.count).sum::<usize>() {
        let each: Vec<String> = sawing.buy.iter().map(|b| bought(book, b)).collect();
        let more =
            sawing.more.map_or_else(String::new, |m| format!("; or {} more like {}", m.count, boards[m.like].name));
        text.push_str(&format!(
            " {n} found no room in the rack and {} not drawn. To buy, planed and at least: {}{more}.",
            if n == 1 { "is" } else { "are" },
            each.join("; ")
        ));
    }
    text
}

/// `2 of 14-0-0 × 8 in for strake 3`.
fn bought(book: &Book<'_>, buy: &Buy) -> String {
    let [long, wide] = buy.size;
    let pieces: Vec<String> = buy.pieces.iter().map(|p| name(*p)).collect();
    format!(
        "{} of {} \u{d7} {}, {} thick, for {}",
        buy.count,
        book.len.long_unit(long),
        book.len.short_unit(wide),
        book.len.fine_unit(buy.thickness),
        pieces.join(", ")
    )
}

fn draw(page: &mut Page<'_>, book: &Book<'_>, board: &Board, sawn: &Sawn, frame: Frame, [scale, times]: [f64; 2]) {
    let len = book.len;
    let whole = widest(board);
    let head = format!(
        "{}{}: {} \u{d7} {}, {} thick{}",
        board.name,
        if sawn.leaf[1] > 1 { format!(", leaf {} of {}", sawn.leaf[0], sawn.leaf[1]) } else { String::new() },
        len.long_unit(board.length),
        len.short_unit(whole),
        len.short_unit(board.thickness),
        if board.wood.is_empty() { String::new() } else { format!(", {}", board.wood) }
    );
    page.words_within(
        [frame.left, frame.top + 3.2],
        Anchor::Left,
        look::BODY.face(Face::Bold),
        0.6 * frame.width(),
        &head,
    );
    let over = board.length - sawn.used;
    let cut = format!("cut to {}; over: {}", len.long_unit(sawn.used), len.long_unit(over.max(0.0)));
    page.words([frame.right, frame.top + 3.2], Anchor::Right, look::BODY.size(3.7), &cut);
    let base = frame.top + 6.0 + whole * times / scale;
    let view = View { origin: [frame.left, base], scale, scale_up: scale / times };
    let edge = |x: f64, side: f64, off: f64| [x, 0.5 * whole + side * (0.5 * board.width_at(x) - off)];
    let places = [0.0, 0.5 * board.length, board.length];
    let side = |side: f64, off: f64| places.map(|x| edge(x, side, off));
    let mut outline = side(-1.0, 0.0).to_vec();
    outline.extend(side(1.0, 0.0).into_iter().rev());
    page.put("ground", Shape::area(view.run(outline.clone()), look::PAPER, Some(look::THIN)));
    if board.sapwood > 0.0 {
        for s in [-1.0, 1.0] {
            let sap = Stroke::broken(Weight::Hair, look::PENCIL, Dash::Hidden);
            page.line(view.run(side(s, board.sapwood)), sap);
        }
    }
    for laid in &sawn.laid {
        page.put("boat", Shape::area(view.run(laid.outline.iter().copied()), look::WOOD, Some(look::OUTLINE)));
    }
    for laid in &sawn.laid {
        label(page, book, laid, &view, times);
    }
    for s in &board.spoilt {
        let at = [s.from_end, edge(s.from_end, -1.0, 0.0)[1] + s.up];
        let ring = (0..=24).map(|k| f64::from(k) * std::f64::consts::TAU / 24.0);
        let points = ring.map(|a| [at[0] + 0.5 * s.across * a.cos(), at[1] + 0.5 * s.across * a.sin()]);
        let fill = if s.sound { look::SHADE } else { look::INK };
        page.put("ink", Shape::area(view.run(points), fill, Some(look::THIN)));
    }
    if over > 1.0 {
        let across = Stroke::broken(Weight::Thin, look::INK, Dash::Centre);
        page.line(view.run([edge(sawn.used, -1.0, 0.0), edge(sawn.used, 1.0, 0.0)]), across);
    }
    page.paragraph([frame.left, base + 2.6], frame.width(), SPANS, &spans(book, sawn));
}

/// Where each begins and ends along the board, under it.
fn spans(book: &Book<'_>, sawn: &Sawn) -> String {
    sawn.laid.iter().map(|l| span(book, l)).collect::<Vec<_>>().join("; ")
}

fn ends(laid: &Laid) -> [f64; 2] {
    laid.outline.iter().fold([f64::MAX, f64::MIN], |[low, high], p| [low.min(p[0]), high.max(p[0])])
}

/// `3: 0-1-2 to 12-4-1`.
fn span(book: &Book<'_>, laid: &Laid) -> String {
    let [from, to] = ends(laid);
    format!("{}: {} to {}", name(laid.piece), book.len.long(from), book.len.long(to))
}

fn name(piece: Piece) -> String {
    if piece.of == 1 {
        format!("strake {}", piece.strake)
    } else {
        format!("strake {} part {}", piece.strake, piece.part)
    }
}

/// The strake's number in the middle of the piece, and an arrowhead at its bow.
fn label(page: &mut Page<'_>, book: &Book<'_>, laid: &Laid, view: &View, times: f64) {
    let [from, to] = ends(laid);
    let middle = 0.5 * (from + to);
    let Some([low, high]) = across(&laid.outline, middle) else { return };
    let at = view.at(middle, 0.5 * (low + high));
    let over = if laid.over { ", over" } else { "" };
    let Piece { strake, part, .. } = laid.piece;
    let short = if laid.piece.of == 1 { format!("{strake}{over}") } else { format!("{strake} part {part}{over}") };
    // Beside the arrowhead, in a size that can be read; where there is no room the list under the board must do.
    let room = 0.86 * (to - from) / view.scale - 8.0;
    let fits = |text: &String| room / page.width(book.number().size(1.0), text) >= LEAST_SIZE;
    if let Some(text) = [format!("{}{over}", name(laid.piece)), short].into_iter().find(fits) {
        let most = room / page.width(book.number().size(1.0), &text);
        let size = (0.45 * (high - low) * times / view.scale).clamp(LEAST_SIZE, 5.0).min(most);
        page.words([at[0], at[1] + 0.36 * size], Anchor::Middle, book.number().size(size), &text);
    }
    let bow = if laid.fore_end_far { to - 0.06 * (to - from) } else { from + 0.06 * (to - from) };
    if let Some([low, high]) = across(&laid.outline, bow) {
        let tip = view.at(bow, 0.5 * (low + high));
        let back = if laid.fore_end_far { -3.4 } else { 3.4 };
        let head = vec![tip, [tip[0] + back, tip[1] - 1.1], [tip[0] + back, tip[1] + 1.1]];
        page.put("ink", Shape::area(head, look::INK, None));
    }
}

/// The lowest and highest place where a closed outline crosses `x`.
fn across(outline: &[[f64; 2]], x: f64) -> Option<[f64; 2]> {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(a, b)| (a[0] <= x) != (b[0] <= x));
    let ys = crossings.map(|(a, b)| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]));
    let [low, high] = ys.fold([f64::MAX, f64::MIN], |[low, high], y| [low.min(y), high.max(y)]);
    (low <= high).then_some([low, high])
}
