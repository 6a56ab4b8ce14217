//! The quote: the builder's own sheets with every line, and one page to give to a customer.

use super::length::capital;
use super::look;
use super::page::{Book, Frame, Page};
use super::tables;
use crate::drawing::table::{Cell, Row, Table};
use crate::drawing::words;
use crate::drawing::{Anchor, Face, Shape, Stroke, Weight};
use crate::quote::{Group, Line, Quote, ROUNDING, Rate};
use crate::rates::Rates;

/// The builder's sheets.
pub fn reckoning<'a>(book: &Book<'a>, quote: &Quote) -> Vec<Page<'a>> {
    let name = &book.plan.spec.name;
    let page = book.page("What she costs", &format!("{name}: the builder's own sheet"));
    let width = page.frame.width();
    let mut table = table(quote);
    for (column, share) in table.columns.iter_mut().zip([2.5, 1.15, 1.05, 1.15, 4.6]) {
        column.share = share;
    }
    let title = "What she costs, on";
    let mut pages = tables::over_pages(page, &table, || book.page(title, name));
    let mut notes = vec![ROUNDING.to_owned()];
    if !quote.left_out.is_empty() {
        notes.push(format!("In the plan and not in the sum. {}", quote.left_out.join(" ")));
    }
    notes.push(format!("Not in the plan, and in no line: {}.", quote.not_included.join(", ")));
    let style = look::BODY.size(3.5);
    for note in notes {
        let Some(mut page) = pages.pop() else { return pages };
        let tall = page.paragraph_height(width, style, &note) + 1.5;
        if page.frame.top + 3.0 + tall > page.frame.bottom {
            pages.push(page);
            page = book.page(title, name);
        }
        let at = [page.frame.left, page.frame.top + 3.0];
        page.frame.top = page.paragraph(at, width, style, &note) - 1.2;
        pages.push(page);
    }
    pages
}

fn table(quote: &Quote) -> Table {
    let money = |head: &str| tables::counts(&format!("{head}, {}", quote.currency), 1.0);
    let mut table = tables::table(
        vec![
            tables::text("what", 1.0),
            tables::counts("quantity", 1.0),
            money("rate"),
            money("sum"),
            tables::text("how it was reckoned", 1.0),
        ],
        6.2,
    );
    let figure = look::NUMBER.size(3.6).face(Face::Regular);
    for column in &mut table.columns[1..4] {
        column.style = figure;
    }
    table.columns[0].style = look::BODY.size(3.6);
    table.columns[4].style = look::NOTE;
    table.look.zebra = None;
    for group in Group::ALL {
        let lines: Vec<&Line> = quote.lines.iter().filter(|l| l.group == group).collect();
        if lines.is_empty() {
            continue;
        }
        table.stay.push(table.rows.len());
        table.rows.push(total(group.word(), &quote.group(group).to_string(), false));
        for line in lines {
            let (quantity, rate) = match line.rate {
                Rate::Each { quantity, rate } => {
                    (format!("{quantity} {}", line.unit).trim_end().to_owned(), rate.to_string())
                }
                Rate::Percent { of, .. } => (String::new(), format!("of {of}")),
            };
            table.rows.push(tables::row([line.what.clone(), quantity, rate, line.sum.to_string(), line.how.clone()]));
        }
    }
    if quote.lines.iter().any(|l| l.group == Group::Tax) {
        table.rows.push(total("All before tax", &quote.before_tax().to_string(), false));
    }
    table.rows.push(total("Total", &quote.total().to_string(), true));
    table
}

/// A row whose words and sum stand out; tinted as a head of lines is.
fn total(words: &str, sum: &str, last: bool) -> Row {
    let ground = Some(if last { look::WOOD } else { look::PAPER });
    let style = Some(look::NUMBER.size(if last { 4.2 } else { 3.8 }));
    let cell = |text: &str| Cell { text: text.to_owned(), style, ground, ..Cell::default() };
    Row { cells: vec![cell(words), cell(""), cell(""), cell(sum), cell("")] }
}

/// For dates and names, mm.
const SIGN: f64 = 32.0;

