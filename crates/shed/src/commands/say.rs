//! Values in words for the terminal.

use boat::findings::Finding;
use boat::units::Notation;

/// A finding on a line of its own.
pub fn finding(f: &Finding, lengths: Notation) -> String {
    let figures =
        f.figures(lengths).map_or_else(String::new, |[measured, limit]| format!("{measured} (limit {limit}): "));
    format!("{}: {}: {figures}{}\n", f.stage.word(), f.place, f.hint)
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
