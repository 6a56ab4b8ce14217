//! The planned boat: one value, computed from one input.
//!
//! Every stage takes what the one before hands on; nothing here knows a file. The same input gives the same plan.

mod fights;
mod glimpse;
pub mod json;
pub(crate) mod lined;
mod rack;
pub(crate) mod rest;

use self::lined::{Job, Lined};
use crate::backbone::{self, Backbone};
use crate::cores;
use crate::development::{self, FlatPlank, FlattenError};
use crate::fastenings::{self, EndFastening, KeelFastening, OrderLine, Rest, Rivet};
use crate::findings::{Finding, Stage};
use crate::flotation::{self, Flotation, FlotationError};
use crate::folder::{BoatInput, Pin};
use crate::interior::{self, Fitted, Interior};
use crate::lines::{self, FairRow, Lines, LinesError, Section, Skin, fairness::Fairness, profile::Ends};
use crate::lining::{self, LandLine, LiningError, Mark, Pinned};
use crate::moulds::{self, Mould};
use crate::offsets::Table;
use crate::planks::{self, BevelAt, PlanksError, Strake};
use crate::scarfs::{self, Made};
use crate::setting_up::{self, SettingUp};
use crate::spec::Spec;
use crate::stock::{self, Board};
use crate::swelling::{self, Swelling};
use crate::timbers::{self, Timber, TimberError};
use crate::units::{Notation, inches};
use crate::weights::{self, Weights};

pub use glimpse::{Glimpse, glimpse};

/// Everything about one boat.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What was asked for.
    pub spec: Spec,
    /// The side that it is for alone, `port` or `starboard`; `None` where both are alike.
    pub side: Option<&'static str>,
    /// The table as read.
    pub table: Table,
    /// The table as faired: one row for each row of `table`.
    pub fair: Vec<FairRow>,
    /// How fair each line runs, and how far each view was moved.
    pub fairness: Fairness,
    /// Fair sections to the inside of the planking: stem, stations, transom or sternpost.
    pub sections: Vec<Section>,
    /// The moulds.
    pub moulds: Vec<Mould>,
    /// Land lines 0 (rabbet) to n (sheer).
    pub lands: Vec<LandLine>,
    /// Where the land lines cross the sections, land by land.
    pub marks: Vec<Mark>,
    /// Strakes 1 (garboard) to n (sheer strake).
    pub strakes: Vec<Strake>,
    /// Keel, posts and transoms as the strakes meet them.
    pub backbone: Backbone,
    /// The strakes laid flat, one for each.
    pub flats: Vec<FlatPlank>,
    /// How each plank is glued up from boards.
    pub made: Vec<Made>,
    /// The timbers, from forward.
    pub timbers: Vec<Timber>,
    /// The moulds as they are cut and set up.
    pub setting_up: SettingUp,
    /// What goes into her when she is planked.
    pub interior: Interior,
    /// Rivets of one side, land by land, from the bow.
    pub rivets: Vec<Rivet>,
    /// Bevels of every land, from the bow.
    pub bevels: Vec<BevelAt>,
    /// Area of the lands that are glued, both sides, mm²; 0 where they are riveted.
    pub glue_area: f64,
    /// Fastenings at hood ends and transom, one side.
    pub ends: Vec<EndFastening>,
    /// Fastenings of the garboard along the keel, one side, from the bow.
    pub keel_fastenings: Vec<KeelFastening>,
    /// Fastenings other than rivets, both sides, whether ordered or only counted.
    pub rest: Vec<Rest>,
    /// Sheets in the rack against the planks that come out of them; `None` where there are none.
    pub sheets: Option<stock::Sheets>,
    /// Nails, roves and screws to order, both sides.
    pub order: Vec<OrderLine>,
    /// How her planks move across the grain; empty where nothing is known of the wood.
    pub swelling: Vec<Swelling>,
    /// Weights of the parts planned so far, both sides.
    pub weights: Weights,
    /// What the builder should look at.
    pub findings: Vec<Finding>,
}

impl Plan {
    /// Timbers are cut to whole numbers of these, mm: 2 in with inches, or 50 mm.
    #[must_use]
    pub fn timber_step(&self) -> f64 {
        if self.spec.lengths == Notation::Mm { 50.0 } else { inches(2.0) }
    }

    /// Where she floats, and the rest of it; reckoned when it is asked for.
    ///
    /// # Errors
    /// As [`flotation::flotation`].
    pub fn flotation(&self) -> Result<Flotation, FlotationError> {
        flotation::flotation(&self.afloat())
    }

