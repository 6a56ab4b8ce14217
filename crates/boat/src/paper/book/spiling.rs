//! Offsets from the batten line every so far along it, where the builder asks for them.

use super::page::{Book, Page};
use super::strake::{Ordinate, at_stations, edges, section_name};
use super::{look, tables};
use crate::development::FlatPlank;
use crate::drawing::Face;
use crate::drawing::table::{Cell, Group, Row, Table};

/// Free between two columns of the sheet, mm.
const GAP: f64 = 8.0;
/// Rows are at least and at most so high, mm.
const ROW: (f64, f64) = (6.2, 7.6);

/// A plank, or a part of one, on its board.
struct Piece<'a> {
    title: String,
    lower: &'a [[f64; 2]],
    upper: &'a [[f64; 2]],
    batten: f64,
    stations: Vec<Ordinate>,
}

/// The sheets of a plank, and of each part of a scarfed one; none unless they were asked for.
pub fn pages<'a>(book: &Book<'a>, flat: &FlatPlank) -> Vec<Page<'a>> {
    let Some(every) = book.plan.spec.planking.spile_every else { return Vec::new() };
    let title = format!("Spiling of strake {}", flat.strake);
    let mut pieces = vec![Piece {
        title: title.clone(),
        lower: &flat.lower,
        upper: &flat.upper,
        batten: flat.batten,
        stations: at_stations(book, flat),
    }];
    let made = book.plan.made.iter().filter(|m| m.strake == flat.strake && m.parts.len() > 1);
    for part in made.flat_map(|m| &m.parts) {
        let station = |s: &crate::development::FlatStation| Ordinate {
            name: section_name(book, s.section),
            section: Some(s.section),
            ruling: 0,
            lower: s.lower,
            upper: s.upper,
        };
        pieces.push(Piece {
            title: format!("{title}, part {}", part.part),
            lower: &part.lower,
            upper: &part.upper,
            batten: part.batten,
            stations: part.stations.iter().map(station).collect(),
        });
    }
    pieces.into_iter().flat_map(|piece| sheets(book, &piece, every)).collect()
}

fn sheets<'a>(book: &Book<'a>, piece: &Piece<'_>, every: f64) -> Vec<Page<'a>> {
    let mut table = empty(book);
    let mut rows: Vec<(f64, Row)> = piece
        .stations
        .iter()
        .map(|o| (0.5 * (o.lower[0] + o.upper[0]), Row { cells: edges(book, piece.batten, o) }))
        .collect();
    let ends = [piece.lower, piece.upper].map(|edge| edge.last().map_or(0.0, |p| p[0]));
    let steps = (ends[0].max(ends[1]) / every).floor() as usize;
    rows.extend((0..=steps).map(|i| i as f64 * every).map(|x| (x, step(book, piece, x))));
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    table.rows = rows.into_iter().map(|r| r.1).collect();
    tables::in_columns(&mut table, GAP, ROW.1, || blank(book, piece, every))
}

/// Square to the batten line at `x`; empty where an edge has not begun or has ended.
fn step(book: &Book<'_>, piece: &Piece<'_>, x: f64) -> Row {
    let columns = empty(book).columns;
    let at = |edge: &[[f64; 2]]| {
        let span = edge.windows(2).find(|w| w[0][0] <= x && x <= w[1][0] && w[1][0] > w[0][0])?;
        Some(span[0][1] + (span[1][1] - span[0][1]) * (x - span[0][0]) / (span[1][0] - span[0][0]))
    };
    let mut cells = vec![String::new()];
    for edge in [piece.lower, piece.upper] {
        match at(edge) {
            Some(y) => cells.extend([book.len.long(x), book.len.short(y - piece.batten)]),
            None => cells.extend([book.len.long(x), "\u{2013}".to_owned()]),
        }
    }
    let plain =
        |(text, i): (String, usize)| Cell { style: Some(columns[i].style.face(Face::Regular)), ..Cell::from(text) };
    Row { cells: cells.into_iter().zip(0..).map(plain).collect() }
}

fn empty(book: &Book<'_>) -> Table {
    let columns = vec![
        tables::names("station", 1.0),
        tables::longs(book.len, "along", 1.0),
        tables::numbers(book.len, "off", 1.0),
        tables::longs(book.len, "along", 1.0),
        tables::numbers(book.len, "off", 1.0),
    ];
    let mut table = tables::table(columns, ROW.0);
    let group = |from, head: &str| Group { from, to: from + 1, head: head.to_owned() };
    table.groups = vec![group(1, "lower edge"), group(3, "upper edge")];
    table
}

fn blank<'a>(book: &Book<'a>, piece: &Piece<'_>, every: f64) -> Page<'a> {
    let every = book.len.short_unit(every);
    let mut page = book.page(&piece.title, &format!("every {every} along its batten line"));
    let frame = page.frame;
    let legend = format!(
        "Offsets square to the batten line up to either edge, \u{2212} below it, every {every} from where the finished plank \
         begins; bold, where the lines of the stations meet the edges. \u{2013}: that edge has not begun there or has ended, \
         see the sheet of its ends."
    );
    page.frame.top = page.paragraph([frame.left, frame.top - 2.4], frame.width(), look::NOTE, &legend) - 1.2;
    page
}
