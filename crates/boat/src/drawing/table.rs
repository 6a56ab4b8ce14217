//! A small table: heads over columns, hairlines between rows, and as many rows as a page will hold.
//!
//! Columns share out the width they are given. Long words wrap in their cell and the row grows, so nothing can run
//! into its neighbour.

use super::typeface::{CAP_HEIGHT, DESCENT, Type};
use super::words::{self, Style};
use super::{Anchor, Colour, Shape, Sheet, Spot, Stroke};

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// From the left.
    pub columns: Vec<Column>,
    /// Heads over several columns.
    pub groups: Vec<Group>,
    /// From the top.
    pub rows: Vec<Row>,
    /// Rows, by index, that head the one after and are not the last on a sheet.
    pub stay: Vec<usize>,
    /// How it is drawn.
    pub look: Look,
}

/// One column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Over it.
    pub head: String,
    /// Its share of the table's width, against the other columns'.
    pub share: f64,
    /// Where its words stand.
    pub align: Anchor,
    /// How its words look.
    pub style: Style,
}

/// A head over several columns.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// First column.
    pub from: usize,
    /// Last column.
    pub to: usize,
    /// The head.
    pub head: String,
}

/// One row; a missing cell is empty.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row {
    /// From the left.
    pub cells: Vec<Cell>,
}

/// One cell.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cell {
    /// What it says.
    pub text: String,
    /// Said beneath in the style of a head.
    pub under: String,
    /// Another style than its column's.
    pub style: Option<Style>,
    /// A tint behind it.
    pub ground: Option<Colour>,
}

impl<S: Into<String>> From<S> for Cell {
    fn from(text: S) -> Self {
        Cell { text: text.into(), ..Cell::default() }
    }
}

/// Pens and spaces of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Of the heads.
    pub head: Style,
    /// Under the heads.
    pub rule: Stroke,
    /// Between rows.
    pub hairline: Stroke,
    /// Behind every second row.
    pub zebra: Option<Colour>,
    /// Least height of a row, mm.
    pub row: f64,
    /// Left free at each side of a column, mm.
    pub pad: f64,
}

/// Line to line, as a share of the size of the type.
const LEADING: f64 = 1.16;
/// Between the lowest words of the heads and the rule under them, mm.
const OVER_RULE: f64 = 1.2;
/// Above and below a group's words, mm; its hairline stands at the lower end.
const ABOUT_GROUP: f64 = 0.4;
/// What a head over several columns takes besides its own line, mm.
const UNDER_GROUP: f64 = 1.0;
/// Free in a row above and below its words, together, mm.
const IN_ROW: f64 = 1.0;
/// A cell's tint ends so far inside its column, mm.
const BESIDE_TINT: f64 = 0.2;

/// What has been drawn of a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawn {
    /// The first row that found no room; the number of rows when all did.
    pub next: usize,
    /// Under the last row, mm from the top of the sheet.
    pub bottom: f64,
}

impl Table {
    /// Height of the heads, mm, in a table of that width.
    #[must_use]
    pub fn head_height(&self, t: &Type, width: f64) -> f64 {
        let widths = self.widths(width);
        let lines =
            |head: &str, width: f64| words::wrap(t, self.look.head, width - 2.0 * self.look.pad, head).len() as f64;
        let tallest = self.columns.iter().zip(&widths).map(|(c, w)| lines(&c.head, *w)).fold(0.0, f64::max);
        let group = if self.groups.is_empty() { 0.0 } else { self.line_height(self.look.head) + UNDER_GROUP };
        group + tallest * self.line_height(self.look.head) + OVER_RULE
    }

    /// Height of row `i`, mm, in a table of that width.
    #[must_use]
    pub fn row_height(&self, t: &Type, width: f64, i: usize) -> f64 {
        let widths = self.widths(width);
        let Some(row) = self.rows.get(i) else { return 0.0 };
        let mut height: f64 = self.look.row;
        for ((cell, column), width) in row.cells.iter().zip(&self.columns).zip(&widths) {
            let style = cell.style.unwrap_or(column.style);
            let inner = width - 2.0 * self.look.pad;
            let mut tall = words::wrap(t, style, inner, &cell.text).len() as f64 * self.line_height(style);
            if !cell.under.is_empty() {
                tall += words::wrap(t, self.look.head, inner, &cell.under).len() as f64
                    * self.line_height(self.look.head);
            }
            height = height.max(tall + IN_ROW);
        }
        height
    }

    /// Height of the whole table, mm, in a table of that width.
    #[must_use]
    pub fn height(&self, t: &Type, width: f64) -> f64 {
        let rows: f64 = (0..self.rows.len()).map(|i| self.row_height(t, width, i)).sum();
        self.head_height(t, width) + rows
    }

