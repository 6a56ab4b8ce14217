//! What stands in the builder's rack of fastenings, and what is ordered out of it.
//!
//! Masses and numbers to a kilogram are computed, not looked up: a nail is a square shank as wide as its gauge's wire, a rove a
//! flat ring of metal, both of copper. Heads and points of nails and the dish of a rove are left out, so a kilogram holds
//! somewhat fewer nails than reckoned.

use super::{EndFastening, KeelFastening, Rivet};
use crate::spec::{FasteningSpec, Fixing};
use crate::units::{INCH, swg_diameter};

/// Copper, kg/m³. From memory (standard handbooks give 8.96 g/cm³ at 20 °C).
pub const COPPER: f64 = 8960.0;

/// Silicon bronze, of which screws for planks are, kg/m³. From memory; brass and stainless steel are a tenth lighter at most.
const BRONZE: f64 = 8530.0;

/// How masses and numbers to a kilogram come about, for page and `plan --json`.
pub const COMPUTED: &str = "Masses and numbers to a mass are computed, not weighed: a nail as a square copper shank as wide as its \
                            gauge's wire, without head and point; a rove as a flat copper ring, its hole as wide as the nail.";

/// What is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Square copper nails.
    Nail,
    /// Copper roves.
    Rove,
    /// Screws.
    Screw,
}

impl Kind {
    /// In nails.csv and `plan --json`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Kind::Nail => "nail",
            Kind::Rove => "rove",
            Kind::Screw => "screw",
        }
    }
}

/// How a kind is packed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pack {
    /// So many to a pack.
    Count(u32),
    /// So heavy a pack, kg.
    Mass(f64),
}

impl Pack {
    /// Whole pieces in a pack, of `each` kg.
    #[must_use]
    pub fn pieces(self, each: f64) -> u32 {
        match self {
            Pack::Count(n) => n,
            // A hair over a whole number of pieces is that number.
            Pack::Mass(kg) => (kg / each + 1e-9).floor() as u32,
        }
    }
}

/// A line of nails.csv.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is.
    pub kind: Kind,
    /// Imperial standard wire gauge; of a screw the number it is sold by.
    pub gauge: u32,
    /// Length; of a rove the diameter, mm.
    pub size: f64,
    /// Of a rove driven home, mm, where the list says.
    pub height: Option<f64>,
    /// Of a rove's metal, mm, where the list says.
    pub thickness: Option<f64>,
    /// `None`: bought by the piece.
    pub pack: Option<Pack>,
    /// Packs in hand.
    pub in_hand: u32,
}

impl Item {
    /// Mass of one, kg; `None` for a screw, whose metal nobody said.
    #[must_use]
    pub fn each(&self) -> Option<f64> {
        let side = swg_diameter(self.gauge).unwrap_or(0.0);
        match self.kind {
            Kind::Nail => Some(nail_mass(side, self.size)),
            Kind::Rove => {
                let metal = self.thickness.unwrap_or(FasteningSpec::metal_of(self.size));
                Some(rove_mass(self.size, side, metal))
            }
            Kind::Screw => None,
        }
    }
}

/// How thick a wood screw's shank is by its number, mm: 0.060 + 0.013 × number inch. From memory.
#[must_use]
pub fn screw_shank(number: u32) -> f64 {
    (0.060 + 0.013 * f64::from(number)) * INCH
}

/// Mass of a wood screw, kg: a plain rod as thick as its shank and as long.
/// What the thread leaves out the head makes up for, about. From memory.
#[must_use]
pub fn screw_mass(number: u32, length: f64) -> f64 {
    let shank = screw_shank(number);
    0.25 * std::f64::consts::PI * shank * shank * length * 1e-9 * BRONZE
}

/// One line of the order, both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// What.
    pub kind: Kind,
    /// Imperial standard wire gauge; of a screw the number it is sold by.
    pub gauge: u32,
    /// Length; of a rove the diameter, mm.
    pub size: f64,
    /// How many the boat takes for rivets, at plank ends, along the keel.
    pub takes: [u32; 3],
    /// With the spare ones.
    pub wanted: u32,
    /// Mass of one, kg; `None` for a screw.
    pub each: Option<f64>,
    /// How they are packed; `None`: by the piece.
    pub pack: Option<Pack>,
    /// Packs in hand.
    pub in_hand: u32,
    /// Whole packs that hold as many as are wanted; 0 where they come by the piece.
    pub packs_wanted: u32,
    /// Packs to buy besides those in hand.
    pub packs: u32,
    /// Pieces to buy: whole packs of them.
    pub bought: u32,
    /// Mass of what is bought, kg; `None` for screws.
    pub bought_mass: Option<f64>,
}

