//! The planned boat: one value, computed from one input.
//!
//! Every stage takes what the one before hands on; nothing here knows a file. The same input gives the same plan.

pub mod json;

use crate::development::{self, FlatPlank, FlattenError};
use crate::fastenings::{self, EndFastening, NailLine, Rivet};
use crate::findings::Finding;
use crate::folder::{BoatInput, Pin};
use crate::lines::{self, FairRow, LinesError, Section, Skin, profile::Ends};
use crate::lining::{self, LandLine, LiningError, Mark, Pinned, propose};
use crate::moulds::{self, Mould};
use crate::offsets::Table;
use crate::planks::{self, PlanksError, Strake};
use crate::spec::Spec;
use crate::stock;
use crate::timbers::{self, Timber};
use crate::weights::{self, Weights};

/// Everything about one boat.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// What was asked for.
    pub spec: Spec,
    /// The table as read.
    pub table: Table,
    /// The table as faired: one row for each row of `table`.
    pub fair: Vec<FairRow>,
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
    /// The same laid flat.
    pub flats: Vec<FlatPlank>,
    /// The timbers, from forward.
    pub timbers: Vec<Timber>,
    /// Rivets of one side, land by land, from the bow.
    pub rivets: Vec<Rivet>,
    /// Fastenings at hood ends and transom, one side.
    pub ends: Vec<EndFastening>,
    /// Nails to order, both sides.
    pub nails: Vec<NailLine>,
    /// Weights of the parts planned so far, both sides.
    pub weights: Weights,
    /// What the builder should look at.
    pub findings: Vec<Finding>,
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
    #[error(transparent)]
    Planks(#[from] PlanksError),
    /// A strake with no flat shape.
    #[error(transparent)]
    Flatten(#[from] FlattenError),
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
    let (spec, table) = (&input.spec, &input.table);
    let mut findings = input.findings.clone();

    stage("fairing the lines");
    let lines = lines::fair(table, spec)?;
    findings.extend(lines.findings);
    let skin = lines.skin;
    let moulds = moulds::moulds(&skin, table, &spec.moulds);

    stage("lining off the lands");
    let lands = propose::propose(&skin, &spec.planking, &pins(&input.pins, &skin)?)?;

    stage("laying the strakes");
    let strakes = planks::lay(&lands, &skin, table, spec)?;
    findings.extend(planks::check(&strakes, &skin, &spec.planking));

    stage("laying the planks flat");
    let unrolled = strakes.iter().map(development::unroll).collect::<Result<Vec<_>, _>>()?;
    let flats: Vec<FlatPlank> = unrolled
        .into_iter()
        .zip(&strakes)
        .map(|(flat, strake)| development::hood_ends(flat, strake, &skin.sections))
        .collect();
    findings.extend(development::check(&flats));

    stage("placing timbers and rivets");
    let ends_of_rabbet = Ends::new(spec)?;
    let (timbers, timber_findings) =
        timbers::timbers(&lands, &spec.timbers, ends_of_rabbet.fore_foot()[0], ends_of_rabbet.aft_foot()[0]);
    findings.extend(timber_findings);
    let rivets = fastenings::rivets(&strakes, &timbers, &moulds, spec);
    findings.extend(fastenings::check(&rivets, &spec.fastenings));
    let ends = fastenings::ends(&strakes, spec);
    let nails = fastenings::nails(&rivets, spec.fastenings.gauge);
    let weights = weights::weigh(&strakes, &flats, &timbers, &nails, spec);
    findings.extend(stock::check(&flats, spec.planking.thickness, &input.boards));

    Ok(Plan {
        spec: spec.clone(),
        table: table.clone(),
        fair: lines.fair,
        moulds,
        lands: lands.lines(),
        marks: lands.marks(&skin),
        sections: skin.sections,
        strakes,
        flats,
        timbers,
        rivets,
        ends,
        nails,
        weights,
        findings,
    })
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
