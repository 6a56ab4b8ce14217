//! Planned against built: where the hung strakes lie, and what the rest gives up for it.

use super::look;
use super::page::{Book, Page};
use super::strake::short_name;
use super::tables;
use crate::drawing::table::{Cell, Row, Table};
use crate::hung::{Judged, Side, Standing};
use crate::lines::Section;

/// The head of every page.
const TITLE: &str = "Planned against built";
/// So many sections stand side by side; more go under them.
const ACROSS: usize = 13;
/// Least height of a row, mm.
const ROW: f64 = 6.6;
/// Size of running text, mm to the em: what there is to say stands under the tables, on the same page where it can.
const WORDS: f64 = 3.6;
/// Free between a table and what follows, mm.
const GAP: f64 = 7.0;

/// The pages of one side; one that says so where nothing of it has been read.
pub fn pages<'a>(book: &Book<'a>, side: Side, standing: Option<&Standing>) -> Vec<Page<'a>> {
    let beside = format!("{}, {} side", book.plan.spec.name, side.word());
    let mut pages = vec![book.page(TITLE, &beside)];
    let Some(standing) = standing.filter(|s| s.hung > 0) else {
        add_words(book, &mut pages, &beside, "Nothing read", "No strake of this side has been measured yet.");
        return pages;
    };
    let n = book.plan.strakes.len();
    let hung = format!("Hung: {} of {n} strakes. How far each lies above its planned mark", standing.hung);
    for part in parts(&standing.plan.sections) {
        add_table(book, &mut pages, &beside, &hung, &built(book, standing, part.clone()));
    }
    let to_come = if standing.hung < n {
        "To come: what each strake shows more than planned, and where the sheer comes to lie"
    } else {
        "The sheer against its design line"
    };
    for part in parts(&standing.plan.sections) {
        add_table(book, &mut pages, &beside, to_come, &rest(book, standing, part.clone()));
    }
    for again in &standing.again {
        add_words(book, &mut pages, &beside, "To be read again", &again.said(book.plan.spec.lengths));
    }
    add_words(book, &mut pages, &beside, "How to read it", &how_to_read(book, standing.hung < n));
    pages
}

fn how_to_read(book: &Book<'_>, to_come: bool) -> String {
    let rest = if to_come {
        " The strakes to come are lined again on what hangs, with the least change: cut them by the cards printed with these \
         readings, not by earlier ones. As planned is where the sheer would come to lie if they were cut as first planned."
    } else {
        ""
    };
    format!(
        "{} Up is +. In brackets: not read there, but taken from the readings beside it. With ! a limit is passed, or \
         neighbours show unlike by more than {}, against the plan; with ? they do by more than {}.{rest}",
        book.len.how_to_read(),
        book.len.fine_unit(crate::hung::judge::SEEN),
        book.len.fine_unit(crate::hung::judge::WATCH)
    )
}

/// Sections, as many together as stand side by side.
fn parts(sections: &[Section]) -> Vec<std::ops::Range<usize>> {
    (0..sections.len()).step_by(ACROSS).map(|from| from..(from + ACROSS).min(sections.len())).collect()
}

fn columns(book: &Book<'_>, sections: &[Section], first: &str) -> Table {
    let mut columns = vec![tables::names(first, 2.0)];
    columns.extend(sections.iter().map(|s| tables::numbers(book.len, &short_name(&s.name), 1.0)));
    tables::table(columns, ROW)
}

/// How far each hung land lies above its planned mark.
fn built(book: &Book<'_>, standing: &Standing, part: std::ops::Range<usize>) -> Table {
    let mut table = columns(book, &standing.plan.sections[part.clone()], "strake");
    for strake in 1..=standing.hung {
        let mut row: Row = tables::row([strake.to_string()]);
        for mark in standing.marks.iter().filter(|m| m.strake == strake && part.contains(&m.section)) {
            let off = book.len.fine_signed(mark.built - mark.planned);
            let off = if mark.read { off } else { format!("({off})") };
            let (text, ground) = match mark.judged {
                Judged::Fine => (off, None),
                Judged::Watch => (format!("{off} ?"), None),
                Judged::Matters => (format!("{off} !"), Some(look::COPPER_TINT)),
            };
            row.cells.push(Cell { text, ground, ..Cell::default() });
        }
        table.rows.push(row);
    }
    table
}

/// What the strakes to come show more than planned, and the sheer.
fn rest(book: &Book<'_>, standing: &Standing, part: std::ops::Range<usize>) -> Table {
    let mut table = columns(book, &standing.plan.sections[part.clone()], "strake");
    let forecast = &standing.forecast;
    let mut push = |name: String, by: &[f64]| {
        let off = by[part.clone()].iter().map(|by| book.len.fine_signed(*by));
        table.rows.push(tables::row([name].into_iter().chain(off)));
    };
    for strake in &forecast.strakes {
        push(strake.strake.to_string(), &strake.by);
    }
    if standing.hung < book.plan.strakes.len() {
        push("sheer, as planned".to_owned(), &forecast.as_planned);
        push("sheer, lined again".to_owned(), &forecast.lined_again);
    } else {
        push("sheer".to_owned(), &forecast.as_planned);
    }
    table
}

/// Under what stands on the last page, or on a new one where it has no room.
fn room_for<'a>(book: &Book<'a>, pages: &mut Vec<Page<'a>>, beside: &str, needed: f64) -> Page<'a> {
    match pages.pop() {
        Some(page) if page.frame.height() >= needed => page,
        last => {
            pages.extend(last);
            book.page(TITLE, beside)
        }
    }
}

fn add_table<'a>(book: &Book<'a>, pages: &mut Vec<Page<'a>>, beside: &str, head: &str, table: &Table) {
    let mut table = table.clone();
    let width = pages.last().map_or(0.0, |page| page.frame.width());
    tables::fit(book.t, &mut table, width);
    let needed = table.height(book.t, width) + 2.0 * look::HEAD.size;
    let whole = book.page(TITLE, beside).frame.height();
    let mut page = room_for(book, pages, beside, needed.min(whole));
    page.frame.top = page.head([page.frame.left, page.frame.top], head);
    let drawn = tables::over_pages(page, &table, || book.page(TITLE, beside));
    pages.extend(drawn);
    if let Some(page) = pages.last_mut() {
        page.frame.top += GAP;
    }
}

fn add_words<'a>(book: &Book<'a>, pages: &mut Vec<Page<'a>>, beside: &str, head: &str, words: &str) {
    let sections = [(head, words)];
    let width = pages.last().map_or(0.0, |page| page.frame.width());
    let needed = pages.last().map_or(0.0, |page| page.prose_height(width, WORDS, &sections));
    let mut page = room_for(book, pages, beside, needed);
    let frame = page.frame;
    page.prose(frame, WORDS, &sections);
    page.frame.top += needed + 0.5 * GAP;
    pages.push(page);
}
