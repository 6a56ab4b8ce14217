//! What a rule would have her carry: the United States' 33 CFR part 183 for boats under 20 ft, worked through step by step.
//!
//! It is arithmetic with the rule's own numbers, in pounds and feet as the rule has them, and no certificate: rules differ from
//! place to place, boats are exempt from this one, and a qualified person and the local authority decide.
//!
//! Source: `CFR33-183` in SOURCES.md, which says of each section whether it was read or only quoted; each [`Step`] says so
//! too. DIFFERS: the rule's displacement is measured or summed by Simpson's rule with a margin; here it is the planned boat's own.

use crate::flotation::{Attitude, Hull};
use crate::units::{FOOT, POUND};

/// Boats of this length and over are outside the rule, ft.
pub const UNDER: f64 = 20.0;
/// A cubic foot of fresh water, lb.
pub const WATER: f64 = 62.4;

/// How she is moved, as the rule divides boats.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moved {
    /// By oars alone.
    ByHand,
    /// By an outboard motor of 2 hp or less.
    SmallMotor,
    /// By an outboard motor of more.
    Outboard,
}

impl Moved {
    /// In words.
    #[must_use]
    pub fn said(self) -> &'static str {
        match self {
            Moved::ByHand => "by oars",
            Moved::SmallMotor => "by an outboard motor of 2 hp or less",
            Moved::Outboard => "by a larger outboard motor",
        }
    }
}

/// How a step's rule is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Its text was read.
    Read,
    /// Its text was not seen, but a forum quotes it: look it up before you lean on it.
    Quoted,
    /// It is reckoned of the plan.
    Plan,
}

impl Known {
    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Known::Read => "read",
            Known::Quoted => "as quoted",
            Known::Plan => "this plan",
        }
    }
}

/// One line of the arithmetic.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What comes out: `maximum weight capacity`.
    pub what: &'static str,
    /// The sum with its numbers.
    pub how: String,
    /// What comes out of it.
    pub value: f64,
    /// `lb`, `ft`, `hp`, `persons`.
    pub unit: &'static str,
    /// Section of the rule, or empty.
    pub section: &'static str,
    /// How that is known.
    pub known: Known,
}

/// The rule worked through for one way of moving her.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowed {
    /// How she is moved.
    pub moved: Moved,
    /// The arithmetic, in order.
    pub steps: Vec<Step>,
    /// Persons, motor and gear, lb.
    pub weight: f64,
    /// Persons, lb, and their number; `None` where she has no transom for a larger motor.
    pub persons: Option<(f64, u32)>,
    /// Most horsepower, where she has a transom for a larger motor.
    pub power: Option<f64>,
}

/// What the rule starts from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// Overall, outside of the planking, ft.
    pub length: f64,
    /// The water she displaces at the deepest level at which none comes aboard, lb.
    pub displacement: f64,
    /// What the planned boat weighs, lb.
    pub boat: f64,
    /// The width that a motor's power goes by, ft; `None` where she has no transom to hang one on.
    pub transom: Option<f64>,
}

impl Measures {
    /// The rule is for boats as short as she.
    #[must_use]
    pub fn short_enough(&self) -> bool {
        self.length < UNDER
    }
}

/// Measures the planned boat, which weighs `mass` kg. She lies level as the rule has it: the ends of her sheer at bow and stern as
/// high as each other (183.37 (b) (1) (i)); and so deep that the lowest place of the sheer is at the water. With a `transom` aft its
/// width is that of her sheer there; where that is not over half her beam, the greatest of her sheer over the aftermost quarter of
/// her (183.3, 183.53 (a) (1)). `None` where there is no boat.
#[must_use]
pub fn measures(hull: &Hull, mass: f64, transom: bool) -> Option<Measures> {
    let [[fore, aft], [port, starboard], _] = hull.solid.bounds();
    let length = aft - fore;
    if !(length.is_finite() && length > 0.0) {
        return None;
    }
    let (bow, stern) = (hull.sheer.first()?, hull.sheer.last()?);
    let full = 2.0 * stern.y > 0.5 * (starboard - port);
    let quarter = hull.sheer.iter().filter(|p| p.x >= aft - 0.25 * length).map(|p| p.y).fold(stern.y, f64::max);
    let width = 2.0 * if full { stern.y } else { quarter };
    let trim = ((stern.z - bow.z) / (stern.x - bow.x).max(f64::MIN_POSITIVE)).atan();
    let level = Attitude { trim, ..Attitude::default() };
    let (sheer, _) = hull.lowest(&level)?;
    let volume = hull.solid.under(&Attitude { water: sheer, ..level }).volume;
    let cubic_feet = volume / FOOT.powi(3);
    Some(Measures {
        length: length / FOOT,
        displacement: cubic_feet * WATER,
        boat: mass / POUND,
        transom: transom.then_some(width / FOOT),
    })
}

