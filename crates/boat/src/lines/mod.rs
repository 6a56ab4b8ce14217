//! The fair skin and every view of it.
//!
//! The table gives scattered points of the skin, rounded, and now and then wrong. Fairing moves them, each by no
//! more than a stated tolerance square to the skin, so that the long lines *and* the sections together bend least
//! (`fairing`). Through the fair points of each station goes one fair section; the stem rabbet and the transom or
//! sternpost are sections too (`sections`). A plan drawn to the outside is brought in by the plank's thickness along
//! the true normal (`inside`), so that the skin is always the inside of the planking: the shape of the moulds.
//!
//! Frame: x aft from the first station, y outboard, z up from base; mm; one side.
//! Cannot do: sections below the rabbet (a hollow keel), half-breadths that pass the centreline.

mod across;
mod check;
pub mod crossing;
mod energy;
mod exchanged;
pub mod fairing;
pub mod fairness;
pub mod inside;
mod joint;
mod least;
mod line;
mod misprints;
mod problem;
pub mod profile;
pub mod sections;
mod witness;

use crate::findings::Finding;
use crate::geom::arc::ArcCurve;
use crate::geom::{Point, Vector};
use crate::offsets::{Cell, Row, Station, StationAt, Table, Values};
use crate::spec::{DrawnTo, EndSpec, Spec};
use fairness::Fairness;
use profile::{AT_END, Ends};

pub use problem::LinesError;

/// One row of the table after fairing.
#[derive(Debug, Clone, PartialEq)]
pub struct FairRow {
    /// One for each station; `None` where the table had nothing.
    pub cells: Vec<Option<FairCell>>,
}

/// One entry after fairing.
#[derive(Debug, Clone, PartialEq)]
pub struct FairCell {
    /// The fair value in the table's own measure (to the face the plan was drawn to), mm.
    pub fair: f64,
    /// Fair less given, mm.
    pub change: f64,
    /// The fair skin passes further off than the tolerance: look at this entry.
    pub suspect: bool,
    /// What the entry should probably say, in the table's notation; `None` where it may as well be another entry that
    /// is wrong.
    pub reads_like: Option<String>,
    /// Those others, as row and station.
    pub or: Vec<String>,
    /// Not doubtful enough to be set aside, but the first to look at if anything is wrong.
    pub look_first: bool,
    /// Where the rest of the table would have an entry that is doubtful or worth a look, mm.
    pub expected: Option<f64>,
    /// The slip that would make what it should say into what it says, in plain words: "a digit lost".
    pub why: Option<String>,
}

impl FairCell {
    /// The likeliest cause of a doubt, to follow what the entry says and where the fair skin passes; empty for an entry
    /// that is not doubtful.
    #[must_use]
    pub fn likely(&self) -> String {
        match (&self.reads_like, &self.or[..]) {
            (Some(reads), _) => {
                let why = self.why.as_ref().map_or_else(String::new, |why| format!(" ({why})"));
                format!("; it should probably say {reads}{why}")
            }
            (None, []) => String::new(),
            (None, or) => format!("; or else one of these is wrong: {}", or.join("; ")),
        }
    }
}

/// Where a section of the skin is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SectionAt {
    /// The rabbet of the stem or sternpost.
    Post,
    /// A station plane; the index is into `Table::stations`.
    Station(usize),
    /// The transom's outer face.
    Transom,
    /// A bow transom's outer face.
    BowTransom,
}

impl SectionAt {
    /// A transom, at either end.
    #[must_use]
    pub fn is_transom(self) -> bool {
        matches!(self, SectionAt::Transom | SectionAt::BowTransom)
    }
}

/// A section of the fair skin, inside of planking, from the rabbet to the sheer.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// `stem`, a station's name, `transom` or `sternpost`.
    pub name: String,
    /// Where it is taken.
    pub at: SectionAt,
    /// Dense points from rabbet to sheer, mm.
    pub points: Vec<Point>,
    /// Length along the section from rabbet to sheer, mm.
    pub girth: f64,
}

impl Section {
    /// It in the builder's words: `station 3`, `stem`, `transom`.
    #[must_use]
    pub fn place(&self) -> String {
        match self.at {
            SectionAt::Station(_) => format!("station {}", self.name),
            SectionAt::Post | SectionAt::Transom | SectionAt::BowTransom => self.name.clone(),
        }
    }
}

