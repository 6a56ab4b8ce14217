//! How much the planks widen when she is put afloat, and narrow when she dries out.
//!
//! Below its fibre saturation point, about 30 % moisture, wood shrinks across the grain in step with the water it loses, along
//! the grain hardly at all. The Wood Handbook gives how much in the hundred it loses from green to ovendry, across the rings
//! (radial) and along them (tangential); between two moistures the change is its share of that:
//!
//! ```text
//! D(M) = D_green (1 − S (30 − M) / 30),  so  D(F) − D(I) = D(I) (F − I) / (30 / S − 30 + I)
//! ```
//!
//! That is free wood. Between the rivets of two lands it is not free: it presses on them, or pulls. At a land ([`AtLands`]) the same
//! holds of the half land beyond the rivet, and through the two planks under it, whose thickness lies along the other of the two
//! directions: what it gains squeezes the land shut, what it loses leaves it slack. Which way errors fall: a
//! painted plank takes up less water than this reckons; the rings of a plank lie slantwise in places, and then it moves by less
//! than a flat-sawn one. Cannot do: wood that is crushed at a rivet and stays narrower.
//!
//! Source: `WoodHandbook` in SOURCES.md, tables 4-3 and 13-5; 30 % from memory of chapter 4.

use crate::planks::Strake;
use crate::spec::{MoistureSpec, Spec};

/// Percent moisture over which wood does not swell.
pub const SATURATED: f64 = 30.0;

/// How one strake's plank moves across the grain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swelling {
    /// 1 (garboard) to n (sheer strake).
    pub strake: usize,
    /// Where it is widest, on the tape, in the shop, mm.
    pub width: f64,
    /// What it gains there afloat, mm.
    pub afloat: f64,
    /// What it gains there dried out ashore, mm; negative where it narrows.
    pub ashore: f64,
    /// Between the middles of its two lands, where it is fastened, there, mm; `None` on the sheer strake, whose upper edge is
    /// free.
    pub held: Option<f64>,
}

impl Swelling {
    /// What the wood between its fastenings would gain afloat and ashore, were it free, mm.
    #[must_use]
    pub fn between(&self) -> Option<[f64; 2]> {
        self.held.map(|held| [self.afloat, self.ashore].map(|gain| gain * held / self.width))
    }
}

/// What a width across the grain gains, mm, from `from` to `to` percent moisture, where it loses `shrinkage` percent of itself
/// from green to ovendry. Above [`SATURATED`] nothing moves.
#[must_use]
pub fn gain(width: f64, shrinkage: f64, from: f64, to: f64) -> f64 {
    let (from, to) = (from.min(SATURATED), to.min(SATURATED));
    if shrinkage <= 0.0 {
        return 0.0;
    }
    width * (to - from) / (100.0 * SATURATED / shrinkage - SATURATED + from)
}

/// Every strake's, where she is widest; none where nothing is known of the wood.
#[must_use]
pub fn swelling(strakes: &[Strake], spec: &Spec) -> Vec<Swelling> {
    let MoistureSpec { shop, afloat, ashore, .. } = spec.moisture;
    let Some(shrinkage) = spec.moisture.across() else { return Vec::new() };
    let sheer = strakes.len();
    let one = |strake: &Strake| {
        let width = strake.at.iter().map(|a| a.width).max_by(f64::total_cmp)?;
        Some(Swelling {
            strake: strake.strake,
            width,
            afloat: gain(width, shrinkage, shop, afloat),
            ashore: gain(width, shrinkage, shop, ashore),
            held: (strake.strake < sheer).then_some(width - spec.planking.lap),
        })
    };
    strakes.iter().filter_map(one).collect()
}

/// What a land does whose rivet stands in its middle and does not give. Afloat, then dried out ashore, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtLands {
    /// How much further each plank's edge stands off the rivet, half a land away: + it covers more of its neighbour.
    pub edge: [f64; 2],
    /// What the two thicknesses under the rivet gain: + the land is squeezed shut, − it is slack by so much.
    pub grip: [f64; 2],
}

impl AtLands {
    /// How slack it may be ashore, mm: what it has dried by, and with it what it had swollen by, if all of that was crushed under
    /// the roves. 0 where it stays tight.
    #[must_use]
    pub fn slack(&self) -> [f64; 2] {
        let [afloat, ashore] = self.grip;
        [(-ashore).max(0.0), (afloat.max(0.0) - ashore).max(0.0)]
    }
}

/// Every land's, clear of the gains: planks are as thick in all of them. `None` where nothing is known of the wood, or where she is
/// glued.
#[must_use]
pub fn at_lands(spec: &Spec) -> Option<AtLands> {
    if spec.glued() {
        return None;
    }
    let MoistureSpec { shop, afloat, ashore, .. } = spec.moisture;
    let (across, through) = (spec.moisture.across()?, spec.moisture.through()?);
    let moves = |size: f64, shrinkage: f64| [afloat, ashore].map(|to| gain(size, shrinkage, shop, to));
    let planking = &spec.planking;
    Some(AtLands { edge: moves(0.5 * planking.lap, across), grip: moves(2.0 * planking.thickness, through) })
}
