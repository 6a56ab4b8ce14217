//! A large drawing on many small sheets, to be stuck together.
//!
//! Neighbouring sheets show a strip of the drawing both. In the middle of the strip stand diamonds, the same on both with
//! the same letters: laid one on another, they bring the sheets together. Every sheet says where it belongs and carries
//! the measured box, and a map before them shows which lies where; sheets on which nothing is drawn are left out.
//!
//! Words are never cut: they go whole on the sheet that has their middle, moved in from its edge if they must be.

use super::book::look;
use super::patterns::{BOX, TITLE, drawn, is_furniture};
use super::{PaperSize, measured};
use crate::drawing::clip::{clip, runs};
use crate::drawing::place::{Bounds, Move};
use crate::drawing::typeface::Type;
use crate::drawing::words::{self, Style};
use crate::drawing::{Anchor, Face, Item, Outline, Scale, Shape, Sheet, Spot, Stroke, Text, Weight};

/// What two neighbouring sheets both show, mm.
pub const OVERLAP: f64 = 10.0;
/// Free at the edges of a sheet, where printers do not print, mm.
const MARGIN: f64 = 8.0;
/// Under a sheet's frame, for the box and the words, mm.
const FOOT: f64 = 24.0;
/// Free round the drawing, mm.
const ROUND: f64 = 3.0;
/// A diamond reaches so far from its middle, mm: in the middle of a strip it keeps clear of both edges.
const DIAMOND: f64 = 3.0;

/// The layer of the marks by which sheets are brought together.
pub const MARKS: &str = "match marks";
/// The layer of a sheet's frame.
pub const FRAME: &str = "frame";
/// The layer of what a sheet says of itself.
const FOOT_WORDS: &str = "sheet";

/// A drawing on `paper`: the map, then the sheets row by row; upright or lying, whichever takes fewer.
#[must_use]
pub fn pages(t: &Type, sheet: &Sheet, paper: PaperSize) -> Vec<Sheet> {
    let ways = [paper.upright(), paper.landscape()].into_iter().filter_map(|page| Tiling::new(sheet, page));
    // Of two alike the first: upright.
    let Some(tiling) = ways.min_by_key(|way| way.tiles.len()) else { return Vec::new() };
    let mut pages = vec![tiling.map(t)];
    pages.extend(tiling.sheets(t));
    pages
}

/// A drawing on strips of paper no larger than `page`, with marks where they join and no map.
#[must_use]
pub fn strips(t: &Type, sheet: &Sheet, page: [f64; 2]) -> Vec<Sheet> {
    Tiling::shared(sheet, page).map_or_else(Vec::new, |tiling| tiling.sheets(t))
}

/// How a drawing is shared out.
struct Tiling<'a> {
    sheet: &'a Sheet,
    page: [f64; 2],
    /// Width and height of what one sheet shows, mm.
    window: [f64; 2],
    /// The top left corner of all of it, on the drawing.
    corner: Spot,
    rows: usize,
    columns: usize,
    tiles: Vec<Tile>,
}