    /// Draws the heads and, from row `from` on, as many rows as `height` mm will hold; at least one, so that a caller
    /// that turns the page always gets on.
    pub fn draw(&self, t: &Type, sheet: &mut Sheet, at: Spot, width: f64, height: f64, from: usize) -> Drawn {
        let widths = self.widths(width);
        let lefts: Vec<f64> = widths.iter().scan(at[0], |x, w| Some(std::mem::replace(x, *x + w))).collect();
        let head = self.head_height(t, width);
        self.draw_heads(t, sheet, at, &lefts, &widths, head);
        let mut y = at[1] + head;
        let mut next = from;
        while next < self.rows.len() {
            let row_height = self.row_height(t, width, next);
            let with_it = if self.stay.contains(&next) && next + 1 < self.rows.len() {
                self.row_height(t, width, next + 1)
            } else {
                0.0
            };
            if y + row_height + with_it > at[1] + height + 1e-9 && next > from {
                break;
            }
            self.draw_row(t, sheet, next, [at[0], y], &lefts, &widths, row_height);
            y += row_height;
            next += 1;
        }
        Drawn { next, bottom: y }
    }

    fn widths(&self, width: f64) -> Vec<f64> {
        let all: f64 = self.columns.iter().map(|c| c.share).sum();
        self.columns.iter().map(|c| width * c.share / all).collect()
    }

    fn line_height(&self, style: Style) -> f64 {
        style.size * LEADING
    }

    fn draw_heads(&self, t: &Type, sheet: &mut Sheet, at: Spot, lefts: &[f64], widths: &[f64], height: f64) {
        let style = self.look.head;
        let line = self.line_height(style);
        let foot = at[1] + height;
        for ((column, left), width) in self.columns.iter().zip(lefts).zip(widths) {
            let lines = words::wrap(t, style, width - 2.0 * self.look.pad, &column.head);
            for (i, words) in lines.iter().rev().enumerate() {
                let base = foot - OVER_RULE - DESCENT * style.size - i as f64 * line;
                sheet.put(
                    "words",
                    words::line(t, style, [self.edge(column.align, *left, *width), base], column.align, words),
                );
            }
        }
        for group in &self.groups {
            let (Some(left), Some(from_right), Some(last)) =
                (lefts.get(group.from), lefts.get(group.to), widths.get(group.to))
            else {
                continue;
            };
            let (left, right) = (left + self.look.pad, from_right + last - self.look.pad);
            let base = at[1] + CAP_HEIGHT * style.size + ABOUT_GROUP;
            sheet.put("words", words::line(t, style, [(left + right) / 2.0, base], Anchor::Middle, &group.head));
            let under = base + DESCENT * style.size + ABOUT_GROUP;
            sheet.put("ink", Shape::line(vec![[left, under], [right, under]], self.look.hairline));
        }
        let right = at[0] + widths.iter().sum::<f64>();
        sheet.put("ink", Shape::line(vec![[at[0], foot], [right, foot]], self.look.rule));
    }

    #[expect(clippy::too_many_arguments, reason = "the row's place and the columns' places are plain numbers")]
    fn draw_row(&self, t: &Type, sheet: &mut Sheet, i: usize, at: Spot, lefts: &[f64], widths: &[f64], height: f64) {
        let Some(row) = self.rows.get(i) else { return };
        let right = at[0] + widths.iter().sum::<f64>();
        let band = |x0: f64, x1: f64| vec![[x0, at[1]], [x1, at[1]], [x1, at[1] + height], [x0, at[1] + height]];
        if let Some(tint) = self.look.zebra.filter(|_| i % 2 == 1) {
            sheet.put("ground", Shape::area(band(at[0], right), tint, None));
        }
        for (((cell, column), left), width) in row.cells.iter().zip(&self.columns).zip(lefts).zip(widths) {
            if let Some(tint) = cell.ground {
                sheet.put("ground", Shape::area(band(*left + BESIDE_TINT, left + width - BESIDE_TINT), tint, None));
            }
            self.draw_cell(t, sheet, cell, column, [*left, at[1]], *width, height);
        }
        let foot = at[1] + height;
        sheet.put("ink", Shape::line(vec![[at[0], foot], [right, foot]], self.look.hairline));
    }

