//! The planned boat: one value, computed from one input.

use crate::development::FlatPlank;
use crate::fastenings::{EndFastening, NailLine, Rivet};
use crate::findings::Finding;
use crate::lines::{FairRow, Section};
use crate::lining::{LandLine, Mark};
use crate::moulds::Mould;
use crate::offsets::Table;
use crate::planks::Strake;
use crate::spec::Spec;
use crate::timbers::Timber;
use crate::weights::Weights;

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