/// One sheet that shows something.
struct Tile {
    row: usize,
    column: usize,
    /// What is drawn on it, in the drawing's own places.
    items: Vec<(&'static str, Item)>,
    texts: Vec<(&'static str, Text)>,
}

impl<'a> Tiling<'a> {
    /// `None` for a sheet with nothing on it.
    fn new(sheet: &'a Sheet, page: [f64; 2]) -> Option<Self> {
        let area = sheet.bounds(|layer| !is_furniture(layer))?.grown(ROUND);
        let window = [page[0] - 2.0 * MARGIN, page[1] - 2.0 * MARGIN - FOOT];
        let step = window.map(|side| side - OVERLAP);
        let count = |length: f64, step: f64| ((length - OVERLAP) / step).ceil().max(1.0);
        let (columns, rows) = (count(area.width(), step[0]), count(area.height(), step[1]));
        // The drawing lies in the middle of the sheets.
        let [x, y] = area.middle();
        let corner = [x - 0.5 * (columns * step[0] + OVERLAP), y - 0.5 * (rows * step[1] + OVERLAP)];
        let (columns, rows) = (columns as usize, rows as usize);
        let mut tiling = Tiling { sheet, page, window, corner, rows, columns, tiles: Vec::new() };
        tiling.share_out();
        Some(tiling)
    }

    /// On pages no larger than `page`, all of one length.
    fn shared(sheet: &'a Sheet, page: [f64; 2]) -> Option<Self> {
        let area = sheet.bounds(|layer| !is_furniture(layer))?.grown(ROUND);
        let frame = [2.0 * MARGIN, 2.0 * MARGIN + FOOT];
        let shared = |length: f64, page: f64, frame: f64| {
            let pieces = ((length - OVERLAP) / (page - frame - OVERLAP)).ceil().max(1.0);
            // A hair more, so that rounding asks for no further piece.
            ((length - OVERLAP) / pieces + OVERLAP + frame + 1e-6).min(page)
        };
        let page =
            [shared(area.width(), page[0], frame[0]).max(LEAST_STRIP), shared(area.height(), page[1], frame[1])];
        Self::new(sheet, page)
    }

    /// The part of the drawing that a sheet shows.
    fn shows(&self, row: usize, column: usize) -> Bounds {
        let left = self.corner[0] + column as f64 * (self.window[0] - OVERLAP);
        let top = self.corner[1] + row as f64 * (self.window[1] - OVERLAP);
        Bounds { left, top, right: left + self.window[0], bottom: top + self.window[1] }
    }

    fn share_out(&mut self) {
        let all: Vec<(&'static str, &Item)> = drawn(self.sheet).collect();
        for row in 0..self.rows {
            for column in 0..self.columns {
                let window = self.shows(row, column);
                let (mut items, mut texts) = (Vec::new(), Vec::new());
                for (layer, item) in &all {
                    match item {
                        Item::Shape(shape) => items.extend(clip(shape, &window).into_iter().map(|i| (*layer, i))),
                        Item::Text(text) if self.at(text.bounds().middle()) == [row, column] => {
                            texts.push((*layer, moved_in(text, &window)));
                        }
                        Item::Text(_) => {}
                    }
                }
                if !items.is_empty() || !texts.is_empty() {
                    self.tiles.push(Tile { row, column, items, texts });
                }
            }
        }
    }

    /// The sheet that has a place of the drawing nearest to its middle.
    fn at(&self, [x, y]: Spot) -> [usize; 2] {
        let nearest = |from: f64, window: f64, count: usize| {
            ((from - 0.5 * OVERLAP) / (window - OVERLAP)).floor().clamp(0.0, count as f64 - 1.0) as usize
        };
        [
            nearest(y - self.corner[1], self.window[1], self.rows),
            nearest(x - self.corner[0], self.window[0], self.columns),
        ]
    }

    fn is_there(&self, row: usize, column: usize) -> bool {
        self.tiles.iter().any(|t| t.row == row && t.column == column)
    }

    /// The marks between neighbours, in the drawing's places: two to each edge that two sheets share.
    fn marks(&self, t: &Type) -> Vec<Mark> {
        let words: Vec<Bounds> =
            self.tiles.iter().flat_map(|tile| &tile.texts).map(|(_, text)| text.bounds()).collect();
        let mut marks = Vec::new();
        for tile in &self.tiles {
            let here = self.shows(tile.row, tile.column);
            for down in [false, true] {
                let (row, column) = if down { (tile.row + 1, tile.column) } else { (tile.row, tile.column + 1) };
                if !self.is_there(row, column) {
                    continue;
                }
                for places in PLACES {
                    let spots = places.iter().map(|share| {
                        if down {
                            [here.left + share * self.window[0], here.bottom - 0.5 * OVERLAP]
                        } else {
                            [here.right - 0.5 * OVERLAP, here.top + share * self.window[1]]
                        }
                    });
                    let all: Vec<Mark> = spots.map(|at| Mark::new(t, at, down, marks.len())).collect();
                    let clear = |mark: &Mark| words.iter().all(|w| !w.meets(&mark.bounds()));
                    let on_nothing = |mark: &Mark| {
                        let struck = |(_, item): &(&str, Item)| match item {
                            Item::Shape(shape) => !clip(shape, &mark.bounds()).is_empty(),
                            Item::Text(_) => false,
                        };
                        clear(mark) && !tile.items.iter().any(struck)
                    };
                    // Best on nothing at all, else clear of words, else where it must.
                    let best = all.iter().position(on_nothing).or_else(|| all.iter().position(clear)).unwrap_or(0);
                    marks.extend(all.into_iter().nth(best));
                }
            }
        }
        marks
    }

    fn sheets(&self, t: &Type) -> Vec<Sheet> {
        let marks = self.marks(t);
        self.tiles.iter().enumerate().map(|(i, tile)| self.one(t, tile, i + 1, &marks)).collect()
    }

    fn one(&self, t: &Type, tile: &Tile, number: usize, marks: &[Mark]) -> Sheet {
        let mut page = Sheet::new(self.page[0], self.page[1], self.sheet.title.clone());
        let shown = self.shows(tile.row, tile.column);
        let way = Move::by([MARGIN - shown.left, MARGIN - shown.top]);
        for (layer, item) in &tile.items {
            page.put(layer, item.moved(way));
        }
        for (layer, text) in &tile.texts {
            page.put(layer, Item::Text(text.clone()).moved(way));
        }
        for mark in marks.iter().filter(|m| shown.holds(&m.bounds())) {
            mark.items.iter().for_each(|item| page.put(MARKS, item.moved(way)));
        }
        let frame =
            Bounds { left: MARGIN, top: MARGIN, right: MARGIN + self.window[0], bottom: MARGIN + self.window[1] };
        page.put(FRAME, Shape::polygon(frame.corners().to_vec(), look::GUIDE));
        self.foot(t, &mut page, tile, number);
        page
    }

    /// Whether the boat's lengths are in inches: the drawing's own box tells.
    fn inches(&self) -> bool {
        matches!(self.sheet.scale, Scale::Measured { size, .. } if size == measured::size(true))
    }

    /// The box, what and where the sheet is, and a small map.
    fn foot(&self, t: &Type, page: &mut Sheet, tile: &Tile, number: usize) {
        let [width, height] = self.page;
        let [box_wide, box_tall] = measured::size(self.inches());
        let top = height - MARGIN - box_tall;
        measured::put(t, page, [BOX, BOX], [MARGIN, top], self.inches());
        let small = (width - 2.0 * MARGIN - box_wide - 74.0).clamp(0.0, 70.0);
        let x = MARGIN + box_wide + 5.0;
        let measure = width - MARGIN - small - 4.0 - x;
        let mut put = |style: Style, base: f64, text: &str| {
            let (style, text) = words::within(t, style, measure, text);
            page.put(FOOT_WORDS, words::line(t, style, [x, base], Anchor::Left, &text));
        };
        put(look::HEAD, top + 4.4, &self.sheet.title);
        put(look::BODY, top + 10.6, &format!("row {}, column {}", tile.row + 1, tile.column + 1));
        let of = self.tiles.len();
        put(look::NOTE, top + 15.2, &format!("sheet {number} of {of}, full size"));
        let lay = if of > 1 { "diamonds of one letter on each other" } else { "all on this sheet" };
        put(look::NOTE.face(Face::Italic), top + 19.4, lay);
        let cell = (small / self.columns as f64).min(box_tall / self.rows as f64).min(9.0);
        if cell < 0.8 || of == 1 {
            return;
        }
        let left = width - MARGIN - cell * self.columns as f64;
        for other in &self.tiles {
            let corner = [left + cell * other.column as f64, top + cell * other.row as f64];
            let area = Bounds { left: corner[0], top: corner[1], right: corner[0] + cell, bottom: corner[1] + cell };
            let here = other.row == tile.row && other.column == tile.column;
            let fill = if here { look::SHADE } else { look::PAPER };
            page.put(FOOT_WORDS, Shape::area(area.corners().to_vec(), fill, Some(look::GUIDE)));
        }
    }

    /// The page before the sheets: the drawing small, cut as the sheets cut it, and what to do with them.
    fn map(&self, t: &Type) -> Sheet {
        let [width, height] = self.page;
        let mut page = Sheet::new(width, height, self.sheet.title.clone());
        let (left, right) = (MARGIN + 4.0, width - MARGIN - 4.0);
        let [box_wide, box_tall] = measured::size(self.inches());
        let top = MARGIN + 4.0;
        measured::put(t, &mut page, [BOX, BOX], [right - box_wide, top], self.inches());
        let room = right - box_wide - 6.0 - left;
        let (style, title) = words::within(t, look::TITLE, room, &self.sheet.title);
        page.put(FOOT_WORDS, words::line(t, style, [left, top + 7.0], Anchor::Left, &title));
        let of = self.tiles.len();
        let count = if of == 1 { "1 sheet".to_owned() } else { format!("{of} sheets") };
        let note = format!("map of its {count}, {} × {}", self.rows_said(), self.columns_said());
        let (style, note) = words::within(t, look::BODY, room, &note);
        page.put(FOOT_WORDS, words::line(t, style, [left, top + 14.0], Anchor::Left, &note));
        let mut y = top + box_tall + 7.0;
        let style = look::NOTE.size(3.6);
        for line in words::wrap(t, style, right - left, HOW).into_iter().chain(self.own_words(t, style, right - left))
        {
            if !line.is_empty() {
                page.put(FOOT_WORDS, words::line(t, style, [left, y], Anchor::Left, &line));
            }
            y += style.size * look::LEADING;
        }
        self.draw_map(t, &mut page, Bounds { left, top: y, right, bottom: height - MARGIN - 4.0 });
        page
    }

    fn rows_said(&self) -> String {
        if self.rows == 1 { "1 row".to_owned() } else { format!("{} rows", self.rows) }
    }

    fn columns_said(&self) -> String {
        if self.columns == 1 { "1 column".to_owned() } else { format!("{} columns", self.columns) }
    }

    /// What stands under the drawing on a sheet of its own.
    fn own_words(&self, t: &Type, style: Style, measure: f64) -> Vec<String> {
        let title = self.sheet.layers.iter().find(|l| l.name == TITLE);
        let texts = title.into_iter().flat_map(|l| &l.items).filter_map(|item| match item {
            Item::Text(text) => Some(text.string()),
            Item::Shape(_) => None,
        });
        // The title stands on the map already; whose it is has a line of its own.
        let all: Vec<String> = texts.skip(1).collect();
        let Some((whose, notes)) = all.split_first() else { return Vec::new() };
        words::wrap(t, style, measure, &format!("{whose}\n{}", notes.join(" ")))
    }

    fn draw_map(&self, t: &Type, page: &mut Sheet, room: Bounds) {
        let whole = [
            self.columns as f64 * (self.window[0] - OVERLAP) + OVERLAP,
            self.rows as f64 * (self.window[1] - OVERLAP) + OVERLAP,
        ];
        let scale = (whole[0] / room.width()).max(whole[1] / room.height());
        let left = room.left + 0.5 * (room.width() - whole[0] / scale);
        let place = |[x, y]: Spot| [left + (x - self.corner[0]) / scale, room.top + (y - self.corner[1]) / scale];
        for row in 0..self.rows {
            for column in 0..self.columns {
                let shown = self.shows(row, column).grown(-0.5 * OVERLAP);
                let corners = shown.corners().map(place);
                let cell = Bounds::of(corners).unwrap_or(room);
                let number = self.tiles.iter().position(|tile| tile.row == row && tile.column == column);
                let Some(number) = number else {
                    blank(page, &cell);
                    continue;
                };
                page.put("map", Shape::polygon(corners.to_vec(), Stroke::solid(Weight::Fine, look::PENCIL)));
                let number = (number + 1).to_string();
                let tall = (0.34 * cell.height()).min(0.5 * cell.width() / number.len() as f64 * 1.7);
                let style =
                    Style { size: tall.clamp(words::LEAST_SIZE, 16.0), face: Face::Bold, colour: look::FAINT };
                let at = [cell.middle()[0], cell.middle()[1] + 0.33 * style.size];
                page.put("map", words::line(t, style, at, Anchor::Middle, &number));
            }
        }
        for (_, item) in drawn(self.sheet) {
            let Item::Shape(Shape { outline, stroke: Some(stroke), .. }) = item else { continue };
            let (Outline::Line(points) | Outline::Polygon(points)) = outline else { continue };
            let weight = if stroke.weight.mm() >= Weight::Thick.mm() { Weight::Thin } else { Weight::Hair };
            let mut small: Vec<Spot> = points.iter().copied().map(place).collect();
            if matches!(outline, Outline::Polygon(_)) {
                small.extend(small.first().copied());
            }
            page.put("map", Shape::line(small, Stroke { weight, ..*stroke }));
        }
    }
}

/// No strip is shorter, or its foot would not hold the words, mm.
const LEAST_STRIP: f64 = 190.0;
/// Where along an edge each of its two marks may stand, as shares of it: the first place clear of words.
const PLACES: [[f64; 8]; 2] =
    [[0.25, 0.3, 0.2, 0.35, 0.15, 0.4, 0.1, 0.45], [0.75, 0.7, 0.8, 0.65, 0.85, 0.6, 0.9, 0.55]];

/// How the sheets come together; the strip is [`OVERLAP`] wide.
const HOW: &str = "Print at 100 % (\u{201c}actual size\u{201d}) and measure the box on every sheet. Lay the sheets as the \
                   map shows. Neighbours show a strip 10 mm (3/8 in) wide both: cut one of the two along its frame, lay it on the \
                   other so that the diamonds with the same letters cover each other, and stick it down. Hatched sheets \
                   would be blank and are not printed.\n";

/// A cell of the map that has no sheet.
fn blank(page: &mut Sheet, cell: &Bounds) {
    let pen = Stroke::solid(Weight::Hair, look::FAINT);
    page.put("map", Shape::polygon(cell.corners().to_vec(), pen));
    let apart = 4.0;
    let (wide, tall) = (cell.width(), cell.height());
    let count = ((wide + tall) / apart) as usize;
    for i in 1..=count {
        let along = i as f64 * apart;
        let line = [[cell.left + along, cell.top], [cell.left + along - tall, cell.bottom]];
        for run in runs(&line, false, cell) {
            page.put("map", Shape::line(run, pen));
        }
    }
}

/// Moves words so that all of them stand inside a window; those longer than it begin at its edge.
fn moved_in(text: &Text, window: &Bounds) -> Text {
    let (bounds, room) = (text.bounds(), window.grown(-1.0));
    let shift = |low: f64, high: f64, from: f64, to: f64| {
        if low < from || high - low > to - from {
            from - low
        } else if high > to {
            to - high
        } else {
            0.0
        }
    };
    let by = [
        shift(bounds.left, bounds.right, room.left, room.right),
        shift(bounds.top, bounds.bottom, room.top, room.bottom),
    ];
    let mut moved = text.clone();
    moved.at = [text.at[0] + by[0], text.at[1] + by[1]];
    moved
}

/// A diamond with its letters.
struct Mark {
    items: Vec<Item>,
}

impl Mark {
    /// `along`: the strip runs left and right, so the letters stand to the right of the diamond, else under it.
    fn new(t: &Type, [x, y]: Spot, along: bool, index: usize) -> Mark {
        let pen = Stroke::solid(Weight::Hair, look::INK);
        let d = DIAMOND;
        let diamond = vec![[x, y - d], [x + d, y], [x, y + d], [x - d, y]];
        let style = look::NOTE.colour(look::INK);
        let (at, anchor) =
            if along { ([x + d + 1.2, y + 1.0], Anchor::Left) } else { ([x, y + d + 3.2], Anchor::Middle) };
        Mark {
            items: vec![
                Shape::polygon(diamond, pen),
                Shape::line(vec![[x - d, y], [x + d, y]], pen),
                Shape::line(vec![[x, y - d], [x, y + d]], pen),
                words::line(t, style, at, anchor, &letters(index)),
            ],
        }
    }

    fn bounds(&self) -> Bounds {
        let all = self.items.iter().filter_map(Item::bounds).reduce(Bounds::with);
        all.unwrap_or(Bounds { left: 0.0, top: 0.0, right: 0.0, bottom: 0.0 })
    }
}

/// A, B, … Z, AA, AB, …; I and O are left out, which look like figures.
fn letters(index: usize) -> String {
    const ALL: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let mut rest = index;
    let mut found = Vec::new();
    loop {
        found.insert(0, ALL[rest % ALL.len()] as char);
        if rest < ALL.len() {
            return found.into_iter().collect();
        }
        rest = rest / ALL.len() - 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn what_is_said_of_the_strip_is_how_wide_it_is() {
        assert!(HOW.contains(&format!("a strip {OVERLAP} mm (3/8 in) wide")));
    }

    #[test]
    fn no_two_marks_have_the_same_letters() {
        assert_eq!([0, 23, 24, 47, 48].map(letters), ["A", "Z", "AA", "AZ", "BA"]);
        let all: BTreeSet<String> = (0..2000).map(letters).collect();
        assert_eq!(all.len(), 2000);
    }

    #[test]
    fn a_drawing_a_hair_larger_than_a_sheet_takes_two_and_one_as_large_takes_one() {
        let t = Type::embedded().expect("embedded faces");
        let [wide, tall] = [210.0 - 2.0 * MARGIN, 297.0 - 2.0 * MARGIN - FOOT];
        for (extra, sheets) in [(-0.01, 1), (0.01, 2)] {
            let size = [wide - 2.0 * ROUND + extra, tall - 2.0 * ROUND - 20.0];
            let mut sheet = Sheet::new(size[0], size[1], "test");
            sheet.put("outline", Shape::line(vec![[0.0, 0.0], size], look::OUTLINE));
            assert_eq!(Tiling::new(&sheet, [210.0, 297.0]).unwrap().sheets(&t).len(), sheets);
        }
    }
}
