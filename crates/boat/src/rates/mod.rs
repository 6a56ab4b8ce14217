//! The builder's rates, as values: what wood, copper and an hour cost, and what is put on top.
//!
//! Every one of them comes from `rates.toml`; none has a default, since a price that nobody gave is wrong. What has no rate is not
//! in the quote's sum, and the quote says so.

mod money;

pub use money::{Decimal, DecimalError, Money};

/// All of a builder's rates.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Rates {
    /// The word after or over each sum: `pounds`.
    pub currency: String,
    /// The builder's name and address, line by line.
    pub builder: Vec<String>,
    /// What the customer is told besides the sums, a paragraph each.
    pub terms: Vec<String>,
    /// Further things that are not in the price.
    pub not_included: Vec<String>,
    /// Woods by name.
    pub wood: Vec<WoodRate>,
    /// Copper nails and roves, a kilogram.
    pub copper_kg: Option<Money>,
    /// Mass of one rove, milligrams.
    pub rove_milligrams: Option<i64>,
    /// Each screw of the order, where plank ends or garboard are screwed.
    pub screw_each: Option<Money>,
    /// Each fastening that is counted and not ordered: at timbers' heels and heads.
    pub other_each: Option<Money>,
    /// Glue, mixed, a kilogram.
    pub glue_kg: Option<Money>,
    /// An hour of work.
    pub hour: Option<Money>,
    /// How long parts of the plan take.
    pub hours: Hours,
    /// Work that does not follow from the plan.
    pub work: Vec<Work>,
    /// What is bought besides.
    pub sundries: Vec<Sundry>,
    /// Put on materials and work.
    pub overhead: Vec<Share>,
    /// Put on all of that.
    pub tax: Vec<Share>,
}

/// What a wood costs.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodRate {
    /// As the boat's folder calls it; words in any order.
    pub name: String,
    /// Of what the price is.
    pub unit: VolumeUnit,
    /// A unit of wood as it is bought.
    pub price: Money,
    /// What is bought over what goes into her, in the hundred.
    pub waste: Decimal,
}

/// What wood is bought by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VolumeUnit {
    /// m³.
    CubicMetre,
    /// 12 in × 12 in × 1 in.
    BoardFoot,
}

impl VolumeUnit {
    /// mm³ in one.
    #[must_use]
    pub fn cubic_mm(self) -> f64 {
        match self {
            VolumeUnit::CubicMetre => 1e9,
            VolumeUnit::BoardFoot => 144.0 * crate::units::INCH.powi(3),
        }
    }

    /// Places after the point to which it is bought: about a tenth of a litre, or a hundredth of a board foot.
    #[must_use]
    pub fn places(self) -> u32 {
        match self {
            VolumeUnit::CubicMetre => 4,
            VolumeUnit::BoardFoot => 2,
        }
    }

    /// As it is printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            VolumeUnit::CubicMetre => "m³",
            VolumeUnit::BoardFoot => "bd ft",
        }
    }
}

/// Hours for what the plan counts; `None` where no rate is given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Hours {
    /// Each plank of either side, from pattern to hung.
    pub plank: Option<Decimal>,
    /// Each scarf.
    pub scarf: Option<Decimal>,
    /// Each timber.
    pub timber: Option<Decimal>,
    /// Each hundred rivets.
    pub hundred_rivets: Option<Decimal>,
    /// Each hundred of the other fastenings.
    pub hundred_others: Option<Decimal>,
    /// Each mould.
    pub mould: Option<Decimal>,
    /// Each metre of land that is glued.
    pub glued_metre: Option<Decimal>,
}

/// Work that does not follow from the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// What is done.
    pub what: String,
    /// How long it takes.
    pub hours: Decimal,
}

/// Something bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Sundry {
    /// What.
    pub what: String,
    /// How many or how much.
    pub quantity: Decimal,
    /// Of what; empty where it is bought as one.
    pub unit: String,
    /// A unit.
    pub each: Money,
    /// What of [`OUTSIDE`] it covers.
    pub covers: Vec<String>,
}

/// So much in the hundred, put on top.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// What it is called.
    pub what: String,
    /// In the hundred.
    pub percent: Decimal,
}

/// What a plan of planking does not cover and a whole boat has. A line of sundries may say that it covers some.
pub const OUTSIDE: [&str; 16] = [
    "keel",
    "stem",
    "sternpost",
    "transom",
    "knees",
    "breasthook",
    "thwarts",
    "gunwales",
    "floorboards",
    "centreboard",
    "rudder",
    "oars",
    "spars and sails",
    "fittings",
    "paint",
    "delivery",
];
