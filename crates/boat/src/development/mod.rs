//! Laying a strake flat.
//!
//! Wood bends and twists and hardly stretches. A twisted strake has no true flat shape, so we lay its *neutral*
//! surface, half the thickness out from the inner face, flat with the least strain there is (`flatten`): the plank
//! cut to that outline and bent round has to stretch least. What strain is left is reported, with the twist and the
//! bend, which are what the builder must force or steam (`measure`).
//!
//! The outline is then turned so that the least board holds it (`board`), and marked out: the batten line, how far its
//! grain runs out, where to steam it (`marked_out`).
//!
//! Errors fall short by the chord of a bend between two rulings: under 0.01 mm over the whole edge on our example
//! boats.

pub mod board;
mod check;
pub mod flatten;
mod hood;
mod left_long;
mod marked;
pub mod measure;

use crate::geom::{Point, unit_or};
use crate::planks::Strake;

pub use check::{check, near, section_said, stretch};
pub use flatten::FlattenError;
pub use hood::hood_ends;
pub use left_long::{LeftLong, left_long};
pub(crate) use marked::batten;
pub use marked::{RunOut, marked_out, run_out};

/// A strake laid flat. x along the plank from the bow, y up towards the sheer, seen from outside on the port side.
/// y = 0 is the lower edge of the least board that holds the plank.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatPlank {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// Lower edge from the bow, mm.
    pub lower: Vec<[f64; 2]>,
    /// Upper edge from the bow, mm; as many points as `lower`, joined by rulings.
    pub upper: Vec<[f64; 2]>,
    /// Length of the least board, mm.
    pub length: f64,
    /// Width of the least board, mm.
    pub board_width: f64,
    /// The true end in a stem's rabbet ([`hood_ends`]).
    pub fore_hood: Option<HoodEnd>,
    /// The true end in a sternpost's rabbet.
    pub aft_hood: Option<HoodEnd>,
    /// Height over the board's lower edge of the batten line, which runs parallel to it, mm.
    pub batten: f64,
    /// Where the sections cross.
    pub stations: Vec<FlatStation>,
    /// Largest membrane strain left, as a share of one; at a garboard's hood it stands in a corner as big as a thumbnail.
    pub strain_max: f64,
    /// Strain that 99 hundredths of the plank stay below.
    pub strain_most: f64,
    /// How far the plank must be bent on the flat, mm over its length.
    pub edge_set: f64,
    /// Its round: how far the middle line of the flat plank bows from the straight line between its ends, mm, + towards the
    /// sheer. So much edge-set a straight strip would need.
    pub round: f64,
    /// How far its grain runs out, where the board's grain is straight.
    pub run_out: RunOut,
    /// Greatest twist, radians per mm.
    pub twist_max: f64,
    /// Least radius the plank is bent to across its face, mm; infinite where it is not bent.
    pub bend_radius_min: f64,
    /// Curvature across the face and twist at each ruling, 1/mm and radians per mm, both positive; 0 at the ends.
    pub bent: Vec<[f64; 2]>,
    /// Stretches of the plank too hard bent or twisted to go on cold: their first and last rulings. None until it is
    /// [`marked_out`].
    pub steam: Vec<[usize; 2]>,
    /// Area of the neutral surface, mm².
    pub area: f64,
}

/// A hood end laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct HoodEnd {
    /// The rabbet on the flat plank, from its lower corner to its upper one, mm.
    pub curve: Vec<[f64; 2]>,
    /// The same as offsets from the straight line between the corners: up that line, and beyond it (+ makes the plank
    /// longer), mm.
    pub offsets: Vec<[f64; 2]>,
    /// How far the rabbet stands off the plank's flat inner face where that is furthest, + outboard, mm.
    pub off_face: f64,
}

impl HoodEnd {
    /// Where the rabbet stands furthest off the straight line: up it, and beyond it, mm.
    #[must_use]
    pub fn most(&self) -> [f64; 2] {
        self.offsets.iter().copied().max_by(|a, b| a[1].abs().total_cmp(&b[1].abs())).unwrap_or_default()
    }

    /// How far the rabbet stands beyond the straight line, `up` it, mm.
    #[must_use]
    pub fn beyond(&self, up: f64) -> f64 {
        let span = self.offsets.windows(2).find(|w| w[0][0] <= up && up <= w[1][0]);
        span.map_or(0.0, |w| w[0][1] + (w[1][1] - w[0][1]) * (up - w[0][0]) / (w[1][0] - w[0][0]))
    }
}

/// Where a section crosses a flat plank.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatStation {
    /// Index into the plan's sections.
    pub section: usize,
    /// On the lower edge.
    pub lower: [f64; 2],
    /// On the upper edge.
    pub upper: [f64; 2],
}

/// Cells across a plank. On a twisted strip, four and sixteen give the same root mean square strain to a part in a
/// thousand; the peak at the edge reads a quarter low with four.
const CELLS_ACROSS: usize = 4;

/// The neutral surface of a strake as a grid `[ruling][0 lower … CELLS_ACROSS upper]`, mm.
#[must_use]
pub fn neutral_surface(strake: &Strake) -> Vec<Vec<Point>> {
    strake
        .rulings
        .iter()
        .map(|r| {
            (0..=CELLS_ACROSS)
                .map(|c| {
                    let v = c as f64 / CELLS_ACROSS as f64;
                    let normal = unit_or(r.lower_normal * (1.0 - v) + r.normal * v, r.normal);
                    r.lower + (r.upper - r.lower) * v + normal * (0.5 * strake.thickness)
                })
                .collect()
        })
        .collect()
}

/// Lays `strake` flat, its ends straight; [`hood_ends`] gives it true ones, [`marked_out`] its batten line.
///
/// # Errors
/// [`FlattenError`] where two rulings coincide or the search for the least strain does not settle.
pub fn unroll(strake: &Strake) -> Result<FlatPlank, FlattenError> {
    let surface = neutral_surface(strake);
    let flat = flatten::flatten(&surface).map_err(|why| why.of(strake.strake))?;
    let seat = board::seat(&flat.points);
    let lower: Vec<[f64; 2]> = seat.points.iter().map(|row| row[0]).collect();
    let upper: Vec<[f64; 2]> = seat.points.iter().map(|row| row[row.len() - 1]).collect();
    let stations = strake
        .at
        .iter()
        .map(|at| FlatStation { section: at.section, lower: lower[at.ruling], upper: upper[at.ruling] })
        .collect();
    let bent = measure::measure(&surface, &seat.points);
    Ok(FlatPlank {
        strake: strake.strake,
        lower,
        upper,
        length: seat.length,
        board_width: seat.width,
        fore_hood: None,
        aft_hood: None,
        batten: 0.0,
        stations,
        strain_max: flat.strain_max,
        strain_most: flat.strain_most,
        edge_set: bent.edge_set,
        round: 0.0,
        run_out: RunOut::default(),
        twist_max: bent.twist_max,
        bend_radius_min: 1.0 / bent.bend_max,
        bent: bent.at,
        steam: Vec::new(),
        area: flat.area,
    })
}