    #[expect(clippy::too_many_arguments, reason = "a cell and its box")]
    fn draw_cell(
        &self,
        t: &Type,
        sheet: &mut Sheet,
        cell: &Cell,
        column: &Column,
        at: Spot,
        width: f64,
        height: f64,
    ) {
        let style = cell.style.unwrap_or(column.style);
        let inner = width - 2.0 * self.look.pad;
        let lines = |style: Style, text: &str| -> Vec<(Style, String)> {
            words::wrap(t, style, inner, text).into_iter().map(|l| (style, l)).collect()
        };
        let mut all = lines(style, &cell.text);
        if !cell.under.is_empty() {
            all.extend(lines(self.look.head, &cell.under));
        }
        let tall: f64 = all.iter().map(|(s, _)| self.line_height(*s)).sum();
        // Capitals and figures stand in the middle of the row, whatever hangs below the base line.
        let mut y = at[1] + (height - tall) / 2.0;
        for (style, words) in all {
            let line = self.line_height(style);
            let base = y + line / 2.0 + CAP_HEIGHT * style.size / 2.0;
            let x = self.edge(column.align, at[0], width);
            if !words.is_empty() {
                sheet.put("words", words::line(t, style, [x, base], column.align, &words));
            }
            y += line;
        }
    }

    fn edge(&self, align: Anchor, left: f64, width: f64) -> f64 {
        match align {
            Anchor::Left => left + self.look.pad,
            Anchor::Middle => left + width / 2.0,
            Anchor::Right => left + width - self.look.pad,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Dash, Face, Weight};
    use super::*;

    fn table(rows: usize) -> Table {
        let ink = Colour(0, 0, 0);
        let style = Style { size: 4.0, face: Face::Bold, colour: ink };
        let pen = Stroke { weight: Weight::Hair, colour: ink, dash: Dash::Solid };
        let column = |head: &str, align| Column { head: head.into(), share: 1.0, align, style };
        Table {
            columns: vec![column("station", Anchor::Left), column("up to the lower edge", Anchor::Right)],
            groups: Vec::new(),
            rows: (0..rows).map(|i| Row { cells: vec![format!("{i}").into(), "1024".into()] }).collect(),
            stay: Vec::new(),
            look: Look { head: style.size(3.0), rule: pen, hairline: pen, zebra: None, row: 6.0, pad: 1.0 },
        }
    }

    #[test]
    fn a_long_table_goes_over_pages_row_by_row() {
        let t = Type::embedded().expect("embedded faces");
        let table = table(25);
        let (mut from, mut seen, mut pages) = (0, Vec::new(), 0);
        while from < table.rows.len() {
            let mut sheet = Sheet::new(100.0, 80.0, "a");
            let drawn = table.draw(&t, &mut sheet, [5.0, 5.0], 60.0, 70.0, from);
            assert!(drawn.bottom <= 75.0 + 1e-9, "runs off the page: {}", drawn.bottom);
            seen.extend(
                sheet
                    .texts()
                    .map(super::super::Text::string)
                    .filter_map(|s| s.parse::<usize>().ok())
                    .filter(|n| *n < 100),
            );
            (from, pages) = (drawn.next, pages + 1);
        }
        assert_eq!(seen, (0..25).collect::<Vec<_>>());
        assert!(pages > 1);
    }

    /// The row that would be the last on the page goes with the one it heads, and the page's first is drawn all the same.
    #[test]
    fn a_row_that_heads_another_is_not_the_last_on_a_page() {
        let t = Type::embedded().expect("embedded faces");
        let draw = |table: &Table, from| {
            let mut sheet = Sheet::new(100.0, 80.0, "a");
            table.draw(&t, &mut sheet, [5.0, 5.0], 60.0, 70.0, from).next
        };
        let mut table = table(25);
        let next = draw(&table, 0);
        table.stay = vec![next - 1];
        assert_eq!(draw(&table, 0), next - 1);
        table.stay = (0..25).collect();
        assert!(draw(&table, 0) > 0);
    }

    #[test]
    fn numbers_end_on_one_line_and_long_words_make_the_row_grow() {
        let t = Type::embedded().expect("embedded faces");
        let mut table = table(2);
        table.rows[1].cells[0] = "a word too long for its column by far".into();
        assert!(table.row_height(&t, 60.0, 1) > 2.0 * table.row_height(&t, 60.0, 0));
        let mut sheet = Sheet::new(100.0, 80.0, "a");
        table.draw(&t, &mut sheet, [5.0, 5.0], 60.0, 70.0, 0);
        let ends: Vec<f64> = sheet.texts().filter(|x| x.string() == "1024").map(|x| x.at[0] + x.width).collect();
        assert_eq!(ends.len(), 2);
        assert!(ends.iter().all(|e| (e - 64.0).abs() < 1e-9), "{ends:?}");
    }

    #[test]
    fn a_page_too_short_for_one_row_still_gets_on() {
        let t = Type::embedded().expect("embedded faces");
        let mut sheet = Sheet::new(100.0, 80.0, "a");
        assert_eq!(table(3).draw(&t, &mut sheet, [5.0, 5.0], 60.0, 1.0, 0).next, 1);
    }
}
