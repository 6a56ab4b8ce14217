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

pub mod crossing;
mod energy;
mod exchanged;
pub mod fairing;
pub mod fairness;
pub mod inside;
mod joint;
mod line;
mod misprints;
pub mod profile;
pub mod sections;
mod witness;

use crate::findings::{Finding, Measure, Stage};
use crate::geom::arc::ArcCurve;
use crate::geom::fair::{FairCurve, FairError};
use crate::geom::{Point, Vector};
use crate::offsets::{Row, StationAt, Table, Values};
use crate::spec::{DrawnTo, EndSpec, Spec};
use fairness::Fairness;
use profile::Ends;

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

/// Why no skin passes.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LinesError {
    /// Not enough stations between the ends of the keel rabbet.
    #[error(
        "offsets.csv: {found} stations stand between the fore-foot ({fore_mm:.0} mm) and the after end of the rabbet \
         ({aft_mm:.0} mm); a skin needs 3 or more: check the station spacing and the stem and transom in boat.toml"
    )]
    TooFewStations {
        /// Stations between.
        found: usize,
        /// Fore-foot, mm aft of the first station.
        fore_mm: f64,
        /// After end, mm aft of the first station.
        aft_mm: f64,
    },
    /// A station stands beyond the boat.
    #[error(
        "offsets.csv: station {station} stands {x_mm:.0} mm aft of the first, beyond the {end}, which ends at \
         {end_mm:.0} mm: check the spacing of the stations (lines.spacing, or the row \"at\") and the {end} in boat.toml"
    )]
    Beyond {
        /// The station.
        station: String,
        /// Where it stands, mm aft of the first.
        x_mm: f64,
        /// `stem`, `sternpost` or `transom`.
        end: &'static str,
        /// The end's furthest point, mm aft of the first station.
        end_mm: f64,
    },
    /// An end's rabbet cannot be drawn.
    #[error("boat.toml: {end}: its profile cannot be drawn: {why}")]
    End {
        /// `stem`, `sternpost` or `transom`.
        end: &'static str,
        /// What is wrong and what to do.
        why: String,
    },
    /// A section cannot be drawn.
    #[error("offsets.csv: station {station}: no section passes through its entries: {why}; check the entries there")]
    Section {
        /// The station.
        station: String,
        /// Why.
        why: FairError,
    },
    /// A line cannot be drawn.
    #[error("offsets.csv: row \"{row}\": no line passes through its entries: {why}; check the entries there")]
    Line {
        /// The row.
        row: String,
        /// Why.
        why: FairError,
    },
    /// The rabbet height is missing where it cannot be found from its neighbours.
    #[error("offsets.csv: row \"height rabbet\" has {found} entries; 2 or more are needed to draw the rabbet")]
    NoRabbet {
        /// Entries found.
        found: usize,
    },
    /// The fairing did not come to an end.
    #[error(
        "offsets.csv: the lines could not be faired within {within_mm} mm ({status}); allow more in boat.toml under \
         lines.fair_within, or look for a wrong entry"
    )]
    NotFaired {
        /// The tolerance, mm.
        within_mm: f64,
        /// What the solver said.
        status: String,
    },
    /// The skin folds on itself when brought in by the plank's thickness.
    #[error("station {station}: the inside of the planking cannot be found ({why}); is the plank too thick for her?")]
    Inside {
        /// The station or end.
        station: String,
        /// Why.
        why: FairError,
    },
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
        for (row, fair) in table.rows.iter().zip(&self.fair) {
            for ((station, cell), fair) in table.stations.iter().zip(&row.cells).zip(&fair.cells) {
                let (Some(cell), Some(_)) = (cell, fair.as_ref().filter(|f| f.suspect)) else { continue };
                notes.push(format!("Doubted: {}, station {}, printed {}.", row.name, station.name, cell.text));
            }
        }
        crate::offsets::corrected(text, table, lengths, &notes, |r, c| {
            Some(self.fair.get(r)?.cells.get(c)?.as_ref()?.fair)
        })
    }
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
    let doubts = suspects(table, spec, &faired);
    let mut findings = backbone(spec);
    findings.extend(look_first(table, spec, &faired));
    findings.extend(missing(table, spec, &ends, &faired));
    findings.extend(exchanged);
    findings.extend(table.rows.iter().zip(&faired).filter_map(|(row, fair)| wrong_row(row, fair)));
    if weighed {
        findings.extend(below_rabbet(&skin, spec));
        findings.extend(crossing::crossing(&skin, spec));
    }
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

fn suspects(table: &Table, spec: &Spec, fair: &[FairRow]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (row, faired) in table.rows.iter().zip(fair) {
        for ((station, cell), fair) in table.stations.iter().zip(&row.cells).zip(&faired.cells) {
            let (Some(cell), Some(fair)) = (cell, fair) else { continue };
            if fair.suspect {
                findings.push(Finding {
                    stage: Stage::Lines,
                    place: format!("{}, station {}", row.name, station.name),
                    measured: Measure::Length(fair.change.abs()),
                    limit: Measure::Length(spec.lines.fair_within),
                    hint: format!(
                        "offsets.csv line {}, cell {} says {} but the fair skin passes at {}{}. Check the plan",
                        cell.line,
                        cell.column,
                        cell.text,
                        spec.lengths.long(fair.fair),
                        fair.likely()
                    ),
                });
            }
        }
    }
    findings
}

