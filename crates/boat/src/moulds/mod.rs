//! The moulds.

/// A mould: the fair section at a station, of a thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Mould {
    /// The station's name.
    pub name: String,
    /// Index into the plan's sections.
    pub section: usize,
    /// Fore face, mm aft of the first station.
    pub fore: f64,
    /// After face, mm.
    pub aft: f64,
}
