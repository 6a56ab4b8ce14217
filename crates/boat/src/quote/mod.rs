//! What she costs: the plan's wood, fastenings and work at the builder's own rates.
//!
//! Each line is a quantity as it is printed times a rate as it is printed, rounded to the nearest hundredth, halves up; the total is
//! the sum of the rounded lines, so a builder who adds the column up gets it. Nothing is priced that has no rate: it is named in
//! [`Quote::left_out`] with the key that would price it.
//!
//! Quantities come from the plan alone: wood from the flat planks' areas and the timbers as cut, nails from the order, hours from
//! counts. Errors fall dear: planks are reckoned as thick as the boards they come out of, nails and roves in whole packs. Left out with the rest of the wood that the plan does not have: keel, stem, transom, moulds; they are the builder's own
//! lines. What planks leave of a board is the builder's share of waste, not the layout's of the module `sawing`.

mod reckon;
mod wood;

pub use reckon::reckon;

use crate::rates::{Decimal, Money};

/// What a line is for, in the order of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Planking and timbers.
    Wood,
    /// Nails, roves, other fastenings, glue.
    Fastenings,
    /// What the builder lists.
    Sundries,
    /// Hours.
    Work,
    /// On all of the above.
    Overhead,
    /// On all of the above with overhead.
    Tax,
}

impl Group {
    /// All, in order.
    pub const ALL: [Group; 6] =
        [Group::Wood, Group::Fastenings, Group::Sundries, Group::Work, Group::Overhead, Group::Tax];

    /// As a sheet heads it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Group::Wood => "Wood",
            Group::Fastenings => "Fastenings",
            Group::Sundries => "Sundries",
            Group::Work => "Work",
            Group::Overhead => "Overhead",
            Group::Tax => "Tax",
        }
    }
}

/// What a quantity is multiplied by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rate {
    /// So much for each unit of `quantity`.
    Each {
        /// How many or how much.
        quantity: Decimal,
        /// A unit.
        rate: Money,
    },
    /// So much in the hundred of `of`.
    Percent {
        /// Of this.
        of: Money,
        /// In the hundred.
        percent: Decimal,
    },
}

impl Rate {
    /// What comes of it, to the hundredth.
    #[must_use]
    pub fn sum(self) -> Money {
        match self {
            Rate::Each { quantity, rate } => Money::of(quantity, rate),
            Rate::Percent { of, percent } => of.percent(percent),
        }
    }
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is for.
    pub group: Group,
    /// What is paid for.
    pub what: String,
    /// Quantity and rate.
    pub rate: Rate,
    /// Unit of the quantity; empty for what is in the hundred.
    pub unit: String,
    /// [`Rate::sum`] of `rate`.
    pub sum: Money,
    /// How the quantity was reckoned.
    pub how: String,
}

/// The whole sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// The currency's word.
    pub currency: String,
    /// In the order of [`Group::ALL`].
    pub lines: Vec<Line>,
    /// What the plan has and no rate was given for, each with what to do.
    pub left_out: Vec<String>,
    /// What the planning of the boat includes, for a customer.
    pub included: Vec<String>,
    /// What is in no line, for a customer.
    pub not_included: Vec<String>,
}

impl Quote {
    /// The sum of a group's lines.
    #[must_use]
    pub fn group(&self, group: Group) -> Money {
        self.lines.iter().filter(|l| l.group == group).map(|l| l.sum).sum()
    }

    /// The sum of all lines but taxes.
    #[must_use]
    pub fn before_tax(&self) -> Money {
        self.lines.iter().filter(|l| l.group != Group::Tax).map(|l| l.sum).sum()
    }

    /// The sum of all lines.
    #[must_use]
    pub fn total(&self) -> Money {
        self.lines.iter().map(|l| l.sum).sum()
    }
}

/// How every sum is rounded, in words.
pub const ROUNDING: &str = "Each sum is its quantity times its rate as they stand here, to the nearest hundredth, halves up; the total \
                            is the sum of the sums.";

/// Why there is no quote. Each names the file, the key, what is wanted, and what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum QuoteError {
    /// A wood of the plan without a price.
    #[error(
        "rates.toml, wood: there is no price for \"{wood}\", of which her {of} are ({key} in boat.toml){known}; write for example \
         [wood.\"{wood}\"] with per_m3 or per_board_foot, and waste"
    )]
    NoWood {
        /// The wood as boat.toml has it.
        wood: String,
        /// `planks` or `timbers`.
        of: &'static str,
        /// Where it is said.
        key: &'static str,
        /// Those that have a price, in words.
        known: String,
    },
    /// A riveted boat and no price of copper.
    #[error(
        "rates.toml, fastenings.copper_per_kg: is missing, and she takes {grams} g of copper nails; write for example \
         copper_per_kg = 25.00 under [fastenings]"
    )]
    NoCopper {
        /// Of the order.
        grams: i64,
    },
}