/// Most horsepower by her length times the width of her transom, both in ft, for a boat that is not flat-bottomed with hard chines
/// and is steered by the motor's tiller; over 52.5 raised to the next multiple of 5.
///
/// Source: `CFR33-183` 183.53 (a) with its table, read.
///
/// ```
/// use boat::load::horsepower;
/// assert_eq!((horsepower(35.4), horsepower(35.5), horsepower(52.5), horsepower(60.0)), (3.0, 5.0, 15.0, 25.0));
/// ```
#[must_use]
pub fn horsepower(factor: f64) -> f64 {
    if factor > POWERS_TO {
        return ((0.8 * factor - 25.0) / 5.0 - HAIR).ceil() * 5.0;
    }
    // A half goes up, as the rule's other numbers do; it does not say so of this one.
    let whole = (factor + 0.5).floor();
    POWERS.iter().find(|p| whole <= p[0]).map_or(15.0, |p| p[1])
}

/// Greatest factor, to the nearest whole one, and the horsepower up to it.
const POWERS: [[f64; 2]; 5] = [[35.0, 3.0], [39.0, 5.0], [42.0, 7.5], [45.0, 10.0], [52.0, 15.0]];
/// Factors over this go by a formula.
const POWERS_TO: f64 = 52.5;
/// A whole multiple of 5 but for rounding is that multiple.
const HAIR: f64 = 1e-9;

/// What a motor of so many horsepower weighs with all that goes with it, lb: running, its controls, a dry battery, a full portable tank;
/// the greatest of the table for more than it has.
///
/// Source: `CFR33-183` table 183.75, column 9, read. DIFFERS: the tenth less that it allows a transom of 20 inches or less is not taken.
#[must_use]
pub fn motor(horsepower: f64) -> f64 {
    MOTORS.iter().find(|m| horsepower < m[0]).map_or(MOTORS[MOTORS.len() - 1][1], |m| m[1])
}

/// Horsepower below which a motor weighs so many pounds.
const MOTORS: [[f64; 2]; 14] = [
    [2.1, 32.0],
    [4.0, 44.0],
    [7.0, 94.0],
    [11.0, 185.0],
    [23.0, 234.0],
    [35.0, 350.0],
    [65.0, 459.0],
    [95.0, 628.0],
    [105.0, 649.0],
    [145.0, 723.0],
    [195.0, 762.0],
    [210.0, 863.0],
    [300.1, 914.0],
    [350.1, 1117.0],
];
/// Below so many pounds of persons a test with weights along one side decides, too (183.41 (a) (2)).
pub const TESTED_BELOW: f64 = 550.0;

/// Whole persons for so many pounds of them: 32 lb added, by 141 lb each, to the nearest, halves up; none for less than nothing.
///
/// Source: `CFR33-183` 183.41 (b), 183.43 (b) and (c), read.
///
/// ```
/// use boat::load::persons;
/// assert_eq!((persons(461.4), persons(461.5)), (3, 4));
/// ```
#[must_use]
pub fn persons(pounds: f64) -> u32 {
    if pounds <= 0.0 { 0 } else { ((pounds + 32.0) / 141.0 + 0.5).floor() as u32 }
}

