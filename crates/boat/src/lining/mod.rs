//! Lining off: the land lines, and the mark each makes on each mould.
//!
//! Land line k is the fair curve through its marks (the rabbet, land 0, one that does not overshoot); a mark is a share
//! `u` of the girth of its section. Without pins the marks are proposed (`propose`); a pinned mark stays where the
//! builder put it and the others follow.

pub mod again;
mod descent;
mod looks;
mod loss;
mod pins;
mod problem;
pub mod propose;
pub mod sweet;
pub(crate) mod wishes;

pub use loss::Weights;
pub use pins::pinned_near;
pub use problem::LiningError;
pub use wishes::Limits;

use crate::geom::fair::{FairCurve, FairError};
use crate::geom::{Point, monotone};
use crate::lines::Skin;
use loss::Marks;

/// A land line: the upper inner edge of a strake on the moulds. 0 is the rabbet, n the sheer.
#[derive(Debug, Clone, PartialEq)]
pub struct LandLine {
    /// 0 (rabbet) to n (sheer).
    pub land: usize,
    /// Dense points from the bow, mm.
    pub points: Vec<Point>,
}

/// Where a land line crosses a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// 0 (rabbet) to n (sheer).
    pub land: usize,
    /// Index into the plan's sections.
    pub section: usize,
    /// Along the mould from the rabbet, mm.
    pub girth: f64,
    /// In space, mm.
    pub at: Point,
    /// The builder pinned it in `marks.csv`.
    pub pinned: bool,
}

/// A mark the builder has pinned.
#[derive(Debug, Clone, PartialEq)]
pub struct Pinned {
    /// Land, 1 to n−1.
    pub land: usize,
    /// Index into the skin's sections.
    pub section: usize,
    /// Along the mould from the rabbet, mm.
    pub girth: f64,
    /// Line of `marks.csv`, for messages.
    pub line: usize,
}

/// All land lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Lands {
    /// Share of the girth of each mark: `[land][section]`.
    pub u: Vec<Vec<f64>>,
    /// The lines.
    pub curves: Vec<LandCurve>,
    /// Which marks were pinned: `[land][section]`.
    pub pinned: Vec<Vec<bool>>,
    /// How far the section turns inboard at each land from one strake to the next, near enough, radians: `[land][section]`.
    pub turn: Vec<Vec<f64>>,
    /// Rounds of the search that found them.
    pub rounds: usize,
}

/// A land line as a curve.
#[derive(Debug, Clone, PartialEq)]
pub struct LandCurve {
    /// In space, mm.
    pub curve: FairCurve<3>,
    /// Its parameter at each section.
    pub at_section: Vec<f64>,
}

impl LandCurve {
    /// The fair curve through the marks.
    fn land(marks: &[[f64; 3]]) -> Result<Self, FairError> {
        let curve = FairCurve::by_chords(marks)?;
        Ok(LandCurve { at_section: curve.knots().to_vec(), curve })
    }

    /// The rabbet: it turns hard from the keel's into the stem's, where a fair curve would swing past.
    fn rabbet(marks: &[[f64; 3]]) -> Result<Self, FairError> {
        // The check that the marks stand apart is the fair curve's.
        let knots = FairCurve::by_chords(marks)?.knots().to_vec();
        let dense = monotone::dense(&knots, marks, RABBET_PIECES);
        let curve = FairCurve::by_chords(&dense)?;
        let at_section = curve.knots().iter().copied().step_by(RABBET_PIECES).collect();
        Ok(LandCurve { curve, at_section })
    }

    /// Parameters between the sections, `pieces` from each to the next, and the last section's. Their spacing changes
    /// without a jump: rulings that did would crease the plank's face.
    #[must_use]
    pub fn parameters(&self, pieces: usize) -> Vec<f64> {
        monotone::steady(&self.at_section, pieces)
    }
}

/// Points drawn between two sections.
const DENSE: usize = 8;
/// Points of the rabbet between two sections.
const RABBET_PIECES: usize = 16;

impl Lands {
    /// Lines through the marks at shares `u` of the girths.
    ///
    /// # Errors
    /// [`LiningError::Line`] where two marks of a land coincide.
    pub fn through(skin: &Skin, u: Vec<Vec<f64>>, pinned: Vec<Vec<bool>>) -> Result<Self, LiningError> {
        let mut curves = Vec::with_capacity(u.len());
        for (land, shares) in u.iter().enumerate() {
            let marks: Vec<[f64; 3]> = shares.iter().enumerate().map(|(j, &s)| skin.at(j, s).into()).collect();
            let curve = if land == 0 { LandCurve::rabbet(&marks) } else { LandCurve::land(&marks) };
            curves.push(curve.map_err(|why| LiningError::Line { land, why })?);
        }
        Ok(Lands { turn: vec![vec![0.0; skin.curves.len()]; u.len()], u, curves, pinned, rounds: 0 })
    }

    /// Lines through `marks`, with how far each section turns at them.
    fn lined(skin: &Skin, marks: &Marks, pinned: Vec<Vec<bool>>, limits: &Limits) -> Result<Self, LiningError> {
        let shares = |row: &Vec<f64>| row.iter().enumerate().map(|(j, s)| s / skin.girth(j)).collect();
        let mut lands = Lands::through(skin, marks.girths.iter().map(shares).collect(), pinned)?;
        for j in 0..skin.curves.len() {
            for turn in loss::turns(marks, j, limits) {
                lands.turn[turn.land][j] = turn.angle;
            }
        }
        Ok(lands)
    }

    /// How many strakes lie between the lands.
    #[must_use]
    pub fn strakes(&self) -> usize {
        self.u.len() - 1
    }

    /// The marks along the moulds from the rabbet, mm: `[land][section]`.
    #[must_use]
    pub fn girths(&self, skin: &Skin) -> Vec<Vec<f64>> {
        let row = |row: &Vec<f64>| row.iter().enumerate().map(|(j, u)| u * skin.girth(j)).collect();
        self.u.iter().map(row).collect()
    }

    /// The lands as dense points.
    #[must_use]
    pub fn lines(&self) -> Vec<LandLine> {
        let dense = |c: &LandCurve| c.parameters(DENSE).into_iter().map(|t| Point::from(c.curve.at(t))).collect();
        self.curves.iter().enumerate().map(|(land, c)| LandLine { land, points: dense(c) }).collect()
    }

    /// The marks, land by land, from the bow.
    #[must_use]
    pub fn marks(&self, skin: &Skin) -> Vec<Mark> {
        let mut marks = Vec::new();
        for (land, shares) in self.u.iter().enumerate() {
            for (section, &s) in shares.iter().enumerate() {
                marks.push(Mark {
                    land,
                    section,
                    girth: s * skin.girth(section),
                    at: skin.at(section, s),
                    pinned: self.pinned[land][section],
                });
            }
        }
        marks
    }
}
