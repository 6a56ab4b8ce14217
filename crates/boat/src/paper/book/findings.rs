//! What the builder should look at.

use super::length::minus;
use super::look;
use super::page::{Book, Page};
use super::tables;

/// What the pages are called.
pub const TITLE: &str = "Findings";

/// As many pages as there are findings for; none where there are none, which the cover says.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    if plan.findings.is_empty() {
        return Vec::new();
    }
    let beside = &plan.spec.name;
    let mut page = book.page(TITLE, beside);
    let frame = page.frame;
    let words = "The plan went on in spite of these. Look at each before you cut wood.";
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, words) + 1.0;
    let mut table = tables::table(
        vec![
            tables::text("where", 2.1),
            tables::numbers(book.len, "measured", 1.6),
            tables::numbers(book.len, "limit", 1.0),
            tables::text("", 0.15),
            tables::text("what to do", 5.6),
        ],
        8.0,
    );
    for finding in &plan.findings {
        let figures = finding.figures(book.len.0).unwrap_or_default();
        let [measured, limit] = figures.map(minus);
        table.rows.push(tables::row([finding.place.clone(), measured, limit, String::new(), finding.hint.clone()]));
    }
    tables::over_pages(page, &table, || book.page(TITLE, beside))
}
