//! Values in words for the screen.

use boat::findings::{Finding, Measure};
use boat::units::Notation;

/// A measured value with its unit.
pub fn measure(m: Measure, lengths: Notation) -> String {
    match m {
        Measure::Length(mm) => lengths.said(mm),
        Measure::Angle(radians) => format!("{:.1}°", radians.to_degrees()),
        Measure::Count(n) => format!("{n:.0}"),
        Measure::Ratio(r) => format!("{:.2} %", r * 100.0),
    }
}

/// A finding on a line of its own.
pub fn finding(f: &Finding, lengths: Notation) -> String {
    let (measured, limit) = (measure(f.measured, lengths), measure(f.limit, lengths));
    format!("{}: {}: {measured} (limit {limit}): {}\n", f.stage.word(), f.place, f.hint)
}

/// `1 rivet`, `2 rivets`.
pub fn count(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

/// Columns of text: the first set left, the others right.
pub fn columns(rows: &[Vec<String>]) -> String {
    let width = |c: usize| rows.iter().filter_map(|r| r.get(c)).map(|t| t.chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..rows.iter().map(Vec::len).max().unwrap_or(0)).map(width).collect();
    let mut text = String::new();
    for row in rows {
        let cells =
            row.iter().zip(&widths).enumerate().map(|(c, (cell, &width))| {
                if c == 0 { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
            });
        text.push_str(cells.collect::<Vec<_>>().join("  ").trim_end());
        text.push('\n');
    }
    text
}
