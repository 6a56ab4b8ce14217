//! A builder who hangs every strake a little off.
//!
//! How far a plank's upper edge comes out from where it was aimed is an even error, one that grows from end to end, and a
//! wave of half to one and a half lengths, for wood is stiff; the three are drawn evenly from −1 to 1 each, and a sum that
//! passes 1 anywhere is brought down to it; times the level. Or each is drawn from a normal distribution, so that the whole
//! has a standard deviation of half the level at the ends' mean: no bound. Every plank's error is its own.
//!
//! The true lands are lines along the whole boat; the tape sees them at the moulds alone. All is counted square to the land,
//! from where it was planned.

use super::example::{EXAMPLES, input};
use boat::folder::BoatInput;
use boat::geom::Vector;
use boat::hung::{Measure, Planned, Reading, Side};
use boat::lines::{self, Lines, SectionAt};
use boat::planks::Strake;
use boat::planks::lay::RULINGS_PER_SPAN;

pub struct Boat {
    pub name: &'static str,
    pub input: BoatInput,
    pub lines: Lines,
}

/// Our three example boats.
pub fn boats() -> Vec<Boat> {
    ["Corncrake", "Sandgrouse", "Lapwing"]
        .into_iter()
        .zip(EXAMPLES)
        .map(|(name, known_by)| {
            let input = input(known_by);
            let lines = lines::fair(&input.table, &input.spec).expect("fairs");
            Boat { name, input, lines }
        })
        .collect()
}

/// How far planks come out from where they were aimed.
#[derive(Clone, Copy)]
pub struct Errors {
    /// mm.
    pub level: f64,
    pub normal: bool,
}

/// How the hung strakes are measured.
#[derive(Clone, Copy)]
pub struct Measured {
    /// The tape is read to this, mm.
    pub round: f64,
    /// At the ends of the boat too, and not at the moulds alone.
    pub ends: bool,
}

#[derive(Clone, Copy)]
pub enum Method {
    /// Every plank as wide as it was planned, on the one below.
    AsPlanned,
    /// Every strake measured and the rest lined again.
    Again(Measured),
}

/// What came of one boat, mm.
pub struct Outcome {
    /// The sheer's greatest distance from its design line.
    pub sheer: f64,
    /// What each two neighbours' visible widths differ by against the plan, at every mould.
    pub jumps: Vec<f64>,
    /// The furthest that each plank's lower edge, cut as the boat was thought to stand, is off its true lap line.
    pub fits: Vec<f64>,
    /// The greatest error of any plank of its own, at a mould, from the second on.
    pub own: f64,
}

/// An even number in 0..1 of the state.
fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