/// The section that is broadest at the sheer: those before it are drawn to the one side of a body plan, those behind to the other.
#[must_use]
pub fn fullest(sections: &[Section]) -> usize {
    let broad = |j: &usize| sections[*j].points.last().map_or(0.0, |p| p.y);
    (0..sections.len()).max_by(|a, b| broad(a).total_cmp(&broad(b))).unwrap_or_default()
}

/// The skin: its sections from bow to stern, each a curve from rabbet to sheer.
#[derive(Debug, Clone, PartialEq)]
pub struct Skin {
    /// The curves, mm.
    pub curves: Vec<ArcCurve<3>>,
    /// What each is.
    pub sections: Vec<Section>,
}

impl Skin {
    /// Section `j` in the builder's words: `station 3`, `stem`, `transom`.
    #[must_use]
    pub fn place(&self, j: usize) -> String {
        self.sections[j].place()
    }

    /// Length of section `j` from rabbet to sheer, mm.
    #[must_use]
    pub fn girth(&self, j: usize) -> f64 {
        self.curves[j].length()
    }

    /// Point of section `j` at the share `s` (0 rabbet, 1 sheer) of its girth.
    #[must_use]
    pub fn at(&self, j: usize, s: f64) -> Point {
        Point::from(self.curves[j].at(s * self.girth(j)))
    }

    /// Unit tangent there, up the section.
    #[must_use]
    pub fn tangent(&self, j: usize, s: f64) -> Vector {
        Vector::from(self.curves[j].tangent(s * self.girth(j)))
    }
}

/// Distance of `p` aft of the plane of section `at`, or of a transom's face, mm along x; `None` for a post.
#[must_use]
pub fn aft_of_plane(at: SectionAt, table: &Table, spec: &Spec, p: &Point) -> Option<f64> {
    let aft_of = |end: &EndSpec| if let EndSpec::Transom(t) = end { Some(p.x - t.x_at(p.y, p.z)) } else { None };
    match at {
        SectionAt::Station(i) => match table.stations[i].at {
            StationAt::Square(x) => Some(p.x - x),
            StationAt::Transom | StationAt::BowTransom => None,
        },
        SectionAt::Transom => aft_of(&spec.aft),
        SectionAt::BowTransom => aft_of(&spec.fore),
        SectionAt::Post => None,
    }
}

/// The table faired and the skin through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Lines {
    /// One row for each row of the table.
    pub fair: Vec<FairRow>,
    /// How fair each line runs, and how far each view was moved.
    pub fairness: Fairness,
    /// The skin to the inside of the planking.
    pub skin: Skin,
    /// The entries were weighed one by one; not so where two rows or stations look exchanged.
    pub weighed: bool,
    /// The doubtful entries, one by one.
    pub doubts: Vec<Finding>,
    /// What else to look at.
    pub findings: Vec<Finding>,
}

impl Lines {
    /// `text`, the offsets.csv that `table` was read from, with its entries fair: in place of it the same skin comes of it
    /// but for rounding. Comments over it say that it is not as printed, and which entries were doubted.
    #[must_use]
    pub fn corrected(&self, text: &str, table: &Table, spec: &Spec) -> String {
        let lengths = spec.lengths;
        let mut notes = vec![format!(
            "{}: her table faired within {}, rounded to {}; not as printed.",
            spec.name,
            lengths.said(spec.lines.fair_within),
            lengths.said(lengths.unit_of_table())
        )];
        if !self.weighed {
            let look =
                "Two rows or stations look exchanged, so that no entry was weighed and none of this is to be trusted";
            notes.push(format!("{look}: see strakewise check."));
        }
        let doubted = entries(table, &self.fair).filter(|e| e.fair.suspect);
        notes.extend(doubted.map(|e| format!("Doubted: {}, printed {}.", e.place(), e.cell.text)));
        crate::offsets::corrected(text, table, lengths, &notes, |r, c| {
            Some(self.fair.get(r)?.cells.get(c)?.as_ref()?.fair)
        })
    }
}

/// One entry of the table and what became of it.
struct Entry<'a> {
    row: &'a Row,
    station: &'a Station,
    cell: &'a Cell,
    fair: &'a FairCell,
}