/// The customer's page, upright: what the whole costs, what is in it and what is not, and room to sign.
pub fn customer<'a>(book: &Book<'a>, rates: &Rates, quote: &Quote) -> Page<'a> {
    let spec = &book.plan.spec;
    let mut page = book.upright("Quotation");
    let Frame { left, right, .. } = page.frame;
    let width = right - left;
    let mut y = page.frame.top;
    for (i, line) in rates.builder.iter().enumerate() {
        let style = if i == 0 { look::HEAD } else { look::BODY.size(3.7) };
        y += if i == 0 { 4.0 } else { 5.0 };
        page.words_within([right, y], Anchor::Right, style, 0.8 * width, line);
    }
    y += if rates.builder.is_empty() { 12.0 } else { 16.0 };
    page.words([left, y], Anchor::Left, look::TITLE.size(11.0), "Quotation");
    let at = [right, y];
    let kind = if spec.kind.is_empty() { spec.name.clone() } else { format!("{}, {}", spec.name, spec.kind) };
    let room = width - page.width(look::TITLE.size(11.0), "Quotation") - 10.0;
    page.words_within(at, Anchor::Right, look::BODY.face(Face::Italic).size(5.0), room, &kind);
    page.rule(y + 4.0);
    y += 13.0;
    y = blanks(&mut page, [left, y], width, ["For", "Date"]) + 9.0;

    y = sums(&mut page, quote, [left, y], width) + 9.0;

    let bottom = page.frame.bottom - SIGN;
    let body = Frame { top: y, bottom, ..page.frame };
    let included = quote.included.join(" ");
    let not = format!(
        "{}. They can be had, and are priced when they are asked for.",
        capital(&quote.not_included.join(", "))
    );
    let terms = rates.terms.join(" ");
    let mut sections = vec![("What is included", included.as_str())];
    if !quote.not_included.is_empty() {
        sections.push(("What is not included", not.as_str()));
    }
    if !terms.is_empty() {
        sections.push(("Terms", terms.as_str()));
    }
    let size = page.prose_size(body, &sections).min(4.1);
    page.prose(body, size, &sections);
    let foot = page.frame.bottom - 12.0;
    for (i, who) in ["The builder, date", "The customer, date"].into_iter().enumerate() {
        let column = page.frame.column(i, 2, 14.0);
        page.line(vec![[column.left, foot], [column.right, foot]], look::THIN);
        page.words([column.left, foot + 4.6], Anchor::Left, look::NOTE, who);
    }
    page
}

/// Words, and a line to write on, two in a row; returns the lines' height.
fn blanks(page: &mut Page<'_>, at: [f64; 2], width: f64, words: [&str; 2]) -> f64 {
    let mut x = at[0];
    for (word, share) in words.into_iter().zip([0.66, 0.34]) {
        let end = x + share * width - if share > 0.5 { 8.0 } else { 0.0 };
        page.words([x, at[1]], Anchor::Left, look::BODY, word);
        let from = x + page.width(look::BODY, word) + 3.0;
        page.line(vec![[from, at[1] + 0.8], [end, at[1] + 0.8]], look::THIN);
        x += share * width;
    }
    at[1]
}

/// The groups' sums and the total in a box of its own; returns its bottom.
fn sums(page: &mut Page<'_>, quote: &Quote, at: [f64; 2], width: f64) -> f64 {
    let mut rows: Vec<(String, String)> = Vec::new();
    for group in [Group::Wood, Group::Fastenings, Group::Sundries, Group::Work, Group::Overhead] {
        if quote.lines.iter().any(|l| l.group == group) {
            rows.push((said(group).to_owned(), quote.group(group).to_string()));
        }
    }
    let taxes: Vec<&Line> = quote.lines.iter().filter(|l| l.group == Group::Tax).collect();
    if !taxes.is_empty() {
        rows.push(("Price before tax".to_owned(), quote.before_tax().to_string()));
    }
    rows.extend(taxes.iter().map(|l| (l.what.clone(), l.sum.to_string())));
    let [x, mut y] = at;
    let row = 8.4;
    page.words([x + width, y], Anchor::Right, look::NOTE.face(Face::Semibold), &quote.currency);
    y += 1.8;
    page.line(vec![[x, y], [x + width, y]], Stroke::solid(Weight::Thin, look::INK));
    for (i, (what, sum)) in rows.iter().enumerate() {
        let before = !taxes.is_empty() && i + taxes.len() + 1 == rows.len();
        let face = if before { Face::Semibold } else { Face::Regular };
        let style = look::BODY.size(4.4).face(face);
        let base = y + 0.66 * row;
        page.words_within([x + 1.5, base], Anchor::Left, style, 0.7 * width, what);
        page.words([x + width - 1.5, base], Anchor::Right, style, sum);
        y += row;
        page.line(vec![[x, y], [x + width, y]], look::RULE);
    }
    let tall = 12.0;
    let corners = vec![[x, y], [x + width, y], [x + width, y + tall], [x, y + tall]];
    page.put("ground", Shape::area(corners, look::WOOD, None));
    let style = look::NUMBER.size(6.0);
    let sum = format!("{} {}", quote.total(), quote.currency);
    page.words([x + 1.5, y + 8.1], Anchor::Left, style, "Price");
    let (style, sum) = words::within(page.t, style, 0.75 * width, &sum);
    page.words([x + width - 1.5, y + 8.1], Anchor::Right, style, &sum);
    y + tall
}

/// A group as a customer knows it.
fn said(group: Group) -> &'static str {
    match group {
        Group::Wood => "Wood for planking and timbers",
        Group::Fastenings => "Nails, roves and other fastenings",
        Group::Sundries => "Other materials and parts",
        Group::Work => "Work",
        Group::Overhead => "Shed and overheads",
        Group::Tax => "Tax",
    }
}
