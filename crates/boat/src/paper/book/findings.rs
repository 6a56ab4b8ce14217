//! What the builder should look at.

use super::length::degrees;
use super::look;
use super::page::{Book, Page};
use super::tables;
use crate::findings::Measure;

/// As many pages as there are findings for.
pub fn pages<'a>(book: &Book<'a>) -> Vec<Page<'a>> {
    let plan = book.plan;
    let beside = &plan.spec.name;
    let mut page = book.page("Findings", beside);
    let frame = page.frame;
    if plan.findings.is_empty() {
        let words =
            "Nothing was found that passes a limit. The limits are those of boat.toml and of common practice.";
        page.paragraph([frame.left, frame.top], frame.width(), look::BODY, words);
        return vec![page];
    }
    let words = "The plan went on in spite of these. Look at each before you cut wood.";
    page.frame.top = page.paragraph([frame.left, frame.top], frame.width(), look::BODY, words) + 1.0;
    let mut table = tables::table(
        vec![
            tables::text("where", 2.3),
            tables::numbers(book, "measured", 1.2),
            tables::numbers(book, "limit", 1.2),
            tables::text("what to do", 5.6),
        ],
        8.0,
    );
    for finding in &plan.findings {
        table.rows.push(tables::row([
            finding.place.clone(),
            measure(book, finding.measured),
            measure(book, finding.limit),
            finding.hint.clone(),
        ]));
    }
    tables::over_pages(page, &table, || book.page("Findings", beside))
}

fn measure(book: &Book<'_>, measure: Measure) -> String {
    match measure {
        Measure::Length(mm) if mm.abs() < 100.0 => book.len.fine_unit(mm),
        Measure::Length(mm) => book.len.short_unit(mm),
        Measure::Angle(radians) => degrees(radians),
        Measure::Count(n) => format!("{n:.0}"),
        Measure::Ratio(share) if share.abs() < 0.02 => format!("{:.2} ‰", share * 1000.0),
        Measure::Ratio(share) => format!("{:.0} %", share * 100.0),
    }
}