impl Entry<'_> {
    fn place(&self) -> String {
        format!("{}, station {}", self.row.name, self.station.name)
    }
}

/// The entries of `table`, row by row.
fn entries<'a>(table: &'a Table, fair: &'a [FairRow]) -> impl Iterator<Item = Entry<'a>> {
    table.rows.iter().zip(fair).flat_map(|(row, faired)| {
        let cells = table.stations.iter().zip(row.cells.iter().zip(&faired.cells));
        cells.filter_map(move |(station, (cell, fair))| {
            Some(Entry { row, station, cell: cell.as_ref()?, fair: fair.as_ref()? })
        })
    })
}

/// The fair entries by row and column, mm.
fn values(fair: &[FairRow]) -> Values {
    fair.iter().map(|r| r.cells.iter().map(|c| c.as_ref().map(|c| c.fair)).collect()).collect()
}

/// Points kept on each section for drawing.
const DENSE: usize = 96;

/// Fairs `table` and lays the skin through it.
///
/// # Errors
/// [`LinesError`] names the station, row or end through which nothing passes.
pub fn fair(table: &Table, spec: &Spec) -> Result<Lines, LinesError> {
    let ends = Ends::new(spec)?;
    beyond(table, spec)?;
    let stations = ends.sections_between(table)?;
    let exchanged = if spec.lines.fair_within > 0.0 { exchanged::exchanged(table, spec, &ends)? } else { None };
    let faired = fairing::fair(table, spec, &ends, &stations, exchanged.is_none())?;
    let fairness = fairness::fairness(table, spec, &ends, &stations, &faired);
    let mut curves = sections::curves(table, spec, &ends, &stations, &faired)?;
    let mut kinds = vec![(spec.fore.word(false).to_string(), ends.fore_kind())];
    kinds.extend(stations.iter().map(|&i| (table.stations[i].name.clone(), SectionAt::Station(i))));
    kinds.push((spec.aft.word(true).to_string(), ends.aft_kind()));
    if spec.lines.drawn_to == DrawnTo::Outside {
        curves = inside::bring_in(&curves, &kinds, table, spec)?;
    }
    let sections = kinds.into_iter().zip(&curves).map(|((name, at), c)| Section {
        name,
        at,
        points: (0..=DENSE).map(|i| Point::from(c.at(c.length() * i as f64 / DENSE as f64))).collect(),
        girth: c.length(),
    });
    let sections = sections.collect();
    let weighed = exchanged.is_none();
    let skin = Skin { curves, sections };
    let doubts = check::doubts(table, spec, &faired);
    let findings = check::findings(table, spec, &ends, &faired, &skin, exchanged);
    Ok(Lines { fair: faired, fairness, skin, weighed, doubts, findings })
}

/// How far each entry may lie off what all the others say, one standard deviation as learnt from the table, mm. A slip
/// of less than some three of these cannot be told.
///
/// # Errors
/// As [`fair`].
pub fn spreads(table: &Table, spec: &Spec) -> Result<Vec<Vec<Option<f64>>>, LinesError> {
    let ends = Ends::new(spec)?;
    let stations = ends.sections_between(table)?;
    joint::spreads(&fairing::View { table, spec, ends: &ends }, &stations, &table.values())
}

/// A station that stands beyond either end.
fn beyond(table: &Table, spec: &Spec) -> Result<(), LinesError> {
    for (aft, end) in [(false, &spec.fore), (true, &spec.aft)] {
        let xs: Vec<f64> = match end {
            EndSpec::Post(post) => post.rabbet.iter().map(|p| p[0]).collect(),
            EndSpec::Transom(t) => vec![t.foot[0], t.head[0]],
        };
        let furthest =
            if aft { xs.iter().fold(f64::MIN, |m, &x| m.max(x)) } else { xs.iter().fold(f64::MAX, |m, &x| m.min(x)) };
        for station in &table.stations {
            let StationAt::Square(x) = station.at else { continue };
            if if aft { x > furthest + AT_END } else { x < furthest - AT_END } {
                return Err(LinesError::Beyond {
                    station: station.name.clone(),
                    x_mm: x,
                    end: end.word(aft),
                    end_mm: furthest,
                });
            }
        }
    }
    Ok(())
}