impl OrderLine {
    /// How many the boat takes.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.takes.iter().sum()
    }

    /// Mass of those, kg; of screws as if they were bronze, whose metal nobody said.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.each.unwrap_or_else(|| screw_mass(self.gauge, self.size)) * f64::from(self.count())
    }

    /// Pieces in so many packs; what is wanted where they come by the piece.
    #[must_use]
    pub fn pieces(&self, packs: u32) -> u32 {
        let pieces = |pack: Pack| pack.pieces(self.each.unwrap_or(f64::INFINITY)).saturating_mul(packs);
        self.pack.map_or(self.wanted, pieces)
    }

    /// What those weigh, kg: a pack by mass what it says. `None` for screws.
    #[must_use]
    pub fn pieces_mass(&self, packs: u32) -> Option<f64> {
        match self.pack {
            Some(Pack::Mass(kg)) => Some(f64::from(packs) * kg),
            _ => self.each.map(|kg| f64::from(self.pieces(packs)) * kg),
        }
    }
}

/// What to order: nails by length, roves, screws.
#[must_use]
pub fn order(
    rivets: &[Rivet],
    ends: &[EndFastening],
    keel: &[KeelFastening],
    stock: &[Item],
    spec: &FasteningSpec,
) -> Vec<OrderLine> {
    // Kind, length and how many of one side, by what they are for.
    let mut wanted: Vec<(Kind, f64, [u32; 3])> = Vec::new();
    let mut want = |kind: Kind, size: f64, what: usize| match wanted.iter_mut().find(|w| w.0 == kind && w.1 == size) {
        Some(w) => w.2[what] += 1,
        None => {
            let mut takes = [0; 3];
            takes[what] = 1;
            wanted.push((kind, size, takes));
        }
    };
    let kind = |fixing| if fixing == Fixing::Nails { Kind::Nail } else { Kind::Screw };
    for nail in rivets.iter().filter_map(|r| r.nail) {
        want(Kind::Nail, nail, 0);
        want(Kind::Rove, spec.rove_diameter, 0);
    }
    for end in ends {
        for length in end.own().iter().filter_map(|e| e.length) {
            want(kind(end.fixing), length, 1);
        }
    }
    for length in keel.iter().filter_map(|k| k.length) {
        want(kind(spec.keel), length, 2);
    }
    wanted.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    wanted.into_iter().map(|(kind, size, takes)| line(kind, size, takes.map(|n| 2 * n), stock, spec)).collect()
}

/// Lengths nearer than this are the same, mm.
pub const SAME: f64 = 0.01;

fn line(kind: Kind, size: f64, takes: [u32; 3], stock: &[Item], spec: &FasteningSpec) -> OrderLine {
    let gauge = match (kind, spec.screw) {
        (Kind::Screw, Some(screw)) => screw.gauge,
        _ => spec.gauge,
    };
    let found = stock.iter().find(|i| i.kind == kind && i.gauge == gauge && (i.size - size).abs() <= SAME);
    let thickness = Some(spec.rove_thickness);
    let bare = Item { kind, gauge, size, height: None, thickness, pack: None, in_hand: 0 };
    let item = found.map_or(bare.clone(), |i| Item { thickness, ..i.clone() });
    let each = item.each();
    let wanted = with_spare(takes.iter().sum(), spec.spare);
    let mut line = OrderLine {
        kind,
        gauge,
        size,
        takes,
        wanted,
        each,
        pack: item.pack,
        in_hand: item.in_hand,
        packs_wanted: 0,
        packs: 0,
        bought: 0,
        bought_mass: None,
    };
    if line.pack.is_some() {
        line.packs_wanted = wanted.div_ceil(line.pieces(1).max(1));
        line.packs = line.packs_wanted.saturating_sub(line.in_hand);
    }
    (line.bought, line.bought_mass) = (line.pieces(line.packs), line.pieces_mass(line.packs));
    line
}