    /// With whom she does not float, and why: [`flotation::troubles`].
    #[must_use]
    pub fn afloat_troubles(&self) -> Vec<(String, FlotationError)> {
        flotation::troubles(&self.afloat())
    }

    fn afloat(&self) -> flotation::Ask<'_> {
        flotation::Ask {
            strakes: &self.strakes,
            sections: &self.sections,
            table: &self.table,
            spec: &self.spec,
            weights: &self.weights,
            interior: &self.interior,
        }
    }
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// No fair skin.
    #[error(transparent)]
    Lines(#[from] LinesError),
    /// No lands.
    #[error(transparent)]
    Lining(#[from] LiningError),
    /// A strake that cannot be hung.
    #[error("{why}{pins}")]
    Planks {
        /// Why.
        why: PlanksError,
        /// The pinned marks that may be to blame, in words; may be empty.
        pins: String,
    },
    /// A strake with no flat shape.
    #[error(transparent)]
    Flatten(#[from] FlattenError),
    /// Timbers that cannot stand.
    #[error(transparent)]
    Timbers(#[from] TimberError),
    /// Some stage cannot go on, and the table has entries that look wrong.
    #[error("{why}. But entries of offsets.csv look wrong ({entries}): mend those first")]
    Doubtful {
        /// What the stage said.
        why: Box<PlanError>,
        /// The doubtful entries, the first few.
        entries: String,
    },
    /// A pinned mark at a station that has no mould.
    #[error("marks.csv line {line}: no section stands at `{station}`; there are: {known}")]
    PinNowhere {
        /// Line in the file.
        line: usize,
        /// The station as typed.
        station: String,
        /// Those there are.
        known: String,
    },
}

impl PlanError {
    /// The message with its lengths in `lengths`; `Display` gives them in mm.
    #[must_use]
    pub fn said(&self, lengths: Notation) -> String {
        match self {
            PlanError::Lines(why) => why.said(lengths),
            PlanError::Lining(why) => why.said(lengths),
            PlanError::Timbers(why) => why.said(lengths),
            PlanError::Planks { why, pins } => format!("{}{pins}", why.said(lengths)),
            PlanError::Doubtful { why, entries } => {
                let why = why.said(lengths);
                format!("{why}. But entries of offsets.csv look wrong ({entries}): mend those first")
            }
            PlanError::Flatten(_) | PlanError::PinNowhere { .. } => self.to_string(),
        }
    }
}

/// Plans the boat.
///
/// # Errors
/// [`PlanError`]: the first stage that cannot go on says where and why.
pub fn plan(input: &BoatInput) -> Result<Plan, PlanError> {
    plan_telling(input, &mut |_| {})
}

/// [`plan`], telling `stage` the name of each stage as it begins.
///
/// # Errors
/// As [`plan`].
pub fn plan_telling(input: &BoatInput, stage: &mut dyn FnMut(&'static str)) -> Result<Plan, PlanError> {
    stage("fairing the lines");
    plan_faired(input, lines::fair(&input.table, &input.spec)?, stage)
}

/// [`plan_telling`], with her lines fair already: `lines` must come of [`lines::fair`] for the same table and `[lines]`.
///
/// # Errors
/// As [`plan`], from the lining on.
pub fn plan_faired(input: &BoatInput, lines: Lines, stage: &mut dyn FnMut(&'static str)) -> Result<Plan, PlanError> {
    // An entry that is only the first to look at was kept: it is not to blame.
    let suspect = lines.fair.iter().flat_map(|row| row.cells.iter().flatten()).any(|c| c.suspect);
    let doubts = if suspect || !lines.weighed { [&lines.findings[..], &lines.doubts].concat() } else { Vec::new() };
    let skin = lines.skin.clone();
    let mut plan = planked(input, lines, stage).map_err(|why| match doubts.len() {
        0 => why,
        _ => PlanError::Doubtful { why: Box::new(why), entries: named(&doubts) },
    })?;
    if let Some(fight) = fights::fight(input, &skin, &plan) {
        let before = plan.findings.iter().position(|f| f.stage == Stage::Planks);
        plan.findings.insert(before.unwrap_or(plan.findings.len()), fight);
    }
    Ok(plan)
}

/// Places of the first few findings.
fn named(findings: &[Finding]) -> String {
    const FEW: usize = 3;
    let places: Vec<&str> = findings.iter().take(FEW).map(|f| f.place.as_str()).collect();
    let more = findings.len().saturating_sub(FEW);
    if more == 0 { places.join("; ") } else { format!("{}; and {more} more", places.join("; ")) }
}

/// [`plan_faired`] for when marks move and offsets do not: where limits cannot all be kept it does not look for the nearest that
/// can, which takes many linings. Doubtful entries are among the plan's findings as ever.
///
/// # Errors
/// As [`plan`], from the lining on.
pub fn plan_from(input: &BoatInput, lines: Lines) -> Result<Plan, PlanError> {
    planked(input, lines, &mut |_| {})
}

/// Everything after the lines.
fn planked(input: &BoatInput, lines: Lines, stage: &mut dyn FnMut(&'static str)) -> Result<Plan, PlanError> {
    stage("lining off the lands and laying the strakes");
    let pins = pins(&input.pins, &lines.skin)?;
    let boards = boards(input);
    let (spec, table) = (&input.spec, &input.table);
    let lined = lined::strakes(&Job { skin: &lines.skin, table, spec, pins: &pins, boards: &boards })?;
    laid(input, lines, lined, &pins, stage)
}

/// Length and width of the boards that planks must come out of, mm; none: any will do.
fn boards(input: &BoatInput) -> Vec<[f64; 2]> {
    scarfs::boards(&input.spec, &stock::sizes(&input.boards, &input.spec))
}

/// Everything after the strakes.
fn laid(
    input: &BoatInput,
    lines: Lines,
    lined: Lined,
    pins: &[Pinned],
    stage: &mut dyn FnMut(&'static str),
) -> Result<Plan, PlanError> {
    let (spec, table) = (&input.spec, &input.table);
    let mut findings = input.findings.clone();
    findings.extend(lines.doubts);
    findings.extend(lines.findings);
    let skin = lines.skin;
    let moulds = moulds::moulds(&skin, table, &spec.moulds);
    let (lands, strakes) = (lined.lands, lined.strakes);
    findings.extend(planks::check(&strakes, &skin, spec, pins));

    let marks = lands.marks(&skin);
    let backbone = backbone::backbone(&strakes, &skin.sections, &marks, spec);

    stage("laying the planks flat");
    let out_of_sheets = input.boards.iter().any(|b| b.sheet);
    let flat = |strake: &Strake| {
        let flat = development::hood_ends(development::unroll(strake)?, strake, &skin.sections);
        Ok(development::marked_out(flat, spec.planking.thickness, &spec.bending))
    };
    let flats = cores::each(&strakes, flat).into_iter().collect::<Result<Vec<FlatPlank>, FlattenError>>()?;
    findings.extend(development::check(&flats, &strakes, &skin, &spec.bending, out_of_sheets));

    stage("placing timbers and rivets");
    let ends_of_rabbet = Ends::new(spec)?;
    let (timbers, timber_findings) = if spec.timbers.fitted {
        let (fore, aft) = (ends_of_rabbet.fore_foot()[0], ends_of_rabbet.aft_foot()[0]);
        timbers::timbers(&lands, &moulds, &spec.timbers, fore, aft)?
    } else {
        Default::default()
    };
    findings.extend(timber_findings);
    let p = &spec.planking;
    let stand =
        |land| -> Vec<Option<f64>> { timbers.iter().map(|t| t.x_on(land).filter(|_| land <= t.head)).collect() };
    let bevels =
        strakes.iter().flat_map(|s| planks::bevels::bevels(s, p.lap, &stand(s.strake), p.bevel_every)).collect();
    let level = setting_up::level(&skin.sections, &table.waterlines(), spec);
    let setting_up = setting_up::setting_up(&moulds, &skin.sections, &strakes, &marks, &timbers, level, spec);
    findings.extend(setting_up.check(spec.lengths));
    let inside = interior::Ask {
        spec,
        table,
        sections: &skin.sections,
        lands: &lands,
        strakes: &strakes,
        timbers: &timbers,
        backbone: &backbone,
    };
    let Fitted { interior, refused, findings: inside } = interior::interior(&inside);
    findings.extend(refused.iter().map(|why| why.finding(spec.lengths)));
    findings.extend(inside);
    findings.extend(flotation::astray(&strakes, table, spec));
    let riveted = !spec.glued();
    let rivets = if riveted { fastenings::rivets(&strakes, &timbers, &moulds, spec) } else { Vec::new() };
    let ends = if riveted { fastenings::ends(&strakes, spec) } else { Vec::new() };
    let keel_fastenings = if riveted { fastenings::along_keel(&strakes, spec) } else { Vec::new() };
    let rest = if riveted { fastenings::rest(&keel_fastenings, &timbers, &ends, spec) } else { Vec::new() };
    findings.extend(fastenings::check(&rivets, &ends, &keel_fastenings, spec));
    let area: f64 = strakes.iter().map(|s| planks::bevels::land_area(s, p.lap)).sum();
    let glue_area = if riveted { 0.0 } else { 2.0 * area };
    let order = fastenings::order(&rivets, &ends, &keel_fastenings, &input.nails, &spec.fastenings);
    let weights = weights::weigh(&weights::Ask {
        strakes: &strakes,
        flats: &flats,
        timbers: &timbers,
        interior: &interior,
        backbone: &backbone,
        order: &order,
        spec,
    });

    stage("parting the planks");
    let rack = stock::sizes(&input.boards, spec);
    let made = scarfs::scarfs(&flats, &strakes, &timbers, &moulds, spec, &rack);
    findings.extend(parted(&made, &strakes, &skin.sections, spec, &input.boards));
    let sheets = stock::sheets(&flats, &input.boards);

    Ok(Plan {
        swelling: swelling::swelling(&strakes, spec),
        spec: spec.clone(),
        side: None,
        table: table.clone(),
        fair: lines.fair,
        fairness: lines.fairness,
        moulds,
        lands: lands.lines(),
        marks,
        sections: skin.sections,
        strakes,
        backbone,
        flats,
        made,
        timbers,
        setting_up,
        interior,
        rivets,
        bevels,
        glue_area,
        sheets,
        ends,
        keel_fastenings,
        rest,
        order,
        weights,
        findings,
    })
}

/// What there is to say of planks in parts and of the boards they come out of.
fn parted(made: &[Made], strakes: &[Strake], sections: &[Section], spec: &Spec, boards: &[Board]) -> Vec<Finding> {
    let sheets = boards.iter().any(|b| b.sheet);
    let mut findings = scarfs::not_there(spec, strakes.len());
    findings.extend(scarfs::check(made, strakes, sections, spec, &stock::sizes(boards, spec), sheets));
    findings.extend(stock::check(made, spec, boards));
    findings
}

impl Plan {
    /// The same boat with the longest parts of some strakes, `(strake, mm)`, so: their scarfs stand elsewhere or are more.
    #[must_use]
    pub fn parted_anew(&self, longest_of: &[(usize, f64)], boards: &[Board]) -> Plan {
        let mut plan = self.clone();
        plan.spec.scarfs.longest_of = longest_of.to_vec();
        let rack = stock::sizes(boards, &plan.spec);
        plan.made = scarfs::scarfs(&plan.flats, &plan.strakes, &plan.timbers, &plan.moulds, &plan.spec, &rack);
        let about = |f: &Finding| matches!(f.stage, Stage::Scarfs | Stage::Stock);
        let at = plan.findings.iter().position(about).unwrap_or(plan.findings.len());
        plan.findings.retain(|f| !about(f));
        let said = parted(&plan.made, &plan.strakes, &plan.sections, &plan.spec, boards);
        plan.findings.splice(at..at, said);
        plan
    }
}

/// A strake that cannot be hung, with the pins that may be to blame.
fn with_pins(why: PlanksError, pins: &[Pinned], skin: &Skin) -> PlanError {
    let (strake, place) = why.place();
    let at = (0..skin.sections.len()).find(|&j| skin.place(j) == place);
    let pins = at.map_or_else(String::new, |at| lining::pinned_near(pins, skin, strake, at));
    PlanError::Planks { why, pins }
}

/// The pins with their stations found among the sections.
fn pins(pins: &[Pin], skin: &Skin) -> Result<Vec<Pinned>, PlanError> {
    pins.iter()
        .map(|p| match skin.sections.iter().position(|s| s.name == p.station) {
            Some(section) => Ok(lining::Pinned { land: p.land as usize, section, girth: p.girth, line: p.line }),
            None => Err(PlanError::PinNowhere {
                line: p.line,
                station: p.station.clone(),
                known: skin.sections.iter().map(|s| s.name.as_str()).collect::<Vec<_>>().join(", "),
            }),
        })
        .collect()
}
