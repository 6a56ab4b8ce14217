//! Steaming, and getting timbers in.

use super::Timber;
use crate::spec::{Bent, TimberSpec};
use crate::units::inches;

/// Minutes in the steam for each inch of the lesser side. Common practice, no source; one reported trial agrees (half an
/// hour for half an inch). Green wood takes less, wood long dry takes more or will not bend.
const MINUTES_AN_INCH: f64 = 60.0;
/// No more layers are reckoned with than this.
const MOST_LAYERS: u32 = 60;

/// Minutes in the steam, of a timber or of one of its layers; 0 where they are bent cold.
#[must_use]
pub fn steaming(spec: &TimberSpec) -> f64 {
    match spec.bent {
        Bent::Steamed => MINUTES_AN_INCH * spec.sided.min(layer(spec)) / inches(1.0),
        Bent::Cold => 0.0,
    }
}

/// Thickness of a timber's layers, mm; of the timber where it is one piece.
#[must_use]
pub fn layer(spec: &TimberSpec) -> f64 {
    spec.moulded / f64::from(spec.layers)
}

/// Least radius to bend a piece of the timber to, in thicknesses of the piece.
#[must_use]
pub fn times(spec: &TimberSpec, bent: Bent) -> f64 {
    match bent {
        Bent::Steamed => spec.steamed_radius,
        Bent::Cold => spec.cold_radius,
    }
}

/// Least radius of the outer face that the timber goes round as it is made, mm: the innermost of `n` layers, each `moulded / n`
/// thick, is bent to the radius less the thickness of those outside it.
#[must_use]
pub fn least_radius(spec: &TimberSpec) -> f64 {
    times(spec, spec.bent) * layer(spec) + spec.moulded - layer(spec)
}

/// Thickness of a whole timber, made in as many layers, that goes round a bend of `radius`, mm: what it is thinned to there.
#[must_use]
pub fn goes(radius: f64, spec: &TimberSpec) -> f64 {
    spec.moulded * radius / least_radius(spec)
}

/// Least number of equal layers that make up `moulded` round a bend of `radius` (both to the outer face, mm), bent so. `None`:
/// not even sixty.
#[must_use]
pub fn layers(radius: f64, spec: &TimberSpec, bent: Bent) -> Option<u32> {
    (1..=MOST_LAYERS).find(|&n| {
        let made = TimberSpec { layers: n, bent, ..spec.clone() };
        // A hair, so that a bend on the limit is within it.
        radius >= least_radius(&made) * (1.0 - 1e-12)
    })
}

/// How a timber that bends so tight could be made instead, in words.
#[must_use]
pub fn glued_up(radius: f64, spec: &TimberSpec) -> String {
    let [steamed, cold] = [Bent::Steamed, Bent::Cold].map(|bent| layers(radius, spec, bent));
    match (steamed, cold) {
        (Some(s), Some(c)) => format!("glued up from {s} steamed layers, or from {c} bent cold (timbers.layers)"),
        (Some(s), None) => format!("glued up from {s} steamed layers (timbers.layers)"),
        (None, _) => "sawn or grown, for no layers go round it".to_owned(),
    }
}

/// Numbers the turns: from the middle to the ends, those that no mould blocks first.
pub fn order(timbers: &mut [Timber], middle: f64) {
    let mut by: Vec<usize> = (0..timbers.len()).collect();
    by.sort_by(|&a, &b| {
        let key = |i: usize| (!timbers[i].moulds.is_empty(), (timbers[i].x - middle).abs());
        let ((in_a, a_off), (in_b, b_off)) = (key(a), key(b));
        in_a.cmp(&in_b).then(a_off.total_cmp(&b_off)).then(a.cmp(&b))
    });
    for (turn, i) in by.into_iter().enumerate() {
        timbers[i].turn = turn + 1;
    }
}