/// What the order leaves out, in words: the nails of both sides that would have to be longer than any in stock. Empty where
/// there are none.
#[must_use]
pub fn left_out(rivets: &[Rivet], ends: &[EndFastening], keel: &[KeelFastening]) -> String {
    let riveted = 2 * rivets.iter().filter(|r| r.nail.is_none()).count();
    let driven = ends.iter().flat_map(EndFastening::own).filter(|e| e.length.is_none()).count()
        + keel.iter().filter(|k| k.length.is_none()).count();
    let said: Vec<String> = [(riveted, "rivets"), (2 * driven, "nails at the ends and the keel")]
        .into_iter()
        .filter(|s| s.0 > 0)
        .map(|(n, what)| format!("{n} more {what}"))
        .collect();
    if said.is_empty() {
        return String::new();
    }
    format!(
        "{} take a longer nail than any in stock and are not in this order: add longer ones (nails.csv, or \
         fastenings.nail_lengths).",
        said.join(" and ")
    )
}

/// How many to order where `count` go into her and `spare` is the share over, rounded up. The share is taken to the
/// millionth, so that a tenth over 100 is 110: in floating point it is a hair more.
fn with_spare(count: u32, spare: f64) -> u32 {
    let millionths = (spare.max(0.0) * 1e6).round() as u64;
    let over = (u64::from(count) * millionths).div_ceil(1_000_000);
    u32::try_from(u64::from(count) + over).unwrap_or(u32::MAX)
}

/// Mass of a square copper shank, kg; `side` and `length` in mm.
#[must_use]
pub fn nail_mass(side: f64, length: f64) -> f64 {
    side * side * length * 1e-9 * COPPER
}

/// Mass of a flat copper ring, kg; its diameter, the width of its hole and the thickness of its metal in mm.
#[must_use]
pub fn rove_mass(diameter: f64, hole: f64, thickness: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * (diameter * diameter - hole * hole) * thickness * 1e-9 * COPPER
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spare_nails_are_rounded_up_and_no_further() {
        for (count, spare, order) in [
            (100, 0.1, 110),
            (770, 0.1, 847),
            (771, 0.1, 849),
            (1, 0.1, 2),
            (0, 0.1, 0),
            (100, 0.0, 100),
            (100, 1.0, 200),
            (10, 0.07, 11),
            (100, 0.07, 107),
            (300, 0.29, 387),
            (3, 1.0 / 3.0, 4),
            (u32::MAX, 1.0, u32::MAX),
        ] {
            assert_eq!(with_spare(count, spare), order, "{count} and {spare} over");
        }
        // Every count with every spare of whole hundredths, against whole numbers alone.
        for count in 0..2000_u32 {
            for hundredths in 0..=100_u32 {
                let order = count + (count * hundredths).div_ceil(100);
                assert_eq!(with_spare(count, f64::from(hundredths) / 100.0), order, "{count}, {hundredths} %");
            }
        }
    }

    fn nails(pack: Option<Pack>, in_hand: u32, takes: u32) -> OrderLine {
        let item = Item { kind: Kind::Nail, gauge: 14, size: 25.4, height: None, thickness: None, pack, in_hand };
        line(Kind::Nail, 25.4, [takes, 0, 0], &[item], &FasteningSpec::default())
    }

    /// 14 gauge, 1 in: 0.939 699 8 g by hand, so 1064 whole ones to a kilogram.
    #[test]
    fn packs_are_whole() {
        let loose = nails(None, 0, 770);
        assert_eq!((loose.wanted, loose.packs, loose.bought), (847, 0, 847));
        assert!((loose.bought_mass.unwrap() - 0.795_925_7).abs() < 1e-7, "{:?}", loose.bought_mass);
        for (pack, in_hand, takes, packs, bought) in [
            (Pack::Count(100), 0, 770, 9, 900),
            (Pack::Count(847), 0, 770, 1, 847),
            (Pack::Count(846), 0, 770, 2, 1692),
            (Pack::Count(100), 4, 770, 5, 500),
            (Pack::Count(100), 9, 770, 0, 0),
            (Pack::Count(100), 99, 770, 0, 0),
            (Pack::Mass(1.0), 0, 770, 1, 1064),
            (Pack::Mass(1.0), 0, 967, 1, 1064),
            (Pack::Mass(1.0), 0, 968, 2, 2128),
            (Pack::Mass(0.25), 1, 770, 3, 798),
        ] {
            let found = nails(Some(pack), in_hand, takes);
            assert_eq!((found.packs, found.bought), (packs, bought), "{pack:?}, {in_hand} in hand, {takes}");
            let mass = match pack {
                Pack::Mass(kg) => f64::from(packs) * kg,
                Pack::Count(_) => f64::from(bought) * 0.939_699_8e-3,
            };
            assert!((found.bought_mass.unwrap() - mass).abs() < 1e-7, "{pack:?}: {:?}", found.bought_mass);
        }
    }
}