impl Errors {
    /// One plank's, at `count` places along it.
    pub fn plank(self, state: &mut u64, count: usize) -> Vec<f64> {
        let draws: [f64; 5] = std::array::from_fn(|_| uniform(state));
        let more: [f64; 3] = std::array::from_fn(|_| uniform(state));
        let even = |u: f64| 2.0 * u - 1.0;
        // Box and Muller's.
        let bell = |u: f64, v: f64| (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos();
        let parts: [f64; 3] =
            std::array::from_fn(|i| if self.normal { bell(draws[i], more[i]) } else { even(draws[i]) });
        let (waves, from) = (0.5 + draws[3], std::f64::consts::TAU * draws[4]);
        let at = |i: usize| {
            let along = i as f64 / (count - 1) as f64;
            let wave = (std::f64::consts::TAU * waves * along + from).sin();
            parts[0] + parts[1] * (2.0 * along - 1.0) + parts[2] * wave
        };
        let raw: Vec<f64> = (0..count).map(at).collect();
        let most = raw.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        // Means of the squares along the plank: 1, 1/3 and 1/2.
        let scale = if self.normal { 0.5 / (1.0_f64 + 1.0 / 3.0 + 0.5).sqrt() } else { 1.0 / most.max(1.0) };
        raw.iter().map(|v| self.level * scale * v).collect()
    }
}

/// Builds one boat.
pub fn build(boat: &Boat, seed: u64, errors: Errors, method: Method) -> Outcome {
    let planned = Planned::of(&boat.input, &boat.lines).expect("plans");
    let (n, count) = (planned.strakes().len(), planned.strakes()[0].rulings.len());
    let mut state =
        seed.wrapping_mul(7919) ^ boat.name.bytes().fold(0, |h: u64, b| h.wrapping_mul(31) + u64::from(b));
    let own: Vec<Vec<f64>> = (0..n).map(|_| errors.plank(&mut state, count)).collect();
    let mut true_lands = vec![vec![0.0; count]];
    let mut readings: Vec<Reading> = Vec::new();
    let mut fits = Vec::new();
    for k in 1..=n {
        let below = &true_lands[k - 1];
        let land: Vec<f64> = match method {
            Method::AsPlanned => below.iter().zip(&own[k - 1]).map(|(b, e)| b + e).collect(),
            Method::Again(measured) => {
                let mut lie = planned.lie(&readings, Side::Port).expect("stands");
                while !lie.again.is_empty() {
                    // Asked for again, he reads the same again.
                    readings.extend(lie.again.into_iter().map(|again| again.reading));
                    lie = planned.lie(&readings, Side::Port).expect("stands");
                }
                let aimed = moved(&planned.strakes()[k - 1], &lie.strakes[k - 1]);
                let unseen: Vec<f64> = if k == 1 {
                    vec![0.0; count]
                } else {
                    let thought = moved(&planned.strakes()[k - 2], &lie.strakes[k - 2]);
                    below.iter().zip(thought).map(|(b, t)| b - t).collect()
                };
                if k > 1 {
                    fits.push(unseen.iter().fold(0.0_f64, |m, v| m.max(v.abs())));
                }
                let land: Vec<f64> = (0..count).map(|i| aimed[i] + unseen[i] + own[k - 1][i]).collect();
                readings.extend(read_off(boat, &planned, &lie.girths[k], k, &land, measured));
                land
            }
        };
        true_lands.push(land);
    }
    let moulds: Vec<usize> = (0..boat.lines.skin.sections.len())
        .filter(|&j| matches!(boat.lines.skin.sections[j].at, SectionAt::Station(_)))
        .map(|j| j * RULINGS_PER_SPAN)
        .collect();
    let jumps = (1..n).flat_map(|k| {
        let lands = &true_lands;
        moulds.iter().map(move |&i| lands[k + 1][i] - 2.0 * lands[k][i] + lands[k - 1][i])
    });
    Outcome {
        sheer: true_lands[n].iter().fold(0.0, |m: f64, v| m.max(v.abs())),
        jumps: jumps.collect(),
        fits,
        own: own[1..].iter().flat_map(|e| moulds.iter().map(|&i| e[i].abs())).fold(0.0, f64::max),
    }
}

/// How far the land on `now` lies above that on `then`, square to it, ruling by ruling.
fn moved(then: &Strake, now: &Strake) -> Vec<f64> {
    then.rulings
        .iter()
        .zip(&now.rulings)
        .map(|(a, b)| (b.upper - a.upper).dot(&square(a.tangent, a.normal)))
        .collect()
}

/// Up the face square to the land.
fn square(tangent: Vector, normal: Vector) -> Vector {
    tangent.cross(&normal).normalize()
}

/// What the tape says of a strake.
fn read_off(
    boat: &Boat,
    planned: &Planned<'_>,
    marks: &[f64],
    strake: usize,
    land: &[f64],
    measured: Measured,
) -> Vec<Reading> {
    let skin = &boat.lines.skin;
    let mut readings = Vec::new();
    for (j, section) in skin.sections.iter().enumerate() {
        if !measured.ends && !matches!(section.at, SectionAt::Station(_)) {
            continue;
        }
        let ruling = &planned.strakes()[strake - 1].rulings[j * RULINGS_PER_SPAN];
        let girth = planned.girths[strake][j];
        // A mm along the mould is so much square to the land.
        let up = skin.tangent(j, girth / skin.girth(j));
        let truly = girth + land[j * RULINGS_PER_SPAN] / up.dot(&square(ruling.tangent, ruling.normal));
        let off = ((truly - marks[j]) / measured.round).round() * measured.round;
        readings.push(Reading {
            side: Side::Port,
            strake,
            section: section.name.clone(),
            measure: Measure::FromMark { off, mark: marks[j] },
        });
    }
    readings
}