/// The rule for one way of moving her.
#[must_use]
pub fn allowed(m: &Measures, moved: Moved) -> Allowed {
    let (share, said, section, known) = match moved {
        Moved::ByHand | Moved::SmallMotor => (0.3, "3/10", "183.37 (a)", Known::Read),
        Moved::Outboard => (0.2, "1/5", "183.35", Known::Quoted),
    };
    let weight = (share * (m.displacement - m.boat)).max(0.0);
    let lb = |what, how, value, section, known| Step { what, how, value, unit: "lb", section, known };
    let mut steps = vec![
        Step {
            what: "length overall",
            how: "outside of planks, stem and transom".to_owned(),
            value: m.length,
            unit: "ft",
            section: "183.3",
            known: Known::Read,
        },
        lb(
            "maximum displacement",
            format!("the ends of her sheer level, its lowest place at the water; {WATER} lb to a cubic foot"),
            m.displacement,
            "183.37 (b)",
            Known::Read,
        ),
        lb(
            "boat weight",
            "the parts that this plan weighs, and what is always aboard".to_owned(),
            m.boat,
            "",
            Known::Plan,
        ),
        lb(
            "maximum weight capacity",
            format!("{said} × ({:.0} − {:.0})", m.displacement, m.boat),
            weight,
            section,
            known,
        ),
    ];
    let power = m.transom.filter(|_| moved == Moved::Outboard).map(|width| {
        let factor = m.length * width;
        let power = horsepower(factor);
        let over = factor > POWERS_TO;
        let by = if over { "0.8 × that − 25, raised to a multiple of 5" } else { "by the table of 183.53" };
        steps.push(Step {
            what: "motor, at most",
            how: format!("{:.2} × {width:.2} ft, length × transom, is {factor:.0}; {by}", m.length),
            value: power,
            unit: "hp",
            section: "183.53 (a)",
            known: Known::Read,
        });
        let how = format!("one of {power} hp: running, controls, dry battery, full tank");
        steps.push(lb("motor and its gear", how, motor(power), "183.75", Known::Read));
        power
    });
    let pounds = match moved {
        Moved::Outboard => power.map(|p| {
            let motor = motor(p);
            ((weight - motor).max(0.0), format!("{weight:.0} − {motor:.0}"))
        }),
        Moved::ByHand => Some((0.9 * weight, format!("90 % of {weight:.0}"))),
        Moved::SmallMotor => Some(((0.9 * weight - 25.0).max(0.0), format!("90 % of {weight:.0}, less 25"))),
    };
    let persons = pounds.map(|(pounds, how)| {
        let count = persons(pounds);
        let [capacity, whole] = match moved {
            Moved::ByHand => ["183.43 (a)", "183.43 (b)"],
            Moved::SmallMotor => ["183.43 (a)", "183.43 (c)"],
            Moved::Outboard => ["183.41 (a)", "183.41 (b)"],
        };
        steps.push(lb("persons capacity", how, pounds, capacity, Known::Read));
        steps.push(Step {
            what: "persons",
            how: format!(
                "({pounds:.0} + 32) ÷ 141 = {:.2}, to the nearest whole one, halves up",
                (pounds + 32.0) / 141.0
            ),
            value: f64::from(count),
            unit: "persons",
            section: whole,
            known: Known::Read,
        });
        (pounds, count)
    });
    Allowed { moved, steps, weight, persons, power }
}

/// What must be read with it, line by line.
pub const CAUTIONS: [&str; 7] = [
    "This is arithmetic with a rule's formulas and no certificate. It passes nothing and nobody has tested her.",
    "The rule is the United States' 33 CFR part 183, subparts C and D, for boats of one hull under 20 ft. Other countries have other rules.",
    "Sailboats, canoes, kayaks and inflatable boats are exempt from it (183.31); so may be a boat built for yourself.",
    "A step marked \"as quoted\" was not read in the rule's own text: look it up before you lean on it.",
    "A qualified person and the local authority decide what she may carry. The rule also asks for flotation, which is not reckoned here.",
    "The most power that a rule allows is far more than a light clinker boat wants: her transom, its knees and their fastenings must be \
     made for the motor she gets, and it and its tank put in as loads.",
    "Whatever a rule allows, weather, waves and how people move decide. Carry fewer; wear a lifejacket.",
];

/// The design categories of the European Union's 2013/53/EU, for what they are: wind by Beaufort, and significant wave height.
/// Source: `EURCD` in SOURCES.md. Nothing here says which of them, if any, she would be given.
pub const CATEGORIES: [(&str, &str, &str); 4] = [
    ("A", "over 8", "over 4 m"),
    ("B", "up to 8", "up to 4 m"),
    ("C", "up to 6", "up to 2 m"),
    ("D", "up to 4", "up to 0.3 m, now and then 0.5 m"),
];