/// Entries not doubtful enough to be set aside.
fn look_first(table: &Table, spec: &Spec, fair: &[FairRow]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (row, faired) in table.rows.iter().zip(fair) {
        for ((station, cell), fair) in table.stations.iter().zip(&row.cells).zip(&faired.cells) {
            let (Some(cell), Some(fair)) = (cell, fair) else { continue };
            let Some(expected) = fair.expected.filter(|_| fair.look_first) else { continue };
            findings.push(Finding {
                stage: Stage::Lines,
                place: format!("{}, station {}", row.name, station.name),
                measured: Measure::Length((expected - cell.mm).abs()),
                limit: Measure::Length(spec.lines.fair_within),
                hint: format!(
                    "look at this entry first, if anything is wrong: offsets.csv line {}, cell {} says {} and the rest of \
                     the table would have {}{}. It was kept as it is",
                    cell.line,
                    cell.column,
                    cell.text,
                    spec.lengths.long(expected),
                    fair.likely()
                ),
            });
        }
    }
    findings
}

/// Gaps in a row with an entry on either side.
fn missing(table: &Table, spec: &Spec, ends: &Ends, fair: &[FairRow]) -> Vec<Finding> {
    let values: Values = fair.iter().map(|r| r.cells.iter().map(|c| c.as_ref().map(|c| c.fair)).collect()).collect();
    let mut findings = Vec::new();
    for (r, row) in table.rows.iter().enumerate() {
        let (knots, heights): (Vec<f64>, Vec<[f64; 1]>) =
            line::line(table, spec, ends, r, &values).points.iter().map(|p| (p.x, [p.value])).unzip();
        let Ok(curve) = FairCurve::through(&knots, &heights) else { continue };
        for (c, cells) in row.cells.windows(3).enumerate() {
            let station = &table.stations[c + 1];
            let ([Some(before), None, Some(_)], StationAt::Square(x)) = (cells, station.at) else { continue };
            findings.push(Finding {
                stage: Stage::Lines,
                place: format!("{}, station {}", row.name, station.name),
                measured: Measure::Count(1.0),
                limit: Measure::Count(0.0),
                hint: format!(
                    "offsets.csv has no entry there, though there is one on either side (the one before it in line {}); \
                     the fair line passes at {}. Look for it on the plan",
                    before.line,
                    spec.lengths.long(curve.at(x)[0])
                ),
            });
        }
    }
    findings
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
            if if aft { x > furthest + 1.0 } else { x < furthest - 1.0 } {
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

/// Dents in the typed rabbets of stem and sternpost.
fn backbone(spec: &Spec) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (end, aft) in [(&spec.fore, false), (&spec.aft, true)] {
        let EndSpec::Post(post) = end else { continue };
        let Some(i) = profile::dent(&post.rabbet, DENT * spec.lines.fair_within) else { continue };
        let [x, z] = post.rabbet[i];
        findings.push(Finding {
            stage: Stage::Lines,
            place: format!("{}.rabbet, point {}", end.word(aft), i + 1),
            measured: Measure::Count(1.0),
            limit: Measure::Count(0.0),
            hint: format!(
                "boat.toml has {}, {} there: it makes a dent in a curve that turns one way without it. Check the plan",
                spec.lengths.long(x),
                spec.lengths.long(z)
            ),
        });
    }
    findings
}

/// A dent in a rabbet is worth a word if it is deeper than so many tolerances.
const DENT: f64 = 2.0;

/// Sections that fall below their own rabbet, where a garboard would hang under the keel.
fn below_rabbet(skin: &Skin, spec: &Spec) -> Option<Finding> {
    let depth = |s: &Section| s.points[0].z - s.points.iter().map(|p| p.z).fold(f64::MAX, f64::min);
    let deep: Vec<&Section> = skin.sections.iter().filter(|s| depth(s) > spec.lines.fair_within.max(1.0)).collect();
    let deepest = deep.iter().copied().max_by(|a, b| depth(a).total_cmp(&depth(b)))?;
    let names: Vec<String> = deep.iter().map(|s| s.name.clone()).collect();
    Some(Finding {
        stage: Stage::Lines,
        place: if names.len() > 1 {
            format!("{} (in all: {})", deepest.place(), names.join(", "))
        } else {
            deepest.place()
        },
        measured: Measure::Length(depth(deepest)),
        limit: Measure::Length(spec.lines.fair_within),
        hint: "the section runs below its rabbet: with few entries near the keel it is drawn too low. Add a buttock or a \
               low waterline, or shape the garboard there to a batten"
            .to_owned(),
    })
}

/// A row of which this share is doubtful is more likely another row than so many slips.
const WRONG_ROW: f64 = 0.4;

fn wrong_row(row: &Row, faired: &FairRow) -> Option<Finding> {
    let entries = faired.cells.iter().flatten();
    let (all, odd) = (entries.clone().count(), entries.filter(|f| f.suspect).count());
    (odd >= 3 && odd as f64 >= WRONG_ROW * all as f64).then(|| Finding {
        stage: Stage::Lines,
        place: row.name.clone(),
        measured: Measure::Count(odd as f64),
        limit: Measure::Count(0.0),
        hint: format!(
            "{odd} of the {all} entries do not fit the others: is the row's name right, its level, its notation, or are \
             its entries those of another row?"
        ),
    })
}
