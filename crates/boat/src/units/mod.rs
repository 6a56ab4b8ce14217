//! Millimetres inside; feet, inches and eighths are read and printed here and nowhere else.

/// What a bare number means, and how lengths are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Notation {
    /// Millimetres.
    Mm,
    /// Feet-inches-eighths, `1-3-4+`; short lengths print as inches and fractions.
    FeetInchesEighths,
    /// Inches and fractions, `15 9/16`.
    Inches,
}
